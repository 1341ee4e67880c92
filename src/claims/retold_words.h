// The words of the ledger's rows and of texts by their stems, by which one is found in the other.
//
// Each spelling and each row is looked at once in a manuscript: a machine is told of often, and its
// rows are held against the words around every date. Made of ledger and grammars alone, so that no
// block depends on another by it. Lifetime: that of the finder whose words it is asked about.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "grammars/grammars.h"
#include "mentions/words.h"
#include "tailproof/ledger.h"

namespace tailproof {

class RetoldWords {
 public:
  struct RowWord {
    std::uint32_t stem = 0;
    int weight = 0;
  };

  explicit RetoldWords(const Grammars& grammars);

  /// "Snowing", "snow"; "larches", "larch"; "taxiing", "taxying": one number for one word in all
  /// its endings.
  [[nodiscard]] std::uint32_t stem_of(const Word& word);
  /// The words of a row that tell it apart; names, numbers and what is said of any mishap are not.
  [[nodiscard]] const std::vector<RowWord>& of_row(const History& row);

 private:
  [[nodiscard]] std::uint32_t stem_of(std::string_view folded);
  [[nodiscard]] std::vector<RowWord> words_of(std::string_view detail);

  const WordList* weak_;
  const WordList* half_;
  const WordList* forms_;
  std::unordered_map<std::string, std::uint32_t> numbers_;  // by stem
  std::vector<std::uint32_t> stems_;                        // by word; kNone: not looked at yet
  std::unordered_map<const History*, std::vector<RowWord>> rows_;
};

}  // namespace tailproof

// Markings described instead of named: "the red still in the centre of the roundel" for a ledger's
// "red-centre roundel", "a flash of three colours" for its "three-colour flash".
//
// Contract: a description is found where all content words of one of a marking's names stand
// together, in any order and inflection, with nothing between them but words of the grammar's list
// `marking_filler`, or of `marking_gap_word` where no name has them. Words are compared by stem:
// the list `marking_word_form` ("centred" = "centre", "coloured" = "colour"), number words as
// figures, no plural s. Built once; cost linear in the text.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "grammars/grammars.h"
#include "mentions/phrase_index.h"
#include "mentions/tokens.h"
#include "tailproof/ledger.h"

namespace tailproof {

class MarkingWords {
 public:
  MarkingWords(const Ledger& ledger, const Grammars& grammars);

  struct Match {
    std::uint32_t first = 0, last = 0;  // tokens [first, last)
    const std::string* marking = nullptr;
    std::size_t stems = 0;  // words that say it
  };

  /// What is known of words met before: an object serves one thread.
  struct Met {
    std::uint32_t stem = 0;
    bool is_filler = false;
    bool is_met = false;
  };
  using Memory = std::vector<Met>;  // by number of the word

  /// Every description, left to right; where two begin together the one with more words. The tokens
  /// are those of a table of words.
  /// `passed` says of each token whether it is passed over ("the rudder of X12 is banded"); none if
  /// empty.
  [[nodiscard]] std::vector<Match> find(const std::vector<Token>& tokens, Memory& memory,
                                        const std::vector<bool>& passed = {}) const;

  /// The one marking in whose names a word of the lists `colour_word` or `pattern_word` stands
  /// ("saffron" of "saffron band"), or null. `memory` has met the word, in `find`.
  [[nodiscard]] const Marking* only_with(const Word& word, const Memory& memory) const;

 private:
  struct Form {
    std::vector<std::uint32_t> stems;  // sorted, no repeats, at least two
    const std::string* marking = nullptr;
  };

  [[nodiscard]] std::string stem_of(std::string_view folded) const;
  [[nodiscard]] Met look_at(const Word& word) const;
  [[nodiscard]] std::uint32_t stem_number(const std::string& stem);
  void add_form(const Marking& marking, std::string_view name);
  void add_said_otherwise();
  void add_only(const Ledger& ledger, const Grammars& grammars);
  void add_shortened();
  void add_described(const Ledger& ledger, const WordList* positions);
  [[nodiscard]] bool is_of_another(const Form& form, const std::vector<std::uint32_t>& stems) const;
  [[nodiscard]] const Form* longest_of(const std::vector<std::uint32_t>& stems) const;

  const WordList* word_forms_ = nullptr;
  const WordList* fillers_ = nullptr;
  const WordList* numbers_ = nullptr;
  const WordList* gap_words_ = nullptr;
  const WordList* said_ = nullptr;
  const WordList* parts_ = nullptr;
  std::unordered_map<std::string, std::uint32_t> stems_;
  std::vector<Form> forms_;
  std::vector<std::vector<std::uint32_t>> forms_of_stem_;  // the forms that contain it
  std::vector<const Marking*> only_with_;                  // of stems of colours and patterns
};

}  // namespace tailproof

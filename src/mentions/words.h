// The words of a run: each spelling is looked at once, and every later occurrence of it finds what
// was learnt then.
//
// A book has few different words. What depends on the spelling alone (its folded form, the lists
// that hold it, the patterns and phrases that it may begin) is therefore kept by spelling, and a
// token points to it. Lifetime: keeps references to grammars and phrases; words live as long as
// the table. An object serves one thread.
#pragma once

#include <algorithm>
#include <array>
#include <cstdint>
#include <deque>
#include <memory_resource>
#include <string_view>
#include <vector>

#include "grammars/grammars.h"
#include "grammars/spelling.h"

namespace tailproof {

class PhraseIndex;

enum class TokenKind : std::uint8_t { kWord, kNumber, kMixed, kMark };

/// What one spelling of a word, number or mark tells by itself.
struct Word {
  Spelling text;                       // as written
  Spelling folded;                     // in lower case, with one kind of apostrophe
  StartBits starts;                    // which patterns may begin here (Pattern::starts)
  KindBits kinds = 0;                  // and of which kinds these are
  Spelling office;                     // its value in the list small_word; a mark: itself
  std::uint32_t number = 0;            // in its table, from 0: by it others keep what they know
  const WordValues* values = nullptr;  // what word lists make of it by itself
  /// Its numbers in the index of phrases: without "'s", and also without "s" and "es"; 0 for none.
  std::array<std::uint32_t, 3> in_phrases{};
  TokenKind kind = TokenKind::kWord;
  bool capital = false;        // begins with a capital letter
  bool all_capitals = false;   // two letters or more and none small
  bool begins_phrase = false;  // a phrase of the index begins with it
  bool ends_sentence = false;  // a full point, a question or exclamation mark

  /// Its value in the list; "" when the list is missing or does not hold it.
  [[nodiscard]] std::string_view value_in(const WordList* list) const {
    if (list == nullptr) return {};
    if (list->number >= ListSet().size()) return list->value_of(folded);
    if (values == nullptr || !values->lists[list->number]) return {};
    const auto is_before = [](const WordValues::Value& a, std::size_t b) { return a.list < b; };
    return std::lower_bound(values->values.begin(), values->values.end(), list->number, is_before)
        ->value;
  }
  [[nodiscard]] bool is_in(const WordList* list) const {
    if (list == nullptr) return false;
    if (list->number >= ListSet().size()) return !list->value_of(folded).empty();
    return values != nullptr && values->lists[list->number];
  }
};

/// Where a word ends, and what it is made of.
struct WordShape {
  std::uint32_t end = 0;
  TokenKind kind = TokenKind::kMark;
  bool letters = false;
  bool all_capitals = false;
};
/// The shape of the word or mark that begins at `begin`, which must not be a blank.
[[nodiscard]] WordShape shape_at(std::string_view text, std::uint32_t begin);
[[nodiscard]] bool is_blank(char c);
/// What the shape and the spelling tell, without grammars and phrases.
[[nodiscard]] Word word_of(std::string_view text, const WordShape& shape);

class WordTable {
 public:
  WordTable(const Grammars& grammars, const PhraseIndex* phrases);
  WordTable(const WordTable&) = delete;
  WordTable& operator=(const WordTable&) = delete;
  ~WordTable();

  /// The word of this spelling, which has this shape.
  [[nodiscard]] const Word& word(std::string_view text, const WordShape& shape);

 private:
  /// A spelling without its letters between: of up to twice eight bytes, all of it.
  struct Ends {
    std::uint64_t first = 0, last = 0;
    std::uint64_t size = 0;  // of the text, in bytes

    explicit Ends(std::string_view text);
    Ends() = default;
    [[nodiscard]] std::size_t hash() const;
    friend bool operator==(const Ends&, const Ends&) = default;
  };
  struct Slot {
    const Word* word = nullptr;  // none: free
    Ends ends;
  };
  Word& add(std::string_view text, const WordShape& shape);
  void grow();

  const Grammars& grammars_;
  const PhraseIndex* phrases_;
  const WordList* small_words_;
  std::pmr::monotonic_buffer_resource texts_;
  std::deque<Word> words_;
  std::vector<Slot> slots_;
};

}  // namespace tailproof

// Grammars: word lists and patterns, read from TOML files, by which claims are recognised.
//
// Contract: read once, immutable after that. A later file adds to lists of the same name and to the
// patterns. Patterns are RE2, tried only at tokens that may begin them (`starts`); within one kind
// the longest match at a place wins, then the earlier pattern. A pattern that RE2 rejects is a
// complaint with file and line.
#pragma once

#include <bitset>
#include <cstdint>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "grammars/fold.h"
#include "grammars/list_name.h"
#include "grammars/spared_lists.h"
#include "source/text_hash.h"
#include "tailproof/result.h"

namespace re2 {
class RE2;
}

namespace tailproof {

/// Word lists by their number. Lists past the last bit are looked up phrase by phrase and never
/// passed by, which is several times as dear; so the build sees to it that the program's own fit.
using ListSet = std::bitset<1280>;

/// What lists make of one folded word.
struct WordValues {
  struct Value {
    std::size_t list = 0;  // by number
    std::string_view value;
  };
  ListSet lists;              // those that have it, with a value; without lists past the last bit
  std::vector<Value> values;  // one for each of `lists`, by number
};

/// Phrases and the value each stands for ("october" = "10"). Case, runs of blanks, "." after a word
/// are folded.
struct WordList {
  std::string name;
  std::size_t number = 0;  // of the list, from 0, in order of reading
  bool cased = false;      // phrases count only as written (rank abbreviations, say)
  std::vector<std::pair<std::string, std::string>> words;  // phrase, value
  std::unordered_map<std::string, std::string, TextHash, std::equal_to<>>
      values;                    // folded phrase to value
  std::size_t longest = 0;       // folded phrase, in bytes
  std::bitset<256> first_bytes;  // of the folded phrases
  /// Value of the phrase; "" when it is not in the list.
  [[nodiscard]] std::string_view value_of(std::string_view phrase) const;
};

/// What a word or pattern may begin with: one bit for each class and each list.
using StartBits = std::bitset<192>;
/// Bits of Pattern::starts beside those of lists.
inline constexpr StartBits kStartsNumber{1};    // a token of digits
inline constexpr StartBits kStartsCapital{2};   // a word with a capital first
inline constexpr StartBits kStartsMixed{4};     // letters and digits
inline constexpr StartBits kStartsQuote{8};     // an opening quotation mark or apostrophe
inline constexpr StartBits kStartsBracket{16};  // ( or [
inline constexpr StartBits kStartsAny{32};
inline constexpr std::size_t kFirstListBit = 6;

/// Kinds of pattern, a bit for each; kinds past the 31st share the last.
using KindBits = std::uint32_t;
inline constexpr KindBits kSharedKind{1U << 31U};

/// A pattern ready to be tried.
struct CompiledPattern {
  std::unique_ptr<re2::RE2> re;
  std::vector<std::string> slots;           // by capture group from 1; "" for one without a name
  std::vector<const WordList*> slot_lists;  // the list a slot's words come from, or nullptr
  std::vector<std::size_t> cased;  // groups of a pattern in small letters in which case counts
};

struct Pattern {
  Pattern();
  ~Pattern();

  std::string kind;  // what it makes: "date", "unit", ...
  KindBits kind_bit = 0;
  std::string name;
  std::string why;   // "pattern NAME", how a mention of it was found
  std::string file;  // grammar file, for explanations
  StartBits starts;
  std::map<std::string, std::string, std::less<>> set;  // fixed slots
  std::string source;                                   // RE2, with the words of its lists
  bool cased = false;
  std::vector<std::pair<std::string, const WordList*>> list_slots;

  /// Compiled at the first call: a book needs few of the patterns, and compiling all of them would
  /// be a third of a short run. Patterns of files outside the program are compiled while reading,
  /// so that a bad one is complained of.
  [[nodiscard]] const CompiledPattern& compiled() const;
  /// The same for a text in small letters (small_letters.h), which is compiled in three fifths of
  /// the time, and without the lists of which nothing can stand in it (spared_lists.h); nullptr
  /// where there is none.
  [[nodiscard]] const CompiledPattern* compiled_small(std::string_view small_text) const;

 private:
  [[nodiscard]] CompiledPattern compile(const std::string& from, bool with_case) const;
  void compile_small(const std::string& from, CompiledPattern& made) const;

  mutable std::once_flag once_, once_small_, once_spared_, once_short_;
  mutable CompiledPattern compiled_, small_, short_;
  mutable SparedLists spared_;
};

/// A grammar file that is held in memory.
struct GrammarText {
  std::string name;  // "grammars/en/dates.toml", for messages
  std::string_view text;
  /// It is no TOML but what the build has made of it (grammar_file.h), and so known to be good: its
  /// patterns are compiled only when first tried.
  bool is_packed = false;
};

class Grammars {
 public:
  Grammars();
  Grammars(Grammars&&) noexcept;
  Grammars& operator=(Grammars&&) noexcept;
  ~Grammars();

  /// Reads the `built_in` texts, then every *.toml of the folders (and of their subfolders), in
  /// order of name. A file that declares another `language` is left out.
  [[nodiscard]] static Grammars read(const std::vector<GrammarText>& built_in,
                                     const std::vector<std::string>& folders,
                                     std::string_view language, Complaints& complaints);

  /// The list of that name; nullptr for none.
  [[nodiscard]] const WordList* list(ListName name) const {
    for (std::size_t at = name.number();; ++at) {
      const NumberedList& there = list_by_number_[at & number_mask_];
      if (there.number == name.number() || there.list == nullptr) return there.list;
    }
  }
  [[nodiscard]] const std::vector<std::unique_ptr<WordList>>& lists() const { return lists_; }
  /// Patterns of one kind, in order of reading; empty when there are none.
  [[nodiscard]] const std::vector<const Pattern*>& patterns(std::string_view kind) const;
  /// The same by ListName::number_of the kind.
  [[nodiscard]] const std::vector<const Pattern*>& patterns_numbered(std::uint64_t kind) const;
  /// Bit of Pattern::starts for a list; none when no pattern starts with it.
  [[nodiscard]] StartBits starts_bit(std::string_view list) const;
  /// Bits of all lists one of whose phrases begins with this folded word.
  [[nodiscard]] StartBits starts_of_word(std::string_view folded) const;
  /// Kinds of which a pattern may begin with any of these.
  [[nodiscard]] KindBits kinds_begun_by(const StartBits& starts) const;
  /// What the lists make of this folded word, as a phrase by itself; nullptr for no list.
  [[nodiscard]] const WordValues* values_of_word(std::string_view folded) const;

 private:
  friend class GrammarReader;
  std::vector<std::unique_ptr<WordList>> lists_;
  struct NumberedList {
    std::uint64_t number = 0;  // ListName
    const WordList* list = nullptr;
  };
  std::vector<NumberedList> list_by_number_ = std::vector<NumberedList>(1);  // open addressing
  std::size_t number_mask_ = 0;  // room in `list_by_number_` less one
  std::vector<std::unique_ptr<Pattern>> patterns_;
  std::unordered_map<std::uint64_t, std::vector<const Pattern*>> by_kind_;  // by its number
  std::vector<std::pair<KindBits, StartBits>> starts_of_kinds_;
  std::map<std::string, StartBits, std::less<>> bits_;
  std::unordered_map<std::string, StartBits, TextHash, std::equal_to<>> word_bits_;
  std::unordered_map<std::string_view, WordValues, TextHash>
      word_values_;  // the words stand in `lists_`
};

}  // namespace tailproof

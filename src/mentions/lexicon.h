// What ledger and grammars together know by name, made ready once for the pass over the words.
//
// Lifetime: keeps references to the ledger and the grammars, which must outlive it.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <memory_resource>
#include <set>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "grammars/grammars.h"
#include "grammars/spelling.h"
#include "mentions/marking_looks.h"
#include "mentions/marking_words.h"
#include "mentions/mention.h"
#include "mentions/phrase_index.h"
#include "tailproof/ledger.h"

namespace tailproof {

/// How the letters of a name must stand in the text for the words to count as that name.
enum class Casing : std::uint8_t { kAny, kCapital, kExact };

/// The text without blanks and the marks that may join words of a name.
[[nodiscard]] std::string letters_of(std::string_view text);

/// One phrase of the index. Its texts stand in the ledger, in the grammars or with the lexicon.
struct LexiconEntry {
  MentionKind kind = MentionKind::kCue;
  Casing casing = Casing::kAny;
  std::uint32_t tells = 0;  // bits of Said; such words make no mention
  std::uint64_t cue = 0;    // Mention::cue
  Spelling key;             // ledger key; the list's value for a cue
  Spelling role;            // identity kind; list name of a cue; "short" for a rank's abbreviation
  Spelling detail;          // mark of a type
  Spelling phrase;          // as the table writes it
};

/// A mark of a type, and its words in the form in which marks are compared ("Mk II" and "Mark Two"
/// are "2").
struct MarkForm {
  std::string mark;
  std::vector<std::string> words;
};

class Lexicon {
 public:
  Lexicon(const Ledger& ledger, const Grammars& grammars);
  ~Lexicon();

  [[nodiscard]] const Ledger& ledger() const { return ledger_; }
  [[nodiscard]] const Grammars& grammars() const { return grammars_; }
  [[nodiscard]] const PhraseIndex& phrases() const { return phrases_; }
  [[nodiscard]] const MarkingWords& marking_words() const { return marking_words_; }
  [[nodiscard]] const MarkingLooks& marking_looks() const { return marking_looks_; }
  [[nodiscard]] const LexiconEntry& entry(std::uint32_t payload) const { return entries_[payload]; }

  /// Units whose name or alias is a number and one word of that kind ("914 Squadron", "Third
  /// Flight"); any kind of unit when `kind` is empty. Keys, without repeats.
  [[nodiscard]] std::vector<std::string> units_numbered(int number, std::string_view kind) const;
  /// Marks that the ledger's airframes of this type have, the longest first.
  [[nodiscard]] const std::vector<MarkForm>& marks_of(std::string_view type) const;
  /// Whether a run of characters has the shape of a code that identities.csv holds ("AA-A" for
  /// NP-C).
  [[nodiscard]] bool has_code_shape(std::string_view code) const;
  /// What stands before the digits of photograph numbers ("SA "), at least two characters, without
  /// repeats.
  [[nodiscard]] const std::set<std::string, std::less<>>& photograph_prefixes() const {
    return photograph_prefixes_;
  }
  /// The first and the last year of any airframe's service; {0, 0} when the ledger has none.
  [[nodiscard]] std::pair<std::int64_t, std::int64_t> years() const { return years_; }
  /// Whether identities.csv has codes of this word and a number ("Club" of "Club 9").
  [[nodiscard]] bool is_code_word(std::string_view word) const;
  /// Whether serials of the ledger begin with exactly these letters.
  [[nodiscard]] bool is_serial_prefix(std::string_view letters) const;
  [[nodiscard]] const std::vector<const Pattern*>& patterns(std::string_view kind) const {
    return grammars_.patterns(kind);
  }

 private:
  /// Keeps a copy of the phrase; the other texts must live as long as this.
  void add(LexiconEntry entry, std::string_view phrase);
  [[nodiscard]] bool is_plural_of_type(const Name& name) const;
  void add_names();
  void add_order_numbers();
  void find_years();
  void add_cues();
  void add_tellings();
  // marking_names.cc
  void add_marking_nouns();
  void add_letter_nouns();
  void add_marking_forms();
  // unit_names.cc
  [[nodiscard]] bool is_ordinal(std::string_view text) const;
  void add_unit_in_words(const LexiconEntry& unit, std::string_view name);
  void add_unit_noun(const LexiconEntry& unit, std::string_view noun);
  void add_unit_nickname(const LexiconEntry& unit, std::string_view name);
  void add_unit_numbers();
  // mark_names.cc
  void add_marks();
  void add_mark_alone(const std::string& type, const std::string& mark, std::string_view phrase);
  void add_spelt_marks(const std::string& type, const MarkForm& form);

  const Ledger& ledger_;
  const Grammars& grammars_;
  std::pmr::monotonic_buffer_resource texts_;  // phrases of entries
  PhraseIndex phrases_;
  MarkingWords marking_words_;
  MarkingLooks marking_looks_;
  std::vector<LexiconEntry> entries_;
  struct NumberedUnit {
    std::string kind;  // folded word after the number
    std::string key;
  };
  std::unordered_map<int, std::vector<NumberedUnit>> numbered_;
  std::map<std::string, std::vector<MarkForm>, std::less<>> marks_;
  std::vector<std::string> code_shapes_;
  std::pair<std::int64_t, std::int64_t> years_{0, 0};
  std::set<std::string, std::less<>> code_words_, serial_prefixes_, photograph_prefixes_;
};

/// Words of a mark in comparable form: "Mk" and "Mark" dropped, Roman numerals and number words as
/// digits.
[[nodiscard]] std::vector<std::string> mark_words(std::string_view mark, const Grammars& grammars);
/// "NP-C" to "AA-A", "H-12" to "A-99": letters A, digits 9, joining marks "-".
[[nodiscard]] std::string code_shape(std::string_view code);
/// The code in one form for comparison: joining marks and blanks as one hyphen.
[[nodiscard]] std::string normal_code(std::string_view code);
/// Value of a Roman numeral up to 39 in capitals; 0 when it is none.
[[nodiscard]] int roman_value(std::string_view text);

}  // namespace tailproof

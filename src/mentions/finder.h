// The working state of MentionFinder::find: one object a block.
#pragma once

#include <array>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "mentions/find_mentions.h"
#include "mentions/memory.h"

namespace tailproof {

class BlockFinder {
 public:
  BlockFinder(const Lexicon& lexicon, const SerialForms& forms, FinderMemory& memory,
              std::string_view text)
      : lexicon_(lexicon), forms_(forms), memory_(memory), text_(text) {}
  /// The steps of finding, to be taken in this order.
  using Step = void (BlockFinder::*)();
  static const std::array<Step, 21> kSteps;
  /// What was found, when all steps have been taken.
  [[nodiscard]] Mentions take() { return std::move(result_); }

 private:
  void find_words();
  void look_at_words();
  [[nodiscard]] std::uint8_t hints_of(const Word& word) const;
  void find_phrases();
  void add_hit(const PhraseIndex::Hit& hit);
  [[nodiscard]] bool is_order_by_number(const PhraseIndex::Hit& hit) const;
  [[nodiscard]] bool is_no_name(const LexiconEntry& entry, const PhraseIndex::Hit& hit) const;
  [[nodiscard]] bool casing_fits(const LexiconEntry& entry, const PhraseIndex::Hit& hit) const;
  [[nodiscard]] bool add_mark_by_ordinal(Mention& mention) const;
  void add_type_mark(Mention& mention) const;
  [[nodiscard]] bool says_mark(const MarkForm& form, std::uint32_t first, std::uint32_t last,
                               bool is_plural) const;

  // short_markings.cc
  void find_described_markings();
  [[nodiscard]] std::vector<bool> owners_passed() const;
  void find_markings_by_look();
  void find_short_markings();
  [[nodiscard]] bool is_pattern_read(std::uint32_t token) const;
  [[nodiscard]] bool is_colour_read(std::uint32_t token) const;
  [[nodiscard]] bool opens_item(std::uint32_t token) const;
  [[nodiscard]] bool is_stop(std::uint32_t token) const;
  [[nodiscard]] bool is_on_a_part(std::uint32_t token) const;
  [[nodiscard]] bool is_among_markings(std::uint32_t first, std::uint32_t last) const;
  void find_serials();
  [[nodiscard]] bool is_former_number(std::uint32_t hyphen) const;
  bool add_serial(std::uint32_t token);
  [[nodiscard]] bool is_code_behind_comma(const Mention& head, std::uint32_t from,
                                          std::uint32_t number) const;
  [[nodiscard]] bool begins_longer_serial(std::uint32_t token) const;
  void continue_list(const Mention& head);
  [[nodiscard]] bool in_governed_list(std::uint32_t token) const;
  [[nodiscard]] bool is_of_other_make(std::uint32_t token, std::string_view serial) const;
  [[nodiscard]] bool joins_list(std::uint32_t end, std::uint32_t token) const;
  [[nodiscard]] bool follows_type(std::uint32_t token) const;
  [[nodiscard]] bool starts_like_serial(const Word& word) const;
  void name_by_other_serial(Mention& mention) const;
  [[nodiscard]] bool tail_context(std::uint32_t first, std::uint32_t last) const;
  [[nodiscard]] bool is_tail_and_no_year(std::uint32_t token) const;
  [[nodiscard]] bool is_number_of_serial(std::uint32_t token) const;
  [[nodiscard]] bool governed_by_other_noun(std::uint32_t token) const;
  [[nodiscard]] bool is_told_as_thing(std::uint32_t last) const;
  [[nodiscard]] const Mention* named_at(std::uint32_t begin, std::uint32_t end) const;
  [[nodiscard]] bool looks_like_serial(const SerialForms::Match& match, std::uint32_t first,
                                       std::uint32_t last) const;
  [[nodiscard]] bool is_told_of_other_noun(std::uint32_t token) const;
  void find_malformed();

  void find_short_serials();
  [[nodiscard]] bool stands_free(std::uint32_t token) const;
  [[nodiscard]] bool is_named_otherwise(std::uint32_t token) const;
  [[nodiscard]] bool sentence_tells_of_tail(std::uint32_t token) const;
  [[nodiscard]] std::string named_serial_ending(std::string_view digits) const;

  void find_units();
  void add_small_name(const PatternMatch& match);
  void find_codes();
  void find_codes_in_brackets();
  void find_codes_behind_units();
  void find_codes_in_company();
  void find_codes_of_figures();
  [[nodiscard]] bool is_code_borne_here(std::string_view number) const;
  void find_photographs();
  void find_references();
  struct CountBefore {
    std::uint32_t first = 0;  // token
    int value = 0;
  };
  // orders_in_time.cc
  void find_orders_in_time();
  [[nodiscard]] CountBefore count_before(std::uint32_t end) const;
  [[nodiscard]] CountBefore longer_length_before(std::uint32_t end) const;
  [[nodiscard]] bool is_in(ListName list, std::uint32_t token) const;
  bool read_length(const PatternMatch& lead, OrderMention& order, std::uint32_t& first) const;
  bool read_span(OrderMention& order, std::uint32_t first) const;
  bool read_lead(const PatternMatch& lead, OrderMention& order, std::uint32_t& first) const;
  [[nodiscard]] std::string other_picture(std::uint32_t token, bool* is_event = nullptr) const;
  [[nodiscard]] std::string other_picture_before(std::uint32_t lead) const;
  [[nodiscard]] std::string shared_picture_before(std::uint32_t first, std::uint32_t last,
                                                  bool is_bare) const;
  [[nodiscard]] bool has_word_for_taking(std::uint32_t token) const;
  // people.cc
  void find_people();
  void drop_places_behind_ranks();
  void add_namesakes();
  void add_ranked(const Mention& rank);
  void add_listed();
  void add_surnames();
  void add_person(std::uint32_t first, std::uint32_t last, std::string_view why);
  [[nodiscard]] const Mention* person_at(std::uint32_t token) const;
  [[nodiscard]] bool has_other_name(std::uint32_t token) const;
  [[nodiscard]] bool is_initial(std::uint32_t token) const;
  [[nodiscard]] bool is_name_word(std::uint32_t token) const;
  [[nodiscard]] std::uint32_t end_of_name(std::uint32_t first) const;
  [[nodiscard]] bool is_namesake(const Mention& surname, std::uint32_t first) const;
  // short_awards.cc
  void find_short_awards();

  void find_measures();
  struct SizePiece;
  [[nodiscard]] bool is_figure_of_another(std::uint32_t first, std::uint32_t last) const;
  [[nodiscard]] bool is_size_in_row(std::uint32_t number) const;
  [[nodiscard]] bool is_of_number(std::uint32_t token) const;
  [[nodiscard]] std::optional<SizePiece> size_at(std::uint32_t token) const;
  void convert_sizes();
  [[nodiscard]] bool is_year_in_place(std::uint32_t begin, std::uint32_t end) const;
  void find_events();
  void find_parted_events();
  [[nodiscard]] std::uint32_t end_of_machines(std::uint32_t token, bool& is_pronoun) const;
  void find_cues();
  void find_dates_of_block();
  void add_unit(const PatternMatch& match);
  void add_unit_list(const PatternMatch& match);

  void settle_overlaps();
  void settle_together();
  void drop_unused_dates();

  [[nodiscard]] Spelling word(std::uint32_t token) const {
    return result_.tokens[token].word->text;
  }
  /// The word in lower case, with one kind of apostrophe.
  [[nodiscard]] Spelling folded(std::uint32_t token) const {
    return result_.tokens[token].word->folded;
  }
  /// What a small word does ("and", "the", "who"), by the list small_word, whatever the language; a
  /// mark is itself, any other word nothing.
  [[nodiscard]] Spelling office(std::uint32_t token) const {
    return token < result_.tokens.size() ? result_.tokens[token].word->office : Spelling{};
  }
  /// The word's value in the list; "" when the list is missing or does not hold it.
  [[nodiscard]] std::string_view value_in(const WordList* list, std::uint32_t token) const {
    return result_.tokens[token].word->value_in(list);
  }
  [[nodiscard]] const std::vector<PatternMatch>& matches(ListName kind) const {
    return memory_.matches(kind, text_, result_);
  }
  [[nodiscard]] std::uint32_t token_at(std::uint32_t offset) const;
  Mention& add(MentionKind kind, std::uint32_t begin, std::uint32_t end);
  Mention& add_tokens(MentionKind kind, std::uint32_t begin, std::uint32_t end, std::uint32_t first,
                      std::uint32_t last);
  [[nodiscard]] bool is_part_of_area(const PhraseIndex::Hit& hit) const;
  [[nodiscard]] bool is_second_by(std::uint32_t article) const;
  [[nodiscard]] bool is_unit_that_opens(std::uint32_t number, std::string_view key) const;
  [[nodiscard]] bool is_behind_thousands(std::uint32_t offset) const;
  void drop_date_at(std::uint32_t token);
  [[nodiscard]] bool is_verb_with_object(std::uint32_t token) const;
  [[nodiscard]] bool is_bare_number_called_serial(std::uint32_t called, std::uint32_t first,
                                                  std::uint32_t last) const;
  [[nodiscard]] bool is_elided_unit(std::uint32_t begin, std::uint32_t end) const;
  /// Whether a mention of this kind overlaps text [begin, end).
  [[nodiscard]] bool covered(MentionKind kind, std::uint32_t begin, std::uint32_t end) const;

  const Lexicon& lexicon_;
  const SerialForms& forms_;
  FinderMemory& memory_;
  std::string_view text_;
  Mentions result_;
  std::set<std::string> others_;         // numbers that the block has given to other things
  std::vector<std::uint16_t> occupied_;  // by token: a bit for each kind of mention there
  std::vector<std::uint8_t> hints_;      // by token: what its word may be part of
  std::uint8_t hints_here_ = 0;          // of any token
  bool all_capitals_ = false;
  std::uint32_t next_list_ = 1;
  std::uint32_t tail_until_ = 0;      // end of the last number read from a tail
  std::uint32_t governed_until_ = 0;  // end of the last number that another noun governs
};

/// Numbers of a measure pattern's match.
[[nodiscard]] Measure read_measure(const PatternMatch& match, std::string_view text);

}  // namespace tailproof

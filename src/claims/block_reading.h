// What the words of one block say: look-ups that every rule of the assembler asks.
//
// Contract: nothing here makes a claim or knows of one. Mentions are set, and `index_words` and
// `index_mentions` follow them, before the first question; clauses before the first one about them.
#pragma once

#include <algorithm>
#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

#include "claims/clauses.h"
#include "claims/date_context.h"
#include "claims/mention_index.h"
#include "claims/read_parts.h"
#include "mentions/find_mentions.h"
#include "tailproof/manuscript.h"

namespace tailproof {

class BlockReading {
 protected:
  BlockReading(const Lexicon& lexicon, const Block& block) : lexicon_(lexicon), block_(block) {}
  ~BlockReading() = default;

  /// Where tokens begin, which lists hold a word of the block, and which words are numbers.
  void index_words();
  /// Mentions by kind, place and list; once more where a kind has changed.
  void index_mentions();
  /// Weekdays that the words tell of a date elsewhere ("It was a Thursday"), for the dates.
  void tell_weekdays(std::span<const std::uint8_t> attributed);

  // Words
  [[nodiscard]] Spelling word(std::uint32_t token) const {
    return token < mentions_.tokens.size() ? mentions_.tokens[token].word->text : Spelling{};
  }
  /// The word in lower case, with one kind of apostrophe; "" past the last.
  [[nodiscard]] Spelling folded(std::uint32_t token) const {
    return token < mentions_.tokens.size() ? mentions_.tokens[token].word->folded : Spelling{};
  }
  /// What a small word does, by the list small_word; a mark is itself, any other word nothing.
  [[nodiscard]] Spelling office(std::uint32_t token) const {
    return token < mentions_.tokens.size() ? mentions_.tokens[token].word->office : Spelling{};
  }
  [[nodiscard]] std::string_view value_in(const WordList* list, std::uint32_t token) const {
    return token < mentions_.tokens.size() ? mentions_.tokens[token].word->value_in(list)
                                           : std::string_view{};
  }
  /// Whether a word of the block is of the list.
  [[nodiscard]] bool has_word_of(ListName list) const {
    const WordList* words = lexicon_.grammars().list(list);
    return words != nullptr && (words->number >= lists_here_.size() || lists_here_[words->number]);
  }
  [[nodiscard]] std::string_view text_of(const Mention& mention) const;
  [[nodiscard]] bool is_in(ListName list, std::uint32_t token) const {
    const WordList* words = lexicon_.grammars().list(list);
    return token < mentions_.tokens.size() && mentions_.tokens[token].word->is_in(words);
  }
  /// Whether a token is of a word list, a possessive "'s" aside.
  [[nodiscard]] bool is_in_list(ListName list, std::uint32_t token) const;
  /// The first token of the list among [from, to); `to` when none is.
  [[nodiscard]] std::uint32_t next_of(ListName list, std::uint32_t from, std::uint32_t to) const;
  /// Whether a word of the list is among tokens [from, to).
  [[nodiscard]] bool stands_between(std::uint32_t from, std::uint32_t to, ListName list) const;
  [[nodiscard]] bool is_inscription_before(std::uint32_t token) const;
  [[nodiscard]] const Mention* unit_spoken_of(std::uint32_t verb) const;
  [[nodiscard]] bool opens_past_phrase(std::uint32_t token) const;
  [[nodiscard]] const Mention* day_called(std::uint32_t event) const;
  [[nodiscard]] const Mention* person_in_cleft(const Mention& rank) const;
  [[nodiscard]] const Mention* person_identified(const Mention& rank) const;
  [[nodiscard]] const Mention* person_behind_opening(const Mention& rank) const;
  [[nodiscard]] std::uint32_t time_taken_up(std::uint32_t token) const;
  [[nodiscard]] bool is_missing_one(std::uint32_t first) const;
  [[nodiscard]] bool is_camera_ship(const Mention& serial) const;
  [[nodiscard]] bool carries_camera(const Mention& serial) const;
  [[nodiscard]] bool is_in_other_time(std::uint32_t token) const;
  [[nodiscard]] const Mention* only_person_before(std::uint32_t token) const;
  [[nodiscard]] bool is_former_bearer(std::uint32_t serial) const;
  [[nodiscard]] bool is_only_told_of(const Mention& serial) const;
  [[nodiscard]] bool is_then_of(std::uint32_t unit) const;
  [[nodiscard]] const Mention* named_behind_opening(const Mention& told, ListName opener,
                                                    MentionKind kind) const;
  [[nodiscard]] bool is_in_reason(const Mention& date) const;
  [[nodiscard]] std::uint32_t end_of_told_aside(const Mention& date) const;
  [[nodiscard]] bool is_given_up_for(const Mention& marking) const;
  [[nodiscard]] bool is_past_next_verb(const Mention& event, const Mention& date) const;
  [[nodiscard]] bool is_of_painting(const Mention& date) const;
  [[nodiscard]] bool is_told_of_then(std::uint32_t token) const;
  [[nodiscard]] bool is_counted_beside(std::uint32_t token, std::uint32_t date) const;
  [[nodiscard]] bool is_of_span(const Mention& unit) const;
  [[nodiscard]] bool is_in_past_bracket(const Mention& mention) const;
  [[nodiscard]] const Mention* living_of(const Mention* last) const;
  /// Whether the block is a footnote in Markdown, which goes on from nothing that was told before.
  [[nodiscard]] bool is_note() const { return block_.text.starts_with("[^"); }
  [[nodiscard]] std::uint32_t had_before(const Mention& date) const;
  [[nodiscard]] bool had_done(const Mention& date) const;
  [[nodiscard]] bool is_in_participle_aside(const Mention& date) const;
  [[nodiscard]] bool is_behind_aside(std::uint32_t date, std::uint32_t token) const;
  [[nodiscard]] bool is_size_of_lettering(const Mention& marking) const;
  [[nodiscard]] bool is_unit_apart(const Mention& unit) const;
  [[nodiscard]] bool is_reached_later(std::uint32_t unit) const;
  [[nodiscard]] bool is_of_youth(const Mention& unit) const;
  [[nodiscard]] bool is_unit_of_before(const Mention& unit) const;
  [[nodiscard]] bool is_kept_code(std::uint32_t end) const;
  [[nodiscard]] std::uint32_t day_set_before(std::uint32_t unit) const;
  [[nodiscard]] bool is_between_commas(const Mention& date) const;
  [[nodiscard]] bool is_before_next_honour(std::uint32_t token, std::uint32_t date) const;
  [[nodiscard]] bool is_before_next_verb(std::uint32_t token, std::uint32_t date) const;
  [[nodiscard]] bool goes_on_by_pronoun(std::uint32_t named, std::uint32_t token) const;
  [[nodiscard]] NameList marks_beside(const Mention& type) const;
  [[nodiscard]] bool is_gone_by(std::uint32_t end) const;
  [[nodiscard]] bool ends_aside_of_marking(std::uint32_t first, std::uint32_t comma) const;
  [[nodiscard]] bool is_year_of_make(const Mention& date) const;
  [[nodiscard]] std::string_view of_noun_before(const Mention& mention) const;
  [[nodiscard]] std::uint32_t end_of_aged_one(std::uint32_t age) const;
  [[nodiscard]] bool tells_at(std::uint32_t token) const;
  [[nodiscard]] bool opens_part(std::uint32_t token) const;
  [[nodiscard]] bool is_only_adjective(const Mention& turn) const;
  [[nodiscard]] bool is_opened_elsewhere(const Mention& turn) const;
  [[nodiscard]] bool is_of_scheme(std::uint32_t unit) const;
  [[nodiscard]] bool is_told_of_number(std::uint32_t verb) const;
  [[nodiscard]] const Mention* date_said_here() const;
  /// "Was", "would be".
  [[nodiscard]] bool is_auxiliary(std::uint32_t token) const {
    return is_in("event_auxiliary", token) || is_in("modal_to_come", token);
  }
  [[nodiscard]] const Mention* only_machine_before(std::uint32_t token) const;
  [[nodiscard]] const Mention* unit_told_of(std::uint32_t token) const;
  [[nodiscard]] const Mention* unit_called_latter(std::uint32_t begin, std::uint32_t before,
                                                  std::uint32_t token) const;
  [[nodiscard]] const Mention* machine_called(const Mention& unit) const;
  [[nodiscard]] const Mention* machine_flown_by_theirs(const Mention& unit) const;
  [[nodiscard]] const Mention* unit_housed_at(const Mention& place) const;
  [[nodiscard]] std::uint32_t begin_of_owned(const Mention& unit) const;
  [[nodiscard]] bool is_on_its(const Mention& unit, ListName nouns) const;
  [[nodiscard]] std::string_view hand_before(const Mention& unit) const;
  [[nodiscard]] bool flies_what_is_shown(const Mention& unit) const;
  [[nodiscard]] const Mention* unit_in_first_span(std::uint32_t place, Day& days) const;
  [[nodiscard]] bool is_part_in_view(std::uint32_t belongs) const;
  [[nodiscard]] bool is_whither(const Mention& goal) const;
  [[nodiscard]] bool is_journey(const Mention& event) const;
  [[nodiscard]] bool is_what_unit_became(const Mention& unit) const;
  [[nodiscard]] bool is_past_passive(std::uint32_t token, std::uint32_t date) const;
  [[nodiscard]] bool is_of_other_rank(std::uint32_t first, std::uint32_t last,
                                      std::uint32_t date) const;
  [[nodiscard]] bool is_background(std::uint32_t token) const;
  [[nodiscard]] std::uint32_t day_pronoun_before(std::uint32_t weekday) const;
  [[nodiscard]] DateMention* day_told_before(std::uint32_t token);
  [[nodiscard]] bool stands_apart(std::uint32_t from, std::uint32_t to) const;
  [[nodiscard]] bool tells_verb(std::uint32_t token) const;
  [[nodiscard]] bool says_taken(std::uint32_t from, std::uint32_t to) const;
  [[nodiscard]] bool is_parted(std::uint32_t from, std::uint32_t to) const;
  [[nodiscard]] bool is_past_semicolon(std::uint32_t from, std::uint32_t to) const;
  [[nodiscard]] bool is_parted_by_colon(std::uint32_t from, std::uint32_t to) const;
  [[nodiscard]] bool is_aside_at(std::uint32_t token) const;
  [[nodiscard]] bool is_close(std::uint32_t last, std::uint32_t first) const;
  [[nodiscard]] std::uint32_t segment_past_aside(std::uint32_t token) const;

  // Rows of small words
  [[nodiscard]] bool is_joint(std::uint32_t from, std::uint32_t to) const;
  [[nodiscard]] bool says_made(std::uint32_t token) const;
  [[nodiscard]] std::uint32_t end_of_made(std::uint32_t token) const;
  [[nodiscard]] bool is_in_fronted_words(std::uint32_t token) const;
  [[nodiscard]] bool is_behind_former_opening(std::uint32_t token) const;
  [[nodiscard]] bool is_idle_between(std::uint32_t from, std::uint32_t to) const;
  [[nodiscard]] std::uint32_t words_of_seeing(std::uint32_t from, std::uint32_t to) const;

  // Mentions
  [[nodiscard]] bool is_caption() const { return block_.kind == BlockKind::kCaption; }
  [[nodiscard]] std::uint32_t token_at(std::uint32_t offset) const {
    if (offset < token_at_.size()) return token_at_[offset];
    return mentions_.tokens.empty() ? 0 : static_cast<std::uint32_t>(mentions_.tokens.size() - 1);
  }
  /// Mentions of one kind, and cues of one list, in their order.
  [[nodiscard]] MentionsAt mentions_of(MentionKind kind) const {
    return {mentions_.items, index_.of(kind)};
  }
  [[nodiscard]] MentionsAt cues_of(CueName list) const {
    return {mentions_.items, index_.of(list)};
  }
  template <typename Is>
  [[nodiscard]] bool any_mention(MentionKind kind, const Is& is) const {
    const MentionsAt mentions = mentions_of(kind);
    return std::any_of(mentions.begin(), mentions.end(), is);
  }
  template <typename Is>
  [[nodiscard]] bool any_cue(CueName list, const Is& is) const {
    const MentionsAt cues = cues_of(list);
    return std::any_of(cues.begin(), cues.end(), is);
  }
  /// The mention of a kind that covers a token.
  [[nodiscard]] const Mention* mention_over(MentionKind kind, std::uint32_t token) const;
  [[nodiscard]] const Mention* mention_at(std::uint32_t token) const;
  [[nodiscard]] const Mention* mention_ending_at(std::uint32_t token) const;
  [[nodiscard]] Mention words_of(std::uint32_t first, std::uint32_t last) const;
  [[nodiscard]] bool is_possessive(const Mention& mention) const;
  [[nodiscard]] std::uint32_t begin_of_name(const Mention& person) const;
  [[nodiscard]] std::uint32_t end_of_name(const Mention& person) const;
  [[nodiscard]] bool names_between(std::uint32_t from, std::uint32_t to) const;

  // told_freely.cc
  [[nodiscard]] bool gives_as_before(const Mention& unit) const;
  [[nodiscard]] bool is_worn_in_place(const Mention& marking) const;
  [[nodiscard]] bool is_worn_by_some(const Mention& marking) const;
  [[nodiscard]] bool is_had_by_then(std::uint32_t rank) const;
  [[nodiscard]] std::uint32_t clause_aboard(std::uint32_t end) const;
  [[nodiscard]] std::uint32_t begin_of_letter(const Mention& saying, std::uint32_t first) const;
  [[nodiscard]] bool is_right_behind_when(std::uint32_t clause, const Mention& date) const;
  [[nodiscard]] bool is_of_when(std::uint32_t end, std::uint32_t date) const;
  [[nodiscard]] const Mention* machine_possessed(const Mention& unit) const;
  [[nodiscard]] bool goes_on_next_day(const DateMention& date) const;
  [[nodiscard]] bool is_of_remains(std::uint32_t first, std::uint32_t last) const;
  [[nodiscard]] bool is_just_done(std::uint32_t event) const;
  [[nodiscard]] bool is_whence(const Mention& unit) const;
  [[nodiscard]] bool is_had_by_somebody(std::uint32_t first, std::uint32_t last) const;
  [[nodiscard]] bool is_in_until(std::uint32_t date) const;
  [[nodiscard]] bool is_held_since(const Claim& claim) const;
  [[nodiscard]] const Mention* machine_told_on(std::uint32_t verb) const;
  // commanders.cc, unit_people.cc
  [[nodiscard]] const Mention* name_behind(std::uint32_t token) const;
  [[nodiscard]] bool is_part_of_unit(const Mention& unit) const;
  [[nodiscard]] const Mention* commander_behind(const Mention& unit) const;
  [[nodiscard]] const Mention* person_in_apposition(const Mention& unit) const;
  [[nodiscard]] bool is_left_by_machine(const Mention& unit) const;
  [[nodiscard]] bool is_span_of_life(const Mention& date) const;
  [[nodiscard]] const Mention* marking_before_aside(const Mention& turn) const;
  [[nodiscard]] const Mention* person_before_bracket(const Mention& unit) const;
  [[nodiscard]] const Mention* person_before_clause(std::uint32_t clause) const;
  // shares.cc
  [[nodiscard]] int number_told(std::uint32_t token) const;
  [[nodiscard]] const Mention* subject_before_place(std::uint32_t first) const;
  [[nodiscard]] std::string_view fate_told(std::uint32_t first) const;
  [[nodiscard]] bool is_lost_or_else(std::uint32_t end) const;
  [[nodiscard]] bool stands_before_renumbering(std::uint32_t first, std::uint32_t sentence) const;
  // people_of_units.cc
  [[nodiscard]] const Mention* name_before_aside(std::uint32_t comma) const;
  [[nodiscard]] const Mention* person_told_with(const Mention& unit) const;
  [[nodiscard]] const Mention* person_told_behind(const Mention& unit) const;
  [[nodiscard]] const Mention* person_owning(const Mention& unit) const;
  [[nodiscard]] const Mention* person_of_its(const Mention& unit) const;
  [[nodiscard]] const Mention* unit_left_for(const Mention& unit) const;
  [[nodiscard]] const Mention* commander_told(std::uint32_t first, std::uint32_t last) const;
  [[nodiscard]] const Mention* unit_spoken_before(std::uint32_t token) const;
  [[nodiscard]] bool is_of_other_office(std::uint32_t token) const;
  // in_use.cc
  [[nodiscard]] std::uint32_t verb_behind(std::uint32_t end) const;
  [[nodiscard]] bool is_doing(std::uint32_t end, bool is_named = true) const;
  [[nodiscard]] bool is_doer_behind(std::uint32_t first) const;
  [[nodiscard]] bool is_done_to(std::uint32_t first) const;
  [[nodiscard]] bool is_somewhere(std::uint32_t verb) const;
  [[nodiscard]] bool is_which(std::uint32_t which, std::string_view machine) const;
  [[nodiscard]] bool stands_for(const Mention& pronoun, std::string_view machine) const;
  [[nodiscard]] bool is_act_on_other(const Mention& event) const;
  [[nodiscard]] bool is_beyond_it(const Mention& type) const;
  // no_events.cc
  class NoEvent;
  [[nodiscard]] bool is_no_event(const Mention& words) const;
  [[nodiscard]] bool is_before_machine(const Mention& event) const;
  [[nodiscard]] bool is_of_unit_given(const Mention& event) const;
  [[nodiscard]] const Mention* person_with_badges(const Mention& rank) const;
  [[nodiscard]] bool is_day_reached(std::uint32_t event) const;
  // code_turns.cc
  [[nodiscard]] std::uint32_t verb_of_taking_up(std::uint32_t code) const;
  [[nodiscard]] bool is_done_away(std::uint32_t end) const;
  // order_contents.cc
  [[nodiscard]] const Mention* only_marking_of(std::uint32_t sentence) const;
  [[nodiscard]] Turn turn_of_other_words(const Mention& order, const Mention& marking) const;
  // counted_days.cc
  [[nodiscard]] DaySet days_by_ledger(const Claim& event, const Mention& cue,
                                      const Ledger& ledger) const;
  [[nodiscard]] DaySet days_before_sentence(const Mention& date,
                                            std::span<const ResolvedDate> dates) const;
  [[nodiscard]] bool is_of_happening(const Mention& date,
                                     std::span<const ResolvedDate> dates) const;
  [[nodiscard]] const Mention* machine_counted_from(const Mention& date) const;
  [[nodiscard]] bool is_place_on_machine(const Mention& part) const;
  [[nodiscard]] bool is_painted_over(std::uint32_t token) const;
  [[nodiscard]] std::string_view part_told(const Mention& mention) const;
  [[nodiscard]] bool is_stripped_off(const Mention& upper, const Mention& lower) const;
  // told_in_prose.cc
  [[nodiscard]] bool is_unreal_past(std::uint32_t had) const;
  [[nodiscard]] bool is_only_likened(const Mention& date) const;
  [[nodiscard]] std::uint32_t opening_of_day_told(const Mention& date) const;
  [[nodiscard]] bool is_day_told(const Mention& date) const;
  [[nodiscard]] bool is_last_outing(std::uint32_t verb) const;
  [[nodiscard]] bool tells_beginning(const Mention& event) const;
  [[nodiscard]] const Mention* machine_pictured_on(const Mention& date) const;
  [[nodiscard]] DaySet days_counted_from(const Mention& date, const Ledger& ledger) const;
  [[nodiscard]] DaySet days_told_from(std::uint32_t first, bool is_to_the_day,
                                      const Ledger& ledger) const;
  [[nodiscard]] DaySet day_of_unit(const Mention& unit, std::uint32_t first, std::uint32_t end,
                                   const Ledger& ledger) const;
  // people_claims.cc
  [[nodiscard]] const std::string* told_apart_by(const Mention& name, const Mention& first) const;
  [[nodiscard]] const Mention* place_left(const Mention& turn) const;
  [[nodiscard]] const Mention* place_left_for(const Mention& left, std::string_view unit,
                                              const Ledger& ledger) const;
  [[nodiscard]] bool is_of_kin(const Mention& turn) const;
  [[nodiscard]] bool is_killed_in_aside(const Mention& turn, const Mention& date) const;
  [[nodiscard]] bool is_had_in(std::uint32_t clause) const;
  [[nodiscard]] const Mention* person_before(const Mention& mention) const;
  [[nodiscard]] bool is_capital_noun(std::uint32_t token) const;
  [[nodiscard]] const Mention* person_before_who(const Mention& cue) const;

  // Cues, by clause and segment
  [[nodiscard]] const Mention* cue_before(const Mention& mention, CueName list,
                                          std::uint32_t reach) const;
  [[nodiscard]] const Mention* cue_in_clause(std::uint32_t token, CueName list) const;
  [[nodiscard]] const Mention* cue_in_segment(std::uint32_t token, CueName list) const;
  [[nodiscard]] bool bounds_date(const Mention& cue) const;
  [[nodiscard]] bool is_past(const Mention& mention) const;
  [[nodiscard]] bool has_state_verb(std::uint32_t token) const;

  // Sentences and clauses
  [[nodiscard]] std::uint32_t begin_of_sentence(std::uint32_t token) const {
    return clauses_.sentence_first[clauses_.sentence_of[token]];
  }
  [[nodiscard]] bool is_in_event(std::uint32_t token) const;
  /// Behind the comma that closes what begins at `first` and goes on for so many words at most;
  /// kNone where there is nothing, or no comma before the next semicolon or the end of the
  /// sentence.
  [[nodiscard]] std::uint32_t end_of_aside(std::uint32_t first, std::uint32_t most_words) const;
  [[nodiscard]] bool opens_sentence(const Mention& serial) const;
  [[nodiscard]] std::uint32_t begin_of_statement(std::uint32_t token) const;
  [[nodiscard]] std::uint32_t end_of_statement(std::uint32_t token) const;
  [[nodiscard]] bool is_in_later_sentence(std::uint32_t token) const;
  [[nodiscard]] bool pronoun_opens(std::uint32_t clause) const;
  [[nodiscard]] std::uint32_t phrase_before(std::uint32_t pronoun) const;
  [[nodiscard]] bool is_before_pronoun(std::uint32_t token, std::uint32_t date) const;
  [[nodiscard]] bool opens_with_pronoun(std::uint32_t clause) const;
  [[nodiscard]] bool follows_only_date(std::uint32_t begin, std::uint32_t end) const;

  // set_against.cc: names only held against the one told of
  [[nodiscard]] std::uint32_t begin_of_any_name(std::uint32_t token) const;
  [[nodiscard]] bool is_set_against(std::uint32_t first) const;
  [[nodiscard]] bool ends_aside(std::uint32_t token) const;
  [[nodiscard]] bool is_in_aside_of(std::uint32_t end_of_name, std::uint32_t token) const;
  [[nodiscard]] bool is_only_compared(const Mention& name, std::uint32_t token) const;
  [[nodiscard]] bool is_anothers_own(std::uint32_t token) const;
  [[nodiscard]] std::string_view named_like_before(const Mention& mention) const;
  [[nodiscard]] bool is_object_of_before(const Mention& serial) const;
  [[nodiscard]] bool is_of_marking_told(const Mention& unit) const;
  [[nodiscard]] bool is_of_unit_between(const Mention& unit, std::uint32_t machines) const;
  [[nodiscard]] bool is_excepted(std::uint32_t token) const;

  const Lexicon& lexicon_;
  const Block& block_;
  Mentions mentions_;
  Clauses clauses_;
  std::vector<std::uint32_t> cues_;  // mentions that are cues
  MentionIndex index_;
  ListSet lists_here_;                   // that hold a word of the block
  std::vector<std::uint32_t> numbers_;   // tokens that are a number, in words or figures
  std::vector<std::uint32_t> token_at_;  // by offset: the first token that begins there or behind
};

}  // namespace tailproof

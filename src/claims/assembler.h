// Ties the mentions of one block to subjects and makes claims of them by the rules in README.md.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "claims/date_context.h"
#include "claims/focus.h"
#include "claims/read_parts.h"
#include "claims/size_reading.h"
#include "mentions/find_mentions.h"
#include "tailproof/claim.h"
#include "tailproof/ledger.h"
#include "tailproof/manuscript.h"

namespace tailproof {

/// `block` is block `block_index` of the manuscript, or a stretch of it.
class BlockAssembler : private SizeReading {
 public:
  BlockAssembler(const MentionFinder& finder, const Manuscript& manuscript, const Block& block,
                 std::uint32_t manuscript_index, std::uint32_t block_index, Focus& focus,
                 DateContext& dates, std::vector<Claim>& out);
  void run();

 private:
  struct Serials;
  struct Counted;
  class KindCounts;
  [[nodiscard]] std::string figure_subject() const;
  /// What the mention and its place tell, into a claim that may hold a value already.
  void put(Claim& claim, const Mention& mention, ClaimKind kind) const;
  Claim& add(const Mention& mention, ClaimKind kind);
  class LikelyDays;
  void set_likely_days(const Mention& mention, DateMention& date) const;
  [[nodiscard]] bool stands_behind_had(const Mention& date) const;
  [[nodiscard]] bool shares_having(const Mention& date) const;
  void set_weekday_behind(std::size_t index);
  [[nodiscard]] bool goes_on_from(const Mention& date) const;
  void mark_denied_dates();
  [[nodiscard]] bool is_only_spoken_of(const Mention& event, const Mention& date) const;
  [[nodiscard]] bool is_put_off_to(const Mention& day) const;
  void sort_claims();
  // asides.cc
  [[nodiscard]] bool is_told_aside(const Mention& mention) const;
  [[nodiscard]] bool has_others_of_its_own(const Mention& unit) const;
  [[nodiscard]] bool is_of_other_thing(const Mention& unit) const;
  [[nodiscard]] bool is_behind_landmark(const Mention& unit) const;
  [[nodiscard]] bool is_behind_remains(std::uint32_t token) const;
  [[nodiscard]] bool has_verb_of_its_own(const Mention& unit) const;
  [[nodiscard]] bool is_tied_elsewhere(const Mention& unit) const;
  [[nodiscard]] bool is_told_of_others(std::uint32_t token) const;
  [[nodiscard]] bool is_of_unnamed_other(const Mention& marking) const;
  [[nodiscard]] bool tells_of_other_unit(std::uint32_t token) const;
  [[nodiscard]] bool opens_statement(const Mention& unit, std::uint32_t first) const;
  // code_fates.cc
  [[nodiscard]] bool is_one_in_turn(const Mention& code) const;
  [[nodiscard]] bool follows_code(const Claim& code) const;
  [[nodiscard]] bool is_felt_beneath(const Mention& identity) const;
  [[nodiscard]] bool is_gone_identity(const Mention& identity) const;
  [[nodiscard]] bool is_given_name(const Mention& name) const;
  // code_groups.cc
  void insert_group(Group group);
  [[nodiscard]] std::string bearer_of(const Mention& code) const;
  [[nodiscard]] std::string bearer_named(const Mention& code) const;
  [[nodiscard]] bool stands_by_itself(const Mention& code) const;
  [[nodiscard]] bool opens_before_others(const Mention& code) const;
  [[nodiscard]] bool stands_for_machine(const Mention& number) const;
  void make_code_groups();
  // commanders.cc
  void add_commands();
  [[nodiscard]] const Mention* marking_turned(const Mention& date) const;
  void settle_transfers();
  // people_of_units.cc
  void add_commands_of_spoken();
  // companies.cc
  void make_companies();
  void make_counted_companies();
  [[nodiscard]] bool stands_alone(const Mention& plural) const;
  [[nodiscard]] bool goes_on_about_machines(const Mention& plural) const;
  [[nodiscard]] NameList all_of_caption(const Mention& plural, std::size_t wanted, bool all) const;
  [[nodiscard]] bool has_nearer_pair(const Mention& plural) const;
  void make_plural_pronouns();
  // count_claims.cc
  void read_noun(Counted& counted, std::uint32_t token) const;
  [[nodiscard]] const Mention* type_counted_of(std::uint32_t token) const;
  [[nodiscard]] Counted read_count(std::uint32_t token) const;
  [[nodiscard]] int number_of_all(std::uint32_t sentence) const;
  bool add_last_of_all(const Counted& counted);
  [[nodiscard]] bool tells_of_making(const Counted& counted) const;
  bool add_place(const Counted& counted);
  bool add_share(const Counted& counted);
  void add_counts();
  void add_recounted();
  // made_counts.cc
  [[nodiscard]] const Mention* kind_spoken_of(std::uint32_t token) const;
  [[nodiscard]] bool is_last_of_them(const Counted& counted, const Airframe& row) const;
  [[nodiscard]] Count kind_at(std::uint32_t token) const;
  [[nodiscard]] Count kind_made(const Counted& counted) const;
  bool add_made(const Counted& counted);
  // list_counts.cc
  [[nodiscard]] int listed_behind(std::uint32_t last, int number) const;
  [[nodiscard]] int listed_before(std::uint32_t first, std::uint32_t last) const;
  void add_counts_of_lists();
  // date_claims.cc
  void add_dates();
  void add_date(const Mention& mention);
  [[nodiscard]] std::uint32_t pick_before(const Mention& date) const;
  [[nodiscard]] std::vector<const Mention*> dates_in_row(const Mention& date) const;
  [[nodiscard]] std::vector<std::uint32_t> events_of(std::uint32_t event) const;
  void add_date_of(const Mention& mention, const Edtf& value, const std::string& owner,
                   const std::string& subject, std::uint32_t event);
  // date_owner.cc
  class DateOwner;
  [[nodiscard]] std::string_view owner_of(const Mention& date, std::uint32_t& event) const;
  [[nodiscard]] bool is_told_in_pluperfect(const Mention& date) const;
  [[nodiscard]] bool is_number_of_something(const Mention& mention, const Edtf& value) const;
  [[nodiscard]] bool is_counted_from_picture(const Mention& date) const;
  [[nodiscard]] bool is_counted_from_untold(const Mention& date) const;
  [[nodiscard]] bool is_restated(const Mention& date) const;
  // date_ranges.cc
  [[nodiscard]] std::string impossible_text(const Mention& mention) const;
  void add_ends(Claim& claim, const DateMention& date, const ResolvedDate& resolved) const;
  // date_subject.cc
  [[nodiscard]] const Mention* topic_of(const Mention& statement) const;
  [[nodiscard]] bool opens_turn(const Mention& name) const;
  [[nodiscard]] bool is_turned_to(std::uint32_t token, std::uint32_t opening) const;
  [[nodiscard]] bool is_subject_behind(const Mention& unit, const Mention& date) const;
  [[nodiscard]] bool has_machine(std::uint32_t clause) const;
  [[nodiscard]] bool is_told_of_person(std::uint32_t clause) const;
  [[nodiscard]] const Mention* picture_told_of(const Mention& what) const;
  [[nodiscard]] NameList date_subjects(const Mention& date, std::string& owner) const;
  [[nodiscard]] NameList statement_subjects(const Mention& mention, bool& is_persons) const;
  [[nodiscard]] bool is_year_of_style(const Mention& date) const;
  [[nodiscard]] bool is_in_number_aside(const Mention& cue, std::uint32_t segment) const;
  [[nodiscard]] bool is_told_in_which(const Mention& event, const Mention& date) const;
  // dated_by_words.cc
  [[nodiscard]] bool is_said_to_fly(const Claim& machine) const;
  [[nodiscard]] bool is_told_of_use(const Claim& date) const;
  [[nodiscard]] bool opens_behind(std::uint32_t clause, const Claim& date) const;
  [[nodiscard]] bool is_told_of_day(std::uint32_t token, const Claim& date) const;
  [[nodiscard]] bool has_view_behind(const Claim& claim, std::uint32_t clause) const;
  [[nodiscard]] bool is_titled_by(const Claim& event) const;
  [[nodiscard]] bool is_for_deed(const Claim& award) const;
  [[nodiscard]] DaySet with_years_around(const Claim& date, const DaySet& days,
                                         const DaySet& picture) const;
  [[nodiscard]] bool opens_clause_with(const Claim& date, std::uint32_t token) const;
  [[nodiscard]] bool is_where_it_befell(const Claim& date, std::uint32_t place) const;
  // dated_claims.cc
  [[nodiscard]] bool is_before_or_after(std::uint32_t token) const;
  [[nodiscard]] bool opens_with_before(std::uint32_t token) const;
  [[nodiscard]] bool is_relative_date(const Claim& date) const;
  [[nodiscard]] Day slack_of(const Claim& date) const;
  [[nodiscard]] bool is_told_onward(std::uint32_t token, const Claim& date) const;
  [[nodiscard]] bool is_in_bracket_of(std::uint32_t token, const Claim& date) const;
  [[nodiscard]] bool is_before_joint_day(std::uint32_t token, const Claim& date) const;
  [[nodiscard]] bool is_past_joint(std::uint32_t token, const Claim& date) const;
  [[nodiscard]] bool is_handed_on(const Claim& claim) const;
  [[nodiscard]] bool is_last_heard_of(const Claim& event, const Claim& date) const;
  [[nodiscard]] bool is_dated_in_bracket(const Claim& claim, const Claim& date) const;
  [[nodiscard]] bool are_joined(const Claim& one, const Claim& other) const;
  [[nodiscard]] std::uint32_t item_of(std::uint32_t token) const;
  // event_claims.cc
  void find_card();
  [[nodiscard]] bool is_same_machine(const std::string& one, const std::string& other) const;
  [[nodiscard]] std::string machine_heading() const;
  [[nodiscard]] std::vector<std::uint32_t> events_in_turn(const Mention& date) const;
  [[nodiscard]] bool is_only_for_a_time(const Mention& event) const;
  [[nodiscard]] bool is_attributive(const Mention& event) const;
  void add_events();
  void settle_event_kinds();
  [[nodiscard]] bool is_of_other_end(const Claim& claim) const;
  // event_days.cc
  [[nodiscard]] bool is_day_of_taking(const Mention& date) const;
  [[nodiscard]] bool is_of_machines_end(const Mention& end) const;
  [[nodiscard]] const Mention* event_of_day_told(std::uint32_t comma) const;
  [[nodiscard]] const Mention* event_set_off(const Mention& date) const;
  // event_subjects.cc
  [[nodiscard]] const Group* group_behind(std::uint32_t token, std::uint32_t reach) const;
  [[nodiscard]] bool has_unit_behind(const Mention& event) const;
  [[nodiscard]] bool opens_segment(const Mention& event) const;
  [[nodiscard]] Told noun_before(std::uint32_t& token, std::uint32_t first) const;
  [[nodiscard]] Told told_before(const Mention& event) const;
  [[nodiscard]] Told told_first(std::uint32_t first, std::uint32_t last) const;
  [[nodiscard]] NameList objects_behind(const Mention& event) const;
  [[nodiscard]] NameList objects_before(const Mention& event) const;
  [[nodiscard]] NameList all_counted_behind(const Mention& event) const;
  [[nodiscard]] NameList picked_before(const Mention& event) const;
  [[nodiscard]] NameList serials_of_next_block() const;
  [[nodiscard]] bool is_its_own(const Mention& event) const;
  [[nodiscard]] NameList unnamed_subject(const Mention& event) const;
  [[nodiscard]] const std::string* told_respectively(const Mention& event, bool& is_told) const;
  [[nodiscard]] NameList subjects_of_event(const Mention& event, std::string* why) const;
  [[nodiscard]] bool is_behind_apposition(const Mention& event) const;
  [[nodiscard]] bool is_led_by_preposition(const Group& group) const;
  [[nodiscard]] const Group* doer_before_joint(const Mention& event) const;
  // event_times.cc
  [[nodiscard]] bool leads_both(const Claim& date, const Claim& event) const;
  [[nodiscard]] const Mention* date_before_when(const Claim& event) const;
  [[nodiscard]] const Mention* date_told_next(const Claim& event) const;
  [[nodiscard]] bool is_of_picture(const TimeLead& lead) const;
  [[nodiscard]] bool is_storied(const Mention& event) const;
  [[nodiscard]] std::optional<TimeLead> lead_before(const Mention& event) const;
  [[nodiscard]] std::optional<TimeLead> lead_apart(const Mention& event) const;
  [[nodiscard]] bool is_counted_from_rest(const Mention& date) const;
  [[nodiscard]] bool is_told_on(const Mention& event) const;
  [[nodiscard]] bool tells_between(std::uint32_t from, std::uint32_t to) const;
  [[nodiscard]] std::optional<TimeLead> lead_behind(const Mention& event) const;
  void time_picture_by_events();
  void time_picture_by_spans();
  // figure_focus.cc
  void look_ahead_in_figure();
  void stand_for_figure(NameList serials, std::uint32_t token);
  void name_machine_of_before();
  // gapped_lists.cc
  [[nodiscard]] bool is_joined_to_list(const Group& group) const;
  [[nodiscard]] const Mention* own_date_behind(const Group& group) const;
  [[nodiscard]] bool is_gapped(const Group& group) const;
  [[nodiscard]] NameList gapped_after(const Mention& event, std::uint32_t token) const;
  [[nodiscard]] const Group* group_led_by(const Mention& date) const;
  [[nodiscard]] std::vector<std::uint32_t> events_of_own_date(std::vector<std::uint32_t> events,
                                                              const Mention& date) const;
  // groups.cc
  [[nodiscard]] NameList serials_between(const Mention& from, const Mention& to) const;
  [[nodiscard]] std::uint32_t clause_of_serial(const Mention& serial) const;
  [[nodiscard]] bool is_told_as_former(const Mention& number, const Group& before) const;
  [[nodiscard]] bool is_word_of_aside(std::uint32_t token) const;
  void make_groups();
  [[nodiscard]] const Group* company_for(std::uint32_t first, std::uint32_t last) const;
  void name_same_machine();
  [[nodiscard]] const Group* group_of_type(std::string_view type) const;
  [[nodiscard]] bool has_group_before(std::uint32_t token) const;
  [[nodiscard]] const Group* owner_of_part(std::uint32_t token) const;
  [[nodiscard]] const Group* machine_of_label(std::uint32_t token) const;
  [[nodiscard]] bool is_held_against(const Group& group, std::uint32_t token) const;
  [[nodiscard]] bool is_stood_for(std::uint32_t serial) const;
  [[nodiscard]] const Group* group_for(std::uint32_t first, std::uint32_t last,
                                       std::string* why) const;
  [[nodiscard]] const Group* last_alone(const Group& list, std::uint32_t sentence) const;
  [[nodiscard]] bool is_verbless_entry(const Group& head) const;
  [[nodiscard]] bool is_entry() const;
  [[nodiscard]] bool reads_as_entry() const;
  [[nodiscard]] bool is_told_of_pronoun(std::uint32_t token, std::uint32_t later) const;
  [[nodiscard]] const Group* told_of_in_parent(std::uint32_t clause) const;
  [[nodiscard]] const Group* owner_before_clause(std::uint32_t clause) const;
  [[nodiscard]] NameList subjects_of(const Mention& mention) const;
  // leaning_dates.cc
  [[nodiscard]] bool leans_on_event(const Mention& date) const;
  [[nodiscard]] Edtf count_from_event(const Mention& mention, std::uint32_t& base) const;
  [[nodiscard]] Edtf said_beside(const Mention& mention, const DateUnit& unit) const;
  [[nodiscard]] Edtf count_from_named(const Mention& mention, const DateUnit& unit) const;
  [[nodiscard]] const Mention* day_in_apposition(const Mention& leaning, std::uint32_t end) const;
  bool add_date_from_apposition(const Mention& leaning);
  [[nodiscard]] bool is_date_of_print(const Mention& date) const;
  // identity_owner.cc
  class IdentityOwner;
  void add_identity(std::uint32_t index);
  [[nodiscard]] bool is_beside_in_view(const Mention& code) const;
  // make_claims.cc
  void add_for_subjects(const Mention& mention, ClaimKind kind, const NameList& subjects,
                        const Claim& pattern);
  [[nodiscard]] bool is_one_of_either(const std::string& serial) const;
  void add_airframes();
  void add_credit();
  void add_references();
  // manners.cc
  [[nodiscard]] std::vector<std::string_view> manners_told(const Claim& event) const;
  [[nodiscard]] std::vector<std::string_view> manners_recorded(std::string_view words) const;
  [[nodiscard]] bool is_of_other_manner(const Claim& event) const;
  // mark_claims.cc
  [[nodiscard]] bool is_lower_coat(const Mention& mention) const;
  [[nodiscard]] bool is_where_it_was(const Mention& marking) const;
  [[nodiscard]] bool has_other_date(const Mention& marking) const;
  void add_markings();
  // marking_fates.cc
  [[nodiscard]] bool is_ghost(const Mention& marking) const;
  [[nodiscard]] bool is_lasting(const Mention& marking) const;
  [[nodiscard]] bool is_led_by_article(const Mention& marking) const;
  [[nodiscard]] bool is_taken_off(const Mention& marking) const;
  [[nodiscard]] bool makes_other_form(const Mention& marking, std::string_view part,
                                      bool is_lost) const;
  [[nodiscard]] bool is_changed(const Mention& marking) const;
  [[nodiscard]] bool has_verb_behind(const Mention& marking) const;
  // marking_positions.cc
  [[nodiscard]] bool goes_on_to(std::uint32_t from, const Mention& position) const;
  [[nodiscard]] bool is_fronted(const Mention& position, const Mention& marking) const;
  [[nodiscard]] NameList positions_of(const Mention& mention) const;
  [[nodiscard]] NameList bare_surfaces(const Mention& marking) const;
  [[nodiscard]] bool stands_behind_marking(const Mention& position) const;
  [[nodiscard]] const Mention* part_shown() const;
  [[nodiscard]] std::string surface_shown(const Mention& marking) const;
  [[nodiscard]] bool is_joined_past_aside(std::uint32_t end, std::uint32_t next) const;
  [[nodiscard]] std::string usual_position(std::string_view marking) const;
  // marking_pronouns.cc
  [[nodiscard]] NameList gapped_behind(std::uint32_t token) const;
  [[nodiscard]] const Mention* marking_meant(std::uint32_t token) const;
  [[nodiscard]] static std::vector<std::string_view> parts_of_position(std::string_view value);
  void add_absent_places();
  void add_elsewhere(const Mention& marking, const Mention& place, bool is_absent);
  void add_marking_pronouns();
  // measure_claims.cc
  void add_sizes_before(const Marking& row, const Mention& last);
  void add_sizes_behind(const Marking& row, const Mention& first);
  void add_measures();
  // no_markings.cc
  [[nodiscard]] bool is_common_noun(const Mention& marking) const;
  [[nodiscard]] bool is_other_lettering(const Mention& mention) const;
  [[nodiscard]] bool is_no_marking(const Mention& mention) const;
  // open_picks.cc
  [[nodiscard]] std::uint32_t end_of_unknown_one(std::uint32_t token) const;
  [[nodiscard]] std::uint32_t end_of_located_one(std::uint32_t at, std::string_view& place) const;
  [[nodiscard]] std::uint32_t end_of_last_one(std::uint32_t token) const;
  [[nodiscard]] std::uint32_t end_of_owned_one(const Mention& person, NameList& serials) const;
  [[nodiscard]] std::uint32_t end_of_unnamed_one(std::uint32_t token) const;
  void make_open_picks();
  // order_claims.cc
  [[nodiscard]] bool opens_caption(const Mention& order) const;
  [[nodiscard]] const Mention* picture_spoken_of(const Mention& order) const;
  [[nodiscard]] bool is_of_event(const Mention& order) const;
  void add_orders_in_time();
  // order_contents.cc
  [[nodiscard]] const Mention* marking_right_behind(std::uint32_t token) const;
  void add_order_contents();
  // other_numbers.cc
  [[nodiscard]] bool goes_on_behind_number(const Mention& serial) const;
  [[nodiscard]] bool stands_behind_own_number(const Mention& serial) const;
  [[nodiscard]] bool was_renumbered(const Mention& serial, bool from_other) const;
  [[nodiscard]] std::uint32_t end_of_insertion(std::uint32_t first, std::uint32_t verb) const;
  [[nodiscard]] const Mention* homing_before(std::uint32_t end, const Mention& before) const;
  [[nodiscard]] bool is_number_of(const Mention& owner, const Mention& number) const;
  [[nodiscard]] std::string_view told_as_number_of(const Mention& number, const Mention& old) const;
  void name_told_numbers();
  // other_times.cc
  [[nodiscard]] bool is_to_come(const Mention& mention) const;
  [[nodiscard]] bool is_moved_in_time(std::uint32_t token, CueName list) const;
  [[nodiscard]] bool stands_behind_having_done(std::uint32_t token) const;
  [[nodiscard]] bool opens_not_until(std::uint32_t first) const;
  [[nodiscard]] bool is_told_as_former(std::uint32_t first, std::uint32_t token) const;
  [[nodiscard]] std::optional<Tense> other_time_of(std::uint32_t token, ClaimKind kind) const;
  void part_times();
  [[nodiscard]] bool is_of_other_figure(std::uint32_t token) const;
  [[nodiscard]] bool is_told_by_another(const Claim& claim, const Claim& date) const;
  [[nodiscard]] bool is_bound(const Claim& date) const;
  [[nodiscard]] bool is_of_other_machine(const Claim& claim, const Claim& date,
                                         const std::vector<std::uint32_t>& dates) const;
  [[nodiscard]] bool is_of_time_before(std::uint32_t token, const Claim& date) const;
  [[nodiscard]] bool is_of_next_item(const Claim& claim, const Claim& date) const;
  [[nodiscard]] bool is_day_of_noun(const Mention& date) const;
  // paint_claims.cc
  [[nodiscard]] bool follows_its_family(const Mention& pro_form, std::string_view marking) const;
  void settle_pro_forms();
  [[nodiscard]] const Mention* marking_before(std::uint32_t token, std::uint32_t sentence) const;
  [[nodiscard]] const Mention* marking_after(std::uint32_t token, std::uint32_t sentence) const;
  [[nodiscard]] const Mention* fronted_coat(const Mention& lower) const;
  [[nodiscard]] const Mention* code_beside(const Mention& cue, bool is_before) const;
  bool add_code_overpaint(const Mention& cue);
  void add_overpaint();
  void add_paint_over_one(const Mention& cue);
  void add_coats(const Mention& words, const NameList& subjects, std::string both);
  // people_aside.cc
  [[nodiscard]] bool is_only_named(const Mention& person) const;
  [[nodiscard]] bool is_of_later_day(const Mention& person) const;
  [[nodiscard]] bool is_witness(const Mention& person) const;
  [[nodiscard]] bool is_of_recollection(const Mention& date) const;
  [[nodiscard]] std::optional<Tense> tense_of_title(const Mention& rank, const Mention& of) const;
  [[nodiscard]] bool is_award_to_come(const Mention& award, const Mention& person) const;
  [[nodiscard]] bool has_dated_career(const Claim& unit) const;
  [[nodiscard]] bool is_date_of_career(const Claim& unit, const Claim& date) const;
  [[nodiscard]] bool is_dated_by_clause(const Claim& unit, const Claim& date) const;
  [[nodiscard]] bool has_impossible_between(const Claim& claim, const Claim& date) const;
  // people_claims.cc
  [[nodiscard]] bool is_credit(const Mention& person) const;
  [[nodiscard]] bool is_named_before(const std::string& person) const;
  void remember_person(const std::string& person);
  void settle_first_names();
  void settle_namesakes();
  [[nodiscard]] bool is_crew(const Mention& person) const;
  [[nodiscard]] bool has_crew_role(const Mention& person) const;
  [[nodiscard]] bool is_owner_of_machine(const Mention& person) const;
  [[nodiscard]] bool is_of_crew_told(const Mention& person) const;
  [[nodiscard]] const Mention* machine_beside(const Mention& person) const;
  [[nodiscard]] bool is_told_before(const Mention& person) const;
  void add_people();
  // picks.cc
  [[nodiscard]] NameList named_before(std::uint32_t token) const;
  [[nodiscard]] std::uint32_t end_of_pick(std::uint32_t token) const;
  [[nodiscard]] std::string place_of(const std::string& serial) const;
  [[nodiscard]] std::string picked(std::string_view by, std::uint32_t at, const NameList& of) const;
  [[nodiscard]] NameList several_picked(std::string_view which, std::size_t number,
                                        std::uint32_t token, NameList among) const;
  [[nodiscard]] std::uint32_t end_of_them(std::uint32_t token) const;
  [[nodiscard]] NameList listed_before(std::uint32_t token, std::string_view which) const;
  [[nodiscard]] bool is_otherwise_in_time(const std::string& one, const NameList& listed,
                                          std::string_view which, std::uint32_t token) const;
  [[nodiscard]] bool is_one_in_row(std::uint32_t token, std::string_view which) const;
  void make_picks();
  // place_claims.cc
  [[nodiscard]] bool has_other_place(const Mention& mention) const;
  [[nodiscard]] bool is_told_for_itself(const Mention& place) const;
  [[nodiscard]] bool is_told_of_one(const Mention& place) const;
  [[nodiscard]] bool is_where_taken(const Mention& place) const;
  [[nodiscard]] NameList shown_serials() const;
  [[nodiscard]] const Claim* unit_right_before(std::uint32_t place) const;
  [[nodiscard]] bool shows_nothing_named() const;
  [[nodiscard]] bool is_moved_there(std::uint32_t token) const;
  void add_places();
  void add_place_of_clause(const Mention& place);
  // rank_claims.cc
  [[nodiscard]] const Mention* person_meant_by_he(std::uint32_t token) const;
  [[nodiscard]] bool is_behind_name(const Mention& rank) const;
  [[nodiscard]] const Mention* person_told_of(const Mention& rank) const;
  void add_ranks();
  void settle_ranks();
  [[nodiscard]] bool is_bar_to(const Mention& award) const;
  void add_awards();
  [[nodiscard]] bool has_date_in_segment(std::uint32_t token) const;
  // record_dates.cc
  [[nodiscard]] Part part_around(std::uint32_t token) const;
  [[nodiscard]] bool is_entry_of_card(const Part& part, bool& is_move) const;
  [[nodiscard]] bool is_of_card(const Mention& date) const;
  [[nodiscard]] bool is_framing(const Mention& date) const;
  [[nodiscard]] bool is_fronted_for(const Mention& date, const Mention& event) const;
  [[nodiscard]] Edtf told_back(const Mention& mention, const Edtf& value) const;
  // said.cc
  [[nodiscard]] bool is_said_elsewhere(std::uint32_t reference) const;
  [[nodiscard]] std::uint32_t against_order(const Mention& cue) const;
  void mark_said();
  // shown.cc
  [[nodiscard]] bool is_said_absent(const Group& group) const;
  [[nodiscard]] bool is_other_bearer(const Group& group) const;
  [[nodiscard]] bool is_told_after(const Group& group) const;
  [[nodiscard]] bool is_painted_part(const Mention& part, const Group& group) const;
  [[nodiscard]] bool is_in_sequel(const Group& group) const;
  void decide_shown();
  // range_counts.cc
  [[nodiscard]] std::vector<Serials> ranges() const;
  [[nodiscard]] const Mention* pronoun_before_place(std::uint32_t first) const;
  [[nodiscard]] const Mention* machine_behind_mark(std::uint32_t token) const;
  [[nodiscard]] bool is_of_number_before(const Counted& counted, const Serials& range) const;
  [[nodiscard]] bool is_set_beside(const Counted& counted, const Serials& range) const;
  bool add_count_of_range(const Counted& counted, const std::vector<Serials>& all);
  // proportions.cc
  [[nodiscard]] NameList markings_proportioned(const Mention& told) const;
  void add_proportions();
  // size_lists.cc
  [[nodiscard]] std::vector<NameList> markings_measured(const Mention& measure) const;
  void add_size(const Size& size, const std::string& key, const NameList& keys, std::string part);
  bool add_ring_list(const Mention& last);
  bool add_size_by_size(const Mention& last);
  bool add_extents(const Size& first, const Size& second);
  bool add_size_over(const Mention& first);
  std::vector<std::uint32_t> add_sizes_in_rows();
  // table_row.h
  class Row;
  // told_counts.cc
  [[nodiscard]] bool is_count_of_one(std::uint32_t first) const;
  [[nodiscard]] std::string machine_counted(std::uint32_t first, std::uint32_t last) const;
  [[nodiscard]] bool is_of_all_counted(std::uint32_t first) const;
  [[nodiscard]] std::string one_of_counted(std::uint32_t first, std::uint32_t last) const;
  void add_counts_of_units();
  void add_told_counts();
  // shares.cc
  [[nodiscard]] std::vector<std::string> machines_numbered(std::uint32_t token, int number) const;
  [[nodiscard]] const Mention* type_renumbered(std::uint32_t token, std::string& mark) const;
  void add_told_shares();
  void add_superlatives();
  void add_bare_places();
  // told_stretches.cc
  [[nodiscard]] std::uint32_t stretch_of(const Claim& date) const;
  [[nodiscard]] std::uint32_t stretch_told(const Claim& claim, const Claim& date) const;
  [[nodiscard]] const Mention* machine_serving(const Claim& date) const;
  void mark_stretches();
  // turns.cc
  [[nodiscard]] bool is_turn_cut_off(const Mention& turn, const Mention& date) const;
  [[nodiscard]] bool is_unmade(const Mention& turn) const;
  [[nodiscard]] const Mention* turn_word_of(const Mention& date) const;
  [[nodiscard]] std::uint32_t tokens_of_date_behind(const Mention& turn) const;
  [[nodiscard]] const Mention* turned_to(const Mention& turn, MentionKind kind,
                                         std::uint32_t reach) const;
  [[nodiscard]] bool is_fallen(const Mention& turn, const Mention& date) const;
  [[nodiscard]] const Mention* unit_before(const Mention& turn) const;
  [[nodiscard]] bool is_named_or_pronoun(const std::string& person, const Mention& date) const;
  [[nodiscard]] bool is_bare_promotion(const Mention& turn, const Mention& date) const;
  bool add_renumbering(const Mention& mention, Claim& claim) const;
  [[nodiscard]] bool is_in_bracket_of_order(const Mention& date, std::string_view order) const;
  void add_turn(const Mention& mention, Claim& claim) const;
  // type_claims.cc
  [[nodiscard]] const Group* group_beside(const Mention& type) const;
  [[nodiscard]] const Group* group_before_apposition(const Mention& type) const;
  [[nodiscard]] const Group* group_of_the(const Mention& type) const;
  [[nodiscard]] const Group* group_being(const Mention& type) const;
  [[nodiscard]] const Group* group_included(const Mention& type) const;
  [[nodiscard]] const Group* list_behind(const Mention& type) const;
  [[nodiscard]] const Group* group_of_predicate(const Mention& type, std::string* why) const;
  [[nodiscard]] bool has_other_type(const Group& group, const Mention& type) const;
  [[nodiscard]] bool is_several(const Mention& type) const;
  [[nodiscard]] const Group* group_of_type_words(const Mention& type, std::string* why) const;
  [[nodiscard]] std::string type_of_mark(const Mention& mark, const Group* group) const;
  [[nodiscard]] std::string mark_as_written(const std::string& type, const std::string& mark) const;
  [[nodiscard]] bool is_of_former_number(const Mention& type) const;
  [[nodiscard]] NameList share_of(const Mention& type, const Group& list) const;
  void add_types();
  // unit_claims.cc
  [[nodiscard]] bool is_fronted(const Mention& unit) const;
  [[nodiscard]] bool is_one_to_come(const Mention& unit) const;
  [[nodiscard]] bool is_when_it_had(const Mention& unit) const;
  [[nodiscard]] bool is_of_unnamed_machine(const Mention& unit) const;
  [[nodiscard]] bool is_compared(const Mention& unit) const;
  [[nodiscard]] bool is_code_letters(std::uint32_t token) const;
  [[nodiscard]] std::optional<Tense> tense_of_code_before(const Mention& unit) const;
  [[nodiscard]] const Claim* code_right_before(const Mention& unit) const;
  [[nodiscard]] bool is_of_its_story(const Mention& unit) const;
  [[nodiscard]] bool tells_of_itself(const Mention& unit) const;
  [[nodiscard]] bool opens_as_subject(const Mention& unit) const;
  [[nodiscard]] const Mention& person_in_order(const Mention& unit, const Mention& last) const;
  [[nodiscard]] const Claim* career_before(const Mention& unit) const;
  [[nodiscard]] NameList machines_of(const Mention& unit, std::string* why) const;
  [[nodiscard]] bool opens_for_all(const Mention& unit) const;
  [[nodiscard]] bool is_of_party(std::uint32_t opens) const;
  void add_unit(const Mention& mention);
  void add_units();
  void settle_units();
  // unit_names.cc
  void settle_unit_names();
  void prefer_kind_named(Mention& mention) const;
  // unit_nouns.cc
  [[nodiscard]] std::string_view unit_noun_at(std::uint32_t token) const;
  [[nodiscard]] bool is_of_kind(const Mention& unit, std::string_view kind) const;
  [[nodiscard]] const Mention* unit_of_noun(std::string_view kind, std::uint32_t before) const;
  void add_unit_by_noun(const Mention& named, std::uint32_t article, const Mention& person,
                        std::string_view role);
  void add_commands_by_noun();
  void add_units_by_noun();
  void add_same_units();
  void hand_on_units();
  [[nodiscard]] const Mention* unit_stood_for(std::uint32_t token, std::string_view kind) const;
  void stand_for_units();
  [[nodiscard]] bool opens_with_unit_noun(std::uint32_t clause, const Mention*& unit) const;
  // unit_people.cc
  [[nodiscard]] bool is_unit_of(const Mention& person, const Mention& unit) const;
  [[nodiscard]] const Mention* doer_of(const Mention& cue) const;
  [[nodiscard]] const Mention* person_after(const Mention& unit) const;
  [[nodiscard]] const Mention* bearer_of_rank_before(const Mention& unit) const;
  [[nodiscard]] bool is_had_until(const Mention& unit) const;
  [[nodiscard]] bool has_date(std::uint32_t clause) const;
  [[nodiscard]] PersonsUnit person_of(const Mention& unit) const;
  // when_clauses.cc
  void settle_by_when_clauses();
  void settle_by_arrivals();
  class WhenSettler;
  void settle_when();
  class PaintDays;
  void add_paint_days();
  class ToldViews;
  void tell_of_views();
  void settle_code_turns();
  class RowsRetold;
  void add_rows_retold();
  class DaysRetold;
  void add_days_retold();
  class Successions;
  void add_successions();
  class PeoplesDays;
  void settle_days_of_people();
  class ToldApart;
  void settle_told_apart();
  class SpokenOf;
  void settle_spoken();
  [[nodiscard]] bool is_honouring(const Claim& claim) const;
  [[nodiscard]] const Mention* unit_gone_on_about(std::uint32_t token, const Mention& person) const;

  const MentionFinder& finder_;
  const Manuscript& manuscript_;
  std::uint32_t manuscript_index_, block_index_;
  Focus& focus_;
  DateContext& date_context_;
  std::vector<Claim>& out_;
  std::size_t first_claim_ = 0;
  std::vector<ResolvedDate> dates_;        // by Mentions::dates
  std::vector<Group> groups_, companies_;  // companies: groups that share a plural
  std::vector<SerialRange> ranges_;
  NameList serials_ahead_;             // of the caption below a title
  std::set<std::string> named_ahead_;  // all that the blocks below it name
  When picture_ahead_;                 // of the figure, where only those have a date
  bool is_look_ahead_ = false;
  // By mention: its group, the first claim made of it, or kNone; the machine a code alone names.
  std::vector<std::uint32_t> group_of_mention_, claim_of_mention_;
  NameList machine_of_code_;
  std::vector<std::uint32_t> person_of_token_;  // by token: mention of the person named there
  std::optional<bool> is_entry_;                // known when the groups are
  std::string card_;                            // the machine whose record card the block is
};

}  // namespace tailproof

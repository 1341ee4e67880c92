// | what two captions, or caption and text or table, say  | clashes when               | level |
// | a loss, delivery or striking off of one machine       | no day in common           | error |
// | a mishap, and the picture after it, to which the text | that is the earlier one    | error |
// |   points                                              |                            |       |
// | an accident of one machine                            | days a slip apart          | error |
// | a code, of the same kind and on the same surface      | on one day                 | error |
// | ... in a table or running text without dates, and in  | the unit's letters agree,  | warning |
// |   a dated caption; or dated by the same month or      |   or both are numbers      |         |
// |   season                                              |                            |         |
// | a day of anything that befell a machine, which no row | one a misprint of the      | warning |
// |   of the ledger has                                   |   other                    |         |
// | a holder                                              | on one day                 | error |
// | a place, neither in the air nor on the way            | on one day                 | warning |
// | a marking worn on a surface, and denied there         | on one day                 | warning |
// | type, constructor's number                            | they differ                | error |
// | machine, date, place of one photograph, or of one     | they have nothing in       | error |
// |   figure in the book and in a caption list, or in the |   common                   |       |
// |   running text ("Figure 2 was taken in June 1942")    |                            |       |
// | of any of these the ledger knows                      | left to other checks       | silent |
//
// Everything said of one thing is one topic. Equal statements stand together with the captions that
// make them, one vote each. Of statements that clash, the one most outvoted is reported; when
// nothing decides, the later in the text.
#include <algorithm>
#include <map>
#include <set>
#include <unordered_map>

#include "chronology/likeness.h"
#include "chronology/told_days.h"
#include "chronology/topics.h"
#include "tailproof/claim_index.h"
#include "tailproof/event_dates.h"
#include "tailproof/figure_key.h"
#include "tailproof/pictured_events.h"
#include "tailproof/placement.h"
#include "tailproof/surface.h"
#include "tailproof/verdict.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "captions-disagree";
constexpr std::size_t kMostRelated = 3;

class Desk {
 public:
  explicit Desk(const CheckInput& input)
      : input_(input), ledger_(input.ledger), index_(input), series_(input.manuscripts) {}

  std::vector<Query> run() {
    for (const Claim& claim : input_.claims) file(claim);
    file_pictures();
    std::vector<Query> queries;
    for (auto& [key, topic] : topics_) {
      if (topic.statements.size() > 1) judge(topic, queries);
    }
    for (const PicturedEvent& one : events_after_pictures(input_, index_))
      queries.push_back(query_of(one));
    add_days_told_twice(queries);
    return queries;
  }

 private:
  // One name for all serials of a machine.
  const std::string& machine_of(const std::string& serial) {
    const auto [at, is_new] = machines_.try_emplace(serial);
    if (is_new) {
      const auto serials = ledger_.serials_of(serial);
      at->second = serials.empty() ? serial : std::string(serials.front());
    }
    return at->second;
  }

  Statement& state(TopicKind kind, const std::string& key, const Claim& claim, std::string value,
                   const DaySet& days = DaySet::all()) {
    Topic& topic = topics_[{kind, key}];
    topic.kind = kind;
    if (topic.subject.empty()) topic.subject = claim.subject;
    auto at = std::find_if(
        topic.statements.begin(), topic.statements.end(),
        [&](const Statement& other) { return other.value == value && other.days == days; });
    if (at == topic.statements.end()) {
      at = topic.statements.insert(at, Statement{});
      at->value = std::move(value);
      at->days = days;
    }
    at->claims.push_back(&claim);
    at->voters.insert(caption_key(input_, claim));
    return *at;
  }

  void file(const Claim& claim) {
    if (claim.kind == ClaimKind::kMarking) return file_marking(claim);
    if (!is_affirmed(claim) || claim.subject.empty() || claim.inherited) return;
    if (claim.subject == index_.block_of(claim).figure) return;  // no machine is named
    if (claim.kind == ClaimKind::kEvent) return file_event(claim);
    if (claim.tense != Tense::kThen || claim.readings.size() > 1) return;
    if (claim.kind == ClaimKind::kType) return file_type(claim);
    if (claim.kind == ClaimKind::kAirframe && claim.role == "code") return file_code(claim);
    if (claim.kind == ClaimKind::kAirframe && claim.role == "constructor_number") {
      const auto machine = ledger_.machine_of(claim.subject);
      const bool is_told = std::any_of(machine.begin(), machine.end(), [](const Airframe* row) {
        return !row->constructor_number.empty();
      });
      if (!is_told)
        state(TopicKind::kConstructorNumber, machine_of(claim.subject), claim, claim.value);
      return;
    }
    const std::optional<Day> day = day_of(claim);
    if (!day) return;
    const std::string key = machine_of(claim.subject) + "|" + std::to_string(*day);
    if (claim.kind == ClaimKind::kUnit && claim.role == "holder" && !has_holder(claim)) {
      state(TopicKind::kHolderOfDay, key, claim, claim.value);
    }
    if (claim.kind == ClaimKind::kPlace && claim.role.empty() && claim.known &&
        !is_on_the_way(claim) && !is_placed(claim, *day)) {
      state(TopicKind::kPlaceOfDay, key, claim, claim.value);
    }
  }

  // The one day at which a claim of a machine in the picture, or in an event, stands.
  [[nodiscard]] std::optional<Day> day_of(const Claim& claim) const {
    if (!claim.when.known || claim.when.inherited || !holds_at_its_date(input_, claim)) {
      return std::nullopt;
    }
    return single_day(claim.when.widened);
  }

  void file_marking(const Claim& claim) {
    Claim worn = claim;
    worn.negated = false;
    const bool counts = is_affirmed(worn) && claim.tense == Tense::kThen && claim.shown &&
                        !claim.inherited && claim.known && claim.readings.size() < 2 &&
                        claim.state == MarkingState::kWorn && !claim.position.empty() &&
                        !ledger_.machine_of(claim.subject).empty();
    const std::optional<Day> day = counts ? day_of(worn) : std::nullopt;
    if (!day) return;
    const std::string key = machine_of(claim.subject) + "|" + std::to_string(*day) + "|" +
                            claim.value + "|" + claim.position;
    state(TopicKind::kMarkingOfDay, key, claim,
          (claim.negated ? "without " : "with ") + claim.value);
  }

  void file_event(const Claim& claim) {
    static constexpr std::string_view kKinds[] = {"lost", "taken_on_charge", "struck_off_charge",
                                                  "accident"};
    if (std::find(std::begin(kKinds), std::end(kKinds), claim.value) == std::end(kKinds)) return;
    if (!has_own_date(input_, claim)) return;
    // "Its second accident": there was more than one.
    if (claim.value == "accident" && (claim.said & kSaidOneOfSeveral) != 0) return;
    const auto rows = ledger_.history_of(claim.subject);
    // A striking off does not tell when the machine was lost.
    const bool is_told =
        (claim.value != "lost" && !dates_of_event(ledger_, claim).empty()) ||
        std::any_of(rows.begin(), rows.end(), [&](const History* row) {
          return row->kind == claim.value || row->kind == "lost" || row->kind == "accident";
        });
    if (is_told) return;
    state(TopicKind::kEvent, claim.value + "|" + machine_of(claim.subject), claim,
          when_in_words(claim.when), claim.when.widened);
  }

  void file_type(const Claim& claim) {
    if (!claim.known || !ledger_.machine_of(claim.subject).empty()) return;
    for (const AircraftType& type : ledger_.types()) {
      if (claim.value == type.type || claim.value.starts_with(type.type + " ")) {
        state(TopicKind::kType, machine_of(claim.subject), claim, type.type);
        return;
      }
    }
  }

  void file_code(const Claim& claim) {
    const auto identities = ledger_.identities_of(claim.subject);
    const bool is_told = std::any_of(identities.begin(), identities.end(),
                                     [](const Identity* row) { return row->kind == "code"; });
    if (is_told || !claim.shown) return;
    const std::string& machine = machine_of(claim.subject);
    const std::string shape = shape_of(claim.value);
    const Surfaces surfaces = surfaces_of(claim.position);
    // A table, and running text without a date, tell what the machine was called by at all times.
    const BlockKind kind = index_.block_of(claim).kind;
    const bool is_of_table =
        (kind == BlockKind::kTableRow || kind == BlockKind::kBody) && !claim.when.known;
    const std::string_view unit = unit_part(claim.value);
    const bool is_number = shape == "9";
    if ((!unit.empty() || is_number) && (is_of_table || day_or_range(claim))) {
      Statement& statement =
          state(TopicKind::kCodeOfTable, machine + "|" + shape + "|" + std::string(unit), claim,
                claim.value);
      statement.is_of_table = statement.is_of_table || is_of_table;
      statement.surfaces |= surfaces;
    }
    // "Spring 1941" below one picture and below another: of the same weeks.
    constexpr Day kSeason = 93;
    const DaySet& days = claim.when.days;
    const bool is_of_weeks = claim.when.known && !claim.when.inherited && !days.empty() &&
                             days.last() > days.first() && days.last() - days.first() < kSeason;
    if ((!unit.empty() || is_number) && is_of_weeks) {
      Statement& statement =
          state(TopicKind::kCodeOfWeeks,
                machine + "|" + shape + "|" + std::string(unit) + "|" +
                    std::to_string(days.first()) + "|" + std::to_string(days.last()),
                claim, claim.value);
      statement.surfaces |= surfaces;
    }
    for (const Day day : days_of_code(claim)) {
      state(TopicKind::kCodeOfDay, machine + "|" + shape + "|" + std::to_string(day), claim,
            claim.value)
          .surfaces |= surfaces;
    }
  }

  [[nodiscard]] static bool day_or_range(const Claim& claim) {
    return claim.when.known && !claim.when.inherited;
  }

  // The day of the picture. Where it has none, but shows an event of the machine and points to the
  // other picture of it, the day of that event.
  [[nodiscard]] std::vector<Day> days_of_code(const Claim& claim) const {
    if (const auto day = day_of(claim)) return {*day};
    if (claim.when.known) return {};
    bool points = false;
    std::vector<Day> days;
    for (const std::uint32_t i : index_.around(claim)) {
      const Claim& other = index_.claim(i);
      points = points || (other.kind == ClaimKind::kReference && other.role.empty());
      if (other.kind != ClaimKind::kEvent || other.subject != claim.subject) continue;
      if (!has_own_date(input_, other)) continue;
      if (const auto day = single_day(other.when.widened)) days.push_back(*day);
    }
    return points && days.size() == 1 ? days : std::vector<Day>{};
  }

  [[nodiscard]] bool has_holder(const Claim& claim) const {
    const auto rows = ledger_.history_of(claim.subject);
    return std::any_of(rows.begin(), rows.end(), [&](const History* row) {
      return !row->unit.empty() && row->spell.possible().intersects(claim.when.widened);
    });
  }

  [[nodiscard]] bool is_placed(const Claim& claim, Day day) const {
    const auto places = places_of(input_, claim.subject);  // nobody else need keep them
    return std::any_of(places->all.begin(), places->all.end(), [&](const Placement& placement) {
      return placement.possible.days.contains(day);
    });
  }

  // Whoever is delivered or flown away that day is at two places.
  [[nodiscard]] bool is_on_the_way(const Claim& claim) const {
    if ((claim.said & kSaidOnTheWay) != 0) return true;
    const auto around = index_.around(claim);
    return std::any_of(around.begin(), around.end(), [&](std::uint32_t i) {
      const Claim& other = index_.claim(i);
      return other.kind == ClaimKind::kEvent && other.subject == claim.subject &&
             (other.value == "ferried" || other.value == "allotted" ||
              other.value == "taken_on_charge");
    });
  }

  /// What one caption says of its picture.
  struct Picture {
    std::set<std::string> numbers;
    std::vector<const Claim*> machines, dates, places;
    const Block* block = nullptr;
    std::uint32_t manuscript = 0;
  };

  void file_pictures() {
    std::map<std::uint64_t, Picture> pictures;
    for (const Claim& claim : input_.claims) {
      const Block& block = index_.block_of(claim);
      if (block.kind != BlockKind::kCaption || !is_affirmed(claim)) continue;
      Picture& picture = pictures[caption_key(input_, claim)];
      picture.block = &block;
      picture.manuscript = claim.manuscript;
      if (claim.kind == ClaimKind::kReference && claim.role == "photograph") {
        picture.numbers.insert(claim.value);
      }
      if (claim.inherited) continue;
      if (claim.kind == ClaimKind::kAirframe && claim.role.empty() && claim.shown) {
        picture.machines.push_back(&claim);
      }
      if (claim.kind == ClaimKind::kDate && claim.of == "photograph" && !claim.impossible &&
          !claim.date.is_unknown()) {
        picture.dates.push_back(&claim);
      }
      if (claim.kind == ClaimKind::kPlace && claim.known && claim.tense == Tense::kThen &&
          claim.shown && claim.readings.size() < 2) {
        picture.places.push_back(&claim);
      }
    }
    for (const auto& [key, picture] : pictures) {
      // Several numbers are several pictures, or one is another's.
      if (picture.numbers.size() == 1) file_picture("", *picture.numbers.begin(), picture);
    }
    file_lists(pictures);
    file_running_text(pictures);
  }

  [[nodiscard]] bool is_of_reference(const Claim& claim) const {
    const auto around = index_.around(claim);
    return std::any_of(around.begin(), around.end(), [&](std::uint32_t i) {
      const Claim& other = index_.claim(i);
      return other.kind == ClaimKind::kReference && other.value == claim.subject;
    });
  }

  // "Figure 2 was taken at Oskerry in November 1942", in running text of the same manuscript, or of
  // another where only one has such a figure.
  void file_running_text(const std::map<std::uint64_t, Picture>& pictures) {
    std::map<std::pair<std::uint32_t, FigureKey>, Picture> told;
    for (const Claim& claim : input_.claims) {
      const bool is_date = claim.kind == ClaimKind::kDate && claim.of == "photograph";
      if (!is_date && claim.kind != ClaimKind::kPlace) continue;
      const Block& block = index_.block_of(claim);
      if (block.kind == BlockKind::kCaption || claim.inherited || !is_affirmed(claim)) continue;
      const bool is_known = is_date ? !claim.impossible && !claim.date.is_unknown()
                                    : claim.known && claim.tense == Tense::kThen;
      const std::vector<FigureKey> keys = figure_keys(claim.subject);
      if (!is_known || keys.size() != 1 || !is_of_reference(claim)) continue;
      Picture& picture = told[{claim.manuscript, keys.front()}];
      picture.block = &block;
      (is_date ? picture.dates : picture.places).push_back(&claim);
    }
    if (told.empty()) return;
    std::map<FigureKey, std::vector<const Picture*>> figures;
    for (const auto& [key, picture] : pictures) {
      const std::vector<FigureKey> keys = series_.keys_of_caption(picture.block->figure);
      if (keys.size() != 1 || picture.block->figure.empty()) continue;
      figures[keys.front()].push_back(&picture);
    }
    for (const auto& [place, text] : told) {
      const auto at = figures.find(place.second);
      if (at == figures.end()) continue;
      for (const Picture* picture : at->second) {
        if (picture->manuscript != place.first && at->second.size() > 1) continue;
        file_picture("figure ", picture->block->figure, *picture);
        file_picture("figure ", picture->block->figure, text);
      }
    }
  }

  // A caption list repeats the figures of a book: the same number is the same picture.
  void file_lists(const std::map<std::uint64_t, Picture>& pictures) {
    std::vector<bool> is_list;
    for (const Manuscript& manuscript : input_.manuscripts) {
      is_list.push_back(is_caption_list(manuscript));
    }
    if (std::find(is_list.begin(), is_list.end(), true) == is_list.end()) return;
    std::map<FigureKey, std::pair<const Picture*, const Picture*>> figures;  // in a book, in a list
    for (const auto& [key, picture] : pictures) {
      const std::vector<FigureKey> keys = series_.keys_of_caption(picture.block->figure);
      if (keys.size() != 1 || picture.block->figure.empty()) continue;
      auto& [book, list] = figures[keys.front()];
      (is_list[picture.manuscript] ? list : book) = &picture;
    }
    // Numbers that nothing prints are those of the list where most of its captions show the same.
    std::map<std::uint32_t, int> alike;  // by manuscript: captions alike, less those that are not
    for (const auto& [key, pair] : figures) {
      if (pair.first == nullptr || pair.second == nullptr || !pair.first->block->is_counted ||
          pair.first->machines.empty() || pair.second->machines.empty())
        continue;
      alike[pair.first->manuscript] += show_one_machine(*pair.first, *pair.second) ? 1 : -1;
    }
    for (const auto& [key, pair] : figures) {
      if (pair.first == nullptr || pair.second == nullptr) continue;
      if (pair.first->block->is_counted && alike[pair.first->manuscript] <= 0) continue;
      const std::string name = pair.first->block->figure;
      file_picture("figure ", name, *pair.first);
      file_picture("figure ", name, *pair.second);
    }
  }

  bool show_one_machine(const Picture& one, const Picture& other) {
    return std::any_of(one.machines.begin(), one.machines.end(), [&](const Claim* machine) {
      return std::any_of(other.machines.begin(), other.machines.end(), [&](const Claim* same) {
        return machine_of(machine->value) == machine_of(same->value);
      });
    });
  }

  void file_picture(const std::string& series, const std::string& number, const Picture& picture) {
    const Photograph* row = series.empty() ? ledger_.photograph(number) : nullptr;
    const std::string key = series + number;
    const auto name = [&](TopicKind kind) { topics_[{kind, key}].subject = number; };
    if (!picture.dates.empty() && (row == nullptr || row->taken.is_unknown())) {
      DaySet days;
      for (const Claim* date : picture.dates) {
        days = days.unite(date->date.widened(ledger_.settings().margins));
      }
      state(TopicKind::kPictureDate, key, *picture.dates.front(),
            in_words(picture.dates.front()->date), days);
      name(TopicKind::kPictureDate);
    }
    if (!picture.machines.empty() && (row == nullptr || row->depicts.empty())) {
      std::set<std::string> all;
      for (const Claim* machine : picture.machines) all.insert(machine_of(machine->value));
      state(TopicKind::kPictureMachine, key, *picture.machines.front(), joined(all));
      name(TopicKind::kPictureMachine);
    }
    if (!picture.places.empty() && (row == nullptr || row->place.empty())) {
      std::set<std::string> all;
      for (const Claim* place : picture.places) all.insert(place->value);
      state(TopicKind::kPicturePlace, key, *picture.places.front(), joined(all));
      name(TopicKind::kPicturePlace);
    }
  }

  void judge(const Topic& topic, std::vector<Query>& queries) const {
    for (const Outvoted& one : outvoted(ledger_, topic))
      queries.push_back(query_of(topic, one.statement, one.against));
  }

  [[nodiscard]] std::string place_of(const Claim& claim, const Claim& from) const {
    const Block& block = index_.block_of(claim);
    if (claim.manuscript != from.manuscript && index_.block_of(from).figure == block.figure &&
        !block.figure.empty()) {
      return is_caption_list(input_.manuscripts[claim.manuscript]) ? "the caption list"
                                                                   : "the book";
    }
    if (block.kind == BlockKind::kTableRow) return "the table";
    if (block.figure.empty()) return block.kind == BlockKind::kCaption ? "a caption" : "the text";
    const bool is_bare = block.figure.front() >= '0' && block.figure.front() <= '9';
    return (is_bare ? "figure " : "") + block.figure;
  }

  [[nodiscard]] static Level tempered_by(const Claim& claim, Level level) {
    const bool is_doubted = claim.hedged || (claim.when.known && claim.when.hedged);
    return is_doubted ? lowered(level) : level;
  }

  [[nodiscard]] Query query_of(const Topic& topic, std::size_t wrong,
                               const std::vector<std::size_t>& others) const {
    const Statement& own = topic.statements[wrong];
    const Statement& other = topic.statements[others.front()];
    const Claim& claim = *own.claims.back();
    Level level = tempered_by(claim, level_of_kind(topic.kind));
    level = std::min(level, tempered_by(*other.claims.front(), level_of_kind(topic.kind)));
    std::string message = topic.subject + " " + verb_of(topic) + " " + own.value;
    const bool is_of_day =
        topic.kind == TopicKind::kCodeOfDay || topic.kind == TopicKind::kHolderOfDay ||
        topic.kind == TopicKind::kPlaceOfDay || topic.kind == TopicKind::kMarkingOfDay;
    const std::string when = is_of_day ? when_in_words(claim.when) : "";
    if (!when.empty()) message += " " + when;
    message += " here, but " + other.value + " in " + place_of(*other.claims.front(), claim);
    std::size_t against = 0;
    for (const std::size_t i : others) against += topic.statements[i].voters.size();
    if (against > own.voters.size()) {
      message += "; " + std::to_string(against) + " places against " +
                 std::to_string(own.voters.size()) + ", so that this is most likely wrong";
    }
    Query query = query_at(kId, input_, claim, level, std::move(message));
    query.subject = topic.subject;
    for (const std::size_t i : others) {
      for (const Claim* there : topic.statements[i].claims) {
        if (query.related.size() >= kMostRelated) break;
        query.related.push_back({there->span, "there " + topic.statements[i].value});
        query.claims.push_back(index_.index_of(*there));
      }
    }
    query.suggestion = other.value;
    return query;
  }

  [[nodiscard]] Query query_of(const PicturedEvent& one) const {
    const std::string taken = in_words(one.picture->date);
    Query query =
        query_at(kId, input_, *one.event, tempered_by(*one.event, Level::kError),
                 one.event->subject + " was " + event_in_words(*one.event) + " " +
                     when_in_words(one.event->when) + " here, but " +
                     place_of(*one.picture, *one.event) + " shows that already, dated " + taken);
    query.related.push_back({one.picture->span, "there dated " + taken});
    query.claims.push_back(index_.index_of(*one.picture));
    query.suggestion = "a date until " + taken;
    return query;
  }

  // One query a place, and none where the events themselves clash already.
  void add_days_told_twice(std::vector<Query>& queries) const {
    const auto is_there = [&](const Query& query, const Claim& date) {
      const auto is_beside = [&](const Span& span) {
        const Block& block = index_.block_of(date);
        return span.file == block.span.file && span.begin >= block.span.begin &&
               span.end <= block.span.end;
      };
      return is_beside(query.span) ||
             std::any_of(query.related.begin(), query.related.end(),
                         [&](const auto& related) { return is_beside(related.span); });
    };
    const std::size_t of_events = queries.size();
    for (const ToldTwice& one : days_told_twice(input_, index_)) {
      const bool is_said = std::any_of(queries.begin(), queries.end(), [&](const Query& query) {
        const bool is_of_event =
            &query < queries.data() + of_events && query.subject == one.machine;
        return (is_of_event && is_there(query, *one.first) && is_there(query, *one.second)) ||
               query.span == one.second->span;
      });
      if (!is_said) queries.push_back(query_of(one));
    }
  }

  [[nodiscard]] Query query_of(const ToldTwice& one) const {
    Query query = query_at(kId, input_, *one.second, Level::kWarning,
                           "what befell " + std::string(one.machine) + " is dated " +
                               in_words(one.other_day) + " here, but " + in_words(one.day) +
                               " in " + place_of(*one.first, *one.second) +
                               ", and the ledger has neither day: one may be a misprint");
    query.subject = std::string(one.machine);
    query.related.push_back({one.first->span, "there " + in_words(one.day)});
    query.claims.push_back(index_.index_of(*one.first));
    query.suggestion = in_words(one.day);
    return query;
  }

  const CheckInput& input_;
  const Ledger& ledger_;
  ClaimIndex index_;
  FigureSeries series_;
  std::unordered_map<std::string, std::string> machines_;
  std::map<std::pair<TopicKind, std::string>, Topic> topics_;
};

}  // namespace

std::vector<Query> check_captions_disagree(const CheckInput& input) { return Desk(input).run(); }

}  // namespace tailproof

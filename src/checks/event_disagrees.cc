// | situation                                                                  | level   |
// | a loss, capture, accident, taking on or striking off on a day when no row  | error   |
// |   of that kind allows it, though rows of that kind exist                   |         |
// | a loss said to be a capture, or the like, on the very day of the other     | error   |
// | a repaint, repair, modification or change of unit on a day of no such row  | warning |
// | a marking put on on a day that no row of its painting has                  | warning |
// | come to a unit or gone from it more than a month from any such day of it   | warning |
// | come from a unit that it had left half a year before for another of its    | warning |
// |   sort, which it left just then                                            |         |
// | lost or in an accident over a month after it was struck off, or before it  | warning |
// |   was taken on, no row of that kind being there                            |         |
// | scrapped on the day of the loss, or lost when struck off for scrap, by the | warning |
// |   ledger's word for its fate                                               |         |
// | lost in another manner than the ledger's row of that day tells             | warning |
// | lost, no loss being recorded, and certainly with a unit a month later      | warning |
// | stored more than a month from any day in store, and in use at that time    | warning |
// | whatever befell it on a day that no row has, a digit off that of a mishap  | warning |
// | a picture of what befell it, a digit before the day of its loss            | warning |
// | an accident on the day of the loss, and the other way round                | silent  |
// | striking off any day from the loss to the recorded paper date              | silent  |
// | delivery within a month of taking on charge                                | silent  |
// | out of the paint shop within a week of the repaint                         | silent  |
// | an accident before the loss, no accident being recorded                    | silent  |
// | the date is the picture's, and the sentence tells of another time          | silent  |
// | an accident beside a loss on its recorded day in the same text             | silent  |
// | in ground instruction after it was struck off                              | silent  |
// | no row of that kind, or no date in the text                                | silent  |
// | stored or mended by a yard, or at a place, where the row of that time has  | warning |
// |   another                                                                  |         |
// | an order said to introduce or withdraw a marking that only others did      | warning |
// | an order said to have been issued, to take effect, to introduce or         | error  |
// |   withdraw on a day of no such row                                         |        |
#include <algorithm>
#include <iterator>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "chronology/event_records.h"
#include "chronology/told_days.h"
#include "tailproof/allowed_days.h"
#include "tailproof/placement.h"
#include "tailproof/told_ends.h"
#include "tailproof/turns.h"
#include "tailproof/verdict.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "event-disagrees";
constexpr std::size_t kTold = 3;    // rows in a message
constexpr Day kStillThereDays = 7;  // a picture of an accident may be so much later
// A machine given up for lost may be found and mended; one that a unit takes over later was not
// lost.
constexpr Day kLivedOnDays = 31;

// Days between the two; 0 where they meet.
Day days_apart(const DaySet& one, const DaySet& other) {
  if (one.empty() || other.empty()) return kLastDay;
  if (one.first() > other.last()) return one.first() - other.last();
  return other.first() > one.last() ? other.first() - one.last() : 0;
}

// Of many rows those nearest to the day claimed, in the order of the ledger; the words say so.
std::string tell(EventRecord& record, const Claim& claim) {
  const bool is_long = record.rows.size() > kTold;
  const auto apart = [&](const ToldRow& told) { return days_apart(told.days, claim.when.days); };
  while (record.rows.size() > kTold) {
    const auto farthest = std::max_element(
        record.rows.begin(), record.rows.end(),
        [&](const ToldRow& one, const ToldRow& other) { return apart(one) < apart(other); });
    record.rows.erase(farthest);
  }
  std::string words;
  for (const ToldRow& told : record.rows) words += (words.empty() ? "" : " and ") + told.words;
  return is_long ? words + ", among other rows" : words;
}

Level highest_of(std::string_view kind) {
  const bool is_unmistakable =
      is_end_kind(kind) || is_kind_in(kind, {"accident", "taken_on_charge", "struck_off_charge"});
  return is_unmistakable ? Level::kError : Level::kWarning;
}

// The date may be right and the kind of end wrong: captured, not lost.
std::optional<Query> other_end(const CheckInput& input, const Claim& claim) {
  if (!is_end_kind(claim.value)) return std::nullopt;
  const bool is_loss = claim.value == "lost";
  for (const History* row : input.ledger.history_of(claim.subject)) {
    const bool is_other = is_end_kind(row->kind) && (row->kind == "lost") != is_loss;
    if (!is_other || !row->spell.possible().intersects(claim.when.days)) continue;
    Query query = query_at(kId, input, claim, tempered(claim, Level::kError),
                           claim.subject + " is said to have been " + in_plain(claim.value) + " " +
                               when_in_words(claim.when) + ", but was " + row->kind + " " +
                               in_words(row->spell));
    query.evidence.push_back(quote_history(*row));
    query.suggestion = row->kind;
    return query;
  }
  return std::nullopt;
}

// No row tells of the loss or accident, and on the day given for it the machine had long been
// struck off, or was not yet there.
std::optional<Query> outside_life(const CheckInput& input, const Claim& claim) {
  if (!is_kind_in(claim.value, {"lost", "accident"})) return std::nullopt;
  const std::optional<Allowed> life = days_of_life(input.ledger, claim.subject);
  if (!life || life->widened.empty()) return std::nullopt;
  // What became of it in other hands, or on the ground, is no matter of these cards.
  for (const History* row : input.ledger.history_of(claim.subject)) {
    if (is_kind_in(row->kind, {"captured", "interned", "instructional"})) return std::nullopt;
  }
  const DayRange then = {claim.when.widened.first(), claim.when.widened.last()};
  const bool is_late = life->widened.last() < kLastDay &&
                       then.first > life->widened.last() + kLivedOnDays &&
                       (claim.said & kSaidRemains) == 0;
  const bool is_early = life->widened.first() > kFirstDay &&
                        then.last < life->widened.first() - kLivedOnDays &&
                        (claim.said & kSaidMakers) == 0;
  if (!is_late && !is_early) return std::nullopt;
  const bool is_loss = claim.value == "lost";
  Grounds grounds;
  static_cast<void>(days_of_life(input.ledger, claim.subject, &grounds));
  Query query = query_at(kId, input, claim, tempered(claim, Level::kWarning),
                         claim.subject + " is said to have been " + in_plain(claim.value) + " " +
                             when_in_words(claim.when) + ", but the ledger has no " +
                             (is_loss ? "loss" : "accident") + " and has it " +
                             (is_late ? "struck off by " + in_words(life->days.last())
                                      : "taken on charge only on " + in_words(life->days.first())));
  for (const Ground& ground : grounds.rows()) query.evidence.push_back(ground.evidence);
  return query;
}

Evidence quote_end(const Airframe& row) {
  return quote(row.row, row.serial + " struck off charge " + in_words(row.struck_off_charge) +
                            ", " + row.fate);
}

// "X12 was shot down". "He was shot down in X12", "it had burnt out", "... for X12, the first of
// them burnt" may be told of another.
bool is_told_of_named(const ClaimIndex& index, const Claim& event) {
  return machine_beside(index, event).is_unparted();
}

// No row tells of a loss, but the machine was held by a unit long after the day given for it: by a
// row that begins later, else by one that goes on.
std::optional<Query> lived_on(const CheckInput& input, const ClaimIndex& index,
                              const Claim& claim) {
  if (claim.value != "lost") return std::nullopt;
  const Day last_day = claim.when.widened.last();
  const Margins& margins = input.ledger.settings().margins;
  const History* going_on = nullptr;
  const History* later = nullptr;
  for (const History* row : input.ledger.history_of(claim.subject)) {
    const bool is_holding = is_kind_in(row->kind, {"allotted", "stored", "loaned"});
    if (!is_holding || row->spell.from.is_unknown()) continue;
    const DaySet held = certain_days(row->spell, margins).narrowed;
    if (row->spell.from.widened(margins).first() > last_day + kLivedOnDays) {
      if (later == nullptr) later = row;
    } else if (!held.empty() && held.last() > last_day + kLivedOnDays) {
      going_on = row;
    }
  }
  const History* row = later != nullptr ? later : going_on;
  if (row == nullptr || (later == nullptr && !is_told_of_named(index, claim))) return std::nullopt;
  Query query = query_at(kId, input, claim,
                         tempered(claim, later != nullptr ? Level::kError : Level::kWarning),
                         claim.subject + " is said to have been lost " + when_in_words(claim.when) +
                             ", but the ledger has no loss and still has it in use later");
  query.evidence.push_back(quote_history(*row));
  return query;
}

// "Scrapped" on the very day of the loss, or "lost" on the day when it was struck off for scrap.
std::optional<Query> other_fate(const CheckInput& input, const Claim& claim) {
  if ((claim.said & kSaidOtherEnd) == 0) return std::nullopt;
  Grounds grounds;
  const std::optional<Allowed> life = days_of_life(input.ledger, claim.subject, &grounds);
  if (!life || life->days.empty() || life->days.last() >= kLastDay) return std::nullopt;
  const Day last_day = life->days.last();
  const bool is_loss = claim.value == "lost";
  for (const History* row : input.ledger.history_of(claim.subject)) {
    const bool is_ending = is_end_kind(row->kind) || row->kind == "accident";
    if (is_loss && is_ending) return std::nullopt;
    // What had come down first may well have been scrapped.
    if (!is_loss && row->kind == "accident") return std::nullopt;
  }
  constexpr Day kAroundDays = 7;
  const bool is_then = claim.when.days.first() >= last_day - kAroundDays &&
                       claim.when.days.last() <= last_day + kAroundDays;
  const bool is_that_month = claim.when.days.intersects(DaySet::single(last_day));
  if (!is_then && !is_that_month) return std::nullopt;
  const std::vector<const Airframe*> machine = input.ledger.machine_of(claim.subject);
  const auto last = std::find_if(machine.begin(), machine.end(), [&](const Airframe* row) {
    return !row->struck_off_charge.is_unknown() && row->struck_off_charge.days().contains(last_day);
  });
  if (last == machine.end()) return std::nullopt;
  Query query = query_at(kId, input, claim, tempered(claim, Level::kWarning),
                         claim.subject + " is said to have been " +
                             (is_loss ? "lost " : "scrapped ") + when_in_words(claim.when) +
                             ", but the ledger has as its fate: " + (*last)->fate);
  query.evidence.push_back(quote_end(**last));
  query.suggestion = (*last)->fate;
  return query;
}

// "Ditched", of what the ledger has gone over the side that day.
std::optional<Query> other_manner(const CheckInput& input, const ClaimIndex& index,
                                  const Claim& claim) {
  if ((claim.said & kSaidOtherEnd) == 0 || claim.value == "struck_off_charge" ||
      !is_told_of_named(index, claim))
    return std::nullopt;
  constexpr Day kSlipDays = 3;
  const History* told = nullptr;
  for (const History* row : input.ledger.history_of(claim.subject)) {
    if (!is_end_kind(row->kind) && row->kind != "accident") continue;
    const bool is_then =
        !claim.when.known || row->spell.possible().widened(kSlipDays).intersects(claim.when.days);
    if (is_then && (told == nullptr || row->kind == "lost")) told = row;
  }
  if (told == nullptr) return std::nullopt;
  std::string words = told->detail;
  const Airframe* airframe = input.ledger.airframe(claim.subject);
  if (words.empty() && airframe != nullptr) words = airframe->fate;
  Query query =
      query_at(kId, input, claim, tempered(claim, Level::kWarning),
               claim.subject + " is said to have met another end than the ledger tells, " +
                   in_words(told->spell) + ": " + words);
  query.evidence.push_back(quote_history(*told));
  if (airframe != nullptr && told->detail.empty()) {
    query.evidence.push_back(quote_end(*airframe));
  }
  query.suggestion = words;
  return query;
}

// "Was shot down", without a date, of what was scrapped.
std::optional<Query> undated_end(const CheckInput& input, const ClaimIndex& index,
                                 const Claim& claim) {
  if ((claim.said & kSaidOtherEnd) == 0 || !is_told_of_named(index, claim)) return std::nullopt;
  if (std::optional<Query> query = other_manner(input, index, claim)) return query;
  for (const History* row : input.ledger.history_of(claim.subject)) {
    if (is_end_kind(row->kind) || row->kind == "accident") return std::nullopt;
  }
  const std::vector<const Airframe*> machine = input.ledger.machine_of(claim.subject);
  if (machine.empty() || machine.back()->fate.empty()) return std::nullopt;
  const Airframe& last = *machine.back();
  Query query = query_at(kId, input, claim, tempered(claim, Level::kWarning),
                         claim.subject + " is said to have been " +
                             (claim.value == "lost" ? "lost" : "scrapped") +
                             ", but the ledger has as its fate: " + last.fate);
  query.evidence.push_back(quote_end(last));
  query.suggestion = last.fate;
  return query;
}

// "Stored in December", where the ledger has it stored at another time, and then in use.
std::optional<Query> not_in_store(const CheckInput& input, const Claim& claim) {
  if (claim.value != "stored") return std::nullopt;
  const Margins& margins = input.ledger.settings().margins;
  const History* store = nullptr;
  const History* use = nullptr;
  for (const History* row : input.ledger.history_of(claim.subject)) {
    if (row->kind == "stored") {
      const DaySet days = row->spell.possible().widened(kDeliveryDays);
      if (days.empty() || days.intersects(claim.when.widened)) return std::nullopt;
      store = row;
    }
    const Unit* unit = input.ledger.unit(row->unit);
    const bool is_using = row->kind == "allotted" && unit != nullptr &&
                          !is_kind_in(unit->kind, {"servicing", "depot"});
    if (is_using && certain_days(row->spell, margins).narrowed.covers(claim.when.widened))
      use = row;
  }
  if (store == nullptr || use == nullptr) return std::nullopt;
  Query query = query_at(kId, input, claim, tempered(claim, Level::kWarning),
                         claim.subject + " is said to have been stored " +
                             when_in_words(claim.when) + ", but the ledger has it stored " +
                             in_words(store->spell) + " and then with " + use->unit);
  query.evidence.push_back(quote_history(*store));
  query.evidence.push_back(quote_history(*use));
  query.suggestion = in_words(store->spell);
  return query;
}

// "Stored at Halvery in February", "overhauled by 4 Yard": the row of that time has another place,
// or another yard, and the ledger never has the machine with that one.
std::optional<Query> other_keeper(const CheckInput& input, const ClaimIndex& index,
                                  const Claim& claim) {
  constexpr std::uint32_t kReach = 24;  // "was put into store with the "
  constexpr Day kLongest = 62;
  const Ledger& ledger = input.ledger;
  if (!is_kind_in(claim.value, {"stored", "repair", "modified"})) return std::nullopt;
  const History* met = nullptr;
  for (const History* row : ledger.history_of(claim.subject)) {
    if (row->kind != claim.value || !row->spell.possible().intersects(claim.when.days)) continue;
    if (met != nullptr) return std::nullopt;
    met = row;
  }
  if (met == nullptr) return std::nullopt;
  const bool is_short = claim.when.days.last() - claim.when.days.first() <= kLongest;
  for (const std::uint32_t i : index.around(claim)) {
    const Claim& other = index.claim(i);
    const bool is_unit = other.kind == ClaimKind::kUnit;
    if ((!is_unit && other.kind != ClaimKind::kPlace) || other.block != claim.block ||
        other.subject != claim.subject || !is_affirmed(other) || other.begin < claim.end ||
        other.begin > claim.end + kReach || other.role == "former" || other.role == "later")
      continue;
    // "Went to be rebuilt, and nobody at Halvery saw it again".
    const std::string_view between =
        index.block_text(claim).substr(claim.end, other.begin - claim.end);
    if (between.find(", and ") != std::string_view::npos ||
        between.find(';') != std::string_view::npos)
      continue;
    if (is_unit) {
      const Unit* yard = ledger.unit(other.value);
      if (yard == nullptr || !is_servicing_kind(yard->kind) || met->unit.empty()) continue;
      if (was_ever_with(ledger, other)) continue;
    } else {
      if (!is_short || other.role == "approximate" || other.position == "approximate" ||
          met->place.empty() || ledger.place(other.value) == nullptr ||
          places_agree(ledger, other.value, met->place))
        continue;
    }
    Query query = query_at(
        kId, input, claim, tempered(claim, Level::kWarning),
        claim.subject + " is said to have been " + in_plain(claim.value) +
            (is_unit ? " by " : " at ") + other.value + " " + when_in_words(claim.when) +
            ", but the ledger has it " + in_plain(claim.value) +
            (is_unit ? " by " + met->unit : " at " + met->place) + " " + in_words(met->spell));
    query.evidence.push_back(quote_history(*met));
    query.suggestion = is_unit ? met->unit : met->place;
    return query;
  }
  return std::nullopt;
}

// "Went into store in June", "for instruction from June", where the ledger has it so at other
// times: told of the beginning, and not of a day within.
std::optional<Query> not_begun_then(const CheckInput& input, const Claim& claim) {
  constexpr Day kSlackDays = 31, kLongest = 62;
  const bool is_since = claim.when.days.last() >= kLastDay;
  if (!is_kind_in(claim.value, {"stored", "instructional"}) ||
      ((claim.said & kSaidBegins) == 0 && !is_since))
    return std::nullopt;
  const Day first = claim.when.days.first();
  const Day last = is_since ? first : claim.when.days.last();
  if (last - first > kLongest || first <= kFirstDay) return std::nullopt;
  // "In the first days of April", of a year that nobody has said.
  constexpr std::uint32_t kYearOpen = kSaidYearOpen | kSaidYearUnsaid;
  if (claim.when.date < input.claims.size() &&
      (input.claims[claim.when.date].said & kYearOpen) != 0)
    return std::nullopt;
  const DaySet told = DaySet{{first, last}}.widened(kSlackDays);
  const History* met = nullptr;
  for (const History* row : input.ledger.history_of(claim.subject)) {
    if (row->kind != claim.value) continue;
    if (row->spell.from.is_unknown() || row->spell.from.days().intersects(told))
      return std::nullopt;
    // A state may begin again, with the next of its keepers or after some use.
    if (met != nullptr) return std::nullopt;
    met = row;
  }
  if (met == nullptr) return std::nullopt;
  Query query = query_at(kId, input, claim, tempered(claim, Level::kWarning),
                         claim.subject + " is said to have been " + in_plain(claim.value) + " " +
                             when_in_words(claim.when) + ", but the ledger has it " +
                             in_plain(claim.value) + " " + in_words(met->spell));
  query.evidence.push_back(quote_history(*met));
  query.suggestion = in_words(met->spell.from);
  return query;
}

// "Was flown out to Halvery on 3 May", where the ledger has it brought there on another day.
std::optional<Query> other_ferrying(const CheckInput& input, const ClaimIndex& index,
                                    const Claim& claim) {
  constexpr Day kSlackDays = 7, kLongest = 62;
  if (claim.value != "ferried" || claim.when.days.last() - claim.when.days.first() > kLongest)
    return std::nullopt;
  const History* met = nullptr;
  for (const History* row : input.ledger.history_of(claim.subject)) {
    if (row->kind != "ferried") continue;
    if (met != nullptr || row->spell.from.is_unknown() || row->place.empty()) return std::nullopt;
    met = row;
  }
  if (met == nullptr || met->spell.possible().widened(kSlackDays).intersects(claim.when.widened))
    return std::nullopt;
  const auto sentence = index.in_sentence(claim);
  const bool is_there = std::any_of(sentence.begin(), sentence.end(), [&](const Claim& place) {
    return place.kind == ClaimKind::kPlace && is_affirmed(place) &&
           places_agree(input.ledger, place.value, met->place);
  });
  if (!is_there) return std::nullopt;
  Query query =
      query_at(kId, input, claim, tempered(claim, Level::kWarning),
               claim.subject + " is said to have been ferried " + when_in_words(claim.when) +
                   ", but the ledger has it ferried " + in_words(met->spell));
  query.evidence.push_back(quote_history(*met));
  query.suggestion = in_words(met->spell.from);
  return query;
}

// An accident of which the ledger has nothing, while the text tells of the loss elsewhere: two
// events, and not one with two dates.
bool is_another_accident(const CheckInput& input, const Claim& claim) {
  if (claim.value != "accident") return false;
  bool has_loss = false;
  DaySet lost;
  for (const History* row : input.ledger.history_of(claim.subject)) {
    if (row->kind == "accident") return false;
    if (row->kind != "lost") continue;
    has_loss = true;
    lost = lost.unite(row->spell.possible());
  }
  if (!has_loss) return false;
  for (const Claim& other : ClaimsOfKind(input, ClaimKind::kEvent)) {
    if (other.subject == claim.subject &&
        is_kind_in(other.value, {"lost", "accident", "struck_off_charge"}) && is_affirmed(other) &&
        other.when.known && other.when.days.intersects(lost))
      return true;
  }
  return false;
}

// "Handed over in February 1946" to a museum: its end, in the words of a beginning.
bool is_given_away(const Ledger& ledger, const Claim& claim) {
  if (claim.value != "taken_on_charge" || !claim.when.known) return false;
  const std::vector<const Airframe*> machine = ledger.machine_of(claim.subject);
  return std::any_of(machine.begin(), machine.end(), [&](const Airframe* airframe) {
    return !airframe->struck_off_charge.is_unknown() &&
           airframe->struck_off_charge.days().intersects(claim.when.days);
  });
}

// Ground instruction is what becomes of a machine that has been struck off.
bool is_hulk(const Ledger& ledger, const Claim& claim) {
  if (claim.value != "instructional") return false;
  const std::optional<Allowed> life = days_of_life(ledger, claim.subject);
  return life && !life->days.empty() && claim.when.days.first() > life->days.last();
}

}  // namespace

std::vector<Query> check_event_disagrees(const CheckInput& input) {
  const ClaimIndex index(input);
  const Ledger& ledger = input.ledger;
  std::set<std::uint32_t> told_of_rows;  // dates: "Off charge 5 May | lost" is one fault
  std::vector<Query> queries =
      judge_claims(input, ClaimKind::kEvent, [&](const Claim& claim) -> std::optional<Query> {
        // An event has its own date, so a machine that is not in the picture may be judged as well.
        if (!is_affirmed(claim)) return std::nullopt;
        if (!claim.when.known) return undated_end(input, index, claim);
        if (claim.when.days.empty()) return std::nullopt;
        const bool is_dated_by_picture = claim.when.date < input.claims.size() &&
                                         input.claims[claim.when.date].of == "photograph";
        if (is_dated_by_picture &&
            // "A week after it was repainted, 15 April": the picture's date is not the event's.
            (!holds_at_its_date(input, claim) || (claim.said & kSaidOtherTime) != 0)) {
          return std::nullopt;
        }
        if (ledger.machine_of(claim.subject).empty()) return std::nullopt;
        EventRecord record = record_of(ledger, claim);
        // Nor has it been cleared away a few days later.
        if (is_dated_by_picture &&
            record.days.days.widened(kStillThereDays).intersects(claim.when.days))
          return std::nullopt;
        if (!record.has_rows) {
          std::optional<Query> query = other_end(input, claim);
          if (!query) query = other_fate(input, claim);
          if (!query) query = lived_on(input, index, claim);
          return query ? query : outside_life(input, claim);
        }
        const std::optional<Level> level =
            level_of(claim, fit(claim.when, record.days), highest_of(claim.value));
        if (!level) {
          std::optional<Query> query = other_fate(input, claim);
          if (!query) query = other_manner(input, index, claim);
          if (!query) query = not_in_store(input, claim);
          if (!query) query = not_begun_then(input, claim);
          if (!query) query = other_ferrying(input, index, claim);
          if (!query) query = other_keeper(input, index, claim);
          return query ? query : judge_change_of_hands(input, index, claim, kId);
        }
        if (fits_in_another_year(input, claim, record.days.days) ||
            is_another_accident(input, claim) || is_given_away(ledger, claim) ||
            is_hulk(ledger, claim))
          return std::nullopt;
        const bool is_in_row = index.block_of(claim).kind == BlockKind::kTableRow;
        if (is_in_row && !told_of_rows.insert(claim.when.date).second) return std::nullopt;
        const std::string said =
            claim.turned_to.empty()
                ? claim.subject + " is said to have been " + in_plain(claim.value)
                : claim.turned_to + " on " + claim.subject + " is said to have been painted";
        Query query = query_at(kId, input, claim, *level,
                               said + " " + when_in_words(claim.when) + ", but the ledger has it " +
                                   tell(record, claim));
        DaySet told_days;
        for (ToldRow& told : record.rows) {
          query.evidence.push_back(std::move(told.row));
          told_days = told_days.unite(told.days);
        }
        query.suggestion = in_words(told_days);
        return query;
      });
  std::vector<Query> contents = judge_order_contents(input, kId);
  queries.insert(queries.end(), std::make_move_iterator(contents.begin()),
                 std::make_move_iterator(contents.end()));
  add_days_near_rows(input, index, kId, queries);
  return with_turns(std::move(queries), input, kId);
}

}  // namespace tailproof

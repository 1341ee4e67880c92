// | situation                                                                     | level   |
// | a range of serials, all in closed ranges, holds another number of machines    | warning |
// | a list of serials right behind the number has another length                  | warning |
// | "the nth" of its type and mark: by number, by delivery, by works number alike | warning |
// | "the last" where another came certainly later and has a higher serial         | warning |
// | "of the fourteen, the last to be delivered", as many as its type or mark has  | warning |
// | "the last of forty" where the type and mark have another number               | warning |
// | "sixteen had been delivered", where the type and mark have fewer in all        | warning |
// | "five of the ten", where more than five are recorded to have shared that fate | warning |
// | "five of the ten were renumbered": fewer can have been                        | warning |
// | "of the ten, five were still on charge" on a day: more were, or fewer can be  | warning |
// | "five of the ten were lost before the renumbering": not as many without one   | warning |
// | "five were left to the Flight" on a day, where more were certainly with it    | warning |
// | so many lost, handed over, made in all: more than can have been; fewer where | warning |
// |   the words mean all of them; a place among those lost that it cannot have    |         |
// | so many of whom a sentence tells delivered, renumbered, rebuilt, of a mark,   | warning |
// |   on charge that day: the same                                                |         |
// | inexact ("nearly"), a set that other words narrow, an open range, a row       | silent  |
// |   without its type or mark                                                    |         |
//
// Rows that identities.csv makes one airframe count once. What cannot be counted for certain is not
// counted at all.
#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "tailproof/claim_index.h"
#include "tailproof/placement.h"
#include "tailproof/serial_runs.h"
#include "tailproof/verdict.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "count-disagrees";

std::string ordinal(int number) {
  const int tail = number % 100;
  const char* end = "th";
  if (tail < 11 || tail > 13) {
    if (number % 10 == 1) end = "st";
    if (number % 10 == 2) end = "nd";
    if (number % 10 == 3) end = "rd";
  }
  return std::to_string(number) + end;
}

std::string counted(std::size_t number, std::string_view what) {
  return std::to_string(number) + " " + std::string(what) + (number == 1 ? "" : "s");
}

std::string kind_in_words(const Count& count) {
  if (count.type.empty()) return "machine";
  return count.type + (count.mark.empty() ? "" : " " + count.mark);
}

Evidence quote_airframe(const Airframe& row) {
  std::string says = row.serial;
  if (!row.type.empty()) says += ", " + row.type + (row.mark.empty() ? "" : " " + row.mark);
  if (!row.taken_on_charge.is_unknown()) {
    says += ", taken on charge " + in_words(row.taken_on_charge);
  }
  return quote(row.row, std::move(says));
}

/// The one airframes.csv row of each machine of a type and mark, if that is the whole of them.
class Kin {
 public:
  Kin(const Ledger& ledger, const Count& count) {
    if (count.type.empty()) return;
    std::set<std::uint32_t> machines;
    is_whole_ = true;
    // One without a type, or with a type and no mark, may belong here.
    if (!ledger.airframes_of_type("").empty()) is_whole_ = false;
    for (const Airframe* row : ledger.airframes_of_type(count.type)) {
      if (row->mark.empty() && !count.mark.empty()) is_whole_ = false;
      if (!count.mark.empty() && row->mark != count.mark) continue;
      if (!ledger.is_in_closed_range(row->serial)) is_whole_ = false;
      if (machines.insert(row->machine).second) rows_.push_back(row);
    }
    is_whole_ = is_whole_ && !rows_.empty();
  }

  [[nodiscard]] bool is_whole() const { return is_whole_; }
  [[nodiscard]] std::size_t size() const { return rows_.size(); }
  [[nodiscard]] const std::vector<const Airframe*>& rows() const { return rows_; }

  [[nodiscard]] const Airframe* row_of(const Ledger& ledger, std::string_view serial) const {
    const auto machine = ledger.machine_of(serial);
    if (machine.empty()) return nullptr;
    const auto own = std::find_if(rows_.begin(), rows_.end(), [&](const Airframe* row) {
      return row->machine == machine.front()->machine;
    });
    return own == rows_.end() ? nullptr : *own;
  }

 private:
  std::vector<const Airframe*> rows_;
  bool is_whole_ = false;
};

/// The places that a machine may have among its kin: by one order, from `low` to `high`.
struct Places {
  int low = 1, high = 1;
  bool is_known = true;
  bool is_before_another = false;  // of its own series, so that it is not the last in any order
  [[nodiscard]] bool allow(int place) const { return !is_known || (low <= place && place <= high); }
  [[nodiscard]] bool allow_last(int size) const {
    return is_known ? allow(size) : !is_before_another;
  }
};

Places place_by_serial(const Kin& kin, const Airframe& own, std::string Airframe::*number) {
  Places places;
  for (const Airframe* row : kin.rows()) {
    if (row == &own) continue;
    const auto pair = in_one_series(own.*number, row->*number);
    // Two series have no order between them.
    if (!pair) {
      places.is_known = false;
    } else if (pair->second.number < pair->first.number) {
      ++places.low;
    } else {
      places.is_before_another = true;
    }
  }
  places.high = places.low;
  return places;
}

Places place_by_delivery(const Kin& kin, const Airframe& own) {
  Places places;
  if (own.taken_on_charge.is_unknown() || own.taken_on_charge.days().empty()) return {1, 1, false};
  const DaySet& mine = own.taken_on_charge.days();
  for (const Airframe* row : kin.rows()) {
    if (row == &own) continue;
    const DaySet& days = row->taken_on_charge.days();
    if (row->taken_on_charge.is_unknown() || days.empty()) return {1, 1, false};
    if (days.last() < mine.first()) ++places.low;
    if (days.first() <= mine.last()) ++places.high;
  }
  return places;
}

bool has_numbers(const Kin& kin, std::string Airframe::*number) {
  return std::any_of(kin.rows().begin(), kin.rows().end(),
                     [&](const Airframe* row) { return !(row->*number).empty(); });
}

Query query_of(const CheckInput& input, const Claim& claim, std::string message,
               std::string suggestion) {
  Query query = query_at(kId, input, claim, tempered(claim, Level::kWarning), std::move(message));
  query.suggestion = std::move(suggestion);
  return query;
}

void quote_ends(Query& query, const std::vector<const Airframe*>& rows) {
  if (rows.empty()) return;
  query.evidence.push_back(quote_airframe(*rows.front()));
  if (rows.size() > 1) query.evidence.push_back(quote_airframe(*rows.back()));
}

// "F113 to F120, nine aircraft".
std::optional<Query> judge_range(const CheckInput& input, const Claim& claim) {
  const Ledger& ledger = input.ledger;
  const Count& count = *claim.count;
  const auto ends = in_one_series(count.first_serial, count.last_serial);
  if (!ends) return std::nullopt;
  const auto& [first, last] = *ends;
  constexpr std::int64_t kLongest = 10000;
  if (last.number <= first.number || last.number - first.number > kLongest) return std::nullopt;
  if (!ledger.is_in_closed_range(count.first_serial) ||
      !ledger.is_in_closed_range(count.last_serial)) {
    return std::nullopt;
  }
  std::set<std::string_view> machines;
  std::set<std::string_view> of_kind;
  std::vector<const Airframe*> rows;
  for (std::int64_t number = first.number; number <= last.number; ++number) {
    const std::string serial = first.with(number);
    if (!ledger.is_in_closed_range(serial)) return std::nullopt;
    const auto serials = ledger.serials_of(serial);
    const auto machine = ledger.machine_of(serial);
    if (serials.empty() || machine.empty()) continue;  // there is none
    machines.insert(serials.front());
    rows.push_back(machine.front());
    const bool is_it = std::any_of(machine.begin(), machine.end(), [&](const Airframe* row) {
      return row->type == count.type && (count.mark.empty() || row->mark == count.mark);
    });
    if (is_it) of_kind.insert(serials.front());
  }
  const auto said = static_cast<std::size_t>(count.number);
  // Only those of the type may be meant, or all.
  if (machines.empty() || said == machines.size()) return std::nullopt;
  if (!count.type.empty() && said == of_kind.size()) return std::nullopt;
  std::string message = count.first_serial + " to " + count.last_serial + " are said to be " +
                        claim.value + ", but the ledger has " +
                        counted(machines.size(), "machine") + " there";
  Query query = query_of(input, claim, std::move(message), std::to_string(machines.size()));
  query.evidence.push_back(quote_table(
      "ledger.toml", count.first_serial + " to " + count.last_serial +
                         " lie in closed ranges: " + counted(machines.size(), "machine")));
  quote_ends(query, rows);
  return query;
}

// "The last of sixteen": how many there are. A number far from theirs is one of some others: "the
// last of three to land".
std::optional<Query> judge_total(const CheckInput& input, const Claim& claim, const Kin& kin) {
  const Count& count = *claim.count;
  const auto said = static_cast<std::size_t>(count.number);
  if (!count.is_exact || said == kin.size()) return std::nullopt;
  if (2 * said < kin.size() || said > 2 * kin.size()) return std::nullopt;
  Query query = query_of(input, claim,
                         "the ledger has " + counted(kin.size(), kind_in_words(count)) + ", not " +
                             std::to_string(count.number),
                         std::to_string(kin.size()));
  quote_ends(query, kin.rows());
  return query;
}

// "Of the fourteen, the last to be delivered was X12": those of its type, or of its type and mark,
// where they are fourteen.
bool narrow_to(Count& count, const Ledger& ledger, std::string_view subject) {
  const auto size = static_cast<std::size_t>(count.out_of);
  if (Kin(ledger, count).size() == size) return true;
  const Airframe* own = ledger.airframe(subject);
  if (own == nullptr || own->mark.empty()) return false;
  count.mark = own->mark;
  return Kin(ledger, count).size() == size;
}

std::optional<Query> judge_place(const CheckInput& input, const Claim& claim) {
  Count count = *claim.count;
  if (!count.is_whole || !count.is_exact) return std::nullopt;
  if (count.out_of > 0 && !narrow_to(count, input.ledger, claim.subject)) return std::nullopt;
  const Kin kin(input.ledger, count);
  if (!kin.is_whole()) return std::nullopt;
  const Airframe* own = kin.row_of(input.ledger, claim.subject);
  if (own == nullptr) return std::nullopt;
  const Places by_serial = place_by_serial(kin, *own, &Airframe::serial);
  const Places by_delivery = place_by_delivery(kin, *own);
  const bool has_works = has_numbers(kin, &Airframe::constructor_number);
  const Places by_works =
      has_works ? place_by_serial(kin, *own, &Airframe::constructor_number) : by_serial;
  const int place = count.is_last ? static_cast<int>(kin.size()) : count.number;
  // One order that is not known might be the one that is meant.
  const auto allows = [&](const Places& places) {
    return count.is_last ? places.allow_last(place) : places.allow(place);
  };
  if (allows(by_serial) || allows(by_delivery) || allows(by_works)) {
    if (count.is_last && count.number > 0) return judge_total(input, claim, kin);
    return std::nullopt;
  }
  const std::string is_place = ordinal(by_serial.is_known ? by_serial.low : by_delivery.low);
  std::string message = claim.subject + " is said to be the " +
                        (count.is_last ? std::string("last") : ordinal(count.number)) + " " +
                        kind_in_words(count) + ", but is the " + is_place + " of " +
                        std::to_string(kin.size()) + " in the ledger";
  Query query = query_of(input, claim, std::move(message), is_place);
  query.evidence.push_back(quote_airframe(*own));
  if (count.is_last && kin.rows().back() != own) {
    query.evidence.push_back(quote_airframe(*kin.rows().back()));
  }
  return query;
}

// "The ten with old serials": the machines of a kind that ever had a number of one series, where
// only one series has so many.
std::vector<const Airframe*> of_one_series(const Ledger& ledger, const Kin& kin, std::size_t size) {
  std::map<std::string, std::vector<const Airframe*>> series;
  for (const Airframe* row : kin.rows()) {
    std::set<std::string> own;
    for (const std::string_view serial : ledger.serials_of(row->serial)) {
      for (const SerialRun& run : runs_of(serial)) own.insert(run.before + "#" + run.behind);
    }
    for (const std::string& name : own) series[name].push_back(row);
  }
  std::vector<const Airframe*> found;
  for (const auto& [name, rows] : series) {
    if (rows.size() != size) continue;
    if (!found.empty() && found != rows) return {};
    found = rows;
  }
  return found;
}

/// How many at least and at most, and the rows that tell of them.
struct Bounds {
  std::size_t least = 0, most = 0;
  std::vector<Evidence> rows;
};

// Those with a later number; at most also those without one that were there when others got theirs.
Bounds renumbered(const Ledger& ledger, const std::vector<const Airframe*>& set) {
  Bounds bounds;
  Day first_change = kLastDay;
  std::vector<const Airframe*> others;
  for (const Airframe* row : set) {
    const auto identities = ledger.identities_of(row->serial);
    const auto changed =
        std::find_if(identities.begin(), identities.end(), [](const Identity* identity) {
          return identity->kind == "later_serial" || identity->kind == "previous_serial";
        });
    if (changed == identities.end()) {
      others.push_back(row);
      continue;
    }
    ++bounds.least;
    const Identity& identity = **changed;
    const bool is_later = identity.kind == "later_serial";
    bounds.rows.push_back(
        quote(identity.row,
              identity.serial + " was " + (is_later ? "later " : "before ") + identity.identity));
    const Edtf& change = is_later ? identity.spell.from : identity.spell.to;
    if (!change.is_unknown() && !change.days().empty())
      first_change = std::min(first_change, change.days().first());
  }
  bounds.most = bounds.least;
  for (const Airframe* row : others) {
    const auto life = ledger.life_of(row->serial, true);
    if (!life || life->empty() || life->last() >= first_change) ++bounds.most;
  }
  return bounds;
}

// Those on charge on the days told: all that certainly were, and all that may have been.
Bounds on_charge(const Ledger& ledger, const std::vector<const Airframe*>& set, const When& when) {
  Bounds bounds;
  for (const Airframe* row : set) {
    const auto life = ledger.life_of(row->serial, true);
    const bool may_be = !life || life->empty() || life->intersects(when.widened);
    const bool is_there = may_be && life && when.widened.intersect(*life) == when.widened &&
                          !row->struck_off_charge.is_approximate();
    bounds.most += may_be ? 1 : 0;
    bounds.least += is_there ? 1 : 0;
    if (is_there) continue;
    bounds.rows.push_back(
        quote(row->row, row->serial + " struck off " + in_words(row->struck_off_charge)));
  }
  return bounds;
}

// "Seven of the eighteen were lost before the renumbering": those that got no later number.
std::size_t without_number(const Ledger& ledger, const std::vector<const Airframe*>& set) {
  return set.size() - renumbered(ledger, set).least;
}

std::vector<const Airframe*> rows_of(const Ledger& ledger, const Count& count) {
  std::vector<const Airframe*> rows;
  for (const std::string& serial : count.machines) {
    const auto machine = ledger.machine_of(serial);
    if (machine.empty() || !ledger.is_in_closed_range(machine.front()->serial)) return {};
    rows.push_back(machine.front());
  }
  return rows;
}

// "Five of the ten were renumbered": more or fewer are known to have been.
std::optional<Query> judge_share(const CheckInput& input, const Claim& claim) {
  const Ledger& ledger = input.ledger;
  const Count& count = *claim.count;
  if (count.fate.empty()) return std::nullopt;
  const Kin kin(ledger, count);
  const auto out_of = static_cast<std::size_t>(count.out_of);
  const auto number = static_cast<std::size_t>(count.number);
  std::vector<const Airframe*> set = rows_of(ledger, count);
  if (set.empty()) {
    if (!kin.is_whole()) return std::nullopt;
    set = kin.rows();
    if (out_of != kin.size() && count.fate == "later_serial")
      set = of_one_series(ledger, kin, out_of);
  }
  if (set.size() != out_of) return std::nullopt;
  Bounds bounds;
  if (count.fate == "later_serial") {
    bounds = renumbered(ledger, set);
  } else if (count.fate == "on_charge") {
    if (!claim.when.known || claim.when.widened.empty() || claim.when.widened.is_all() ||
        (claim.said & kSaidStretch) != 0)
      return std::nullopt;
    bounds = on_charge(ledger, set, claim.when);
  } else if (count.is_before_renumbering) {
    bounds.least = bounds.most = without_number(ledger, set);
  } else {
    for (const Airframe* row : set) {
      const auto history = ledger.history_of(row->serial);
      const auto told = std::find_if(history.begin(), history.end(), [&](const History* event) {
        return event->kind == count.fate;
      });
      if (told == history.end()) continue;
      ++bounds.least;
      bounds.rows.push_back(quote((*told)->row, (*told)->serial + " " + count.fate));
    }
    bounds.most = out_of;
  }
  if (bounds.least <= number && number <= bounds.most) return std::nullopt;
  const std::string of_kind = count.type.empty() ? "machine" : kind_in_words(count);
  const std::string fate = count.fate == "later_serial" ? "been renumbered"
                           : count.fate == "on_charge"
                               ? "been on charge " + when_in_words(claim.when)
                           : count.is_before_renumbering ? "been lost before the renumbering"
                                                         : "been " + count.fate;
  const std::string found = std::to_string(number < bounds.least ? bounds.least : bounds.most);
  Query query = query_of(input, claim,
                         std::to_string(number) + " of the " + counted(out_of, of_kind) +
                             " are said to have " + fate + ", but the ledger has " + found,
                         found);
  constexpr std::size_t kQuoted = 12;
  if (bounds.rows.size() > kQuoted) bounds.rows.resize(kQuoted);
  query.evidence = std::move(bounds.rows);
  if (query.evidence.empty()) quote_ends(query, set);
  return query;
}

std::string deed_in_words(std::string_view fate) {
  static constexpr std::pair<std::string_view, std::string_view> kDeeds[] = {
      {"lost", "been lost"},           {"handed_over", "gone"},
      {"delivered", "come then"},      {"renumbered", "been renumbered"},
      {"on_charge", "been on charge"}, {"of_mark", "been of that mark"},
      {"new", "gone new to it"},       {"rebuilt", "been rebuilt so"},
  };
  for (const auto& [deed, words] : kDeeds) {
    if (deed == fate) return std::string(words);
  }
  return std::string(fate);
}

// What was counted while the words were read: more than can have been, or fewer than there were.
std::optional<Query> judge_counted(const CheckInput& input, const Claim& claim) {
  const Count& count = *claim.count;
  const bool is_place = count.is_place || count.is_last;
  const bool is_over = count.number > count.most;
  if (!is_over && (!count.is_sum || count.number >= count.least)) return std::nullopt;
  const int bound = is_over ? count.most : count.least;
  const std::string found = std::to_string(bound);
  const std::string whose = count.unit.empty() ? "" : " (" + count.unit + ")";
  std::string message;
  if (is_place) {
    message = claim.subject + " is said to be the " +
              (count.is_last ? std::string("last") : ordinal(count.number)) + " " +
              kind_in_words(count) + " lost" + whose + ", but is the " + ordinal(bound) +
              (count.is_last ? " from the end" : "") + " in the ledger";
  } else if (count.fate == "crew") {
    message = "a crew of " + std::to_string(count.number) + " is told of " + claim.subject +
              ", but the ledger has a crew of " + found;
  } else if (count.fate == "with") {
    message = counted(static_cast<std::size_t>(count.number), kind_in_words(count)) +
              " are said to have been with " + count.unit + ", but the ledger has " + found;
  } else if (count.fate == "made") {
    message = "the ledger has " + counted(static_cast<std::size_t>(bound), kind_in_words(count)) +
              ", not " + std::to_string(count.number);
  } else {
    message = counted(static_cast<std::size_t>(count.number), kind_in_words(count)) +
              " are said to have " + deed_in_words(count.fate) + whose + ", but the ledger has " +
              (bound == 0 ? "none" : found);
  }
  Query query = query_of(input, claim, std::move(message), is_place ? ordinal(bound) : found);
  constexpr std::size_t kQuoted = 12;
  for (const std::string& serial : count.machines) {
    if (query.evidence.size() == kQuoted) break;
    for (const History* row : input.ledger.history_of(serial)) {
      const bool is_holding = count.fate == "handed_over" || count.fate == "with";
      if (!is_holding && row->kind != "lost") continue;
      if (count.fate == "with" && (row->role.empty() || row->unit != count.unit)) continue;
      if (count.fate == "handed_over" && !count.unit.ends_with(" to " + row->unit)) continue;
      query.evidence.push_back(quote_history(*row));
      break;
    }
  }
  if (query.evidence.empty()) quote_ends(query, Kin(input.ledger, count).rows());
  return query;
}

// "Sixteen Grapnels had been delivered": more than there ever were. Fewer may be some of them.
std::optional<Query> judge_made(const CheckInput& input, const Claim& claim) {
  const Kin kin(input.ledger, *claim.count);
  if (!kin.is_whole() || static_cast<std::size_t>(claim.count->number) < kin.size())
    return std::nullopt;
  return judge_total(input, claim, kin);
}

// "Five Hospitallers were left to the Flight on 1 January": more are recorded to have been with it
// on every day that is meant. Fewer prove nothing, since a row may be wanting.
std::optional<Query> judge_strength(const CheckInput& input, const Claim& claim) {
  const Ledger& ledger = input.ledger;
  const Count& count = *claim.count;
  if (!claim.when.known || claim.when.days.empty() || claim.when.days.is_all()) return std::nullopt;
  std::set<std::uint32_t> machines;
  std::vector<Evidence> rows;
  for (const Airframe* machine : ledger.airframes_of_type(count.type)) {
    if (!count.mark.empty() && machine->mark != count.mark) continue;
    for (const History* row : ledger.history_of(machine->serial)) {
      if (row->unit != claim.subject || row->role.empty()) continue;
      const bool is_then = claim.when.widened.intersect(row->spell.certain()) == claim.when.widened;
      if (!is_then || !machines.insert(machine->machine).second) continue;
      rows.push_back(
          quote(row->row, row->serial + " with " + row->unit + " " + in_words(row->spell)));
    }
  }
  if (machines.size() <= static_cast<std::size_t>(count.number)) return std::nullopt;
  const std::string number = std::to_string(machines.size());
  Query query =
      query_of(input, claim,
               claim.text + " are said to have been with " + claim.subject + " " +
                   when_in_words(claim.when) + ", but the ledger has " + number + " there",
               number);
  query.evidence = std::move(rows);
  return query;
}

// "Four Grapnels, S3004, S3006 and S3016": the evidence are the rows of those that are listed.
std::optional<Query> judge_list(const CheckInput& input, const Claim& claim) {
  const Count& count = *claim.count;
  if (count.listed == 0 || count.listed == count.number) return std::nullopt;
  Query query = query_at(kId, input, claim, claim.hedged ? Level::kNote : Level::kWarning,
                         claim.text + " are named, but the list " +
                             (count.is_listed_before ? "before" : "behind") + " it has " +
                             std::to_string(count.listed));
  query.suggestion = std::to_string(count.listed);
  for (const Claim& other : ClaimIndex(input).in_sentence(claim)) {
    if (query.evidence.size() == static_cast<std::size_t>(count.listed)) break;
    const bool is_there =
        count.is_listed_before ? other.end <= claim.begin : other.begin >= claim.end;
    const bool is_listed = other.kind == ClaimKind::kAirframe && other.role.empty() && is_there;
    const Airframe* row = is_listed ? input.ledger.airframe(other.value) : nullptr;
    if (row != nullptr) query.evidence.push_back(quote_airframe(*row));
  }
  return query;
}

}  // namespace

std::vector<Query> check_count_disagrees(const CheckInput& input) {
  return judge_claims(input, ClaimKind::kCount, [&](const Claim& claim) -> std::optional<Query> {
    const Count& count = *claim.count;
    if (!is_affirmed(claim) || !count.is_exact) return std::nullopt;
    if (count.is_counted) return judge_counted(input, claim);
    if (count.is_place || count.is_last) return judge_place(input, claim);
    if (!count.first_serial.empty()) return judge_range(input, claim);
    if (count.out_of > 0) return judge_share(input, claim);
    if (count.fate == "taken_on_charge") return judge_made(input, claim);
    if (input.ledger.unit(claim.subject) != nullptr) return judge_strength(input, claim);
    return judge_list(input, claim);
  });
}

}  // namespace tailproof

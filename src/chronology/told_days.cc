#include "chronology/told_days.h"

#include <algorithm>
#include <map>
#include <set>
#include <string>

#include "chronology/likeness.h"
#include "tailproof/verdict.h"

namespace tailproof {
namespace {

void add_ends(const Spell& spell, std::set<Day>& days) {
  for (const Edtf* end : {&spell.from, &spell.to}) {
    if (end->is_unknown()) continue;
    if (const auto day = single_day(end->days())) days.insert(*day);
  }
}

void add_day(const Edtf& date, std::set<Day>& days) {
  if (date.is_unknown()) return;
  if (const auto day = single_day(date.days())) days.insert(*day);
}

// The days on which anything begins or ends for units and orders. Those of people, of which a
// ledger has hundreds, would explain any day.
std::set<Day> days_of_all(const Ledger& ledger) {
  std::set<Day> days;
  for (const Order& order : ledger.orders()) {
    add_day(order.issued, days);
    add_day(order.effective, days);
  }
  for (const Unit& unit : ledger.units()) {
    add_day(unit.formed, days);
    add_day(unit.disbanded, days);
  }
  for (const Station& station : ledger.stations()) add_ends(station.spell, days);
  return days;
}

std::set<Day> days_of_machine(const Ledger& ledger, std::string_view serial) {
  std::set<Day> days;
  for (const History* row : ledger.history_of(serial)) add_ends(row->spell, days);
  for (const Identity* row : ledger.identities_of(serial)) add_ends(row->spell, days);
  for (const Photograph* row : ledger.photographs_of(serial)) add_day(row->taken, days);
  for (const Airframe* row : ledger.machine_of(serial)) {
    add_day(row->taken_on_charge, days);
    add_day(row->struck_off_charge, days);
  }
  return days;
}

/// A day told of a machine.
struct Told {
  const Claim* date = nullptr;
  Day day = 0;
  bool is_of_picture = false;
};

bool is_machine(const Claim& claim) {
  return claim.kind == ClaimKind::kAirframe && !claim.subject.empty();
}

// The machine of which a date tells: its subject, else the only one that its sentence or, where
// that has none, its block names; "" for none.
std::string_view machine_told(const ClaimIndex& index, const Claim& date) {
  const bool is_of_none = date.subject.empty() || date.subject == index.block_of(date).figure;
  // A block of so many claims tells of many machines, and its sentence may be as long.
  constexpr std::size_t kMostClaims = 2000;
  if (index.around(date).size() > kMostClaims) return "";
  const Claim* only = nullptr;
  const auto is_one = [&](const Claim& other) {
    if (!is_machine(other) || (!is_of_none && other.subject != date.subject)) return true;
    if (only != nullptr && only->subject != other.subject) return false;
    only = &other;
    return true;
  };
  for (const Claim& other : index.in_sentence(date)) {
    if (!is_one(other)) return "";
    if (only != nullptr && !is_of_none) return only->subject;
  }
  if (only != nullptr) return only->subject;
  for (const std::uint32_t i : index.around(date)) {
    if (!is_one(index.claim(i))) return "";
  }
  return only == nullptr ? std::string_view() : only->subject;
}

// Of one month, and not merely days that follow each other.
bool is_misprint(Day one, Day other) {
  constexpr Day kNeighbours = 3;
  const CivilDate a = to_civil(one);
  const CivilDate b = to_civil(other);
  return a.year == b.year && a.month == b.month && is_slip(one, other) &&
         std::max(one, other) - std::min(one, other) > kNeighbours;
}

// "Its second forced landing": there was more than one. Cost: the sentence, so it is asked last.
bool is_of_one_of_several(const ClaimIndex& index, const Claim& date) {
  const auto sentence = index.in_sentence(date);
  return std::any_of(sentence.begin(), sentence.end(), [](const Claim& other) {
    return other.kind == ClaimKind::kEvent && (other.said & kSaidOneOfSeveral) != 0;
  });
}

bool is_of_others_event(const CheckInput& input, const Claim& date) {
  return date.event < input.claims.size() && input.claims[date.event].attributed;
}

// A digit of the day, its month or its year is another; not merely the next day. The first of a
// month is the day of returns and lists, on which nothing need befall anybody.
bool is_digit_off(Day one, Day other) {
  constexpr Day kNeighbours = 3;
  return to_civil(one).day != 1 && one != other &&
         std::max(one, other) - std::min(one, other) > kNeighbours && is_slip(one, other);
}

// What befalls a machine on a day, and is told in many words.
bool is_mishap(std::string_view kind) { return kind == "lost" || kind == "accident"; }

using ToldDays = std::map<std::string_view, std::vector<Told>>;  // by machine

ToldDays told_days(const CheckInput& input, const ClaimIndex& index) {
  const Ledger& ledger = input.ledger;
  ToldDays told;
  for (const Claim& date : ClaimsOfKind(input, ClaimKind::kDate)) {
    const bool is_of_picture = date.of == "photograph";
    if (!is_of_picture && date.of != "event") continue;
    if (!is_affirmed(date) || date.inherited || date.hedged || date.impossible ||
        date.date.is_unknown() || date.turn != Turn::kNone || is_of_others_event(input, date) ||
        (date.said & kSaidInUse) != 0)  // it merely flew
      continue;
    const auto day = single_day(date.date.widened(ledger.settings().margins));
    if (!day) continue;
    const std::string_view serial =
        ledger.machine_of(date.subject).empty() ? machine_told(index, date) : date.subject;
    if (serial.empty()) continue;
    const auto serials = ledger.serials_of(serial);
    told[serials.empty() ? serial : serials.front()].push_back({&date, *day, is_of_picture});
  }
  return told;
}

// Whether the sentence has words for what befell the machine, which were held against its rows.
bool has_event(const ClaimIndex& index, const Claim& date, std::string_view machine) {
  const auto sentence = index.in_sentence(date);
  return std::any_of(sentence.begin(), sentence.end(), [&](const Claim& other) {
    return other.kind == ClaimKind::kEvent && other.subject == machine;
  });
}

// "On its back, 9 August": what befell the machine is there to be seen on the day of the picture.
bool shows_mishap(const ClaimIndex& index, const Claim& date, std::string_view machine) {
  // "A week before it was lost" is counted, and no misprint.
  if (date.text.find_first_of("0123456789") == std::string::npos) return false;
  const auto around = index.around(date);
  return std::any_of(around.begin(), around.end(), [&](std::uint32_t i) {
    const Claim& event = index.claim(i);
    return event.kind == ClaimKind::kEvent && event.subject == machine && is_mishap(event.value) &&
           is_affirmed(event) && event.shown && !event.when.known &&
           !event.relation->photograph.is_known() && event.tense == Tense::kThen;
  });
}

// Whether a machine named beside the date has a row of that day.
bool is_of_another(const CheckInput& input, const ClaimIndex& index, const Told& told) {
  for (const std::uint32_t i : index.around(*told.date)) {
    const Claim& other = index.claim(i);
    if (is_machine(other) && days_of_machine(input.ledger, other.subject).contains(told.day))
      return true;
  }
  return false;
}

// "He was killed in X12 on 21 August. I went home on the 28th": the right day stands beside it.
bool is_told_beside(const ClaimIndex& index, const Claim& date, Day right) {
  const auto around = index.around(date);
  return std::any_of(around.begin(), around.end(), [&](std::uint32_t i) {
    const Claim& other = index.claim(i);
    return other.kind == ClaimKind::kDate && &other != &date && !other.date.is_unknown() &&
           single_day(other.date.days()) == std::optional<Day>(right);
  });
}

}  // namespace

std::vector<ToldTwice> days_told_twice(const CheckInput& input, const ClaimIndex& index) {
  const Ledger& ledger = input.ledger;
  std::vector<ToldTwice> found;
  std::set<Day> of_all;
  for (const auto& [machine, days] : told_days(input, index)) {
    std::set<Day> own;
    for (std::size_t i = 0; i < days.size(); ++i) {
      for (std::size_t j = i + 1; j < days.size(); ++j) {
        const Told& one = days[i];
        const Told& other = days[j];
        if ((one.is_of_picture && other.is_of_picture) || !is_misprint(one.day, other.day) ||
            caption_key(input, *one.date) == caption_key(input, *other.date))
          continue;
        if (own.empty()) own = days_of_machine(ledger, machine);
        if (of_all.empty()) of_all = days_of_all(ledger);
        if (own.contains(one.day) || own.contains(other.day) || of_all.contains(one.day) ||
            of_all.contains(other.day))
          continue;
        if (!is_of_one_of_several(index, *one.date) && !is_of_one_of_several(index, *other.date))
          found.push_back({one.date, other.date, machine, one.day, other.day});
      }
    }
  }
  return found;
}

void add_days_near_rows(const CheckInput& input, const ClaimIndex& index, std::string_view check,
                        std::vector<Query>& queries) {
  const Ledger& ledger = input.ledger;
  std::set<Day> of_all;
  for (const auto& [machine, days] : told_days(input, index)) {
    const auto rows = ledger.history_of(machine);
    if (rows.empty()) continue;
    const std::vector<Told>& all = days;
    for (const Told& told : days) {
      const bool is_shown = told.is_of_picture;
      const auto near = std::find_if(rows.begin(), rows.end(), [&](const History* row) {
        const bool is_dated = is_mishap(row->kind) && !row->spell.from.is_unknown();
        const auto day = is_dated ? single_day(row->spell.from.days()) : std::nullopt;
        if (is_shown) return day && told.day < *day && is_misprint(told.day, *day);
        return day && is_digit_off(told.day, *day) &&
               std::none_of(all.begin(), all.end(),
                            [&](const Told& other) { return other.day == *day; });
      });
      if (near == rows.end() || (is_shown && !shows_mishap(index, *told.date, machine))) continue;
      if (of_all.empty()) of_all = days_of_all(ledger);
      const bool is_explained = of_all.contains(told.day) ||
                                days_of_machine(ledger, machine).contains(told.day) ||
                                is_of_another(input, index, told);
      const bool is_said = std::any_of(queries.begin(), queries.end(), [&](const Query& query) {
        return query.manuscript == told.date->manuscript && query.block == told.date->block &&
               query.subject == told.date->subject;
      });
      const bool is_told = !is_shown && has_event(index, *told.date, told.date->subject);
      if (is_explained || is_said || is_told || is_of_one_of_several(index, *told.date)) continue;
      const History& row = **near;
      if (is_told_beside(index, *told.date, *single_day(row.spell.from.days()))) continue;
      const std::string then = in_words(row.spell.from);
      const std::string befell = row.kind == "lost" ? "its loss" : "its accident";
      queries.push_back(query_at(check, input, *told.date, Level::kWarning,
                                 "what befell " + std::string(machine) + " is dated " +
                                     in_words(told.day) +
                                     ", of which the ledger has nothing, but " + befell + " on " +
                                     then + ": the day may be a misprint"));
      queries.back().subject = std::string(machine);
      queries.back().evidence.push_back(quote(row.row, row.serial + " " + row.kind + " " + then));
      queries.back().suggestion = then;
    }
  }
}

}  // namespace tailproof

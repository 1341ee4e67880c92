// | situation                                                            | level  |
// | dated before it was taken on charge, or after it was struck off/lost | error  |
// | the day of taking on charge, of striking off, of the loss            | silent |
// | days under a former number                                           | silent |
// | later, and the text says wreck, remains, museum or the like,         | silent |
// |   or tells of the loss itself                                        |        |
// | a row of photographs.csv has it photographed then                    | silent |
// | earlier, and the text says that it had not been delivered, or tells  | silent |
// |   that it was taken on later, on a day that the ledger allows        |        |
// | only mentioned, or its former or later days                          | silent |
// | running text tells where, with whom or how marked it was then, and     | warning |
// |   names it and no other machine in the sentence before that           |        |
// | running text has it fly, stand, be inspected or the like that day      | warning |
// | its wreck or remains, on a day when nothing had befallen it yet         | error  |
// | said to have served, alone or with a unit, from or until a day more    | warning |
// |   than a month outside                                               |         |
#include <algorithm>
#include <iterator>
#include <set>
#include <string>
#include <tuple>

#include "tailproof/allowed_days.h"
#include "tailproof/told_ends.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "outside-service-life";

bool is_of_serial(const Claim& claim) {
  return claim.role.empty() || claim.role == "tail" || claim.role == "previous_serial" ||
         claim.role == "later_serial";
}

// A caption that calls a machine by a former or later number alone shows it all the same. Running
// text, and a number beside the machine's own, tell of other days.
Claim as_pictured(const ClaimIndex& index, Claim claim, const Claim& original) {
  const bool is_other_number = claim.role == "previous_serial" || claim.role == "later_serial";
  if (!is_other_number || index.block_of(original).kind != BlockKind::kCaption) return claim;
  const auto around = index.around(original);
  const bool is_beside = std::any_of(around.begin(), around.end(), [&](std::uint32_t i) {
    const Claim& other = index.claim(i);
    return other.kind == ClaimKind::kAirframe && other.role.empty() &&
           other.subject == claim.subject;
  });
  if (!is_beside) claim.tense = Tense::kThen;
  return claim;
}

// The ledger has a photograph of it taken then: of what was left of it, or before it was taken on.
bool was_photographed(const Ledger& ledger, const std::string& serial, const When& when) {
  const std::vector<const Photograph*> rows = ledger.photographs_of(serial);
  return std::any_of(rows.begin(), rows.end(), [&](const Photograph* row) {
    return !row->taken.is_unknown() && row->taken.days().intersects(when.days);
  });
}

// "At the slip in April; it was taken on charge in May": the caption tells of the beginning itself,
// on a day of the ledger's and behind its picture.
bool tells_of_beginning(const ClaimIndex& index, const Claim& pictured, const Allowed& life) {
  const auto around = index.around(pictured);
  return std::any_of(around.begin(), around.end(), [&](std::uint32_t i) {
    const Claim& event = index.claim(i);
    return event.kind == ClaimKind::kEvent && event.value == "taken_on_charge" &&
           event.subject == pictured.subject && is_affirmed(event) && event.when.known &&
           !event.when.days.empty() && event.when.days.last() > pictured.when.days.last() &&
           fit(event.when, life) != Fit::kImpossible;
  });
}

// "X12 is placed in June 1943, after it was struck off or lost in the ledger (6 May 1943)".
std::string in_wrong_time(const std::string& serial, const When& when, const Allowed& life) {
  const bool is_late = when.days.first() > life.days.last();
  return serial + " is placed " + when_in_words(when) + ", " +
         (is_late ? "after it was struck off or lost in the ledger (" + in_words(life.days.last())
                  : "before it was taken on charge (" + in_words(life.days.first())) +
         ")";
}

// Whether a sentence tells how long this machine was with the unit and of nothing else: the one or
// the other opens it. "5 Squadron flew Gannages like X12 until 1946" tells of the unit, "the name
// on X12 was remembered in 5 Squadron until 1946" of a name.
bool tells_only_of_stay(const ClaimIndex& index, const Claim& unit) {
  constexpr std::size_t kOpening = 10, kVerb = 12;  // characters: "Like her, ", " had flown "
  const Claim* machine = nullptr;
  const Claim* type = nullptr;
  std::size_t of_dates = 0;  // characters, before the first name
  for (const Claim& other : index.in_sentence(unit)) {
    const bool is_machine = other.kind == ClaimKind::kAirframe && other.subject == unit.subject;
    if (is_machine && machine == nullptr) machine = &other;
    if (other.kind == ClaimKind::kType && machine == nullptr) type = &other;
    if (other.kind == ClaimKind::kDate && machine == nullptr && other.begin < unit.begin)
      of_dates += other.end - other.begin;
    const bool is_beside = is_machine || &other == type || other.kind == ClaimKind::kDate ||
                           other.kind == ClaimKind::kUnit || other.kind == ClaimKind::kPlace;
    if (!is_beside) return false;
  }
  if (machine == nullptr) return false;
  const std::string_view text = index.block_text(unit);
  const std::size_t begin_of_name = type != nullptr ? type->begin : machine->begin;
  const std::size_t first = std::min<std::size_t>(begin_of_name, unit.begin);
  const auto begin = static_cast<std::size_t>(index.sentence_of(unit).data() - text.data());
  if (first < begin || first - begin > kOpening + of_dates) return false;
  if (machine->end > unit.begin) return machine->begin - unit.end <= kVerb;
  std::string_view between = text.substr(machine->end, unit.begin - machine->end);
  // "X12, with the School until 1946".
  constexpr std::size_t kAside = 30;
  if (between.starts_with(", ") && between.size() <= kAside) between.remove_prefix(1);
  return between.find_first_of(",;:()'") == std::string_view::npos;
}

// "Served until 1946", "with 14 Squadron from 1939 to 1944", "wore HN-09 until 1946": the machine
// was not there at one end.
std::optional<Query> judge_ends_of_service(const CheckInput& input, const ClaimIndex& index,
                                           const Claim& told) {
  const std::string& serial = told.kind == ClaimKind::kDate ? told.turn_of : told.subject;
  if ((told.said & kSaidStretch) == 0 || !is_affirmed(told) || (told.said & kSaidRemains) != 0 ||
      (told.kind == ClaimKind::kAirframe && told.when.inherited) ||
      input.ledger.machine_of(serial).empty())
    return std::nullopt;
  Grounds grounds;
  const std::optional<Allowed> life = days_of_life(input.ledger, serial, &grounds);
  if (!life || life->days.empty()) return std::nullopt;
  const std::optional<When> end = impossible_end(input, told, [&](const When&) { return life; });
  if (!end || (told.kind == ClaimKind::kUnit && !tells_only_of_stay(index, told)))
    return std::nullopt;
  const bool is_late = end->days.first() > life->days.last();
  Query query = query_at(kId, input, told, tempered(told, Level::kWarning),
                         serial + " is said to have " +
                             (told.kind == ClaimKind::kUnit ? "served with " + told.value + " "
                              : told.kind == ClaimKind::kAirframe ? "carried " + told.value + " "
                                                                  : "been in service ") +
                             told_in_words(input, told) +
                             (is_late ? ", but was struck off or lost in the ledger ("
                                      : ", but was taken on charge only later (") +
                             in_words(is_late ? life->days.last() : life->days.first()) + ")");
  query.subject = serial;
  for (const Ground& ground : grounds.rows()) query.evidence.push_back(ground.evidence);
  query.suggestion = "a date within " + in_words(life->days);
  return query;
}

// The machine of running text that this place, unit or marking is told of, and nothing else in its
// sentence; nullptr for none.
const Claim* machine_told_of(const ClaimIndex& index, const Claim& told) {
  const auto sentence = index.in_sentence(told);
  const bool has_event = std::any_of(sentence.begin(), sentence.end(), [](const Claim& other) {
    return other.kind == ClaimKind::kEvent;
  });
  const NamedMachine named = machine_beside(index, told);
  if (has_event || !named.is_only) return nullptr;
  const bool may_follow = told.kind == ClaimKind::kUnit;
  const Claim* machine = named.before != nullptr || !may_follow ? named.before : named.behind;
  const bool is_then = machine != nullptr && is_affirmed(*machine) && is_of_serial(*machine) &&
                       machine->tense == Tense::kThen;
  return is_then ? machine : nullptr;
}

// The machine that does something on a day, where the sentence names it, else the day; nullptr
// where the sentence has an event of it.
const Claim* machine_in_use(const ClaimIndex& index, const Claim& date) {
  const Claim* machine = &date;
  for (const Claim& other : index.in_sentence(date)) {
    if (other.subject != date.subject) continue;
    if (other.kind == ClaimKind::kEvent) return nullptr;
    if (other.kind == ClaimKind::kAirframe && machine == &date) machine = &other;
  }
  return machine;
}

// "N.109 was at Morvo in September 1943", months after it was lost.
std::optional<Query> judge_state(const CheckInput& input, const ClaimIndex& index,
                                 const Claim& told) {
  const bool is_code = told.kind == ClaimKind::kAirframe && told.role == "code";
  const bool is_use = told.kind == ClaimKind::kDate && (told.said & kSaidInUse) != 0;
  const bool has_sense =
      is_code || is_use || told.role == "holder" || told.role == "operator" ||
      (told.role.empty() && told.kind != ClaimKind::kAirframe && told.kind != ClaimKind::kDate);
  // "A writer of 1961 read it as TH-G": a year alone may be that of somebody who tells of the code.
  constexpr Day kSeason = 100;
  if (is_code && !told.when.days.empty() &&
      told.when.days.last() - told.when.days.first() > kSeason)
    return std::nullopt;
  if (!has_sense || told.hedged || told.subject.empty() || !told.when.known ||
      told.when.inherited || told.when.days.empty() ||
      index.block_of(told).kind != BlockKind::kBody || !holds_at_its_date(input, told))
    return std::nullopt;
  const std::optional<Allowed> life = days_of_life(input.ledger, told.subject);
  if (!life || fit(told.when, *life) != Fit::kImpossible) return std::nullopt;
  const Claim* machine = is_use ? machine_in_use(index, told) : machine_told_of(index, told);
  if (machine == nullptr || was_photographed(input.ledger, told.subject, told.when))
    return std::nullopt;
  const bool is_late = told.when.days.first() > life->days.last();
  if (is_late ? tells_of_end(index, *machine) : (machine->said & kSaidMakers) != 0)
    return std::nullopt;
  Query query = query_at(kId, input, *machine, Level::kWarning, "");
  query.message = in_wrong_time(told.subject, told.when, *life);
  Grounds grounds;
  static_cast<void>(days_of_life(input.ledger, told.subject, &grounds));
  for (const Ground& ground : grounds.rows()) query.evidence.push_back(ground.evidence);
  query.suggestion = "a date within " + in_words(life->days);
  return query;
}

// "The wreck of X12 was photographed in April", and it crashed in May: nothing had befallen it by
// then, by any row.
std::optional<Query> judge_remains(const CheckInput& input, const Claim& claim) {
  constexpr std::string_view kMishaps[] = {"lost",     "accident",      "captured",
                                           "interned", "instructional", "modified"};
  if (!is_affirmed(claim) || !claim.when.known || claim.when.widened.empty() ||
      claim.tense != Tense::kThen)
    return std::nullopt;
  const Ledger& ledger = input.ledger;
  const Margins& margins = ledger.settings().margins;
  const Day told = claim.when.widened.last();
  std::optional<Evidence> first;
  Day first_day = kLastDay;
  std::string words;
  const auto add = [&](const Edtf& date, const auto& evidence) {
    const DaySet& days = date.widened(margins);
    if (days.empty() || days.first() >= first_day) return;
    first_day = days.first();
    first = evidence();
    words = in_words(date);
  };
  for (const Airframe* row : ledger.machine_of(claim.subject)) {
    if (row->struck_off_charge.is_unknown()) continue;
    add(row->struck_off_charge, [&] {
      return quote(row->row,
                   row->serial + " struck off charge " + in_words(row->struck_off_charge));
    });
  }
  for (const History* row : ledger.history_of(claim.subject)) {
    const bool is_mishap =
        std::find(std::begin(kMishaps), std::end(kMishaps), row->kind) != std::end(kMishaps);
    if (!is_mishap) continue;
    if (row->spell.from.is_unknown()) return std::nullopt;
    add(row->spell.from, [&] { return quote_history(*row); });
  }
  if (!first || told >= first_day) return std::nullopt;
  Query query = query_at(kId, input, claim, tempered(claim, Level::kError),
                         claim.subject + " is told of as a wreck, or what was left of it, " +
                             when_in_words(claim.when) +
                             ", but nothing befell it in the ledger before " + words);
  query.evidence.push_back(*std::move(first));
  return query;
}

}  // namespace

std::vector<Query> check_outside_service_life(const CheckInput& input) {
  const ClaimIndex index(input);
  const Ledger& ledger = input.ledger;
  std::set<std::tuple<std::uint64_t, std::uint32_t, std::uint32_t>> reported;
  std::vector<Query> queries =
      judge_claims(input, ClaimKind::kAirframe, [&](const Claim& claim) -> std::optional<Query> {
        if ((claim.said & kSaidOfRemains) != 0) return judge_remains(input, claim);
        if (!is_of_serial(claim) || !claim.when.known || claim.when.days.empty() ||
            !holds_at_its_date(input, as_pictured(index, claim, claim))) {
          return std::nullopt;
        }
        const std::string& serial = claim.subject.empty() ? claim.value : claim.subject;
        const std::vector<const Airframe*> machine = ledger.machine_of(serial);
        if (machine.empty()) return std::nullopt;
        const std::optional<Allowed> life = days_of_life(ledger, serial);
        if (!life) return std::nullopt;
        const Fit how = fit(claim.when, *life);
        const std::optional<Level> level = level_of(claim, how, Level::kError);
        if (!level || was_photographed(ledger, serial, claim.when)) return std::nullopt;

        const bool is_late = claim.when.days.first() > life->days.last();
        if (is_late ? tells_of_end(index, claim)
                    : (claim.said & kSaidMakers) != 0 || tells_of_beginning(index, claim, *life))
          return std::nullopt;
        const auto key =
            std::tuple(caption_key(input, claim), machine.front()->machine, claim.when.date);
        if (!reported.insert(key).second) return std::nullopt;

        Query query = query_at(kId, input, claim, *level, in_wrong_time(serial, claim.when, *life));
        Grounds grounds;
        static_cast<void>(days_of_life(ledger, serial, &grounds));
        for (const Ground& ground : grounds.rows()) query.evidence.push_back(ground.evidence);
        query.suggestion = "a date within " + in_words(life->days);
        return query;
      });
  std::set<std::tuple<std::uint32_t, std::uint32_t, std::uint32_t>> told_at;
  for (const Query& query : queries)
    told_at.emplace(query.manuscript, query.block, query.span.begin);
  for (const ClaimKind kind : {ClaimKind::kPlace, ClaimKind::kUnit, ClaimKind::kMarking,
                               ClaimKind::kAirframe, ClaimKind::kDate}) {
    for (Query& query : judge_claims(
             input, kind, [&](const Claim& told) { return judge_state(input, index, told); })) {
      const auto place = std::tuple(query.manuscript, query.block, query.span.begin);
      if (told_at.insert(place).second) queries.push_back(std::move(query));
    }
  }
  // What a date tells of several units, or of a machine and its unit or code, is told once.
  std::set<std::uint32_t> dates;
  for (const ClaimKind kind : {ClaimKind::kDate, ClaimKind::kUnit, ClaimKind::kAirframe}) {
    for (Query& query : judge_claims(input, kind, [&](const Claim& told) -> std::optional<Query> {
           std::optional<Query> ends = judge_ends_of_service(input, index, told);
           const bool is_told_first = ends && dates.insert(told.when.date).second;
           return is_told_first ? std::move(ends) : std::nullopt;
         }))
      queries.push_back(std::move(query));
  }
  return queries;
}

}  // namespace tailproof

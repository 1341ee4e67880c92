// | situation                                                               | level  |
// | the machine's own row, or its unit's station, puts it elsewhere all day | error  |
// | the unit of which the text speaks was stationed elsewhere               | error  |
// | an event of the caption is recorded at another place                    | error  |
// | a unit there from or until a day more than a month from its time there  | warning |
// | a place within the other, either way round                              | silent |
// | a day next to a move, a gap between stations                            | silent |
// | where a dated event took it from its unit, no row telling where         | silent |
// | in the air, or near a place: only another theatre counts                | error  |
// | no place known for the machine or its units                             | silent |
// | the row of photographs.csv that the caption names has it there, or one   | silent |
// |   that depicts the machine and was taken then                           |        |
// | by its unit's station alone, and the caption tells of a visit           | silent |
// | said to have moved to a place, or left it, on a day that none of its       | error  |
// |   stays there allows (a day either way, and days on the way, aside)        |        |
#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "tailproof/allowed_days.h"
#include "tailproof/told_ends.h"
#include "tailproof/turns.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "place-disagrees";
constexpr std::size_t kQuoted = 4;

// Whom the query speaks of, where the place is of no machine: the unit of the caption whose station
// tells, the unit of the sentence, else the picture or what is told.
std::string who_is_placed(const CheckInput& input, const ClaimIndex& index, const Claim& place,
                          bool is_by_station) {
  const bool is_caption = index.block_of(place).kind == BlockKind::kCaption;
  const bool is_of_picture = is_caption && input.ledger.airframe(place.subject) == nullptr;
  if (!place.subject.empty() && !(is_of_picture && is_by_station)) return place.subject;
  const std::string other_words = !place.subject.empty() ? place.subject
                                  : is_caption           ? "the photograph"
                                                         : "what the sentence tells of";
  if (is_caption && !is_by_station) return other_words;
  std::string unit;
  for (const std::uint32_t i : index.around(place)) {
    const Claim& other = index.claim(i);
    const bool is_near = is_caption || index.sentence_of(other) == index.sentence_of(place);
    if (other.kind != ClaimKind::kUnit || !is_near) continue;
    if (!unit.empty() && unit != other.value) return other_words;
    unit = other.value;
  }
  return unit.empty() ? other_words : unit;
}

// "X12 was at the Point until June": the machine is named right before, in its sentence. "By June
// every machine at the Point had it, unless one counts X12" places X12 nowhere.
bool is_named_right_before(const ClaimIndex& index, const Claim& place) {
  constexpr std::uint32_t kReach = 40;  // characters
  const auto sentence = index.in_sentence(place);
  return std::any_of(sentence.begin(), sentence.end(), [&](const Claim& other) {
    return other.kind == ClaimKind::kAirframe && other.subject == place.subject &&
           other.end <= place.begin && place.begin - other.end <= kReach;
  });
}

// "At the Point from February to October": the unit was not there on one of these days.
std::optional<When> wrong_end(const CheckInput& input, const ClaimIndex& index,
                              const Claim& place) {
  if (!place.role.empty()) return std::nullopt;
  const bool is_of_machine = input.ledger.airframe(place.subject) != nullptr;
  if (is_of_machine && !is_named_right_before(index, place)) return std::nullopt;
  return impossible_end(input, place,
                        [&](const When& end) { return days_at_place(input, index, place, end); });
}

// The row of the print that the caption names has it there.
bool is_place_of_print(const CheckInput& input, const ClaimIndex& index, const Claim& place) {
  const auto around = index.around(place);
  return std::any_of(around.begin(), around.end(), [&](std::uint32_t i) {
    const Claim& print = index.claim(i);
    if (print.kind != ClaimKind::kReference || print.role != "photograph" || !is_affirmed(print) ||
        (print.said & kSaidElsewhere) != 0)
      return false;
    const Photograph* row = input.ledger.photograph(print.value);
    return row != nullptr && !row->place.empty() &&
           (input.ledger.is_place_within(row->place, place.value) ||
            input.ledger.is_place_within(place.value, row->place));
  });
}

// A photograph of the machine that the ledger has was taken there then, caption or no caption.
bool was_photographed_there(const CheckInput& input, const Claim& place) {
  const Ledger& ledger = input.ledger;
  if (!place.when.known || ledger.airframe(place.subject) == nullptr) return false;
  const std::vector<const Photograph*> rows = ledger.photographs_of(place.subject);
  return std::any_of(rows.begin(), rows.end(), [&](const Photograph* row) {
    return !row->place.empty() && !row->taken.is_unknown() &&
           row->taken.days().intersects(place.when.days) &&
           (ledger.is_place_within(row->place, place.value) ||
            ledger.is_place_within(place.value, row->place));
  });
}

}  // namespace

std::vector<Query> check_place_disagrees(const CheckInput& input) {
  const ClaimIndex index(input);
  std::vector<Query> queries =
      judge_claims(input, ClaimKind::kPlace, [&](const Claim& claim) -> std::optional<Query> {
        if (!holds_at_its_date(input, claim) || !claim.known) return std::nullopt;
        if (!claim.role.empty() && claim.role != "approximate") return std::nullopt;
        const std::optional<Allowed> allowed = days_at_place(input, index, claim, claim.when);
        if (!allowed) return std::nullopt;
        std::optional<Level> level = level_of(claim, fit(claim.when, *allowed), Level::kError);
        When when = claim.when;
        if (!level) {
          const std::optional<When> end = wrong_end(input, index, claim);
          if (!end) return std::nullopt;
          when = *end;
          level = tempered(claim, Level::kWarning);
        }
        Grounds grounds;
        static_cast<void>(
            days_at_place(input, index, claim, when, Stations::kOfItsUnits, &grounds));
        std::vector<Evidence> evidence;
        std::string where, there;
        std::string_view unit;  // whose stations alone speak against the place
        bool has_one_unit = true, is_by_base = true;
        constexpr Day kStay = 14;  // a row so long tells of its base, and not of one day
        for (const Ground& ground : grounds.rows()) {
          const bool is_then = ground.is_against && ground.days.intersects(when.days);
          if (!is_then || evidence.size() >= kQuoted) continue;
          has_one_unit =
              has_one_unit && !ground.unit.empty() && (evidence.empty() || unit == ground.unit);
          unit = ground.unit;
          is_by_base = is_by_base && ground.days.last() - ground.days.first() > kStay;
          evidence.push_back(ground.evidence);
          if (where.find(ground.key) == std::string::npos) {
            where += (where.empty() ? "" : " and ") + std::string(ground.key);
            there += (there.empty() ? "" : " or ") + std::string(ground.key);
          }
        }
        if (evidence.empty()) return std::nullopt;
        // Its base and its unit's station tell nothing of a machine on a visit.
        const bool is_by_station =
            std::none_of(evidence.begin(), evidence.end(),
                         [](const Evidence& row) { return row.table == "histories.csv"; });
        const bool is_visitor =
            (claim.said & kSaidVisiting) != 0 && input.ledger.airframe(claim.subject) != nullptr;
        if (is_visitor && (is_by_station || is_by_base)) return std::nullopt;
        if (is_place_of_print(input, index, claim) || was_photographed_there(input, claim))
          return std::nullopt;
        std::string who = who_is_placed(input, index, claim, is_by_station);
        if (claim.subject.empty() && index.block_of(claim).kind != BlockKind::kCaption) {
          if (has_one_unit) who = unit;
        }
        std::string message = who + " is placed at " + claim.value;
        const std::string date = told_in_words(input, claim);
        if (!date.empty()) message += " " + date;
        message += when.days == claim.when.days ? ", but the ledger has it at " + where
                                                : ", but by the ledger it was then at " + where;
        Query query = query_at(kId, input, claim, *level, std::move(message));
        query.evidence = std::move(evidence);
        query.suggestion = there;
        return query;
      });
  return with_turns(std::move(queries), input, kId);
}

}  // namespace tailproof

// | situation                                                                  | level  |
// | another code (radio call, nickname) of the machine was certainly in use    | error  |
// | a former or later serial that belongs to another machine, or is not among  | error  |
// |   those of identities.csv                                                  |        |
// | a former number given as the later one, or the other way round             | error  |
// | constructor's number is not that of airframes.csv                          | error  |
// | a part of the recorded code ("E" of "NP-E"), however it is spaced          | silent |
// | had another by a day until which, or from which, it is said to have borne   | warning |
// |   this one                                                                 |         |
// | a tail shows what is neither the end of the serial nor any recorded        | error  |
// |   identity, while a radio call is recorded                                 |        |
// | undated: never recorded for the machine, and recorded for another one       | error  |
// | ... in a table: never recorded for the machine, whose codes leave it weeks  | warning |
// |   without one                                                              |         |
// | relics and traces of an earlier code, a gap between rows                   | silent |
// | a former code of the only machine of a caption or paragraph, that its rows | warning |
// |   never give it, and another's do                                          |         |
// | running text: taken up, or given up, more than a month off the day on which | warning |
// |   the machine did so                                                       |         |
// | a name that is another's, on a day on which it bore its own                 | warning |
// | no row of that kind for the machine, and another one certainly bore it     | warning |
// |   then (a name: at any time, where the caption is undated)                 |         |
// | no row of that kind for the machine otherwise                              | silent |
#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "tailproof/allowed_days.h"
#include "tailproof/told_ends.h"
#include "tailproof/turns.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "code-disagrees";
constexpr std::size_t kQuoted = 4;

// Who did bear the code on those days: the strongest evidence against this machine.
void quote_bearers(const Ledger& ledger, const Claim& claim, Query& query) {
  const auto own = ledger.serials_of(claim.subject);
  for (const Identity* row : ledger.bearers_of(claim.value)) {
    const bool is_own = std::find(own.begin(), own.end(), row->serial) != own.end();
    if (is_own || !row->spell.possible().intersects(claim.when.days)) continue;
    if (query.evidence.size() >= 2 * kQuoted) return;
    query.evidence.push_back(quote_identity(*row));
  }
}

// "FT-D and 74".
std::string codes_in_words(const std::vector<const Identity*>& rows) {
  std::vector<std::string> codes;
  for (const Identity* row : rows) {
    if (std::find(codes.begin(), codes.end(), row->identity) == codes.end())
      codes.push_back(row->identity);
  }
  std::string words;
  for (std::size_t i = 0; i < codes.size(); ++i)
    words += (i == 0 ? "" : i + 1 == codes.size() ? " and " : ", ") + codes[i];
  return words;
}

bool is_borne_by_another(const Ledger& ledger, const Claim& claim) {
  const auto own = ledger.serials_of(claim.subject);
  const auto bearers = ledger.bearers_of(claim.value);
  return std::any_of(bearers.begin(), bearers.end(), [&](const Identity* row) {
    return row->kind == claim.role && std::find(own.begin(), own.end(), row->serial) == own.end();
  });
}

// Of a machine without any such row: two at one time do not bear the same code or name. A letter
// or two are not enough, since every unit has its A. `claim` is what `given` is taken for.
std::optional<Query> judge_borrowed(const CheckInput& input, const Claim& given,
                                    const Claim& claim) {
  constexpr std::size_t kFewestSigns = 3;
  const Ledger& ledger = input.ledger;
  const bool is_name = claim.role == "nickname";
  if (bare(claim.value).size() < kFewestSigns || (!claim.when.known && !is_name)) {
    return std::nullopt;
  }
  const auto own = ledger.serials_of(claim.subject);
  std::vector<const Identity*> others;
  for (const Identity* row : ledger.bearers_of(claim.value)) {
    if (row->kind != claim.role || !is_same_identity(row->identity, claim.value)) continue;
    if (std::find(own.begin(), own.end(), row->serial) != own.end()) return std::nullopt;
    const DaySet certain = certain_days(row->spell, ledger.settings().margins).narrowed;
    if (claim.when.known && !certain.covers(claim.when.widened)) continue;
    others.push_back(row);
  }
  if (others.empty()) return std::nullopt;
  std::string message = claim.subject + " is given " + claim.value;
  if (const std::string date = when_in_words(claim.when); !date.empty()) message += " " + date;
  message += ", which " + others.front()->serial + (is_name ? " was called" : " carried");
  Query query = query_at(kId, input, given, tempered(claim, Level::kWarning), std::move(message));
  for (const Identity* row : others) query.evidence.push_back(quote_identity(*row));
  query.suggestion = "another " + std::string(is_name ? "name" : "code") + " for " + claim.subject +
                     ", or " + others.front()->serial;
  return query;
}

// A name that the ledger gives to another machine alone, on a day on which this one bore its own.
bool is_called_otherwise(const Ledger& ledger, const Claim& claim) {
  if (!is_borne_by_another(ledger, claim)) return false;
  const auto rows = ledger.identities_of(claim.subject);
  return std::any_of(rows.begin(), rows.end(), [&](const Identity* row) {
    return row->kind == claim.role &&
           certain_days(row->spell, ledger.settings().margins).narrowed.covers(claim.when.widened);
  });
}

// Whether both numbers were in use together for long: no two numbers of one machine are.
bool are_used_together(const Ledger& ledger, std::string_view one, std::string_view other) {
  constexpr Day kLongDays = 61;
  const std::optional<DaySet> first = ledger.life_of(one, true),
                              second = ledger.life_of(other, true);
  if (!first || !second) return false;
  const DaySet both = first->intersect(*second);
  return !both.empty() && both.first() > kFirstDay && both.last() < kLastDay &&
         both.last() - both.first() > kLongDays;
}

bool has_number_row(const Ledger& ledger, std::string_view serial) {
  const auto rows = ledger.identities_of(serial);
  return std::any_of(rows.begin(), rows.end(), [](const Identity* row) {
    return row->kind == "previous_serial" || row->kind == "later_serial";
  });
}

bool is_row_of_table(const CheckInput& input, const Claim& claim) {
  return input.manuscripts[claim.manuscript].blocks[claim.block].kind == BlockKind::kTableRow;
}

// "Wore HN-09 until July": the days on which it can have done so, around that July. Nothing where
// there was no machine then, which is asked elsewhere.
std::optional<Allowed> days_at_end(const Ledger& ledger, const Claim& told, const When& end,
                                   const std::optional<Allowed>& life) {
  Claim claim = told;
  claim.when = end;
  std::optional<Allowed> allowed = days_of_identity(ledger, claim);
  if (!allowed || !life) return allowed;
  if (!life->days.intersects(end.days)) return std::nullopt;
  return intersect(*allowed, *life);
}

std::optional<Query> judge_code(const CheckInput& input, const Claim& given) {
  const Ledger& ledger = input.ledger;
  Claim claim = given;
  const std::vector<const Identity*> rows = identities_meant(ledger, claim);
  std::optional<Allowed> days = days_of_identity(ledger, claim);
  if (!days) return judge_borrowed(input, given, claim);
  Allowed allowed = *std::move(days);
  Level highest = Level::kError;
  const bool is_own = std::any_of(rows.begin(), rows.end(), [&](const Identity* row) {
    return is_same_identity(row->identity, claim.value) ||
           is_part_of_identity(claim.value, row->identity);
  });
  // A machine may have several names, though not that of another.
  if (claim.role == "nickname" && !is_own) {
    if (std::optional<Query> borrowed = judge_borrowed(input, given, claim)) return borrowed;
  }
  const std::optional<Allowed> life = days_of_life(ledger, claim.subject);
  // What holds on no day holds on none of those that a table's caption names.
  const bool is_of_table = claim.when.known && claim.when.inherited && claim.when.date == kNone;
  if (is_of_table && !is_own && is_borne_by_another(ledger, claim)) claim.when = When();
  if (!claim.when.known && !is_own && is_borne_by_another(ledger, claim)) {
    // Undated: never its own, and known as another's.
    allowed = Allowed::none();
  } else if (claim.role == "nickname" && !is_own && is_called_otherwise(ledger, claim)) {
    allowed = Allowed::none();
    highest = Level::kWarning;
  } else if (!claim.when.known) {
    if (!life) return std::nullopt;
    allowed = intersect(allowed, *life);
    if (!is_own && is_row_of_table(input, claim) &&
        without_short_gaps(allowed.days, life->days).empty()) {
      allowed = Allowed::none();
      highest = Level::kWarning;
    }
  } else if (life && life->days.intersects(claim.when.days)) {
    // Of a stretch of days only those on which there was a machine to carry it.
    allowed = intersect(allowed, *life);
  }
  std::string date = when_in_words(claim.when);
  std::optional<Level> level = level_of(claim, fit(claim.when, allowed), highest);
  if (!level) {
    const std::optional<When> end = impossible_end(
        input, claim, [&](const When& when) { return days_at_end(ledger, claim, when, life); });
    if (!end) return std::nullopt;
    level = tempered(claim, Level::kWarning);
    claim.when.days = end->days;
    claim.when.widened = end->widened;
    date = told_in_words(input, given);
  }
  std::string message = claim.subject + " is given " + claim.value;
  if (!date.empty()) message += " " + date;
  std::string then;
  for (const Identity* row : rows) {
    if (row->kind != claim.role || !row->spell.possible().intersects(claim.when.days)) continue;
    then += (then.empty() ? "" : " and ") + row->identity + " " + in_words(row->spell);
  }
  message += ", but carried " + (then.empty() ? "another" : then);
  Query query = query_at(kId, input, given, *level, std::move(message));
  for (const Identity* row : rows) {
    const bool is_of_interest = row->spell.possible().intersects(claim.when.days) ||
                                is_same_identity(row->identity, claim.value);
    if (!is_of_interest || query.evidence.size() >= kQuoted) continue;
    query.evidence.push_back(quote_identity(*row));
    const bool is_said = query.suggestion.find(row->identity) != std::string::npos;
    if (row->kind == claim.role && !is_said && row->spell.possible().intersects(claim.when.days)) {
      query.suggestion += (query.suggestion.empty() ? "" : " or ") + row->identity;
    }
  }
  quote_bearers(ledger, claim, query);
  return query;
}

// A tail shows the end of the serial, or a number made from it that stands in the ledger as the
// radio call; a row without dates holds as long as the serial does.
std::optional<Query> judge_tail(const CheckInput& input, const Claim& claim) {
  const Ledger& ledger = input.ledger;
  const std::string shown = bare(claim.value);
  for (const std::string_view serial : ledger.serials_of(claim.subject)) {
    if (bare(serial).ends_with(shown)) return std::nullopt;
  }
  std::vector<const Identity*> calls;
  for (const Identity* row : ledger.identities_of(claim.subject)) {
    if (is_same_identity(row->identity, claim.value) ||
        is_part_of_identity(claim.value, row->identity)) {
      return std::nullopt;
    }
    if (row->kind != "radio_call") continue;
    const Spell& spell = row->spell;
    const bool is_undated =
        spell.from.is_unknown() && (spell.to.is_unknown() || spell.ends_by_rule);
    const DaySet certain = certain_days(spell, ledger.settings().margins).narrowed;
    if (is_undated || (claim.when.known && certain.covers(claim.when.widened))) {
      calls.push_back(row);
    }
  }
  if (calls.empty()) return std::nullopt;
  Query query = query_at(kId, input, claim, tempered(claim, Level::kError),
                         claim.subject + " is given " + claim.value + " on its tail, but carried " +
                             calls.front()->identity);
  for (const Identity* row : calls) query.evidence.push_back(quote_identity(*row));
  query.suggestion = calls.front()->identity;
  quote_bearers(ledger, claim, query);
  return query;
}

// Former and later serials do not depend on the date of the picture.
std::optional<Query> judge_serial(const CheckInput& input, const Claim& claim) {
  const Ledger& ledger = input.ledger;
  bool has_row = false;
  bool is_reversed = false;
  std::string recorded;
  std::vector<Evidence> evidence;
  for (const Identity* row : ledger.identities_of(claim.subject)) {
    if (row->kind != "previous_serial" && row->kind != "later_serial") continue;
    // A row says the same of both of its numbers, each seen from the other.
    const bool is_about_subject = row->serial == claim.subject;
    const std::string& number = is_about_subject ? row->identity : row->serial;
    const bool is_previous = (row->kind == "previous_serial") == is_about_subject;
    const bool is_same_role = is_previous == (claim.role == "previous_serial");
    if (is_same_identity(number, claim.value)) {
      if (is_same_role) return std::nullopt;
      is_reversed = true;
    }
    has_row = has_row || is_same_role || is_reversed;
    recorded = is_same_role ? number : recorded;
    evidence.push_back(quote_identity(*row));
  }
  const auto own = ledger.serials_of(claim.subject);
  const bool is_own = std::find(own.begin(), own.end(), claim.value) != own.end();
  // One of several numbers of the machine, though no row says in which order.
  if (is_own && !is_reversed) return std::nullopt;
  const Airframe* other = is_own ? nullptr : ledger.airframe(claim.value);
  // Two rows that no row joins may be one machine all the same.
  if (!has_row && (other == nullptr || (!has_number_row(ledger, claim.value) &&
                                        !are_used_together(ledger, claim.subject, claim.value)))) {
    return std::nullopt;
  }
  const std::string what = claim.role == "previous_serial" ? "former" : "later";
  std::string message = claim.value + " is given as the " + what + " number of " + claim.subject;
  if (is_reversed) {
    message += ", but the ledger has them the other way round";
  } else if (!recorded.empty()) {
    message += ", which was " + recorded;
  } else {
    message += ", but is another machine";
  }
  Query query = query_at(kId, input, claim, tempered(claim, Level::kError), std::move(message));
  query.evidence = std::move(evidence);
  if (other != nullptr) {
    query.evidence.push_back(
        quote(other->row, other->serial + " is " + with_article(other->type + " " + other->mark)));
  }
  for (const Identity* row : ledger.bearers_of(claim.value)) {
    if (query.evidence.size() < 2 * kQuoted) {
      query.evidence.push_back(quote_identity(*row));
    }
  }
  query.suggestion = recorded;
  return query;
}

std::optional<Query> judge_constructor_number(const CheckInput& input, const Claim& claim) {
  std::string recorded;
  std::vector<Evidence> evidence;
  for (const Airframe* airframe : input.ledger.machine_of(claim.subject)) {
    if (airframe->constructor_number.empty()) continue;
    const std::string& number = airframe->constructor_number;
    if (is_same_identity(number, claim.value) || is_part_of_identity(claim.value, number)) {
      return std::nullopt;
    }
    recorded = number;
    evidence.push_back(
        quote(airframe->row, airframe->serial + " is constructor's number " + number));
  }
  if (recorded.empty()) return std::nullopt;
  Query query = query_at(
      kId, input, claim, tempered(claim, Level::kError),
      claim.subject + " is given constructor's number " + claim.value + ", which was " + recorded);
  query.evidence = std::move(evidence);
  query.suggestion = recorded;
  return query;
}

// "The aircraft had been FT-E at Wenlow": a code of another day that this machine, the only one of
// the caption, never had by rows that tell of others, and another had.
std::optional<Query> judge_former_code(const CheckInput& input, const ClaimIndex& index,
                                       const Claim& claim) {
  constexpr std::size_t kFewestSigns = 3;
  const Ledger& ledger = input.ledger;
  const bool is_told = claim.role == "code" && claim.tense == Tense::kFormer &&
                       is_affirmed(claim) && !claim.hedged && claim.known &&
                       claim.readings.empty() && bare(claim.value).size() >= kFewestSigns;
  const BlockKind block = index.block_of(claim).kind;
  if (!is_told || (block != BlockKind::kCaption && block != BlockKind::kBody)) return std::nullopt;
  const std::vector<const Identity*> rows = identities_meant(ledger, claim);
  const bool is_own = std::any_of(rows.begin(), rows.end(), [&](const Identity* row) {
    return is_same_identity(row->identity, claim.value) ||
           is_part_of_identity(claim.value, row->identity);
  });
  if (rows.size() < 2 || is_own || !is_borne_by_another(ledger, claim)) return std::nullopt;
  const auto around = index.around(claim);
  // Behind the machine: "FT-E's crew on X12" has it of another.
  const bool is_behind = std::any_of(around.begin(), around.end(), [&](std::uint32_t i) {
    const Claim& machine = index.claim(i);
    return machine.kind == ClaimKind::kAirframe && machine.role.empty() &&
           machine.subject == claim.subject && machine.block == claim.block &&
           machine.end <= claim.begin;
  });
  if (!is_behind) return std::nullopt;
  const bool has_other = std::any_of(around.begin(), around.end(), [&](std::uint32_t i) {
    const Claim& other = index.claim(i);
    return other.kind == ClaimKind::kAirframe && other.subject != claim.subject &&
           other.value != claim.subject;
  });
  if (has_other) return std::nullopt;
  Query query = query_at(kId, input, claim, Level::kWarning,
                         claim.subject + " is said to have been " + claim.value +
                             " once, but the ledger has it only as " + codes_in_words(rows));
  for (const Identity* row : rows) {
    if (query.evidence.size() < kQuoted) query.evidence.push_back(quote_identity(*row));
  }
  quote_bearers(ledger, claim, query);
  return query;
}

// "Became FT-E in May 1941", "in May 1941 FT-D was painted out": of a code that it had indeed.
std::optional<Query> judge_turned(const CheckInput& input, const Claim& claim) {
  constexpr Day kSlack = 31;
  const bool is_begin = claim.turn == Turn::kRenumbered;
  if ((!is_begin && claim.turn != Turn::kWithdrawn) || !is_affirmed(claim) || claim.hedged ||
      !claim.when.known || claim.when.widened.empty())
    return std::nullopt;
  std::vector<const Identity*> own;
  for (const Identity* row : identities_meant(input.ledger, claim)) {
    if (row->kind != claim.role || !is_same_identity(row->identity, claim.value)) continue;
    const Edtf& end = is_begin ? row->spell.from : row->spell.to;
    if (end.is_unknown() || end.days().empty() || (!is_begin && row->spell.ends_by_rule))
      return std::nullopt;
    if (end.days().first() <= claim.when.widened.last() + kSlack &&
        end.days().last() >= claim.when.widened.first() - kSlack)
      return std::nullopt;
    own.push_back(row);
  }
  if (own.empty()) return std::nullopt;
  Query query = query_at(
      kId, input, claim, Level::kWarning,
      claim.subject + " is said to have " + (is_begin ? "taken up " : "given up ") + claim.value +
          " " + when_in_words(claim.when) + ", but carried it " + in_words(own.front()->spell));
  for (const Identity* row : own) query.evidence.push_back(quote_identity(*row));
  return query;
}

}  // namespace

std::vector<Query> check_code_disagrees(const CheckInput& input) {
  const ClaimIndex index(input);
  std::vector<Query> queries =
      judge_claims(input, ClaimKind::kAirframe, [&](const Claim& claim) -> std::optional<Query> {
        if (claim.role.empty() || claim.subject.empty() || claim.subject == claim.value) {
          return std::nullopt;
        }
        if (input.ledger.machine_of(claim.subject).empty()) return std::nullopt;
        if (claim.role == "previous_serial" || claim.role == "later_serial") {
          return is_affirmed(claim) ? judge_serial(input, claim) : std::nullopt;
        }
        if (claim.role == "constructor_number") {
          return is_affirmed(claim) ? judge_constructor_number(input, claim) : std::nullopt;
        }
        // A relic, trace or ghost of a code is a past state, and so is one said to have been
        // removed.
        const bool is_worn = holds_at_its_date(input, claim) && claim.state == MarkingState::kWorn;
        if (claim.role == "code") {
          if (std::optional<Query> query = judge_turned(input, claim)) return query;
        }
        if (!is_worn) return judge_former_code(input, index, claim);
        if (claim.role == "tail") return judge_tail(input, claim);
        if (claim.role != "code" && claim.role != "radio_call" && claim.role != "nickname") {
          return std::nullopt;
        }
        return judge_code(input, claim);
      });
  return with_turns(std::move(queries), input, kId);
}

}  // namespace tailproof

#include "checks/other_readings.h"

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "tailproof/allowed_days.h"
#include "tailproof/claim_index.h"
#include "tailproof/event_dates.h"
#include "tailproof/verdict.h"

namespace tailproof {
namespace {

// What speaks for another reading.
struct Doubt {
  std::string words;
  std::optional<Evidence> evidence;
};

// A query, the claim at which it stands, and the days of that claim.
struct Case {
  const std::vector<Query>& queries;
  const CheckInput& input;
  const ClaimIndex& index;
  const Query& query;
  const Claim& claim;
  const Claim* date = nullptr;

  [[nodiscard]] const Ledger& ledger() const { return input.ledger; }
  [[nodiscard]] const DaySet& days() const { return date->date.days(); }
};

bool is_one_day(const DaySet& days) { return !days.empty() && days.first() == days.last(); }

bool is_day(const Edtf& date) {
  return !date.is_unknown() && date.precision() == Precision::kDay && is_one_day(date.days());
}

bool is_on(const Edtf& date, const DaySet& days) {
  return is_day(date) && is_one_day(days) && date.days().first() == days.first();
}

bool is_same_machine(const Ledger& ledger, std::string_view one, std::string_view other) {
  if (one == other) return true;
  const std::vector<std::string_view> serials = ledger.serials_of(one);
  return std::find(serials.begin(), serials.end(), other) != serials.end();
}

// The machine that a claim names, under the number at which the ledger has it.
std::string_view machine_of(const Claim& claim) {
  return claim.subject.empty() && claim.role.empty() ? claim.value : claim.subject;
}

// "X12. With the School until it burnt on 3 May.": the block begins with its machine, of which all
// is told that names no other.
bool is_entry_of(const Case& one) {
  constexpr std::uint32_t kLabel = 3;
  const auto around = one.index.around(one.claim);
  return std::any_of(around.begin(), around.end(), [&](std::uint32_t at) {
    const Claim& label = one.index.claim(at);
    const std::string_view text = one.index.block_text(one.claim);
    const std::size_t next = text.find_first_not_of(" *_", label.end);
    return label.kind == ClaimKind::kAirframe && label.block == one.claim.block &&
           label.begin < kLabel && machine_of(label) == one.query.subject &&
           next != std::string_view::npos &&
           std::string_view(".,:(").find(text[next]) != std::string_view::npos;
  });
}

// The first of the other machines named around the claim, or of an entry in its sentence alone, for
// which `speaks` (serial -> std::optional<Doubt>).
template <typename Speaks>
std::optional<Doubt> first_of_others(const Case& one, const Speaks& speaks) {
  const auto sentence = one.index.in_sentence(one.claim);
  const bool is_entry = is_entry_of(one);
  for (const std::uint32_t at : one.index.around(one.claim)) {
    const Claim& other = one.index.claim(at);
    if (other.kind != ClaimKind::kAirframe || other.negated) continue;
    const bool is_beside = &other >= sentence.data() && &other < sentence.data() + sentence.size();
    if (is_entry && !is_beside) continue;
    const std::string_view serial = machine_of(other);
    if (serial.empty() || is_same_machine(one.ledger(), one.query.subject, serial)) continue;
    if (std::optional<Doubt> doubt = speaks(serial)) return doubt;
  }
  return std::nullopt;
}

// Whether the same check has a query about that machine in the same block: two the wrong way round
// are one slip, and no doubt.
bool is_queried_too(const Case& one, std::string_view serial) {
  // Those of one check and block stand side by side.
  const auto is_beside = [&](const Query& other) {
    return other.check == one.query.check && other.manuscript == one.query.manuscript &&
           other.block == one.query.block;
  };
  const auto own = static_cast<std::size_t>(&one.query - one.queries.data());
  for (std::size_t i = own; i-- > 0 && is_beside(one.queries[i]);) {
    if (one.queries[i].subject == serial) return true;
  }
  for (std::size_t i = own + 1; i < one.queries.size() && is_beside(one.queries[i]); ++i) {
    if (one.queries[i].subject == serial) return true;
  }
  return false;
}

// "Lost on that day were X12 and X14": told of both alike.
bool is_told_of_both(const Case& one, std::string_view serial) {
  const auto beside = one.index.in_sentence(one.claim);
  return std::any_of(beside.begin(), beside.end(), [&](const Claim& other) {
    return other.kind == one.claim.kind && other.begin == one.claim.begin &&
           other.subject == serial;
  });
}

// "X12, and with it the last of the Tern Is, X14, was scrapped on 30 January": X14 was, that day.
std::optional<Doubt> befell_another(const Case& one) {
  constexpr Day kMonth = 31;
  if (one.claim.kind != ClaimKind::kEvent || one.date == nullptr || one.days().empty() ||
      one.days().last() - one.days().first() >= kMonth)
    return std::nullopt;
  const NamedMachine named = machine_beside(one.index, one.claim);
  if (named.is_unparted()) return std::nullopt;
  return first_of_others(one, [&](std::string_view serial) -> std::optional<Doubt> {
    if (is_queried_too(one, serial) || is_told_of_both(one, serial)) return std::nullopt;
    Claim probe = one.claim;
    probe.subject = serial;
    for (EventDate& told : dates_of_event(one.ledger(), probe)) {
      const bool is_it = is_day(*told.date) && one.days().contains(told.date->days().first());
      if (!is_it && told.date->days() != one.days()) continue;
      return Doubt{std::string(serial) + ", named beside it, was then", std::move(told.evidence)};
    }
    return std::nullopt;
  });
}

// Whether another date around the claim is of the month of that day.
bool names_month_of(const Case& one, Day day) {
  const CivilDate told = to_civil(day);
  const auto around = one.index.around(one.claim);
  return std::any_of(around.begin(), around.end(), [&](std::uint32_t at) {
    const Claim& other = one.index.claim(at);
    if (other.kind != ClaimKind::kDate || other.impossible || other.date.is_unknown() ||
        other.date.precision() > Precision::kMonth)
      return false;
    const CivilDate month = to_civil(other.date.days().first());
    return month.year == told.year && month.month == told.month;
  });
}

// "Written off on 1 March", told after something of 1940: it was, on 1 March 1943. "Ditched on the
// 21st": of the other month that the caption names.
std::optional<Doubt> befell_in_another_year(const Case& one) {
  if (one.claim.kind != ClaimKind::kEvent || one.date == nullptr || !is_one_day(one.days()))
    return std::nullopt;
  const CivilDate said = to_civil(one.days().first());
  for (EventDate& told : dates_of_event(one.ledger(), one.claim)) {
    if (!is_day(*told.date)) continue;
    const CivilDate row = to_civil(told.date->days().first());
    const bool is_of_year = (one.date->said & kSaidYearUnsaid) != 0 && row.month == said.month;
    const bool is_of_month =
        (one.date->said & kSaidMonthUnsaid) != 0 && names_month_of(one, told.date->days().first());
    if (row.day == said.day && (is_of_year || is_of_month))
      return Doubt{"the ledger has such a day, " + in_words(*told.date) +
                       ", and the words leave open which is meant",
                   std::move(told.evidence)};
  }
  return std::nullopt;
}

// The spells of the machine that begin or end on the day of the case.
std::vector<const History*> turns_of_that_day(const Case& one, std::string_view serial) {
  std::vector<const History*> rows = one.ledger().history_of(serial);
  std::erase_if(rows, [&](const History* row) {
    return !is_on(row->spell.from, one.days()) && !is_on(row->spell.to, one.days());
  });
  return rows;
}

Doubt doubt_of_turn(const History& row) {
  return {"something else befell " + row.serial + " that very day",
          quote(row.row, row.serial + " " + row.kind + (row.unit.empty() ? "" : ", " + row.unit) +
                             " " + in_words(row.spell))};
}

// "It left us on 28 April 1944 to teach mechanics at Tane": the day of the leaving, and the place
// where it went. Of a loss it is the place of the loss that is told; so where a row has a place.
std::optional<Doubt> moved_that_day(const Case& one) {
  if (one.date == nullptr || !is_one_day(one.days()) || one.date->of != "event")
    return std::nullopt;
  const std::vector<const History*> rows = turns_of_that_day(one, one.query.subject);
  const bool are_moves = std::all_of(rows.begin(), rows.end(), [&](const History* row) {
    return row->kind == "allotted" && (row->place.empty() || !is_on(row->spell.from, one.days()));
  });
  if (rows.empty() || !are_moves) return std::nullopt;
  return doubt_of_turn(*rows.front());
}

// "After that it went back to 31 Squadron and was scrapped on 2 December 1946": the day of the
// scrapping, months after the squadron's last.
std::optional<Doubt> is_day_of_machine(const Case& one) {
  if (one.claim.kind != ClaimKind::kUnit || one.date == nullptr || !is_one_day(one.days()) ||
      one.date->of != "event")
    return std::nullopt;
  for (const Claim& other : one.index.in_sentence(one.claim)) {
    const bool is_machine = other.kind == ClaimKind::kAirframe || other.kind == ClaimKind::kEvent;
    const std::string_view serial = is_machine ? machine_of(other) : std::string_view();
    if (serial.empty()) continue;
    for (const Airframe* row : one.ledger().machine_of(serial)) {
      if (is_on(row->struck_off_charge, one.days()) || is_on(row->taken_on_charge, one.days()))
        return Doubt{
            "that day is told of " + row->serial,
            quote(row->row, row->serial + " taken on charge " + in_words(row->taken_on_charge) +
                                ", struck off charge " + in_words(row->struck_off_charge))};
    }
    for (const History* row : turns_of_that_day(one, serial)) {
      if (row->unit != one.claim.value) return doubt_of_turn(*row);
    }
  }
  return std::nullopt;
}

// "It landed at Tane on 22 May 1943; here, in October 1943, it is with the School": the archive has
// the picture taken in October.
std::optional<Doubt> other_date_is_archives(const Case& one) {
  if (one.claim.kind != ClaimKind::kDate) return std::nullopt;
  for (const std::uint32_t at : one.index.around(one.claim)) {
    const Claim& reference = one.index.claim(at);
    if (reference.kind != ClaimKind::kReference) continue;
    const Photograph* row = one.ledger().photograph(reference.value);
    if (row == nullptr || row->taken.is_unknown()) continue;
    for (const std::uint32_t beside : one.index.around(one.claim)) {
      const Claim& date = one.index.claim(beside);
      const bool is_other = date.kind == ClaimKind::kDate && !date.impossible && !date.negated &&
                            date.date.days() != one.claim.date.days();
      if (is_other && date.date.days() == row->taken.days())
        return Doubt{"the text also gives " + in_words(date.date),
                     quote(row->row, row->photograph + " taken " + in_words(row->taken))};
    }
  }
  return std::nullopt;
}

// "X12, the companion of X14, with the code N01": X14 is the one that carried another.
std::optional<Doubt> code_of_another(const Case& one) {
  if (one.claim.kind != ClaimKind::kAirframe) return std::nullopt;
  const bool is_works_number = one.claim.role == "constructor_number";
  if (!is_works_number && one.claim.role != "code") return std::nullopt;
  // "X12 (N01)" leaves no doubt whose it is.
  constexpr std::size_t kBracket = 2;
  const NamedMachine named = machine_beside(one.index, one.claim);
  if (named.before != nullptr && named.between.size() <= kBracket) return std::nullopt;
  return first_of_others(one, [&](std::string_view serial) -> std::optional<Doubt> {
    if (is_works_number) {
      for (const Airframe* row : one.ledger().machine_of(serial)) {
        if (bare(row->constructor_number) == bare(one.claim.value))
          return Doubt{
              "it is that of " + row->serial + ", named beside it",
              quote(row->row, row->serial + " is constructor's number " + row->constructor_number)};
      }
      return std::nullopt;
    }
    for (const Identity* row : one.ledger().identities_of(serial)) {
      if (bare(row->identity) == bare(one.claim.value) && !is_queried_too(one, serial) &&
          row->spell.possible().intersects(one.claim.when.days))
        return Doubt{row->serial + ", named beside it, carried it then", quote_identity(*row)};
    }
    return std::nullopt;
  });
}

Doubt doubt_of_service(const Service& row) {
  return {"that is the day of " + row.person + ", named beside it", quote_service(row)};
}

// "Captain Tane led it, having followed Commander Orpe. He was made Commander himself on 1 July":
// Tane was.
std::optional<Doubt> was_another_person(const Case& one) {
  if (one.date == nullptr || !is_one_day(one.days())) return std::nullopt;
  const std::string& value =
      one.claim.kind == ClaimKind::kDate ? one.claim.turned_to : one.claim.value;
  if (value.empty()) return std::nullopt;
  for (const std::uint32_t at : one.index.around(one.claim)) {
    const Claim& person = one.index.claim(at);
    if (person.kind != ClaimKind::kPerson || person.value == one.query.subject) continue;
    for (const Service* row : one.ledger().service_of(person.value)) {
      const bool is_day = is_on(row->spell.from, one.days()) || is_on(row->spell.to, one.days());
      if (row->value == value && is_day) return doubt_of_service(*row);
    }
  }
  return std::nullopt;
}

// "Joined it in 1936 and left on 20 April 1942 for the Fifth": left the First, that is.
std::optional<Doubt> left_another_unit(const Case& one) {
  if (one.date == nullptr || !is_one_day(one.days()) || one.date->of == "photograph")
    return std::nullopt;
  const std::string& value =
      one.claim.kind == ClaimKind::kDate ? one.claim.turned_to : one.claim.value;
  for (const Service* row : one.ledger().service_of(one.query.subject)) {
    const bool is_of_unit = row->kind == "unit" || row->kind == "command";
    const bool is_then = is_on(row->spell.from, one.days()) || is_on(row->spell.to, one.days());
    if (is_of_unit && row->value != value && is_then)
      return Doubt{"that is a day of " + row->value, quote_service(*row)};
  }
  return std::nullopt;
}

// "It left four days later for the Workshops and came back as N10 of the Third": the day of another
// unit that the text names.
std::optional<Doubt> came_to_another_unit(const Case& one) {
  if (one.claim.kind != ClaimKind::kUnit || one.claim.tense != Tense::kThen ||
      one.date == nullptr || !is_one_day(one.days()))
    return std::nullopt;
  for (const History* row : turns_of_that_day(one, one.query.subject)) {
    if (row->unit.empty() || row->unit == one.claim.value) continue;
    for (const std::uint32_t at : one.index.around(one.claim)) {
      const Claim& other = one.index.claim(at);
      if (other.kind == ClaimKind::kUnit && other.value == row->unit)
        return Doubt{
            "that is a day of " + row->unit + ", named beside it",
            quote(row->row, row->serial + " with " + row->unit + " " + in_words(row->spell))};
    }
  }
  return std::nullopt;
}

// "The letters KU-C belong to the Sixteenth; the Twelfth flew it": the code that it then had is
// that unit's, whoever had the machine.
std::optional<Doubt> had_units_code(const Case& one) {
  if (one.claim.kind != ClaimKind::kUnit || !one.claim.role.empty() || one.date == nullptr)
    return std::nullopt;
  const auto sentence = one.index.in_sentence(one.claim);
  for (const Identity* row : one.ledger().identities_of(one.query.subject)) {
    const bool is_named = std::any_of(sentence.begin(), sentence.end(), [&](const Claim& other) {
      return other.kind == ClaimKind::kAirframe && other.role == "code" &&
             bare(other.value) == bare(row->identity);
    });
    if (is_named && row->operator_unit == one.claim.value &&
        row->spell.possible().intersects(one.days()))
      return Doubt{"its code was that of " + row->operator_unit, quote_identity(*row)};
  }
  return std::nullopt;
}

// Another date of the claim's sentence, of which it tells nothing of the kind of that machine or
// person, and at which `agrees` (DaySet -> std::optional<Evidence>).
template <typename Agrees>
std::optional<Doubt> at_another_time(const Case& one, const Agrees& agrees) {
  if (one.date == nullptr) return std::nullopt;
  const auto sentence = one.index.in_sentence(one.claim);
  for (const Claim& other : sentence) {
    const bool is_other = other.kind == ClaimKind::kDate && !other.impossible && !other.negated &&
                          other.date.days() != one.days() && !other.date.days().is_all();
    if (!is_other) continue;
    const std::uint32_t at = one.index.index_of(other);
    const bool is_taken = std::any_of(sentence.begin(), sentence.end(), [&](const Claim& beside) {
      return beside.kind == one.claim.kind && beside.role == one.claim.role &&
             beside.subject == one.claim.subject && beside.when.known && beside.when.date == at;
    });
    if (is_taken) continue;
    if (std::optional<Evidence> row = agrees(other.date.days()))
      return Doubt{"it was so at the other time that the sentence names", std::move(row)};
  }
  return std::nullopt;
}

std::optional<Doubt> had_unit_then(const Case& one) {
  if (one.claim.kind != ClaimKind::kUnit) return std::nullopt;
  const auto history = one.ledger().history_of(one.query.subject);
  return at_another_time(one, [&](const DaySet& days) -> std::optional<Evidence> {
    for (const History* row : history) {
      if (row->unit == one.claim.value && row->spell.possible().covers(days))
        return quote(row->row, row->serial + " with " + row->unit + " " + in_words(row->spell));
    }
    return std::nullopt;
  });
}

// "Her number was 62, except from January to August".
std::optional<Doubt> had_code_then(const Case& one) {
  if (one.claim.role != "code") return std::nullopt;
  const auto identities = one.ledger().identities_of(one.query.subject);
  return at_another_time(one, [&](const DaySet& days) -> std::optional<Evidence> {
    for (const Identity* row : identities) {
      if (bare(row->identity) == bare(one.claim.value) && row->spell.possible().covers(days))
        return quote_identity(*row);
    }
    return std::nullopt;
  });
}

std::optional<Doubt> served_then(const Case& one) {
  if (one.claim.kind == ClaimKind::kDate) return std::nullopt;
  const auto service = one.ledger().service_of(one.query.subject);
  return at_another_time(one, [&](const DaySet& days) -> std::optional<Evidence> {
    for (const Service* row : service) {
      if (row->value == one.claim.value && row->spell.possible().covers(days))
        return quote_service(*row);
    }
    return std::nullopt;
  });
}

std::optional<Doubt> unit_was_then(const Case& one) {
  if (one.claim.kind != ClaimKind::kUnit) return std::nullopt;
  const std::optional<Allowed> life = days_of_unit(one.ledger(), one.claim);
  const Unit* row = one.ledger().unit(one.claim.value);
  if (!life || row == nullptr) return std::nullopt;
  return at_another_time(one, [&](const DaySet& days) -> std::optional<Evidence> {
    return life->days.covers(days) ? std::optional(quote_unit(*row)) : std::nullopt;
  });
}

// "July 1946. Delivered on 23 August 1943, it crashed on Friday the 12th": of the month of another
// date it is a Friday.
std::optional<Doubt> fits_another_month(const Case& one) {
  if (one.claim.kind != ClaimKind::kDate || one.claim.weekday < 0 ||
      !is_one_day(one.claim.date.days()) || (one.claim.said & kSaidMonthUnsaid) == 0)
    return std::nullopt;
  const unsigned day = to_civil(one.claim.date.days().first()).day;
  for (const std::uint32_t at : one.index.around(one.claim)) {
    const Claim& other = one.index.claim(at);
    if (other.kind != ClaimKind::kDate || other.impossible || other.date.is_unknown() ||
        other.date.precision() > Precision::kMonth)
      continue;
    const CivilDate month = to_civil(other.date.days().first());
    if (day > days_in_month(month.year, month.month)) continue;
    const Day meant = to_day({month.year, month.month, day});
    if (weekday(meant) == static_cast<unsigned>(one.claim.weekday))
      return Doubt{in_words(meant) + " would be one", std::nullopt};
  }
  return std::nullopt;
}

struct OtherReading {
  std::string_view check;
  std::optional<Doubt> (*speaks)(const Case&);
};
constexpr OtherReading kOtherReadings[] = {
    {"event-disagrees", befell_another},
    {"event-disagrees", befell_in_another_year},
    {"place-disagrees", moved_that_day},
    {"unit-not-yet-formed", is_day_of_machine},
    {"photograph-disagrees", other_date_is_archives},
    {"code-disagrees", code_of_another},
    {"code-disagrees", had_code_then},
    {"unit-disagrees", came_to_another_unit},
    {"unit-disagrees", had_units_code},
    {"unit-disagrees", had_unit_then},
    {"unit-not-yet-formed", unit_was_then},
    {"rank-disagrees", was_another_person},
    {"rank-disagrees", served_then},
    {"award-too-early", was_another_person},
    {"person-unit-disagrees", was_another_person},
    {"person-unit-disagrees", left_another_unit},
    {"person-unit-disagrees", served_then},
    {"weekday-wrong", fits_another_month},
};

// The date of what the query is about; none where it would be wrong at any time.
const Claim* date_of(const CheckInput& input, const Query& query, const Claim& claim) {
  if (claim.kind == ClaimKind::kDate) return &claim;
  const bool is_named =
      std::find(query.claims.begin(), query.claims.end(), claim.when.date) != query.claims.end();
  if (!claim.when.known || !is_named) return nullptr;
  const Claim& date = input.claims[claim.when.date];
  return date.date.is_unknown() || date.impossible ? nullptr : &date;
}

}  // namespace

void give_benefit_of_doubt(std::vector<Query>& queries, const CheckInput& input) {
  const ClaimIndex index(input);
  for (Query& query : queries) {
    if (query.level == Level::kNote || query.claims.empty()) continue;
    const Claim& claim = input.claims[query.claims.front()];
    const Case one{queries, input, index, query, claim, date_of(input, query, claim)};
    for (const OtherReading& rule : kOtherReadings) {
      if (rule.check != query.check) continue;
      std::optional<Doubt> doubt = rule.speaks(one);
      if (!doubt) continue;
      query.level = Level::kNote;
      query.message += "; yet " + doubt->words;
      const bool is_new =
          doubt->evidence &&
          std::none_of(query.evidence.begin(), query.evidence.end(), [&](const Evidence& row) {
            return row.table == doubt->evidence->table && row.line == doubt->evidence->line;
          });
      if (is_new) query.evidence.push_back(std::move(*doubt->evidence));
      break;
    }
  }
}

}  // namespace tailproof

#include <algorithm>
#include <array>
#include <iterator>
#include <string>
#include <utility>

#include "tailproof/allowed_days.h"
#include "tailproof/marking_orders.h"
#include "tailproof/turns.h"

namespace tailproof {
namespace {

// An advance party goes before, and the last go after.
constexpr Day kMoveDays = 1;
constexpr std::size_t kQuotedTurns = 4;

// The days on which the ledger has the turn.
struct TurnRecord {
  Allowed days;
  std::vector<Evidence> evidence;
  std::vector<std::string> told;  // "1 April 1936"
  std::vector<std::string> open;  // "not before 1 April 1936", where it has only the other end
  std::string instead;            // what it has in its place
  bool may_visit = false;         // which it need not have left for good
};

class Reader {
 public:
  Reader(const Ledger& ledger, const Claim& claim) : ledger_(ledger), claim_(claim) {}

  [[nodiscard]] TurnRecord read() {
    switch (claim_.turn) {
      case Turn::kFormed:
      case Turn::kDisbanded:
      case Turn::kRenamed:
        read_unit();
        break;
      case Turn::kMovedIn:
      case Turn::kMovedOut:
        read_stations();
        break;
      case Turn::kIssued:
      case Turn::kEffective:
      case Turn::kIntroduced:
      case Turn::kWithdrawn:
        read_orders();
        break;
      case Turn::kBorn:
      case Turn::kDied:
        read_life();
        break;
      case Turn::kRenumbered:
        read_numbers();
        break;
      case Turn::kNone:
      case Turn::kLived:
        break;
      default:
        read_service();
    }
    if (record_.told.empty()) record_.told = std::move(record_.open);
    return std::move(record_);
  }

 private:
  void add(const Edtf& date, Evidence row, Day slack = 0) {
    if (date.is_unknown() || date.days().empty()) return;
    const Margins& margins = ledger_.settings().margins;
    record_.days =
        unite(record_.days, {date.days().widened(slack), date.widened(margins).widened(slack)});
    const std::string told = in_words(date);
    if (std::find(record_.told.begin(), record_.told.end(), told) == record_.told.end()) {
      record_.told.push_back(told);
    }
    if (record_.evidence.size() < kQuotedTurns) record_.evidence.push_back(std::move(row));
  }

  void read_unit() {
    const Unit* unit = ledger_.unit(claim_.turn_of);
    if (unit == nullptr) return;
    if (claim_.turn == Turn::kFormed) {
      add(unit->formed, quote_unit(*unit));
      // Formed again after it had been disbanded, the ledger has but one row for it.
      if (!unit->disbanded.is_unknown() &&
          claim_.date.days().first() > unit->disbanded.days().last()) {
        record_ = {};
      }
      return;
    }
    // One name ends on the day before the other begins.
    add(unit->disbanded, quote_unit(*unit), claim_.turn == Turn::kRenamed ? 1 : 0);
    if (claim_.turn == Turn::kDisbanded) {
      // "On 1 March it ceased to exist": the first day of what it became, as well as its own last.
      const Unit* heir = ledger_.unit(unit->replaced_by);
      if (heir != nullptr && !heir->formed.is_unknown() && !unit->disbanded.is_unknown() &&
          heir->formed.days().intersects(unit->disbanded.days().widened(1)))
        add(heir->formed, quote_unit(*heir));
    }
    if (claim_.turn != Turn::kRenamed) return;
    const Unit* successor = ledger_.unit(claim_.turned_to);
    if (successor == nullptr || unit->replaced_by != successor->unit) {
      record_ = {};
      return;
    }
    add(successor->formed, quote_unit(*successor));
  }

  // Of several stays at a place any may be meant, and on the way from one place to the other the
  // unit has left the one and not reached the other.
  void read_stations() {
    const std::vector<const Station*> rows = ledger_.stations_of(claim_.turn_of);
    const bool is_in = claim_.turn == Turn::kMovedIn;
    for (const Station* row : rows) {
      if (!ledger_.is_place_within(row->place, claim_.turned_to) &&
          !ledger_.is_place_within(claim_.turned_to, row->place)) {
        continue;
      }
      const Edtf& day = is_in ? row->spell.from : row->spell.to;
      if (day.is_unknown() || day.days().empty() || (!is_in && row->spell.ends_by_rule)) {
        allow_open(row->spell, is_in,
                   quote(row->row, row->unit + " at " + row->place + " " + in_words(row->spell)));
        continue;
      }
      add(day, quote(row->row, row->unit + " at " + row->place + " " + in_words(row->spell)),
          kMoveDays);
      add_way(rows, day.days(), is_in);
    }
    if (is_in && record_.told.empty() && record_.days.days.empty()) read_other_move(rows);
  }

  // Never there by the ledger, which has a move on that very day, or in that month, to elsewhere,
  // or a stay elsewhere all the while, in either case for longer than a visit.
  void read_other_move(const std::vector<const Station*>& rows) {
    constexpr Day kVisitDays = 62;
    const DaySet& said = claim_.date.days();
    if (said.empty() || said.last() - said.first() > kVisitDays / 2) return;
    for (const Station* row : rows) {
      const Spell& spell = row->spell;
      if (spell.from.is_unknown() || spell.from.days().empty() || spell.ends_by_rule) continue;
      // The last stay, whose end the ledger does not tell, is taken to go on.
      const bool is_open = spell.to.is_unknown() || spell.to.days().empty();
      if (is_open && row != rows.back()) continue;
      const Day end = is_open ? kLastDay : spell.to.days().first();
      const bool is_then = spell.from.days().intersects(said);
      const bool stays = !claim_.inherited &&
                         spell.from.days().last() + kVisitDays <= said.first() &&
                         end >= said.last() + kVisitDays;
      if (!is_then && !stays) continue;
      if (end - spell.from.days().last() < kVisitDays) continue;
      record_.may_visit = !is_then;
      record_.instead = is_then ? "moved to " + row->place + " " + in_words(spell.from)
                                : "was at " + row->place + " " + in_words(spell);
      record_.evidence.push_back(
          quote(row->row, row->unit + " at " + row->place + " " + in_words(spell)));
      return;
    }
  }

  // Of a stretch whose beginning, or end, the ledger does not tell: all days before its end, or
  // after its beginning.
  void allow_open(const Spell& spell, bool is_beginning, Evidence row) {
    const Edtf& known = is_beginning ? spell.to : spell.from;
    if (known.is_unknown() || known.days().empty()) {
      record_.days = Allowed::always();
      return;
    }
    const DaySet wide = known.widened(ledger_.settings().margins);
    record_.open.push_back((is_beginning ? "not after " : "not before ") + in_words(known));
    if (record_.evidence.size() < kQuotedTurns) record_.evidence.push_back(std::move(row));
    const DayRange open =
        is_beginning ? DayRange{kFirstDay, wide.last()} : DayRange{wide.first(), kLastDay};
    record_.days = unite(record_.days, {DaySet{open}, DaySet{open}});
  }

  // The days between this end of a stay and the nearest end of the stay on that side.
  void add_way(const std::vector<const Station*>& rows, const DaySet& day, bool is_in) {
    constexpr Day kLongestWay = 61;
    Day nearest = is_in ? kFirstDay : kLastDay;
    for (const Station* other : rows) {
      const Edtf& end = is_in ? other->spell.to : other->spell.from;
      if (end.is_unknown() || end.days().empty()) continue;
      if (is_in && end.days().first() <= day.first()) {
        nearest = std::max(nearest, end.days().first());
      }
      if (!is_in && end.days().last() >= day.last()) {
        nearest = std::min(nearest, end.days().last());
      }
    }
    const DayRange way = is_in ? DayRange{nearest, day.last()} : DayRange{day.first(), nearest};
    if (way.last < way.first || way.last - way.first > kLongestWay) return;
    record_.days = unite(record_.days, {DaySet{way}, DaySet{way}});
  }

  void read_orders() {
    for (const Order& row : ledger_.orders()) {
      const bool is_of_marking = ledger_.marking(claim_.turn_of) != nullptr;
      if ((is_of_marking ? row.marking : row.order) != claim_.turn_of) continue;
      const bool withdraws = row.action == OrderAction::kWithdraws;
      if (claim_.turn == Turn::kWithdrawn && !withdraws) continue;
      if (claim_.turn == Turn::kIntroduced && withdraws) continue;
      // Of several things that one order does, those of the marking that the words name.
      if (!is_of_marking && !claim_.turned_to.empty() && row.marking != claim_.turned_to) continue;
      // "Introduced in March" may mean the signature as well as the day of effect.
      const bool is_issue = claim_.turn == Turn::kIssued;
      if (claim_.turn != Turn::kEffective) add(row.issued, quote_order(row));
      if (!is_issue) add(row.effective.is_unknown() ? row.issued : row.effective, quote_order(row));
      // What was ordered to go is gone when the last of it may be worn no longer.
      const DaySet& effect = effect_of(row).days();
      if (is_of_marking && withdraws && !effect.empty()) {
        const DaySet going{DayRange{effect.first(), after(effect.last(), row.grace)}};
        record_.days = unite(record_.days, {going, going});
      }
    }
  }

  void read_life() {
    const Person* person = ledger_.person(claim_.turn_of);
    if (person == nullptr) return;
    const bool is_birth = claim_.turn == Turn::kBorn;
    add(is_birth ? person->born : person->died,
        quote(person->row, person->person + (is_birth ? " born " + in_words(person->born)
                                                      : " died " + in_words(person->died))));
  }

  // A rebuilding takes from the last day under one number to the first under the other.
  void read_numbers() {
    constexpr Day kPaperDays = 31;
    bool has_old = false, has_new = false;
    for (const Airframe* row : ledger_.machine_of(claim_.turn_of)) {
      const bool is_old = row->serial == claim_.turn_of;
      if (!is_old && row->serial != claim_.turned_to) continue;
      const Edtf& date = is_old ? row->struck_off_charge : row->taken_on_charge;
      if (!date.is_unknown()) (is_old ? has_old : has_new) = true;
      add(date,
          quote(row->row, row->serial + (is_old ? " struck off charge " : " taken on charge ") +
                              in_words(date)),
          kPaperDays);
    }
    for (const Identity* row : ledger_.identities_of(claim_.turn_of)) {
      const bool is_pair = (row->serial == claim_.turn_of && row->identity == claim_.turned_to) ||
                           (row->identity == claim_.turn_of && row->serial == claim_.turned_to);
      if (!is_pair) continue;
      // The spell is that of the number which the row has as its identity.
      const bool is_new = row->identity == claim_.turned_to;
      const Edtf& date = is_new ? row->spell.from : row->spell.to;
      if (!date.is_unknown()) (is_new ? has_new : has_old) = true;
      add(date, quote_identity(*row), kPaperDays);
    }
    if (!has_old || !has_new || record_.days.days.empty() || record_.days.widened.empty()) {
      record_.days = Allowed::always();
      return;
    }
    const auto filled = [](const DaySet& days) { return DaySet{{days.first(), days.last()}}; };
    record_.days = {filled(record_.days.days), filled(record_.days.widened)};
  }

  // To whatever rank: on no day well inside the time of one rank.
  void read_promotions() {
    constexpr Day kGazetteDays = 31;
    const Margins& margins = ledger_.settings().margins;
    DaySet inside;
    for (const Service* row : ledger_.service_of(claim_.turn_of)) {
      if (row->kind != "rank") continue;
      add(row->spell.from, quote_service(*row), kGazetteDays);
      if (row->spell.ends_by_rule || row->spell.to.is_unknown() || row->spell.from.is_unknown())
        continue;
      inside = inside.unite(certain_days(row->spell, margins).narrowed);
    }
    const DaySet outside = inside.complement();
    record_.days = unite(record_.days, {outside, outside});
  }

  void read_service() {
    if (claim_.turn == Turn::kPromoted && claim_.turned_to.empty()) {
      read_promotions();
      return;
    }
    const bool is_end = claim_.turn == Turn::kLeft || claim_.turn == Turn::kLeftCommand;
    for (const Service* row : ledger_.service_of(claim_.turn_of)) {
      if (row->value != claim_.turned_to || !is_kind(row->kind)) continue;
      const bool is_open = row->spell.ends_by_rule || row->spell.to.is_unknown();
      if (is_end && is_open) {
        allow_open(row->spell, false, quote_service(*row));
        continue;
      }
      const Edtf& day = is_end ? row->spell.to : row->spell.from;
      // One hands over on the last day, or on the day after.
      add(day, quote_service(*row), is_end ? 1 : 0);
    }
    if (claim_.turn == Turn::kAwarded && record_.told.empty()) read_other_award();
    const bool is_posting = claim_.turn == Turn::kJoined || claim_.turn == Turn::kCommand;
    if (is_posting && record_.told.empty() && record_.days.days.empty()) read_other_posting();
  }

  // Never there by the ledger, which has the person come to another unit on that very day, or in
  // that month.
  void read_other_posting() {
    constexpr Day kLongest = 31;
    const DaySet& said = claim_.date.days();
    if (said.empty() || said.last() - said.first() > kLongest) return;
    for (const Service* row : ledger_.service_of(claim_.turn_of)) {
      const bool is_unit = row->kind == "unit" || row->kind == "command";
      if (is_unit && agrees_with_any(ledger_, row->value, std::span(&claim_.turned_to, 1))) {
        record_ = {};
        return;
      }
      if (!is_kind(row->kind) || row->spell.from.is_unknown() || !record_.instead.empty() ||
          !row->spell.from.days().intersects(said))
        continue;
      record_.instead = (row->kind == "command" ? "took command of " : "joined ") + row->value +
                        " " + in_words(row->spell.from);
      record_.evidence.push_back(quote_service(*row));
    }
  }

  // Never given by the ledger, which has another award on that very day, or in that month.
  void read_other_award() {
    constexpr Day kLongest = 31;
    const DaySet& said = claim_.date.days();
    if (said.empty() || said.last() - said.first() > kLongest) return;
    for (const Service* row : ledger_.service_of(claim_.turn_of)) {
      if (row->kind != "award" || row->spell.from.is_unknown()) continue;
      const bool is_then = row->spell.from.days().intersects(said);
      // "The Cross", of a bar to it.
      const bool is_kin = row->value.find(claim_.turned_to) != std::string::npos ||
                          claim_.turned_to.find(row->value) != std::string::npos;
      if (is_kin) {
        record_ = {};
        return;
      }
      if (!is_then || !record_.instead.empty()) continue;
      record_.instead = "was awarded the " + row->value + " " + in_words(row->spell.from);
      record_.evidence.push_back(quote_service(*row));
    }
  }

  [[nodiscard]] bool is_kind(std::string_view kind) const {
    switch (claim_.turn) {
      case Turn::kPromoted:
        return kind == "rank";
      case Turn::kAwarded:
        return kind == "award";
      case Turn::kCommand:
      case Turn::kLeftCommand:
        return kind == "command";
      default:
        return kind == "unit" || kind == "command";
    }
  }

  const Ledger& ledger_;
  const Claim& claim_;
  TurnRecord record_;
};

// Whether the words themselves tell the year: four figures, or nothing but figures ("3.4.42").
bool names_year(std::string_view words) {
  std::size_t figures = 0, most = 0;
  bool has_letter = false;
  for (const char c : words) {
    const bool is_figure = c >= '0' && c <= '9';
    figures = is_figure ? figures + 1 : 0;
    most = std::max(most, figures);
    has_letter = has_letter || (c >= 'a' && c <= 'z');
  }
  return most >= 4 || !has_letter;
}

// Whether the days, moved by a few years, are those of the record.
bool fits_in_another_year(const DaySet& days, const Allowed& recorded) {
  constexpr std::int64_t kYears = 5, kMonthsOfYear = 12;
  if (days.empty() || days.first() <= kFirstDay || days.last() >= kLastDay) return false;
  for (std::int64_t year = -kYears; year <= kYears; ++year) {
    const Duration way{year * kMonthsOfYear, 0};
    if (DaySet{{after(days.first(), way), after(days.last(), way)}}.intersects(recorded.days))
      return true;
  }
  return false;
}

// What is told of whom: words before and behind what it turned to.
struct TurnRow {
  Turn turn;
  std::string_view check;
  std::string_view said;  // "is said to have ..."
};
constexpr std::array kTurns = {
    TurnRow{Turn::kFormed, "unit-not-yet-formed", "been formed"},
    TurnRow{Turn::kDisbanded, "unit-not-yet-formed", "been disbanded"},
    TurnRow{Turn::kRenamed, "unit-not-yet-formed", "become"},
    TurnRow{Turn::kMovedIn, "place-disagrees", "moved to"},
    TurnRow{Turn::kMovedOut, "place-disagrees", "left"},
    TurnRow{Turn::kIssued, "event-disagrees", "been issued"},
    TurnRow{Turn::kEffective, "event-disagrees", "taken effect"},
    TurnRow{Turn::kIntroduced, "event-disagrees", "brought in"},
    TurnRow{Turn::kWithdrawn, "event-disagrees", "withdrawn"},
    TurnRow{Turn::kPromoted, "rank-disagrees", "become"},
    TurnRow{Turn::kAwarded, "award-too-early", "been awarded the"},
    TurnRow{Turn::kCommand, "person-unit-disagrees", "taken command of"},
    TurnRow{Turn::kLeftCommand, "person-unit-disagrees", "given up"},
    TurnRow{Turn::kJoined, "person-unit-disagrees", "joined"},
    TurnRow{Turn::kLeft, "person-unit-disagrees", "left"},
    TurnRow{Turn::kBorn, "person-not-living", "been born"},
    TurnRow{Turn::kDied, "person-not-living", "died"},
    TurnRow{Turn::kLived, "person-not-living", "lived"},
    TurnRow{Turn::kRenumbered, "code-disagrees", "become"},
};

// "Quillian (1918-1944)": both years. Fewer than fifteen are those of a service.
std::optional<Query> judge_life_years(const CheckInput& input, const Claim& claim,
                                      std::string_view id) {
  constexpr Day kShortestLife = 15 * 366;
  const Person* person = input.ledger.person(claim.turn_of);
  const DaySet& days = claim.date.days();
  if (person == nullptr || days.last() - days.first() < kShortestLife) return std::nullopt;
  const Margins& margins = input.ledger.settings().margins;
  const auto is_wrong = [&](const Edtf& known, Day told) {
    return !known.is_unknown() && !known.widened(margins).empty() &&
           to_civil(known.widened(margins).first()).year != to_civil(told).year &&
           to_civil(known.widened(margins).last()).year != to_civil(told).year &&
           !known.widened(margins).contains(told);
  };
  const bool is_birth = is_wrong(person->born, days.first());
  if (!is_birth && !is_wrong(person->died, days.last())) return std::nullopt;
  const std::string known =
      is_birth ? "born " + in_words(person->born) : "died " + in_words(person->died);
  Query query = query_at(id, input, claim, tempered(claim, Level::kError),
                         claim.turn_of + " is said to have lived from " +
                             std::to_string(to_civil(days.first()).year) + " to " +
                             std::to_string(to_civil(days.last()).year) +
                             (is_birth ? ", but was " : ", but ") + known);
  query.subject = claim.turn_of;
  query.evidence.push_back(quote(person->row, person->person + " " + known));
  query.suggestion = known;
  return query;
}

}  // namespace

std::vector<Query> judge_turns(const CheckInput& input, std::string_view id) {
  return judge_claims(input, ClaimKind::kDate, [&](const Claim& date) -> std::optional<Query> {
    if (date.turn == Turn::kNone || !is_affirmed(date) || date.impossible) return std::nullopt;
    const auto* const row = std::find_if(kTurns.begin(), kTurns.end(), [&](const TurnRow& known) {
      return known.turn == date.turn;
    });
    if (row == kTurns.end() || row->check != id || date.date.days().empty()) return std::nullopt;
    const Claim& claim = date;
    if (claim.turn == Turn::kLived) return judge_life_years(input, claim, id);
    if (!claim.when.known || claim.when.days.empty()) return std::nullopt;
    const TurnRecord record = Reader(input.ledger, claim).read();
    if (!record.instead.empty()) {
      const bool is_of_person = input.ledger.person(claim.turn_of) != nullptr;
      Query query = query_at(
          id, input, date, tempered(date, record.may_visit ? Level::kNote : Level::kWarning),
          claim.turn_of + " is said to have " + std::string(row->said) + " " + claim.turned_to +
              " " + when_in_words(claim.when) + ", but by the ledger " +
              (is_of_person ? "" : "it ") + record.instead);
      query.subject = claim.turn_of;
      query.evidence = record.evidence;
      query.suggestion = record.instead;
      return query;
    }
    if (record.told.empty()) return std::nullopt;
    // A year that is only carried on from elsewhere rules out no day that the ledger has.
    const bool is_carried = date.inherited || !names_year(date.text);
    if (is_carried && fits_in_another_year(date.when.days, record.days)) return std::nullopt;
    const bool is_bare = claim.turn == Turn::kPromoted && claim.turned_to.empty();
    const bool is_near = (claim.said & kSaidNearARow) != 0;
    const std::optional<Level> level = level_of(
        claim, fit(claim.when, record.days), is_bare || is_near ? Level::kWarning : Level::kError);
    if (!level) return std::nullopt;
    std::string_view said = row->said;
    if (is_bare) said = "been promoted";
    const bool is_of_marking = input.ledger.marking(claim.turn_of) != nullptr;
    if (is_of_marking) {
      said = claim.turn == Turn::kIntroduced ? "been introduced" : "been withdrawn";
    } else if (claim.turned_to.empty() && claim.turn == Turn::kIntroduced) {
      said = "brought in a marking";
    } else if (claim.turned_to.empty() && claim.turn == Turn::kWithdrawn) {
      said = "withdrawn a marking";
    }
    std::string message = claim.turn_of + " is said to have " + std::string(said);
    if (!is_of_marking && !claim.turned_to.empty()) {
      const bool is_marking = input.ledger.marking(claim.turned_to) != nullptr;
      message += (is_marking ? " the " : " ") + claim.turned_to;
    }
    message += " " + when_in_words(claim.when) + ", but the ledger dates that ";
    std::string then;
    for (const std::string& told : record.told) then += (then.empty() ? "" : " or ") + told;
    Query query = query_at(id, input, date, *level, message + then);
    query.subject = claim.turn_of;
    query.evidence = record.evidence;
    query.suggestion = then;
    return query;
  });
}

std::vector<Query> judge_doubted_turns(const CheckInput& input, std::string_view id) {
  return judge_claims(input, ClaimKind::kDate, [&](const Claim& date) -> std::optional<Query> {
    const bool is_doubted = date.hedged || date.date.is_approximate() || date.date.is_uncertain();
    if (!is_doubted || date.turn == Turn::kNone || date.turn == Turn::kLived || date.inherited ||
        !is_affirmed(date) || date.impossible || !date.when.known)
      return std::nullopt;
    const auto* const row = std::find_if(kTurns.begin(), kTurns.end(), [&](const TurnRow& known) {
      return known.turn == date.turn;
    });
    const TurnRecord record = Reader(input.ledger, date).read();
    const DaySet& said = date.date.days();
    // To the day, or to the month, of one row that has no doubt.
    const bool is_exact = row != kTurns.end() && record.told.size() == 1 &&
                          record.told.front() == in_words(Edtf::of_days(said)) && !said.empty() &&
                          said.first() == said.last();
    if (!is_exact) return std::nullopt;
    Query query = query_at(id, input, date, Level::kNote,
                           date.turn_of + " is said with doubt to have " + std::string(row->said) +
                               (date.turned_to.empty() ? "" : " " + date.turned_to) + " " +
                               record.told.front() + ", but the ledger has exactly that day");
    query.subject = date.turn_of;
    query.evidence = record.evidence;
    query.suggestion = record.told.front();
    return query;
  });
}

std::vector<Query> with_turns(std::vector<Query> queries, const CheckInput& input,
                              std::string_view id) {
  std::vector<Query> turns = judge_turns(input, id);
  // "Left Hollin in July": one statement, which its day contradicts, and not the stay as well.
  if (!turns.empty()) {
    const ClaimIndex index(input);
    std::erase_if(queries, [&](const Query& query) {
      return std::any_of(turns.begin(), turns.end(), [&](const Query& turn) {
        if (query.claims.empty() || turn.claims.empty() || query.block != turn.block) return false;
        const Claim& state = index.claim(query.claims.front());
        const Claim& day = index.claim(turn.claims.front());
        if (state.subject != day.turn_of) return false;
        // "Exchanged Halvery for the Point in March": the day is wrong, and not both places.
        if (state.when.known && state.when.date == turn.claims.front()) return true;
        return state.value == day.turned_to && index.sentence_of(state) == index.sentence_of(day);
      });
    });
  }
  queries.insert(queries.end(), std::make_move_iterator(turns.begin()),
                 std::make_move_iterator(turns.end()));
  return queries;
}

}  // namespace tailproof

// Photographs timed by what befell a machine: "two days before it was lost".
//
// Where the ledger, or else the text, gives the event a day, or several days of which any may be
// meant, that is a fact of the photograph alone. An event whose day is open, or known to a month
// only, is a variable of its own, so that photographs before and after it are parted even then.
#include <algorithm>
#include <map>
#include <tuple>

#include "chronology/chronology_data.h"

namespace tailproof {
namespace {

constexpr Day kDeliveryDays = 31;  // papers and people differ about a delivery
constexpr Day kVagueDays = 60;     // "soon" may be later than one thinks
constexpr Day kMostSlack = 1000;   // what is wider was not counted

bool is_end_or_beginning(std::string_view kind) {
  return kind == "lost" || kind == "taken_on_charge" || kind == "struck_off_charge" ||
         kind == "captured" || kind == "interned";
}

Day moved(Day day, Day by) {
  if (day <= kFirstDay || by <= kFirstDay) return kFirstDay;
  if (day >= kLastDay || by >= kLastDay) return kLastDay;
  return day + by;
}

DaySet shifted_by(const DaySet& days, Day least, Day most) {
  std::vector<DayRange> ranges;
  for (const DayRange& range : days.ranges()) {
    ranges.push_back({moved(range.first, least), moved(range.last, most)});
  }
  return DaySet(std::move(ranges));
}

// The unit to which the machine then went: named right behind the event.
std::string_view unit_behind(const ChronologyData& data, const Claim& event) {
  constexpr std::uint32_t kReach = 12;
  for (const std::uint32_t i : data.index.around(event)) {
    const Claim& unit = data.input.claims[i];
    if (unit.kind == ClaimKind::kUnit && unit.block == event.block && unit.begin >= event.end &&
        unit.begin - event.end <= kReach) {
      return unit.value;
    }
  }
  return {};
}

class EventDays {
 public:
  EventDays(const ChronologyData& data, ChronologyData::Event& event)
      : ledger_(data.input.ledger), margins_(ledger_.settings().margins), event_(event) {}

  // Of the kind told, else of what its words may mean as well.
  void find(const Claim& claim) {
    const bool is_near = (claim.said & kSaidNear) != 0;
    const std::span<const std::string> readings = readings_of(claim);
    std::vector<std::string> kinds(readings.begin(), readings.end());
    if (std::find(kinds.begin(), kinds.end(), claim.value) == kinds.end()) {
      kinds.push_back(claim.value);
    }
    for (const std::string& kind : kinds) add_rows(kind, is_near);
    // An accident may have been the end; a loss is no mere accident.
    if (event_.row_count == 0 && claim.value == "accident") add_rows("lost", is_near);
    event_.is_known = event_.row_count > 0;
    if (!event_.is_known) event_.days = Allowed::always();
  }

 private:
  void add_rows(std::string_view kind, bool is_near) {
    for (const History* row : ledger_.history_of(event_.serial)) {
      if (row->kind != kind || row->spell.from.is_unknown()) continue;
      if (!event_.unit.empty() && !units_agree(ledger_, row->unit, event_.unit)) continue;
      add(row->spell.from, is_near && kind != "repaint" ? kDeliveryDays : 0, quote_history(*row));
    }
    const bool is_taking_on = kind == "taken_on_charge";
    if (!is_taking_on && kind != "struck_off_charge") return;
    for (const Airframe* row : ledger_.machine_of(event_.serial)) {
      const Edtf& date = is_taking_on ? row->taken_on_charge : row->struck_off_charge;
      if (date.is_unknown()) continue;
      add(date, is_near ? kDeliveryDays : 0,
          quote(row->row, row->serial + (is_taking_on ? " taken on charge " : " struck off ") +
                              in_words(date)));
    }
  }

  void add(const Edtf& date, Day slack, Evidence row) {
    if (date.days().empty()) return;
    const Allowed own{date.days().widened(slack), date.widened(margins_).widened(slack)};
    event_.days = event_.row_count == 0 ? own : unite(event_.days, own);
    ++event_.row_count;
    event_.rows.push_back(std::move(row));
  }

  const Ledger& ledger_;
  const Margins& margins_;
  ChronologyData::Event& event_;
};

bool is_dated_itself(const CheckInput& input, const Claim& event) {
  if (!event.when.known || event.when.date >= input.claims.size()) return false;
  const Claim& date = input.claims[event.when.date];
  return date.of == "event" && date.event < input.claims.size() && !date.impossible &&
         !date.inherited && is_affirmed(date) && !event.when.days.empty() &&
         !event.when.days.is_all();
}

struct Timed {
  std::uint32_t claim = kNone;
  std::uint32_t photograph = kNone;
  std::uint32_t event = kNone;
};

class EventFacts {
 public:
  explicit EventFacts(ChronologyData& data) : data_(data) {}

  void add() {
    const auto claims = data_.input.claims;
    for (std::uint32_t i = 0; i < claims.size(); ++i) {
      const Claim& claim = claims[i];
      if (claim.kind != ClaimKind::kEvent || !claim.relation->photograph.is_known()) continue;
      if (!is_affirmed(claim)) continue;
      const std::uint32_t photograph = photograph_at(data_, claim.relation->photograph);
      if (photograph == kNone) continue;
      timed_.push_back({i, photograph, event_of(claim)});
    }
    if (timed_.empty()) return;
    take_days_from_text();
    for (const Timed& timed : timed_) ++uses_[timed.event];
    for (const Timed& timed : timed_) add(timed);
  }

 private:
  // With a date of its own, it is an event by itself: another may be meant elsewhere.
  std::uint32_t event_of(const Claim& claim) {
    ChronologyData::Event event;
    event.serial = claim.subject;
    event.kind = claim.value;
    event.unit = claim.value == "allotted" ? unit_behind(data_, claim) : std::string_view{};
    event.may_recur = !is_end_or_beginning(claim.value);
    const bool is_dated = is_dated_itself(data_.input, claim);
    if (!is_dated) {
      const auto [found, is_first] = known_.try_emplace(
          {event.serial, event.kind, event.unit}, static_cast<std::uint32_t>(data_.events.size()));
      if (!is_first) return found->second;
      EventDays(data_, event).find(claim);
    } else {
      event.days = {claim.when.days, claim.when.widened};
      event.is_known = true;
      event.row_count = 1;
      event.may_recur = false;  // the text says itself which one
    }
    data_.events.push_back(std::move(event));
    return static_cast<std::uint32_t>(data_.events.size() - 1);
  }

  // What the ledger does not date, the text may elsewhere.
  void take_days_from_text() {
    std::map<std::pair<std::string_view, std::string_view>, Allowed> told;
    for (const Claim& claim : ClaimsOfKind(data_.input, ClaimKind::kEvent)) {
      if (!is_affirmed(claim) || claim.hedged) continue;
      if (!is_dated_itself(data_.input, claim)) continue;
      const Allowed days{claim.when.days, claim.when.widened};
      const auto [found, is_first] = told.try_emplace({claim.subject, claim.value}, days);
      if (!is_first) found->second = unite(found->second, days);
    }
    for (ChronologyData::Event& event : data_.events) {
      const auto found = told.find({event.serial, event.kind});
      if (event.is_known || !event.unit.empty() || found == told.end()) continue;
      event.days = found->second;
      event.is_known = true;
    }
  }

  void add(const Timed& timed) {
    const Claim& claim = data_.input.claims[timed.claim];
    ChronologyData::Event& event = data_.events[timed.event];
    const TimeRelation& relation = *claim.relation;
    TimeFact fact;
    fact.basis = Basis::kEvent;
    fact.photograph = timed.photograph;
    fact.claim = timed.claim;
    fact.event = timed.event;
    fact.recorded = DaySet::all();
    const bool is_vague = relation.least > kFirstDay && relation.most < kLastDay &&
                          relation.most - relation.least >= kVagueDays;
    fact.is_soft = event.may_recur || is_vague;
    fact.is_hedged = claim.hedged;
    fact.is_inherited = claim.inherited;
    const bool is_one = event.days.widened.ranges().size() == 1;
    const bool is_day = is_one && event.days.widened.first() == event.days.widened.last();
    if (event.is_known && (is_day || !is_one || uses_[timed.event] < 2)) {
      fact.allowed = {shifted_by(event.days.days, relation.least, relation.most),
                      shifted_by(event.days.widened, relation.least, relation.most)};
      if (const Claim* date = counted_date(timed)) fact.allowed.days = date->date.days();
      // Of several events any may be the one; the text has counted from one of them.
      if (!is_one) fact.allowed.days = fact.allowed.days.unite(fact.allowed.widened);
      fact.rows = event.rows;
      add_fact(data_, std::move(fact));
      return;
    }
    if (uses_[timed.event] < 2) {
      keep_counted_date(timed);
      return;
    }
    if (event.variable == kNone) add_event(event, timed);
    fact.other = event.variable;
    const DaySet offsets{DayRange{relation.least, relation.most}};
    fact.allowed = {offsets, offsets};
    add_fact(data_, std::move(fact));
  }

  void add_event(ChronologyData::Event& event, const Timed& timed) {
    event.variable = add_moment(data_);
    if (!event.is_known) return;
    TimeFact fact;
    fact.basis = Basis::kEventDay;
    fact.photograph = event.variable;
    fact.claim = timed.claim;
    fact.event = timed.event;
    fact.allowed = event.days;
    fact.recorded = DaySet::all();
    fact.is_soft = event.may_recur;
    fact.rows = event.rows;
    add_fact(data_, std::move(fact));
  }

  // The date of the picture that was counted from the event: to the day, which checks go by as
  // well.
  [[nodiscard]] const Claim* counted_date(const Timed& timed) const {
    const auto claims = data_.input.claims;
    for (const std::uint32_t i : data_.index.around(claims[timed.claim])) {
      if (is_counted(data_.input, claims[i]) && claims[i].event == timed.claim) return &claims[i];
    }
    return nullptr;
  }

  // The text has counted from a day that is not known here.
  void keep_counted_date(const Timed& timed) {
    const Claim* date = counted_date(timed);
    if (date == nullptr) return;
    TimeFact fact;
    fact.basis = Basis::kDate;
    fact.photograph = timed.photograph;
    fact.claim = data_.index.index_of(*date);
    fact.allowed = {date->when.days, date->when.widened};
    fact.recorded = DaySet::all();
    fact.is_hedged = date->hedged;
    add_fact(data_, std::move(fact));
  }

  ChronologyData& data_;
  std::vector<Timed> timed_;
  std::map<std::tuple<std::string_view, std::string_view, std::string_view>, std::uint32_t> known_;
  std::map<std::uint32_t, std::size_t> uses_;
};

}  // namespace

bool is_counted(const CheckInput& input, const Claim& date) {
  if (date.kind != ClaimKind::kDate || date.of != "photograph") return false;
  if (date.event >= input.claims.size()) return false;
  const TimeRelation& relation = *input.claims[date.event].relation;
  return relation.photograph.is_known() && relation.most - relation.least < kMostSlack;
}

std::string event_in_words(const ChronologyData::Event& event) {
  if (event.kind == "accident") return "had an accident";
  if (event.kind == "allotted" || event.kind == "loaned") {
    const std::string_view verb = event.kind == "loaned" ? "was lent" : "was allotted";
    return std::string(verb) + (event.unit.empty() ? "" : " to " + std::string(event.unit));
  }
  if (event.kind == "repaint") return "was repainted";
  if (event.kind == "repair") return "was repaired";
  if (event.kind == "instructional") return "became an instructional airframe";
  std::string kind(event.kind);
  std::replace(kind.begin(), kind.end(), '_', ' ');
  if (event.kind == "struck_off_charge") kind = "struck off charge";
  return "was " + kind;
}

void relate_events(ChronologyData& data) { EventFacts(data).add(); }

}  // namespace tailproof

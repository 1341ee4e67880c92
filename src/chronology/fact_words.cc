// Facts in words, and the rows of the ledger behind them.
#include <algorithm>
#include <cmath>
#include <utility>

#include "chronology/chronology_data.h"

namespace tailproof {
namespace {

std::string days_apart_in_words(Day days) {
  return std::to_string(days) + (days == 1 ? " day" : " days");
}

// "on the same day as", "1 to 9 days before", "after": the later photograph minus the other.
std::string offsets_in_words(const DaySet& offsets) {
  if (offsets.empty()) return "at no time with";
  const Day least = offsets.first();
  const Day most = offsets.last();
  if (least == 0 && most == 0) return "on the same day as";
  const bool is_before = most <= 0;
  if (least < 0 && most > 0) {
    return "within " + days_apart_in_words(std::max(-least, most)) + " of";
  }
  const Day near = is_before ? -most : least;
  const std::string_view way = is_before ? " before" : " after";
  const bool is_open = is_before ? least <= kFirstDay : most >= kLastDay;
  if (is_open) {
    if (near > 1) return "at least " + days_apart_in_words(near) + std::string(way);
    return near == 0 ? "on the same day as, or" + std::string(way) : std::string(way.substr(1));
  }
  const Day far = is_before ? -least : most;
  if (near == far) return days_apart_in_words(far) + std::string(way);
  // Bounds of loose words ("some weeks"): nobody thinks of them as so many days.
  constexpr Day kInDays = 60;
  constexpr double kDaysOfMonth = 30.44;
  if (far > kInDays) {
    const auto months = [](Day days) {
      return std::to_string(std::lround(static_cast<double>(days) / kDaysOfMonth));
    };
    const std::string from = near > kInDays ? months(near) : days_apart_in_words(near);
    return from + " to " + months(far) + " months" + std::string(way);
  }
  return std::to_string(near) + " to " + days_apart_in_words(far) + std::string(way);
}

std::string who(const Claim& claim) {
  return claim.subject.empty() ? std::string("the photograph") : claim.subject;
}

std::string marking_in_words(const Ledger& ledger, const Claim& claim) {
  std::string words = claim.value;
  if (!ledger.machine_of(claim.subject).empty()) words += " on " + claim.subject;
  if (!claim.position.empty()) words += " (" + claim.position + ")";
  return words;
}

// Of orders for several parts the earliest counts where the words name none.
bool is_on_any_part(const Ledger& ledger, const Claim& claim) {
  if (!claim.position.empty()) return false;
  const std::vector<std::string>* first = nullptr;
  for (const Order* order : ledger.orders_of(claim.value)) {
    if (order->action != OrderAction::kIntroduces) continue;
    if (first != nullptr && *first != order->positions) return true;
    first = &order->positions;
  }
  return first != nullptr && first->size() > 1;
}

std::string_view how_with(const Claim& claim) {
  if (claim.role == "holder") return " held by ";
  if (claim.role == "operator") return " flown by ";
  return claim.role == "command" ? " in command of " : " with ";
}

// "taken 2 days before S3007 was lost (3 November 1943)".
std::string event_fact_in_words(const ChronologyData& data, const TimeFact& fact,
                                const std::string& name) {
  const ChronologyData::Event& event = data.events[fact.event];
  std::string told = std::string(event.serial) + " " + event_in_words(event);
  const std::string days = " (" + in_words(fact.allowed.days) + ")";
  if (fact.basis == Basis::kEventDay) return told + days;
  // What the ledger dates is quoted beside it.
  if (event.is_known && event.rows.empty()) {
    When when;
    when.known = true;
    when.days = when.widened = event.days.days;
    told += " " + when_in_words(when);
  }
  const TimeRelation& relation = *data.input.claims[fact.claim].relation;
  std::string words = offsets_in_words(DaySet{DayRange{relation.least, relation.most}});
  if (relation.least <= kFirstDay && relation.most == 0) words = "before";
  if (relation.least == 0 && relation.most >= kLastDay) words = "after";
  if (words.starts_with("0 to ")) words.replace(0, 5, "at most ");
  if (relation.least == 0 && relation.most == 0) words = "on the day when";
  if (relation.least < 0 && relation.most > 0 && relation.most < kLastDay)
    words = "at most " + days_apart_in_words(relation.most) + " before or after";
  words += " " + told;
  if (fact.is_relation()) return name + " is said to be taken " + words;
  return "taken " + words + days;
}

std::string subject_in_words(const Ledger& ledger, Basis basis, const Claim& claim) {
  switch (basis) {
    case Basis::kLife:
      return (claim.subject.empty() ? claim.value : claim.subject) + " on charge";
    case Basis::kIdentity:
      return who(claim) + " as " + claim.value;
    case Basis::kUnit:
    case Basis::kService:
      return who(claim) + std::string(how_with(claim)) + claim.value;
    case Basis::kUnitLife:
      return claim.value + " in being";
    case Basis::kPlace:
    case Basis::kStation:
      return who(claim) + " at " + claim.value;
    case Basis::kPerson:
      return claim.value + " alive";
    case Basis::kRank:
      return claim.value + " " + who(claim);
    case Basis::kAward:
      return who(claim) + " with the " + claim.value;
    case Basis::kIntroduced:
      return marking_in_words(ledger, claim) + ", once introduced" +
             (is_on_any_part(ledger, claim) ? " on any part" : "");
    case Basis::kReached:
      return marking_in_words(ledger, claim) + ", once ordered there";
    case Basis::kCurrent:
      return marking_in_words(ledger, claim) + ", while in order";
    case Basis::kTrace:
      return "traces of " + marking_in_words(ledger, claim) + ", once introduced";
    case Basis::kRepainted:
      return marking_in_words(ledger, claim) + ", by its repaints";
    case Basis::kFormerOwner:
      return marking_in_words(ledger, claim) + ", while its former owner had it";
    default:
      return std::string(to_word(claim.kind)) + " " + claim.value;
  }
}

std::string joined_facts(const Chronology& chronology, std::span<const std::uint32_t> facts,
                         std::uint32_t of) {
  std::string all;
  for (const std::uint32_t id : facts) {
    if (!all.empty()) all += "; ";
    all += chronology.in_words_beside(of, chronology.facts()[id]);
  }
  return all;
}

}  // namespace

std::string Chronology::in_words(const TimeFact& fact, FactSense sense) const {
  const Claim* claim = claim_of(fact);
  const bool is_later = fact.photograph < data_->photographs.size();
  switch (fact.basis) {
    case Basis::kArchive:
      return fact.archive->photograph + " taken (" + tailproof::in_words(fact.allowed.days) + ")";
    case Basis::kStatedOrder:
      // "Some weeks after" in the text's own words, with the days that they were taken for.
      if (claim != nullptr &&
          (claim->subject == name_of(fact.photograph) ||
           "figure " + claim->subject == name_of(fact.photograph)) &&
          !fact.allowed.days.empty() && fact.allowed.days.first() != fact.allowed.days.last()) {
        return name_of(fact.photograph) + " is said to be \"" + claim->text + "\" " +
               name_of(fact.other) + " (" + offsets_in_words(fact.allowed.days) + ")";
      }
      return name_of(fact.photograph) + " is said to be " + offsets_in_words(fact.allowed.days) +
             " " + name_of(fact.other);
    case Basis::kSession:
      return name_of(fact.photograph) + " and " + name_of(fact.other) + " of one session, \"" +
             fact.archive->session + "\"";
    case Basis::kEvent:
    case Basis::kEventDay:
      return event_fact_in_words(*data_, fact, fact.is_relation() ? name_of(fact.photograph) : "");
    case Basis::kCoat:
      if (is_later) return name_of(fact.photograph) + " with " + claim->value;
      return name_of(fact.other) + " still with " + claim->value + " bare";
    case Basis::kNewOwner:
      if (is_later) return name_of(fact.photograph) + " with " + claim->value + " of its new owner";
      return name_of(fact.other) + " with " + claim->value + " of its former owner";
    case Basis::kPaintOrder: {
      const std::string how = fact.is_firm ? "always" : "usually";
      if (!is_later) return name_of(fact.other) + " still with " + claim->value;
      return name_of(fact.photograph) + " with " + claim->value + ", which " + how +
             " came after " + fact.sequence->earlier;
    }
    default:
      break;
  }
  if (claim == nullptr) return tailproof::in_words(fact.allowed.days);
  DaySet narrower = fact.allowed.days.intersect(
      sense == FactSense::kRecorded ? fact.recorded
                                    : (sense == FactSense::kLinked ? fact.linked : DaySet::all()));
  // What is said of a machine is told of its life alone.
  const bool is_of_machine = fact.basis == Basis::kUnit || fact.basis == Basis::kPlace ||
                             fact.basis == Basis::kStation || fact.basis == Basis::kIdentity;
  if (is_of_machine && !claim->subject.empty()) {
    const std::optional<Allowed> life = days_of_life(data_->input.ledger, claim->subject);
    const DaySet lived = life ? narrower.intersect(life->days) : DaySet();
    if (!lived.empty()) narrower = lived;
  }
  const std::string days = tailproof::in_words(narrower.empty() ? fact.allowed.days : narrower);
  if (fact.basis == Basis::kDate) return "dated " + days;
  return subject_in_words(data_->input.ledger, fact.basis, *claim) + " (" + days + ")";
}

std::string Chronology::in_words_beside(std::uint32_t of, const TimeFact& fact,
                                        FactSense sense) const {
  std::string words = in_words(fact, sense);
  const bool is_named =
      fact.is_relation() || fact.photograph == of || fact.photograph >= data_->photographs.size();
  if (is_named) return words;
  const bool is_list = words.starts_with("dated ") || words.starts_with("taken ");
  return name_of(fact.photograph) + (is_list ? " " : ", ") + words;
}

std::string Chronology::clash_in_words(std::span<const std::uint32_t> clash) const {
  std::uint32_t of = kNone;
  for (const std::uint32_t id : clash) {
    for (const std::uint32_t photograph : {data_->facts[id].photograph, data_->facts[id].other}) {
      if (photograph >= data_->photographs.size()) continue;
      if (of != kNone && of != photograph) return joined_facts(*this, clash, kNone);
      of = photograph;
    }
  }
  return joined_facts(*this, clash, of);
}

std::vector<Evidence> Chronology::evidence(const TimeFact& fact, const DaySet& days) const {
  constexpr std::size_t kQuoted = 4;
  std::vector<Evidence> rows;
  if (fact.archive != nullptr) {
    const Photograph& row = *fact.archive;
    std::string says = row.photograph + " taken " + tailproof::in_words(row.taken);
    if (!row.session.empty()) says += ", session " + row.session;
    rows.push_back(quote(row.row, std::move(says)));
  }
  rows.insert(rows.end(), fact.rows.begin(), fact.rows.end());
  const Claim* claim = claim_of(fact);
  if (claim == nullptr || !rows.empty()) return rows;
  Grounds grounds;
  if (!days_of_fact(*data_, fact.basis, *claim, &grounds)) return rows;
  const auto add = [&](bool is_against) {
    for (const Ground& ground : grounds.rows()) {
      if (ground.is_against != is_against || rows.size() >= kQuoted) continue;
      if (is_against && !ground.days.intersects(days)) continue;
      const bool is_known = std::any_of(rows.begin(), rows.end(), [&](const Evidence& row) {
        return row.table == ground.evidence.table && row.line == ground.evidence.line;
      });
      if (!is_known) rows.push_back(ground.evidence);
    }
  };
  add(false);
  add(true);
  return rows;
}

}  // namespace tailproof

#include "tailproof/told_ends.h"

#include <algorithm>
#include <string>
#include <utility>

#include "tailproof/allowed_days.h"

namespace tailproof {
namespace {

constexpr Day kSlackDays = 31;
constexpr Day kSlackToTheDay = 3;
constexpr std::size_t kQuotedEnds = 4;

// The unit named right behind the words that end at `from`, an article at most between them, or
// what a machine leaves ("from", "to").
const Claim* unit_behind(const ClaimIndex& index, const Claim& event, std::uint32_t from) {
  constexpr std::uint32_t kArticle = 10;
  // Claims stand in the order of the text: what is right behind is not far.
  const auto around = index.around(event);
  auto at = std::find(around.begin(), around.end(), index.index_of(event));
  for (; at != around.end(); ++at) {
    const Claim& unit = index.claim(*at);
    if (unit.block == event.block && unit.begin > from + kArticle) break;
    if (unit.kind != ClaimKind::kUnit || unit.block != event.block ||
        unit.subject != event.subject || unit.begin < from || unit.begin - from > kArticle)
      continue;
    // "X12, left, 62 Squadron" tells where it stands.
    const std::string_view between = index.block_text(unit).substr(from, unit.begin - from);
    if (between.find_first_of(",;:()") != std::string_view::npos) return nullptr;
    // "Joined 62 Squadron's line".
    const std::string_view behind = index.block_text(unit).substr(unit.end);
    const bool is_owner = unit.text.ends_with("s'") || unit.text.ends_with("'s") ||
                          unit.text.ends_with("\xE2\x80\x99s") || behind.starts_with("'") ||
                          behind.starts_with("\xE2\x80\x99");
    return is_owner ? nullptr : &unit;
  }
  return nullptr;
}

// Days on which something began or ended: at that end of the unit's own rows, and at the other end
// of all others, since a machine comes back when its repair ends, and leaves when a loan begins.
struct Ends {
  DaySet days;
  std::vector<Evidence> evidence;
  std::string told;
  bool is_open = false;

  void add(const Edtf& date) {
    if (!date.is_unknown()) days = days.unite(date.days().widened(kSlackDays));
  }
};

Ends ends_with(const Ledger& ledger, const Claim& unit, bool is_leaving) {
  Ends ends;
  const std::span<const std::string> units = readings_of(unit);
  for (const History* row : ledger.history_of(unit.subject)) {
    const bool is_own = !row->unit.empty() && !row->role.empty() && !is_event_kind(row->kind) &&
                        agrees_with_any(ledger, row->unit, units);
    if (!is_own) {
      ends.add(is_leaving ? row->spell.from : row->spell.to);
      continue;
    }
    const Edtf& end = is_leaving ? row->spell.to : row->spell.from;
    ends.is_open = ends.is_open || end.is_unknown() || (is_leaving && row->spell.ends_by_rule);
    ends.add(end);
    if (ends.evidence.size() < kQuotedEnds) ends.evidence.push_back(quote_history(*row));
    ends.told += (ends.told.empty() ? "" : " and ") + in_words(row->spell);
  }
  for (const Airframe* row : ledger.machine_of(unit.subject)) {
    ends.add(is_leaving ? row->struck_off_charge : row->taken_on_charge);
  }
  return ends;
}

// "Delivered to 911 Squadron in October", where the ledger never has it with that unit, and has it
// come to another of its sort just then.
std::optional<Query> judge_stranger(const CheckInput& input, const Claim& event, const Claim& unit,
                                    std::string_view id) {
  constexpr Day kLongest = 62;
  const Ledger& ledger = input.ledger;
  const Unit* stranger = ledger.unit(unit.value);
  const DaySet& days = event.when.days;
  if (stranger == nullptr || days.empty() || days.last() - days.first() > kLongest ||
      was_ever_with(ledger, unit))
    return std::nullopt;
  const bool is_leaving = unit.role == "former";
  const History* met = nullptr;
  for (const History* row : ledger.history_of(unit.subject)) {
    if (row->unit.empty()) continue;
    const Unit* other = ledger.unit(row->unit);
    const Edtf& day = is_leaving ? row->spell.to : row->spell.from;
    const bool is_of_sort = other != nullptr && !row->role.empty() && !is_event_kind(row->kind) &&
                            is_servicing_kind(other->kind) == is_servicing_kind(stranger->kind);
    const bool is_then = !day.is_unknown() && !(is_leaving && row->spell.ends_by_rule) &&
                         day.days().intersects(days);
    if (met == nullptr && is_of_sort && is_then) met = row;
  }
  if (met == nullptr) return std::nullopt;
  // With another unit altogether that day: unit-disagrees says so.
  if (!is_leaving && fit(event.when, days_with_unit(ledger, unit, event.when)) == Fit::kImpossible)
    return std::nullopt;
  Query query = query_at(id, input, event, tempered(event, Level::kWarning),
                         event.subject + " is said to have " + (is_leaving ? "left " : "come to ") +
                             unit.value + " " + when_in_words(event.when) +
                             ", but the ledger never has it there, and has it with " + met->unit +
                             " " + in_words(met->spell));
  query.evidence.push_back(quote_history(*met));
  query.suggestion = met->unit;
  return query;
}

// "Came from 911 Squadron in October", which it had left long before for another of its sort, and
// that one just then.
std::optional<Query> judge_other_left(const CheckInput& input, const Claim& event,
                                      const Claim& unit, std::string_view id) {
  constexpr Day kLong = 183;
  const Ledger& ledger = input.ledger;
  const Unit* named = ledger.unit(unit.value);
  if (unit.role != "former" || named == nullptr || event.when.days.empty()) return std::nullopt;
  const DaySet& days = event.when.widened;
  const History* own = nullptr;
  const History* left = nullptr;
  for (const History* row : ledger.history_of(unit.subject)) {
    if (row->role.empty() || row->unit.empty() || is_event_kind(row->kind)) continue;
    const Unit* other = ledger.unit(row->unit);
    const bool is_own = agrees_with_any(ledger, row->unit, readings_of(unit));
    if (is_own) {
      // Only where it was gone for good.
      const bool is_over = !row->spell.to.is_unknown() && !row->spell.ends_by_rule &&
                           row->spell.to.days().last() + kLong < days.first();
      if (!is_over) return std::nullopt;
      own = row;
      continue;
    }
    const bool is_of_sort = other != nullptr && row->role == "holder" && other->kind == named->kind;
    const bool is_then = !row->spell.to.is_unknown() && !row->spell.ends_by_rule &&
                         row->spell.to.days().widened(kSlackDays).intersects(days);
    if (is_of_sort && is_then) left = row;
  }
  if (own == nullptr || left == nullptr) return std::nullopt;
  Query query = query_at(id, input, event, tempered(event, Level::kWarning),
                         event.subject + " is said to have left " + unit.value + " " +
                             when_in_words(event.when) + ", but the ledger has it there only " +
                             in_words(own->spell) + ", and then with " + left->unit);
  query.evidence.push_back(quote_history(*own));
  query.evidence.push_back(quote_history(*left));
  query.suggestion = left->unit;
  return query;
}

// "Came to the Point from 911 Squadron": the unit that is left, past a place or another unit.
const Claim* unit_left_behind(const ClaimIndex& index, const Claim& event) {
  constexpr std::uint32_t kReach = 40;
  constexpr std::string_view kFrom = "from ";
  for (const Claim& unit : index.in_sentence(event)) {
    const bool is_left = unit.kind == ClaimKind::kUnit && unit.role == "former" &&
                         unit.subject == event.subject && unit.begin >= event.end &&
                         unit.begin - event.end <= kReach && unit.when.date == event.when.date;
    if (!is_left) continue;
    const std::string_view between =
        index.block_text(unit).substr(event.end, unit.begin - event.end);
    const bool is_plain = between.find_first_of(",;:()") == std::string_view::npos &&
                          between.find(kFrom) != std::string_view::npos;
    if (is_plain) return &unit;
  }
  return nullptr;
}

}  // namespace

std::optional<Query> judge_change_of_hands(const CheckInput& input, const ClaimIndex& index,
                                           const Claim& event, std::string_view id) {
  const Ledger& ledger = input.ledger;
  const bool is_delivery = event.value == "taken_on_charge";
  if ((event.value != "allotted" && !is_delivery) || event.when.date >= input.claims.size() ||
      input.claims[event.when.date].of != "event")
    return std::nullopt;
  const Claim* unit = unit_behind(index, event, event.end);
  if (const Claim* left = is_delivery ? nullptr : unit_left_behind(index, event);
      left != nullptr && is_affirmed(*left)) {
    if (std::optional<Query> query = judge_other_left(input, event, *left, id)) return query;
  }
  if (unit == nullptr || !is_affirmed(*unit)) return std::nullopt;
  if (std::optional<Query> query = judge_stranger(input, event, *unit, id)) return query;
  if (std::optional<Query> query = judge_other_left(input, event, *unit, id)) return query;
  // "From 917 Squadron to 911 Squadron": and where it went.
  if (unit->role == "former") {
    const Claim* next = unit_behind(index, event, unit->end);
    const bool is_next = next != nullptr && is_affirmed(*next) && next->role != "former";
    if (is_next) {
      if (std::optional<Query> query = judge_stranger(input, event, *next, id)) return query;
    }
  }
  if (is_delivery) return std::nullopt;
  const bool is_leaving = unit->role == "former";
  const Ends ends = ends_with(ledger, *unit, is_leaving);
  if (ends.evidence.empty() || ends.is_open || event.when.widened.intersects(ends.days))
    return std::nullopt;
  // With another unit altogether that day: unit-disagrees says so.
  const Allowed there = days_with_unit(ledger, *unit, event.when);
  if (!is_leaving && fit(event.when, there) == Fit::kImpossible) return std::nullopt;
  Query query = query_at(id, input, event, tempered(event, Level::kWarning),
                         event.subject + " is said to have " + (is_leaving ? "left " : "come to ") +
                             unit->value + " " + when_in_words(event.when) +
                             ", but the ledger has it there " + ends.told);
  query.evidence = ends.evidence;
  return query;
}

namespace {

// "From 1940 to 1942": all that lies between counts as well, where it is long enough.
void add_between(std::vector<When>& ends, const When& when) {
  constexpr std::size_t kBoth = 2;
  if (ends.size() != kBoth) return;
  const DayRange between{ends.front().widened.last() + 1, ends.back().widened.first() - 1};
  if (between.last - between.first < kSlackDays) return;
  When middle = when;
  middle.days = middle.widened = DaySet{between};
  ends.push_back(std::move(middle));
}

}  // namespace

std::string told_in_words(const CheckInput& input, const Claim& claim) {
  constexpr std::size_t kLongest = 40;
  std::string words = when_in_words(claim.when);
  if (!claim.when.known || claim.when.date >= input.claims.size() || claim.when.days.empty())
    return words;
  const Claim& date = input.claims[claim.when.date];
  const bool is_until = claim.when.days.first() <= kFirstDay;
  const bool is_open = is_until != (claim.when.days.last() >= kLastDay);
  const bool has_figure = date.text.find_first_of("0123456789") != std::string::npos;
  if (!is_open || date.text.size() > kLongest) return words;
  // "By July it was at the Point", and not "until July".
  const Block& block = input.manuscripts[date.manuscript].blocks[date.block];
  const std::string_view before = date.begin <= block.text.size()
                                      ? std::string_view(block.text).substr(0, date.begin)
                                      : std::string_view{};
  const bool is_by = is_until && (before.ends_with(" by ") || before.ends_with("By "));
  constexpr std::string_view kUntil = "until ";
  if (!has_figure)
    return is_by && words.starts_with(kUntil) ? "by " + words.substr(kUntil.size()) : words;
  return (is_by ? "by " : is_until ? "until " : "from ") + date.text;
}

std::vector<When> told_ends(const CheckInput& input, const Claim& claim) {
  std::vector<When> ends;
  if ((claim.said & kSaidStretch) == 0 || !claim.when.known ||
      claim.when.date >= input.claims.size())
    return ends;
  const Claim& date = input.claims[claim.when.date];
  if (date.impossible || !is_affirmed(date) || date.date.days().empty()) return ends;
  // Papers may differ about the day on which a state began, but what had ended by then was no
  // beginning: "from September" is upheld by no stay that was over in August.
  const auto add = [&](std::string_view text, bool is_beginning) {
    const Result<Edtf> value = Edtf::parse(text, input.ledger.settings().hemisphere);
    if (!value || value.value().is_unknown()) return;
    const DaySet& days = value.value().days();
    if (days.empty() || days.first() <= kFirstDay || days.last() >= kLastDay) return;
    When end = claim.when;
    const Day slack = (claim.said & kSaidToTheDay) != 0 ? kSlackToTheDay : kSlackDays;
    end.days = days.widened(slack);
    end.widened = value.value().widened(input.ledger.settings().margins).widened(slack);
    const DaySet onward{{is_beginning ? days.first() : kFirstDay, kLastDay}};
    end.days = end.days.intersect(onward);
    end.widened = end.widened.intersect(onward);
    ends.push_back(std::move(end));
  };
  // "Throughout 1942": from its first days to its last.
  const auto add_edge = [&](Day day, bool is_beginning) {
    When end = claim.when;
    const DaySet onward{{is_beginning ? day : kFirstDay, is_beginning ? kLastDay : day}};
    end.days = end.widened = DaySet{{day, day}}.widened(kSlackDays).intersect(onward);
    ends.push_back(std::move(end));
  };
  for (const DateEnd& end : date.ends) add(end.value, &end == &date.ends.front());
  if (!date.ends.empty()) {
    if ((claim.said & kSaidBothEnds) != 0) add_between(ends, claim.when);
    return ends;
  }
  std::string_view value = date.date.text();
  const std::size_t slash = value.find('/');
  if ((claim.said & kSaidBothEnds) != 0 && slash == std::string_view::npos) {
    const DaySet& days = date.date.days();
    if (days.last() - days.first() <= 2 * kSlackDays) return ends;
    add_edge(days.first(), true);
    add_edge(days.last(), false);
    add_between(ends, claim.when);
    return ends;
  }
  if ((claim.said & kSaidBothEnds) != 0 && slash != std::string_view::npos) {
    add(value.substr(0, slash), true);
    add(value.substr(slash + 1), false);
    add_between(ends, claim.when);
    return ends;
  }
  // "../1942-06", "1941-01/..": the end that is told.
  constexpr std::string_view kOpenBegin = "../", kOpenEnd = "/..";
  if (value.starts_with(kOpenBegin)) value.remove_prefix(kOpenBegin.size());
  const bool is_beginning = value.ends_with(kOpenEnd);
  if (is_beginning) value.remove_suffix(kOpenEnd.size());
  // "Until early 1944": of the four months, and not of their last day, which is what bounds it.
  const bool is_part = date.value.find('/') != std::string::npos &&
                       date.value.find("..") == std::string::npos && date.value != date.date.text();
  add(is_part ? std::string_view(date.value) : value, is_beginning);
  return ends;
}

}  // namespace tailproof

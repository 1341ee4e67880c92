// A number, of whom and what it is told, each read by itself wherever it stands, and asked of the
// ledger: "of the second mark eleven were delivered, X413 to X424, of which five were lost", "five
// of the sixteen were made into Mk IIs", "one of four Mk Is on charge on 1 May".
//
// Of whom: the kind or the number behind it, "of them" and "of which" what was told of before, "of
// the Plovers, ..." what the statement opens with. What: the words behind, else those before, else
// those of the number before. The counting is that of kind_numbers.cc.
#include <algorithm>

#include "claims/kind_counts.h"

namespace tailproof {

class BlockAssembler::KindCounts::Asked {
 public:
  explicit Asked(KindCounts& counts) : k_(counts), a_(counts.a_) {}
  void add();

 private:
  enum class Deed : std::uint8_t {
    kNone,
    kMade,
    kLost,
    kRenumbered,
    kOnCharge,
    kOfMark,
    kNewTo,
    kWith,
    kRebuilt
  };
  struct Whom {
    Rows rows;
    Count kind;               // its type and mark
    std::uint32_t end = 0;    // the first token behind the words of the number
    bool is_share = false;    // "of the ten": all the others did not
    bool is_guessed = false;  // what the sentence before was about
  };
  struct What {
    Deed deed = Deed::kNone;
    std::uint32_t end = 0;  // behind its words
    std::string of;         // a unit or a mark
    bool is_all = false;    // of whom this is said, all are counted
    bool is_vague = false;  // "came", or nothing that is known: only more than there were is wrong
  };

  [[nodiscard]] Whom of_kind(const Count& kind) const;
  [[nodiscard]] Count kind_named(const Mention& type) const;
  [[nodiscard]] Whom of_number(std::uint32_t token, int number) const;
  [[nodiscard]] Whom told_before(std::uint32_t token) const;
  [[nodiscard]] Whom behind_of(std::uint32_t token, int number) const;
  [[nodiscard]] Whom whom(const Told& told) const;
  [[nodiscard]] What what(const Told& told, const Whom& whom) const;
  [[nodiscard]] What rebuilt(const Whom& whom) const;
  [[nodiscard]] What before(const Told& told, std::uint32_t end) const;
  [[nodiscard]] Window days(const Told& told, const What& what, bool& has_dates) const;
  void ask(const Told& told, const Whom& whom, const What& what);
  [[nodiscard]] std::uint32_t past_the(std::uint32_t token) const;
  [[nodiscard]] bool is_counted(const Told& told) const;

  KindCounts& k_;
  BlockAssembler& a_;
};

// Past "the", "its", "our".
std::uint32_t BlockAssembler::KindCounts::Asked::past_the(std::uint32_t token) const {
  const bool is_it = a_.office(token) == "the" || a_.is_in("share_owner", token) ||
                     a_.is_in("possessive_word", token);
  return is_it ? token + 1 : token;
}

BlockAssembler::KindCounts::Asked::Whom BlockAssembler::KindCounts::Asked::of_kind(
    const Count& kind) const {
  Whom whom;
  whom.kind.type = kind.type;
  whom.kind.mark = kind.mark;
  whom.rows = k_.kin(kind);
  return whom;
}

// The type and mark of a name; none where it may be that of several.
Count BlockAssembler::KindCounts::Asked::kind_named(const Mention& type) const {
  Count kind;
  const bool is_mark_alone = type.role == "mark alone";
  if (!type.readings.empty() && !is_mark_alone) return kind;
  kind.type = is_mark_alone ? a_.type_of_mark(type, nullptr) : std::string(type.value);
  if (!type.detail.empty()) kind.mark = a_.mark_as_written(kind.type, std::string(type.detail));
  return kind;
}

// "Of the sixteen": machines that are as many, listed, of a type or of a mark of one that is named.
BlockAssembler::KindCounts::Asked::Whom BlockAssembler::KindCounts::Asked::of_number(
    std::uint32_t token, int number) const {
  Whom whom;
  const auto is_it = [&](const Count& kind) {
    Whom found = of_kind(kind);
    if (found.rows.size() != static_cast<std::size_t>(number)) return false;
    whom = std::move(found);
    return true;
  };
  const Mention* nearest = nullptr;
  for (const Mention& type : a_.mentions_of(MentionKind::kType)) {
    if (type.first >= token && nearest != nullptr) break;
    nearest = &type;
    if (type.first >= token) break;
  }
  const auto serials = a_.machines_numbered(token, number);
  for (const std::string& serial : serials) {
    const auto machine = a_.ledger_.machine_of(serial);
    if (machine.empty() || !a_.ledger_.is_in_closed_range(machine.front()->serial)) return {};
    whom.rows.push_back(machine.front());
  }
  if (!whom.rows.empty()) {
    const auto& first = *whom.rows.front();
    const bool is_one_type =
        std::all_of(whom.rows.begin(), whom.rows.end(),
                    [&](const Airframe* row) { return row->type == first.type; });
    const bool is_one_mark =
        std::all_of(whom.rows.begin(), whom.rows.end(),
                    [&](const Airframe* row) { return row->mark == first.mark; });
    if (is_one_type) whom.kind.type = first.type;
    if (is_one_type && is_one_mark) whom.kind.mark = first.mark;
    return whom;
  }
  if (nearest == nullptr) return whom;
  Count kind = kind_named(*nearest);
  if (kind.type.empty() || is_it(kind)) return whom;
  for (const MarkForm& form : a_.lexicon_.marks_of(kind.type)) {
    kind.mark = form.mark;
    if (is_it(kind)) break;
  }
  return whom;
}

// "Them", "which": the kind or the range named last, in the sentence or else in the one before.
BlockAssembler::KindCounts::Asked::Whom BlockAssembler::KindCounts::Asked::told_before(
    std::uint32_t token) const {
  const std::uint32_t sentence = a_.clauses_.sentence_of[token];
  const Mention* type = nullptr;
  for (const Mention& other : a_.mentions_of(MentionKind::kType)) {
    if (other.first < token && a_.clauses_.sentence_of[other.first] + 1 >= sentence) type = &other;
  }
  const Group* range = nullptr;
  for (const Group& group : a_.groups_) {
    if (group.first < token && group.serials.size() > 2 &&
        a_.clauses_.sentence_of[group.first] + 1 >= sentence)
      range = &group;
  }
  if (range != nullptr && (type == nullptr || type->first < range->first)) {
    Whom whom;
    for (const std::string& serial : range->serials) {
      const Airframe* row = a_.ledger_.airframe(serial);
      if (row == nullptr || !a_.ledger_.is_in_closed_range(serial)) return {};
      whom.rows.push_back(row);
    }
    whom.kind.type = whom.rows.front()->type;
    whom.kind.mark = whom.rows.front()->mark;
    return whom;
  }
  return type == nullptr ? Whom{} : of_kind(kind_named(*type));
}

// What follows "of": "the ten Plovers", "its ten", "the Mk II", "them", "the Plovers X12 to X16".
BlockAssembler::KindCounts::Asked::Whom BlockAssembler::KindCounts::Asked::behind_of(
    std::uint32_t token, int number) const {
  Whom whom;
  if (a_.is_in("count_repeat", token) || a_.is_in("count_of_which", token)) {
    whom = told_before(token);
    whom.end = token + 1;
    return whom;
  }
  const std::uint32_t t = past_the(token);
  if (const Mention* type = a_.mention_at(t)) {
    if (type->kind != MentionKind::kType || type->first != t || t == token) return {};
    whom = of_kind(kind_named(*type));
    whom.end = type->last;
    const auto range = std::find_if(a_.groups_.begin(), a_.groups_.end(), [&](const Group& group) {
      return group.first == type->last && group.serials.size() > 2;
    });
    if (range == a_.groups_.end()) return whom;
    whom = told_before(range->last);
    whom.end = range->last;
    return whom;
  }
  const Counted all = a_.read_count(t);
  if (all.count.is_place || all.count.is_last || all.count.number <= number ||
      !all.count.is_exact || t == token)
    return {};
  const Mention* mark = all.has_noun() ? nullptr : a_.mention_at(all.last);
  whom.end = all.last;
  if (!all.count.type.empty()) {
    whom = of_kind(all.count);
    whom.end = all.last;
  } else if (mark != nullptr && mark->kind == MentionKind::kType && mark->first == all.last) {
    whom = of_kind(kind_named(*mark));
    whom.end = mark->last;
  } else {
    whom = of_number(t, all.count.number);
    whom.end = all.last;
  }
  if (whom.rows.size() != static_cast<std::size_t>(all.count.number)) whom.rows.clear();
  whom.is_share = true;
  return whom;
}

BlockAssembler::KindCounts::Asked::Whom BlockAssembler::KindCounts::Asked::whom(
    const Told& told) const {
  const Counted& counted = told.counted;
  const std::uint32_t first = told.first, last = counted.last;
  const int number = counted.count.number;
  Whom whom;
  if (!counted.has_noun() && a_.office(last) == "of") {
    whom = behind_of(last + 1, number);
    if (whom.end > 0) return whom;
  }
  if (counted.has_noun() && !counted.count.type.empty()) {
    if (counted.is_plural) whom = of_kind(counted.count);
    whom.end = last;
    return whom;
  }
  if (const Mention* mark = a_.mention_at(last); mark != nullptr &&
                                                 mark->kind == MentionKind::kType &&
                                                 mark->first == last && a_.is_several(*mark)) {
    whom = of_kind(kind_named(*mark));
    whom.end = mark->last;
    return whom;
  }
  if (first > 1 && a_.is_in("count_of_which", first - 1) && a_.office(first - 2) == "of") {
    whom = told_before(first - 2);
    whom.is_share = true;
    whom.end = last;
    return whom;
  }
  // "Of the sixteen, four went back", "of the M.40, sixteen; ...".
  std::uint32_t begin = first;
  while (begin > 0 && a_.clauses_.sentence_of[begin - 1] == a_.clauses_.sentence_of[first] &&
         a_.word(begin - 1) != ";" && a_.word(begin - 1) != ":")
    --begin;
  if (begin < first && a_.office(begin) == "of") {
    whom = behind_of(begin + 1, number);
    for (std::uint32_t t = whom.end; t < first; ++t) {
      if (a_.number_told(t) > 0) return {};
    }
    if (whom.end > first) return {};
    whom.end = last;
    return whom;
  }
  // "The Mk II had a closed cabin. Nine were delivered": one kind, of which the sentence was.
  if (counted.has_noun() || !a_.mentions_.tokens[first].sentence_start || first == 0) return {};
  const Mention* only = nullptr;
  for (const Mention& type : a_.mentions_of(MentionKind::kType)) {
    if (a_.clauses_.sentence_of[type.first] + 1 != a_.clauses_.sentence_of[first]) continue;
    if (only != nullptr) return {};
    only = &type;
  }
  if (only == nullptr || a_.begin_of_sentence(only->first) + 1 < only->first) return {};
  whom = of_kind(kind_named(*only));
  whom.end = last;
  whom.is_guessed = true;
  return whom;
}

// "Were made into Mk IIs", "came out again as Mk IIs".
BlockAssembler::KindCounts::Asked::What BlockAssembler::KindCounts::Asked::rebuilt(
    const Whom& whom) const {
  What what;
  if (!whom.is_share || whom.kind.mark.empty() || !a_.has_word_of("count_rebuilding")) return what;
  constexpr std::uint32_t kReach = 30;
  const std::uint32_t sentence = a_.clauses_.sentence_of[whom.end > 0 ? whom.end - 1 : 0];
  for (const Mention& type : a_.mentions_of(MentionKind::kType)) {
    if (type.first < whom.end + 2 || type.first > whom.end + kReach ||
        a_.clauses_.sentence_of[type.first] != sentence)
      continue;
    const Count kind = kind_named(type);
    if (kind.type != whom.kind.type || kind.mark.empty() || kind.mark == whom.kind.mark) return {};
    const std::uint32_t lead = a_.office(type.first - 1) == "the" ? type.first - 2 : type.first - 1;
    const bool is_it = a_.is_in("count_rebuilt_as", lead) && a_.is_several(type) &&
                       a_.stands_between(whom.end, type.first, "count_rebuilding");
    if (!is_it) return {};
    what.deed = Deed::kRebuilt;
    what.of = kind.mark;
    what.end = type.last;
    what.is_all = true;
    return what;
  }
  return what;
}

// What is told before the number: "2 Wing lost", "had built", "2 Wing had, first and last,".
BlockAssembler::KindCounts::Asked::What BlockAssembler::KindCounts::Asked::before(
    const Told& told, std::uint32_t end) const {
  What what;
  std::uint32_t t = told.first;
  while (t > 0 && a_.is_in("count_lead_word", t - 1)) --t;
  constexpr std::uint32_t kLongestAside = 6;
  if (t > 1 && a_.word(t - 1) == ",") {
    std::uint32_t comma = t - 1;
    while (comma > 0 && t - comma < kLongestAside && a_.word(comma - 1) != ",") --comma;
    if (comma > 1 && a_.word(comma - 1) == ",") t = comma - 1;
  }
  if (t < 2) return what;
  if (a_.is_in("making_verb", t - 1) && !a_.is_auxiliary(t - 2)) {
    what.deed = Deed::kMade;
    const auto& dates = a_.mentions_.dates;
    what.is_all = k_.is_whole_behind(end) ||
                  std::any_of(dates.begin(), dates.end(), [&](const DateMention& date) {
                    return date.bound_begin == a_.mentions_.tokens[end].begin;
                  });
  } else if (a_.is_in("strength_verb", t - 1)) {
    const Mention* unit = a_.mention_ending_at(t - 1);
    if (unit == nullptr || unit->kind != MentionKind::kUnit || unit->readings.size() > 1 ||
        a_.ledger_.unit(unit->value) == nullptr)
      return what;
    what.deed = Deed::kWith;
    what.of = unit->value;
  }
  return what;
}

BlockAssembler::KindCounts::Asked::What BlockAssembler::KindCounts::Asked::what(
    const Told& told, const Whom& whom) const {
  What what;
  const auto count = static_cast<std::uint32_t>(a_.mentions_.tokens.size());
  const std::uint32_t sentence = a_.clauses_.sentence_of[told.first];
  std::uint32_t t = whom.end;
  // "Five, X12 to X16, were lost".
  if (a_.word(t) == ",") {
    for (const Group& group : a_.groups_) {
      if (group.first == t + 1) t = group.last + (a_.word(group.last) == "," ? 1 : 0);
    }
  }
  const std::uint32_t from = t;
  bool is_passive = false;
  while (t < count && (a_.is_auxiliary(t) || a_.is_in("pluperfect_auxiliary", t) ||
                       a_.is_in("making_adverb", t) || a_.is_in("use_adverb", t))) {
    is_passive = is_passive || a_.is_auxiliary(t);
    ++t;
  }
  if (t >= count || a_.clauses_.sentence_of[t] != sentence) return before(told, whom.end);
  if (what = rebuilt(whom); what.deed != Deed::kNone) return what;
  what.end = t + 1;
  if (a_.is_in("count_lost", t)) {
    what.deed = a_.is_lost_or_else(t + 1) ? Deed::kNone : Deed::kLost;
    // "Lost or written off", "lost from one cause or another".
    if (a_.office(t + 1) == "or") what.end = a_.is_in_event(t + 2) ? t + 4 : t + 3;
    what.is_all = k_.is_whole_behind(what.end);
    return what;
  }
  if (is_passive && a_.is_in("making_verb", t)) {
    const std::uint32_t to = a_.is_in("count_new_to", t + 1) ? t + 2 : 0;
    const Mention* unit = to > 0 && a_.office(to) == "to" ? k_.unit_at(to + 1) : nullptr;
    if (to > 0 && unit == nullptr) return {};
    if (unit != nullptr) {
      what.deed = Deed::kNewTo;
      what.of = unit->value;
      what.end = unit->last;
      what.is_all = k_.is_whole_behind(what.end);
      return what;
    }
    what.deed = Deed::kMade;
    what.is_all = k_.is_whole_behind(what.end);
    return what;
  }
  if (a_.is_in("count_coming_verb", t)) {
    what.deed = Deed::kMade;
    what.is_vague = true;
    return what;
  }
  if (is_passive && a_.is_in("share_renumbered", t)) {
    what.deed = Deed::kRenumbered;
    what.is_all = true;
    return what;
  }
  if (is_passive) {
    const std::uint32_t mark = a_.office(t) == "of" && a_.office(t + 1) == "the" ? t + 2 : t;
    const Mention* type = a_.mention_at(mark);
    if (type != nullptr && type->kind == MentionKind::kType && type->first == mark &&
        !type->detail.empty()) {
      const Count kind = kind_named(*type);
      if (kind.type != whom.kind.type) return {};
      what.deed = Deed::kOfMark;
      what.of = kind.mark;
      what.end = type->last;
      what.is_all = true;
      return what;
    }
  }
  if (a_.is_in("count_upon", t)) {
    const std::uint32_t charge = past_the(t + 1);
    if (a_.is_in("count_charge", charge)) {
      what.deed = Deed::kOnCharge;
      what.end = charge + 1;
      what.is_all = true;
      return what;
    }
  }
  if (from == t && whom.end == t) return before(told, whom.end);
  return {};
}

// The days of a date right behind, else of the only one; `has_dates` where others may be meant.
BlockAssembler::KindCounts::Window BlockAssembler::KindCounts::Asked::days(const Told& told,
                                                                           const What& what,
                                                                           bool& has_dates) const {
  const std::uint32_t sentence = a_.clauses_.sentence_of[told.first];
  has_dates = a_.any_mention(MentionKind::kDate, [&](const Mention& date) {
    return a_.clauses_.sentence_of[date.first] == sentence;
  });
  const std::uint32_t end = what.end;
  const bool is_led = a_.is_in("count_when_word", end) || a_.is_in("count_span_word", end) ||
                      a_.is_in("count_upon", end);
  const Mention* date = nullptr;
  for (std::uint32_t t = end; is_led && t <= end + 1 && date == nullptr; ++t)
    date = a_.mention_over(MentionKind::kDate, t);
  if (date == nullptr) {
    const bool is_pluperfect =
        a_.stands_between(a_.begin_of_sentence(told.first), end, "pluperfect_auxiliary");
    const bool is_beside = a_.any_mention(MentionKind::kDate, [&](const Mention& other) {
      return a_.clauses_.clause_of[other.first] == a_.clauses_.clause_of[told.first];
    });
    return has_dates && is_beside ? k_.window(told.first, is_pluperfect) : Window{};
  }
  Window window;
  const DateMention& how = a_.mentions_.dates[date->payload];
  const ResolvedDate& resolved = a_.dates_[date->payload];
  const DaySet& days = resolved.plain.is_unknown() ? resolved.date.days() : resolved.plain.days();
  if (how.hedged || resolved.impossible || resolved.inherited || resolved.date.is_unknown() ||
      days.empty() || days.is_all() || (how.bound != DateBound::kNone && !how.is_somewhere_within))
    return window;
  window.days = days;
  window.is_told = window.is_sum = true;
  return window;
}

void BlockAssembler::KindCounts::Asked::ask(const Told& told, const Whom& whom, const What& what) {
  bool has_dates = false;
  const Window window = what.is_vague ? Window{} : days(told, what, has_dates);
  const std::uint32_t sentence = a_.clauses_.sentence_of[told.first];
  const auto is_here = [&](const Mention& other) {
    return a_.clauses_.sentence_of[other.first] == sentence;
  };
  const bool is_open = has_dates && !window.is_told;
  Bounds bounds;
  std::string_view fate;
  bool is_sum = false;
  std::string of = what.of;
  switch (what.deed) {
    case Deed::kNone:
      return;
    case Deed::kMade: {
      fate = window.is_told ? "delivered" : "made";
      bounds =
          window.is_told
              ? k_.made(whom.rows, window.days)
              : Bounds{static_cast<int>(whom.rows.size()), static_cast<int>(whom.rows.size()), {}};
      // "Ten Plovers were delivered, the first in May": all there were.
      const bool opens = a_.mentions_.tokens[told.first].sentence_start;
      const bool is_bare = !a_.any_mention(MentionKind::kUnit, is_here) &&
                           !a_.any_mention(MentionKind::kPlace, is_here);
      const bool has_ends = a_.word(what.end) == "," && a_.office(what.end + 1) == "the" &&
                            a_.is_in("count_end_word", what.end + 2);
      is_sum = window.is_told ? window.is_sum && what.is_all
                              : opens && is_bare && what.is_all && (!has_dates || has_ends);
      break;
    }
    case Deed::kLost:
      fate = "lost";
      bounds = k_.lost(whom.rows, {}, window.days);
      is_sum = what.is_all && (window.is_told ? window.is_sum : whom.is_share && !has_dates);
      break;
    case Deed::kRenumbered:
      fate = "renumbered";
      bounds = k_.renumbered(whom.rows);
      is_sum = whom.is_share && !is_open;
      break;
    case Deed::kOnCharge:
      if (!window.is_told) return;
      fate = "on_charge";
      bounds = k_.on_charge(whom.rows, window.days);
      is_sum = true;
      break;
    case Deed::kOfMark:
      fate = "of_mark";
      bounds.least = static_cast<int>(
          std::count_if(whom.rows.begin(), whom.rows.end(),
                        [&](const Airframe* row) { return row->mark == what.of; }));
      bounds.most = bounds.least;
      is_sum = true;
      break;
    case Deed::kNewTo:
      fate = "new";
      bounds = k_.new_to(whom.rows, what.of);
      is_sum = what.is_all && !has_dates;
      break;
    case Deed::kWith:
      if (is_open) return;
      fate = "with";
      bounds = k_.with_unit(whom.rows, what.of, window.days);
      if (bounds.most == 0) return;
      break;
    case Deed::kRebuilt:
      fate = "rebuilt";
      bounds = k_.made_into(whom.rows, what.of);
      if (bounds.most == 0) return;
      is_sum = whom.is_share;
      break;
  }
  const int number = told.counted.count.number;
  const bool is_wrong = number > bounds.most || (is_sum && !told.is_floor && number < bounds.least);
  if (!is_wrong) return;
  // That more are told than there ever were is seen without this.
  const bool is_told = what.deed == Deed::kMade && !is_sum && !window.is_told &&
                       std::any_of(a_.out_.begin() + static_cast<std::ptrdiff_t>(a_.first_claim_),
                                   a_.out_.end(), [&](const Claim& claim) {
                                     return claim.kind == ClaimKind::kCount &&
                                            claim.begin == a_.mentions_.tokens[told.first].begin &&
                                            claim.count->fate == "taken_on_charge";
                                   });
  if (is_told) return;
  Told own = told;
  own.counted.count.type = whom.kind.type;
  own.counted.count.mark = whom.kind.mark;
  own.last = std::max(told.last, whom.end);
  k_.claim(own, fate, bounds, is_sum, of);
}

// By another rule.
bool BlockAssembler::KindCounts::Asked::is_counted(const Told& told) const {
  const Mention words = a_.words_of(told.first, told.last);
  return std::any_of(
      a_.out_.begin() + static_cast<std::ptrdiff_t>(a_.first_claim_), a_.out_.end(),
      [&](const Claim& claim) {
        return claim.kind == ClaimKind::kCount && claim.begin < words.end &&
               words.begin < claim.end &&
               (claim.count->is_counted || claim.count->is_place || claim.count->is_last);
      });
}

void BlockAssembler::KindCounts::Asked::add() {
  What last;
  Whom of_last;
  std::uint32_t sentence = kNone;
  for (const std::uint32_t t : a_.numbers_) {
    if (a_.mention_at(t) != nullptr || (t > 0 && a_.word(t - 1) == "-")) continue;
    Told told;
    told.counted = a_.read_count(t);
    const Count& count = told.counted.count;
    told.first = told.counted.first;
    told.last = told.counted.last;
    if (count.is_place || count.is_last || count.number < 2 || is_counted(told)) continue;
    // "Of the eight": the whole, of which something is told.
    if (t > 1 && past_the(t - 1) == t && a_.office(t - 2) == "of") continue;
    told.is_floor = k_.is_floor(t);
    if ((!count.is_exact && !told.is_floor) || k_.is_denied(t)) continue;
    if (a_.clauses_.sentence_of[t] != sentence) {
      sentence = a_.clauses_.sentence_of[t];
      last = {};
      of_last = {};
      // "Delivered, then: sixteen of the Mk I; of the Mk II, nine".
      const std::uint32_t begin = a_.begin_of_sentence(t);
      if (begin < t && a_.is_in("making_verb", begin)) last.deed = Deed::kMade;
    }
    Whom whom = this->whom(told);
    What what;
    // "Ten of the Mk I came in two lots: six in 1931, four in 1934".
    const bool goes_on = whom.rows.empty() && last.deed == Deed::kMade && !told.counted.has_noun();
    if (goes_on &&
        (a_.is_in("count_when_word", told.last) || a_.is_in("count_span_word", told.last))) {
      whom = of_last;
      what = last;
      what.end = whom.end = told.last;
      what.is_all = true;
      what.is_vague = false;
    }
    if (whom.rows.empty()) continue;
    if (what.deed == Deed::kNone) what = this->what(told, whom);
    // "Delivered, then: nine of the Mk I and seven of the Mk II": said once.
    const bool is_over = whom.end >= a_.mentions_.tokens.size() ||
                         a_.mentions_.tokens[whom.end].kind == TokenKind::kMark ||
                         a_.office(whom.end) == "and";
    if (what.deed == Deed::kNone && is_over && last.deed == Deed::kMade) what = last;
    // More than there ever were, whatever they did.
    const bool opens = a_.mentions_.tokens[told.first].sentence_start && told.counted.is_plural;
    const bool is_plan = a_.is_auxiliary(whom.end) && a_.office(whom.end + 1) == "to";
    if (what.deed == Deed::kNone && opens && !whom.is_share && !whom.is_guessed && !is_plan &&
        !a_.is_caption()) {
      what.deed = Deed::kMade;
      what.is_vague = true;
    }
    if (what.deed == Deed::kNone) continue;
    if (what.end < whom.end) what.end = whom.end;
    ask(told, whom, what);
    last = what;
    of_last = std::move(whom);
  }
}

void BlockAssembler::KindCounts::add_asked() { Asked(*this).add(); }

}  // namespace tailproof

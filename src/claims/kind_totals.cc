// How many of a kind there ever were, where the kind stands beside the number or elsewhere: "there
// were only ever eight Plovers", "the Plover, of which ten were built", "production came to ten".
#include "claims/kind_counts.h"

namespace tailproof {

// The kind of which a number without a noun tells: "the third of the Plovers to be lost", "of the
// Plovers six were lost". What it says of them is told here where no other rule reads it.
bool BlockAssembler::KindCounts::find_kind_elsewhere(Told& told) {
  Count& count = told.counted.count;
  const std::uint32_t last = told.counted.last;
  const auto take = [&](const Mention* type) {
    if (type == nullptr || type->kind != MentionKind::kType || !type->readings.empty())
      return false;
    count.type = type->value;
    count.mark = type->detail;
    return true;
  };
  if (count.is_place || count.is_last) {
    if (a_.office(last) != "of" || a_.office(last + 1) != "the") return false;
    const Mention* type = a_.mention_at(last + 2);
    if (type == nullptr || type->first != last + 2 || !a_.is_several(*type) || !take(type))
      return false;
    told.last = told.counted.last = type->last;
    return true;
  }
  if (count.number < 2) return false;
  told.is_floor = is_floor(told.first);
  if (!count.is_exact && !told.is_floor) return false;
  if (take(a_.type_counted_of(told.first)) && loss_behind(last) != kNone) {
    if (!is_denied(told.first)) add_lost(told);
    return false;
  }
  bool is_whole = false;
  if (!take(kind_of_output(told, is_whole)) || is_denied(told.first)) return false;
  const auto size = static_cast<int>(kin(count).size());
  const bool is_near = size > 1 && count.number * 2 >= size && count.number <= 2 * size;
  const std::uint32_t sentence = a_.clauses_.sentence_of[told.first];
  const auto is_here = [&](const Mention& other) {
    return a_.clauses_.sentence_of[other.first] == sentence;
  };
  const bool is_narrowed =
      a_.any_mention(MentionKind::kUnit, is_here) || a_.any_mention(MentionKind::kDate, is_here);
  if (is_near) claim(told, "made", {size, size, {}}, is_whole && !is_narrowed);
  return false;
}

// "The Plover, of which ten were built", "the Plover (ten built)", "production of the Plover came
// to ten", "the Plover, ten strong": the type; `is_whole` where all of them are meant.
const Mention* BlockAssembler::KindCounts::kind_of_output(const Told& told, bool& is_whole) const {
  const std::uint32_t first = told.first, last = told.last;
  const auto made_behind = [&](std::uint32_t t) {
    while (a_.is_auxiliary(t) || a_.is_in("pluperfect_auxiliary", t) ||
           a_.is_in("making_adverb", t))
      ++t;
    return a_.is_in("making_verb", t);
  };
  const auto type_before = [&](std::uint32_t end) {
    if (end > 0 && a_.word(end - 1) == ",") --end;
    return a_.mention_ending_at(end);
  };
  is_whole = true;
  constexpr std::uint32_t kOfWhich = 2;
  if (first > kOfWhich && a_.office(first - kOfWhich) == "of" &&
      a_.is_in("relative_word", first - 1) && made_behind(last))
    return type_before(first - kOfWhich);
  if (a_.office(last) == "of" && a_.is_in("relative_word", last + 1) &&
      made_behind(last + kOfWhich))
    return type_before(first);
  if (first > 1 && a_.word(first - 1) == "(" && a_.is_in("making_verb", last) &&
      a_.word(last + 1) == ")")
    return a_.mention_ending_at(first - 1);
  // "Production of the Plover came to ten", "Plover production was ten".
  std::uint32_t verb = first;
  if (verb > 1 && a_.is_in("output_preposition", verb - 1)) --verb;
  const bool is_output = verb > 2 && (a_.is_in("amounting_verb", verb - 1) ||
                                      (verb == first && a_.is_in("was_word", verb - 1)));
  if (is_output && a_.has_word_of("output_noun")) {
    std::uint32_t end = verb - 1;
    if (a_.is_in("making_verb", end - 1)) --end;
    if (a_.is_in("output_noun", end - 1)) return a_.mention_ending_at(end - 1);
    const Mention* type = a_.mention_ending_at(end);
    if (type == nullptr || type->first < 2) return nullptr;
    const std::uint32_t of = type->first - (a_.office(type->first - 1) == "the" ? 2 : 1);
    const bool is_of = of > 0 && a_.office(of) == "of" && a_.is_in("output_noun", of - 1);
    return is_of ? type : nullptr;
  }
  is_whole = false;
  const bool is_strong = a_.is_in("strong_word", last) ||
                         (a_.office(last) == "in" && a_.is_in("number_noun", last + 1));
  if (is_strong && first > 0 && a_.word(first - 1) == ",") return type_before(first);
  // "The Plover was built to the number of ten".
  constexpr std::uint32_t kToTheNumberOf = 4;
  if (first > kToTheNumberOf && a_.office(first - 1) == "of" &&
      a_.is_in("number_noun", first - 2) && a_.office(first - kToTheNumberOf) == "to") {
    std::uint32_t end = first - kToTheNumberOf;
    while (end > 0 && (a_.is_in("making_verb", end - 1) || a_.is_auxiliary(end - 1))) --end;
    return a_.mention_ending_at(end);
  }
  return nullptr;
}

// "Ten Plover Is, six Plover IIs and nine Geese were built": the verb said once, behind the last.
bool BlockAssembler::KindCounts::is_made_in_list(std::uint32_t token) const {
  const auto count = static_cast<std::uint32_t>(a_.mentions_.tokens.size());
  std::uint32_t t = token;
  while (t + 1 < count && (a_.word(t) == "," || a_.office(t) == "and")) {
    ++t;
    if (a_.office(t) == "and") ++t;
    if (!a_.is_in("number", t) || a_.mention_at(t) != nullptr) return false;
    const Counted other = a_.read_count(t);
    if (other.count.type.empty() || other.last <= t) return false;
    t = other.last;
  }
  if (t == token) return false;
  bool is_passive = false;
  for (; a_.is_auxiliary(t) || a_.is_in("pluperfect_auxiliary", t) || a_.is_in("making_adverb", t);
       ++t)
    is_passive = is_passive || a_.is_auxiliary(t);
  return is_passive && a_.is_in("making_verb", t);
}

// "There were only ever eight Plovers", "the ten Plovers", "Plovers, ten in number": more than
// there ever were, and where all are meant, fewer.
bool BlockAssembler::KindCounts::add_total(const Told& told) {
  const Counted& counted = told.counted;
  const int number = counted.count.number;
  std::uint32_t t = told.first;
  bool is_ever = false;
  while (t > 0 && (a_.is_in("making_adverb", t - 1) || a_.is_in("count_ever", t - 1))) {
    --t;
    is_ever = is_ever || a_.is_in("count_ever", t);
  }
  const bool is_existential = t > 1 && (a_.is_in("was_word", t - 1) || a_.office(t - 1) == "had") &&
                              a_.is_in("existential_word", t - 2);
  const std::uint32_t end = counted.last;
  const bool is_in_all = a_.is_in("count_total_word", end + 1) || a_.is_in("count_total_word", end);
  // "Ten Plovers followed", "the yard turned out ten Plovers".
  const bool is_turned_out = told.first > 1 && a_.is_in("count_out_word", told.first - 1) &&
                             a_.is_in("turning_verb", told.first - 2);
  const bool is_made = a_.tells_of_making(counted) || is_turned_out ||
                       a_.is_in("count_coming_verb", end) || is_made_in_list(end);
  const bool is_definite = told.first > 0 && (a_.office(told.first - 1) == "the" ||
                                              a_.is_in("each_word", told.first - 1));
  if (!is_existential && !is_made && !is_definite) return false;
  // Up to a colon or semicolon.
  std::uint32_t close = end;
  const std::uint32_t sentence = a_.clauses_.sentence_of[told.first];
  while (close < a_.mentions_.tokens.size() && a_.clauses_.sentence_of[close] == sentence &&
         a_.word(close) != ":" && a_.word(close) != ";")
    ++close;
  const auto is_here = [&](const Mention& other) {
    return a_.clauses_.sentence_of[other.first] == sentence && other.first < close;
  };
  // A place before it may be the makers'.
  const bool has_unit = a_.any_mention(MentionKind::kUnit, is_here) ||
                        a_.any_mention(MentionKind::kPlace, [&](const Mention& place) {
                          return is_here(place) && place.first > told.first;
                        });
  // "Nine Plovers in all were lost" is of some.
  const bool is_of_all = (is_existential && (is_ever || is_in_all)) || (is_made && is_in_all);
  const bool is_sum = is_of_all && !has_unit && is_whole_behind(end) &&
                      !a_.any_mention(MentionKind::kDate, is_here);
  if (!is_sum && number <= static_cast<int>(rows_of(counted.count).size())) return false;
  const auto size = static_cast<int>(kin(counted.count).size());
  if (size < 2 || number * 2 < size || number > 2 * size) return false;
  claim(told, "made", {size, size, {}}, is_sum);
  return true;
}

// "On 1 May 2 Wing had nine Plovers", "there were nine Plovers with 2 Wing on 1 May", "nine Plovers
// served with 2 Wing": more than it can have had that day, or ever; on a day fewer as well.
bool BlockAssembler::KindCounts::add_strength(const Told& told) {
  const std::uint32_t sentence = a_.clauses_.sentence_of[told.first];
  std::uint32_t before = told.first;
  while (before > 0 && a_.is_in("count_lead_word", before - 1)) --before;
  const Mention* unit = nullptr;
  std::uint32_t end = told.counted.last;
  if (before > 0 && a_.is_in("strength_verb", before - 1)) {
    std::uint32_t verb = before - 1;
    if (a_.mention_over(MentionKind::kDate, verb) != nullptr) return false;
    unit = a_.mention_ending_at(verb);
    if (unit == nullptr || unit->kind != MentionKind::kUnit || unit->readings.size() > 1 ||
        a_.ledger_.unit(unit->value) == nullptr)
      return false;
  } else {
    constexpr std::uint32_t kReach = 3;
    std::uint32_t t = end;
    while (t - end < kReach && (a_.is_auxiliary(t) || a_.is_in("count_serving_verb", t))) ++t;
    if (!a_.is_in("strength_with", t)) return false;
    unit = unit_at(t + 1);
    if (unit == nullptr) return false;
    const bool is_said = t > end || (before > 1 && a_.is_in("was_word", before - 1) &&
                                     a_.is_in("existential_word", before - 2));
    if (!is_said) return false;
    end = unit->last;
  }
  // "Nine Plovers serviceable", "nine Plovers at the Point" are some of them.
  const bool is_narrowed = !is_whole_behind(end) && a_.office(end) != "on";
  DaySet days = DaySet::all();
  bool is_day = false;
  for (const Mention& date : a_.mentions_of(MentionKind::kDate)) {
    if (a_.clauses_.sentence_of[date.first] != sentence) continue;
    const DateMention& how = a_.mentions_.dates[date.payload];
    const ResolvedDate& resolved = a_.dates_[date.payload];
    if (!days.is_all() || how.bound != DateBound::kNone || how.hedged ||
        resolved.date.is_unknown() || resolved.date.days().empty() || resolved.inherited)
      return false;
    days = resolved.date.days();
    is_day = days.first() == days.last();
  }
  const Bounds bounds = with_unit(kin(told.counted.count), std::string(unit->value), days);
  if (bounds.most == 0) return false;
  claim(told, "with", bounds, is_day && !is_narrowed, std::string(unit->value));
  return true;
}

}  // namespace tailproof

// Markings that stand for others in the text ("the plain one"), and one coat of paint over another.
#include <algorithm>
#include <utility>

#include "claims/assembler.h"
#include "grammars/fold.h"

namespace tailproof {
namespace {

std::string last_word(std::string_view name) {
  const std::size_t blank = name.find_last_of(" -");
  return fold(blank == std::string_view::npos ? name : name.substr(blank + 1));
}

std::string over(const Mention& upper, const Mention& lower) {
  return std::string(upper.value) + " over " + std::string(lower.value);
}

}  // namespace

// Whether a word for the marking's family ("roundel") stands before it in its sentence or in the
// one before.
bool BlockAssembler::follows_its_family(const Mention& pro_form, std::string_view marking) const {
  const Marking* own = ledger_.marking(marking);
  if (own == nullptr) return false;
  std::vector<std::string> nouns = {fold(own->family)};
  for (const Marking& other : ledger_.markings()) {
    if (other.family != own->family) continue;
    nouns.push_back(last_word(other.marking));
    for (const std::string& alias : other.aliases) nouns.push_back(last_word(alias));
  }
  const std::uint32_t sentence = clauses_.sentence_of[pro_form.first];
  for (std::uint32_t t = pro_form.first; t-- > 0;) {
    if (clauses_.sentence_of[t] + 1 < sentence) return false;
    const std::string w = folded_word(block_.text, mentions_.tokens[t]);
    const bool is_noun = std::any_of(nouns.begin(), nouns.end(), [&](const std::string& noun) {
      return w == noun || w == noun + "s" || w + "s" == noun;
    });
    if (is_noun) return true;
  }
  return false;
}

// "The plain one" is a marking only where its kind has been spoken of.
void BlockAssembler::settle_pro_forms() {
  bool has_changed = false;
  for (Mention& mention : mentions_.items) {
    if (mention.kind != MentionKind::kMarking || mention.role != "one") continue;
    std::vector<std::string> readings = mention.readings;
    if (readings.empty()) readings.emplace_back(mention.value);
    std::erase_if(readings, [&](const std::string& reading) {
      return !follows_its_family(mention, reading);
    });
    if (readings.empty()) {
      mention.kind = MentionKind::kCue;  // "the plain one" of something else
      mention.role = {};
      has_changed = true;
      continue;
    }
    mention.value = finder_.keep(readings.front());
    mention.readings = readings.size() > 1 ? readings : std::vector<std::string>{};
  }
  if (has_changed) index_mentions();
}

// The last marking in that sentence that ends at or before the token.
const Mention* BlockAssembler::marking_before(std::uint32_t token, std::uint32_t sentence) const {
  const Mention* found = nullptr;
  for (const Mention& mention : mentions_of(MentionKind::kMarking)) {
    if (hidden_[mention.first] != 0) continue;
    if (mention.last <= token && clauses_.sentence_of[mention.first] == sentence) found = &mention;
  }
  return found;
}

const Mention* BlockAssembler::marking_after(std::uint32_t token, std::uint32_t sentence) const {
  for (const Mention& mention : mentions_of(MentionKind::kMarking)) {
    if (hidden_[mention.first] != 0) continue;
    if (mention.first >= token && clauses_.sentence_of[mention.first] == sentence) return &mention;
  }
  return nullptr;
}

// "That it was painted over", "which it had been laid over".
bool BlockReading::is_painted_over(std::uint32_t token) const {
  if ((office(token) != "that" && office(token) != "which") || office(token + 1) != "it")
    return false;
  std::uint32_t verb = token + 2;
  while (is_in("event_auxiliary", verb) || is_in("pluperfect_auxiliary", verb)) ++verb;
  return verb > token + 2 && any_cue("cue_beneath", [&](const Mention& cue) {
           return cue.first == verb && cue.value == "over";
         });
}

// "Where the weather has stripped the plain flag, the old one shows through": the clause before the
// lower coat tells that the upper one has gone in places.
bool BlockReading::is_stripped_off(const Mention& upper, const Mention& lower) const {
  constexpr std::uint32_t kReach = 6;
  std::uint32_t t = upper.first;
  if (t > 0 && is_in("determiner", t - 1)) --t;
  if (t == 0 || !is_in("paint_stripping", t - 1)) return false;
  for (std::uint32_t steps = 0; t-- > 0 && steps < kReach; ++steps) {
    if (mentions_.tokens[t].kind == TokenKind::kMark) return false;
    if (office(t) == "where")
      return any_cue("cue_beneath", [&](const Mention& cue) {
        return cue.first >= lower.last && cue.first - lower.last <= kReach &&
               clauses_.sentence_of[cue.first] == clauses_.sentence_of[lower.first];
      });
  }
  return false;
}

// "Under the plain flag the edged one can still be made out": the upper coat of a marking before
// the words for being seen.
const Mention* BlockAssembler::fronted_coat(const Mention& lower) const {
  constexpr std::uint32_t kReach = 6;
  if (lower.kind != MentionKind::kMarking || hidden_[lower.first] != 0) return nullptr;
  const std::uint32_t sentence = clauses_.sentence_of[lower.first];
  const Mention* upper = marking_before(lower.first, sentence);
  // "The plain flag is on top, and the old one that it was painted over shows up."
  if (is_painted_over(lower.last)) {
    if (upper == nullptr && sentence > 0) upper = marking_before(lower.first, sentence - 1);
    return upper != nullptr && upper->value != lower.value ? upper : nullptr;
  }
  if (upper == nullptr || upper->value == lower.value) return nullptr;
  std::uint32_t t = upper->first;
  if (t > 0 && is_in("determiner", t - 1)) --t;
  // "Where the plain flag has flaked the old one appears."
  constexpr std::uint32_t kWorn = 4;
  const bool is_worn =
      t > 0 && office(t - 1) == "where" &&
      stands_between(upper->last, std::min(upper->last + kWorn, lower.first), "paint_worn");
  if (is_worn || is_stripped_off(*upper, lower)) return upper;
  if (t == 0 || (!is_in("paint_below", t - 1) && !is_in("paint_through", t - 1))) return nullptr;
  // "Beneath the plain flag, where the dope has flaked, one makes out the old one."
  if (stands_between(upper->last, lower.first, "paint_seen_before")) return upper;
  for (t = lower.last; t < mentions_.tokens.size() && t < lower.last + kReach; ++t) {
    if (clauses_.sentence_of[t] != sentence || marking_after(t, sentence) != nullptr) break;
    const bool is_phrase =
        t + 1 < mentions_.tokens.size() && office(t) == "made" && office(t + 1) == "out";
    if (is_phrase || is_in("paint_seen", t)) return upper;
  }
  return nullptr;
}

// The code that is named last before the cue, or first behind it, in its segment.
const Mention* BlockAssembler::code_beside(const Mention& cue, bool is_before) const {
  const Mention* found = nullptr;
  for (const Mention& mention : mentions_.items) {
    const bool is_code = mention.kind == MentionKind::kAirframe && mention.role == "code";
    if (!is_code || clauses_.segment_of[mention.first] != clauses_.segment_of[cue.first]) continue;
    if (is_before && mention.last <= cue.first) found = &mention;
    if (!is_before && mention.first >= cue.last) return &mention;
  }
  return found;
}

// "The 21 was painted over RA-D", "the number is 21, and RA-D has been laid over it": one code over
// another. Behind a pronoun also where what lies on top has no name ("the new C has been laid over
// it"); false where the words are of markings.
bool BlockAssembler::add_code_overpaint(const Mention& cue) {
  const Mention* upper = code_beside(cue, true);
  const Mention* lower = code_beside(cue, false);
  if (!cue.detail.empty()) {
    const std::uint32_t sentence = clauses_.sentence_of[cue.first];
    std::uint32_t first = cue.first;
    while (first > 0 && clauses_.segment_of[first - 1] == clauses_.segment_of[cue.first]) --first;
    const Mention* marking = marking_before(cue.first, sentence);
    const bool is_code_last =
        upper != nullptr && marking != nullptr && upper->first >= marking->last;
    if (marking != nullptr && marking->first >= first && !is_code_last) return false;
    const auto is_of_verb = [&](std::uint32_t t) {
      return is_in("event_conjunction", t) || is_in("event_auxiliary", t) ||
             is_in("pluperfect_auxiliary", t) || is_in("event_aside", t) ||
             is_in("relative_word", t) || is_in("cue_pronoun", t) || folded(t).ends_with("ly");
    };
    while (first < cue.first && is_of_verb(first)) ++first;
    if (first == cue.first) return false;
    if (upper == nullptr) return true;
    lower = nullptr;
    for (const Mention& other : mentions_of(MentionKind::kAirframe)) {
      if (other.role == "code" && other.last <= upper->first && other.value != upper->value &&
          clauses_.sentence_of[other.first] + 1 >= sentence)
        lower = &other;
    }
    if (lower == nullptr) return true;
  }
  if (upper == nullptr || lower == nullptr) return false;
  // "The 15 was replaced a week later by OV-P".
  constexpr std::uint32_t kReach = 5;
  const bool is_passive = cue.first > 0 && is_in("paint_being", cue.first - 1) &&
                          stands_between(cue.first, cue.last, "coat_replaced");
  bool is_by = false;
  for (std::uint32_t t = cue.last; t < lower->first && t < cue.last + kReach; ++t)
    is_by = is_by || is_in("date_by", t);
  if (is_passive && cue.value != "under" && !is_by) return true;
  if (cue.value == "under" || (is_passive && is_by)) std::swap(upper, lower);
  if (upper->value == lower->value) return true;
  std::vector<std::string> subjects = subjects_of(*upper);
  for (std::size_t i = first_claim_; subjects.empty() && i < out_.size(); ++i) {
    const bool is_of_code = out_[i].kind == ClaimKind::kAirframe &&
                            (out_[i].begin == upper->begin || out_[i].begin == lower->begin);
    if (is_of_code && out_[i].role == "code" && !out_[i].subject.empty())
      subjects = {out_[i].subject};
  }
  add_coats(cue, subjects, over(*upper, *lower));
  return true;
}

// | words                                   | upper               | lower               |
// | "X painted over Y", "X. Beneath it, Y"  | before              | behind              |
// | "Y shows through X", "Y, over which X"  | behind              | before              |
// | "X put on over it", "over it, Y"        | before              | the one before that |
// | "Y shows through it"                    | the one before that | before              |
void BlockAssembler::add_overpaint() {
  for (const Mention& mention : mentions_.items) {
    const Mention* upper = fronted_coat(mention);
    if (upper == nullptr) continue;
    Mention seen = mention;
    seen.why = "seen beneath the one before it";
    add_coats(seen, subjects_of(mention), over(*upper, mention));
  }
  for (const std::uint32_t c : index_.of("cue_beneath")) {
    const Mention& cue = mentions_.items[c];
    if (add_code_overpaint(cue)) continue;
    const std::uint32_t sentence = clauses_.sentence_of[cue.first];
    const auto before_in_two = [&](std::uint32_t token) {
      const Mention* found = marking_before(token, sentence);
      return found != nullptr || sentence == 0 ? found : marking_before(token, sentence - 1);
    };
    const Mention* before = before_in_two(cue.first);
    const Mention* after = marking_after(cue.last, sentence);
    if (before != nullptr && !cue.detail.empty()) {
      const Mention* antecedent = before_in_two(before->first);
      if (antecedent != nullptr && antecedent->value != before->value) after = antecedent;
    }
    // "The plain flag hides the old one", which is hidden.
    if (before != nullptr && after == nullptr && cue.value == "over") {
      constexpr std::uint32_t kReach = 4;
      for (const Mention& other : mentions_of(MentionKind::kMarking)) {
        const bool is_next = other.first >= cue.last && other.first - cue.last <= kReach &&
                             clauses_.sentence_of[other.first] == sentence;
        if (is_next && after == nullptr) after = &other;
      }
    }
    if (before == nullptr || after == nullptr || before->value == after->value) {
      add_paint_over_one(cue);
      continue;
    }
    // "The ochre centres were replaced, and a pennant ...": by what, the words do not tell. Beside
    // an order, or without a machine, they tell of rules, and not of paint.
    if (cue.last - cue.first <= 2 && stands_between(cue.first, cue.last, "coat_replaced")) {
      const bool is_passive = cue.first > 0 && is_in("paint_being", cue.first - 1);
      const bool is_by = cue.value == "under";
      const std::vector<std::string> worn_by = subjects_of(*before);
      const std::uint32_t segment = clauses_.segment_of[cue.first];
      if (is_passive != is_by || worn_by.empty() || worn_by.front() == figure_subject() ||
          clauses_.segment_of[before->first] != segment ||
          clauses_.segment_of[after->first] != segment)
        continue;
    }
    add_coats(cue, subjects_of(*before),
              cue.value != "under" ? over(*before, *after) : over(*after, *before));
  }
}

// "LD-B is painted over but legible", "a red hub has been painted over another": one coat has a
// name, and stands right before the words.
void BlockAssembler::add_paint_over_one(const Mention& cue) {
  if (!is_caption() || cue.value == "beneath") return;
  constexpr std::uint32_t kReach = 4;
  const Mention* named = nullptr;
  for (const Mention& mention : mentions_.items) {
    const bool is_coat = (mention.kind == MentionKind::kMarking && hidden_[mention.first] == 0) ||
                         (mention.kind == MentionKind::kAirframe && mention.role == "code");
    if (is_coat && mention.last <= cue.first && cue.first - mention.last <= kReach &&
        clauses_.segment_of[mention.first] == clauses_.segment_of[cue.first])
      named = &mention;
  }
  if (named == nullptr) return;
  for (std::uint32_t t = named->last; t < cue.first; ++t) {
    const bool is_passed = is_in("event_auxiliary", t) || is_in("pluperfect_auxiliary", t) ||
                           is_in("event_aside", t) || folded(t).ends_with("ly");
    if (!is_passed) return;
  }
  const std::string name(named->value);
  const bool is_lower = cue.value != "over" || office(cue.last) != "another";
  add_coats(cue, subjects_of(*named), is_lower ? "paint over " + name : name + " over paint");
}

// A claim of one coat over another at the words that say so.
void BlockAssembler::add_coats(const Mention& words, const std::vector<std::string>& subjects,
                               std::string both) {
  Mention whole = words;
  whole.value = {};
  whole.readings.clear();
  Claim pattern;
  pattern.value = std::move(both);
  if (subjects.empty()) pattern.subject = figure_subject();
  add_for_subjects(whole, ClaimKind::kOverpaint, subjects, pattern);
}

}  // namespace tailproof

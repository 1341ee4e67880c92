// Counts, and places among a kind, that are stated though nothing recounts them.
#include <algorithm>

#include "claims/assembler.h"
#include "claims/kind_counts.h"
#include "mentions/pattern_matcher.h"

namespace tailproof {

// "The first of the eight", "the only machine", "one of six": told of one.
bool BlockAssembler::is_count_of_one(std::uint32_t first) const {
  if (office(first) == "the") ++first;
  return is_in("count_superlative", first) || is_in("count_ordinal", first) ||
         value_in(lexicon_.grammars().list("number"), first) == "1";
}

// Whose a count of one machine is, or of what it wears: that right behind the words or before them,
// else the nearest, else the only one of which the block tells; "" where that is none.
std::string BlockAssembler::machine_counted(std::uint32_t first, std::uint32_t last) const {
  const std::uint32_t sentence = clauses_.sentence_of[first];
  const Group* behind = nullptr;
  const Group* before = nullptr;
  for (const Group& group : groups_) {
    if (clauses_.sentence_of[group.first] != sentence || group.serials.size() != 1) continue;
    if (group.first >= last && behind == nullptr) behind = &group;
    if (group.last <= first) before = &group;
  }
  const auto is_beside = [&](std::uint32_t from, std::uint32_t to) {
    constexpr std::uint32_t kReach = 2;
    if (to - from > kReach) return false;
    for (std::uint32_t t = from; t < to; ++t) {
      if (mentions_.tokens[t].kind != TokenKind::kMark && !is_in("event_auxiliary", t))
        return false;
    }
    return true;
  };
  if (before != nullptr && is_beside(before->last, first)) return before->serials.front();
  if (behind != nullptr && is_beside(last, behind->first)) return behind->serials.front();
  const Group* group = group_for(first, last, nullptr);
  if (group != nullptr && group->serials.size() == 1 && group->clause == clauses_.clause_of[first])
    return group->serials.front();
  std::string only;
  for (const Group& other : groups_) {
    for (const std::string& serial : other.serials) {
      if (!only.empty() && only != serial) return "";
      only = serial;
    }
  }
  return only;
}

// "Of the eight Coursers five were alive": one statement, counted already.
bool BlockAssembler::is_of_all_counted(std::uint32_t first) const {
  if (first == 0) return false;
  const std::uint32_t before = word(first - 1) == "," ? first - 1 : first;
  return std::any_of(out_.begin() + static_cast<std::ptrdiff_t>(first_claim_), out_.end(),
                     [&](const Claim& claim) {
                       if (claim.kind != ClaimKind::kCount || before == 0) return false;
                       const std::uint32_t own = token_at(claim.begin);
                       return claim.end == mentions_.tokens[before - 1].end && own > 1 &&
                              office(own - 1) == "the" && office(own - 2) == "of" &&
                              mentions_.tokens[own - 2].sentence_start;
                     });
}

// "M-201, the first of the two Droghers": the count is told of the one.
std::string BlockAssembler::one_of_counted(std::uint32_t first, std::uint32_t last) const {
  if (first < 2) return "";
  const std::uint32_t of =
      office(first - 1) == "the" || office(first - 1) == "its" ? first - 2 : first - 1;
  if (of == 0 || office(of) != "of") return "";
  const std::uint32_t one = of - 1;
  if (!is_count_of_one(one)) return "";
  return machine_counted(one > 0 && office(one - 1) == "the" ? one - 1 : one, last);
}

// "Three of the Turnstones", "two of 5 Squadron".
void BlockAssembler::add_counts_of_units() {
  if (!is_caption()) return;
  for (const Mention& unit : mentions_of(MentionKind::kUnit)) {
    if (unit.first < 2) continue;
    const std::uint32_t of = office(unit.first - 1) == "the" ? unit.first - 2 : unit.first - 1;
    if (of == 0 || office(of) != "of" || !is_in("count_number", of - 1) ||
        mention_at(of - 1) != nullptr || is_in("person_noun", unit.last) ||
        is_in("person_noun", unit.last + 1))
      continue;
    Claim pattern;
    pattern.value = block_.text.substr(mentions_.tokens[of - 1].begin,
                                       unit.end - mentions_.tokens[of - 1].begin);
    pattern.subject = figure_subject();
    pattern.why = "so many of a unit";
    add_for_subjects(words_of(of - 1, unit.last), ClaimKind::kCount, {}, pattern);
  }
}

// "All three", "the last of its type", "nineteen bomb symbols": stated, though nothing recounts it.
void BlockAssembler::add_told_counts() {
  for (const PatternMatch& match : finder_.matches("count_told", block_.text, mentions_)) {
    const std::uint32_t first = token_at(match.begin);
    std::uint32_t last = token_at(match.end);
    if (mentions_.tokens[last].end <= match.end) ++last;  // the block's last word
    while (last > first + 1 && mentions_.tokens[last - 1].kind == TokenKind::kMark) --last;
    const std::uint32_t end = mentions_.tokens[last - 1].end;
    const bool is_counted = std::any_of(out_.begin() + static_cast<std::ptrdiff_t>(first_claim_),
                                        out_.end(), [&](const Claim& claim) {
                                          return claim.kind == ClaimKind::kCount &&
                                                 claim.begin < end && match.begin < claim.end;
                                        });
    const bool is_elsewhere = !is_caption() && !match.value_of("caption", block_.text).empty();
    if (is_counted || is_elsewhere || is_in("count_not_noun", last)) continue;
    bool is_named = is_of_all_counted(first);  // part of a date, a unit, a measure
    for (std::uint32_t t = first; t < last; ++t) {
      const Mention* name = mention_at(t);
      is_named =
          is_named || (name != nullptr && (t == first || (name->kind != MentionKind::kType &&
                                                          name->kind != MentionKind::kMarking)));
    }
    if (is_named) continue;
    Claim pattern;
    pattern.value = block_.text.substr(match.begin, end - match.begin);
    pattern.why = "pattern " + match.pattern->name;
    const Mention words = words_of(first, last);
    const bool is_of_one = is_count_of_one(first) || !match.value_of("one", block_.text).empty();
    if (is_of_one) pattern.subject = machine_counted(first, last);
    if (pattern.subject.empty() && is_caption()) pattern.subject = figure_subject();
    if (pattern.subject.empty()) {
      const Mention* topic = topic_of(words);
      if (topic != nullptr && topic->kind == MentionKind::kUnit) pattern.subject = topic->value;
    }
    add_for_subjects(words, ClaimKind::kCount, {}, pattern);
  }
}

// "The first Mk IIs", "the last Trivet delivered", "the oldest Verger": a place among its kind that
// nothing recounts.
void BlockAssembler::add_superlatives() {
  if (!has_word_of("count_superlative")) return;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = next_of("count_superlative", 0, count); t + 1 < count;
       t = next_of("count_superlative", t + 1, count)) {
    if (mention_at(t) != nullptr) continue;
    std::uint32_t noun = t + 1;
    if (is_in("number", noun) || is_in("superlative_adjective", noun)) ++noun;
    const Mention* type = noun < count ? mention_at(noun) : nullptr;
    if (type == nullptr || type->kind != MentionKind::kType || type->first != noun) continue;
    const std::uint32_t begin = mentions_.tokens[t].begin;
    const bool is_counted = std::any_of(out_.begin() + static_cast<std::ptrdiff_t>(first_claim_),
                                        out_.end(), [&](const Claim& claim) {
                                          return claim.kind == ClaimKind::kCount &&
                                                 claim.begin < type->end && begin < claim.end;
                                        });
    if (is_counted) continue;
    const Mention words = words_of(t, type->last);
    const Group* group = group_before_apposition(*type);
    if (group == nullptr) group = group_beside(*type);
    Claim pattern;
    pattern.value = std::string(text_of(words));
    pattern.why = "a place among its kind";
    if (group != nullptr && group->serials.size() == 1) pattern.subject = group->serials.front();
    const bool is_one = noun == t + 1 && !type->plural;
    if (pattern.subject.empty() && is_one) pattern.subject = machine_counted(t, type->last);
    if (pattern.subject.empty() && is_caption()) pattern.subject = figure_subject();
    add_for_subjects(words, ClaimKind::kCount, {}, pattern);
  }
}

// "The twelfth, X12", "the sixth, X14, stayed": a place among those spoken of, and the machine.
void BlockAssembler::add_bare_places() {
  for (const Group& group : groups_) {
    if (group.first < 2 || group.serials.size() != 1 || group.members.empty()) continue;
    const std::uint32_t at = group.first - 2;
    const bool is_place = word(at + 1) == "," && is_in("count_ordinal", at) &&
                          mention_at(at) == nullptr &&
                          (mentions_.tokens[at].sentence_start || office(at - 1) == "the");
    if (!is_place) continue;
    Claim pattern;
    pattern.value = std::string(word(at));
    pattern.why = "a place among those spoken of";
    add_for_subjects(words_of(at, at + 1), ClaimKind::kCount, group.serials, pattern);
  }
}

// "Of the Plovers", with which the sentence opens, and no other type before the number.
const Mention* BlockAssembler::type_counted_of(std::uint32_t token) const {
  const Mention* type = nullptr;
  for (const Mention& other : mentions_.items) {
    if (other.first >= token) break;
    if (other.kind != MentionKind::kType ||
        clauses_.sentence_of[other.first] != clauses_.sentence_of[token])
      continue;
    if (type != nullptr) return nullptr;
    type = &other;
  }
  const bool opens = type != nullptr && type->first > 1 && office(type->first - 1) == "the" &&
                     office(type->first - 2) == "of" &&
                     mentions_.tokens[type->first - 2].sentence_start;
  return opens && type->readings.empty() && is_several(*type) ? type : nullptr;
}

void BlockAssembler::add_counts() {
  add_recounted();
  add_counts_of_lists();
  add_told_counts();
  add_told_shares();
  KindCounts(*this).add();
  add_superlatives();
  add_bare_places();
  add_counts_of_units();
}

}  // namespace tailproof

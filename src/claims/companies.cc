// Words that stand for several machines named before: "both", "all three", "they".
#include <algorithm>

#include "claims/assembler.h"
#include "claims/identities.h"
#include "grammars/fold.h"

namespace tailproof {

// "Two Kestors of No. 9 Squadron, NB104 in front and NB108 behind, at Dunmerrin": what stands
// before the first or behind the last of them, outside the words that say which is which, is said
// of all.
void BlockAssembler::make_companies() {
  const WordList* layout = lexicon_.grammars().list("layout_word");
  if (layout == nullptr || groups_.size() < 2) return;
  for (std::size_t g = 0; g + 1 < groups_.size(); ++g) {
    Group company = groups_[g];
    std::size_t end = g;
    while (end + 1 < groups_.size() &&
           clauses_.sentence_of[groups_[end + 1].first] == clauses_.sentence_of[groups_[g].first]) {
      bool joined = true;
      for (std::uint32_t t = groups_[end].last; joined && t < groups_[end + 1].first; ++t) {
        const bool inside_name = std::any_of(
            mentions_.items.begin(), mentions_.items.end(),
            [&](const Mention& m) { return is_identity(m) && m.first <= t && t < m.last; });
        joined = inside_name || mentions_.tokens[t].kind == TokenKind::kMark ||
                 !value_in(layout, t).empty();
        joined = joined && word(t) != ";" && word(t) != ".";
      }
      if (!joined) break;
      ++end;
      for (const std::string& serial : groups_[end].serials) company.serials.push_back(serial);
      company.last = groups_[end].last;
    }
    if (end == g) continue;
    const bool plural = any_mention(MentionKind::kType, [&](const Mention& m) {
      return m.plural && m.last <= company.first &&
             clauses_.sentence_of[m.first] == clauses_.sentence_of[company.first];
    });
    if (plural) companies_.push_back(std::move(company));
    g = end;
  }
}

// "Two Brandlets over the Skaw: P311 leads, with P312 tucked in behind": where as many machines are
// named as the words count, what stands before the first is said of all.
void BlockAssembler::make_counted_companies() {
  const WordList* numbers = lexicon_.grammars().list("number");
  if (!is_caption() || numbers == nullptr) return;
  constexpr std::uint32_t kReach = 3, kReachOverUnit = 6;
  for (const Mention& type : mentions_of(MentionKind::kType)) {
    if (!type.plural) continue;
    std::string count;
    for (std::uint32_t t = type.first; t-- > 0 && count.empty();) {
      // "Three of the Second's Lanners".
      const bool is_of_unit =
          office(t + 1) == "of" && any_mention(MentionKind::kUnit, [&](const Mention& unit) {
            return unit.first > t && unit.last <= type.first;
          });
      if (type.first - t > (is_of_unit ? kReachOverUnit : kReach)) {
        if (type.first - t > kReachOverUnit) break;
        continue;
      }
      if (mentions_.tokens[t].kind == TokenKind::kMark) break;
      count = is_in("company_of_two", t) ? "2" : std::string(value_in(numbers, t));
    }
    if (count.empty()) continue;
    const std::uint32_t sentence = clauses_.sentence_of[type.first];
    for (const std::uint32_t reach : {0U, 1U, 2U}) {
      Group company;
      bool is_first = true;
      for (const Group& group : groups_) {
        const std::uint32_t own = clauses_.sentence_of[group.first];
        if (own < sentence || own > sentence + reach || !group.shown || group.is_either) continue;
        is_first = is_first && group.first >= type.last;
        if (company.serials.empty()) company.first = group.first;
        company.last = group.last;
        for (const std::string& serial : group.serials) {
          if (std::find(company.serials.begin(), company.serials.end(), serial) ==
              company.serials.end())
            company.serials.push_back(serial);
        }
      }
      if (!is_first || company.serials.size() < 2 ||
          std::to_string(company.serials.size()) != count)
        continue;
      company.clause = clauses_.clause_of[type.first];
      company.is_of_opening = true;
      companies_.push_back(std::move(company));
      break;
    }
  }
}

// Not "both wings", "in both particulars", "each wing".
bool BlockAssembler::stands_alone(const Mention& plural) const {
  const Grammars& grammars = lexicon_.grammars();
  const WordList* prepositions = grammars.list("object_preposition");
  const WordList* function_words = grammars.list("function_word");
  const bool is_object = plural.first > 0 && prepositions != nullptr &&
                         !value_in(prepositions, plural.first - 1).empty();
  // "Rudder stripes on both": nothing behind it that could be the two of.
  const bool ends = plural.last >= mentions_.tokens.size() ||
                    mentions_.tokens[plural.last].kind == TokenKind::kMark;
  const bool is_quantified = plural.first > 1 && office(plural.first - 1) == "of" &&
                             is_in("quantifier_word", plural.first - 2);
  if (is_quantified) return ends || is_in("function_word", plural.last);
  if (is_object) return ends && is_caption() && office(plural.first - 1) == "on";
  if (is_in("throughout_word", plural.first)) return ends;
  if (plural.last - plural.first > 1 || plural.last >= mentions_.tokens.size()) return true;
  if (mentions_.tokens[plural.last].kind != TokenKind::kWord) return true;
  const Spelling next = folded(plural.last);
  if (function_words != nullptr && !function_words->value_of(next).empty()) return true;
  if (plural.value == "all each") return false;
  return plural.value == "all" || !next.ends_with("s");
}

// "X12, X13 and X14 went to 11 Company. They were at Brannet by April": several machines are the
// subject of the sentence before, so what goes on about "them" is about these, and not about the
// unit or the one person named there.
bool BlockAssembler::goes_on_about_machines(const Mention& plural) const {
  const std::uint32_t sentence = clauses_.sentence_of[plural.first];
  if (sentence == 0) return false;
  const bool opens = begin_of_sentence(plural.first) == plural.first;
  if (!opens && folded(plural.first) != "them") return false;
  std::size_t machines = 0;
  std::uint32_t end_of_machines = 0;
  for (const Group& group : groups_) {
    if (clauses_.sentence_of[group.first] != sentence - 1 || !group.shown || group.is_either)
      continue;
    machines += group.serials.size();
    end_of_machines = group.last;
  }
  const auto stands_there = [&](const Mention& other, std::uint32_t from, std::uint32_t to) {
    return (other.kind == MentionKind::kPerson || other.kind == MentionKind::kUnit) &&
           other.first >= from && other.last <= to;
  };
  const std::uint32_t begin = begin_of_sentence(end_of_machines > 0 ? end_of_machines - 1 : 0);
  // "Seen by two men of 9 Company".
  if (stands_between(end_of_machines, plural.first, "person_noun")) return false;
  std::size_t people = 0;
  for (const Mention& other : mentions_.items) {
    if (stands_there(other, begin, end_of_machines)) return false;
    const bool is_person = other.kind == MentionKind::kPerson;
    if (is_person && stands_there(other, begin, plural.first)) ++people;
  }
  return machines >= 2 && people < 2;
}

// "X12, photographed from X14. Both wore the star": the two that the caption names, though it shows
// one. "X12, X13 and one other. All three": those of them that it names.
NameList BlockAssembler::all_of_caption(const Mention& plural, std::size_t wanted,
                                        bool others_meant) const {
  std::vector<std::string> shown, named;
  for (const Group& group : groups_) {
    if (group.last > plural.first || group.is_either || attributed_[group.first] != 0) continue;
    if (!group.shown &&
        (group.members.size() != 1 || !carries_camera(mentions_.items[group.members.front()])))
      continue;
    for (const std::string& serial : group.serials) {
      if (std::find(named.begin(), named.end(), serial) != named.end()) continue;
      named.push_back(serial);
      if (group.shown) shown.push_back(serial);
    }
  }
  if (named.size() == wanted) return named;
  const bool is_all = wanted > 2 && shown.size() < wanted && !others_meant;
  return is_all ? shown : std::vector<std::string>{};
}

// "Both", "all three", "they" stand for the machines named before them, in their sentence where it
// has as many, else so far in the caption or in the sentence before. People and units named since
// may be meant as well, so that a bare "they" counts only without them, or where it goes on about
// machines.
// "(X12 and X14). It also received the two visitors. Both were Vorreks": of so many others that are
// named in between, by a noun for no machine that has been named.
bool BlockAssembler::has_nearer_pair(const Mention& plural) const {
  const bool has_count =
      plural.value.size() > 4 && plural.value[4] >= '2' && plural.value[4] <= '9';
  if (!has_count) return false;
  const int wanted = plural.value[4] - '0';
  std::uint32_t from = begin_of_sentence(plural.first);
  from = from == 0 ? 0 : begin_of_sentence(from - 1);
  for (const Group& group : groups_) {
    if (group.last <= plural.first) from = std::max(from, group.last);
  }
  for (std::uint32_t t = from; t + 1 < plural.first; ++t) {
    const bool is_noun = number_told(t) == wanted && office(t) != "both" &&
                         mention_over(MentionKind::kDate, t) == nullptr &&
                         mention_over(MentionKind::kType, t + 1) == nullptr &&
                         folded(t + 1).ends_with("s") && mention_at(t + 1) == nullptr;
    if (is_noun && !is_in("machine_noun", t + 1) && !is_in("date_periods", t + 1)) return true;
  }
  return false;
}

void BlockAssembler::make_plural_pronouns() {
  for (const std::uint32_t c : index_.of("cue_pronoun")) {
    const Mention& cue = mentions_.items[c];
    if (!cue.value.starts_with("all") || !stands_alone(cue)) continue;
    // "The other two came home, and both were scrapped": two that are not named.
    bool is_of_others = false;
    for (std::uint32_t t = begin_of_sentence(cue.first); t < cue.first; ++t)
      is_of_others = is_of_others || (is_in("unnamed_other", t) && number_told(t + 1) > 1);
    if (is_of_others || has_nearer_pair(cue)) continue;
    // "At the Point they had painted its bars on": people, whoever they were.
    const std::uint32_t verb = is_in("pluperfect_auxiliary", cue.last) ? cue.last + 1 : cue.last;
    if (is_in("doer_pronoun", cue.first) && is_in("people_deed", verb)) continue;
    const std::uint32_t sentence = clauses_.sentence_of[cue.first];
    const bool has_count = cue.value.size() > 4 && cue.value[4] >= '2' && cue.value[4] <= '9';
    const std::size_t wanted = has_count ? static_cast<std::size_t>(cue.value[4] - '0') : 0;
    const auto serials_of_sentences = [&](std::uint32_t from) {
      std::vector<std::string> serials;
      for (const Group& group : groups_) {
        if (group.last > cue.first || clauses_.sentence_of[group.first] < from || !group.shown)
          continue;
        for (const std::string& serial : group.serials) {
          if (std::find(serials.begin(), serials.end(), serial) == serials.end())
            serials.push_back(serial);
        }
      }
      return serials;
    };
    const bool others_meant =
        std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
          return (other.kind == MentionKind::kPerson || other.kind == MentionKind::kUnit) &&
                 other.last <= cue.first && clauses_.sentence_of[other.first] + 1 >= sentence;
        });
    // "Every one has the owl on the cowling", "ringed discs throughout": of machines, in a caption.
    const bool is_of_machines =
        is_caption() && cue.value == "all each" && folded(cue.first) != "each";
    if (wanted == 0 && others_meant && !is_of_machines && !goes_on_about_machines(cue)) continue;
    Group pronoun;
    const std::uint32_t before = sentence == 0 ? 0 : sentence - 1;
    for (const std::uint32_t from : {sentence, before, is_caption() || has_count ? 0 : before}) {
      pronoun.serials = serials_of_sentences(from);
      if (wanted == 0 ? pronoun.serials.size() >= 2 : pronoun.serials.size() == wanted) break;
      pronoun.serials.clear();
    }
    if (pronoun.serials.empty() && is_caption() && wanted > 0)
      pronoun.serials = all_of_caption(cue, wanted, others_meant);
    if (pronoun.serials.empty()) continue;
    pronoun.first = cue.first;
    pronoun.last = cue.last;
    pronoun.clause = clauses_.clause_of[cue.first];
    insert_group(std::move(pronoun));
  }
}

}  // namespace tailproof

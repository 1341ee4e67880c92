// From and until when something is said to have lasted: "served until 1946", "by June it had gone
// to the School".
#include <algorithm>

#include "claims/assembler.h"
#include "grammars/fold.h"

namespace tailproof {

// "Was with 914 Squadron until June", "from May to July 923 Squadron was at the Point", "by June it
// had gone to the School": the date gives an end of the state. "Some time between" gives none, and
// what "and" goes on to tell has a date of its own.
std::uint32_t BlockAssembler::stretch_of(const Claim& date) const {
  const auto mention =
      std::find_if(mentions_.dates.begin(), mentions_.dates.end(),
                   [&](const DateMention& one) { return one.begin == date.begin; });
  if (mention == mentions_.dates.end() || date.negated || mention->is_put_off_to) return 0;
  // "By June it had passed to the School": the end of one state, and the beginning of another.
  if (date.event != kNone && out_[date.event].value != "allotted" &&
      out_[date.event].value != "loaned")
    return 0;
  if (mention->joint == DateJoint::kRange) {
    return mention->is_somewhere_within ? std::uint32_t{0} : kSaidStretch | kSaidBothEnds;
  }
  if (mention->joint != DateJoint::kNone) return 0;
  // "Throughout 1942", "for the whole of 1942".
  const std::uint32_t token = token_at(date.begin);
  const bool is_whole = (token > 0 && is_in("whole_lead", token - 1)) ||
                        is_in("whole_lead", token) ||
                        (token + 1 < mentions_.tokens.size() && office(token) == "the" &&
                         is_in("whole_lead", token + 1));
  if (is_whole && mention->bound == DateBound::kNone && mention->first.part.empty())
    return kSaidStretch | kSaidBothEnds;
  const WordList* leads = lexicon_.grammars().list("stretch_lead");
  const std::string_view text = block_.text;
  std::string_view lead = text.substr(mention->bound_begin, mention->begin - mention->bound_begin);
  while (!lead.empty() && lead.back() == ' ') lead.remove_suffix(1);
  const bool is_end = leads != nullptr && !lead.empty() && !leads->value_of(fold(lead)).empty();
  if (!is_end) return 0;
  const bool is_exact = mention->bound == DateBound::kBy &&
                        mention->first.precision == Precision::kDay && goes_on_next_day(*mention);
  const bool is_until = is_in_until(token);
  return kSaidStretch | (is_exact ? kSaidToTheDay : 0U) | (is_until ? kSaidUntil : 0U);
}

// "Until June", and not "by June", "at least until June".
bool BlockReading::is_in_until(std::uint32_t date) const {
  constexpr std::uint32_t kReach = 2;  // "until the"
  for (std::uint32_t t = date; t > 0 && date - t < kReach; --t) {
    if (is_in("until_word", t - 1)) return t < 2 || !is_in("until_softener", t - 2);
    if (office(t - 1) != "the") return false;
  }
  return false;
}

// The same for a claim: a unit, a place.
std::uint32_t BlockAssembler::stretch_told(const Claim& claim, const Claim& date) const {
  const std::uint32_t told = stretch_of(date);
  if (told == 0) return 0;
  const std::uint32_t first = token_at(claim.begin), last = token_at(claim.end);
  const std::uint32_t date_last = token_at(date.end);
  std::uint32_t date_first = token_at(date.begin);
  if (clauses_.clause_of[first] != clauses_.clause_of[date_first]) return 0;
  const bool is_behind = date_first >= last;
  if (!is_behind && date_last > first) return 0;
  std::uint32_t commas = 0;
  for (std::uint32_t t = is_behind ? last : date_last; t < (is_behind ? date_first : first); ++t) {
    // "By June it had given up the Point and was at Halvery": both are so by then.
    const bool is_second = !is_behind && t > 0 && office(t) == "and" && is_in("was_word", t + 1) &&
                           first - t <= 4 && stands_between(date_last, t, "pluperfect_auxiliary");
    if (is_second) continue;
    if (is_in("event_conjunction", t) || word(t) == ";") return 0;
    if (word(t) == ",") ++commas;
  }
  // "By that summer, as all agree, 2 Squadron was back": the first comma may close the date, or
  // open an aside with the second.
  const bool is_set_off = !is_behind && word(date_last) == ",";
  const bool is_aside = is_set_off ? commas > 2 && commas % 2 == 0 : commas % 2 == 1;
  if (is_aside) return 0;
  // "Led it in the air until May" tells of no end of his command.
  constexpr std::uint32_t kJoint = 2;  // "until the"
  const std::uint32_t how =
      is_behind && date_first - last <= kJoint ? told : told & ~std::uint32_t{kSaidUntil};
  // What a picture is dated by lasts only where a verb says so.
  return date.of != "photograph" || has_state_verb(first) ? how : 0U;
}

// The words of such ends, on every claim whose state they tell of.
void BlockAssembler::mark_stretches() {
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    Claim& claim = out_[i];
    if (claim.kind == ClaimKind::kDate && claim.when.known) {
      const std::uint32_t told = stretch_of(claim);
      const Mention* machine = told != 0 ? machine_serving(claim) : nullptr;
      if (machine == nullptr) continue;
      claim.said |= told;
      claim.turn_of = machine->value;
      continue;
    }
    const bool may_last = claim.kind == ClaimKind::kUnit || claim.kind == ClaimKind::kPlace ||
                          claim.kind == ClaimKind::kRank;
    if (!claim.when.known || claim.when.date < first_claim_ || claim.when.date >= out_.size())
      continue;
    const std::uint32_t lasts =
        may_last || is_held_since(claim) ? stretch_told(claim, out_[claim.when.date]) : 0U;
    // "On loan from the Foxes since 1 June": with them before it.
    const std::uint32_t first = token_at(claim.begin);
    const std::uint32_t lead = first > 1 && office(first - 1) == "the" ? first - 2 : first - 1;
    const bool is_left = lasts != 0 && (lasts & (kSaidUntil | kSaidBothEnds)) == 0 && first > 1 &&
                         claim.kind == ClaimKind::kUnit && claim.role == "former" &&
                         office(lead) == "from";
    if (is_left) {
      claim.when = When{};
      claim.tense = Tense::kFormer;
      continue;
    }
    claim.said |= lasts;
    // "Kept its chequers until May", "was HN-09 from April to July".
    const bool is_code = claim.kind == ClaimKind::kAirframe && claim.subject != claim.value &&
                         (claim.role == "code" || claim.role == "radio_call");
    if ((claim.kind == ClaimKind::kMarking || is_code) && !is_caption()) {
      const std::uint32_t told = stretch_told(claim, out_[claim.when.date]);
      const std::uint32_t ends = kSaidUntil | (is_code ? kSaidBothEnds : 0U);
      if ((told & ends) != 0) claim.said |= told;
    }
  }
}

// "Had held the Cross since 1939": right behind the award.
bool BlockReading::is_held_since(const Claim& claim) const {
  if (claim.kind != ClaimKind::kAward || is_caption()) return false;
  constexpr std::uint32_t kReach = 2;  // "since the"
  const std::uint32_t last = token_at(claim.end);
  for (std::uint32_t t = last; t < last + kReach; ++t) {
    const Mention* date = mention_over(MentionKind::kDate, t);
    if (date != nullptr) return mentions_.dates[date->payload].bound == DateBound::kSince;
    if (!is_in("rank_since", t) && office(t) != "the") return false;
  }
  return false;
}

// "R2014 served until 1946": the machine, right behind which the verb stands, the date right behind
// that.
const Mention* BlockAssembler::machine_serving(const Claim& date) const {
  const std::uint32_t at = token_at(date.begin);
  for (const std::uint32_t c : index_.of("cue_life_verb")) {
    const Mention& verb = mentions_.items[c];
    if (verb.last > at || at - verb.last > 2 || verb.first == 0 ||
        clauses_.clause_of[verb.first] != clauses_.clause_of[at])
      continue;
    // "X12, in service until 1946".
    const bool is_aside = verb.first > 1 && word(verb.first - 1) == ",";
    const Mention* machine = mention_ending_at(is_aside ? verb.first - 1 : verb.first);
    const bool is_it = machine != nullptr && machine->kind == MentionKind::kAirframe;
    if (is_it && (machine->value == date.subject || date.of == "photograph")) return machine;
    const Mention* told = is_it ? nullptr : machine_told_on(verb.first);
    if (told != nullptr && told->value == date.subject && date.of != "photograph") return told;
  }
  return nullptr;
}

// "X12 went to the School and served until 1946", "X12 went to the School. It served until 1946":
// the machine that opens the sentence, or the one before, where nothing else can be meant.
const Mention* BlockReading::machine_told_on(std::uint32_t verb) const {
  const bool is_joined = is_in("event_conjunction", verb - 1);
  const bool is_pronoun = any_cue("cue_pronoun", [&](const Mention& cue) {
    return cue.value == "it" && cue.last == verb && office(cue.first) != "its";
  });
  if (!is_joined && !is_pronoun) return nullptr;
  const std::uint32_t sentence = clauses_.sentence_of[verb];
  const Mention* told = nullptr;
  for (const Mention& serial : mentions_of(MentionKind::kAirframe)) {
    if (serial.first >= verb) break;
    const std::uint32_t own = clauses_.sentence_of[serial.first];
    if (own != sentence && (is_joined || own + 1 != sentence)) continue;
    if (told != nullptr || !opens_sentence(serial)) return nullptr;
    told = &serial;
  }
  if (told == nullptr) return nullptr;
  // "X12 had a sister. It served until 1946": the sister.
  if (!is_joined) return stands_between(told->last, verb - 1, "craft_noun") ? nullptr : told;
  const bool is_somebodys = any_mention(MentionKind::kPerson, [&](const Mention& person) {
    return person.first >= told->last && person.last <= verb;
  });
  return is_somebodys ? nullptr : told;
}

}  // namespace tailproof

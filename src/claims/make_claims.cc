// Claims of names: aircraft, credits, references.
#include <algorithm>

#include "claims/assembler.h"
#include "grammars/fold.h"

namespace tailproof {

void BlockAssembler::add_for_subjects(const Mention& mention, ClaimKind kind,
                                      const std::vector<std::string>& subjects,
                                      const Claim& pattern) {
  const auto add_one = [&](const std::string* subject) {
    Claim& made = out_.emplace_back(pattern);
    made.why.clear();
    put(made, mention, kind);
    if (finder_.explains() && !pattern.why.empty()) made.why += "; " + pattern.why;
    if (subject == nullptr) return;
    made.subject = *subject;
    made.hedged = made.hedged || (subjects.size() > 1 && is_one_of_either(*subject));
  };
  if (subjects.empty()) add_one(nullptr);
  for (const std::string& subject : subjects) add_one(&subject);
}

bool BlockAssembler::is_one_of_either(const std::string& serial) const {
  return std::any_of(groups_.begin(), groups_.end(), [&](const Group& group) {
    return group.is_either &&
           std::find(group.serials.begin(), group.serials.end(), serial) != group.serials.end();
  });
}

void BlockAssembler::add_airframes() {
  for (std::uint32_t i = 0; i < mentions_.items.size(); ++i) {
    const Mention& mention = mentions_.items[i];
    if (mention.kind != MentionKind::kAirframe) continue;
    for (const SerialRange& range : ranges_) {
      if (range.to != i) continue;
      Mention whole = mentions_.items[range.from];
      whole.end = mention.end;
      whole.last = mention.last;
      whole.role = {};
      whole.why = "within a range";
      for (const std::string& serial : range.inside) {
        Claim& claim = add(whole, ClaimKind::kAirframe);
        claim.value = claim.subject = serial;
        claim.shown = groups_[group_of_mention_[i]].shown;
      }
    }
    if (group_of_mention_[i] != kNone) {
      Claim& claim = add(mention, ClaimKind::kAirframe);
      claim.subject = mention.value;
      claim.role = mention.role;
      if (!mention.role.empty()) claim.value = mention.detail;
      claim.hedged = claim.hedged || mention.doubtful || groups_[group_of_mention_[i]].is_either;
      claim.shown = groups_[group_of_mention_[i]].shown;
      // "F103 became R2017", "R2017, formerly F103": the other name is of another time. Alone, it
      // is the name of its day.
      const bool alone =
          std::none_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
            return &other != &mention && other.kind == MentionKind::kAirframe &&
                   other.value == mention.value && other.role != mention.role &&
                   (other.role.empty() || other.role == "later_serial" ||
                    other.role == "previous_serial");
          });
      if (mention.role == "previous_serial" && !alone) claim.tense = Tense::kFormer;
      if (mention.role == "later_serial" && !alone) claim.tense = Tense::kLater;
    } else if (mention.role == "malformed") {
      Claim& claim = add(mention, ClaimKind::kAirframe);
      claim.subject = mention.value;
      claim.role = "malformed";
      claim.known = false;
    } else {
      add_identity(i);
    }
  }
}

std::string BlockAssembler::serial_in_order(std::uint32_t index) const {
  const Mention& mention = mentions_.items[index];
  const std::uint32_t sentence = clauses_.sentence_of[mention.first];
  std::vector<std::string> serials;
  std::vector<std::uint32_t> codes;
  std::uint32_t first_serial = kNone, last_serial = 0;
  for (const Group& group : groups_) {
    if (clauses_.sentence_of[group.first] != sentence || group.members.empty()) continue;
    for (const std::string& serial : group.serials) serials.push_back(serial);
    first_serial = std::min(first_serial, group.first);
    last_serial = group.last;
  }
  // "KX-Z and KX-A (41-2310, 41-8801)", "KX-Z and KX-A: 41-2310, 41-8801": or right before them.
  const bool is_bracketed = first_serial != kNone && first_serial > 0 &&
                            (word(first_serial - 1) == "(" || word(first_serial - 1) == ":") &&
                            mention.last < first_serial;
  for (std::uint32_t i = 0; i < mentions_.items.size(); ++i) {
    const Mention& other = mentions_.items[i];
    if (other.kind != MentionKind::kAirframe || other.role != mention.role ||
        clauses_.sentence_of[other.first] != sentence) {
      continue;
    }
    if (is_bracketed ? other.last >= first_serial : other.first < last_serial) return {};
    codes.push_back(i);
  }
  if (serials.size() < 2 || serials.size() != codes.size()) return {};
  const auto at =
      static_cast<std::size_t>(std::find(codes.begin(), codes.end(), index) - codes.begin());
  return at < serials.size() ? serials[at] : std::string{};
}

// "OR-B (AS-305), OR-C (AS-307)", "OR-B was AS-305, OR-C was AS-307 and OR-D, perhaps, AS-309":
// each code has its serial behind it.
std::string BlockAssembler::serial_behind(const Mention& code) const {
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  const auto serial_at = [&](std::uint32_t token) -> std::string {
    for (const Group& group : groups_) {
      for (const std::uint32_t member : group.members) {
        if (mentions_.items[member].first == token && !is_possessive(mentions_.items[member]))
          return std::string(mentions_.items[member].value);
      }
    }
    return {};
  };
  const auto has_verb = [&](const Mention& other) {
    return other.last + 1 < count && is_in("being_word", other.last) &&
           !serial_at(other.last + 1).empty();
  };
  if (code.last + 1 >= count) return {};
  if (has_verb(code)) return serial_at(code.last + 1);
  // "OR-D (half out of the picture) AS-309": what stands in a bracket parts no more than a comma.
  std::uint32_t behind = code.last;
  if (word(behind) == "(") {
    const std::string inside = serial_at(behind + 1);
    if (!inside.empty() || code.role != "code") return inside;
    constexpr std::uint32_t kLongest = 12;
    while (behind < count && behind - code.last < kLongest && word(behind) != ")") ++behind;
    if (behind >= count || word(behind) != ")") return {};
    for (std::uint32_t t = code.last; t < behind; ++t) {
      if (mention_over(MentionKind::kAirframe, t) != nullptr) return {};
    }
    ++behind;
  }
  if (code.role != "code") return {};
  // The verb said once, of the code that the list begins with.
  const std::uint32_t sentence = clauses_.sentence_of[code.first];
  std::string serial;
  constexpr std::uint32_t kAside = 4;
  for (std::uint32_t t = behind; serial.empty() && t < count && t - behind <= kAside; ++t) {
    if (clauses_.sentence_of[t] != sentence || tells_verb(t) || is_in("event_conjunction", t))
      return {};
    if (mention_over(MentionKind::kAirframe, t) != nullptr && (serial = serial_at(t)).empty())
      return {};
  }
  if (serial.empty()) return {};
  const bool is_listed =
      std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
        return other.kind == MentionKind::kAirframe && other.role == code.role &&
               other.last < code.first && clauses_.sentence_of[other.first] == sentence &&
               has_verb(other);
      });
  return is_listed ? serial : std::string{};
}

bool BlockAssembler::has_other_code(const std::string& serial, const Mention& code) const {
  return std::any_of(out_.begin() + static_cast<std::ptrdiff_t>(first_claim_), out_.end(),
                     [&](const Claim& claim) {
                       return claim.kind == ClaimKind::kAirframe && claim.role == code.role &&
                              claim.subject == serial && claim.value != code.value &&
                              claim.tense == Tense::kThen;
                     });
}

// "AS-323 (TW-H) ...; on TW-H it is hidden": the same code, the same machine.
std::string BlockAssembler::subject_given_before(const Mention& identity) const {
  std::string subject;
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    const Claim& claim = out_[i];
    if (claim.kind != ClaimKind::kAirframe || claim.role != identity.role ||
        claim.value != identity.value || claim.negated || claim.attributed)
      continue;
    if (!subject.empty() && subject != claim.subject) return {};
    subject = claim.subject;
  }
  return subject;
}

// Whether a later part of the caption speaks of what stands behind or beside.
bool BlockAssembler::is_beside_in_view(const Mention& code) const {
  if (!is_caption()) return false;
  const std::uint32_t segment = clauses_.segment_of[code.first];
  for (const std::uint32_t c : index_.of("cue_beside_view")) {
    const Mention& cue = mentions_.items[c];
    if (clauses_.sentence_of[cue.first] != clauses_.sentence_of[code.first]) continue;
    if (clauses_.segment_of[cue.first] == segment ||
        (cue.last <= code.first && code.first - cue.last <= 2))
      return true;
  }
  return false;
}

// A code, tail number, nickname or other serial: whose it is, the words say first, then the ledger.
void BlockAssembler::add_identity(std::uint32_t index) {
  const Mention& mention = mentions_.items[index];
  if (mention.detail == "yes" && is_number_of_noun(mention)) return;
  // "The second machine wears TW-C", "Tarrent's was TW-C": none of those named.
  if (mention.role == "code" && (is_of_unnamed_other(mention) || is_anothers_own(mention.first)))
    return;
  // "NV-H's crew on the wing of KB202": of a machine that they are no longer with.
  if (mention.role == "code" && is_possessive(mention) && shown_serials().size() == 1) {
    std::uint32_t owned = mention.last;
    while (owned < mentions_.tokens.size() &&
           (folded(owned) == "s" || mentions_.tokens[owned].kind == TokenKind::kMark))
      ++owned;
    if (is_in("person_noun", owned)) return;
  }
  Claim pattern;
  pattern.role = mention.role;
  pattern.known = mention.known;
  pattern.value = mention.role == "tail" ? std::string(text_of(mention)) : mention.value;
  if (mention.payload == 2) pattern.tense = Tense::kFormer;
  pattern.tense = cue_before(mention, "cue_former", 6) != nullptr || is_past(mention)
                      ? Tense::kFormer
                      : Tense::kThen;
  if (cue_before(mention, "cue_later", 4) != nullptr) pattern.tense = Tense::kLater;
  if (is_lower_coat(mention) || is_gone_identity(mention)) pattern.tense = Tense::kFormer;
  // "As AV9 until June, and by the 12th, as GK9, afterwards".
  const bool is_aside = mention.last < mentions_.tokens.size() && word(mention.last) == ",";
  if (is_in("afterwards_word", mention.last + (is_aside ? 1 : 0))) pattern.tense = Tense::kLater;
  std::vector<std::string> subjects;
  // "Letters back on: NP-E; in the north it was 12": a number that only the ledger tells to be a
  // code, beside a code that the words name, is one of another time.
  if (mention.payload == 1) {
    for (std::size_t i = first_claim_; i < out_.size(); ++i) {
      const Claim& other = out_[i];
      if (other.kind == ClaimKind::kAirframe && other.role == "code" &&
          other.subject == mention.detail && other.value != mention.value &&
          other.tense == Tense::kThen)
        pattern.tense = Tense::kFormer;
    }
  }
  // "HW2070, RD-G, with HW208 beyond": of the number before it, whatever that may mean.
  if (any_mention(MentionKind::kAirframe, [&](const Mention& number) {
        return number.role == "malformed" && is_close(number.last, mention.first);
      }))
    return;
  const std::string bracketed = serial_behind(mention), repeated = subject_given_before(mention);
  const bool stands_first = std::none_of(groups_.begin(), groups_.end(), [&](const Group& group) {
    return group.first < mention.first && !group.members.empty() &&
           clauses_.sentence_of[group.first] == clauses_.sentence_of[mention.first];
  });
  const std::string listed = stands_first ? serial_in_order(index) : std::string{};
  if (mention.payload == 1 && mention.role == "code") {
    subjects = {mention.detail};
  } else if (!listed.empty()) {
    subjects = {listed};
    pattern.why = "in the order of the serials in brackets";
  } else if (!bracketed.empty()) {
    subjects = {bracketed};
    pattern.why = "the serial behind it";
  } else if (!repeated.empty()) {
    subjects = {repeated};
    pattern.why = "as before";
  } else if (!machine_of_code_[index].empty()) {
    subjects = {machine_of_code_[index]};
    pattern.why = "the machine that bore it";
  } else if (mention.role == "tail") {
    subjects = {mention.value};
    if (const Group* group = group_for(mention.first, mention.last, &pattern.why)) {
      // Beside a serial that only others give ("said to be GD-2111, but the fin shows 2117") it
      // speaks for itself.
      const bool others = attributed_[group->first] != 0;
      if (group->serials.size() == 1 && !others) subjects = group->serials;
    }
  } else {
    // In a list each serial has its own: "S3001, S3004 and S3006 (KR-A, KR-D and KR-F)", "S3009
    // (NP-C) and S3010 (NP-D)".
    const Group* group = nullptr;
    std::uint32_t nearest = kNone;
    for (const Group& candidate : groups_) {
      for (const std::uint32_t member : candidate.members) {
        if (is_close(mentions_.items[member].last, mention.first)) {
          nearest = member;
          group = &candidate;
        }
      }
    }
    if (group == nullptr) {
      // "41-2310 (left) and 41-8801 (right), KX-Z and KX-A": as many codes behind the serials as
      // there are serials.
      const std::string in_order = serial_in_order(index);
      if (!in_order.empty()) {
        pattern.why = "in the order of the serials";
        const auto places = positions_of(mention);
        if (!places.empty()) pattern.position = places.front();
        add_for_subjects(mention, ClaimKind::kAirframe, {in_order}, pattern);
        return;
      }
    }
    if (group == nullptr) group = group_for(mention.first, mention.last, &pattern.why);
    // "RK-B, 15 by then, at the end of May; X12 that November": each part has its own machine.
    if (group != nullptr && mention.role == "code" && group->first > mention.last &&
        stands_apart(mention.last, group->first)) {
      const std::string bearer = bearer_of(mention);
      if (bearer.empty()) return;
      pattern.why = "the machine that bore it";
      pattern.tense = Tense::kFormer;  // its name, whatever it wore by then
      subjects = {bearer};
    } else if (group != nullptr && group->serials.size() > 1) {
      const bool own = nearest != kNone && nearest != group->members.back();
      std::vector<std::uint32_t> codes;
      for (std::uint32_t i = 0; i < mentions_.items.size(); ++i) {
        const Mention& other = mentions_.items[i];
        if (other.kind == MentionKind::kAirframe && other.role == mention.role &&
            other.first >= group->first &&
            clauses_.sentence_of[other.first] == clauses_.sentence_of[mention.first]) {
          codes.push_back(i);
        }
      }
      const auto at =
          static_cast<std::size_t>(std::find(codes.begin(), codes.end(), index) - codes.begin());
      if (own || (nearest != kNone && codes.size() == group->members.size() &&
                  codes.front() < group->members.back())) {
        subjects = {mentions_.items[nearest].value};
        pattern.why = "beside the serial";
      } else if (codes.size() == group->serials.size() && at < group->serials.size()) {
        subjects = {group->serials[at]};
        pattern.why = "in the order of the serials";
        // In another sentence the order may be another's ("from the camera").
        const std::string bearer = bearer_of(mention);
        const bool is_elsewhere =
            clauses_.sentence_of[group->first] != clauses_.sentence_of[mention.first];
        if (is_elsewhere && std::find(group->serials.begin(), group->serials.end(), bearer) !=
                                group->serials.end()) {
          subjects = {bearer};
          pattern.why = "the machine that bore it";
        }
      }
    } else if (group != nullptr) {
      subjects = group->serials;
    } else {
      subjects = subjects_of(mention);
      if (subjects.size() > 1) subjects.clear();
    }
    // "KB201 taxies past Aunt Tilda".
    if (mention.role == "nickname" && !is_given_name(mention)) {
      const std::string bearer = bearer_of(mention);
      if (!bearer.empty()) {
        subjects = {bearer};
        pattern.why = "the machine that bore it";
      }
    }
    // "Behind it is TW-G", "larger than the 27 of KB202": another machine in the picture.
    if (nearest == kNone && mention.role == "code" && is_beside_in_view(mention)) {
      const std::string bearer = bearer_of(mention);
      const bool is_own = subjects.size() == 1 && bearer == subjects.front();
      if (!is_own) {
        subjects.clear();
        if (bearer.empty()) return;
        subjects = {bearer};
        pattern.why = "the machine that bore it";
      }
    }
    // A machine has one code at a time: another that the ledger gives to another machine is its,
    // unless its own entry has it "lettered" so, or the words tell what it ended as.
    const std::uint32_t lead = mention.first - 1;
    const bool is_of_entry =
        mention.first > 0 &&
        ((is_entry() && is_in("lettering_word", lead)) || is_in("relettering_word", lead) ||
         (lead > 0 && is_in("number_as", lead) && is_in("relettered_as", lead - 1)));
    // "The machine had been FT-E": told of what the pronoun stands for.
    std::uint32_t verb = mention.first;
    while (verb > 0 && (is_in("event_auxiliary", verb - 1) || is_in("had_word", verb - 1) ||
                        is_in("event_aside", verb - 1)))
      --verb;
    const bool is_of_pronoun =
        verb < mention.first && is_caption() && any_cue("cue_pronoun", [&](const Mention& it) {
          return it.last == verb && it.value == "it" && office(it.first) != "its";
        });
    if (nearest == kNone && subjects.size() == 1 && mention.role == "code" && !is_of_entry &&
        !is_of_pronoun) {
      const std::string bearer = bearer_of(mention);
      if (!bearer.empty() && bearer != subjects.front() &&
          (has_other_code(subjects.front(), mention) || mention.detail == "yes")) {
        subjects = {bearer};
        pattern.why = "the machine that bore it";
      }
    }
    if (subjects.empty() && mention.detail == "yes")
      return;  // "No. 57" with no aircraft near it is something else
    if (subjects.empty()) {
      // Nothing in the words: the machine that alone bore it.
      std::vector<std::string> bearers;
      for (const Identity* row : ledger_.bearers_of(mention.value)) {
        if (std::find(bearers.begin(), bearers.end(), row->serial) == bearers.end())
          bearers.push_back(row->serial);
      }
      if (bearers.size() != 1) return;
      subjects = bearers;
      pattern.why = "the only machine that bore it";
    }
  }
  // "26 on the nose": where it stands.
  const auto positions = positions_of(mention);
  if (!positions.empty()) pattern.position = positions.front();
  add_for_subjects(mention, ClaimKind::kAirframe, subjects, pattern);
}

// The credit line of a list or picture may name the photograph, and a list has a column for it.
void BlockAssembler::add_credit() {
  if (!is_caption()) return;
  std::vector<std::string> named;
  for (const Mention& mention : mentions_.items) {
    if (mention.kind == MentionKind::kPhotograph) named.push_back(mention.value);
  }
  for (const std::string* beside : {&block_.photograph, &block_.credit}) {
    if (beside->empty()) continue;
    for (const Mention& mention : finder_.find(*beside).items) {
      if (mention.kind != MentionKind::kPhotograph) continue;
      if (std::find(named.begin(), named.end(), mention.value) != named.end()) continue;
      named.push_back(mention.value);
      Mention here = mention;
      here.begin = here.end = here.first = here.last = 0;
      Claim& claim = add(here, ClaimKind::kReference);
      claim.span = block_.span;
      claim.text = mention.value;
      claim.role = "photograph";
      claim.subject = figure_subject();
      claim.hedged = claim.attributed = claim.negated = false;
    }
  }
}

void BlockAssembler::add_references() {
  add_credit();
  for (const Mention& mention : mentions_.items) {
    if (mention.kind == MentionKind::kPhotograph) {
      Claim& claim = add(mention, ClaimKind::kReference);
      claim.value = mention.value;
      claim.role = "photograph";
      claim.subject = figure_subject();
      claim.hedged = claim.attributed = claim.negated = false;
    } else if (mention.kind == MentionKind::kReference) {
      // The figure's own label is no reference.
      if (is_caption() && mention.first <= 1 && !block_.figure.empty()) continue;
      Claim& claim = add(mention, ClaimKind::kReference);
      claim.subject = is_caption() ? figure_subject() : "";
      if (mention.first > 0) {
        const Spelling before = folded(mention.first - 1);
        // "Pasco's Fig. 3" is a figure of somebody else's book.
        if (before.size() > 2 && before.ends_with("'s") &&
            mentions_.tokens[mention.first - 1].capital) {
          claim.attributed = true;
        }
      }
    }
  }
}

}  // namespace tailproof

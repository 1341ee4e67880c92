// Whose a code, tail number, nickname or other serial is: the words say first, then the ledger.
#include <algorithm>

#include "claims/assembler.h"

namespace tailproof {

class BlockAssembler::IdentityOwner {
 public:
  IdentityOwner(BlockAssembler& block, std::uint32_t number);
  void add();

 private:
  static constexpr std::string_view kBearer = "the machine that bore it";

  [[nodiscard]] bool is_nobodys() const;
  [[nodiscard]] bool is_example() const;
  [[nodiscard]] bool opens_list_of_others() const;
  [[nodiscard]] Tense tense() const;
  [[nodiscard]] bool is_given_up() const;
  [[nodiscard]] bool is_told_back() const;
  [[nodiscard]] bool find_subjects();
  [[nodiscard]] bool find_by_words();
  [[nodiscard]] bool find_in_group();
  void find_serial_beside();
  void find_among(const Group& group);
  void give_to_bearer(std::string bearer);
  [[nodiscard]] std::string bearer_of_listed() const;
  [[nodiscard]] bool is_picked() const;
  [[nodiscard]] bool is_shown(const std::string& serial) const;
  [[nodiscard]] bool may_belong_to_bearer() const;
  [[nodiscard]] bool find_only_bearer();
  [[nodiscard]] std::string serial_in_order() const;
  [[nodiscard]] std::string serial_behind() const;
  [[nodiscard]] bool has_other_code(const std::string& serial) const;
  [[nodiscard]] std::string subject_given_before() const;
  [[nodiscard]] bool is_code() const { return mention_.role == "code"; }

  BlockAssembler& a_;
  const std::uint32_t number_;  // of the mention
  const Mention& mention_;
  const std::uint32_t sentence_;
  Claim pattern_;
  NameList subjects_;
  const Group* beside_ = nullptr;  // of the serial right before it, and that serial's mention
  std::uint32_t nearest_ = kNone;
};

BlockAssembler::IdentityOwner::IdentityOwner(BlockAssembler& block, std::uint32_t number)
    : a_(block),
      number_(number),
      mention_(block.mentions_.items[number]),
      sentence_(block.clauses_.sentence_of[mention_.first]) {}

void BlockAssembler::IdentityOwner::add() {
  if (is_nobodys()) return;
  pattern_.role = mention_.role;
  pattern_.known = mention_.known;
  pattern_.value = mention_.role == "tail" ? std::string(a_.text_of(mention_)) : mention_.value;
  pattern_.tense = tense();
  if (!find_subjects()) return;
  if (pattern_.tense == Tense::kThen && is_told_back()) pattern_.tense = Tense::kFormer;
  pattern_.shown = std::any_of(subjects_.begin(), subjects_.end(),
                               [&](const std::string& serial) { return is_shown(serial); });
  // "26 on the nose": where it stands.
  const auto positions = a_.positions_of(mention_);
  if (!positions.empty()) pattern_.position = positions.front();
  a_.add_for_subjects(mention_, ClaimKind::kAirframe, subjects_, pattern_);
}

// Whether it is of no machine that the text names.
bool BlockAssembler::IdentityOwner::is_nobodys() const {
  if (mention_.detail == "yes" && a_.is_number_of_noun(mention_)) return true;
  // "It had been X12's sister".
  if (mention_.role.ends_with("_serial") && a_.is_possessive(mention_)) return true;
  // "HW2070, RD-G, with HW208 beyond": of the number before it, whatever that may mean.
  if (a_.any_mention(MentionKind::kAirframe, [&](const Mention& number) {
        return number.role == "malformed" && a_.is_close(number.last, mention_.first);
      }))
    return true;
  if (!is_code()) return false;
  if (is_example() || opens_list_of_others()) return true;
  // "The second machine wears TW-C", "Tarrent's was TW-C": none of those named.
  if (a_.is_of_unnamed_other(mention_) || a_.is_anothers_own(mention_.first)) return true;
  // "NV-H's crew on the wing of KB202": of a machine that they are no longer with.
  if (!a_.is_possessive(mention_) || a_.shown_serials().size() != 1) return false;
  const auto& tokens = a_.mentions_.tokens;
  std::uint32_t owned = mention_.last;
  while (owned < tokens.size() &&
         (a_.folded(owned) == "s" || tokens[owned].kind == TokenKind::kMark))
    ++owned;
  return a_.is_in("person_noun", owned);
}

// "From the nearest they are numbered 1, 2, 3, 5 and 6. The missing 4, X12, ...": the first of more
// numbers than there are machines.
bool BlockAssembler::IdentityOwner::opens_list_of_others() const {
  constexpr std::size_t kSeveral = 2;
  const auto& tokens = a_.mentions_.tokens;
  std::size_t others = 0;
  const auto is_joint = [&](std::uint32_t at) {
    return a_.word(at) == "," || a_.office(at) == "and";
  };
  std::uint32_t t = mention_.last;
  while (t + 1 < tokens.size() && is_joint(t)) {
    while (t + 1 < tokens.size() && is_joint(t)) ++t;
    const bool is_number = tokens[t].kind == TokenKind::kNumber &&
                           tokens[mention_.first].kind == TokenKind::kNumber &&
                           a_.mention_over(MentionKind::kDate, t) == nullptr;
    if (!is_number) break;
    ++others;
    ++t;
  }
  std::size_t machines = 0;
  for (const Group& group : a_.groups_) machines += group.serials.size();
  return others >= kSeveral && machines == 1;
}

// "The result (III/2, II/5) looks like a fraction": in running text, several in a bracket of their
// own in a sentence that speaks of no machine.
bool BlockAssembler::IdentityOwner::is_example() const {
  if (a_.is_caption()) return false;
  const std::uint32_t clause = a_.clauses_.clause_of[mention_.first];
  if (a_.clauses_.clauses[clause].kind != ClauseKind::kBracket) return false;
  bool has_other = false, has_machine = false;
  for (const Mention& other : a_.mentions_.items) {
    if (other.first >= mention_.first + 1 || other.last <= mention_.first) {
      has_other = has_other || (other.kind == MentionKind::kAirframe && other.role == "code" &&
                                a_.clauses_.clause_of[other.first] == clause);
      has_machine = has_machine || (other.kind == MentionKind::kAirframe && other.role.empty() &&
                                    a_.clauses_.sentence_of[other.first] == sentence_);
    }
  }
  return has_other && !has_machine;
}

Tense BlockAssembler::IdentityOwner::tense() const {
  constexpr std::uint32_t kFormerReach = 6, kLaterReach = 4;
  // "As AV9 until June, and by the 12th, as GK9, afterwards".
  const bool is_aside = mention_.last < a_.mentions_.tokens.size() && a_.word(mention_.last) == ",";
  const bool is_later = a_.is_in("afterwards_word", mention_.last + (is_aside ? 1 : 0));
  // "Letters back on: NP-E; in the north it was 12": a number that only the ledger tells to be a
  // code, beside a code that the words name, is one of another time.
  const auto is_beside_named = [&] {
    return mention_.payload == 1 &&
           std::any_of(a_.out_.begin() + static_cast<std::ptrdiff_t>(a_.first_claim_),
                       a_.out_.end(), [&](const Claim& other) {
                         return other.kind == ClaimKind::kAirframe && other.role == "code" &&
                                other.subject == mention_.detail && other.value != mention_.value &&
                                other.tense == Tense::kThen;
                       });
  };
  if (is_beside_named() || is_given_up()) return Tense::kFormer;
  if (is_later) return Tense::kLater;
  if (a_.is_lower_coat(mention_) || a_.is_gone_identity(mention_)) return Tense::kFormer;
  if (a_.cue_before(mention_, "cue_later", kLaterReach) != nullptr) return Tense::kLater;
  const bool is_former = a_.cue_before(mention_, "cue_former", kFormerReach) != nullptr ||
                         a_.is_behind_former_opening(mention_.first);
  return is_former || a_.is_past(mention_) ? Tense::kFormer : Tense::kThen;
}

// "Gave up her 6-7 for a 4-11", "of her old letters, MR+O, a smear remains".
bool BlockAssembler::IdentityOwner::is_given_up() const {
  if (mention_.first < 2) return false;
  std::uint32_t t = mention_.first - 1;
  if (a_.is_in("determiner", t)) {
    return a_.is_in("swapping_verb", t - 1) ||
           (a_.folded(t - 1) == "up" && t > 1 && a_.is_in("giving_up_verb", t - 2));
  }
  while (t > 0 && a_.mentions_.tokens[t].kind == TokenKind::kMark) --t;
  return t > 0 && a_.is_in("letters_noun", t) && a_.is_in("earlier_adjective", t - 1);
}

// "It is D+1 here, was C+3 with the Otters": behind a "was" without a subject, where the sentence
// has given the code that is seen.
bool BlockAssembler::IdentityOwner::is_told_back() const {
  const std::uint32_t verb = mention_.first - 1;
  if (!is_code() || !a_.is_caption() || subjects_.size() != 1 || mention_.first < 2 ||
      !a_.is_in("was_word", verb) || (a_.word(verb - 1) != "," && a_.office(verb - 1) != "and"))
    return false;
  return std::any_of(a_.out_.begin() + static_cast<std::ptrdiff_t>(a_.first_claim_), a_.out_.end(),
                     [&](const Claim& claim) {
                       return claim.kind == ClaimKind::kAirframe && claim.role == "code" &&
                              claim.subject == subjects_.front() && claim.value != mention_.value &&
                              claim.tense == Tense::kThen &&
                              a_.clauses_.sentence_of[a_.token_at(claim.begin)] == sentence_;
                     });
}

// Whose it is; false if it is nobody's that can be told.
bool BlockAssembler::IdentityOwner::find_subjects() {
  if (find_by_words()) return true;
  if (mention_.role != "tail") return find_in_group();
  subjects_ = {mention_.value};
  if (const Group* group = a_.group_for(mention_.first, mention_.last, &pattern_.why)) {
    // Beside a serial that only others give ("said to be GD-2111, but the fin shows 2117") it
    // speaks for itself.
    const bool others = a_.attributed_[group->first] != 0;
    if (group->serials.size() == 1 && !others) subjects_ = group->serials;
  }
  return true;
}

bool BlockAssembler::IdentityOwner::find_by_words() {
  const auto give = [&](std::string subject, std::string_view why) {
    if (subject.empty()) return false;
    subjects_ = {std::move(subject)};
    pattern_.why = why;
    return true;
  };
  if (mention_.payload == 1 && is_code()) return give(mention_.detail, {});
  const bool stands_first =
      std::none_of(a_.groups_.begin(), a_.groups_.end(), [&](const Group& group) {
        return group.first < mention_.first && !group.members.empty() &&
               a_.clauses_.sentence_of[group.first] == sentence_;
      });
  return (stands_first && give(serial_in_order(), "in the order of the serials in brackets")) ||
         give(serial_behind(), "the serial behind it") ||
         give(subject_given_before(), "as before") || give(a_.machine_of_code_[number_], kBearer);
}

// In a list each serial has its own: "S3001, S3004 and S3006 (KR-A, KR-D and KR-F)", "S3009
// (NP-C) and S3010 (NP-D)".
void BlockAssembler::IdentityOwner::find_serial_beside() {
  for (const Group& candidate : a_.groups_) {
    for (const std::uint32_t member : candidate.members) {
      if (!a_.is_close(a_.mentions_.items[member].last, mention_.first)) continue;
      nearest_ = member;
      beside_ = &candidate;
    }
  }
}

void BlockAssembler::IdentityOwner::give_to_bearer(std::string bearer) {
  subjects_ = {std::move(bearer)};
  pattern_.why = kBearer;
}

bool BlockAssembler::IdentityOwner::find_in_group() {
  find_serial_beside();
  const Group* group = beside_;
  if (group == nullptr) {
    // "41-2310 (left) and 41-8801 (right), KX-Z and KX-A": as many codes behind the serials as
    // there are serials.
    std::string in_order = serial_in_order();
    if (!in_order.empty()) {
      subjects_ = {std::move(in_order)};
      pattern_.why = "in the order of the serials";
      return true;
    }
    group = a_.group_for(mention_.first, mention_.last, &pattern_.why);
  }
  // "RK-B, 15 by then, at the end of May; X12 that November": each part has its own machine.
  if (group != nullptr && is_code() && group->first > mention_.last &&
      a_.stands_apart(mention_.last, group->first)) {
    std::string bearer = a_.bearer_of(mention_);
    if (bearer.empty()) return false;
    give_to_bearer(std::move(bearer));
    pattern_.tense = Tense::kFormer;  // its name, whatever it wore by then
  } else if (group != nullptr && group->serials.size() > 1) {
    find_among(*group);
  } else if (group != nullptr) {
    subjects_ = group->serials;
    if (std::string bearer = bearer_of_listed(); !bearer.empty()) give_to_bearer(std::move(bearer));
    if (is_picked()) {
      subjects_.clear();
      return find_only_bearer();
    }
  } else {
    subjects_ = a_.subjects_of(mention_);
    if (subjects_.size() > 1) subjects_.clear();
  }
  // "KB201 taxies past Aunt Tilda".
  if (mention_.role == "nickname" && !a_.is_given_name(mention_)) {
    if (std::string bearer = a_.bearer_of(mention_); !bearer.empty())
      give_to_bearer(std::move(bearer));
  }
  // "Behind it is TW-G", "larger than the 27 of KB202": another machine in the picture.
  if (nearest_ == kNone && is_code() && a_.is_beside_in_view(mention_)) {
    std::string bearer = a_.bearer_of(mention_);
    if (subjects_.size() != 1 || bearer != subjects_.front()) {
      if (bearer.empty()) return false;
      give_to_bearer(std::move(bearer));
    }
  }
  if (may_belong_to_bearer()) {
    std::string bearer = a_.bearer_of(mention_);
    if (!bearer.empty() && bearer != subjects_.front() &&
        (has_other_code(subjects_.front()) || mention_.detail == "yes"))
      give_to_bearer(std::move(bearer));
  }
  return !subjects_.empty() || find_only_bearer();
}

// "X14, X15 and X16 were new. The first two had been F121 and F122": the second of a list of former
// numbers is that of another of the machines named together before; "" where it is no such list.
std::string BlockAssembler::IdentityOwner::bearer_of_listed() const {
  if (mention_.role != "previous_serial" && mention_.role != "later_serial") return {};
  const std::uint32_t joint = mention_.first - 1;
  const bool is_joined = mention_.first > 1 && (a_.office(joint) == "and" || a_.word(joint) == ",");
  const Mention* before = is_joined ? a_.mention_ending_at(joint) : nullptr;
  if (before == nullptr || before->role != mention_.role) return {};
  const auto bearers = a_.ledger_.bearers_of(mention_.value);
  const std::string bearer = bearers.size() == 1 ? bearers.front()->serial : std::string{};
  const bool is_among = std::any_of(a_.groups_.begin(), a_.groups_.end(), [&](const Group& group) {
    return group.last <= before->first && group.serials.size() > 1 &&
           std::find(group.serials.begin(), group.serials.end(), bearer) != group.serials.end();
  });
  return is_among ? bearer : std::string{};
}

// "Beginning with CS11; the last was CS40": of a series, and of no machine named before.
bool BlockAssembler::IdentityOwner::is_picked() const {
  constexpr std::uint32_t kLead = 3;  // "the last was"
  const std::uint32_t first = mention_.first;
  return (mention_.role == "previous_serial" || mention_.role == "later_serial") &&
         first >= kLead && a_.is_in("was_word", first - 1) && a_.is_in("turn_pick", first - 2) &&
         a_.office(first - 3) == "the";
}

// A machine that is not in the picture shows no code there.
bool BlockAssembler::IdentityOwner::is_shown(const std::string& serial) const {
  bool is_named = false;
  for (const Group& group : a_.groups_) {
    if (std::find(group.serials.begin(), group.serials.end(), serial) == group.serials.end())
      continue;
    if (group.shown) return true;
    is_named = true;
  }
  return !is_named;
}

// Which of a list's machines.
void BlockAssembler::IdentityOwner::find_among(const Group& group) {
  const auto& items = a_.mentions_.items;
  std::vector<std::uint32_t> codes;
  for (std::uint32_t i = 0; i < items.size(); ++i) {
    if (items[i].kind == MentionKind::kAirframe && items[i].role == mention_.role &&
        items[i].first >= group.first && a_.clauses_.sentence_of[items[i].first] == sentence_)
      codes.push_back(i);
  }
  const bool is_own = nearest_ != kNone && nearest_ != group.members.back();
  if (is_own || (nearest_ != kNone && codes.size() == group.members.size() &&
                 codes.front() < group.members.back())) {
    subjects_ = {items[nearest_].value};
    pattern_.why = "beside the serial";
    return;
  }
  const auto at =
      static_cast<std::size_t>(std::find(codes.begin(), codes.end(), number_) - codes.begin());
  if (codes.size() != group.serials.size() || at >= group.serials.size()) return;
  subjects_ = {group.serials[at]};
  pattern_.why = "in the order of the serials";
  // In another sentence the order may be another's ("from the camera").
  if (a_.clauses_.sentence_of[group.first] == sentence_) return;
  std::string bearer = a_.bearer_of(mention_);
  if (std::find(group.serials.begin(), group.serials.end(), bearer) != group.serials.end())
    give_to_bearer(std::move(bearer));
}

// A machine has one code at a time: another that the ledger gives to another machine is its,
// unless its own entry has it "lettered" so, or the words tell what it ended as.
bool BlockAssembler::IdentityOwner::may_belong_to_bearer() const {
  if (nearest_ != kNone || subjects_.size() != 1 || !is_code()) return false;
  const std::uint32_t lead = mention_.first - 1;
  const bool is_of_entry =
      mention_.first > 0 &&
      ((a_.is_entry() && a_.is_in("lettering_word", lead)) || a_.is_in("relettering_word", lead) ||
       (lead > 0 && a_.is_in("number_as", lead) && a_.is_in("relettered_as", lead - 1)));
  if (is_of_entry) return false;
  // "The machine had been FT-E": told of what the pronoun stands for.
  std::uint32_t verb = mention_.first;
  while (verb > 0 && (a_.is_in("event_auxiliary", verb - 1) || a_.is_in("had_word", verb - 1) ||
                      a_.is_in("event_aside", verb - 1)))
    --verb;
  return verb == mention_.first || !a_.is_caption() ||
         !a_.any_cue("cue_pronoun", [&](const Mention& it) {
           return it.last == verb && it.value == "it" && a_.office(it.first) != "its";
         });
}

// Nothing in the words: the machine that alone bore it.
bool BlockAssembler::IdentityOwner::find_only_bearer() {
  if (mention_.detail == "yes") return false;  // "No. 57" with no aircraft near is something else
  NameList bearers;
  for (const Identity* row : a_.ledger_.bearers_of(mention_.value)) {
    if (std::find(bearers.begin(), bearers.end(), row->serial) == bearers.end())
      bearers.push_back(row->serial);
  }
  if (bearers.size() != 1) return false;
  subjects_ = std::move(bearers);
  pattern_.why = "the only machine that bore it";
  return true;
}

std::string BlockAssembler::IdentityOwner::serial_in_order() const {
  std::vector<std::string> serials;
  std::vector<std::uint32_t> codes;
  std::uint32_t first_serial = kNone, last_serial = 0;
  for (const Group& group : a_.groups_) {
    if (a_.clauses_.sentence_of[group.first] != sentence_ || group.members.empty()) continue;
    for (const std::string& serial : group.serials) serials.push_back(serial);
    first_serial = std::min(first_serial, group.first);
    last_serial = group.last;
  }
  // "KX-Z and KX-A (41-2310, 41-8801)", "KX-Z and KX-A: 41-2310, 41-8801": or right before them.
  const bool is_bracketed =
      first_serial != kNone && first_serial > 0 &&
      (a_.word(first_serial - 1) == "(" || a_.word(first_serial - 1) == ":") &&
      mention_.last < first_serial;
  for (std::uint32_t i = 0; i < a_.mentions_.items.size(); ++i) {
    const Mention& other = a_.mentions_.items[i];
    if (other.kind != MentionKind::kAirframe || other.role != mention_.role ||
        a_.clauses_.sentence_of[other.first] != sentence_) {
      continue;
    }
    if (is_bracketed ? other.last >= first_serial : other.first < last_serial) return {};
    codes.push_back(i);
  }
  if (serials.size() < 2 || serials.size() != codes.size()) return {};
  const auto at =
      static_cast<std::size_t>(std::find(codes.begin(), codes.end(), number_) - codes.begin());
  return at < serials.size() ? serials[at] : std::string{};
}

// "OR-B (AS-305), OR-C (AS-307)", "OR-B was AS-305, OR-C was AS-307 and OR-D, perhaps, AS-309":
// each code has its serial behind it.
std::string BlockAssembler::IdentityOwner::serial_behind() const {
  const auto count = static_cast<std::uint32_t>(a_.mentions_.tokens.size());
  const auto serial_at = [&](std::uint32_t token) -> std::string {
    for (const Group& group : a_.groups_) {
      for (const std::uint32_t member : group.members) {
        if (a_.mentions_.items[member].first == token &&
            !a_.is_possessive(a_.mentions_.items[member]))
          return std::string(a_.mentions_.items[member].value);
      }
    }
    return {};
  };
  const auto has_verb = [&](const Mention& other) {
    return other.last + 1 < count && a_.is_in("being_word", other.last) &&
           !serial_at(other.last + 1).empty();
  };
  if (mention_.last + 1 >= count) return {};
  if (has_verb(mention_)) return serial_at(mention_.last + 1);
  // "OR-D (half out of the picture) AS-309": what stands in a bracket parts no more than a comma.
  std::uint32_t behind = mention_.last;
  if (a_.word(behind) == "(") {
    const std::string inside = serial_at(behind + 1);
    if (!inside.empty() || mention_.role != "code") return inside;
    constexpr std::uint32_t kLongest = 12;
    while (behind < count && behind - mention_.last < kLongest && a_.word(behind) != ")") ++behind;
    if (behind >= count || a_.word(behind) != ")") return {};
    for (std::uint32_t t = mention_.last; t < behind; ++t) {
      if (a_.mention_over(MentionKind::kAirframe, t) != nullptr) return {};
    }
    ++behind;
  }
  if (mention_.role != "code") return {};
  // The verb said once, of the code that the list begins with.
  std::string serial;
  constexpr std::uint32_t kAside = 4;
  for (std::uint32_t t = behind; serial.empty() && t < count && t - behind <= kAside; ++t) {
    if (a_.clauses_.sentence_of[t] != sentence_ || a_.tells_verb(t) ||
        a_.is_in("event_conjunction", t))
      return {};
    if (a_.mention_over(MentionKind::kAirframe, t) != nullptr && (serial = serial_at(t)).empty())
      return {};
  }
  if (serial.empty()) return {};
  const bool is_listed =
      std::any_of(a_.mentions_.items.begin(), a_.mentions_.items.end(), [&](const Mention& other) {
        return other.kind == MentionKind::kAirframe && other.role == mention_.role &&
               other.last < mention_.first && a_.clauses_.sentence_of[other.first] == sentence_ &&
               has_verb(other);
      });
  return is_listed ? serial : std::string{};
}

bool BlockAssembler::IdentityOwner::has_other_code(const std::string& serial) const {
  return std::any_of(a_.out_.begin() + static_cast<std::ptrdiff_t>(a_.first_claim_), a_.out_.end(),
                     [&](const Claim& claim) {
                       return claim.kind == ClaimKind::kAirframe && claim.role == mention_.role &&
                              claim.subject == serial && claim.value != mention_.value &&
                              claim.tense == Tense::kThen;
                     });
}

// "AS-323 (TW-H) ...; on TW-H it is hidden": the same code, the same machine.
std::string BlockAssembler::IdentityOwner::subject_given_before() const {
  std::string subject;
  for (std::size_t i = a_.first_claim_; i < a_.out_.size(); ++i) {
    const Claim& claim = a_.out_[i];
    if (claim.kind != ClaimKind::kAirframe || claim.role != mention_.role ||
        claim.value != mention_.value || claim.negated || claim.attributed)
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
    // "A black 7 behind the cockade": beside what is painted there.
    const std::uint32_t noun = is_in("determiner", cue.last) ? cue.last + 1 : cue.last;
    const Mention* marking = mention_at(noun);
    if (is_in("mark_beside_code", noun) ||
        (marking != nullptr && marking->kind == MentionKind::kMarking))
      continue;
    if (clauses_.segment_of[cue.first] == segment ||
        (cue.last <= code.first && code.first - cue.last <= 2))
      return true;
  }
  return false;
}

void BlockAssembler::add_identity(std::uint32_t index) { IdentityOwner(*this, index).add(); }

}  // namespace tailproof

// What running text tells of a view of a machine: which machine a photograph shows, and which
// markings are seen on it on the day of which the words before have told ("X12 was photographed in
// May 1942. The red band is plain to see", "on 3 May X12 lay at the Point; she wore the band").
#include <algorithm>

#include "claims/assembler.h"
#include "claims/identities.h"

namespace tailproof {

class BlockAssembler::ToldViews {
 public:
  explicit ToldViews(BlockAssembler& block) : a_(block) {}

  void tell() {
    if (a_.is_caption() || a_.block_.kind == BlockKind::kTableRow) return;
    const bool may_be_seen = a_.has_word_of("view_verb");
    const bool may_be_painted = a_.has_word_of("put_on_verb");
    for (std::size_t i = a_.first_claim_; i < a_.out_.size(); ++i) {
      Claim& claim = a_.out_[i];
      if (claim.kind != ClaimKind::kMarking) continue;
      if (is_not_gone_yet(claim)) {
        claim.negated = false;
        claim.state = MarkingState::kWorn;
        claim.tense = Tense::kThen;
      }
      if (may_be_painted && is_undated_marking(claim)) date_by_painting(claim);
      if (may_be_seen && is_undated_marking(claim)) date_by_view(claim);
    }
    tell_of_photographs();
  }

 private:
  // What stands between two full points, semicolons or colons.
  struct Stretch {
    std::uint32_t first = 0, last = 0;
  };
  enum class View : std::uint8_t { kNone, kPicture, kState };

  [[nodiscard]] static bool is_undated_marking(const Claim& claim) {
    return claim.kind == ClaimKind::kMarking && !claim.when.known && !claim.negated &&
           !claim.attributed && claim.state == MarkingState::kWorn && claim.tense == Tense::kThen &&
           (claim.said & kSaidWornBySome) == 0;
  }

  [[nodiscard]] bool ends_stretch(std::uint32_t token) const {
    return a_.word(token) == ";" || a_.word(token) == ":" ||
           (token + 1 < a_.mentions_.tokens.size() &&
            a_.mentions_.tokens[token + 1].sentence_start);
  }

  [[nodiscard]] Stretch stretch_at(std::uint32_t token) const {
    const auto count = static_cast<std::uint32_t>(a_.mentions_.tokens.size());
    Stretch found{token, token};
    while (found.first > 0 && !ends_stretch(found.first - 1)) --found.first;
    while (found.last < count && !ends_stretch(found.last)) ++found.last;
    return found;
  }

  [[nodiscard]] static bool is_within(const Mention& mention, const Stretch& stretch) {
    return mention.first >= stretch.first && mention.first < stretch.last;
  }

  // Only one machine, by whatever number, and its name where it has one; "" for none or several.
  [[nodiscard]] std::string only_machine(const Stretch& stretch) const {
    std::string found;
    for (const Mention& name : a_.mentions_of(MentionKind::kAirframe)) {
      if (!is_within(name, stretch)) continue;
      if (!is_serial(name) || !name.readings.empty()) return {};
      const std::string machine = machine_of(name);
      if (machine.empty() || (!found.empty() && machine != found)) return {};
      found = machine;
    }
    return found;
  }

  // The machine of the claim that was made of a serial.
  [[nodiscard]] std::string machine_of(const Mention& serial) const {
    for (std::size_t i = a_.first_claim_; i < a_.out_.size(); ++i) {
      const Claim& claim = a_.out_[i];
      if (claim.kind != ClaimKind::kAirframe || claim.begin != serial.begin) continue;
      const bool is_certain = !claim.negated && !claim.hedged && !claim.attributed;
      const std::string& machine = claim.subject.empty() ? claim.value : claim.subject;
      return is_certain && !a_.ledger_.machine_of(machine).empty() ? machine : std::string{};
    }
    return {};
  }

  // The one date of the stretch, which nothing else than the machine is told with.
  [[nodiscard]] const Claim* only_date(const Stretch& stretch, const std::string& machine) const {
    const Claim* found = nullptr;
    for (std::size_t i = a_.first_claim_; i < a_.out_.size(); ++i) {
      const Claim& date = a_.out_[i];
      if (date.kind != ClaimKind::kDate) continue;
      const std::uint32_t token = a_.token_at(date.begin);
      if (token < stretch.first || token >= stretch.last) continue;
      if (found != nullptr) return nullptr;
      found = &date;
    }
    if (found == nullptr || found->impossible || found->negated || found->attributed ||
        found->inherited || !found->when.known || found->turn != Turn::kNone ||
        found->event != kNone || (found->of != "event" && found->of != "photograph") ||
        (found->said & kSaidStretch) != 0 || a_.is_bound(*found))
      return nullptr;
    if (!found->subject.empty() && !a_.is_same_machine(found->subject, machine)) return nullptr;
    return found;
  }

  // "X12 was photographed", "this is X12": what follows is seen in a picture. "X12 lay at the
  // Point", "X12 flew the mail": what follows goes on about the same day only in its own words.
  [[nodiscard]] View view_in(const Stretch& stretch, const Claim& date) const {
    if (a_.stands_between(stretch.first, stretch.last, "view_denied")) return View::kNone;
    for (std::uint32_t t = stretch.first; t < stretch.last; ++t) {
      if (a_.is_in("picture_told_word", t)) return View::kPicture;
    }
    if (a_.is_in("view_opener", stretch.first) && a_.is_in("view_copula", stretch.first + 1))
      return View::kPicture;
    if ((date.said & kSaidInUse) != 0) return View::kState;
    return a_.stands_between(stretch.first, stretch.last, "view_state") ? View::kState
                                                                        : View::kNone;
  }

  // Whether the words tell what is or was to be seen, and of no other day or machine.
  [[nodiscard]] bool tells_of_seeing(const Stretch& stretch) const {
    if (!a_.stands_between(stretch.first, stretch.last, "view_verb") ||
        a_.stands_between(stretch.first, stretch.last, "view_moved"))
      return false;
    // "The bars had been painted on" was done by then; "the bars were painted on" some day.
    if (a_.stands_between(stretch.first, stretch.last, "view_done") &&
        !a_.stands_between(stretch.first, stretch.last, "pluperfect_auxiliary"))
      return false;
    for (const Mention& other : a_.mentions_.items) {
      if (!is_within(other, stretch)) continue;
      switch (other.kind) {
        case MentionKind::kDate:
        case MentionKind::kOrder:
        case MentionKind::kUnit:
        case MentionKind::kPhotograph:
        case MentionKind::kReference:
          return false;
        case MentionKind::kCue:
          if (other.role == "cue_event" || other.role == "cue_order" ||
              other.role == "cue_unreal" || other.role == "cue_attribution")
            return false;
          break;
        default:
          break;
      }
    }
    return true;
  }

  // "The bands had not yet gone from X12", "X12 had not lost her bands": worn still.
  [[nodiscard]] bool is_not_gone_yet(const Claim& marking) const {
    if (!marking.negated && marking.tense == Tense::kThen) return false;
    if (!a_.has_word_of("gone_from_machine") || marking.subject.empty()) return false;
    const std::uint32_t token = a_.token_at(marking.begin);
    const Clause& clause = a_.clauses_.clauses[a_.clauses_.clause_of[token]];
    std::uint32_t denial = kNone;
    for (std::uint32_t t = clause.first; t < clause.last; ++t) {
      if (!a_.is_in("direct_denial", t)) continue;
      if (denial != kNone) return false;
      denial = t;
    }
    if (denial == kNone || denial == 0 || !a_.is_in("pluperfect_auxiliary", denial - 1) ||
        a_.stands_between(clause.first, clause.last, "until_word"))
      return false;
    constexpr std::uint32_t kReach = 4;
    return a_.stands_between(denial + 1, std::min(clause.last, denial + kReach),
                             "gone_from_machine");
  }

  // "X12 had the band, which was painted on in May 1942": the only date of the clause behind.
  void date_by_painting(Claim& marking) const {
    std::uint32_t t = a_.token_at(marking.end);
    if (t > 0 && a_.mentions_.tokens[t].begin < marking.end) ++t;
    if (marking.subject.empty() || a_.word(t) != "," || a_.office(t + 1) != "which" ||
        !a_.is_in("was_word", t + 2))
      return;
    constexpr std::uint32_t kReach = 3;
    std::uint32_t verb = t + 3;
    while (verb < t + 3 + kReach && !a_.is_in("put_on_verb", verb)) ++verb;
    if (!a_.is_in("put_on_verb", verb)) return;
    const Claim* found = nullptr;
    for (std::size_t i = a_.first_claim_; i < a_.out_.size(); ++i) {
      const Claim& date = a_.out_[i];
      if (date.kind != ClaimKind::kDate ||
          a_.clauses_.clause_of[a_.token_at(date.begin)] != a_.clauses_.clause_of[verb])
        continue;
      if (found != nullptr) return;
      found = &date;
    }
    if (found == nullptr || !found->when.known || found->impossible || found->negated ||
        found->attributed || found->event != kNone || a_.is_bound(*found))
      return;
    marking.when = found->when;
  }

  void date_by_view(Claim& marking) const {
    const std::uint32_t token = a_.token_at(marking.begin);
    const Stretch own = stretch_at(token);
    if (own.first == 0 || !tells_of_seeing(own)) return;
    const Stretch before = stretch_at(own.first - 1);
    const std::string machine = only_machine(before);
    if (machine.empty()) return;
    const bool is_named =
        std::any_of(a_.mentions_.items.begin(), a_.mentions_.items.end(), [&](const Mention& name) {
          return name.kind == MentionKind::kAirframe && is_within(name, own) && is_serial(name) &&
                 !a_.is_same_machine(machine_of(name), machine);
        });
    if (is_named) return;
    const Claim* date = only_date(before, machine);
    if (date == nullptr) return;
    const View view = view_in(before, *date);
    if (view == View::kNone) return;
    if (marking.subject.empty()) {
      // "The bands are plain to see" in a picture of X12, and not "most boats wore the bands".
      if (view != View::kPicture || a_.stands_between(own.first, own.last, "view_of_others"))
        return;
      marking.subject = machine;
    } else if (!a_.is_same_machine(marking.subject, machine)) {
      return;
    }
    marking.when = date->when;
    marking.when.inherited = true;
  }

  // Photographs: "AB 12 shows X12 and X14", "the boats in AB 12 are X12 and X14", "in AB 12 we see
  // X12", "X12 appears in AB 12".
  void tell_of_photographs() const {
    if (a_.index_.of(MentionKind::kPhotograph).empty()) return;
    const std::size_t end = a_.out_.size();
    for (std::size_t i = a_.first_claim_; i < end; ++i) {
      const Claim& claim = a_.out_[i];
      if (claim.kind != ClaimKind::kReference || claim.role != "photograph") continue;
      const Mention* words = a_.mention_over(MentionKind::kPhotograph, a_.token_at(claim.begin));
      if (words == nullptr) continue;
      date_photograph(a_.out_[i], *words);
      const NameList shown = shown_in(*words);
      for (std::size_t n = 0; n < shown.size(); ++n) {
        if (n > 0) a_.out_.push_back(a_.out_[i]);
        (n > 0 ? a_.out_.back() : a_.out_[i]).subject = shown[n];
      }
    }
  }

  // "AB 12 was taken at the Point in May 1942", "AB 12, taken in May 1942, shows": the only date of
  // its sentence.
  void date_photograph(Claim& reference, const Mention& number) const {
    std::uint32_t made = number.last;
    if (a_.word(made) == ",") ++made;
    if (a_.is_in("was_word", made)) ++made;
    if (!a_.is_in("picture_made", made)) return;
    const std::uint32_t sentence = a_.clauses_.sentence_of[number.first];
    const Claim* found = nullptr;
    for (std::size_t i = a_.first_claim_; i < a_.out_.size(); ++i) {
      const Claim& date = a_.out_[i];
      if (date.kind != ClaimKind::kDate) continue;
      const std::uint32_t token = a_.token_at(date.begin);
      if (a_.clauses_.sentence_of[token] != sentence) continue;
      if (found != nullptr || token < made) return;
      found = &date;
    }
    if (found == nullptr || !found->when.known || found->impossible || found->negated ||
        found->attributed || found->inherited || a_.is_bound(*found) ||
        a_.clauses_.segment_of[a_.token_at(found->begin)] != a_.clauses_.segment_of[made])
      return;
    reference.of = "photograph";
    reference.when = found->when;
    reference.hedged = found->hedged;
  }

  // Past articles, a type and words for a machine.
  [[nodiscard]] std::uint32_t past_article(std::uint32_t token) const {
    for (bool is_past = false; !is_past;) {
      is_past = true;
      const Mention* type = a_.mention_over(MentionKind::kType, token);
      if (type != nullptr && type->first == token) {
        token = type->last;
        is_past = false;
      } else if (a_.is_in("determiner", token) || a_.is_in("photographed_noun", token)) {
        ++token;
        is_past = false;
      }
    }
    return token;
  }

  // All machines of the group that begins at a token, when nothing is doubtful about them.
  [[nodiscard]] NameList group_at(std::uint32_t token) const {
    for (const Group& group : a_.groups_) {
      if (group.first != token || group.is_either || group.members.empty()) continue;
      NameList machines;
      for (const std::uint32_t member : group.members) {
        const Mention& serial = a_.mentions_.items[member];
        if (!is_serial(serial) || a_.is_possessive(serial)) return {};
        std::string machine = machine_of(serial);
        if (machine.empty()) return {};
        machines.push_back(std::move(machine));
      }
      return machines.size() == group.serials.size() ? machines : NameList{};
    }
    return {};
  }

  [[nodiscard]] NameList shown_in(const Mention& number) const {
    std::uint32_t t = number.last;
    const bool is_inside = number.first > 0 && a_.is_in("photograph_preposition", number.first - 1);
    if (!is_inside) {
      // "AB 12 shows", "AB 12 is a picture of".
      if (a_.is_in("photograph_shows", t)) return group_at(past_article(t + 1));
      if (!a_.is_in("view_copula", t)) return {};
      ++t;
      if (a_.is_in("determiner", t)) ++t;
      if (a_.is_in("picture_word", t) || a_.is_in("picture_kind", t)) ++t;
      if (a_.office(t) == "of") return group_at(past_article(t + 1));
      return {};
    }
    // "The boats in AB 12 are X12 and X14", "in AB 12 we see X12".
    if (a_.is_in("view_copula", t)) {
      NameList machines = group_at(past_article(t + 1));
      if (!machines.empty()) return machines;
    }
    const std::uint32_t opening = t;
    constexpr std::uint32_t kReach = 4;
    while (t < opening + kReach && (a_.word(t) == "," || a_.is_in("photograph_seeing", t))) ++t;
    if (t > opening && a_.is_in("photograph_seeing", t - 1)) {
      NameList machines = group_at(past_article(t));
      if (!machines.empty()) return machines;
    }
    // "X12 is the boat in AB 12", "X12 appears in AB 12".
    t = number.first - 1;
    bool has_verb = false;
    while (t > 0 && (a_.is_in("photographed_noun", t - 1) || a_.is_in("determiner", t - 1) ||
                     a_.is_in("photograph_tie", t - 1))) {
      --t;
      has_verb = has_verb || a_.is_in("photograph_tie", t);
    }
    if (!has_verb) return {};
    for (const Group& group : a_.groups_) {
      if (group.last == t) return group_at(group.first);
    }
    return {};
  }

  BlockAssembler& a_;
};

void BlockAssembler::tell_of_views() { ToldViews(*this).tell(); }

}  // namespace tailproof

// Claims of aircraft, credits and references.
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

// Claims of types and marks.
#include <algorithm>

#include "claims/assembler.h"
#include "grammars/fold.h"

namespace tailproof {

void BlockAssembler::add_types() {
  for (const Mention& mention : mentions_.items) {
    if (mention.kind != MentionKind::kType) continue;
    Claim pattern;
    pattern.value = mention.detail.empty() ? mention.value : mention.value + " " + mention.detail;
    for (const std::string& reading : mention.readings) {
      pattern.readings.push_back(mention.detail.empty() || mention.role != "mark alone"
                                     ? reading
                                     : reading + " " + mention.detail);
    }
    // "two feet longer than the F.1", "unlike the Grapnel": another machine's type.
    if (cue_before(mention, "cue_not_shown", 2) != nullptr) continue;
    const Group* group = nullptr;
    for (const Group& candidate : groups_) {
      if (is_close(mention.last, candidate.first) || is_close(candidate.last, mention.first)) {
        group = &candidate;
        pattern.why = "beside the serial";
        if (is_close(mention.last, candidate.first)) break;
      }
    }
    if (group == nullptr && mention.plural) group = company_for(mention.first, mention.last);
    if (group == nullptr) {
      // "the Grapnel": the machine of that type that is spoken of, if there is one.
      group = group_of_type(mention.value);
      pattern.why = "the machine of that type";
      if (group == nullptr && mention.first > 0) {
        const std::string article = fold(word(mention.first - 1));
        const bool predicate = article == "a" || article == "an";
        const Group* near = group_for(mention.first, mention.last, &pattern.why);
        const bool same_clause =
            near != nullptr && near->clause == clauses_.clause_of[mention.first];
        if (predicate && same_clause && near->last <= mention.first) group = near;
      }
    }
    if (group != nullptr) {
      add_for_subjects(mention, ClaimKind::kType, group->serials, pattern);
    } else if (is_caption()) {
      pattern.subject = figure_subject();
      add_for_subjects(mention, ClaimKind::kType, {}, pattern);
    }
  }
}

}  // namespace tailproof

// What a caption takes from its figure as a whole, and from the figure before: the machines that
// the caption below a title names, and "the same machine".
#include <algorithm>

#include "claims/assembler.h"
#include "grammars/fold.h"

namespace tailproof {

// "Gull Strip, January 1943" as the title, 41-209 in the caption below it: the title speaks of what
// the caption names, so that is read first, for its machines and its date alone.
void BlockAssembler::look_ahead_in_figure() {
  if (is_look_ahead_ || block_.group == kNone) return;
  const bool has_serial =
      std::any_of(mentions_.items.begin(), mentions_.items.end(), [](const Mention& mention) {
        return mention.kind == MentionKind::kAirframe && mention.role.empty();
      });
  const bool has_open_date = std::any_of(mentions_.dates.begin(), mentions_.dates.end(),
                                         [](const DateMention& date) { return !date.is_complete; });
  const bool names_any =
      std::any_of(mentions_.items.begin(), mentions_.items.end(),
                  [](const Mention& mention) { return mention.kind != MentionKind::kCue; });
  // "![X12 at rest]", and below it "Fig. 2. ... in the spring of 1949": the day of what it names.
  const bool is_undated = has_serial && mentions_.dates.empty();
  if ((has_serial || !names_any) && !has_open_date && !is_undated) return;
  for (std::uint32_t b = block_index_ + 1; b < manuscript_.blocks.size(); ++b) {
    const Block& next = manuscript_.blocks[b];
    if (next.group != block_.group || next.kind != BlockKind::kCaption) return;
    Focus focus;
    DateContext dates = date_context_;
    std::vector<Claim> claims;
    BlockAssembler ahead(finder_, manuscript_, next, manuscript_index_, b, focus, dates, claims);
    ahead.is_look_ahead_ = true;
    ahead.run();
    if (!has_serial) serials_ahead_ = ahead.shown_serials();
    for (const Group& group : ahead.groups_) {
      for (const std::string& serial : group.serials) named_ahead_.insert(serial);
    }
    for (const std::uint32_t date : focus.photograph_dates) {
      if (date >= claims.size() || !is_undated || claims[date].hedged) continue;
      picture_ahead_ = claims[date].when;
      picture_ahead_.date = kNone;
    }
    for (const std::uint32_t date : focus.photograph_dates) {
      if (date < claims.size() && !claims[date].inherited)
        date_context_.set_figure_date(claims[date].date);
    }
    if (!serials_ahead_.empty() || !focus.photograph_dates.empty()) return;
  }
}

// A group without words of its own, where the block has none.
void BlockAssembler::stand_for_figure(std::vector<std::string> serials, std::uint32_t token) {
  if (serials.empty() || !groups_.empty()) return;
  Group group;
  group.serials = std::move(serials);
  group.first = group.last = token;
  group.clause = token < clauses_.clause_of.size() ? clauses_.clause_of[token] : 0;
  insert_group(std::move(group));
}

// "The same aircraft, a few minutes later", "another view of the same machine": that of the figure
// before, or of the one that is named ("the same machine as in Fig. 3").
void BlockAssembler::name_machine_of_before() {
  if (!is_caption() || !groups_.empty()) return;
  // "The same Wimbrel, a week later".
  for (const Mention& type : mentions_of(MentionKind::kType)) {
    if (focus_.serials_before.size() != 1 || type.plural || type.first == 0 ||
        !is_in("order_same_word", type.first - 1) || begin_of_sentence(type.first) + 2 < type.first)
      continue;
    const std::vector<const Airframe*> machine = ledger_.machine_of(focus_.serials_before.front());
    const bool is_of_type = std::any_of(machine.begin(), machine.end(), [&](const Airframe* row) {
      return std::string_view(row->type) == std::string_view(type.value);
    });
    if (is_of_type) stand_for_figure(focus_.serials_before, type.first);
    return;
  }
  for (const std::uint32_t c : index_.of("cue_same_machine")) {
    const Mention& cue = mentions_.items[c];
    constexpr std::uint32_t kReach = 5;
    const Mention* reference = nullptr;
    for (const Mention& other : mentions_of(MentionKind::kReference)) {
      if (other.first >= cue.last && other.first - cue.last <= kReach) reference = &other;
    }
    if (reference != nullptr) return;  // whichever that is, it need not be the one before
    if (focus_.serials_before.empty()) return;
    stand_for_figure(focus_.serials_before, cue.first);
    return;
  }
}

}  // namespace tailproof

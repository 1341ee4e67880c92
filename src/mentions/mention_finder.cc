// Finds the mentions of blocks, one at a time or many together.
#include <deque>

#include "mentions/find_mentions.h"
#include "mentions/finder.h"

namespace tailproof {

const std::array<BlockFinder::Step, 21> BlockFinder::kSteps = {
    &BlockFinder::find_words,
    &BlockFinder::find_phrases,
    &BlockFinder::find_described_markings,
    &BlockFinder::find_markings_by_look,
    &BlockFinder::find_short_markings,
    &BlockFinder::find_photographs,
    &BlockFinder::find_references,
    &BlockFinder::find_orders_in_time,
    &BlockFinder::find_dates_of_block,
    &BlockFinder::find_serials,
    &BlockFinder::find_units,
    &BlockFinder::find_codes,
    &BlockFinder::find_people,
    &BlockFinder::find_short_awards,
    &BlockFinder::find_measures,
    &BlockFinder::find_events,
    &BlockFinder::find_cues,
    &BlockFinder::find_malformed,
    &BlockFinder::find_short_serials,
    &BlockFinder::settle_overlaps,
    &BlockFinder::drop_unused_dates,
};

MentionFinder::MentionFinder(const Ledger& ledger, const Grammars& grammars, Explain explain)
    : MentionFinder(std::make_shared<const Lexicon>(ledger, grammars),
                    std::make_shared<const SerialForms>(ledger), explain) {}

MentionFinder::MentionFinder(std::shared_ptr<const Lexicon> lexicon,
                             std::shared_ptr<const SerialForms> forms, Explain explain)
    : lexicon_(std::move(lexicon)),
      forms_(std::move(forms)),
      memory_(std::make_unique<FinderMemory>(*lexicon_, explain)) {}

MentionFinder::MentionFinder(MentionFinder&&) noexcept = default;

MentionFinder MentionFinder::for_another_thread() const {
  return {lexicon_, forms_, memory_->explain};
}

MentionFinder::~MentionFinder() = default;

bool MentionFinder::explains() const { return memory_->explain == Explain::kYes; }

Spelling MentionFinder::keep(std::string_view text) const { return memory_->keep(text); }

const std::vector<PatternMatch>& MentionFinder::matches(ListName kind, std::string_view text,
                                                        const Mentions& mentions) const {
  return memory_->matches(kind, text, mentions);
}

Mentions MentionFinder::find(std::string_view text) const {
  for (FinderMemory::Ahead& ahead : memory_->ahead) {
    if (ahead.text.data() != text.data() || ahead.text.size() != text.size()) continue;
    ahead.text = {};
    return std::move(ahead.mentions);
  }
  BlockFinder finder(*lexicon_, *forms_, *memory_, text);
  for (const BlockFinder::Step step : BlockFinder::kSteps) (finder.*step)();
  return finder.take();
}

// Step by step, each over all texts: the code of one step stays in the processor's cache for them
// all, where block by block it would be read anew from further away each time.
void MentionFinder::find_ahead(std::span<const std::string_view> texts) const {
  memory_->ahead.clear();
  std::deque<BlockFinder> finders;
  for (const std::string_view text : texts)
    finders.emplace_back(*lexicon_, *forms_, *memory_, text);
  for (const BlockFinder::Step step : BlockFinder::kSteps) {
    for (BlockFinder& finder : finders) (finder.*step)();
  }
  for (std::size_t i = 0; i < texts.size(); ++i)
    memory_->ahead.push_back({texts[i], finders[i].take()});
}

}  // namespace tailproof

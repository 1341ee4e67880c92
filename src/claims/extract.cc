#include "claims/extract.h"

#include <algorithm>
#include <atomic>
#include <utility>

#include "claims/assemble_block.h"
#include "claims/order_claims.h"
#include "claims/stretches.h"
#include "source/thread_group.h"

namespace tailproof {

void assemble_block(const MentionFinder& finder, const Manuscript& manuscript,
                    std::uint32_t manuscript_index, std::uint32_t block_index, Focus& focus,
                    DateContext& dates, std::vector<Claim>& out) {
  const Block& block = manuscript.blocks[block_index];
  if (!needs_stretches(block)) {
    BlockAssembler(finder, manuscript, block, manuscript_index, block_index, focus, dates, out)
        .run();
    return;
  }
  for (const Stretch& stretch : stretches_of(block)) {
    const std::size_t first = out.size();
    BlockAssembler(finder, manuscript, stretch.block, manuscript_index, block_index, focus, dates,
                   out)
        .run();
    for (std::size_t i = first; i < out.size(); ++i) {
      out[i].begin += stretch.offset;
      out[i].end += stretch.offset;
    }
  }
}

void move_references(Claim& claim, std::uint32_t by) {
  for (std::uint32_t* other : {&claim.when.date, &claim.event, &claim.holder_of_rank}) {
    if (*other != kNone) *other += by;
  }
}

namespace {

// Blocks whose mentions are found together: so many that the code of a step is fetched seldom, and
// so few that their words stay near.
constexpr std::uint32_t kBlocksAhead = 32;

/// Claims of one manuscript, numbered from its first.
std::vector<Claim> claims_of(const MentionFinder& finder, const Manuscript& manuscript,
                             std::uint32_t index) {
  std::vector<Claim> claims;
  // Claims are large: about as many as a book full of them has, so that they need not be moved.
  constexpr std::size_t kBytesAClaim = 28;
  std::size_t bytes = 0;
  for (const Block& block : manuscript.blocks) bytes += block.text.size();
  claims.reserve(bytes / kBytesAClaim);
  Focus focus;
  DateContext dates(finder.lexicon().ledger().settings());
  std::vector<std::string_view> ahead;
  for (std::uint32_t b = 0; b < manuscript.blocks.size(); ++b) {
    if (b % kBlocksAhead == 0) {
      ahead.clear();
      const std::size_t end = std::min<std::size_t>(b + kBlocksAhead, manuscript.blocks.size());
      for (std::size_t next = b; next < end; ++next) {
        const Block& block = manuscript.blocks[next];
        if (!needs_stretches(block)) ahead.emplace_back(block.text);
      }
      finder.find_ahead(ahead);
    }
    assemble_block(finder, manuscript, index, b, focus, dates, claims);
  }
  finder.find_ahead({});
  return claims;
}

/// Each manuscript's claims by themselves. Nothing goes from one manuscript to the next here, so
/// that it does not matter who reads which, and when.
std::vector<std::vector<Claim>> claims_by_manuscript(const MentionFinder& finder,
                                                     const std::vector<Manuscript>& manuscripts,
                                                     unsigned jobs) {
  std::vector<std::vector<Claim>> found(manuscripts.size());
  std::atomic<std::uint32_t> next = 0;
  const auto work = [&](const MentionFinder& own_finder) {
    for (std::uint32_t m = next++; m < manuscripts.size(); m = next++) {
      found[m] = claims_of(own_finder, manuscripts[m], m);
    }
  };
  ThreadGroup helpers;
  for (std::size_t i = 1; i < std::min<std::size_t>(jobs, manuscripts.size()); ++i) {
    if (!helpers.start([&] { work(finder.for_another_thread()); })) break;
  }
  work(finder);
  helpers.join();
  return found;
}

/// All claims in one list, and the numbers by which they name each other moved along.
std::vector<Claim> joined(std::vector<std::vector<Claim>> parts) {
  if (parts.size() == 1) return std::move(parts.front());
  std::size_t count = 0;
  for (const std::vector<Claim>& part : parts) count += part.size();
  std::vector<Claim> all;
  all.reserve(count);
  for (std::vector<Claim>& part : parts) {
    const auto first = static_cast<std::uint32_t>(all.size());
    for (Claim& claim : part) {
      move_references(claim, first);
      all.push_back(std::move(claim));
    }
    part = {};
  }
  return all;
}

}  // namespace

std::vector<Claim> extract_claims(const std::vector<Manuscript>& manuscripts, const Ledger& ledger,
                                  const Grammars& grammars, Explain explain, unsigned jobs) {
  return extract_claims(manuscripts, MentionFinder(ledger, grammars, explain), jobs);
}

std::vector<Claim> extract_claims(const std::vector<Manuscript>& manuscripts,
                                  const MentionFinder& finder, unsigned jobs) {
  std::vector<Claim> claims = joined(claims_by_manuscript(finder, manuscripts, jobs));
  resolve_orders_in_time(manuscripts, finder.lexicon().ledger(), claims);
  return claims;
}

}  // namespace tailproof

#include "run/kept_checks.h"

#include <algorithm>
#include <iterator>
#include <optional>
#include <utility>

namespace tailproof {

namespace {

/// A place counted from a block of the caption's reach.
struct KeptSpan {
  std::uint32_t reach = 0;  // index into KeptCaption::reach
  Span span;                // counted from the beginning of that block
};

struct KeptClaim {
  std::uint32_t reach = 0;
  std::uint32_t number = 0;  // within its block
};

struct KeptQuery {
  std::size_t check = 0;
  Query query;
  bool is_loose = false;  // it points outside the reach: its numbers are those of one run
  // In place of the query's own numbers:
  std::uint32_t block = 0;  // index into KeptCaption::reach
  KeptSpan span;
  std::vector<KeptSpan> related;
  std::vector<KeptClaim> claims;
};

struct KeptCaption {
  bool is_known = false;
  std::vector<BlockPlace> reach;  // the caption's own blocks first
  std::vector<KeptQuery> queries;
};

/// What stays of one manuscript, by block; of a caption at its first.
struct KeptManuscript {
  std::vector<KeptCaption> captions;
  std::vector<std::shared_ptr<const CaptionPhotographs>> photographs;
};

/// A manuscript's block numbers before and after an edit.
struct Move {
  std::uint32_t manuscript = 0;
  std::uint32_t begin = 0, end = 0;  // blocks [begin, end) of before are gone
  std::uint32_t by = 0;              // of those behind; modulo 2^32
};

/// Where a query of a caption stands, in numbers that hold when blocks move.
class Keeper {
 public:
  Keeper(const CheckInput& input, const FirstClaims& first, const KeptCaption& caption)
      : input_(input), first_(first), caption_(caption) {}

  [[nodiscard]] KeptQuery kept(std::size_t check, Query query) const {
    KeptQuery kept;
    kept.is_loose = !places_of(query, kept);
    kept.check = check;
    kept.query = std::move(query);
    return kept;
  }

  [[nodiscard]] Query query(const KeptQuery& kept) const {
    Query query = kept.query;
    if (kept.is_loose) return query;
    const BlockPlace& place = caption_.reach[kept.block];
    query.manuscript = place.manuscript;
    query.block = place.block;
    query.span = whole(kept.span);
    for (std::size_t i = 0; i < kept.related.size(); ++i) {
      query.related[i].span = whole(kept.related[i]);
    }
    for (std::size_t i = 0; i < kept.claims.size(); ++i) {
      const BlockPlace& block = caption_.reach[kept.claims[i].reach];
      query.claims[i] = first_[block.manuscript][block.block] + kept.claims[i].number;
    }
    return query;
  }

 private:
  /// False where the query points to anything outside the caption's reach.
  [[nodiscard]] bool places_of(const Query& query, KeptQuery& kept) const {
    const auto block = index_of({query.manuscript, query.block});
    const auto span = span_of(query.span);
    if (!block || !span) return false;
    kept.block = *block;
    kept.span = *span;
    for (const Related& related : query.related) {
      const auto place = span_of(related.span);
      if (!place) return false;
      kept.related.push_back(*place);
    }
    for (const std::uint32_t claim : query.claims) {
      const Claim& own = input_.claims[claim];
      const auto its_block = index_of({own.manuscript, own.block});
      if (!its_block) return false;
      kept.claims.push_back({*its_block, claim - first_[own.manuscript][own.block]});
    }
    return true;
  }

  [[nodiscard]] std::optional<std::uint32_t> index_of(const BlockPlace& place) const {
    const auto at = std::find(caption_.reach.begin(), caption_.reach.end(), place);
    if (at == caption_.reach.end()) return std::nullopt;
    return static_cast<std::uint32_t>(at - caption_.reach.begin());
  }

  [[nodiscard]] const Block& block(const BlockPlace& place) const {
    return input_.manuscripts[place.manuscript].blocks[place.block];
  }

  // Counted from the smallest block around it: a footnote moves by itself within its paragraph.
  [[nodiscard]] std::optional<KeptSpan> span_of(const Span& span) const {
    std::optional<KeptSpan> found;
    std::uint32_t smallest = 0;
    for (std::uint32_t i = 0; i < caption_.reach.size(); ++i) {
      const Span& around = block(caption_.reach[i]).span;
      if (around.file != span.file || around.begin > span.begin || around.end < span.end) continue;
      if (found && around.size() >= smallest) continue;
      smallest = around.size();
      found = KeptSpan{i, {span.file, span.begin - around.begin, span.end - around.begin}};
    }
    return found;
  }

  [[nodiscard]] Span whole(const KeptSpan& kept) const {
    const std::uint32_t begin = block(caption_.reach[kept.reach]).span.begin;
    return {kept.span.file, kept.span.begin + begin, kept.span.end + begin};
  }

  const CheckInput& input_;
  const FirstClaims& first_;
  const KeptCaption& caption_;
};

bool is_of_caption(const CheckInfo& check) { return check.scope == CheckScope::kCaption; }

}  // namespace

struct KeptChecks::Inside {
  std::vector<KeptManuscript> manuscripts;
  std::vector<CaptionBlocks> blocks;  // by manuscript
  std::vector<std::string> ids;       // of the checks whose queries are kept

  /// Whether it fits what is to be checked now.
  [[nodiscard]] bool is_fit(const std::vector<CheckInfo>& checks, const CheckInput& input) const {
    const auto is_same = [](const CheckInfo& check, const std::string& id) {
      return check.id == id;
    };
    if (!std::equal(checks.begin(), checks.end(), ids.begin(), ids.end(), is_same)) return false;
    return std::equal(manuscripts.begin(), manuscripts.end(), input.manuscripts.begin(),
                      input.manuscripts.end(), [](const KeptManuscript& kept, const Manuscript& m) {
                        return kept.captions.size() == m.blocks.size();
                      });
  }

  void begin_anew(const std::vector<CheckInfo>& checks, const CheckInput& input) {
    ids.clear();
    for (const CheckInfo& check : checks) ids.emplace_back(check.id);
    manuscripts.clear();
    blocks.clear();
    for (const Manuscript& manuscript : input.manuscripts) {
      blocks.emplace_back(manuscript);
      KeptManuscript& kept = manuscripts.emplace_back();
      kept.captions.resize(manuscript.blocks.size());
      kept.photographs.resize(manuscript.blocks.size());
    }
  }

  [[nodiscard]] KeptCaption& caption(const BlockPlace& place) {
    return manuscripts[place.manuscript].captions[place.block];
  }

  template <typename Do>
  void for_each_caption(const Do& act) {
    for (std::uint32_t m = 0; m < manuscripts.size(); ++m) {
      for (std::uint32_t b = 0; b < blocks[m].count(); ++b) {
        if (blocks[m].owner(b) == b) act(BlockPlace{m, b});
      }
    }
  }

  /// The captions of which nothing is known, their reach found.
  std::vector<BlockPlace> open_captions(const CheckInput& input, const FirstClaims& first) {
    std::vector<BlockPlace> open;
    for_each_caption([&](const BlockPlace& place) {
      KeptCaption& kept = caption(place);
      if (kept.is_known && has_its_blocks(place, kept)) return;
      kept.is_known = false;
      open.push_back(place);
      kept.reach = reach_of(input, first, blocks, place);
      kept.queries.clear();
      for (std::uint32_t b = place.block; b != kNone; b = blocks[place.manuscript].next(b)) {
        manuscripts[place.manuscript].photographs[b] = nullptr;
      }
    });
    return open;
  }

  [[nodiscard]] bool has_its_blocks(const BlockPlace& owner, const KeptCaption& kept) const {
    std::size_t count = 0;
    for (std::uint32_t b = owner.block; b != kNone; b = blocks[owner.manuscript].next(b)) {
      if (count == kept.reach.size() || kept.reach[count] != BlockPlace{owner.manuscript, b}) {
        return false;
      }
      ++count;
    }
    return true;
  }

  /// Takes in the queries of a check, which stand in open captions.
  void take(const CheckInput& input, const FirstClaims& first, std::size_t check,
            std::vector<Query> queries) {
    for (Query& query : queries) {
      if (query.block == kNone) continue;
      const std::uint32_t owner = blocks[query.manuscript].owner(query.block);
      KeptCaption& kept = caption({query.manuscript, owner});
      kept.queries.push_back(Keeper(input, first, kept).kept(check, std::move(query)));
    }
  }

  /// What was found in an excerpt, in the numbers of the whole; without that of captions which were
  /// not asked for.
  static std::vector<Query> in_whole(const Excerpt& excerpt, const std::vector<BlockPlace>& open,
                                     const std::vector<CaptionBlocks>& blocks,
                                     std::vector<Query> queries) {
    std::vector<Query> found;
    for (Query& query : queries) {
      if (query.block == kNone) continue;
      const BlockPlace place = excerpt.whole_place({query.manuscript, query.block});
      const BlockPlace owner{place.manuscript, blocks[place.manuscript].owner(place.block)};
      if (!std::binary_search(open.begin(), open.end(), owner)) continue;
      query.block = place.block;
      for (std::uint32_t& claim : query.claims) claim = excerpt.whole_claim(claim);
      found.push_back(std::move(query));
    }
    return found;
  }

  /// The captions are known from now on. What hangs on the figures of the whole book, or points to
  /// it, is looked at again all the same.
  void close(const CheckInput& input, const FirstClaims& first,
             const std::vector<BlockPlace>& open) {
    for (const BlockPlace& place : open) {
      KeptCaption& kept = caption(place);
      const bool tells_order =
          std::any_of(kept.reach.begin(), kept.reach.end(), [&](const BlockPlace& block) {
            const auto& of = first[block.manuscript];
            const auto claims =
                input.claims.subspan(of[block.block], of[block.block + 1] - of[block.block]);
            return std::any_of(claims.begin(), claims.end(), [](const Claim& claim) {
              return claim.kind == ClaimKind::kOrderInTime;
            });
          });
      const bool is_loose = std::any_of(kept.queries.begin(), kept.queries.end(),
                                        [](const KeptQuery& query) { return query.is_loose; });
      kept.is_known = !tells_order && !is_loose;
    }
  }

  void take_photographs(const PhotographFacts& facts, const Excerpt* excerpt) {
    for (std::uint32_t m = 0; m < facts.of.size(); ++m) {
      for (std::uint32_t b = 0; b < facts.of[m].size(); ++b) {
        if (facts.of[m][b] == nullptr) continue;
        const BlockPlace place =
            excerpt == nullptr ? BlockPlace{m, b} : excerpt->whole_place({m, b});
        auto& own = manuscripts[place.manuscript].photographs[place.block];
        if (own == nullptr) own = facts.of[m][b];
      }
    }
  }

  [[nodiscard]] std::shared_ptr<const PhotographFacts> photographs() const {
    auto facts = std::make_shared<PhotographFacts>();
    for (const KeptManuscript& kept : manuscripts) facts->of.push_back(kept.photographs);
    return facts;
  }
};

KeptChecks::KeptChecks() : inside_(std::make_unique<Inside>()) {}

KeptChecks::~KeptChecks() = default;

void KeptChecks::forget() { *inside_ = Inside{}; }

void KeptChecks::touch(std::uint32_t index, const Manuscript& manuscript, std::uint32_t block_count,
                       const Touched& touched) {
  Inside& inside = *inside_;
  if (index >= inside.manuscripts.size()) return;
  const auto new_count = static_cast<std::uint32_t>(manuscript.blocks.size());
  const Move move{index, touched.first_block, touched.last_block + block_count - new_count,
                  new_count - block_count};
  for (KeptManuscript& kept : inside.manuscripts) {
    for (KeptCaption& caption : kept.captions) {
      for (BlockPlace& place : caption.reach) {
        if (place.manuscript != index || place.block < move.begin) continue;
        if (place.block < move.end) caption.is_known = false;
        place.block += move.by;
      }
    }
  }
  const auto replace = [&](auto& list) {
    list.erase(list.begin() + move.begin, list.begin() + move.end);
    std::remove_reference_t<decltype(list)> fresh(touched.last_block - touched.first_block);
    list.insert(list.begin() + move.begin, std::make_move_iterator(fresh.begin()),
                std::make_move_iterator(fresh.end()));
  };
  replace(inside.manuscripts[index].captions);
  replace(inside.manuscripts[index].photographs);
  inside.blocks[index] = CaptionBlocks(manuscript);
  // A block that has come to a figure makes all of it new.
  for (std::uint32_t b = touched.first_block; b < touched.last_block; ++b) {
    inside.caption({index, inside.blocks[index].owner(b)}).is_known = false;
  }
}

KeptChecks::Found KeptChecks::run(const std::vector<CheckInfo>& checks, CheckInput& input,
                                  const RunAll& run_all) {
  Inside& inside = *inside_;
  const bool is_anew = !inside.is_fit(checks, input);
  if (is_anew) inside.begin_anew(checks, input);
  const FirstClaims first = first_claims(input);
  const std::vector<BlockPlace> open = inside.open_captions(input, first);
  if (is_anew) {
    inside.take_photographs(*photograph_facts(input), nullptr);
    input.photographs = inside.photographs();
    Found found = run_all(checks, input);
    for (std::size_t i = 0; i < checks.size(); ++i) {
      if (is_of_caption(checks[i])) inside.take(input, first, i, found[i]);
    }
    inside.close(input, first, open);
    return found;
  }

  std::vector<BlockPlace> reach;
  for (const BlockPlace& place : open) {
    const KeptCaption& kept = inside.caption(place);
    reach.insert(reach.end(), kept.reach.begin(), kept.reach.end());
  }
  const Excerpt excerpt(input, first, std::move(reach));
  inside.take_photographs(*photograph_facts(excerpt.input()), &excerpt);
  input.photographs = inside.photographs();

  std::vector<CheckInfo> of_caption, of_book;
  for (const CheckInfo& check : checks) {
    (is_of_caption(check) ? of_caption : of_book).push_back(check);
  }
  Found in_excerpt = run_all(of_caption, excerpt.input());
  Found in_book = run_all(of_book, input);
  auto next_in_excerpt = in_excerpt.begin();
  auto next_in_book = in_book.begin();
  Found found(checks.size());
  for (std::size_t i = 0; i < checks.size(); ++i) {
    if (is_of_caption(checks[i])) {
      inside.take(input, first, i,
                  Inside::in_whole(excerpt, open, inside.blocks, std::move(*next_in_excerpt++)));
    } else {
      found[i] = std::move(*next_in_book++);
    }
  }
  inside.for_each_caption([&](const BlockPlace& place) {
    const KeptCaption& kept = inside.caption(place);
    for (const KeptQuery& query : kept.queries) {
      found[query.check].push_back(Keeper(input, first, kept).query(query));
    }
  });
  inside.close(input, first, open);
  return found;
}

}  // namespace tailproof

#include "claims/kept_claims.h"

#include <algorithm>
#include <iterator>
#include <utility>

#include "claims/assemble_block.h"
#include "claims/order_claims.h"

namespace tailproof {

namespace {

/// What one block takes over from those before it. Numbers of claims count back from the first
/// claim of the block, and the figure's group from the last group before, so that they hold
/// wherever the block comes to stand.
struct HandedOn {
  Focus focus;
  std::shared_ptr<const DateContext> dates;  // shared while nothing changes
};

/// An order_in_time claim before it was known which photographs it is about.
struct OpenOrder {
  std::uint32_t claim = 0;
  std::string value, subject;
  TimeRelation relation;
  bool known = true;
};

/// What stays of one manuscript: for each block, and for the end, what stood before it.
struct Kept {
  std::vector<HandedOn> before;
  std::vector<std::uint32_t> first_claim;  // counted from the manuscript's first

  [[nodiscard]] std::uint32_t claim_count() const {
    return first_claim.empty() ? 0 : first_claim.back();
  }
};

/// The group last seen before each block, and at the end.
std::vector<std::uint32_t> groups_before(const Manuscript& manuscript) {
  std::vector<std::uint32_t> groups;
  groups.reserve(manuscript.blocks.size() + 1);
  std::uint32_t last = 0;
  for (const Block& block : manuscript.blocks) {
    groups.push_back(last);
    if (block.group != kNone) last = block.group;
  }
  groups.push_back(last);
  return groups;
}

Focus made_relative(Focus focus, std::uint32_t first_claim, std::uint32_t group) {
  constexpr std::uint32_t kFar = 1U << 30U;  // so that no distance is taken for kNone
  for (std::uint32_t& date : focus.photograph_dates) date = first_claim - date;
  if (focus.figure_group != kNone) focus.figure_group = group + kFar - focus.figure_group;
  return focus;
}

// Counting back twice leads forward again.
Focus made_absolute(Focus focus, std::uint32_t first_claim, std::uint32_t group) {
  return made_relative(std::move(focus), first_claim, group);
}

bool is_same(const Focus& a, const Focus& b) {
  const bool are_same_people =
      a.named_people == b.named_people || (a.named_people != nullptr && b.named_people != nullptr &&
                                           *a.named_people == *b.named_people);
  return are_same_people && a.serials == b.serials && a.units == b.units && a.person == b.person &&
         a.marking == b.marking && a.figure_group == b.figure_group &&
         a.photograph_dates == b.photograph_dates && a.serials_before == b.serials_before &&
         a.card == b.card && a.serials_of_figure == b.serials_of_figure;
}

bool is_same(const Table& a, const Table& b) {
  return a.caption == b.caption && a.headings == b.headings;
}

bool is_same(const Cell& a, const Cell& b) {
  return a.begin == b.begin && a.end == b.end && a.column == b.column;
}

/// Whether both blocks lead to the same claims, at places moved by one distance, when the same is
/// handed on to them. Their groups are compared elsewhere.
bool is_same(const Manuscript& before, const Block& a, const Manuscript& after, const Block& b) {
  const bool is_in_table = a.table != kNone;
  if (a.kind != b.kind || a.text != b.text || a.span.file != b.span.file ||
      a.span.size() != b.span.size() || a.figure != b.figure || a.photograph != b.photograph ||
      a.image != b.image || a.credit != b.credit || a.level != b.level ||
      (a.group == kNone) != (b.group == kNone) || is_in_table != (b.table != kNone)) {
    return false;
  }
  if (!std::equal(a.cells.begin(), a.cells.end(), b.cells.begin(), b.cells.end(),
                  [](const Cell& x, const Cell& y) { return is_same(x, y); })) {
    return false;
  }
  const std::uint32_t moved = b.span.begin - a.span.begin;
  const auto is_same_run = [moved](const MapRun& x, const MapRun& y) {
    return x.text_begin == y.text_begin && x.source_begin + moved == y.source_begin &&
           x.source_length == y.source_length && x.verbatim == y.verbatim;
  };
  if (!std::equal(a.runs.begin(), a.runs.end(), b.runs.begin(), b.runs.end(), is_same_run)) {
    return false;
  }
  return !is_in_table || is_same(before.tables[a.table], after.tables[b.table]);
}

/// How many blocks are the same from the beginning on.
std::uint32_t common_beginning(const Manuscript& before, const Manuscript& after) {
  const std::size_t most = std::min(before.blocks.size(), after.blocks.size());
  std::uint32_t count = 0;
  while (count < most && before.blocks[count].group == after.blocks[count].group &&
         is_same(before, before.blocks[count], after, after.blocks[count])) {
    ++count;
  }
  return count;
}

/// The first block of the figure in which `block` stands, in either text: a title takes machines
/// and dates from the captions below it.
std::uint32_t figure_begin(const Manuscript& before, const Manuscript& after, std::uint32_t block) {
  const auto goes_on = [](const Manuscript& manuscript, std::uint32_t b) {
    return b > 0 && b < manuscript.blocks.size() && manuscript.blocks[b].group != kNone &&
           manuscript.blocks[b].group == manuscript.blocks[b - 1].group;
  };
  while (goes_on(before, block) || goes_on(after, block)) --block;
  return block;
}

/// How many blocks, of those behind the common beginning, are the same up to the end.
std::uint32_t common_end(const Manuscript& before, const Manuscript& after,
                         std::uint32_t beginning) {
  const std::size_t most = std::min(before.blocks.size(), after.blocks.size()) - beginning;
  std::uint32_t count = 0;
  bool has_group = false;
  std::uint32_t moved = 0;  // by how much the numbers of groups have changed
  while (count < most) {
    const Block& a = before.blocks[before.blocks.size() - 1 - count];
    const Block& b = after.blocks[after.blocks.size() - 1 - count];
    if (!is_same(before, a, after, b)) break;
    if (a.group != kNone) {
      if (has_group && b.group - a.group != moved) break;
      moved = b.group - a.group;
      has_group = true;
    }
    ++count;
  }
  return count;
}

void move_places(Claim& claim, std::uint32_t blocks, std::uint32_t bytes) {
  claim.block += blocks;
  claim.span.begin += bytes;
  claim.span.end += bytes;
  for (DateEnd& end : claim.ends) {
    end.span.begin += bytes;
    end.span.end += bytes;
  }
  if (claim.relation->photograph.is_known()) claim.relation.own().photograph.block += blocks;
}

}  // namespace

struct KeptClaims::Inside {
  Inside(const Ledger& its_ledger, const Grammars& grammars)
      : ledger(its_ledger), finder(its_ledger, grammars) {}

  /// Keeps what is handed on to the next block, sharing the dates with the block before it if it
  /// can.
  static HandedOn hand_on(const Focus& focus, const DateContext& dates, std::uint32_t first_claim,
                          std::uint32_t group, const HandedOn* previous) {
    const bool is_unchanged = previous != nullptr && previous->dates->stands_like(dates);
    return {made_relative(focus, first_claim, group),
            is_unchanged ? previous->dates : std::make_shared<const DateContext>(dates)};
  }

  [[nodiscard]] std::uint32_t first_claim_of(std::uint32_t manuscript) const {
    std::uint32_t first = 0;
    for (std::uint32_t m = 0; m < manuscript; ++m) first += kept[m].claim_count();
    return first;
  }

  /// Takes back which photographs the orders in time are about.
  void open_orders(std::vector<Claim>& claims) {
    for (OpenOrder& order : orders) {
      Claim& claim = claims[order.claim];
      claim.value = std::move(order.value);
      claim.subject = std::move(order.subject);
      claim.relation = order.relation;
      claim.known = order.known;
    }
  }

  void add_order(const std::vector<Claim>& claims, std::uint32_t index) {
    const Claim& claim = claims[index];
    if (claim.kind != ClaimKind::kOrderInTime) return;
    orders.push_back({index, claim.value, claim.subject, *claim.relation, claim.known});
  }

  /// What is known of the orders in time, with their numbers of now; claims [first, last) are new.
  void renew_orders(const std::vector<Claim>& claims, std::uint32_t first, std::uint32_t last,
                    std::uint32_t old_last) {
    std::vector<std::uint32_t> others;
    for (const OpenOrder& order : orders) {
      if (order.claim < first) others.push_back(order.claim);
      if (order.claim >= old_last) others.push_back(order.claim + last - old_last);
    }
    orders.clear();
    for (const std::uint32_t index : others) add_order(claims, index);
    for (std::uint32_t i = first; i < last; ++i) add_order(claims, i);
  }

  const Ledger& ledger;
  MentionFinder finder;
  std::vector<Kept> kept;         // by manuscript
  std::vector<OpenOrder> orders;  // as extracted
};

KeptClaims::KeptClaims(const Ledger& ledger, const Grammars& grammars)
    : inside_(std::make_unique<Inside>(ledger, grammars)) {}

KeptClaims::~KeptClaims() = default;

void KeptClaims::extract(const std::vector<Manuscript>& manuscripts, std::vector<Claim>& claims) {
  Inside& inside = *inside_;
  claims.clear();
  inside.orders.clear();
  inside.kept.assign(manuscripts.size(), {});
  for (std::uint32_t m = 0; m < manuscripts.size(); ++m) {
    const auto first = static_cast<std::uint32_t>(claims.size());
    const std::vector<std::uint32_t> groups = groups_before(manuscripts[m]);
    Kept& kept = inside.kept[m];
    kept.before.reserve(groups.size());
    kept.first_claim.reserve(groups.size());
    Focus focus;
    DateContext dates(inside.ledger.settings());
    for (std::uint32_t b = 0;; ++b) {
      const auto count = static_cast<std::uint32_t>(claims.size());
      const HandedOn* previous = kept.before.empty() ? nullptr : &kept.before.back();
      kept.before.push_back(Inside::hand_on(focus, dates, count, groups[b], previous));
      kept.first_claim.push_back(count - first);
      if (b == manuscripts[m].blocks.size()) break;
      assemble_block(inside.finder, manuscripts[m], m, b, focus, dates, claims);
    }
  }
  for (std::uint32_t i = 0; i < claims.size(); ++i) inside.add_order(claims, i);
  resolve_orders_in_time(manuscripts, inside.ledger, claims);
}

Touched KeptClaims::update(const std::vector<Manuscript>& manuscripts, std::uint32_t index,
                           const Manuscript& before, std::vector<Claim>& claims) {
  Inside& inside = *inside_;
  const Manuscript& after = manuscripts[index];
  Kept& kept = inside.kept[index];
  const std::uint32_t base = inside.first_claim_of(index);
  const auto old_count = static_cast<std::uint32_t>(before.blocks.size());
  const auto new_count = static_cast<std::uint32_t>(after.blocks.size());
  const std::uint32_t beginning = figure_begin(before, after, common_beginning(before, after));
  const std::uint32_t end = common_end(before, after, beginning);
  const std::vector<std::uint32_t> groups = groups_before(after);
  inside.open_orders(claims);

  // The dates of a picture may stand in earlier blocks of its figure, and are looked at again: the
  // new claims begin with copies of what they may name.
  const HandedOn& start = kept.before[beginning];
  const std::uint32_t first_new = base + kept.first_claim[beginning];
  Focus focus = made_absolute(start.focus, first_new, groups[beginning]);
  DateContext dates = *start.dates;
  std::uint32_t first_copied = first_new;
  for (const std::uint32_t date : focus.photograph_dates) {
    first_copied = std::min(first_copied, date);
  }
  const std::uint32_t copied = first_new - first_copied;
  std::vector<Claim> fresh(claims.begin() + first_copied, claims.begin() + first_new);
  for (Claim& claim : fresh) move_references(claim, 0U - first_copied);
  for (std::uint32_t& date : focus.photograph_dates) date -= first_copied;

  std::vector<HandedOn> handed;
  std::vector<std::uint32_t> first_claims;
  std::uint32_t next = beginning;
  std::uint32_t old_next = old_count;
  for (;; ++next) {
    const auto count = static_cast<std::uint32_t>(fresh.size());
    const bool names_fresh =
        std::any_of(focus.photograph_dates.begin(), focus.photograph_dates.end(),
                    [copied](std::uint32_t date) { return date >= copied; });
    const HandedOn* previous = handed.empty() ? nullptr : &handed.back();
    HandedOn now = Inside::hand_on(focus, dates, count, groups[next], previous);
    if (next + end >= new_count) {
      old_next = next + old_count - new_count;
      const HandedOn& then = kept.before[old_next];
      // The date of a picture that has been read again may be another one in the same place.
      if (!names_fresh && is_same(now.focus, then.focus) && now.dates->stands_like(*then.dates)) {
        break;
      }
    }
    if (next == new_count) {
      old_next = old_count;
      kept.before.back() = std::move(now);
      break;
    }
    handed.push_back(std::move(now));
    first_claims.push_back(first_new - base + count - copied);
    assemble_block(inside.finder, after, index, next, focus, dates, fresh);
  }

  const std::uint32_t old_last = base + kept.first_claim[old_next];
  const auto fresh_count = static_cast<std::uint32_t>(fresh.size()) - copied;
  const std::uint32_t last_new = first_new + fresh_count;
  const std::uint32_t moved = last_new - old_last;  // modulo 2^32, as all distances here
  for (std::uint32_t i = copied; i < fresh.size(); ++i) move_references(fresh[i], first_copied);

  // Blocks before the touched ones may have moved too, where a file includes the one that changed.
  const auto move_block = [&](std::uint32_t old_block, std::uint32_t new_block) {
    const std::uint32_t bytes =
        after.blocks[new_block].span.begin - before.blocks[old_block].span.begin;
    const std::uint32_t blocks = new_block - old_block;
    if (bytes == 0 && blocks == 0) return;
    for (std::uint32_t i = kept.first_claim[old_block]; i < kept.first_claim[old_block + 1]; ++i) {
      move_places(claims[base + i], blocks, bytes);
    }
  };
  for (std::uint32_t b = 0; b < beginning; ++b) move_block(b, b);
  for (std::uint32_t b = old_next; b < old_count; ++b) move_block(b, b + new_count - old_count);
  if (moved != 0) {
    for (auto claim = claims.begin() + old_last; claim != claims.end(); ++claim) {
      move_references(*claim, moved);
    }
  }
  const std::uint32_t in_place = std::min(fresh_count, old_last - first_new);
  std::move(fresh.begin() + copied, fresh.begin() + copied + in_place, claims.begin() + first_new);
  if (fresh_count > in_place) {
    claims.insert(claims.begin() + first_new + in_place,
                  std::make_move_iterator(fresh.begin() + copied + in_place),
                  std::make_move_iterator(fresh.end()));
  } else {
    claims.erase(claims.begin() + first_new + in_place, claims.begin() + old_last);
  }

  for (std::uint32_t b = old_next; b <= old_count; ++b) kept.first_claim[b] += moved;
  const auto replace = [&](auto& list, auto& by) {
    list.erase(list.begin() + beginning, list.begin() + old_next);
    list.insert(list.begin() + beginning, std::make_move_iterator(by.begin()),
                std::make_move_iterator(by.end()));
  };
  replace(kept.before, handed);
  replace(kept.first_claim, first_claims);
  inside.renew_orders(claims, first_new, last_new, old_last);
  if (!inside.orders.empty()) resolve_orders_in_time(manuscripts, inside.ledger, claims);
  return {beginning, next, first_new, last_new};
}

}  // namespace tailproof

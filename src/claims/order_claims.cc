// One photograph before or after another: claims of it, and which photographs they are of.
#include "claims/order_claims.h"

#include <algorithm>
#include <map>
#include <set>

#include "claims/assembler.h"
#include "grammars/fold.h"
#include "tailproof/figure_key.h"

namespace tailproof {

// Whether nothing but "The same aircraft", "Taken just" and the like stands before it in the
// caption's first sentence: then the time is counted from the picture before.
bool BlockAssembler::opens_caption(const Mention& order) const {
  if (!is_caption()) return false;
  const WordList* opening = lexicon_.grammars().list("order_opening");
  for (std::uint32_t t = order.first; t-- > 0;) {
    if (mentions_.tokens[t].kind == TokenKind::kMark) continue;
    const bool is_label = any_mention(MentionKind::kReference, [&](const Mention& mention) {
      return mention.first <= 1 && mention.first <= t && t < mention.last;
    });
    if (is_label) continue;
    // "The same spot", "the same crew": whatever is called the same.
    const bool is_called_same = t > 0 && is_in("order_same_word", t - 1);
    if (!is_called_same && (opening == nullptr || value_in(opening, t).empty())) return false;
  }
  return true;
}

// "Fig. 12 was taken a week before Fig. 13": the figure that the sentence speaks of; nullptr when
// it names none before. One with which another picture is compared there is not spoken of.
const Mention* BlockAssembler::picture_spoken_of(const Mention& order) const {
  const Mention* found = nullptr;
  std::uint32_t end_of_order = kNone;
  for (const Mention& mention : mentions_.items) {
    if (mention.last > order.first) break;
    if (clauses_.sentence_of[mention.first] != clauses_.sentence_of[order.first]) continue;
    if (mention.kind == MentionKind::kOrderInTime) end_of_order = mention.last;
    if (mention.kind != MentionKind::kReference) continue;
    if (is_caption() && mention.first <= 1 && !block_.figure.empty()) continue;
    const bool is_compared = end_of_order != kNone && mention.first - end_of_order <= 4;
    if (!is_compared) found = &mention;
  }
  return found;
}

// "S3007 was lost two days after Fig. 3": the event is set against the picture, and not this one.
bool BlockAssembler::is_of_event(const Mention& order) const {
  return any_cue("cue_event", [&](const Mention& cue) {
    return cue.last <= order.first &&
           clauses_.segment_of[cue.first] == clauses_.segment_of[order.first] &&
           !says_taken(cue.last, order.first);
  });
}

void BlockAssembler::add_orders_in_time() {
  for (const Mention& mention : mentions_of(MentionKind::kOrderInTime)) {
    const OrderMention& order = mentions_.orders[mention.payload];
    const bool is_shared = order.words.starts_with("same ");
    if (order.opens && !is_shared && !opens_caption(mention)) continue;
    if (is_of_event(mention)) continue;
    // "Same day.": told as the date that it is, where the caption before has one.
    if (any_mention(MentionKind::kDate, [&](const Mention& date) {
          return date.begin == mention.begin && date.end == mention.end &&
                 !dates_[date.payload].date.is_unknown() && dates_[date.payload].from_caption;
        }))
      continue;
    const Mention* figure = order.opens ? nullptr : picture_spoken_of(mention);
    // "This and Fig. 8 were taken on the same day": the one named before is the other.
    const bool is_other_before =
        figure != nullptr && figure_keys(figure->value) == figure_keys(order.other);
    if (is_other_before) figure = nullptr;
    if (figure == nullptr && !is_caption()) continue;  // running text is no picture
    if (figure != nullptr && !says_taken(figure->last, mention.first)) continue;
    Claim& claim = add(mention, ClaimKind::kOrderInTime);
    claim.value = order.words;
    claim.subject = figure != nullptr ? figure->value : figure_subject();
    TimeRelation& relation = claim.relation.own();
    relation.least = order.least;
    relation.most = order.most;
    relation.other_name = order.other;
    if (figure == nullptr) relation.photograph = {manuscript_index_, block_index_};
  }
}

namespace {

using Manuscripts = std::vector<Manuscript>;

/// Every figure by its number, and the captions in reading order.
class Pictures {
 public:
  Pictures(const Manuscripts& manuscripts, const Ledger& ledger, const std::vector<Claim>& claims)
      : manuscripts_(manuscripts) {
    const FigureSeries series(manuscripts);
    for (std::uint32_t m = 0; m < manuscripts.size(); ++m) {
      for (std::uint32_t b = 0; b < manuscripts[m].blocks.size(); ++b) {
        const Block& block = manuscripts[m].blocks[b];
        if (block.kind != BlockKind::kCaption || block.figure.empty()) continue;
        const std::vector<FigureKey> keys = series.keys_of_caption(block.figure);
        if (keys.size() == 1) figures_[keys.front()].push_back({m, b});
      }
    }
    for (const Claim& claim : claims) {
      if (claim.kind != ClaimKind::kAirframe || !claim.role.empty() || claim.negated ||
          claim.attributed || !claim.shown) {
        continue;
      }
      const Block& block = manuscripts[claim.manuscript].blocks[claim.block];
      if (block.kind != BlockKind::kCaption) continue;
      auto& machines = machines_[key_of({claim.manuscript, claim.block})];
      for (const std::string_view serial : ledger.serials_of(claim.value)) {
        machines.insert(std::string(serial));
      }
      machines.insert(claim.value);
    }
  }

  /// The figure of this number: in the same manuscript if it is there, else in the first.
  [[nodiscard]] CaptionPlace numbered(std::string_view label, std::uint32_t manuscript) const {
    const std::vector<FigureKey> keys = figure_keys(label);
    if (keys.size() != 1) return {};
    const auto found = figures_.find(keys.front());
    if (found == figures_.end()) return {};
    for (const CaptionPlace& place : found->second) {
      if (place.manuscript == manuscript) return place;
    }
    return found->second.front();
  }

  /// The nearest other figure before (-1) or behind (+1) in the same manuscript.
  [[nodiscard]] CaptionPlace beside(const CaptionPlace& from, int step) const {
    const std::vector<Block>& blocks = manuscripts_[from.manuscript].blocks;
    const auto own = key_of(from);
    for (std::int64_t b = std::int64_t{from.block} + step;
         b >= 0 && b < static_cast<std::int64_t>(blocks.size()); b += step) {
      const CaptionPlace place{from.manuscript, static_cast<std::uint32_t>(b)};
      if (blocks[place.block].kind == BlockKind::kCaption && key_of(place) != own) return place;
    }
    return {};
  }

  [[nodiscard]] bool share_machine(const CaptionPlace& one, const CaptionPlace& other) const {
    if (!one.is_known() || !other.is_known()) return false;
    const auto a = machines_.find(key_of(one));
    const auto b = machines_.find(key_of(other));
    if (a == machines_.end() || b == machines_.end()) return false;
    return std::any_of(a->second.begin(), a->second.end(),
                       [&](const std::string& serial) { return b->second.contains(serial); });
  }

  [[nodiscard]] const std::string& label_of(const CaptionPlace& place) const {
    return manuscripts_[place.manuscript].blocks[place.block].figure;
  }

 private:
  using Key = std::pair<std::uint32_t, std::uint64_t>;
  // One for all blocks of a figure.
  [[nodiscard]] Key key_of(const CaptionPlace& place) const {
    const std::uint32_t group = manuscripts_[place.manuscript].blocks[place.block].group;
    constexpr std::uint64_t kBlocks = 1ULL << 32U;
    return {place.manuscript, group == kNone ? kBlocks | place.block : group};
  }

  const Manuscripts& manuscripts_;
  std::map<FigureKey, std::vector<CaptionPlace>> figures_;
  std::map<Key, std::set<std::string>> machines_;
};

// "An earlier view of the same machine": the nearest picture before that shows it.
constexpr int kFarthestView = 12;

CaptionPlace other_of(const Pictures& pictures, const Claim& claim) {
  const TimeRelation& relation = *claim.relation;
  const CaptionPlace& own = relation.photograph;
  if (!own.is_known()) return pictures.numbered(relation.other_name, claim.manuscript);
  if (relation.other_name == "previous") return pictures.beside(own, -1);
  if (relation.other_name == "next") return pictures.beside(own, 1);
  if (relation.other_name == "beside") {
    const CaptionPlace before = pictures.beside(own, -1);
    const CaptionPlace behind = pictures.beside(own, 1);
    const bool first = pictures.share_machine(own, before);
    if (first == pictures.share_machine(own, behind)) return {};
    return first ? before : behind;
  }
  if (relation.other_name == "same machine") {
    CaptionPlace place = own;
    for (int i = 0; i < kFarthestView && place.is_known(); ++i) {
      place = pictures.beside(place, -1);
      if (pictures.share_machine(own, place)) return place;
    }
    return {};
  }
  return pictures.numbered(relation.other_name, claim.manuscript);
}

// How a value names it: by the label that it bears, where that has a word ("Fig. 8").
std::string name_of(const Pictures& pictures, const TimeRelation& relation) {
  const bool is_numbered = !figure_keys(relation.other_name).empty();
  if (relation.other.is_known()) {
    const std::string& label = pictures.label_of(relation.other);
    const bool has_word = !label.empty() && (label.front() < '0' || label.front() > '9');
    if (has_word || (!label.empty() && !is_numbered)) return label;
  }
  return is_numbered ? relation.other_name : relation.other_name + " photograph";
}

}  // namespace

void resolve_orders_in_time(const Manuscripts& manuscripts, const Ledger& ledger,
                            std::vector<Claim>& claims) {
  const bool has_any = std::any_of(claims.begin(), claims.end(), [](const Claim& claim) {
    return claim.kind == ClaimKind::kOrderInTime;
  });
  if (!has_any) return;
  const Pictures pictures(manuscripts, ledger, claims);
  for (Claim& claim : claims) {
    if (claim.kind != ClaimKind::kOrderInTime) continue;
    TimeRelation& relation = claim.relation.own();
    if (!relation.photograph.is_known()) {
      relation.photograph = pictures.numbered(claim.subject, claim.manuscript);
      if (relation.photograph.is_known()) claim.subject = pictures.label_of(relation.photograph);
    }
    relation.other = other_of(pictures, claim);
    claim.known = relation.other.is_known();
    claim.value += " " + name_of(pictures, relation);
  }
}

}  // namespace tailproof

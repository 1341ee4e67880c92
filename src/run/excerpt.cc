#include "run/excerpt.h"

#include <algorithm>
#include <array>
#include <unordered_map>
#include <utility>

namespace tailproof {

namespace {

/// The claims that a claim names by number.
std::array<std::uint32_t, 3> named_claims(const Claim& claim) {
  return {claim.when.date, claim.event, claim.holder_of_rank};
}

}  // namespace

CaptionBlocks::CaptionBlocks(const Manuscript& manuscript)
    : owner_(manuscript.blocks.size()), next_(manuscript.blocks.size(), kNone) {
  std::unordered_map<std::uint32_t, std::uint32_t> last_of_group;
  for (std::uint32_t b = 0; b < owner_.size(); ++b) {
    owner_[b] = b;
    const std::uint32_t group = manuscript.blocks[b].group;
    if (group == kNone) continue;
    const auto [last, is_first] = last_of_group.try_emplace(group, b);
    if (is_first) continue;
    owner_[b] = owner_[last->second];
    next_[last->second] = b;
    last->second = b;
  }
}

std::vector<BlockPlace> reach_of(const CheckInput& whole, const FirstClaims& first,
                                 const std::vector<CaptionBlocks>& captions,
                                 const BlockPlace& owner) {
  std::vector<BlockPlace> reach;
  const auto add = [&](const BlockPlace& place) {
    if (place.manuscript >= captions.size()) return;
    const CaptionBlocks& blocks = captions[place.manuscript];
    if (place.block >= blocks.count()) return;
    const BlockPlace begin{place.manuscript, blocks.owner(place.block)};
    if (std::find(reach.begin(), reach.end(), begin) != reach.end()) return;
    for (std::uint32_t b = begin.block; b != kNone; b = blocks.next(b)) {
      reach.push_back({place.manuscript, b});
    }
  };
  add(owner);
  for (std::size_t i = 0; i < reach.size(); ++i) {
    const auto [m, b] = reach[i];
    for (std::uint32_t c = first[m][b]; c < first[m][b + 1]; ++c) {
      const Claim& claim = whole.claims[c];
      for (const std::uint32_t other : named_claims(claim)) {
        if (other >= whole.claims.size()) continue;
        add({whole.claims[other].manuscript, whole.claims[other].block});
      }
      for (const CaptionPlace& place : {claim.relation->photograph, claim.relation->other}) {
        if (place.is_known()) add({place.manuscript, place.block});
      }
    }
  }
  return reach;
}

Excerpt::Excerpt(const CheckInput& whole, const FirstClaims& first, std::vector<BlockPlace> places)
    : places_(std::move(places)), input_(whole) {
  std::sort(places_.begin(), places_.end());
  places_.erase(std::unique(places_.begin(), places_.end()), places_.end());
  manuscripts_.resize(whole.manuscripts.size());
  for (std::uint32_t m = 0; m < manuscripts_.size(); ++m) {
    manuscripts_[m].path = whole.manuscripts[m].path;
    const auto at = std::lower_bound(places_.begin(), places_.end(), BlockPlace{m, 0});
    first_place_.push_back(static_cast<std::uint32_t>(at - places_.begin()));
  }
  for (const auto& [m, b] : places_) {
    Manuscript& own = manuscripts_[m];
    own.blocks.push_back(whole.manuscripts[m].blocks[b]);
    std::uint32_t& table = own.blocks.back().table;
    if (table != kNone) {
      own.tables.push_back(whole.manuscripts[m].tables[table]);
      table = static_cast<std::uint32_t>(own.tables.size() - 1);
    }
    for (std::uint32_t c = first[m][b]; c < first[m][b + 1]; ++c) claims_of_.push_back(c);
  }
  claims_.reserve(claims_of_.size());
  const auto own_claim = [&](std::uint32_t& claim) {
    if (claim == kNone) return;
    const auto at = std::lower_bound(claims_of_.begin(), claims_of_.end(), claim);
    const bool has_it = at != claims_of_.end() && *at == claim;
    claim = has_it ? static_cast<std::uint32_t>(at - claims_of_.begin()) : kNone;
  };
  const auto own_place = [&](CaptionPlace& place) {
    if (place.is_known()) place.block = own_block({place.manuscript, place.block});
  };
  const auto has_places = [](const TimeRelation& relation) {
    return relation.photograph.is_known() || relation.other.is_known();
  };
  for (const std::uint32_t c : claims_of_) {
    Claim& claim = claims_.emplace_back(whole.claims[c]);
    claim.block = own_block({claim.manuscript, claim.block});
    own_claim(claim.when.date);
    own_claim(claim.event);
    own_claim(claim.holder_of_rank);
    if (!has_places(*claim.relation)) continue;
    own_place(claim.relation.own().photograph);
    own_place(claim.relation.own().other);
  }
  input_.manuscripts = manuscripts_;
  input_.claims = claims_;
  input_.photographs = nullptr;
  input_.captions = std::make_shared<const Captions>(input_.manuscripts, input_.claims);
}

BlockPlace Excerpt::whole_place(const BlockPlace& place) const {
  return places_[first_place_[place.manuscript] + place.block];
}

std::uint32_t Excerpt::own_block(const BlockPlace& place) const {
  const auto at = std::lower_bound(places_.begin(), places_.end(), place);
  if (at == places_.end() || *at != place) return kNone;
  return static_cast<std::uint32_t>(at - places_.begin()) - first_place_[place.manuscript];
}

}  // namespace tailproof

#include "mentions/dead_ends.h"

namespace tailproof {
namespace {

constexpr std::size_t kMostEdges = 400000;

std::uint64_t key_of(std::uint32_t node, std::uint32_t edge) {
  return (std::uint64_t{node} << 32U) | edge;
}

}  // namespace

const DeadEnds::Place* DeadEnds::find(std::uint32_t node, std::uint32_t edge) const {
  const std::uint64_t key = key_of(node, edge);
  for (std::size_t at = place_of(key); edges_[at].key != 0; at = (at + 1) & (edges_.size() - 1)) {
    if (edges_[at].key == key) return &edges_[at].to;
  }
  return nullptr;
}

void DeadEnds::leave_out(std::string_view text, std::vector<Token>& tokens) const {
  for (std::size_t t = 0; t < tokens.size(); ++t) {
    Token& token = tokens[t];
    if (token.kinds == 0 || token.word == nullptr || token.word->number >= begins_.size()) continue;
    const Place* place = &begins_[token.word->number];
    token.kinds &= ~place->dead;
    for (std::size_t next = t + 1; place->node != 0 && token.kinds != 0 && next < tokens.size();
         ++next) {
      place = find(place->node, edge_to(text, tokens, next));
      if (place == nullptr) break;
      token.kinds &= ~place->dead;
    }
  }
}

void DeadEnds::add(KindBits kind, std::string_view text, const std::vector<Token>& tokens,
                   std::size_t first, std::size_t last) {
  if (kind == kSharedKind || count_ > kMostEdges || tokens[first].word == nullptr) return;
  for (std::size_t t = first + 1; t <= last; ++t) {
    if (edge_to(text, tokens, t) == kNoEdge) return;
  }
  const std::uint32_t number = tokens[first].word->number;
  if (number >= begins_.size()) begins_.resize(2 * std::size_t{number} + 1);
  Place* place = &begins_[number];
  for (std::size_t t = first + 1; t <= last; ++t) {
    if (place->node == 0) place->node = ++nodes_;
    place = &reach(place->node, edge_to(text, tokens, t));
  }
  place->dead |= kind;
}

DeadEnds::Place& DeadEnds::reach(std::uint32_t node, std::uint32_t edge) {
  if (2 * (count_ + 1) > edges_.size()) grow();
  const std::uint64_t key = key_of(node, edge);
  std::size_t at = place_of(key);
  while (edges_[at].key != 0 && edges_[at].key != key) at = (at + 1) & (edges_.size() - 1);
  if (edges_[at].key == 0) {
    edges_[at].key = key;
    ++count_;
  }
  return edges_[at].to;
}

void DeadEnds::grow() {
  std::vector<Edge> wider(2 * edges_.size());
  wider.swap(edges_);
  for (const Edge& edge : wider) {
    if (edge.key == 0) continue;
    std::size_t at = place_of(edge.key);
    while (edges_[at].key != 0) at = (at + 1) & (edges_.size() - 1);
    edges_[at] = edge;
  }
}

}  // namespace tailproof

#include "mentions/phrase_index.h"

#include <algorithm>

#include "grammars/fold.h"

namespace tailproof {
namespace {

constexpr std::uint32_t kNoNode = 0;  // the root is never reached by a step

bool is_joiner(std::string_view mark) {
  return mark == "." || mark == "-" || mark == ":" || mark == "+" || mark == "/" ||
         mark == "\xC2\xB7" || mark == "\xE2\x80\x93" || mark == "'" || mark == "\xE2\x80\x99";
}

}  // namespace

std::string folded_word(std::string_view text, const Token& token) {
  std::string word = fold(text.substr(token.begin, token.end - token.begin));
  if (word.size() > 2 && word.ends_with("'s")) word.resize(word.size() - 2);
  return word;
}

std::uint32_t PhraseIndex::word_id(std::string_view folded) const {
  const auto found = words_.find(folded);
  return found == words_.end() ? 0 : found->second;
}

std::uint32_t PhraseIndex::step(std::uint32_t node, std::uint32_t word) const {
  if (word == 0) return kNoNode;
  if (node == 0) return from_root_[word];
  const auto found = edges_.find((std::uint64_t{node} << 32) | word);
  return found == edges_.end() ? kNoNode : found->second;
}

void PhraseIndex::add(std::string_view phrase, std::uint32_t payload) {
  static const Grammars kNoGrammars;
  std::uint32_t node = 0;
  for (const Token& token : tokenize(phrase, kNoGrammars)) {
    if (token.kind == TokenKind::kMark) continue;
    const std::string word = folded_word(phrase, token);
    const auto id =
        words_.try_emplace(word, static_cast<std::uint32_t>(words_.size() + 1)).first->second;
    const auto [edge, is_new] = edges_.try_emplace((std::uint64_t{node} << 32) | id,
                                                   static_cast<std::uint32_t>(nodes_.size()));
    from_root_.resize(words_.size() + 1, kNoNode);
    if (node == 0) from_root_[id] = edge->second;
    if (is_new) nodes_.emplace_back();
    node = edge->second;
  }
  if (node != 0) nodes_[node].payloads.push_back(payload);
}

void PhraseIndex::hits_at(std::string_view text, const std::vector<Token>& tokens,
                          std::uint32_t first, std::vector<Hit>& hits) const {
  hits.clear();
  std::uint32_t node = 0;
  std::uint32_t at = first;
  while (at < tokens.size()) {
    const Token& token = tokens[at];
    if (token.kind == TokenKind::kMark) {
      // One joining mark, close to the word before it, may stand between the words of a phrase.
      if (node == 0 || at + 1 >= tokens.size() || tokens[at + 1].kind == TokenKind::kMark) break;
      const auto mark = text.substr(token.begin, token.end - token.begin);
      if (token.begin != tokens[at - 1].end || !is_joiner(mark)) break;
      ++at;
      continue;
    }
    const FoldedWord folded(text.substr(token.begin, token.end - token.begin));
    std::string_view word = folded.view();
    if (word.size() > 2 && word.ends_with("'s")) word.remove_suffix(2);
    std::uint32_t next = step(node, word_id(word));
    bool plural = false;
    if (next == kNoNode && word.size() > 2 && word.back() == 's') {
      next = step(node, word_id(word.substr(0, word.size() - 1)));
      if (next == kNoNode && word.ends_with("es")) {
        next = step(node, word_id(word.substr(0, word.size() - 2)));
      }
      plural = next != kNoNode;
      if (plural && nodes_[next].payloads.empty()) plural = false;
    }
    if (next == kNoNode) break;
    node = next;
    ++at;
    if (!nodes_[node].payloads.empty()) hits.push_back({first, at, &nodes_[node].payloads, plural});
    if (plural) break;
  }
  std::reverse(hits.begin(), hits.end());
  if (hits.size() > 8) hits.resize(8);
}

}  // namespace tailproof

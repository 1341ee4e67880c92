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

/// Calls `take` with each folded word of a name or phrase, without marks and possessives.
template <typename Take>
void for_each_word(std::string_view phrase, const Take& take) {
  for (std::uint32_t at = 0; at < phrase.size();) {
    if (is_blank(phrase[at])) {
      ++at;
      continue;
    }
    const WordShape shape = shape_at(phrase, at);
    if (shape.kind != TokenKind::kMark) {
      const FoldedWord folded(phrase.substr(at, shape.end - at));
      take(bare_of_possessive(folded.view()));
    }
    at = shape.end;
  }
}

}  // namespace

std::string_view bare_of_possessive(std::string_view folded) {
  if (folded.size() > 2 && folded.ends_with("'s")) folded.remove_suffix(2);
  return folded;
}

std::vector<std::string> words_of_phrase(std::string_view phrase) {
  std::vector<std::string> words;
  for_each_word(phrase, [&](std::string_view word) { words.emplace_back(word); });
  return words;
}

std::uint32_t EdgeTable::add(std::uint32_t node, std::uint32_t word, std::uint32_t fresh) {
  if (const std::uint32_t known = find(node, word); known != 0) return known;
  if (2 * ++count_ > edges_.size()) grow();
  const std::uint64_t key = (std::uint64_t{node} << 32U) | word;
  std::size_t at = place_of(key);
  while (edges_[at].to != 0) at = (at + 1) & (edges_.size() - 1);
  edges_[at] = {key, fresh};
  return fresh;
}

void EdgeTable::grow() {
  std::vector<Edge> before(2 * edges_.size());
  before.swap(edges_);
  for (const Edge& edge : before) {
    if (edge.to == 0) continue;
    std::size_t at = place_of(edge.key);
    while (edges_[at].to != 0) at = (at + 1) & (edges_.size() - 1);
    edges_[at] = edge;
  }
}

std::uint32_t PhraseIndex::word_id(std::string_view folded) const {
  const auto found = words_.find(folded);
  return found == words_.end() ? 0 : found->second;
}

std::uint32_t PhraseIndex::step(std::uint32_t node, std::uint32_t word) const {
  if (word == 0) return kNoNode;
  if (node == 0) return from_root_[word];
  return edges_.find(node, word);
}

void PhraseIndex::add(std::string_view phrase, std::uint32_t payload) {
  std::uint32_t node = 0;
  for_each_word(phrase, [&](std::string_view word) {
    std::uint32_t id = word_id(word);
    if (id == 0) {
      id = static_cast<std::uint32_t>(words_.size() + 1);
      words_.emplace(word, id);
      from_root_.resize(words_.size() + 1, kNoNode);
    }
    const auto fresh = static_cast<std::uint32_t>(nodes_.size());
    std::uint32_t next = from_root_[id];
    if (node != 0) {
      next = edges_.add(node, id, fresh);
    } else if (next == kNoNode) {
      from_root_[id] = next = fresh;
    }
    nodes_[node].goes_on = true;
    if (next == fresh) nodes_.emplace_back();
    node = next;
  });
  if (node != 0) nodes_[node].payloads.push_back(payload);
}

std::array<std::uint32_t, 3> PhraseIndex::numbers_of(std::string_view folded) const {
  const std::string_view word = bare_of_possessive(folded);
  std::array<std::uint32_t, 3> numbers{word_id(word), 0, 0};
  if (word.size() > 2 && word.back() == 's') {
    numbers[1] = word_id(word.substr(0, word.size() - 1));
    if (word.ends_with("es")) numbers[2] = word_id(word.substr(0, word.size() - 2));
    // "Wherries" of a Wherry.
    constexpr std::size_t kEnding = 3;
    if (numbers[2] == 0 && word.size() > kEnding + 1 && word.ends_with("ies"))
      numbers[2] = word_id(std::string(word.substr(0, word.size() - kEnding)) + "y");
  }
  return numbers;
}

bool PhraseIndex::begins_any(const std::array<std::uint32_t, 3>& numbers) const {
  return std::any_of(numbers.begin(), numbers.end(), [this](std::uint32_t number) {
    return number != 0 && from_root_[number] != kNoNode;
  });
}

void PhraseIndex::hits_at(std::string_view text, const std::vector<Token>& tokens,
                          std::uint32_t first, std::vector<Hit>& hits) const {
  hits.clear();
  if (tokens[first].word != nullptr && !tokens[first].word->begins_phrase) return;
  std::uint32_t node = 0;
  std::uint32_t at = first;
  while (at < tokens.size()) {
    const Token& token = tokens[at];
    if (token.kind == TokenKind::kMark) {
      // One joining mark, close to the word before it, may stand between the words of a phrase.
      if (node == 0 || at + 1 >= tokens.size()) break;
      const auto mark = text.substr(token.begin, token.end - token.begin);
      if (token.begin != tokens[at - 1].end || !is_joiner(mark)) break;
      ++at;
      if (tokens[at].kind != TokenKind::kMark) continue;
      // "Capt.-Lt": the full point of an abbreviation and a hyphen.
      const bool is_pair = mark == "." && at + 1 < tokens.size() && tokens[at].begin == token.end &&
                           text[tokens[at].begin] == '-' &&
                           tokens[at + 1].begin == tokens[at].end &&
                           tokens[at + 1].kind != TokenKind::kMark;
      if (!is_pair) break;
      ++at;
      continue;
    }
    const auto numbers =
        token.word != nullptr
            ? token.word->in_phrases
            : numbers_of(FoldedWord(text.substr(token.begin, token.end - token.begin)).view());
    std::uint32_t next = step(node, numbers[0]);
    bool plural = false;
    if (next == kNoNode && (numbers[1] | numbers[2]) != 0) {
      next = step(node, numbers[1]);
      if (next == kNoNode) next = step(node, numbers[2]);
      plural = next != kNoNode && !nodes_[next].payloads.empty();
    }
    if (next == kNoNode) break;
    node = next;
    ++at;
    if (!nodes_[node].payloads.empty()) hits.push_back({first, at, &nodes_[node].payloads, plural});
    if (plural || !nodes_[node].goes_on) break;
  }
  std::reverse(hits.begin(), hits.end());
  if (hits.size() > 8) hits.resize(8);
}

}  // namespace tailproof

#include "mentions/pattern_matcher.h"

#include <re2/re2.h>

#include <algorithm>

#include "grammars/small_letters.h"

namespace tailproof {
namespace {

// How far a pattern may look ahead of its first token: bounds the cost of a place whatever the
// block's length.
constexpr std::size_t kReachBytes = 320;
// Past so many different phrases all are forgotten.
constexpr std::size_t kMostKnown = 200000;

bool is_word_byte(char c) {
  return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_';
}

const MatchedPhrase kNothing;

constexpr std::uint32_t kRoots = 3;

// Whether the text itself has capitals where case counts for a pattern in small letters, which has
// read the same text in `small`.
bool has_capitals(const CompiledPattern& compiled, const std::vector<re2::StringPiece>& groups,
                  std::string_view small, std::string_view text) {
  return std::any_of(compiled.cased.begin(), compiled.cased.end(), [&](std::size_t i) {
    if (groups[i].empty()) return false;
    const auto first = static_cast<std::size_t>(groups[i].data() - small.data());
    return text.substr(first, groups[i].size()) != small.substr(first, groups[i].size());
  });
}

}  // namespace

Spelling PatternMatch::text_of(ListName slot, std::string_view block_text) const {
  for (const MatchedPhrase::Slot& held : phrase->slots) {
    if (held.name == slot.number() && held.last > held.first)
      return block_text.substr(begin + held.first, held.last - held.first);
  }
  return {};
}

Spelling PatternMatch::value_of(ListName slot, std::string_view block_text) const {
  for (const MatchedPhrase::Slot& held : phrase->slots) {
    if (held.name != slot.number()) continue;
    if (!held.is_text) return held.value;
    return block_text.substr(begin + held.first, held.last - held.first);
  }
  return {};
}

PatternMatcher::PatternMatcher(const std::vector<const Pattern*>& patterns, DeadEnds* dead_ends)
    : patterns_(patterns), dead_ends_(dead_ends) {
  for (const Pattern* pattern : patterns_) {
    starts_ |= pattern->starts;
    kinds_ |= pattern->kind_bit;
  }
}

const std::vector<PatternMatch>& PatternMatcher::match(std::string_view text,
                                                       const std::vector<Token>& tokens) {
  matches_.clear();
  loose_.clear();
  if (known_.size() > kMostKnown) {
    known_.clear();
    paths_ = {};
    begins_.clear();
    decided_.assign({nullptr});
    ++generation_;
  }
  std::uint32_t free_from = 0;
  const KindBits kinds = kinds_;
  for (const Token& token : tokens) {
    if ((token.kinds & kinds) == 0 || token.begin < free_from) continue;
    const auto first = static_cast<std::uint32_t>(&token - tokens.data());
    const MatchedPhrase& phrase = phrase_at(text, tokens, first);
    if (phrase.pattern == nullptr) continue;
    free_from = token.begin + phrase.length;
    std::uint32_t last = first;
    while (last < tokens.size() && tokens[last].begin < free_from) ++last;
    matches_.push_back({phrase.pattern, token.begin, free_from, first, last, &phrase});
  }
  return matches_;
}

const MatchedPhrase* PatternMatcher::on_path(std::uint32_t root, std::string_view text,
                                             const std::vector<Token>& tokens,
                                             std::size_t first) const {
  const std::size_t begin = std::size_t{kRoots} * tokens[first].word->number + root;
  if (begin >= begins_.size()) return nullptr;
  std::uint32_t node = begins_[begin];
  for (std::size_t t = first + 1; node != 0; ++t) {
    if (decided_[node] != nullptr) return decided_[node];
    if (t == tokens.size()) return nullptr;
    node = paths_.find(node, edge_to(text, tokens, t));
  }
  return nullptr;
}

void PatternMatcher::keep_path(std::uint32_t root, std::string_view text,
                               const std::vector<Token>& tokens, std::size_t first,
                               std::size_t last, const MatchedPhrase& phrase) {
  constexpr std::size_t kMostNodes = 100000;
  if (decided_.size() > kMostNodes) return;
  for (std::size_t t = first + 1; t <= last; ++t) {
    if (edge_to(text, tokens, t) == kNoEdge) return;
  }
  const std::size_t begin = std::size_t{kRoots} * tokens[first].word->number + root;
  if (begin >= begins_.size()) begins_.resize(2 * begin + 1, 0);
  if (begins_[begin] == 0) {
    begins_[begin] = static_cast<std::uint32_t>(decided_.size());
    decided_.push_back(nullptr);
  }
  std::uint32_t node = begins_[begin];
  for (std::size_t t = first + 1; t <= last; ++t) {
    const auto fresh = static_cast<std::uint32_t>(decided_.size());
    node = paths_.add(node, edge_to(text, tokens, t), fresh);
    if (node == fresh) decided_.push_back(nullptr);
  }
  decided_[node] = &phrase;
}

const MatchedPhrase& PatternMatcher::phrase_at(std::string_view text,
                                               const std::vector<Token>& tokens,
                                               std::size_t first) {
  const Token& token = tokens[first];
  const char before = token.begin == 0 ? '^' : is_word_byte(text[token.begin - 1]) ? 'w' : ' ';
  const bool has_path = token.word != nullptr && token.word->starts == token.starts;
  const std::uint32_t root = before == '^' ? 0 : before == 'w' ? 1 : 2;
  if (has_path) {
    if (const MatchedPhrase* known = on_path(root, text, tokens, first)) return *known;
  }
  if (sieve_ == nullptr) {
    std::vector<std::string_view> sources;
    for (const Pattern* pattern : patterns_) sources.emplace_back(pattern->source);
    sieve_ = std::make_unique<PatternSieve>(sources);
  }
  const auto keep_loose = [&](MatchedPhrase phrase) -> const MatchedPhrase& {
    if (phrase.pattern == nullptr) return kNothing;
    return loose_.emplace_back(std::move(phrase));
  };
  if (!sieve_->is_whole()) return keep_loose(tried(text, token, nullptr));
  const std::size_t limit = std::min(text.size(), token.begin + kReachBytes);
  const PatternSieve::Look look = sieve_->look(text, token.begin, limit);
  const auto kept = [&](const MatchedPhrase& phrase) -> const MatchedPhrase& {
    constexpr std::size_t kLongest = 8;
    if (!has_path || !look.is_decided) return phrase;
    std::size_t last = first;  // token in which the look ended
    while (last < tokens.size() && tokens[last].end < look.reach) ++last;
    if (last == tokens.size() || last - first >= kLongest) return phrase;
    if (&phrase != &kNothing) {
      keep_path(root, text, tokens, first, last, phrase);
    } else if (dead_ends_ != nullptr) {
      dead_ends_->add(kinds_, text, tokens, first, last);
    }
    return phrase;
  };
  if (look.may_match.none()) return kept(kNothing);
  const bool at_end = !look.is_decided && limit == text.size();
  if (!look.is_decided && !at_end) return keep_loose(tried(text, token, &look.may_match));
  // All that the match depends on: the bytes read, what stands before and whether anything follows,
  // and the patterns that may begin with this token.
  key_.clear();
  key_ += before;
  key_ += at_end ? '$' : ' ';
  const StartBits starts = token.starts & starts_;
  key_.append(reinterpret_cast<const char*>(&starts), sizeof starts);
  key_.append(text.substr(token.begin, look.reach - token.begin));
  if (const auto found = known_.find(std::string_view(key_)); found != known_.end())
    return kept(found->second);
  MatchedPhrase phrase = tried(text, token, &look.may_match);
  phrase.number = static_cast<std::uint32_t>(known_.size());
  // Its path is kept when it is met again: most phrases are met once.
  return known_.emplace(key_, std::move(phrase)).first->second;
}

// The longest match of any pattern, of equally long ones that of the earliest.
MatchedPhrase PatternMatcher::tried(std::string_view text, const Token& token,
                                    const PatternSieve::Mask* may_match) {
  MatchedPhrase phrase;
  const std::size_t limit = std::min(text.size(), token.begin + kReachBytes);
  const PatternSieve::Lengths lengths =
      may_match == nullptr ? PatternSieve::Lengths{} : sieve_->longest(text, token.begin, limit);
  const auto longest = [&](std::size_t i) { return may_match == nullptr ? limit : lengths[i]; };
  std::vector<std::size_t> open;  // those that may match
  for (std::size_t i = 0; i < patterns_.size(); ++i) {
    if ((patterns_[i]->starts & token.starts).none()) continue;
    if (may_match == nullptr || (*may_match)[i]) open.push_back(i);
  }
  if (open.empty()) return phrase;
  // The one that may reach furthest first: mostly it does, and no other need be compiled and tried.
  std::sort(open.begin(), open.end(), [&](std::size_t a, std::size_t b) {
    return longest(a) != longest(b) ? longest(a) > longest(b) : a < b;
  });
  std::size_t best = patterns_.size();
  std::vector<re2::StringPiece> groups, tried_groups;
  // The text that any pattern may read, and a byte around it by which they tell where words end.
  const std::size_t from = token.begin == 0 ? 0 : token.begin - 1;
  const std::size_t reach = std::min(limit, token.begin + longest(open.front()));
  const std::string_view told = text.substr(from, reach + 2 - from);
  const bool has_small = write_small(told, small_);
  const char* origin = nullptr;  // where the groups have the token's first byte
  const CompiledPattern* taken = nullptr;
  for (const std::size_t i : open) {
    if (longest(i) < phrase.length) break;
    if (longest(i) == phrase.length && i > best) continue;
    // With its groups at once: a phrase is asked for so rarely that a second pass, and the
    // automaton that RE2 would make for a first one without groups, cost more than they save.
    const CompiledPattern* compiled = has_small ? patterns_[i]->compiled_small(small_) : nullptr;
    std::string_view read = compiled != nullptr ? std::string_view(small_) : told;
    if (compiled == nullptr) compiled = &patterns_[i]->compiled();
    // RE2 clears memory for each byte that it may read: one behind the longest match is enough.
    const std::size_t end = std::min<std::size_t>(limit, token.begin + longest(i) + 1);
    const auto matches = [&] {
      tried_groups.assign(compiled->slots.size() + 1, {});
      return compiled->re->Match(re2::StringPiece(read.data(), read.size()), token.begin - from,
                                 end - from, RE2::ANCHOR_START, tried_groups.data(),
                                 static_cast<int>(tried_groups.size()));
    };
    if (!matches()) continue;
    if (has_capitals(*compiled, tried_groups, read, told)) {
      compiled = &patterns_[i]->compiled();
      read = told;
      if (!matches()) continue;
    }
    const auto length = static_cast<std::uint32_t>(tried_groups[0].size());
    if (length > phrase.length || (length > 0 && length == phrase.length && i < best)) {
      best = i;
      phrase.pattern = patterns_[i];
      phrase.length = length;
      origin = read.data() + (token.begin - from);
      taken = compiled;
      groups.swap(tried_groups);
    }
  }
  if (phrase.pattern == nullptr) return phrase;
  const CompiledPattern& compiled = *taken;
  for (std::size_t i = 1; i < groups.size(); ++i) {
    const bool is_cased =
        std::find(compiled.cased.begin(), compiled.cased.end(), i) != compiled.cased.end();
    if (groups[i].empty() || is_cased) continue;
    MatchedPhrase::Slot& slot = phrase.slots.emplace_back();
    slot.name = ListName::number_of(compiled.slots[i - 1]);
    slot.first = static_cast<std::uint32_t>(groups[i].data() - origin);
    slot.last = slot.first + static_cast<std::uint32_t>(groups[i].size());
    const WordList* list = compiled.slot_lists[i - 1];
    slot.is_text = list == nullptr;
    if (list != nullptr)
      slot.value = list->value_of(text.substr(token.begin + slot.first, groups[i].size()));
  }
  for (const auto& [name, value] : phrase.pattern->set) {
    MatchedPhrase::Slot& slot = phrase.slots.emplace_back();
    slot.name = ListName::number_of(name);
    slot.value = std::string_view(value);
  }
  return phrase;
}

}  // namespace tailproof

// The mentions of a block by their kind, by the words that they cover, and its cues by the word
// list that they are of: a question about one kind or list looks at no other mention.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <iterator>
#include <span>
#include <utility>
#include <vector>

#include "grammars/list_name.h"
#include "mentions/mention.h"
#include "tailproof/manuscript.h"

namespace tailproof {

using CueName = ListName;

/// Some mentions of a block, in their order.
class MentionsAt {
 public:
  class Iterator {
   public:
    using iterator_category = std::forward_iterator_tag;
    using value_type = Mention;
    using difference_type = std::ptrdiff_t;
    using pointer = const Mention*;
    using reference = const Mention&;

    Iterator() = default;
    Iterator(const Mention* mentions, const std::uint32_t* at) : mentions_(mentions), at_(at) {}
    const Mention& operator*() const { return mentions_[*at_]; }
    Iterator& operator++() {
      ++at_;
      return *this;
    }
    Iterator operator++(int) {
      const Iterator before = *this;
      ++at_;
      return before;
    }
    friend bool operator==(const Iterator& a, const Iterator& b) { return a.at_ == b.at_; }

   private:
    const Mention* mentions_ = nullptr;
    const std::uint32_t* at_ = nullptr;
  };

  MentionsAt(const std::vector<Mention>& mentions, std::span<const std::uint32_t> at)
      : mentions_(mentions.data()), at_(at) {}
  [[nodiscard]] Iterator begin() const { return {mentions_, at_.data()}; }
  [[nodiscard]] Iterator end() const { return {mentions_, at_.data() + at_.size()}; }
  [[nodiscard]] bool empty() const { return at_.empty(); }

 private:
  const Mention* mentions_;
  std::span<const std::uint32_t> at_;
};

class MentionIndex {
 public:
  /// Takes in the mentions of a block, sorted by place, and the number of its tokens.
  void assign(const std::vector<Mention>& mentions, std::size_t token_count) {
    lay_out(mentions);
    names_.assign(token_count, kNone);
    for (std::uint32_t i = 0; i < mentions.size(); ++i) {
      const Mention& mention = mentions[i];
      if (mention.kind == MentionKind::kCue) {
        std::uint32_t& at = ends_[kKinds + bucket_of(mention.cue)];
        places_[at] = i;
        lists_[at++] = mention.cue;
        continue;
      }
      places_[ends_[static_cast<std::size_t>(mention.kind)]++] = i;
      for (std::uint32_t t = mention.first; t < mention.last; ++t) {
        if (names_[t] == kNone) names_[t] = i;
      }
    }
    for (std::size_t part = kKinds; part < kParts; ++part) sort_bucket(part);
  }

  /// Mentions of the kind, in their order; none for cues.
  [[nodiscard]] std::span<const std::uint32_t> of(MentionKind kind) const {
    return kind == MentionKind::kCue ? std::span<const std::uint32_t>{}
                                     : part(static_cast<std::size_t>(kind));
  }

  /// Mentions that are cues of the list, in their order.
  [[nodiscard]] std::span<const std::uint32_t> of(CueName list) const {
    const std::uint64_t wanted = list.number();
    const std::size_t bucket = kKinds + bucket_of(wanted);
    std::uint32_t begin = begin_of(bucket);
    const std::uint32_t last = ends_[bucket];
    while (begin != last && lists_[begin] != wanted) ++begin;
    std::uint32_t end = begin;
    while (end != last && lists_[end] == wanted) ++end;
    return std::span(places_).subspan(begin, end - begin);
  }

  /// The first mention that covers the token and is no cue.
  [[nodiscard]] std::uint32_t name_over(std::uint32_t token) const {
    return token < names_.size() ? names_[token] : kNone;
  }

 private:
  static constexpr std::size_t kKinds = static_cast<std::size_t>(MentionKind::kCue);
  static constexpr std::size_t kBuckets = 32;
  static constexpr std::size_t kParts = kKinds + kBuckets;

  static std::size_t bucket_of(std::uint64_t list) { return list % kBuckets; }
  static std::size_t part_of(const Mention& mention) {
    return mention.kind == MentionKind::kCue ? kKinds + bucket_of(mention.cue)
                                             : static_cast<std::size_t>(mention.kind);
  }
  [[nodiscard]] std::uint32_t begin_of(std::size_t part) const {
    return part == 0 ? 0 : ends_[part - 1];
  }
  [[nodiscard]] std::span<const std::uint32_t> part(std::size_t number) const {
    const std::uint32_t begin = begin_of(number);
    return std::span(places_).subspan(begin, ends_[number] - begin);
  }

  // Each part's room: `ends_` holds where it begins until it is filled.
  void lay_out(const std::vector<Mention>& mentions) {
    ends_.fill(0);
    for (const Mention& mention : mentions) ++ends_[part_of(mention)];
    std::uint32_t next = 0;
    for (std::uint32_t& end : ends_) {
      const std::uint32_t count = end;
      end = next;
      next += count;
    }
    places_.resize(mentions.size());
    lists_.resize(mentions.size());
  }

  // Cues of one list side by side, in their order; a bucket holds few.
  void sort_bucket(std::size_t bucket) {
    const std::uint32_t begin = begin_of(bucket);
    for (std::uint32_t i = begin + 1; i < ends_[bucket]; ++i) {
      for (std::uint32_t at = i; at > begin && lists_[at] < lists_[at - 1]; --at) {
        std::swap(lists_[at], lists_[at - 1]);
        std::swap(places_[at], places_[at - 1]);
      }
    }
  }

  std::array<std::uint32_t, kParts> ends_{};  // in `places_`: kinds, then buckets of lists
  std::vector<std::uint32_t> places_;         // mentions
  std::vector<std::uint64_t> lists_;          // of cues, as in `places_`
  std::vector<std::uint32_t> names_;          // by token
};

}  // namespace tailproof

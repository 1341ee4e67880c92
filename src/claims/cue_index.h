// The cues of a block by the word list that they are of, so that a question about one list does not
// look at the cues of all others.
#pragma once

#include <algorithm>
#include <cstdint>
#include <span>
#include <vector>

#include "grammars/list_name.h"
#include "mentions/mention.h"

namespace tailproof {

using CueName = ListName;

class CueIndex {
 public:
  /// Takes in the cues among the mentions of a block.
  void assign(const std::vector<Mention>& mentions) {
    names_.clear();
    for (std::uint32_t i = 0; i < mentions.size(); ++i) {
      if (mentions[i].kind != MentionKind::kCue) continue;
      names_.push_back({mentions[i].cue, i});
    }
    std::sort(names_.begin(), names_.end(), [](const Named& a, const Named& b) {
      return a.list != b.list ? a.list < b.list : a.mention < b.mention;
    });
    mentions_.clear();
    present_ = 0;
    for (const Named& named : names_) {
      mentions_.push_back(named.mention);
      present_ |= std::uint64_t{1} << (named.list & 63U);
    }
  }

  /// Mentions that are cues of the list, in their order.
  [[nodiscard]] std::span<const std::uint32_t> of(CueName list) const {
    const std::uint64_t wanted = list.number();
    if ((present_ >> (wanted & 63U) & 1U) == 0) return {};
    const auto begin =
        std::lower_bound(names_.begin(), names_.end(), wanted,
                         [](const Named& named, std::uint64_t name) { return named.list < name; });
    auto end = begin;
    while (end != names_.end() && end->list == wanted) ++end;
    return std::span(mentions_).subspan(static_cast<std::size_t>(begin - names_.begin()),
                                        static_cast<std::size_t>(end - begin));
  }

 private:
  struct Named {
    std::uint64_t list = 0;
    std::uint32_t mention = 0;
  };
  std::vector<Named> names_;
  std::vector<std::uint32_t> mentions_;  // as in `names_`
  std::uint64_t present_ = 0;            // a bit for each list, shared by some
};

}  // namespace tailproof

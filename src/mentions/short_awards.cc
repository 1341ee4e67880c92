// An award by the end of its name, as people speak of it: "got his Cross in May", "was given the
// Service Medal".
#include <algorithm>

#include "grammars/fold.h"
#include "mentions/finder.h"

namespace tailproof {

// Of the capital words behind an article or a possessive, where somebody is said to get or to have
// them: a cross may be at a road, and a star in the sky.
void BlockFinder::find_short_awards() {
  constexpr std::uint32_t kReach = 5;
  const auto& tokens = result_.tokens;
  const auto count = static_cast<std::uint32_t>(tokens.size());
  const auto is_free_capital = [&](std::uint32_t t) {
    return t < count && tokens[t].kind == TokenKind::kWord && tokens[t].capital &&
           !tokens[t].sentence_start && !has_other_name(t) && person_at(t) == nullptr;
  };
  const auto is_got = [&](std::uint32_t article) {
    for (std::uint32_t t = article; t-- > 0 && article - t <= kReach;) {
      if (tokens[t].kind == TokenKind::kMark) return false;
      if (is_in("award_having", t)) return true;
      if (tokens[t + 1].sentence_start) return false;
    }
    return false;
  };
  for (std::uint32_t t = 1; t < count; ++t) {
    if (!is_free_capital(t) || !is_in("award_article", t - 1) || !is_got(t - 1)) continue;
    std::uint32_t last = t + 1;
    while (is_free_capital(last)) ++last;
    const std::string told =
        " " + fold(text_.substr(tokens[t].begin, tokens[last - 1].end - tokens[t].begin));
    std::vector<std::string> keys;
    for (const Award& award : lexicon_.ledger().awards()) {
      const std::string name = fold(award.award);
      const bool is_bar = name.find(" to ") != std::string::npos;  // "Bar to the Cross"
      if (!is_bar && name.size() > told.size() && name.ends_with(told)) keys.push_back(award.award);
    }
    if (keys.empty()) continue;
    Mention& mention =
        add_tokens(MentionKind::kAward, tokens[t].begin, tokens[last - 1].end, t, last);
    mention.value = memory_.keep(keys.front());
    mention.role = "short";
    if (keys.size() > 1) mention.readings = std::move(keys);
    t = last;
  }
}

}  // namespace tailproof

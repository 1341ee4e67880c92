#include "mentions/event_words.h"

#include <string>
#include <utility>

namespace tailproof {
namespace {

constexpr std::pair<std::string_view, EventUse> kUses[] = {
    {"noun", kEventNoun},     {"object", kEventObject}, {"opener", kEventOpener},
    {"unit", kEventUnit},     {"state", kEventState},   {"near", kEventNear},
    {"mutual", kEventMutual},
};

// The piece of `text` up to the mark, which is cut off.
std::string_view cut(std::string_view& text, char mark) {
  const std::size_t end = text.find(mark);
  const std::string_view piece = text.substr(0, end);
  text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  return piece;
}

}  // namespace

void settle_event_words(Mention& mention) {
  std::string_view uses = mention.value;
  std::string_view kinds = cut(uses, ' ');
  mention.readings.clear();
  const bool is_open = kinds.find('|') != std::string_view::npos;
  std::string_view likeliest = kinds;
  mention.value = cut(likeliest, '|');
  while (is_open && !kinds.empty()) mention.readings.emplace_back(cut(kinds, '|'));
  if (mention.readings.size() < 2) mention.readings.clear();
  mention.payload = 0;
  while (!uses.empty()) {
    const std::string_view word = cut(uses, ' ');
    for (const auto& [name, use] : kUses) {
      if (word == name) mention.payload |= use;
    }
  }
}

}  // namespace tailproof

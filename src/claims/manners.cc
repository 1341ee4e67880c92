// The manner in which a machine came to its end, in the words of the text and in those of the
// ledger: "was ditched" of one that went over the side.
//
// Contract: two manners are apart only where no single end could be told in both ways. A machine
// that failed to return may have been shot down; one that overturned on landing was not.
#include <algorithm>
#include <array>
#include <utility>

#include "claims/assembler.h"
#include "grammars/fold.h"

namespace tailproof {
namespace {

using Apart = std::pair<std::string_view, std::string_view>;
constexpr std::array kApart = {
    Apart{"missing", "overboard"}, Apart{"missing", "landing"},   Apart{"missing", "parked"},
    Apart{"missing", "moored"},    Apart{"missing", "ship"},      Apart{"missing", "burnt"},
    Apart{"enemy", "overboard"},   Apart{"enemy", "landing"},     Apart{"enemy", "parked"},
    Apart{"enemy", "moored"},      Apart{"enemy", "ship"},        Apart{"enemy", "collision"},
    Apart{"enemy", "plunge"},      Apart{"ditched", "landing"},   Apart{"ditched", "overboard"},
    Apart{"ditched", "parked"},    Apart{"ditched", "moored"},    Apart{"ditched", "ship"},
    Apart{"ditched", "hill"},      Apart{"plunge", "parked"},     Apart{"plunge", "moored"},
    Apart{"plunge", "ship"},       Apart{"plunge", "hill"},       Apart{"hill", "overboard"},
    Apart{"hill", "parked"},       Apart{"hill", "moored"},       Apart{"hill", "ship"},
    Apart{"landing", "moored"},    Apart{"landing", "ship"},      Apart{"overboard", "moored"},
    Apart{"overboard", "ship"},    Apart{"overboard", "burnt"},   Apart{"moored", "burnt"},
    Apart{"moored", "ship"},       Apart{"burnt", "ship"},        Apart{"collision", "ship"},
    Apart{"collision", "moored"},  Apart{"collision", "missing"},
};

bool are_apart(std::string_view one, std::string_view other) {
  return std::any_of(kApart.begin(), kApart.end(), [&](const Apart& pair) {
    return (pair.first == one && pair.second == other) ||
           (pair.first == other && pair.second == one);
  });
}

// The manners that a text names, a longer phrase before the shorter ones inside it.
std::vector<std::string_view> manners_in(const WordList& list, std::string_view text) {
  constexpr std::size_t kLongest = 4;
  constexpr std::string_view kBetween = " ,;:.()\t\n";
  std::vector<std::string> words;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find_first_of(kBetween, at), text.size());
    if (end > at) words.push_back(fold(text.substr(at, end - at)));
    at = end + 1;
  }
  std::vector<std::string_view> found;
  for (std::size_t at = 0; at < words.size();) {
    std::size_t used = 1;
    const bool may_begin = list.first_bytes[static_cast<unsigned char>(words[at].front())];
    for (std::size_t length = std::min(kLongest, words.size() - at); may_begin && length > 0;
         --length) {
      std::string phrase = words[at];
      for (std::size_t i = 1; i < length; ++i) phrase += " " + words[at + i];
      const std::string_view manner = list.value_of(phrase);
      if (manner.empty()) continue;
      found.push_back(manner);
      used = length;
      break;
    }
    at += used;
  }
  return found;
}

}  // namespace

// Manners in the words of the event, as far as its clause goes, and before another event in it.
std::vector<std::string_view> BlockAssembler::manners_told(const Claim& event) const {
  const WordList* list = lexicon_.grammars().list("loss_manner");
  if (list == nullptr || event.begin >= event.end) return {};
  const std::uint32_t first = token_at(event.begin);
  const std::uint32_t clause = clauses_.clause_of[first];
  std::uint32_t last = first;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  while (last < count && clauses_.clause_of[last] == clause) ++last;
  const Mention* ship = nullptr;
  for (const Mention& other : mentions_.items) {
    if (other.first >= last) break;
    const bool is_event = other.kind == MentionKind::kCue && other.role == "cue_event";
    if (is_event && other.begin >= event.end) last = other.first;
    // "Lost with FS Marchwind".
    const bool is_ship = other.kind == MentionKind::kPlace && other.first > first &&
                         is_in("with_word", other.first - 1);
    if (is_ship && ship == nullptr) ship = &other;
  }
  const std::uint32_t end = mentions_.tokens[last - 1].end;
  std::vector<std::string_view> told = manners_in(
      *list,
      std::string_view(block_.text).substr(event.begin, std::max(end, event.end) - event.begin));
  if (ship != nullptr && ship->first < last) told.emplace_back("ship");
  return told;
}

// Those of the ledger's row of an end, or of its fate.
std::vector<std::string_view> BlockAssembler::manners_recorded(std::string_view words) const {
  const WordList* list = lexicon_.grammars().list("loss_manner");
  if (list == nullptr) return {};
  std::vector<std::string_view> found = manners_in(*list, words);
  // "lost with FS Marchwind"
  for (std::size_t at = words.find(' '); at != std::string_view::npos;
       at = words.find(' ', at + 1)) {
    const std::size_t before = at == 0 ? std::string_view::npos : words.rfind(' ', at - 1);
    const std::string_view word =
        words.substr(before == std::string_view::npos ? 0 : before + 1,
                     at - (before == std::string_view::npos ? 0 : before + 1));
    const WordList* with = lexicon_.grammars().list("with_word");
    if (with == nullptr || with->value_of(fold(word)).empty()) continue;
    if (ledger_.place(words.substr(at + 1)) != nullptr) found.emplace_back("ship");
  }
  return found;
}

// "Was ditched" of what the ledger has gone over the side that day.
bool BlockAssembler::is_of_other_manner(const Claim& event) const {
  const std::vector<std::string_view> told = manners_told(event);
  if (told.empty()) return false;
  constexpr Day kSlipDays = 3;
  std::vector<const History*> rows;
  for (const History* row : ledger_.history_of(event.subject)) {
    if (row->kind != "lost" && row->kind != "accident") continue;
    const bool is_then =
        !event.when.known || row->spell.possible().widened(kSlipDays).intersects(event.when.days);
    if (is_then) rows.push_back(row);
  }
  if (rows.empty()) return false;
  return std::all_of(rows.begin(), rows.end(), [&](const History* row) {
    std::vector<std::string_view> recorded = manners_recorded(row->detail);
    if (rows.size() == 1) {
      for (const Airframe* airframe : ledger_.machine_of(event.subject)) {
        const std::vector<std::string_view> of_fate = manners_recorded(airframe->fate);
        recorded.insert(recorded.end(), of_fate.begin(), of_fate.end());
      }
    }
    // Told in part as it is recorded, the rest may well be of the same end.
    const bool is_shared = std::any_of(told.begin(), told.end(), [&](std::string_view one) {
      return std::find(recorded.begin(), recorded.end(), one) != recorded.end();
    });
    return !is_shared && std::any_of(told.begin(), told.end(), [&](std::string_view one) {
      return std::any_of(recorded.begin(), recorded.end(),
                         [&](std::string_view other) { return are_apart(one, other); });
    });
  });
}

}  // namespace tailproof

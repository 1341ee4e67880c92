// Where mentions overlap: which of them stay, and the dates that nothing uses any more.
#include <algorithm>
#include <utility>

#include "mentions/event_words.h"
#include "mentions/finder.h"

namespace tailproof {
namespace {

// Where mentions overlap, the more specific kind stays: lower comes first.
int rank_of(const Mention& mention) {
  switch (mention.kind) {
    case MentionKind::kPhotograph:
    case MentionKind::kOrder:
      return 0;
    case MentionKind::kReference:
    case MentionKind::kOrderInTime:
      return 1;
    case MentionKind::kMeasure:
      return mention.value.find('=') != std::string::npos ? 1 : 3;
    case MentionKind::kAirframe:
      return 2;
    case MentionKind::kDate:
      return 2;
    case MentionKind::kCue:
      return 9;
    case MentionKind::kPerson:
      return mention.role == "first name" ? 8 : 4;
    default:
      return 4;
  }
}

}  // namespace

// The longest mention at a place wins, then the more specific kind. Cues give way to names but not
// to each other, since a word may bear on its neighbours in several ways.
void BlockFinder::settle_overlaps() {
  auto& items = result_.items;
  OverlapRoom& room = memory_.overlaps;
  room.begin(result_.tokens.size(), items.size());
  for (auto i = static_cast<std::uint32_t>(items.size()); i-- > 0;) {
    room.next[i] = std::exchange(room.first_at[items[i].first], i);
  }
  // Mentions that hang together by shared words are settled among themselves; most stand alone.
  for (std::uint32_t t = 0; t < room.first_at.size();) {
    room.together.clear();
    std::uint32_t end = t + 1;
    for (; t < end; ++t) {
      for (std::uint32_t i = room.first_at[t]; i != OverlapRoom::kNone; i = room.next[i]) {
        room.together.push_back({0, i, i});
        end = std::max(end, items[i].last);
      }
    }
    if (room.together.size() > 1) settle_together();
    for (const OverlapRoom::Place& place : room.together) room.kept.push_back(place.index);
  }
  std::vector<Mention> settled;
  settled.reserve(room.kept.size());
  for (const std::uint32_t index : room.kept) settled.push_back(std::move(items[index]));
  items.swap(settled);
  settled.clear();
  memory_.found.push_back(std::move(settled));
}

// Leaves of the mentions in `together` those that stay, by place.
void BlockFinder::settle_together() {
  const auto& items = result_.items;
  OverlapRoom& room = memory_.overlaps;
  for (OverlapRoom::Place& place : room.together) {
    const Mention& mention = items[place.index];
    const std::uint64_t cue = mention.kind == MentionKind::kCue ? 1 : 0;
    std::uint64_t length = mention.end - mention.begin;
    int rank = rank_of(mention);
    // "Took over the Twenty-fourth": a unit written as a name, and no day of a month.
    if (mention.kind == MentionKind::kUnit && mention.role == "ordinal" &&
        result_.tokens[mention.first].capital && mention.first > 0) {
      length = mention.end - result_.tokens[mention.first - 1].begin;
      rank = 1;
    }
    const std::uint64_t shortness = 0xffffffffU - length;
    place.order = cue << 63 | shortness << 8 | static_cast<std::uint64_t>(rank);
  }
  OverlapRoom::sort(room.together);
  const auto has_kept_cue_like = [&](const Mention& mention) {
    for (std::uint32_t t = mention.first; t < mention.last; ++t) {
      for (std::uint32_t link = room.cues_at[t]; link != 0; link = room.links[link - 1].next) {
        if (items[room.links[link - 1].index].cue == mention.cue) return true;
      }
    }
    return false;
  };
  std::size_t kept = 0;
  for (const OverlapRoom::Place place : room.together) {
    const Mention& mention = items[place.index];
    bool free = true;
    const bool cue = mention.kind == MentionKind::kCue;
    // What began or ended ("formed" in "was formed"), and between which serials the words stand, is
    // asked for beside what else they tell.
    const std::string_view role = mention.role;
    const bool is_turn = cue && (role.starts_with("cue_turn") || role == "cue_other_number");
    const auto length =
        static_cast<std::uint8_t>(std::min<std::uint32_t>(mention.last - mention.first, 250));
    for (std::uint32_t t = mention.first; t < mention.last; ++t) {
      if (room.taken[t] != 0) free = false;
      if (cue && !is_turn && room.cue_length[t] > length) free = false;
    }
    // Several members of one list of units or references share their words; so do a date and the
    // picture from which it is counted ("Same day.").
    if (!free && !cue) {
      free = std::any_of(room.together.begin(),
                         room.together.begin() + static_cast<std::ptrdiff_t>(kept),
                         [&](const OverlapRoom::Place& held) {
                           const Mention& other = items[held.index];
                           if (other.begin != mention.begin || other.end != mention.end)
                             return false;
                           if (other.kind == MentionKind::kOrderInTime)
                             return mention.kind == MentionKind::kDate;
                           return other.kind == mention.kind &&
                                  (other.list != 0 ? other.list == mention.list
                                                   : mention.kind == MentionKind::kReference);
                         });
    }
    // Two findings of one word list in the same words are one.
    if (!free || (cue && has_kept_cue_like(mention))) continue;
    for (std::uint32_t t = mention.first; t < mention.last; ++t) {
      if (cue) {
        if (!is_turn) room.cue_length[t] = std::max(room.cue_length[t], length);
        room.links.push_back({place.index, room.cues_at[t]});
        room.cues_at[t] = static_cast<std::uint32_t>(room.links.size());
      } else {
        room.taken[t] = 1;
      }
    }
    room.together[kept] = {std::uint64_t{mention.begin} << 32U | mention.end,
                           static_cast<std::uint32_t>(kept), place.index};
    ++kept;
  }
  room.together.resize(kept);
  OverlapRoom::sort(room.together);
}

// A date that gave way to a name ("the Twenty-fourth") is none that others are counted from.
void BlockFinder::drop_unused_dates() {
  std::vector<bool> is_used(result_.dates.size(), false);
  for (const Mention& mention : result_.items) {
    if (mention.kind == MentionKind::kDate) is_used[mention.payload] = true;
  }
  if (std::find(is_used.begin(), is_used.end(), false) == is_used.end()) return;
  std::vector<DateMention> kept;
  std::vector<std::uint32_t> moved(is_used.size(), 0);
  for (std::uint32_t i = 0; i < is_used.size(); ++i) {
    if (!is_used[i]) continue;
    moved[i] = static_cast<std::uint32_t>(kept.size());
    kept.push_back(std::move(result_.dates[i]));
  }
  for (Mention& mention : result_.items) {
    if (mention.kind == MentionKind::kDate) mention.payload = moved[mention.payload];
  }
  result_.dates = std::move(kept);
}

}  // namespace tailproof

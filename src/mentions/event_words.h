// What the value of a word for an event says: "lost", or "lost|accident state".
//
// Before the first blank stand the ledger's kinds that the words may mean, the likeliest first;
// behind it how the words are used:
//   noun    names the event and has no subject of its own ("its loss", "undercarriage collapse")
//   object  its machine is what follows ("lost X12", "bought it")
//   opener  counts only where it opens a sentence or what commas and brackets set apart
//   unit    counts only where a unit follows ("went to the 3rd")
//   state   what may be seen for days after ("on its nose"): no date beside it is its own
//   mutual  befalls several at once ("collision")
//   near    told of days around the paper date ("delivered")
#pragma once

#include <cstdint>
#include <string_view>

#include "mentions/mention.h"

namespace tailproof {

/// Bits of Mention::payload of a word for an event.
enum EventUse : std::uint32_t {
  kEventNoun = 1,
  kEventObject = 2,
  kEventOpener = 4,
  kEventUnit = 8,
  kEventState = 16,
  kEventNear = 32,
  kEventMutual = 64,
};

/// The list (and role) of words for events.
inline constexpr std::string_view kEventCue = "cue_event";

/// Replaces the value of an event's mention by its kind, with `readings` where it may mean several,
/// and `payload` by how the words are used. Words of use that nobody knows are passed over.
void settle_event_words(Mention& mention);

}  // namespace tailproof

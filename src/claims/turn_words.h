// What the values of the list cue_turn mean: which turn, of whom, and what it turns to.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>

#include "mentions/mention.h"
#include "tailproof/claim.h"

namespace tailproof {

enum class Bearer : std::uint8_t { kUnit, kPerson, kOrder };

struct TurnWord {
  std::string_view word;  // in the grammar
  Turn turn;
  Bearer bearer;
  MentionKind object;   // what it turns to; kCue: nothing
  std::uint32_t reach;  // tokens from the words to their object
};
inline constexpr std::string_view kStayBegan = "stay_began", kStayEnded = "stay_ended";
inline constexpr std::string_view kLeaving = "moved_out";
inline constexpr std::string_view kClosed = "closed";
inline constexpr std::string_view kFallen = "fallen", kExchanged = "exchanged";
inline constexpr std::string_view kKilled = "killed";
inline constexpr std::array kTurnWords = {
    TurnWord{"formed", Turn::kFormed, Bearer::kUnit, MentionKind::kCue, 0},
    TurnWord{"disbanded", Turn::kDisbanded, Bearer::kUnit, MentionKind::kCue, 0},
    TurnWord{kClosed, Turn::kDisbanded, Bearer::kUnit, MentionKind::kCue, 0},
    TurnWord{"renamed", Turn::kRenamed, Bearer::kUnit, MentionKind::kUnit, 4},
    TurnWord{"moved_in", Turn::kMovedIn, Bearer::kUnit, MentionKind::kPlace, 12},
    TurnWord{"moved_out", Turn::kMovedOut, Bearer::kUnit, MentionKind::kPlace, 2},
    TurnWord{kExchanged, Turn::kMovedIn, Bearer::kUnit, MentionKind::kPlace, 12},
    TurnWord{kStayBegan, Turn::kMovedIn, Bearer::kUnit, MentionKind::kPlace, 0},
    TurnWord{kStayEnded, Turn::kMovedOut, Bearer::kUnit, MentionKind::kPlace, 0},
    TurnWord{"issued", Turn::kIssued, Bearer::kOrder, MentionKind::kCue, 0},
    TurnWord{"effective", Turn::kEffective, Bearer::kOrder, MentionKind::kCue, 0},
    TurnWord{"introduced", Turn::kIntroduced, Bearer::kOrder, MentionKind::kCue, 0},
    TurnWord{"withdrawn", Turn::kWithdrawn, Bearer::kOrder, MentionKind::kCue, 0},
    // Words that may be said of much else: "brought the band in".
    TurnWord{"introduced_marking", Turn::kIntroduced, Bearer::kOrder, MentionKind::kMarking, 3},
    TurnWord{"withdrawn_marking", Turn::kWithdrawn, Bearer::kOrder, MentionKind::kMarking, 3},
    TurnWord{"promoted", Turn::kPromoted, Bearer::kPerson, MentionKind::kRank, 3},
    TurnWord{"awarded", Turn::kAwarded, Bearer::kPerson, MentionKind::kAward, 6},
    TurnWord{"command", Turn::kCommand, Bearer::kPerson, MentionKind::kUnit, 4},
    TurnWord{"left_command", Turn::kLeftCommand, Bearer::kPerson, MentionKind::kUnit, 4},
    // Words that may be said of much else: "was given 11 Company", and not "a machine of 11
    // Company".
    TurnWord{"given_unit", Turn::kCommand, Bearer::kPerson, MentionKind::kUnit, 1},
    TurnWord{"joined", Turn::kJoined, Bearer::kPerson, MentionKind::kUnit, 3},
    TurnWord{"left", Turn::kLeft, Bearer::kPerson, MentionKind::kUnit, 3},
    TurnWord{"born", Turn::kBorn, Bearer::kPerson, MentionKind::kCue, 0},
    TurnWord{"died", Turn::kDied, Bearer::kPerson, MentionKind::kCue, 0},
    TurnWord{kFallen, Turn::kDied, Bearer::kPerson, MentionKind::kCue, 0},
    TurnWord{kKilled, Turn::kDied, Bearer::kPerson, MentionKind::kCue, 0},
};

}  // namespace tailproof

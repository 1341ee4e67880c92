// One photograph before or after another: one row a way of saying it.
#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "desk.h"

using namespace tailproof;
using namespace tailproof::testing;

namespace {

struct Piece {
  BlockKind kind = BlockKind::kCaption;
  std::string text;
};

Manuscript manuscript_of(const std::vector<Piece>& pieces) {
  Manuscript manuscript;
  for (const Piece& piece : pieces) {
    add_block(manuscript, piece.kind, piece.text, piece.text.substr(0, piece.text.find(". ", 4)));
  }
  return manuscript;
}

std::string end_in_words(Day day) {
  if (day <= kFirstDay) return "..";
  return day >= kLastDay ? ".." : std::to_string(day);
}

// "subject: value [least, most]" of every order_in_time claim; the other's block in brackets.
std::vector<std::string> orders_in(const std::vector<Piece>& pieces) {
  const Ledger ledger;
  std::vector<std::string> lines;
  for (const Claim& claim : extract_claims({manuscript_of(pieces)}, ledger, english())) {
    if (claim.kind != ClaimKind::kOrderInTime) continue;
    std::string line = claim.subject + ": " + claim.value + " [" +
                       end_in_words(claim.relation->least) + ", " +
                       end_in_words(claim.relation->most) + "]";
    if (claim.relation->other.is_known()) {
      line += " block " + std::to_string(claim.relation->other.block);
    }
    if (claim.negated) line += " negated";
    if (claim.hedged) line += " hedged";
    lines.push_back(line);
  }
  return lines;
}

std::vector<std::string> orders_of(const std::string& caption) {
  return orders_in({{BlockKind::kCaption, "Fig. 1. A barge at the pier."},
                    {BlockKind::kCaption, "Fig. 2. " + caption},
                    {BlockKind::kCaption, "Fig. 3. The pier."},
                    {BlockKind::kCaption, "Plate 1. The crane."}});
}

struct Row {
  const char* caption;
  std::vector<std::string> wanted;
};

const Row kRows[] = {
    {"The barge a fortnight before Fig. 1.",
     {"Fig. 2: 1 fortnight before Fig. 1 [-17, -11] block 0"}},
    {"The barge, two weeks after Figure 3.", {"Fig. 2: 2 weeks after Fig. 3 [10, 18] block 2"}},
    {"Three days later than Plate I.", {"Fig. 2: 3 days after Plate 1 [3, 3] block 3"}},
    {"Taken some weeks after Fig. 1.", {"Fig. 2: after Fig. 1 [7, 150] block 0"}},
    {"Taken in the week before Fig. 3.", {"Fig. 2: before Fig. 3 [-16, -1] block 2"}},
    {"The day after Fig. 1.", {"Fig. 2: 1 day after Fig. 1 [1, 1] block 0"}},
    {"Within a week of Fig. 3.", {"Fig. 2: within 1 week of Fig. 3 [-9, 9] block 2"}},
    {"A month or so after Fig. 1.", {"Fig. 2: 1 month after Fig. 1 [12, 72] block 0"}},
    {"Minutes after the picture above.", {"Fig. 2: minutes after Fig. 1 [0, 0] block 0"}},
    {"Minutes later, from the same pier.", {"Fig. 2: minutes after Fig. 1 [0, 0] block 0"}},
    {"Hours before the next photograph.", {"Fig. 2: hours before Fig. 3 [-1, 0] block 2"}},
    {"The pier on the same day as Plate 1.", {"Fig. 2: same day as Plate 1 [0, 0] block 3"}},
    {"Another picture from the same sortie.", {"Fig. 2: same sortie as Fig. 1 [0, 0] block 0"}},
    {"This and Fig. 3 were taken on the same day.", {"Fig. 2: same day as Fig. 3 [0, 0] block 2"}},
    {"Shortly before Fig. 3, probably.", {"Fig. 2: before Fig. 3 [-150, 0] block 2"}},
    {"Probably an earlier photograph than Fig. 1.",
     {"Fig. 2: before Fig. 1 [.., 0] block 0 hedged"}},
    {"Fig. 3 was taken a week before Fig. 1.", {"Fig. 3: 1 week before Fig. 1 [-9, -5] block 0"}},
    {"This and the one opposite were taken on the same day.",
     {"Fig. 2: same day as beside photograph [0, 0]"}},
    // What looks like it and is no relation of photographs.
    {"The barge sank two days later.", {}},
    {"It sank. Minutes later the crane fell.", {}},
    {"The barge was lost two days after Fig. 1.", {}},
    {"Two barges on the same sortie.", {}},
    {"The plan stands before Fig. 3.", {}},
    {"The barge of Fig. 1, weeks before the storm.", {}},
};

}  // namespace

TEST_CASE("a photograph is set before or after another") {
  for (const Row& row : kRows) {
    INFO(row.caption);
    CHECK(orders_of(row.caption) == row.wanted);
  }
}

TEST_CASE("running text sets figures in order, but is no picture itself") {
  const std::vector<Piece> pieces = {{BlockKind::kCaption, "Fig. 1. A barge."},
                                     {BlockKind::kBody, "Fig. 2 was taken hours before Fig. 1."},
                                     {BlockKind::kBody, "Taken hours before Fig. 1."},
                                     {BlockKind::kCaption, "Fig. 2. A barge."}};
  CHECK(orders_in(pieces) ==
        std::vector<std::string>{"Fig. 2: hours before Fig. 1 [-1, 0] block 0"});
}

TEST_CASE("a photograph that no manuscript has is not known") {
  CHECK(orders_of("Two days before Fig. 9.") ==
        std::vector<std::string>{"Fig. 2: 2 days before Fig. 9 [-2, -2]"});
}

// What the words around a claim tell of it, and how far they reach.
#include <algorithm>
#include <catch2/catch.hpp>
#include <string>

#include "desk.h"

using namespace tailproof;
using namespace tailproof::testing;

namespace {

constexpr LedgerFile kLedger[] = {
    {"ledger.toml",
     "title = \"t\"\nair_arm = \"Corran Lakes Flying Service\"\n"
     "[[serial_form]]\npattern = 'CL(\\d{2})'\nserial = 'CL\\1'\n"},
    {"airframes.csv",
     "serial,type,taken_on_charge\nCL11,Whimbrel,1940-05-01\nCL12,Whimbrel,1940-05-01\n"},
    {"photographs.csv", "photograph,depicts\nLK 40,CL11\nLK 41,CL12\n"},
};

const Ledger& ledger() {
  static const Ledger kept = ledger_of(kLedger);
  return kept;
}

// What the first claim with this text is told of.
std::uint32_t said_of(BlockKind kind, const std::string& text, std::string_view words) {
  const std::vector<Manuscript> manuscripts = one_block(kind, text);
  for (const Claim& claim : extract_claims(manuscripts, ledger(), english())) {
    if (claim.text == words) return claim.said;
  }
  FAIL("no claim \"" << words << "\"");
  return 0;
}

}  // namespace

TEST_CASE("a wreck is told of the whole caption, in running text of its sentence") {
  const std::string text = "The wreck lay there for years. CL11 had been new in 1940.";
  CHECK((said_of(BlockKind::kCaption, text, "CL11") & kSaidRemains) != 0);
  CHECK((said_of(BlockKind::kBody, text, "CL11") & kSaidRemains) == 0);
  CHECK((said_of(BlockKind::kBody, "The wreck of CL11.", "CL11") & kSaidRemains) != 0);
  CHECK((said_of(BlockKind::kCaption, "Looking for CL11.", "CL11") & kSaidRemains) != 0);
  CHECK((said_of(BlockKind::kCaption, "CL11 wrecking a hedge.", "CL11") & kSaidRemains) == 0);
}

TEST_CASE("another time is told of a sentence, and not beyond a semicolon") {
  CHECK((said_of(BlockKind::kCaption, "A week after it was repainted, CL11.", "CL11") &
         kSaidOtherTime) != 0);
  CHECK((said_of(BlockKind::kCaption, "A week after the gale; CL11 was repainted.", "CL11") &
         kSaidOtherTime) == 0);
  CHECK((said_of(BlockKind::kCaption, "CL11 was repainted. The gale came later.", "CL11") &
         kSaidOtherTime) == 0);
}

TEST_CASE("another picture is meant where the words right before its number say so") {
  CHECK((said_of(BlockKind::kCaption, "CL11, an hour after LK 41.", "LK 41") & kSaidElsewhere) !=
        0);
  CHECK((said_of(BlockKind::kCaption, "CL11 (see LK 41).", "LK 41") & kSaidElsewhere) != 0);
  CHECK((said_of(BlockKind::kCaption, "CL11 after the gale. (LK 40)", "LK 40") & kSaidElsewhere) ==
        0);
}

TEST_CASE("words for a delivery are told of the days around it, those of the paper are not") {
  CHECK((said_of(BlockKind::kBody, "CL11 was delivered on 3 May 1940.", "was delivered") &
         kSaidNear) != 0);
  CHECK(
      (said_of(BlockKind::kBody, "CL11 was taken on charge on 3 May 1940.", "was taken on charge") &
       kSaidNear) == 0);
}

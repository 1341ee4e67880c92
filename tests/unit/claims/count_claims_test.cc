// How many, and which of them: one row a way of saying it, with what looks like it and is no count.
#include <catch2/catch.hpp>

#include "desk.h"

using namespace tailproof;
using namespace tailproof::testing;

namespace {

constexpr LedgerFile kLedger[] = {
    {"ledger.toml",
     "title = \"t\"\nair_arm = \"Ombrel Coast Patrol\"\n"
     "[[serial_form]]\npattern = 'KB[ -]?(\\d{3})'\nserial = 'KB\\1'\nclosed = "
     "[\"KB201..KB240\"]\n"},
    {"airframes.csv",
     "serial,type,mark\nKB201,Sandmartin,Mk I\nKB202,Sandmartin,Mk I\nKB211,Dowitcher,B.1\n"
     "KB236,Dowitcher,B.1\n"},
    {"units.csv", "unit,aliases,kind\n61 Squadron,No. 61 Squadron;61 Sqn,squadron\n"},
    {"types.csv", "type,aliases\nSandmartin,\nDowitcher,\n"},
};

const Ledger& ledger() {
  static const Ledger kept = ledger_of(kLedger);
  return kept;
}

std::string in_a_line(const Claim& claim) {
  const Count& count = *claim.count;
  std::string line = claim.value + " @" + claim.subject;
  if (!count.first_serial.empty()) line += " " + count.first_serial + ".." + count.last_serial;
  if (count.is_last && count.number > 0) line += " of " + std::to_string(count.number);
  if (count.out_of > 0) line += " of " + std::to_string(count.out_of);
  if (!count.fate.empty()) line += " " + count.fate;
  if (count.is_whole) line += " whole";
  if (!count.is_exact) line += " inexact";
  return line;
}

std::vector<std::string> counts_of(const std::string& text, BlockKind kind) {
  const std::vector<Manuscript> manuscripts = one_block(kind, text);
  std::vector<std::string> lines;
  for (const Claim& claim : extract_claims(manuscripts, ledger(), english())) {
    if (claim.kind == ClaimKind::kCount) lines.push_back(in_a_line(claim));
  }
  return lines;
}

struct Row {
  const char* text;
  std::vector<std::string> wanted;
};

const Row kRows[] = {
    {"KB201 to KB210, nine aircraft in all, came first.", {"9 @KB201 KB201..KB210"}},
    {"Thirty-four Sandmartin Mk Is (KB201 to KB234) were built.",
     {"34 Sandmartin Mk I @KB201 KB201..KB234"}},
    {"KB201 to KB210 were ten machines.", {"10 @KB201 KB201..KB210"}},
    {"Nearly ten Sandmartins, KB201 to KB210, came first.",
     {"10 Sandmartin @KB201 KB201..KB210 inexact"}},
    {"KB201 to KB210, nine aircraft without KB204, came first.", {"9 @KB201 KB201..KB210 inexact"}},
    {"KB236, the thirty-sixth and last B.1 delivered, came in May.",
     {"36. Dowitcher B.1 @KB236 whole"}},
    {"KB211, the second Dowitcher to reach the Sound, came in May.", {"2. Dowitcher @KB211"}},
    {"The last of the forty Dowitchers, KB236, came in May.",
     {"last Dowitcher @KB236 of 40 whole"}},
    {"Five of the ten Sandmartins were renumbered.", {"5 Sandmartin @ of 10 later_serial"}},
    {"KB236, the second Dowitcher, is behind.", {"2. Dowitcher @KB236"}},
    {"KB211 to KB220, ten machines and two boats, stayed.", {"10 @KB211 KB211..KB220 inexact"}},
    {"KB211 to KB220, ten Dowitchers and two Sandmartins.",
     {"10 Dowitcher @KB211 KB211..KB220 inexact", "2 Sandmartin @"}},
    {"KB201 to KB209, nine boats altogether, came first.", {"9 @KB201 KB201..KB209"}},
    {"KB201 to KB209, nine in all, came first.", {"9 @KB201 KB201..KB209"}},
    {"By May forty Sandmartins had been delivered.", {"40 Sandmartin @ taken_on_charge"}},
    {"The yard built forty Sandmartins.", {"40 Sandmartin @ taken_on_charge"}},
    {"Forty Sandmartins were ordered.", {"40 Sandmartin @"}},
    {"KB211 and KB236, the first Dowitchers, are behind.", {"first Dowitchers @"}},
    // What looks like it and counts no aircraft.
    {"KB201 to KB210 flew nine sorties each.", {}},
    {"KB201 of 61 Squadron came on 3 May 1943.", {}},
    {"The first machine, KB201, came in May.", {}},
    {"Ten pilots took KB201 to KB210 to the Sound.", {}},
};

}  // namespace

TEST_CASE("numbers of aircraft, and places among them") {
  for (const Row& row : kRows) {
    INFO(row.text);
    CHECK(counts_of(row.text, BlockKind::kBody) == row.wanted);
  }
}

TEST_CASE("a caption's own number of aircraft is a claim of its figure") {
  CHECK(counts_of("Three Sandmartins over the Sound.", BlockKind::kCaption) ==
        std::vector<std::string>{"3 Sandmartin @Fig. 1"});
}

TEST_CASE("counts that are told and not recounted, and whose they are") {
  const std::vector<std::pair<const char*, std::string>> rows = {
      {"KB211, the first of the eight, at the Sound.", "the first of the eight @KB211"},
      {"KB211, 61 Squadron, nine kill markings on the nose.", "nine kill markings @KB211"},
      {"KB211 with four lanterns under the windscreen.",
       "four lanterns under the windscreen @KB211"},
      {"KB211 with a four-bladed airscrew.", "four-bladed @KB211"},
      {"KB211, the only machine to reach the Sound.", "the only machine to reach @KB211"},
      {"KB211 leads two others.", "two others @Fig. 1"},
      {"KB211 at the Sound; four were built, none is left.", "four were built @Fig. 1"},
      {"KB211 and its crew of five.", "its crew of five @KB211"},
      {"The twelfth, KB211, in the grass.", "twelfth @KB211"}};
  for (const auto& [text, wanted] : rows) {
    INFO(text);
    CHECK(counts_of(text, BlockKind::kCaption) == std::vector<std::string>{wanted});
  }
  // What looks like them.
  for (const char* text : {"KB211 two days later.", "KB211 and two pilots.", "KB211 on the 12th.",
                           "The last of the paint has gone from KB211."}) {
    INFO(text);
    CHECK(counts_of(text, BlockKind::kCaption).empty());
  }
}

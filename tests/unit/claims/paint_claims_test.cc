// Coats of paint and names that stand for markings: one row a way of saying it.
#include <catch2/catch.hpp>

#include "desk.h"

using namespace tailproof;
using namespace tailproof::testing;

namespace {

constexpr LedgerFile kLedger[] = {
    {"ledger.toml",
     "title = \"t\"\nair_arm = \"Ombrel Coast Patrol\"\n"
     "[[serial_form]]\npattern = 'KB[ -]?(\\d{3})'\nserial = 'KB\\1'\n"},
    {"airframes.csv", "serial,type,mark\nKB201,Sandmartin,Mk I\n"},
    {"markings.csv",
     "marking,family,aliases\n"
     "old disc,disc,red-centred disc;red centre\n"
     "new disc,disc,gold-centre disc;gold centre\n"
     "tail stripes,tail,rudder stripes\n"
     "panel,tail,plain panel\n"},
};

const Ledger& ledger() {
  static const Ledger kept = ledger_of(kLedger);
  return kept;
}

// Values of the caption's claims of one kind; a denied one with "not" before it.
std::vector<std::string> values_of(ClaimKind kind, const std::string& caption) {
  const std::vector<Manuscript> manuscripts = one_block(BlockKind::kCaption, caption);
  std::vector<std::string> values;
  for (const Claim& claim : extract_claims(manuscripts, ledger(), english())) {
    if (claim.kind == kind) values.push_back((claim.negated ? "not " : "") + claim.value);
  }
  return values;
}

struct Row {
  const char* caption;
  std::vector<std::string> wanted;
};

const Row kCoats[] = {
    {"KB201, the red centre painted over the gold centre.", {"old disc over new disc"}},
    {"KB201 with a red-centred disc painted over the gold one.", {"old disc over new disc"}},
    {"KB201. The gold disc has been laid straight over the red one.", {"new disc over old disc"}},
    {"KB201. Where the red disc has been put on over it, the gold disc can be seen.",
     {"old disc over new disc"}},
    {"KB201 has the gold in its disc. A red centre was painted over it.",
     {"old disc over new disc"}},
    {"KB201 with the red centre, under which the gold centre shows.", {"old disc over new disc"}},
    {"KB201 with the red centre, over which a gold one has been painted.",
     {"new disc over old disc"}},
    {"The red centre of KB201 is covered by a gold centre.", {"new disc over old disc"}},
    {"KB201: the red centre shows faintly through the gold centre.", {"new disc over old disc"}},
    {"KB201: the red centre, not painted over the gold centre.", {"not old disc over new disc"}},
    {"KB201 with the gold centre. A tarpaulin laid over the wing hides the rest.", {}},
};

const Row kNames[] = {
    {"KB201. The disc is the gold one.", {"new disc"}},
    {"KB201 is the plain one of the two.", {}},
    {"KB201, the gold in the disc quite new.", {"new disc"}},
    {"KB201 with a striped rudder.", {"tail stripes"}},
    {"The rudder stripes of KB201 have yet to be painted out.", {"tail stripes"}},
    {"The rudder stripes of KB201 have been painted out.", {"not tail stripes"}},
    {"KB201 with the red centre above and below the wings but none on the fuselage.",
     {"old disc", "old disc", "not old disc"}},
    {"KB201 with the red centre on the wing, not on the fuselage.", {"old disc", "not old disc"}},
    {"KB201. What looks like the red centre is a patch.", {}},
    {"KB201 and what looks like the red centre on its wing.", {"old disc"}},
};

}  // namespace

TEST_CASE("of two coats of paint the text says which is the upper") {
  for (const Row& row : kCoats) {
    INFO(row.caption);
    CHECK(values_of(ClaimKind::kOverpaint, row.caption) == row.wanted);
  }
}

TEST_CASE("words that stand for the name of a marking") {
  for (const Row& row : kNames) {
    INFO(row.caption);
    CHECK(values_of(ClaimKind::kMarking, row.caption) == row.wanted);
  }
}

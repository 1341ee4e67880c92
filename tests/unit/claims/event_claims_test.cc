// What befell a machine: one row a phenomenon, and what only looks like it.
#include <algorithm>
#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "desk.h"

using namespace tailproof;
using namespace tailproof::testing;

namespace {

constexpr LedgerFile kLedger[] = {
    {"ledger.toml",
     "title = \"t\"\nair_arm = \"Tessary Isles Air Wing\"\n"
     "[[serial_form]]\npattern = 'TW[ -]?(\\d{3})'\nserial = 'TW\\1'\n"},
    {"airframes.csv",
     "serial,type,taken_on_charge,struck_off_charge\nTW101,Plover,1940-03-01,1943-02-11\n"
     "TW102,Plover,1940-03-08,1942-09-03\nTW103,Plover,1940-04-01,1945-01-01\n"
     "TW104,Bittern,1941-01-01,1945-01-01\n"},
    {"histories.csv",
     "serial,from,to,kind,role,unit,place,detail\nTW101,1943-02-11,,lost,,,,\n"
     "TW102,1942-09-03,,accident,,,,burnt\nTW103,1942-05-01,1942-06-01,allotted,holder,8 "
     "Squadron,,\n"},
    {"units.csv",
     "unit,aliases,kind\n8 Squadron,No. 8 Squadron;8 Sqn,squadron\n9 Squadron,No. 9 Squadron;9 "
     "Sqn,squadron\n2 Repair Yard,2 RY,servicing\n"},
    {"places.csv", "place,aliases\nOrrin Sound,\nMell Strip,\n"},
    {"people.csv", "person,aliases\nTam Hollin,T. Hollin;Hollin\n"},
    {"ranks.csv", "rank,abbreviations,seniority\nSergeant,Sgt,1\n"},
    {"types.csv", "type,aliases\nPlover,\nBittern,\n"},
};

const Ledger& ledger() {
  static const Ledger kept = ledger_of(kLedger);
  return kept;
}

// "lost @TW101 1943-02-11", the date being the event's own; then the flags.
std::vector<std::string> events_of(BlockKind kind, const std::string& text) {
  const std::vector<Manuscript> manuscripts = one_block(kind, text);
  const std::vector<Claim> claims = extract_claims(manuscripts, ledger(), english());
  std::vector<std::string> lines;
  for (const Claim& claim : claims) {
    if (claim.kind != ClaimKind::kEvent) continue;
    std::string line = claim.value + " @" + claim.subject;
    if (claim.when.known) line += " " + claims[claim.when.date].date.text();
    if (claim.negated) line += " negated";
    if (claim.hedged) line += " hedged";
    if (claim.attributed) line += " attributed";
    lines.push_back(line);
  }
  std::sort(lines.begin(), lines.end());
  return lines;
}

struct Row {
  const char* text;
  std::vector<std::string> events;  // all of them, sorted
};

void check(BlockKind kind, const std::vector<Row>& rows) {
  for (const Row& row : rows) {
    INFO(row.text);
    CHECK(events_of(kind, row.text) == row.events);
  }
}

}  // namespace

TEST_CASE("a verb is said of the machine only when nothing else is its subject") {
  check(
      BlockKind::kCaption,
      {{"TW101 at Mell Strip. Did not come back.", {"lost @TW101"}},
       {"TW101 took off at dusk and did not come back.", {"lost @TW101"}},
       {"TW101 was looked over, pronounced hopeless and broken up.", {"struck_off_charge @TW101"}},
       {"TW103 on the grass. Fence written off, two hens as well.", {}},
       {"TW103. The roof beyond is that of the old hangar, before it burnt.", {}},
       {"TW101 and its sister were burnt.", {"lost @TW101"}},
       {"TW103 came back and the hangar was burnt.", {}},
       {"TW103 at Mell Strip. The School had repainted it.", {"repaint @TW103"}},
       {"TW103 at Mell Strip. The hail had damaged her rudder.", {}},
       {"TW103 at Mell Strip. Its engine was destroyed.", {}},
       {"TW103 at Mell Strip. The last figure has been lost in the glare.", {}}});
}

TEST_CASE("what befalls people is no event of their aircraft, unless they were in it") {
  check(
      BlockKind::kCaption,
      {{"TW103 with Sgt T. Hollin, who was shot down on 4 May 1942.", {}},
       {"TW103 and its crew. Sgt Hollin was posted missing that June.", {}},
       {"Sgt T. Hollin, who was lost with TW101 on 11 February 1943.", {"lost @TW101 1943-02-11"}},
       {"TW103 and Sgt Hollin (lent by 9 Squadron).", {}},
       {"TW103 at Mell Strip after Sgt Hollin overshot.", {"accident @TW103"}}});
}

TEST_CASE("machines that a verb takes, each with its own date where it has one") {
  check(BlockKind::kBody,
        {{"We lost TW101 on 11 February 1943 and TW102 a week later.",
          {"lost @TW101 1943-02-11", "lost @TW102 1943-02-18"}},
         {"Two were lost, TW101 over the hills and TW102 in the sea.",
          {"lost @TW101", "lost @TW102"}},
         {"Two were lost that winter: TW101 on 11 February 1943 and TW102 on 3 March.",
          {"lost @TW101 1943-02-11", "lost @TW102 1943-03-03"}},
         {"We lost our way over TW101.", {}},
         {"TW103 lost a wheel.", {}}});
}

TEST_CASE("an event is dated by what stands behind it rather than before") {
  check(BlockKind::kBody, {{"TW101 came to us in March 1940 and was lost on 11 February 1943.",
                            {"lost @TW101 1943-02-11", "taken_on_charge @TW101 1940-03"}}});
}

TEST_CASE("a day without a year that is told of the time before lies before") {
  check(BlockKind::kCaption,
        {{"TW103 ran off the strip on 14 September 1944. The remains near by are of TW101, which "
          "had hit a mast on 18 April.",
          {"accident @TW101 1944-04-18", "accident @TW103 1944-09-14"}},
         {"TW103 ran off the strip on 14 September 1944. It hit a mast on 18 April.",
          {"accident @TW103 1944-09-14", "accident @TW103 1945-04-18"}}});
}

TEST_CASE("into the sea, into a hill, into an obstacle") {
  check(BlockKind::kCaption,
        {{"TW101. It flew into Orrin Sound in haze.", {"lost @TW101"}},
         {"TW101. Flew into high ground in cloud.", {"lost @TW101"}},
         {"TW103 flew into Mell Strip with the mail.", {}},
         {"TW103. It went into service that June.", {}},
         {"TW103 after Sgt Hollin took her through the hedge.", {"accident @TW103"}},
         {"TW103. Sgt Hollin took her through the clouds.", {}},
         {"TW103, which had hit a mast.", {"accident @TW103"}}});
}

TEST_CASE("nouns for events, and whose they are") {
  check(BlockKind::kCaption,
        {{"TW101 on the day of its loss.", {"lost @TW101"}},
         {"TW103. The loss of three crews in a week was felt.", {}},
         {"TW103 after the accident of 6 October 1942.", {"accident @TW103 1942-10-06"}},
         {"TW103 on its delivery flight.", {"ferried @TW103"}},
         {"TW103 in the paint shop.", {"repaint @TW103"}}});
}

TEST_CASE("participles that open what is told") {
  check(BlockKind::kCaption,
        {{"TW101. Lost Orrin Sound 11 February 1943.", {"lost @TW101 1943-02-11"}},
         {"TW101 (lost 11 February 1943) at Mell Strip.", {"lost @TW101 1943-02-11"}},
         {"TW103. Not lost, in spite of the cross.", {"lost @TW103 negated"}},
         {"TW103 with its letters, lost in the repaint.", {"repaint @TW103"}}});
}

TEST_CASE("what words leave open the ledger settles") {
  check(BlockKind::kCaption,
        {{"TW101, which ditched.", {"lost @TW101"}},
         {"TW102, which burnt on 3 September 1942.", {"accident @TW102 1942-09-03"}},
         {"TW104, which burnt.", {"lost @TW104"}},
         {"TW104, which was wrecked.", {"accident @TW104"}}});
}

TEST_CASE("a move to a unit is an allotment, one to a place is not") {
  check(BlockKind::kBody,
        {{"TW103 went to 8 Squadron on 1 May 1942.", {"allotted @TW103 1942-05-01"}},
         {"TW103 went to Mell Strip on 1 May 1942.", {}},
         {"Sgt Hollin joined 8 Squadron on 1 May 1942.", {}},
         {"The yard delivered TW103 on 1 April 1940.", {"taken_on_charge @TW103 1940-04-01"}}});
}

TEST_CASE("what the ice and the water took, and what came down without wheels") {
  check(BlockKind::kBody,
        {{"TW101 went through the ice on 11 February 1943.", {"lost @TW101 1943-02-11"}},
         {"TW101 broke through the harbour ice on 11 February 1943.", {"lost @TW101 1943-02-11"}},
         {"TW101 went to the bottom on 11 February 1943.", {"lost @TW101 1943-02-11"}},
         {"TW103 came down on its belly on 4 May 1942.", {"accident @TW103 1942-05-04"}},
         {"Sgt Hollin went through the ice on 11 February 1943.", {}}});
}

TEST_CASE("one of several, and what a pronoun stands for") {
  check(BlockKind::kCaption,
        {{"TW101, TW103 and TW104 in line. The last was shot down on 11 May 1944.",
          {"lost @TW104 1944-05-11"}},
         {"TW101 and TW103 in line. The last figure was lost in the glare.", {}},
         {"TW101 a week before Hollin was killed in it.", {"lost @TW101"}},
         {"TW101 a week before Hollin was killed.", {}},
         {"An unidentified Plover after a ground loop.", {"accident @Fig. 1"}}});
  check(BlockKind::kBody,
        {{"A word about TW103. The books say it was written off in March 1944.",
          {"struck_off_charge @TW103 1944-03 attributed"}},
         {"A word about TW103. The books say the hangar was written off in March 1944.", {}}});
}

TEST_CASE("a record card is a chain of events of its machine") {
  check(BlockKind::kBody,
        {{"Card, TW102. TOC 8.3.40. 8 Sqn 20.3.40. Heavy landing Mell Strip 11.5.41. SOC 3.9.42.",
          {"accident @TW102 1941-05-11", "struck_off_charge @TW102 1942-09-03",
           "taken_on_charge @TW102 1940-03-08"}},
         {"TW102: TOC 8.3.40; Cat. B 3.1.41; 2 RY 10.1.41; SOC 3.9.42.",
          {"accident @TW102 1941-01-03", "struck_off_charge @TW102 1942-09-03",
           "taken_on_charge @TW102 1940-03-08"}},
         {"TW102 is the one to remember. Delivered in June, said the clerk, who was wrong.", {}}});
}

TEST_CASE("into whatever stands about, but neither weather nor a place to go to") {
  check(BlockKind::kBody,
        {{"TW101 flew into the Orrin grain-tower on 11 February 1943.", {"lost @TW101 1943-02-11"}},
         {"TW103 swung into a milk-float and stopped.", {"accident @TW103"}},
         {"TW103 flew into the evening.", {}},
         {"TW103 flew into the new airfield on 1 May 1942.", {}},
         {"TW103 swung into the line and stopped.", {}},
         {"The lake claimed TW101 on 11 February 1943.", {"lost @TW101 1943-02-11"}},
         {"A rival claimed TW101 on 11 February 1943.", {}}});
}

TEST_CASE("what was still to come") {
  check(BlockKind::kCaption,
        {{"TW101 at Mell Strip in May 1942. It was to be lost on 11 February 1943.",
          {"lost @TW101 1943-02-11"}},
         {"TW101 at Mell Strip in May 1942. It was to crash at Orrin Sound on 11 February 1943.",
          {"lost @TW101 1943-02-11"}},
         {"TW102, which went in off the pier on 3 September 1942.", {"accident @TW102 1942-09-03"}},
         {"TW102, which went in first on 3 September 1942.", {}}});
}

TEST_CASE("words of the trade for the ends and turns of a life") {
  check(BlockKind::kCaption,
        {{"TW101 at Mell Strip. It vanished without trace.", {"lost @TW101"}},
         {"TW101 was posted overdue that night.", {"lost @TW101"}},
         {"TW101 F.T.R. 11.2.43.", {"lost @TW101 1943-02-11"}},
         {"TW101 fell to a night fighter.", {"lost @TW101"}},
         {"TW101 stood up well to the wind.", {}},
         {"TW103, condemned and sold.", {"struck_off_charge @TW103", "struck_off_charge @TW103"}},
         {"TW103. Finished as delivered in May 1942.", {"taken_on_charge @TW103"}},
         {"TW103 was mended in a week.", {"repair @TW103"}},
         {"TW103 after Sgt Hollin took her through the hedge at Mell Strip, 14 September 1944.",
          {"accident @TW103 1944-09-14"}},
         {"Sgt Hollin was killed in TW101 on 11 February 1943.", {"lost @TW101 1943-02-11"}},
         {"TW103 and Sgt Hollin, who died in 1951.", {}},
         {"TW103, a print sold in 1961.", {}},
         {"TW103 of an accident-prone flight.", {}}});
}

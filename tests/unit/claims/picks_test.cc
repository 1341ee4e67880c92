// Which of several machines is meant, and what pronouns stand for: one row a phenomenon.
#include <algorithm>
#include <catch2/catch.hpp>

#include "coast_patrol.h"

using namespace tailproof;
using namespace tailproof::testing;

namespace {

struct Row {
  const char* phenomenon;
  const char* caption;
  std::vector<std::string> wanted;    // each must be there
  std::vector<std::string> unwanted;  // beginnings that no claim may have
  BlockKind kind = BlockKind::kCaption;
};

const Row kRows[] = {
    {"which is which in brackets parts no list",
     "KB201 (nearest) and KB202 of 61 Sqn, Gale Head.",
     {"unit 61 Squadron @KB201", "unit 61 Squadron @KB202"},
     {}},
    {"as many machines as the words count",
     "Two Sandmartins of 61 Squadron over Mirk Sound: LD-A (KB201) leads, with LD-B (KB202) tucked "
     "in behind.",
     {"type Sandmartin @KB201", "type Sandmartin @KB202", "unit 61 Squadron @KB202"},
     {}},
    {"the leader",
     "LD-A (KB201) leads, with KB202 tucked in behind. The leader has a fin flash.",
     {"marking fin flash @KB201 on fin"},
     {"marking fin flash @KB202"}},
    {"the nearer machine and the other",
     "KB201 (nearest) and KB202 at Gale Head. The nearer machine has a broad band, the other a fin "
     "flash.",
     {"marking broad band @KB201", "marking fin flash @KB202 on fin"},
     {"marking broad band @KB202", "marking fin flash @KB201"}},
    {"the nearer of two, and nothing says which",
     "KB201 and KB202 at Gale Head. The nearer machine has a broad band.",
     {"marking broad band @Fig. 1"},
     {"marking broad band @KB20"}},
    {"the former and the latter",
     "KB201 and KB203 at Gale Head. The latter still wears the red disc.",
     {"marking red disc @KB203"},
     {"marking red disc @KB201"}},
    {"the other hangar is none",
     "KB201 and KB202 at Gale Head. Behind the other hangar, a broad band on KB201.",
     {"marking broad band @KB201"},
     {}},
    {"its sister",
     "KB201 and KB203 came home. KB201 was scrapped. Its sister was lost in May 1943.",
     {"event lost @KB203", "date 1943-05 @KB203 of event"},
     {"event lost @KB201"},
     BlockKind::kBody},
    {"both behind a preposition",
     "KB201 and KB202. White band on both.",
     {"marking broad band @KB201", "marking broad band @KB202"},
     {}},
    {"none of the three",
     "KB201, KB202 and KB203 at Gale Head. None of the three has a fin flash.",
     {"marking fin flash @KB201 on fin negated", "marking fin flash @KB203 on fin negated"},
     {}},
    {"no letters",
     "KB201 at Gale Head, no letters yet.",
     {"marking code letters @KB201 negated"},
     {}},
    {"uncoded", "KB201, uncoded, at Gale Head.", {"marking code letters @KB201 negated"}, {}},
    {"letters that are given are the code",
     "KB201 with the letters LD-A.",
     {"airframe LD-A @KB201 (code)"},
     {"marking code letters"}},
    {"letters from home", "KB201 and a pile of letters from home.", {}, {"marking code letters"}},
    {"it stands for the marking",
     "The broad band came late. KB201 had it in August 1943, KB203 in October.",
     {"marking broad band @KB201", "marking broad band @KB203", "date 1943-10 @KB203 of event"},
     {},
     BlockKind::kBody},
    {"none stands for the marking",
     "KB201 with a broad band; KB202 has none.",
     {"marking broad band @KB201", "marking broad band @KB202 negated"},
     {}},
    {"it repainted is none",
     "The broad band came late. KB201 had it repainted.",
     {},
     {"marking broad band @KB201"},
     BlockKind::kBody},
    {"the day after the accident",
     "KB202 on 31 July 1943, the day after the accident.",
     {"date 1943-07-31 @Fig. 1 of photograph", "date 1943-07-30 @KB202 of event"},
     {}},
    {"three days after its loss, and the day",
     "All that was found of KB202 three days after the loss, 2 August 1943.",
     {"date [1943-07-30,1943-08-02] @KB202 of event", "date 1943-08-02 @Fig. 1 of photograph"},
     {}},
    {"years counted to the month that the sentence has given",
     "The yard closed in October 1943, fourteen years after the treaty.",
     {"date 1943-10 of event", "date 1943 of event"},
     {},
     BlockKind::kBody},
    {"days counted from a place with its day",
     "They met again at Corvo on 15 December 1943. Two days after Corvo the general went home.",
     {"date 1943-12-17 of event"},
     {},
     BlockKind::kBody},
    {"days counted from what has no day",
     "They met again at Corvo in December 1943. Two days after Corvo the general went home.",
     {},
     {"date 1943-12-17"},
     BlockKind::kBody},
    {"a year in a place is no length",
     "He died in 1943 in Gale Head.",
     {"date 1943 of person"},
     {"measure"},
     BlockKind::kBody},
    {"a day counted from an event alone",
     "KB202 three days after the loss.",
     {},
     {"date 1943-07-30"}},
    {"a boat of the sentence before governs no number",
     "Taken from the same boat. KB201 has swung round.",
     {"airframe KB201 @KB201"},
     {}},
    {"a list before in",
     "Sandmartins KB201, 202 and 203 in line abreast.",
     {"airframe KB203 @KB203"},
     {"measure"}},
    {"the type parts two statements",
     "KB201 and the Dowitcher KB211 at Gale Head. The Sandmartin has a fin flash, the "
     "Dowitcher a white band.",
     {"marking fin flash @KB201 on fin", "marking broad band @KB211"},
     {"marking broad band @KB201"}},
    {"a unit's own story before its machines",
     "61 Squadron was formed at Gale Head on 3 May 1941 and received its first Sandmartins, KB201 "
     "and KB202, on 1 June.",
     {"place Gale Head @61 Squadron", "date 1941-05-03 @61 Squadron of event",
      "date 1941-06-01 @KB201 of event", "date 1941-06-01 @KB202 of event"},
     {"place Gale Head @KB", "date 1941-05-03 @KB"},
     BlockKind::kBody},
    {"on a part of one of them",
     "KB201, KB202 and KB203 at Gale Head. White band on the fuselage of KB202 only.",
     {"marking broad band @KB202 on fuselage"},
     {"marking broad band @KB201", "marking broad band @KB203"}},
    {"the first two and the third",
     "KB201, KB202 and KB203 at Gale Head. The first two wear the red disc; on the third a fin "
     "flash.",
     {"marking red disc @KB201", "marking red disc @KB202", "marking fin flash @KB203 on fin"},
     {"marking red disc @KB203", "marking fin flash @KB201"}},
    {"throughout",
     "KB201 nearest, KB202 beyond. Red discs throughout.",
     {"marking red disc @KB201", "marking red disc @KB202"},
     {}},
    {"throughout the year is no machine",
     "KB201 at Gale Head throughout 1942, with KB202.",
     {},
     {}},
    {"neither, past an aside",
     "KB201 and KB202. Neither, curiously, has a fin flash.",
     {"marking fin flash @KB201 on fin negated"},
     {"marking fin flash @KB201 on fin former"}},
    {"denied twice", "KB201, not without its fin flash.", {"marking fin flash @KB201 on fin"}, {}},
    {"gone grey is not gone",
     "KB201, the white band gone grey.",
     {"marking broad band @KB201"},
     {}},
    {"missing",
     "On 3 May 1943 KB202 was missing.",
     {"event lost @KB202", "date 1943-05-03 @KB202 of event"},
     {},
     BlockKind::kBody},
    {"missing something", "KB202 was missing its spinner.", {}, {"event lost"}, BlockKind::kBody},
    {"for repainting",
     "KB201 hauled out for repainting, October 1943.",
     {"date 1943-10 @Fig. 1 of photograph"},
     {"date 1943-10 @KB201"}},
    {"to a unit, and the day",
     "KB201, 61 Squadron, 12.42. To 62 Squadron 14.12.42.",
     {"date 1942-12-14 @KB201 of event", "unit 62 Squadron @KB201 (later) later"},
     {"date 1942-12-14 @Fig. 1"}},
    {"a credit in a bracket", "KB201 at Gale Head. (Photo: I. Crewe)", {}, {"person Ida Crewe"}},
    {"a seat behind the name",
     "KB211 with T. Vardle (pilot) and I. Crewe.",
     {"person Tom Vardle @KB211", "person Ida Crewe @Fig. 1"},
     {}},
    {"a machine's owner", "KB211 was Sgt Tom Vardle's own.", {"person Tom Vardle @KB211"}, {}},
    {"opening words count from the day below",
     "Four days before its loss. KB202 at Gale Head, 26 July 1943.",
     {"date 1943-07-30 @KB202 of event", "date 1943-07-26 @Fig. 1 of photograph"},
     {}},
    {"an order's two days",
     "CN 4/41, signed 1 March 1941, effective 1 April 1941, brought the flash.",
     {"date 1941-03-01 @CN 4/41 of order", "date 1941-04-01 @CN 4/41 of order"},
     {},
     BlockKind::kBody},
    {"a later sentence tells on",
     "KB201 at Gale Head, May 1942. It was gone by August.",
     {"date 1942-05 @Fig. 1 of photograph"},
     {"date ../1942-08-31 @Fig. 1"}},
    {"one seen under another",
     "KB201. Under the plain disc the red disc may be seen.",
     {"overpaint plain disc over red disc @KB201"},
     {}},
    {"not yet worn",
     "KB201, the white band not yet worn.",
     {"marking broad band @KB201 negated"},
     {}},
};

}  // namespace

TEST_CASE("one of several machines is meant") {
  for (const Row& row : kRows) {
    const std::vector<std::string> lines = lines_of(row.caption, row.kind);
    std::string all;
    for (const std::string& line : lines) all += "  " + line + "\n";
    INFO(row.phenomenon << ": " << row.caption << "\n" << all);
    for (const std::string& wanted : row.wanted) {
      CAPTURE(wanted);
      CHECK(std::find(lines.begin(), lines.end(), wanted) != lines.end());
    }
    for (const std::string& unwanted : row.unwanted) {
      CAPTURE(unwanted);
      CHECK(std::none_of(lines.begin(), lines.end(),
                         [&](const std::string& line) { return line.starts_with(unwanted); }));
    }
  }
}

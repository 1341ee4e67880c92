// What is claimed of whom: one row a phenomenon, each with a caption that an author would write.
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
};

const Row kRows[] = {
    {"as many days as machines",
     "KB201 and KB202 were lost, both of them, in June and July 1943.",
     {"date 1943-06 @KB201 of event", "date 1943-07 @KB202 of event"},
     {"date 1943-06 @KB202", "date 1943-07 @KB201"}},
    {"an opinion given up, and what the author says",
     "Long supposed to be KB201, this is KB202 of 61 Squadron at Gale Head.",
     {"airframe KB201 @KB201 attributed", "airframe KB202 @KB202", "unit 61 Squadron @KB202",
      "place Gale Head @KB202"},
     {"place Gale Head @KB201"}},
    {"a mistake of others opens the sentence",
     "Mistaken for KB201 in two books, KB202 stands at Gale Head.",
     {"airframe KB201 @KB201 attributed", "airframe KB202 @KB202", "place Gale Head @KB202"},
     {}},
    {"a plain caption",
     "Sandmartin KB201 of 61 Squadron at Gale Head, March 1942. (OCP 12)",
     {"airframe KB201 @KB201", "type Sandmartin @KB201", "unit 61 Squadron @KB201",
      "place Gale Head @KB201", "date 1942-03 @Fig. 1 of photograph",
      "reference OCP 12 @Fig. 1 (photograph)"},
     {}},
    {"the mark belongs to the type",
     "KB203, a Sandmartin Mk II.",
     {"type Sandmartin Mk II @KB203"},
     {}},
    {"what was done to the paint once is not the day of the picture",
     "KB203 in its last summer. The paint, renewed by the yard in June 1943, is going. Gale Head, "
     "March 1944.",
     {"date 1943-06 @KB203 of event", "date 1944-03 @Fig. 1 of photograph"},
     {}},
    {"how the machine stands is its picture's day",
     "KB203, parked at Gale Head in June 1943, is without its codes.",
     {"date 1943-06 @Fig. 1 of photograph"},
     {}},
    {"a number that a comma parts from its noun",
     "KB203 in June 1943. The negative number, KB207, is scratched on the edge.",
     {},
     {"airframe KB207"}},
    {"others of a second mark behind a list of the first",
     "Two of the old Sandmartins (KB201, KB202) and the first Mk IIs, June 1942.",
     {"type Sandmartin @KB201", "type Sandmartin @KB202"},
     {"type Sandmartin Mk II @KB"}},
    {"a mark said again of the list itself",
     "Sandmartins KB201 and KB203, both Mk IIs.",
     {"type Sandmartin Mk II @KB201", "type Sandmartin Mk II @KB203"},
     {}},
    {"a list shares what is said of it",
     "KB201, KB202 and KB203 of 61 Sqn.",
     {"unit 61 Squadron @KB201", "unit 61 Squadron @KB202", "unit 61 Squadron @KB203"},
     {}},
    {"a list leaves out what its first member gives",
     "Sandmartins KB201, 202 and 203.",
     {"airframe KB201 @KB201", "airframe KB202 @KB202", "airframe KB203 @KB203"},
     {}},
    {"codes beside their serials",
     "KB201 (LD-A) and KB202 (LD-B) at Gale Head.",
     {"airframe LD-A @KB201 (code)", "airframe LD-B @KB202 (code)"},
     {"airframe LD-A @KB202", "airframe LD-B @KB201"}},
    {"codes in the order of their serials",
     "KB201 and KB202 in the dispersal, coded LD-A and LD-B.",
     {"airframe LD-A @KB201 (code)", "airframe LD-B @KB202 (code)"},
     {}},
    {"a number on the tail",
     "KB201 from behind: 201 on the tail.",
     {"airframe 201 @KB201 (tail) on tail"},
     {}},
    {"a bare number is no serial", "KB201 with 201 gallons aboard.", {}, {"airframe 201"}},
    {"another noun governs the number",
     "KB201 after drawing KB205, from box KB 206.",
     {"airframe KB201 @KB201"},
     {"airframe KB205", "airframe KB206"}},
    {"a drum is marked with a number",
     "KB201 at Gale Head. The drum is marked KB 207.",
     {"airframe KB201 @KB201"},
     {"airframe KB207"}},
    {"a serial that was never built is denied",
     "KB201 was the first; KB230 was cancelled and never built.",
     {"airframe KB230 @KB230 negated"},
     {}},
    {"the text calls it a serial",
     "The serial, KB2011, is a misprint of ours.",
     {"airframe KB2011 @KB2011 (malformed)"},
     {}},
    {"a former serial stands for its machine",
     "C-77 at Gale Head in 1940.",
     {"airframe C-77 @KB211 (previous_serial)", "place Gale Head @KB211"},
     {}},
    {"holder and operator",
     "KB201, held by 3 Servicing Unit and flown by No. 62 Squadron.",
     {"unit 3 Servicing Unit @KB201 (holder)", "unit 62 Squadron @KB201 (operator)"},
     {}},
    {"a former unit",
     "KB201, formerly with 62 Squadron.",
     {"unit 62 Squadron @KB201 (former) former"},
     {}},
    {"a unit of somebody unnamed is not the machine's",
     "KB201 of 61 Squadron, photographed by a pilot of 62 Squadron.",
     {"unit 61 Squadron @KB201", "unit 62 Squadron (member)"},
     {"unit 62 Squadron @KB201"}},
    {"a person with rank, unit and award",
     "Sqn Ldr I. Crewe, CC, of 61 Squadron.",
     {"rank Squadron Leader @Ida Crewe", "person Ida Crewe @Fig. 1", "award Coast Cross @Ida Crewe",
      "unit 61 Squadron @Ida Crewe (member)"},
     {}},
    {"a plural rank belongs to each",
     "Sergeants Crewe and Vardle.",
     {"rank Sergeant @Ida Crewe", "rank Sergeant @Tom Vardle"},
     {}},
    {"a later rank",
     "Sgt T. Vardle, later Flying Officer Vardle.",
     {"rank Sergeant @Tom Vardle", "rank Flying Officer @Tom Vardle later"},
     {}},
    {"a corporal in the crowd is not the man named",
     "Sqn Ldr Crewe, and beside her, with the rope, a sergeant.",
     {},
     {"rank Sergeant @Ida Crewe"}},
    {"units and commanders in the same order",
     "Squadron Leaders Crewe and Vardle, commanding the 61st and 62nd respectively.",
     {"unit 61 Squadron @Ida Crewe (command)", "unit 62 Squadron @Tom Vardle (command)"},
     {}},
    {"whose album it is", "KB201 at Gale Head. Crewe album.", {}, {"person Ida Crewe"}},
    {"a doubt",
     "KB201, probably of 61 Squadron.",
     {"unit 61 Squadron @KB201 hedged", "airframe KB201 @KB201"},
     {}},
    {"a doubt set between commas reaches over the next words",
     "KB201 of, it is thought, 61 Squadron.",
     {"unit 61 Squadron @KB201 hedged"},
     {}},
    {"a denial", "KB201 without a white band.", {"marking broad band @KB201 negated"}, {}},
    {"a denial behind its noun",
     "KB201; the white band is gone.",
     {"marking broad band @KB201 negated"},
     {}},
    {"No. 3 denies nothing",
     "KB201 outside No. 3 hangar with the white band.",
     {"marking broad band @KB201"},
     {}},
    {"what is hidden is not claimed", "KB201. The crowd hides the white band.", {}, {"marking"}},
    {"what others say",
     "Often captioned KB202, but it is KB201.",
     {"airframe KB202 @KB202 attributed", "airframe KB201 @KB201"},
     {}},
    {"words in quotation marks are somebody's",
     "KB201. The label reads “KB202 of 62 Squadron at Gale Head”.",
     {"airframe KB202 @KB202 attributed"},
     {}},
    {"positions, each a claim of its own",
     "KB201 with the plain disc on the fuselage and under the wings.",
     {"marking plain disc @KB201 on fuselage", "marking plain disc @KB201 on under wing"},
     {}},
    {"the position before the marking",
     "KB201: under the wings, the red-centred disc.",
     {"marking red disc @KB201 on under wing"},
     {}},
    {"a marking that orders know in one place",
     "KB201 with the flash.",
     {"marking fin flash @KB201 on fin"},
     {}},
    {"a machine that only dates the picture is not in it",
     "KB201 at Gale Head, two days before KB202 was lost.",
     {"airframe KB201 @KB201", "airframe KB202 @KB202 not shown",
      "date 1943-07-28 @Fig. 1 of photograph", "event lost @KB202"},
     {}},
    {"the date of an event is not the picture's",
     "KB201, delivered in February 1941, at Gale Head in May 1942.",
     {"date 1941-02 @KB201 of event", "date 1942-05 @Fig. 1 of photograph"},
     {}},
    {"the date of an order is not the picture's",
     "KB201 with the flash introduced on 1 April 1941.",
     {"date 1941-04-01 @Fig. 1 of order"},
     {}},
    {"a second date that does not narrow the first is of something else",
     "KB201 at Gale Head, May 1942. It went to 62 Squadron in August.",
     {"date 1942-05 @Fig. 1 of photograph", "date 1942-08 @KB201 of event"},
     {}},
    {"an earlier state",
     "KB201 at Gale Head. It had been LD-C before.",
     {"airframe LD-C @KB201 (code) former"},
     {}},
    {"a figure and its number", "KB201 as in Fig. 7.", {"reference Fig. 7 @Fig. 1"}, {}},
    {"a measure and its conversion",
     "KB201 with a band 18 in (46 cm) wide.",
     {"measure 18 in = 46 cm @KB201"},
     {}},
    {"a marking described in other words than its name",
     "KB201 at Gale Head, the red still in the centre of the disc.",
     {"marking red disc @KB201"},
     {}},
    {"the words of a marking about other things",
     "KB201 at Gale Head; the red bus in the centre of town has a disc brake.",
     {},
     {"marking red disc"}},
    {"a plural pronoun stands for all",
     "KB201 and KB202 at Gale Head. Both are in the plain disc.",
     {"marking plain disc @KB201", "marking plain disc @KB202"},
     {}},
    {"codes without a serial stand for their machines",
     "LD-A and LD-B at Gale Head, May 1942.",
     {"airframe LD-A @KB201 (code)", "airframe LD-B @KB202 (code)", "place Gale Head @KB201",
      "place Gale Head @KB202"},
     {}},
    {"a code has the serial in brackets behind it",
     "LD-A (KB201), LD-B (KB202) and LD-C (KB203).",
     {"airframe LD-A @KB201 (code)", "airframe LD-B @KB202 (code)", "airframe LD-C @KB203 (code)"},
     {}},
    {"the members of a range",
     "KB201 to KB203 at Gale Head.",
     {"airframe KB202 @KB202", "place Gale Head @KB202"},
     {}},
    {"alternatives are doubted, and what is said is the picture's",
     "KB201 or KB202 at Gale Head.",
     {"airframe KB201 @KB201 hedged", "airframe KB202 @KB202 hedged", "place Gale Head @Fig. 1"},
     {}},
    {"the machine that a picture was taken from",
     "From KB202: KB201 over Mirk Sound.",
     {"airframe KB202 @KB202 not shown", "airframe KB201 @KB201"},
     {}},
    {"a number of something else", "KB201 outside No. 2 hangar.", {}, {"airframe 2"}},
    {"a place that says whose a thing is",
     "KB201 and the Gale Head dope shop.",
     {},
     {"place Gale Head"}},
    {"what there is not, and what there is",
     "KB201 in May 1942. There is no white band on the fuselage.",
     {"airframe KB201 @KB201", "marking broad band @KB201 on fuselage negated"},
     {"airframe KB201 @KB201 negated"}},
    {"a number far from every year of the ledger",
     "Ida Crewe changing a plug on 2043 at Gale Head, May 1942.",
     {"date 1942-05 @Fig. 1 of photograph"},
     {"date 2043"}},
    {"one marking over another",
     "KB201: the plain disc, painted over the red disc.",
     {"overpaint plain disc over red disc @KB201"},
     {}},
    {"what is asked only to be denied",
     "KB202? No: the fin tells otherwise. It is KB201 at Gale Head.",
     {"airframe KB202 @KB202 negated attributed", "place Gale Head @KB201"},
     {"place Gale Head @KB202"}},
    {"what has been stated by nobody in particular is not the author's",
     "It has been written, by people who never saw it, that KB201 was a Dowitcher.",
     {"type Dowitcher @KB201 attributed"},
     {}},
    {"it was reported lost, which is no statement of others",
     "KB201 in the surf. It was reported by the coastguard.",
     {"airframe KB201 @KB201"},
     {}},
    {"what had befallen somebody was before the picture",
     "What was left of KB201 on 3 May 1944. Sgt Tom Vardle had crashed the night before.",
     {"person Tom Vardle @Fig. 1 former"},
     {}},
    {"somebody who has something is in the picture",
     "KB201 on 3 May 1944. Sgt Tom Vardle had the controls.",
     {"person Tom Vardle @Fig. 1"},
     {}},
    {"several of a type are not the one machine named before",
     "KB201 was the first. By May the squadron had seven, four of them Sandmartin Mk IIs.",
     {},
     {"type Sandmartin Mk II @KB201"}},
    {"a part of the aircraft in somebody's hands",
     "KB201 at Gale Head, May 1942. A rigger is fixing the flash.",
     {},
     {"marking fin flash"}},
    {"what a verb takes away is gone, and nothing else is denied",
     "KB201, which crashed at Gale Head on 3 May 1942 and removed a hut.",
     {"event accident @KB201", "place Gale Head @KB201"},
     {"event accident @KB201 negated"}},
    {"a marking that was taken away",
     "The depot removed the broad band from KB201 in May 1942.",
     {"marking broad band @KB201 negated"},
     {}},
    {"never having been applied",
     "KB201 with a bare fin, the fin flash never having been applied.",
     {"marking fin flash @KB201 on fin negated"},
     {}},
    {"places of a marking on both sides of an aside",
     "KB201 has the broad band on the fuselage and, since nobody said otherwise, on the wings.",
     {"marking broad band @KB201 on fuselage", "marking broad band @KB201 on wing"},
     {}},
    {"what is told of him is not the machine's",
     "Sgt Tom Vardle with KB201, June 1942. He had come to 62 Squadron from the artillery.",
     {"unit 62 Squadron @Tom Vardle (member) former"},
     {"unit 62 Squadron @KB201"}},
    {"what he flew is the machine's still",
     "Sgt Tom Vardle with KB201, June 1942. He flew it with 62 Squadron.",
     {"unit 62 Squadron @KB201"},
     {}},
    {"a kind of which not every one came back",
     "Not every Sandmartin lent to 62 Squadron came back. This is KB201.",
     {},
     {"event loaned @KB201"}},
    {"the place of what comes next",
     "KB201 with the broad band on the fuselage and, on the fin, the name of a girl.",
     {"marking broad band @KB201 on fuselage"},
     {"marking broad band @KB201 on fin"}},
};

}  // namespace

TEST_CASE("claims as captions state them") {
  for (const Row& row : kRows) {
    const std::vector<std::string> lines = lines_of(row.caption);
    std::string all;
    for (const std::string& line : lines) all += "\n  " + line;
    INFO(row.phenomenon << ": " << row.caption << all);
    for (const std::string& wanted : row.wanted) {
      INFO("wanted: " << wanted);
      CHECK(std::find(lines.begin(), lines.end(), wanted) != lines.end());
    }
    for (const std::string& unwanted : row.unwanted) {
      INFO("unwanted: " << unwanted);
      CHECK(std::none_of(lines.begin(), lines.end(),
                         [&](const std::string& line) { return line.starts_with(unwanted); }));
    }
  }
}

TEST_CASE("claims of a caption hold at the picture's date, those of an event at its own") {
  const auto claims =
      claims_of({{BlockKind::kCaption,
                  "KB201 of 61 Squadron in March 1942. It was repainted on 10 April 1942."}});
  for (const Claim& claim : claims) {
    if (claim.kind == ClaimKind::kUnit) CHECK(iso_day(claim.when.days.first()) == "1942-03-01");
    if (claim.kind == ClaimKind::kEvent) CHECK(iso_day(claim.when.days.first()) == "1942-04-10");
  }
  CHECK(claims.size() == 5);
}

TEST_CASE("claims are in the order of the text and name each other rightly") {
  const auto claims = claims_of({{BlockKind::kBody, "KB202 was lost on 30 July 1943 at Gale Head."},
                                 {BlockKind::kCaption, "Sgt T. Vardle with KB201, 4 May 1942."}});
  for (std::size_t i = 0; i < claims.size(); ++i) {
    if (i > 0 && claims[i].block == claims[i - 1].block)
      CHECK(claims[i - 1].begin <= claims[i].begin);
    if (claims[i].kind == ClaimKind::kDate && claims[i].event != kNone) {
      CHECK(claims[claims[i].event].value == "lost");
    }
    if (claims[i].kind == ClaimKind::kRank) {
      CHECK(claims[claims[i].holder_of_rank].value == "Tom Vardle");
    }
    if (claims[i].when.date != kNone) CHECK(claims[claims[i].when.date].kind == ClaimKind::kDate);
  }
}

TEST_CASE("a caption leans on the caption before it, and a title on the one below") {
  const auto lines_of_two = [](const std::string& first, const std::string& second, bool is_one) {
    std::vector<Manuscript> manuscripts(1);
    for (const std::string& text : {first, second}) {
      Block block;
      block.kind = BlockKind::kCaption;
      block.text = text;
      block.runs = {{0, 0, static_cast<std::uint32_t>(text.size()), true}};
      const std::size_t count = manuscripts[0].blocks.size();
      block.group = is_one ? 0 : static_cast<std::uint32_t>(count);
      block.figure = is_one || count == 0 ? "Fig. 1" : "Fig. 2";
      manuscripts[0].blocks.push_back(std::move(block));
      manuscripts[0].sections.push_back(kNone);
    }
    std::vector<std::string> lines;
    for (const Claim& claim : extract_claims(manuscripts, ledger(), english()))
      lines.push_back(in_a_line(claim));
    return lines;
  };
  const auto has = [](const std::vector<std::string>& lines, const std::string& line) {
    return std::find(lines.begin(), lines.end(), line) != lines.end();
  };
  const auto days = lines_of_two("KB201, 4 May 1942.", "KB202 on the same day.", false);
  CHECK(has(days, "date 1942-05-04 @Fig. 2 of photograph"));
  const auto months = lines_of_two("KB201, May 1942.", "KB202 three months later.", false);
  CHECK(has(months, "date 1942-08 @Fig. 2 of photograph"));
  const auto machine =
      lines_of_two("KB201, May 1942.", "The same machine at Gale Head, June 1942.", false);
  CHECK(has(machine, "place Gale Head @KB201"));
  const auto other = lines_of_two("KB201, May 1942.", "A machine at Gale Head, June 1942.", false);
  CHECK(has(other, "place Gale Head @Fig. 2"));
  const auto title = lines_of_two("Gale Head in summer", "KB201 in May 1942, at rest.", true);
  CHECK(has(title, "place Gale Head @KB201"));
  CHECK_FALSE(has(title, "date 1942-22 @Fig. 1 of event"));
}

TEST_CASE("a number on a tail is no year, far from all that the ledger knows") {
  constexpr LedgerFile kLent[] = {
      {"ledger.toml",
       "title = \"t\"\nair_arm = \"Ombrel Coast Patrol\"\n"
       "[[serial_form]]\npattern = '7-(\\d{4})'\nserial = '7-\\1'\n"
       "[[serial_form]]\npattern = '(20\\d{2})'\nserial = '7-\\1'\nwhere = \"tail\"\n"},
      {"airframes.csv",
       "serial,type,taken_on_charge,struck_off_charge\n7-2043,Dowitcher,1943-06-01,1945-05-31\n"
       "7-2047,Dowitcher,1943-06-01,1945-05-31\n"},
      {"types.csv", "type\nDowitcher\n"},
  };
  const Ledger lent = ledger_of(kLent);
  const auto lines_with = [&](const std::string& caption) {
    std::vector<std::string> lines;
    for (const Claim& claim :
         extract_claims(one_block(BlockKind::kCaption, caption), lent, english())) {
      lines.push_back(in_a_line(claim));
    }
    return lines;
  };
  const std::vector<std::string> told = lines_with("Dowitchers 2043 and 2047, June 1943.");
  CHECK_THAT(told, Catch::VectorContains(std::string("airframe 2043 @7-2043 (tail)")));
  CHECK_THAT(told, Catch::VectorContains(std::string("date 1943-06 @Fig. 1 of photograph")));
  for (const std::string& line : told) CHECK(line.find("date 20") == std::string::npos);
  // With the word of a year before it, it is one, and who wrote it will hear of it.
  const std::vector<std::string> year = lines_with("A Dowitcher in 2043.");
  CHECK_THAT(year, Catch::VectorContains(std::string("date 2043 @Fig. 1 of photograph")));
}

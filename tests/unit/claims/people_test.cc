// People, ranks and awards, in captions that an author would write.
#include <algorithm>
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
     "serial,type,mark,taken_on_charge,struck_off_charge\n"
     "KB201,Sandmartin,Mk I,1941-02-03,1944-05-06\nKB202,Sandmartin,Mk I,1941-02-10,1943-08-01\n"
     "KB211,Dowitcher,B.1,1941-06-01,1945-01-01\n"},
    {"identities.csv",
     "serial,identity,kind,from,to,operator\nKB201,LD-A,code,1941-02,1943-01,\n"
     "KB202,LD-B,code,1941-02,1943-01,\n"},
    {"units.csv",
     "unit,aliases,kind,formed,disbanded\n61 Squadron,No. 61 Squadron;61 Sqn,squadron,1941-01-01,\n"
     "62 Squadron,No. 62 Squadron;62 Sqn;the Dippers,squadron,1941-01-01,1942-06-30\n"
     "9 Squadron,9 Sqn;the Ninth,squadron,1941-01-01,\n"
     "63 Squadron,63 Sqn;the Dippers,squadron,1942-07-01,\n"
     "Gunnery School,the School,training,1940-01-01,\n"},
    {"places.csv", "place\nGale Head\nMirk Sound\n"},
    {"people.csv",
     "person,aliases\nIda Crewe,I. Crewe;Crewe\nTom Vardle,T. Vardle;Vardle\nGil Hasper,\n"},
    {"ranks.csv",
     "rank,abbreviations,seniority\nSergeant,Sgt,1\nFlying Officer,F/O;Fg Off,2\n"
     "Squadron Leader,Sqn Ldr,3\n"},
    {"awards.csv", "award,abbreviations\nCoast Cross,CC\n"},
    {"types.csv", "type,aliases\nSandmartin,\nDowitcher,\n"},
};

const Ledger& ledger() {
  static const Ledger kept = ledger_of(kLedger);
  return kept;
}

// "kind value @subject (role)" and the tense.
std::string in_a_line(const Claim& claim) {
  std::string line(to_word(claim.kind));
  line += " " + claim.value;
  if (!claim.subject.empty()) line += " @" + claim.subject;
  if (!claim.role.empty()) line += " (" + claim.role + ")";
  if (claim.tense == Tense::kFormer) line += " former";
  if (claim.tense == Tense::kLater) line += " later";
  return line;
}

struct Row {
  const char* phenomenon;
  const char* text;
  std::vector<std::string> wanted;    // each must be there
  std::vector<std::string> unwanted;  // beginnings that no claim may have
};

void check_rows(BlockKind kind, const std::vector<Row>& rows) {
  for (const Row& row : rows) {
    const std::vector<Manuscript> manuscripts = one_block(kind, row.text);
    std::vector<std::string> lines;
    std::string all;
    for (const Claim& claim : extract_claims(manuscripts, ledger(), english())) {
      lines.push_back(in_a_line(claim));
      all += "\n  " + lines.back();
    }
    INFO(row.phenomenon << ": " << row.text << all);
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

}  // namespace

TEST_CASE("people whom the ledger does not have") {
  check_rows(
      BlockKind::kCaption,
      {
          {"a rank makes a name of the word behind it",
           "Seated, left to right: Sgt Pollard; F/O R. Anstey; a cook; Sergeant Joan Wick.",
           {"person Pollard @Fig. 1", "rank Sergeant @Pollard", "person R. Anstey @Fig. 1",
            "rank Flying Officer @R. Anstey", "person Joan Wick @Fig. 1"},
           {}},
          {"a plural rank makes names of a list",
           "Sergeants Pollard, Anstey and Vardle, Gale Head.",
           {"rank Sergeant @Pollard", "rank Sergeant @Anstey", "rank Sergeant @Tom Vardle"},
           {"person Gale", "rank Sergeant @Gale"}},
          {"initials in a row of names",
           "From left: Crewe, P. Weir, Tolley and Vardle.",
           {"person P. Weir @Fig. 1", "person Tolley @Fig. 1"},
           {}},
          {"once named, by the surname",
           "Sgt B. Pollard with the goat. Pollard is the one with the hat.",
           {"person B. Pollard @Fig. 1", "rank Sergeant @B. Pollard"},
           {"person Pollard"}},
          {"a namesake of somebody in the ledger",
           "Sgt P. Vardle and Sgt Giles Crewe.",
           {"person P. Vardle @Fig. 1", "person Giles Crewe @Fig. 1", "rank Sergeant @P. Vardle"},
           {"person Tom Vardle", "person Ida Crewe"}},
          {"what a capital after a rank may also be",
           "The Sergeant. Nobody else is known. The Squadron Leader Flying is not here, nor is "
           "Sergeant Somebody.",
           {},
           {"person"}},
          {"a credit with initials is nobody in the picture",
           "KB201 at Gale Head. (Photo: S. Oakley)",
           {},
           {"person"}},
      });
}

TEST_CASE("a first name is a person's once the person has been named") {
  check_rows(BlockKind::kCaption,
             {
                 {"named before",
                  "Gil Hasper and friends. Gil is second from left; Tom is not there.",
                  {"person Gil Hasper @Fig. 1"},
                  {"person Tom"}},
                 {"not named before", "Gil and his dog.", {}, {"person"}},
                 {"another person's surname behind it",
                  "Sgt Vardle beside Tom Barker's lorry. Tom Barker is at the wheel.",
                  {"person Tom Vardle @Fig. 1"},
                  {"person Tom Barker"}},
             });
}

TEST_CASE("a rank painted on the machine") {
  check_rows(BlockKind::kCaption, {
                                      {"in capitals",
                                       "KB201. The letters below the window read SGT T VARDLE.",
                                       {"rank Sergeant @Tom Vardle"},
                                       {}},
                                  });
}

TEST_CASE("units that are somebody's") {
  check_rows(
      BlockKind::kCaption,
      {
          {"in a bracket behind the name",
           "KB201, with Sgt Vardle (lent by 62 Squadron) and the cook.",
           {"unit 62 Squadron @Tom Vardle (member)"},
           {"unit 62 Squadron @KB201"}},
          {"past another bracket",
           "Sqn Ldr Crewe (left) of 61 Squadron beside KB201.",
           {"unit 61 Squadron @Ida Crewe (member)"},
           {}},
          {"in a clause with who",
           "KB201 and Sgt Vardle, who had been lent by 62 Squadron as a gunner.",
           {"unit 62 Squadron @Tom Vardle (member) former"},
           {"unit 62 Squadron @KB201"}},
          {"a tour and its end",
           "Sgt Vardle, whose tour with 61 Squadron ended on 31 May 1943, with KB211.",
           {"unit 61 Squadron @Tom Vardle (member)"},
           {"unit 61 Squadron @KB211"}},
          {"an aircraft of somebody's is not he",
           "Sgt Vardle, whose KB201 went to 61 Squadron.",
           {"unit 61 Squadron @KB201"},
           {"unit 61 Squadron @Tom Vardle"}},
          {"an apposition",
           "On the wing of KB201 sits Sgt Vardle, a rigger of 61 Squadron.",
           {"unit 61 Squadron @Tom Vardle (member)"},
           {"unit 61 Squadron @KB201"}},
          {"behind the unit",
           "61 Squadron fitter Tom Vardle under KB211; at right the Ninth's Sgt Ida Crewe.",
           {"unit 61 Squadron @Tom Vardle (member)", "unit 9 Squadron @Ida Crewe (member)"},
           {"unit 61 Squadron @KB211"}},
          {"people without names",
           "KB201 with a 61 Squadron navigator's table in it.",
           {"unit 61 Squadron @Fig. 1 (member)"},
           {"unit 61 Squadron @KB201"}},
          {"a man's later command is not his today",
           "F/O Crewe, later Squadron Leader and commander of 61 Squadron, in KB201.",
           {"unit 61 Squadron @Ida Crewe (command) later"},
           {}},
          {"who commands the unit of the picture",
           "Officers of 61 Squadron, Gale Head. Front row: Sqn Ldr I. Crewe, commanding, Sgt "
           "Vardle.",
           {"unit 61 Squadron @Ida Crewe (command)"},
           {}},
          {"who commands something else",
           "KB201 in the hands of 61 Squadron. Sqn Ldr I. Crewe, commanding, looks on.",
           {"unit 61 Squadron @KB201 (operator)"},
           {"unit 61 Squadron @Ida Crewe"}},
          {"papers", "KB201, from the album of 61 Squadron.", {}, {"unit 61 Squadron @KB201"}},
      });
  check_rows(
      BlockKind::kBody,
      {
          {"a step of a life",
           "Vardle was posted to 61 Squadron in May 1942. He took over 9 Squadron in June "
           "1943, and KB201 with it.",
           {"unit 61 Squadron @Tom Vardle (member)", "unit 9 Squadron @Tom Vardle (command)"},
           {}},
          {"two might be meant",
           "Vardle saluted Crewe. He took over 9 Squadron in June 1943.",
           {},
           {"unit 9 Squadron @Ida Crewe", "unit 9 Squadron @Tom Vardle"}},
          {"a career",
           "Vardle commanded 61 Squadron from May 1942 and then, from June 1943, the Ninth.",
           {"unit 61 Squadron @Tom Vardle (command)", "unit 9 Squadron @Tom Vardle (command)"},
           {}},
          {"a career and then a machine's",
           "Vardle commanded 61 Squadron in May 1942, when KB201 went to 9 Squadron.",
           {"unit 61 Squadron @Tom Vardle (command)", "unit 9 Squadron @KB201"},
           {}},
          {"a machine's step",
           "After Vardle hit the hedge KB201 went to 61 Squadron.",
           {"unit 61 Squadron @KB201"},
           {"unit 61 Squadron @Tom Vardle"}},
      });
}

TEST_CASE("units of machines, and units that tell their own story") {
  check_rows(BlockKind::kBody,
             {
                 {"a unit's own story",
                  "In the summer of 1942 the Ninth gave up Gale Head, and KB201 went to the depot.",
                  {"unit 9 Squadron"},
                  {"unit 9 Squadron @KB201"}},
                 {"a unit that receives a machine",
                  "In the summer of 1942 61 Squadron received KB201.",
                  {"unit 61 Squadron @KB201"},
                  {}},
                 {"an ordinal without its article is no unit",
                  "KB201 came first. Ninth, and last, came KB211.",
                  {},
                  {"unit"}},
                 {"one of a unit with a plural name",
                  "KB201 was a Dipper.",
                  {"unit 62 Squadron @KB201"},
                  {}},
                 {"of two units of one name the one of that time",
                  "KB201 was with the Dippers in May 1943.",
                  {"unit 63 Squadron @KB201"},
                  {}},
                 {"an entry is about the machine that heads it",
                  "KB202: 61 Sqn 3.3.41; LD-B; 62 Sqn 2.3.42; lost 30.7.43, Sgt Vardle.",
                  {"unit 61 Squadron @KB202", "unit 62 Squadron @KB202"},
                  {}},
                 {"a sentence that begins with a machine is no entry",
                  "KB202 was lost on 30 July 1943. The Ninth had six others.",
                  {},
                  {"unit 9 Squadron @KB202"}},
             });
  check_rows(BlockKind::kCaption,
             {
                 {"the unit that opens a caption is that of all it shows",
                  "61 Squadron, Gale Head, March 1942. Nearest KB201, beyond it KB211.",
                  {"unit 61 Squadron @KB201", "unit 61 Squadron @KB211"},
                  {}},
                 {"a visitor is not the unit's",
                  "61 Squadron, Gale Head, March 1942. Nearest KB201, beyond it a visitor, KB211.",
                  {"unit 61 Squadron @KB201"},
                  {"unit 61 Squadron @KB211"}},
             });
}

TEST_CASE("ranks that stand without a name of their own") {
  check_rows(BlockKind::kCaption,
             {
                 {"over a bracket",
                  "Sergeant (later Flying Officer) Vardle beside KB201.",
                  {"rank Sergeant @Tom Vardle", "rank Flying Officer @Tom Vardle later"},
                  {}},
                 {"by now",
                  "KB201 in 1943. Ida Crewe, by now a Squadron Leader, is measuring something.",
                  {"rank Squadron Leader @Ida Crewe"},
                  {}},
                 {"promoted, nobody says when",
                  "Sgt Vardle (promoted Flying Officer afterwards) and KB201, May 1942.",
                  {"rank Sergeant @Tom Vardle", "rank Flying Officer @Tom Vardle later"},
                  {}},
                 {"somebody without a name is not the one named before",
                  "Sqn Ldr Crewe CC, and a Sergeant whose name nobody knows.",
                  {"rank Sergeant @Fig. 1"},
                  {"rank Sergeant @Ida Crewe"}},
                 {"a noun and no rank of anybody",
                  "Sqn Ldr Crewe and the sergeants' mess at Gale Head.",
                  {},
                  {"rank Sergeant"}},
             });
  check_rows(BlockKind::kBody,
             {
                 {"whom he stands for",
                  "Vardle joined in 1941. He was with the Ninth to the end: Flying Officer from "
                  "May 1943, and the Coast Cross a year later.",
                  {"rank Flying Officer @Tom Vardle", "award Coast Cross @Tom Vardle (told)"},
                  {}},
                 {"of two nobody",
                  "Vardle and Crewe came together. He was a Sergeant.",
                  {},
                  {"rank Sergeant"}},
             });
}

TEST_CASE("awards given and got") {
  check_rows(BlockKind::kCaption,
             {
                 {"to whom it is given",
                  "Sqn Ldr Crewe pins the Coast Cross on Sgt Vardle.",
                  {"award Coast Cross @Tom Vardle (told)"},
                  {"award Coast Cross @Ida Crewe"}},
                 {"got after the picture",
                  "Sgt Vardle, Christmas 1942. Vardle got his Coast Cross six weeks after this.",
                  {"award Coast Cross @Tom Vardle later"},
                  {}},
                 {"beside the name",
                  "Sgt Vardle CC, Christmas 1942.",
                  {"award Coast Cross @Tom Vardle"},
                  {}},
             });
}

TEST_CASE("people in and beside machines") {
  check_rows(
      BlockKind::kCaption,
      {
          {"each behind its machine",
           "Over Mirk Sound: LD-A (KB201), Vardle; LD-B (KB202), Crewe.",
           {"person Tom Vardle @KB201", "person Ida Crewe @KB202"},
           {}},
          {"a bracket behind the machine",
           "Nearest KB201 (Sgt Vardle; shot down in it), beyond it KB202.",
           {"person Tom Vardle @KB201"},
           {}},
          {"a seat",
           "F/O Crewe, later of 9 Squadron, at the controls of KB211.",
           {"person Ida Crewe @KB211"},
           {}},
          {"up", "KB201, Gale Head, May 1942. Sgt Vardle up.", {"person Tom Vardle @KB201"}, {}},
          {"a row of people behind a machine",
           "In front of KB201, Sgt Vardle, F/O Crewe and the cook.",
           {"person Tom Vardle @Fig. 1", "person Ida Crewe @Fig. 1"},
           {}},
      });
}

TEST_CASE("types of machines named before or behind") {
  check_rows(BlockKind::kCaption,
             {
                 {"behind the comma",
                  "KB201 and KB202, the first two Sandmartin Mk Is, at Gale Head.",
                  {"type Sandmartin Mk I @KB201", "type Sandmartin Mk I @KB202"},
                  {}},
                 {"a list behind a plural",
                  "Two Sandmartins of 61 Squadron over Mirk Sound: KB201 and KB202.",
                  {"type Sandmartin @KB201", "type Sandmartin @KB202"},
                  {}},
                 {"several are not one of them",
                  "Twelve Sandmartins set out. The hole was made by the twelfth, KB202.",
                  {"type Sandmartin @Fig. 1"},
                  {"type Sandmartin @KB202"}},
             });
  check_rows(BlockKind::kBody,
             {
                 {"of no machine in running text",
                  "KB201 was a Sandmartin. A Sandmartin cost as much as eleven lorries, and nine "
                  "Dowitchers as much as the airfield.",
                  {"type Sandmartin @KB201", "type Sandmartin", "type Dowitcher"},
                  {"type Dowitcher @"}},
             });
}

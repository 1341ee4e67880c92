// What a newcomer meets: no ledger yet, a ledger of one row, a name misspelt, a file in the wrong
// place. Each must end in a word that says what to do.
#include <catch2/catch.hpp>
#include <string>

#include "small_book.h"

namespace tailproof {

namespace {

constexpr const char* kDraft =
    "![Fig. 1. K-217 at Hesk, May 1944.](a.jpg)\n\n"
    "![Fig. 2. K-999 beside K-217, 1942.](b.jpg)\n";

void add_one_row(const Folder& folder) {
  folder.with("ledger/ledger.toml", "")
      .with("ledger/airframes.csv", "serial,struck_off_charge,source\nK-217,1944-02-20,Card 217\n");
}

}  // namespace

TEST_CASE("a check without a ledger says that it had none") {
  const Folder folder;
  folder.with("draft.md", kDraft);
  CHECK(has(folder.run("tailproof check draft.md").out,
            "0 errors, 0 warnings, 0 notes (2 claims in 1 manuscript, held against no ledger)\n"));
  CHECK(has(folder.run("tailproof claims draft.md").out,
            "2 claims in 1 manuscript (no ledger given: no serial and no name is known)\n"));
  const Outcome nothing = folder.run("tailproof history K-217 draft.md");
  CHECK(nothing.status == 2);
  CHECK(has(nothing.err, "; serials are known by a ledger, name it with --ledger"));
}

TEST_CASE("one row is enough for a query") {
  const Folder folder;
  folder.with("draft.md", kDraft);
  add_one_row(folder);
  const Outcome outcome = folder.run("tailproof check --ledger ledger draft.md");
  CHECK(outcome.status == 1);
  CHECK(outcome.err.empty());
  CHECK(has(outcome.out, "draft.md:1:11: error: K-217 is placed in May 1944"));
  CHECK(has(outcome.out, "claims in 1 manuscript)\n"));
  const std::string named = folder.run("tailproof concordance --ledger ledger draft.md").out;
  CHECK(has(named, "  K-999, not in the ledger\n    draft.md:3:11: Fig. 2\n"));
  CHECK(has(named, "\nUnits: none\n"));
}

TEST_CASE("a check that reached no machine of the ledger says so") {
  const Folder folder;
  folder.with("draft.md", "![Fig. 1. J-217 at Hesk, May 1944.](a.jpg)\n");
  add_one_row(folder);
  const Outcome outcome = folder.run("tailproof check --ledger ledger draft.md");
  CHECK(outcome.status == 0);
  CHECK(has(outcome.out, "(1 claim in 1 manuscript, none of an airframe of the ledger)\n"));
}

TEST_CASE("audit tells what a begun ledger cannot tell yet") {
  const Folder folder;
  folder.with("ledger/ledger.toml", "");
  const std::string audit = "tailproof audit ledger --at-least note";
  CHECK(has(folder.run(audit).out,
            "ledger/ledger.toml: note: no table has a row yet; begin with "
            "airframes.csv: a first line \"serial\""));
  folder.with("ledger/airframes.csv", "serial,type\nK-217,Sallow\nK-218,Sallow\nJ 4,Teal\n");
  const Outcome notes = folder.run(audit);
  CHECK(notes.status == 1);
  CHECK(has(notes.out,
            "ledger/airframes.csv:2: note: the ledger has no table types, and texts are "
            "not searched for type \"Sallow\" and 1 more; write types.csv"));
  CHECK(has(notes.out,
            "what is spelt like K-217 (2 rows) is taken for a serial, 1 other is known "
            "by its row alone; a [[serial_form]] says it exactly"));
  CHECK(has(notes.out, "declares no table and no range of serials closed"));
  CHECK(has(notes.out, "\n0 errors, 0 warnings, 3 notes in the ledger ledger\n"));
  const Outcome quiet = folder.run("tailproof audit ledger");
  CHECK(quiet.status == 0);
  CHECK(quiet.out ==
        "0 errors, 0 warnings, 3 notes in the ledger ledger (--at-least note lists "
        "the notes)\n");
  const Json report = Json::parse(folder.run("tailproof audit ledger --format json").out);
  CHECK(report["totals"]["note"] == 3);
  CHECK(report["findings"].empty());
}

TEST_CASE("audit warns of a serial that no form makes") {
  const Folder folder;
  add_ledger(folder);
  folder.with("ledger/airframes.csv", std::string(kAirframes) + "TK12,Sallow,I,1941,1943,\n");
  const Outcome outcome = folder.run("tailproof audit ledger");
  CHECK(outcome.status == 1);
  CHECK(has(outcome.out,
            "ledger/airframes.csv:4: warning: no serial_form of ledger.toml makes "
            "serial \"TK12\", so that no text can name it; add a form"));
}

TEST_CASE("a table, a column or a key that is misspelt is noted with what was perhaps meant") {
  const Folder folder;
  folder.with("draft.md", kDraft);
  add_one_row(folder);
  folder.with("ledger/ledger.toml", "[defaults]\ntheater = \"Home\"\n")
      .with("ledger/unit.csv", "unit\n3 Flight\n")
      .with("ledger/people.xlsx", "")
      .with("ledger/my notes.csv", "x\n")
      .with("ledger/orders.csv", "order,action,posiiton,colour\n")
      .with("tailproof.toml", "leger = \"ledger\"\n");
  const Outcome outcome = folder.run("tailproof check --ledger ledger draft.md");
  CHECK(outcome.status == 1);  // notes are no trouble
  CHECK(has(outcome.err,
            "unit.csv: note: is no table of a ledger and is not read; \"units.csv\" "
            "was perhaps meant\n"));
  CHECK(has(outcome.err,
            "people.xlsx: note: is no table of a ledger and is not read; a table of a "
            "ledger is a file people.csv\n"));
  CHECK(has(outcome.err,
            "my notes.csv: note: is no table of a ledger and is not read; the tables "
            "are airframes, "));
  CHECK(has(outcome.err,
            "column \"posiiton\" is none of this table and is ignored; \"position\" "
            "was perhaps meant\n"));
  CHECK(has(outcome.err, "column \"colour\" is none of this table and is ignored\n"));
  CHECK(has(outcome.err,
            "defaults.theater is no setting of a ledger and is ignored; \"theatre\" "
            "was perhaps meant\n"));
  CHECK(has(outcome.err,
            "leger is no setting of a project and is ignored; \"ledger\" was perhaps "
            "meant\n"));
}

TEST_CASE("a text without captions, a line where a file is wanted, a file where a serial is") {
  const Folder folder;
  folder.with("draft.md", kDraft).with("plain.txt", "Nothing is pictured here.\n");
  add_one_row(folder);
  const Outcome none = folder.run("tailproof bracket --ledger ledger plain.txt");
  CHECK(none.status == 0);
  CHECK(none.out == "no caption in 1 manuscript\n");
  const Outcome line = folder.run("tailproof check draft.md:3");
  CHECK(line.status == 2);
  CHECK(has(line.err, "no such file or folder; a line of a file is named to bracket alone\n"));
  const Outcome file = folder.run("tailproof history draft.md");
  CHECK(file.status == 2);
  CHECK(has(file.err, "history needs a SERIAL before the PATHs; draft.md is a file\n"));
}

TEST_CASE("a photograph that nothing dates says so") {
  const Folder folder;
  folder.with("draft.md", "![Fig. 1. Three mechanics.](a.jpg)\n");
  CHECK(folder.run("tailproof bracket draft.md").out ==
        "draft.md:1:1: Fig. 1: any date; nothing that it states, here or in the ledger, dates the "
        "picture\n");
}

TEST_CASE("an option that there is not is named, with the one that was perhaps meant") {
  const Folder folder;
  folder.with("draft.md", kDraft);
  const Outcome slip = folder.run("tailproof check --ledgr ledger draft.md");
  CHECK(slip.status == 2);
  CHECK(slip.err ==
        "tailproof: check takes no \"--ledgr\"; \"--ledger\" was perhaps meant "
        "(tailproof check --help tells more)\n");
  CHECK(has(folder.run("tailproof audit one two").err, "audit takes no \"two\" (tailproof audit"));
}

TEST_CASE("history knows a serial without its hyphen, and what a slip was meant for") {
  const Folder folder;
  add_one_row(folder);
  const Outcome loose = folder.run("tailproof history --ledger ledger k217");
  CHECK(loose.status == 0);
  CHECK(loose.out.starts_with("K-217\n"));
  const Outcome slip = folder.run("tailproof history --ledger ledger K-271");
  CHECK(slip.status == 2);
  CHECK(has(slip.err, "names it as an airframe; \"K-217\" was perhaps meant\n"));
}

TEST_CASE("a file that is not UTF-8 says which option helps") {
  const Folder folder;
  folder.with("old.txt", "K-217 at the F\xE4hre.\n");
  CHECK(has(folder.run("tailproof check old.txt").err,
            "or say that it is Windows-1252 (--encoding windows-1252, or encoding in "
            "tailproof.toml)\n"));
  CHECK(folder.run("tailproof check --encoding windows-1252 old.txt").status == 0);
}

}  // namespace tailproof

// The program as its users meet it: exit statuses, complaints, which files are read.
#include <catch2/catch.hpp>

#include "small_book.h"

namespace tailproof {

TEST_CASE("exit status 0 without a query, 1 with one, 2 when something cannot be read") {
  const Folder folder;
  folder.with("sound.md", kSound).with("bad.md", kImpossible);
  CHECK(folder.run("tailproof check sound.md").status == 0);
  CHECK(folder.run("tailproof check bad.md").status == 1);
  const Outcome missing = folder.run("tailproof check bad.md gone.md");
  CHECK(missing.status == 2);
  CHECK(missing.err == "tailproof: gone.md: no such file or folder\n");
  CHECK(has(missing.out, "bad.md:1:"));
  CHECK(has(missing.out, "[date-impossible]"));
}

TEST_CASE("the lowest level counts for the exit status and for what is listed") {
  const Folder folder;
  folder.with("note.md", std::string("<!-- stet date-impossible: so the diary -->\n\n") + kSound);
  const Outcome usual = folder.run("tailproof check note.md");
  CHECK(usual.status == 0);
  CHECK(usual.out == "0 errors, 0 warnings, 1 note (" + usual.out.substr(usual.out.find('(') + 1));
  const Outcome low = folder.run("tailproof check --at-least note note.md");
  CHECK(low.status == 1);
  CHECK(has(low.out, "note.md:1:1: note: "));
  CHECK(has(low.out, "[stet-unused]"));
  folder.with("bad.md", kImpossible);
  CHECK(folder.run("tailproof check --at-least error bad.md").status == 1);
}

TEST_CASE("a verb that is unknown or left out says which exist") {
  const Folder folder;
  const Outcome unknown = folder.run("tailproof chekc x.md");
  CHECK(unknown.status == 2);
  CHECK(has(unknown.err, "unknown verb \"chekc\"; \"check\" was perhaps meant"));
  CHECK(has(unknown.err, "the verbs are check, claims, "));
  CHECK(lines_of(unknown.err).size() == 1);
  const Outcome none = folder.run("tailproof");
  CHECK(none.status == 2);
  CHECK(has(none.err, "no verb given"));
}

TEST_CASE("a mistaken option is one line and exit status 2") {
  const Folder folder;
  folder.with("sound.md", kSound);
  for (const char* options : {"--format xml", "--at-least fatal", "--jobs 0", "--jobs 257",
                              "--jobs many", "--frob", "--encoding latin-9", "--format-in rtf"}) {
    INFO(options);
    const Outcome outcome = folder.run(std::string("tailproof check sound.md ") + options);
    CHECK(outcome.status == 2);
    CHECK(outcome.out.empty());
    CHECK(lines_of(outcome.err).size() == 1);
    CHECK(outcome.err.starts_with("tailproof: "));
  }
  CHECK(folder.run("tailproof check").status == 2);
  CHECK(folder.run("tailproof history --ledger ledger").status == 2);
  CHECK(folder.run("tailproof audit").status == 2);
}

TEST_CASE("help and version go to standard output") {
  const Folder folder;
  const Outcome version = folder.run("tailproof --version");
  CHECK(version.status == 0);
  CHECK(version.out.starts_with("tailproof "));
  for (const char* verb :
       {"", "check ", "claims ", "bracket ", "history ", "concordance ", "audit ", "checks "}) {
    INFO(verb);
    const Outcome help = folder.run(std::string("tailproof ") + verb + "--help");
    CHECK(help.status == 0);
    CHECK(has(help.out, "--help"));
    CHECK_FALSE(has(help.out, "{}"));
    CHECK(help.err.empty());
  }
}

TEST_CASE("bad input is complained of with its place, and the rest is still checked") {
  const Folder folder;
  folder.with("bad.md", kImpossible);
  SECTION("bytes that are not UTF-8") {
    folder.with("latin.md", "One\nTwo \xe9\n");
    const Outcome outcome = folder.run("tailproof check latin.md bad.md");
    CHECK(outcome.status == 2);
    CHECK(outcome.err.starts_with("tailproof: latin.md:2:"));
    CHECK(has(outcome.out, "[date-impossible]"));
    CHECK(folder.run("tailproof check --encoding windows-1252 latin.md").status == 0);
  }
  SECTION("XML that is not well formed") {
    folder.with("torn.xml", "<article xmlns='http://docbook.org/ns/docbook'>\n<para>x</article>\n");
    const Outcome outcome = folder.run("tailproof check torn.xml bad.md");
    CHECK(outcome.status == 2);
    CHECK(outcome.err.starts_with("tailproof: torn.xml:2:"));
    CHECK(has(outcome.out, "[date-impossible]"));
  }
  SECTION("a folder without manuscripts") {
    folder.with("empty/x.png", "");
    const Outcome outcome = folder.run("tailproof check empty bad.md");
    CHECK(outcome.status == 2);
    CHECK(outcome.err.starts_with("tailproof: empty: no manuscript in this folder"));
  }
  SECTION("a path that leads nowhere") {
    CHECK(folder.run("ln -s loop loop").status == 0);
    const Outcome outcome = folder.run("tailproof check loop bad.md");
    CHECK(outcome.status == 2);
    CHECK(outcome.err.starts_with("tailproof: loop: cannot be looked at: "));
    CHECK(has(outcome.out, "[date-impossible]"));
  }
  SECTION("an unknown check id") {
    const Outcome outcome = folder.run("tailproof check --skip date-imposible,gone bad.md");
    CHECK(outcome.status == 2);
    const std::vector<std::string> lines = lines_of(outcome.err);
    REQUIRE(lines.size() == 2);
    CHECK(lines[0] == "tailproof: --skip: no check \"date-imposible\"; \"date-impossible\" exists");
    CHECK(has(lines[1], "no check \"gone\""));
  }
  SECTION("a ledger that is not there stops the run") {
    const Outcome outcome = folder.run("tailproof check --ledger gone bad.md");
    CHECK(outcome.status == 2);
    CHECK(outcome.out.empty());
    CHECK(lines_of(outcome.err).size() == 1);
    CHECK(has(outcome.err, "gone"));
  }
  SECTION("a date in the ledger that is not EDTF") {
    add_ledger(folder);
    folder.with("ledger/airframes.csv",
                std::string(kAirframes) + "OB106,Sallow,I,1940-13,,Card 106\n");
    const Outcome outcome = folder.run("tailproof check --ledger ledger bad.md");
    CHECK(outcome.status == 2);
    CHECK(has(outcome.err, "airframes.csv:4:"));
    CHECK(has(outcome.err, "1940-13"));
    CHECK(has(outcome.out, "[date-impossible]"));
  }
  SECTION("a grammar whose pattern is no pattern") {
    folder.with("more/x.toml",
                "language = \"en\"\n\n[[pattern]]\nkind = \"date\"\n"
                "name = \"torn\"\nstarts = [\"number\"]\nregex = '(\\d'\n");
    const Outcome outcome = folder.run("tailproof check --grammar more bad.md");
    CHECK(outcome.status == 2);
    CHECK(has(outcome.err, "more/x.toml"));
    CHECK(has(outcome.out, "[date-impossible]"));
    CHECK(folder.run("tailproof check --grammar gone bad.md").status == 2);
  }
  SECTION("a language without grammars") {
    const Outcome outcome = folder.run("tailproof check --language xx bad.md");
    CHECK(outcome.status == 2);
    CHECK(has(outcome.err, "no grammars for the language \"xx\""));
  }
  SECTION("a plugin that is none") {
    folder.with("no.so", "not a shared object");
    const Outcome outcome = folder.run("tailproof check --plugin ./no.so bad.md");
    CHECK(outcome.status == 2);
    CHECK(has(outcome.err, "no.so"));
    CHECK(has(outcome.out, "[date-impossible]"));
  }
}

TEST_CASE("a folder is walked in order, without what is hidden, other files and ledgers") {
  const Folder folder;
  add_ledger(folder);
  folder.with("b.md", kImpossible)
      .with("a/z.txt", "Fig. 7. Taken on 31 April 1941.\n")
      .with("a/.hidden.md", kImpossible)
      .with(".git/x.md", kImpossible)
      .with("c.png", "x")
      .with("stets.csv", "file,figure,subject,check,reason,by,date\n");
  const Json report = Json::parse(folder.run("tailproof check --format json .").out);
  CHECK(report["manuscripts"] == Json::array({"a/z.txt", "b.md"}));
  const Json named = Json::parse(folder.run("tailproof check --format json b.md ./a b.md").out);
  CHECK(named["manuscripts"] == Json::array({"b.md", "./a/z.txt"}));
  REQUIRE(named["queries"].size() == 2);
  CHECK(named["queries"][0]["file"] == "b.md");
  CHECK(named["queries"][1]["file"] == "./a/z.txt");
}

TEST_CASE("a file that another includes is read once, in its place") {
  const Folder folder;
  folder
      .with("book.xml",
            "<book xmlns='http://docbook.org/ns/docbook' "
            "xmlns:xi='http://www.w3.org/2001/XInclude' version='5.0'><title>T</title>\n"
            "<xi:include href='a_part.xml'/>\n<xi:include href='z_part.xml'/>\n</book>\n")
      .with("a_part.xml",
            "<chapter xmlns='http://docbook.org/ns/docbook' version='5.0'><title>A</title>\n"
            "<para>Taken on 31 June 1941.</para></chapter>\n")
      .with("z_part.xml",
            "<chapter xmlns='http://docbook.org/ns/docbook' version='5.0'><title>Z</title>\n"
            "<para>Taken on 31 April 1941.</para></chapter>\n");
  for (const char* paths : {".", "z_part.xml a_part.xml book.xml"}) {
    INFO(paths);
    const Json report =
        Json::parse(folder.run(std::string("tailproof check --format json ") + paths).out);
    CHECK(report["manuscripts"] == Json::array({"book.xml"}));
    REQUIRE(report["queries"].size() == 2);
    CHECK(report["queries"][0]["file"] == "a_part.xml");
    CHECK(report["queries"][1]["file"] == "z_part.xml");
  }
}

TEST_CASE("standard input is a manuscript") {
  const Folder folder;
  const Outcome outcome =
      folder.run("echo 'Taken on 31 June 1941.' | tailproof check --format-in text -");
  CHECK(outcome.status == 1);
  CHECK(outcome.out.starts_with("-:1:"));
}

}  // namespace tailproof

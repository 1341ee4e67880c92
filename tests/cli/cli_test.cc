// The program as its users meet it: exit statuses, complaints, formats, order.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>

#include "program.h"

namespace tailproof {

namespace {

using Json = nlohmann::ordered_json;

// One airframe of a closed range, so that OB102 is unknown and OB101 is not.
constexpr const char* kLedgerToml = R"(
title = "Test"

[[serial_form]]
pattern = 'OB[ -]?(\d{3})'
serial = 'OB\1'
closed = ["OB101..OB109"]
)";
constexpr const char* kAirframes =
    "serial,type,mark,taken_on_charge,struck_off_charge,source\n"
    "OB101,Sallow,I,1940-03-04,1942-11-20,Card 101\n"
    "OB105,Sallow,I,1940-03-04,1942-11-20,Card 105\n";

/// A caption with a day that does not exist: an error that needs no ledger.
constexpr const char* kImpossible = "![Fig. 1. Sallow OB101 at Hesk, 31 June 1941.](a.jpg)\n";
constexpr const char* kSound = "![Fig. 2. Sallow OB101 at Hesk, 30 June 1941.](b.jpg)\n";

void add_ledger(const Folder& folder) {
  folder.with("ledger/ledger.toml", kLedgerToml).with("ledger/airframes.csv", kAirframes);
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream stream(text);
  std::string line;
  while (std::getline(stream, line)) {
    lines.push_back(line);
  }
  return lines;
}

std::vector<std::string> keys_of(const Json& object) {
  std::vector<std::string> keys;
  for (const auto& [key, value] : object.items()) {
    keys.push_back(key);
  }
  return keys;
}

bool has(const std::string& text, const std::string& piece) {
  return text.find(piece) != std::string::npos;
}

const std::vector<std::string> kClaimKeys = {
    "file",   "line",       "column",  "end_line",  "end_column", "block", "figure",
    "kind",   "value",      "subject", "role",      "position",   "of",    "polarity",
    "hedged", "attributed", "shown",   "inherited", "text"};

}  // namespace

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

TEST_CASE("the JSON formats have exactly their keys, in order") {
  const Folder folder;
  add_ledger(folder);
  folder.with("x.md", std::string(kImpossible) + "\n![Fig. 3. Sallow OB102 at Hesk.](c.jpg)\n");
  const Json report =
      Json::parse(folder.run("tailproof check --ledger ledger --format json x.md").out);
  CHECK(keys_of(report) == std::vector<std::string>{"tool", "version", "ledger", "manuscripts",
                                                    "totals", "queries", "schema"});
  CHECK(report["tool"] == "tailproof");
  CHECK(report["ledger"] == "ledger");
  REQUIRE(report["queries"].size() >= 2);
  const std::vector<std::string> query_keys = {
      "id",   "check",   "level",   "file",   "line",     "column",  "end_line",   "end_column",
      "text", "message", "subject", "claims", "evidence", "related", "suggestion", "stet"};
  for (const Json& query : report["queries"]) {
    CHECK(keys_of(query) == query_keys);
    for (const Json& claim : query["claims"]) {
      CHECK(keys_of(claim) == kClaimKeys);
    }
    for (const Json& evidence : query["evidence"]) {
      CHECK(keys_of(evidence) == std::vector<std::string>{"table", "line", "source", "says"});
    }
    for (const Json& related : query["related"]) {
      CHECK(keys_of(related) ==
            std::vector<std::string>{"file", "line", "column", "end_line", "end_column", "says"});
    }
  }
  const std::vector<std::string> lines =
      lines_of(folder.run("tailproof check --ledger ledger --format jsonl x.md").out);
  REQUIRE(lines.size() == report["queries"].size());
  for (std::size_t i = 0; i < lines.size(); ++i) {
    CHECK(Json::parse(lines[i]) == report["queries"][i]);
  }
}

TEST_CASE("claims have exactly their keys, with or without a ledger") {
  const Folder folder;
  add_ledger(folder);
  folder.with("x.md", kSound);
  for (const char* ledger : {"", "--ledger ledger "}) {
    const Outcome outcome =
        folder.run(std::string("tailproof claims --format jsonl x.md ") + ledger);
    CHECK(outcome.status == 0);
    const std::vector<std::string> lines = lines_of(outcome.out);
    REQUIRE_FALSE(lines.empty());
    for (const std::string& line : lines) {
      CHECK(keys_of(Json::parse(line)) == kClaimKeys);
    }
    CHECK(has(outcome.out, "\"1941-06-30\""));
    const Json all =
        Json::parse(folder.run(std::string("tailproof claims --format json x.md ") + ledger).out);
    CHECK(all["claims"].size() == lines.size());
    CHECK(all["claims"][0] == Json::parse(lines[0]));
  }
  const Json explained =
      Json::parse(folder.run("tailproof claims --explain --format json x.md").out);
  std::vector<std::string> keys = kClaimKeys;
  keys.emplace_back("why");
  CHECK(keys_of(explained["claims"][0]) == keys);
}

TEST_CASE("the number of jobs changes nothing") {
  const Folder folder;
  const std::string world = TAILPROOF_TOP "/tests/readme/";
  const std::string command = "tailproof check --at-least note --format json --ledger " + world +
                              "ledger " + world + "chapter.md --jobs ";
  const std::string one = folder.run(command + "1").out;
  CHECK_FALSE(one.empty());
  CHECK(folder.run(command + "8").out == one);
  CHECK(folder.run(command + "8").out == one);
}

TEST_CASE("files read side by side give the claims and queries of files read one by one") {
  const Folder folder;
  add_ledger(folder);
  // One file takes a figure from another, one cannot be read: both stand where they stood.
  for (int i = 0; i < 40; ++i) {
    const std::string number = std::to_string(i);
    folder.with("shelf/" + number + ".md", "![Fig. " + number + ". Sallow OB10" + number +
                                               " at Hesk, 31 June 1943.](a.jpg)\n\n" +
                                               "A week after Fig. " + std::to_string(39 - i) +
                                               " OB102 was repaired.\n");
  }
  folder.with("shelf/17.md", "\xff");
  for (const std::string verb : {"check --at-least note --format json", "claims --format jsonl",
                                 "bracket --format csv", "concordance --format csv"}) {
    const std::string command = "tailproof " + verb + " --ledger ledger shelf --jobs ";
    const Outcome one = folder.run(command + "1");
    CHECK(one.out.size() > 400);
    const Outcome several = folder.run(command + "7");
    CHECK(several.out == one.out);
    CHECK(several.err == one.err);
    CHECK(several.status == one.status);
  }
}

TEST_CASE("only and skip choose the checks") {
  const Folder folder;
  add_ledger(folder);
  folder.with("x.md", std::string(kImpossible) + "\n![Fig. 3. Sallow OB102 at Hesk.](c.jpg)\n");
  const std::string command = "tailproof check --ledger ledger --format jsonl x.md ";
  const auto checks = [&](const std::string& options) {
    std::vector<std::string> ids;
    for (const std::string& line : lines_of(folder.run(command + options).out)) {
      ids.push_back(Json::parse(line)["check"]);
    }
    return ids;
  };
  CHECK(checks("") == std::vector<std::string>{"date-impossible", "serial-unknown"});
  CHECK(checks("--only serial-unknown") == std::vector<std::string>{"serial-unknown"});
  CHECK(checks("--skip serial-unknown") == std::vector<std::string>{"date-impossible"});
  CHECK(checks("--only serial-unknown,date-impossible --skip serial-unknown") ==
        std::vector<std::string>{"date-impossible"});
}

TEST_CASE("a stet lets its query stand, counted and listed on request") {
  const Folder folder;
  const std::string stet = "<!-- stet date-impossible: so the diary has it -->";
  SECTION("before the block") { folder.with("x.md", stet + "\n\n" + kImpossible); }
  SECTION("right after the block") { folder.with("x.md", kImpossible + stet + "\n"); }
  SECTION("after the last block") { folder.with("x.md", std::string(kImpossible) + "\n" + stet); }
  SECTION("by file and figure in stets.csv") {
    folder.with("x.md", kImpossible)
        .with("stets.csv",
              "file,figure,subject,check,reason,by,date\n"
              "x.md,Figure 1,,date-impossible,so the diary has it,EC,1961\n");
  }
  SECTION("by subject in stets.csv") {
    folder.with("x.md", kImpossible)
        .with("stets.csv", "subject,check,reason\nFig. 1,date-impossible,so the diary has it\n");
  }
  SECTION("in plain text") {
    folder.with("x.txt", "[stet date-impossible: so the diary has it]\n\nTaken on 31 June 1941.\n");
  }
  SECTION("in DocBook") {
    folder.with("x.xml",
                "<article xmlns='http://docbook.org/ns/docbook' version='5.0'><title>T</title>\n"
                "<?stet date-impossible: so the diary has it?>\n"
                "<para>Taken on 31 June 1941.</para></article>\n");
  }
  const Outcome usual = folder.run("tailproof check --at-least note .");
  CHECK(usual.status == 0);
  CHECK(usual.err.empty());
  CHECK(has(usual.out, "0 errors, 0 warnings, 0 notes; 1 let stand"));
  CHECK(lines_of(usual.out).size() == 1);
  const Outcome listed = folder.run("tailproof check --stets .");
  CHECK(listed.status == 0);
  CHECK(has(listed.out, "[date-impossible]"));
  CHECK(has(listed.out, "    stet: so the diary has it\n"));
  const Json report = Json::parse(folder.run("tailproof check --stets --format json .").out);
  REQUIRE(report["queries"].size() == 1);
  CHECK(report["queries"][0]["stet"] == "so the diary has it");
  CHECK(report["totals"]["stetted"] == 1);
  CHECK(report["totals"]["error"] == 0);
}

TEST_CASE("a stet reaches no other figure, check, file or folder") {
  const Folder folder;
  SECTION("another block") {
    folder.with("x.md",
                std::string("<!-- stet date-impossible: r -->\n\n") + kSound + "\n" + kImpossible);
  }
  SECTION("another figure") {
    folder.with("x.md", kImpossible)
        .with("stets.csv", "figure,check,reason\nFig. 11,date-impossible,r\n");
  }
  SECTION("another file") {
    folder.with("x.md", kImpossible)
        .with("y.md", kSound)
        .with("stets.csv", "file,check,reason\ny.md,date-impossible,r\n");
  }
  SECTION("another check") {
    folder.with("x.md", kImpossible)
        .with("stets.csv", "figure,check,reason\nFig. 1,weekday-wrong,r\n");
  }
  SECTION("another folder") {
    folder.with("a/x.md", kImpossible)
        .with("b/y.md", kSound)
        .with("b/stets.csv", "figure,check,reason\nFig. 1,date-impossible,r\n");
  }
  const Outcome outcome = folder.run("tailproof check .");
  CHECK(outcome.status == 1);
  CHECK(has(outcome.out, "1 error, 0 warnings, 1 note ("));
}

TEST_CASE("a stet without reason, target or known check is complained of and lets nothing stand") {
  const Folder folder;
  folder.with("x.md", kImpossible);
  const auto complaint = [&](const std::string& row) {
    folder.with("stets.csv", "file,figure,subject,check,reason,by,date\n" + row + "\n");
    const Outcome outcome = folder.run("tailproof check x.md");
    CHECK(outcome.status == 2);
    CHECK(has(outcome.out, "[date-impossible]"));
    return outcome.err;
  };
  CHECK(complaint("x.md,,,date-impossible,,,") ==
        "tailproof: stets.csv:2:1: stet without a reason; write why \"date-impossible\" is to "
        "stand\n");
  CHECK(has(complaint("x.md,,,,r,,"), "stet without a check"));
  CHECK(has(complaint(",,,date-impossible,r,,"), "stet without file, figure or subject"));
  CHECK(has(complaint("x.md,,,date-imposible,r,,"), "\"date-impossible\" does"));
  CHECK(has(complaint("x.md,,,date-impossible,r,,1961-13"), "not an EDTF date"));
}

TEST_CASE("a stet whose check did not run is not called unused") {
  const Folder folder;
  folder.with("x.md", std::string("<!-- stet date-impossible: r -->\n\n") + kSound);
  const Outcome outcome = folder.run("tailproof check --at-least note --skip date-impossible x.md");
  CHECK(outcome.status == 0);
}

TEST_CASE("output goes to a file, never to one that is read") {
  const Folder folder;
  add_ledger(folder);
  folder.with("x.md", kImpossible);
  const std::string printed = folder.run("tailproof check --ledger ledger x.md").out;
  const Outcome written = folder.run("tailproof check --ledger ledger --output q.txt x.md");
  CHECK(written.status == 1);
  CHECK(written.out.empty());
  CHECK(read_file(folder.path() / "q.txt") == printed);
  CHECK(folder.run("ln x.md other.md").status == 0);
  for (const char* target : {"x.md", "./x.md", "other.md", "ledger/airframes.csv", "ledger/new"}) {
    INFO(target);
    const Outcome refused =
        folder.run(std::string("tailproof check --ledger ledger x.md --output ") + target);
    CHECK(refused.status == 2);
    CHECK(has(refused.err, "will not be written"));
  }
  CHECK(read_file(folder.path() / "x.md") == kImpossible);
  CHECK(read_file(folder.path() / "ledger/airframes.csv") == kAirframes);
  const Outcome nowhere = folder.run("tailproof check --output gone/q.txt x.md");
  CHECK(nowhere.status == 2);
  CHECK(has(nowhere.err, "gone/q.txt: cannot be written"));
}

TEST_CASE("a full disk is exit status 2, a closed pipe is none of our business") {
  const Folder folder;
  folder.with("x.md", kImpossible);
  if (std::filesystem::exists("/dev/full")) {
    const Outcome full = folder.run("tailproof check x.md >/dev/full");
    CHECK(full.status == 2);
    CHECK(has(full.err, "standard output: cannot be written"));
  }
  const Outcome closed =
      folder.run("{ tailproof check x.md; echo $? >status; } | true; cat status");
  CHECK(closed.out == "1\n");
  CHECK(closed.err.empty());
}

TEST_CASE("history tells what ledger and manuscripts know, in time order") {
  const Folder folder;
  const std::string world = TAILPROOF_TOP "/tests/readme/";
  const std::string command = "tailproof history --ledger " + world + "ledger ";
  const Json report =
      Json::parse(folder.run(command + "--format json 'OB 204' " + world + "chapter.md").out);
  CHECK(keys_of(report) == std::vector<std::string>{"tool", "version", "ledger", "serial",
                                                    "serials", "entries", "schema"});
  CHECK(report["serial"] == "OB204");
  REQUIRE(report["entries"].size() >= 5);
  std::string before;
  bool is_mentioned = false;
  for (const Json& entry : report["entries"]) {
    const std::string earliest = entry["earliest"];
    CHECK((earliest.empty() || before <= earliest));
    before = earliest;
    is_mentioned = is_mentioned || (entry.contains("figure") && entry["figure"] == "Fig. 2");
  }
  CHECK(is_mentioned);
  const Outcome unknown = folder.run(command + "OB999");
  CHECK(unknown.status == 2);
  CHECK(has(unknown.err, "\"OB999\" is not known"));
  const Outcome rows_only = folder.run(command + "OB204");
  CHECK(rows_only.status == 0);
  CHECK(rows_only.out.starts_with("OB204\n1941-05-19 "));
}

TEST_CASE("bracket dates the photographs of captions") {
  const Folder folder;
  const std::string world = TAILPROOF_TOP "/tests/readme/";
  const std::string command = "tailproof bracket --ledger " + world + "ledger ";
  const Json report = Json::parse(folder.run(command + "--format json " + world + "album.md").out);
  CHECK(keys_of(report) ==
        std::vector<std::string>{"tool", "version", "ledger", "photographs", "schema"});
  REQUIRE(report["photographs"].size() == 1);
  const Json& photograph = report["photographs"][0];
  CHECK(keys_of(photograph) ==
        std::vector<std::string>{"file", "line", "column", "end_line", "end_column", "figure",
                                 "name", "earliest", "latest", "days", "with_margins",
                                 "usually_earliest", "usually_latest", "clash", "narrowing"});
  CHECK(photograph["earliest"]["day"] == "1943-03-01");
  CHECK(photograph["latest"]["day"] == "1945-06-30");
  REQUIRE(photograph["latest"]["facts"].size() == 1);
  CHECK(photograph["latest"]["facts"][0]["evidence"][0]["table"] == "airframes.csv");
  CHECK(photograph["clash"].empty());
  const Outcome csv = folder.run(command + "--format csv " + world + "album.md");
  CHECK(csv.status == 0);
  const std::vector<std::string> lines = lines_of(csv.out);
  REQUIRE(lines.size() == 2);
  CHECK(lines[0].starts_with("file,line,figure,earliest,latest,"));
  CHECK(has(lines[1], ",1943-03-01,1945-06-30,"));
}

TEST_CASE("bracket takes one caption by its line") {
  const Folder folder;
  const std::string world = TAILPROOF_TOP "/tests/readme/";
  const std::string command = "tailproof bracket --ledger " + world + "ledger " + world;
  const Outcome one = folder.run(command + "chapter.md:11");
  CHECK(one.status == 0);
  CHECK(has(one.out, "Fig. 4: 14 March 1944"));
  CHECK_FALSE(has(one.out, "Fig. 5"));
  const Outcome all = folder.run(command + "chapter.md");
  CHECK(has(all.out, "Fig. 5"));
  const Outcome none = folder.run(command + "chapter.md:1");
  CHECK(none.status == 2);
  CHECK(has(none.err, "chapter.md:1: no caption stands on this line"));
}

TEST_CASE("audit holds the ledger against itself") {
  const Folder folder;
  add_ledger(folder);
  const Outcome sound = folder.run("tailproof audit --ledger ledger");
  CHECK(sound.status == 0);
  CHECK(sound.out == "0 errors, 0 warnings in the ledger ledger\n");
  folder.with("ledger/airframes.csv",
              std::string(kAirframes) + "OB107,Sallow,I,1943-01-01,1942-01-01,Card 107\n");
  const Outcome reversed = folder.run("tailproof audit ledger");
  CHECK(reversed.status == 1);
  CHECK(reversed.out.starts_with("ledger/airframes.csv:4: error: "));
  CHECK(has(reversed.out, "    airframes.csv:4: "));
  CHECK(has(reversed.out, "(Card 107)\n"));
  const Json report = Json::parse(folder.run("tailproof audit --format json ledger").out);
  CHECK(report["totals"]["error"] == 1);
  REQUIRE(report["findings"].size() == 1);
  CHECK(report["findings"][0]["rows"][0]["line"] == 4);
  CHECK(folder.run("tailproof audit gone").status == 2);
}

TEST_CASE("checks are listed, and each has its page") {
  const Folder folder;
  const Outcome list = folder.run("tailproof checks");
  CHECK(list.status == 0);
  CHECK(has(list.out, "date-impossible"));
  const Outcome page = folder.run("tailproof checks date-impossible");
  CHECK(page.status == 0);
  CHECK(page.out.starts_with("# date-impossible\n"));
  const Outcome unknown = folder.run("tailproof checks date-imposible");
  CHECK(unknown.status == 2);
  CHECK(has(unknown.err, "\"date-impossible\" exists"));
}

TEST_CASE("concordance and history are written as text, csv, html, json and docbook") {
  const Folder folder;
  add_ledger(folder);
  folder.with("x.md", std::string("# Days\n\n") + kSound + "\n\nAnd OB101, \"again\".\n");
  const std::string index = "tailproof concordance --ledger ledger x.md ";
  CHECK(folder.run(index).out ==
        "Airframes\n  OB101\n    x.md:3:18: Fig. 2\n    x.md:6:5\n\nUnits\n\nPeople\n\nPlaces\n");
  const std::vector<std::string> rows = lines_of(folder.run(index + "--format csv").out);
  REQUIRE(rows.size() == 3);
  CHECK(rows[1] == "airframes,OB101,OB101,yes,,x.md,3,18,caption,Fig. 2,Days,OB101\r");
  const Json json = Json::parse(folder.run(index + "--format json").out);
  CHECK(keys_of(json) == std::vector<std::string>{"tool", "version", "ledger", "airframes", "units",
                                                  "people", "places", "schema"});
  CHECK(json["airframes"][0]["places"].size() == 2);
  CHECK(has(folder.run(index + "--format html").out, "<dt>OB101</dt>"));
  CHECK(has(folder.run(index + "--format docbook").out,
            "<primaryie>OB101, Fig. 2, <quote>Days</quote></primaryie>"));
  CHECK(folder.run("tailproof concordance").status == 2);

  const std::string history = "tailproof history OB101 --ledger ledger x.md ";
  const std::vector<std::string> happenings = lines_of(folder.run(history + "--format csv").out);
  REQUIRE(happenings.size() >= 4);
  CHECK(happenings[0] ==
        "serial,date,earliest,latest,says,table,row,source,file,line,column,figure,text\r");
  CHECK(happenings[1].starts_with("OB101,1940-03-04,1940-03-04,1940-03-04,"));
  CHECK(has(folder.run(history + "--format html").out, "<td>1940-03-04</td>"));
  CHECK(has(folder.run(history + "--format docbook").out, "<entry>1940-03-04</entry>"));
}

}  // namespace tailproof

// What the program prints and where to: the keys of its formats, jobs, choice of checks, output.
#include <catch2/catch.hpp>

#include "small_book.h"

namespace tailproof {

namespace {

const std::vector<std::string> kClaimKeys = {
    "file",   "line",       "column",  "end_line",  "end_column", "block", "figure",
    "kind",   "value",      "subject", "role",      "position",   "of",    "polarity",
    "hedged", "attributed", "shown",   "inherited", "text"};

}  // namespace

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

}  // namespace tailproof

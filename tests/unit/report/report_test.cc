#include "report/report.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "ledger/reader.h"

namespace tailproof {

namespace {

using Json = nlohmann::ordered_json;

/// One caption with a claim, and a query on it with everything that a query can have.
Run run_with_query() {
  Run run;
  run.ledger = empty_ledger();
  const std::string text = "Fig. 1. Für P/Capt Tarrow.\nSee also.\n";
  const FileId file = run.sources.add("book.md", text).value();
  Manuscript manuscript;
  manuscript.path = "book.md";
  Block block;
  block.kind = BlockKind::kCaption;
  block.text = "Fig. 1. Für P/Capt Tarrow.";
  block.figure = "Fig. 1";
  manuscript.blocks.push_back(block);
  run.manuscripts.push_back(manuscript);
  Claim claim;
  claim.kind = ClaimKind::kRank;
  claim.value = "Patrol Captain";
  claim.subject = "Ennis Tarrow";
  claim.text = "P/Capt";
  claim.why = "a word of the ledger";
  claim.span = Span{file, 13, 19};
  run.claims.push_back(claim);
  Query query;
  query.check = "rank-disagrees";
  query.level = Level::kError;
  query.span = claim.span;
  query.subject = "Ennis Tarrow";
  query.message = "Ennis Tarrow was no Patrol Captain then";
  query.suggestion = "Patrol Lieutenant";
  query.claims = {0};
  query.evidence = {Evidence{"service.csv", 2, "Patrol List", "Patrol Lieutenant to 1942-02-28"},
                    Evidence{"", 0, "", "counted"}};
  query.related = {Related{Span{file, 28, 32}, "named again"}};
  query.block = 0;
  run.queries.push_back(query);
  return run;
}

}  // namespace

TEST_CASE("a query is a paragraph in the GNU form with its evidence below") {
  const Run run = run_with_query();
  CHECK(check_writer("text")(run, {}) ==
        "book.md:1:13: error: Ennis Tarrow was no Patrol Captain then [rank-disagrees]\n"
        "    service.csv:2: Patrol Lieutenant to 1942-02-28 (Patrol List)\n"
        "    counted\n"
        "    book.md:2:1: named again\n"
        "    would agree: Patrol Lieutenant\n"
        "\n"
        "1 error, 0 warnings, 0 notes (1 claim in 1 manuscript, held against no ledger)\n");
}

TEST_CASE("a text cannot speak to the terminal through the report") {
  Run run = run_with_query();
  run.queries[0].message = "\x1b]0;owned\x07 \xE2\x80\xAE";
  run.queries[0].suggestion = "\x1b[2J";
  const std::string text = check_writer("text")(run, {});
  CHECK(text.find('\x1b') == std::string::npos);
  CHECK(text.find("[U+001B]]0;owned[U+0007] [U+202E]") != std::string::npos);
  CHECK(text.find("would agree: [U+001B][2J") != std::string::npos);
}

TEST_CASE("columns of the JSON formats count code points, ends are exclusive") {
  const Run run = run_with_query();
  const Json query = Json::parse(check_writer("jsonl")(run, {}));
  CHECK(query["line"] == 1);
  CHECK(query["column"] == 13);
  CHECK(query["end_line"] == 1);
  CHECK(query["end_column"] == 19);
  CHECK(query["text"] == "P/Capt");
  CHECK(query["claims"][0]["figure"] == "Fig. 1");
  CHECK(query["related"][0]["line"] == 2);
  CHECK(query["evidence"][0]["table"] == "service.csv");
}

TEST_CASE("a query below the level is counted, not listed; a stetted one on request") {
  Run run = run_with_query();
  run.queries[0].level = Level::kNote;
  CHECK(check_writer("text")(run, {}) ==
        "0 errors, 0 warnings, 1 note (1 claim in 1 manuscript, held against no ledger)\n");
  CHECK_FALSE(has_query(run.queries, Level::kWarning));
  CHECK(has_query(run.queries, Level::kNote));
  run.queries[0].level = Level::kError;
  run.queries[0].stet = "so the diary";
  CHECK(check_writer("text")(run, {}) ==
        "0 errors, 0 warnings, 0 notes; 1 let stand (1 claim in 1 manuscript, held against no "
        "ledger)\n");
  CHECK_FALSE(has_query(run.queries, Level::kNote));
  ReportOptions with_stetted;
  with_stetted.with_stetted = true;
  CHECK(check_writer("text")(run, with_stetted).find("    stet: so the diary\n") !=
        std::string::npos);
}

TEST_CASE("an id stays when lines move, and tells equal queries apart") {
  Run run = run_with_query();
  run.queries.push_back(run.queries[0]);
  const Json before = Json::parse(check_writer("json")(run, {}));
  const std::string first = before["queries"][0]["id"];
  CHECK(first.starts_with("rank-disagrees-"));
  CHECK(before["queries"][1]["id"] == first + "-2");

  Run moved = run_with_query();
  const FileId file =
      moved.sources.add("elsewhere/book.md", "\n\n\nFig. 1. Für P/Capt Tarrow.\n").value();
  moved.claims[0].span = Span{file, 16, 22};
  moved.queries[0].span = moved.claims[0].span;
  CHECK(Json::parse(check_writer("json")(moved, {}))["queries"][0]["id"] == first);
}

TEST_CASE("every format of the table has a writer, and no other word has") {
  for (const std::string& word : formats_of("check")) {
    CHECK(check_writer(word) != nullptr);
  }
  for (const std::string& word : formats_of("claims")) {
    CHECK(claims_writer(word) != nullptr);
  }
  for (const std::string& word : formats_of("history")) {
    CHECK(history_writer(word) != nullptr);
  }
  CHECK(formats_of("check").size() >= 3);
  CHECK(check_writer("frob") == nullptr);
  CHECK(formats_of("frob").empty());
}

TEST_CASE("claims are told with what narrows them") {
  Run run = run_with_query();
  run.claims[0].hedged = true;
  run.claims[0].role = "former";
  CHECK(claims_writer("text")(run, {}) ==
        "book.md:1:13: rank Patrol Captain (former, hedged) of Ennis Tarrow: \"P/Capt\"\n"
        "1 claim in 1 manuscript (no ledger given: no serial and no name is known)\n");
  ReportOptions explain;
  explain.explain = true;
  CHECK(claims_writer("text")(run, explain).find("    a word of the ledger\n") !=
        std::string::npos);
  const Json claim = Json::parse(claims_writer("jsonl")(run, {}));
  CHECK(claim["hedged"] == true);
  CHECK(claim["polarity"] == "affirmed");
  CHECK_FALSE(claim.contains("why"));
}

}  // namespace tailproof

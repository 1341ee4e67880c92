// The project file as a user meets it.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "program.h"

namespace tailproof {

namespace {

using Json = nlohmann::ordered_json;

constexpr const char* kLedgerToml = R"(
[[serial_form]]
pattern = 'OB[ -]?(\d{3})'
serial = 'OB\1'
closed = ["OB101..OB109"]
)";

void add_book(const Folder& folder) {
  folder.with("evidence/ledger.toml", kLedgerToml)
      .with("evidence/airframes.csv",
            "serial,type,mark,taken_on_charge,source\nOB101,Sallow,I,1940-06~,Card 101\n")
      .with(
          "book/one/x.md",
          "![Fig. 1. Sallow OB102 at Hesk.](a.jpg)\n\n![Fig. 2. Taken on 31 June 1941.](b.jpg)\n");
}

std::vector<std::string> found(const Outcome& outcome) {
  std::vector<std::string> queries;
  const Json report = Json::parse(outcome.out);
  for (const Json& query : report["queries"]) {
    queries.push_back(query["level"].get<std::string>() + " " + query["check"].get<std::string>());
  }
  return queries;
}

bool has(const std::string& text, const std::string& piece) {
  return text.find(piece) != std::string::npos;
}

}  // namespace

TEST_CASE("a project above the manuscript gives ledger, levels and what is left out") {
  const Folder folder;
  add_book(folder);
  folder.with("tailproof.toml",
              "ledger = \"evidence\"\nmanuscripts = [\"book\"]\n"
              "[levels]\nserial-unknown = \"warning\"\n");
  const std::vector<std::string> both = {"warning serial-unknown", "error date-impossible"};
  CHECK(found(folder.run("tailproof check --format json book/one/x.md")) == both);
  CHECK(found(folder.run("cd book/one && tailproof check --format json x.md")) == both);
  CHECK(found(folder.run("cd book && tailproof check --format json")) == both);
  CHECK(folder.run("tailproof audit").status == 0);
  CHECK(folder.run("tailproof history OB101").status == 0);
  CHECK(folder.run("tailproof concordance").status == 0);
  CHECK(found(folder.run("tailproof check --format json --no-project book")) ==
        std::vector<std::string>{"error date-impossible"});
  CHECK(folder.run("tailproof check --no-project").status == 2);
}

TEST_CASE("the command line goes before the project") {
  const Folder folder;
  add_book(folder);
  folder.with("tailproof.toml",
              "ledger = \"evidence\"\nat_least = \"error\"\nskip = [\"serial-unknown\"]\n"
              "[levels]\ndate-impossible = \"warning\"\n");
  CHECK(folder.run("tailproof check book").status == 0);
  CHECK(folder.run("tailproof check --at-least warning book").status == 1);
  CHECK(found(folder.run("tailproof check --format json --skip date-impossible book")) ==
        std::vector<std::string>{"error serial-unknown"});
  folder.with("other.toml", "[levels]\ndate-impossible = \"off\"\n");
  CHECK(found(folder.run("tailproof check --format json --project other.toml book")).empty());
}

TEST_CASE("margins of the project stand in place of the ledger's") {
  const Folder folder;
  add_book(folder);
  folder.with("y.md", "![Fig. 1. Sallow OB101 at Hesk, 20 April 1940.](a.jpg)\n");
  const std::string check = "tailproof check --ledger evidence --format json y.md";
  CHECK(found(folder.run(check)) == std::vector<std::string>{"error outside-service-life"});
  folder.with("tailproof.toml", "[margins]\nmonth = \"P3M\"\n");
  CHECK(found(folder.run(check)) == std::vector<std::string>{"warning outside-service-life"});
}

TEST_CASE("a project file that is bad is told with its place") {
  const Folder folder;
  add_book(folder);
  folder.with("tailproof.toml", "at_least = 3\n");
  const Outcome bad = folder.run("tailproof check book");
  CHECK(bad.status == 2);
  CHECK(has(bad.err, "tailproof.toml:1:12: at_least must be a string"));
  CHECK(has(bad.out, "[date-impossible]"));
  folder.with("tailproof.toml", "at_least = \n");
  CHECK(folder.run("tailproof check book").status == 2);
  folder.with("tailproof.toml", "[levels]\nserial-unknwon = \"off\"\n");
  CHECK(has(folder.run("tailproof check book").err,
            "levels: no check \"serial-unknwon\"; \"serial-unknown\" exists"));
  CHECK(folder.run("tailproof check --project gone.toml book").status == 2);
}

TEST_CASE("paths under different projects are told of") {
  const Folder folder;
  add_book(folder);
  folder.with("tailproof.toml", "").with("book/tailproof.toml", "").with("z.md", "Nothing.\n");
  const Outcome outcome = folder.run("tailproof check book z.md");
  CHECK(outcome.status == 1);
  CHECK(has(outcome.err, "note: does not stand under book/tailproof.toml"));
}

}  // namespace tailproof

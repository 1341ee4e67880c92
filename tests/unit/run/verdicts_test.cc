#include "run/verdicts.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <map>

#include "unit/ledger/temp_ledger.h"

namespace tailproof {

namespace {

/// Verdict of each claim of the text, by its words.
std::map<std::string, Verdict> verdicts_on(const std::string& text) {
  TempLedger ledger;
  ledger
      .file("ledger.toml",
            "[[serial_form]]\npattern = 'OB[ -]?(\\d{3})'\nserial = 'OB\\1'\n"
            "closed = [\"OB101..OB109\"]\n")
      .file("airframes.csv",
            "serial,type,mark,taken_on_charge,struck_off_charge\n"
            "OB101,Sallow,I,1940-03-04,1942-11-20\n")
      .file("types.csv", "type,aliases\nSallow,\n")
      .file("units.csv", "unit,formed\n2 Squadron,1939\n4 Squadron,1939\n")
      .file("places.csv", "place\nHesk\nQuillan Bay\n")
      .file("stations.csv", "unit,place,from,to\n2 Squadron,Hesk,1940-01-01,1941-06-30\n")
      .file(
          "histories.csv",
          "serial,from,to,kind,role,unit\nOB101,1940-04-01,1942-11-20,allotted,holder,2 Squadron\n")
      .file("people.csv", "person\nEnnis Tarrow\n")
      .file("ranks.csv", "rank,abbreviations,seniority\nCaptain,Capt,3\nMajor,Maj,4\n")
      .file("service.csv",
            "person,kind,value,from,to\nEnnis Tarrow,rank,Captain,1940-01-01,1941-12-31\n");
  RunOptions options;
  options.ledger = ledger.path();
  const std::string path = ledger.path() + "/../verdicts_test.txt";
  std::ofstream(path, std::ios::binary) << text;
  options.paths = {path};
  const Run run = check(options);
  std::filesystem::remove(path);
  const std::vector<Verdict> verdicts = verdicts_of(run);
  REQUIRE(verdicts.size() == run.claims.size());
  std::map<std::string, Verdict> by_words;
  for (std::size_t i = 0; i < verdicts.size(); ++i) {
    by_words[std::string(run.claims[i].text)] = verdicts[i];
  }
  return by_words;
}

}  // namespace

TEST_CASE("a claim that a row says too is upheld, one that no row reaches is unproven") {
  const auto verdicts = verdicts_on(
      "Fig. 1. Sallow I OB101 of 2 Squadron at Hesk on 3 June 1940, with Captain Ennis Tarrow.\n");
  CHECK(verdicts.at("OB101") == Verdict::kUpheld);
  CHECK(verdicts.at("Sallow I") == Verdict::kUpheld);
  CHECK(verdicts.at("2 Squadron") == Verdict::kUpheld);
  CHECK(verdicts.at("Hesk") == Verdict::kUpheld);
  CHECK(verdicts.at("Captain") == Verdict::kUpheld);
  CHECK(verdicts.at("3 June 1940") == Verdict::kUnproven);
  CHECK(verdicts.at("Ennis Tarrow") == Verdict::kUnproven);
}

TEST_CASE("a claim at which an error or warning stands is contradicted") {
  const auto verdicts = verdicts_on("Fig. 1. Major Ennis Tarrow beside OB101, June 1940.\n");
  CHECK(verdicts.at("Major") == Verdict::kContradicted);
  CHECK(verdicts.at("OB101") == Verdict::kUpheld);
}

TEST_CASE("a row of another time upholds nothing") {
  const auto verdicts =
      verdicts_on("Fig. 1. Captain Ennis Tarrow beside OB101 at Quillan Bay, August 1942.\n");
  CHECK(verdicts.at("Captain") != Verdict::kUpheld);
  CHECK(verdicts.at("Quillan Bay") == Verdict::kUnproven);
}

TEST_CASE("what the author denies is not upheld") {
  const auto verdicts = verdicts_on("Fig. 1. Not OB101 of 2 Squadron, June 1940.\n");
  CHECK(verdicts.at("OB101") == Verdict::kUnproven);
}

}  // namespace tailproof

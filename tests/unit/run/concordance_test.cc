#include "run/concordance.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <fstream>

#include "unit/ledger/temp_ledger.h"

namespace tailproof {

namespace {

std::vector<ConcordanceSection> concordance_on(const std::string& text) {
  TempLedger ledger;
  ledger.file("ledger.toml", "[[serial_form]]\npattern = 'OB[ -]?(\\d{1,4})'\nserial = 'OB\\1'\n")
      .file("airframes.csv", "serial,type\nOB9,Sallow\nOB101,Sallow\n")
      .file("identities.csv",
            "serial,identity,kind\nOB101,Tuppence,nickname\nOB101,ZX77,previous_serial\n")
      .file("units.csv", "unit,aliases\n2 Patrol Squadron,2 Squadron\n")
      .file("people.csv", "person\nEnnis Tarrow\n")
      .file("places.csv", "place\nHesk\n");
  const std::string path = ledger.path() + "_book.md";
  std::ofstream(path, std::ios::binary) << text;
  RunOptions options;
  options.ledger = ledger.path();
  options.paths = {path};
  const Run run = extract(options);
  std::filesystem::remove(path);
  return concordance_of(run);
}

}  // namespace

TEST_CASE("each name has one entry with every caption and paragraph that names it") {
  const auto sections = concordance_on(
      "# Early days\n\n![Fig. 1. OB101 of 2 Squadron at Hesk; OB101 again.](a.jpg)\n\n"
      "OB9 came to Hesk too.\n\n![Fig. 2. Tuppence and Ennis Tarrow.](b.jpg)\n");
  REQUIRE(sections.size() == 4);
  CHECK(sections[0].kind == "airframes");
  REQUIRE(sections[0].entries.size() == 2);
  CHECK(sections[0].entries[0].name == "OB9");
  const ConcordanceEntry& airframe = sections[0].entries[1];
  CHECK(airframe.name == "OB101");
  CHECK(airframe.is_known);
  CHECK(airframe.also == std::vector<std::string>{"ZX77"});
  REQUIRE(airframe.places.size() == 2);
  CHECK(airframe.places[0].figure == "Fig. 1");
  CHECK(airframe.places[1].words == "Tuppence");
  REQUIRE(sections[1].entries.size() == 1);
  CHECK(sections[1].entries[0].name == "2 Patrol Squadron");
  REQUIRE(sections[2].entries.size() == 1);
  CHECK(sections[2].entries[0].heading == "Tarrow, Ennis");
  REQUIRE(sections[3].entries.size() == 1);
  CHECK(sections[3].entries[0].places.size() == 2);
  CHECK(sections[3].entries[0].places[1].section == "Early days");
  CHECK(sections[3].entries[0].places[1].block == BlockKind::kBody);
}

TEST_CASE("a manuscript that names nothing has four empty sections") {
  for (const ConcordanceSection& section : concordance_on("Nothing to see.\n")) {
    CHECK(section.entries.empty());
  }
}

TEST_CASE("names of people are turned round as an index has them") {
  CHECK(inverted_name("Ennis Tarrow") == "Tarrow, Ennis");
  CHECK(inverted_name("Jan van der Meel") == "van der Meel, Jan");
  CHECK(inverted_name("Tarrow") == "Tarrow");
  CHECK(inverted_name("Tarrow, Ennis") == "Tarrow, Ennis");
  CHECK(inverted_name("E. J. Tarrow") == "Tarrow, E. J.");
  CHECK(inverted_name("von Tarrow").find("Tarrow") != std::string::npos);
  CHECK(inverted_name("").empty());
}

TEST_CASE("an index goes by value where numbers stand, and not by case") {
  CHECK(precedes("OB9", "OB101"));
  CHECK_FALSE(precedes("OB101", "OB9"));
  CHECK(precedes("2 Squadron", "12 Squadron"));
  CHECK(precedes("ob9", "OB10"));
  CHECK(precedes("OB007", "OB8"));
  CHECK_FALSE(precedes("a", "a"));
  CHECK(precedes("Hesk", "Hesk Strip"));
  // Equal but for case or zeros: still an order.
  CHECK(precedes("OB07", "OB7") != precedes("OB7", "OB07"));
}

}  // namespace tailproof

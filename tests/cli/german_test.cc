// A book in German against its ledger: what is right is silent, what is wrong is found. No word of
// English stands in it, and none of the English grammars is read.
#include <catch2/catch.hpp>

#include "small_book.h"

namespace tailproof {
namespace {

void add_german_ledger(const Folder& folder) {
  folder
      .with("ledger/ledger.toml", R"(title = "Lebensläufe der Flugboote"
air_arm = "Seeflugwesen des Grauwerder Bundes"

[[serial_form]]
pattern = 'GW[ -]?(\d{3})'
serial = 'GW\1'
closed = ["GW301..GW305"]
)")
      .with("ledger/airframes.csv",
            "serial,type,mark,taken_on_charge,struck_off_charge,fate,source\n"
            "GW301,Trauerente,,1941-03-04,1943-06-20,lost,Karte 301\n"
            "GW302,Trauerente,,1941-03-09,1945-01-31,,Karte 302\n"
            "GW305,Brachrohr,,1942-02-01,1945-01-31,,Karte 305\n")
      .with("ledger/types.csv", "type,aliases\nTrauerente,\nBrachrohr,\n")
      .with("ledger/units.csv",
            "unit,aliases,kind,formed\n3. Schwarm,,flight,1941-01-01\n"
            "5. Schwarm,,flight,1941-01-01\n8. Schwarm,,flight,1944-01-01\n")
      .with("ledger/stations.csv",
            "unit,place,from,to\n3. Schwarm,Ulmsand,1941-01-01,1945-01-31\n"
            "5. Schwarm,Hohenpriel,1941-01-01,1945-01-31\n")
      .with("ledger/places.csv", "place,aliases,theatre\nUlmsand,,Home\nHohenpriel,,Home\n")
      .with("ledger/histories.csv",
            "serial,from,to,kind,role,unit,place,detail,source\n"
            "GW301,1941-03-04,1943-06-20,allotted,holder,3. Schwarm,,,Karte 301\n"
            "GW301,1943-06-20,,lost,,,,abgeschossen,Karte 301\n"
            "GW302,1941-03-09,1945-01-31,allotted,holder,5. Schwarm,,,Karte 302\n"
            "GW305,1942-02-01,1945-01-31,allotted,holder,3. Schwarm,,,Karte 305\n")
      .with("ledger/people.csv", "person,aliases\nJost Brandiek,Brandiek\n")
      .with("ledger/ranks.csv", "rank,abbreviations,seniority\nLeutnant,Lt,1\nHauptmann,Hptm,2\n")
      .with("ledger/service.csv",
            "person,kind,value,from,to\nJost Brandiek,rank,Leutnant,1941-01-01,1943-04-30\n"
            "Jost Brandiek,rank,Hauptmann,1943-05-01,1945-01-31\n"
            "Jost Brandiek,unit,3. Schwarm,1941-01-01,1945-01-31\n")
      .with("ledger/markings.csv",
            "marking,family,aliases\nweißer Ring,Ring,weißen Ring;weißem Ring\n")
      .with("ledger/orders.csv",
            "order,issued,effective,action,marking,position\n"
            "B 12,1942-12-15,1943-01-01,introduces,weißer Ring,\n")
      .with("ledger/identities.csv",
            "serial,identity,kind,from,to\nGW301,K7+B,code,1941-03-04,1943-06-20\n"
            "GW302,L2+C,code,1941-03-09,\n");
}

// Ids of the queries on one caption, each with its level.
std::string queries_on(const std::string& caption, const std::string& language = "de") {
  const Folder folder;
  add_german_ledger(folder);
  folder.with("buch.md", "![Abb. 1. " + caption + "](abb-1.jpg)\n");
  const Outcome run = folder.run("tailproof check --language " + language +
                                 " --ledger ledger --at-least note --format json buch.md");
  INFO(run.err);
  REQUIRE(run.err.empty());
  const Json report = Json::parse(run.out);
  std::string found;
  for (const Json& query : report["queries"]) {
    if (!found.empty()) found += ", ";
    found += query["level"].get<std::string>() + " " + query["check"].get<std::string>();
  }
  return found;
}

struct Row {
  const char* caption;
  const char* queries;
};

}  // namespace

TEST_CASE("captions in German are upheld, contradicted, hedged and denied") {
  const Row rows[] = {
      // the unit
      {"Die Trauerente GW301 des 3. Schwarms, 14. Juni 1942.", ""},
      {"Die Trauerente GW301 des 5. Schwarms, 14. Juni 1942.", "error unit-disagrees"},
      {"Die Trauerente GW301, vermutlich des 5. Schwarms, 14. Juni 1942.",
       "warning unit-disagrees"},
      {"Die Trauerente GW301, angeblich des 5. Schwarms, 14. Juni 1942.", ""},
      {"GW301 und GW305 des 3. Schwarms, Mai 1943.", ""},
      {"GW301 und GW305 des 5. Schwarms, Mai 1943.", "error unit-disagrees, error unit-disagrees"},
      {"Die Trauerente GW302 des 8. Schwarms, im Sommer 1942.", "error unit-not-yet-formed"},
      // the type
      {"Das Brachrohr GW301 des 3. Schwarms, Juni 1942.", "error type-disagrees"},
      // the place
      {"GW301 des 3. Schwarms in Ulmsand, Mitte Juni 1942.", ""},
      {"GW301 des 3. Schwarms in Hohenpriel, Mitte Juni 1942.", "error place-disagrees"},
      // the date
      {"GW301 in Ulmsand, Anfang Juni 1943.", ""},
      {"GW301 in Ulmsand, 3. August 1943.", "error outside-service-life"},
      {"GW301 in Ulmsand, 31. Juni 1942.", "error date-impossible"},
      {"GW301 in Ulmsand am Montag, 14. Juni 1942.", "error weekday-wrong"},
      // the person and the rank
      {"Leutnant Jost Brandiek vor GW301, 14. Juni 1942.", ""},
      {"Hauptmann Jost Brandiek vor GW301, 14. Juni 1942.", "error rank-disagrees"},
      // the marking
      {"GW301 mit weißem Ring am Rumpf, Mai 1943.", ""},
      {"GW301 mit weißem Ring am Rumpf, Mai 1942.", "error marking-too-early"},
      {"GW301 ohne weißen Ring, Mai 1942.", ""},
      {"GW301 mit Code K7+B, Mai 1942.", ""},
      {"GW302 mit Code K7+B, Mai 1942.", "error code-disagrees"},
      // the event
      {"GW301 in Ulmsand, Mai 1943. Sie wurde am 20. Juni 1943 abgeschossen.", ""},
      {"GW301 in Ulmsand, Mai 1943. Sie wurde am 28. Juni 1943 abgeschossen.",
       "error event-disagrees"},
      {"GW301 in Ulmsand, Mai 1943. Drei Wochen später, am 20. Juni 1943, ging sie verloren.", ""},
      // a serial
      {"GW303 in Ulmsand, Mai 1943.", "error serial-unknown"},
  };
  for (const Row& row : rows) {
    INFO(row.caption);
    CHECK(queries_on(row.caption) == row.queries);
  }
}

TEST_CASE("words of the one language say nothing to the grammars of the other") {
  CHECK(queries_on("GW301 in Ulmsand, 31. Juni 1942.", "en").empty());
  CHECK(queries_on("GW301 ohne weißen Ring, Mai 1942.", "en") == "error marking-too-early");
  CHECK(queries_on("GW301 in Ulmsand, 31 June 1942.", "de").empty());
  CHECK(queries_on("GW301 without weißer Ring, 1942.", "de") == "error marking-too-early");
  CHECK(queries_on("GW301 without weißer Ring, 1942.", "en").empty());
}

}  // namespace tailproof

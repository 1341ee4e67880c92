#include <fstream>
#include <string>

#include "world.h"
#include "world_facts.h"

namespace tailproof::bench {
namespace {

std::string month(unsigned year, unsigned number) {
  return std::to_string(year) + (number < 10 ? "-0" : "-") + std::to_string(number);
}

void write(const std::string& folder, std::string_view name, const std::string& text) {
  std::ofstream(folder + "/" + std::string(name), std::ios::binary) << text;
}

}  // namespace

void World::write_ledger(const std::string& folder) const {
  write(folder, "ledger.toml",
        "title = \"The Merrowick Sea Patrol\"\nair_arm = \"Merrowick Sea Patrol\"\n"
        "[[serial_form]]\npattern = 'QD[ -]?(\\d{6})'\nserial = 'QD-\\1'\nclosed = [\"" +
            serial(0) + ".." + serial(airframes_ - 1) +
            "\"]\n[closed]\ntables = [\"units\", \"ranks\", \"types\"]\n"
            "[defaults]\nposition = \"fuselage\"\ntheatre = \"Home\"\nhemisphere = \"north\"\n"
            "date_order = \"dmy\"\ncentury = 1900\n");
  std::string airframes =
      "serial,type,mark,constructor_number,taken_on_charge,struck_off_charge,fate,source\n";
  std::string identities = "serial,identity,kind,from,to,operator,source\n";
  std::string histories = "serial,from,to,kind,role,unit,place,detail,source\n";
  std::string photographs = "photograph,depicts,taken,place,session,credit,source\n";
  for (std::size_t i = 0; i < airframes_; ++i) {
    const std::string key = serial(i), card = ",Patrol card " + std::to_string(i + 1) + "\n";
    const std::string unit = unit_name(unit_of(i)), taken = month(1942, month_taken(i));
    const std::string allotted = month(1942, month_allotted(i));
    airframes += key + "," + std::string(kTypes[type_of(i)]) + "," +
                 std::string(kMarks[mark_of(i)]) + ",HW " + std::to_string(i + 1) + "," + taken +
                 "-05,1945-11-20,scrapped at Hask Common" + card;
    identities += key + "," + code_of(i) + ",code," + allotted + "-10,1945-06-30," + unit + card;
    histories += key + "," + taken + "-05," + allotted +
                 "-09,stored,holder,Hask Depot,Hask Common,erected" + card;
    histories += key + "," + allotted + "-10,1945-06-30,allotted,holder," + unit + ",,," +
                 "Patrol card " + std::to_string(i + 1) + "\n";
    histories += key + ",1944-02-03,,accident,,,,ran into a ditch" + card;
    if (i % 20 == 0) {
      photographs += "MSP " + std::to_string(10000 + i) + "," + key + ",1943-0" +
                     std::to_string(1 + i / 20 % 9) + "," +
                     std::string(kPlaceNames[place_of_unit(unit_of(i))]) +
                     ",,Patrol official,Negative register\n";
    }
  }
  write(folder, "airframes.csv", airframes);
  write(folder, "identities.csv", identities);
  write(folder, "histories.csv", histories);
  write(folder, "photographs.csv", photographs);

  std::string units =
      "unit,aliases,kind,parent,formed,disbanded,replaced_by,source\n"
      "Hask Depot,the Depot,depot,,1940-01-01,,,Establishment\n";
  std::string stations = "unit,place,from,to,source\n";
  for (std::size_t u = 0; u < kUnits; ++u) {
    units += unit_name(u) + ",No. " + unit_name(u) + ",squadron,,1941-02-01,,,Establishment\n";
    stations += unit_name(u) + "," + std::string(kPlaceNames[place_of_unit(u)]) +
                ",1941-02-01,1945-12-31,Establishment\n";
  }
  write(folder, "units.csv", units);
  write(folder, "stations.csv", stations);
  std::string places = "place,aliases,within,theatre,source\nMerrowick,,,Home,Gazetteer\n";
  for (const std::string_view place : kPlaceNames) {
    places += std::string(place) + ",,Merrowick,Home,Gazetteer\n";
  }
  write(folder, "places.csv", places);

  std::string people_rows = "person,aliases,born,died,source\n";
  std::string service = "person,kind,value,from,to,source\n";
  for (std::size_t p = 0; p < people(); ++p) {
    const std::string name = person(p);
    people_rows +=
        name + "," + name.substr(0, 1) + "." + name.substr(name.find(' ')) + ",1915-03,,Register\n";
    service += name + ",rank," + std::string(kRanks[p % kRanks.size()]) + ",1941-01-01,,List\n";
    service += name + ",unit," + unit_name(p % kUnits) + ",1941-03-01,1945-12-31,List\n";
  }
  write(folder, "people.csv", people_rows);
  write(folder, "service.csv", service);
  std::string ranks = "rank,abbreviations,seniority,source\n";
  for (std::size_t r = 0; r < kRanks.size(); ++r) {
    ranks += std::string(kRanks[r]) + ",," + std::to_string(r + 1) + ",List\n";
  }
  write(folder, "ranks.csv", ranks);
  write(folder, "awards.csv", "award,abbreviations,source\nSea Lantern,SL;S.L.,Warrant 2\n");
  write(folder, "types.csv",
        "type,aliases,maker,source\nTarsel,Hobb Tarsel,Hobb,List\nBrindle,,Hobb,List\n"
        "Oxgang,,Marl,List\nWherrit,,Marl,List\n");
  std::string markings = "marking,family,aliases,rings,description,source\n";
  std::string orders =
      "order,issued,effective,grace,action,marking,position,theatre,unit,type,replaced_by,source\n";
  for (std::size_t m = 0; m < kMarkings.size(); ++m) {
    markings += std::string(kMarkings[m]) + "," + (m < 3 ? "lozenge" : "band") + ",,,,Orders\n";
    orders += "MO " + std::to_string(m + 1) + "/41,1941-05-01,1941-06-01,,introduces," +
              std::string(kMarkings[m]) + ",,,,,,Orders\n";
  }
  write(folder, "markings.csv", markings);
  write(folder, "orders.csv", orders);
  write(folder, "sequences.csv",
        "family,earlier,later,position,theatre,strength,source\n"
        "lozenge,barred lozenge,plain lozenge,fuselage,,usually,Orders\n");
  write(folder, "combinations.csv",
        "marking,position,with_marking,with_position,relation,from,to,source\n"
        "sea stripes,fuselage,white tail band,tail,excludes,1945-10-01,,Orders\n");
}

}  // namespace tailproof::bench

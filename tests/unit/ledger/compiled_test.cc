#include "ledger/compiled.h"

#include <sqlite3.h>

#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "ledger/spelling.h"
#include "unit/ledger/temp_ledger.h"

namespace tailproof {
namespace {

void fill(TempLedger& temp) {
  temp.file("ledger.toml", "title = \"Cards\"\n[closed]\ntables = [\"ranks\"]\n")
      .file("airframes.csv",
            "serial,type,mark,taken_on_charge,struck_off_charge,source\n"
            "QX1001,Tessel,Mk I,1941-02-03,1943-05,Card 1\n"
            "QX1002,Tessel,Mk II,1941-02-10,,\"Card 2, back\"\n"
            "QX1003,Orrel,Mk I,1939-12~,1946,\n"
            "QX2001,Orrel,Mk I,1943-06,1945,Card 4\n"
            ",,,,,\n"
            "QX1004,,,1942,,Card 5\n")
      .file("identities.csv",
            "serial,identity,kind,from,to,operator\n"
            "QX1001,K7-RB,code,1941-03,,3 Flight\n"
            "QX1001,QX2001,later_serial,1943-06,,\n"
            "QX1002,K7-RC,code,1941-03,1941-09,3 Flight\n"
            "QX1003,Widow's Purse,nickname,,,\n"
            "QX1004,K7RB,code,1943-07,,\n")
      .file("histories.csv",
            "serial,from,to,kind,role,unit,place,detail,source,note\n"
            "qx1001,1941-03,,allotted,holder,3 Flight,Orme,,Card 1,a note\n"
            "QX1001,1942-01,,allotted,operator,the Third,Orme,,,\n"
            "QX1003,,1940-05-06,accident,,,Orme,\"two\nlines\",,\n"
            "QX1003,1940-06,,stored,holder,,Orme,,,\n")
      .file("units.csv", "unit,aliases,kind\n3 Flight,the Third;3 Flt,flight\n")
      .file("ranks.csv", "rank,seniority\nMate,2\n")
      .file("places.csv", "place,theatre\nOrme,Home\n")
      .file(
          "orders.csv",
          "order,issued,effective,grace,action,marking\nO 1,1941-01,1941-02,P2M,introduces,disc\n")
      .file("markings.csv", "marking,aliases\ndisc,plain disc\n")
      .file("photographs.csv",
            "photograph,depicts,taken,place\n"
            "RP 10,QX1002;QX1003,1942,Orme\nRP 11,QX1004,1942,Orme\n");
}

std::string shown(const Spell& spell) {
  return spell.from.text() + ".." + spell.to.text() + (spell.ends_by_rule ? "!" : "");
}
std::string shown(const RowPlace& row) {
  return std::string(row.table) + ":" + std::to_string(row.line) + ":" + std::string(row.source) +
         ":" + std::string(row.note);
}

/// Everything about one machine, and who else bears its names.
std::string shown(const Ledger& ledger, const std::string& serial) {
  std::string text;
  const auto add = [&](const std::string& piece) { text += piece + "|"; };
  for (const Airframe* row : ledger.machine_of(serial)) {
    add(row->serial + row->type + row->mark + row->taken_on_charge.text() + shown(row->row));
  }
  for (const Identity* row : ledger.identities_of(serial)) {
    add(row->identity + row->kind + row->operator_unit + shown(row->spell) + shown(row->row));
    for (const Identity* bearer : ledger.bearers_of(row->identity)) add(bearer->serial);
  }
  for (const History* row : ledger.history_of(serial)) {
    add(row->serial + row->kind + row->role + row->unit + row->place + row->detail +
        shown(row->spell) + shown(row->row));
  }
  for (const Photograph* row : ledger.photographs_of(serial)) {
    add(row->photograph + std::to_string(row->depicts.size()) + shown(row->row));
  }
  const auto life = ledger.life_of(serial, true);
  if (life) add(Edtf::of_days(*life).text());
  return text;
}

CompiledLedger compiled(TempLedger& temp) {
  const Ledger ledger = temp.read();
  Complaints complaints;
  const Result<bool> written =
      compile_ledger(temp.path(), ledger, temp.path("out.ledger"), complaints);
  INFO((written ? std::string() : to_line(written.error())));
  REQUIRE(written.has_value());
  REQUIRE(is_compiled_ledger(temp.path("out.ledger")));
  Result<CompiledLedger> opened = CompiledLedger::open(temp.path("out.ledger"));
  REQUIRE(opened.has_value());
  return std::move(opened).value();
}

Ledger read(CompiledLedger& from) {
  Complaints complaints;
  Result<Ledger> ledger = from.read(complaints, {});
  REQUIRE(ledger.has_value());
  CHECK(complaints.empty());
  return std::move(ledger).value();
}

const std::vector<std::string> kSerials = {"QX1001", "QX1002", "QX1003", "QX1004", "QX2001"};

}  // namespace

TEST_CASE("a compiled ledger read as a whole is the ledger it was made of") {
  TempLedger temp;
  fill(temp);
  (void)compiled(temp);
  const Ledger whole = temp.read();
  Complaints complaints;
  const Result<Ledger> again = read_ledger(temp.path("out.ledger"), complaints);
  REQUIRE(again.has_value());
  CHECK(again.value().settings().title == "Cards");
  CHECK(again.value().histories().size() == 4);
  CHECK(again.value().orders().front().grace.months == whole.orders().front().grace.months);
  CHECK(again.value().has_table("photographs"));
  CHECK_FALSE(again.value().has_table("people"));
  for (const std::string& serial : kSerials) {
    INFO(serial);
    CHECK_FALSE(shown(whole, serial).empty());
    CHECK(shown(again.value(), serial) == shown(whole, serial));
  }
  CHECK(again.value().airframes_of_type("Orrel").size() == 2);
  CHECK(again.value().airframes_of_type("").size() == 1);
}

TEST_CASE("a text leads to the machines that it names, in whatever spelling") {
  TempLedger temp;
  fill(temp);
  const Ledger whole = temp.read();
  for (const std::string text : {"qx 1001", "the QX-1001's tail", "then QX2001."}) {
    CompiledLedger file = compiled(temp);
    file.want(text);
    const Ledger part = read(file);
    INFO(text);
    REQUIRE(part.airframe("QX1001") != nullptr);
    CHECK(part.history_of("QX2001").size() == 2);
    CHECK(part.airframe("QX2001") != nullptr);
  }
  for (const std::string text : {"K7+RB", "K7RB", "k7 - rb", "K7\xE2\x80\x93RB"}) {
    CompiledLedger file = compiled(temp);
    file.want(text);
    const Ledger part = read(file);
    INFO(text);
    CHECK(part.bearers_of("K7-RB").size() == 2);
  }
  for (const std::string text : {"Widow's Purse", "the Widow Purses", "RP 10", "(rp10)"}) {
    CompiledLedger file = compiled(temp);
    file.want(text);
    const Ledger part = read(file);
    INFO(text);
    CHECK(part.photographs_of("QX1003").size() == 1);
    CHECK(shown(part, "QX1003") == shown(whole, "QX1003"));
  }
}

TEST_CASE("what a ledger read in part is asked besides is read the next time") {
  TempLedger temp;
  temp.file("airframes.csv", [] {
    std::string rows = "serial,type,mark\n";
    for (int i = 1000; i < 2000; ++i) rows += "QX" + std::to_string(i) + ",Tessel,Mk I\n";
    return rows + "QX2000,Orrel,Mk I\n";
  }());
  CompiledLedger file = compiled(temp);
  {
    const Ledger part = read(file);
    CHECK(part.airframes_at_hand().size() == 2);  // one of each type
    CHECK_FALSE(file.has_more());
    CHECK(part.airframe("QX9999") == nullptr);
    CHECK_FALSE(file.has_more());
    CHECK(part.airframe("QX1500") == nullptr);
    CHECK(file.has_more());
  }
  {
    const Ledger part = read(file);
    CHECK(file.cards_read() == 3);
    CHECK(part.airframe("QX1500") != nullptr);
    CHECK(part.resolve(NameKind::kAirframe, "qx 1500").empty());
    CHECK_FALSE(file.has_more());
    CHECK(part.airframes_of_type("Tessel").size() == 2);
    CHECK(file.has_more());
  }
  {
    const Ledger part = read(file);
    CHECK(part.airframes_of_type("Tessel").size() == 1000);
    CHECK(part.airframes_of_type("Tessel").front()->serial == "QX1000");
    CHECK_FALSE(file.has_more());
    CHECK(part.airframes().size() <= 1001);
    CHECK(file.has_more());
  }
  CHECK(read(file).airframes().size() == 1001);
  CHECK_FALSE(file.has_more());
}

TEST_CASE("a compiled file that is another's, older or damaged is refused with one line") {
  TempLedger temp;
  fill(temp);
  (void)compiled(temp);
  const std::string path = temp.path("out.ledger");
  Complaints complaints;
  sqlite3* handle = nullptr;
  REQUIRE(sqlite3_open(path.c_str(), &handle) == SQLITE_OK);
  sqlite3_exec(handle, "PRAGMA user_version = 77", nullptr, nullptr, nullptr);
  sqlite3_close(handle);
  Result<Ledger> other = read_ledger(path, complaints);
  REQUIRE_FALSE(other.has_value());
  CHECK(other.error().message.find("form 77") != std::string::npos);
  CHECK(other.error().message.find("audit --compile") != std::string::npos);

  (void)compiled(temp);
  REQUIRE(sqlite3_open(path.c_str(), &handle) == SQLITE_OK);
  sqlite3_exec(handle, "UPDATE cards SET rows = substr(rows, 1, length(rows) - 3)", nullptr,
               nullptr, nullptr);
  sqlite3_close(handle);
  other = read_ledger(path, complaints);
  REQUIRE_FALSE(other.has_value());
  CHECK(other.error().message.find("is damaged") != std::string::npos);

  // More cards than any memory holds.
  (void)compiled(temp);
  REQUIRE(sqlite3_open(path.c_str(), &handle) == SQLITE_OK);
  sqlite3_exec(handle,
               "UPDATE compiled SET value = x'FFFFFFFFFFFFFFFF7F' || substr(value, 2) "
               "WHERE name = 'numbers'",
               nullptr, nullptr, nullptr);
  sqlite3_close(handle);
  const Result<CompiledLedger> vast = CompiledLedger::open(path);
  REQUIRE_FALSE(vast.has_value());
  CHECK(vast.error().message.find("is damaged") != std::string::npos);
  CHECK_FALSE(is_compiled_ledger(temp.path("airframes.csv")));
  CHECK_FALSE(is_compiled_ledger(temp.path("nowhere")));
}

TEST_CASE("a ledger is compiled whole or not at all") {
  TempLedger temp;
  fill(temp);
  const Ledger ledger = temp.read();
  Complaints complaints;
  const Result<bool> written =
      compile_ledger(temp.path(), ledger, temp.path("no/such/folder.ledger"), complaints);
  REQUIRE_FALSE(written.has_value());
  CHECK(written.error().message.find("cannot be written") != std::string::npos);
  // The folder holds the file and nothing half done beside it.
  (void)compiled(temp);
  int beside = 0;
  for (const auto& entry : std::filesystem::directory_iterator(temp.path())) {
    beside += entry.path().filename().string().starts_with("out.ledger") ? 1 : 0;
  }
  CHECK(beside == 1);
}

TEST_CASE("spellings leave out case, blanks and marks, and nothing else") {
  CHECK(spelling_of("K7-RB") == spelling_of("k7 + rb"));
  CHECK(spelling_of("K7-RB") != spelling_of("K7-RC"));
  CHECK(squashed("\xC3\x89toile 2") == squashed("\xC3\xA9toile-2"));
  CHECK(pieces_of("A.B.-12 ") == 3);
  SpellingSet set;
  CHECK(set.insert(0));
  CHECK_FALSE(set.insert(0));
  for (Spelling i = 1; i < 1000; ++i) CHECK(set.insert(i * i));
  for (Spelling i = 1; i < 1000; ++i) CHECK(set.contains(i * i));
  CHECK_FALSE(set.contains(3));
  SpellingFilter filter(1000);
  for (Spelling i = 0; i < 1000; ++i) filter.insert(spelling_of(std::to_string(i)));
  int wrong = 0;
  for (Spelling i = 0; i < 1000; ++i) {
    CHECK(filter.may_contain(spelling_of(std::to_string(i))));
    wrong += filter.may_contain(spelling_of("x" + std::to_string(i))) ? 1 : 0;
  }
  CHECK(wrong < 30);
}

}  // namespace tailproof

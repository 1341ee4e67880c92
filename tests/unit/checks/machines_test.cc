// Checks of what a machine is and when it lived.
#include <catch2/catch.hpp>

#include "desk.h"

using namespace tailproof;
using tailproof::testing::Desk;
using tailproof::testing::summary;

namespace {

constexpr std::string_view kToml = R"(title = "Invented"
[[serial_form]]
pattern = 'QX[ -]?(\d{4})'
serial = 'QX\1'
closed = ["QX1001..QX1099"]
[closed]
tables = ["units", "types"]
)";
constexpr std::string_view kAirframes =
    "serial,type,mark,constructor_number,taken_on_charge,struck_off_charge,fate,source\n"
    "QX1001,Gannage,Mk I,G.1,1941-03-04,1943-06-14,lost,card 1\n"
    "QX1002,Gannage,Mk II,G.2,1941-03~,1943,,card 2\n"
    "QX1003,Tarrin,,T.1,1942-01-01,1942-12-31,,card 3\n"
    "QX1050,Gannage,Mk II,G.1,1944-01-10,1946-01-31,,card 50\n";

void fill(Desk& desk) {
  desk.toml(kToml)
      .table("airframes", kAirframes)
      .table("types", "type,aliases,maker\nGannage,Marrow Gannage;Gan,Marrow\nTarrin,,Tarr\n")
      .table("identities",
             "serial,identity,kind,from,to,operator\n"
             "QX1001,KD-A,code,1941-04-01,1942-06-30,\n"
             "QX1001,KD-B,code,1942-08-01,1943-06-14,\n"
             "QX1002,KD-C,code,1941-04-01,1943-06-30,\n"
             "QX1003,QX1044,later_serial,1942-12-31,,\n"
             "QX1001,Old Tom,nickname,1942-01-01,1942-12-31,\n");
}

}  // namespace

TEST_CASE("a serial of a closed range that no table holds is unknown") {
  Desk desk;
  fill(desk);
  SECTION("one digit off") {
    desk.add(ClaimKind::kAirframe, "QX1011", "QX1011");
    const auto queries = desk.run("serial-unknown");
    REQUIRE(summary(queries) == "error serial-unknown");
    CHECK(queries[0].suggestion == "QX1001");
    CHECK_FALSE(queries[0].evidence.empty());
  }
  SECTION("two swapped, and the type decides between candidates") {
    desk.add(ClaimKind::kAirframe, "QX1005", "QX1005");
    desk.add(ClaimKind::kType, "Tarrin", "QX1005");
    const auto queries = desk.run("serial-unknown");
    REQUIRE(queries.size() == 1);
    CHECK(queries[0].suggestion == "QX1003 or QX1001 or QX1002");
  }
  SECTION("held by identities alone") {
    desk.add(ClaimKind::kAirframe, "QX1044", "QX1044");
    CHECK(summary(desk.run("serial-unknown")).empty());
  }
  SECTION("outside the closed range") {
    desk.add(ClaimKind::kAirframe, "QX1100", "QX1100");
    CHECK(summary(desk.run("serial-unknown")).empty());
  }
  SECTION("said never to have been built") {
    desk.add(ClaimKind::kAirframe, "QX1011", "QX1011").negated = true;
    CHECK(summary(desk.run("serial-unknown")).empty());
  }
  SECTION("hedged") {
    desk.add(ClaimKind::kAirframe, "QX1011", "QX1011").hedged = true;
    CHECK(summary(desk.run("serial-unknown")) == "warning serial-unknown");
  }
}

TEST_CASE("what the text calls a serial and no form allows is malformed") {
  Desk desk;
  fill(desk);
  desk.add(ClaimKind::kAirframe, "QX10011", "QX10011", "malformed");
  const auto queries = desk.run("serial-malformed");
  REQUIRE(summary(queries) == "error serial-malformed");
  CHECK(queries[0].suggestion == "QX1001");
}

TEST_CASE("a type is compared word by word, a mark piece by piece") {
  Desk desk;
  fill(desk);
  const auto judged = [&](std::string_view value) {
    desk.add(ClaimKind::kType, value, "QX1001");
    return summary(desk.run("type-disagrees"));
  };
  SECTION("type alone") { CHECK(judged("Gannage").empty()); }
  SECTION("nickname alone") { CHECK(judged("Gan").empty()); }
  SECTION("alias and Arabic mark") { CHECK(judged("Marrow Gannage Mk. 1").empty()); }
  SECTION("a mark more exact than the ledger's") { CHECK(judged("Gannage Mk IA").empty()); }
  SECTION("another mark") { CHECK(judged("Gannage Mk II") == "error type-disagrees"); }
  SECTION("a mark alone") { CHECK(judged("Mk II") == "error type-disagrees"); }
  SECTION("another type") { CHECK(judged("Tarrin") == "error type-disagrees"); }
  SECTION("a type that a closed table does not have") {
    CHECK(judged("Wexel") == "error type-disagrees");
  }
}

TEST_CASE("a former mark is allowed until the machine was modified") {
  Desk desk;
  fill(desk);
  desk.table("histories",
             "serial,from,to,kind,role,unit,place,detail\n"
             "QX1002,1942-05-01,,modified,,,,to Mk II\n");
  SECTION("before") {
    desk.date("1942-04");
    desk.add(ClaimKind::kType, "Gannage Mk I", "QX1002");
    CHECK(summary(desk.run("type-disagrees")).empty());
  }
  SECTION("after") {
    desk.date("1942-06");
    desk.add(ClaimKind::kType, "Gannage Mk I", "QX1002");
    CHECK(summary(desk.run("type-disagrees")) == "error type-disagrees");
  }
}

TEST_CASE("a date lies inside the life of the machine or not") {
  Desk desk;
  fill(desk);
  const auto judged = [&](std::string_view date, std::string_view serial) {
    desk.date(date);
    desk.add(ClaimKind::kAirframe, serial, serial);
    return summary(desk.run("outside-service-life"));
  };
  SECTION("the first day") { CHECK(judged("1941-03-04", "QX1001").empty()); }
  SECTION("the day before") {
    CHECK(judged("1941-03-03", "QX1001") == "error outside-service-life");
  }
  SECTION("the day of the loss") { CHECK(judged("1943-06-14", "QX1001").empty()); }
  SECTION("the day after") {
    CHECK(judged("1943-06-15", "QX1001") == "error outside-service-life");
  }
  SECTION("a month that touches it") { CHECK(judged("1943-06", "QX1001").empty()); }
  SECTION("saved by a margin only") {
    CHECK(judged("1941-02-15", "QX1002") == "warning outside-service-life");
  }
  SECTION("not saved by a margin") {
    CHECK(judged("1941-01-15", "QX1002") == "error outside-service-life");
  }
  SECTION("a machine unknown to the ledger") { CHECK(judged("1939", "QX1099").empty()); }
}

TEST_CASE("a wreck may be pictured later, and what is not in the picture does not count") {
  Desk desk;
  fill(desk);
  SECTION("the text says wreck") {
    desk.caption("The wreck of QX1001 in 1946.");
    desk.date("1946");
    desk.add(ClaimKind::kAirframe, "QX1001", "QX1001").said = kSaidRemains;
    CHECK(summary(desk.run("outside-service-life")).empty());
  }
  SECTION("only mentioned") {
    desk.date("1946");
    desk.add(ClaimKind::kAirframe, "QX1001", "QX1001").shown = false;
    CHECK(summary(desk.run("outside-service-life")).empty());
  }
  SECTION("hedged by one level, inherited to a warning") {
    desk.date("1946");
    desk.add(ClaimKind::kAirframe, "QX1001", "QX1001").hedged = true;
    desk.caption("Another.");
    desk.date("1946");
    desk.add(ClaimKind::kAirframe, "QX1001", "QX1001").when.inherited = true;
    CHECK(summary(desk.run("outside-service-life")) ==
          "warning outside-service-life; warning outside-service-life");
  }
}

TEST_CASE("codes follow identities.csv") {
  Desk desk;
  fill(desk);
  const auto judged = [&](std::string_view date, std::string_view code,
                          std::string_view role = "code") {
    desk.date(date);
    desk.add(ClaimKind::kAirframe, code, "QX1001", role);
    return summary(desk.run("code-disagrees"));
  };
  SECTION("the code of the day") { CHECK(judged("1942-06-30", "KD-A").empty()); }
  SECTION("spelt otherwise") { CHECK(judged("1942-06-30", "kd a").empty()); }
  SECTION("its own letter alone") { CHECK(judged("1942-06-30", "A").empty()); }
  SECTION("a gap between two codes") { CHECK(judged("1942-07-15", "KD-A").empty()); }
  SECTION("a code of later days") { CHECK(judged("1942-06-30", "KD-B") == "error code-disagrees"); }
  SECTION("another machine's code") {
    CHECK(judged("1942-05", "KD-C") == "error code-disagrees");
    const auto queries = desk.run("code-disagrees");
    CHECK(queries[0].evidence.size() == 2);
  }
  SECTION("a nickname of which the ledger knows another") {
    CHECK(judged("1942-05", "Young Tom", "nickname").empty());
  }
  SECTION("a relic of an earlier code") {
    desk.date("1943-01");
    desk.add(ClaimKind::kAirframe, "KD-A", "QX1001", "code").tense = Tense::kFormer;
    CHECK(summary(desk.run("code-disagrees")).empty());
  }
}

TEST_CASE("former and later serials belong to one machine") {
  Desk desk;
  fill(desk);
  SECTION("right") {
    desk.add(ClaimKind::kAirframe, "QX1044", "QX1003", "later_serial");
    CHECK(summary(desk.run("code-disagrees")).empty());
  }
  SECTION("the other way round") {
    desk.add(ClaimKind::kAirframe, "QX1044", "QX1003", "previous_serial");
    CHECK(summary(desk.run("code-disagrees")) == "error code-disagrees");
  }
  SECTION("another machine's") {
    desk.add(ClaimKind::kAirframe, "QX1002", "QX1003", "later_serial");
    CHECK(summary(desk.run("code-disagrees")) == "error code-disagrees");
  }
  SECTION("constructor's number") {
    desk.add(ClaimKind::kAirframe, "G.2", "QX1001", "constructor_number");
    CHECK(summary(desk.run("code-disagrees")) == "error code-disagrees");
  }
}

TEST_CASE("a caption that knows a machine by its former number alone shows it") {
  Desk desk;
  fill(desk);
  desk.caption("QX1044 at Morrow.");
  desk.date("1943-02");
  desk.add(ClaimKind::kAirframe, "QX1044", "QX1003", "later_serial").tense = Tense::kLater;
  CHECK(summary(desk.run("outside-service-life")) == "error outside-service-life");
  desk.add(ClaimKind::kAirframe, "QX1003", "QX1003").tense = Tense::kFormer;
  CHECK(summary(desk.run("outside-service-life")).empty());
}

TEST_CASE("an undated code is wrong when it is another machine's and never was this one's") {
  Desk desk;
  fill(desk);
  desk.add(ClaimKind::kAirframe, "KD-C", "QX1001", "code");
  desk.add(ClaimKind::kAirframe, "KD-A", "QX1001", "code");
  desk.add(ClaimKind::kAirframe, "KD-X", "QX1001", "code");
  CHECK(summary(desk.run("code-disagrees")) == "error code-disagrees");
}

TEST_CASE("a serial that the same block says not to exist may be named again") {
  Desk desk;
  fill(desk);
  desk.add(ClaimKind::kAirframe, "QX1012", "QX1012").negated = true;
  desk.add(ClaimKind::kAirframe, "QX1012", "QX1012");
  CHECK(summary(desk.run("serial-unknown")).empty());
  desk.caption("Elsewhere.");
  desk.add(ClaimKind::kAirframe, "QX1012", "QX1012");
  CHECK(summary(desk.run("serial-unknown")) == "error serial-unknown");
}

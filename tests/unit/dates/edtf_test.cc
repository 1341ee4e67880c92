#include "tailproof/edtf.h"

#include <catch2/catch.hpp>
#include <string>
#include <vector>

using namespace tailproof;

namespace {

// Days as "first/last[, first/last]", ".." for an open end.
std::string shown(const DaySet& days) {
  std::string text;
  for (const DayRange& range : days.ranges()) {
    if (!text.empty()) text += ", ";
    text += range.first <= kFirstDay ? ".." : iso_day(range.first);
    text += '/';
    text += range.last >= kLastDay ? ".." : iso_day(range.last);
  }
  return text;
}

Edtf parsed(const std::string& text, Hemisphere hemisphere = Hemisphere::kNorth) {
  Result<Edtf> result = Edtf::parse(text, hemisphere);
  INFO(text << ": " << (result ? "" : result.error().message));
  REQUIRE(result);
  CHECK(result.value().text() == text);
  return result.value();
}

std::string days_of(const std::string& text, Hemisphere hemisphere = Hemisphere::kNorth) {
  return shown(parsed(text, hemisphere).days());
}

std::string problem_of(const std::string& text) {
  const Result<Edtf> result = Edtf::parse(text);
  INFO(text);
  REQUIRE_FALSE(result);
  return result.error().message;
}

}  // namespace

TEST_CASE("dates allow the days they name") {
  struct Row {
    const char* text;
    const char* days;
  };
  const std::vector<Row> rows = {
      {"1943-06-14", "1943-06-14/1943-06-14"},
      {"1943-06", "1943-06-01/1943-06-30"},
      {"1944-02", "1944-02-01/1944-02-29"},
      {"1943", "1943-01-01/1943-12-31"},
      {"0000", "0000-01-01/0000-12-31"},
      {"-0044", "-0044-01-01/-0044-12-31"},
      {"1943-06-14T10:43:00Z", "1943-06-14/1943-06-14"},
      {"1943-06-14T24:00:00", "1943-06-14/1943-06-14"},
      {"1943-06-14T23:30:00-09:30", "1943-06-14/1943-06-14"},
      {"194X", "1940-01-01/1949-12-31"},
      {"19XX", "1900-01-01/1999-12-31"},
      {"-019X", "-0199-01-01/-0190-12-31"},
      {"1943-XX", "1943-01-01/1943-12-31"},
      {"1943-06-XX", "1943-06-01/1943-06-30"},
      {"1943-06-3X", "1943-06-30/1943-06-30"},
      {"1943-06-X4", "1943-06-04/1943-06-04, 1943-06-14/1943-06-14, 1943-06-24/1943-06-24"},
      {"1943-1X", "1943-10-01/1943-12-31"},
      {"1943-X2", "1943-02-01/1943-02-28, 1943-12-01/1943-12-31"},
      {"194X-02-29", "1940-02-29/1940-02-29, 1944-02-29/1944-02-29, 1948-02-29/1948-02-29"},
      {"19X3-21",
       "1903-03-01/1903-05-31, 1913-03-01/1913-05-31, 1923-03-01/1923-05-31, "
       "1933-03-01/1933-05-31, 1943-03-01/1943-05-31, 1953-03-01/1953-05-31, "
       "1963-03-01/1963-05-31, 1973-03-01/1973-05-31, 1983-03-01/1983-05-31, "
       "1993-03-01/1993-05-31"},
      {"Y19430", "Y19430-01-01/Y19430-12-31"},
      {"Y-19430", "Y-19430-01-01/Y-19430-12-31"},
      {"Y17E7", "Y170000000-01-01/Y170000000-12-31"},
      {"Y0E99", "0000-01-01/0000-12-31"},
      {"1943S2", "1900-01-01/1999-12-31"},
      {"1943S3", "1940-01-01/1949-12-31"},
      {"1943S4", "1943-01-01/1943-12-31"},
      {"-1943S2", "-1999-01-01/-1900-12-31"},
      {"1942-02/1942-07", "1942-02-01/1942-07-31"},
      {"1942-02/..", "1942-02-01/.."},
      {"../1942-07", "../1942-07-31"},
      {"1942-02/", "1942-02-01/.."},
      {"/1942-07", "../1942-07-31"},
      {"../..", "../.."},
      {"1943-24/1944-21", "1943-12-01/1944-05-31"},
      {"[1942,1944]", "1942-01-01/1942-12-31, 1944-01-01/1944-12-31"},
      {"[1942-06,1942-07]", "1942-06-01/1942-07-31"},
      {"{1942-06-01..1942-06-10,1942-08-03}", "1942-06-01/1942-06-10, 1942-08-03/1942-08-03"},
      {"[..1942-06-30]", "../1942-06-30"},
      {"[1942-01,1942-03..]", "1942-01-01/1942-01-31, 1942-03-01/.."},
  };
  for (const Row& row : rows) {
    INFO(row.text);
    CHECK(days_of(row.text) == row.days);
  }
}

TEST_CASE("seasons follow the hemisphere, coded ones their own") {
  CHECK(days_of("1943-21") == "1943-03-01/1943-05-31");
  CHECK(days_of("1943-22") == "1943-06-01/1943-08-31");
  CHECK(days_of("1943-23") == "1943-09-01/1943-11-30");
  CHECK(days_of("1943-24") == "1943-12-01/1944-02-29");
  CHECK(days_of("1943-21", Hemisphere::kSouth) == "1943-09-01/1943-11-30");
  CHECK(days_of("1943-22", Hemisphere::kSouth) == "1943-12-01/1944-02-29");
  CHECK(days_of("1943-23", Hemisphere::kSouth) == "1943-03-01/1943-05-31");
  CHECK(days_of("1943-24", Hemisphere::kSouth) == "1943-06-01/1943-08-31");
  for (const Hemisphere hemisphere : {Hemisphere::kNorth, Hemisphere::kSouth}) {
    for (int i = 0; i < 4; ++i) {
      CHECK(days_of("1943-" + std::to_string(25 + i), hemisphere) ==
            days_of("1943-" + std::to_string(21 + i)));
      CHECK(days_of("1943-" + std::to_string(29 + i), hemisphere) ==
            days_of("1943-" + std::to_string(21 + i), Hemisphere::kSouth));
    }
  }
  CHECK(days_of("1943-33") == "1943-01-01/1943-03-31");
  CHECK(days_of("1943-36") == "1943-10-01/1943-12-31");
  CHECK(days_of("1943-37") == "1943-01-01/1943-04-30");
  CHECK(days_of("1943-38") == "1943-05-01/1943-08-31");
  CHECK(days_of("1943-39") == "1943-09-01/1943-12-31");
  CHECK(days_of("1943-40") == "1943-01-01/1943-06-30");
  CHECK(days_of("1943-41") == "1943-07-01/1943-12-31");
}

TEST_CASE("every month and day number of two years is a date exactly when the calendar has it") {
  for (const std::int64_t year : {1943, 1944}) {
    for (unsigned month = 0; month <= 99; ++month) {
      char text[16];
      std::snprintf(text, sizeof text, "%04d-%02u", static_cast<int>(year), month);
      const bool is_month = month >= 1 && month <= 12;
      CAPTURE(text);
      CHECK(Edtf::parse(text).has_value() == (is_month || (month >= 21 && month <= 41)));
      for (unsigned day = 0; day <= 99; ++day) {
        char whole[20];
        std::snprintf(whole, sizeof whole, "%s-%02u", text, day);
        const Result<Edtf> result = Edtf::parse(whole);
        const CivilDate date{year, month, day};
        if (result.has_value() != is_valid(date)) FAIL(whole);
        if (result && result.value().days() != DaySet::single(to_day(date))) FAIL(whole);
      }
    }
  }
}

TEST_CASE("unspecified digits allow exactly the days whose digits agree") {
  const std::string symbols[] = {"0", "1", "2", "3", "9", "X"};
  for (const std::string& a : symbols) {
    for (const std::string& b : symbols) {
      for (const std::string& c : symbols) {
        for (const std::string& d : symbols) {
          const std::string text = "194X-" + a + b + '-' + c + d;
          DaySet expected;
          for (std::int64_t year = 1940; year <= 1949; ++year) {
            for (Day day = to_day({year, 1, 1}); day <= to_day({year, 12, 31}); ++day) {
              const std::string written = iso_day(day);
              const auto agrees = [&](const std::string& symbol, std::size_t at) {
                return symbol == "X" || symbol[0] == written[at];
              };
              if (agrees(a, 5) && agrees(b, 6) && agrees(c, 8) && agrees(d, 9)) {
                expected = expected.unite(DaySet::single(day));
              }
            }
          }
          const Result<Edtf> result = Edtf::parse(text);
          if (result.has_value() == expected.empty()) FAIL(text);
          if (result && result.value().days() != expected) FAIL(text);
        }
      }
    }
  }
}

TEST_CASE("what is no date is refused with the piece and what was expected") {
  CHECK(problem_of("2021-02-29") ==
        "\"2021-02-29\" is not an EDTF date: day \"29\": expected 01 to 28 in that month");
  CHECK(problem_of("1943-13") ==
        "\"1943-13\" is not an EDTF date: month \"13\": expected 01 to 12 or a season 21 to 41");
  CHECK(problem_of("1943-06-14/1943-06-13") ==
        "\"1943-06-14/1943-06-13\" is not an EDTF date: it runs backwards: expected "
        "\"1943-06-14\" not to be later than \"1943-06-13\"");
  CHECK(problem_of("June 1943").find("year \"J") != std::string::npos);
  for (const char* text : {"",
                           " 1943",
                           "1943 ",
                           "43",
                           "194",
                           "19433",
                           "1943-6",
                           "1943-06-1",
                           "1943-06-14-",
                           "1943-06-14x",
                           "1943-00",
                           "1943-21-05",
                           "1943-2X-05",
                           "1943-06-4X",
                           "1943-06-31",
                           "1943-",
                           "-0000",
                           "Y1943",
                           "Y",
                           "YX9430",
                           "Y19430-06",
                           "Y1E99",
                           "Y99999999999999999999",
                           "Y1E99999999999999999999",
                           "1943S",
                           "1943S0",
                           "194XS2",
                           "/",
                           "1943/1942",
                           "1943/1944/1945",
                           "..",
                           "1943..",
                           "[",
                           "[]",
                           "[1943",
                           "[1943}",
                           "[1943,]",
                           "[,1943]",
                           "[1943, 1944]",
                           "[1944..1943]",
                           "[1943,..1944]",
                           "[1943..,1944]",
                           "[..]",
                           "[1943/1944]",
                           "1943-06-14T",
                           "1943-06-14T10:43",
                           "1943-06-14T25:00:00",
                           "1943-06-14T10:60:00",
                           "1943-06-14T10:43:00+",
                           "1943-06-14T10:43:00Z?",
                           "1943-06T10:43:00",
                           "1943??",
                           "1943-06-14?~"}) {
    INFO('"' << text << '"');
    CHECK(problem_of(text).find("expected") != std::string::npos);
  }
}

TEST_CASE("qualifiers are kept, for the whole or a part") {
  struct Row {
    const char* text;
    bool approximate, uncertain;
  };
  const std::vector<Row> rows = {
      {"1943", false, false},         {"1943?", false, true},       {"1943~", true, false},
      {"1943%", true, true},          {"1943?-06-14", false, true}, {"1943-06~-14", true, false},
      {"?1943-06-~14", true, true},   {"1943-%06-14", true, true},  {"1943-21~", true, false},
      {"1943~/1944", true, false},    {"1943/1944?", false, true},  {"[1943~,1944]", true, false},
      {"{1943..1944?}", false, true}, {"Y19430~", true, false},     {"1943S2?", false, true},
      {"194X%", true, true},
  };
  for (const Row& row : rows) {
    const Edtf date = parsed(row.text);
    INFO(row.text);
    CHECK(date.is_approximate() == row.approximate);
    CHECK(date.is_uncertain() == row.uncertain);
  }
}

TEST_CASE("a margin moves only the ends that are approximate, by the part that is") {
  const Margins margins{.day = 3, .month = 31, .year = 366};
  const auto wide = [&margins](const char* text) { return shown(parsed(text).widened(margins)); };
  CHECK(wide("1943-06-14") == "1943-06-14/1943-06-14");
  CHECK(wide("1943-06-14?") == "1943-06-14/1943-06-14");
  CHECK(wide("1943-06-14~") == "1943-06-11/1943-06-17");
  CHECK(wide("1943-06-14%") == "1943-06-11/1943-06-17");
  CHECK(wide("1943-06~") == "1943-05-01/1943-07-31");
  CHECK(wide("1943~") == "1941-12-31/1944-12-31");
  CHECK(wide("1943-06~-14") == "1943-05-14/1943-07-15");
  CHECK(wide("1943-21~") == "1943-01-29/1943-07-01");
  CHECK(wide("1943-06-14~/1943-06-20") == "1943-06-11/1943-06-20");
  CHECK(wide("1943-06-14/1943-06~") == "1943-06-14/1943-07-31");
  CHECK(wide("1943-06~/..") == "1943-05-01/..");
  CHECK(wide("[1943-06-14~,1943-08]") == "1943-06-11/1943-06-17, 1943-07-29/1943-09-03");
}

TEST_CASE("precision is that of the coarsest part") {
  CHECK(parsed("1943-06-14").precision() == Precision::kDay);
  CHECK(parsed("1943-06-XX").precision() == Precision::kMonth);
  CHECK(parsed("1943-06").precision() == Precision::kMonth);
  CHECK(parsed("1943-XX-XX").precision() == Precision::kYear);
  CHECK(parsed("1943-1X").precision() == Precision::kSeason);
  CHECK(parsed("1943-21").precision() == Precision::kSeason);
  CHECK(parsed("1943").precision() == Precision::kYear);
  CHECK(parsed("194X").precision() == Precision::kDecade);
  CHECK(parsed("194X-12-25").precision() == Precision::kDecade);
  CHECK(parsed("19XX").precision() == Precision::kCentury);
  CHECK(parsed("1943S2").precision() == Precision::kCentury);
  CHECK(parsed("1943-06-14/1943").precision() == Precision::kYear);
  CHECK(parsed("1943-06-14/..").precision() == Precision::kOpen);
  CHECK(parsed("1943-06-14/").precision() == Precision::kOpen);
  CHECK(parsed("[1943-06,1944]").precision() == Precision::kYear);
  CHECK(parsed("[..1944]").precision() == Precision::kOpen);
  CHECK(parsed("1943/1944").is_interval());
  CHECK_FALSE(parsed("[1943,1944]").is_interval());
}

TEST_CASE("an unknown date allows every day") {
  const Edtf unknown;
  CHECK(unknown.is_unknown());
  CHECK(unknown.days().is_all());
  CHECK(unknown.widened({}).is_all());
}

TEST_CASE("days become a date that means the same days") {
  const Day june = to_day({1943, 6, 14});
  CHECK(Edtf::of_day(june).text() == "1943-06-14");
  CHECK(Edtf::of_days({{june, june + 6}}).text() == "1943-06-14/1943-06-20");
  CHECK(Edtf::of_days({{june, kLastDay}}).text() == "1943-06-14/..");
  CHECK(Edtf::of_days({{kFirstDay, june}}).text() == "../1943-06-14");
  CHECK(Edtf::of_days({{kFirstDay, june}, {june + 2, june + 2}, {june + 4, june + 5}}).text() ==
        "[..1943-06-14,1943-06-16,1943-06-18..1943-06-19]");
  CHECK(Edtf::of_days({}).is_unknown());
  for (const DaySet& days :
       {DaySet::single(june), DaySet{{june, june + 6}}, DaySet{{june, kLastDay}},
        DaySet{{kFirstDay, june}}, DaySet::all(), DaySet{{june, june}, {june + 3, june + 9}},
        DaySet{{kFirstDay, june}, {june + 4, kLastDay}}}) {
    const Edtf date = Edtf::of_days(days);
    CHECK(date.days() == days);
    CHECK(parsed(date.text()).days() == days);
    CHECK(parsed(date.text()).precision() == date.precision());
  }
}

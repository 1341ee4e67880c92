#include "tailproof/day.h"

#include <catch2/catch.hpp>

using namespace tailproof;

TEST_CASE("day 0 is 1 January 1970, a Thursday") {
  CHECK(to_day({1970, 1, 1}) == 0);
  CHECK(weekday(0) == 4);
  CHECK(iso_day(0) == "1970-01-01");
  CHECK(to_day({1943, 6, 14}) == -9698);
  CHECK(weekday(to_day({1943, 6, 14})) == 1);
}

TEST_CASE("every day of six centuries goes to its date and back, one after the other") {
  Day day = to_day({1599, 12, 31});
  for (std::int64_t year = 1600; year <= 2199; ++year) {
    for (unsigned month = 1; month <= 12; ++month) {
      for (unsigned date = 1; date <= days_in_month(year, month); ++date) {
        ++day;
        if (to_day({year, month, date}) != day || to_civil(day) != CivilDate{year, month, date}) {
          FAIL("broken at " << year << '-' << month << '-' << date);
        }
      }
    }
  }
  CHECK(day == to_day({2199, 12, 31}));
}

TEST_CASE("arithmetic goes on unbroken where chrono ends") {
  for (const std::int64_t year : {-32769, -32768, -32767, -401, -400, -1, 0, 32766, 32767, 32768}) {
    CAPTURE(year);
    CHECK(to_day({year + 1, 1, 1}) == to_day({year, 12, 31}) + 1);
    CHECK(to_civil(to_day({year, 12, 31})) == CivilDate{year, 12, 31});
    CHECK(to_civil(to_day({year, 3, 1})) == CivilDate{year, 3, 1});
  }
  // 400 years are 146,097 days, however far away.
  CHECK(to_day({170000400, 1, 1}) - to_day({170000000, 1, 1}) == 146097);
  CHECK(to_day({-170000000, 1, 1}) - to_day({-170000400, 1, 1}) == 146097);
}

TEST_CASE("days that the calendar has not") {
  CHECK_FALSE(is_valid({1943, 6, 31}));
  CHECK_FALSE(is_valid({2021, 2, 29}));
  CHECK_FALSE(is_valid({1900, 2, 29}));
  CHECK_FALSE(is_valid({1943, 13, 1}));
  CHECK_FALSE(is_valid({1943, 0, 1}));
  CHECK_FALSE(is_valid({1943, 1, 0}));
  CHECK(is_valid({2000, 2, 29}));
  CHECK(days_in_month(1944, 2) == 29);
  CHECK(days_in_month(1944, 14) == 0);
}

TEST_CASE("a day is written with four digits of year, a sign, or Y") {
  CHECK(iso_day(to_day({-44, 3, 15})) == "-0044-03-15");
  CHECK(iso_day(to_day({5, 1, 2})) == "0005-01-02");
  CHECK(iso_day(to_day({170000002, 12, 31})) == "Y170000002-12-31");
  CHECK(iso_day(kFirstDay).empty());
  CHECK(iso_day(kLastDay).empty());
}

TEST_CASE("a period after a day goes by the calendar") {
  const auto day = [](std::int64_t y, unsigned m, unsigned d) { return to_day({y, m, d}); };
  CHECK(after(day(1942, 6, 1), {2, 0}) == day(1942, 8, 1));
  CHECK(after(day(1939, 11, 1), {1, 0}) == day(1939, 12, 1));
  CHECK(after(day(1943, 1, 31), {1, 0}) == day(1943, 2, 28));
  CHECK(after(day(1944, 1, 31), {1, 3}) == day(1944, 3, 3));
  CHECK(after(day(1943, 12, 15), {14, 0}) == day(1945, 2, 15));
  CHECK(after(kLastDay, {1, 0}) == kLastDay);
}

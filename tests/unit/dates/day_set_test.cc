// Each operation against the same one on a plain set of days, over many random sets.
#include <catch2/catch.hpp>
#include <random>
#include <set>

#include "tailproof/day.h"

using namespace tailproof;

namespace {

constexpr Day kSpan = 24;  // days 0 to 23: small, so that ranges touch and overlap often

std::set<Day> listed(const DaySet& days) {
  std::set<Day> list;
  for (const DayRange& range : days.ranges()) {
    for (Day day = range.first; day <= range.last; ++day) list.insert(day);
  }
  return list;
}

DaySet random_set(std::mt19937& random) {
  std::vector<DayRange> ranges(random() % 5);
  for (DayRange& range : ranges) {
    range.first = static_cast<Day>(random() % kSpan);
    range.last = range.first + static_cast<Day>(random() % 6) - 1;  // sometimes reversed
    range.last = std::min(range.last, kSpan - 1);
  }
  return DaySet(ranges);
}

bool is_well_formed(const DaySet& days) {
  const auto ranges = days.ranges();
  for (std::size_t i = 0; i < ranges.size(); ++i) {
    if (ranges[i].first > ranges[i].last) return false;
    if (i > 0 && ranges[i].first <= ranges[i - 1].last + 1) return false;
  }
  return true;
}

}  // namespace

TEST_CASE("set operations agree with plain sets of days") {
  std::mt19937 random(19430614);
  for (int round = 0; round < 4000; ++round) {
    const DaySet a = random_set(random);
    const DaySet b = random_set(random);
    const std::set<Day> in_a = listed(a);
    const std::set<Day> in_b = listed(b);
    std::set<Day> both;
    std::set<Day> either = in_a;
    for (const Day day : in_b) {
      if (in_a.count(day) != 0) both.insert(day);
      either.insert(day);
    }
    REQUIRE(listed(a.intersect(b)) == both);
    REQUIRE(listed(a.unite(b)) == either);
    REQUIRE(a.intersects(b) == !both.empty());
    REQUIRE(a.covers(b) == (both == in_b));
    REQUIRE(is_well_formed(a));
    REQUIRE(is_well_formed(a.intersect(b)));
    REQUIRE(is_well_formed(a.unite(b)));
    REQUIRE(is_well_formed(a.complement()));
    for (Day day = -1; day <= kSpan; ++day) {
      REQUIRE(a.contains(day) == (in_a.count(day) != 0));
      REQUIRE(a.complement().contains(day) == (in_a.count(day) == 0));
    }
    REQUIRE(a.complement().complement() == a);
    const Day margin = static_cast<Day>(random() % 4);
    std::set<Day> wider;
    for (const Day day : in_a) {
      for (Day near = day - margin; near <= day + margin; ++near) wider.insert(near);
    }
    REQUIRE(listed(a.widened(margin)) == wider);
  }
}

TEST_CASE("everything and nothing") {
  CHECK(DaySet::all().is_all());
  CHECK(DaySet::all().complement().empty());
  CHECK(DaySet().complement().is_all());
  CHECK_FALSE(DaySet().is_all());
  CHECK_FALSE(DaySet().intersects(DaySet::all()));
  CHECK(DaySet::all().covers(DaySet()));
  CHECK(DaySet().covers(DaySet()));
  CHECK_FALSE(DaySet().covers(DaySet::single(3)));
  CHECK(DaySet::all().widened(5).is_all());
}

TEST_CASE("an open end stays open when widened") {
  const DaySet from = {{10, kLastDay}};
  CHECK(from.widened(3) == DaySet{{7, kLastDay}});
  CHECK(DaySet{{kFirstDay, 10}}.widened(3) == DaySet{{kFirstDay, 13}});
  CHECK(DaySet{{kFirstDay + 1, 10}}.widened(3) == DaySet{{kFirstDay, 13}});
}

TEST_CASE("ranges that touch become one, in any order") {
  CHECK(DaySet{{5, 9}, {1, 4}} == DaySet{{1, 9}});
  CHECK(DaySet{{5, 9}, {1, 3}}.ranges().size() == 2);
  CHECK(DaySet{{9, 5}}.empty());
}

#include <catch2/catch.hpp>

#include "tailproof/ledger.h"

using namespace tailproof;

namespace {

Edtf date(const char* text) {
  Result<Edtf> result = Edtf::parse(text);
  REQUIRE(result);
  return result.value();
}
Day day(const char* text) { return date(text).days().first(); }

}  // namespace

TEST_CASE("a spell may last from the earliest start to the latest end") {
  const Spell spell{date("1943-06"), date("1943-09")};
  CHECK(spell.possible() == DaySet{{day("1943-06-01"), day("1943-09-30")}});
  CHECK(spell.certain() == DaySet{{day("1943-06-30"), day("1943-09-01")}});
}

TEST_CASE("an unknown end is open as to what is possible and proves nothing") {
  const Spell open_end{date("1943-06-14"), Edtf()};
  CHECK(open_end.possible() == DaySet{{day("1943-06-14"), kLastDay}});
  CHECK(open_end.certain() == DaySet::single(day("1943-06-14")));
  const Spell open_start{Edtf(), date("1943-06")};
  CHECK(open_start.possible() == DaySet{{kFirstDay, day("1943-06-30")}});
  CHECK(open_start.certain().empty());
  CHECK(Spell{}.possible().is_all());
  CHECK(Spell{}.certain().empty());
}

TEST_CASE("a spell whose ends may meet is certain on no day") {
  CHECK(Spell{date("1943-06"), date("1943-06")}.certain().empty());
  CHECK(Spell{date("1943-06-14"), date("1943-06-14")}.certain() ==
        DaySet::single(day("1943-06-14")));
}

TEST_CASE("an end that nothing sets keeps a spell going for certain") {
  const Spell spell{date("1943-06-14"), Edtf::of_day(kLastDay)};
  CHECK(spell.possible() == DaySet{{day("1943-06-14"), kLastDay}});
  CHECK(spell.certain() == DaySet{{day("1943-06-14"), kLastDay}});
}

TEST_CASE("margins widen the approximate end only, and only when asked for") {
  const Spell spell{date("1943-06-14~"), date("1943-06-20")};
  const Margins margins;
  CHECK(spell.possible() == DaySet{{day("1943-06-14"), day("1943-06-20")}});
  CHECK(spell.possible(&margins) == DaySet{{day("1943-06-11"), day("1943-06-20")}});
}

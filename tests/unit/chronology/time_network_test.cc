#include "tailproof/time_network.h"

#include <catch2/catch.hpp>
#include <random>

namespace tailproof {
namespace {

DaySet days(Day first, Day last) { return DaySet{DayRange{first, last}}; }

TEST_CASE("what restricts one variable is intersected") {
  TimeNetwork network;
  const VariableId photograph = network.add_variable();
  network.restrict(photograph, days(10, 40));
  network.restrict(photograph, DaySet{DayRange{0, 15}, DayRange{30, 60}});
  const TimeSolution solution = network.solve();
  CHECK(solution.clashes.empty());
  CHECK(solution.days[photograph] == DaySet{DayRange{10, 15}, DayRange{30, 40}});
}

TEST_CASE("a variable without facts may be any day") {
  TimeNetwork network;
  const VariableId one = network.add_variable();
  CHECK(network.solve().days[one].is_all());
}

TEST_CASE("bounds travel along relations, in both directions") {
  TimeNetwork network;
  const VariableId first = network.add_variable();
  const VariableId second = network.add_variable();
  const VariableId third = network.add_variable();
  network.restrict(first, days(100, kLastDay));
  network.restrict(third, days(kFirstDay, 130));
  network.relate(second, first, offsets::between(14, 21));
  network.relate(third, second, offsets::after());
  const TimeSolution solution = network.solve();
  CHECK(solution.days[first] == days(100, 115));
  CHECK(solution.days[second] == days(114, 129));
  CHECK(solution.days[third] == days(115, 130));
}

TEST_CASE("a gap is jumped over, not bridged") {
  // Two tours of a unit; a picture taken between ten and twenty days after one of the first's days.
  TimeNetwork network;
  const VariableId first = network.add_variable();
  const VariableId second = network.add_variable();
  network.restrict(first, DaySet{DayRange{0, 10}, DayRange{100, 110}});
  network.restrict(second, days(25, 115));
  network.relate(second, first, offsets::between(10, 20));
  const TimeSolution solution = network.solve();
  CHECK(solution.days[first] == DaySet{DayRange{5, 10}, DayRange{100, 105}});
  CHECK(solution.days[second] == DaySet{DayRange{25, 30}, DayRange{110, 115}});
}

TEST_CASE("days that only a cycle rules out are ruled out") {
  // x and y in {0, 10}, z between both and never on 5: with x = 0 and y = 10 there is no z.
  TimeNetwork network;
  const VariableId x = network.add_variable();
  const VariableId y = network.add_variable();
  const VariableId z = network.add_variable();
  network.restrict(x, DaySet{DayRange{0, 0}, DayRange{10, 10}});
  network.restrict(y, DaySet{DayRange{10, 10}, DayRange{21, 21}});
  network.restrict(z, DaySet{DayRange{4, 4}, DayRange{15, 15}});
  network.relate(z, x, offsets::between(4, 5));
  network.relate(y, z, offsets::exactly(6));
  network.relate(y, x, offsets::between(10, 11));
  const TimeSolution solution = network.solve();
  CHECK(solution.days[x] == DaySet{DayRange{0, 0}, DayRange{10, 10}});
  CHECK(solution.days[y] == DaySet{DayRange{10, 10}, DayRange{21, 21}});
  network.restrict(y, days(21, 21));
  CHECK(network.solve().days[x] == days(10, 10));
}

TEST_CASE("offsets with a gap are tried one by one") {
  TimeNetwork network;
  const VariableId first = network.add_variable();
  const VariableId second = network.add_variable();
  network.restrict(first, days(100, 101));
  network.relate(second, first, DaySet{DayRange{-1, -1}, DayRange{1, 1}});
  CHECK(network.solve().days[second] == days(99, 102));
  network.restrict(second, days(101, kLastDay));
  CHECK(network.solve().days[second] == days(101, 102));
  CHECK(network.solve().is_exact[second]);
}

TEST_CASE("too many gaps widen and never clash") {
  TimeNetwork network;
  const VariableId centre = network.add_variable();
  network.restrict(centre, days(0, 0));
  std::vector<VariableId> around;
  for (int i = 0; i < 14; ++i) {
    around.push_back(network.add_variable());
    network.relate(around.back(), centre, DaySet{DayRange{-2, -1}, DayRange{1, 2}});
  }
  const TimeSolution solution = network.solve();
  CHECK(solution.clashes.empty());
  CHECK_FALSE(solution.is_exact[centre]);
  CHECK(solution.days[around.front()].covers(DaySet{DayRange{-2, -1}, DayRange{1, 2}}));
}

TEST_CASE("a clash names what cannot be dropped, and no more") {
  TimeNetwork network;
  const VariableId one = network.add_variable();
  const VariableId other = network.add_variable();
  network.restrict(one, days(0, 1000));
  const FactId tours = network.restrict(one, DaySet{DayRange{0, 10}, DayRange{100, 110}});
  const FactId ring = network.restrict(one, days(20, kLastDay));
  network.restrict(one, days(kFirstDay, 500));
  const FactId death = network.restrict(one, days(kFirstDay, 90));
  network.restrict(other, days(5, 6));
  const TimeSolution solution = network.solve();
  REQUIRE(solution.clashes.size() == 1);
  CHECK(solution.clashes[0].facts == std::vector<FactId>{tours, ring, death});
  CHECK(solution.days[one].empty());
  CHECK(solution.days[other] == days(5, 6));
}

TEST_CASE("the smaller of two clashes is named") {
  TimeNetwork network;
  const VariableId one = network.add_variable();
  network.restrict(one, DaySet{DayRange{0, 10}, DayRange{100, 110}});
  const FactId late = network.restrict(one, days(20, kLastDay));
  network.restrict(one, days(kFirstDay, 90));
  const FactId early = network.restrict(one, days(kFirstDay, 15));
  const TimeSolution solution = network.solve();
  REQUIRE(solution.clashes.size() == 1);
  CHECK(solution.clashes[0].facts == std::vector<FactId>{late, early});
}

TEST_CASE("pictures each before the other clash without any date") {
  TimeNetwork network;
  const VariableId one = network.add_variable();
  const VariableId other = network.add_variable();
  const FactId forth = network.relate(one, other, offsets::after());
  const FactId back = network.relate(other, one, offsets::after());
  const TimeSolution solution = network.solve();
  REQUIRE(solution.clashes.size() == 1);
  CHECK(solution.clashes[0].facts == std::vector<FactId>{forth, back});
}

TEST_CASE("a fact that nothing can satisfy clashes alone") {
  TimeNetwork network;
  const VariableId one = network.add_variable();
  const FactId never = network.restrict(one, DaySet());
  network.restrict(one, days(0, 1));
  REQUIRE(network.solve().clashes.size() == 1);
  CHECK(network.solve().clashes[0].facts == std::vector<FactId>{never});
}

TEST_CASE("an end of a bracket has its reasons, the nearest first") {
  TimeNetwork network;
  const VariableId first = network.add_variable();
  const VariableId second = network.add_variable();
  const FactId delivery = network.restrict(first, days(100, kLastDay));
  const FactId loss = network.restrict(second, days(kFirstDay, 150));
  const FactId later = network.relate(second, first, offsets::between(14, 21));
  const TimeSolution solution = network.solve();
  REQUIRE(solution.days[second] == days(114, 150));
  CHECK(network.reasons(second, days(kFirstDay, 113)) == std::vector<FactId>{delivery, later});
  CHECK(network.reasons(second, days(151, kLastDay)) == std::vector<FactId>{loss});
  CHECK(network.reasons(first, days(137, kLastDay)) == std::vector<FactId>{loss, later});
  CHECK(network.reasons(second, days(120, 120)).empty());
}

TEST_CASE("a day within a gap has its reason too") {
  TimeNetwork network;
  const VariableId one = network.add_variable();
  network.restrict(one, days(0, 200));
  const FactId tours = network.restrict(one, DaySet{DayRange{0, 10}, DayRange{100, 110}});
  CHECK(network.reasons(one, days(50, 60)) == std::vector<FactId>{tours});
}

// Days 0 to 11, up to four variables: every assignment can be tried.
struct Small {
  TimeNetwork network;
  std::size_t variables = 0;
  static constexpr Day kDays = 12;

  [[nodiscard]] bool is_solution(const std::vector<Day>& assigned,
                                 const std::vector<FactId>* only = nullptr) const {
    for (FactId fact = 0; fact < network.fact_count(); ++fact) {
      const bool counts =
          only == nullptr || std::find(only->begin(), only->end(), fact) != only->end();
      // The frame of twelve days always holds.
      if (!counts && fact >= variables) continue;
      const Day value = network.is_relation(fact) ? assigned[network.variable_of(fact)] -
                                                        assigned[network.earlier_of(fact)]
                                                  : assigned[network.variable_of(fact)];
      if (!network.set_of(fact).contains(value)) return false;
    }
    return true;
  }

  [[nodiscard]] std::vector<DaySet> by_trying(const std::vector<FactId>* only = nullptr) const {
    std::vector<DaySet> found(variables);
    std::vector<Day> assigned(variables, 0);
    while (true) {
      if (is_solution(assigned, only)) {
        for (std::size_t i = 0; i < variables; ++i) {
          found[i] = found[i].unite(DaySet::single(assigned[i]));
        }
      }
      std::size_t at = 0;
      while (at < variables && ++assigned[at] == kDays) assigned[at++] = 0;
      if (at == variables) return found;
    }
  }
};

DaySet random_set(std::mt19937& random, Day least, Day most, int pieces) {
  std::uniform_int_distribution<Day> any(least, most);
  std::vector<DayRange> ranges;
  for (int i = 0; i < pieces; ++i) {
    const Day first = any(random);
    const Day last = std::min<Day>(most, first + static_cast<Day>(random() % 4));
    ranges.push_back({first, last});
  }
  return DaySet(std::move(ranges));
}

Small random_problem(std::mt19937& random) {
  Small small;
  small.variables = 1 + random() % 4;
  for (std::size_t i = 0; i < small.variables; ++i) small.network.add_variable();
  for (VariableId i = 0; i < small.variables; ++i) {
    small.network.restrict(i, days(0, Small::kDays - 1));
  }
  const std::size_t restrictions = random() % 4;
  for (std::size_t i = 0; i < restrictions; ++i) {
    const auto variable = static_cast<VariableId>(random() % small.variables);
    small.network.restrict(
        variable, random_set(random, 0, Small::kDays - 1, 2 + static_cast<int>(random() % 3)));
  }
  const std::size_t relations = small.variables > 1 ? random() % 6 : 0;
  for (std::size_t i = 0; i < relations; ++i) {
    const auto later = static_cast<VariableId>(random() % small.variables);
    const auto earlier =
        static_cast<VariableId>((later + 1 + random() % (small.variables - 1)) % small.variables);
    const int pieces = random() % 4 == 0 ? 2 : 1;
    small.network.relate(later, earlier, random_set(random, -6, 8, pieces));
  }
  return small;
}

TEST_CASE("random problems with gaps agree with trying every assignment") {
  std::mt19937 random(20240229);
  int satisfiable = 0;
  int clashing = 0;
  for (int round = 0; round < 1500; ++round) {
    const Small small = random_problem(random);
    const TimeSolution solution = small.network.solve();
    const std::vector<DaySet> expected = small.by_trying();
    INFO("round " << round);
    if (solution.clashes.empty()) {
      ++satisfiable;
      CHECK(solution.days == expected);
      continue;
    }
    ++clashing;
    CHECK(std::all_of(expected.begin(), expected.end(),
                      [](const DaySet& set) { return set.empty(); }));
    for (const Clash& clash : solution.clashes) {
      CHECK_FALSE(small.network.is_satisfiable(clash.facts));
      for (std::size_t drop = 0; drop < clash.facts.size(); ++drop) {
        std::vector<FactId> rest = clash.facts;
        rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(drop));
        CHECK(small.network.is_satisfiable(rest));
      }
    }
    CHECK(small.network.solve().clashes.front().facts == solution.clashes.front().facts);
  }
  CHECK(satisfiable > 300);
  CHECK(clashing > 300);
}

TEST_CASE("reasons suffice and none can be dropped, on random problems") {
  std::mt19937 random(19430614);
  int asked = 0;
  for (int round = 0; round < 600; ++round) {
    const Small small = random_problem(random);
    const TimeSolution solution = small.network.solve();
    if (!solution.clashes.empty()) continue;
    for (VariableId variable = 0; variable < small.variables; ++variable) {
      const DaySet excluded =
          solution.days[variable].complement().intersect(days(0, Small::kDays - 1));
      if (excluded.empty()) continue;
      ++asked;
      const std::vector<FactId> reasons = small.network.reasons(variable, excluded);
      REQUIRE_FALSE(reasons.empty());
      TimeNetwork copy = small.network;
      const FactId extra = copy.restrict(variable, excluded);
      std::vector<FactId> all = reasons;
      all.push_back(extra);
      CHECK_FALSE(copy.is_satisfiable(all));
      for (std::size_t drop = 0; drop < reasons.size(); ++drop) {
        std::vector<FactId> rest = all;
        rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(drop));
        CHECK(copy.is_satisfiable(rest));
      }
    }
  }
  CHECK(asked > 200);
}

}  // namespace
}  // namespace tailproof

// The engine of times against what has been published on temporal constraint networks, and against
// somebody else's shortest paths.
//
// Sources: R. Dechter, I. Meiri, J. Pearl, "Temporal constraint networks", Artificial Intelligence
// 49 (1991), 61-95: its example of two people on their way to work, and the theorem that a simple
// problem has a solution exactly when its distance graph has no negative cycle, whose minimal
// network is that of the shortest paths. Figures of the paper are quoted from memory; each also
// follows from the definitions and is checked against them here. J. F. Allen, "Maintaining
// knowledge about temporal intervals", Communications of the ACM 26 (1983), 832-843: the thirteen
// relations and their table of compositions, entries quoted from memory.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <random>
#include <string>
#include <vector>

#include "tailproof/time_network.h"

#ifdef TAILPROOF_HAS_BOOST_GRAPH
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/bellman_ford_shortest_paths.hpp>
#include <boost/graph/johnson_all_pairs_shortest.hpp>
#endif

namespace tailproof {
namespace {

DaySet days(Day first, Day last) { return DaySet{DayRange{first, last}}; }

struct Bound {
  std::size_t later, earlier;
  DaySet offsets;
};

TimeNetwork network_of(std::size_t variables, const std::vector<Bound>& bounds) {
  TimeNetwork network;
  for (std::size_t i = 0; i < variables; ++i) network.add_variable();
  for (const Bound& bound : bounds) {
    network.relate(static_cast<VariableId>(bound.later), static_cast<VariableId>(bound.earlier),
                   bound.offsets);
  }
  return network;
}

// Minimal offsets of every variable from `origin`: what is left of them with that one on day 0.
std::vector<DaySet> seen_from(std::size_t origin, std::size_t variables,
                              const std::vector<Bound>& bounds) {
  TimeNetwork network = network_of(variables, bounds);
  network.restrict(static_cast<VariableId>(origin), DaySet::single(0));
  return network.solve().days;
}

// Minutes after 7.00: John leaves (1) and arrives (2), Fred leaves (3) and arrives (4).
std::vector<Bound> on_the_way(const DaySet& john, const DaySet& fred) {
  return {
      {1, 0, days(10, 20)}, {2, 1, john}, {2, 3, days(10, 20)}, {4, 3, fred}, {4, 0, days(60, 70)}};
}
const DaySet kJohnByCar = days(30, 40);
const DaySet kJohnByBus = days(60, kLastDay);
const DaySet kFredByCar = days(20, 30);
const DaySet kFredInCarpool = days(40, 50);

TEST_CASE("Dechter, Meiri and Pearl: the simple problem has the paper's minimal network") {
  // The paper's table of shortest paths, row i, column j: the most that j is later than i.
  constexpr std::array<std::array<Day, 5>, 5> kDistances = {{{0, 20, 50, 30, 70},
                                                             {-10, 0, 40, 20, 60},
                                                             {-40, -30, 0, -10, 30},
                                                             {-20, -10, 20, 0, 50},
                                                             {-60, -50, -20, -40, 0}}};
  for (std::size_t from = 0; from < 5; ++from) {
    const auto found = seen_from(from, 5, on_the_way(kJohnByCar, kFredInCarpool));
    for (std::size_t to = 0; to < 5; ++to) {
      CHECK(found[to] == days(-kDistances[to][from], kDistances[from][to]));
    }
  }
}

TEST_CASE("Dechter, Meiri and Pearl: the problem with choices") {
  const DaySet john = kJohnByCar.unite(kJohnByBus);
  const DaySet fred = kFredByCar.unite(kFredInCarpool);
  const auto bounds = on_the_way(john, fred);
  const auto from_seven = seen_from(0, 5, bounds);
  REQUIRE_FALSE(from_seven[0].empty());
  // John needs 30 to 40 minutes or exactly 60, Fred 20 to 30 or 40 to 50.
  CHECK(seen_from(1, 5, bounds)[2] == days(30, 40).unite(DaySet::single(60)));
  CHECK(seen_from(3, 5, bounds)[4] == days(20, 30).unite(days(40, 50)));
  // "Is it possible that John took the bus and Fred the carpool?" No.
  TimeNetwork both = network_of(5, on_the_way(kJohnByBus, kFredInCarpool));
  REQUIRE(both.solve().clashes.size() == 1);
  CHECK(both.solve().clashes.front().facts == std::vector<FactId>{0, 1, 2, 3, 4});
  CHECK(network_of(5, on_the_way(kJohnByBus, kFredByCar)).solve().clashes.empty());
  // "What are the possible times at which Fred left home?" By every choice, minute by minute.
  DaySet left;
  for (Day one = 10; one <= 20; ++one) {
    for (Day two = one + 30; two <= 120; ++two) {
      if (!john.contains(two - one)) continue;
      for (Day three = two - 20; three <= two - 10; ++three) {
        const bool arrives = fred.intersects(days(60 - three, 70 - three));
        if (arrives) left = left.unite(DaySet::single(three));
      }
    }
  }
  CHECK(from_seven[3] == left);
}

// Allen's relations as what they say of beginnings and ends; intervals last a day at least.
struct Allen {
  std::string name;
  DaySet begin_begin, begin_end, end_begin, end_end;  // A's minus B's
};
const DaySet kLess = days(kFirstDay, -1);
const DaySet kSame = DaySet::single(0);
const DaySet kMore = days(1, kLastDay);

const std::vector<Allen>& relations() {
  static const std::vector<Allen> kRelations = {
      {"before", kLess, kLess, kLess, kLess},        {"meets", kLess, kLess, kSame, kLess},
      {"overlaps", kLess, kLess, kMore, kLess},      {"starts", kSame, kLess, kMore, kLess},
      {"during", kMore, kLess, kMore, kLess},        {"finishes", kMore, kLess, kMore, kSame},
      {"equal", kSame, kLess, kMore, kSame},         {"finished by", kLess, kLess, kMore, kSame},
      {"contains", kLess, kLess, kMore, kMore},      {"started by", kSame, kLess, kMore, kMore},
      {"overlapped by", kMore, kLess, kMore, kMore}, {"met by", kMore, kSame, kMore, kMore},
      {"after", kMore, kMore, kMore, kMore}};
  return kRelations;
}

void put(TimeNetwork& network, VariableId one, VariableId other, const Allen& relation) {
  network.relate(one, other, relation.begin_begin);
  network.relate(one, other + 1, relation.begin_end);
  network.relate(one + 1, other, relation.end_begin);
  network.relate(one + 1, other + 1, relation.end_end);
}

bool may_be(const Allen& first, const Allen& second, const Allen& third) {
  TimeNetwork network;
  for (int i = 0; i < 3; ++i) {
    const VariableId begin = network.add_variable();
    network.relate(network.add_variable(), begin, kMore);
  }
  put(network, 0, 2, first);
  put(network, 2, 4, second);
  put(network, 0, 4, third);
  return network.solve().clashes.empty();
}

using Ends = std::array<int, 6>;  // beginning and end of three intervals

bool is_so(const Allen& relation, const Ends& ends, std::size_t one, std::size_t other) {
  const auto holds = [&](std::size_t a, std::size_t b, const DaySet& offsets) {
    return offsets.contains(ends[one + a] - ends[other + b]);
  };
  return holds(0, 0, relation.begin_begin) && holds(0, 1, relation.begin_end) &&
         holds(1, 0, relation.end_begin) && holds(1, 1, relation.end_end);
}

TEST_CASE("Allen: exactly one of the thirteen relations holds between two intervals") {
  REQUIRE(relations().size() == 13);
  for (int a = 0; a < 6; ++a) {
    for (int b = a + 1; b < 6; ++b) {
      for (int c = 0; c < 6; ++c) {
        for (int d = c + 1; d < 6; ++d) {
          const Ends ends = {a, b, c, d, 0, 1};
          CHECK(std::count_if(relations().begin(), relations().end(), [&](const Allen& relation) {
                  return is_so(relation, ends, 0, 2);
                }) == 1);
        }
      }
    }
  }
}

TEST_CASE("Allen: all compositions") {
  // Six ends take at most six different places, so every arrangement is among these.
  std::array<std::array<std::array<bool, 13>, 13>, 13> is_possible = {};
  const auto index_of = [](const Ends& ends, std::size_t one, std::size_t other) {
    return static_cast<std::size_t>(
        std::find_if(relations().begin(), relations().end(),
                     [&](const Allen& relation) { return is_so(relation, ends, one, other); }) -
        relations().begin());
  };
  Ends ends = {};
  for (int code = 0; code < 46656; ++code) {
    int rest = code;
    for (int& end : ends) {
      end = rest % 6;
      rest /= 6;
    }
    if (ends[0] >= ends[1] || ends[2] >= ends[3] || ends[4] >= ends[5]) continue;
    is_possible[index_of(ends, 0, 2)][index_of(ends, 2, 4)][index_of(ends, 0, 4)] = true;
  }
  int possible = 0;
  for (std::size_t i = 0; i < 13; ++i) {
    for (std::size_t j = 0; j < 13; ++j) {
      for (std::size_t k = 0; k < 13; ++k) {
        const bool found = may_be(relations()[i], relations()[j], relations()[k]);
        INFO(relations()[i].name << ", " << relations()[j].name << ": " << relations()[k].name);
        CHECK(found == is_possible[i][j][k]);
        possible += found ? 1 : 0;
      }
    }
  }
  // The table's entries hold 409 relations in all (quoted from memory, as often given since).
  CHECK(possible == 409);
}

std::vector<std::string> composed(const std::string& first, const std::string& second) {
  const auto named = [](const std::string& name) {
    return *std::find_if(relations().begin(), relations().end(),
                         [&](const Allen& relation) { return relation.name == name; });
  };
  std::vector<std::string> names;
  for (const Allen& third : relations()) {
    if (may_be(named(first), named(second), third)) names.push_back(third.name);
  }
  return names;
}

TEST_CASE("Allen: entries of the published table") {
  using Names = std::vector<std::string>;
  CHECK(composed("before", "before") == Names{"before"});
  CHECK(composed("before", "after").size() == 13);
  CHECK(composed("before", "during") == Names{"before", "meets", "overlaps", "starts", "during"});
  CHECK(composed("during", "before") == Names{"before"});
  CHECK(composed("during", "during") == Names{"during"});
  CHECK(composed("meets", "meets") == Names{"before"});
  CHECK(composed("overlaps", "overlaps") == Names{"before", "meets", "overlaps"});
  CHECK(composed("starts", "finishes") == Names{"during"});
  CHECK(composed("equal", "contains") == Names{"contains"});
}

// Common practice among those who date photographs by their markings; no source.
TEST_CASE("common practice, no source: an addition that covers an older marking is later than it") {
  TimeNetwork network;
  const VariableId older = network.add_variable();
  const VariableId addition = network.add_variable();
  const VariableId print = network.add_variable();
  network.restrict(older, days(100, 200));
  network.relate(addition, older, offsets::after());
  network.relate(print, addition, offsets::not_before());
  CHECK(network.solve().days[print] == days(101, kLastDay));
  // "The older one over the addition" cannot be as well.
  network.relate(older, addition, offsets::after());
  CHECK(network.solve().clashes.size() == 1);
}

TEST_CASE("common practice, no source: a ring cut by an addition went on together with it") {
  TimeNetwork network;
  const VariableId ring = network.add_variable();
  const VariableId bars = network.add_variable();
  network.restrict(bars, days(500, kLastDay));
  network.relate(bars, ring, offsets::exactly(0));
  CHECK(network.solve().days[ring] == days(500, kLastDay));
  // Unbroken round the bars it went on at another time: never on the one day that both have left.
  TimeNetwork apart;
  const VariableId unbroken = apart.add_variable();
  const VariableId later = apart.add_variable();
  apart.restrict(unbroken, days(500, 500));
  apart.restrict(later, days(kFirstDay, 500));
  apart.relate(later, unbroken, DaySet{DayRange{kFirstDay, -1}, DayRange{1, kLastDay}});
  CHECK(apart.solve().days[later] == days(kFirstDay, 499));
}

TEST_CASE("common practice, no source: forms that grow, and owners that follow, order the prints") {
  // One moment between two forms, or owners: prints of the first before it, of the second after.
  TimeNetwork network;
  const VariableId moment = network.add_variable();
  std::vector<VariableId> first;
  std::vector<VariableId> second;
  for (int i = 0; i < 3; ++i) {
    first.push_back(network.add_variable());
    second.push_back(network.add_variable());
    network.relate(moment, first.back(), offsets::not_before());
    network.relate(second.back(), moment, offsets::not_before());
  }
  network.restrict(first[1], days(250, 260));
  network.restrict(second[2], days(300, 310));
  const TimeSolution solution = network.solve();
  CHECK(solution.days[moment] == days(250, 310));
  CHECK(solution.days[first[0]] == days(kFirstDay, 310));
  CHECK(solution.days[second[0]] == days(250, kLastDay));
}

#ifdef TAILPROOF_HAS_BOOST_GRAPH

using Graph = boost::adjacency_list<boost::vecS, boost::vecS, boost::directedS, boost::no_property,
                                    boost::property<boost::edge_weight_t, long>>;

// An edge i -> j of weight w says that j is at most w later than i.
Graph distance_graph(std::size_t variables, const std::vector<Bound>& bounds) {
  Graph graph(variables);
  for (const Bound& bound : bounds) {
    if (bound.offsets.last() < kLastDay) {
      boost::add_edge(bound.earlier, bound.later, bound.offsets.last(), graph);
    }
    if (bound.offsets.first() > kFirstDay) {
      boost::add_edge(bound.later, bound.earlier, -bound.offsets.first(), graph);
    }
  }
  return graph;
}

bool has_negative_cycle(std::size_t variables, const std::vector<Bound>& bounds) {
  Graph graph = distance_graph(variables, bounds);
  const auto source = boost::add_vertex(graph);
  for (std::size_t i = 0; i < variables; ++i) boost::add_edge(source, i, 0L, graph);
  std::vector<long> distance(boost::num_vertices(graph));
  return !boost::bellman_ford_shortest_paths(
      graph, static_cast<int>(boost::num_vertices(graph)),
      boost::distance_map(distance.data()).root_vertex(source));
}

std::vector<Bound> random_bounds(std::mt19937& random, std::size_t variables) {
  std::uniform_int_distribution<Day> any(-60, 60);
  std::vector<Day> hidden(variables);  // half of the problems are built around a solution
  for (Day& day : hidden) day = any(random);
  const bool is_honest = random() % 2 == 0;
  std::vector<Bound> bounds;
  const std::size_t count = variables + random() % (2 * variables);
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t later = random() % variables;
    const std::size_t earlier = (later + 1 + random() % (variables - 1)) % variables;
    const Day middle = is_honest ? hidden[later] - hidden[earlier] : any(random);
    DayRange range{middle - static_cast<Day>(random() % 40),
                   middle + static_cast<Day>(random() % 40)};
    if (random() % 4 == 0) range.first = kFirstDay;
    if (random() % 4 == 0) range.last = kLastDay;
    bounds.push_back({later, earlier, DaySet{range}});
  }
  return bounds;
}

TEST_CASE("simple problems agree with Bellman-Ford and Johnson of Boost.Graph") {
  std::mt19937 random(1991);
  int satisfiable = 0;
  int clashing = 0;
  for (int round = 0; round < 2000; ++round) {
    INFO("round " << round);
    const std::size_t variables = 2 + random() % 11;
    const std::vector<Bound> bounds = random_bounds(random, variables);
    const TimeNetwork network = network_of(variables, bounds);
    const TimeSolution solution = network.solve();
    const bool clashes = has_negative_cycle(variables, bounds);
    REQUIRE(solution.clashes.empty() == !clashes);
    if (!clashes) {
      ++satisfiable;
      Graph graph = distance_graph(variables, bounds);
      std::vector<std::vector<long>> distance(variables, std::vector<long>(variables));
      REQUIRE(boost::johnson_all_pairs_shortest_paths(graph, distance));
      constexpr long kNever = std::numeric_limits<long>::max();
      for (std::size_t from = 0; from < variables; ++from) {
        const std::vector<DaySet> found = seen_from(from, variables, bounds);
        for (std::size_t to = 0; to < variables; ++to) {
          const Day least = distance[to][from] == kNever ? kFirstDay : -distance[to][from];
          const Day most = distance[from][to] == kNever ? kLastDay : distance[from][to];
          CHECK(found[to] == days(least, most));
        }
      }
      continue;
    }
    ++clashing;
    for (const Clash& clash : solution.clashes) {
      for (std::size_t drop = 0; drop <= clash.facts.size(); ++drop) {
        std::vector<Bound> rest;
        for (std::size_t i = 0; i < clash.facts.size(); ++i) {
          if (i != drop) rest.push_back(bounds[clash.facts[i]]);
        }
        CHECK(has_negative_cycle(variables, rest) == (drop == clash.facts.size()));
      }
    }
  }
  CHECK(satisfiable > 500);
  CHECK(clashing > 500);
}

#else

TEST_CASE("simple problems agree with Bellman-Ford and Johnson of Boost.Graph") {
  WARN("Boost.Graph is not installed: not compared");
}

#endif

}  // namespace
}  // namespace tailproof

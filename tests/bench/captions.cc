#include "captions.h"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <ctime>

#include "checks/registry.h"
#include "tailproof/chronology.h"
#include "task.h"
#include "world.h"

namespace tailproof::bench {
namespace {

constexpr std::size_t kAirframes = 1000;
constexpr std::array<std::string_view, 4> kAcross = {"captions-disagree", "marking-order-reversed",
                                                     "photograph-order", "photograph-undatable"};

std::size_t count_captions(const Manuscript& manuscript) {
  std::size_t count = 0;
  for (const Block& block : manuscript.blocks) count += block.kind == BlockKind::kCaption ? 1 : 0;
  return count;
}

// A book so many times over, as volumes of one series; each refers to its own captions.
struct Series {
  std::vector<Manuscript> manuscripts;
  std::vector<Claim> claims;
};
Series volumes_of(const Book& book, std::size_t count) {
  Series series;
  const auto shift = [](std::uint32_t& index, std::size_t by) {
    if (index != kNone) index += static_cast<std::uint32_t>(by);
  };
  for (std::size_t volume = 0; volume < count; ++volume) {
    const std::size_t base = series.claims.size();
    series.manuscripts.push_back(book.manuscripts().front());
    for (Claim claim : book.claims()) {
      claim.manuscript = static_cast<std::uint32_t>(volume);
      shift(claim.when.date, base);
      shift(claim.event, base);
      shift(claim.holder_of_rank, base);
      if (claim.relation->photograph.is_known())
        shift(claim.relation.own().photograph.manuscript, volume);
      if (claim.relation->other.is_known()) shift(claim.relation.own().other.manuscript, volume);
      series.claims.push_back(std::move(claim));
    }
  }
  return series;
}

template <typename Work>
double seconds_of(const Work& work) {
  const std::clock_t begin = std::clock();
  work();
  return static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC;
}

// Slope of log time over log size.
double exponent(const std::vector<double>& sizes, const std::vector<double>& times) {
  double sx = 0, sy = 0, sxx = 0, sxy = 0;
  const auto n = static_cast<double>(sizes.size());
  for (std::size_t i = 0; i < sizes.size(); ++i) {
    const double x = std::log(sizes[i]);
    const double y = std::log(std::max(times[i], 1e-6));
    sx += x;
    sy += y;
    sxx += x * x;
    sxy += x * y;
  }
  return (n * sxy - sx * sy) / (n * sxx - sx * sx);
}

}  // namespace

int run_captions(const std::string& folder, double most_seconds) {
  const Evidence evidence(kAirframes, folder);
  std::string bytes = World(kAirframes).markdown(700'000, 1);
  const Book book(evidence, folder + "/volume.md", std::move(bytes));
  book.make_ready(Needs::kClaims);
  const std::size_t captions = count_captions(book.manuscripts().front());

  std::vector<double> sizes;
  std::vector<std::vector<double>> times(kAcross.size() + 2);
  double total = 0;
  for (const std::size_t wanted : {1'000U, 10'000U, 100'000U}) {
    const Series series = volumes_of(book, std::max<std::size_t>(1, wanted / captions));
    const CheckInput input{.manuscripts = series.manuscripts,
                           .claims = series.claims,
                           .ledger = evidence.ledger,
                           .stets = {},
                           .check_ids = {}};
    sizes.push_back(static_cast<double>(captions * series.manuscripts.size()));
    total = seconds_of([&] {
      std::size_t known = 0;
      for (const Bracket& bracket : Chronology(input).brackets()) known += bracket.days.empty();
      fmt::print("{} captions, {} claims, {} without a day\n", sizes.back(), series.claims.size(),
                 known);
    });
    times[0].push_back(total);
    for (std::size_t i = 0; i < kAcross.size(); ++i) {
      for (const CheckInfo& check : builtin_checks()) {
        if (check.id != kAcross[i]) continue;
        std::size_t queries = 0;
        const double seconds = seconds_of([&] { queries = check.run(input).size(); });
        fmt::print("  {}: {} queries in {:.3f} s\n", check.id, queries, seconds);
        times[i + 1].push_back(seconds);
        total += seconds;
      }
    }
    times.back().push_back(total);
  }
  const auto row = [&](std::string_view name, const std::vector<double>& seconds) {
    if (seconds.size() != sizes.size()) return;
    fmt::print("| {} |", name);
    for (const double value : seconds) fmt::print(" {:.3f} |", value);
    fmt::print(" {:.2f} |\n", exponent(sizes, seconds));
  };
  fmt::print("\n| seconds | {} | {} | {} | exponent |\n| --- | --: | --: | --: | --: |\n", sizes[0],
             sizes[1], sizes[2]);
  row("brackets", times[0]);
  for (std::size_t i = 0; i < kAcross.size(); ++i) row(kAcross[i], times[i + 1]);
  row("together", times.back());
  return total <= most_seconds ? 0 : 1;
}

}  // namespace tailproof::bench

#include "smoke.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <ctime>

#include "task.h"
#include "world.h"

namespace tailproof::bench {
namespace {

constexpr std::size_t kSmall = 256U << 10, kLarge = 1U << 20;
// Quadratic would be sixteen times; what leaves the processor's cache on the way costs something
// too.
constexpr double kMostTimes = 9;

struct Taken {
  double seconds = 0;
  std::size_t total = 0;
};

// Processor time, the least of several runs: other work on the machine must not fail a test.
Taken take(const Task& task, const Book& book, int runs) {
  book.make_ready(task.needs);
  Taken best;
  for (int i = 0; i < runs; ++i) {
    const std::clock_t begin = std::clock();
    const std::size_t total = task.run(book);
    const double seconds = static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC;
    if (i == 0 || seconds < best.seconds) best = {seconds, total};
  }
  return best;
}

int compare(const Task& task, const Book& small, const Book& large, std::string_view what) {
  const Taken first = take(task, small, 3);
  const Taken second = take(task, large, 3);
  const double times = second.seconds / std::max(first.seconds, 1e-6);
  const double totals = static_cast<double>(second.total) /
                        static_cast<double>(std::max<std::size_t>(first.total, 1));
  const double bytes =
      static_cast<double>(large.bytes().size()) / static_cast<double>(small.bytes().size());
  fmt::print("{:14} {:22} {:7.3f} s for 1 MB, {:.2f} times the time of a quarter, {} {}\n", what,
             task.name, second.seconds, times, second.total, task.counts);
  int faults = 0;
  // Below a few milliseconds the clock decides, not the program.
  if (times >= kMostTimes && second.seconds > 0.02) {
    fmt::print(stderr, "{}: {}: {:.1f} times the time for {:.1f} times the input\n", what,
               task.name, times, bytes);
    ++faults;
  }
  // A few dozen faults strewn at random vary more than thousands of words do.
  const double slack = 0.2 + 3 / std::sqrt(static_cast<double>(first.total) + 1);
  if (first.total == 0 || totals < bytes * (1 - slack) || totals > bytes * (1 + slack)) {
    fmt::print(stderr, "{}: {}: {} {} grew to {} for {:.1f} times the input\n", what, task.name,
               first.total, task.counts, second.total, bytes);
    ++faults;
  }
  return faults;
}

}  // namespace

int run_smoke(const std::string& folder) {
  const Evidence evidence(1000, folder);
  const World world(1000);
  int faults = 0;
  const auto compare_all = [&](std::string_view what, const Book& small, const Book& large) {
    for (const Task& task : tasks()) {
      // A single paragraph is a single line and a single block, however long, and shows no
      // photograph; mentions are never looked for in more than a stretch: claims/stretches.h.
      const bool counts_parts = task.name == "mentions" || task.counts == "lines" ||
                                task.counts == "blocks" || task.counts == "parts" ||
                                task.counts == "queries" || task.name == "chronology";
      if (what == "one paragraph" && counts_parts) continue;
      faults += compare(task, small, large, what);
    }
  };
  compare_all("Markdown", Book(evidence, folder + "/s.md", world.markdown(kSmall, 1)),
              Book(evidence, folder + "/l.md", world.markdown(kLarge, 1)));
  compare_all("DocBook", Book(evidence, folder + "/s.xml", world.docbook(kSmall, 2)),
              Book(evidence, folder + "/l.xml", world.docbook(kLarge, 2)));
  compare_all("one paragraph", Book(evidence, folder + "/s.txt", world.one_paragraph(kSmall, 3)),
              Book(evidence, folder + "/l.txt", world.one_paragraph(kLarge, 3)));
  return faults;
}

}  // namespace tailproof::bench

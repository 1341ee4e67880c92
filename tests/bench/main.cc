// Runs the tasks and prints a table of them as Markdown; see README.md in this folder.
#include <benchmark/benchmark.h>
#include <fmt/core.h>

#include <charconv>
#include <cmath>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "captions.h"
#include "smoke.h"
#include "task.h"
#include "world.h"

namespace tailproof::bench {
namespace {

namespace fs = std::filesystem;

/// A folder of this process that is gone when it ends.
class TempFolder {
 public:
  TempFolder() {
    std::string form = (fs::temp_directory_path() / "tailproof-bench-XXXXXX").string();
    path_ = mkdtemp(form.data()) == nullptr ? std::string() : form;
  }
  ~TempFolder() {
    std::error_code error;
    if (!path_.empty()) fs::remove_all(path_, error);
  }
  TempFolder(const TempFolder&) = delete;
  TempFolder& operator=(const TempFolder&) = delete;
  [[nodiscard]] const std::string& path() const { return path_; }
  [[nodiscard]] std::string folder(const std::string& name) const {
    fs::create_directories(path_ + "/" + name);
    return path_ + "/" + name;
  }

 private:
  std::string path_;
};

struct Measured {
  double megabytes_a_second = 0;
  std::size_t total = 0;
};

/// One column of the table: a format, a size and a ledger.
struct Column {
  std::string format;
  std::size_t megabytes = 0;
  std::size_t airframes = 0;
  auto operator<=>(const Column&) const = default;
};

using Results = std::map<Column, std::map<std::string, Measured, std::less<>>>;

void measure(benchmark::State& state, const Task& task, const Book& book, Measured& out) {
  book.make_ready(task.needs);
  double seconds = 0;
  std::size_t runs = 0;
  for (auto _ : state) {
    const std::clock_t begin = std::clock();
    out.total = task.run(book);
    seconds += static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC;
    ++runs;
  }
  const double bytes = static_cast<double>(book.bytes().size() * runs);
  state.SetBytesProcessed(static_cast<std::int64_t>(bytes));
  out.megabytes_a_second = bytes / 1048576.0 / std::max(seconds, 1e-9);
}

/// The books of a column hold what they need only while that column runs.
void run_column(const Column& column, const Evidence& evidence, const std::string& folder,
                Results& results) {
  const World world(column.airframes);
  const std::size_t bytes = column.megabytes << 20;
  const bool is_xml = column.format == "DocBook";
  const Book book(evidence, folder + (is_xml ? "/book.xml" : "/book.md"),
                  is_xml ? world.docbook(bytes, 2) : world.markdown(bytes, 1));
  benchmark::ClearRegisteredBenchmarks();
  for (const Task& task : tasks()) {
    Measured& out = results[column][std::string(task.name)];
    const std::string name =
        fmt::format("{}/{}/{}MB/{}", task.name, column.format, column.megabytes, column.airframes);
    auto* registered = benchmark::RegisterBenchmark(
        name.c_str(), [&task, &book, &out](benchmark::State& s) { measure(s, task, book, out); });
    registered->Unit(benchmark::kMillisecond);
    if (column.megabytes > 8) {
      registered->Iterations(1);
    } else {
      registered->MinTime(0.3);
    }
  }
  benchmark::ConsoleReporter reporter;  // its own each time: the default one serves only once
  benchmark::RunSpecifiedBenchmarks(&reporter);
}

void print_table(const Results& results) {
  fmt::print(
      "\nMB/s, and in brackets how many times the time of one RE2 pass (a) and of the bare "
      "parse (b).\n\n| task |");
  for (const auto& [column, row] : results) {
    fmt::print(" {} {} MB, {} airframes |", column.format, column.megabytes, column.airframes);
  }
  fmt::print("\n| --- |");
  for (std::size_t i = 0; i < results.size(); ++i) fmt::print(" --- |");
  fmt::print("\n");
  for (const Task& task : tasks()) {
    fmt::print("| {} |", task.name);
    for (const auto& [column, row] : results) {
      const double own = row.find(task.name)->second.megabytes_a_second;
      const double re2 = row.find("re2 one date pattern")->second.megabytes_a_second;
      const double bare = row.find("bare md4c or pugixml")->second.megabytes_a_second;
      fmt::print(" {:.1f} ({:.2f}a {:.2f}b) |", own, re2 / own, bare / own);
    }
    fmt::print("\n");
  }
}

/// The power of the size with which a task's time grows, by least squares over the logarithms: 1 is
/// in step with the book. Of each format and ledger that ran at two sizes or more.
void print_growth(const Results& results) {
  std::map<std::pair<std::string, std::size_t>, std::vector<const Column*>> series;
  for (const auto& [column, row] : results) {
    series[{column.format, column.airframes}].push_back(&column);
  }
  std::erase_if(series, [](const auto& one) { return one.second.size() < 2; });
  if (series.empty()) return;
  fmt::print("\nGrowth: the exponent of the time over the size of the book.\n\n| task |");
  for (const auto& [key, columns] : series) {
    fmt::print(" {}, {} airframes |", key.first, key.second);
  }
  fmt::print("\n| --- |");
  for (std::size_t i = 0; i < series.size(); ++i) fmt::print(" --: |");
  fmt::print("\n");
  for (const Task& task : tasks()) {
    fmt::print("| {} |", task.name);
    for (const auto& [key, columns] : series) {
      double x = 0, y = 0, xx = 0, xy = 0;
      for (const Column* column : columns) {
        const auto& row = results.find(*column)->second;
        const double size = static_cast<double>(column->megabytes);
        const double seconds = size / row.find(task.name)->second.megabytes_a_second;
        x += std::log(size);
        y += std::log(seconds);
        xx += std::log(size) * std::log(size);
        xy += std::log(size) * std::log(seconds);
      }
      const double count = static_cast<double>(columns.size());
      fmt::print(" {:.2f} |", (count * xy - x * y) / (count * xx - x * x));
    }
    fmt::print("\n");
  }
}

/// Every total must grow as the book does.
int check_totals(const Results& results) {
  int faults = 0;
  for (const auto& [small, small_row] : results) {
    for (const auto& [large, large_row] : results) {
      if (small.format != large.format || small.airframes != large.airframes ||
          small.megabytes >= large.megabytes)
        continue;
      const double bytes =
          static_cast<double>(large.megabytes) / static_cast<double>(small.megabytes);
      for (const auto& [name, first] : small_row) {
        const double total = static_cast<double>(large_row.find(name)->second.total);
        const double grown = total / static_cast<double>(std::max<std::size_t>(first.total, 1));
        // A few dozen faults strewn at random vary more than thousands of words do.
        const double slack = 0.2 + 3 / std::sqrt(static_cast<double>(first.total) + 1);
        const double lowest = bytes * (1 - slack), highest = bytes * (1 + slack);
        if (first.total != 0 && grown > lowest && grown < highest) continue;
        fmt::print(stderr, "{}: {} became {} for {:.0f} times the input\n", name, first.total,
                   total, bytes);
        ++faults;
      }
    }
  }
  return faults;
}

struct Wanted {
  std::vector<std::size_t> megabytes = {1, 8, 64};
  std::vector<std::size_t> airframes = {1000, 100000};
};

std::vector<std::size_t> numbers(std::string_view list) {
  std::vector<std::size_t> out;
  while (!list.empty()) {
    const std::size_t comma = std::min(list.find(','), list.size());
    std::size_t value = 0;
    std::from_chars(list.data(), list.data() + comma, value);
    if (value > 0) out.push_back(value);
    list.remove_prefix(std::min(list.size(), comma + 1));
  }
  return out;
}

int write_world(const std::string& folder, std::size_t megabytes, std::size_t airframes) {
  fs::create_directories(folder + "/ledger");
  const World world(airframes);
  world.write_ledger(folder + "/ledger");
  const Evidence evidence(airframes, folder + "/ledger");
  const Book markdown(evidence, folder + "/book.md", world.markdown(megabytes << 20, 1));
  const Book docbook(evidence, folder + "/book.xml", world.docbook(megabytes << 20, 2));
  const Book paragraph(evidence, folder + "/paragraph.txt",
                       world.one_paragraph(megabytes << 20, 3));
  return 0;
}

}  // namespace
}  // namespace tailproof::bench

int main(int argc, char** argv) {
  using namespace tailproof::bench;
  const TempFolder temp;
  Wanted wanted;
  std::string write_to;
  for (int i = 1; i < argc; ++i) {
    const std::string_view argument = argv[i];
    if (argument == "--smoke") return run_smoke(temp.path()) == 0 ? 0 : 1;
    if (argument == "--captions") return run_captions(temp.path(), 5.0);
    if (argument.starts_with("--megabytes=")) wanted.megabytes = numbers(argument.substr(12));
    if (argument.starts_with("--airframes=")) wanted.airframes = numbers(argument.substr(12));
    if (argument.starts_with("--write=")) write_to = argument.substr(8);
  }
  if (wanted.megabytes.empty() || wanted.airframes.empty()) {
    fmt::print(stderr, "--megabytes and --airframes take numbers with commas between them\n");
    return 2;
  }
  if (!write_to.empty()) {
    return write_world(write_to, wanted.megabytes.front(), wanted.airframes.front());
  }
  benchmark::Initialize(&argc, argv);
  Results results;
  for (const std::size_t airframes : wanted.airframes) {
    const std::string folder = temp.folder(std::to_string(airframes));
    const Evidence evidence(airframes, folder);
    for (const char* format : {"Markdown", "DocBook"}) {
      for (const std::size_t megabytes : wanted.megabytes) {
        run_column({format, megabytes, airframes}, evidence, temp.path(), results);
      }
    }
  }
  print_table(results);
  print_growth(results);
  return check_totals(results) == 0 ? 0 : 1;
}

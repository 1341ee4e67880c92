// The whole program but its start: ledger, grammars, manuscript, checks, and the report as JSON.
#include "report/report.h"
#include "run/run.h"
#include "task.h"

namespace tailproof::bench {

std::size_t run_whole(const Book& book);
std::size_t run_whole(const Book& book) {
  RunOptions options;
  options.paths = {book.path()};
  options.ledger = book.evidence().folder;
  const Run run = check(options);
  const std::string report = check_writer("json")(run, ReportOptions{});
  return report.empty() ? 0 : run.queries.size() + run.claims.size();
}

}  // namespace tailproof::bench

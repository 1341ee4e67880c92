#include "cli/verbs.h"

#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <functional>
#include <iterator>
#include <memory>
#include <optional>
#include <system_error>
#include <utility>

#include "cli/memory.h"
#include "cli/output.h"
#include "cli/progress.h"
#include "cli/verb_table.h"
#include "ledger/audit.h"
#include "ledger/compiled.h"
#include "ledger/reader.h"
#include "lsp/serve.h"
#include "report/known.h"
#include "report/report.h"
#include "run/history.h"
#include "source/nearest.h"

namespace tailproof {

namespace {

constexpr int kClean = 0;
constexpr int kQueries = 1;
constexpr int kCouldNot = 2;

int complain(const std::string& message) {
  std::fprintf(stderr, "tailproof: %s\n", message.c_str());
  return kCouldNot;
}

/// Writes the report; kCouldNot when it cannot be written, else `status`.
int deliver(const CommandLine& line, std::vector<std::string> inputs, const std::string& report,
            int status) {
  if (!line.ledger.empty()) {
    inputs.push_back(line.ledger);
  }
  if (!line.since.empty()) {
    inputs.push_back(line.since);
  }
  inputs.insert(inputs.end(), line.grammars.begin(), line.grammars.end());
  inputs.insert(inputs.end(), line.plugins.begin(), line.plugins.end());
  if (!line.output.empty() && would_overwrite(line.output, inputs)) {
    return complain(line.output + ": is read in this run and will not be written; name another " +
                    "file with --output");
  }
  const std::string fault = write_output(line.output, report);
  return fault.empty() ? status : complain(fault);
}

std::vector<std::string> source_paths(const Run& run) {
  std::vector<std::string> paths;
  for (FileId file = 0; file < run.sources.size(); ++file) {
    paths.push_back(run.sources.path(file));
  }
  return paths;
}

/// The command line with its project taken in, and what a run is told.
struct Task {
  CommandLine line;
  RunOptions options;
  bool is_bad = false;  // the project file was complained of
  std::unique_ptr<Progress> progress;
};

/// Nothing, after a line that says why, when the work cannot be done.
std::optional<Task> prepare(const CommandLine& given) {
  Complaints complaints;
  const Result<Project> project = project_of(given, complaints);
  if (!project) {
    complaints.push_back(project.error());
  }
  Task task;
  task.is_bad = print_complaints(complaints);
  if (!project) {
    return std::nullopt;
  }
  task.line = given;
  const std::string missing = complete(task.line, project.value());
  if (!missing.empty()) {
    complain(missing);
    return std::nullopt;
  }
  task.options = run_options(task.line);
  task.progress = std::make_unique<Progress>();
  task.options.at_stage = [progress = task.progress.get()](const std::string& stage) {
    progress->at(stage);
  };
  fill_in(task.options, project.value());
  return task;
}

bool is_colored(const CommandLine& line) {
  if (line.color == "always" || line.color == "never") {
    return line.color == "always";
  }
  const char* no_color = std::getenv("NO_COLOR");
  const bool is_refused = no_color != nullptr && *no_color != '\0';
  return !is_refused && line.output.empty() && is_able_terminal(STDOUT_FILENO);
}

ReportOptions report_options(const CommandLine& line) {
  return ReportOptions{.at_least = level_of_word(line.at_least),
                       .with_stetted = line.stets,
                       .explain = line.explain,
                       .is_colored = is_colored(line)};
}

}  // namespace

int run_check(const CommandLine& given) {
  std::optional<Task> task = prepare(given);
  if (!task) {
    return kCouldNot;
  }
  const CommandLine& line = task->line;
  std::optional<KnownQueries> known;
  if (!line.since.empty()) {
    Result<KnownQueries> read = read_known_queries(line.since);
    if (!read) {
      return complain(to_line(read.error()));
    }
    known = std::move(read).value();
  }
  // The sheet draws what stands around a query, and counts over all rows.
  task->options.whole_ledger = line.format == "html";
  Run& run = kept_to_the_end(check(task->options));
  task->progress.reset();
  const bool is_bad = print_complaints(run.complaints) || task->is_bad;
  if (run.stopped) {
    return kCouldNot;
  }
  ReportOptions options = report_options(line);
  std::string report;
  do {
    if (known) {
      options.is_known = mark_known(run, *known);
    }
    report = check_writer(line.format)(run, options);
  } while (read_more(run, task->options));
  const int found = has_query(run.queries, options.at_least, options.is_known) ? kQueries : kClean;
  return deliver(line, source_paths(run), report, is_bad ? kCouldNot : found);
}

namespace {

/// What a verb makes of the claims; nothing when it could not, after a line that says why.
using Writer = std::function<std::optional<std::string>(const Run&, const CommandLine&)>;

/// Extracts the claims and delivers what `write` makes of them.
int write_extracted(const CommandLine& given, const Writer& write) {
  std::optional<Task> task = prepare(given);
  if (!task) {
    return kCouldNot;
  }
  task->options.whole_ledger = true;
  const Run& run = kept_to_the_end(extract(task->options));
  task->progress.reset();
  const bool is_bad = print_complaints(run.complaints) || task->is_bad;
  if (run.stopped) {
    return kCouldNot;
  }
  const std::optional<std::string> written = write(run, task->line);
  if (!written) {
    return kCouldNot;
  }
  return deliver(task->line, source_paths(run), *written, is_bad ? kCouldNot : kClean);
}

}  // namespace

int run_claims(const CommandLine& given) {
  return write_extracted(given, [](const Run& run, const CommandLine& line) {
    return claims_writer(line.format)(run, report_options(line));
  });
}

int run_bracket(const CommandLine& given) {
  CommandLine files = given;
  std::vector<LinePlace> places;
  for (std::string& path : files.paths) {
    if (std::optional<LinePlace> place = read_line_place(path)) {
      path = place->file;
      places.push_back(*std::move(place));
    }
  }
  return write_extracted(
      files, [&](const Run& run, const CommandLine& line) -> std::optional<std::string> {
        for (const LinePlace& place : places) {
          if (!has_caption(run, place)) {
            complain(place.file + ":" + std::to_string(place.line) +
                     ": no caption stands on this line; name a line of the caption itself");
            return std::nullopt;
          }
        }
        ReportOptions options = report_options(line);
        options.places = places;
        return bracket_writer(line.format)(run, options);
      });
}

int run_history(const CommandLine& given) {
  return write_extracted(
      given, [](const Run& run, const CommandLine& line) -> std::optional<std::string> {
        const std::optional<AirframeHistory> history = history_of_airframe(run, line.name);
        if (!history) {
          const std::string meant = nearest_airframe(run, line.name);
          complain("\"" + line.name + "\" is not known: neither the ledger nor a manuscript " +
                   "names it as an airframe" +
                   (!meant.empty()        ? "; \"" + meant + "\" was perhaps meant"
                    : line.ledger.empty() ? "; serials are known by a ledger, name it with --ledger"
                                          : ""));
          return std::nullopt;
        }
        return history_writer(line.format)(run, *history);
      });
}

int run_concordance(const CommandLine& given) {
  return write_extracted(given, [](const Run& run, const CommandLine& line) {
    return concordance_writer(line.format)(run, concordance_of(run));
  });
}

namespace {

/// Writes the compiled form of a ledger that has been read.
int compile(const CommandLine& line, const Ledger& ledger, bool is_bad) {
  if (is_bad) {
    return complain(line.ledger + ": is not compiled while it is complained of; put that right " +
                    "first");
  }
  if (is_compiled_ledger(line.ledger)) {
    return complain(line.ledger + ": is compiled already; name the ledger that it was made of");
  }
  if (would_overwrite(line.compile, {line.ledger})) {
    return complain(line.compile + ": is read in this run and will not be written; name another " +
                    "file with --compile");
  }
  Complaints complaints;
  const Result<bool> written = compile_ledger(line.ledger, ledger, line.compile, complaints);
  if (!written) {
    complaints.push_back(written.error());
  }
  return print_complaints(complaints) ? kCouldNot : kClean;
}

}  // namespace

int run_audit(const CommandLine& given) {
  std::optional<Task> task = prepare(given);
  if (!task) {
    return kCouldNot;
  }
  const CommandLine& line = task->line;
  Complaints complaints;
  const Result<Ledger> ledger = read_ledger(line.ledger, complaints, task->options.margins);
  task->progress.reset();
  if (!ledger) {
    complaints.push_back(ledger.error());
  }
  const bool is_bad = print_complaints(complaints) || task->is_bad;
  if (!ledger) {
    return kCouldNot;
  }
  if (!line.compile.empty()) {
    const int status = compile(line, ledger.value(), is_bad);
    if (status != kClean) return status;
  }
  const ReportOptions options = report_options(line);
  const std::vector<AuditFinding> findings = audit(ledger.value());
  const bool is_found = std::any_of(
      findings.begin(), findings.end(),
      [&](const AuditFinding& finding) { return level_of(finding) >= options.at_least; });
  return deliver(line, {}, audit_writer(line.format)(ledger.value(), findings, options),
                 is_bad ? kCouldNot : (is_found ? kQueries : kClean));
}

int run_lsp(const CommandLine& line) {
  // Standard output belongs to the protocol: nothing else may be printed there. What an editor sets
  // may be relative to its folders; what is named here is where the user stands.
  const auto absolute = [](const std::string& path) {
    std::error_code error;
    const std::filesystem::path found = std::filesystem::absolute(path, error);
    return path.empty() || error ? path : found.lexically_normal().string();
  };
  std::vector<std::string> grammars;
  std::transform(line.grammars.begin(), line.grammars.end(), std::back_inserter(grammars),
                 absolute);
  std::optional<Level> at_least;
  if (!line.at_least.empty()) at_least = level_of_word(line.at_least);
  const lsp::Settings settings{.ledger = absolute(line.ledger),
                               .grammars = grammars,
                               .plugins = line.plugins,
                               .only = line.only,
                               .skip = line.skip,
                               .language = line.language,
                               .at_least = at_least};
  return lsp::serve(0, 1, settings);
}

int run_checks(const CommandLine& line) {
  Complaints complaints;
  const std::vector<CheckInfo> checks = known_checks(line.plugins, complaints);
  const int status = print_complaints(complaints) ? kCouldNot : kClean;
  if (line.name.empty()) {
    return deliver(line, {}, list_of_checks(checks), status);
  }
  const auto found = std::find_if(checks.begin(), checks.end(),
                                  [&](const CheckInfo& check) { return check.id == line.name; });
  if (found != checks.end()) {
    return deliver(line, {}, page_of_check(*found), status);
  }
  std::vector<std::string> ids;
  for (const CheckInfo& check : checks) {
    ids.emplace_back(check.id);
  }
  const std::string meant = nearest(line.name, ids);
  return complain("no check \"" + line.name + "\"; " +
                  (meant.empty() ? "tailproof checks lists them" : "\"" + meant + "\" exists"));
}

int run_completions(const CommandLine& line) {
  const std::string script = completions_for(line.name);
  return script.empty() ? complain("completions needs a SHELL, one of " + listed(known_shells()))
                        : deliver(line, {}, script, kClean);
}

int run_manual(const CommandLine& line) { return deliver(line, {}, manual_page(), kClean); }

}  // namespace tailproof

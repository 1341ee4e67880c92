#include "run/run.h"

#include <filesystem>
#include <map>
#include <set>
#include <system_error>
#include <utility>

#include "claims/extract.h"
#include "ledger/reader.h"
#include "run/embedded_grammars.h"
#include "run/paths.h"
#include "source/thread_group.h"

namespace tailproof {

namespace fs = std::filesystem;

namespace {

void tell(const RunOptions& options, const std::string& stage) {
  if (options.at_stage) {
    options.at_stage(stage);
  }
}

/// Reads every manuscript; one that another includes stays only in its place there.
void read_manuscripts(Run& run, const RunOptions& options) {
  struct Reading {
    std::string canonical;
    Manuscript manuscript;
    Complaints complaints;
    bool is_whole = true;
  };
  std::vector<Reading> readings;
  std::map<std::string, std::string> included_by;
  const std::vector<std::string> paths = expand_paths(options.paths, run.complaints);
  std::size_t number = 0;
  for (const std::string& path : paths) {
    tell(options, "reading manuscripts (" + std::to_string(++number) + " of " +
                      std::to_string(paths.size()) + ")");
    Reading reading;
    reading.canonical = canonical_path(path);
    if (included_by.contains(reading.canonical)) {
      continue;
    }
    std::vector<std::string> included;
    Result<Manuscript> read =
        read_manuscript(run.sources, path, options.read, reading.complaints, &included);
    for (const std::string& file : included) {
      const std::string canonical = canonical_path(file);
      if (canonical != reading.canonical) {
        included_by.emplace(canonical, reading.canonical);
      }
    }
    if (read) {
      reading.manuscript = std::move(read).value();
    } else {
      reading.complaints.push_back(read.error());
      reading.is_whole = false;
    }
    readings.push_back(std::move(reading));
  }
  for (Reading& reading : readings) {
    if (included_by.contains(reading.canonical)) {
      continue;
    }
    run.complaints.insert(run.complaints.end(), reading.complaints.begin(),
                          reading.complaints.end());
    if (reading.is_whole) {
      run.manuscripts.push_back(std::move(reading.manuscript));
    }
  }
}

bool read_ledger_of(Run& run, const RunOptions& options, Complaints& complaints) {
  if (options.ledger.empty()) {
    run.ledger = empty_ledger();
    return true;
  }
  Result<Ledger> ledger = read_ledger(options.ledger, complaints, options.margins);
  if (!ledger) {
    complaints.push_back(ledger.error());
    return false;
  }
  run.ledger = std::move(ledger).value();
  return true;
}

/// Language of an embedded grammar: "grammars/en/dates.toml" is of "en"; "" when it is of none.
std::string language_of(const GrammarText& grammar) {
  const std::size_t begin = grammar.name.find('/');
  const std::size_t end = grammar.name.find('/', begin + 1);
  if (begin == std::string::npos || end == std::string::npos) return {};
  return grammar.name.substr(begin + 1, end - begin - 1);
}

std::set<std::string> languages_of(const std::vector<GrammarText>& grammars) {
  std::set<std::string> languages;
  for (const GrammarText& grammar : grammars) {
    if (std::string language = language_of(grammar); !language.empty()) {
      languages.insert(std::move(language));
    }
  }
  return languages;
}

}  // namespace

Grammars read_grammars(const RunOptions& options, Complaints& complaints) {
  const std::string wanted = options.language.empty() ? "en" : options.language;
  std::vector<GrammarText> embedded = embedded_grammars();
  const std::set<std::string> languages = languages_of(embedded);
  if (!languages.contains(wanted) && options.grammars.empty()) {
    std::string known;
    for (const std::string& language : languages) {
      known += (known.empty() ? "" : ", ") + language;
    }
    complaints.push_back(Complaint{
        .file = {},
        .message = "no grammars for the language \"" + wanted + "\"; there are " + known});
  }
  // Those of another language would be read only to be left out.
  std::erase_if(embedded, [&](const GrammarText& grammar) {
    const std::string language = language_of(grammar);
    return !language.empty() && language != wanted;
  });
  std::vector<std::string> folders;
  std::error_code error;
  if (!options.ledger.empty()) {
    const fs::path ledger(options.ledger);
    const fs::path beside = fs::is_directory(ledger, error) ? ledger : ledger.parent_path();
    if (!is_compiled_ledger(options.ledger) && fs::is_directory(beside / "grammars", error)) {
      folders.push_back((beside / "grammars").string());
    }
  }
  for (const std::string& folder : options.grammars) {
    if (fs::is_directory(folder, error)) {
      folders.push_back(folder);
    } else {
      complaints.push_back(Complaint{
          .file = folder, .message = "no such folder of grammars; name one with --grammar"});
    }
  }
  const std::vector<CompiledGrammar> compiled = is_compiled_ledger(options.ledger)
                                                    ? compiled_grammars(options.ledger)
                                                    : std::vector<CompiledGrammar>();
  for (const CompiledGrammar& grammar : compiled) {
    embedded.push_back({options.ledger + "(" + grammar.name + ")", grammar.text});
  }
  return Grammars::read(embedded, folders, wanted, complaints);
}

namespace {

std::vector<Claim> claims_of(Run& run, const RunOptions& options, const Grammars& grammars) {
  run.finder = nullptr;  // of the ledger as it was before
  run.finder = std::make_shared<const MentionFinder>(
      run.ledger, grammars, options.explain ? Explain::kYes : Explain::kNo);
  return extract_claims(run.manuscripts, *run.finder, options.jobs);
}

/// Reads the ledger again with what it has been asked for since.
bool reread(Run& run, const RunOptions& options) {
  Complaints known;  // the first reading has made them
  Result<Ledger> ledger = run.compiled->read(known, options.margins);
  if (ledger) {
    run.ledger = std::move(ledger).value();
    return true;
  }
  run.complaints.push_back(ledger.error());
  run.stopped = true;
  return false;
}

/// Those that have been read for many runs, else those of this one, which it keeps.
const Grammars& grammars_for(Run& run, const RunOptions& options) {
  if (options.ready_grammars != nullptr) return *options.ready_grammars;
  run.grammars = std::make_shared<const Grammars>(read_grammars(options, run.complaints));
  return *run.grammars;
}

/// Of a compiled ledger the manuscripts' words decide what is read.
Run extract_by_words(const RunOptions& options) {
  Run run;
  Result<CompiledLedger> compiled = CompiledLedger::open(options.ledger);
  if (!compiled) {
    run.complaints.push_back(compiled.error());
    run.stopped = true;
    return run;
  }
  run.compiled = std::make_unique<CompiledLedger>(std::move(compiled).value());
  const Grammars& grammars = grammars_for(run, options);
  read_manuscripts(run, options);
  tell(options, "reading the ledger");
  for (const Manuscript& manuscript : run.manuscripts) {
    for (const Block& block : manuscript.blocks) {
      for (const std::string* text :
           {&block.text, &block.figure, &block.photograph, &block.image, &block.credit}) {
        if (!text->empty()) run.compiled->want(*text);
      }
    }
  }
  Complaints of_ledger;
  Result<Ledger> ledger = run.compiled->read(of_ledger, options.margins);
  run.complaints.insert(run.complaints.begin(), of_ledger.begin(), of_ledger.end());
  if (!ledger) {
    run.complaints = {ledger.error()};
    run.stopped = true;
    return run;
  }
  run.ledger = std::move(ledger).value();
  tell(options, "finding claims");
  run.claims = claims_of(run, options, grammars);
  while (run.compiled->has_more() && reread(run, options)) {
    run.claims = claims_of(run, options, grammars);
  }
  return run;
}

}  // namespace

bool read_more(Run& run, const RunOptions& options) {
  if (run.compiled == nullptr || run.stopped || !run.compiled->has_more()) return false;
  if (!reread(run, options)) return false;
  const Complaints before = run.complaints;
  check_claims(run, options);
  run.complaints = before;
  return true;
}

Run extract(const RunOptions& options) {
  if (!options.whole_ledger && is_compiled_ledger(options.ledger)) return extract_by_words(options);
  Run run;
  tell(options, "reading the ledger");
  // The ledger is read beside the manuscripts; its complaints stand before theirs all the same.
  Complaints of_ledger;
  bool has_ledger = false;
  const auto read_own_ledger = [&] { has_ledger = read_ledger_of(run, options, of_ledger); };
  ThreadGroup reader;
  const bool is_beside = options.jobs > 1 && reader.start(read_own_ledger);
  if (!is_beside) {
    read_own_ledger();
  }
  const Grammars* grammars = nullptr;
  if (is_beside || has_ledger) {
    grammars = &grammars_for(run, options);
    read_manuscripts(run, options);
  }
  reader.join();
  if (!has_ledger) {
    run.complaints = std::move(of_ledger);
    run.manuscripts.clear();
    run.stopped = true;
    return run;
  }
  run.complaints.insert(run.complaints.begin(), of_ledger.begin(), of_ledger.end());
  tell(options, "finding claims");
  run.claims = claims_of(run, options, *grammars);
  return run;
}

}  // namespace tailproof

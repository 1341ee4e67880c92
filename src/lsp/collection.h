// One ledger with the manuscripts that are held against it, kept up to date while they are edited.
//
// Contract: after refresh(), run() is what `tailproof check` would find, with the texts of the open
// documents in place of the files. Changes are told by path and cost nothing until then. What has
// not changed is neither read nor extracted again.
// Lifetime: the documents outlive it. Threads: one.
#pragma once

#include <map>
#include <memory>
#include <set>
#include <string>
#include <vector>

#include "claims/kept_claims.h"
#include "lsp/document.h"
#include "lsp/settings.h"
#include "run/kept_checks.h"
#include "run/run.h"

namespace tailproof::lsp {

using Documents = std::map<std::string, Document>;  // by path

/// How a collection is checked.
struct CollectionOptions {
  RunOptions run;  // paths are not looked at
  Level at_least = Level::kWarning;
  Complaints complaints;  // of the project file
};

class Collection {
 public:
  Collection(CollectionOptions options, const Documents& documents);

  /// The manuscripts, in the order in which they are read.
  void set_files(std::vector<std::string> files);
  /// A manuscript, a file that one includes, or a stets.csv has another text, in its document or on
  /// disk. Other paths change nothing.
  void text_changed(const std::string& path);
  void ledger_changed() { is_ledger_old_ = true; }
  [[nodiscard]] bool is_old() const;

  /// Brings the run up to date.
  void refresh();
  [[nodiscard]] const Run& run() const { return run_; }
  [[nodiscard]] const std::string& ledger() const { return options_.run.ledger; }
  [[nodiscard]] const std::vector<std::string>& grammars() const { return options_.run.grammars; }
  [[nodiscard]] Level at_least() const { return options_.at_least; }
  [[nodiscard]] const std::vector<std::string>& files() const { return files_; }
  /// Whether a manuscript of the run has text in this file.
  [[nodiscard]] bool has_file(const std::string& path) const;

 private:
  struct Part {
    Complaints complaints;
    std::vector<std::string> files;  // its own and those that it includes
  };

  void read_ledger_and_grammars();
  void read_files();
  bool read_again();
  void check_all();
  void take_open_texts();
  Result<Manuscript> read(const std::string& path, Part& part);

  CollectionOptions options_;
  const Documents& documents_;
  std::vector<std::string> files_;
  std::set<std::string> changed_;
  bool is_ledger_old_ = true;
  bool are_files_old_ = true;

  Run run_;
  Grammars grammars_;
  std::unique_ptr<KeptClaims> kept_;
  KeptChecks kept_checks_;
  Complaints ledger_complaints_;
  std::string ledger_fault_;      // why there is none, where one is wanted
  Complaints unread_complaints_;  // of manuscripts that cannot be read at all
  std::vector<Part> parts_;       // by manuscript of the run
};

}  // namespace tailproof::lsp

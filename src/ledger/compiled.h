// A ledger compiled into one file, of which only the rows are read that a manuscript's words lead
// to.
//
// The file is SQLite with a form of its own: rows stand together by airframe ("cards"), with every
// row that its links, and a shared former or later number, tie to it; names are found by their
// spelling. Every row keeps table, line and source, and names in it are those that the whole ledger
// resolved, so that queries are byte for byte those of the tables it was made of.
//
// Contract: want() with every text that is to be checked, then read(). What the ledger was asked
// beyond what it had, it remembers: while has_more() says so, read() again and do the work again
// with that. What such a run ends with is what the whole ledger would have given. The rows of small
// tables are always read in full. Threads: one at a time; the ledgers read may be used by any.
// Cost: read() costs what it reads, want() a look-up for each spelling that may be a name.
#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "ledger/reader.h"
#include "tailproof/ledger.h"
#include "tailproof/result.h"

namespace tailproof {

/// Whether the file at `path` says of itself that it is a compiled ledger, of any version.
[[nodiscard]] bool is_compiled_ledger(const std::string& path);

struct CompiledGrammar {
  std::string name, text;
};
/// The grammars that stood beside the ledger when it was compiled.
[[nodiscard]] std::vector<CompiledGrammar> compiled_grammars(const std::string& path);

class CompiledLedger {
 public:
  /// Fails when it is none, cannot be read, or is of another version.
  [[nodiscard]] static Result<CompiledLedger> open(const std::string& path);
  CompiledLedger(CompiledLedger&&) noexcept;
  ~CompiledLedger();

  /// Whatever this text may name.
  void want(std::string_view text);
  void want_all();
  [[nodiscard]] Result<Ledger> read(Complaints& complaints, const MarginChanges& margins);
  /// Whether the ledger last read was asked for rows that it did not have. They are wanted now.
  [[nodiscard]] bool has_more();
  /// How many airframes and photographs the last read() has taken from the file.
  [[nodiscard]] std::size_t cards_read() const;

 private:
  struct Inside;
  explicit CompiledLedger(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

/// Compiles the ledger at `path`, of which `ledger` has been read without complaints, into the file
/// `output`, which is written whole or not at all.
[[nodiscard]] Result<bool> compile_ledger(const std::string& path, const Ledger& ledger,
                                          const std::string& output, Complaints& complaints);

}  // namespace tailproof

// A collection as a client sees it: its places in the protocol's terms, and what stands at one.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lsp/collection.h"
#include "lsp/document.h"
#include "lsp/places.h"

namespace tailproof::lsp {

/// What the client says that it can do.
struct Client {
  PositionEncoding encoding = PositionEncoding::kUtf16;
  bool reads_markdown = false;         // in hovers
  bool shows_related = false;          // relatedInformation of diagnostics
  bool takes_versioned_edits = false;  // documentChanges of a WorkspaceEdit
  bool makes_files = false;            // CreateFile in them
  bool takes_action_literals = false;  // CodeAction, not only Command
  bool nests_symbols = false;          // DocumentSymbol, not only SymbolInformation
  bool answers_configuration = false;  // workspace/configuration
  bool registers_watches = false;      // didChangeWatchedFiles, dynamically
};

[[nodiscard]] Client client_of(const Json& initialize_params);

/// Lifetime: of the run and the documents.
class View {
 public:
  View(const Collection& collection, const Documents& documents, const Client& client)
      : collection_(collection), documents_(documents), client_(client) {}

  [[nodiscard]] const Run& run() const { return collection_.run(); }
  [[nodiscard]] const Collection& collection() const { return collection_; }
  [[nodiscard]] const Client& client() const { return client_; }

  [[nodiscard]] Lines lines(FileId file) const;
  [[nodiscard]] std::string uri_of(const std::string& path) const;
  [[nodiscard]] Json location(const Span& span) const;
  /// The row's line; null when the ledger is no folder of tables.
  [[nodiscard]] Json location(std::string_view table, std::uint32_t line) const;
  [[nodiscard]] const Document* document(const std::string& path) const;

  /// Claims whose words hold the offset, those of the fewest words first. One that ends there
  /// counts when none goes on.
  [[nodiscard]] std::vector<const Claim*> claims_at(FileId file, std::uint32_t offset) const;
  /// Queries that meet bytes [begin, end], those that a stet covers left out.
  [[nodiscard]] std::vector<const Query*> queries_at(FileId file, std::uint32_t begin,
                                                     std::uint32_t end) const;
  /// Whether the query is shown: by level, without stet.
  [[nodiscard]] bool is_shown(const Query& query) const;

 private:
  const Collection& collection_;
  const Documents& documents_;
  const Client& client_;
};

}  // namespace tailproof::lsp

#include "lsp/view.h"

#include <algorithm>
#include <filesystem>
#include <system_error>

#include "lsp/uri.h"

namespace tailproof::lsp {

namespace fs = std::filesystem;

namespace {

bool holds_text(const Json& list, std::string_view word) {
  return list.is_array() && std::any_of(list.begin(), list.end(), [&](const Json& value) {
           return text_of(value) == std::string(word);
         });
}

}  // namespace

Client client_of(const Json& initialize_params) {
  const Json& can = member(initialize_params, "capabilities");
  Client client;
  // The client's order is its preference.
  if (const auto words = texts_of(member_at(can, "general.positionEncodings"))) {
    for (const std::string& word : *words) {
      if (const auto encoding = encoding_of_word(word)) {
        client.encoding = *encoding;
        break;
      }
    }
  }
  client.reads_markdown =
      holds_text(member_at(can, "textDocument.hover.contentFormat"), "markdown");
  client.shows_related =
      is_true(member_at(can, "textDocument.publishDiagnostics.relatedInformation"));
  client.takes_versioned_edits = is_true(member_at(can, "workspace.workspaceEdit.documentChanges"));
  client.makes_files =
      client.takes_versioned_edits &&
      holds_text(member_at(can, "workspace.workspaceEdit.resourceOperations"), "create");
  client.takes_action_literals =
      member_at(can, "textDocument.codeAction.codeActionLiteralSupport").is_object();
  client.nests_symbols =
      is_true(member_at(can, "textDocument.documentSymbol.hierarchicalDocumentSymbolSupport"));
  client.answers_configuration = is_true(member_at(can, "workspace.configuration"));
  client.registers_watches =
      is_true(member_at(can, "workspace.didChangeWatchedFiles.dynamicRegistration"));
  return client;
}

const Document* View::document(const std::string& path) const {
  const auto found = documents_.find(path);
  return found == documents_.end() ? nullptr : &found->second;
}

Lines View::lines(FileId file) const {
  const std::string_view text = run().sources.text(file);
  const Document* open = document(run().sources.path(file));
  // An editor may keep a byte-order mark to itself or not: in its own text it is as it says.
  const auto& begins = open != nullptr && open->text.size() == text.size()
                           ? open->line_begins
                           : run().sources.line_begins(file);
  return {text, begins, client_.encoding};
}

std::string View::uri_of(const std::string& path) const {
  const Document* open = document(path);
  return open != nullptr ? open->uri : uri_of_path(path);
}

Json View::location(const Span& span) const {
  Lines its_lines = lines(span.file);
  return Json{{"uri", uri_of(run().sources.path(span.file))},
              {"range", its_lines.range_of(span.begin, span.end)}};
}

Json View::location(std::string_view table, std::uint32_t line) const {
  std::error_code error;
  const fs::path ledger(collection_.ledger());
  if (table.empty() || collection_.ledger().empty() || !fs::is_directory(ledger, error)) return {};
  const Place begin{line == 0 ? 0 : line - 1, 0};
  return Json{{"uri", uri_of((ledger / table).string())}, {"range", range_json(begin, begin)}};
}

std::vector<const Claim*> View::claims_at(FileId file, std::uint32_t offset) const {
  std::vector<const Claim*> inside;
  std::vector<const Claim*> before;
  for (const Claim& claim : run().claims) {
    if (claim.span.file != file || claim.span.begin > offset) continue;
    if (offset < claim.span.end) inside.push_back(&claim);
    if (offset == claim.span.end) before.push_back(&claim);
  }
  std::vector<const Claim*>& found = inside.empty() ? before : inside;
  std::stable_sort(found.begin(), found.end(),
                   [](const Claim* a, const Claim* b) { return a->span.size() < b->span.size(); });
  return found;
}

bool View::is_shown(const Query& query) const {
  return query.stet.empty() && query.level >= collection_.at_least();
}

std::vector<const Query*> View::queries_at(FileId file, std::uint32_t begin,
                                           std::uint32_t end) const {
  std::vector<const Query*> found;
  for (const Query& query : run().queries) {
    if (query.span.file == file && query.span.begin <= end && begin <= query.span.end &&
        is_shown(query)) {
      found.push_back(&query);
    }
  }
  return found;
}

}  // namespace tailproof::lsp

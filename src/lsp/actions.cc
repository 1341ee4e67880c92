// Code actions: a suggestion put into the text, a stet written.
#include <filesystem>

#include "lsp/answers.h"
#include "lsp/stet_edit.h"
#include "lsp/uri.h"
#include "report/replacements.h"
#include "source/read_bytes.h"

namespace tailproof::lsp {

namespace fs = std::filesystem;

namespace {

Json text_edit(const Json& range, const std::string& words) {
  return Json{{"range", range}, {"newText", words}};
}

/// One edit of one file. A file that is open goes with its version, so that an edit made for
/// another text is refused.
Json workspace_edit(const View& view, const std::string& path, const Json& edit, bool is_new) {
  const std::string uri = view.uri_of(path);
  if (!view.client().takes_versioned_edits) {
    return Json{{"changes", Json{{uri, Json::array({edit})}}}};
  }
  const Document* open = view.document(path);
  Json document{{"uri", uri}, {"version", nullptr}};
  if (open != nullptr) document["version"] = open->version;
  Json changes = Json::array();
  if (is_new) changes.push_back(Json{{"kind", "create"}, {"uri", uri}});
  changes.push_back(Json{{"textDocument", std::move(document)}, {"edits", Json::array({edit})}});
  return Json{{"documentChanges", std::move(changes)}};
}

Json action(std::string title, const Json& diagnostic, Json edit, bool is_preferred) {
  Json action{{"title", std::move(title)},
              {"kind", "quickfix"},
              {"diagnostics", Json::array({diagnostic})},
              {"edit", std::move(edit)}};
  if (is_preferred) action["isPreferred"] = true;
  return action;
}

void add_suggestions(const View& view, Lines& lines, const Query& query, const Json& diagnostic,
                     Json& actions) {
  const std::vector<std::string> replacements = replacements_of(view.run(), query);
  for (const std::string& words : replacements) {
    const Json edit = text_edit(lines.range_of(query.span.begin, query.span.end), words);
    actions.push_back(
        action("read \"" + words + "\"", diagnostic,
               workspace_edit(view, view.run().sources.path(query.span.file), edit, false),
               replacements.size() == 1));
  }
}

void add_stet_in_text(const View& view, const Query& query, const Json& diagnostic, Json& actions) {
  const std::optional<Insertion> place = stet_in_text(view.run(), query, kOpenReason);
  if (!place) return;
  Lines lines = view.lines(place->file);
  const Json edit = text_edit(lines.range_of(place->at, place->at), place->words);
  actions.push_back(action("let " + query.check + " stand here, with a reason", diagnostic,
                           workspace_edit(view, view.run().sources.path(place->file), edit, false),
                           false));
}

void add_stet_in_table(const View& view, const Query& query, const Json& diagnostic,
                       Json& actions) {
  const Run& run = view.run();
  const std::string path =
      (fs::path(run.sources.path(query.span.file)).parent_path() / "stets.csv").string();
  const Document* open = view.document(path);
  std::error_code error;
  const bool is_new = open == nullptr && !fs::exists(path, error);
  if (is_new && !view.client().makes_files) return;
  Document table;
  if (open != nullptr) {
    table = *open;
  } else if (!is_new) {
    Result<std::string> bytes = read_bytes(path);
    if (!bytes) return;
    table.set_text(std::move(bytes).value());
  }
  Lines lines(table.text, table.line_begins, view.client().encoding);
  const auto end = static_cast<std::uint32_t>(table.text.size());
  const Json edit =
      text_edit(lines.range_of(end, end), stet_row(run, query, kOpenReason, table.text));
  actions.push_back(action("let " + query.check + " stand in stets.csv, with a reason", diagnostic,
                           workspace_edit(view, path, edit, is_new), false));
}

}  // namespace

Json actions_at(const View& view, FileId file, std::uint32_t begin, std::uint32_t end) {
  Json actions = Json::array();
  Lines lines = view.lines(file);
  for (const Query* query : view.queries_at(file, begin, end)) {
    const Json diagnostic = diagnostic_of(view, lines, *query);
    add_suggestions(view, lines, *query, diagnostic, actions);
    // A stet for a stet that nothing needs would be one too many.
    if (query->block == kNone) continue;
    add_stet_in_text(view, *query, diagnostic, actions);
    add_stet_in_table(view, *query, diagnostic, actions);
  }
  return actions;
}

}  // namespace tailproof::lsp

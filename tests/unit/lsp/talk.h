// A conversation with a server, without threads: what a client would send, and what comes back.
#pragma once

#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "lsp/server.h"
#include "lsp/uri.h"

namespace tailproof::lsp {

inline Json everything_that_a_client_can(const std::string& encoding) {
  Json can;
  can["general"]["positionEncodings"] = Json::array({encoding});
  can["textDocument"]["hover"]["contentFormat"] = Json::array({"markdown", "plaintext"});
  can["textDocument"]["publishDiagnostics"]["relatedInformation"] = true;
  can["textDocument"]["codeAction"]["codeActionLiteralSupport"] = Json::object();
  can["textDocument"]["documentSymbol"]["hierarchicalDocumentSymbolSupport"] = true;
  can["workspace"]["workspaceEdit"]["documentChanges"] = true;
  can["workspace"]["workspaceEdit"]["resourceOperations"] = Json::array({"create"});
  return can;
}

class Talk {
 public:
  explicit Talk(Settings settings = {})
      : server_(std::move(settings), [this](const Json& message) { sent_.push_back(message); }) {}

  /// The response's `result`, or its `error`.
  Json request(const std::string& method, Json params) {
    const int id = ++last_id_;
    handle(Json{{"jsonrpc", "2.0"}, {"id", id}, {"method", method}, {"params", params}});
    for (const Json& message : sent_) {
      if (member(message, "id") == id && !message.contains("method")) {
        return message.contains("error") ? message["error"] : message["result"];
      }
    }
    FAIL("no response to " << method);
    return {};
  }
  void notify(const std::string& method, Json params) {
    handle(Json{{"jsonrpc", "2.0"}, {"method", method}, {"params", params}});
    server_.settle();
  }
  void handle(const Json& message) { server_.handle({message, {}, false, 0}); }

  /// Starts with `folder` as its workspace.
  Json start(const std::string& folder, const std::string& encoding = "utf-16",
             Json options = nullptr) {
    Json params{{"processId", nullptr}, {"capabilities", everything_that_a_client_can(encoding)}};
    params["rootUri"] = uri_of_path(folder);
    params["initializationOptions"] = std::move(options);
    Json result = request("initialize", params);
    notify("initialized", Json::object());
    return result;
  }
  void open(const std::string& path, const std::string& text) {
    notify("textDocument/didOpen", Json{{"textDocument", Json{{"uri", uri_of_path(path)},
                                                              {"languageId", "markdown"},
                                                              {"version", 1},
                                                              {"text", text}}}});
  }
  void open(const std::string& path) { open(path, file_text(path)); }
  void change(const std::string& path, int version, Json changes) {
    notify("textDocument/didChange",
           Json{{"textDocument", Json{{"uri", uri_of_path(path)}, {"version", version}}},
                {"contentChanges", std::move(changes)}});
  }
  Json at(const std::string& method, const std::string& path, const Place& place) {
    return request("textDocument/" + method,
                   Json{{"textDocument", Json{{"uri", uri_of_path(path)}}},
                        {"position", position_json(place)},
                        {"context", Json{{"includeDeclaration", false}}}});
  }
  Json actions(const std::string& path, const Json& range) {
    return request("textDocument/codeAction",
                   Json{{"textDocument", Json{{"uri", uri_of_path(path)}}},
                        {"range", range},
                        {"context", Json{{"diagnostics", Json::array()}}}});
  }
  /// What was told last of the file; null when nothing was.
  [[nodiscard]] Json diagnostics(const std::string& path) const {
    Json last;
    for (const Json& message : sent_) {
      if (member(message, "method") == "textDocument/publishDiagnostics" &&
          member_at(message, "params.uri") == uri_of_path(path)) {
        last = member_at(message, "params.diagnostics");
      }
    }
    return last;
  }

  [[nodiscard]] Server& server() { return server_; }
  [[nodiscard]] std::vector<Json>& sent() { return sent_; }

  static std::string file_text(const std::string& path) {
    std::ifstream stream(path, std::ios::binary);
    REQUIRE(stream);
    return {std::istreambuf_iterator<char>(stream), {}};
  }

 private:
  std::vector<Json> sent_;
  Server server_;
  int last_id_ = 0;
};

/// The place of `words` in `text`, in the encoding; `into` bytes further on.
inline Place place_in(const std::string& text, const std::string& words, PositionEncoding encoding,
                      std::uint32_t into = 0) {
  const std::size_t at = text.find(words);
  REQUIRE(at != std::string::npos);
  const auto begins = line_begins_of(text);
  Lines lines(text, begins, encoding);
  return lines.place_of(static_cast<std::uint32_t>(at) + into);
}

/// The diagnostics of one check.
inline std::vector<Json> of_check(const Json& diagnostics, const std::string& check) {
  std::vector<Json> found;
  for (const Json& diagnostic : diagnostics) {
    if (diagnostic["code"] == check) found.push_back(diagnostic);
  }
  return found;
}

}  // namespace tailproof::lsp

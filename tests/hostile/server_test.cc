// The language server as a program, against a client that is broken, or merely quick.
#include <catch2/catch.hpp>
#include <cstdint>
#include <nlohmann/json.hpp>
#include <random>
#include <string>
#include <vector>

#include "faults.h"

namespace tailproof::hostile {

namespace {

using Json = nlohmann::json;

std::string framed(const std::string& content) {
  return "Content-Length: " + std::to_string(content.size()) + "\r\n\r\n" + content;
}

std::string request(int id, const std::string& method, const Json& params) {
  return framed(
      Json{{"jsonrpc", "2.0"}, {"id", id}, {"method", method}, {"params", params}}.dump());
}

std::string notification(const std::string& method, const Json& params) {
  return framed(Json{{"jsonrpc", "2.0"}, {"method", method}, {"params", params}}.dump());
}

std::string start(const Folder& folder) {
  Json can;
  can["general"]["positionEncodings"] = {"utf-8"};
  return request(1, "initialize",
                 {{"processId", nullptr},
                  {"rootUri", "file://" + folder.path().string()},
                  {"capabilities", can}}) +
         notification("initialized", Json::object());
}

const std::string kEnd = request(900001, "shutdown", nullptr) + notification("exit", nullptr);

std::string uri_in(const Folder& folder) { return "file://" + (folder.path() / "x.md").string(); }

std::string opened(const Folder& folder, const std::string& text) {
  return notification(
      "textDocument/didOpen",
      {{"textDocument",
        {{"uri", uri_in(folder)}, {"languageId", "markdown"}, {"version", 1}, {"text", text}}}});
}

struct Served {
  Outcome outcome;
  std::vector<Json> messages;

  [[nodiscard]] Json response(int id) const {
    for (const Json& message : messages) {
      if (!message.contains("method") && message["id"] == id) return message;
    }
    return nullptr;
  }
  [[nodiscard]] Json last_diagnostics(const std::string& uri) const {
    Json last;
    for (const Json& message : messages) {
      if (message.contains("method") && message["method"] == "textDocument/publishDiagnostics" &&
          message["params"]["uri"] == uri) {
        last = message["params"]["diagnostics"];
      }
    }
    return last;
  }
};

Served serve(const Folder& folder, const std::string& input, const std::string& before = "") {
  // Diagnostics are told when nothing waits: so the client waits too before it takes its leave, but
  // not for ever for a server that has gone.
  const std::size_t end = input.ends_with(kEnd) ? input.size() - kEnd.size() : input.size();
  folder.with("input", input.substr(0, end)).with("end", input.substr(end)).with("out", "");
  Served served;
  served.outcome = folder.run(
      "{ cat input; if [ -s end ]; then s=; n=0; "
      "until [ $n -gt 100 ] || { [ -s out ] && [ \"$s\" = \"$(cksum <out)\" ]; }; do "
      "s=$(cksum <out); n=$((n + 1)); sleep 1; done; cat end; fi; } | " +
      before + "timeout 120 tailproof lsp --ledger " + kLedger + " >out; s=$?; cat out; exit $s");
  const std::string& out = served.outcome.out;
  for (std::size_t at = 0; at < out.size();) {
    const std::size_t body = out.find("\r\n\r\n", at);
    REQUIRE(body != std::string::npos);
    REQUIRE(out.compare(at, 16, "Content-Length: ") == 0);
    const std::size_t size = std::stoul(out.substr(at + 16));
    served.messages.push_back(Json::parse(out.substr(body + 4, size)));
    at = body + 4 + size;
  }
  return served;
}

/// A text of small captions, and edits of it as an editor sends them.
class Typist {
 public:
  explicit Typist(std::uint32_t seed) : random_(seed) {}

  /// Puts a piece in place of some bytes of one line, as the text has it afterwards and in words of
  /// the protocol.
  Json edit(std::vector<std::string>& lines) {
    static const std::vector<std::string> kPieces = {"OB202",
                                                     "OB204",
                                                     " of 2 Squadron",
                                                     " of 4 Squadron",
                                                     "June 1942",
                                                     "31 June 1941",
                                                     " ",
                                                     ",",
                                                     "Tarrow",
                                                     "Patrol Captain ",
                                                     "[",
                                                     "](",
                                                     "*",
                                                     "(",
                                                     ""};
    const std::size_t line = random_() % lines.size();
    std::string& text = lines[line];
    const std::size_t begin = random_() % (text.size() + 1);
    const std::size_t end = std::min(text.size(), begin + random_() % 5);
    // A caption must not grow without end.
    const std::string piece = text.size() > 120 ? "" : kPieces[random_() % kPieces.size()];
    text = text.substr(0, begin) + piece + text.substr(end);
    return {{"range",
             {{"start", {{"line", line}, {"character", begin}}},
              {"end", {{"line", line}, {"character", end}}}}},
            {"text", piece}};
  }

 private:
  std::mt19937 random_;
};

std::string joined(const std::vector<std::string>& lines) {
  std::string text;
  for (std::size_t i = 0; i < lines.size(); ++i) text += (i == 0 ? "" : "\n") + lines[i];
  return text;
}

}  // namespace

TEST_CASE("after 10,000 edits the server says what it says of the text opened afresh") {
  const Folder folder;
  std::vector<std::string> lines;
  for (int i = 1; i <= 40; ++i) {
    lines.push_back("![Fig. " + std::to_string(i) + ". Sallow OB202 at Hesk, June 1941.](" +
                    std::to_string(i) + ".jpg)");
    lines.emplace_back();
  }
  std::string input = start(folder) + opened(folder, joined(lines));
  Typist typist(20240607);
  constexpr int kEdits = 10000;
  for (int i = 0; i < kEdits; ++i) {
    input += notification("textDocument/didChange",
                          {{"textDocument", {{"uri", uri_in(folder)}, {"version", i + 2}}},
                           {"contentChanges", Json::array({typist.edit(lines)})}});
    // Now and then somebody asks, so that the server looks at what it has got by then.
    if (i % 400 == 0) {
      input += request(i + 10, "textDocument/documentSymbol",
                       {{"textDocument", {{"uri", uri_in(folder)}}}});
    }
  }
  const Served edited = serve(folder, input + kEnd);
  CHECK(edited.outcome.status == 0);
  CHECK(edited.outcome.err.empty());
  const Served fresh = serve(folder, start(folder) + opened(folder, joined(lines)) + kEnd);
  const Json told = edited.last_diagnostics(uri_in(folder));
  CHECK(told.size() > 1);
  CHECK(told == fresh.last_diagnostics(uri_in(folder)));
  for (int i = 0; i < kEdits; i += 400) CHECK(edited.response(i + 10).contains("result"));
}

TEST_CASE("what is no message, too long, or cut off does not end the conversation") {
  const Folder folder;
  const std::string noise = std::string("\0\xff\x1b garbage\r\n", 14);
  const Served served = serve(
      folder, start(folder) + opened(folder, kBad) + framed("{\"jsonrpc\": \"2.0\", ") +
                  framed("\xff\xfe\xfd") + framed(std::string(200000, '[')) +
                  framed(std::string(200000, '{')) + framed("{\"jsonrpc\":\"2.0\",\"id\":5}") +
                  "Content-Length: -5\r\n\r\n" + "Content-Length: 99999999999999999999\r\n\r\n");
  // A length without end takes in all that follows: the input ends inside the message.
  CHECK(served.outcome.status == 1);
  CHECK(served.messages.size() >= 5);

  const Served after = serve(folder, start(folder) + noise + noise + "\r\n\r\n" +
                                         request(7, "textDocument/hover", 3) +
                                         request(8, "no/such", Json::array()) + kEnd);
  CHECK(after.outcome.status == 0);
  CHECK(after.response(7).contains("error"));
  CHECK(after.response(8)["error"]["code"] == -32601);
  CHECK(after.response(900001).contains("result"));

  for (const std::size_t cut : {1U, 15U, 20U, 60U, 200U}) {
    INFO(cut);
    const Served truncated = serve(folder, start(folder).substr(0, cut));
    CHECK(truncated.outcome.status == 1);
    CHECK(truncated.outcome.err.empty());
  }
}

TEST_CASE("a message of more than 128 MiB is told of and passed over") {
  const Folder folder;
  folder.with("head", start(folder) + "Content-Length: 140000000\r\n\r\n");
  folder.with("tail", kEnd);
  const Outcome outcome = folder.run(
      "{ cat head; head -c 140000000 /dev/zero; cat tail; } | timeout 120 tailproof lsp");
  CHECK(outcome.status == 0);
  CHECK(has(outcome.out, "a message of 140000000 bytes; at most 134217728 are read"));
  CHECK(has(outcome.out, "\"id\":900001"));
}

TEST_CASE("requests that are cancelled have one response each, whichever it is") {
  const Folder folder;
  std::string input = start(folder) + opened(folder, kBad);
  constexpr int kRequests = 200;
  for (int i = 0; i < kRequests; ++i) {
    input += request(100 + i, "textDocument/documentSymbol",
                     {{"textDocument", {{"uri", uri_in(folder)}}}});
    if (i % 2 == 0) input += notification("$/cancelRequest", {{"id", 100 + i}});
    if (i % 5 == 0) input += notification("$/cancelRequest", {{"id", 100 + i + 1}});
  }
  input += notification("$/cancelRequest", {{"id", "never"}}) + notification("$/cancelRequest", 3);
  const Served served = serve(folder, input + kEnd);
  CHECK(served.outcome.status == 0);
  for (int i = 0; i < kRequests; ++i) {
    int responses = 0;
    for (const Json& message : served.messages) {
      responses += !message.contains("method") && message["id"] == 100 + i ? 1 : 0;
    }
    INFO(i);
    CHECK(responses == 1);
    const Json response = served.response(100 + i);
    CHECK((response.contains("result") || response["error"]["code"] == -32800));
  }
}

TEST_CASE("the server bears short and interrupted reads and writes, and a client that leaves") {
  const Folder folder;
  const std::string input =
      start(folder) + opened(folder, kBad) +
      request(5, "textDocument/documentSymbol", {{"textDocument", {{"uri", uri_in(folder)}}}}) +
      kEnd;
  const Served whole = serve(folder, input);
  if (kBearsFaults) {
    const Served pieces = serve(folder, input, with_fault("system", "FAULT_SHORT=1"));
    CHECK(pieces.outcome.status == 0);
    CHECK(pieces.response(1) == whole.response(1));
    CHECK(pieces.response(5) == whole.response(5));
    CHECK(pieces.last_diagnostics(uri_in(folder)) == whole.last_diagnostics(uri_in(folder)));
  }
  CHECK(whole.last_diagnostics(uri_in(folder)).size() == 1);

  folder.with("input", input);
  const Outcome left =
      folder.run("{ timeout 60 tailproof lsp <input; echo $? >status; } | head -c 1; cat status");
  CHECK(left.err.empty());
  const Outcome closed = folder.run("timeout 60 tailproof lsp <input >&-; echo $?");
  CHECK(closed.out == "1\n");
}

}  // namespace tailproof::hostile

// The life of a server, and what it answers to messages that are none.
#include <unistd.h>

#include <future>
#include <thread>

#include "lsp/serve.h"
#include "talk.h"

using namespace tailproof::lsp;

namespace {

const std::string kBook = TAILPROOF_TOP "/demo_manuscripts/book";

Json message_of(int id, const std::string& method, Json params = Json::object()) {
  return Json{{"jsonrpc", "2.0"}, {"id", id}, {"method", method}, {"params", std::move(params)}};
}

/// What a server writes when it is sent these bytes and then nothing more, and its exit status.
std::pair<std::vector<Json>, int> served(const std::string& bytes) {
  int to[2];
  int from[2];
  REQUIRE(pipe(to) == 0);
  REQUIRE(pipe(from) == 0);
  std::future<int> status =
      std::async(std::launch::async, [&] { return serve(to[0], from[1], Settings{}); });
  std::thread writer([&] {
    std::string_view rest = bytes;
    while (!rest.empty()) {
      const ssize_t count = write(to[1], rest.data(), rest.size());
      if (count <= 0) break;
      rest.remove_prefix(static_cast<std::size_t>(count));
    }
    close(to[1]);
  });
  std::thread closer([&] {
    status.wait();
    close(from[1]);
  });
  Framer framer;
  std::vector<Json> messages;
  char buffer[4096];
  for (ssize_t count = 0; (count = read(from[0], buffer, sizeof buffer)) > 0;) {
    framer.add({buffer, static_cast<std::size_t>(count)});
    while (auto frame = framer.next()) messages.push_back(Json::parse(frame->content));
  }
  CHECK_FALSE(framer.is_amid());
  closer.join();
  // A writer whose reader has gone is let go by closing what it writes to.
  close(to[0]);
  writer.join();
  close(from[0]);
  return {messages, status.get()};
}

std::string framed_json(const Json& message) { return framed(message.dump()); }

int code_of(const Json& message) { return message.at("error").at("code").get<int>(); }

}  // namespace

TEST_CASE("initialize, shutdown, exit: the status is 0") {
  const auto [messages, status] =
      served(framed_json(message_of(1, "initialize", Json{{"capabilities", Json::object()}})) +
             framed_json(Json{{"jsonrpc", "2.0"}, {"method", "initialized"}, {"params", {}}}) +
             framed_json(message_of(2, "shutdown")) +
             framed_json(Json{{"jsonrpc", "2.0"}, {"method", "exit"}}));
  CHECK(status == 0);
  REQUIRE(messages.size() == 2);
  const Json& can = messages[0]["result"]["capabilities"];
  CHECK(can["positionEncoding"] == "utf-16");
  CHECK(can["textDocumentSync"]["change"] == 2);
  CHECK(messages[0]["result"]["serverInfo"]["name"] == "tailproof");
  CHECK(messages[1]["result"].is_null());
}

TEST_CASE("exit without shutdown, or the end of the input: the status is 1") {
  CHECK(served(framed_json(Json{{"jsonrpc", "2.0"}, {"method", "exit"}})).second == 1);
  CHECK(served("").second == 1);
  const std::string start =
      framed_json(message_of(1, "initialize", Json{{"capabilities", Json::object()}}));
  CHECK(served(start).second == 1);
  CHECK(served(start + "Content-Length: 100\r\n\r\n{\"jsonrpc\"").second == 1);  // cut off
}

TEST_CASE("bytes that are no messages get the protocol's errors, and what follows is answered") {
  const std::string deep = std::string(100000, '[');
  const auto [messages, status] = served(
      framed("{\"jsonrpc\": ") + framed("\xFF\xFE") + framed(deep) + framed("") + framed("[]") +
      framed("3") + framed("{}") + framed("null") + framed("{\"id\": {}, \"method\": \"x\"}") +
      framed("{\"id\": 1.5, \"method\": \"x\"}") + framed("{\"id\": 9, \"method\": 4}") +
      "Content-Length: x\r\n\r\n" + framed_json(message_of(7, "shutdown")));
  CHECK(status == 1);
  std::vector<int> codes;
  for (const Json& message : messages) codes.push_back(code_of(message));
  const std::vector<int> wanted = {
      kParseError,     kParseError,     kParseError,          kParseError,     kInvalidRequest,
      kInvalidRequest, kInvalidRequest, kInvalidRequest,      kInvalidRequest, kInvalidRequest,
      kInvalidRequest, kInvalidRequest, kServerNotInitialized};
  CHECK(codes == wanted);
  CHECK(messages[0]["id"].is_null());
  CHECK(messages[10]["id"] == 9);
  CHECK(messages.back()["id"] == 7);
}

TEST_CASE("requests out of their time, and unknown ones") {
  Talk talk;
  CHECK(talk.request("textDocument/hover", Json::object())["code"] == kServerNotInitialized);
  CHECK(talk.request("initialize", 3)["code"] == kInvalidParams);
  talk.start(kBook);
  CHECK(talk.request("initialize", Json::object())["code"] == kInvalidRequest);
  CHECK(talk.request("textDocument/rename", Json::object())["code"] == kMethodNotFound);
  const std::size_t sent = talk.sent().size();
  talk.notify("$/somethingNew", Json::object());
  talk.notify("textDocument/didOpen", 3);
  talk.notify("textDocument/didChange", Json{{"textDocument", 3}});
  talk.notify("workspace/didChangeWatchedFiles", Json{{"changes", 3}});
  CHECK(talk.sent().size() == sent);
  CHECK(talk.request("shutdown", nullptr).is_null());
  CHECK(talk.request("textDocument/hover", Json::object())["code"] == kInvalidRequest);
  CHECK_FALSE(talk.server().is_over());
  talk.notify("exit", nullptr);
  CHECK(talk.server().is_over());
  CHECK(talk.server().exit_status() == 0);
}

TEST_CASE("requests with parameters that are none") {
  Talk talk;
  talk.start(kBook);
  const std::string path = kBook + "/02-the-chain.md";
  talk.open(path);
  const Json document{{"uri", uri_of_path(path)}};
  for (const char* method : {"hover", "definition", "references", "codeAction"}) {
    INFO(method);
    const std::string name = std::string("textDocument/") + method;
    for (const Json& params :
         {Json(), Json::array(), Json{{"textDocument", document}}, Json{{"position", 3}},
          Json{{"textDocument", document}, {"position", Json{{"line", 1.5}, {"character", 0}}}},
          Json{{"textDocument", document}, {"position", Json{{"line", -1}, {"character", 0}}}},
          Json{{"textDocument", document},
               {"position", Json{{"line", 4294967296}, {"character", 0}}}}}) {
      CHECK(talk.request(name, params)["code"] == kInvalidParams);
    }
  }
  // A document that is not open, or is none of ours, has nothing to say.
  CHECK(talk.at("hover", kBook + "/none.md", {0, 0}).is_null());
  CHECK(talk.request("textDocument/documentSymbol", Json())["code"] == kInvalidParams);
  // Beyond the end is the end.
  CHECK(talk.at("hover", path, {2147483647, 2147483647}).is_null());
}

TEST_CASE("a request that still waits is cancelled; another is answered") {
  Inbox inbox;
  inbox.push(incoming_of({true, message_of(1, "textDocument/hover").dump()}));
  inbox.push(incoming_of({true, message_of(2, "textDocument/hover").dump()}));
  inbox.push(
      incoming_of({true, R"({"jsonrpc":"2.0","method":"$/cancelRequest","params":{"id":2}})"}));
  inbox.push(incoming_of({true, R"({"jsonrpc":"2.0","method":"$/cancelRequest"})"}));
  inbox.close();
  Talk talk;
  talk.start(kBook);
  talk.sent().clear();
  while (const auto incoming = inbox.pop()) talk.server().handle(*incoming);
  REQUIRE(talk.sent().size() == 2);
  CHECK(code_of(talk.sent()[0]) == kInvalidParams);  // it names no document
  CHECK(talk.sent()[1]["id"] == 2);
  CHECK(code_of(talk.sent()[1]) == kRequestCancelled);
}

TEST_CASE("the encoding is the first of the client's that is known, else UTF-16") {
  const auto encoding_for = [](const Json& can) {
    Talk talk;
    return talk.request("initialize",
                        Json{{"capabilities", can}})["capabilities"]["positionEncoding"];
  };
  const auto general = [](Json words) {
    return Json{{"general", Json{{"positionEncodings", std::move(words)}}}};
  };
  CHECK(encoding_for(general({"utf-8", "utf-16"})) == "utf-8");
  CHECK(encoding_for(general({"utf-7", "utf-32", "utf-8"})) == "utf-32");
  CHECK(encoding_for(general({"utf-7"})) == "utf-16");
  CHECK(encoding_for(general(Json(3))) == "utf-16");
  CHECK(encoding_for(nullptr) == "utf-16");
}

TEST_CASE("a manuscript whose ledger cannot be read says so, until it has another") {
  Talk talk;
  talk.start(kBook, "utf-16", Json{{"ledger", "/nowhere/ledger"}});
  const std::string path = kBook + "/02-the-chain.md";
  talk.open(path);
  const Json told = talk.diagnostics(path);
  REQUIRE(told.size() == 1);
  CHECK(told[0]["message"] ==
        "is not checked while its ledger cannot be read: /nowhere/ledger: no such ledger; name a "
        "folder or an SQLite file");
  talk.notify("workspace/didChangeConfiguration",
              Json{{"settings", Json{{"tailproof", Json{{"ledger", kBook + "/../ledger"}}}}}});
  CHECK(of_check(talk.diagnostics(path), "unread").empty());
  CHECK_FALSE(talk.diagnostics(path).empty());
}

TEST_CASE("the client's configuration is asked for, waited for, and may change") {
  Talk talk;
  Json can = everything_that_a_client_can("utf-16");
  can["workspace"]["configuration"] = true;
  can["workspace"]["didChangeWatchedFiles"]["dynamicRegistration"] = true;
  talk.request("initialize", Json{{"capabilities", can}, {"rootUri", uri_of_path(kBook)}});
  talk.notify("initialized", Json::object());
  REQUIRE(talk.sent().size() == 3);
  CHECK(talk.sent()[1]["method"] == "workspace/configuration");
  CHECK(talk.sent()[1]["params"]["items"][0]["section"] == "tailproof");
  CHECK(talk.sent()[2]["method"] == "client/registerCapability");
  const std::string path = kBook + "/02-the-chain.md";
  talk.open(path);
  CHECK(talk.diagnostics(path).is_null());  // not before it is known what the user wants
  talk.handle(Json{{"jsonrpc", "2.0"},
                   {"id", talk.sent()[1]["id"]},
                   {"result", Json::array({Json{{"only", Json::array({"rank-disagrees"})}}})}});
  talk.server().settle();
  CHECK(talk.diagnostics(path).size() == of_check(talk.diagnostics(path), "rank-disagrees").size());
  CHECK_FALSE(talk.diagnostics(path).empty());
  talk.notify("workspace/didChangeConfiguration",
              Json{{"settings", Json{{"tailproof", Json{{"atLeast", "note"}}}}}});
  CHECK_FALSE(of_check(talk.diagnostics(path), "stet-unused").empty());
}

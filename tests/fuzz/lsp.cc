// The language server's message loop: the input as a stream of bytes, and each of its lines as one
// message. Without a grammar, so that opening a manuscript costs little; the ledger is a small one.
#include "fuzz.h"
#include "lsp/inbox.h"
#include "lsp/server.h"

using namespace tailproof;
using lsp::Json;

namespace {

bool is_id(const Json& id) { return id.is_number_integer() || id.is_string(); }

/// A server with what it has answered to the message at hand.
class Heard {
 public:
  Heard() : server_(settings(), [this](const Json& message) { hear(message); }) {}

  void handle(const lsp::Incoming& incoming) {
    if (server_.is_over()) return;
    const Json& message = incoming.message;
    const Json& id = lsp::member(message, "id");
    const bool is_request =
        incoming.fault.code == 0 && is_id(id) && lsp::member(message, "method").is_string();
    answers_ = 0;
    awaited_ = is_request ? id : Json();
    server_.handle(incoming);
    fuzz::require(answers_ == (is_request ? 1 : 0), "a request has one response, nothing else any");
    awaited_ = nullptr;
    server_.settle();
  }

 private:
  static lsp::Settings settings() {
    lsp::Settings settings;
    settings.ledger = TAILPROOF_TOP "/tests/readme/ledger";
    settings.language = "none";
    return settings;
  }

  void hear(const Json& message) {
    fuzz::require(lsp::member(message, "jsonrpc") == "2.0", "every message is JSON-RPC");
    fuzz::require(!lsp::written(message).empty(), "every message can be written");
    const bool is_response = !message.contains("method");
    if (is_response) {
      fuzz::require(message.contains("result") != message.contains("error"),
                    "a response has a result or an error");
      if (!awaited_.is_null() && message.at("id") == awaited_) ++answers_;
    }
    for (const Json& one : lsp::member_at(message, "params.diagnostics")) {
      const auto begin = lsp::place_of(lsp::member_at(one, "range.start"));
      const auto end = lsp::place_of(lsp::member_at(one, "range.end"));
      fuzz::require(begin && end, "a diagnostic has a range");
      fuzz::require(begin->line < end->line ||
                        (begin->line == end->line && begin->character <= end->character),
                    "a range does not end before it begins");
    }
  }

  Json awaited_;
  int answers_ = 0;
  lsp::Server server_;
};

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text = fuzz::as_text(data, size);
  Heard stream;
  lsp::Framer framer(1U << 16U);
  for (std::size_t at = 0; at < text.size(); at += 4096) {
    framer.add(text.substr(at, 4096));
    while (const auto frame = framer.next()) stream.handle(lsp::incoming_of(*frame));
  }
  Heard lines;
  for (std::size_t begin = 0; begin < text.size();) {
    const std::size_t end = std::min(text.find('\n', begin), text.size());
    lines.handle(lsp::incoming_of({true, std::string(text.substr(begin, end - begin))}));
    begin = end + 1;
  }
  return 0;
}

// Messages between the thread that reads them and the one that answers.
//
// Contract: messages come out in the order in which they went in. A request that is still waiting
// when its cancellation arrives comes out marked; one that is being answered is answered. When too
// much waits, the reading side is held up.
#pragma once

#include <condition_variable>
#include <cstddef>
#include <deque>
#include <mutex>
#include <optional>
#include <string>

#include "lsp/framing.h"
#include "lsp/json.h"

namespace tailproof::lsp {

// Of JSON-RPC and of the protocol.
inline constexpr int kParseError = -32700;
inline constexpr int kInvalidRequest = -32600;
inline constexpr int kMethodNotFound = -32601;
inline constexpr int kInvalidParams = -32602;
inline constexpr int kInternalError = -32603;
inline constexpr int kServerNotInitialized = -32002;
inline constexpr int kRequestCancelled = -32800;

struct Fault {
  int code = 0;  // 0: none
  std::string message;
};

struct Incoming {
  Json message;
  Fault fault;  // then there is no message
  bool is_cancelled = false;
  std::size_t size_bytes = 0;
};

/// Reads the content of a frame.
[[nodiscard]] Incoming incoming_of(const Frame& frame);

class Inbox {
 public:
  void push(Incoming incoming);
  /// Nothing more will come.
  void close();
  /// Waits for the next; nothing once it is closed and empty.
  [[nodiscard]] std::optional<Incoming> pop();
  [[nodiscard]] bool is_empty();
  /// The answering side has gone: what is pushed from now on is dropped.
  void abandon();

 private:
  void cancel(const Json& id);

  std::mutex mutex_;
  std::condition_variable changed_;
  std::deque<Incoming> waiting_;
  std::size_t waiting_bytes_ = 0;
  bool is_closed_ = false, is_abandoned_ = false;
};

}  // namespace tailproof::lsp

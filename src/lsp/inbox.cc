#include "lsp/inbox.h"

#include <utility>

namespace tailproof::lsp {

namespace {

constexpr std::size_t kMostWaitingBytes = 2 * kMostMessageBytes;

}  // namespace

Incoming incoming_of(const Frame& frame) {
  Incoming incoming;
  incoming.size_bytes = frame.content.size();
  if (!frame.is_message) {
    incoming.fault = {kInvalidRequest, frame.content};
    return incoming;
  }
  incoming.message = Json::parse(frame.content, nullptr, false);
  if (incoming.message.is_discarded()) {
    incoming.message = nullptr;
    incoming.fault = {kParseError, "the message is not JSON in UTF-8"};
  }
  return incoming;
}

void Inbox::cancel(const Json& id) {
  for (Incoming& incoming : waiting_) {
    const bool is_request = !member(incoming.message, "method").is_null();
    if (is_request && !id.is_null() && member(incoming.message, "id") == id) {
      incoming.is_cancelled = true;
    }
  }
}

void Inbox::push(Incoming incoming) {
  std::unique_lock lock(mutex_);
  if (text_of(member(incoming.message, "method")) == "$/cancelRequest") {
    cancel(member_at(incoming.message, "params.id"));
    return;
  }
  changed_.wait(lock, [&] { return is_abandoned_ || waiting_bytes_ < kMostWaitingBytes; });
  if (is_abandoned_) return;
  waiting_bytes_ += incoming.size_bytes;
  waiting_.push_back(std::move(incoming));
  changed_.notify_all();
}

void Inbox::close() {
  const std::scoped_lock lock(mutex_);
  is_closed_ = true;
  changed_.notify_all();
}

void Inbox::abandon() {
  const std::scoped_lock lock(mutex_);
  is_abandoned_ = true;
  changed_.notify_all();
}

std::optional<Incoming> Inbox::pop() {
  std::unique_lock lock(mutex_);
  changed_.wait(lock, [&] { return is_closed_ || !waiting_.empty(); });
  if (waiting_.empty()) return std::nullopt;
  Incoming incoming = std::move(waiting_.front());
  waiting_.pop_front();
  waiting_bytes_ -= incoming.size_bytes;
  changed_.notify_all();
  return incoming;
}

bool Inbox::is_empty() {
  const std::scoped_lock lock(mutex_);
  return waiting_.empty();
}

}  // namespace tailproof::lsp

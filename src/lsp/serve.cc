#include "lsp/serve.h"

#include <poll.h>
#include <unistd.h>

#include <array>
#include <atomic>
#include <cerrno>
#include <string>

#include "lsp/framing.h"
#include "lsp/inbox.h"
#include "lsp/server.h"
#include "source/thread_group.h"

namespace tailproof::lsp {

namespace {

constexpr int kCannotServe = 2;           // the system has no thread to give
constexpr int kLookUpMilliseconds = 200;  // how soon the reader sees that nobody answers any more

/// Reads until the end, or until `is_over`.
void read_messages(int in, Inbox& inbox, const std::atomic<bool>& is_over) {
  Framer framer;
  std::array<char, 1U << 16U> bytes;
  while (!is_over) {
    pollfd wait{in, POLLIN, 0};
    const int ready = poll(&wait, 1, kLookUpMilliseconds);
    if (ready == 0 || (ready < 0 && errno == EINTR)) continue;
    const ssize_t count = read(in, bytes.data(), bytes.size());
    if (count < 0 && errno == EINTR) continue;
    if (count <= 0) break;
    framer.add({bytes.data(), static_cast<std::size_t>(count)});
    while (const std::optional<Frame> frame = framer.next()) inbox.push(incoming_of(*frame));
  }
  inbox.close();
}

bool write_all(int out, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t count = write(out, bytes.data(), bytes.size());
    if (count < 0 && errno == EINTR) continue;
    if (count <= 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(count));
  }
  return true;
}

}  // namespace

int serve(int in, int out, const Settings& settings) {
  Inbox inbox;
  std::atomic<bool> is_over = false;
  ThreadGroup reader;
  if (!reader.start([&] { read_messages(in, inbox, is_over); })) return kCannotServe;
  bool is_heard = true;
  Server server(settings, [&](const Json& message) {
    is_heard = is_heard && write_all(out, framed(written(message)));
  });
  while (is_heard && !server.is_over()) {
    const std::optional<Incoming> incoming = inbox.pop();
    if (!incoming) break;
    server.handle(*incoming);
    if (inbox.is_empty()) server.settle();
  }
  is_over = true;
  inbox.abandon();
  reader.join();
  return server.exit_status();
}

}  // namespace tailproof::lsp

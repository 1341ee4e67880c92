// Messages out of a stream of bytes, as the protocol's base layer frames them: header lines, an
// empty line, and as many bytes as Content-Length says.
//
// Contract: bytes come in pieces of any size. What is wrong with a header, or too long, is told
// once and passed over; reading goes on with the next header that can be found. Cost: linear in the
// bytes; no more than one message is held.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace tailproof::lsp {

/// Far above any manuscript; a message beyond it is a mistake.
inline constexpr std::size_t kMostMessageBytes = std::size_t{128} << 20U;

struct Frame {
  bool is_message = true;
  std::string content;  // of the message; else what is wrong, in words
};

class Framer {
 public:
  explicit Framer(std::size_t most_bytes = kMostMessageBytes) : most_bytes_(most_bytes) {}

  void add(std::string_view bytes);
  /// The next message or fault; nothing while more bytes are needed.
  [[nodiscard]] std::optional<Frame> next();
  /// Whether a message has begun that is not whole.
  [[nodiscard]] bool is_amid() const;

 private:
  std::optional<Frame> read_header();
  std::optional<Frame> fault(std::string words);
  void drop(std::size_t count);

  std::size_t most_bytes_;
  std::string bytes_;
  std::size_t at_ = 0;             // what lies before has been given out
  std::size_t skipped_bytes_ = 0;  // still to be passed over
  std::optional<std::size_t> content_bytes_;
  bool is_lost_ = false;  // looking for the next header
};

/// The bytes of a message, with their header.
[[nodiscard]] std::string framed(std::string_view content);

}  // namespace tailproof::lsp

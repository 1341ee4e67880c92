#include "lsp/framing.h"

#include <algorithm>
#include <limits>

#include "source/ascii.h"

namespace tailproof::lsp {

namespace {

constexpr std::string_view kLength = "content-length:";
constexpr std::string_view kType = "content-type:";
constexpr std::size_t kMostHeaderBytes = 4096;
constexpr std::size_t kNotFound = std::string::npos;

std::string_view trimmed(std::string_view text) {
  const std::size_t begin = text.find_first_not_of(" \t\r");
  if (begin == kNotFound) return {};
  return text.substr(begin, text.find_last_not_of(" \t\r") - begin + 1);
}

/// Digits alone; the largest number there is when they name a larger one.
std::optional<std::size_t> length_of(std::string_view digits) {
  constexpr std::size_t kMost = std::numeric_limits<std::size_t>::max();
  if (digits.empty() || digits.find_first_not_of("0123456789") != kNotFound) return std::nullopt;
  std::size_t length = 0;
  for (const char digit : digits) {
    const auto value = static_cast<std::size_t>(digit - '0');
    if (length > (kMost - value) / 10) return kMost;
    length = length * 10 + value;
  }
  return length;
}

/// Whether the header names UTF-8, by whichever spelling, or nothing.
bool is_utf8_type(std::string_view type) {
  const std::size_t at = type.find("charset=");
  if (at == kNotFound) return true;
  std::string_view charset = type.substr(at + 8);
  charset = trimmed(charset.substr(0, charset.find(';')));
  return charset == "utf-8" || charset == "utf8" || charset == "\"utf-8\"";
}

/// The end of the header's lines: behind the empty one.
std::size_t header_end(std::string_view bytes) {
  for (std::size_t line = bytes.find('\n'); line != kNotFound; line = bytes.find('\n', line + 1)) {
    if (bytes.substr(line + 1).starts_with("\n")) return line + 2;
    if (bytes.substr(line + 1).starts_with("\r\n")) return line + 3;
  }
  return kNotFound;
}

}  // namespace

void Framer::add(std::string_view bytes) {
  const std::size_t skipped = std::min(skipped_bytes_, bytes.size());
  skipped_bytes_ -= skipped;
  bytes.remove_prefix(skipped);
  if (at_ > bytes_.size() / 2) {
    bytes_.erase(0, at_);
    at_ = 0;
  }
  bytes_.append(bytes);
}

bool Framer::is_amid() const { return skipped_bytes_ > 0 || content_bytes_ || at_ < bytes_.size(); }

void Framer::drop(std::size_t count) {
  const std::size_t here = std::min(count, bytes_.size() - at_);
  at_ += here;
  skipped_bytes_ = count - here;
}

std::optional<Frame> Framer::fault(std::string words) { return Frame{false, std::move(words)}; }

std::optional<Frame> Framer::read_header() {
  std::string_view rest = std::string_view(bytes_).substr(at_);
  if (is_lost_) {
    const std::size_t found = lower(rest).find(kLength);
    if (found == kNotFound) {
      // It may have begun with the last bytes.
      drop(rest.size() - std::min(rest.size(), kLength.size() - 1));
      return std::nullopt;
    }
    drop(found);
    is_lost_ = false;
    rest = std::string_view(bytes_).substr(at_);
  }
  const std::size_t end = header_end(rest.substr(0, kMostHeaderBytes));
  if (end == kNotFound) {
    if (rest.size() < kMostHeaderBytes) return std::nullopt;
    is_lost_ = true;
    drop(kLength.size());  // or this header would be found again
    return fault("a header of more than 4096 bytes; expected Content-Length and an empty line");
  }
  const std::string header = lower(rest.substr(0, end));
  drop(end);
  std::optional<std::size_t> length;
  bool is_utf8 = true;
  for (std::size_t line = 0; line < header.size();) {
    const std::size_t line_end = std::min(header.find('\n', line), header.size());
    const std::string_view words = trimmed(std::string_view(header).substr(line, line_end - line));
    if (words.starts_with(kLength)) length = length_of(trimmed(words.substr(kLength.size())));
    if (words.starts_with(kType)) is_utf8 = is_utf8_type(words);
    line = line_end + 1;
  }
  if (!length) {
    is_lost_ = true;
    return fault("a header without a Content-Length in digits; expected \"Content-Length: N\"");
  }
  if (*length > most_bytes_) {
    drop(*length);
    return fault("a message of " + std::to_string(*length) + " bytes; at most " +
                 std::to_string(most_bytes_) + " are read");
  }
  if (!is_utf8) {
    drop(*length);
    return fault("a message in another charset; expected utf-8");
  }
  content_bytes_ = length;
  return std::nullopt;
}

std::optional<Frame> Framer::next() {
  if (!content_bytes_) {
    if (skipped_bytes_ > 0) return std::nullopt;
    if (std::optional<Frame> wrong = read_header()) return wrong;
    if (!content_bytes_) return std::nullopt;
  }
  if (bytes_.size() - at_ < *content_bytes_) return std::nullopt;
  Frame frame{true, bytes_.substr(at_, *content_bytes_)};
  at_ += *content_bytes_;
  content_bytes_.reset();
  return frame;
}

std::string framed(std::string_view content) {
  return "Content-Length: " + std::to_string(content.size()) + "\r\n\r\n" + std::string(content);
}

}  // namespace tailproof::lsp

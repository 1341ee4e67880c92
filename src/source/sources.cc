#include "source/sources.h"

#include <algorithm>
#include <array>
#include <cstring>
#include <limits>
#include <utility>

#include "source/utf8.h"

namespace tailproof {
namespace {

constexpr std::size_t kCheckpointBytes = 4096;
constexpr std::size_t kMostBytes = std::numeric_limits<std::uint32_t>::max();

// Windows-1252 above 0x7F and below 0xA0; the five bytes without a character become the control
// character of the same number, as the WHATWG Encoding Standard has it.
constexpr std::array<std::uint16_t, 32> kWindows1252 = {
    0x20AC, 0x0081, 0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021, 0x02C6, 0x2030, 0x0160,
    0x2039, 0x0152, 0x008D, 0x017D, 0x008F, 0x0090, 0x2018, 0x2019, 0x201C, 0x201D, 0x2022,
    0x2013, 0x2014, 0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0x009D, 0x017E, 0x0178};

std::string from_windows_1252(std::string_view bytes) {
  std::string out;
  out.reserve(bytes.size() + bytes.size() / 16);
  for (const char c : bytes) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x80) {
      out.push_back(c);
      continue;
    }
    const unsigned code = byte < 0xA0 ? kWindows1252[byte - 0x80U] : byte;
    if (code >= 0x800) {
      out.push_back(static_cast<char>(0xE0U | code >> 12U));
      out.push_back(static_cast<char>(0x80U | (code >> 6U & 0x3FU)));
    } else {
      out.push_back(static_cast<char>(0xC0U | code >> 6U));
    }
    out.push_back(static_cast<char>(0x80U | (code & 0x3FU)));
  }
  return out;
}

bool is_continuation(unsigned char byte) { return (byte & 0xC0U) == 0x80U; }

// Offset of the first byte that is not UTF-8; the size when all of it is.
std::size_t first_bad_byte(std::string_view bytes) {
  const auto* p = reinterpret_cast<const unsigned char*>(bytes.data());
  std::size_t i = 0;
  while (i < bytes.size()) {
    while (i + 8 <= bytes.size()) {
      std::uint64_t word = 0;
      std::memcpy(&word, p + i, 8);
      if ((word & 0x8080808080808080U) != 0) break;
      i += 8;
    }
    if (i == bytes.size()) break;
    const std::size_t length = utf8_length(bytes.substr(i));
    if (length == 0) return i;
    i += length;
  }
  return i;
}

std::uint32_t count_code_points(std::string_view bytes) {
  constexpr std::uint64_t kOnes = 0x0101010101010101U;
  std::uint64_t following = 0;
  std::size_t at = 0;
  // Eight bytes at once: a bit for each that continues a code point, and their sum in the last.
  for (; at + sizeof(std::uint64_t) <= bytes.size(); at += sizeof(std::uint64_t)) {
    std::uint64_t word = 0;
    std::memcpy(&word, bytes.data() + at, sizeof(word));
    following += (((word >> 7U) & ~(word >> 6U) & kOnes) * kOnes) >> 56U;
  }
  for (; at < bytes.size(); ++at) {
    following += is_continuation(static_cast<unsigned char>(bytes[at])) ? 1U : 0U;
  }
  return static_cast<std::uint32_t>(bytes.size() - following);
}

std::vector<std::uint32_t> index_lines(std::string_view bytes) {
  std::vector<std::uint32_t> begins;
  begins.reserve(bytes.size() / 48 + 1);
  begins.push_back(bytes.starts_with(kByteOrderMark) ? 3 : 0);
  // Old line ends (CR alone) are rare: without any CR the search is for LF only.
  const bool has_cr = bytes.find('\r') != std::string_view::npos;
  std::size_t at = 0;
  while (true) {
    if (has_cr) {
      while (at < bytes.size() && bytes[at] != '\n' && bytes[at] != '\r') ++at;
    } else {
      at = std::min(bytes.find('\n', at), bytes.size());
    }
    if (at == bytes.size()) return begins;
    if (bytes[at] == '\r' && at + 1 < bytes.size() && bytes[at + 1] == '\n') ++at;
    ++at;
    begins.push_back(static_cast<std::uint32_t>(at));
  }
}

std::vector<std::uint32_t> index_code_points(std::string_view bytes) {
  std::vector<std::uint32_t> before = {0};
  before.reserve(bytes.size() / kCheckpointBytes + 1);
  for (std::size_t at = kCheckpointBytes; at <= bytes.size(); at += kCheckpointBytes) {
    before.push_back(before.back() +
                     count_code_points(bytes.substr(at - kCheckpointBytes, kCheckpointBytes)));
  }
  return before;
}

Failure failure(const std::string& path, std::uint32_t line, std::string message) {
  return {{path, line, 0, std::move(message), false}};
}

std::string hex(unsigned char byte) {
  constexpr std::string_view kDigits = "0123456789abcdef";
  return {'0', 'x', kDigits[byte >> 4U], kDigits[byte & 0xFU]};
}

// Files that people name beside their manuscripts, and that are no text of any encoding.
struct Foreign {
  std::string_view begins, is;
};
constexpr Foreign kForeign[] = {
    {"PK\x03\x04", "a packed document of a word processor or spreadsheet, or another ZIP archive"},
    {"\xD0\xCF\x11\xE0", "a document of a word processor or spreadsheet"},
    {"%PDF-", "a PDF"},
    {"{\\rtf", "RTF"},
    {"\xFF\xFE", "UTF-16"},
    {"\xFE\xFF", "UTF-16"},
};

}  // namespace

Result<Sources::File> Sources::index(std::string path, std::string bytes) {
  if (bytes.size() >= kMostBytes) {
    return failure(path, 0, "the file has 4 GiB or more; split it");
  }
  for (const auto& [begins, is] : kForeign) {
    if (!bytes.starts_with(begins)) continue;
    return failure(path, 0,
                   "is " + std::string(is) + " and is not read; save its text as UTF-8: plain, " +
                       "Markdown, DocBook or CSV");
  }
  const std::size_t bad = first_bad_byte(bytes);
  if (bad != bytes.size()) {
    const auto line =
        static_cast<std::uint32_t>(index_lines(std::string_view(bytes).substr(0, bad)).size());
    return failure(path, line,
                   "byte " + std::to_string(bad) + " (" +
                       hex(static_cast<unsigned char>(bytes[bad])) +
                       ") is not UTF-8; save the file as UTF-8, or say that it is Windows-1252 "
                       "(--encoding windows-1252, or encoding in tailproof.toml)");
  }
  File file;
  file.path = std::move(path);
  file.bytes = std::move(bytes);
  file.line_begins = index_lines(file.bytes);
  file.code_points_before = index_code_points(file.bytes);
  return file;
}

Result<FileId> Sources::add(std::string path, std::string bytes, Encoding encoding) {
  if (encoding == Encoding::kWindows1252) bytes = from_windows_1252(bytes);
  Result<File> file = index(std::move(path), std::move(bytes));
  if (!file) return Failure{file.error()};
  files_.push_back(std::move(file).value());
  const auto id = static_cast<FileId>(files_.size() - 1);
  file_of_path_.emplace(files_.back().path, id);
  return id;
}

Result<FileId> Sources::replace(FileId file, std::string bytes, Encoding encoding) {
  if (encoding == Encoding::kWindows1252) bytes = from_windows_1252(bytes);
  Result<File> changed = index(files_[file].path, std::move(bytes));
  if (!changed) return Failure{changed.error()};
  files_[file] = std::move(changed).value();
  return file;
}

std::optional<FileId> Sources::find(const std::string& path) const {
  const auto found = file_of_path_.find(path);
  return found == file_of_path_.end() ? std::nullopt : std::optional(found->second);
}

Result<FileId> Sources::read(const std::string& path, Encoding encoding, Streams streams) {
  if (keeps_files_) {
    if (const std::optional<FileId> known = find(path)) return *known;
  }
  Result<std::string> bytes = read_bytes(path, streams);
  if (!bytes) return Failure{bytes.error()};
  return add(path, std::move(bytes).value(), encoding);
}

std::string_view Sources::text(FileId file) const { return files_[file].bytes; }

std::string_view Sources::text(const Span& span) const {
  return std::string_view(files_[span.file].bytes).substr(span.begin, span.size());
}

const std::string& Sources::path(FileId file) const { return files_[file].path; }

const std::vector<std::uint32_t>& Sources::line_begins(FileId file) const {
  return files_[file].line_begins;
}

Position Sources::position(FileId file, std::uint32_t offset) const {
  const File& source = files_[file];
  const std::string_view bytes = source.bytes;
  offset = std::min(offset, static_cast<std::uint32_t>(bytes.size()));
  const auto& begins = source.line_begins;
  const auto after = std::upper_bound(begins.begin(), begins.end(), offset);
  if (after == begins.begin()) return {1, 1};  // inside the byte-order mark
  const auto line = static_cast<std::uint32_t>(after - begins.begin());
  const std::uint32_t begin = *std::prev(after);
  if (offset - begin <= kCheckpointBytes) {
    return {line, 1 + count_code_points(bytes.substr(begin, offset - begin))};
  }
  // A very long line: from checkpoint to checkpoint, not byte by byte.
  const auto before = [&](std::uint32_t at) {
    const std::size_t checkpoint = at / kCheckpointBytes;
    const std::size_t from = checkpoint * kCheckpointBytes;
    return source.code_points_before[checkpoint] + count_code_points(bytes.substr(from, at - from));
  };
  return {line, 1 + before(offset) - before(begin)};
}

}  // namespace tailproof

#include "ledger/cards.h"

#include <algorithm>

namespace tailproof {

void put_number(std::string& bytes, std::uint64_t number) {
  while (number >= 0x80) {
    bytes += static_cast<char>(0x80U | (number & 0x7FU));
    number >>= 7;
  }
  bytes += static_cast<char>(number);
}

void put_text(std::string& bytes, std::string_view text) {
  put_number(bytes, text.size());
  bytes += text;
}

std::uint64_t CardReader::number() {
  std::uint64_t number = 0;
  for (unsigned shift = 0; shift < 64 && !rest_.empty(); shift += 7) {
    const auto byte = static_cast<unsigned char>(rest_.front());
    rest_.remove_prefix(1);
    number |= static_cast<std::uint64_t>(byte & 0x7FU) << shift;
    if (byte < 0x80) return number;
  }
  is_good_ = false;
  rest_ = {};
  return 0;
}

std::string_view CardReader::text() {
  const std::uint64_t size = number();
  if (size > rest_.size()) {
    is_good_ = false;
    rest_ = {};
    return {};
  }
  const std::string_view text = rest_.substr(0, size);
  rest_.remove_prefix(size);
  return text;
}

CardRows::CardRows(std::vector<std::string> header, std::vector<Place> rows)
    : header_(std::move(header)), rows_(std::move(rows)) {
  std::stable_sort(rows_.begin(), rows_.end(),
                   [](const Place& a, const Place& b) { return a.line < b.line; });
}

bool CardRows::next(Complaints&) {
  if (next_ == rows_.size()) return false;
  const Place& row = rows_[next_++];
  line_ = row.line;
  CardReader reader({row.begin, static_cast<std::size_t>(row.end - row.begin)});
  cells_.clear();
  for (std::size_t i = 0; i < header_.size(); ++i) cells_.push_back(reader.text());
  return true;
}

}  // namespace tailproof

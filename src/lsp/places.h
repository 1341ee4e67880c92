// Places in a text as the protocol counts them: lines from 0, characters in units of the encoding
// that client and server have agreed on.
//
// Contract: a character beyond the end of its line means the end; a line beyond the last, the end
// of the text; one inside a character means its beginning. Lines end with CR LF, LF or CR.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "lsp/json.h"
#include "tailproof/span.h"

namespace tailproof::lsp {

enum class PositionEncoding { kUtf8, kUtf16, kUtf32 };

/// "utf-8", "utf-16", "utf-32".
[[nodiscard]] std::string_view to_word(PositionEncoding encoding);
[[nodiscard]] std::optional<PositionEncoding> encoding_of_word(std::string_view word);

struct Place {
  std::uint32_t line = 0, character = 0;

  friend bool operator==(const Place&, const Place&) = default;
};

/// Reads a Position; nothing when it is none.
[[nodiscard]] std::optional<Place> place_of(const Json& position);
[[nodiscard]] Json position_json(const Place& place);
[[nodiscard]] Json range_json(const Place& begin, const Place& end);

/// One text with its lines. Lifetime: of the views it was given. Cost: of a place, its line; places
/// asked for in order cost one pass over each line together.
class Lines {
 public:
  Lines(std::string_view text, const std::vector<std::uint32_t>& begins, PositionEncoding encoding)
      : text_(text), begins_(begins), encoding_(encoding) {}

  [[nodiscard]] std::uint32_t offset_of(const Place& place) const;
  [[nodiscard]] Place place_of(std::uint32_t offset);
  [[nodiscard]] Json range_of(std::uint32_t begin, std::uint32_t end);
  /// The bytes of a line without its end; "" for one that is not there.
  [[nodiscard]] std::string_view line(std::uint32_t index) const;

 private:
  std::string_view text_;
  const std::vector<std::uint32_t>& begins_;
  PositionEncoding encoding_;
  Place last_;  // the place given last, and where it is
  std::uint32_t last_offset_ = 0;
  bool has_last_ = false;
};

/// Where the lines of a text begin, from scratch.
[[nodiscard]] std::vector<std::uint32_t> line_begins_of(std::string_view text);

}  // namespace tailproof::lsp

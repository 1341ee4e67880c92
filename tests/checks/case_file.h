// Case files: prose, a little ledger, a manuscript with the expected queries marked on their lines.
//
//   Prose up to the first line that begins with "===" or "---" is for the reader.
//   --- airframes.csv        a file of the ledger that every case of the file has
//   === a sentence           begins a case; what follows until the next "===" belongs to it
//   --- orders.csv           a file of this case's ledger, in place of the shared one
//   --- book.md              anything else is a manuscript (stets.csv stands beside it)
//   ^^^ error rank-disagrees "Major"
//                            the line above must have this query, at words that contain "Major"
//                            (which may be left out); "stetted" before the level: covered by a stet
//
// A query that is not marked fails the case, and so does a mark without its query.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace tailproof::testing {

struct Expected {
  std::string file;
  std::uint32_t line = 0;
  bool stetted = false;
  std::string level, check, text;
};

struct Case {
  std::string title;
  std::map<std::string, std::string> ledger;       // by file name
  std::map<std::string, std::string> manuscripts;  // without the marks
  std::vector<Expected> expected;
};

/// Fails by an empty list when the text has no case.
[[nodiscard]] std::vector<Case> read_cases(std::string_view text);

}  // namespace tailproof::testing

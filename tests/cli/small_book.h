// What several tests of the program share: a ledger of two machines, captions with and without an
// error, and looks at what was printed.
#pragma once

#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "program.h"

namespace tailproof {

using Json = nlohmann::ordered_json;

// One airframe of a closed range, so that OB102 is unknown and OB101 is not.
inline constexpr const char* kLedgerToml = R"(
title = "Test"

[[serial_form]]
pattern = 'OB[ -]?(\d{3})'
serial = 'OB\1'
closed = ["OB101..OB109"]
)";
inline constexpr const char* kAirframes =
    "serial,type,mark,taken_on_charge,struck_off_charge,source\n"
    "OB101,Sallow,I,1940-03-04,1942-11-20,Card 101\n"
    "OB105,Sallow,I,1940-03-04,1942-11-20,Card 105\n";

/// A caption with a day that does not exist: an error that needs no ledger.
inline constexpr const char* kImpossible =
    "![Fig. 1. Sallow OB101 at Hesk, 31 June 1941.](a.jpg)\n";
inline constexpr const char* kSound = "![Fig. 2. Sallow OB101 at Hesk, 30 June 1941.](b.jpg)\n";

inline void add_ledger(const Folder& folder) {
  folder.with("ledger/ledger.toml", kLedgerToml).with("ledger/airframes.csv", kAirframes);
}

inline std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream stream(text);
  std::string line;
  while (std::getline(stream, line)) {
    lines.push_back(line);
  }
  return lines;
}

inline std::vector<std::string> keys_of(const Json& object) {
  std::vector<std::string> keys;
  for (const auto& [key, value] : object.items()) {
    keys.push_back(key);
  }
  return keys;
}

inline bool has(const std::string& text, const std::string& piece) {
  return text.find(piece) != std::string::npos;
}

}  // namespace tailproof

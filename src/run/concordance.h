// Where manuscripts name each airframe, unit, person and place.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "run/run.h"

namespace tailproof {

/// One caption with all parts of its figure, or one block, that names something.
struct NamedPlace {
  Span span;            // of the first words there that name it
  std::string words;    // these
  std::string figure;   // label; "" for none
  std::string section;  // heading above it; "" for none
  BlockKind block = BlockKind::kBody;
};

struct ConcordanceEntry {
  std::string name;                // the ledger's key where it is known, else as written
  std::string heading;             // as an index has it: "Tarrow, Ennis"
  bool is_known = false;           // the ledger has it
  std::vector<std::string> also;   // of an airframe: other serials of the same machine
  std::vector<NamedPlace> places;  // in reading order; never empty
};

struct ConcordanceSection {
  std::string_view kind;                  // "airframes", "units", "people", "places"
  std::vector<ConcordanceEntry> entries;  // by heading, numbers by their value
};

/// The four sections, of which one may be empty. An airframe named by a code, a tail number or a
/// nickname stands under its serial.
[[nodiscard]] std::vector<ConcordanceSection> concordance_of(const Run& run);

/// "Ennis Tarrow" as "Tarrow, Ennis"; what has no given name, or a comma, stays. Small words before
/// a surname belong to it ("van der Meer").
[[nodiscard]] std::string inverted_name(std::string_view name);
/// Order of an index: without case, runs of digits by their value.
[[nodiscard]] bool precedes(std::string_view one, std::string_view other);

}  // namespace tailproof

// When a picture was taken, counted from an event: one row a way of saying it, and what only looks
// like it.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "claims/extract.h"
#include "ledger/reader.h"

using namespace tailproof;

namespace {

const Ledger& ledger() {
  static const Ledger kept = [] {
    const auto folder = std::filesystem::temp_directory_path() / "tailproof_event_times_test";
    std::filesystem::create_directories(folder);
    std::ofstream(folder / "ledger.toml") << "title = \"t\"\n[[serial_form]]\n"
                                             "pattern = 'TW(\\d{3})'\nserial = 'TW\\1'\n";
    std::ofstream(folder / "airframes.csv") << "serial,type\nTW101,Plover\nTW102,Plover\n";
    std::ofstream(folder / "types.csv") << "type,aliases\nPlover,\n";
    std::ofstream(folder / "units.csv") << "unit,aliases,kind\n8 Squadron,,squadron\n";
    std::ofstream(folder / "markings.csv") << "marking,family\nwhite hoop,hoop\n";
    Complaints complaints;
    auto read = read_ledger(folder.string(), complaints);
    for (const Complaint& complaint : complaints) FAIL_CHECK(to_line(complaint));
    return std::move(read).value();
  }();
  return kept;
}

const Grammars& grammars() {
  static const Grammars kept = [] {
    Complaints complaints;
    return Grammars::read({}, {std::string(TAILPROOF_TOP) + "/grammars"}, "en", complaints);
  }();
  return kept;
}

// "lost TW101 [-2, -2]" of every event from which the picture is counted.
std::string times_in(const std::string& text, BlockKind kind = BlockKind::kCaption) {
  std::vector<Manuscript> manuscripts(1);
  Block block;
  block.kind = kind;
  block.text = text;
  block.runs = {{0, 0, static_cast<std::uint32_t>(text.size()), true}};
  if (kind == BlockKind::kCaption) {
    block.figure = "Fig. 1";
    block.group = 0;
  }
  manuscripts[0].blocks.push_back(std::move(block));
  manuscripts[0].sections.push_back(kNone);
  std::string lines;
  const auto end = [](Day day) {
    return day <= kFirstDay || day >= kLastDay ? std::string("..") : std::to_string(day);
  };
  for (const Claim& claim : extract_claims(manuscripts, ledger(), grammars())) {
    if (claim.kind != ClaimKind::kEvent || !claim.relation->photograph.is_known()) continue;
    lines += (lines.empty() ? "" : "; ") + claim.value + " " + claim.subject + " [" +
             end(claim.relation->least) + ", " + end(claim.relation->most) + "]";
  }
  return lines;
}

}  // namespace

TEST_CASE("before and after an event") {
  struct Row {
    const char* text;
    const char* times;
  };
  const Row row = GENERATE(
      Row{"TW101 two days before it was lost.", "lost TW101 [-2, -2]"},
      Row{"TW101 before it was repainted.", "repaint TW101 [.., 0]"},
      Row{"TW101, photographed after its accident.", "accident TW101 [0, ..]"},
      Row{"TW101 three weeks after the accident.", "accident TW101 [15, 27]"},
      Row{"TW101 shortly after its delivery.", "taken_on_charge TW101 [0, 150]"},
      Row{"TW101 just before it was repainted in July 1943.", "repaint TW101 [-60, 0]"},
      Row{"TW101 the day after the accident.", "accident TW101 [1, 1]"},
      Row{"TW101 was photographed an hour before it was lost.", "lost TW101 [-1, 0]"},
      Row{"TW101 two days before TW102 was lost.", "lost TW102 [-2, -2]"},
      Row{"TW101 before it went to 8 Squadron.", "allotted TW101 [.., 0]"},
      Row{"TW101, since repainted.", ""}, Row{"TW101, lost two days later.", "lost TW101 [-2, -2]"},
      Row{"TW101 on the grass. It was lost soon afterwards.", "lost TW101 [-300, 0]"},
      Row{"TW101 on the grass. It was later repainted.", "repaint TW101 [.., 0]"});
  CAPTURE(row.text);
  CHECK(times_in(row.text) == row.times);
}

TEST_CASE("what something else is counted by says nothing of the picture") {
  const char* text = GENERATE("TW101 wore the white hoop before it was repainted.",
                              "TW101, repainted three weeks after its accident.",
                              "TW101 with the white hoop that it had carried before it was lost.",
                              "TW101, which flew with 8 Squadron before it was lost.",
                              "TW101, the white hoop added two days after its accident.",
                              "TW101 was delivered in May 1942 and lost two days later.",
                              "TW101. It was later repainted, and is seen here in its new coat.",
                              "TW101 was lost.");
  CAPTURE(text);
  CHECK(times_in(text).empty());
}

TEST_CASE("running text shows no picture") {
  CHECK(times_in("TW101 two days before it was lost.", BlockKind::kBody).empty());
}

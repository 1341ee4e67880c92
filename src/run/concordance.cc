#include "run/concordance.h"

#include <algorithm>
#include <array>
#include <map>
#include <set>
#include <tuple>
#include <utility>

#include "source/ascii.h"

namespace tailproof {

namespace {

struct Section {
  std::string_view kind;
  ClaimKind claim;
};

constexpr std::array<Section, 4> kSections = {{{"airframes", ClaimKind::kAirframe},
                                               {"units", ClaimKind::kUnit},
                                               {"people", ClaimKind::kPerson},
                                               {"places", ClaimKind::kPlace}}};

char folded(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

/// Takes the run of digits at the front, without its leading zeros.
std::string_view take_number(std::string_view& text) {
  std::size_t end = 0;
  while (end < text.size() && is_digit(text[end])) {
    ++end;
  }
  std::string_view number = text.substr(0, end);
  text.remove_prefix(end);
  while (number.size() > 1 && number.front() == '0') {
    number.remove_prefix(1);
  }
  return number;
}

/// Below, at or above 0 as the first comes before, with or after the second.
int compare(std::string_view one, std::string_view other) {
  while (!one.empty() && !other.empty()) {
    if (is_digit(one.front()) && is_digit(other.front())) {
      const std::string_view a = take_number(one);
      const std::string_view b = take_number(other);
      if (a != b) {
        return std::tuple(a.size(), a) < std::tuple(b.size(), b) ? -1 : 1;
      }
      continue;
    }
    const auto a = static_cast<unsigned char>(folded(one.front()));
    const auto b = static_cast<unsigned char>(folded(other.front()));
    if (a != b) {
      return a < b ? -1 : 1;
    }
    one.remove_prefix(1);
    other.remove_prefix(1);
  }
  return one.empty() ? (other.empty() ? 0 : -1) : 1;
}

std::string section_of(const Manuscript& manuscript, std::uint32_t block) {
  const std::uint32_t heading =
      block < manuscript.sections.size() ? manuscript.sections[block] : kNone;
  return heading < manuscript.blocks.size() ? manuscript.blocks[heading].text : "";
}

class Builder {
 public:
  explicit Builder(const Run& run) : run_(run) {}

  ConcordanceSection build(const Section& section) {
    std::map<std::string, ConcordanceEntry> entries;
    std::set<std::tuple<std::string, std::uint32_t, std::string, std::uint32_t>> seen;
    for (const Claim& claim : run_.claims) {
      // What is inherited was named elsewhere, and is indexed there.
      if (claim.kind != section.claim || claim.inherited) {
        continue;
      }
      const std::string name = name_of(claim);
      const Manuscript& manuscript = run_.manuscripts[claim.manuscript];
      const Block& block = manuscript.blocks[claim.block];
      const std::uint32_t place = block.group != kNone ? block.group : claim.block;
      const std::string part = block.group != kNone ? "figure" : "block";
      if (name.empty() || !seen.emplace(name, claim.manuscript, part, place).second) {
        continue;
      }
      ConcordanceEntry& entry = entries[name];
      if (entry.name.empty()) {
        start(entry, name, claim);
      }
      entry.places.push_back(NamedPlace{claim.span, std::string(claim.text), block.figure,
                                        section_of(manuscript, claim.block), block.kind});
    }
    ConcordanceSection built{section.kind, {}};
    for (auto& [name, entry] : entries) {
      built.entries.push_back(std::move(entry));
    }
    std::stable_sort(built.entries.begin(), built.entries.end(),
                     [](const ConcordanceEntry& a, const ConcordanceEntry& b) {
                       return precedes(a.heading, b.heading);
                     });
    return built;
  }

 private:
  static std::string name_of(const Claim& claim) {
    const bool is_other_name = claim.kind == ClaimKind::kAirframe && !claim.role.empty();
    return std::string(is_other_name && !claim.subject.empty() ? claim.subject : claim.value);
  }

  void start(ConcordanceEntry& entry, const std::string& name, const Claim& claim) const {
    entry.name = name;
    entry.heading = claim.kind == ClaimKind::kPerson ? inverted_name(name) : name;
    if (claim.kind != ClaimKind::kAirframe) {
      entry.is_known = claim.known;
      return;
    }
    entry.is_known = !run_.ledger.machine_of(name).empty();
    for (const std::string_view serial : run_.ledger.serials_of(name)) {
      if (serial != name) {
        entry.also.emplace_back(serial);
      }
    }
  }

  const Run& run_;
};

}  // namespace

std::vector<ConcordanceSection> concordance_of(const Run& run) {
  Builder builder(run);
  std::vector<ConcordanceSection> sections;
  for (const Section& section : kSections) {
    sections.push_back(builder.build(section));
  }
  return sections;
}

std::string inverted_name(std::string_view name) {
  std::size_t surname = name.find_last_of(' ');
  if (surname == std::string_view::npos || name.find(',') != std::string_view::npos) {
    return std::string(name);
  }
  while (surname > 0) {
    const std::size_t before = name.find_last_of(' ', surname - 1);
    const std::size_t word = before == std::string_view::npos ? 0 : before + 1;
    const bool is_small = name[word] >= 'a' && name[word] <= 'z';
    if (!is_small || before == std::string_view::npos) {
      break;
    }
    surname = before;
  }
  return std::string(name.substr(surname + 1)) + ", " + std::string(name.substr(0, surname));
}

bool precedes(std::string_view one, std::string_view other) {
  const int order = compare(one, other);
  return order != 0 ? order < 0 : one < other;
}

}  // namespace tailproof

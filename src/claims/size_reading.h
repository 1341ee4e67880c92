// Sizes, proportions and marks in the words of one block: which marking, and which of its rings.
//
// Contract: nothing here makes a claim or knows of one.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "claims/noun_reading.h"
#include "claims/read_parts.h"
#include "tailproof/ledger.h"

namespace tailproof {

class SizeReading : protected NounReading {
 protected:
  SizeReading(const Lexicon& lexicon, const Block& block)
      : NounReading(lexicon, block), ledger_(lexicon.ledger()) {}
  ~SizeReading() = default;

  [[nodiscard]] std::string marking_of_rings(const Mention& measure) const;
  [[nodiscard]] std::string marking_of_passage(const Mention& measure) const;
  [[nodiscard]] std::uint32_t number_end(std::uint32_t first, int& number) const;
  [[nodiscard]] std::string whole_spoken_of(const Mention& measure, const std::string& key) const;
  [[nodiscard]] std::string ring_of_diameter(const Marking& marking, const Mention& measure) const;
  [[nodiscard]] std::string ring_named(const Marking& marking, std::uint32_t token) const;
  [[nodiscard]] std::string part_measured(const Marking& row, const Mention& mention) const;
  std::uint32_t mark_ending(std::uint32_t token, std::string_view type, std::string& mark) const;
  [[nodiscard]] std::vector<int> proportion_at(std::uint32_t first, std::uint32_t& end) const;
  [[nodiscard]] std::vector<Size> sizes_ending_in(const Mention& last) const;
  [[nodiscard]] bool speaks_of_family(const std::string& family, std::uint32_t until) const;
  [[nodiscard]] bool is_said_of_marking(std::uint32_t token) const;

  const Ledger& ledger_;
};

}  // namespace tailproof

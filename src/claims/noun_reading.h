// What the things, places and people of one block belong to: whose a place is, what a unit owns,
// whom a rank names.
//
// Contract: nothing here makes a claim or knows of one.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "claims/read_parts.h"
#include "claims/scopes.h"

namespace tailproof {

class NounReading : protected ScopedReading {
 protected:
  using ScopedReading::ScopedReading;
  ~NounReading() = default;

  [[nodiscard]] bool is_gone_paint(std::uint32_t first, std::uint32_t last) const;
  [[nodiscard]] bool is_plain_word(std::uint32_t token) const;
  [[nodiscard]] bool is_owned_thing(std::uint32_t unit) const;
  [[nodiscard]] bool is_craft(std::uint32_t token) const;
  [[nodiscard]] bool is_verb_of_story(std::uint32_t token) const;
  [[nodiscard]] bool tells_of_other_thing(std::uint32_t token) const;
  [[nodiscard]] bool is_of_others_behind(const Mention& marking) const;
  [[nodiscard]] bool is_of_him(const Mention& place) const;
  [[nodiscard]] bool is_sort_of_thing(const Mention& place) const;
  [[nodiscard]] bool is_of_other_object(const Mention& place) const;
  [[nodiscard]] bool is_base_of_unit(const Mention& place, std::uint32_t first) const;
  [[nodiscard]] bool is_item_dated(const Mention& place, std::uint32_t first) const;
  [[nodiscard]] bool is_of_kept_thing(const Mention& place, std::uint32_t first) const;
  [[nodiscard]] bool is_imprint(const Mention& place) const;
  [[nodiscard]] bool belongs_to_name(const Mention& place) const;
  [[nodiscard]] const Mention* place_of_stay(const Mention& turn) const;
  [[nodiscard]] std::vector<const Mention*> people_behind(const Mention& rank) const;
  [[nodiscard]] bool has_word_of_him(std::uint32_t sentence) const;
  [[nodiscard]] const Mention* person_acting_as(const Mention& rank) const;
  [[nodiscard]] bool is_of_nobody_named(const Mention& rank) const;
  [[nodiscard]] const Mention* person_given(const Mention& award) const;
  [[nodiscard]] bool is_in_who_clause(const Mention& mention) const;
  [[nodiscard]] bool is_of_unnamed_person(const Mention& unit) const;
  [[nodiscard]] bool is_number_of_noun(const Mention& number) const;
  [[nodiscard]] bool is_likeness_of_marking(std::uint32_t noun) const;
  [[nodiscard]] bool is_made_from(const Mention& event) const;
  [[nodiscard]] bool is_of_papers(const Mention& unit) const;
};

}  // namespace tailproof

// What the words of one block deny, doubt, hide or give to others, token by token.
//
// Contract: nothing here makes a claim or knows of one. `mark_scopes` follows `index_words`; the
// marks hold from then on.
#pragma once

#include <cstdint>
#include <vector>

#include "claims/block_reading.h"

namespace tailproof {

class ScopedReading : protected BlockReading {
 protected:
  using BlockReading::BlockReading;
  ~ScopedReading() = default;

  void mark_scopes();
  /// Whether what the segment goes on to deny came on the day behind its "until".
  void attribute_aside(const Mention& cue);
  void attribute_columns(const std::vector<std::string>& headings);
  [[nodiscard]] bool is_put_off(std::uint32_t from) const;

  // By token.
  /// Of a denial: the thing itself is denied, and not only something told of it.
  static constexpr std::uint8_t kDirectly = 2;
  /// Bits of attributed_: another's words, and words of what was only to be.
  static constexpr std::uint8_t kSaidByOthers = 1, kUnreal = 2;
  std::vector<std::uint8_t> hedged_, attributed_, negated_, hidden_;

 private:
  void deny_directly(const Mention& mention);
  void mark_slip(const Mention& cue);
  void mark_left_out();
  void mark_given_elsewhere(const Mention& cue);
  void mark_rejected_questions();
  void mark_hedge(const Mention& cue);
  void mark_nonexistent(const Mention& cue);
  void mark_negation(const Mention& cue);
  [[nodiscard]] bool is_happening(std::uint32_t token) const;
  [[nodiscard]] bool has_own_verb(const Mention& cue, std::uint32_t conjunction) const;
  [[nodiscard]] bool takes_object(const Mention& cue) const;
  [[nodiscard]] bool is_denied_before(const Mention& cue) const;
  [[nodiscard]] bool is_in_or_list(std::uint32_t token) const;
  void deny_before(const Mention& cue, std::vector<std::uint8_t>& marks) const;
  void mark_attribution(const Mention& cue);
};

}  // namespace tailproof

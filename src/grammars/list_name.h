// The name of a word list or a kind of pattern, as a number: "cue_former" in the source costs
// nothing when asked for.
#pragma once

#include <cstdint>
#include <string_view>

namespace tailproof {

class ListName {
 public:
  consteval ListName(const char* name) : number_(number_of(name)) {}  // NOLINT: meant to convert

  /// 64 bits of the name; names of a grammar do not share them.
  [[nodiscard]] static constexpr std::uint64_t number_of(std::string_view name) {
    std::uint64_t number = 0xCBF29CE484222325U;
    for (const char c : name) number = (number ^ static_cast<unsigned char>(c)) * 0x100000001B3U;
    return number;
  }
  [[nodiscard]] std::uint64_t number() const { return number_; }

 private:
  std::uint64_t number_;
};

}  // namespace tailproof

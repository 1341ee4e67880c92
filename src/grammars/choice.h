// A list of phrases as part of a pattern.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace tailproof {

/// Whether phrases that differ in case alone are told apart.
enum class Case { kTold, kFolded };

/// An expression for the longest of the phrases that stands at a place: what they begin with in
/// common stands there once, so that RE2 and the sieve have a fraction of it to read. After a
/// letter or digit that ends a phrase a word ends; an apostrophe stands for either form of it.
[[nodiscard]] std::string choice_of(std::vector<std::string> phrases, Case how);

}  // namespace tailproof

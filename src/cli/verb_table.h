// What verbs and options there are, for whatever describes them: help, completions, manual page.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace tailproof {

struct OptionHelp {
  std::string spelling;            // "--format,-f"
  std::string_view kind;           // a kind of options.inc
  std::vector<std::string> words;  // that it takes; empty when it takes any, or none
  std::string help;

  /// "--format", the long one.
  [[nodiscard]] std::string long_name() const;
  /// "-f", or "".
  [[nodiscard]] std::string short_name() const;
  [[nodiscard]] bool takes_value() const { return kind != "Flag"; }
};

struct Example {
  std::string_view command, says;
};

struct VerbHelp {
  std::string word;
  std::string operands;  // "PATH...", "SERIAL [PATH...]"
  std::string summary;
  std::vector<OptionHelp> options;
  std::vector<Example> examples;
};

/// In the order of verbs.inc.
[[nodiscard]] std::vector<VerbHelp> described_verbs();

/// Words that an option of this kind takes with this verb; empty when it takes any.
[[nodiscard]] std::vector<std::string> words_taken(std::string_view kind, std::string_view verb);
/// Cut at blanks.
[[nodiscard]] std::vector<std::string> split_words(std::string_view words);
/// "a, b, c".
[[nodiscard]] std::string listed(const std::vector<std::string>& words);
/// The shells that completions are written for.
[[nodiscard]] std::vector<std::string> known_shells();

/// A completion script; "" for a shell that is not known.
[[nodiscard]] std::string completions_for(std::string_view shell);
/// The manual page, in the man macros of roff.
[[nodiscard]] std::string manual_page();

}  // namespace tailproof

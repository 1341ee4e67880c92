// What the tests of hostile surroundings share.
#pragma once

#include <string>
#include <vector>

#include "program.h"

namespace tailproof::hostile {

inline const std::string kLedger = TAILPROOF_TOP "/tests/readme/ledger";
/// With one error, which every format of check reports.
inline const std::string kBad =
    "![Fig. 1. Sallow OB202 of 2 Squadron at Hesk, 31 June 1941.](a.jpg)\n";

/// Whether faults can be put into this build: a sanitizer wants to be loaded before all others.
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
inline constexpr bool kBearsFaults = false;
#else
inline constexpr bool kBearsFaults = true;
#endif

/// Words before a command that load the shared object with these settings.
inline std::string with_fault(const std::string& object, const std::string& settings) {
  return "LD_PRELOAD=" TAILPROOF_BUILD "/tests/hostile/libfault_" + object + ".so " + settings +
         " ";
}

inline bool has(const std::string& text, const std::string& piece) {
  return text.find(piece) != std::string::npos;
}

/// Each command that writes a report, without its paths: every format of every verb.
inline std::vector<std::string> all_reports() {
  std::vector<std::string> commands;
  const auto add = [&](const std::string& verb, const std::vector<std::string>& formats) {
    for (const std::string& format : formats) {
      commands.push_back("tailproof " + verb + " --ledger " + kLedger + " --format " + format);
    }
  };
  add("check", {"text", "json", "jsonl", "sarif", "html"});
  add("claims", {"text", "json", "jsonl"});
  add("bracket", {"text", "json", "csv"});
  add("concordance", {"text", "json", "csv", "html", "docbook"});
  add("history OB202", {"text", "json", "csv", "html", "docbook"});
  return commands;
}

}  // namespace tailproof::hostile

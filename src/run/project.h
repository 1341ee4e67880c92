// The project file tailproof.toml: what a manuscript is checked with, written down beside it once.
//
// Contract: paths in it count from its own folder. What a caller has settled already goes before
// the file: `fill_in` sets only what is empty, and adds grammars. A plugin cannot be named in it,
// as opening a manuscript must never run a stranger's code. An unknown key is a note, a bad value a
// complaint with line and key, and the rest counts.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ledger/reader.h"
#include "run/run.h"
#include "tailproof/result.h"

namespace tailproof {

inline constexpr std::string_view kProjectFile = "tailproof.toml";

struct Project {
  std::string path;                      // of the file
  std::vector<std::string> manuscripts;  // what is checked where no PATH is given
  std::string ledger;
  std::vector<std::string> grammars, only, skip;
  std::string language;                       // "" : not settled
  std::string at_least;                       // "note", "warning", "error", or ""
  std::string encoding;                       // "utf-8", "windows-1252", or ""
  std::map<std::string, std::string> levels;  // check id to "note", "warning", "error" or "off"
  MarginChanges margins;
};

/// The nearest tailproof.toml: in the folder of `path` (which may be that folder itself), or in one
/// above it. "" when there is none.
[[nodiscard]] std::string find_project(const std::string& path);

/// Fails when the file cannot be read or is no TOML.
[[nodiscard]] Result<Project> read_project(const std::string& file, Complaints& complaints);

/// Sets what the options leave open. Manuscripts are taken when `paths` is empty.
void fill_in(RunOptions& options, const Project& project);

}  // namespace tailproof

// What the user has set: on the command line of `tailproof lsp`, in the client's
// initializationOptions, in its configuration's section "tailproof". What is set here goes before
// the project file (run/project.h).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lsp/json.h"
#include "tailproof/check.h"

namespace tailproof::lsp {

struct Settings {
  std::string ledger;                 // "" : looked for
  std::vector<std::string> grammars;  // extra folders
  std::vector<std::string> plugins;   // from the command line alone: they are programs
  std::vector<std::string> only, skip;
  std::string language;           // "" : the project file's, or English
  std::optional<Level> at_least;  // nothing: the project file's, or warnings

  friend bool operator==(const Settings&, const Settings&) = default;
};

/// `settings` with what the object sets, by itself or in its member "tailproof"; null sets nothing.
/// A value that is of another kind than expected is left out and told in `faults`.
[[nodiscard]] Settings with_json(Settings settings, const Json& object,
                                 std::vector<std::string>& faults);

/// The ledger of a manuscript for which none is set: at the first folder upward from it, its
/// subfolder `ledger`, or else its only subfolder that is a ledger; a folder that is one itself
/// serves the manuscripts in it. "" when there is none.
[[nodiscard]] std::string find_ledger(const std::string& manuscript);

/// The nearest tailproof.toml upward from a manuscript; "" when there is none.
[[nodiscard]] std::string find_project_file(const std::string& manuscript);

/// Whether the path lies in a folder that is a ledger, `ledger.toml` itself included.
[[nodiscard]] bool is_in_ledger(const std::string& path);

}  // namespace tailproof::lsp

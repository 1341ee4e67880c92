// One grammar file as it stands: its lists with their words, its patterns with what they say.
//
// Contract: phrases made of other lists, and those shared with them, stand in `words` as any other.
// It comes from TOML, or from the packed form that the build makes of the program's own
// files, and both give the same: reading TOML would be a seventh of a short run. Lists and the keys
// of `set` are in order of name, all else in the order of the file. Nothing here knows what a
// pattern means. Lifetime: the texts point into `owner` or, of a packed file, into its bytes.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "tailproof/result.h"

namespace tailproof {

struct GrammarFile {
  struct Place {  // for complaints; a packed file has none to complain of
    std::uint32_t line = 0, column = 0;
  };
  struct List {
    std::string_view name;
    bool is_cased = false;
    bool is_shared = false;  // its phrases stand in others too; a packed file does not tell
    std::vector<std::pair<std::string_view, std::string_view>> words;  // phrase, value
  };
  struct Start {
    std::string_view name;
    Place at;
  };
  struct Pattern {
    std::string_view kind, name;
    std::optional<std::string_view> match;
    bool is_cased = false;
    std::vector<Start> starts;
    std::vector<std::pair<std::string_view, std::string_view>> set;  // slot, value
    Place at;
  };

  std::string file;
  std::string_view language;  // "" : of any
  std::vector<List> lists;
  std::vector<Pattern> patterns;
  std::shared_ptr<const void> owner;
};

/// Of TOML, with complaints about what is no list, word or pattern; none when it is not TOML, or
/// of a language other than `language`, if that is not "".
[[nodiscard]] std::optional<GrammarFile> read_grammar_toml(std::string_view text,
                                                           const std::string& file,
                                                           std::string_view language,
                                                           Complaints& complaints);

/// Bytes from which unpack_grammar() makes the file again, but for its places.
[[nodiscard]] std::string pack_grammar(const GrammarFile& grammar);
[[nodiscard]] GrammarFile unpack_grammar(std::string_view packed, const std::string& file);

}  // namespace tailproof

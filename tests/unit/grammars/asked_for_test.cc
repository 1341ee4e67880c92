#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <iterator>
#include <set>
#include <string>

#include "grammars/grammar_file.h"
#include "source/read_bytes.h"

using namespace tailproof;

namespace fs = std::filesystem;

namespace {

bool is_of_name(char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_'; }

// Names that stand in the text between these marks.
void add_names(std::string_view text, char opens, std::string_view closes,
               std::set<std::string>& names) {
  for (std::size_t at = text.find(opens); at != std::string_view::npos;
       at = text.find(opens, at + 1)) {
    const std::string_view rest = text.substr(at + 1);
    const auto length = static_cast<std::size_t>(
        std::distance(rest.begin(), std::find_if_not(rest.begin(), rest.end(), is_of_name)));
    if (length > 0 && length < rest.size() && closes.find(rest[length]) != std::string_view::npos)
      names.emplace(rest.substr(0, length));
  }
}

std::string text_of(const fs::path& path) {
  Result<std::string> text = read_bytes(path.string());
  REQUIRE(text);
  return std::move(text).value();
}

}  // namespace

TEST_CASE("every list and kind of pattern of the English grammars is asked for") {
  std::set<std::string> asked;
  for (const auto& entry : fs::recursive_directory_iterator(TAILPROOF_TOP "/src")) {
    const fs::path& path = entry.path();
    if (path.extension() == ".cc" || path.extension() == ".h" || path.extension() == ".inc")
      add_names(text_of(path), '"', "\"", asked);
  }
  std::set<std::string> lists, kinds;
  for (const auto& entry : fs::recursive_directory_iterator(TAILPROOF_TOP "/grammars/en")) {
    if (entry.path().extension() != ".toml") continue;
    const std::string text = text_of(entry.path());
    Complaints complaints;
    const auto grammar = read_grammar_toml(text, entry.path().string(), "en", complaints);
    REQUIRE(complaints.empty());
    REQUIRE(grammar);
    add_names(text, '{', "}:", asked);  // in patterns, and in phrases made of others
    for (const GrammarFile::List& list : grammar->lists) {
      lists.emplace(list.name);
      if (list.is_shared) asked.emplace(list.name);
    }
    for (const GrammarFile::Pattern& pattern : grammar->patterns) {
      kinds.emplace(pattern.kind);
      for (const GrammarFile::Start& start : pattern.starts) asked.emplace(start.name);
    }
  }
  asked.emplace("cue_idle");  // which nothing asks for is its office
  CHECK(lists.size() > 400);
  CHECK(kinds.size() > 10);
  for (const std::string& name : lists) {
    INFO("list " << name);
    CHECK(asked.contains(name));
  }
  for (const std::string& name : kinds) {
    INFO("patterns of the kind " << name);
    CHECK(asked.contains(name));
  }
}

#include "case_file.h"

#include <sstream>

namespace tailproof::testing {
namespace {

bool is_of_ledger(std::string_view name) {
  return name == "ledger.toml" ||
         (name.ends_with(".csv") && name != "stets.csv" && !name.starts_with("captions"));
}

Expected read_mark(std::string_view line) {
  Expected mark;
  std::istringstream words{std::string(line)};
  words >> mark.level;
  if (mark.level == "stetted") {
    mark.stetted = true;
    words >> mark.level;
  }
  words >> mark.check;
  const std::size_t open = line.find('"');
  const std::size_t close = line.rfind('"');
  if (open != std::string_view::npos && close > open) {
    mark.text = line.substr(open + 1, close - open - 1);
  }
  return mark;
}

}  // namespace

std::vector<Case> read_cases(std::string_view text) {
  std::vector<Case> cases;
  Case shared;
  Case* current = &shared;
  std::string* file = nullptr;
  std::string name;
  std::uint32_t line_number = 0;
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    const std::string_view line = text.substr(0, end);
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    if (line.starts_with("=== ")) {
      Case next = shared;
      next.title = line.substr(4);
      cases.push_back(std::move(next));
      current = &cases.back();
      file = nullptr;
    } else if (line.starts_with("--- ")) {
      name = line.substr(4);
      file = is_of_ledger(name) ? &current->ledger[name] : &current->manuscripts[name];
      file->clear();
      line_number = 0;
    } else if (line.starts_with("^^^ ")) {
      Expected mark = read_mark(line.substr(4));
      mark.file = name;
      mark.line = line_number;
      current->expected.push_back(std::move(mark));
    } else if (file != nullptr) {
      *file += std::string(line) + "\n";
      ++line_number;
    }
  }
  return cases;
}

}  // namespace tailproof::testing

#include "annotations.h"

#include <algorithm>
#include <array>
#include <charconv>

#include "tailproof/claim.h"

namespace tailproof::corpus {
namespace {

std::string_view trim(std::string_view text) {
  const auto first = text.find_first_not_of(" \t\r");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

std::vector<std::string_view> fields_of(std::string_view line) {
  std::vector<std::string_view> fields;
  std::size_t at = 0;
  while (at <= line.size()) {
    const std::size_t bar = std::min(line.find('|', at), line.size());
    fields.push_back(trim(line.substr(at, bar - at)));
    at = bar + 1;
  }
  return fields;
}

bool is_kind(std::string_view word) {
  for (int kind = 0; kind <= static_cast<int>(ClaimKind::kReference); ++kind) {
    if (to_word(static_cast<ClaimKind>(kind)) == word) return true;
  }
  return false;
}

// "" when it was understood.
std::string set_attribute(Annotation& claim, std::string_view word) {
  const auto equals = word.find('=');
  if (equals != std::string_view::npos) {
    const std::string_view name = trim(word.substr(0, equals));
    const std::string value(trim(word.substr(equals + 1)));
    if (name == "role") return claim.role = value, "";
    if (name == "position") return claim.position = value, "";
    if (name == "of") return claim.of = value, "";
    return "unknown attribute " + std::string(name);
  }
  if (word == "negated") return claim.negated = true, "";
  if (word == "hedged") return claim.hedged = true, "";
  if (word == "attributed") return claim.attributed = true, "";
  if (word == "not_shown") return claim.shown = false, "";
  if (word == "inherited") return claim.inherited = true, "";
  return word.empty() ? "" : "unknown attribute " + std::string(word);
}

}  // namespace

Result<std::vector<AnnotatedBlock>> read_annotations(std::string_view text,
                                                     const std::string& file) {
  std::vector<AnnotatedBlock> blocks;
  std::uint32_t number = 0;
  const auto wrong = [&](const std::string& what) { return Failure{file, number, 0, what}; };
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    const std::string_view line = trim(text.substr(at, end - at));
    at = end + 1;
    ++number;
    if (line.empty() || line.front() == '#') continue;
    if (line.front() == '@') {
      AnnotatedBlock& block = blocks.emplace_back();
      block.written = number;
      const std::string_view label = trim(line.substr(1));
      if (!label.starts_with("line ")) {
        block.figure = std::string(label);
        continue;
      }
      const std::string_view digits = trim(label.substr(5));
      const auto [rest, error] =
          std::from_chars(digits.data(), digits.data() + digits.size(), block.line);
      if (error != std::errc{} || block.line == 0) return wrong("no line number");
      continue;
    }
    if (blocks.empty()) return wrong("a claim before the first block");
    const auto fields = fields_of(line);
    if (fields.size() < 3) return wrong("fewer than three fields");
    if (!is_kind(fields[0])) return wrong("unknown kind " + std::string(fields[0]));
    Annotation claim;
    claim.line = number;
    claim.kind = std::string(fields[0]);
    claim.value = std::string(fields[1]);
    claim.subject = std::string(fields[2]);
    for (std::size_t i = 3; i < fields.size(); ++i) {
      const std::string problem = set_attribute(claim, fields[i]);
      if (!problem.empty()) return wrong(problem);
    }
    blocks.back().claims.push_back(std::move(claim));
  }
  return blocks;
}

}  // namespace tailproof::corpus

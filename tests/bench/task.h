// One task of the benchmark: what is timed, on what, and the total by which its answer is checked.
//
// Each task stands in a file of its own and has a row in tasks.inc. It returns how many things it
// found; a run compares that total between the sizes, since a wrong answer is not a fast one.
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "grammars/grammars.h"
#include "manuscript/reader.h"
#include "mentions/find_mentions.h"
#include "tailproof/check.h"
#include "tailproof/ledger.h"

namespace tailproof::bench {

/// A ledger of the world with so many airframes, read once.
class Evidence {
 public:
  explicit Evidence(std::size_t airframes, const std::string& folder);
  std::string folder;
  std::size_t airframes = 0;
  Ledger ledger;
  Grammars grammars;
  std::unique_ptr<MentionFinder> finder;
  std::unique_ptr<WordTable> words;
};

/// What a task needs before it: made before the time is taken.
enum class Needs { kBytes, kBlocks, kTokens, kClaims };

/// A book on disk, and what the stations before the timed one make of it. The parts are made when
/// first asked for, outside the time taken.
class Book {
 public:
  Book(const Evidence& evidence, std::string path, std::string bytes);

  void make_ready(Needs needs) const;
  [[nodiscard]] const Evidence& evidence() const { return evidence_; }
  [[nodiscard]] const std::string& path() const { return path_; }
  [[nodiscard]] const std::string& bytes() const { return bytes_; }
  [[nodiscard]] bool is_xml() const { return bytes_.starts_with("<?xml"); }
  [[nodiscard]] const std::vector<Manuscript>& manuscripts() const;
  [[nodiscard]] const std::vector<std::vector<Token>>& tokens() const;  // by block
  [[nodiscard]] const std::vector<Claim>& claims() const;

 private:
  const Evidence& evidence_;
  std::string path_, bytes_;
  mutable Sources sources_;
  mutable std::vector<Manuscript> manuscripts_;
  mutable std::vector<std::vector<Token>> tokens_;
  mutable std::vector<Claim> claims_;
};

using TaskFunction = std::size_t (*)(const Book& book);

struct Task {
  std::string_view name;
  TaskFunction run = nullptr;
  Needs needs = Needs::kBytes;
  std::string_view counts;    // what the total is of
  std::string_view compared;  // the bare parse that it is held against, or ""
};

[[nodiscard]] const std::vector<Task>& tasks();

}  // namespace tailproof::bench

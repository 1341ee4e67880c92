// Runs every case file of this folder through the whole program: sources, claims, checks, stets.
#include <unistd.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>

#include "case_file.h"
#include "checks/registry.h"
#include "run/run.h"

using namespace tailproof;
using tailproof::testing::Case;
using tailproof::testing::Expected;
namespace fs = std::filesystem;

namespace {

const std::string kFolder = TAILPROOF_TOP "/tests/checks";

std::string text_of(const fs::path& path) {
  std::ifstream file(path);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

std::vector<fs::path> case_files() {
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(kFolder)) {
    if (entry.path().extension() == ".case") files.push_back(entry.path());
  }
  std::sort(files.begin(), files.end());
  return files;
}

/// A folder that vanishes with the case.
class Folder {
 public:
  Folder() {
    std::string pattern = (fs::temp_directory_path() / "tailproof-case-XXXXXX").string();
    REQUIRE(mkdtemp(pattern.data()) != nullptr);
    path_ = pattern;
    fs::create_directories(path_ / "ledger");
    fs::create_directories(path_ / "book");
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() { fs::remove_all(path_); }

  void fill(const Case& one) const {
    std::ofstream(path_ / "ledger" / "ledger.toml") << "title = \"An invented ledger\"\n";
    for (const auto& [name, text] : one.ledger) std::ofstream(path_ / "ledger" / name) << text;
    for (const auto& [name, text] : one.manuscripts) std::ofstream(path_ / "book" / name) << text;
  }
  [[nodiscard]] RunOptions options() const {
    // No case has grammars of its own, so those of the program are read once for all.
    static Complaints complaints;
    static const Grammars grammars = read_grammars({}, complaints);
    REQUIRE(complaints.empty());
    RunOptions options;
    options.ready_grammars = &grammars;
    options.paths = {(path_ / "book").string()};
    options.ledger = (path_ / "ledger").string();
    return options;
  }

 private:
  fs::path path_;
};

std::string written(const Expected& mark) {
  return mark.file + ":" + std::to_string(mark.line) + ": " + (mark.stetted ? "stetted " : "") +
         mark.level + " " + mark.check;
}

Expected found(const Run& run, const Query& query) {
  Expected mark;
  mark.file = fs::path(run.sources.path(query.span.file)).filename().string();
  mark.line = run.sources.position(query.span.file, query.span.begin).line;
  mark.stetted = !query.stet.empty();
  mark.level = to_word(query.level);
  mark.check = query.check;
  mark.text = run.sources.text(query.span);
  return mark;
}

bool is_met(const Expected& mark, const Expected& query) {
  return written(mark) == written(query) && query.text.find(mark.text) != std::string::npos;
}

// Checks that find their fault in the text alone.
bool needs_evidence(std::string_view check) {
  for (std::size_t i = 0; i < builtin_checks().size(); ++i) {
    if (builtin_checks()[i].id == check) return !builtin_needs()[i].tables.empty();
  }
  return true;
}

void check_query(const Run& run, const Query& query) {
  CHECK_FALSE(query.message.empty());
  CHECK(query.message.find('\n') == std::string::npos);
  CHECK_FALSE(query.message.ends_with("."));
  CHECK(query.span.end <= run.sources.text(query.span.file).size());
  if (needs_evidence(query.check)) CHECK_FALSE(query.evidence.empty());
}

}  // namespace

TEST_CASE("every case of every case file has the queries marked in it and no others") {
  REQUIRE(case_files().size() >= 21);
  for (const fs::path& path : case_files()) {
    const std::vector<Case> cases = tailproof::testing::read_cases(text_of(path));
    INFO(path.filename().string());
    REQUIRE_FALSE(cases.empty());
    for (const Case& one : cases) {
      INFO(one.title);
      const Folder folder;
      folder.fill(one);
      const Run run = check(folder.options());
      for (const Complaint& complaint : run.complaints) {
        INFO(to_line(complaint));
        CHECK(complaint.is_note);
      }
      std::vector<Expected> open = one.expected;
      for (const Query& query : run.queries) {
        const Expected mark = found(run, query);
        INFO("unmarked: " << written(mark) << ": " << query.message);
        const auto meant = std::find_if(open.begin(), open.end(), [&](const Expected& expected) {
          return is_met(expected, mark);
        });
        CHECK(meant != open.end());
        if (meant != open.end()) open.erase(meant);
        check_query(run, query);
      }
      for (const Expected& mark : open) {
        INFO("missing: " << written(mark) << " \"" << mark.text << "\"");
        CHECK(false);
      }
    }
  }
}

TEST_CASE("on an empty ledger no case has a query that needs evidence") {
  for (const fs::path& path : case_files()) {
    INFO(path.filename().string());
    for (Case one : tailproof::testing::read_cases(text_of(path))) {
      INFO(one.title);
      one.ledger.clear();
      const Folder folder;
      folder.fill(one);
      const Run run = check(folder.options());
      for (const Query& query : run.queries) {
        INFO(query.check << ": " << query.message);
        CHECK_FALSE(needs_evidence(query.check));
      }
    }
  }
}

TEST_CASE("every case file holds its check, a silent case, and the first case is on the page") {
  for (const fs::path& path : case_files()) {
    const std::string id = path.stem().string();
    INFO(id);
    const std::vector<Case> cases = tailproof::testing::read_cases(text_of(path));
    // Named for what they are about, and not for a check.
    if (id == "briefly-told" || id == "gapped-lists" || id == "marking-fates" ||
        id == "one-fault-one-query" || id == "people-beside" || id == "turns" ||
        id == "year-serials" || id.starts_with("told-"))
      continue;
    std::set<std::string> levels;
    bool has_silent = false;
    for (const Case& one : cases) {
      has_silent = has_silent || one.expected.empty();
      for (const Expected& mark : one.expected) {
        if (mark.check == id) levels.insert((mark.stetted ? "stetted " : "") + mark.level);
      }
    }
    CHECK(has_silent);
    CHECK_FALSE(levels.empty());
    const Folder folder;
    folder.fill(cases.front());
    const Run run = check(folder.options());
    REQUIRE_FALSE(run.queries.empty());
    CHECK(page_of_check(id).find(run.queries.front().message) != std::string_view::npos);
  }
}

#include "run/paths.h"

#include <unistd.h>

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>

namespace tailproof {

namespace fs = std::filesystem;

namespace {

class Tree {
 public:
  Tree() {
    std::string name = (fs::temp_directory_path() / "tailproof-paths-XXXXXX").string();
    REQUIRE(mkdtemp(name.data()) != nullptr);
    top_ = name;
  }
  ~Tree() {
    std::error_code error;
    fs::permissions(top_ / "locked", fs::perms::owner_all, error);
    fs::remove_all(top_, error);
  }
  Tree(const Tree&) = delete;
  Tree& operator=(const Tree&) = delete;

  void add(const std::string& path) const {
    fs::create_directories((top_ / path).parent_path());
    std::ofstream(top_ / path) << "x";
  }
  [[nodiscard]] fs::path path(const std::string& path) const { return top_ / path; }
  /// Files found, without the folder's own path.
  [[nodiscard]] std::vector<std::string> found(const std::vector<std::string>& paths,
                                               Complaints& complaints) const {
    std::vector<std::string> full;
    for (const std::string& path : paths) {
      full.push_back((top_ / path).string());
    }
    std::vector<std::string> files;
    for (const std::string& file : expand_paths(full, complaints)) {
      files.push_back(fs::path(file).lexically_relative(top_).string());
    }
    return files;
  }

 private:
  fs::path top_;
};

}  // namespace

TEST_CASE("a folder gives its manuscripts by name, files and folders alike") {
  const Tree tree;
  for (const char* path : {"m/b.md", "m/a/2.TXT", "m/a/1.dbk", "m/c.csv", "m/B.xml", "m/d.png",
                           "m/stets.csv", "m/.x.md", "m/.h/x.md", "m/l/ledger.toml", "m/l/x.csv"}) {
    tree.add(path);
  }
  Complaints complaints;
  CHECK(tree.found({"m"}, complaints) ==
        std::vector<std::string>{"m/B.xml", "m/a/1.dbk", "m/a/2.TXT", "m/b.md", "m/c.csv"});
  CHECK(complaints.empty());
}

TEST_CASE("a folder of too many folders is said to be one, and what was reached is given") {
  const Tree tree;
  tree.add("m/0.md");
  for (std::size_t i = 0; i < kMostFolders; ++i)
    fs::create_directory(tree.path("m/" + std::to_string(i) + "d"));
  tree.add("n/a.md");
  Complaints complaints;
  CHECK(tree.found({"m"}, complaints) == std::vector<std::string>{"m/0.md"});
  REQUIRE(complaints.size() == 1);
  CHECK(complaints.front().file == tree.path("m").string());
  CHECK(complaints.front().message ==
        "more than 10000 folders; the rest is not read: name the folders that hold manuscripts");
}

TEST_CASE("a file named twice is given once, where it is named first") {
  const Tree tree;
  tree.add("m/a.md");
  tree.add("m/b.md");
  fs::create_symlink(tree.path("m/a.md"), tree.path("m/z.md"));
  Complaints complaints;
  CHECK(tree.found({"m/b.md", "m", "m/a.md"}, complaints) ==
        std::vector<std::string>{"m/b.md", "m/a.md"});
  CHECK(complaints.empty());
}

TEST_CASE("a link back up is walked once") {
  const Tree tree;
  tree.add("m/a.md");
  fs::create_directory_symlink(tree.path("m"), tree.path("m/up"));
  Complaints complaints;
  CHECK(tree.found({"m"}, complaints) == std::vector<std::string>{"m/a.md"});
}

TEST_CASE("a file is taken by name whatever its ending, a missing one complained of") {
  const Tree tree;
  tree.add("notes");
  Complaints complaints;
  CHECK(tree.found({"notes", "gone.md"}, complaints) == std::vector<std::string>{"notes"});
  REQUIRE(complaints.size() == 1);
  CHECK(complaints[0].message == "no such file or folder");
  CHECK(complaints[0].file == tree.path("gone.md").string());
}

TEST_CASE("a folder that cannot be read is complained of, the rest is given") {
  if (geteuid() == 0) {
    WARN("skipped: to root every folder is readable");
    return;
  }
  const Tree tree;
  tree.add("locked/a.md");
  tree.add("m.md");
  fs::permissions(tree.path("locked"), fs::perms::none);
  Complaints complaints;
  CHECK(tree.found({"locked", "m.md"}, complaints) == std::vector<std::string>{"m.md"});
  REQUIRE(complaints.size() == 1);
  CHECK(complaints[0].message.starts_with("folder cannot be read: "));
}

TEST_CASE("a folder without manuscripts is complained of, a ledger too") {
  const Tree tree;
  tree.add("pictures/a.png");
  tree.add("ledger/ledger.toml");
  tree.add("ledger/units.csv");
  Complaints complaints;
  CHECK(tree.found({"pictures", "ledger"}, complaints).empty());
  CHECK(complaints.size() == 2);
}

}  // namespace tailproof

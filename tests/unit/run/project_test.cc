#include "run/project.h"

#include <catch2/catch.hpp>
#include <filesystem>

#include "unit/ledger/temp_ledger.h"

namespace tailproof {

namespace fs = std::filesystem;

namespace {

Project read(TempLedger& folder, const std::string& text, Complaints& complaints) {
  folder.file("tailproof.toml", text);
  const Result<Project> project = read_project(folder.path("tailproof.toml"), complaints);
  REQUIRE(project.has_value());
  return project.value();
}

}  // namespace

TEST_CASE("a project file names everything that a check needs, from its own folder") {
  TempLedger folder;
  Complaints complaints;
  const Project project =
      read(folder,
           "manuscripts = [\"book\", \"plates.csv\"]\nledger = \"../evidence\"\n"
           "grammars = [\"words\"]\nlanguage = \"en\"\nat_least = \"error\"\n"
           "encoding = \"windows-1252\"\nonly = [\"a\"]\nskip = [\"b\"]\n"
           "[levels]\nrank-disagrees = \"note\"\nhedge-missing = \"off\"\n"
           "[margins]\nmonth = \"P2W\"\n",
           complaints);
  CHECK(complaints.empty());
  CHECK(project.manuscripts ==
        std::vector<std::string>{folder.path("book"), folder.path("plates.csv")});
  CHECK(project.ledger == (fs::path(folder.path()).parent_path() / "evidence").string());
  CHECK(project.grammars == std::vector<std::string>{folder.path("words")});
  CHECK(project.at_least == "error");
  CHECK(project.encoding == "windows-1252");
  CHECK(project.levels.at("hedge-missing") == "off");
  CHECK(project.margins.month == Day{14});
  CHECK_FALSE(project.margins.day.has_value());
}

TEST_CASE("what is said already goes before the project, and grammars add up") {
  Project project;
  project.ledger = "theirs";
  project.manuscripts = {"book"};
  project.skip = {"b"};
  project.grammars = {"words"};
  project.language = "de";
  RunOptions options;
  options.ledger = "mine";
  options.grammars = {"more"};
  fill_in(options, project);
  CHECK(options.ledger == "mine");
  CHECK(options.paths == std::vector<std::string>{"book"});
  CHECK(options.skip == std::vector<std::string>{"b"});
  CHECK(options.grammars == std::vector<std::string>{"words", "more"});
  CHECK(options.language == "de");
}

TEST_CASE("a bad value is complained of with its line, and the rest counts") {
  TempLedger folder;
  Complaints complaints;
  const Project project = read(folder,
                               "ledger = 4\nat_least = \"fatal\"\nskip = \"x\"\nledgre = \"l\"\n"
                               "plugins = [\"evil.so\"]\nlanguage = \"en\"\n"
                               "[levels]\nrank-disagrees = \"loud\"\n[margins]\nday = \"soon\"\n",
                               complaints);
  CHECK(project.language == "en");
  CHECK(project.levels.empty());
  CHECK(project.at_least.empty());
  REQUIRE(complaints.size() == 7);
  int notes = 0;
  for (const Complaint& complaint : complaints) {
    CHECK(complaint.line > 0);
    notes += complaint.is_note ? 1 : 0;
  }
  CHECK(notes == 2);
  Complaints more;
  folder.file("tailproof.toml", "ledger = [\n");
  CHECK_FALSE(read_project(folder.path("tailproof.toml"), more).has_value());
  CHECK_FALSE(read_project(folder.path("gone.toml"), more).has_value());
}

TEST_CASE("the nearest project file upward is the one") {
  TempLedger folder;
  fs::create_directories(folder.path("book/part"));
  folder.file("book/part/x.md", "x");
  const auto found = [&](const std::string& path) {
    const std::string file = find_project(folder.path(path));
    return file.empty() ? file : fs::canonical(file).string();
  };
  const std::string top = fs::canonical(folder.path()).string();
  CHECK(found("book/part/x.md").empty());
  folder.file("tailproof.toml", "");
  CHECK(found("book/part/x.md") == top + "/tailproof.toml");
  CHECK(found("book/part") == top + "/tailproof.toml");
  CHECK(found("") == top + "/tailproof.toml");
  folder.file("book/tailproof.toml", "");
  CHECK(found("book/part/x.md") == top + "/book/tailproof.toml");
  CHECK(found("book/part/not_there.md") == top + "/book/tailproof.toml");
}

}  // namespace tailproof

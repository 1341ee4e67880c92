// The demo's DocBook files against the RELAX NG schema of DocBook 5.0 (OASIS), as Debian's package
// docbook5-xml installs it, by xmllint of libxml2.
#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <string>
#include <vector>

#include "program.h"

namespace tailproof {
namespace {

namespace fs = std::filesystem;

const std::string kSchema = "/usr/share/xml/docbook/schema/rng/5.0/docbook.rng";

Outcome validate(const fs::path& file) {
  return run_shell("xmllint --noout --nonet --relaxng '" + kSchema + "' '" + file.string() + "'",
                   file.parent_path());
}

}  // namespace

TEST_CASE("the demo's DocBook is valid by the schema of DocBook 5.0") {
  if (!fs::exists(kSchema) || run_shell("command -v xmllint", "/").status != 0) {
    WARN("skipped: xmllint or " << kSchema << " is not installed (libxml2-utils, docbook5-xml)");
    return;
  }
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(TAILPROOF_TOP "/demo_manuscripts/book")) {
    if (entry.path().extension() == ".xml") files.push_back(entry.path());
  }
  std::sort(files.begin(), files.end());
  REQUIRE_FALSE(files.empty());
  const Folder folder;
  for (const fs::path& file : files) {
    const Outcome outcome = validate(file);
    INFO(outcome.err);
    CHECK(outcome.status == 0);

    // The schema does refuse what it ought to: an element of no such name.
    std::string text = read_file(file);
    const std::size_t at = text.find("<para>");
    REQUIRE(at != std::string::npos);
    folder.with("broken.xml", text.insert(at, "<paragraph>no such element</paragraph>"));
    CHECK(validate(folder.path() / "broken.xml").status != 0);
  }
}

}  // namespace tailproof

// The DocBook that the program writes against the RELAX NG schema of DocBook 5.0 (OASIS), as
// Debian's package docbook5-xml installs it, by jing (James Clark's validator, Debian's package).
#include <catch2/catch.hpp>
#include <filesystem>
#include <string>

#include "program.h"

namespace tailproof {
namespace {

const std::string kSchema = "/usr/share/xml/docbook/schema/rng/5.0/docbook.rng";

Outcome validate(const Folder& folder, const std::string& file) {
  return folder.run("jing '" + kSchema + "' '" + file + "'");
}

}  // namespace

TEST_CASE("indexes and appendices that the program writes are valid DocBook 5.0") {
  if (!std::filesystem::exists(kSchema) || run_shell("command -v jing", "/").status != 0) {
    WARN("skipped: jing or " << kSchema << " is not installed (jing, docbook5-xml)");
    return;
  }
  const Folder folder;
  const std::string demo = TAILPROOF_TOP "/demo_manuscripts";
  const std::string on_demo =
      " --ledger '" + demo + "/ledger' '" + demo + "/book' --format docbook ";
  folder
      .with("odd.txt",
            "Fig. 1. <b>OB101</b> & \"x\" \x07 \xE2\x80\xAE at A&B Strip, 3 June 1941.\n")
      .with("ledger/ledger.toml", "[[serial_form]]\npattern = 'OB(\\d{3})'\nserial = 'OB\\1'\n")
      .with("ledger/airframes.csv", "serial,type,fate\nOB101,Sallow,\"burnt & <sunk> \x01\"\n");
  CHECK(folder.run("tailproof concordance" + on_demo + "--output index.xml").status == 0);
  CHECK(folder.run("tailproof history GD-2109" + on_demo + "--output appendix.xml").status == 0);
  CHECK(
      folder.run("tailproof concordance odd.txt --ledger ledger --format docbook --output odd.xml")
          .status == 0);
  CHECK(folder
            .run("tailproof history OB101 odd.txt --ledger ledger --format docbook --output "
                 "oddest.xml")
            .status == 0);
  for (const char* file : {"index.xml", "appendix.xml", "odd.xml", "oddest.xml"}) {
    const Outcome outcome = validate(folder, file);
    INFO(file << ": " << outcome.out << outcome.err);
    CHECK(outcome.status == 0);
  }
  // The schema does refuse what it ought to.
  std::string text = read_file(folder.path() / "index.xml");
  text.replace(text.find("<primaryie>"), 11, "<primaryix>");
  text.replace(text.find("</primaryie>"), 12, "</primaryix>");
  folder.with("broken.xml", text);
  CHECK(validate(folder, "broken.xml").status != 0);
}

}  // namespace tailproof

// A compiled ledger gives the queries of the tables it was made of, byte for byte.
#include <catch2/catch.hpp>
#include <filesystem>
#include <string>

#include "program.h"

namespace tailproof {

namespace {

/// Checks the book with the folder and with the file made of it, in the formats that do not name
/// the ledger.
void check_same(const Folder& folder, const std::string& ledger, const std::string& book) {
  const Outcome made = folder.run("tailproof audit --no-project --compile made " + ledger);
  INFO(made.err);
  REQUIRE(made.status != 2);
  for (const std::string format : {"text", "jsonl"}) {
    const std::string check = "tailproof check --no-project --at-least note --format " + format +
                              " " + book + " --ledger ";
    const Outcome tables = folder.run(check + ledger);
    const Outcome file = folder.run(check + "made");
    INFO(format);
    REQUIRE(tables.status == 1);
    CHECK(file.err == tables.err);
    CHECK(file.out == tables.out);
    CHECK(file.status == tables.status);
    CHECK(folder.run(check + "made --jobs 1").out == tables.out);
  }
  for (const std::string verb :
       {"claims --format jsonl", "bracket --format csv", "concordance --format csv"}) {
    const std::string command = "tailproof " + verb + " --no-project " + book + " --ledger ";
    const Outcome tables = folder.run(command + ledger);
    INFO(verb);
    CHECK(tables.out.size() > 100);
    CHECK(folder.run(command + "made").out == tables.out);
  }
}

}  // namespace

TEST_CASE("the demo gives the same queries from its tables and from the compiled file") {
  const Folder folder;
  const std::string demo = std::string(TAILPROOF_TOP) + "/demo_manuscripts";
  check_same(folder, demo + "/ledger", demo + "/book");
}

TEST_CASE("so does a ledger that has no serial forms, and knows serials by the shape of its rows") {
  const Folder folder;
  folder.with("ledger/ledger.toml", "")
      .with("ledger/airframes.csv",
            "serial,type,taken_on_charge,struck_off_charge\nK-217,Sallow,1940,1944\n"
            "K-218,Sallow,1940,1944\nKL/1001,Sallow,1940,1944\nLady,Sallow,1941,1943\n")
      .with("book.md",
            "On 19 April 1943 K-998 had an accident.\n\n"
            "![Fig. 1. K-998 after the accident of 9 April 1943, K217 behind.](a.jpg)\n\n"
            "![Fig. 2. KL/1002 and K218 at the gate, May 1947.](b.jpg)\n");
  check_same(folder, "ledger", "book.md");
}

TEST_CASE("so does the book of the README") {
  const Folder folder;
  const std::string world = std::string(TAILPROOF_TOP) + "/tests/readme/";
  check_same(folder, world + "ledger", world + "chapter.md");
}

TEST_CASE("and so do the books for practice") {
  const std::string shared = std::string(TAILPROOF_TOP) + "/../shared/practice";
  if (!std::filesystem::exists(shared)) {
    WARN("skipped: no books for practice beside the project");
    return;
  }
  for (const std::string book : {"one", "two"}) {
    const Folder folder;
    check_same(folder, shared + "/" + book + "/ledger", shared + "/" + book + "/manuscripts");
  }
}

TEST_CASE("of a large ledger the words, ranges, counts and slips of the pen find their rows") {
  const Folder folder;
  std::string airframes = "serial,type,mark,taken_on_charge,struck_off_charge,source\n";
  std::string identities = "serial,identity,kind,from,to\n";
  std::string histories = "serial,from,to,kind,role,unit,source\n";
  std::string photographs = "photograph,depicts,taken\n";
  for (int i = 0; i < 3000; ++i) {
    const std::string serial = "QX" + std::to_string(1000 + i);
    airframes += serial + (i % 3 == 0 ? ",Orrel,Mk I," : ",Tessel,Mk II,") + "1941-0" +
                 std::to_string(1 + i % 9) + ",1944,Card " + std::to_string(i) + "\n";
    identities += serial + ",K" + std::to_string(i / 26) + "-" + static_cast<char>('A' + i % 26) +
                  ",code,1941-06,\n";
    if (i % 100 == 0) identities += serial + ",A" + std::to_string(i) + ",previous_serial,,\n";
    histories += serial + ",1941-06,1943-06,allotted,holder," + (i % 2 == 0 ? "3" : "4") +
                 " Flight,Card " + std::to_string(i) + "\n";
    if (i % 50 == 0) {
      photographs += "RP " + std::to_string(i) + "," + serial + ",1942-0" +
                     std::to_string(1 + i / 50 % 9) + "\n";
    }
  }
  folder
      .with("big/ledger.toml",
            "title = \"Big\"\n[[serial_form]]\npattern = 'QX[ -]?(\\d{4})'\nserial = 'QX\\1'\n"
            "closed = [\"QX1000..QX3999\"]\n[[serial_form]]\npattern = '(\\d{4})'\n"
            "serial = 'QX\\1'\nwhere = \"tail\"\n")
      .with("big/airframes.csv", airframes)
      .with("big/identities.csv", identities)
      .with("big/histories.csv", histories)
      .with("big/photographs.csv", photographs)
      .with("big/units.csv", "unit,kind\n3 Flight,flight\n4 Flight,flight\n")
      .with("big/types.csv", "type\nOrrel\nTessel\n")
      .with("book.md",
            "# The Orrels\n\n"
            "![Fig. 1. Orrel QX1001 of 4 Flight, June 1942.](a.jpg)\n\n"
            "![Fig. 2. QX1200 to QX1209, ten Tessels of 3 Flight, in May 1942.](b.jpg)\n\n"
            "![Fig. 3. K5-C of 4 Flight in 1942. RP 2100](RP-2100.jpg)\n\n"
            "![Fig. 4. Tail 1777, an Orrel, in May 1945.](c.jpg)\n\n"
            "QX4001 was the last of 1,000 Orrels. The first of 900 Orrels was QX1000. "
            "A1100, later QX2100, was with 4 Flight in 1942.\n\n"
            "![Fig. 5. QX1500 and K1-A, Tessels, photographed in 1940.](RP 1500.jpg)\n");
  check_same(folder, "big", "book.md");
}

TEST_CASE("a ledger that is complained of is not compiled, and what was there stays") {
  const Folder folder;
  folder.with("ledger/ledger.toml", "title = \"x\"\n")
      .with("ledger/airframes.csv", "serial,taken_on_charge\nQX1,spring\n")
      .with("made", "before");
  const Outcome bad = folder.run("tailproof audit --compile made ledger");
  CHECK(bad.status == 2);
  CHECK(bad.err.find("is not compiled") != std::string::npos);
  CHECK(read_file(folder.path() / "made") == "before");
  folder.with("ledger/airframes.csv", "serial,taken_on_charge\nQX1,1942\n");
  CHECK(folder.run("tailproof audit --compile ledger/airframes.csv ledger").status == 2);
  CHECK(folder.run("tailproof audit --compile made ledger").status == 0);
  const Outcome again = folder.run("tailproof audit --compile other made");
  CHECK(again.status == 2);
  CHECK(again.err.find("compiled already") != std::string::npos);
  CHECK(folder.run("tailproof audit made").status == 0);
}

}  // namespace tailproof

// Past every limit stands a clear line, exit status 2, and the report on all the rest. The table of
// limits is in DEVELOPERS.md.
#include <catch2/catch.hpp>
#include <chrono>
#include <filesystem>
#include <string>

#include "faults.h"

namespace tailproof::hostile {

namespace fs = std::filesystem;

namespace {

std::string repeated(const std::string& text, std::size_t count) {
  std::string all;
  for (std::size_t i = 0; i < count; ++i) all += text;
  return all;
}

const std::string kDate = "<para>31 June 1941</para>";

/// Checks a folder `book` that has a good.md with one error beside what is past the limit.
void require_line(const Folder& folder, const std::string& line) {
  folder.with("book/good.md", kBad);
  const Outcome outcome = folder.run("timeout 60 tailproof check --ledger " + kLedger + " book");
  INFO(outcome.err.substr(0, 400));
  CHECK(outcome.status == 2);
  CHECK(has(outcome.err, line));
  CHECK(has(outcome.out, "book/good.md:1:47: error"));
}

}  // namespace

TEST_CASE("elements nest 400 deep") {
  const Folder folder;
  folder.with("book/deep.xml", "<article>" + repeated("<section>", 50000) + kDate +
                                   repeated("</section>", 50000) + kDate + "</article>");
  folder.with("book/inline.xml", "<article><para>" + repeated("<emphasis>", 50000) +
                                     repeated("</emphasis>", 50000) + "</para>" + kDate +
                                     "</article>");
  require_line(folder, "book/deep.xml:1:3601: elements nest deeper than 400 here");
  const Outcome within = folder.run("tailproof check book");
  CHECK(has(within.err, "book/inline.xml:1:"));
  CHECK(has(within.out, "book/deep.xml"));
  CHECK(has(within.out, "book/inline.xml"));

  const Folder shallow;
  shallow.with("x.xml", "<article>" + repeated("<section>", 390) + kDate +
                            repeated("</section>", 390) + "</article>");
  CHECK(shallow.run("tailproof check x.xml").status == 1);
}

TEST_CASE("Markdown, HTML in it, TOML and JSON may nest as they like, or are refused") {
  const Folder folder;
  folder.with("quotes.md", repeated("> ", 20000) + "31 June 1941\n");
  folder.with("stars.md", repeated("*", 50000) + "x" + repeated("*", 50000) + "\n\n" + kBad);
  folder.with("brackets.md", repeated("[", 50000) + "x" + repeated("](a)", 50000) + "\n\n" + kBad);
  folder.with("html.md", repeated("<div>\n", 20000) + "\n\n" + kBad);
  folder.with("tables.md", repeated("<table><tr><td>", 20000) + "\n\n" + kBad);
  for (const char* file : {"quotes.md", "stars.md", "brackets.md", "html.md", "tables.md"}) {
    INFO(file);
    CHECK(folder.run(std::string("timeout 60 tailproof check ") + file).status == 1);
  }
  folder.with("l/ledger.toml", "closed = " + repeated("[", 100000));
  folder.with("p.toml", "only = " + repeated("[", 100000));
  folder.with("since.sarif", repeated("{\"runs\":[", 100000));
  folder.with("g/g.toml", "[lists.a]\nwords = " + repeated("[", 100000));
  for (const char* options :
       {"--ledger l", "--project p.toml", "--since since.sarif", "--grammar g"}) {
    INFO(options);
    const Outcome outcome =
        folder.run("timeout 60 tailproof check " + std::string(options) + " html.md");
    CHECK(outcome.status == 2);
    CHECK(has(outcome.err, "tailproof: "));
  }
}

TEST_CASE("entities expand to 8 MiB, whichever way") {
  const Folder folder;
  std::string bomb = "<!DOCTYPE article [<!ENTITY a0 \"0123456789\">";
  for (int i = 1; i < 12; ++i) {
    const std::string inner = "&a" + std::to_string(i - 1) + ";";
    bomb += "<!ENTITY a" + std::to_string(i) + " \"" + repeated(inner, 10) + "\">";
  }
  folder.with("book/bomb.xml", bomb + "]><article><para>&a11;</para>" + kDate + "</article>");
  folder.with("book/wide.xml", "<!DOCTYPE article [<!ENTITY a \"" + repeated("x", 100000) +
                                   "\">]><article><para>" + repeated("&a;", 200) + "</para>" +
                                   kDate + "</article>");
  require_line(folder, "book/bomb.xml:1:");
  const Outcome outcome = folder.run("tailproof check book");
  CHECK(has(outcome.err, "entities expand to more than 8 MiB at &"));
  CHECK(has(outcome.out, "book/bomb.xml"));
  CHECK(has(outcome.out, "book/wide.xml"));
}

TEST_CASE("inclusions are 10,000 in all, and as deep as elements") {
  const std::string include = "<xi:include xmlns:xi=\"http://www.w3.org/2001/XInclude\" href=\"";
  const Folder many;
  many.with("book/part.txt", "x");
  many.with("book/many.xml", "<article><para>" +
                                 repeated(include + "part.txt\" parse=\"text\"/> ", 10001) +
                                 "</para>" + kDate + "</article>");
  require_line(many, "more than 10,000 inclusions; \"part.txt\" and later ones are not read");

  const Folder chain;
  for (int i = 0; i < 500; ++i) {
    const std::string next = std::to_string(i + 1);
    chain.with("book/c" + std::to_string(i) + ".xml",
               "<section>" + kDate + include + "c" + next + ".xml\"/></section>");
  }
  chain.with("book/c500.xml", "<section>" + kDate + "</section>");
  const Outcome outcome = chain.run("timeout 60 tailproof check book/c0.xml");
  CHECK(outcome.status == 2);
  CHECK(has(outcome.err, "elements nest deeper than 400 here"));
  CHECK(has(outcome.out, "book/c100.xml"));
}

TEST_CASE("a file has less than 4 GiB, a pipe at most 512 MiB") {
  const Folder folder;
  folder.with("book/huge.txt", "x");
  fs::resize_file(folder.path() / "book/huge.txt", 0xFFFF'FFFF);  // takes no room on the disk
  require_line(folder, "book/huge.txt: has 4 GiB or more; split it");
  const Outcome piped =
      folder.run("head -c 600000000 /dev/zero | timeout 120 tailproof check book/good.md -");
  CHECK(piped.status == 2);
  CHECK(has(piped.err, "-: gives more than 512 MiB; put it into files, and split it"));
  CHECK(has(piped.out, "book/good.md:1:47: error"));
}

TEST_CASE("a caption has 128 KiB, a paragraph 1 MiB") {
  const std::string sentence = "Sallow OB202 of 2 Squadron stood at Hesk. ";
  const Folder folder;
  folder.with("book/caption.md",
              "![Fig. 2. Hesk, 31 June 1942. " + repeated(sentence, 5000) + "](a.jpg)\n");
  folder.with("book/list.csv", "figure,caption\n3,\"31 June 1943. " + repeated(sentence, 5000) +
                                   "\"\n4,31 June 1944\n");
  require_line(folder,
               "book/caption.md:1:1: this caption has more than 128 KiB of text; what stands "
               "behind that is not read; split it");
  const Outcome outcome = folder.run("tailproof check book");
  for (const char* date : {"31 June 1942", "31 June 1943", "31 June 1944"}) {
    CHECK(has(outcome.out, date));
  }
  CHECK(has(outcome.err, "book/list.csv:2:"));

  const Folder prose;
  prose.with("book/one.txt",
             "It was 31 June 1942. " + repeated("so it went on \xE2\x80\x93 ", 80000));
  require_line(prose, "book/one.txt:1:1: this body has more than 1 MiB of text");
  prose.with("whole.txt", "On 31 June 1942 " + repeated("it went on and on. ", 40000));
  CHECK(prose.run("tailproof check whole.txt").status == 1);
}

TEST_CASE("a range of serials costs nothing for its size, and numbers have 18 digits") {
  const Folder folder;
  folder.with(
      "range.md",
      "![Fig. 1. Sallows OB202 to OB999999999, OB1-OB99999999999999999999999, "
      "OB202/0 to OB202/4294967296 and 1-18446744073709551616 at Hesk, 31 June 1941.](a.jpg)\n");
  const Outcome outcome =
      folder.run("timeout 20 tailproof check --ledger " + kLedger + " range.md");
  CHECK(outcome.status == 1);
  CHECK(has(outcome.out, "31 June 1941"));
  const auto closed = [&](const std::string& range) {
    folder.with(
        "l/ledger.toml",
        "[[serial_form]]\npattern = 'Q(\\d+)'\nserial = 'Q\\1'\nclosed = [\"" + range + "\"]\n");
    return folder.run("timeout 20 tailproof check --ledger l range.md");
  };
  CHECK(closed("Q1..Q999999999999999999").status == 1);
  const Outcome refused = closed("Q1..Q9999999999999999999");
  CHECK(refused.status == 2);
  CHECK(has(refused.err, "has a number of more than 18 digits"));
}

TEST_CASE("claims are as many as memory holds, and then there is a line") {
  const Folder folder;
  folder.with("many.md",
              repeated("![Fig. 1. Sallow OB202 at Hesk, 1 June 1941.](a.jpg)\n\n", 20000));
  const Outcome outcome =
      folder.run("ulimit -v 70000; timeout 60 tailproof check --ledger " + kLedger + " many.md");
  CHECK(outcome.status == 2);
  CHECK(outcome.out.empty());
  CHECK(has(outcome.err, "tailproof: out of memory; check fewer files at a time"));
}

TEST_CASE("a pattern of a grammar that grows without measure is refused") {
  const Folder folder;
  folder.with("x.md", kBad);
  folder.with("g/g.toml",
              "[[pattern]]\nkind = \"unit\"\nname = \"n\"\nstarts = [\"@any\"]\n"
              "match = '((x{1000}){1000}){1000}'\n");
  const Outcome outcome = folder.run("timeout 60 tailproof check --grammar g x.md");
  CHECK(outcome.status == 2);
  CHECK(has(outcome.err, "g/g.toml"));
  CHECK(has(outcome.out, "31 June 1941"));
}

TEST_CASE("folders nest as deep as the system lets them") {
  const Folder folder;
  fs::path deep = "book";
  for (int i = 0; i < 800; ++i) deep /= "d";
  folder.with((deep / "x.md").string(), kBad);
  const Outcome outcome = folder.run("timeout 60 tailproof check book");
  CHECK(outcome.status == 1);
  CHECK(has(outcome.out, "/d/x.md:1:47: error"));
}

}  // namespace tailproof::hostile

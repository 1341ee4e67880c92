// The table of columns against the page that authors read.
#include "ledger/columns.h"

#include <catch2/catch.hpp>
#include <cctype>
#include <fstream>
#include <sstream>

#include "ledger/tables.h"

namespace tailproof {
namespace {

std::string page() {
  std::ifstream file(TAILPROOF_TOP "/src/ledger/tables.md");
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

bool is_word_in(const std::string& text, std::string_view word) {
  const auto is_part = [](char c) {
    return std::isalnum(static_cast<unsigned char>(c)) || c == '_';
  };
  for (std::size_t at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) {
    const bool begins = at == 0 || !is_part(text[at - 1]);
    const std::size_t end = at + word.size();
    if (begins && (end == text.size() || !is_part(text[end]))) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("tables.md has a section for every table, and in it every column and word") {
  const std::string text = page();
  REQUIRE_FALSE(text.empty());
  LedgerTables tables;
  int count = 0;
  for_each_table(tables, [&]<typename Row>(const std::vector<Row>&) {
    ++count;
    const std::string head = "## " + std::string(kTable<Row>.name) + ".csv\n";
    INFO(head);
    const std::size_t begin = text.find(head);
    REQUIRE(begin != std::string::npos);
    const std::string section = text.substr(begin + head.size(), text.find("\n## ", begin) - begin);
    for (const Column<Row>& column : kTable<Row>.columns) {
      INFO(column.name);
      CHECK(is_word_in(section, column.name));
      const bool is_bold =
          section.find("**" + std::string(column.name) + "**") != std::string::npos;
      CHECK(is_bold == (column.need != Need::kOptional));
      for (const std::string_view word : column.words) {
        INFO(word);
        CHECK(section.find("`" + std::string(word) + "`") != std::string::npos);
      }
    }
  });
  CHECK(count == 16);
}

TEST_CASE("every column has one place for its cells, every table one key at most") {
  LedgerTables tables;
  for_each_table(tables, []<typename Row>(const std::vector<Row>&) {
    int unique = 0;
    for (const Column<Row>& column : kTable<Row>.columns) {
      INFO(kTable<Row>.name << "." << column.name);
      CHECK((column.text != nullptr) + (column.list != nullptr) + (column.date != nullptr) +
                (column.spell_end != nullptr) + (column.assign != nullptr) ==
            1);
      unique += column.need == Need::kUnique;
      if (column.need == Need::kUnique) CHECK(column.text != nullptr);
    }
    CHECK(unique <= 1);
  });
}

}  // namespace tailproof

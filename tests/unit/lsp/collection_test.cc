#include "lsp/collection.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <random>
#include <string>
#include <vector>

#include "report/report.h"
#include "talk.h"

using namespace tailproof;
using namespace tailproof::lsp;

namespace fs = std::filesystem;

namespace {

/// A collection under edit, and beside it one that reads and checks everything each time.
class Desk {
 public:
  Desk(const std::string& ledger, const std::string& folder) {
    for (const auto& entry : fs::directory_iterator(folder)) {
      if (!entry.is_regular_file()) continue;
      const std::string path = entry.path().string();
      if (entry.path().filename() != "stets.csv") files_.push_back(path);
      Document& document = documents_[path];
      document.uri = uri_of_path(path);
      document.path = path;
      document.set_text(Talk::file_text(path));
      texts_.push_back(path);
    }
    std::sort(files_.begin(), files_.end());
    std::sort(texts_.begin(), texts_.end());
    CollectionOptions options;
    options.run.ledger = ledger;
    edited_ = std::make_unique<Collection>(options, documents_);
    fresh_ = std::make_unique<Collection>(options, documents_);
    edited_->set_files(files_);
    edited_->refresh();
  }

  /// Documents that may be edited, stets.csv among them.
  [[nodiscard]] std::size_t count() const { return texts_.size(); }
  [[nodiscard]] const std::string& text(std::size_t document) const {
    return documents_.at(texts_[document]).text;
  }
  [[nodiscard]] const std::string& path(std::size_t document) const { return texts_[document]; }

  void edit(std::size_t document, std::size_t at, std::size_t length, const std::string& words) {
    documents_.at(texts_[document])
        .replace(static_cast<std::uint32_t>(at), static_cast<std::uint32_t>(at + length), words);
    edited_->text_changed(texts_[document]);
    edited_->refresh();
  }

  void require_same() {
    fresh_->set_files({});
    fresh_->set_files(files_);
    fresh_->refresh();
    const std::vector<std::string> wanted = lines_of(fresh_->run());
    const std::vector<std::string> got = lines_of(edited_->run());
    for (std::size_t i = 0; i < std::min(wanted.size(), got.size()); ++i) {
      REQUIRE(got[i] == wanted[i]);
    }
    REQUIRE(got.size() == wanted.size());
  }

  [[nodiscard]] const Run& run() const { return edited_->run(); }

 private:
  static std::vector<std::string> lines_of(const Run& run) {
    const ReportOptions everything{.at_least = Level::kNote, .with_stetted = true};
    std::vector<std::string> lines;
    std::string all = check_writer("jsonl")(run, everything);
    for (std::size_t begin = 0; begin < all.size();) {
      const std::size_t end = all.find('\n', begin);
      lines.push_back(all.substr(begin, end - begin));
      begin = end + 1;
    }
    for (const Query& query : run.queries) {
      std::string claims = query.check;
      for (const std::uint32_t claim : query.claims) claims += " " + std::to_string(claim);
      lines.push_back(claims);
    }
    for (const Complaint& complaint : run.complaints) lines.push_back(to_line(complaint));
    return lines;
  }

  Documents documents_;
  std::vector<std::string> files_, texts_;
  std::unique_ptr<Collection> edited_, fresh_;
};

/// Edits as people make them, and some that nobody makes.
void edit_at_random(Desk& desk, unsigned seed, int rounds) {
  std::mt19937 random(seed);
  const auto below = [&random](std::size_t bound) { return random() % bound; };
  const std::vector<std::string> pieces = {"\n\n",
                                           " ",
                                           "x",
                                           "3 May 1943",
                                           ", that October",
                                           "<!-- -->",
                                           "Fig. 3",
                                           "\n",
                                           ".",
                                           "|",
                                           "not",
                                           "probably ",
                                           "</para><para>",
                                           "# ",
                                           "![a](b.jpg)",
                                           "two weeks after Fig. 2"};
  const auto is_of_word = [](char c) { return c != ' ' && c != '\n'; };
  for (int round = 0; round < rounds; ++round) {
    const std::size_t document = below(desk.count());
    const std::string& text = desk.text(document);
    std::size_t at = below(text.size());
    std::size_t length = below(3) == 0 ? below(400) : below(2);
    std::string words = below(3) == 0 ? "" : pieces[below(pieces.size())];
    const std::size_t sort = below(4);
    if (sort == 0) words = text.substr(below(text.size()), 300);
    if (sort == 1) {
      // One word by another of the book: a serial, a name, a figure.
      const std::string& other = desk.text(below(desk.count()));
      std::size_t from = below(other.size());
      while (from > 0 && is_of_word(other[from - 1])) --from;
      std::size_t to = from;
      while (to < other.size() && is_of_word(other[to])) ++to;
      words = other.substr(from, to - from);
      while (at > 0 && is_of_word(text[at - 1])) --at;
      length = 0;
      while (at + length < text.size() && is_of_word(text[at + length])) ++length;
    }
    length = std::min(text.size() - at, length);
    INFO("seed " << seed << ", round " << round << ", " << desk.path(document) << ", at " << at
                 << ", " << length << " by " << words);
    desk.edit(document, at, length, words);
    desk.require_same();
  }
}

}  // namespace

TEST_CASE("any edit gives the queries that a check from the beginning gives") {
  struct Book {
    std::string ledger, folder;
  };
  const std::string top = TAILPROOF_TOP;
  const auto book = GENERATE_COPY(
      Book{top + "/demo_manuscripts/ledger", top + "/demo_manuscripts/book"},
      Book{top + "/tests/books/coast/ledger", top + "/tests/books/coast/manuscripts"},
      Book{top + "/tests/books/inland/ledger", top + "/tests/books/inland/manuscripts"},
      Book{top + "/tests/books/isles/ledger", top + "/tests/books/isles/manuscripts"},
      Book{top + "/tests/books/north/ledger", top + "/tests/books/north/manuscripts"});
  Desk desk(book.ledger, book.folder);
  INFO(book.folder);
  REQUIRE(desk.run().queries.size() >= 5);
  edit_at_random(desk, 9, 25);
}

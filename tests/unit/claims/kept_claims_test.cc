#include "claims/kept_claims.h"

#include <catch2/catch.hpp>
#include <random>
#include <string>
#include <utility>
#include <vector>

#include "claims/extract.h"
#include "ledger/reader.h"
#include "manuscript/readers.h"

using namespace tailproof;

namespace {

const Ledger& small_ledger() {
  static const Ledger kLedger = [] {
    Complaints complaints;
    Result<Ledger> read = read_ledger(TAILPROOF_TOP "/demo_manuscripts/ledger", complaints);
    return read ? std::move(read).value() : empty_ledger();
  }();
  return kLedger;
}

const Grammars& english() {
  static const Grammars kGrammars = [] {
    Complaints complaints;
    return Grammars::read({}, {TAILPROOF_TOP "/grammars/en"}, "en", complaints);
  }();
  return kGrammars;
}

/// Every field that tells one claim from another, and the numbers of others.
std::string shown(const Claim& claim) {
  std::string text;
  const auto add = [&text](const auto& value) {
    if constexpr (std::is_arithmetic_v<std::decay_t<decltype(value)>>) {
      text += std::to_string(value) + "|";
    } else {
      text += std::string(value) + "|";
    }
  };
  add(to_word(claim.kind));
  for (const std::uint32_t number :
       {claim.manuscript, claim.block, claim.begin, claim.end, claim.span.file, claim.span.begin,
        claim.span.end, claim.when.date, claim.event, claim.holder_of_rank,
        claim.relation->photograph.block, claim.relation->other.block}) {
    add(number);
  }
  for (const std::string& words :
       {std::string(claim.value), std::string(claim.subject), std::string(claim.role),
        std::string(claim.position), std::string(claim.of), std::string(claim.part),
        std::string(claim.text), claim.date.text(), Edtf::of_days(claim.when.days).text()}) {
    add(words);
  }
  for (const bool flag : {claim.negated, claim.hedged, claim.attributed, claim.shown,
                          claim.inherited, claim.known, claim.when.known}) {
    add(flag);
  }
  for (const DateEnd& end : claim.ends) {
    add(end.value);
    add(end.span.begin);
  }
  return text;
}

std::vector<std::string> shown(const std::vector<Claim>& claims) {
  std::vector<std::string> lines;
  for (const Claim& claim : claims) lines.push_back(shown(claim));
  return lines;
}

using Texts = std::vector<std::pair<std::string, std::string>>;  // name, text

/// Texts under edit, with their claims.
class Desk {
 public:
  explicit Desk(const Texts& texts) : kept_(small_ledger(), english()) {
    sources_.keep_files();
    for (const auto& [name, text] : texts) {
      REQUIRE(sources_.add(name, text));
      manuscripts_.push_back(read(name));
    }
    kept_.extract(manuscripts_, claims_);
  }

  Touched edit(std::uint32_t manuscript, std::size_t at, std::size_t length,
               const std::string& words) {
    std::string text(sources_.text(manuscript));
    text.replace(at, length, words);
    if (!sources_.replace(manuscript, text)) return {};
    Manuscript before = std::exchange(manuscripts_[manuscript], read(sources_.path(manuscript)));
    return kept_.update(manuscripts_, manuscript, before, claims_);
  }

  Touched replace(std::uint32_t manuscript, const std::string& words, const std::string& by) {
    const std::size_t at = sources_.text(manuscript).find(words);
    REQUIRE(at != std::string_view::npos);
    return edit(manuscript, at, words.size(), by);
  }

  void require_same() const {
    const std::vector<Claim> all = extract_claims(manuscripts_, small_ledger(), english());
    const auto wanted = shown(all);
    const auto got = shown(claims_);
    for (std::size_t i = 0; i < std::min(wanted.size(), got.size()); ++i) {
      REQUIRE(got[i] == wanted[i]);
    }
    REQUIRE(got.size() == wanted.size());
  }

  [[nodiscard]] std::string_view text(std::uint32_t manuscript) const {
    return sources_.text(manuscript);
  }
  [[nodiscard]] const std::vector<Claim>& claims() const { return claims_; }
  [[nodiscard]] const Manuscript& manuscript(std::uint32_t index) const {
    return manuscripts_[index];
  }

 private:
  Manuscript read(const std::string& name) {
    Complaints complaints;
    Result<Manuscript> manuscript = read_manuscript(sources_, name, {}, complaints);
    REQUIRE(manuscript);
    return std::move(manuscript).value();
  }

  Sources sources_;
  std::vector<Manuscript> manuscripts_;
  KeptClaims kept_;
  std::vector<Claim> claims_;
};

std::string book_of(const std::string& name) {
  Sources sources;
  const Result<FileId> file = sources.read(TAILPROOF_TOP "/demo_manuscripts/book/" + name);
  REQUIRE(file);
  return std::string(sources.text(file.value()));
}

Desk demo() {
  Texts texts;
  for (const char* name :
       {"01-chequers-and-boss.xml", "02-the-chain.md", "03-the-banks.txt", "plates.csv"}) {
    texts.emplace_back(name, book_of(name));
  }
  return Desk(texts);
}

}  // namespace

TEST_CASE("a letter typed into one block touches that block") {
  Desk desk = demo();
  desk.require_same();
  const std::size_t middle = desk.text(1).find(' ', desk.text(1).size() / 2);
  const Touched touched = desk.edit(1, middle, 0, "x");
  CHECK(touched.last_block - touched.first_block <= 3);
  desk.require_same();
}

TEST_CASE("a block typed at the end, and taken away again") {
  Desk desk = demo();
  const std::size_t size = desk.text(2).size();
  desk.edit(2, size, 0, "\n\nFig. 90. A parade at the end of June 1943.\n");
  desk.require_same();
  desk.edit(2, size, 46, "");
  desk.require_same();
}

TEST_CASE("what later blocks lean on is followed") {
  Desk desk(Texts{{"story.md",
                   "# 1943\n\nA parade on 3 May 1943 was the last.\n\nThat October it rained.\n\n"
                   "In November it rained again.\n\nNothing else.\n"}});
  const Touched touched = desk.replace(0, "3 May 1943", "3 May 1941");
  CHECK(touched.last_block >= 4);
  desk.require_same();
}

TEST_CASE("an empty text, and one that comes from nothing") {
  Desk desk(Texts{{"a.md", "Fig. 1. A parade in June 1943.\n"}, {"b.md", ""}});
  const std::size_t size = desk.text(0).size();
  desk.edit(0, 0, size, "");
  desk.require_same();
  CHECK(desk.claims().empty());
  desk.edit(1, 0, 0, "Fig. 2. A parade in July 1943, two weeks after Fig. 1.\n");
  desk.require_same();
  desk.edit(0, 0, 0, "Fig. 1. A parade in June 1943.\n\n");
  desk.require_same();
}

TEST_CASE("any edit of the demo gives what a reading from the beginning gives") {
  Desk desk = demo();
  std::mt19937 random(7);
  const auto below = [&random](std::size_t bound) { return random() % bound; };
  const std::vector<std::string> pieces = {
      "\n\n",        " ",           "x", "3 May 1943", ", that October", "<!-- -->",      "Fig. 3",
      "\n",          ".",           "|", "not",        "probably ",      "</para><para>", "# ",
      "![a](b.jpg)", "the same day"};
  for (int round = 0; round < 150; ++round) {
    const auto file = static_cast<std::uint32_t>(below(4));
    const std::string_view text = desk.text(file);
    const std::size_t at = below(text.size() + 1);
    const std::size_t length = std::min(text.size() - at, below(3) == 0 ? below(400) : below(2));
    std::string words = below(3) == 0 ? "" : pieces[below(pieces.size())];
    if (below(8) == 0) words = std::string(text.substr(below(text.size() + 1), 300));
    INFO("round " << round << ", file " << file << ", at " << at << ", " << length << " by "
                  << words);
    desk.edit(file, at, length, words);
    desk.require_same();
  }
}

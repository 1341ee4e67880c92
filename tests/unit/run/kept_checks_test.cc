#include "run/kept_checks.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "checks/registry.h"
#include "run/run.h"

using namespace tailproof;

namespace {

Run extracted(const std::string& ledger, const std::string& folder) {
  RunOptions options;
  options.ledger = TAILPROOF_TOP "/" + ledger;
  options.paths = {TAILPROOF_TOP "/" + folder};
  return extract(options);
}

/// Enough of a query to tell it from the others; its claims in the numbers of the whole.
std::string shown(const Query& query, const std::vector<std::uint32_t>& claims) {
  std::string text = std::string(query.check) + "|" + query.message + "|" + query.suggestion + "|" +
                     std::to_string(static_cast<int>(query.level)) + "|" +
                     std::to_string(query.span.file) + ":" + std::to_string(query.span.begin) +
                     "-" + std::to_string(query.span.end);
  for (const std::uint32_t claim : claims) text += " " + std::to_string(claim);
  for (const Evidence& row : query.evidence) text += "|" + row.says;
  for (const Related& related : query.related) {
    text += "|" + related.says + std::to_string(related.span.begin);
  }
  return text;
}

}  // namespace

TEST_CASE("a check that says that it sees a caption alone finds in it what it finds in the book") {
  const std::string folder = GENERATE(
      "demo_manuscripts/book", "tests/books/coast/manuscripts", "tests/books/inland/manuscripts",
      "tests/books/isles/manuscripts", "tests/books/north/manuscripts");
  const std::string ledger = folder.substr(0, folder.rfind('/')) + "/ledger";
  INFO(folder);
  const Run run = extracted(ledger, folder);
  const CheckInput whole{.manuscripts = run.manuscripts,
                         .claims = run.claims,
                         .ledger = run.ledger,
                         .stets = {},
                         .check_ids = {}};
  const FirstClaims first = first_claims(whole);
  std::vector<CaptionBlocks> captions;
  for (const Manuscript& manuscript : run.manuscripts) captions.emplace_back(manuscript);

  std::size_t seen = 0;
  Complaints complaints;
  for (const CheckInfo& check : known_checks({}, complaints)) {
    if (check.scope != CheckScope::kCaption) continue;
    std::vector<std::string> wanted, got;
    for (const Query& query : check.run(whole)) wanted.push_back(shown(query, query.claims));
    for (std::uint32_t m = 0; m < captions.size(); ++m) {
      for (std::uint32_t b = 0; b < captions[m].count(); ++b) {
        if (captions[m].owner(b) != b) continue;
        const Excerpt excerpt(whole, first, reach_of(whole, first, captions, {m, b}));
        for (const Query& query : check.run(excerpt.input())) {
          const BlockPlace place = excerpt.whole_place({query.manuscript, query.block});
          if (place.manuscript != m || captions[m].owner(place.block) != b) continue;
          std::vector<std::uint32_t> claims;
          for (const std::uint32_t claim : query.claims) {
            claims.push_back(excerpt.whole_claim(claim));
          }
          got.push_back(shown(query, claims));
        }
      }
    }
    std::sort(wanted.begin(), wanted.end());
    std::sort(got.begin(), got.end());
    INFO(check.id);
    CHECK(got == wanted);
    seen += wanted.size();
  }
  CHECK(seen >= 3);
}

// | situation                                 | level |
// | a stet that no query needed               | note  |
// | a stet that names no check there is       | note  |
#include <algorithm>
#include <string>
#include <vector>

#include "tailproof/verdict.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "stet-unused";

// How many letters to change, add or leave out to come from one word to the other.
std::size_t distance(std::string_view one, std::string_view other) {
  std::vector<std::size_t> row(other.size() + 1);
  for (std::size_t j = 0; j <= other.size(); ++j) row[j] = j;
  for (std::size_t i = 1; i <= one.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i;
    for (std::size_t j = 1; j <= other.size(); ++j) {
      const std::size_t above = row[j];
      const std::size_t change = one[i - 1] == other[j - 1] ? 0 : 1;
      row[j] = std::min({row[j] + 1, row[j - 1] + 1, diagonal + change});
      diagonal = above;
    }
  }
  return row.back();
}

std::string nearest(std::span<const std::string> ids, std::string_view wanted) {
  std::string best;
  std::size_t least = std::max<std::size_t>(3, wanted.size() / 2);
  for (const std::string& id : ids) {
    const std::size_t changes = distance(id, wanted);
    if (changes >= least) continue;
    least = changes;
    best = id;
  }
  return best;
}

}  // namespace

std::vector<Query> check_stet_unused(const CheckInput& input) {
  std::vector<Query> queries;
  for (const StetUse& stet : input.stets) {
    if (stet.uses > 0) continue;
    const bool is_known = std::find(input.check_ids.begin(), input.check_ids.end(), stet.check) !=
                          input.check_ids.end();
    Query query;
    query.check = kId;
    query.level = Level::kNote;
    query.span = stet.span;
    query.manuscript = stet.manuscript;
    query.block = stet.block;
    if (is_known) {
      query.message = "nothing here needs the stet for " + stet.check + " any more";
      query.suggestion = "take the stet out";
    } else {
      query.message = "the stet names \"" + stet.check + "\", which is no check";
      query.suggestion = nearest(input.check_ids, stet.check);
    }
    queries.push_back(std::move(query));
  }
  return queries;
}

}  // namespace tailproof

// The cost of the checks grows near linearly with the number of claims.
#include <catch2/catch.hpp>
#include <ctime>

#include "checks/merge.h"
#include "checks/registry.h"
#include "ledger/reader.h"

using namespace tailproof;

namespace {

// Processor time, which others on the machine do not lengthen much.
double seconds_used() {
  timespec now{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  constexpr double kNano = 1e-9;
  return static_cast<double>(now.tv_sec) + kNano * static_cast<double>(now.tv_nsec);
}

// Seconds for all checks on captions of ten claims each.
double seconds_for(std::uint32_t captions) {
  std::vector<Manuscript> manuscripts(1);
  std::vector<Claim> claims;
  const Ledger ledger = empty_ledger();
  for (std::uint32_t block = 0; block < captions; ++block) {
    Block caption;
    caption.kind = BlockKind::kCaption;
    caption.text = "A caption of some length, with ten claims.";
    caption.figure = "Fig. " + std::to_string(block + 1);
    manuscripts[0].blocks.push_back(std::move(caption));
    for (int i = 0; i < 10; ++i) {
      Claim claim;
      claim.kind = static_cast<ClaimKind>(i % 9);
      claim.block = block;
      claim.value = "QX" + std::to_string(block);
      claim.subject = claim.value;
      if (claim.kind == ClaimKind::kDate) {
        claim.date = Edtf::of_day(static_cast<Day>(block));
        claim.weekday = 1;
      }
      claims.push_back(std::move(claim));
    }
  }
  const CheckInput input{manuscripts, claims, ledger, {}, {}};
  const double begin = seconds_used();
  std::vector<Query> queries;
  for (const CheckInfo& check : builtin_checks()) {
    for (Query& query : check.run(input)) queries.push_back(std::move(query));
  }
  queries = merge_queries(std::move(queries), input);
  CHECK(queries.size() > captions / 2);
  return seconds_used() - begin;
}

}  // namespace

TEST_CASE("ten times the captions cost no more than thirty times the time") {
  const double small = seconds_for(2000);
  const double large = seconds_for(20000);
  CAPTURE(small, large);
  // Room for a busy machine; a quadratic pass would cost a hundred times as much.
  CHECK(large < 30 * small + 0.5);
}

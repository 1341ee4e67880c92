#include "checks/registry.h"

#include <array>
#include <vector>

namespace tailproof {

#define TAILPROOF_CHECK(id, function, level, claims, tables, summary, when, scope) \
  std::vector<Query> function(const CheckInput& input);
#include "checks/checks.inc"
#undef TAILPROOF_CHECK

namespace {

enum class Runs { kClaims, kAfterStets };

constexpr CheckNeeds kNeeds[] = {
#define TAILPROOF_CHECK(id, function, level, claims, tables, summary, when, scope) {claims, tables},
#include "checks/checks.inc"
#undef TAILPROOF_CHECK
};

std::vector<CheckInfo> make_rows() {
  return {
#define TAILPROOF_CHECK(id, function, level, claims, tables, summary, when, scope) \
  {id,                                                                             \
   summary,                                                                        \
   Level::level,                                                                   \
   function,                                                                       \
   page_of_check(id),                                                              \
   Runs::when == Runs::kAfterStets,                                                \
   CheckScope::scope},
#include "checks/checks.inc"
#undef TAILPROOF_CHECK
  };
}

}  // namespace

std::span<const CheckInfo> builtin_checks() {
  static const std::vector<CheckInfo> rows = make_rows();
  return rows;
}

std::span<const CheckNeeds> builtin_needs() { return kNeeds; }

}  // namespace tailproof

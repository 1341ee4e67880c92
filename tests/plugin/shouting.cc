// An example of a check of somebody else's: "marking-shouted" finds markings written in capitals,
// which the house style of an invented publisher keeps for titles.
//
// Build it as a shared object and name it to the program: tailproof check --plugin
// ./shouting_plugin.so
#include <algorithm>
#include <cctype>

#include "tailproof/verdict.h"

namespace {

using namespace tailproof;

constexpr std::string_view kId = "marking-shouted";

bool is_shouted(std::string_view text) {
  const auto is_letter = [](char c) { return std::isalpha(static_cast<unsigned char>(c)) != 0; };
  const auto is_small = [](char c) { return std::islower(static_cast<unsigned char>(c)) != 0; };
  return std::count_if(text.begin(), text.end(), is_letter) > 1 &&
         std::none_of(text.begin(), text.end(), is_small);
}

std::vector<Query> check_marking_shouted(const CheckInput& input) {
  return judge_claims(input, ClaimKind::kMarking, [&](const Claim& claim) -> std::optional<Query> {
    if (claim.attributed || !is_shouted(claim.text)) return std::nullopt;
    Query query = query_at(kId, input, claim, Level::kNote,
                           claim.text + " stands in capitals, which are kept for titles");
    query.suggestion = claim.value;
    return query;
  });
}

constexpr CheckInfo kChecks[] = {
    {kId, "a marking written in capitals", Level::kNote, check_marking_shouted,
     "# marking-shouted\n\nReports markings written in capitals.\n", false},
};
constexpr Plugin kPlugin = {kInterfaceVersion, kChecks, 1};

}  // namespace

extern "C" const tailproof::Plugin* tailproof_plugin() { return &kPlugin; }

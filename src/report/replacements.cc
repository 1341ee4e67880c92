#include "report/replacements.h"

#include <re2/re2.h>

#include <algorithm>
#include <array>
#include <optional>
#include <string_view>

namespace tailproof {

namespace {

struct NameOfKind {
  ClaimKind kind;
  NameKind name;
};

// Kinds of claim whose words are names of the ledger.
constexpr std::array<NameOfKind, 7> kNames = {{{ClaimKind::kType, NameKind::kType},
                                               {ClaimKind::kUnit, NameKind::kUnit},
                                               {ClaimKind::kPlace, NameKind::kPlace},
                                               {ClaimKind::kPerson, NameKind::kPerson},
                                               {ClaimKind::kRank, NameKind::kRank},
                                               {ClaimKind::kAward, NameKind::kAward},
                                               {ClaimKind::kMarking, NameKind::kMarking}}};

/// "A or B or C" in its parts. A name of the ledger that has " or " in it offers nothing, as its
/// parts are no names.
std::vector<std::string> alternatives_of(std::string_view suggestion) {
  constexpr std::string_view kOr = " or ";
  std::vector<std::string> parts;
  std::size_t begin = 0;
  for (std::size_t at = suggestion.find(kOr); at != std::string_view::npos;
       at = suggestion.find(kOr, begin)) {
    parts.emplace_back(suggestion.substr(begin, at - begin));
    begin = at + kOr.size();
  }
  parts.emplace_back(suggestion.substr(begin));
  return parts;
}

/// "Sickle Mk I" is a type and a mark of it that some airframe has.
bool is_type_and_mark(const Ledger& ledger, std::string_view words) {
  const auto airframes = ledger.airframes_at_hand();
  return std::any_of(airframes.begin(), airframes.end(), [&](const Airframe& airframe) {
    if (airframe.mark.empty() || !words.starts_with(airframe.type)) {
      return false;
    }
    const std::string_view rest = words.substr(airframe.type.size());
    return rest == " " + airframe.mark || rest == " Mk " + airframe.mark;
  });
}

bool is_of_kind(const Ledger& ledger, const Claim& claim, const std::string& words) {
  if (claim.kind == ClaimKind::kAirframe) {
    return claim.role.empty() ? !ledger.machine_of(words).empty()
                              : !ledger.bearers_of(words).empty();
  }
  if (claim.kind == ClaimKind::kMeasure) {
    static const re2::RE2 plain(R"(\d+(?:[.,]\d+)?\s*\S{1,6})");
    return claim.measure->converted_text.empty() && re2::RE2::FullMatch(claim.text, plain) &&
           re2::RE2::FullMatch(words, plain);
  }
  if (claim.kind == ClaimKind::kType && is_type_and_mark(ledger, words)) {
    return true;
  }
  const auto* row = std::find_if(kNames.begin(), kNames.end(),
                                 [&](const NameOfKind& name) { return name.kind == claim.kind; });
  return row != kNames.end() && !ledger.resolve(row->name, words).empty();
}

bool is_plain(std::string_view words) {
  return words.find_first_of("&<>*_`[]\\\"\r\n\t") == std::string_view::npos;
}

const Claim* claim_at(const Run& run, const Query& query) {
  const auto found =
      std::find_if(query.claims.begin(), query.claims.end(), [&](std::uint32_t index) {
        return index < run.claims.size() && run.claims[index].span == query.span;
      });
  return found == query.claims.end() ? nullptr : &run.claims[*found];
}

}  // namespace

std::vector<std::string> replacements_of(const Run& run, const Query& query) {
  const Claim* claim = claim_at(run, query);
  if (query.suggestion.empty() || claim == nullptr || run.sources.text(query.span) != claim->text) {
    return {};
  }
  std::vector<std::string> alternatives = alternatives_of(query.suggestion);
  const bool all_fit =
      std::all_of(alternatives.begin(), alternatives.end(), [&](const std::string& words) {
        return is_plain(words) && words != claim->text && is_of_kind(run.ledger, *claim, words);
      });
  return all_fit ? alternatives : std::vector<std::string>{};
}

}  // namespace tailproof

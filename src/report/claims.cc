// The formats of claims: text, json, jsonl.
#include <fmt/format.h>

#include "report/formats.h"
#include "report/html_text.h"
#include "report/json_parts.h"
#include "report/phrases.h"

namespace tailproof {

namespace {

/// How a claim was found and came by its subject, and the date that it is held at.
std::string why_of(const Run& run, const Claim& claim) {
  if (claim.kind == ClaimKind::kDate || !claim.when.known) return claim.why;
  const bool is_told = claim.when.date < run.claims.size();
  const std::string day = is_told ? run.claims[claim.when.date].value : "a date put together";
  return claim.why + "; at " + day + (claim.when.inherited ? " (inherited)" : "");
}

Json explained(const Run& run, const Claim& claim, const ReportOptions& options) {
  Json object = claim_object(run, claim);
  if (options.explain) {
    object["why"] = why_of(run, claim);
  }
  return object;
}

/// What a claim says beside kind, value and subject: "operator, at fuselage, not so, hedged".
std::string manner_of(const Claim& claim) {
  std::string manner;
  const auto add = [&manner](bool holds, std::string_view words) {
    if (holds) {
      manner += manner.empty() ? "" : ", ";
      manner += words;
    }
  };
  add(!claim.role.empty(), claim.role);
  add(!claim.position.empty(), "on " + claim.position);
  add(!claim.of.empty(), "of " + claim.of);
  add(claim.negated, "negated");
  add(claim.hedged, "hedged");
  add(claim.attributed, "attributed");
  add(!claim.shown, "not shown");
  add(claim.inherited, "inherited");
  return manner;
}

/// The claims as they are printed: a date of running text with two ends is two dates.
std::vector<Claim> printed(const std::vector<Claim>& claims) {
  std::vector<Claim> all;
  all.reserve(claims.size());
  for (const Claim& claim : claims) {
    if (claim.ends.empty()) {
      all.push_back(claim);
      continue;
    }
    for (const DateEnd& end : claim.ends) {
      all.push_back(claim);
      all.back().span = end.span;
      all.back().value = end.value;
      all.back().text = end.text;
    }
  }
  return all;
}

}  // namespace

std::string claims_as_text(const Run& run, const ReportOptions& options) {
  std::string text;
  const std::vector<Claim> claims = printed(run.claims);
  for (const Claim& claim : claims) {
    text += fmt::format("{}: {} {}", place_of(run.sources, claim.span), to_word(claim.kind),
                        claim.value);
    const std::string manner = manner_of(claim);
    if (!manner.empty()) {
      text += fmt::format(" ({})", manner);
    }
    if (!claim.subject.empty() && claim.subject != claim.value) {
      text += fmt::format(" of {}", claim.subject);
    }
    text += fmt::format(": \"{}\"\n", claim.text);
    if (options.explain) {
      text += fmt::format("    {}\n", why_of(run, claim));
    }
  }
  // The commonest first run: serials, units and people are the ledger's to know.
  const std::string_view unread =
      run.ledger.path().empty() ? " (no ledger given: no serial and no name is known)" : "";
  return inert(text) + fmt::format("{} in {}{}\n", counted(claims.size(), "claim"),
                                   counted(run.manuscripts.size(), "manuscript"), unread);
}

std::string claims_as_json(const Run& run, const ReportOptions& options) {
  Json report;
  report["tool"] = "tailproof";
  report["version"] = TAILPROOF_VERSION;
  report["claims"] = Json::array();
  for (const Claim& claim : printed(run.claims)) {
    report["claims"].push_back(explained(run, claim, options));
  }
  report["schema"] = kClaimsSchema;
  return indented(report);
}

std::string claims_as_jsonl(const Run& run, const ReportOptions& options) {
  std::string lines;
  for (const Claim& claim : printed(run.claims)) {
    lines += one_line(explained(run, claim, options)) + "\n";
  }
  return lines;
}

}  // namespace tailproof

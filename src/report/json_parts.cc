#include "report/json_parts.h"

#include "source/shown_path.h"

namespace tailproof {

void add_place(Json& object, const Sources& sources, const Span& span) {
  const Position begin = sources.position(span.file, span.begin);
  const Position end = sources.position(span.file, span.end);
  object["file"] = utf8_path(sources.path(span.file));
  object["line"] = begin.line;
  object["column"] = begin.column;
  object["end_line"] = end.line;
  object["end_column"] = end.column;
}

Json claim_object(const Run& run, const Claim& claim) {
  const Block& block = run.manuscripts[claim.manuscript].blocks[claim.block];
  Json object;
  add_place(object, run.sources, claim.span);
  object["block"] = to_word(block.kind);
  object["figure"] = block.figure;
  object["kind"] = to_word(claim.kind);
  object["value"] = claim.value;
  object["subject"] = claim.subject;
  object["role"] = claim.role;
  object["position"] = claim.position;
  object["of"] = claim.of;
  object["polarity"] = claim.negated ? "negated" : "affirmed";
  object["hedged"] = claim.hedged;
  object["attributed"] = claim.attributed;
  object["shown"] = claim.shown;
  object["inherited"] = claim.inherited;
  object["text"] = claim.text;
  return object;
}

Json evidence_object(const Evidence& evidence) {
  Json object;
  object["table"] = evidence.table;
  object["line"] = evidence.line;
  object["source"] = evidence.source;
  object["says"] = evidence.says;
  return object;
}

Json totals_object(const Run& run, const ReportOptions& options) {
  const Totals totals = totals_of(run.queries, options.is_known);
  Json counts;
  counts["error"] = totals.errors;
  counts["warning"] = totals.warnings;
  counts["note"] = totals.notes;
  counts["stetted"] = totals.stetted;
  counts["known"] = totals.known;
  counts["claims"] = run.claims.size();
  return counts;
}

std::string one_line(const Json& json) {
  return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

std::string indented(const Json& json) {
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace tailproof

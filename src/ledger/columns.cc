#include "ledger/columns.h"

#include <charconv>

#include "ledger/duration.h"
#include "ledger/tables.h"
#include "ledger/text.h"

namespace tailproof {
namespace {

std::string quoted(std::string_view cell) { return "\"" + std::string(cell) + "\""; }

}  // namespace

std::string assign_seniority(Rank& row, std::string_view cell) {
  int seniority = 0;
  const auto [end, error] = std::from_chars(cell.data(), cell.data() + cell.size(), seniority);
  if (error != std::errc{} || end != cell.data() + cell.size() || seniority < 1) {
    return quoted(cell) + " is no seniority; write a whole number from 1, the most junior";
  }
  row.seniority = seniority;
  return "";
}

std::string assign_grace(Order& row, std::string_view cell) {
  const auto grace = read_duration(cell);
  if (!grace) return quoted(cell) + " is no ISO 8601 duration of days or longer; write P3M, say";
  row.grace = *grace;
  return "";
}

std::string assign_action(Order& row, std::string_view cell) {
  const std::string action = folded_name(cell);
  if (action != "introduces" && action != "withdraws") {
    return quoted(cell) + " is no action; write introduces or withdraws";
  }
  row.action = action == "introduces" ? OrderAction::kIntroduces : OrderAction::kWithdraws;
  return "";
}

std::string assign_strength(Sequence& row, std::string_view cell) {
  const std::string strength = folded_name(cell);
  if (strength != "always" && strength != "usually") {
    return quoted(cell) + " is no strength; write always or usually";
  }
  row.always = strength == "always";
  return "";
}

std::string assign_relation(Combination& row, std::string_view cell) {
  const std::string relation = folded_name(cell);
  if (relation != "requires" && relation != "excludes") {
    return quoted(cell) + " is no relation; write requires or excludes";
  }
  row.requires_it = relation == "requires";
  return "";
}

NameKind value_names(const Service& row) {
  if (row.kind == "rank") return NameKind::kRank;
  if (row.kind == "award") return NameKind::kAward;
  return NameKind::kUnit;
}

std::string_view defining_table(NameKind kind) {
  switch (kind) {
    case NameKind::kAirframe:
      return "airframes";
    case NameKind::kIdentity:
      return "identities";
    case NameKind::kUnit:
      return "units";
    case NameKind::kPlace:
      return "places";
    case NameKind::kPerson:
      return "people";
    case NameKind::kRank:
      return "ranks";
    case NameKind::kAward:
      return "awards";
    case NameKind::kType:
      return "types";
    case NameKind::kMarking:
      return "markings";
    case NameKind::kOrder:
      return "orders";
    case NameKind::kPhotograph:
      return "photographs";
  }
  return "";
}

std::vector<std::string> table_names() {
  std::vector<std::string> names;
  const LedgerTables tables;
  for_each_table(
      tables, [&]<typename Row>(const std::vector<Row>&) { names.emplace_back(kTable<Row>.name); });
  return names;
}

}  // namespace tailproof

// Names that lead nowhere, rings, rows that stand twice.
#include <algorithm>
#include <map>
#include <tuple>
#include <unordered_map>

#include "ledger/audit_parts.h"
#include "ledger/columns.h"
#include "ledger/text.h"

namespace tailproof {
namespace {

template <typename Visit>
void for_each_rows(const Ledger& ledger, Visit&& visit) {
  visit(ledger.airframes());
  visit(ledger.identities());
  visit(ledger.histories());
  visit(ledger.units());
  visit(ledger.stations());
  visit(ledger.places());
  visit(ledger.people());
  visit(ledger.service());
  visit(ledger.orders());
  visit(ledger.sequences());
  visit(ledger.combinations());
  visit(ledger.photographs());
}

class NamesAudit {
 public:
  NamesAudit(const Ledger& ledger, AuditFindings& findings)
      : ledger_(ledger), findings_(findings) {}

  void run() {
    for_each_rows(ledger_, [&]<typename Row>(std::span<const Row> rows) {
      for (const Column<Row>& column : kTable<Row>.columns) {
        if (!column.names || !ledger_.has_table(defining_table(*column.names))) continue;
        for (const Row& row : rows) {
          if (is_foreign(row, column.name)) continue;
          if (column.text != nullptr)
            look_at(row.row, column.name, *column.names, row.*column.text);
          if (column.list == nullptr) continue;
          for (const std::string& cell : row.*column.list) {
            look_at(row.row, column.name, *column.names, cell);
          }
        }
      }
    });
    for (const Service& row : ledger_.service()) {
      const NameKind kind = value_names(row);
      if (ledger_.has_table(defining_table(kind))) look_at(row.row, "value", kind, row.value);
    }
    for (const History& row : ledger_.histories()) look_at_repaint(row);
    for (auto& [key, finding] : unknown_) finish(finding);
  }

 private:
  struct Unknown {
    RowPlace place;
    std::string_view column;
    NameKind kind = NameKind::kUnit;
    std::string text;
    std::uint32_t others = 0;
  };

  // A number worn with another service names that service, which is no unit of this ledger.
  template <typename Row>
  static bool is_foreign(const Row& row, std::string_view column) {
    if constexpr (std::is_same_v<Row, Identity>) {
      return column == "operator" && (row.kind == "previous_serial" || row.kind == "later_serial");
    }
    return false;
  }

  [[nodiscard]] bool is_known(NameKind kind, std::string_view text) const {
    switch (kind) {
      case NameKind::kAirframe:
        return ledger_.airframe(text) != nullptr || !ledger_.machine_of(text).empty();
      case NameKind::kUnit:
        return ledger_.unit(text) != nullptr;
      case NameKind::kPlace:
        return ledger_.place(text) != nullptr;
      case NameKind::kPerson:
        return ledger_.person(text) != nullptr;
      case NameKind::kRank:
        return ledger_.rank(text) != nullptr;
      case NameKind::kAward:
        return ledger_.award(text) != nullptr;
      case NameKind::kType:
        return ledger_.type(text) != nullptr;
      case NameKind::kMarking:
        return ledger_.marking(text) != nullptr;
      case NameKind::kPhotograph:
        return ledger_.photograph(text) != nullptr;
      case NameKind::kOrder:
        return !ledger_.resolve(kind, text).empty();
      case NameKind::kIdentity:
        return !ledger_.bearers_of(text).empty();
    }
    return false;
  }

  void look_at(const RowPlace& place, std::string_view column, NameKind kind,
               const std::string& text) {
    if (text.empty() || is_known(kind, text)) return;
    const auto [entry, is_new] =
        unknown_.try_emplace({place.table, column, text}, Unknown{place, column, kind, text, 0});
    if (!is_new) ++entry->second.others;
  }

  // `detail` of a repaint names markings, or is prose; prose names none.
  void look_at_repaint(const History& row) {
    if (row.kind != "repaint" || row.detail.empty() || !ledger_.has_table("markings")) return;
    std::vector<std::string> strangers;
    bool names_any = false;
    for (const std::string& part : split_list(row.detail)) {
      const std::size_t at = part.find(" @ ");
      const std::string key(trimmed(std::string_view(part).substr(0, at)));
      const bool known = ledger_.marking(key) != nullptr;
      names_any = names_any || known || at != std::string::npos;
      if (!known) strangers.push_back(key);
    }
    if (!names_any) return;
    for (const std::string& key : strangers) look_at(row.row, "detail", NameKind::kMarking, key);
  }

  void finish(const Unknown& unknown) {
    const std::string table(defining_table(unknown.kind));
    const std::string name = std::string(unknown.column) + " \"" + unknown.text + "\"";
    AuditFinding finding;
    finding.rows.push_back(audit_row(unknown.place, name));
    const auto readings = ledger_.resolve(unknown.kind, unknown.text);
    if (readings.size() > 1) {
      finding.message = name + " may be " + std::string(readings[0]) + " or " +
                        std::string(readings[1]) + "; write the one that is meant";
    } else {
      // A serial may stand outside what the author has got to yet.
      finding.warning_only =
          unknown.kind == NameKind::kAirframe && !ledger_.is_in_closed_range(unknown.text);
      finding.message = name + " has no row in table " + table + "; correct it or add the row";
    }
    if (unknown.others > 0) {
      finding.message += " (and in " + std::to_string(unknown.others) +
                         (unknown.others == 1 ? " more row)" : " more rows)");
    }
    findings_.push_back(std::move(finding));
  }

  const Ledger& ledger_;
  AuditFindings& findings_;
  std::map<std::tuple<std::string_view, std::string_view, std::string>, Unknown> unknown_;
};

// Whoever follows parents upward must arrive: a row that is its own ancestor.
template <typename Row, typename Find>
void audit_rings(std::span<const Row> rows, std::string Row::*key, std::string Row::*above,
                 const Find& find, std::string_view column, AuditFindings& findings) {
  std::unordered_map<std::string_view, std::size_t> walk_of;  // on which walk a key was met
  for (std::size_t walk = 0; walk < rows.size(); ++walk) {
    const Row* at = &rows[walk];
    while (at != nullptr) {
      const auto [met, is_new] = walk_of.try_emplace(at->*key, walk);
      if (!is_new) {
        if (met->second == walk) {
          findings.push_back({false,
                              {audit_row(at->row, at->*key + " within " + at->*above)},
                              at->*key + " stands above itself by its column " +
                                  std::string(column) + "; correct one of the rows of that ring"});
        }
        break;
      }
      at = (at->*above).empty() ? nullptr : find(at->*above);
    }
  }
}

// Everything that a row says but its source and note, as one text.
template <typename Row>
std::string content_of(const Row& row) {
  std::string out;
  for (const Column<Row>& column : kTable<Row>.columns) {
    if (column.text != nullptr) out += row.*column.text;
    if (column.date != nullptr) out += (row.*column.date).text();
    if (column.list != nullptr) {
      for (const std::string& value : row.*column.list) out += value + ';';
    }
    if constexpr (requires { row.spell; }) {
      if (column.spell_end != nullptr) out += (row.spell.*column.spell_end).text();
    }
    if constexpr (requires { row.action; }) {
      if (column.name == "action") out += row.action == OrderAction::kIntroduces ? '+' : '-';
    }
    if constexpr (requires { row.requires_it; }) {
      if (column.name == "relation") out += row.requires_it ? '+' : '-';
    }
    out += '\x1f';
  }
  return out;
}

template <typename Row>
void audit_twins(std::span<const Row> rows, AuditFindings& findings) {
  std::unordered_map<std::size_t, std::uint32_t> first_by_hash;
  first_by_hash.reserve(rows.size());
  for (std::uint32_t i = 0; i < rows.size(); ++i) {
    const std::string content = content_of(rows[i]);
    const auto [first, is_new] = first_by_hash.try_emplace(std::hash<std::string>{}(content), i);
    if (is_new || content_of(rows[first->second]) != content) continue;
    findings.push_back({true,
                        {audit_row(rows[i].row, "the same row again"),
                         audit_row(rows[first->second].row, "the first of them")},
                        "this row says what line " + std::to_string(rows[first->second].row.line) +
                            " says; remove one of them"});
  }
}

}  // namespace

void audit_names(const Ledger& ledger, AuditFindings& findings) {
  NamesAudit(ledger, findings).run();
  audit_rings<Unit>(
      ledger.units(), &Unit::unit, &Unit::parent, [&](const auto& key) { return ledger.unit(key); },
      "parent", findings);
  audit_rings<Place>(
      ledger.places(), &Place::place, &Place::within,
      [&](const auto& key) { return ledger.place(key); }, "within", findings);
  audit_twins(ledger.identities(), findings);
  audit_twins(ledger.histories(), findings);
  audit_twins(ledger.stations(), findings);
  audit_twins(ledger.service(), findings);
  audit_twins(ledger.orders(), findings);
  audit_twins(ledger.sequences(), findings);
  audit_twins(ledger.combinations(), findings);
}

}  // namespace tailproof

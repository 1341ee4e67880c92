// What of the ledger no text can reach, and what the ledger lets nobody ask: notes for whoever has
// just begun one, and wonders why nothing is queried.
#include <re2/re2.h>

#include <algorithm>
#include <map>
#include <memory>
#include <set>
#include <string>

#include "ledger/audit_parts.h"
#include "ledger/columns.h"
#include "ledger/serial_shapes.h"

namespace tailproof {
namespace {

constexpr std::size_t kShown = 3;  // examples in one message

AuditRow settings_row(std::string says) { return {"ledger.toml", 0, "", std::move(says)}; }

void add_note(AuditFindings& findings, AuditRow row, std::string message) {
  findings.push_back({true, {std::move(row)}, std::move(message), true});
}

// "and 1 more", "and 7 more"; "" for none.
std::string and_more(std::size_t count) {
  return count == 0 ? "" : " and " + std::to_string(count) + " more";
}

// Names that stand in cells while the table that would define them is not there: whoever writes
// "Tansy" into airframes.csv expects it to be found in the text.
class UndefinedNames {
 public:
  explicit UndefinedNames(const Ledger& ledger) : ledger_(ledger) {}

  void look_at(const RowPlace& place, std::string_view column, NameKind kind,
               const std::string& text) {
    const std::string_view table = defining_table(kind);
    if (text.empty() || table == "airframes" || table == "photographs" || table == "orders" ||
        table == "identities" || ledger_.has_table(table)) {
      return;
    }
    Names& names = by_table_[std::string(table)];
    if (names.seen.empty()) names.first = audit_row(place, says(column, text));
    names.seen.insert(text);
  }

  void finish(AuditFindings& findings) const {
    for (const auto& [table, names] : by_table_) {
      add_note(findings, names.first,
               "the ledger has no table " + table + ", and texts are not searched for " +
                   names.first.says + and_more(names.seen.size() - 1) + "; write " + table +
                   ".csv with a row for each name");
    }
  }

 private:
  struct Names {
    AuditRow first;
    std::set<std::string> seen;
  };
  static std::string says(std::string_view column, const std::string& text) {
    return std::string(column) + " \"" + text + "\"";
  }

  const Ledger& ledger_;
  std::map<std::string, Names> by_table_;
};

template <typename Row>
void look_through(std::span<const Row> rows, UndefinedNames& names) {
  for (const Column<Row>& column : kTable<Row>.columns) {
    if (!column.names) continue;
    for (const Row& row : rows) {
      // A number worn with another service names that service.
      if constexpr (std::is_same_v<Row, Identity>) {
        if (row.kind != "code" && row.kind != "radio_call") continue;
      }
      if (column.text != nullptr)
        names.look_at(row.row, column.name, *column.names, row.*column.text);
      if (column.list == nullptr) continue;
      for (const std::string& cell : row.*column.list) {
        names.look_at(row.row, column.name, *column.names, cell);
      }
    }
  }
}

void note_undefined_names(const Ledger& ledger, AuditFindings& findings) {
  UndefinedNames names(ledger);
  look_through(ledger.airframes(), names);
  look_through(ledger.identities(), names);
  look_through(ledger.histories(), names);
  look_through(ledger.units(), names);
  look_through(ledger.stations(), names);
  look_through(ledger.service(), names);
  look_through(ledger.orders(), names);
  look_through(ledger.sequences(), names);
  look_through(ledger.combinations(), names);
  look_through(ledger.photographs(), names);
  for (const Service& row : ledger.service()) {
    names.look_at(row.row, "value", value_names(row), row.value);
  }
  names.finish(findings);
}

// Serial forms, asked for the serials that they can make.
class Forms {
 public:
  explicit Forms(const LedgerSettings& settings) {
    for (const SerialForm& form : settings.serial_forms) {
      auto pattern = std::make_unique<re2::RE2>("\\A(?:" + form.pattern + ")\\z", re2::RE2::Quiet);
      if (pattern->ok()) forms_.emplace_back(std::move(pattern), form.rewrite);
    }
  }

  /// Whether some text is rewritten to this serial: the serial, the same without joining marks, or
  /// its end alone, as a tail shows it.
  [[nodiscard]] bool make(const std::string& serial) const {
    std::string closed = serial;
    std::erase_if(closed, [](char c) { return c == '-' || c == '/' || c == ' ' || c == '.'; });
    for (const std::string& text : {serial, closed}) {
      for (std::size_t at = 0; at < text.size(); ++at) {
        if (is_made_of(std::string_view(text).substr(at), serial)) return true;
      }
    }
    return false;
  }

 private:
  [[nodiscard]] bool is_made_of(std::string_view text, const std::string& serial) const {
    return std::any_of(forms_.begin(), forms_.end(), [&](const auto& form) {
      std::string made;
      return re2::RE2::Extract(re2::StringPiece(text.data(), text.size()), *form.first, form.second,
                               &made) &&
             made == serial;
    });
  }

  std::vector<std::pair<std::unique_ptr<re2::RE2>, std::string>> forms_;
};

void find_serials_of_no_form(const Ledger& ledger, AuditFindings& findings) {
  const Forms forms(ledger.settings());
  const Airframe* first = nullptr;
  std::size_t count = 0;
  for (const Airframe& row : ledger.airframes()) {
    if (forms.make(row.serial)) continue;
    if (first == nullptr) first = &row;
    ++count;
  }
  if (first == nullptr) return;
  findings.push_back({true,
                      {audit_row(first->row, "serial \"" + first->serial + "\"")},
                      "no serial_form of ledger.toml makes serial \"" + first->serial + "\"" +
                          and_more(count - 1) +
                          ", so that no text can name it; add a form, or write the serial as "
                          "its form does"});
}

void note_shapes(const Ledger& ledger, AuditFindings& findings) {
  const std::vector<SerialShape> shapes = serial_shapes(ledger.airframes());
  std::size_t shaped = 0;
  std::string examples;
  for (std::size_t i = 0; i < shapes.size(); ++i) {
    shaped += shapes[i].rows;
    if (i >= kShown) continue;
    examples += (i == 0 ? "" : ", ") + shapes[i].example + " (" + std::to_string(shapes[i].rows) +
                (shapes[i].rows == 1 ? " row)" : " rows)");
  }
  if (shapes.size() > kShown) examples += and_more(shapes.size() - kShown);
  const std::size_t others = ledger.airframes().size() - shaped;
  std::string message = "has no serial_form; ";
  if (shapes.empty()) {
    message += "serials are known by their rows alone, and one that the ledger lacks is not seen";
  } else {
    message += "what is spelt like " + examples + " is taken for a serial";
    if (others > 0) {
      message += ", " + std::to_string(others) + (others == 1 ? " other is" : " others are") +
                 " known by " + (others == 1 ? "its row" : "their rows") + " alone";
    }
  }
  add_note(findings, settings_row("no [[serial_form]]"),
           message + "; a [[serial_form]] says it exactly");
}

void note_open_world(const Ledger& ledger, AuditFindings& findings) {
  const LedgerSettings& settings = ledger.settings();
  const bool is_closed = !settings.closed_tables.empty() ||
                         std::any_of(settings.serial_forms.begin(), settings.serial_forms.end(),
                                     [](const SerialForm& form) { return !form.closed.empty(); });
  if (is_closed) return;
  add_note(findings, settings_row("nothing is closed"),
           "declares no table and no range of serials closed: what the ledger lacks is never "
           "queried; close what you hold complete");
}

}  // namespace

void audit_reach(const Ledger& ledger, AuditFindings& findings) {
  if (ledger.names().empty() && ledger.airframes().empty()) {
    add_note(findings, settings_row("no row"),
             "no table has a row yet; begin with airframes.csv: a first line \"serial\", then a "
             "machine in each line");
    return;
  }
  note_undefined_names(ledger, findings);
  if (!ledger.airframes().empty()) {
    if (ledger.settings().serial_forms.empty()) {
      note_shapes(ledger, findings);
    } else {
      find_serials_of_no_form(ledger, findings);
    }
  }
  note_open_world(ledger, findings);
}

}  // namespace tailproof

#include "ledger/settings.h"

#include <re2/re2.h>

#include <algorithm>
#include <array>
#include <initializer_list>

#include "ledger/columns.h"
#include "ledger/duration.h"
#include "source/nearest.h"
#include "source/toml.h"

namespace tailproof {
namespace {

class SettingsReader {
 public:
  SettingsReader(const std::string& file, LedgerTables& tables, Complaints& complaints)
      : file_(file), tables_(tables), complaints_(complaints) {}

  void read(const toml::table& top) {
    note_unknown(top, "", {"title", "air_arm", "serial_form", "closed", "margins", "defaults"});
    LedgerSettings& settings = tables_.settings;
    read_text(top, "", "title", settings.title);
    read_text(top, "", "air_arm", settings.air_arm);
    read_forms(top);
    if (const toml::table* closed = table_at(top, "closed")) read_closed(*closed);
    if (const toml::table* margins = table_at(top, "margins")) read_margins(*margins);
    if (const toml::table* defaults = table_at(top, "defaults")) read_defaults(*defaults);
  }

 private:
  void complain(const toml::node& node, const std::string& key, const std::string& what,
                bool is_note = false) {
    const auto& begin = node.source().begin;
    complaints_.push_back({file_, static_cast<std::uint32_t>(begin.line),
                           static_cast<std::uint32_t>(begin.column), key + " " + what, is_note});
  }

  void note_unknown(const toml::table& table, const std::string& prefix,
                    std::initializer_list<std::string_view> known) {
    for (const auto& [key, node] : table) {
      if (std::find(known.begin(), known.end(), key.str()) != known.end()) continue;
      const std::vector<std::string> keys(known.begin(), known.end());
      complain(node, prefix + std::string(key.str()),
               "is no setting of a ledger and is ignored" + perhaps_meant(key.str(), keys), true);
    }
  }

  const toml::table* table_at(const toml::table& parent, std::string_view key) {
    const toml::node* node = parent.get(key);
    if (node == nullptr) return nullptr;
    if (!node->is_table()) {
      complain(*node, std::string(key), "must be a table; write [" + std::string(key) + "] above");
    }
    return node->as_table();
  }

  // The string at `key`; nullptr when there is none or, complained of, it is something else.
  const std::string* text_at(const toml::table& table, const std::string& prefix,
                             std::string_view key) {
    const toml::node* node = table.get(key);
    if (node == nullptr) return nullptr;
    const auto* value = node->as_string();
    if (value == nullptr) {
      complain(*node, prefix + std::string(key), "must be a string; put it in quotation marks");
      return nullptr;
    }
    return &value->get();
  }

  void read_text(const toml::table& table, const std::string& prefix, std::string_view key,
                 std::string& out) {
    if (const std::string* text = text_at(table, prefix, key)) out = *text;
  }

  void read_forms(const toml::table& top) {
    const toml::node* node = top.get("serial_form");
    if (node == nullptr) return;
    const toml::array* forms = node->as_array();
    if (forms == nullptr) {
      complain(*node, "serial_form", "must be an array of tables; write [[serial_form]] above");
      return;
    }
    for (const toml::node& form : *forms) {
      if (const toml::table* table = form.as_table()) {
        read_form(*table);
      } else {
        complain(form, "serial_form", "must hold tables only; write [[serial_form]] above");
      }
    }
  }

  void read_form(const toml::table& table) {
    const std::string prefix = "serial_form.";
    note_unknown(table, prefix, {"pattern", "serial", "closed", "where"});
    const std::string* pattern = text_at(table, prefix, "pattern");
    if (pattern == nullptr) {
      if (table.get("pattern") == nullptr) {
        complain(table, "serial_form", "has no pattern and is left out; give it one");
      }
      return;
    }
    re2::RE2::Options options;
    options.set_log_errors(false);
    const re2::RE2 re(*pattern, options);
    if (!re.ok()) {
      complain(*table.get("pattern"), "serial_form.pattern",
               "'" + *pattern + "' is no RE2 pattern (" + re.error() + "); the form is left out");
      return;
    }

    SerialForm form;
    form.pattern = *pattern;
    form.rewrite = "\\0";
    read_text(table, prefix, "serial", form.rewrite);
    std::string wrong;
    if (!re.CheckRewriteString(form.rewrite, &wrong)) {
      complain(
          *table.get("serial"), "serial_form.serial",
          "'" + form.rewrite + "' does not fit the pattern (" + wrong + "); the form is left out");
      return;
    }
    if (const std::string* where = text_at(table, prefix, "where")) {
      form.tail_only = true;
      if (*where != "tail") {
        complain(*table.get("where"), "serial_form.where",
                 "is \"" + *where + "\", which is not known; write \"tail\" or leave it out");
      }
    }
    read_ranges(table, form);
    tables_.settings.serial_forms.push_back(std::move(form));
  }

  void read_ranges(const toml::table& table, SerialForm& form) {
    for (const auto& [node, range] : strings_at(table, "serial_form.", "closed")) {
      const std::string wrong = tables_.closed_ranges.add(range);
      if (wrong.empty()) {
        form.closed.push_back(ClosedRanges::ends(range));
      } else {
        complain(*node, "serial_form.closed", "\"" + range + "\" " + wrong);
      }
    }
  }

  std::vector<std::pair<const toml::node*, std::string>> strings_at(const toml::table& table,
                                                                    const std::string& prefix,
                                                                    std::string_view key) {
    std::vector<std::pair<const toml::node*, std::string>> out;
    const toml::node* node = table.get(key);
    if (node == nullptr) return out;
    if (const auto* one = node->as_string()) return {{node, one->get()}};
    const toml::array* array = node->as_array();
    if (array == nullptr) {
      complain(*node, prefix + std::string(key), "must be an array of strings; write [\"...\"]");
      return out;
    }
    for (const toml::node& element : *array) {
      if (const auto* text = element.as_string()) {
        out.emplace_back(&element, text->get());
      } else {
        complain(element, prefix + std::string(key), "must hold strings only");
      }
    }
    return out;
  }

  void read_closed(const toml::table& table) {
    note_unknown(table, "closed.", {"tables"});
    for (auto& [node, name] : strings_at(table, "closed.", "tables")) {
      if (name.ends_with(".csv")) name.resize(name.size() - 4);
      const std::vector<std::string> known = table_names();
      if (std::find(known.begin(), known.end(), name) == known.end()) {
        complain(*node, "closed.tables",
                 "\"" + name + "\" is no table of a ledger" + perhaps_meant(name, known));
        continue;
      }
      tables_.settings.closed_tables.push_back(name);
      tables_.closed_tables.insert(name);
    }
  }

  void read_margins(const toml::table& table) {
    note_unknown(table, "margins.", {"day", "month", "year"});
    read_margin(table, "day", tables_.settings.margins.day);
    read_margin(table, "month", tables_.settings.margins.month);
    read_margin(table, "year", tables_.settings.margins.year);
  }

  void read_margin(const toml::table& table, std::string_view key, Day& out) {
    const std::string* text = text_at(table, "margins.", key);
    if (text == nullptr) return;
    if (const auto days = duration_days(*text)) {
      out = *days;
    } else {
      complain(*table.get(key), "margins." + std::string(key),
               "is \"" + *text + "\", no ISO 8601 duration of days or longer; write \"P3D\", say");
    }
  }

  // Sets `out` to the value beside the word that the setting holds.
  template <typename Value, std::size_t kCount>
  void read_word(const toml::table& table, std::string_view key,
                 const std::array<std::pair<std::string_view, Value>, kCount>& words, Value& out) {
    const std::string* text = text_at(table, "defaults.", key);
    if (text == nullptr) return;
    std::string known;
    for (const auto& [word, value] : words) {
      if (word == *text) {
        out = value;
        return;
      }
      known += (known.empty() ? "" : " or ") + std::string(word);
    }
    complain(*table.get(key), "defaults." + std::string(key),
             "is \"" + *text + "\", which is not known; write " + known);
  }

  void read_defaults(const toml::table& table) {
    LedgerSettings& settings = tables_.settings;
    note_unknown(table, "defaults.",
                 {"position", "theatre", "hemisphere", "date_order", "century"});
    read_text(table, "defaults.", "position", settings.position);
    read_text(table, "defaults.", "theatre", settings.theatre);
    read_word(table, "hemisphere",
              std::to_array<std::pair<std::string_view, Hemisphere>>(
                  {{"north", Hemisphere::kNorth}, {"south", Hemisphere::kSouth}}),
              settings.hemisphere);
    read_word(
        table, "date_order",
        std::to_array<std::pair<std::string_view, DateOrder>>({{"dmy", DateOrder::kDayMonthYear},
                                                               {"mdy", DateOrder::kMonthDayYear},
                                                               {"ymd", DateOrder::kYearMonthDay}}),
        settings.date_order);
    const toml::node* century = table.get("century");
    if (century == nullptr) return;
    const auto* number = century->as_integer();
    if (number == nullptr || number->get() % 100 != 0 || number->get() < 0 ||
        number->get() > 9900) {
      complain(*century, "defaults.century", "must be a whole century; write 1900, say");
      return;
    }
    settings.century = static_cast<int>(number->get());
  }

  const std::string& file_;
  LedgerTables& tables_;
  Complaints& complaints_;
};

}  // namespace

Result<bool> read_settings(const std::string& file, std::string_view text, LedgerTables& tables,
                           Complaints& complaints) {
  const toml::parse_result parsed = toml::parse(text, file);
  if (!parsed) {
    const toml::parse_error& error = parsed.error();
    return Failure{{file, static_cast<std::uint32_t>(error.source().begin.line),
                    static_cast<std::uint32_t>(error.source().begin.column),
                    "is no valid TOML: " + std::string(error.description()), false}};
  }
  SettingsReader(file, tables, complaints).read(parsed.table());
  return true;
}

}  // namespace tailproof

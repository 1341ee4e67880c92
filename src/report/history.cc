// The formats of history: text, json.
#include <fmt/format.h>

#include <algorithm>

#include "report/formats.h"
#include "report/json_parts.h"
#include "report/phrases.h"

namespace tailproof {

std::string history_as_text(const Run& run, const AirframeHistory& history) {
  std::string text = history.serial;
  for (const std::string& serial : history.serials) {
    text += serial == history.serial ? "" : ", " + serial;
  }
  text += "\n";
  constexpr std::string_view kUndated = "undated";
  std::size_t width = kUndated.size();
  for (const Happening& happening : history.happenings) {
    width = std::max(width, happening.date.size());
  }
  for (const Happening& happening : history.happenings) {
    const std::string date = happening.date.empty() ? std::string(kUndated) : happening.date;
    text += fmt::format("{:<{}}  ", date, width);
    if (happening.in_ledger) {
      text += line_of(happening.row) + "\n";
      continue;
    }
    const std::string figure = happening.figure.empty() ? "" : happening.figure + ": ";
    text += fmt::format("{}: {}{}\n", place_of(run.sources, happening.span), figure,
                        happening.says.empty() ? "named" : happening.says);
  }
  return text;
}

std::string history_as_json(const Run& run, const AirframeHistory& history) {
  Json report;
  report["tool"] = kTool;
  report["version"] = TAILPROOF_VERSION;
  report["ledger"] = run.ledger.path();
  report["serial"] = history.serial;
  report["serials"] = history.serials;
  report["entries"] = Json::array();
  for (const Happening& happening : history.happenings) {
    const bool is_dated = !happening.days.empty() && !happening.days.is_all();
    Json entry;
    entry["date"] = happening.date;
    entry["earliest"] = is_dated ? iso_day(happening.days.first()) : "";
    entry["latest"] = is_dated ? iso_day(happening.days.last()) : "";
    entry["says"] = happening.says;
    if (happening.in_ledger) {
      entry["table"] = happening.row.table;
      entry["line"] = happening.row.line;
      entry["source"] = happening.row.source;
    } else {
      add_place(entry, run.sources, happening.span);
      entry["figure"] = happening.figure;
      entry["text"] = happening.text;
    }
    report["entries"].push_back(std::move(entry));
  }
  report["schema"] = kHistorySchema;
  return indented(report);
}

}  // namespace tailproof

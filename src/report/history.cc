// The formats of history: text, json, csv, html, docbook.
#include <fmt/format.h>

#include <algorithm>

#include "report/formats.h"
#include "report/html_text.h"
#include "report/json_parts.h"
#include "report/markup.h"
#include "report/phrases.h"
#include "source/shown_path.h"

namespace tailproof {

namespace {

std::string serials_of(const AirframeHistory& history) {
  std::string text = history.serial;
  for (const std::string& serial : history.serials) {
    text += serial == history.serial ? "" : ", " + serial;
  }
  return text;
}

/// Where the happening is told: in a row of the ledger with its source, or in a manuscript.
std::string told_by(const Run& run, const Happening& happening) {
  if (happening.in_ledger) {
    const std::string row = fmt::format("{}:{}", happening.row.table, happening.row.line);
    return happening.row.source.empty() ? row : happening.row.source + " (" + row + ")";
  }
  const std::string place = place_of(run.sources, happening.span);
  return happening.figure.empty() ? place : figure_label(happening.figure) + " (" + place + ")";
}

std::string says_of(const Happening& happening) {
  if (happening.in_ledger) {
    return happening.row.says;
  }
  return happening.says.empty() ? "named" : happening.says;
}

}  // namespace

std::string history_as_text(const Run& run, const AirframeHistory& history) {
  std::string text = serials_of(history) + "\n";
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
  return inert(text);
}

std::string history_as_json(const Run& run, const AirframeHistory& history) {
  Json report;
  report["tool"] = kTool;
  report["version"] = TAILPROOF_VERSION;
  report["ledger"] = utf8_path(run.ledger.path());
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

std::string history_as_csv(const Run& run, const AirframeHistory& history) {
  std::string text = csv_row({"serial", "date", "earliest", "latest", "says", "table", "row",
                              "source", "file", "line", "column", "figure", "text"});
  for (const Happening& happening : history.happenings) {
    const bool is_dated = !happening.days.empty() && !happening.days.is_all();
    std::vector<std::string> fields = {
        history.serial, happening.date, is_dated ? iso_day(happening.days.first()) : "",
        is_dated ? iso_day(happening.days.last()) : "", says_of(happening)};
    if (happening.in_ledger) {
      for (const std::string& field :
           {happening.row.table, std::to_string(happening.row.line), happening.row.source,
            std::string(), std::string(), std::string(), std::string(), std::string()}) {
        fields.push_back(field);
      }
    } else {
      const Position at = run.sources.position(happening.span.file, happening.span.begin);
      for (const std::string& field :
           {std::string(), std::string(), std::string(),
            shown_path(run.sources.path(happening.span.file)), std::to_string(at.line),
            std::to_string(at.column), happening.figure, happening.text}) {
        fields.push_back(field);
      }
    }
    text += csv_row(fields);
  }
  return text;
}

std::string history_as_html(const Run& run, const AirframeHistory& history) {
  std::string body =
      "<table class=\"history\">\n<thead><tr><th scope=\"col\">Date</th><th scope=\"col\">What is "
      "known</th><th scope=\"col\">From</th></tr></thead>\n<tbody>\n";
  for (const Happening& happening : history.happenings) {
    body += fmt::format("<tr class=\"{}\"><td>{}</td><td>{}</td><td class=\"row\">{}</td></tr>\n",
                        happening.in_ledger ? "ledger" : "manuscript",
                        html(happening.date.empty() ? "undated" : happening.date),
                        html(says_of(happening)), html(told_by(run, happening)));
  }
  return plain_page(serials_of(history), body + "</tbody>\n</table>\n");
}

/// An appendix with one table, for the back of the book.
std::string history_as_docbook(const Run& run, const AirframeHistory& history) {
  std::string content =
      "<informaltable>\n<tgroup cols=\"3\">\n<thead><row><entry>Date</entry><entry>What is "
      "known</entry><entry>From</entry></row></thead>\n<tbody>\n";
  for (const Happening& happening : history.happenings) {
    content += fmt::format("<row><entry>{}</entry><entry>{}</entry><entry>{}</entry></row>\n",
                           html(happening.date.empty() ? "undated" : happening.date),
                           html(says_of(happening)), html(told_by(run, happening)));
  }
  content += "</tbody>\n</tgroup>\n</informaltable>\n";
  return docbook("appendix", serials_of(history), content);
}

}  // namespace tailproof

// The formats of concordance: text, json, csv, html, docbook.
#include "run/concordance.h"

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

std::string title_of(std::string_view kind) {
  std::string title(kind);
  title.front() = static_cast<char>(title.front() - 'a' + 'A');
  return title;
}

std::string joined(const std::vector<std::string>& words, std::string_view between) {
  std::string text;
  for (const std::string& word : words) {
    text += text.empty() ? "" : between;
    text += word;
  }
  return text;
}

/// Where a reader of the book finds it: the figure, else the section.
std::string locator(const Run& run, const NamedPlace& place) {
  if (!place.figure.empty()) {
    return figure_label(place.figure);
  }
  return place.section.empty() ? place_of(run.sources, place.span) : place.section;
}

/// Where a printed index leads, as markup, each place once: figures by their label, sections in
/// quotation marks.
std::string locators(const Run& run, const ConcordanceEntry& entry) {
  std::vector<std::string> words;
  for (const NamedPlace& place : entry.places) {
    const bool is_section = place.figure.empty() && !place.section.empty();
    const std::string word = html(locator(run, place));
    words.push_back(is_section ? "<quote>" + word + "</quote>" : word);
  }
  std::vector<std::string> once;
  for (std::string& word : words) {
    if (std::find(once.begin(), once.end(), word) == once.end()) {
      once.push_back(std::move(word));
    }
  }
  return joined(once, ", ");
}

}  // namespace

std::string concordance_as_text(const Run& run, const std::vector<ConcordanceSection>& sections) {
  std::string text;
  for (const ConcordanceSection& section : sections) {
    text += fmt::format("{}{}{}\n", text.empty() ? "" : "\n", title_of(section.kind),
                        section.entries.empty() ? ": none" : "");
    for (const ConcordanceEntry& entry : section.entries) {
      text += fmt::format("  {}", entry.heading);
      text += entry.also.empty() ? "" : fmt::format(" (also {})", joined(entry.also, ", "));
      text += entry.is_known || run.ledger.path().empty() ? "\n" : ", not in the ledger\n";
      for (const NamedPlace& place : entry.places) {
        const std::string label = place.figure.empty() ? "" : ": " + figure_label(place.figure);
        text += fmt::format("    {}{}\n", place_of(run.sources, place.span), label);
      }
    }
  }
  return inert(text);
}

std::string concordance_as_json(const Run& run, const std::vector<ConcordanceSection>& sections) {
  Json report;
  report["tool"] = kTool;
  report["version"] = TAILPROOF_VERSION;
  report["ledger"] = utf8_path(run.ledger.path());
  for (const ConcordanceSection& section : sections) {
    Json& list = report[std::string(section.kind)] = Json::array();
    for (const ConcordanceEntry& entry : section.entries) {
      Json object;
      object["name"] = entry.name;
      object["heading"] = entry.heading;
      object["known"] = entry.is_known;
      object["also"] = entry.also;
      object["places"] = Json::array();
      for (const NamedPlace& place : entry.places) {
        Json at;
        add_place(at, run.sources, place.span);
        at["block"] = to_word(place.block);
        at["figure"] = place.figure;
        at["section"] = place.section;
        at["text"] = place.words;
        object["places"].push_back(std::move(at));
      }
      list.push_back(std::move(object));
    }
  }
  report["schema"] = kConcordanceSchema;
  return indented(report);
}

std::string concordance_as_csv(const Run& run, const std::vector<ConcordanceSection>& sections) {
  std::string text = csv_row({"kind", "name", "heading", "known", "also", "file", "line", "column",
                              "block", "figure", "section", "text"});
  for (const ConcordanceSection& section : sections) {
    for (const ConcordanceEntry& entry : section.entries) {
      for (const NamedPlace& place : entry.places) {
        const Position at = run.sources.position(place.span.file, place.span.begin);
        text += csv_row({std::string(section.kind), entry.name, entry.heading,
                         entry.is_known ? "yes" : "no", joined(entry.also, ";"),
                         shown_path(run.sources.path(place.span.file)), std::to_string(at.line),
                         std::to_string(at.column), std::string(to_word(place.block)), place.figure,
                         place.section, place.words});
      }
    }
  }
  return text;
}

std::string concordance_as_html(const Run& run, const std::vector<ConcordanceSection>& sections) {
  std::string body;
  for (const ConcordanceSection& section : sections) {
    body += fmt::format("<section class=\"index\">\n<h2>{}</h2>\n", title_of(section.kind));
    body += section.entries.empty() ? "<p>None is named.</p>\n" : "<dl>\n";
    for (const ConcordanceEntry& entry : section.entries) {
      body += fmt::format("<dt>{}", html(entry.heading));
      body += entry.also.empty() ? ""
                                 : fmt::format(" <span class=\"row\">also {}</span>",
                                               html(joined(entry.also, ", ")));
      body += entry.is_known || run.ledger.path().empty()
                  ? ""
                  : " <span class=\"row\">not in the ledger</span>";
      body += "</dt>\n<dd><ul>\n";
      for (const NamedPlace& place : entry.places) {
        const std::string where = locator(run, place);
        const std::string line = place_of(run.sources, place.span);
        body += fmt::format(
            "<li>{}{}</li>\n", html(where),
            where == line ? "" : fmt::format(" <span class=\"row\">{}</span>", html(line)));
      }
      body += "</ul></dd>\n";
    }
    body += section.entries.empty() ? "</section>\n" : "</dl>\n</section>\n";
  }
  return plain_page("Concordance", body);
}

/// An index without page numbers, which only the typesetter has: each entry leads to figures and
/// sections.
std::string concordance_as_docbook(const Run& run,
                                   const std::vector<ConcordanceSection>& sections) {
  std::string content;
  for (const ConcordanceSection& section : sections) {
    if (section.entries.empty()) {
      continue;
    }
    content += fmt::format("<indexdiv>\n<title>{}</title>\n", title_of(section.kind));
    for (const ConcordanceEntry& entry : section.entries) {
      content += fmt::format("<indexentry><primaryie>{}, {}</primaryie>", html(entry.heading),
                             locators(run, entry));
      for (const std::string& serial : entry.also) {
        content += fmt::format("<seealsoie>{}</seealsoie>", html(serial));
      }
      content += "</indexentry>\n";
    }
    content += "</indexdiv>\n";
  }
  return docbook("index", "Index", content);
}

}  // namespace tailproof

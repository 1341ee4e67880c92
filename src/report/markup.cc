#include "report/markup.h"

#include <fmt/format.h>

#include "report/html_text.h"
#include "report/report.h"
#include "report/sheet_parts.h"

namespace tailproof {

namespace {

std::string csv_field(std::string_view written) {
  const std::string text = inert(written);
  const bool is_plain = text.find_first_of(",\"\r\n") == std::string_view::npos &&
                        (text.empty() || (text.front() != ' ' && text.back() != ' '));
  if (is_plain) {
    return text;
  }
  std::string quoted = "\"";
  for (const char c : text) {
    quoted += c == '"' ? "\"\"" : std::string(1, c);
  }
  return quoted + "\"";
}

}  // namespace

std::string plain_page(std::string_view title, std::string_view body) {
  std::string page = "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n";
  page += fmt::format(
      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src {}; "
      "base-uri 'none'; form-action 'none'\">\n",
      policy_hash(sheet_style().sha256));
  page += "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n";
  page += fmt::format("<meta name=\"generator\" content=\"{} {}\">\n", kTool, TAILPROOF_VERSION);
  page += fmt::format("<title>{}</title>\n<style>", html(title));
  page += sheet_style().text;
  page += fmt::format("</style>\n</head>\n<body>\n<header>\n<h1>{}</h1>\n</header>\n<main>\n",
                      html(title));
  page += body;
  return page + fmt::format("</main>\n<footer><p>{} {}</p></footer>\n</body>\n</html>\n", kTool,
                            TAILPROOF_VERSION);
}

std::string docbook(std::string_view element, std::string_view title, std::string_view content) {
  return fmt::format(
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<!-- {0} {1} -->\n"
      "<{2} xmlns=\"http://docbook.org/ns/docbook\" version=\"5.0\">\n<title>{3}</title>\n{4}"
      "</{2}>\n",
      kTool, TAILPROOF_VERSION, element, html(title), content);
}

std::string csv_row(const std::vector<std::string>& fields) {
  std::string row;
  for (const std::string& field : fields) {
    row += row.empty() && &field == &fields.front() ? "" : ",";
    row += csv_field(field);
  }
  return row + "\r\n";
}

std::string figure_label(const std::string& label) {
  const bool is_bare = !label.empty() && label.front() >= '0' && label.front() <= '9';
  return is_bare ? "Figure " + label : label;
}

}  // namespace tailproof

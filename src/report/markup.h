// Pages and documents that hold a list and little else.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace tailproof {

/// A whole HTML page of one file, in the dress of the query sheet and without a script. `body` is
/// markup.
[[nodiscard]] std::string plain_page(std::string_view title, std::string_view body);

/// A DocBook 5.0 document with this element as its root; `content` is markup, the title its first.
[[nodiscard]] std::string docbook(std::string_view element, std::string_view title,
                                  std::string_view content);

/// One row of CSV as RFC 4180 has it, with its line end.
[[nodiscard]] std::string csv_row(const std::vector<std::string>& fields);

/// "3" as "Figure 3", since DocBook's labels are bare numbers; any other label as it is.
[[nodiscard]] std::string figure_label(const std::string& label);

}  // namespace tailproof

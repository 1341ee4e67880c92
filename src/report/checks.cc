// The list of checks and the page of one.
#include <fmt/format.h>

#include <algorithm>

#include "report/report.h"

namespace tailproof {

std::string list_of_checks(const std::vector<CheckInfo>& checks) {
  std::size_t width = 0;
  for (const CheckInfo& check : checks) {
    width = std::max(width, check.id.size());
  }
  std::string text;
  for (const CheckInfo& check : checks) {
    text +=
        fmt::format("{:<{}}  {:<7}  {}\n", check.id, width, to_word(check.highest), check.summary);
  }
  return text;
}

std::string page_of_check(const CheckInfo& check) {
  if (check.page.empty()) {
    return fmt::format("# {}\n\n{} (highest level: {})\n", check.id, check.summary,
                       to_word(check.highest));
  }
  std::string page(check.page);
  if (!page.ends_with('\n')) {
    page += '\n';
  }
  return page;
}

}  // namespace tailproof

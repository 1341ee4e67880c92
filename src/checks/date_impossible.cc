// | situation                                      | level  |
// | no such day in the calendar (31 June)          | error  |
// | a range of dates whose end is before its start | error  |
// | quoted from somebody else                      | a level lower |
// | denied                                         | silent |
#include <string>

#include "tailproof/verdict.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "date-impossible";

int number_at(std::string_view text, std::size_t at, std::size_t length) {
  int number = 0;
  for (std::size_t i = at; i < at + length; ++i) {
    if (i >= text.size() || text[i] < '0' || text[i] > '9') return -1;
    number = number * 10 + (text[i] - '0');
  }
  return number;
}

// "1937-09-31": what the calendar has against it; "" when the words are in no such form.
std::string fault_of(std::string_view value) {
  if (value.find('/') != std::string_view::npos) return "a range that runs backwards";
  if (value.size() < 10) return "";
  const int year = number_at(value, 0, 4);
  const int month = number_at(value, 5, 2);
  const int day = number_at(value, 8, 2);
  if (year < 0 || month < 0 || day < 0) return "";
  if (month < 1 || month > 12) return "a date in a month that does not exist";
  const unsigned days = days_in_month(year, static_cast<unsigned>(month));
  if (day >= 1 && static_cast<unsigned>(day) <= days) return "";
  const std::string last = in_words(to_day({year, static_cast<unsigned>(month), days}));
  return "no day of the calendar: that month ends on " + last;
}

}  // namespace

std::vector<Query> check_date_impossible(const CheckInput& input) {
  return judge_claims(input, ClaimKind::kDate, [&](const Claim& claim) -> std::optional<Query> {
    if (!claim.impossible || claim.negated) return std::nullopt;
    const std::string words = claim.text.empty() ? claim.value : claim.text;
    std::string fault = fault_of(claim.value);
    if (fault.empty()) fault = "no date of the calendar";
    return query_at(kId, input, claim,
                    tempered(claim, claim.attributed ? Level::kWarning : Level::kError),
                    "\"" + words + "\" is " + fault);
  });
}

}  // namespace tailproof

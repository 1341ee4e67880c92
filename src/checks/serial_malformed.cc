// | situation                                                             | level  |
// | the text calls it a serial, and no serial form has its prefix, length | error  |
// | said to be no serial, or quoted from somebody else                    | silent |
// | the ledger gives no serial form                                       | silent |
#include <algorithm>
#include <cctype>
#include <set>
#include <string>

#include "tailproof/verdict.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "serial-malformed";
constexpr std::size_t kSuggestions = 3;

// Serials of the ledger from which one slip leads to this: a character too many, one missing.
std::vector<std::string> nearest(const Ledger& ledger, const std::string& written) {
  std::set<std::string> found;
  const auto keep = [&](const std::string& serial) {
    if (!ledger.machine_of(serial).empty()) found.insert(serial);
  };
  for (std::size_t i = 0; i < written.size(); ++i) {
    std::string shorter = written;
    shorter.erase(i, 1);
    keep(shorter);
  }
  for (std::size_t i = 0; i <= written.size(); ++i) {
    for (char digit = '0'; digit <= '9'; ++digit) {
      std::string longer = written;
      longer.insert(i, 1, digit);
      keep(longer);
    }
  }
  return {found.begin(), found.end()};
}

// "QX1001, QZ101": a serial of each range of the form, or where it has no closed range "QX...",
// what stands for all.
std::string example_of(const SerialForm& form) {
  std::string firsts;
  for (const auto& [first, last] : form.closed) firsts += (firsts.empty() ? "" : ", ") + first;
  if (!firsts.empty()) return firsts;
  std::string example;
  for (std::size_t i = 0; i < form.rewrite.size(); ++i) {
    const bool is_group = form.rewrite[i] == '\\' && i + 1 < form.rewrite.size();
    if (is_group) ++i;
    example += is_group ? std::string("...") : std::string(1, form.rewrite[i]);
  }
  return example;
}

// "QX#": what is left of a serial when its figures are not counted.
std::string shape_of(std::string_view serial) {
  std::string shape;
  for (const char c : serial) {
    const bool is_figure = std::isdigit(static_cast<unsigned char>(c)) != 0;
    if (!is_figure) shape += c;
    if (is_figure && (shape.empty() || shape.back() != '#')) shape += '#';
  }
  return shape;
}

// A serial of the ledger that differs in the number of its figures alone; "" where none does.
std::string other_length(const std::vector<SerialForm>& forms, const std::string& written) {
  const std::string shape = shape_of(written);
  for (const SerialForm& form : forms) {
    if (form.tail_only) continue;
    for (const auto& [first, last] : form.closed) {
      const bool is_as_long = written.size() >= std::min(first.size(), last.size()) &&
                              written.size() <= std::max(first.size(), last.size());
      if (shape_of(first) == shape && !is_as_long) return first;
    }
  }
  return {};
}

}  // namespace

std::vector<Query> check_serial_malformed(const CheckInput& input) {
  const std::vector<SerialForm>& forms = input.ledger.settings().serial_forms;
  if (forms.empty()) return {};
  return judge_claims(input, ClaimKind::kAirframe, [&](const Claim& claim) -> std::optional<Query> {
    if (claim.role != "malformed" || !is_affirmed(claim)) return std::nullopt;
    const std::string like = other_length(forms, claim.value);
    const std::string fault = like.empty()
                                  ? "has the prefix and length of no serial form of the ledger"
                              : like.size() < claim.value.size()
                                  ? "has more figures than those of its form, such as " + like
                                  : "has fewer figures than those of its form, such as " + like;
    Query query = query_at(kId, input, claim, tempered(claim, Level::kError),
                           claim.value + " is called a serial, but " + fault);
    std::string examples;
    for (const SerialForm& form : forms) {
      if (form.tail_only) continue;
      examples += (examples.empty() ? "" : ", ") + example_of(form);
    }
    query.evidence.push_back(quote_table("ledger.toml", "serials are written as " + examples));
    for (const std::string& serial : nearest(input.ledger, claim.value)) {
      if (query.evidence.size() > kSuggestions) break;
      query.suggestion += (query.suggestion.empty() ? "" : " or ") + serial;
      if (const Airframe* airframe = input.ledger.airframe(serial)) {
        query.evidence.push_back(quote(
            airframe->row, serial + " is " + with_article(airframe->type + " " + airframe->mark)));
      }
    }
    return query;
  });
}

}  // namespace tailproof

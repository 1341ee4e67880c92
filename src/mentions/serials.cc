// Serials by the ledger's forms, and the lists and ranges that leave out what a reader can supply.
#include <re2/re2.h>

#include <algorithm>

#include "ledger/serial_shapes.h"
#include "mentions/find_mentions.h"

namespace tailproof {

struct SerialForms::Form {
  std::unique_ptr<RE2> re;
  std::string rewrite;
  bool tail_only = false;
  bool is_learnt = false;
  unsigned char first_low = 0, first_high = 255;  // bytes a match can begin with
};

SerialForms::SerialForms(const Ledger& ledger) {
  for (const SerialForm& form : ledger.settings().serial_forms) {
    add(form.pattern, form.rewrite, form.tail_only, false);
  }
  if (!ledger.settings().serial_forms.empty()) return;
  for (const SerialShape& shape : serial_shapes(ledger.airframes_at_hand())) {
    // "K217", "K.217" for K-217; a blank only where the ledger writes one.
    const std::string joint = shape.letters.empty() ? "" : shape.joint == " " ? "[ ]?" : "[-/.]?";
    add(shape.letters + joint + "(\\d{" + std::to_string(shape.digits) + "})" + shape.behind,
        shape.letters + shape.joint + "\\1" + shape.behind, false, true);
  }
}

void SerialForms::add(const std::string& pattern, std::string rewrite, bool tail_only,
                      bool is_learnt) {
  Form form;
  RE2::Options options;
  options.set_log_errors(false);
  form.re = std::make_unique<RE2>(pattern, options);
  if (!form.re->ok()) return;  // the ledger's reader has complained of it
  form.rewrite = std::move(rewrite);
  form.tail_only = tail_only;
  form.is_learnt = is_learnt;
  std::string low, high;
  if (form.re->PossibleMatchRange(&low, &high, 4) && !low.empty() && !high.empty()) {
    form.first_low = static_cast<unsigned char>(low[0]);
    form.first_high = static_cast<unsigned char>(high[0]);
  }
  forms_.push_back(std::move(form));
}

SerialForms::~SerialForms() = default;

std::vector<SerialForms::Match> SerialForms::match_at(std::string_view text,
                                                      const std::vector<Token>& tokens,
                                                      std::uint32_t token) const {
  std::vector<Match> matches;
  const std::uint32_t begin = tokens[token].begin;
  const auto lead = static_cast<unsigned char>(text[begin]);
  constexpr std::size_t kLongestSerial = 24;
  for (const Form& form : forms_) {
    if (lead < form.first_low || lead > form.first_high) continue;
    const std::size_t limit = std::min(text.size(), begin + kLongestSerial);
    std::vector<re2::StringPiece> groups(
        static_cast<std::size_t>(form.re->NumberOfCapturingGroups()) + 1);
    if (!form.re->Match(re2::StringPiece(text.data(), text.size()), begin, limit, RE2::ANCHOR_START,
                        groups.data(), static_cast<int>(groups.size()))) {
      continue;
    }
    const auto end = begin + static_cast<std::uint32_t>(groups[0].size());
    // A whole run of tokens: it may not stop inside a word or number.
    const bool whole = std::any_of(
        tokens.begin() + token,
        tokens.begin() +
            static_cast<std::ptrdiff_t>(std::min<std::size_t>(tokens.size(), token + 6)),
        [&](const Token& t) { return t.end == end; });
    if (!whole) continue;
    std::string serial;
    form.re->Rewrite(&serial, form.rewrite, groups.data(), static_cast<int>(groups.size()));
    matches.push_back({std::move(serial), end, form.tail_only, form.is_learnt});
  }
  std::stable_sort(matches.begin(), matches.end(), [](const Match& a, const Match& b) {
    return a.tail_only != b.tail_only ? !a.tail_only : a.end > b.end;
  });
  return matches;
}

bool SerialForms::fits(std::string_view text) const {
  return std::any_of(forms_.begin(), forms_.end(), [&](const Form& form) {
    return RE2::FullMatch(re2::StringPiece(text.data(), text.size()), *form.re);
  });
}

}  // namespace tailproof

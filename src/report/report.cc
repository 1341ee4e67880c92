#include "report/report.h"

#include <algorithm>

#include "report/formats.h"

namespace tailproof {

namespace {

template <typename Writer>
struct Row {
  std::string_view verb, word;
  Writer writer;
};

constexpr Row<RunWriter> kRunFormats[] = {
#define TAILPROOF_RUN_FORMAT(verb, word, function) {#verb, word, function},
#include "report/formats.inc"
};

constexpr Row<HistoryWriter> kHistoryFormats[] = {
#define TAILPROOF_HISTORY_FORMAT(verb, word, function) {#verb, word, function},
#include "report/formats.inc"
};

constexpr Row<ConcordanceWriter> kConcordanceFormats[] = {
#define TAILPROOF_CONCORDANCE_FORMAT(verb, word, function) {#verb, word, function},
#include "report/formats.inc"
};

constexpr Row<AuditWriter> kAuditFormats[] = {
#define TAILPROOF_AUDIT_FORMAT(verb, word, function) {#verb, word, function},
#include "report/formats.inc"
};

template <typename Table>
auto find_writer(const Table& table, std::string_view verb, std::string_view word)
    -> decltype(table[0].writer) {
  const auto* found = std::find_if(std::begin(table), std::end(table), [&](const auto& row) {
    return row.verb == verb && row.word == word;
  });
  return found == std::end(table) ? nullptr : found->writer;
}

}  // namespace

Totals totals_of(const std::vector<Query>& queries, const std::vector<bool>& is_known) {
  Totals totals;
  for (std::size_t i = 0; i < queries.size(); ++i) {
    const Query& query = queries[i];
    if (!query.stet.empty()) {
      ++totals.stetted;
      continue;
    }
    if (i < is_known.size() && is_known[i]) {
      ++totals.known;
      continue;
    }
    switch (query.level) {
      case Level::kError:
        ++totals.errors;
        break;
      case Level::kWarning:
        ++totals.warnings;
        break;
      case Level::kNote:
        ++totals.notes;
        break;
    }
  }
  return totals;
}

bool has_query(const std::vector<Query>& queries, Level at_least,
               const std::vector<bool>& is_known) {
  for (std::size_t i = 0; i < queries.size(); ++i) {
    const bool is_new = i >= is_known.size() || !is_known[i];
    if (is_new && queries[i].stet.empty() && queries[i].level >= at_least) {
      return true;
    }
  }
  return false;
}

RunWriter check_writer(std::string_view format) {
  return find_writer(kRunFormats, "check", format);
}
RunWriter claims_writer(std::string_view format) {
  return find_writer(kRunFormats, "claims", format);
}

RunWriter bracket_writer(std::string_view format) {
  return find_writer(kRunFormats, "bracket", format);
}
HistoryWriter history_writer(std::string_view format) {
  return find_writer(kHistoryFormats, "history", format);
}
ConcordanceWriter concordance_writer(std::string_view format) {
  return find_writer(kConcordanceFormats, "concordance", format);
}
AuditWriter audit_writer(std::string_view format) {
  return find_writer(kAuditFormats, "audit", format);
}

std::vector<std::string> formats_of(std::string_view verb) {
  std::vector<std::string> words;
  const auto take = [&](const auto& table) {
    for (const auto& row : table) {
      if (row.verb == verb) {
        words.emplace_back(row.word);
      }
    }
  };
  take(kRunFormats);
  take(kHistoryFormats);
  take(kConcordanceFormats);
  take(kAuditFormats);
  return words;
}

}  // namespace tailproof

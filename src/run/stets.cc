#include "run/stets.h"

#include <algorithm>
#include <filesystem>
#include <set>
#include <system_error>

#include "ledger/text.h"
#include "run/paths.h"
#include "run/stet_table.h"
#include "source/nearest.h"

namespace tailproof {

namespace fs = std::filesystem;

namespace {

bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n'; }

/// Whether nothing but blanks and at most one line end stand between block and stet: the stet then
/// belongs to the words before it as much as to those after.
bool follows_directly(const Span& block, const Span& stet, const Sources& sources) {
  const std::string_view between = sources.text(Span{block.file, block.end, stet.begin});
  return std::all_of(between.begin(), between.end(), is_blank) &&
         std::count(between.begin(), between.end(), '\n') <= 1;
}

bool stands_within(const Span& inner, const Span& outer) {
  return inner.file == outer.file && outer.begin <= inner.begin && inner.end <= outer.end;
}

/// The block of the stet's file that ends last before it, or kNone.
std::uint32_t block_before(const Manuscript& manuscript, const Stet& stet) {
  // Footnotes and alternative text may stand between a paragraph and its end, but never many.
  constexpr std::uint32_t kNested = 16;
  const auto end = static_cast<std::uint32_t>(manuscript.blocks.size());
  std::uint32_t found = kNone;
  std::uint32_t looked = 0;
  for (std::uint32_t i = std::min(stet.block, end); i > 0 && looked < kNested; --i) {
    const Span& span = manuscript.blocks[i - 1].span;
    if (span.file != stet.span.file || span.end > stet.span.begin) {
      continue;
    }
    ++looked;
    if (found == kNone || span.end > manuscript.blocks[found].span.end) {
      found = i - 1;
    }
  }
  return found;
}

/// "Figure 3", "fig.3" and "Fig. 3" as one.
std::string figure_key(std::string_view label) {
  std::string key;
  for (const char c : folded_name(label)) {
    if (!is_blank(c)) {
      key += c;
    }
  }
  while (key.ends_with('.') || key.ends_with(':')) {
    key.pop_back();
  }
  for (const std::string_view word : {"figure", "fig."}) {
    if (key.starts_with(word)) {
      return "fig" + key.substr(word.size());
    }
  }
  return key;
}

/// A bare number means the figure of that number, whatever word stands before it.
bool is_figure(std::string_view wanted, std::string_view label) {
  constexpr std::string_view kDigits = "0123456789";
  const std::string key = figure_key(wanted);
  const std::string printed = figure_key(label);
  if (key == printed) {
    return true;
  }
  const std::size_t number = printed.find_first_of(kDigits);
  return number != std::string::npos && key.find_first_of(kDigits) == 0 &&
         key == std::string_view(printed).substr(number);
}

bool is_about(const Query& query, std::string_view subject, const Manuscript& manuscript,
              const std::vector<Claim>& claims) {
  const std::string wanted = folded_name(subject);
  const auto is_it = [&](const std::string& name) { return folded_name(name) == wanted; };
  if (is_it(query.subject)) {
    return true;
  }
  const bool is_named =
      std::any_of(query.claims.begin(), query.claims.end(), [&](std::uint32_t index) {
        return is_it(claims[index].subject) || is_it(claims[index].value);
      });
  if (is_named || query.block >= manuscript.blocks.size()) {
    return is_named;
  }
  // What is said of the picture (its date, its number) is said of each machine in it.
  const std::string& figure = manuscript.blocks[query.block].figure;
  if (!query.subject.empty() && query.subject != figure) {
    return false;
  }
  return std::any_of(claims.begin(), claims.end(), [&](const Claim& claim) {
    return claim.manuscript == query.manuscript && claim.block == query.block && claim.shown &&
           claim.kind == ClaimKind::kAirframe && is_it(claim.subject);
  });
}

std::string folder_of(const std::string& canonical) {
  return fs::path(canonical).parent_path().string();
}

/// Canonical paths, each asked of the file system once.
class Canonical {
 public:
  const std::string& of(const std::string& path) {
    const auto [found, is_new] = known_.try_emplace(path);
    if (is_new) {
      found->second = canonical_path(path);
    }
    return found->second;
  }

 private:
  std::map<std::string, std::string> known_;
};

bool covers(const StetRow& row, const Query& query, const Manuscript& manuscript,
            const std::vector<Claim>& claims) {
  if (!row.figure.empty()) {
    const bool has_block = query.block < manuscript.blocks.size();
    if (!has_block || !is_figure(row.figure, manuscript.blocks[query.block].figure)) {
      return false;
    }
  }
  return row.subject.empty() || is_about(query, row.subject, manuscript, claims);
}

/// Whether the check exists; else says so at the stet.
bool names_check(const std::string& check, const Span& span,
                 const std::vector<std::string>& check_ids, const Sources& sources,
                 Complaints& complaints) {
  if (std::find(check_ids.begin(), check_ids.end(), check) != check_ids.end()) {
    return true;
  }
  const std::string meant = nearest(check, check_ids);
  const Position at = sources.position(span.file, span.begin);
  complaints.push_back(
      Complaint{.file = sources.path(span.file),
                .line = at.line,
                .column = at.column,
                .message = "stet names the check \"" + check + "\", which does not exist; " +
                           (meant.empty() ? "see tailproof checks" : "\"" + meant + "\" does")});
  return false;
}

}  // namespace

void Stets::reach(std::size_t use, const Manuscript& manuscript, std::uint32_t block) {
  if (block >= manuscript.blocks.size()) {
    return;
  }
  on_block_[{uses_[use].manuscript, block}].push_back(use);
  if (manuscript.blocks[block].group != kNone) {
    on_group_[{uses_[use].manuscript, manuscript.blocks[block].group}].push_back(use);
  }
}

Stets Stets::collect(Sources& sources, const std::vector<Manuscript>& manuscripts,
                     const std::vector<std::string>& check_ids, Complaints& complaints) {
  Stets stets;
  for (std::uint32_t m = 0; m < manuscripts.size(); ++m) {
    const Manuscript& manuscript = manuscripts[m];
    for (const Stet& stet : manuscript.stets) {
      if (!names_check(stet.check, stet.span, check_ids, sources, complaints)) {
        continue;
      }
      const std::size_t use = stets.uses_.size();
      stets.uses_.push_back(StetUse{.span = stet.span,
                                    .check = stet.check,
                                    .reason = stet.reason,
                                    .manuscript = m,
                                    .block = stet.block});
      stets.reach(use, manuscript, stet.block);
      const bool has_block = stet.block < manuscript.blocks.size();
      if (has_block && stands_within(stet.span, manuscript.blocks[stet.block].span)) {
        continue;
      }
      const std::uint32_t before = block_before(manuscript, stet);
      if (before != kNone &&
          (!has_block || follows_directly(manuscript.blocks[before].span, stet.span, sources))) {
        stets.reach(use, manuscript, before);
      }
    }
  }
  std::set<std::string> folders;
  const std::size_t source_count = sources.size();
  for (FileId file = 0; file < source_count; ++file) {
    const std::string path = sources.path(file);
    if (path == "-" || !folders.insert(folder_of(canonical_path(path))).second) {
      continue;
    }
    const fs::path table = fs::path(path).parent_path() / "stets.csv";
    std::error_code error;
    if (!fs::exists(table, error)) {
      continue;
    }
    const std::string folder = folder_of(canonical_path(table.string()));
    for (StetRow& row : read_stet_table(sources, table.string(), complaints)) {
      if (!names_check(row.check, row.span, check_ids, sources, complaints)) {
        continue;
      }
      const std::string named =
          row.file.empty() ? "" : canonical_path((fs::path(folder) / row.file).string());
      stets.uses_.push_back(StetUse{.span = row.span, .check = row.check, .reason = row.reason});
      stets.rows_.push_back(Row{std::move(row), folder, named});
    }
  }
  return stets;
}

void Stets::apply(std::vector<Query>& queries, const Sources& sources,
                  const std::vector<Manuscript>& manuscripts, const std::vector<Claim>& claims) {
  const std::size_t first_row = uses_.size() - rows_.size();
  Canonical canonical;
  const auto applies = [&](const Row& row, const Query& query) {
    if (query.check != row.row.check || query.manuscript >= manuscripts.size()) {
      return false;
    }
    const Manuscript& manuscript = manuscripts[query.manuscript];
    const std::string& file = canonical.of(sources.path(query.span.file));
    const std::string& whole = canonical.of(manuscript.path);
    const bool is_beside = row.folder == folder_of(file) || row.folder == folder_of(whole);
    const bool is_file = row.file.empty() || row.file == file || row.file == whole;
    return is_beside && is_file && covers(row.row, query, manuscript, claims);
  };
  for (Query& query : queries) {
    std::set<std::size_t> covering;
    const auto take = [&](const std::map<Place, std::vector<std::size_t>>& stets, Place place) {
      const auto found = stets.find(place);
      if (found == stets.end()) {
        return;
      }
      for (const std::size_t use : found->second) {
        if (uses_[use].check == query.check) {
          covering.insert(use);
        }
      }
    };
    take(on_block_, {query.manuscript, query.block});
    if (query.manuscript < manuscripts.size() &&
        query.block < manuscripts[query.manuscript].blocks.size()) {
      take(on_group_, {query.manuscript, manuscripts[query.manuscript].blocks[query.block].group});
    }
    for (std::size_t i = 0; i < rows_.size(); ++i) {
      if (applies(rows_[i], query)) {
        covering.insert(first_row + i);
      }
    }
    for (const std::size_t use : covering) {
      ++uses_[use].uses;
    }
    if (!covering.empty()) {
      query.stet = uses_[*covering.begin()].reason;
      query.stet_at = uses_[*covering.begin()].span;
    }
  }
}

}  // namespace tailproof

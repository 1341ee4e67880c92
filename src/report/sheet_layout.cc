#include "report/sheet_layout.h"

#include <algorithm>
#include <set>
#include <utility>

#include "report/phrases.h"
#include "report/query_ids.h"
#include "run/verdicts.h"
#include "source/shown_path.h"

namespace tailproof {

namespace {

/// Offset in the block's text of a byte of the source.
std::uint32_t text_offset(const Block& block, std::uint32_t source) {
  const auto after =
      std::upper_bound(block.runs.begin(), block.runs.end(), source,
                       [](std::uint32_t at, const MapRun& run) { return at < run.source_begin; });
  if (after == block.runs.begin()) {
    return 0;
  }
  const MapRun& run = *std::prev(after);
  const auto end =
      after == block.runs.end() ? static_cast<std::uint32_t>(block.text.size()) : after->text_begin;
  const std::uint32_t inside = source - run.source_begin;
  return run.verbatim ? std::min(run.text_begin + inside, end)
                      : (inside >= run.source_length ? end : run.text_begin);
}

class Layout {
 public:
  Layout(const Run& run, const ReportOptions& options) : run_(run), options_(options) {
    options_.with_stetted = true;
  }

  SheetLayout build() {
    layout_.verdicts = verdicts_of(run_);
    index_claims();
    index_queries();
    for (std::uint32_t m = 0; m < run_.manuscripts.size(); ++m) {
      add_manuscript(m);
    }
    add_placeless();
    return std::move(layout_);
  }

 private:
  using Place = std::pair<std::uint32_t, std::uint32_t>;  // manuscript, block

  void index_claims() {
    for (std::uint32_t i = 0; i < run_.claims.size(); ++i) {
      claims_[{run_.claims[i].manuscript, run_.claims[i].block}].push_back(i);
    }
  }

  void index_queries() {
    ids_ = ids_of_queries(run_);
    for (std::uint32_t i = 0; i < run_.queries.size(); ++i) {
      const Query& query = run_.queries[i];
      if (!is_listed(run_.queries, i, options_)) {
        continue;
      }
      const bool has_place = query.manuscript < run_.manuscripts.size() &&
                             query.block < run_.manuscripts[query.manuscript].blocks.size();
      queries_[has_place ? Place{query.manuscript, query.block} : Place{kNone, kNone}].push_back(i);
    }
  }

  void add_manuscript(std::uint32_t m) {
    const Manuscript& manuscript = run_.manuscripts[m];
    std::uint32_t top = kNone;
    for (const Block& block : manuscript.blocks) {
      if (block.kind == BlockKind::kHeading) {
        top = std::min(top, block.level);
      }
    }
    layout_.chapters.push_back({shown_path(manuscript.path), ""});
    std::map<std::uint32_t, std::vector<std::uint32_t>> groups;
    for (std::uint32_t b = 0; b < manuscript.blocks.size(); ++b) {
      if (manuscript.blocks[b].group != kNone) {
        groups[manuscript.blocks[b].group].push_back(b);
      }
    }
    for (std::uint32_t b = 0; b < manuscript.blocks.size(); ++b) {
      const Block& block = manuscript.blocks[b];
      if (block.kind == BlockKind::kHeading && block.level == top) {
        layout_.chapters.push_back({shown_path(manuscript.path), block.text});
      }
      std::vector<std::uint32_t> blocks = {b};
      if (block.group != kNone) {
        blocks = groups[block.group];
        if (blocks.front() != b) {
          continue;
        }
      }
      const bool has_query = std::any_of(blocks.begin(), blocks.end(), [&](std::uint32_t one) {
        return queries_.contains({m, one});
      });
      if (has_query || block.kind == BlockKind::kCaption || block.kind == BlockKind::kHeading) {
        add_entry(m, std::move(blocks));
      }
    }
  }

  /// Queries that stand in no block, as those on a row of stets.csv.
  void add_placeless() {
    const auto found = queries_.find({kNone, kNone});
    if (found == queries_.end()) {
      return;
    }
    for (const std::uint32_t index : found->second) {
      const std::string path = shown_path(run_.sources.path(run_.queries[index].span.file));
      if (layout_.chapters.empty() || layout_.chapters.back().file != path) {
        layout_.chapters.push_back({path, ""});
      }
      SheetEntry entry;
      entry.manuscript = kNone;
      entry.chapter = static_cast<std::uint32_t>(layout_.chapters.size() - 1);
      add_query(entry, kNone, index);
      layout_.entries.push_back(std::move(entry));
    }
  }

  static void add_name(std::vector<std::string>& names, std::map<std::string, std::uint32_t>& at,
                       const std::string& name, std::vector<std::uint32_t>& list) {
    const auto [found, is_new] = at.try_emplace(name, static_cast<std::uint32_t>(names.size()));
    if (is_new) {
      names.push_back(name);
    }
    if (std::find(list.begin(), list.end(), found->second) == list.end()) {
      list.push_back(found->second);
    }
  }

  void add_airframe(const std::string& serial, std::vector<std::uint32_t>& list) {
    add_name(layout_.airframes, airframe_at_, serial, list);
  }
  void add_person(const std::string& person, std::vector<std::uint32_t>& list) {
    add_name(layout_.people, person_at_, person, list);
  }

  void add_entry(std::uint32_t m, std::vector<std::uint32_t> blocks) {
    SheetEntry entry;
    entry.manuscript = m;
    entry.chapter = static_cast<std::uint32_t>(layout_.chapters.size() - 1);
    for (const std::uint32_t b : blocks) {
      for (const std::uint32_t index : claims_[{m, b}]) {
        entry.claims.push_back(index);
        const Claim& claim = run_.claims[index];
        if (claim.kind == ClaimKind::kAirframe) {
          add_airframe(std::string(claim.role.empty() ? claim.value : claim.subject),
                       entry.airframes);
        } else if (claim.kind == ClaimKind::kPerson) {
          add_person(std::string(claim.value), entry.people);
        }
      }
    }
    for (const std::uint32_t b : blocks) {
      const auto found = queries_.find({m, b});
      if (found != queries_.end()) {
        for (const std::uint32_t index : found->second) {
          add_query(entry, b, index);
        }
      }
    }
    entry.blocks = std::move(blocks);
    layout_.entries.push_back(std::move(entry));
  }

  void add_query(SheetEntry& entry, std::uint32_t b, std::uint32_t index) {
    const Query& query = run_.queries[index];
    SheetQuery shown;
    shown.query = index;
    shown.number = static_cast<std::uint32_t>(layout_.queries.size() + 1);
    shown.entry = static_cast<std::uint32_t>(layout_.entries.size());
    shown.id = ids_[index];
    shown.block = b;
    if (b != kNone) {
      set_words(shown, query, run_.manuscripts[entry.manuscript].blocks[b]);
    }
    const bool is_airframe = airframe_at_.contains(query.subject);
    const bool is_person = person_at_.contains(query.subject);
    if (is_airframe) {
      add_airframe(query.subject, shown.airframes);
    } else {
      shown.airframes = entry.airframes;
    }
    if (is_person) {
      add_person(query.subject, shown.people);
    } else {
      shown.people = entry.people;
    }
    entry.queries.push_back(static_cast<std::uint32_t>(layout_.queries.size()));
    layout_.queries.push_back(std::move(shown));
  }

  void set_words(SheetQuery& shown, const Query& query, const Block& block) {
    for (const std::uint32_t index : query.claims) {
      const Claim& claim = run_.claims[index];
      if (claim.span == query.span && claim.block == query.block) {
        shown.begin = claim.begin;
        shown.end = claim.end;
        return;
      }
    }
    const bool is_whole =
        query.span.file != block.span.file ||
        (query.span.begin <= block.span.begin && query.span.end >= block.span.end);
    if (!is_whole) {
      shown.begin = text_offset(block, query.span.begin);
      shown.end = std::max(shown.begin, text_offset(block, query.span.end));
    }
  }

  const Run& run_;
  ReportOptions options_;
  SheetLayout layout_;
  std::vector<std::string> ids_;
  std::map<Place, std::vector<std::uint32_t>> claims_, queries_;
  std::map<std::string, std::uint32_t> airframe_at_, person_at_;
};

}  // namespace

SheetLayout lay_out_sheet(const Run& run, const ReportOptions& options) {
  return Layout(run, options).build();
}

std::vector<SheetMark> marks_of(const Run& run, const SheetLayout& layout, const SheetEntry& entry,
                                std::uint32_t block) {
  // Claims of no value to a reader's eye are left unmarked: what somebody else is quoted as saying.
  std::vector<SheetMark> wanted;
  for (const std::uint32_t index : entry.claims) {
    const Claim& claim = run.claims[index];
    if (claim.block == block && claim.begin < claim.end &&
        (!claim.attributed || layout.verdicts[index] == Verdict::kContradicted)) {
      wanted.push_back({claim.begin, claim.end, layout.verdicts[index], {index}});
    }
  }
  for (const std::uint32_t number : entry.queries) {
    const SheetQuery& query = layout.queries[number];
    if (query.block == block && query.begin < query.end &&
        run.queries[query.query].level >= Level::kWarning) {
      wanted.push_back({query.begin, query.end, Verdict::kContradicted, {}});
    }
  }
  const auto weight = [](const SheetMark& mark) {
    return mark.verdict == Verdict::kContradicted ? 0 : (mark.verdict == Verdict::kUpheld ? 1 : 2);
  };
  std::stable_sort(wanted.begin(), wanted.end(), [&](const SheetMark& a, const SheetMark& b) {
    return std::pair(weight(a), a.end - a.begin) < std::pair(weight(b), b.end - b.begin);
  });
  std::vector<SheetMark> marks;
  for (SheetMark& mark : wanted) {
    const auto overlap = std::find_if(marks.begin(), marks.end(), [&](const SheetMark& taken) {
      return mark.begin < taken.end && taken.begin < mark.end;
    });
    if (overlap == marks.end()) {
      marks.push_back(std::move(mark));
    } else if (overlap->begin == mark.begin && overlap->end == mark.end) {
      overlap->claims.insert(overlap->claims.end(), mark.claims.begin(), mark.claims.end());
    }
  }
  std::sort(marks.begin(), marks.end(),
            [](const SheetMark& a, const SheetMark& b) { return a.begin < b.begin; });
  return marks;
}

}  // namespace tailproof

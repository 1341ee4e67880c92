// The format html of check: the query sheet, a proof page with its queries in the margin.
//
// One file that asks the network for nothing; its policy admits its own script and style and no
// other. It can be read and printed without the script, which adds filters, keys and decisions.
#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <map>
#include <set>
#include <utility>

#include "report/dated_rows.h"
#include "report/formats.h"
#include "report/html_text.h"
#include "report/json_parts.h"
#include "report/markup.h"
#include "report/phrases.h"
#include "report/sheet_layout.h"
#include "report/sheet_parts.h"
#include "report/timeline.h"
#include "source/csv.h"
#include "source/shown_path.h"
#include "tailproof/chronology.h"
#include "tailproof/verdict.h"

namespace tailproof {

namespace {

namespace fs = std::filesystem;

constexpr unsigned kSheetSchema = 1;
// A drawing of a long life shows the rows nearest to the claimed date.
constexpr std::size_t kLanesAround = 6;

std::string_view word_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::kUpheld:
      return "upheld";
    case Verdict::kContradicted:
      return "contradicted";
    case Verdict::kUnproven:
      return "unproven";
  }
  return "unproven";
}

std::string claim_in_words(const Claim& claim) {
  std::string words = fmt::format("{} {}", to_word(claim.kind), claim.value);
  words += claim.negated ? ", denied" : "";
  words += claim.hedged ? ", hedged" : "";
  return words;
}

class Sheet {
 public:
  Sheet(const Run& run, const ReportOptions& options)
      : run_(run),
        options_(options),
        layout_(lay_out_sheet(run, options)),
        rows_(run.ledger),
        chronology_(CheckInput{.manuscripts = run.manuscripts,
                               .claims = run.claims,
                               .ledger = run.ledger,
                               .stets = {},
                               .check_ids = {}}) {
    for (const PhotographTime& photograph : chronology_.photographs()) {
      photographs_.emplace(std::pair(photograph.manuscript, photograph.block), &photograph);
    }
  }

  std::string build() {
    std::string page = head();
    std::string body;
    std::uint32_t chapter = kNone;
    std::string file;
    for (std::uint32_t i = 0; i < layout_.entries.size(); ++i) {
      const SheetEntry& entry = layout_.entries[i];
      const SheetChapter& now = layout_.chapters[entry.chapter];
      if (entry.chapter != chapter && now.file != file) {
        body += fmt::format("<h2 class=\"file\">{}</h2>\n", html(now.file));
        file = now.file;
      }
      chapter = entry.chapter;
      body += entry_html(entry, i);
    }
    page += body;
    page += list_of_checks_used();
    page += "</main>\n";
    page += fmt::format("<footer><p>{} {}, sheet {}</p></footer>\n", kTool, TAILPROOF_VERSION,
                        kSheetSchema);
    page += "<script type=\"application/json\" id=\"sheet-data\">" + script_json(data()) +
            "</script>\n<script>";
    page += sheet_script().text;
    return page + "</script>\n</body>\n</html>\n";
  }

 private:
  [[nodiscard]] std::string title() const {
    const std::string& title = run_.ledger.settings().title;
    return title.empty() ? "Query sheet" : "Query sheet: " + title;
  }

  [[nodiscard]] std::string head() const {
    std::string page = "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n";
    page += fmt::format(
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
        "script-src {}; style-src {}; base-uri 'none'; form-action 'none'\">\n",
        policy_hash(sheet_script().sha256), policy_hash(sheet_style().sha256));
    page += "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n";
    page += "<meta name=\"color-scheme\" content=\"light dark\">\n";
    page += fmt::format("<meta name=\"generator\" content=\"{} {}\">\n", kTool, TAILPROOF_VERSION);
    page += fmt::format("<meta name=\"tailproof-sheet\" content=\"{}\">\n", kSheetSchema);
    page += fmt::format("<title>{}</title>\n<style>", html(title()));
    page += sheet_style().text;
    page += "</style>\n</head>\n<body>\n<a class=\"skip\" href=\"#sheet\">To the sheet</a>\n";
    const Totals totals = totals_of(run_.queries, options_.is_known);
    std::string counts =
        fmt::format("{}, {}, {}", counted(totals.errors, "error"),
                    counted(totals.warnings, "warning"), counted(totals.notes, "note"));
    counts += totals.stetted > 0 ? fmt::format("; {} let stand", totals.stetted) : "";
    counts += totals.known > 0 ? fmt::format("; {} known from before", totals.known) : "";
    page += "<header>\n<p class=\"over\">Query sheet</p>\n";
    const std::string& name = run_.ledger.settings().title;
    page += fmt::format("<h1>{}</h1>\n", name.empty() ? "Manuscript" : html(name));
    page += fmt::format("<p class=\"totals\">{} ({} in {})</p>\n", counts,
                        counted(run_.claims.size(), "claim"),
                        counted(run_.manuscripts.size(), "manuscript"));
    page +=
        "<p class=\"legend\">In the text: <span class=\"upheld\">upheld</span> by the evidence, "
        "<mark class=\"contradicted\">contradicted</mark> by it, or <span "
        "class=\"unproven\">unproven</span>, where it does not reach.</p>\n</header>\n";
    return page + "<main id=\"sheet\">\n";
  }

  [[nodiscard]] const Block& block_of(const SheetEntry& entry, std::uint32_t block) const {
    return run_.manuscripts[entry.manuscript].blocks[block];
  }

  [[nodiscard]] std::string label_of(const Block& block) const {
    if (!block.figure.empty()) {
      return figure_label(block.figure);
    }
    switch (block.kind) {
      case BlockKind::kCaption:
        return "Caption";
      case BlockKind::kHeading:
        return "Heading";
      case BlockKind::kTableRow:
        return "Table";
      case BlockKind::kBody:
        return "Text";
    }
    return "Text";
  }

  std::string entry_html(const SheetEntry& entry, std::uint32_t number) {
    std::string page = fmt::format("<section class=\"entry{}\" id=\"e{}\">\n<div class=\"text\">\n",
                                   entry.queries.empty() ? " plain" : "", number);
    if (entry.blocks.empty()) {
      const Query& query = run_.queries[layout_.queries[entry.queries.front()].query];
      page += fmt::format("<h3 class=\"label\">{}</h3>\n<p class=\"words\">{}</p>\n",
                          html(place_of(run_.sources, query.span)), html(words_of(run_, query)));
    } else {
      const Block& first = block_of(entry, entry.blocks.front());
      if (first.kind == BlockKind::kHeading && entry.queries.empty()) {
        return fmt::format("<h3 class=\"heading\" id=\"e{}\">{}</h3>\n", number, html(first.text));
      }
      page += fmt::format("<h3 class=\"label\">{} <span class=\"place\">{}</span></h3>\n",
                          html(label_of(first)), html(place_of(run_.sources, first.span)));
    }
    for (const std::uint32_t block : entry.blocks) {
      page += words_html(entry, block);
    }
    page += timelines_html(entry, number);
    page += claims_html(entry);
    page += "</div>\n<div class=\"margin\">\n";
    for (const std::uint32_t query : entry.queries) {
      page += query_html(layout_.queries[query]);
    }
    return page + "</div>\n</section>\n";
  }

  /// Numbers of the queries that begin at these words.
  [[nodiscard]] std::string references_at(const SheetEntry& entry, std::uint32_t block,
                                          std::uint32_t begin, std::uint32_t end) const {
    std::string page;
    for (const std::uint32_t index : entry.queries) {
      const SheetQuery& query = layout_.queries[index];
      const bool is_whole = query.begin == query.end;
      const bool is_here = query.block == block &&
                           (is_whole ? begin == end : query.begin >= begin && query.begin < end);
      if (is_here) {
        page += fmt::format("<a class=\"ref\" href=\"#q{0}\" aria-label=\"query {0}\">{0}</a>",
                            query.number);
      }
    }
    return page;
  }

  [[nodiscard]] std::string words_html(const SheetEntry& entry, std::uint32_t number) const {
    const Block& block = block_of(entry, number);
    std::string page = "<p class=\"words\">";
    std::uint32_t at = 0;
    const auto plain = [&](std::uint32_t end) {
      if (end > at) {
        // Notes mark no words; their numbers stand behind the words that they are about.
        page += html(std::string_view(block.text).substr(at, end - at));
        page += references_at(entry, number, at, end);
        at = end;
      }
    };
    for (const SheetMark& mark : marks_of(run_, layout_, entry, number)) {
      plain(mark.begin);
      page += mark_html(mark, block);
      page += references_at(entry, number, mark.begin, mark.end);
      at = mark.end;
    }
    plain(static_cast<std::uint32_t>(block.text.size()));
    return page + references_at(entry, number, 0, 0) + "</p>\n";
  }

  [[nodiscard]] std::string mark_html(const SheetMark& mark, const Block& block) const {
    std::string says;
    for (const std::uint32_t index : mark.claims) {
      says += (says.empty() ? "" : "; ") + claim_in_words(run_.claims[index]);
    }
    const std::string_view word = word_of(mark.verdict);
    const std::string_view name = mark.verdict == Verdict::kContradicted ? "mark" : "span";
    const std::string words =
        html(std::string_view(block.text).substr(mark.begin, mark.end - mark.begin));
    return fmt::format("<{0} class=\"{1}\" title=\"{1}{2}\">{3}</{0}>", name, word,
                       says.empty() ? "" : html(": " + says), words);
  }

  [[nodiscard]] std::string claims_html(const SheetEntry& entry) const {
    std::size_t count[3] = {0, 0, 0};
    std::string rows;
    for (const std::uint32_t index : entry.claims) {
      const Claim& claim = run_.claims[index];
      const Verdict verdict = layout_.verdicts[index];
      ++count[static_cast<std::size_t>(verdict)];
      const bool has_subject = !claim.subject.empty() && claim.subject != claim.value;
      rows += fmt::format("<li>{}{}: <b>{}</b></li>", html(claim_in_words(claim)),
                          has_subject ? html(fmt::format(" of {}", claim.subject)) : "",
                          word_of(verdict));
    }
    if (rows.empty()) {
      return "";
    }
    return fmt::format(
        "<details class=\"claims\"><summary>{}: {} upheld, {} contradicted, {} unproven</summary>"
        "<ul>{}</ul></details>\n",
        counted(entry.claims.size(), "claim"), count[0], count[1], count[2], rows);
  }

  [[nodiscard]] std::string query_html(const SheetQuery& shown) const {
    const Query& query = run_.queries[shown.query];
    const std::string level(to_word(query.level));
    std::string page = fmt::format(
        "<article class=\"query {0}{1}\" id=\"q{2}\" aria-labelledby=\"q{2}-h\" tabindex=\"-1\">\n"
        "<p class=\"head\" id=\"q{2}-h\"><span class=\"number\">{2}</span> <span "
        "class=\"level\">{0}</span> <a class=\"check\" href=\"#c-{3}\">{3}</a></p>\n",
        level, query.stet.empty() ? "" : " stetted", shown.number, html(query.check));
    page += fmt::format("<p class=\"message\">{}</p>\n", html(query.message));
    if (!query.evidence.empty() || !query.related.empty()) {
      page += "<ul class=\"evidence\">\n";
      for (const Evidence& evidence : query.evidence) {
        page += evidence_html(evidence);
      }
      for (const Related& related : query.related) {
        page += fmt::format("<li>{} <span class=\"row\">{}</span></li>\n", html(related.says),
                            html(place_of(run_.sources, related.span)));
      }
      page += "</ul>\n";
    }
    if (!query.suggestion.empty()) {
      page += fmt::format("<p class=\"agree\">Would agree: {}</p>\n", html(query.suggestion));
    }
    if (!query.stet.empty()) {
      page += fmt::format("<p class=\"stood\">Let stand: {} <span class=\"row\">{}</span></p>\n",
                          html(query.stet), html(place_of(run_.sources, query.stet_at)));
    }
    return page + "</article>\n";
  }

  static std::string evidence_html(const Evidence& evidence) {
    std::string page = "<li>" + html(evidence.says);
    if (!evidence.source.empty()) {
      page += fmt::format(" <cite>{}</cite>", html(evidence.source));
    }
    if (!evidence.table.empty()) {
      page += fmt::format(" <span class=\"row\">{}{}</span>", html(evidence.table),
                          evidence.line == 0 ? "" : fmt::format(":{}", evidence.line));
    }
    return page + "</li>\n";
  }

  /// One drawing for each subject of the entry whose dates a query is about.
  std::string timelines_html(const SheetEntry& entry, std::uint32_t number) const {
    std::vector<Timeline> drawings;
    const std::string figure =
        entry.blocks.empty() ? "" : block_of(entry, entry.blocks.front()).figure;
    for (const std::uint32_t index : entry.queries) {
      const Query& query = run_.queries[layout_.queries[index].query];
      if (query.level >= Level::kWarning && !query.claims.empty()) {
        add_to_drawings(drawings, query, figure);
      }
    }
    std::string page;
    for (Timeline& timeline : drawings) {
      if (!is_drawable(timeline)) {
        continue;
      }
      add_lanes_around(timeline);
      add_bracket(timeline, entry);
      timeline.id = fmt::format("t{}-{}", number, page.size());
      page += fmt::format("<figure class=\"time\"><figcaption>{} in time</figcaption>{}</figure>\n",
                          html(timeline.heading), timeline_svg(timeline));
    }
    return page;
  }

  void add_to_drawings(std::vector<Timeline>& drawings, const Query& query,
                       const std::string& figure) const {
    const Claim& claim = run_.claims[query.claims.front()];
    const bool is_date = claim.kind == ClaimKind::kDate;
    const DaySet days = is_date ? claim.date.days() : claim.when.days;
    if (days.is_all() || days.empty()) {
      return;
    }
    auto found = std::find_if(drawings.begin(), drawings.end(), [&](const Timeline& timeline) {
      return timeline.subject == query.subject && timeline.days == days;
    });
    if (found == drawings.end()) {
      Timeline timeline;
      timeline.subject = query.subject;
      const bool is_figure = !figure.empty() && (query.subject.empty() || query.subject == figure);
      timeline.heading = is_figure ? figure_label(figure) : query.subject;
      timeline.days = days;
      timeline.claimed = in_words(days);
      found = drawings.insert(found, std::move(timeline));
    }
    for (const Evidence& evidence : query.evidence) {
      add_lane(*found, evidence.table, evidence.line, true);
    }
  }

  void add_lane(Timeline& timeline, std::string_view table, std::uint32_t line,
                bool is_quoted) const {
    std::optional<DatedRow> row = rows_.find(table, line);
    const bool is_there =
        row && std::any_of(timeline.lanes.begin(), timeline.lanes.end(), [&](const Lane& lane) {
          return lane.row.label == row->label && lane.row.possible == row->possible;
        });
    if (row && !is_there) {
      timeline.lanes.push_back(Lane{std::move(*row), is_quoted});
    }
  }

  /// The machine's life and those who had it, nearest the claimed date, to set the quoted rows in.
  void add_lanes_around(Timeline& timeline) const {
    for (const Airframe* row : run_.ledger.machine_of(timeline.subject)) {
      add_lane(timeline, row->row.table, row->row.line, false);
    }
    std::vector<const History*> rows = run_.ledger.history_of(timeline.subject);
    const auto distance = [&](const History* row) {
      const DaySet days = row->spell.possible();
      if (days.empty() || days.intersects(timeline.days)) {
        return Day{0};
      }
      return days.first() > timeline.days.last() ? days.first() - timeline.days.last()
                                                 : timeline.days.first() - days.last();
    };
    std::stable_sort(rows.begin(), rows.end(),
                     [&](const History* a, const History* b) { return distance(a) < distance(b); });
    for (const History* row : rows) {
      if (timeline.lanes.size() < kLanesAround) {
        add_lane(timeline, row->row.table, row->row.line, false);
      }
    }
    std::stable_sort(timeline.lanes.begin(), timeline.lanes.end(),
                     [](const Lane& a, const Lane& b) {
                       return a.row.possible.first() < b.row.possible.first();
                     });
  }

  /// The days on which the photograph could have been taken by all that is known of it but its own
  /// date, where they are limited and there are any.
  void add_bracket(Timeline& timeline, const SheetEntry& entry) const {
    DaySet days = DaySet::all();
    for (const std::uint32_t block : entry.blocks) {
      const auto here = photographs_.equal_range({entry.manuscript, block});
      for (auto at = here.first; at != here.second; ++at) {
        days = days.intersect(days_without_date(*at->second));
      }
    }
    if (!days.empty() && !days.is_all()) {
      timeline.lanes.push_back(
          Lane{DatedRow{"by all but its date", days, {}}, false, /*is_bracket=*/true});
    }
  }

  [[nodiscard]] DaySet days_without_date(const PhotographTime& photograph) const {
    DaySet days = DaySet::all();
    for (const std::uint32_t index : photograph.facts) {
      const TimeFact& fact = chronology_.facts()[index];
      if (fact.is_firm && !fact.is_relation() && fact.basis != Basis::kDate) {
        days = days.intersect(fact.allowed.days);
      }
    }
    return days;
  }

  [[nodiscard]] std::string list_of_checks_used() const {
    std::set<std::string, std::less<>> used;
    for (const SheetQuery& query : layout_.queries) {
      used.insert(run_.queries[query.query].check);
    }
    if (used.empty()) {
      return "";
    }
    std::string page = "<section class=\"checks\">\n<h2>The checks</h2>\n<dl>\n";
    for (const std::string& id : used) {
      const auto found = std::find_if(run_.checks.begin(), run_.checks.end(),
                                      [&](const CheckInfo& check) { return check.id == id; });
      page += fmt::format("<dt id=\"c-{0}\">{0}</dt><dd>{1}</dd>\n", html(id),
                          found == run_.checks.end() ? "" : html(found->summary));
    }
    return page + "</dl>\n</section>\n";
  }

  /// What the script works on. Names are given twice where they are shown and written to a file: as
  /// they are, and made harmless for the eye.
  [[nodiscard]] Json data() const {
    Json data;
    data["tool"] = kTool;
    data["version"] = TAILPROOF_VERSION;
    data["schema"] = kSheetSchema;
    data["title"] = inert(title());
    data["manuscripts"] = Json::array();
    for (const Manuscript& manuscript : run_.manuscripts) {
      data["manuscripts"].push_back(utf8_path(manuscript.path));
    }
    data["chapters"] = Json::array();
    for (const SheetChapter& chapter : layout_.chapters) {
      const std::string file = fs::path(chapter.file).filename().string();
      data["chapters"].push_back(inert(
          chapter.heading.empty() ? file : shortened(chapter.heading, 60) + " (" + file + ")"));
    }
    data["airframes"] = names(layout_.airframes);
    data["people"] = names(layout_.people);
    Json folders = Json::array();
    std::map<std::string, std::size_t> folder_at;
    data["queries"] = Json::array();
    for (const SheetQuery& shown : layout_.queries) {
      data["queries"].push_back(query_object(shown, folders, folder_at));
    }
    data["folders"] = std::move(folders);
    data["entries"] = Json::array();
    for (const SheetEntry& entry : layout_.entries) {
      data["entries"].push_back(Json{{"chapter", entry.chapter},
                                     {"airframes", entry.airframes},
                                     {"people", entry.people},
                                     {"queries", entry.queries}});
    }
    return data;
  }

  static Json names(const std::vector<std::string>& list) {
    Json shown = Json::array();
    for (const std::string& name : list) {
      shown.push_back(inert(name));
    }
    return shown;
  }

  Json query_object(const SheetQuery& shown, Json& folders,
                    std::map<std::string, std::size_t>& folder_at) const {
    const Query& query = run_.queries[shown.query];
    const std::string& path = run_.sources.path(query.span.file);
    const std::string folder = fs::path(path).parent_path().string();
    const auto [found, is_new] = folder_at.try_emplace(folder, folders.size());
    if (is_new) {
      folders.push_back(Json{{"path", inert(shown_path(folder))}, {"stets", stet_table(folder)}});
    }
    const SheetEntry& entry = layout_.entries[shown.entry];
    const std::string figure = entry.blocks.empty() ? "" : block_of(entry, shown.block).figure;
    Json object;
    object["id"] = shown.id;
    object["check"] = query.check;
    object["level"] = to_word(query.level);
    object["entry"] = shown.entry;
    object["airframes"] = shown.airframes;
    object["people"] = shown.people;
    object["folder"] = found->second;
    object["file"] = utf8_path(fs::path(path).filename().string());
    object["line"] = run_.sources.position(query.span.file, query.span.begin).line;
    object["figure"] = figure;
    object["subject"] = query.subject;
    object["message"] = query.message;
    object["stood"] = !query.stet.empty();
    return object;
  }

  /// Rows of the stets.csv that the run read in this folder, so that saving loses none.
  [[nodiscard]] Json stet_table(const std::string& folder) const {
    const std::string path = (fs::path(folder) / "stets.csv").string();
    Json rows = Json::array();
    for (FileId file = 0; file < run_.sources.size(); ++file) {
      if (run_.sources.path(file) != path) {
        continue;
      }
      Complaints told_already;
      for (const CsvRow& row : parse_csv(run_.sources.text(file), path, told_already)) {
        Json fields = Json::array();
        for (const CsvField& field : row.fields) {
          fields.push_back(field.text);
        }
        rows.push_back(std::move(fields));
      }
      break;
    }
    return rows;
  }

  const Run& run_;
  const ReportOptions& options_;
  SheetLayout layout_;
  DatedRows rows_;
  Chronology chronology_;
  std::multimap<std::pair<std::uint32_t, std::uint32_t>, const PhotographTime*>
      photographs_;  // by manuscript and block
};

}  // namespace

std::string queries_as_html(const Run& run, const ReportOptions& options) {
  return Sheet(run, options).build();
}

}  // namespace tailproof

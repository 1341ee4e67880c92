// The formats of bracket: text, json, csv.
#include <fmt/format.h>

#include "report/formats.h"
#include "report/html_text.h"
#include "report/json_parts.h"
#include "report/phrases.h"
#include "run/brackets.h"
#include "source/shown_path.h"

namespace tailproof {

namespace {

using Facts = std::vector<std::uint32_t>;

/// Days outside the end: those that its facts rule out.
DaySet beyond(const BracketEnd& end, bool is_earliest) {
  return DaySet{is_earliest ? DayRange{kFirstDay, end.day - 1} : DayRange{end.day + 1, kLastDay}};
}

std::string iso_first(const DaySet& days) { return days.empty() ? "" : iso_day(days.first()); }
std::string iso_last(const DaySet& days) { return days.empty() ? "" : iso_day(days.last()); }

Day count_of(const DaySet& days) {
  Day count = 0;
  for (const DayRange& range : days.ranges()) {
    count += range.last - range.first + 1;
  }
  return count;
}

/// The facts of a bracket in words, one format or another.
class Writer {
 public:
  Writer(const Run& run, const Chronology& chronology) : run_(run), chronology_(chronology) {}

  [[nodiscard]] std::string line(std::uint32_t of, std::uint32_t fact, const DaySet& days,
                                 FactSense sense, std::string_view indent) const {
    const TimeFact& item = chronology_.facts()[fact];
    std::string text = fmt::format("{}{}\n", indent, chronology_.in_words_beside(of, item, sense));
    for (const Evidence& row : chronology_.evidence(item, days)) {
      text += fmt::format("{}    {}\n", indent, line_of(row));
    }
    return text;
  }

  [[nodiscard]] std::string end(std::uint32_t of, std::string_view words, const BracketEnd& end,
                                bool is_earliest, FactSense sense) const {
    if (!end.is_known) {
      return "";
    }
    std::string text = fmt::format("    {} {}\n", words, in_words(end.day));
    for (const std::uint32_t fact : end.facts) {
      text += line(of, fact, beyond(end, is_earliest), sense, "        ");
    }
    return text;
  }

  [[nodiscard]] Json fact(std::uint32_t of, std::uint32_t id, const DaySet& days,
                          FactSense sense) const {
    const TimeFact& item = chronology_.facts()[id];
    Json object;
    object["says"] = chronology_.in_words_beside(of, item, sense);
    if (const Claim* claim = chronology_.claim_of(item)) {
      add_place(object, run_.sources, claim->span);
    }
    object["evidence"] = Json::array();
    for (const Evidence& row : chronology_.evidence(item, days)) {
      object["evidence"].push_back(evidence_object(row));
    }
    return object;
  }

  [[nodiscard]] Json end_object(std::uint32_t of, const BracketEnd& end, bool is_earliest,
                                FactSense sense) const {
    Json object;
    object["day"] = end.is_known ? iso_day(end.day) : "";
    object["facts"] = Json::array();
    for (const std::uint32_t id : end.facts) {
      object["facts"].push_back(fact(of, id, beyond(end, is_earliest), sense));
    }
    return object;
  }

  [[nodiscard]] std::string joined(std::uint32_t of, const Facts& facts,
                                   FactSense sense = FactSense::kLinked) const {
    std::string text;
    for (const std::uint32_t id : facts) {
      text += text.empty() ? "" : "; ";
      text += chronology_.in_words_beside(of, chronology_.facts()[id], sense);
    }
    return text;
  }

 private:
  const Run& run_;
  const Chronology& chronology_;
};

std::string narrowing_in_words(const Narrowing& narrowing) {
  const std::string_view what =
      narrowing.what == "serial" ? "serial, read in full," : narrowing.what;
  return fmt::format("the {} would narrow it most: {} possible, leaving {} of {} on average", what,
                     narrowing.candidates, narrowing.days_then,
                     counted(static_cast<std::size_t>(narrowing.days_now), "day"));
}

/// Whether a tenth or more of the days would go.
bool is_worth_knowing(const Narrowing& narrowing) {
  return !narrowing.what.empty() && narrowing.days_then * 10 <= narrowing.days_now * 9;
}

std::string as_text(const Writer& writer, const PhotographBracket& row) {
  const Bracket& bracket = row.bracket;
  if (!bracket.clash.empty()) {
    std::string text = " no day; these cannot all be true\n";
    for (const std::uint32_t fact : bracket.clash) {
      text += writer.line(row.photograph, fact, DaySet::all(), FactSense::kPossible, "    ");
    }
    return text;
  }
  if (bracket.days.is_all() && !bracket.usual_earliest.is_known && !bracket.usual_latest.is_known) {
    return " any date; nothing that it states, here or in the ledger, dates the picture\n";
  }
  std::string text = " " + in_words(bracket.days) + "\n";
  const bool is_one_reason = bracket.earliest.is_known && bracket.latest.is_known &&
                             bracket.earliest.facts == bracket.latest.facts;
  if (is_one_reason) {
    for (const std::uint32_t fact : bracket.earliest.facts) {
      text +=
          writer.line(row.photograph, fact, bracket.days.complement(), FactSense::kLinked, "    ");
    }
  } else {
    text += writer.end(row.photograph, "not before", bracket.earliest, true, FactSense::kLinked);
    text += writer.end(row.photograph, "not after", bracket.latest, false, FactSense::kLinked);
  }
  for (const BracketGap& gap : bracket.gaps) {
    if (is_one_reason && gap.facts == bracket.earliest.facts) continue;
    text += "    nor " + in_words(DaySet{gap.days}) + "\n";
    for (const std::uint32_t fact : gap.facts) {
      text += writer.line(row.photograph, fact, DaySet{gap.days}, FactSense::kLinked, "        ");
    }
  }
  if (!bracket.widened.empty() && bracket.widened != bracket.days) {
    text += fmt::format("    with every margin {}\n", in_words(bracket.widened));
  }
  text += writer.end(row.photograph, "usually not before", bracket.usual_earliest, true,
                     FactSense::kRecorded);
  text += writer.end(row.photograph, "usually not after", bracket.usual_latest, false,
                     FactSense::kRecorded);
  if (is_worth_knowing(row.narrowing)) {
    text += "    " + narrowing_in_words(row.narrowing) + "\n";
  }
  return text;
}

std::string cell(std::string_view text) {
  if (text.find_first_of(",\"\r\n") == std::string_view::npos) {
    return std::string(text);
  }
  std::string quoted = "\"";
  for (const char c : text) {
    quoted += c == '"' ? "\"\"" : std::string(1, c);
  }
  return quoted + "\"";
}

}  // namespace

std::string bracket_as_text(const Run& run, const ReportOptions& options) {
  const Brackets brackets = brackets_of(run, options.places);
  const Writer writer(run, brackets.chronology);
  std::string text;
  for (const PhotographBracket& row : brackets.rows) {
    const PhotographTime& photograph = brackets.chronology.photographs()[row.photograph];
    text += place_of(run.sources, photograph.span) + ": " +
            brackets.chronology.name_of(row.photograph) + ":" + as_text(writer, row);
  }
  if (brackets.rows.empty()) {
    text = "no caption in " + counted(run.manuscripts.size(), "manuscript") + "\n";
  }
  return inert(text);
}

std::string bracket_as_json(const Run& run, const ReportOptions& options) {
  const Brackets brackets = brackets_of(run, options.places);
  const Writer writer(run, brackets.chronology);
  Json report;
  report["tool"] = kTool;
  report["version"] = TAILPROOF_VERSION;
  report["ledger"] = utf8_path(run.ledger.path());
  report["photographs"] = Json::array();
  for (const PhotographBracket& row : brackets.rows) {
    const PhotographTime& photograph = brackets.chronology.photographs()[row.photograph];
    const Bracket& bracket = row.bracket;
    Json object;
    add_place(object, run.sources, photograph.span);
    object["figure"] = std::string(photograph.figure);
    object["name"] = brackets.chronology.name_of(row.photograph);
    object["earliest"] =
        writer.end_object(row.photograph, bracket.earliest, true, FactSense::kLinked);
    object["latest"] = writer.end_object(row.photograph, bracket.latest, false, FactSense::kLinked);
    object["days"] = Json::array();
    for (const DayRange& range : bracket.days.ranges()) {
      object["days"].push_back(Json::array({iso_day(range.first), iso_day(range.last)}));
    }
    object["gaps"] = Json::array();
    for (const BracketGap& gap : bracket.gaps) {
      Json one;
      one["days"] = Json::array({iso_day(gap.days.first), iso_day(gap.days.last)});
      one["facts"] = Json::array();
      for (const std::uint32_t id : gap.facts) {
        one["facts"].push_back(
            writer.fact(row.photograph, id, DaySet{gap.days}, FactSense::kLinked));
      }
      object["gaps"].push_back(std::move(one));
    }
    object["with_margins"] = Json::array({iso_first(bracket.widened), iso_last(bracket.widened)});
    object["usually_earliest"] =
        writer.end_object(row.photograph, bracket.usual_earliest, true, FactSense::kRecorded);
    object["usually_latest"] =
        writer.end_object(row.photograph, bracket.usual_latest, false, FactSense::kRecorded);
    object["clash"] = Json::array();
    for (const std::uint32_t id : bracket.clash) {
      object["clash"].push_back(
          writer.fact(row.photograph, id, DaySet::all(), FactSense::kPossible));
    }
    Json narrowing;
    narrowing["fact"] = std::string(row.narrowing.what);
    narrowing["candidates"] = row.narrowing.candidates;
    narrowing["days_now"] = row.narrowing.days_now;
    narrowing["days_then"] = row.narrowing.days_then;
    object["narrowing"] = std::move(narrowing);
    report["photographs"].push_back(std::move(object));
  }
  report["schema"] = kBracketSchema;
  return indented(report);
}

std::string bracket_as_csv(const Run& run, const ReportOptions& options) {
  const Brackets brackets = brackets_of(run, options.places);
  const Writer writer(run, brackets.chronology);
  std::string text =
      "file,line,figure,earliest,latest,days,earliest_by,latest_by,usually_earliest,"
      "usually_latest,clash,narrowed_most_by,days_then\r\n";
  for (const PhotographBracket& row : brackets.rows) {
    const PhotographTime& photograph = brackets.chronology.photographs()[row.photograph];
    const Bracket& bracket = row.bracket;
    const auto day = [](const BracketEnd& end) { return end.is_known ? iso_day(end.day) : ""; };
    const bool is_bounded = bracket.earliest.is_known && bracket.latest.is_known;
    const Narrowing& narrowing = row.narrowing;
    const std::string cells[] = {
        shown_path(run.sources.path(photograph.span.file)),
        std::to_string(run.sources.position(photograph.span.file, photograph.span.begin).line),
        std::string(photograph.figure),
        day(bracket.earliest),
        day(bracket.latest),
        is_bounded ? std::to_string(count_of(bracket.days)) : "",
        writer.joined(row.photograph, bracket.earliest.facts),
        writer.joined(row.photograph, bracket.latest.facts),
        day(bracket.usual_earliest),
        day(bracket.usual_latest),
        writer.joined(row.photograph, bracket.clash, FactSense::kPossible),
        std::string(narrowing.what),
        narrowing.what.empty() ? "" : std::to_string(narrowing.days_then)};
    std::string line;
    for (const std::string& value : cells) {
      line += (&value == cells ? "" : ",") + cell(value);
    }
    text += line + "\r\n";
  }
  return text;
}

}  // namespace tailproof

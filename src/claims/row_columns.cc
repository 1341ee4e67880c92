// What the columns of a row hold, and what stands in one cell with what.
#include <algorithm>
#include <memory>

#include "claims/table_row.h"
#include "grammars/fold.h"

namespace tailproof {

bool BlockAssembler::Row::has_digit(std::string_view text) {
  return std::any_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
}

// What stands over this place of the row; "" where nothing does.
std::string_view BlockAssembler::Row::heading_at(std::uint32_t offset) const {
  const std::size_t cell = cell_of(offset);
  if (cell >= a_.block_.cells.size() || a_.block_.cells[cell].column >= headings_.size()) return {};
  return headings_[a_.block_.cells[cell].column];
}

// What the column at this place of the row holds: a value of the list column_heading, or "".
std::string BlockAssembler::Row::column_of(std::uint32_t offset) const {
  const WordList* known = a_.lexicon_.grammars().list("column_heading");
  const std::string heading(heading_at(offset));
  if (known == nullptr || heading.empty()) return {};
  std::string_view value = known->value_of(heading);
  // "First letters", "Last unit": what is told of, and when.
  const WordList* times = a_.lexicon_.grammars().list("heading_time");
  const std::size_t blank = heading.find(' ');
  if (value.empty() && times != nullptr && blank != std::string::npos &&
      !times->value_of(fold(heading.substr(0, blank))).empty())
    value = known->value_of(heading.substr(blank + 1));
  // "Unit, June 1942", "Rank in 1942": the day is told as well.
  for (std::size_t end = heading.size(); value.empty() && has_digit(heading) && end > 0;) {
    end = heading.find_last_of(" ,(", end - 1);
    if (end == std::string::npos) break;
    if (!has_digit(std::string_view(heading).substr(0, end)))
      value = known->value_of(heading.substr(0, end));
  }
  // "Serial | Number": the number is the code.
  const bool is_second =
      value == "serial code" &&
      std::any_of(headings_.begin(), headings_.end(),
                  [&](const std::string& other) { return known->value_of(other) == "serial"; });
  return is_second ? "code" : std::string(value.substr(0, value.find(' ')));
}

// Whether its heading ("Delivered") tells of the days around the paper date.
bool BlockAssembler::Row::is_near_column(std::uint32_t offset) const {
  const WordList* headings = a_.lexicon_.grammars().list("column_heading");
  return headings != nullptr && headings->value_of(heading_at(offset)).ends_with(" near");
}

const TableCaption& BlockAssembler::Row::caption() const {
  const std::string_view text = a_.block_.table == kNone
                                    ? std::string_view{}
                                    : a_.manuscript_.tables[a_.block_.table].caption;
  if (a_.focus_.table_caption == nullptr || a_.focus_.table_caption->text != text) {
    a_.focus_.table_caption = std::make_shared<const TableCaption>(
        read_table_caption(text, a_.finder_, a_.lexicon_.grammars()));
  }
  return *a_.focus_.table_caption;
}

// The cell at this place of the row; as many as there are cells when it lies in none.
std::size_t BlockAssembler::Row::cell_of(std::uint32_t offset) const {
  for (std::size_t c = 0; c < a_.block_.cells.size(); ++c) {
    if (offset >= a_.block_.cells[c].begin && offset < a_.block_.cells[c].end) return c;
  }
  return a_.block_.cells.size();
}

// "R2001 (NV-A), R2004 (NV-D)" in one cell: the serial that stands right before a code.
const Mention* BlockAssembler::Row::serial_in_cell_before(const Mention& code) const {
  if (code.role != "code" && code.role != "nickname") return nullptr;
  constexpr std::uint32_t kReach = 2;
  for (const Mention& other : a_.mentions_.items) {
    const bool is_before = other.kind == MentionKind::kAirframe && other.role.empty() &&
                           other.last <= code.first && code.first - other.last <= kReach &&
                           cell_of(other.begin) == cell_of(code.begin);
    if (is_before) return &other;
  }
  return nullptr;
}

// "To the School, July 1939; scrapped, 14 September 1942": each part of a cell that tells a story
// has the date that stands with it, and no other. A word behind a date that is followed by one of
// its own is that one's.
const Mention* BlockAssembler::Row::event_in_cell(const Mention& date) const {
  const std::size_t cell = cell_of(date.begin);
  const auto is_beside = [&](const Mention& other) { return cell_of(other.begin) == cell; };
  const auto is_free_between = [&](std::uint32_t from, std::uint32_t to) {
    for (std::uint32_t t = from; t < to; ++t) {
      if (a_.word(t) == ";") return false;
    }
    return !a_.any_mention(MentionKind::kDate, [&](const Mention& other) {
      return other.first >= from && other.last <= to;
    });
  };
  const auto has_own_behind = [&](const Mention& cue) {
    return a_.any_mention(MentionKind::kDate, [&](const Mention& other) {
      return is_beside(other) && other.first >= cue.last && is_free_between(cue.last, other.first);
    });
  };
  const Mention* before = nullptr;
  const Mention* behind = nullptr;
  for (const Mention& cue : a_.cues_of("cue_event")) {
    if (!is_beside(cue)) continue;
    if (cue.first > 0 && a_.is_in("remains_noun", cue.first - 1))
      continue;  // "wreck sold, May 1942"
    if (cue.last <= date.first && is_free_between(cue.last, date.first)) before = &cue;
    if (behind == nullptr && cue.first >= date.last && is_free_between(date.last, cue.first) &&
        !has_own_behind(cue)) {
      behind = &cue;
    }
  }
  return before != nullptr ? before : behind;
}

// "Collided with a Corlan": another machine's type, among what befell this one.
bool BlockAssembler::Row::is_met(const Mention& type) const {
  std::uint32_t t = type.first;
  if (t == 0 || !a_.is_in("unnamed_article", t - 1)) return false;
  --t;
  return t > 1 && a_.is_in("object_preposition", t - 1) && a_.tells_verb(t - 2);
}

}  // namespace tailproof

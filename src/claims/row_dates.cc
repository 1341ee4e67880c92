// Dates of a table's rows: what the columns leave to each other, and what its headings and its
// caption date.
#include <algorithm>
#include <array>

#include "claims/table_row.h"
#include "mentions/event_words.h"

namespace tailproof {
namespace {

bool is_end(std::string_view event) { return event == "struck_off_charge" || event == "lost"; }

bool is_code(const Claim& claim) {
  return claim.kind == ClaimKind::kAirframe && claim.role == "code";
}

// The unit by whose name a column goes; nullptr for any other.
const Unit* unit_called(const Ledger& ledger, std::string_view heading) {
  const auto keys = ledger.resolve(NameKind::kUnit, heading);
  return keys.size() == 1 ? ledger.unit(keys.front()) : nullptr;
}

}  // namespace

// A column of dates under "taken on charge" states that event; under "end" the words in the cell
// do.
void BlockAssembler::Row::add_date(const Mention& mention) {
  constexpr std::array<std::string_view, 3> kEventColumns = {"taken_on_charge", "struck_off_charge",
                                                             "lost"};
  const ResolvedDate& resolved = a_.dates_[mention.payload];
  const Edtf& value = resolved.date;
  if (value.is_unknown() && !resolved.impossible) return;
  const std::string column = column_of(mention.begin);
  std::string kind = column;
  const Mention* words = event_in_cell(mention);
  if (words != nullptr) {
    kind = words->value;
  } else if (column == "date" && a_.cues_of("cue_event").empty()) {
    kind = caption().end;
  }
  std::uint32_t event = kNone;
  const bool is_told = words != nullptr || (kind != column && !kind.empty());
  if (is_told ||
      std::find(kEventColumns.begin(), kEventColumns.end(), kind) != kEventColumns.end()) {
    event = static_cast<std::uint32_t>(a_.out_.size());
    Claim& claim = a_.add(words != nullptr ? *words : mention, ClaimKind::kEvent);
    const bool is_near =
        words != nullptr ? (words->payload & kEventNear) != 0 : is_near_column(mention.begin);
    if (is_near) claim.said |= kSaidNear;
    claim.value = kind;
    claim.subject = subject_;
  }
  const DateMention& date = a_.mentions_.dates[mention.payload];
  Claim& claim = a_.add(mention, ClaimKind::kDate);
  claim.date = value;
  claim.value = resolved.impossible ? std::string(a_.text_of(mention))
                                    : claimed_text(value, a_.ledger_.settings().hemisphere);
  claim.impossible = resolved.impossible;
  claim.known = !resolved.impossible;
  if (resolved.impossible && a_.finder_.explains()) claim.why += "; " + resolved.what;
  claim.weekday = date.weekday;
  claim.hedged = claim.hedged || date.hedged;
  claim.of = "event";
  claim.event = event;
  claim.subject = subject_;
  claim.inherited = resolved.inherited;
  if (resolved.impossible) return;
  When when;
  when.known = true;
  when.days = value.days();
  when.widened = value.widened(a_.ledger_.settings().margins);
  when.hedged = claim.hedged;
  when.date = static_cast<std::uint32_t>(a_.out_.size() - 1);
  claim.when = when;
  if (event != kNone) a_.out_[event].when = when;
}

// "Novice Lance" over a column of days, which stand alone in their cells: the machine came to the
// unit then.
void BlockAssembler::Row::add_units_of_headings() {
  const std::size_t count = a_.out_.size();
  for (std::size_t i = a_.first_claim_; i < count; ++i) {
    const Claim& date = a_.out_[i];
    if (date.kind != ClaimKind::kDate || date.event != kNone || date.subject.empty() ||
        date.impossible)
      continue;
    const Unit* unit = unit_called(a_.ledger_, heading_at(date.begin));
    const Mention* words = a_.mention_over(MentionKind::kDate, a_.token_at(date.begin));
    if (unit == nullptr || words == nullptr) continue;
    const When when = date.when;
    Claim& claim = a_.add(*words, ClaimKind::kUnit);
    claim.value = unit->unit;
    claim.subject = subject_;
    claim.when = when;
    claim.said |= kSaidNear;
    if (a_.finder_.explains()) claim.why = "the column's heading names it";
  }
}

// "To the School, July 1939": a cell whose date dates what else the cell names.
bool BlockAssembler::Row::has_story(std::uint32_t offset) const {
  const std::size_t cell = cell_of(offset);
  const auto& items = a_.mentions_.items;
  return std::any_of(items.begin(), items.end(), [&](const Mention& other) {
    const bool is_state = other.kind == MentionKind::kUnit || other.kind == MentionKind::kPlace ||
                          other.kind == MentionKind::kMarking ||
                          (other.kind == MentionKind::kCue && other.role == kEventCue);
    return is_state && cell_of(other.begin) == cell;
  });
}

// "Off charge" has the day on which it was scrapped in the next column.
void BlockAssembler::Row::date_other_ends() {
  for (const Claim& end : claims()) {
    if (end.kind != ClaimKind::kEvent || !end.when.known || !is_end(end.value)) continue;
    for (Claim& other : claims()) {
      const bool is_other_end = other.kind == ClaimKind::kEvent && !other.when.known &&
                                other.subject == end.subject &&
                                (is_end(other.value) || other.value == "accident");
      if (is_other_end) other.when = end.when;
    }
  }
}

// "43-301 | allotted | 3 Flot | 1.3.43": the one date of a row whose column says no more of it than
// that it is one dates the events of the other cells.
void BlockAssembler::Row::date_events() {
  date_other_ends();
  Claim* date = nullptr;
  for (Claim& claim : claims()) {
    if (claim.kind != ClaimKind::kDate || claim.event != kNone) continue;
    const std::string column = column_of(claim.begin);
    const bool is_plain = column.empty() ? !has_story(claim.begin) : column == "date";
    if (!is_plain || unit_called(a_.ledger_, heading_at(claim.begin)) != nullptr) continue;
    if (date != nullptr) return;
    date = &claim;
  }
  if (date == nullptr || date->impossible) return;
  for (Claim& event : claims()) {
    if (event.kind != ClaimKind::kEvent || event.when.known) continue;
    event.when = date->when;
    if (date->event == kNone) date->event = static_cast<std::uint32_t>(&event - a_.out_.data());
    date->of = "event";
  }
}

// "61 Sqn 1.3.39 (FA-D); 64 Sqn 15.2.43": of a cell that tells a machine's units in turn, each item
// has the day on which the machine came to the unit, or thereabouts.
void BlockAssembler::Row::date_units_in_turn() {
  constexpr Day kLongest = 31, kSlack = 31;
  const WordList* mending = a_.lexicon_.grammars().list("mending_unit_kind");
  for (Claim& unit : claims()) {
    const Unit* row = a_.ledger_.unit(unit.value);
    if (unit.kind != ClaimKind::kUnit || unit.when.known || unit.tense != Tense::kThen ||
        row == nullptr || (mending != nullptr && !mending->value_of(row->kind).empty()))
      continue;
    const std::size_t at = cell_of(unit.begin);
    if (at >= a_.block_.cells.size()) continue;
    const Cell& cell = a_.block_.cells[at];
    const std::string_view text = std::string_view(a_.block_.text).substr(0, cell.end);
    const std::size_t before = text.rfind(';', unit.begin);
    const std::size_t begin =
        before == std::string_view::npos || before < cell.begin ? cell.begin : before;
    const std::size_t end = std::min(text.find(';', unit.end), text.size());
    const Claim* date = nullptr;
    bool is_plain = true;
    for (const Claim& other : claims()) {
      if (&other == &unit || other.begin < begin || other.end > end) continue;
      const bool is_date = other.kind == ClaimKind::kDate && date == nullptr &&
                           other.begin >= unit.end && !other.impossible && other.event == kNone &&
                           other.when.known && !other.when.days.empty();
      if (is_date) date = &other;
      is_plain = is_plain && (is_code(other) || is_date);
    }
    const bool has_turns = before != std::string_view::npos || end < text.size();
    if (!is_plain || date == nullptr || !has_turns ||
        date->when.days.last() - date->when.days.first() > kLongest)
      continue;
    unit.when = date->when;
    unit.when.days = unit.when.days.widened(kSlack);
    unit.when.widened = unit.when.widened.widened(kSlack);
    unit.said |= kSaidStretch;  // days between two units are no stay with a third
  }
}

// The day on which a row's machine is said to be with its unit, at its place: the one date of the
// row, under a heading that says no more of it than that it is one; else that of a table's caption
// which says that the table tells how things stood ("Where they stood, July 1941").
When BlockAssembler::Row::when_it_stood() const {
  const Claim* date = nullptr;
  for (const Claim& claim : claims()) {
    if (claim.kind != ClaimKind::kDate) continue;
    // What the table's caption tells of every row dates the rest of it as well.
    const bool is_plain = (claim.event == kNone || a_.out_[claim.event].begin == claim.begin) &&
                          column_of(claim.begin) == "date";
    if (date != nullptr || !is_plain || claim.impossible) return {};
    date = &claim;
  }
  return date != nullptr ? date->when : caption().when(false, a_.ledger_.settings().margins);
}

// "Unit, June 1942", "1941 | 1942 | late 1943": the heading dates what stands below it.
void BlockAssembler::Row::date_states_by_headings() {
  for (const Cell& cell : a_.block_.cells) {
    if (cell.column >= headings_.size() || !has_digit(headings_[cell.column])) continue;
    const auto is_here = [&](const auto& one) {
      return one.begin >= cell.begin && one.end <= cell.end;
    };
    // "Captain (from 1944)": of a time of its own.
    const bool has_own = a_.any_mention(MentionKind::kDate, is_here);
    // "Letters, before and after June 1942": one of before, and one of after.
    const std::span<Claim> all = claims();
    const auto codes = std::count_if(all.begin(), all.end(), [&](const Claim& claim) {
      return is_code(claim) && is_here(claim);
    });
    if (has_own || codes > 1) continue;
    const When when = read_table_caption(headings_[cell.column], a_.finder_, a_.lexicon_.grammars())
                          .when(true, a_.ledger_.settings().margins);
    if (!when.known) continue;
    for (Claim& claim : all) {
      const bool is_state = claim.kind == ClaimKind::kPlace || claim.kind == ClaimKind::kMarking ||
                            claim.kind == ClaimKind::kUnit || claim.kind == ClaimKind::kRank ||
                            is_code(claim);
      if (is_state && is_here(claim) && claim.tense == Tense::kThen && !claim.when.known)
        claim.when = when;
    }
  }
}

void BlockAssembler::Row::date_states() {
  if (a_.block_.table == kNone) return;
  date_states_by_headings();
  const std::span<Claim> all = claims();
  const When when = when_it_stood();
  if (!when.known) {
    // Of two codes in a row one may be of before and one of after.
    if (std::count_if(all.begin(), all.end(), is_code) != 1) return;
    Claim& code = *std::find_if(all.begin(), all.end(), is_code);
    if (code.tense == Tense::kThen && !code.when.known)
      code.when = caption().when(true, a_.ledger_.settings().margins);
    return;
  }
  const auto units = std::count_if(
      all.begin(), all.end(), [](const Claim& claim) { return claim.kind == ClaimKind::kUnit; });
  for (Claim& claim : all) {
    const bool is_state = claim.kind == ClaimKind::kPlace || claim.kind == ClaimKind::kMarking ||
                          (claim.kind == ClaimKind::kUnit && units == 1) || is_code(claim);
    if (is_state && claim.tense == Tense::kThen && !claim.when.known) claim.when = when;
  }
}

}  // namespace tailproof

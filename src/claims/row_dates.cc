// Dates of a table's rows: what the columns leave to each other.
#include <algorithm>

#include "claims/assembler.h"
#include "mentions/event_words.h"

namespace tailproof {
namespace {

bool is_end(std::string_view event) { return event == "struck_off_charge" || event == "lost"; }

// The unit by whose name a column goes; nullptr for any other.
const Unit* unit_called(const Ledger& ledger, std::string_view heading) {
  const auto keys = ledger.resolve(NameKind::kUnit, heading);
  return keys.size() == 1 ? ledger.unit(keys.front()) : nullptr;
}

}  // namespace

// What stands over this place of the row; "" where nothing does.
std::string_view BlockAssembler::heading_of(std::uint32_t offset) const {
  if (block_.table == kNone) return {};
  const std::size_t cell = cell_of(offset);
  const Table& table = manuscript_.tables[block_.table];
  if (cell >= block_.cells.size() || block_.cells[cell].column >= table.headings.size()) return {};
  return table.headings[block_.cells[cell].column];
}

// "Novice Lance" over a column of days, which stand alone in their cells: the machine came to the
// unit then.
void BlockAssembler::add_units_of_headings() {
  const std::size_t count = out_.size();
  for (std::size_t i = first_claim_; i < count; ++i) {
    if (out_[i].kind != ClaimKind::kDate || out_[i].event != kNone || out_[i].subject.empty() ||
        out_[i].impossible)
      continue;
    const Unit* unit = unit_called(ledger_, heading_of(out_[i].begin));
    const Mention* words = mention_over(MentionKind::kDate, token_at(out_[i].begin));
    if (unit == nullptr || words == nullptr) continue;
    const When when = out_[i].when;
    const std::string subject = out_[i].subject;
    Claim& claim = add(*words, ClaimKind::kUnit);
    claim.value = unit->unit;
    claim.subject = subject;
    claim.when = when;
    claim.said |= kSaidNear;
    if (finder_.explains()) claim.why = "the column's heading names it";
  }
}

// "Collided with a Corlan": another machine's type, among what befell this one.
bool BlockReading::is_met_in_row(const Mention& type) const {
  std::uint32_t t = type.first;
  if (t == 0 || !is_in("unnamed_article", t - 1)) return false;
  --t;
  return t > 1 && is_in("object_preposition", t - 1) && tells_verb(t - 2);
}

// "43-301 | allotted | 3 Flot | 1.3.43": the one date of a row whose column says no more of it than
// that it is one dates the events of the other cells.
void BlockAssembler::date_row_events() {
  add_units_of_headings();
  // "To the School, July 1939": a cell whose date dates what else the cell names.
  const auto has_story = [&](std::uint32_t offset) {
    const std::size_t cell = cell_of(offset);
    return std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
      const bool is_state = other.kind == MentionKind::kUnit || other.kind == MentionKind::kPlace ||
                            other.kind == MentionKind::kMarking ||
                            (other.kind == MentionKind::kCue && other.role == kEventCue);
      return is_state && cell_of(other.begin) == cell;
    });
  };
  // "Off charge" has the day on which it was scrapped in the next column.
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    if (out_[i].kind != ClaimKind::kEvent || !out_[i].when.known || !is_end(out_[i].value))
      continue;
    for (std::size_t j = first_claim_; j < out_.size(); ++j) {
      Claim& other = out_[j];
      const bool is_other_end = other.kind == ClaimKind::kEvent && !other.when.known &&
                                other.subject == out_[i].subject &&
                                (is_end(other.value) || other.value == "accident");
      if (is_other_end) other.when = out_[i].when;
    }
  }
  std::uint32_t date = kNone;
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    if (out_[i].kind != ClaimKind::kDate) continue;
    const std::string column = column_of(out_[i].begin);
    if (unit_called(ledger_, heading_of(out_[i].begin)) != nullptr) continue;
    if (out_[i].event != kNone || (!column.empty() && column != "date")) continue;
    if (column.empty() && has_story(out_[i].begin)) continue;
    if (date != kNone) return;
    date = static_cast<std::uint32_t>(i);
  }
  if (date == kNone || out_[date].impossible) return;
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    Claim& event = out_[i];
    if (event.kind != ClaimKind::kEvent || event.when.known) continue;
    event.when = out_[date].when;
    if (out_[date].event == kNone) out_[date].event = static_cast<std::uint32_t>(i);
    out_[date].of = "event";
  }
}

}  // namespace tailproof

#include "claims/table_row.h"

#include <algorithm>

#include "grammars/fold.h"
#include "mentions/event_words.h"

namespace tailproof {
namespace {

const std::vector<std::string> kNoHeadings;

// The one unit whose name begins with the number: "No. 2 Echelon", "2 Service Column".
const Unit* unit_of_number(const Ledger& ledger, std::string_view number) {
  const std::string told = fold(number) + " ";
  const auto fits = [&](const std::string& name) {
    const std::string folded = fold(name);
    const bool is_number = folded.starts_with("no. ") || folded.starts_with("no ");
    return folded.starts_with(told) ||
           (is_number && folded.substr(folded.find(' ') + 1).starts_with(told));
  };
  const Unit* only = nullptr;
  for (const Unit& unit : ledger.units()) {
    if (!fits(unit.unit) && std::none_of(unit.aliases.begin(), unit.aliases.end(), fits)) continue;
    if (only != nullptr) return nullptr;
    only = &unit;
  }
  return only;
}

}  // namespace

BlockAssembler::Row::Row(BlockAssembler& block)
    : a_(block),
      headings_(block.block_.table == kNone
                    ? kNoHeadings
                    : block.manuscript_.tables[block.block_.table].headings) {}

void BlockAssembler::Row::read() {
  name_units_by_number();
  find_subject();
  if (!subject_.empty()) {
    if (!headings_.empty()) a_.attribute_columns(headings_);
    for (const Mention& mention : a_.mentions_.items) add_claims(mention);
    add_units_of_headings();
    date_events();
    a_.settle_event_kinds();
    add_end_places();
  }
  add_people();
  if (!subject_.empty()) {
    add_counts_of_range();
    add_marks();
    add_bare_codes();
    date_units_in_turn();
  }
  date_states();
}

// "No. 2" in a column of units is no number that a machine wore.
void BlockAssembler::Row::name_units_by_number() {
  bool has_units = false;
  for (Mention& mention : a_.mentions_.items) {
    if (mention.kind != MentionKind::kAirframe || mention.role != "code" ||
        !column_of(mention.begin).starts_with("unit"))
      continue;
    const Unit* unit = unit_of_number(a_.ledger_, a_.text_of(mention));
    mention.kind = unit != nullptr ? MentionKind::kUnit : MentionKind::kCue;
    mention.role = {};
    mention.known = unit != nullptr;
    if (unit != nullptr) mention.value = Spelling(unit->unit);
    has_units = true;
  }
  if (has_units) a_.index_mentions();
}

// The serial in the column of serials, else any. A row may know the machine only by the number that
// it had then; of two such, a batch begins and ends.
void BlockAssembler::Row::find_subject() {
  for (const bool by_heading : {true, false}) {
    for (const Mention& mention : a_.mentions_of(MentionKind::kAirframe)) {
      if (!mention.role.empty() || (by_heading && column_of(mention.begin) != "serial")) continue;
      subject_ = mention.value;
      return;
    }
  }
  std::size_t numbers = 0;
  for (const Mention& mention : a_.mentions_of(MentionKind::kAirframe)) {
    const bool is_number = mention.role == "previous_serial" || mention.role == "later_serial";
    if (is_number && numbers++ == 0) former_ = &mention;
  }
  if (numbers != 1) former_ = nullptr;
  if (former_ != nullptr) subject_ = former_->value;
}

void BlockAssembler::Row::add_claims(const Mention& mention) {
  switch (mention.kind) {
    case MentionKind::kAirframe:
      return add_airframe(mention);
    case MentionKind::kType:
      return add_type(mention);
    case MentionKind::kUnit: {
      const std::string column = column_of(mention.begin);
      Claim& claim = a_.add(mention, ClaimKind::kUnit);
      claim.subject = subject_;
      if (column == "holder" || column == "operator") claim.role = column;
      return;
    }
    case MentionKind::kPlace:
      if (column_of(mention.begin) == "fate") return;  // where it ended is not where it was
      a_.add(mention, ClaimKind::kPlace).subject = subject_;
      return;
    case MentionKind::kDate:
      return add_date(mention);
    case MentionKind::kCue:
      return add_event(mention);
    case MentionKind::kReference:
    case MentionKind::kPhotograph:
      return add_reference(mention);
    default:
      return;
  }
}

void BlockAssembler::Row::add_airframe(const Mention& mention) {
  const std::string column = column_of(mention.begin);
  Claim& claim = a_.add(mention, ClaimKind::kAirframe);
  const Mention* owner = serial_in_cell_before(mention);
  claim.subject = owner != nullptr ? std::string(owner->value) : subject_;
  if (mention.value == subject_ && mention.role.empty()) return;
  if (&mention == former_) {
    claim.role = mention.role;
    claim.value = mention.detail;
    return;
  }
  claim.role = !mention.role.empty() ? mention.role : column == "serial" ? "" : column;
  if (!mention.detail.empty() && mention.role != "code") claim.value = mention.detail;
  if (claim.role.empty()) {
    claim.subject = mention.value;
  } else if (claim.role == "fate" || claim.role == "units" || claim.role == "unit") {
    const auto serials = a_.ledger_.serials_of(subject_);
    const bool is_same = std::find(serials.begin(), serials.end(), mention.value) != serials.end();
    claim.role = is_same ? "later_serial" : "";
    if (!is_same) claim.subject = mention.value;
  }
  claim.tense = claim.role == "previous_serial" ? Tense::kFormer
                : claim.role == "later_serial"  ? Tense::kLater
                                                : Tense::kThen;
}

void BlockAssembler::Row::add_type(const Mention& mention) {
  if (is_met(mention)) return;
  Claim& claim = a_.add(mention, ClaimKind::kType);
  claim.subject = subject_;
  if (mention.detail.empty()) return;
  claim.value = std::string(mention.value) + " " + std::string(mention.detail);
  // "Mk I" alone, which several types have: that of the row's machine.
  if (mention.role != "mark alone") return;
  const Airframe* row = a_.ledger_.airframe(subject_);
  for (std::string& reading : claim.readings) {
    const bool is_own = row != nullptr && reading == row->type;
    reading += " " + std::string(mention.detail);
    if (is_own) claim.value = reading;
  }
}

// Words of an event whose cell has no date; those beside a date are its own.
void BlockAssembler::Row::add_event(const Mention& words) {
  const std::size_t cell = cell_of(words.begin);
  const bool has_date = a_.any_mention(
      MentionKind::kDate, [&](const Mention& date) { return cell_of(date.begin) == cell; });
  if (words.role != kEventCue || has_date || column_of(words.begin) == "serial") return;
  a_.add(words, ClaimKind::kEvent).subject = subject_;
}

void BlockAssembler::Row::add_reference(const Mention& mention) {
  Claim& claim = a_.add(mention, ClaimKind::kReference);
  claim.role = mention.kind == MentionKind::kPhotograph ? "photograph" : "";
  claim.subject = subject_;
}

// "Burnt out at the Point, 14 July 1943": where it ended, which is told of that day alone; held
// against a row of the ledger that has a place for it.
void BlockAssembler::Row::add_end_places() {
  const auto rows = a_.ledger_.history_of(subject_);
  const std::string_view text = a_.block_.text;
  for (const Mention& place : a_.mentions_of(MentionKind::kPlace)) {
    std::uint32_t at = place.first;
    if (at > 0 && a_.office(at - 1) == "the") --at;
    if (column_of(place.begin) != "fate" || at == 0 || a_.office(at - 1) != "at") continue;
    const auto is_its_end = [&](const Claim& claim) {
      return claim.kind == ClaimKind::kEvent && is_mishap(claim.value) && claim.when.known &&
             !claim.negated && claim.end <= place.begin &&
             cell_of(claim.begin) == cell_of(place.begin) &&
             text.substr(claim.end, place.begin - claim.end).find_first_of(";.") ==
                 std::string_view::npos &&
             std::any_of(rows.begin(), rows.end(), [&](const History* row) {
               return is_mishap(row->kind) && !row->place.empty() &&
                      row->spell.possible().intersects(claim.when.days);
             });
    };
    const auto end = std::find_if(a_.out_.begin() + static_cast<std::ptrdiff_t>(a_.first_claim_),
                                  a_.out_.end(), is_its_end);
    if (end == a_.out_.end()) continue;
    const When when = end->when;
    Claim& claim = a_.add(place, ClaimKind::kPlace);
    claim.subject = subject_;
    claim.readings = place.readings;
    claim.when = when;
  }
}

}  // namespace tailproof

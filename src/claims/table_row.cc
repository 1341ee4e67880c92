// A row of a table: every cell is a claim about the serial in the row, of the kind that its
// column's heading names.
#include <algorithm>

#include "claims/assembler.h"
#include "claims/table_caption.h"
#include "grammars/fold.h"
#include "mentions/event_words.h"

namespace tailproof {
namespace {

// "61 Sqn 1.3.39 (FA-D); 64 Sqn 15.2.43": of a cell that tells a machine's units in turn, each item
// has the day on which the machine came to the unit, or thereabouts.
void date_units_in_turn(std::vector<Claim>& claims, std::size_t first, const Block& block,
                        const Ledger& ledger, const WordList* mending) {
  constexpr Day kLongest = 31, kSlack = 31;
  for (std::size_t i = first; i < claims.size(); ++i) {
    Claim& unit = claims[i];
    const Unit* row = ledger.unit(unit.value);
    if (unit.kind != ClaimKind::kUnit || unit.when.known || unit.tense != Tense::kThen ||
        row == nullptr || (mending != nullptr && !mending->value_of(row->kind).empty()))
      continue;
    const auto cell = std::find_if(block.cells.begin(), block.cells.end(), [&](const Cell& one) {
      return unit.begin >= one.begin && unit.begin < one.end;
    });
    if (cell == block.cells.end()) continue;
    const std::string_view text = std::string_view(block.text).substr(0, cell->end);
    const std::size_t before = text.rfind(';', unit.begin);
    const std::size_t begin =
        before == std::string_view::npos || before < cell->begin ? cell->begin : before;
    const std::size_t end = std::min(text.find(';', unit.end), text.size());
    const Claim* date = nullptr;
    bool is_plain = true;
    for (std::size_t j = first; j < claims.size(); ++j) {
      const Claim& other = claims[j];
      if (j == i || other.begin < begin || other.end > end) continue;
      const bool is_code = other.kind == ClaimKind::kAirframe && other.role == "code";
      const bool is_date = other.kind == ClaimKind::kDate && date == nullptr &&
                           other.begin >= unit.end && !other.impossible && other.event == kNone &&
                           other.when.known && !other.when.days.empty();
      if (is_date) date = &other;
      is_plain = is_plain && (is_code || is_date);
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

bool has_digit(std::string_view text) {
  return std::any_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
}

bool is_mishap(std::string_view kind) {
  return kind == "lost" || kind == "accident" || kind == "captured" || kind == "interned";
}

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

// What the column at this place of the row holds: a value of the list column_heading, or "".
std::string BlockAssembler::column_of(std::uint32_t offset) const {
  const WordList* headings = lexicon_.grammars().list("column_heading");
  if (headings == nullptr || block_.table == kNone) return {};
  const Table& table = manuscript_.tables[block_.table];
  for (const Cell& cell : block_.cells) {
    if (offset < cell.begin || offset >= cell.end || cell.column >= table.headings.size()) continue;
    const std::string& heading = table.headings[cell.column];
    std::string_view value = headings->value_of(heading);
    // "First letters", "Last unit": what is told of, and when.
    const WordList* times = lexicon_.grammars().list("heading_time");
    const std::size_t blank = heading.find(' ');
    if (value.empty() && times != nullptr && blank != std::string::npos &&
        !times->value_of(fold(heading.substr(0, blank))).empty())
      value = headings->value_of(heading.substr(blank + 1));
    // "Unit, June 1942", "Rank in 1942": the day is told as well.
    for (std::size_t end = heading.size(); value.empty() && has_digit(heading) && end > 0;) {
      end = heading.find_last_of(" ,(", end - 1);
      if (end == std::string::npos) break;
      if (!has_digit(std::string_view(heading).substr(0, end)))
        value = headings->value_of(heading.substr(0, end));
    }
    // "Serial | Number": the number is the code.
    const bool is_second =
        value == "serial code" &&
        std::any_of(table.headings.begin(), table.headings.end(), [&](const std::string& other) {
          return headings->value_of(other) == "serial";
        });
    if (is_second) return "code";
    return std::string(value.substr(0, value.find(' ')));
  }
  return {};
}

// Whether its heading ("Delivered") tells of the days around the paper date.
bool BlockAssembler::is_near_column(std::uint32_t offset) const {
  const WordList* headings = lexicon_.grammars().list("column_heading");
  return headings != nullptr && headings->value_of(heading_of(offset)).ends_with(" near");
}

const TableCaption& BlockAssembler::table_caption() const {
  const std::string_view text =
      block_.table == kNone ? std::string_view{} : manuscript_.tables[block_.table].caption;
  if (focus_.table_caption == nullptr || focus_.table_caption->text != text) {
    focus_.table_caption = std::make_shared<const TableCaption>(
        read_table_caption(text, finder_, lexicon_.grammars()));
  }
  return *focus_.table_caption;
}

// The day on which a row's machine is said to be with its unit, at its place: the one date of the
// row, under a heading that says no more of it than that it is one; else that of a table's caption
// which says that the table tells how things stood ("Where they stood, July 1941").
When BlockAssembler::when_row_stood() const {
  When when;
  bool has_date = false;
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    if (out_[i].kind != ClaimKind::kDate) continue;
    // What the table's caption tells of every row dates the rest of it as well.
    const std::uint32_t event = out_[i].event;
    const bool is_plain = (event == kNone || out_[event].begin == out_[i].begin) &&
                          column_of(out_[i].begin) == "date";
    if (has_date || !is_plain || out_[i].impossible) return {};
    has_date = true;
    when = out_[i].when;
  }
  if (has_date) return when;
  return table_caption().when(false, ledger_.settings().margins);
}

void BlockAssembler::date_row_states() {
  if (block_.table == kNone) return;
  // "Unit, June 1942", "1941 | 1942 | late 1943": the heading dates what stands below it.
  const std::vector<std::string>& headings = manuscript_.tables[block_.table].headings;
  for (const Cell& cell : block_.cells) {
    if (cell.column >= headings.size() || !has_digit(headings[cell.column])) continue;
    // "Captain (from 1944)": of a time of its own.
    const bool has_own = any_mention(MentionKind::kDate, [&](const Mention& date) {
      return date.begin >= cell.begin && date.end <= cell.end;
    });
    // "Letters, before and after June 1942": one of before, and one of after.
    const auto is_code_here = [&](const Claim& claim) {
      return claim.kind == ClaimKind::kAirframe && claim.role == "code" &&
             claim.begin >= cell.begin && claim.end <= cell.end;
    };
    const auto codes = std::count_if(out_.begin() + static_cast<std::ptrdiff_t>(first_claim_),
                                     out_.end(), is_code_here);
    if (has_own || codes > 1) continue;
    const When when = read_table_caption(headings[cell.column], finder_, lexicon_.grammars())
                          .when(true, ledger_.settings().margins);
    for (std::size_t i = first_claim_; when.known && i < out_.size(); ++i) {
      Claim& claim = out_[i];
      const bool is_state = claim.kind == ClaimKind::kPlace || claim.kind == ClaimKind::kMarking ||
                            claim.kind == ClaimKind::kUnit || claim.kind == ClaimKind::kRank ||
                            (claim.kind == ClaimKind::kAirframe && claim.role == "code");
      const bool is_here = claim.begin >= cell.begin && claim.end <= cell.end;
      if (is_state && is_here && claim.tense == Tense::kThen && !claim.when.known)
        claim.when = when;
    }
  }
  const When when = when_row_stood();
  if (!when.known) {
    // Of two codes in a row one may be of before and one of after.
    std::vector<std::size_t> codes;
    for (std::size_t i = first_claim_; i < out_.size(); ++i) {
      if (out_[i].kind == ClaimKind::kAirframe && out_[i].role == "code") codes.push_back(i);
    }
    if (codes.size() != 1) return;
    Claim& code = out_[codes.front()];
    if (code.tense == Tense::kThen && !code.when.known) {
      code.when = table_caption().when(true, ledger_.settings().margins);
    }
    return;
  }
  std::size_t units = 0;
  for (std::size_t i = first_claim_; i < out_.size(); ++i)
    units += out_[i].kind == ClaimKind::kUnit ? 1 : 0;
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    Claim& claim = out_[i];
    const bool is_state = claim.kind == ClaimKind::kPlace || claim.kind == ClaimKind::kMarking ||
                          (claim.kind == ClaimKind::kUnit && units == 1) ||
                          (claim.kind == ClaimKind::kAirframe && claim.role == "code");
    if (is_state && claim.tense == Tense::kThen && !claim.when.known) claim.when = when;
  }
}

// The cell at this place of the row; as many as there are cells when it lies in none.
std::size_t BlockAssembler::cell_of(std::uint32_t offset) const {
  for (std::size_t c = 0; c < block_.cells.size(); ++c) {
    if (offset >= block_.cells[c].begin && offset < block_.cells[c].end) return c;
  }
  return block_.cells.size();
}

// "R2001 (NV-A), R2004 (NV-D)" in one cell: the serial that stands right before a code.
const Mention* BlockAssembler::serial_in_cell_before(const Mention& code) const {
  if (code.role != "code" && code.role != "nickname") return nullptr;
  constexpr std::uint32_t kReach = 2;
  for (const Mention& other : mentions_.items) {
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
const Mention* BlockAssembler::event_in_cell(const Mention& date) const {
  const std::size_t cell = cell_of(date.begin);
  const auto is_beside = [&](const Mention& other) { return cell_of(other.begin) == cell; };
  const auto is_free_between = [&](std::uint32_t from, std::uint32_t to) {
    for (std::uint32_t t = from; t < to; ++t) {
      if (word(t) == ";") return false;
    }
    return !any_mention(MentionKind::kDate, [&](const Mention& other) {
      return other.first >= from && other.last <= to;
    });
  };
  const auto has_own_behind = [&](const Mention& cue) {
    return any_mention(MentionKind::kDate, [&](const Mention& other) {
      return is_beside(other) && other.first >= cue.last && is_free_between(cue.last, other.first);
    });
  };
  const Mention* before = nullptr;
  const Mention* behind = nullptr;
  for (const Mention& cue : cues_of("cue_event")) {
    if (!is_beside(cue)) continue;
    if (cue.first > 0 && is_in("remains_noun", cue.first - 1)) continue;  // "wreck sold, May 1942"
    if (cue.last <= date.first && is_free_between(cue.last, date.first)) before = &cue;
    if (behind == nullptr && cue.first >= date.last && is_free_between(date.last, cue.first) &&
        !has_own_behind(cue)) {
      behind = &cue;
    }
  }
  return before != nullptr ? before : behind;
}

// "19.8.41 | V/104 | Cnt Blythe", "C. Ferrier | Sergeant | 14 Company": who stands in the row, with
// the rank before his name or under a heading for it; of one person alone, the unit as well.
void BlockAssembler::add_row_people(const std::string& subject) {
  const auto people = mentions_of(MentionKind::kPerson);
  const bool is_one = std::distance(people.begin(), people.end()) == 1;
  // When he had it: on the day of a mishap, or under a heading that says no more than "date"; in a
  // row without dates when the table's caption says.
  When when;
  std::size_t dates = 0;
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    if (out_[i].kind != ClaimKind::kDate) continue;
    ++dates;
    const std::uint32_t event = out_[i].event;
    const bool is_day =
        event == kNone ? column_of(out_[i].begin) == "date" : is_mishap(out_[event].value);
    when = is_day && !out_[i].impossible ? out_[i].when : When{};
  }
  if (dates > 1) when = {};
  const bool has_date = !mentions_of(MentionKind::kDate).empty();
  if (!has_date && block_.table != kNone)
    when = table_caption().when(true, ledger_.settings().margins);
  for (const Mention& person : people) {
    const auto holder = static_cast<std::uint32_t>(out_.size());
    Claim& claim = add(person, ClaimKind::kPerson);
    claim.subject = subject;
    claim.readings = person.readings;
    const std::size_t cell = cell_of(person.begin);
    for (const Mention& rank : mentions_of(MentionKind::kRank)) {
      const bool is_title = cell_of(rank.begin) == cell && rank.last <= person.first &&
                            (rank.last == begin_of_name(person) || rank.last == person.first);
      const bool is_column =
          is_one && cell_of(rank.begin) != cell && column_of(rank.begin) == "rank";
      if (!is_title && !is_column) continue;
      Claim& own = add(rank, ClaimKind::kRank);
      own.subject = person.value;
      own.readings = rank.readings;
      own.holder_of_rank = holder;
      own.when = when;
    }
    for (const Mention& unit : mentions_of(MentionKind::kUnit)) {
      const std::string column = column_of(unit.begin);
      if (!is_one || !subject.empty() || (column != "unit" && column != "units")) continue;
      Claim& own = add(unit, ClaimKind::kUnit);
      own.subject = person.value;
      own.readings = unit.readings;
      own.role = "member";
      own.when = when;
    }
  }
}

void BlockAssembler::run_row() {
  // "No. 2" in a column of units is no number that a machine wore.
  bool has_units = false;
  for (Mention& mention : mentions_.items) {
    if (mention.kind != MentionKind::kAirframe || mention.role != "code" ||
        !column_of(mention.begin).starts_with("unit"))
      continue;
    const Unit* unit =
        unit_of_number(ledger_, block_.text.substr(mention.begin, mention.end - mention.begin));
    mention.kind = unit != nullptr ? MentionKind::kUnit : MentionKind::kCue;
    mention.role = {};
    mention.known = unit != nullptr;
    if (unit != nullptr) mention.value = Spelling(unit->unit);
    has_units = true;
  }
  if (has_units) index_mentions();
  const auto& items = mentions_.items;
  std::string subject;
  for (const bool by_heading : {true, false}) {
    for (const Mention& mention : items) {
      if (!subject.empty() || mention.kind != MentionKind::kAirframe || !mention.role.empty())
        continue;
      if (by_heading && column_of(mention.begin) != "serial") continue;
      subject = mention.value;
    }
  }
  // A row may know the machine only by the number that it had then. Of two, a batch begins and
  // ends.
  const Mention* named = nullptr;
  std::size_t numbers = 0;
  for (const Mention& mention : items) {
    const bool is_number = mention.kind == MentionKind::kAirframe &&
                           (mention.role == "previous_serial" || mention.role == "later_serial");
    if (is_number && numbers++ == 0) named = &mention;
  }
  if (!subject.empty() || numbers != 1) named = nullptr;
  if (named != nullptr) subject = named->value;
  if (subject.empty()) {
    add_row_people(subject);
    date_row_states();
    return;
  }
  if (block_.table != kNone) attribute_columns(manuscript_.tables[block_.table].headings);
  const bool has_event_cue = !cues_of("cue_event").empty();
  // A column of dates under "taken on charge" states that event; under "end" the words in the cell
  // do.
  for (std::uint32_t i = 0; i < items.size(); ++i) {
    const Mention& mention = items[i];
    const std::string column = column_of(mention.begin);
    const std::size_t cell = cell_of(mention.begin);
    switch (mention.kind) {
      case MentionKind::kAirframe: {
        Claim& claim = add(mention, ClaimKind::kAirframe);
        claim.subject = mention.value == subject ? mention.value : subject;
        if (const Mention* owner = serial_in_cell_before(mention); owner != nullptr)
          claim.subject = owner->value;
        if (mention.value == subject && mention.role.empty()) break;
        if (&mention == named) {
          claim.role = mention.role;
          claim.value = mention.detail;
          break;
        }
        claim.role = !mention.role.empty() ? mention.role : column == "serial" ? "" : column;
        if (!mention.detail.empty() && mention.role != "code") claim.value = mention.detail;
        if (claim.role.empty()) {
          claim.subject = mention.value;
        } else if (claim.role == "fate" || claim.role == "units" || claim.role == "unit") {
          const auto serials = ledger_.serials_of(subject);
          const bool same =
              std::find(serials.begin(), serials.end(), mention.value) != serials.end();
          claim.role = same ? "later_serial" : "";
          if (!same) claim.subject = mention.value;
        }
        claim.tense = claim.role == "previous_serial" ? Tense::kFormer
                      : claim.role == "later_serial"  ? Tense::kLater
                                                      : Tense::kThen;
        break;
      }
      case MentionKind::kType: {
        if (is_met_in_row(mention)) break;
        Claim& claim = add(mention, ClaimKind::kType);
        claim.subject = subject;
        if (!mention.detail.empty())
          claim.value = std::string(mention.value) + " " + std::string(mention.detail);
        // "Mk I" alone, which several types have: that of the row's machine.
        if (mention.role == "mark alone" && !mention.detail.empty()) {
          const Airframe* row = ledger_.airframe(subject);
          for (std::string& reading : claim.readings) {
            const bool is_own = row != nullptr && reading == row->type;
            reading += " " + std::string(mention.detail);
            if (is_own) claim.value = reading;
          }
        }
        break;
      }
      case MentionKind::kUnit: {
        Claim& claim = add(mention, ClaimKind::kUnit);
        claim.subject = subject;
        if (column == "holder" || column == "operator") claim.role = column;
        break;
      }
      case MentionKind::kPlace: {
        if (column == "fate") break;  // where it ended is not where it was
        Claim& claim = add(mention, ClaimKind::kPlace);
        claim.subject = subject;
        break;
      }
      case MentionKind::kDate: {
        const DateMention& date = mentions_.dates[mention.payload];
        const ResolvedDate& resolved = dates_[mention.payload];
        const Edtf& value = resolved.date;
        if (value.is_unknown() && !resolved.impossible) break;
        std::string kind = column;
        const Mention* words = event_in_cell(mention);
        std::uint32_t event = kNone;
        if (words != nullptr) {
          kind = words->value;
        } else if (column == "date" && !has_event_cue) {
          kind = table_caption().end;
        }
        const bool is_told = words != nullptr || (kind != column && !kind.empty());
        if (is_told || kind == "taken_on_charge" || kind == "struck_off_charge" || kind == "lost") {
          event = static_cast<std::uint32_t>(out_.size());
          Claim& claim = add(words != nullptr ? *words : mention, ClaimKind::kEvent);
          const bool is_near =
              words != nullptr ? (words->payload & kEventNear) != 0 : is_near_column(mention.begin);
          if (is_near) claim.said |= kSaidNear;
          claim.value = kind;
          claim.subject = subject;
        }
        Claim& claim = add(mention, ClaimKind::kDate);
        claim.date = value;
        claim.value = resolved.impossible ? std::string(text_of(mention))
                                          : claimed_text(value, ledger_.settings().hemisphere);
        claim.impossible = resolved.impossible;
        claim.known = !resolved.impossible;
        if (resolved.impossible && finder_.explains()) claim.why += "; " + resolved.what;
        claim.weekday = date.weekday;
        claim.hedged = claim.hedged || date.hedged;
        claim.of = event == kNone && subject.empty() ? "" : "event";
        claim.event = event;
        claim.subject = subject;
        claim.inherited = resolved.inherited;
        if (!resolved.impossible) {
          When when;
          when.known = true;
          when.days = value.days();
          when.widened = value.widened(ledger_.settings().margins);
          when.hedged = claim.hedged;
          when.date = static_cast<std::uint32_t>(out_.size() - 1);
          claim.when = when;
          if (event != kNone) out_[event].when = when;
        }
        break;
      }
      case MentionKind::kCue: {
        const bool has_date = std::any_of(items.begin(), items.end(), [&](const Mention& other) {
          return other.kind == MentionKind::kDate && cell_of(other.begin) == cell;
        });
        if (mention.role != kEventCue || has_date || column == "serial") break;
        Claim& claim = add(mention, ClaimKind::kEvent);
        claim.subject = subject;
        break;
      }
      case MentionKind::kReference:
      case MentionKind::kPhotograph: {
        Claim& claim = add(mention, ClaimKind::kReference);
        claim.role = mention.kind == MentionKind::kPhotograph ? "photograph" : "";
        claim.subject = subject;
        break;
      }
      default:
        break;
    }
  }
  // "V/101–V/136 | Sickle Mk I | 36": how many there are in the range.
  const auto count_range = [&] {
    if (block_.table == kNone) return;
    const WordList* counts = lexicon_.grammars().list("count_heading");
    const std::vector<std::string>& headings = manuscript_.tables[block_.table].headings;
    std::vector<const Mention*> ends;
    for (const Mention& mention : mentions_of(MentionKind::kAirframe)) {
      if (mention.role.empty()) ends.push_back(&mention);
    }
    if (counts == nullptr || ends.size() != 2 || ends.back()->first != ends.front()->last + 1)
      return;
    const Spelling joint = office(ends.front()->last);
    if (joint != "to" && joint != "-" && joint != "through" && joint != "\xE2\x80\x93") return;
    for (const Cell& cell : block_.cells) {
      if (cell.column >= headings.size() || counts->value_of(headings[cell.column]).empty())
        continue;
      const std::uint32_t token = token_at(cell.begin);
      const bool is_number = cell.end > cell.begin && token < mentions_.tokens.size() &&
                             mentions_.tokens[token].kind == TokenKind::kNumber &&
                             mentions_.tokens[token].end == cell.end &&
                             mention_at(token) == nullptr;
      if (!is_number) continue;
      Claim& claim = add(words_of(token, token + 1), ClaimKind::kCount);
      Count& count = claim.count.own();
      count.number = std::atoi(std::string(word(token)).c_str());
      count.first_serial = ends.front()->value;
      count.last_serial = ends.back()->value;
      for (const Mention& type : mentions_of(MentionKind::kType)) {
        count.type = type.value;
        count.mark = type.detail;
      }
      claim.value = std::to_string(count.number);
      claim.subject = ends.front()->value;
    }
  };
  // "Burnt out at the Point, 14 July 1943": where it ended, which is told of that day alone; held
  // against a row of the ledger that has a place for it.
  const auto tell_where_it_ended = [&] {
    const auto rows = ledger_.history_of(subject);
    for (const Mention& place : mentions_of(MentionKind::kPlace)) {
      std::uint32_t at = place.first;
      if (at > 0 && office(at - 1) == "the") --at;
      if (column_of(place.begin) != "fate" || at == 0 || office(at - 1) != "at") continue;
      const auto is_its_end = [&](const Claim& claim) {
        const std::string_view text = block_.text;
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
      const auto end = std::find_if(out_.begin() + static_cast<std::ptrdiff_t>(first_claim_),
                                    out_.end(), is_its_end);
      if (end == out_.end()) continue;
      const When when = end->when;
      Claim& claim = add(place, ClaimKind::kPlace);
      claim.subject = subject;
      claim.readings = place.readings;
      claim.when = when;
    }
  };
  date_row_events();
  settle_event_kinds();
  tell_where_it_ended();
  add_row_people(subject);
  count_range();
  // Bare codes: a column of letters holds a code though no word says so. Beside several machines a
  // number counts them.
  const auto serials = std::count_if(items.begin(), items.end(), [](const Mention& mention) {
    return mention.kind == MentionKind::kAirframe && mention.role.empty();
  });
  if (serials <= 1) add_row_marks(subject);
  for (const Cell& cell : block_.cells) {
    if (serials > 1 || column_of(cell.begin) != "code" || cell.end <= cell.begin) continue;
    const bool found = std::any_of(items.begin(), items.end(), [&](const Mention& mention) {
      return mention.kind == MentionKind::kAirframe && mention.begin >= cell.begin &&
             mention.end <= cell.end;
    });
    if (found) continue;
    Mention mention;
    mention.begin = cell.begin;
    mention.end = cell.end;
    mention.value = std::string_view(block_.text).substr(cell.begin, cell.end - cell.begin);
    const bool plain = mention.value.size() <= 6 &&
                       std::all_of(mention.value.begin(), mention.value.end(), [](char c) {
                         return (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-';
                       });
    if (!plain || mention.value.find_first_not_of('-') == std::string::npos) continue;
    mention.why = "the column of codes";
    Claim& claim = add(mention, ClaimKind::kAirframe);
    claim.role = "code";
    claim.subject = subject;
    claim.known = !ledger_.bearers_of(claim.value).empty();
  }
  date_units_in_turn(out_, first_claim_, block_, ledger_,
                     lexicon_.grammars().list("mending_unit_kind"));
  date_row_states();
}

}  // namespace tailproof

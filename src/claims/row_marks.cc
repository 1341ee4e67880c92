// Cells that hold a mark, a code or a number and no words that say so: their headings do.
#include <algorithm>
#include <cstdlib>

#include "claims/table_row.h"
#include "mentions/lexicon.h"

namespace tailproof {
namespace {

bool is_bare_code(std::string_view text) {
  constexpr std::size_t kLongest = 6;
  return text.size() <= kLongest && text.find_first_not_of('-') != std::string_view::npos &&
         std::all_of(text.begin(), text.end(), [](char c) {
           return (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-';
         });
}

}  // namespace

bool BlockAssembler::Row::is_under(const Cell& cell, const WordList& headings) const {
  return cell.column < headings_.size() && cell.end > cell.begin &&
         !headings.value_of(headings_[cell.column]).empty();
}

// "Serial | Mark | Letters": a column of marks, each of the type that the ledger gives the machine.
void BlockAssembler::Row::add_marks() {
  const WordList* marks = a_.lexicon_.grammars().list("mark_heading");
  const Airframe* row = a_.ledger_.airframe(subject_);
  if (marks == nullptr || row == nullptr || row->type.empty() || names_several()) return;
  for (const Cell& cell : a_.block_.cells) {
    // What has been read as a type has its claim; a number may be anything else.
    if (!is_under(cell, *marks) || names_anything(cell)) continue;
    const std::string_view text =
        std::string_view(a_.block_.text).substr(cell.begin, cell.end - cell.begin);
    const std::vector<std::string> words = mark_words(text, a_.lexicon_.grammars());
    const auto& forms = a_.lexicon_.marks_of(row->type);
    const auto form = std::find_if(forms.begin(), forms.end(),
                                   [&](const MarkForm& one) { return one.words == words; });
    if (form == forms.end()) continue;
    Mention mention;
    mention.begin = cell.begin;
    mention.end = cell.end;
    mention.why = "the column of marks";
    Claim& claim = a_.add(mention, ClaimKind::kType);
    claim.value = row->type + " " + form->mark;
    claim.subject = subject_;
  }
}

// A column of letters holds a code though no word says so.
void BlockAssembler::Row::add_bare_codes() {
  if (names_several()) return;
  for (const Cell& cell : a_.block_.cells) {
    if (column_of(cell.begin) != "code" || cell.end <= cell.begin) continue;
    const bool is_found = a_.any_mention(MentionKind::kAirframe, [&](const Mention& mention) {
      return mention.begin >= cell.begin && mention.end <= cell.end;
    });
    Mention mention;
    mention.begin = cell.begin;
    mention.end = cell.end;
    mention.value = std::string_view(a_.block_.text).substr(cell.begin, cell.end - cell.begin);
    if (is_found || !is_bare_code(mention.value)) continue;
    mention.why = "the column of codes";
    Claim& claim = a_.add(mention, ClaimKind::kAirframe);
    claim.role = "code";
    claim.subject = subject_;
    claim.known = !a_.ledger_.bearers_of(claim.value).empty();
  }
}

// Beside several machines a number counts them.
bool BlockAssembler::Row::names_several() const {
  std::size_t serials = 0;
  for (const Mention& mention : a_.mentions_of(MentionKind::kAirframe))
    serials += mention.role.empty() ? 1 : 0;
  return serials > 1;
}

bool BlockAssembler::Row::names_anything(const Cell& cell) const {
  const auto& items = a_.mentions_.items;
  return std::any_of(items.begin(), items.end(), [&](const Mention& mention) {
    return mention.begin >= cell.begin && mention.end <= cell.end;
  });
}

// The first and the last serial of "V/101–V/136"; none where the row names no range.
std::vector<const Mention*> BlockAssembler::Row::ends_of_range() const {
  std::vector<const Mention*> ends;
  for (const Mention& mention : a_.mentions_of(MentionKind::kAirframe)) {
    if (mention.role.empty()) ends.push_back(&mention);
  }
  if (ends.size() != 2 || ends.back()->first != ends.front()->last + 1) return {};
  const Spelling joint = a_.office(ends.front()->last);
  const bool is_joined =
      joint == "to" || joint == "-" || joint == "through" || joint == "\xE2\x80\x93";
  return is_joined ? ends : std::vector<const Mention*>{};
}

// "V/101–V/136 | Sickle Mk I | 36": how many there are in the range.
void BlockAssembler::Row::add_counts_of_range() {
  const WordList* counts = a_.lexicon_.grammars().list("count_heading");
  const std::vector<const Mention*> ends = ends_of_range();
  if (counts == nullptr || ends.empty()) return;
  for (const Cell& cell : a_.block_.cells) {
    if (!is_under(cell, *counts)) continue;
    const std::uint32_t token = a_.token_at(cell.begin);
    const bool is_number = token < a_.mentions_.tokens.size() &&
                           a_.mentions_.tokens[token].kind == TokenKind::kNumber &&
                           a_.mentions_.tokens[token].end == cell.end &&
                           a_.mention_at(token) == nullptr;
    if (!is_number) continue;
    Claim& claim = a_.add(a_.words_of(token, token + 1), ClaimKind::kCount);
    Count& count = claim.count.own();
    count.number = std::atoi(std::string(a_.word(token)).c_str());
    count.first_serial = ends.front()->value;
    count.last_serial = ends.back()->value;
    for (const Mention& type : a_.mentions_of(MentionKind::kType)) {
      count.type = type.value;
      count.mark = type.detail;
    }
    claim.value = std::to_string(count.number);
    claim.subject = ends.front()->value;
  }
}

}  // namespace tailproof

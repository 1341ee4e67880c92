// "Serial | Mark | Letters": a column of marks, each of the type that the ledger gives the machine.
#include <algorithm>

#include "claims/assembler.h"
#include "mentions/lexicon.h"

namespace tailproof {

void BlockAssembler::add_row_marks(const std::string& subject) {
  const WordList* marks = lexicon_.grammars().list("mark_heading");
  const Airframe* row = ledger_.airframe(subject);
  if (marks == nullptr || row == nullptr || row->type.empty() || block_.table == kNone) return;
  const std::vector<std::string>& headings = manuscript_.tables[block_.table].headings;
  for (const Cell& cell : block_.cells) {
    if (cell.column >= headings.size() || marks->value_of(headings[cell.column]).empty() ||
        cell.end <= cell.begin)
      continue;
    // What has been read as a type has its claim; a number may be anything else.
    const bool is_named =
        std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& mention) {
          return mention.begin >= cell.begin && mention.end <= cell.end;
        });
    if (is_named) continue;
    const std::string_view text =
        std::string_view(block_.text).substr(cell.begin, cell.end - cell.begin);
    const std::vector<std::string> words = mark_words(text, lexicon_.grammars());
    const auto& forms = lexicon_.marks_of(row->type);
    const auto form = std::find_if(forms.begin(), forms.end(),
                                   [&](const MarkForm& one) { return one.words == words; });
    if (form == forms.end()) continue;
    Mention mention;
    mention.begin = cell.begin;
    mention.end = cell.end;
    mention.why = "the column of marks";
    Claim& claim = add(mention, ClaimKind::kType);
    claim.value = row->type + " " + form->mark;
    claim.subject = subject;
  }
}

}  // namespace tailproof

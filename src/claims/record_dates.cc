// Dates of what stands on a record card, and dates that only frame another.
#include "claims/assembler.h"
#include "mentions/event_words.h"

namespace tailproof {

// The words from one semicolon, or end of a sentence, to the next.
Part BlockAssembler::part_around(std::uint32_t token) const {
  const std::uint32_t sentence = clauses_.sentence_of[token];
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  Part part{token, token};
  while (part.first > 0 && clauses_.sentence_of[part.first - 1] == sentence &&
         word(part.first - 1) != ";")
    --part.first;
  while (part.last < count && clauses_.sentence_of[part.last] == sentence && word(part.last) != ";")
    ++part.last;
  return part;
}

// "To the School, 10 July 1939", "76 Squadron, 1 October 1936": a unit or place, a date, and no
// word but small ones beside them.
bool BlockAssembler::is_entry_of_card(const Part& part, bool& is_move) const {
  bool has_unit = false, has_date = false, has_place = false;
  is_move = is_in("transfer_word", part.first);
  for (std::uint32_t t = part.first; t < part.last; ++t) {
    if (mention_over(MentionKind::kDate, t) != nullptr) {
      has_date = true;
    } else if (mention_over(MentionKind::kUnit, t) != nullptr) {
      has_unit = true;
    } else if (mention_over(MentionKind::kPlace, t) != nullptr) {
      has_place = true;
    } else if (mentions_.tokens[t].kind != TokenKind::kMark && office(t).empty() &&
               !is_in("transfer_word", t)) {
      return false;
    }
  }
  return has_date && (has_unit || (is_move && has_place));
}

// A later sentence of a caption, or what a semicolon sets apart behind the picture, that goes on
// like a record card: where the machine went on a day, and no day of the picture.
bool BlockAssembler::is_of_card(const Mention& date) const {
  const Part own = part_around(date.first);
  const bool is_apart = own.first > 0 && word(own.first - 1) == ";";
  if (!is_apart && !is_in_later_sentence(date.first)) return false;
  bool is_move = false;
  if (!is_entry_of_card(own, is_move)) return false;
  // "From the School, May 1938" may say whose picture it is.
  if (is_move && office(own.first) == "to") return true;
  const std::uint32_t sentence = clauses_.sentence_of[date.first];
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  const std::uint32_t first = begin_of_sentence(own.first);
  int entries = 0;
  for (std::uint32_t t = first; t < count && clauses_.sentence_of[t] == sentence;) {
    const Part part = part_around(t);
    entries += static_cast<int>(is_entry_of_card(part, is_move));
    t = part.last + 1;
  }
  return entries > 1;
}

// "In the following winter, on 14 January 1936, the sling parted and X12 was lost": the date right
// behind says more exactly which day is meant.
bool BlockAssembler::is_framing(const Mention& date) const {
  const ResolvedDate& own = dates_[date.payload];
  if (own.date.is_unknown() || own.date.days().is_all()) return false;
  for (const Mention& other : mentions_of(MentionKind::kDate)) {
    if (other.first < date.last) continue;
    bool has_comma = false;
    for (std::uint32_t t = date.last; t < other.first; ++t) {
      has_comma = has_comma || word(t) == ",";
      if (word(t) != "," && !is_in("year_preposition", t) && office(t) != "on") return false;
    }
    const ResolvedDate& finer = dates_[other.payload];
    return has_comma && !finer.date.is_unknown() && finer.date.precision() < own.date.precision() &&
           finer.date.days().intersects(own.date.days()) &&
           mentions_.dates[other.payload].joint == DateJoint::kNone;
  }
  return false;
}

// "On 14 January 1936, the sling parted and X12 was lost": the day with which a clause of running
// text opens, parted from it by a comma, is that of what it tells with a finite verb.
bool BlockAssembler::is_fronted_for(const Mention& date, const Mention& event) const {
  const std::uint32_t clause = clauses_.clause_of[date.first];
  if (is_caption() || clauses_.clause_of[event.first] != clause || date.last >= event.first ||
      word(date.last) != "," || (event.payload & (kEventNoun | kEventState)) != 0)
    return false;
  // "In July, X12 was lost and X14 in dock" may tell how things stood.
  if (dates_[date.payload].date.precision() != Precision::kDay) return false;
  for (std::uint32_t t = clauses_.clauses[clause].first; t < date.first; ++t) {
    const bool is_small = word(t) == "," || office(t) == "on" || is_in("year_preposition", t);
    if (!is_small && mention_over(MentionKind::kDate, t) == nullptr) return false;
  }
  // "With X12 lost and X14 in dock", "X12 having been lost".
  return !stands_between(date.last, event.first, "absolute_word");
}

// "It ran off the strip on 14 September 1944. Another had hit a mast on 18 April": a day without a
// year, told of the time before, is the last such day before the date that stands before it and is
// not told so itself.
Edtf BlockAssembler::told_back(const Mention& mention, const Edtf& value) const {
  const Claim* before = nullptr;
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    const Claim& other = out_[i];
    const bool is_before = other.kind == ClaimKind::kDate && !other.impossible &&
                           other.end <= mention.begin &&
                           (before == nullptr || other.begin >= before->begin);
    const Mention* told =
        is_before ? mention_over(MentionKind::kDate, token_at(other.begin)) : nullptr;
    if (told != nullptr && !is_told_in_pluperfect(*told)) before = &other;
  }
  constexpr Day kYearAtLeast = 365;
  if (before == nullptr || before->date.days().is_all()) return value;
  const DaySet& days = before->date.days();
  const Day by = value.days().first() - days.last();
  // Of two such machines the first was told back already.
  const Day most = shares_having(mention) ? 2 * kYearAtLeast : kYearAtLeast;
  if (by <= 0 || by > most || value.is_interval() || value.text().size() < 7) return value;
  const std::string text = value.text();
  std::int64_t year = 0;
  for (const char c : text.substr(0, 4)) {
    if (c < '0' || c > '9') return value;
    year = 10 * year + (c - '0');
  }
  auto earlier = Edtf::parse(std::to_string(year - 1) + text.substr(4));
  return earlier.has_value() ? earlier.value() : value;
}

// "QX12, later RX4. Lanner I. With the School, and then with QX14, until it was scrapped": the
// machine that labels the entry, for a sentence that brings in others only beside it.
const Group* BlockAssembler::machine_of_label(std::uint32_t token) const {
  if (groups_.empty() || groups_.front().first != 0 || groups_.front().serials.size() != 1)
    return nullptr;
  const Group& head = groups_.front();
  const std::uint32_t sentence = clauses_.sentence_of[token];
  if (sentence == 0) return nullptr;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = 0; t < count && clauses_.sentence_of[t] == 0; ++t) {
    const bool is_label = mentions_.tokens[t].kind == TokenKind::kMark ||
                          mention_over(MentionKind::kAirframe, t) != nullptr ||
                          mention_over(MentionKind::kType, t) != nullptr ||
                          is_in("label_word", t) || is_in("unnamed_article", t) ||
                          clauses_.clauses[clauses_.clause_of[t]].kind == ClauseKind::kBracket;
    if (!is_label) return nullptr;
  }
  const bool are_beside = std::all_of(groups_.begin(), groups_.end(), [&](const Group& other) {
    if (clauses_.sentence_of[other.first] != sentence || other.serials == head.serials) return true;
    return !other.members.empty() &&
           (is_in("object_preposition", other.first - 1) || is_in("been_word", other.first - 1));
  });
  return are_beside ? &head : nullptr;
}

}  // namespace tailproof

#include "mentions/date_company.h"

#include <algorithm>

#include "source/ascii.h"

namespace tailproof {
namespace {

constexpr unsigned kLastOfMonth = 31;

class CompanyRules {
 public:
  CompanyRules(std::string_view text, const std::vector<Token>& tokens, const DateWords& words)
      : text_(text), tokens_(tokens), words_(words) {}

  bool has_company(const DateDraft& draft) const {
    const DateAtom& atom = draft.atom;
    const DateMention& mention = draft.mention;
    const bool alone = mention.joint == DateJoint::kNone || atom.joint != DateJoint::kNone;
    if (!ends_its_phrase(draft)) return false;
    if (mention.first.is_offset()) return is_offset_in_time(draft);
    if (!alone) return has_company_joined(draft);
    if (atom.needs.empty()) return true;
    if (atom.needs == "the") {
      return (draft.has_the || draft.has_part) && !follows_owner(draft);
    }
    if (atom.needs == "the, in time") {
      // "the twenties" of a run of numbers are no years: "in" or "early" says that they are, but
      // not "and", which joins numbers as well.
      return ((draft.has_the && is_in_time(draft)) || draft.has_part) && !follows_owner(draft);
    }
    if (atom.needs == "era") {
      return draft.company == DateCompany::kStrong || mention.bound != DateBound::kNone;
    }
    if (atom.needs == "new year") return is_new_year(draft);
    if (atom.needs == "part") return draft.has_part && draft.has_the;
    if (atom.needs == "day") return is_day_alone(draft);
    if (atom.needs == "number") return is_month_in_numbers(draft);
    if (atom.needs == "two digits") return is_year_of_two_digits(draft);
    if (atom.needs == "roman") return is_roman_month(draft);
    if (atom.needs == "part of two digits") return is_part_of_two_digits(draft);
    if (atom.needs == "year") return is_year(draft);
    if (atom.needs == "in") {
      // "Nineteen thirty-nine was the year of squares."
      const std::size_t next = draft.end_atom.next_token;
      const std::size_t at = token_at(tokens_, draft.mention.begin);
      if (tokens_[at].sentence_start && next < tokens_.size() &&
          is_in(words_.season_verb, word(next)))
        return true;
      return draft.company == DateCompany::kStrong &&
             (atom.end >= text_.size() || text_[atom.end] != '-');
    }
    if (atom.needs == "set off") return is_set_off(draft);
    if (mention.first.year || mention.first.year_ref != DateRef::kNone) return true;
    return is_bare_name(draft);
  }

  // "Came to us from the 12th", "with the 12th until May", "until the 12th took it over": what has
  // such a number and is joined, left or does something is a unit, and no day.
  bool is_ordinal_of_unit(const DateDraft& draft) const {
    if (draft.atom.needs != "day" || draft.mention.first.month != 0) return false;
    const std::size_t at = token_at(tokens_, draft.mention.begin);
    // "Took over the 2nd's mud".
    const std::string_view behind = text_.substr(draft.end_atom.end);
    if (behind.starts_with("'s") || behind.starts_with("\xE2\x80\x99s")) return true;
    if (at == 0 || tokens_[at].sentence_start) return false;
    // "Delivered in June to the Second": no day of a month has a capital.
    const std::string_view written =
        text_.substr(tokens_[at].begin, draft.end_atom.end - tokens_[at].begin);
    const std::size_t blank = written.find(' ');
    const std::string_view number =
        blank == std::string_view::npos ? written : written.substr(blank + 1);
    if (!number.empty() && number.front() >= 'A' && number.front() <= 'Z') return true;
    const Spelling lead = word(at - 1);
    const std::size_t next = draft.end_atom.next_token;
    if (is_in(words_.doing_lead, lead)) {
      return next + 1 < tokens_.size() && is_in(words_.doing, word(next)) &&
             tokens_[next + 1].kind != TokenKind::kMark;
    }
    // "Four were lost by the 9th at Harn".
    if (at > 1 && is_in(words_.by, lead) && is_in(words_.done_by, word(at - 2))) return true;
    // "Delivered on 11 March 1935 to the 1st": a day of that month would stand before the year.
    if (at > 1 && is_in(words_.receiver_lead, lead) && draft.mention.joint == DateJoint::kNone &&
        ends_with_year(at - 2))
      return true;
    const std::string_view way = words_.coming == nullptr ? "" : words_.coming->value_of(lead);
    if (way == "to it") return true;
    if (way != "from it") return false;
    constexpr std::size_t kReach = 8, kReachOfRange = 4;
    const std::size_t reach = draft.mention.joint == DateJoint::kRange ? kReachOfRange : kReach;
    for (std::size_t t = at - 1; t-- > 0 && at - t < reach;) {
      if (tokens_[t].kind == TokenKind::kMark) return false;
      if (words_.coming->value_of(word(t)) == "verb") return true;
      if (tokens_[t].sentence_start) return false;
    }
    return false;
  }

 private:
  Spelling word(std::size_t token) const { return spelling_of(text_, tokens_[token]); }

  // "1935", "11.3.35".
  bool ends_with_year(std::size_t token) const {
    constexpr std::size_t kYear = 4, kShortYear = 2;
    const Token& last = tokens_[token];
    const std::string_view digits = text_.substr(last.begin, last.end - last.begin);
    if (!std::all_of(digits.begin(), digits.end(), is_digit)) return false;
    const bool is_part = last.begin > 1 && is_digit(text_[last.begin - 2]) &&
                         (text_[last.begin - 1] == '.' || text_[last.begin - 1] == '/');
    return digits.size() == kYear || (is_part && digits.size() == kShortYear);
  }

  bool has_company_joined(const DateDraft& draft) const {
    const DateMention& mention = draft.mention;
    const bool years =
        mention.first.precision == Precision::kYear && mention.second.precision == Precision::kYear;
    if (years) return is_year(draft);
    if (draft.atom.needs == "part" || draft.atom.needs == "the") return draft.has_the;
    if (mention.first.year || mention.second.year) return true;
    if (draft.atom.needs == "day") return is_day_alone(draft);
    if (draft.atom.needs.empty()) return true;
    return is_bare_name(draft);
  }

  bool ends_its_phrase(const DateDraft& draft) const {
    if (!draft.atom.is_end_of_phrase) return true;
    const std::size_t next = draft.atom.next_token;
    return next >= tokens_.size() || tokens_[next].kind == TokenKind::kMark;
  }

  bool follows_owner(const DateDraft& draft) const {
    const std::size_t at = token_at(tokens_, draft.mention.begin);
    return at > 0 && is_in(words_.owner, word(at - 1));
  }

  bool is_in_time(const DateDraft& draft) const {
    if (draft.company == DateCompany::kStrong) return true;
    if (draft.mention.bound != DateBound::kNone) return true;
    const std::size_t at = token_at(tokens_, draft.mention.begin);
    return draft.company == DateCompany::kWeak && at > 0 && is_in(words_.of, word(at - 1));
  }

  bool is_offset_in_time(const DateDraft& draft) const {
    const std::size_t at = token_at(tokens_, draft.mention.begin);
    if (at == 0) return true;
    // "And one of a week later", "in a print of two days earlier": a picture's time.
    const bool is_pictures =
        is_in(words_.of, word(at - 1)) && at > 1 && is_in(words_.pictured, word(at - 2));
    return is_pictures || draft.mention.joint == DateJoint::kFrom ||
           !is_in(words_.length, word(at - 1));
  }

  // Whether nothing stands before: start of the text, or a mark that sets the date off.
  bool is_set_off_before(std::size_t at) const {
    if (at == 0) return true;
    const Token& before = tokens_[at - 1];
    return before.kind == TokenKind::kMark && word(at - 1) != "-" && word(at - 1) != "/" &&
           word(at - 1) != "&";
  }
  bool is_set_off_after(std::size_t next) const {
    return next >= tokens_.size() || tokens_[next].kind == TokenKind::kMark;
  }

  // "1943 June" of a list: nothing but marks, words of company and joints around it.
  bool is_set_off(const DateDraft& draft) const {
    const std::size_t at = token_at(tokens_, draft.mention.begin);
    return (is_set_off_before(at) || draft.company != DateCompany::kNone) &&
           (is_set_off_after(draft.end_atom.next_token) || is_joined(draft));
  }

  bool follows_label(std::size_t at) const {
    if (at == 0) return false;
    std::size_t label = at - 1;
    if (word(label) == "." && label > 0) --label;
    return is_in(words_.label, word(label));
  }

  // A bare year: after "in" and the like, or set off by marks, or after a place in capitals.
  bool is_year(const DateDraft& draft) const {
    const std::int64_t year = draft.mention.first.year.value_or(0);
    if (year < 1500) return false;
    const std::size_t at = token_at(tokens_, draft.mention.begin);
    // "At the 1968 congress": the article is the noun's, and no label counts behind it.
    if (!draft.has_part && !draft.has_the && follows_label(at)) return false;
    if (draft.atom.counts && draft.company != DateCompany::kStrong) return false;
    if (draft.company != DateCompany::kNone || draft.has_part || draft.has_the) return true;
    const std::size_t next = draft.end_atom.next_token;
    if (is_set_off_before(at)) return true;
    if (at == 0) return true;
    const Token& before = tokens_[at - 1];
    if (before.kind != TokenKind::kWord || before.all_capitals) return false;
    // "Maunder 1943"; "reported 1943 hits" counts.
    if (before.capital) return true;
    return is_set_off_after(next);
  }

  // "4.43", "6/43" in record cards: set off, or after "in"; "ABO 12/42" and "4.43 m" are none.
  bool is_month_in_numbers(const DateDraft& draft) const {
    const DateUnit& unit = draft.mention.first;
    if (unit.month < 1 || unit.month > 12) return false;
    const std::size_t at = token_at(tokens_, draft.mention.begin);
    const std::size_t next = draft.end_atom.next_token;
    if (follows_label(at) || draft.atom.counts || is_scale(draft, at)) return false;
    if (draft.company != DateCompany::kNone)
      return is_set_off_after(next) || draft.company == DateCompany::kStrong;
    const bool has_whole_year = draft.atom.end - draft.atom.begin > 5;
    if (has_whole_year && is_set_off_before(at) && is_in(words_.follower, word(next))) return true;
    if (!is_set_off_after(next)) return false;
    if (at == 0 || is_set_off_before(at)) return true;
    // After a word of a record ("to 9 Sqn 4.43", "soc 1/44"), not after letters of an order.
    return !tokens_[at - 1].all_capitals && tokens_[at - 1].kind == TokenKind::kWord;
  }

  // "My own build of X12, 1/48, photographed last year", "all is for 1/48": no January. Behind a
  // word of a record ("soc 1/48") and alone in a cell it is one.
  bool is_scale(const DateDraft& draft, std::size_t at) const {
    const std::uint32_t begin = draft.atom.begin;
    return at > 0 && is_in(words_.scale, text_.substr(begin, draft.atom.end - begin)) &&
           (is_set_off_before(at) || is_in(words_.scale_lead, word(at - 1)));
  }

  bool is_year_of_two_digits(const DateDraft& draft) const {
    const std::size_t next = draft.atom.next_token;
    // 'White 5', '43': a number in quotation marks.
    if (next < tokens_.size() && tokens_[next].begin == draft.atom.end &&
        (tokens_[next].starts & kStartsQuote).any()) {
      return false;
    }
    const std::uint32_t begin = draft.atom.begin;
    if (begin > 0 && text_[begin - 1] != ' ' && text_[begin - 1] != '(') return false;
    return draft.company != DateCompany::kNone || draft.has_part;
  }

  // "lost 8.VIII", "on 3.IX"; not "Table 3.II", "3.II. Of numbers", "a 2.i mount".
  bool is_roman_month(const DateDraft& draft) const {
    const std::size_t at = token_at(tokens_, draft.mention.begin);
    const std::size_t next = draft.end_atom.next_token;
    const char last = text_[draft.atom.end - 1];
    const bool is_capital = last >= 'A' && last <= 'Z';
    if (!is_capital || draft.mention.first.day > 31 || follows_label(at)) return false;
    const bool is_end = is_set_off_after(next) || is_in(words_.follower, word(next));
    if (draft.company == DateCompany::kStrong || is_joined(draft)) return true;
    if (draft.company == DateCompany::kWeak) return is_end;
    if (at == 0 || !is_set_off_after(next)) return false;
    return tokens_[at - 1].kind == TokenKind::kWord && !tokens_[at - 1].capital;
  }

  // "late 43" is a year; "late 14" may be the day, or a squadron's number.
  bool is_part_of_two_digits(const DateDraft& draft) const {
    return draft.mention.first.year.value_or(0) % 100 > 31 && !draft.atom.counts;
  }

  // "Under repair from the 12th to the 20th", but "went from the 12th to the 20th".
  bool is_day_range(const DateDraft& draft) const {
    const DateMention& mention = draft.mention;
    return draft.is_from && draft.has_the && mention.joint == DateJoint::kRange &&
           mention.first.day < mention.second.day && mention.second.day <= kLastOfMonth &&
           !is_ordinal_of_unit(draft);
  }

  // "Failed to return 28th.": in figures, right behind such a word and at the end of its phrase.
  bool is_terse_day(const DateDraft& draft) const {
    const std::size_t at = draft.atom.first_token;
    if (at == 0 || draft.has_the || tokens_[at].kind == TokenKind::kWord) return false;
    return is_in(words_.terse, word(at - 1)) && is_set_off_after(draft.end_atom.next_token) &&
           draft.mention.joint == DateJoint::kNone;
  }

  // "on the 14th", and nothing after it that could be the fourteenth of something.
  bool is_day_alone(const DateDraft& draft) const {
    if (draft.mention.first.day > kLastOfMonth) return false;
    if (draft.mention.first.month_ref != DateRef::kNone || is_day_range(draft)) return true;
    if (is_terse_day(draft)) return true;
    if (!draft.has_the || draft.company == DateCompany::kNone) return false;
    if (is_ordinal_of_unit(draft)) return false;
    const bool in_words = tokens_[draft.atom.first_token].kind == TokenKind::kWord;
    if (counts_things(draft, tokens_)) return false;
    if (draft.company == DateCompany::kWeak && draft.mention.bound == DateBound::kNone)
      return false;
    // "Craske is sitting on the fourth": of the machines in the row.
    const std::size_t at = draft.atom.first_token;
    if (in_words && at > 2 && is_in(words_.posture, word(at - 3))) return false;
    const std::size_t next = draft.end_atom.next_token;
    // "The fifth and last": a place among its kind.
    if (next + 1 < tokens_.size() && is_in(words_.last_of, word(next + 1))) return false;
    // "It was the sixth of the twelve".
    const bool is_of_several = next + 1 < tokens_.size() && is_in(words_.of, word(next)) &&
                               is_in(words_.definite, word(next + 1));
    if (is_of_several) return false;
    return is_set_off_after(next) || is_in(words_.follower, word(next));
  }

  // A month, season or feast without a year: "in May", "early June"; not "Sgt March", "Port
  // August", "June Hargreaves", "the fall of the city".
  bool is_bare_name(const DateDraft& draft) const {
    const DateAtom& atom = draft.atom;
    const std::size_t at = token_at(tokens_, draft.mention.begin);
    const std::size_t next = draft.end_atom.next_token;
    // "A print from the March family", "May papers": somebody's name.
    if (next < tokens_.size() && !is_joined(draft) && is_in(words_.of_family, word(next)))
      return false;
    const Token& name = tokens_[atom.first_token];
    const bool all_capitals_text = at > 0 && tokens_[at - 1].all_capitals;
    const bool capital_next = next < tokens_.size() && tokens_[next].capital &&
                              tokens_[next].kind == TokenKind::kWord && !tokens_[next].all_capitals;
    if (text_.size() > atom.end && text_[atom.end] == '-' && !is_joined(draft)) return false;
    if (draft.mention.first.season != 0) return is_bare_season(draft, next);
    if (draft.atom.needs == "feast") {
      if (!name.capital && is_in(words_.doubtful, word(atom.first_token))) return false;
      if (draft.company == DateCompany::kStrong) return true;
      // "Their Lady Day rents": what sort of thing it is.
      const bool is_adjective = !is_set_off_after(next) && !is_in(words_.follower, word(next)) &&
                                !is_in(words_.season_verb, word(next));
      return !capital_next && !is_adjective;
    }
    if (!name.capital && draft.company == DateCompany::kNone && !draft.has_part) return false;
    if (name.capital && draft.has_the && draft.mention.first.ref != DateRef::kNone) return true;
    const std::string_view doubt =
        words_.doubtful == nullptr ? "" : words_.doubtful->value_of(word(atom.first_token));
    if (!doubt.empty() && !name.capital) return false;
    if (draft.has_part || draft.company == DateCompany::kStrong) return true;
    if (draft.company == DateCompany::kWeak) return doubt.empty() || !capital_next;
    if (doubt == "word") return is_joined(draft);
    if (!doubt.empty() && capital_next) return false;
    if (at > 0 && tokens_[at - 1].kind == TokenKind::kWord) {
      return all_capitals_text || (!tokens_[at - 1].capital && doubt.empty());
    }
    return true;
  }

  // "Early in the new year the fleet sailed"; not "the New Year honours".
  bool is_new_year(const DateDraft& draft) const {
    const std::size_t next = draft.atom.next_token;
    return draft.has_the && (is_set_off_after(next) || is_in(words_.follower, word(next)) ||
                             is_in(words_.season_verb, word(next)));
  }

  static bool is_joined(const DateDraft& draft) { return draft.mention.joint != DateJoint::kNone; }

  bool is_bare_season(const DateDraft& draft, std::size_t next) const {
    // "the fall of the city"; with "of 1943" it would have a year.
    if (next < tokens_.size() && is_in(words_.of, word(next))) return false;
    if (next < tokens_.size() && is_in(words_.season_thing, word(next))) return false;
    if (draft.has_part || is_joined(draft)) return true;
    if (draft.mention.first.ref != DateRef::kNone) return true;
    const bool is_in_text = next < tokens_.size() && tokens_[next].kind == TokenKind::kWord;
    if (is_in_text && !tokens_[next].capital && is_in(words_.happening, word(next))) return true;
    const Token& name = tokens_[draft.atom.first_token];
    if (name.capital && !name.sentence_start && draft.company != DateCompany::kStrong) return false;
    const bool doubtful = is_in(words_.doubtful, word(draft.atom.first_token));
    // "Winter was worse", at the head of its sentence.
    if (name.sentence_start && is_in_text && !doubtful && is_in(words_.season_verb, word(next)))
      return true;
    if (draft.company == DateCompany::kStrong || draft.mention.bound != DateBound::kNone)
      return true;
    // "The winter review", "the summer camp": what sort of thing it is, and no date.
    const bool is_adjective = !is_set_off_after(next) && !is_in(words_.follower, word(next));
    return draft.has_the && !doubtful && !is_adjective;
  }

  std::string_view text_;
  const std::vector<Token>& tokens_;
  const DateWords& words_;
};

}  // namespace

std::size_t token_at(const std::vector<Token>& tokens, std::uint32_t begin) {
  const auto found =
      std::lower_bound(tokens.begin(), tokens.end(), begin,
                       [](const Token& token, std::uint32_t at) { return token.begin < at; });
  return static_cast<std::size_t>(found - tokens.begin());
}

bool is_ordinal_of_unit(const DateDraft& draft, std::string_view text,
                        const std::vector<Token>& tokens, const DateWords& words) {
  return CompanyRules(text, tokens, words).is_ordinal_of_unit(draft);
}

bool counts_things(const DateDraft& draft, const std::vector<Token>& tokens) {
  constexpr unsigned kLastCount = 3;
  const DateUnit& first = draft.mention.first;
  return first.day != 0 && first.day <= kLastCount && first.month == 0 &&
         tokens[draft.atom.first_token].kind == TokenKind::kWord;
}

bool has_company(const DateDraft& draft, std::string_view text, const std::vector<Token>& tokens,
                 const DateWords& words) {
  return CompanyRules(text, tokens, words).has_company(draft);
}

}  // namespace tailproof

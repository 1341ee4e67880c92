// Atoms joined to phrases, and the company that a doubtful one must have.
//
// Each atom first takes in what stands before it ("by about the end of"), from right to left, the
// longest known phrase first. If then nothing but a joint ("to", "/") separates it from the date
// before, the two become one mention. Last, an atom that is a date only in company ("May", "1943",
// "the 14th") is dropped where it has none.
#include "mentions/dates.h"

#include <algorithm>
#include <cstdlib>
#include <utility>

#include "mentions/date_atoms.h"

namespace tailproof {
namespace {

// How much company the words before give.
enum class Company { kNone, kWeak, kStrong };

// A mention that may still be joined to the next one.
struct Draft {
  DateMention mention;
  DateAtom atom;  // the first; `end_atom` is the last
  DateAtom end_atom;
  Company company = Company::kNone;
  bool has_the = false;
  bool has_part = false;
  bool is_from = false;
  bool is_between = false;
  std::uint32_t the_begin = 0;  // begin without a leading "the"
};

class DateFinder {
 public:
  DateFinder(std::string_view text, const std::vector<Token>& tokens, const Grammars& grammars,
             const LedgerSettings& settings)
      : text_(text), tokens_(tokens), grammars_(grammars), settings_(settings), words_(grammars) {}

  std::vector<DateMention> run() {
    const auto matches = match_patterns(text_, tokens_, grammars_.patterns("date"));
    for (const PatternMatch& match : matches) {
      std::optional<DateAtom> atom = atom_of(match, text_, tokens_, words_, settings_);
      if (!atom) continue;
      add(std::move(*atom));
    }
    finish();
    number_sentences();
    return std::move(mentions_);
  }

 private:
  std::string_view word(std::size_t token) const {
    return text_.substr(tokens_[token].begin, tokens_[token].end - tokens_[token].begin);
  }

  // ---- words before ----

  struct Lead {
    std::string_view op;
    std::size_t token = 0;
  };

  // The longest known phrase that ends right before token `at` and begins no earlier than `limit`.
  std::optional<Lead> lead_before(std::size_t at, std::uint32_t limit) const {
    constexpr std::size_t kMostTokens = 7;
    const std::uint32_t end = tokens_[at].begin;
    for (std::size_t count = std::min(kMostTokens, at); count > 0; --count) {
      const std::size_t token = at - count;
      if (tokens_[token].begin < limit || word(token) == ".") continue;
      std::string_view phrase = text_.substr(tokens_[token].begin, end - tokens_[token].begin);
      while (!phrase.empty() && phrase.back() == ' ') phrase.remove_suffix(1);
      if (phrase.find_first_of(",;:()") != std::string_view::npos) continue;
      std::string_view op = words_.lead == nullptr ? "" : words_.lead->value_of(phrase);
      if (op.empty() && !phrase.empty() && phrase.back() == '-') {  // "mid-June"
        phrase.remove_suffix(1);
        op = words_.lead == nullptr ? "" : words_.lead->value_of(phrase);
        if (!is_part(op)) op = {};
      }
      if (op.empty()) continue;
      // A full point ends an abbreviation ("c."), or else the sentence before.
      const std::size_t point = phrase.find('.');
      if (point != std::string_view::npos && op != "about" && op != "since") continue;
      return Lead{op, token};
    }
    return std::nullopt;
  }

  static bool is_part(std::string_view op) {
    for (const std::string_view part : {"third", "half", "quarter", "week", "first", "last"}) {
      if (op.substr(0, part.size()) == part && op.size() > part.size() && op[part.size()] == ':') {
        return true;
      }
    }
    return op == "turn";
  }

  static DateBound bound_of(std::string_view op) {
    if (op == "by") return DateBound::kBy;
    if (op == "before") return DateBound::kBefore;
    if (op == "since" || op == "from") return DateBound::kSince;
    return op == "after" ? DateBound::kAfter : DateBound::kNone;
  }

  // Takes in the words before the draft, as far as they are part of the phrase itself.
  void take_parts(Draft& draft, std::size_t& at, std::uint32_t limit) const {
    DateUnit& unit = draft.mention.first;
    while (const std::optional<Lead> lead = lead_before(at, limit)) {
      if (lead->op == "the") {
        if (draft.has_the) return;
        draft.has_the = true;
      } else if (is_part(lead->op)) {
        if (!unit.part.empty()) return;
        unit.part = std::string(lead->op);
        draft.has_part = true;
        draft.has_the = false;
      } else if (lead->op == "later") {
        draft.has_part = true;
      } else if (lead->op == "about") {
        unit.approximate = true;
        draft.mention.hedged = true;
        draft.company = Company::kStrong;
      } else if (lead->op == "with") {
        draft.company = Company::kStrong;
      } else {
        return;
      }
      at = lead->token;
      draft.mention.begin = tokens_[at].begin;
      if (lead->op != "the") draft.the_begin = draft.mention.begin;
    }
  }

  // Then the words that bound it, hedge it, or merely keep it company.
  void take_bounds(Draft& draft, std::size_t at, std::uint32_t limit) const {
    DateMention& mention = draft.mention;
    bool only_hedges = false;
    while (const std::optional<Lead> lead = lead_before(at, limit)) {
      if (lead->op == "hedge") {
        mention.hedged = true;
      } else if (lead->op == "about" && only_hedges) {
        mention.first.approximate = mention.hedged = true;
      } else if (only_hedges) {
        return;
      } else if (lead->op == "in") {
        draft.company = Company::kStrong;
        only_hedges = true;
        at = lead->token;
        continue;
      } else if (lead->op == "weak") {
        draft.company = std::max(draft.company, Company::kWeak);
        return;
      } else if (lead->op == "between") {
        draft.is_between = true;
        draft.company = Company::kStrong;
        only_hedges = true;
      } else if (const DateBound bound = bound_of(lead->op); bound != DateBound::kNone) {
        mention.bound = bound;
        draft.is_from = lead->op == "from";
        draft.company = std::max(draft.company, mention.bound == DateBound::kBy || draft.is_from
                                                    ? Company::kWeak
                                                    : Company::kStrong);
        only_hedges = true;
      } else {
        return;
      }
      at = lead->token;
      mention.bound_begin = tokens_[at].begin;
    }
  }

  // ---- joining ----

  static Draft draft_of(DateAtom atom) {
    Draft draft;
    DateMention& mention = draft.mention;
    mention.begin = mention.bound_begin = draft.the_begin = atom.begin;
    mention.end = atom.end;
    mention.first_end = atom.first_end;
    mention.second_begin = atom.second_begin;
    mention.first = atom.unit;
    mention.hedged = atom.unit.approximate;
    if (atom.second) {
      mention.second = *atom.second;
      mention.joint = atom.joint;
    }
    mention.weekday = atom.weekday;
    mention.weekday_begin = atom.weekday_begin;
    mention.weekday_end = atom.weekday_end;
    mention.pattern = atom.pattern;
    draft.atom = draft.end_atom = std::move(atom);
    return draft;
  }

  void add(DateAtom atom) {
    Draft draft = draft_of(std::move(atom));
    std::size_t at = draft.atom.first_token;
    if (pending_) {
      Draft joined = draft;
      std::size_t joined_at = at;
      take_parts(joined, joined_at, pending_->mention.end);
      if (join(joined)) return;
    }
    // Only now is it known whether the one before is a date, and its words are taken.
    finish();
    take_parts(draft, at, last_end_);
    take_bounds(draft, at, last_end_);
    pending_ = std::move(draft);
  }

  // Whether the draft continues the pending one; then it is taken in.
  bool join(Draft& draft) {
    DateMention& left = pending_->mention;
    if (left.joint != DateJoint::kNone || draft.mention.joint != DateJoint::kNone) return false;
    const std::string_view between = text_.substr(left.end, draft.mention.begin - left.end);
    if (pending_->atom.may_lean && between == " " && !draft.mention.first.is_relative()) {
      take_in(draft, DateJoint::kFrom);
      return true;
    }
    if (left.first.is_offset()) return false;
    if (between.size() > 12 || words_.joint == nullptr) return false;
    const std::string_view op = words_.joint->value_of(trimmed(between));
    if (op.empty() || draft.mention.first.is_offset() || left.first.is_offset()) return false;
    if (op == "range" || (op == "and" && pending_->is_between)) {
      // "was lost in May to 14 Squadron" has no date after it; a year after a day has.
      take_in(draft, DateJoint::kRange);
      left.is_somewhere_within = pending_->is_between;
      if (pending_->is_from || left.bound == DateBound::kSince) left.bound = DateBound::kNone;
      return true;
    }
    if (op == "or") {
      take_in(draft, DateJoint::kOr);
      return true;
    }
    if (op == "slash") {
      const Precision precision = draft.mention.first.precision;
      const bool one_of = precision == Precision::kMonth || precision == Precision::kSeason;
      take_in(draft, one_of ? DateJoint::kOr : DateJoint::kRange);
      return true;
    }
    // "June and July 1943": two dates of one year.
    DateUnit& first = left.first;
    if (!first.year && !first.is_relative() && draft.mention.first.year) {
      first.year = draft.mention.first.year;
      if (first.month > draft.mention.first.month && draft.mention.first.month != 0) --*first.year;
      pending_->company = Company::kStrong;
    }
    return false;
  }

  static std::string_view trimmed(std::string_view text) {
    while (!text.empty() && (text.front() == ' ' || text.front() == '.' || text.front() == ',')) {
      text.remove_prefix(1);
    }
    while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
    return text;
  }

  void take_in(Draft& draft, DateJoint joint) {
    DateMention& left = pending_->mention;
    left.joint = joint;
    left.second = draft.mention.first;
    left.first_end = left.end;
    left.second_begin = draft.mention.begin;
    left.end = draft.mention.end;
    left.hedged = left.hedged || draft.mention.hedged;
    if (left.weekday < 0 && joint == DateJoint::kFrom) {
      left.weekday = draft.mention.weekday;
      left.weekday_begin = draft.mention.weekday_begin;
      left.weekday_end = draft.mention.weekday_end;
    }
    pending_->end_atom = std::move(draft.atom);
    if (joint == DateJoint::kFrom) {
      DateUnit& offset = left.first;
      if (offset.is_offset()) return;
      // "The day before 14 June": one day back.
      offset.offset = offset.ref == DateRef::kPrevious ? -1 : 1;
      offset.offset_period = std::exchange(offset.ref_period, DatePeriod::kNone);
      offset.ref = DateRef::kNone;
      return;
    }
    share_fields(left.first, left.second);
    if (pending_->company == Company::kNone && draft.atom.needs.empty()) {
      pending_->company = Company::kWeak;
    }
  }

  // "June to August 1943", "June 1943 to August", "4 May to 10 July 1776": what one end leaves out
  // is that of the other.
  static void share_fields(DateUnit& first, DateUnit& second) {
    if (first.is_relative() || second.is_relative()) return;
    const auto order = [](const DateUnit& unit) {
      if (unit.season != 0) return unit.season == 24 ? 12U : 3 * (unit.season - 20);
      return unit.month;
    };
    const bool backwards = order(first) > order(second) && order(second) != 0;
    if (!first.year && second.year && first.year_ref == DateRef::kNone) {
      first.year = *second.year - (backwards ? 1 : 0);
    } else if (first.year && !second.year && second.year_ref == DateRef::kNone &&
               first.precision != Precision::kYear) {
      second.year = *first.year + (backwards ? 1 : 0);
    }
    if (second.month == 0 && second.precision == Precision::kDay) second.month = first.month;
    if (first.month == 0 && first.precision == Precision::kDay) first.month = second.month;
  }

  // ---- words after ----

  void take_tail(Draft& draft) const {
    DateMention& mention = draft.mention;
    take_weekday_after(draft);
    const std::size_t first = draft.end_atom.next_token;
    constexpr std::size_t kMostTokens = 5;
    for (std::size_t count = kMostTokens; count > 0; --count) {
      if (first + count > tokens_.size() || words_.tail == nullptr) continue;
      const std::uint32_t end = tokens_[first + count - 1].end;
      const std::string_view between =
          text_.substr(mention.end, tokens_[first].begin - mention.end);
      if (between.size() > 1 || tokens_[first].begin < mention.end) return;
      std::string_view op =
          words_.tail->value_of(text_.substr(tokens_[first].begin, end - tokens_[first].begin));
      if (op == "since if from") op = draft.is_from ? "since" : "";
      if (op.empty()) continue;
      DateUnit& unit = mention.joint == DateJoint::kNone ? mention.first : mention.second;
      mention.end = end;
      if (op == "about") {
        unit.approximate = mention.hedged = true;
      } else if (op == "question") {
        unit.uncertain = mention.hedged = true;
      } else if (mention.bound == DateBound::kNone || op == "since") {
        mention.bound = bound_of(op);
      }
      return;
    }
  }

  // "14 June 1943 (a Monday)".
  void take_weekday_after(Draft& draft) const {
    DateMention& mention = draft.mention;
    const std::size_t at = draft.end_atom.next_token;
    if (mention.weekday >= 0 || at >= tokens_.size()) return;
    if ((tokens_[at].starts & kStartsBracket) == 0 || tokens_[at].begin > mention.end + 1) return;
    const std::vector<Token> here(1, tokens_[at]);
    const auto matches = match_patterns(text_, here, grammars_.patterns("date_weekday"));
    if (matches.empty()) return;
    const std::string_view weekday = matches.front().text_of("weekday", text_);
    mention.weekday = std::atoi(matches.front().value_of("weekday", text_).c_str());
    mention.weekday_begin = static_cast<std::uint32_t>(weekday.data() - text_.data());
    mention.weekday_end = mention.weekday_begin + static_cast<std::uint32_t>(weekday.size());
  }

  // ---- company ----

  bool has_company(const Draft& draft) const {
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
    if (atom.needs == "part") return draft.has_part && (draft.has_the || begins_with_the(draft));
    if (atom.needs == "day") return is_day_alone(draft);
    if (atom.needs == "number") return is_month_in_numbers(draft);
    if (atom.needs == "two digits") return is_year_of_two_digits(draft);
    if (atom.needs == "part of two digits") return is_part_of_two_digits(draft);
    if (atom.needs == "year") return is_year(draft);
    if (atom.needs == "in") return draft.company == Company::kStrong;
    if (mention.first.year || mention.first.year_ref != DateRef::kNone) return true;
    return is_bare_name(draft);
  }

  bool has_company_joined(const Draft& draft) const {
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

  bool ends_its_phrase(const Draft& draft) const {
    if (!draft.atom.is_end_of_phrase) return true;
    const std::size_t next = draft.atom.next_token;
    return next >= tokens_.size() || tokens_[next].kind == TokenKind::kMark;
  }

  bool begins_with_the(const Draft& draft) const {
    const std::optional<Lead> lead = lead_before(draft.atom.first_token, draft.mention.begin);
    return lead.has_value();
  }

  bool follows_owner(const Draft& draft) const {
    const std::size_t at = token_at(draft.mention.begin);
    return at > 0 && is_in(words_.owner, word(at - 1));
  }

  std::size_t token_at(std::uint32_t begin) const {
    const auto found =
        std::lower_bound(tokens_.begin(), tokens_.end(), begin,
                         [](const Token& token, std::uint32_t at) { return token.begin < at; });
    return static_cast<std::size_t>(found - tokens_.begin());
  }

  bool is_offset_in_time(const Draft& draft) const {
    const std::size_t at = token_at(draft.mention.begin);
    if (at == 0) return true;
    return draft.mention.joint == DateJoint::kFrom || !is_in(words_.length, word(at - 1));
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

  bool follows_label(std::size_t at) const {
    if (at == 0) return false;
    std::size_t label = at - 1;
    if (word(label) == "." && label > 0) --label;
    return is_in(words_.label, word(label));
  }

  // A bare year: after "in" and the like, or set off by marks, or after a place in capitals.
  bool is_year(const Draft& draft) const {
    const std::int64_t year = draft.mention.first.year.value_or(0);
    if (year < 1400) return false;
    const std::size_t at = token_at(draft.mention.begin);
    if (follows_label(at)) return false;
    if (draft.atom.counts && draft.company != Company::kStrong) return false;
    if (draft.company != Company::kNone || draft.has_part || draft.has_the) return true;
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
  bool is_month_in_numbers(const Draft& draft) const {
    const DateUnit& unit = draft.mention.first;
    if (unit.month < 1 || unit.month > 12) return false;
    const std::size_t at = token_at(draft.mention.begin);
    const std::size_t next = draft.end_atom.next_token;
    if (follows_label(at) || draft.atom.counts) return false;
    if (draft.company != Company::kNone)
      return is_set_off_after(next) || draft.company == Company::kStrong;
    if (!is_set_off_after(next)) return false;
    if (at == 0 || is_set_off_before(at)) return true;
    // After a word of a record ("to 9 Sqn 4.43", "again 1.44"), not after letters of an order.
    return !tokens_[at - 1].all_capitals && tokens_[at - 1].kind == TokenKind::kWord &&
           text_.substr(draft.atom.begin, draft.atom.end - draft.atom.begin).find('.') !=
               std::string_view::npos;
  }

  bool is_year_of_two_digits(const Draft& draft) const {
    const std::size_t next = draft.atom.next_token;
    // 'White 5', '43': a number in quotation marks.
    if (next < tokens_.size() && tokens_[next].begin == draft.atom.end &&
        (tokens_[next].starts & kStartsQuote) != 0) {
      return false;
    }
    const std::uint32_t begin = draft.atom.begin;
    if (begin > 0 && text_[begin - 1] != ' ' && text_[begin - 1] != '(') return false;
    return draft.company != Company::kNone || draft.has_part;
  }

  // "late 43" is a year; "late 14" may be the day, or a squadron's number.
  bool is_part_of_two_digits(const Draft& draft) const {
    return draft.mention.first.year.value_or(0) % 100 > 31 && !draft.atom.counts;
  }

  // "on the 14th", and nothing after it that could be the fourteenth of something.
  bool is_day_alone(const Draft& draft) const {
    if (draft.mention.first.day > 31) return false;
    if (draft.mention.first.month_ref != DateRef::kNone) return true;
    if (!draft.has_the || draft.company == Company::kNone) return false;
    // "The first", "the second" in words count things far more often than days.
    const bool in_words = tokens_[draft.atom.first_token].kind == TokenKind::kWord;
    if (in_words && draft.mention.first.day <= 3) return false;
    if (draft.company == Company::kWeak && draft.mention.bound == DateBound::kNone) return false;
    const std::size_t next = draft.end_atom.next_token;
    return is_set_off_after(next) || is_in(words_.follower, word(next));
  }

  // A month, season or feast without a year: "in May", "early June"; not "Sgt March", "Port
  // August", "June Hargreaves", "the fall of the city".
  bool is_bare_name(const Draft& draft) const {
    const DateAtom& atom = draft.atom;
    const std::size_t at = token_at(draft.mention.begin);
    const std::size_t next = draft.end_atom.next_token;
    const Token& name = tokens_[atom.first_token];
    const bool all_capitals_text = at > 0 && tokens_[at - 1].all_capitals;
    const bool capital_next = next < tokens_.size() && tokens_[next].capital &&
                              tokens_[next].kind == TokenKind::kWord && !tokens_[next].all_capitals;
    if (text_.size() > atom.end && text_[atom.end] == '-' && !is_joined(draft)) return false;
    if (draft.mention.first.season != 0) return is_bare_season(draft, next);
    if (draft.atom.needs == "feast") return !capital_next || draft.company == Company::kStrong;
    if (!name.capital && draft.company == Company::kNone && !draft.has_part) return false;
    const std::string_view doubt =
        words_.doubtful == nullptr ? "" : words_.doubtful->value_of(word(atom.first_token));
    if (!doubt.empty() && !name.capital) return false;
    if (draft.has_part || draft.company == Company::kStrong) return true;
    if (draft.company == Company::kWeak) return doubt.empty() || !capital_next;
    if (doubt == "word") return is_joined(draft);
    if (!doubt.empty() && capital_next) return false;
    if (at > 0 && tokens_[at - 1].kind == TokenKind::kWord) {
      return all_capitals_text || (!tokens_[at - 1].capital && doubt.empty());
    }
    return true;
  }

  static bool is_joined(const Draft& draft) { return draft.mention.joint != DateJoint::kNone; }

  bool is_bare_season(const Draft& draft, std::size_t next) const {
    // "the fall of the city"; with "of 1943" it would have a year.
    if (next < tokens_.size() && is_in(words_.of, word(next))) return false;
    if (draft.has_part || is_joined(draft)) return true;
    if (draft.mention.first.ref != DateRef::kNone) return true;
    const Token& name = tokens_[draft.atom.first_token];
    if (name.capital && !name.sentence_start && draft.company != Company::kStrong) return false;
    const bool doubtful = is_in(words_.doubtful, word(draft.atom.first_token));
    if (draft.company == Company::kStrong || draft.mention.bound != DateBound::kNone) return true;
    return draft.has_the && !doubtful;
  }

  // ---- the end of a mention ----

  void finish() {
    if (!pending_) return;
    Draft draft = std::move(*pending_);
    pending_.reset();
    if (draft.is_between && draft.mention.joint == DateJoint::kNone) draft.is_between = false;
    if (!has_company(draft)) return;
    take_tail(draft);
    DateMention& mention = draft.mention;
    if (draft.is_between && mention.joint == DateJoint::kAnd) {
      mention.joint = DateJoint::kRange;
      mention.is_somewhere_within = true;
    }
    // "the 1943 offensive": the article is the noun's.
    if (mention.first.precision == Precision::kYear && draft.has_the && !draft.has_part &&
        !mention.first.is_relative() && draft.the_begin > mention.begin) {
      mention.begin = draft.the_begin;
    }
    if (mention.bound == DateBound::kNone && !mention.hedged) mention.bound_begin = mention.begin;
    mention.bound_begin = std::min(mention.bound_begin, mention.begin);
    if (mention.joint != DateJoint::kNone && mention.first.approximate &&
        draft.atom.joint != DateJoint::kNone) {
      mention.second.approximate = true;
    }
    if (draft.atom.may_lean && mention.joint != DateJoint::kFrom) {
      mention.leans_on_event = !is_set_off_after(draft.atom.next_token);
    }
    mention.is_complete = is_complete(mention);
    if (mention.joint == DateJoint::kFrom && mention.second.is_complete()) {
      DateMention base;
      base.first = mention.second;
      settle_date(base, settings_);
      mention.is_complete = !base.impossible && settle_offset(mention, base.date, settings_);
      mention.impossible = base.impossible;
      mention.what = base.what;
    } else if (mention.is_complete) {
      settle_date(mention, settings_);
    }
    last_end_ = mention.end;
    mentions_.push_back(std::move(mention));
  }

  static bool is_complete(const DateMention& mention) {
    if (mention.joint == DateJoint::kFrom) return false;
    return mention.first.is_complete() &&
           (mention.joint == DateJoint::kNone || mention.second.is_complete());
  }

  void number_sentences() {
    std::uint32_t sentence = 0;
    std::size_t sentence_begin = 0;
    std::size_t at = 0;
    for (DateMention& mention : mentions_) {
      for (; at < tokens_.size() && tokens_[at].begin <= mention.begin; ++at) {
        if (!tokens_[at].sentence_start) continue;
        ++sentence;
        sentence_begin = at;
      }
      mention.sentence = sentence;
      constexpr std::size_t kFewTokens = 3;
      mention.opens_sentence = token_at(mention.begin) <= sentence_begin + kFewTokens;
    }
  }

  std::string_view text_;
  const std::vector<Token>& tokens_;
  const Grammars& grammars_;
  const LedgerSettings& settings_;
  DateWords words_;
  std::optional<Draft> pending_;
  std::uint32_t last_end_ = 0;
  std::vector<DateMention> mentions_;
};

}  // namespace

std::vector<DateMention> find_dates(std::string_view text, const std::vector<Token>& tokens,
                                    const Grammars& grammars, const LedgerSettings& settings) {
  return DateFinder(text, tokens, grammars, settings).run();
}

}  // namespace tailproof

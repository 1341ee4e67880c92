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

#include "grammars/fold.h"
#include "mentions/date_atoms.h"
#include "mentions/date_company.h"
#include "mentions/date_reader.h"
#include "source/ascii.h"

namespace tailproof {
namespace {

class DateFinder {
 public:
  DateFinder(DateReader& reader, std::string_view text, const std::vector<Token>& tokens)
      : reader_(reader),
        text_(text),
        tokens_(tokens),
        settings_(reader.settings),
        words_(reader.words) {}

  std::vector<DateMention> run() {
    for (const PatternMatch& match : reader_.dates.match(text_, tokens_)) {
      std::optional<DateAtom> atom = atom_of(match, text_, tokens_, words_, settings_);
      if (!atom) continue;
      add(std::move(*atom));
    }
    finish();
    number_sentences();
    return std::move(mentions_);
  }

 private:
  Spelling word(std::size_t token) const { return spelling_of(text_, tokens_[token]); }

  // ---- words before ----

  static constexpr std::size_t kMostTokensOfLead = 7;
  struct Lead {
    std::string_view op;
    std::size_t token = 0;
  };

  // Of how many words and marks a lead may be that ends before token `at`; 0 when none does.
  std::size_t longest_lead(std::size_t at) const {
    if (at == 0) return 0;
    std::size_t last = at - 1;
    const bool has_hyphen = last > 0 && word(last) == "-";
    if (has_hyphen || (last > 0 && word(last) == ".")) --last;
    if (tokens_[last].kind == TokenKind::kMark) return kMostTokensOfLead;
    if (last > 0 && tokens_[last - 1].end == tokens_[last].begin && word(last - 1) == ".")
      return kMostTokensOfLead;
    const Word* of_table = tokens_[last].word;
    const std::size_t words = of_table != nullptr
                                  ? reader_.use_of(*of_table).words_of_lead
                                  : words_.words_of_lead(FoldedWord(word(last)).view());
    return words == 0 ? 0 : words + (has_hyphen ? 1 : 0);
  }

  // Whether a full point stands close behind the token: folding drops it, so that how a phrase
  // would go on is left open.
  bool has_point_behind(std::size_t token) const {
    return token + 1 < tokens_.size() && tokens_[token + 1].begin == tokens_[token].end &&
           word(token + 1) == ".";
  }

  bool may_start_lead(std::size_t token) const {
    const Word* of_table = tokens_[token].word;
    return of_table == nullptr || reader_.use_of(*of_table).starts_lead || has_point_behind(token);
  }

  // Of how many tokens a tail is at most that begins with this one.
  std::size_t longest_tail(std::size_t first) const {
    constexpr std::size_t kMostTokens = 5;
    if (first >= tokens_.size()) return 0;
    const Word* of_table = tokens_[first].word;
    if (of_table == nullptr || word(first) == "." || has_point_behind(first)) return kMostTokens;
    const std::size_t longest = reader_.use_of(*of_table).words_of_tail;
    std::size_t most = 0;
    for (std::size_t words = 0; most < kMostTokens && first + most < tokens_.size(); ++most) {
      if (word(first + most) != "." && ++words > longest) break;
    }
    return most;
  }

  // The longest known phrase that ends right before token `at` and begins no earlier than `limit`.
  std::optional<Lead> lead_before(std::size_t at, std::uint32_t limit) const {
    const std::size_t longest = longest_lead(at);
    if (longest == 0) return std::nullopt;
    const std::uint32_t end = tokens_[at].begin;
    std::size_t most = 0;
    for (std::size_t words = 0; most < std::min(kMostTokensOfLead, at); ++most) {
      const Spelling next = word(at - most - 1);
      if (next == "," || next == ";" || next == ":" || next == "(" || next == ")") break;
      if (next != "." && ++words > longest) break;
    }
    for (std::size_t count = most; count > 0; --count) {
      const std::size_t token = at - count;
      if (tokens_[token].begin < limit || word(token) == ".") continue;
      if (!may_start_lead(token)) continue;
      std::string_view phrase = text_.substr(tokens_[token].begin, end - tokens_[token].begin);
      while (!phrase.empty() && phrase.back() == ' ') phrase.remove_suffix(1);
      const Word* alone = count == 1 ? tokens_[token].word : nullptr;
      std::string_view op = words_.lead == nullptr ? ""
                            : alone != nullptr     ? alone->value_in(words_.lead)
                                                   : words_.lead->value_of(phrase);
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
    for (const std::string_view part :
         {"third", "half", "quarter", "week", "first", "last", "lastbut", "weekday"}) {
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

  // "Less than four weeks later", "just a day before": what is said of the length.
  void take_span_words(DateDraft& draft, std::size_t& at, std::uint32_t limit) const {
    constexpr std::size_t kMostTokens = 3;
    for (std::size_t count = std::min(kMostTokens, at); count > 0; --count) {
      const std::size_t token = at - count;
      if (tokens_[token].begin < limit || tokens_[token].kind == TokenKind::kMark) continue;
      const std::uint32_t begin = tokens_[token].begin;
      const std::string_view op =
          words_.span->value_of(text_.substr(begin, tokens_[at - 1].end - begin));
      if (op.empty()) continue;
      if (op == "about") draft.mention.first.approximate = draft.mention.hedged = true;
      draft.mention.first.offset_to_the_day |= op == "to the day";
      at = token;
      draft.mention.begin = draft.mention.bound_begin = draft.the_begin = begin;
      return;
    }
  }

  // Takes in the words before the draft, as far as they are part of the phrase itself.
  void take_parts(DateDraft& draft, std::size_t& at, std::uint32_t limit) const {
    DateUnit& unit = draft.mention.first;
    bool article = false;  // of what has been taken so far
    if (unit.is_offset() && words_.span != nullptr) take_span_words(draft, at, limit);
    while (const std::optional<Lead> lead = lead_before(at, limit)) {
      if (lead->op == "the" || lead->op == "season the") {
        if (article || (lead->op != "the" && unit.season == 0)) return;
        article = draft.has_the = true;
      } else if (is_part(lead->op)) {
        if (!unit.part.empty()) return;
        unit.part = std::string(lead->op);
        draft.has_part = true;
        article = false;
      } else if (lead->op == "later") {
        draft.has_part = true;
      } else if (lead->op == "about") {
        unit.approximate = true;
        draft.mention.hedged = true;
        draft.company = DateCompany::kStrong;
      } else if (lead->op == "with") {
        draft.company = DateCompany::kStrong;
      } else {
        return;
      }
      at = lead->token;
      draft.mention.begin = tokens_[at].begin;
      if (lead->op != "the" && lead->op != "season the") draft.the_begin = draft.mention.begin;
    }
  }

  // Then the words that bound it, hedge it, or merely keep it company.
  void take_bounds(DateDraft& draft, std::size_t at, std::uint32_t limit) const {
    DateMention& mention = draft.mention;
    bool only_hedges = false;
    while (const std::optional<Lead> lead = lead_before(at, limit)) {
      if (lead->op == "hedge") {
        mention.hedged = true;
      } else if (lead->op == "about" && only_hedges) {
        mention.first.approximate = mention.hedged = true;
      } else if (only_hedges) {
        break;
      } else if (lead->op == "in") {
        draft.company = DateCompany::kStrong;
        only_hedges = true;
        at = lead->token;
        continue;
      } else if (lead->op == "weak") {
        draft.company = std::max(draft.company, DateCompany::kWeak);
        return;
      } else if (lead->op == "between") {
        draft.is_between = true;
        draft.company = DateCompany::kStrong;
        only_hedges = true;
      } else if (const DateBound bound = bound_of(lead->op); bound != DateBound::kNone) {
        mention.bound = bound;
        draft.is_from = lead->op == "from";
        draft.company = std::max(draft.company, mention.bound == DateBound::kBy || draft.is_from
                                                    ? DateCompany::kWeak
                                                    : DateCompany::kStrong);
        only_hedges = true;
      } else {
        return;
      }
      at = lead->token;
      mention.bound_begin = tokens_[at].begin;
    }
    // "From 9 to 14 November 1942" has its end already.
    if (draft.is_from && mention.joint == DateJoint::kRange) mention.bound = DateBound::kNone;
  }

  // ---- joining ----

  static DateDraft draft_of(DateAtom atom) {
    DateDraft draft;
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
    DateDraft draft = draft_of(std::move(atom));
    std::size_t at = draft.atom.first_token;
    // "Every spring", "each May": many, and none that could be named.
    if (at > 0 && !draft.mention.first.year && is_in(words_.recurring, word(at - 1))) return;
    const bool is_sure =
        pending_ && (pending_->atom.needs != "part" && pending_->atom.needs != "the");
    if (pending_ && (is_sure || has_company(*pending_, text_, tokens_, words_))) {
      DateDraft joined = draft;
      std::size_t joined_at = at;
      take_parts(joined, joined_at, pending_->mention.end);
      if (join(joined)) return;
    }
    // Only now is it known whether the one before is a date, and its words are taken.
    finish();
    take_parts(draft, at, last_end_);
    take_bounds(draft, at, last_end_);
    if (std::exchange(follows_season_, false) && draft.company == DateCompany::kWeak)
      draft.company = DateCompany::kStrong;
    pending_ = std::move(draft);
  }

  // Whether the draft goes on with the pending one; then it is taken in.
  bool join(DateDraft& draft) {
    DateMention& left = pending_->mention;
    if (left.joint != DateJoint::kNone || draft.mention.joint != DateJoint::kNone) return false;
    const std::string_view between = text_.substr(left.end, draft.mention.begin - left.end);
    if (pending_->atom.may_lean && between == " " && !draft.mention.first.is_relative()) {
      // "A month after the Fourth was raised".
      if (is_ordinal_of_unit(draft, text_, tokens_, words_)) return false;
      take_in(draft, DateJoint::kFrom);
      return true;
    }
    if (left.first.is_offset() || is_ordinal_of_unit(*pending_, text_, tokens_, words_) ||
        (left.first.year && is_ordinal_of_unit(draft, text_, tokens_, words_)))
      return false;
    if (counts_things(*pending_, tokens_) && draft.mention.first.day == 0) return false;
    if (between.size() > 12 || words_.joint == nullptr) return false;
    // A full point ends the sentence behind a figure or before a capital; else it may abbreviate.
    const bool is_new = is_digit(text_[left.end - 1]) || has_upper(between);
    if (is_new && between.find('.') != std::string_view::npos) return false;
    const std::string_view op = words_.joint->value_of(trimmed(between));
    if (op.empty() || draft.mention.first.is_offset() || left.first.is_offset()) return false;
    // "The fifties to the Fourth, the sixties to the Ninth": years go on to no day.
    if (left.first.precision == Precision::kDecade &&
        draft.mention.first.precision == Precision::kDay)
      return false;
    // "Between mid-October and the second": a month goes on to no day.
    if (draft.atom.needs == "day" && left.first.day == 0 && draft.mention.first.month == 0)
      return false;
    if (op == "range" || (op == "and" && pending_->is_between)) {
      // "was lost in May to 14 Squadron" has no date after it; a year after a day has.
      take_in(draft, DateJoint::kRange);
      left.is_somewhere_within = pending_->is_between;
      if (pending_->is_from || left.bound == DateBound::kSince) left.bound = DateBound::kNone;
      return true;
    }
    if (op == "or") {
      // "Summer 1940 or 1941", "June 1940 or 1941".
      DateUnit& other = draft.mention.first;
      if (left.first.year && left.first.day == 0 && other.precision == Precision::kYear &&
          other.part.empty()) {
        other.season = left.first.season;
        other.month = left.first.month;
        other.precision = left.first.precision;
      }
      take_in(draft, DateJoint::kOr);
      return true;
    }
    if (op == "slash") {
      const Precision precision = draft.mention.first.precision;
      const bool one_of = precision == Precision::kMonth || precision == Precision::kSeason;
      take_in(draft, one_of ? DateJoint::kOr : DateJoint::kRange);
      return true;
    }
    // "Spent the spring and summer training": a season like the one before it.
    follows_season_ = left.first.season != 0 && draft.mention.first.season != 0;
    // "June and July 1943": two dates of one year.
    DateUnit& first = left.first;
    if (!first.year && !first.is_relative() && draft.mention.first.year) {
      first.year = draft.mention.first.year;
      if (first.month > draft.mention.first.month && draft.mention.first.month != 0) --*first.year;
      pending_->company = DateCompany::kStrong;
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

  void take_in(DateDraft& draft, DateJoint joint) {
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
    if (pending_->company == DateCompany::kNone && draft.atom.needs.empty()) {
      pending_->company = DateCompany::kWeak;
    }
  }

  // "9 November to 31 October 1942" would take all but a few days of a year, and nobody leaves out
  // the year of so long a time: it runs backwards. "20 December to 3 January 1943" does not.
  static bool is_slip(const DateUnit& first, const DateUnit& second) {
    constexpr Day kFewWeeks = 60;
    if (first.precision != Precision::kDay || second.precision != Precision::kDay) return false;
    if (first.year || !second.year || first.month == 0 || second.month == 0) return false;
    const Day begin = to_day({*second.year, first.month, first.day});
    return begin - to_day({*second.year, second.month, second.day}) <= kFewWeeks;
  }

  // "June to August 1943", "June 1943 to August", "4 May to 10 July 1776": what one end leaves out
  // is that of the other.
  static void share_fields(DateUnit& first, DateUnit& second) {
    if (first.is_relative() || second.is_relative()) return;
    const auto order = [](const DateUnit& unit) {
      if (unit.season > 24) return 0U;  // of a hemisphere named
      if (unit.season != 0) return unit.season == 24 ? 12U : 3 * (unit.season - 20);
      return unit.month;
    };
    const bool backwards =
        order(first) > order(second) && order(second) != 0 && !is_slip(first, second);
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

  void take_tail(DateDraft& draft) const {
    DateMention& mention = draft.mention;
    take_weekday_after(draft);
    take_day_after(draft);
    const std::size_t first = draft.end_atom.next_token;
    for (std::size_t count = longest_tail(first); count > 0; --count) {
      if (first + count > tokens_.size() || words_.tail == nullptr) continue;
      const Token& last = tokens_[first + count - 1];
      if (count > 1 && (last.sentence_start || word(first + count - 1) == ".")) continue;
      const std::uint32_t end = last.end;
      const std::uint32_t begin = tokens_[first].begin;
      const std::string_view between = text_.substr(mention.end, begin - mention.end);
      if (between.size() > 1 || begin < mention.end) return;
      const bool is_open = draft.is_from && mention.joint != DateJoint::kRange;
      std::string_view op = words_.tail->value_of(text_.substr(begin, end - begin));
      if (op == "since if from") op = is_open ? "since" : "";
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
  void take_weekday_after(DateDraft& draft) const {
    DateMention& mention = draft.mention;
    const std::size_t at = draft.end_atom.next_token;
    if (mention.weekday >= 0 || at >= tokens_.size()) return;
    if ((tokens_[at].starts & kStartsBracket).none() || tokens_[at].begin > mention.end + 1) return;
    const std::vector<Token> here(1, tokens_[at]);
    const auto& matches = reader_.weekdays.match(text_, here);
    if (matches.empty()) return;
    const std::string_view weekday = matches.front().text_of("weekday", text_);
    mention.weekday = std::atoi(std::string(matches.front().value_of("weekday", text_)).c_str());
    mention.weekday_begin = static_cast<std::uint32_t>(weekday.data() - text_.data());
    mention.weekday_end = mention.weekday_begin + static_cast<std::uint32_t>(weekday.size());
  }

  // "The first Monday of June 1943, the 7th": the day with its weekday. Not where more follows that
  // the 7th, a unit, may have done.
  void take_day_after(DateDraft& draft) const {
    constexpr std::string_view kNthWeekday = "weekday:";
    constexpr int kDaysOfWeek = 7;
    constexpr std::size_t kWords = 3;  // "," "the" "7th"
    DateMention& mention = draft.mention;
    const std::size_t at = draft.end_atom.next_token, next = at + kWords;
    if (mention.joint != DateJoint::kNone || !mention.first.part.starts_with(kNthWeekday) ||
        next > tokens_.size() || word(at) != "," || tokens_[at].begin != mention.end)
      return;
    const bool is_last = next == tokens_.size() || word(next) == "." || word(next) == ";" ||
                         word(next) == ")" || word(next) == ":";
    const auto& matches = reader_.days_behind.match(text_, std::vector<Token>(1, tokens_[at]));
    if (!is_last || matches.empty()) return;
    mention.weekday = (mention.first.part.back() - '0') % kDaysOfWeek;
    mention.first.part.clear();
    mention.first.day = static_cast<unsigned>(
        std::atoi(std::string(matches.front().value_of("day", text_)).c_str()));
    mention.first.precision = Precision::kDay;
    mention.weekday_begin = mention.begin;
    mention.weekday_end = mention.end;
    mention.end = matches.front().end;
    draft.end_atom.next_token = next;
  }

  // ---- the end of a mention ----

  void finish() {
    if (!pending_) return;
    DateDraft draft = std::move(*pending_);
    pending_.reset();
    if (draft.is_between && draft.mention.joint == DateJoint::kNone) draft.is_between = false;
    if (!has_company(draft, text_, tokens_, words_)) return;
    take_tail(draft);
    DateMention& mention = draft.mention;
    if (draft.is_between && mention.joint == DateJoint::kAnd) {
      mention.joint = DateJoint::kRange;
      mention.is_somewhere_within = true;
    }
    // "the 1943 offensive": the article is the noun's.
    if (mention.first.precision == Precision::kYear && draft.has_the &&
        mention.first.part.empty() && !mention.first.is_relative() &&
        draft.the_begin > mention.begin) {
      mention.begin = draft.the_begin;
    }
    if (mention.bound == DateBound::kNone && !mention.hedged) mention.bound_begin = mention.begin;
    mention.bound_begin = std::min(mention.bound_begin, mention.begin);
    if (mention.joint != DateJoint::kNone && mention.first.approximate &&
        draft.atom.joint != DateJoint::kNone) {
      mention.second.approximate = true;
    }
    mention.is_from_picture = draft.atom.is_from_picture;
    const bool is_behind = draft.atom.may_lean || draft.atom.has_ref_behind;
    if (is_behind && mention.joint != DateJoint::kFrom) {
      const std::size_t next = draft.atom.next_token;
      mention.ends_its_phrase = next >= tokens_.size() || tokens_[next].kind == TokenKind::kMark ||
                                is_in(words_.no_event, word(next));
      mention.leans_on_event = draft.atom.may_lean && !mention.ends_its_phrase;
    }
    const std::size_t after = draft.end_atom.next_token;
    mention.stands_last = after >= tokens_.size() || tokens_[after].kind == TokenKind::kMark;
    mention.is_before_happening = mention.first.season != 0 && !mention.first.year &&
                                  after < tokens_.size() && is_in(words_.happening, word(after));
    mention.is_unplaced = draft.has_the && mention.first.is_named() && !mention.first.year &&
                          !mention.first.is_relative() && after + 1 < tokens_.size() &&
                          is_in(words_.outside, word(after)) &&
                          is_in(words_.definite, word(after + 1));
    mention.is_as_spoken =
        draft.atom.is_as_spoken && !draft.has_the && mention.first.precision >= Precision::kMonth;
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
      mention.opens_sentence = token_at(tokens_, mention.begin) <= sentence_begin + kFewTokens;
    }
  }

  DateReader& reader_;
  std::string_view text_;
  const std::vector<Token>& tokens_;
  const LedgerSettings& settings_;
  const DateWords& words_;
  std::optional<DateDraft> pending_;
  std::uint32_t last_end_ = 0;
  bool follows_season_ = false;  // the next draft stands behind a season and "and"
  std::vector<DateMention> mentions_;
};

}  // namespace

const DateReader::Use& DateReader::use_of(const Word& word) {
  if (word.number >= uses_.size()) uses_.resize(2 * std::size_t{word.number} + 1);
  Use& use = uses_[word.number];
  if (use.is_met) return use;
  const std::string folded(word.folded);
  use = {true, words.words_of_lead(folded), words.words_of_tail(folded),
         words.starts_of_leads.count(folded) != 0};
  return use;
}

std::vector<DateMention> DateReader::find(std::string_view text, const std::vector<Token>& tokens) {
  return DateFinder(*this, text, tokens).run();
}

std::vector<DateMention> find_dates(std::string_view text, const std::vector<Token>& tokens,
                                    const Grammars& grammars, const LedgerSettings& settings) {
  return DateReader(grammars, settings).find(text, tokens);
}

}  // namespace tailproof

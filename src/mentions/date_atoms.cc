#include "mentions/date_atoms.h"

#include <algorithm>
#include <cstdlib>
#include <utility>

#include "grammars/fold.h"
#include "source/ascii.h"

namespace tailproof {
namespace {

constexpr std::int64_t kFirstYear = 1000;
constexpr std::int64_t kLastYear = 2100;

int number_of(std::string_view text) { return std::atoi(std::string(text).c_str()); }

// Digits of a year as printed: damaged type gives "l943" and "19 43".
std::string year_digits(std::string_view text) {
  std::string digits;
  for (const char c : text) {
    if (is_digit(c)) digits += c;
    if (c == 'l' || c == 'I') digits += '1';
  }
  return digits;
}

DatePeriod period_of(std::string_view value) {
  if (value == "day") return DatePeriod::kDay;
  if (value == "week") return DatePeriod::kWeek;
  if (value == "month") return DatePeriod::kMonth;
  if (value == "year") return DatePeriod::kYear;
  if (value == "decade") return DatePeriod::kDecade;
  return DatePeriod::kNone;
}

// Whether a value of the grammar carries this mark after its first word ("next of").
bool has_mark(std::string_view value, std::string_view mark) {
  const std::size_t blank = value.find(' ');
  return blank != std::string_view::npos && value.substr(blank + 1) == mark;
}

DateRef ref_of(std::string_view value) {
  value = value.substr(0, value.find_first_of(" :"));
  if (value == "same") return DateRef::kSame;
  if (value == "next") return DateRef::kNext;
  return value == "previous" ? DateRef::kPrevious : DateRef::kNone;
}

class AtomReader {
 public:
  AtomReader(const PatternMatch& match, std::string_view text, const std::vector<Token>& tokens,
             const DateWords& words, const LedgerSettings& settings)
      : match_(match), text_(text), tokens_(tokens), words_(words), settings_(settings) {}

  std::optional<DateAtom> read() {
    atom_.begin = match_.begin;
    atom_.end = match_.end;
    atom_.pattern = match_.pattern;
    atom_.needs = value("needs");
    if (!read_kind()) return std::nullopt;
    read_weekday();
    read_ends();
    find_tokens();
    lean_on_taking();
    drop_number_of_name();
    drop_ordinal_of_name();
    drop_unit_gone_to();
    keep_only_year();
    drop_word_behind();
    if (!drop_counted_number()) return std::nullopt;
    if (number_goes_on()) return std::nullopt;
    return std::move(atom_);
  }

 private:
  std::string value(ListName slot) const { return std::string(match_.value_of(slot, text_)); }
  bool has(ListName slot) const { return !match_.text_of(slot, text_).empty(); }

  bool read_kind() {
    DateUnit& unit = atom_.unit;
    unit.part = value("part");
    unit.approximate = !value("about").empty();
    unit.ref = ref_of(value("ref"));
    atom_.is_as_spoken = has_mark(value("ref"), "bare");
    unit.is_after_next = has_mark(value("ref"), "second");
    const std::string year_ref = value("year_ref");
    unit.year_ref = ref_of(year_ref);
    if (const std::size_t colon = year_ref.find(':'); colon != std::string::npos)
      unit.year_steps = number_of(year_ref.substr(colon + 1, year_ref.find(' ') - colon - 1));
    unit.month_ref = ref_of(value("month_ref"));
    if (!value("this_month").empty()) unit.month_ref = ref_of(value("this_month"));
    if (has("direction")) return read_offset();
    if (has("a")) return read_three_numbers();
    if (!read_year()) return false;
    if (has("decade") || has("century")) return read_span_of_years();
    if (has("feast")) return read_feast();
    if (has("season")) {
      unit.precision = Precision::kSeason;
      unit.season = static_cast<unsigned>(number_of(value("season")));
      return read_last_year();
    }
    if (has("ref_weekday")) {
      unit.ref_weekday = number_of(value("ref_weekday"));
      if (has("of_week")) unit.ref_period = DatePeriod::kWeek;
      return true;
    }
    if (has("period")) {
      unit.ref_period = period_of(value("period"));
      unit.precision = precision_of(unit.ref_period);
      atom_.may_lean = has_mark(value("ref"), "of");
      const char* ref = match_.text_of("ref", text_).data();
      atom_.has_ref_behind = ref != nullptr && ref > match_.text_of("period", text_).data();
      return unit.ref_period != DatePeriod::kNone;
    }
    if (has("month")) unit.month = month_of(value("month"));
    if (has("month") && !has("day") && !has("year") && is_common_word("month")) return false;
    if (has("day")) return read_days();
    if (has("month")) {
      unit.precision = Precision::kMonth;
      return unit.month >= 1 && unit.month <= 12;
    }
    unit.precision = Precision::kYear;
    return unit.year.has_value() && read_last_year();
  }

  // "That may": a month in small letters that is also a common word.
  bool is_common_word(ListName slot) const {
    const std::string_view word = match_.text_of(slot, text_);
    return !word.empty() && word[0] >= 'a' && word[0] <= 'z' && is_in(words_.doubtful, word);
  }

  unsigned month_of(const std::string& text) const {
    if (!text.empty() && is_digit(text[0])) return static_cast<unsigned>(number_of(text));
    return words_.month == nullptr ? 0
                                   : static_cast<unsigned>(number_of(words_.month->value_of(text)));
  }

  // "1 April. 1101-W goes to the School", "on 9 March 21-113": no year, but the number that the
  // next sentence begins with.
  bool is_year_of_number() const {
    const std::string_view year =
        has("year") ? match_.text_of("year", text_) : match_.text_of("yy", text_);
    if (year.empty() || !has("day") || !has("month")) return false;
    const std::size_t end = static_cast<std::size_t>(year.data() - text_.data()) + year.size();
    if (end != match_.end || end + 1 >= text_.size()) return false;
    if (text_[end] != '-' && text_[end] != '/') return false;
    const char next = text_[end + 1];
    const bool is_letter = (next >= 'A' && next <= 'Z') || (next >= 'a' && next <= 'z');
    // "On 9 March 21-113 ran out of fuel", but "winter 41-42".
    constexpr std::size_t kDigitsOfNumber = 3;
    std::size_t digits = 0;
    while (end + 1 + digits < text_.size() && is_digit(text_[end + 1 + digits])) ++digits;
    const bool is_number = year.size() == 2 && digits >= kDigitsOfNumber && text_[end] == '-';
    return is_letter || is_number;
  }

  bool read_year() {
    if (has("era_year")) {  // "AD 439": the words around it say that it is a year
      atom_.unit.year = number_of(value("era_year"));
      return *atom_.unit.year > 0;
    }
    if (has("tens")) {  // "nineteen forty-three", "'forty-three"
      const std::int64_t century =
          has("hundred") ? 100 * number_of(value("hundred")) : settings_.century;
      atom_.unit.year = century + number_of(value("tens")) + number_of(value("units"));
      return true;
    }
    if (is_year_of_number()) {
      const std::string_view month = match_.text_of("month", text_);
      atom_.end = static_cast<std::uint32_t>(month.data() - text_.data() + month.size());
      return true;
    }
    const std::string digits =
        year_digits(has("year") ? match_.text_of("year", text_) : match_.text_of("yy", text_));
    if (digits.empty()) return true;
    std::int64_t year = number_of(digits);
    if (digits.size() == 2) year += settings_.century;
    if (year < kFirstYear || year > kLastYear) return false;
    atom_.unit.year = year;
    return true;
  }

  // "1943-44", "1943/4", "1943-1945": the second year, which must be later.
  bool read_last_year() {
    if (!has("year2") || !atom_.unit.year) return true;
    const std::string digits = year_digits(match_.text_of("year2", text_));
    std::int64_t scale = 1;
    for (std::size_t i = 0; i < digits.size(); ++i) scale *= 10;
    const std::int64_t last = *atom_.unit.year / scale * scale + number_of(digits);
    // "1904-05" is May of 1904 to ISO 8601; a writer of prose means the next year. "1943-06" can
    // only be the month.
    const int month = number_of(digits);
    if (unit_is_year() && digits.size() == 2 && month >= 1 && month <= 12 &&
        last != *atom_.unit.year + 1 && match_.text_of("year2", text_).data()[-1] == '-') {
      atom_.unit.month = static_cast<unsigned>(month);
      atom_.unit.precision = Precision::kMonth;
      return true;
    }
    if (last <= *atom_.unit.year || last > kLastYear) return false;
    atom_.unit.last_year = last;
    return true;
  }

  bool unit_is_year() const { return atom_.unit.precision == Precision::kYear; }

  bool read_days() {
    DateUnit& unit = atom_.unit;
    unit.precision = Precision::kDay;
    unit.day = static_cast<unsigned>(number_of(value("day")));
    // "June 43" is no day, but a year.
    if (unit.day > 31 && unit.day < 100 && !unit.year && !has("day2") && digits_end_at(atom_.end)) {
      unit.year = settings_.century + unit.day;
      unit.day = 0;
      unit.precision = Precision::kMonth;
      return unit.month != 0;
    }
    if (unit.day > 99 || unit.day == 0) return false;
    if (!has("day2")) return true;
    atom_.second = unit;
    atom_.second->day = static_cast<unsigned>(number_of(value("day2")));
    const std::string joint = value("joint");
    atom_.joint = joint == "or"    ? DateJoint::kOr
                  : joint == "and" ? DateJoint::kAnd
                                   : DateJoint::kRange;
    return true;
  }

  bool digits_end_at(std::uint32_t end) const { return end > 0 && is_digit(text_[end - 1]); }

  // "12-25", "easter+1", "turn", or with its year, as an author's list of events may give it.
  bool read_feast() {
    const std::string feast = value("feast");
    DateUnit& unit = atom_.unit;
    if (feast == "turn" || feast == "close") {
      unit.precision = Precision::kYear;
      unit.part = feast == "turn" ? feast : "third:3";
      if (unit.year) return true;
      unit.ref_period = DatePeriod::kYear;
      unit.ref = feast == "turn" ? DateRef::kNext : DateRef::kSame;
      unit.is_new_year = feast == "turn";
      if (unit.is_new_year) unit.part.clear();
      atom_.needs = unit.is_new_year ? "new year" : "";
      return unit.year_ref == DateRef::kNone;
    }
    if (feast.rfind("easter", 0) == 0) {
      unit.precision = Precision::kDay;
      unit.from_easter = number_of(feast.substr(6));
      return true;
    }
    if (feast.size() != 5 && feast.size() != 10) return false;
    unit.precision = Precision::kDay;
    unit.month = static_cast<unsigned>(number_of(feast.substr(feast.size() - 5, 2)));
    unit.day = static_cast<unsigned>(number_of(feast.substr(feast.size() - 2)));
    if (feast.size() == 10) unit.year = number_of(feast.substr(0, 4));
    return true;
  }

  bool read_day(const CivilDate& date) {
    atom_.unit.precision = Precision::kDay;
    atom_.unit.year = date.year;
    atom_.unit.month = date.month;
    atom_.unit.day = date.day;
    return true;
  }

  bool read_span_of_years() {
    DateUnit& unit = atom_.unit;
    if (has("century")) {
      const int number = number_of(value("century"));
      if (number < 11 || number > 21) return false;
      unit.precision = Precision::kCentury;
      unit.year = (number - 1) * 100;
      return true;
    }
    std::int64_t first = number_of(value("decade"));
    if (has("hundred")) first += 100 * number_of(value("hundred"));
    unit.year = first < 100 ? settings_.century + first : first;
    // "the 1900s" is the century.
    unit.precision = *unit.year % 100 == 0 ? Precision::kCentury : Precision::kDecade;
    return *unit.year >= kFirstYear && *unit.year < kLastYear;
  }

  bool read_offset() {
    DateUnit& unit = atom_.unit;
    std::string period = value("period");
    std::int64_t count = 1;
    if (has("count")) count = number_of(value("count"));
    if (has("count_digits")) count = number_of(value("count_digits"));
    if (!period.empty() && is_digit(period[0])) {  // "2 week": a fortnight
      count *= number_of(period);
      period = period.substr(period.find(' ') + 1);
    }
    unit.offset_period = period_of(period);
    if (has("half")) {
      if (unit.offset_period != DatePeriod::kYear) return false;
      unit.offset_period = DatePeriod::kMonth;
      count = 6;
    }
    if (has("period2") && !add_smaller_period(unit.offset_period, count)) return false;
    unit.precision = precision_of(unit.offset_period);
    unit.offset_to_the_day = has("exact") || has("exact_behind");
    const std::string direction = value("direction");
    unit.offset = direction.rfind("earlier", 0) == 0 ? -count : count;
    atom_.is_end_of_phrase = has_mark(direction, "alone");
    atom_.may_lean = has_mark(direction, "of");
    atom_.is_from_picture = has_mark(direction, "picture");
    return count > 0 && count < 1000 && unit.offset_period != DatePeriod::kNone;
  }

  // "Seven weeks after it was taken on charge": the machine was, and no picture.
  void lean_on_taking() {
    const std::size_t next = atom_.next_token;
    if (!atom_.is_from_picture || next + 1 >= tokens_.size()) return;
    const WordList* elsewhere = words_.taken_elsewhere;
    if (!is_in(elsewhere, word(next)) && !is_in(elsewhere, word(next + 1))) return;
    atom_.is_from_picture = false;
    atom_.may_lean = true;
  }

  // "Three weeks and two days": counted in the smaller of the two, where the larger is so many of
  // it.
  bool add_smaller_period(DatePeriod& period, std::int64_t& count) const {
    const DatePeriod smaller = period_of(value("period2"));
    std::int64_t more = 1;
    if (has("count2")) more = number_of(value("count2"));
    if (has("count2_digits")) more = number_of(value("count2_digits"));
    if (period == DatePeriod::kWeek && smaller == DatePeriod::kDay) {
      count = 7 * count + more;
    } else if (period == DatePeriod::kYear && smaller == DatePeriod::kMonth) {
      count = 12 * count + more;
    } else {
      return false;
    }
    period = smaller;
    return true;
  }

  // The order that the ledger settles, unless only another one gives a day of the calendar.
  bool read_three_numbers() {
    const std::int64_t a = number_of(value("a"));
    const std::int64_t b = number_of(value("b"));
    const std::int64_t c = number_of(value("c"));
    const auto year_of = [this](std::int64_t year) {
      return year < 100 ? settings_.century + year : year;
    };
    const CivilDate day_first{year_of(c), static_cast<unsigned>(b), static_cast<unsigned>(a)};
    const CivilDate month_first{year_of(c), static_cast<unsigned>(a), static_cast<unsigned>(b)};
    const CivilDate year_first{year_of(a), static_cast<unsigned>(b), static_cast<unsigned>(c)};
    std::vector<CivilDate> orders = {day_first, month_first};
    if (settings_.date_order == DateOrder::kMonthDayYear) std::swap(orders[0], orders[1]);
    if (settings_.date_order == DateOrder::kYearMonthDay) orders.insert(orders.begin(), year_first);
    auto found = std::find_if(orders.begin(), orders.end(), is_valid);
    // No order gives a day: "30/2/43" is meant as one all the same, "41.7.99" is none.
    if (found == orders.end()) {
      found = std::find_if(orders.begin(), orders.end(), [](const CivilDate& order) {
        return order.month >= 1 && order.month <= 12 && order.day >= 1 && order.day <= 31;
      });
    }
    if (found == orders.end()) return false;
    const CivilDate date = *found;
    if (date.year < kFirstYear || date.year > kLastYear) return false;
    return read_day(date);
  }

  void read_weekday() {
    const std::string_view weekday = match_.text_of("weekday", text_);
    if (weekday.empty()) return;
    atom_.weekday = number_of(value("weekday"));
    atom_.weekday_begin = static_cast<std::uint32_t>(weekday.data() - text_.data());
    atom_.weekday_end = atom_.weekday_begin + static_cast<std::uint32_t>(weekday.size());
  }

  // Of "14 and 15 June 1943" the first ends with 14; of "June 14 and 15" likewise.
  void read_ends() {
    atom_.first_end = atom_.second_begin = atom_.end;
    const bool is_pair = has("day2");
    const std::string_view first =
        is_pair ? match_.text_of("day", text_) : match_.text_of("year", text_);
    if ((!is_pair && !atom_.unit.last_year) || first.empty()) return;
    const std::string_view second =
        is_pair ? match_.text_of("day2", text_) : match_.text_of("year2", text_);
    atom_.first_end = static_cast<std::uint32_t>(first.data() - text_.data() + first.size());
    while (atom_.first_end < atom_.end && is_letter(text_[atom_.first_end])) ++atom_.first_end;
    atom_.second_begin = static_cast<std::uint32_t>(second.data() - text_.data());
  }

  void find_tokens() {
    const auto first =
        std::lower_bound(tokens_.begin(), tokens_.end(), atom_.begin,
                         [](const Token& token, std::uint32_t at) { return token.begin < at; });
    atom_.first_token = static_cast<std::size_t>(first - tokens_.begin());
    const auto next =
        std::lower_bound(first, tokens_.end(), atom_.end,
                         [](const Token& token, std::uint32_t at) { return token.begin < at; });
    atom_.next_token = static_cast<std::size_t>(next - tokens_.begin());
  }

  Spelling word(std::size_t token) const { return spelling_of(text_, tokens_[token]); }

  // Whether what follows, without a stop between, is something that a number counts or names.
  bool counts_what_follows() const {
    if (atom_.next_token >= tokens_.size()) return false;
    if (!digits_end_at(atom_.end)) return false;
    return is_in(words_.counted, word(atom_.next_token)) ||
           is_in(words_.unit, word(atom_.next_token));
  }

  // "It flew as 12 until 30 April": a code, and no day from which anything would last.
  [[nodiscard]] bool is_number_until() const {
    if (!is_digit(text_[atom_.first_end - 1])) return false;
    const std::string joint = fold(match_.text_of("joint", text_));
    if (words_.until == nullptr || words_.until->value_of(joint).empty()) return false;
    const std::size_t first = atom_.first_token;
    return first == 0 || words_.lead == nullptr || words_.lead->value_of(word(first - 1)) != "from";
  }

  // "Wore HN-09 until 5 June 1942", "aircraft 12 to 5 June": the first number is a name's, and only
  // the second is a day.
  void drop_number_of_name() {
    if (!atom_.second || !has("day2")) return;
    const char* day2 = match_.text_of("day2", text_).data();
    const auto second = static_cast<std::uint32_t>(day2 - text_.data());
    const char* month = match_.text_of("month", text_).data();
    if (!is_digit(text_[atom_.begin]) || second < atom_.first_end || month < day2) return;
    const auto is_sign = [&](std::uint32_t at) {
      return is_letter(text_[at]) || is_digit(text_[at]);
    };
    const char previous = atom_.begin > 1 ? text_[atom_.begin - 1] : ' ';
    const bool is_glued =
        (previous == '-' || previous == '/' || previous == '.') && is_sign(atom_.begin - 2);
    const bool runs_backwards =
        atom_.joint == DateJoint::kRange && atom_.second->day < atom_.unit.day;
    const bool is_counted = atom_.first_token > 0 && runs_backwards &&
                            (is_in(words_.label, word(atom_.first_token - 1)) ||
                             is_in(words_.unit, word(atom_.first_token - 1)));
    if (!is_glued && !is_counted && !is_number_until()) return;
    atom_.unit = *atom_.second;
    atom_.begin = second;
    atom_.first_end = atom_.second_begin = atom_.end;
    atom_.second.reset();
    atom_.joint = DateJoint::kNone;
    find_tokens();
  }

  // "On May 30 and the 5th Brigade": the ordinal is the brigade's, and only the first is a day.
  void drop_ordinal_of_name() {
    if (!atom_.second || atom_.joint == DateJoint::kRange || has("year") || has("yy")) return;
    const char* day2 = match_.text_of("day2", text_).data();
    if (day2 == nullptr || atom_.next_token >= tokens_.size() || !is_letter(text_[atom_.end - 1]))
      return;
    const auto begin = static_cast<std::uint32_t>(day2 - text_.data());
    const Token& next = tokens_[atom_.next_token];
    if (begin < atom_.first_end || !next.capital || next.sentence_start ||
        is_in(words_.month, word(atom_.next_token)) ||
        match_.text_of("month", text_).data() > day2) {
      return;
    }
    atom_.end = atom_.second_begin = atom_.first_end;
    atom_.second.reset();
    atom_.joint = DateJoint::kNone;
    find_tokens();
  }

  // "Went on the 12th to the 11th": on a day, and to a unit.
  void drop_unit_gone_to() {
    if (!atom_.second || atom_.joint != DateJoint::kRange || has("month") || has("year")) return;
    const std::size_t day = atom_.first_token;
    if (day < 2 || words_.coming == nullptr || words_.coming->value_of(word(day - 2)) != "on a day")
      return;
    atom_.end = atom_.second_begin = atom_.first_end;
    atom_.second.reset();
    atom_.joint = DateJoint::kNone;
    find_tokens();
  }

  // "1943 June" of a list; but of "in 1943 March flew it" only the year.
  void keep_only_year() {
    if (atom_.needs != "set off" || atom_.next_token >= tokens_.size()) return;
    if (tokens_[atom_.next_token].kind == TokenKind::kMark) return;
    if (is_in(words_.joint, word(atom_.next_token))) return;
    const std::string_view year = match_.text_of("year", text_);
    DateUnit only;
    only.precision = Precision::kYear;
    only.year = atom_.unit.year;
    atom_.unit = only;
    atom_.end = atom_.first_end = atom_.second_begin =
        static_cast<std::uint32_t>(year.data() - text_.data() + year.size());
    atom_.needs = "year";
    find_tokens();
  }

  // "October of the year after the move": "after" leads on, and the month alone is the date.
  void drop_word_behind() {
    if (!has_mark(value("ref"), "alone") && !has_mark(value("year_ref"), "alone")) return;
    if (atom_.next_token >= tokens_.size()) return;
    if (tokens_[atom_.next_token].kind == TokenKind::kMark) return;
    if (is_in(words_.joint, word(atom_.next_token))) return;
    const char* end = text_.data() + atom_.begin;
    for (const ListName slot : {ListName("month"), ListName("day"), ListName("day2"),
                                ListName("season"), ListName("feast")}) {
      const std::string_view kept = match_.text_of(slot, text_);
      if (!kept.empty()) end = std::max(end, kept.data() + kept.size());
    }
    atom_.end = static_cast<std::uint32_t>(end - text_.data());
    while (atom_.end < text_.size() && is_letter(text_[atom_.end])) ++atom_.end;
    atom_.unit.ref = atom_.unit.year_ref = DateRef::kNone;
    if (atom_.second) atom_.second->year_ref = DateRef::kNone;
    find_tokens();
    read_ends();
  }

  // "14 June 24 aircraft", "in May 9 Squadron": the last number belongs to what it counts. False
  // when nothing is left.
  bool drop_counted_number() {
    // "On 14 June. 24-H was away": a number that goes on in letters begins a serial.
    const std::size_t end = atom_.end;
    const bool begins_serial =
        has("yy") && end + 1 < text_.size() && text_[end] == '-' && is_letter(text_[end + 1]);
    const std::string_view month = match_.text_of("month", text_);
    // "Moved on 11 June. 71 Squadron followed".
    const bool ends = is_sentence_between(month, match_.text_of("day", text_)) ||
                      (has("yy") && is_sentence_between(month, match_.text_of("yy", text_)));
    if (!begins_serial && !ends && !counts_what_follows()) return true;
    atom_.counts = true;
    if (month.empty()) return true;
    const auto month_end = static_cast<std::uint32_t>(month.data() - text_.data() + month.size());
    if (month_end >= atom_.end || is_digit(month.back())) return false;
    const Spelling last = word(atom_.next_token - 1);
    if (last.size() == 4) return true;  // "14 June 1943 aircraft": a year all the same
    if (has("yy")) {
      atom_.unit.year.reset();
    } else if (!has("day2") && has("day") && match_.text_of("day", text_).data() > month.data()) {
      atom_.unit.day = 0;
      if (!has("year")) atom_.unit.year.reset();  // "in September. 32 Squadron"
      atom_.unit.precision = Precision::kMonth;
      atom_.needs = "month";
    } else {
      return true;
    }
    atom_.end = month_end;
    find_tokens();
    return true;
  }

  // A number that is part of a longer one: "1,134", "1943-4417", "982417/41", "QC-1943".
  bool number_goes_on() const {
    const std::size_t end = atom_.end;
    if (is_digit(text_[end - 1]) && end < text_.size()) {
      const char next = text_[end];
      const char after = end + 1 < text_.size() ? text_[end + 1] : ' ';
      if (is_digit(next) || is_letter(next)) return true;
      // An interval of ISO 8601 goes on with "/".
      const bool whole_day =
          atom_.unit.precision == Precision::kDay && end >= 3 && text_[end - 3] == '-';
      if ((next == '.' || (next == '/' && !whole_day)) && is_digit(after)) return true;
      if (next == ',' && end + 3 < text_.size() && is_digit(after) && is_digit(text_[end + 2]) &&
          is_digit(text_[end + 3]) && (end + 4 >= text_.size() || !is_digit(text_[end + 4]))) {
        return true;
      }
      if (next == '%') return true;
      if (next == '/' && atom_.needs == "number") return true;  // "3.14/day"
      if (atom_.needs == "year" && next == '-' && is_digit(after)) return true;
    }
    if (atom_.begin == 0 || !is_digit(text_[atom_.begin])) return false;
    const char previous = text_[atom_.begin - 1];
    if (is_letter(previous) || is_digit(previous)) return true;
    const char before = atom_.begin >= 2 ? text_[atom_.begin - 2] : ' ';
    if (previous == '#' || previous == '$' || previous == '+' || previous == '=') return true;
    // "O.5/43", "F.7/41": letters of an order or a specification.
    if (previous == '.' && atom_.needs == "number" && is_letter(before)) return true;
    if (previous == '.' || previous == ',' || previous == ':') return is_digit(before);
    if (atom_.needs.empty()) return false;
    return (previous == '/' || previous == '-') && !is_letter(before);
  }

  const PatternMatch& match_;
  std::string_view text_;
  const std::vector<Token>& tokens_;
  const DateWords& words_;
  const LedgerSettings& settings_;
  DateAtom atom_;
};

}  // namespace

Precision precision_of(DatePeriod period) {
  if (period == DatePeriod::kMonth) return Precision::kMonth;
  if (period == DatePeriod::kYear) return Precision::kYear;
  return period == DatePeriod::kDecade ? Precision::kDecade : Precision::kDay;
}

bool is_in(const WordList* list, std::string_view word) {
  return list != nullptr && !list->value_of(word).empty();
}

std::optional<DateAtom> atom_of(const PatternMatch& match, std::string_view text,
                                const std::vector<Token>& tokens, const DateWords& words,
                                const LedgerSettings& settings) {
  return AtomReader(match, text, tokens, words, settings).read();
}

}  // namespace tailproof

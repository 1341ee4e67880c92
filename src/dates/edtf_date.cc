// One EDTF date: a year with or without month, season and day, unspecified digits and qualifiers.
//
// Days are found by listing every year, month and day that agree with the digits written: "156X" is
// ten years, "1X" as a month three. Components are short, so the lists are (10,000 years at most).
#include <algorithm>
#include <array>
#include <charconv>
#include <vector>

#include "dates/edtf_parser.h"

namespace tailproof {
namespace {

// 1.46e18 days, within what a Day can hold between kFirstDay and kLastDay.
constexpr std::int64_t kMostYears = 4'000'000'000'000'000;

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_qualifier(char c) { return c == '?' || c == '~' || c == '%'; }

struct Qualifier {
  bool approximate = false;
  bool uncertain = false;

  void add(char c) {
    approximate = approximate || c != '?';
    uncertain = uncertain || c != '~';
  }
};

// Digits and X as written, with what qualifies them.
struct Component {
  std::string_view digits;
  Qualifier qualifier;

  [[nodiscard]] bool has_x() const { return digits.find('X') != std::string_view::npos; }
};

bool agrees(std::string_view pattern, unsigned value) {
  for (std::size_t i = pattern.size(); i-- > 0; value /= 10) {
    if (pattern[i] != 'X' && static_cast<unsigned>(pattern[i] - '0') != value % 10) return false;
  }
  return value == 0;
}

std::vector<unsigned> agreeing(std::string_view pattern, unsigned first, unsigned last) {
  std::vector<unsigned> values;
  if (pattern.find('X') == std::string_view::npos) {  // only one can
    unsigned value = 0;
    for (const char c : pattern) value = value * 10 + static_cast<unsigned>(c - '0');
    first = std::max(first, value);
    last = std::min(last, value);
  }
  for (unsigned value = first; value <= last; ++value) {
    if (agrees(pattern, value)) values.push_back(value);
  }
  return values;
}

// Months of a season: offset of the first from January of the year, and how many.
struct Season {
  unsigned code;
  unsigned first_month;
  unsigned months;
};
constexpr std::array<Season, 17> kSeasons = {{
    {25, 3, 3},
    {26, 6, 3},
    {27, 9, 3},
    {28, 12, 3},  // northern, from spring
    {29, 9, 3},
    {30, 12, 3},
    {31, 3, 3},
    {32, 6, 3},  // southern, from spring
    {33, 1, 3},
    {34, 4, 3},
    {35, 7, 3},
    {36, 10, 3},  // quarters
    {37, 1, 4},
    {38, 5, 4},
    {39, 9, 4},  // quadrimesters
    {40, 1, 6},
    {41, 7, 6},  // halves
}};

const Season* season_of(unsigned code, Hemisphere hemisphere) {
  if (code >= 21 && code <= 24) code += hemisphere == Hemisphere::kNorth ? 4 : 8;
  const auto* found = std::find_if(kSeasons.begin(), kSeasons.end(),
                                   [code](const Season& season) { return season.code == code; });
  return found == kSeasons.end() ? nullptr : found;
}

DayRange months_from(std::int64_t year, unsigned month, unsigned count) {
  const unsigned last = month + count - 1;
  const std::int64_t last_year = year + (last - 1) / 12;
  const unsigned last_month = (last - 1) % 12 + 1;
  return {to_day({year, month, 1}),
          to_day({last_year, last_month, days_in_month(last_year, last_month)})};
}

class DateReader {
 public:
  DateReader(std::string_view text, Hemisphere hemisphere) : rest_(text), hemisphere_(hemisphere) {}

  std::optional<EdtfPiece> read() {
    if (rest_.empty()) return fail("an empty piece: expected a date");
    read_leading(year_);
    if (!rest_.empty() && rest_.front() == 'Y') return read_long_year();
    if (!read_year()) return std::nullopt;
    if (take('S')) return read_significant_digits();
    if (!take('-')) return finish();
    if (!read_component(month_, "month")) return std::nullopt;
    if (!take('-')) return finish();
    if (!read_component(day_, "day")) return std::nullopt;
    if (!rest_.empty() && rest_.front() == 'T' && !read_time()) return std::nullopt;
    return finish();
  }

  [[nodiscard]] const std::string& problem() const { return problem_; }

 private:
  std::optional<EdtfPiece> fail(std::string problem) {
    problem_ = std::move(problem);
    return std::nullopt;
  }
  bool refuse(std::string problem) {
    problem_ = std::move(problem);
    return false;
  }

  bool take(char c) {
    if (rest_.empty() || rest_.front() != c) return false;
    rest_.remove_prefix(1);
    return true;
  }

  void read_leading(Component& component) {
    if (rest_.empty() || !is_qualifier(rest_.front())) return;
    component.qualifier.add(rest_.front());
    rest_.remove_prefix(1);
  }

  // A qualifier after a component holds for everything to its left as well.
  void read_trailing(std::initializer_list<Component*> components) {
    if (rest_.empty() || !is_qualifier(rest_.front())) return;
    for (Component* component : components) component->qualifier.add(rest_.front());
    rest_.remove_prefix(1);
  }

  std::string_view take_while(bool (*accepts)(char)) {
    std::size_t size = 0;
    while (size < rest_.size() && accepts(rest_[size])) ++size;
    const std::string_view taken = rest_.substr(0, size);
    rest_.remove_prefix(size);
    return taken;
  }

  static bool is_digit_or_x(char c) { return is_digit(c) || c == 'X'; }

  bool read_year() {
    const std::string_view all = rest_;
    negative_ = take('-');
    year_.digits = take_while(is_digit_or_x);
    if (year_.digits.size() != 4) {
      const std::size_t size =
          std::min(all.size(), year_.digits.empty() ? all.size() : year_.digits.size());
      return refuse("year " + quoted(all.substr(0, std::max<std::size_t>(size, 1))) +
                    ": expected four digits (X for one not known)");
    }
    if (negative_ && year_.digits == "0000") return refuse("year \"-0000\": expected \"0000\"");
    read_trailing({&year_});
    return true;
  }

  bool read_component(Component& component, const char* name) {
    read_leading(component);
    component.digits = take_while(is_digit_or_x);
    if (component.digits.size() != 2) {
      return refuse(std::string(name) + ' ' +
                    quoted(component.digits.empty() ? rest_ : component.digits) +
                    ": expected two digits (X for one not known)");
    }
    if (&component == &month_) {
      read_trailing({&year_, &month_});
    } else {
      read_trailing({&year_, &month_, &day_});
    }
    return true;
  }

  // THH:MM:SS with Z, a shift, or nothing. The day is the one written: a place's own calendar is
  // what captions speak of, so a shift never moves it.
  bool read_time() {
    const std::string_view time = rest_;
    const auto number = [&time](std::size_t at) {
      if (at + 2 > time.size() || !is_digit(time[at]) || !is_digit(time[at + 1])) return 99;
      return (time[at] - '0') * 10 + (time[at + 1] - '0');
    };
    const auto wrong = [&] {
      return refuse("time " + quoted(time) + ": expected Thh:mm:ss with nothing, Z or a shift");
    };
    if (year_.has_x() || month_.has_x() || day_.has_x()) return wrong();
    if (time.size() < 9 || time[3] != ':' || time[6] != ':') return wrong();
    const bool midnight = number(1) == 24 && number(4) == 0 && number(7) == 0;
    if ((number(1) > 23 && !midnight) || number(4) > 59 || number(7) > 59) return wrong();
    const std::string_view zone = time.substr(9);
    const bool shift = (zone.size() == 3 || (zone.size() == 6 && zone[3] == ':')) &&
                       (zone[0] == '+' || zone[0] == '-') && number(10) <= 23 &&
                       (zone.size() == 3 || number(13) <= 59);
    if (!zone.empty() && zone != "Z" && !shift) return wrong();
    rest_ = {};
    return true;
  }

  // Y, a sign, digits, and maybe E with a power of ten and S with the digits that count.
  std::optional<EdtfPiece> read_long_year() {
    const std::string_view all = rest_;
    take('Y');
    negative_ = take('-');
    const std::string_view digits = take_while(is_digit);
    std::int64_t value = 0;
    const auto too_far = [&] {
      return fail("year " + quoted(all) + ": expected at most four thousand million million years");
    };
    if (digits.empty()) return fail("year " + quoted(all) + ": expected digits after Y");
    if (std::from_chars(digits.data(), digits.data() + digits.size(), value).ec != std::errc() ||
        value > kMostYears) {
      return too_far();
    }
    if (take('E')) {
      const std::string_view power = take_while(is_digit);
      int zeros = 0;
      if (power.empty()) return fail("year " + quoted(all) + ": expected a power of ten after E");
      if (std::from_chars(power.data(), power.data() + power.size(), zeros).ec != std::errc()) {
        return too_far();
      }
      for (; zeros > 0 && value != 0; --zeros) {
        value *= 10;
        if (value > kMostYears) return too_far();
      }
    } else if (digits.size() < 5) {
      return fail("year " + quoted(all) + ": expected more than four digits after Y");
    }
    value_ = value;
    if (take('S')) return read_significant_digits();
    read_trailing({&year_});
    return finish();
  }

  std::optional<EdtfPiece> read_significant_digits() {
    if (year_.has_x()) return fail("S after unspecified digits: expected a year without X");
    if (!value_) value_ = number_of(year_.digits);
    const std::string_view count = take_while(is_digit);
    int significant = 0;
    if (count.empty() ||
        std::from_chars(count.data(), count.data() + count.size(), significant).ec != std::errc() ||
        significant == 0) {
      return fail("significant digits " + quoted(count) + ": expected a number from 1 after S");
    }
    int digits = 0;
    for (std::int64_t left = *value_; left != 0; left /= 10) ++digits;
    for (int i = digits; i > significant; --i) year_step_ *= 10;
    read_trailing({&year_});
    return finish();
  }

  static std::int64_t number_of(std::string_view digits) {
    std::int64_t value = 0;
    for (const char c : digits) value = value * 10 + (c - '0');
    return value;
  }

  // Years that agree with what was written.
  [[nodiscard]] std::vector<std::int64_t> years() const {
    std::vector<std::int64_t> found;
    if (!year_.has_x()) {
      found.push_back(number_of(year_.digits));
    } else {
      for (const unsigned value : agreeing(year_.digits, 0, 9999)) found.push_back(value);
    }
    if (negative_) {
      for (std::int64_t& value : found) value = -value;
      std::erase(found, 0);
    }
    return found;
  }

  [[nodiscard]] Precision year_precision() const {
    if (year_step_ > 1) return year_step_ <= 10 ? Precision::kDecade : Precision::kCentury;
    if (!year_.has_x()) return Precision::kYear;
    return std::count(year_.digits.begin(), year_.digits.end(), 'X') == 1 &&
                   year_.digits.back() == 'X'
               ? Precision::kDecade
               : Precision::kCentury;
  }

  std::optional<EdtfPiece> finish() {
    if (!rest_.empty()) return fail(quoted(rest_) + ": expected the end of the date before it");
    std::vector<DayRange> ranges;
    EdtfPiece piece;
    piece.precision = year_precision();
    if (value_) {
      const std::int64_t first = *value_ - *value_ % year_step_;
      const std::int64_t last = first + year_step_ - 1;
      ranges.push_back(negative_ ? DayRange{to_day({-last, 1, 1}), to_day({-first, 12, 31})}
                                 : DayRange{to_day({first, 1, 1}), to_day({last, 12, 31})});
    } else if (month_.digits.empty()) {
      for (const std::int64_t year : years()) ranges.push_back(months_from(year, 1, 12));
    } else if (!add_months(ranges, piece)) {
      return std::nullopt;
    }
    piece.days = DaySet(std::move(ranges));
    qualify(piece);
    return piece;
  }

  bool add_months(std::vector<DayRange>& ranges, EdtfPiece& piece) {
    if (!month_.has_x()) {
      const auto code = static_cast<unsigned>(number_of(month_.digits));
      if (const Season* season = season_of(code, hemisphere_)) {
        if (!day_.digits.empty()) {
          return refuse("day " + quoted(day_.digits) + " after season " + quoted(month_.digits) +
                        ": expected nothing after a season");
        }
        for (const std::int64_t year : years()) {
          ranges.push_back(months_from(year, season->first_month, season->months));
        }
        piece.precision =
            std::max(year_.has_x() ? piece.precision : Precision::kDay, Precision::kSeason);
        return true;
      }
    }
    const std::vector<unsigned> months = agreeing(month_.digits, 1, 12);
    if (months.empty()) {
      return refuse("month " + quoted(month_.digits) + ": expected 01 to 12 or a season 21 to 41");
    }
    if (!year_.has_x()) {
      piece.precision = months.size() == 1    ? Precision::kMonth
                        : months.size() == 12 ? Precision::kYear
                                              : Precision::kSeason;
    }
    if (day_.digits.empty()) {
      for (const std::int64_t year : years()) {
        for (const unsigned month : months) ranges.push_back(months_from(year, month, 1));
      }
      return true;
    }
    return add_days(months, ranges, piece);
  }

  bool add_days(const std::vector<unsigned>& months, std::vector<DayRange>& ranges,
                EdtfPiece& piece) {
    const std::vector<unsigned> days = agreeing(day_.digits, 1, 31);
    for (const std::int64_t year : years()) {
      for (const unsigned month : months) {
        for (const unsigned day : days) {
          const CivilDate date{year, month, day};
          if (!is_valid(date)) continue;
          ranges.push_back({to_day(date), to_day(date)});
        }
      }
    }
    if (ranges.empty()) {
      const bool known_month = !year_.has_x() && months.size() == 1;
      const unsigned most = known_month ? days_in_month(years().front(), months.front()) : 31;
      return refuse("day " + quoted(day_.digits) + ": expected 01 to " + std::to_string(most) +
                    (known_month ? " in that month" : ""));
    }
    if (days.size() == 1 && !month_.has_x() && !year_.has_x()) piece.precision = Precision::kDay;
    return true;
  }

  void qualify(EdtfPiece& piece) const {
    const auto add = [&piece](const Component& component, Precision precision) {
      piece.uncertain = piece.uncertain || component.qualifier.uncertain;
      if (!component.qualifier.approximate) return;
      piece.approximate = true;
      piece.margin = precision;
    };
    const Precision season_or_month =
        piece.precision == Precision::kSeason ? Precision::kSeason : Precision::kMonth;
    add(year_, Precision::kYear);
    add(month_, season_or_month);
    add(day_, Precision::kDay);
  }

  std::string_view rest_;
  Hemisphere hemisphere_;
  std::string problem_;
  bool negative_ = false;
  Component year_, month_, day_;
  std::optional<std::int64_t> value_;  // magnitude of a year written with Y, E or S
  std::int64_t year_step_ = 1;         // how many years S leaves open
};

// Nearly every date is written "1943", "1943-06" or "1943-06-14": nothing else is read here.
std::optional<EdtfPiece> plain_date(std::string_view text) {
  constexpr std::size_t kYear = 4, kMonth = 7, kDay = 10;
  if (text.size() != kYear && text.size() != kMonth && text.size() != kDay) return std::nullopt;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool is_joint = i == kYear || i == kMonth;
    if (is_joint ? text[i] != '-' : !is_digit(text[i])) return std::nullopt;
  }
  const auto number = [&](std::size_t from, std::size_t to) {
    unsigned value = 0;
    for (std::size_t i = from; i < to; ++i)
      value = 10 * value + static_cast<unsigned>(text[i] - '0');
    return value;
  };
  CivilDate first{number(0, kYear), 1, 1}, last{first.year, 12, 31};
  EdtfPiece piece;
  piece.precision = Precision::kYear;
  if (text.size() > kYear) {
    piece.precision = Precision::kMonth;
    first.month = last.month = number(kYear + 1, kMonth);
    last.day = days_in_month(first.year, first.month);  // none of a season
    if (last.day == 0) return std::nullopt;
  }
  if (text.size() > kMonth) {
    piece.precision = Precision::kDay;
    first.day = last.day = number(kMonth + 1, kDay);
    if (!is_valid(first)) return std::nullopt;
  }
  piece.days = DaySet{DayRange{to_day(first), to_day(last)}};
  return piece;
}

}  // namespace

std::optional<EdtfPiece> parse_edtf_date(std::string_view text, Hemisphere hemisphere,
                                         std::string& problem) {
  if (std::optional<EdtfPiece> plain = plain_date(text)) return plain;
  DateReader reader(text, hemisphere);
  std::optional<EdtfPiece> piece = reader.read();
  if (!piece) problem = reader.problem();
  return piece;
}

}  // namespace tailproof

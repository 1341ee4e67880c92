// Intervals and sets of EDTF dates, and dates made from days.
#include "tailproof/edtf.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "dates/edtf_parser.h"

namespace tailproof {
namespace {

Day margin_days(const Margins& margins, Precision precision) {
  switch (precision) {
    case Precision::kDay:
      return margins.day;
    case Precision::kMonth:
    case Precision::kSeason:
      return margins.month;
    default:
      return margins.year;
  }
}

}  // namespace

class EdtfParser {
 public:
  EdtfParser(std::string_view text, Hemisphere hemisphere) : text_(text), hemisphere_(hemisphere) {}

  Result<Edtf> parse() {
    edtf_.text_ = std::string(text_);
    if (!parse_whole()) {
      Failure failure;
      failure.complaint.message = quoted(text_) + " is not an EDTF date: " + problem_;
      return failure;
    }
    return std::move(edtf_);
  }

 private:
  bool refuse(std::string problem) {
    problem_ = std::move(problem);
    return false;
  }

  bool parse_whole() {
    if (text_.empty()) return refuse("an empty piece: expected a date");
    if (text_.front() == '[' || text_.front() == '{') return parse_set();
    if (const std::size_t slash = text_.find('/'); slash != std::string_view::npos) {
      return parse_interval(text_.substr(0, slash), text_.substr(slash + 1));
    }
    const std::optional<EdtfPiece> piece = parse_edtf_date(text_, hemisphere_, problem_);
    if (!piece) return false;
    edtf_.days_ = piece->days;
    edtf_.precision_ = piece->precision;
    mark(*piece, true, true);
    return true;
  }

  // Carries a piece's qualifiers over to the ends that it forms.
  void mark(const EdtfPiece& piece, bool is_first, bool is_last) {
    edtf_.uncertain_ = edtf_.uncertain_ || piece.uncertain;
    if (!piece.approximate) return;
    edtf_.approximate_ = true;
    const auto coarser = [&piece](bool marked, Precision precision) {
      return marked ? std::max(precision, piece.margin) : piece.margin;
    };
    if (is_first) {
      edtf_.first_precision_ = coarser(edtf_.approximate_first_, edtf_.first_precision_);
      edtf_.approximate_first_ = true;
    }
    if (is_last) {
      edtf_.last_precision_ = coarser(edtf_.approximate_last_, edtf_.last_precision_);
      edtf_.approximate_last_ = true;
    }
  }

  // An end of an interval: nothing when it is open or unknown; false when it is no date.
  bool parse_end(std::string_view text, std::optional<EdtfPiece>& piece) {
    if (text.empty() || text == "..") return true;
    piece = parse_edtf_date(text, hemisphere_, problem_);
    return piece.has_value();
  }

  bool parse_interval(std::string_view from, std::string_view to) {
    edtf_.interval_ = true;
    if (from.empty() && to.empty())
      return refuse("neither end is given: expected a date or \"..\"");
    std::optional<EdtfPiece> first;
    std::optional<EdtfPiece> last;
    if (!parse_end(from, first) || !parse_end(to, last)) return false;
    DayRange range;
    if (first) range.first = first->days.first();
    if (last) range.last = last->days.last();
    if (range.first > range.last) {
      return refuse("it runs backwards: expected " + quoted(from) + " not to be later than " +
                    quoted(to));
    }
    edtf_.days_ = DaySet{range};
    edtf_.precision_ =
        first && last ? std::max(first->precision, last->precision) : Precision::kOpen;
    if (first) mark(*first, true, false);
    if (last) mark(*last, false, true);
    return true;
  }

  bool parse_set() {
    const char close = text_.front() == '[' ? ']' : '}';
    if (text_.size() < 3 || text_.back() != close) {
      return refuse("a set without its end: expected " + quoted(std::string(1, close)));
    }
    std::string_view rest = text_.substr(1, text_.size() - 2);
    edtf_.precision_ = Precision::kDay;
    std::vector<DayRange> ranges;
    for (bool is_first = true; is_first || !rest.empty(); is_first = false) {
      const std::size_t comma = rest.find(',');
      const bool is_last = comma == std::string_view::npos;
      const std::string_view member = rest.substr(0, comma);
      if (!add_member(member, is_first, is_last, ranges)) return false;
      rest = is_last ? std::string_view() : rest.substr(comma + 1);
      if (!is_last && rest.empty())
        return refuse("a comma before the end of the set: expected a date");
    }
    edtf_.days_ = DaySet(std::move(ranges));
    return true;
  }

  // A member of a set: a date, or a range of dates whose ends may be open at the ends of the set.
  bool add_member(std::string_view member, bool is_first, bool is_last,
                  std::vector<DayRange>& ranges) {
    const std::size_t dots = member.find("..");
    if (dots == std::string_view::npos) {
      const std::optional<EdtfPiece> piece = parse_edtf_date(member, hemisphere_, problem_);
      if (!piece) return false;
      ranges.insert(ranges.end(), piece->days.ranges().begin(), piece->days.ranges().end());
      edtf_.precision_ = std::max(edtf_.precision_, piece->precision);
      mark(*piece, true, true);
      return true;
    }
    const std::string_view from = member.substr(0, dots);
    const std::string_view to = member.substr(dots + 2);
    if (from.empty() && to.empty())
      return refuse("\"..\" alone in a set: expected a date beside it");
    if (from.empty() && !is_first) {
      return refuse(quoted(member) + ": expected an open start only at the first member");
    }
    if (to.empty() && !is_last) {
      return refuse(quoted(member) + ": expected an open end only at the last member");
    }
    std::optional<EdtfPiece> first;
    std::optional<EdtfPiece> last;
    if (!parse_end(from, first) || !parse_end(to, last)) return false;
    DayRange range;
    if (first) range.first = first->days.first();
    if (last) range.last = last->days.last();
    if (range.first > range.last) {
      return refuse(quoted(member) + " runs backwards: expected the earlier date first");
    }
    ranges.push_back(range);
    const Precision precision =
        first && last ? std::max(first->precision, last->precision) : Precision::kOpen;
    edtf_.precision_ = std::max(edtf_.precision_, precision);
    if (first) mark(*first, true, true);
    if (last) mark(*last, true, true);
    return true;
  }

  std::string_view text_;
  Hemisphere hemisphere_;
  Edtf edtf_;
  std::string problem_;
};

Result<Edtf> Edtf::parse(std::string_view text, Hemisphere hemisphere) {
  return EdtfParser(text, hemisphere).parse();
}

DaySet Edtf::widened(const Margins& margins) const {
  if (!approximate_ || days_.empty()) return days_;
  if (!interval_) {
    // Which member of a set is approximate is not kept: all of them get the widest margin, which
    // can only let more days pass.
    return days_.widened(
        std::max(margin_days(margins, first_precision_), margin_days(margins, last_precision_)));
  }
  DayRange range{days_.first(), days_.last()};
  if (approximate_first_ && range.first > kFirstDay) {
    range.first -= margin_days(margins, first_precision_);
  }
  if (approximate_last_ && range.last < kLastDay) {
    range.last += margin_days(margins, last_precision_);
  }
  return {range};
}

Edtf Edtf::of_day(Day day) { return of_days(DaySet::single(day)); }

Edtf Edtf::of_days(const DaySet& days) {
  Edtf edtf;
  if (days.empty()) return edtf;
  edtf.days_ = days;
  const auto day_text = [](Day day) {
    const std::string text = iso_day(day);
    return text.empty() ? std::string("..") : text;
  };
  const auto ranges = days.ranges();
  const bool open = days.first() <= kFirstDay || days.last() >= kLastDay;
  edtf.precision_ = open ? Precision::kOpen : Precision::kDay;
  if (ranges.size() == 1) {
    const DayRange& range = ranges.front();
    edtf.text_ = day_text(range.first);
    if (range.first == range.last) return edtf;
    edtf.text_ += '/' + day_text(range.last);
    edtf.interval_ = true;
    return edtf;
  }
  edtf.text_ = "[";
  for (const DayRange& range : ranges) {
    if (edtf.text_.size() > 1) edtf.text_ += ',';
    if (range.first > kFirstDay) edtf.text_ += iso_day(range.first);
    if (range.first == range.last) continue;
    edtf.text_ += "..";
    if (range.last < kLastDay) edtf.text_ += iso_day(range.last);
  }
  edtf.text_ += ']';
  return edtf;
}

}  // namespace tailproof

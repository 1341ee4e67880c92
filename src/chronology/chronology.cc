#include "tailproof/chronology.h"

#include <algorithm>
#include <utility>

#include "chronology/solving.h"

namespace tailproof {
namespace {

void mark_clashes(const ChronologyData& data, const Solved& solved, std::vector<Bracket>& brackets,
                  bool is_usual) {
  for (const std::vector<std::uint32_t>& clash : solved.clashes) {
    for (const std::uint32_t id : clash) {
      for (const std::uint32_t variable : {data.facts[id].photograph, data.facts[id].other}) {
        if (variable >= brackets.size()) continue;
        Bracket& bracket = brackets[variable];
        if (is_usual) {
          bracket.usual = DaySet();
          continue;
        }
        bracket.days = DaySet();
        if (bracket.clash.empty()) bracket.clash = clash;
      }
    }
  }
}

std::vector<bool> in_clashes(const ChronologyData& data, const Solved& solved) {
  std::vector<bool> is_in(data.photographs.size(), false);
  for (const std::vector<std::uint32_t>& clash : solved.clashes) {
    for (const std::uint32_t id : clash) {
      for (const std::uint32_t variable : {data.facts[id].photograph, data.facts[id].other}) {
        if (variable < is_in.size()) is_in[variable] = true;
      }
    }
  }
  return is_in;
}

// Stretches of the wider days that hold some of the others.
DaySet touching(const DaySet& wide, const DaySet& days) {
  std::vector<DayRange> ranges;
  for (const DayRange& range : wide.ranges()) {
    if (days.intersects(DaySet{range})) ranges.push_back(range);
  }
  return DaySet(std::move(ranges));
}

BracketEnd end_of(const Solved& solved, std::uint32_t photograph, const DaySet& days,
                  bool is_first) {
  BracketEnd end;
  if (days.empty()) return end;
  const Day day = is_first ? days.first() : days.last();
  if (day <= kFirstDay || day >= kLastDay) return end;
  end.is_known = true;
  end.day = day;
  const DaySet beyond{is_first ? DayRange{kFirstDay, day - 1} : DayRange{day + 1, kLastDay}};
  end.facts = solved.reasons(photograph, beyond);
  return end;
}

std::vector<BracketGap> gaps_of(const Solved& solved, std::uint32_t photograph,
                                const DaySet& days) {
  std::vector<BracketGap> gaps;
  const auto ranges = days.ranges();
  for (std::size_t i = 1; i < ranges.size() && gaps.size() < kMostGaps; ++i) {
    const DayRange gap{ranges[i - 1].last + 1, ranges[i].first - 1};
    gaps.push_back({gap, solved.reasons(photograph, DaySet{gap})});
  }
  return gaps;
}

}  // namespace

Chronology::Chronology(const CheckInput& input, Gather gather)
    : data_(std::make_unique<ChronologyData>(input)) {
  data_->has_usual_facts = gather == Gather::kAllFacts;
  find_photographs(*data_);
  data_->input.photographs = nullptr;  // which may hold this one
  data_->variable_count = static_cast<std::uint32_t>(data_->photographs.size());
  data_->is_tied.assign(data_->photographs.size(), false);
  relate_photographs(*data_);
  relate_events(*data_);
  relate_paint(*data_);
}
Chronology::~Chronology() = default;
Chronology::Chronology(Chronology&&) noexcept = default;
Chronology& Chronology::operator=(Chronology&&) noexcept = default;

std::span<const PhotographTime> Chronology::photographs() const { return data_->photographs; }
std::span<const TimeFact> Chronology::facts() const { return data_->facts; }

std::vector<Bracket> Chronology::brackets() const {
  const auto count = static_cast<std::uint32_t>(data_->photographs.size());
  std::vector<Bracket> brackets(count);
  const Solved firm(*data_, Weight::kFirm, {});
  const Solved linked(*data_, Weight::kLinked, {});
  const Solved wide(*data_, Weight::kFirmWide, {});
  const Solved usual(*data_, Weight::kUsual, {});
  // Where what the rows cut off is needed, since all else clashes, it counts.
  const std::vector<bool> needs_all = in_clashes(*data_, linked);
  const auto best = [&](std::uint32_t i) -> const Solved& { return needs_all[i] ? firm : linked; };
  for (std::uint32_t i = 0; i < count; ++i) {
    brackets[i].days = best(i).days[i];
    brackets[i].widened = touching(wide.days[i], brackets[i].days);
    brackets[i].usual = usual.days[i];
  }
  mark_clashes(*data_, firm, brackets, false);
  mark_clashes(*data_, usual, brackets, true);
  for (std::uint32_t i = 0; i < count; ++i) {
    Bracket& bracket = brackets[i];
    bracket.earliest = end_of(best(i), i, bracket.days, true);
    bracket.latest = end_of(best(i), i, bracket.days, false);
    bracket.gaps = gaps_of(best(i), i, bracket.days);
    if (bracket.usual.empty() || bracket.days.empty() || bracket.usual == bracket.days) continue;
    if (bracket.usual.first() > bracket.days.first()) {
      bracket.usual_earliest = end_of(usual, i, bracket.usual, true);
    }
    if (bracket.usual.last() < bracket.days.last()) {
      bracket.usual_latest = end_of(usual, i, bracket.usual, false);
    }
  }
  return brackets;
}

std::uint32_t Chronology::photograph_of(const TimeFact& fact) const {
  return fact.photograph < data_->photographs.size() ? fact.photograph : fact.other;
}

const Claim* Chronology::claim_of(const TimeFact& fact) const {
  return fact.claim < data_->input.claims.size() ? &data_->input.claims[fact.claim] : nullptr;
}

std::string Chronology::name_of(std::uint32_t photograph) const {
  if (photograph >= data_->photographs.size()) return "";
  const PhotographTime& time = data_->photographs[photograph];
  if (!time.figure.empty()) {
    const bool is_bare = time.figure.front() >= '0' && time.figure.front() <= '9';
    return (is_bare ? "figure " : "") + std::string(time.figure);
  }
  for (const std::uint32_t id : time.facts) {
    const TimeFact& fact = data_->facts[id];
    if (fact.basis == Basis::kLife && claim_of(fact) != nullptr) {
      return "the photograph of " + claim_of(fact)->value;
    }
  }
  return "the photograph";
}

std::shared_ptr<const FirmTimes> firm_times(const CheckInput& input) {
  const auto made = [&] {
    FirmTimes times{Chronology(input, Chronology::Gather::kFirmFacts), {}};
    times.clashes = times.chronology.clashes();
    return std::make_shared<const FirmTimes>(std::move(times));
  };
  if (input.photographs == nullptr) return made();
  std::call_once(input.photographs->once, [&] { input.photographs->firm = made(); });
  return input.photographs->firm;
}

}  // namespace tailproof

// | situation                                                                 | level  |
// | two markings worn together that a row says exclude each other             | error  |
// | worn, while the marking that it requires is said to be missing            | error  |
// | worn, while another marking of that family is worn in its place           | error  |
// | the required marking is not spoken of                                     | silent |
// | the date lies partly outside the row's, or is unknown and the row has one | silent |
// | a repaint row accounts for one of the two                                 | silent |
#include <algorithm>

#include "tailproof/marking_orders.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "marking-combination";

// One side of a row: a marking at its position.
struct Side {
  std::string_view marking, position;
};

struct Finding {
  const Combination* row = nullptr;
  const Claim* earlier = nullptr;  // in the caption
  const Claim* later = nullptr;
  const Claim* wearing = nullptr;  // of a requirement: the marking that asks for the other
  Level level = Level::kError;
};

// Where the claim has the marking. Without a position that is where orders put it; what orders put
// in several places may be meant at any of them, unless the ledger names the usual one.
bool is_at(const Ledger& ledger, const Claim& claim, std::string_view position) {
  const Surfaces wanted = surfaces_of(position);
  if (!claim.position.empty()) return (surfaces_of(claim.position) & wanted).any();
  Surfaces ordered;
  for (const Order* order : ledger.orders_of(claim.value)) {
    if (order->action != OrderAction::kIntroduces || order->positions.empty()) continue;
    ordered |= surfaces_of(order->positions);
  }
  if (ordered.none()) return true;  // only the row says where it belongs
  const Surfaces usual = ledger.settings().position.empty()
                             ? Surfaces()
                             : surfaces_of(ledger.settings().position) & ordered;
  return ((usual.any() ? usual : ordered) & ~wanted).none();
}

// Days on which the row certainly ran; an empty end is open.
Certain days_in_force(const Combination& row, const Margins& margins) {
  Allowed before = Allowed::none();
  if (!row.spell.from.is_unknown() && !row.spell.from.days().empty()) {
    const auto until = [](Day start) {
      return start > kFirstDay ? DaySet{DayRange{kFirstDay, start - 1}} : DaySet();
    };
    before = {until(row.spell.from.days().last()), until(row.spell.from.widened(margins).last())};
  }
  Allowed after = Allowed::none();
  if (!row.spell.to.is_unknown() && !row.spell.to.days().empty()) {
    const auto since = [](Day end) {
      return end < kLastDay ? DaySet{DayRange{end + 1, kLastDay}} : DaySet();
    };
    after = {since(row.spell.to.days().first()), since(row.spell.to.widened(margins).first())};
  }
  const Allowed outside = unite(before, after);
  return {outside.days.complement(), outside.widened.complement()};
}

// What a caption, or a sentence of running text, has the machine wear.
class Caption {
 public:
  Caption(const CheckInput& input, const ClaimIndex& index, const Claim& later)
      : input_(input), index_(index), later_(later) {
    const bool is_caption = index.block_of(later).kind == BlockKind::kCaption;
    for (const std::uint32_t i : index.around(later)) {
      const Claim& claim = index.claim(i);
      if (claim.kind == ClaimKind::kMarking && claim.subject == later.subject &&
          (is_caption || is_told_with(claim))) {
        claims_.push_back(&claim);
      }
    }
  }

  [[nodiscard]] std::optional<Finding> find() const {
    for (const Combination& row : input_.ledger.combinations()) {
      for (const Claim* earlier : claims_) {
        if (index_.index_of(*earlier) >= index_.index_of(later_)) break;
        if (earlier->begin == later_.begin && earlier->block == later_.block) continue;
        std::optional<Finding> finding =
            row.requires_it ? lacking(row, *earlier) : excluding(row, *earlier);
        if (finding) return finding;
      }
    }
    return std::nullopt;
  }

 private:
  // Running text goes from one time of a machine to another: only what one date is told of is worn
  // together.
  [[nodiscard]] bool is_told_with(const Claim& claim) const {
    return claim.block == later_.block && claim.when.known && later_.when.known &&
           claim.when.date == later_.when.date;
  }
  [[nodiscard]] bool is_worn(const Claim& claim) const {
    return (claim.state == MarkingState::kWorn || claim.state == MarkingState::kAdded) &&
           holds_at_its_date(input_, claim) && claim.shown;
  }
  [[nodiscard]] static bool is_reading(const Claim& claim, std::string_view marking) {
    const std::span<const std::string> readings = readings_of(claim);
    return std::find(readings.begin(), readings.end(), marking) != readings.end();
  }
  // Whether it can mean nothing but the marking: its other readings came in only later.
  [[nodiscard]] bool reads_as(const Claim& claim, std::string_view marking) const {
    const std::span<const std::string> readings = readings_of(claim);
    if (std::find(readings.begin(), readings.end(), marking) == readings.end()) return false;
    return std::all_of(readings.begin(), readings.end(), [&](const std::string& reading) {
      if (reading == marking) return true;
      if (!claim.when.known || claim.when.days.empty()) return false;
      const Introduction introduction = introduction_of(
          input_.ledger, claim, wearer_of(input_, index_, claim), reading, claim.when.widened);
      return !introduction.orders.empty() &&
             fit(claim.when, introduction.anywhere) == Fit::kImpossible;
    });
  }
  [[nodiscard]] bool wears(const Claim& claim, const Side& side) const {
    return is_worn(claim) && reads_as(claim, side.marking) &&
           is_at(input_.ledger, claim, side.position);
  }

  [[nodiscard]] std::optional<Finding> excluding(const Combination& row,
                                                 const Claim& earlier) const {
    const Side one{row.marking, row.position};
    const Side other{row.with_marking, row.with_position};
    const bool both = (wears(earlier, one) && wears(later_, other)) ||
                      (wears(earlier, other) && wears(later_, one));
    if (!both) return std::nullopt;
    return weigh({&row, &earlier, &later_, nullptr, Level::kError});
  }

  [[nodiscard]] std::optional<Finding> lacking(const Combination& row, const Claim& earlier) const {
    const Side one{row.marking, row.position};
    const bool first_asks = wears(earlier, one);
    if (!first_asks && !wears(later_, one)) return std::nullopt;
    const Claim& asking = first_asks ? earlier : later_;
    if (!is_contrary(row, first_asks ? later_ : earlier)) return std::nullopt;
    const bool has_it = std::any_of(claims_.begin(), claims_.end(), [&](const Claim* claim) {
      const std::span<const std::string> readings = readings_of(*claim);
      return is_worn(*claim) &&
             std::find(readings.begin(), readings.end(), row.with_marking) != readings.end();
    });
    if (has_it) return std::nullopt;
    return weigh({&row, &earlier, &later_, &asking, Level::kError});
  }

  // Said to be without it, or to have another of its family in its place.
  [[nodiscard]] bool is_contrary(const Combination& row, const Claim& claim) const {
    if (!is_at(input_.ledger, claim, row.with_position)) return false;
    if (claim.negated) {
      return !claim.attributed && claim.tense == Tense::kThen &&
             claim.state != MarkingState::kPlanned && claim.shown &&
             reads_as(claim, row.with_marking);
    }
    if (!is_worn(claim)) return false;
    const Marking* required = input_.ledger.marking(row.with_marking);
    if (required == nullptr || required->family.empty()) return false;
    const std::span<const std::string> readings = readings_of(claim);
    return std::all_of(readings.begin(), readings.end(), [&](const std::string& reading) {
      const Marking* marking = input_.ledger.marking(reading);
      return marking != nullptr && marking->family == required->family &&
             reading != row.with_marking && reading != row.marking;
    });
  }

  // Without a date only a row that runs for ever contradicts it.
  [[nodiscard]] std::optional<Finding> weigh(Finding finding) const {
    const Margins& margins = input_.ledger.settings().margins;
    const bool is_limited =
        !finding.row->spell.from.is_unknown() || !finding.row->spell.to.is_unknown();
    // "The numeral is the squadron's; letters came three years later": at no time together.
    const When& one = finding.earlier->when;
    const When& other = finding.later->when;
    if (one.known && other.known && !one.widened.intersects(other.widened)) return std::nullopt;
    const Certain in_force = days_in_force(*finding.row, margins);
    const Wearer wearer = wearer_of(input_, index_, *finding.later);
    for (const Claim* claim : {finding.earlier, finding.later}) {
      if (claim->when.known && claim->when.days.empty()) return std::nullopt;
      if (!claim->when.known) {
        if (is_limited) return std::nullopt;
        finding.level = std::min(finding.level, tempered(*claim, Level::kError));
        continue;
      }
      // That it was painted with the one that excludes says nothing of the other beside it.
      const Claim& beside = claim == finding.later ? *finding.earlier : *finding.later;
      const Claim& told =
          finding.wearing == nullptr && !is_reading(*claim, finding.row->with_marking) ? beside
                                                                                       : *claim;
      const Allowed painted =
          repainted_days(input_.ledger, wearer, told.value, surfaces_of(told.position));
      const Allowed allowed = unite(except(in_force), painted);
      const std::optional<Level> level = level_of(*claim, fit(claim->when, allowed), Level::kError);
      if (!level) return std::nullopt;
      finding.level = std::min(finding.level, *level);
    }
    return finding;
  }

  const CheckInput& input_;
  const ClaimIndex& index_;
  const Claim& later_;
  std::vector<const Claim*> claims_;  // of markings of this subject, in order
};

std::string placed(std::string_view marking, std::string_view position) {
  std::string text(marking);
  if (!position.empty()) text += " (" + std::string(position) + ")";
  return text;
}

std::string rule_in_words(const Combination& row) {
  std::string text = placed(row.marking, row.position) +
                     (row.requires_it ? " requires " : " excludes ") +
                     placed(row.with_marking, row.with_position);
  if (row.spell.from.is_unknown() && row.spell.to.is_unknown()) return text;
  return text + " " + in_words(row.spell);
}

std::string message_of(const Ledger& ledger, const Finding& finding) {
  const Claim& later = *finding.later;
  const Combination& row = *finding.row;
  const std::string who = wearer_in_words(ledger, later.subject);
  const std::string when = when_in_words(later.when);
  std::string text;
  if (finding.wearing == nullptr) {
    text = finding.earlier->value + " and " + later.value + " together " + who;
  } else {
    const Claim& contrary = finding.wearing == &later ? *finding.earlier : later;
    text = row.marking + " " + who + " " +
           (contrary.negated ? "without " + row.with_marking : "beside " + contrary.value);
  }
  if (!when.empty()) text += " " + when;
  if (finding.wearing == nullptr) return text + " exclude each other";
  return text + " lacks the " + row.with_marking + " that it requires";
}

}  // namespace

std::vector<Query> check_marking_combination(const CheckInput& input) {
  if (input.ledger.combinations().empty()) return {};
  const ClaimIndex index(input);
  const Claim* last = nullptr;  // one query for a marking, however many positions it has
  return judge_claims(input, ClaimKind::kMarking, [&](const Claim& claim) -> std::optional<Query> {
    const BlockKind kind = index.block_of(claim).kind;
    if (kind != BlockKind::kCaption && kind != BlockKind::kBody) return std::nullopt;
    if (last != nullptr && last->span == claim.span && last->subject == claim.subject) {
      return std::nullopt;
    }
    // Of several machines without a name, the one may wear this and the other that.
    const bool is_machine = !input.ledger.machine_of(claim.subject).empty();
    if (!is_machine && kind == BlockKind::kBody) return std::nullopt;
    if (!is_machine && (claim.said & kSaidOtherMachine) != 0) return std::nullopt;
    const std::optional<Finding> finding = Caption(input, index, claim).find();
    if (!finding) return std::nullopt;
    last = &claim;
    Query query = query_at(kId, input, claim, finding->level, message_of(input.ledger, *finding));
    query.related.push_back({finding->earlier->span, "here " + finding->earlier->value});
    query.claims.push_back(static_cast<std::uint32_t>(finding->earlier - input.claims.data()));
    query.evidence.push_back(quote(finding->row->row, rule_in_words(*finding->row)));
    query.suggestion = finding->row->requires_it
                           ? placed(finding->row->with_marking, finding->row->with_position)
                           : "one of the two";
    return query;
  });
}

}  // namespace tailproof

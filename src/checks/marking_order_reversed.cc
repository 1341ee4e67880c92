// | situation                                                                   | level   |
// | the earlier form worn after the later one was, "always" in sequences.csv    | error   |
// | ... "usually", or in a theatre that is not known                            | warning |
// | worn after a repaint row put the later form on                              | the same |
// | the two dates touch, at full width or by a margin                           | silent  |
// | a repaint between the two, of the ledger or of the text, accounts for it    | silent  |
// | other surfaces; theatres for which no row speaks; rows that go both ways    | silent  |
//
// The forms of a family are a graph: a row is an edge from the earlier to the later, and two forms
// are in order when a path leads from one to the other, as strong as its weakest row. Of several
// claims that clash, the one stands reversed that the most others outvote; when nothing decides, it
// is the later in the text.
#include <algorithm>
#include <map>
#include <set>
#include <unordered_map>

#include "tailproof/marking_orders.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "marking-order-reversed";
constexpr std::size_t kMostRelated = 3;

/// A form worn on certain days: by a claim, or put on by a repaint row.
struct Worn {
  const Claim* claim = nullptr;
  const History* repaint = nullptr;
  std::string_view marking;
  std::uint32_t order = 0;  // in the text; 0 for a row
  Day first = kFirstDay, last = kLastDay;
  Surfaces surfaces;
  bool has_position = false;
  std::vector<std::string_view> theatres;  // that the caption names
};

/// Repaints of which the text tells, by machine.
using ToldOf = std::unordered_map<std::string, std::vector<const Claim*>>;

/// Earlier and later form of one clash.
struct OrderClash {
  std::size_t early = 0, late = 0;  // indices: wears the earlier form, wears the later one
  Level level = Level::kError;
  std::vector<const Sequence*> rows;
};

bool is_worn(const CheckInput& input, const Claim& claim) {
  return (claim.state == MarkingState::kWorn || claim.state == MarkingState::kAdded) &&
         holds_at_its_date(input, claim) && claim.readings.size() < 2 && claim.when.known &&
         !claim.when.days.empty() && !claim.subject.empty();
}

std::string figure_of(const ClaimIndex& index, const Claim& claim) {
  const std::string& figure = index.block_of(claim).figure;
  return figure.empty() || (figure.front() >= '0' && figure.front() <= '9') ? "" : figure;
}

/// Everything that is known of one machine's markings of one family.
class Coat {
 public:
  Coat(const CheckInput& input, const ClaimIndex& index, std::string_view family,
       const std::vector<const Claim*>& repaints_told)
      : input_(input), ledger_(input.ledger), index_(index), repaints_told_(repaints_told) {
    for (const Sequence& row : ledger_.sequences()) {
      if (row.family == family) rows_.push_back(&row);
    }
  }

  void add(const Claim& claim) {
    Worn worn;
    worn.claim = &claim;
    worn.marking = claim.value;
    worn.order = index_.index_of(claim) + 1;
    worn.first = claim.when.widened.first();
    worn.last = claim.when.widened.last();
    worn.surfaces = meant_surfaces(ledger_, claim.value, claim.position);
    worn.has_position = !claim.position.empty();
    Wearer wearer = wearer_of(input_, index_, claim);
    worn.theatres = std::move(wearer.claimed_theatres);
    wearer.claimed_theatres.clear();
    worn_.push_back(std::move(worn));
    wearer_ = std::move(wearer);  // the same for every claim of the machine
  }

  [[nodiscard]] std::vector<Query> judge() {
    add_repaints();
    find_orders();
    std::vector<OrderClash> clashes = find_clashes();
    Votes votes;
    for (const OrderClash& clash : clashes) count(clash, 1, votes);
    std::vector<Query> queries;
    while (!clashes.empty()) {
      const std::size_t wrong = most_outvoted(votes);
      queries.push_back(query_of(wrong, clashes));
      std::erase_if(clashes, [&](const OrderClash& clash) {
        if (clash.early != wrong && clash.late != wrong) return false;
        count(clash, -1, votes);
        return true;
      });
    }
    return queries;
  }

 private:
  /// By claim: the captions against it, with the number of clashes in which each is.
  using Votes = std::map<std::size_t, std::map<std::uint64_t, int>>;

  // A repaint row puts the later form on: whoever shows the earlier one afterwards is wrong.
  void add_repaints() {
    std::set<std::string_view> named;
    for (const Sequence* row : rows_) named.insert({row->later, row->earlier});
    for (const History* row : wearer_.history) {
      if (row->kind != "repaint" || row->spell.from.is_unknown()) continue;
      for (const std::string_view marking : named) {
        if (!puts_on(*row, marking)) continue;
        Worn worn;
        worn.repaint = row;
        worn.marking = marking;
        const DaySet days = row->spell.from.widened(ledger_.settings().margins);
        if (days.empty()) continue;
        worn.first = days.first();
        worn.last = days.last();
        worn.surfaces = meant_surfaces(ledger_, marking, "");
        worn_.push_back(std::move(worn));
      }
    }
  }

  // Which form a path of rows leads to, whatever their scope: most pairs are so done with.
  void find_orders() {
    std::set<std::string_view> from;
    for (const Worn& worn : worn_) from.insert(worn.marking);
    for (const std::string_view start : from) {
      std::vector<std::string_view> front = {start};
      while (!front.empty()) {
        const std::string_view at = front.back();
        front.pop_back();
        for (const Sequence* row : rows_) {
          if (row->earlier == at && later_forms_[start].insert(row->later).second) {
            front.push_back(row->later);
          }
        }
      }
    }
  }

  // By the rule of the ledger: a row that names no marking accounts for all, but puts none on.
  [[nodiscard]] bool puts_on(const History& row, std::string_view marking) const {
    Wearer alone;
    alone.history = {&row};
    const bool accounts = !repainted_days(ledger_, alone, marking, Surfaces()).days.empty();
    return accounts && row.detail.find(marking) != std::string::npos;
  }

  [[nodiscard]] std::vector<OrderClash> find_clashes() const {
    std::vector<OrderClash> clashes;
    for (std::size_t e = 0; e < worn_.size(); ++e) {
      if (worn_[e].claim == nullptr) continue;
      for (std::size_t l = 0; l < worn_.size(); ++l) {
        const Worn& early = worn_[e];
        const Worn& late = worn_[l];
        if (early.first <= late.last || early.marking == late.marking) continue;
        const auto later_forms = later_forms_.find(early.marking);
        if (later_forms == later_forms_.end() || !later_forms->second.contains(late.marking)) {
          continue;
        }
        OrderClash clash{e, l, Level::kError, {}};
        if (!in_order(early, late, clash) || is_accounted_for(early, late)) continue;
        for (const Claim* claim : {early.claim, late.claim}) {
          if (claim == nullptr) continue;
          Level level = tempered(*claim, clash.level);
          if (claim->when.inherited) level = std::min(level, Level::kWarning);
          if (claim->when.hedged && !claim->hedged) level = lowered(level);
          clash.level = std::min(clash.level, level);
        }
        clashes.push_back(std::move(clash));
      }
    }
    return clashes;
  }

  // Whether sequences.csv puts the one before the other, and never the other way round.
  [[nodiscard]] bool in_order(const Worn& early, const Worn& late, OrderClash& clash) const {
    const DaySet days{DayRange{late.first, early.last}};
    Wearer both = wearer_;
    for (const Worn* worn : {&early, &late}) {
      both.claimed_theatres.insert(both.claimed_theatres.end(), worn->theatres.begin(),
                                   worn->theatres.end());
    }
    std::vector<std::string_view> theatres = theatres_of(ledger_, both, days);
    const bool is_known = !theatres.empty();
    if (!is_known) theatres = {""};
    for (const std::string_view theatre : theatres) {
      std::vector<const Sequence*> path = path_from(early, late, theatre, is_known);
      if (path.empty()) return false;
      if (!path_from(late, early, theatre, is_known).empty()) return false;
      for (const Sequence* row : path) {
        if (!row->always || (!is_known && !row->theatres.empty())) clash.level = Level::kWarning;
        if (std::find(clash.rows.begin(), clash.rows.end(), row) == clash.rows.end()) {
          clash.rows.push_back(row);
        }
      }
    }
    return true;
  }

  // Rows that lead from the earlier form to the later; the fewest, and of those the strongest.
  [[nodiscard]] std::vector<const Sequence*> path_from(const Worn& early, const Worn& late,
                                                       std::string_view theatre,
                                                       bool is_known) const {
    std::map<std::string_view, const Sequence*> came_by;
    std::vector<std::string_view> front = {early.marking};
    std::set<std::string_view> seen = {early.marking};
    while (!front.empty() && !came_by.contains(late.marking)) {
      std::vector<std::string_view> next;
      for (const bool always : {true, false}) {
        for (const Sequence* row : rows_) {
          if (row->always != always || seen.contains(row->later)) continue;
          if (std::find(front.begin(), front.end(), row->earlier) == front.end()) continue;
          if (!reaches(*row, early, late, theatre, is_known)) continue;
          seen.insert(row->later);
          came_by[row->later] = row;
          next.push_back(row->later);
        }
      }
      front = std::move(next);
    }
    std::vector<const Sequence*> path;
    for (auto step = came_by.find(late.marking); step != came_by.end();
         step = came_by.find(step->second->earlier)) {
      path.insert(path.begin(), step->second);
      if (step->second->earlier == early.marking) return path;
    }
    return {};
  }

  [[nodiscard]] bool reaches(const Sequence& row, const Worn& early, const Worn& late,
                             std::string_view theatre, bool is_known) const {
    const bool in_theatre =
        row.theatres.empty() || !is_known ||
        std::find(row.theatres.begin(), row.theatres.end(), theatre) != row.theatres.end();
    if (!in_theatre) return false;
    const Surfaces scope = surfaces_of(row.positions);
    // Forms that orders put on surfaces of their own follow each other all the same: the stripes
    // leave the rudder when the flash comes to the fin.
    const Surfaces own = natural_surfaces(ledger_, early.marking);
    const Surfaces other = natural_surfaces(ledger_, late.marking);
    if ((own & other).none()) return (scope & (own | other)).any();
    if ((early.surfaces & late.surfaces & scope).none()) return false;
    // Where the text names no surface, the row must hold on every one that may be meant.
    return (early.has_position || (early.surfaces & ~scope).none()) &&
           (late.has_position || (late.surfaces & ~scope).none());
  }

  // A repaint after the later form was seen, and not after the earlier one was seen again.
  [[nodiscard]] bool is_accounted_for(const Worn& early, const Worn& late) const {
    Wearer between = wearer_;
    std::erase_if(between.history, [&](const History* row) {
      if (row->kind != "repaint" || row == late.repaint) return true;
      const DaySet& days = row->spell.from.days();
      return !row->spell.from.is_unknown() && !days.empty() && days.last() < late.first;
    });
    const Allowed painted = repainted_days(ledger_, between, early.marking, early.surfaces);
    const When& when = early.claim->when;
    if (fit(when, painted) != Fit::kImpossible) return true;
    return std::any_of(repaints_told_.begin(), repaints_told_.end(), [&](const Claim* event) {
      if (caption_key(input_, *event) == caption_key(input_, *early.claim)) return true;
      if (!event->when.known || event->when.widened.empty()) return false;
      return event->when.widened.last() >= late.first && event->when.widened.first() <= early.last;
    });
  }

  // The claim in most clashes; of two the later in the text. A row of the ledger is never wrong.
  [[nodiscard]] std::size_t most_outvoted(const Votes& votes) const {
    std::size_t best = votes.begin()->first;
    for (const auto& [index, against] : votes) {
      const std::size_t most = votes.at(best).size();
      const bool is_later = worn_[index].order > worn_[best].order;
      if (against.size() > most || (against.size() == most && is_later)) best = index;
    }
    return best;
  }

  // Puts the votes of one clash in, or takes them back.
  void count(const OrderClash& clash, int by, Votes& votes) const {
    const auto cast = [&](std::size_t against, std::size_t by_whom) {
      const auto voters = votes.try_emplace(against).first;
      const auto vote = voters->second.try_emplace(voter(by_whom), 0).first;
      vote->second += by;
      if (vote->second == 0) voters->second.erase(vote);
      if (voters->second.empty()) votes.erase(voters);
    };
    cast(clash.early, clash.late);
    if (worn_[clash.late].claim != nullptr) cast(clash.late, clash.early);
  }

  // Captions have one vote each, rows of the ledger one each.
  [[nodiscard]] std::uint64_t voter(std::size_t index) const {
    const Worn& worn = worn_[index];
    if (worn.claim != nullptr) return caption_key(input_, *worn.claim);
    return ~std::uint64_t{worn.repaint->row.line};
  }

  [[nodiscard]] std::string seen_in_words(const Worn& worn) const {
    if (worn.claim == nullptr) return "by the repaint of " + in_words(worn.repaint->spell.from);
    const std::string when = when_in_words(worn.claim->when);
    const std::string figure = figure_of(index_, *worn.claim);
    return figure.empty() ? when : when + " (" + figure + ")";
  }

  [[nodiscard]] Query query_of(std::size_t wrong, const std::vector<OrderClash>& clashes) const {
    const Worn& own = worn_[wrong];
    const OrderClash* nearest = nullptr;
    Level level = Level::kNote;
    std::vector<const Sequence*> rows;
    std::vector<std::size_t> others;
    for (const OrderClash& clash : clashes) {
      if (clash.early != wrong && clash.late != wrong) continue;
      if (nearest == nullptr) nearest = &clash;
      level = std::max(level, clash.level);
      for (const Sequence* row : clash.rows) {
        if (std::find(rows.begin(), rows.end(), row) == rows.end()) rows.push_back(row);
      }
      others.push_back(clash.early == wrong ? clash.late : clash.early);
    }
    const bool is_early = nearest->early == wrong;
    const Worn& other = worn_[is_early ? nearest->late : nearest->early];
    std::string message = own.claim->subject + " wears " + std::string(own.marking);
    const std::string when = when_in_words(own.claim->when);
    if (!when.empty()) message += " " + when;
    message += is_early ? ", but had the later form, " : ", but still had the earlier form, ";
    message += std::string(other.marking) + ", " + seen_in_words(other);
    Query query = query_at(kId, input_, *own.claim, level, std::move(message));
    for (const Sequence* row : rows) query.evidence.push_back(quote_sequence(*row));
    for (const std::size_t index : others) {
      const Worn& there = worn_[index];
      if (there.repaint != nullptr) query.evidence.push_back(quote_history(*there.repaint));
      if (there.claim == nullptr || query.related.size() >= kMostRelated) continue;
      query.related.push_back(
          {there.claim->span, "here " + std::string(there.marking) + " " + seen_in_words(there)});
      query.claims.push_back(index_.index_of(*there.claim));
    }
    query.suggestion = is_early ? other.marking : std::string_view();
    return query;
  }

  const CheckInput& input_;
  const Ledger& ledger_;
  const ClaimIndex& index_;
  const std::vector<const Claim*>& repaints_told_;
  std::vector<const Sequence*> rows_;
  std::map<std::string_view, std::set<std::string_view>> later_forms_;
  std::vector<Worn> worn_;
  Wearer wearer_;
};

}  // namespace

std::vector<Query> check_marking_order_reversed(const CheckInput& input) {
  const Ledger& ledger = input.ledger;
  if (ledger.sequences().empty()) return {};
  const ClaimIndex index(input);
  std::unordered_map<std::string, std::string> machines;  // by serial: one name for the machine
  const auto machine_of = [&](const std::string& serial) -> const std::string& {
    const auto [at, is_new] = machines.try_emplace(serial);
    if (is_new) {
      const auto serials = ledger.serials_of(serial);
      at->second = serials.empty() ? serial : std::string(serials.front());
    }
    return at->second;
  };
  ToldOf told;
  std::map<std::pair<std::string, std::string_view>, Coat> coats;  // by machine and family
  for (const Claim& claim : ClaimsOfKind(input, ClaimKind::kEvent)) {
    if (claim.value == "repaint" && claim.turned_to.empty() && is_affirmed(claim)) {
      told[machine_of(claim.subject)].push_back(&claim);
    }
  }
  for (const Claim& claim : ClaimsOfKind(input, ClaimKind::kMarking)) {
    if (!is_worn(input, claim)) continue;
    const Marking* marking = ledger.marking(claim.value);
    if (marking == nullptr || marking->family.empty()) continue;
    if (claim.subject == index.block_of(claim).figure) continue;  // no machine is named
    const std::string& machine = machine_of(claim.subject);
    coats.try_emplace({machine, marking->family}, input, index, marking->family, told[machine])
        .first->second.add(claim);
  }
  std::vector<Query> queries;
  for (auto& [key, coat] : coats) {
    std::vector<Query> own = coat.judge();
    queries.insert(queries.end(), std::make_move_iterator(own.begin()),
                   std::make_move_iterator(own.end()));
  }
  return queries;
}

}  // namespace tailproof

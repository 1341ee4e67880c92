// Coats of paint on one machine: which form of a marking came before which, what a repaint ended or
// brought back, what lies over what, and whose insignia were there first.
//
// Of two forms that follow each other, all photographs of the earlier lie before one moment and all
// of the later behind it, so that facts stay linear in the number of photographs. A repaint that
// may have brought the earlier form back ends that: what can have been taken after it is left out.
#include <algorithm>
#include <map>
#include <set>

#include "chronology/chronology_data.h"

namespace tailproof {
namespace {

// One marking on a machine, in one photograph.
struct Worn {
  std::uint32_t photograph = kNone;
  std::uint32_t claim = kNone;
  Surfaces surfaces;  // one alone, or none where that is left open
};
using Forms = std::map<std::string_view, std::vector<Worn>>;  // by marking

struct Coating {
  std::uint32_t photograph = kNone;
  std::uint32_t claim = kNone;
  const Marking* upper = nullptr;
  const Marking* lower = nullptr;
  std::string_view position;
};

struct Machine {
  std::string_view serial;
  Forms forms;
  std::vector<Coating> coatings;
};

// Rows of one family as a graph, from the earlier form to the later.
class Paint {
 public:
  Paint(ChronologyData& data, const Machine& machine)
      : data_(data), ledger_(data.input.ledger), machine_(machine) {
    wearer_.history = ledger_.history_of(machine.serial);
  }

  void add() {
    if (!ledger_.sequences().empty()) {
      for (const auto& [marking, worn] : machine_.forms) add_repaints(marking, worn);
      for (const auto& [earlier, worn] : machine_.forms) {
        for (const auto& [later, others] : machine_.forms) {
          if (earlier != later) add_order(earlier, later);
        }
      }
    }
    for (const Coating& coating : machine_.coatings) add_coat(coating);
    if (data_.has_usual_facts) add_owners();
  }

 private:
  using Path = std::vector<const Sequence*>;

  // Whether the row counts for this machine wherever it was.
  [[nodiscard]] bool reaches(const Sequence& row) {
    if (row.theatres.empty()) return true;
    if (!has_theatres_) {
      theatres_ =
          theatres_on(ledger_, placements_of_machine(ledger_, machine_.serial), DaySet::all());
      has_theatres_ = true;
    }
    return !theatres_.empty() &&
           std::all_of(theatres_.begin(), theatres_.end(), [&](std::string_view theatre) {
             return std::find(row.theatres.begin(), row.theatres.end(), theatre) !=
                    row.theatres.end();
           });
  }

  // Rows from one form to another on a surface (or, for forms that have surfaces of their own, on
  // any of these), the fewest; without "usually" where it can be.
  [[nodiscard]] Path path(std::string_view earlier, std::string_view later, const Surfaces& on) {
    for (const bool all : {false, true}) {
      std::map<std::string_view, const Sequence*> came_by;
      std::vector<std::string_view> front = {earlier};
      while (!front.empty() && !came_by.contains(later)) {
        std::vector<std::string_view> next;
        for (const Sequence& row : ledger_.sequences()) {
          if (std::find(front.begin(), front.end(), row.earlier) == front.end()) continue;
          if (row.later == earlier || came_by.contains(row.later) || (!all && !row.always))
            continue;
          if ((surfaces_of(row.positions) & on).none() || !reaches(row)) continue;
          came_by[row.later] = &row;
          next.push_back(row.later);
        }
        front = std::move(next);
      }
      Path found;
      for (std::string_view at = later; came_by.contains(at); at = found.front()->earlier) {
        found.insert(found.begin(), came_by[at]);
        if (found.front()->earlier == earlier) return found;
      }
      if (!data_.has_usual_facts) break;
    }
    return {};
  }

  static bool is_always(const Path& path) {
    return std::all_of(path.begin(), path.end(), [](const Sequence* row) { return row->always; });
  }

  // Forms that orders put on different surfaces follow each other all the same.
  [[nodiscard]] Surfaces scope_apart(std::string_view one, std::string_view other) const {
    const Surfaces a = natural_surfaces(ledger_, one);
    const Surfaces b = natural_surfaces(ledger_, other);
    return (a & b).none() ? a | b : Surfaces();
  }

  [[nodiscard]] static bool puts_on(const History& row, std::string_view marking) {
    return row.kind == "repaint" && row.detail.find(marking) != std::string::npos;
  }

  // When repaints, of the ledger or of the text, may have brought the form back; in order.
  [[nodiscard]] std::vector<DayRange> returns(std::string_view marking, const Surfaces& on) {
    std::vector<DayRange> found;
    for (const History* row : wearer_.history) {
      if (row->kind != "repaint") continue;
      Wearer alone;
      alone.history = {row};
      if (repainted_days(ledger_, alone, marking, on).days.empty()) continue;
      const DaySet days = row->spell.from.is_unknown()
                              ? DaySet::all()
                              : row->spell.from.widened(ledger_.settings().margins);
      if (!days.empty()) found.push_back({days.first(), days.last()});
    }
    for (const Claim* told : repaints_told()) {
      found.push_back({told->when.widened.first(), told->when.widened.last()});
    }
    std::sort(found.begin(), found.end(),
              [](const DayRange& a, const DayRange& b) { return a.first < b.first; });
    return found;
  }

  // Stretches of time within which the form, once gone, was not brought back.
  [[nodiscard]] std::vector<DayRange> eras(std::string_view marking, const Surfaces& on) {
    std::vector<DayRange> found;
    Day from = kFirstDay;
    for (const DayRange& back : returns(marking, on)) {
      if (back.first > from) found.push_back({from, back.first});
      from = std::max(from, back.last);
    }
    if (from < kLastDay) found.push_back({from, kLastDay});
    return found;
  }

  // Repaints that the text tells of with their days, where the ledger has no row of them.
  const std::vector<const Claim*>& repaints_told() {
    if (has_told_) return told_;
    has_told_ = true;
    const auto found = data_.repaints_told.find(machine_.serial);
    if (found == data_.repaints_told.end()) return told_;
    for (const Claim* claim : found->second) {
      const bool has_row =
          std::any_of(wearer_.history.begin(), wearer_.history.end(), [&](const History* row) {
            return row->kind == "repaint" && row->spell.from.days().intersects(claim->when.widened);
          });
      if (!has_row) told_.push_back(claim);
    }
    return told_;
  }

  // A form that a repaint covered with a later one is gone until another may have brought it back.
  void add_repaints(std::string_view marking, const std::vector<Worn>& worn) {
    struct State {
      DaySet days;
      std::vector<Evidence> rows;
    };
    std::map<unsigned long, State> states;  // by surface
    for (const Worn& here : worn) {
      if (here.surfaces.none()) continue;
      const auto [found, is_first] = states.try_emplace(here.surfaces.to_ulong());
      State& state = found->second;
      if (is_first) state.days = days_of_state(marking, here.surfaces, state.rows);
      if (state.days.is_all() || state.days.empty()) continue;
      TimeFact fact = fact_of(Basis::kRepainted, here);
      fact.photograph = here.photograph;
      fact.allowed = {state.days, state.days};
      fact.rows = state.rows;
      add_fact(data_, std::move(fact));
    }
  }

  DaySet days_of_state(std::string_view marking, const Surfaces& on, std::vector<Evidence>& rows) {
    DaySet days = DaySet::all();
    for (const History* row : wearer_.history) {
      if (row->kind != "repaint" || row->spell.from.is_unknown()) continue;
      if (row->spell.from.days().empty() || !covers(*row, marking, on)) continue;
      const Day gone = row->spell.from.widened(ledger_.settings().margins).last();
      Day back = kLastDay;
      for (const DayRange& range : returns(marking, on)) {
        if (range.last >= row->spell.from.days().first()) back = std::min(back, range.first);
      }
      const Day end = back == kLastDay ? kLastDay : back - 1;
      days = days.intersect(DaySet(std::vector<DayRange>{{gone + 1, end}}).complement());
      rows.push_back(quote_history(*row));
    }
    return days;
  }

  [[nodiscard]] bool covers(const History& row, std::string_view marking, const Surfaces& on) {
    const Marking* own = ledger_.marking(marking);
    if (own == nullptr || own->family.empty()) return false;
    return std::any_of(
        ledger_.markings().begin(), ledger_.markings().end(), [&](const Marking& other) {
          if (other.family != own->family || other.marking == marking) return false;
          if (!puts_on(row, other.marking)) return false;
          Wearer alone;
          alone.history = {&row};
          const Surfaces apart = scope_apart(marking, other.marking);
          const Surfaces scope = apart.any() ? apart : on;
          if (apart.none() && repainted_days(ledger_, alone, other.marking, on).days.empty()) {
            return false;
          }
          const Path rows = path(marking, other.marking, scope);
          return !rows.empty() && is_always(rows);
        });
  }

  // Days of the photograph by what is firmly said of it alone.
  [[nodiscard]] DaySet days_of(std::uint32_t photograph) const {
    DaySet days = DaySet::all();
    for (const std::uint32_t id : data_.photographs[photograph].facts) {
      const TimeFact& fact = data_.facts[id];
      const bool counts = !fact.is_relation() && fact.is_firm && !fact.is_hedged &&
                          !fact.is_inherited && !fact.is_soft;
      if (counts) days = days.intersect(fact.allowed.widened);
    }
    return days;
  }

  // "With the old disc, after its repaint": the caption itself accounts for the form.
  [[nodiscard]] bool tells_of_repaint(std::uint32_t claim) const {
    const auto around = data_.index.around(data_.input.claims[claim]);
    return std::any_of(around.begin(), around.end(), [&](std::uint32_t i) {
      const Claim& event = data_.input.claims[i];
      return event.kind == ClaimKind::kEvent && event.value == "repaint" &&
             event.turned_to.empty() && is_affirmed(event) &&
             (!event.relation->photograph.is_known() || event.relation->most > 0);
    });
  }

  [[nodiscard]] bool is_within(std::uint32_t photograph, const DayRange& era) const {
    if (era.first <= kFirstDay && era.last >= kLastDay) return true;
    const DaySet days = days_of(photograph);
    return !days.empty() && days.first() >= era.first && days.last() <= era.last;
  }

  [[nodiscard]] std::vector<Worn> within(const std::vector<Worn>& worn, const DayRange& era,
                                         const Surfaces& on) const {
    std::vector<Worn> found;
    for (const Worn& here : worn) {
      if ((here.surfaces & on).any() && is_within(here.photograph, era)) found.push_back(here);
    }
    return found;
  }

  [[nodiscard]] TimeFact fact_of(Basis basis, const Worn& worn) const {
    const Claim& claim = data_.input.claims[worn.claim];
    TimeFact fact;
    fact.basis = basis;
    fact.claim = worn.claim;
    fact.recorded = DaySet::all();
    fact.is_hedged = claim.hedged;
    fact.is_inherited = claim.inherited;
    return fact;
  }

  void tie(TimeFact fact, std::uint32_t photograph, std::uint32_t moment, bool is_later) {
    fact.photograph = is_later ? photograph : moment;
    fact.other = is_later ? moment : photograph;
    fact.allowed = {offsets::not_before(), offsets::not_before()};
    add_fact(data_, std::move(fact));
  }

  void add_order(std::string_view earlier, std::string_view later) {
    const Surfaces apart = scope_apart(earlier, later);
    if (apart.any()) {
      add_order_on(earlier, later, apart);
      return;
    }
    for (std::size_t surface = 0; surface < kSurfaceCount; ++surface) {
      Surfaces here;
      here.set(surface);
      add_order_on(earlier, later, here);
    }
  }

  void add_order_on(std::string_view earlier, std::string_view later, const Surfaces& on) {
    const auto is_here = [&](const Worn& worn) { return (worn.surfaces & on).any(); };
    const std::vector<Worn>& early = machine_.forms.at(earlier);
    const std::vector<Worn>& late = machine_.forms.at(later);
    if (std::none_of(early.begin(), early.end(), is_here)) return;
    if (std::none_of(late.begin(), late.end(), is_here)) return;
    const Path rows = path(earlier, later, on);
    if (rows.empty() || !path(later, earlier, on).empty()) return;
    for (const DayRange& era : eras(earlier, on)) {
      std::vector<Worn> before = within(early, era, on);
      std::erase_if(before, [&](const Worn& worn) { return tells_of_repaint(worn.claim); });
      const std::vector<Worn> after = within(late, era, on);
      if (before.empty() || after.empty()) continue;
      const std::uint32_t moment = add_moment(data_);
      const auto add = [&](const Worn& worn, bool is_later) {
        TimeFact fact = fact_of(Basis::kPaintOrder, worn);
        fact.sequence = rows.front();
        for (const Sequence* row : rows) fact.rows.push_back(quote_sequence(*row));
        fact.is_firm = is_always(rows);
        tie(std::move(fact), worn.photograph, moment, is_later);
      };
      for (const Worn& worn : before) add(worn, false);
      for (const Worn& worn : after) add(worn, true);
    }
  }

  // "The ringed disc painted over the plain one": whoever still shows the plain one was taken
  // before.
  void add_coat(const Coating& coating) {
    const bool is_one_family =
        !coating.lower->family.empty() && coating.lower->family == coating.upper->family;
    add_repaint_of(coating);
    const auto lower = machine_.forms.find(coating.lower->marking);
    if (!is_one_family || lower == machine_.forms.end()) return;
    Surfaces on = scope_apart(coating.lower->marking, coating.upper->marking);
    if (on.none()) on = meant_surfaces(ledger_, coating.lower->marking, coating.position);
    if (on.count() != 1 && scope_apart(coating.lower->marking, coating.upper->marking).none()) {
      return;
    }
    // sequences.csv says the same, with its own words.
    if (!path(coating.lower->marking, coating.upper->marking, on).empty()) return;
    for (const DayRange& era : eras(coating.lower->marking, on)) {
      if (!is_within(coating.photograph, era)) continue;
      std::vector<Worn> before = within(lower->second, era, on);
      std::erase_if(before, [&](const Worn& worn) {
        return worn.photograph == coating.photograph || tells_of_repaint(worn.claim);
      });
      if (before.empty()) continue;
      const std::uint32_t moment = add_moment(data_);
      for (const Worn& worn : before) {
        tie(fact_of(Basis::kCoat, worn), worn.photograph, moment, false);
      }
      tie(fact_of(Basis::kCoat, {coating.photograph, coating.claim, on}), coating.photograph,
          moment, true);
    }
  }

  // A repaint row that names the upper coat tells when it was put on; but another may have left no
  // row.
  void add_repaint_of(const Coating& coating) {
    DaySet since;
    std::vector<Evidence> rows;
    for (const History* row : wearer_.history) {
      if (!puts_on(*row, coating.upper->marking) || row->spell.from.is_unknown()) continue;
      since = since.unite(from_days(row->spell.from, ledger_.settings().margins).widened);
      rows.push_back(quote_history(*row));
    }
    if (rows.empty() || since.empty()) return;
    TimeFact fact = fact_of(Basis::kRepainted, {coating.photograph, coating.claim, {}});
    fact.photograph = coating.photograph;
    fact.allowed = {since, since};
    fact.rows = std::move(rows);
    fact.is_soft = true;
    add_fact(data_, std::move(fact));
  }

  // Common practice: who photographed a machine with its former owner's insignia did so before the
  // new owner's were on.
  void add_owners() {
    for (const Identity* row : ledger_.identities_of(machine_.serial)) {
      if (row->kind != "previous_serial" || row->operator_unit.empty()) continue;
      std::vector<Worn> former, own;
      for (const auto& [marking, worn] : machine_.forms) {
        const bool is_theirs = is_of(marking, row->operator_unit);
        if (!is_theirs && ledger_.orders_of(marking).empty()) continue;
        auto& list = is_theirs ? former : own;
        list.insert(list.end(), worn.begin(), worn.end());
      }
      if (former.empty()) continue;
      for (const Worn& worn : former) add_former(*row, worn);
      if (own.empty()) continue;
      const std::uint32_t moment = add_moment(data_);
      const auto add = [&](const Worn& worn, bool is_later) {
        TimeFact fact = fact_of(Basis::kNewOwner, worn);
        fact.is_firm = false;
        fact.rows.push_back(quote_identity(*row));
        tie(std::move(fact), worn.photograph, moment, is_later);
      };
      for (const Worn& worn : former) add(worn, false);
      for (const Worn& worn : own) add(worn, true);
    }
  }

  void add_former(const Identity& row, const Worn& worn) {
    const Allowed days = until_days(row.spell.to, ledger_.settings().margins);
    if (row.spell.to.is_unknown() || days.days.is_all()) return;
    TimeFact fact = fact_of(Basis::kFormerOwner, worn);
    fact.photograph = worn.photograph;
    fact.allowed = days;
    fact.is_firm = false;
    fact.rows.push_back(quote_identity(row));
    add_fact(data_, std::move(fact));
  }

  // A marking that no order of this air arm knows, and that names the former operator.
  [[nodiscard]] bool is_of(std::string_view marking, std::string_view owner) const {
    const Marking* row = ledger_.marking(marking);
    if (row == nullptr || !ledger_.orders_of(marking).empty()) return false;
    const std::string name = bare(owner);
    const auto names = [&](std::string_view text) {
      return bare(text).find(name) != std::string::npos;
    };
    return names(row->marking) || names(row->description) ||
           std::any_of(row->aliases.begin(), row->aliases.end(), names);
  }

  ChronologyData& data_;
  const Ledger& ledger_;
  const Machine& machine_;
  Wearer wearer_;
  std::vector<std::string_view> theatres_;
  bool has_theatres_ = false;
  std::vector<const Claim*> told_;
  bool has_told_ = false;
};

// The one surface that a claim means; none when it leaves that open.
Surfaces one_surface(const Ledger& ledger, std::string_view marking, std::string_view position) {
  Surfaces surfaces = meant_surfaces(ledger, marking, position);
  const Surfaces own = surfaces & natural_surfaces(ledger, marking);
  if (own.any()) surfaces = own;
  return surfaces.count() == 1 ? surfaces : Surfaces();
}

// Where the caption says that the coats lie, if anywhere.
std::string_view position_of(const ChronologyData& data, const Claim& overpaint,
                             const Coats& coats) {
  if (!overpaint.position.empty()) return overpaint.position;
  for (const std::uint32_t i : data.index.around(overpaint)) {
    const Claim& claim = data.input.claims[i];
    const bool is_coat =
        claim.kind == ClaimKind::kMarking && claim.subject == overpaint.subject &&
        (claim.value == coats.lower->marking || claim.value == coats.upper->marking);
    if (is_coat && !claim.position.empty()) return claim.position;
  }
  return {};
}

}  // namespace

void relate_paint(ChronologyData& data) {
  const Ledger& ledger = data.input.ledger;
  std::map<std::uint32_t, Machine> machines;
  for (std::uint32_t i = 0; i < data.input.claims.size(); ++i) {
    const Claim& claim = data.input.claims[i];
    const bool is_told = claim.kind == ClaimKind::kEvent && claim.value == "repaint" &&
                         claim.turned_to.empty() && is_affirmed(claim) && claim.when.known &&
                         !claim.when.widened.empty() && !claim.when.widened.is_all();
    const bool is_marking = claim.kind == ClaimKind::kMarking && claim.known &&
                            claim.readings.size() < 2 && claim.state != MarkingState::kPlanned;
    if (!is_told && !is_marking && claim.kind != ClaimKind::kOverpaint) continue;
    const std::vector<const Airframe*> rows = ledger.machine_of(claim.subject);
    if (rows.empty()) continue;
    if (is_told) {
      data.repaints_told[rows.front()->serial].push_back(&claim);
      continue;
    }
    if (claim.kind == ClaimKind::kOverpaint ? !is_affirmed(claim) || !claim.shown
                                            : !is_of_picture(data.input, claim)) {
      continue;
    }
    const std::uint32_t photograph = photograph_at(data, {claim.manuscript, claim.block});
    if (photograph == kNone) continue;
    Machine& machine = machines[rows.front()->machine];
    machine.serial = rows.front()->serial;
    if (is_marking) {
      if (claim.state == MarkingState::kFormer || claim.state == MarkingState::kRemoved) continue;
      machine.forms[claim.value].push_back(
          {photograph, i, one_surface(ledger, claim.value, claim.position)});
    } else if (const auto coats = coats_of(ledger, claim); coats && coats->upper != coats->lower) {
      machine.coatings.push_back(
          {photograph, i, coats->upper, coats->lower, position_of(data, claim, *coats)});
    }
  }
  for (const auto& [number, machine] : machines) Paint(data, machine).add();
}

}  // namespace tailproof

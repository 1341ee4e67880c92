#include "tailproof/marking_orders.h"

#include <algorithm>
#include <string>
#include <utility>

namespace tailproof {
namespace {

template <typename List, typename Item>
bool contains(const List& list, const Item& item) {
  return std::find(list.begin(), list.end(), item) != list.end();
}

std::string joined(const std::vector<std::string>& words) {
  std::string all;
  for (const std::string& word : words) all += (all.empty() ? "" : ", ") + word;
  return all;
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

struct Repaint {
  bool names_any = false;
  bool names_this = false;
};

// `detail` of a repaint row: "KEY; KEY @ POSITION". Words that are no marking's key name none.
Repaint read_repaint(const Ledger& ledger, std::string_view detail, std::string_view marking,
                     const Surfaces& surfaces) {
  Repaint repaint;
  while (!detail.empty()) {
    const std::size_t end = std::min(detail.find(';'), detail.size());
    const std::string_view item = trimmed(detail.substr(0, end));
    detail.remove_prefix(std::min(end + 1, detail.size()));
    const std::size_t at = item.find('@');
    const std::string_view key = trimmed(item.substr(0, at));
    const std::string_view position =
        at == std::string_view::npos ? std::string_view() : trimmed(item.substr(at + 1));
    if (ledger.marking(key) == nullptr) continue;
    repaint.names_any = true;
    if (key == marking && (surfaces.none() || (surfaces_of(position) & surfaces).any())) {
      repaint.names_this = true;
    }
  }
  return repaint;
}

}  // namespace

Wearer wearer_of(const CheckInput& input, const ClaimIndex& index, const Claim& marking) {
  Wearer wearer;
  const Ledger& ledger = input.ledger;
  wearer.machine = ledger.machine_of(marking.subject);
  if (!wearer.machine.empty()) {
    wearer.serial = marking.subject;
    wearer.history = ledger.history_of(marking.subject);
    wearer.places = places_of(input, marking.subject);
  }
  for (const std::uint32_t i : index.around(marking)) {
    const Claim& claim = index.claim(i);
    if (!is_affirmed(claim) || claim.tense != Tense::kThen) continue;
    const bool is_about_it = claim.subject == marking.subject || claim.subject.empty() ||
                             input.ledger.machine_of(claim.subject).empty();
    if (!is_about_it) continue;
    if (claim.kind == ClaimKind::kPlace && claim.role.empty()) {
      const std::string_view theatre = ledger.theatre_of(claim.value);
      if (!theatre.empty()) wearer.claimed_theatres.push_back(theatre);
    }
    if (claim.kind == ClaimKind::kUnit && claim.subject == marking.subject &&
        (claim.role.empty() || claim.role == "holder" || claim.role == "operator")) {
      wearer.claimed_units.push_back(claim.value);
    }
  }
  return wearer;
}

std::vector<std::string_view> theatres_of(const Ledger& ledger, const Wearer& wearer,
                                          const DaySet& days) {
  std::vector<std::string_view> theatres = theatres_on(ledger, wearer.placements(), days);
  for (const std::string_view theatre : wearer.claimed_theatres) {
    if (!contains(theatres, theatre)) theatres.push_back(theatre);
  }
  if (theatres.empty() && !ledger.settings().theatre.empty()) {
    theatres.push_back(ledger.settings().theatre);
  }
  return theatres;
}

Reach type_reach(const Ledger& ledger, const Order& order, const Wearer& wearer) {
  if (order.types.empty()) return Reach::kInside;
  if (wearer.machine.empty()) return Reach::kUnknown;
  for (const Airframe* airframe : wearer.machine) {
    for (const std::string& type : order.types) {
      if (type == airframe->type || type == airframe->type + " " + airframe->mark) {
        return Reach::kInside;
      }
      const auto keys = ledger.resolve(NameKind::kType, type);
      if (contains(keys, std::string_view(airframe->type))) return Reach::kInside;
    }
  }
  return Reach::kOutside;
}

Reach unit_reach(const Ledger& ledger, const Order& order, const Wearer& wearer,
                 const DaySet& days) {
  if (order.units.empty()) return Reach::kInside;
  bool is_known = false;
  const auto is_reached = [&](std::string_view unit) {
    return std::any_of(order.units.begin(), order.units.end(), [&](const std::string& above) {
      return ledger.is_unit_within(unit, above);
    });
  };
  for (const History* row : wearer.history) {
    if (row->unit.empty() || !row->spell.possible().intersects(days)) continue;
    is_known = true;
    if (is_reached(row->unit)) return Reach::kInside;
  }
  for (const std::string_view unit : wearer.claimed_units) {
    is_known = true;
    if (is_reached(unit)) return Reach::kInside;
  }
  return is_known ? Reach::kOutside : Reach::kUnknown;
}

bool reaches_theatre(const Order& order, std::string_view theatre) {
  return order.theatres.empty() || contains(order.theatres, theatre);
}

const Edtf& effect_of(const Order& order) {
  return order.effective.is_unknown() ? order.issued : order.effective;
}

Surfaces claimed_surfaces(const Ledger& ledger, const Claim& claim,
                          const std::vector<const Order*>& orders) {
  Surfaces introduced;
  for (const Order* order : orders) {
    if (order->action == OrderAction::kIntroduces) introduced |= surfaces_of(order->positions);
  }
  if (!claim.position.empty()) return surfaces_of(claim.position) & introduced;
  const Surfaces usual = surfaces_of(ledger.settings().position) & introduced;
  return usual.any() ? usual : introduced;
}

Surfaces natural_surfaces(const Ledger& ledger, std::string_view marking) {
  Surfaces introduced;
  for (const Order* order : ledger.orders_of(marking)) {
    if (order->action == OrderAction::kIntroduces) introduced |= surfaces_of(order->positions);
  }
  return introduced.any() ? introduced : surfaces_of("");
}

Surfaces meant_surfaces(const Ledger& ledger, std::string_view marking, std::string_view position) {
  if (!position.empty()) return surfaces_of(position);
  const Surfaces natural = natural_surfaces(ledger, marking);
  if (ledger.settings().position.empty()) return natural;
  const Surfaces usual = surfaces_of(ledger.settings().position) & natural;
  return usual.any() ? usual : natural;
}

std::optional<Coats> coats_of(const Ledger& ledger, const Claim& overpaint) {
  constexpr std::string_view kOver = " over ";
  const std::string_view value = overpaint.value;
  for (std::size_t at = value.find(kOver); at != std::string_view::npos;
       at = value.find(kOver, at + 1)) {
    const Coats coats{ledger.marking(value.substr(0, at)),
                      ledger.marking(value.substr(at + kOver.size()))};
    if (coats.upper != nullptr && coats.lower != nullptr) return coats;
  }
  return std::nullopt;
}

Allowed repainted_days(const Ledger& ledger, const Wearer& wearer, std::string_view marking,
                       const Surfaces& surfaces) {
  Allowed allowed;
  for (const History* row : wearer.history) {
    if (row->kind != "repaint") continue;
    const Repaint repaint = read_repaint(ledger, row->detail, marking, surfaces);
    if (repaint.names_any && !repaint.names_this) continue;
    if (row->spell.from.is_unknown()) return Allowed::always();
    allowed = unite(allowed, from_days(row->spell.from, ledger.settings().margins));
  }
  return allowed;
}

Evidence quote_order(const Order& order) {
  const bool introduces = order.action == OrderAction::kIntroduces;
  std::string says = order.order + (introduces ? " introduced " : " withdrew ") + order.marking;
  std::string scope = joined(order.positions);
  for (const auto* list : {&order.theatres, &order.units, &order.types}) {
    if (list->empty()) continue;
    if (!scope.empty()) scope += "; ";
    scope += joined(*list);
  }
  if (!scope.empty()) says += " (" + scope + ")";
  says += " with effect from " + in_words(effect_of(order));
  if (!order.grace.is_none()) says += ", with grace of " + in_words(order.grace);
  return quote(order.row, std::move(says));
}

Evidence quote_sequence(const Sequence& row) {
  std::string says = row.earlier + (row.always ? " always" : " usually") + " before " + row.later;
  std::string scope;
  for (const auto* list : {&row.positions, &row.theatres}) {
    for (const std::string& word : *list) scope += (scope.empty() ? "" : ", ") + word;
  }
  if (!scope.empty()) says += " (" + scope + ")";
  return quote(row.row, std::move(says));
}

}  // namespace tailproof

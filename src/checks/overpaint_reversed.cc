// | situation                                                                  | level   |
// | painted over the form that always followed it, by sequences.csv            | error   |
// | ... that usually followed it, or in a theatre that is not known            | warning |
// | without such a row: introduced before the other, and not once again since  | error   |
// | ... for other units, theatres or types than the other                      | silent  |
// | over a form that a photograph of a later date still shows bare             | error   |
// | a repaint row puts the upper marking on                                    | silent  |
// | markings of two families, or of none                                       | silent  |
// | a code over one that the machine took up when the other was gone, by       | error   |
// |   identities.csv                                                           |         |
#include <algorithm>

#include "chronology/event_records.h"
#include "tailproof/allowed_days.h"
#include "tailproof/chronology.h"
#include "tailproof/marking_orders.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "overpaint-reversed";

struct Reversal {
  Level highest = Level::kError;
  std::vector<Evidence> evidence;
};

// What the caption says of the two coats beside the overpaint itself.
struct Words {
  Surfaces surfaces;       // that may be meant
  bool is_shared = false;  // one of the names may mean another marking as well
  const Claim* lower = nullptr;
  const Claim* upper = nullptr;
};

Words words_around(const CheckInput& input, const ClaimIndex& index, const Claim& overpaint,
                   const Coats& coats) {
  Words words;
  if (!overpaint.position.empty()) words.surfaces = surfaces_of(overpaint.position);
  for (const std::uint32_t i : index.around(overpaint)) {
    const Claim& claim = index.claim(i);
    if (claim.kind != ClaimKind::kMarking || claim.subject != overpaint.subject) continue;
    const bool is_lower = claim.value == coats.lower->marking;
    if (!is_lower && claim.value != coats.upper->marking) continue;
    words.is_shared = words.is_shared || claim.readings.size() > 1;
    const Claim*& named = is_lower ? words.lower : words.upper;
    if (named == nullptr) named = &claim;
    if (overpaint.position.empty() && !claim.position.empty()) {
      words.surfaces |= surfaces_of(claim.position);
    }
  }
  if (words.surfaces.none()) words.surfaces = surfaces_of(input.ledger.settings().position);
  // A panel of the fin lies on the fin, whatever the position of a marking is by default.
  Surfaces ordered;
  for (const Marking* coat : {coats.upper, coats.lower}) {
    for (const Order* order : input.ledger.orders_of(coat->marking))
      ordered |= surfaces_of(order->positions);
  }
  if (overpaint.position.empty() && ordered.any() && (ordered & words.surfaces).none())
    words.surfaces = ordered;
  return words;
}

bool is_row(const Sequence& row, const Marking& earlier, const Marking& later) {
  return row.family == earlier.family && row.earlier == earlier.marking &&
         row.later == later.marking;
}

// By sequences.csv, in every theatre in which the machine may have been.
std::optional<Reversal> by_sequence(const Ledger& ledger, const Coats& coats,
                                    const Surfaces& surfaces,
                                    const std::vector<std::string_view>& theatres) {
  Reversal finding;
  const auto add = [&](const Sequence& row) {
    if (std::none_of(finding.evidence.begin(), finding.evidence.end(), [&](const Evidence& known) {
          return known.line == row.row.line && known.table == row.row.table;
        })) {
      finding.evidence.push_back(quote_sequence(row));
    }
  };
  const auto strongest = [&](std::string_view theatre, bool is_known) -> const Sequence* {
    const Sequence* best = nullptr;
    for (const Sequence& row : ledger.sequences()) {
      if (!is_row(row, *coats.upper, *coats.lower)) continue;
      if ((surfaces_of(row.positions) & surfaces).none()) continue;
      const bool reaches =
          row.theatres.empty() || !is_known ||
          std::find(row.theatres.begin(), row.theatres.end(), theatre) != row.theatres.end();
      if (reaches && (best == nullptr || row.always)) best = &row;
    }
    return best;
  };
  if (theatres.empty()) {
    const Sequence* row = strongest({}, false);
    if (row == nullptr) return std::nullopt;
    if (!row->always || !row->theatres.empty()) finding.highest = Level::kWarning;
    add(*row);
    return finding;
  }
  for (const std::string_view theatre : theatres) {
    const Sequence* row = strongest(theatre, true);
    if (row == nullptr) return std::nullopt;
    if (!row->always) finding.highest = Level::kWarning;
    add(*row);
  }
  return finding;
}

// The order that brought the marking first anywhere, and the last that brought it once more.
struct Introductions {
  const Order* first = nullptr;
  const Order* last = nullptr;
};

Introductions introductions_of(const Ledger& ledger, std::string_view marking) {
  Introductions found;
  for (const Order* order : ledger.orders_of(marking)) {
    if (order->action != OrderAction::kIntroduces) continue;
    if (effect_of(*order).is_unknown() || effect_of(*order).days().empty()) return {};
    const Day day = effect_of(*order).days().first();
    if (found.first == nullptr || day < effect_of(*found.first).days().first()) {
      found.first = order;
    }
    if (found.last == nullptr || day > effect_of(*found.last).days().first()) found.last = order;
  }
  return found;
}

// "The school's yellow band over the northern white one": an order for some alone may reach a
// machine on the day on which it comes to them.
bool is_for_others(const Order& upper, const Order& lower) {
  return (!upper.units.empty() && upper.units != lower.units) ||
         (!upper.theatres.empty() && upper.theatres != lower.theatres) ||
         (!upper.types.empty() && upper.types != lower.types);
}

std::optional<Reversal> by_orders(const Ledger& ledger, const Coats& coats) {
  const Introductions upper = introductions_of(ledger, coats.upper->marking);
  const Introductions lower = introductions_of(ledger, coats.lower->marking);
  if (upper.first == nullptr || lower.first == nullptr) return std::nullopt;
  if (is_for_others(*upper.first, *lower.first)) return std::nullopt;
  const Margins& margins = ledger.settings().margins;
  const Day lower_came = effect_of(*lower.first).widened(margins).first();
  if (effect_of(*upper.first).widened(margins).last() >= lower_came) return std::nullopt;
  // What was ordered once more afterwards may lie on top.
  if (effect_of(*upper.last).days().last() >= lower_came) return std::nullopt;
  return Reversal{Level::kError, {quote_order(*upper.first), quote_order(*lower.first)}};
}

// That there was a repaint is what the caption says already; only one with this marking tells.
bool is_repainted(const Wearer& wearer, const Claim& claim, std::string_view marking) {
  return std::any_of(wearer.history.begin(), wearer.history.end(), [&](const History* row) {
    if (row->kind != "repaint" || !names_marking(row->detail, marking)) return false;
    return row->spell.from.is_unknown() || row->spell.from.days().empty() ||
           row->spell.from.days().first() <= claim.when.widened.last();
  });
}

// Two photographs of one machine: the coat was painted over a form that the later of them still
// shows bare.
void add_clashes(const CheckInput& input, std::vector<Query>& queries) {
  const bool is_any = std::any_of(input.claims.begin(), input.claims.end(), [](const Claim& claim) {
    return claim.kind == ClaimKind::kOverpaint;
  });
  if (!is_any) return;
  const auto times = firm_times(input);
  const Chronology& chronology = times->chronology;
  const auto facts = chronology.facts();
  for (const TimeClash& clash : times->clashes) {
    const Claim* overpaint = nullptr;
    bool has_order = false;
    for (const std::uint32_t id : clash.facts) {
      has_order = has_order || facts[id].basis == Basis::kStatedOrder;
      const Claim* claim = chronology.claim_of(facts[id]);
      const bool is_coat = facts[id].basis == Basis::kCoat && claim->kind == ClaimKind::kOverpaint;
      if (is_coat) overpaint = claim;
    }
    if (overpaint == nullptr || has_order) continue;
    const Claim& at =
        clash.outvoted == kNone ? *overpaint : *chronology.claim_of(facts[clash.outvoted]);
    std::string message =
        overpaint->value + " " + wearer_in_words(input.ledger, overpaint->subject) +
        " cannot have been painted by then: " + chronology.clash_in_words(clash.facts);
    if (clash.outvoted != kNone) {
      message += "; all else agrees without the claim here, which is most likely wrong";
    }
    Query query = query_at(kId, input, at, clash.level, std::move(message));
    if (const std::optional<Coats> coats = coats_of(input.ledger, *overpaint)) {
      for (const Marking* form : {coats->lower, coats->upper}) {
        query.evidence.push_back(
            quote(form->row, form->marking + " is a form of the family " + form->family));
      }
    }
    for (const std::uint32_t id : clash.facts) {
      const Claim* claim = chronology.claim_of(facts[id]);
      for (Evidence& row : chronology.evidence(facts[id], DaySet::all())) {
        query.evidence.push_back(std::move(row));
      }
      if (claim == &at) continue;
      query.related.push_back({claim->span, chronology.in_words_beside(kNone, facts[id])});
      query.claims.push_back(facts[id].claim);
    }
    queries.push_back(std::move(query));
  }
}

// Both codes are the machine's, and the upper one had gone when the lower one came.
std::optional<Query> judge_codes(const CheckInput& input, const Claim& claim) {
  constexpr std::string_view kOver = " over ";
  const std::size_t at = claim.value.find(kOver);
  if (at == std::string::npos || claim.subject.empty()) return std::nullopt;
  const std::string_view upper = std::string_view(claim.value).substr(0, at);
  const std::string_view lower = std::string_view(claim.value).substr(at + kOver.size());
  const Identity* last_of_upper = nullptr;
  const Identity* first_of_lower = nullptr;
  for (const Identity* row : input.ledger.identities_of(claim.subject)) {
    const DaySet days = row->spell.possible();
    if (row->kind != "code" || days.empty()) continue;
    if (is_same_identity(row->identity, upper) &&
        (last_of_upper == nullptr || days.last() > last_of_upper->spell.possible().last()))
      last_of_upper = row;
    if (is_same_identity(row->identity, lower) &&
        (first_of_lower == nullptr || days.first() < first_of_lower->spell.possible().first()))
      first_of_lower = row;
  }
  if (last_of_upper == nullptr || first_of_lower == nullptr) return std::nullopt;
  if (last_of_upper->spell.possible().last() >= first_of_lower->spell.possible().first())
    return std::nullopt;
  Query query =
      query_at(kId, input, claim, tempered(claim, Level::kError),
               last_of_upper->identity + " painted over " + first_of_lower->identity + " on " +
                   claim.subject + " is the wrong way round: " + first_of_lower->identity +
                   " is the later code");
  query.evidence.push_back(quote_identity(*last_of_upper));
  query.evidence.push_back(quote_identity(*first_of_lower));
  query.suggestion = first_of_lower->identity + " over " + last_of_upper->identity;
  return query;
}

}  // namespace

std::vector<Query> check_overpaint_reversed(const CheckInput& input) {
  const Ledger& ledger = input.ledger;
  const bool has_forms = !ledger.sequences().empty() || !ledger.orders().empty();
  const ClaimIndex index(input);
  const auto judge = [&](const Claim& claim) -> std::optional<Query> {
    if (!is_affirmed(claim)) return std::nullopt;
    if (claim.when.known && claim.when.days.empty()) return std::nullopt;
    if (std::optional<Query> query = judge_codes(input, claim)) return query;
    if (!has_forms) return std::nullopt;
    const std::optional<Coats> coats = coats_of(ledger, claim);
    if (!coats || coats->upper == coats->lower) return std::nullopt;
    if (coats->upper->family.empty() || coats->upper->family != coats->lower->family) {
      return std::nullopt;
    }
    const Words words = words_around(input, index, claim, *coats);
    if (words.is_shared) return std::nullopt;
    const Wearer wearer = wearer_of(input, index, claim);
    if (is_repainted(wearer, claim, coats->upper->marking)) return std::nullopt;
    // Another row may have the two the other way round, somewhere else.
    const bool is_in_order =
        std::any_of(ledger.sequences().begin(), ledger.sequences().end(), [&](const Sequence& row) {
          return is_row(row, *coats->lower, *coats->upper) &&
                 (surfaces_of(row.positions) & words.surfaces).any();
        });
    if (is_in_order) return std::nullopt;
    std::optional<Reversal> finding = by_sequence(ledger, *coats, words.surfaces,
                                                  theatres_of(ledger, wearer, claim.when.widened));
    if (!finding) finding = by_orders(ledger, *coats);
    if (!finding) return std::nullopt;
    Query query =
        query_at(kId, input, claim, tempered(claim, finding->highest),
                 coats->upper->marking + " painted over " + coats->lower->marking + " " +
                     wearer_in_words(ledger, claim.subject) +
                     " is the wrong way round: " + coats->lower->marking + " is the later form");
    query.evidence = std::move(finding->evidence);
    if (words.lower != nullptr) {
      query.related.push_back({words.lower->span, "here " + coats->lower->marking});
    }
    for (const Claim* named : {words.upper, words.lower}) {
      if (named == nullptr) continue;
      query.claims.push_back(static_cast<std::uint32_t>(named - input.claims.data()));
    }
    query.suggestion = coats->lower->marking + " over " + coats->upper->marking;
    return query;
  };
  std::vector<Query> queries = judge_claims(input, ClaimKind::kOverpaint, judge);
  if (has_forms) add_clashes(input, queries);
  return queries;
}

}  // namespace tailproof

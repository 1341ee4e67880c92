#include "tailproof/event_dates.h"

#include <algorithm>
#include <string>

#include "tailproof/claim_index.h"
#include "tailproof/placement.h"
#include "tailproof/verdict.h"

namespace tailproof {
namespace {

void add_charge(const Ledger& ledger, const Claim& event, Edtf Airframe::*date,
                std::string_view words, std::vector<EventDate>& dates) {
  for (const Airframe* airframe : ledger.machine_of(event.subject)) {
    const Edtf& own = airframe->*date;
    if (own.is_unknown()) continue;
    std::string says = airframe->serial + " " + std::string(words) + " " + in_words(own);
    dates.push_back({&own, quote(airframe->row, std::move(says))});
  }
}

}  // namespace

std::vector<EventDate> dates_of_event(const Ledger& ledger, const Claim& event) {
  std::vector<EventDate> dates;
  if (event.value == "taken_on_charge") {
    add_charge(ledger, event, &Airframe::taken_on_charge, "taken on charge", dates);
    return dates;
  }
  for (const History* row : ledger.history_of(event.subject)) {
    if (row->kind != event.value || row->spell.from.is_unknown()) continue;
    dates.push_back({&row->spell.from, quote_history(*row)});
  }
  const bool is_end = event.value == "struck_off_charge" || event.value == "lost";
  if (is_end && dates.empty()) {
    add_charge(ledger, event, &Airframe::struck_off_charge, "struck off charge", dates);
  }
  return dates;
}

bool has_own_date(const CheckInput& input, const Claim& event) {
  if (!is_affirmed(event) || event.inherited || event.subject.empty()) return false;
  if (!event.when.known || event.when.inherited || event.when.days.empty()) return false;
  if (event.when.date >= input.claims.size()) return false;
  const Claim& date = input.claims[event.when.date];
  return date.of == "event" && date.event != kNone && is_affirmed(date) && !date.impossible &&
         !date.date.is_unknown();
}

bool is_hedged_anywhere(const CheckInput& input, const Claim& event) {
  const Claim& date = input.claims[event.when.date];
  return event.hedged || event.when.hedged || date.hedged || date.date.is_approximate() ||
         date.date.is_uncertain() || event.when.widened != event.when.days;
}

bool is_hedged_date(const Claim& date) {
  return date.hedged || date.date.is_approximate() || date.date.is_uncertain();
}

const Photograph* row_of_picture(const Ledger& ledger, const ClaimIndex& index,
                                 const Claim& claim) {
  const Photograph* only = nullptr;
  for (const std::uint32_t i : index.around(claim)) {
    const Claim& named = index.claim(i);
    if (named.kind != ClaimKind::kReference || named.role != "photograph") continue;
    if (!is_affirmed(named) || (named.said & kSaidElsewhere) != 0) continue;
    const Photograph* row = ledger.photograph(named.value);
    if (row == nullptr || (only != nullptr && only != row)) return nullptr;
    only = row;
  }
  return only;
}

std::string event_in_words(const Claim& event) {
  std::string words = event.value;
  std::replace(words.begin(), words.end(), '_', ' ');
  if (words == "repaint") return "repainted";
  if (words == "repair") return "repaired";
  if (words == "accident") return "in an accident";
  return words;
}

}  // namespace tailproof

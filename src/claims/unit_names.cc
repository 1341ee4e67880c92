// Which of several units a number means.
#include <algorithm>

#include "claims/assembler.h"
#include "claims/unit_life.h"
#include "grammars/fold.h"

namespace tailproof {

// The days that the block speaks of decide, before any date has its place, which of several units
// of one name is likely meant.
void BlockAssembler::settle_unit_names() {
  for (Mention& mention : mentions_.items) {
    if (mention.kind != MentionKind::kUnit || mention.readings.size() < 2) continue;
    std::vector<std::string> fitting;
    for (const std::string& key : mention.readings) {
      const Unit* unit = ledger_.unit(key);
      const bool fits = unit != nullptr &&
                        std::any_of(dates_.begin(), dates_.end(), [&](const ResolvedDate& date) {
                          const DaySet& days = date.date.days();
                          return !days.empty() && exists_on(*unit, days);
                        });
      if (fits) fitting.push_back(key);
    }
    if (const std::string_view like = named_like_before(mention); !like.empty()) {
      mention.value = finder_.keep(like);
      continue;
    }
    if (fitting.size() == 1) {
      mention.value = finder_.keep(fitting.front());
      continue;
    }
    prefer_kind_named(mention);
  }
}

// "From No. 1 Fighter Squadron when No. 2 was formed": the one of the readings that differs from
// the unit that the sentence has named last by its number only; "" for none.
std::string_view BlockReading::named_like_before(const Mention& mention) const {
  const auto without_number = [](std::string_view name) {
    std::string rest;
    for (const char c : name) {
      if (c < '0' || c > '9') rest += c;
    }
    return rest;
  };
  std::string rest;
  for (const Mention& other : mentions_.items) {
    if (other.first >= mention.first) break;
    if (other.kind == MentionKind::kUnit && other.readings.size() < 2 &&
        clauses_.sentence_of[other.first] == clauses_.sentence_of[mention.first])
      rest = without_number(other.value);
  }
  std::string_view found;
  for (const std::string& key : mention.readings) {
    if (rest.empty() || without_number(key) != rest) continue;
    if (!found.empty()) return {};
    found = key;
  }
  return found;
}

// "Brought 15 Squadron to the field, where the Park had X12 in view": behind a unit of the clause
// of its own, the machines are not those of the unit before.
bool BlockReading::is_of_unit_between(const Mention& unit, std::uint32_t machines) const {
  return any_mention(MentionKind::kUnit, [&](const Mention& other) {
    if (other.first < unit.last || other.last > machines || other.value == unit.value) return false;
    for (std::uint32_t t = unit.last; t < other.first; ++t) {
      if (folded(t) == "where" || folded(t) == "while" || folded(t) == "whereas") return true;
    }
    return false;
  });
}

// "The field workshops were another thing. The 2nd was formed in March": the one reading that ends
// in the noun of which an earlier sentence has several, where no unit is named since; "" for none.
std::string_view BlockReading::of_noun_before(const Mention& mention) const {
  for (std::uint32_t t = mention.first; t-- > 0;) {
    if (mention_over(MentionKind::kUnit, t) != nullptr) return {};
    if (mentions_.tokens[t].kind != TokenKind::kWord ||
        clauses_.sentence_of[t] == clauses_.sentence_of[mention.first])
      continue;
    std::string_view found;
    for (const std::string& key : mention.readings) {
      const std::size_t blank = key.rfind(' ');
      if (blank == std::string::npos) continue;
      const std::string noun = fold(std::string_view(key).substr(blank + 1));
      if (folded(t) != noun + "s" && folded(t) != noun + "es") continue;
      if (!found.empty()) return {};
      found = key;
    }
    if (!found.empty()) return found;
  }
  return {};
}

// "The 1st", of a squadron and a regiment: of the kind that the block has named before; else the
// one that stands below another, since those are what machines are with.
void BlockAssembler::prefer_kind_named(Mention& mention) const {
  if (const std::string_view one = of_noun_before(mention); !one.empty()) {
    mention.value = finder_.keep(one);
    mention.readings.clear();
    return;
  }
  std::string_view kind;
  for (const Mention& other : mentions_.items) {
    if (other.first >= mention.first) break;
    if (other.kind != MentionKind::kUnit || other.readings.size() > 1) continue;
    if (const Unit* unit = ledger_.unit(other.value)) kind = unit->kind;
  }
  const auto is_wanted = [&](const std::string& key) {
    const Unit* unit = ledger_.unit(key);
    return unit != nullptr && (kind.empty() ? !unit->parent.empty() : unit->kind == kind);
  };
  const auto first = std::find_if(mention.readings.begin(), mention.readings.end(), is_wanted);
  if (first == mention.readings.end()) return;
  if (std::find_if(first + 1, mention.readings.end(), is_wanted) != mention.readings.end()) return;
  mention.value = finder_.keep(*first);
}

// A name that several units bore ("the Dippers", before and after a renaming) is the one's that
// existed then, or that had the machine.
void BlockAssembler::settle_units() {
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    Claim& claim = out_[i];
    if (claim.kind != ClaimKind::kUnit || claim.readings.size() < 2) continue;
    const auto history = ledger_.history_of(claim.subject);
    const auto likelihood = [&](const std::string& key) {
      const Unit* unit = ledger_.unit(key);
      if (unit == nullptr) return 0;
      const bool had_it = std::any_of(history.begin(), history.end(),
                                      [&](const History* row) { return row->unit == key; });
      if (!claim.when.known || claim.when.days.empty()) return had_it ? 1 : 0;
      return (exists_on(*unit, claim.when.days) ? 2 : 0) + (had_it ? 1 : 0);
    };
    claim.value = *std::max_element(
        claim.readings.begin(), claim.readings.end(),
        [&](const std::string& a, const std::string& b) { return likelihood(a) < likelihood(b); });
  }
}

}  // namespace tailproof

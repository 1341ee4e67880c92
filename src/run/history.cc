#include "run/history.h"

#include <re2/re2.h>

#include <algorithm>
#include <map>
#include <set>
#include <tuple>
#include <utility>

#include "ledger/text.h"
#include "source/nearest.h"

namespace tailproof {

namespace {

Evidence evidence_of(const RowPlace& row, const std::string& says) {
  return Evidence{std::string(row.table), row.line, std::string(row.source), says};
}

std::string joined(std::string words, std::string_view before, std::string_view more) {
  if (!more.empty()) {
    words += words.empty() ? "" : before;
    words += more;
  }
  return words;
}

/// "1942-10/1943-02" of a spell; one date when both are equal.
std::string spell_text(const Spell& spell) {
  const std::string& from = spell.from.text();
  const std::string& to = spell.to.text();
  if (from == to || to.empty()) {
    return from;
  }
  const bool is_range = from.find('/') != std::string::npos || to.find('/') != std::string::npos;
  return is_range ? from + " to " + to : (from.empty() ? ".." : from) + "/" + to;
}

/// The serial as the ledger's tables write it, by its serial forms; `name` when none fits.
std::string written_as_serial(const Ledger& ledger, std::string_view name) {
  for (const SerialForm& form : ledger.settings().serial_forms) {
    const re2::RE2 pattern("\\A(?:" + form.pattern + ")\\z", re2::RE2::Quiet);
    std::string serial;
    if (!form.tail_only && pattern.ok() &&
        re2::RE2::Extract(re2::StringPiece(name.data(), name.size()), pattern, form.rewrite,
                          &serial)) {
      return serial;
    }
  }
  return std::string(name);
}

/// Calls `visit` with every serial of the ledger, then with every airframe that the texts name.
template <typename Visit>
void for_each_serial(const Run& run, const Visit& visit) {
  for (const Airframe& row : run.ledger.airframes()) {
    visit(std::string_view(row.serial));
  }
  for (const Claim& claim : run.claims) {
    if (claim.kind == ClaimKind::kAirframe) {
      visit(std::string_view(claim.subject.empty() ? claim.value : claim.subject));
    }
  }
}

/// The one serial that differs from `name` in case, blanks and hyphens only; "" when none or
/// several do.
std::string spelt_otherwise(const Run& run, std::string_view name) {
  const std::string wanted = folded_identity(name);
  std::string found;
  bool is_one = true;
  for_each_serial(run, [&](std::string_view serial) {
    if (serial == found || folded_identity(serial) != wanted) return;
    is_one = is_one && found.empty();
    found = serial;
  });
  return is_one ? found : "";
}

class HistoryBuilder {
 public:
  HistoryBuilder(const Run& run, std::string_view name) : run_(run) {
    history_.serial = written_as_serial(run.ledger, name);
    if (run.ledger.serials_of(history_.serial).empty()) {
      const std::vector<const Identity*> bearers = run.ledger.bearers_of(name);
      if (!bearers.empty()) {
        history_.serial = bearers.front()->serial;
      } else if (const std::string serial = spelt_otherwise(run, name); !serial.empty()) {
        history_.serial = serial;
      }
    }
    for (const std::string_view serial : run.ledger.serials_of(history_.serial)) {
      serials_.emplace(serial);
    }
    serials_.insert(history_.serial);
    history_.serials.assign(serials_.begin(), serials_.end());
  }

  std::optional<AirframeHistory> build() {
    add_airframes();
    add_histories();
    add_identities();
    add_photographs();
    add_mentions();
    if (history_.happenings.empty()) {
      return std::nullopt;
    }
    std::stable_sort(history_.happenings.begin(), history_.happenings.end(),
                     [](const Happening& a, const Happening& b) { return order(a) < order(b); });
    return std::move(history_);
  }

 private:
  static std::tuple<bool, Day, Day> order(const Happening& happening) {
    const bool is_dated = !happening.days.empty() && !happening.days.is_all();
    return is_dated ? std::tuple(false, happening.days.first(), happening.days.last())
                    : std::tuple(true, Day{0}, Day{0});
  }

  void add_row(const RowPlace& row, std::string date, DaySet days, const std::string& says) {
    Happening happening;
    happening.date = std::move(date);
    happening.days = std::move(days);
    happening.says = says;
    happening.in_ledger = true;
    happening.row = evidence_of(row, says);
    history_.happenings.push_back(std::move(happening));
  }

  void add_airframes() {
    for (const Airframe* airframe : run_.ledger.machine_of(history_.serial)) {
      const std::string what = joined(airframe->type, " ", airframe->mark);
      std::string taken = joined(airframe->serial + " taken on charge", ": ", what);
      if (!airframe->constructor_number.empty()) {
        taken = joined(taken, ", constructor's number ", airframe->constructor_number);
      }
      add_row(airframe->row, airframe->taken_on_charge.text(), airframe->taken_on_charge.days(),
              taken);
      if (!airframe->struck_off_charge.is_unknown() || !airframe->fate.empty()) {
        add_row(airframe->row, airframe->struck_off_charge.text(),
                airframe->struck_off_charge.days(),
                joined(airframe->serial + " struck off charge", ": ", airframe->fate));
      }
    }
  }

  void add_histories() {
    for (const History* row : run_.ledger.history_of(history_.serial)) {
      const bool is_move =
          row->kind == "allotted" || row->kind == "loaned" || row->kind == "ferried";
      std::string says = joined(row->kind, is_move ? " to " : ", ", row->unit);
      if (!row->role.empty()) {
        says += " (" + row->role + ")";
      }
      says = joined(joined(says, " at ", row->place), ": ", row->detail);
      add_row(row->row, spell_text(row->spell), row->spell.possible(), says);
    }
  }

  void add_identities() {
    for (const Identity* row : run_.ledger.identities_of(history_.serial)) {
      std::string kind = row->kind;
      std::replace(kind.begin(), kind.end(), '_', ' ');
      add_row(row->row, spell_text(row->spell), row->spell.possible(),
              joined(kind + " " + row->identity, ", ", row->operator_unit));
    }
  }

  void add_photographs() {
    for (const Photograph& row : run_.ledger.photographs()) {
      const bool depicts =
          std::any_of(row.depicts.begin(), row.depicts.end(),
                      [&](const std::string& serial) { return serials_.contains(serial); });
      if (depicts) {
        add_row(row.row, row.taken.text(), row.taken.days(),
                joined("photograph " + row.photograph, " at ", row.place));
      }
    }
  }

  [[nodiscard]] bool concerns(const Claim& claim) const {
    return serials_.contains(claim.subject) ||
           (claim.kind == ClaimKind::kAirframe && serials_.contains(claim.value));
  }

  [[nodiscard]] std::string date_text(const When& when) const {
    if (!when.known) {
      return "";
    }
    return when.date < run_.claims.size() ? run_.claims[when.date].value
                                          : Edtf::of_days(when.days).text();
  }

  static std::string words_of(const Claim& claim) {
    std::string words = claim.negated ? "not " : "";
    words += claim.hedged ? "perhaps " : "";
    words += std::string(to_word(claim.kind)) + " " + claim.value;
    if (!claim.role.empty()) {
      words += " (" + claim.role + ")";
    }
    words = joined(words, " on ", claim.position);
    return claim.attributed ? words + ", as others have it" : words;
  }

  /// One entry for what a block says of the airframe at one time.
  void add_mentions() {
    std::map<std::tuple<std::uint32_t, std::uint32_t, std::string>, std::size_t> entries;
    for (const Claim& claim : run_.claims) {
      if (!concerns(claim)) {
        continue;
      }
      const std::string date = date_text(claim.when);
      const auto [found, is_new] = entries.try_emplace(
          std::tuple(claim.manuscript, claim.block, date), history_.happenings.size());
      if (is_new) {
        const Block& block = run_.manuscripts[claim.manuscript].blocks[claim.block];
        Happening happening;
        happening.date = date;
        happening.days = claim.when.known ? claim.when.days : DaySet::all();
        happening.span = claim.span;
        happening.figure = block.figure;
        happening.text = block.text;
        history_.happenings.push_back(std::move(happening));
      }
      Happening& happening = history_.happenings[found->second];
      if (claim.kind == ClaimKind::kAirframe && claim.value == history_.serial && !claim.negated) {
        continue;  // that it is named is what makes this an entry
      }
      const std::string words = words_of(claim);
      if (happening.says.find(words) == std::string::npos) {
        happening.says = joined(happening.says, "; ", words);
      }
    }
  }

  const Run& run_;
  AirframeHistory history_;
  std::set<std::string, std::less<>> serials_;
};

}  // namespace

std::optional<AirframeHistory> history_of_airframe(const Run& run, std::string_view name) {
  return HistoryBuilder(run, name).build();
}

std::string nearest_airframe(const Run& run, std::string_view name) {
  std::vector<std::string> serials;
  for_each_serial(run, [&](std::string_view serial) { serials.emplace_back(serial); });
  return nearest(name, serials);
}

}  // namespace tailproof

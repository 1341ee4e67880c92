// | situation                                                                   | level  |
// | type is not that of the serial                                              | error  |
// | type agrees, mark given and not that of the serial at the date              | error  |
// | mark of an earlier state, before the machine was modified or renumbered     | silent |
// | a higher mark than the ledger's, on a day before it was modified            | error  |
// | undated: mark or type of any row of the machine                             | silent |
// | a mark less exact than the ledger's by more than a letter, and another's    | warning |
// | nickname or alias alone, a mark less exact or more exact than the ledger's  | silent |
// | a type that the ledger does not know, unless the table of types is closed   | silent |
#include <algorithm>
#include <cctype>
#include <string>
#include <vector>

#include "tailproof/claim_index.h"
#include "tailproof/verdict.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "type-disagrees";

// Value of a Roman number up to 39; 0 when it is none.
int roman(std::string_view text) {
  int value = 0;
  int before = 0;
  for (const char c : text) {
    const int digit = c == 'I' ? 1 : c == 'V' ? 5 : c == 'X' ? 10 : 0;
    if (digit == 0) return 0;
    value += digit;
    if (before > 0 && before < digit) value -= 2 * before;
    before = digit;
  }
  return value;
}

void add_piece(std::vector<std::string>& pieces, const std::string& word) {
  if (word.empty() || word == "MK" || word == "MARK" || word == "M") return;
  std::size_t length = 0;
  while (length < word.size() && roman(word.substr(length, 1)) != 0) ++length;
  // "IIA", "Vb": a Roman number and a sub-type, but "VIP" is no number.
  if (length > 0 && word.size() - length <= 1) {
    pieces.push_back(std::to_string(roman(word.substr(0, length))));
    if (length < word.size()) pieces.push_back(word.substr(length));
    return;
  }
  pieces.push_back(word);
}

// "Mk IIA", "Mark 2a" and "II A" are {2, A}; "F.1" is {F, 1}.
std::vector<std::string> pieces_of(std::string_view mark) {
  std::vector<std::string> pieces;
  std::string word;
  bool in_digits = false;
  for (const char c : mark) {
    const auto byte = static_cast<unsigned char>(c);
    const bool is_digit = std::isdigit(byte) != 0;
    const bool is_word = std::isalnum(byte) != 0 || byte >= 0x80U;
    if (!is_word || (is_digit != in_digits && !word.empty())) {
      add_piece(pieces, word);
      word.clear();
    }
    if (!is_word) continue;
    in_digits = is_digit;
    word += static_cast<char>(std::toupper(byte));
  }
  add_piece(pieces, word);
  return pieces;
}

bool includes(const std::vector<std::string>& all, const std::vector<std::string>& some) {
  return std::all_of(some.begin(), some.end(), [&](const std::string& piece) {
    return std::find(all.begin(), all.end(), piece) != all.end();
  });
}

// Either may be less exact than the other.
bool marks_agree(std::string_view one, std::string_view other) {
  const auto a = pieces_of(one);
  const auto b = pieces_of(other);
  return includes(a, b) || includes(b, a);
}

struct StatedType {
  std::vector<std::string> types;  // keys that the words may mean; empty: a mark alone
  std::string mark;
  bool is_known = true;
};

std::string_view without_blanks(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

// The longest beginning that names a type; what follows it is the mark.
StatedType read(const Ledger& ledger, std::string_view value) {
  for (std::size_t end = value.size(); end != std::string_view::npos && end > 0;
       end = value.rfind(' ', end - 1)) {
    const auto keys = ledger.resolve(NameKind::kType, value.substr(0, end));
    if (keys.empty()) continue;
    return {{keys.begin(), keys.end()}, std::string(without_blanks(value.substr(end))), true};
  }
  const std::string first(value.substr(0, value.find(' ')));
  const auto pieces = pieces_of(first);
  const bool is_mark =
      pieces.empty() || std::any_of(pieces.begin(), pieces.end(), [](const std::string& piece) {
        return std::isdigit(static_cast<unsigned char>(piece.front())) != 0;
      });
  if (is_mark) return {{}, std::string(value), true};
  return {{std::string(value)}, "", false};
}

bool type_agrees(const StatedType& stated, const Airframe& airframe) {
  if (stated.types.empty()) return true;
  return std::any_of(stated.types.begin(), stated.types.end(),
                     [&](const std::string& type) { return bare(type) == bare(airframe.type); });
}

bool mark_agrees(const StatedType& stated, const Airframe& airframe) {
  return stated.mark.empty() || airframe.mark.empty() || marks_agree(stated.mark, airframe.mark);
}

// "A Lanner Mk 3", of a Mk 3bis, where the ledger has a Mk 3 as well. One letter more ("Mk IA") is
// often left out.
bool tells_apart(const Ledger& ledger, const StatedType& stated, const Airframe& airframe) {
  if (stated.mark.empty() || airframe.mark.empty()) return false;
  const auto said = pieces_of(stated.mark), own = pieces_of(airframe.mark);
  const bool is_other = std::any_of(own.begin(), own.end(), [&](const std::string& piece) {
    return piece.size() > 1 && std::find(said.begin(), said.end(), piece) == said.end();
  });
  if (!is_other) return false;
  const auto kin = ledger.airframes_of_type(airframe.type);
  return std::any_of(kin.begin(), kin.end(),
                     [&](const Airframe* other) { return pieces_of(other->mark) == said; });
}

// Days of one row of the machine: a row's own life, the first and last stretched, since dates
// outside the machine's life are another check's business.
Allowed days_of_row(const std::vector<const Airframe*>& machine, std::size_t at,
                    const Margins& margins) {
  Allowed days = Allowed::always();
  if (at > 0) days = intersect(days, from_days(machine[at]->taken_on_charge, margins));
  if (at + 1 < machine.size()) {
    // A row that ends by renumbering counts until the next one begins.
    const Edtf& next = machine[at + 1]->taken_on_charge;
    days = intersect(
        days, until_days(next.is_unknown() ? machine[at]->struck_off_charge : next, margins));
  }
  return days;
}

// Whether the words name the mark, whole: "cowling of the C.2 tried".
bool names_mark(std::string_view words, std::string_view mark) {
  const auto is_part = [&](std::size_t at) {
    return at < words.size() && (std::isalnum(static_cast<unsigned char>(words[at])) != 0);
  };
  if (mark.empty()) return false;
  for (std::size_t at = words.find(mark); at != std::string_view::npos;
       at = words.find(mark, at + 1)) {
    if (!is_part(at + mark.size()) && (at == 0 || !is_part(at - 1))) return true;
  }
  return false;
}

// "A Lanner Mk III", of a Mk I: marks count upwards, so that no earlier state has a higher one.
bool is_higher(std::string_view mark, std::string_view own) {
  const auto said = pieces_of(mark), pieces = pieces_of(own);
  if (said.size() != pieces.size()) return false;
  const auto differ = std::mismatch(said.begin(), said.end(), pieces.begin());
  const auto number = [](const std::string& piece) {
    const bool is_number = std::all_of(piece.begin(), piece.end(), [](char c) {
      return std::isdigit(static_cast<unsigned char>(c)) != 0;
    });
    constexpr std::size_t kMostFigures = 2;  // more are no count of marks
    return is_number && piece.size() <= kMostFigures ? std::stoi(piece) : 0;
  };
  if (differ.first == said.end() || number(*differ.second) == 0 ||
      number(*differ.first) <= number(*differ.second))
    return false;
  return std::equal(differ.first + 1, said.end(), differ.second + 1);
}

// A later modification accounts for a mark that the machine no longer has, and one that names the
// mark for having it since.
Allowed around_modification(const Ledger& ledger, std::string_view serial, std::string_view mark) {
  Allowed days;
  const Margins& margins = ledger.settings().margins;
  for (const History* row : ledger.history_of(serial)) {
    if (row->kind != "modified") continue;
    days = unite(days, names_mark(row->detail, mark) ? from_days(row->spell.from, margins)
                                                     : until_days(row->spell.from, margins));
  }
  return days;
}

std::string called(const Airframe& airframe) {
  return airframe.mark.empty() ? airframe.type : airframe.type + " " + airframe.mark;
}

}  // namespace

std::vector<Query> check_type_disagrees(const CheckInput& input) {
  const Ledger& ledger = input.ledger;
  return judge_claims(input, ClaimKind::kType, [&](const Claim& claim) -> std::optional<Query> {
    if (!is_affirmed(claim) || claim.tense == Tense::kLater || claim.role == "later") {
      return std::nullopt;
    }
    const std::vector<const Airframe*> machine = ledger.machine_of(claim.subject);
    if (machine.empty()) return std::nullopt;
    // What a machine was before is checked against all of its rows, whatever the date.
    const bool any_row = !claim.when.known || claim.tense == Tense::kFormer ||
                         claim.role == "former" || !holds_at_its_date(input, claim);
    When when = claim.when;
    if (any_row) when = When{};
    Allowed allowed;
    bool agrees_in_type = false, is_coarse = false, is_above = false;
    for (const std::string& reading : readings_of(claim)) {
      const StatedType stated = read(ledger, reading);
      if (!stated.is_known && !ledger.is_closed_table("types")) return std::nullopt;
      for (std::size_t i = 0; i < machine.size(); ++i) {
        if (machine[i]->type.empty()) return std::nullopt;
        if (!type_agrees(stated, *machine[i])) continue;
        agrees_in_type = true;
        is_above = !any_row && machine.size() == 1 && is_higher(stated.mark, machine[i]->mark);
        if (!mark_agrees(stated, *machine[i])) continue;
        if (tells_apart(ledger, stated, *machine[i])) {
          is_coarse = true;
          continue;
        }
        allowed = unite(allowed, days_of_row(machine, i, ledger.settings().margins));
      }
      if (agrees_in_type && !is_above)
        allowed = unite(allowed, around_modification(ledger, claim.subject, stated.mark));
    }
    const std::optional<Level> level =
        level_of(claim, fit(when, allowed), is_coarse ? Level::kWarning : Level::kError);
    if (!level) return std::nullopt;
    // The row of that date stands for the machine in the message.
    const Airframe* current = machine.back();
    for (std::size_t i = 0; i < machine.size(); ++i) {
      const Allowed days = days_of_row(machine, i, ledger.settings().margins);
      if (fit(when, days) == Fit::kPossible) current = machine[i];
    }
    if (any_row && ledger.airframe(claim.subject) != nullptr) {
      current = ledger.airframe(claim.subject);
    }
    std::string message = claim.subject + " is called " + with_article(claim.value) + ", but was " +
                          with_article(called(*current));
    if (machine.size() > 1 && when.known) message += " " + when_in_words(when);
    Query query = query_at(kId, input, claim, *level, std::move(message));
    for (const Airframe* airframe : machine) {
      std::string says = airframe->serial + " is " + with_article(called(*airframe));
      if (!airframe->taken_on_charge.is_unknown()) {
        says += ", taken on charge " + in_words(airframe->taken_on_charge);
      }
      query.evidence.push_back(quote(airframe->row, std::move(says)));
    }
    query.suggestion = called(*current);
    return query;
  });
}

}  // namespace tailproof

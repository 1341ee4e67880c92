// Names of units beside those that units.csv gives: "an Otter", "Five Picket", and the number and
// kind by which patterns find them.
#include <algorithm>
#include <charconv>

#include "grammars/fold.h"
#include "mentions/lexicon.h"
#include "source/ascii.h"

namespace tailproof {

// "The Third" is a unit, "Third" alone counts something.
bool Lexicon::is_ordinal(std::string_view text) const {
  const WordList* ordinals = grammars_.list("ordinal");
  const std::string folded = fold(text);
  return ordinals != nullptr && !ordinals->value_of(folded).empty();
}

// "The Flight" of the Torpedo Flight may be any other flight of the ledger, whichever was then.
void Lexicon::add_unit_noun(const LexiconEntry& unit, std::string_view noun) {
  const std::string ending = " " + fold(noun);
  const auto ends = [&](std::string_view name) { return fold(name).ends_with(ending); };
  if (!ends(unit.key)) return;
  for (const Unit& other : ledger_.units()) {
    if (other.unit == unit.key || !ends(other.unit)) continue;
    LexiconEntry entry = unit;
    entry.key = Spelling(other.unit);
    add(entry, noun);
  }
}

// "An Otter" is one of the Otters.
void Lexicon::add_unit_nickname(const LexiconEntry& unit, std::string_view name) {
  const bool plural = name.size() > 4 && name.ends_with("s") && !name.ends_with("ss") &&
                      std::none_of(name.begin(), name.end(), is_digit);
  if (!plural || !is_upper(name.front())) return;
  LexiconEntry entry = unit;
  entry.role = "one of";
  add(entry, name.substr(0, name.size() - 1));
}

// "Five Picket" for 5 Picket: a number with a capital before a noun that is no plural.
void Lexicon::add_unit_in_words(const LexiconEntry& unit, std::string_view name) {
  const WordList* numbers = grammars_.list("number");
  const std::size_t blank = name.find(' ');
  if (numbers == nullptr || blank == std::string_view::npos || blank > 2 ||
      !std::all_of(name.begin(), name.begin() + static_cast<std::ptrdiff_t>(blank), is_digit) ||
      blank + 1 >= name.size() || !is_upper(name[blank + 1]) || name.ends_with("s"))
    return;
  for (const auto& [word, value] : numbers->values) {
    if (value != name.substr(0, blank) || word.empty() || word[0] < 'a' || word[0] > 'z') continue;
    LexiconEntry entry = unit;
    entry.casing = Casing::kExact;
    std::string spelled = word;
    spelled[0] = static_cast<char>(spelled[0] - 'a' + 'A');
    add(entry, spelled.append(name.substr(blank)));
  }
}

void Lexicon::add_unit_numbers() {
  const WordList* ordinals = grammars_.list("ordinal");
  const WordList* numbers = grammars_.list("number");
  const WordList* kinds = grammars_.list("unit_word");
  const auto number_of = [&](const std::string& word) {
    int value = 0;
    const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), value);
    if (error == std::errc{} && (end == word.data() + word.size() || !is_digit(*end))) return value;
    for (const WordList* list : {ordinals, numbers}) {
      if (list == nullptr) continue;
      const auto found = list->value_of(word);
      if (!found.empty()) return std::atoi(std::string(found).c_str());
    }
    return 0;
  };
  static const Grammars kNoGrammars;
  for (const Unit& unit : ledger_.units()) {
    std::vector<std::string> names = unit.aliases;
    names.push_back(unit.unit);
    for (const std::string& name : names) {
      int number = 0;
      std::string kind;
      bool is_joined = false;  // "thirty-second" is 32, and not 30
      for (const Token& token : tokenize(name, kNoGrammars)) {
        if (token.kind == TokenKind::kMark) {
          is_joined = number != 0 && kind.empty() && name[token.begin] == '-';
          continue;
        }
        const std::string word = folded_word(name, token);
        const int ones = is_joined && number % 10 == 0 ? number_of(word) : 0;
        is_joined = false;
        if (number == 0) {
          number = number_of(word);
        } else if (number >= 20 && ones > 0 && ones < 10) {
          number += ones;
        } else {
          const auto full = kinds == nullptr ? std::string_view{} : kinds->value_of(word);
          kind += (kind.empty() ? "" : " ") + (full.empty() ? word : std::string(full));
        }
      }
      if (number == 0) continue;
      auto& list = numbered_[number];
      const bool held = std::any_of(list.begin(), list.end(), [&](const NumberedUnit& other) {
        return other.key == unit.unit && other.kind == kind;
      });
      if (!held) list.push_back({kind, unit.unit});
    }
  }
}

std::vector<std::string> Lexicon::units_numbered(int number, std::string_view kind) const {
  std::vector<std::string> keys;
  const auto found = numbered_.find(number);
  if (found == numbered_.end()) return keys;
  for (const NumberedUnit& unit : found->second) {
    const bool fits = kind.empty() || unit.kind == kind;
    if (fits && std::find(keys.begin(), keys.end(), unit.key) == keys.end()) {
      keys.push_back(unit.key);
    }
  }
  return keys;
}

}  // namespace tailproof

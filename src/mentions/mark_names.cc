// The marks of types, by whatever numerals and words a text has them: "Mk II", "Mark Two", "an
// F.2".
#include <algorithm>

#include "grammars/fold.h"
#include "mentions/lexicon.h"
#include "source/ascii.h"

namespace tailproof {
namespace {

std::string in_roman(int number) {
  constexpr std::pair<int, std::string_view> kParts[] = {
      {50, "L"}, {40, "XL"}, {10, "X"}, {9, "IX"}, {5, "V"}, {4, "IV"}, {1, "I"}};
  std::string roman;
  for (const auto& [value, letters] : kParts) {
    for (; number >= value && roman.size() < 12; number -= value) roman += letters;
  }
  return roman;
}

}  // namespace

int roman_value(std::string_view text) {
  if (text.empty() || text.size() > 6) return 0;
  int total = 0;
  int last = 99;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const int value = text[i] == 'I' ? 1 : text[i] == 'V' ? 5 : text[i] == 'X' ? 10 : 0;
    if (value == 0 || value > last * 10) return 0;
    const bool before_larger =
        i + 1 < text.size() && ((value == 1 && (text[i + 1] == 'V' || text[i + 1] == 'X')));
    total += before_larger ? -value : value;
    last = value;
  }
  return total > 0 ? total : 0;
}

std::vector<std::string> mark_words(std::string_view mark, const Grammars& grammars) {
  static const Grammars kNoGrammars;
  std::vector<std::string> words;
  const WordList* skipped = grammars.list("mark_word");
  const WordList* numbers = grammars.list("number");
  for (const Token& token : tokenize(mark, kNoGrammars)) {
    if (token.kind == TokenKind::kMark) continue;
    const std::string_view word = mark.substr(token.begin, token.end - token.begin);
    const std::string folded = fold(word);
    if (skipped != nullptr && skipped->values.count(folded) != 0) continue;
    if (const int roman = roman_value(word); roman > 0) {
      words.push_back(std::to_string(roman));
      continue;
    }
    const auto number = numbers == nullptr ? std::string_view{} : numbers->value_of(folded);
    words.push_back(number.empty() ? folded : std::string(number));
  }
  return words;
}

void Lexicon::add_mark_alone(const std::string& type, const std::string& mark,
                             std::string_view phrase) {
  LexiconEntry entry;
  entry.kind = MentionKind::kType;
  entry.key = std::string_view(type);
  entry.detail = std::string_view(mark);
  entry.role = "mark alone";
  entry.casing = Casing::kExact;
  // "The Mk Is", "Mk 2s": one letter or a figure and "s" is no word that the index would take for
  // a plural.
  const bool is_short =
      phrase.size() > 1 &&
      ((phrase[phrase.size() - 2] == ' ' && is_upper(phrase.back())) || is_digit(phrase.back()));
  if (is_short) add(entry, std::string(phrase) + "s");
  add(entry, phrase);
}

// "A Mark I", "the Mk I": a mark that is a number, with each word for it, however the ledger has
// it.
void Lexicon::add_spelt_marks(const std::string& type, const MarkForm& form) {
  const WordList* mark_word = grammars_.list("mark_word");
  if (mark_word == nullptr || form.words.size() != 1) return;
  const std::string& number = form.words.front();
  constexpr std::size_t kDigits = 2;
  if (number.size() > kDigits || !std::all_of(number.begin(), number.end(), is_digit)) return;
  const std::string roman = in_roman(std::stoi(number));
  // "One of the second mark".
  const WordList* ordinals = grammars_.list("ordinal");
  if (ordinals != nullptr) {
    for (const auto& [ordinal, value] : ordinals->words) {
      if (std::string_view(value) == number)
        add_mark_alone(type, form.mark, "of the " + std::string(ordinal) + " mark");
    }
  }
  for (const auto& [phrase, value] : mark_word->words) {
    std::string word = phrase;
    word.front() = word.front() >= 'a' ? static_cast<char>(word.front() - 'a' + 'A') : word.front();
    for (const std::string& written : {roman, number}) {
      const std::string spelt = word + " " + written;
      if (spelt == form.mark) continue;  // stands alone already
      add_mark_alone(type, form.mark, spelt);
    }
  }
}

void Lexicon::add_marks() {
  const auto add_mark = [&](std::string_view type, const std::string& mark) {
    auto& list = marks_[std::string(type)];
    for (const MarkForm& held : list) {
      if (held.mark == mark) return;
    }
    list.push_back({mark, mark_words(mark, grammars_)});
  };
  for (const Airframe& row : ledger_.airframes_at_hand()) {
    std::size_t letters = 0;
    while (letters < row.serial.size() && is_upper(row.serial[letters])) ++letters;
    if (letters > 0) serial_prefixes_.insert(row.serial.substr(0, letters));
    if (!row.mark.empty()) add_mark(row.type, row.mark);
  }
  for (auto& [type, list] : marks_) {
    std::stable_sort(list.begin(), list.end(), [](const MarkForm& a, const MarkForm& b) {
      return a.words.size() > b.words.size();
    });
    for (const MarkForm& form : list) add_spelt_marks(type, form);
    // A mark of two words or with a digit and a letter can stand alone: "an F.2", "the Mk I".
    for (const MarkForm& form : list) {
      const bool digit = std::any_of(form.mark.begin(), form.mark.end(), is_digit);
      const bool upper = std::any_of(form.mark.begin(), form.mark.end(), is_upper);
      if (!upper || (form.mark.find(' ') == std::string::npos && !digit)) continue;
      add_mark_alone(type, form.mark, form.mark);
    }
  }
}

const std::vector<MarkForm>& Lexicon::marks_of(std::string_view type) const {
  static const std::vector<MarkForm> kNoMarks;
  const auto found = marks_.find(type);
  return found == marks_.end() ? kNoMarks : found->second;
}

}  // namespace tailproof

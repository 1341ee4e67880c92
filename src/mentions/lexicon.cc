#include "mentions/lexicon.h"

#include <algorithm>
#include <charconv>
#include <map>

#include "grammars/fold.h"
#include "tailproof/claim.h"

namespace tailproof {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_upper(char c) { return c >= 'A' && c <= 'Z'; }
bool is_lower(char c) { return c >= 'a' && c <= 'z'; }

// A short form counts only as printed: "LA" is a rank, "la" is not; longer names need their
// capital.
Casing casing_of(std::string_view name, MentionKind kind) {
  if (kind == MentionKind::kMarking) return Casing::kAny;
  const auto letters =
      std::count_if(name.begin(), name.end(), [](char c) { return is_upper(c) || is_lower(c); });
  if (letters == 0) return Casing::kExact;
  if (letters <= 4) return Casing::kExact;
  const bool capital = std::any_of(name.begin(), name.end(), is_upper);
  return capital ? Casing::kCapital : Casing::kAny;
}

std::string_view without_article(std::string_view name, const WordList* articles) {
  const std::size_t blank = name.find(' ');
  if (articles == nullptr || blank == std::string_view::npos) return name;
  return articles->value_of(name.substr(0, blank)).empty() ? name : name.substr(blank + 1);
}

MentionKind mention_kind(NameKind kind) {
  switch (kind) {
    case NameKind::kAirframe:
    case NameKind::kIdentity:
      return MentionKind::kAirframe;
    case NameKind::kUnit:
      return MentionKind::kUnit;
    case NameKind::kPlace:
      return MentionKind::kPlace;
    case NameKind::kPerson:
      return MentionKind::kPerson;
    case NameKind::kRank:
      return MentionKind::kRank;
    case NameKind::kAward:
      return MentionKind::kAward;
    case NameKind::kType:
      return MentionKind::kType;
    case NameKind::kMarking:
      return MentionKind::kMarking;
    case NameKind::kOrder:
      return MentionKind::kOrder;
    case NameKind::kPhotograph:
      return MentionKind::kPhotograph;
  }
  return MentionKind::kCue;
}

}  // namespace

std::string letters_of(std::string_view text) {
  std::string letters;
  for (const char c : text) {
    if (c != '.' && c != ' ' && c != '-' && c != ':') letters += c;
  }
  return letters;
}

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

std::string code_shape(std::string_view code) {
  std::string shape;
  for (const char c : code) {
    if (is_upper(c) || is_lower(c)) {
      shape += is_lower(c) ? 'a' : 'A';
    } else if (is_digit(c)) {
      shape += '9';
    } else if (c == ' ' || c == '-' || c == ':' || c == '+' || c == '/' || c == '.') {
      if (!shape.empty() && shape.back() != '-') shape += '-';
    }
  }
  return shape;
}

std::string normal_code(std::string_view code) {
  std::string out;
  for (std::size_t i = 0; i < code.size(); ++i) {
    const char c = code[i];
    if (is_upper(c) || is_lower(c) || is_digit(c)) {
      out += c;
    } else if (!out.empty() && out.back() != '-') {
      out += '-';
    }
  }
  while (!out.empty() && out.back() == '-') out.pop_back();
  return out;
}

Lexicon::Lexicon(const Ledger& ledger, const Grammars& grammars)
    : ledger_(ledger), grammars_(grammars), marking_words_(ledger, grammars) {
  add_cues();
  add_tellings();
  add_marks();
  add_names();
  add_unit_numbers();
  find_years();
}

Lexicon::~Lexicon() = default;

void Lexicon::add(LexiconEntry entry, std::string_view phrase) {
  entry.phrase = phrase;
  entry.letters = letters_of(phrase);
  entry.why = entry.kind == MentionKind::kCue ? "word list " + entry.role
                                              : "the ledger's name \"" + entry.phrase + "\"";
  phrases_.add(phrase, static_cast<std::uint32_t>(entries_.size()));
  entries_.push_back(std::move(entry));
}

namespace {

struct Telling {
  ListName list;
  Said bit;
};
constexpr Telling kTellingLists[] = {
    {"tells_remains", kSaidRemains},
    {"tells_makers", kSaidMakers},
    {"tells_other_time", kSaidOtherTime},
    {"tells_death", kSaidDeath},
    {"tells_birth", kSaidBirth},
    {"tells_rank_change", kSaidRankChange},
    {"tells_forming", kSaidForming},
    {"tells_elsewhere", kSaidElsewhere},
    {"tells_other_machine", kSaidOtherMachine},
    {"tells_one_of_several", kSaidOneOfSeveral},
    {"tells_on_the_way", kSaidOnTheWay},
    {"tells_visiting", kSaidVisiting},
    {"tells_against_order", kSaidAfterOrder},
};

}  // namespace

void Lexicon::add_tellings() {
  for (const auto& [name, bit] : kTellingLists) {
    const WordList* list = grammars_.list(name);
    if (list == nullptr) continue;
    for (const auto& [phrase, value] : list->words) {
      LexiconEntry entry;
      entry.tells = bit;
      add(std::move(entry), phrase);
    }
  }
}

void Lexicon::add_cues() {
  std::size_t count = 0;
  for (const auto& list : grammars_.lists()) count += list->words.size();
  entries_.reserve(count);
  for (const auto& list : grammars_.lists()) {
    if (!list->name.starts_with("cue_")) continue;
    for (const auto& [phrase, value] : list->words) {
      LexiconEntry entry;
      entry.key = value;
      entry.role = list->name;
      entry.cue = ListName::number_of(list->name);
      entry.casing = list->cased ? Casing::kExact : Casing::kAny;
      add(std::move(entry), phrase);
    }
  }
}

// "Instruction 21/43" for what the ledger has as "ASI 21/43", where no other order has the number.
void Lexicon::add_order_numbers() {
  const WordList* nouns = grammars_.list("order_noun");
  if (nouns == nullptr) return;
  std::map<std::string_view, std::string_view> keys;  // by number; none where two share it
  for (const Order& row : ledger_.orders()) {
    const std::string_view key = row.order;
    const std::size_t space = key.rfind(' ');
    if (space == std::string_view::npos || space < 2) continue;
    const std::string_view number = key.substr(space + 1);
    const bool is_abbreviated =
        std::all_of(key.begin(), key.begin() + static_cast<std::ptrdiff_t>(space), is_upper);
    if (!is_abbreviated || number.find('/') == std::string_view::npos || !is_digit(number[0]))
      continue;
    const auto [it, is_new] = keys.try_emplace(number, key);
    if (!is_new && it->second != key) it->second = {};
  }
  for (const auto& [number, key] : keys) {
    if (key.empty()) continue;
    for (const auto& [noun, value] : nouns->words) {
      LexiconEntry entry;
      entry.kind = MentionKind::kOrder;
      entry.key = key;
      entry.casing = Casing::kAny;
      add(std::move(entry), noun + " " + std::string(number));
    }
  }
}

void Lexicon::add_names() {
  const WordList* articles = grammars_.list("name_article");
  for (const Name& name : ledger_.names()) {
    if (name.text.empty()) continue;
    LexiconEntry entry;
    entry.kind = mention_kind(name.kind);
    entry.key = name.key;
    if (name.kind == NameKind::kAirframe) {
      // Of a ledger without forms of serials: as the ledger spells them, and without the blank. A
      // bare number says too little.
      if (std::all_of(name.text.begin(), name.text.end(), is_digit)) continue;
      entry.casing = Casing::kExact;
      std::string closed(name.text);
      std::erase(closed, ' ');
      if (closed != name.text) add(entry, closed);
      add(std::move(entry), name.text);
      continue;
    }
    const std::string_view text = without_article(name.text, articles);
    entry.casing = casing_of(text, entry.kind);
    if (name.kind == NameKind::kIdentity) continue;  // below, with their kinds
    if (name.kind == NameKind::kUnit) add_unit_in_words(entry, text);
    if (name.kind == NameKind::kUnit && text.size() < name.text.size()) {
      add_unit_nickname(entry, text);
      if (is_ordinal(text)) entry.role = "ordinal";
    }
    if (name.kind == NameKind::kRank && name.text == name.key) {
      entry.casing = Casing::kAny;
    } else if (name.kind == NameKind::kRank) {
      entry.role = "short";
    }
    // "white bars" names one white bar too.
    const bool plural = entry.kind == MentionKind::kMarking && text.size() > 4 &&
                        text.ends_with("s") && !text.ends_with("ss");
    if (plural) add(entry, text.substr(0, text.size() - 1));
    add(std::move(entry), text);
  }
  for (const Identity& row : ledger_.identities_at_hand()) {
    const bool letters = std::any_of(row.identity.begin(), row.identity.end(),
                                     [](char c) { return is_upper(c) || is_lower(c); });
    // Bare numbers and single letters need a word beside them that says what they are: patterns
    // find those.
    if (row.kind == "code" && letters && row.identity.size() > 1) {
      code_shapes_.push_back(code_shape(row.identity));
      const std::size_t space = row.identity.find(' ');
      if (space != std::string::npos && space + 1 < row.identity.size() &&
          is_digit(row.identity[space + 1])) {
        code_words_.insert(row.identity.substr(0, space));
      }
    }
    // A former serial all in figures is a name where its machine is spoken of; see
    // BlockAssembler::add_identity.
    const bool figures = !letters && row.identity.size() >= 4 &&
                         (row.kind == "previous_serial" || row.kind == "later_serial");
    if ((!letters && !figures) || row.identity.size() < 2) continue;
    if (ledger_.airframe(row.identity) != nullptr) continue;  // the serial forms find it
    LexiconEntry entry;
    entry.kind = MentionKind::kAirframe;
    entry.key = row.identity;
    entry.role = row.kind;
    entry.casing = row.kind == "nickname" ? Casing::kCapital : Casing::kExact;
    add(std::move(entry), row.identity);
  }
  for (const Photograph& row : ledger_.photographs_at_hand()) {
    const std::size_t digits = row.photograph.find_first_of("0123456789");
    if (digits != std::string::npos && digits >= 2 && is_upper(row.photograph[0])) {
      photograph_prefixes_.insert(row.photograph.substr(0, digits));
    }
  }
  std::sort(code_shapes_.begin(), code_shapes_.end());
  code_shapes_.erase(std::unique(code_shapes_.begin(), code_shapes_.end()), code_shapes_.end());
  add_order_numbers();
  add_marking_nouns();
  add_letter_nouns();
  add_marking_forms();
  // A surname alone names the person too.
  for (const Person& person : ledger_.people()) {
    const auto space = person.person.rfind(' ');
    if (space == std::string::npos) continue;
    LexiconEntry entry;
    entry.kind = MentionKind::kPerson;
    entry.key = person.person;
    entry.role = "surname";
    entry.casing = Casing::kCapital;
    add(std::move(entry), std::string_view(person.person).substr(space + 1));
    // So does a first name, once the text has given the whole.
    const std::string_view first_name =
        std::string_view(person.person).substr(0, person.person.find(' '));
    if (first_name.size() < 3 || first_name.ends_with(".")) continue;
    LexiconEntry first;
    first.kind = MentionKind::kPerson;
    first.key = person.person;
    first.role = "first name";
    first.casing = Casing::kCapital;
    add(std::move(first), first_name);
  }
}

// "The Third" is a unit, "Third" alone counts something.
bool Lexicon::is_ordinal(std::string_view text) const {
  const WordList* ordinals = grammars_.list("ordinal");
  const std::string folded = fold(text);
  return ordinals != nullptr && !ordinals->value_of(folded).empty();
}

// "An Otter" is one of the Otters.
void Lexicon::add_unit_nickname(const LexiconEntry& unit, std::string_view name) {
  const bool plural = name.size() > 4 && name.ends_with("s") && !name.ends_with("ss") &&
                      std::none_of(name.begin(), name.end(), is_digit);
  if (!plural || !is_upper(name.front())) return;
  LexiconEntry entry = unit;
  entry.role = "one of";
  add(std::move(entry), name.substr(0, name.size() - 1));
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
    add(std::move(entry), spelled.append(name.substr(blank)));
  }
}

// "The stripes" for rudder stripes: the last word of a marking's names names it too, where it is
// the noun of no other family and of no more than two forms.
void Lexicon::add_marking_nouns() {
  static const Grammars kNoGrammars;
  const WordList* weak = grammars_.list("weak_marking_noun");
  const WordList* small = grammars_.list("small_word");
  const WordList* units = grammars_.list("unit_word");
  std::map<std::string, std::vector<const Marking*>> nouns;
  for (const Marking& marking : ledger_.markings()) {
    std::vector<std::string> names = marking.aliases;
    // A key with a blank is a name as well, "disc-ringed" is none.
    if (marking.marking.find(' ') != std::string::npos) names.push_back(marking.marking);
    for (const std::string& name : names) {
      const auto tokens = tokenize(name, kNoGrammars);
      if (tokens.size() < 2) continue;
      // "Letters of the party" are letters.
      std::size_t head = tokens.size() - 1;
      for (std::size_t t = 1; t < tokens.size() && small != nullptr; ++t) {
        if (small->value_of(folded_word(name, tokens[t])) != "of") continue;
        head = t - 1;
        break;
      }
      const std::string noun = folded_word(name, tokens[head]);
      if (units != nullptr && !units->value_of(noun).empty()) continue;
      auto& owners = nouns[noun];
      if (std::find(owners.begin(), owners.end(), &marking) == owners.end())
        owners.push_back(&marking);
    }
  }
  std::map<std::string, int> forms;  // of a family
  for (const Marking& marking : ledger_.markings()) ++forms[fold(marking.family)];
  for (const auto& [noun, owners] : nouns) {
    if (owners.size() > 2 || noun.size() < 4) continue;
    // A family's own word may be any of its forms, unless there is but one.
    const std::string family = fold(owners.front()->family);
    if (family == noun && forms[family] > 1) continue;
    if (owners.size() == 2 && owners[0]->family != owners[1]->family) continue;
    if (weak != nullptr && !weak->value_of(noun).empty()) continue;
    for (const Marking* owner : owners) {
      LexiconEntry entry;
      entry.kind = MentionKind::kMarking;
      entry.key = owner->marking;
      entry.role = "noun";
      add(std::move(entry), noun);
    }
  }
}

// "No letters", "its codes": the one marking that code letters are, by whatever words call them.
void Lexicon::add_letter_nouns() {
  static const Grammars kNoGrammars;
  const WordList* nouns = grammars_.list("letters_noun");
  const WordList* absent = grammars_.list("letters_absent");
  if (nouns == nullptr) return;
  const Marking* letters = nullptr;
  for (const Marking& marking : ledger_.markings()) {
    std::vector<std::string> names = marking.aliases;
    names.push_back(marking.marking);
    const bool is_letters = std::any_of(names.begin(), names.end(), [&](const std::string& name) {
      const auto tokens = tokenize(name, kNoGrammars);
      return !tokens.empty() && !nouns->value_of(folded_word(name, tokens.back())).empty();
    });
    if (!is_letters) continue;
    if (letters != nullptr) return;  // two sorts of letters: no telling
    letters = &marking;
  }
  if (letters == nullptr) return;
  const auto add_word = [&](const std::string& word, const char* role) {
    LexiconEntry entry;
    entry.kind = MentionKind::kMarking;
    entry.key = letters->marking;
    entry.role = role;
    add(std::move(entry), word);
  };
  for (const auto& [word, value] : nouns->words) add_word(word, "letters");
  if (absent == nullptr) return;
  for (const auto& [word, value] : absent->words) add_word(word, "no letters");
}

void Lexicon::find_years() {
  for (const Airframe& airframe : ledger_.airframes_at_hand()) {
    for (const Edtf* date : {&airframe.taken_on_charge, &airframe.struck_off_charge}) {
      if (date->is_unknown()) continue;
      const DaySet& days = date->days();
      if (days.empty() || days.first() <= kFirstDay || days.last() >= kLastDay) continue;
      const std::int64_t first = to_civil(days.first()).year, last = to_civil(days.last()).year;
      years_.first = years_.first == 0 ? first : std::min(years_.first, first);
      years_.second = std::max(years_.second, last);
    }
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
      for (const Token& token : tokenize(name, kNoGrammars)) {
        if (token.kind == TokenKind::kMark) continue;
        const std::string word = folded_word(name, token);
        if (number == 0) {
          number = number_of(word);
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

void Lexicon::add_mark_alone(const std::string& type, const std::string& mark,
                             std::string_view phrase) {
  LexiconEntry entry;
  entry.kind = MentionKind::kType;
  entry.key = type;
  entry.detail = mark;
  entry.role = "mark alone";
  entry.casing = Casing::kExact;
  // "The Mk Is": one letter and "s" is no word that the index would take for a plural.
  const bool is_short =
      phrase.size() > 1 && phrase[phrase.size() - 2] == ' ' && is_upper(phrase.back());
  if (is_short) add(entry, std::string(phrase) + "s");
  add(std::move(entry), phrase);
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

const std::vector<MarkForm>& Lexicon::marks_of(std::string_view type) const {
  static const std::vector<MarkForm> kNoMarks;
  const auto found = marks_.find(type);
  return found == marks_.end() ? kNoMarks : found->second;
}

bool Lexicon::is_code_word(std::string_view word) const { return code_words_.count(word) != 0; }

bool Lexicon::is_serial_prefix(std::string_view letters) const {
  return serial_prefixes_.count(letters) != 0;
}

bool Lexicon::has_code_shape(std::string_view code) const {
  return std::binary_search(code_shapes_.begin(), code_shapes_.end(), code_shape(code));
}

}  // namespace tailproof

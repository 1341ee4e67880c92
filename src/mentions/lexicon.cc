#include "mentions/lexicon.h"

#include <algorithm>
#include <charconv>
#include <map>

#include "grammars/fold.h"
#include "source/ascii.h"
#include "tailproof/claim.h"

namespace tailproof {
namespace {

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
    : ledger_(ledger),
      grammars_(grammars),
      marking_words_(ledger, grammars),
      marking_looks_(ledger, grammars) {
  add_cues();
  add_tellings();
  add_marks();
  add_names();
  add_unit_numbers();
  find_years();
}

Lexicon::~Lexicon() = default;

void Lexicon::add(LexiconEntry entry, std::string_view phrase) {
  auto* const kept = static_cast<char*>(texts_.allocate(phrase.size(), 1));
  std::copy(phrase.begin(), phrase.end(), kept);
  entry.phrase = std::string_view(kept, phrase.size());
  phrases_.add(phrase, static_cast<std::uint32_t>(entries_.size()));
  entries_.push_back(entry);
}

namespace {

struct TellingList {
  ListName list;
  Said bit;
};
constexpr TellingList kTellingLists[] = {
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
      add(entry, phrase);
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
      entry.key = std::string_view(value);
      entry.role = std::string_view(list->name);
      entry.cue = ListName::number_of(list->name);
      entry.casing = list->cased ? Casing::kExact : Casing::kAny;
      add(entry, phrase);
    }
  }
}

// "Instruction 21/43" for what the ledger has as "ASI 21/43" or "A.S.I. 21/43", and "21/43" alone
// where the text has spoken of an order, if no other order has the number.
void Lexicon::add_order_numbers() {
  const WordList* nouns = grammars_.list("order_noun");
  std::map<std::string_view, std::string_view> keys;  // by number; none where two share it
  for (const Order& row : ledger_.orders()) {
    const std::string_view key = row.order;
    const std::size_t space = key.rfind(' ');
    if (space == std::string_view::npos || space < 2) continue;
    const std::string_view number = key.substr(space + 1);
    if (number.find('/') == std::string_view::npos || !is_digit(number[0])) continue;
    const auto [it, is_new] = keys.try_emplace(number, key);
    if (!is_new && it->second != key) it->second = {};
  }
  for (const auto& [number, key] : keys) {
    if (key.empty()) continue;
    LexiconEntry entry;
    entry.kind = MentionKind::kOrder;
    entry.key = key;
    entry.casing = Casing::kAny;
    const std::string_view head = key.substr(0, key.rfind(' '));
    const bool is_abbreviated =
        std::all_of(head.begin(), head.end(), [](char c) { return is_upper(c) || c == '.'; });
    if (is_abbreviated && nouns != nullptr) {
      for (const auto& [noun, value] : nouns->words) add(entry, noun + " " + std::string(number));
    }
    entry.role = "number alone";
    add(entry, number);
  }
}

// "Lanners" listed beside "Lanner": what the index takes for several anyhow is no name of its own,
// which would count as one machine.
bool Lexicon::is_plural_of_type(const Name& name) const {
  if (name.kind != NameKind::kType || !name.text.ends_with('s')) return false;
  const std::string_view singular = name.text.substr(0, name.text.size() - 1);
  const auto names = ledger_.names();
  return std::any_of(names.begin(), names.end(), [&](const Name& other) {
    return other.kind == name.kind && other.key == name.key && other.text == singular;
  });
}

void Lexicon::add_names() {
  const WordList* articles = grammars_.list("name_article");
  for (const Name& name : ledger_.names()) {
    if (name.text.empty() || is_plural_of_type(name)) continue;
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
      add(entry, name.text);
      continue;
    }
    const std::string_view text = without_article(name.text, articles);
    entry.casing = casing_of(text, entry.kind);
    if (name.kind == NameKind::kIdentity) continue;  // below, with their kinds
    if (name.kind == NameKind::kUnit) add_unit_in_words(entry, text);
    if (name.kind == NameKind::kUnit && text.size() < name.text.size()) {
      add_unit_nickname(entry, text);
      add_unit_noun(entry, text);
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
    add(entry, text);
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
    // "4-3": figures with a joint have a shape of their own.
    if (row.kind == "code" && !letters && code_shape(row.identity).find('-') != std::string::npos)
      code_shapes_.push_back(code_shape(row.identity));
    // A former serial all in figures is a name where its machine is spoken of; see
    // BlockAssembler::add_identity.
    const bool figures = !letters && row.identity.size() >= 4 &&
                         (row.kind == "previous_serial" || row.kind == "later_serial");
    if ((!letters && !figures) || row.identity.size() < 2) continue;
    if (ledger_.airframe(row.identity) != nullptr) continue;  // the serial forms find it
    LexiconEntry entry;
    entry.kind = MentionKind::kAirframe;
    entry.key = std::string_view(row.identity);
    entry.role = std::string_view(row.kind);
    entry.casing = row.kind == "nickname" ? Casing::kCapital : Casing::kExact;
    add(entry, row.identity);
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
    entry.key = std::string_view(person.person);
    entry.role = "surname";
    entry.casing = Casing::kCapital;
    add(entry, std::string_view(person.person).substr(space + 1));
    // So does a first name, once the text has given the whole.
    const std::string_view first_name =
        std::string_view(person.person).substr(0, person.person.find(' '));
    if (first_name.size() < 3 || first_name.ends_with(".")) continue;
    LexiconEntry first;
    first.kind = MentionKind::kPerson;
    first.key = std::string_view(person.person);
    first.role = "first name";
    first.casing = Casing::kCapital;
    // "Ned" of the alias "Ned Tarrent", whose first name is Edmund.
    const WordList* titles = grammars_.list("no_first_name");
    for (const std::string& alias : person.aliases) {
      const std::size_t blank = alias.find(' ');
      if (blank == std::string::npos || blank < 3 || !is_upper(alias.front()) ||
          alias.substr(blank) != person.person.substr(space))
        continue;
      const std::string called = alias.substr(0, blank);
      const bool is_title = titles != nullptr && !titles->value_of(fold(called)).empty();
      if (!is_title && called != first_name && !called.ends_with(".")) add(first, called);
    }
    add(first, first_name);
  }
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

bool Lexicon::is_code_word(std::string_view word) const { return code_words_.count(word) != 0; }

bool Lexicon::is_serial_prefix(std::string_view letters) const {
  return serial_prefixes_.count(letters) != 0;
}

bool Lexicon::has_code_shape(std::string_view code) const {
  return std::binary_search(code_shapes_.begin(), code_shapes_.end(), code_shape(code));
}

}  // namespace tailproof

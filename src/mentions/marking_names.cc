// Further names of markings, made from those that markings.csv gives: "the plain one" for "plain
// roundel", "gold disc" for "gold centre", "a coat of grey and green" for "grey and green scheme".
#include <algorithm>
#include <map>
#include <set>

#include "grammars/fold.h"
#include "mentions/lexicon.h"

namespace tailproof {
namespace {

/// A name of two words or more, taken apart.
struct NameParts {
  const Marking* marking = nullptr;
  std::string first;  // all but the last word, as folded words with blanks
  std::string noun;   // the last word, folded
};

// Of "gold-centred", "gold", where the list has what stands behind the hyphen.
std::string head_of(const std::string& first, const WordList* parts) {
  const std::size_t hyphen = first.rfind('-');
  if (parts == nullptr || hyphen == std::string::npos || hyphen == 0) return {};
  return parts->value_of(first.substr(hyphen + 1)).empty() ? std::string{}
                                                           : first.substr(0, hyphen);
}

std::vector<NameParts> parts_of_names(const Ledger& ledger, const WordList* part_words) {
  static const Grammars kNoGrammars;
  std::vector<NameParts> all;
  for (const Marking& marking : ledger.markings()) {
    std::vector<std::string> names = marking.aliases;
    names.push_back(marking.marking);
    for (const std::string& name : names) {
      const std::vector<Token> tokens = tokenize(name, kNoGrammars);
      if (tokens.size() < 2 || tokens.back().begin == 0) continue;
      NameParts parts;
      parts.marking = &marking;
      parts.first = fold(std::string_view(name).substr(0, tokens.back().begin));
      while (!parts.first.empty() && (parts.first.back() == ' ' || parts.first.back() == '-')) {
        parts.first.pop_back();
      }
      parts.noun = folded_word(name, tokens.back());
      if (parts.first.empty()) continue;
      const std::string head = head_of(parts.first, part_words);
      all.push_back(parts);
      if (head.empty()) continue;
      parts.first = head;
      all.push_back(std::move(parts));
    }
  }
  return all;
}

}  // namespace

void Lexicon::add_marking_forms() {
  const std::vector<NameParts> all = parts_of_names(ledger_, grammars_.list("marking_suffix"));
  const WordList* synonyms = grammars_.list("marking_part_synonym");
  const WordList* pro_forms = grammars_.list("marking_pro_form");
  std::set<std::pair<std::string, std::string>> done;  // phrase, key
  const auto add_once = [&](const std::string& phrase, const Marking& marking, const char* role) {
    if (!done.emplace(phrase, marking.marking).second) return;
    LexiconEntry entry;
    entry.kind = MentionKind::kMarking;
    entry.key = std::string_view(marking.marking);
    entry.role = std::string_view(role);
    add(entry, phrase);
  };
  const WordList* schemes = grammars_.list("scheme_noun");
  const WordList* leads = grammars_.list("scheme_lead");
  for (const NameParts& parts : all) {
    // "A coat of green and brown" for "green and brown camouflage": of several colours, what has
    // all of them is no part of the aircraft.
    const bool is_scheme = schemes != nullptr && leads != nullptr &&
                           !schemes->value_of(parts.noun).empty() &&
                           parts.first.find(' ') != std::string::npos;
    if (is_scheme) {
      for (const auto& [lead, value] : leads->words) {
        add_once(lead + " " + parts.first, *parts.marking, "");
      }
    }
    if (parts.marking->family.empty()) continue;
    if (pro_forms != nullptr) {
      for (const auto& [word, value] : pro_forms->words) {
        add_once(parts.first + " " + word, *parts.marking, "one");
      }
    }
    // "Gold disc" for "gold centre", unless some marking has that very name.
    if (synonyms != nullptr) {
      for (const auto& [synonym, noun] : synonyms->words) {
        const std::string phrase = parts.first + " " + synonym;
        if (noun == parts.noun && ledger_.resolve(NameKind::kMarking, phrase).empty()) {
          add_once(phrase, *parts.marking, "");
        }
      }
    }
  }
}

// "The stripes" for rudder stripes: the last word of a marking's names names it too, where it is
// the noun of no other family and of no more than two forms.
void Lexicon::add_marking_nouns() {
  static const Grammars kNoGrammars;
  const WordList* weak = grammars_.list("weak_marking_noun");
  const WordList* small = grammars_.list("small_word");
  const WordList* units = grammars_.list("unit_word");
  const WordList* positions = grammars_.list("cue_position");
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
    if ((family == noun || family == noun + "s") && forms[fold(owners.front()->family)] > 1)
      continue;
    if (owners.size() == 2 && owners[0]->family != owners[1]->family) continue;
    if (weak != nullptr && !weak->value_of(noun).empty()) continue;
    // "White tailplane": a part of any aircraft.
    if (positions != nullptr && !positions->value_of(noun).empty()) continue;
    for (const Marking* owner : owners) {
      LexiconEntry entry;
      entry.kind = MentionKind::kMarking;
      entry.key = std::string_view(owner->marking);
      entry.role = "noun";
      add(entry, noun);
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
    entry.key = std::string_view(letters->marking);
    entry.role = std::string_view(role);
    add(entry, word);
  };
  for (const auto& [word, value] : nouns->words) add_word(word, "letters");
  if (absent == nullptr) return;
  for (const auto& [word, value] : absent->words) add_word(word, "no letters");
}

}  // namespace tailproof

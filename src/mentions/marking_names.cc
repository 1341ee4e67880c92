// Further names of markings, made from those that markings.csv gives: "the plain one" for "plain
// roundel", "gold disc" for "gold centre", "a coat of grey and green" for "grey and green scheme".
#include <set>

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
  const auto add_once = [&](const std::string& phrase, const Marking& marking,
                            const std::string& role) {
    if (!done.emplace(phrase, marking.marking).second) return;
    LexiconEntry entry;
    entry.kind = MentionKind::kMarking;
    entry.key = marking.marking;
    entry.role = role;
    add(std::move(entry), phrase);
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

}  // namespace tailproof

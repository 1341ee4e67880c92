#include "mentions/marking_words.h"

#include <algorithm>
#include <map>
#include <set>

#include "grammars/fold.h"

namespace tailproof {
namespace {

constexpr std::uint32_t kNoStem = 0xffffffff;
constexpr std::uint32_t kLongest = 10;     // tokens of a description
constexpr std::uint32_t kMostFillers = 6;  // of them, words that say nothing

void add_sorted(std::vector<std::uint32_t>& stems, std::uint32_t stem) {
  const auto at = std::lower_bound(stems.begin(), stems.end(), stem);
  if (at == stems.end() || *at != stem) stems.insert(at, stem);
}

bool has_word(const WordList* list, std::string_view folded) {
  return list != nullptr && !list->value_of(folded).empty();
}

}  // namespace

MarkingWords::MarkingWords(const Ledger& ledger, const Grammars& grammars)
    : word_forms_(grammars.list("marking_word_form")),
      fillers_(grammars.list("marking_filler")),
      numbers_(grammars.list("number")),
      gap_words_(grammars.list("marking_gap_word")),
      said_(grammars.list("marking_word_said")),
      parts_(grammars.list("marking_part")) {
  for (const Marking& marking : ledger.markings()) {
    add_form(marking, marking.marking);
    for (const std::string& alias : marking.aliases) {
      add_form(marking, alias);
      // "The red centre" is that of the roundel, and people say so.
      if (!marking.family.empty()) add_form(marking, alias + " " + marking.family);
    }
  }
  add_shortened();
  add_said_otherwise();
  add_described(ledger, grammars.list("cue_position"));
  add_only(ledger, grammars);
  forms_of_stem_.resize(stems_.size());
  for (std::uint32_t i = 0; i < forms_.size(); ++i) {
    for (const std::uint32_t stem : forms_[i].stems) forms_of_stem_[stem].push_back(i);
  }
}

std::string MarkingWords::stem_of(std::string_view folded) const {
  std::string word(folded);
  for (const WordList* list : {word_forms_, numbers_}) {
    if (list == nullptr) continue;
    const std::string_view form = list->value_of(word);
    if (!form.empty()) word = std::string(form);
  }
  if (word.size() > 3 && word.back() == 's' && word[word.size() - 2] != 's') word.pop_back();
  return word;
}

std::uint32_t MarkingWords::stem_number(const std::string& stem) {
  return stems_.try_emplace(stem, static_cast<std::uint32_t>(stems_.size())).first->second;
}

void MarkingWords::add_form(const Marking& marking, std::string_view name) {
  static const Grammars kNoGrammars;
  Form form;
  form.marking = &marking.marking;
  for (const Token& token : tokenize(name, kNoGrammars)) {
    if (token.kind == TokenKind::kMark) continue;
    const std::string folded = folded_word(name, token);
    if (has_word(fillers_, folded)) continue;
    add_sorted(form.stems, stem_number(stem_of(folded)));
  }
  if (form.stems.size() >= 2) forms_.push_back(std::move(form));
}

bool MarkingWords::is_of_another(const Form& form, const std::vector<std::uint32_t>& stems) const {
  return std::any_of(forms_.begin(), forms_.end(), [&](const Form& other) {
    return other.marking != form.marking &&
           std::includes(other.stems.begin(), other.stems.end(), stems.begin(), stems.end());
  });
}

// "The gold in the roundel": the part may go unsaid where no other marking answers to the rest.
void MarkingWords::add_shortened() {
  std::vector<Form> shortened;
  for (const Form& form : forms_) {
    if (form.stems.size() < 3) continue;
    Form rest;
    rest.marking = form.marking;
    for (const auto& [stem, number] : stems_) {
      if (std::binary_search(form.stems.begin(), form.stems.end(), number) &&
          !has_word(parts_, stem)) {
        add_sorted(rest.stems, number);
      }
    }
    if (rest.stems.size() >= 2 && rest.stems.size() < form.stems.size() &&
        !is_of_another(form, rest.stems)) {
      shortened.push_back(std::move(rest));
    }
  }
  forms_.insert(forms_.end(), shortened.begin(), shortened.end());
}

// "Black under the wings" for "black undersides".
void MarkingWords::add_said_otherwise() {
  if (said_ == nullptr) return;
  static const Grammars kNoGrammars;
  std::vector<Form> said;
  for (const Form& form : forms_) {
    for (const auto& [word, words] : said_->words) {
      const auto own = stems_.find(word);
      if (own == stems_.end() ||
          !std::binary_search(form.stems.begin(), form.stems.end(), own->second))
        continue;
      Form other;
      other.marking = form.marking;
      for (const std::uint32_t stem : form.stems) {
        if (stem != own->second) add_sorted(other.stems, stem);
      }
      for (const Token& token : tokenize(words, kNoGrammars))
        add_sorted(other.stems, stem_number(folded_word(words, token)));
      if (!is_of_another(other, other.stems)) said.push_back(std::move(other));
    }
  }
  forms_.insert(forms_.end(), said.begin(), said.end());
}

// "The rudder in three level bands", where the ledger describes its rudder bands as "three level
// bands": what stands right before a word of the name there may stand beside it here.
void MarkingWords::add_described(const Ledger& ledger, const WordList* positions) {
  constexpr std::size_t kMostWords = 3;
  static const Grammars kNoGrammars;
  std::vector<Form> described;
  for (const Marking& marking : ledger.markings()) {
    if (marking.description.empty()) continue;
    std::vector<std::string> words;  // "" for a mark or a word that says nothing
    for (const Token& token : tokenize(marking.description, kNoGrammars)) {
      const std::string folded = folded_word(marking.description, token);
      const bool is_word = token.kind != TokenKind::kMark && !has_word(fillers_, folded);
      words.push_back(is_word ? stem_of(folded) : std::string{});
    }
    // "The flash at half size" for a "reduced flash": all of a short one that has a word of the
    // name.
    constexpr std::size_t kShort = 4;
    Form whole;
    whole.marking = &marking.marking;
    bool has_place = false;  // "a hoop round the fuselage": where it is, is told beside it
    for (const std::string& w : words) {
      if (!w.empty()) add_sorted(whole.stems, stem_number(w));
      has_place = has_place || has_word(positions, w);
    }
    const bool is_named = std::any_of(forms_.begin(), forms_.end(), [&](const Form& form) {
      const auto is_shared = [&](std::uint32_t stem) {
        return std::binary_search(whole.stems.begin(), whole.stems.end(), stem);
      };
      return form.marking == whole.marking &&
             std::any_of(form.stems.begin(), form.stems.end(), is_shared);
    });
    if (is_named && !has_place && whole.stems.size() > 2 && whole.stems.size() <= kShort &&
        !is_of_another(whole, whole.stems))
      described.push_back(whole);
    for (const Form& form : forms_) {
      if (form.marking != &marking.marking) continue;
      for (std::size_t at = 1; at < words.size(); ++at) {
        const auto own = stems_.find(words[at]);
        if (own == stems_.end() ||
            !std::binary_search(form.stems.begin(), form.stems.end(), own->second))
          continue;
        Form longer = form;
        for (std::size_t w = at; w-- > 0 && at - w <= kMostWords && !words[w].empty();) {
          // "In its three bands": the number alone.
          if (Form counted = form; words[w].find_first_not_of("0123456789") == std::string::npos) {
            add_sorted(counted.stems, stem_number(words[w]));
            if (counted.stems.size() > form.stems.size() && !is_of_another(counted, counted.stems))
              described.push_back(std::move(counted));
          }
          add_sorted(longer.stems, stem_number(words[w]));
          if (longer.stems.size() > form.stems.size() && !is_of_another(longer, longer.stems))
            described.push_back(longer);
        }
      }
    }
  }
  forms_.insert(forms_.end(), described.begin(), described.end());
}

// Of a colour or a pattern that two markings share nothing follows.
void MarkingWords::add_only(const Ledger& ledger, const Grammars& grammars) {
  static const Grammars kNoGrammars;
  const WordList* colours = grammars.list("colour_word");
  const WordList* patterns = grammars.list("pattern_word");
  std::map<std::uint32_t, std::set<const Marking*>> owners;
  for (const Marking& marking : ledger.markings()) {
    std::vector<std::string> names = marking.aliases;
    names.push_back(marking.marking);
    for (const std::string& name : names) {
      for (const Token& token : tokenize(name, kNoGrammars)) {
        const std::string stem = stem_of(folded_word(name, token));
        if (has_word(colours, stem) || has_word(patterns, stem))
          owners[stem_number(stem)].insert(&marking);
      }
    }
  }
  only_with_.resize(stems_.size(), nullptr);
  for (const auto& [stem, markings] : owners) {
    if (markings.size() == 1) only_with_[stem] = *markings.begin();
  }
}

const Marking* MarkingWords::only_with(const Word& word, const Memory& memory) const {
  if (word.number >= memory.size() || !memory[word.number].is_met) return nullptr;
  const std::uint32_t stem = memory[word.number].stem;
  return stem < only_with_.size() ? only_with_[stem] : nullptr;
}

const MarkingWords::Form* MarkingWords::longest_of(const std::vector<std::uint32_t>& stems) const {
  const Form* best = nullptr;
  for (const std::uint32_t index : forms_of_stem_[stems.front()]) {
    const Form& form = forms_[index];
    if (form.stems == stems && (best == nullptr || best->marking == form.marking)) best = &form;
    // Words that two markings share name neither.
    if (form.stems == stems && best->marking != form.marking) return nullptr;
  }
  return best;
}

MarkingWords::Met MarkingWords::look_at(const Word& word) const {
  Met met{kNoStem, false, true};
  const std::string_view folded = bare_of_possessive(word.folded);
  if (word.kind == TokenKind::kMark) {
    met.is_filler = folded == "-";
    return met;
  }
  met.is_filler = has_word(fillers_, folded);
  if (met.is_filler) return met;
  const auto found = stems_.find(stem_of(folded));
  if (found != stems_.end()) {
    met.stem = found->second;
  } else {
    met.is_filler = has_word(gap_words_, folded);
  }
  return met;
}

std::vector<MarkingWords::Match> MarkingWords::find(const std::vector<Token>& tokens,
                                                    Memory& memory,
                                                    const std::vector<bool>& passed) const {
  std::vector<Match> matches;
  if (forms_.empty()) return matches;
  std::uint32_t known = 0;
  for (const Token& token : tokens) {
    const std::uint32_t number = token.word->number;
    if (number >= memory.size()) memory.resize(2 * std::size_t{number} + 1);
    if (!memory[number].is_met) memory[number] = look_at(*token.word);
    known += memory[number].stem != kNoStem;
  }
  if (known < 2) return matches;
  std::vector<std::uint32_t> stem_at(tokens.size(), kNoStem);
  std::vector<bool> is_filler(tokens.size(), false);
  for (std::uint32_t t = 0; t < tokens.size(); ++t) {
    const Met& met = memory[tokens[t].word->number];
    is_filler[t] = met.is_filler;
    stem_at[t] = met.stem;
  }
  for (std::uint32_t t = 0; t < tokens.size();) {
    if (stem_at[t] == kNoStem) {
      ++t;
      continue;
    }
    std::vector<std::uint32_t> stems;
    std::uint32_t fillers = 0;
    Match best;
    const auto end =
        static_cast<std::uint32_t>(std::min<std::size_t>(tokens.size(), std::size_t{t} + kLongest));
    for (std::uint32_t u = t; u < end; ++u) {
      if (u < passed.size() && passed[u]) continue;
      if (stem_at[u] == kNoStem) {
        if (!is_filler[u] || ++fillers > kMostFillers) break;
        continue;
      }
      add_sorted(stems, stem_at[u]);
      if (stems.size() < 2) continue;
      if (const Form* form = longest_of(stems))
        best = {t, u + 1, form->marking, form->stems.size()};
    }
    if (best.marking != nullptr) matches.push_back(best);
    t = best.marking != nullptr ? best.last : t + 1;
  }
  return matches;
}

}  // namespace tailproof

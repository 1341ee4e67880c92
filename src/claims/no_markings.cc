// Words that are the name of a marking and tell here of something else: a thing of that name, a
// part of the aircraft, a person, post.
#include <algorithm>

#include "claims/assembler.h"
#include "grammars/fold.h"

namespace tailproof {

// "The band shows as a paler stripe aft": what another marking looks like.
bool NounReading::is_likeness_of_marking(std::uint32_t noun) const {
  constexpr std::uint32_t kMostAdjectives = 2;
  std::uint32_t t = noun;
  while (t > 0 && noun - t < kMostAdjectives && office(t - 1) != "a") --t;
  if (t < 2 || office(t - 1) != "a" || !is_in("likeness_word", t - 2)) return false;
  return any_mention(MentionKind::kMarking, [&](const Mention& other) {
    return other.last <= t - 2 && clauses_.segment_of[other.first] == clauses_.segment_of[noun];
  });
}

// "Changing a wheel", "while the band played": the thing itself, and no insignia. But for moorings
// only where the name is a single small word.
bool BlockAssembler::is_common_noun(const Mention& marking) const {
  const std::uint32_t t = marking.first;
  // "Lying to the second anchor", "made fast to the buoy": what it lies at.
  const bool is_mooring = t > 2 && !mentions_.tokens[t].capital && is_in("determiner", t - 1) &&
                          is_in("mooring_preposition", t - 2) && is_in("mooring_verb", t - 3);
  if (is_mooring) return true;
  if (marking.last - t != 1 || mentions_.tokens[t].capital || t == 0) return false;
  if (is_in("determiner", t - 1) && t > 1 && is_in("handling_verb", t - 2)) return true;
  // "The hyphen is a square of 10 cm".
  const Mention* behind = office(marking.last) == "of"
                              ? mention_over(MentionKind::kMeasure, marking.last + 1)
                              : nullptr;
  if (behind != nullptr && office(t - 1) == "a") return true;
  // "A doubler plate, 18 in (46 cm) square": how large it is.
  const Mention* size = mention_ending_at(t);
  if (size != nullptr && size->kind == MentionKind::kMeasure && is_in("measure_way", t))
    return true;
  // "Sgt Vardle on the chine": a part of the machine.
  if (is_in("determiner", t - 1) && t > 2 && is_in("surface_preposition", t - 2) &&
      mention_over(MentionKind::kPerson, t - 3) != nullptr)
    return true;
  // "Tancred is the figure with the notebook", "the figure on the ladder".
  if (is_in("somebody_noun", t)) {
    const auto opens_with_person = [&] {
      constexpr std::uint32_t kWordsOfRank = 4;
      const std::uint32_t first = begin_of_sentence(t);
      for (std::uint32_t i = first; i < std::min(t, first + kWordsOfRank); ++i) {
        if (mention_over(MentionKind::kPerson, i) != nullptr) return true;
      }
      return false;
    };
    // "The tall figure".
    const std::uint32_t article = is_in("determiner", t - 1) || t < 2 ? t - 1 : t - 2;
    const bool is_person =
        article > 1 && is_in("determiner", article) && is_in("being_word", article - 1);
    if (is_person && opens_with_person()) return true;
    const WordList* there = lexicon_.grammars().list("somebody_there");
    constexpr std::uint32_t kLongest = 3;
    const auto end = static_cast<std::uint32_t>(mentions_.tokens.size());
    for (std::uint32_t to = t + 1; there != nullptr && to < std::min(end, t + 1 + kLongest); ++to) {
      const std::uint32_t begin = mentions_.tokens[t + 1].begin;
      const std::string words =
          fold(std::string_view(block_.text).substr(begin, mentions_.tokens[to].end - begin));
      if (!there->value_of(words).empty()) return true;
    }
  }
  constexpr std::uint32_t kReach = 2;
  if (is_likeness_of_marking(t)) return true;
  const WordList* idioms = lexicon_.grammars().list("marking_idiom");
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t from = t - std::min(t, kReach); idioms != nullptr && from <= t; ++from) {
    for (std::uint32_t to = t; to < std::min(count, t + kReach + 1); ++to) {
      const std::uint32_t begin = mentions_.tokens[from].begin;
      const std::string words =
          fold(std::string_view(block_.text).substr(begin, mentions_.tokens[to].end - begin));
      if (!idioms->value_of(words).empty()) return true;
    }
  }
  return false;
}

// "The letters home of its pilot", "(Marrow letters)", "the lettering on the map case": post, or on
// something else than an aircraft.
bool BlockAssembler::is_other_lettering(const Mention& mention) const {
  const std::uint32_t last = mention.last;
  if (last - mention.first != 1 || !is_in("letters_noun", mention.first)) return false;
  if (is_in("letters_posted", last)) return true;
  // "The name was painted in small white letters": how something else is written.
  constexpr std::uint32_t kAdjectives = 3;
  for (std::uint32_t t = mention.first; t-- > 0 && mention.first - t <= kAdjectives + 1;) {
    if (mentions_.tokens[t].kind != TokenKind::kWord) break;
    if (office(t) == "in") return stands_between(begin_of_sentence(t), t, "inscription_noun");
  }
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  // Behind a surname that opens a bracket, and closing it: whence the print comes.
  const bool is_credit = mention.first > 1 && last < count && word(last) == ")" &&
                         word(mention.first - 2) == "(" &&
                         mentions_.tokens[mention.first - 1].capital &&
                         !mentions_.tokens[mention.first - 1].all_capitals &&
                         mention_over(MentionKind::kType, mention.first - 1) == nullptr;
  if (is_credit) return true;
  if (last + 2 >= count || !is_in("determiner", last + 1)) return false;
  if (office(last) == "of") return is_in("person_noun", last + 2);
  if (office(last) != "on") return false;
  constexpr std::uint32_t kReach = 2;
  for (std::uint32_t t = last + 2; t < std::min(count, last + 2 + kReach); ++t) {
    if (mentions_.tokens[t].kind == TokenKind::kMark) break;
    if (is_in("lettered_thing", t) || is_in("site_noun", t)) return true;
  }
  return false;
}

// "The letters read RK-D" give the code and no more; "letters from home" are none.
bool BlockAssembler::is_no_marking(const Mention& mention) const {
  constexpr std::uint32_t kReach = 2;
  const std::uint32_t last = mention.last;
  if (is_in("letters_noun", last - 1)) {
    const bool gives_code = any_mention(MentionKind::kAirframe, [&](const Mention& other) {
      return other.role == "code" && other.first >= last && other.first - last <= kReach &&
             clauses_.sentence_of[other.first] == clauses_.sentence_of[last - 1];
    });
    // "Side letters 6-D": a name of its own, and the letters worn.
    const bool is_name = mention.role.empty() && last - mention.first > 1;
    if (gives_code && !is_name) return true;
  }
  // "Eleven kill bars": a tally, whatever bars the ledger has.
  if (mention.role == "noun" && mention.first > 0) {
    const WordList* tallies = lexicon_.grammars().list("count_tally");
    const std::string both =
        std::string(folded(mention.first - 1)) + " " + std::string(folded(mention.first));
    if (tallies != nullptr && !tallies->value_of(both).empty()) return true;
  }
  if (is_common_noun(mention) || is_other_lettering(mention)) return true;
  if (mention.role != "letters") return false;
  if (!is_caption() && !has_machine(clauses_.clause_of[mention.first])) return true;
  if (is_in("letters_of_what", last)) return true;
  if (mention.first == 0) return true;
  // "Codes gone", "Codes aft of disc": what a caption says in so few words.
  const bool opens = is_caption() && mentions_.tokens[mention.first - 1].kind == TokenKind::kMark &&
                     word(mention.first - 1) != "(" && mention.last < mentions_.tokens.size() &&
                     mentions_.tokens[mention.last].kind == TokenKind::kWord &&
                     !mentions_.tokens[mention.last].capital;
  return !opens && !is_in("letters_lead", mention.first - 1);
}

// "The serial is repeated under the wing in figures 80 cm high": how large the lettering is.
bool BlockReading::is_size_of_lettering(const Mention& marking) const {
  const Mention* size = mention_over(MentionKind::kMeasure, marking.last);
  return size != nullptr && size->first == marking.last && marking.first > 0 &&
         office(marking.first - 1) == "in";
}

}  // namespace tailproof

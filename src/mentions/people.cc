// People whom the ledger does not have, known by a rank before the name, by initials, or by the
// list in which they stand. Whoever bears the surname of somebody in people.csv, but another first
// name or initial, is one of them.
#include <algorithm>

#include "grammars/fold.h"
#include "mentions/finder.h"

namespace tailproof {
namespace {

std::string_view without_possessive(std::string_view word) {
  for (const std::string_view ending : {"'s", "\xE2\x80\x99s"}) {
    if (word.size() > ending.size() + 1 && word.ends_with(ending)) {
      word.remove_suffix(ending.size());
    }
  }
  return word;
}

}  // namespace

// The person mention that begins at a token, the longest; a first name alone is no name here.
const Mention* BlockFinder::person_at(std::uint32_t token) const {
  const Mention* found = nullptr;
  for (const Mention& mention : result_.items) {
    if (mention.kind == MentionKind::kPerson && mention.first == token &&
        mention.role != "first name" && (found == nullptr || mention.last > found->last)) {
      found = &mention;
    }
  }
  return found;
}

bool BlockFinder::is_initial(std::uint32_t token) const {
  const auto& tokens = result_.tokens;
  if (token >= tokens.size() || tokens[token].kind != TokenKind::kWord || !tokens[token].capital ||
      tokens[token].end - tokens[token].begin != 1) {
    return false;
  }
  // Not the O of "F/O".
  const bool is_joined = token > 0 && tokens[token - 1].end == tokens[token].begin &&
                         word(token - 1) != "." && word(token - 1) != "(";
  return !is_joined && !has_other_name(token);
}

// Whether something else than a person is named at the token.
bool BlockFinder::has_other_name(std::uint32_t token) const {
  const auto allowed =
      static_cast<std::uint16_t>(1U << static_cast<unsigned>(MentionKind::kPerson) |
                                 1U << static_cast<unsigned>(MentionKind::kCue));
  return (occupied_[token] & ~allowed) != 0;
}

bool BlockFinder::is_name_word(std::uint32_t token) const {
  constexpr std::uint32_t kShortest = 3;
  if (token >= result_.tokens.size()) return false;
  const Token& t = result_.tokens[token];
  if (t.kind != TokenKind::kWord || !t.capital || (t.all_capitals && !all_capitals_)) return false;
  if (without_possessive(word(token)).size() < kShortest) return false;
  if (token + 1 < result_.tokens.size() && word(token + 1) == "-" &&
      result_.tokens[token + 1].begin == t.end) {
    return false;
  }
  if (has_other_name(token)) return false;
  return !is_in("not_a_name", token) && !is_in("function_word", token) &&
         !is_in("unit_word", token) && !is_in("layout_word", token);
}

// "P. Weir", "Giles Orme", "van Tassen", "Tolley": the end of the name, or `first` when there is
// none.
std::uint32_t BlockFinder::end_of_name(std::uint32_t first) const {
  std::uint32_t t = first;
  while (is_initial(t)) {
    ++t;
    if (t < result_.tokens.size() && word(t) == ".") ++t;
  }
  const bool has_initials = t > first;
  while (t < result_.tokens.size() && !result_.tokens[t].capital && is_in("name_particle", t)) ++t;
  if (!is_name_word(t)) return first;
  const bool goes_on = !has_initials && without_possessive(word(t)) == word(t) &&
                       is_name_word(t + 1) &&
                       result_.tokens[t + 1].begin == result_.tokens[t].end + 1;
  return goes_on ? t + 2 : t + 1;
}

// "T. Pell" where the ledger has August Pell.
bool BlockFinder::is_namesake(const Mention& surname, std::uint32_t first) const {
  const auto begins_alike = [&](std::string_view key) {
    return !key.empty() && key[0] == word(first)[0];
  };
  if (surname.readings.empty()) return !begins_alike(surname.value);
  return std::none_of(surname.readings.begin(), surname.readings.end(), begins_alike);
}

void BlockFinder::add_person(std::uint32_t first, std::uint32_t last, std::string_view why) {
  Mention& mention = add_tokens(MentionKind::kPerson, result_.tokens[first].begin,
                                result_.tokens[last - 1].end, first, last);
  mention.value =
      memory_.keep(without_possessive(text_.substr(mention.begin, mention.end - mention.begin)));
  mention.role = "unlisted";
  mention.known = false;
  mention.why = why;
}

// The surname of somebody in the ledger behind initials or a first name that are not theirs.
void BlockFinder::add_namesakes() {
  const std::size_t count = result_.items.size();
  for (std::size_t i = 0; i < count; ++i) {
    const Mention& held = result_.items[i];
    const bool is_surname = held.kind == MentionKind::kPerson && held.known &&
                            held.last == held.first + 1 && held.role != "first name";
    if (!is_surname || held.first == 0) continue;
    const Mention surname = held;
    std::uint32_t first = surname.first;
    while (first >= 2 && word(first - 1) == "." && is_initial(first - 2)) first -= 2;
    if (first == surname.first && is_initial(first - 1)) --first;
    if (first != surname.first && !is_namesake(surname, first)) {
      // "Boatswain T. Wray", where the ledger has a Tobit Wray and no such alias: all of it is his
      // name, and what stands before it is his too.
      result_.items[i].first = first;
      result_.items[i].begin = result_.tokens[first].begin;
      continue;
    }
    if (first == surname.first && is_name_word(first - 1) && first >= 2 &&
        result_.tokens[first - 1].end + 1 == result_.tokens[first].begin &&
        !result_.tokens[first - 1].sentence_start &&
        result_.tokens[first - 2].kind == TokenKind::kWord &&
        without_possessive(word(first - 1)) == word(first - 1)) {
      --first;
    }
    if (first == surname.first || !is_namesake(surname, first)) continue;
    const bool is_known =
        std::any_of(result_.items.begin(), result_.items.end(), [&](const Mention& other) {
          return other.kind == MentionKind::kPerson && other.first < surname.first &&
                 other.last >= surname.last;
        });
    if (!is_known) add_person(first, surname.last, memory_.tell("a namesake of ", surname.value));
  }
}

// "Mechanic Tolley", "Sgts Orme, P. Weir and Clegg": the names after a rank, one of the singular.
void BlockFinder::add_ranked(const Mention& rank) {
  std::uint32_t t = rank.last;
  if (t < result_.tokens.size() && word(t) == "." && rank.role == "short") ++t;
  for (bool is_last = !rank.plural;;) {
    const Mention* known = person_at(t);
    const std::uint32_t end = known != nullptr ? known->last : end_of_name(t);
    if (end == t) return;
    if (known == nullptr &&
        !covered(MentionKind::kPerson, result_.tokens[t].begin, result_.tokens[end - 1].end)) {
      add_person(t, end, "a name after a rank");
    }
    if (is_last) return;
    t = end;
    while (t < result_.tokens.size() && (word(t) == "," || word(t) == "&" || office(t) == "and")) {
      is_last |= word(t) != ",";
      ++t;
    }
    if (t == end) return;
    // Without an "and" the list has no end: "Sergeants Orme, Westhill".
    const std::uint32_t name_end = person_at(t) != nullptr ? person_at(t)->last : end_of_name(t);
    const bool goes_on =
        name_end > t && name_end < result_.tokens.size() &&
        (word(name_end) == "," || office(name_end) == "and" || word(name_end) == "&");
    if (!is_last && !goes_on) return;
  }
}

// In a row of names: "Clegg, P. Weir, Rushby", "Clegg, Tolley and Rushby".
void BlockFinder::add_listed() {
  constexpr std::uint32_t kReach = 12;
  const auto& tokens = result_.tokens;
  const auto has_person = [&](std::uint32_t from, std::uint32_t to) {
    return std::any_of(result_.items.begin(), result_.items.end(), [&](const Mention& mention) {
      return mention.kind == MentionKind::kPerson && mention.role != "first name" &&
             mention.first >= from && mention.last <= to;
    });
  };
  for (std::uint32_t t = 1; t + 1 < tokens.size(); ++t) {
    if (!tokens[t].capital || covered(MentionKind::kPerson, tokens[t].begin, tokens[t].end))
      continue;
    const auto before = office(t - 1);
    const bool joins = before == "," || before == ";" || before == ":" || before == "(" ||
                       before == "and" || before == "&";
    if (!joins) continue;
    if (is_initial(t)) {
      const std::uint32_t end = end_of_name(t);
      if (end == t || word(t + 1) != ".") continue;
      if (!has_person(t < kReach ? 0 : t - kReach, t) && !has_person(end, end + kReach)) continue;
      add_person(t, end, "initials in a row of names");
      continue;
    }
    if (before != "," || t < 2 || !is_name_word(t) || end_of_name(t) != t + 1) continue;
    const auto after = office(t + 1);
    if (after != "," && after != "and" && after != "&") continue;
    const bool between =
        std::any_of(result_.items.begin(), result_.items.end(),
                    [&](const Mention& mention) {
                      return mention.kind == MentionKind::kPerson && mention.last == t - 1;
                    }) &&
        t + 2 < tokens.size() && person_at(t + 2) != nullptr;
    if (between) add_person(t, t + 1, "between two names");
  }
}

// Named once in full, a stranger is known by the surname in the rest of the block.
void BlockFinder::add_surnames() {
  std::vector<std::pair<std::string, std::string>> names;  // surname, name as first written
  for (const Mention& mention : result_.items) {
    if (mention.kind != MentionKind::kPerson || mention.role != "unlisted") continue;
    const std::size_t blank = mention.value.find_last_of(" .");
    const std::string surname(
        blank == std::string::npos ? mention.value : Spelling(mention.value.substr(blank + 1)));
    const bool is_held = std::any_of(names.begin(), names.end(),
                                     [&](const auto& name) { return name.first == surname; });
    if (!is_held) names.emplace_back(surname, mention.value);
  }
  if (names.empty()) return;
  for (std::uint32_t t = 0; t < result_.tokens.size(); ++t) {
    if (!is_name_word(t) ||
        covered(MentionKind::kPerson, result_.tokens[t].begin, result_.tokens[t].end)) {
      continue;
    }
    for (const auto& [surname, name] : names) {
      if (without_possessive(word(t)) != surname) continue;
      add_person(t, t + 1, "the surname of " + name);
      result_.items.back().value = memory_.keep(name);
      break;
    }
  }
}

// "Captain Penlow", where the ledger has a place of that name: somebody who is called as it is. Not
// "the Station Commander Penlow", nor where the place has more words.
void BlockFinder::drop_places_behind_ranks() {
  std::vector<std::uint32_t> names;
  for (const Mention& rank : result_.items) {
    if (rank.kind != MentionKind::kRank || rank.plural) continue;
    if (rank.role != "short" && !result_.tokens[rank.first].capital) continue;
    if (rank.first > 0 &&
        (is_in("site_noun", rank.first - 1) || is_in("unit_word", rank.first - 1)))
      continue;
    std::uint32_t name = rank.last;
    if (rank.role == "short" && name < result_.tokens.size() && word(name) == ".") ++name;
    if (name >= result_.tokens.size()) continue;
    const std::uint32_t end = result_.tokens[name - 1].end;
    if (result_.tokens[name].begin == end + 1 && text_[end] == ' ') names.push_back(name);
  }
  for (const std::uint32_t name : names) {
    const auto is_place_here = [&](const Mention& mention) {
      return mention.kind == MentionKind::kPlace && mention.first == name;
    };
    const bool has_longer = std::any_of(
        result_.items.begin(), result_.items.end(),
        [&](const Mention& mention) { return is_place_here(mention) && mention.last > name + 1; });
    if (has_longer || std::erase_if(result_.items, is_place_here) == 0) continue;
    occupied_[name] &=
        static_cast<std::uint16_t>(~(1U << static_cast<unsigned>(MentionKind::kPlace)));
  }
}

void BlockFinder::find_people() {
  const auto is_person_or_rank = [](const Mention& mention) {
    return (mention.kind == MentionKind::kPerson && mention.role != "first name") ||
           mention.kind == MentionKind::kRank;
  };
  if (std::none_of(result_.items.begin(), result_.items.end(), is_person_or_rank)) return;
  drop_places_behind_ranks();
  add_namesakes();
  const std::size_t count = result_.items.size();
  for (std::size_t i = 0; i < count; ++i) {
    if (result_.items[i].kind != MentionKind::kRank) continue;
    const Mention rank = result_.items[i];
    if (rank.role == "short" || result_.tokens[rank.first].capital) add_ranked(rank);
  }
  add_listed();
  add_surnames();
}

}  // namespace tailproof

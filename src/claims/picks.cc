// "The nearer machine", "the leader", "the other", "the latter", "its sister": one of several
// machines named before, told by its place in the picture or in the list.
//
// Which one is meant must follow from words of the block, else the claim stays with the figure: a
// marking given to the wrong machine of two is worse than none.
#include <algorithm>
#include <cctype>
#include <cstdlib>

#include "claims/assembler.h"
#include "grammars/fold.h"

namespace tailproof {

// Machines shown and named up to a token, in the order of their first naming.
NameList BlockAssembler::named_before(std::uint32_t token) const {
  std::vector<std::string> serials;
  for (const Group& group : groups_) {
    if (group.last > token || group.is_either || attributed_[group.first] != 0) continue;
    if (is_caption() && !group.shown) continue;
    for (const std::string& serial : group.serials) {
      if (std::find(serials.begin(), serials.end(), serial) == serials.end())
        serials.push_back(serial);
    }
  }
  return serials;
}

// Behind "the nearer": a noun for a machine, or words that cannot be what is picked out. The token
// behind the pick; 0 when it is none ("the other hangar", "the first of May").
std::uint32_t BlockAssembler::end_of_pick(std::uint32_t token) const {
  if (token >= mentions_.tokens.size()) return token;
  if (is_in("machine_noun", token)) return token + 1;
  for (const Mention& mention : mentions_of(MentionKind::kType)) {
    if (mention.first == token) return mention.last;
  }
  if (mentions_.tokens[token].kind == TokenKind::kMark) return word(token) == "-" ? 0 : token;
  const Spelling w = office(token);
  // "The former of the School, the latter of 9 Squadron", and not "the former of the two".
  const bool is_of_pair = token > 0 && is_in("pair_word", token - 1) && w != "and" &&
                          !(token + 2 < mentions_.tokens.size() && is_in("determiner", token + 1) &&
                            is_in("number", token + 2));
  if (is_of_pair && is_in("object_preposition", token)) return token;
  if (w == "of" || w == "to" || w == "and") return 0;
  // "The nearer has a band, the other a flash"
  return is_in("function_word", token) || tells_at(token) || is_in("determiner", token) ? token : 0;
}

// Where in the picture the words right beside a machine's name put it: a value of machine_pick.
std::string BlockAssembler::place_of(const std::string& serial) const {
  constexpr std::uint32_t kReach = 4;
  const WordList* picks = lexicon_.grammars().list("machine_pick");
  std::string found;
  for (const Group& group : groups_) {
    if (group.serials.size() != 1 && group.members.size() < 2) continue;
    for (std::uint32_t m = 0; m < group.members.size(); ++m) {
      const Mention& mention = mentions_.items[group.members[m]];
      if (mention.value != serial) continue;
      const std::uint32_t limit = m + 1 < group.members.size()
                                      ? mentions_.items[group.members[m + 1]].first
                                      : mention.last + kReach;
      const std::uint32_t sentence = clauses_.sentence_of[mention.first];
      for (std::uint32_t t = mention.last; t < std::min(limit, mention.last + kReach); ++t) {
        if (t >= mentions_.tokens.size() || clauses_.sentence_of[t] != sentence || word(t) == ",")
          break;
        const std::string_view value = value_in(picks, t);
        if (!value.empty() && value != "other" &&
            !std::isdigit(static_cast<unsigned char>(value[0])))
          return std::string(value);
      }
      for (std::uint32_t t = mention.first; t-- > 0 && mention.first - t <= kReach;) {
        if (clauses_.sentence_of[t] != sentence || word(t) == "," || word(t) == ")") break;
        const std::string_view value = value_in(picks, t);
        if (!value.empty() && value != "other" &&
            !std::isdigit(static_cast<unsigned char>(value[0])))
          return std::string(value);
      }
    }
  }
  return found;
}

std::string BlockAssembler::picked(std::string_view which, std::uint32_t token,
                                   const std::vector<std::string>& among) const {
  if (which == "other") {
    // Of two, the one that was not spoken of last.
    if (among.size() != 2) return {};
    const Group* last = nullptr;
    for (const Group& group : groups_) {
      if (group.last <= token && group.serials.size() == 1) last = &group;
      if (group.last <= token && group.serials.size() > 1) last = nullptr;
    }
    if (last == nullptr) return {};
    if (last->serials.front() == among.front()) return among.back();
    return last->serials.front() == among.back() ? among.front() : std::string{};
  }
  const bool is_ordinal = std::isdigit(static_cast<unsigned char>(which[0])) != 0;
  if (is_ordinal || which == "last") {
    const std::size_t index =
        which == "last" ? among.size() - 1 : static_cast<std::size_t>(which[0] - '1');
    return index < among.size() ? among[index] : std::string{};
  }
  std::string found;
  std::vector<std::string> elsewhere;  // said to be in another place
  for (const std::string& serial : among) {
    const std::string place = place_of(serial);
    if (place == which) {
      if (!found.empty()) return {};
      found = serial;
    } else if (!place.empty()) {
      elsewhere.push_back(serial);
    }
  }
  if (!found.empty()) return found;
  // Of two, one said to be behind leaves the other for the nearer.
  if (among.size() != 2 || elsewhere.size() != 1) return {};
  return elsewhere.front() == among.front() ? among.back() : among.front();
}

// "The first four", "the other two": as many of the machines named before as the words count.
NameList BlockAssembler::several_picked(std::string_view which, std::size_t number,
                                        std::uint32_t token, std::vector<std::string> among) const {
  if (number == 0 || among.size() <= number) return {};
  if (which == "1") return {among.begin(), among.begin() + static_cast<std::ptrdiff_t>(number)};
  if (which == "last") return {among.end() - static_cast<std::ptrdiff_t>(number), among.end()};
  if (which != "other") return {};
  // Those that the words before did not speak of.
  const Group* last = nullptr;
  for (const Group& group : groups_) {
    if (group.last <= token) last = &group;
  }
  if (last == nullptr || last->serials.size() + number != among.size()) return {};
  std::erase_if(among, [&](const std::string& serial) {
    return std::find(last->serials.begin(), last->serials.end(), serial) != last->serials.end();
  });
  return among.size() == number ? among : std::vector<std::string>{};
}

// "Of them", "of these", "of the eight" behind a pick: the token behind; 0 when it is none.
std::uint32_t BlockAssembler::end_of_them(std::uint32_t token) const {
  if (office(token) != "of") return 0;
  const auto events = index_.of("cue_event");
  const bool is_event = std::any_of(events.begin(), events.end(), [&](std::uint32_t c) {
    return mentions_.items[c].first == token + 2;
  });
  if (is_in("pick_of", token + 1) && !is_in("machine_noun", token + 2) &&
      (token + 2 >= mentions_.tokens.size() || is_event || is_in("function_word", token + 2) ||
       mentions_.tokens[token + 2].kind == TokenKind::kMark || is_in("pick_verb", token + 2)))
    return token + 2;
  if (is_in("determiner", token + 1) && is_in("number", token + 2)) {
    return is_in("machine_noun", token + 3) ? token + 4 : token + 3;
  }
  return 0;
}

// The machines that "of them" means: those listed in the sentence, else in the one before. What
// else is counted between may be meant as well, and in two lists the first may be of either.
NameList BlockAssembler::listed_before(std::uint32_t token, std::string_view which) const {
  const std::uint32_t own = clauses_.sentence_of[token];
  for (const std::uint32_t back : {0U, 1U}) {
    if (back > own) break;
    std::vector<std::string> serials;
    std::uint32_t end = token, lists = 0;
    for (const Group& group : groups_) {
      if (group.last > token || group.is_either || group.members.empty() ||
          clauses_.sentence_of[group.first] != own - back)
        continue;
      for (const std::string& serial : group.serials) {
        if (std::find(serials.begin(), serials.end(), serial) == serials.end())
          serials.push_back(serial);
      }
      end = group.last;
      ++lists;
    }
    if (serials.size() < 2) continue;
    for (std::uint32_t t = end; t < token; ++t) {
      if (is_in("number", t) && mention_over(MentionKind::kDate, t) == nullptr) return {};
    }
    // "X12 came in May, and X14 in June. The first of the two": there are no others.
    const auto told = value_in(lexicon_.grammars().list("number"), token + 4);
    const bool is_counted = office(token + 2) == "of" && is_in("determiner", token + 3) &&
                            told == std::to_string(serials.size());
    return lists > 1 && which != "last" && !is_counted ? std::vector<std::string>{} : serials;
  }
  return {};
}

// "X12, X14 and X15, the last of them lost in May": the last of the list and the last to be lost
// may be two machines, and then nobody can say which is meant.
bool BlockAssembler::is_otherwise_in_time(const std::string& one,
                                          const std::vector<std::string>& listed,
                                          std::string_view which, std::uint32_t token) const {
  std::string_view kinds;
  for (const std::uint32_t c : index_.of("cue_event")) {
    if (mentions_.items[c].first == token) kinds = mentions_.items[c].value;
  }
  if (kinds.empty() || (which != "1" && which != "last")) return false;
  const auto day_of = [&](const std::string& serial) -> std::optional<Day> {
    const Airframe* airframe = ledger_.airframe(serial);
    const Edtf* day = airframe == nullptr               ? nullptr
                      : kinds.starts_with("taken_on")   ? &airframe->taken_on_charge
                      : kinds.starts_with("struck_off") ? &airframe->struck_off_charge
                                                        : nullptr;
    for (const History* row : ledger_.history_of(serial)) {
      if (kinds.find(row->kind) != std::string_view::npos) day = &row->spell.from;
    }
    if (day == nullptr || day->days().empty() || day->days().is_all()) return std::nullopt;
    return day->days().first();
  };
  const std::optional<Day> own = day_of(one);
  return std::any_of(listed.begin(), listed.end(), [&](const std::string& serial) {
    const std::optional<Day> other = day_of(serial);
    if (!own || !other) return other.has_value();
    return which == "last" ? *other > *own : *other < *own;
  });
}

// "The first with the old band, the second with two": one machine after the other, in one sentence.
bool BlockAssembler::is_one_in_row(std::uint32_t token, std::string_view which) const {
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  const WordList* picks = lexicon_.grammars().list("machine_pick");
  const auto is_place = [](std::string_view value) {
    return value == "last" || (!value.empty() && value.front() >= '1' && value.front() <= '9');
  };
  const std::uint32_t behind = token + 2;
  if (!is_caption() || !is_place(which) || behind >= count) return false;
  const bool goes_on = is_in("object_preposition", behind) || is_in("determiner", behind) ||
                       is_in("pick_verb", behind) || folded(behind) == "without";
  if (!goes_on || office(behind) == "of") return false;
  for (std::uint32_t t = 0; t + 1 < count; ++t) {
    if (t == token || clauses_.sentence_of[t] != clauses_.sentence_of[token]) continue;
    const std::string_view value = value_in(picks, t + 1);
    if (office(t) == "the" && is_place(value) && value != which) return true;
  }
  return false;
}

void BlockAssembler::make_picks() {
  const WordList* picks = lexicon_.grammars().list("machine_pick");
  if (groups_.empty() || !has_word_of("machine_pick") || !has_word_of("pick_article")) return;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = next_of("pick_article", 0, count); t + 1 < count;
       t = next_of("pick_article", t + 1, count)) {
    const std::string_view which = value_in(picks, t + 1);
    // "The First Bombers were home".
    if (which.empty() || mention_over(MentionKind::kUnit, t + 1) != nullptr) continue;
    const bool is_of_it = office(t) != "the";
    if (is_of_it != (value_in(lexicon_.grammars().list("pick_relative"), t + 1) == "its")) continue;
    const auto number = static_cast<std::size_t>(
        std::atoi(std::string(value_in(lexicon_.grammars().list("number"), t + 2)).c_str()));
    if (number > 1) {
      const std::uint32_t behind = end_of_pick(t + 3);
      Group several;
      if (behind != 0) several.serials = several_picked(which, number, t, named_before(t));
      // "Only X12 can be named; the other two are of 8 Squadron".
      const bool is_unknown = which == "other" && is_caption() && behind != 0 && tells_at(behind);
      if (several.serials.empty() && !is_unknown) continue;
      several.first = t;
      several.last = behind;
      several.clause = clauses_.clause_of[t];
      insert_group(std::move(several));
      continue;
    }
    if (const std::uint32_t behind = end_of_them(t + 2); behind != 0 && which != "other") {
      const std::vector<std::string> listed = listed_before(t, which);
      std::string one = listed.empty() ? std::string{} : picked(which, t, listed);
      if (!one.empty() && is_otherwise_in_time(one, listed, which, behind)) one.clear();
      if (one.empty() && groups_.front().first > t) continue;
      Group pick;
      if (!one.empty()) pick.serials = {one};
      pick.first = t;
      pick.last = behind;
      pick.clause = clauses_.clause_of[t];
      insert_group(std::move(pick));
      continue;
    }
    const bool is_said_alone = !is_in("pick_with_noun", t + 1) || is_one_in_row(t, which);
    const std::uint32_t end = is_one_in_row(t, which) ? t + 2 : end_of_pick(t + 2);
    // "On the third the bars are missing"
    const bool is_place = t > 0 && office(t - 1) == "on" && is_in("determiner", t + 2);
    if (end == 0 || (!is_said_alone && end == t + 2 && !is_in("pick_verb", t + 2) && !is_place))
      continue;
    // "On the left is P305": where it stands, and nothing more.
    const std::vector<std::string> among = named_before(t);
    if (among.size() < 2) continue;
    const bool is_named_behind =
        std::any_of(groups_.begin(), groups_.end(), [&](const Group& group) {
          return group.first >= end && group.first - end <= 2 && !group.members.empty() &&
                 clauses_.sentence_of[group.first] == clauses_.sentence_of[t];
        });
    if (is_named_behind) continue;
    Group pick;
    const std::string serial = picked(which, t, among);
    if (!serial.empty()) pick.serials = {serial};
    if (serial.empty() && !is_caption()) continue;
    pick.first = t;
    pick.last = end;
    pick.clause = clauses_.clause_of[t];
    insert_group(std::move(pick));
  }
}

}  // namespace tailproof

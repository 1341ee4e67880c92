#include "mentions/marking_looks.h"

#include <algorithm>
#include <array>
#include <set>

#include "grammars/fold.h"

namespace tailproof {
namespace {

constexpr std::uint32_t kReach = 6;  // words between a noun and what it looks like
constexpr std::uint32_t kAside = 9;  // words between two commas

const Grammars& no_lists() {
  static const Grammars kNone;
  return kNone;
}

bool holds(const WordList* list, std::string_view folded) {
  return list != nullptr && !list->value_of(folded).empty();
}

std::vector<std::string> plain_words(std::string_view text) {
  std::vector<std::string> words;
  for (const Token& token : tokenize(text, no_lists())) {
    if (token.kind != TokenKind::kMark) words.push_back(folded_word(text, token));
  }
  return words;
}

}  // namespace

MarkingLooks::MarkingLooks(const Ledger& ledger, const Grammars& grammars)
    : roles_(grammars.list("marking_look")),
      parts_(grammars.list("painted_part")),
      colours_(grammars.list("colour_word")),
      shapes_(grammars.list("striping_noun")),
      forms_(grammars.list("marking_word_form")),
      gaps_(grammars.list("marking_gap_word")),
      determiners_(grammars.list("determiner")),
      numbers_(grammars.list("number")) {
  if (roles_ == nullptr || parts_ == nullptr) return;
  for (const Marking& marking : ledger.markings()) {
    add_rings(marking);
    add_paint(marking);
  }
}

std::uint32_t MarkingLooks::number_of(std::string_view word) {
  const auto next = static_cast<std::uint32_t>(words_.size()) + 1;
  return words_.try_emplace(std::string(word), next).first->second;
}

// "Cowl" and "cowlings" are one part.
std::string_view MarkingLooks::part_of(std::string_view folded) const {
  return parts_->value_of(folded);
}

// "Bars" and "bands" of a rudder are its stripes: the value in the list, by which they are one;
// else
// "".
std::string MarkingLooks::shape_of(std::string_view folded) const {
  return shapes_ != nullptr ? std::string(shapes_->value_of(folded)) : std::string{};
}

// A colour is itself, of a pattern the noun counts ("striped" as "stripes"); else "".
std::string MarkingLooks::colour_of(std::string_view folded) const {
  if (holds(colours_, folded)) return std::string(folded);
  const std::string_view form = forms_ != nullptr ? forms_->value_of(folded) : std::string_view{};
  if (!folded.ends_with("ed") || form.empty()) return {};
  const std::string shape = shape_of(form);
  return shape.empty() ? std::string(form) : shape;
}

// "yellow 7;green 6;white 4".
void MarkingLooks::add_rings(const Marking& marking) {
  Rings rings;
  rings.marking = &marking;
  for (const std::string& word : plain_words(marking.rings)) {
    if (holds(colours_, word)) {
      rings.colours.push_back(number_of(word));
    } else if (word.find_first_not_of("0123456789") != std::string::npos) {
      return;  // "disc 4;bar length 2"
    }
  }
  if (rings.colours.size() < 2 || marking.family.empty()) return;
  const auto own = static_cast<std::uint32_t>(families_.size()) + 1;
  const std::string noun = fold(marking.family);
  // "Red, white and green stripes" are not round.
  if (part_of(noun) != "" || noun.find(' ') != std::string::npos) return;
  rings.family = families_.try_emplace(noun, own).first->second;
  families_.try_emplace(noun + "s", rings.family);
  rings_.push_back(std::move(rings));
}

// "Red spinner", "striped rudder", "yellow wing tips": names of a colour and a part and nothing
// else; and by "cowlings or bow in yellow" the parts that the description gives such a marking.
void MarkingLooks::add_paint(const Marking& marking) {
  std::vector<std::string> names = marking.aliases;
  names.push_back(marking.marking);
  const std::size_t before = paints_.size();
  for (const std::string& name : names) add_paint_of(marking, name);
  if (paints_.size() == before) return;
  const std::uint32_t colour = paints_.back().colour;
  const std::vector<std::string> told = plain_words(marking.description);
  const bool has_colour = std::any_of(told.begin(), told.end(), [&](const std::string& word) {
    const std::string found = colour_of(word);
    return !found.empty() && number_of(found) == colour;
  });
  if (!has_colour) return;
  // "White band on the nose cowling": what else it speaks of is not the part.
  for (std::size_t w = 0; w < told.size(); ++w) {
    const bool is_led = w == 0 || told[w - 1] == "or" || told[w - 1] == "and";
    const std::string_view part = part_of(told[w]);
    if (is_led && !part.empty()) paints_.push_back(paint_of(marking, number_of(part), colour));
  }
}

MarkingLooks::Paint MarkingLooks::paint_of(const Marking& marking, std::uint32_t part,
                                           std::uint32_t colour) {
  Paint paint{&marking, part, colour, {}, 0};
  const auto add_colours = [&](std::string_view text) {
    for (const std::string& word : plain_words(text)) {
      if (!holds(colours_, word)) continue;
      const std::uint32_t number = number_of(word);
      if (std::find(paint.told.begin(), paint.told.end(), number) == paint.told.end())
        paint.told.push_back(number);
    }
  };
  add_colours(marking.rings);
  paint.ring_colours = static_cast<std::uint32_t>(paint.told.size());
  if (paint.told.empty()) add_colours(marking.description);
  return paint;
}

void MarkingLooks::add_paint_of(const Marking& marking, std::string_view words) {
  std::string colour, shape;
  std::string_view part;
  bool has_other = false;
  for (const std::string& word : plain_words(words)) {
    const std::string own = colour_of(word), stripes = shape_of(word);
    const std::string_view found = part_of(word);
    if (!stripes.empty()) {
      shape = stripes;
    } else if (!own.empty()) {
      has_other = has_other || !colour.empty();
      colour = own;
    } else if (!found.empty()) {
      if (part.empty() || found != "wing") part = found;  // "wing tips" are tips
    } else {
      has_other = true;
    }
  }
  // "Rudder stripes", of which "the rudder is striped" speaks; "two-colour fin stripe" is such a
  // stripe as well.
  const std::string& look = shape.empty() ? colour : shape;
  if (look.empty() || part.empty() || (shape.empty() && has_other)) return;
  paints_.push_back(paint_of(marking, number_of(part), number_of(look)));
}

MarkingLooks::Met MarkingLooks::look_at(const Word& word) const {
  Met met;
  met.is_met = true;
  const std::string_view folded = word.folded;
  if (const auto family = families_.find(folded); family != families_.end()) {
    met.role = Role::kFamily;
    met.value = family->second;
    return met;
  }
  if (const std::string_view part = part_of(folded); !part.empty()) {
    met.role = Role::kPart;
    const auto known = words_.find(part);
    met.value = known != words_.end() ? known->second : 0;
    return met;
  }
  const std::string shape = shape_of(folded);
  if (const std::string colour = shape.empty() ? colour_of(folded) : shape; !colour.empty()) {
    met.role = shape.empty() ? Role::kColour : Role::kShape;
    met.is_one_colour = holds(colours_, folded);
    const auto known = words_.find(colour);
    met.value = known != words_.end() ? known->second : 0;
    return met;
  }
  static constexpr std::array<std::pair<std::string_view, Role>, 8> kRoles = {{
      {"outer", Role::kOuter},
      {"inner", Role::kInner},
      {"ring", Role::kRing},
      {"lost", Role::kLost},
      {"link", Role::kLink},
      {"tie", Role::kTie},
      {"join", Role::kJoin},
      {"gap", Role::kGap},
  }};
  const std::string_view told = roles_->value_of(folded);
  for (const auto& [name, role] : kRoles) {
    if (told == name) met.role = role;
  }
  if (met.role == Role::kNone && (holds(gaps_, folded) || holds(determiners_, folded)))
    met.role = Role::kGap;
  if (numbers_ != nullptr) {
    const std::string_view number = numbers_->value_of(folded);
    if (number.size() == 1) met.count = number.front() - '0';
  }
  return met;
}

/// One text.
class MarkingLooks::Reader {
 public:
  Reader(const MarkingLooks& looks, const std::vector<Token>& tokens, const Memory& memory)
      : looks_(looks), tokens_(tokens), memory_(memory) {}

  [[nodiscard]] std::vector<Match> read() {
    const auto count = static_cast<std::uint32_t>(tokens_.size());
    for (std::uint32_t t = 0; t < count; ++t) {
      if (role(t) == Role::kFamily) {
        read_family(t);
      } else if (role(t) == Role::kPart && met(t).value != 0) {
        read_part(t);
      }
    }
    return std::move(matches_);
  }

 private:
  using Forms = std::vector<const Rings*>;

  [[nodiscard]] const Met& met(std::uint32_t t) const { return memory_[tokens_[t].word->number]; }
  [[nodiscard]] Role role(std::uint32_t t) const {
    return t < tokens_.size() ? met(t).role : Role::kNone;
  }
  [[nodiscard]] bool is_hyphen(std::uint32_t t) const {
    return t < tokens_.size() && tokens_[t].word->folded == "-";
  }
  /// A colour and not a pattern.
  [[nodiscard]] bool is_colour(std::uint32_t t) const {
    return role(t) == Role::kColour && met(t).is_one_colour;
  }
  /// Whether what stands before the token is told to its end there.
  [[nodiscard]] bool ends_at(std::uint32_t t) const {
    if (t >= tokens_.size() || tokens_[t].sentence_start) return true;
    if (is_hyphen(t)) return false;                    // "yellow-edged"
    if (role(t) == Role::kGap) return ends_at(t + 1);  // "in green and white only"
    const Word& word = *tokens_[t].word;
    return word.kind == TokenKind::kMark || role(t) == Role::kTie || role(t) == Role::kJoin ||
           role(t) == Role::kLink || !word.office.empty();
  }

  template <class Test>
  [[nodiscard]] Forms forms_of(std::uint32_t family, const Test& test) const {
    Forms found;
    for (const Rings& form : looks_.rings_) {
      if (form.family == family && test(form)) found.push_back(&form);
    }
    return found;
  }
  /// What all forms of a family share tells nothing.
  void add(std::uint32_t first, std::uint32_t last, const Forms& forms) {
    if (forms.empty()) return;
    const auto all = forms_of(forms.front()->family, [](const Rings&) { return true; });
    if (all.size() == forms.size()) return;
    Match match{first, last, {}};
    for (const Rings* form : forms) match.markings.push_back(form->marking);
    matches_.push_back(std::move(match));
  }

  void read_family(std::uint32_t noun);
  void read_ring_of(std::uint32_t first, std::uint32_t last, std::uint32_t noun, bool is_lost);
  bool read_colours(std::uint32_t noun);
  void read_count(std::uint32_t noun);
  void read_part(std::uint32_t noun);
  bool read_stripes(std::uint32_t noun);
  [[nodiscard]] std::uint32_t past_aside(std::uint32_t t) const;
  void add_paint(std::uint32_t first, std::uint32_t last, std::uint32_t part, std::uint32_t colour);
  [[nodiscard]] bool has_told_colours(const Paint& paint, std::uint32_t first,
                                      std::uint32_t last) const;

  const MarkingLooks& looks_;
  const std::vector<Token>& tokens_;
  const Memory& memory_;
  std::vector<Match> matches_;
};

// A colour at `first`, with the noun for a ring behind it or none, said of the family's noun: the
// form that has that ring, or that has it no more.
void MarkingLooks::Reader::read_ring_of(std::uint32_t first, std::uint32_t last, std::uint32_t noun,
                                        bool is_lost) {
  const std::uint32_t colour = met(first).value;
  const std::uint32_t family = met(noun).value;
  bool is_outer = false, is_inner = false, is_ring = false;
  for (std::uint32_t t = first + 1; t < last; ++t) {
    is_outer = is_outer || role(t) == Role::kOuter;
    is_inner = is_inner || role(t) == Role::kInner;
    is_ring = is_ring || role(t) == Role::kRing;
  }
  const auto has = [&](const Rings& form) {
    if (is_outer) return form.colours.front() == colour;
    if (is_inner) return form.colours.back() == colour;
    return std::find(form.colours.begin(), form.colours.end(), colour) != form.colours.end();
  };
  // What no form has is told of something else.
  if (forms_of(family, has).empty()) return;
  if (!is_lost && !is_outer && !is_inner && !is_ring) return;
  add(std::min(first, noun), std::max(last, noun + 1),
      forms_of(family, [&](const Rings& form) { return has(form) != is_lost; }));
}

// "The green and white roundel", "the roundel is in green and white": all its colours, and no more.
bool MarkingLooks::Reader::read_colours(std::uint32_t noun) {
  const auto read = [&](std::uint32_t first, std::uint32_t last) {
    std::set<std::uint32_t> told;
    bool is_joined = false;
    for (std::uint32_t t = first; t < last; ++t) {
      if (is_colour(t)) told.insert(met(t).value);
      is_joined = is_joined || (role(t) == Role::kJoin && tokens_[t].word->folded != ",");
    }
    if (!is_joined || told.size() < 2) return false;
    add(std::min(first, noun), std::max(last, noun + 1),
        forms_of(met(noun).value, [&](const Rings& form) {
          return std::set<std::uint32_t>(form.colours.begin(), form.colours.end()) == told;
        }));
    return true;
  };
  std::uint32_t first = noun;
  while (first > 0 && (is_colour(first - 1) || role(first - 1) == Role::kJoin)) --first;
  while (first < noun && !is_colour(first)) ++first;
  if (first < noun && is_colour(noun - 1)) return read(first, noun);
  std::uint32_t t = noun + 1;
  bool has_link = false;
  for (; t < tokens_.size() && t - noun < kReach; ++t) {
    if (role(t) != Role::kLink && role(t) != Role::kGap && role(t) != Role::kTie) break;
    has_link = true;
  }
  if (!has_link || !is_colour(t)) return false;
  std::uint32_t last = t;
  while (is_colour(last) || (role(last) == Role::kJoin && is_colour(last + 1)) ||
         (role(last) == Role::kJoin && role(last + 1) == Role::kJoin && is_colour(last + 2)))
    ++last;
  return ends_at(last) && read(t, last);
}

// "A two-ring roundel", "the roundel of two colours".
void MarkingLooks::Reader::read_count(std::uint32_t noun) {
  const auto read = [&](std::uint32_t number, std::uint32_t ring) {
    const auto count = static_cast<std::size_t>(met(number).count);
    add(std::min(number, noun), std::max(ring, noun) + 1,
        forms_of(met(noun).value, [&](const Rings& form) { return form.colours.size() == count; }));
  };
  if (noun >= 2 && role(noun - 1) == Role::kRing) {
    const std::uint32_t number = is_hyphen(noun - 2) && noun >= 3 ? noun - 3 : noun - 2;
    if (met(number).count >= 2) read(number, noun - 1);
    return;
  }
  std::uint32_t t = noun + 1;
  while (t < tokens_.size() && t - noun < 3 && (role(t) == Role::kTie || role(t) == Role::kLink) &&
         met(t).count == 0)
    ++t;
  if (t == noun + 1 || t + 1 >= tokens_.size()) return;
  if (met(t).count >= 2 && role(t + 1) == Role::kRing && ends_at(t + 2)) read(t, t + 1);
}

void MarkingLooks::Reader::read_family(std::uint32_t noun) {
  // "A yellow outer ring to its roundels", "the white has gone from the roundel".
  std::uint32_t before = noun;
  bool is_tied = false, is_lost = false;
  while (before > 0 && noun - before < kReach + 2) {
    const Role r = role(before - 1);
    if (r == Role::kColour || r == Role::kNone || r == Role::kFamily || r == Role::kJoin) break;
    if (r == Role::kPart && before != noun) break;  // "in the hull roundel"
    --before;
    is_tied = is_tied || r == Role::kTie || r == Role::kLink;
    is_lost = is_lost || r == Role::kLost;
  }
  if (before > 0 && before < noun && is_colour(before - 1) && is_tied) {
    const std::uint32_t colour = before - 1;
    // "No white in the roundel": told of another form, and no denial.
    const bool is_denied = colour > 0 && role(colour - 1) == Role::kLost;
    const std::size_t known = matches_.size();
    read_ring_of(colour, noun, noun, is_lost || is_denied);
    if (is_denied && matches_.size() > known) --matches_.back().first;
    return;
  }
  if (read_colours(noun)) return;
  // "The roundel has lost its red", "the roundel in a thin yellow frame".
  std::uint32_t t = noun + 1;
  bool is_linked = false;
  is_lost = false;
  constexpr std::uint32_t kPlace = 3;
  for (; t < tokens_.size() && t - noun <= kReach + kPlace; ++t) {
    const Role r = role(t);
    // "The roundel on the hull has lost its red": past the part that it is on.
    if (r != Role::kLink && r != Role::kLost && r != Role::kGap && r != Role::kTie &&
        r != Role::kPart)
      break;
    is_linked = is_linked || r != Role::kGap;
    is_lost = is_lost || r == Role::kLost;
  }
  if (!is_linked || !is_colour(t)) {
    read_count(noun);
    return;
  }
  std::uint32_t last = t + 1;
  while (role(last) == Role::kGap || role(last) == Role::kOuter || role(last) == Role::kInner ||
         role(last) == Role::kRing || is_hyphen(last))
    ++last;
  // "The disc has lost its white band" is not about the disc.
  if (ends_at(last)) read_ring_of(t, last, noun, is_lost);
}

// "The fin carries the green and white stripe": the colours told are its own, and all of them.
bool MarkingLooks::Reader::has_told_colours(const Paint& paint, std::uint32_t first,
                                            std::uint32_t last) const {
  std::set<std::uint32_t> colours;
  for (std::uint32_t t = first; t < last; ++t) {
    if (is_colour(t)) colours.insert(met(t).value);
  }
  const bool are_own = std::all_of(colours.begin(), colours.end(), [&](std::uint32_t colour) {
    return std::find(paint.told.begin(), paint.told.end(), colour) != paint.told.end();
  });
  return colours.empty() ||
         (are_own && (paint.ring_colours == 0 || paint.ring_colours == colours.size()));
}

void MarkingLooks::Reader::add_paint(std::uint32_t first, std::uint32_t last, std::uint32_t part,
                                     std::uint32_t colour) {
  Match match{first, last, {}};
  for (const Paint& paint : looks_.paints_) {
    const bool is_known = std::find(match.markings.begin(), match.markings.end(), paint.marking) !=
                          match.markings.end();
    if (paint.part != part || paint.colour != colour || is_known) continue;
    // A colour alone is that of the name.
    const bool is_striped = std::any_of(
        tokens_.begin() + first, tokens_.begin() + last,
        [&](const Token& token) { return memory_[token.word->number].role == Role::kShape; });
    if (!is_striped || has_told_colours(paint, first, last))
      match.markings.push_back(paint.marking);
  }
  if (!match.markings.empty()) matches_.push_back(std::move(match));
}

// "The edges, as far in as the engines, are yellow".
std::uint32_t MarkingLooks::Reader::past_aside(std::uint32_t t) const {
  if (t >= tokens_.size() || tokens_[t].word->folded != ",") return t;
  for (std::uint32_t end = t + 1; end < tokens_.size() && end - t <= kAside; ++end) {
    if (tokens_[end].sentence_start) break;
    if (tokens_[end].word->folded == ",") return role(end + 1) == Role::kLink ? end + 1 : t;
  }
  return t;
}

// "The rudder keeps its three upright stripes", "three stripes over the whole rudder".
bool MarkingLooks::Reader::read_stripes(std::uint32_t noun) {
  const std::uint32_t part = met(noun).value;
  const auto is_within = [&](std::uint32_t t) {
    return role(t) == Role::kGap || role(t) == Role::kColour || role(t) == Role::kJoin ||
           (t < tokens_.size() && met(t).count != 0);
  };
  std::uint32_t first = noun;
  bool is_tied = false;
  while (first > 0 && noun - first < kReach &&
         (role(first - 1) == Role::kGap || role(first - 1) == Role::kTie)) {
    --first;
    is_tied = is_tied || role(first) == Role::kTie;
  }
  if (is_tied && first > 0 && role(first - 1) == Role::kShape) {
    const std::uint32_t shape = --first;
    while (first > 0 && is_within(first - 1) && role(first - 1) != Role::kGap) --first;
    add_paint(first, noun + 1, part, met(shape).value);
    return true;
  }
  std::uint32_t t = past_aside(noun + 1);
  bool is_linked = t > noun + 1;
  for (; t < tokens_.size() && t - noun < kReach + kReach && !tokens_[t].sentence_start; ++t) {
    if (role(t) != Role::kLink && !(is_linked && is_within(t))) break;
    is_linked = true;
  }
  if (!is_linked || role(t) != Role::kShape) return false;
  add_paint(noun, t + 1, part, met(t).value);
  return true;
}

void MarkingLooks::Reader::read_part(std::uint32_t noun) {
  const std::uint32_t part = met(noun).value;
  // "White wing tips", "yellow engine cowlings".
  std::uint32_t first = noun;
  while (first > 0 && noun - first < 3 &&
         (role(first - 1) == Role::kPart || role(first - 1) == Role::kGap || is_hyphen(first - 1)))
    --first;
  if (first > 0 && role(first - 1) == Role::kColour) {
    // "A red and white nose", "white-edged fin".
    const bool is_second =
        first > 2 && role(first - 2) == Role::kJoin && role(first - 3) == Role::kColour;
    const bool is_one = !is_second && (first < 2 || !is_hyphen(first - 2));
    if (is_one && !is_hyphen(noun + 1)) add_paint(first - 1, noun + 1, part, met(first - 1).value);
    return;
  }
  if (read_stripes(noun)) return;
  // "Spinners of a bright red", "the cowling still in regulation yellow", "tips already red".
  std::uint32_t t = past_aside(noun + 1);
  bool is_linked = t > noun + 1;
  for (; t < tokens_.size() && !tokens_[t].sentence_start; ++t) {
    const Role r = role(t);
    if (r != Role::kLink && r != Role::kGap) break;
    // "The tips had been white" is of an earlier time.
    if (tokens_[t].word->folded == "been" && role(t + 1) == Role::kColour) return;
    is_linked = true;
  }
  if (is_linked && role(t) == Role::kColour && ends_at(t + 1) &&
      !(role(t + 1) == Role::kJoin && role(t + 2) == Role::kColour))
    add_paint(noun, t + 1, part, met(t).value);
}

std::vector<MarkingLooks::Match> MarkingLooks::find(const std::vector<Token>& tokens,
                                                    Memory& memory) const {
  if (rings_.empty() && paints_.empty()) return {};
  bool has_noun = false, has_look = false;
  for (const Token& token : tokens) {
    const std::uint32_t number = token.word->number;
    if (number >= memory.size()) memory.resize(2 * std::size_t{number} + 1);
    if (!memory[number].is_met) memory[number] = look_at(*token.word);
    const Met& met = memory[number];
    has_noun = has_noun || met.role == Role::kFamily || (met.role == Role::kPart && met.value != 0);
    has_look = has_look || met.role == Role::kColour || met.role == Role::kRing ||
               met.role == Role::kShape;
  }
  if (!has_noun || !has_look) return {};
  return Reader(*this, tokens, memory).read();
}

}  // namespace tailproof

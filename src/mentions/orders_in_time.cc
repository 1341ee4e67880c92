// "Some weeks after Figure 2.25", "minutes before the picture above", "on the same sortie as Plate
// 4": a lead found by a pattern, what stands before it (a number, "a", "some", "within"), and the
// other photograph, which begins where the lead ends.
#include <algorithm>
#include <cstdlib>

#include "grammars/fold.h"
#include "mentions/finder.h"

namespace tailproof {
namespace {

// Numbers of a list's value: "7 8", "after 0 inf" without its first word.
std::vector<Day> numbers_in(std::string_view value) {
  std::vector<Day> numbers;
  std::size_t at = 0;
  while (at < value.size()) {
    const std::size_t end = std::min(value.find(' ', at), value.size());
    const std::string piece(value.substr(at, end - at));
    if (piece == "inf") {
      numbers.push_back(kLastDay);
    } else if (!piece.empty() && piece[0] >= '0' && piece[0] <= '9') {
      numbers.push_back(std::atoll(piece.c_str()));
    }
    at = end + 1;
  }
  return numbers;
}

std::string first_word(std::string_view value) {
  return std::string(value.substr(0, std::min(value.find(' '), value.size())));
}

// The same distance, told from the other way.
void point(OrderMention& order, std::string_view way, Day low, Day high) {
  if (way == "before") {
    order.least = high == kLastDay ? kFirstDay : -high;
    order.most = -low;
  } else if (way == "after") {
    order.least = low;
    order.most = high;
  } else {
    order.least = -high;
    order.most = high;
  }
}

}  // namespace

bool BlockFinder::is_in(ListName list, std::uint32_t token) const {
  return result_.tokens[token].word->is_in(lexicon_.grammars().list(list));
}

// The number that ends before token `end`: its first token and value; 0 when there is none.
BlockFinder::CountBefore BlockFinder::count_before(std::uint32_t end) const {
  if (end == 0) return {end, 0};
  const Token& token = result_.tokens[end - 1];
  if (token.kind == TokenKind::kNumber && token.end - token.begin <= 4) {
    return {end - 1, std::atoi(std::string(word(end - 1)).c_str())};
  }
  const WordList* numbers = lexicon_.grammars().list("number");
  if (numbers == nullptr || token.kind != TokenKind::kWord) return {end, 0};
  // "twenty-one" may be one word or three.
  if (end >= 3 && word(end - 2) == "-") {
    const std::string whole = std::string(folded(end - 3)) + "-" + std::string(folded(end - 1));
    const int value = std::atoi(std::string(numbers->value_of(whole)).c_str());
    if (value > 0) return {end - 3, value};
  }
  const int value = std::atoi(std::string(value_in(numbers, end - 1)).c_str());
  return {value > 0 ? end - 1 : end, value};
}

// Days of "three weeks and" before `end`; none where no length and "and" stand there.
BlockFinder::CountBefore BlockFinder::longer_length_before(std::uint32_t end) const {
  if (end < 3 || office(end - 1) != "and") return {end, 0};
  const WordList* units = lexicon_.grammars().list("order_unit");
  const std::vector<Day> unit = numbers_in(value_in(units, end - 2));
  if (unit.size() != 2 || unit[0] == 0) return {end, 0};
  CountBefore count = count_before(end - 2);
  if (count.value == 0 && office(end - 3) == "a") count = {end - 3, 1};
  if (count.value == 0) return {end, 0};
  return {count.first, static_cast<int>(count.value * unit[0])};
}

// How long, from the words before a length of time; false where those make it none.
bool BlockFinder::read_length(const PatternMatch& lead, OrderMention& order,
                              std::uint32_t& first) const {
  const Grammars& grammars = lexicon_.grammars();
  const std::string unit_word = fold(lead.text_of("unit", text_));
  const std::vector<Day> unit = numbers_in(grammars.list("order_unit")->value_of(unit_word));
  const WordList* vague_list = grammars.list("order_vague");
  if (unit.size() != 2 || vague_list == nullptr) return false;
  const std::vector<Day> vague = numbers_in(vague_list->value_of(unit_word));
  const Spelling way = lead.value_of("direction", text_);
  std::uint32_t before = first;
  CountBefore count = count_before(first);
  std::string said;
  Day low = 0;
  Day high = 0;
  bool is_span = false, is_half = false;
  if (count.value > 0) {
    before = count.first;
    said = std::to_string(count.value);
  } else if (first > 0 && office(first - 1) == "a") {
    is_half = first > 1 && is_in("order_half", first - 2);  // "half a year before"
    before = is_half ? first - 2 : first - 1;
    count.value = 1;
    said = is_half ? std::string() : "1";
  } else if (first > 0 && vague.empty() &&
             (office(first - 1) == "the" || office(first - 1) == "that")) {
    // "the day before", "in the week before"
    before = first - 1;
    count.value = 1;
    is_span = unit[0] > 1;
    if (!is_span) said = "1";
  } else if (vague.size() == 2) {
    while (before > 0 && (is_in("order_some", before - 1) || office(before - 1) == "a" ||
                          (before + 1 < first + 3 && office(before - 1) == "of"))) {
      --before;
    }
    low = vague[0];
    high = vague[1];
  } else {
    return false;
  }
  if (count.value > 0) {
    // "A fortnight to the day before"
    constexpr Day kWeeks = 14;
    const bool is_exact = unit[0] <= kWeeks && !lead.text_of("exact", text_).empty();
    const Day loose = (count.value * unit[1] + 3) / 4 - (unit[0] == 1 && count.value < 4 ? 1 : 0);
    const Day slack = is_exact ? 0 : loose;
    low = std::max<Day>(0, count.value * unit[0] - slack) / (is_half ? 2 : 1);
    high = (count.value * unit[0] + slack) / (is_half ? 2 : 1);
    if (is_span) {
      low = 1;
      high += unit[0];
    }
    // "Three weeks and three days": the longer length, counted as exactly as the shorter.
    if (const CountBefore longer = longer_length_before(before); longer.value > 0) {
      before = longer.first;
      low += longer.value;
      high += longer.value;
      said.clear();
    }
    const bool is_rough =
        !lead.text_of("about", text_).empty() || (before > 0 && is_in("order_about", before - 1));
    if (is_rough) {
      low /= 2;
      high *= 2;
    }
    if (is_rough && lead.text_of("about", text_).empty()) --before;
  }
  const bool within = before > 0 && office(before - 1) == "within";
  if (within) {
    --before;
    low = 0;
  }
  if (way == "of" && !within) return false;
  first = before;
  point(order, first_word(way), low, high);
  const std::string plain = first_word(way) == "of" ? "within" : first_word(way);
  if (plain == "within" || plain == "apart" || unit[0] == 0) {
    const std::string length = said.empty() ? unit_word : said + " " + unit_word;
    order.words = plain == "within" ? "within " + length + " of" : length + " " + plain;
  } else if (!said.empty()) {
    order.words = said + " " + unit_word + " " + plain;
  } else {
    order.words = plain;
  }
  // "Minutes later": of another picture even where none is named. What is longer may as well be
  // counted from a date.
  const bool is_short = unit[0] == 0;
  const bool is_taken = said.empty() && before > 0 && is_in("order_taken", before - 1);
  order.opens = way.ends_with("bare") && (is_short || is_taken);
  return true;
}

// The other photograph, if one is named from `token` on.
std::string BlockFinder::other_picture(std::uint32_t token, bool* is_event) const {
  if (token >= result_.tokens.size()) return {};
  Token start = result_.tokens[token];
  start.starts.set();
  start.kinds = ~KindBits{0};
  for (const PatternMatch& other : memory_.matcher("order_other").match(text_, {start})) {
    const std::string_view label = other.text_of("label", text_);
    if (is_event != nullptr) *is_event = !other.text_of("happening", text_).empty();
    if (!label.empty()) {
      const std::string_view word = other.text_of("figure_word", text_);
      return std::string(word) + (fold(word).starts_with("fig") && word.size() < 5 ? ". " : " ") +
             std::string(label);
    }
    const Spelling which = other.value_of("which", text_);
    return std::string(!which.empty() ? which : other.value_of("where", text_));
  }
  // "Some days before the view of X12 in Fig. 46".
  constexpr std::uint32_t kReach = 8;
  if (!is_in("determiner", token) || token + 1 >= result_.tokens.size() ||
      !is_in("order_view", token + 1))
    return {};
  for (std::uint32_t t = token + 2; t + 1 < result_.tokens.size() && t - token < kReach; ++t) {
    if (result_.tokens[t].sentence_start) break;
    if (office(t) == "in") return other_picture(t + 1, is_event);
  }
  return {};
}

// "This and the one opposite were taken on the same day": what is named before the lead.
std::string BlockFinder::other_picture_before(std::uint32_t lead) const {
  std::string found;
  for (std::uint32_t t = lead; t-- > 0 && lead - t < 24;) {
    const Spelling w = office(t);
    if (found.empty() && (w == "and" || w == "with")) found = other_picture(t + 1);
    if (!found.empty() && (w == "this" || w == "both" || w == "with")) return found;
    if (result_.tokens[t].sentence_start && result_.tokens[t].capital) break;  // not "Fig. 3"
  }
  return {};
}

// "Same roll as Plate 28 but a few days before it", "the same film as Plate 3, a day earlier": the
// picture that the sentence has named as one that shares something with this.
std::string BlockFinder::shared_picture_before(std::uint32_t first, std::uint32_t last,
                                               bool is_bare) const {
  const auto count = static_cast<std::uint32_t>(result_.tokens.size());
  const bool is_pronoun = last < count && is_in("order_pronoun", last);
  const std::uint32_t end = is_pronoun ? last + 1 : last;
  const bool is_closed = end >= count || word(end) == "." || word(end) == "," || word(end) == ";";
  if (is_pronoun == is_bare || !is_closed) return {};
  for (std::uint32_t t = first; t-- > 0 && first - t < 24;) {
    if (is_in("order_same_word", t)) {
      for (std::uint32_t at = t + 1; at < first && at < t + 6; ++at) {
        if (folded(at) == "as") return other_picture(at);
      }
      return {};
    }
    if (result_.tokens[t].sentence_start && result_.tokens[t].capital) break;  // not "Fig. 3"
  }
  return {};
}

bool BlockFinder::has_word_for_taking(std::uint32_t token) const {
  for (std::uint32_t t = token; t-- > 0 && token - t <= 4;) {
    if (is_in("order_taken", t)) return true;
    if (result_.tokens[t].sentence_start) return false;
  }
  return false;
}

// "The day of", "the week in which": within so many days of what follows.
bool BlockFinder::read_span(OrderMention& order, std::uint32_t first) const {
  if (first == 0 || !is_in("order_definite", first - 1)) return false;
  // "As red as the day it was delivered".
  if (first > 1 && folded(first - 2) == "as") return false;
  const WordList* spans = lexicon_.grammars().list("order_span");
  const std::vector<Day> numbers = numbers_in(value_in(spans, first));
  if (numbers.size() != 1) return false;
  point(order, "within", 0, numbers.front());
  order.words = "within " + std::string(folded(first)) + " of";
  return true;
}

bool BlockFinder::read_lead(const PatternMatch& lead, OrderMention& order,
                            std::uint32_t& first) const {
  const std::uint32_t last = lead.last;
  const WordList* outings = lexicon_.grammars().list("order_outing");
  if (!lead.text_of("unit", text_).empty() && read_length(lead, order, first)) return true;
  if (is_in("order_span", first)) return read_span(order, first);
  if (const Spelling bare = lead.value_of("bare", text_); !bare.empty()) {
    const std::vector<Day> numbers = numbers_in(bare);
    if (numbers.size() != 2) return false;
    point(order, first_word(bare), numbers[0], numbers[1]);
    order.words = first_word(bare);
    return true;
  }
  if (const std::string_view same = lead.text_of("same", text_); !same.empty()) {
    if (lead.value_of("side", text_).empty()) {
      const std::vector<Day> numbers = numbers_in(lead.value_of("same", text_));
      if (numbers.size() != 1) return false;
      point(order, "same", 0, numbers[0]);
      const Spelling words = lead.value_of("words", text_);
      order.words = "same " + (words.empty() ? fold(same) : std::string(words));
      // "Same day, other side": what a caption opens with is set against the picture before.
      constexpr std::uint32_t kOpening = 10;
      const bool opens_text =
          first > 0 && first < kOpening && numbers.front() <= 1 &&
          result_.tokens[first - 1].kind == TokenKind::kMark &&
          (last >= result_.tokens.size() || word(last) == "," || word(last) == ".");
      order.opens = opens_text || (outings != nullptr && !outings->value_of(fold(same)).empty() &&
                                   has_word_for_taking(first));
      return true;
    }
    order.other = "same machine";
  }
  const Spelling side = lead.value_of("side", text_);
  if (side.empty()) return false;
  point(order, side, 0, kLastDay);
  order.words = side;
  return true;
}

void BlockFinder::find_orders_in_time() {
  for (const PatternMatch& age : matches("paint_age")) {
    OrderMention order;
    std::uint32_t first = age.first;
    if (read_length(age, order, first))
      result_.ages.push_back({first, age.last, order.least, order.most, false});
  }
  for (const PatternMatch& lead : matches("order_lead")) {
    OrderMention order;
    std::uint32_t first = lead.first;
    if (!read_lead(lead, order, first)) continue;
    const std::uint32_t last = lead.last;
    bool is_event = false;
    std::string other = other_picture(last, &is_event);
    // "A week after the accident in Fig. 4": that picture may have been taken after the accident.
    if (is_event && order.least > 0) order.least = 0;
    if (is_event && order.most < 0) order.least = kFirstDay;
    if (other.empty() && (order.words.starts_with("same ") || order.words.ends_with(" apart"))) {
      other = other_picture_before(first);
    }
    const std::string sense =
        std::string(lead.value_of("direction", text_)).append(lead.value_of("bare", text_));
    if (other.empty() && !sense.empty())
      other = shared_picture_before(first, last, sense.ends_with("bare"));
    if (!other.empty()) {
      order.other = std::move(other);
      order.opens = false;
    }
    if (order.other.empty()) {
      const bool is_span = is_in("order_span", lead.first);
      if (is_span || sense.starts_with("before") || sense.starts_with("after") || sense == "of") {
        result_.leads.push_back({first, last, order.least, order.most, sense.ends_with("bare")});
      }
      if (!order.opens) continue;
      order.other = "previous";
    }
    const bool joins = order.words.starts_with("same ");
    order.words += joins ? " as" : "";
    Mention& mention = add_tokens(MentionKind::kOrderInTime, result_.tokens[first].begin,
                                  result_.tokens[last - 1].end, first, last);
    mention.payload = static_cast<std::uint32_t>(result_.orders.size());
    mention.value = memory_.keep(order.words + " " + order.other);
    mention.why = lead.pattern->why;
    result_.orders.push_back(std::move(order));
  }
}

}  // namespace tailproof

// A number and the list of serials behind it: "four Grapnels, S3004, S3006 and S3016", "the pair,
// X12 and X14", "both machines", "three of them in line: ...".
#include <algorithm>
#include <cstdlib>
#include <set>

#include "claims/assembler.h"

namespace tailproof {
namespace {

// Words between what is counted and the colon before the list.
constexpr std::uint32_t kMostBeforeColon = 14;

}  // namespace

// How many stand in the list behind the words that count so many, right behind them, their unit or
// a colon; 0 where there is none, or where others may be meant as well.
int BlockAssembler::listed_behind(std::uint32_t last, int number) const {
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  std::uint32_t t = last;
  if (t + 1 < count && is_in("unit_preposition", t)) {
    const std::uint32_t next = office(t + 1) == "the" ? t + 2 : t + 1;
    const Mention* unit = mention_at(next);
    if (unit != nullptr && unit->kind == MentionKind::kUnit) t = unit->last;
  }
  const auto is_list_mark = [&](std::uint32_t at) {
    const Spelling w = word(at);
    return w == ":" || w == "," || w == "(" || mentions_.tokens[at].kind == TokenKind::kMark;
  };
  while (t + 1 < count && is_in("counted_here", t)) ++t;
  const auto begins_list = [&](std::uint32_t at) {
    return std::any_of(groups_.begin(), groups_.end(), [at](const Group& group) {
      return group.first == at && group.members.size() > 1;
    });
  };
  bool is_behind_colon = false, is_past_words = false;
  if (t + 1 >= count) return 0;
  if (!is_list_mark(t)) {
    // "Two Wherries lie at the buoys: ...": nothing else is counted or named before the colon.
    const std::uint32_t from = t;
    // "Five Coursers were lost from Harl, X12, X14 and X16, and two men".
    // "The four Coursers lost there were X12, X14 and X16": one statement, up to its verb.
    bool is_one = true;
    const auto is_being_list = [&](std::uint32_t at) {
      return is_one && is_in("was_word", at) && begins_list(at + 1);
    };
    while (t < count && t - from < kMostBeforeColon && word(t) != ":" && !is_being_list(t) &&
           !(word(t) == "," && begins_list(t + 1))) {
      const Mention* name = mention_at(t);
      const bool is_other = clauses_.sentence_of[t] != clauses_.sentence_of[last] ||
                            word(t) == ";" || (is_in("number", t) && !is_in("count_span", t + 1)) ||
                            (name != nullptr && (name->kind == MentionKind::kAirframe ||
                                                 name->kind == MentionKind::kType ||
                                                 name->kind == MentionKind::kPerson));
      if (is_other) return 0;
      is_one =
          is_one && mentions_.tokens[t].kind != TokenKind::kMark && !is_in("event_conjunction", t);
      ++t;
    }
    if (t + 1 >= count || (word(t) != ":" && word(t) != "," && !is_being_list(t))) return 0;
    is_behind_colon = word(t) == ":";
    is_past_words = !is_behind_colon;
  }
  is_behind_colon = is_behind_colon || word(t) == ":";
  ++t;
  // "From the left", "left to right:".
  const std::uint32_t lead = t;
  while (t < count && t - lead < 5 && is_in("list_lead", t)) ++t;
  if (t > lead && (word(t) == ":" || word(t) == ",")) ++t;
  // The list, past what brackets say of one of its machines.
  std::set<std::string> serials;
  std::uint32_t end = t;
  while (t < count) {
    const auto group = std::find_if(groups_.begin(), groups_.end(),
                                    [t](const Group& other) { return other.first == t; });
    if (group == groups_.end()) break;
    if (group->is_either || group->members.size() != group->serials.size()) return 0;
    for (const std::string& serial : group->serials) {
      if (!serials.insert(serial).second) return 0;
    }
    end = t = group->last;
    if (word(t) == "(") {
      while (t < count && word(t) != ")") ++t;
      end = t = std::min(t + 1, count);
    }
    while (t < count && (word(t) == "," || office(t) == "and")) ++t;
  }
  if (serials.size() < 2) return 0;
  // "Two Coursers were sent, X12, X14 and X16 being kept".
  if (is_past_words && end < count && mentions_.tokens[end].kind != TokenKind::kMark) return 0;
  const auto listed = static_cast<int>(serials.size());
  if (listed == number) return listed;
  // "Three machines burned: X12, X14 and nothing else": these are all.
  if (office(end) == "and" && is_in("list_closer", end + 1)) return listed;
  // "Eight bombs for six Mattocks, X12 and X14 leading": what is said of those named.
  const bool is_over = end >= count || mentions_.tokens[end].kind == TokenKind::kMark;
  if (listed > number) return listed;
  if (!is_over && !is_in("event_auxiliary", end) && !is_behind_colon) return 0;
  // Too few may be made up by those that stand elsewhere, or have no number.
  std::set<std::string> all;
  for (const Group& group : groups_) all.insert(group.serials.begin(), group.serials.end());
  if (static_cast<int>(all.size()) != listed) return 0;
  for (std::uint32_t other = 0; other < count; ++other) {
    const bool is_own = other + 1 >= last && other < last;
    if (!is_own && is_in("uncounted_word", other)) return 0;
  }
  return listed;
}

// "Both machines, X12, X14 and X16", "the pair, X12 and X14": counted by a word for so many, or by
// a number without a noun of its own.
// "X141 to X144 and X146 to X148: seven machines", "X12, X14 and X15, three Lanners,": how many
// stand before the count, which nothing but a mark follows. Of a range that is not closed nobody
// knows.
int BlockAssembler::listed_before(std::uint32_t first, std::uint32_t last) const {
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  if (first < 2 || (word(first - 1) != ":" && word(first - 1) != ",") ||
      (last < count && mentions_.tokens[last].kind != TokenKind::kMark))
    return 0;
  const auto group = std::find_if(groups_.begin(), groups_.end(), [&](const Group& one) {
    return one.last == first - 1 && one.serials.size() > 1;
  });
  if (group == groups_.end() || group->is_either) return 0;
  if (word(first - 1) == "," && begin_of_statement(group->first) < group->first) return 0;
  const bool is_known =
      std::all_of(group->members.begin(), group->members.end(), [&](std::uint32_t member) {
        return ledger_.is_in_closed_range(mentions_.items[member].value);
      });
  const bool has_range = std::any_of(ranges_.begin(), ranges_.end(), [&](const SerialRange& range) {
    return std::find(group->members.begin(), group->members.end(), range.to) !=
           group->members.end();
  });
  return has_range && !is_known ? 0 : static_cast<int>(group->serials.size());
}

void BlockAssembler::add_counts_of_lists() {
  const WordList* numbers = lexicon_.grammars().list("number");
  const WordList* companies = lexicon_.grammars().list("count_company");
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  const auto add_at = [&](std::uint32_t t) {
    const std::string_view company = value_in(companies, t);
    const std::string_view bare = value_in(numbers, t);
    if ((company.empty() && bare.empty()) || mention_at(t) != nullptr) return;
    int number = std::atoi(std::string(company.empty() ? bare : company).c_str());
    // "Half a dozen Sickles".
    const bool is_half = t > 1 && is_in("half_word", t - 2) && is_in("indefinite_article", t - 1);
    if (is_half) number /= 2;
    if (number < 2 || (t > 0 && (word(t - 1) == "-" || is_in("count_inexact", t - 1)))) return;
    // "Three of the quartet, X12, X14 and X16": the list may be that of the three.
    const std::uint32_t of = t > 1 && is_in("determiner", t - 1) ? t - 2 : t > 0 ? t - 1 : 0;
    if (of > 0 && office(of) == "of" && !is_in("count_company_noun", of - 1)) return;
    std::uint32_t last = t + 1;
    // "A pair of Gleaners", "both the Gleaners".
    if (!company.empty() && office(last) == "of") ++last;
    if (office(last) == "the") ++last;
    // "Three of its Gleaners, X12 and X14", "three of the ten Gleaners: X12 and X14".
    int of_so_many = 0;
    if (company.empty() && office(last) == "of" &&
        (office(last + 1) == "the" || is_in("possessive_word", last + 1))) {
      of_so_many = number_told(last + 2);
      last += of_so_many > 0 ? 3 : 2;
    }
    const Mention* type = mention_at(last);
    const bool has_type =
        type != nullptr && type->kind == MentionKind::kType && type->first == last;
    const bool has_noun = has_type || is_in("count_noun", last);
    if (has_noun) {
      last = has_type ? type->last : last + 1;
    } else if (last > t + 1 && company.empty()) {
      return;
    } else {
      last = t + 1;
      // A number alone counts machines where it is one of those that stand for them.
      const bool stands_alone =
          t > 0 && (is_in("determiner", t - 1) ||
                    (t > 1 && office(t - 1) == "of" && is_in("count_company_noun", t - 2)));
      if (!stands_alone || is_in("count_whole_company", t)) return;
      if (mentions_.tokens[std::min(last, count - 1)].kind != TokenKind::kMark) return;
    }
    const Mention words = words_of(is_half ? t - 2 : t, last);
    const bool is_counted = std::any_of(out_.begin() + static_cast<std::ptrdiff_t>(first_claim_),
                                        out_.end(), [&](const Claim& claim) {
                                          return claim.kind == ClaimKind::kCount &&
                                                 claim.begin < words.end && words.begin < claim.end;
                                        });
    if (is_counted) return;
    int listed = listed_behind(last, number);
    const bool is_before = listed == 0 && has_noun;
    if (is_before) listed = listed_before(t, last);
    // Of a share the list may also be that of the whole.
    if (listed == 0 || (of_so_many > 0 && listed == of_so_many)) return;
    Claim& claim = add(words, ClaimKind::kCount);
    claim.value = std::to_string(number) + (has_type ? " " + std::string(type->value) : "");
    claim.count.own().number = number;
    claim.count.own().listed = listed;
    claim.count.own().is_listed_before = is_before;
    claim.subject = is_caption() ? figure_subject() : "";
  };
  if (!has_word_of("count_company")) {
    for (const std::uint32_t t : numbers_) add_at(t);
    return;
  }
  for (std::uint32_t t = 0; t < count; ++t) add_at(t);
}

}  // namespace tailproof

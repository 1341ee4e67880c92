#include "claims/clauses.h"

#include <algorithm>
#include <array>

namespace tailproof {
namespace {

class ClauseFinder {
 public:
  ClauseFinder(const Mentions& mentions, const MentionIndex& index, const Grammars& grammars)
      : mentions_(mentions),
        index_(index),
        abbreviations_(grammars.list("abbreviation")),
        moments_(grammars.list("flying_moment")),
        adjectives_(grammars.list("opening_adjective")),
        determiners_(grammars.list("determiner")),
        meanwhile_(grammars.list("meanwhile_word")),
        openers_of_place_(grammars.list("opens_place")),
        postures_(grammars.list("posture_word")),
        people_(grammars.list("person_noun")),
        behind_places_(grammars.list("behind_place")),
        joints_(grammars.list("day_joint")),
        prepositions_(grammars.list("day_preposition")),
        articles_(grammars.list("name_article")),
        small_(grammars.list("gap_word")),
        spans_(grammars.list("within_unit")),
        quoting_(grammars.list("quoting_verb")) {}

  Clauses run() {
    const auto& tokens = mentions_.tokens;
    out_.clause_of.resize(tokens.size());
    out_.segment_of.resize(tokens.size());
    out_.sentence_of.resize(tokens.size());
    out_.quoted.assign(tokens.size(), false);
    mark_inside_mentions();
    mark_dates();
    mark_clause_words();
    mark_quotations();
    if (tokens.empty()) return std::move(out_);
    open_sentence(0);
    for (std::uint32_t t = 0; t < tokens.size(); ++t) {
      const bool is_joint = is_day_joint(t);
      if (!is_joint && tokens[t].kind != TokenKind::kMark && opens_[t] == nullptr) {
        assign(t);
      } else {
        place(t, is_joint);
      }
    }
    close_all(static_cast<std::uint32_t>(tokens.size()));
    out_.sentence_count = sentence_ + 1;
    return std::move(out_);
  }

 private:
  Spelling word(std::uint32_t t) const { return mentions_.tokens[t].word->text; }
  bool is_in(const WordList* list, std::uint32_t t) const {
    return mentions_.tokens[t].word->is_in(list);
  }
  MentionsAt mentions_of(MentionKind kind) const { return {mentions_.items, index_.of(kind)}; }

  void mark_inside_mentions() {
    inside_.assign(mentions_.tokens.size() + 1, false);
    for (const Mention& mention : mentions_.items) {
      if (mention.kind == MentionKind::kCue) continue;
      for (std::uint32_t t = mention.first + 1; t < mention.last; ++t) inside_[t] = true;
    }
  }

  void mark_clause_words() {
    opens_.assign(mentions_.tokens.size(), nullptr);
    for (const Mention& mention : MentionsAt(mentions_.items, index_.of("cue_clause"))) {
      // "before June 1943" bounds a date and opens no clause.
      const bool bounds =
          std::any_of(mentions_.dates.begin(), mentions_.dates.end(), [&](const DateMention& date) {
            return date.bound_begin <= mention.begin && mention.end <= date.begin;
          });
      // "Shortly after landing at Maunder on 3 June": no other time than the picture's.
      const bool is_moment = moments_ != nullptr && mention.last < mentions_.tokens.size() &&
                             mentions_.tokens[mention.last].word->is_in(moments_);
      // "On the after part of the deck".
      const bool is_adjective = mention.first > 0 && adjectives_ != nullptr &&
                                mentions_.tokens[mention.first].word->is_in(adjectives_) &&
                                determiners_ != nullptr &&
                                mentions_.tokens[mention.first - 1].word->is_in(determiners_);
      if (bounds || is_moment || is_adjective || is_of_place(mention) || tells_of_event(mention))
        continue;
      opens_[mention.first] = &mention;
    }
  }

  // "Was shot down while attacking a convoy on 12 June": one thing on one day.
  bool tells_of_event(const Mention& opener) const {
    constexpr std::uint32_t kReach = 5;
    const auto& tokens = mentions_.tokens;
    if (meanwhile_ == nullptr || !tokens[opener.first].word->is_in(meanwhile_) ||
        opener.last >= tokens.size() || tokens[opener.last].capital ||
        !word(opener.last).ends_with("ing"))
      return false;
    const MentionsAt events(mentions_.items, index_.of("cue_event"));
    return std::any_of(events.begin(), events.end(), [&](const Mention& event) {
      if (event.last > opener.first || opener.first - event.last > kReach) return false;
      for (std::uint32_t t = event.last; t < opener.first; ++t) {
        if (tokens[t].sentence_start || tokens[t].kind == TokenKind::kMark) return false;
      }
      return true;
    });
  }

  // "The pupils parade before U.23, Jarnmoor": in front of it, and at no other time. What stands
  // there is a machine of which nothing is told.
  bool is_of_place(const Mention& opener) const {
    constexpr std::uint32_t kReach = 4;  // "before the tail of U.23"
    const auto& tokens = mentions_.tokens;
    if (opener.first == 0 || openers_of_place_ == nullptr ||
        !tokens[opener.first].word->is_in(openers_of_place_))
      return false;
    const Token& behind = tokens[opener.first - 1];
    const MentionsAt people = mentions_of(MentionKind::kPerson);
    const bool is_person = std::any_of(people.begin(), people.end(), [&](const Mention& person) {
      return person.last == opener.first;
    });
    if (!is_person && !behind.word->is_in(postures_) && !behind.word->is_in(people_)) return false;
    for (const Mention& mention : mentions_.items) {
      if (mention.kind != MentionKind::kAirframe && mention.kind != MentionKind::kType) continue;
      if (mention.first < opener.last || mention.first - opener.last > kReach) continue;
      return mention.last >= tokens.size() || tokens[mention.last].kind == TokenKind::kMark ||
             date_from(mention.last) != nullptr || tokens[mention.last].word->is_in(behind_places_);
    }
    return false;
  }

  // A straight single mark opens a quotation before a word and after a blank, and closes one the
  // other way round.
  bool opens_single(std::uint32_t t) const {
    const auto& tokens = mentions_.tokens;
    const bool blank_before = t == 0 || tokens[t - 1].end < tokens[t].begin || word(t - 1) == "(";
    return blank_before && t + 1 < tokens.size() && tokens[t + 1].begin == tokens[t].end &&
           tokens[t + 1].kind != TokenKind::kMark;
  }
  bool closes_single(std::uint32_t t) const {
    const auto& tokens = mentions_.tokens;
    return t > 0 && tokens[t - 1].end == tokens[t].begin &&
           (t + 1 >= tokens.size() || tokens[t + 1].begin > tokens[t].end ||
            tokens[t + 1].kind == TokenKind::kMark);
  }

  bool names_person(std::uint32_t first, std::uint32_t last) const {
    const MentionsAt people = mentions_of(MentionKind::kPerson);
    return std::any_of(people.begin(), people.end(), [&](const Mention& person) {
      return person.first >= first && person.last <= last;
    });
  }

  // Three words or more between quotation marks are somebody's words; fewer are a name or a code,
  // but not in "the Courier has “Colonel Tassel”".
  void mark_quotations() {
    constexpr std::uint32_t kFewestWords = 3;
    constexpr std::uint32_t kNotOpen = 0xffffffffU;
    const auto& tokens = mentions_.tokens;
    std::uint32_t open = kNotOpen;
    std::string_view closing;
    for (std::uint32_t t = 0; t < tokens.size(); ++t) {
      if (tokens[t].kind != TokenKind::kMark) continue;
      const auto mark = word(t);
      if (open != kNotOpen && mark == closing && (mark != "'" || closes_single(t))) {
        std::uint32_t words = 0;
        for (std::uint32_t i = open; i < t; ++i) words += tokens[i].kind != TokenKind::kMark;
        if (words >= kFewestWords ||
            (open > 1 && tokens[open - 2].word->is_in(quoting_) && names_person(open, t))) {
          std::fill(out_.quoted.begin() + open, out_.quoted.begin() + t, true);
          out_.has_quoted = true;
        }
        open = kNotOpen;
      } else if (open == kNotOpen &&
                 (mark == "\"" || mark == "\xE2\x80\x9C" || mark == "\xE2\x80\x98")) {
        open = t + 1;
        closing = mark == "\"" ? "\"" : mark == "\xE2\x80\x9C" ? "\xE2\x80\x9D" : "\xE2\x80\x99";
      }
    }
  }

  // The unit, or the machine's code or serial, that ends right before the token.
  const Mention* name_before(std::uint32_t t) const {
    for (const Mention& mention : mentions_.items) {
      if (mention.first >= t) break;
      const bool is_name =
          mention.kind == MentionKind::kUnit || mention.kind == MentionKind::kAirframe;
      if (is_name && mention.last == t) return &mention;
    }
    return nullptr;
  }
  // "Flown by Asp. Jory Brand": the point of a rank that the ledger shortens.
  bool is_before_bearer(std::uint32_t t) const {
    const Mention* rank = nullptr;
    for (const Mention& mention : mentions_.items) {
      if (mention.first > t + 1) break;
      if (mention.kind == MentionKind::kRank && mention.last == t && mention.role == "short")
        rank = &mention;
      if (rank != nullptr && mention.kind == MentionKind::kPerson && mention.first == t + 1)
        return true;
    }
    return false;
  }
  // What may go on behind a unit's abbreviation: "9 Sqn. Lanner QC417", "9 Sqn. Sgt Teague". Not
  // "QC415 went to 9 Sqn. QC417 burnt", where the sentence has had its machine.
  bool opens_name(std::uint32_t t) const {
    bool has_machine = false;
    for (const Mention& mention : mentions_.items) {
      if (mention.first > t) break;
      const bool is_machine = mention.kind == MentionKind::kAirframe && mention.role.empty();
      has_machine = has_machine || (is_machine && mention.first >= out_.sentence_first.back() &&
                                    mention.first < t);
      if (mention.first != t) continue;
      if (mention.kind == MentionKind::kRank) return true;
      if (mention.kind == MentionKind::kType || mention.kind == MentionKind::kAirframe)
        return !has_machine;
    }
    return false;
  }

  void mark_dates() {
    date_at_.assign(mentions_.tokens.size() + 1, nullptr);
    for (const Mention& date : mentions_of(MentionKind::kDate)) date_at_[date.first] = &date;
  }

  // The date that begins here, or behind its preposition.
  const Mention* date_from(std::uint32_t t) const {
    if (t >= mentions_.tokens.size()) return nullptr;
    if (date_at_[t] != nullptr) return date_at_[t];
    return is_in(prepositions_, t) ? date_at_[t + 1] : nullptr;
  }

  bool is_day_joint(std::uint32_t t) const { return is_in(joints_, t); }

  // "On 6 April R2005 failed to return, and on 8 May R2020 flew into the sea", from the "and": the
  // date that opens the clause has told of its own when the next one comes, and something is told
  // of that.
  bool opens_next_day(std::uint32_t t) const {
    if (!in_kind(ClauseKind::kMain) && !in_kind(ClauseKind::kCoordinate)) return false;
    std::uint32_t opening = out_.clauses[stack_.back()].first;
    if (is_day_joint(opening)) ++opening;
    const Mention* first = date_from(opening);
    const Mention* next = date_from(t + 1);
    if (first == nullptr || next == nullptr || first->last >= t) return false;
    constexpr std::uint32_t kFewestWords = 2;
    std::uint32_t words = 0;
    for (std::uint32_t i = first->last; i < t; ++i) {
      if (date_at_[i] != nullptr) return false;  // a list of dates
      words += mentions_.tokens[i].kind != TokenKind::kMark;
    }
    const bool is_followed = next->last < mentions_.tokens.size() &&
                             mentions_.tokens[next->last].kind != TokenKind::kMark;
    return words >= kFewestWords && is_followed;
  }

  bool is_small(std::uint32_t t) const { return is_in(small_, t); }

  const Mention* name_over(std::uint32_t t) const {
    const std::uint32_t i = index_.name_over(t);
    return i == kNone ? nullptr : &mentions_.items[i];
  }

  // "4 Squadron moved to the Marsh in May": the clause that runs up to the token has a unit for its
  // subject, and behind a verb a place or a time. Machines and people share what is said of them in
  // ways of their own.
  bool is_told_of_unit(std::uint32_t end) const {
    const std::uint32_t clause = stack_.back();
    if (!in_kind(ClauseKind::kMain) && !in_kind(ClauseKind::kCoordinate)) return false;
    if (std::find(gapped_.begin(), gapped_.end(), clause) != gapped_.end()) return true;
    const Mention* unit = nullptr;
    bool has_verb = false, has_where = false;
    for (std::uint32_t t = out_.clauses[clause].first; t < end; ++t) {
      const Mention* name = name_over(t);
      if (name == nullptr) {
        const bool is_word =
            mentions_.tokens[t].kind == TokenKind::kWord && !is_small(t) && !is_day_joint(t);
        if (is_word && unit == nullptr) return false;
        has_verb = has_verb || is_word;
      } else if (name->kind == MentionKind::kAirframe || name->kind == MentionKind::kPerson) {
        return false;
      } else if (name->kind == MentionKind::kUnit && unit == nullptr) {
        unit = name;
      } else if (name->kind == MentionKind::kDate || name->kind == MentionKind::kPlace) {
        has_where = has_where || has_verb;
      }
    }
    return has_where;
  }

  // "4 Squadron moved to the Marsh in May, 7 Squadron to the Point in June, and 9 Squadron a week
  // later": a unit with a place or a time and no verb has the verb of the clause before it.
  bool opens_gapped(std::uint32_t t) const {
    const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
    if (t < count && is_day_joint(t)) ++t;
    const std::uint32_t opening = t;
    if (t < count && is_in(articles_, t)) ++t;
    const Mention* unit = t < count ? name_over(t) : nullptr;
    if (unit == nullptr || unit->kind != MentionKind::kUnit || unit->first != t) return false;
    bool has_where = false;
    for (t = unit->last; t < count && !is_day_joint(t); ++t) {
      const Mention* name = name_over(t);
      if (name == nullptr && mentions_.tokens[t].kind == TokenKind::kMark) break;
      const bool is_where = name != nullptr &&
                            (name->kind == MentionKind::kDate || name->kind == MentionKind::kPlace);
      const bool is_span = is_in(spans_, t);
      if (!is_where && !is_span && !is_small(t)) return false;
      has_where = has_where || is_where || is_span;
    }
    return has_where && is_told_of_unit(opening);
  }

  bool is_abbreviation(std::uint32_t t) const {
    return mentions_.tokens[t].word->is_in(abbreviations_);
  }

  bool ends_sentence(std::uint32_t t) const {
    const auto& tokens = mentions_.tokens;
    const auto mark = word(t);
    if (mark != "." && mark != "?" && mark != "!") return false;
    if (inside_[t]) return false;
    if (t + 1 >= tokens.size()) return true;
    const Token& next = tokens[t + 1];
    if (next.begin == tokens[t].end && next.kind != TokenKind::kMark) return false;
    // "Lieutenant Crewe, M.C., flew": the end of what is shortened.
    if (mark == "." && (word(t + 1) == "," || word(t + 1) == ";")) return false;
    if (mark == "." && t > 0) {
      const Token& before = tokens[t - 1];
      // The last letter of a code is no initial, and "31 Sqn." may well end a sentence.
      const Mention* name = name_before(t);
      if (name != nullptr && name->kind == MentionKind::kUnit) {
        const bool is_short = before.all_capitals || is_abbreviation(t - 1);
        return next.kind != TokenKind::kWord || (next.capital && !(is_short && opens_name(t + 1)));
      }
      const bool initial =
          before.kind == TokenKind::kWord && before.end - before.begin == 1 && before.capital;
      // "Keeping its M. The Fourth took over": no such word is a name.
      constexpr std::array<std::string_view, 9> kNoName = {"the", "it",   "she", "he",  "they",
                                                           "in",  "from", "by",  "this"};
      const bool is_no_name = next.capital && std::find(kNoName.begin(), kNoName.end(),
                                                        next.word->office) != kNoName.end();
      if (initial && next.capital && name == nullptr) return is_no_name;
      // "F.T.R. 11.2.43"
      const bool is_dotted =
          initial && t > 1 && word(t - 2) == "." && tokens[t - 2].end == before.begin;
      if (is_dotted && next.kind != TokenKind::kWord) return false;
      // "20 cm. A pale disc", "etc. The rest": a small word that begins a sentence.
      const Spelling opening = next.word->office;
      const bool is_opening =
          next.capital && (opening == "the" || opening == "it" ||
                           (opening == "a" && t + 2 < tokens.size() &&
                            tokens[t + 2].kind == TokenKind::kWord && !tokens[t + 2].capital));
      if (name == nullptr && before.end == tokens[t].begin && is_abbreviation(t - 1))
        return is_opening;
      if (is_before_bearer(t)) return false;
    }
    return next.kind != TokenKind::kWord || next.capital;
  }

  void open_clause(std::uint32_t t, ClauseKind kind) {
    Clause clause;
    clause.first = t;
    clause.last = t;
    clause.sentence = sentence_;
    clause.kind = kind;
    const auto index = static_cast<std::uint32_t>(out_.clauses.size());
    clause.parent = stack_.empty() ? index : stack_.back();
    out_.clauses.push_back(clause);
    stack_.push_back(index);
    ++segment_;
  }

  void close_clause(std::uint32_t t) {
    out_.clauses[stack_.back()].last = t;
    stack_.pop_back();
    ++segment_;
  }

  void close_all(std::uint32_t t) {
    while (!stack_.empty()) close_clause(t);
  }

  void open_sentence(std::uint32_t t) {
    out_.sentence_first.push_back(t);
    open_clause(t, ClauseKind::kMain);
  }

  bool in_kind(ClauseKind kind) const {
    return !stack_.empty() && out_.clauses[stack_.back()].kind == kind;
  }

  void assign(std::uint32_t t) {
    out_.clause_of[t] = stack_.back();
    out_.segment_of[t] = segment_;
    out_.sentence_of[t] = sentence_;
  }

  void place(std::uint32_t t, bool is_joint) {
    const bool is_gapped = is_joint && !inside_[t] && opens_gapped(t);
    if (is_gapped || (is_joint && opens_next_day(t))) {
      close_all(t);
      if (is_gapped) gapped_.push_back(static_cast<std::uint32_t>(out_.clauses.size()));
      open_clause(t, ClauseKind::kCoordinate);
      assign(t);
      return;
    }
    if (mentions_.tokens[t].kind != TokenKind::kMark && opens_[t] == nullptr) {
      assign(t);
      return;
    }
    if (ends_sentence(t)) {
      assign(t);
      close_all(t + 1);
      if (t + 1 < mentions_.tokens.size()) {
        ++sentence_;
        open_sentence(t + 1);
      }
      return;
    }
    if (inside_[t]) {
      assign(t);
      return;
    }
    const auto mark = word(t);
    if (mark == "(" || mark == "[") {
      open_clause(t, ClauseKind::kBracket);
      assign(t);
      return;
    }
    if (mark == ")" || mark == "]") {
      while (stack_.size() > 1 && !in_kind(ClauseKind::kBracket)) close_clause(t);
      assign(t);
      if (in_kind(ClauseKind::kBracket) && stack_.size() > 1) close_clause(t + 1);
      return;
    }
    const bool in_bracket = std::any_of(stack_.begin(), stack_.end(), [&](std::uint32_t c) {
      return out_.clauses[c].kind == ClauseKind::kBracket;
    });
    if (!in_bracket && (mark == ";" || mark == ":" || mark == "\xE2\x80\x94" ||
                        (mark == "\xE2\x80\x93" && t > 0 &&
                         mentions_.tokens[t].begin > mentions_.tokens[t - 1].end))) {
      assign(t);
      close_all(t + 1);
      open_clause(t + 1, ClauseKind::kCoordinate);
      return;
    }
    if (mark == "," && !in_bracket && opens_gapped(t + 1)) {
      assign(t);
      close_all(t + 1);
      gapped_.push_back(static_cast<std::uint32_t>(out_.clauses.size()));
      open_clause(t + 1, ClauseKind::kCoordinate);
      return;
    }
    // "(421 Flight, May 1931; scrapped, June 1940)": what a bracket tells one after the other.
    if (in_bracket && mark == ";") {
      assign(t);
      ++segment_;
      return;
    }
    if (mark == ",") {
      assign(t);
      // "when, on 1 June, it was lent": a comma right behind the opening word ends nothing, and the
      // next one only what they set apart.
      const std::uint32_t first = out_.clauses[stack_.back()].first;
      bool is_of_aside = t > first + 1 && word(first + 1) == ",";
      for (std::uint32_t c = first + 2; c < t; ++c) is_of_aside = is_of_aside && word(c) != ",";
      if ((in_kind(ClauseKind::kRelative) || in_kind(ClauseKind::kSubordinate)) && t >= first + 2 &&
          !is_of_aside) {
        close_clause(t + 1);
      } else {
        ++segment_;
      }
      return;
    }
    if (opens_[t] != nullptr && t != out_.clauses[stack_.back()].first) {
      const Spelling value = opens_[t]->value;
      if (value == "coordinate") {
        if (!in_bracket) close_all(t);
        open_clause(t, ClauseKind::kCoordinate);
      } else {
        if (in_kind(ClauseKind::kRelative) || in_kind(ClauseKind::kSubordinate)) close_clause(t);
        open_clause(t, value == "relative" ? ClauseKind::kRelative : ClauseKind::kSubordinate);
      }
    } else if (opens_[t] != nullptr && in_kind(ClauseKind::kMain) &&
               opens_[t]->value == "subordinate") {
      // "After S3007 was shot down, ...": the sentence opens with its subordinate clause.
      open_clause(t, ClauseKind::kSubordinate);
    }
    assign(t);
  }

  const Mentions& mentions_;
  const MentionIndex& index_;
  const WordList* abbreviations_;
  const WordList* moments_;
  const WordList* adjectives_;  // of these words that open clauses those that may be adjectives
  const WordList* determiners_;
  const WordList* meanwhile_;
  const WordList* openers_of_place_;
  const WordList* postures_;
  const WordList* people_;
  const WordList* behind_places_;
  const WordList* joints_;
  const WordList* prepositions_;
  const WordList* articles_;
  const WordList* small_;
  const WordList* spans_;
  const WordList* quoting_;
  Clauses out_;
  std::vector<std::uint32_t> gapped_;  // clauses whose verb is that of the one before
  std::vector<bool> inside_;
  std::vector<const Mention*> opens_;
  std::vector<const Mention*> date_at_;
  std::vector<std::uint32_t> stack_;
  std::uint32_t sentence_ = 0;
  std::uint32_t segment_ = 0;
};

}  // namespace

Clauses find_clauses(const Mentions& mentions, const MentionIndex& index,
                     const Grammars& grammars) {
  return ClauseFinder(mentions, index, grammars).run();
}

}  // namespace tailproof

// The fourth station: everything that the words of one block name.
#pragma once

#include <memory>
#include <span>
#include <string_view>
#include <vector>

#include "mentions/dates.h"
#include "mentions/lexicon.h"
#include "mentions/mention.h"
#include "mentions/tokens.h"
#include "tailproof/claim.h"

namespace re2 {
class RE2;
}

namespace tailproof {

/// "A fortnight before Fig. 8": which way and how far, and the other photograph by its words.
struct OrderMention {
  Day least = kFirstDay, most = kLastDay;  // this one's day minus the other's
  std::string other;   // "Fig. 8", or "previous", "next", "beside", "same machine"
  std::string words;   // "2 weeks before", "same sortie as": what stands before the other's label
  bool opens = false;  // names no other picture: counts only where it opens a caption
};

/// "Two days before", "shortly after", without another picture: so far from an event, if one is
/// told of beside it.
struct TimeLead {
  std::uint32_t first = 0, last = 0;       // tokens
  Day least = kFirstDay, most = kLastDay;  // the picture's day minus the event's
  bool is_bare = false;  // "two days later": it is the event that comes so far off
};

/// Words that tell something of what stands around them: bits of Said.
struct Telling {
  std::uint32_t first = 0, last = 0;  // tokens
  std::uint32_t bits = 0;
};

/// What one block names. Mentions are sorted by place; two of one kind never overlap.
struct Mentions {
  std::vector<Token> tokens;
  std::vector<Mention> items;
  std::vector<DateMention> dates;
  std::vector<Measure> measures;
  std::vector<OrderMention> orders;
  std::vector<TimeLead> leads;
  std::vector<TimeLead> ages;     // "three days old", "a week out of": of paint, if of anything
  std::vector<Telling> tellings;  // by place; may overlap anything
  KindBits kinds = 0;             // of which a pattern may begin at any token
};

/// Serial forms of the ledger, compiled; of a ledger without any, the shapes of its serials.
class SerialForms {
 public:
  explicit SerialForms(const Ledger& ledger);
  ~SerialForms();

  struct Match {
    std::string serial;
    std::uint32_t end = 0;  // in the text
    bool tail_only = false;
    bool is_learnt = false;  // by a shape, from rows, and no form that the author wrote
  };
  /// The longest match of any form that begins exactly at `begin` and ends where a token ends.
  [[nodiscard]] std::vector<Match> match_at(std::string_view text, const std::vector<Token>& tokens,
                                            std::uint32_t token) const;
  /// Whether any form matches the whole of `text`.
  [[nodiscard]] bool fits(std::string_view text) const;

 private:
  struct Form;
  void add(const std::string& pattern, std::string rewrite, bool tail_only, bool is_learnt);
  std::vector<Form> forms_;
};

class FinderMemory;
struct PatternMatch;

/// Finds the mentions of many blocks, one after the other, and learns their words on the way: an
/// object serves one thread.
class MentionFinder {
 public:
  MentionFinder(const Ledger& ledger, const Grammars& grammars, Explain explain = Explain::kNo);
  MentionFinder(MentionFinder&&) noexcept;
  MentionFinder& operator=(MentionFinder&&) = delete;
  ~MentionFinder();
  /// One that finds the same and has learnt nothing yet: what ledger and grammars made is shared,
  /// so that another thread costs no second lexicon.
  [[nodiscard]] MentionFinder for_another_thread() const;
  [[nodiscard]] Mentions find(std::string_view text) const;
  /// Finds the mentions of several texts together, which is faster than one after the other: `find`
  /// gives them out when it is first asked for each. The texts must stay where they are until the
  /// next call, by which what has not been asked for is forgotten.
  void find_ahead(std::span<const std::string_view> texts) const;
  [[nodiscard]] const Lexicon& lexicon() const { return *lexicon_; }
  [[nodiscard]] bool explains() const;
  /// The text, kept as long as this.
  [[nodiscard]] Spelling keep(std::string_view text) const;
  /// What the patterns of one kind match in a text with these mentions; until the next such call.
  [[nodiscard]] const std::vector<PatternMatch>& matches(ListName kind, std::string_view text,
                                                         const Mentions& mentions) const;

 private:
  MentionFinder(std::shared_ptr<const Lexicon> lexicon, std::shared_ptr<const SerialForms> forms,
                Explain explain);

  std::shared_ptr<const Lexicon> lexicon_;  // shared by threads, which only read them
  std::shared_ptr<const SerialForms> forms_;
  std::unique_ptr<FinderMemory> memory_;
};

}  // namespace tailproof

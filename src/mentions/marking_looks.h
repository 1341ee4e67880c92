// Markings told by what they look like, where no name of the ledger has the words: "the disc had
// lost its white" for the one form without white, "a yellow outer ring to its roundels" for the one
// that has it, "the leading edges, as far in as the engines, are yellow" for "yellow edges".
//
// Contract: a look is read only from what markings.csv tells (rings, names, description), and names
// those markings of the ledger that answer to it, where others of their kind do not. Built once; a
// text without a part of an aircraft or a noun of ringed markings costs one pass over its words.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "grammars/grammars.h"
#include "mentions/tokens.h"
#include "tailproof/ledger.h"

namespace tailproof {

class MarkingLooks {
 public:
  MarkingLooks(const Ledger& ledger, const Grammars& grammars);

  struct Match {
    std::uint32_t first = 0, last = 0;     // tokens [first, last)
    std::vector<const Marking*> markings;  // one, or those few it may be
  };

  /// What a word does in a look; a word of none of these kinds ends it.
  enum class Role : std::uint8_t {
    kNone,
    kFamily,  // "roundel", of markings that have rings
    kPart,    // "spinner"
    kColour,  // "yellow", "striped"
    kShape,   // "stripes"
    kOuter,   // "edge"
    kInner,   // "centre"
    kRing,    // "ring", "colour"
    kLost,    // "lost", "without"
    kLink,    // "is", "in"
    kTie,     // "round", "of"
    kJoin,    // "and", a comma
    kGap,     // "the", "now", "fresh"
  };
  /// What is known of words met before: an object serves one thread.
  struct Met {
    bool is_met = false;
    Role role = Role::kNone;
    std::uint32_t value = 0;  // of a family, part or colour: its number
    int count = 0;            // of a number word
    bool is_one_colour = false;
  };
  using Memory = std::vector<Met>;  // by number of the word

  [[nodiscard]] std::vector<Match> find(const std::vector<Token>& tokens, Memory& memory) const;

 private:
  /// A marking of rings, from the outer one in.
  struct Rings {
    const Marking* marking = nullptr;
    std::uint32_t family = 0;
    std::vector<std::uint32_t> colours;
  };
  /// A part of the aircraft that is all of one colour or pattern.
  struct Paint {
    const Marking* marking = nullptr;
    std::uint32_t part = 0, colour = 0;
    std::vector<std::uint32_t> told;  // colours of its rings, else of its description
    std::uint32_t ring_colours = 0;   // how many of them are of its rings
  };
  class Reader;

  [[nodiscard]] std::uint32_t number_of(std::string_view word);
  [[nodiscard]] std::string_view part_of(std::string_view folded) const;
  [[nodiscard]] std::string colour_of(std::string_view folded) const;
  [[nodiscard]] std::string shape_of(std::string_view folded) const;
  [[nodiscard]] Met look_at(const Word& word) const;
  void add_rings(const Marking& marking);
  void add_paint(const Marking& marking);
  void add_paint_of(const Marking& marking, std::string_view words);
  [[nodiscard]] Paint paint_of(const Marking& marking, std::uint32_t part, std::uint32_t colour);

  const WordList* roles_ = nullptr;
  const WordList* parts_ = nullptr;
  const WordList* colours_ = nullptr;
  const WordList* shapes_ = nullptr;
  const WordList* forms_ = nullptr;
  const WordList* gaps_ = nullptr;
  const WordList* determiners_ = nullptr;
  const WordList* numbers_ = nullptr;
  std::map<std::string, std::uint32_t, std::less<>> words_;     // of colours and parts
  std::map<std::string, std::uint32_t, std::less<>> families_;  // by noun, and its plural
  std::vector<Rings> rings_;
  std::vector<Paint> paints_;
};

}  // namespace tailproof

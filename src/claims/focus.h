// What a block is about: its groups of serials, and what it takes over from the block before.
#pragma once

#include <cstdint>
#include <memory>
#include <set>
#include <string>
#include <vector>

#include "tailproof/manuscript.h"

namespace tailproof {

/// Serials that share a predicate: "S3001, S3004 and S3006".
struct Group {
  std::vector<std::uint32_t> members;  // mentions
  std::vector<std::string> serials;    // without repeats, in order; members of ranges among them
  std::uint32_t first = 0, last = 0;   // tokens
  std::uint32_t clause = 0;
  bool shown = true;
  bool is_either = false;      // "39-103 or 39-108": one of them, and nobody knows which
  bool is_in_passing = false;  // "though on OR-C it is hidden": what follows is not about it
  bool is_of_opening = false;  // of a company: only what stands before it is said of all
};

/// "Q2001 to Q2009": the machines between the two that the ledger knows.
struct SerialRange {
  std::uint32_t from = 0, to = 0;  // mentions
  std::vector<std::string> inside;
};

struct TableCaption;
class RetoldWords;

/// What one block hands on to the next of the same figure or section.
struct Focus {
  std::vector<std::string> serials;  // of the figure, or of the last paragraph
  std::vector<std::string> serials_of_figure, serials_before;  // of this figure, of the one before
  std::vector<std::string> units;  // of the caption last read that names any
  std::string card;  // the machine that the heading above names and nothing else, or ""
  std::string person;
  /// Named by more than a first name so far; shared while nobody is added, null for nobody.
  std::shared_ptr<const std::set<std::string>> named_people;
  std::string marking;  // the marking last named, for its measures
  std::uint32_t figure_group = kNone;
  std::vector<std::uint32_t> photograph_dates;  // claims: dates of the picture
  /// Of the table last read: made of its words alone, so that no block depends on another by it.
  std::shared_ptr<const TableCaption> table_caption;
  /// What is known of the words of rows: by no block depends on another either.
  std::shared_ptr<RetoldWords> retold_words;
};

}  // namespace tailproof

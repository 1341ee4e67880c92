// The interface of checks, the built-in ones and somebody else's in a shared object alike.
//
// A check receives views and returns queries; it keeps nothing between calls and may be called from
// several threads with different inputs. A shared object exports `tailproof_plugin` and is loaded
// only when --plugin names it.
#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "tailproof/claim.h"
#include "tailproof/ledger.h"
#include "tailproof/manuscript.h"

namespace tailproof {

/// Raised whenever a type of the public headers changes its layout or meaning.
inline constexpr std::uint32_t kInterfaceVersion = 15;

enum class Level { kNote, kWarning, kError };
[[nodiscard]] std::string_view to_word(Level level);
/// One level lower; a note stays a note.
[[nodiscard]] constexpr Level lowered(Level level) {
  return level == Level::kError ? Level::kWarning : Level::kNote;
}

enum class Verdict { kUpheld, kContradicted, kUnproven };

/// One row of the ledger as a query quotes it.
struct Evidence {
  std::string table;
  std::uint32_t line = 0;
  std::string source;
  std::string says;  // in words: "914 Squadron formed 1936-04-01"
};

/// Another place in the manuscripts that a query names.
struct Related {
  Span span;
  std::string says;
};

struct Query {
  std::string check;
  Level level = Level::kError;
  Span span;
  std::string subject;
  std::string message;                // one sentence: what the text says, what the evidence says
  std::string suggestion;             // what would agree; "" when there is no telling
  std::vector<std::uint32_t> claims;  // indices into CheckInput::claims
  std::vector<Evidence> evidence;
  std::vector<Related> related;
  std::string stet;  // the reason, when a stet covers it
  Span stet_at;      // then: where that stet stands
  std::uint32_t manuscript = 0;
  std::uint32_t block = kNone;
};

/// A recorded decision in stets.csv beside a manuscript.
struct StetRow {
  std::string file, figure, subject, check, reason, by, date;
  Span span;  // of its row in stets.csv
};

/// Where a stet, in the text or in stets.csv, was needed: filled in before the check stet-unused
/// runs.
struct StetUse {
  Span span;
  std::string check, reason;
  std::uint32_t manuscript = kNone;
  std::uint32_t block = kNone;
  std::uint32_t uses = 0;
};

class Captions;          // claim_index.h
class Whereabouts;       // placement.h
struct PhotographFacts;  // chronology.h

/// Everything that a check may look at.
struct CheckInput {
  std::span<const Manuscript> manuscripts;
  std::span<const Claim> claims;  // by manuscript, block, place in the text
  const Ledger& ledger;
  std::span<const StetUse> stets;          // filled only for a check with `after_stets`
  std::span<const std::string> check_ids;  // every check known in this run
  std::shared_ptr<const Captions> captions =
      nullptr;  // of `claims`, made once for all checks; none: each makes its own
  std::shared_ptr<const PhotographFacts> photographs =
      nullptr;  // what captions alone tell of theirs, kept from before; none: found when needed
  std::shared_ptr<const Whereabouts> whereabouts =
      nullptr;  // by `ledger`, once for all checks; none: each machine's are found when needed
};

/// How far a check sees: what its queries about one caption rest on, beside the ledger. Where it is
/// kCaption, they are not looked for again while nothing of that caption changes.
enum class CheckScope : std::uint8_t {
  kCaption,  // the blocks and claims of the caption, and of those that these name by number (the
             // date in a heading); each of its queries stands in the caption it is about
  kBook,     // anything
};

using CheckFunction = std::vector<Query> (*)(const CheckInput& input);

/// One row of the table of checks.
struct CheckInfo {
  std::string_view id;       // "rank-disagrees"
  std::string_view summary;  // what it reports, one line
  Level highest = Level::kError;
  CheckFunction run = nullptr;
  std::string_view page;     // its documentation, Markdown; "" when it has none
  bool after_stets = false;  // runs last, when it is known which stets were used
  CheckScope scope = CheckScope::kBook;
};

/// What a shared object's entry point returns. `interface_version` stays the first member in every
/// version.
struct Plugin {
  std::uint32_t interface_version = kInterfaceVersion;
  const CheckInfo* checks = nullptr;
  std::uint32_t check_count = 0;
};

}  // namespace tailproof

/// Name of the entry point: extern "C" const tailproof::Plugin* tailproof_plugin();
#define TAILPROOF_PLUGIN_ENTRY "tailproof_plugin"

// Hover: what the ledger and the manuscripts know of the words under the pointer.
#include <algorithm>
#include <filesystem>

#include "lsp/answers.h"
#include "report/phrases.h"
#include "run/history.h"
#include "tailproof/chronology.h"
#include "tailproof/verdict.h"

namespace tailproof::lsp {

namespace {

// A longer history is a report, which the verb `history` prints.
constexpr std::size_t kMostHappenings = 60;

/// Text for a client that reads Markdown, or for one that does not.
class Words {
 public:
  explicit Words(bool is_markdown) : is_markdown_(is_markdown) {}

  Words& plain(std::string_view text) {
    for (const char c : text) {
      const bool is_mark = std::string_view("\\`*_[]<>&#|~!").find(c) != std::string_view::npos;
      text_ += is_markdown_ && is_mark ? "\\" : "";
      text_ += c;
    }
    return *this;
  }
  Words& strong(std::string_view text) {
    text_ += is_markdown_ ? "**" : "";
    plain(text);
    text_ += is_markdown_ ? "**" : "";
    return *this;
  }
  void item() { text_ += is_markdown_ ? "\n- " : "\n"; }
  void paragraph() { text_ += is_markdown_ ? "\n\n" : "\n"; }

  [[nodiscard]] Json contents() const {
    return Json{{"kind", is_markdown_ ? "markdown" : "plaintext"}, {"value", text_}};
  }

 private:
  bool is_markdown_;
  std::string text_;
};

/// A place of a manuscript by the name of its file alone, which is what an author knows it by.
std::string short_place(const Run& run, const Span& span) {
  const Position at = run.sources.position(span.file, span.begin);
  return std::filesystem::path(run.sources.path(span.file)).filename().string() + ":" +
         std::to_string(at.line) + ":" + std::to_string(at.column);
}

void add_happening(Words& words, const Run& run, const Happening& happening) {
  words.item();
  words.strong(happening.date.empty() ? "undated" : happening.date).plain(" ");
  if (happening.in_ledger) {
    words.plain(line_of(happening.row));
    return;
  }
  words.plain(short_place(run, happening.span) + ": ");
  if (!happening.figure.empty()) words.plain(happening.figure + ": ");
  words.plain(happening.says.empty() ? "named" : happening.says);
}

bool add_history(Words& words, const Run& run, const Claim& claim) {
  const std::string_view name = claim.role.empty() ? claim.value : claim.subject;
  const std::optional<AirframeHistory> history = history_of_airframe(run, name);
  if (!history) return false;
  words.strong(history->serial);
  for (const std::string& serial : history->serials) {
    if (serial != history->serial) words.plain(", " + serial);
  }
  if (run.ledger.machine_of(history->serial).empty()) words.plain(" (not in the ledger)");
  words.paragraph();
  const std::size_t count = std::min(history->happenings.size(), kMostHappenings);
  for (std::size_t i = 0; i < count; ++i) add_happening(words, run, history->happenings[i]);
  if (count < history->happenings.size()) {
    words.item();
    words.plain(std::to_string(history->happenings.size() - count) +
                " more; tailproof history prints them all");
  }
  return true;
}

void add_date(Words& words, const Run& run, const Claim& claim) {
  words.strong(claim.impossible ? "no such day" : in_words(claim.date.days()));
  if (!claim.date.text().empty()) words.plain(" (" + claim.date.text() + ")");
  if (!claim.of.empty()) words.plain(", of the " + std::string(claim.of));
  if (claim.hedged) words.plain(", hedged");
  if (claim.inherited) words.plain(", partly taken from elsewhere in the text");
  if (claim.impossible) return;
  const DaySet wide = claim.date.widened(run.ledger.settings().margins);
  if (!(wide == claim.date.days())) {
    words.paragraph();
    words.plain("with the ledger's margin: " + in_words(wide));
  }
}

/// One end of a bracket, with what sets it.
void add_end(Words& words, const Chronology& chronology, std::string_view what,
             const BracketEnd& end) {
  if (!end.is_known) return;
  words.item();
  words.plain(what).plain(" ").strong(in_words(end.day));
  for (const std::uint32_t fact : end.facts) {
    words.plain(fact == end.facts.front() ? ": " : "; ");
    words.plain(chronology.in_words(chronology.facts()[fact]));
  }
}

/// When the photograph of the claim's caption can have been taken.
void add_bracket(Words& words, const Run& run, const Claim& claim) {
  const Block& block = run.manuscripts[claim.manuscript].blocks[claim.block];
  if (block.kind != BlockKind::kCaption) return;
  const CheckInput input{.manuscripts = run.manuscripts,
                         .claims = run.claims,
                         .ledger = run.ledger,
                         .stets = {},
                         .check_ids = {}};
  const Chronology chronology(input);
  const auto photographs = chronology.photographs();
  const auto is_its = [&](const PhotographTime& photograph) {
    if (photograph.manuscript != claim.manuscript) return false;
    const Block& other = run.manuscripts[photograph.manuscript].blocks[photograph.block];
    return photograph.block == claim.block || (block.group != kNone && other.group == block.group);
  };
  const auto found = std::find_if(photographs.begin(), photographs.end(), is_its);
  if (found == photographs.end()) return;
  const auto index = static_cast<std::uint32_t>(found - photographs.begin());
  const Bracket bracket = chronology.brackets()[index];
  words.paragraph();
  words.plain(chronology.name_of(index) + " taken ");
  if (bracket.days.empty()) {
    words.strong("on no day that all evidence allows");
    for (const std::uint32_t fact : bracket.clash) {
      words.item();
      words.plain(chronology.in_words(chronology.facts()[fact]));
    }
    return;
  }
  words.strong(in_words(bracket.days));
  add_end(words, chronology, "not before", bracket.earliest);
  add_end(words, chronology, "not after", bracket.latest);
}

/// Any other claim, as it has been understood.
void add_claim(Words& words, const Claim& claim) {
  words.plain(std::string(to_word(claim.kind)) + " ").strong(claim.value);
  if (!claim.role.empty()) words.plain(" (" + std::string(claim.role) + ")");
  if (!claim.position.empty()) words.plain(" on " + std::string(claim.position));
  if (!claim.subject.empty()) words.plain(", of " + std::string(claim.subject));
  if (claim.when.known) words.plain(", " + when_in_words(claim.when));
  if (claim.negated) words.plain("; denied");
  if (claim.attributed) words.plain("; as others have it");
  if (claim.hedged) words.plain("; hedged");
  if (!claim.known) words.plain("; not in the ledger");
}

}  // namespace

Json hover_at(const View& view, FileId file, std::uint32_t offset) {
  const std::vector<const Claim*> claims = view.claims_at(file, offset);
  if (claims.empty()) return {};
  const Claim& claim = *claims.front();
  Words words(view.client().reads_markdown);
  const bool is_airframe = claim.kind == ClaimKind::kAirframe;
  if (claim.kind == ClaimKind::kDate) {
    add_date(words, view.run(), claim);
    add_bracket(words, view.run(), claim);
  } else if (!is_airframe || !add_history(words, view.run(), claim)) {
    add_claim(words, claim);
  }
  Lines lines = view.lines(file);
  return Json{{"contents", words.contents()},
              {"range", lines.range_of(claim.span.begin, claim.span.end)}};
}

}  // namespace tailproof::lsp

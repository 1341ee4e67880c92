// Dates as prose has them, with everything else that the words of a block name.
#include "fuzz.h"
#include "ledger/reader.h"
#include "mentions/find_mentions.h"
#include "run/embedded_grammars.h"

using namespace tailproof;

namespace {

struct World {
  Ledger ledger;
  Grammars grammars;
  World() : ledger(empty_ledger()) {
    Complaints complaints;
    Result<Ledger> read = read_ledger(TAILPROOF_TOP "/tests/readme/ledger", complaints);
    fuzz::require(read.has_value(), "the small ledger can be read");
    ledger = std::move(read).value();
    grammars = Grammars::read(embedded_grammars(), {}, "en", complaints);
  }
};

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const World kWorld;
  static const MentionFinder kFinder(kWorld.ledger, kWorld.grammars);
  Sources sources;
  const Result<FileId> file = sources.add("input.txt", std::string(fuzz::as_text(data, size)));
  if (!file) return 0;
  const std::string_view text = sources.text(file.value());
  const Mentions found = kFinder.find(text);
  std::uint32_t begin = 0;
  for (const Mention& mention : found.items) {
    fuzz::require(mention.begin >= begin, "mentions come by their place");
    fuzz::require(mention.begin <= mention.end && mention.end <= text.size(), "one in its text");
    fuzz::require(mention.first <= mention.last && mention.last <= found.tokens.size(),
                  "one among its tokens");
    begin = mention.begin;
    if (mention.kind != MentionKind::kDate) continue;
    fuzz::require(mention.payload < found.dates.size(), "a date has its reading");
  }
  for (const DateMention& date : found.dates) {
    fuzz::require(date.begin <= date.end && date.end <= text.size(), "a date in its text");
    fuzz::require(date.bound_begin <= date.begin, "what bounds a date stands before it");
    if (!date.is_complete || date.impossible) continue;
    fuzz::require(!date.date.days().empty(), "a complete date has days");
    fuzz::require(Edtf::parse(date.date.text()).has_value(), "a complete date can be written");
  }
  return 0;
}

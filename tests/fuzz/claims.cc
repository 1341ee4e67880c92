// Plain text through every station to claims and checks, with a small ledger.
#include "checks/registry.h"
#include "claims/extract.h"
#include "fuzz.h"
#include "ledger/reader.h"
#include "manuscript/readers.h"
#include "run/embedded_grammars.h"

using namespace tailproof;

namespace {

struct SmallWorld {
  Ledger ledger;
  Grammars grammars;
  SmallWorld() : ledger(empty_ledger()) {
    Complaints complaints;
    Result<Ledger> read = read_ledger(TAILPROOF_TOP "/tests/readme/ledger", complaints);
    fuzz::require(read.has_value(), "the small ledger can be read");
    ledger = std::move(read).value();
    grammars = Grammars::read(embedded_grammars(), {}, "en", complaints);
  }
};

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const SmallWorld kWorld;
  Sources sources;
  Complaints complaints;
  const Result<FileId> file = sources.add("input.txt", std::string(fuzz::as_text(data, size)));
  if (!file) return 0;
  Assembly assembly(sources, complaints, "input.txt");
  read_text(assembly, file.value());
  std::vector<Manuscript> manuscripts;
  manuscripts.push_back(assembly.finish());
  const std::vector<Claim> claims = extract_claims(manuscripts, kWorld.ledger, kWorld.grammars);
  std::uint32_t block = 0, begin = 0;
  for (const Claim& claim : claims) {
    const Block& at = manuscripts.front().blocks.at(claim.block);
    fuzz::require(claim.begin <= claim.end && claim.end <= at.text.size(), "a claim in its block");
    fuzz::require(claim.span.end <= sources.text(claim.span.file).size(), "a claim in its file");
    const bool in_order = claim.block > block || (claim.block == block && claim.begin >= begin);
    fuzz::require(in_order, "claims come by block and place");
    block = claim.block;
    begin = claim.begin;
    for (const std::uint32_t other : {claim.when.date, claim.event, claim.holder_of_rank}) {
      fuzz::require(other == kNone || other < claims.size(), "a claim names claims that exist");
    }
  }
  const CheckInput input{.manuscripts = manuscripts,
                         .claims = claims,
                         .ledger = kWorld.ledger,
                         .stets = {},
                         .check_ids = {}};
  for (const CheckInfo& check : builtin_checks()) {
    if (check.after_stets) continue;
    for (const Query& query : check.run(input)) {
      fuzz::require(!query.message.empty(), "a query has a message");
      fuzz::require(query.span.end <= sources.text(query.span.file).size(), "a query in its file");
    }
  }
  return 0;
}

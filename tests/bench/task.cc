#include "task.h"

#include <fstream>

#include "claims/extract.h"
#include "ledger/reader.h"
#include "run/embedded_grammars.h"
#include "world.h"

namespace tailproof::bench {

#define TASK(name, function, needs, counts, compared) std::size_t function(const Book& book);
#include "tasks.inc"
#undef TASK

const std::vector<Task>& tasks() {
  static const std::vector<Task> kTasks = {
#define TASK(name, function, needs, counts, compared) \
  {name, function, Needs::needs, counts, compared},
#include "tasks.inc"
#undef TASK
  };
  return kTasks;
}

Evidence::Evidence(std::size_t count, const std::string& where)
    : folder(where), airframes(count), ledger(empty_ledger()) {
  World(count).write_ledger(folder);
  Complaints complaints;
  ledger = read_ledger(folder, complaints).value();
  grammars = Grammars::read(embedded_grammars(), {}, "en", complaints);
  finder = std::make_unique<MentionFinder>(ledger, grammars);
  words = std::make_unique<WordTable>(grammars, &finder->lexicon().phrases());
}

Book::Book(const Evidence& evidence, std::string path, std::string bytes)
    : evidence_(evidence), path_(std::move(path)), bytes_(std::move(bytes)) {
  std::ofstream(path_, std::ios::binary) << bytes_;
}

void Book::make_ready(Needs needs) const {
  if (needs != Needs::kBytes) static_cast<void>(manuscripts());
  if (needs == Needs::kTokens) static_cast<void>(tokens());
  if (needs == Needs::kClaims) static_cast<void>(claims());
}

const std::vector<Manuscript>& Book::manuscripts() const {
  if (manuscripts_.empty()) {
    Complaints complaints;
    manuscripts_.push_back(read_manuscript(sources_, path_, {}, complaints).value());
  }
  return manuscripts_;
}

const std::vector<std::vector<Token>>& Book::tokens() const {
  if (tokens_.empty()) {
    for (const Block& block : manuscripts().front().blocks) {
      tokens_.push_back(tokenize(block.text, *evidence_.words));
    }
  }
  return tokens_;
}

const std::vector<Claim>& Book::claims() const {
  if (claims_.empty())
    claims_ = extract_claims(manuscripts(), evidence_.ledger, evidence_.grammars);
  return claims_;
}

}  // namespace tailproof::bench

// Makes a Ledger of its tables.
#pragma once

#include <memory>

#include "ledger/tables.h"
#include "tailproof/ledger.h"

namespace tailproof {

class LedgerQuestions;

class LedgerBuilder {
 public:
  /// Where the rows go; settings, path and present tables too.
  [[nodiscard]] LedgerTables& tables();
  /// Indexes, resolves and settles; nothing may be added after that. `questions` takes what the
  /// ledger is asked beyond its rows; nullptr when these are all there are.
  [[nodiscard]] Ledger finish(std::shared_ptr<LedgerQuestions> questions = nullptr);

 private:
  Ledger ledger_;
};

}  // namespace tailproof

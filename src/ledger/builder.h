// Makes a Ledger of its tables.
#pragma once

#include "ledger/tables.h"
#include "tailproof/ledger.h"

namespace tailproof {

class LedgerBuilder {
 public:
  /// Where the rows go; settings, path and present tables too.
  [[nodiscard]] LedgerTables& tables();
  /// Indexes, resolves and settles; nothing may be added after that.
  [[nodiscard]] Ledger finish();

 private:
  Ledger ledger_;
};

}  // namespace tailproof

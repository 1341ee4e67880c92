// ledger.toml.
#include "fuzz.h"
#include "ledger/settings.h"

using namespace tailproof;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  LedgerTables tables;
  Complaints complaints;
  const Result<bool> read =
      read_settings("ledger.toml", fuzz::as_text(data, size), tables, complaints);
  if (!read) fuzz::require(!read.error().message.empty(), "a failure says what is wrong");
  for (const Complaint& complaint : complaints) {
    fuzz::require(!complaint.message.empty(), "a complaint says what is wrong");
  }
  return 0;
}

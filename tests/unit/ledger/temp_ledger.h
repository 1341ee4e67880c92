// A small ledger in a folder of its own, removed again with the object.
#pragma once

#include <unistd.h>

#include <atomic>
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <string>
#include <string_view>

#include "ledger/reader.h"

namespace tailproof {

class TempLedger {
 public:
  TempLedger() {
    static std::atomic<int> count{0};
    folder_ = std::filesystem::temp_directory_path() /
              ("ledger_test_" + std::to_string(::getpid()) + "_" + std::to_string(count++));
    std::filesystem::create_directories(folder_);
    file("ledger.toml", "");
  }
  TempLedger(const TempLedger&) = delete;
  TempLedger& operator=(const TempLedger&) = delete;
  ~TempLedger() {
    std::error_code ignored;
    std::filesystem::remove_all(folder_, ignored);
  }

  TempLedger& file(const std::string& name, std::string_view text) {
    std::ofstream(folder_ / name, std::ios::binary) << text;
    return *this;
  }
  TempLedger& without(const std::string& name) {
    std::filesystem::remove(folder_ / name);
    return *this;
  }

  [[nodiscard]] std::string path(const std::string& name = "") const {
    return name.empty() ? folder_.string() : (folder_ / name).string();
  }

  /// The ledger, which must be readable; complaints() afterwards.
  [[nodiscard]] Ledger read() {
    complaints_.clear();
    Result<Ledger> ledger = read_ledger(path(), complaints_);
    INFO((ledger ? std::string("read") : to_line(ledger.error())));
    REQUIRE(ledger.has_value());
    return std::move(ledger).value();
  }
  [[nodiscard]] const Complaints& complaints() const { return complaints_; }

  /// How many complaints (or notes) have this text.
  [[nodiscard]] int complaints_with(std::string_view text, bool notes = false) const {
    int count = 0;
    for (const Complaint& complaint : complaints_) {
      if (complaint.is_note == notes && to_line(complaint).find(text) != std::string::npos) ++count;
    }
    return count;
  }

 private:
  std::filesystem::path folder_;
  Complaints complaints_;
};

}  // namespace tailproof

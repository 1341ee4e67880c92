// What a ledger that was read in part was asked beyond that part.
//
// A compiled ledger gives only the rows that a manuscript's words lead to. Whoever asks it for
// another name leaves the question here; a run goes on until no question has an answer on disk that
// was not read. Threads: ask() from any.
#pragma once

#include <atomic>
#include <functional>
#include <memory>
#include <mutex>
#include <set>
#include <string>
#include <string_view>
#include <utility>

#include "ledger/spelling.h"

namespace tailproof {

class LedgerQuestions {
 public:
  /// `names` tells which names are on disk at all, `answered` and `types` what has been read.
  LedgerQuestions(std::shared_ptr<const SpellingFilter> names, SpellingSet answered,
                  std::set<std::string, std::less<>> types)
      : names_(std::move(names)), answered_(std::move(answered)), types_(std::move(types)) {}

  void ask(std::string_view name) {
    const Spelling spelling = spelling_of(name);
    if (!names_->may_contain(spelling) || answered_.contains(spelling)) return;
    const std::lock_guard lock(mutex_);
    asked_.insert(spelling);
  }
  /// For every airframe of a type.
  void ask_type(std::string_view type) {
    if (types_.contains(type)) return;
    const std::lock_guard lock(mutex_);
    asked_types_.emplace(type);
  }
  /// For all rows.
  void ask_for_all() { wants_all_ = true; }

  [[nodiscard]] bool wants_all() const { return wants_all_; }
  [[nodiscard]] const std::set<Spelling>& asked() const { return asked_; }
  [[nodiscard]] const std::set<std::string>& asked_types() const { return asked_types_; }

 private:
  const std::shared_ptr<const SpellingFilter> names_;
  const SpellingSet answered_;
  const std::set<std::string, std::less<>> types_;
  std::mutex mutex_;
  std::set<Spelling> asked_;
  std::set<std::string> asked_types_;
  std::atomic<bool> wants_all_ = false;
};

}  // namespace tailproof

// Errors as values: Failure, Result and Complaint.
//
// A Failure stops the thing that was asked for (no ledger, bad grammar). A Complaint is about input
// that is bad but readable around: it has a place, is collected, and the run goes on. Both lead to
// exit status 2 and one line for a person; neither is a query. Member names of Result are those of
// std::expected.
#pragma once

#include <cassert>
#include <cstdint>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace tailproof {

/// Bad input with its place. `line` and `column` 0 mean the file as a whole.
/// `message` has no capital and no full stop, says what is wrong and what to do.
struct Complaint {
  std::string file;
  std::uint32_t line = 0;
  std::uint32_t column = 0;
  std::string message;
  /// A note does not change the exit status (an unknown column, say).
  bool is_note = false;
};

/// "file:line:column: message", leaving out what is 0.
[[nodiscard]] std::string to_line(const Complaint& complaint);

/// Complaints in the order found.
using Complaints = std::vector<Complaint>;

/// Why nothing could be returned.
struct Failure {
  Complaint complaint;
};

/// Either a value or the reason why there is none.
template <typename T>
class [[nodiscard]] Result {
 public:
  Result(T value) : state_(std::move(value)) {}
  Result(Failure failure) : state_(std::move(failure)) {}

  [[nodiscard]] bool has_value() const { return state_.index() == 0; }
  explicit operator bool() const { return has_value(); }
  [[nodiscard]] T& value() & { return std::get<0>(state_); }
  [[nodiscard]] const T& value() const& { return std::get<0>(state_); }
  [[nodiscard]] T&& value() && { return std::get<0>(std::move(state_)); }
  [[nodiscard]] const Complaint& error() const { return std::get<1>(state_).complaint; }

 private:
  std::variant<T, Failure> state_;
};

}  // namespace tailproof

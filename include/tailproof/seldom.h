// A member that few of very many objects use: it reads as T() and costs a pointer until something
// is put into it.
#pragma once

#include <memory>
#include <utility>

namespace tailproof {

template <class T>
class Seldom {
 public:
  Seldom() = default;
  Seldom(const Seldom& other) : own_(other.own_ ? std::make_unique<T>(*other.own_) : nullptr) {}
  Seldom(Seldom&&) noexcept = default;
  Seldom& operator=(const Seldom& other) {
    own_ = other.own_ ? std::make_unique<T>(*other.own_) : nullptr;
    return *this;
  }
  Seldom& operator=(Seldom&&) noexcept = default;
  Seldom& operator=(T value) {
    own() = std::move(value);
    return *this;
  }
  ~Seldom() = default;

  [[nodiscard]] const T& operator*() const { return own_ ? *own_ : none(); }
  [[nodiscard]] const T* operator->() const { return &**this; }
  /// To be written to; from now on it takes its place.
  [[nodiscard]] T& own() {
    if (!own_) own_ = std::make_unique<T>();
    return *own_;
  }

 private:
  static const T& none() {
    static const T value{};
    return value;
  }

  std::unique_ptr<T> own_;
};

}  // namespace tailproof

// Look-up by text for tables of millions of rows: entries in one vector, in the order added, and a
// table of their numbers. No memory of its own for each entry, and rows keep their texts.
//
// Lifetime: keys are views; their texts must stay. Pointers to entries hold until the next is
// added. Member names are those of std::unordered_map.
#pragma once

#include <cstddef>
#include <cstdint>
#include <cstring>
#include <functional>
#include <memory>
#include <string_view>
#include <utility>
#include <vector>

namespace tailproof {

template <typename Value>
class FlatMap {
 public:
  using Entry = std::pair<std::string_view, Value>;
  using iterator = typename std::vector<Entry>::iterator;
  using const_iterator = typename std::vector<Entry>::const_iterator;

  void reserve(std::size_t count) {
    entries_.reserve(count);
    if (count * 2 > slots_.size()) rehash(count);
  }
  [[nodiscard]] iterator begin() { return entries_.begin(); }
  [[nodiscard]] iterator end() { return entries_.end(); }
  [[nodiscard]] const_iterator begin() const { return entries_.begin(); }
  [[nodiscard]] const_iterator end() const { return entries_.end(); }
  [[nodiscard]] std::size_t size() const { return entries_.size(); }

  [[nodiscard]] const_iterator find(std::string_view key) const {
    return entries_.begin() + static_cast<std::ptrdiff_t>(place_of(key, hash_of(key)));
  }
  [[nodiscard]] bool contains(std::string_view key) const { return find(key) != end(); }
  /// The key must be there.
  [[nodiscard]] const Value& at(std::string_view key) const { return find(key)->second; }

  std::pair<iterator, bool> try_emplace(std::string_view key, Value value = {}) {
    const std::uint32_t hash = hash_of(key);
    const std::size_t place = place_of(key, hash);
    const bool is_new = place == entries_.size();
    if (is_new) {
      if ((entries_.size() + 1) * 2 > slots_.size()) rehash(entries_.size() + 1);
      entries_.emplace_back(key, std::move(value));
      put(hash, entries_.size());
    }
    return {entries_.begin() + static_cast<std::ptrdiff_t>(place), is_new};
  }
  std::pair<iterator, bool> emplace(std::string_view key, Value value) {
    return try_emplace(key, std::move(value));
  }
  Value& operator[](std::string_view key) { return try_emplace(key).first->second; }

 private:
  // Half a hash and the number of an entry, from 1; 0 is free.
  struct Slot {
    std::uint32_t hash = 0;
    std::uint32_t entry = 0;
  };
  static std::uint32_t hash_of(std::string_view key) {
    const std::size_t hash = std::hash<std::string_view>{}(key);
    return static_cast<std::uint32_t>(hash ^ hash >> 32);
  }
  // The number of entries when there is none.
  [[nodiscard]] std::size_t place_of(std::string_view key, std::uint32_t hash) const {
    if (slots_.empty()) return entries_.size();
    const std::size_t mask = slots_.size() - 1;
    for (std::size_t at = hash & mask; slots_[at].entry != 0; at = (at + 1) & mask) {
      if (slots_[at].hash == hash && entries_[slots_[at].entry - 1].first == key) {
        return slots_[at].entry - 1;
      }
    }
    return entries_.size();
  }
  void put(std::uint32_t hash, std::size_t entry) {
    const std::size_t mask = slots_.size() - 1;
    std::size_t at = hash & mask;
    while (slots_[at].entry != 0) at = (at + 1) & mask;
    slots_[at] = {hash, static_cast<std::uint32_t>(entry)};
  }
  void rehash(std::size_t count) {
    std::size_t size = 16;
    while (size < count * 2) size *= 2;
    std::vector<Slot> old(size);
    old.swap(slots_);
    for (const Slot& slot : old) {
      if (slot.entry != 0) put(slot.hash, slot.entry);
    }
  }

  std::vector<Entry> entries_;
  std::vector<Slot> slots_;
};

/// Copies of texts that stay where they are.
class TextArena {
 public:
  std::string_view keep(std::string_view text) {
    constexpr std::size_t kChunk = 1 << 16;
    if (text.empty()) return {};
    if (text.size() > left_) {
      left_ = text.size() > kChunk ? text.size() : kChunk;
      next_ = chunks_.emplace_back(std::make_unique<char[]>(left_)).get();
    }
    std::memcpy(next_, text.data(), text.size());
    const std::string_view kept(next_, text.size());
    next_ += text.size();
    left_ -= text.size();
    return kept;
  }

 private:
  std::vector<std::unique_ptr<char[]>> chunks_;
  char* next_ = nullptr;
  std::size_t left_ = 0;
};

}  // namespace tailproof

// SPDX-License-Identifier: Apache-2.0
// Lists that are asked by the id of a thing: one value for each, in the order of the design.
#pragma once

#include <concepts>
#include <cstddef>
#include <initializer_list>
#include <utility>
#include <vector>

namespace housepower::design {

/// An index that knows what it counts: a RunId does not pass for a PostId.
template <class Thing> struct Id {
  int index = -1;
  friend constexpr bool operator==(Id, Id) = default;
};

/// All ids of a list, for a loop.
template <class Thing> class Ids {
public:
  class Iterator {
  public:
    explicit Iterator(int index) : index_(index) {}
    Id<Thing> operator*() const { return {index_}; }
    Iterator& operator++() { return ++index_, *this; }
    friend bool operator==(Iterator, Iterator) = default;

  private:
    int index_;
  };
  explicit Ids(std::size_t count) : count_(int(count)) {}
  [[nodiscard]] Iterator begin() const { return Iterator(0); }
  [[nodiscard]] Iterator end() const { return Iterator(count_); }

private:
  int count_;
};

/// One Value for each Thing: a vector that takes the Thing's id. An id of another kind does not
/// compile. By position it reads like a vector, where two lists of the same things go side by side.
template <class Value, class Thing = Value> class List {
  using Values = std::vector<Value>;

public:
  using value_type = Value;
  using size_type = std::size_t;
  using reference = typename Values::reference;
  using const_reference = typename Values::const_reference;
  using iterator = typename Values::iterator;
  using const_iterator = typename Values::const_iterator;

  List() = default;
  explicit List(std::size_t count, const Value& value = Value()) : values_(count, value) {}
  List(std::initializer_list<Value> values) : values_(values) {}
  explicit List(Values values) : values_(std::move(values)) {}

  reference operator[](Id<Thing> id) { return values_[std::size_t(id.index)]; }
  const_reference operator[](Id<Thing> id) const { return values_[std::size_t(id.index)]; }
  template <std::integral Position> reference operator[](Position i) {
    return values_[std::size_t(i)];
  }
  template <std::integral Position> const_reference operator[](Position i) const {
    return values_[std::size_t(i)];
  }
  reference at(std::size_t i) { return values_.at(i); }
  [[nodiscard]] const_reference at(std::size_t i) const { return values_.at(i); }

  [[nodiscard]] Ids<Thing> ids() const { return Ids<Thing>(size()); }
  [[nodiscard]] std::size_t size() const { return values_.size(); }
  [[nodiscard]] bool empty() const { return values_.empty(); }
  iterator begin() { return values_.begin(); }
  iterator end() { return values_.end(); }
  [[nodiscard]] const_iterator begin() const { return values_.begin(); }
  [[nodiscard]] const_iterator end() const { return values_.end(); }
  Value* data() { return values_.data(); }
  [[nodiscard]] const Value* data() const { return values_.data(); }
  reference front() { return values_.front(); }
  reference back() { return values_.back(); }
  [[nodiscard]] const_reference front() const { return values_.front(); }
  [[nodiscard]] const_reference back() const { return values_.back(); }

  void push_back(Value value) { values_.push_back(std::move(value)); }
  template <class... Parts> reference emplace_back(Parts&&... parts) {
    return values_.emplace_back(std::forward<Parts>(parts)...);
  }
  void pop_back() { values_.pop_back(); }
  void reserve(std::size_t count) { values_.reserve(count); }
  void resize(std::size_t count) { values_.resize(count); }
  void assign(std::size_t count, const Value& value) { values_.assign(count, value); }
  void clear() { values_.clear(); }
  iterator erase(const_iterator at) { return values_.erase(at); }

private:
  Values values_{};
};

}  // namespace housepower::design

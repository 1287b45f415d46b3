// SPDX-License-Identifier: Apache-2.0
// Designs made of a sound one by changes that know the format: keys of its field lists, values at and
// beyond their limits, parts doubled, taken out and renamed. What bytes decide is the same each time.
#pragma once

#include <cstdint>
#include <limits>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "housepower/design/design.hpp"
#include "housepower/reading/fields.hpp"
#include "housepower/units/unit.hpp"

namespace housepower::test {

/// Decisions, drawn from bytes; where they are at an end, always the first.
class Draws {
public:
  Draws(const std::uint8_t* data, std::size_t size) : at_(data), end_(data + size) {}
  [[nodiscard]] bool left() const { return at_ != end_; }
  std::size_t below(std::size_t count) {
    std::size_t drawn = byte();
    if (count > 200) drawn = drawn << 8U | byte();
    return count == 0 ? 0 : drawn % count;
  }
  template <class List> auto& one_of(List& list) { return list[below(std::size(list))]; }
  std::string rest() {
    std::string all(reinterpret_cast<const char*>(at_), std::size_t(end_ - at_));
    at_ = end_;
    return all;
  }

private:
  std::size_t byte() { return at_ == end_ ? 0 : *at_++; }
  const std::uint8_t *at_, *end_;
};

class Varied {
public:
  Varied(Node design, Draws& draws) : design_(std::move(design)), draws_(draws) {}

  /// As many changes as the bytes decide, up to that many.
  Node with_changes(int most) {
    for (int i = 0; i < most && draws_.left(); ++i) change(design_, design::document_fields());
    return design_;
  }

private:
  void change(Node& table, FieldList list) {
    auto* entries = std::get_if<Node::Table>(&table.value);
    if (!entries || list.empty()) return;
    const Field& f = draws_.one_of(list);
    if (f.role != Field::Role::member) return;
    const Shape& inner = f.shape->items ? *f.shape->items : *f.shape;
    Node::Entry* entry = table.find(f.key);
    if (!entry) return add(*entries, f, inner);
    if (draws_.below(16) == 0) return erase(*entries, f.key);
    if (inner.form != Shape::Form::table) return void(entry->value = leaf(f, inner));
    if (f.shape->form == Shape::Form::table) return change(entry->value, inner.inner());
    change_member(entry->value, inner);
  }

  void change_member(Node& node, const Shape& inner) {
    auto* members = std::get_if<Node::List>(&node.value);
    if (!members || members->empty()) return;
    const std::size_t i = draws_.below(members->size());
    switch (draws_.below(12)) {
    case 0: members->erase(members->begin() + std::ptrdiff_t(i)); break;
    case 1: members->push_back((*members)[i]); break;  // twice under one name
    case 2:
      members->push_back((*members)[i]);
      if (auto* name = members->back().find("name"))
        name->value.value = "copy " + std::to_string(members->size());
      break;
    case 3: std::swap((*members)[i], (*members)[draws_.below(members->size())]); break;
    default: change((*members)[i], inner.inner());
    }
  }

  void add(Node::Table& entries, const Field& f, const Shape& inner) {
    Node value;
    if (inner.form != Shape::Form::table) value = leaf(f, inner);
    else if (f.shape->form == Shape::Form::list) value.value = Node::List{first_of(inner.inner())};
    else value = first_of(inner.inner());
    entries.push_back({std::string(f.key), {}, std::move(value)});
  }

  /// A table with what it must have.
  Node first_of(FieldList list) {
    Node::Table entries;
    for (const Field& f : list) {
      if (f.role != Field::Role::member || (!f.required && draws_.below(8) != 0)) continue;
      const Shape& inner = f.shape->items ? *f.shape->items : *f.shape;
      if (inner.form == Shape::Form::table) continue;
      entries.push_back({std::string(f.key), {}, leaf(f, inner)});
    }
    return {entries, {}};
  }

  static void erase(Node::Table& entries, std::string_view key) {
    for (auto at = entries.begin(); at != entries.end(); ++at)
      if (at->key == key) return void(entries.erase(at));
  }

  Node leaf(const Field& f, const Shape& shape) {
    if (draws_.below(40) == 0) return of_another_kind();
    Node one{value_of(f, shape), {}};
    if (f.shape->form != Shape::Form::list) return one;
    Node::List list(draws_.below(4), one);
    return {list, {}};
  }

  decltype(Node::value) value_of(const Field& f, const Shape& shape) {
    switch (shape.form) {
    case Shape::Form::flag: return draws_.below(2) == 1;
    case Shape::Form::count: return std::int64_t(count_of(f));
    case Shape::Form::word:
      if (draws_.below(10) != 0 && !shape.words.empty()) {
        auto words = shape.words;
        return std::string(draws_.one_of(words));
      }
      return std::string("neither");
    case Shape::Form::quantity:
    case Shape::Form::number: return quantity_of(f);
    default: return text_of(f);
    }
  }

  double count_of(const Field& f) {
    switch (draws_.below(6)) {
    case 0: return f.least ? f.least->si : 0.0;
    case 1: return f.most ? std::min(f.most->si, 1e9) : 1e6;
    case 2: return f.least ? f.least->si - 1.0 : -1.0;
    case 3: return f.most ? std::min(f.most->si, 1e9) + 1.0 : 2e9;
    default: return double(draws_.below(12));
    }
  }

  /// At a limit, just beyond it, between the two, or as the field's own words say.
  decltype(Node::value) quantity_of(const Field& f) {
    const auto& low = f.least ? f.least : f.above;
    const auto beyond = [&](Number n, double by) {
      n.si += by * (n.si == 0.0 ? 1.0 : std::abs(n.si));
      return print(n, 15);
    };
    switch (draws_.below(16)) {
    case 0: return low ? print(*low, 15) : std::string(f.example);
    case 1: return f.most ? print(*f.most, 15) : std::string(f.example);
    case 2: return low ? beyond(*low, -1e-6) : std::string("-1");
    case 3: return f.most ? beyond(*f.most, 1e-6) : std::string("1e308");
    case 4: return low ? beyond(*low, 1e-6) : std::string("0");
    case 5:
    case 6:
    case 7:
    case 8:
    case 9:
    case 10: {
      if (!low || !f.most) return std::string(f.example);
      Number n = *low;
      const double part = double(draws_.below(200)) / 200.0;
      n.si = low->si + (f.most->si - low->si) * part * part * part;
      return print(n, 6);
    }
    default: return std::string(f.otherwise.empty() ? f.example : f.otherwise);
    }
  }

  /// Mostly a name that something in the design has.
  std::string text_of(const Field& f) {
    static constexpr std::string_view others[] = {
        "",        "none", "no such thing", "worst",    "all", "35 mm2",
        "2/0 awg", "12 V", "a/b",           "\"\\<&>'", "0",   "-1"};
    switch (draws_.below(5)) {
    case 0: return std::string(draws_.one_of(others));
    case 1: return std::string(f.example);
    default: {
      std::vector<std::string> names;
      add_texts(design_, names);
      return names.empty() ? std::string(f.example) : draws_.one_of(names);
    }
    }
  }

  static void add_texts(const Node& node, std::vector<std::string>& names) {
    if (const auto* table = std::get_if<Node::Table>(&node.value)) {
      for (const auto& entry : *table) {
        const auto* text = std::get_if<std::string>(&entry.value.value);
        if (text && (entry.key == "name" || entry.key == "from" || entry.key == "to"))
          names.push_back(*text);
        else add_texts(entry.value, names);
      }
    } else if (const auto* list = std::get_if<Node::List>(&node.value)) {
      for (const Node& one : *list) add_texts(one, names);
    }
  }

  Node of_another_kind() {
    switch (draws_.below(8)) {
    case 0: return {true, {}};
    case 1: return {std::int64_t(-1), {}};
    case 2: return {std::numeric_limits<std::int64_t>::max(), {}};
    case 3: return {1e300, {}};
    case 4: return {std::numeric_limits<double>::infinity(), {}};
    case 5: return {Node::List{}, {}};
    case 6: return {Node::Table{}, {}};
    default: return {std::string(500, 'x'), {}};
    }
  }

  Node design_;
  Draws& draws_;
};

}  // namespace housepower::test

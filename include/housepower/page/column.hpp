// SPDX-License-Identifier: Apache-2.0
// One column of a table of results and one key of its JSON: the single statement of both. A list of
// columns serves the text table, JSON, CSV, spreadsheet, conditions and orders alike, so that they
// cannot show different numbers. What a column holds is known from what its getter returns.
#pragma once

#include <algorithm>
#include <functional>
#include <initializer_list>
#include <span>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <variant>
#include <vector>

#include "housepower/units/unit.hpp"

namespace housepower::page {

/// Sums of what is never added to one another, as prices in several currencies are.
struct Amounts {
  struct Amount {
    double amount = 0.0;
    std::string of;  // "EUR"
  };
  std::vector<Amount> sums;
  std::string text;  // as they are read
};

using Cell = std::variant<std::monostate, std::string, Number, double, bool, Amounts>;

/// A share is a quantity without a unit: "2.5 %".
enum class CellKind { text, quantity, number, share, flag, amounts };

/// Which of two figures one would rather have.
enum class Better { neither, less, more };

struct Column {
  std::string_view key;    // "voltage_drop_V": stable, its unit at its end
  std::string_view title;  // "voltage drop"
  Unit unit{};             // of the number in JSON and in the table; factor 1 for a text
  CellKind kind = CellKind::text;
  bool may_lack = false;  // a row need not have it
  Better better = Better::neither;
  unsigned shown_in = 0;       // a bit for each of the tables for people it stands in
  bool empty_is_none = false;  // an empty text says that there is none, not that it is not known
  std::span<const std::string_view> words{};  // that it holds, rising: not by their letters
  std::string_view told_title{};              // where `told` stands in a table for people
  std::function<Cell(const void* row)> cell{};
  std::function<bool(const void* row)> at_least{};  // the figure is the least that it can be
  std::function<Cell(const void* row)> told{};      // in its place in a table for people
};

namespace detail {

template <class Value> Cell cell_of(const Value& value) {
  if constexpr (requires { value.has_value(); }) return value ? cell_of(*value) : Cell{};
  else if constexpr (requires { Number(value); }) return Number(value);
  else if constexpr (std::is_same_v<Value, bool> || std::is_same_v<Value, Amounts>) return value;
  else if constexpr (std::is_arithmetic_v<Value>) return static_cast<double>(value);
  else return std::string(value);
}

template <class Value> constexpr CellKind kind_of_cell() {
  if constexpr (requires(Value value) { value.has_value(); })
    return kind_of_cell<typename Value::value_type>();
  else if constexpr (std::is_same_v<Value, Number>) return CellKind::quantity;
  else if constexpr (requires(Value value) { Number(value); })
    return kind_of<Value> == Kind{} ? CellKind::share : CellKind::quantity;
  else if constexpr (std::is_same_v<Value, Amounts>) return CellKind::amounts;
  else if constexpr (std::is_same_v<Value, bool>) return CellKind::flag;
  else if constexpr (std::is_arithmetic_v<Value>) return CellKind::number;
  else return CellKind::text;
}

/// One kind of function for all getters of one value.
template <class Get> auto plain_getter(Get get) {
  if constexpr (requires { +get; }) return +get;
  else return get;
}

template <class Row, class Get> std::function<Cell(const void*)> erased_getter(Get get) {
  return [get = plain_getter(get)](const void* row) -> Cell {
    return cell_of<std::decay_t<std::invoke_result_t<Get, const Row&>>>(
        std::invoke(get, *static_cast<const Row*>(row)));
  };
}

}  // namespace detail

/// A column of rows of one type. `get` is a member, or a function of the row.
template <class Row> class ColumnOf {
public:
  /// The unit is looked up by its spelling.
  template <class Get>
  requires std::is_invocable_v<Get, const Row&>
  ColumnOf(std::string_view key, std::string_view title, std::string_view unit, Get get) {
    using Value = std::decay_t<std::invoke_result_t<Get, const Row&>>;
    column_.key = key;
    column_.title = title;
    if (const auto known = unit_named(unit)) column_.unit = *known;
    column_.kind = detail::kind_of_cell<Value>();
    column_.may_lack = requires(Value value) { value.has_value(); };
    column_.cell = detail::erased_getter<Row>(get);
  }
  template <class Get>
  requires std::is_invocable_v<Get, const Row&> ColumnOf(std::string_view key,
                                                         std::string_view title, Get get)
      : ColumnOf(key, title, std::string_view(), get) {}

  ColumnOf&& less_is_better() && { return std::move(set(column_.better, Better::less)); }
  ColumnOf&& more_is_better() && { return std::move(set(column_.better, Better::more)); }
  /// The tables for people that it stands in: bits of the list's own.
  ColumnOf&& in(unsigned tables) && { return std::move(set(column_.shown_in, tables)); }
  ColumnOf&& words(std::span<const std::string_view> rising) && {
    return std::move(set(column_.words, rising));
  }
  /// An empty text is an answer: there is none.
  ColumnOf&& empty_is_none() && { return std::move(set(column_.empty_is_none, true)); }
  /// Of a row whose figure is the least that it can be.
  template <class Is> ColumnOf&& at_least(Is is) && {
    column_.at_least = [is = detail::plain_getter(is)](const void* row) -> bool {
      return std::invoke(is, *static_cast<const Row*>(row));
    };
    return std::move(*this);
  }
  /// What people are told in its place, under a head of its own.
  template <class Get> ColumnOf&& told(std::string_view title, Get get) && {
    column_.told_title = title;
    column_.told = detail::erased_getter<Row>(get);
    return std::move(*this);
  }

  [[nodiscard]] const Column& erased() const { return column_; }

private:
  template <class Value> ColumnOf& set(Value& of, Value value) {
    of = value;
    return *this;
  }
  Column column_;
};

/// The columns of rows of one type; no writer takes them with rows of another.
template <class Row> class Columns {
public:
  Columns(std::initializer_list<ColumnOf<Row>> columns) {
    for (const ColumnOf<Row>& column : columns) all_.push_back(column.erased());
  }
  [[nodiscard]] std::span<const Column> erased() const { return all_; }

  /// Those that stand in one of these tables.
  [[nodiscard]] Columns shown_in(unsigned tables) const {
    Columns shown{};
    for (const Column& column : all_)
      if (column.shown_in & tables) shown.all_.push_back(column);
    return shown;
  }
  /// The one at that place.
  [[nodiscard]] Columns at(std::size_t place) const {
    Columns one{};
    one.all_.push_back(all_[place]);
    return one;
  }
  Columns& operator+=(const Columns& more) {
    all_.insert(all_.end(), more.all_.begin(), more.all_.end());
    return *this;
  }
  friend Columns operator+(Columns first, const Columns& then) { return std::move(first += then); }

private:
  std::vector<Column> all_;
};

}  // namespace housepower::page

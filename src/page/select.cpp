// SPDX-License-Identifier: Apache-2.0
#include "housepower/page/select.hpp"

#include <cmath>

#include "housepower/reading/diagnostic.hpp"
#include "housepower/units/phrases.hpp"

namespace housepower::page {
namespace {

using Is = Condition::Is;
using Amount = Amounts::Amount;

std::string_view without_spaces(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

std::string text_of(const Cell& cell) {
  if (const auto* flag = std::get_if<bool>(&cell)) return *flag ? "true" : "false";
  const auto* text = std::get_if<std::string>(&cell);
  return text ? *text : "";
}

std::optional<double> number_of(const Cell& cell, const Unit& unit) {
  if (const auto* number = std::get_if<Number>(&cell)) return in_unit(*number, unit);
  if (const auto* bare = std::get_if<double>(&cell)) return *bare;
  return std::nullopt;
}

/// Where there is one sum alone: nothing is converted.
const Amount* amount_of(const Cell& cell) {
  const auto* amounts = std::get_if<Amounts>(&cell);
  return amounts && amounts->sums.size() == 1 ? &amounts->sums.front() : nullptr;
}

Holds held(bool yes) { return yes ? Holds::yes : Holds::no; }

/// Of a figure, or of the least that it can be.
Holds holds_for(double figure, Is is, double with, bool least) {
  const bool same = std::abs(figure - with) <= 1e-9 * std::max(std::abs(figure), std::abs(with));
  const bool above = figure > with && !same;
  if (least && !above && !(same && is == Is::less)) return Holds::not_known;
  switch (is) {
  case Is::more: return held(above);
  case Is::less: return held(!above && !same);
  case Is::equal: return held(same);
  case Is::unequal: return held(!same);
  }
  return Holds::not_known;
}

bool is_empty(const Cell& cell) {
  const auto* text = std::get_if<std::string>(&cell);
  return std::holds_alternative<std::monostate>(cell) || (text && text->empty());
}
bool is_known(const Column& column, const Cell& cell) {
  return column.kind == CellKind::amounts ? amount_of(cell) != nullptr : !is_empty(cell);
}

int order_of_numbers(double a, double b) { return a < b ? -1 : a > b ? 1 : 0; }

/// A word that is none of the column's stands above them.
int rank_of(const Column& column, std::string_view word) {
  return int(std::find(column.words.begin(), column.words.end(), word) - column.words.begin());
}

int compare(const Column& column, const Cell& a, const Cell& b) {
  const Amount *x = amount_of(a), *y = amount_of(b);
  if (x && y && x->of != y->of) return x->of < y->of ? -1 : 1;
  if (x && y) return order_of_numbers(x->amount, y->amount);
  if (!column.words.empty()) return rank_of(column, text_of(a)) - rank_of(column, text_of(b));
  const auto m = number_of(a, column.unit), n = number_of(b, column.unit);
  return m && n ? order_of_numbers(*m, *n) : text_of(a).compare(text_of(b));
}

bool falls(Order::Way way, Better better) {
  return way == Order::Way::falling || (way == Order::Way::best_first && better == Better::more);
}

/// "5000 EUR".
std::optional<Amount> amount_named(std::string_view text) {
  const auto is_letter = [](char c) { return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z'); };
  const auto space = std::min(text.find(' '), text.size());
  const auto amount = parse_double(text.substr(0, space));
  const std::string_view of = text.substr(std::min(space + 1, text.size()));
  if (!amount || *amount < 0.0 || of.empty() || !std::all_of(of.begin(), of.end(), is_letter))
    return std::nullopt;
  return Amount{*amount, std::string(of)};
}

using Value = decltype(Condition::value);

constexpr std::string_view flag_words[] = {"false", "true"};

/// The words that such a column holds; none where it may hold any.
std::span<const std::string_view> words_of(const Column& column) {
  return column.kind == CellKind::flag ? flag_words : column.words;
}

bool alike(std::string_view a, std::string_view b) {
  const auto small = [](char c) { return c >= 'A' && c <= 'Z' ? char(c - 'A' + 'a') : c; };
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [&](char x, char y) { return small(x) == small(y); });
}

/// A word of the column as it stands there; any text where it may hold any.
std::variant<Value, ParseProblem> word_meant(const Column& column, std::string_view text) {
  const auto words = words_of(column);
  if (words.empty() || (text.empty() && column.empty_is_none)) return Value(std::string(text));
  for (const std::string_view word : words)
    if (alike(word, text)) return Value(std::string(word));
  const std::vector<std::string_view> all(words.begin(), words.end());
  const std::string near = did_you_mean(text, all);
  return ParseProblem{quoted(column.key) + " is never " + quoted(text),
                      (near.empty() ? "" : near + " ") + "it is one of " + listed(all), 1};
}

/// What a column of this kind is compared with.
std::variant<Value, ParseProblem> value_of(const Column& column, Is is, std::string_view text) {
  switch (column.kind) {
  case CellKind::amounts:
    if (auto amount = amount_named(text)) return Value(*std::move(amount));
    return ParseProblem{quoted(text) + " does not fit the column " + std::string(column.title),
                        "for example \"5000 EUR\"", 1};
  case CellKind::quantity:
  case CellKind::number:
  case CellKind::share: {
    if (const auto bare = parse_double(text)) return Value(*bare);  // in the unit of the key
    const auto parsed = parse_quantity(text, column.unit.kind);
    if (const auto* problem = std::get_if<ParseProblem>(&parsed)) return *problem;
    return Value(in_unit(std::get<Number>(parsed), column.unit));
  }
  case CellKind::text:
  case CellKind::flag: break;
  }
  if (is == Is::more || is == Is::less)
    return ParseProblem{quoted(column.key) + " holds texts: they are equal or not",
                        "use = or != with it", 1};
  return word_meant(column, text);
}

}  // namespace

std::variant<std::size_t, ParseProblem> column_named(std::span<const Column> columns,
                                                     std::string_view key) {
  std::vector<std::string_view> keys;
  for (const Column& column : columns) {
    if (column.key == key) return keys.size();
    keys.push_back(column.key);
  }
  const std::string hint = did_you_mean(key, keys);
  return ParseProblem{quoted(key) + " is not a column",
                      hint.empty() ? "the columns are " + listed(keys) : hint, 1};
}

std::variant<Condition, ParseProblem>
condition_of(std::span<const Column> columns, std::string_view text, std::string_view for_example) {
  const std::size_t at = text.find_first_of("=<>!");
  const bool unequal = at != text.npos && text.substr(at, 2) == "!=";
  if (at == text.npos || at == 0 || (text[at] == '!' && !unequal))
    return ParseProblem{quoted(text) + " is not a condition", std::string(for_example), 1};
  const auto found = column_named(columns, without_spaces(text.substr(0, at)));
  if (const auto* problem = std::get_if<ParseProblem>(&found)) return *problem;
  Condition c;
  c.column = std::get<std::size_t>(found);
  c.is = unequal           ? Is::unequal
         : text[at] == '>' ? Is::more
         : text[at] == '<' ? Is::less
                           : Is::equal;
  auto value =
      value_of(columns[c.column], c.is, without_spaces(text.substr(at + (unequal ? 2 : 1))));
  if (auto* problem = std::get_if<ParseProblem>(&value)) return std::move(*problem);
  c.value = std::get<Value>(std::move(value));
  return c;
}

std::variant<Order, ParseProblem> order_of(std::span<const Column> columns, std::string_view text) {
  constexpr std::string_view best = "best:";
  Order order;
  if (text.starts_with('-')) order.way = Order::Way::falling;
  else if (text.starts_with(best)) order.way = Order::Way::best_first;
  if (order.way != Order::Way::rising)
    text.remove_prefix(order.way == Order::Way::falling ? 1 : best.size());
  const auto found = column_named(columns, text);
  if (const auto* problem = std::get_if<ParseProblem>(&found)) return *problem;
  order.column = std::get<std::size_t>(found);
  if (order.way == Order::Way::best_first && columns[order.column].better == Better::neither)
    return ParseProblem{"of " + quoted(text) + " none is the better",
                        "say " + quoted(text) + " for rising, " + quoted("-" + std::string(text)) +
                            " for falling",
                        1};
  return order;
}

Holds holds(const Condition& c, std::span<const Column> columns, const void* row) {
  const Column& column = columns[c.column];
  const Cell cell = column.cell(row);
  const bool least = column.at_least && column.at_least(row);
  if (const auto* text = std::get_if<std::string>(&c.value)) {
    const bool lacks = is_empty(cell) && !column.empty_is_none && !text->empty();
    return lacks ? Holds::not_known : held((text_of(cell) == *text) == (c.is == Is::equal));
  }
  if (const auto* with = std::get_if<Amount>(&c.value)) {
    const Amount* amount = amount_of(cell);
    if (!amount || amount->of != with->of) return Holds::not_known;
    return holds_for(amount->amount, c.is, with->amount, least);
  }
  const auto figure = number_of(cell, column.unit);
  return figure ? holds_for(*figure, c.is, std::get<double>(c.value), least) : Holds::not_known;
}

bool comes_before(const Order& order, std::span<const Column> columns, const void* a,
                  const void* b) {
  const Column& column = columns[order.column];
  const Cell x = column.cell(a), y = column.cell(b);
  const bool known = is_known(column, x);
  if (known != is_known(column, y)) return known;
  return (falls(order.way, column.better) ? compare(column, y, x) : compare(column, x, y)) < 0;
}

}  // namespace housepower::page

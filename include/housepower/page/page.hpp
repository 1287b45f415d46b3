// SPDX-License-Identifier: Apache-2.0
// What is shown, without how. Text is one rendering of a Page; others can follow. One list of
// columns for each kind of result serves the text table and the JSON alike, so that they cannot
// show different numbers.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <variant>
#include <vector>

#include "housepower/units/unit.hpp"
#include "housepower/working/verdict.hpp"
#include "housepower/working/working.hpp"

namespace housepower::page {

using Cell = std::variant<std::monostate, std::string, Number, double, bool>;

/// One column of a results table and one key of the JSON: the single statement of both.
struct Column {
  std::string_view key;    // "voltage_drop_V": stable, its unit at its end
  std::string_view title;  // "voltage drop"
  Unit unit{};             // of the number in JSON and in the table; factor 1 for a text
  Cell (*cell)(const void* row) = nullptr;
};

namespace detail {
template <auto Member> struct MemberOf;
template <class Row_, class Value_, Value_ Row_::*Member> struct MemberOf<Member> {
  using Row = Row_;
  using Value = Value_;
};
template <class Value> Cell cell_of(const Value& value) {
  if constexpr (requires { value.has_value(); }) return value ? cell_of(*value) : Cell{};
  else if constexpr (requires { Number(value); }) return Number(value);
  else if constexpr (std::is_same_v<Value, bool>) return value;
  else if constexpr (std::is_arithmetic_v<Value>) return static_cast<double>(value);
  else return std::string(value);
}
}  // namespace detail

/// A column that shows a member. The unit is looked up by its spelling when the list is made.
template <auto Member>
Column column(std::string_view key, std::string_view title, std::string_view unit = "") {
  using M = detail::MemberOf<Member>;
  const auto known = unit_named(unit);
  return {key, title, known ? *known : Unit{}, [](const void* row) -> Cell {
            return detail::cell_of(static_cast<const typename M::Row*>(row)->*Member);
          }};
}

struct Heading {
  std::string text;
  bool on_new_sheet = false;  // of paper
};
struct Paragraph {
  std::string text;
};
/// What must be said, and is read last.
struct SmallPrint {
  std::string text;
};
/// Cells already in their columns' order; `numbers` are aligned right.
struct TableBlock {
  std::string title;
  std::vector<std::string> heads;
  std::vector<bool> numbers;
  std::vector<std::vector<std::string>> rows;
  /// Figures of the rows once more, as bars beside them where there is room; drawn to the largest.
  struct Bars {
    std::string head{};
    std::vector<double> lengths{}, marks{};  // one a row, or none
  };
  Bars bars{};
};
/// What was judged of a thing, and what it rests on.
struct Judgement {
  Verdict verdict = Verdict::not_checked;
  std::string rule, subject, message;
  std::string in_case, cure, place;  // each may be empty
  std::string source;
  Working working;
};
/// One after the other; with their working where asked for.
struct JudgementsBlock {
  std::vector<Judgement> judgements;
  bool with_working = false;
};
/// Steps of a calculation, one below the other.
struct WorkingBlock {
  Working working;
};
/// A verdict with what it rests on, to be seen first.
struct VerdictLine {
  Verdict verdict = Verdict::pass;
  std::string text;
};
/// A few figures that answer at a glance.
struct Facts {
  struct Fact {
    std::string name, value, note;
  };
  std::vector<Fact> facts;
};
/// A drawing with what it says in words and the numbers behind it; text shows the numbers alone.
struct Figure {
  std::string title, says;
  std::string drawing;  // SVG made `SvgFor::page`
  TableBlock numbers;   // without rows where it draws no numbers
  std::string paper;    // "A4", "A3": a sheet of its own, on its side; empty: within the text
};
struct Folded;
using Block = std::variant<Heading, Paragraph, TableBlock, JudgementsBlock, WorkingBlock, SmallPrint,
                           VerdictLine, Facts, Figure, Folded>;
/// What a reader may pass over: folded on a page that can unfold it.
struct Folded {
  std::string title;
  std::vector<Block> blocks;
};

struct Page {
  std::string title;
  std::vector<Block> blocks;
};

/// How the reader's screen is: columns, whether colour may be used beside the words, and whether it
/// shows block signs.
struct Screen {
  int width = 100;
  bool colour = false;
  bool blocks = true;
};
[[nodiscard]] std::string text(const Page&, const Screen&);

/// The closing note of every result.
[[nodiscard]] std::string_view safety_note();

}  // namespace housepower::page

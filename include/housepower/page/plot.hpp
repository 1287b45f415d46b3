// SPDX-License-Identifier: Apache-2.0
// Plots as data, and their drawing: lines, steps, areas, bars beside or upon each other, and named
// rows. Names stand beside what they name, not in a box; a curve differs by its dashes and a bar by
// its hatching as well as by its ink. Each has a text alternative and a table with all its numbers.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "housepower/page/page.hpp"
#include "housepower/page/svg.hpp"

namespace housepower::page {

struct Axis {
  std::string title, unit;         // "state of charge", "%"
  std::optional<double> from, to;  // else what the numbers need, to the next round one
  bool logarithmic = false;        // of named rows only; all numbers above zero
};

/// y at each x, rising x. Steps hold from one x to the next.
struct Curve {
  enum class Kind { line, steps } kind = Kind::line;
  std::string name;
  std::vector<double> x, y;
  bool filled = false;        // down to the axis
  bool dotted = false;        // each point marked
  bool named_within = false;  // where it falls past the middle, not at its end
};
/// Between two values at each x.
struct Band {
  std::string name;
  std::vector<double> x, low, high;
};
/// A value to compare with, such as a reserve or a promise.
struct Mark {
  enum class At { x, y } at = At::y;
  double value = 0;
  std::string says;
};
/// Words at a point.
struct PointName {
  double x = 0, y = 0;
  std::string says;
  bool below = false;  // beside a rising curve
};
/// A value for each category.
struct Bars {
  std::string name;
  std::vector<double> values;
};

struct Plot {
  std::string id, title, says;  // id: unlike any other on its page; says: what is to be seen
  Axis x, y;
  std::vector<Band> bands{};
  std::vector<Curve> curves{};
  std::vector<Mark> marks{};
  std::vector<PointName> names{};
  std::vector<std::string> categories{};  // in place of an x axis with numbers
  std::vector<Bars> bars{};
  bool stacked = false;
};

/// Named rows, each with a bar from one value to another, and words at its end.
struct RowPlot {
  struct Row {
    std::string name;
    double from = 0, to = 0;
    std::string says{};
    std::optional<double> tick{};  // a limit
    bool hatched = false;          // of another sort
  };
  std::string id, title, says;
  Axis x;
  std::string from_name, to_name, tick_name, says_name;  // heads of its table
  std::vector<Row> rows{};
};

/// Share of the values that are at least so large, falling, as steps.
[[nodiscard]] Curve distribution(std::string name, std::vector<double> values);

/// Round numbers from one end to the other, at most so many steps.
[[nodiscard]] std::vector<double> round_ticks(double from, double to, int most);

[[nodiscard]] std::string svg(const Plot&, SvgFor);
[[nodiscard]] std::string svg(const RowPlot&, SvgFor);

/// All numbers of a plot.
[[nodiscard]] TableBlock table_behind(const Plot&);
[[nodiscard]] TableBlock table_behind(const RowPlot&);

}  // namespace housepower::page

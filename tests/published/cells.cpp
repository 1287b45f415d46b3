// SPDX-License-Identifier: Apache-2.0
// Curves of lithium iron phosphate cells against the tables they were read from.
#include <doctest/doctest.h>

#include <algorithm>

#include "shipped.hpp"

namespace housepower::test::published_cells {
namespace {

struct Point {
  double x, y;
};

// Data table of a 3 Ah 26650 LFP|graphite cell, thesis TU Munich 2018 (M. Naumann), and the cell's
// specification: 25 °C, mean of charge and discharge; read in the cell data files of a technical
// university's research code.
const std::vector<Point> open_circuit = {
    {0, 2.2862},  {5, 3.0647},  {10, 3.1967}, {15, 3.2120}, {20, 3.2343}, {25, 3.2547},
    {30, 3.2703}, {35, 3.2826}, {40, 3.2921}, {45, 3.2973}, {50, 3.2995}, {55, 3.3014},
    {60, 3.3035}, {65, 3.3063}, {70, 3.3108}, {75, 3.3185}, {80, 3.3345}, {85, 3.3403},
    {90, 3.3425}, {95, 3.3447}, {100, 3.5305}};

TEST_CASE("open-circuit voltage: 21 printed points") {
  const tables::Curve& curve = shipped().cells.open_circuit;
  CHECK(word_of(curve.source.kind) == published);
  CHECK(curve.x.size() == open_circuit.size());
  for (std::size_t i = 0; i < open_circuit.size(); ++i) {
    CAPTURE(open_circuit[i].x);
    CHECK(curve.x.at(i) == exactly(open_circuit[i].x / 100.0));
    CHECK(curve.at(open_circuit[i].x / 100.0) == exactly(open_circuit[i].y));
  }
  CHECK(curve.at(0.525) == exactly(0.5 * (3.2995 + 3.3014)));  // straight between two points
}

TEST_CASE("open-circuit voltage of four in series, as printed beside") {
  const double pack[] = {9.14,  12.26, 12.79, 12.85, 12.94, 13.02, 13.08,
                         13.13, 13.17, 13.19, 13.20, 13.21, 13.21, 13.23,
                         13.24, 13.27, 13.34, 13.36, 13.37, 13.38, 14.12};
  for (std::size_t i = 0; i < open_circuit.size(); ++i) {
    CAPTURE(open_circuit[i].x);
    CHECK(4.0 * shipped().cells.open_circuit.at(open_circuit[i].x / 100.0) == to(pack[i], 0.01));
  }
}

TEST_CASE("the chart that puts 3.20 V at 50 % is wrong: measured cells have it near 10 to 18 %") {
  // Two trade pages print 50 % at 3.20 V and 80 % at 3.30 V a cell.
  const tables::Curve& curve = shipped().cells.open_circuit;
  CHECK(curve.at(0.10) < 3.20);
  CHECK(curve.at(0.18) > 3.20);
  CHECK(curve.at(0.50) == to(3.30, 0.01));
  // Between 30 and 95 % the pack moves 0.30 V: no charge can be told from a voltage there.
  CHECK(4.0 * (curve.at(0.95) - curve.at(0.30)) == to(0.30, 0.01));
}

TEST_CASE("hysteresis: the same cell's column, taken as the full gap") {
  const tables::Curve& curve = shipped().cells.hysteresis;
  for (const Point& p : {Point{0, 0.030}, Point{10, 0.0251}, Point{20, 0.0249}, Point{30, 0.0288},
                         Point{40, 0.0226}, Point{50, 0.0187}, Point{60, 0.0191}, Point{70, 0.0209},
                         Point{80, 0.0194}, Point{90, 0.0171}, Point{100, 0.030}}) {
    CAPTURE(p.x);
    CHECK(curve.at(p.x / 100.0) == exactly(p.y));
  }
  CHECK(word_of(curve.source.kind) == published);
}

TEST_CASE("capacity in the cold: the lowest that was read at each row") {
  // A battery maker's article on cold behaviour, 10 Ah cell: 80.2, 66.4 and 44.1 % at 0, −10 and
  // −20 °C, in whole percents; 10 °C is from memory.
  const tables::Curve& curve = shipped().cells.capacity;
  for (const Point& p : {Point{-20, 0.44}, Point{-10, 0.66}, Point{0, 0.80}, Point{10, 0.94},
                         Point{25, 1.00}, Point{45, 1.00}}) {
    CAPTURE(p.x);
    CHECK(curve.at(p.x) == exactly(p.y));
  }
  CHECK(curve.at(-30) <= 0.44);
  CHECK(word_of(curve.source.kind) == published);
}

TEST_CASE("charge limit by cell temperature: none in frost or above 60 °C") {
  // Manual of a 48 V LFP telecom module, p. 12, table 4.3, standard rates.
  const tables::Curve& curve = shipped().cells.charge_limit;
  const auto at = [&](double t) {  // a value holds from its x on
    const auto above = std::upper_bound(curve.x.begin(), curve.x.end(), t);
    REQUIRE(above != curve.x.begin());
    return curve.y[std::size_t(above - curve.x.begin() - 1)];
  };
  for (const Point& p :
       {Point{-39, 0}, Point{-0.5, 0}, Point{2, 0.1}, Point{7, 0.1}, Point{15, 0.2}, Point{30, 0.5},
        Point{49, 0.5}, Point{55, 0.1}, Point{61, 0}, Point{80, 0}}) {
    CAPTURE(p.x);
    CHECK(at(p.x) == exactly(p.y));
  }
  CHECK(word_of(curve.source.kind) == published);
  // The manual's fast column is a maker's own limit: printed, not used.
  struct Fast {
    std::string_view from;
    double to, fast;
  };
  for (const Fast& f : {Fast{"0", 5, 0.1}, Fast{"5", 10, 0.2}, Fast{"10", 25, 1},
                        Fast{"25", 50, 0.75}, Fast{"50", 60, 0.1}}) {
    CHECK(printed("charge-limit-by-temperature", f.from, "to") == exactly(f.to));
    CHECK(printed("charge-limit-by-temperature", f.from, "fast") == exactly(f.fast));
  }
}

TEST_CASE("resistance of the 3 Ah cell, mΩ by charge and temperature") {
  // The data files of the first test: discharge; 0 to 10 % is one row there.
  struct Row {
    std::string_view charge;
    double at_10, at_25, at_40;
  };
  for (const Row& row :
       {Row{"0", 195, 61.7, 44.1}, Row{"10", 195, 61.7, 44.1}, Row{"50", 69.4, 47.8, 38.4}}) {
    CAPTURE(row.charge);
    CHECK(printed("resistance", row.charge, "10") == exactly(row.at_10));
    CHECK(printed("resistance", row.charge, "25") == exactly(row.at_25));
    CHECK(printed("resistance", row.charge, "40") == exactly(row.at_40));
  }
  for (const Point& p :
       {Point{20, 50.4}, Point{40, 51.8}, Point{60, 44.3}, Point{80, 46.6}, Point{100, 42.5}})
    CHECK(printed("resistance", std::to_string(int(p.x)), "25") == exactly(p.y));
  CHECK(word_of(view("resistance").source.kind) == published);
}

}  // namespace
}  // namespace housepower::test::published_cells

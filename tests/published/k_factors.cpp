// SPDX-License-Identifier: Apache-2.0
// Adiabatic factors of copper: the formula of IEC 60949 against the rows that NEN 1010 section 543
// prints, and where the printed rows end.
#include <doctest/doctest.h>

#include "housepower/wiring/formulas.hpp"
#include "shipped.hpp"

namespace housepower::test::published_k_factors {
namespace {

double k(double from, double to) { return wiring::k_factor(celsius(from), celsius(to)); }

struct KRow {
  std::string_view insulation;
  double from, to, printed, recomputed;
};
// Printed: a public copy of NEN 1010 section 543 (115, 134, 143 / 143, 166, 176), others in a second
// source not quotable. Recomputed: 226 · √(ln((234.5 + θf)/(234.5 + θi))).
const std::vector<KRow> nen_1010 = {{"PVC 70, up to 300 mm²", 70, 160, 115, 115.0},
                                    {"PVC 70, over 300 mm²", 70, 140, 103, 102.8},
                                    {"PVC 90, up to 300 mm²", 90, 160, 100, 99.9},
                                    {"PVC 90, over 300 mm²", 90, 140, 86, 85.6},
                                    {"XLPE and EPR 90", 90, 250, 143, 143.1},
                                    {"rubber 60", 60, 200, 141, 140.9},
                                    {"butyl 85", 85, 220, 134, 134.2},
                                    {"PVC protective conductor", 30, 160, 143, 142.9},
                                    {"XLPE from 30 °C", 30, 250, 176, 175.8},
                                    {"silicone", 180, 350, 132, 132.5}};

TEST_CASE("k from the formula agrees with the printed rows") {
  for (const KRow& row : nen_1010) {
    CAPTURE(row.insulation);
    CHECK(k(row.from, row.to) == to(row.recomputed, 0.1));
    CHECK(k(row.from, row.to) == to(row.printed, 1.0));
  }
}

TEST_CASE("the 226 of the formula is rounded up from 225.7: k is 0.15 % generous at most") {
  // √(Q_c · (β + 20) / ρ20), Q_c 3.45e-3 J/K·mm³, β 234.5, ρ20 17.241e-6 Ω·mm (IEC 60949,
  // IEC 60364-5-54 annex A).
  const double exact = std::sqrt(3.45e-3 * (234.5 + 20.0) / 17.241e-6);
  CHECK(exact == to(225.7, 0.1));
  CHECK(226.0 / exact == about(1.0015, 0.0001));
  const double formula_constant = k(70, 160) / std::sqrt(std::log((234.5 + 160) / (234.5 + 70)));
  CHECK(formula_constant == about(226.0, 1e-6));
  for (const KRow& row : nen_1010) {
    CAPTURE(row.insulation);
    CHECK(exact * std::sqrt(std::log((234.5 + row.to) / (234.5 + row.from))) ==
          Printed{row.printed, 0.7});
  }
}

TEST_CASE("insulation without a standard row: 105 °C PVC and 125 °C cross-linked") {
  CHECK(k(105, 160) == to(87.6, 0.1));
  // A figure of 126.3 for "125/120 °C" starts at 120 °C; from 125 °C it is 2.3 % less.
  CHECK(k(120, 250) == to(126.3, 0.1));
  CHECK(k(125, 250) == to(123.5, 0.1));
}

TEST_CASE("the table of k holds the printed rows, and what is computed says from what") {
  const tables::View& table = view("k");
  const auto column = [&](std::string_view key) { return column_in(table, key); };
  for (const KRow& row : nen_1010) {
    CAPTURE(row.insulation);
    bool found = false;
    for (const auto& cells : table.rows) {
      if (cells[column("from")].value != row.from || cells[column("to")].value != row.to) continue;
      const auto& printed = cells[column("k")];
      if (printed.value != row.printed) continue;
      found = true;
      CHECK(word_of(printed.source.kind) == published);
    }
    CHECK(found);
  }
  for (const auto& cells : table.rows) {
    const double from = cells[column("from")].value.value(),
                 limit = cells[column("to")].value.value();
    CAPTURE(from);
    CAPTURE(limit);
    CHECK(cells[column("recomputed")].value.value() == to(k(from, limit), 0.1));
    // 105 °C PVC and the cross-linked ones from 120 and 125 °C have no standard row.
    const bool standard = !(from == 105 || from == 120 || from == 125);
    CHECK(cells[column("k")].value.has_value() == standard);
  }
}

TEST_CASE("a conductor withstands what its adiabatic size says") {
  for (const KRow& row : nen_1010) {
    CAPTURE(row.insulation);
    const auto area = wiring::adiabatic_area(1000.0 * ampere, 0.4 * second, row.printed);
    CHECK(wiring::withstand(row.printed, area).value() == about(1000.0 * 1000.0 * 0.4, 1e-9));
  }
}

}  // namespace
}  // namespace housepower::test::published_k_factors

// SPDX-License-Identifier: Apache-2.0
// Metric conductors against IEC 60228, every printed row, and the temperature factors of its annex
// against the rule that the engine uses instead.
#include <doctest/doctest.h>

#include "housepower/wiring/formulas.hpp"
#include "shipped.hpp"

namespace housepower::test::published_conductors_iec {
namespace {

struct Row {
  double mm2;
  double class_2_plain, class_2_tinned, class_5_plain, class_5_tinned;
  double last_digit;
};
// IEC 60228:2004 (= DIN VDE 0295, HD 383) tables 2 and 3, as quoted in four makers' and sellers'
// sheets: Ω/km at 20 °C, largest allowed.
const std::vector<Row> iec_60228 = {
    {0.5, 36.0, 36.7, 39.0, 40.1, 0.1},         {0.75, 24.5, 24.8, 26.0, 26.7, 0.1},
    {1, 18.1, 18.2, 19.5, 20.0, 0.1},           {1.5, 12.1, 12.2, 13.3, 13.7, 0.1},
    {2.5, 7.41, 7.56, 7.98, 8.21, 0.01},        {4, 4.61, 4.70, 4.95, 5.09, 0.01},
    {6, 3.08, 3.11, 3.30, 3.39, 0.01},          {10, 1.83, 1.84, 1.91, 1.95, 0.01},
    {16, 1.15, 1.16, 1.21, 1.24, 0.01},         {25, 0.727, 0.734, 0.780, 0.795, 0.001},
    {35, 0.524, 0.529, 0.554, 0.565, 0.001},    {50, 0.387, 0.391, 0.386, 0.393, 0.001},
    {70, 0.268, 0.270, 0.272, 0.277, 0.001},    {95, 0.193, 0.195, 0.206, 0.210, 0.001},
    {120, 0.153, 0.154, 0.161, 0.164, 0.001},   {150, 0.124, 0.126, 0.129, 0.132, 0.001},
    {185, 0.0991, 0.100, 0.106, 0.108, 0.0001}, {240, 0.0754, 0.0762, 0.0801, 0.0817, 0.0001},
};

std::string written(double mm2, std::string_view how) {
  std::string number = std::to_string(mm2);
  number.erase(number.find_last_not_of('0') + 1);
  if (number.back() == '.') number.pop_back();
  return number + " mm2 " + std::string(how);
}

// A printed limit is a limit: the table must hold it to the digit, not rounded once more.
void check_printed(double size, std::string_view how, double resistance) {
  const std::string name = written(size, how);
  CAPTURE(name);
  const tables::Conductor c = conductor(name);
  CHECK(ohm_per_km(c) == exactly(resistance));
  CHECK(mm2(c.nominal) == exactly(size));
  CHECK(mm2(c.copper) == exactly(size));  // the nominal area counts for I²t (IEC 60364-4-43)
  CHECK(word_of(c.source.kind) == published);
  CHECK(c.source.title.find("60228") != std::string_view::npos);
}

TEST_CASE("IEC 60228 table 2, class 2: resistance of stranded conductors") {
  for (const Row& row : iec_60228) {
    check_printed(row.mm2, "class 2", row.class_2_plain);
    check_printed(row.mm2, "class 2 tinned", row.class_2_tinned);
  }
}

TEST_CASE("IEC 60228 table 3, class 5: resistance of flexible conductors") {
  for (const Row& row : iec_60228) {
    check_printed(row.mm2, "class 5", row.class_5_plain);
    check_printed(row.mm2, "class 5 tinned", row.class_5_tinned);
  }
}

TEST_CASE("a size without a class is flexible and plain") {
  for (const Row& row : iec_60228) check_printed(row.mm2, "", row.class_5_plain);
}

TEST_CASE("class 6 has the resistances of class 5 (IEC 60228 table 4)") {
  for (const Row& row : iec_60228) {
    check_printed(row.mm2, "class 6", row.class_5_plain);
    check_printed(row.mm2, "class 6 tinned", row.class_5_tinned);
  }
}

TEST_CASE("the small flexible sizes of DIN VDE 0295, as quoted in one maker's sheet") {
  struct Small {
    double mm2, plain, tinned;
  };
  for (const Small& row : {Small{0.22, 96, 99}, Small{0.25, 76, 79}, Small{0.34, 53, 56}}) {
    const tables::Conductor plain = conductor(written(row.mm2, "")),
                            tinned = conductor(written(row.mm2, "tinned"));
    CAPTURE(row.mm2);
    CHECK(ohm_per_km(plain) == exactly(row.plain));
    CHECK(ohm_per_km(tinned) == exactly(row.tinned));
    CHECK(word_of(plain.source.kind) == published);
    CHECK(word_of(tinned.source.kind) == published);
  }
}

TEST_CASE("every metric series holds the printed sizes and no others, rising") {
  struct Series {
    std::string_view name;
    std::size_t sizes;
  };
  // 18 sizes, and the three small ones in class 5 only; plain and tinned are one series.
  for (const Series& series :
       {Series{"iec-60228-2", 18}, Series{"iec-60228-5", 21}, Series{"metric", 21}}) {
    CAPTURE(series.name);
    std::size_t plain = 0;
    Area last{};
    for (const tables::Conductor& c : tables::series_named(shipped(), series.name)) {
      if (c.tinned) continue;
      ++plain;
      CHECK(c.copper > last);
      last = c.copper;
    }
    CHECK(plain == series.sizes);
  }
}

TEST_CASE("a flexible conductor never beats a stranded one, but for plain 50 mm²") {
  // The standard's own tables: 0.386 Ω/km in class 5 against 0.387 in class 2.
  for (const Row& row : iec_60228) {
    CAPTURE(row.mm2);
    const double stranded = ohm_per_km(conductor(written(row.mm2, "class 2")));
    const double flexible = ohm_per_km(conductor(written(row.mm2, "class 5")));
    CHECK((flexible < stranded) == (row.mm2 == 50));
    CHECK(ohm_per_km(conductor(written(row.mm2, "class 5 tinned"))) >
          ohm_per_km(conductor(written(row.mm2, "class 2 tinned"))));
  }
}

TEST_CASE("a nominal flexible mm² is 0.0190 to 0.0200 Ω·mm²/m, not pure copper") {
  for (const Row& row : iec_60228) {
    const tables::Conductor c = conductor(written(row.mm2, ""));
    CAPTURE(row.mm2);
    const double resistivity = ohm_per_km(c) * mm2(c.copper) / 1000.0;
    CHECK(resistivity >= 0.01904 - 5e-6);  // computed from the printed rows: 0.01904 to 0.01995
    CHECK(resistivity <= 0.01995 + 5e-6);
    CHECK(resistivity > wiring::copper_resistivity.value() * 1e6);
  }
}

TEST_CASE("the annex's temperature factors agree with (234.5 + T)/254.5 within 0.5 %") {
  // k_t as quoted in a cable seller's sheet: R20 = k_t · R(T). They are 1/(1 + 0.004 (T − 20)).
  struct Factor {
    double celsius, printed;
  };
  for (const Factor& f :
       {Factor{25, 0.980}, Factor{30, 0.962}, Factor{40, 0.926}, Factor{50, 0.893},
        Factor{60, 0.862}, Factor{70, 0.833}, Factor{75, 0.820}, Factor{80, 0.806},
        Factor{90, 0.781}, Factor{100, 0.758}}) {
    CAPTURE(f.celsius);
    const auto r20 = 1.0 * ohm_per_kilometre;
    const double ratio = wiring::resistance_at_temperature(r20, celsius(f.celsius)) / r20;
    CHECK(ratio == about(1.0 / f.printed, 0.005));
    CHECK(1.0 / (1.0 + 0.004 * (f.celsius - 20.0)) == to(f.printed, 0.001));
  }
}

}  // namespace
}  // namespace housepower::test::published_conductors_iec

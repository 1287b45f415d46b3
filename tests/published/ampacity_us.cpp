// SPDX-License-Identifier: Apache-2.0
// North American ampacity tables, cell by cell: 33 CFR 183.425, ABYC E-11 with bundling, NEC 310.16
// with its corrections, NEC 400.5, 30 CFR 75.601-3, and the bundle ratings of FAA AC 43.13-1B.
#include <doctest/doctest.h>

#include "ampacities.hpp"

namespace housepower::test::published_ampacity_us {
namespace {

const std::vector<double> craft_columns = {60, 75, 80, 90, 105, 125, 200};
// 33 CFR 183.425 table 5 (the same numbers as ABYC E-11 table VI-A); a public copy of the CFR, the
// 105 °C column also in a marine cable catalogue, a retailer's copy and a cable maker's sheet.
const std::vector<AmpacityRow> cfr_33 = {
    {"18", {10, 10, 15, 20, 20, 25, 25}},         {"16", {15, 15, 20, 25, 25, 30, 35}},
    {"14", {20, 20, 25, 30, 35, 40, 45}},         {"12", {25, 25, 35, 40, 45, 50, 55}},
    {"10", {40, 40, 50, 55, 60, 70, 70}},         {"8", {55, 65, 70, 70, 80, 90, 100}},
    {"6", {80, 95, 100, 100, 120, 125, 135}},     {"4", {105, 125, 130, 135, 160, 170, 180}},
    {"3", {120, 145, 150, 155, 180, 195, 210}},   {"2", {140, 170, 175, 180, 210, 225, 240}},
    {"1", {165, 195, 210, 210, 245, 265, 280}},   {"1/0", {195, 230, 245, 245, 285, 305, 325}},
    {"2/0", {225, 265, 285, 285, 330, 355, 370}}, {"3/0", {260, 310, 330, 330, 385, 410, 430}},
    {"4/0", {300, 360, 385, 385, 445, 475, 510}}};

TEST_CASE("33 CFR 183.425 table 5: allowable amperage of conductors") {
  check_cells("us-33cfr-183-425", craft_columns, cfr_33);
  check_areas_are_gauges("us-33cfr-183-425");
  CHECK(base_celsius("us-33cfr-183-425") == exactly(30));
}

TEST_CASE("33 CFR 183.425 table 5 note 1: engine space, 105 °C column 0.85") {
  const auto factor = ambient_factor("us-33cfr-183-425", 105, 50);
  REQUIRE(factor.has_value());
  CHECK(*factor == exactly(0.85));
  CHECK(ambient_factor("us-33cfr-183-425", 105, 30) == 1.0);
}

TEST_CASE("33 CFR 183.425: no column's engine-space factor flatters the heat balance") {
  // The other factors are remembered (0.58 0.75 0.78 0.82 0.89 1.00 for 60, 75, 80, 90, 125, 200 °C).
  // √((T_max − 50)/(T_max − 30)) gives 0.577 0.745 0.775 0.816 0.889 0.939: at 80 and 200 °C the
  // remembered figure is the unsafe one.
  for (const double insulation : craft_columns) {
    CAPTURE(insulation);
    const double balance = std::sqrt((insulation - 50.0) / (insulation - 30.0));
    const auto factor = ambient_factor("us-33cfr-183-425", insulation, 50);
    REQUIRE(factor.has_value());
    CHECK(*factor <= std::max(balance, 0.01 * std::round(100.0 * balance)) + 1e-9);
    CHECK(*factor >= balance - 0.01);
  }
}

TEST_CASE("33 CFR 183.425: between and beyond the printed ambient the square root, rounded down") {
  const auto& bands = ampacity_table("us-33cfr-183-425").ambient.bands;
  CHECK(bands.size() == 15);  // 30 to 100 °C in steps of 5
  for (std::size_t i = 0; i < bands.size(); ++i)
    for (std::size_t column = 0; column < craft_columns.size(); ++column) {
      const double ambient = 30.0 + 5.0 * double(i), limit = craft_columns[column];
      CAPTURE(ambient);
      CAPTURE(limit);
      CHECK(in_celsius(bands[i].up_to) == exactly(ambient));
      const double left = (limit - ambient) / (limit - 30.0);
      const auto& factor = bands[i].factors.at(column);
      CHECK(factor.has_value() == (left > 1e-9));
      if (!factor) continue;
      CHECK(double(*factor) <= std::sqrt(left) + 1e-9);
      CHECK(double(*factor) > std::sqrt(left) - 0.01);
    }
}

struct Bundle {
  std::string_view table;
  int conductors;
  double factor;
  std::vector<double> out, in;
};
const std::vector<std::string_view> bundle_sizes = {"18", "16", "14", "12",  "10",  "8",   "6",
                                                    "4",  "2",  "1",  "1/0", "2/0", "3/0", "4/0"};
// ABYC E-11 / UL 1426, 105 °C: a cable maker's sheet; the factors in a marine cable catalogue,
// p. 212. "in" is inside engine spaces, at 50 °C.
const std::vector<Bundle> abyc = {
    {"abyc-e11-105-2",
     2,
     1.0,
     {20, 25, 35, 45, 60, 80, 120, 160, 210, 245, 285, 330, 385, 445},
     {17, 21.3, 29.8, 38.3, 51, 68, 102, 136, 178.5, 208.3, 242.3, 280.5, 327.3, 378.3}},
    {"abyc-e11-105-3",
     3,
     0.70,
     {14, 17.5, 24.5, 31.5, 42, 56, 84, 112, 147, 171.5, 199.5, 231, 269.5, 311.5},
     {11.9, 14.9, 20.8, 26.8, 35.7, 47.6, 71.4, 95.2, 125, 145.8, 169.6, 196.4, 229.1, 264.8}},
    {"abyc-e11-105-4to6",
     6,
     0.60,
     {12, 15, 21, 27, 36, 48, 72, 96, 126, 147, 171, 198, 231, 267},
     {10.2, 12.8, 17.9, 23, 30.6, 40.8, 61.2, 81.6, 107.1, 125, 145.4, 168.3, 196.4, 227}},
    {"abyc-e11-105-7to24",
     24,
     0.50,
     {10, 12.5, 17.5, 22.5, 30, 40, 60, 80, 105, 122.5, 142.5, 165, 192.5, 222.5},
     {8.5, 10.6, 14.9, 19.1, 25.5, 34, 51, 68, 89.3, 104.1, 121.1, 140.3, 163.6, 189.1}}};

TEST_CASE("ABYC E-11, 105 °C: 56 cells outside engine spaces") {
  for (const Bundle& bundle : abyc) {
    std::vector<AmpacityRow> rows;
    for (std::size_t i = 0; i < bundle_sizes.size(); ++i)
      rows.push_back({bundle_sizes[i], {bundle.out[i]}});
    check_cells(bundle.table, {105}, rows);
    check_areas_are_gauges(bundle.table);
    CHECK(base_celsius(bundle.table) == exactly(30));
  }
}

TEST_CASE("ABYC E-11, 105 °C: 56 cells inside engine spaces, at 50 °C") {
  for (const Bundle& bundle : abyc) {
    CAPTURE(bundle.table);
    const auto factor = ambient_factor(bundle.table, 105, 50);
    REQUIRE(factor.has_value());
    for (std::size_t i = 0; i < bundle_sizes.size(); ++i) {
      CAPTURE(bundle_sizes[i]);
      CHECK(listed(bundle.table, bundle_sizes[i], 105) * *factor == to(bundle.in[i], 0.1));
      CHECK(printed(bundle.table, bundle_sizes[i], "engine_space") == exactly(bundle.in[i]));
    }
  }
}

TEST_CASE("ABYC E-11: the bundles are factors on 33 CFR's 105 °C column") {
  for (const Bundle& bundle : abyc) {
    CAPTURE(bundle.table);
    for (const std::string_view size : bundle_sizes)
      CHECK(listed(bundle.table, size, 105) ==
            exactly(bundle.factor * listed("us-33cfr-183-425", size, 105)));
    CHECK(grouping_factor("us-33cfr-183-425", bundle.conductors) == bundle.factor);
    // What a table already counts as a bundle is not counted twice; a larger one takes the rest of
    // its own factor.
    CHECK(grouping_factor(bundle.table, bundle.conductors) == 1.0);
    for (const Bundle& larger : abyc) {
      if (larger.conductors <= bundle.conductors) continue;
      const auto more = grouping_factor(bundle.table, larger.conductors);
      REQUIRE(more.has_value());
      CHECK(bundle.factor * *more <= larger.factor + 1e-9);
      CHECK(bundle.factor * *more > larger.factor - 0.01);
    }
  }
  // From 25 conductors 0.40 of the single wire is 0.80 of a bundle that counts as 0.50.
  CHECK(grouping_factor("abyc-e11-105-7to24", 25) == 0.80);
  CHECK(ampacity_table("us-33cfr-183-425").grouping.counts ==
        tables::GroupingFactors::Counts::conductors);
  CHECK(grouping_factor("us-33cfr-183-425", 4) == 0.60);  // the next larger group
  CHECK(grouping_factor("us-33cfr-183-425", 7) == 0.50);
  CHECK(grouping_factor("us-33cfr-183-425", 25) == 0.40);
}

TEST_CASE("NEC table 310.16: copper, up to three conductors in raceway or cable") {
  // A machine-control maker's, an engineering firm's and two further copies; 14, 12, 3 and 1 AWG as
  // of the editions from 2011 (a second source not quotable): older ones have 20/25 A at 60 °C and
  // 110 and 150 A at 90 °C.
  check_cells("nec-310-16", {60, 75, 90},
              {{"18", {none, none, 14}},
               {"16", {none, none, 18}},
               {"14", {15, 20, 25}},
               {"12", {20, 25, 30}},
               {"10", {30, 35, 40}},
               {"8", {40, 50, 55}},
               {"6", {55, 65, 75}},
               {"4", {70, 85, 95}},
               {"3", {85, 100, 115}},
               {"2", {95, 115, 130}},
               {"1", {110, 130, 145}},
               {"1/0", {125, 150, 170}},
               {"2/0", {145, 175, 195}},
               {"3/0", {165, 200, 225}},
               {"4/0", {195, 230, 260}},
               {"250", {215, 255, 290}}});
  check_areas_are_gauges("nec-310-16");
  CHECK(base_celsius("nec-310-16") == exactly(30));
}

struct Band {
  double up_to, at_60, at_75, at_90;
};
// NEC 310.15(B)(1), base 30 °C; an engineering firm's table (21 to 35 °C), a wire-size page (75 °C
// column), a training article (0.82 at 120 °F); the full table a second source not quotable.
const std::vector<Band> nec_bands = {
    {10, 1.29, 1.20, 1.15}, {15, 1.22, 1.15, 1.12}, {20, 1.15, 1.11, 1.08}, {25, 1.08, 1.05, 1.04},
    {30, 1, 1, 1},          {35, 0.91, 0.94, 0.96}, {40, 0.82, 0.88, 0.91}, {45, 0.71, 0.82, 0.87},
    {50, 0.58, 0.75, 0.82}, {55, 0.41, 0.67, 0.76}, {60, none, 0.58, 0.71}, {65, none, 0.47, 0.65},
    {70, none, 0.33, 0.58}, {75, none, none, 0.50}, {80, none, none, 0.41}};

TEST_CASE("NEC 310.15(B)(1): ambient correction, every band") {
  for (const Band& band : nec_bands) {
    CAPTURE(band.up_to);
    const double columns[] = {60, 75, 90}, printed[] = {band.at_60, band.at_75, band.at_90};
    for (int i = 0; i < 3; ++i) {
      CAPTURE(columns[i]);
      const auto factor = ambient_factor("nec-310-16", columns[i], band.up_to);
      if (printed[i] == none) {
        CHECK_FALSE(factor.has_value());
        continue;
      }
      REQUIRE(factor.has_value());
      CHECK(*factor == exactly(printed[i]));
      // Each is √((T_max − T_a)/(T_max − 30)) at the hot end of its band.
      CHECK(std::sqrt((columns[i] - band.up_to) / (columns[i] - 30.0)) == to(printed[i], 0.01));
    }
  }
  const auto& bands = ampacity_table("nec-310-16").ambient.bands;
  REQUIRE(bands.size() == nec_bands.size());
  for (std::size_t i = 0; i < bands.size(); ++i)
    CHECK(in_celsius(bands[i].up_to) == exactly(nec_bands[i].up_to));
  CHECK(ambient_factor("nec-310-16", 90, 31) == 0.96);  // between two, the hotter
  CHECK_FALSE(ambient_factor("nec-310-16", 90, 81).has_value());
}

TEST_CASE("NEC 310.15(C)(1): more than three conductors together") {
  // A cabin builder's page quoting NEC 2014.
  struct Group {
    int from, to;
    double factor;
  };
  for (const Group& g :
       {Group{1, 3, 1.0}, Group{4, 6, 0.80}, Group{7, 9, 0.70}, Group{10, 20, 0.50},
        Group{21, 30, 0.45}, Group{31, 40, 0.40}, Group{41, 60, 0.35}}) {
    CAPTURE(g.from);
    CHECK(grouping_factor("nec-310-16", g.from) == g.factor);
    CHECK(grouping_factor("nec-310-16", g.to) == g.factor);
  }
  CHECK(ampacity_table("nec-310-16").grouping.counts ==
        tables::GroupingFactors::Counts::conductors);
}

TEST_CASE("NEC 400.5: flexible cable, one and two current-carrying conductors") {
  // Set Lighting Technician's Handbook, appendix D; 90 to 105 °C, and 75 °C.
  check_cells("nec-400-5-90-1", {90},
              {{"8", {80}},
               {"6", {105}},
               {"4", {140}},
               {"2", {190}},
               {"1/0", {260}},
               {"2/0", {300}},
               {"3/0", {350}},
               {"4/0", {405}}});
  check_cells("nec-400-5-90-2", {90},
              {{"8", {74}},
               {"6", {99}},
               {"4", {130}},
               {"2", {174}},
               {"1/0", {234}},
               {"2/0", {271}},
               {"3/0", {313}},
               {"4/0", {361}}});
  check_cells("nec-400-5-75-1", {75},
              {{"8", {70}},
               {"6", {95}},
               {"4", {125}},
               {"2", {170}},
               {"1/0", {230}},
               {"2/0", {265}},
               {"3/0", {310}},
               {"4/0", {360}}});
  check_cells("nec-400-5-75-2", {75},
              {{"8", {65}},
               {"6", {88}},
               {"4", {115}},
               {"2", {152}},
               {"1/0", {207}},
               {"2/0", {238}},
               {"3/0", {275}},
               {"4/0", {317}}});
  for (const std::string_view name :
       {"nec-400-5-90-1", "nec-400-5-90-2", "nec-400-5-75-1", "nec-400-5-75-2"}) {
    check_areas_are_gauges(name);
    CHECK(base_celsius(name) == exactly(30));
  }
}

TEST_CASE("30 CFR 75.601-3: trailing cable, ampacity and never the fuse column") {
  // A public copy of the eCFR. The largest fuse printed beside stands above the ampacity for 6, 3,
  // 1, 2/0, 3/0 and 4/0 (90 150 175 250 300 350 A): only the ampacity is taken.
  const auto& table = ampacity_table("us-30cfr-75-601-3");
  REQUIRE(table.insulation.size() == 1);
  check_cells("us-30cfr-75-601-3", {in_celsius(table.insulation.front())},
              {{"8", {60}},
               {"6", {85}},
               {"4", {110}},
               {"3", {130}},
               {"2", {150}},
               {"1", {170}},
               {"1/0", {200}},
               {"2/0", {235}},
               {"3/0", {275}},
               {"4/0", {315}}});
  check_areas_are_gauges("us-30cfr-75-601-3");
  struct LargestFuse {
    std::string_view size;
    double amperes;
  };
  for (const LargestFuse& f :
       {LargestFuse{"8", 60}, LargestFuse{"6", 90}, LargestFuse{"4", 110}, LargestFuse{"3", 150},
        LargestFuse{"2", 150}, LargestFuse{"1", 175}, LargestFuse{"1/0", 200},
        LargestFuse{"2/0", 250}, LargestFuse{"3/0", 300}, LargestFuse{"4/0", 350}})
    CHECK(printed("us-30cfr-75-601-3", f.size, "largest_fuse") == exactly(f.amperes));
  CHECK_FALSE(table.base_ambient.has_value());  // not stated where it was read
}

TEST_CASE("FAA AC 43.13-1B table 11-9: wires in a bundle, base 70 °C, wire rated 105 °C") {
  // 1998, change 1 of 2001, p. 11-23, two copies: 33 and more wires from 10 AWG, 9 wires up to 8 AWG.
  check_cells("faa-ac43-13-bundle", {105},
              {{"20", {4}},
               {"18", {6}},
               {"16", {7}},
               {"14", {10}},
               {"12", {13}},
               {"10", {17}},
               {"8", {38}},
               {"6", {50}},
               {"4", {68}},
               {"2", {95}},
               {"1", {113}},
               {"1/0", {128}},
               {"2/0", {147}},
               {"3/0", {172}},
               {"4/0", {204}}});
  check_areas_are_gauges("faa-ac43-13-bundle");
  CHECK_FALSE(grouping_factor("faa-ac43-13-bundle", 2).has_value());  // it is a bundle already
  CHECK(base_celsius("faa-ac43-13-bundle") == exactly(70));
}

}  // namespace
}  // namespace housepower::test::published_ampacity_us

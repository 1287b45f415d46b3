// SPDX-License-Identifier: Apache-2.0
// ISO 10133:2012 annex A could not be read. Its ampacities stand in the tables as remembered, must
// say so in every cell, and must never be a default.
#include <doctest/doctest.h>

#include "ampacities.hpp"

namespace housepower::test::published_iso_10133 {
namespace {

const std::vector<double> columns = {60, 70, 85, 105, 125, 200};
const std::vector<AmpacityRow> remembered = {
    {"0.75", {6, 10, 12, 16, 20, 25}},      {"1", {8, 14, 18, 20, 25, 35}},
    {"1.5", {12, 18, 21, 25, 30, 40}},      {"2.5", {17, 25, 30, 35, 40, 45}},
    {"4", {22, 35, 40, 45, 50, 55}},        {"6", {29, 45, 50, 60, 70, 75}},
    {"10", {40, 65, 70, 90, 100, 120}},     {"16", {54, 90, 100, 130, 150, 170}},
    {"25", {71, 120, 140, 170, 185, 200}},  {"35", {87, 160, 185, 210, 225, 240}},
    {"50", {105, 210, 230, 270, 300, 325}}, {"70", {135, 265, 285, 330, 360, 375}},
    {"95", {165, 310, 330, 390, 410, 430}}, {"120", {190, 360, 400, 450, 480, 520}},
    {"150", {220, 380, 430, 475, 520, 560}}};

TEST_CASE("ISO 10133 annex A is from memory, in the table and in every cell") {
  check_cells("iso-10133-a", columns, remembered, from_memory);
  check_areas_are_square_millimetres("iso-10133-a");
  CHECK(base_celsius("iso-10133-a") == exactly(30));
}

TEST_CASE("a battery maker's manual prints the 200 °C column as 105 °C: unresolved, never used") {
  // The manual, p. 43, citing ISO 10133:2012.
  struct Printed105 {
    std::string_view size;
    double amperes;
  };
  for (const Printed105& row :
       {Printed105{"2.5", 45}, Printed105{"4", 55}, Printed105{"6", 75}, Printed105{"10", 120},
        Printed105{"16", 170}, Printed105{"25", 200}, Printed105{"35", 240}, Printed105{"50", 325},
        Printed105{"70", 375}, Printed105{"95", 430}, Printed105{"120", 520},
        Printed105{"150", 560}}) {
    CAPTURE(row.size);
    CHECK(listed("iso-10133-a", row.size, 200) == exactly(row.amperes));
    CHECK(listed("iso-10133-a", row.size, 105) < row.amperes);
  }
}

TEST_CASE("ISO 10133: hot places by the heat balance, not by the remembered factors") {
  // Remembered for 60 °C: 0.75 0.82 0.86 0.89 1.0 for 70 to 200 °C. They fit 50 °C and flatter 60 °C
  // by 8 to 50 %; √((T_max − 60)/(T_max − 30)) gives 0.50 0.67 0.77 0.83 0.91.
  const double remembered_60[] = {0.75, 0.82, 0.86, 0.89, 1.0};
  const double balance_60[] = {0.50, 0.67, 0.77, 0.83, 0.91};
  for (std::size_t i = 1; i < columns.size(); ++i) {
    CAPTURE(columns[i]);
    const auto factor = ambient_factor("iso-10133-a", columns[i], 60);
    REQUIRE(factor.has_value());
    CHECK(*factor == to(balance_60[i - 1], 0.01));
    CHECK(*factor < remembered_60[i - 1]);
  }
}

TEST_CASE("no profile reads the remembered ISO table") {
  for (const tables::RuleProfile& profile : shipped().profiles) {
    CAPTURE(profile.name);
    for (const std::string& table : {profile.ampacity_above, profile.ampacity_below_90,
                                     profile.ampacity_small, profile.ampacity_conduit})
      CHECK(table != "iso-10133-a");
  }
}

TEST_CASE("the unread table lies on the safe side of what was read nearby") {
  // The 60 °C column nearly equals the German list; 35 mm² at 105 °C is ABYC's 210 A for 33.6 mm².
  CHECK(listed("iso-10133-a", "35", 105) == listed("us-33cfr-183-425", "2", 105));
  const double german = in_celsius(ampacity_table("de-leisure-list").insulation.front());
  for (const std::string_view size : {"1.5", "2.5", "4", "6", "10", "16", "25", "35"}) {
    CAPTURE(size);
    CHECK(listed("iso-10133-a", size, 60) == about(listed("de-leisure-list", size, german), 0.05));
  }
}

}  // namespace
}  // namespace housepower::test::published_iso_10133

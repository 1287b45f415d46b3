// SPDX-License-Identifier: Apache-2.0
// What no data sheet and no van can have is told at its key, with both figures.
#include "van.hpp"

namespace design_impossible {

using namespace van;

namespace {

const std::string module_ =
    "{ power = \"200 W\", voc = \"24.3 V\", isc = \"10.4 A\", vmp = \"20.4 V\", imp = \"9.8 A\", "
    "size = [\"1.3 m\", \"0.8 m\"] }";
std::string sound() {
  return with(with(text, "{ power = \"200 W\" }", module_), "nominal_voltage = \"12.8 V\"\n",
              "nominal_voltage = \"12.8 V\"\n"
              "charge_cut_off_below = \"0 °C\"\ncharge_cut_off_above = \"55 °C\"\n"
              "size = [\"0.33 m\", \"0.17 m\", \"0.22 m\"]\n"
              "[bank.box]\nsize = [\"0.5 m\", \"0.4 m\", \"0.3 m\"]\n"
              "heater = { power = \"30 W\", supplied_by = \"bank\", on_below = \"2 "
              "°C\", off_above = \"5 °C\" }\n");
}

}  // namespace

TEST_CASE("a sound van has none of these errors") { CHECK(opened(sound()).opened); }

TEST_CASE("figures that cannot be of one thing are told at their key, with both of them") {
  struct Row {
    std::string from, to, key, one, other;
  };
  for (const Row& row : {
           Row{"voc = \"24.3 V\"", "voc = \"10 V\"", "array/roof/module/voc", "10 V", "20.4 V"},
           Row{"isc = \"10.4 A\"", "isc = \"1 A\"", "array/roof/module/isc", "1 A", "9.8 A"},
           Row{"power = \"200 W\", voc", "power = \"225 W\", voc", "array/roof/module/power",
               "225 W", "200 W"},
           Row{"power = \"200 W\", voc", "power = \"150 W\", voc", "array/roof/module/power",
               "150 W", "200 W"},
           Row{"[\"1.3 m\", \"0.8 m\"]", "[\"0.8 m\", \"0.8 m\"]", "array/roof/module/size", "0.64",
               "200 W"},
           Row{"off_above = \"5 °C\"", "off_above = \"2 °C\"", "bank/box/heater/off_above", "2 °C",
               "2 °C"},
           Row{"on_below = \"2 °C\", off_above = \"5 °C\"",
               "on_below = \"45 °C\", off_above = \"50 °C\"", "bank/box/heater/on_below", "45 °C",
               "40 °C"},
           Row{"charge_cut_off_above = \"55 °C\"", "charge_cut_off_above = \"0 °C\"",
               "bank/charge_cut_off_above", "0 °C", "0 °C"},
           Row{"[\"0.5 m\", \"0.4 m\", \"0.3 m\"]", "[\"0.3 m\", \"0.3 m\", \"0.3 m\"]",
               "bank/box/size", "0.3 m", "0.33 m"},
           Row{"nominal_voltage = \"12.8 V\"", "nominal_voltage = \"15 V\"", "bank/nominal_voltage",
               "15 V", "11.6 V"},
           Row{"nominal_voltage = \"12.8 V\"", "nominal_voltage = \"11 V\"", "bank/nominal_voltage",
               "11 V", "12 V"},
       }) {
    CAPTURE(row.to);
    const Tried tried = opened(with(sound(), row.from, row.to));
    const bool is_tried_so = row.key.ends_with("power") || row.key.ends_with("size");
    CHECK(tried.opened.has_value() == is_tried_so);  // with a warning
    REQUIRE(tried.diagnostics.all.size() == 1);
    const auto& said = tried.diagnostics.all.front();
    CHECK(said.key == row.key);
    CHECK_MESSAGE((said.message + said.hint).find(row.one) != std::string::npos, said.message);
    CHECK_MESSAGE((said.message + said.hint).find(row.other) != std::string::npos, said.message);
  }
}

}  // namespace design_impossible

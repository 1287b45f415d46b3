// SPDX-License-Identifier: Apache-2.0
// What the program supplies where the file is silent: the safe value, and the one that does least
// harm; each is listed. Expected values: the format's own statement of its defaults (docs/FORMAT.md).
#include "van.hpp"

namespace design_defaults {

using namespace van;

namespace {
std::string value(const Design& design, std::string_view path) {
  const auto* a = assumed(design, path);
  return a ? a->value : "not assumed";
}
}  // namespace

TEST_CASE("a silent run lies in the worst way that is usual") {
  const Tried tried = opened(text);
  const Design& d = tried.design();
  const auto& run = d->runs.at(1);
  CHECK(run.insulation == celsius(60));
  CHECK(run.material == design::Insulation::pvc);
  CHECK(run.parallel == 1);
  REQUIRE(run.sections.size() == 1);
  CHECK(run.sections[0].length == 4.0 * metre);
  CHECK(run.sections[0].laid == design::Laid::in_insulation);
  CHECK(run.sections[0].circuits_together == 4);
  CHECK(run.sections[0].ambient == celsius(40));  // inside
  CHECK(run.joints == 4);
  CHECK_FALSE(run.joint_resistance);
  CHECK(d->runs[0].sections.at(0).ambient == celsius(50));  // one end in the box
  CHECK(d->runs[0].joints == 6);                            // 4, and 2 at its device
  for (const auto& row : std::initializer_list<std::pair<std::string_view, std::string_view>>{
           {"run/fridge/insulation", "60 °C"},
           {"run/fridge/insulation_material", "pvc"},
           {"run/fridge/laid", "in-insulation"},
           {"run/fridge/ambient", "40 °C"},
           {"run/fridge/circuits_together", "4"},
           {"run/fridge/parallel", "1"},
           {"run/fridge/joints", "4"},
           {"run/main/joints", "6"},
           {"run/main/ambient", "50 °C"},
           {"run/main/protection/0/enclosed", "false"},
           {"run/main/protection/0/sits", "inside"},
           {"run/fridge/joint_resistance", "that of 0.1 m of the conductor"},
           {"run/fridge/return", "back to panel"},
           {"node/panel/sits", "inside"}})
    CHECK(value(d, row.first) == row.second);
}

TEST_CASE("ambient follows the hotter end") {
  struct Row {
    std::string_view sits;
    double celsius;
  };
  for (const Row& row : {Row{"inside", 40}, Row{"box", 50}, Row{"box-wall", 50},
                         Row{"underfloor", 50}, Row{"roof", 70}, Row{"tow-vehicle", 60}}) {
    CAPTURE(row.sits);
    const Tried tried = opened(with(text, "kind = \"panel\"",
                                    "kind = \"panel\"\nsits = \"" + std::string(row.sits) + "\""));
    CHECK(tried.design()->runs.at(1).sections.at(0).ambient == celsius(row.celsius));
  }
}

TEST_CASE("a town that is hotter than the place in the van counts instead") {
  // A made-up town: mean daily maximum of the hottest month 47 °C, so 52 °C.
  tables::Tables hot = shipped();
  REQUIRE_FALSE(hot.towns.empty());
  hot.towns[0].name = "oven";
  hot.towns[0].highest[0] = celsius(47);
  Diagnostics diagnostics;
  const std::string whole = with(text, "[[device]]", "[place]\nname = \"oven\"\n[[device]]");
  const auto van = design::open_design(
      "van.toml", [&](std::string_view) { return std::optional(whole); }, {}, hot,
      Defaults::ordinary, diagnostics);
  REQUIRE(van);
  CHECK(van->design->runs.at(1).sections.at(0).ambient.value() == doctest::Approx(273.15 + 52.0));
}

TEST_CASE("the kindest defaults do a run the least harm, and touch nothing that is stated") {
  const Tried tried =
      opened(with(text, "length = \"4 m\"", "length = \"4 m\"\ninline = [{ kind = \"plug\" }]"),
             Defaults::kindest);
  const Design& d = tried.design();
  const auto& run = d->runs.at(1);
  CHECK(run.insulation == celsius(90));
  CHECK(run.sections.at(0).laid == design::Laid::free);
  CHECK(run.sections[0].circuits_together == 1);
  CHECK(run.sections[0].ambient == celsius(30));
  CHECK(run.joints == 0);
  CHECK(run.joint_resistance == 0.0 * ohm);
  CHECK(run.inline_items.at(0).resistance == 0.0 * ohm);
  const Tried stated = opened(
      with(text, "length = \"4 m\"",
           "length = \"4 m\"\nlaid = \"conduit\"\nambient = \"45 °C\"\njoints = "
           "5\njoint_resistance = \"0.2 mΩ\"\ncircuits_together = 3\ninsulation = \"75 °C\""),
      Defaults::kindest);
  const auto& said = stated.design()->runs.at(1);
  CHECK(said.sections.at(0).laid == design::Laid::conduit);
  CHECK(said.sections[0].ambient == celsius(45));
  CHECK(said.sections[0].circuits_together == 3);
  CHECK(said.joints == 5);
  CHECK(said.joint_resistance->value() == doctest::Approx(0.0002));
  CHECK(said.insulation == celsius(75));
  // Joints counted but of unknown resistance do no harm; a known resistance of uncounted ones neither.
  const Tried counted =
      opened(with(text, "length = \"4 m\"", "length = \"4 m\"\njoints = 5"), Defaults::kindest);
  CHECK(counted.design()->runs.at(1).joint_resistance == 0.0 * ohm);
  const Tried known =
      opened(with(text, "length = \"4 m\"", "length = \"4 m\"\njoint_resistance = \"1 mΩ\""),
             Defaults::kindest);
  CHECK(known.design()->runs.at(1).joints == 0);
}

TEST_CASE("the drop class is \"other\", kindly the mildest of the profile") {
  const std::string whole = with(text, "au-nz-caravan", "iec-en-leisure");
  const Tried ordinary = opened(whole);
  const auto& classes = ordinary.design()->profile->drop_classes;
  CHECK(classes.at(ordinary.design()->appliances.at(0).drop_class).name == "other");
  CHECK(value(ordinary.design(), "appliance/Fridge/drop_class") == "other");
  const Tried kindest = opened(whole, Defaults::kindest);
  CHECK(kindest.design()->appliances.at(0).drop_class == classes.size() - 1);
  const Tried stated =
      opened(with(whole, "power = \"45 W\"", "power = \"45 W\"\ndrop_class = \"charging line\""),
             Defaults::kindest);
  CHECK(classes.at(stated.design()->appliances.at(0).drop_class).name == "charging line");
}

TEST_CASE("silent equipment gets the usual values, those of the bank's side twice at 24 V") {
  const Tried tried = opened(text);
  const Design& d = tried.design();
  for (const auto& row : std::initializer_list<std::pair<std::string_view, std::string_view>>{
           {"bank/in_series", "1"},
           {"bank/own_draw", "20 mA"},
           {"bank/storage/charge", "100 %"},
           {"bank/storage/temperature", "25 °C"},
           {"bank/cycles_per_year", "100"},
           {"bank/cycle_depth", "80 %"},
           {"bank/takeoff_from", "[1, 1]"},
           {"bank/resistance/low", "1.6 mΩ"},  // 160 mΩ·Ah over 100 Ah
           {"bank/resistance/high", "5 mΩ"},
           {"promise/chance", "90 %"},
           {"promise/bank_age", "10 y"},
           {"promise/arrive_at", "100 %"},
           {"promise/reserve", "10 %"},
           {"travel/driving", "0 h"},
           {"travel/every", "0 d"},
           {"travel/mains_nights", "0"},
           {"travel/generator", "0 h"},
           {"array/roof/tilt", "0°"},
           {"array/roof/azimuth", "0°"},
           {"array/roof/mount", "roof-flat"},
           {"array/roof/shade", "0 %"},
           {"array/roof/soiling", "3 %"},
           {"controller/controller/efficiency", "95 %"},
           {"controller/controller/own_draw", "1 W"},
           {"controller/controller/charge_voltage", "14.4 V"},
           {"charger/drive charger/efficiency", "85 %"},
           {"charger/drive charger/input_cut_out", "11.5 V"},
           {"charger/drive charger/charge_voltage", "14.6 V"},
           {"charger/shore charger/input_cut_out", "not assumed"},
           {"feed/tow vehicle/voltage/low", "12.0 V"},
           {"feed/tow vehicle/voltage/high", "15.0 V"},
           {"inverter/inverter/no_load", "30 W"},
           {"inverter/inverter/loss/k", "0.11"},
           {"inverter/inverter/runs", "always"},
           {"inverter/inverter/cut_out", "10.5 V"},
           {"inverter/inverter/ripple", "1.22"},
           {"appliance/Fridge/supply", "dc"},
           {"appliance/Fridge/behaves", "constant-power"},
           {"appliance/Fridge/quantity", "1"},
           {"appliance/Fridge/between", "00:00-24:00"},
           {"appliance/Fridge/duty", "100 %"},
           {"appliance/Fridge/duty_at", "25 °C"},
           {"appliance/Fridge/days_of_seven", "7"},
           {"appliance/Fridge/lowest_voltage", "10.5 V"},
           {"appliance/Fridge/highest_voltage", "15 V"},
           {"appliance/Fridge/rated_at", "not assumed"},
           {"appliance/Lights/rated_at", "12 V"},
           {"appliance/Kettle/lowest_voltage", "not assumed"},
           {"case/dinner/charge", "30 %"},
           {"case/dinner/temperature", "20 °C"}})
    CHECK_MESSAGE(value(d, row.first) == row.second, std::string(row.first));
  CHECK(d->inverters.at(0).no_load.value() == doctest::Approx(30.0));  // 1.5 % of 2000 W
  CHECK_FALSE(d->appliances.at(0).limits_stated);
  for (const auto& a : d->assumptions) CHECK_FALSE(a.why.empty());

  const Tried twice = opened(
      with(with(text, "\"12 V\"", "\"24 V\""), "quantity = 2", "quantity = 2\nin_series = 2"));
  CHECK(value(twice.design(), "appliance/Fridge/lowest_voltage") == "21 V");
  CHECK(value(twice.design(), "appliance/Fridge/highest_voltage") == "30 V");
  CHECK(value(twice.design(), "inverter/inverter/cut_out") == "21 V");
  CHECK(value(twice.design(), "controller/controller/charge_voltage") == "28.8 V");
  CHECK(value(twice.design(), "charger/drive charger/charge_voltage") == "29.2 V");
  CHECK(value(twice.design(), "charger/drive charger/input_cut_out") ==
        "11.5 V");  // the tow vehicle's side
  CHECK(value(twice.design(), "feed/tow vehicle/voltage/low") == "12.0 V");
}

TEST_CASE("a battery's resistance is not invented where it is not stated, and kindly harmless") {
  const Tried silent = opened(text);
  CHECK_FALSE(silent.design()->bank->low);
  CHECK_FALSE(silent.design()->bank->high);
  const std::string low = "quantity = 2\nresistance = { low = \"3 mΩ\" }";
  const Tried stated = opened(with(text, "quantity = 2", low));
  CHECK(stated.design()->bank->low->value() == doctest::Approx(0.003));
  CHECK(stated.design()->bank->high->value() == doctest::Approx(0.0075));  // 2.5 · 3 mΩ
  CHECK_FALSE(assumed(stated.design(), "bank/resistance/low"));
  const Tried kindest = opened(with(text, "quantity = 2", low), Defaults::kindest);
  CHECK(kindest.design()->bank->high->value() == doctest::Approx(0.003));
  const Tried harmless = opened(text, Defaults::kindest);
  CHECK(*harmless.design()->bank->low >
        *harmless.design()->bank->high);  // weak in a fault, stiff under load
}

TEST_CASE("what is stated is not listed as assumed") {
  const std::string line =
      "power = \"45 W\"\nlowest_voltage = \"11 V\"\nduty = 0.4\nbetween = [\"08:00-20:00\"]";
  const Tried tried = opened(with(text, "power = \"45 W\"", line));
  for (const std::string key : {"lowest_voltage", "duty", "between", "power"})
    CHECK_FALSE(assumed(tried.design(), "appliance/Fridge/" + key));
  CHECK(tried.design()->appliances.at(0).limits_stated);
  const Tried flat =
      opened(with(text, "rating = \"2000 W\"", "rating = \"2000 W\"\nefficiency = 0.88"));
  CHECK_FALSE(assumed(flat.design(), "inverter/inverter/loss/k"));
  CHECK_FALSE(flat.design()->inverters.at(0).k);
}

}  // namespace design_defaults

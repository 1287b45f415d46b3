// SPDX-License-Identifier: Apache-2.0
// What charges, by hand: the tow feed by the quadratic of a constant-power input, arrays by their
// coefficients, sums by what can coincide.
#include "housepower/wiring/charging_circuits.hpp"

#include "housepower/parts/module.hpp"
#include "rig.hpp"

namespace wiring_charging_circuits {

using namespace rig;

namespace {

/// 320 W (14.4 V · 20 A / 0.9) through 6 m of 16 mm² behind 20 mΩ.
std::string towing(const std::string& cut_out, const std::string& way = "16 mm2",
                   const std::string& more = "") {
  return bank +
         "[[charger]]\nname = \"drive charger\"\nkind = \"dc-dc\"\ncurrent = \"20 A\"\nefficiency "
         "= "
         "\"90 %\"\ncharge_voltage = \"14.4 V\"\ninput_cut_out = \"" +
         cut_out +
         "\"\n[[feed]]\nname = \"tow vehicle\"\nvoltage = { low = \"12.2 V\", high = \"14.7 V\" }\n"
         "resistance = { low = \"8 mΩ\", high = \"20 mΩ\" }\nspare_current = \"50 A\"\n" +
         run("in", "tow vehicle", "drive charger.in", "6 m", way, more) +
         run("out", "drive charger.out", "bank", "1 m", "16 mm2");
}
double hot(double ohm_per_km, double celsius_degrees) {
  return ohm_per_km * 1e-3 * (234.5 + celsius_degrees) / 254.5;
}
/// Of source and way at a current: 16 mm² bears 103 A free at 30 °C, near its ends √(45/60) of it.
double resistance_at(double amperes, double extra = 0.0) {
  const double iz = 103.0 * std::sqrt(45.0 / 60.0);
  return 0.020 + extra + 2 * 6.0 * hot(1.21, 30.0 + 45.0 * (amperes / iz) * (amperes / iz));
}
double full_input(double volts, double extra = 0.0) {
  double i = 0;
  for (int k = 0; k < 100; ++k) {
    const double r = resistance_at(i, extra);
    i = (volts - std::sqrt(volts * volts - 4 * r * 320.0)) / (2 * r);
  }
  return i;
}
double folded_input(double volts, double cut_out, double extra = 0.0) {
  double i = 0;
  for (int k = 0; k < 100; ++k) i = (volts - cut_out) / resistance_at(i, extra);
  return i;
}
TowFeed feed_of(const Rig& r) {
  const auto all = tow_feeds(r.design(), r.found);
  REQUIRE(all.size() == 1);
  return all.front();
}

}  // namespace

TEST_CASE("a feed that holds the input above its cut-out delivers the stated current") {
  const Rig r(towing("11 V"));
  const auto t = feed_of(r);
  CHECK(t.why_unknown.empty());
  CHECK_FALSE(t.low.folds_back);
  CHECK(t.low.delivers.value() == about(20.0));
  const double i = full_input(12.2);
  CHECK(t.low.drawn.value() == about(i, 1e-8));
  CHECK(t.low.input.value() == about(12.2 - i * resistance_at(i), 1e-8));
  CHECK(t.low.from_feed.value() == about(i, 1e-8));
  CHECK(t.normal.car.value() == about(13.5));
  CHECK(t.normal.drawn.value() == about(full_input(13.5), 1e-8));
  Working working;
  CHECK(delivered_current(r.design(), t, t.low, &working).value() == about(20.0));
  adds_up(working);
}

TEST_CASE("folded back it delivers what leaves its input at its cut-out") {
  const Rig r(towing("11.5 V"));
  const auto t = feed_of(r);
  REQUIRE(t.low.folds_back);
  const double i = folded_input(12.2, 11.5);
  CHECK(t.low.drawn.value() == about(i, 1e-6));
  CHECK(t.low.input.value() == about(11.5, 1e-8));
  CHECK(t.low.delivers.value() == about(11.5 * i * 0.9 / 14.4, 1e-6));
  CHECK(t.low.from_feed.value() == about(320.0 / 11.5, 1e-6));  // while it tries
  CHECK_FALSE(t.normal.folds_back);
  Working working;
  CHECK(delivered_current(r.design(), t, t.low, &working).value() ==
        about(t.low.delivers.value(), 1e-6));
  adds_up(working);
}

TEST_CASE("a plug's contacts lie on the way of the feed") {
  const std::string plug =
      "inline = [{ kind = \"plug\", rating = \"50 A\", resistance = \"6 mΩ\" }]";
  const auto t = feed_of(Rig(towing("11.5 V", "16 mm2", plug)));
  REQUIRE(t.low.folds_back);
  CHECK(t.low.drawn.value() == about(folded_input(12.2, 11.5, 6e-3), 1e-6));
}

TEST_CASE(
    "where not even an idle input is above its cut-out, or nothing balances, it delivers less") {
  const auto none = feed_of(Rig(towing("12.3 V")));
  CHECK(none.low.folds_back);
  CHECK(none.low.delivers.value() == 0.0);
  const auto thin = feed_of(Rig(towing("11 V", "1.5 mm2")));  // 4 · R · P is beyond 12.2²
  CHECK(thin.low.folds_back);
  CHECK(thin.low.delivers.value() > 0.0);
  CHECK(thin.low.input.value() == about(11.0, 1e-7));
}

TEST_CASE(
    "a charger whose feed is not drawn is judged by the voltage that its input is said to find") {
  const std::string text =
      bank +
      "[[charger]]\nname = \"drive charger\"\nkind = \"dc-dc\"\ncurrent = \"20 A\"\n"
      "input_cut_out = \"11.5 V\"\n" +
      run("out", "drive charger.out", "bank", "1 m", "16 mm2");
  CHECK_FALSE(feed_of(Rig(text)).known);
  const auto said = [&](const char* low) {
    return feed_of(
        Rig(van::with(text, "input_cut_out",
                      std::string("input_voltage = { low = \"") + low + "\" }\ninput_cut_out")));
  };
  CHECK(said("12 V").low.delivers.value() == about(20.0));
  CHECK(said("11 V").low.delivers.value() == 0.0);
}

TEST_CASE("a silent feed leaves the figure unknown") {
  const auto t = feed_of(
      Rig(van::with(towing("11 V"), "resistance = { low = \"8 mΩ\", high = \"20 mΩ\" }", "")));
  CHECK(t.why_unknown.find("tow vehicle") != std::string::npos);
}

TEST_CASE("a feed joined to the bank itself drives what Ohm's law says into an empty battery") {
  const std::string text = bank +
                           "[[feed]]\nname = \"tow vehicle\"\nvoltage = { low = \"12 V\", high = "
                           "\"15 V\" }\nresistance = "
                           "{ low = \"8 mΩ\", high = \"20 mΩ\" }\n" +
                           run("relay", "tow vehicle", "bank", "5 m", "25 mm2");
  const auto of = [](const Rig& r) { return direct_charging(r.design(), r.found); };
  const Rig one(text);
  REQUIRE(of(one).size() == 1);
  // an empty cell 2.2862 V; 8 mΩ, 2 mΩ of the battery, 10 m of 0.780 mΩ/m
  const double i = (15.0 - 4 * 2.2862) / (8e-3 + 2e-3 + 7.8e-3);
  CHECK(of(one).front().drawn.value() == about(i, 1e-6));
  CHECK(of(one).front().busiest.value() == about(i, 1e-6));
  const Rig two(van::with(text, "quantity = 1", "quantity = 2"));
  CHECK(of(two).front().busiest.value() ==
        about(0.5 * (15.0 - 4 * 2.2862) / (8e-3 + 1e-3 + 7.8e-3), 1e-6));
  CHECK(of(Rig(towing("11 V"))).empty());  // there a charger stands between
}

namespace {

const std::string sun = R"([place]
name = "hobart"
record_low = "-10 °C"
[[array]]
name = "roof"
modules = 6
in_series = 2
module = { power = "100 W", voc = "22.6 V", isc = "6 A", vmp = "18 V", imp = "5.5 A", voc_coefficient = "-0.30 %/K", power_coefficient = "-0.35 %/K" }
to = "controller"
[[controller]]
name = "controller"
max_voltage = "50 V"
max_charge_current = "30 A"
charge_voltage = "14.4 V"
)";

}  // namespace

TEST_CASE("a string of two in the record cold: 22.6 V and -0.30 %/K make 49.95 V at -10 °C") {
  const Rig r(bank + sun);
  Working working;
  const auto cold = cold_string_voltage(r.design(), r.design()->arrays.front(), &working);
  REQUIRE(cold);
  CHECK(cold->value() == about(2 * 22.6 * (1 + 0.003 * 35.0)));
  adds_up(working);
  const Rig silent(bank + van::with(sun, "voc_coefficient = \"-0.30 %/K\", ", ""));
  CHECK_FALSE(cold_string_voltage(silent.design(), silent.design()->arrays.front()));
}

TEST_CASE("a hot string loses a little more of its voltage than of its power") {
  const Rig r(bank + sun);
  const auto& highest = r.design()->site.town->highest;
  const double cell =
      in_celsius(*std::max_element(highest.begin(), highest.end())) + 0.0563 * 1000.0;
  Working working;
  const auto hot_ = hot_string_voltage(r.design(), r.design()->arrays.front(), &working);
  REQUIRE(hot_);
  CHECK(hot_->value() == about(2 * 18.0 * (1 - 0.0040 * (cell - 25.0))));
  adds_up(working);
}

TEST_CASE("it must reach the charge voltage and the drop on its way") {
  const Rig bare(bank + sun);
  CHECK(charging_voltage_needed(bare.design(), bare.found, bare.design()->arrays.front()).value() ==
        about(14.4));
  const Rig r(
      bank + sun +
      run("roof", "roof", "controller.in", "5 m", "6 mm2", "conductor_temperature = \"70 °C\""));
  Working working;
  CHECK(
      charging_voltage_needed(r.design(), r.found, r.design()->arrays.front(), &working).value() ==
      about(14.4 + 3 * 5.5 * 2 * 5.0 * hot(3.30, 70.0)));
  adds_up(working);
}

TEST_CASE("arrays add up at their controller, and all strings but one feed a faulty one") {
  const Rig r(bank + sun);
  CHECK(strings_on(r.design(), {0}) == 3);
  Working working;
  CHECK(array_short_circuit(r.design(), {0}, &working)->value() == about(3 * 6.0 * 1.25));
  CHECK(reverse_current_of(r.design(), r.design()->arrays.front(), &working)->value() ==
        about(2 * 6.0 * 1.25));
  adds_up(working);
  const Rig silent(bank + van::with(sun, "isc = \"6 A\", ", ""));
  CHECK_FALSE(array_short_circuit(silent.design(), {0}));
  CHECK_FALSE(reverse_current_of(silent.design(), silent.design()->arrays.front()));
}

TEST_CASE("only what can charge at once is added, and each battery takes its part") {
  const std::string sources =
      "[[charger]]\nname = \"shore\"\nkind = \"mains\"\ncurrent = \"20 A\"\n"
      "[[charger]]\nname = \"drive\"\nkind = \"dc-dc\"\ncurrent = \"40 A\"\n";
  const Rig r(van::with(bank, "quantity = 1", "quantity = 2") + sun + sources +
              run("sun", "controller.out", "bank", "1 m", "16 mm2") +
              run("shore", "shore.out", "bank", "1 m", "10 mm2") +
              run("drive", "drive.out", "bank", "1 m", "16 mm2"));
  const auto sums = charging_sums(r.design(), r.found);
  REQUIRE(sums.size() == 2);
  CHECK(sums[0].name == "drive, sun");
  CHECK(sums[0].total.value() == about(70.0));
  CHECK(sums[0].busiest->value() == about(35.0));
  CHECK(sums[1].name == "mains, sun");
  CHECK(sums[1].total.value() == about(50.0));
}

TEST_CASE(
    "the hot end of an array's run is limited by its connectors' 90 °C, not a terminal's 75 °C") {
  // 2 m on a roof of 80 °C: 6 mm² bears 55 A at 30 °C and 0.41 of it at 80 °C (IEC 60364-5-52 table
  // B.52.14, 90 °C); a terminal of 75 °C would leave nothing
  const std::string roof = "sections = [{ length = \"2 m\", ambient = \"80 °C\" }]";
  const Rig r(bank + sun + run("roof", "roof", "controller.in", "10 m", "6 mm2", roof));
  CHECK(r.ampacity("roof").value.value() == about(55.0 * 0.41));
}

}  // namespace wiring_charging_circuits

// SPDX-License-Identifier: Apache-2.0
// The time without charging against a loop of its own, written from the parts' formulas.
#include "housepower/energy/without_charging.hpp"
#include "camp.hpp"
#include "housepower/energy/outlook.hpp"
#include "housepower/parts/ageing.hpp"
#include "housepower/parts/battery_box.hpp"
#include "housepower/parts/cell.hpp"

namespace energy_without_charging {
namespace {

using namespace camp;
using namespace housepower::energy;

const std::string fridge = appliance("Fridge", "power = \"45 W\"\nduty = \"40 %\"\non = \"panel\"");
const std::string warm_air =
    appliance("Heater", "power = \"20 W\"\nduty = \"20 %\"\non = \"panel\"\n"
                        "duty_in_cold = { at = \"18 °C\", per_kelvin = \"10 %\" }");
/// With it the cells of two batteries stay above 2 °C.
std::string box(const std::string& supplied_by) {
  return "[bank.box]\nsize = [\"0.9 m\", \"0.5 m\", \"0.4 m\"]\nheat_transfer = \"2 W/m2K\"\n"
         "heater = { power = \"60 W\", supplied_by = \"" +
         supplied_by + "\", on_below = \"2 °C\", off_above = \"5 °C\" }\n";
}
const std::string midnight = "[promise]\narrive_time = \"00:00\"\nchance = \"90 %\"\n";
const std::string munich = at("munich", "month = \"january\"");

Weather weather_at(const Camp& c) {
  auto w = weather_of(c.design(), years_for_autonomy, usual_seed);
  REQUIRE(w.has_value());
  return *w;
}

/// Hours until something is not served, from a full bank on: 18 W of fridge, the heater by the air,
/// and what keeps the box warm.
double hours_lasted(const design::Design& d, std::span<const Temperature> air) {
  const auto& bank_ = *d->bank;
  const auto& cells_table = d->tables->cells;
  const double capacity =
      wh(bank_.rated() * bank_.voltage()) * double(parts::age_factor(bank_, d->promise.bank_age));
  // No resistance is stated: 5 mΩ each, two in parallel, older.
  const double ohms =
      0.005 / 2.0 * double(parts::resistance_age_factor(bank_, d->promise.bank_age));
  const auto box_ = parts::battery_box(bank_);
  const double tau_h = box_ ? double(box_->constant / hour) : 0.0;
  const double walls = box_ ? box_->walls.value() : 0.0;
  const bool heated = box_ && bank_.box->heater->supplied_by == design::HeaterSupply::bank;
  double charge = capacity, cells = in_celsius(air[0]);
  bool heating = false;
  for (std::size_t t = 0; t < air.size(); ++t) {
    const double outside = in_celsius(air[t]), whole = std::floor(cells);
    const double left =
        capacity * (1.0 - 0.9 * double(parts::capacity_factor(cells_table, celsius(whole))));
    const double step = std::floor(charge / capacity * 20.0) / 20.0;
    const double loss =
        ohms * double(parts::resistance_factor(celsius(whole), step)) / (12.8 * 12.8);
    const double kept = box_ ? std::exp(-1.0 / tau_h) : 0.0;
    const double alone = outside + (cells - outside) * kept;
    if (cells < 2.0) heating = true;
    if (cells >= 5.0 - 1e-9) heating = false;
    const double to_five = box_ ? (5.0 - alone) * walls / (1.0 - kept) : 0.0;
    const double heat = heating && heated ? std::min(60.0, std::max(0.0, to_five)) : 0.0;
    const double warm_air_W =
        20.0 * std::min(1.0, 0.2 * (1.0 + 0.1 * std::max(0.0, 18.0 - outside)));
    const double asked = 18.0 + warm_air_W + heat;
    const double taken = asked + asked * asked * loss;
    if (taken > charge - left) return double(t) + std::max(0.0, charge - left) / taken;
    charge = (charge - taken) * std::pow(0.97, 1.0 / 720.0);
    if (box_) cells = alone + (1.0 - kept) / walls * (asked * asked * loss + heat);
    else cells = outside;
  }
  return double(air.size());
}

/// The length that 90 % of all starts in January reach.
double nine_of_ten(const Camp& c, const Weather& weather) {
  std::vector<double> lengths;
  Spell spell;
  for (int y = 0; y < weather.years(); ++y) {
    weather.spell(y, 0, 31 + 40, spell);
    for (std::size_t d = 0; d < 31; ++d)
      lengths.push_back(hours_lasted(c.design(), {&spell.air[d * 24], 40 * 24}));
  }
  std::sort(lengths.begin(), lengths.end());
  return lengths[std::size_t(0.1 * double(lengths.size()) + 1e-9)];
}

TEST_CASE("with a heater that the bank feeds it lasts as long as a plain loop says") {
  for (const std::string& of_box : {box("bank"), box("charge"), std::string()}) {
    CAPTURE(of_box);
    const Camp c(bank + of_box + panel + fridge + warm_air + munich + midnight);
    const auto weather = weather_at(c);
    const auto w = without_charging(c.design(), Surroundings(c.design(), weather), 0, 2.0 * day);
    CHECK(w.lasts / hour == doctest::Approx(nine_of_ten(c, weather)).epsilon(1e-6));
    CHECK(w.starts == 310);
    CHECK(w.years == 10);
    CHECK_FALSE(w.outlasts);
    const auto a = assess(c.design());
    REQUIRE(a.autonomy.has_value());
    CHECK(*a.autonomy / hour == about(w.lasts / hour));
  }
}

TEST_CASE("the mean day does not know the heater in the box, the hours do") {
  const auto of = [](const std::string& supplied_by) {
    return assess(Camp(bank + box(supplied_by) + panel + fridge + munich + midnight).design());
  };
  const auto by_bank = of("bank"), by_charge = of("charge");
  REQUIRE(by_bank.autonomy_mean_day.has_value());
  CHECK(*by_bank.autonomy_mean_day / day == about(*by_charge.autonomy_mean_day / day));
  CHECK(*by_bank.autonomy < *by_charge.autonomy * 0.8);
  CHECK(*by_bank.autonomy < *by_bank.autonomy_mean_day * 0.8);
}

TEST_CASE("without charging means without sun: an array changes nothing") {
  const Camp with(bank + panel + fridge + roof + munich), none(bank + panel + fridge + munich);
  CHECK(*assess(with.design()).autonomy / day == about(*assess(none.design()).autonomy / day));
}

TEST_CASE("what hardly draws outlasts the horizon, and is said to") {
  const auto a =
      assess(Camp(bank + panel + munich + appliance("Gauge", "power = \"0.5 W\"\non = \"panel\""))
                 .design());
  REQUIRE(a.without_charging.has_value());
  CHECK(a.without_charging->outlasts);
  CHECK(*a.autonomy / day == about(double(longest_autonomy_days)));
}

TEST_CASE("without a place the mean day at 25 °C says how long it lasts") {
  // 2560 Wh aged, all but a tenth of it, over 432 Wh a day
  const Camp c(bank + panel + fridge);
  const auto a = assess(c.design());
  CHECK_FALSE(a.without_charging.has_value());
  const double age = parts::age_factor(*c.design()->bank, 10.0 * year);
  CHECK(*a.autonomy / day == about(2560.0 * age * 0.9 / 432.0));
}

TEST_CASE("autonomy is that of the habits for which it is asked") {
  const Camp c(bank + panel + munich +
               appliance("Lamp", "power = \"60 W\"\nper_day = \"8 h\"\nused_by = \"people\"\n"
                                 "on = \"panel\""));
  Habit frugal, heavy, crowd;
  frugal.use = Use::frugal, heavy.use = Use::heavy, crowd.people = 4;
  const auto lasts = [&](const Habit& h) { return *assess(c.design(), h).autonomy / day; };
  CHECK(lasts(frugal) > lasts({}));
  CHECK(lasts(heavy) < lasts({}));
  CHECK(lasts(crowd) < lasts(heavy));
}

TEST_CASE("a stay with the weather of a place never ends before one without any sun") {
  const Camp c(bank + box("bank") + panel + fridge + roof + munich + midnight);
  const auto weather = weather_at(c);
  const Surroundings around(c.design(), weather);
  const std::array plants{*plant_of(c.design(), 10.0 * year)};
  StayQuestion q;
  q.longest_days = 12;
  const Stays sunny = simulate(around, q, plants);
  q.without_sun = true;
  const Stays dark = simulate(around, q, plants);
  for (int y = 0; y < sunny.years; ++y)
    for (int s = 0; s < sunny.starts; ++s)
      CHECK(sunny.at(y, s, 0).lasted_h >= dark.at(y, s, 0).lasted_h - 1e-9);
}

}  // namespace

}  // namespace energy_without_charging

// SPDX-License-Identifier: Apache-2.0
// Solar yield, usable capacity, autonomy and the month on which a promise rests.
#include "camp.hpp"
#include "housepower/energy/mean_day.hpp"
#include "housepower/parts/ageing.hpp"
#include "made_up_file.hpp"

namespace energy_assess {
namespace {

using namespace camp;
using energy::assess;

const std::string fridge = appliance("Fridge", "power = \"45 W\"\nduty = \"40 %\"\non = \"panel\"");

TEST_CASE("usable capacity is rated times age times cold times depth") {
  // Hobart in July: a mean minimum between 0 °C (0.80) and 10 °C (0.94), straight between them. Age
  // as computed in tests/parts; 200 Ah · f · f_T · (1 − 0.10); times 12.8 V.
  const Camp c(bank + panel + fridge + at("hobart"));
  Working working;
  const auto usable = energy::usable_capacity(c.design(), 6, &working);
  const double age = parts::age_factor(*c.design()->bank, 10.0 * year);
  const double low = in_celsius(c.design()->site.town->lowest[6]);
  REQUIRE((low > 0.0 && low < 10.0));
  const double cold = 0.80 + 0.014 * low;
  CHECK(double(usable.temperature_factor) == about(cold));
  CHECK(double(usable.age_factor) == age);
  CHECK(usable.charge / ampere_hour == about(200.0 * age * cold * 0.90));
  CHECK(wh(usable.energy) == about(12.8 * 200.0 * age * cold * 0.90));
  const auto lasts = energy::autonomy_of(usable, c.day(6), &working);
  CHECK(lasts / day == about(12.8 * 200.0 * age * cold * 0.90 / 432.0));
  adds_up(working);
}

TEST_CASE("a promise rests on the worst month of twelve, or on the month that is stated") {
  const auto all = assess(Camp(bank + panel + fridge + roof + at("hobart")).design());
  CHECK(all.months.size() == 12);
  REQUIRE(all.autonomy.has_value());
  const Camp c(bank + panel + fridge + roof + at("hobart"));
  for (int m = 0; m < 12; ++m) CHECK(*assess(c.design(), m).autonomy >= *all.autonomy);
  const auto balance = assess(
      Camp(bank + panel + fridge + roof + at("hobart") + "[promise]\nunlimited = true\n").design());
  for (const auto& m : balance.months) CHECK(balance.months[balance.judged].balance <= m.balance);
  CHECK(balance.months[balance.judged].month == 5);  // June, the darkest in the south
  const auto one =
      assess(Camp(bank + panel + fridge + at("hobart", "month = \"february\"")).design());
  CHECK(one.months.size() == 1);
  CHECK(one.months[0].month == 1);
}

TEST_CASE("without a place it is 25 °C and the sun is not counted") {
  const auto a = assess(Camp(bank + panel + fridge + roof).design());
  CHECK_FALSE(a.has_place);
  CHECK(a.months.size() == 1);
  CHECK(wh(a.months[0].solar) == 0.0);
  REQUIRE(a.usable.has_value());
  CHECK(double(a.usable->temperature_factor) == 1.0);
}

TEST_CASE("without a bank there is a load but no autonomy") {
  const std::string text = van::with(bank, bank.substr(bank.find("[bank]")), "");
  const auto a = assess(
      Camp(text + van::with(panel, "\"bank\"", "\"car\"") + fridge + "[[feed]]\nname = \"car\"\n")
          .design());
  CHECK_FALSE(a.has_bank);
  CHECK_FALSE(a.autonomy.has_value());
  CHECK(wh(a.months[0].load) == about(432.0));
}

TEST_CASE("more load never lengthens the autonomy, more solar never worsens the balance") {
  double before = 1e9;
  for (const char* power : {"10 W", "45 W", "46 W", "300 W"}) {
    const auto a =
        assess(Camp(bank + panel + at("perth") +
                    appliance("Load", "power = \"" + std::string(power) + "\"\non = \"panel\""))
                   .design());
    CHECK(*a.autonomy / day < before);
    before = *a.autonomy / day;
  }
  double gathered = 0.0;
  for (const char* modules : {"1", "2", "3", "6"}) {
    const auto day_ = Camp(bank + at("perth") +
                           van::with(roof, "modules = 2", "modules = " + std::string(modules)))
                          .day(0);
    CHECK(wh(day_.solar) >= gathered);
    gathered = wh(day_.solar);
  }
}

TEST_CASE("what a controller cannot take is clipped, and nothing is lost in between") {
  const auto gathered = [](const std::string& limit) {
    return Camp(bank + at("perth") + van::with(roof, "\"30 A\"", "\"" + limit + "\"")).day(0);
  };
  const auto wide = gathered("60 A"), narrow = gathered("10 A");
  CHECK(wh(wide.clipped) == 0.0);
  CHECK(wh(narrow.clipped) > 0.0);
  CHECK(wh(narrow.solar) + wh(narrow.clipped) == about(wh(wide.solar)));
  // 10 A for an hour is 10 Ah: 128 Wh come out again at 12.8 V, never more.
  double most = 0.0;
  for (const Energy& e : narrow.solar_by_hour) most = std::max(most, wh(e));
  CHECK(most == about(128.0));
}

TEST_CASE("one hour of an array by hand") {
  // 500 W/m² on level ground at 20 °C under a sun overhead; 5 % of the diffuse 100 stay at the glass,
  // 3 % of dirt leave 480.15. Cells at 20 + 0.0563 · 480.15 = 47.0324 °C. Two modules of 200 W:
  // 400 · 0.48015 · (1 − 0.0035 · 22.0324), in that light 1 + 0.025 · ln 0.48015 = 0.981659 of it, after
  // ten years 95 %. Array losses 2, 2, 0.5, 1.5 and 1 %, the controller 95 %, the bank 95 %.
  const Camp c(bank + at("perth") + roof);
  energy::MeanDay sun;
  sun.hours[12] = {celsius(20.0),
                   90.0 * degree,
                   {},
                   Irradiance::from_value(400.0),
                   Irradiance::from_value(100.0),
                   {}};
  const double array = 400.0 * 0.48015 * (1.0 - 0.0035 * 22.032445) * 0.981659 * 0.95;
  const double losses = 0.98 * 0.98 * 0.995 * 0.985 * 0.99 * 0.95 * 0.95;
  CHECK(wh(energy::solar_day(c.design(), sun).by_hour[12]) ==
        doctest::Approx(array * losses).epsilon(1e-6));
}

TEST_CASE("a direct controller passes the module's current: ampere-hours, whatever the voltage") {
  // 2 modules of 9.8 A: at G/1000 of the cells, less the array's losses, counted at 12.8 V. Against
  // a converting controller of 400 W it gives less whenever modules are not hot.
  const auto direct = Camp(bank + at("perth") + roof + "kind = \"direct\"\n").day(6);
  const auto step_down = Camp(bank + at("perth") + roof).day(6);
  CHECK(wh(direct.solar) > 0.0);
  CHECK(wh(direct.solar) < wh(step_down.solar));
  const auto unstated =
      Camp(bank + at("perth") + van::with(roof, ", imp = \"9.8 A\"", "") + "kind = \"direct\"\n")
          .day(6);
  CHECK(wh(unstated.solar) == 0.0);
}

TEST_CASE("a summer day in Perth on 400 W lies between what trade and physics allow") {
  // Level irradiation in January is about 7.9 kWh/m² a day by sunshine (10.4 h of 14): 400 W would
  // give 3.2 kWh without any loss; soiling, heat, array, controller and bank leave 60 to 80 % of it.
  Working working;
  const auto day_ = Camp(bank + at("perth") + roof).day(0, &working);
  CHECK(wh(day_.solar) > 0.5 * 3200.0);
  CHECK(wh(day_.solar) < 0.8 * 3200.0);
  double hours = 0.0;
  for (const Energy& e : day_.solar_by_hour) hours += wh(e);
  CHECK(hours == about(wh(day_.solar)));
  CHECK(wh(day_.balance) == about(wh(day_.solar) - wh(day_.load)));
  adds_up(working);
}

TEST_CASE("the fullest hour is where most power is switched on, with the largest d.c. starter") {
  const Camp c(
      bank + panel +
      appliance(
          "Fridge",
          "power = \"45 W\"\non = \"panel\"\nstarting = { current = \"12 A\", time = \"1 s\" }") +
      appliance("Pump", "power = \"60 W\"\nper_day = \"10 min\"\nbetween = [\"07:00-21:00\"]\non = "
                        "\"panel\"\nstarting = { current = \"15 A\", time = \"1 s\" }") +
      appliance("Lights", "power = \"30 W\"\nbetween = [\"19:00-23:00\"]\non = \"panel\"") +
      appliance("Drill", "power = \"20 W\"\nbetween = [\"10:00-11:00\"]\nsupply = \"inverter\"\n"
                         "starting = { current = \"20 A\", time = \"1 s\" }") +
      "[[inverter]]\nname = \"inverter\"\nrating = \"300 W\"\n" +
      "[[run]]\nname = \"to inverter\"\nfrom = \"bank\"\nto = \"inverter\"\nlength = \"1 m\"\n");
  const auto fullest = energy::fullest_hour(c.design());
  CHECK(fullest.hour == 19);  // 45 + 60 + 30 W, from 19 to 21 h; the drill is used by day
  CHECK(fullest.running.size() == 3);
  REQUIRE(fullest.largest_starter.has_value());
  CHECK(c.design()[*fullest.largest_starter].name == "Pump");
}

TEST_CASE("the doubt of the sun follows its source: sunshine hours, a file, a file's own word") {
  const auto doubt = [](const design::Design& d) { return double(assess(d).input_doubt); };
  CHECK(doubt(Camp(bank + roof + at("hobart")).design()) == 0.08);
  auto file = made_up_file(2.0);
  const CampInWeather unsaid(bank + roof, file);
  CHECK(doubt(unsaid.design()) == 0.085);  // half of the 17 % between two makers' files
  file.uncertainty = 0.11;
  CHECK(doubt(CampInWeather(bank + roof, file).design()) == 0.11);
}

TEST_CASE("the wind of a weather file cools modules in the mean day as in its hours") {
  const auto solar = [](double wind_m_s) {
    const CampInWeather c(bank + roof, made_up_file(wind_m_s));
    Working working;
    const auto day_ = energy::month_day(c.design(), 6, nullptr, &working);
    adds_up(working);
    return wh(day_.solar);
  };
  CHECK(solar(1.0) > 1.02 * solar(-1.0));
  CHECK(solar(8.0) > 1.02 * solar(1.0));
  // Its mean, by the hour: a calm night beside a windy noon cools the noon.
  auto gusty = made_up_file(0.0);
  for (std::size_t i = 0; i < 8760; ++i)
    gusty.wind[i] = (i % 24 >= 6 && i % 24 < 18 ? 8.0 : 0.0) * metre / second;
  const CampInWeather c(bank + roof, gusty);
  // But for the light of July before 6 h and after 18 h.
  CHECK(wh(energy::month_day(c.design(), 6).solar) == doctest::Approx(solar(8.0)).epsilon(0.001));
}

TEST_CASE("snow that nobody speaks of is said to be left out, where it may lie") {
  const auto says = [](const std::string& text) {
    for (const auto& n : assess(Camp(text).design()).notes)
      if (n.find("Snow") != n.npos) return n;
    return std::string();
  };
  CHECK(says(bank + roof + at("vienna", "month = \"january\"")).find("January") !=
        std::string::npos);
  CHECK(says(bank + roof + at("vienna", "month = \"july\"")).empty());
  CHECK(says(bank + roof + at("brisbane")).empty());
  CHECK(says(bank + at("vienna")).empty());  // no array
  const std::string all = "covered = [\"10 %\", \"10 %\", \"10 %\", \"10 %\", \"10 %\", \"10 %\", "
                          "\"10 %\", \"10 %\", \"10 %\", \"10 %\", \"10 %\", \"10 %\"]\n";
  CHECK(
      says(bank + van::with(roof, "modules = 2\n", "modules = 2\n" + all) + at("vienna")).empty());
}

TEST_CASE("what a reader must know stands in the notes") {
  const auto says = [](const energy::Assessment& a, std::string_view part) {
    for (const auto& n : a.notes)
      if (n.find(part) != std::string::npos) return true;
    return false;
  };
  const auto a = assess(Camp(bank + panel + fridge + roof + at("hobart")).design());
  CHECK(says(a, "±8 %"));
  CHECK(says(a, "from memory"));
  CHECK(double(a.input_doubt) == 0.08);
  CHECK(says(assess(Camp(bank + panel + fridge).design()), "No place is given"));
}

}  // namespace

}  // namespace energy_assess

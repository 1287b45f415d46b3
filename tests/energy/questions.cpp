// SPDX-License-Identifier: Apache-2.0
// Single questions, redone by hand.
#include "housepower/energy/questions.hpp"
#include "camp.hpp"
#include "housepower/parts/ageing.hpp"
#include "housepower/wiring/switched_off.hpp"

namespace energy_questions {
namespace {

using namespace camp;
using namespace housepower::energy;

const std::string fridge = appliance("Fridge", "power = \"45 W\"\nduty = \"40 %\"\non = \"panel\"");
const std::string lamp =
    appliance("Lamp", "power = \"30 W\"\nbetween = [\"18:00-22:00\"]\non = \"panel\"");

std::optional<Parked> parked_in(const design::Design& d, std::optional<int> month,
                                Working* working = nullptr) {
  return parked(d, wiring::fed_while_parked(d), month, working);
}

TEST_CASE("an air conditioner of 142 A on three batteries of 100 Ah runs 2.1 h, nothing else on") {
  // A travellers' page: 13 A at 120 V, about 1700 W d.c., 142 A at 12 V. 300 Ah / 142 A = 2.11 h.
  const Energy energy = 300.0 * ampere_hour * (12.0 * volt);
  CHECK(double(running_out(energy, Power(142.0 * ampere * (12.0 * volt))) / hour) ==
        doctest::Approx(2.1).epsilon(0.01));
}

TEST_CASE("how long a thing runs from a full bank, alone and with the rest") {
  const Camp c(bank + panel + fridge + lamp + at("hobart", "month = \"july\"") +
               "[promise]\nreserve = \"20 %\"\narrive_at = \"60 %\"\n");
  const auto a = assess(c.design());
  const auto list = runtimes(c.design(), a);
  REQUIRE(list.size() == 2);
  // From full to the reserve: twice what lies between 60 and 20 %.
  const double usable = 2.0 * wh(a.usable->energy);
  CHECK(list[0].name == "Fridge");
  CHECK(list[0].power / watt == about(18.0));
  CHECK(double(list[0].alone / hour) == about(usable / 18.0));
  CHECK(double(list[0].with_the_rest / hour) == about(usable / (18.0 + 30.0 * 4.0 / 24.0)));
  CHECK(double(list[1].alone / hour) == about(usable / 30.0));
  CHECK(double(list[1].with_the_rest / hour) == about(usable / 48.0));
}

TEST_CASE("what several of a kind draw together may be more than the batteries let out") {
  const auto tells = [](int quantity) {
    const Camp c(van::with(bank, "own_draw", "discharge_limit = \"50 A\"\nown_draw") + panel +
                 appliance("Heater", "power = \"500 W\"\nper_day = \"1 h\"\non = \"panel\"\n"
                                     "quantity = " +
                                         std::to_string(quantity)));
    return too_much_for_the_batteries(c.design(), c.design()->appliances.front());
  };
  // Two batteries of 50 A at 12.8 V let out 1280 W.
  CHECK_FALSE(tells(2));
  REQUIRE(tells(3));
  CHECK(*tells(3) / watt == about(1280.0));
  design::resolved::Appliance heater;
  heater.name = "Heater", heater.power = 500.0 * watt, heater.quantity = 1;
  CHECK(with_its_power(heater) == "Heater of 500 W");
  heater.quantity = 3;
  CHECK(with_its_power(heater) == "3 × Heater, 1.5 kW together");
}

TEST_CASE("a night from 18 to 8 h, the largest first") {
  const Camp c(bank + panel + lamp + fridge);
  const auto night = night_of(c.design(), assess(c.design()));
  REQUIRE(night.consumers.size() == 2);
  CHECK(night.consumers[0].name == "Fridge");
  CHECK(wh(night.consumers[0].energy) == about(18.0 * 14.0));
  CHECK(wh(night.energy) == about(18.0 * 14.0 + 120.0));
}

TEST_CASE("a charger of 20 A fills what is missing less what is used meanwhile") {
  // New and at 25 °C (no place): from 10 to 94 % of 2560 Wh. 20 A at 13.47 V less 18 W go in at 95 %:
  // 238.9 Wh an hour, 9.0 h; in whole hours 10, for it is looked at once an hour.
  const Camp c(bank + panel + fridge +
               "[promise]\nbank_age = \"0 y\"\n[[charger]]\nname = \"mains\"\nkind = \"mains\"\n"
               "current = \"20 A\"\n");
  const auto list = refills(c.design(), assess(c.design()), {});
  REQUIRE(list.size() == 1);
  CHECK(list[0].by == "mains");
  REQUIRE(list[0].takes.has_value());
  const double an_hour = (20.0 * 12.8 / 0.95 - 18.0) * 0.95;
  CHECK(double(*list[0].takes / hour) == about(std::ceil(0.84 * 2560.0 / an_hour)));
}

TEST_CASE("what uses more than the sun gives never fills the bank") {
  const Camp c(bank + panel + roof + at("hobart", "month = \"june\"") +
               appliance("Pump", "power = \"100 W\"\non = \"panel\""));
  const auto list = refills(c.design(), assess(c.design()), {});
  REQUIRE(list.size() == 2);
  CHECK_FALSE(list[0].takes.has_value());
  CHECK(double(list[0].settles) < 0.3);
  CHECK(list[1].takes.has_value());  // all else off
}

TEST_CASE("what drains a parked van: what is on all day and no isolator parts from the bank") {
  // Bank 100 % in storage, kept 10 %: 2304 Wh of 2560 aged. Fridge 18 W, batteries nothing, the bank
  // itself 3 % a month of its charge.
  const std::string promise = "[promise]\nbank_age = \"0 y\"\n";
  const Camp open_(bank + panel + fridge + lamp + promise);
  Working working;
  const auto p = parked_in(open_.design(), {}, &working);
  REQUIRE(p.has_value());
  const double itself = 0.03 * 2560.0 / 720.0;
  CHECK(p->all / watt == about(18.0 + itself));
  CHECK(double(p->may_stand / hour) == about(0.9 * 2560.0 / (18.0 + itself)));
  CHECK_FALSE(p->isolated);
  adds_up(working);
  const Camp isolated(bank +
                      van::with(panel, "length = \"1 m\"\n",
                                "length = \"1 m\"\ninline = [{ kind = \"isolator\" }]\n") +
                      fridge + lamp + promise);
  const auto q = parked_in(isolated.design(), {});
  CHECK(q->all / watt == about(itself));
  CHECK(q->isolated);
  const Camp switched(bank + panel + van::with(fridge, "on = ", "while_parked = false\non = ") +
                      promise);
  CHECK(parked_in(switched.design(), {})->all / watt == about(itself));
}

TEST_CASE("an isolator that another way goes round parts nothing of a parked van") {
  // The fridge's 18 W with the bank's own loss, or that alone, by which ways are left out and home.
  const std::string promise = "[promise]\nbank_age = \"0 y\"\n";
  const double itself = 0.03 * 2560.0 / 720.0;
  const auto feed = [](const std::string& name, const std::string& more) {
    return van::with(panel.substr(panel.find("[[run]]")), "name = \"main\"\n",
                     "name = \"" + name + "\"\n" + more);
  };
  const std::string posts = panel.substr(0, panel.find("[[run]]"));
  const std::string out = "inline = [{ kind = \"isolator\" }]\n",
                    home = "inline = [{ kind = \"isolator\", pole = \"return\" }]\n";
  const auto draws = [&](const std::string& feeds, const std::string& more = "") {
    const Camp c(bank + posts + feeds + fridge + promise + more);
    return parked_in(c.design(), {})->all / watt;
  };
  CHECK(draws(feed("main", home)) == about(itself));
  CHECK(draws(feed("main", out) + feed("second", out)) == about(itself));
  CHECK(draws(feed("main", out) + feed("second", "")) == about(18.0 + itself));
  // out by the second, home by the first
  CHECK(draws(feed("main", out) + feed("second", home)) == about(18.0 + itself));
  // home through the chassis, bonded on this side of the isolator or on that
  const auto by_chassis = [&](const std::string& bonded) {
    return draws(feed("main", home) +
                     "[[node]]\nname = \"box\"\nkind = \"panel\"\n[[run]]\nname "
                     "= \"on\"\nfrom = \"panel\"\nto = \"box\"\nlength = \"1 m\"\nchassis_return = "
                     "true\n[[appliance]]\nname = \"Alarm\"\npower = \"7 W\"\non = \"box\"\n",
                 "[chassis]\nresistance = \"2 mΩ\"\n" + bonded);
  };
  CHECK(by_chassis("bonded_at = \"bank\"\n") == about(7.0 + itself));
  CHECK(by_chassis("bonded_at = \"panel\"\n") == about(itself));
  CHECK(by_chassis("") == about(7.0 + itself));  // it does not say where: the safe side
}

TEST_CASE("a parked van draws what it draws in that month's air, from what the cold leaves") {
  // A fridge of 50 W, 40 % at 25 °C and 4 % more for each kelvin above, by the air of Darwin's day;
  // a tank heater of 20 W, 10 % at 5 °C and a tenth more for each kelvin below, in Munich's.
  const std::string new_ = "[promise]\nbank_age = \"0 y\"\n";
  const std::string cooler = appliance(
      "Fridge", "power = \"50 W\"\nduty = \"40 %\"\nduty_per_kelvin = \"4 %\"\non = \"panel\"");
  const std::string tank =
      appliance("Tank", "power = \"20 W\"\nduty = \"10 %\"\non = \"panel\"\n"
                        "duty_in_cold = { at = \"5 °C\", per_kelvin = \"10 %\" }");
  const auto mean_of = [](const tables::Town& town, auto power_at) {
    const double low = in_celsius(town.lowest[0]), high = in_celsius(town.highest[0]);
    double all = 0.0;
    for (int h = 0; h < 24; ++h)
      all += power_at(low + (high - low) *
                                (0.5 + 0.5 * std::cos((h - 14.5) * 15.0 * 0.0174532925199433)));
    return all / 24.0;
  };
  const double itself = 0.03 * 2560.0 / 720.0;
  const Camp darwin(bank + panel + cooler + at("darwin") + new_);
  const double fridge_W = mean_of(*darwin.design()->site.town, [](double t) {
    return 50.0 * 0.4 * (1.0 + 0.04 * std::max(0.0, t - 25.0));
  });
  CHECK(fridge_W > 20.5);
  const auto hot = parked_in(darwin.design(), 0);
  CHECK(hot->all / watt == about(fridge_W + itself));

  const Camp munich(bank + panel + tank + at("munich") + new_);
  const double tank_W = mean_of(*munich.design()->site.town, [](double t) {
    return 20.0 * 0.1 * (1.0 + 0.1 * std::max(0.0, 5.0 - t));
  });
  Working working;
  const auto cold = parked_in(munich.design(), 0, &working);
  CHECK(cold->all / watt == about(tank_W + itself));
  // Cells at the mean minimum, between 0 °C (0.80) and −10 °C (0.66); a tenth of that kept back.
  const double low = in_celsius(munich.design()->site.town->lowest[0]);
  REQUIRE((low < 0.0 && low > -10.0));
  const double share = (0.80 + 0.014 * low) * 0.9;
  CHECK(double(cold->may_stand / hour) == about(2560.0 * share / (tank_W + itself)));
  adds_up(working);
}

TEST_CASE("parked, an a.c. appliance bears its inverter's loss, and a search takes a third") {
  // 60 W all day at 2000 W, k = 0.11: 60 + 0.11 · 60²/2000 = 60.198 W; no load 20 W all day.
  const std::string inverter = "[[run]]\nname = \"to inverter\"\nfrom = \"bank\"\nto = "
                               "\"inverter\"\nlength = \"1 m\"\n[[inverter]]\nname = "
                               "\"inverter\"\nrating = \"2000 W\"\nno_load = \"20 W\"\nloss = { k "
                               "= 0.11 }\n";
  const std::string new_ = "[promise]\nbank_age = \"0 y\"\n";
  const double itself = 0.03 * 2560.0 / 720.0;
  const std::string router = appliance("Router", "supply = \"inverter\"\npower = \"60 W\"");
  CHECK(parked_in(Camp(bank + inverter + router + new_).design(), {})->all / watt ==
        about(60.198 + 20.0 + itself));
  CHECK(parked_in(Camp(bank + inverter + "runs = \"search\"\n" + new_).design(), {})->all / watt ==
        about(20.0 * 0.33 + itself));
}

TEST_CASE("runtimes and the night are of the habits that were asked for") {
  const Camp c(bank + panel + fridge +
               appliance("Lamp", "power = \"30 W\"\nper_day = \"2 h\"\nused_by = \"people\"\n"
                                 "between = [\"18:00-22:00\"]\non = \"panel\""));
  Habit heavy, dark;
  heavy.use = Use::heavy;
  dark.left_off = {1};
  // The fridge, which nobody attributed, 1.4 · 18 W for 14 h; the lamp 2.8 h of 30 W.
  CHECK(wh(night_of(c.design(), assess(c.design(), heavy)).energy) ==
        about(1.4 * 18.0 * 14.0 + 84.0));
  const auto list = runtimes(c.design(), assess(c.design(), heavy));
  REQUIRE(list.size() == 2);
  CHECK(list[1].power / watt == about(30.0));  // longer, not stronger
  CHECK(runtimes(c.design(), assess(c.design(), dark)).size() == 1);
  CHECK(night_of(c.design(), assess(c.design(), dark)).consumers.size() == 1);
}

TEST_CASE("to stay on: hours of mains a day that make up for a dark month, and no fewer") {
  const Camp c(bank + panel + fridge + at("hobart", "month = \"june\"") +
               "[[charger]]\nname = \"mains\"\nkind = \"mains\"\ncurrent = \"10 A\"\n");
  const auto weather = *weather_of(c.design(), 2, 1);
  const Surroundings around(c.design(), weather);
  const auto list = to_stay_on(c.design(), around, {5, 30, 10});
  REQUIRE(list.size() == 2);  // a generator feeds the same charger
  CHECK(list[0].by == "mains");
  REQUIRE(list[0].a_day.has_value());
  // 432 Wh a day, and what the bank loses; 10 A bring 128 Wh an hour to the bank, 134.7 W to the
  // fridge that runs meanwhile: between 3 and 4 h.
  CHECK(*list[0].a_day >= 3.0 * hour);
  CHECK(*list[0].a_day <= 4.0 * hour);
}

TEST_CASE("the sun keeps up where the mean day gathers what it uses, with what travel charges") {
  const std::string camp_ = bank + panel + roof + van::with(fridge, "45 W", "100 W");
  const Camp june(camp_ + at("hobart", "month = \"june\""));
  const Camp january(camp_ + at("hobart", "month = \"january\""));
  CHECK_FALSE(keeps_up(june.design(), assess(june.design()), {}));
  CHECK(keeps_up(january.design(), assess(january.design()), {}));
  const Camp driven(camp_ + at("hobart", "month = \"june\"") +
                    "[travel]\ndriving = \"2 h\"\nevery = \"1 d\"\n[[charger]]\nname = \"drive\"\n"
                    "kind = \"dc-dc\"\ncurrent = \"40 A\"\n");
  CHECK(keeps_up(driven.design(), assess(driven.design()), {}));
}

}  // namespace

}  // namespace energy_questions

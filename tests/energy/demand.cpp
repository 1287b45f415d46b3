// SPDX-License-Identifier: Apache-2.0
// Demand: sums that a person redoes in the head.
#include "housepower/energy/demand.hpp"
#include "camp.hpp"

namespace {

using namespace camp;

const std::string inverter = R"([[run]]
name = "to inverter"
from = "bank"
to = "inverter"
length = "1 m"
[[inverter]]
name = "inverter"
rating = "2000 W"
no_load = "20 W"
loss = { k = 0.11 }
)";
const std::string kettle =
    appliance("Kettle", "supply = \"inverter\"\npower = \"1000 W\"\nper_day = \"6 min\"");

double load(const std::string& more) { return wh(Camp(bank + panel + more).day().load); }

TEST_CASE("a fridge of 45 W at 40 % takes 432 Wh, 33.75 Ah at 12.8 V") {
  // 45 W · 24 h · 0.40 = 432 Wh; / 12.8 V = 33.75 Ah
  const Camp c(bank + panel +
               appliance("Fridge", "power = \"45 W\"\nduty = \"40 %\"\non = \"panel\""));
  Working working;
  const auto day_ = c.day({}, &working);
  const auto& fridge = consumer(day_, "appliance/Fridge");
  CHECK(wh(fridge.energy) == about(432.0));
  CHECK(fridge.charge / ampere_hour == about(33.75));
  CHECK(wh(day_.load) == about(432.0));
  CHECK(day_.load_charge / ampere_hour == about(33.75));
  CHECK(wh(day_.load_by_hour[3]) == about(18.0));  // 432 / 24
  CHECK(in_celsius(day_.ambient) == about(25.0));
  adds_up(working);
}

TEST_CASE("hours, windows, quantity and days of the week multiply") {
  // 3 · 10 W · 4 h · 5/7 = 85.714 Wh
  CHECK(load(appliance("Lights", "power = \"10 W\"\nquantity = 3\non = \"panel\"\n"
                                 "between = [\"18:00-22:00\"]\ndays_of_seven = 5")) ==
        about(3.0 * 10.0 * 4.0 * 5.0 / 7.0));
  // 2 h of 60 W somewhere within 16 h: 120 Wh, 7.5 Wh in each hour of the window
  const Camp c(bank + panel +
               appliance("Pump", "power = \"60 W\"\nper_day = \"2 h\"\non = \"panel\"\n"
                                 "between = [\"06:00-22:00\"]"));
  const auto day_ = c.day();
  CHECK(wh(day_.load) == about(120.0));
  CHECK(wh(day_.load_by_hour[6]) == about(7.5));
  CHECK(wh(day_.load_by_hour[5]) == 0.0);
  CHECK(wh(day_.load_by_hour[22]) == 0.0);
}

TEST_CASE("a window over midnight is one night") {
  // 22:30 to 06:00 is 7.5 h of 20 W: 150 Wh; half an hour of it in hour 22
  const Camp c(bank + panel +
               appliance("Heater fan", "power = \"20 W\"\non = \"panel\"\n"
                                       "between = [\"22:30-06:00\"]"));
  const auto day_ = c.day();
  CHECK(wh(day_.load) == about(150.0));
  CHECK(wh(day_.load_by_hour[22]) == about(10.0));
  CHECK(wh(day_.load_by_hour[0]) == about(20.0));
  CHECK(wh(day_.load_by_hour[6]) == 0.0);
}

TEST_CASE("duty rises with heat, relative to what is stated, and stops at 100 %") {
  // Nowhere in particular it is 25 °C: 5 K above 20 °C. 0.5 · (1 + 0.04 · 5) = 0.6
  const auto fridge = [](const std::string& heat) {
    return appliance("Fridge", "power = \"100 W\"\nduty = \"50 %\"\non = \"panel\"\n" + heat);
  };
  CHECK(load(fridge("duty_per_kelvin = \"4 %\"\nduty_at = \"20 °C\"")) ==
        about(100.0 * 24.0 * 0.6));
  CHECK(load(fridge("duty_per_kelvin = \"4 %\"\nduty_at = \"30 °C\"")) ==
        about(100.0 * 24.0 * 0.5));
  CHECK(load(fridge("duty_per_kelvin = \"50 %\"\nduty_at = \"20 °C\"")) == about(100.0 * 24.0));
  // At a place every hour has its own air; a working shows the sum.
  const Camp c(bank + panel + at("darwin") +
               fridge("duty_per_kelvin = \"4 %\"\nduty_at = \"25 °C\""));
  Working working;
  const auto january = c.day(0, &working);
  CHECK(january.load_by_hour[14] > january.load_by_hour[3]);
  CHECK(wh(january.load) > 100.0 * 24.0 * 0.5);
  adds_up(working);
}

TEST_CASE("what a resistance or a constant current draws goes with the bank's voltage") {
  // Rated at 12 V: 24 W · (12.8/12)² · 1 h = 27.307 Wh; constant current 24 W · 12.8/12 = 25.6 Wh
  const auto hour_of = [](const std::string& how) {
    return load(appliance("Lamp", "power = \"24 W\"\nrated_at = \"12 V\"\nper_day = \"1 h\"\n"
                                  "on = \"panel\"\nbehaves = \"" +
                                      how + "\""));
  };
  CHECK(hour_of("resistive") == about(24.0 * (12.8 / 12.0) * (12.8 / 12.0)));
  CHECK(hour_of("constant-current") == about(25.6));
  CHECK(hour_of("constant-power") == about(24.0));
}

TEST_CASE("an inverter's loss is that of the load when it runs, not of its mean") {
  // 1000 W for 6 min: 100 Wh; loss 0.11 · 1000²/2000 = 55 W for 6 min = 5.5 Wh. No load 20 W · 24 h.
  const Camp c(bank + inverter + kettle);
  Working working;
  const auto day_ = c.day({}, &working);
  CHECK(wh(consumer(day_, "appliance/Kettle").energy) == about(105.5));
  CHECK(wh(consumer(day_, "inverter/inverter/no_load").energy) == about(480.0));
  CHECK(wh(day_.load) == about(585.5));
  adds_up(working);
}

TEST_CASE("appliances that always run together share the loss of their sum") {
  // 300 W and 100 W all day: 0.11 · 400²/2000 = 8.8 W; shared 6.6 W and 2.2 W
  const Camp c(bank + inverter + appliance("A", "supply = \"inverter\"\npower = \"300 W\"") +
               appliance("B", "supply = \"inverter\"\npower = \"100 W\""));
  const auto day_ = c.day();
  CHECK(wh(consumer(day_, "appliance/A").energy) == about(24.0 * 306.6));
  CHECK(wh(consumer(day_, "appliance/B").energy) == about(24.0 * 102.2));
}

TEST_CASE("appliances that never meet do not share a loss; VA count, not watts") {
  const auto half = [](const std::string& name, const std::string& window,
                       const std::string& more) {
    return appliance(name, "supply = \"inverter\"\npower = \"300 W\"\nbetween = [\"" + window +
                               "\"]\n" + more);
  };
  const Camp c(bank + inverter + half("A", "00:00-12:00", "") +
               half("B", "12:00-24:00", "power_factor = 0.6"));
  const auto day_ = c.day();
  CHECK(wh(consumer(day_, "appliance/A").energy) ==
        about(12.0 * (300.0 + 0.11 * 300.0 * 300.0 / 2000.0)));
  CHECK(wh(consumer(day_, "appliance/B").energy) ==
        about(12.0 * (300.0 + 0.11 * 500.0 * 500.0 / 2000.0)));
}

TEST_CASE("no-load draw by the way an inverter runs") {
  const auto no_load = [](const std::string& runs) {
    const Camp c(bank + inverter + "runs = \"" + runs + "\"\n" + kettle);
    return wh(consumer(c.day(), "inverter/inverter/no_load").energy);
  };
  CHECK(no_load("always") == about(480.0));             // 20 W · 24 h
  CHECK(no_load("while-used") == about(2.0));           // 20 W · 0.1 h
  CHECK(no_load("search") == about(2.0 + 4.0 * 23.9));  // and a fifth of it else
}

TEST_CASE("a flat efficiency divides") {
  const std::string flat = van::with(inverter, "loss = { k = 0.11 }", "efficiency = \"80 %\"");
  CHECK(wh(consumer(Camp(bank + flat + kettle).day(), "appliance/Kettle").energy) ==
        about(100.0 / 0.8));
}

TEST_CASE("standing draws are consumers of their own") {
  // 2 · 20 mA · 12.8 V · 24 h = 12.288 Wh; the controller 1 W · 24 h
  const auto day_ = Camp(van::with(bank, "own_draw = \"0 A\"", "own_draw = \"20 mA\"") +
                         van::with(roof, "own_draw = \"0 W\"", "own_draw = \"1 W\""))
                        .day();
  CHECK(wh(consumer(day_, "bank/own_draw").energy) == about(12.288));
  CHECK(wh(consumer(day_, "controller/controller/own_draw").energy) == about(24.0));
  CHECK(wh(day_.load) == about(36.288));
}

TEST_CASE("hours add up to the day and the order of appliances does not matter") {
  const std::string a = appliance(
      "A", "power = \"37 W\"\nduty = \"31 %\"\nduty_per_kelvin = \"4 %\"\non = \"panel\"");
  const std::string b =
      appliance("B", "power = \"400 W\"\nsupply = \"inverter\"\nbetween = [\"17:10-19:40\"]");
  const std::string c =
      appliance("C", "power = \"90 W\"\nsupply = \"inverter\"\nper_day = \"3 h\"");
  const auto one = Camp(bank + panel + at("hobart") + inverter + a + b + c).day(1);
  const auto other = Camp(bank + panel + at("hobart") + inverter + c + b + a).day(1);
  double hours = 0.0, consumers = 0.0;
  for (const Energy& e : one.load_by_hour) hours += wh(e);
  for (const auto& k : one.consumers) consumers += wh(k.energy);
  CHECK(hours == about(wh(one.load)));
  CHECK(consumers == about(wh(one.load)));
  CHECK(wh(other.load) == about(wh(one.load)));
  for (const char* name : {"appliance/A", "appliance/B", "appliance/C"})
    CHECK(wh(consumer(one, name).energy) == about(wh(consumer(other, name).energy)));
}

}  // namespace

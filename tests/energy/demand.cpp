// SPDX-License-Identifier: Apache-2.0
// Demand: sums that a person redoes in the head.
#include "housepower/energy/demand.hpp"
#include "camp.hpp"

namespace energy_demand {
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
  CHECK(no_load("always") == about(480.0));    // 20 W · 24 h
  CHECK(no_load("while-used") == about(2.0));  // 20 W · 0.1 h
  // An electrical workshop's page: search mode 0.5 A beside 1.5 A, a third; counted as 33 %.
  CHECK(no_load("search") == about(2.0 + 20.0 * 0.33 * 23.9));
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

// ---- Heaters ----

const std::string warm_air =
    appliance("Heater", "power = \"30 W\"\nduty = \"20 %\"\non = \"panel\"\n"
                        "duty_in_cold = { at = \"18 °C\", per_kelvin = \"10 %\" }");

TEST_CASE("a duty rises in the cold, relative to what is stated, and stops at 100 %") {
  // Without a place it is 25 °C: 5 K below 30 °C. 0.5 · (1 + 0.04 · 5) = 0.6
  const auto heater = [](const std::string& cold) {
    return appliance("Heater", "power = \"100 W\"\nduty = \"50 %\"\non = \"panel\"\n" + cold);
  };
  CHECK(load(heater("duty_in_cold = { at = \"30 °C\", per_kelvin = \"4 %\" }")) ==
        about(100.0 * 24.0 * 0.6));
  CHECK(load(heater("duty_in_cold = { at = \"20 °C\", per_kelvin = \"4 %\" }")) ==
        about(100.0 * 24.0 * 0.5));
  CHECK(load(heater("duty_in_cold = { at = \"30 °C\", per_kelvin = \"50 %\" }")) ==
        about(100.0 * 24.0));
  // Heat and cold on one thing: 5 K above 20 and 5 K below 30 °C. 0.5 · 1.2 · 1.1 = 0.66
  CHECK(load(heater("duty_in_cold = { at = \"30 °C\", per_kelvin = \"2 %\" }\n"
                    "duty_per_kelvin = \"4 %\"\nduty_at = \"20 °C\"")) ==
        about(100.0 * 24.0 * 0.66));
}

TEST_CASE("the same heater runs in a Munich winter and rests in Darwin") {
  const Camp munich(bank + panel + warm_air + at("munich"));
  const Camp darwin(bank + panel + warm_air + at("darwin"));
  // Darwin's coolest nights in January are warmer than 18 °C: 30 W · 24 h · 20 %.
  CHECK(darwin.design()->site.town->lowest[0] > celsius(18.0));
  CHECK(wh(darwin.day(0).load) == about(144.0));
  // Munich by the air of each hour, a cosine between its minimum and maximum, warmest at 15 h: at
  // -10 °C the duty is 0.2 · (1 + 0.1 · 28) = 0.76, so it never comes to its end.
  const auto& town = *munich.design()->site.town;
  const double low = in_celsius(town.lowest[0]), high = in_celsius(town.highest[0]);
  CHECK(low > -22.0);
  double expected = 0.0;
  for (int h = 0; h < 24; ++h) {
    const double air =
        low + (high - low) * (0.5 + 0.5 * std::cos((h - 14.5) * 15.0 * 0.0174532925199433));
    expected += 30.0 * 0.2 * (1.0 + 0.1 * (18.0 - air));
  }
  Working working;
  CHECK(wh(munich.day(0, &working).load) == about(expected));
  CHECK(expected > 350.0);
  adds_up(working);
}

TEST_CASE("colder never lowers what a heater takes") {
  const Camp c(bank + panel + warm_air);
  double before = 0.0;
  for (double t = 30.0; t > -45.0; t -= 2.5) {
    std::array<Temperature, 24> air;
    air.fill(celsius(t));
    const double now = wh(energy::consumption(c.design(), air)[0].energy);
    CHECK(now >= before);
    before = now;
  }
  CHECK(before == about(30.0 * 24.0));  // all the time
}

// ---- Starts ----

TEST_CASE("each start takes its current at 12.5 V less what runs anyway") {
  // 28 W in two windows of 9 h in all; a start of 10 A for 90 s is (125 − 28) W · 90 s = 2.425 Wh.
  const auto heater = [](const std::string& more) {
    return appliance("Heater",
                     "power = \"28 W\"\nbetween = [\"05:00-09:00\", \"18:00-23:00\"]\n"
                     "on = \"panel\"\nstarting = { current = \"10 A\", time = \"90 s\" }\n" +
                         more);
  };
  CHECK(load(heater("")) == about(28.0 * 9.0 + 2.0 * 2.425));  // once for each window
  const Camp six(bank + panel + heater("starts = 6\nquantity = 2\ndays_of_seven = 3"));
  Working working;
  CHECK(wh(six.day({}, &working).load) == about(2.0 * (28.0 * 9.0 + 6.0 * 2.425) * 3.0 / 7.0));
  adds_up(working);
  CHECK(load(heater("starts = 0")) == about(28.0 * 9.0));
  // A start that draws less than the running power takes nothing away: 2 A · 12.5 V < 28 W.
  CHECK(load(van::with(heater(""), "10 A", "2 A")) == about(28.0 * 9.0));
  double by_hour = 0.0;
  for (const Energy& e : six.day().load_by_hour) by_hour += wh(e);
  CHECK(by_hour == about(wh(six.day().load)));
}

TEST_CASE("a start longer than the thing runs has only its running time counted already") {
  // On for 36 s, started once for 90 s: 125 W · 90 s − 28 W · 36 s beside 28 W · 36 s: 3.125 Wh.
  CHECK(load(appliance("Glow", "power = \"28 W\"\nper_day = \"36 s\"\non = \"panel\"\n"
                               "starting = { current = \"10 A\", time = \"90 s\" }")) ==
        about(125.0 * 90.0 / 3600.0));
}

TEST_CASE("starts behind an inverter are of its voltage and bear its loss") {
  // 230 V · 4 A = 920 W for 18 s instead of 350 W: 2.85 Wh beside 35 Wh; at 80 %: 47.3125 Wh.
  const std::string flat = van::with(inverter, "loss = { k = 0.11 }", "efficiency = \"80 %\"");
  const std::string blender =
      appliance("Blender", "supply = \"inverter\"\npower = \"350 W\"\nper_day = \"6 min\"\n"
                           "starting = { current = \"4 A\", time = \"18 s\" }\nstarts = 1");
  CHECK(wh(consumer(Camp(bank + flat + blender).day(), "appliance/Blender").energy) ==
        about((35.0 + 2.85) / 0.8));
}

// ---- Habits ----

double used(const Camp& c, const energy::Habit& habit) {
  std::array<Temperature, 24> air;
  air.fill(celsius(25.0));
  double all = 0.0;
  for (const auto& one : energy::consumption(c.design(), air, nullptr, habit))
    all += wh(one.energy);
  return all;
}
energy::Habit habit_of(energy::Use use, std::optional<int> people = {}) {
  return {use, {}, {}, people};
}

TEST_CASE("a gas detector stays on with a frugal family, and heats up with no heavy one") {
  using energy::Use;
  const std::string detector = appliance("Detector", "power = \"1.2 W\"\non = \"panel\"");
  for (const std::string& by : {std::string(), std::string("used_by = \"van\"\n")}) {
    const Camp c(bank + panel + detector + by);
    CHECK(used(c, habit_of(Use::frugal)) == about(28.8));
    CHECK(used(c, habit_of(Use::frugal, 1)) == about(28.8));
    CHECK(used(c, habit_of(Use::heavy, 6)) == about(28.8));  // it is on all day as it is
  }
}

TEST_CASE("people's hours go with habit and number, at most to the end of their window") {
  using energy::Use;
  const auto of = [](const std::string& more) {
    return Camp(
        bank + panel + "[promise]\npeople = 2\n" +
        appliance("Fan", "power = \"10 W\"\nused_by = \"people\"\non = \"panel\"\n" + more));
  };
  const Camp day_long = of("per_day = \"20 h\"");
  CHECK(used(day_long, habit_of(Use::typical)) == about(200.0));
  CHECK(used(day_long, habit_of(Use::frugal)) == about(150.0));
  CHECK(used(day_long, habit_of(Use::heavy)) == about(240.0));  // 24 h, not 28
  const Camp evening = of("per_day = \"2 h\"\nbetween = [\"18:00-23:00\"]");
  CHECK(used(evening, habit_of(Use::heavy)) == about(28.0));
  CHECK(used(evening, habit_of(Use::typical, 4)) == about(40.0));
  CHECK(used(evening, habit_of(Use::heavy, 4)) == about(50.0));  // 5.6 h do not fit into 5
  CHECK(used(evening, habit_of(Use::frugal, 1)) == about(7.5));
  // Running half of the time when it is on: 1.4 times that fits.
  CHECK(used(of("between = [\"18:00-23:00\"]\nduty = \"50 %\""), habit_of(Use::heavy)) ==
        about(10.0 * 5.0 * 0.7));
}

TEST_CASE("what nobody attributed grows with heavy use and does not shrink with frugal use") {
  using energy::Use;
  const Camp c(bank + panel +
               appliance("Lamp", "power = \"10 W\"\nper_day = \"4 h\"\non = \"panel\""));
  CHECK(used(c, habit_of(Use::frugal)) == about(40.0));
  CHECK(used(c, habit_of(Use::typical, 1)) == about(40.0));
  CHECK(used(c, habit_of(Use::heavy)) == about(56.0));
  CHECK(used(c, habit_of(Use::typical, 3)) == about(60.0));
  CHECK(used(c, habit_of(Use::frugal, 4)) == about(80.0));  // twice the people, no less each
  const Camp van_s(bank + panel +
                   appliance("Fridge", "power = \"45 W\"\nduty = \"40 %\"\non = \"panel\"\n"
                                       "used_by = \"van\""));
  for (const auto use : {Use::frugal, Use::typical, Use::heavy})
    CHECK(used(van_s, habit_of(use, 5)) == about(432.0));
}

TEST_CASE("more people, or freer ones, never take less") {
  using energy::Use;
  const Camp c(bank + panel + inverter + kettle + "[promise]\npeople = 3\n" +
               appliance("A", "power = \"20 W\"\nper_day = \"3 h\"\nused_by = \"people\"\n"
                              "on = \"panel\"\nstarting = { current = \"5 A\", time = \"60 s\" }") +
               appliance("B", "power = \"20 W\"\nduty = \"30 %\"\non = \"panel\"") +
               appliance("C", "power = \"20 W\"\nused_by = \"van\"\non = \"panel\""));
  for (const auto use : {Use::frugal, Use::typical, Use::heavy}) {
    double before = 0.0;
    for (int people = 1; people <= 20; ++people) {
      const double now = used(c, habit_of(use, people));
      CHECK(now >= before);
      before = now;
      CHECK(used(c, habit_of(Use::frugal, people)) <= now);
      CHECK(used(c, habit_of(Use::heavy, people)) >= now);
    }
  }
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

}  // namespace energy_demand

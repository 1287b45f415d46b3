// SPDX-License-Identifier: Apache-2.0
// Stays: what reaches the bank each hour, and what many stays say together.
#include "housepower/energy/stay.hpp"
#include "camp.hpp"
#include "housepower/energy/outlook.hpp"
#include "housepower/energy/questions.hpp"
#include "housepower/parts/ageing.hpp"
#include "housepower/parts/cell.hpp"
#include "housepower/parts/controller.hpp"
#include "housepower/parts/module.hpp"
#include "made_up_file.hpp"

namespace energy_stay {
namespace {

using namespace camp;
using namespace housepower::energy;

const std::string fridge = appliance("Fridge", "power = \"45 W\"\nduty = \"40 %\"\non = \"panel\"");
const std::string chargers = R"([[charger]]
name = "drive charger"
kind = "dc-dc"
current = "20 A"
[[charger]]
name = "mains charger"
kind = "mains"
current = "10 A"
)";

Weather weather_at(const Camp& c, int years = 12, std::uint64_t seed = 1) {
  auto w = weather_of(c.design(), years, seed);
  REQUIRE(w.has_value());
  return *w;
}

// ---- What reaches the bank each hour --------------------------------------------------------

/// What the typed formulas of glass, module, mounting, age and controller make of the hours that were
/// filled from day 170 of a year on; returns the largest, W.
double held_against_formulas(const design::Design& d, const Weather& weather, const Buffers& b) {
  const Voltage charging = counting_voltage(d) / double(storage_efficiency);
  const Ratio aged = parts::modules_left(d->promise.bank_age);
  double most = 0.0;
  for (std::size_t h = 0; h < b.sun_W.size(); ++h) {
    const auto& of_day = weather.almanac().days[170 + h / 24];
    MeanDay::Hour hour_;
    hour_.air = b.spell.air[h];
    if (!b.spell.wind.empty()) hour_.wind = b.spell.wind[h];
    hour_.altitude =
        sun_altitude(weather.almanac().latitude, of_day.declination, of_day.hour_angle[h % 24]);
    hour_.azimuth =
        sun_azimuth(weather.almanac().latitude, of_day.declination, of_day.hour_angle[h % 24]);
    hour_.diffuse = b.spell.diffuse[h];
    hour_.beam = b.spell.level[h] - b.spell.diffuse[h];
    const auto& array = d->arrays[0];
    const Irradiance sun = light_on_cells(array, d->site.pitch, hour_, int(h % 24));
    const Power one = parts::power_in_sun(array.module, array.mount, sun, {hour_.air, hour_.wind});
    const parts::ArrayOutput out{array_power(Ratio(2.0), one, array_losses, aged), {}, sun};
    const auto given = parts::controller_output(d->controllers[0], {&out, 1}, charging);
    CAPTURE(h);
    CHECK(b.sun_W[h] == doctest::Approx(given.given / watt).epsilon(1e-9));
    most = std::max(most, b.sun_W[h]);
  }
  return most;
}

TEST_CASE("the sun of an hour is what the formulas of module, mounting and controller make of it") {
  for (const char* tilt : {"", "tilt = \"35°\"\nazimuth = \"300°\"\nmount = \"tilted\"\n"}) {
    const Camp c(bank + at("perth") +
                 van::with(roof, "modules = 2\n",
                           std::string("modules = 2\n") + tilt + "shade = \"10 %\"\n"));
    const auto weather = weather_at(c, 2);
    Buffers b;
    Surroundings(c.design(), weather).fill(1, 170, 20, b);
    CHECK(held_against_formulas(c.design(), weather, b) > 100.0);
  }
}

TEST_CASE("where the weather has wind it cools the modules, and the formulas say by how much") {
  const Camp c(bank + at("perth") + roof);
  std::array<double, 3> most{};
  std::size_t i = 0;
  for (const double wind : {-1.0, 1.0, 8.0}) {
    const tables::WeatherFile file = made_up_file(wind);
    const Weather weather(file);
    Buffers b;
    Surroundings(c.design(), weather).fill(0, 170, 5, b);
    CHECK(b.spell.wind.size() == (wind < 0.0 ? 0 : b.spell.level.size()));
    most[i++] = held_against_formulas(c.design(), weather, b);
  }
  CHECK(most[1] > 1.02 * most[0]);  // 0.0314 instead of 0.0563 K for each W/m²
  CHECK(most[2] > 1.02 * most[1]);
}

TEST_CASE("a file whose radiation is of other moments than its hours is lit as at those") {
  // An east roof and a west roof at a place whose day is even to its noon gather alike, whenever the
  // clock has it: shifted by 40 min, and told so, they still do; not told, they do not.
  const auto gathered = [](double azimuth, double late_h, double told_h) {
    const Camp c(bank + at("perth") +
                 van::with(roof, "modules = 2\n",
                           "modules = 2\ntilt = \"40°\"\nazimuth = \"" +
                               std::to_string(int(azimuth)) + "°\"\n"));
    tables::WeatherFile file = made_up_file(-1.0);
    for (std::size_t i = 0; i < 8760; ++i) {
      const double clock = double(i % 24) + 0.5 - late_h;
      const double sun = std::max(0.0, std::sin((clock - 6.0) / 12.0 * 3.14159265));
      file.global[i] = Irradiance::from_value(800.0 * sun);
      file.diffuse[i] = Irradiance::from_value(100.0 * sun);
    }
    file.sun_shift = -told_h * hour;
    const Weather weather(file);
    Buffers b;
    Surroundings(c.design(), weather).fill(0, 0, 365, b);
    double all = 0.0;
    for (const double w : b.sun_W) all += w;
    return all;
  };
  const auto east_to_west = [&](double late_h, double told_h) {
    return gathered(90.0, late_h, told_h) / gathered(270.0, late_h, told_h);
  };
  CHECK(east_to_west(0.0, 0.0) == doctest::Approx(1.0).epsilon(0.01));
  CHECK(east_to_west(2.0 / 3.0, 2.0 / 3.0) == doctest::Approx(1.0).epsilon(0.02));
  CHECK(std::abs(east_to_west(2.0 / 3.0, 0.0) - 1.0) > 0.1);
}

TEST_CASE("modules age with the bank: at any age the sun is that of the formula") {
  const auto sun_of = [](const std::string& age) {
    const Camp c(bank + at("perth") + roof + "[promise]\nbank_age = \"" + age + "\"\n");
    Buffers b;
    Surroundings(c.design(), weather_at(c, 1)).fill(0, 0, 31, b);
    double all = 0.0;
    for (const double w : b.sun_W) all += w;
    return all;
  };
  CHECK(sun_of("10 y") == doctest::Approx(0.95 * sun_of("0 y")).epsilon(1e-9));
  // A plant of another age makes up for it: new against 10 y, 1 / 0.95.
  const Camp c(bank + at("perth") + roof + "[promise]\nbank_age = \"10 y\"\n");
  CHECK(plant_of(c.design(), 10.0 * year)->sun_factor == 1.0);
  CHECK(plant_of(c.design(), 0.0 * year)->sun_factor == doctest::Approx(1.0 / 0.95));
  CHECK(plant_of(c.design(), 20.0 * year, {0.9, 1.0})->sun_factor ==
        doctest::Approx(0.9 * 0.90 / 0.95));
}

TEST_CASE("loads of the one pattern that a day passes with are those of all patterns on that day") {
  const Camp c(bank + at("perth") + roof + panel +
               appliance("Oven", "power = \"400 W\"\nper_day = \"1 h\"\ndays_of_seven = 2\n"
                                 "on = \"panel\""));
  const Surroundings around(c.design(), weather_at(c, 2));
  REQUIRE(around.patterns() == 7);
  Buffers all, one;
  around.fill(1, 340, 40, all);
  around.fill(1, 340, 40, one, false, 5);
  CHECK(one.sun_W == all.sun_W);
  CHECK(one.air_C == all.air_C);
  for (std::size_t h = 0; h < 40 * 24; ++h) {
    const std::size_t pattern = (5 + h / 24) % 7;
    CHECK(one.load_W[pattern][h] == all.load_W[pattern][h]);
  }
  CHECK(std::any_of(all.load_W.begin(), all.load_W.end(),
                    [&](const auto& load) { return load != all.load_W[0]; }));
}

/// Which days of a year have sun, of a place where each day has.
std::vector<bool> sunny_days(const Surroundings& around, int year_) {
  Buffers b;
  around.fill(year_, 0, 365, b);
  std::vector<bool> sunny(365);
  for (std::size_t h = 0; h < b.sun_W.size(); ++h)
    if (b.sun_W[h] > 0.0) sunny[h / 24] = true;
  return sunny;
}

TEST_CASE("covered days: their share of each month, in one run, other days in other years") {
  const std::string covered = "covered = [\"50 %\", \"10 %\", \"0 %\", \"0 %\", \"0 %\", \"0 %\", "
                              "\"0 %\", \"0 %\", \"0 %\", \"0 %\", \"0 %\", \"100 %\"]\n";
  const Camp c(bank + at("perth") + van::with(roof, "modules = 2\n", "modules = 2\n" + covered));
  const Weather weather = weather_at(c, 200);
  const Surroundings around(c.design(), weather);
  std::array<int, 12> dark{};
  std::array<int, 31> on_day{};  // of January
  for (int y = 0; y < 200; ++y) {
    const auto sunny = sunny_days(around, y);
    int runs = 0;  // in January, taken as a ring
    for (std::size_t d = 0; d < 31; ++d) {
      runs += !sunny[d] && sunny[(d + 30) % 31];
      on_day[d] += !sunny[d];
    }
    CHECK(runs == 1);
    for (int d = 0; d < 365; ++d) dark[std::size_t(month_of_day(d))] += !sunny[std::size_t(d)];
  }
  CHECK(std::abs(dark[0] / 200.0 - 15.5) < 0.12);  // 15 or 16 days: 200 years leave 0.035 to chance
  CHECK(std::abs(dark[1] / 200.0 - 2.8) < 0.1);
  CHECK(dark[11] == 200 * 31);
  for (int m = 2; m < 11; ++m) CHECK(dark[std::size_t(m)] == 0);
  for (const int n : on_day) {  // each day alike: 100 of 200, by chance 7 more or less
    CHECK(n > 70);
    CHECK(n < 130);
  }
  CHECK(sunny_days(around, 3) == sunny_days(Surroundings(c.design(), weather), 3));
  // The spell past December goes on with the next year's January.
  Buffers b;
  around.fill(0, 334, 62, b);
  const auto next = sunny_days(around, 1);
  for (std::size_t d = 31; d < 62; ++d) {
    double sun = 0.0;
    for (std::size_t h = d * 24; h < d * 24 + 24; ++h) sun += b.sun_W[h];
    CHECK((sun > 0.0) == next[d - 31]);
  }
}

TEST_CASE("in the mean day covered days take their share off, and age takes its own") {
  const auto solar = [](const std::string& more) {
    const Camp c(bank + at("perth") + van::with(roof, "modules = 2\n", "modules = 2\n" + more));
    Working working;
    const auto day_ = energy::month_day(c.design(), 6, nullptr, &working);
    adds_up(working);
    return wh(day_.solar);
  };
  const double clear = solar("");
  CHECK(clear > 100.0);
  CHECK(solar("covered = [\"0 %\", \"0 %\", \"0 %\", \"0 %\", \"0 %\", \"0 %\", \"30 %\", \"0 %\", "
              "\"0 %\", \"0 %\", \"0 %\", \"0 %\"]\n") == doctest::Approx(0.7 * clear));
}

TEST_CASE("the mean day and the mean of many made-up days gather alike") {
  // The mean day has one clearness and the made-up ones many: of a level array they differ by what
  // glass, little light and heat make of that, some 3 %.
  for (const char* town : {"perth", "vienna", "brisbane"})
    for (const int month : {0, 6}) {
      CAPTURE(town);
      CAPTURE(month);
      const Camp c(bank + at(town) + roof);
      const Surroundings around(c.design(), weather_at(c, 300));
      Buffers b;
      double hourly = 0.0;
      for (int y = 0; y < 300; ++y) {
        around.fill(y, month_begins[std::size_t(month)], 31, b);
        for (const double w : b.sun_W) hourly += w / (300.0 * 31.0);
      }
      const double mean = wh(c.day(month).solar) / double(storage_efficiency);
      CHECK(hourly == doctest::Approx(mean).epsilon(0.04));
    }
}

TEST_CASE("a hot module whose best voltage falls below the bank's charges nothing") {
  // 15 V at 25 °C fall by 0.45 %/K: at 13.47 V, the bank charging, cells have 47.6 °C.
  const auto with = [](const std::string& vmp) {  // a module of 200 W
    return bank + at("alice-springs") +
           van::with(roof, "imp = \"9.8 A\"",
                     "imp = \"" + std::to_string(200.0 / std::stod(vmp)) + " A\", vmp = \"" + vmp +
                         " V\"");
  };
  const auto most = [&](const std::string& vmp) {
    const Camp c(with(vmp));
    const Surroundings around(c.design(), weather_at(c, 1));
    Buffers b;
    around.fill(0, 0, 31, b);
    return *std::max_element(b.sun_W.begin(), b.sun_W.end());
  };
  CHECK(most("18") > 200.0);
  CHECK(most("15") < 0.7 * most("18"));
  CHECK(most("13") < 0.2 * most("18"));
  // The mean day does not count them either.
  const auto gathered = [&](const std::string& vmp) {
    const Camp c(with(vmp));
    Working working;
    const auto day_ = energy::month_day(c.design(), 0, nullptr, &working);
    adds_up(working);
    return wh(day_.solar);
  };
  CHECK(gathered("18") > 500.0);
  CHECK(gathered("15") < 0.8 * gathered("18"));
  CHECK(gathered("12") == 0.0);
}

TEST_CASE("the load of an hour is that of the mean day at its air, every day of the week its own") {
  const std::string cooler =
      appliance("Cooler", "power = \"50 W\"\nduty = \"40 %\"\nduty_per_kelvin = \"4 %\"\n"
                          "duty_at = \"20 °C\"\non = \"panel\"");
  const std::string wash =
      appliance("Washing", "power = \"300 W\"\nper_day = \"1 h\"\nbetween = [\"10:00-12:00\"]\n"
                           "days_of_seven = 2\non = \"panel\"");
  const Camp c(bank + panel + cooler + wash + at("seville"));
  const Surroundings around(c.design(), weather_at(c, 1));
  Buffers b;
  around.fill(0, 180, 7, b);
  CHECK(around.patterns() == 7);
  int washes = 0;
  for (std::size_t p = 0; p < 7; ++p) {
    const double ten = b.load_W[p][10], nine = b.load_W[p][9];
    const double air_10 = in_celsius(b.spell.air[10]), air_9 = in_celsius(b.spell.air[9]);
    const auto cooler_W = [](double t) {
      return 50.0 * std::min(1.0, 0.4 * (1.0 + 0.04 * std::max(0.0, t - 20.0)));
    };
    CHECK(nine == doctest::Approx(cooler_W(air_9)).epsilon(1e-6));
    const bool washing = ten > cooler_W(air_10) + 1.0;
    if (washing) CHECK(ten == doctest::Approx(cooler_W(air_10) + 150.0).epsilon(1e-6));
    washes += washing;
  }
  CHECK(washes == 2);
}

TEST_CASE("use scales appliances and leaves standing draws; what is left off draws nothing") {
  const Camp c(van::with(bank, "own_draw = \"0 A\"", "own_draw = \"100 mA\"") + panel + fridge);
  std::array<Temperature, 24> air;
  air.fill(celsius(20.0));
  const auto sum_of = [&](const Habit& habit) {
    double all = 0.0;
    for (const auto& one : consumption(c.design(), air, nullptr, habit)) all += wh(one.energy);
    return all;
  };
  const double standing = 2.0 * 0.1 * 12.8 * 24.0;  // two batteries
  CHECK(sum_of({}) == about(432.0 + standing));
  // Nobody said who uses it: less use does not lower it.
  CHECK(sum_of({Use::frugal, {}, {}}) == about(432.0 + standing));
  CHECK(sum_of({Use::heavy, {}, {}}) == about(1.4 * 432.0 + standing));
  CHECK(sum_of({Use::typical, {}, {0}}) == about(standing));
}

TEST_CASE("driving, mains nights and a generator charge at their hours") {
  const Camp c(bank + panel + fridge + chargers + at("hobart"));
  const Surroundings around(c.design(), weather_at(c, 1));
  const double volts = 12.8 / 0.95;
  // Driving 3 h every 2 d: days 2, 4, 6, from 9 to 12 h; not on the day of arrival.
  const auto driving = around.others({3.0 * hour, 2.0 * day, {}, {}, 0}, 7, 0);
  double all = 0.0;
  for (const double w : driving) all += w;
  CHECK(all == about(3.0 * 3.0 * 20.0 * volts));
  CHECK(driving[2 * 24 + 9] == about(20.0 * volts));
  CHECK(driving[9] == 0.0);
  // One mains night of seven, 14 h from 18 h on: the last of them, into the next morning.
  const auto mains = around.others({{}, {}, {}, 14.0 * hour, 1}, 9, 0);
  CHECK(mains[6 * 24 + 18] == about(10.0 * volts));
  CHECK(mains[7 * 24 + 7] == about(10.0 * volts));
  CHECK(mains[7 * 24 + 8] == 0.0);
  CHECK(mains[5 * 24 + 20] == 0.0);
  // A generator without a charger of its own feeds the mains charger: half an hour is half a watt-hour.
  const auto generator = around.others({{}, {}, 1.5 * hour, {}, 0}, 1, 0);
  CHECK(generator[16] == about(10.0 * volts));
  CHECK(generator[17] == about(5.0 * volts));
  // From an arrival at 16 h: hour 0 of the stay is 16 h of day 0, so 9 h of day 2 is hour 41.
  const auto after_four = around.others({3.0 * hour, 2.0 * day, {}, {}, 0}, 3, 16);
  for (int h = 0; h < 72; ++h) CHECK((after_four[std::size_t(h)] > 0.0) == (h >= 41 && h < 44));
}

TEST_CASE("of chargers that cannot work at once the larger counts") {
  const Camp c(bank + panel + fridge + chargers + at("hobart"));
  const Surroundings around(c.design(), weather_at(c, 1));
  const double volts = 12.8 / 0.95;
  // Driving from 9 to 19 h with 20 A, a generator from 16 to 20 h and a hook-up from 18 h on with 10 A.
  const auto all = around.others({10.0 * hour, 1.0 * day, 4.0 * hour, 14.0 * hour, 7}, 2, 0);
  CHECK(all[24 + 12] == about(20.0 * volts));
  CHECK(all[24 + 17] == about(20.0 * volts));
  CHECK(all[24 + 19] == about(10.0 * volts));
  CHECK(all[24 + 22] == about(10.0 * volts));
}

TEST_CASE("what travel charges in a mean day is the mean of its hours, overlaps counted once") {
  const auto charged = [](const std::string& travel) {
    const Camp c(bank + panel + fridge + chargers + at("hobart") + "[travel]\n" + travel);
    return wh(charged_by_travel(c.design(), {}));
  };
  CHECK(charged("driving = \"3 h\"\nevery = \"2 d\"\n") == about(3.0 * 20.0 * 12.8 / 2.0));
  CHECK(charged("mains_nights = 7\n") == about(14.0 * 10.0 * 12.8));
  CHECK(charged("driving = \"10 h\"\nevery = \"1 d\"\ngenerator = \"4 h\"\n") ==
        about((10.0 * 20.0 + 10.0) * 12.8));
}

TEST_CASE("a charger or controller that ends below the bank's voltage counts for nothing") {
  const auto with = [](const std::string& volts) {
    return Camp(bank + panel + fridge +
                van::with(roof, "own_draw", "charge_voltage = \"" + volts + "\"\nown_draw") +
                at("hobart") + "[travel]\nmains_nights = 7\n[[charger]]\nname = \"mains\"\n" +
                "kind = \"mains\"\ncurrent = \"10 A\"\ncharge_voltage = \"" + volts + "\"\n");
  };
  const Camp low = with("11 V"), usual = with("14.2 V");
  CHECK(wh(charged_by_travel(low.design(), {})) == 0.0);
  CHECK(wh(charged_by_travel(usual.design(), {})) == about(14.0 * 10.0 * 12.8));
  CHECK(wh(low.day(0).solar) == 0.0);
  CHECK(wh(usual.day(0).solar) > 0.0);
  const auto weather = weather_at(low, 2);
  const auto stays = [&](const Camp& c) {
    return stay(c.design(), Surroundings(c.design(), weather), {5, 30})->met;
  };
  const Camp none(bank + panel + fridge + at("hobart"));
  CHECK(stays(low) == stays(none));
  CHECK(stays(usual) > stays(none));
}

TEST_CASE("a heater's bound that is not stated keeps its distance from the one that is") {
  const auto bounds = [](const std::string& stated) {
    const Camp c(van::with(bank, "own_draw",
                           "mass = \"21 kg\"\nbox = { size = [\"0.5 m\", \"0.35 m\", "
                           "\"0.35 m\"], heater = { power = \"30 W\", supplied_by = "
                           "\"bank\"" +
                               stated + " } }\nown_draw"));
    const auto plant = *plant_of(c.design(), 0.0 * year);
    return std::array{plant.heater_on_C, plant.heater_off_C};
  };
  const auto are = [&](const std::string& stated, double on, double off) {
    const auto found = bounds(stated);
    CHECK(found[0] == about(on));
    CHECK(found[1] == about(off));
  };
  are("", 2.0, 5.0);
  are(", on_below = \"5 °C\"", 5.0, 8.0);
  are(", on_below = \"-4 °C\"", -4.0, 5.0);
  are(", off_above = \"1 °C\"", -2.0, 1.0);
  are(", off_above = \"9 °C\"", 2.0, 9.0);
}

TEST_CASE("a charger that brings nothing holds no other back") {
  const std::string all = bank + panel + fridge + at("hobart") +
                          "[[charger]]\nname = \"mains\"\nkind = \"mains\"\ncurrent = \"10 A\"\n"
                          "[[charger]]\nname = \"trickle\"\nkind = \"dc-dc\"\ncurrent = \"1 A\"\n"
                          "charge_voltage = \"13.0 V\"\n";
  const Camp c(all);
  const auto plant = *plant_of(c.design(), 0.0 * year);
  CHECK(plant.full_by_others < 0.95);
  const auto weather = weather_at(c, 1);
  const DeliveredList nothing{{1, "trickle", Current{}, "its line is not described"}};
  const Charging both{1.0 * hour, 1.0 * day, {}, {}, 1};
  CHECK(Surroundings(c.design(), weather, {}, nothing).charged_here(plant, both).full_by_others ==
        1.0);
  CHECK(Surroundings(c.design(), weather).charged_here(plant, both).full_by_others < 0.95);
}

TEST_CASE(
    "a charger that this stay does not ask holds no other back, also not the one that is lent") {
  const auto charger = [](const std::string& kind, const std::string& volts) {
    return "[[charger]]\nname = \"" + kind + "\"\nkind = \"" + kind +
           "\"\ncurrent = \"10 A\"\ncharge_voltage = \"" + volts + " V\"\n";
  };
  const Charging mains{{}, {}, {}, {}, 1}, driving{1.0 * hour, 1.0 * day, {}, {}, 0},
      generator{{}, {}, 1.0 * hour, {}, 0};
  const auto full = [](const std::string& these, const Charging& charging) {
    const Camp c(bank + panel + fridge + at("hobart") + these);
    const auto weather = weather_at(c, 1);
    return Surroundings(c.design(), weather)
        .charged_here(*plant_of(c.design(), 0.0 * year), charging)
        .full_by_others;
  };
  const std::string low_mains = charger("mains", "13.0") + charger("dc-dc", "14.2");
  CHECK(full(low_mains, mains) < 0.95);
  CHECK(full(low_mains, driving) == 1.0);
  CHECK(full(low_mains, generator) < 0.95);  // it feeds the mains charger, for want of its own
  CHECK(full(low_mains + charger("generator", "14.2"), generator) == 1.0);
  CHECK(full(charger("mains", "14.2") + charger("generator", "13.0"), mains) == 1.0);
  CHECK(full(charger("mains", "14.2") + charger("generator", "13.0"), generator) < 0.95);
}

TEST_CASE("a charger brings what its line delivers, others their name plates") {
  const Camp c(bank + panel + fridge + chargers + at("hobart"));
  const auto& d = c.design();
  using design::ChargerKind;
  const DeliveredList line{{0, "drive charger", 3.5 * ampere, ""}};
  CHECK(charging_current(d, ChargerKind::dc_dc, {}) / ampere == about(20.0));
  CHECK(charging_current(d, ChargerKind::dc_dc, line) / ampere == about(3.5));
  CHECK(charging_current(d, ChargerKind::mains, line) / ampere == about(10.0));
  const Surroundings around(d, weather_at(c, 1), {}, line);
  const auto driving = around.others({1.0 * hour, 1.0 * day, {}, {}, 0}, 2, 0);
  CHECK(driving[24 + 9] == about(3.5 * 12.8 / 0.95));
  // The bank fills with 3.5 A as slowly as that says: 44.8 Wh an hour into 0.84 · 2560 Wh.
  const Camp empty(bank + "[promise]\nbank_age = \"0 y\"\n" + chargers);
  const auto full = refills(empty.design(), assess(empty.design()), line);
  REQUIRE(full[0].takes.has_value());
  CHECK(double(*full[0].takes / hour) == doctest::Approx(0.84 * 2560.0 / 44.8).epsilon(0.02));
}

// ---- The bank as a plant --------------------------------------------------------------------

TEST_CASE("a plant holds what the parts say of the bank at that age") {
  const Camp c(bank + "charge_cut_off_below = \"0 °C\"\ncharge_limit = \"30 A\"\n"
                      "discharge_limit = \"80 A\"\n[promise]\nreserve = \"20 %\"\n");
  const auto& b = *c.design()->bank;
  const auto plant = *plant_of(c.design(), 10.0 * year);
  CHECK(plant.capacity_Wh == about(2560.0 * double(parts::age_factor(b, 10.0 * year))));
  CHECK(plant.discharge_W == about(160.0 * 12.8));
  const auto row = [](double t) { return std::size_t(t - kernel::coldest_C); };
  CHECK(plant.accepts_W[row(-1)] == 0.0);
  CHECK(plant.accepts_W[row(2)] == about(20.0 * 12.8));   // 0.1C of 200 Ah
  CHECK(plant.accepts_W[row(20)] == about(40.0 * 12.8));  // 0.2C
  CHECK(plant.accepts_W[row(30)] == about(60.0 * 12.8));  // the batteries' own limit
  CHECK(plant.empty[row(25)] == about(0.20));
  CHECK(plant.empty[row(3)] == about(1.0 - 0.842 * 0.80));  // between 0.80 at 0 and 0.94 at 10 °C
  CHECK(plant.kept_an_hour == about(std::pow(0.97, 1.0 / 720.0)));
  CHECK(plant.full_by_sun == 1.0);
}

TEST_CASE("a charger that ends below 13.8 V leaves the bank at 95 %") {
  const Camp c(bank + at("hobart") + roof + "charge_voltage = \"13.6 V\"\n");
  CHECK(plant_of(c.design(), 0.0 * year)->full_by_sun == 0.95);
}

TEST_CASE("a charger brings the bank no further than where it rests at the charge voltage") {
  const auto full = [](const std::string& volts) {
    const Camp c(bank + at("hobart") + roof + "charge_voltage = \"" + volts + " V\"\n");
    return plant_of(c.design(), 0.0 * year)->full_by_sun;
  };
  const Camp c(bank);
  const auto& cells = c.design()->tables->cells;
  for (const char* volts : {"12.9", "13.0", "13.1"}) {
    const double at_most = full(volts);
    CAPTURE(volts);
    CHECK(at_most < 0.95);
    CHECK(parts::bank_open_circuit(cells, *c.design()->bank, at_most).value() ==
          doctest::Approx(std::stod(volts)).epsilon(1e-4));
  }
  CHECK(full("12.9") < full("13.1"));
}

TEST_CASE("a controller that does not reach the reserve is not counted, and holds no other back") {
  const std::string two =
      roof + "charge_voltage = \"14.2 V\"\n" +
      "[[array]]\nname = \"second\"\nmodules = 1\nmodule = { power = \"20 W\", imp = "
      "\"0.98 A\", power_coefficient = \"-0.35 %/K\" }\nto = \"low\"\n"
      "[[controller]]\nname = \"low\"\nmax_voltage = \"100 V\"\n"
      "max_charge_current = \"30 A\"\ncharge_voltage = \"";
  const auto plant_with = [&](const std::string& low) {
    const Camp c(bank + at("hobart") + two + low + " V\"\n");
    return *plant_of(c.design(), 0.0 * year);
  };
  CHECK(plant_with("11").full_by_sun == 1.0);
  CHECK(plant_with("11").rests_by_sun == plant_with("14.2").rests_by_sun);
  CHECK(plant_with("13").full_by_sun < 0.95);
}

TEST_CASE("what has filled the bank to where it ends goes on carrying the loads") {
  const auto with = [](const std::string& volts) {
    const Camp c(bank + at("hobart") + roof + "charge_voltage = \"" + volts + " V\"\n");
    return *plant_of(c.design(), 0.0 * year);
  };
  for (const char* volts : {"12.9", "13.1", "13.2"}) {
    CAPTURE(volts);
    CHECK(with(volts).rests_by_sun > with(volts).full_by_sun);
  }
  // From 13.8 V on it fills any bank (13.8 V of four cells: common practice), however high that rests.
  CHECK(with("13.8").rests_by_sun > 1.0);
}

// ---- Many stays -----------------------------------------------------------------------------

TEST_CASE("without sun a stay lasts about as long as the mean day says") {
  // In Darwin's January cells give all they have, or 0.4 % less for each kelvin below 25 °C: a night
  // may be 5 K below the mean minimum of 24.8 °C. A bank loses 3 % a month by itself, and little in
  // its resistance.
  const Camp c(bank + panel + fridge + at("darwin", "month = \"january\""));
  const auto a = assess(c.design());
  const auto weather = weather_at(c, 2);
  const auto answer = stay(c.design(), Surroundings(c.design(), weather), {0, 30});
  REQUIRE(answer.has_value());
  REQUIRE(a.autonomy_mean_day.has_value());
  CHECK(answer->met <= *a.autonomy_mean_day);
  CHECK(answer->met >= *a.autonomy_mean_day * 0.96);
}

/// Stays of made-up lengths: `years` rows of `starts`, hours.
Stays of_lengths(const std::vector<std::vector<double>>& hours, int days) {
  Stays s{int(hours.size()), int(hours[0].size()), 1, days, {}};
  for (const auto& year_ : hours)
    for (const double h : year_) {
      kernel::Outcome o;
      o.lasted_h = h;
      o.ended = h < days * 24.0;
      s.all.push_back(o);
    }
  return s;
}

TEST_CASE("the length met by nine in ten is the second shortest of eleven to twenty") {
  // Of ten stays one may fall short: the second shortest is reached by nine.
  std::vector<std::vector<double>> ten;
  for (int i = 1; i <= 10; ++i) ten.push_back({24.0 * i});
  const auto s = of_lengths(ten, 30);
  CHECK(reached(s, 0, 0.9) / day == about(2.0));
  CHECK(reached(s, 0, 0.5) / day == about(6.0));  // six to ten: five of ten
  CHECK(reached(s, 0, 0.999) / day == about(1.0));
  CHECK(double(lasting(s, 0, 3.0 * day).value) == about(0.8));
}

TEST_CASE("fewer than ten years bear no interval; years that agree bear a narrow one") {
  std::vector<std::vector<double>> nine(9, {100.0, 200.0});
  CHECK_FALSE(lasting(of_lengths(nine, 30), 0, 150.0 * hour).interval.has_value());
  CHECK_FALSE(reached_interval(of_lengths(nine, 30), 0, 0.5).has_value());
  // 100 years of one stay each, half of them long: Wilson's interval of 50 in 100, 0.404 to 0.596
  // (p + z²/2n ± z √(p(1 − p)/n + z²/4n²))/(1 + z²/n) with z = 1.96 by hand.
  std::vector<std::vector<double>> hundred;
  for (int i = 0; i < 100; ++i) hundred.push_back({i % 2 ? 100.0 : 200.0});
  const auto share = lasting(of_lengths(hundred, 30), 0, 150.0 * hour);
  REQUIRE(share.interval.has_value());
  CHECK(double((*share.interval)[0]) == doctest::Approx(0.4038).epsilon(0.001));
  CHECK(double((*share.interval)[1]) == doctest::Approx(0.5962).epsilon(0.001));
  // Thirty stays a year that all end alike are no more than one stay: the interval stays as wide.
  std::vector<std::vector<double>> alike;
  for (int i = 0; i < 100; ++i) alike.push_back(std::vector<double>(30, i % 2 ? 100.0 : 200.0));
  const auto same = lasting(of_lengths(alike, 30), 0, 150.0 * hour);
  CHECK(double((*same.interval)[0]) == doctest::Approx(0.4038).epsilon(0.01));
}

TEST_CASE("years done in any order, by whomever, give the same bits") {
  const Camp c(bank + panel + fridge + roof + at("hobart"));
  const auto weather = weather_at(c, 6);
  const Surroundings around(c.design(), weather);
  const std::array plants{*plant_of(c.design(), 10.0 * year), *plant_of(c.design(), 0.0 * year)};
  const StayQuestion q{5, 20};
  const auto one = simulate(around, q, plants);
  const auto backwards = simulate(around, q, plants, [](int count, const auto& f) {
    for (int i = count; i-- > 0;) f(i);
  });
  REQUIRE(one.all.size() == backwards.all.size());
  for (std::size_t i = 0; i < one.all.size(); ++i) {
    CHECK(one.all[i].lasted_h == backwards.all[i].lasted_h);
    CHECK(one.all[i].lost == backwards.all[i].lost);
  }
  CHECK(double(largest_imbalance(one)) < 1e-9);
}

TEST_CASE("a heater's use a day is of the days on which the bank fed it") {
  // Oslo in January, some -5 °C: 2.36 W/K of box hold 3 °C with about 19 W, 450 Wh a day; the bank's
  // 256 Wh are gone within days, and of thirty that would be less than 10 Wh a day.
  const Camp c(
      van::with(van::with(van::with(bank, "quantity = 2", "quantity = 1"), "100 Ah", "20 Ah"),
                "own_draw = \"0 A\"\n",
                "own_draw = \"0 A\"\nmass = \"21 kg\"\n"
                "box = { size = [\"0.5 m\", \"0.35 m\", \"0.35 m\"], heat_transfer = "
                "\"2.5 W/m2K\", heater = { power = \"60 W\", supplied_by = \"bank\" } }\n") +
      at("oslo", "month = \"january\""));
  const Surroundings around(c.design(), weather_at(c));
  const auto answer = stay(c.design(), around, {0, 30, 10});
  REQUIRE(answer.has_value());
  CHECK(answer->met < 6.0 * day);
  CHECK(wh(answer->heated) > 60.0);
  CHECK(wh(answer->heated) < 60.0 * 24.0);
}

TEST_CASE("half days are rounded down, never up") {
  CHECK(half_days(2.99 * day) / day == about(2.5));
  CHECK(half_days(3.0 * day) / day == about(3.0));
  CHECK(half_days(0.49 * day) / day == 0.0);
}

TEST_CASE("the promised stay is looked at in the month where it is shortest, and no longer") {
  const Camp c(bank + panel + fridge + roof + at("hobart") + "[promise]\nstay = \"6 d\"\n");
  const auto o = outlook(c.design(), {});
  REQUIRE(o.promised.has_value());
  CHECK(o.promised->longest / day == about(6.0));
  CHECK((o.promised->month == 5 || o.promised->month == 6));  // June or July in the south
  REQUIRE(o.promised->promise.has_value());
  CHECK(o.promised->promise->interval.has_value());
  REQUIRE(o.coldest_month.has_value());
  CHECK(o.coldest_month->month >= 5);  // all of its winter comes to the record low
  CHECK(o.coldest_month->month <= 7);
}

}  // namespace

}  // namespace energy_stay

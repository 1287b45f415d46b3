// SPDX-License-Identifier: Apache-2.0
// The bound under the search for a pack: a store that wastes nothing never lasts fewer stays than
// the simulated bank, whatever the bank, the cold, the heater and the box.
#include "housepower/energy/least_store.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include "energy/camp.hpp"
#include "energy/hours.hpp"

namespace laws_least_store {
namespace {

using namespace camp;
using namespace housepower::energy;
using energy::test::Random;

std::string random_van(Random& random) {
  constexpr const char* towns[] = {"hobart", "vienna", "brisbane", "calgary"};
  std::string text =
      van::with(bank, "quantity = 2", fmt::format("quantity = {}", 1 + random.below(4)));
  if (random.one_in(2))
    text += fmt::format("discharge_limit = \"{:.0f} A\"\ncharge_cut_off_below = \"0 °C\"\n"
                        "[bank.box]\nsize = [\"0.6 m\", \"0.4 m\", \"0.3 m\"]\n"
                        "heater = {{ power = \"30 W\", supplied_by = \"{}\" }}\n",
                        random.between(20.0, 200.0), random.one_in(2) ? "bank" : "charge");
  std::string array =
      van::with(roof, "modules = 2", fmt::format("modules = {}", 1 + random.below(4)));
  text += panel + array + at(towns[random.below(4)]);
  text += fmt::format("[promise]\narrive_at = \"{:.0f} %\"\nreserve = \"{:.0f} %\"\n",
                      random.between(50.0, 100.0), random.between(0.0, 40.0));
  text += appliance("Fridge", fmt::format("power = \"{:.2f} W\"\non = \"panel\"\nduty = \"40 %\"\n"
                                          "duty_per_kelvin = \"3 %\"",
                                          random.between(20.0, 150.0)));
  return text + appliance("Lights", fmt::format("current = \"{:.2f} A\"\non = \"panel\"\nbetween = "
                                                "[\"18:00-22:00\"]\ndays_of_seven = {}",
                                                random.between(0.5, 6.0), 1 + random.below(7)));
}

}  // namespace

TEST_CASE("a store without losses lasts at least as many stays as the simulated bank") {
  Random random(11);
  int some = 0, close = 0;
  for (int i = 0; i < 120; ++i) {
    const Camp camp(random_van(random));
    const auto& d = camp.design();
    const auto weather = weather_of(d, 6, 3);
    REQUIRE(weather);
    StayQuestion q;
    q.month = random.below(12);
    q.every = 3;
    q.longest_days = 1 + random.below(15);
    const std::array plants{*plant_of(d, d->promise.bank_age)};
    const Surroundings around(d, *weather);
    const auto stays = simulate(around, q, plants);
    const double simulated = double(lasting(stays, 0, double(q.longest_days) * day).value);
    const double at_best = double(lasting_at_best(least_store(around, q), plants[0]));
    CAPTURE(i);
    CHECK(at_best >= simulated);
    some += simulated > 0.0 && simulated < 1.0;
    close += at_best < 1.0 && simulated > 0.0;
  }
  CHECK(some > 10);  // the law was asked where it can fail
  CHECK(close > 5);
}

TEST_CASE("where nothing is lost the bound is the answer of the sequent-peak method") {
  // One day's use of 24 · 50 W from dusk, no sun, no driving: each stay of n days lacks n · 1.2 kWh.
  const Camp camp(bank + panel + at("hobart") +
                  appliance("Lamp", "power = \"50 W\"\non = \"panel\""));
  const auto weather = weather_of(camp.design(), 2, 1);
  REQUIRE(weather);
  StayQuestion q;
  q.month = 5;
  q.longest_days = 4;
  const auto store = least_store(Surroundings(camp.design(), *weather), q);
  REQUIRE(store.below_arrival.size() == 60);
  for (const Energy& e : store.below_arrival) CHECK(e / watt_hour == doctest::Approx(4.0 * 1200.0));
  for (const Energy& e : store.below_highest) CHECK(e / watt_hour == doctest::Approx(4.0 * 1200.0));
}

}  // namespace laws_least_store

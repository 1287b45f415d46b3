// SPDX-License-Identifier: Apache-2.0
// Laws of a stay, start by start, on random designs without a box, whose cells are as warm as the
// air whatever else happens, and whose batteries draw nothing themselves: more bank, more sun and less
// load never shorten it, age never lengthens it.
#include <doctest/doctest.h>

#include <algorithm>
#include <fmt/format.h>

#include "energy/camp.hpp"
#include "energy/hours.hpp"
#include "housepower/energy/stay.hpp"

namespace laws_stay_laws {
namespace {

using namespace camp;
using namespace housepower::energy;
using energy::test::Random;

/// A design, and the numbers that the laws move.
struct Numbers {
  int batteries, modules;
  double module_W, load_W, lights_A, shade;
  std::string more;  // what stays
};
Numbers random_numbers(Random& random) {
  constexpr const char* towns[] = {"hobart", "vienna", "brisbane", "calgary"};
  Numbers n{1 + random.below(4),         1 + random.below(4),      random.between(80.0, 250.0),
            random.between(10.0, 120.0), random.between(0.5, 6.0), random.between(0.0, 0.8),
            at(towns[random.below(4)])};
  n.more += fmt::format("[promise]\narrive_at = \"{:.0f} %\"\nreserve = \"{:.0f} %\"\n",
                        random.between(60.0, 100.0), random.between(0.0, 25.0));
  if (random.one_in(2))
    n.more += fmt::format("[travel]\nmains_nights = {}\n[[charger]]\nname = \"shore\"\n"
                          "kind = \"mains\"\ncurrent = \"{:.1f} A\"\n",
                          random.below(3), random.between(5.0, 30.0));
  return n;
}
std::string text_of(const Numbers& n) {
  std::string text = van::with(bank, "quantity = 2", fmt::format("quantity = {}", n.batteries));
  std::string array = van::with(roof, "modules = 2", fmt::format("modules = {}", n.modules));
  array = van::with(array, "200 W", fmt::format("{:.3f} W", n.module_W));
  array = van::with(array, "to = ", fmt::format("shade = \"{:.3f} %\"\nto = ", 100.0 * n.shade));
  const std::string fridge = fmt::format("power = \"{:.3f} W\"\non = \"panel\"\nduty = \"35 %\"\n"
                                         "duty_per_kelvin = \"3 %\"\nduty_at = \"22 °C\"\n"
                                         "per_day = \"24 h\"",
                                         n.load_W);
  const std::string lights = fmt::format("current = \"{:.3f} A\"\non = \"panel\"\n"
                                         "between = [\"18:00-22:00\"]\ndays_of_seven = 5",
                                         n.lights_A);
  return text + panel + array + n.more + appliance("Fridge", fridge) + appliance("Lights", lights);
}

Stays stays(const design::Design& design, int month, std::span<const kernel::Plant> plants) {
  const auto weather = weather_of(design, 5, 3);
  REQUIRE(weather);
  StayQuestion q;
  q.month = month, q.every = 3, q.longest_days = 25;
  return simulate(Surroundings(design, *weather), q, plants);
}
Stays stays(const design::Design& design, int month) {
  const std::array plants{*plant_of(design, design->promise.bank_age)};
  return stays(design, month, plants);
}

struct Compared {
  int shorter = 0, longer = 0;
  double worst_h = 0.0;
};
/// The second ones against the first ones.
void compare(const Stays& first, const Stays& second, Compared& all) {
  REQUIRE(first.all.size() == second.all.size());
  for (std::size_t i = 0; i < first.all.size(); ++i) {
    const double more = second.all[i].lasted_h - first.all[i].lasted_h;
    all.shorter += more<0.0, all.longer += more> 1e-6;
    all.worst_h = std::max(all.worst_h, -more);
  }
}

template <class F> Compared moved(unsigned long seed, F move) {
  Random random(seed);
  Compared all;
  for (int i = 0; i < 40; ++i) {
    Numbers n = random_numbers(random);
    const int month = random.below(12);
    const Stays before = stays(Camp(text_of(n)).design(), month);
    move(n, random);
    compare(before, stays(Camp(text_of(n)).design(), month), all);
  }
  MESSAGE(all.longer << " stays longer, " << all.shorter << " shorter, at worst by " << all.worst_h
                     << " h");
  return all;
}

void never_shorter(const Compared& all) {
  CHECK(all.longer > 100);
  CHECK(all.worst_h <= 1e-9);
}

TEST_CASE("more batteries never shorten a stay") {
  never_shorter(moved(1, [](Numbers& n, Random& random) { n.batteries += 1 + random.below(3); }));
}
TEST_CASE("more modules never shorten a stay") {
  never_shorter(moved(2, [](Numbers& n, Random& random) { n.modules += 1 + random.below(3); }));
}
TEST_CASE("larger modules never shorten a stay") {
  never_shorter(
      moved(3, [](Numbers& n, Random& random) { n.module_W *= 1.0 + random.between(0.001, 0.3); }));
}
TEST_CASE("less shade never shortens a stay") {
  never_shorter(moved(4, [](Numbers& n, Random& random) { n.shade *= random.between(0.0, 0.9); }));
}
TEST_CASE("a smaller load never shortens a stay") {
  never_shorter(
      moved(5, [](Numbers& n, Random& random) { n.load_W *= random.between(0.5, 0.999); }));
  never_shorter(
      moved(6, [](Numbers& n, Random& random) { n.lights_A *= random.between(0.5, 0.999); }));
}

TEST_CASE("more sun or less load than thought, or a younger bank, never shorten a stay") {
  Random random(7);
  Compared by_sun, by_load, by_age;
  for (int i = 0; i < 60; ++i) {
    const Camp camp(text_of(random_numbers(random)));
    const auto& d = camp.design();
    const Duration age = random.between(0.0, 12.0) * year;
    const std::array plants{*plant_of(d, age),
                            *plant_of(d, age, {1.0 + random.between(0.0, 0.2), 1.0}),
                            *plant_of(d, age, {1.0, 1.0 - random.between(0.0, 0.2)}),
                            *plant_of(d, age * random.between(0.0, 1.0))};
    const Stays all = stays(d, random.below(12), plants);
    const auto of = [&](int plant) {
      Stays one = all;
      one.all.clear();
      for (std::size_t k = std::size_t(plant); k < all.all.size(); k += plants.size())
        one.all.push_back(all.all[k]);
      return one;
    };
    compare(of(0), of(1), by_sun), compare(of(0), of(2), by_load), compare(of(0), of(3), by_age);
  }
  never_shorter(by_sun), never_shorter(by_load), never_shorter(by_age);
}

TEST_CASE("where an earlier arrival has as much left at 16:00, the later one ends no later") {
  // From then on both go the same way, the earlier one with more in the bank: counted from their own
  // arrivals the later stay is shorter by the hours between at least.
  Random random(8);
  int held = 0, shorter = 0;
  for (int i = 0; i < 40; ++i) {
    const Camp camp(text_of(random_numbers(random)));
    const auto& d = camp.design();
    const auto weather = weather_of(d, 5, 3);
    REQUIRE(weather);
    const Surroundings around(d, *weather);
    kernel::Plant parked = *plant_of(d, d->promise.bank_age);
    parked.others_factor = 0.0;
    StayQuestion q;
    q.month = random.below(12), q.every = 3, q.longest_days = 25;
    const int earlier = random.below(16);
    q.arrives = 16;
    const Stays late = simulate(around, q, {&parked, 1});
    q.arrives = earlier;
    const Stays early = simulate(around, q, {&parked, 1});
    const auto nothing = around.others({}, q.longest_days, 0);
    for (int year_ = 0; year_ < early.years; ++year_) {
      Buffers b;
      around.fill(year_, month_begins[std::size_t(q.month)], 31 + q.longest_days, b);
      for (int start = 0; start < early.starts; ++start) {
        auto hours = b.hours(nothing, around.patterns());
        hours.phase = (year_ * early.starts + start) % 7;
        std::vector<double> shares(std::size_t(16 - earlier));
        kernel::trace(hours, start * q.every * 24 + earlier, parked, shares);
        const double of_early = early.at(year_, start, 0).lasted_h;
        const double of_late = late.at(year_, start, 0).lasted_h;
        if (shares.back() < parked.arrive || of_early < 16 - earlier) continue;
        ++held, shorter += of_early < 600.0;
        CHECK(of_late <=
              std::max(of_early - (16 - earlier), of_early >= 600.0 ? 600.0 : 0.0) + 1e-6);
      }
    }
  }
  MESSAGE(held << " starts, " << shorter << " of them end");
  CHECK(held > 300);
  CHECK(shorter > 50);
}

TEST_CASE("without sun and with a steady load the hour of arrival changes no length") {
  const Camp camp(bank + panel + at("hobart") +
                  appliance("Detector", "power = \"40 W\"\non = \"panel\""));
  const auto weather = weather_of(camp.design(), 2, 1);
  std::array plants{*plant_of(camp.design(), 10.0 * year)};
  plants[0].empty.fill(0.1);  // whatever the cold
  for (auto& row : plants[0].loss) row.fill(0.0);
  StayQuestion q;
  q.month = 6, q.every = 5;
  std::vector<double> lengths;
  for (q.arrives = 0; *q.arrives < 24; ++*q.arrives)
    for (const auto& o : simulate(Surroundings(camp.design(), *weather), q, plants).all)
      lengths.push_back(o.lasted_h);
  const auto [least, most] = std::minmax_element(lengths.begin(), lengths.end());
  CHECK(*most - *least < 1e-6);
}

TEST_CASE("less that arrives from the chargers never lengthens a stay") {
  Random random(9);
  Compared all;
  for (int i = 0; i < 40; ++i) {
    Numbers n = random_numbers(random);
    n.more = at("hobart") +
             fmt::format("[travel]\ndriving = \"{:.1f} h\"\nevery = \"{} d\"\n[[charger]]\n"
                         "name = \"drive\"\nkind = \"dc-dc\"\ncurrent = \"30 A\"\n",
                         random.between(0.5, 4.0), 1 + random.below(3));
    const Camp camp(text_of(n));
    const auto& d = camp.design();
    const auto weather = weather_of(d, 5, 3);
    const std::array plants{*plant_of(d, d->promise.bank_age)};
    StayQuestion q;
    q.month = random.below(12), q.every = 3, q.longest_days = 25;
    const Current more = random.between(0.0, 30.0) * ampere, less = more * random.between(0.0, 1.0);
    const auto with = [&](Current current) {
      return simulate(Surroundings(d, *weather, {}, {{0, "drive", current, ""}}), q, plants);
    };
    compare(with(less), with(more), all);
  }
  never_shorter(all);
}

}  // namespace

}  // namespace laws_stay_laws

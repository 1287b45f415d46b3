// SPDX-License-Identifier: Apache-2.0
// From which hour a stay counts, its nights, the week's phase, parked beside travel, and what is told
// of a length. Lengths without sun are sums by hand.
#include "camp.hpp"
#include "hours.hpp"
#include "housepower/energy/stay.hpp"

namespace energy_arrival {
namespace {

using namespace camp;
using namespace housepower::energy;
using energy::test::Random;

/// New, nights above 25 °C (Broome, January), down to 10 %: of 2560 Wh the bank gives 2304.
std::string warm(const std::string& arrives) {
  return bank + panel + at("broome", "month = \"january\"") +
         "[promise]\nbank_age = \"0 y\"\narrive_at = \"100 %\"\nreserve = \"10 %\"\n" +
         "arrive_time = \"" + arrives + "\"\n";
}
std::string steady_load(double watts, const std::string& name = "Detector") {
  return appliance(name, "power = \"" + std::to_string(watts) + " W\"\non = \"panel\"");
}

Stays stays_of(const design::Design& d, StayQuestion q = {}) {
  const auto weather = *weather_of(d, 7, 1);
  std::array plants{*plant_of(d, d->promise.bank_age)};
  plants[0].empty.fill(double(d->promise.reserve));  // as in the warm, however cool a night is
  return simulate(Surroundings(d, weather), q, plants);
}

/// What the bank loses by itself and in its resistance in three days.
constexpr double losses = 0.015;

// ---- Arrival and nights ----

TEST_CASE("an arrival within an hour counts as the later one, and the last of the day is 23") {
  struct Row {
    const char* time;
    int hour;
  };
  for (const Row row :
       {Row{"00:00", 0}, {"16:00", 16}, {"16:01", 17}, {"16:59", 17}, {"23:30", 23}})
    CHECK(arrival_hour(Camp(warm(row.time)).design()) == row.hour);
  CHECK(arrival_hour(Camp(bank).design()) == 16);  // unless it is stated
}

TEST_CASE("without sun a stay from midnight and one from 16:00 last what their hours take") {
  // 16 W all day and a lamp of 100 W from 18 to 22 h: 784 Wh in 24 h. Two days leave 736 of 2304 Wh.
  const std::string loads =
      steady_load(16.0) + appliance("Lamp", "power = \"100 W\"\non = \"panel\"\n"
                                            "between = [\"18:00-22:00\"]");
  // From 0 h: 18 h take 288, the last 448 go at 116 W in 3.86 h: 48 + 18 + 3.86 h.
  const Stays midnight = stays_of(Camp(warm("00:00") + loads).design());
  // From 16 h: 2 h take 32, the lamp's 4 h take 464, the last 240 go at 16 W in 15 h: 48 + 6 + 15 h.
  const Stays four = stays_of(Camp(warm("16:00") + loads).design());
  for (const auto& o : midnight.all) CHECK(o.lasted_h == doctest::Approx(69.86).epsilon(losses));
  for (const auto& o : four.all) CHECK(o.lasted_h == doctest::Approx(69.0).epsilon(losses));
  CHECK(nights(69.86 * hour, 0) == 2);
  CHECK(nights(69.0 * hour, 16) == 3);  // after 8, 32 and 56 h
}

TEST_CASE("a night is a midnight passed") {
  CHECK(nights(7.9 * hour, 16) == 0);
  CHECK(nights(8.0 * hour, 16) == 1);
  CHECK(nights(1.0 * day, 16) == 1);
  CHECK(nights(2.5 * day, 16) == 3);
  CHECK(nights(30.0 * day, 16) == 30);
  CHECK(nights(23.9 * hour, 0) == 0);
  CHECK(nights(3.0 * day, 0) == 3);
}

// ---- The week's phase ----

TEST_CASE("what is used on one day of seven shortens the stays in which that day comes") {
  // 32 W: 72 h without the heater. Its 300 W from 18 to 22 h take 1200 Wh on one day of the week.
  // On day 0 or 1 of a stay: (2304 − 1200) / 32 = 34.5 h. On day 2: 50 h take 1600 Wh, the last 704
  // go at 332 W in 2.12 h: 52.12 h. On a later one: 72 h. Of seven phases 2, 1 and 4.
  const std::string loads =
      steady_load(32.0) + appliance("Heater", "power = \"300 W\"\non = \"panel\"\n"
                                              "between = [\"18:00-22:00\"]\ndays_of_seven = 1");
  const Stays s = stays_of(Camp(warm("16:00") + loads).design());
  REQUIRE(s.all.size() == 7 * 31);  // each phase 31 times
  int short_ = 0, middle = 0, long_ = 0;
  for (const auto& o : s.all) {
    short_ += std::abs(o.lasted_h - 34.5) < 34.5 * losses;
    middle += std::abs(o.lasted_h - 52.12) < 52.12 * losses;
    long_ += std::abs(o.lasted_h - 72.0) < 72.0 * losses;
  }
  CHECK(short_ == 2 * 31);
  CHECK(middle == 31);
  CHECK(long_ == 4 * 31);
  CHECK(reached(s, 0, 0.9) / hour == doctest::Approx(34.5).epsilon(losses));
  CHECK(reached(s, 0, 0.7) / hour == doctest::Approx(52.12).epsilon(losses));
  CHECK(reached(s, 0, 0.5) / hour == doctest::Approx(72.0).epsilon(losses));
}

// ---- Parked, and with the travel that is stated ----

TEST_CASE("parked is the stay without what is stated to charge, and no longer than with it") {
  const std::string van_ = warm("16:00") + steady_load(32.0) +
                           "[[charger]]\nname = \"drive\"\nkind = \"dc-dc\"\ncurrent = \"20 A\"\n";
  // 20 A bring 256 Wh an hour; 2 h on day 2, from hour 41 on: 512 − 2 · 32 Wh more, so 16 h longer.
  const Camp driven(van_ + "[travel]\ndriving = \"2 h\"\nevery = \"2 d\"\n"), stands(van_);
  const auto answer_of = [](const Camp& c) {
    const auto weather = *weather_of(c.design(), 12, 1);
    return *stay(c.design(), Surroundings(c.design(), weather), {0, 30, 5});
  };
  const StayAnswer with = answer_of(driven), without = answer_of(stands);
  CHECK(with.travels);
  CHECK_FALSE(without.travels);
  CHECK(with.first_charge.value() / hour == about(41.0));
  CHECK(with.parked.met / hour == doctest::Approx(72.0).epsilon(losses));
  CHECK(with.parked.met == without.met);
  CHECK(without.parked.met == without.met);
  CHECK(with.met / hour == doctest::Approx(72.0 + 16.0).epsilon(2.0 * losses));
}

TEST_CASE("the shortest in a hundred is told beside the chance") {
  // 200 stays of 1, 2, … 200 h: one in a hundred ends before the third, one in ten before the 21st.
  Stays s{200, 1, 1, 30, {}};
  for (int i = 1; i <= 200; ++i) {
    kernel::Outcome o;
    o.lasted_h = i, o.ended = true;
    s.all.push_back(o);
  }
  CHECK(reached(s, 0, 1.0 - double(worst_share)) / hour == about(3.0));
  CHECK(reached(s, 0, 0.9) / hour == about(21.0));
}

TEST_CASE("unlimited is said only where every start outlasts, also with less sun and more use") {
  int unlimited = 0, nine_in_ten = 0;
  for (double watts = 10.0; watts < 90.0; watts += 5.0) {
    CAPTURE(watts);
    const Camp c(bank + panel + roof + at("alice-springs", "month = \"june\"") +
                 steady_load(watts, "Fridge"));
    const auto& d = c.design();
    const auto weather = *weather_of(d, 20, 1);
    const Surroundings around(d, weather);
    const StayQuestion q{5, 30, 3};
    const auto answer = *stay(d, around, q);
    const std::array plants{
        *plant_of(d, d->promise.bank_age),
        *plant_of(d, d->promise.bank_age, {1.0 - double(input_doubt), 1.0 + double(load_doubt)})};
    const auto all = simulate(around, q, plants).all;
    const bool ends =
        std::any_of(all.begin(), all.end(), [](const auto& o) { return o.lasted_h < 719.999; });
    CHECK(answer.unlimited == !ends);
    unlimited += answer.unlimited;
    nine_in_ten += answer.met >= answer.longest && !answer.unlimited;
  }
  CHECK(unlimited > 0);  // or this asked nothing
  CHECK(nine_in_ten > 0);
}

// ---- What is told ----

TEST_CASE("a length is told in half days, rounded down, and the range about it outward") {
  // 2.9 d, sampled 2.8 to 3.0, doubted 2.3 to 3.3: 2.5 d, could be 2 to 3.5.
  Lasting l;
  l.met = 2.9 * day, l.first_percentile = 1.7 * day;
  l.sampling = {2.8 * day, 3.0 * day};
  l.doubt = {2.3 * day, 3.3 * day};
  Told t = told(l, 30.0 * day, 16);
  CHECK(t.length / day == about(2.5));
  CHECK_FALSE(t.at_lower_end);
  CHECK(t.could_be[0] / day == about(2.0));
  CHECK(t.could_be[1] / day == about(3.5));
  CHECK(t.first_percentile / day == about(1.5));
  CHECK(t.nights == 3);
  // Sampled 2.4 to 3.4, wider than half a day: its lower end is told.
  l.sampling = {2.4 * day, 3.4 * day};
  t = told(l, 30.0 * day, 16);
  CHECK(t.length / day == about(2.0));
  CHECK(t.at_lower_end);
  CHECK(t.could_be[0] / day == about(2.0));
  // As long as is simulated.
  l.met = 30.0 * day, l.sampling = {30.0 * day, 30.0 * day}, l.doubt = {30.0 * day, 30.0 * day};
  CHECK(told(l, 30.0 * day, 16).or_more);
}

TEST_CASE("what is told lies in its range and never above the point") {
  Random random(21);
  for (int i = 0; i < 5000; ++i) {
    Lasting l;
    l.met = random.between(0.0, 30.0) * day;
    l.first_percentile = l.met * random.between(0.0, 1.0);
    if (!random.one_in(4))
      l.sampling = {l.met * random.between(0.5, 1.0),
                    std::min(Duration(30.0 * day), Duration(l.met * random.between(1.0, 1.5)))};
    l.doubt = {l.met * random.between(0.5, 1.0),
               std::min(Duration(30.0 * day), Duration(l.met * random.between(1.0, 1.5)))};
    const Told t = told(l, 30.0 * day, random.below(24));
    CHECK(t.length <= l.met + 1e-3 * second);
    CHECK(t.could_be[0] <= t.length);
    CHECK(t.length <= t.could_be[1]);
    CHECK(t.could_be[0] <= l.doubt[0] + 1e-3 * second);
    CHECK(t.could_be[1] >= l.doubt[1] - 1e-3 * second);
    const double halves = t.length / day * 2.0;
    CHECK(std::abs(halves - std::round(halves)) < 1e-9);
  }
}

TEST_CASE("travel is never told as shorter than parked") {
  StayAnswer a;
  a.longest = 30.0 * day, a.arrives = 16;
  a.parked.met = 3.1 * day, a.parked.sampling = {2.9 * day, 3.3 * day};  // narrow: 3.0
  a.parked.doubt = {2.5 * day, 3.6 * day};
  a.met = 3.3 * day, a.sampling = {2.9 * day, 3.6 * day};  // wide: 2.5 alone
  a.doubt = {2.6 * day, 3.9 * day};
  CHECK(told(a).parked.length / day == about(3.0));
  CHECK(told(a).travelled.length / day == about(3.0));
  CHECK(told(a).travelled.could_be[0] <= told(a).travelled.length);
}

}  // namespace

}  // namespace energy_arrival

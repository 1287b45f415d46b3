// SPDX-License-Identifier: Apache-2.0
// What a plot of stays shows is the simulation that `stay` answers from.
#include "housepower/energy/stays_seen.hpp"

#include <algorithm>

#include "camp.hpp"

namespace energy_stays_seen {
namespace {

using namespace camp;
using namespace housepower::energy;

/// Promised as long as the longest stay, so that each trace shows all of it.
const std::string thirsty =
    bank + roof + at("hobart") +
    "[promise]\nstay = \"30 d\"\n"
    "[[charger]]\nname = \"drive charger\"\nkind = \"dc-dc\"\ncurrent = \"20 A\"\n"
    "[travel]\ndriving = \"2 h\"\nevery = \"3 d\"\n" +
    panel + appliance("Fridge", "power = \"45 W\"\nduty = \"60 %\"\non = \"panel\"") +
    appliance("Heater", "power = \"60 W\"\non = \"panel\"\nper_day = \"6 h\"\n"
                        "days_of_seven = 3");

struct Asked {
  Camp camp{thirsty};
  Weather weather = *weather_of(camp.design(), 12, 1);
  Surroundings around{camp.design(), weather};
  StayQuestion question;
  StaysSeen seen;
  Stays stays;
  explicit Asked(int month) {
    question.month = month;
    question.every = 4;
    seen = *stays_seen(camp.design(), around, question);
    const std::array plants{*plant_of(camp.design(), camp.design()->promise.bank_age)};
    stays = simulate(around, question, plants);
  }
  [[nodiscard]] const kernel::Outcome& outcome(const StayTrace& t) const {
    return stays.at(t.year, (t.arrives - 1) / question.every, 0);
  }
};

}  // namespace

TEST_CASE("a trace is its stay hour by hour: the same lowest and the same last charge") {
  for (const int month : {0, 6, 11}) {
    const Asked a(month);
    for (const StayTrace* t : {&a.seen.worst, &a.seen.typical}) {
      const auto& o = a.outcome(*t);
      REQUIRE(t->charge.size() == 30 * 24);
      double lowest = 1.0;
      for (const auto& share : t->charge) lowest = std::min(lowest, double(share));
      CHECK(lowest == o.lowest);
      const double capacity = o.at_start_Wh / double(a.camp.design()->promise.arrive_at);
      CHECK(double(t->charge.back()) == doctest::Approx(o.charge_Wh / capacity).epsilon(1e-12));
      CHECK(t->lasted / hour == doctest::Approx(o.lasted_h).epsilon(1e-12));
      CHECK(t->ended == o.ended);
    }
  }
}

TEST_CASE("no stay is shorter than the worst, and half last as long as the typical one") {
  const Asked a(6);
  CHECK(a.seen.lengths.size() == a.stays.all.size());
  std::size_t as_long = 0;
  for (const auto& length : a.seen.lengths) {
    CHECK(length >= a.seen.worst.lasted);
    as_long += length >= a.seen.typical.lasted;
  }
  CHECK(2 * as_long >= a.seen.lengths.size());
  CHECK(a.seen.worst.ended);  // or this van tells nothing
  CHECK(a.seen.worst.lasted < a.seen.typical.lasted);
}

TEST_CASE("without a bank there is no stay to see") {
  const Camp c("schema = 1\n[vehicle]\nname = \"camp\"\nsystem_voltage = \"12 V\"\n[rules]\n"
               "profile = \"au-nz-caravan\"\n" +
               at("hobart"));
  const auto weather = *weather_of(c.design(), 2, 1);
  CHECK_FALSE(stays_seen(c.design(), Surroundings(c.design(), weather), {}).has_value());
}

}  // namespace energy_stays_seen

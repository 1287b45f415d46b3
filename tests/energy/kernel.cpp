// SPDX-License-Identifier: Apache-2.0
// The hourly kernel against a second one, written plainly from what its header says; against sums
// by hand; and its bookkeeping of energy.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "energy/hours.hpp"
#include "housepower/energy/kernel_lanes.hpp"

namespace energy_kernel {
namespace {

using namespace housepower::energy::kernel;
using namespace housepower::energy::test;

/// The same hours, one after another, as one would write them without thinking of speed.
Outcome obvious(const Hours& h, int first, int hours, const Plant& p) {
  Outcome o;
  double charge = p.capacity_Wh * p.arrive, cells = h.air_C[std::size_t(first)];
  o.at_start_Wh = charge, o.lasted_h = hours;
  bool heating = false, surplus_today = false, shut_out_today = true;
  for (int t = 0; t < hours; ++t) {
    const auto at = std::size_t(first + t);
    const auto row = std::size_t(std::clamp(std::floor(cells) + 40.0, 0.0, 120.0));
    const auto column =
        std::size_t(std::clamp(std::floor(charge / p.capacity_Wh * 20.0), 0.0, 20.0));
    const double share = charge / p.capacity_Wh, loss = p.loss[row][column];
    const double others =
        share < p.rests_by_others ? h.others_W[std::size_t(t)] * p.others_factor : 0.0;
    const double offered = (share < p.rests_by_sun ? h.sun_W[at] * p.sun_factor : 0.0) + others;
    const int midnights = (first + t) / 24 - first / 24;  // since arrival
    const auto pattern = std::size_t(h.patterns == 7 ? (h.phase + midnights) % 7 : 0);
    const double load = h.load_W[pattern][at] * p.load_factor, air = h.air_C[at];

    if (cells < p.heater_on_C) heating = true;
    if (cells >= p.heater_off_C - 1e-9) heating = false;
    const double unheated = air + (cells - air) * p.decay;
    double heat = heating && p.rise_K_W > 0.0 ? (p.heater_off_C - unheated) / p.rise_K_W : 0.0;
    heat = std::min(std::max(heat, 0.0), p.heater_W);
    if (!p.heater_by_bank) heat = std::min(heat, offered);

    double stored = 0.0, into = 0.0, drawn = 0.0, served = 0.0, unserved = 0.0;
    double spilled = 0.0, in_time = 1.0;
    if (offered > load + heat) {
      double accepts = p.accepts_W[row];
      if (share > p.tail_from && p.tail_W < accepts)
        accepts -=
            (accepts - p.tail_W) * std::min(1.0, (share - p.tail_from) / (1.0 - p.tail_from));
      const double full = (others > 0.0 ? p.full_by_others : p.full_by_sun) * p.capacity_Wh;
      const double surplus = offered - load - heat;
      stored = std::min({surplus * p.stored_share, accepts, std::max(full - charge, 0.0)});
      into = stored / p.stored_share, spilled = surplus - into;
      surplus_today = surplus_today || surplus > 1e-9;
      if (stored > 0.0 || p.accepts_W[row] > 0.0) shut_out_today = false;
    } else {
      const double need = load + heat - offered, give = std::min(need, p.discharge_W);
      const double take = give + give * give * loss;
      const double have = std::max(charge - p.empty[row] * p.capacity_Wh, 0.0);
      const double part = take > have ? have / take : 1.0;
      drawn = take * part, served = give * part, unserved = need - served;
      in_time = give < need ? 0.0 : part;
    }
    if (unserved > 1e-9 * (load + heat) && !o.ended) o.ended = true, o.lasted_h = t + in_time;
    const double kept = (charge + stored - drawn) * p.kept_an_hour;
    const double selfdischarged = charge + stored - drawn - kept;
    const double warmth = drawn - served + std::min(into - stored, stored * stored * loss);
    const double heated =
        p.heater_by_bank ? heat * (1.0 - unserved / std::max(load + heat, 1e-300)) : heat;
    charge = kept, cells = unheated + p.rise_K_W * (warmth + heated);

    o.gathered += offered, o.spilled += spilled, o.asked += load + heat, o.unserved += unserved;
    o.heated += heated, o.lost += into - stored + drawn - served + selfdischarged;
    o.lowest = std::min(o.lowest, charge / p.capacity_Wh);
    o.highest = std::max(o.highest, charge / p.capacity_Wh);
    if (o.full_h < 0.0 && charge >= nearly_full * p.capacity_Wh) o.full_h = t + 1.0;
    o.coldest_C = std::min(o.coldest_C, cells), o.hottest_C = std::max(o.hottest_C, cells);
    if ((first + t) % 24 == 23 || t + 1 == hours) {  // the day of arrival only where it is whole
      o.days_shut_out += t + 1 >= 24 && surplus_today && shut_out_today;
      surplus_today = false, shut_out_today = true;
    }
  }
  o.charge_Wh = charge;
  return o;
}

Outcome run_one(const Hours& h, const Plant& p, int hours, int first = 0,
                bool until_empty = false) {
  Outcome o;
  run(h, first, hours, {&p, 1}, {&o, 1}, until_empty);
  return o;
}

double throughput(const Outcome& o) { return o.at_start_Wh + o.gathered + o.asked; }

void same_to_rounding(const Outcome& a, const Outcome& b) {
  const double energy = 1e-12 * throughput(a), one = 1e-12, celsius = 1e-12 * 100.0;
  CHECK(std::abs(a.lasted_h - b.lasted_h) <= one * 720.0);
  CHECK(a.ended == b.ended);
  for (const auto each :
       {&Outcome::charge_Wh, &Outcome::at_start_Wh, &Outcome::gathered, &Outcome::spilled,
        &Outcome::asked, &Outcome::unserved, &Outcome::heated, &Outcome::lost})
    CHECK(std::abs(a.*each - b.*each) <= energy);
  CHECK(std::abs(a.lowest - b.lowest) <= one);
  CHECK(std::abs(a.highest - b.highest) <= one);
  CHECK(a.full_h == b.full_h);
  CHECK(a.days_shut_out == b.days_shut_out);
  CHECK(std::abs(a.coldest_C - b.coldest_C) <= celsius);
  CHECK(std::abs(a.hottest_C - b.hottest_C) <= celsius);
}

bool same_bits(const Outcome& a, const Outcome& b) {
  return a.lasted_h == b.lasted_h && a.ended == b.ended && a.charge_Wh == b.charge_Wh &&
         a.at_start_Wh == b.at_start_Wh && a.lowest == b.lowest && a.highest == b.highest &&
         a.full_h == b.full_h && a.gathered == b.gathered && a.spilled == b.spilled &&
         a.asked == b.asked && a.unserved == b.unserved && a.heated == b.heated &&
         a.lost == b.lost && a.days_shut_out == b.days_shut_out && a.coldest_C == b.coldest_C &&
         a.hottest_C == b.hottest_C;
}

TEST_CASE("random plants in random hours: the same as an obvious implementation, to 1e-12") {
  Random random(11);
  int ended = 0, lasted = 0, heated = 0, shut_out = 0, full = 0, lossy = 0;
  for (int i = 0; i < 600; ++i) {
    CAPTURE(i);
    const Series series = random_series(random, 33);
    const Plant plant = random_plant(random);
    const int first = random.below(73);
    Hours hours = series.hours();
    hours.phase = random.below(7);
    const Outcome ours = run_one(hours, plant, 720, first);
    same_to_rounding(obvious(hours, first, 720, plant), ours);
    (ours.ended ? ended : lasted) += 1;
    heated += ours.heated > 0.0, shut_out += ours.days_shut_out > 0;
    full += ours.full_h >= 0.0, lossy += ours.lost > 0.0;
  }
  MESSAGE("ended " << ended << ", lasted " << lasted << ", heated " << heated << ", shut out "
                   << shut_out << ", as good as full " << full << ", with losses " << lossy);
  // Random plants that never come to a feature would prove nothing of it.
  for (const int seen : {ended, lasted, heated, shut_out, full, lossy}) CHECK(seen >= 30);
}

TEST_CASE("several plants at once are what they are one by one, bit for bit") {
  Random random(12);
  for (const std::size_t together : {2u, 3u, 4u, 5u, 7u})
    for (int round = 0; round < 20; ++round) {
      const Series series = random_series(random, 30);
      std::vector<Plant> plants;
      for (std::size_t i = 0; i < together; ++i) plants.push_back(random_plant(random));
      std::vector<Outcome> outcomes(together);
      run(series.hours(), 0, 720, plants, outcomes);
      for (std::size_t i = 0; i < together; ++i)
        CHECK(same_bits(outcomes[i], run_one(series.hours(), plants[i], 720)));
    }
}

TEST_CASE("stays in wide registers are what they are one by one, bit for bit") {
  Random random(15);
  for (const int at_once : {1, 4, 8})
    for (const std::size_t together : {3u, 5u, 8u, 13u, 16u, 31u}) {
      const Series series = random_series(random, 40);
      std::vector<Plant> plants;
      for (std::size_t i = 0; i < together; ++i) plants.push_back(random_plant(random));
      std::vector<Outcome> outcomes(together), shorter(together);
      std::vector<Lane> lanes, again;
      for (std::size_t i = 0; i < together; ++i) {
        const int first = int(i % 9) * 24 + 15, phase = int(i % 7);
        lanes.push_back({&plants[i], &outcomes[i], first, phase});
        again.push_back({&plants[i], &shorter[i], first, phase});
      }
      run(series.hours(), 700, lanes, false, at_once);
      run(series.hours(), 700, again, true, at_once);
      for (std::size_t i = 0; i < together; ++i) {
        Outcome alone, alone_shorter;
        const Lane one{&plants[i], &alone, lanes[i].first, lanes[i].phase};
        const Lane other{&plants[i], &alone_shorter, lanes[i].first, lanes[i].phase};
        run(series.hours(), 700, {&one, 1});
        run(series.hours(), 700, {&other, 1}, true);
        CHECK(same_bits(outcomes[i], alone));
        CHECK(shorter[i].lasted_h == alone.lasted_h);
        CHECK(shorter[i].lowest == alone_shorter.lowest);
      }
    }
}

TEST_CASE("stays of one plant that begin day by day are what they are one by one, bit for bit") {
  Random random(16);
  for (const int at_once : {1, 4, 8})
    for (const std::size_t together : {2u, 5u, 7u, 11u, 16u, 25u, 31u})
      for (const int broken : {-1, 3}) {  // one that does not begin the day after
        const Series series = random_series(random, 66);
        const Plant plant = random_plant(random);
        std::vector<Outcome> outcomes(together), lengths(together);
        std::vector<Lane> lanes, again;
        for (std::size_t i = 0; i < together; ++i) {
          const int first = int(i) == broken ? 15 : int(i) * 24 + 15, phase = int(i + 3) % 7;
          lanes.push_back({&plant, &outcomes[i], first, phase});
          again.push_back({&plant, &lengths[i], first, phase});
        }
        run(series.hours(), 720, lanes, Until::end, at_once);
        run(series.hours(), 720, again, Until::lengths, at_once);
        for (std::size_t i = 0; i < together; ++i) {
          Outcome alone, sooner;
          const Lane one{&plant, &alone, lanes[i].first, lanes[i].phase};
          const Lane other{&plant, &sooner, lanes[i].first, lanes[i].phase};
          run(series.hours(), 720, {&one, 1});
          run(series.hours(), 720, {&other, 1}, Until::empty);
          CHECK(same_bits(outcomes[i], alone));
          CHECK(lengths[i].lasted_h == alone.lasted_h);
          CHECK(lengths[i].ended == alone.ended);
          CHECK(lengths[i].lowest == sooner.lowest);
          if (!alone.ended) CHECK(lengths[i].coldest_C == alone.coldest_C);
        }
      }
}

TEST_CASE("energy is kept to 1e-9 of what passed through, whatever the plant") {
  Random random(13);
  double worst = 0.0;
  for (int i = 0; i < 2000; ++i) {
    const Series series = random_series(random, 30);
    const Outcome o = run_one(series.hours(), random_plant(random), 720);
    worst = std::max(worst, std::abs(unbalanced_Wh(o)) / throughput(o));
    CHECK(o.spilled >= -1e-9 * throughput(o));
    CHECK(o.lost >= -1e-9 * throughput(o));
    CHECK(o.unserved >= -1e-9 * throughput(o));
    CHECK(o.unserved <= o.asked * (1.0 + 1e-12));
    CHECK(o.heated <= o.asked * (1.0 + 1e-12));
  }
  MESSAGE("largest imbalance " << worst << " of the throughput");
  CHECK(worst <= 1e-9);
}

TEST_CASE("stopping when all are empty changes no length") {
  Random random(14);
  for (int round = 0; round < 60; ++round) {
    const Series series = random_series(random, 30);
    std::vector<Plant> plants;
    for (int i = 0; i < 5; ++i) plants.push_back(random_plant(random));
    std::vector<Outcome> all(5), sooner(5);
    run(series.hours(), 0, 720, plants, all);
    run(series.hours(), 0, 720, plants, sooner, true);
    for (std::size_t i = 0; i < 5; ++i) {
      CHECK(all[i].lasted_h == sooner[i].lasted_h);
      CHECK(all[i].ended == sooner[i].ended);
    }
  }
}

TEST_CASE("a week's pattern begins with its phase on the day of arrival and turns at midnight") {
  Random random(15);
  const Series series = random_series(random, 33, 7);
  const Plant plant = random_plant(random);
  for (const int first : {48, 48 + 16, 48 + 23})
    for (const int phase : {0, 5}) {
      Hours hours = series.hours();
      hours.phase = phase;
      Series spliced = series;
      spliced.patterns = 1;
      for (int at = first; at < first + 720; ++at)
        spliced.load_W[0][std::size_t(at)] =
            series.load_W[std::size_t((phase + at / 24 - 2) % 7)][std::size_t(at)];
      CHECK(same_bits(run_one(hours, plant, 720, first),
                      run_one(spliced.hours(), plant, 720, first)));
      // hour by hour for the eye it is the same stay
      std::vector<double> shares(720);
      trace(hours, first, plant, shares);
      CHECK(*std::min_element(shares.begin(), shares.end()) ==
            std::min(1.0, run_one(hours, plant, 720, first).lowest));
    }
}

// ---- By hand ----

/// 1000 Wh that neither lose nor refuse anything, in air of 20 °C.
Plant ideal() {
  Plant p;
  p.capacity_Wh = 1000.0;
  p.accepts_W.fill(1e30);
  return p;
}

TEST_CASE("without sun, self-discharge and losses a bank lasts usable energy over load") {
  for (const double load : {7.0, 37.0, 111.0, 990.0})
    for (const double kept_back : {0.0, 0.1, 0.25}) {
      Plant p = ideal();
      p.arrive = 0.9;
      p.empty.fill(kept_back);
      const Outcome o = run_one(steady(30, 0.0, load).hours(), p, 720);
      CHECK(o.ended);
      CHECK(o.lasted_h == doctest::Approx((0.9 - kept_back) * 1000.0 / load).epsilon(1e-12));
      CHECK(o.lowest == doctest::Approx(kept_back).epsilon(1e-12));
    }
}

TEST_CASE("arriving at 16:00, the pattern of the next day begins eight hours later") {
  // 1000 Wh; 100 W on the second day of the pattern only, nothing on the others.
  Plant p = ideal();
  Series s = steady(12, 0.0, 0.0);
  s.patterns = 7;
  for (auto& load : s.load_W) load.assign(12 * 24, 0.0);
  s.load_W[1].assign(12 * 24, 100.0);
  Hours hours = s.hours();
  // The day of arrival is the first: from midnight 1000 / 100 = 10 h.
  CHECK(run_one(hours, p, 240, 16).lasted_h == doctest::Approx(8.0 + 10.0).epsilon(1e-12));
  // It is the second: 8 h take 800 Wh; 200 are left for it a week later, after 8 + 6 · 24 h.
  hours.phase = 1;
  CHECK(run_one(hours, p, 240, 16).lasted_h == doctest::Approx(8.0 + 144.0 + 2.0).epsilon(1e-12));
}

TEST_CASE("a van that stands is charged by the sun alone") {
  // 100 W are used, 60 come from the sun, 30 from elsewhere: 1000 Wh last 100 h, or 25 h.
  Series s = steady(5, 60.0, 100.0);
  std::fill(s.others_W.begin(), s.others_W.end(), 30.0);
  Plant p = ideal();
  CHECK(run_one(s.hours(), p, 120).lasted_h == doctest::Approx(100.0).epsilon(1e-12));
  p.others_factor = 0.0;
  CHECK(run_one(s.hours(), p, 120).lasted_h == doctest::Approx(25.0).epsilon(1e-12));
}

TEST_CASE("cells in a box follow the air by an exponential law") {
  // From 20 °C into air of -10 °C with a time constant of 20 h; after 720 h nothing is left of it.
  Plant p = ideal();
  p.decay = std::exp(-1.0 / 20.0);
  Series s = steady(30, 0.0, 0.0);
  std::fill(s.air_C.begin() + 1, s.air_C.end(), -10.0);
  CHECK(run_one(s.hours(), p, 24).coldest_C ==
        doctest::Approx(-10.0 + 30.0 * std::exp(-23.0 / 20.0)).epsilon(1e-12));
  CHECK(run_one(s.hours(), p, 720).coldest_C == doctest::Approx(-10.0).epsilon(1e-12));
}

TEST_CASE("drawing 100 W with 1e-4 of loss a squared watt takes 101 W, and warms by 1 W") {
  Plant p = ideal();
  for (auto& row : p.loss) row.fill(1e-4);
  p.rise_K_W = 0.5;  // no decay: the cells are the air and what the hour's heat adds
  const Outcome o = run_one(steady(1, 0.0, 100.0).hours(), p, 5);
  CHECK(o.charge_Wh == doctest::Approx(1000.0 - 5.0 * 101.0).epsilon(1e-12));
  CHECK(o.lost == doctest::Approx(5.0).epsilon(1e-12));
  CHECK(o.hottest_C == doctest::Approx(20.0 + 0.5).epsilon(1e-12));
}

TEST_CASE("a source that ends below the bank's voltage feeds neither the bank nor the loads") {
  Plant p = ideal();
  p.arrive = 0.8;
  p.rests_by_sun = 0.5, p.full_by_sun = 0.5;
  // 150 W of sun, 100 W of load: from 80 % on the bank alone feeds it, down to 50 %.
  Outcome o = run_one(steady(1, 150.0, 100.0).hours(), p, 3);
  CHECK(o.charge_Wh == doctest::Approx(800.0 - 300.0).epsilon(1e-12));
  CHECK(o.gathered == 0.0);
  p.arrive = 0.4;  // below that it is a source: 50 W an hour are stored, as far as they fit
  o = run_one(steady(1, 150.0, 100.0).hours(), p, 2);
  CHECK(o.charge_Wh == doctest::Approx(500.0).epsilon(1e-12));
  CHECK(o.gathered == doctest::Approx(300.0).epsilon(1e-12));
}

TEST_CASE("what the cells refuse, what does not fit and what the batteries do not let out") {
  Plant p = ideal();
  p.arrive = 0.5;
  p.accepts_W.fill(80.0);
  p.stored_share = 0.8;
  // 150 W of sun, 80 W are stored and take 100 W; 50 W are spilled. Five hours store 400 Wh.
  Outcome o = run_one(steady(1, 150.0, 0.0).hours(), p, 5);
  CHECK(o.charge_Wh == doctest::Approx(900.0).epsilon(1e-12));
  CHECK(o.spilled == doctest::Approx(250.0).epsilon(1e-12));
  CHECK(o.lost == doctest::Approx(100.0).epsilon(1e-12));
  p.full_by_sun = 0.7;  // 200 Wh fit
  CHECK(run_one(steady(1, 150.0, 0.0).hours(), p, 5).charge_Wh ==
        doctest::Approx(700.0).epsilon(1e-12));
  p.discharge_W = 60.0;  // 100 W are asked: 60 W are served, and the stay ends at once
  o = run_one(steady(1, 0.0, 100.0).hours(), p, 2);
  CHECK(o.lasted_h == 0.0);
  CHECK(o.unserved == doctest::Approx(80.0).epsilon(1e-12));
  CHECK(o.charge_Wh == doctest::Approx(500.0 - 120.0).epsilon(1e-12));
}

TEST_CASE("towards full less is accepted: half way from 90 % half way down to the tail") {
  Plant p = ideal();
  p.arrive = 0.95;
  p.accepts_W.fill(60.0);
  p.tail_from = 0.9, p.tail_W = 20.0;
  CHECK(run_one(steady(1, 500.0, 0.0).hours(), p, 1).charge_Wh ==
        doctest::Approx(950.0 + 40.0).epsilon(1e-12));
}

TEST_CASE("a heater by charge has what the sun gives, one by the bank draws it down") {
  // Air and cells at 0 °C; a steady watt lifts the cells by 0.1 K an hour's step, without decay.
  Plant p = ideal();
  p.arrive = 0.5;
  p.rise_K_W = 0.1;
  p.heater_W = 200.0, p.heater_on_C = 2.0, p.heater_off_C = 5.0;
  Series s = steady(1, 30.0, 0.0);
  std::fill(s.air_C.begin(), s.air_C.end(), 0.0);
  Outcome o = run_one(s.hours(), p, 1);
  CHECK(o.hottest_C == doctest::Approx(3.0).epsilon(1e-12));  // 30 W
  CHECK(o.heated == doctest::Approx(30.0).epsilon(1e-12));
  CHECK(o.charge_Wh == doctest::Approx(500.0).epsilon(1e-12));
  p.heater_by_bank = true;
  o = run_one(s.hours(), p, 1);
  CHECK(o.hottest_C == doctest::Approx(5.0).epsilon(1e-12));  // 50 W bring them to where it ends
  CHECK(o.charge_Wh == doctest::Approx(480.0).epsilon(1e-12));
  CHECK(o.heated_until_ended == o.heated);
  CHECK(o.asked == doctest::Approx(50.0).epsilon(1e-12));  // there is no load but the heater
}

TEST_CASE("a heater warms nothing with what an empty bank does not give") {
  Plant p = ideal();
  p.arrive = 0.01;  // 10 Wh
  p.rise_K_W = 0.1;
  p.heater_W = 200.0, p.heater_on_C = 2.0, p.heater_off_C = 5.0;
  p.heater_by_bank = true;
  Series s = steady(1, 0.0, 0.0);
  std::fill(s.air_C.begin(), s.air_C.end(), 0.0);
  const Outcome o = run_one(s.hours(), p, 1);
  CHECK(o.unserved == doctest::Approx(40.0).epsilon(1e-12));
  CHECK(o.asked == doctest::Approx(50.0).epsilon(1e-12));
  CHECK(o.heated == doctest::Approx(10.0).epsilon(1e-12));
  CHECK(o.hottest_C == doctest::Approx(1.0).epsilon(1e-12));  // 10 of 50 Wh
  CHECK(o.heated_until_ended == 0.0);                         // it ended within its first hour
  // In = out: 10 Wh at the start are the 10 that were served; nothing is left, lost or spilled.
  CHECK(std::abs(unbalanced_Wh(o)) < 1e-9);
}

TEST_CASE("days without charge are those on which the cold let nothing in") {
  Plant p = ideal();
  p.arrive = 0.5;
  std::fill(p.accepts_W.begin(), p.accepts_W.begin() + 40, 0.0);  // below 0 °C
  Series s = steady(3, 0.0, 0.0);
  for (std::size_t d = 0; d < 3; ++d) s.sun_W[24 * d + 12] = 100.0;
  std::fill(s.air_C.begin(), s.air_C.begin() + 48, -0.5);
  const Outcome o = run_one(s.hours(), p, 72);
  CHECK(o.days_shut_out == 2);
  CHECK(o.charge_Wh == doctest::Approx(600.0).epsilon(1e-12));
  CHECK(o.spilled == doctest::Approx(200.0).epsilon(1e-12));
}

TEST_CASE("a bank is as good as full at the end of the hour in which it reaches 95 %") {
  Plant p = ideal();
  p.arrive = 0.5;
  CHECK(run_one(steady(1, 100.0, 0.0).hours(), p, 24).full_h == 5.0);  // 950 Wh … 4.5 h, 1000 Wh
  p.full_by_sun = 0.9;
  CHECK(run_one(steady(1, 100.0, 0.0).hours(), p, 24).full_h < 0.0);
}

}  // namespace

}  // namespace energy_kernel

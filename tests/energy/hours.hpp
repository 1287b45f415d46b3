// SPDX-License-Identifier: Apache-2.0
// Hours and plants for the tests of the kernel: steady ones, and random ones with every feature.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <random>
#include <vector>

#include "housepower/energy/kernel.hpp"

namespace housepower::energy::test {

/// The same numbers on every library: the standard distributions differ.
struct Random {
  std::mt19937_64 engine;
  explicit Random(unsigned long seed) : engine(seed) {}
  double between(double a, double b) { return a + (b - a) * double(engine() >> 11) * 0x1p-53; }
  int below(int n) { return int(between(0.0, n)); }
  bool one_in(int n) { return below(n) == 0; }
};

/// Keeps what `Hours` views.
struct Series {
  std::vector<double> sun_W, air_C, others_W;
  std::array<std::vector<double>, 7> load_W;
  int patterns = 1;
  [[nodiscard]] kernel::Hours hours() const {
    kernel::Hours h{sun_W, air_C, {}, patterns, others_W};
    for (std::size_t p = 0; p < 7; ++p) h.load_W[p] = load_W[p];
    return h;
  }
};

inline Series steady(int days, double sun_W, double load_W, double air_C = 20.0) {
  const auto n = std::size_t(days) * 24;
  Series s{
      std::vector<double>(n, sun_W), std::vector<double>(n, air_C), std::vector<double>(n), {}};
  s.load_W[0].assign(n, load_W);
  return s;
}

/// Sun by day, loads by the hour, air from -30 to 45 °C, now and then a charger.
inline Series random_series(Random& random, int days, int patterns = 0) {
  Series s;
  s.patterns = patterns != 0 ? patterns : random.one_in(3) ? 7 : 1;
  const double middle_C = random.between(-20.0, 35.0);
  const double load_W = random.between(0.0, 150.0), sun_W = random.between(0.0, 700.0);
  for (int d = 0; d < days; ++d) {
    const double clear = random.between(0.0, 1.0), warmer = random.between(-8.0, 8.0);
    for (int h = 0; h < 24; ++h) {
      s.sun_W.push_back(sun_W * clear * std::max(0.0, std::sin((h - 6.0) / 12.0 * 3.14159265)));
      s.air_C.push_back(middle_C + warmer - 5.0 * std::cos(h / 12.0 * 3.14159265) +
                        random.between(-1.0, 1.0));
      s.others_W.push_back(random.one_in(20) ? random.between(0.0, 500.0) : 0.0);
      for (std::size_t p = 0; p < std::size_t(s.patterns); ++p)
        s.load_W[p].push_back(random.one_in(10) ? 0.0 : random.between(0.0, 2.0 * load_W));
    }
  }
  return s;
}

inline kernel::Plant random_plant(Random& random) {
  kernel::Plant p;
  p.capacity_Wh = random.between(500.0, 5000.0);
  p.arrive = random.between(0.3, 1.0);
  p.stored_share = random.one_in(4) ? 1.0 : random.between(0.8, 1.0);
  p.kept_an_hour = random.one_in(4) ? 1.0 : 1.0 - random.between(1e-5, 1e-3);
  if (random.one_in(3)) p.discharge_W = random.between(50.0, 400.0);
  p.tail_from = random.between(0.6, 0.97);
  if (!random.one_in(3)) p.tail_W = random.between(1.0, 200.0);
  p.full_by_sun = random.between(0.9, 0.999);
  p.full_by_others = random.between(0.85, 0.999);
  if (random.one_in(3)) p.rests_by_sun = random.between(0.3, 1.0);
  if (random.one_in(3)) p.rests_by_others = random.between(0.3, 1.0);
  p.sun_factor = random.between(0.8, 1.2);
  p.load_factor = random.between(0.8, 1.2);
  if (!random.one_in(3)) {
    p.decay = std::exp(-1.0 / random.between(1.0, 40.0));
    p.rise_K_W = (1.0 - p.decay) / random.between(0.5, 5.0);
  }
  if (!random.one_in(3)) {
    p.heater_W = random.between(5.0, 200.0);
    p.heater_on_C = random.between(-5.0, 8.0);
    p.heater_off_C = p.heater_on_C + random.between(0.5, 6.0);
    p.heater_by_bank = random.one_in(2);
  }
  const double base = random.between(0.0, 0.3), loss = random.between(0.0, 5e-4);
  const int from = random.below(60), to = from + random.below(70);  // rows that take charge
  for (int row = 0; row < kernel::temperatures; ++row) {
    const auto r = std::size_t(row);
    p.empty[r] = std::min(1.0, base + random.between(0.0, 0.05) + (row < 30 ? 0.2 : 0.0));
    p.accepts_W[r] = row < from || row > to ? 0.0 : random.between(20.0, 800.0);
    for (double& each : p.loss[r]) each = loss * random.between(0.5, 2.0);
  }
  return p;
}

}  // namespace housepower::energy::test

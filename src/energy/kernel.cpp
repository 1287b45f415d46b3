// SPDX-License-Identifier: Apache-2.0
// Which of the kernels runs, and one stay for the eye.
#include <vector>

#include "kernel_step.hpp"
#include "kernel_widths.hpp"

namespace housepower::energy::kernel {
namespace {

/// Stays from the first on, in registers of up to so many; how many were run.
std::size_t run_wide([[maybe_unused]] const Hours& h, [[maybe_unused]] int hours,
                     [[maybe_unused]] std::span<const Lane> lanes, [[maybe_unused]] Until until,
                     [[maybe_unused]] int at_once) {
#ifdef HOUSEPOWER_WIDE
  if (at_once >= 8 && __builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq"))
    return run_by_eight(h, hours, lanes, until);
  if (at_once >= 4 && __builtin_cpu_supports("avx2")) return run_by_four(h, hours, lanes, until);
#endif
  return 0;
}

}  // namespace

double unbalanced_Wh(const Outcome& o) {
  // gathered + at start = spilled + served + lost + at end; what heats the cells is served
  return o.gathered + o.at_start_Wh - (o.spilled + (o.asked - o.unserved) + o.lost + o.charge_Wh);
}

void run(const Hours& h, int hours, std::span<const Lane> lanes, bool until_empty, int at_once) {
  run(h, hours, lanes, until_empty ? Until::empty : Until::end, at_once);
}

void run(const Hours& h, int hours, std::span<const Lane> lanes, Until until, int at_once) {
  std::size_t i = run_wide(h, hours, lanes, until, at_once);
  for (; i + 4 <= lanes.size(); i += 4) run_together<double, 4>(h, hours, &lanes[i], until);
  for (; i + 2 <= lanes.size(); i += 2) run_together<double, 2>(h, hours, &lanes[i], until);
  if (i < lanes.size()) run_together<double, 1>(h, hours, &lanes[i], until);
}

void run(const Hours& h, int first, int hours, std::span<const Plant> plants,
         std::span<Outcome> outcomes, bool until_empty) {
  std::vector<Lane> lanes;
  lanes.reserve(plants.size());
  for (std::size_t i = 0; i < plants.size(); ++i)
    lanes.push_back({&plants[i], &outcomes[i], first, h.phase});
  run(h, hours, lanes, until_empty);
}

void trace(const Hours& h, int first, const Plant& plant, std::span<double> shares) {
  const Lane lane{&plant, nullptr, first, h.phase};
  const Plants<double> plants(&lane);
  State<double> s{plant.capacity_Wh * plant.arrive, h.air_C[std::size_t(first)]};
  Sums<double> o;
  for (std::size_t hour = 0; hour < shares.size(); ++hour) {
    const std::size_t at = std::size_t(first) + hour;
    const double* load_W = load_of(h, h.phase, (first % 24 + int(hour)) / 24);
    advance<double, true>(plants, s, o, h.sun_W[at], h.others_W[hour], load_W[at], h.air_C[at],
                          int(hour));
    shares[hour] = s.charge_Wh * plants.per_Wh;
  }
}

}  // namespace housepower::energy::kernel

// SPDX-License-Identifier: Apache-2.0
// Both ageing models on one bank; the larger loss counts.
#include "housepower/parts/ageing.hpp"

#include <array>

namespace housepower::parts {
namespace {

const Source from_design{SourceKind::supplier, "the design's bank", "storage and cycles"};

/// Lost by each model: small cells, large prismatic ones.
std::array<Ratio, 2> lost(const design::resolved::Bank& bank, Duration age, Working* working) {
  const auto t = given(working, "T", "storage temperature", bank.storage_temperature, from_design);
  const auto s = given(working, "s", "charge in storage", bank.storage_charge, from_design);
  const auto depth = bank.cycle_depth;
  const auto cycles =
      step(working, full_equivalent_cycles, Ratio(double(bank.cycles_per_year)), age, depth);

  const auto small_standing = step(working, naumann_calendar_loss, t, s, age);
  const auto small_cycling = step(working, naumann_cycle_loss, usual_c_rate, depth, cycles);
  const auto small = sum<Ratio>(working, "Q_a", "lost after the model of small cells",
                                {{"standing", small_standing}, {"cycling", small_cycling}});

  const auto anode = given(working, "U_a", "anode potential at that charge", anode_potential(s),
                           anode_potential.source);
  const auto large_standing = step(working, prismatic_calendar_loss, t, anode, age);
  const auto large_cycling = step(working, prismatic_cycle_loss, t, depth, usual_c_rate, cycles);
  const auto large = sum<Ratio>(working, "Q_b", "lost after the model of large prismatic cells",
                                {{"standing", large_standing}, {"cycling", large_cycling}});
  return {small, large};
}

}  // namespace

Ratio age_factor(const design::resolved::Bank& bank, Duration age, Working* working) {
  const auto [small, large] = lost(bank, age, working);
  return step(working, share_left,
              largest<Ratio>(working, "Q_lost", "share lost, the larger of both models",
                             {{"small cells", small}, {"large prismatic cells", large}}));
}

AgeRange age_range(const design::resolved::Bank& bank, Duration age, Working* working) {
  const auto [small, large] = lost(bank, age, working);
  return {step(working, share_left, small), step(working, share_left, large)};
}

Ratio resistance_age_factor(const design::resolved::Bank& bank, Duration age, Working* working) {
  const auto cycles = step(working, full_equivalent_cycles, Ratio(double(bank.cycles_per_year)),
                           age, bank.cycle_depth);
  const auto standing = step(working, naumann_calendar_resistance, bank.storage_temperature,
                             bank.storage_charge, age);
  const auto cycling =
      step(working, naumann_cycle_resistance, usual_c_rate, bank.cycle_depth, cycles);
  return step(working, resistance_aged, standing, cycling);
}

}  // namespace housepower::parts

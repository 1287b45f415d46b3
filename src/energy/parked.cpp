// SPDX-License-Identifier: Apache-2.0
// What empties a van that stands unattended.
#include <set>

#include "housepower/energy/questions.hpp"
#include "housepower/parts/ageing.hpp"

namespace housepower::energy {
namespace {

using namespace design::resolved;

bool draws_while_parked(const Appliance& a, bool is_fed) {
  Duration on{};
  for (const Duration& hour_ : switched_on(a)) on += hour_;
  const bool on_all_day = on >= 23.999 * hour && a.days_of_seven == 7;
  return a.while_parked.value_or(is_fed && on_all_day);
}

}  // namespace

std::optional<Parked> parked(const design::Design& design, const PerPost<bool>& fed,
                             std::optional<int> month, Working* working) {
  if (!design->bank) return std::nullopt;
  const Bank& bank = *design->bank;
  const auto is_fed = [&](PostId post) { return fed[post]; };
  Parked p;
  p.isolated = true;
  Habit habit;
  std::set<std::string> parted;  // what an isolator parts from the bank, by its path
  for (std::size_t i = 0; i < design->appliances.size(); ++i) {
    const Appliance& a = design->appliances[i];
    p.isolated = p.isolated && !is_fed(a.post);
    if (!draws_while_parked(a, is_fed(a.post))) habit.left_off.push_back(int(i));
  }
  for (const auto& controller : design->controllers)
    if (!is_fed(controller.out)) parted.insert("controller/" + controller.name + "/own_draw");
  for (const auto& inverter : design->inverters)
    if (!is_fed(inverter.post)) parted.insert("inverter/" + inverter.name + "/no_load");
  for (const auto& c : consumption(design, air_of_day(design, month), nullptr, habit))
    if (c.energy.value() > 0.0 && parted.count(c.path) == 0)
      p.draws.push_back({c.name, c.energy / day});

  const GivenInCold cold = given_in_cold(design, month, working);
  const Energy full = bank.rated() * bank.voltage() *
                      double(parts::age_factor(bank, design->promise.bank_age, working));
  const Energy energy = given(working, "E", "energy of the aged bank", full,
                              Source{SourceKind::supplier, "the design's bank", "rated, aged"});
  p.draws.push_back(
      {"the bank by itself", step(working, self_discharge_power, energy, bank.storage_charge)});
  p.all = sum(working, "P", "everything that draws while the van is parked", p.draws);
  p.may_stand = step(working, standing_time, energy, cold.share, design->promise.reserve,
                     bank.storage_charge, p.all);
  return p;
}

}  // namespace housepower::energy

// SPDX-License-Identifier: Apache-2.0
// What empties a van that stands unattended.
#include "housepower/energy/questions.hpp"
#include "housepower/parts/ageing.hpp"

namespace housepower::energy {
namespace {

using namespace design::resolved;

bool parts_from_bank(const Run& run) {
  for (const auto& item : run.inline_items)
    if (item.kind == design::InlineKind::isolator || item.kind == design::InlineKind::contactor)
      return true;
  return false;
}

/// Posts that the bank feeds with every isolator open.
std::vector<bool> still_fed(const design::Design& design) {
  std::vector<bool> fed(design->posts.size(), false);
  fed[std::size_t(design->bank->post.index)] = true;
  for (bool more = true; more;) {
    more = false;
    for (const Run& run : design->runs) {
      if (parts_from_bank(run)) continue;
      const auto a = std::size_t(run.from.index), b = std::size_t(run.to.index);
      if (fed[a] == fed[b]) continue;
      fed[a] = fed[b] = true;
      more = true;
    }
  }
  return fed;
}

/// Mean power of an appliance that is on all day, at the bank.
Power all_day(const design::Design& design, const Appliance& appliance) {
  const Power power =
      double(appliance.quantity) * appliance.power * std::min(1.0, double(appliance.duty));
  if (!appliance.inverter) return power;
  const auto& inverter = design[*appliance.inverter];
  return inverter.efficiency ? power / double(*inverter.efficiency) : power;
}

}  // namespace

std::optional<Parked> parked(const design::Design& design, Working* working) {
  if (!design->bank) return std::nullopt;
  const Bank& bank = *design->bank;
  const auto fed = still_fed(design);
  const auto is_fed = [&](PostId post) { return bool(fed[std::size_t(post.index)]); };
  Parked p;
  p.isolated = true;
  p.draws.push_back({"bank, own draw",
                     current_power(Ratio(double(bank.parallel)), bank.voltage(), bank.own_draw)});
  for (const auto& controller : design->controllers)
    if (is_fed(controller.out)) p.draws.push_back({controller.name, controller.own_draw});
  for (const auto& inverter : design->inverters) {
    if (!is_fed(inverter.post)) continue;
    const double share = inverter.runs == design::InverterRuns::always   ? 1.0
                         : inverter.runs == design::InverterRuns::search ? 0.2
                                                                         : 0.0;
    if (share > 0.0) p.draws.push_back({inverter.name + ", no load", inverter.no_load * share});
  }
  for (const Appliance& a : design->appliances) {
    const bool reached_ = is_fed(a.post);
    p.isolated = p.isolated && !reached_;
    Duration on{};
    for (const Duration& hour_ : switched_on(a)) on += hour_;
    const bool on_all_day = on >= 23.999 * hour && a.days_of_seven == 7;
    if (a.while_parked.value_or(reached_ && on_all_day))
      p.draws.push_back({a.name, all_day(design, a)});
  }
  const Energy full = bank.rated() * bank.voltage() *
                      double(parts::age_factor(bank, design->promise.bank_age, working));
  const Energy energy = given(working, "E", "energy of the aged bank", full,
                              Source{SourceKind::supplier, "the design's bank", "rated, aged"});
  p.draws.push_back(
      {"the bank by itself", step(working, self_discharge_power, energy, bank.storage_charge)});
  p.all = sum(working, "P", "all that draws while the van stands", p.draws);
  p.may_stand =
      step(working, standing_time, energy, bank.storage_charge, design->promise.reserve, p.all);
  return p;
}

}  // namespace housepower::energy

// SPDX-License-Identifier: Apache-2.0
// The hour with most power switched on, for a load case of wiring.
#include "housepower/energy/assessment.hpp"
#include "housepower/energy/demand.hpp"

namespace housepower::energy {

FullestHour fullest_hour(const design::Design& design) {
  FullestHour fullest;
  const auto& appliances = design->appliances;
  Power most{};
  for (std::size_t h = 0; h < 24; ++h) {
    Power together{};
    std::vector<design::resolved::ApplianceId> running;
    for (std::size_t i = 0; i < appliances.size(); ++i)
      if (switched_on(appliances[i])[h].value() > 0.0) {
        together += double(appliances[i].quantity) * appliances[i].power;
        running.push_back({int(i)});
      }
    if (together > most) {
      most = together;
      fullest.hour = int(h);
      fullest.running = running;
    }
  }

  Current largest_start{};
  for (std::size_t i = 0; i < appliances.size(); ++i) {
    const auto& starting = appliances[i].starting;
    if (appliances[i].inverter || !starting || starting->current <= largest_start) continue;
    largest_start = starting->current;
    fullest.largest_starter = design::resolved::ApplianceId{int(i)};
  }
  return fullest;
}

}  // namespace housepower::energy

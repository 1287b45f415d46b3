// SPDX-License-Identifier: Apache-2.0
// What arrays and their controllers gather in a mean day.
#include "housepower/energy/demand.hpp"
#include "housepower/energy/mean_day.hpp"
#include "housepower/parts/controller.hpp"
#include "housepower/parts/module.hpp"

namespace housepower::energy {
namespace {

using namespace design::resolved;

/// One array in one hour.
parts::ArrayOutput array_output(const Array& array, design::Pitch pitch, const MeanDay::Hour& at,
                                int hour_of_day, Working* working) {
  const Irradiance sun = plane_irradiance(array, pitch, at, hour_of_day, working);
  const Power one = parts::power_in_sun(array.module, array.mount, sun, at.air, working);
  const Ratio share = given(working, "f_a", "share left after losses in the array", array_losses,
                            array_losses_source);
  const Power all = step(working, array_power, Ratio(double(array.modules)), one, share);
  const double strings = double(array.modules) / double(array.in_series) * double(array_losses);
  return {all, array.module.imp.value_or(0.0 * ampere) * strings, sun};
}

std::size_t brightest(const MeanDay& sun) {
  std::size_t best = 12;
  for (std::size_t h = 0; h < 24; ++h)
    if (sun.hours[best].beam + sun.hours[best].diffuse < sun.hours[h].beam + sun.hours[h].diffuse)
      best = h;
  return best;
}

}  // namespace

SolarDay solar_day(const design::Design& design, const MeanDay& sun, Working* working) {
  SolarDay result;
  const Voltage charging = counting_voltage(design) / double(storage_efficiency);
  const std::size_t shown = brightest(sun);
  for (std::size_t c = 0; c < design->controllers.size(); ++c) {
    for (std::size_t h = 0; h < 24; ++h) {
      Working* const w = h == shown ? working : nullptr;
      std::vector<parts::ArrayOutput> outputs;
      for (const Array& array : design->arrays)
        if (array.controller.index == int(c))
          outputs.push_back(array_output(array, design->site.pitch, sun.hours[h], int(h), w));
      if (outputs.empty()) continue;
      const auto out = parts::controller_output(design->controllers[c], outputs, charging, w);
      result.by_hour[h] += step(w, stored_energy, out.given, storage_efficiency);
      result.clipped += stored_energy(out.clipped, storage_efficiency);
    }
  }
  return result;
}

}  // namespace housepower::energy

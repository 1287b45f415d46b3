// SPDX-License-Identifier: Apache-2.0
// What arrays and their controllers gather in a mean day.
#include "housepower/energy/demand.hpp"
#include "housepower/energy/mean_day.hpp"
#include "housepower/energy/plant.hpp"
#include "housepower/parts/controller.hpp"
#include "housepower/parts/module.hpp"

namespace housepower::energy {
namespace {

using namespace design::resolved;

/// What of an array hangs on neither hour nor weather.
struct Left {
  Ratio aged = 1.0, covered = 0.0;
};

/// Too hot to push into a bank that charges at so much, through what cannot step up.
bool is_below(const Array& array, const Controller& controller, Voltage charging, Irradiance sun,
              const MeanDay::Hour& at) {
  if (controller.kind == design::ControllerKind::step_up) return false;
  const auto one = parts::best_voltage_in_sun(array.module, array.mount, sun, {at.air, at.wind});
  return one && *one * double(array.in_series) < charging;
}

/// What arrays and a controller meet in one hour.
struct InHour {
  const Controller& controller;
  Voltage charging{};
  design::Pitch pitch{};
  const MeanDay::Hour& at;
  int hour_of_day = 0;
};

/// One array in one hour.
parts::ArrayOutput array_output(const Array& array, const Left& left, const InHour& in,
                                Working* working) {
  const MeanDay::Hour& at = in.at;
  const Irradiance sun = light_on_cells(array, in.pitch, at, in.hour_of_day, working);
  if (is_below(array, in.controller, in.charging, sun, at))
    return {given(working, "P_a", "of an array whose hot voltage is below that of the bank",
                  Power{}, parts::hot_voltage.source),
            Current{}, sun};
  const Power one = parts::power_in_sun(array.module, array.mount, sun, {at.air, at.wind}, working);
  const Ratio share = given(working, "f_a", "share left after losses in the array", array_losses,
                            array_losses_source);
  Power all = step(working, array_power, Ratio(double(array.modules)), one, share, left.aged);
  if (double(left.covered) > 0.0) all = step(working, uncovered, all, left.covered);
  const double strings = double(array.modules) / double(array.in_series) * double(array_losses) *
                         double(left.aged) * (1.0 - double(left.covered)) *
                         double(parts::low_light(sun));
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
  const Ratio aged = design->arrays.empty()
                         ? Ratio(1.0)
                         : step(working, parts::modules_left, design->promise.bank_age);
  for (std::size_t c = 0; c < design->controllers.size(); ++c) {
    if (!reaches_above_reserve(design, design->controllers[c].charge_voltage)) continue;
    for (std::size_t h = 0; h < 24; ++h) {
      Working* const w = h == shown ? working : nullptr;
      std::vector<parts::ArrayOutput> outputs;
      for (const Array& array : design->arrays)
        if (array.controller.index == int(c))
          outputs.push_back(array_output(
              array, {aged, array.covered[std::size_t(sun.month)]},
              {design->controllers[c], charging, design->site.pitch, sun.hours[h], int(h)}, w));
      if (outputs.empty()) continue;
      const auto out = parts::controller_output(design->controllers[c], outputs, charging, w);
      result.by_hour[h] += step(w, stored_energy, out.given, storage_efficiency);
      result.clipped += stored_energy(out.clipped, storage_efficiency);
    }
  }
  return result;
}

}  // namespace housepower::energy

// SPDX-License-Identifier: Apache-2.0
// A module under a mounting, in sun and air.
#include "housepower/parts/module.hpp"

namespace housepower::parts {

IrradianceHeating ross_coefficient(design::Mount mount) {
  switch (mount) {
  case design::Mount::roof_flat: return 0.0563 * ross_unit;  // not ventilated
  case design::Mount::tilted: return 0.0342 * ross_unit;     // poorly ventilated
  case design::Mount::ground: return 0.0208 * ross_unit;     // free-standing
  }
  return 0.0563 * ross_unit;
}

namespace {

Temperature cell_temperature(design::Mount mount, Irradiance sun, const AirAbout& air,
                             Working* working) {
  if (air.wind)
    return step(working, faiman_temperature, air.temperature, sun, still_heat_loss, wind_heat_loss,
                *air.wind);
  const auto k = given(working, "k", "Ross coefficient of the mounting", ross_coefficient(mount),
                       ross_temperature.source);
  return step(working, ross_temperature, air.temperature, k, sun);
}

}  // namespace

std::optional<Voltage> best_voltage_in_sun(const design::Module& module, design::Mount mount,
                                           Irradiance sun, const AirAbout& air) {
  if (!module.vmp) return std::nullopt;
  return step(nullptr, hot_voltage, *module.vmp,
              module.power_coefficient.value_or(usual_power_coefficient), usual_current_coefficient,
              cell_temperature(mount, sun, air, nullptr));
}

Power power_in_sun(const design::Module& module, design::Mount mount, Irradiance sun,
                   const AirAbout& air, Working* working) {
  const auto cell = cell_temperature(mount, sun, air, working);
  const auto gamma = module.power_coefficient
                         ? given(working, "γ", "power coefficient", *module.power_coefficient,
                                 Source{SourceKind::supplier, "the design's module", ""})
                         : given(working, "γ", "power coefficient, not stated",
                                 usual_power_coefficient, usual_power_coefficient_source);
  const auto in_full_light = step(working, module_power, module.power, sun, gamma, cell);
  const auto kept = step(working, low_light, sun);
  return step(working, power_kept, in_full_light, kept);
}

}  // namespace housepower::parts

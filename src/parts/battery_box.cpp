// SPDX-License-Identifier: Apache-2.0
// A design's box in numbers.
#include "housepower/parts/battery_box.hpp"

namespace housepower::parts {

std::optional<BatteryBox> battery_box(const design::resolved::Bank& bank, Working* working) {
  if (!bank.box || bank.box->size.size() != 3) return std::nullopt;
  const auto& box = *bank.box;
  const Length l = box.size[0], w = box.size[1], h = box.size[2];
  const Area walls = step(working, wall_area, l, w, h);
  BatteryBox result;
  result.walls = step(working, wall_conductance, *box.heat_transfer, walls);
  const double batteries = double(bank.parallel) * double(bank.in_series);
  const Mass mass = bank.mass
                        ? *bank.mass * batteries
                        : step(working, mass_from_energy, Energy(bank.rated() * bank.voltage()));
  if (bank.mass)
    given(working, "m", "mass of the batteries", mass,
          Source{SourceKind::supplier, "the design's bank", "mass of each"});
  const auto c = given(working, "c", "specific heat of the cells", cell_specific_heat,
                       cell_specific_heat_source);
  result.constant = step(working, time_constant, mass, c, result.walls);
  result.in_the_sun = (l * w + std::max(l, w) * h) / walls;
  return result;
}

HeaterBounds heater_bounds(const design::Heater& heater) {
  const TemperatureDifference apart = 3.0 * kelvin;
  HeaterBounds b{heater.on_below.value_or(celsius(2.0)), heater.off_above.value_or(celsius(5.0))};
  if (!heater.on_below && b.off_above < b.on_below + apart) b.on_below = b.off_above - apart;
  if (!heater.off_above && b.off_above < b.on_below + apart) b.off_above = b.on_below + apart;
  return b;
}

TemperatureDifference warmer_about_box(const design::resolved::Bank& bank, const BatteryBox& box,
                                       Irradiance level) {
  const bool indoors = bank.mounted && *bank.mounted != design::BankPlace::outside_sealed;
  if (indoors) return {};
  const bool underfloor = bank.box->sits == design::BoxSits::underfloor;
  const Irradiance on_it = underfloor ? level * double(light_from_ground) : level;
  const TemperatureDifference sun =
      sun_on_wall(*bank.box->absorptance, on_it, to_outside_air) * double(box.in_the_sun);
  const Irradiance bright = Irradiance::from_value(1000.0);
  return underfloor ? sun + warm_ground * double(level / bright) : sun;
}

}  // namespace housepower::parts

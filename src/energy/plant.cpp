// SPDX-License-Identifier: Apache-2.0
// The bank as a plant: everything by temperature and charge in rows that the kernel reads.
#include "housepower/energy/plant.hpp"

#include <algorithm>
#include <cmath>

#include "housepower/parts/ageing.hpp"
#include "housepower/parts/battery_box.hpp"
#include "housepower/parts/cell.hpp"
#include "housepower/parts/module.hpp"
#include "housepower/tables/weather_file.hpp"

namespace housepower::energy {
namespace {

using design::resolved::Bank;

/// Share at which a charge voltage stops: nothing flows into a bank that rests at it or higher.
double full_at(const tables::CellCurves& cells, const Bank& bank, Voltage charge_voltage) {
  const double for_four = charge_voltage.value() * 4.0 / double(parts::cells_in_series(bank));
  if (for_four >= 13.8 - 1e-9) return 1.0;
  return std::min(0.95, double(parts::rests_at(cells, bank, charge_voltage)));
}

/// Share beyond which nothing flows at a voltage, into loads no more than into the bank: a hair above
/// where it stops, so that what filled the bank goes on carrying them. 2 where it fills any bank.
double rests_from(const tables::CellCurves& cells, const Bank& bank, Voltage voltage) {
  constexpr double hair = 1e-6;
  return full_at(cells, bank, voltage) < 1.0 ? double(parts::rests_at(cells, bank, voltage)) + hair
                                             : 2.0;
}

void fill_full(const design::Design& design, const Bank& bank, kernel::Plant& plant) {
  const auto& cells = design->tables->cells;
  for (const auto& array : design->arrays) {
    const Voltage ends = design[array.controller].charge_voltage;
    if (!reaches_above_reserve(design, ends)) continue;  // it is not counted at all
    plant.full_by_sun = std::min(plant.full_by_sun, full_at(cells, bank, ends));
    plant.rests_by_sun = std::min(plant.rests_by_sun, rests_from(cells, bank, ends));
  }
  for (const auto& charger : design->chargers)
    if (charger.current.value() > 0.0) limit_by(design, charger, plant);
}

/// The smaller limit of what lies within a kelvin.
Current accepted(const tables::CellCurves& cells, const Bank& bank, double from_C) {
  return std::min(parts::charge_limit(cells, bank, celsius(from_C + 1e-6)),
                  parts::charge_limit(cells, bank, celsius(from_C + 1.0 - 1e-6)));
}

using Rows = std::array<std::array<double, kernel::charges>, kernel::temperatures>;

/// How the resistance of cells goes with warmth and charge: of every bank alike.
const Rows& resistance_factors() {
  static const Rows all = [] {
    Rows rows{};
    for (std::size_t row = 0; row < rows.size(); ++row)
      for (std::size_t c = 0; c < rows[row].size(); ++c)
        rows[row][c] = double(parts::resistance_factor(celsius(kernel::coldest_C + double(row)),
                                                       double(c) / (kernel::charges - 1.0)));
    return rows;
  }();
  return all;
}

void fill_rows(const design::Design& design, const Bank& bank, Duration age, kernel::Plant& plant) {
  const auto& cells = design->tables->cells;
  const double u = bank.voltage().value(), reserve = double(design->promise.reserve);
  const Resistance one = bank.high.value_or(5.0 * milliohm);  // 2.5 times a low one, from practice
  const double ohms = one.value() * bank.in_series / bank.parallel *
                      double(parts::resistance_age_factor(bank, age));
  for (std::size_t row = 0; row < std::size_t(kernel::temperatures); ++row) {
    const double from_C = kernel::coldest_C + double(row);
    const double given_share = double(parts::capacity_factor(cells, celsius(from_C)));
    plant.empty[row] = std::clamp(1.0 - given_share * (1.0 - reserve), 0.0, 1.0);
    plant.accepts_W[row] = accepted(cells, bank, from_C).value() * u;
    for (std::size_t c = 0; c < std::size_t(kernel::charges); ++c)
      plant.loss[row][c] = ohms * resistance_factors()[row][c] / (u * u);
  }
}

void fill_box(const Bank& bank, kernel::Plant& plant) {
  const auto box = parts::battery_box(bank);
  if (!box) return;  // the cells are as warm as the air that the hours say
  plant.decay = std::exp(-double(hour / box->constant));
  plant.rise_K_W = (1.0 - plant.decay) / box->walls.value();
  if (!bank.box->heater) return;
  const auto& heater = *bank.box->heater;
  plant.heater_W = heater.power.value();
  const auto bounds = parts::heater_bounds(heater);
  plant.heater_on_C = in_celsius(bounds.on_below);
  plant.heater_off_C = in_celsius(bounds.off_above);
  plant.heater_by_bank = heater.supplied_by == design::HeaterSupply::bank;
}

}  // namespace

bool reaches_above_reserve(const design::Design& design, Voltage voltage) {
  return !design->bank ||
         parts::rests_at(design->tables->cells, *design->bank, voltage) > design->promise.reserve;
}

void limit_by(const design::Design& design, const design::resolved::Charger& charger,
              kernel::Plant& plant) {
  const Voltage ends = charger.charge_voltage;
  if (!reaches_above_reserve(design, ends)) return;  // it is not counted at all
  const auto& cells = design->tables->cells;
  plant.full_by_others = std::min(plant.full_by_others, full_at(cells, *design->bank, ends));
  plant.rests_by_others = std::min(plant.rests_by_others, rests_from(cells, *design->bank, ends));
}

Ratio input_doubt_of(const design::Design& design) {
  if (design->site.made) return doubt_between_towns;
  const auto* file = design->site.hourly;
  if (!file) return input_doubt;
  return file->uncertainty.value_or(file_doubt);
}

Doubt at_the_lower_end(const design::Design& design) {
  return {1.0 - double(input_doubt_of(design)), 1.0 + double(load_doubt)};
}

bool snow_not_counted(const design::Design& design, int month) {
  const auto* town = design->site.town;
  const auto m = std::size_t(month);
  return town && town->lowest[m] < snow_below &&
         std::any_of(design->arrays.begin(), design->arrays.end(),
                     [&](const auto& array) { return !(double(array.covered[m]) > 0.0); });
}

std::optional<kernel::Plant> plant_of(const design::Design& design, Duration age,
                                      const Doubt& doubt) {
  if (!design->bank) return std::nullopt;
  const Bank& bank = *design->bank;
  kernel::Plant plant;
  const double rated_Wh = Energy(bank.rated() * bank.voltage()) / watt_hour;
  plant.capacity_Wh = rated_Wh * double(parts::age_factor(bank, age));
  plant.arrive = double(design->promise.arrive_at);
  plant.stored_share = double(storage_efficiency);
  plant.kept_an_hour = std::pow(1.0 - double(self_discharge_a_month), 1.0 / (30.0 * 24.0));
  if (bank.discharge_limit)
    plant.discharge_W = bank.discharge_limit->value() * bank.parallel * bank.voltage().value();
  plant.tail_from = 0.97;
  plant.tail_W = 0.05 * rated_Wh;
  const double modules_then = double(parts::modules_left(design->promise.bank_age));
  plant.sun_factor = double(doubt.sun);
  if (modules_then > 0.0) plant.sun_factor *= double(parts::modules_left(age)) / modules_then;
  plant.load_factor = double(doubt.load);
  fill_full(design, bank, plant);
  fill_rows(design, bank, age, plant);
  fill_box(bank, plant);
  return plant;
}

}  // namespace housepower::energy

// SPDX-License-Identifier: Apache-2.0
// The bank: batteries all alike, in parallel.
#include <algorithm>
#include <cmath>

#include "housepower/design/battery_resistance.hpp"
#include "resolving.hpp"

namespace housepower::design {
namespace {

/// The harmless end for a fault, of four cells: the most that listings of batteries with a built-in
/// switch give (from memory).
constexpr Resistance harmless_in_a_fault = 20.0 * milliohm;

void resolve_resistance(Resolving& r, const Bank& bank, resolved::Bank& out) {
  if (bank.resistance) out.low = bank.resistance->low;
  if (bank.resistance) out.high = bank.resistance->high;
  if (out.low && out.high && *out.low > *out.high)
    r.error(bank.place, "bank/resistance/low", "is more than the high one", "exchange them");
  const Resistance practice = low_by_capacity(out.capacity, out.nominal_voltage);
  const auto stated_high = out.high;
  if (!out.high) {
    const Resistance harmless = out.low.value_or(practice);
    const Resistance high = r.kindest() ? harmless
                            : out.low   ? 2.5 * *out.low
                                        : high_by_capacity(out.capacity, out.nominal_voltage);
    r.assume("bank/resistance/high", print(Number(high)),
             out.low ? "2.5 times the low one"
                     : "2.5 times the low one, at least 5 mΩ for four cells");
    if (out.low || r.kindest()) out.high = high;
  }
  if (out.low) return;
  Resistance low =
      r.kindest() ? harmless_in_a_fault * (double(cells_of(out.nominal_voltage)) / 4.0) : practice;
  if (stated_high) low = std::min(low, *stated_high);
  r.assume("bank/resistance/low", print(Number(low)),
           "low for its capacity, for the largest fault: 160 mΩ·Ah a 12.8 V battery, at most 2 mΩ");
  if (r.kindest()) out.low = low;
}

void resolve_takeoff(Resolving& r, const Bank& bank, resolved::Bank& out) {
  const auto& numbers = bank.takeoff_from;
  if (numbers.empty()) {
    if (out.parallel > 1) r.assume("bank/takeoff_from", "[1, 1]", "both at the first battery");
    return;
  }
  if (numbers.size() != 2) {
    r.error(bank.place, "bank/takeoff_from", "wants two numbers, that of + and that of −",
            "for example takeoff_from = [1, " + std::to_string(out.parallel) + "]");
    return;
  }
  for (std::size_t i = 0; i < 2; ++i) {
    out.takeoff[i] = numbers[i];
    if (numbers[i] < 1 || numbers[i] > out.parallel)
      r.error(bank.place, "bank/takeoff_from/" + std::to_string(i),
              "there is no battery " + std::to_string(numbers[i]) + " in this bank",
              "they are numbered from 1 to " + std::to_string(out.parallel));
  }
}

std::optional<resolved::Lead> lead_of(Resolving& r, const Bank& bank,
                                      const std::optional<Link>& link, const std::string& path) {
  if (!link) return std::nullopt;
  const auto conductor = find_conductor(r, link->conductor, bank.place, path + "/conductor");
  if (!conductor) return std::nullopt;
  if (!link->resistance)
    r.assume(path + "/resistance", r.kindest() ? "its copper" : "its copper and two joints",
             "joints of 0.1 m of the conductor each, 0.05 to 0.5 mΩ");
  return resolved::Lead{*conductor, link->length, link->resistance, !r.kindest()};
}

void resolve_leads(Resolving& r, const Bank& bank, resolved::Bank& out) {
  if (bank.links) {
    out.link_positive = lead_of(r, bank, bank.links->positive, "bank/links/positive");
    out.link_negative = lead_of(r, bank, bank.links->negative, "bank/links/negative");
  }
  if (!bank.each_battery) return;
  out.lead = lead_of(r, bank, bank.each_battery->lead, "bank/each_battery/lead");
  if (const auto& device = bank.each_battery->protection) {
    auto own = device_of(r, device->type, device->rating, device->breaking_capacity, bank.place,
                         "bank/each_battery/protection");
    own.sits = Sits::box;
    own.ambient = ambient_of_device(r, own.sits);
    out.each_device = resolved::BatteryDevice{std::move(own)};
  }
}

/// By the cells of the system's voltage: what a maker calls 3.2 V a cell, give or take.
void check_cells(Resolving& r, const Bank& bank, const resolved::Bank& out) {
  const double cells = 4.0 * r.times_twelve();
  const Voltage low = 2.9 * cells * volt, high = 3.5 * cells * volt;
  if (low <= out.voltage() && out.voltage() <= high) return;
  r.error(bank.place, "bank/nominal_voltage",
          print(Number(out.voltage())) + " for the whole bank is not that of " +
              print_plain(cells) + " cells of a system of " + print(Number(r.out.nominal)),
          "from " + print(Number(low)) + " to " + print(Number(high)) +
              "; 12.8 V has four cells, 25.6 V eight");
}

void check_voltage(Resolving& r, const Bank& bank, const resolved::Bank& out) {
  const double share = out.voltage().value() / r.out.nominal.value();
  if (share >= 0.8 && share <= 1.3) return check_cells(r, bank, out);
  r.error(RestsOn::whole, bank.place, "bank/nominal_voltage",
          std::to_string(out.in_series) + " in series make " + print(Number(out.voltage())) +
              ", the system is of " + print(Number(r.out.nominal)),
          "see in_series and system_voltage");
}

/// What a person states of the whole bank's voltage is that of its cells, or it is a slip.
void check_stated_voltage(Resolving& r, const Bank& bank, const resolved::Bank& out,
                          const std::optional<Voltage>& stated, const char* key, double least,
                          double most) {
  if (!stated) return;
  const double cells = std::max(1.0, std::round(out.voltage().value() / 3.2));
  const Voltage low = least * cells * volt, high = most * cells * volt;
  if (low <= *stated && *stated <= high) return;
  r.error(bank.place, std::string("bank/") + key,
          print(Number(*stated)) + " is not possible for a bank of " + print(Number(out.voltage())),
          "of the whole bank, from " + print(Number(low)) + " to " + print(Number(high)));
}

void check_cut_offs(Resolving& r, const Bank& bank) {
  const auto &below = bank.charge_cut_off_below, &above = bank.charge_cut_off_above;
  if (below && above && *above <= *below)
    r.error(bank.place, "bank/charge_cut_off_above",
            print(Number(*above)) + " is not above `charge_cut_off_below`, " +
                print(Number(*below)) + ": it would never be charged",
            "it is charged between the two");
}

void check_heater(Resolving& r, const Bank& bank) {
  if (!bank.box || !bank.box->heater) return;
  const auto& heater = *bank.box->heater;
  const auto &on = heater.on_below, &off = heater.off_above;
  if (on && *on > celsius(40.0))
    r.error(bank.place, "bank/box/heater/on_below",
            print(Number(*on)) + " is above 40 °C: cells need no heat there",
            "a little above the temperature below which they refuse charge");
  else if (on && off && *off <= *on)  // what is not stated keeps its distance from what is
    r.error(bank.place, "bank/box/heater/off_above",
            print(Number(*off)) + ", at which it stops, is not above " + print(Number(*on)) +
                ", below which it starts",
            "off_above is higher than on_below");
}

/// The batteries have to fit into their box.
void check_room(Resolving& r, const Bank& bank, const resolved::Bank& out) {
  if (!bank.box || bank.box->size.size() != 3 || bank.size.size() != 3) return;
  const auto volume = [](const auto& sides) { return sides[0] * sides[1] * sides[2]; };
  const int batteries = out.parallel * out.in_series;
  const auto needed = volume(bank.size) * double(batteries), given = volume(bank.box->size);
  auto box = bank.box->size, one = bank.size;
  std::sort(box.begin(), box.end()), std::sort(one.begin(), one.end());
  bool fits = needed <= given;
  for (std::size_t i = 0; i < 3; ++i) fits = fits && one[i] <= box[i];
  if (fits) return;
  const auto sides = [](const auto& list) {
    return print(Number(list[0])) + " × " + print(Number(list[1])) + " × " + print(Number(list[2]));
  };
  r.diagnostics.warning(bank.place, "bank/box/size",
                        sides(bank.box->size) + " does not hold " + std::to_string(batteries) +
                            (batteries == 1 ? " battery of " : " batteries of ") + sides(bank.size),
                        "the outside of the box; `size` is that of one battery");
}

void copy_stated(const Bank& bank, resolved::Bank& out) {
  out.charge_limit = bank.charge_limit;
  out.discharge_limit = bank.discharge_limit;
  out.peak = bank.peak;
  out.open_circuit_full = bank.open_circuit_full;
  out.charge_voltage_highest = bank.charge_voltage_highest;
  out.charge_cut_off_below = bank.charge_cut_off_below;
  out.charge_cut_off_above = bank.charge_cut_off_above;
  out.no_cold_cut_off = bank.no_cold_cut_off.value_or(false);
  out.mass = bank.mass;
  out.own_draw = *bank.own_draw;
  out.storage_charge = *bank.storage->charge;
  out.storage_temperature = *bank.storage->temperature;
  out.cycles_per_year = *bank.cycles_per_year;
  out.cycle_depth = *bank.cycle_depth;
  out.mounted = bank.mounted;
  out.box = bank.box;
}

}  // namespace

void resolve_bank(Resolving& r) {
  if (!r.document.bank) return;
  const Bank& bank = *r.document.bank;
  resolved::Bank out;
  out.post = add_post(r, "bank", resolved::PostKind::bank,
                      bank.mounted == BankPlace::inside ? Sits::inside : Sits::box);
  r.out.posts[out.post].assembly = find_assembly(r, bank.assembly, bank.place, "bank/assembly");
  out.parallel = bank.quantity.value();
  out.in_series = *bank.in_series;
  out.capacity = bank.capacity.value();
  out.nominal_voltage = bank.nominal_voltage.value();
  copy_stated(bank, out);
  resolve_resistance(r, bank, out);
  resolve_takeoff(r, bank, out);
  resolve_leads(r, bank, out);
  check_voltage(r, bank, out);
  check_cut_offs(r, bank);
  check_heater(r, bank);
  // volts a cell, from judgement: rested and full, and the most that any maker allows
  check_stated_voltage(r, bank, out, out.open_circuit_full, "open_circuit_full", 3.3, 3.65);
  check_stated_voltage(r, bank, out, out.charge_voltage_highest, "charge_voltage_highest", 3.4,
                       3.8);
  if (bank.terminal) {
    out.stud = bank.terminal->stud;
    if (const auto& size = bank.terminal->largest_conductor)
      if (const auto found =
              find_conductor(r, *size, bank.place, "bank/terminal/largest_conductor"))
        out.largest_conductor = found->nominal;
  }
  if (!bank.size.empty() && bank.size.size() != 3)
    r.error(bank.place, "bank/size", "wants three lengths", "length, width and height");
  if (bank.box && !bank.box->size.empty() && bank.box->size.size() != 3)
    r.error(bank.place, "bank/box/size", "wants three lengths", "length, width and height");
  check_room(r, bank, out);
  r.out.bank = std::move(out);
}

}  // namespace housepower::design

// SPDX-License-Identifier: Apache-2.0
// The highest voltages that a run can see, by the part of the network that it lies in.
#include "common.hpp"
#include "housepower/parts/module.hpp"

namespace housepower::checks {
namespace {

using design::resolved::PostId;

/// The posts that runs join with `start`, itself included.
std::vector<bool> joined_with(const design::Design& design, PostId start) {
  std::vector<bool> joined(design->posts.size(), false);
  joined[std::size_t(start.index)] = true;
  for (bool grown = true; grown;) {
    grown = false;
    for (const Run& run : design->runs) {
      const auto from = std::size_t(run.from.index), to = std::size_t(run.to.index);
      if (joined[from] == joined[to]) continue;
      joined[from] = joined[to] = grown = true;
    }
  }
  return joined;
}

std::optional<Voltage> cold_string(const design::Design& design, const design::resolved::Array& array, Working* working) {
  const auto& m = array.module;
  if (!m.voc || !m.voc_coefficient || !design->site.record_low) return std::nullopt;
  const Voltage one = step(working, parts::cold_voltage, *m.voc, *m.voc_coefficient, *design->site.record_low);
  return step(working, parts::string_voltage, Ratio(array.in_series), one);
}

}  // namespace

HighestVoltage highest_charging_voltage(const design::Design& design) {
  HighestVoltage most{14.6 / 12.0 * design->nominal, "the usual end of charge of four LFP cells"};
  bool stated = false;
  const auto take = [&](Voltage v, const std::string& name) {
    if (!stated || v > most.value) most = {v, name};
    stated = true;
  };
  for (const auto& c : design->controllers) take(c.charge_voltage, "from controller " + quoted(c.name));
  for (const auto& c : design->chargers) take(c.charge_voltage, "from charger " + quoted(c.name));
  return most;
}

std::optional<HighestVoltage> highest_voltage_of(const design::Design& design, const Run& run, Working* working) {
  const auto joined = joined_with(design, run.from);
  const auto here = [&](PostId id) { return joined[std::size_t(id.index)]; };
  std::optional<HighestVoltage> most;
  const auto take = [&](Voltage v, const std::string& from) {
    if (!most || v > most->value) most = {v, from};
  };
  for (const auto& array : design->arrays) {
    if (!here(array.post)) continue;
    const auto cold = cold_string(design, array, working);
    if (!cold) return std::nullopt;
    take(*cold, "array " + quoted(array.name) + " open in the cold");
  }
  for (const auto& feed : design->feeds)
    if (here(feed.post)) take(feed.high, "from " + quoted(feed.name));
  if (!most || (design->bank && here(design->bank->post))) {
    const auto charging = highest_charging_voltage(design);
    take(charging.value, charging.from);
  }
  given(working, "U_max", "highest working voltage", most->value, as_stated);
  return most;
}

}  // namespace housepower::checks

// SPDX-License-Identifier: Apache-2.0
// The highest voltages that a run can see, by the part of the network that it lies in.
#include "common.hpp"
#include "housepower/wiring/charging_circuits.hpp"
#include "housepower/wiring/source_ends.hpp"

namespace housepower::checks {
using design::resolved::PostId;

bool is_unlimited(const design::resolved::Post& post) { return wiring::drives_any_current(post); }

HighestVoltage highest_charging_voltage(const design::Design& design) {
  std::optional<HighestVoltage> most;
  const auto take = [&](const auto& one, const std::string& what) {
    if (most && one.charge_voltage <= most->value) return;
    most = {one.charge_voltage, "from " + what + " " + quoted(one.name),
            !is_assumed(design, subject_of(design, one).with("charge_voltage"))};
  };
  for (const auto& c : design->controllers) take(c, "controller");
  for (const auto& c : design->chargers) take(c, "charger");
  return most.value_or(HighestVoltage{14.6 / 12.0 * design->nominal,
                                      "the usual end of charge of four LFP cells", false});
}

std::optional<HighestVoltage> highest_voltage_at(const design::Design& design, PostId post,
                                                 Working* working) {
  const auto here = [&](PostId id) { return design[id].part == design[post].part; };
  std::optional<HighestVoltage> most;
  const auto take = [&](const HighestVoltage& v) {
    if (!most || v.value > most->value) most = v;
  };
  for (const auto& array : design->arrays) {
    if (!here(array.post)) continue;
    const auto cold = wiring::cold_string_voltage(design, array, working);
    if (!cold) return std::nullopt;
    take({*cold, "array " + quoted(array.name) + " open in the cold"});
  }
  for (const auto& feed : design->feeds)
    if (here(feed.post))
      take({feed.high, "from " + quoted(feed.name),
            !is_assumed(design, subject_of(design, feed).with("voltage/high"))});
  if (!most || (design->bank && here(design->bank->post))) take(highest_charging_voltage(design));
  given(working, "U_max", "highest working voltage", most->value,
        most->stated ? as_stated : our_method);
  return most;
}

}  // namespace housepower::checks

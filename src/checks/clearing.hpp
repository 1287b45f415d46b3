// SPDX-License-Identifier: Apache-2.0
// What the rules on clearing faults share.
#pragma once

#include "common.hpp"
#include "housepower/wiring/clearing.hpp"

namespace housepower::checks {

/// Up to this the adiabatic test tells all; beyond it the conductor also gives heat away.
inline constexpr Duration adiabatic_end = 5.0 * second;

/// Of a run's two poles the lower ampacity; nothing where one is not known.
[[nodiscard]] inline std::optional<Current> least_of_poles(const wiring::RunFacts& facts) {
  const auto* out = std::get_if<wiring::Ampacity>(&facts.ampacity);
  const auto* back = std::get_if<wiring::Ampacity>(&facts.ampacity_back);
  if (!out || (facts.back && !back)) return std::nullopt;
  return facts.back ? std::min(out->value, back->value) : out->value;
}

/// The conductor bears the device's rating for good.
[[nodiscard]] inline bool bears_for_good(const Evidence& e, const wiring::DeviceFacts& facts,
                                         const wiring::ProtectedConductor& conductor) {
  if (!conductor.run) return false;
  const auto ampacity = least_of_poles(e.wiring.runs[std::size_t(conductor.run->index)]);
  return ampacity && wiring::device_of(e.design, facts).rating <= *ampacity;
}

/// Of a device that its type's rerating does not reach.
[[nodiscard]] inline std::string too_hot(const Run& run, const Protection& device) {
  return "the " + device.type + " of run " + quoted(run.name) + ": what it carries at " +
         print(device.ambient) + " is not known";
}

/// "run "fridge"", or the lead of a battery.
[[nodiscard]] inline std::string name_of(const Evidence& e,
                                         const wiring::ProtectedConductor& conductor) {
  return conductor.run ? "run " + quoted(e.design[*conductor.run].name)
                       : std::string("the lead of a battery");
}

/// Why a conductor's device cannot be judged at all; empty where it can.
[[nodiscard]] inline std::string cannot_judge(const Evidence& e, const wiring::DeviceFacts& facts) {
  if (!facts.why_no_smallest.empty()) return facts.why_no_smallest;
  if (!facts.why_unknown.empty()) return facts.why_unknown;
  return wiring::time_current_of(wiring::device_of(e.design, facts)).slow.points.empty()
             ? "no time-current curve is known for it"
             : "";
}

/// Where a finding is about another conductor than the device's own, it says which.
[[nodiscard]] inline std::string case_of(const Evidence& e, const wiring::DeviceFacts& facts,
                                         const wiring::ProtectedConductor& conductor) {
  return conductor.run == facts.run ? std::string() : "for " + name_of(e, conductor);
}

}  // namespace housepower::checks

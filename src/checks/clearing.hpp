// SPDX-License-Identifier: Apache-2.0
// What the rules on clearing faults share.
#pragma once

#include "common.hpp"
#include "housepower/wiring/short_circuit.hpp"

namespace housepower::checks {

/// Of a run's two poles the lower ampacity; nothing where one is not known.
[[nodiscard]] inline std::optional<Current> least_of_poles(const wiring::RunFacts& facts) {
  const auto* out = std::get_if<wiring::Ampacity>(&facts.ampacity);
  const auto* back = std::get_if<wiring::Ampacity>(&facts.ampacity_back);
  if (!out || (facts.back && !back)) return std::nullopt;
  return facts.back ? std::min(out->value, back->value) : out->value;
}

/// Of a device that its type's rerating does not reach.
[[nodiscard]] inline std::string too_hot(const Run& run, const Protection& device) {
  return "the " + device.type + " of run " + quoted(run.name) + ": what it carries at " +
         print(device.ambient) + " is not known";
}

/// Copper is liquid above this: freezing point of copper, 1084.62 °C (ITS-90, from memory). Beyond
/// it no temperature is worth printing.
[[nodiscard]] inline bool melts_copper(Temperature reached) { return reached > celsius(1085.0); }

/// "run "fridge"", or the lead of a battery.
[[nodiscard]] inline std::string name_of(const Evidence& e,
                                         const wiring::ProtectedConductor& conductor) {
  return conductor.run ? "run " + quoted(e.design[*conductor.run].name)
                       : std::string("the lead of a battery");
}

/// A conductor and the device that guards it.
struct Guarded {
  const wiring::DeviceFacts& facts;
  const wiring::ProtectedConductor& conductor;
  wiring::Bearing bearing;
  wiring::OpensForSure opens;
  Subject subject;
  std::string who, conductor_name;  // "the post fuse 50 A of run "pump"", "run "pump""
};
[[nodiscard]] inline Guarded guarded(const Evidence& e, const wiring::DeviceFacts& facts,
                                     const wiring::ProtectedConductor& conductor) {
  auto bearing = wiring::bearing_of(e.design, e.wiring, conductor);
  std::string name = name_of(e, conductor);
  if (bearing.by_bond) name = "the bond of the chassis, the way home of " + name + ",";
  return {facts,
          conductor,
          std::move(bearing),
          wiring::opens_for_sure(wiring::device_of(e.design, facts)),
          wiring::subject_of(e.design, facts),
          wiring::name_of(e.design, facts),
          std::move(name)};
}

/// Why a conductor and its device cannot be judged at all; empty where they can.
[[nodiscard]] inline std::string cannot_judge(const Guarded& g) {
  if (!g.facts.why_no_smallest.empty()) return g.facts.why_no_smallest;
  if (!g.facts.why_unknown.empty()) return g.facts.why_unknown;
  if (!g.bearing.ampacity)
    return "the ampacity of " + g.conductor_name + " is not known: " + g.bearing.why_no_ampacity;
  return {};
}
[[nodiscard]] inline Finding not_judged(const Rule& rule, const Guarded& g, const std::string& why,
                                        std::string cure, std::vector<Subject> wants) {
  Finding f = not_checked(rule, g.subject, g.who + ": " + why, std::move(wants));
  f.cure = std::move(cure);
  return f;
}
inline constexpr std::string_view state_insulation =
    "state `insulation` and `insulation_material` as they are";
inline constexpr std::string_view state_curve = "a `curve` from the device's maker";
[[nodiscard]] inline std::vector<Subject> insulation_of(const Evidence& e, const Guarded& g) {
  if (!g.conductor.run) return {};
  const Subject run = subject_of(e.design, e.design[*g.conductor.run]);
  return {run.with("insulation"), run.with("insulation_material")};
}
[[nodiscard]] inline std::vector<Subject> curve_of(const Guarded& g) {
  return {g.subject.with("curve")};
}

/// "opens for sure from 27 A, the first point of its curve".
[[nodiscard]] inline std::string opens_from(const Guarded& g) {
  return "opens for sure from " + print(g.opens.value) +
         (g.opens.read ? ", the first point of its curve"
                       : ", " + print_plain(double(g.opens.multiple), 3) +
                             " times its rating, since no gate of it was read");
}

/// Where a finding is about another conductor than the device's own, it says which.
[[nodiscard]] inline std::string case_of(const Evidence& e, const wiring::DeviceFacts& facts,
                                         const wiring::ProtectedConductor& conductor) {
  return conductor.run == facts.run ? std::string() : "for " + name_of(e, conductor);
}

}  // namespace housepower::checks

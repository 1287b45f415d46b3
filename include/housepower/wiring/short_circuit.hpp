// SPDX-License-Identifier: Apache-2.0
// How a conductor and its device come through a short circuit, in this order:
// borne: the largest fault at the far end is no more than the conductor bears for good;
// overload: the device protects against overload (I_B ≤ I_n ≤ I_z, and it opens for sure at no more
//   than 1.45 I_z), so that whatever it does not see the conductor bears;
// short circuit: else it must open before the conductor is too hot.
#pragma once

#include <optional>
#include <span>
#include <string>

#include "housepower/wiring/assessment.hpp"
#include "housepower/wiring/clearing.hpp"

namespace housepower::wiring {

enum class Guard { borne, overload, short_circuit };

/// The least overload for which a device must open (IEC 60364-4-43, 433.1, from memory).
inline constexpr Formula overload_limit{
    "I_o",
    "overload at which the device must have opened",
    "1.45 · I_z",
    {{"I_z", "ampacity"}},
    Source{SourceKind::from_memory, "IEC 60364-4-43:2008", "433.1"},
    [](Current ampacity) -> Current { return 1.45 * ampacity; }};

/// Of several conductors in parallel the share of one.
inline constexpr Formula share_of_one{
    "I_1",
    "share of one of the conductors in parallel",
    "I / n",
    {{"I", "current of all"}, {"n", "conductors in parallel"}},
    Source{SourceKind::common_practice, "conductors alike in parallel", ""},
    [](Current all, Ratio n) -> Current { return all / double(n); }};

/// Up to this the adiabatic test tells all; beyond it the conductor also gives heat away.
inline constexpr Duration adiabatic_end = Duration::from_value(5.0);

/// What a conductor bears for good and in a short circuit: of a run's two poles the weaker figures.
struct Bearing {
  std::optional<Current> ampacity{};  // of the whole pole, with the two temperatures of it
  Temperature ambient{}, limit{};
  Source source{};  // of the ampacity
  std::string why_no_ampacity{};
  const tables::WithstandFactor* factor = nullptr;  // null: no k is known for its insulation
  const tables::Conductor* conductor = nullptr;     // the one with less copper
  int parallel = 1;
  bool by_bond = false;  // it is the bond of the chassis, by which the run returns
};
[[nodiscard]] Bearing bearing_of(const design::Design&, const Assessment&,
                                 const ProtectedConductor&);

/// I_B ≤ I_n ≤ I_z and I_2 ≤ 1.45 I_z.
[[nodiscard]] bool guards_overload(const design::Design&, const Assessment&, const DeviceFacts&,
                                   const Bearing&);

/// How hot a conductor gets, and at which current.
struct Warming {
  Temperature reached{};
  Current at{};
  std::optional<Duration> time{};  // nothing: the device need not open, and it goes on for ever
};

/// A device against the smallest fault of one unlimited source at the far end of a conductor.
struct FarFault {
  Guard guard = Guard::short_circuit;
  Current smallest{};
  Current from{};  // the smallest, or I_z where that is more: what is judged of a short circuit
  OpensForSure opens{};
  std::optional<Duration> clears{};     // at `from`, at the latest; nothing: it need not open
  std::optional<Duration> withstood{};  // adiabatic; nothing: no k is known
  std::optional<Warming> warming{};     // where it takes over 5 s
};
[[nodiscard]] FarFault far_fault_of(const design::Design&, const Assessment&, const DeviceFacts&,
                                    const ProtectedConductor&, const SmallestFault& of_source,
                                    Working* = nullptr);
/// The same, whatever else guards the conductor: as if the device served for short circuits only.
[[nodiscard]] FarFault short_circuit_of(const design::Design&, const Assessment&,
                                        const DeviceFacts&, const ProtectedConductor&,
                                        const SmallestFault& of_source, Working* = nullptr);
/// It opens for sure, and before the conductor is too hot.
[[nodiscard]] bool clears_in_time(const FarFault&, const Bearing&);

/// The heat of every fault from 1.45 I_z up to the largest, on the slow edge. Nothing of either kind
/// where no fault is of it, no curve, no k or no ampacity is known.
struct FaultHeat {
  std::optional<LargestLetThrough> let_through{};  // the most of what opens within 5 s
  std::optional<LetThrough> withstand{};
  std::optional<Warming> warming{};  // the worst of what takes longer
  Current from{};
  bool without_end = false;  // the conductor bears nothing for good, and the device need not open
  /// The warming uses up more of what the insulation bears than the let-through does.
  bool warming_is_worse = false;
};
/// Without the warming of what takes longer.
[[nodiscard]] FaultHeat quick_heat_of(const design::Design&, const Assessment&, const DeviceFacts&,
                                      const ProtectedConductor&);
/// The working is that of the worse of the two. `least`: the smallest fault that is asked in place of
/// 1.45 I_z, where no overload can arise.
[[nodiscard]] FaultHeat fault_heat_of(const design::Design&, const Assessment&, const DeviceFacts&,
                                      const ProtectedConductor&, Working* = nullptr,
                                      std::optional<Current> least = {});
/// No fault of it makes the conductor hotter than its insulation bears in a short circuit.
[[nodiscard]] bool is_borne(const FaultHeat&, const Bearing&);

}  // namespace housepower::wiring

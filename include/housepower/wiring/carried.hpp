// SPDX-License-Identifier: Apache-2.0
// What a pole of a run, a return that others share, or a node carries at most: its largest steady
// current, and no more than the devices let through that all of it must pass.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "housepower/wiring/assessment.hpp"

namespace housepower::wiring {

/// Of the outgoing conductor: its load, or what its own device lets through if that is less. Of the
/// return: its load, or the sum of the devices of all runs that share it, if each of them has one.
[[nodiscard]] Current carried_of(const design::Design&, const Assessment&, design::resolved::RunId,
                                 design::Pole, Working* = nullptr);

/// What an overload brings home through a return that runs share, and no device ends: the sum of the
/// devices of those runs, or the devices before them if that is less; a run to loads alone counts only
/// as far as sources on this side feed it. Nothing where one run alone uses it, where it is not the
/// only way home, or where no device holds that.
[[nodiscard]] std::optional<Current> let_home_of(const design::Design&, const Assessment&,
                                                 design::resolved::RunId, Working* = nullptr);

/// The largest steady current through the bond of the chassis: what leaves the chassis at each place
/// beyond what comes to it there, of all runs that return by it.
[[nodiscard]] Current through_bond(const design::Design&, const Assessment&, Working* = nullptr);
/// What an overload brings through it: the devices of those runs, or those before them if that is less.
/// Nothing where no run returns by the chassis, or no device holds it.
[[nodiscard]] std::optional<Current> let_through_bond(const design::Design&, const Assessment&,
                                                      Working* = nullptr);
/// Nothing where its conductor is not stated.
[[nodiscard]] std::optional<AmpacityAnswer> ampacity_of_bond(const design::Design&,
                                                             Working* = nullptr);

/// A return that has others beside it, so that the current comes home by several ways: what it
/// would carry if that one of the others opened which is worst for it.
struct IfOneOpens {
  design::resolved::RunId run, opened;
  Current load{};  // before devices
};
/// Of every run whose return has another way beside it.
[[nodiscard]] std::vector<IfOneOpens> if_a_return_opens(const design::Design&, const Assessment&);
[[nodiscard]] Current carried_if(const design::Design&, const IfOneOpens&, Working* = nullptr);

/// Ampacity of what is left of parallel conductors if one of them opens.
inline constexpr Formula left_if_one_opens{
    "I_left",
    "ampacity of the parallel conductors that are left if one opens",
    "I_z · (n - 1) / n",
    {{"I_z", "ampacity of all of them"}, {"n", "conductors in parallel"}},
    Source{SourceKind::common_practice, "conductors that are alike share alike", ""},
    [](Current all, Ratio n) -> Current { return all * ((double(n) - 1.0) / double(n)); }};

/// The largest steady current through a node: what flows into it, each run held by its own device; or
/// what comes home through it, each return held by the devices of the runs that share it, if that is more.
[[nodiscard]] Current through_node(const design::Design&, const Assessment&,
                                   design::resolved::PostId, Working* = nullptr);

}  // namespace housepower::wiring

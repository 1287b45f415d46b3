// SPDX-License-Identifier: Apache-2.0
// What can be driven into the end of a run, by every path and from every source at once: each path
// carries no more than its smallest device, each limited source no more than its limit. And what
// passes through jump posts and between parallel batteries.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "housepower/design/design.hpp"
#include "housepower/wiring/neighbours.hpp"
#include "housepower/working/working.hpp"

namespace housepower::wiring {

/// A source that drives any current: the bank, a feed, a jump post that is not for waking only.
[[nodiscard]] bool drives_any_current(const design::resolved::Post&);

/// Largest current of an array as a source, in bright sun and lasting.
inline constexpr Formula array_limit{
    "I_a",
    "largest current of an array as a source",
    "n · I_sc · 1.25 · 1.25",
    {{"n", "strings in parallel"}, {"I_sc", "short-circuit current of a module"}},
    Source{SourceKind::published, "an equipment manual", "p. 39: I_sc × 1.25, and × 1.25 again"},
    [](Ratio strings, Current isc) -> Current { return double(strings) * isc * 1.25 * 1.25; }};

/// What the others of a set of parallel batteries drive into one that fails.
inline constexpr Formula fault_of_the_others{
    "I_o",
    "what the other batteries drive into one that fails",
    "(n - 1) · U / R_b",
    {{"n", "batteries in parallel"},
     {"U", "open-circuit voltage, full and rested"},
     {"R_b", "low resistance of one battery"}},
    Source{SourceKind::published, "a circuit-breaker maker's d.c. guide",
           "I_k = U / R of each, batteries in parallel add"},
    [](Ratio n, Voltage u, Resistance r) -> Current { return (double(n) - 1.0) * (u / r); }};

/// What two batteries exchange through jump posts.
inline constexpr Formula jump_current{
    "I_j",
    "current through the jump posts",
    "(U_1 - U_2) / (R_1 + R_2)",
    {{"U_1", "open-circuit voltage of what gives"},
     {"U_2", "voltage of what takes"},
     {"R_1", "resistance of the bank and its way to the posts"},
     {"R_2", "resistance of the vehicle and its leads"}},
    Source{SourceKind::from_memory, "judgement",
           "a vehicle battery behind 5 mΩ: 13.0 V while it charges, 9.6 V while it starts"},
    [](Voltage gives, Voltage takes, Resistance bank, Resistance vehicle) -> Current {
      return (gives - takes) / (bank + vehicle);
    }};

/// What the sources among these posts give at once; nothing where one of them gives any current.
[[nodiscard]] std::optional<Current> given_among(const design::Design&, const Reached&);

/// What all sources together can drive into an end of a run while the run itself is taken out.
struct Reaching {
  std::string unlimited;            // a source of any current that no device holds; else empty
  Current most{};                   // else no more than this
  std::vector<Term<Current>> held;  // the devices and limits that hold it there, adding up to it
  std::string why_unknown;          // a limit on the way is not stated
};
[[nodiscard]] Reaching reaching(const design::Design&, design::resolved::RunId without,
                                design::resolved::PostId end, Working* = nullptr);

/// What reaches both ends of each run.
struct RunEnds {
  Reaching from, to;
};
[[nodiscard]] design::resolved::PerRun<RunEnds> reaching_ends(const design::Design&);
/// What reaches an end and is held, again with its working.
[[nodiscard]] Current reaching_of(const design::Design&, const Reaching&, Working*);

/// What comes through jump posts for charging from a vehicle into the empty bank, or for starting a
/// vehicle out of the full one, joints and devices nothing; nothing where no bank is reached.
[[nodiscard]] std::optional<Current> jump_current_of(const design::Design&,
                                                     design::resolved::PostId, Working* = nullptr);
/// What the other batteries drive into one of them that fails.
[[nodiscard]] Current others_into_one(const design::Design&, Working* = nullptr);

}  // namespace housepower::wiring

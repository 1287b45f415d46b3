// SPDX-License-Identifier: Apache-2.0
// Which devices stand between a place and the sources of any current, and what they make of a fault
// at the end of a tap: a stretch of a run before the run's own device.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "housepower/wiring/assessment.hpp"

namespace housepower::wiring {

/// The nearest device on one way from a post towards a source of any current; of several on one run
/// the smallest, for it holds the run.
struct DeviceBefore {
  std::optional<design::resolved::RunId> run;  // nothing: at each battery of the bank
  std::size_t number = 0;                      // of the run's protection list
  Current rating{};                            // where each battery has one, of all together
};
/// One for each way that leads to such a source.
struct DevicesBefore {
  std::vector<DeviceBefore> nearest;
  std::string unheld;  // a source that reaches the post without any device; else empty
};
/// Seen from a post while one run (or none) is taken out. `plus`: the neighbours on the plus side.
[[nodiscard]] DevicesBefore devices_before(const design::Design&, const Neighbours& plus,
                                           design::resolved::PostId,
                                           design::resolved::RunId without = {});
/// The largest device that stands before an item of that run, seen from each such source:
/// the run's own at that end where the item lies behind it, else the nearest before the run; nothing
/// where no device or source is.
[[nodiscard]] std::optional<DeviceBefore> largest_before_item(const design::Design&,
                                                              const Neighbours& plus,
                                                              design::resolved::RunId,
                                                              const design::resolved::InlineItem&);
/// The same for a post where runs meet.
[[nodiscard]] std::optional<DeviceBefore>
largest_before_post(const design::Design&, const Neighbours& plus, design::resolved::PostId);
/// The same of what comes home through the return of a run: the largest nearest device of the runs that
/// share it. Nothing where it is not the only way home.
[[nodiscard]] std::optional<DeviceBefore> largest_home_of(const design::Design&, const Assessment&,
                                                          design::resolved::RunId);
/// The same of all returns that meet at a post.
[[nodiscard]] std::optional<DeviceBefore>
largest_home_through(const design::Design&, const Assessment&, design::resolved::PostId);
/// "the 50 A post fuse of run "bank to panel"".
[[nodiscard]] std::string name_of(const design::Design&, const DeviceBefore&);

/// What a device before a tap makes of a fault at the tap's far end, `length` along its run from
/// `post`: it serves there for short circuits only.
struct TapFault {
  std::string why_unknown;  // no curve, no resistance, no insulation; else empty
  Current smallest{};       // of the fault
  bool clears = false;    // opens for sure before the tap is too hot, at that fault and all larger
  bool supplied = false;  // rests on figures of the source that the program supplied
};
[[nodiscard]] TapFault fault_at_tap(const design::Design&, const Assessment&,
                                    design::resolved::RunId tap, design::resolved::PostId post,
                                    Length length, const DevicesBefore&, const DeviceBefore&,
                                    Working* = nullptr);

}  // namespace housepower::wiring

// SPDX-License-Identifier: Apache-2.0
// The state of a choice: which runs are open, how large each is now, and what stands in the way.
#pragma once

#include <set>
#include <span>

#include "devices.hpp"

namespace housepower::choice::inside {

struct Open {
  std::size_t run = 0;
  bool conductor = true;  // false: only devices are wanted
  std::size_t size = 0;   // in the series
  std::size_t end = 0;    // one past the largest size that may be tried
  std::vector<WantedDevice> devices{};
  std::string why_none{};  // filled: given up, and left open
  std::vector<TooSmall> smaller{};
};

struct Search {
  const design::Document& document;
  const tables::Tables& tables;
  energy::Assessment energy;
  Standing before;
  std::span<const tables::Conductor> series;
  std::vector<Offer> offers;
  std::vector<Open> open{};
  std::set<std::pair<std::string_view, Subject>> excused{};  // rule and subject
  std::map<std::pair<std::string_view, Subject>, double> last_margin{};
  int checks = 0, limit = 0;
};

[[nodiscard]] Open* open_of(Search&, std::size_t run);
[[nodiscard]] design::Document document_of(const Search&);

/// The present state tried, with the devices that fit it. Nothing: it does not resolve.
[[nodiscard]] std::optional<Trial> settle(Search&);
/// A wanted device that nothing fits, with its run.
[[nodiscard]] const Open* lacking(const Search&);

/// What is beyond its limit and hangs on an open run, or is new to such a place.
[[nodiscard]] std::vector<const Finding*> concerns(Search&, const Trial&);

/// Grows and shrinks conductors and changes devices until nothing is beyond its limit, giving up
/// runs for which nothing helps. False: the limit of checks was reached.
[[nodiscard]] bool climb(Search&);
/// Takes each size down as far as all rules hold, until none can go lower alone; notes why.
[[nodiscard]] bool lower(Search&);
/// Leaves out devices that nothing asks for any more.
void spare_devices(Search&);

}  // namespace housepower::choice::inside

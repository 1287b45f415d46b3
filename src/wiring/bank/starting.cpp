// SPDX-License-Identifier: Apache-2.0
// Starts, each solved as a case of its own, and the fast edge of devices.
#include "housepower/wiring/starting.hpp"

#include "../inside.hpp"
#include "housepower/wiring/clearing.hpp"

namespace housepower::wiring {

using namespace inside;

std::vector<CaseResult> starting_cases(const design::Design& d, const Assessment& a) {
  std::vector<CaseResult> all;
  std::optional<Solvable> s;
  LoadCase heaviest;
  for (std::size_t i = 0; i < d->appliances.size(); ++i) {
    const Appliance& starter = d->appliances[i];
    if (!starter.starting) continue;
    if (!s) {
      s.emplace(network_in_use(d, a));
      heaviest = heaviest_case(d, a, *s, -1);
    }
    LoadCase c = heaviest;
    c.starting = ApplianceId{int(i)};
    c.name += ", " + starter.name + " starting";
    all.push_back(solve_case(d, a, *s, c, {}));
  }
  return all;
}

Power asked_at_start(const design::Design& d, const LoadCase& c, InverterId id, Working* working) {
  std::vector<Term<Power>> terms;
  for (std::size_t i = 0; i < d->appliances.size(); ++i) {
    const Appliance& a = d->appliances[i];
    if (!a.inverter || a.inverter->index != id.index) continue;
    const bool starts = c.starting == ApplianceId{int(i)} && a.starting;
    const bool runs =
        std::find(c.running.begin(), c.running.end(), ApplianceId{int(i)}) != c.running.end();
    if (starts) terms.push_back({a.name + " starting", start_power(a)});
    const double others = starts ? a.quantity - 1 : runs ? a.quantity : 0;
    if (others > 0.0) terms.push_back({a.name, others * a.power});
  }
  return sum(working, "P_ac", "asked of the inverter at the start", terms);
}

Power asked_together(const design::Design& d, const LoadCase& c, InverterId id, Working* working) {
  std::vector<Term<Power>> terms;
  for (std::size_t i = 0; i < d->appliances.size(); ++i) {
    const Appliance& a = d->appliances[i];
    const ApplianceId own{int(i)};
    const bool runs =
        c.starting == own || std::find(c.running.begin(), c.running.end(), own) != c.running.end();
    if (!runs || !a.inverter || a.inverter->index != id.index) continue;
    terms.push_back({a.name, double(a.quantity) * a.power / double(a.power_factor)});
  }
  return sum(working, "S_ac", "asked of the inverter together, each power over its power factor",
             terms);
}

std::optional<Holds> holds_for(const Protection& p, Current i, Working* working) {
  const Edge fast = time_current_of(p).fast;
  if (i <= p.rating) {
    step(working, multiple_of_rating, i, p.rating);
    return Holds{std::nullopt, fast.source};
  }
  if (fast.points.empty()) return std::nullopt;
  // below the first gate it may open as fast as there
  const Current first = p.rating * double(fast.points.front().multiple);
  return Holds{time_at(fast, p.rating, std::max(i, first), working), fast.source};
}

}  // namespace housepower::wiring

// SPDX-License-Identifier: Apache-2.0
// Starts, each solved as a case of its own, and the fast edge of devices.
#include "housepower/wiring/starting.hpp"

#include "inside.hpp"

namespace housepower::wiring {

using namespace inside;

namespace {

struct Point {
  Ratio multiple;
  Duration time;
};
struct FastEdge {
  std::vector<Point> points;  // rising multiples
  Source source;
};

std::vector<Point> points_of(const std::vector<design::CurvePoint>& curve, double share) {
  std::vector<Point> points;
  for (const auto& p : curve) points.push_back({p.multiple, share * p.time});
  return points;
}

FastEdge fast_edge_of(const Protection& p) {
  if (!p.curve_fast.empty())
    return {points_of(p.curve_fast, 1.0),
            {SourceKind::supplier, p.type, "fastest times as stated"}};
  if (!p.curve.empty())
    return {points_of(p.curve, 0.1),
            {SourceKind::from_memory, p.type, "a tenth of the slowest times stated"}};
  FastEdge edge{{}, {SourceKind::published, p.type, "fastest times"}};
  if (!p.fuse) return edge;
  for (const auto& range : p.fuse->gates) {
    if (p.rating < range.from || p.rating > range.to) continue;
    for (const auto& gate : range.gates)
      if (gate.fastest) {
        edge.points.push_back({gate.multiple, *gate.fastest});
        edge.source = edge.points.size() == 1 ? gate.source : weaker(edge.source, gate.source);
      }
    break;
  }
  return edge;
}

}  // namespace

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

std::optional<Holds> holds_for(const Protection& p, Current i, Working* working) {
  const Ratio m = step(working, multiple_of_rating, i, p.rating);
  const FastEdge edge = fast_edge_of(p);
  if (double(m) <= 1.0) return Holds{std::nullopt, edge.source};
  if (edge.points.empty()) return std::nullopt;
  const auto& points = edge.points;
  const auto shown = [&](const Point& at) {
    return given(working, "t", "fastest time at the point of the curve", at.time, edge.source);
  };
  if (m <= points.front().multiple)  // it may open as fast as there
    return Holds{shown(points.front()), edge.source};
  for (std::size_t k = 1; k < points.size(); ++k)
    if (m <= points[k].multiple)
      return Holds{step(working, time_between_gates, m, points[k - 1].multiple, points[k - 1].time,
                        points[k].multiple, points[k].time),
                   edge.source};
  return Holds{step(working, time_beyond_gates, points.back().time, points.back().multiple, m),
               edge.source};
}

}  // namespace housepower::wiring

// SPDX-License-Identifier: Apache-2.0
// A conductor and its device in a short circuit: which of the three ways guards it, and the heat of
// every fault between an overload and the largest one.
#include "housepower/wiring/short_circuit.hpp"
#include "housepower/wiring/carried.hpp"

#include <cmath>

#include "../inside.hpp"
#include "housepower/wiring/links.hpp"

namespace housepower::wiring {

using namespace inside;

namespace {

/// Shares of an insulation's room up to its limit are compared at so many currents between two gates.
constexpr int currents_between_gates = 50;

void take(Bearing& b, const AmpacityAnswer& answer) {
  const auto* found = std::get_if<Ampacity>(&answer);
  if (!found) {
    b.why_no_ampacity = std::get<NoAmpacity>(answer).why;
    return;
  }
  if (b.ampacity && *b.ampacity <= found->value) return;
  b.ampacity = found->value;
  b.ambient = found->ambient_used;
  b.limit = found->limit;
  b.source = found->source;
}

/// Its temperature when the device opens at a current; the two are those of one conductor.
Temperature warmed(const Bearing& b, LetThrough withstood, Current i, std::optional<Duration> time,
                   Working* working) {
  const Source& source = b.source;
  Current bears = given(working, "I_z", "ampacity at that ambient", *b.ampacity, source);
  if (b.parallel > 1) {
    const Ratio n = double(b.parallel);
    bears = step(working, share_of_one, bears, n);
    i = step(working, share_of_one, i, n);
  }
  given(working, "T_a", "ambient of its hottest stretch", b.ambient, source);
  given(working, "T_max", "conductor temperature for which the ampacity holds", b.limit, source);
  if (!time) return step(working, conductor_temperature, b.ambient, b.limit, i, bears);
  const Temperature end = given(working, "T_sc", "limit of the insulation in a short circuit",
                                b.factor->to, b.factor->source);
  const Duration tau = step(working, time_constant, withstood, bears, b.limit, b.ambient, end);
  return step(working, warmed_up, b.ambient, b.limit, i, bears, *time, tau);
}

/// Ambient below the limit, and both below that of a short circuit: else nothing bears anything.
bool can_warm(const Bearing& b) {
  return b.ampacity && b.ampacity->value() > 0.0 && b.factor && b.ambient < b.limit &&
         b.limit < b.factor->to;
}

/// The currents at which the heat is asked for: the ends, the gates, and many between them.
std::vector<Current> currents_between(const Edge& edge, Current rating, Current from, Current to) {
  std::vector<Current> ends{from};
  for (const auto& point : edge.points) {
    const Current gate = rating * double(point.multiple);
    if (from < gate && gate < to) ends.push_back(gate);
  }
  ends.push_back(to);
  std::vector<Current> all;
  for (std::size_t i = 1; i < ends.size(); ++i) {
    const double whole = std::log(double(ends[i] / ends[i - 1]));
    for (int n = 0; n < currents_between_gates; ++n)
      all.push_back(ends[i - 1] * std::exp(whole * n / currents_between_gates));
  }
  all.push_back(to);
  return all;
}

/// The hottest of the faults that take longer than the adiabatic test covers.
std::optional<Warming> hottest(const Bearing& b, LetThrough withstood, const Edge& edge,
                               Current rating, Current from, Current to) {
  std::optional<Warming> most;
  const auto take_one = [&](Current i, std::optional<Duration> time) {
    const Temperature t = warmed(b, withstood, i, time, nullptr);
    if (!most || most->reached < t) most = Warming{t, i, time};
  };
  const Current opens = rating * double(edge.points.front().multiple);
  if (from < opens) take_one(std::min(opens, to), std::nullopt);
  from = std::max(from, opens);
  if (to < from) return most;
  for (const Current& i : currents_between(edge, rating, from, to)) {
    const auto time = time_at(edge, rating, i);
    if (time) take_one(i, time);
  }
  return most;
}

/// Of a run that returns by the chassis: the bond is its way home where it is the thinner conductor.
void come_home_by_bond(const design::Design& d, Bearing& b) {
  const auto bond = ampacity_of_bond(d);
  if (!bond || !b.ampacity ||
      !(d->bond->conductor->copper < b.conductor->copper * double(b.parallel)))
    return;
  take(b, *bond);
  if (!b.why_no_ampacity.empty()) b.ampacity.reset();
  b.conductor = &*d->bond->conductor;
  b.parallel = 1;
  b.by_bond = true;
  b.factor = least_withstand_row_of(*d->tables, b.limit);
}

}  // namespace

Bearing bearing_of(const design::Design& d, const Assessment& a,
                   const ProtectedConductor& conductor) {
  Bearing b;
  if (!conductor.run) {
    if (!d->bank->lead) {
      b.why_no_ampacity = "no lead is stated";
      return b;
    }
    take(b, ampacity_of_lead(d, *d->bank->lead));
    b.conductor = &d->bank->lead->conductor;
    b.factor = least_withstand_row_of(*d->tables, b.limit);
    return b;
  }
  const Run& run = d[*conductor.run];
  if (!run.conductor) {
    b.why_no_ampacity = "run \"" + run.name + "\" has no conductor";
    return b;
  }
  const RunFacts& facts = a.runs[*conductor.run];
  take(b, facts.ampacity);
  if (!run.back.chassis) take(b, facts.ampacity_back);
  if (!b.why_no_ampacity.empty()) b.ampacity.reset();
  b.conductor = &*run.conductor;
  if (!run.back.chassis && run.back.conductor && run.back.conductor->copper < b.conductor->copper)
    b.conductor = &*run.back.conductor;
  b.parallel = run.parallel;
  b.factor = withstand_row_of(*d->tables, run.material, run.insulation, *b.conductor);
  if (run.back.chassis) come_home_by_bond(d, b);
  return b;
}

bool guards_overload(const design::Design& d, const Assessment& a, const DeviceFacts& facts,
                     const Bearing& b) {
  if (!b.ampacity) return false;
  const Protection& device = device_of(d, facts);
  const bool known = !facts.run || a.runs[*facts.run].current.why_unknown.empty();
  const Current load = facts.run ? a.runs[*facts.run].current.outgoing : current_in_leads(a);
  return known && load <= device.rating && device.rating <= *b.ampacity &&
         opens_for_sure(device).value <= overload_limit(*b.ampacity);
}

FarFault short_circuit_of(const design::Design& d, const Assessment& a, const DeviceFacts& facts,
                          const ProtectedConductor& conductor, const SmallestFault& of_source,
                          Working* working) {
  const Protection& device = device_of(d, facts);
  const Bearing b = bearing_of(d, a, conductor);
  FarFault f;
  f.smallest = f.from = smallest_fault(of_source, working);
  f.opens = opens_for_sure(device, working);
  if (b.ampacity)
    f.from =
        std::max(f.from, given(working, "I_z", "ampacity of the conductor", *b.ampacity, b.source));
  f.clears = time_at(time_current_of(device).slow, device.rating, f.from, working);
  if (!f.clears || !b.factor || !(f.from.value() > 0.0)) return f;
  const LetThrough most = withstand_of(*b.factor, *b.conductor, working);
  if (*f.clears <= adiabatic_end || !can_warm(b))
    f.withstood = step(working, withstood_for, most, f.from);
  else f.warming = Warming{warmed(b, most, f.from, f.clears, working), f.from, f.clears};
  return f;
}

bool clears_in_time(const FarFault& f, const Bearing& b) {
  if (!f.clears) return false;
  return f.warming ? f.warming->reached <= b.factor->to : f.withstood && *f.clears <= *f.withstood;
}

FarFault far_fault_of(const design::Design& d, const Assessment& a, const DeviceFacts& facts,
                      const ProtectedConductor& conductor, const SmallestFault& of_source,
                      Working* working) {
  const Bearing b = bearing_of(d, a, conductor);
  FarFault f;
  if (!b.ampacity) return short_circuit_of(d, a, facts, conductor, of_source, working);
  if (of_source.strongest && *of_source.strongest <= *b.ampacity) f.guard = Guard::borne;
  else if (guards_overload(d, a, facts, b)) f.guard = Guard::overload;
  else return short_circuit_of(d, a, facts, conductor, of_source, working);
  const Protection& device = device_of(d, facts);
  f.smallest = f.from = smallest_fault(of_source, working);
  f.opens = opens_for_sure(device, working);
  f.clears = time_at(time_current_of(device).slow, device.rating, f.smallest);
  given(working, "I_z", "ampacity of the conductor", *b.ampacity, b.source);
  if (f.guard == Guard::borne)
    given(working, "I_max", "largest fault at the far end, of that source at its strongest",
          *of_source.strongest, solution(SourceKind::common_practice));
  else (void)step(working, overload_limit, *b.ampacity);
  return f;
}

namespace {

/// From which current on the adiabatic test is asked: where the device opens within 5 s. A conductor
/// that is as hot as it may be already has no time to give heat away.
Current quick_from(const Bearing& b, const Edge& slow, Current rating) {
  return can_warm(b) ? *current_at(slow, rating, adiabatic_end)
                     : rating * double(slow.points.front().multiple);
}

FaultHeat quick_heat(const Bearing& b, const Edge& slow, const Protection& device,
                     std::optional<Current> largest, std::optional<Current> least = {}) {
  FaultHeat heat;
  if (slow.points.empty() || !b.factor || !b.ampacity || !largest) return heat;
  heat.withstand = withstand_of(*b.factor, *b.conductor);
  heat.from = std::min(least.value_or(overload_limit(*b.ampacity)), *largest);
  const Current quick = quick_from(b, slow, device.rating);
  heat.without_end = !can_warm(b) && heat.from < quick;
  heat.let_through = largest_let_through(slow, device.rating, std::max(heat.from, quick), *largest);
  if (*largest < quick) heat.let_through.reset();
  return heat;
}

}  // namespace

FaultHeat quick_heat_of(const design::Design& d, const Assessment& a, const DeviceFacts& facts,
                        const ProtectedConductor& conductor) {
  const Protection& device = device_of(d, facts);
  return quick_heat(bearing_of(d, a, conductor), time_current_of(device).slow, device,
                    facts.largest);
}

FaultHeat fault_heat_of(const design::Design& d, const Assessment& a, const DeviceFacts& facts,
                        const ProtectedConductor& conductor, Working* working,
                        std::optional<Current> least) {
  const Protection& device = device_of(d, facts);
  const Edge slow = time_current_of(device).slow;
  const Bearing b = bearing_of(d, a, conductor);
  FaultHeat heat = quick_heat(b, slow, device, facts.largest, least);
  if (!heat.withstand) return heat;
  const Current to = *facts.largest, quick = quick_from(b, slow, device.rating);
  if (can_warm(b) && heat.from < quick)
    heat.warming = hottest(b, *heat.withstand, slow, device.rating, heat.from, std::min(to, quick));
  const double burnt = heat.let_through ? double(heat.let_through->value / *heat.withstand) : -1.0;
  const double warm =
      heat.warming ? double((heat.warming->reached - b.limit) / (b.factor->to - b.limit)) : -1.0;
  heat.warming_is_worse = heat.warming && (!heat.let_through || warm > burnt);
  if (!working) return heat;
  given(working, "I_z", "ampacity of the conductor", *b.ampacity, b.source);
  if (!least) (void)step(working, overload_limit, *b.ampacity);
  const LetThrough most = withstand_of(*b.factor, *b.conductor, working);
  if (heat.warming_is_worse) {
    const Warming& w = *heat.warming;
    given(working, "I", "fault, of those that take over 5 s, that heats most", w.at,
          solution(SourceKind::common_practice));
    if (w.time) (void)time_at(slow, device.rating, w.at, working);
    (void)warmed(b, most, w.at, w.time, working);
  } else if (heat.let_through) {
    (void)largest_let_through(slow, device.rating, std::max(heat.from, quick), to, working);
  }
  return heat;
}

bool is_borne(const FaultHeat& heat, const Bearing& b) {
  if (!heat.withstand || !b.factor || heat.without_end) return false;
  return (!heat.let_through || heat.let_through->value <= *heat.withstand) &&
         (!heat.warming || heat.warming->reached <= b.factor->to);
}

}  // namespace housepower::wiring

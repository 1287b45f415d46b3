// SPDX-License-Identifier: Apache-2.0
// The smallest conductors that would do for a run, and the one it is reckoned with where the design
// leaves it open: for its ampacity, its devices, and a drop in this run alone that its strictest
// consumer may have.
#include "../inside.hpp"

namespace housepower::wiring {

using namespace inside;

namespace {

std::optional<Voltage> strictest_drop(const design::Design& d,
                                      const std::vector<Consumer>& beyond) {
  std::optional<Voltage> least;
  for (const Consumer& c : beyond) {
    using Kind = Consumer::Kind;
    if (c.kind != Kind::appliance && c.kind != Kind::inverter && c.kind != Kind::charger_in)
      continue;
    const auto index = drop_class_of(d, c);
    if (index >= d->profile->drop_classes.size()) continue;
    const auto& limit = d->profile->drop_classes[index];
    const auto volts = limit.volts   ? limit.volts
                       : limit.share ? std::optional<Voltage>(d->nominal * double(*limit.share))
                                     : std::nullopt;
    if (volts && (!least || *volts < *least)) least = volts;
  }
  return least;
}

bool large_enough(const design::Design& d, const tables::Conductor& c) {
  return !d->profile->smallest || c.nominal >= *d->profile->smallest;
}

/// A load that draws more where its cable loses more.
bool draws_power(const design::Design& d, const Consumer& c) {
  if (c.kind == Consumer::Kind::appliance)
    return d->appliances[{c.index}].behaves == design::Behaviour::constant_power;
  return c.kind == Consumer::Kind::inverter || c.kind == Consumer::Kind::charger_in;
}

/// What flows where as much is lost as may be.
Current at_the_limit(const design::Design& d, const std::vector<Consumer>& beyond, Current nominal,
                     const std::optional<Voltage>& drop) {
  const bool grows = drop && *drop < d->nominal &&
                     std::any_of(beyond.begin(), beyond.end(),
                                 [&](const Consumer& c) { return draws_power(d, c); });
  return grows ? nominal * (d->nominal / (d->nominal - *drop)) : nominal;
}

}  // namespace

void inside::choose_conductors(const design::Design& d, const std::vector<Consumer>& beyond,
                               Current in_cases, const Run& run, RunFacts& facts) {
  const auto series = tables::series_named(*d->tables, d->sizes);
  const auto drop_limit = strictest_drop(d, beyond);
  const Current most = at_the_limit(d, beyond, in_cases, drop_limit);
  Current needed = std::max(facts.current.outgoing, facts.current.back);
  for (const auto& device : run.protection) needed = std::max(needed, device.rating);
  // a return of its own size stays as it is
  const bool own_return =
      run.back.conductor && (!run.conductor || run.back.conductor->name != run.conductor->name);
  for (const tables::Conductor& c : series) {
    if (facts.smallest) break;  // the others are no larger
    const auto answer = ampacity_of(d, run, c, design::Pole::outgoing);
    const auto* ampacity = std::get_if<Ampacity>(&answer);
    const bool bears = ampacity && ampacity->value >= needed;
    if (bears && !facts.smallest_for_ampacity) facts.smallest_for_ampacity = c;
    const Temperature t = temperature_of(run, answer, in_cases);
    const tables::Conductor* back = run.back.chassis ? nullptr
                                    : own_return     ? &*run.back.conductor
                                                     : &c;
    const auto pole = [&](design::Pole which, const tables::Conductor* used) {
      return resistance_of(d, run, which, used, t, in_line_of(run, which, used));
    };
    const Resistance loop = pole(design::Pole::outgoing, &c) + pole(design::Pole::return_, back);
    const bool near_enough = drop_limit && most * loop <= *drop_limit * (1.0 + 1e-9);
    if (near_enough && !facts.smallest_for_drop) facts.smallest_for_drop = c;
    if (bears && (near_enough || !drop_limit) && large_enough(d, c) && !facts.smallest)
      facts.smallest = c;
  }
  if (run.conductor) facts.outgoing = {*run.conductor, false};
  else if (facts.smallest) facts.outgoing = {*facts.smallest, true};
  else if (!series.empty()) facts.outgoing = {series.back(), true};
  if (run.back.chassis) return;
  facts.back = facts.outgoing;
  if (run.back.conductor) facts.back = UsedConductor{*run.back.conductor, false};
}

}  // namespace housepower::wiring

// SPDX-License-Identifier: Apache-2.0
// The charge at which an inverter's input falls to its cut-out. From a full bank downwards: each
// solution of the network gives the resistance between the cells and the inverter, and with it the
// first charge on the cells' curves that would not hold; the next solution is made there.
#include "housepower/wiring/reserve.hpp"

#include <array>
#include <cmath>

#include "../inside.hpp"
#include "housepower/parts/ageing.hpp"
#include "housepower/parts/cell.hpp"
#include "housepower/parts/inverter.hpp"

namespace housepower::wiring {

using namespace inside;

namespace {

constexpr int grid = 100;
constexpr double close_enough = 1e-6;  // of the state of charge
constexpr int most_trials = 40;

/// The bank by state of charge: open-circuit voltage, and resistance of one battery.
struct BankCurves {
  std::array<double, grid + 1> volts{}, ohms{};
};
BankCurves curves_of(const design::Design& d, Temperature t) {
  BankCurves curves;
  const Resistance half = resistance_in_use(d, {0.5, t}).value;
  const double per_factor =
      half.value() * double(d->bank->in_series) / double(parts::resistance_factor(t, 0.5));
  for (std::size_t i = 0; i <= grid; ++i) {
    const double charge = double(i) / grid;
    curves.volts[i] = parts::bank_open_circuit(d->tables->cells, *d->bank, charge).value();
    curves.ohms[i] = per_factor * double(parts::resistance_factor(t, charge));
  }
  return curves;
}

double between(const std::array<double, grid + 1>& y, double charge) {
  const double x = charge * grid;
  const auto i = std::min(std::size_t(x), std::size_t(grid - 1));
  return y[i] + (y[i + 1] - y[i]) * (x - double(i));
}

/// The first charge from above at which `volts - amperes * (ohms / batteries + way)` is below
/// `least`; 0 where it never is.
double first_failing(const BankCurves& c, double amperes, double batteries, double way,
                     double least) {
  const auto room = [&](int i) {
    const auto k = std::size_t(i);
    return c.volts[k] - amperes * (c.ohms[k] / batteries + way) - least;
  };
  double above = room(grid);
  for (int i = grid - 1; i >= 0; --i) {
    const double here = room(i);
    if (here < 0.0) return (i + std::clamp(-here / (above - here), 0.0, 1.0)) / grid;
    above = here;
  }
  return 0.0;
}

struct ReserveSearch {
  const design::Design& d;
  const Assessment& a;
  Solvable& s;
  const BankCurves& curves;
  Temperature temperature;
  int inverter;
  Current bank{};  // what all batteries give in the last solution

  /// Solves at a charge; the loads are set already.
  bool solve_at(double charge, CarriedLoad& out) {
    set_bank(s.wired, d, Condition::drop, {charge, temperature});
    const Solution found = solve_warm(d, a.runs, s);
    const auto* p = std::get_if<OperatingPoint>(&found);
    out.input = Voltage{}, out.drawn = out.busiest = Current{};
    if (!p) return false;
    const auto& pole = s.wired.posts[d->inverters[inverter].post];
    out.input = p->potential[pole.plus] - p->potential[pole.minus];
    out.drawn = at(p->load, s.wired.inverters[inverter]);
    bank = Current{};
    for (const int battery : s.wired.batteries) {
      bank += at(p->feed, battery);
      out.busiest = std::max(out.busiest, at(p->feed, battery));
    }
    return true;
  }

  void run(CarriedLoad& out) {
    const double least = d->inverters[inverter].cut_out.value();
    double charge = 1.0, good = 1.0;
    if (!solve_at(charge, out) || out.input.value() < least) return;
    const double batteries = double(s.wired.batteries.size());
    for (int i = 0; i < most_trials; ++i) {
      const double u = out.input.value(), amperes = bank.value();
      const double way =
          (between(curves.volts, charge) - u) / amperes - between(curves.ohms, charge) / batteries;
      double next = first_failing(curves, amperes * u / least, batteries, way, least);
      if (std::abs(next - charge) <= close_enough) break;
      while (!solve_at(next, out) && good - next > close_enough) next = 0.5 * (next + good);
      if (out.input.value() >= least) good = next;
      charge = next;
    }
    out.down_to = charge;
  }
};

/// The a.c. appliance of an inverter that asks most while it starts.
std::optional<ApplianceId> largest_starter(const design::Design& d, int inverter) {
  std::optional<ApplianceId> largest;
  for (std::size_t i = 0; i < d->appliances.size(); ++i) {
    const Appliance& a = d->appliances[i];
    if (!a.starting || !a.inverter || a.inverter->index != inverter) continue;
    if (!largest || start_power(a) > start_power(d[*largest])) largest = ApplianceId{int(i)};
  }
  return largest;
}

InverterReserve reserve_of(const design::Design& d, const Assessment& a, Solvable& s,
                           const BankCurves& curves, Temperature t, int index) {
  const Inverter& inverter = d->inverters[index];
  InverterReserve out{{index}, {}, t, {}, {}, {}, {}, {}};
  out.why_unknown = unknown_of(d, a.ways[inverter.post]);
  const int load = s.wired.inverters[index];
  LoadCase beside = heaviest_case(d, a, s, load);
  out.beside = beside.name;
  if (!out.why_unknown.empty()) return out;
  ReserveSearch search{d, a, s, curves, t, index, {}};
  const auto carried = [&](Power given) {
    CarriedLoad c{given, {}, {}, {}, {}};
    set_loads(s.wired, s.solver, d, beside);
    at(s.wired.network.loads, load).power = parts::dc_power(inverter, given);
    search.run(c);
    return c;
  };
  out.rated = carried(inverter.rating);
  if (inverter.surge) out.surge = carried(inverter.surge->power);
  out.starter = largest_starter(d, index);
  if (out.starter) {
    beside.starting = out.starter;
    const Power most =
        inverter.surge ? std::max(inverter.rating, inverter.surge->power) : Power::from_value(1e9);
    out.start = carried(asked_in_case(d, beside, index, most));
  }
  return out;
}

}  // namespace

std::optional<Temperature> coldest_month(const design::Design& d) {
  if (!d->site.town) return std::nullopt;
  const auto& lowest = d->site.town->lowest;
  if (d->site.month) return lowest[std::size_t(*d->site.month)];
  return *std::min_element(lowest.begin(), lowest.end());
}

Solvable inside::network_in_use(const design::Design& d, const Assessment& a) {
  std::vector<RunConductors> conductors;
  for (const RunFacts& facts : a.runs) {
    auto& used = conductors.emplace_back();
    used.outgoing = facts.outgoing.conductor;
    if (facts.back) used.back = facts.back->conductor;
  }
  return Solvable(network_of(d, conductors, Condition::drop));
}

LoadCase inside::heaviest_case(const design::Design& d, const Assessment& a, Solvable& s,
                               int besides) {
  LoadCase heaviest;
  double most = -1.0;
  for (const CaseResult& in : a.cases) {
    if (!in.load_case.judged) continue;
    LoadCase c = in.load_case;
    if (c.starting && std::find(c.running.begin(), c.running.end(), *c.starting) == c.running.end())
      c.running.push_back(*c.starting);  // it runs on
    c.starting.reset();
    c.charging.clear();
    set_loads(s.wired, s.solver, d, c);
    double total = 0;
    const auto& loads = s.wired.network.loads;
    for (std::size_t i = 0; i < loads.size(); ++i)
      if (int(i) != besides) total += loads[i].power.value();
    if (total <= most) continue;
    most = total;
    heaviest = std::move(c);
  }
  return heaviest;
}

design::List<InverterReserve, Inverter> inverter_reserves(const design::Design& d,
                                                          const Assessment& a) {
  design::List<InverterReserve, Inverter> all;
  if (d->inverters.empty()) return all;
  const auto cold = coldest_month(d);
  if (!d->bank || !cold) {
    for (std::size_t i = 0; i < d->inverters.size(); ++i) {
      all.push_back({{int(i)}, {}, {}, {}, {}, {}, {}, {}});
      all.back().why_unknown = d->bank ? "no place in the climate table says how cold the bank gets"
                                       : "no bank is described";
    }
    return all;
  }
  Solvable s = network_in_use(d, a);
  const BankCurves curves = curves_of(d, *cold);
  for (std::size_t i = 0; i < d->inverters.size(); ++i)
    all.push_back(reserve_of(d, a, s, curves, *cold, int(i)));
  return all;
}

Ratio carried_down_to(const design::Design& d, const InverterReserve& r, const CarriedLoad& load,
                      Working* working) {
  const Ratio charge = load.down_to.value_or(Ratio(1.0));
  if (!working) return charge;
  const Bank& bank = *d->bank;
  const Source network = solution(SourceKind::from_memory);
  given(working, "s",
        load.down_to ? "state of charge down to which it is carried, from solutions of the network"
                     : "a full bank",
        charge, network);
  const auto full = resistance_in_use(d, {charge, r.temperature});
  const Ratio f =
      given(working, "f_R", "factor of temperature and charge",
            parts::resistance_factor(r.temperature, charge), parts::resistance_factor_source);
  const Ratio old = parts::resistance_age_factor(bank, d->promise.bank_age, working);
  step(working, parts::resistance_now, Resistance(full.value / double(f) / double(old)), f, old);
  const Voltage open = parts::bank_open_circuit(d->tables->cells, bank, charge, working);
  if (load.drawn.value() <= 0.0) return charge;  // nothing balances
  const Power asked = parts::dc_power(d[r.inverter], load.given, working);
  const Current i = step(working, current_of_power, Ratio(1.0), asked, load.input);
  const Resistance way =
      given(working, "R", "cells, leads and cables, with the share of what else runs",
            Resistance((open - load.input) / load.drawn), network);
  step(working, voltage_behind, open, way, i);
  return charge;
}

}  // namespace housepower::wiring

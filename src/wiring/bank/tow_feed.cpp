// SPDX-License-Identifier: Apache-2.0
// The tow vehicle's feed, through the network: what a dc-dc charger gets from it, and what flows
// where it is joined to the bank.
#include <cmath>

#include "../inside.hpp"
#include "housepower/parts/cell.hpp"
#include "housepower/wiring/charging_circuits.hpp"

namespace housepower::wiring {

using namespace inside;

namespace {

constexpr Voltage engine_running = Voltage::from_value(13.5);
constexpr Ratio empty_bank = 0.0;
constexpr int most_rounds = 20;

/// Its input while it gives its stated current.
Power full_input(const Charger& c) { return c.charge_voltage * c.current / double(c.efficiency); }

/// Every dc-dc charger at once on feeds of a voltage.
struct Driving {
  const design::Design& d;
  const Assessment& a;
  Solvable s;

  /// The charger's input when it draws `own`, or with nothing given its full power.
  struct Found {
    Voltage input;
    Current drawn, from_feed;
  };
  std::optional<Found> solved(int charger, int feed, Voltage car, std::optional<Current> own) {
    clear_loads(s.wired);
    for (std::size_t i = 0; i < d->chargers.size(); ++i) {
      if (!d->chargers[i].in) continue;
      Load& load = at(s.wired.network.loads, s.wired.charger_in[i]);
      if (!s.solver.fed(load.plus, load.minus)) continue;
      load.behaves = design::Behaviour::constant_power;
      load.power = full_input(d->chargers[i]);
      if (!own || int(i) != charger) continue;
      load.behaves = design::Behaviour::constant_current;
      load.power = *own * load.nominal;
    }
    at(s.wired.network.feeds, s.wired.feeds[feed]).open_circuit = car;
    const Solution solution_ = solve_warm(d, a.runs, s);
    const auto* p = std::get_if<OperatingPoint>(&solution_);
    if (!p) return std::nullopt;
    const auto& pole = s.wired.posts[*d->chargers[charger].in];
    return Found{p->potential[pole.plus] - p->potential[pole.minus],
                 at(p->load, s.wired.charger_in[charger]), at(p->feed, s.wired.feeds[feed])};
  }

  /// Folded back: the largest input current that leaves the input at its cut-out.
  Delivery folded(int charger, int feed, Voltage car) {
    const Charger& c = d->chargers[charger];
    const Current tried = full_input(c) / c.input_cut_out;
    Delivery out{car, {}, true, {}, {}, tried};
    Current i{};
    for (int k = 0; k < most_rounds; ++k) {
      const auto found = solved(charger, feed, car, i);
      if (!found) return out;
      out.input = found->input, out.drawn = i, out.from_feed = found->from_feed;
      const Voltage room = found->input - c.input_cut_out;
      if (std::abs(room.value()) < 1e-9) break;
      if (i.value() == 0.0 && room.value() < 0.0) {  // not even unloaded
        out.from_feed = tried;
        return out;
      }
      // the first step: half of what would flow alone; then by the resistance seen
      const Resistance r = i.value() > 0.0 && car > found->input
                               ? Resistance((car - found->input) / i)
                               : Resistance(room / (0.5 * full_input(c) / c.input_cut_out));
      i = std::max(Current{}, Current(i + room / r));
    }
    out.from_feed += tried - out.drawn;  // while it tries
    out.delivers = std::min(
        c.current, Current(charger_output(out.input, out.drawn, c.efficiency, c.charge_voltage)));
    return out;
  }

  Delivery at_voltage(int charger, int feed, Voltage car) {
    const Charger& c = d->chargers[charger];
    const auto full = solved(charger, feed, car, std::nullopt);
    if (!full || full->input < c.input_cut_out) return folded(charger, feed, car);
    return {car, c.current, false, full->input, full->drawn, full->from_feed};
  }
};

/// By the input's own voltage, where the design states that and draws no feed.
Delivery at_input(const Charger& c, Voltage u) {
  const bool works = u >= c.input_cut_out;
  const Current drawn = works ? Current(full_input(c) / u) : Current{};
  return {u, works ? c.current : Current{}, !works, u, drawn, drawn};
}

}  // namespace

std::vector<TowFeed> tow_feeds(const design::Design& d, const Assessment& a) {
  std::vector<TowFeed> all;
  std::optional<Driving> driving;
  for (std::size_t i = 0; i < d->chargers.size(); ++i) {
    const Charger& c = d->chargers[i];
    if (!c.in) continue;
    TowFeed out{int(i), -1, {}, {}, {}, true};
    const Way& way = a.ways[*c.in];
    for (std::size_t f = 0; f < d->feeds.size(); ++f)
      if (way.source && d->feeds[f].post == *way.source) out.feed = int(f);
    if (out.feed >= 0) {
      if (!driving) driving.emplace(Driving{d, a, network_in_use(d, a)});
      const auto& feed = d->feeds[out.feed];
      out.why_unknown = unknown_of(d, way);
      out.low = driving->at_voltage(int(i), out.feed, feed.low);
      const Voltage normal = feed.low > 18.0 * volt ? 2.0 * engine_running : engine_running;
      out.normal =
          driving->at_voltage(int(i), out.feed, std::max(feed.low, std::min(normal, feed.high)));
    } else if (c.input_low && !way.source) {
      out.low = at_input(c, *c.input_low);
      out.normal = at_input(c, c.input_normal.value_or(std::max(*c.input_low, engine_running)));
    } else {
      out.known = false;
      out.why_unknown = way.source
                            ? "its input is connected to the bank"
                            : "no feed reaches its input and its `input_voltage` is not stated";
    }
    all.push_back(std::move(out));
  }
  return all;
}

Current delivered_current(const design::Design& d, const TowFeed& t, const Delivery& at_car,
                          Working* working) {
  if (!working) return at_car.delivers;
  const Charger& c = d->chargers[t.charger];
  const Source stated{SourceKind::supplier, "the design", "as stated"};
  given(working, "I_c", "its stated current", c.current, stated);
  if (at_car.drawn.value() > 0.0 && t.feed >= 0) {
    given(working, "U", "of the car, open circuit", at_car.car, stated);
    const Resistance r =
        given(working, "R", "source and cables, with the share of what else it feeds",
              Resistance((at_car.car - at_car.input) / at_car.drawn),
              solution(SourceKind::common_practice));
    const Current i =
        at_car.folds_back
            ? step(working, current_at_cut_out, at_car.car, c.input_cut_out, r)
            : step(working, charger_input, c.charge_voltage, c.current, c.efficiency, at_car.input);
    step(working, voltage_behind, at_car.car, r, i);
  } else {
    given(working, "U_in", "voltage that its input finds", at_car.input, stated);
  }
  const Current out =
      step(working, charger_output, at_car.input, at_car.drawn, c.efficiency, c.charge_voltage);
  return smallest<Current>(working, "I", "what it delivers",
                           {{"stated", c.current}, {"by its input", out}});
}

std::vector<DirectCharging> direct_charging(const design::Design& d, const Assessment& a) {
  std::vector<DirectCharging> all;
  if (!d->bank || d->feeds.empty()) return all;
  const auto group = groups_of(d);
  std::optional<Wired> wired;
  for (std::size_t f = 0; f < d->feeds.size(); ++f) {
    const auto& feed = d->feeds[f];
    if (group[feed.post] != group[d->bank->post]) continue;
    DirectCharging out{int(f), {}, {}, {}};
    if (!feed.resistance_low && !feed.resistance_high)
      out.why_unknown = "the resistance of \"" + feed.name + "\" is not stated";
    if (!wired) {
      std::vector<RunConductors> conductors;
      for (const RunFacts& facts : a.runs)
        conductors.push_back({facts.outgoing.conductor,
                              facts.back ? std::optional(facts.back->conductor) : std::nullopt});
      wired = network_of(d, conductors, Condition::design_current, {empty_bank, celsius(25.0)});
      clear_loads(*wired);
    }
    for (std::size_t k = 0; k < d->feeds.size(); ++k)
      at(wired->network.feeds, wired->feeds[k]).open_circuit = d->feeds[k].high;
    const Solution found = solve(wired->network);
    if (!std::holds_alternative<OperatingPoint>(found) && out.why_unknown.empty())
      out.why_unknown = "the network has no solution";
    if (const auto* p = std::get_if<OperatingPoint>(&found)) {
      out.drawn = at(p->feed, wired->feeds[f]);
      for (const int battery : wired->batteries)
        out.busiest = std::max(out.busiest, Current(-at(p->feed, battery)));
    }
    all.push_back(std::move(out));
  }
  return all;
}

Current direct_current(const design::Design& d, const DirectCharging& c, Working* working) {
  const auto& feed = d->feeds[c.feed];
  given(working, "U", "highest of the feed, open circuit", feed.high,
        Source{SourceKind::supplier, "the design", "as stated"});
  (void)parts::bank_open_circuit(d->tables->cells, *d->bank, empty_bank, working);
  return given(working, "I_b", "into the battery that takes most, from the solution of the network",
               c.busiest, solution(SourceKind::common_practice));
}

}  // namespace housepower::wiring

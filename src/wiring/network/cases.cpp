// SPDX-License-Identifier: Apache-2.0
// Operating points of load cases: the network together with the temperatures of its conductors,
// until neither moves.
#include <cmath>

#include "../inside.hpp"

namespace housepower::wiring {

using namespace inside;

namespace {

constexpr double still = 1e-9;  // K

/// What the temperature of a conductor hangs on. No ampacity: it is at `limit` whatever flows.
struct Heating {
  Temperature ambient{}, limit{};
  Current ampacity{};
};
Heating heating_of(const Run& run, const AmpacityAnswer& answer) {
  if (run.held_at) return {{}, *run.held_at, {}};
  const auto* a = std::get_if<Ampacity>(&answer);
  if (a && a->value.value() > 0.0) return {a->ambient_used, a->limit, a->value};
  return {{}, a ? std::max(a->ambient_used, run.insulation) : run.insulation, {}};
}
Temperature temperature_at(const Heating& h, Current i, Working* working = nullptr) {
  if (h.ampacity.value() == 0.0) return h.limit;
  const Current size = Current::from_value(std::abs(i.value()));
  const auto t = step(working, conductor_temperature, h.ambient, h.limit, size, h.ampacity);
  return t > hottest_copper ? step(working, no_hotter, t, hottest_copper) : t;
}

/// One pole of a run that warms up under its current. It holds all that a step of a solution asks
/// of it: to fetch that from run, facts and tables took a third of the time of large designs.
struct WarmingBranch {
  int branch;
  Heating heating;
  ResistancePerLength r20;
  Length length;
  Ratio parallel;
  Resistance in_line;
  std::optional<Resistance> fixed{};  // of what is no conductor of its own
  Temperature temperature{};
};

std::vector<WarmingBranch> warming_of(const design::Design& d, const PerRun<RunFacts>& facts,
                                      const Wired& wired) {
  std::vector<WarmingBranch> all;
  all.reserve(2 * facts.size());
  for (std::size_t i = 0; i < facts.size(); ++i) {
    const Run& run = d->runs[i];
    const auto add = [&](design::Pole pole, const AmpacityAnswer& ampacity, int branch) {
      const auto* conductor = conductor_of(facts[i], pole);
      const bool outgoing = pole == design::Pole::outgoing;
      WarmingBranch w{branch,
                      heating_of(run, ampacity),
                      conductor ? conductor->resistance_at_20 : ResistancePerLength{},
                      outgoing ? run.length : run.back.length,
                      double(run.parallel),
                      in_line_of(run, pole, conductor)};
      if (!conductor) w.fixed = resistance_of(d, run, pole, nullptr, {}, w.in_line);
      all.push_back(w);
    };
    add(design::Pole::outgoing, facts[i].heating, wired.runs[i].outgoing);
    add(design::Pole::return_, facts[i].heating_back, wired.runs[i].back);
  }
  return all;
}

/// Sets a pole to the temperature that a current brings; by how much that moved it.
double warm_up(WarmingBranch& w, Current i, Network& n) {
  const Temperature now = temperature_at(w.heating, i);
  const double moved = std::abs((now - w.temperature).value());
  w.temperature = now;
  at(n.branches, w.branch).resistance =
      w.fixed
          ? *w.fixed
          : pole_resistance(resistance_at_temperature(w.r20, now), w.length, w.parallel, w.in_line);
  return moved;
}

/// Solves with each pole at the temperature that its current brings.
Solution solve_warming(std::vector<WarmingBranch>& warming, Solvable& s, LoadsAs as) {
  for (WarmingBranch& w : warming) warm_up(w, Current{}, s.wired.network);
  const Adjust adjust = [&](const std::vector<Current>& branch, Network& n) {
    double moved = 0;
    for (WarmingBranch& w : warming) moved = std::max(moved, warm_up(w, at(branch, w.branch), n));
    return moved > still;
  };
  return s.solver.solve(s.wired.network, as, adjust);
}

/// The voltage that a way starts from.
Voltage source_voltage(const design::Design& d, const CaseResult& result, PostId source) {
  return d->bank && source == d->bank->post ? result.source : result.post[source];
}

void take_runs(const design::Design& d, const Wired& wired,
               const std::vector<WarmingBranch>& warming, const OperatingPoint& p,
               CaseResult& out) {
  const auto lost = [&](int branch) -> Voltage {
    return at(p.branch, branch) * at(wired.network.branches, branch).resistance;
  };
  for (std::size_t i = 0; i < d->runs.size(); ++i) {
    const auto [go, back] = wired.runs[i];
    const Voltage drop = Voltage::from_value(std::abs((lost(go) + lost(back)).value()));
    out.runs.push_back({at(p.branch, go), at(p.branch, back), drop, drop / d->nominal,
                        warming[2 * i].temperature, warming[2 * i + 1].temperature});
  }
}

void take_bank(const design::Design& d, const Wired& wired, const OperatingPoint& p,
               CaseResult& out) {
  if (!d->bank) return;
  for (const int battery : wired.batteries) {
    const Feed& feed = at(wired.network.feeds, battery);
    out.source = std::max(out.source, Voltage(p.potential[feed.plus] - p.potential[feed.minus]));
    out.bank_current += at(p.feed, battery);
  }
  for (std::size_t i = 0; i < wired.batteries.size(); ++i) {
    const Current own = at(p.feed, wired.batteries[i]);
    const bool flows = std::abs(out.bank_current.value()) > 1e-9;
    out.batteries.push_back({int(i) + 1, own, flows ? own / out.bank_current : Ratio(0.0)});
  }
}

void take_consumers(const design::Design& d, const Assessment& a, CaseResult& out) {
  auto all = drawing(d);
  for (const Consumer& c : charging(d))
    if (c.kind == Consumer::Kind::charger_in) all.push_back(c);
  for (const Consumer& c : all) {
    if (!runs_in(d, out.load_case, c)) continue;
    const Way& way = a.ways[post_of(d, c)];
    ConsumerInCase k{name_of(d, c),       subject_of(d, c),  post_of(d, c), {}, {}, {},
                     drop_class_of(d, c), unknown_of(d, way)};
    if (way.source && out.solved()) {
      k.voltage = out.post[k.post];
      k.path_drop = source_voltage(d, out, *way.source) - k.voltage;
      k.path_share = k.path_drop / d->nominal;
    }
    out.consumers.push_back(std::move(k));
  }
}

std::string name_of_load(const design::Design& d, const Wired& wired, int load) {
  for (std::size_t i = 0; i < d->appliances.size(); ++i)
    if (wired.appliances[i].starting == load) return d->appliances[i].name;
  auto all = drawing(d);
  for (const Consumer& c : charging(d)) all.push_back(c);
  for (const Consumer& c : all)
    if (load_of(wired, c) == load) return name_of(d, c);
  return {};
}

/// Drop along one pole of a run in a case, positive in the run's own direction.
Voltage pole_drop_of(const design::Design& d, const Assessment& a, const CaseResult& result,
                     RunId id, design::Pole pole, Working* working) {
  const Run& run = d[id];
  const RunFacts& facts = a.runs[id];
  const RunInCase& in_case = result.runs[id];
  const bool outgoing = pole == design::Pole::outgoing;
  const Current i = given(working, "I", "current in this case",
                          outgoing ? in_case.current : in_case.back, solution(result.kind));
  const auto* conductor = conductor_of(facts, pole);
  const Temperature t =
      conductor ? temperature_of(run, outgoing ? facts.heating : facts.heating_back, i, working)
                : celsius(20.0);
  const Resistance in_line = in_line_of(run, pole, conductor, working);
  return step(working, pole_drop, i, resistance_of(d, run, pole, conductor, t, in_line, working));
}

/// What a solution tells of the case.
void take_point(const design::Design& d, const Wired& wired,
                const std::vector<WarmingBranch>& warming, const OperatingPoint& p,
                CaseResult& out) {
  for (const auto& pole : wired.posts)
    out.post.push_back(p.potential[pole.plus] - p.potential[pole.minus]);
  take_runs(d, wired, warming, p, out);
  take_bank(d, wired, p, out);
}

/// Takes from the loads that ask too much until an operating point exists. Warmer conductors may
/// take a little more each time; in the end that load is left out.
void add_brink(const design::Design& d, const Assessment& a, Solvable& s,
               std::vector<WarmingBranch>& warming, CaseResult& out) {
  constexpr int most_times = 12;  // of one load
  CaseResult brink;
  brink.load_case = out.load_case;
  brink.kind = out.kind;
  brink.collapsed = out.collapsed;
  brink.solution = out.solution;
  std::vector<int> times(s.wired.network.loads.size());
  while (const auto* c = std::get_if<Collapse>(&brink.solution)) {
    Load& load = at(s.wired.network.loads, c->load);
    const int before = at(times, c->load)++;
    if (load.power.value() == 0.0) return;
    load.power = before == 0           ? 0.999 * c->most
                 : before < most_times ? 0.97 * std::min(c->most, load.power)
                                       : Power{};
    brink.solution = solve_warming(warming, s, LoadsAs::behave);
  }
  const auto* p = std::get_if<OperatingPoint>(&brink.solution);
  if (!p) return;
  take_point(d, s.wired, warming, *p, brink);
  take_consumers(d, a, brink);
  for (ConsumerInCase& k : brink.consumers)
    if (k.unknown.empty())
      k.unknown = "there is no operating point: \"" + out.collapsed +
                  "\" draws more than its cable can carry";
  out.brink.push_back(std::move(brink));
}

}  // namespace

std::string inside::unknown_of(const design::Design& d, const Way& way) {
  if (!way.source) return "no run leads from a source to it and back";
  for (const auto& feed : d->feeds)
    if (feed.post == *way.source && !feed.resistance_low && !feed.resistance_high)
      return "the resistance of \"" + feed.name + "\" is not stated";
  for (const auto& part : way.outgoing)
    if (!d[part.run].conductor) return "run \"" + d[part.run].name + "\" has no conductor";
  for (const auto& part : way.back) {
    const Run& run = d[part.run];
    if (run.back.chassis ? !d->chassis : !run.back.conductor)
      return run.back.chassis ? "the resistance of the chassis is not stated"
                              : "run \"" + run.name + "\" has no conductor";
  }
  return {};
}

Solution inside::solve_warm(const design::Design& d, const PerRun<RunFacts>& facts, Solvable& s) {
  auto warming = warming_of(d, facts, s.wired);
  return solve_warming(warming, s, LoadsAs::behave);
}

Temperature inside::temperature_of(const Run& run, const AmpacityAnswer& answer, Current i,
                                   Working* working) {
  const Heating heating = heating_of(run, answer);
  if (heating.ampacity.value() > 0.0)
    given(working, "I_z", "ampacity that the temperature is worked out from", heating.ampacity,
          std::get<Ampacity>(answer).source);
  else
    given(working, "T",
          run.held_at ? "conductor temperature, as stated"
                      : "conductor temperature: at its limit, for its ampacity is not known",
          heating.limit, as_stated);
  return temperature_at(heating, i, working);
}

Resistance inside::in_line_of(const Run& run, design::Pole pole, const tables::Conductor* c,
                              Working* working) {
  const auto* lugs = c ? c : run.conductor ? &*run.conductor : nullptr;
  const PoleExtras extras = extras_of(run, pole, lugs);
  return given(working, "R_j", "joints, items and devices of this pole",
               Resistance(extras.joints + extras.items),
               Source{extras.kind, "joints and items", ""});
}

Resistance inside::resistance_of(const design::Design& d, const Run& run, design::Pole pole,
                                 const tables::Conductor* c, Temperature t, Resistance in_line,
                                 Working* working) {
  const bool outgoing = pole == design::Pole::outgoing;
  if (!c) {  // through the chassis, or a run whose conductor is yet to be chosen
    const bool chassis = !outgoing && run.back.chassis;
    const Resistance way =
        chassis ? d->chassis.value_or(Resistance{}) : 5.0 * milliohm / metre * run.length;
    if (!working) return way + in_line;
    return sum(working, "R", "resistance of one pole",
               std::vector<Term<Resistance>>{{"chassis", way}, {"joints and items", in_line}});
  }
  const auto r20 =
      given(working, "r20", "resistance per length at 20 °C", c->resistance_at_20, c->source);
  const auto r = step(working, resistance_at_temperature, r20, t);
  return step(working, pole_resistance, r, outgoing ? run.length : run.back.length,
              Ratio(double(run.parallel)), in_line);
}

CaseResult inside::solve_case(const design::Design& d, const Assessment& a, Solvable& s,
                              const LoadCase& load_case, const std::vector<Drawn>& currents) {
  CaseResult out;
  out.load_case = load_case;
  set_bank(s.wired, d, Condition::drop,
           {load_case.charge, load_case.temperature, load_case.battery_open});
  if (currents.empty()) set_loads(s.wired, s.solver, d, load_case);
  else clear_loads(s.wired);
  for (const Drawn& drawn : currents)
    set_current(s.wired, load_of(s.wired, drawn.consumer), drawn.current);
  auto warming = warming_of(d, a.runs, s.wired);
  out.solution = solve_warming(warming, s, currents.empty() ? LoadsAs::behave : LoadsAs::currents);
  out.kind = weakest(s.wired.network);
  if (const auto* collapse = std::get_if<Collapse>(&out.solution))
    out.collapsed = name_of_load(d, s.wired, collapse->load);
  if (const auto* p = std::get_if<OperatingPoint>(&out.solution))
    take_point(d, s.wired, warming, *p, out);
  else if (currents.empty()) add_brink(d, a, s, warming, out);
  take_consumers(d, a, out);
  return out;
}

Voltage drop_of(const design::Design& d, const Assessment& a, const CaseResult& result, RunId run,
                Working* working) {
  const auto go = pole_drop_of(d, a, result, run, design::Pole::outgoing, working);
  const auto back = pole_drop_of(d, a, result, run, design::Pole::return_, working);
  const double sign = (go + back).value() < 0.0 ? -1.0 : 1.0;
  return sum(working, "U_drop", "voltage lost along the run, out and back",
             std::vector<Term<Voltage>>{{"outgoing", sign * go}, {"return", sign * back}});
}

Voltage path_drop_of(const design::Design& d, const Assessment& a, const CaseResult& result,
                     const ConsumerInCase& consumer, Working* working) {
  std::vector<Term<Voltage>> terms;
  const Way* way = &a.ways[consumer.post];
  if (!way->source) return Voltage{};
  if (d->bank && *way->source == d->bank->post) {
    const Voltage leads = result.source - result.post[d->bank->post];
    const Term<Voltage> inside_bank{"leads and links of the bank", leads};
    if (leads.value() != 0.0) terms.push_back(inside_bank);
  }
  const auto add = [&](const std::vector<Way::Part>& parts, design::Pole pole, const char* what) {
    for (const auto& part : parts) {
      const Voltage u = pole_drop_of(d, a, result, part.run, pole, working);
      terms.push_back({d[part.run].name + what, part.along ? u : -u});
    }
  };
  add(way->outgoing, design::Pole::outgoing, ", outgoing");
  add(way->back, design::Pole::return_, ", return");
  return sum(working, "U_path", "voltage lost from the source and back", terms);
}

}  // namespace housepower::wiring

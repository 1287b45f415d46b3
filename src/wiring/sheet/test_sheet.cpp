// SPDX-License-Identifier: Apache-2.0
// The readings of a test network and their bands.
#include "housepower/wiring/test_sheet.hpp"

#include <cmath>

#include "housepower/units/unit.hpp"
#include "test_network.hpp"

namespace housepower::wiring {

using namespace inside;

namespace {

constexpr double cut_share = 0.03;  // of a length as cut
constexpr Current least_shown = Current::from_value(0.05);

/// By how much a conductor is warmer than the workshop under a current: as its heat balance says.
TemperatureDifference rise_of(const Copper& c, Current i, Temperature workshop) {
  const auto* iz = std::get_if<Ampacity>(c.heating);
  if (!iz || !(iz->value.value() > 0.0)) return TemperatureDifference{};
  const Temperature limit = workshop + (iz->limit - iz->ambient_used);
  const Temperature t =
      conductor_temperature(workshop, limit, Current::from_value(std::abs(i.value())), iz->value);
  return std::min(t, hottest_copper) - workshop;
}

/// Resistances of the conductors: cold pure copper at least, at most the table's, warmed.
void set_warm(TestNetwork& s, const std::vector<Current>& branch) {
  for (const Copper& c : s.copper) {
    const auto least =
        copper_resistance(copper_resistivity, std::max(c.conductor->nominal, c.conductor->copper));
    const Temperature set_warm = s.test.workshop + rise_of(c, branch[c.branch], s.test.workshop);
    const auto table = resistance_at_temperature(c.conductor->resistance_at_20, set_warm);
    const Length each = c.length / c.parallel;
    s.branches[c.branch] = {(1.0 - cut_share) * each *
                                resistance_at_temperature(least, s.test.workshop),
                            each * table, (1.0 + cut_share) * each * table};
  }
}

/// Which value of each part: by the sign of what it does to a reading; none: as expected.
struct Chosen {
  std::vector<int> branches, internal, open, loads;
};
template <class Q> Q pick(const Spread<Q>& spread, int which) {
  return which < 0 ? spread.low : which > 0 ? spread.high : spread.expected;
}
void set_piece_branches(TestNetwork& s, const Chosen* chosen, int towards) {
  auto& n = s.wired.network;
  const auto which = [&](const std::vector<int> Chosen::*list, std::size_t i) {
    return chosen ? towards * (chosen->*list)[i] : 0;
  };
  for (std::size_t i = 0; i < n.branches.size(); ++i)
    n.branches[i].resistance = pick(s.branches[i], which(&Chosen::branches, i));
  for (std::size_t i = 0; i < n.feeds.size(); ++i) {
    n.feeds[i].internal = pick(s.internal[i], which(&Chosen::internal, i));
    n.feeds[i].open_circuit = pick(s.open[i], which(&Chosen::open, i));
  }
  for (std::size_t i = 0; i < n.loads.size(); ++i)
    n.loads[i].power = pick(s.loads[i], which(&Chosen::loads, i));
}

Voltage read_volts(const TestNetwork& s, const Probe& p, const OperatingPoint& point) {
  Voltage total{};
  for (const std::size_t pair : p.pairs) {
    const Load& load = s.wired.network.loads[pair];
    const Voltage u = point.potential[load.plus] - point.potential[load.minus];
    // a drop counts along its current
    total += p.reading.kind == Reading::Kind::posts ? u : Voltage::from_value(std::abs(u.value()));
  }
  return total;
}

/// What each part does to a reading, from the network with one ampere drawn at its probes and every
/// source at zero: dU/dR = −I·J of a branch or source, dU/dE = J of a source, dU/dI = u of a load.
std::optional<Chosen> effects_on(TestNetwork& s, Solver& linear, const Probe& p,
                                 const OperatingPoint& expected) {
  Network n = s.wired.network;
  for (auto& feed : n.feeds) feed.open_circuit = Voltage{};
  for (auto& load : n.loads) load.power = Power{};
  for (const std::size_t pair : p.pairs) {
    const Load& load = n.loads[pair];
    const Voltage u = expected.potential[load.plus] - expected.potential[load.minus];
    const bool against = p.reading.kind != Reading::Kind::posts && u.value() < 0.0;
    n.loads[pair].power = (against ? -1.0 : 1.0) * watt;  // of one ampere at one volt
  }
  const auto solution = linear.solve(n, LoadsAs::currents);
  const auto* adjoint = std::get_if<OperatingPoint>(&solution);
  if (!adjoint) return std::nullopt;
  const auto sign = [](double x) { return x > 0.0 ? 1 : x < 0.0 ? -1 : 0; };
  Chosen c;
  for (std::size_t i = 0; i < n.branches.size(); ++i)
    c.branches.push_back(sign(-expected.branch[i].value() * adjoint->branch[i].value()));
  for (std::size_t i = 0; i < n.feeds.size(); ++i) {
    c.internal.push_back(sign(-expected.feed[i].value() * adjoint->feed[i].value()));
    c.open.push_back(sign(adjoint->feed[i].value()));
  }
  for (const Load& load : n.loads)
    c.loads.push_back(
        sign((adjoint->potential[load.plus] - adjoint->potential[load.minus]).value()));
  return c;
}

/// Widens a band by the meter's own error.
void add_meter(Reading& r, const Meter& meter) {
  r.low -= error_of(meter, r.kind, r.low);
  r.high += error_of(meter, r.kind, r.high);
  if (r.kind != Reading::Kind::posts) r.low = std::max(r.low, Voltage{});
}

std::string meter_in_words(const Meter& m) {
  const std::string share = "±" + print_plain(100.0 * double(m.voltage), 2) + " % and ";
  return share + print(m.volts_least) + ", " + share + print(m.drops_least) + " for drops, ±" +
         print_plain(100.0 * double(m.current), 2) + " % and " + print(m.current_least) +
         " of a clamp";
}

}  // namespace

const std::vector<Tolerance>& test_tolerances() {
  constexpr Source judged{SourceKind::from_memory, "judgement", ""};
  static const std::vector<Tolerance> all{
      {"conductors",
       "from pure copper of the nominal area, as cold as the workshop, to the table's greatest "
       "resistance, warmed by the test; lengths ±3 %",
       {SourceKind::from_memory, "IEC 60228 gives the greatest; the rest is judgement", ""}},
      {"joints", "from nothing to twice what the design counts with", judged},
      {"devices",
       "cold resistance where it is published, −10 to +70 %; else 20 to 120 mV at the rating",
       judged},
      {"items in line, chassis", "±50 % of what the design states", judged},
      {"batteries",
       "new, from their low to their high resistance; resting voltage ±10 mV where it was "
       "measured, else from 30 % of charge less to 15 % more, ±35 mV a cell about the mean curve",
       {SourceKind::published, "M. Naumann, thesis TU Munich (2018), and a second table of cells",
        "they are up to 35 mV apart"}},
      {"loads", "±5 % of an appliance's power, ±1 % of a load bench's current", judged},
      {"meter", meter_in_words(Meter{}), judged, true}};
  return all;
}

Voltage inside::error_of(const Meter& meter, Reading::Kind kind, Voltage u) {
  return double(meter.voltage) * Voltage::from_value(std::abs(u.value())) +
         (kind == Reading::Kind::posts ? meter.volts_least : meter.drops_least);
}

Solution inside::settle(TestNetwork& s, Solver& solver) {
  std::vector<Current> branch(s.branches.size());
  Solution solution;
  for (int pass = 0; pass < 4; ++pass) {  // conductors warm by their currents, and these by them
    set_warm(s, branch);
    set_piece_branches(s, nullptr, 0);
    solution = solver.solve(s.wired.network);
    const auto* point = std::get_if<OperatingPoint>(&solution);
    if (!point) break;
    branch = point->branch;
  }
  return solution;
}

TestAnswer inside::sheet_of(TestNetwork& s, Solver& solver, const OperatingPoint& expected,
                            const Meter& meter) {
  Solver linear(s.wired.network);
  TestSheet sheet;
  for (const int battery : s.wired.batteries) sheet.bank_current += at(expected.feed, battery);
  for (const Probe& p : s.probes) {
    const bool carries =
        p.carrier < 0 || std::abs(at(expected.branch, p.carrier).value()) >= least_shown.value();
    if (!carries) {
      if (p.reading.kind == Reading::Kind::along &&
          p.reading.name.is(design::Subject::Part::outgoing))
        sheet.without_current.push_back({p.reading.name.index()});
      continue;
    }
    Reading r = p.reading;
    r.low = r.high = r.expected = read_volts(s, p, expected);
    set_piece_branches(s, nullptr, 0);
    const auto effects = effects_on(s, linear, p, expected);
    if (!effects) return NoTestSheet{"the network cannot be solved"};
    for (const int towards : {-1, 1}) {
      set_piece_branches(s, &*effects, towards);
      const auto moved = solver.solve(s.wired.network);
      const auto* point = std::get_if<OperatingPoint>(&moved);
      if (!point) return NoTestSheet{"within the tolerances of its parts this load may collapse"};
      (towards < 0 ? r.low : r.high) = read_volts(s, p, *point);
    }
    add_meter(r, meter);
    sheet.readings.push_back(std::move(r));
  }
  set_piece_branches(s, nullptr, 0);
  return sheet;
}

TestAnswer test_sheet(const design::Design& d, const Assessment& a, const TestLoad& test) {
  TestNetwork s = test_network_of(d, a, test);
  Solver solver(s.wired.network);
  const Solution solution = settle(s, solver);
  const auto* point = std::get_if<OperatingPoint>(&solution);
  if (!point) return NoTestSheet{"the network has no operating point under this test load"};
  return sheet_of(s, solver, *point, Meter{});
}

}  // namespace housepower::wiring

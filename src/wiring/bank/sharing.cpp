// SPDX-License-Identifier: Apache-2.0
// The bank alone, from full to its end. Each step of charge is taken with the mean current that a
// battery gives over it: while it gives, its open-circuit voltage falls along the curve, and half
// of that fall acts like a resistance (the implicit midpoint rule, stable at the steep ends).
#include "housepower/wiring/sharing.hpp"

#include <cmath>

#include "../inside.hpp"
#include "housepower/parts/ageing.hpp"
#include "housepower/parts/cell.hpp"
#include "housepower/units/unit.hpp"

namespace housepower::wiring {

using namespace inside;

namespace {

constexpr double least_change = 1e-6;  // of a state of charge, for the slope of its curve

constexpr double nearly_empty = 1e-3;

/// The bank's network with one load at its terminals; resistances low and new.
class BankAlone {
public:
  BankAlone(const design::Design& d, const Bank& bank, Temperature temperature)
      : cells_(d->tables->cells), bank_(bank), temperature_(temperature),
        low_(low_resistance_of(bank).value * double(bank.in_series)), network_(wired(d)),
        solver_(network_) {}

  [[nodiscard]] double open_circuit(double charge) const {
    return parts::bank_open_circuit(cells_, bank_, charge).value();
  }
  [[nodiscard]] double resistance(double charge) const {
    return low_.value() * double(parts::resistance_factor(temperature_, charge));
  }
  void set(int battery, double volts, double ohms) {
    Feed& feed = at(network_.feeds, at(batteries_, battery));
    feed.open_circuit = Voltage::from_value(volts);
    feed.internal = Resistance::from_value(ohms);
  }
  [[nodiscard]] Solution give(Power power) {
    network_.loads[0].power = power;
    return solver_.solve(network_, LoadsAs::behave, {});
  }
  [[nodiscard]] Solution give(Current current) {
    network_.loads[0].power = current * network_.loads[0].nominal;
    return solver_.solve(network_, LoadsAs::currents, {});
  }
  [[nodiscard]] Current of(const OperatingPoint& p, int battery) const {
    return at(p.feed, at(batteries_, battery));
  }
  [[nodiscard]] static Voltage terminals(const OperatingPoint& p) {
    return p.potential[0] - p.potential[1];
  }

private:
  Network wired(const design::Design& d) {
    Network n;
    n.nodes = 2;
    batteries_ = add_batteries(n, d, bank_, {{0}, {1}}, Condition::drop);
    n.loads.push_back({{0}, {1}, design::Behaviour::constant_power, Power{}, bank_.voltage()});
    return n;
  }

  const tables::CellCurves& cells_;
  const Bank& bank_;
  Temperature temperature_;
  Resistance low_;
  std::vector<int> batteries_{};
  Network network_;
  Solver solver_;
};

/// A discharge under way.
struct Course {
  BankAlone alone;
  const BankLoad& load;
  Charge each;  // what a full battery gives at that age and temperature
  std::vector<double> charge;
  Sharing out{};

  Course(const design::Design& d, const Bank& bank, const BankLoad& l)
      : alone(d, bank, l.temperature), load(l),
        each(bank.capacity * double(parts::age_factor(bank, d->promise.bank_age)) *
             double(parts::capacity_factor(d->tables->cells, l.temperature))),
        charge(std::size_t(bank.parallel), double(l.from)) {
    out.in_case = l.in_case;
  }
  [[nodiscard]] int count() const { return int(charge.size()); }
  [[nodiscard]] double least_charge() const {
    return *std::min_element(charge.begin(), charge.end());
  }

  /// Writes down this moment; false where the bank cannot give the power any more.
  bool look(double drawn, Duration after) {
    for (int i = 0; i < count(); ++i)
      alone.set(i, alone.open_circuit(at(charge, i)), alone.resistance(at(charge, i)));
    const Solution solution = alone.give(load.power);
    const auto* p = std::get_if<OperatingPoint>(&solution);
    if (!p) return false;
    SharingPoint& point = out.points.emplace_back();
    point.drawn = drawn;
    point.after = after;
    point.bank = BankAlone::terminals(*p);
    for (int i = 0; i < count(); ++i) point.current += alone.of(*p, i);
    for (int i = 0; i < count(); ++i) {
      const Current own = alone.of(*p, i);
      point.batteries.push_back({i + 1, own, own / point.current, at(charge, i)});
    }
    return true;
  }

  /// Draws `part` of one full battery, which takes the bank's current `time` for each of its
  /// amperes. Returns what was drawn of one full battery.
  void draw(double per_ampere) {
    const SharingPoint& now = out.points.back();
    for (int i = 0; i < count(); ++i) {
      const double from = at(charge, i);
      double given = now.batteries[std::size_t(i)].current.value() * per_ampere;
      if (std::abs(given) < least_change) given = least_change;
      const double fall = alone.open_circuit(from) - alone.open_circuit(from - given);
      alone.set(i, alone.open_circuit(from),
                alone.resistance(from - 0.5 * given) + 0.5 * fall / given * per_ampere);
    }
    const Solution solution = alone.give(now.current);
    const auto& p = std::get<OperatingPoint>(solution);
    for (int i = 0; i < count(); ++i) at(charge, i) -= alone.of(p, i).value() * per_ampere;
  }

  /// Who cuts out now, if anyone does.
  [[nodiscard]] const BankLoad::Stop* stopped() const {
    const SharingPoint& now = out.points.back();
    for (const auto& stop : load.stops)
      if (now.bank - now.current * stop.way < stop.lowest) return &stop;
    return nullptr;
  }
};

/// `most` in the flat part, a quarter of it where the curve is steep.
double next_step(double most, double drawn, double least_charge) {
  return drawn < 0.08 || least_charge < 0.22 ? 0.25 * most : most;
}

void find_worst(Sharing& s, const BankLoad& load) {
  const auto busiest = [&](std::size_t point) {
    const auto& batteries = s.points[point].batteries;
    return *std::max_element(batteries.begin(), batteries.end(),
                             [](const auto& a, const auto& b) { return a.current < b.current; });
  };
  for (std::size_t i = 0; i < s.points.size(); ++i) {
    const Current here = busiest(i).current;
    if (here > busiest(s.worst).current) s.worst = i;
    if (load.from - s.points[i].drawn >= load.reserve && here > busiest(s.worst_promised).current)
      s.worst_promised = i;
  }
  s.busiest = busiest(s.worst).number;
}

}  // namespace

Sharing discharge(const design::Design& d, const Bank& bank, const BankLoad& load, Ratio step) {
  Course course(d, bank, load);
  double drawn = 0;
  Duration after{};
  course.out.ended_by = "the bank cannot give that power any longer";
  while (course.look(drawn, after)) {
    if (const auto* stop = course.stopped()) {
      course.out.ended_by = "\"" + stop->name + "\" gets less than its " + print(stop->lowest);
      break;
    }
    if (course.least_charge() < nearly_empty) {
      course.out.ended_by = "a battery is empty";
      break;
    }
    const SharingPoint& now = course.out.points.back();
    const double most = next_step(double(step), drawn, course.least_charge());
    double per_ampere = most * course.count() / now.current.value();
    for (const auto& b : now.batteries) {
      if (b.current.value() > 0.0)
        per_ampere = std::min(per_ampere, double(b.charge) / b.current.value());
      // What batteries exchange may be far more than a small load: no step runs past their levelling.
      if (const double exchanged = std::abs(b.current.value()); exchanged > 0.0)
        per_ampere = std::min(per_ampere, 2.0 * most / exchanged);
    }
    drawn += per_ampere * now.current.value() / course.count();
    after += per_ampere * course.each / ampere;
    course.draw(per_ampere);
  }
  if (!course.out.points.empty()) find_worst(course.out, load);
  return std::move(course.out);
}

const CaseResult* heaviest_case(const Assessment& a) {
  const CaseResult* heaviest = nullptr;
  for (const CaseResult& c : a.cases) {
    const CaseResult* found = c.borne();
    if (!c.load_case.judged || c.load_case.starting || !found) continue;
    if (found->bank_current.value() > 1e-6 &&
        (!heaviest || found->bank_current > heaviest->bank_current))
      heaviest = found;
  }
  return heaviest;
}

BankLoad load_of_case(const design::Design& d, const CaseResult& c) {
  BankLoad load;
  load.in_case = c.load_case.name;
  load.temperature = c.load_case.temperature;
  load.from = d->promise.arrive_at;
  load.reserve = d->promise.reserve;
  const Voltage bank = c.post[d->bank->post];
  load.power = bank * c.bank_current;
  for (const Consumer& k : drawing(d)) {
    if (!runs_in(d, c.load_case, k)) continue;
    const Voltage own = c.post[post_of(d, k)];
    const Voltage lowest = lowest_voltage(d, k);
    if (own >= lowest) load.stops.push_back({name_of(d, k), (bank - own) / c.bank_current, lowest});
  }
  return load;
}

std::vector<Current> shares_of(const design::Design& d, const Bank& bank, Current all,
                               const BankLoad& load, int open) {
  BankAlone alone(d, bank, load.temperature);
  for (int i = 0; i < bank.parallel; ++i)
    alone.set(i, alone.open_circuit(double(load.from)),
              i + 1 == open ? opened.value() : alone.resistance(double(load.from)));
  const Solution solution = alone.give(all);
  std::vector<Current> shares;
  for (int i = 0; i < bank.parallel; ++i)
    shares.push_back(alone.of(std::get<OperatingPoint>(solution), i));
  return shares;
}

std::optional<Sharing> sharing_of(const design::Design& d, const Assessment& a) {
  const CaseResult* heaviest = heaviest_case(a);
  if (!d->bank || d->bank->parallel < 2 || !heaviest) return std::nullopt;
  const Bank& bank = *d->bank;
  Sharing s = discharge(d, bank, load_of_case(d, *heaviest));
  if (s.points.empty()) return std::nullopt;

  const CaseResult* lightest = heaviest;
  for (const CaseResult& c : a.cases)
    if (c.load_case.judged && !c.load_case.starting && c.solved() &&
        c.bank_current.value() > 1e-6 && c.bank_current < lightest->bank_current)
      lightest = &c;
  const double charge = double(lightest->load_case.charge);
  Sharing::AtRest rest{lightest->load_case.name,
                       0.5 * d->tables->cells.hysteresis.at(charge) *
                           double(parts::cells_in_series(bank)) * volt,
                       lightest->bank_current,
                       {}};
  BankAlone alone(d, bank, lightest->load_case.temperature);
  for (int i = 0; i < bank.parallel; ++i)
    alone.set(i, alone.open_circuit(charge) + (i == 0 ? rest.apart.value() : 0.0),
              alone.resistance(charge));
  const Solution solution = alone.give(rest.current);
  for (int i = 0; i < bank.parallel; ++i) {
    const Current own = alone.of(std::get<OperatingPoint>(solution), i);
    rest.first.push_back({i + 1, own, own / rest.current});
  }
  s.at_rest = std::move(rest);
  return s;
}

Current busiest_at(const Sharing& s, std::size_t point, Working* working) {
  std::vector<Term<Current>> terms;
  for (const auto& b : s.points[point].batteries)
    terms.push_back({"battery " + std::to_string(b.number), b.current});
  return largest(working, "I_b", "current of the busiest battery, from the solution of the bank",
                 terms);
}

Ratio unevenness_of(const Sharing& s, Working* working) {
  const SharingPoint& start = s.points.front();
  const Current busiest = busiest_at(s, 0, working);
  std::vector<Term<Current>> terms;
  for (const auto& b : start.batteries)
    terms.push_back({"battery " + std::to_string(b.number), b.current});
  const Current all = sum(working, "I", "current of the bank", terms);
  return step(working, unevenness, Ratio(double(start.batteries.size())), busiest, all);
}

}  // namespace housepower::wiring

// SPDX-License-Identifier: Apache-2.0
#include "diagnosis_model.hpp"

#include <cmath>

#include "housepower/design/labels.hpp"

namespace housepower::wiring::inside {
namespace {

constexpr double least_read = 0.05;  // A: less tells nothing

double across(const PerNode<Voltage>& v, NodeId plus, NodeId minus) {
  return (v[plus] - v[minus]).value();
}
double across(const PerNode<double>& v, NodeId plus, NodeId minus) { return v[plus] - v[minus]; }

struct Middle {
  double value, spread;
};
/// The middle of a band, and its standard deviation as a share of it.
template <class Q> Middle middle_of(const Spread<Q>& s) {
  const double middle = 0.5 * (s.low + s.high).value();
  const double half = 0.5 * (s.high - s.low).value();
  return {middle, middle > 0.0 ? half / middle / half_a_band : 0.0};
}

/// The whole of a sound part whose tolerance is so much of its middle; never nothing.
double whole_with(double tolerance) { return std::max(1.0 + tolerance, 0.01); }

}  // namespace

CaseModel::CaseModel(TestNetwork&& s, const OperatingPoint& expected)
    : wired_(s.wired), expected_(s.whole), network_(s.whole), internal_(s.internal), open_(s.open),
      solver_(s.whole) {
  loads_.assign(s.loads.begin(), s.loads.begin() + std::ptrdiff_t(s.whole.loads.size()));
  std::vector<int> part_of(s.branches.size(), -1);
  const auto add = [&](std::size_t branch, std::size_t carrier, std::optional<PieceBranch> piece) {
    const Middle middle = middle_of(s.branches[branch]);
    part_of[branch] = int(parts_.size());
    parts_.push_back({carrier, middle.spread, piece});
    usual_.push_back(middle.value);
  };
  std::vector<bool> split(expected_.branches.size());
  for (const PieceBranch& piece : s.pieces) {
    split[piece.carrier] = true;
    add(piece.branch, piece.carrier, piece);
  }
  for (std::size_t b = 0; b < split.size(); ++b)
    if (!split[b]) add(b, b, std::nullopt);
  for (std::size_t b = 0; b < split.size(); ++b)
    live_.push_back(std::abs(expected.branch[b].value()) >= least_read);
  for (const Probe& p : s.probes) {
    Spot spot{
        {p.reading.name, label_of_point(s.d, p.reading.name), p.reading.probes, kind_of<Voltage>},
        p.reading.kind,
        false,
        {},
        {},
        {}};
    const Load& pair = s.wired.network.loads[p.pairs.front()];
    spot.plus = pair.plus;
    spot.minus = pair.minus;
    for (const std::size_t branch : p.branches) spot.parts.push_back(std::size_t(part_of[branch]));
    if (p.carrier >= 0 && !live_[std::size_t(p.carrier)]) continue;
    spots_.push_back(spot);
    if (p.reading.kind != Reading::Kind::along) continue;
    const design::Subject clamp = p.reading.name.with("current");
    spot.point = {clamp, label_of_point(s.d, clamp), "clamp around it", kind_of<Current>};
    spot.clamp = true;
    spot.parts.resize(1);
    spots_.push_back(std::move(spot));
  }
  if (wired_.batteries.size() > 1)
    for (std::size_t n = 0; n < wired_.batteries.size(); ++n) {
      const auto path = design::subject_of_bank().battery(n + 1).with("current");
      spots_.push_back({{path, label_of_point(s.d, path), "clamp around it", kind_of<Current>},
                        Reading::Kind::along,
                        true,
                        {},
                        {},
                        {},
                        std::size_t(wired_.batteries[n])});
    }
  now_ = faulty_ = usual_;
  faulty_internal_.resize(expected_.feeds.size());
  linear_ = expected_;
  linear_.loads.clear();
  for (Feed& f : linear_.feeds) f.open_circuit = Voltage{};
  const auto probe = [&](NodeId plus, NodeId minus) {
    linear_.loads.push_back(
        {plus, minus, design::Behaviour::constant_current, Power{}, 1.0 * volt});
  };
  for (const Branch& b : expected_.branches) probe(b.from, b.to);
  for (const Feed& f : expected_.feeds) probe(f.plus, f.minus);
  for (const Load& l : expected_.loads) probe(l.plus, l.minus);
  linear_solver_.emplace(linear_);
}

void CaseModel::rest_at(Voltage u) {
  for (const int battery : wired_.batteries) open_[std::size_t(battery)].expected = u;
}

void CaseModel::set(const std::vector<Unknown>& unknowns, const Values& values,
                    std::size_t this_case) {
  const std::size_t parts = parts_.size(), feeds = expected_.feeds.size();
  Values tolerance(parts), factor(parts), extra(parts), internal(feeds), weak(feeds);
  gain_ = {1.0, 1.0, 1.0};
  for (std::size_t i = 0; i < feeds; ++i) network_.feeds[i].open_circuit = open_[i].expected;
  for (std::size_t i = 0; i < expected_.loads.size(); ++i)
    network_.loads[i].power = loads_[i].expected;
  for (std::size_t u = 0; u < unknowns.size(); ++u) {
    const Unknown& one = unknowns[u];
    for (const std::size_t i : one.of) switch (one.is) {
      case Unknown::Is::scale: (one.fault ? factor : tolerance)[i] += values[u]; break;
      case Unknown::Is::extra: extra[i] += std::exp(values[u]); break;
      case Unknown::Is::internal: (one.fault ? weak : internal)[i] += values[u]; break;
      case Unknown::Is::open:
        if (one.in_case.value_or(this_case) == this_case)
          network_.feeds[i].open_circuit += Voltage::from_value(values[u]);
        break;
      case Unknown::Is::load:
        if (i < network_.loads.size())
          network_.loads[i].power *= one.fault ? std::exp(values[u]) : whole_with(values[u]);
        break;
      case Unknown::Is::gain:
        if (one.in_case == this_case) gain_[i] += values[u];
        break;
      }
  }
  for (Branch& b : network_.branches) b.resistance = Resistance{};
  for (std::size_t k = 0; k < parts; ++k) {
    const double sound = usual_[k] * whole_with(tolerance[k]);
    faulty_[k] = usual_[k] * std::exp(factor[k]);
    now_[k] = std::max(sound + faulty_[k] - usual_[k], 0.01 * usual_[k]) + extra[k];
    network_.branches[parts_[k].carrier].resistance += Resistance::from_value(now_[k]);
  }
  for (std::size_t i = 0; i < feeds; ++i) {
    const double usual = internal_[i].expected.value();
    const double sound = usual * whole_with(internal[i]);
    faulty_internal_[i] = usual * std::exp(weak[i]);
    network_.feeds[i].internal =
        Resistance::from_value(std::max(sound + faulty_internal_[i] - usual, 0.01 * usual));
  }
}

std::optional<OperatingPoint> CaseModel::solve(const std::vector<Unknown>& unknowns,
                                               const Values& values, std::size_t this_case) {
  set(unknowns, values, this_case);
  auto solution = solver_.solve(network_);
  if (auto* point = std::get_if<OperatingPoint>(&solution)) return std::move(*point);
  return std::nullopt;
}

double CaseModel::read(const Spot& spot, const OperatingPoint& point) const {
  const double gain = gain_[std::size_t(spot.range())];
  if (spot.kind == Reading::Kind::posts)
    return gain * across(point.potential, spot.plus, spot.minus);
  if (spot.feed) return gain * std::abs(point.feed[*spot.feed].value());
  double total = 0;
  for (const std::size_t part : spot.parts) {
    const double i = std::abs(point.branch[parts_[part].carrier].value());
    total += spot.clamp ? i : i * now_[part];
  }
  return gain * total;
}

CaseModel::Responses CaseModel::responses(const OperatingPoint& point) {
  for (std::size_t i = 0; i < network_.branches.size(); ++i)
    linear_.branches[i].resistance = network_.branches[i].resistance;
  for (std::size_t i = 0; i < network_.feeds.size(); ++i)
    linear_.feeds[i].internal = network_.feeds[i].internal;
  Responses r;
  std::size_t load = 0;
  const auto add = [&](std::vector<Pair>& list, NodeId plus, NodeId minus, bool flows) {
    Pair& pair = list.emplace_back(Pair{plus, minus});
    Load& probe = linear_.loads[load++];
    if (!flows) return;
    probe.power = -1.0 * watt;  // one ampere at one volt, pushed in
    const auto solution = linear_solver_->solve(linear_, LoadsAs::currents, {});
    probe.power = Power{};
    if (const auto* unit = std::get_if<OperatingPoint>(&solution))
      for (const Voltage& v : unit->potential) pair.potential.push_back(v.value());
  };
  for (std::size_t i = 0; i < network_.branches.size(); ++i)
    add(r.branches, network_.branches[i].from, network_.branches[i].to, live_[i]);
  for (const Feed& f : network_.feeds) add(r.feeds, f.plus, f.minus, true);
  for (const Load& l : network_.loads) add(r.loads, l.plus, l.minus, l.power.value() != 0.0);
  // A load whose current moves with its voltage is a conductance of that slope beside it.
  for (std::size_t i = 0; i < network_.loads.size(); ++i) {
    const Load& l = network_.loads[i];
    if (r.loads[i].potential.empty() || l.behaves == design::Behaviour::constant_current) continue;
    const double u = across(point.potential, l.plus, l.minus), p = l.power.value();
    const double nominal = l.nominal.value();
    const double slope =
        l.behaves == design::Behaviour::resistive ? p / (nominal * nominal) : -p / (u * u);
    const PerNode<double> mine = r.loads[i].potential;
    const double scale = slope / (1.0 + slope * across(mine, l.plus, l.minus));
    for (auto* list : {&r.branches, &r.feeds, &r.loads})
      for (Pair& pair : *list) {
        const double here =
            pair.potential.empty() ? 0.0 : scale * across(pair.potential, l.plus, l.minus);
        for (std::size_t n = 0; n < pair.potential.size(); ++n) pair.potential[n] -= here * mine[n];
      }
  }
  return r;
}

/// Potentials of the nodes by one unknown, and what its own parts' drops gain besides. A resistance
/// that grows by dR under I acts as a source of I·dR in its branch: it pushes I·dR / R in at its ends.
struct CaseModel::Effect {
  PerNode<double> nodes;
  std::vector<std::pair<std::size_t, double>> ohms{};   // dR of parts
  std::vector<std::pair<std::size_t, double>> volts{};  // of sources: dE − I·dR
};

CaseModel::Effect CaseModel::effect_of(const Unknown& u, double value, const Responses& r,
                                       const OperatingPoint& point, std::size_t this_case) const {
  Effect e{PerNode<double>(std::size_t(network_.nodes), 0.0)};
  const auto push = [&](const Pair& at_pair, double amperes) {
    for (std::size_t n = 0; n < at_pair.potential.size(); ++n)
      e.nodes[n] += amperes * at_pair.potential[n];
  };
  for (const std::size_t i : u.of) switch (u.is) {
    case Unknown::Is::scale:
    case Unknown::Is::extra: {
      const std::size_t b = parts_[i].carrier;
      const double change = u.is == Unknown::Is::extra ? std::exp(value)
                            : u.fault                  ? faulty_[i]
                                                       : usual_[i];
      e.ohms.emplace_back(i, change);
      const double ohms = std::max(network_.branches[b].resistance, least_resistance).value();
      if (live_[b]) push(r.branches[b], point.branch[b].value() * change / ohms);
      break;
    }
    case Unknown::Is::internal:
    case Unknown::Is::open: {
      if (u.is == Unknown::Is::open && u.in_case.value_or(this_case) != this_case) break;
      const double volts = u.is == Unknown::Is::open
                               ? 1.0
                               : -point.feed[i].value() * (u.fault ? faulty_internal_[i]
                                                                   : internal_[i].expected.value());
      e.volts.emplace_back(i, volts);
      push(r.feeds[i], volts / std::max(network_.feeds[i].internal, least_resistance).value());
      break;
    }
    case Unknown::Is::load:
      if (i < r.loads.size())
        push(r.loads[i], -point.load[i].value() / (u.fault ? 1.0 : whole_with(value)));
      break;
    case Unknown::Is::gain: break;  // of the meter, not of the van
    }
  return e;
}

std::vector<Values> CaseModel::derivatives(const std::vector<Spot>& spots,
                                           const std::vector<Unknown>& unknowns,
                                           const Values& values, const OperatingPoint& point,
                                           std::size_t this_case) {
  const Responses r = responses(point);
  std::vector<Values> rows(spots.size(), Values(unknowns.size(), 0.0));
  Values current(network_.branches.size());
  for (std::size_t u = 0; u < unknowns.size(); ++u) {
    const Effect e = effect_of(unknowns[u], values[u], r, point, this_case);
    for (std::size_t b = 0; b < current.size(); ++b) {
      const Branch& branch = network_.branches[b];
      current[b] = live_[b] ? across(e.nodes, branch.from, branch.to) /
                                  std::max(branch.resistance, least_resistance).value()
                            : 0.0;
    }
    for (const auto& [part, ohms] : e.ohms) {
      const std::size_t b = parts_[part].carrier;
      if (live_[b])
        current[b] -= point.branch[b].value() * ohms /
                      std::max(network_.branches[b].resistance, least_resistance).value();
    }
    for (std::size_t s = 0; s < spots.size(); ++s) {
      const Spot& spot = spots[s];
      double& to = rows[s][u];
      const double gain = gain_[std::size_t(spot.range())];
      if (unknowns[u].is == Unknown::Is::gain) {
        if (unknowns[u].in_case == this_case && unknowns[u].of.front() == std::size_t(spot.range()))
          to = read(spot, point) / gain;
        continue;
      }
      if (spot.kind == Reading::Kind::posts) {
        to = gain * across(e.nodes, spot.plus, spot.minus);
        continue;
      }
      if (spot.feed) {
        const Feed& feed = network_.feeds[*spot.feed];
        double volts = -across(e.nodes, feed.plus, feed.minus);
        for (const auto& [own, more] : e.volts)
          if (own == *spot.feed) volts += more;
        const double sign = point.feed[*spot.feed].value() < 0.0 ? -1.0 : 1.0;
        to = gain * sign * volts / std::max(feed.internal, least_resistance).value();
        continue;
      }
      for (const std::size_t part : spot.parts) {
        const std::size_t b = parts_[part].carrier;
        const double sign = point.branch[b].value() < 0.0 ? -1.0 : 1.0;
        to += gain * sign * current[b] * (spot.clamp ? 1.0 : now_[part]);
        if (spot.clamp) continue;
        for (const auto& [own, ohms] : e.ohms)
          if (own == part) to += gain * std::abs(point.branch[b].value()) * ohms;
      }
    }
  }
  return rows;
}

}  // namespace housepower::wiring::inside

namespace housepower::wiring {

std::string label_of_point(const design::Design& d, const design::Subject& point) {
  using Part = design::Subject::Part;
  const bool clamp = !point.key().empty();
  const auto number = [](std::size_t n) { return std::to_string(n); };
  if (point.is(Part::battery))
    return (clamp ? "clamp battery " : "battery ") + number(point.number());
  const std::string_view behind = point.behind_kind();
  if (!point.is(design::Subject::Kind::run))
    return behind.empty() ? point.text() : std::string(behind);
  const auto& run = d->runs[std::size_t(point.index())];
  switch (point.part()) {
  case Part::outgoing:
    return clamp ? "clamp " + run.label
                 : run.label + std::string(design::sign_of(design::Pole::outgoing));
  case Part::back:
    return (clamp ? "clamp " : "") + run.label +
           std::string(design::sign_of(design::Pole::return_));
  case Part::protection:
    return run.label + " fuse" +
           (run.protection.size() > 1 ? " " + number(point.number() + 1) : "");
  case Part::inline_item: return run.label + " inline/" + number(point.number());
  default: break;
  }
  return clamp ? run.label + " " + std::string(point.key()) : point.text();
}

}  // namespace housepower::wiring

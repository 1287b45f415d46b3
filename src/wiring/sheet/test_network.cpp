// SPDX-License-Identifier: Apache-2.0
#include "test_network.hpp"

#include <algorithm>
#include <cmath>

#include "housepower/parts/cell.hpp"

namespace housepower::wiring::inside {
namespace {

constexpr double rated_power = 0.05;  // of an appliance
constexpr double bench_share = 0.01;  // of a load bench's current
constexpr double item_share = 0.5, chassis_share = 0.5;
constexpr Voltage cell_spread = Voltage::from_value(0.035);
// How far a workshop's bank may be from the charge that a sheet is printed for (from judgement).
constexpr double emptier = 0.3, fuller = 0.15;
// Fuller than this it was charged until just now and does not rest yet: the curve rises steeply there.
constexpr double fullest_at_rest = 0.95;
constexpr Voltage resting_spread = Voltage::from_value(0.01);
constexpr Resistance unplugged =
    Resistance::from_value(1e9);  // of a vehicle that is not plugged in
// A device whose resistance is not published loses so much at its rating.
constexpr Voltage device_least = Voltage::from_value(0.02),
                  device_usual = Voltage::from_value(0.06), device_most = Voltage::from_value(0.12);

/// What one pole of a run consists of, from its `from` to its `to`.
struct Piece {
  using Is = PieceIs;
  Is is;
  double share = 1.0;               // of the conductor's length
  Spread<Resistance> resistance{};  // of all but copper
  std::size_t number = 0;           // of the device
};

Spread<Resistance> joints(Resistance each, double count) {
  return {Resistance{}, count * each, most_joint * count * each};
}
Spread<Resistance> operator+(const Spread<Resistance>& x, const Spread<Resistance>& y) {
  return {x.low + y.low, x.expected + y.expected, x.high + y.high};
}

/// The device's own resistance: published when cold, else from what devices usually lose.
Spread<Resistance> device_resistance(const Protection& device) {
  if (device.fuse)
    for (const auto& cold : device.fuse->cold)
      if (cold.rating == device.rating)
        return {0.9 * cold.resistance, cold.resistance, 1.7 * cold.resistance};
  return {device_least / device.rating, device_usual / device.rating, device_most / device.rating};
}

std::vector<Piece> pieces_of(const Run& run, design::Pole pole, const tables::Conductor* c) {
  const bool outgoing = pole == design::Pole::outgoing;
  const Resistance each = run.joint_resistance ? *run.joint_resistance
                          : c                  ? default_joint(*c)
                                               : 0.5 * milliohm;
  const int things = run.things();
  // Where fewer joints are stated than the things on the run need, they lie at the ends.
  const bool of_their_own = run.joints >= 2 * things;
  const double at_things = of_their_own ? 2.0 : 0.0;
  const double at_ends = 0.25 * (of_their_own ? run.joints - 2 * things : run.joints);
  std::vector<std::pair<double, Piece>> placed;  // by share of the length
  if (outgoing)
    for (std::size_t n = 0; n < run.protection.size(); ++n) {
      const Protection& p = run.protection[n];
      const double away = std::min(1.0, double(p.distance.value_or(Length{}) / run.length));
      placed.push_back(
          {p.end == design::RunEnd::from ? away : 1.0 - away,
           {Piece::Is::device, 0.0, device_resistance(p) + joints(each, at_things), n}});
    }
  for (std::size_t n = 0; n < run.inline_items.size(); ++n) {
    const auto& one = run.inline_items[n];
    if (one.sits_in(pole))
      placed.push_back(
          {outgoing ? 1.0 : 0.0,
           {Piece::Is::item, 0.0, around(one.in(pole), item_share) + joints(each, at_things), n}});
  }
  std::stable_sort(placed.begin(), placed.end(),
                   [](const auto& x, const auto& y) { return x.first < y.first; });
  const Piece lug{Piece::Is::lug, 0.0, joints(each, at_ends), 0};
  std::vector<Piece> pieces{lug};
  double done = 0.0;
  for (const auto& [where, piece] : placed) {
    if (where > done) pieces.push_back({Piece::Is::copper, where - done, {}, 0});
    done = std::max(done, where);
    pieces.push_back(piece);
  }
  if (done < 1.0) pieces.push_back({Piece::Is::copper, 1.0 - done, {}, 0});
  pieces.push_back(lug);
  return pieces;
}

/// A pair of nodes that a meter can touch: a load of no current whose voltage is read.
std::size_t probe(TestNetwork& s, NodeId plus, NodeId minus) {
  s.wired.network.loads.push_back(
      {plus, minus, design::Behaviour::constant_current, Power{}, 1.0 * volt});
  s.loads.push_back({});
  return s.wired.network.loads.size() - 1;
}

/// Where the leads go at a device, as the trade calls it.
std::string across(const Protection& device) {
  return "across the " + device.plain_name() + (device.fuse ? " fuse" : "");
}

/// Replaces the one branch of a pole by its pieces and adds its readings.
void split_pole(TestNetwork& s, std::size_t i, design::Pole pole, Probe& joints_of_run) {
  const Run& run = s.d->runs[i];
  const RunFacts& facts = s.a.runs[i];
  const bool outgoing = pole == design::Pole::outgoing;
  const auto* c = outgoing     ? &facts.outgoing.conductor
                  : facts.back ? &facts.back->conductor
                               : nullptr;
  const auto first = std::size_t(outgoing ? s.wired.runs[i].outgoing : s.wired.runs[i].back);
  const Branch whole = s.wired.network.branches[first];
  const auto pieces = pieces_of(run, pole, c);
  std::vector<std::size_t> all;
  NodeId here = whole.from;
  for (std::size_t n = 0; n < pieces.size(); ++n) {
    const Piece& piece = pieces[n];
    const NodeId next = n + 1 == pieces.size() ? whole.to : NodeId{s.wired.network.nodes++};
    const bool is_copper = piece.is == Piece::Is::copper;
    const Spread<Resistance> r =
        is_copper && !c ? around(piece.share * s.d->chassis.value_or(Resistance{}), chassis_share)
                        : piece.resistance;
    std::size_t branch = first;
    if (n == 0) s.wired.network.branches[first].to = next, s.branches[first] = r;
    else branch = s.add_branch(here, next, r);
    all.push_back(branch);
    s.pieces.push_back({piece.is, branch, first, i, pole, piece.number});
    if (is_copper && c)
      s.copper.push_back({branch, c, piece.share * (outgoing ? run.length : run.back.length),
                          double(run.parallel), outgoing ? &facts.heating : &facts.heating_back});
    if (piece.is == Piece::Is::device)
      s.probes.push_back({{Reading::Kind::device, subject_of(s.d, run).protection(piece.number),
                           across(run.protection[piece.number])},
                          {probe(s, here, next)},
                          int(first),
                          {branch}});
    else if (!is_copper && piece.resistance.high.value() > 0.0) {
      joints_of_run.pairs.push_back(probe(s, here, next));
      joints_of_run.branches.push_back(branch);
    }
    here = next;
  }
  const std::string& near = s.d[outgoing ? run.from : run.to].name;
  const std::string& far = s.d[outgoing ? run.to : run.back.to].name;
  const std::string side = outgoing ? "plus" : "minus";
  s.probes.push_back({{Reading::Kind::along,
                       outgoing ? subject_of(s.d, run).outgoing() : subject_of(s.d, run).back(),
                       side + " of " + near + ", " + side + " of " + far},
                      {probe(s, whole.from, whole.to)},
                      int(first),
                      std::move(all)});
}

/// The posts that the bank feeds, or any source where there is no bank.
PerPost<bool> tested_posts(const design::Design& d, const Wired& wired, const Solver& shape) {
  const auto group = groups_of(d);
  PerPost<bool> tested;
  for (std::size_t i = 0; i < d->posts.size(); ++i)
    tested.push_back(d->bank ? group[i] == group[d->bank->post]
                             : shape.fed(wired.posts[i].plus, wired.posts[i].minus));
  return tested;
}

void add_posts(TestNetwork& s, const PerPost<bool>& tested) {
  const auto add = [&](const design::Subject& name, NodeId plus, NodeId minus) {
    s.probes.push_back({{Reading::Kind::posts, name, "plus, minus"}, {probe(s, plus, minus)}, -1});
  };
  for (std::size_t i = 0; i < s.d->posts.size(); ++i) {
    const auto [plus, minus] = s.wired.posts[i];
    if (tested[i]) add(subject_of(s.d, s.d->posts[i]), plus, minus);
  }
  if (s.wired.batteries.size() < 2) return;
  for (std::size_t i = 0; i < s.wired.batteries.size(); ++i) {
    const Feed& feed = at(s.wired.network.feeds, s.wired.batteries[i]);
    add(design::subject_of_bank().battery(i + 1), feed.plus, feed.minus);
  }
}

/// The state of the sources: a new bank as it rests. Beside a bank no vehicle is plugged in; without
/// one the feeds are between their limits.
void set_sources(TestNetwork& s) {
  auto& feeds = s.wired.network.feeds;
  for (const Feed& f : feeds) {
    s.internal.push_back({0.5 * f.internal, f.internal, 2.0 * f.internal});
    s.open.push_back({f.open_circuit, f.open_circuit, f.open_circuit});
  }
  if (s.d->bank) {
    const Bank& bank = *s.d->bank;
    const Resistance least = low_resistance_of(bank).value;
    const Resistance most = bank.high.value_or(2.5 * least);
    const double now =
        double(parts::resistance_factor(s.test.workshop, s.test.charge)) * double(bank.in_series);
    const RestingRange rest = resting_range(s.d, s.test).value();
    for (const int battery : s.wired.batteries) {
      s.internal[std::size_t(battery)] = {now * least, now * 0.5 * (least + most), now * most};
      s.open[std::size_t(battery)] = {rest.low, rest.expected, rest.high};
    }
  }
  for (std::size_t i = 0; i < s.d->feeds.size(); ++i) {
    const auto& feed = s.d->feeds[i];
    if (s.d->bank) s.internal[std::size_t(s.wired.feeds[i])] = around(unplugged, 0.0);
    s.open[std::size_t(s.wired.feeds[i])] = {feed.low, 0.5 * (feed.low + feed.high), feed.high};
  }
}

void set_test_load(TestNetwork& s, const Solver& shape) {
  LoadCase c;
  c.running = s.test.running;
  set_loads(s.wired, shape, s.d, c);
  for (std::size_t i = 0; i < s.wired.network.loads.size(); ++i)
    s.loads.push_back(around(s.wired.network.loads[i].power, rated_power));
  if (!s.test.bench) return;
  const auto [plus, minus] = s.wired.posts[s.test.bench->at];
  const std::size_t load = probe(s, plus, minus);
  s.loads[load] = around(s.test.bench->current * (1.0 * volt), bench_share);
}

}  // namespace

TestNetwork test_network_of(const design::Design& d, const Assessment& a, const TestLoad& test) {
  std::vector<RunConductors> conductors;
  for (const RunFacts& facts : a.runs) {
    RunConductors& used = conductors.emplace_back();
    used.outgoing = facts.outgoing.conductor;
    if (facts.back) used.back = facts.back->conductor;
  }
  TestNetwork s{d, a, test,
                network_of(d, conductors, Condition::drop, {test.charge, test.workshop})};
  const Solver shape(s.wired.network);
  for (const Branch& b : s.wired.network.branches)
    s.branches.push_back(
        {(1.0 - item_share) * b.resistance, b.resistance, most_joint * b.resistance});
  set_sources(s);
  set_test_load(s, shape);
  s.whole = s.wired.network;
  const auto tested = tested_posts(d, s.wired, shape);
  add_posts(s, tested);
  for (std::size_t i = 0; i < d->runs.size(); ++i) {
    const Run& run = d->runs[i];
    if (!tested[run.to]) continue;
    Probe joints{
        {Reading::Kind::joints, subject_of(d, run).with("joints"), "each lug and joint, added up"},
        {},
        s.wired.runs[i].outgoing};
    split_pole(s, i, design::Pole::outgoing, joints);
    split_pole(s, i, design::Pole::return_, joints);
    if (!joints.pairs.empty()) s.probes.push_back(std::move(joints));
  }
  return s;
}

}  // namespace housepower::wiring::inside

namespace housepower::wiring {

std::optional<RestingRange> resting_range(const design::Design& d, const TestLoad& test) {
  using namespace inside;
  if (!d->bank) return std::nullopt;
  if (test.resting)
    return RestingRange{*test.resting - resting_spread, *test.resting,
                        *test.resting + resting_spread};
  const auto at = [&](double charge) {
    return parts::bank_open_circuit(d->tables->cells, *d->bank,
                                    std::clamp(charge, 0.0, fullest_at_rest));
  };
  const double charge = double(test.charge);
  const Voltage cells = cell_spread * double(parts::cells_in_series(*d->bank));
  return RestingRange{at(charge - emptier) - cells, at(charge), at(charge + fuller) + cells};
}

}  // namespace housepower::wiring

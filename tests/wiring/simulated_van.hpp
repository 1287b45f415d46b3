// SPDX-License-Identifier: Apache-2.0
// Vans as they leave the line: every part of its own within the tolerances of the test sheet, faults
// that are planted, and a meter with its errors. Each piece of a conductor is a branch of the whole
// network here, which the diagnosis solves with one branch a pole: the two share the tolerances and the
// solver, not the model of a reading.
#pragma once

#include <cmath>
#include <optional>
#include <random>
#include <stdexcept>
#include <string>

#include "../../src/wiring/sheet/test_network.hpp"

namespace housepower::test {

namespace wi = wiring::inside;

struct Planted {
  enum class Is { joint, thinner, longer, weak_battery, wrong_fuse, reversed } is = Is::joint;
  std::size_t run = 0;  // battery of a weak one
  design::Pole pole = design::Pole::outgoing;
  double size = 0;  // ohms of a joint; factor of all else
  int which = 0;    // of a joint: at the near lug, the far lug, the first device
};

enum class Clamps { none, batteries };  // what is read besides

class SimulatedVan {
public:
  SimulatedVan(const design::Design& d, const wiring::Assessment& a, wiring::TestLoad load)
      : load_(std::move(load)), s_(wi::test_network_of(d, a, load_)), solver_(s_.wired.network) {
    const auto solution = wi::settle(s_, solver_);
    if (!std::holds_alternative<wiring::OperatingPoint>(solution))
      throw std::logic_error("the simulated van has no operating point");
    expected_ = std::get<wiring::OperatingPoint>(solution);
  }
  [[nodiscard]] const wi::TestNetwork& network() const { return s_; }
  [[nodiscard]] double current(std::size_t run, design::Pole pole) const {
    const auto& branches = s_.wired.runs[run];
    const int b = pole == design::Pole::outgoing ? branches.outgoing : branches.back;
    return std::abs(expected_.branch[std::size_t(b)].value());
  }

  /// A van with what is planted, read at every point with that meter; nothing where it collapses.
  template <class Random>
  std::optional<wiring::MeasuredCase> read(Random& random, const wiring::Meter& meter,
                                           const std::vector<Planted>& faults,
                                           Clamps clamps = Clamps::none) {
    const auto between = [&](double low, double high) {
      return low + (high - low) * (double(random() >> 11U) * 0x1.0p-53);
    };
    const auto drawn = [&](const auto& spread) {
      using Q = std::decay_t<decltype(spread.low)>;
      return Q::from_value(between(spread.low.value(), spread.high.value()));
    };
    auto& n = s_.wired.network;
    for (std::size_t i = 0; i < n.branches.size(); ++i)
      n.branches[i].resistance = drawn(s_.branches[i]);
    for (std::size_t i = 0; i < n.loads.size(); ++i) n.loads[i].power = drawn(s_.loads[i]);
    const double rest = between(-0.01, 0.01);
    for (std::size_t i = 0; i < n.feeds.size(); ++i) {
      n.feeds[i].internal = drawn(s_.internal[i]);
      n.feeds[i].open_circuit = s_.open[i].expected + (rest + between(-0.005, 0.005)) * volt;
    }
    for (const Planted& fault : faults) plant(fault);
    const auto solution = solver_.solve(n);
    const auto* point = std::get_if<wiring::OperatingPoint>(&solution);
    if (!point) return std::nullopt;
    // Each range of a meter shows too much or too little by its own share, and scatters by a fifth.
    const double share = double(meter.voltage);
    const double gains[] = {0.9 * between(-share, share), 0.9 * between(-share, share)};
    wiring::MeasuredCase read{load_, meter, {}};
    for (const wi::Probe& p : s_.probes) {
      if (p.carrier >= 0 && std::abs(expected_.branch[std::size_t(p.carrier)].value()) < 0.05)
        continue;
      double u = 0;
      for (const std::size_t pair : p.pairs) {
        const auto& ends = n.loads[pair];
        const double one = (point->potential[ends.plus] - point->potential[ends.minus]).value();
        u += p.reading.kind == wiring::Reading::Kind::posts ? one : std::abs(one);
      }
      for (const Planted& fault : faults)
        if (fault.is == Planted::Is::reversed &&
            p.reading.name == "appliance/" + s_.d[s_.d->runs[fault.run].to].name)
          u = -u;
      const bool volts = p.reading.kind == wiring::Reading::Kind::posts;
      const auto least = volts ? meter.volts_least : meter.drops_least;
      u = u * (1.0 + gains[volts ? 0 : 1] + 0.2 * between(-share, share)) +
          between(-1.0, 1.0) * least.value();
      read.values.push_back({p.reading.name, Voltage::from_value(u)});
    }
    for (std::size_t i = 0; clamps == Clamps::batteries && s_.wired.batteries.size() > 1 &&
                            i < s_.wired.batteries.size();
         ++i) {
      const double amperes = std::abs(point->feed[std::size_t(s_.wired.batteries[i])].value());
      const double clamp = double(meter.current), clamp_least = meter.current_least.value();
      read.values.push_back({design::subject_of_bank().battery(i + 1).with("current"),
                             Current::from_value(amperes * (1.0 + 0.2 * between(-clamp, clamp)) +
                                                 between(-clamp_least, clamp_least))});
    }
    return read;
  }

private:
  void plant(const Planted& fault) {
    auto& n = s_.wired.network;
    if (fault.is == Planted::Is::weak_battery) {
      n.feeds[std::size_t(s_.wired.batteries[fault.run])].internal *= fault.size;
      return;
    }
    std::vector<std::size_t> lugs;
    for (const wi::PieceBranch& piece : s_.pieces) {
      if (piece.run != fault.run) continue;
      auto& r = n.branches[piece.branch].resistance;
      const bool device = piece.is == wi::PieceIs::device;
      if (fault.is == Planted::Is::wrong_fuse && device) r *= fault.size;
      if ((fault.is == Planted::Is::thinner || fault.is == Planted::Is::longer) &&
          piece.is == wi::PieceIs::copper)
        r *= fault.size;
      if (fault.is != Planted::Is::joint || piece.pole != fault.pole) continue;
      if (fault.which == 2 && device) {
        r += Resistance::from_value(fault.size);
        return;
      }
      if (piece.is == wi::PieceIs::lug) lugs.push_back(piece.branch);
    }
    if (fault.is == Planted::Is::joint)
      n.branches[fault.which == 1 ? lugs.back() : lugs.front()].resistance +=
          Resistance::from_value(fault.size);
  }

  wiring::TestLoad load_;
  wi::TestNetwork s_;
  wiring::Solver solver_;
  wiring::OperatingPoint expected_;
};

}  // namespace housepower::test

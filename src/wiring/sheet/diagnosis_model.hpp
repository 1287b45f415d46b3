// SPDX-License-Identifier: Apache-2.0
// The readings of a van as a function of its unknowns, with their derivatives. Poles are single
// branches here: a part of one is read as its share of the pole's drop. Plain numbers in SI.
#pragma once

#include <array>
#include <cmath>
#include <optional>

#include "test_network.hpp"

namespace housepower::wiring::inside {

inline const double half_a_band = std::sqrt(3.0);  // in standard deviations, all of it as likely

/// A resistance in series within a branch of the network.
struct Part {
  std::size_t carrier;
  double spread = 0;                   // standard deviation of its logarithm
  std::optional<PieceBranch> piece{};  // nothing: a link or lead of the bank
};

/// What a van may have instead of its design.
struct Unknown {
  enum class Is {
    scale,     // of parts: a tolerance as a share; of a fault the logarithm of a factor
    extra,     // on the first of its parts: the logarithm of ohms too many
    internal,  // of feeds: as scale
    open,      // of feeds: volts more than expected, in one case or in all
    load,      // of loads: as scale
    gain       // of the meter's ranges: the share by which it shows too much, in one case
  } is = Is::scale;
  std::vector<std::size_t> of;
  std::optional<std::size_t> in_case{};  // of `open` and `gain`; nothing: in all alike
  double mean = 0, sd = 1;               // the prior
  /// A factor beside the tolerance of a sound part, not on it: usual · (1 + tolerance + factor − 1),
  /// so that a part that is far off is no less certain.
  bool fault = false;
};
/// Ranges of a meter, which have their own gain.
enum class Range : std::size_t { volts, drops, clamp };
using Values = std::vector<double>;

/// Where a meter reads: between two nodes, over parts, or a clamp's current.
struct Spot {
  Point point;
  Reading::Kind kind = Reading::Kind::posts;
  bool clamp = false;
  NodeId plus, minus;                 // of posts
  std::vector<std::size_t> parts;     // of a drop; of a clamp the first of its branch
  std::optional<std::size_t> feed{};  // of a clamp around a battery's lead
  [[nodiscard]] Range range() const {
    return clamp ? Range::clamp : kind == Reading::Kind::posts ? Range::volts : Range::drops;
  }
};

/// One case that was switched on.
class CaseModel {
public:
  CaseModel(TestNetwork&&, const OperatingPoint& expected);
  /// The operating point with these unknowns; nothing: there is none.
  [[nodiscard]] std::optional<OperatingPoint> solve(const std::vector<Unknown>&, const Values&,
                                                    std::size_t this_case);
  [[nodiscard]] double read(const Spot&,
                            const OperatingPoint&) const;  // by the meter as it was set
  /// Derivatives of each spot (rows) by each unknown (columns), at the last point solved.
  [[nodiscard]] std::vector<Values> derivatives(const std::vector<Spot>&,
                                                const std::vector<Unknown>&, const Values&,
                                                const OperatingPoint&, std::size_t this_case);
  [[nodiscard]] double ohms(std::size_t part) const { return now_[part]; }  // as last set
  [[nodiscard]] double usual(std::size_t part) const {
    return usual_[part];
  }  // the middle of its band
  [[nodiscard]] const std::vector<Part>& parts() const { return parts_; }
  [[nodiscard]] const std::vector<Spot>& spots() const { return spots_; }
  [[nodiscard]] const Network& network() const { return network_; }
  [[nodiscard]] const Network& expected() const { return expected_; }
  [[nodiscard]] const Wired& wired() const { return wired_; }
  [[nodiscard]] bool live(std::size_t branch) const { return live_[branch]; }
  [[nodiscard]] const std::vector<Spread<Resistance>>& internal() const { return internal_; }
  [[nodiscard]] const std::vector<Spread<Voltage>>& open() const { return open_; }
  [[nodiscard]] const std::vector<Spread<Power>>& loads() const { return loads_; }
  /// Another voltage at which the batteries are expected to rest.
  void rest_at(Voltage);

private:
  void set(const std::vector<Unknown>&, const Values&, std::size_t this_case);
  /// Potentials of all nodes for one ampere pushed in at the ends of an element, loads as they lie
  /// about the operating point: of branches, feeds and loads that carry a current.
  struct Pair {
    NodeId plus, minus;
    PerNode<double> potential{};  // empty: nothing flows there
  };
  struct Responses {
    std::vector<Pair> branches, feeds, loads;
  };
  [[nodiscard]] Responses responses(const OperatingPoint&);
  /// What a change of each element brings, into `nodes`: see diagnosis_model.cpp.
  struct Effect;
  [[nodiscard]] Effect effect_of(const Unknown&, double value, const Responses&,
                                 const OperatingPoint&, std::size_t this_case) const;

  Wired wired_;
  Network expected_, network_;  // as expected; as last set
  std::vector<Part> parts_;
  /// Ohms of the parts: the middle of their bands, by a fault, as they are.
  Values usual_, faulty_, now_;
  Values faulty_internal_;  // of the feeds
  std::array<double, 3> gain_{1.0, 1.0, 1.0};
  std::vector<Spot> spots_;
  std::vector<bool> live_;  // branches that carry a current
  std::vector<Spread<Resistance>> internal_;
  std::vector<Spread<Voltage>> open_;
  std::vector<Spread<Power>> loads_;
  Solver solver_;
  Network linear_;  // the same shape without sources, with a load at each element
  std::optional<Solver> linear_solver_;
};

}  // namespace housepower::wiring::inside

// SPDX-License-Identifier: Apache-2.0
// Two designs against each other: what changed in what is written, in what comes out, and in the
// findings. What is spelled otherwise and means the same is no change.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "housepower/checks/rule.hpp"

namespace housepower::range {

/// One of the two, checked.
struct Compared {
  const Node& node;  // as written, with what it extends and its overrides
  const design::Design& design;
  const checks::Checked& checked;
  std::optional<Duration> stay;  // that the promised chance reaches; where one is promised
};

/// A key of the design, or a result. What stands on one side only is absent on the other.
struct Change {
  using Value = std::variant<std::monostate, std::string, Number, double, bool>;
  std::string path;  // "run/fridge/length", "energy/autonomy"
  Value before, after;
  std::string_view change;  // "changed", "added", "removed"; of results "higher", "lower"
  std::string_view unit{};  // of the numbers; empty: the plain unit of their kind
  std::string title{};      // of a result: "usable charge"
};

/// As people read it; empty where it is absent.
[[nodiscard]] std::string text_of(const Change::Value&, std::string_view unit = {});

/// Of one rule on one subject the worst case; `before` or `after` is null where it is on one side
/// only. Both point into what was compared.
struct FindingChange {
  enum class Way { newly, worse, less_margin, more_margin, better, gone };
  Way way{};
  const checks::Finding* before = nullptr;
  const checks::Finding* after = nullptr;
};
[[nodiscard]] std::string_view word_of(FindingChange::Way);  // "new", "worse", "less margin" …

/// Results of a run are told where its current changed by more than a tenth, or its drop by more
/// than half a hundredth of the nominal voltage; other results by more than a thousandth.
inline constexpr Ratio telling_current = 0.1, telling_drop = 0.005, telling_result = 0.001;
/// A margin is told where it changed by a tenth of the limit and less than half of that is left.
inline constexpr Ratio telling_margin = 0.1, ample_margin = 0.5;

struct Comparison {
  std::vector<FindingChange> findings;  // what is worst first: new fails
  std::vector<Change> results, runs;    // runs: the largest change first
  std::vector<Change> design;           // in the order of the format
  bool newly_fails = false;             // something fails in the second that did not in the first
};
[[nodiscard]] Comparison compare(const Compared& before, const Compared& after);

// Its parts.
[[nodiscard]] std::vector<Change> design_changes(const Node& before, const Node& after,
                                                 const tables::Tables&);
[[nodiscard]] std::vector<FindingChange> finding_changes(const std::vector<checks::Finding>& before,
                                                         const std::vector<checks::Finding>& after);

}  // namespace housepower::range

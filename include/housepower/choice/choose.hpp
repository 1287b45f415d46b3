// SPDX-License-Identifier: Apache-2.0
// What the design leaves open, chosen: for each run without a conductor the smallest of the design's
// series, for each unprotected end the least device that can be bought, so that all rules together
// hold. Every answer is a design that was resolved, assessed and judged as `check` does it; nothing
// here knows what a rule calculates.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "housepower/checks/rule.hpp"

namespace housepower::choice {

/// A device as it would be written into the design.
struct ChosenDevice {
  design::RunEnd end = design::RunEnd::from;
  std::string type;
  Current rating{};
  Source rating_source;  // of the series that it is taken from
};

/// A smaller size of the series, and the rule that it breaks first.
struct TooSmall {
  std::string conductor;
  std::string_view rule;
  design::Subject subject;
  std::optional<Number> measured, limit;
  std::string message;
  std::string_view unit{};  // as of the finding
};

struct Choice {
  std::string run;
  bool was_open = true;   // false: it states its conductor and lacks a device only
  std::string conductor;  // "6 mm2"; empty where none passes
  std::vector<ChosenDevice> devices;
  std::vector<TooSmall> smaller;  // the next smaller first, at most three
  std::string why_none;           // what stays beyond its limit with every size and device
};

struct Chosen {
  design::Document document;  // with everything that was found written into it
  std::vector<Choice> choices;
  /// Beyond their limit beside the choices: before too, or by nothing that a size could cure.
  std::vector<checks::Finding> beyond;
  int checks = 0;         // full checks that were made
  bool found_all = true;  // false: some `why_none` is filled
};

/// The result is minimal: no chosen size can be one smaller while the others stay.
/// At most so many designs are judged where that is given and less than usual.
[[nodiscard]] Chosen choose(const design::Document&, const tables::Tables&,
                            std::optional<int> most = {});

}  // namespace housepower::choice

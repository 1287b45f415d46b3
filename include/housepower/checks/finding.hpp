// SPDX-License-Identifier: Apache-2.0
// What the rules found: each finding with its numbers, its source, its cure and its working.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "housepower/reading/diagnostic.hpp"
#include "housepower/working/working.hpp"

namespace housepower::checks {

/// Rising: the worst of many is the maximum. Not checked is never passed.
enum class Verdict { pass, not_checked, caution, fail };
[[nodiscard]] std::string_view word_of(Verdict);  // "pass", "not-checked", "caution", "fail"

enum class Bound { at_most, at_least };
[[nodiscard]] std::string_view word_of(Bound);  // "at most", "at least"

struct Finding {
  std::string_view rule;
  std::string subject;  // a path of the design: "run/fridge", "run/fridge/protection/0"
  std::string in_case;  // name of the load case or month; may be empty
  Place place;          // filled in by `locate`
  Verdict verdict = Verdict::not_checked;
  Bound bound = Bound::at_most;
  std::optional<Number> measured, limit;
  Ratio margin = 0.0;  // share of the limit that is left; negative beyond it
  Source source;       // of the limit or requirement
  std::string message, cure;
  Working working;
  /// For a kind with several units in use: "d", "Ah", "mm²"; empty: the plain unit of the kind.
  std::string_view unit{};

  // A quantity promises no noexcept move; without this a growing list would copy its findings,
  // workings and all: one instruction in sixteen of `check`.
  Finding() = default;
  Finding(const Finding&) = default;
  Finding(Finding&&) noexcept = default;
  Finding& operator=(const Finding&) = default;
  Finding& operator=(Finding&&) noexcept = default;
  ~Finding() = default;
};

}  // namespace housepower::checks

// SPDX-License-Identifier: Apache-2.0
// What the rules found: each finding with its numbers, its source, its cure and its working.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "housepower/design/subject.hpp"
#include "housepower/reading/diagnostic.hpp"
#include "housepower/working/verdict.hpp"
#include "housepower/working/working.hpp"

namespace housepower::checks {

using housepower::Verdict;

/// Of a design: whether somebody may be hurt, and whether the van serves as it should.
struct Verdicts {
  Verdict safety = Verdict::pass, service = Verdict::pass;
  [[nodiscard]] Verdict worse() const { return safety < service ? service : safety; }
};

/// What the profile does not ask, so that nothing was judged there.
struct Silence {
  std::string_view rule;
  std::string what;
};

enum class Bound { at_most, at_least };
[[nodiscard]] std::string_view word_of(Bound);  // "at most", "at least"

struct Finding {
  std::string_view rule;
  design::Subject subject;
  std::string in_case;  // name of the load case or month; may be empty
  Place place;          // filled in by `locate`
  Verdict verdict = Verdict::not_checked;
  bool of_safety = false;  // which of the two verdicts it counts to
  Bound bound = Bound::at_most;
  std::optional<Number> measured, limit;
  Ratio margin = 0.0;  // share of the limit that is left; negative beyond it
  Source source;       // of the limit or requirement
  std::string message, cure;
  /// The cure as overrides that were tried and hold; before `try_cures` what the rule proposes.
  std::vector<std::string> cure_set{};
  bool cures_elsewhere = false;  // `cure_set`, as proposed, changes another thing than the subject
  std::string label{};           // of the subject's run, as on the drawings
  /// Keys of the design that nobody stated and that would settle it, what matters most first: of what
  /// is not checked, and of what rests on supplied values.
  std::vector<design::Subject> wants{};
  Working working;
  /// For a kind with several units in use: "d", "Ah", "mm²"; empty: the plain unit of the kind.
  std::string_view unit{};

  // A quantity promises no noexcept move; without this a growing list would copy its findings,
  // workings and all. The code is made once, not in every source that moves one.
  Finding();
  Finding(const Finding&);
  Finding(Finding&&) noexcept;
  Finding& operator=(const Finding&);
  Finding& operator=(Finding&&) noexcept;
  ~Finding();
};

/// Whether both are of the same rule, about the same subject, in the same case.
[[nodiscard]] bool is_same_question(const Finding&, const Finding&);
/// The first among them that answers the same question; nullptr if none does.
[[nodiscard]] const Finding* same_finding(std::span<const Finding>, const Finding& as);

}  // namespace housepower::checks

// SPDX-License-Identifier: Apache-2.0
// The least joint change of conductors, devices and take-off after which everything passes that such
// a change can make pass. Each step of the search is a design that was resolved, assessed and judged
// as `check` does it; no finding may get worse than it was.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "housepower/checks/rule.hpp"
#include "housepower/design/money.hpp"

namespace housepower::choice {

/// What is to be least: copper that is added, the number of keys that change, or the price of the
/// cable and devices that are bought.
enum class LeastChange { copper, changes, price };

/// A key of the design and its new value; `from` is empty where there was none.
struct MendedPart {
  std::string path, from, to;
  std::string why;  // what is beyond its limit without it
};

/// A finding that no such change cures, and what would.
struct Left {
  checks::Finding finding;
  std::string would;
};

struct Mended {
  design::Document document;  // with the changes
  std::vector<MendedPart> changes;
  std::vector<Left> left;
  checks::Checked before, after;
  std::vector<std::string> notes;      // what was taken for granted
  Mass copper{};                       // added
  std::optional<design::Money> price;  // of what is bought, where every part of it states one
  int checks = 0;                      // designs that were judged
  bool complete = true;                // false: the search for some finding ended at its limit
};

/// The result is minimal: no change of it can be left out, and none of its conductors can be one
/// size smaller while the others stay. `design` is that of the document. Nothing, and told, where
/// the least price is asked for and no part states one.
[[nodiscard]] std::optional<Mended> mend(const design::Document&, const design::Design&,
                                         LeastChange, Diagnostics&);

/// The same of many designs, as a range of models: with as few sizes of conductors in all of them
/// together as leaves no more findings than each design mended by itself. Sizes that the designs
/// state already cost nothing; one that few changes take is given up first. In the order of the
/// designs.
struct InRange {
  const design::Document& document;
  const design::Design& design;
};
[[nodiscard]] std::optional<std::vector<Mended>> mend_with_fewest_sizes(const std::vector<InRange>&,
                                                                        LeastChange, Diagnostics&);
/// Every size that a design states, each once, as text.
[[nodiscard]] std::vector<std::string> sizes_in(const design::Document&);

}  // namespace housepower::choice

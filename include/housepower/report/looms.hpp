// SPDX-License-Identifier: Apache-2.0
// Looms as sheets for the benches: wires to cut with both ends, connectors with what goes into each
// cavity, a drawing, and what is joined on the line; as a page, CSV, JSON and sheets of a workbook.
#pragma once

#include "housepower/page/svg.hpp"
#include "housepower/page/workbook.hpp"
#include "housepower/range/looms.hpp"
#include "housepower/report/build_list.hpp"

namespace housepower::report {

struct LoomSheets {
  const BuildModel& model;
  const range::Looms& looms;
  std::optional<std::string> only{};  // of this assembly alone
};
[[nodiscard]] Page looms_page(const LoomSheets&);
[[nodiscard]] std::string looms_json(const LoomSheets&);
/// The lists as one table; the first column names the list that a row is of.
[[nodiscard]] std::string looms_csv(const LoomSheets&);
[[nodiscard]] Workbook looms_workbook(const LoomSheets&);

/// A loom as a tree from the place where most of its wires end: places, what leads to them, and how
/// long that is where it is stated. Not to scale.
/// `id` is unlike any other on its page.
[[nodiscard]] std::string loom_drawing(const range::Loom&, const std::string& id, SvgFor);

}  // namespace housepower::report

// SPDX-License-Identifier: Apache-2.0
// What was understood of a load list or a parts list (`loads`, `parts`).
#pragma once

#include "housepower/design/lists.hpp"
#include "housepower/report/page.hpp"

namespace housepower::report {

struct ListReport {
  const design::ReadList& list;
  std::string file;
  std::string what;  // "appliance"
};
/// For people, without the rows themselves, which are the answer.
[[nodiscard]] Page list_page(const ListReport&);
/// `toml` is the answer; null where something in the file is wrong.
[[nodiscard]] std::string list_json(const ListReport&, const Diagnostics&);
/// The other way: a design's list as CSV.
[[nodiscard]] std::string list_json(const std::string& file, const std::string& csv);

}  // namespace housepower::report

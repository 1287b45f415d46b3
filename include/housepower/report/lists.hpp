// SPDX-License-Identifier: Apache-2.0
// What was understood of a list (`loads`, `runs`, `parts`).
#pragma once

#include "housepower/lists/lists.hpp"
#include "housepower/page/page.hpp"

namespace housepower::report {

using namespace page;

struct ListReport {
  const lists::ReadList& list;
  std::string file;
  std::string what;  // "appliance"
};
/// For people, without the rows themselves, which are the answer.
[[nodiscard]] Page list_page(const ListReport&);
/// `toml` is the answer; null where something in the file is wrong.
[[nodiscard]] std::string list_json(const ListReport&, const Diagnostics&);
/// The other way: a design's list as CSV, and what no column of it can hold.
[[nodiscard]] std::string list_json(const std::string& file, const std::string& csv,
                                    const Diagnostics&);

}  // namespace housepower::report

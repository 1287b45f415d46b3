// SPDX-License-Identifier: Apache-2.0
// The chains of daily clearness: ten rows each, one after the other.
#include <algorithm>

#include "loaders.hpp"

namespace housepower::tables {

void add_clearness(const File& file, Tables& tables, Diagnostics& diagnostics) {
  Block block(file, "rows", diagnostics);
  const auto up_to = block.needed("up_to"), least = block.needed("least"),
             most = block.needed("most"), from = block.needed("from"), to = block.needed("to_1");
  if (!up_to || !least || !most || !from || !to) return;
  constexpr std::size_t states = 10;
  if (*to + states > block.columns().size() || block.rows() % states != 0)
    return block.error(0, *from, "a chain has ten rows with ten chances each");
  for (std::size_t first = 0; first < block.rows(); first += states) {
    ClearnessChain chain{block.stated(first, *up_to),
                         block.stated(first, *least),
                         block.stated(first, *most),
                         {},
                         file.source};
    for (std::size_t today = 0; today < states; ++today) {
      double all = 0.0;
      for (std::size_t s = 0; s < states; ++s) all += block.stated(first + today, *to + s);
      if (!(all > 0.9 && all < 1.1))
        return block.error(first + today, *to, "the chances of a row add up to 1");
      for (std::size_t s = 0; s < states; ++s)
        chain.chances[today][s] = block.stated(first + today, *to + s) / all;
    }
    if (!(chain.most > chain.least))
      return block.error(first, *most, "the last state ends above the first");
    tables.clearness.push_back(chain);
  }
  const auto rises = [](const ClearnessChain& a, const ClearnessChain& b) {
    return a.up_to < b.up_to;
  };
  if (!std::is_sorted(tables.clearness.begin(), tables.clearness.end(), rises))
    block.error(0, *up_to, "does not rise from chain to chain");
}

}  // namespace housepower::tables

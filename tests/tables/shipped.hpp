// SPDX-License-Identifier: Apache-2.0
// The tables as built in, and a text of one's own read after them.
#pragma once

#include <doctest/doctest.h>

#include "housepower/tables/tables.hpp"

namespace housepower::tables::test {

inline const Tables& shipped() {
  static const Tables all = [] {
    Diagnostics problems;
    auto read = read_tables(embedded_tables(), {.towns = true, .views = true}, problems);
    REQUIRE(problems.all.empty());
    REQUIRE(read.has_value());
    return *std::move(read);
  }();
  return all;
}

/// The built-in texts with `own` behind them.
inline std::optional<Tables> with(NamedText own, Diagnostics& problems) {
  std::vector<NamedText> texts(embedded_tables().begin(), embedded_tables().end());
  texts.push_back(own);
  return read_tables(texts, {.towns = false}, problems);
}

}  // namespace housepower::tables::test

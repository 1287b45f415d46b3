// SPDX-License-Identifier: Apache-2.0
// Hourly weather files are large and not part of the project. Tests that want them say
//   TEST_CASE("…" * doctest::skip(!hourly_data()))
// and are counted as skipped where there are none.
#pragma once

#include <cstdlib>
#include <filesystem>
#include <optional>

/// The folder named by HOUSEPOWER_HOURLY_DATA, else the one that may lie beside the checkout.
inline std::optional<std::filesystem::path> hourly_data() {
  const char* named = std::getenv("HOUSEPOWER_HOURLY_DATA");
  const auto folder = named
                          ? std::filesystem::path(named)
                          : std::filesystem::path(HOUSEPOWER_SOURCE_DIR) / "../shared/data/hourly";
  if (!std::filesystem::is_directory(folder)) return std::nullopt;
  return folder;
}

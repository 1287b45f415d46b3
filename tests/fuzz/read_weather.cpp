// SPDX-License-Identifier: Apache-2.0
// Any bytes as hourly weather: no crash, few errors, every place in the text, and what was read is
// whole. A year is longer than what is tried here, so each text is also read with sound rows after
// it.
#include <cmath>
#include <cstdint>
#include <cstdlib>

#include <algorithm>
#include <string>

#include "housepower/tables/weather_file.hpp"

using namespace housepower;

namespace {
void require(bool good) {
  if (!good) std::abort();
}

/// Rows of a year in the open layout, under no head.
const std::string& year_of_rows() {
  static const std::string rows = [] {
    constexpr int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    std::string all;
    for (int m = 0; m < 12; ++m)
      for (int d = 1; d <= days[m]; ++d)
        for (int h = 1; h <= 24; ++h)
          all += "2001," + std::to_string(m + 1) + ',' + std::to_string(d) + ',' +
                 std::to_string(h) + ",0,,5.0,,,,,,,9,9,9,,,,,,,,,,,,,,,,,,,\n";
    return all;
  }();
  return rows;
}

void try_to_read(const std::string& text) {
  Diagnostics diagnostics;
  const auto file = tables::read_weather("w", text, diagnostics);
  require(file.has_value() != diagnostics.any_error() && diagnostics.all.size() <= 20);
  const auto lines = std::count(text.begin(), text.end(), '\n') + 1;
  for (const auto& d : diagnostics.all) {
    require(d.place.line >= 1 && d.place.line <= lines && d.place.width >= 1);
    require(d.place.column >= 1 && d.place.column <= static_cast<int>(text.size()) + 1);
  }
  if (!file) return;
  const std::size_t hours = file->global.size();
  require(hours > 0 && hours == std::size_t(file->years) * 8760);
  require(file->diffuse.size() == hours && file->air.size() == hours);
  require(file->beam.empty() || file->beam.size() == hours);
  for (std::size_t i = 0; i < hours; ++i) {
    require(file->global[i].value() >= 0.0 && file->diffuse[i].value() >= 0.0);
    require(std::isfinite(file->air[i].value()));
  }
  const auto town = tables::town_of(*file);
  for (std::size_t m = 0; m < 12; ++m) require(town.lowest[m] <= town.highest[m]);
}
}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(reinterpret_cast<const char*>(data), size);
  try_to_read(text);
  if (text.starts_with("LOCATION,") && std::count(text.begin(), text.end(), '\n') == 8)
    try_to_read(text + year_of_rows());
  return 0;
}

// SPDX-License-Identifier: Apache-2.0
// Any bytes as a table beside those of the program: the first line is the name of its file, as
// "profiles/nec-551.toml". It reads or is refused in words; what read is asked of.
#include <cmath>
#include <cstdint>

#include "holds.hpp"
#include "housepower/reading/node.hpp"
#include "housepower/tables/tables.hpp"

using namespace housepower;
using namespace housepower::fuzz;

namespace {

/// What such a table needs beside it; the climate is long, and only itself.
std::vector<tables::NamedText> others(std::string_view name) {
  std::vector<tables::NamedText> all;
  for (const auto& one : tables::embedded_tables())
    if (one.name != name && !one.name.starts_with("climate/")) all.push_back(one);
  return all;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(reinterpret_cast<const char*>(data), size);
  const std::size_t line = text.find('\n');
  if (line == text.npos) return 0;
  const std::string name = text.substr(0, line), content = text.substr(line + 1);
  std::vector<tables::NamedText> texts = others(name);
  // A table by itself first: the others are read only where it can be one.
  Diagnostics alone;
  if (!parse_toml(content, name, alone)) return 0;
  texts.push_back({name, content});
  const InTime in_time(soon);
  Diagnostics problems;
  const auto read =
      tables::read_tables(texts, {.towns = name.starts_with("climate/"), .views = true}, problems);
  require(read.has_value() != problems.any_error(), "tables or an error");
  require_sound(problems);
  (void)render(problems, [&](auto) { return std::optional(content); });
  if (!read) return 0;
  for (const auto& series : read->conductors)
    for (const auto& conductor : series) {
      require(std::isfinite(conductor.copper.value()) && conductor.copper.value() > 0.0, "copper");
      require(std::isfinite(conductor.resistance_at_20.value()), "resistance");
      (void)tables::conductor_named(*read, conductor.name);
    }
  return 0;
}

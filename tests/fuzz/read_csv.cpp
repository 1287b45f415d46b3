// SPDX-License-Identifier: Apache-2.0
// Any bytes as a load list and as a parts list: no crash, every place in the text, the same answer
// twice; what is accepted reads as TOML and, written as CSV, comes back the same.
#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <string>

#include "housepower/lists/lists.hpp"
#include "housepower/reading/write.hpp"

using namespace housepower;

namespace {
void require(bool good) {
  if (!good) std::abort();
}

using Read = lists::ReadList(std::string_view, std::string_view, const lists::ListOptions&,
                             Diagnostics&);

template <class Write> std::string told(const std::string& text, Read& read, Write write) {
  Diagnostics diagnostics;
  const auto list = read(text, "a.csv", lists::ListOptions{}, diagnostics);
  require(list.document.has_value() != diagnostics.any_error());
  const auto lines =
      std::count_if(text.begin(), text.end(), [](char c) { return c == '\n' || c == '\r'; }) + 1;
  for (const auto& d : diagnostics.all) {
    require(d.place.line >= 0 && d.place.line <= lines && d.place.width >= 1);
    require(d.place.column >= 0 && d.place.column <= static_cast<int>(text.size()) + 1);
  }
  const std::string shown = render(diagnostics, [&](auto) { return std::optional(text); });
  if (!list.document) return shown;
  const std::string toml = toml_of(*list.document);
  const auto node = parse_toml(toml, "a.toml", diagnostics);
  require(node && !diagnostics.any_error());
  const auto csv = write(*node, SheetStyle{}, diagnostics);
  require(csv.has_value());
  const auto again = read(*csv, "b.csv", lists::ListOptions{}, diagnostics);
  require(again.document.has_value());
  const auto same = write(*again.document, SheetStyle{}, diagnostics);
  require(same == csv);
  return shown + toml;
}
}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(reinterpret_cast<const char*>(data), size);
  const auto both = [&] {
    return told(text, lists::read_loads, lists::write_loads) +
           told(text, lists::read_runs, lists::write_runs) +
           told(text, lists::read_parts, lists::write_parts);
  };
  require(both() == both());
  return 0;
}

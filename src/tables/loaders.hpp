// SPDX-License-Identifier: Apache-2.0
// From a file to the values of one folder each. Inside the room only. Folders are read in the
// order in which one needs another: conductors, factors, ampacity, then the rest.
#pragma once

#include <map>

#include "file.hpp"

namespace housepower::tables {

/// Factor tables by name, until the ampacities have taken their columns.
struct Factors {
  struct Ambient {
    AmbientFactors factors;  // a factor for each of `insulation`
    std::vector<Temperature> insulation;
  };
  std::map<std::string, Ambient, std::less<>> ambient;
  std::map<std::string, GroupingFactors, std::less<>> grouping;  // "name/column"
};

void add_conductors(const File&, Tables&, Diagnostics&);
void add_factors(const File&, Factors&, Tables&, Diagnostics&);
void add_ampacity(const File&, const Factors&, Tables&, Diagnostics&);
void add_fuse(const File&, Tables&, Diagnostics&);
void add_cell_curve(const File&, Tables&, Diagnostics&);
void add_clearness(const File&, Tables&, Diagnostics&);
void add_colours(const File&, Tables&, Diagnostics&);  // with its view
void add_towns(const File&, std::string_view only, Tables&, Diagnostics&);

/// Every block of a file, and a rule profile as rows of path and value.
void add_views(const File&, Tables&, Diagnostics&);
void add_view(const RuleProfile&, const Node& root, Tables&);

/// How a size compares: "00" is "2/0", "2.50" is "2.5".
[[nodiscard]] std::string plain_size(std::string_view size);
/// The size in a conductor's name: "2/0 awg" has "2/0".
[[nodiscard]] std::string_view size_in(std::string_view name);
/// Of a series by the size alone; null where it has none such.
[[nodiscard]] const Conductor* sized(std::span<const Conductor> series, std::string_view size);

}  // namespace housepower::tables

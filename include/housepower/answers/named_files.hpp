// SPDX-License-Identifier: Apache-2.0
// Files that a design names: from where their paths lead, and the parts in its catalogue.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "housepower/answers/given_design.hpp"
#include "housepower/reading/diagnostic.hpp"

namespace housepower::answers {

/// The key of a diagnostic about a file that cannot be read.
inline constexpr std::string_view unreadable = "file";

/// The file beside which a path is looked for: the one that names it, or for an override the design.
[[nodiscard]] std::string file_naming(const Place& named, const std::string& design);

/// The path of the weather file, or of the catalogue, that a design names; nothing where it names none.
[[nodiscard]] std::optional<std::string> weather_named(const Node& design, const std::string& file);
[[nodiscard]] std::optional<std::string> catalogue_named(const Node& design,
                                                         const std::string& file);

/// The design's own parts with those of its catalogue: of that file, or of the one that it names.
/// What is wrong with them is told; then the list is not to be used.
[[nodiscard]] std::vector<design::Part> parts_for(const std::optional<std::string>& catalogue,
                                                  const GivenDesign&, const FileReader&,
                                                  Diagnostics&);
/// Puts the conductors and devices among them into the design, to choose from.
void add_stock(design::Document&, const std::vector<design::Part>& parts);

}  // namespace housepower::answers

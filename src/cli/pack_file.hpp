// SPDX-License-Identifier: Apache-2.0
// What `size` and `wiring` chose, as a file: an option pack that extends the design.
#pragma once

#include "commands.hpp"

namespace housepower::cli {

using answers::add_stock;

/// The design's own parts with those of its catalogue: the file that an option names, or the design.
[[nodiscard]] std::vector<design::Part> parts_for(const std::optional<std::string>& catalogue,
                                                  const std::string& file, const Opening&, World&,
                                                  Diagnostics&);

/// Writes `chosen` to `output` ("-": to standard output): what it states otherwise than the file
/// does, overrides among it, with `extends`; of a design from standard input the whole. Each line of
/// `about` stands above it as a comment. Returns the exit code.
[[nodiscard]] int write_pack(const std::string& output, const DesignOptions&, const Opening&,
                             const design::Document& chosen, const std::vector<std::string>& about,
                             World&);

}  // namespace housepower::cli

// SPDX-License-Identifier: Apache-2.0
// A design file in one go, for commands and tests: read, overridden, resolved, each problem at its
// place.
#pragma once

#include "housepower/design/design.hpp"
#include "housepower/reading/parsed_files.hpp"

namespace housepower::design {

struct Opened {
  Node node;
  Document document;  // for resolving once more with Defaults::kindest
  Design design;
};

/// The tree of a design file with its overrides; nothing where they cannot be read. Many designs
/// may share the files that they extend.
[[nodiscard]] std::optional<Node> read_design(std::string_view file, const FileReader&,
                                              const std::vector<std::string>& sets, Diagnostics&,
                                              ParsedFiles* bases = nullptr);
/// Which tables such a design needs: a command reads no more.
[[nodiscard]] tables::Needed needed_by(const Node& design);
[[nodiscard]] std::optional<Opened> open_design(Node, const tables::Tables&, Defaults,
                                                Diagnostics&);

/// Both in one. `sets` are overrides such as "run/fridge/length=5 m".
[[nodiscard]] std::optional<Opened> open_design(std::string_view file, const FileReader&,
                                                const std::vector<std::string>& sets,
                                                const tables::Tables&, Defaults, Diagnostics&);

/// Moves each diagnostic to the place of the key that it names, or of the nearest table around it.
void locate(Diagnostics&, const Node& document);

}  // namespace housepower::design

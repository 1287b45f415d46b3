// SPDX-License-Identifier: Apache-2.0
// A tree of nodes back to the text of a file.
#pragma once

#include <string>

#include "housepower/reading/node.hpp"

namespace housepower {

/// A document as TOML: lists of tables as [[blocks]], tables as [blocks], deeper ones inline.
[[nodiscard]] std::string toml_of(const Node& document);

}  // namespace housepower

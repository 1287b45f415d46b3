// SPDX-License-Identifier: Apache-2.0
// An opened design as an answer is given it.
#pragma once

#include "commands.hpp"
#include "housepower/answers/given_design.hpp"

namespace housepower::cli {

[[nodiscard]] inline answers::GivenDesign given(const Opening& o, const std::string& file) {
  return {*o.document, *o.design, *o.tables, o.node, file, o.digest, o.told};
}

}  // namespace housepower::cli

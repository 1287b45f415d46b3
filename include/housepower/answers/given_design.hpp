// SPDX-License-Identifier: Apache-2.0
// A design as an answer is given it: resolved, with what it was made of.
#pragma once

#include <string>
#include <vector>

#include "housepower/design/design.hpp"
#include "housepower/reading/node.hpp"

namespace housepower::answers {

/// All that it refers to outlives the answer.
struct GivenDesign {
  const design::Document& document;  // as written
  const design::Design& design;      // that of the document, with the ordinary defaults
  const tables::Tables& tables;
  const Node& node;  // as read, with the place of each key
  std::string
      file;  // its name, beside which the files that it names are looked for; "-": it has none
  std::string inputs_digest;        // of every text that was read and every override
  std::vector<std::string> told{};  // how it was asked, to be said in the answer
};

}  // namespace housepower::answers

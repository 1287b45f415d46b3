// SPDX-License-Identifier: Apache-2.0
// What was chosen for a design, as the text of a file: an option pack that extends it.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "housepower/answers/given_design.hpp"
#include "housepower/reading/diagnostic.hpp"

namespace housepower::answers {

/// A path as the pack names it, from where the pack will stand.
using SeenFromPack = std::function<std::string(std::string_view path)>;

/// What `chosen` states otherwise than the design's file does, overrides among it, with `extends`; of
/// a design without a name the whole. Each line of `about` stands above it as a comment.
[[nodiscard]] std::string pack_file(const GivenDesign&, const design::Document& chosen,
                                    const std::vector<std::string>& about, const FileReader&,
                                    const SeenFromPack&);

}  // namespace housepower::answers

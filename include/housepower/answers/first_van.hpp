// SPDX-License-Identifier: Apache-2.0
// A design file to start from: a small van that works, and the same after a few questions.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "housepower/reading/diagnostic.hpp"

namespace housepower::answers {

/// A two-berth van as examples/two-berth.toml has it: it passes as it stands.
[[nodiscard]] std::string_view first_van();

/// A question of which the answer takes the place of one value of that file.
struct FirstQuestion {
  std::string_view asks;       // "How many people travel in it?"
  std::string_view path;       // "promise/people"
  std::string_view otherwise;  // as a person types it: "2", "200 Ah"
};
[[nodiscard]] std::span<const FirstQuestion> first_questions();

/// The file with this answer to one of the questions. Where the design's format does not take it, the
/// problem goes to the list and the file comes back as it was.
[[nodiscard]] std::string with_answer(std::string file, const FirstQuestion&,
                                      std::string_view answer, Diagnostics&);

}  // namespace housepower::answers

// SPDX-License-Identifier: Apache-2.0
// The JSON Schema (2020-12) of what a command answers with `--format json`, for programs that read it:
// every key, what stands under it, and whether it may be null or missing. Bad input is an answer, too.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace housepower::report {

/// The commands that answer in JSON.
[[nodiscard]] std::vector<std::string_view> commands_with_answers();
/// Of one of these commands; without a name, of any of them. Nothing where no command of that name
/// answers in JSON.
[[nodiscard]] std::optional<std::string>
answer_schema(const std::optional<std::string_view>& command);

}  // namespace housepower::report

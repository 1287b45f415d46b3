// SPDX-License-Identifier: Apache-2.0
// What a page asks is what one types in a terminal, over files that it holds as texts:
//   {"arguments": ["check", "van.toml", "--format", "json"], "files": {"van.toml": "…"}}
// and the answer is what the program would have printed, written and left as its exit code:
//   {"exit": 0, "out": "…", "err": "…", "made": {"pack.toml": "…"}, "warned": {"diagnostics": […]}}
// `warned` is what `err` says of the answer, with file, line and column.
#pragma once

#include <string>
#include <string_view>

namespace housepower::browser {

/// Both are JSON. A request that is none, or of another shape, is answered as wrong use. Tables are
/// kept from one question to the next; not for several threads at once.
[[nodiscard]] std::string answer_to(std::string_view request);

}  // namespace housepower::browser

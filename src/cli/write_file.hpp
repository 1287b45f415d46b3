// SPDX-License-Identifier: Apache-2.0
// Files that commands write, with -o.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "command.hpp"

namespace housepower::cli {

/// Whether what has been read so far is what -o would write over: told before the work is done.
[[nodiscard]] bool output_is_read(const World&, Diagnostics&);

/// To the file of -o, or to standard output where there is none or "-". A file that the answer was
/// made from is never written over: every command writes its output here. Tells what went wrong.
[[nodiscard]] int write_out(const std::optional<std::string>& path, std::string_view text, World&);

/// The same, and nothing that exists is written over.
[[nodiscard]] int write_new_out(const std::optional<std::string>& path, std::string_view text,
                                World&);

/// Says why a file could not be written.
[[nodiscard]] int not_written(const std::string& path, const std::string& why, World&);

}  // namespace housepower::cli

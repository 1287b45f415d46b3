// SPDX-License-Identifier: Apache-2.0
// How the program writes a file of the machine: whole or not at all, at whatever moment it is stopped.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace housepower::cli {

/// Each gives nothing, or why it could not be done. What stood there then stands as it was.
///
/// The text goes into a file without a name, on to the disk, and only then takes the name: at no moment
/// is there half a file, and no other program sees one. Where the folder's kind of disk knows no such
/// file, it has a name of its own, which a program that is killed leaves behind.
std::optional<std::string> write_file(const std::string& path, std::string_view text);

/// Only where nothing stands under that name, be it made at the same moment.
std::optional<std::string> write_new_file(const std::string& path, std::string_view text);

/// Only over a file that still holds `before`: of two who add to it at once, one is told.
std::optional<std::string> write_over(const std::string& path, std::string_view before,
                                      std::string_view text);

}  // namespace housepower::cli

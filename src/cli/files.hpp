// SPDX-License-Identifier: Apache-2.0
// The files of a command: those of the machine (machine_files.hpp), or the texts that a page holds.
// That none of what an answer is made from is written over, is kept here for both.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "housepower/reading/diagnostic.hpp"

namespace housepower::cli {

/// What stands under a name.
enum class Found { nothing, file, folder, other };

/// The names of the files in a folder and in those in it, sorted.
struct FolderContent {
  std::vector<std::string> names{};
  std::string why_not_whole{};  // empty: these are all
};

struct Files {
  /// The whole of a file, or of standard input ("-"). Several threads may read at once.
  FileReader read;
  /// Whole or not at all. Nothing, or why it could not be.
  std::function<std::optional<std::string>(const std::string& path, std::string_view text)> write;
  /// The same, only where nothing stands under that name.
  std::function<std::optional<std::string>(const std::string& path, std::string_view text)>
      write_new;
  /// The same, only over a file that still holds `before`.
  std::function<std::optional<std::string>(const std::string& path, std::string_view before,
                                           std::string_view text)>
      write_over;
  std::function<Found(const std::string& path)> found;
  /// Those that are called *.toml.
  std::function<FolderContent(const std::string& folder)> toml_files_in;
  /// A file that a design names although this answer does not read it: to be kept as well.
  std::function<void(const std::string& path)> keep;
  /// Whether an output of that name would be written over one that was read or kept, by whatever
  /// name or link.
  std::function<bool(const std::string& path)> holds;
  /// The path from the root of all.
  std::function<std::string(const std::string& path)> whole_path;
};

}  // namespace housepower::cli

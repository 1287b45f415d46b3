// SPDX-License-Identifier: Apache-2.0
// The files that an answer is made from: how they are read, and that none of them is written over.
#pragma once

#include <sys/types.h>

#include <mutex>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <utility>

#include "housepower/reading/diagnostic.hpp"

namespace housepower::cli {

/// Several threads may read at once.
class Files {
public:
  /// The whole of a file, or of standard input ("-", read once). What is no ordinary file, or larger
  /// than `largest_text`, is refused before it is read; standard input may be a pipe and is read up
  /// to that size.
  [[nodiscard]] FileContent read(std::string_view path);

  /// A file that a design names although this answer does not read it: to be kept as well.
  void keep(const std::string& path);

  /// Whether an output of that name would be written over one of them, by whatever name or link.
  [[nodiscard]] bool holds(const std::string& path) const;

private:
  using Identity = std::pair<dev_t, ino_t>;
  FileContent standard_input();
  void remember(const Identity&);
  mutable std::mutex mutex_;
  std::set<Identity> read_;
  std::optional<FileContent> typed_in_;
};

}  // namespace housepower::cli

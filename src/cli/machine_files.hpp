// SPDX-License-Identifier: Apache-2.0
// The files of the machine that the program runs on.
#pragma once

#include <sys/types.h>

#include <mutex>
#include <set>
#include <utility>

#include "files.hpp"

namespace housepower::cli {

/// Several threads may read at once.
class MachineFiles {
public:
  /// What commands do with them; this outlives it.
  [[nodiscard]] Files files();

private:
  using Identity = std::pair<dev_t, ino_t>;
  // What is no ordinary file, or larger than `largest_text`, is refused before it is read; standard
  // input may be a pipe and is read once, up to that size.
  [[nodiscard]] FileContent read(std::string_view path);
  void keep(const std::string& path);
  [[nodiscard]] bool holds(const std::string& path) const;
  FileContent standard_input();
  void remember(const Identity&);
  mutable std::mutex mutex_;
  std::set<Identity> read_;
  std::optional<FileContent> typed_in_;
};

}  // namespace housepower::cli

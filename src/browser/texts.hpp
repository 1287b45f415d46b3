// SPDX-License-Identifier: Apache-2.0
// The files of a command as a page holds them: texts by name.
#pragma once

#include <map>
#include <set>
#include <string>

#include "../cli/files.hpp"

namespace housepower::browser {

class Texts {
public:
  using ByName = std::map<std::string, std::string, std::less<>>;
  /// Names are paths with /; "-" is standard input.
  explicit Texts(const ByName& given);
  /// What commands do with them; this outlives it.
  [[nodiscard]] cli::Files files();
  /// What they wrote.
  [[nodiscard]] const ByName& made() const { return made_; }

private:
  [[nodiscard]] FileContent read(std::string_view path);
  [[nodiscard]] cli::Found found(const std::string& path) const;
  [[nodiscard]] cli::FolderContent toml_files_in(const std::string& folder) const;
  ByName given_, made_{};
  std::set<std::string> kept_{};
};

}  // namespace housepower::browser

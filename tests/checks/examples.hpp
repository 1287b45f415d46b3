// SPDX-License-Identifier: Apache-2.0
// The shipped examples as the tests of the rules use them: read from disk, changed, checked.
#pragma once

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "housepower/checks/rule.hpp"
#include "housepower/design/open.hpp"

namespace examples {

using namespace housepower;
using checks::Checked;
using checks::Finding;
using checks::Verdict;

inline const std::string folder = HOUSEPOWER_SOURCE_DIR "/examples/";

inline std::string faulty(std::string_view name) {
  return folder + "faulty/" + std::string(name) + ".toml";
}

inline std::optional<std::string> from_disk(std::string_view path) {
  std::ifstream file{std::string(path)};
  if (!file) return std::nullopt;
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

/// Every design under examples/, in the order of their names; a catalogue of parts and the readings
/// of a van are none.
inline std::vector<std::string> all() {
  std::vector<std::string> files;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(folder)) {
    if (entry.path().extension() != ".toml") continue;
    const std::string text = *from_disk(entry.path().string());
    if (text.find("\n[[part]]") == text.npos && text.find("\n[[measured]]") == text.npos)
      files.push_back(entry.path().string());
  }
  std::sort(files.begin(), files.end());
  return files;
}

inline const tables::Tables& shipped() {
  static const tables::Tables tables_ = [] {
    Diagnostics problems;
    auto read = tables::read_tables(tables::embedded_tables(), {}, problems);
    REQUIRE(read.has_value());
    return *std::move(read);
  }();
  return tables_;
}

inline design::Opened opened(const std::string& file, const std::vector<std::string>& sets = {},
                             const FileReader& reader = from_disk) {
  Diagnostics problems;
  auto design = design::open_design(file, reader, sets, shipped(), Defaults::ordinary, problems);
  for (const auto& p : problems.all) MESSAGE(file << ": " << p.key << ": " << p.message);
  REQUIRE_MESSAGE(design.has_value(), file);
  return *std::move(design);
}

inline Checked checked(const design::Opened& one) {
  return checks::check(one.document, one.design);
}

inline Checked checked(const std::string& file, const std::vector<std::string>& sets = {}) {
  return checked(opened(file, sets));
}

/// The same for a text that stands in the test itself.
inline Checked checked_text(const std::string& text) {
  return checked(opened("sketch.toml", {}, [&](std::string_view) { return std::optional(text); }));
}

}  // namespace examples

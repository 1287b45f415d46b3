// SPDX-License-Identifier: Apache-2.0
#include "pack_file.hpp"

#include <filesystem>

#include "given.hpp"
#include "housepower/answers/pack_file.hpp"
#include "housepower/page/page.hpp"
#include "write_file.hpp"

namespace housepower::cli {
namespace {

namespace fs = std::filesystem;

/// A path from the folder of `output`, with / on every system.
std::string seen_from(const std::string& output, std::string_view path, const World& world) {
  if (output == "-") return fs::path(path).generic_string();
  const auto whole = [&](std::string_view one) {
    return fs::path(world.files.whole_path(std::string(one)));
  };
  const auto there = whole(path).lexically_normal();
  const auto relative = there.lexically_relative(whole(output).parent_path().lexically_normal());
  return (relative.empty() ? there : relative).generic_string();
}

}  // namespace

std::vector<design::Part> parts_for(const std::optional<std::string>& catalogue,
                                    const std::string& file, const Opening& opening, World& world,
                                    Diagnostics& diagnostics) {
  return answers::parts_for(catalogue, given(opening, file), world.read, diagnostics);
}

int write_pack(const std::string& output, const DesignOptions& options, const Opening& opening,
               const design::Document& chosen, const std::vector<std::string>& about,
               World& world) {
  std::vector<std::string> head = about;
  head.emplace_back(page::safety_note());
  const auto text =
      answers::pack_file(given(opening, options.file), chosen, head, world.read,
                         [&](std::string_view path) { return seen_from(output, path, world); });
  return write_out(output, text, world);
}

}  // namespace housepower::cli

// SPDX-License-Identifier: Apache-2.0
#include "write_file.hpp"

#include "housepower/reading/shown.hpp"

namespace housepower::cli {
namespace {

bool is_read(const std::string& path, const World& world, Diagnostics& diagnostics) {
  if (!world.files.holds(path)) return false;
  diagnostics.error({"--output"}, std::string(would_be_lost),
                    shown(path) + " is read for this answer and would be lost",
                    "give what is written a name of its own");
  return true;
}

}  // namespace

bool output_is_read(const World& world, Diagnostics& diagnostics) {
  const auto output = world.typed.find("--output");
  return output != world.typed.end() && is_read(output->second, world, diagnostics);
}

int write_out(const std::optional<std::string>& path, std::string_view text, World& world) {
  if (!path || *path == "-") {
    world.out << text;
    return ok;
  }
  Diagnostics lost;
  if (is_read(*path, world, lost)) return refuse(world, Format::text, lost);
  const auto problem = world.files.write(*path, text);
  if (!problem) return ok;
  world.err << "error: " << shown(*path) << ": the file cannot be written: " << *problem << "\n";
  return io_error;
}

}  // namespace housepower::cli

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

using Write = std::optional<std::string>(const std::string&, std::string_view);

int write_by(const std::function<Write>& write, const std::optional<std::string>& path,
             std::string_view text, World& world) {
  if (!path || *path == "-") {
    world.out << text;
    return ok;
  }
  Diagnostics lost;
  if (is_read(*path, world, lost)) return refuse(world, Format::text, lost);
  const auto problem = write(*path, text);
  return problem ? not_written(*path, *problem, world) : ok;
}

}  // namespace

int not_written(const std::string& path, const std::string& why, World& world) {
  world.err << "error: " << shown(path) << ": the file cannot be written: " << why << "\n";
  return io_error;
}

bool output_is_read(const World& world, Diagnostics& diagnostics) {
  const auto output = world.typed.find("--output");
  return output != world.typed.end() && is_read(output->second, world, diagnostics);
}

int write_out(const std::optional<std::string>& path, std::string_view text, World& world) {
  return write_by(world.files.write, path, text, world);
}

int write_new_out(const std::optional<std::string>& path, std::string_view text, World& world) {
  return write_by(world.files.write_new, path, text, world);
}

}  // namespace housepower::cli

// SPDX-License-Identifier: Apache-2.0
#include "write_file.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <filesystem>

#include "housepower/reading/shown.hpp"

namespace housepower::cli {
namespace {

/// All of it, and its closing, on which a full disk may tell.
bool write_and_close(int file, std::string_view text) {
  bool good = true;
  while (good && !text.empty()) {
    const auto written = ::write(file, text.data(), text.size());
    if (written < 0 && errno == EINTR) continue;
    if (written < 0) good = false;
    else text.remove_prefix(std::size_t(written));
  }
  const int error = errno;
  if (::close(file) != 0) return false;
  errno = error;
  return good;
}

std::string reason() { return std::strerror(errno); }

/// The rights that a new file has, or those of the file that is replaced.
mode_t rights_of(const std::string& path) {
  struct stat now {};
  if (::stat(path.c_str(), &now) == 0) return now.st_mode & 07777;
  const mode_t mask = ::umask(0);
  ::umask(mask);
  return 0666 & ~mask;
}

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

std::optional<std::string> write_file(const std::string& path, std::string_view text) {
  std::error_code none;
  const auto kind = std::filesystem::status(path, none).type();
  if (kind != std::filesystem::file_type::not_found &&
      kind != std::filesystem::file_type::regular) {
    const int file = ::open(path.c_str(), O_WRONLY | O_CLOEXEC);
    if (file < 0 || !write_and_close(file, text)) return reason();
    return {};
  }
  std::string target = path;  // a link stays one: what it leads to is replaced
  if (kind == std::filesystem::file_type::regular)
    target = std::filesystem::canonical(path, none).string();
  std::string beside = target + ".XXXXXX";
  const int file = ::mkstemp(beside.data());
  if (file < 0) return reason();
  if (::fchmod(file, rights_of(target)) == 0 && write_and_close(file, text) &&
      std::rename(beside.c_str(), target.c_str()) == 0)
    return {};
  const std::string why = reason();
  ::unlink(beside.c_str());
  return why;
}

int write_out(const std::optional<std::string>& path, std::string_view text, World& world) {
  if (!path || *path == "-") {
    world.out << text;
    return ok;
  }
  Diagnostics lost;
  if (is_read(*path, world, lost)) return refuse(world, Format::text, lost);
  const auto problem = write_file(*path, text);
  if (!problem) return ok;
  world.err << "error: " << shown(*path) << ": the file cannot be written: " << *problem << "\n";
  return io_error;
}

}  // namespace housepower::cli

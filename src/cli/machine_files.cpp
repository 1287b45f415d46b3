// SPDX-License-Identifier: Apache-2.0
#include "machine_files.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>

#include "descriptor.hpp"
#include "machine_write.hpp"

namespace housepower::cli {
namespace {

constexpr std::string_view too_large = "it is larger than 64 MB";

FileContent no_text(std::string_view why) { return FileContent::none(std::string(why)); }
FileContent no_text_for(int error) { return FileContent::none(std::strerror(error)); }

/// Why what stands there is not read; empty for an ordinary file of a size that is.
std::string_view why_refused(const struct stat& found) {
  if (S_ISDIR(found.st_mode)) return "it is a folder";
  if (S_ISFIFO(found.st_mode)) return "it is a pipe; - reads what is piped into standard input";
  if (S_ISSOCK(found.st_mode)) return "it is a socket, not a file";
  if (!S_ISREG(found.st_mode)) return "it is a device, not a file";
  return std::size_t(found.st_size) > largest_text ? too_large : std::string_view{};
}

/// To the end, or until it is too much.
FileContent all_of(int file, std::size_t expected) {
  std::string text(std::min(expected, largest_text) + 1, '\0');
  std::size_t length = 0;
  for (;;) {
    const auto got = ::read(file, text.data() + length, text.size() - length);
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) return no_text_for(errno);
    if (got == 0) break;
    length += std::size_t(got);
    if (length > largest_text) return no_text(too_large);
    if (length == text.size()) text.resize(std::min(2 * length, largest_text + 1));
  }
  text.resize(length);
  return std::optional(std::move(text));
}

Found found_at(const std::string& path) {
  std::error_code none;
  const auto kind = std::filesystem::status(path, none).type();
  switch (kind) {
  case std::filesystem::file_type::none:
  case std::filesystem::file_type::not_found: return Found::nothing;
  case std::filesystem::file_type::regular: return Found::file;
  case std::filesystem::file_type::directory: return Found::folder;
  default: return Found::other;
  }
}

FolderContent toml_files_in(const std::string& folder) {
  FolderContent content;
  std::error_code error;
  for (std::filesystem::recursive_directory_iterator at(folder, error), end; !error && at != end;
       at.increment(error))
    if (at->path().extension() == ".toml" && !at->is_directory(error))
      content.names.push_back(at->path().string());
  if (error) content.why_not_whole = error.message();
  std::sort(content.names.begin(), content.names.end());
  return content;
}

std::string whole_path(const std::string& path) {
  std::error_code error;
  const auto whole = std::filesystem::absolute(path, error);
  return error ? path : whole.string();
}

}  // namespace

Files MachineFiles::files() {
  return {[this](std::string_view path) { return read(path); },
          write_file,
          write_new_file,
          write_over,
          found_at,
          toml_files_in,
          [this](const std::string& path) { keep(path); },
          [this](const std::string& path) { return holds(path); },
          whole_path};
}

FileContent MachineFiles::read(std::string_view path) {
  if (path == "-") return standard_input();
  const std::string name(path);
  struct stat found {};
  if (::stat(name.c_str(), &found) != 0)
    return errno == ENOENT ? no_text("there is no such file") : no_text_for(errno);
  if (const auto why = why_refused(found); !why.empty()) return no_text(why);
  const Descriptor file(::open(name.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY));
  if (file.number() < 0 || ::fstat(file.number(), &found) != 0) return no_text_for(errno);
  if (const auto why = why_refused(found); !why.empty()) return no_text(why);  // as it now is
  remember({found.st_dev, found.st_ino});
  return all_of(file.number(), std::size_t(found.st_size));
}

FileContent MachineFiles::standard_input() {
  const std::lock_guard lock(mutex_);
  if (typed_in_) return *typed_in_;
  struct stat found {};
  const bool known = ::fstat(STDIN_FILENO, &found) == 0;
  if (known && S_ISREG(found.st_mode)) read_.insert({found.st_dev, found.st_ino});
  const bool is_file = known && S_ISREG(found.st_mode);
  typed_in_ = is_file && std::size_t(found.st_size) > largest_text ? no_text(too_large)
                                                                   : all_of(STDIN_FILENO, 0);
  return *typed_in_;
}

void MachineFiles::remember(const Identity& identity) {
  const std::lock_guard lock(mutex_);
  read_.insert(identity);
}

void MachineFiles::keep(const std::string& path) {
  struct stat found {};
  if (::stat(path.c_str(), &found) == 0 && S_ISREG(found.st_mode))
    remember({found.st_dev, found.st_ino});
}

bool MachineFiles::holds(const std::string& path) const {
  struct stat found {};
  if (::stat(path.c_str(), &found) != 0) return false;
  const std::lock_guard lock(mutex_);
  return read_.count({found.st_dev, found.st_ino}) > 0;
}

}  // namespace housepower::cli

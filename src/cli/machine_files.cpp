// SPDX-License-Identifier: Apache-2.0
#include "machine_files.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <filesystem>

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

class Descriptor {
public:
  explicit Descriptor(int number) : number_(number) {}
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor() {
    if (number_ >= 0) ::close(number_);
  }
  [[nodiscard]] int number() const { return number_; }

private:
  int number_;
};

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

/// Written beside it, under another name, which then takes its name. What is no ordinary file, such as
/// /dev/null, is written to as it is.
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

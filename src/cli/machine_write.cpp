// SPDX-License-Identifier: Apache-2.0
#include "machine_write.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>

#include "descriptor.hpp"

namespace housepower::cli {
namespace {

namespace fs = std::filesystem;
using Why = std::optional<std::string>;  // nothing: it was done

Why reason() { return std::strerror(errno); }

bool write_all(int file, std::string_view text) {
  while (!text.empty()) {
    const auto written = ::write(file, text.data(), text.size());
    if (written < 0 && errno == EINTR) continue;
    if (written < 0) return false;
    text.remove_prefix(std::size_t(written));
  }
  return true;
}

/// On the disk, and not only on its way there; some kinds of disk know no difference.
bool kept(int file) { return ::fsync(file) == 0 || errno == EINVAL || errno == ENOTSUP; }

/// Where the file is, or will be: through links, to a place where there is nothing yet as well.
std::string behind_links(const std::string& path) {
  std::error_code none;
  fs::path at = path;
  for (int i = 0; i < 40 && fs::is_symlink(at, none); ++i)
    at = at.parent_path() / fs::read_symlink(at, none);
  return at.string();
}

std::string folder_of(const std::string& path) {
  const auto folder = fs::path(path).parent_path();
  return folder.empty() ? "." : folder.string();
}

/// A file in that folder, with its whole text on the disk, that does not have its name yet.
class Unnamed {
public:
  Unnamed(const std::string& folder, std::string_view text) : folder_(folder), file_(made()) {
    if (file_.number() < 0 || !write_all(file_.number(), text) || !kept(file_.number()))
      why_ = reason();
  }
  Unnamed(const Unnamed&) = delete;
  Unnamed& operator=(const Unnamed&) = delete;
  ~Unnamed() {
    if (!name_.empty()) ::unlink(name_.c_str());
  }

  /// Nothing: it is all there.
  [[nodiscard]] const Why& why() const { return why_; }

  /// With the rights of the file that it replaces, and its owner where that may be.
  void take_rights_of(const struct stat& replaced) {
    if (::fchown(file_.number(), replaced.st_uid, replaced.st_gid) != 0) errno = 0;
    if (::fchmod(file_.number(), replaced.st_mode & 0777) != 0) why_ = reason();
  }

  /// Where nothing stands.
  Why take_new(const std::string& path) {
    if (!link_to(path)) return reason();
    keep_folder();
    return {};
  }

  /// Whatever stands there.
  Why take(const std::string& path) {
    if (name_.empty() && !take_own_name()) return reason();
    if (std::rename(name_.c_str(), path.c_str()) != 0) return reason();
    name_.clear();
    keep_folder();
    return {};
  }

private:
  int made() {
#ifdef O_TMPFILE
    const int file = ::open(folder_.c_str(), O_TMPFILE | O_WRONLY | O_CLOEXEC, 0666);
    if (file >= 0 || (errno != EOPNOTSUPP && errno != EISDIR && errno != EINVAL)) return file;
#endif
    return with_own_name([](const std::string& name) {
      return ::open(name.c_str(), O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0666);
    });
  }

  /// The first name that nobody has; in a folder, all that is written has one of this kind.
  template <class Make> int with_own_name(Make make) {
    for (int i = 0; i < 1000; ++i) {
      name_ = folder_ + "/.housepower-" + std::to_string(::getpid()) + "-" + std::to_string(i);
      const int made = make(name_);
      if (made >= 0 || errno != EEXIST) {
        if (made < 0) name_.clear();
        return made;
      }
    }
    name_.clear();
    return -1;
  }

  bool take_own_name() {
    return with_own_name([&](const std::string& name) { return link_to(name) ? 0 : -1; }) == 0;
  }

  bool link_to(const std::string& path) {
    if (!name_.empty() && name_ != path) return ::link(name_.c_str(), path.c_str()) == 0;
    const std::string open = "/proc/self/fd/" + std::to_string(file_.number());
    return ::linkat(AT_FDCWD, open.c_str(), AT_FDCWD, path.c_str(), AT_SYMLINK_FOLLOW) == 0;
  }

  void keep_folder() {
    const Descriptor folder(::open(folder_.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (folder.number() >= 0) (void)::fsync(folder.number());
  }

  std::string folder_, name_;
  Descriptor file_;
  Why why_;
};

Why write_into(int file, std::string_view text) {
  if (file < 0) return reason();
  const bool good = write_all(file, text);
  const Why why = reason();
  if (::close(file) != 0) return reason();
  return good ? Why() : why;
}

/// Over an ordinary file.
Why replace(const std::string& path, const struct stat& replaced, std::string_view text) {
  if (::access(path.c_str(), W_OK) != 0) return reason();
  std::error_code error;
  const std::string target = fs::canonical(path, error).string();
  if (error) return error.message();
  Unnamed made(folder_of(target), text);
  if (!made.why()) made.take_rights_of(replaced);
  return made.why() ? made.why() : made.take(target);
}

bool same(const struct stat& a, const struct stat& b) {
  return a.st_dev == b.st_dev && a.st_ino == b.st_ino;
}

/// What standard output goes to, by whatever name: written to where it stands, as a shell counts on.
bool is_standard_output(const struct stat& found) {
  struct stat out {};
  return ::fstat(STDOUT_FILENO, &out) == 0 && same(out, found);
}

/// Waits for a lock as long as another may need to write; where the disk knows no locks, it is had.
bool locked(int file) {
  for (int i = 0; i < 100; ++i) {
    if (::flock(file, LOCK_EX | LOCK_NB) == 0 || errno != EWOULDBLOCK) return true;
    ::usleep(50'000);
  }
  return false;
}

/// Held by us alone.
Descriptor held(const std::string& path) {
  for (;;) {
    const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    if (file < 0) return Descriptor(file);
    if (!locked(file)) {
      ::close(file);
      errno = EBUSY;
      return Descriptor(-1);
    }
    struct stat it {
    }, there{};
    if (::fstat(file, &it) != 0 || ::stat(path.c_str(), &there) != 0 || same(it, there))
      return Descriptor(file);
    ::close(file);  // another took its place meanwhile
  }
}

bool holds_now(int file, std::string_view text) {
  struct stat now {};
  if (::fstat(file, &now) != 0 || std::size_t(now.st_size) != text.size()) return false;
  std::string read(text.size(), '\0');
  std::size_t length = 0;
  while (length < read.size()) {
    const auto got = ::read(file, read.data() + length, read.size() - length);
    if (got < 0 && errno == EINTR) continue;
    if (got <= 0) return false;
    length += std::size_t(got);
  }
  return read == text;
}

Why make_at(const std::string& path, std::string_view text,
            Why (Unnamed::*take)(const std::string&)) {
  const std::string target = behind_links(path);
  Unnamed made(folder_of(target), text);
  return made.why() ? made.why() : (made.*take)(target);
}

}  // namespace

std::optional<std::string> write_file(const std::string& path, std::string_view text) {
  struct stat found {};
  if (::stat(path.c_str(), &found) != 0) {
    if (errno != ENOENT) return reason();
    return make_at(path, text, &Unnamed::take);
  }
  if (S_ISDIR(found.st_mode)) return "it is a folder";
  if (S_ISBLK(found.st_mode)) return "it is a disk, not a file";
  if (S_ISSOCK(found.st_mode)) return "it is a socket, not a file";
  if (is_standard_output(found)) return write_into(::dup(STDOUT_FILENO), text);
  if (S_ISREG(found.st_mode)) return replace(path, found, text);
  return write_into(::open(path.c_str(), O_WRONLY | O_CLOEXEC | O_NOCTTY), text);
}

std::optional<std::string> write_new_file(const std::string& path, std::string_view text) {
  struct stat found {};
  if (::stat(path.c_str(), &found) == 0 && !S_ISREG(found.st_mode)) return write_file(path, text);
  return make_at(path, text, &Unnamed::take_new);
}

std::optional<std::string> write_over(const std::string& path, std::string_view before,
                                      std::string_view text) {
  const Descriptor file = held(path);
  struct stat found {};
  if (file.number() < 0 && errno == EBUSY) return "another program holds on to it";
  if (file.number() < 0 || ::fstat(file.number(), &found) != 0) return reason();
  if (!S_ISREG(found.st_mode)) return "it is no file";
  if (!holds_now(file.number(), before)) return "it was changed while this was made of it";
  return replace(path, found, text);
}

}  // namespace housepower::cli

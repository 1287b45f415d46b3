// SPDX-License-Identifier: Apache-2.0
#include "texts.hpp"

#include <filesystem>

namespace housepower::browser {
namespace {

/// "./vans/../van.toml", "/van.toml" and "van.toml" are one.
std::string plain(std::string_view path) {
  return std::filesystem::path(path).lexically_normal().relative_path().generic_string();
}

/// The beginning of the names in a folder: "vans/"; of the one that holds all, nothing.
std::string before_names_in(const std::string& folder) {
  std::string name = plain(folder);
  if (name == "." || name.empty()) return {};
  return name.ends_with('/') ? name : name + "/";
}

/// As it was named, with what stands below it.
std::string below(const std::string& folder, std::string_view rest) {
  return folder + (folder.ends_with('/') ? "" : "/") + std::string(rest);
}

}  // namespace

Texts::Texts(const ByName& given) {
  for (const auto& [name, text] : given) given_.emplace(plain(name), text);
}

FileContent Texts::read(std::string_view path) {
  const auto text = given_.find(plain(path));
  if (text == given_.end())
    return FileContent::none(found(std::string(path)) == cli::Found::folder
                                 ? "it is a folder"
                                 : "there is no such file");
  kept_.insert(text->first);
  return std::optional(text->second);
}

cli::Found Texts::found(const std::string& path) const {
  if (given_.count(plain(path)) > 0) return cli::Found::file;
  const std::string begin = before_names_in(path);
  const auto first = given_.lower_bound(begin);
  return first != given_.end() && first->first.starts_with(begin) ? cli::Found::folder
                                                                  : cli::Found::nothing;
}

cli::FolderContent Texts::toml_files_in(const std::string& folder) const {
  cli::FolderContent content;
  const std::string begin = before_names_in(folder);
  for (const auto& [name, text] : given_)
    if (name.starts_with(begin) && name.ends_with(".toml"))
      content.names.push_back(below(folder, std::string_view(name).substr(begin.size())));
  return content;
}

cli::Files Texts::files() {
  // Each question has its files to itself: nobody writes in between.
  const auto write = [this](const std::string& path,
                            std::string_view text) -> std::optional<std::string> {
    made_[plain(path)] = text;
    return std::nullopt;
  };
  return {[this](std::string_view path) { return read(path); },
          write,
          write,
          [write](const std::string& path, std::string_view, std::string_view text) {
            return write(path, text);
          },
          [this](const std::string& path) { return found(path); },
          [this](const std::string& folder) { return toml_files_in(folder); },
          [this](const std::string& path) { kept_.insert(plain(path)); },
          [this](const std::string& path) { return kept_.count(plain(path)) > 0; },
          [](const std::string& path) { return "/" + plain(path); }};
}

}  // namespace housepower::browser

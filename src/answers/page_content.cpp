// SPDX-License-Identifier: Apache-2.0
#include "housepower/answers/page_content.hpp"

#include <filesystem>
#include <set>
#include <utility>

#include "housepower/answers/named_files.hpp"
#include "housepower/answers/opening.hpp"
#include "housepower/answers/range.hpp"

namespace housepower::answers {
namespace {

namespace fs = std::filesystem;

/// "vans/./two.toml" in "vans" is "two.toml"; nothing where it lies outside.
std::optional<std::string> name_within(const std::string& folder, std::string_view path) {
  const auto name = fs::path(path).lexically_normal().lexically_relative(
      (fs::path(folder) / "").lexically_normal());
  if (name.empty() || *name.begin() == "..") return std::nullopt;
  return name.generic_string();
}

/// Reads for a page: keeps every text, and the names of those that lie elsewhere.
class Gathering {
public:
  Gathering(const std::string& folder, const FileReader& read, PageContent& content)
      : folder_(folder), read_(read), content_(content) {}
  FileContent read(std::string_view path) {
    auto text = read_(path);
    if (!text) return text;
    if (const auto name = name_within(folder_, path)) content_.texts[*name] = *text;
    else elsewhere_.insert(std::string(path));
    return text;
  }
  /// Since it was asked last.
  [[nodiscard]] std::set<std::string> elsewhere() { return std::exchange(elsewhere_, {}); }

private:
  const std::string& folder_;
  const FileReader& read_;
  PageContent& content_;
  std::set<std::string> elsewhere_{};
};

bool extends_another(const std::string& text, const std::string& file) {
  Diagnostics known;
  const auto own = parse_toml(text, file, known);
  return own && own->find("extends");
}

void read_catalogue(const Node& design, const std::string& file, const FileReader& read,
                    Diagnostics& diagnostics) {
  const auto catalogue = catalogue_named(design, file);
  if (!catalogue) return;
  const auto text = read(*catalogue);
  if (!text)
    diagnostics.error({file}, std::string(unreadable),
                      "the catalogue \"" + *catalogue + "\" cannot be read", text.why());
}

/// Looks into one file, and whether it is a van.
void add_file(const std::string& file, const std::string& folder, Shelf& shelf,
              Gathering& gathering, PageContent& content, Diagnostics& diagnostics) {
  const FileReader read = [&](std::string_view path) { return gathering.read(path); };
  Question question{file};
  question.needs_runs = false;
  Diagnostics own;
  auto design = read_of(question, read, own);
  std::optional<Opening> opening;
  if (design && !own.any_error() && why_no_design(design->node).empty()) {
    read_catalogue(design->node, file, read, own);
    opening = open_read(*std::move(design), question, shelf, read, own);
  }
  for (const auto& path : gathering.elsewhere())
    own.error({file}, {}, "names \"" + path + "\", which lies outside of the folder",
              "a page holds the files of its folder only: put it there");
  diagnostics.all.insert(diagnostics.all.end(), own.all.begin(), own.all.end());
  const auto name = name_within(folder, file);
  if (opening && name && !extends_another(content.texts[*name], file))
    content.vans.push_back({*name, opening->document->vehicle.name});
}

}  // namespace

std::optional<PageContent> page_content(const PageAsked& asked, Shelf& shelf,
                                        const FileReader& read, Diagnostics& diagnostics) {
  PageContent content{asked.title, asked.words};
  Gathering gathering(asked.folder, read, content);
  for (const auto& file : asked.files)
    add_file(file, asked.folder, shelf, gathering, content, diagnostics);
  if (content.vans.empty() && !diagnostics.any_error())
    diagnostics.error({asked.folder}, std::string(unreadable), "there is no design in the folder");
  return diagnostics.any_error() ? std::nullopt : std::optional(std::move(content));
}

}  // namespace housepower::answers

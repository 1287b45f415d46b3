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

/// The file alone, without what it extends; its problems are told by who reads it whole.
std::optional<Node> own_of(const std::string& text, const std::string& file) {
  Diagnostics known;
  return parse_toml(text, file, known);
}

/// Where the file names another one.
Place place_naming(const std::optional<Node>& own, const std::string& file,
                   const std::string& path) {
  for (const char* key : {"extends", "place/weather", "sizing/catalogue"}) {
    const Node* named = own ? own->at(key) : nullptr;
    const auto* text = named ? std::get_if<std::string>(&named->value) : nullptr;
    if (text && fs::path(*text).filename() == fs::path(path).filename()) return named->place;
  }
  return {file};
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
  Diagnostics told;
  auto design = read_of(question, read, told);
  std::optional<Opening> opening;
  if (design && !told.any_error() && why_no_design(design->node).empty()) {
    read_catalogue(design->node, file, read, told);
    opening = open_read(*std::move(design), question, shelf, read, told);
  }
  const auto name = name_within(folder, file);
  const auto own = name ? own_of(content.texts[*name], file) : std::nullopt;
  for (const auto& path : gathering.elsewhere())
    told.error(place_naming(own, file, path), {},
               "names \"" + path + "\", which lies outside of the folder",
               "a page holds the files of its folder only: put it there");
  diagnostics.all.insert(diagnostics.all.end(), told.all.begin(), told.all.end());
  if (opening && own && !own->find("extends"))
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

// SPDX-License-Identifier: Apache-2.0
#include "housepower/answers/named_files.hpp"

#include <algorithm>
#include <filesystem>

#include "housepower/design/catalogue.hpp"
#include "told.hpp"

namespace housepower::answers {

std::string file_naming(const Place& named, const std::string& design) {
  return named.line > 0 && !named.file.starts_with("--") ? named.file : design;
}

namespace {

/// Beside the file that names it; what was typed as `option`, from where one is.
std::optional<std::string> path_named(const Node& design, std::string_view key,
                                      std::string_view option, const std::string& file) {
  const Node* named = design.at(key);
  const auto* name = named ? std::get_if<std::string>(&named->value) : nullptr;
  if (!name) return std::nullopt;
  const auto folder = named->place.file == option
                          ? std::filesystem::path()
                          : std::filesystem::path(file_naming(named->place, file)).parent_path();
  return (folder / *name).string();
}

}  // namespace

std::optional<std::string> weather_named(const Node& design, const std::string& file) {
  return path_named(design, "place/weather", "--weather", file);
}
std::optional<std::string> catalogue_named(const Node& design, const std::string& file) {
  return path_named(design, "sizing/catalogue", "", file);
}

namespace {

/// The parts of a file beside the design, or of one that was typed.
std::vector<design::Part> parts_from(const std::string& path, const Place& named,
                                     const FileReader& read, Diagnostics& diagnostics) {
  if (const auto text = read(path); !text) {
    diagnostics.error(named, std::string(unreadable),
                      "the catalogue \"" + path + "\" cannot be read", text.why());
    return {};
  }
  const auto node = read_document(path, read, diagnostics);
  if (!node) return {};
  auto catalogue = design::catalogue_of(*node, diagnostics);
  return catalogue ? std::move(catalogue->part) : std::vector<design::Part>{};
}

/// Sizes, types and prices of a catalogue's stock, as the design's own are checked where it is read.
void check_stock(const std::vector<design::Part>& parts, const GivenDesign& given,
                 Diagnostics& diagnostics) {
  design::Document document = given.document;
  add_stock(document, parts);
  if (document.part.size() == given.document.part.size()) return;
  Diagnostics found;
  const auto resolved =
      design::resolve(std::move(document), given.tables, Defaults::ordinary, found);
  tell_new(found, diagnostics);
  if (!resolved && !diagnostics.any_error())
    diagnostics.error({}, "part", "the stock of the catalogue cannot be read");
}

}  // namespace

std::vector<design::Part> parts_for(const std::optional<std::string>& catalogue,
                                    const GivenDesign& given, const FileReader& read,
                                    Diagnostics& diagnostics) {
  std::vector<design::Part> parts = given.document.part;
  const auto& sizing = given.document.sizing;
  std::vector<design::Part> more;
  if (catalogue) {
    more = parts_from(*catalogue, {"--catalogue", 0, 0, 1}, read, diagnostics);
  } else if (sizing && sizing->catalogue) {
    const Node* named = given.node.at("sizing/catalogue");
    const Place place = named ? named->place : Place{given.file, 0, 0, 1};
    const auto folder = std::filesystem::path(file_naming(place, given.file)).parent_path();
    more = parts_from((folder / *sizing->catalogue).string(), place, read, diagnostics);
  }
  parts.insert(parts.end(), more.begin(), more.end());
  design::check_names(parts, diagnostics);
  design::check_figures(parts, diagnostics);
  check_stock(parts, given, diagnostics);
  return parts;
}

void add_stock(design::Document& document, const std::vector<design::Part>& parts) {
  for (const design::Part& part : parts) {
    const bool of_wiring =
        part.kind() == design::PartKind::conductor || part.kind() == design::PartKind::device;
    const bool known = std::any_of(document.part.begin(), document.part.end(),
                                   [&](const design::Part& own) { return own.name == part.name; });
    if (of_wiring && !known) document.part.push_back(part);
  }
}

}  // namespace housepower::answers

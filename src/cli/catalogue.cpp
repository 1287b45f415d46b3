// SPDX-License-Identifier: Apache-2.0
// The parts that a design may be made of: its own, and those of a file beside it.
#include "housepower/design/catalogue.hpp"

#include <algorithm>
#include <filesystem>

#include "pack_file.hpp"

namespace housepower::cli {
namespace {

/// The parts of a file beside the design, or of one that was typed.
std::vector<design::Part> parts_from(const std::string& path, const Place& named, World& world,
                                     Diagnostics& diagnostics) {
  if (const auto text = world.read(path); !text) {
    diagnostics.error(named, std::string(unreadable),
                      "the catalogue \"" + path + "\" cannot be read", text.why());
    return {};
  }
  const auto node = read_document(path, world.read, diagnostics);
  if (!node) return {};
  auto catalogue = design::catalogue_of(*node, diagnostics);
  return catalogue ? std::move(catalogue->part) : std::vector<design::Part>{};
}

/// Sizes, types and prices of a catalogue's stock, as the design's own are checked where it is read.
void check_stock(const std::vector<design::Part>& parts, const Opening& opening,
                 Diagnostics& diagnostics) {
  design::Document document = *opening.document;
  add_stock(document, parts);
  if (document.part.size() == opening.document->part.size()) return;
  const auto resolved =
      design::resolve(std::move(document), *opening.tables, Defaults::ordinary, diagnostics);
  if (!resolved && !diagnostics.any_error())
    diagnostics.error({}, "part", "the stock of the catalogue does not read");
}

}  // namespace

std::vector<design::Part> parts_for(const std::optional<std::string>& catalogue,
                                    const std::string& file, const Opening& opening, World& world,
                                    Diagnostics& diagnostics) {
  std::vector<design::Part> parts = opening.document->part;
  const auto& sizing = opening.document->sizing;
  std::vector<design::Part> more;
  if (catalogue) {
    more = parts_from(*catalogue, {"--catalogue", 0, 0, 1}, world, diagnostics);
  } else if (sizing && sizing->catalogue) {
    const Node* named = opening.node.at("sizing/catalogue");
    const Place place = named ? named->place : Place{file, 0, 0, 1};
    const auto folder = std::filesystem::path(file_naming(place, file)).parent_path();
    more = parts_from((folder / *sizing->catalogue).string(), place, world, diagnostics);
  }
  parts.insert(parts.end(), more.begin(), more.end());
  design::check_names(parts, diagnostics);
  check_stock(parts, opening, diagnostics);
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

}  // namespace housepower::cli

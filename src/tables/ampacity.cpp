// SPDX-License-Identifier: Apache-2.0
// Ampacity tables: a column for each insulation, a row for each size, and the factors they name.
#include <algorithm>

#include "housepower/units/phrases.hpp"
#include "loaders.hpp"

namespace housepower::tables {
namespace {

Place place_of(const File& file, std::string_view key) {
  const auto* entry = file.root->find(key);
  return entry ? entry->value.place : file.root->place;
}

// The area that a row stands for. Of AWG the smaller of the two tables that tell it, so that a
// wire of either is rated by its own row.
std::optional<Area> area_of_row(std::string_view size, std::string_view sizes,
                                const Tables& tables) {
  if (sizes == "mm2") {
    const auto number = parse_double(size);
    return number ? std::optional(*number * square_millimetre) : std::nullopt;
  }
  std::optional<Area> smallest;
  for (const std::string_view name :
       {sizes == "awg" ? "nec-8" : sizes, sizes == "awg" ? "astm-b258" : sizes})
    if (const auto* wire = sized(series_named(tables, name), size_in(size)))
      smallest = smallest ? std::min(*smallest, wire->copper) : wire->copper;
  return smallest;
}

void take_ambient(AmpacityTable& table, const File& file, const Factors& factors,
                  Diagnostics& diagnostics) {
  const auto found = factors.ambient.find(file.text.ambient);
  if (found == factors.ambient.end()) {
    diagnostics.error(place_of(file, "ambient"), "ambient",
                      quoted(file.text.ambient) + " is not a table of ambient factors");
    return;
  }
  table.ambient = found->second.factors;
  if (table.ambient.shape == AmbientFactors::Shape::square_root) return;
  const auto& known = found->second.insulation;
  for (auto& band : table.ambient.bands) {  // from the factors' columns to this table's
    std::vector<std::optional<Ratio>> own;
    for (const auto& insulation : table.insulation) {
      const auto same = std::find(known.begin(), known.end(), insulation);
      own.push_back(same == known.end()
                        ? std::nullopt
                        : band.factors[static_cast<std::size_t>(same - known.begin())]);
    }
    band.factors = std::move(own);
  }
}

void take_grouping(AmpacityTable& table, const File& file, const Factors& factors,
                   Diagnostics& diagnostics) {
  const auto found = factors.grouping.find(file.text.grouping);
  if (found != factors.grouping.end()) table.grouping = found->second;
  else
    diagnostics.error(place_of(file, "grouping"), "grouping",
                      quoted(file.text.grouping) + " is not a column of grouping factors",
                      "write the table and its column, as in \"nec-310-15-c/factor\"");
}

}  // namespace

void add_ampacity(const File& file, const Factors& factors, Tables& tables,
                  Diagnostics& diagnostics) {
  const FileText& text = file.text;
  AmpacityTable table;
  table.name = text.name;
  table.title = text.title;
  table.base_ambient = text.base_ambient;
  table.lies = text.lies.empty() ? "free" : text.lies;  // which reduces every other lie
  table.profile = text.profile.empty() ? "iec-en-leisure" : text.profile;
  table.source = file.source;

  if (!tables.lie(table.lies))
    diagnostics.error(place_of(file, "lies"), "lies",
                      quoted(table.lies) + " is not a way of laying cable in the factors",
                      "write how the cables of this table are laid: free, clipped, conduit …");

  Block block(file, "rows", diagnostics);
  const auto size = block.needed("size");
  if (!size) return;
  std::vector<std::size_t> columns;
  for (std::size_t i = 0; i < block.columns().size(); ++i) {
    const auto insulation = parse_double(block.columns()[i].key);
    if (!insulation || !block.needed(block.columns()[i].key, kind_of<Current>)) continue;
    columns.push_back(i);
    table.insulation.push_back(celsius(*insulation));
  }
  for (std::size_t row = 0; row < block.rows(); ++row) {
    const std::string_view name = block.cell(row, *size).text;
    const auto area = area_of_row(name, text.sizes, tables);
    if (!area) {
      block.error(row, *size, quoted(name) + " is not a size of " + quoted(text.sizes));
      continue;
    }
    AmpacityTable::Row& to = table.rows.emplace_back();
    to.size = name;
    if (text.sizes == "awg" && name.find(' ') == name.npos) to.size += " AWG";
    to.area = *area;
    for (const auto column : columns) {
      to.columns.push_back(block.quantity<Current>(row, column));
      to.sources.push_back(block.source(row, column));
    }
  }
  take_ambient(table, file, factors, diagnostics);
  take_grouping(table, file, factors, diagnostics);
  tables.ampacities.push_back(std::move(table));
}

}  // namespace housepower::tables

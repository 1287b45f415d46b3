// SPDX-License-Identifier: Apache-2.0
// Series of conductors. Where a source gives two areas the smaller counts; resistances printed for
// another temperature are taken to 20 °C as copper.
#include <algorithm>

#include "loaders.hpp"

namespace housepower::tables {
namespace {

struct AreaFound {
  Area area{};
  Source source{};
};

// The smallest of the columns named area, area_…; the size itself where it is in mm².
AreaFound smallest_area(Block& block, const std::vector<std::size_t>& columns, std::size_t size,
                        std::size_t row) {
  AreaFound smallest;
  for (const auto column : columns) {
    const auto area = block.quantity<Area>(row, column);
    if (!area || (smallest.area.value() > 0 && *area >= smallest.area)) continue;
    smallest = {*area, block.source(row, column)};
  }
  if (columns.empty())
    smallest = {block.stated(row, size) * square_millimetre, block.source(row, size)};
  return smallest;
}

struct SeriesText {
  const File& file;
  std::optional<std::size_t> resistance;  // column
  bool tinned;

  [[nodiscard]] bool exists() const { return resistance || file.text.resistance; }
};

// FAA AC 43.13-1B par. 11-66d: R(T) is proportional to 234.5 °C + T.
double to_20_degrees(const FileText& text) {
  return text.at ? 254.5 / (234.5 + in_celsius(*text.at)) : 1.0;
}

bool set_resistance(Conductor& wire, const SeriesText& from, Block& block, std::size_t row) {
  if (from.resistance) {
    const auto printed = block.quantity<ResistancePerLength>(row, *from.resistance);
    if (!printed) return false;
    wire.resistance_at_20 = *printed * to_20_degrees(from.file.text);
    wire.source = block.source(row, *from.resistance);
    return true;
  }
  const ResistivityText& text = *from.file.text.resistance;
  wire.resistance_at_20 = double(from.tinned ? text.tinned : text.plain) * ohm / metre *
                          square_millimetre / wire.copper;
  wire.source = {text.kind, text.source, text.where};
  return true;
}

void add_series(const SeriesText& from, Block& block, std::size_t size,
                const std::vector<std::size_t>& areas, Tables& tables) {
  std::vector<Conductor> series;
  for (std::size_t row = 0; row < block.rows(); ++row) {
    Conductor wire;
    const auto area = smallest_area(block, areas, size, row);
    if (area.area.value() <= 0) continue;  // a row to look at, not to use
    wire.name = block.cell(row, size).text;
    if (wire.name.find(' ') == wire.name.npos)
      wire.name += " " + std::string(from.file.text.suffix);
    if (from.tinned) wire.name += " tinned";
    wire.series = from.file.text.name;
    wire.strands = from.file.text.strands;
    wire.tinned = from.tinned;
    wire.nominal = wire.copper = area.area;
    wire.area_source = area.source;
    if (set_resistance(wire, from, block, row)) series.push_back(std::move(wire));
  }
  const auto rising = [](const Conductor& a, const Conductor& b) { return a.copper < b.copper; };
  if (!std::is_sorted(series.begin(), series.end(), rising))
    block.error(0, size, "the sizes do not rise from row to row");
  tables.conductors.push_back(std::move(series));
}

}  // namespace

void add_conductors(const File& file, Tables& tables, Diagnostics& diagnostics) {
  if (file.text.suffix.empty()) return;  // a table of resistances, not a series to choose from
  Block block(file, "rows", diagnostics);
  const auto size = block.needed("size");
  if (!size) return;
  std::vector<std::size_t> areas;
  for (std::size_t i = 0; i < block.columns().size(); ++i)
    if (block.columns()[i].key.starts_with("area") &&
        block.needed(block.columns()[i].key, kind_of<Area>))
      areas.push_back(i);
  for (const bool tinned : {false, true}) {
    const std::string_view key = tinned ? "tinned" : "plain";
    SeriesText from{file, std::nullopt, tinned};
    if (block.column(key)) from.resistance = block.needed(key, kind_of<ResistancePerLength>);
    if (from.exists()) add_series(from, block, *size, areas, tables);
  }
}

}  // namespace housepower::tables

// SPDX-License-Identifier: Apache-2.0
// Climate of towns: a row each, months in twelve columns that follow one another.
#include <algorithm>

#include "loaders.hpp"

namespace housepower::tables {
namespace {

template <class Q>
void read_months(std::array<Q, 12>& to, Block& block, std::size_t row, std::size_t january) {
  for (std::size_t month = 0; month < 12; ++month)
    to[month] = Q::from_value(block.stated(row, january + month));
}

struct Columns {
  std::optional<std::size_t> name, title, country, latitude, longitude, elevation, zone, sunshine,
      highest, lowest, record_low, record_basis, quality, note;

  explicit Columns(Block& b)
      : name(b.needed("name")), title(b.needed("title")), country(b.needed("country")),
        latitude(b.needed("latitude", kind_of<Angle>)),
        longitude(b.needed("longitude", kind_of<Angle>)),
        elevation(b.needed("elevation", kind_of<Length>)),
        zone(b.needed("zone", kind_of<Duration>)), sunshine(b.needed("sun_Jan", kind_of<Duration>)),
        highest(b.needed("tmax_Jan", kind_of<Temperature>)),
        lowest(b.needed("tmin_Jan", kind_of<Temperature>)),
        record_low(b.needed("record_low", kind_of<Temperature>)),
        record_basis(b.needed("record_basis")), quality(b.needed("quality")),
        note(b.needed("note")) {}

  [[nodiscard]] bool complete(const Block& b) const {
    return name && title && country && latitude && longitude && elevation && zone && record_low &&
           record_basis && quality && note && sunshine && highest && lowest &&
           std::max({*sunshine, *highest, *lowest}) + 12 <= b.columns().size();
  }
};

std::string note_of(const Block& block, const Columns& c, std::size_t row) {
  std::string note(block.cell(row, *c.note).text);
  const auto basis = block.cell(row, *c.record_basis).text;
  if (basis == "c") note += "; record low: lowest reported 2003 to 2021, not of all time";
  else if (!basis.empty()) note += "; record low: " + std::string(basis);
  return note;
}

Town town_in_row(Block& block, const Columns& c, std::size_t row) {
  const auto text = [&](std::size_t column) { return std::string(block.cell(row, column).text); };
  Town town;
  town.name = text(*c.name);
  town.title = text(*c.title);
  town.country = text(*c.country);
  town.latitude = Angle::from_value(block.stated(row, *c.latitude));
  town.longitude = Angle::from_value(block.stated(row, *c.longitude));
  town.elevation = Length::from_value(block.stated(row, *c.elevation));
  town.zone = Duration::from_value(block.stated(row, *c.zone));
  read_months(town.sunshine, block, row, *c.sunshine);
  read_months(town.highest, block, row, *c.highest);
  read_months(town.lowest, block, row, *c.lowest);
  town.record_low = block.quantity<Temperature>(row, *c.record_low);
  town.quality = text(*c.quality);
  town.note = note_of(block, c, row);
  town.source = block.source(row, *c.name);
  return town;
}

void add_measured(const File& file, Tables& tables, Diagnostics& diagnostics) {
  if (!file.has("measured")) return;
  const auto& towns = tables.towns;
  Block block(file, "measured", diagnostics, towns.size() == 1 ? towns.front().name : "");
  const auto name = block.needed("name");
  const auto january = block.needed("Jan", kind_of<Irradiation>);
  if (!name || !january || *january + 12 > block.columns().size()) return;
  for (std::size_t row = 0; row < block.rows(); ++row) {
    const auto town = std::find_if(tables.towns.begin(), tables.towns.end(), [&](const Town& t) {
      return t.name == block.cell(row, *name).text;
    });
    if (town != tables.towns.end()) read_months(town->measured.emplace(), block, row, *january);
    else if (tables.towns.size() > 1) block.error(row, *name, "is not a town of the rows above");
  }
}

}  // namespace

void add_towns(const File& file, std::string_view only, Tables& tables, Diagnostics& diagnostics) {
  const bool is_there = std::any_of(file.blocks.begin(), file.blocks.end(), [&](const auto& b) {
    return b.key == "rows" && b.text.find("\n" + std::string(only) + ",") != b.text.npos;
  });
  Block block(file, "rows", diagnostics, is_there ? only : std::string_view{});
  const Columns columns(block);
  if (!columns.complete(block)) return;
  const auto has_name = [&](std::size_t row) {
    return block.cell(row, *columns.name).text == only;
  };
  std::size_t row = 0;
  while (row < block.rows() && !has_name(row)) ++row;
  if (row < block.rows()) tables.towns.push_back(town_in_row(block, columns, row));
  else
    for (row = 0; row < block.rows(); ++row)
      tables.towns.push_back(town_in_row(block, columns, row));
  add_measured(file, tables, diagnostics);
}

}  // namespace housepower::tables

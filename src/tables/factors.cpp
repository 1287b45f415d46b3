// SPDX-License-Identifier: Apache-2.0
// Corrections of ampacities: by ambient in bands or by the square-root rule, by grouping, by how the
// cable lies; and what insulations bear in a short circuit.
#include <algorithm>
#include <limits>

#include "loaders.hpp"

namespace housepower::tables {
namespace {

void add_ambient(const File& file, Factors& all, Diagnostics& diagnostics) {
  Block block(file, "rows", diagnostics);
  const auto up_to = block.needed("up_to", kind_of<Temperature>);
  if (!up_to) return;
  Factors::Ambient ambient{{AmbientFactors::Shape::bands, {}, file.source}, {}};
  std::vector<std::size_t> columns;
  for (std::size_t i = 0; i < block.columns().size(); ++i) {
    const auto insulation = parse_double(block.columns()[i].key);
    if (!insulation) continue;
    columns.push_back(i);
    ambient.insulation.push_back(celsius(*insulation));
  }
  for (std::size_t row = 0; row < block.rows(); ++row) {
    AmbientFactors::Band band{Temperature::from_value(block.stated(row, *up_to)), {}};
    for (const auto column : columns) band.factors.push_back(block.quantity<Ratio>(row, column));
    ambient.factors.bands.push_back(std::move(band));
  }
  all.ambient[std::string(file.text.name)] = std::move(ambient);
}

constexpr double most_circuits = std::numeric_limits<int>::max();

void add_grouping(const File& file, Factors& all, Diagnostics& diagnostics) {
  Block block(file, "rows", diagnostics);
  const auto up_to = block.needed("up_to");
  if (!up_to) return;
  for (std::size_t column = 0; column < block.columns().size(); ++column) {
    if (column == *up_to) continue;
    GroupingFactors grouping{
        file.text.counts.value_or(GroupingFactors::Counts::circuits), {}, file.source};
    for (std::size_t row = 0; row < block.rows(); ++row) {
      const auto factor = block.quantity<Ratio>(row, column);
      if (!factor) continue;
      const bool any = block.cell(row, *up_to).text == "any";
      const double count = any ? most_circuits : block.stated(row, *up_to);
      if (count < 1.0 || count > most_circuits)
        block.error(row, *up_to, "wants a number from 1, or any");
      else grouping.groups.push_back({static_cast<int>(count), *factor});
    }
    const std::string name(file.text.name);
    all.grouping[name + "/" + std::string(block.columns()[column].key)] = std::move(grouping);
  }
}

void add_lies(const File& file, Tables& tables, Diagnostics& diagnostics) {
  Block block(file, "rows", diagnostics);
  const auto lie = block.needed("lie");
  const auto up_to = block.needed("up_to", kind_of<Length>);
  const auto factor = block.needed("factor");
  const auto of = block.needed("of");
  if (!lie || !up_to || !factor || !of) return;
  std::optional<Ratio> clipped;  // of free
  for (std::size_t row = 0; row < block.rows(); ++row)
    if (block.cell(row, *lie).text == "clipped" && block.cell(row, *of).text == "free")
      clipped = block.stated(row, *factor);
  for (std::size_t row = 0; row < block.rows(); ++row) {
    const std::string_view base = block.cell(row, *of).text;
    if (base != "clipped" && (base != "free" || !clipped)) {
      block.error(row, *of,
                  "wants clipped, or free where a row says what share of free clipped carries");
      continue;
    }
    const Ratio stated = block.stated(row, *factor);
    tables.lies.push_back(
        {std::string(block.cell(row, *lie).text), block.quantity<Length>(row, *up_to),
         base == "free" ? Ratio(stated / *clipped) : stated, block.source(row, *factor)});
  }
}

void add_withstand(const File& file, Tables& tables, Diagnostics& diagnostics) {
  Block block(file, "rows", diagnostics);
  const auto insulation = block.needed("insulation");
  const auto from = block.needed("from", kind_of<Temperature>);
  const auto to = block.needed("to", kind_of<Temperature>);
  const auto printed = block.needed("k");
  const auto recomputed = block.needed("recomputed");
  if (!insulation || !from || !to || !printed || !recomputed) return;
  for (std::size_t row = 0; row < block.rows(); ++row) {
    const auto k = block.quantity<Ratio>(row, *printed);
    const Ratio ours = block.stated(row, *recomputed);
    const bool take_printed = k && *k <= ours;
    tables.withstand.push_back({std::string(block.cell(row, *insulation).text),
                                Temperature::from_value(block.stated(row, *from)),
                                Temperature::from_value(block.stated(row, *to)),
                                take_printed ? *k : ours,
                                block.source(row, take_printed ? *printed : *recomputed)});
  }
}

}  // namespace

void add_factors(const File& file, Factors& all, Tables& tables, Diagnostics& diagnostics) {
  if (!file.text.use) {
    diagnostics.error(
        file.root->place, "use", "is missing",
        "add use = \"ambient\", \"grouping\", \"square-root\", \"lie\" or \"withstand\"");
    return;
  }
  switch (*file.text.use) {
  case FactorUse::ambient: add_ambient(file, all, diagnostics); break;
  case FactorUse::grouping: add_grouping(file, all, diagnostics); break;
  case FactorUse::square_root:
    all.ambient[std::string(file.text.name)] = {
        {AmbientFactors::Shape::square_root, {}, file.source}, {}};
    break;
  case FactorUse::lie: add_lies(file, tables, diagnostics); break;
  case FactorUse::withstand: add_withstand(file, tables, diagnostics); break;
  }
}

const LieFactor* Tables::lie(std::string_view lie, Length stretch) const {
  const auto found = std::find_if(lies.begin(), lies.end(), [&](const LieFactor& one) {
    return one.lie == lie && (!one.up_to || stretch <= (1.0 + 1e-9) * *one.up_to);
  });
  return found == lies.end() ? nullptr : &*found;
}

}  // namespace housepower::tables

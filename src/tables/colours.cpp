// SPDX-License-Identifier: Apache-2.0
// Colours of conductors: a row for each of the two poles.
#include "housepower/tables/colours.hpp"

#include <algorithm>

#include "loaders.hpp"

namespace housepower::tables {
namespace {

bool holds_colours(const View& view) {
  return view.columns.size() == 2 && view.columns[0].key == "pole" &&
         view.columns[1].key == "colour";
}

/// Empty where the set has no row for the pole.
std::string colour_of(const View& view, std::string_view pole) {
  for (const auto& row : view.rows)
    if (row[0].text == pole) return row[1].text;
  return {};
}

}  // namespace

void add_colours(const File& file, Tables& tables, Diagnostics& diagnostics) {
  add_views(file, tables, diagnostics);
  const auto set = colours_named(tables, file.text.name);
  if (!set || set->positive.empty() || set->negative.empty())
    diagnostics.error({file.path}, "rows", "wants the columns pole and colour",
                      "with a row for positive and one for negative");
}

std::optional<ColourSet> colours_named(const Tables& tables, std::string_view name) {
  const auto found = std::find_if(tables.views.begin(), tables.views.end(), [&](const View& v) {
    return v.name == name && holds_colours(v);
  });
  if (found == tables.views.end()) return std::nullopt;
  return ColourSet{found->name, found->title, colour_of(*found, "positive"),
                   colour_of(*found, "negative"), found->source};
}

std::vector<std::string_view> colour_names(const Tables& tables) {
  std::vector<std::string_view> names;
  for (const View& view : tables.views)
    if (holds_colours(view)) names.push_back(view.name);
  return names;
}

}  // namespace housepower::tables

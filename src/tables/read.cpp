// SPDX-License-Identifier: Apache-2.0
// All files to one value. Which folder a file stands in says what it is.
#include <algorithm>
#include <array>
#include <cmath>

#include "loaders.hpp"

namespace housepower::tables {
namespace {

// In the order in which one folder needs another.
constexpr std::array<std::string_view, 9> folders{
    "rules", "conductors", "factors", "ampacity", "fuses", "cells", "climate", "sky", "colours"};
using Texts = std::map<std::string_view, std::string_view>;  // by name: the last of each

/// What views in the tables point into; nothing in it moves once it is there.
struct Kept {
  std::deque<Node> roots;
  std::deque<std::string> texts;
};

struct Reader {
  Tables& tables;
  Kept& kept;
  Diagnostics& diagnostics;
  bool views;
  std::string_view town;
  Factors factors{};

  void add_profile(const Node& root) {
    auto profile = read_profile(root, diagnostics);
    if (!profile) return;
    if (views) add_view(*profile, root, tables);
    tables.profiles.push_back(std::move(*profile));
  }

  void add(std::string_view folder, const File& file) {
    if (folder == "colours") return add_colours(file, tables, diagnostics);
    if (folder == "conductors") add_conductors(file, tables, diagnostics);
    else if (folder == "factors") add_factors(file, factors, tables, diagnostics);
    else if (folder == "ampacity") add_ampacity(file, factors, tables, diagnostics);
    else if (folder == "fuses") add_fuse(file, tables, diagnostics);
    else if (folder == "cells") add_cell_curve(file, tables, diagnostics);
    else if (folder == "sky") add_clearness(file, tables, diagnostics);
    else add_towns(file, town, tables, diagnostics);
    if (views) add_views(file, tables, diagnostics);
  }

  void read(std::string_view folder, const NamedText& text) {
    std::vector<BlockText> blocks;
    const std::string passport = without_blocks(kept.texts.emplace_back(text.text), blocks);
    auto root = parse_toml(passport, text.name, diagnostics);
    if (!root) return;
    const Node& node = kept.roots.emplace_back(std::move(*root));
    if (folder == "rules") return add_profile(node);
    const auto file = read_file(node, text.name, std::move(blocks), kept.texts, diagnostics);
    if (file) add(folder, *file);
  }
};

/// "rules/NAME.toml" for each name; nothing where one of them is not there: then all are read.
std::vector<std::string> files_of(std::string_view folder,
                                  const std::vector<std::string_view>& names, const Texts& texts) {
  std::vector<std::string> files;
  for (const auto name : names) {
    if (name.empty()) continue;
    files.push_back(std::string(folder) + "/" + std::string(name) + ".toml");
    if (!texts.contains(files.back())) return {};
  }
  return files;
}

/// Of a folder the files to read; empty for all.
std::vector<std::string> wanted(std::string_view folder, const Needed& needed, const Tables& tables,
                                const Texts& texts) {
  if (needed.profile.empty() || needed.views) return {};
  if (folder == "rules") return files_of(folder, {needed.profile}, texts);
  const auto* profile = tables.profile(needed.profile);
  if (folder != "ampacity" || !profile) return {};
  return files_of(folder,
                  {profile->ampacity_above, profile->ampacity_below_90, profile->ampacity_small,
                   profile->ampacity_conduit, needed.ampacity},
                  texts);
}

std::string_view folder_of(std::string_view name) { return name.substr(0, name.find('/')); }

template <class Thing> const Thing* named(const std::vector<Thing>& things, std::string_view name) {
  const auto found = std::find_if(things.begin(), things.end(),
                                  [name](const Thing& thing) { return thing.name == name; });
  return found == things.end() ? nullptr : &*found;
}

}  // namespace

std::optional<Tables> read_tables(std::span<const NamedText> texts, const Needed& needed,
                                  Diagnostics& diagnostics) {
  Diagnostics own;
  Texts last;
  for (const auto& text : texts) {
    last[text.name] = text.text;
    if (std::find(folders.begin(), folders.end(), folder_of(text.name)) == folders.end())
      own.error({std::string(text.name)}, {}, "is not in a folder of tables",
                "the folders are conductors, factors, ampacity, fuses, rules, cells, climate, sky, "
                "colours");
  }
  Tables tables;
  const auto kept = std::make_shared<Kept>();
  Reader reader{tables, *kept, own, needed.views, needed.views ? std::string_view{} : needed.town};
  for (const auto folder : folders) {
    const bool of_place = folder == "climate" || folder == "sky";
    if (of_place && !needed.towns && !needed.views) continue;
    const auto only = wanted(folder, needed, tables, last);
    for (const auto& [name, text] : last)
      if (folder_of(name) == folder &&
          (only.empty() || std::find(only.begin(), only.end(), name) != only.end()))
        reader.read(folder, {name, text});
  }
  tables.kept = kept;
  const bool good = !own.any_error();
  diagnostics.all.insert(diagnostics.all.end(), own.all.begin(), own.all.end());
  return good ? std::optional(std::move(tables)) : std::nullopt;
}

const AmpacityTable* Tables::ampacity(std::string_view name) const {
  return named(ampacities, name);
}
const FuseType* Tables::fuse(std::string_view name) const { return named(fuses, name); }
const RuleProfile::DeviceLimit* RuleProfile::device_limit(Area area) const {
  const DeviceLimit* thinner = nullptr;
  for (const DeviceLimit& one : device_limits) {
    if (std::abs(double(area / one.up_to) - 1.0) < 0.003) return &one;  // rounded areas
    if (area < one.up_to) return thinner ? thinner : &one;
    thinner = &one;
  }
  return nullptr;
}

const RuleProfile* Tables::profile(std::string_view name) const { return named(profiles, name); }
const Town* Tables::town(std::string_view name) const { return named(towns, name); }

}  // namespace housepower::tables

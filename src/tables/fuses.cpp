// SPDX-License-Identifier: Apache-2.0
// Kinds of overcurrent devices: ratings, breaking capacity, time-current gates, cold data, what they
// carry in the heat.
#include <utility>

#include "loaders.hpp"

namespace housepower::tables {
namespace {

void add_ratings(FuseType& fuse, const File& file, Diagnostics& diagnostics) {
  fuse.ratings_source = file.source;
  if (!file.has("rows")) return;
  Block block(file, "rows", diagnostics);
  const auto rating = block.needed("rating", kind_of<Current>);
  if (!rating) return;
  for (std::size_t row = 0; row < block.rows(); ++row) {
    fuse.ratings.push_back(Current::from_value(block.stated(row, *rating)));
    fuse.ratings_source = weaker(fuse.ratings_source, block.source(row, *rating));
  }
}

void add_cold(FuseType& fuse, const File& file, Diagnostics& diagnostics) {
  if (!file.has("cold")) return;
  Block block(file, "cold", diagnostics);
  const auto rating = block.needed("rating", kind_of<Current>);
  const auto resistance = block.needed("resistance", kind_of<Resistance>);
  const auto melting = block.needed("melting", kind_of<LetThrough>);
  if (!rating || !resistance || !melting) return;
  for (std::size_t row = 0; row < block.rows(); ++row)
    fuse.cold.push_back({Current::from_value(block.stated(row, *rating)),
                         Resistance::from_value(block.stated(row, *resistance)),
                         block.quantity<LetThrough>(row, *melting),
                         block.source(row, *resistance)});
}

void add_rerated(FuseType& fuse, const File& file, Diagnostics& diagnostics) {
  if (!file.has("rerating")) return;
  Block block(file, "rerating", diagnostics);
  const auto rating = block.needed("rating", kind_of<Current>);
  const auto ambient = block.needed("ambient", kind_of<Temperature>);
  const auto carries = block.needed("carries", kind_of<Current>);
  if (!rating || !ambient || !carries) return;
  for (std::size_t row = 0; row < block.rows(); ++row)
    fuse.rerated.push_back({Current::from_value(block.stated(row, *rating)),
                            Temperature::from_value(block.stated(row, *ambient)),
                            Current::from_value(block.stated(row, *carries)),
                            block.source(row, *carries)});
}

void add_breaking(FuseType& fuse, const File& file, Diagnostics& diagnostics) {
  if (!file.has("breaking")) return;
  Block block(file, "breaking", diagnostics);
  const auto capacity = block.needed("capacity", kind_of<Current>);
  const auto at = block.needed("at", kind_of<Voltage>);
  if (!capacity || !at) return;
  for (std::size_t row = 0; row < block.rows(); ++row)
    fuse.breaking.push_back({Current::from_value(block.stated(row, *capacity)),
                             Voltage::from_value(block.stated(row, *at)),
                             block.source(row, *capacity), block.source(row, *at)});
}

void add_gates(FuseType& fuse, const File& file, Diagnostics& diagnostics) {
  if (!file.has("gates")) return;
  Block block(file, "gates", diagnostics);
  const auto from = block.needed("from", kind_of<Current>);
  const auto to = block.needed("to", kind_of<Current>);
  const auto multiple = block.needed("multiple");
  const auto fastest = block.needed("fastest", kind_of<Duration>);
  const auto slowest = block.needed("slowest", kind_of<Duration>);
  if (!from || !to || !multiple || !fastest || !slowest) return;
  for (std::size_t row = 0; row < block.rows(); ++row) {
    const Current least = Current::from_value(block.stated(row, *from));
    const Current most = Current::from_value(block.stated(row, *to));
    if (fuse.gates.empty() || fuse.gates.back().from != least || fuse.gates.back().to != most)
      fuse.gates.push_back({least, most, {}});
    const auto quickest = block.quantity<Duration>(row, *fastest);
    fuse.gates.back().gates.push_back({block.stated(row, *multiple), quickest,
                                       block.quantity<Duration>(row, *slowest),
                                       block.source(row, quickest ? *fastest : *slowest)});
  }
}

}  // namespace

void add_fuse(const File& file, Tables& tables, Diagnostics& diagnostics) {
  FuseType fuse;
  fuse.name = file.text.name;
  fuse.title = file.text.title;
  fuse.plain = file.text.plain.empty() ? file.text.name : file.text.plain;
  fuse.note = file.text.note;
  add_ratings(fuse, file, diagnostics);
  add_cold(fuse, file, diagnostics);
  add_rerated(fuse, file, diagnostics);
  add_breaking(fuse, file, diagnostics);
  add_gates(fuse, file, diagnostics);
  tables.fuses.push_back(std::move(fuse));
}

}  // namespace housepower::tables

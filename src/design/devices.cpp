// SPDX-License-Identifier: Apache-2.0
// Overcurrent devices: of a fuse type of the tables or of a maker, with what is known of each.
#include <algorithm>
#include <cmath>

#include "resolving.hpp"

namespace housepower::design {
namespace {

constexpr Source as_stated{SourceKind::supplier, "the design", "as stated"};

void take_from_maker(Resolving& r, const MakersDevice& maker, const Place& place,
                     const std::string& path, resolved::Protection& out) {
  out.breaking_capacity = maker.breaking_capacity;
  out.rated_voltage = maker.rated_voltage;
  out.breaking_source = out.voltage_source = as_stated;
  out.curve = maker.curve;
  out.curve_fast = maker.curve_fast;
  const bool is_made = maker.ratings.empty() ||
                       std::any_of(maker.ratings.begin(), maker.ratings.end(), [&](Current rating) {
                         return std::abs(rating.value() / out.rating.value() - 1.0) < 1e-6;
                       });
  if (is_made) return;
  std::string ratings;
  for (const Current& rating : maker.ratings)
    ratings += (ratings.empty() ? "" : ", ") + print(Number(rating));
  r.error(place, path + "/rating",
          quoted(maker.name) + " is not made for " + print(Number(out.rating)),
          "its ratings are " + ratings);
}

void take_from_tables(const tables::FuseType& type, Voltage system, resolved::Protection& out) {
  out.fuse = &type;
  if (type.breaking.empty()) return;
  // The safe figure stands first; at a higher system voltage the first that reaches it.
  const auto& rows = type.breaking;
  const auto fits =
      std::find_if(rows.begin(), rows.end(), [&](const auto& row) { return row.at >= system; });
  const auto& row = fits == rows.end() ? rows.front() : *fits;
  out.breaking_capacity = row.capacity;
  out.rated_voltage = row.at;
  out.breaking_source = row.source;
  out.voltage_source = row.at_source;
}

}  // namespace

resolved::Protection device_of(Resolving& r, const std::string& type, Current rating,
                               std::optional<Current> breaking_capacity, const Place& place,
                               const std::string& path) {
  resolved::Protection out;
  out.type = type;
  out.rating = rating;
  const auto maker = r.devices.find(type);
  const tables::FuseType* fuse = r.tables.fuse(type);
  if (maker != r.devices.end()) take_from_maker(r, *maker->second, place, path, out);
  else if (fuse) take_from_tables(*fuse, r.out.nominal, out);
  else {
    auto known = names_of(r.tables.fuses);
    for (const auto name : names_of(r.devices)) known.push_back(name);
    std::string hint = did_you_mean(type, known);
    r.error(place, path + "/type",
            quoted(type) + " is no fuse type of the tables and no [[device]] of this file",
            hint.empty()
                ? "`housepower tables` lists the types; a maker's device needs a [[device]]"
                : hint);
  }
  if (breaking_capacity) {
    out.breaking_capacity = breaking_capacity;
    out.breaking_source = as_stated;
  }
  return out;
}

void check_curve(Resolving& r, const std::vector<CurvePoint>& curve, const Place& place,
                 const std::string& path) {
  for (std::size_t i = 1; i < curve.size(); ++i) {
    const bool rises = curve[i].multiple > curve[i - 1].multiple;
    if (rises && curve[i].time <= curve[i - 1].time) continue;
    r.error(place, path + "/" + std::to_string(i),
            rises ? "takes longer at more current than the point before it"
                  : "is at no more current than the point before it",
            "the multiples rise and the times fall");
  }
}

}  // namespace housepower::design

// SPDX-License-Identifier: Apache-2.0
#include "devices.hpp"

#include <algorithm>
#include <array>

#include "stock.hpp"

namespace housepower::choice::inside {
namespace {

using namespace std::string_view_literals;

constexpr Source as_stated{SourceKind::supplier, "the design", "as stated"};

/// The order of the trade: from the small and cheap to what breaks most.
constexpr std::array by_form{"iso-8820-3-c"sv,    "iso-8820-3-e"sv,  "iso-8820-5-sf30"sv,
                             "iso-8820-5-sf51"sv, "terminal-cube"sv, "strip"sv,
                             "ul-248-class-t"sv};

/// The figure of a type that holds at the system's voltage, as a design would get it.
const tables::FuseType::Breaking* breaking_of(const tables::FuseType& type, Voltage system) {
  for (const auto& row : type.breaking)
    if (row.at >= system) return &row;
  return nullptr;
}

struct Type {
  std::string name;
  Current breaking{};
  std::vector<Current> ratings;
  Source source;
  bool used = false;
  std::size_t place = by_form.size();
};

bool is_used(const design::Document& document, const std::string& type) {
  return std::any_of(document.run.begin(), document.run.end(), [&](const design::Run& run) {
    return std::any_of(run.protection.begin(), run.protection.end(),
                       [&](const auto& p) { return p.type == type; });
  });
}

/// A maker's ratings, or those in which the design uses it already.
std::vector<Current> ratings_of(const design::Document& document,
                                const design::MakersDevice& device) {
  std::vector<Current> ratings = device.ratings;
  if (ratings.empty())
    for (const auto& run : document.run)
      for (const auto& p : run.protection)
        if (p.type == device.name) ratings.push_back(p.rating);
  std::sort(ratings.begin(), ratings.end());
  ratings.erase(std::unique(ratings.begin(), ratings.end()), ratings.end());
  return ratings;
}

}  // namespace

std::vector<Offer> offers_for(const design::Document& document, const tables::Tables& tables) {
  std::vector<Type> types;
  for (const auto& device : document.device)
    if (device.breaking_capacity && device.rated_voltage)
      types.push_back(
          {device.name, *device.breaking_capacity, ratings_of(document, device), as_stated, true});
  for (const auto& fuse : tables.fuses) {
    const auto* breaking = breaking_of(fuse, document.vehicle.system_voltage);
    const auto form = std::find(by_form.begin(), by_form.end(), fuse.name);
    if (breaking && (form != by_form.end() || is_used(document, fuse.name) ||
                     !stocked_ratings(document, fuse.name).empty()))
      types.push_back({fuse.name, breaking->capacity, fuse.ratings, fuse.ratings_source,
                       is_used(document, fuse.name), std::size_t(form - by_form.begin())});
  }
  std::stable_sort(types.begin(), types.end(), [](const Type& a, const Type& b) {
    if (a.used != b.used) return a.used;
    return a.used ? a.breaking < b.breaking : a.place < b.place;
  });
  const bool stocked = devices_are_stocked(document);
  std::vector<Offer> offers;
  for (const Type& type : types)
    for (const Current& rating : stocked ? stocked_ratings(document, type.name) : type.ratings)
      offers.push_back({type.name, rating, type.breaking, type.source});
  return offers;
}

DeviceNeed need_of(const Trial& trial, std::size_t run, design::RunEnd end) {
  const auto& facts = trial.wiring.runs[run];
  const auto& its = trial.design->runs[run];
  DeviceNeed need;
  const double loading = double(trial.design->profile->loading);
  need.least = std::max(facts.current.outgoing,
                        loading > 0.0 ? facts.current.at_normal_voltage / loading : Current{});
  const auto* out = std::get_if<wiring::Ampacity>(&facts.ampacity);
  const auto* back = std::get_if<wiring::Ampacity>(&facts.ampacity_back);
  if (out && (back || its.back.chassis))
    need.most = back && !its.back.chassis ? std::min(out->value, back->value) : out->value;
  const auto& post = end == design::RunEnd::from ? its.from : its.to;
  need.breaking = trial.wiring.faults[post].largest;
  return need;
}

const Offer* first_fit(const std::vector<Offer>& offers, const WantedDevice& wanted,
                       const DeviceNeed& need) {
  if (!need.breaking) return nullptr;
  for (const Offer& offer : offers) {
    const auto& types = wanted.rejected_types;
    const bool rejected = std::find(wanted.rejected.begin(), wanted.rejected.end(), &offer) !=
                              wanted.rejected.end() ||
                          std::find(types.begin(), types.end(), offer.type) != types.end();
    if (!rejected && offer.breaking >= *need.breaking && offer.rating >= need.least &&
        offer.rating <= need.most)
      return &offer;
  }
  return nullptr;
}

namespace {

/// Where a place of that name is: the place decides how warm its device gets.
design::Sits sits_at(const design::Document& document, const std::string& place) {
  if (place == "bank") return design::Sits::box_wall;
  for (const auto& node : document.node)
    if (node.name == place) return node.sits.value_or(design::Sits::inside);
  for (const auto& feed : document.feed)
    if (feed.name == place && feed.kind.value_or("tow-vehicle") == "tow-vehicle")
      return design::Sits::tow_vehicle;
  return design::Sits::inside;
}

}  // namespace

design::ProtectionOfRun written(const WantedDevice& wanted, const design::Document& document,
                                const design::Run& run) {
  design::ProtectionOfRun device;
  device.end = wanted.end;
  device.type = wanted.chosen->type;
  device.rating = wanted.chosen->rating;
  device.distance = 0.0 * metre;
  device.assumed = {"distance", "sits"};  // until somebody has looked
  device.sits = sits_at(document, wanted.end == design::RunEnd::from ? run.from : run.to);
  return device;
}

}  // namespace housepower::choice::inside

// SPDX-License-Identifier: Apache-2.0
// The climate of a place that no table holds, from the towns between which it lies. Which these are
// follows from the map alone: a town counts where no other stands between it and the place. "Between"
// is within the sphere over the line from one to the other (Gabriel's neighbours, common practice).
#include <algorithm>
#include <cmath>

#include "housepower/design/far_place.hpp"
#include "resolving.hpp"

namespace housepower::design {
namespace {

constexpr Length earth_radius = 6371000.0 * metre;
constexpr Length as_good_as_there = 1000.0 * metre;  // coordinates of the table: hundredths of 1°
constexpr Length far_away = 300000.0 * metre;
constexpr std::size_t most_neighbours = 4;
constexpr double times_as_far =
    3.0;  // beyond it, and beyond 300 km, a town says nothing (judgement)
/// The free air of the standard atmosphere (from memory).
constexpr TemperatureDifference a_kilometre_up = 6.5 * kelvin;

/// On a sphere of radius 1.
struct Point {
  double x, y, z;
};
Point point_at(Angle latitude, Angle longitude) {
  const double a = latitude.value(), b = longitude.value();
  return {std::cos(a) * std::cos(b), std::cos(a) * std::sin(b), std::sin(a)};
}
/// Of the lines from `from` to `a` and to `b`; below 0 they part by more than a right angle.
double cosine_like(const Point& from, const Point& a, const Point& b) {
  return (a.x - from.x) * (b.x - from.x) + (a.y - from.y) * (b.y - from.y) +
         (a.z - from.z) * (b.z - from.z);
}
bool lies_between(const Point& place, const Point& a, const Point& b) {
  return cosine_like(place, a, b) <= 0.0;
}
Length over_ground(const Point& a, const Point& b) {
  const double chord = std::sqrt(std::max(0.0, cosine_like(a, b, b)));
  return earth_radius * 2.0 * std::asin(std::min(1.0, chord / 2.0));
}

struct Neighbour {
  const tables::Town* town = nullptr;
  Point at{};
  Length away{};
  double weight = 1.0;
};

/// Its winter is summer beyond the equator: a town there says nothing of any month here.
bool is_beyond_the_equator(const Point& place, const tables::Town& town) {
  return place.z * town.latitude.value() < 0.0;
}

std::vector<Neighbour> by_distance(const Point& place, const std::vector<tables::Town>& towns) {
  std::vector<Neighbour> all;
  for (const auto& town : towns) {
    if (town.only_measured || is_beyond_the_equator(place, town)) continue;
    const Point at = point_at(town.latitude, town.longitude);
    all.push_back({&town, at, over_ground(place, at), 1.0});
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const auto& a, const auto& b) { return a.away < b.away; });
  return all;
}

/// Those between which it lies, the nearest first; the nearest alone where it lies between none.
std::vector<Neighbour> around(const Point& place, const std::vector<tables::Town>& towns) {
  const auto all = by_distance(place, towns);
  std::vector<Neighbour> chosen;
  for (const Neighbour& one : all) {
    if (chosen.size() == most_neighbours) break;
    if (one.away > std::max(far_away, Length(all.front().away * times_as_far))) break;
    const bool behind = std::any_of(all.begin(), all.end(), [&](const Neighbour& other) {
      return other.away < one.away && cosine_like(other.at, place, one.at) < 0.0;
    });
    if (!behind) chosen.push_back(one);
  }
  bool between = false;
  for (std::size_t i = 0; i < chosen.size(); ++i)
    for (std::size_t j = 0; j < i; ++j)
      between = between || lies_between(place, chosen[i].at, chosen[j].at);
  if (!chosen.empty() && (!between || chosen.front().away < as_good_as_there)) chosen.resize(1);
  if (chosen.size() < 2) return chosen;
  double all_weights = 0.0;
  for (Neighbour& one : chosen) all_weights += one.weight = double(metre / one.away);
  for (Neighbour& one : chosen) one.weight /= all_weights;
  return chosen;
}

Temperature at_height(Temperature there, const tables::Town& town, Length height) {
  return there + a_kilometre_up * double((town.elevation - height) / (1000.0 * metre));
}

/// Weighted means of what the towns have at that height.
void fill_climate(tables::Town& made, const std::vector<Neighbour>& towns) {
  for (std::size_t m = 0; m < 12; ++m) {
    Duration sunshine{};
    TemperatureDifference highest{}, lowest{};
    for (const auto& [town, at, away, weight] : towns) {
      sunshine += town->sunshine[m] * weight;
      highest += weight * (at_height(town->highest[m], *town, made.elevation) - celsius(0.0));
      lowest += weight * (at_height(town->lowest[m], *town, made.elevation) - celsius(0.0));
    }
    made.sunshine[m] = sunshine;
    made.highest[m] = celsius(0.0) + highest;
    made.lowest[m] = celsius(0.0) + lowest;
  }
  double known = 0.0;
  TemperatureDifference record{};
  for (const auto& [town, at, away, weight] : towns) {
    if (!town->record_low) continue;
    known += weight;
    record += weight * (at_height(*town->record_low, *town, made.elevation) - celsius(0.0));
  }
  if (known > 0.0) made.record_low = celsius(0.0) + record / known;
}

std::string joined(std::vector<std::string> words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i)
    text += (i == 0 ? "" : i + 1 == words.size() ? " and " : ", ") + words[i];
  return text;
}

std::string in_kilometres(Length away) {
  return print_plain(std::round(double(away / (1000.0 * metre)))) + " km";
}

std::string degrees_of(Angle angle, const char* positive, const char* negative) {
  return print_plain(std::abs(double(angle / degree)), 6) + "° " +
         (angle.value() < 0.0 ? negative : positive);
}

}  // namespace

std::string far_climate(const Design& design) {
  if (!design->site.far) return {};
  return "no town of the climate table is within " + in_kilometres(far_away) + ": the climate of " +
         design->site.made_of + " says little about this place";
}

std::optional<BetweenTowns> town_between(const std::vector<tables::Town>& table, Angle latitude,
                                         Angle longitude, Length height) {
  const auto towns = around(point_at(latitude, longitude), table);
  if (towns.empty()) return std::nullopt;
  const tables::Town& nearest = *towns.front().town;
  tables::Town made = nearest;
  made.latitude = latitude;
  made.longitude = longitude;
  made.elevation = height;
  std::vector<std::string> titles, with_distance;
  for (const auto& one : towns) {
    titles.push_back(one.town->title);
    with_distance.push_back(one.town->title + " (" + in_kilometres(one.away) + ", " +
                            print(Number(one.town->elevation), 4) + ")");
    made.quality = std::max(made.quality, one.town->quality);
    if (one.town->country != made.country) made.country.clear();
  }
  std::sort(titles.begin(), titles.end());
  made.name = degrees_of(latitude, "N", "S") + ", " + degrees_of(longitude, "E", "W") + ", " +
              print(Number(height), 4);
  made.title =
      (towns.size() > 1 ? "between " : "near ") + joined(titles) + ", " + print(Number(height), 4);
  if (towns.size() > 1) made.measured.reset();  // a typical year of one town only
  made.note = "made of " + joined(with_distance);
  made.source = {SourceKind::from_memory, "towns of the climate table around the place",
                 "weighted by nearness; the air 6.5 K colder for each kilometre of height"};
  fill_climate(made, towns);
  return BetweenTowns{std::move(made), joined(with_distance), nearest.title, towns.front().away,
                      towns.front().away > far_away};
}

}  // namespace housepower::design

// SPDX-License-Identifier: Apache-2.0
// What the steps of resolving share: the document with its defaults, the design that grows, the
// names met so far. Each step reports all it finds wrong and goes on with what is left.
#pragma once

#include <map>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "housepower/design/design.hpp"
#include "housepower/design/names.hpp"
#include "housepower/design/words.hpp"
#include "housepower/units/phrases.hpp"
#include "housepower/units/unit.hpp"

namespace housepower::design {

template <class Id> using Named = std::map<std::string, Id, std::less<>>;

struct Resolving {
  Document& document;
  const tables::Tables& tables;
  Defaults defaults;
  Diagnostics& diagnostics;
  resolved::Content& out;

  Named<resolved::PostId> posts{};
  Named<resolved::ApplianceId> appliances{};
  Named<resolved::InverterId> inverters{};
  Named<resolved::ControllerId> controllers{};
  Named<resolved::AssemblyId> assemblies{};
  Named<resolved::ConnectorId> connectors{};
  Named<const MakersDevice*> devices{};
  std::set<std::pair<std::string_view, std::size_t>> by_position{};  // whose names are no use

  [[nodiscard]] bool kindest() const { return defaults == Defaults::kindest; }
  /// 1 in a 12 V system, 2 in a 24 V one.
  [[nodiscard]] double times_twelve() const { return out.nominal.value() / 12.0; }
  /// "run/fridge", or "run/3" where the name is taken or cannot stand in a path.
  [[nodiscard]] std::string path(std::string_view list, std::size_t number,
                                 const std::string& name) const {
    const bool useless = by_position.count({list, number}) > 0;
    return std::string(list) + "/" + (useless ? std::to_string(number) : name);
  }
  /// What rests on no more than the table that the path is of.
  void error(const Place& place, std::string path, std::string message, std::string hint = {}) {
    error(RestsOn::table, place, std::move(path), std::move(message), std::move(hint));
  }
  void error(RestsOn on, const Place& place, std::string path, std::string message,
             std::string hint = {}) {
    diagnostics.all.push_back(
        {Severity::error, place, std::move(path), std::move(message), std::move(hint), on});
  }
  void assume(std::string path, std::string value, std::string why) {
    out.assumptions.push_back({std::move(path), std::move(value), std::move(why)});
  }
  /// The stated value, or this one, which is then listed as assumed.
  template <class Q>
  Q stated_or(const std::optional<Q>& stated, Q otherwise, std::string path, std::string why) {
    if (stated) return *stated;
    assume(std::move(path), print(Number(otherwise)), std::move(why));
    return otherwise;
  }
};

/// "did you mean "panel"?", or all that there is where it is not much.
[[nodiscard]] std::string hint_for(std::string_view word,
                                   const std::vector<std::string_view>& known);

/// "van.toml:12": where the first of two stands.
[[nodiscard]] inline std::string file_and_line(const Place& place) {
  return place.file + ":" + std::to_string(place.line);
}

template <class Id> std::vector<std::string_view> names_of(const Named<Id>& named) {
  std::vector<std::string_view> names;
  for (const auto& [name, id] : named) names.push_back(name);
  return names;
}
template <class Thing> std::vector<std::string_view> names_of(const std::vector<Thing>& things) {
  std::vector<std::string_view> names;
  for (const auto& thing : things) names.push_back(thing.name);
  return names;
}

// The steps, in their order. Each stands in the file of its subject.
void fill_in(Resolving&);               // defaults.cpp: [wiring] and the defaults of the field list
void resolve_names(Resolving&);         // names.cpp: which are taken, reserved or unusable
void resolve_site(Resolving&);          // site.cpp: rules, place, promise, travel
void resolve_equipment(Resolving&);     // equipment.cpp: nodes and what stores, makes and converts
void resolve_assemblies(Resolving&);    // connectors.cpp: assemblies, and what joins their looms
void resolve_bank(Resolving&);          // bank.cpp
void place_appliances(Resolving&);      // appliances.cpp: a post for each at the end of a run
void resolve_runs(Resolving&);          // runs.cpp
void resolve_appliances(Resolving&);    // appliances.cpp
void resolve_cases(Resolving&);         // cases.cpp
void resolve_labels(Resolving&);        // make_up.cpp: what stands on the conductors
void resolve_prices(Resolving&);        // make_up.cpp
void check_cavities(Resolving&);        // connectors.cpp: none twice
void check_stock(Resolving&);           // make_up.cpp: [[part]] conductor and device
void check_connections(Resolving&);     // connections.cpp
void check_rated_voltages(Resolving&);  // appliances.cpp: once it is known what is joined

/// Before them: bare numbers of conductors become sizes of the series in use; a warning says so, and each
/// is told. sizes.cpp
struct NamedSize {
  std::string path, name, says;
};
std::vector<NamedSize> name_sizes(Document&, const tables::Tables&, Diagnostics&);

// What several steps need.
[[nodiscard]] std::optional<Duration> time_of_day(std::string_view);  // "16:00"; appliances.cpp
resolved::PostId add_post(Resolving&, std::string name, resolved::PostKind, Sits);  // names.cpp
/// The post of that name; where there is none, says so. names.cpp
std::optional<resolved::PostId> find_post(Resolving&, const std::string& name, const Place&,
                                          const std::string& path);
/// The assembly of that name; none where nothing is stated, or where there is none, which is said.
resolved::AssemblyId find_assembly(Resolving&, const std::optional<std::string>& name, const Place&,
                                   const std::string& path);  // connectors.cpp
/// What is on the way of a run; `path` is the run's. connectors.cpp
std::vector<resolved::InlineItem> inline_items_of(Resolving&, const Run&, const std::string& path);
/// The size of that name; where there is none, says so. runs.cpp
std::optional<tables::Conductor> find_conductor(Resolving&, const SizeText&, const Place&,
                                                const std::string& path);
/// A device of a fuse type or of a maker, with what is known of it. devices.cpp
resolved::Protection device_of(Resolving&, const std::string& type, Current rating,
                               std::optional<Current> breaking_capacity, const Place&,
                               const std::string& path);
/// The hottest where a device sits; 20 °C, at which it bears its rating, is the least that harms.
Temperature ambient_of_device(const Resolving&, Sits);  // runs.cpp
/// A device that is backed by another has that other upstream.
void check_backing(Resolving&);
void check_curve(Resolving&, const std::vector<CurvePoint>&, const Place&, const std::string& path);
/// The edges of one device, by when it has opened and from when it may; `path` is the device's.
void check_edges(Resolving&, const std::vector<CurvePoint>& slow,
                 const std::vector<CurvePoint>& fast, const Place&, const std::string& path);

/// The climate of a place from the towns between which it lies; where it lies between none, from the
/// nearest. Sunshine, temperatures and record low by 1 / distance, each town's air first taken to the
/// place's height by 6.5 K/km. between_towns.cpp
struct BetweenTowns {
  tables::Town town;
  std::string made_of;  // "Launceston (80 km, 178 m) and Hobart (110 km, 27 m)"
  std::string nearest;
  Length nearest_away{};
  bool far = false;  // the nearest is farther than 300 km
};
/// Nothing where the table holds no town.
[[nodiscard]] std::optional<BetweenTowns>
town_between(const std::vector<tables::Town>&, Angle latitude, Angle longitude, Length height);

/// A design without any run: what draws hangs on the bank itself, where there is one.
[[nodiscard]] inline bool hangs_on_the_bank(const Resolving& r) {
  return r.document.run.empty() && r.out.bank.has_value();
}

}  // namespace housepower::design

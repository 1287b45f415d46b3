// SPDX-License-Identifier: Apache-2.0
// The looms of all vans of a plan, by station.
#include "housepower/range/stations.hpp"

#include <algorithm>
#include <map>
#include <tuple>

namespace housepower::range {
namespace {

using Station = std::optional<std::string>;

/// Equal work at one station: station, task, copper of the size and its name, what, die, strip, torque.
using WorkKey =
    std::tuple<std::size_t, Task, double, std::string, std::string, std::string, double, double>;

template <class Quantity> double key_of(const std::optional<Quantity>& quantity) {
  return quantity ? quantity->value() : -1.0;
}

class Stations {
public:
  void add(std::size_t index, const LoomModel& model) {
    index_ = index;
    vans_ = model.vans;
    for (const Loom& loom : model.looms.looms) add_loom(loom);
    for (const Wire& wire : model.looms.on_line) add_wire(wire, {}, {});
    add_joins(model.looms);
  }

  [[nodiscard]] std::vector<StationTotal> result() && {
    std::vector<StationTotal> all;
    for (auto& [key, total] : totals_) all.push_back(std::move(total));
    return all;
  }

private:
  std::vector<std::string> names_;  // of stations, in the order in which they are met
  std::map<WorkKey, StationTotal> totals_;
  std::size_t index_ = 0;
  int vans_ = 1;

  std::size_t number_of(const Station& station) {
    if (!station) return std::size_t(-1);
    const auto found = std::find(names_.begin(), names_.end(), *station);
    if (found == names_.end()) names_.push_back(*station);
    return std::size_t(std::find(names_.begin(), names_.end(), *station) - names_.begin());
  }

  StationTotal& count(const StationTotal& one, const std::string& wire) {
    const auto& c = one.conductor;
    const WorkKey key{number_of(one.station),      one.task,          c ? c->copper.value() : 0.0,
                      c ? c->name : std::string(), one.what,          one.die.value_or(""),
                      key_of(one.strip),           key_of(one.torque)};
    StationTotal& total = totals_.try_emplace(key, one).first->second;
    total.number += vans_;
    if (total.uses.empty() || total.uses.back().model != index_)
      total.uses.push_back({index_, 0, {}});
    Use& use = total.uses.back();
    ++use.each;
    if (std::find(use.wires.begin(), use.wires.end(), wire) == use.wires.end())
      use.wires.push_back(wire);
    return total;
  }

  static StationTotal work(const Station& station, Task task, std::string what) {
    StationTotal one;
    one.station = station;
    one.task = task;
    one.what = std::move(what);
    return one;
  }

  void add_loom(const Loom& loom) {
    for (const Wire& wire : loom.wires) add_wire(wire, loom.station, loom.fitted_at);
    for (const Half& half : loom.connectors)
      count(work(loom.station, Task::fit, "housing " + half.connector), half.connector);
  }

  void add_wire(const Wire& wire, const Station& made, const Station& fitted) {
    StationTotal cut = work(made, Task::cut, wire.colour + " cable");
    cut.conductor = wire.conductor;
    for (const Piece& piece : wire.pieces) {
      StationTotal& total = count(cut, wire.label);
      const bool last = &piece == &wire.pieces.back();
      if (!wire.to_cut) total.without_length += vans_;
      else if (last) total.to_cut += double(vans_) * *wire.to_cut;
      add_end(wire, piece.first, made, fitted);
      add_end(wire, piece.last, made, fitted);
    }
    count(work(made, Task::test, "wire from end to end"), wire.label);
  }

  void add_end(const Wire& wire, const WireEnd& end, const Station& made, const Station& fitted) {
    add_crimp(wire, end, made);
    if (end.stud) add_nut(wire, end, end.in_loom ? made : fitted);
  }

  void add_crimp(const Wire& wire, const WireEnd& end, const Station& made) {
    StationTotal crimp =
        work(made, Task::crimp, end.lug ? *end.lug : "not stated, at " + end.place);
    crimp.conductor = wire.conductor;
    crimp.die = end.die;
    crimp.strip = end.strip;
    count(crimp, wire.label);
  }

  void add_nut(const Wire& wire, const WireEnd& end, const Station& at) {
    StationTotal nut = work(at, Task::fit, "nut " + *end.stud);
    nut.torque = end.torque;
    count(nut, wire.label);
  }

  /// A connector is joined once, where the first of its two assemblies is fitted that says where.
  void add_joins(const Looms& looms) {
    std::map<std::string, Station> joined;
    for (const Loom& loom : looms.looms)
      for (const Half& half : loom.connectors)
        if (Station& at = joined[half.connector]; !at) at = loom.fitted_at;
    for (const auto& [connector, at] : joined)
      count(work(at, Task::join, "connector " + connector), connector);
    for (const Crossing& crossing : looms.crossings)
      count(work({}, Task::join, "run " + crossing.run), crossing.label);
  }
};

}  // namespace

std::vector<StationTotal> stations_of(std::span<const LoomModel> models) {
  Stations stations;
  for (std::size_t i = 0; i < models.size(); ++i) stations.add(i, models[i]);
  return std::move(stations).result();
}

}  // namespace housepower::range

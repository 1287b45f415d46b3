// SPDX-License-Identifier: Apache-2.0
// From the build list to looms: each conductor is followed from end to end through its connectors.
#include "housepower/range/looms.hpp"

#include <algorithm>

#include "housepower/design/design.hpp"

namespace housepower::range {
namespace {

using design::Design;
using design::Pole;
using design::resolved::AssemblyId;
using design::resolved::Connector;
using On = Landing::On;

bool is_some(AssemblyId id) { return id.index >= 0; }

template <class Value>
std::optional<Value> habit(const std::map<std::string, Value>& table, const std::string& key) {
  const auto found = table.find(key);
  return found == table.end() ? std::nullopt : std::optional(found->second);
}

std::optional<std::string> lug_of(const design::Build& build, const std::string& size,
                                  const std::string& stud) {
  const std::string both = size + " " + stud;
  if (auto named = habit(build.lug, both)) return named;
  if (auto named = habit(build.lug, stud)) return named;
  return size.empty() ? std::nullopt : std::optional(both);
}

void make_up_contact(WireEnd& end, const Connector& connector, const Landing& on) {
  end.place = connector.name;
  end.connector = connector.name;
  end.cavities = on.cavities;
  end.lug = on.what;
  end.strip = connector.strip;
  end.in_loom = true;
}

void make_up_lug(WireEnd& end, const design::Build& build, const std::string& size,
                 const std::string& stud) {
  end.stud = stud;
  end.lug = lug_of(build, size, stud);
  end.die = habit(build.die, size);
  end.strip = habit(build.strip, stud);
  end.torque = habit(build.torque, stud);
}

WireEnd end_of(const Design& d, const BuildConductor& c, const Landing& on) {
  WireEnd end;
  end.place = on.at;
  const std::string size = c.conductor ? c.conductor->name : std::string();
  if (on.connector) make_up_contact(end, d->connectors[*on.connector], on);
  else if (on.on == On::stud) make_up_lug(end, d->build, size, on.what);
  else if (on.on == On::no_lug) end.lug = on.what;
  return end;
}

/// A conductor on its way through the van.
class Followed {
public:
  Followed(const Design& d, const BuildList& list, const BuildConductor& c, Looms& to)
      : d_(d), list_(list), c_(c), to_(to), here_(c.from.assembly) {}

  void divide() {
    const bool on_line =
        !plugged() && is_some(here_) && is_some(c_.to.assembly) && here_ != c_.to.assembly;
    if (on_line) cross(here_, c_.to.assembly);
    if (on_line) here_ = {};
    else if (!is_some(here_)) here_ = where_it_begins();
    for (const Break& b : c_.breaks) {
      if (!b.on.connector) {
        cuts_.push_back(&b);
        continue;
      }
      const Connector& connector = d_->connectors[*b.on.connector];
      const auto before = side_before(connector);
      add(before, b.on, b.at);
      here_ = other_side(connector, before);
    }
    const bool joined = plugged() && is_some(c_.to.assembly) && c_.to.assembly != here_;
    if (joined) cross(here_, c_.to.assembly);
    add(joined ? AssemblyId{} : here_, c_.to, c_.length);
  }

private:
  const Design& d_;
  const BuildList& list_;
  const BuildConductor& c_;
  Looms& to_;
  AssemblyId here_;  // none: on the line
  const Landing* first_ = &c_.from;
  std::optional<Length> begins_ = Length{};
  std::vector<const Break*> cuts_{};  // since then, for devices and items

  [[nodiscard]] bool plugged() const {
    return std::any_of(c_.breaks.begin(), c_.breaks.end(),
                       [](const Break& b) { return b.on.connector.has_value(); });
  }

  /// From a place of no assembly: that at its other end, or of its first connector the side that does
  /// not lead on.
  [[nodiscard]] AssemblyId where_it_begins() const {
    std::vector<const Connector*> passed;
    for (const Break& b : c_.breaks)
      if (b.on.connector) passed.push_back(&d_->connectors[*b.on.connector]);
    if (passed.empty()) return c_.to.assembly;
    const auto& [a, b] = passed.front()->between;
    const bool leads_to_a = passed.size() > 1
                                ? passed[1]->between[0] == a || passed[1]->between[1] == a
                                : c_.to.assembly == a;
    return leads_to_a ? b : a;
  }

  /// On which side of a connector the conductor comes from; from neither it was joined to one on the
  /// line.
  AssemblyId side_before(const Connector& connector) {
    const auto& [a, b] = connector.between;
    if (here_ == a || here_ == b) return here_;
    const AssemblyId near = c_.to.assembly == a ? b : a;
    if (is_some(here_)) cross(here_, near);
    return near;
  }
  static AssemblyId other_side(const Connector& connector, AssemblyId before) {
    return before == connector.between[0] ? connector.between[1] : connector.between[0];
  }

  void cross(AssemblyId from, AssemblyId to) {
    const std::string &here = d_->assemblies[from].name, &there = d_->assemblies[to].name;
    const bool known = !to_.crossings.empty() && to_.crossings.back().run == c_.run;
    Crossing& crossing = known ? to_.crossings.back()
                               : to_.crossings.emplace_back(Crossing{c_.run, c_.wire, here, there});
    (c_.pole == Pole::outgoing ? crossing.outgoing : crossing.back) = true;
  }

  void add(AssemblyId in, const Landing& last, const std::optional<Length>& ends) {
    auto& wires = is_some(in) ? to_.looms[std::size_t(in.index)].wires : to_.on_line;
    Wire& wire = wires.emplace_back();
    wire.run = c_.run;
    wire.label = c_.label;
    wire.conductor = c_.conductor;
    wire.insulation = c_.insulation;
    wire.material = c_.material;
    wire.colour = c_.colour;
    wire.first = made_up(in, *first_);
    wire.last = made_up(in, last);
    wire.pieces = pieces_of(in, last, ends);
    if (begins_ && ends) {
      wire.length = *ends - *begins_;
      wire.to_cut = *wire.length + double(wire.pieces.size()) * list_.allowance.value_or(Length{});
    }
    first_ = &last;
    begins_ = ends;
    cuts_.clear();
  }

  [[nodiscard]] std::vector<Piece> pieces_of(AssemblyId in, const Landing& last,
                                             const std::optional<Length>& ends) const {
    std::vector<Piece> pieces;
    const Landing* first = first_;
    std::optional<Length> from = begins_;
    const auto cut = [&](const Landing& on, const std::optional<Length>& at) {
      Piece& piece = pieces.emplace_back();
      if (from && at) piece.length = *at - *from;
      piece.first = made_up(in, *first);
      piece.last = made_up(in, on);
      first = &on;
      from = at;
    };
    for (const Break* b : cuts_) cut(b->on, b->at);
    cut(last, ends);
    return pieces;
  }

  [[nodiscard]] WireEnd made_up(AssemblyId in, const Landing& on) const {
    WireEnd end = end_of(d_, c_, on);
    end.on_the_way = is_device(on) && !on.connector;
    end.in_loom = is_some(in) && (on.connector || is_device(on) || on.assembly == in);
    return end;
  }
  /// What stands in the conductor itself is in its loom.
  [[nodiscard]] bool is_device(const Landing& on) const { return &on != &c_.from && &on != &c_.to; }
};

Loom loom_of(const Design& d, AssemblyId id) {
  const auto& assembly = d->assemblies[id];
  Loom loom{assembly.name, assembly.station, assembly.fitted_at, {}, {}};
  for (const Connector& connector : d->connectors)
    for (const std::size_t side : {0U, 1U})
      if (connector.between[side] == id)
        loom.connectors.push_back({connector.name, connector.cavities,
                                   d->assemblies[connector.between[1 - side]].name,
                                   connector.contact});
  return loom;
}

}  // namespace

Looms looms_of(const Design& d, const BuildList& list) {
  Looms looms;
  for (const AssemblyId id : d->assemblies.ids()) looms.looms.push_back(loom_of(d, id));
  for (const BuildConductor& c : list.conductors) Followed(d, list, c, looms).divide();
  return looms;
}

}  // namespace housepower::range

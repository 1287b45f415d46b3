// SPDX-License-Identifier: Apache-2.0
// Sums of build lists: equal cable, equal lugs, equal devices, over all vans of a plan.
#include <algorithm>
#include <map>
#include <tuple>

#include "housepower/checks/masses.hpp"
#include "housepower/range/build_list.hpp"

namespace housepower::range {
namespace {

/// Rising in copper; what is to be chosen stands first.
using SizeKey = std::tuple<double, std::string_view, std::string_view>;
SizeKey size_key(const std::optional<tables::Conductor>& c) {
  return c ? SizeKey{c->copper.value(), c->series, c->name} : SizeKey{};
}
/// Unlike an optional quantity it can be ordered; below every temperature and word.
template <class Stated> double key_of_stated(const std::optional<Stated>& stated) {
  if constexpr (requires(Stated s) { s.value(); }) return stated ? stated->value() : -1.0;
  else return stated ? double(*stated) : -1.0;
}

using CableKey = std::tuple<SizeKey, double, double, std::string_view>;
using EndKey = std::tuple<Landing::On, SizeKey, std::string_view, std::string_view>;
using PartKey = std::tuple<std::string_view, double>;

/// Adds `number` of one van of a model on a wire.
void count(Total& total, std::size_t model, int vans, int number, const std::string& wire) {
  total.number += vans * number;
  if (total.uses.empty() || total.uses.back().model != model) total.uses.push_back({model, 0, {}});
  Use& use = total.uses.back();
  use.each += number;
  if (std::find(use.wires.begin(), use.wires.end(), wire) == use.wires.end())
    use.wires.push_back(wire);
}

class Totals {
public:
  void add(std::size_t index, const Model& model) {
    for (const BuildConductor& c : model.list.conductors) {
      add_cable(index, model.vans, c);
      add_end(index, model.vans, c, c.from, 1);
      add_end(index, model.vans, c, c.to, 1);
      for (const Break& b : c.breaks) add_end(index, model.vans, c, b.on, 2);
    }
    add_parts(devices_, index, model.vans, model.list.devices);
    add_parts(items_, index, model.vans, model.list.items);
  }

  [[nodiscard]] BuildTotals result() && {
    BuildTotals totals;
    for (auto& [key, one] : cables_) {
      totals.copper += one.copper;
      totals.cables.push_back(std::move(one));
    }
    for (auto& [key, one] : ends_) totals.ends.push_back(std::move(one));
    for (auto& [key, one] : devices_) totals.devices.push_back(std::move(one));
    for (auto& [key, one] : items_) totals.items.push_back(std::move(one));
    return totals;
  }

private:
  using Parts = std::map<PartKey, PartTotal>;
  std::map<CableKey, CableTotal> cables_;
  std::map<EndKey, EndTotal> ends_;
  Parts devices_, items_;

  void add_cable(std::size_t model, int vans, const BuildConductor& c) {
    CableTotal& total = cables_[{size_key(c.conductor), key_of_stated(c.insulation),
                                 key_of_stated(c.material), c.colour}];
    total.conductor = c.conductor;
    total.insulation = c.insulation;
    total.material = c.material;
    total.colour = c.colour;
    total.to_cut += double(vans) * c.to_cut;
    if (c.conductor)
      total.copper += double(vans) * checks::copper_mass(c.conductor->copper, c.to_cut);
    count(total, model, vans, c.pieces(), c.wire);
  }

  void add_end(std::size_t model, int vans, const BuildConductor& c, const Landing& on, int ends) {
    const bool placed = on.on == Landing::On::not_stated;
    EndTotal& total = ends_[{on.on, size_key(c.conductor), on.what,
                             placed ? std::string_view(on.at) : std::string_view()}];
    total.conductor = c.conductor;
    total.on = {on.on, placed ? on.at : std::string(), on.what};
    count(total, model, vans, ends, c.wire);
  }

  static void add_parts(Parts& parts, std::size_t model, int vans,
                        const std::vector<BuildPart>& list) {
    for (const BuildPart& p : list) {
      PartTotal& total = parts[{p.what, key_of_stated(p.rating)}];
      total.what = p.what;
      total.rating = p.rating;
      count(total, model, vans, 1, p.wire);
    }
  }
};

}  // namespace

BuildTotals totals_of(std::span<const Model> models) {
  Totals adding;
  for (std::size_t i = 0; i < models.size(); ++i) adding.add(i, models[i]);
  return std::move(adding).result();
}

}  // namespace housepower::range

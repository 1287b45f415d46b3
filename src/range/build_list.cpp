// SPDX-License-Identifier: Apache-2.0
// From a design to its conductors, one by one, and what is fitted in them.
#include "housepower/range/build_list.hpp"

#include <algorithm>

#include "housepower/design/labels.hpp"
#include "housepower/design/words.hpp"
#include "housepower/units/phrases.hpp"
#include "housepower/units/unit.hpp"

namespace housepower::range {
namespace {

using namespace design::resolved;
using design::Design;
using design::Pole;
using design::RunEnd;
using On = Landing::On;

std::string rated(std::string what, const std::optional<Current>& rating) {
  return rating ? std::move(what) + " " + print(*rating) : what;
}

bool is_blade(const Protection& device) { return device.type.starts_with("iso-8820-3-"); }

/// What a conductor lands on at a post where no device of its run sits.
Landing landing_on(const Design& d, const Post& post) {
  const auto& bank = d->bank;
  if (post.kind == PostKind::bank) {
    if (bank->lead) return {On::not_stated, "common bar of the bank", {}};
    return bank->stud ? Landing{On::stud, "bank", *bank->stud}
                      : Landing{On::not_stated, "bank", {}};
  }
  if (post.stud) return {On::stud, post.name, *post.stud};
  if (post.kind == PostKind::array) return {On::no_lug, post.name, "connector of the array"};
  if (post.node == design::NodeKind::plug) return {On::no_lug, post.name, "plug"};
  return {On::not_stated, post.name, {}};
}

Landing landing_at(const Design& d, PostId id) {
  Landing landing = landing_on(d, d[id]);
  landing.assembly = d[id].assembly;
  return landing;
}

/// One conductor of one pole of a run: what sits at its ends, and what it is cut for on the way.
struct Pieces {
  Landing from, to;
  std::vector<Break> breaks;
};

/// A conductor of the list, by its pole and its number among those in parallel.
struct Which {
  Pole pole;
  int number = 1;
  [[nodiscard]] bool outgoing() const { return pole == Pole::outgoing; }
};

/// A device at a distance cuts the outgoing conductor; one at the post itself takes its end. A
/// circuit that leaves a panel by a blade fuse ends with both poles at ways of the panel.
void put_device(Pieces& pieces, const Design& d, const Run& run, const Protection& device,
                Pole pole) {
  const bool at_from = device.end == RunEnd::from;
  const Landing on{On::not_stated, rated(device.type, device.rating), {}};
  const bool outgoing = pole == Pole::outgoing;
  if (!device.distance) {
    if (outgoing) pieces.breaks.push_back({on, {}});
    return;
  }
  const Length at = at_from ? *device.distance : run.length - *device.distance;
  const Length nothing = 1e-9 * run.length;
  if (at > nothing && at < run.length - nothing) {
    if (outgoing) pieces.breaks.push_back({on, at});
    return;
  }
  if (!outgoing && at <= nothing && run.back.to != run.from) return;  // it begins elsewhere
  const Post& post = d[at <= nothing ? run.from : run.to];
  Landing& end = at <= nothing ? pieces.from : pieces.to;
  const bool way = post.node == design::NodeKind::panel && is_blade(device);
  if (!way && !outgoing) return;
  const auto assembly = end.assembly;
  end = way ? Landing{On::no_lug, post.name, "way of a panel"} : on;
  end.assembly = assembly;
}

/// Cavities of one of several conductors in parallel: its share of them, one at the least.
std::vector<int> cavities_of(const InlineItem& item, const Run& run, const Which& which) {
  const auto& all = item.cavities(which.pole);
  const auto number = std::size_t(which.number - 1), conductors = std::size_t(run.parallel);
  if (all.size() < conductors) return {all[number % all.size()]};
  std::vector<int> own;
  for (std::size_t i = number; i < all.size(); i += conductors) own.push_back(all[i]);
  return own;
}

Landing landing_in(const Design& d, const Run& run, const InlineItem& item, const Which& which) {
  const bool plug = item.kind == design::InlineKind::plug;
  if (!item.connector)
    return {plug ? On::no_lug : On::not_stated, rated(std::string(word(item.kind)), item.rating),
            plug ? "plug" : ""};
  const Connector& connector = d->connectors[*item.connector];
  Landing on{On::no_lug, connector.name,
             connector.contact.value_or("contact of " + connector.name)};
  on.connector = item.connector;
  on.cavities = cavities_of(item, run, which);
  for (const int cavity : on.cavities)
    on.at += (cavity == on.cavities.front() ? " cavity " : ", ") + std::to_string(cavity);
  return on;
}

/// From where the conductor of a pole begins. A return leaves the run's `to` beside its outgoing
/// conductor, so that what it is longer lies at its other end.
std::optional<Length> place_of(const Run& run, const InlineItem& item, Pole pole) {
  if (!item.distance || pole == Pole::outgoing) return item.distance;
  const Length at = run.back.length - (run.length - *item.distance);
  return at > 0.0 * metre ? std::optional(at) : std::nullopt;
}

/// Those of which the place is stated rise among themselves; the others keep theirs in the list.
void put_in_order(std::vector<Break>& breaks) {
  std::vector<Break> stated;
  for (const Break& b : breaks)
    if (b.at) stated.push_back(b);
  std::stable_sort(stated.begin(), stated.end(), [](const Break& a, const Break& b) {
    return a.at.value_or(Length{}) < b.at.value_or(Length{});
  });
  auto next = stated.begin();
  for (Break& b : breaks)
    if (b.at) b = *next++;
}

Pieces pieces_of(const Design& d, const Run& run, const Which& which) {
  Pieces pieces{
      landing_at(d, which.outgoing() ? run.from : run.back.to), landing_at(d, run.to), {}};
  const auto put_devices = [&](RunEnd end) {
    for (const Protection& device : run.protection)
      if (device.end == end) put_device(pieces, d, run, device, which.pole);
  };
  put_devices(RunEnd::from);
  for (const InlineItem& item : run.inline_items)
    if (item.sits_in(which.pole))
      pieces.breaks.push_back({landing_in(d, run, item, which), place_of(run, item, which.pole)});
  put_devices(RunEnd::to);
  put_in_order(pieces.breaks);
  return pieces;
}

void finish(BuildConductor& made, Pole pole, Pieces pieces, const BuildList& list) {
  made.pole = pole;
  made.colour = pole == Pole::outgoing ? list.colours.positive : list.colours.negative;
  made.from = std::move(pieces.from);
  made.to = std::move(pieces.to);
  made.breaks = std::move(pieces.breaks);
  made.to_cut = made.length + double(made.pieces()) * list.allowance.value_or(Length{});
}

void add_run(BuildList& list, const Design& d, RunId id) {
  const Run& run = d[id];
  for (const Pole pole : {Pole::outgoing, Pole::return_}) {
    const bool outgoing = pole == Pole::outgoing;
    if (!outgoing && run.back.chassis) continue;
    for (int number = 1; number <= run.parallel; ++number) {
      BuildConductor& made = list.conductors.emplace_back();
      made.run = run.name;
      made.wire = run.label;
      made.label = conductor_label(d, id, pole, number);
      made.label_from = label_of(d, id, pole, number, RunEnd::from);
      made.label_to = label_of(d, id, pole, number, RunEnd::to);
      made.conductor = outgoing ? run.conductor : run.back.conductor;
      made.insulation = run.insulation;
      made.material = run.material;
      made.length = outgoing ? run.length : run.back.length;
      finish(made, pole, pieces_of(d, run, {pole, number}), list);
    }
  }
  for (const Protection& device : run.protection)
    list.devices.push_back({device.type, device.rating, run.label});
  for (const InlineItem& item : run.inline_items)
    if (!item.connector)  // one for several runs: see add_connectors
      list.items.push_back({std::string(word(item.kind)), item.rating, run.label});
  if (run.back.chassis)
    list.left_out.push_back("the bonds of run \"" + run.name +
                            "\" to the chassis, which is its return");
}

void add_bank_conductor(BuildList& list, const Design& d, const Lead& lead,
                        const design::BankConductor& c) {
  BuildConductor& made = list.conductors.emplace_back();
  made.run = "bank";
  made.wire = bank_label(d, c);
  made.label = conductor_label(d, c);
  made.label_from = label_of(d, c, RunEnd::from);
  made.label_to = label_of(d, c, RunEnd::to);
  made.conductor = lead.conductor;
  made.length = lead.length;
  const auto& stud = d->bank->stud;
  const auto battery = [&](int number) -> Landing {
    return {stud ? On::stud : On::not_stated, "battery " + std::to_string(number),
            stud.value_or("")};
  };
  Pieces pieces{battery(c.battery), battery(c.battery + 1), {}};
  if (c.is_lead) pieces.to = landing_at(d, d->bank->post);
  pieces.from.assembly = pieces.to.assembly = d[d->bank->post].assembly;
  const auto& own = d->bank->each_device;
  if (c.is_lead && own && c.pole == Pole::outgoing)
    pieces.breaks.push_back(
        {{On::not_stated, rated(own->device.type, own->device.rating), {}}, std::nullopt});
  finish(made, c.pole, std::move(pieces), list);
}

/// As the network has them: a link that is stated for one pole stands for both, and so does a lead.
void add_bank(BuildList& list, const Design& d) {
  if (!d->bank) return;
  const Bank& bank = *d->bank;
  const auto &plus = bank.link_positive ? bank.link_positive : bank.link_negative,
             &minus = bank.link_negative ? bank.link_negative : bank.link_positive;
  for (int battery = 1; battery <= bank.parallel; ++battery)
    for (const Pole pole : {Pole::outgoing, Pole::return_}) {
      const auto& link = pole == Pole::outgoing ? plus : minus;
      if (link && battery < bank.parallel)
        add_bank_conductor(list, d, *link, {pole, battery, false});
      if (!link && bank.lead) add_bank_conductor(list, d, *bank.lead, {pole, battery, true});
    }
  if (bank.each_device)
    for (int battery = 1; battery <= bank.parallel; ++battery)
      list.devices.push_back({bank.each_device->device.type, bank.each_device->device.rating,
                              bank_label(d, {Pole::outgoing, battery, true})});
  if (bank.parallel > 1 && !plus && !bank.lead)
    list.left_out.push_back("links or leads that join the batteries in parallel");
  if (bank.in_series > 1) list.left_out.push_back("conductors that join the batteries in series");
}

/// Each once, whatever passes it.
void add_connectors(BuildList& list, const Design& d) {
  for (const ConnectorId id : d->connectors.ids()) {
    std::vector<std::string_view> wires;
    for (const Run& run : d->runs)
      for (const InlineItem& item : run.inline_items)
        if (item.connector == id) wires.push_back(run.label);
    if (!wires.empty())
      list.items.push_back(
          {"connector " + d->connectors[id].name, d->connectors[id].rating, listed(wires)});
  }
}

}  // namespace

BuildList build_list(const Design& d) {
  BuildList list;
  list.colours_stated = d->build.colours.has_value();
  if (auto set = tables::colours_named(
          *d->tables, d->build.colours.value_or(std::string(tables::usual_colours))))
    list.colours = *std::move(set);
  list.allowance = d->build.allowance;
  for (int i = 0; i < int(d->runs.size()); ++i) add_run(list, d, {i});
  add_bank(list, d);
  add_connectors(list, d);
  return list;
}

}  // namespace housepower::range

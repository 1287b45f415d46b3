// SPDX-License-Identifier: Apache-2.0
// Nodes, inverters, chargers, controllers, arrays and feeds, each with its posts.
#include <algorithm>

#include "module_figures.hpp"
#include "resolving.hpp"

namespace housepower::design {
namespace {

using resolved::PostKind;

void resolve_nodes(Resolving& r) {
  const auto& nodes = r.document.node;
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    const MeetingNode& node = nodes[i];
    const auto id = add_post(r, node.name, PostKind::node, *node.sits);
    resolved::Post& post = r.out.posts[id];
    post.node = node.kind;
    post.rating = node.rating;
    post.slots = node.slots;
    post.purpose = node.purpose;
    post.stud = node.stud;
    post.largest_device = node.largest_device;
    post.terminals = node.terminals;
    post.ambient = node.ambient;
    const std::string path = r.path("node", i, node.name);
    post.assembly = find_assembly(r, node.assembly, node.place, path + "/assembly");
    if (node.purpose && node.kind != NodeKind::jump_post)
      r.error(node.place, path + "/purpose", "is for jump posts only",
              "kind = \"jump-post\", or leave the purpose out");
  }
}

void set_up(Resolving& r, resolved::PostId post, const std::optional<std::string>& stud,
            resolved::AssemblyId built_into) {
  r.out.posts[post].stud = stud;
  r.out.posts[post].assembly = built_into;
}

void resolve_inverters(Resolving& r) {
  for (const Inverter& inverter : r.document.inverter) {
    const std::string path = "inverter/" + inverter.name;
    resolved::Inverter out;
    out.name = inverter.name;
    out.post = add_post(r, inverter.name, PostKind::inverter, Sits::inside);
    out.rating = inverter.rating;
    out.surge = inverter.surge;
    out.no_load = r.stated_or(inverter.no_load, Power(0.015 * inverter.rating), path + "/no_load",
                              "1.5 % of its rating");
    if (inverter.loss) out.k = inverter.loss->k;
    out.efficiency = inverter.efficiency;
    out.runs = *inverter.runs;
    out.loads = *inverter.loads;
    out.cut_out = r.stated_or(inverter.cut_out, Voltage(10.5 * volt * r.times_twelve()),
                              path + "/cut_out", "usual for the system's voltage");
    out.ripple = *inverter.ripple;
    out.mass = inverter.mass;
    set_up(r, out.post, inverter.stud,
           find_assembly(r, inverter.assembly, inverter.place, path + "/assembly"));
    if (hangs_on_the_bank(r)) out.post = r.out.bank->post;
    r.inverters.try_emplace(inverter.name,
                            resolved::InverterId{static_cast<int>(r.out.inverters.size())});
    r.out.inverters.push_back(std::move(out));
  }
}

void resolve_chargers(Resolving& r) {
  for (const Charger& charger : r.document.charger) {
    const std::string path = "charger/" + charger.name;
    const bool has_input = charger.kind == ChargerKind::dc_dc;
    resolved::Charger out;
    out.name = charger.name;
    if (has_input) out.in = add_post(r, charger.name + ".in", PostKind::charger_in, Sits::inside);
    out.out = add_post(r, charger.name + ".out", PostKind::charger_out, Sits::inside);
    out.kind = charger.kind;
    out.current = charger.current;
    out.efficiency = *charger.efficiency;
    out.input_cut_out = charger.input_cut_out.value_or(11.5 * volt);
    if (has_input && !charger.input_cut_out)
      r.assume(path + "/input_cut_out", print(Number(out.input_cut_out)),
               "its input is on a 12 V vehicle");
    out.charge_voltage =
        r.stated_or(charger.charge_voltage, Voltage(14.6 * volt * r.times_twelve()),
                    path + "/charge_voltage", "usual for the system's voltage");
    if (charger.input_voltage) {
      out.input_low = charger.input_voltage->low;
      out.input_normal = charger.input_voltage->normal;
    }
    out.mass = charger.mass;
    const auto built_into = find_assembly(r, charger.assembly, charger.place, path + "/assembly");
    for (const auto& end : {out.in, std::optional(out.out)})
      if (end) set_up(r, *end, charger.stud, built_into);
    r.out.chargers.push_back(std::move(out));
  }
}

void resolve_controllers(Resolving& r) {
  for (const Controller& controller : r.document.controller) {
    resolved::Controller out;
    out.name = controller.name;
    out.in = add_post(r, controller.name + ".in", PostKind::controller_in, Sits::inside);
    out.out = add_post(r, controller.name + ".out", PostKind::controller_out, Sits::inside);
    out.kind = *controller.kind;
    out.max_voltage = controller.max_voltage;
    out.max_short_circuit_current = controller.max_short_circuit_current;
    out.max_charge_current = controller.max_charge_current;
    out.efficiency = *controller.efficiency;
    out.own_draw = *controller.own_draw;
    out.charge_voltage = r.stated_or(
        controller.charge_voltage, Voltage(14.4 * volt * r.times_twelve()),
        "controller/" + controller.name + "/charge_voltage", "usual for the system's voltage");
    out.mass = controller.mass;
    const auto built_into = find_assembly(r, controller.assembly, controller.place,
                                          "controller/" + controller.name + "/assembly");
    for (const auto end : {out.in, out.out}) set_up(r, end, controller.stud, built_into);
    r.controllers.try_emplace(controller.name,
                              resolved::ControllerId{static_cast<int>(r.out.controllers.size())});
    r.out.controllers.push_back(std::move(out));
  }
}

void check_array(Resolving& r, const Array& array, const std::string& path) {
  check_module(r.diagnostics, array.module, array.place, path + "/module");
  if (array.modules % *array.in_series != 0)
    r.error(array.place, path + "/in_series",
            std::to_string(array.modules) + " modules make no whole strings of " +
                std::to_string(*array.in_series),
            "modules is a multiple of in_series");
  if (!array.shade_by_hour.empty() && array.shade_by_hour.size() != 24)
    r.error(array.place, path + "/shade_by_hour",
            "wants a share for each of the 24 hours, has " +
                std::to_string(array.shade_by_hour.size()),
            "the first is for the hour from 00:00 to 01:00");
  if (!array.covered.empty() && array.covered.size() != 12)
    r.error(array.place, path + "/covered",
            "wants a share for each of the 12 months, has " + std::to_string(array.covered.size()),
            "the first is for January");
  if (!array.module.size.empty() && array.module.size.size() != 2)
    r.error(array.place, path + "/module/size", "wants two lengths", "length and width");
}

void resolve_arrays(Resolving& r) {
  const auto& arrays = r.document.array;
  for (std::size_t i = 0; i < arrays.size(); ++i) {
    const Array& array = arrays[i];
    const std::string path = r.path("array", i, array.name);
    check_array(r, array, path);
    resolved::Array out;
    out.name = array.name;
    out.post = add_post(r, array.name, PostKind::array, Sits::roof);
    r.out.posts[out.post].assembly =
        find_assembly(r, array.assembly, array.place, path + "/assembly");
    out.modules = array.modules;
    out.in_series = *array.in_series;
    out.module = array.module;
    out.tilt = *array.tilt;
    out.azimuth = *array.azimuth;
    out.mount = *array.mount;
    out.soiling = *array.soiling;
    if (array.shade_by_hour.empty()) out.shade.fill(*array.shade);
    for (std::size_t hour = 0; hour < std::min<std::size_t>(array.shade_by_hour.size(), 24); ++hour)
      out.shade[hour] = array.shade_by_hour[hour];
    std::copy_n(array.covered.begin(), std::min<std::size_t>(array.covered.size(), 12),
                out.covered.begin());
    const auto controller = r.controllers.find(array.to);
    if (controller != r.controllers.end()) out.controller = controller->second;
    else
      r.error(RestsOn::names, array.place, path + "/to",
              quoted(array.to) + " is not a controller of this file",
              hint_for(array.to, names_of(r.controllers)));
    r.out.arrays.push_back(std::move(out));
  }
}

// One that is not said to be something else stands in the tow vehicle: the hotter place.
void resolve_feeds(Resolving& r) {
  for (const SourceFeed& feed : r.document.feed) {
    resolved::Feed out;
    out.name = feed.name;
    out.kind = feed.kind.value_or("tow-vehicle");
    if (const auto meant = nearest(out.kind, {"tow-vehicle"}); !meant.empty() && meant != out.kind)
      r.error(RestsOn::itself, feed.place, "feed/" + feed.name + "/kind",
              quoted(out.kind) + " is not a kind of this list", did_you_mean(out.kind, {meant}));
    out.post = add_post(r, feed.name, PostKind::feed,
                        out.kind == "tow-vehicle" ? Sits::tow_vehicle : Sits::inside);
    r.out.posts[out.post].assembly =
        find_assembly(r, feed.assembly, feed.place, "feed/" + feed.name + "/assembly");
    out.low = *feed.voltage->low;
    out.high = *feed.voltage->high;
    if (feed.resistance) out.resistance_low = feed.resistance->low;
    if (feed.resistance) out.resistance_high = feed.resistance->high;
    out.spare_current = feed.spare_current;
    r.out.feeds.push_back(std::move(out));
  }
}

}  // namespace

void resolve_equipment(Resolving& r) {
  resolve_nodes(r);
  resolve_inverters(r);
  resolve_chargers(r);
  resolve_controllers(r);
  resolve_arrays(r);
  resolve_feeds(r);
}

}  // namespace housepower::design

// SPDX-License-Identifier: Apache-2.0
#include "cable_design.hpp"

#include <algorithm>
#include <cmath>

#include "housepower/answers/typed.hpp"

namespace housepower::answers {
namespace {

/// The profile whose tables are read where none is named, and whose terminals go with a table that
/// names no other.
constexpr std::string_view usual_profile = "iec-en-leisure";

/// "6" in the series that is chosen from, "6 mm2" or "6 awg"; with the table's word behind it where the
/// size alone would not name it.
std::string size_text(const CableAsked& asked, const std::string& size,
                      const tables::Tables& tables) {
  const auto& table = asked.conductor_table;
  std::string text = size;
  const bool bare = size.find_first_not_of("0123456789./") == std::string::npos;
  if (table && *table != ConductorTable::iec_60228_5) {
    const bool stranded = *table == ConductorTable::iec_60228_2;
    if (bare) text += stranded ? " mm2 class 2" : " " + std::string(word(*table));
    else if (stranded && size.ends_with("mm2")) text += " class 2";  // else a unit says its series
  } else if (bare) {
    const auto series = table ? word(design::SizeSeries::metric) : word(*asked.sizes);
    text = tables::named_in_series(tables, size, series).value_or(size);
  }
  const auto read = tables::conductor_named(tables, text);
  const auto* plain = std::get_if<tables::Conductor>(&read);
  return asked.tinned.value_or(false) && plain && !plain->tinned ? text + " tinned" : text;
}

void take_ampacity_tables(tables::RuleProfile& p, const CableAsked& asked,
                          const tables::RuleProfile& usual) {
  if (const auto& named = asked.ampacity_table) {
    p.ampacity_above = p.ampacity_below_90 = *named;
    if (*named == usual.ampacity_above || *named == usual.ampacity_below_90)
      p.ampacity_small = usual.ampacity_small;
    return;
  }
  p.ampacity_above = usual.ampacity_above;
  p.ampacity_below_90 = usual.ampacity_below_90;
  p.ampacity_small = usual.ampacity_small;
  p.ampacity_conduit = usual.ampacity_conduit;
}

/// Those that are asked for, as printed to where the table's own are.
void take_terminals(tables::RuleProfile& p, const std::optional<CableTerminals>& asked) {
  if (!asked) return;
  const auto as_printed_to =
      p.terminals.empty() ? std::optional<Temperature>{} : p.terminals.front().as_printed_to;
  p.terminals.clear();
  if (asked->limit) p.terminals = {{*asked->limit, {}, as_printed_to, as_asked}};
}

std::string series_asked(const CableAsked& asked) {
  const std::string series(asked.conductor_table ? word(*asked.conductor_table)
                                                 : word(*asked.sizes));
  return asked.tinned.value_or(false) ? series + " tinned" : series;
}

design::SourceFeed source_of(const CableAsked& asked) {
  design::SourceFeed feed;
  feed.name = "source";
  // a full rested bank: 3.53 V a cell by the table of one cell, four of them for 12 V
  feed.voltage = design::VoltageRange{*asked.voltage,
                                      asked.bank_voltage.value_or(*asked.voltage * (14.12 / 12.0))};
  feed.resistance =
      design::ResistanceRange{asked.bank_resistance, asked.source_resistance.value_or(0.0 * ohm)};
  return feed;
}

/// The drop that is allowed where nobody asks for another.
Ratio usual_drop() {
  static const Ratio usual = [] {
    CableAsked nothing;
    std::vector<Assumption> assumed;
    fill_defaults(fields<CableAsked>, &nothing, Defaults::ordinary, "", assumed);
    return *nothing.drop;
  }();
  return usual;
}

/// At the allowed drop or, where more is allowed, at the usual one (a load is held to more only if its
/// conductor takes that much), less what the source itself loses to the load at that voltage; half of
/// it where the source cannot give the power, which is then told as a collapse.
Voltage lowest_at_load(const CableAsked& asked) {
  const Voltage before = *asked.voltage * (1.0 - double(std::min(*asked.drop, usual_drop())));
  const double u = before.value(), r = asked.source_resistance.value_or(0.0 * ohm).value();
  if (asked.current)
    return std::max(before - *asked.current * Resistance::from_value(r), before * 0.5);
  return Voltage::from_value(
      (u + std::sqrt(std::max(0.0, u * u - 4.0 * asked.power->value() * r))) / 2.0);
}

design::Appliance load_of(const CableAsked& asked) {
  design::Appliance load;
  load.name = "load";
  load.power = asked.power;
  load.current = asked.current;
  load.behaves =
      asked.power ? design::Behaviour::constant_power : design::Behaviour::constant_current;
  load.lowest_voltage = lowest_at_load(asked);
  load.highest_voltage = 2.0 * *asked.voltage;
  return load;
}

design::ProtectionOfRun device_at_source(const CableDevice& device) {
  design::ProtectionOfRun p;
  p.end = design::RunEnd::from;
  p.type = device.type;
  p.rating = device.rating;
  p.distance = 0.0 * metre;
  p.place = Typed("--fuse", device.type).whole().place;
  return p;
}

design::Run run_asked(const CableAsked& asked, const tables::Tables& tables) {
  design::Run run;
  run.name = "cable";
  run.from = "source";
  run.to = "load";
  run.length = asked.length;
  if (asked.conductor) {
    run.place = Typed("--conductor", *asked.conductor).whole().place;
    run.conductor = size_text(asked, *asked.conductor, tables);
  }
  run.insulation = asked.insulation;
  run.insulation_material = design::Insulation::pvc;
  run.laid = asked.laid;
  run.ambient = asked.ambient;
  run.circuits_together = asked.circuits_together;
  run.joints = asked.joints;
  run.conductor_temperature = asked.conductor_temperature;
  if (asked.device) run.protection = {device_at_source(*asked.device)};
  return run;
}

}  // namespace

tables::RuleProfile cable_profile(const CableAsked& asked, bool drop_is_asked, std::string name,
                                  const tables::Tables& tables) {
  const auto* table = asked.ampacity_table ? tables.ampacity(*asked.ampacity_table) : nullptr;
  const auto* usual = tables.profile(usual_profile);
  tables::RuleProfile p;
  p.name = std::move(name);
  p.title = "one run by its options";
  p.drop_classes = {
      {"other", std::nullopt, *asked.drop, drop_is_asked, drop_is_asked ? as_asked : as_usual}};
  take_ampacity_tables(p, asked, *usual);
  if (const auto* of_table = table ? tables.profile(table->profile) : usual) {
    p.terminals = of_table->terminals;
    p.device_limits = of_table->device_limits;
  }
  take_terminals(p, asked.terminals);
  p.loading = 0.75;
  p.loading_source = {SourceKind::common_practice, "practice of the trade",
                      "three quarters of the rating"};
  p.lithium.says = tables::RuleProfile::LithiumPlace::Says::silent;
  p.sizes = series_asked(asked);
  return p;
}

design::Document cable_document(const CableAsked& asked, const std::string& profile,
                                const tables::Tables& tables) {
  design::Document d;
  d.vehicle.name = "cable";
  d.vehicle.system_voltage = *asked.voltage;
  d.rules.profile = profile;
  d.feed = {source_of(asked)};
  d.appliance = {load_of(asked)};
  d.run = {run_asked(asked, tables)};
  design::Case c;
  c.name = "load on";
  c.running = {"load"};
  d.load_case = {c};
  return d;
}

}  // namespace housepower::answers

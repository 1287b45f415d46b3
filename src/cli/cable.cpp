// SPDX-License-Identifier: Apache-2.0
// cable: one run by its options. It builds a design of one feed, one run and one load, and asks the
// same resolve, network and rules as a design file, so that it cannot disagree with `check`.
#include <algorithm>

#include "commands.hpp"
#include "housepower/design/words.hpp"
#include "verbs.hpp"

namespace housepower::cli {

enum class ConductorTable { iec_60228_5, iec_60228_2, nec_8, astm_b258, sae, bs, auto_od };

struct CableOptions {
  std::optional<Current> current;
  std::optional<Power> power;
  Length length{};
  std::optional<std::string> conductor;
  std::optional<ConductorTable> conductor_table;
  std::optional<bool> tinned;
  std::optional<Voltage> voltage;
  std::optional<Ratio> drop;
  std::optional<std::string> ampacity_table;
  std::optional<Temperature> insulation, ambient;
  std::optional<int> circuits_together;
  std::optional<design::Laid> laid;
  std::optional<design::SizeSeries> sizes;
  std::optional<Temperature> conductor_temperature;
  std::optional<Resistance> source_resistance;
  std::optional<int> joints;
  std::optional<std::string> fuse;
  std::optional<Resistance> bank_resistance;
  std::optional<Voltage> bank_voltage;
  std::optional<wiring::NamedMethod> method;
  std::optional<bool> working;
  std::optional<Format> format;
  std::optional<std::string> tables;
};

}  // namespace housepower::cli

namespace housepower {
template <>
inline constexpr auto words<cli::ConductorTable> = std::array{
    "iec-60228-5"sv, "iec-60228-2"sv, "nec-8"sv, "astm-b258"sv, "sae"sv, "b&s"sv, "auto-od"sv};
template <>
inline constexpr auto words<wiring::NamedMethod> =
    std::array{"table"sv, "abyc-e11"sv, "iso-10133"sv, "en-1648"sv};
template <>
inline constexpr auto fields<cli::CableOptions> = std::array{
    exactly_one({"current", "power"}),
    field<&cli::CableOptions::current>("current", "Drawn through the run.", "20 A")
        .more_than(0.0 * ampere)
        .at_most(10000.0 * ampere),
    field<&cli::CableOptions::power>("power", "Drawn by the load, whatever its voltage.", "240 W")
        .more_than(0.0 * watt)
        .at_most(1e6 * watt),
    field<&cli::CableOptions::length>("length", "One way, along the outgoing conductor.", "4 m")
        .more_than(0.0 * metre)
        .at_most(1000.0 * metre),
    field<&cli::CableOptions::conductor>(
        "conductor", "Its size; left out, the smallest that suffices is taken.", "6 mm2"),
    field<&cli::CableOptions::conductor_table>(
        "conductor_table", "The table that a bare size or the choice is read from.", "sae"),
    field<&cli::CableOptions::tinned>("tinned", "Tinned strands.").optional(),
    field<&cli::CableOptions::voltage>("voltage", "Nominal and open-circuit voltage of the source.",
                                       "12 V")
        .or_else("12 V")
        .more_than(0.0 * volt)
        .at_most(400.0 * volt),
    field<&cli::CableOptions::drop>("drop",
                                    "Allowed drop, out and back, as a share of the voltage.", "3 %")
        .or_else("3 %")
        .more_than(Ratio(0.0))
        .at_most(Ratio(1.0)),
    field<&cli::CableOptions::ampacity_table>("ampacity_table", "The table of ampacities.")
        .or_else("bs-7671-4f2-90"),
    field<&cli::CableOptions::insulation>("insulation",
                                          "Temperature that the insulation bears for good.")
        .or_else("90 °C"),
    field<&cli::CableOptions::ambient>("ambient", "Temperature of the air around it.")
        .or_else("30 °C"),
    field<&cli::CableOptions::circuits_together>(
        "circuits_together", "Loaded circuits that lie together, this one included.")
        .or_else("1")
        .optional(),
    field<&cli::CableOptions::laid>("laid", "How it lies.").or_else("clipped"),
    field<&cli::CableOptions::sizes>("sizes", "The series to choose from: metric or awg.")
        .or_else("metric"),
    field<&cli::CableOptions::conductor_temperature>(
        "conductor_temperature", "Held at this temperature, instead of what the load makes of it.",
        "75 °C"),
    field<&cli::CableOptions::source_resistance>("source_resistance", "Of what feeds the run.",
                                                 "5 mohm"),
    field<&cli::CableOptions::joints>("joints", "Lugs and studs of both conductors.").or_else("0"),
    field<&cli::CableOptions::fuse>("fuse", "Type and rating of the device at the source.",
                                    "iso-8820-3-c 25 A"),
    field<&cli::CableOptions::bank_resistance>(
        "bank_resistance", "The least that the source can have, for the largest fault.", "1 mohm"),
    field<&cli::CableOptions::bank_voltage>(
        "bank_voltage", "Open-circuit voltage for the largest fault.", "13.6 V"),
    field<&cli::CableOptions::method>(
        "method", "Drop and size by a named text's own formula instead of the tables.")
        .or_else("table"),
    field<&cli::CableOptions::working>("working", "Prints the calculation under each finding.")
        .optional(),
    field<&cli::CableOptions::format>("format", "How to answer: text, json or html.")
        .or_else("text"),
    field<&cli::CableOptions::tables>(
        "tables", "A folder of tables that replace or add to the built-in ones.", "my-tables")};
}  // namespace housepower

namespace housepower::cli {
namespace {

constexpr Source as_asked{SourceKind::supplier, "the command's options", "as asked"};

/// "6", "6 mm2" or "6 awg" with the table's word behind it where the size alone would not name it.
std::string size_text(const CableOptions& o, const std::string& size) {
  std::string text = size;
  if (o.conductor_table && *o.conductor_table != ConductorTable::iec_60228_5) {
    const auto bare = size.substr(0, size.find(' '));
    text = *o.conductor_table == ConductorTable::iec_60228_2
               ? bare + " mm2 class 2"
               : bare + " " + std::string(word(*o.conductor_table));
  } else if (o.conductor_table && size.find_first_not_of("0123456789.") == std::string::npos) {
    text += " mm2";
  }
  return o.tinned.value_or(false) && text.find("tinned") == std::string::npos ? text + " tinned"
                                                                              : text;
}

/// What the options ask for as a rule profile: their drop fails, their table rates.
tables::RuleProfile profile_of(const CableOptions& o) {
  tables::RuleProfile p;
  p.name = "cable";
  p.title = "one run by its options";
  p.drop_classes = {{"other", std::nullopt, *o.drop, true, as_asked}};
  p.ampacity_above = p.ampacity_below_90 = *o.ampacity_table;
  if (*o.ampacity_table == "bs-7671-4f2-90" || *o.ampacity_table == "bs-7671-4f1-60")
    p.ampacity_small = "bs-7671-4f3a";  // those begin at 4 mm²
  p.loading = 0.75;
  p.loading_source = {SourceKind::common_practice, "practice of the trade",
                      "three quarters of the rating"};
  p.lithium.says = tables::RuleProfile::LithiumPlace::Says::silent;
  p.sizes = o.conductor_table ? std::string(word(*o.conductor_table)) : std::string(word(*o.sizes));
  if (o.tinned.value_or(false))
    p.sizes = (p.sizes == "metric" ? "iec-60228-5"
               : p.sizes == "awg"  ? "nec-8"
                                   : p.sizes) +
              " tinned";
  return p;
}

std::optional<design::ProtectionOfRun> fuse_of(const CableOptions& o, Diagnostics& diagnostics) {
  const auto space = o.fuse->find(' ');
  const auto rating =
      parse_quantity(space == std::string::npos ? "" : o.fuse->substr(space + 1), kind_of<Current>);
  if (const auto* problem = std::get_if<ParseProblem>(&rating)) {
    diagnostics.error({"--fuse"}, "fuse",
                      "wants a type and a rating such as \"iso-8820-3-c 25 A\": " +
                          problem->message,
                      problem->hint);
    return std::nullopt;
  }
  design::ProtectionOfRun p;
  p.end = design::RunEnd::from;
  p.type = o.fuse->substr(0, space);
  p.rating = Current::from_value(std::get<Number>(rating).si);
  p.distance = 0.0 * metre;
  return p;
}

design::Document document_of(const CableOptions& o, Diagnostics& diagnostics) {
  design::Document d;
  d.vehicle.name = "cable";
  d.vehicle.system_voltage = *o.voltage;
  d.rules.profile = "cable";
  design::SourceFeed feed;
  feed.name = "source";
  // a full rested bank: 3.53 V a cell by the table of one cell, four of them for 12 V
  feed.voltage = design::VoltageRange{*o.voltage, o.bank_voltage ? *o.bank_voltage
                                                                 : *o.voltage * (14.12 / 12.0)};
  feed.resistance =
      design::ResistanceRange{o.bank_resistance, o.source_resistance.value_or(0.0 * ohm)};
  d.feed = {feed};
  design::Appliance load;
  load.name = "load";
  load.power = o.power;
  load.current = o.current;
  load.rated_at = *o.voltage;
  load.behaves = o.power ? design::Behaviour::constant_power : design::Behaviour::constant_current;
  load.lowest_voltage = *o.voltage * (1.0 - double(*o.drop));
  load.highest_voltage = 2.0 * *o.voltage;
  d.appliance = {load};
  design::Run run;
  run.name = "cable";
  run.from = "source";
  run.to = "load";
  run.length = o.length;
  if (o.conductor) run.conductor = size_text(o, *o.conductor);
  run.insulation = o.insulation;
  run.laid = o.laid;
  run.ambient = o.ambient;
  run.circuits_together = o.circuits_together;
  run.joints = o.joints;
  run.conductor_temperature = o.conductor_temperature;
  if (o.fuse)
    if (auto fuse = fuse_of(o, diagnostics)) run.protection = {*fuse};
  d.run = {run};
  design::Case c;
  c.name = "load on";
  c.running = {"load"};
  d.load_case = {c};
  return d;
}

/// The rules that one run by itself can answer.
bool applies(const checks::Finding& f, bool with_fuse) {
  const checks::OneRun of = checks::rule_named(f.rule)->of_one_run;
  return of == checks::OneRun::yes || (with_fuse && of == checks::OneRun::with_its_device);
}

/// Findings of a named method: its drop replaces the network's.
void by_method(report::Cable& cable, const CableOptions& o) {
  if (*o.method == wiring::NamedMethod::table) return;
  const auto& run = cable.design->runs.front();
  Working working;
  const Current current = o.current ? *o.current : *o.power / *o.voltage;
  cable.by_method = wiring::by_named_method(
      *o.method, current, 2.0 * o.length, cable.drop_limit, run.conductor,
      tables::series_named(*cable.design->tables, cable.design->sizes), &working);
  const auto all = checks::rules();
  const auto* rule = *std::find_if(all.begin(), all.end(), [](const checks::Rule* one) {
    return one->about == checks::About::drop;
  });
  std::erase_if(cable.findings, [&](const checks::Finding& f) { return f.rule == rule->name; });
  if (!cable.by_method->drop) return;
  auto f = checks::judge(*rule, "run/cable", *cable.by_method->drop, checks::Bound::at_most,
                         {cable.drop_limit, as_asked}, std::move(working));
  f.message = "by " + cable.method + " the run loses " + print(*cable.by_method->drop) +
              ", at most " + print(cable.drop_limit) + " is allowed";
  cable.findings.insert(cable.findings.begin(), std::move(f));
}

}  // namespace

FieldList cable_options() { return fields<CableOptions>; }

int run_cable(const Node& typed, World& world) {
  const auto options = options_from<CableOptions>(typed, world);
  if (!options) return usage;
  const CableOptions& o = *options;
  Diagnostics diagnostics;
  auto tables = tables_for(world, o.tables, {.towns = false}, diagnostics);
  if (!tables) return refuse(world, *o.format, diagnostics);
  tables->profiles.push_back(profile_of(o));
  design::Document document = document_of(o, diagnostics);
  auto design = design::resolve(document, *tables, Defaults::ordinary, diagnostics);
  if (!design || diagnostics.any_error()) return refuse(world, *o.format, diagnostics);
  energy::Assessment energy = energy::assess(*design);
  auto cases = checks::load_cases(*design, energy);
  auto wired = wiring::assess(*design, cases);
  if (!o.conductor && wired.runs.front().smallest) {  // checked again with what was chosen
    document.run.front().conductor = wired.runs.front().smallest->name;
    design = design::resolve(document, *tables, Defaults::ordinary, diagnostics);
    if (!design) return refuse(world, *o.format, diagnostics);
    wired = wiring::assess(*design, cases);
  }
  const energy::Outlook no_outlook;
  report::Cable cable{*design,
                      wired,
                      checks::evaluate({*design, energy, wired, no_outlook}),
                      {},
                      *o.voltage * double(*o.drop),
                      std::string(word(*o.method)),
                      {}};
  std::erase_if(cable.findings,
                [&](const checks::Finding& f) { return !applies(f, o.fuse.has_value()); });
  by_method(cable, o);
  CableOptions asked;  // once more without defaults, to tell what was assumed
  Reading again{diagnostics};
  (void)read_table(typed, fields<CableOptions>, &asked, again);
  fill_defaults(fields<CableOptions>, &asked, Defaults::ordinary, "", cable.assumed);
  std::erase_if(cable.assumed, [](const Assumption& a) { return a.path == "format"; });
  answer(
      world, *o.format, [&] { return report::cable_page(cable, o.working.value_or(false)); },
      [&] { return report::cable_json(cable); });
  return checks::worst(cable.findings).worse() == checks::Verdict::fail ? check_fails : ok;
}

}  // namespace housepower::cli

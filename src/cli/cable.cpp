// SPDX-License-Identifier: Apache-2.0
// cable: one run by its options. It builds a design of one feed, one run and one load, and asks the
// same resolve, network and rules as a design file, so that it cannot disagree with `check`. What the
// options leave out is asked a second time at its worst: a pass that does not hold there is none.
#include <algorithm>
#include <cctype>

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
  std::optional<std::string> terminals;
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
    field<&cli::CableOptions::ampacity_table>(
        "ampacity_table",
        "The table of ampacities; left out, by insulation and lie as in a caravan.")
        .or_else("bs-7671-4f2-90"),
    field<&cli::CableOptions::insulation>("insulation",
                                          "Temperature that the insulation bears for good.")
        .or_else("90 °C")
        .at_least(celsius(60))
        .at_most(celsius(200)),
    field<&cli::CableOptions::ambient>("ambient", "Temperature of the air around it.")
        .or_else("30 °C"),
    field<&cli::CableOptions::circuits_together>(
        "circuits_together", "Loaded circuits that lie together, this one included.")
        .or_else("1")
        .at_least(Ratio(1.0))
        .at_most(Ratio(100.0)),
    field<&cli::CableOptions::laid>("laid", "How it lies.").or_else("clipped"),
    field<&cli::CableOptions::terminals>(
        "terminals",
        "What devices and terminals near it bear, or none; left out, what belongs to the table.",
        "75 °C"),
    field<&cli::CableOptions::sizes>("sizes", "The series to choose from: metric or awg.")
        .or_else("metric"),
    field<&cli::CableOptions::conductor_temperature>(
        "conductor_temperature", "Held at this temperature, instead of what the load makes of it.",
        "75 °C"),
    field<&cli::CableOptions::source_resistance>("source_resistance", "Of what feeds the run.",
                                                 "5 mohm"),
    field<&cli::CableOptions::joints>("joints", "Lugs and studs of both conductors.")
        .or_else("0")
        .at_least(Ratio(0.0))
        .at_most(Ratio(1000.0)),
    field<&cli::CableOptions::fuse>("fuse", "Type and rating of the device at the source.",
                                    "iso-8820-3-c 25 A"),
    field<&cli::CableOptions::bank_resistance>(
        "bank_resistance", "The least that the source can have, for the largest fault.", "1 mohm"),
    field<&cli::CableOptions::bank_voltage>(
        "bank_voltage",
        "Open-circuit voltage for the largest fault; left out, 14.12 V for each 12 V.", "14.1 V"),
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

/// The profile whose tables are read where none is named, and whose terminals go with a table that
/// names no other.
constexpr std::string_view usual_profile = "iec-en-leisure";

/// What --terminals says, as the limits of a profile.
void limit_terminals(const CableOptions& o, tables::RuleProfile& p, Diagnostics& diagnostics) {
  if (!o.terminals) return;
  const auto as_printed_to =
      p.terminals.empty() ? std::optional<Temperature>{} : p.terminals.front().as_printed_to;
  p.terminals.clear();
  if (*o.terminals == "none") return;
  const auto limit = parse_quantity(*o.terminals, kind_of<Temperature>);
  if (const auto* problem = std::get_if<ParseProblem>(&limit)) {
    diagnostics.error({"--terminals"}, "terminals",
                      "wants a temperature or none: " + problem->message, problem->hint);
    return;
  }
  p.terminals = {
      {Temperature::from_value(std::get<Number>(limit).si), {}, as_printed_to, as_asked}};
}

/// What the options ask for as a rule profile: their drop fails, their table rates.
tables::RuleProfile profile_of(const CableOptions& o, std::string name,
                               const tables::Tables& tables, Diagnostics& diagnostics) {
  const auto* table = o.ampacity_table ? tables.ampacity(*o.ampacity_table) : nullptr;
  const auto* usual = tables.profile(usual_profile);
  const auto* of_table = table ? tables.profile(table->profile) : usual;
  tables::RuleProfile p;
  p.name = std::move(name);
  p.title = "one run by its options";
  p.drop_classes = {{"other", std::nullopt, *o.drop, true, as_asked}};
  if (o.ampacity_table) {
    p.ampacity_above = p.ampacity_below_90 = *o.ampacity_table;
    if (*o.ampacity_table == usual->ampacity_above || *o.ampacity_table == usual->ampacity_below_90)
      p.ampacity_small = usual->ampacity_small;
  } else {
    p.ampacity_above = usual->ampacity_above;
    p.ampacity_below_90 = usual->ampacity_below_90;
    p.ampacity_small = usual->ampacity_small;
    p.ampacity_conduit = usual->ampacity_conduit;
  }
  if (of_table) {
    p.terminals = of_table->terminals;
    p.device_limits = of_table->device_limits;
  }
  limit_terminals(o, p, diagnostics);
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
    const bool rating_alone = std::isdigit(static_cast<unsigned char>(o.fuse->front())) != 0;
    diagnostics.error({"--fuse"}, "fuse",
                      rating_alone
                          ? "name the type before the rating, such as \"iso-8820-3-c 25 A\""
                          : "wants a type and a rating such as \"iso-8820-3-c 25 A\": " +
                                problem->message,
                      rating_alone ? "`housepower tables` lists the types" : problem->hint);
    return std::nullopt;
  }
  design::ProtectionOfRun p;
  p.end = design::RunEnd::from;
  p.type = o.fuse->substr(0, space);
  p.rating = Current::from_value(std::get<Number>(rating).si);
  p.distance = 0.0 * metre;
  return p;
}

design::Document document_of(const CableOptions& o, const std::string& profile,
                             Diagnostics& diagnostics) {
  design::Document d;
  d.vehicle.name = "cable";
  d.vehicle.system_voltage = *o.voltage;
  d.rules.profile = profile;
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
  run.insulation_material = design::Insulation::pvc;
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

/// One answer: that of the options, or of the same with what they leave out at its worst.
struct Answer {
  design::Design design;
  wiring::Assessment wired;
  std::vector<checks::Finding> findings;
  std::optional<wiring::ByNamedMethod> by_method{};
};

const checks::Rule& rule_about(checks::About about) {
  const auto all = checks::rules();
  return **std::find_if(all.begin(), all.end(),
                        [&](const checks::Rule* one) { return one->about == about; });
}

/// Findings of a named method: its drop replaces the network's.
void by_method(Answer& answer, const CableOptions& o) {
  if (*o.method == wiring::NamedMethod::table) return;
  const auto& run = answer.design->runs.front();
  const Voltage limit = *o.voltage * double(*o.drop);
  Working working;
  const Current current = o.current ? *o.current : *o.power / *o.voltage;
  answer.by_method = wiring::by_named_method(
      *o.method, current, 2.0 * o.length, limit, run.conductor,
      tables::series_named(*answer.design->tables, answer.design->sizes), &working);
  const checks::Rule& rule = rule_about(checks::About::drop);
  std::erase_if(answer.findings, [&](const checks::Finding& f) { return f.rule == rule.name; });
  if (!answer.by_method->drop) return;
  auto f = checks::judge(rule, subject_of(answer.design, run), *answer.by_method->drop,
                         checks::Bound::at_most, {limit, as_asked}, std::move(working));
  f.message = "by " + std::string(word(*o.method)) + " the run loses " +
              print(*answer.by_method->drop) + ", at most " + print(limit) + " is allowed";
  answer.findings.insert(answer.findings.begin(), std::move(f));
}

/// Where no size of the series suffices that is no question left open, it fails.
void none_suffices(Answer& answer) {
  const auto& facts = answer.wired.runs.front();
  if (answer.design->runs.front().conductor || facts.smallest) return;
  for (checks::Finding& f : answer.findings) {
    const bool bears = facts.smallest_for_ampacity || !checks::is_about(f, checks::About::load);
    const auto* largest = std::get_if<wiring::Ampacity>(&facts.ampacity);
    if (bears || !largest) continue;
    f.verdict = checks::Verdict::fail;
    f.message = "no size of the series bears " + print(facts.current.outgoing) +
                " where the run lies; its largest, " + facts.outgoing.conductor.name + ", bears " +
                print(largest->value) + (largest->beyond.empty() ? "" : ": " + largest->beyond);
    f.cure = "conductors in parallel, hotter-rated insulation, a cooler or freer run, or less load";
  }
}

/// `conductor`: as chosen before; else that of the options, or the smallest that suffices.
std::optional<Answer> cable_answer(const CableOptions& o, const std::string& profile,
                                   const tables::Tables& tables,
                                   const std::optional<std::string>& conductor,
                                   Diagnostics& diagnostics) {
  design::Document document = document_of(o, profile, diagnostics);
  if (conductor) document.run.front().conductor = *conductor;
  auto design = design::resolve(document, tables, Defaults::ordinary, diagnostics);
  if (!design || diagnostics.any_error()) return std::nullopt;
  const energy::Assessment energy = energy::assess(*design);
  const auto cases = checks::load_cases(*design, energy);
  auto wired = wiring::assess(*design, cases);
  if (!document.run.front().conductor && wired.runs.front().smallest)  // again with what was chosen
    return cable_answer(o, profile, tables, wired.runs.front().smallest->name, diagnostics);
  const energy::Outlook no_outlook;
  Answer answer{std::move(*design), std::move(wired), {}};
  answer.findings = checks::evaluate({answer.design, energy, answer.wired, no_outlook});
  std::erase_if(answer.findings,
                [&](const checks::Finding& f) { return !applies(f, o.fuse.has_value()); });
  by_method(answer, o);
  none_suffices(answer);
  return answer;
}

/// What the options leave out, at its worst. A table that was named keeps its coolest column.
CableOptions at_worst(const CableOptions& o, const CableOptions& asked,
                      const tables::Tables& tables) {
  CableOptions worst = o;
  const auto* table = o.ampacity_table ? tables.ampacity(*o.ampacity_table) : nullptr;
  if (!asked.insulation) {
    worst.insulation = celsius(60.0);
    if (table && !table->insulation.empty())
      worst.insulation = std::max(*worst.insulation, table->insulation.front());
  }
  if (!asked.laid) worst.laid = design::Laid::in_insulation;
  if (!asked.circuits_together) worst.circuits_together = 4;
  if (!asked.ambient) worst.ambient = celsius(40.0);
  if (!asked.joints) worst.joints = 4;
  return worst;
}

std::vector<std::string> unsaid_of(const CableOptions& asked) {
  std::vector<std::string> all;
  if (!asked.insulation) all.emplace_back("--insulation");
  if (!asked.laid) all.emplace_back("--laid");
  if (!asked.circuits_together) all.emplace_back("--circuits-together");
  if (!asked.ambient) all.emplace_back("--ambient");
  if (!asked.joints) all.emplace_back("--joints");
  return all;
}

/// "--laid, --ambient"; joints bear on the drop only.
std::string listed_options(const std::vector<std::string>& options, bool with_joints) {
  std::string list;
  for (const std::string& option : options)
    if (with_joints || option != "--joints") list += (list.empty() ? "" : ", ") + option;
  return list;
}

/// What passes as assumed but not at worst rests on what nobody said.
void hold_to_worst(std::vector<checks::Finding>& findings,
                   const std::vector<checks::Finding>& worst,
                   const std::vector<std::string>& unsaid) {
  using checks::Verdict;
  for (checks::Finding& f : findings) {
    const auto same = std::find_if(worst.begin(), worst.end(), [&](const checks::Finding& w) {
      return w.rule == f.rule && w.subject == f.subject && w.in_case == f.in_case;
    });
    if (same == worst.end() || f.verdict >= Verdict::caution || same->verdict < Verdict::caution)
      continue;
    const bool of_load = checks::is_about(f, checks::About::load);
    f.verdict = Verdict::caution;
    f.message += "; at worst: " + same->message;
    f.cure = "state " + listed_options(unsaid, !of_load) +
             (same->cure.empty() ? "" : "; at worst " + same->cure);
  }
}

/// What the conductor and the table's profile allow.
std::optional<Current> largest_fuse_of(const Answer& answer) {
  const auto* bears = std::get_if<wiring::Ampacity>(&answer.wired.runs.front().ampacity);
  const auto& run = answer.design->runs.front();
  if (!bears || !run.conductor) return std::nullopt;
  Current most = bears->value;
  for (const auto& limit : answer.design->profile->device_limits)
    if (run.conductor->nominal <= limit.up_to) return std::min(most, limit.at_most);
  return most;
}

checks::Finding no_fuse(const design::Design& design, const std::optional<Current>& most) {
  auto f = checks::not_checked(
      rule_about(checks::About::missing_device), subject_of(design, design->runs.front()),
      "protection was not looked at" +
          (most ? "; the device may be at most " + print(*most) : std::string()));
  f.cure = "--fuse \"TYPE RATING\", with --bank-resistance for the largest fault";
  return f;
}

Assumption assumed_terminals(const tables::RuleProfile& profile) {
  std::string value;
  for (const auto& one : profile.terminals) {
    value += (value.empty() ? "" : ", then ") + print(Number(one.limit));
    if (one.up_to) value += " up to " + print(*one.up_to);
  }
  return {"terminals", value.empty() ? "none" : value, "what belongs to the table"};
}

report::Cable cable_shown(const Answer& answer, const CableOptions& o) {
  return {answer.design,
          answer.wired,
          answer.findings,
          {},
          *o.voltage * double(*o.drop),
          std::string(word(*o.method)),
          answer.by_method,
          largest_fuse_of(answer)};
}

}  // namespace

FieldList cable_options() { return fields<CableOptions>; }

int run_cable(const Node& typed, World& world) {
  const auto options = options_from<CableOptions>(typed, world);
  if (!options) return usage;
  CableOptions o = *options;
  Diagnostics diagnostics;
  auto tables = tables_for(world, o.tables, {.towns = false}, diagnostics);
  if (!tables) return refuse(world, *o.format, diagnostics);
  CableOptions asked;  // once more without defaults, to tell what was assumed
  Reading again{diagnostics};
  (void)read_table(typed, fields<CableOptions>, &asked, again);
  o.ampacity_table = asked.ampacity_table;  // else by insulation and lie, as a design's
  const CableOptions worst = at_worst(o, asked, *tables);
  auto profile = profile_of(o, "cable", *tables, diagnostics);
  Diagnostics said_before;
  auto profile_at_worst = profile_of(worst, "cable at worst", *tables, said_before);
  tables->profiles.push_back(std::move(profile));
  tables->profiles.push_back(std::move(profile_at_worst));
  if (o.ampacity_table && !tables->ampacity(*o.ampacity_table))
    diagnostics.error({"--ampacity-table"}, "ampacity-table",
                      "there is no ampacity table \"" + *o.ampacity_table + "\"",
                      "`housepower tables` lists them");
  if (diagnostics.any_error()) return refuse(world, *o.format, diagnostics);
  auto as_assumed = cable_answer(o, "cable", *tables, {}, diagnostics);
  if (!as_assumed) return refuse(world, *o.format, diagnostics);
  const auto& used = as_assumed->design->runs.front().conductor;
  const auto at_its_worst =
      cable_answer(worst, "cable at worst", *tables,
                   used ? std::optional<std::string>(used->name) : std::nullopt, diagnostics);
  if (!at_its_worst) return refuse(world, *o.format, diagnostics);

  const report::Cable worst_shown = cable_shown(*at_its_worst, worst);
  report::Cable cable = cable_shown(*as_assumed, o);
  cable.unsaid = unsaid_of(asked);
  cable.at_worst = &worst_shown;
  hold_to_worst(cable.findings, worst_shown.findings, cable.unsaid);
  if (!o.fuse) cable.findings.push_back(no_fuse(as_assumed->design, cable.largest_fuse));
  std::stable_sort(cable.findings.begin(), cable.findings.end(),
                   [](const auto& a, const auto& b) { return a.verdict > b.verdict; });
  fill_defaults(fields<CableOptions>, &asked, Defaults::ordinary, "", cable.assumed);
  std::erase_if(cable.assumed, [](const Assumption& a) { return a.path == "format"; });
  const auto* bears = std::get_if<wiring::Ampacity>(&as_assumed->wired.runs.front().ampacity);
  for (Assumption& a : cable.assumed)
    if (a.path == "ampacity_table" && bears) a.value = bears->table;
  if (!o.terminals) cable.assumed.push_back(assumed_terminals(*as_assumed->design->profile));
  answer(
      world, *o.format, [&] { return report::cable_page(cable, o.working.value_or(false)); },
      [&] { return report::cable_json(cable); });
  return checks::worst(cable.findings).worse() == checks::Verdict::fail ? check_fails : ok;
}

}  // namespace housepower::cli

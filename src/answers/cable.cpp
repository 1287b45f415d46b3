// SPDX-License-Identifier: Apache-2.0
#include "housepower/answers/cable.hpp"

#include <algorithm>
#include <array>

#include "cable_design.hpp"
#include "cable_judged.hpp"
#include "housepower/reading/shape.hpp"
#include "housepower/units/phrases.hpp"
#include "housepower/units/unit.hpp"
#include "housepower/wiring/formulas.hpp"

namespace housepower::answers {
namespace {

using checks::About;
using checks::Finding;
using checks::Verdict;
using wiring::CaseResult;

// ---- What can be answered ----

struct LimitedValue {
  std::string_view key;
  std::optional<Number> value;
};
std::array<LimitedValue, 10> limited_values(const CableAsked& a) {
  const auto count = [](const std::optional<int>& n) {
    return n ? std::optional<Number>(Ratio(double(*n))) : std::nullopt;
  };
  return {{{"current", a.current},
           {"power", a.power},
           {"length", a.length},
           {"voltage", a.voltage},
           {"drop", a.drop},
           {"insulation", a.insulation},
           {"circuits_together", count(a.circuits_together)},
           {"joints", count(a.joints)},
           {"source_resistance", a.source_resistance},
           {"bank_resistance", a.bank_resistance}}};
}

bool is_within(const Field& field, double si) {
  return (!field.above || si > field.above->si) && (!field.least || si >= field.least->si) &&
         (!field.most || si <= field.most->si);
}

bool is_sound(const CableAsked& asked, const tables::Tables& tables, Diagnostics& diagnostics) {
  const std::size_t before = diagnostics.all.size();
  if (asked.current.has_value() == asked.power.has_value())
    diagnostics.error({}, "current",
                      "wants the current or the power of the load, just one of them");
  for (const auto& [key, value] : limited_values(asked)) {
    const Field& field = *detail::field_named(fields<CableAsked>, key);
    if (value && !is_within(field, value->si))
      diagnostics.error({}, std::string(key),
                        "must be " + detail::limits_of(field) + ", is " + print(*value));
  }
  const Voltage nominal = asked.voltage.value_or(12.0 * volt);
  if (asked.bank_voltage && (*asked.bank_voltage < nominal || *asked.bank_voltage > 2.0 * nominal))
    diagnostics.error({"--bank-voltage"}, "bank-voltage",
                      "is the highest of the source: from " + print(Number(nominal)) + " to " +
                          print(Number(2.0 * nominal)) + ", is " +
                          print(Number(*asked.bank_voltage)));
  if (asked.device && asked.device->rating <= 0.0 * ampere)
    diagnostics.error({}, "fuse", "must have a rating above 0 A");
  const auto& table = asked.ampacity_table;
  if (table && !tables.ampacity(*table))
    diagnostics.error({"--ampacity-table"}, "ampacity-table",
                      "there is no ampacity table \"" + *table + "\"",
                      "`housepower tables` lists them");
  return diagnostics.all.size() == before;
}

// ---- Its figures ----

std::optional<std::string> name_of(const MaybeConductor& c) {
  return c ? std::optional<std::string>(tables::shown_name(*c)) : std::nullopt;
}

/// Where no size suffices for one of them, that one does.
CableGoverns what_governs(const MaybeConductor& for_drop, const MaybeConductor& for_ampacity) {
  if (!for_drop && !for_ampacity) return CableGoverns::both;
  if (!for_drop || !for_ampacity) return for_drop ? CableGoverns::ampacity : CableGoverns::drop;
  if (for_drop->copper > for_ampacity->copper) return CableGoverns::drop;
  return for_ampacity->copper > for_drop->copper ? CableGoverns::ampacity : CableGoverns::both;
}

void add_sizes(CableFigures& figures, const CableJudged& judged) {
  const auto& facts = judged.wiring.runs.front();
  const MaybeConductor for_drop = for_drop_of(judged);
  const MaybeConductor smallest = smallest_of(judged);
  figures.for_drop = name_of(for_drop);
  figures.for_ampacity = name_of(facts.smallest_for_ampacity);
  figures.smallest = name_of(smallest);
  figures.governs = what_governs(for_drop, facts.smallest_for_ampacity);
  const auto& given = judged.design->runs.front().conductor;
  figures.too_small = given && smallest && smallest->copper > given->copper;
}

/// What the conductor and the table's profile allow.
void add_largest_device(CableFigures& figures, const CableJudged& judged) {
  const auto* iz = std::get_if<wiring::Ampacity>(&judged.wiring.runs.front().ampacity);
  const auto& conductor = judged.design->runs.front().conductor;
  if (!iz || !conductor) return;
  figures.largest_device = iz->value;
  if (const auto* limit = judged.design->profile->device_limit(conductor->nominal)) {
    figures.device_limited = limit->at_most < iz->value;
    figures.largest_device = std::min(iz->value, limit->at_most);
  }
}

void add_ampacity(CableFigures& figures, const wiring::AmpacityAnswer& answer) {
  const auto* iz = std::get_if<wiring::Ampacity>(&answer);
  if (!iz) return;
  figures.ampacity = iz->value;
  figures.table = std::string(iz->table);
  figures.row = iz->row;
  figures.base = iz->base_ambient;
  figures.ambient = iz->ambient, figures.terminal = iz->terminal;
  figures.grouping = iz->grouping, figures.laid = iz->laid;
}

void add_operating_point(CableFigures& figures, const CableJudged& judged) {
  const auto& conductor = judged.wiring.runs.front().outgoing.conductor;
  for (const auto& in : judged.wiring.cases) {
    if (!in.load_case.judged || !in.solved() || in.runs.empty()) continue;
    const auto& at = in.runs.front();
    figures.temperature = at.conductor;
    figures.current = at.current;
    figures.drop = at.drop;
    figures.drop_share = at.drop_share;
    figures.lost = at.drop * at.current;
    if (!in.consumers.empty()) figures.at_load = in.consumers.front().voltage;
    figures.resistance =
        wiring::resistance_at_temperature(conductor.resistance_at_20, at.conductor);
    if (at.current > 0.0 * ampere) figures.loop = at.drop / at.current;
  }
}

/// The named text's own drop; ampacity stays the table's.
void put_drop_by_method(CableFigures& figures, const CableJudged& judged) {
  if (!judged.by_method) return;
  figures.drop = judged.by_method->drop;
  if (!figures.drop || !figures.current) return;
  figures.drop_share = Ratio(*figures.drop / judged.design->nominal);
  figures.at_load = judged.design->nominal - *figures.drop;
  figures.lost = *figures.drop * *figures.current;
  figures.loop = *figures.drop / *figures.current;
  figures.temperature = std::nullopt, figures.resistance = std::nullopt;
}

void add_faults(CableFigures& figures, const CableJudged& judged) {
  if (judged.wiring.devices.empty()) return;
  const auto& device = judged.wiring.devices.front();
  figures.fault = device.largest;
  figures.breaking = judged.design->runs.front().protection.front().breaking_capacity;
  if (device.smallest) figures.smallest_fault = device.smallest->value;
  figures.clearing = device.clearing;
  figures.let_through = device.let_through;
  figures.withstand = device.withstand;
}

CableFigures figures_of(const CableJudged& judged, const CableAsked& asked) {
  CableFigures figures;
  const auto& facts = judged.wiring.runs.front();
  figures.drop_limit = allowed_drop(asked);
  figures.drop_limit_share = Ratio(figures.drop_limit / judged.design->nominal);
  add_largest_device(figures, judged);
  add_sizes(figures, judged);
  if (!judged.design->runs.front().conductor && !facts.smallest) return figures;
  const auto& conductor = facts.outgoing.conductor;
  figures.conductor = tables::shown_name(conductor);
  figures.nominal = conductor.nominal;
  figures.copper = conductor.copper;
  add_ampacity(figures, facts.ampacity);
  add_operating_point(figures, judged);
  put_drop_by_method(figures, judged);
  add_faults(figures, judged);
  return figures;
}

// ---- Its worst ----

/// What was left out, at its worst. A table that was named is left where it has no column as cool as
/// the insulation may be: then that and the lie lead to one.
CableAsked at_its_worst(const CableAsked& filled, const CableAsked& asked,
                        const tables::Tables& tables) {
  CableAsked worst = filled;
  const auto* table = filled.ampacity_table ? tables.ampacity(*filled.ampacity_table) : nullptr;
  if (!asked.insulation) {
    worst.insulation = celsius(60.0);
    if (table && !table->insulation.empty() && table->insulation.front() > *worst.insulation)
      worst.ampacity_table.reset();
  }
  if (!asked.laid) worst.laid = design::Laid::in_insulation;
  if (!asked.circuits_together) worst.circuits_together = 4;
  if (!asked.ambient) worst.ambient = celsius(40.0);
  if (!asked.joints) worst.joints = 4;
  return worst;
}

constexpr std::string_view joints_option = "--joints";

std::vector<std::string> unsaid_in(const CableAsked& asked) {
  std::vector<std::string> all;
  if (!asked.insulation) all.emplace_back("--insulation");
  if (!asked.laid) all.emplace_back("--laid");
  if (!asked.circuits_together) all.emplace_back("--circuits-together");
  if (!asked.ambient) all.emplace_back("--ambient");
  if (!asked.joints) all.emplace_back(joints_option);
  return all;
}

/// "--laid, --ambient"; joints bear on the drop only.
std::string to_be_stated(std::vector<std::string> options, bool with_joints) {
  if (!with_joints) std::erase(options, joints_option);
  return listed(options);
}

/// What passes as assumed but not at worst rests on what nobody said.
void hold_to(std::span<const Finding> worst, const std::vector<std::string>& unsaid,
             std::vector<Finding>& findings) {
  for (Finding& f : findings) {
    const Finding* same = checks::same_finding(worst, f);
    if (!same || f.verdict >= Verdict::caution || same->verdict <= f.verdict) continue;
    f.verdict = Verdict::caution;
    f.message += "; at worst: " + same->message;
    f.cure = "state " + to_be_stated(unsaid, !checks::is_about(f, About::load)) +
             (same->cure.empty() ? "" : "; at worst " + same->cure);
  }
}

Finding no_device(const CableJudged& judged) {
  const auto& most = judged.figures.largest_device;
  auto f = checks::not_checked(
      rule_about(About::missing_device), subject_of(judged.design, judged.design->runs.front()),
      "protection was not looked at" +
          (most ? "; the device may be at most " + print(*most) : std::string()));
  f.cure = "--fuse \"TYPE RATING\", with --bank-resistance for the largest fault";
  return f;
}

std::vector<Finding> findings_of(const CableReport& r, bool with_device) {
  std::vector<Finding> findings = r.as_assumed.findings;
  hold_to(r.at_worst.findings, r.unsaid, findings);
  if (!with_device) findings.push_back(no_device(r.as_assumed));
  std::stable_sort(findings.begin(), findings.end(),
                   [](const Finding& a, const Finding& b) { return a.verdict > b.verdict; });
  return findings;
}

Assumption terminals_assumed(const tables::RuleProfile& profile) {
  std::string value;
  for (const auto& one : profile.terminals) {
    value += (value.empty() ? "" : ", then ") + print(Number(one.limit));
    if (one.up_to) value += " up to " + print(*one.up_to);
  }
  return {"terminals", value.empty() ? "none" : value, "what belongs to the table"};
}

/// The ampacity table is the one that insulation and lie led to.
void complete_assumed(std::vector<Assumption>& assumed, const CableReport& r,
                      const CableAsked& asked) {
  const auto* iz = std::get_if<wiring::Ampacity>(&r.as_assumed.wiring.runs.front().ampacity);
  for (Assumption& a : assumed)
    if (a.path == "ampacity_table" && iz) a.value = iz->table;
  if (!asked.terminals) assumed.push_back(terminals_assumed(*r.as_assumed.design->profile));
}

/// A problem of what an option said is that option's.
void name_options(Diagnostics& diagnostics) {
  for (Diagnostic& d : diagnostics.all)
    if (d.place.is_option()) d.key = d.place.file.substr(2);
}

}  // namespace

const Finding* held_to_worst(const CableReport& r, const Finding& f) {
  const Finding* before = checks::same_finding(r.as_assumed.findings, f);
  return before && before->verdict < f.verdict ? checks::same_finding(r.at_worst.findings, f)
                                               : nullptr;
}

std::optional<CableReport> cable(const CableAsked& asked, const tables::Tables& given_tables,
                                 Diagnostics& diagnostics) {
  if (!is_sound(asked, given_tables, diagnostics)) return std::nullopt;
  CableAsked filled = asked;
  std::vector<Assumption> assumed;
  fill_defaults(fields<CableAsked>, &filled, Defaults::ordinary, "", assumed);
  filled.ampacity_table = asked.ampacity_table;  // else by insulation and lie, as a design's
  const CableAsked worst = at_its_worst(filled, asked, given_tables);
  const auto tables = std::make_shared<tables::Tables>(given_tables);
  tables->profiles.push_back(cable_profile(filled, asked.drop.has_value(), "cable", given_tables));
  tables->profiles.push_back(
      cable_profile(worst, asked.drop.has_value(), "cable at worst", given_tables));
  auto as_assumed = judged_in(filled, "cable", *tables, {}, diagnostics);
  name_options(diagnostics);
  if (!as_assumed) return std::nullopt;
  const auto& used = as_assumed->design->runs.front().conductor;
  auto at_worst = judged_in(worst, "cable at worst", *tables,
                            used ? std::optional(used->name) : std::nullopt, diagnostics);
  if (!at_worst) return std::nullopt;
  as_assumed->figures = figures_of(*as_assumed, filled);
  at_worst->figures = figures_of(*at_worst, worst);
  CableReport r{
      tables, *std::move(as_assumed), *std::move(at_worst), *filled.method, {}, unsaid_in(asked),
      {}};
  r.findings = findings_of(r, asked.device.has_value());
  complete_assumed(assumed, r, asked);
  r.assumed = std::move(assumed);
  return r;
}

}  // namespace housepower::answers

// SPDX-License-Identifier: Apache-2.0
// The answers of the commands, each as a Page for people and as JSON for programs. The JSON keys
// are frozen: more may be added, none changes its name or meaning. Numbers are full doubles in the
// unit that the key ends with.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "housepower/answers/checked_design.hpp"
#include "housepower/choice/choose.hpp"
#include "housepower/choice/headroom.hpp"
#include "housepower/energy/years.hpp"
#include "housepower/page/page.hpp"
#include "housepower/wiring/named_methods.hpp"
#include "housepower/working/registry.hpp"

namespace housepower::report {

// The words of a page are this room's own.
using namespace page;
using answers::CheckedDesign;
using answers::verdicts_of;

/// How much the text shows beside what needs attention: what passes, the working and the source of
/// each, and with `full` energy, wiring and what was assumed.
struct Detail {
  bool passes = false, working = false, sources = false, full = false;
};
/// On one screen, but for what is asked for besides. `parked`: the stay as `stay` tells it.
[[nodiscard]] Page check_page(const CheckedDesign&, const Detail&,
                              const std::optional<energy::StayAnswer>& parked);
/// What was not checked: to be looked at, and by the keys that would tell, the most needed first.
[[nodiscard]] Page open_page(const CheckedDesign&);
/// One finding with its working.
[[nodiscard]] Page finding_page(const checks::Finding&);
[[nodiscard]] std::string finding_json(const checks::Finding&);
/// Nothing is drawn or nothing is used, so that there is nothing to check.
[[nodiscard]] bool is_empty(const design::Design&);
[[nodiscard]] std::string check_json(const CheckedDesign&);

[[nodiscard]] Page energy_page(const design::Design&, const energy::Assessment&);
/// With each month over the years of the hourly simulation, and the promised stay.
[[nodiscard]] Page energy_page(const CheckedDesign&, std::span<const energy::MonthOverYears>);
[[nodiscard]] std::string energy_json(const CheckedDesign&,
                                      std::span<const energy::MonthOverYears>);
[[nodiscard]] Page wiring_page(const design::Design&, const wiring::Assessment&);
/// What `wiring` adds to that: choices for what is left open, and with them headroom and changes.
struct Sized {
  choice::Chosen chosen;
  std::vector<choice::Headroom> headroom;
  std::vector<choice::WhatIf> what_if;
};
[[nodiscard]] Page wiring_page(const CheckedDesign&, const Sized&);
[[nodiscard]] std::string wiring_json(const CheckedDesign&, const Sized&);

/// One run without a file (`cable`): the same resolve, network and rules as a design of two nodes.
struct Cable {
  const design::Design& design;
  const wiring::Assessment& wiring;
  std::vector<checks::Finding> findings;
  std::vector<Assumption> assumed;
  Voltage drop_limit{};
  std::string method = "table";
  std::optional<wiring::ByNamedMethod> by_method{};  // replaces drop and sizes where it is present
  std::optional<Current> largest_fuse{};             // that the conductor allows
  const Cable* at_worst = nullptr;    // the same conductor with what was not said at its worst
  std::vector<std::string> unsaid{};  // the options of that, "--laid"
};
[[nodiscard]] Page cable_page(const Cable&, bool with_working);
[[nodiscard]] std::string cable_json(const Cable&);

/// Every formula of the engine, by name.
[[nodiscard]] std::vector<FormulaEntry> all_formulas();
struct FormulaAnswer {
  const FormulaEntry& entry;
  std::optional<Number> value;  // where operands were given
  Working working;
  std::string why_none;  // the operands were given, but nothing solves it
};
[[nodiscard]] Page formula_list_page(std::span<const FormulaEntry>);
[[nodiscard]] std::string formula_list_json(std::span<const FormulaEntry>);
[[nodiscard]] Page formula_page(const FormulaAnswer&);
[[nodiscard]] std::string formula_json(const FormulaAnswer&);

[[nodiscard]] Page rule_list_page();
[[nodiscard]] std::string rule_list_json();
[[nodiscard]] Page rule_page(const checks::Rule&);
[[nodiscard]] std::string rule_json(const checks::Rule&);

[[nodiscard]] Page table_list_page(const tables::Tables&);
[[nodiscard]] std::string table_list_json(const tables::Tables&);
[[nodiscard]] Page table_page(const tables::View&);
[[nodiscard]] std::string table_json(const tables::View&);

/// Bad input: what is wrong, where, and what to do.
[[nodiscard]] std::string diagnostics_json(const Diagnostics&);

}  // namespace housepower::report

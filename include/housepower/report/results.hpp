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
#include "housepower/answers/formula.hpp"
#include "housepower/page/page.hpp"
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
/// `quick`: it says of itself that it was made without workings and tried cures.
[[nodiscard]] std::string check_json(const CheckedDesign&, bool quick = false);

[[nodiscard]] Page energy_page(const design::Design&, const energy::Assessment&);
[[nodiscard]] Page wiring_page(const design::Design&, const wiring::Assessment&);

using answers::FormulaAnswer;
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

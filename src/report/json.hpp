// SPDX-License-Identifier: Apache-2.0
// How values, sources, steps and findings stand in JSON: shared by every answer of the room.
#pragma once

#include "housepower/answers/wiring.hpp"
#include "housepower/page/rows.hpp"
#include "housepower/page/words.hpp"
#include "housepower/report/results.hpp"

namespace housepower::report {

using page::json_of;

[[nodiscard]] Json json_of(const checks::Finding&);
[[nodiscard]] Json diagnostics_list(const Diagnostics&);
/// verdict (the worse), verdict_safety, verdict_service.
void add_verdicts(Json&, const checks::Verdicts&);
/// The same by itself, where the answer is about something else.
[[nodiscard]] Json verdicts_of_design(const checks::Checked&);
/// Said first where the design fails; nothing where it does not.
[[nodiscard]] std::optional<VerdictLine> said_of_fails(const checks::Checked&);
[[nodiscard]] Json findings_json(std::span<const checks::Finding>);

/// The unit in which a finding's numbers are told.
[[nodiscard]] Unit unit_of(const checks::Finding&);

[[nodiscard]] Json energy_object(const energy::Assessment&);
[[nodiscard]] Json wiring_object(const design::Design&, const wiring::Assessment&);
[[nodiscard]] Json sizing_object(const answers::WiringReport&);
[[nodiscard]] Json choices_json(std::span<const choice::Choice>);
[[nodiscard]] TableBlock choice_table(std::string title, std::span<const choice::Choice>);
/// What was chosen for what is open; headroom and changes.
void append_choices(Page&, const choice::Chosen&);
void append_headroom(Page&, const answers::WiringReport&);
/// The numbers of one device in a design, or of the fuse of a cable.
[[nodiscard]] Json design_object(const CheckedDesign&);

}  // namespace housepower::report

// SPDX-License-Identifier: Apache-2.0
// The commands' functions, one or more to a file; commands.cpp lists them.
#pragma once

#include "command.hpp"

namespace housepower::cli {

[[nodiscard]] FieldList check_options();
[[nodiscard]] FieldList energy_options();
[[nodiscard]] FieldList wiring_options();
[[nodiscard]] FieldList stay_options();
[[nodiscard]] FieldList mend_options();
[[nodiscard]] FieldList size_options();
[[nodiscard]] FieldList range_options();
[[nodiscard]] FieldList compare_options();
[[nodiscard]] FieldList test_sheet_options();
[[nodiscard]] FieldList record_options();
[[nodiscard]] FieldList build_list_options();
[[nodiscard]] FieldList looms_options();
[[nodiscard]] FieldList replace_options();
[[nodiscard]] FieldList schedule_options();
[[nodiscard]] FieldList name_options();
[[nodiscard]] FieldList formula_options();  // with values, too
[[nodiscard]] FieldList cable_options();
[[nodiscard]] FieldList schema_options();
[[nodiscard]] FieldList loads_options();
[[nodiscard]] FieldList runs_options();
[[nodiscard]] FieldList parts_options();
[[nodiscard]] FieldList manual_options();
[[nodiscard]] FieldList completions_options();
[[nodiscard]] FieldList diagram_options();
[[nodiscard]] FieldList report_options();
[[nodiscard]] FieldList page_options();

int run_check(const Node&, World&);
int run_energy(const Node&, World&);
int run_wiring(const Node&, World&);
int run_stay(const Node&, World&);
int run_mend(const Node&, World&);
int run_size(const Node&, World&);
int run_range(const Node&, World&);
int run_compare(const Node&, World&);
int run_test_sheet(const Node&, World&);
int run_record(const Node&, World&);
int run_build_list(const Node&, World&);
int run_looms(const Node&, World&);
int run_replace(const Node&, World&);
int run_schedule(const Node&, World&);
int run_explain(const Node&, World&);
int run_formula(const Node&, World&);
int run_tables(const Node&, World&);
int run_cable(const Node&, World&);
int run_schema(const Node&, World&);
int run_diagram(const Node&, World&);
int run_report(const Node&, World&);
int run_page(const Node&, World&);
[[nodiscard]] FieldList new_options();
int run_new(const Node&, World&);
int run_loads(const Node&, World&);
int run_runs(const Node&, World&);
int run_parts(const Node&, World&);
int run_manual(const Node&, World&);
int run_completions(const Node&, World&);

}  // namespace housepower::cli

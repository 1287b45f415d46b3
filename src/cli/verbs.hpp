// SPDX-License-Identifier: Apache-2.0
// The commands' functions, one or more to a file; commands.cpp lists them.
#pragma once

#include "command.hpp"

namespace housepower::cli {

[[nodiscard]] FieldList design_options();
[[nodiscard]] FieldList stay_options();
[[nodiscard]] FieldList test_sheet_options();
[[nodiscard]] FieldList name_options();
[[nodiscard]] FieldList cable_options();
[[nodiscard]] FieldList schema_options();

int run_check(const Node&, World&);
int run_energy(const Node&, World&);
int run_wiring(const Node&, World&);
int run_stay(const Node&, World&);
int run_test_sheet(const Node&, World&);
int run_explain(const Node&, World&);
int run_formula(const Node&, World&);
int run_tables(const Node&, World&);
int run_cable(const Node&, World&);
int run_schema(const Node&, World&);
int run_new(const Node&, World&);

}  // namespace housepower::cli

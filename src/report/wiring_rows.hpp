// SPDX-License-Identifier: Apache-2.0
// Rows of runs and of devices, and their columns: for the wiring's page and JSON, and for schedules.
#pragma once

#include "json.hpp"

namespace housepower::report {

/// One run: what holds for it in every case, and, with `in_case`, what one case does to it.
struct RunRow {
  std::string name, label, from, to;
  std::string conductor;
  Area area{};
  int parallel = 1;
  std::string insulation;
  Temperature insulation_limit{};
  Length length{};
  std::string back;  // its return: "as outgoing", "chassis", "4 mm2, 3 m"
  std::string lay;   // of its sections, each once
  Temperature around{};
  int together = 1;
  Current design_current{};
  std::string design_case;
  std::optional<Current> ampacity;
  std::optional<std::string> table, row;
  std::optional<Ratio> ambient, terminal, grouping, laid;
  std::optional<Current> device;  // rating of its first
  std::string devices;            // all of them
  std::string note;               // why a figure is missing or may not be relied on

  std::string in_case;
  std::optional<Current> current;
  std::optional<Voltage> drop;
  std::optional<Ratio> share;
  std::optional<Temperature> temperature;
};
[[nodiscard]] RunRow run_row(const design::Design&, const wiring::Assessment&, std::size_t run);
void add_case(RunRow&, const wiring::CaseResult&, std::size_t run);
/// In one case.
[[nodiscard]] const std::vector<Column>& run_columns();
/// Of the ampacity.
[[nodiscard]] const std::vector<Column>& factor_columns();
/// Of a cable schedule.
[[nodiscard]] const std::vector<Column>& schedule_columns();

struct DeviceRow {
  std::string label, run, end;  // label of its run
  std::optional<Length> distance;
  std::string type;
  Current rating{};
  std::optional<Current> largest, smallest, breaking;
  std::optional<Duration> clearing;
  std::optional<LetThrough> let_through, withstand;
};
[[nodiscard]] std::vector<DeviceRow> device_rows(const design::Design&, const wiring::Assessment&);
[[nodiscard]] const std::vector<Column>& device_columns();
/// With the label of the run and the place on it.
[[nodiscard]] const std::vector<Column>& device_schedule_columns();

}  // namespace housepower::report

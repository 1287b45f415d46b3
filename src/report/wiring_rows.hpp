// SPDX-License-Identifier: Apache-2.0
// Columns of runs and of devices: for the wiring's page and JSON, and for schedules.
#pragma once

#include "json.hpp"

namespace housepower::report {

/// A run of an assessed design, which outlives it; and, where one is named, a case it is looked at in.
struct RunAt {
  const design::Design& design;
  const wiring::Assessment& wiring;
  std::size_t index = 0;
  const wiring::CaseResult* in = nullptr;
  std::string remark{};  // beside what the run's own figures have to say
};
/// Tables that some of the columns stand in.
namespace runs_in {
inline constexpr unsigned laid = 2, borne = 4, lost = 8, guarded = 16;
}
/// In one case.
[[nodiscard]] const Columns<RunAt>& run_columns();
/// I_B, I_n, I_z and the drop, each with what governs it.
[[nodiscard]] const Columns<RunAt>& governing_columns();
/// "grouping 0.65": the least factor of an ampacity; "the table" where none lowers it.
[[nodiscard]] std::string least_factor(const wiring::Ampacity&);
/// Of the ampacity.
[[nodiscard]] const Columns<RunAt>& factor_columns();
/// Of a cable schedule.
[[nodiscard]] const Columns<RunAt>& schedule_columns();

struct DeviceAt {
  const design::Design& design;
  const wiring::DeviceFacts& facts;
};
[[nodiscard]] std::vector<DeviceAt> devices_at(const design::Design&, const wiring::Assessment&);
namespace devices_in {
inline constexpr unsigned json = 1, breaking = 2, clearing = 4, schedule = 8,
                          schedule_clearing = 16;
}
/// Of a schedule: with the label of the run and the place on it.
[[nodiscard]] const Columns<DeviceAt>& device_columns();

}  // namespace housepower::report

// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "common.hpp"

namespace housepower::checks {

/// A joint or contact of that resistance, wherever it is, by the limits of hot-joint.
[[nodiscard]] Finding judge_joint(Subject subject, const std::string& who, Current, Resistance,
                                  const Source&);
/// The busiest of batteries that were found to give so much, by the limit of parallel-share.
[[nodiscard]] Finding judge_shares(const std::vector<Current>&);

}  // namespace housepower::checks

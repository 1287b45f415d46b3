// SPDX-License-Identifier: Apache-2.0
// What is told once, though the same design is resolved several times for one answer.
#pragma once

#include <algorithm>

#include "housepower/reading/diagnostic.hpp"

namespace housepower::answers {

/// Adds what is not told yet: every error, and each warning of a key once.
inline void tell_new(const Diagnostics& found, Diagnostics& told) {
  for (const auto& d : found.all) {
    const bool known = std::any_of(told.all.begin(), told.all.end(), [&](const auto& one) {
      return one.severity == d.severity && one.key == d.key && one.message == d.message;
    });
    if (!known) told.all.push_back(d);
  }
}

}  // namespace housepower::answers

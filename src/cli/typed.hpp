// SPDX-License-Identifier: Apache-2.0
// Words as they are typed.
#pragma once

#include "housepower/answers/typed.hpp"

namespace housepower::cli {

using answers::in_small_letters;
using answers::trimmed;

}  // namespace housepower::cli

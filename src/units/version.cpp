// SPDX-License-Identifier: Apache-2.0
#include "housepower/version.hpp"

namespace housepower {

std::string_view version() { return HOUSEPOWER_VERSION; }

}  // namespace housepower

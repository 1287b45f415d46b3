// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "housepower/design/document.hpp"
#include "housepower/reading/diagnostic.hpp"

namespace housepower::design {

/// What a data sheet's figures say of each other. What cannot be is refused; what one may have changed to
/// try it draws a warning.
void check_module(Diagnostics&, const Module&, const Place&, const std::string& path);

}  // namespace housepower::design

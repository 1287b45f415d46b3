// SPDX-License-Identifier: Apache-2.0
// The version. These three numbers are the one statement of it: the build reads them here, and so do
// the package, the manual page and every report. Macros, because `#if` can ask nothing else.
#pragma once

#define HOUSEPOWER_VERSION_MAJOR 0
#define HOUSEPOWER_VERSION_MINOR 1
#define HOUSEPOWER_VERSION_PATCH 0

#include <string_view>

namespace housepower {

/// Of the headers, as constants.
inline constexpr int version_major = HOUSEPOWER_VERSION_MAJOR;
inline constexpr int version_minor = HOUSEPOWER_VERSION_MINOR;
inline constexpr int version_patch = HOUSEPOWER_VERSION_PATCH;

/// Of the library that is linked: "0.1.0". Another than that of the headers is a broken installation.
[[nodiscard]] std::string_view version();

}  // namespace housepower

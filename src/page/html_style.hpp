// SPDX-License-Identifier: Apache-2.0
// The looks of a page, and what stands about each sheet of paper.
#pragma once

#include <string>
#include <string_view>

namespace housepower::page {

/// For the screen in light and dark, for a phone, for paper.
[[nodiscard]] std::string_view page_style();

/// Rules for the foot of each sheet of paper: two lines on the left, the number of the sheet on the
/// right.
[[nodiscard]] std::string paper_foot(std::string_view upper, std::string_view lower);

}  // namespace housepower::page

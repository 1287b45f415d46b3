// SPDX-License-Identifier: Apache-2.0
// Words in lines, and tables, within the columns of a screen: the layout behind text.cpp.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "housepower/page/page.hpp"

namespace housepower::page {

/// Running text stays readable; only tables use more of a wide screen.
[[nodiscard]] int line_width(const Screen&);

/// Words in lines of `width`, the later ones indented; the first goes on where `first` ends. A
/// longer word stays whole, so that a path can be taken from the screen.
[[nodiscard]] std::string wrapped(const std::string& first, std::string_view words,
                                  std::size_t indent, int width);

/// The lines of a cell, none wider than `width`: broken at spaces, after slashes, else anywhere.
[[nodiscard]] std::vector<std::string> cell_lines(std::string_view text, std::size_t width);
/// The widest part of a text that is not broken at spaces or after slashes.
[[nodiscard]] std::size_t widest_part(std::string_view text);

/// As much of a text as fits, with "…" where it ends before its end, at a space where there is one.
[[nodiscard]] std::string shortened(std::string_view text, std::size_t width);

[[nodiscard]] std::string painted(std::string text, const char* code, const Screen&);

void append_table(std::string& out, const TableBlock&, const Screen&);

}  // namespace housepower::page

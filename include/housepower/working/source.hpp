// SPDX-License-Identifier: Apache-2.0
// Where a value, a formula or a requirement comes from.
#pragma once

#include <string_view>

namespace housepower {

/// Ordered from firm to weak, so that the larger is the honest word for a mix.
enum class SourceKind { published, supplier, common_practice, from_memory };

/// The words of the product: "published", "supplier", "common practice", "from memory".
[[nodiscard]] std::string_view word_of(SourceKind kind);

/// Views point into the tables, the design's texts or the program: a Source lives as long as they.
struct Source {
  SourceKind kind = SourceKind::from_memory;
  std::string_view title;  // "IEC 60949:1988"
  std::string_view where;  // "eq. 5", "table 3, row 35 mm²"
  friend bool operator==(const Source&, const Source&) = default;
};

/// Of two sources the weaker: a value is as firm as the weakest it rests on.
[[nodiscard]] constexpr const Source& weaker(const Source& a, const Source& b) {
  return b.kind > a.kind ? b : a;
}

}  // namespace housepower

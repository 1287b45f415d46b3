// SPDX-License-Identifier: Apache-2.0
// The answer of `size`.
#pragma once

#include "housepower/design/design.hpp"
#include "housepower/page/page.hpp"
#include "housepower/pack/pack.hpp"

namespace housepower::report {

using namespace page;

struct PackReport {
  const design::Design& design;
  const pack::PackAnswer& answer;
  design::Least least = design::Least::mass;
  std::string inputs_digest;
};
/// The least pack in a sentence, or that nothing keeps the promise.
[[nodiscard]] std::string pack_in_words(const PackReport&);
[[nodiscard]] Page pack_page(const PackReport&);
[[nodiscard]] std::string pack_json(const PackReport&);

}  // namespace housepower::report

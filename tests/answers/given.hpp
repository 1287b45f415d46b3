// SPDX-License-Identifier: Apache-2.0
// An example as the answers are given it.
#pragma once

#include "checks/examples.hpp"
#include "housepower/answers/given_design.hpp"

namespace given_examples {

using namespace housepower;

inline answers::GivenDesign given(const design::Opened& o, const std::string& file) {
  return {o.document, o.design, examples::shipped(), o.node, file, "digest"};
}
inline std::string shipped_file(std::string_view name) {
  return examples::folder + std::string(name) + ".toml";
}
inline constexpr std::array<std::string_view, 3> three{"marrowick", "pellibri", "quondelay"};

}  // namespace given_examples

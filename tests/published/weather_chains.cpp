// SPDX-License-Identifier: Apache-2.0
// The chains of daily clearness against their paper's matrices, cell by cell, where the collection
// stands beside the project; a few cells and the ends of the states stand here.
#include <doctest/doctest.h>

#include "collection.hpp"
#include "shipped.hpp"

namespace housepower::test::published_weather_chains {
namespace {

// Aguiar, Collares-Pereira & Conde, Solar Energy 40 (1988) 269-279, as transcribed in a public
// research code; rows add up to 0.997 to 1.002 as printed.

TEST_CASE("the states of the ten chains begin and end where the paper has them") {
  const double least[] = {.031, .058, .051, .052, .028, .053, .044, .085, .010, .319};
  const double most[] = {.705, .694, .753, .753, .807, .856, .818, .846, .842, .865};
  const auto& chains = shipped().clearness;
  REQUIRE(chains.size() == 10);
  for (std::size_t i = 0; i < 10; ++i) {
    CHECK(double(chains[i].least) == doctest::Approx(least[i]));
    CHECK(double(chains[i].most) == doctest::Approx(most[i]));
    if (i < 9) CHECK(double(chains[i].up_to) == doctest::Approx(0.30 + 0.05 * double(i)));
  }
}

TEST_CASE("every chance of the ten chains is the paper's, over the sum of its row") {
  std::size_t row = 0;
  for (const Record& printed : collection("aguiar1988_mtm.csv")) {
    const auto& chain = shipped().clearness[row / 10];
    double all = 0.0;
    for (int s = 1; s <= 10; ++s) all += std::stod(printed.at("to_" + std::to_string(s)));
    for (int s = 1; s <= 10; ++s)
      CHECK(double(chain.chances[row % 10][std::size_t(s - 1)]) ==
            doctest::Approx(std::stod(printed.at("to_" + std::to_string(s))) / all));
    ++row;
  }
}

}  // namespace
}  // namespace housepower::test::published_weather_chains

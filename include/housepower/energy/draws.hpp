// SPDX-License-Identifier: Apache-2.0
// Random numbers that are the same on every platform: the generator is fixed by the C++ standard,
// what is made of its bits is fixed here (the standard library's distributions are not).
#pragma once

#include <cstdint>
#include <random>

#include "housepower/units/quantity.hpp"

namespace housepower::energy {

/// Quantile of the normal distribution: mean 0, standard deviation 1.  0 < share < 1.
/// Source: rational approximation of P. J. Acklam, from memory; relative error 1.2e-9, tested
/// against tabulated quantiles.
[[nodiscard]] Ratio normal_quantile(Ratio share);

/// A sequence of draws; the same seed and stream give the same sequence everywhere.
class Draws {
public:
  Draws(std::uint64_t seed, std::uint64_t stream);
  [[nodiscard]] Ratio uniform();  // above 0, below 1
  [[nodiscard]] Ratio normal() { return normal_quantile(uniform()); }

private:
  std::mt19937_64 bits_;
};

}  // namespace housepower::energy

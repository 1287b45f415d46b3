// SPDX-License-Identifier: Apache-2.0
// Bits to numbers.
#include "housepower/energy/draws.hpp"

#include <cmath>

namespace housepower::energy {
namespace {

/// Neighbouring seeds and streams give unrelated states (the finaliser of splitmix64, from memory).
std::uint64_t mixed(std::uint64_t x) {
  x += 0x9e3779b97f4a7c15u;
  x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9u;
  x = (x ^ (x >> 27)) * 0x94d049bb133111ebu;
  return x ^ (x >> 31);
}

double tail(double share) {
  const double q = std::sqrt(-2.0 * std::log(share));
  const double above =
      ((((-7.784894002430293e-03 * q - 3.223964580411365e-01) * q - 2.400758277161838e+00) * q -
        2.549732539343734e+00) *
           q +
       4.374664141464968e+00) *
          q +
      2.938163982698783e+00;
  const double below =
      (((7.784695709041462e-03 * q + 3.224671290700398e-01) * q + 2.445134137142996e+00) * q +
       3.754408661907416e+00) *
          q +
      1.0;
  return above / below;
}

double middle(double share) {
  const double q = share - 0.5, r = q * q;
  const double above =
      (((((-3.969683028665376e+01 * r + 2.209460984245205e+02) * r - 2.759285104469687e+02) * r +
         1.383577518672690e+02) *
            r -
        3.066479806614716e+01) *
           r +
       2.506628277459239e+00) *
      q;
  const double below =
      ((((-5.447609879822406e+01 * r + 1.615858368580409e+02) * r - 1.556989798598866e+02) * r +
        6.680131188771972e+01) *
           r -
       1.328068155288572e+01) *
          r +
      1.0;
  return above / below;
}

}  // namespace

Ratio normal_quantile(Ratio share) {
  const double p = double(share);
  if (p < 0.02425) return tail(p);
  if (p > 1.0 - 0.02425) return -tail(1.0 - p);
  return middle(p);
}

Draws::Draws(std::uint64_t seed, std::uint64_t stream) : bits_(mixed(seed ^ mixed(stream))) {}

Ratio Draws::uniform() {
  return (double(bits_() >> 11) + 0.5) * (1.0 / 9007199254740992.0);  // 53 bits
}

}  // namespace housepower::energy

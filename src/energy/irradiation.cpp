// SPDX-License-Identifier: Apache-2.0
// Diffuse shares and the course of the day, in plain doubles behind typed doors.
#include "housepower/energy/irradiation.hpp"

#include <numbers>

namespace housepower::energy {
namespace {

using std::numbers::pi;
constexpr Angle short_days = 81.4 * degree;  // sunset angle that parts Erbs' correlations

double cubic(double a, double b, double c, double d, double k) {
  return a + k * (b + k * (c + k * d));
}

/// Both ratios but for the factor of the global one; 0 where the sun is down.
double course(double omega, double sunset) {
  if (std::abs(omega) >= sunset) return 0.0;
  return pi / 24.0 * (std::cos(omega) - std::cos(sunset)) /
         (std::sin(sunset) - sunset * std::cos(sunset));
}

}  // namespace

Ratio erbs_hourly(Ratio clear) {
  const double k = double(clear);
  if (k <= 0.22) return 1.0 - 0.09 * k;
  if (k > 0.80) return 0.165;
  return cubic(0.9511, -0.1604, 4.388, -16.638 + 12.336 * k, k);
}

Ratio erbs_daily(Ratio clear, Angle sunset) {
  const double k = double(clear);
  if (sunset <= short_days)
    return k < 0.715 ? cubic(1.0, -0.2727, 2.4495, -11.9514 + 9.3879 * k, k) : 0.143;
  return k < 0.722 ? cubic(1.0, 0.2832, -2.5557, 0.8448, k) : 0.175;
}

Ratio erbs_monthly(Ratio clear, Angle sunset, Working* working) {
  return sunset <= short_days ? step(working, erbs_monthly_short_days, clear)
                              : step(working, erbs_monthly_long_days, clear);
}

Ratio hourly_ratio(Angle omega, Angle sunset) {
  const double lag = sunset.value() - 60.0 * degree.value();
  const double a = 0.409 + 0.5016 * std::sin(lag), b = 0.6609 - 0.4767 * std::sin(lag);
  return (a + b * std::cos(omega.value())) * course(omega.value(), sunset.value());
}

Ratio diffuse_ratio(Angle omega, Angle sunset) { return course(omega.value(), sunset.value()); }

Irradiation klein_monthly(Irradiation level, Ratio diffuse_share, Angle latitude, Angle declination,
                          Angle tilt, Ratio of_the_ground) {
  const Angle lowered_by = latitude.value() < 0.0 ? -tilt : tilt;
  const Angle plane = latitude - lowered_by;  // level ground there sees the sun as the plane here
  const double sunset = sunset_angle(latitude, declination).value();
  const double plane_sunset = std::min(sunset, sunset_angle(plane, declination).value());
  const double delta = declination.value();
  const auto half_day = [delta](double phi, double angle) {
    return std::cos(phi) * std::cos(delta) * std::sin(angle) +
           angle * std::sin(phi) * std::sin(delta);
  };
  const double beam = half_day(plane.value(), plane_sunset) / half_day(latitude.value(), sunset);
  const double c = std::cos(tilt.value()), d = double(diffuse_share);
  return level * ((1.0 - d) * beam + d * (1.0 + c) / 2.0 + double(of_the_ground) * (1.0 - c) / 2.0);
}

}  // namespace housepower::energy

// SPDX-License-Identifier: Apache-2.0
// Sun and irradiation against worked examples of handbooks and the check values of public
// libraries. Where a book's printed answer is only remembered, the recomputed figure is tested and
// the remembered one stands beside it.
#include <doctest/doctest.h>

#include "collection.hpp"
#include "housepower/energy/irradiation.hpp"
#include "shipped.hpp"

namespace housepower::test::published_solar {
namespace {

using namespace energy;  // the subject of this file

constexpr Irradiation megajoule = Irradiation::from_value(1e6);  // per m²
constexpr Irradiance watts = Irradiance::from_value(1.0);        // per m²

double degrees(Angle a) { return a / degree; }
double mj(Irradiation h) { return h / megajoule; }
Angle cooper(int n) { return cooper_declination(double(n)); }
Angle spencer(int n) { return spencer_declination(day_angle(double(n))); }
/// Hour angle of a solar time.
Angle at(double hours) { return hour_angle(hours * hour); }
double zenith(Angle latitude, Angle declination, Angle omega) {
  return 90.0 - degrees(sun_altitude(latitude, declination, omega));
}
/// Incidence on a plane; its azimuth from north, so 180° faces south.
Ratio incidence(Angle latitude, Angle declination, Angle omega, double tilt, double azimuth) {
  return incidence_cosine(sun_altitude(latitude, declination, omega),
                          sun_azimuth(latitude, declination, omega), tilt * degree,
                          azimuth * degree);
}

// ---- Duffie & Beckman, Solar Engineering of Thermal Processes, 5th ed. (2020) ----------------

TEST_CASE("Duffie & Beckman ex. 1.5.1: Madison, 10:30 on 3 February is 10:19 solar time") {
  // Printed, read in a textbook exercise copy: E −13.5 min, correction −11 min, 10:19.
  const Duration e = equation_of_time(day_angle(34.0));
  CHECK(e / (60.0 * second) == to(-13.49, 0.01));
  CHECK(e / (60.0 * second) == to(-13.5, 0.1));
  const Duration solar = solar_time(10.5 * hour, e, -89.4 * degree, -6.0 * hour);
  CHECK((solar - 10.5 * hour) / (60.0 * second) == to(-11, 1));
  CHECK(solar / (60.0 * second) == to(10 * 60 + 19, 1));
}

TEST_CASE("Duffie & Beckman ex. 1.6.1, p. 15: incidence on a tilted plane") {
  // φ 43, 13 February, 10:30 solar, tilt 45, 15° west of south. Printed and read: −14, 0.817, 35.
  const Angle phi = 43.0 * degree;
  CHECK(degrees(cooper(44)) == to(-13.95, 0.01));
  CHECK(degrees(cooper(44)) == to(-14, 1));
  const Ratio c = incidence(phi, cooper(44), at(10.5), 45, 195);
  CHECK(double(c) == to(0.8176, 0.0001));
  const auto angle = [](Ratio cosine) {
    return degrees(Angle::from_value(std::acos(double(cosine))));
  };
  CHECK(angle(c) == to(35.16, 0.01));
  CHECK(angle(incidence(phi, spencer(44), at(10.5), 45, 195)) == to(35.06, 0.01));
}

TEST_CASE("Duffie & Beckman ex. 1.6.2 and 1.6.3: where the sun stands at 43° N") {
  const Angle phi = 43.0 * degree;
  // Printed, remembered: 66.5 and −40.0; 79.6 and 112.0; −2.4 and 70.3. Azimuth here from north.
  CHECK(zenith(phi, cooper(44), at(9.5)) == to(66.50, 0.01));
  CHECK(degrees(sun_azimuth(phi, cooper(44), at(9.5))) == to(180 - 40.11, 0.01));
  CHECK(zenith(phi, cooper(182), at(18.5)) == to(79.63, 0.01));
  CHECK(degrees(sun_azimuth(phi, cooper(182), at(18.5))) == to(180 + 112.04, 0.01));
  CHECK(degrees(cooper(75)) == to(-2.42, 0.01));
  CHECK(degrees(sunset_angle(phi, cooper(75))) == to(87.74, 0.01));
  CHECK(zenith(phi, cooper(75), at(16)) == to(70.33, 0.01));
}

TEST_CASE("Duffie & Beckman ex. 1.8.1, p. 24: beam ratio") {
  const Angle phi = 43.0 * degree;
  const auto ratio = [&](Angle delta) {
    return double(
        beam_ratio(incidence(phi, delta, at(10.5), 45, 195), zenith_cosine(phi, delta, at(10.5))));
  };
  CHECK(ratio(cooper(44)) == to(1.664, 0.001));  // printed 1.66, remembered
  CHECK(ratio(spencer(44)) == to(1.650, 0.001));
}

TEST_CASE("Duffie & Beckman ex. 1.10.1 and 1.10.2, p. 38: extraterrestrial, a day and an hour") {
  const Angle phi = 43.0 * degree;
  CHECK(degrees(cooper(105)) == to(9.41, 0.01));
  CHECK(degrees(sunset_angle(phi, cooper(105))) == to(98.90, 0.01));
  CHECK(mj(extraterrestrial_day(phi, cooper(105), 105.0)) == to(33.77, 0.01));  // printed 33.8
  CHECK(mj(extraterrestrial_day(phi, spencer(105), 105.0)) == to(33.82, 0.01));
  CHECK(mj(extraterrestrial_between(phi, cooper(105), 105.0, at(10), at(11))) == to(3.790, 0.001));
  CHECK(mj(extraterrestrial_between(phi, spencer(105), 105.0, at(10), at(11))) == to(3.794, 0.001));
}

TEST_CASE("Duffie & Beckman ex. 2.11.1, p. 80: diffuse share of a clear day, ill-conditioned") {
  // St Louis, 3 September, H 23 MJ/m². Printed about 0.26 and 6.0, remembered.
  const Angle phi = 38.6 * degree;
  const Irradiation h0 = extraterrestrial_day(phi, cooper(246), 246.0);
  CHECK(mj(h0) == to(33.25, 0.01));
  const Ratio k = clearness(23.0 * megajoule, h0);
  CHECK(double(k) == to(0.692, 0.001));
  const double share = erbs_daily(k, sunset_angle(phi, cooper(246)));
  CHECK(share == to(0.253, 0.001));
  CHECK(23.0 * share == to(5.8, 0.1));
  const Ratio k_spencer =
      clearness(23.0 * megajoule, extraterrestrial_day(phi, spencer(246), 246.0));
  const double share_spencer = erbs_daily(k_spencer, sunset_angle(phi, spencer(246)));
  CHECK(share_spencer == to(0.275, 0.001));
  CHECK(23.0 * share_spencer == to(6.3, 0.1));
}

TEST_CASE("Duffie & Beckman ex. 2.12.1, 2.13.1, 2.13.3: a month's diffuse share and its hours") {
  const Angle madison = 43.0 * degree, june = cooper(162);
  const Irradiation h0 = extraterrestrial_day(madison, june, 162.0);
  CHECK(mj(h0) == to(41.78, 0.01));
  const Ratio k = clearness(23.0 * megajoule, h0);
  CHECK(double(k) == to(0.551, 0.001));
  const Angle sunset = sunset_angle(madison, june);
  const double share = erbs_monthly(k, sunset);
  CHECK(share == to(0.382, 0.001));  // printed 0.38 to 0.39, remembered
  for (const double middle : {10.5, 13.5}) {
    const double r_t = hourly_ratio(at(middle), sunset), r_d = diffuse_ratio(at(middle), sunset);
    CHECK(r_t == to(0.1085, 0.0001));
    CHECK(r_d == to(0.1015, 0.0001));
    CHECK(23.0 * r_t == Printed{2.49, 0.006});
    CHECK(23.0 * share * r_d == to(0.89, 0.01));
    CHECK(23.0 * (r_t - share * r_d) == to(1.60, 0.01));
  }
  const Angle melbourne = -38.0 * degree;
  CHECK(degrees(sunset_angle(melbourne, cooper(17))) == to(107.37, 0.01));
  CHECK(double(hourly_ratio(at(8.5), sunset_angle(melbourne, cooper(17)))) == to(0.0759, 0.0001));
}

TEST_CASE(
    "Duffie & Beckman ex. 2.14.1, p. 90: the beam ratio at sunrise runs away and is bounded") {
  // φ 45, 4 March, tilt 60 S, 6:30: 44.2, or 17.8 with Spencer's declination.
  const Angle phi = 45.0 * degree;
  const auto raw = [&](Angle delta) {
    return double(incidence(phi, delta, at(6.5), 60, 180)) /
           double(zenith_cosine(phi, delta, at(6.5)));
  };
  CHECK(raw(cooper(63)) == to(44.2, 0.1));
  CHECK(raw(spencer(63)) == to(17.8, 0.1));
  CHECK(double(beam_ratio(incidence(phi, cooper(63), at(6.5), 60, 180),
                          zenith_cosine(phi, cooper(63), at(6.5)))) < 10);
  // Its mean up to 7:00, from the very sunrise (4.61; 4.26 with Spencer) and from 6:29:00 (4.59;
  // 4.10): a plane of 60° to the south sees the sun as level ground does 60° further south.
  const auto mean = [&](Angle delta, Angle from) {
    return extraterrestrial_between(phi - 60.0 * degree, delta, 63.0, from, at(7)) /
           extraterrestrial_between(phi, delta, 63.0, from, at(7));
  };
  CHECK(degrees(sunset_angle(phi, cooper(63))) == to(82.79, 0.01));
  CHECK(double(mean(cooper(63), -sunset_angle(phi, cooper(63)))) == to(4.61, 0.01));
  CHECK(double(mean(spencer(63), -sunset_angle(phi, spencer(63)))) == to(4.26, 0.01));
  CHECK(double(mean(cooper(63), at(6.0 + 29.0 / 60.0))) == to(4.59, 0.01));
  CHECK(double(mean(spencer(63), at(6.0 + 29.0 / 60.0))) == to(4.10, 0.01));
}

TEST_CASE("Duffie & Beckman ex. 2.15.1, p. 92: isotropic and Hay-Davies skies on a tilt of 60°") {
  // φ 40, 20 February, 9 to 10 h, I 1.04 MJ/m², albedo 0.60. Printed 1.17, remembered.
  const Angle phi = 40.0 * degree, delta = cooper(51);
  const Irradiation outside = extraterrestrial_between(phi, delta, 51.0, at(9), at(10));
  CHECK(mj(outside) == to(2.335, 0.001));
  const Ratio k = clearness(1.04 * megajoule, outside);
  CHECK(double(k) == to(0.445, 0.001));
  const double share = erbs_hourly(k);
  CHECK(share == to(0.765, 0.001));
  const Ratio ratio =
      beam_ratio(incidence(phi, delta, at(9.5), 60, 180), zenith_cosine(phi, delta, at(9.5)));
  CHECK(double(ratio) == to(1.713, 0.001));
  // The hour's energy as its mean power: MJ/m² over an hour.
  const Irradiance level = 1.04 * megajoule / hour;
  const Irradiance diffuse = level * share, beam = level - diffuse;
  CHECK(mj(diffuse * hour) == to(0.796, 0.001));
  CHECK(mj(beam * hour) == to(0.244, 0.001));
  const Angle tilt = 60.0 * degree;
  CHECK(mj(isotropic_tilt(beam, 0.0 * diffuse, ratio, tilt, 0.0) * hour) == to(0.418, 0.001));
  CHECK(mj(isotropic_tilt(0.0 * beam, diffuse, ratio, tilt, 0.0) * hour) == to(0.597, 0.001));
  CHECK(mj(isotropic_tilt(level, 0.0 * diffuse, 0.0, tilt, 0.60) * hour) == to(0.156, 0.001));
  CHECK(mj(isotropic_tilt(beam, diffuse, ratio, tilt, 0.60) * hour) == to(1.171, 0.001));
  const Ratio a = beam * hour / outside;
  CHECK(mj(hay_davies(beam, diffuse, ratio, a, tilt, 0.60) * hour) == to(1.251, 0.001));
  // Its parts: an overturned plane sees no sky, a beam ratio of 0 no sun.
  CHECK(mj(hay_davies(beam, diffuse, ratio, a, 180.0 * degree, 0.0) * hour) == to(0.560, 0.001));
  CHECK(mj(hay_davies(beam, diffuse, 0.0, a, tilt, 0.0) * hour) == to(0.535, 0.001));
}

TEST_CASE("Duffie & Beckman ex. 2.20.1, p. 110: Madison, twelve months on a tilt of 60°") {
  // Printed alike to 0.1 MJ/m², remembered.
  struct Month {
    int n;
    double level, albedo, tilted;
  };
  for (const Month& m :
       {Month{17, 6.44, 0.7, 13.71}, Month{47, 9.89, 0.7, 17.25}, Month{75, 12.86, 0.4, 15.79},
        Month{105, 16.05, 0.2, 14.69}, Month{135, 21.36, 0.2, 16.58}, Month{162, 23.04, 0.2, 16.53},
        Month{198, 22.58, 0.2, 16.76}, Month{228, 20.33, 0.2, 17.47}, Month{258, 14.59, 0.2, 15.58},
        Month{288, 10.48, 0.2, 15.19}, Month{318, 6.37, 0.2, 11.36},
        Month{344, 5.74, 0.4, 12.72}}) {
    CAPTURE(m.n);
    const Angle phi = 43.0 * degree, delta = cooper(m.n);
    const Irradiation level = m.level * megajoule;
    const Ratio k = clearness(level, extraterrestrial_day(phi, delta, double(m.n)));
    const Ratio share = erbs_monthly(k, sunset_angle(phi, delta));
    CHECK(mj(klein_monthly(level, share, phi, delta, 60.0 * degree, m.albedo)) ==
          to(m.tilted, 0.01));
  }
}

// ---- positions of the sun ---------------------------------------------------------------------

TEST_CASE("NREL/TP-560-34302, table A5.1, and two astronomy packages: where the sun stands") {
  struct Row {
    int year, month, day;
    double utc;
    double latitude, longitude, altitude, azimuth, declination;
  };
  const double none_printed = 999;
  for (const Row& row :
       {// 17 October 2003, 12:30:30 UTC-7: elevation without refraction; topocentric declination.
        Row{2003, 10, 17, 19.508333333, 39.742476, -105.1786, 39.872046, 194.340241, -9.316179},
        Row{2003, 10, 18, 19.508333333, 39.742476, -105.1786, 39.505196, 194.311082, none_printed},
        // PyEphem and astropy agree to 0.0004°: London, Cape Town, Hobart.
        Row{2026, 3, 20, 9.0, 51.50, -0.12, 25.0440, 126.1855, -0.0968},
        Row{2026, 9, 10, 15.5, -33.93, 18.42, 12.3223, 284.4445, 4.7655},
        Row{2035, 2, 11, 22.25, -42.88, 147.33, 29.4538, 81.4044, -13.8413}}) {
    CAPTURE(row.year);
    CAPTURE(row.latitude);
    const SunPosition sun = sun_position(since_2000(row.year, row.month, row.day, row.utc * hour),
                                         row.latitude * degree, row.longitude * degree);
    CHECK(degrees(sun.altitude) == Printed{row.altitude, 0.01});
    CHECK(degrees(sun.azimuth) == Printed{row.azimuth, 0.015});
    if (row.declination != none_printed)
      CHECK(degrees(sun.declination) == Printed{row.declination, 0.01});
  }
}

TEST_CASE("Golden CO: sunrise, noon and sunset by a national laboratory's public calculator") {
  // 2 January and 2 August 2015, UTC-7, as transcribed in the tests of a public library. The page's
  // sunset of 2 August, 19:13:58, is that of 1 August, for in UT that evening is the next day; a
  // general astronomy package gives 19:12:53 for 2 August. The sun rises and sets with its centre
  // 0.8333° down; a second of time is 0.003° there.
  const Angle latitude = 39.742476 * degree, longitude = -105.1786 * degree;
  const auto sun = [&](int month, int day_of_month, int h, int m, int s) {
    return sun_position(since_2000(2015, month, day_of_month, double(h + 7) * hour) +
                            double(60 * m + s) * second,
                        latitude, longitude);
  };
  for (const SunPosition& low : {sun(1, 2, 7, 21, 55), sun(1, 2, 16, 47, 43), sun(8, 2, 5, 0, 27),
                                 sun(8, 1, 19, 13, 58), sun(8, 2, 19, 12, 53)})
    CHECK(degrees(low.altitude) == Printed{-0.8333, 0.014});
  // To the second; at noon an angle of 0.01° is 0.01°/cos(altitude) of azimuth.
  CHECK(degrees(sun(1, 2, 12, 4, 45).azimuth) == Printed{180, 0.014});
  CHECK(degrees(sun(8, 2, 12, 6, 58).azimuth) == Printed{180, 0.033});
}

TEST_CASE("the day number of the almanac: 17 October 2003, 19:30:30 UT") {
  // Julian date 2452930.312847 (NREL/TP-560-34302, table A5.1); 2451545.0 is noon on 1 January 2000.
  const Duration since = since_2000(2003, 10, 17, (19.0 + 30.5 / 60.0) * hour);
  CHECK(since / day == Printed{2452930.312847 - 2451545.0, 1e-6});
}

// ---- transposition ---------------------------------------------------------------------------

TEST_CASE("a public library's transposition tests: tilt 40°, facing south") {
  const Angle tilt = 40.0 * degree;
  CHECK(isotropic_tilt(0.0 * watts, 100.0 * watts, 0.0, tilt, 0.0) / watts ==
        Printed{88.3022221559, 1e-9});
  CHECK(isotropic_tilt(900.0 * watts, 0.0 * watts, 0.0, tilt, 0.25) / watts ==
        Printed{26.3200001, 1e-6});
  struct Case {
    double dni, dhi, zenith, azimuth;
    double ghi;
    Printed isotropic, hay_davies, even, around_sun, reindl, klucher;
  };
  for (const Case& c : {Case{316.194906, 40.461498, 82.854571, 66.714103, 79.738604,
                             to(35.728402, 1e-6), to(27.1775, 1e-4), to(27.1775, 1e-4), to(0, 1e-4),
                             to(27.9412, 1e-4), to(36.789794, 1e-6)},
                        Case{939.954699, 118.458319, 10.564136, 144.765678, 1042.480315,
                             to(104.601328, 1e-6), to(102.9949, 1e-4), to(30.1818, 1e-4),
                             Printed{72.8130, 1e-4}, to(104.1317, 1e-4), to(109.209347, 1e-6)}}) {
    CAPTURE(c.dhi);
    const Ratio facing =
        incidence_cosine((90.0 - c.zenith) * degree, c.azimuth * degree, tilt, 180.0 * degree);
    const Ratio ratio = beam_ratio(facing, std::cos(c.zenith * degree.value()));
    CHECK(isotropic_tilt(0.0 * watts, c.dhi * watts, ratio, tilt, 0.0) / watts == c.isotropic);
    // Extraterrestrial normal 1321.16558 W/m². The parts: no sun; an overturned plane, no sky.
    const Ratio a = c.dni / 1321.16558;
    const Irradiance diffuse = c.dhi * watts, beam = (c.ghi - c.dhi) * watts;
    CHECK(hay_davies(0.0 * watts, diffuse, ratio, a, tilt, 0.0) / watts == c.hay_davies);
    CHECK(hay_davies(0.0 * watts, diffuse, 0.0, a, tilt, 0.0) / watts == c.even);
    CHECK(hay_davies(0.0 * watts, diffuse, ratio, a, 180.0 * degree, 0.0) / watts == c.around_sun);
    // Of these two the diffuse part. The library takes the beam's share in Reindl from its own
    // column, in Klucher from the difference; in case 1 they lie 0.05 W/m² apart.
    const double c_z = std::cos(c.zenith * degree.value()), share = c.dni * c_z / c.ghi;
    const Irradiance own = diffuse * (share / (1.0 - share));
    CHECK((reindl(own, diffuse, ratio, a, tilt, 0.0) - own * double(ratio)) / watts == c.reindl);
    CHECK((klucher(beam, diffuse, ratio, facing, c_z, tilt, 0.0) - beam * double(ratio)) / watts ==
          c.klucher);
  }
  // Diffuse 100, global 900 W/m², the sun in the south, 20° off the zenith.
  const Ratio facing = incidence_cosine(70.0 * degree, 180.0 * degree, tilt, 180.0 * degree);
  CHECK(klucher(800.0 * watts, 100.0 * watts, 0.0, facing, std::cos(20.0 * degree.value()), tilt,
                0.0) /
            watts ==
        to(94.9942993, 1e-7));
}

TEST_CASE(
    "Reindl and Klucher: an overcast sky is even; Reindl's level ground sees all of the sky") {
  const Angle tilt = 40.0 * degree, level = 0.0 * degree;
  const Irradiance beam = 300.0 * watts, diffuse = 100.0 * watts, none = 0.0 * watts;
  const double even = isotropic_tilt(none, diffuse, 1.2, tilt, 0.2) / watts;
  CHECK(reindl(none, diffuse, 1.2, 0.0, tilt, 0.2) / watts == about(even, 1e-12));
  CHECK(klucher(none, diffuse, 1.2, 0.9, 0.8, tilt, 0.2) / watts == about(even, 1e-12));
  CHECK(reindl(beam, diffuse, 1.0, 0.3, level, 0.2) / watts == about(400, 1e-12));
  CHECK(reindl(none, none, 1.0, 0.0, tilt, 0.2) / watts == 0.0);  // at night
  CHECK(klucher(none, none, 1.0, 0.8, 0.8, tilt, 0.2) / watts == 0.0);
}

TEST_CASE("a public library's extraterrestrial normal on 26 October 2016: 1383.636 W/m² ± 10") {
  CHECK(solar_constant * double(distance_factor(300.0)) / watts == Printed{1383.636, 10});
}

// ---- FAO Irrigation and Drainage Paper 56 (1998) --------------------------------------------

TEST_CASE("FAO-56 ex. 8, p. 80: 20° S on 3 September") {
  CHECK(mj(fao_extraterrestrial(-20.0 * degree, 246.0)) == to(32.2, 0.1));
  CHECK(mj(fao_extraterrestrial(-20.0 * degree, 246.0)) == to(32.194, 0.001));
  CHECK(double(distance_factor(246.0)) == to(0.985, 0.001));
  // N = 24 ω_s/π with ω_s 1.527 rad.
  CHECK(fao_daylight(-20.0 * degree, 246.0) / hour ==
        Printed{24.0 / 3.14159265358979 * 1.527, 0.005});
}

TEST_CASE("FAO-56 ex. 10, p. 84: Rio de Janeiro in May, 7.1 h of 10.9 h") {
  CHECK(mj(fao_solar(25.1 * megajoule, 7.1 * hour, 10.9 * hour)) == to(14.45, 0.01));
  // Printed 14.5, which rounds the 14.45 once more.
  CHECK(mj(fao_solar(25.1 * megajoule, 7.1 * hour, 10.9 * hour)) == Printed{14.5, 0.051});
  CHECK(mj(fao_solar(25.1 * megajoule, 10.9 * hour, 10.9 * hour)) ==
        to(18.8, 0.1));  // ex. 11, clear
  // Brighter than the day is long cannot be: n/N counts at most 1.
  CHECK(mj(fao_solar(25.1 * megajoule, 12.0 * hour, 10.9 * hour)) == to(18.8, 0.1));
}

TEST_CASE("FAO-56 ex. 15, p. 98: irradiation from 14.8 and 26.6 °C, inland and by the sea") {
  // As transcribed in the tests of a public library.
  const auto from = [](double k) {
    return mj(hargreaves_solar(k, celsius(26.6), celsius(14.8), 40.6 * megajoule));
  };
  CHECK(from(0.16) == to(22.3, 0.1));
  CHECK(from(0.19) == to(26.5, 0.1));
}

const int middle_days[] = {15, 46, 74, 105, 135, 166, 196, 227, 258, 288, 319, 349};
struct Latitude {
  double degrees;
  double within;
  std::vector<double> months;
};
// Annex 2 table 2.6, northern half, as transcribed in a public source file: printed. Equation 21
// reproduces it within 0.10, 30° N in October within 0.11 and 60° N in May within 0.16.
const std::vector<Latitude> fao_north = {
    {0, 0.10, {36.2, 37.5, 37.9, 36.8, 34.8, 33.4, 33.9, 35.7, 37.2, 37.4, 36.3, 35.6}},
    {20, 0.10, {26.8, 30.6, 34.7, 37.9, 39.3, 39.5, 39.3, 38.3, 35.8, 31.8, 27.7, 25.6}},
    {30, 0.11, {21.1, 25.8, 31.4, 36.8, 40.0, 41.2, 40.6, 38.1, 33.4, 27.6, 22.2, 19.8}},
    {40, 0.10, {15.0, 20.4, 27.2, 34.7, 39.7, 41.9, 40.8, 36.7, 30.0, 22.5, 16.3, 13.6}},
    {50, 0.10, {8.9, 14.4, 22.2, 31.5, 38.5, 41.7, 40.2, 34.4, 25.7, 16.9, 10.2, 7.5}},
    {60, 0.165, {3.3, 8.3, 16.6, 27.5, 36.5, 41.2, 39.2, 31.3, 20.6, 10.9, 4.4, 2.2}}};
// Southern half: not readable; computed with equation 21, which example 8 confirms at 20° S.
const std::vector<Latitude> fao_south = {
    {-10, 0.05, {39.5, 39.3, 37.8, 34.6, 31.1, 29.1, 29.8, 32.8, 36.3, 38.5, 39.3, 39.4}},
    {-20, 0.05, {41.9, 40.0, 36.6, 31.3, 26.6, 24.1, 25.0, 29.0, 34.2, 38.6, 41.2, 42.1}},
    {-30, 0.05, {43.1, 39.6, 34.3, 27.2, 21.4, 18.5, 19.6, 24.4, 31.2, 37.5, 42.0, 43.9}},
    {-34, 0.05, {43.3, 39.1, 33.0, 25.3, 19.2, 16.2, 17.4, 22.3, 29.7, 36.8, 42.0, 44.3}},
    {-38, 0.05, {43.4, 38.5, 31.6, 23.3, 16.9, 13.9, 15.1, 20.2, 28.0, 35.9, 41.9, 44.5}},
    {-42, 0.05, {43.3, 37.7, 30.1, 21.2, 14.6, 11.6, 12.8, 18.0, 26.2, 34.8, 41.6, 44.6}},
    {-46, 0.05, {43.0, 36.7, 28.4, 19.0, 12.3, 9.3, 10.5, 15.7, 24.3, 33.6, 41.2, 44.6}}};

TEST_CASE("FAO-56 table 2.6: extraterrestrial radiation from 60° N to 46° S") {
  for (const auto* half : {&fao_north, &fao_south})
    for (const Latitude& row : *half)
      for (std::size_t m = 0; m < 12; ++m) {
        CAPTURE(row.degrees);
        CAPTURE(middle_days[m]);
        CHECK(mj(fao_extraterrestrial(row.degrees * degree, double(middle_days[m]))) ==
              Printed{row.months[m], row.within});
      }
}

// ---- whole collections, where they stand beside the project -----------------------------------

const char* const month_names[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                   "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};

TEST_CASE("FAO-56 table 2.6, every second degree from the equator to 60° N") {
  // From 66 to 70° N the copy that was read is misprinted; those rows are left out. `within` is how
  // far equation 21 lies from a row, computed apart from this code: 0.05 to 0.16.
  for (const Record& row : collection("fao56_table2_6_Ra_north.csv")) {
    const double latitude = std::stod(row.at("lat_deg_N"));
    if (latitude > 60) continue;
    CAPTURE(latitude);
    for (std::size_t m = 0; m < 12; ++m)
      CHECK(mj(fao_extraterrestrial(latitude * degree, double(middle_days[m]))) ==
            Printed{std::stod(row.at(month_names[m])),
                    std::stod(row.at("max_abs_diff_vs_eq21")) + 0.005});
  }
}

TEST_CASE("extraterrestrial irradiation of 25 stations, each month's mean over its days") {
  // Computed apart from this code with Spencer's declination and 1367 W/m², kWh/m² a day.
  const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  for (const Record& row : collection("monthly_means_us.csv")) {
    int first = 1, m = 0;
    while (row.at("month") != month_names[m]) first += days[m++];
    Irradiation sum{};
    for (int n = first; n < first + days[m]; ++n)
      sum += extraterrestrial_day(std::stod(row.at("lat_deg")) * degree, spencer(n), double(n));
    CAPTURE(row.at("city"));
    CAPTURE(row.at("month"));
    CHECK(sum.value() / days[m] / 3.6e6 == Printed{std::stod(row.at("H0_kWh_m2_day")), 0.0006});
  }
}

}  // namespace
}  // namespace housepower::test::published_solar

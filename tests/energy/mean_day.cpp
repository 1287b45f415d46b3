// SPDX-License-Identifier: Apache-2.0
// The mean day's sun: laws, polar days, the safe side of sunshine against five measured towns.
#include <numeric>

#include "camp.hpp"
#include "housepower/energy/mean_day.hpp"

namespace energy_mean_day {
namespace {

using namespace camp;
using namespace housepower::energy;

constexpr Irradiation kilowatt_hour = Irradiation::from_value(3.6e6);  // per m²

tables::Town town(double latitude, double sunshine) {
  tables::Town t;
  t.latitude = latitude * degree;
  t.sunshine.fill(sunshine * hour);
  t.highest.fill(celsius(24.0));
  t.lowest.fill(celsius(10.0));
  return t;
}
double level(const MeanDay& d) { return d.level / kilowatt_hour; }
design::resolved::Array array(double tilt, double azimuth) {
  design::resolved::Array a;
  a.tilt = tilt * degree;
  a.azimuth = azimuth * degree;
  a.soiling = 0.0;
  return a;
}
/// Light on the cells in the whole day, kWh/m².
double cells(const design::resolved::Array& a, const MeanDay& d,
             design::Pitch pitch = design::Pitch::open) {
  double sum = 0.0;
  for (int h = 0; h < 24; ++h)
    sum += light_on_cells(a, pitch, d.hours[std::size_t(h)], h).value() / 1000.0;
  return sum;
}
/// On the plane, before the glass.
double plane(const design::resolved::Array& a, const MeanDay& d) {
  double sum = 0.0;
  for (const auto& h : d.hours) {
    const Ratio c = incidence_cosine(h.altitude, h.azimuth, a.tilt, a.azimuth);
    const Ratio ratio = beam_ratio_on(a, c, h.altitude, h.beam);
    sum += isotropic_tilt(h.beam, h.diffuse, ratio, a.tilt, albedo).value() / 1000.0;
  }
  return sum;
}

TEST_CASE("the hours add up to the day, and level ground is level ground") {
  for (const double latitude : {-43.0, -12.0, 0.0, 35.0, 58.0})
    for (int month = 0; month < 12; ++month) {
      const MeanDay d = mean_day(town(latitude, 5.0), month);
      CHECK(plane(array(0.0, 0.0), d) == about(level(d)));
    }
}

TEST_CASE("behind the glass by hand: a beam at 60°, diffuse light, none beyond 85°") {
  // cos 60° = 0.5: 1 - 0.05 · (1 / 0.5 - 1) = 0.95; at 80° 1 - 0.05 · (5.7588 - 1) = 0.76206
  const auto at_altitude = [](double degrees) {
    return MeanDay::Hour{celsius(10.0),
                         degrees * degree,
                         {},
                         Irradiance::from_value(300.0),
                         Irradiance::from_value(100.0),
                         {}};
  };
  const auto on_cells = [&](double degrees) {
    return light_on_cells(array(0.0, 0.0), design::Pitch::open, at_altitude(degrees), 12).value();
  };
  CHECK(on_cells(90.0) == about(300.0 + 95.0));
  CHECK(on_cells(30.0) == about(0.95 * 300.0 + 95.0));
  CHECK(on_cells(10.0) == doctest::Approx(0.76206 * 300.0 + 95.0).epsilon(1e-5));
  CHECK(on_cells(4.9) == about(95.0));
  CHECK(on_cells(-3.0) == about(95.0));
  // Tilted towards the sun by 60° it falls in straight: 300 · 1 / sin 30° = 600 W/m².
  CHECK(light_on_cells(array(60.0, 0.0), design::Pitch::open, at_altitude(30.0), 12).value() ==
        about(600.0 + 0.95 * (100.0 * 0.75 + 0.2 * 400.0 * 0.25)));
  // A sun that is down shines on no wall either.
  CHECK(light_on_cells(array(90.0, 0.0), design::Pitch::open, at_altitude(-3.0), 12).value() ==
        about(0.95 * (50.0 + 0.2 * 400.0 * 0.5)));
}

TEST_CASE("irradiation from sunshine by hand: 40° N in March, 6 h") {
  // FAO-56 eq. 21 on 15 March is 27.2 MJ/m² (annex 2, table 2.6, 40° N) and the day 11.8 h, rising
  // evenly through the month: (0.25 + 0.5 · 6/11.8) · 27.2 = 13.7 MJ/m²; times 0.90.
  const MeanDay d = mean_day(town(40.0, 6.0), 2);
  CHECK(d.level.value() / 1e6 ==
        doctest::Approx(0.90 * (0.25 + 0.5 * 6.0 / 11.8) * 27.2).epsilon(0.015));
}

TEST_CASE("the factor on sunshine, by place and month") {
  CHECK(double(sunshine_factor(50.0 * degree, 0, 0.5)) == 0.75);   // January, north
  CHECK(double(sunshine_factor(45.0 * degree, 2, 0.5)) == 0.75);   // March
  CHECK(double(sunshine_factor(50.0 * degree, 3, 0.5)) == 0.87);   // April
  CHECK(double(sunshine_factor(50.0 * degree, 6, 0.5)) == 0.90);   // July
  CHECK(double(sunshine_factor(50.0 * degree, 9, 0.5)) == 0.87);   // October
  CHECK(double(sunshine_factor(50.0 * degree, 10, 0.5)) == 0.75);  // November
  CHECK(double(sunshine_factor(-46.0 * degree, 6, 0.5)) == 0.75);  // July, south
  CHECK(double(sunshine_factor(-46.0 * degree, 0, 0.5)) == 0.90);
  CHECK(double(sunshine_factor(-46.0 * degree, 8, 0.5)) == 0.75);  // September
  CHECK(double(sunshine_factor(-46.0 * degree, 3, 0.5)) == 0.87);
  CHECK(double(sunshine_factor(30.0 * degree, 0, 0.5)) == 0.90);
  CHECK(double(sunshine_factor(30.0 * degree, 6, 0.19)) == 0.75);  // dull anywhere
}

TEST_CASE("the south is the north half a year later, but for the sun's distance") {
  for (int month = 0; month < 12; ++month) {
    CAPTURE(month);
    const MeanDay north = mean_day(town(38.0, 6.0), month),
                  south = mean_day(town(-38.0, 6.0), (month + 6) % 12);
    // The distance factor is within 1 ± 0.033 on both sides: at most 6.9 % between them.
    CHECK(level(north) == doctest::Approx(level(south)).epsilon(0.07));
    // A plane facing the equator gains alike: north faces south, south faces north.
    const double gain_north = plane(array(30.0, 180.0), north) / level(north);
    const double gain_south = plane(array(30.0, 0.0), south) / level(south);
    CHECK(gain_north == doctest::Approx(gain_south).epsilon(0.03));
  }
}

TEST_CASE("a tilted plane gains in winter towards the equator and loses away from it") {
  const MeanDay june = mean_day(town(-43.0, 4.0), 5);
  CHECK(plane(array(45.0, 0.0), june) > 1.2 * level(june));
  CHECK(plane(array(45.0, 180.0), june) < 0.8 * level(june));
  // East and west differ only by the equation of time: the hours of the clock are symmetric to it.
  CHECK(plane(array(45.0, 90.0), june) ==
        doctest::Approx(plane(array(45.0, 270.0), june)).epsilon(0.02));
}

TEST_CASE("hourly isotropic sky agrees with the monthly method of Liu, Jordan and Klein") {
  for (const double latitude : {-43.0, 30.0, 45.0})
    for (int month : {0, 3, 6, 9}) {
      CAPTURE(latitude);
      CAPTURE(month);
      const MeanDay d = mean_day(town(latitude, 5.0), month);
      constexpr std::array<double, 12> middle{17,  47,  75,  105, 135, 162,
                                              198, 228, 258, 288, 318, 344};
      const Angle declination = cooper_declination(middle[std::size_t(month)]);
      Irradiance diffuse{};
      for (const auto& h : d.hours) diffuse += h.diffuse;
      const Ratio share = diffuse * hour / d.level;
      const double monthly =
          klein_monthly(d.level, share, latitude * degree, declination, 30.0 * degree, 0.2) /
          kilowatt_hour;
      CHECK(plane(array(30.0, latitude > 0 ? 180.0 : 0.0), d) ==
            doctest::Approx(monthly).epsilon(0.03));
    }
}

TEST_CASE("a polar night gives nothing, a polar day shines at midnight") {
  CHECK(level(mean_day(town(78.0, 0.0), 11)) == 0.0);
  CHECK(plane(array(90.0, 180.0), mean_day(town(78.0, 0.0), 11)) == 0.0);
  CHECK(mean_day(town(78.0, 8.0), 5).hours[0].beam.value() > 0.0);
}

TEST_CASE("no hour has a negative or endless sun, anywhere") {
  for (double latitude = -88.0; latitude <= 88.0; latitude += 4.0)
    for (int month = 0; month < 12; ++month) {
      const MeanDay d = mean_day(town(latitude, 3.0), month);
      for (int h = 0; h < 24; ++h)
        for (const double tilt : {0.0, 30.0, 90.0}) {
          const double g =
              light_on_cells(array(tilt, 180.0), design::Pitch::open, d.hours[std::size_t(h)], h)
                  .value();
          CHECK(g >= 0.0);
          CHECK(g < 2000.0);
        }
    }
}

TEST_CASE("shade, pitch and dirt take their share") {
  const MeanDay d = mean_day(town(-30.0, 7.0), 0);
  auto a = array(0.0, 0.0);
  const double open = cells(a, d);
  CHECK(cells(a, d, design::Pitch::part_shade) == about(0.6 * open));
  CHECK(cells(a, d, design::Pitch::under_trees) == about(0.2 * open));
  a.soiling = 0.05;
  CHECK(cells(a, d) == about(0.95 * open));
  a.shade.fill(1.0);
  CHECK(cells(a, d) == 0.0);
}

TEST_CASE("a wall sees half the sky and half the ground, which reflects a fifth") {
  // 200 W/m² diffuse: (200 / 2 + 0.2 · 200 / 2) · 0.95 = 114
  const MeanDay::Hour dull{celsius(10.0), 30.0 * degree, {}, {}, Irradiance::from_value(200.0), {}};
  CHECK(light_on_cells(array(90.0, 0.0), design::Pitch::open, dull, 12).value() == about(114.0));
}

TEST_CASE("of sunshine and a typical year the smaller counts, and it is said which") {
  auto t = town(40.0, 6.0);
  t.measured.emplace();
  t.measured->fill(2.0 * kilowatt_hour);
  CHECK(level(mean_day(t, 6)) == about(2.0));
  CHECK(mean_day(t, 6).measured);
  t.measured->fill(9.0 * kilowatt_hour);
  CHECK(level(mean_day(t, 6)) == about(level(mean_day(town(40.0, 6.0), 6))));
  CHECK_FALSE(mean_day(t, 6).measured);
}

TEST_CASE("where the weather is known hour by hour its month counts, without sunshine") {
  tables::Town t = town(40.0, 0.0);
  t.measured.emplace();
  t.measured->fill(5.0 * kilowatt_hour);
  t.only_measured = true;
  t.source = {SourceKind::supplier, "a weather file", "EPW"};
  Working working;
  const MeanDay d = mean_day(t, 6, &working);
  CHECK(d.measured);
  CHECK(level(d) == doctest::Approx(5.0));
  REQUIRE(!working.empty());
  CHECK(working[0].formula.symbol == "H");
  CHECK(working[0].formula.source == t.source);
  for (const Step& s : working) CHECK(s.formula.symbol != "R_s");
  t.only_measured = false;  // no sunshine promises a quarter of what is outside, times 0.75
  CHECK(level(mean_day(t, 6)) < 3.0);
}

TEST_CASE("air swings between the mean minimum and maximum, warmest in the afternoon") {
  const auto t = town(0.0, 6.0);
  double sum = 0.0;
  for (int h = 0; h < 24; ++h) {
    const double air = in_celsius(air_at(t, 0, h));
    CHECK(air >= 10.0);
    CHECK(air <= 24.0);
    sum += air;
  }
  CHECK(sum / 24.0 == about(17.0));  // (10 + 24) / 2
  CHECK(in_celsius(air_at(t, 0, 14)) == in_celsius(air_at(t, 0, 15)));
  CHECK(air_at(t, 0, 14) > air_at(t, 0, 13));
}

TEST_CASE("five towns of the United States: what is counted on stays below a typical year") {
  int found = 0;
  for (const auto& t : van::shipped().towns) {
    if (!t.measured) continue;
    ++found;
    double promised = 0.0, counted = 0.0, measured = 0.0, safe = 0.0;
    auto without = t;
    without.measured.reset();
    for (int m = 0; m < 12; ++m) {
      const MeanDay d = mean_day(without, m);
      Irradiation outside{};
      Duration daylight{};
      constexpr std::array<int, 13> first{1,   32,  60,  91,  121, 152, 182,
                                          213, 244, 274, 305, 335, 366};
      for (int n = first[std::size_t(m)]; n < first[std::size_t(m) + 1]; ++n) {
        outside += fao_extraterrestrial(t.latitude, double(n));
        daylight += fao_daylight(t.latitude, double(n));
      }
      const double days = first[std::size_t(m) + 1] - first[std::size_t(m)];
      promised +=
          fao_solar(outside / days, t.sunshine[std::size_t(m)], daylight / days) / kilowatt_hour;
      safe += level(d);
      counted += level(mean_day(t, m));
      measured += (*t.measured)[std::size_t(m)] / kilowatt_hour;
    }
    MESSAGE(t.title << ": sunshine against the typical year " << 100.0 * (promised / measured - 1.0)
                    << " %, lowered " << 100.0 * (safe / measured - 1.0) << " %, counted on "
                    << 100.0 * (counted / measured - 1.0) << " %");
    CHECK(promised == doctest::Approx(measured).epsilon(0.16));
    CHECK(counted <= measured);
  }
  CHECK(found == 5);
}

}  // namespace

}  // namespace energy_mean_day

// SPDX-License-Identifier: Apache-2.0
// Where we say that the sun stands against PyEphem, a general astronomy package (Debian's
// python3-ephem): 10,000 moments of 1950 to 2050 between 66° S and 66° N, the sun above the
// horizon, no air, the centre of its disc. The calendar is put to the test too: PyEphem is asked by
// date, not by a count of days.
#include <doctest/doctest.h>
#include <unistd.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iomanip>
#include <random>
#include <sstream>
#include <string>
#include <vector>

#include "housepower/energy/sun.hpp"

namespace reference_sun_positions {

using namespace housepower;
using namespace housepower::energy;

namespace {

bool has_ephem() { return std::system("/usr/bin/python3 -c 'import ephem' >/dev/null 2>&1") == 0; }

struct Moment {
  int year, month, day;
  double hours, latitude, longitude;  // UT; degrees, east positive
  double altitude = 0, azimuth = 0;   // degrees, PyEphem's
};

const char* const asked = R"(import ephem, sys
for line in open(sys.argv[1]):
    year, month, day, hours, latitude, longitude = line.split()
    here = ephem.Observer()
    here.pressure = 0
    here.lat, here.lon = latitude, longitude
    here.date = ephem.Date((int(year), int(month), int(day))) + float(hours) / 24
    sun = ephem.Sun(here)
    print(repr(sun.alt * 180 / ephem.pi), repr(sun.az * 180 / ephem.pi))
)";

/// With the answers of one run of Python; none where it does not answer for all.
std::vector<Moment> answered(std::vector<Moment> moments) {
  const std::string file = (std::filesystem::temp_directory_path() / "housepower_sun_").string() +
                           std::to_string(getpid());
  std::ofstream(file + ".py") << asked;
  std::ofstream out(file + ".txt");
  out << std::setprecision(17);
  for (const Moment& m : moments)
    out << m.year << " " << m.month << " " << m.day << " " << m.hours << " " << m.latitude << " "
        << m.longitude << "\n";
  out.close();
  std::string said;
  if (FILE* python = popen(("/usr/bin/python3 " + file + ".py " + file + ".txt").c_str(), "r")) {
    char part[4096];
    while (std::fgets(part, sizeof part, python)) said += part;
    pclose(python);
  }
  std::filesystem::remove(file + ".py");
  std::filesystem::remove(file + ".txt");
  std::istringstream answers(said);
  for (Moment& m : moments)
    if (!(answers >> m.altitude >> m.azimuth)) return {};
  return moments;
}

/// Twice as many as are wanted, for at half of them the sun is down.
std::vector<Moment> random_moments(std::size_t count) {
  std::mt19937_64 random(19502050);
  const auto below = [&](double end) { return end * double(random() >> 11) / 9007199254740992.0; };
  std::vector<Moment> all;
  while (all.size() < count) {
    Moment& m = all.emplace_back();
    m.year = 1950 + int(below(101));
    m.month = 1 + int(below(12));
    m.day = 1 + int(below(28));
    m.hours = below(24);
    m.latitude = below(132) - 66;
    m.longitude = below(360) - 180;
  }
  return all;
}

/// Great-circle angle between two directions, in degrees.
double apart(double altitude, double azimuth, double other_altitude, double other_azimuth) {
  const double a = altitude * degree.value(), b = other_altitude * degree.value();
  const double up = std::sin(0.5 * (a - b));
  const double round = std::sin(0.5 * (azimuth - other_azimuth) * degree.value());
  return 2.0 * std::asin(std::sqrt(up * up + std::cos(a) * std::cos(b) * round * round)) /
         degree.value();
}

struct Errors {
  double largest = 0, squares = 0;
  Moment worst{};
  void add(double error, const Moment& m) {
    squares += error * error;
    if (error > largest) largest = error, worst = m;
  }
};

/// The short way: declination by the day number, the equation of time, the hour angle.
template <class Declination>
double short_way(const Moment& m, double day_number, const Declination& declination) {
  const Duration clock = m.hours * hour;
  const Angle delta = declination(day_number);
  const Angle omega = hour_angle(
      solar_time(clock, equation_of_time(day_angle(day_number)), m.longitude * degree, 0.0 * hour));
  const Angle latitude = m.latitude * degree;
  return apart(sun_altitude(latitude, delta, omega) / degree,
               sun_azimuth(latitude, delta, omega) / degree, m.altitude, m.azimuth);
}

TEST_CASE("the sun stands within 0.01° of where a general astronomy package puts it" *
          doctest::skip(!has_ephem())) {
  const std::vector<Moment> moments = answered(random_moments(21000));
  REQUIRE_FALSE(moments.empty());
  Errors ours, spencer, cooper;
  std::size_t up = 0;
  for (const Moment& m : moments) {
    if (m.altitude < 0.0) continue;
    if (++up > 10000) break;
    const Duration since = since_2000(m.year, m.month, m.day, m.hours * hour);
    const SunPosition sun = sun_position(since, m.latitude * degree, m.longitude * degree);
    ours.add(apart(sun.altitude / degree, sun.azimuth / degree, m.altitude, m.azimuth), m);
    // Day of the year, with its fraction: 1.0 is the midnight that begins 1 January.
    const double day_number = 1.0 + (since - since_2000(m.year, 1, 1, 0.0 * hour)) / day;
    spencer.add(short_way(m, day_number, [](Ratio n) { return spencer_declination(day_angle(n)); }),
                m);
    cooper.add(short_way(m, day_number, cooper_declination), m);
  }
  REQUIRE(up > 10000);
  std::ostringstream table;
  table << "angle from PyEphem's sun, 10,000 moments of 1950 to 2050, degrees\n"
        << "                                              largest    r.m.s.\n";
  const auto row = [&](const char* name, const Errors& e) {
    table << std::left << std::setw(44) << name << std::right << std::fixed << std::setprecision(4)
          << std::setw(9) << e.largest << std::setw(10) << std::sqrt(e.squares / 10000.0) << "   ("
          << e.worst.year << ", latitude " << std::setprecision(1) << e.worst.latitude << ")\n";
  };
  row("sun_position", ours);
  row("Spencer's declination and equation of time", spencer);
  row("Cooper's declination, Spencer's equation", cooper);
  MESSAGE(table.str());
  // The formula says of itself that it is good to 0.01° in these years.
  CHECK(ours.largest <= 0.01);
  // What the two short ways are said to be good for: the leap years move them to and fro.
  CHECK(spencer.largest <= 0.5);
  CHECK(cooper.largest <= 1.6);
}

}  // namespace

}  // namespace reference_sun_positions

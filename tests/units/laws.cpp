// SPDX-License-Identifier: Apache-2.0
// What holds of the quantities while compiling: products and quotients have the right kind, and the
// constants the published size.
#include <doctest/doctest.h>

#include <type_traits>

#include "housepower/units/number.hpp"

namespace housepower::units_laws {
namespace {

// Kinds: each relation by its definition (SI Brochure, 9th edition, tables 4 and 5).
static_assert(std::is_same_v<Product<Voltage, Current>, Power>);
static_assert(std::is_same_v<Product<Current, Resistance>, Voltage>);
static_assert(std::is_same_v<Quotient<Voltage, Current>, Resistance>);
static_assert(std::is_same_v<Quotient<Current, Voltage>, Conductance>);
static_assert(std::is_same_v<Product<Current, Duration>, Charge>);
static_assert(std::is_same_v<Quotient<Charge, Current>, Duration>);
static_assert(std::is_same_v<Product<Voltage, Charge>, Energy>);
static_assert(std::is_same_v<Product<Power, Duration>, Energy>);
static_assert(std::is_same_v<Product<Length, Length>, Area>);
static_assert(std::is_same_v<Quotient<Resistivity, Area>, ResistancePerLength>);
static_assert(std::is_same_v<Product<ResistancePerLength, Length>, Resistance>);
static_assert(std::is_same_v<Product<Irradiance, Duration>, Irradiation>);
static_assert(std::is_same_v<Product<Product<HeatTransfer, Area>, TemperatureDifference>, Power>);
static_assert(std::is_same_v<Product<IrradianceHeating, Irradiance>, TemperatureDifference>);
static_assert(std::is_same_v<Product<Product<AdiabaticConstant, Area>, Area>, LetThrough>);
static_assert(std::is_same_v<decltype(celsius(40.0) - celsius(20.0)), TemperatureDifference>);
static_assert(std::is_same_v<decltype(celsius(40.0) + 5.0 * kelvin), Temperature>);

// Sizes, each written out.
static_assert(2.0 * volt * (3.0 * ampere) == 6.0 * watt);
static_assert((10.0 * ampere * hour).value() == 36000.0, "10 A for 3600 s are 36 000 C");
static_assert(10.0 * ampere * hour == 10.0 * ampere_hour);
static_assert(100.0 * ampere_hour / (20.0 * ampere) == 5.0 * hour);
static_assert(100.0 * ampere_hour * (12.0 * volt) == 1200.0 * watt_hour);
static_assert(double(100.0 * ampere_hour / ampere_hour) == 100.0);
static_assert(watt_hour.value() == 3600.0, "1 W for 3600 s, SI Brochure 9th ed., table 8 (hour)");
static_assert(day == 24.0 * hour);
static_assert(year == 365.0 * day);
static_assert(foot.value() == 0.3048 && inch.value() == 0.0254,
              "exact: international yard and pound agreement of 1959, from memory");
static_assert(celsius(0.0).value() == 273.15, "SI Brochure 9th ed., 2.3.1, kelvin");
static_assert(in_celsius(celsius(0.0)) == 0.0);
static_assert(3.0 * ohm / (1000.0 * metre) == 3.0 * ohm_per_kilometre);
static_assert(ohm == 1000.0 * milliohm && volt == 1000.0 * millivolt);

// A number knows its kind.
static_assert(Number(12.0 * volt) == Number(12.0, kind_of<Voltage>));
static_assert(Number(celsius(25.0)).kind.point);
static_assert(!Number(25.0 * kelvin).kind.point);
static_assert(!(kind_of<Temperature> == kind_of<TemperatureDifference>));
static_assert(kind_of<Ratio> == Kind{});
static_assert(kind_of<Voltage> == Kind{.metre = 2, .kilogram = 1, .second = -3, .ampere = -1},
              "V = kg m² s⁻³ A⁻¹, SI Brochure 9th ed., table 4");
static_assert(kind_of<Resistance> == Kind{.metre = 2, .kilogram = 1, .second = -3, .ampere = -2},
              "Ω = kg m² s⁻³ A⁻², SI Brochure 9th ed., table 4");
static_assert(kind_of<Angle> == Kind{.radian = 1});

TEST_CASE("a whole turn is 360 degrees") {
  CHECK((360.0 * degree).value() == doctest::Approx(2 * 3.14159265358979).epsilon(1e-14));
}

TEST_CASE("a new quantity is nought") {
  CHECK(Voltage{}.value() == 0.0);
  CHECK(Number{} == Number(0.0, kind_of<Ratio>));
}

}  // namespace
}  // namespace housepower::units_laws

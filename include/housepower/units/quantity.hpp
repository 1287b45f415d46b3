// SPDX-License-Identifier: Apache-2.0
// The quantities of the engine: one Boost.Units type per physical kind, SI inside.
//
// Trade units (Ah, mm², °C) are constants to multiply with or divide by, not further types, so
// that no formula needs a conversion and each kind has exactly one spelling. A quantity of the
// wrong kind does not compile; tests/units/refused/ proves it.
#pragma once

#include <boost/units/absolute.hpp>
#include <boost/units/quantity.hpp>
#include <boost/units/systems/si/area.hpp>
#include <boost/units/systems/si/base.hpp>
#include <boost/units/systems/si/conductance.hpp>
#include <boost/units/systems/si/current.hpp>
#include <boost/units/systems/si/dimensionless.hpp>
#include <boost/units/systems/si/electric_charge.hpp>
#include <boost/units/systems/si/electric_potential.hpp>
#include <boost/units/systems/si/energy.hpp>
#include <boost/units/systems/si/length.hpp>
#include <boost/units/systems/si/mass.hpp>
#include <boost/units/systems/si/plane_angle.hpp>
#include <boost/units/systems/si/power.hpp>
#include <boost/units/systems/si/resistance.hpp>
#include <boost/units/systems/si/temperature.hpp>
#include <boost/units/systems/si/time.hpp>
#include <boost/units/systems/si/torque.hpp>

namespace housepower {

namespace bu = boost::units;
namespace si = boost::units::si;

using Voltage = bu::quantity<si::electric_potential>;
using Current = bu::quantity<si::current>;
using Resistance = bu::quantity<si::resistance>;
using Conductance = bu::quantity<si::conductance>;
using Length = bu::quantity<si::length>;
using Area = bu::quantity<si::area>;
using Mass = bu::quantity<si::mass>;
using Charge = bu::quantity<si::electric_charge>;
using Energy = bu::quantity<si::energy>;
using Power = bu::quantity<si::power>;
using Torque =
    bu::quantity<si::torque>;  // an energy per angle, so that neither passes for the other
using Duration = bu::quantity<si::time>;
using Angle = bu::quantity<si::plane_angle>;
using Ratio = bu::quantity<si::dimensionless>;  // converts to and from double
using TemperatureDifference = bu::quantity<si::temperature>;
using Temperature = bu::quantity<bu::absolute<si::temperature>>;  // a point, not an interval

template <class A, class B> using Quotient = decltype(A{} / B{});
template <class A, class B> using Product = decltype(A{} * B{});
using ResistancePerLength = Quotient<Resistance, Length>;
using Resistivity = Product<Resistance, Length>;
using LetThrough = Product<Product<Current, Current>, Duration>;      // I²t
using AdiabaticConstant = Quotient<LetThrough, Product<Area, Area>>;  // k² of a conductor
using PerKelvin = Quotient<Ratio, TemperatureDifference>;
using Irradiance = Quotient<Power, Area>;
using Irradiation = Quotient<Energy, Area>;
using HeatTransfer = Quotient<Irradiance, TemperatureDifference>;       // W/(m²·K)
using IrradianceHeating = Quotient<TemperatureDifference, Irradiance>;  // Ross k, K·m²/W
using Density = Quotient<Mass, Product<Area, Length>>;

inline constexpr Voltage volt = Voltage::from_value(1.0);
inline constexpr Voltage millivolt = Voltage::from_value(1e-3);
inline constexpr Current ampere = Current::from_value(1.0);
inline constexpr Resistance ohm = Resistance::from_value(1.0);
inline constexpr Resistance milliohm = Resistance::from_value(1e-3);
inline constexpr ResistancePerLength ohm_per_kilometre = ResistancePerLength::from_value(1e-3);
inline constexpr Length metre = Length::from_value(1.0);
inline constexpr Length millimetre = Length::from_value(1e-3);
inline constexpr Length foot = Length::from_value(0.3048);  // exact, international foot
inline constexpr Length inch = Length::from_value(0.0254);  // exact
inline constexpr Area square_metre = Area::from_value(1.0);
inline constexpr Area square_millimetre = Area::from_value(1e-6);
inline constexpr Mass kilogram = Mass::from_value(1.0);
inline constexpr Power watt = Power::from_value(1.0);
inline constexpr Torque newton_metre = Torque::from_value(1.0);
inline constexpr Duration second = Duration::from_value(1.0);
inline constexpr Duration hour = Duration::from_value(3600.0);
inline constexpr Duration day = Duration::from_value(86400.0);
inline constexpr Duration year = Duration::from_value(365.0 * 86400.0);  // of 365 days
inline constexpr Charge ampere_hour = Charge::from_value(3600.0);
inline constexpr Energy watt_hour = Energy::from_value(3600.0);
inline constexpr TemperatureDifference kelvin = TemperatureDifference::from_value(1.0);
inline constexpr Angle degree = Angle::from_value(3.14159265358979323846 / 180.0);

constexpr Temperature celsius(double degrees) { return Temperature::from_value(degrees + 273.15); }
constexpr double in_celsius(Temperature t) { return t.value() - 273.15; }

}  // namespace housepower

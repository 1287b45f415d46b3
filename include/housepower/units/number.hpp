// SPDX-License-Identifier: Apache-2.0
// A quantity whose kind is known at run time only: what findings, steps, tables and reports carry.
// The typed engine makes one from any quantity; only the readers of input make a quantity back.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <type_traits>

#include "housepower/units/quantity.hpp"

namespace housepower {

/// Exponents of m, kg, s, A, K, rad. `point` marks an absolute temperature.
struct Kind {
  std::int8_t metre = 0, kilogram = 0, second = 0, ampere = 0, kelvin = 0, radian = 0;
  bool point = false;
  friend constexpr bool operator==(const Kind&, const Kind&) = default;
};

namespace detail {
// Walks the dimension of a Boost.Units unit: a list of (base dimension, exponent).
template <class Dimensions> struct KindOfList { static constexpr Kind value{}; };
template <class Base, class Exponent, class Rest>
struct KindOfList<bu::list<bu::dim<Base, Exponent>, Rest>> {
  static_assert(Exponent::Denominator == 1, "no roots of units in this house");
  static constexpr Kind value = [] {
    Kind kind = KindOfList<Rest>::value;
    constexpr auto n = static_cast<std::int8_t>(Exponent::Numerator);
    if constexpr (std::is_same_v<Base, bu::length_base_dimension>) kind.metre = n;
    else if constexpr (std::is_same_v<Base, bu::mass_base_dimension>) kind.kilogram = n;
    else if constexpr (std::is_same_v<Base, bu::time_base_dimension>) kind.second = n;
    else if constexpr (std::is_same_v<Base, bu::current_base_dimension>) kind.ampere = n;
    else if constexpr (std::is_same_v<Base, bu::temperature_base_dimension>) kind.kelvin = n;
    else if constexpr (std::is_same_v<Base, bu::plane_angle_base_dimension>) kind.radian = n;
    else static_assert(!sizeof(Base), "a kind that this house does not use");
    return kind;
  }();
};
template <class Q> struct KindOf;
template <class Dimensions, class System>
struct KindOf<bu::quantity<bu::unit<Dimensions, System>, double>> : KindOfList<Dimensions> {};
template <> struct KindOf<Temperature> { static constexpr Kind value{.kelvin = 1, .point = true}; };
}  // namespace detail

template <class Q> inline constexpr Kind kind_of = detail::KindOf<Q>::value;

struct Number {
  double si = 0;  // in SI base units of its kind
  Kind kind;
  constexpr Number() = default;
  constexpr Number(double in_si, Kind its_kind) : si(in_si), kind(its_kind) {}
  template <class Unit>
  constexpr Number(bu::quantity<Unit, double> q) : si(q.value()), kind(kind_of<decltype(q)>) {}
  friend constexpr bool operator==(const Number&, const Number&) = default;
};

}  // namespace housepower

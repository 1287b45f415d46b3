// SPDX-License-Identifier: Apache-2.0
// What is sensible for a value of each kind, said once: no run is longer than a kilometre, no van
// carries 10 kA, and nothing is so small that nobody could have measured it. A field that needs another limit states its own. And [1.35, "600 s"].
#pragma once

#include "housepower/design/words.hpp"

namespace housepower {
namespace design {

constexpr Field share(const Field& f) { return f.at_least(Ratio(0.0)).at_most(Ratio(1.0)); }
constexpr Field some_share(const Field& f) { return f.at_least(Ratio(0.001)).at_most(Ratio(1.0)); }
constexpr Field count(const Field& f, double least, double most) {
  return f.at_least(Ratio(least)).at_most(Ratio(most));
}
constexpr Field metres(const Field& f) { return f.at_least(0.001 * metre).at_most(1000.0 * metre); }
constexpr Field amperes(const Field& f) {
  return f.at_least(0.0 * ampere).at_most(10000.0 * ampere);
}
constexpr Field rated_amperes(const Field& f) {
  return f.at_least(0.001 * ampere).at_most(10000.0 * ampere);
}
constexpr Field breaking(const Field& f) {
  return f.at_least(1.0 * ampere).at_most(300000.0 * ampere);
}
constexpr Field volts(const Field& f) { return f.at_least(0.1 * volt).at_most(60.0 * volt); }
constexpr Field high_volts(const Field& f) { return f.at_least(0.1 * volt).at_most(450.0 * volt); }
constexpr Field ohms(const Field& f) { return f.at_least(0.0 * ohm).at_most(10.0 * ohm); }
constexpr Field source_ohms(const Field& f) { return f.at_least(1e-9 * ohm).at_most(10.0 * ohm); }
constexpr Field watts(const Field& f) { return f.at_least(0.0 * watt).at_most(100000.0 * watt); }
constexpr Field rated_watts(const Field& f) {
  return f.at_least(0.01 * watt).at_most(100000.0 * watt);
}
constexpr Field kilograms(const Field& f) {
  return f.at_least(0.001 * kilogram).at_most(10000.0 * kilogram);
}
constexpr Field degrees(const Field& f) { return f.at_least(celsius(-60)).at_most(celsius(200)); }
constexpr Field within_a_day(const Field& f) {
  return f.at_least(0.0 * second).at_most(24.0 * hour);
}
template <auto Member> constexpr Field built_into() {
  return field<Member>("assembly", "The [[assembly]] that it is built into.", "kitchen");
}
constexpr Field moment(const Field& f) { return f.at_least(0.0001 * second).at_most(1.0 * hour); }

}  // namespace design

namespace detail {
/// A point of a curve is a list of two: a multiple of the rating, and a time.
template <> struct Reads<design::CurvePoint> {
  static constexpr Shape shape{.form = Shape::Form::list};
  static bool read(const Node& n, design::CurvePoint& to, const Field& f, Reading& r) {
    const auto* list = read_list(n, f, r);
    if (!list) return false;
    if (list->size() != 2) {
      r.diagnostics.error(n.place, r.path, "wants a multiple of the rating and a time",
                          "for example [1.35, \"600 s\"]");
      return false;
    }
    Field multiple = f, time = f;
    multiple.least = Ratio(0.1), multiple.most = Ratio(1000.0);
    time.least = 0.0001 * second, time.most = 1000.0 * hour;
    const bool good = Reads<Ratio>::read((*list)[0], to.multiple, multiple, r);
    return Reads<Duration>::read((*list)[1], to.time, time, r) && good;
  }
  static Node node(const design::CurvePoint& from) {
    return {Node::List{node_of(Number(from.multiple)), node_of(Number(from.time))}, {}};
  }
};
}  // namespace detail
}  // namespace housepower

// SPDX-License-Identifier: Apache-2.0
#include "metered.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "housepower/units/phrases.hpp"

namespace housepower::report {
namespace {

bool is_amperes(const wiring::ReadPoint& r) { return r.point.kind == kind_of<Current>; }
bool is_in_volts(const wiring::ReadPoint& r) {
  return !is_amperes(r) && !r.point.path.is(design::Subject::Kind::run);
}

}  // namespace

std::string as_metered(const wiring::ReadPoint& like, Number n) {
  if (is_amperes(like)) return fmt::format("{:.1f}", n.si);
  return is_in_volts(like) ? fmt::format("{:.2f}", n.si) : fmt::format("{:.1f}", 1e3 * n.si);
}
std::string low_as_metered(const wiring::ReadPoint& r) {
  return as_metered(r, {std::max(r.low.si, 0.0), r.low.kind});
}
std::string unit_as_metered(const wiring::ReadPoint& r) {
  return is_amperes(r) ? "A" : is_in_volts(r) ? "V" : "mV";
}

std::string words_of(const wiring::TestLoad& load) {
  return load.what.is(design::Subject::Kind::load_case) ? "case " + quoted(load.name) : load.name;
}

const char* why_of(wiring::Untested::Why why) {
  using Why = wiring::Untested::Why;
  switch (why) {
  case Why::array: return "carries solar current only: read it in full sun";
  case Why::charger: return "carries current only while its charger runs: read it then";
  case Why::feed:
    return "carries current only while the vehicle or mains is connected: read it then";
  case Why::too_little: return "carries under 50 mA: check it by eye and tug the lugs";
  case Why::no_load: break;
  }
  return "nothing that can be switched on uses it: check it by eye and tug the lugs";
}

}  // namespace housepower::report

// SPDX-License-Identifier: Apache-2.0
// Any bytes as a quantity of any kind: no crash, and what was read prints and reads again.
#include <cmath>
#include <cstdint>
#include <cstdlib>

#include "housepower/units/unit.hpp"

using namespace housepower;

namespace {
constexpr Kind kinds[] = {{},
                          kind_of<Length>,
                          kind_of<Area>,
                          kind_of<Current>,
                          kind_of<Voltage>,
                          kind_of<Temperature>,
                          kind_of<Resistance>,
                          kind_of<Duration>,
                          kind_of<PerKelvin>,
                          kind_of<HeatTransfer>};

void require(bool good) {
  if (!good) std::abort();
}
}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(reinterpret_cast<const char*>(data), size);
  for (const Kind kind : kinds) {
    const auto read = parse_quantity(text, kind);
    if (const auto* problem = std::get_if<ParseProblem>(&read)) {
      require(!problem->message.empty());
      continue;
    }
    const Number number = std::get<Number>(read);
    require(std::isfinite(number.si) && number.kind == kind);
    const auto again = parse_quantity(print(number, 15), kind);
    require(std::holds_alternative<Number>(again));
    // A temperature near 0 °C keeps the rounding of its 273.15 K.
    const double allowed = 1e-9 * std::abs(number.si) + (kind.point ? 1e-9 : 0.0);
    require(std::abs(std::get<Number>(again).si - number.si) <= allowed);
  }
  return 0;
}

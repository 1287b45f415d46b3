// SPDX-License-Identifier: Apache-2.0
#include "housepower/wiring/named_methods.hpp"

#include "housepower/wiring/formulas.hpp"

namespace housepower::wiring {

ByNamedMethod by_named_method(NamedMethod method, Current current, Length loop, Voltage allowed,
                              const std::optional<tables::Conductor>& given_conductor,
                              std::span<const tables::Conductor> series, Working* working) {
  const Resistivity rho = method == NamedMethod::abyc_e11    ? abyc_k
                          : method == NamedMethod::iso_10133 ? iso_10133_resistivity
                                                             : en_1648_resistivity;
  ByNamedMethod answer;
  answer.needed = method == NamedMethod::abyc_e11
                      ? step(working, abyc_area, rho, current, loop, allowed)
                      : step(working, loop_area, rho, current, loop, allowed);
  for (const auto& size : series) {
    if (size.nominal < answer.needed) continue;
    answer.smallest = size;
    break;
  }
  const auto& used = given_conductor ? given_conductor : answer.smallest;
  if (used) answer.drop = step(working, loop_drop, rho, current, loop, used->nominal);
  return answer;
}

}  // namespace housepower::wiring

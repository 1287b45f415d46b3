// SPDX-License-Identifier: Apache-2.0
// Reads a conductor's area and prints it, with the installed library alone.
#include <iostream>

#include <housepower/units/unit.hpp>

int main() {
  const auto area = housepower::parse_quantity("35 mm2", housepower::kind_of<housepower::Area>);
  std::cout << housepower::print(std::get<housepower::Number>(area)) << '\n';
}

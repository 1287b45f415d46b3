// SPDX-License-Identifier: Apache-2.0
// Stands in the copy of the sources that is built with mutants in it: each is asked for by its number,
// and HOUSEPOWER_MUTANT says which one is alive.
#pragma once

#include <type_traits>

namespace housepower::mutation {

extern int alive;               // -1: none
extern unsigned char* reached;  // one byte a mutant, or null

}  // namespace housepower::mutation

constexpr bool housepower_mutant(int number) {
  if (std::is_constant_evaluated()) return false;
  if (housepower::mutation::reached) housepower::mutation::reached[number] = 1;
  return housepower::mutation::alive == number;
}

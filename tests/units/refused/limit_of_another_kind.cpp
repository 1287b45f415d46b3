// SPDX-License-Identifier: Apache-2.0
// expected: error: .*(is not a constant expression|must be initialized by a constant expression)
// The limit of a field is of the kind of its member.
#include "housepower/reading/fields.hpp"

using namespace housepower;

struct Run {
  Length length;
};

constexpr Field wrong = field<&Run::length>("length", "", "").more_than(1.0 * volt);

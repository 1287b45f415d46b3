// SPDX-License-Identifier: Apache-2.0
#include "housepower/answers/looms.hpp"

namespace housepower::answers {

LoomReport looms(const design::Design& design) {
  range::BuildList list = range::build_list(design);
  range::Looms looms = range::looms_of(design, list);
  return {std::move(list), std::move(looms)};
}

}  // namespace housepower::answers

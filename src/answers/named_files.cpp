// SPDX-License-Identifier: Apache-2.0
#include "housepower/answers/named_files.hpp"

namespace housepower::answers {

std::string file_naming(const Place& named, const std::string& design) {
  return named.line > 0 && !named.file.starts_with("--") ? named.file : design;
}

}  // namespace housepower::answers

// SPDX-License-Identifier: Apache-2.0
// How an option is named and described, wherever it is shown.
#include <algorithm>

#include "command.hpp"

namespace housepower::cli {

bool is_positional(const Field& f) {
  return f.key == "files" || f.key == "file" || f.key == "name";
}

std::string option_name(const Field& f) {
  std::string name = "--" + std::string(f.key);
  std::replace(name.begin(), name.end(), '_', '-');
  return name;
}

std::string short_name(const Field& f) { return f.key == "output" ? "-o" : ""; }

std::string description(const Field& f) {
  std::string text(f.says);
  if (!f.otherwise.empty()) text += " Default: " + std::string(f.otherwise) + ".";
  else if (!f.example.empty()) text += " For example \"" + std::string(f.example) + "\".";
  return text;
}

std::string_view purpose() {
  return "sizes the 12 V lithium house-power system of a touring caravan and checks its cables.";
}

std::string_view exit_codes() {
  return "0 nothing fails, 1 a check fails, 2 usage,\n3 the input is wrong, 4 a file cannot be "
         "read "
         "or written, 70 our own mistake.";
}

}  // namespace housepower::cli

// SPDX-License-Identifier: Apache-2.0
#include "housepower/page/words.hpp"

#include "housepower/units/unit.hpp"

namespace housepower::page {

std::string step_line(const Step& step) {
  std::string line = std::string(step.formula.symbol) + " = ";
  if (step.how == Step::How::formula) line += std::string(step.formula.text) + " = ";
  if (step.how != Step::How::given) line += with_numbers(step) + " = ";
  return line + (step.formula.unit.empty()
                     ? print_both(step.value, 4)
                     : print_plain(step.value.si, 4) + " " + std::string(step.formula.unit));
}

std::string step_meaning(const Step& step) {
  std::string what(step.formula.meaning);
  if (!step.formula.source.title.empty()) what += "; " + source_line(step.formula.source);
  return what;
}

std::string place_text(const Place& place) {
  return place.line == 0
             ? place.file
             : place.file + ":" + std::to_string(place.line) + ":" + std::to_string(place.column);
}

std::string source_line(const Source& s) {
  return std::string(s.title) + (s.where.empty() ? "" : ", " + std::string(s.where)) + " (" +
         std::string(word_of(s.kind)) + ")";
}

}  // namespace housepower::page

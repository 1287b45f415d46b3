// SPDX-License-Identifier: Apache-2.0
#include "housepower/design/labels.hpp"

#include <algorithm>

namespace housepower::design {
namespace {

// Characters of a name that a sleeve has room for, twice (from judgement).
constexpr std::size_t longest_name = 18;

bool begins_character(char c) { return (c & 0xC0) != 0x80; }

std::string shortened(const std::string& name) {
  if (std::size_t(std::count_if(name.begin(), name.end(), begins_character)) <= longest_name)
    return name;
  std::size_t characters = 0, end = 0;
  while (end < name.size() && (!begins_character(name[end]) || characters++ < longest_name - 1))
    ++end;
  return name.substr(0, end) + "…";
}

std::string sleeve(const std::string& conductor, const std::string& here,
                   const std::string& there) {
  return conductor + " " + shortened(here) + " → " + shortened(there);
}

}  // namespace

std::string_view sign_of(Pole pole) { return pole == Pole::outgoing ? "+" : "−"; }

std::string conductor_label(const Design& design, resolved::RunId id, Pole pole, int number) {
  const resolved::Run& run = design[id];
  return run.label + std::string(sign_of(pole)) +
         (run.parallel > 1 ? std::to_string(number) : std::string());
}

std::string label_of(const Design& design, resolved::RunId id, Pole pole, int number, RunEnd end) {
  const resolved::Run& run = design[id];
  const std::string &first = design[pole == Pole::outgoing ? run.from : run.back.to].name,
                    &last = design[run.to].name;
  const std::string conductor = conductor_label(design, id, pole, number);
  return end == RunEnd::from ? sleeve(conductor, first, last) : sleeve(conductor, last, first);
}

std::string bank_label(const Design& design, const BankConductor& c) {
  std::string label = "B" + std::to_string(c.battery);
  if (!c.is_lead) label += "-" + std::to_string(c.battery + 1);
  const auto taken = [&](const resolved::Run& run) { return run.label == label; };
  while (std::any_of(design->runs.begin(), design->runs.end(), taken)) label += "a";
  return label;
}

std::string conductor_label(const Design& design, const BankConductor& c) {
  return bank_label(design, c) + std::string(sign_of(c.pole));
}

std::string label_of(const Design& design, const BankConductor& c, RunEnd end) {
  const std::string first = "battery " + std::to_string(c.battery),
                    last = c.is_lead ? "common bar" : "battery " + std::to_string(c.battery + 1);
  const std::string conductor = conductor_label(design, c);
  return end == RunEnd::from ? sleeve(conductor, first, last) : sleeve(conductor, last, first);
}

}  // namespace housepower::design

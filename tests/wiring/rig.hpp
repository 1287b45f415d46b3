// SPDX-License-Identifier: Apache-2.0
// Small designs for the tests of this room, read from text as a user writes them.
#pragma once

#include <cmath>
#include <string>

#include "design/van.hpp"
#include "housepower/wiring/assessment.hpp"
#include "support/working_adds_up.hpp"

namespace rig {

using namespace housepower;
using namespace housepower::wiring;
using design::Pole;

/// One battery of 100 Ah; runs that say nothing lie alone in free air of 30 °C, insulation 90 °C,
/// joints of 0.
inline const std::string bank = R"(schema = 1
[vehicle]
name = "rig"
system_voltage = "12 V"
[rules]
profile = "au-nz-caravan"
[wiring]
insulation = "90 °C"
laid = "free"
ambient = "30 °C"
circuits_together = 1
joints = 0
joint_resistance = "0 mΩ"
[bank]
chemistry = "lfp"
quantity = 1
capacity = "100 Ah"
nominal_voltage = "12.8 V"
resistance = { low = "2 mΩ", high = "5 mΩ" }
)";
inline std::string node(const std::string& name, const std::string& more = "") {
  return "[[node]]\nname = \"" + name + "\"\nkind = \"panel\"\n" + more + "\n";
}
inline std::string run(const std::string& name, const std::string& from, const std::string& to,
                       const std::string& length, const std::string& conductor,
                       const std::string& more = "") {
  return "[[run]]\nname = \"" + name + "\"\nfrom = \"" + from + "\"\nto = \"" + to +
         "\"\nlength = \"" + length + "\"\n" +
         (conductor.empty() ? "" : "conductor = \"" + conductor + "\"\n") + more + "\n";
}
inline std::string appliance(const std::string& name, const std::string& more) {
  return "[[appliance]]\nname = \"" + name + "\"\n" + more + "\n";
}

/// Keeps what the design views into, and assesses it.
struct Rig {
  van::Tried tried;
  Assessment found;
  explicit Rig(const std::string& text, std::vector<LoadCase> cases = {})
      : tried(van::opened(text)) {
    if (cases.empty()) {
      LoadCase all;
      all.name = "all";
      for (int i = 0; i < int(design()->appliances.size()); ++i) all.running.push_back({i});
      all.temperature = celsius(20);
      cases.push_back(all);
    }
    found = assess(design(), cases);
  }
  [[nodiscard]] const design::Design& design() const { return tried.design(); }
  [[nodiscard]] design::resolved::RunId id(std::string_view name) const {
    for (int i = 0; i < int(design()->runs.size()); ++i)
      if (design()->runs[std::size_t(i)].name == name) return {i};
    FAIL("no run " << name);
    return {};
  }
  [[nodiscard]] const RunFacts& facts(std::string_view name) const { return found.runs[id(name)]; }
  [[nodiscard]] const CaseResult& last() const { return found.cases.back(); }
  [[nodiscard]] const RunInCase& in_case(std::string_view name) const {
    return last().runs[id(name)];
  }
  [[nodiscard]] const ConsumerInCase& consumer(std::string_view name) const {
    for (const auto& c : last().consumers)
      if (c.name == name) return c;
    FAIL("no consumer " << name);
    return last().consumers.front();
  }
  [[nodiscard]] Ampacity ampacity(std::string_view name, Working* working = nullptr) const {
    const auto& r = design()[id(name)];
    const auto answer =
        ampacity_of(design(), r, facts(name).outgoing.conductor, Pole::outgoing, working);
    if (const auto* no = std::get_if<NoAmpacity>(&answer)) FAIL(no->why);
    return std::get<Ampacity>(answer);
  }
  [[nodiscard]] std::string no_ampacity(std::string_view name) const {
    const auto* no = std::get_if<NoAmpacity>(&facts(name).ampacity);
    return no ? no->why : "";
  }
};

inline doctest::Approx about(double value, double share = 1e-9) {
  return doctest::Approx(value).epsilon(share);
}
inline void adds_up(const Working& working) {
  CHECK_FALSE(working.empty());
  for (const Step& s : working) {
    CAPTURE(s.formula.symbol);
    CHECK(housepower::test::text_against_code(s) == "");
    CHECK(housepower::test::line_against_value(s) == "");
  }
}

}  // namespace rig

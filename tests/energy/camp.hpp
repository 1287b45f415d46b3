// SPDX-License-Identifier: Apache-2.0
// A bank and whatever a test adds to it, for the tests of parts and energy.
#pragma once

#include "design/van.hpp"
#include "housepower/energy/assessment.hpp"
#include "support/working_adds_up.hpp"

namespace camp {

using namespace housepower;

/// Two batteries of 100 Ah that draw nothing themselves, so that sums stay small.
inline const std::string bank = R"(schema = 1
[vehicle]
name = "camp"
system_voltage = "12 V"
[rules]
profile = "au-nz-caravan"
[bank]
chemistry = "lfp"
quantity = 2
capacity = "100 Ah"
nominal_voltage = "12.8 V"
own_draw = "0 A"
)";

inline const std::string panel = R"([[node]]
name = "panel"
kind = "panel"
[[run]]
name = "main"
from = "bank"
to = "panel"
length = "1 m"
)";

inline const std::string roof = R"([[array]]
name = "roof"
modules = 2
module = { power = "200 W", imp = "9.8 A", power_coefficient = "-0.35 %/K" }
to = "controller"
[[controller]]
name = "controller"
max_voltage = "100 V"
max_charge_current = "30 A"
own_draw = "0 W"
)";

inline std::string appliance(const std::string& name, const std::string& more) {
  return "[[appliance]]\nname = \"" + name + "\"\n" + more + "\n";
}
inline std::string at(const std::string& town, const std::string& more = "") {
  return "[place]\nname = \"" + town + "\"\n" + more + "\n";
}

/// Keeps what the design views into.
class Camp {
public:
  explicit Camp(const std::string& text) : tried_(van::opened(text)) {}
  [[nodiscard]] const design::Design& design() const { return tried_.design(); }
  [[nodiscard]] energy::MonthDay day(std::optional<int> month = {},
                                     Working* working = nullptr) const {
    return energy::month_day(design(), month, working, working);
  }

private:
  van::Tried tried_;
};

inline const energy::ConsumerDay& consumer(const energy::MonthDay& day, std::string_view path) {
  for (const auto& c : day.consumers)
    if (c.path == path) return c;
  FAIL("no consumer " << path);
  return day.consumers.front();
}
inline double wh(Energy e) { return e / watt_hour; }
inline doctest::Approx about(double value) { return doctest::Approx(value).epsilon(1e-9); }

/// Every step of a working, redone with the pocket calculator.
inline void adds_up(const Working& working) {
  CHECK_FALSE(working.empty());
  for (const Step& s : working) {
    CAPTURE(s.formula.symbol);
    CAPTURE(s.formula.text);
    CHECK(test::text_against_code(s) == "");
    CHECK(test::line_against_value(s) == "");
  }
}

}  // namespace camp

// SPDX-License-Identifier: Apache-2.0
// Cases without an operating point, inverters whose sockets are open, and voltages that do not
// belong together, each in the sound van.
#include "examples.hpp"

namespace housepower::checks::checks_cases_and_voltages {
namespace {

using examples::checked;
using examples::checked_text;
using examples::faulty;

std::string base_text(const std::vector<std::pair<std::string, std::string>>& changes = {}) {
  std::string text = *examples::from_disk(faulty("base"));
  for (const auto& change : changes) {  // clang 14 captures no structured binding
    const auto at = text.find(change.first);
    REQUIRE_MESSAGE(at != std::string::npos, change.first);
    text.replace(at, change.first.size(), change.second);
  }
  return text;
}

/// The worst that a rule says of a subject, in a case or in any.
const Finding* worst_of(const Checked& c, std::string_view rule, std::string_view subject,
                        std::string_view in_case = {}) {
  const Finding* worst_ = nullptr;
  for (const Finding& f : c.findings)
    if (f.rule == rule && f.subject == subject && (in_case.empty() || f.in_case == in_case) &&
        (!worst_ || f.verdict > worst_->verdict))
      worst_ = &f;
  return worst_;
}
const Finding& found(const Checked& c, std::string_view rule, std::string_view subject,
                     std::string_view in_case = {}) {
  const Finding* f = worst_of(c, rule, subject, in_case);
  REQUIRE_MESSAGE(f != nullptr, std::string(rule) << " on " << std::string(subject));
  return *f;
}

const std::string heater = R"([[appliance]]
name = "Awning heater"
power = "POWER"
between = ["19:00-22:00"]
per_day = "1 h"
lowest_voltage = "10.8 V"
highest_voltage = "15.5 V"
[[run]]
name = "awning"
from = "FROM"
to = "Awning heater"
length = "40 m"
conductor = "SIZE"
protection = [{ end = "from", type = "panel fuse", rating = "15 A", distance = "0.05 m" }]
[[case]]
name = "awning"
running = ["Cooler", "Awning heater"]
)";
std::string with_heater(const std::string& power, const std::string& from,
                        const std::string& size) {
  std::string text = heater;
  for (const auto& [key, value] : {std::pair{"POWER", power}, {"FROM", from}, {"SIZE", size}})
    text.replace(text.find(key), std::string(key).size(), value);
  return base_text() + text;
}

TEST_CASE("without an operating point no finding of the case vanishes or passes") {
  // 40 m of 2.5 mm² are 0.64 Ω there and back: no more than E²/4R = 66 W come through.
  const Checked c = checked_text(with_heater("110 W", "panel", "2.5 mm2"));
  CHECK(found(c, "voltage-collapse", "case/awning").verdict == Verdict::fail);
  const Finding& own = found(c, "appliance-undervoltage", "appliance/Awning heater", "awning");
  CHECK(own.verdict == Verdict::fail);
  // Half of the source's 13.1 V where the way bears most. That is reckoned with a hot conductor, the
  // voltage with one as warm as it gets: between half and two thirds.
  CHECK(own.measured->si > 6.5);
  CHECK(own.measured->si < 8.8);
  CHECK(found(c, "drop", "appliance/Awning heater", "awning").verdict >= Verdict::caution);
  // the bank would give what the way lets through, about 10 A and the cooler: known to be no more
  CHECK(found(c, "bank-discharge", "bank", "awning").verdict == Verdict::not_checked);
  // the cooler shares the trunk only, and that loses little: nothing says that it is harmed
  for (const Finding& f : c.findings)
    if (f.subject == "appliance/Cooler" && f.in_case == "awning") CHECK(f.verdict != Verdict::fail);
  CHECK(c.verdicts.safety == Verdict::fail);
}

TEST_CASE("what lies beyond a limit before a collapse stays so in it") {
  // 700 W solve and ask more of each battery than 30 A; 3 kW have no operating point.
  const auto bank = [](const std::string& power) {
    std::string text = with_heater(power, "bank", "35 mm2");
    text.replace(text.find("discharge_limit = \"100 A\""), 25, "discharge_limit = \"25 A\"");
    return checked_text(text);
  };
  const Checked solved = bank("700 W"), collapsed = bank("3 kW");
  CHECK(found(solved, "voltage-collapse", "case/awning").verdict == Verdict::pass);
  CHECK(found(collapsed, "voltage-collapse", "case/awning").verdict == Verdict::fail);
  for (const Checked* c : {&solved, &collapsed})
    CHECK(found(*c, "bank-discharge", "bank", "awning").verdict == Verdict::fail);
  CHECK(found(collapsed, "appliance-undervoltage", "appliance/Awning heater", "awning").verdict ==
        Verdict::fail);
}

TEST_CASE("a start without an operating point fails, and what it shows of batteries and devices "
          "beside") {
  const auto start = [](const std::string& amperes) {
    return checked_text(base_text(
        {{"starting = { current = \"9 A\"", "starting = { current = \"" + amperes + " A\""}}));
  };
  // 4 mm² over 3 m: 30 mΩ and the joints; 60 A falls below 10.8 V, 600 A have no operating point
  const Checked deep = start("60"), none = start("600");
  const std::string path = "appliance/Water pump/starting";
  CHECK(found(deep, "starting-current", path).verdict == Verdict::fail);
  CHECK(found(none, "starting-current", path).verdict == Verdict::fail);
  CHECK(found(none, "starting-current", path).message.find("no operating point") !=
        std::string::npos);
  // the 15 A device of the pump's run may open at 60 A, and at all that its way lets through
  CHECK(found(deep, "starting-current", "run/pump/protection/0").verdict >= Verdict::caution);
  CHECK(found(none, "starting-current", "run/pump/protection/0").verdict >=
        found(deep, "starting-current", "run/pump/protection/0").verdict);
  const Finding* battery = worst_of(none, "starting-current", "bank/peak");
  REQUIRE(battery);
  CHECK(battery->verdict != Verdict::pass);
}

const std::string inverter = R"([[inverter]]
name = "inverter"
rating = "1000 W"
no_load = "8 W"
loss = { k = 0.11 }
cut_out = "10.8 V"
runs = "while-used"
mass = "3 kg"
[[appliance]]
name = "Laptop"
power = "90 W"
rated_at = "230 V"
supply = "inverter"
per_day = "1 h"
between = ["07:00-09:00"]
[[run]]
name = "inverter"
from = "bank"
to = "inverter"
length = "1 m"
conductor = "35 mm2"
protection = [{ end = "from", type = "post fuse", rating = "RATING", distance = "0.1 m" }]
)";
Checked with_inverter(const std::string& rating, const std::string& loads = "any") {
  std::string text = inverter;
  text.replace(text.find("RATING"), 6, rating);
  text.replace(text.find("mass = \"3 kg\""), 0, "loads = \"" + loads + "\"\n");
  return checked_text(base_text() + text);
}

TEST_CASE("an inverter's device carries its rating at the cut-out, a tenth over is a caution of "
          "service") {
  // 1000 W + 8 W + 0.11 · 1000 W = 1118 W: 1.22 · 1118 / 10.8 = 126.3 A; at 12.5 V 109.1 A, which
  // asks for 145.5 A by three quarters.
  const std::string device = "run/inverter/protection/0";
  const Checked ample = with_inverter("150 A"), near = with_inverter("125 A"),
                small = with_inverter("110 A");
  CHECK(found(ample, "fuse-above-load", device).verdict == Verdict::pass);
  CHECK(found(ample, "fuse-above-load", device).measured->si ==
        doctest::Approx(126.293).epsilon(1e-5));
  CHECK(found(ample, "fuse-loading", device).verdict == Verdict::pass);
  CHECK(found(ample, "ampacity", "run/inverter").measured->si ==
        doctest::Approx(126.293).epsilon(1e-5));
  const Finding& over = found(near, "fuse-above-load", device);
  CHECK(over.verdict == Verdict::caution);
  CHECK_FALSE(over.of_safety);
  CHECK(found(near, "fuse-loading", device).verdict == Verdict::caution);
  const Finding& beyond = found(small, "fuse-above-load", device);  // 1.1 · 110 = 121 A
  CHECK(beyond.verdict == Verdict::fail);
  CHECK(beyond.of_safety);
}

TEST_CASE("where only what is listed can be plugged in, that is what the device carries") {
  // 90 W + 8 W + 0.11 · 90²/1000 W = 98.9 W: 1.22 · 98.891 / 10.8 = 11.17 A
  const Checked listed = with_inverter("30 A", "listed");
  const Finding& f = found(listed, "fuse-above-load", "run/inverter/protection/0");
  CHECK(f.verdict == Verdict::pass);
  CHECK(f.measured->si == doctest::Approx(1.22 * 98.891 / 10.8).epsilon(1e-6));
  CHECK(found(with_inverter("30 A"), "fuse-above-load", "run/inverter/protection/0").verdict ==
        Verdict::fail);
}

/// What bank-charge says of the regulator's voltage, from above and from below.
const Finding& of_voltage(const Checked& c) {
  return found(c, "bank-charge", "controller/regulator/charge_voltage");
}

TEST_CASE("a charge voltage above the cells' or the maker's highest fails, and is of safety") {
  const auto at = [](const std::string& volts, const std::string& highest = {}) {
    return checked_text(base_text(
        {{"charge_voltage = \"14.4 V\"", "charge_voltage = \"" + volts + "\""},
         {"charge_limit = \"50 A\"\n",
          "charge_limit = \"50 A\"\n" +
              (highest.empty() ? "" : "charge_voltage_highest = \"" + highest + "\"\n")}}));
  };
  CHECK(of_voltage(at("14.4 V")).verdict == Verdict::pass);
  CHECK(of_voltage(at("14.6 V")).verdict == Verdict::pass);  // 4 · 3.65 V
  const Checked over = at("14.8 V");
  CHECK(of_voltage(over).verdict == Verdict::fail);
  CHECK(of_voltage(over).of_safety);
  CHECK(of_voltage(at("14.4 V", "14.2 V")).verdict == Verdict::fail);
  CHECK(of_voltage(at("14.8 V", "15.0 V")).verdict == Verdict::pass);
}

TEST_CASE(
    "a charge voltage below the bank at 95 % at rest fails, below 13.8 V it is a caution, both "
    "of service") {
  const auto at = [](const std::string& volts) {
    return checked_text(
        base_text({{"charge_voltage = \"14.4 V\"", "charge_voltage = \"" + volts + "\""}}));
  };
  // 4 · 3.3447 V = 13.379 V
  const Checked low = at("13.35 V");
  CHECK(of_voltage(low).verdict == Verdict::fail);
  CHECK_FALSE(of_voltage(low).of_safety);
  CHECK(of_voltage(low).limit->si == doctest::Approx(13.3788));
  const Checked between = at("13.5 V");
  CHECK(of_voltage(between).verdict == Verdict::caution);
  CHECK_FALSE(of_voltage(between).of_safety);
  CHECK(of_voltage(at("13.8 V")).verdict == Verdict::pass);
}

TEST_CASE("what does not bear the resting bank fails, whoever stated the charge voltage") {
  const auto cooler = [](const std::string& volts, bool charge_voltage_stated = true) {
    std::string text =
        base_text({{"highest_voltage = \"15.5 V\"", "highest_voltage = \"" + volts + "\""}});
    if (!charge_voltage_stated) {
      const std::string line = "charge_voltage = \"14.4 V\"\n";
      text.erase(text.find(line), line.size());
    }
    return checked_text(text);
  };
  const auto says = [](const Checked& c) -> const Finding& {
    return found(c, "appliance-overvoltage", "appliance/Cooler");
  };
  CHECK(says(cooler("14.4 V")).verdict == Verdict::pass);
  CHECK(says(cooler("14.0 V")).verdict == Verdict::fail);
  CHECK(says(cooler("14.0 V", false)).verdict == Verdict::caution);  // 14.4 V is our own figure
  CHECK(says(cooler("13.5 V", false)).verdict == Verdict::fail);     // 13.6 V is the bank's
  CHECK(says(cooler("13.5 V", false)).of_safety);
  CHECK(says(cooler("13.6 V", false)).verdict == Verdict::caution);
}

}  // namespace
}  // namespace housepower::checks::checks_cases_and_voltages

// SPDX-License-Identifier: Apache-2.0
// What a design describes and draws no run to: never passed as safe, and told where it is counted.
#include "examples.hpp"
#include "housepower/checks/delivered.hpp"

namespace checks_undrawn {
namespace {

using namespace examples;

constexpr std::string_view head = R"(schema = 1
[vehicle]
name = "Sketch"
system_voltage = "12 V"
[rules]
profile = "au-nz-caravan"
[place]
name = "hobart"
month = "june"
[bank]
chemistry = "lfp"
quantity = 1
capacity = "100 Ah"
nominal_voltage = "12.8 V"
[[appliance]]
name = "Lights"
power = "20 W"
between = ["18:00-23:00"]
[[array]]
name = "roof"
modules = 1
module = { power = "160 W", voc = "22 V", isc = "9.5 A", vmp = "18 V", imp = "8.9 A" }
to = "controller"
[[controller]]
name = "controller"
max_voltage = "60 V"
max_charge_current = "15 A"
[[charger]]
name = "mains charger"
kind = "mains"
current = "15 A"
[[charger]]
name = "drive charger"
kind = "dc-dc"
current = "15 A"
input_cut_out = "11.5 V"
[[node]]
name = "panel"
kind = "panel"
rating = "60 A"
[[node]]
name = "lamp point"
kind = "point"
)";

std::string run(const char* name, const char* from, const char* to) {
  return std::string("[[run]]\nname = \"") + name + "\"\nfrom = \"" + from + "\"\nto = \"" + to +
         "\"\nlength = \"2 m\"\nconductor = \"6 mm2\"\n";
}
/// All that is to be drawn, but for one.
std::string drawn_but(std::string_view left_out) {
  std::string text(head);
  text += "[[feed]]\nname = \"tow\"\nkind = \"tow-vehicle\"\nvoltage = { low = \"12.4 V\", high = "
          "\"14.7 V\" }\nresistance = { low = \"8 mΩ\", high = \"20 mΩ\" }\n";
  const std::array<std::array<const char*, 3>, 7> all{{{"main", "bank", "panel"},
                                                       {"lights", "panel", "Lights"},
                                                       {"roof", "roof", "controller.in"},
                                                       {"sun", "panel", "controller.out"},
                                                       {"mains", "panel", "mains charger.out"},
                                                       {"tow", "tow", "drive charger.in"},
                                                       {"drive", "panel", "drive charger.out"}}};
  for (const auto& one : all)
    if (left_out != one[0]) text += run(one[0], one[1], one[2]);
  return text;
}
design::Opened opened_text(const std::string& text) {
  return opened("sketch.toml", {}, [&](std::string_view) { return std::optional(text); });
}
/// What of left-unsaid is of safety.
std::vector<std::string> of_safety(const Checked& checked) {
  std::vector<std::string> list;
  for (const Finding& f : checked.findings)
    if (f.rule == "left-unsaid" && f.of_safety) {
      CHECK(f.verdict == Verdict::not_checked);
      CHECK_FALSE(f.cure.empty());
      list.push_back(f.subject.text());
    }
  return list;
}
Current of_charger(const std::string& text, std::string_view name) {
  const auto list = checks::delivered(opened_text(text).design);
  const auto found =
      std::find_if(list.begin(), list.end(), [&](const auto& one) { return one.what == name; });
  REQUIRE(found != list.end());
  if (!(found->current.value() > 0.0)) CHECK_FALSE(found->why.empty());
  return found->current;
}
Energy sun(const std::string& text) {
  return energy::assess(opened_text(text).design).months.front().solar;
}

}  // namespace

TEST_CASE("with every lead drawn none is missed, and everything charges") {
  const std::string text = drawn_but("");
  CHECK(of_safety(checked_text(text)).empty());
  CHECK(of_charger(text, "mains charger") / ampere == doctest::Approx(15.0));
  CHECK(of_charger(text, "drive charger").value() > 0.0);
  CHECK(sun(text).value() > 0.0);
}

TEST_CASE("a lead that is not drawn is not checked, of safety; an undrawn line delivers nothing") {
  using Texts = std::vector<std::string>;
  CHECK(of_safety(checked_text(drawn_but("roof"))) == Texts{"array/roof"});
  CHECK(sun(drawn_but("roof")) == sun(drawn_but("")));
  CHECK(of_safety(checked_text(drawn_but("sun"))) == Texts{"controller/controller"});
  CHECK(of_safety(checked_text(drawn_but("mains"))) == Texts{"charger/mains charger"});
  CHECK(of_safety(checked_text(drawn_but("drive"))) == Texts{"charger/drive charger"});
  CHECK(of_safety(checked_text(drawn_but("tow"))) == Texts{"charger/drive charger"});
  CHECK(of_charger(drawn_but("tow"), "drive charger").value() == 0.0);
}

TEST_CASE("the safety verdict is at best a caution where a lead is not drawn, and energy says it") {
  const auto one = opened_text(drawn_but("sun"));
  CHECK(checked(one).verdicts.safety >= Verdict::caution);
  const auto notes = energy::assess(one.design).notes;
  CHECK(std::any_of(notes.begin(), notes.end(), [](const std::string& note) {
    return note ==
           "No run joins \"controller.out\" to the bank: its charge is counted as if one did.";
  }));
}

TEST_CASE("a tow line with a figure left out brings nothing, and says which") {
  std::string text = drawn_but("");
  const std::string stated = "resistance = { low = \"8 mΩ\", high = \"20 mΩ\" }\n";
  text.erase(text.find(stated), stated.size());
  const auto list = checks::delivered(opened_text(text).design);
  CHECK(list[1].current.value() == 0.0);
  CHECK(list[1].why.find("resistance") != std::string::npos);
}

TEST_CASE("an appliance on the bank or a panel has a wire and a fuse that nobody described") {
  const std::string heater = "[[appliance]]\nname = \"Heater\"\npower = \"600 W\"\non = \"";
  using Texts = std::vector<std::string>;
  for (const char* where : {"bank", "panel"}) {
    CAPTURE(where);
    const Checked found = checked_text(drawn_but("") + heater + where + "\"\n");
    CHECK(of_safety(found) == Texts{"appliance/Heater/on"});
    CHECK(found.verdicts.safety >= Verdict::caution);
  }
  // At the end of a run that feeds nothing else the run is its wire, and its device protects it.
  const std::string point = drawn_but("") + heater + "lamp point\"\n";
  CHECK(of_safety(checked_text(point + run("heater", "panel", "lamp point"))).empty());
  // Not where the run goes on.
  CHECK(of_safety(checked_text(point + run("heater", "panel", "lamp point") +
                               "[[node]]\nname = \"next\"\n" + "kind = \"point\"\n" +
                               run("on", "lamp point", "next"))) == Texts{"appliance/Heater/on"});
}

TEST_CASE("a design that draws no run hangs everything on the bank, and misses no lead") {
  const std::string text(head);
  CHECK(of_safety(checked_text(text)).empty());
  CHECK(of_charger(text, "drive charger") / ampere == doctest::Approx(15.0));
  CHECK(sun(text).value() > 0.0);
}

}  // namespace checks_undrawn

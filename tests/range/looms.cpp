// SPDX-License-Identifier: Apache-2.0
// Looms against a small van worked out by hand: a floor with the bank's panel, a kitchen and a wall
// that are plugged to it, and what is joined on the line.
#include "housepower/range/looms.hpp"

#include <doctest/doctest.h>

#include "design/van.hpp"
#include "housepower/range/stations.hpp"

namespace range_looms {
namespace {

using namespace housepower;
using namespace housepower::range;

const std::string by_hand = R"(schema = 1
[vehicle]
name = "By hand"
system_voltage = "12 V"
[rules]
profile = "au-nz-caravan"
[wiring]
insulation = "90 °C"
insulation_material = "xlpe"
[build]
allowance = "0.1 m"
strip = { "M6" = "9 mm" }
torque = { "M6" = "5 N m" }
lug = { "6 mm2 M6" = "ring 6-6", "M6" = "ring M6" }
die = { "6 mm2" = "hex 6" }
[[assembly]]
name = "floor"
station = "floor bench"
[[assembly]]
name = "kitchen"
station = "furniture 2"
fitted_at = "line 4"
[[assembly]]
name = "wall"
[[connector]]
name = "X1"
between = ["floor", "kitchen"]
cavities = 4
contact = "pin 2.8"
strip = "5 mm"
[[connector]]
name = "X2"
between = ["kitchen", "wall"]
cavities = 2
[bank]
chemistry = "lfp"
quantity = 1
capacity = "100 Ah"
nominal_voltage = "12.8 V"
[[node]]
name = "panel"
kind = "panel"
stud = "M6"
assembly = "floor"
[[appliance]]
name = "Pump"
power = "60 W"
assembly = "kitchen"
[[appliance]]
name = "Lamp"
power = "12 W"
assembly = "wall"
[[appliance]]
name = "Fan"
power = "12 W"
assembly = "wall"
[[run]]
name = "main"
from = "bank"
to = "panel"
length = "2 m"
conductor = "16 mm2"
[[run]]
name = "pump"
from = "panel"
to = "Pump"
length = "3 m"
return = { length = "3.4 m" }
conductor = "6 mm2"
inline = [{ kind = "plug", connector = "X1", outgoing = [1], return = [2], distance = "1.2 m" }]
[[run]]
name = "lamp"
from = "panel"
to = "Lamp"
length = "5 m"
conductor = "1.5 mm2"
inline = [
  { kind = "plug", connector = "X2", outgoing = [1], return = [2], distance = "3.5 m" },
  { kind = "plug", connector = "X1", outgoing = [3], return = [4], distance = "1.2 m" },
]
[[run]]
name = "fan"
from = "panel"
to = "Fan"
length = "5 m"
conductor = "1.5 mm2"
)";

struct Made {
  van::Tried tried;
  Looms looms;
  explicit Made(const std::string& text) : tried(van::opened(text)) {
    looms = looms_of(tried.design(), build_list(tried.design()));
  }
  [[nodiscard]] const Loom& loom(std::string_view name) const {
    for (const Loom& one : looms.looms)
      if (one.assembly == name) return one;
    FAIL("no loom " << name);
    return looms.looms.front();
  }
};

const Wire& wire(const std::vector<Wire>& wires, std::string_view label) {
  for (const Wire& one : wires)
    if (one.label == label) return one;
  FAIL("no wire " << label);
  return wires.front();
}

std::vector<std::string> labels(const std::vector<Wire>& wires) {
  std::vector<std::string> all;
  for (const Wire& one : wires) all.push_back(one.label);
  return all;
}

using Labels = std::vector<std::string>;

int number_of(const std::vector<StationTotal>& all, const std::optional<std::string>& station,
              Task task, std::string_view what) {
  int number = 0;
  for (const StationTotal& one : all)
    if (one.station == station && one.task == task && one.what == what) number += one.number;
  return number;
}

TEST_CASE("a conductor is divided at its connector, and each piece belongs to its side") {
  const Made made(by_hand);
  CHECK(labels(made.loom("floor").wires) == Labels{"W01+", "W01−", "W02+", "W02−", "W03+", "W03−"});
  CHECK(labels(made.loom("kitchen").wires) == Labels{"W02+", "W02−", "W03+", "W03−"});
  CHECK(labels(made.loom("wall").wires) == Labels{"W03+", "W03−"});
  const Wire& floor = wire(made.loom("floor").wires, "W02+");
  CHECK(floor.length->value() == doctest::Approx(1.2));
  CHECK(floor.to_cut->value() == doctest::Approx(1.3));
  CHECK(floor.first.place == "panel");
  CHECK(floor.last.connector == "X1");
  CHECK(floor.last.cavities == std::vector<int>{1});
  const Wire& kitchen = wire(made.loom("kitchen").wires, "W02+");
  CHECK(kitchen.length->value() == doctest::Approx(3.0 - 1.2));
  CHECK(kitchen.first.connector == "X1");
  CHECK(kitchen.last.place == "Pump");
}

TEST_CASE("a return leaves the far end beside its conductor; what it is longer lies at the other") {
  const Made made(by_hand);
  CHECK(wire(made.loom("kitchen").wires, "W02−").length->value() == doctest::Approx(1.8));
  CHECK(wire(made.loom("floor").wires, "W02−").length->value() == doctest::Approx(3.4 - 1.8));
}

TEST_CASE(
    "a run through two connectors has a piece in each of three looms, in whatever order stated") {
  const Made made(by_hand);
  CHECK(wire(made.loom("floor").wires, "W03+").length->value() == doctest::Approx(1.2));
  CHECK(wire(made.loom("kitchen").wires, "W03+").length->value() == doctest::Approx(2.3));
  CHECK(wire(made.loom("wall").wires, "W03+").length->value() == doctest::Approx(1.5));
  const Wire& between = wire(made.loom("kitchen").wires, "W03+");
  CHECK(between.first.connector == "X1");
  CHECK(between.last.connector == "X2");
}

TEST_CASE("ends are made up by the works' table, and what it does not say is not stated") {
  const Made made(by_hand);
  const Wire& pump = wire(made.loom("floor").wires, "W02+");
  CHECK(pump.first.stud == "M6");
  CHECK(pump.first.lug == "ring 6-6");  // by size and stud before by stud
  CHECK(pump.first.die == "hex 6");
  CHECK(pump.first.strip->value() == doctest::Approx(0.009));
  CHECK(pump.first.torque->value() == doctest::Approx(5.0));
  CHECK(pump.last.lug == "pin 2.8");
  CHECK(pump.last.strip->value() == doctest::Approx(0.005));
  CHECK(wire(made.loom("floor").wires, "W03+").first.lug == "ring M6");
  CHECK_FALSE(wire(made.loom("floor").wires, "W03+").first.die.has_value());
  CHECK_FALSE(wire(made.loom("kitchen").wires, "W02+").last.lug.has_value());  // the pump's own
  CHECK_FALSE(wire(made.loom("wall").wires, "W03+").first.strip.has_value());
}

TEST_CASE("what passes from one assembly to another without a connector is joined on the line") {
  const Made made(by_hand);
  REQUIRE(made.looms.crossings.size() == 1);
  const Crossing& fan = made.looms.crossings.front();
  CHECK(fan.run == "fan");
  CHECK(fan.from == "floor");
  CHECK(fan.to == "wall");
  CHECK(fan.outgoing);
  CHECK(fan.back);
  CHECK(labels(made.looms.on_line) == Labels{"W04+", "W04−"});
}

TEST_CASE("a pole that the connector does not pass crosses by itself") {
  const Made made(van::with(by_hand, "outgoing = [1], return = [2], distance = \"1.2 m\"",
                            "outgoing = [1], distance = \"1.2 m\""));
  REQUIRE(made.looms.crossings.size() == 2);
  CHECK(made.looms.crossings.front().run == "pump");
  CHECK_FALSE(made.looms.crossings.front().outgoing);
  CHECK(made.looms.crossings.front().back);
}

TEST_CASE("a connector without a distance leaves the lengths of both pieces not stated") {
  const Made made(van::with(by_hand, "return = [2], distance = \"1.2 m\"", "return = [2]"));
  CHECK_FALSE(wire(made.loom("floor").wires, "W02+").length.has_value());
  CHECK_FALSE(wire(made.loom("kitchen").wires, "W02+").length.has_value());
}

TEST_CASE(
    "an isolator of unknown place cuts a wire in two pieces, whose length is known together") {
  const Made made(van::with(by_hand, "conductor = \"16 mm2\"\n",
                            "conductor = \"16 mm2\"\ninline = [{ kind = \"isolator\" }]\n"));
  const Wire& main = wire(made.loom("floor").wires, "W01+");
  CHECK(main.length->value() == doctest::Approx(2.0));
  CHECK(main.to_cut->value() == doctest::Approx(2.0 + 2 * 0.1));  // the allowance of each
  REQUIRE(main.pieces.size() == 2);
  CHECK_FALSE(main.pieces[0].length.has_value());
  CHECK(main.pieces[0].last.place == "isolator");
  CHECK(main.pieces[0].last.on_the_way);
  CHECK(main.pieces[1].first.place == "isolator");
  CHECK(main.pieces[1].last.place == "panel");
  CHECK(wire(made.loom("floor").wires, "W01−").pieces.size() == 1);
  const LoomModel models[] = {{made.looms, 3}};
  const auto all = stations_of(models);
  CHECK(number_of(all, "floor bench", Task::crimp, "not stated, at isolator") == 3 * 2);
  for (const StationTotal& one : all) CHECK(one.without_length == 0);
}

TEST_CASE("a fuse in a run cuts its wire where it sits") {
  const Made made(van::with(by_hand, "conductor = \"1.5 mm2\"\ninline",
                            "conductor = \"1.5 mm2\"\nprotection = [{ end = \"from\", type = "
                            "\"iso-8820-3-c\", rating = \"5 A\", distance = \"0.2 m\" }]\ninline"));
  const Wire& floor = wire(made.loom("floor").wires, "W03+");
  CHECK(floor.length->value() == doctest::Approx(1.2));
  REQUIRE(floor.pieces.size() == 2);
  CHECK(floor.pieces[0].length->value() == doctest::Approx(0.2));
  CHECK(floor.pieces[1].length->value() == doctest::Approx(1.0));
  CHECK(floor.pieces[1].last.connector == "X1");
}

TEST_CASE("each assembly has its half of a connector, and knows the other") {
  const Made made(by_hand);
  REQUIRE(made.loom("kitchen").connectors.size() == 2);
  CHECK(made.loom("kitchen").connectors[0].connector == "X1");
  CHECK(made.loom("kitchen").connectors[0].mate == "floor");
  CHECK(made.loom("kitchen").connectors[0].cavities == 4);
  CHECK(made.loom("kitchen").connectors[1].mate == "wall");
}

TEST_CASE("conductors in parallel divide the cavities among themselves") {
  const Made made(van::with(van::with(by_hand, "outgoing = [1], return = [2], distance = \"1.2 m\"",
                                      "outgoing = [1, 2], distance = \"1.2 m\""),
                            "conductor = \"6 mm2\"\n", "conductor = \"6 mm2\"\nparallel = 2\n"));
  CHECK(wire(made.loom("floor").wires, "W02+1").last.cavities == std::vector<int>{1});
  CHECK(wire(made.loom("floor").wires, "W02+2").last.cavities == std::vector<int>{2});
}

/// Nothing is lost or counted twice on the way from the list to the looms.
TEST_CASE("the pieces of a conductor are together as long as it is") {
  const Made made(by_hand);
  std::map<std::string, double> sums;
  const auto add = [&](const std::vector<Wire>& wires) {
    for (const Wire& one : wires) sums[one.label] += one.length->value();
  };
  for (const Loom& loom : made.looms.looms) add(loom.wires);
  add(made.looms.on_line);
  const BuildList list = build_list(made.tried.design());
  CHECK(sums.size() == list.conductors.size());
  for (const BuildConductor& c : list.conductors)
    CHECK(sums[c.label] == doctest::Approx(c.length.value()));
}

// ---- By station

TEST_CASE("each station cuts, crimps, fits, joins and tests its own looms, over all vans") {
  const Made made(by_hand);
  const LoomModel models[] = {{made.looms, 3}};
  const auto all = stations_of(models);
  // floor: W01 to W03, two poles each; three of them end at a stud of the panel, outgoing and return
  CHECK(number_of(all, "floor bench", Task::cut, "red cable") == 3 * 3);
  CHECK(number_of(all, "floor bench", Task::crimp, "pin 2.8") == 3 * 4);
  CHECK(number_of(all, "floor bench", Task::fit, "nut M6") == 3 * 6);
  CHECK(number_of(all, "floor bench", Task::fit, "housing X1") == 3);
  CHECK(number_of(all, "floor bench", Task::test, "wire from end to end") == 3 * 6);
  CHECK(number_of(all, "furniture 2", Task::cut, "black cable") == 3 * 2);
  CHECK(number_of(all, "line 4", Task::join, "connector X1") == 3);
  CHECK(number_of(all, std::nullopt, Task::join, "run fan") == 3);
  CHECK(number_of(all, std::nullopt, Task::fit, "nut M6") == 3 * 2);  // the fan's, on the line
  Length cut{};
  for (const StationTotal& one : all)
    if (one.task == Task::cut) cut += one.to_cut;
  Length wires{};
  for (const Loom& loom : made.looms.looms)
    for (const Wire& one : loom.wires) wires += *one.to_cut;
  for (const Wire& one : made.looms.on_line) wires += *one.to_cut;
  CHECK(cut.value() == doctest::Approx(3.0 * wires.value()));
}

TEST_CASE("two models of a plan add up where they need the same") {
  const Made made(by_hand);
  const LoomModel models[] = {{made.looms, 2}, {made.looms, 5}};
  const auto all = stations_of(models);
  CHECK(number_of(all, "furniture 2", Task::crimp, "pin 2.8") == 7 * 4);
  for (const StationTotal& one : all)
    if (one.station == "furniture 2") CHECK(one.uses.size() == 2);
}

}  // namespace
}  // namespace range_looms

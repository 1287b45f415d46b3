// SPDX-License-Identifier: Apache-2.0
// A connector's contacts in the solved network, against calculations written out here.
#include "rig.hpp"

namespace wiring_connectors {

using namespace rig;

namespace {

const std::string lamp = appliance(
    "Lamp", "current = \"10 A\"\nbehaves = \"constant-current\"\nlowest_voltage = \"10 V\"");
const std::string connector = R"([[assembly]]
name = "kitchen"
[[assembly]]
name = "floor"
[[connector]]
name = "X3"
between = ["floor", "kitchen"]
cavities = 6
resistance = "3 mΩ"
)";
std::string through(const std::string& cavities) {
  return bank + lamp + connector +
         run("lamp", "bank", "Lamp", "4 m", "6 mm2",
             "inline = [{ kind = \"plug\", connector = \"X3\", " + cavities + " }]");
}
/// What the lamp's voltage falls by, against the run without a plug.
double lost_more(const std::string& cavities) {
  const Rig with(through(cavities)),
      without(bank + lamp + run("lamp", "bank", "Lamp", "4 m", "6 mm2"));
  return without.consumer("Lamp").voltage.value() - with.consumer("Lamp").voltage.value();
}

}  // namespace

// The lamp draws 10 A whatever its voltage, so that every contact it passes takes I · R off it.
TEST_CASE("both contacts of a plug take their voltage off what is behind it") {
  CHECK(lost_more("outgoing = [1], return = [2]") == about(10.0 * (3e-3 + 3e-3), 1e-6));
  CHECK(lost_more("outgoing = [1]") == about(10.0 * 3e-3, 1e-6));
}

TEST_CASE("contacts in parallel share the current of their pole") {
  CHECK(lost_more("outgoing = [1, 3], return = [2]") == about(10.0 * (3e-3 / 2 + 3e-3), 1e-6));
  CHECK(lost_more("outgoing = [1, 3], return = [2, 4, 6]") ==
        about(10.0 * (3e-3 / 2 + 3e-3 / 3), 1e-6));
}

TEST_CASE("the items of a run count its contacts in both poles") {
  const Rig r(through("outgoing = [1, 3], return = [2]"));
  CHECK(r.facts("lamp").items.value() == about(3e-3 / 2 + 3e-3));
}

}  // namespace wiring_connectors

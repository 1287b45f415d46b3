// SPDX-License-Identifier: Apache-2.0
// What a device carries where it is hot, against the figures of its data sheet.
#include "housepower/wiring/clearing.hpp"
#include "rig.hpp"

namespace wiring_rerating {

using namespace rig;

namespace {

design::resolved::Protection device_of_type(const Rig& r, double degrees) {
  auto device = r.design()->runs.front().protection.front();
  device.ambient = celsius(degrees);
  return device;
}
Rig with_device(const std::string& type, const std::string& rating) {
  return Rig(bank + appliance("A", "power = \"12 W\"") +
             run("a", "bank", "A", "2 m", "10 mm2",
                 "protection = [{ end = \"from\", type = \"" + type + "\", rating = \"" + rating +
                     "\", distance = \"0.1 m\" }]\n"));
}
double carries(const std::string& rating, double degrees) {
  const Rig r = with_device("iso-8820-3-e", rating);
  Working working;
  const auto found = carries_there(device_of_type(r, degrees), &working);
  REQUIRE(found);
  if (!working.empty()) adds_up(working);
  return found->value();
}

}  // namespace

TEST_CASE("a 40 A part of type E carries what its data sheet says, at the next hotter row") {
  // 40 A up to 20 °C, 34 at 65, 30 at 85, 25 at 110, 22 at 125 °C: a fuse maker's data sheet, p. 3,
  // as transcribed in a public source repository
  CHECK(carries("40 A", -10) == doctest::Approx(40.0));
  CHECK(carries("40 A", 20) == doctest::Approx(40.0));
  CHECK(carries("40 A", 21) == doctest::Approx(34.0));
  CHECK(carries("40 A", 65) == doctest::Approx(34.0));
  CHECK(carries("40 A", 66) == doctest::Approx(30.0));
  CHECK(carries("40 A", 110) == doctest::Approx(25.0));
  CHECK(carries("40 A", 125) == doctest::Approx(22.0));
  const Rig r = with_device("iso-8820-3-e", "40 A");
  CHECK_FALSE(carries_there(device_of_type(r, 126)));
}

TEST_CASE("other ratings of type E take the same shares, from memory; other types have none") {
  CHECK(carries("60 A", 50) == doctest::Approx(60.0 * 34.0 / 40.0));
  Working working;
  const Rig r = with_device("iso-8820-3-e", "60 A");
  (void)carries_there(device_of_type(r, 50), &working);
  bool from_memory = false;
  for (const Step& step : working)
    from_memory = from_memory || step.formula.source.kind == SourceKind::from_memory;
  CHECK(from_memory);
  const Rig other = with_device("iso-8820-3-c", "20 A");
  CHECK(carries_there(device_of_type(other, 50))->value() == doctest::Approx(20.0));
}

}  // namespace wiring_rerating

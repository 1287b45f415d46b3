// SPDX-License-Identifier: Apache-2.0
// Labels of conductors and prices of parts, as the design states them.
#include <doctest/doctest.h>

#include "van.hpp"

namespace design_make_up {

using namespace housepower;

namespace {

const std::string labelled = R"(schema = 1
[vehicle]
name = "Labelled"
system_voltage = "12 V"
[rules]
profile = "au-nz-caravan"
[bank]
chemistry = "lfp"
quantity = 2
capacity = "100 Ah"
nominal_voltage = "12.8 V"
price = "420.5 EUR"
[[inverter]]
name = "inverter"
rating = "600 W"
[[node]]
name = "bar"
stud = "M8"
[[node]]
name = "panel"
[[run]]
name = "feed"
from = "bank"
to = "bar"
length = "1 m"
[[run]]
name = "panel feed"
from = "bar"
to = "panel"
length = "1 m"
label = "W01"
[[run]]
name = "inverter feed"
from = "bar"
to = "inverter"
length = "1 m"
)";

std::optional<design::Opened> opened(const std::vector<std::string>& sets, Diagnostics& d) {
  return design::open_design(
      "van.toml", [](std::string_view) { return std::optional(labelled); }, sets, van::shipped(),
      Defaults::ordinary, d);
}

}  // namespace

TEST_CASE("every run has a label of its own, and a stated one goes before the numbers") {
  Diagnostics d;
  const auto o = opened({}, d);
  REQUIRE(o);
  const auto& runs = o->design->runs;
  CHECK(runs.at(0).label == "W01a");  // "W01" is stated on another
  CHECK(runs.at(1).label == "W01");
  CHECK(runs.at(2).label == "W03");
  Diagnostics twice;
  CHECK_FALSE(opened({"run/feed/label=W01"}, twice));
  REQUIRE(twice.all.size() == 1);
  CHECK(twice.all[0].message == "\"W01\" is on two runs");
}

TEST_CASE("prices keep their currency, and what has none is known to have none") {
  Diagnostics d;
  const auto o = opened({}, d);
  REQUIRE(o);
  const auto& prices = o->design->prices;
  REQUIRE(prices.size() == 2);
  CHECK(prices[0].what == "bank");
  CHECK(prices[0].count == 2);
  REQUIRE(prices[0].each);
  CHECK(print(*prices[0].each) == "420.50 EUR");
  CHECK_FALSE(prices[1].each);
  for (const char* wrong : {"420", "EUR 420", "-3 EUR", "1,250 EUR", "420 €5", "420 "}) {
    CAPTURE(wrong);
    CHECK_FALSE(design::money_of(wrong));
    Diagnostics said;
    CHECK_FALSE(opened({"bank/price=" + std::string(wrong)}, said));
    CHECK(said.any_error());
  }
  CHECK(print(*design::money_of("1250 AUD")) == "1250 AUD");
}

}  // namespace design_make_up

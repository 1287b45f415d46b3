// SPDX-License-Identifier: Apache-2.0
// Labels of conductors: the text of a sleeve, and names too long for one.
#include "housepower/design/labels.hpp"

#include "van.hpp"

namespace design_labels {

using namespace housepower;
using namespace housepower::design;

TEST_CASE("a sleeve names its conductor, the place where it is, and where it goes") {
  const auto tried = van::opened(van::text, Defaults::ordinary, {"run/main/parallel=2"});
  const Design& d = tried.design();
  const resolved::RunId main{0}, fridge{1};
  CHECK(conductor_label(d, main, Pole::outgoing, 2) == "W01+2");
  CHECK(conductor_label(d, fridge, Pole::return_) == "W02−");
  CHECK(label_of(d, main, Pole::outgoing, 1, RunEnd::from) == "W01+1 bank → panel");
  CHECK(label_of(d, main, Pole::outgoing, 1, RunEnd::to) == "W01+1 panel → bank");
  CHECK(label_of(d, fridge, Pole::return_, 1, RunEnd::from) == "W02− panel → Fridge");
}

TEST_CASE("a return that goes elsewhere says where") {
  const auto tried = van::opened(
      van::with(van::text, "length = \"4 m\"", "length = \"4 m\"\nreturn = { to = \"bank\" }"));
  CHECK(label_of(tried.design(), {1}, Pole::return_, 1, RunEnd::to) == "W02− Fridge → bank");
}

TEST_CASE("a name too long for a sleeve is cut between characters") {
  auto text = van::with(van::text, "name = \"Fridge\"", "name = \"Kühlschränke für Getränke\"");
  text = van::with(text, "to = \"Fridge\"", "to = \"Kühlschränke für Getränke\"");
  text = van::with(text, "[\"Fridge\",", "[\"Kühlschränke für Getränke\",");
  const auto tried = van::opened(text);
  CHECK(label_of(tried.design(), {1}, Pole::outgoing, 1, RunEnd::from) ==
        "W02+ panel → Kühlschränke für …");  // seventeen characters and the sign of the cut
}

TEST_CASE("what lies in the bank is labelled, and gives way to a run's own label") {
  const auto tried =
      van::opened(van::with(van::text, "name = \"main\"", "name = \"main\"\nlabel = \"B1-2\""));
  const Design& d = tried.design();
  CHECK(conductor_label(d, BankConductor{Pole::outgoing, 1, false}) == "B1-2a+");
  CHECK(conductor_label(d, BankConductor{Pole::return_, 2, true}) == "B2−");
  CHECK(label_of(d, BankConductor{Pole::return_, 2, true}, RunEnd::to) ==
        "B2− common bar → battery 2");
  CHECK(label_of(d, BankConductor{Pole::outgoing, 2, false}, RunEnd::from) ==
        "B2-3+ battery 2 → battery 3");
}

TEST_CASE("colours are those of a table, or the message names the nearest") {
  const auto wrong = van::opened(van::text + "[build]\ncolours = \"dc-red-blak\"\n");
  REQUIRE(wrong.about("build/colours"));
  CHECK(wrong.about("build/colours")->message == "there is no table of colours \"dc-red-blak\"");
  CHECK(wrong.about("build/colours")->hint.find("dc-red-black") != std::string::npos);
  CHECK(wrong.about("build/colours")->place.line > 0);
}

}  // namespace design_labels

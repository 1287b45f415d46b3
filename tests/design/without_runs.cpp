// SPDX-License-Identifier: Apache-2.0
// A design without any run: what draws hangs on the bank itself. One run, and each needs its own.
#include "van.hpp"

namespace design_without_runs {

using namespace van;

namespace {

/// The sound van before anybody drew a cable.
std::string undrawn() {
  const auto runs = text.find("[[run]]"), cases = text.find("[[case]]");
  return text.substr(0, runs) + text.substr(cases);
}

}  // namespace

TEST_CASE("without any run appliances and inverters hang on the bank, and that is assumed") {
  const Tried tried = opened(undrawn());
  const Design& d = tried.design();
  CHECK(d->runs.empty());
  for (const auto& a : d->appliances) {
    CAPTURE(a.name);
    CHECK(a.post == d->bank->post);
  }
  CHECK(d->inverters.at(0).post == d->bank->post);
  CHECK(d->appliances.at(2).inverter.has_value());
  REQUIRE(assumed(d, "appliance/Fridge/on"));
  CHECK(assumed(d, "appliance/Fridge/on")->value == "bank");
  CHECK_FALSE(assumed(d, "appliance/Lights/on"));  // it is stated: the panel, which nothing feeds
}

TEST_CASE("without any run a name that is no node is still an error") {
  const Tried tried = opened(with(undrawn(), "on = \"panel\"", "on = \"pannel\""));
  CHECK_FALSE(tried.opened);
  REQUIRE(tried.about("appliance/Lights/on"));
  CHECK(tried.about("appliance/Lights/on")->hint == "did you mean \"panel\"?");
}

TEST_CASE("with one run drawn everything needs its own") {
  const std::string one =
      with(undrawn(), "[[case]]",
           "[[run]]\nname = \"main\"\nfrom = \"bank\"\nto = \"panel\"\nlength = "
           "\"2 m\"\n[[case]]");
  const Tried tried = opened(one);
  CHECK_FALSE(tried.opened);
  REQUIRE(tried.about("appliance/Fridge/on"));
  CHECK(tried.about("appliance/Fridge/on")->message.find("nothing feeds it") != std::string::npos);
  CHECK(tried.about("inverter/inverter"));
}

TEST_CASE("without a bank nothing can hang on it") {
  const auto from = undrawn().find("[bank]"), to = undrawn().find("[[array]]");
  const Tried tried = opened(undrawn().erase(from, to - from));
  CHECK_FALSE(tried.opened);
  CHECK(tried.about("appliance/Fridge/on"));
}

}  // namespace design_without_runs

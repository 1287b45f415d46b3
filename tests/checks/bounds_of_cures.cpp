// SPDX-License-Identifier: Apache-2.0
// A cure that names a least or a most value names one that holds as it is printed.
#include "../../src/checks/common.hpp"
#include "examples.hpp"

namespace checks_bounds_of_cures {
namespace {

using namespace examples;

const Finding* found(const Checked& checked, std::string_view rule) {
  for (const Finding& f : checked.findings)
    if (f.rule == rule && f.verdict >= Verdict::caution) return &f;
  return nullptr;
}

}  // namespace

TEST_CASE("a bound is rounded away from what fails, and what is round stays") {
  using namespace checks;
  CHECK(print_at_least(5.463 * ampere) == "5.47 A");
  CHECK(print_at_most(5.463 * ampere) == "5.46 A");
  CHECK(print_at_least(23.7248 * volt, 4) == "23.73 V");
  CHECK(print_at_least(35.0 * ampere) == "35 A");
  CHECK(print_at_most(13.9 * volt, 4) == "13.9 V");
  CHECK(print_at_least(999.9 * watt) == "1 kW");
  CHECK(print_at_least(0.0 * ampere) == "0 A");
  CHECK(print_at_least(100.01 * watt_hour, 3, watt_hour) == "101 Wh");
}

TEST_CASE("the controller that array-voltage asks for passes") {
  const Checked plain = checked(faulty("array-voltage"));
  const Finding* f = found(plain, "array-voltage");
  REQUIRE(f);
  REQUIRE(f->measured);
  const std::string value = checks::print_at_least(Voltage::from_value(f->measured->si), 4);
  CHECK(f->cure.find(value) != std::string::npos);
  const Checked after =
      checked(faulty("array-voltage"), {"controller/regulator/max_voltage=" + value});
  CHECK_FALSE(found(after, "array-voltage"));
}

TEST_CASE("a tow line that fails by what nobody stated is a caution that names it") {
  const auto one = opened(faulty("tow-feed"));
  std::string text = *from_disk(faulty("tow-feed"));
  const std::string stated = "efficiency = \"90 %\"\n";
  text.erase(text.find(stated), stated.size());
  const auto reader = [&](std::string_view path) {
    return path.ends_with("tow-feed.toml") ? std::optional(text) : from_disk(path);
  };
  const Checked unsaid = checked(opened(faulty("tow-feed"), {}, reader));
  const Finding* f = found(unsaid, "tow-feed");
  REQUIRE(f);
  CHECK(f->verdict == Verdict::caution);
  CHECK(f->cure.starts_with("state the real "));
  CHECK(f->cure.find("charger/drive charger/efficiency") != std::string::npos);
  CHECK(f->message.find("does not state") != std::string::npos);
  CHECK(found(checked(one), "tow-feed")->verdict == Verdict::fail);
}

TEST_CASE("a far place's record cold passes no array, and is told") {
  // In the ocean west of Perth, some 1,000 km from any town of the table.
  std::string base = *from_disk(faulty("base"));
  const std::string place = "name = \"hobart\"\nrecord_low = \"-6 °C\"\n";
  base.replace(base.find(place), place.size(),
               "latitude = \"-30°\"\nlongitude = \"100°\"\nheight = \"10 m\"\n");
  const Checked checked_ = checked_text(base);
  const auto f = std::find_if(checked_.findings.begin(), checked_.findings.end(),
                              [](const Finding& one) { return one.rule == "array-voltage"; });
  REQUIRE(f != checked_.findings.end());
  CHECK(f->verdict == Verdict::not_checked);
  CHECK(f->of_safety);
  CHECK(f->message.find("record cold is") != std::string::npos);
  CHECK(f->message.find("km") != std::string::npos);
  CHECK(checked_.verdicts.safety >= Verdict::caution);
}

}  // namespace checks_bounds_of_cures

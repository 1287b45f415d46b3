// SPDX-License-Identifier: Apache-2.0
// A row of the range holds what `check` finds, and sums that a pocket calculator gives.
#include "housepower/range/range.hpp"

#include "checks/examples.hpp"
#include "housepower/checks/delivered.hpp"

namespace range_range {
namespace {

using namespace examples;
using range::RangeRow;
using range::Simulate;

RangeRow row_of(const design::Opened& one, Simulate simulate = Simulate::promised) {
  return range::range_row(one.document, one.design, {simulate});
}
int count(const Checked& checked, Verdict verdict) {
  return int(std::count_if(checked.findings.begin(), checked.findings.end(),
                           [&](const Finding& f) { return f.verdict == verdict; }));
}

}  // namespace

TEST_CASE("a row says of every example what check says of it") {
  for (const auto& file : all()) {
    CAPTURE(file);
    const auto one = opened(file);
    const Checked whole = checked(one);
    const RangeRow row = row_of(one);
    CHECK(row.verdict == word_of(whole.verdicts.worse()));
    CHECK(row.verdict_safety == word_of(whole.verdicts.safety));
    CHECK(row.verdict_service == word_of(whole.verdicts.service));
    CHECK(row.fails == count(whole, Verdict::fail));
    CHECK(row.cautions == count(whole, Verdict::caution));
    CHECK(row.not_checked == count(whole, Verdict::not_checked));
    CHECK(row.passes == count(whole, Verdict::pass));
    CHECK(row.worst_rule.empty() == (row.passes == int(whole.findings.size())));
    if (row.fails.value_or(0) > 0) CHECK(row.worst_verdict == "fail");
  }
}

TEST_CASE("what is left out of the simulation is not checked, and no verdict gets better by it") {
  for (const std::string name : {"cold-charging", "box-too-hot", "promised-stay", "base"}) {
    CAPTURE(name);
    const auto one = opened(faulty(name));
    const RangeRow with = row_of(one), without = row_of(one, Simulate::none);
    CHECK(without.not_checked > with.not_checked);
    CHECK(without.passes <= with.passes);
    // whether it may be charged in the cold is of safety where nothing stops that
    CHECK((without.verdict_safety == "pass") == (name != "cold-charging"));
    CHECK_FALSE(without.stay.has_value());
  }
}

TEST_CASE("seasons are three months each, and turn about on the other side of the equator") {
  const auto month = [](const design::Opened& one, int number) {
    return energy::month_day(one.design, number - 1).load_charge;
  };
  struct Case {
    const char* place;
    int summer, winter;  // its middle month
  };
  for (const Case c : {Case{"alice-springs", 1, 7}, Case{"seville", 7, 1}}) {
    CAPTURE(c.place);
    const auto one = opened(folder + "pellibri.toml", {"place/name=" + std::string(c.place)});
    const RangeRow row = row_of(one, Simulate::none);
    const auto mean = [&](int middle) {
      const int before = middle == 1 ? 12 : middle - 1;
      return (month(one, before) + month(one, middle) + month(one, middle + 1)) / 3.0;
    };
    REQUIRE(row.summer.has_value());
    REQUIRE(row.winter.has_value());
    CHECK(row.summer->value() == doctest::Approx(mean(c.summer).value()));
    CHECK(row.winter->value() == doctest::Approx(mean(c.winter).value()));
    CHECK(row.summer->value() > row.winter->value());  // its fridge works harder in the heat
    Charge year_{};
    for (int m = 1; m <= 12; ++m) year_ += month(one, m) / 12.0;
    CHECK(row.daily->value() == doctest::Approx(year_.value()));
    CHECK(row.place == c.place);
  }
  // A stated month judges the promise; the seasons are those of the year all the same.
  const auto july = opened(folder + "pellibri.toml", {"place/month=july"});
  const auto worst = opened(folder + "pellibri.toml");
  CHECK(row_of(july, Simulate::none).summer->value() ==
        doctest::Approx(row_of(worst, Simulate::none).summer->value()));
}

TEST_CASE("without a place there is one figure of use and no season") {
  std::string text = *from_disk(faulty("base"));
  const auto from = text.find("[place]"), to = text.find("[promise]");
  text.erase(from, to - from);
  const auto one = opened("sketch.toml", {}, [&](std::string_view) { return std::optional(text); });
  const RangeRow row = row_of(one);
  CHECK_FALSE(row.summer.has_value());
  CHECK_FALSE(row.winter.has_value());
  CHECK(row.daily.value_or(Charge{}).value() > 0.0);
  CHECK(row.place.empty());
}

TEST_CASE("masses, copper and price are the sums of what is stated") {
  // One run of 3 m out and 3 m back in 10 mm² and one of 2 m in 4 mm², both ways; copper of
  // 8.96 g/cm³ (from memory): 8960 · (2·3·10e-6 + 2·2·4e-6) = 8960 · 76e-6 = 0.68096 kg; with 40 %
  // of sheath 0.953344 kg. Two batteries of 11 kg and an inverter of 3 kg: 25.953344 kg.
  // Two batteries at 420.50 EUR are 841 EUR; the inverter is sold in AUD.
  const std::string text = R"(schema = 1
[vehicle]
name = "Sketch"
system_voltage = "12 V"
[rules]
profile = "au-nz-caravan"
[bank]
chemistry = "lfp"
quantity = 2
capacity = "100 Ah"
nominal_voltage = "12.8 V"
mass = "11 kg"
price = "420.50 EUR"
[[inverter]]
name = "inverter"
rating = "300 W"
mass = "3 kg"
price = "250 AUD"
[[charger]]
name = "mains charger"
kind = "mains"
current = "10 A"
[[run]]
name = "bank to inverter"
from = "bank"
to = "inverter"
length = "3 m"
conductor = "10 mm2"
[[run]]
name = "charger to bank"
from = "mains charger.out"
to = "bank"
length = "2 m"
conductor = "4 mm2"
)";
  const auto one = opened("sketch.toml", {}, [&](std::string_view) { return std::optional(text); });
  const RangeRow row = row_of(one);
  REQUIRE(row.mass.has_value());
  CHECK(row.copper->value() == doctest::Approx(0.68096));
  CHECK(row.mass->value() == doctest::Approx(25.953344));
  CHECK(row.mass_missing == "mains charger");
  CHECK(row.price == "250 AUD + 841 EUR");
  CHECK(row.price_missing == "mains charger");
  REQUIRE(row.prices.size() == 2);
  CHECK(double(row.prices[1].amount) == doctest::Approx(841.0));
}

TEST_CASE("a stay is simulated where one is promised, or where it is asked for") {
  const auto silent = opened(faulty("base"));
  CHECK_FALSE(row_of(silent).stay.has_value());
  CHECK(row_of(silent, Simulate::all).stay.has_value());
  const auto promising = opened(faulty("base"), {"promise/stay=2 d", "place/month=july"});
  const RangeRow row = row_of(promising);
  REQUIRE(row.stay.has_value());
  CHECK(row.stay_month == "July");
  CHECK(*row.stay <= 30.0 * day);  // longer ones count as this
}

TEST_CASE("the stay of a row is that of the whole answer, of which it asks the lengths alone") {
  for (const std::string& file : {faulty("promised-stay"), folder + "marrowick.toml"}) {
    CAPTURE(file);
    const auto one = opened(file, {"place/month=june"});
    const RangeRow row = row_of(one, Simulate::all);
    const auto whole = energy::stay_that_counts(one.design, checks::delivered(one.design),
                                                range::longest_stay_days);
    REQUIRE(whole.has_value());
    CHECK(row.stay == whole->met);
    CHECK(row.parked == whole->parked.met);
    CHECK(row.first_percentile == whole->first_percentile);
    CHECK(row.headline == energy::told(*whole).travelled.length);
    CHECK(row.nights == energy::told(*whole).travelled.nights);
  }
}

TEST_CASE("more or fewer years are simulated where that is asked for") {
  const auto one = opened(faulty("base"), {"place/month=july"});
  const auto row = [&](int years) {
    return range::range_row(one.document, one.design, {Simulate::all, years});
  };
  const auto some = energy::lengths_that_count(one.design, checks::delivered(one.design), 30, 7);
  CHECK(some->years == 7);
  CHECK(row(7).stay == some->met);
  CHECK(row(7).first_percentile != row(60).first_percentile);
}

TEST_CASE("what lasts as long as is simulated lasts at least that") {
  // A clock of 0.01 W on 100 Ah at 12.8 V: 1280 Wh would last years, and 60 d are simulated without
  // charging, 30 d of stays.
  const std::string text = R"(schema = 1
[vehicle]
name = "Sketch"
system_voltage = "12 V"
[rules]
profile = "au-nz-caravan"
[place]
name = "hobart"
month = "july"
[[node]]
name = "panel"
kind = "panel"
[[appliance]]
name = "Clock"
power = "0.01 W"
[bank]
chemistry = "lfp"
quantity = 1
capacity = "100 Ah"
nominal_voltage = "12.8 V"
[[run]]
name = "feed"
from = "bank"
to = "panel"
length = "1 m"
[[run]]
name = "clock"
from = "panel"
to = "Clock"
length = "1 m"
)";
  const auto one = opened("sketch.toml", {}, [&](std::string_view) { return std::optional(text); });
  const RangeRow row = row_of(one, Simulate::all);
  CHECK(row.autonomy == 60.0 * day);
  CHECK(row.autonomy_outlasts == true);
  CHECK(row.first_percentile == 30.0 * day);
  CHECK(row.first_percentile_outlasts == true);
  const RangeRow hungry = row_of(opened(faulty("base"), {"place/month=july"}), Simulate::all);
  CHECK(hungry.autonomy_outlasts == false);
  CHECK(hungry.first_percentile_outlasts == false);
}

}  // namespace range_range

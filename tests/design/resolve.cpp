// SPDX-License-Identifier: Apache-2.0
// From names to places, from sizes to rows: what a sound van becomes.
#include "van.hpp"

namespace design_resolve {

using namespace van;
using design::resolved::PostKind;

TEST_CASE("a sound van resolves, and its names lead to their places") {
  const Tried tried = opened(text);
  const Design& d = tried.design();
  CHECK(d->name == "Two-berth tourer");
  CHECK(d->file == "van.toml");
  CHECK(d->nominal == 12.0 * volt);
  CHECK(d->profile->name == "au-nz-caravan");
  CHECK(d->sizes == "metric");
  REQUIRE(d->runs.size() == 3);
  CHECK(d[d->runs[0].from].kind == PostKind::bank);
  CHECK(d[d->runs[0].to].name == "panel");
  CHECK(d[d->runs[1].to].kind == PostKind::appliance);
  CHECK(d->runs[0].conductor->nominal == 35.0 * square_millimetre);
  // An appliance has a place of its own, hangs on a node, or is behind an inverter.
  REQUIRE(d->appliances.size() == 3);
  CHECK(d[d->appliances[0].post].name == "Fridge");
  CHECK(d[d->appliances[1].post].name == "panel");
  CHECK(d[d->appliances[2].post].name == "inverter");
  CHECK(d[*d->appliances[2].inverter].name == "inverter");
  CHECK(d->arrays.at(0).controller == design::resolved::ControllerId{0});
  CHECK(d[*d->chargers.at(0).in].name == "drive charger.in");
  CHECK_FALSE(d->chargers.at(1).in);
  CHECK(d->cases.at(0).running.size() == 2);
  CHECK(d[d->cases[0].running[1]].name == "Kettle");
}

TEST_CASE("places sit where their kind does") {
  const Tried tried = opened(text);
  const Design& d = tried.design();
  for (const auto& post : d->posts) {
    CAPTURE(post.name);
    CHECK(post.sits == (post.kind == PostKind::bank    ? design::Sits::box
                        : post.kind == PostKind::array ? design::Sits::roof
                        : post.kind == PostKind::feed  ? design::Sits::tow_vehicle
                                                       : design::Sits::inside));
  }
  const Tried inside = opened(with(text, "quantity = 2", "quantity = 2\nmounted = \"inside\""));
  CHECK(inside.design()->posts.at(0).sits == design::Sits::inside);
}

TEST_CASE("the order of appliances and runs does not change what a name means") {
  const std::string lights =
      "[[appliance]]\nname = \"Lights\"\ncurrent = \"2 A\"\non = \"panel\"\n";
  const std::string moved = with(with(text, lights, ""), "[[case]]", lights + "[[case]]");
  const Tried tried = opened(moved);
  const Design& d = tried.design();
  CHECK(d[d->appliances.at(2).post].name == "panel");
  CHECK(d[d->cases.at(0).running.at(1)].name == "Kettle");
  const auto first = text.find("[[run]]\nname = \"main\""),
             next = text.find("[[run]]\nname = \"fridge\""),
             third = text.find("[[run]]\nname = \"to inverter\"");
  const std::string turned =
      text.substr(0, first) + text.substr(third) + text.substr(first, third - first);
  REQUIRE(next > first);
  const Tried other = opened(turned);
  CHECK(other.design()->runs.at(0).name == "to inverter");
  CHECK(other.design()[other.design()->runs[0].to].name == "inverter");
}

TEST_CASE("a stated current is a power at the voltage for which it holds") {
  const Tried tried = opened(text);
  CHECK(tried.design()->appliances.at(1).power == 24.0 * watt);  // 2 A · 12 V
  const Tried other =
      opened(with(text, "current = \"2 A\"", "current = \"2 A\"\nrated_at = \"13 V\""));
  CHECK(other.design()->appliances.at(1).power == 26.0 * watt);  // 2 A · 13 V
  const Tried ac = opened(with(text, "power = \"1000 W\"",
                               "current = \"5 A\"\nrated_at = \"230 V\"\npower_factor = 0.8"));
  CHECK(ac.design()->appliances.at(2).power.value() ==
        doctest::Approx(920.0));  // 5 A · 230 V · 0.8
}

TEST_CASE("a device takes what its maker says, the run's own words before that") {
  const Tried tried = opened(text);
  const auto& device = tried.design()->runs.at(0).protection.at(0);
  CHECK(device.fuse == nullptr);
  CHECK(device.breaking_capacity == 20000.0 * ampere);
  CHECK(device.rated_voltage == 32.0 * volt);
  CHECK(device.breaking_source.kind == SourceKind::supplier);
  CHECK(device.curve.size() == 2);
  const Tried own = opened(with(text, "rating = \"100 A\", ",
                                "rating = \"100 A\", breaking_capacity = \"6 kA\", rated_voltage = "
                                "\"14 V\", curve = [[2, \"1 s\"]], "));
  const auto& stated = own.design()->runs.at(0).protection.at(0);
  CHECK(stated.breaking_capacity == 6000.0 * ampere);
  CHECK(stated.rated_voltage == 14.0 * volt);
  CHECK(stated.curve.size() == 1);
  const Tried listed = opened(with(text, "type = \"house fuse\"", "type = \"ul-248-class-t\""));
  const auto& fuse = listed.design()->runs.at(0).protection.at(0);
  REQUIRE(fuse.fuse);
  CHECK(fuse.breaking_capacity ==
        20000.0 * ampere);  // 20 kA d.c. for class T fuses, public forum threads
  CHECK(fuse.breaking_source.kind == SourceKind::published);
}

TEST_CASE("sections cover the whole run, and take from it what they do not say") {
  const Tried tried =
      opened(with(text, "length = \"4 m\"",
                  "length = \"4 m\"\nlaid = \"clipped\"\nambient = \"35 °C\"\ncircuits_together = "
                  "2\nsections = [{ length = \"1 m\", ambient = \"60 °C\" }]"));
  const auto& sections = tried.design()->runs.at(1).sections;
  REQUIRE(sections.size() == 2);
  CHECK(sections[0].length == 1.0 * metre);
  CHECK(sections[0].ambient == celsius(60));
  CHECK(sections[0].laid == design::Laid::clipped);
  CHECK(sections[0].circuits_together == 2);
  CHECK(sections[1].length == 3.0 * metre);
  CHECK(sections[1].ambient == celsius(35));
  const Tried all =
      opened(with(text, "length = \"4 m\"",
                  "length = \"4 m\"\nsections = [{ length = \"1.1 m\" }, { length = \"2.9 m\" }]"));
  CHECK(all.design()->runs.at(1).sections.size() == 2);
}

TEST_CASE("the return is like the outgoing conductor unless it is stated") {
  const Tried tried = opened(text);
  const auto& back = tried.design()->runs.at(1).back;
  CHECK(back.length == 4.0 * metre);
  CHECK(back.conductor->nominal == 6.0 * square_millimetre);
  CHECK(tried.design()[back.to].name == "panel");
  const Tried other =
      opened(with(text, "conductor = \"6 mm2\"",
                  "return = { length = \"5 m\", conductor = \"10 mm2\", to = \"bank\" }"));
  const auto& stated = other.design()->runs.at(1);
  CHECK_FALSE(stated.conductor);
  CHECK(stated.back.length == 5.0 * metre);
  CHECK(stated.back.conductor->nominal == 10.0 * square_millimetre);
  CHECK(other.design()[stated.back.to].name == "bank");
  const Tried chassis = opened(with(text, "conductor = \"6 mm2\"", "chassis_return = true"));
  CHECK(chassis.design()->runs.at(1).back.chassis);
}

TEST_CASE("a conductor is held at a temperature only where one is stated") {
  CHECK_FALSE(opened(text).design()->runs.at(1).held_at);
  const Tried tried =
      opened(with(text, "length = \"4 m\"", "length = \"4 m\"\nconductor_temperature = \"75 °C\""));
  CHECK(tried.design()->runs.at(1).held_at == celsius(75));
}

TEST_CASE("[wiring] speaks for the runs that do not, and is no assumption") {
  const Tried tried = opened(with(with(text, "[[device]]",
                                       "[wiring]\nlaid = \"clipped\"\njoints = 6\nambient = \"45 "
                                       "°C\"\ninsulation = \"90 °C\"\n[[device]]"),
                                  "length = \"4 m\"", "length = \"4 m\"\nlaid = \"free\""));
  const Design& d = tried.design();
  CHECK(d->runs.at(0).sections.at(0).laid == design::Laid::clipped);
  CHECK(d->runs.at(1).sections.at(0).laid == design::Laid::free);
  CHECK(d->runs[0].joints == 6);
  CHECK(d->runs[0].insulation == celsius(90));
  for (const std::string key : {"laid", "joints", "ambient", "insulation"})
    CHECK_FALSE(assumed(d, "run/main/" + key));
  CHECK(assumed(d, "run/main/circuits_together"));
}

TEST_CASE("a window over midnight is two, and all day is one") {
  const auto windows = [](std::string_view between) {
    const Tried tried = opened(
        with(text, "power = \"45 W\"", "power = \"45 W\"\nbetween = " + std::string(between)));
    return tried.design()->appliances.at(0).windows;
  };
  const auto night = windows("[\"22:00-06:00\"]");
  REQUIRE(night.size() == 2);
  CHECK(night[0].from == 0.0 * hour);
  CHECK(night[0].to == 6.0 * hour);
  CHECK(night[1].from == 22.0 * hour);
  CHECK(night[1].to == 24.0 * hour);
  const auto all_day = windows("[\"00:00-24:00\"]");
  REQUIRE(all_day.size() == 1);
  CHECK(all_day[0].to == 24.0 * hour);
  const auto two = windows("[\"18:30-20:00\", \"07:00-07:30\"]");
  REQUIRE(two.size() == 2);
  CHECK(two[0].from == 7.0 * hour);
  CHECK(two[1].from.value() == doctest::Approx(18.5 * 3600.0));
  const auto until_midnight = windows("[\"22:00-00:00\"]");
  REQUIRE(until_midnight.size() == 1);
  CHECK(until_midnight[0].to == 24.0 * hour);
}

TEST_CASE("a loop of runs is allowed") {
  const Tried tried = opened(
      text + "[[run]]\nname = \"ring\"\nfrom = \"panel\"\nto = \"inverter\"\nlength = \"1 m\"\n");
  CHECK(tried.design()->runs.size() == 4);
}

TEST_CASE("a run may end at the output of a charger and at an appliance on the way") {
  const Tried tried = opened(
      text +
      "[[run]]\nname = \"drive\"\nfrom = \"drive charger.out\"\nto = \"bank\"\nlength = \"1 m\"\n"
      "[[run]]\nname = \"tow\"\nfrom = \"tow vehicle\"\nto = \"drive charger.in\"\nlength = \"6 "
      "m\"\n"
      "[[run]]\nname = \"on from the fridge\"\nfrom = \"Fridge\"\nto = \"Lights\"\nlength = \"1 "
      "m\"\n");
  CHECK(tried.about(
      "appliance/Lights/on"));  // it has a run of its own and says it hangs on the panel
  CHECK(tried.diagnostics.all.size() == 1);
}

TEST_CASE("--set reaches a value before anything is resolved") {
  const Tried tried = opened(text, Defaults::ordinary, {"run/fridge/length=5 m"});
  CHECK(tried.design()->runs.at(1).length == 5.0 * metre);
  const Tried wrong = opened(text, Defaults::ordinary, {"run/fridge/to=pannel"});
  CHECK_FALSE(wrong.opened);
  REQUIRE(wrong.about("run/fridge/to"));
  CHECK(wrong.about("run/fridge/to")->place.file == "--set");
}

TEST_CASE("a place gives its town, its month and a night colder than the record") {
  const Tried tried =
      opened(with(text, "[[device]]", "[place]\nname = \"hobart\"\nmonth = \"july\"\n[[device]]"));
  const auto& site = tried.design()->site;
  REQUIRE(site.town);
  CHECK(site.month == 6);
  REQUIRE(site.town->record_low);
  CHECK(*site.record_low == Temperature::from_value(site.town->record_low->value() - 3.0));
  const Tried stated = opened(
      with(text, "[[device]]", "[place]\nname = \"hobart\"\nrecord_low = \"-5 °C\"\n[[device]]"));
  CHECK(*stated.design()->site.record_low == celsius(-5));
  CHECK_FALSE(stated.design()->site.month);
}

TEST_CASE("the coldest air of all is no warmer than a mean night, and a feed's kind is no slip") {
  const auto tried = [](const std::string& added) {
    return opened(with(text, "[[device]]", added + "[[device]]"));
  };
  const auto low = [&](const std::string& stated) {
    return tried("[place]\nname = \"hobart\"\nrecord_low = \"" + stated + "\"\n");
  };
  for (const char* slip : {"30 °C", "5 °C"}) {  // a mean night of its July has 4.4 °C
    const Tried t = low(slip);
    CHECK(t.about("place/record_low"));
    CHECK_FALSE(t.diagnostics.any_error());
  }
  CHECK_FALSE(low("4 °C").about("place/record_low"));
  const auto refused = [&](const std::string& added) {
    return tried(added).diagnostics.any_error();
  };
  const auto feed = [](const std::string& kind) {
    return "[[feed]]\nname = \"car\"\nkind = \"" + kind +
           "\"\nvoltage = { low = \"12.2 V\", high = \"14.7 V\" }\n";
  };
  CHECK(refused(feed("tow-vehicel")));
  CHECK_FALSE(refused(feed("tow-vehicle")));
}

TEST_CASE("what is stated arrives as it is stated") {
  std::string whole = with(text, "\"Kettle\"]",
                           "\"Kettle\"]\ncharge = \"50 %\"\ntemperature = \"5 °C\"\nstarting = "
                           "\"Fridge\"\ncharging = [\"controller\"]");
  whole = with(whole, "rating = \"2000 W\"",
               "rating = \"2000 W\"\nno_load = \"20 W\"\nloss = { k = 0.2 }\ncut_out = \"11 V\"");
  whole = with(whole, "power = \"200 W\" }",
               "power = \"200 W\" }\ntilt = \"30°\"\nazimuth = \"90°\"\nshade_by_hour = "
               "[0,0,0,0,0,0,0.6,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0.1]");
  whole = with(whole, "quantity = 2",
               "quantity = 2\ntakeoff_from = [1, 2]\ncharge_limit = \"50 A\"\nlinks = { positive = "
               "{ conductor = \"50 mm2\", length = \"0.2 m\" } }\nterminal = { largest_conductor = "
               "\"70 mm2\" }");
  whole = with(whole, "current = \"20 A\"",
               "current = \"20 A\"\nefficiency = 0.9\ncharge_voltage = \"14 V\"");
  const Tried tried = opened(whole);
  const Design& d = tried.design();
  CHECK(d->cases.at(0).charge == Ratio(0.5));
  CHECK(d->cases[0].temperature == celsius(5));
  CHECK(d->cases[0].starting == design::resolved::ApplianceId{0});
  CHECK(d->cases[0].charging == std::vector<std::string>{"controller"});
  CHECK(d->inverters.at(0).no_load == 20.0 * watt);
  CHECK(*d->inverters[0].k == Ratio(0.2));
  CHECK(d->inverters[0].cut_out == 11.0 * volt);
  CHECK(d->arrays.at(0).tilt / degree == doctest::Approx(30.0));
  CHECK(d->arrays[0].azimuth / degree == doctest::Approx(90.0));
  CHECK(d->arrays[0].shade[6] == Ratio(0.6));
  CHECK(d->arrays[0].shade[7] == Ratio(0.0));
  CHECK(d->arrays[0].shade[23] == Ratio(0.1));
  CHECK(d->bank->takeoff == std::array<int, 2>{1, 2});
  CHECK(d->bank->charge_limit == 50.0 * ampere);
  CHECK(d->bank->link_positive->conductor.nominal == 50.0 * square_millimetre);
  CHECK(d->bank->link_positive->length == 0.2 * metre);
  CHECK_FALSE(d->bank->link_negative);
  CHECK(d->bank->largest_conductor == 70.0 * square_millimetre);
  CHECK(d->chargers.at(1).current == 20.0 * ampere);
  CHECK(d->chargers[1].efficiency == Ratio(0.9));
  CHECK(d->chargers[1].charge_voltage == 14.0 * volt);
}

}  // namespace design_resolve

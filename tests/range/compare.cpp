// SPDX-License-Identifier: Apache-2.0
// Two designs side by side: what is the same says so, what differs is named and nothing else is.
#include "housepower/range/compare.hpp"

#include <set>

#include "checks/examples.hpp"

namespace range_compare {
namespace {

using namespace examples;
using range::Change;
using range::FindingChange;
using range::text_of;
using Way = FindingChange::Way;

std::vector<Change> changes(const design::Opened& a, const design::Opened& b) {
  return range::design_changes(a.node, b.node, shipped());
}
std::string told(const Change& c) {
  return std::string(c.change) + " " + c.path + ": " + text_of(c.before) + " > " + text_of(c.after);
}

design::Subject run(std::string_view name) {
  return {design::Subject::Kind::run, name.front() - 'a', name};
}

Finding finding(std::string_view rule, design::Subject subject, Verdict verdict,
                double margin = 0.5) {
  Finding f;
  f.rule = rule;
  f.subject = std::move(subject);
  f.verdict = verdict;
  f.measured = Number(1.0 - margin, kind_of<Current>);
  f.limit = Number(1.0, kind_of<Current>);
  f.margin = margin;
  return f;
}

}  // namespace

TEST_CASE("a design beside itself has no difference") {
  for (const auto& file : all()) {
    CAPTURE(file);
    const auto one = opened(file), two = opened(file);
    CHECK(changes(one, two).empty());
  }
  const auto one = opened(folder + "pellibri.toml");
  const Checked whole = checked(one);
  const range::Compared side{one.node, one.design, whole, 3.0 * day};
  const auto nothing = range::compare(side, side);
  CHECK(nothing.design.empty());
  CHECK(nothing.findings.empty());
  CHECK(nothing.results.empty());
  CHECK(nothing.runs.empty());
  CHECK_FALSE(nothing.newly_fails);
}

TEST_CASE("each override shows as that key, with what it was and is, and nothing else") {
  struct Case {
    const char *set, *expected;
  };
  const auto base = opened(faulty("base"));
  for (const Case c :
       {Case{"run/cooler/length=5 m", "changed run/cooler/length: 4 m > 5 m"},
        Case{"run/cooler/conductor=10 mm2", "changed run/cooler/conductor: 6 mm2 > 10 mm2"},
        Case{"run/cooler/joints=8", "added run/cooler/joints:  > 8"},
        Case{"run/cooler/protection/0/rating=10 A",
             "changed run/cooler/protection/0/rating: 15 A > 10 A"},
        Case{"run/bank to panel/inline/0/breaks_load=false",
             "changed run/bank to panel/inline/0/breaks_load: true > false"},
        Case{"bank/quantity=3", "changed bank/quantity: 2 > 3"},
        Case{"bank/resistance/high=6 mohm", "changed bank/resistance/high: 5 mΩ > 6 mΩ"},
        Case{"bank/box/sits=underfloor", "added bank/box/sits:  > underfloor"},
        Case{"appliance/Cooler/duty=50 %", "changed appliance/Cooler/duty: 40 % > 50 %"},
        Case{"appliance/Water pump/starting/current=12 A",
             "changed appliance/Water pump/starting/current: 9 A > 12 A"},
        Case{"array/roof/module/mass=8 kg", "changed array/roof/module/mass: 9 kg > 8 kg"},
        Case{"controller/regulator/max_charge_current=20 A",
             "changed controller/regulator/max_charge_current: 15 A > 20 A"},
        Case{"device/post fuse/curve=[[1.35, \"3600 s\"], [2.0, \"90 s\"], [6.0, \"0.5 s\"]]",
             "changed device/post fuse/curve: 1.35, 1 h, 2, 100 s, 6, 0.5 s > "
             "1.35, 1 h, 2, 90 s, 6, 0.5 s"},
        Case{"place/month=july", "added place/month:  > july"},
        Case{"promise/stay=4 d", "added promise/stay:  > 4 d"},
        Case{"travel/driving=2 h", "added travel/driving:  > 2 h"},
        Case{"case/evening/running=[\"Cooler\"]", "removed case/evening/running: Water pump > "},
        Case{"vehicle/name=Other", "changed vehicle/name: Lanternhouse 4 > Other"}}) {
    CAPTURE(std::string(c.set));
    const auto list = changes(base, opened(faulty("base"), {c.set}));
    REQUIRE(list.size() == 1);
    CHECK(told(list.front()) == c.expected);
  }
}

TEST_CASE("what is spelled otherwise and means the same is no change") {
  const auto base = opened(faulty("base"));
  for (const char* set :
       {"run/cooler/length=4000 mm", "run/cooler/conductor=6 mm²", "appliance/Cooler/duty=0.4",
        "appliance/Water pump/per_day=18 min", "bank/resistance/low=0.002 ohm",
        "bank/capacity=100000 mAh", "promise/bank_age=3650 d",
        "device/panel fuse/curve=[[1.35, \"10 min\"], [2, \"1 min\"], [6, \"200 ms\"]]"}) {
    CAPTURE(std::string(set));
    CHECK(changes(base, opened(faulty("base"), {set})).empty());
  }
}

TEST_CASE(
    "an appliance and its run that come or go are one line each, in the words of their keys") {
  std::string text = *from_disk(faulty("base"));
  text += "[[appliance]]\nname = \"Fan\"\npower = \"12 W\"\nper_day = \"2 h\"\n"
          "[[run]]\nname = \"fan\"\nfrom = \"panel\"\nto = \"Fan\"\nlength = \"3 m\"\n";
  const auto with =
      opened("sketch.toml", {}, [&](std::string_view) { return std::optional(text); });
  const auto base = opened(faulty("base"));
  const auto came = changes(base, with), went = changes(with, base);
  REQUIRE(came.size() == 2);
  CHECK(told(came[0]) == "added appliance/Fan:  > power 12 W, per_day 2 h");
  CHECK(told(came[1]) == "added run/fan:  > from panel, to Fan, length 3 m");
  REQUIRE(went.size() == 2);
  CHECK(told(went[1]) == "removed run/fan: from panel, to Fan, length 3 m > ");
}

TEST_CASE("a pack against its base names just what its file says") {
  // Read from examples/packs/pellibri-second-battery.toml, key by key, beside pellibri.toml.
  const std::set<std::string> expected{"vehicle/name",
                                       "promise/autonomy",
                                       "promise/reserve",
                                       "bank/quantity",
                                       "bank/takeoff_from",
                                       "bank/links/positive/conductor",
                                       "bank/links/positive/length",
                                       "bank/links/negative/conductor",
                                       "bank/links/negative/length",
                                       "bank/box/size",
                                       "bank/box/heater/power",
                                       "array/roof/modules",
                                       "array/roof/in_series",
                                       "controller/controller/max_charge_current",
                                       "controller/controller/max_short_circuit_current",
                                       "controller/controller/mass",
                                       "run/controller to main bar/conductor",
                                       "run/controller to main bar/protection/0/rating",
                                       "run/main bar to day panel/length",
                                       "run/main bar to night panel/length"};
  std::set<std::string> found;
  for (const Change& c : changes(opened(folder + "pellibri.toml"),
                                 opened(folder + "packs/pellibri-second-battery.toml")))
    found.insert(c.path);
  for (const auto& path : found) CHECK_MESSAGE(expected.count(path) == 1, path);
  for (const auto& path : expected) CHECK_MESSAGE(found.count(path) == 1, path);
}

TEST_CASE("findings: new fails first, of each rule and subject the worst case counts") {
  const std::vector<Finding> before{
      finding("drop", run("a"), Verdict::pass),
      finding("drop", run("b"), Verdict::fail, -0.2),
      finding("ampacity", run("a"), Verdict::pass, 0.4),
      finding("isolator", run("c"), Verdict::caution),
      finding("mass", design::Subject(design::Subject::Kind::vehicle), Verdict::pass, 0.9),
      finding("drop", run("d"), Verdict::fail, -0.1)};
  std::vector<Finding> after{
      finding("drop", run("a"), Verdict::pass, 0.45),
      finding("drop", run("b"), Verdict::pass, 0.3),
      finding("ampacity", run("a"), Verdict::pass, 0.1),
      finding("mass", design::Subject(design::Subject::Kind::vehicle), Verdict::pass, 0.6),
      finding("drop", run("d"), Verdict::fail, -0.1),
      finding("drop", run("e"), Verdict::pass),
      finding("hot-joint", run("e"), Verdict::caution),
      finding("drop", run("a"), Verdict::fail, -0.3)};
  const auto list = range::finding_changes(before, after);
  std::string said;
  for (const auto& c : list) {
    const Finding& f = c.after ? *c.after : *c.before;
    said += std::string(word_of(c.way)) + " " + std::string(f.rule) + " " + f.subject.text() + "; ";
  }
  // run/a: its second case fails. run/b passes now. mass keeps more than half of its limit, run/d
  // fails as before, a new pass is no news.
  CHECK(said == "worse drop run/a; new hot-joint run/e; less margin ampacity run/a; "
                "better drop run/b; gone isolator run/c; ");
  CHECK(list.front().after->margin == Ratio(-0.3));
}

TEST_CASE("a change that makes something fail says so, and its results go the right way") {
  const auto base = opened(faulty("base")),
             thin = opened(faulty("base"), {"run/cooler/conductor=0.75 mm2"});
  const Checked was = checked(base), is = checked(thin);
  const auto c =
      range::compare({base.node, base.design, was, {}}, {thin.node, thin.design, is, {}});
  CHECK(c.newly_fails);
  REQUIRE(!c.findings.empty());
  CHECK(c.findings.front().after->verdict == Verdict::fail);
  const auto result = [&](std::string_view path) {
    const auto found = std::find_if(c.results.begin(), c.results.end(),
                                    [&](const Change& r) { return r.path == path; });
    return found == c.results.end() ? std::string_view("as before") : found->change;
  };
  CHECK(result("wiring/worst_drop") == "higher");
  CHECK(result("copper") == "lower");
  CHECK(result("energy/daily") == "as before");
  REQUIRE(!c.runs.empty());
  CHECK(std::any_of(c.runs.begin(), c.runs.end(),
                    [](const Change& r) { return r.path == "run/cooler/drop"; }));
  const auto back =
      range::compare({thin.node, thin.design, is, {}}, {base.node, base.design, was, {}});
  CHECK_FALSE(back.newly_fails);
}

}  // namespace range_compare

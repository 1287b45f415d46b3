// SPDX-License-Identifier: Apache-2.0
// A cure that is printed holds: each is put into the design as `--set` takes it, and judged again.
#include "housepower/choice/cures.hpp"

#include <map>

#include "checks/examples.hpp"
#include "housepower/choice/choose.hpp"

namespace choice_cures {
namespace {

using namespace examples;

using Key = std::pair<std::string, std::string>;
std::map<Key, Verdict> worst_of(const Checked& checked) {
  std::map<Key, Verdict> worst;
  for (const Finding& f : checked.findings) {
    Verdict& v = worst[{std::string(f.rule), f.subject.text()}];
    v = std::max(v, f.verdict);
  }
  return worst;
}

/// Where a case had no operating point, nothing was known of what hangs on it: it may caution then,
/// and the cure says so.
Verdict most_allowed(const std::map<Key, Verdict>& before, const Key& key,
                     const std::string& cure) {
  const bool told = cure.find("not known before") != cure.npos;
  const auto stood = before.find(key);
  const Verdict was = stood == before.end() ? Verdict::not_checked : stood->second;
  return told && was == Verdict::not_checked ? Verdict::caution : was;
}

Checked with_cures(const std::string& file, const std::vector<std::string>& sets = {}) {
  const auto one = opened(file, sets);
  Checked checked =
      checks::check(one.document, one.design, checks::Workings::left_out, checks::Unsaid::ranked);
  choice::try_cures(one.document, one.design, checked);
  return checked;
}

}  // namespace

TEST_CASE("each cure that was tried passes as --set, and no other finding gets worse") {
  std::size_t cures = 0;
  for (const checks::Rule* rule : checks::rules()) {
    const std::string file = faulty(rule->name);
    const Checked before = with_cures(file);
    const auto stood = worst_of(before);
    for (const Finding& f : before.findings) {
      if (f.cure_set.empty()) continue;
      CAPTURE(file);
      CAPTURE(f.rule);
      CAPTURE(f.subject.text());
      CAPTURE(f.cure);
      ++cures;
      const auto after = worst_of(checked(file, f.cure_set));
      const auto now = after.find({std::string(f.rule), f.subject.text()});
      const bool of_device = f.rule == "unprotected-source-end";
      // one that is added has yet to be measured
      const Verdict most = of_device ? Verdict::not_checked : Verdict::pass;
      CHECK((now == after.end() ? of_device : now->second <= most));
      for (const auto& one : after) {
        CAPTURE(one.first.first);
        CAPTURE(one.first.second);
        CHECK(one.second <= most_allowed(stood, one.first, f.cure));
      }
    }
  }
  CHECK(cures >= 15);
}

TEST_CASE("what a value would settle keeps its words, and so does what no wiring cures") {
  for (const std::string name : {"autonomy", "lithium-outside", "array-voltage"}) {
    CAPTURE(name);
    const Checked plain = checked(faulty(name)), tried = with_cures(faulty(name));
    for (std::size_t i = 0; i < plain.findings.size(); ++i)
      if (plain.findings[i].rule == name) CHECK(plain.findings[i].cure == tried.findings[i].cure);
  }
  Finding f;
  f.verdict = Verdict::caution;
  CHECK(!choice::asks_to_state(f));
  f.wants = {design::Subject(design::Subject::Kind::run, 0, "x").with("laid")};
  CHECK(choice::asks_to_state(f));
}

TEST_CASE("a cure says what it is for and sets") {
  const Checked tried = with_cures(faulty("ampacity"));
  const auto f = std::find_if(tried.findings.begin(), tried.findings.end(), [](const Finding& one) {
    return one.rule == "ampacity" && one.verdict == Verdict::fail;
  });
  REQUIRE(f != tried.findings.end());
  REQUIRE(!f->cure_set.empty());
  CHECK(f->cure_set.front().starts_with("run/foot warmer/"));
  CHECK(f->cure.find("foot warmer") != std::string::npos);
}

namespace {

const Finding& found(const Checked& checked, std::string_view rule, std::string_view subject) {
  const auto f =
      std::find_if(checked.findings.begin(), checked.findings.end(), [&](const Finding& one) {
        return one.rule == rule && one.subject.text() == subject && one.verdict >= Verdict::caution;
      });
  REQUIRE(f != checked.findings.end());
  return *f;
}
bool holds(const std::string& file, std::vector<std::string> sets, const Finding& f) {
  sets.insert(sets.end(), f.cure_set.begin(), f.cure_set.end());
  const auto after = worst_of(checked(file, sets));
  return after.at({std::string(f.rule), f.subject.text()}) == Verdict::pass;
}

}  // namespace

TEST_CASE(
    "a device is not made larger on a conductor that it overloads already, unless that is too") {
  // 300 W at 11 V are 27 A; the 20 A device lets 20 A through 1 mm², which bears some 13 A.
  const std::vector<std::string> sets{"appliance/Cooler/power=300 W", "run/cooler/conductor=1 mm2",
                                      "run/cooler/protection/0/rating=20 A"};
  const Checked tried = with_cures(faulty("base"), sets);
  REQUIRE(found(tried, "ampacity", "run/cooler").verdict == Verdict::fail);
  const Finding& f = found(tried, "fuse-above-load", "run/cooler/protection/0");
  CAPTURE(f.cure);
  if (f.cure_set.empty()) {
    CHECK(f.cure.find("but then") != std::string::npos);
  } else {
    CHECK(std::any_of(f.cure_set.begin(), f.cure_set.end(), [](const std::string& one) {
      return one.starts_with("run/cooler/conductor=");
    }));
    auto both = sets;
    both.insert(both.end(), f.cure_set.begin(), f.cure_set.end());
    CHECK(worst_of(checked(faulty("base"), both)).at({"ampacity", "run/cooler"}) == Verdict::pass);
  }
}

TEST_CASE(
    "a charge voltage is proposed no higher than the cells and the appliances bear, and tried") {
  const std::vector<std::string> low{"controller/regulator/charge_voltage=13.5 V"};
  const std::string key = "controller/regulator/charge_voltage";
  const auto set_to = [&](std::vector<std::string> more) {
    more.insert(more.begin(), low.begin(), low.end());
    const Checked tried = with_cures(faulty("base"), more);
    const Finding& f = found(tried, "bank-charge", key);
    CAPTURE(f.cure);
    if (!f.cure_set.empty()) CHECK(holds(faulty("base"), more, f));
    return f.cure_set;
  };
  using Sets = std::vector<std::string>;
  CHECK(set_to({}) == Sets{key + "=14.2 V"});
  CHECK(set_to({"bank/charge_voltage_highest=14.0 V"}) == Sets{key + "=14 V"});
  CHECK(set_to({"appliance/Cooler/highest_voltage=13.9 V"}) == Sets{key + "=13.9 V"});
  // Below 13.8 V nothing that the cooler bears fills the bank.
  CHECK(set_to({"appliance/Cooler/highest_voltage=13.7 V"}).empty());
}

TEST_CASE("joints that are stated too few are cured by their number") {
  const std::vector<std::string> sets{"run/bank to panel/joints=5"};
  const Checked tried = with_cures(faulty("base"), sets);
  const Finding& f = found(tried, "hot-joint", "run/bank to panel/joints");
  REQUIRE(f.cure_set.size() == 1);
  CHECK(f.cure_set.front().starts_with("run/bank to panel/joints="));
  CHECK(holds(faulty("base"), sets, f));
}

TEST_CASE("a panel that is rated too low is cured by a rating for its device and its load") {
  const std::vector<std::string> sets{"node/panel/rating=5 A"};
  const Checked tried = with_cures(faulty("base"), sets);
  const Finding& f = found(tried, "conductor-fits-terminal", "node/panel");
  CHECK(f.cure_set == std::vector<std::string>{"node/panel/rating=50 A"});
  CHECK(holds(faulty("base"), sets, f));
}

TEST_CASE("where nobody tries them, no cures are offered as tried") {
  const Checked plain = checked(faulty("base"), {"node/panel/rating=5 A"});
  for (const Finding& f : plain.findings) CHECK(f.cure_set.empty());
}

namespace {

const std::string two_berth = folder + "two-berth.toml";

}  // namespace

TEST_CASE("a device that is missing is cured by one, not by a cable thick enough to do without") {
  const std::vector<std::string> sets{"run/lights/protection=[]"};
  const Checked tried = with_cures(two_berth, sets);
  const Finding& f = found(tried, "unprotected-source-end", "run/lights");
  REQUIRE(f.cure_set.size() == 1);
  CHECK(f.cure_set.front().starts_with("run/lights/protection="));
  CHECK(f.cure.find("measure") != f.cure.npos);  // nobody has looked where it really stands
  auto with = sets;
  with.insert(with.end(), f.cure_set.begin(), f.cure_set.end());
  CHECK(worst_of(checked(two_berth, with)).at({"unprotected-source-end", "run/lights"}) ==
        Verdict::not_checked);
}

TEST_CASE("what a device cannot break is cured by the least feed, tried") {
  // 35 mm² over 4 m lets some 5 kA to the blades of the panel, which break 1 kA.
  const std::vector<std::string> sets{"run/main/conductor=35 mm2", "run/main/length=1 m"};
  const Checked tried = with_cures(two_berth, sets);
  const Finding& f = found(tried, "breaking-capacity", "run/lights/protection/0");
  CAPTURE(f.cure);
  REQUIRE(!f.cure_set.empty());
  for (const std::string& one : f.cure_set) CHECK(one.starts_with("run/main/"));
  CHECK(holds(two_berth, sets, f));
}

TEST_CASE("a conductor left open fails nothing: the cure is to state it, as `wiring` chooses") {
  // At 5 m 6 mm² bears the fridge's current and loses too much of its start; 10 mm² passes.
  const std::string text = [] {
    std::string whole = *from_disk(two_berth);
    const std::string stated = "length = \"2.5 m\"\nconductor = \"6 mm2\"\n";
    const auto at = whole.find(stated);
    REQUIRE(at != whole.npos);
    return whole.replace(at, stated.size(), "length = \"5 m\"\n");
  }();
  const auto one = opened("open.toml", {"rules/profile=iec-en-leisure"},
                          [&](std::string_view) { return std::optional(text); });
  Checked checked =
      checks::check(one.document, one.design, checks::Workings::left_out, checks::Unsaid::ranked);
  choice::try_cures(one.document, one.design, checked);
  const Finding& f = found(checked, "drop", "appliance/Fridge");
  CHECK(f.verdict == Verdict::caution);
  REQUIRE(f.wants.size() == 1);
  CHECK(f.wants.front().text() == "run/fridge/conductor");
  const auto chosen = choice::choose(one.document, shipped());
  REQUIRE(chosen.choices.size() == 1);
  CHECK(f.cure.find(chosen.choices.front().conductor) != f.cure.npos);
  for (const Finding& each : checked.findings) CHECK(each.verdict != Verdict::fail);
}

TEST_CASE("two findings of one device do not ask for opposite things") {
  const Checked tried = with_cures(two_berth, {"run/main/protection/0/rating=100 A"});
  const Finding& device = found(tried, "fuse-below-conductor", "run/main/protection/0");
  const Finding& panel = found(tried, "conductor-fits-terminal", "node/panel");
  REQUIRE(!device.cure_set.empty());
  CHECK(panel.cure_set == device.cure_set);
}

TEST_CASE("a cure stands at its own finding's place") {
  // An inverter of 1 kW at two batteries that are joined by 10 mm²: each link bears some 54 A.
  const std::string text = *from_disk(two_berth) + R"(
[[inverter]]
name = "inverter"
rating = "1000 W"
surge = { power = "2000 W", time = "3 s" }
no_load = "10 W"
runs = "while-used"
cut_out = "10.5 V"
[[run]]
name = "inverter"
from = "bank"
to = "inverter"
length = "1.5 m"
conductor = "70 mm2"
joints = 8
protection = [{ end = "from", type = "ul-248-class-t", rating = "150 A", distance = "0.1 m", sits = "box-wall", enclosed = true }]
)";
  const std::string link = "{ conductor = \"10 mm2\", length = \"0.2 m\" }";
  const auto one = opened("links.toml",
                          {"bank/quantity=2", "bank/capacity=100 Ah", "bank/takeoff_from=[1, 2]",
                           "run/main/length=8 m", "run/main/conductor=16 mm2",
                           "bank/terminal/largest_conductor=95 mm2",
                           "bank/links={ positive = " + link + ", negative = " + link + " }"},
                          [&](std::string_view) { return std::optional(text); });
  Checked tried =
      checks::check(one.document, one.design, checks::Workings::left_out, checks::Unsaid::ranked);
  choice::try_cures(one.document, one.design, tried);
  int cures = 0;
  for (const Finding& f : tried.findings)
    for (const std::string side : {"positive", "negative"})
      if (f.subject.text() == "bank/links/" + side && !f.cure_set.empty()) {
        ++cures;
        CAPTURE(f.rule);
        CHECK(f.cure_set.front().starts_with("bank/links/" + side + "/"));
      }
  CHECK(cures >= 2);
}

namespace {

/// The finding of that rule, with what its cure leaves.
struct Cured {
  Finding finding;
  std::map<Key, Verdict> after;
};
Cured cured(std::string_view rule, const std::vector<std::string>& changes) {
  const Checked before = with_cures(two_berth, changes);
  const auto f = std::find_if(before.findings.begin(), before.findings.end(), [&](const auto& one) {
    return one.rule == rule && one.verdict >= Verdict::caution;
  });
  REQUIRE(f != before.findings.end());
  auto all = changes;
  all.insert(all.end(), f->cure_set.begin(), f->cure_set.end());
  return {*f, worst_of(checked(two_berth, all))};
}

}  // namespace

// No more reaches such an end than its source can drive: a conductor that bears it needs no device.
TEST_CASE("an end at a source that limits itself is cured by the conductor that bears it") {
  const std::vector<std::string> thin_return{
      R"(run/mains charger/return={conductor="1 mm2", length="2.5 m", to="bank"})"};
  const std::vector<std::string> four_strings{
      "array/roof/modules=4", "controller/controller/max_short_circuit_current=70 A"};
  const auto [charger, after_charger] = cured("unprotected-source-end", thin_return);
  CHECK(charger.cure_set == std::vector<std::string>{"run/mains charger/return/conductor=4 mm2"});
  CHECK(after_charger.at({"unprotected-source-end", "run/mains charger"}) == Verdict::pass);
  const auto [roof, after_roof] = cured("unprotected-source-end", four_strings);
  CHECK(roof.cure_set == std::vector<std::string>{"run/roof/conductor=25 mm2"});
  CHECK(after_roof.at({"unprotected-source-end", "run/roof"}) == Verdict::pass);
  // the rule by itself asks for no device there either
  for (const auto& changes : {thin_return, four_strings})
    for (const Finding& f : checked(two_berth, changes).findings)
      if (f.rule == "unprotected-source-end" && f.verdict == Verdict::fail)
        CHECK(f.cure.find("device") == f.cure.npos);
}

// A blade fuse of 25 A: too small for 26 A, and of a type for 32 V at 52.6 V.
TEST_CASE("what is wrong with one device is cured by one change where one cures all of it") {
  const std::vector<std::string> changes{
      "array/roof/modules=4",
      "array/roof/in_series=2",
      "controller/controller/max_voltage=100 V",
      "controller/controller/max_short_circuit_current=70 A",
      "run/roof/conductor=10 mm2",
      R"(run/roof/protection=[{end="from", type="iso-8820-3-c", rating="25 A", distance="0.1 m", sits="roof"}])",
      R"(run/roof/inline=[{kind="isolator", rating="20 A", resistance="0.2 mΩ"}])"};
  for (const std::string rule : {"fuse-above-load", "device-voltage", "isolator", "fuse-loading"}) {
    CAPTURE(rule);
    const auto one = cured(rule, changes);
    REQUIRE(!one.finding.cure_set.empty());
    for (const std::string of_device : {"fuse-above-load", "device-voltage", "fuse-loading"})
      CHECK(one.after.at({of_device, "run/roof/protection/0"}) == Verdict::pass);
    CHECK(one.after.at({"isolator", "run/roof/inline/0"}) == Verdict::pass);
  }
}

TEST_CASE("what no conductor or device brings nearer its limit is not left to mend") {
  const Checked checked =
      with_cures("examples/marrowick.toml", {"appliance/Washing machine/starting/current=20 A"});
  bool stands = false;
  for (const Finding& f : checked.findings) {
    if (f.rule != "starting-current" || !f.subject.is(design::Subject::Kind::inverter) ||
        f.verdict < Verdict::caution)
      continue;
    stands = true;
    CHECK(f.cure.find("mend") == f.cure.npos);
    CHECK(f.cure.find("surge") != f.cure.npos);
  }
  CHECK(stands);
}

}  // namespace choice_cures

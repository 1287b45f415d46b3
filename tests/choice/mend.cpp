// SPDX-License-Identifier: Apache-2.0
// What `mend` changes is enough, makes nothing worse, and nothing of it is superfluous.
#include "housepower/choice/mend.hpp"

#include <map>
#include <set>

#include "checks/examples.hpp"
#include "housepower/choice/choose.hpp"
#include "housepower/units/unit.hpp"

namespace choice_mend {
namespace {

using namespace examples;
using choice::LeastChange;
using choice::Mended;

using Key = std::pair<std::string, std::string>;
std::map<Key, Verdict> worst_of(const Checked& checked) {
  std::map<Key, Verdict> worst;
  for (const Finding& f : checked.findings) {
    Verdict& v = worst[{std::string(f.rule), f.subject.text()}];
    v = std::max(v, f.verdict);
  }
  return worst;
}

Mended mended(const design::Opened& one, LeastChange least = LeastChange::copper) {
  Diagnostics problems;
  auto m = choice::mend(one.document, one.design, least, problems);
  REQUIRE(m.has_value());
  return *std::move(m);
}

design::Opened opened_text(const std::string& text) {
  return opened("sketch.toml", {}, [&](std::string_view) { return std::optional(text); });
}
std::string base_with(const std::string& more) { return *from_disk(faulty("base")) + more; }
std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  REQUIRE(at != text.npos);
  return text.replace(at, from.size(), to);
}

/// Where a case had no operating point, nothing was known of what hangs on it: it may caution then.
Verdict most_allowed(const std::map<Key, Verdict>& before, const Key& key) {
  const bool blind = std::any_of(before.begin(), before.end(), [](const auto& one) {
    return one.first.first == "voltage-collapse" && one.second >= Verdict::caution;
  });
  const auto stood = before.find(key);
  const Verdict was = stood == before.end() ? Verdict::not_checked : stood->second;
  return blind && was == Verdict::not_checked ? Verdict::caution : was;
}

const choice::MendedPart* change_of(const Mended& m, std::string_view path) {
  for (const auto& change : m.changes)
    if (change.path == path) return &change;
  return nullptr;
}

/// Faulty examples that no conductor, device or take-off cures, and what would.
const std::map<std::string, std::string> not_by_wiring{
    {"appliance-overvoltage", "the charge voltage or the appliance"},
    {"appliance-undervoltage", "the bank itself stands lower than it asks"},
    {"array-current", "the controller"},
    {"connector-load", "the connector, or more of its cavities"},
    {"array-voltage", "the controller or the string"},
    {"autonomy", "more batteries or less use"},
    {"bank-charge", "a smaller charger or other batteries"},
    {"bank-discharge", "other batteries"},
    {"bank-loses-one", "other batteries"},
    {"box-too-hot", "the box"},
    {"charge-headroom", "the array"},
    {"cold-charging", "batteries with a cold cut-off"},
    {"daily-balance", "more sun or less use"},
    {"hot-joint", "the joint"},
    {"inspection", "a person who looks"},
    {"inverter-load", "the inverter"},
    {"inverter-reserve", "more batteries, or a warmer box"},
    {"left-unsaid", "a word of the owner"},
    {"lithium-outside", "where the bank stands"},
    {"mass", "lighter equipment"},
    {"parked-drain", "an isolator that is opened"},
    {"promised-stay", "more sun or a larger bank"},
};

}  // namespace

TEST_CASE("each faulty example that wiring can cure is mended, and nothing in it gets worse") {
  const auto base = worst_of(checked(faulty("base")));
  for (const checks::Rule* rule : checks::rules()) {
    const std::string name(rule->name);
    CAPTURE(name);
    const auto one = opened(faulty(name));
    const Mended m = mended(one);
    const auto before = worst_of(m.before), after = worst_of(m.after);
    for (const auto& one_after : after) {
      CAPTURE(one_after.first.first);
      CAPTURE(one_after.first.second);
      CHECK(one_after.second <= most_allowed(before, one_after.first));
    }
    bool still = false;
    for (const auto& [key, verdict] : after) {
      const auto sound = base.find(key);
      still = still || (key.first == name && verdict >= Verdict::caution &&
                        (sound == base.end() || verdict > sound->second));
    }
    if (name == "inspection" || name == "left-unsaid") still = true;  // not checked is their worst
    CHECK(still == (not_by_wiring.count(name) > 0));
    if (still && m.after.verdicts.worse() >= Verdict::caution)
      for (const auto& left : m.left) CHECK(!left.would.empty());
  }
}

TEST_CASE("no change that mend makes can be left out") {
  for (const std::string name :
       {"ampacity", "drop", "far-fault-clears", "unprotected-source-end"}) {
    CAPTURE(name);
    const auto one = opened(faulty(name));
    const Mended m = mended(one);
    REQUIRE(!m.changes.empty());
    const auto after = worst_of(m.after);
    for (std::size_t skipped = 0; skipped < m.changes.size(); ++skipped) {
      CAPTURE(m.changes[skipped].path);
      CHECK(!m.changes[skipped].why.empty());
      std::vector<std::string> sets;
      bool simple = true;  // a device that is added is no single override
      for (std::size_t i = 0; i < m.changes.size(); ++i) {
        simple = simple && !m.changes[i].path.ends_with("/protection");
        if (i != skipped) sets.push_back(m.changes[i].path + "=" + m.changes[i].to);
      }
      if (!simple && m.changes.size() > 1) continue;
      const auto without = worst_of(checked(faulty(name), sets));
      bool worse = false;
      for (const auto& [key, verdict] : without) {
        const auto with_it = after.find(key);
        worse = worse || (verdict >= Verdict::caution &&
                          (with_it == after.end() || verdict > with_it->second));
      }
      CHECK(worse);
    }
  }
}

TEST_CASE("a sound van is left as it is") {
  const Mended m = mended(opened(faulty("base")));
  CHECK(m.changes.empty());
  CHECK(m.left.empty());
  CHECK(m.copper == 0.0 * kilogram);
}

TEST_CASE("a rating and the conductor behind it change together") {
  // 20 A at 12 V through a 5 A fuse on 1.5 mm²: a fuse that carries it asks for more copper.
  const auto one = opened_text(base_with(
      "[[appliance]]\nname = \"Kettle\"\npower = \"240 W\"\nper_day = \"0.2 h\"\nbetween = "
      "[\"07:00-08:00\"]\nlowest_voltage = \"10.8 V\"\nhighest_voltage = \"15.5 V\"\n[[run]]\nname "
      "= \"kettle\"\nfrom = \"panel\"\nto = \"Kettle\"\nlength = \"2 m\"\nconductor = \"1.5 mm2\"\n"
      "protection = [{ end = \"from\", type = \"mine\", rating = \"5 A\", distance = \"0.05 m\" "
      "}]\n"
      "[[device]]\nname = \"mine\"\nbreaking_capacity = \"6 kA\"\nrated_voltage = \"32 V\"\ncurve "
      "= "
      "[[1.35, \"600 s\"], [2.0, \"60 s\"], [6.0, \"0.2 s\"]]\nratings = [\"5 A\", \"10 A\", \"20 "
      "A\", \"25 A\", \"30 A\", \"40 A\"]\n"));
  const Mended m = mended(one);
  const auto* rating = change_of(m, "run/kettle/protection/0/rating");
  const auto* conductor = change_of(m, "run/kettle/conductor");
  REQUIRE(rating);
  REQUIRE(conductor);
  CHECK(rating->from == "5 A");
  const auto after = worst_of(m.after);
  CHECK(after.at({"fuse-above-load", "run/kettle/protection/0"}) == Verdict::pass);
  CHECK(after.at({"fuse-below-conductor", "run/kettle/protection/0"}) == Verdict::pass);
}

TEST_CASE("batteries that share unevenly are tapped at both ends") {
  // Four in a row, joined by thin links and tapped at the first: a ladder loads its near rung most.
  const std::string text =
      replaced(replaced(*from_disk(faulty("base")), "quantity = 2", "quantity = 4"),
               "links = { positive = { conductor = \"25 mm2\", length = \"0.04 m\" }, negative = { "
               "conductor "
               "= \"25 mm2\", length = \"0.04 m\" } }",
               "links = { positive = { conductor = \"4 mm2\", length = \"0.3 m\" }, negative = { "
               "conductor = "
               "\"4 mm2\", length = \"0.3 m\" } }");
  const auto one = opened_text(text);
  const Mended m = mended(one, LeastChange::changes);
  REQUIRE(worst_of(m.before).at({"parallel-share", "bank"}) == Verdict::caution);
  const auto* takeoff = change_of(m, "bank/takeoff_from");
  REQUIRE(takeoff);
  CHECK(takeoff->to == "[1, 4]");
  CHECK(worst_of(m.after).at({"parallel-share", "bank"}) == Verdict::pass);
}

TEST_CASE("where parts say what is in stock, nothing else is taken") {
  const std::string drum = "[[part]]\nname = \"drum\"\nis = \"conductor\"\nsize = ";
  const std::string text = base_with(
      drum + "\"2.5 mm2\"\nin_stock = true\n" +
      "[[part]]\nname = \"drum 2\"\nis = \"conductor\"\nsize = \"16 mm2\"\nin_stock = true\n" +
      "[[part]]\nname = \"drum 3\"\nis = \"conductor\"\nsize = \"6 mm2\"\nin_stock = false\n");
  // The cooler on 0.5 mm² burns: 2.5 mm² bears its 4 A but not its 15 A fuse in every lie.
  const auto one = opened_text(replaced(text, "length = \"4 m\"\nconductor = \"6 mm2\"",
                                        "length = \"4 m\"\nconductor = \"0.5 mm2\""));
  const Mended m = mended(one);
  const std::set<std::string> stocked{"2.5 mm2", "16 mm2"};
  const auto* conductor = change_of(m, "run/cooler/conductor");
  REQUIRE(conductor);
  CHECK(stocked.count(conductor->to) == 1);
}

TEST_CASE("the least price takes the cheaper drum, the least copper the thinner") {
  const auto part = [](const std::string& name, const std::string& size, const std::string& price) {
    return "[[part]]\nname = \"" + name + "\"\nis = \"conductor\"\nsize = \"" + size +
           "\"\nprice = \"" + price + "\"\nin_stock = true\n";
  };
  const std::string text = replaced(
      base_with(part("a", "4 mm2", "3 EUR") + part("b", "6 mm2", "2 EUR")),
      "length = \"4 m\"\nconductor = \"6 mm2\"", "length = \"4 m\"\nconductor = \"0.5 mm2\"");
  const auto one = opened_text(text);
  const Mended by_copper = mended(one);
  const auto* thin = change_of(by_copper, "run/cooler/conductor");
  const Mended by_price = mended(one, LeastChange::price);
  const auto* cheap = change_of(by_price, "run/cooler/conductor");
  REQUIRE(thin);
  REQUIRE(cheap);
  CHECK(thin->to == "4 mm2");
  CHECK(cheap->to == "6 mm2");
  REQUIRE(by_price.price);
  CHECK(double(by_price.price->amount) == doctest::Approx(2 * 4 * 2.0));  // out and back, 4 m
}

TEST_CASE("the least price is refused where nothing states one") {
  const auto one = opened(faulty("drop"));
  Diagnostics problems;
  CHECK_FALSE(choice::mend(one.document, one.design, LeastChange::price, problems));
  CHECK(problems.any_error());
}

TEST_CASE("the chooser takes what is in stock, and says where nothing of it does") {
  const std::string open_run = replaced(
      *from_disk(faulty("base")), "length = \"4 m\"\nconductor = \"6 mm2\"", "length = \"4 m\"");
  const auto chosen_from = [&](const std::string& parts) {
    const auto one = opened_text(open_run + parts);
    const auto chosen = choice::choose(one.document, shipped());
    REQUIRE(chosen.choices.size() == 1);
    return chosen.choices.front();
  };
  const auto drum = [](const std::string& size, const std::string& stocked) {
    return "[[part]]\nname = \"" + size + "\"\nis = \"conductor\"\nsize = \"" + size +
           "\"\nin_stock = " + stocked + "\n";
  };
  const auto free = chosen_from("");
  REQUIRE(!free.conductor.empty());
  CHECK(free.conductor != "16 mm2");
  CHECK(chosen_from(drum("16 mm2", "true")).conductor == "16 mm2");
  CHECK(chosen_from(drum(free.conductor, "false")).why_none == "no conductor is in stock");
}

TEST_CASE(
    "a range that is mended with the fewest sizes needs no more of them, and leaves no more") {
  const std::string base = *from_disk(faulty("base"));
  const std::string cooler = "length = \"4 m\"\nconductor = \"6 mm2\"";
  const auto one = opened_text(replaced(base, cooler, "length = \"9 m\"\nconductor = \"1 mm2\""));
  const auto two = opened_text(replaced(base, cooler, "length = \"5 m\"\nconductor = \"0.5 mm2\""));
  Diagnostics problems;
  const std::vector<choice::InRange> range{{one.document, one.design}, {two.document, two.design}};
  const auto all = choice::mend_with_fewest_sizes(range, LeastChange::copper, problems);
  REQUIRE(all.has_value());
  REQUIRE(all->size() == 2);
  std::set<std::string> together, apart;
  for (std::size_t i = 0; i < 2; ++i) {
    const Mended alone = mended(i == 0 ? one : two);
    for (const auto& size : choice::sizes_in(alone.document)) apart.insert(size);
    for (const auto& size : choice::sizes_in((*all)[i].document)) together.insert(size);
    CHECK((*all)[i].left.size() <= alone.left.size());
    CHECK((*all)[i].document.part.empty());
  }
  CHECK(together.size() < apart.size());
}

}  // namespace choice_mend

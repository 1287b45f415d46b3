// SPDX-License-Identifier: Apache-2.0
// The sound van, changed by one thing at a time: devices at the ends of runs, links, jump posts,
// joints, isolators and terminals.
#include "examples.hpp"

namespace housepower::checks::checks_protection {
namespace {

using examples::checked;
using examples::checked_text;
using examples::faulty;

/// The worst that a rule says of a subject.
const Finding& found(const Checked& checked, std::string_view rule, std::string_view subject) {
  const Finding* worst = nullptr;
  for (const Finding& f : checked.findings)
    if (f.rule == rule && f.subject == subject && (!worst || f.verdict > worst->verdict))
      worst = &f;
  REQUIRE_MESSAGE(worst != nullptr, std::string(rule) << " on " << std::string(subject));
  return *worst;
}
Verdict with(std::vector<std::string> sets, std::string_view rule, std::string_view subject) {
  return found(checked(faulty("base"), sets), rule, subject).verdict;
}
/// The sound van's text, one piece of it put otherwise, and more after it.
Checked base_with(const std::string& piece, const std::string& other,
                  const std::string& more = {}) {
  std::string text = *examples::from_disk(faulty("base"));
  const auto at = text.find(piece);
  REQUIRE(at != std::string::npos);
  return checked_text(text.replace(at, piece.size(), other) + more);
}
const std::string sun_device = "protection = [{ end = \"to\", type = \"post fuse\", rating = \"30 "
                               "A\", distance = \"0.1 m\" }]\n";

TEST_CASE("a limited source needs no device at its own end, the bank one at its") {
  const Checked base = checked(faulty("base"));
  CHECK(found(base, "unprotected-source-end", "run/sun").verdict == Verdict::pass);
  const Checked bare = base_with(sun_device, "");
  CHECK(found(bare, "unprotected-source-end", "run/sun").verdict == Verdict::fail);
}

TEST_CASE("links of up to 0.35 m in the box are exempt; longer two batteries are cautioned, three "
          "fail") {
  const std::string longer = "bank/links/positive/length=0.5 m";
  CHECK(with({}, "unprotected-source-end", "bank/links/positive") == Verdict::pass);
  CHECK(with({longer}, "unprotected-source-end", "bank/links/positive") == Verdict::caution);
  CHECK(with({longer, "bank/quantity=3"}, "unprotected-source-end", "bank/links/positive") ==
        Verdict::fail);
  CHECK(with({"bank/quantity=3"}, "unprotected-source-end", "bank/each_battery") ==
        Verdict::caution);
}

TEST_CASE("the device of each battery breaks what the others drive, bears the busiest battery, and "
          "protects its lead") {
  // Full, 4 · 3.5305 V behind 2 mΩ: the other battery drives 7.06 kA into one that fails.
  const auto with_device = [](const std::string& breaks, const std::string& rating) {
    std::string text = *examples::from_disk(faulty("base"));
    const auto at = text.find("links = {"), end = text.find('\n', at);
    text.replace(
        at, end - at,
        "each_battery = { lead = { conductor = \"10 mm2\", length = \"0.2 m\" }, protection "
        "= { type = \"post fuse\", rating = \"" +
            rating + "\", breaking_capacity = \"" + breaks + "\" } }");
    return checked_text(text);
  };
  const std::string at = "bank/each_battery/protection";
  const Checked sound = with_device("7.1 kA", "50 A"), weak = with_device("7.0 kA", "50 A");
  CHECK(found(sound, "unprotected-source-end", at).verdict == Verdict::pass);
  CHECK(found(weak, "unprotected-source-end", at).verdict == Verdict::fail);
  CHECK(found(sound, "fuse-above-load", at).verdict == Verdict::pass);
  CHECK(found(with_device("20 kA", "2 A"), "fuse-above-load", at).verdict >= Verdict::caution);
  CHECK(found(sound, "fuse-below-conductor", at).verdict == Verdict::pass);
  CHECK(found(with_device("20 kA", "100 A"), "fuse-below-conductor", at).verdict == Verdict::fail);
}

TEST_CASE("jump posts for waking pass; for charging or starting a vehicle they are cautioned") {
  const auto posts = [](const std::string& purpose) {
    return "[[node]]\nname = \"jump\"\nkind = \"jump-post\"\npurpose = \"" + purpose +
           "\"\n[[run]]\nname = \"jump\"\nfrom = \"bank\"\nto = \"jump\"\nlength = \"1 m\"\n"
           "conductor = \"16 mm2\"\nprotection = [{ end = \"from\", type = \"post fuse\", rating = "
           "\"50 A\", distance = \"0.1 m\" }, { end = \"to\", type = \"post fuse\", rating = \"50 "
           "A\", distance = \"0.1 m\" }]\n";
  };
  const auto said = [&](const std::string& purpose) {
    return found(base_with("schema = 1", "schema = 1", posts(purpose)), "unprotected-source-end",
                 "node/jump")
        .verdict;
  };
  CHECK(said("wake") == Verdict::pass);
  CHECK(said("charge") == Verdict::caution);
  CHECK(said("start-a-vehicle") == Verdict::caution);
}

TEST_CASE("one alternative suffices: 200 mm, directly outside the enclosure, or under 1.0 m "
          "enclosed") {
  const std::string at = "run/bank to panel/protection/0";
  const auto said = [&](std::vector<std::string> sets) {
    return with(std::move(sets), "fuse-near-source", at);
  };
  CHECK(said({at + "/distance=0.15 m"}) == Verdict::pass);
  CHECK(said({at + "/distance=0.17 m"}) == Verdict::fail);  // and a link of 0.04 m beyond it
  CHECK(said({at + "/distance=0.9 m", at + "/enclosed=true"}) == Verdict::pass);
  CHECK(said({at + "/distance=1.1 m", at + "/enclosed=true"}) == Verdict::fail);
  CHECK(said({at + "/distance=0.5 m", at + "/sits=box-wall"}) == Verdict::pass);
}

TEST_CASE("a device of type E is loaded by less where it is hot") {
  // 20 A · 34/40 at up to 65 °C, and three quarters of it lasting: 12.75 A; in 70 °C 30/40: 11.25 A.
  // The cooler: 150 W at 12.5 V are 12 A.
  const std::string at = "run/cooler/protection/0";
  const std::vector<std::string> hot{at + "/type=iso-8820-3-e", at + "/rating=20 A",
                                     "appliance/Cooler/power=150 W"};
  auto hotter = hot;
  hotter.emplace_back("run/cooler/ambient=70 °C");
  const Checked inside = checked(faulty("base"), hot), in_heat = checked(faulty("base"), hotter);
  const Finding &f = found(inside, "fuse-loading", at), &g = found(in_heat, "fuse-loading", at);
  CHECK(f.verdict == Verdict::pass);
  CHECK(f.measured->si == doctest::Approx(12.0));
  CHECK(f.limit->si == doctest::Approx(12.75));
  CHECK(g.verdict == Verdict::caution);
  CHECK(g.limit->si == doctest::Approx(11.25));
}

TEST_CASE("links between the batteries bear what flows through them") {
  CHECK(with({}, "ampacity", "bank/links/positive") == Verdict::pass);
  CHECK(with({"bank/links/positive/conductor=0.5 mm2"}, "ampacity", "bank/links/positive") !=
        Verdict::pass);
}

TEST_CASE("a joint may lose 30 mV, and at 200 mV it is faulty") {
  // 5.56 A through the pump's run: 5 mΩ lose 27.8 mV, 10 mΩ 55.6 mV, 40 mΩ 222 mV
  const auto said = [](const std::string& each) {
    return with({"run/pump/joint_resistance=" + each}, "hot-joint", "run/pump/joint_resistance");
  };
  CHECK(said("5 mohm") == Verdict::pass);
  CHECK(said("10 mohm") == Verdict::caution);
  CHECK(said("35 mohm") == Verdict::caution);
  CHECK(said("40 mohm") == Verdict::fail);
}

TEST_CASE("a resistance that nobody stated is not judged; the most loaded is told, once") {
  const Checked silent = base_with(", resistance = \"0.1 mΩ\"", "");
  const Finding& f = found(silent, "hot-joint", "run");
  CHECK(f.verdict == Verdict::not_checked);
  CHECK(f.message.find("isolator of run \"bank to panel\"") != std::string::npos);
  CHECK(f.cure.find("may have up to") != std::string::npos);
  CHECK(silent.verdicts.safety == Verdict::caution);
}

TEST_CASE("an isolator is to be stated, to break the load, and to be made for the current") {
  const std::string at = "run/bank to panel/inline/0";
  CHECK(with({at + "/breaks_load=false"}, "isolator", at + "/breaks_load") == Verdict::caution);
  CHECK(with({at + "/breaks_load=false"}, "isolator", "bank") == Verdict::caution);
  CHECK(with({at + "/rating=5 A"}, "isolator", at) == Verdict::fail);
  CHECK(found(base_with("breaks_load = true, ", ""), "isolator", at + "/breaks_load").verdict ==
        Verdict::not_checked);
}

namespace {

/// What is said of the bank of the sound van, its isolator in the return, without, or as it is, and
/// the cooler's run with a line more.
enum class Isolator { outgoing, return_, none };
Finding of_bank(Isolator isolator, const std::string& of_cooler, const std::string& more = "") {
  std::string text = *examples::from_disk(faulty("base"));
  const std::string item = ", breaks_load = true, resistance = \"0.1 mΩ\" }]\n";
  const auto at = text.find("inline = [{ kind = \"isolator\""), end = text.find('\n', at) + 1;
  REQUIRE(at != std::string::npos);
  text.replace(at, end - at,
               isolator == Isolator::none
                   ? ""
                   : "inline = [{ kind = \"isolator\", rating = \"100 A\"" +
                         std::string(isolator == Isolator::return_ ? ", pole = \"return\"" : "") +
                         item);
  const auto cooler = text.find("to = \"Cooler\"\n");
  REQUIRE(cooler != std::string::npos);
  text.insert(cooler, of_cooler);
  return found(checked_text(text + more), "isolator", "bank");
}
std::string second_feed(const std::string& more) {
  return "[[run]]\nname = \"second\"\nfrom = \"bank\"\nto = \"panel\"\nlength = \"2 m\"\nconductor "
         "= "
         "\"16 mm2\"\nprotection = [{ end = \"from\", type = \"post fuse\", rating = \"50 A\", "
         "distance = \"0.1 m\" }]\n" +
         more;
}
const std::string breaking = "inline = [{ kind = \"isolator\", rating = \"100 A\", breaks_load = "
                             "true, resistance = \"0.1 mΩ\"";

}  // namespace

TEST_CASE("an isolator in the return switches the bank off unless another way home goes round it") {
  CHECK(of_bank(Isolator::return_, "").verdict == Verdict::pass);
  const Finding round = of_bank(
      Isolator::return_, "return = { to = \"bank\", length = \"6 m\", conductor = \"6 mm2\" }\n");
  CHECK(round.verdict == Verdict::caution);
  CHECK(round.message.find("still feeds \"Cooler\"") != std::string::npos);
  const auto bonded = [](const std::string& at) {
    return of_bank(Isolator::return_, "chassis_return = true\n",
                   "[chassis]\nresistance = \"2 mΩ\"\nbonded_at = \"" + at + "\"\n")
        .verdict;
  };
  CHECK(bonded("bank") == Verdict::caution);
  CHECK(bonded("panel") == Verdict::pass);
}

TEST_CASE("of two feeds both want an isolator, in the same pole") {
  CHECK(of_bank(Isolator::outgoing, "", second_feed("")).verdict == Verdict::caution);
  CHECK(of_bank(Isolator::outgoing, "", second_feed(breaking + " }]\n")).verdict == Verdict::pass);
  // out by the second, home by the first
  const Finding crossed =
      of_bank(Isolator::outgoing, "", second_feed(breaking + ", pole = \"return\" }]\n"));
  CHECK(crossed.verdict == Verdict::caution);
  CHECK(crossed.message.find("\"Cooler\", \"Water pump\"") != std::string::npos);
}

TEST_CASE("an isolator of one branch does not switch the bank off") {
  const Finding branch = of_bank(Isolator::none, breaking + " }]\n");
  CHECK(branch.verdict == Verdict::caution);
  CHECK(branch.message.find("still feeds \"Water pump\"") != std::string::npos);
}

TEST_CASE("a panel has room for its circuits and is made for what passes through it") {
  CHECK(with({"node/panel/slots=2"}, "conductor-fits-terminal", "node/panel/slots") ==
        Verdict::pass);
  CHECK(with({"node/panel/slots=1"}, "conductor-fits-terminal", "node/panel/slots") ==
        Verdict::fail);
  CHECK(with({"node/panel/rating=5 A"}, "conductor-fits-terminal", "node/panel") == Verdict::fail);
}

}  // namespace
}  // namespace housepower::checks::checks_protection

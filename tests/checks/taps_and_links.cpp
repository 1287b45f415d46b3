// SPDX-License-Identifier: Apache-2.0
// The sound van, changed by one thing at a time: devices along a run, links between batteries, what
// lies on the way, shared returns, isolators and joints. Of each rule three dangerous variants raise
// it and sound ones do not.
#include "examples.hpp"

namespace housepower::checks::checks_taps_and_links {
namespace {

using examples::checked;
using examples::checked_text;
using examples::faulty;

using Sets = std::vector<std::string>;

/// The worst that a rule says of a subject; in a case if one is named.
const Finding* look(const Checked& checked, std::string_view rule, std::string_view subject,
                    std::string_view in_case = {}) {
  const Finding* worst = nullptr;
  for (const Finding& f : checked.findings)
    if (f.rule == rule && f.subject == subject && (in_case.empty() || f.in_case == in_case) &&
        (!worst || f.verdict > worst->verdict))
      worst = &f;
  return worst;
}
const Finding& found(const Checked& checked, std::string_view rule, std::string_view subject,
                     std::string_view in_case = {}) {
  const Finding* worst = look(checked, rule, subject, in_case);
  REQUIRE_MESSAGE(worst != nullptr, std::string(rule) << " on " << std::string(subject));
  return *worst;
}
Verdict said(const Sets& sets, std::string_view rule, std::string_view subject,
             std::string_view in_case = {}) {
  return found(checked(faulty("base"), sets), rule, subject, in_case).verdict;
}

/// The sound van's text with pieces of it put otherwise, and more after it.
struct Piece {
  std::string was, is;
};
Checked base_with(const std::vector<Piece>& pieces, const std::string& more = {}) {
  std::string text = *examples::from_disk(faulty("base"));
  for (const auto& piece : pieces) {
    const auto at = text.find(piece.was);
    REQUIRE_MESSAGE(at != std::string::npos, piece.was);
    text.replace(at, piece.was.size(), piece.is);
  }
  return checked_text(text + more);
}

const std::string end_rule = "unprotected-source-end";
const std::string main_device =
    R"(protection = [{ end = "from", type = "post fuse", rating = "50 A", distance = "0.1 m" }])";
const std::string pump_device =
    R"(conductor = "4 mm2"
protection = [{ end = "from", type = "panel fuse", rating = "15 A", distance = "0.05 m" }])";
const std::string links =
    R"(links = { positive = { conductor = "25 mm2", length = "0.04 m" }, negative = { conductor = "25 mm2", length = "0.04 m" } })";

// ---- Taps: the pump's 4 mm² bears less than the 50 A fuse before the panel

Sets tap(const std::string& distance, Sets more = {}) {
  more.push_back("run/pump/protection/0/distance=" + distance);
  more.emplace_back("run/pump/ambient=55 °C");
  return more;
}

TEST_CASE("a device along a tap: at the bar no test; up to 3 m the device before it must clear") {
  CHECK(said(tap("0.05 m"), end_rule, "run/pump") == Verdict::pass);
  CHECK(said(tap("1 m"), end_rule, "run/pump") == Verdict::pass);
  // The smallest fault is about four times 50 A, where its curve gives 100 s · 2^-4.82 = 3.5 s and
  // lets 140 kA²s through: 4 mm² of 90 °C withstands (143 · 4)² = 327, 2.5 mm² 128, 1 mm² 20 kA²s.
  for (const std::string size : {"2.5 mm2", "1.5 mm2", "1 mm2"}) {
    const Sets thin{"run/pump/conductor=" + size, "run/pump/protection/0/rating=5 A"};
    CAPTURE(size);
    CHECK(said(tap("1 m", thin), end_rule, "run/pump") == Verdict::fail);
    CHECK(said(tap("0.05 m", thin), end_rule, "run/pump") == Verdict::pass);
  }
}

TEST_CASE(
    "that chargers drive more into a tap than it bears is said: no device before it sees them") {
  // 4 mm² in 55 °C bears less than 40 A (BS 7671 table 4F2 has 42 A at 30 °C, free), so less than this.
  const Sets charged{"controller/regulator/max_charge_current=40 A"};
  const auto says = [](const Sets& sets) {
    return found(checked(faulty("base"), sets), end_rule, "run/pump").message;
  };
  CHECK(says(tap("1 m", charged)).find("chargers by themselves") != std::string::npos);
  CHECK(says(tap("1 m")).find("chargers by themselves") == std::string::npos);
}

TEST_CASE(
    "with a conductor left open what fails without it fails on; the rest asks for the conductor") {
  // The trunk alone: 60 m of 16 mm², class 5 (1.21 mΩ/m at 20 °C, IEC 60228:2004 table 3), out and back
  // 145 mΩ, loses 0.8 V to 5.5 A; cooler and pump draw more, and 0.8 V is allowed.
  const std::string base = *examples::from_disk(faulty("base"));
  const auto inspected = base.find("inspected = [");
  const Piece by_eye{base.substr(inspected, base.find(']', inspected) + 1 - inspected), ""};
  const Piece fails{"profile = \"au-nz-caravan\"", "profile = \"iec-en-leisure\""};
  const Piece open_pump{"conductor = \"4 mm2\"\n", ""};
  const Piece long_trunk{"length = \"2 m\"\nconductor = \"16 mm2\"",
                         "length = \"60 m\"\nconductor = \"16 mm2\""};
  CHECK(found(base_with({by_eye, fails, open_pump, long_trunk}), "drop", "appliance/Water pump")
            .verdict == Verdict::fail);
  // What no conductor there would cure is not asked there: the trunk's cure stays. 0.4 V is the caution.
  const Piece longish_trunk{"length = \"2 m\"\nconductor = \"16 mm2\"",
                            "length = \"40 m\"\nconductor = \"16 mm2\""};
  const Finding worse =
      found(base_with({by_eye, open_pump, longish_trunk}), "drop", "appliance/Water pump");
  CHECK(worse.verdict == Verdict::caution);
  CHECK(worse.message.find("took for run") == std::string::npos);
  CHECK_FALSE(worse.cure.empty());
  // Else no fail rests on the size that was taken for it.
  for (double length = 3.0; length < 12.0; length += 0.5) {
    const Piece long_pump{"length = \"3 m\"\nconductor = \"4 mm2\"\n",
                          "length = \"" + std::to_string(length) + " m\"\n"};
    const Checked with_open = base_with({by_eye, fails, long_pump});
    const Finding& f = found(with_open, "drop", "appliance/Water pump");
    CHECK(f.verdict != Verdict::fail);
    if (f.verdict == Verdict::caution) CHECK(f.wants.size() == 1);
  }
}

TEST_CASE("beyond 3 m, or without a device before it, a tap fails") {
  const Sets longer{"run/pump/length=5 m"};
  CHECK(said(tap("3 m", longer), end_rule, "run/pump") == Verdict::pass);
  CHECK(said(tap("3.1 m", longer), end_rule, "run/pump") == Verdict::fail);
  CHECK(said(tap("1 m", {"run/bank to panel/protection=[]"}), end_rule, "run/pump") ==
        Verdict::fail);
  // within the stub at a bar it is the way to the bar that lacks the device
  CHECK(said(tap("0.05 m", {"run/bank to panel/protection=[]"}), end_rule, "run/pump") ==
        Verdict::pass);
  CHECK(said(tap("0.05 m", {"run/bank to panel/protection=[]"}), end_rule, "run/bank to panel") ==
        Verdict::fail);
}

TEST_CASE("a device at the far end of a run is a tap of the whole run") {
  const auto far = [](const std::string& length) {
    return base_with({{"length = \"3 m\"\n" + pump_device,
                       "length = \"" + length +
                           "\"\nambient = \"55 °C\"\nconductor = \"4 mm2\"\nprotection = [{ end = "
                           "\"to\", type = \"panel fuse\", rating = \"15 A\", distance = \"0.1 m\" "
                           "}]"}});
  };
  CHECK(found(far("2 m"), end_rule, "run/pump").verdict == Verdict::pass);
  CHECK(found(far("3.05 m"), end_rule, "run/pump").verdict == Verdict::pass);
  CHECK(found(far("4 m"), end_rule, "run/pump").verdict == Verdict::fail);
}

TEST_CASE("without a curve before a tap, or with a distance nobody measured, it is not checked") {
  const Sets no_curve{"run/bank to panel/protection/0/type=strip"};
  CHECK(said(tap("1 m", no_curve), end_rule, "run/pump") == Verdict::not_checked);
  CHECK(said(tap("0.05 m", no_curve), end_rule, "run/pump") == Verdict::pass);
  const Checked assumed = base_with({{pump_device, R"(conductor = "4 mm2"
ambient = "55 °C"
protection = [{ end = "from", type = "panel fuse", rating = "15 A", distance = "0.05 m", assumed = ["distance"] }])"}});
  CHECK(found(assumed, end_rule, "run/pump").verdict == Verdict::not_checked);
}

TEST_CASE(
    "at the bank itself a profile that knows a habit only does not let a device stand anywhere") {
  const auto in_europe = [](const std::string& distance, const std::string& enclosed = "false") {
    return checked(faulty("base"), {"rules/profile=iec-en-leisure", "rules/inspected=[]",
                                    "run/bank to panel/protection/0/distance=" + distance,
                                    "run/bank to panel/protection/0/enclosed=" + enclosed});
  };
  const std::string run = "run/bank to panel", device = run + "/protection/0";
  CHECK(found(in_europe("0.15 m"), end_rule, run).verdict == Verdict::pass);
  CHECK(found(in_europe("0.15 m"), "fuse-near-source", device).verdict == Verdict::pass);
  const Checked half = in_europe("0.5 m");
  CHECK(found(half, end_rule, run).verdict == Verdict::pass);
  CHECK(found(half, "fuse-near-source", device).verdict == Verdict::caution);
  CHECK_FALSE(found(half, "fuse-near-source", device).of_safety);
  CHECK(found(in_europe("1.2 m"), end_rule, run).verdict == Verdict::fail);
  CHECK(found(in_europe("1.2 m", "true"), end_rule, run).verdict == Verdict::caution);
  CHECK(found(checked(faulty("base"),
                      {"rules/profile=iec-en-leisure", "rules/inspected=[]", run + "/length=4 m",
                       device + "/distance=3.2 m", device + "/enclosed=true"}),
              end_rule, run)
            .verdict == Verdict::fail);
}

TEST_CASE("where each battery has a device the run from their bar may do without one") {
  const auto star = [](const std::string& rating) {
    return base_with(
        {{links,
          "each_battery = { lead = { conductor = \"16 mm2\", length = \"0.2 m\" }, protection = "
          "{ type = \"post fuse\", rating = \"" +
              rating + "\", breaking_capacity = \"20 kA\" } }"},
         {main_device, "protection = []"}});
  };
  CHECK(found(star("25 A"), end_rule, "run/bank to panel").verdict == Verdict::pass);
  CHECK(found(star("80 A"), end_rule, "run/bank to panel").verdict == Verdict::fail);
}

// ---- Links and leads

TEST_CASE("links bear their part of the main device: with all batteries in, or one open") {
  const std::string rule = "fuse-below-conductor", at = "bank/links/positive";
  const auto thin = [&](const std::string& size, const std::string& quantity = "2") {
    return checked(faulty("base"),
                   {"bank/links/positive/conductor=" + size, "bank/quantity=" + quantity});
  };
  CHECK(found(thin("25 mm2"), rule, at).verdict == Verdict::pass);
  // Two alike: a little less than half of the 50 A; all of it if the first opens. 4 mm² lying free
  // bears between the two, 1 mm² less than either.
  CHECK(found(thin("4 mm2"), rule, at).verdict == Verdict::caution);
  CHECK(found(thin("4 mm2"), rule, at).in_case == "battery 1 open");
  CHECK(found(thin("1 mm2"), rule, at).verdict == Verdict::fail);
  // Of six, five give their current through the first link.
  CHECK(found(thin("2.5 mm2", "6"), rule, at).verdict == Verdict::fail);
  CHECK(found(thin("25 mm2", "6"), rule, at).verdict == Verdict::pass);
  // A larger device at the bank.
  CHECK(said({"bank/links/positive/conductor=6 mm2", "run/bank to panel/protection/0/rating=200 A"},
             rule, at) == Verdict::fail);
}

TEST_CASE("leads to a common bar bear theirs; a lead with a device is held against that") {
  const std::string rule = "fuse-below-conductor";
  const auto leads = [&](const std::string& size, const std::string& device = {}) {
    return base_with({{links, "each_battery = { lead = { conductor = \"" + size +
                                  "\", length = \"0.2 m\" }" + device + " }"}});
  };
  const std::string fifty =
      R"(, protection = { type = "post fuse", rating = "50 A", breaking_capacity = "20 kA" })";
  CHECK(found(leads("10 mm2"), rule, "bank/each_battery/lead").verdict == Verdict::pass);
  CHECK(found(leads("4 mm2"), rule, "bank/each_battery/lead").verdict == Verdict::caution);
  CHECK(found(leads("1 mm2"), rule, "bank/each_battery/lead").verdict == Verdict::fail);
  CHECK(found(leads("10 mm2", fifty), rule, "bank/each_battery/protection").verdict ==
        Verdict::pass);
  CHECK(found(leads("2.5 mm2", fifty), rule, "bank/each_battery/protection").verdict ==
        Verdict::fail);
  CHECK(look(leads("2.5 mm2", fifty), rule, "bank/each_battery/lead") == nullptr);
}

TEST_CASE("a link that carries more than it bears fails") {
  const std::string at = "bank/links/positive";
  CHECK(said({}, "ampacity", at) == Verdict::pass);
  CHECK(said({at + "/conductor=2.5 mm2", "appliance/Cooler/power=900 W"}, "ampacity", at) ==
        Verdict::fail);
  CHECK(said({at + "/conductor=0.5 mm2", "appliance/Cooler/power=400 W"}, "ampacity", at) ==
        Verdict::fail);
  CHECK(said({"bank/links/negative/conductor=1 mm2", "appliance/Cooler/power=600 W"}, "ampacity",
             "bank/links/negative") == Verdict::fail);
}

TEST_CASE("from three batteries a device each is advice; where a profile asks for it, more") {
  const auto three = [](Sets more) {
    more.emplace_back("bank/quantity=3");
    return checked(faulty("base"), more);
  };
  const Checked plain = three({});
  const Finding& f = found(plain, end_rule, "bank/each_battery");
  CHECK(f.verdict == Verdict::caution);
  CHECK_FALSE(f.of_safety);
  // ABYC E-11 of 2025, as read: parallel banks above 500 Ah
  const Checked craft =
      three({"rules/profile=small-craft-abyc", "rules/inspected=[]", "bank/capacity=200 Ah"});
  CHECK(found(craft, end_rule, "bank/each_battery").of_safety);
}

// ---- How near the first device is

TEST_CASE("less than 1.0 m is not 1.0 m") {
  const std::string at = "run/bank to panel/protection/0";
  const auto enclosed = [&](const std::string& distance) {
    return said({at + "/distance=" + distance, at + "/enclosed=true"}, "fuse-near-source", at);
  };
  CHECK(enclosed("0.99 m") == Verdict::pass);
  CHECK(enclosed("999 mm") == Verdict::pass);
  CHECK(enclosed("1.0 m") == Verdict::fail);
  CHECK(enclosed("1000 mm") == Verdict::fail);
  CHECK(enclosed("1.01 m") == Verdict::fail);
}

TEST_CASE("directly outside the box is within its two longest sides and 0.2 m, links counted") {
  // The box is 0.7 · 0.4 · 0.3 m: 1.3 m; a link of 0.04 m leads to the farther battery.
  const std::string at = "run/bank to panel/protection/0", rule = "fuse-near-source";
  const auto wall = [&](const std::string& distance) {
    return said({at + "/distance=" + distance, at + "/sits=box-wall"}, rule, at);
  };
  CHECK(wall("0.5 m") == Verdict::pass);
  CHECK(wall("1.25 m") == Verdict::pass);
  CHECK(wall("1.27 m") == Verdict::fail);
  CHECK(wall("1.9 m") == Verdict::fail);
  const auto no_box = [&](const std::string& distance) {
    return base_with(
        {{"[bank.box]\nsize = [\"0.7 m\", \"0.4 m\", \"0.3 m\"]\n", ""},
         {main_device,
          R"(protection = [{ end = "from", type = "post fuse", rating = "50 A", sits = "box-wall", distance = ")" +
              distance + "\" }]"}});
  };
  CHECK(found(no_box("0.5 m"), rule, at).verdict == Verdict::not_checked);
  CHECK(found(no_box("0.5 m"), rule, at).of_safety);
  CHECK(found(no_box("0.1 m"), rule, at).verdict == Verdict::pass);  // by its 200 mm
}

TEST_CASE("a first device too far away is told every place that the profile allows") {
  const std::string at = "run/bank to panel/protection/0", rule = "fuse-near-source";
  const Checked far = checked(faulty("base"), {at + "/distance=2 m"});
  const std::string& message = found(far, rule, at).message;
  // AS/NZS 3001.2:2022 5.4 as the profile quotes it: one of three
  CHECK(message.find("within 0.2 m") != message.npos);
  CHECK(message.find("directly outside the battery enclosure") != message.npos);
  CHECK(message.find("less than 1 m if enclosed") != message.npos);
  const auto relies = [&](const std::string& enclosed) {
    const Checked near =
        checked(faulty("base"), {at + "/distance=0.1 m", at + "/enclosed=" + enclosed});
    return found(near, rule, at).message.find("short and enclosed") != std::string::npos;
  };
  CHECK(relies("true"));
  CHECK_FALSE(relies("false"));
}

TEST_CASE("what the program wrote itself is not checked until a person takes the word away") {
  const std::string at = "run/bank to panel/protection/0", rule = "fuse-near-source";
  const auto written = [&](const std::string& more) {
    return base_with(
        {{main_device, R"(protection = [{ end = "from", type = "post fuse", rating = "50 A", )" +
                           more + " }]"}});
  };
  CHECK(found(written(R"(distance = "0.1 m", assumed = ["distance", "sits"])"), rule, at).verdict ==
        Verdict::not_checked);
  CHECK(found(written(R"(distance = "0.5 m", sits = "box-wall", assumed = ["sits"])"), rule, at)
            .verdict == Verdict::not_checked);
  CHECK(found(written(R"(distance = "0.1 m", assumed = ["sits"])"), rule, at).verdict ==
        Verdict::pass);
  CHECK(found(written(R"(distance = "0.5 m", sits = "box-wall")"), rule, at).verdict ==
        Verdict::pass);
}

// ---- What lies on the way

TEST_CASE("items and bars bear the device before them, or their maker's largest device") {
  const std::string rule = "conductor-fits-terminal", before = "against the device before it";
  const std::string item = "run/bank to panel/inline/0";
  CHECK(said({}, rule, item, before) == Verdict::pass);
  CHECK(said({}, rule, "node/panel", before) == Verdict::pass);
  const Checked small = checked(faulty("base"), {item + "/rating=40 A"});
  CHECK(found(small, rule, item, before).verdict == Verdict::caution);
  CHECK(found(small, rule, item, before).of_safety);
  CHECK(found(small, "isolator", item).verdict == Verdict::pass);  // it carries 13 A
  CHECK(said({item + "/rating=40 A", item + "/largest_device=50 A"}, rule, item, before) ==
        Verdict::pass);
  CHECK(said({item + "/rating=40 A", item + "/largest_device=45 A"}, rule, item, before) ==
        Verdict::caution);
  CHECK(said({"node/panel/rating=40 A"}, rule, "node/panel", before) == Verdict::caution);
  CHECK(said({"node/panel/rating=40 A", "node/panel/largest_device=60 A"}, rule, "node/panel",
             before) == Verdict::pass);
  CHECK(said({"run/bank to panel/protection/0/rating=125 A"}, rule, "node/panel", before) ==
        Verdict::caution);
}

TEST_CASE("an item in a run without a device of its own is seen from the device before it") {
  const std::string plug = R"(inline = [{ kind = "plug", rating = "20 A", resistance = "0.1 mΩ" }]
joints = 6
)";
  const auto with_plug = [&](const std::string& device) {
    return base_with({{pump_device, "conductor = \"16 mm2\"\n" + plug + device}});
  };
  const std::string at = "run/pump/inline/0", rule = "conductor-fits-terminal",
                    before = "against the device before it";
  CHECK(found(with_plug(""), rule, at, before).verdict == Verdict::caution);
  CHECK(found(with_plug(""), rule, at, before).measured->si == doctest::Approx(50.0));
  CHECK(
      found(
          with_plug(
              R"(protection = [{ end = "from", type = "panel fuse", rating = "15 A", distance = "0 m" }])"),
          rule, at, before)
          .verdict == Verdict::pass);
}

// ---- Returns

TEST_CASE(
    "a shared return bears what its devices and those before them let through, else a caution") {
  // Both branches come home to a bar whose own conductor leads to the panel. Their loads are small;
  // 15 A and 15 A may flow, no more than the 50 A before them.
  const auto shared = [](const std::string& home, const std::string& first = "15 A") {
    const std::string node =
        "[[node]]\nname = \"minus bar\"\nkind = \"bus bar\"\nrating = \"100 A\"\n";
    const std::string way =
        "return = { to = \"minus bar\", conductor = \"6 mm2\", length = \"1 m\" }\n";
    const std::string run =
        "[[run]]\nname = \"home\"\nfrom = \"panel\"\nto = \"minus bar\"\nlength = "
        "\"1 m\"\nconductor = \"" +
        home +
        "\"\nprotection = [{ end = \"from\", type = \"panel fuse\", rating = \"2 "
        "A\", distance = \"0 m\" }]\n";
    return base_with({{pump_device, way + pump_device},
                      {R"(conductor = "6 mm2"
protection = [{ end = "from", type = "panel fuse", rating = "15 A", distance = "0.05 m" }])",
                       way + R"(conductor = "6 mm2"
protection = [{ end = "from", type = "panel fuse", rating = ")" +
                           first + R"(", distance = "0.05 m" }])"}},
                     node + run);
  };
  const std::string at = "run/home/return", rule = "return-ampacity",
                    before = "as much as its devices let through";
  CHECK(found(shared("10 mm2"), rule, at, before).verdict == Verdict::pass);
  CHECK(found(shared("10 mm2"), rule, at, before).measured->si == doctest::Approx(32.0));
  CHECK(found(shared("1.5 mm2"), rule, at, before).verdict == Verdict::caution);
  CHECK(found(shared("2.5 mm2", "30 A"), rule, at, before).verdict == Verdict::caution);
  // no more than the 50 A before all of them
  CHECK(found(shared("10 mm2", "40 A"), rule, at, before).measured->si == doctest::Approx(50.0));
}

// ---- Isolators, joints, places, sizes

TEST_CASE("a bank that nothing switches off is a caution; a plug is no isolator") {
  const std::string item =
      R"(inline = [{ kind = "isolator", rating = "100 A", breaks_load = true, resistance = "0.1 mΩ" }])";
  const auto with_item = [&](const std::string& other) { return base_with({{item, other}}); };
  CHECK(found(with_item(item), "isolator", "bank").verdict == Verdict::pass);
  for (
      const std::string& other :
      {std::string(),
       std::string(
           R"(inline = [{ kind = "plug", rating = "100 A", breaks_load = true, resistance = "0.1 mΩ" }])"),
       std::string(
           R"(inline = [{ kind = "isolator", rating = "100 A", breaks_load = false, resistance = "0.1 mΩ" }])")}) {
    const Checked van = with_item(other);
    const Finding& f = found(van, "isolator", "bank");
    CHECK(f.verdict == Verdict::caution);
    CHECK(f.of_safety);
  }
}

TEST_CASE("a run cannot have fewer joints than conductors, items and devices make") {
  const auto joints = [](const std::string& run, const std::string& count) {
    const Checked van = checked(faulty("base"), {"run/" + run + "/joints=" + count});
    const Finding& f = found(van, "hot-joint", "run/" + run + "/joints");
    CHECK_FALSE(f.of_safety);
    return f.verdict;
  };
  CHECK(joints("pump", "6") == Verdict::pass);  // four, and two at the device 0.05 m along
  CHECK(joints("pump", "5") == Verdict::caution);
  CHECK(joints("pump", "0") == Verdict::caution);
  CHECK(joints("bank to panel", "8") == Verdict::pass);
  CHECK(joints("bank to panel", "7") == Verdict::caution);
  const Sets slot{"run/pump/protection/0/distance=0 m", "run/pump/joints=4"};
  CHECK(said(slot, "hot-joint", "run/pump/joints") == Verdict::pass);
  const Checked chassis =
      base_with({{pump_device, "chassis_return = true\njoints = 4\n" + pump_device}});
  CHECK(found(chassis, "hot-joint", "run/pump/joints").verdict == Verdict::pass);
}

TEST_CASE("NEC: 6 A on 18 AWG, 8 A on 16 AWG, from memory and so a caution") {
  const auto device = [](const std::string& size, const std::string& rating) {
    return checked(faulty("base"),
                   {"rules/profile=nec-552-park-trailer", "rules/inspected=[]",
                    "run/pump/conductor=" + size, "run/pump/protection/0/rating=" + rating});
  };
  const std::string at = "run/pump/protection/0", rule = "fuse-below-conductor";
  CHECK(found(device("18 awg", "5 A"), rule, at).verdict == Verdict::pass);
  CHECK(found(device("18 awg", "7.5 A"), rule, at).verdict == Verdict::caution);
  CHECK(found(device("18 awg", "7.5 A"), rule, at).of_safety);
  CHECK(found(device("16 awg", "7.5 A"), rule, at).verdict == Verdict::pass);
  CHECK(found(device("16 awg", "10 A"), rule, at).verdict == Verdict::caution);
  CHECK(found(device("14 awg", "20 A"), rule, at).verdict == Verdict::fail);
}

TEST_CASE("NEC: lithium inside passes once its box is inspected as vapour-tight") {
  const auto inside = [](const std::string& inspected) {
    return checked(faulty("base"),
                   {"rules/profile=nec-552-park-trailer", "rules/inspected=[\"" + inspected + "\"]",
                    "bank/mounted=inside"});
  };
  const std::string rule = "lithium-outside", at = "bank/mounted";
  CHECK(found(inside("battery area vapour-tight to the interior"), rule, at).verdict ==
        Verdict::pass);
  CHECK(found(inside("chassis bond"), rule, at).verdict == Verdict::caution);
  CHECK(said({"rules/profile=nec-552-park-trailer", "rules/inspected=[]"}, rule, at) ==
        Verdict::pass);
}

TEST_CASE("ISO: a single conductor longer than 200 mm has at least 1 mm², its return with it") {
  const auto thin = [](Sets more) {
    more.insert(more.end(), {"rules/profile=iec-en-leisure", "rules/inspected=[]",
                             "run/pump/protection/0/rating=5 A"});
    return checked(faulty("base"), more);
  };
  const std::string rule = "smallest-conductor", at = "run/pump";
  CHECK(found(thin({"run/pump/conductor=1 mm2"}), rule, at).verdict == Verdict::pass);
  const Checked small = thin({"run/pump/conductor=0.75 mm2"});
  CHECK(found(small, rule, at).verdict == Verdict::caution);
  CHECK_FALSE(found(small, rule, at).of_safety);
  CHECK(look(thin({"run/pump/conductor=0.75 mm2", "run/pump/length=0.2 m"}), rule, at) == nullptr);
  CHECK(found(thin({"run/pump/return={ conductor = \"0.75 mm2\" }"}), rule, at).verdict ==
        Verdict::caution);
}

}  // namespace
}  // namespace housepower::checks::checks_taps_and_links

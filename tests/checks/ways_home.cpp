// SPDX-License-Identifier: Apache-2.0
// Ways home that several runs share: the bond of the chassis, negative bars, what sits in a return.
#include "examples.hpp"

namespace housepower::checks::checks_ways_home {
namespace {

using examples::checked;
using examples::checked_text;

/// The worst that a rule says of a subject; in a case if one is named.
Finding found(const Checked& all, std::string_view rule, std::string_view subject,
              std::string_view in_case = {}) {
  const Finding* worst = nullptr;
  for (const Finding& f : all.findings)
    if (f.rule == rule && f.subject == subject && (in_case.empty() || f.in_case == in_case) &&
        (!worst || f.verdict > worst->verdict))
      worst = &f;
  REQUIRE_MESSAGE(worst != nullptr, std::string(rule) << " on " << std::string(subject));
  return *worst;
}

}  // namespace

TEST_CASE("the bond of the chassis bears what returns by it, and what devices let through it") {
  const auto home = [](const std::string& bond) {
    return checked(HOUSEPOWER_SOURCE_DIR "/examples/two-berth.toml",
                   {"run/main/chassis_return=true",
                    "chassis={ resistance = \"2 mΩ\", bonded_at = \"bank\"" + bond + " }"});
  };
  const std::string at = "chassis/bond", rule = "return-ampacity",
                    devices = "as much as its devices let through";
  const Checked unstated = home("");
  CHECK(found(unstated, rule, at).verdict == Verdict::not_checked);
  CHECK(found(unstated, rule, at).of_safety);
  // 10 A of mains and 10 A of sun come home by it, and as much as the 35 A device of the run lets through.
  // 4 mm² lying free bears 42 A at 30 °C (BS 7671 table 4F2 col 5) and less than that, yet more than 20 A,
  // in the 45 °C of that file.
  const Checked thin = home(", bond = \"0.5 mm2\"");
  CHECK(found(thin, rule, at).verdict == Verdict::fail);
  CHECK(found(thin, rule, at).measured->si == doctest::Approx(20.0));
  const Checked some = home(", bond = \"4 mm2\"");
  CHECK(found(some, rule, at).verdict == Verdict::caution);
  CHECK(found(some, rule, at, devices).measured->si == doctest::Approx(35.0));
  CHECK(found(home(", bond = \"16 mm2\""), rule, at).verdict == Verdict::pass);
  // The main's device has to clear for it as for a return of that size.
  CHECK(found(thin, "fault-withstand", "run/main/protection/0").verdict == Verdict::fail);
  CHECK(found(home(", bond = \"16 mm2\""), "fault-withstand", "run/main/protection/0").verdict ==
        Verdict::pass);
}

TEST_CASE("a negative bar, and what sits in its way home, bear what comes home through them") {
  // The fridge draws 45 W, 4.3 A at its 10.5 V; its return goes to a bar, and on by the return of a run
  // that itself carries nothing.
  const auto with_bar = [](const std::string& bar, const std::string& shunt) {
    std::string text = *examples::from_disk(HOUSEPOWER_SOURCE_DIR "/examples/two-berth.toml");
    const std::string fridge = "name = \"fridge\"\nfrom = \"panel\"\nto = \"Fridge\"\n";
    const auto at = text.find(fridge);
    REQUIRE(at != std::string::npos);
    text.insert(at + fridge.size(), "return = { to = \"bar\" }\n");
    return checked_text(
        text + "\n[[node]]\nname = \"bar\"\nkind = \"bus bar\"\nrating = \"" + bar +
        "\"\nsits = \"inside\"\n[[run]]\nname = \"bar home\"\nfrom = \"panel\"\nto = \"bar\"\n"
        "length = \"1 m\"\nconductor = \"6 mm2\"\njoints = 6\ninline = [{ kind = \"shunt\", rating "
        "= \"" +
        shunt +
        "\", resistance = \"1 mΩ\", pole = \"return\" }]\nprotection = [{ end = \"from\", type = "
        "\"iso-8820-3-c\", rating = \"3 A\", distance = \"0 m\", sits = \"inside\" }]\n");
  };
  const std::string rule = "conductor-fits-terminal", before = "against the device before it";
  CHECK(found(with_bar("3 A", "50 A"), rule, "node/bar").verdict == Verdict::fail);
  CHECK(found(with_bar("10 A", "50 A"), rule, "node/bar").verdict ==
        Verdict::caution);  // behind 15 A
  CHECK(found(with_bar("15 A", "50 A"), rule, "node/bar").verdict == Verdict::pass);
  CHECK(found(with_bar("15 A", "10 A"), rule, "run/bar home/inline/0", before).verdict ==
        Verdict::caution);
  CHECK(found(with_bar("15 A", "15 A"), rule, "run/bar home/inline/0", before).verdict ==
        Verdict::pass);
}

TEST_CASE("a drop that is lost in the chassis says so, and air that is hotter is told as hot") {
  const std::string van = examples::folder + "two-berth.toml";
  const Checked chassis = checked(
      van, {"run/lights/chassis_return=true",
            "chassis={ resistance = \"900 mΩ\", bonded_at = \"bank\", bond = \"16 mm2\" }"});
  CHECK(found(chassis, "drop", "appliance/Lights").cure.find("chassis") != std::string::npos);
  const Checked hot =
      checked(van, {"run/lights/insulation=60 °C", "run/lights/insulation_material=pvc",
                    "run/lights/ambient=70 °C"});
  const std::string& message = found(hot, "ampacity", "run/lights").message;
  CHECK(message.find("70 °C is hotter than the 60 °C") != message.npos);
}

}  // namespace housepower::checks::checks_ways_home

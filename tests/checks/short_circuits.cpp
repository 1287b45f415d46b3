// SPDX-License-Identifier: Apache-2.0
// The sound van, changed by one thing at a time: what its devices have to break, and how conductors
// come through a fault.
#include "examples.hpp"

namespace housepower::checks::checks_short_circuits {
namespace {

using examples::checked_text;
using examples::faulty;

std::string put(std::string text, const std::string& piece, const std::string& other) {
  const auto at = text.find(piece);
  REQUIRE_MESSAGE(at != std::string::npos, piece);
  return text.replace(at, piece.size(), other);
}
std::string base() { return *examples::from_disk(faulty("base")); }

std::vector<Finding> of(const Checked& checked, std::string_view rule, std::string_view subject) {
  std::vector<Finding> found;
  for (const Finding& f : checked.findings)
    if (f.rule == rule && f.subject == subject) found.push_back(f);
  REQUIRE_MESSAGE(!found.empty(), std::string(rule) << " on " << std::string(subject));
  return found;
}
Finding one(const Checked& checked, std::string_view rule, std::string_view subject) {
  return of(checked, rule, subject).front();
}
bool says(const std::string& text, std::string_view what) { return text.find(what) != text.npos; }

const std::string stated = "resistance = { low = \"2 mΩ\", high = \"5 mΩ\" }\n";
const std::string main_device = "run/bank to panel/protection/0";
const std::string cooler_device = "run/cooler/protection/0";
const std::string at_cooler =
    "type = \"panel fuse\", rating = \"15 A\", distance = \"0.05 m\" }]\n[[run]]\nname = \"pump\"";
/// The base with another device for the cooler.
std::string cooler(const std::string& device, std::string text = base()) {
  return put(std::move(text), at_cooler, device + " }]\n[[run]]\nname = \"pump\"");
}

// ---- breaking-capacity

TEST_CASE(
    "a pass on a resistance nobody stated leaves room of 1.2, or is a caution; and it says so") {
  // Two batteries of 100 Ah that state nothing: 14.122 V behind 1.6 mΩ each, the second one also
  // behind two links of 0.04 m of 25 mm² (0.055 mΩ, colder a little less): at most 17.7 kA, and
  // with 0.1 m of 16 mm² (0.11 mΩ) before the device 15.4 to 15.8 kA.
  const auto with = [](const std::string& breaks) {
    const auto text = put(put(base(), stated, ""), "breaking_capacity = \"20 kA\"",
                          "breaking_capacity = \"" + breaks + "\"");
    return one(checked_text(text), "breaking-capacity", main_device);
  };
  const Finding tight = with("17 kA"), roomy = with("20 kA"), weak = with("15 kA");
  CHECK(tight.verdict == Verdict::caution);
  CHECK(tight.of_safety);
  CHECK(says(tight.cure, "bank/resistance/low"));
  CHECK(roomy.verdict == Verdict::pass);
  CHECK(says(roomy.message, "bank/resistance/low = 1.6 mΩ"));
  CHECK(weak.verdict == Verdict::caution);  // a fail by nothing but the program's own figure
  const Finding said =
      one(checked_text(put(put(base(), stated, "resistance = { low = \"1.6 mΩ\" }\n"),
                           "breaking_capacity = \"20 kA\"", "breaking_capacity = \"17 kA\"")),
          "breaking-capacity", main_device);
  CHECK(said.verdict == Verdict::pass);
  CHECK_FALSE(says(said.message, "does not state"));
}

TEST_CASE("only a maker's combination backs a device up") {
  const auto weak = [](const std::string& text) {
    return put(text, "breaking_capacity = \"6 kA\"", "breaking_capacity = \"1 kA\"");
  };
  const auto verdict = [](const std::string& text) {
    return one(checked_text(text), "breaking-capacity", cooler_device);
  };
  const std::string panel = "type = \"panel fuse\", rating = \"15 A\", distance = \"0.05 m\"";
  const std::string blade = "type = \"iso-8820-3-c\", rating = \"15 A\", distance = \"0.05 m\"";
  const std::string backed = ", backed_by = \"post fuse\"";
  CHECK(verdict(weak(cooler(panel))).verdict == Verdict::fail);
  const Finding makers = verdict(weak(cooler(panel + backed)));
  CHECK(makers.verdict == Verdict::caution);
  CHECK(says(makers.message, "maker's word"));
  const Finding none = verdict(cooler(blade + backed));
  CHECK(none.verdict == Verdict::fail);
  CHECK(says(none.message, "of a maker"));
  // one that cannot break the fault itself backs nothing up
  CHECK(verdict(put(weak(cooler(panel + backed)), "breaking_capacity = \"20 kA\"",
                    "breaking_capacity = \"1.5 kA\""))
            .verdict == Verdict::fail);
}

TEST_CASE("a breaking capacity above what is published of the type is told") {
  const std::string blade = "type = \"iso-8820-3-c\", rating = \"15 A\", distance = \"0.05 m\"";
  const Finding f = one(checked_text(cooler(blade + ", breaking_capacity = \"10 kA\"")),
                        "breaking-capacity", cooler_device);
  CHECK(f.verdict == Verdict::pass);
  CHECK(says(f.message, "what is published of the type is 1 kA"));
}

TEST_CASE("a rating that no series holds is a caution of service, with its neighbours") {
  const auto rated = [](const std::string& type, const std::string& rating) {
    return of(checked_text(cooler("type = \"" + type + "\", rating = \"" + rating +
                                  "\", distance = \"0.05 m\", breaking_capacity = \"10 kA\"")),
              "breaking-capacity", cooler_device);
  };
  const auto blade = rated("iso-8820-3-c", "17 A");
  REQUIRE(blade.size() == 2);
  const Finding& unsold = blade[0].of_safety ? blade[1] : blade[0];
  CHECK(unsold.verdict == Verdict::caution);
  CHECK_FALSE(unsold.of_safety);
  CHECK(says(unsold.message, "not a rating that is sold"));
  CHECK(says(unsold.message, "15 A and 20 A"));
  CHECK(rated("iso-8820-3-c", "7.5 A").size() == 1);
  CHECK(rated("iso-8820-3-c", "50 A").size() == 2);    // its series was read, and ends at 40 A
  CHECK(rated("ul-248-class-t", "37 A").size() == 2);  // NEC 240.6: 35 and 40 A
  CHECK(rated("ul-248-class-t", "10 A").size() == 1);  // made from 1 A on; the steps were not read
  CHECK(rated("iec-60269-nh", "63 A").size() == 1);    // no steps were read
}

// ---- far-fault-clears and fault-withstand

TEST_CASE("a device that protects against overload clears what it must; of the rest it is told") {
  const Checked sound = checked_text(base());
  const Finding far = one(sound, "far-fault-clears", cooler_device);
  CHECK(far.verdict == Verdict::pass);
  CHECK(says(far.message, "protects run \"cooler\" against overload"));
  // 90 m of 1 mm²: cold and strong 14.1 V / (180 · 17.24 mΩ · 228.5/254.5) = 5.1 A, less than it bears
  const Checked far_away = checked_text(put(
      put(cooler("type = \"panel fuse\", rating = \"5 A\", distance = \"0.05 m\""),
          "length = \"4 m\"\nconductor = \"6 mm2\"", "length = \"90 m\"\nconductor = \"1 mm2\""),
      "power = \"48 W\"", "power = \"5 W\""));
  const Finding borne = one(far_away, "far-fault-clears", cooler_device);
  CHECK(borne.verdict == Verdict::pass);
  CHECK(says(borne.message, "carries continuously"));
  CHECK(says(borne.message, "is not counted"));
}

TEST_CASE(
    "a fault that a device of overload may not see is a caution of service with the current") {
  // 35 m of 2.5 mm²: 7.98 mΩ/m at 20 °C, 10.2 hot; out and back 0.71 Ω: at most 13.2 V / 0.71 Ω = 18.5 A;
  // cold and strong 14.1 V / (70 · 6.9 mΩ · 228.5/254.5) = 32 A. A device of 15 A opens for sure from
  // 20.25 A.
  const Checked c = checked_text(put(
      put(cooler("type = \"panel fuse\", rating = \"15 A\", distance = \"0.05 m\""),
          "length = \"4 m\"\nconductor = \"6 mm2\"", "length = \"35 m\"\nconductor = \"2.5 mm2\""),
      "power = \"48 W\"", "power = \"20 W\""));
  const Finding f = one(c, "far-fault-clears", cooler_device);
  CHECK(f.verdict == Verdict::caution);
  CHECK_FALSE(f.of_safety);
  CHECK((says(f.message, "20.2 A") || says(f.message, "20.25 A")));
  CHECK(one(c, "fault-withstand", cooler_device).verdict == Verdict::pass);
}

TEST_CASE("without a curve a small device on a stout conductor passes, else it is not checked") {
  const auto with = [](const std::string& rating) {
    return checked_text(
        cooler("type = \"strip\", rating = \"" + rating + "\", distance = \"0.05 m\""));
  };
  const auto withstand = [&](const std::string& rating) {
    return one(with(rating), "fault-withstand", cooler_device).verdict;
  };
  // 6 mm² in the base bears some 40 to 55 A: 10 A is less than half, 35 A more
  CHECK(withstand("10 A") == Verdict::pass);
  CHECK(withstand("35 A") == Verdict::not_checked);
  // far faults: 2.0 · 10 A is within 1.45 I_z; 2.0 · 50 A is not, and then only a curve could tell
  CHECK(one(with("10 A"), "far-fault-clears", cooler_device).verdict == Verdict::pass);
  const Finding large = one(with("50 A"), "far-fault-clears", cooler_device);
  CHECK(large.verdict == Verdict::not_checked);
  CHECK(says(large.message, "short circuits only"));
}

TEST_CASE("nothing limits the heat only where a device of short circuits need not open") {
  const Checked bad = examples::checked(faulty("far-fault-clears"));
  const Finding f = one(bad, "far-fault-clears", "run/pump/protection/0");
  CHECK(f.verdict == Verdict::fail);
  CHECK(f.of_safety);
  CHECK(says(f.message, "nothing limits the heat"));
  for (const Finding& other : checked_text(base()).findings)
    CHECK_FALSE(says(other.message, "nothing limits the heat"));
}

TEST_CASE("what fails only in a cold in which no resistance was read is a caution") {
  // A bank of 60 mΩ makes the cold count.
  const auto at = [](const std::string& rating) {
    const auto text = put(
        put(put(base(), stated, "resistance = { low = \"2 mΩ\", high = \"60 mΩ\" }\n"),
            "length = \"3 m\"\nconductor = \"4 mm2\"", "length = \"3 m\"\nconductor = \"2.5 mm2\""),
        "name = \"pump\"\nfrom = \"panel\"\nto = \"Water pump\"\nlength = \"3 m\"\nconductor = "
        "\"2.5 mm2\"\nprotection = [{ end = \"from\", type = \"panel fuse\", rating = \"15 A\"",
        "name = \"pump\"\nfrom = \"panel\"\nto = \"Water pump\"\nlength = \"3 m\"\nconductor = "
        "\"2.5 mm2\"\nprotection = [{ end = \"from\", type = \"panel fuse\", rating = \"" +
            rating + "\"");
    return one(checked_text(text), "far-fault-clears", "run/pump/protection/0");
  };
  // R at 10 % charge: 61.7/47.8 · 195/61.7 = 4.08 of 60 mΩ is 245 mΩ at 10 °C (older a little more),
  // and half as much again at the 5 °C of July: 12.8 V drive some 25 A, at 10 °C some 34 A. A device of
  // 20 A opens for sure from 27 A, and the heat of 34 A ends below 250 °C even for good (I_z some 19 A:
  // 40 + 50 · 3.2). One of 60 A opens for neither.
  const Finding cold = at("20 A"), both = at("60 A");
  CHECK(cold.verdict == Verdict::caution);
  CHECK(cold.of_safety);
  CAPTURE(cold.message);
  CHECK(says(cold.message, "in a cold that was not read"));
  CHECK(both.verdict == Verdict::fail);
}

}  // namespace
}  // namespace housepower::checks::checks_short_circuits

// SPDX-License-Identifier: Apache-2.0
// What stands first in the answers of cable, wiring and size, so that nobody has to look for it.
#include <doctest/doctest.h>

#include <algorithm>
#include <sstream>
#include <vector>

#include "support/json_answer.hpp"

namespace cli_at_a_glance {
namespace {

using namespace housepower::test;

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}
bool has(const std::string& text, std::string_view part) { return text.find(part) != text.npos; }
std::size_t times(const std::string& text, std::string_view part) {
  std::size_t n = 0;
  for (auto at = text.find(part); at != text.npos; at = text.find(part, at + part.size())) ++n;
  return n;
}
/// The first line that begins so, after the blanks; empty where none does.
std::string line_with(const std::string& text, const std::string& begins) {
  for (const auto& line : lines_of(text))
    if (line.rfind("  " + begins, 0) == 0) return line;
  return "";
}

const std::string one_cable = "cable --current '20 A' --length '4 m'";
const std::string small_van = "wiring examples/faulty/base.toml";
const std::string no_pack = "size examples/sizing/pellibri.toml --keep inverter --keep controller "
                            "--keep 'drive charger' --set sizing/most_modules=1 --set "
                            "sizing/most_batteries=1 --stay '7 d'";

}  // namespace

TEST_CASE("cable says size, device and drop in its first seven lines, as assumed and at worst") {
  const auto out = run_program(one_cable).out;
  const auto lines = lines_of(out);
  REQUIRE(lines.size() > 7);
  std::string top;
  for (std::size_t i = 0; i < 7; ++i) top += lines[i] + "\n";
  // 10 mm² by the drop, 25 mm² at worst by the ampacity: as the JSON has them
  const Json json = json_of(one_cable);
  for (const std::string& size :
       {json["smallest"].get<std::string>(), json["at_worst"]["smallest"].get<std::string>()})
    CHECK(has(line_with(top, "size"), size));
  CHECK(has(line_with(top, "size"), "drop; at worst ampacity"));
  CHECK(has(line_with(top, "device"), "at most 57.9 A"));  // 4F2 76 A · √(45/60) · 0.88
  CHECK(has(line_with(top, "drop"), "at most 0.36 V (3 %)"));
}

TEST_CASE(
    "cable tells a caution once, by what holds at worst only, and where it passes in one line") {
  const auto out = run_program(one_cable).out;
  CHECK(times(out, "run \"cable\" carries") == 1);
  CHECK(has(out, "Rules that pass: voltage-collapse."));
  CHECK(times(out, "--circuits-together") == 1);
  const auto all = run_program(one_cable + " --working").out;
  CHECK(has(all, "pass  voltage-collapse"));
}

TEST_CASE("wiring shows one table, with what governs each figure, of the heaviest case") {
  const auto ran = run_program(small_van);
  CHECK(ran.exit == 0);
  CHECK(has(ran.out, "Case \"evening\""));  // the only one that draws for the cooler and the pump
  for (const char* head : {"I_B, A", "I_n, A", "I_z, A", "drop, V"}) CHECK(has(ran.out, head));
  const auto cooler = line_with(ran.out, "cooler");
  CHECK(has(cooler, "panel fuse"));
  CHECK(has(cooler, "6 mm2"));
  CHECK(has(cooler, "terminals 0.84"));  // √((75 − 40)/(90 − 30)) of 75 °C beside 0.91 of 90 °C
  CHECK(has(ran.out, "everything-on; for \"sun\", \"roof\", charging: sun"));
  // what the rule allows, beside what is lost: 5 % of 12 V
  CHECK(has(ran.out, "allowed, V"));
  CHECK(has(line_with(ran.out.substr(ran.out.find("\nConsumers\n")), "Cooler"), "0.6"));
  CHECK_FALSE(has(ran.out, "\nDevices\n"));
  CHECK_FALSE(has(ran.out, "\nHeadroom\n"));
  const auto full = run_program(small_van + " --full").out;
  for (const char* title : {"\nDevices\n", "\nFaults\n", "\nHeadroom\n", "\nArrays\n"})
    CHECK(has(full, title));
  CHECK(json_of(small_van)["heaviest_case"] == "evening");
}

TEST_CASE("wiring shows the case that is asked for, and knows its names") {
  const std::string van = "wiring examples/pellibri.toml";
  const Json json = json_of(van);
  for (const Json& in : json["cases"]) {
    if (in["name"] != "cold morning") continue;
    const auto ran = run_program(van + " --case 'cold morning'");
    CHECK(ran.exit == 0);
    CHECK(has(ran.out, "Case \"cold morning\": the bank gives 17.1 A"));
    CHECK(in["bank_current_A"].get<double>() == doctest::Approx(17.1).epsilon(0.003));
  }
  const auto wrong = run_program(van + " --case 'cold mornign'");
  CHECK(wrong.exit == 2);
  CHECK(has(wrong.err, "did you mean \"cold morning\"?"));
}

TEST_CASE("wiring never passes over a case without an operating point") {
  const std::string van = "wiring examples/faulty/voltage-collapse.toml";
  CHECK(has(run_program(van).out, "No operating point in case \"evening\": "));
  CHECK(has(run_program(van + " --case evening").out, "Case \"evening\": no operating point"));
}

TEST_CASE("size that finds none says which promise fails, by how much and what to add first") {
  const auto ran = run_program(no_pack);
  CHECK(ran.exit == 1);
  const Json nearest = json_of(no_pack, 1)["nearest"];
  REQUIRE(nearest.is_object());
  bool broken = false;
  for (const Json& p : nearest["promises"]) {
    const double asked = p["asked_d"], kept = p["kept_d"], lacks = p["short_d"];
    CHECK(lacks == doctest::Approx(std::max(0.0, asked - kept)));
    broken = broken || lacks > 0.0;
  }
  CHECK(broken);
  REQUIRE_FALSE(nearest["add_first"].empty());
  const auto first = nearest["add_first"][0]["change"].get<std::string>();
  CHECK(has(ran.out, "First: " + first));
  CHECK(has(ran.out, "short of the promised"));
  const std::string found =
      "size examples/sizing/pellibri.toml --keep inverter --keep controller --keep "
      "'drive charger' --set sizing/most_modules=2 --stay '3 d'";
  CHECK(json_of(found)["nearest"].is_null());
}

TEST_CASE("size warns once, and in JSON too") {
  // far from any town of the climate table
  const std::string far = no_pack + " --at '-50,100,730 m'";
  CHECK(times(run_program(far).err, "its climate says little about this place") == 1);
  const Json json = json_of(far, 1);
  REQUIRE(json["warnings"].size() == 1);
  CHECK(json["warnings"][0]["severity"] == "warning");
  CHECK(json_of(no_pack, 1)["warnings"].empty());
}

}  // namespace cli_at_a_glance

// SPDX-License-Identifier: Apache-2.0
// What one profile asks and another does not, on the sound design; and a profile of a user's own.
#include "examples.hpp"
#include "support/command.hpp"

namespace checks_profiles {
namespace {

using namespace examples;
using housepower::test::run_program;

/// The findings of one rule, the worst first.
std::vector<Finding> of_rule(const Checked& all, std::string_view rule) {
  std::vector<Finding> found;
  for (const Finding& f : all.findings)
    if (f.rule == rule) found.push_back(f);
  return found;
}

bool says(const Finding& f, std::string_view words) {
  return f.message.find(words) != std::string::npos;
}

}  // namespace

TEST_CASE(
    "a small conductor's device is held to the profile's limit, whatever the conductor bears") {
  // NEC 240.4(D), a wire maker's size table: 20 A for 12 AWG. Free in 30 °C it bears more.
  const std::vector<std::string> sets{
      "rules/profile=nec-552-park-trailer", "rules/inspected=[]",
      "run/cooler/conductor=12 awg",        "run/cooler/protection/0/rating=25 A",
      "run/cooler/ambient=30 °C",           "run/cooler/laid=free"};
  bool seen = false;
  for (const Finding& f : of_rule(checked(faulty("base"), sets), "fuse-below-conductor"))
    if (f.subject == "run/cooler/protection/0" && says(f, "whatever it carries")) {
      seen = true;
      CHECK(f.verdict == Verdict::fail);
      CHECK(f.limit == Number(20.0 * ampere));
    }
  CHECK(seen);
  auto lower = sets;
  lower[3] = "run/cooler/protection/0/rating=20 A";
  for (const Finding& f : of_rule(checked(faulty("base"), lower), "fuse-below-conductor"))
    if (f.subject == "run/cooler/protection/0") CHECK(f.verdict == Verdict::pass);
}

TEST_CASE("a profile of one's own stands in a folder of tables, and is judged by") {
  namespace fs = std::filesystem;
  const fs::path own_tables = fs::temp_directory_path() / "housepower-own-profile";
  fs::remove_all(own_tables);
  fs::create_directories(own_tables / "rules");
  const auto write = [&](const std::string& text) {
    std::ofstream(own_tables / "rules" / "workshop.toml") << text;
  };
  std::string own = *from_disk(HOUSEPOWER_SOURCE_DIR "/tables/rules/au-nz-caravan.toml");
  own.replace(own.find("au-nz-caravan"), 13, "workshop");
  const std::string habit = "share = \"5 %\"";
  own.replace(own.find(habit), habit.size(), "share = \"0.1 %\", fails = true");
  write(own);
  const std::string command =
      "check examples/faulty/base.toml --set rules/profile=workshop --tables '" +
      own_tables.string() + "'";
  const auto ran = run_program(command);
  CHECK(ran.exit == 1);
  CHECK(ran.out.find("fail  drop: appliance/Cooler") != std::string::npos);
  CHECK(ran.out.find("0.1 %") != std::string::npos);

  // No profile that was read limits the clearing time; one's own may.
  write("clearing_time = \"0.01 s\"\n" + own);
  CHECK(run_program(command).out.find("profile workshop asks for") != std::string::npos);

  // A mistake in it is told at its line and column, with what was expected.
  const std::string loading = "loading = \"75 %\"";
  const std::size_t at = own.find(loading);
  own.replace(at, loading.size(), "loading = \"75 A\"");
  write(own);
  const auto wrong = run_program(command);
  CHECK(wrong.exit == 3);
  const auto line = 1 + std::count(own.begin(), own.begin() + std::ptrdiff_t(at), '\n');
  CHECK_MESSAGE(wrong.err.find("rules/workshop.toml:" + std::to_string(line) + ":11") !=
                    std::string::npos,
                wrong.err);
  fs::remove_all(own_tables);
}

TEST_CASE("a stub of 8.5 in is too long for the craft profile, and sheathed it is not") {
  // A surveyor's case: 8 to 9 in against the 7 in of ABYC E-11; accepted when sheathed, for then
  // 72 in from the battery hold.
  const std::string at = "run/bank to panel/protection/0";
  std::vector<std::string> sets{"rules/profile=small-craft-abyc", "rules/inspected=[]",
                                "bank/quantity=1", at + "/distance=8.5 in"};
  const auto verdict = [&] {
    for (const Finding& f : of_rule(checked(faulty("base"), sets), "fuse-near-source"))
      if (f.subject == at) return f.verdict;
    return Verdict::not_checked;
  };
  CHECK(verdict() == Verdict::fail);
  sets.push_back(at + "/enclosed=true");
  CHECK(verdict() == Verdict::pass);
}

}  // namespace checks_profiles

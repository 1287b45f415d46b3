// SPDX-License-Identifier: Apache-2.0
// Wiring and energy as a program asks for them.
#include "housepower/answers/wiring.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "answers/given.hpp"
#include "housepower/answers/energy.hpp"

namespace answers_wiring {
namespace {

using namespace housepower;
using given_examples::given;
using given_examples::shipped_file;

FileReader disk() {
  return [](std::string_view path) { return FileContent(examples::from_disk(path)); };
}
answers::WiringReport wired(const design::Opened& o, const checks::Checked& checked,
                            const answers::WiringAsked& asked) {
  Diagnostics problems;
  auto r = answers::wiring_of(given(o, shipped_file("van")), checked, asked, disk(), problems);
  REQUIRE(r.has_value());
  return *std::move(r);
}
void last_first(int count, const std::function<void(int)>& f) {
  for (int i = count; i-- > 0;) f(i);
}

}  // namespace

TEST_CASE("the heaviest case draws most from the bank of those that are judged") {
  const auto opened = examples::opened(shipped_file("marrowick"));
  const auto checked = examples::checked(opened);
  const auto* heaviest = answers::heaviest_case(checked.wiring);
  REQUIRE(heaviest);
  CHECK(heaviest->load_case.judged);
  for (const auto& in : checked.wiring.cases)
    if (in.load_case.judged) CHECK(in.bank_current <= heaviest->bank_current);
  CHECK(answers::case_named(checked.wiring, heaviest->load_case.name) == heaviest);
  CHECK_FALSE(answers::case_named(checked.wiring, "no such case"));
}

TEST_CASE("a case without an operating point is not the heaviest, whatever it asks for") {
  const auto opened = examples::opened(examples::faulty("voltage-collapse"));
  const auto checked = examples::checked(opened);
  const auto* evening = answers::case_named(checked.wiring, "evening");
  REQUIRE(evening);
  CHECK_FALSE(evening->solved());
  const auto* heaviest = answers::heaviest_case(checked.wiring);
  REQUIRE(heaviest);
  CHECK(heaviest->solved());
}

TEST_CASE("wiring is answered with headroom and without, the same conductors either way") {
  auto opened = examples::opened(examples::faulty("base"));
  opened.document.run.front().conductor.reset();  // a choice is left open
  const auto checked = examples::checked(opened);
  const auto with = wired(opened, checked, {true}), without = wired(opened, checked, {false});
  CHECK_FALSE(with.headroom.empty());
  CHECK_FALSE(with.what_if.empty());
  CHECK(without.headroom.empty());
  CHECK(without.what_if.empty());
  REQUIRE(with.chosen.choices.size() == 1);
  REQUIRE(without.chosen.choices.size() == 1);
  CHECK_FALSE(with.chosen.choices[0].conductor.empty());
  CHECK(with.chosen.choices[0].conductor == without.chosen.choices[0].conductor);
}

TEST_CASE("energy has each month over years of weather, in whatever order they are simulated") {
  const auto opened = examples::opened(shipped_file("pellibri"));
  const auto checked = examples::checked(opened);
  const answers::CheckedDesign of{opened.design, checked, "digest"};
  const auto a = answers::energy_of(of), b = answers::energy_of(of, last_first);
  REQUIRE(a.years.size() == 12);
  REQUIRE(b.years.size() == 12);
  for (std::size_t m = 0; m < 12; ++m) {
    CHECK(a.years[m].month == int(m));
    CHECK(a.years[m].unserved == b.years[m].unserved);
    CHECK(a.years[m].worst_run == b.years[m].worst_run);
  }
}

TEST_CASE("without a bank there are no years to tell of, and no fault") {
  const auto opened = examples::opened(HOUSEPOWER_SOURCE_DIR "/tests/cli/equal-run.toml");
  REQUIRE_FALSE(opened.design->bank.has_value());
  const auto checked = examples::checked(opened);
  CHECK(answers::energy_of({opened.design, checked, ""}).years.empty());
}

}  // namespace answers_wiring

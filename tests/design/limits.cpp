// SPDX-License-Identifier: Apache-2.0
// What is beyond our own limit is refused in words, at once.
#include "van.hpp"

using namespace van;

namespace {

std::string with_runs(std::size_t more) {
  std::string all = text;
  for (std::size_t i = 0; i < more; ++i)
    all += "[[run]]\nname = \"spare " + std::to_string(i) +
           "\"\nfrom = \"bank\"\nto = \"panel\"\nlength = \"2 m\"\n";
  return all;
}
std::string with_lamps(std::size_t more) {
  std::string all = text;
  for (std::size_t i = 0; i < more; ++i)
    all += "[[appliance]]\nname = \"lamp " + std::to_string(i) + "\"\npower = \"5 W\"\n";
  return all;
}

}  // namespace

TEST_CASE(
    "a design of too many runs or places is refused with the limit, its number and a way out") {
  struct Row {
    std::string text, key, says;
  };
  const std::size_t most = design::largest_design;
  for (const Row& row :
       {Row{with_runs(most), "run", " runs; no more than 2500 are calculated"},
        Row{with_lamps(most), "node", " nodes and appliances; no more than 2500"}}) {
    const Tried tried = opened(row.text);
    CHECK_FALSE(tried.opened);
    REQUIRE(tried.diagnostics.all.size() == 1);
    const auto& said = tried.diagnostics.all.front();
    CHECK(said.key == row.key);
    CHECK_MESSAGE(said.message.find(row.says) != std::string::npos, said.message);
    CHECK(said.hint.find("divide it into designs of their own") != std::string::npos);
  }
}

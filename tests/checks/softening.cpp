// SPDX-License-Identifier: Apache-2.0
// Softening asks the rules of the kindest design again, without the longest calculations of the
// wiring unless a rule that needs them found something. No other rule may read what is left out: it
// would see nothing, and a fail might become a caution.
#include <doctest/doctest.h>

#include "checks/examples.hpp"
#include "housepower/wiring/assess_network.hpp"

namespace checks_softening {

using namespace examples;

TEST_CASE("only rules that say so read what the short assessment of the wiring leaves out") {
  std::size_t asked = 0, of_bank = 0;
  for (const auto& file : all()) {
    const auto one = opened(file);
    const auto energy = energy::assess(one.design);
    const auto cases = checks::load_cases(one.design, energy);
    const auto whole = wiring::assess(one.design, cases);
    const auto part = wiring::assess_network(one.design, cases);
    const energy::Outlook outlook;
    for (const auto* rule : checks::rules()) {
      const auto a = rule->check(*rule, {one.design, energy, whole, outlook});
      const auto b = rule->check(*rule, {one.design, energy, part, outlook});
      bool same = a.size() == b.size();
      for (std::size_t i = 0; same && i < a.size(); ++i)
        same = a[i].verdict == b[i].verdict && a[i].message == b[i].message &&
               a[i].subject == b[i].subject && double(a[i].margin) == double(b[i].margin);
      CAPTURE(file);
      CAPTURE(rule->name);
      if (rule->needs == checks::Needs::bank) of_bank += !same;
      else CHECK(same);
      ++asked;
    }
  }
  CHECK(asked > 1000);
  CHECK(of_bank > 0);  // or the short one leaves nothing out
}

}  // namespace checks_softening

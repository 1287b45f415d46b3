// SPDX-License-Identifier: Apache-2.0
// The sign tables as laws on random designs: a sound example, each of its runs, loads and counts
// changed at random, then one parameter moved in one direction, by a step and to its end.
#include <rapidcheck.h>

#include "checks/moving.hpp"
#include "wiring/networks.hpp"

namespace laws_sign_tables {

using namespace housepower;
using namespace housepower::checks;
using namespace housepower::checks::test;
using wiring::test::Random;

namespace {

std::vector<std::string> random_changes(Random& random, const design::Opened& one) {
  const auto& d = *one.design;
  std::vector<std::string> sets;
  const auto add = [&](std::vector<std::string> more) {
    for (std::string& set : more) sets.push_back(std::move(set));
  };
  for (const auto& run : d.runs) {
    sets.push_back(
        fmt::format("run/{}/length={} m", run.name, run.length.value() * random.between(0.4, 1.6)));
    for (const Parameter p : {Parameter::area, Parameter::ambient, Parameter::circuits_together})
      if (random.below(4) == 0) add(moved(one, run, {p, random.below(2) == 1}));
  }
  for (const auto& a : d.appliances)
    sets.push_back(
        fmt::format("appliance/{}/power={} W", a.name, a.power.value() * random.between(0.4, 1.6)));
  sets.push_back(fmt::format("bank/quantity={}", d.bank->parallel + random.below(2)));
  return sets;
}

/// The small one more often: it takes less time.
constexpr std::string_view files[] = {"faulty/base.toml", "faulty/base.toml", "faulty/base.toml",
                                      "marrowick.toml", "pellibri.toml"};

}  // namespace

TEST_CASE("sign tables on random designs") {
  Held held;
  CHECK(rc::check("no parameter moved against its sign makes a rule pass", [&] {
    Random random(*rc::gen::arbitrary<unsigned long>());
    const std::string file =
        examples::folder + std::string(files[random.below(int(std::size(files)))]);
    const auto sets = random_changes(random, examples::opened(file));
    const auto one = tried(file, sets);
    RC_PRE(one.has_value());
    const Parameter parameter = parameters[random.below(int(std::size(parameters)))];
    held.broken.clear();
    const auto as_it_was = verdicts_of(examples::checked(*one));
    for (const bool larger : {false, true}) {
      auto before = as_it_was;
      auto now = one;
      auto changes = sets;
      for (const Reach reach : {Reach::step, Reach::end}) {
        const Move move{parameter, larger, reach};
        for (std::string& set : moved(*now, move)) changes.push_back(std::move(set));
        now = tried(file, changes);
        if (!now) break;
        auto after = verdicts_of(examples::checked(*now));
        hold(before, after, move, held);
        before = std::move(after);
      }
      RC_LOG() << fmt::format("{} {}\n", file, fmt::join(changes, " --set "));
    }
    RC_ASSERT(held.broken == std::vector<std::string>{});
  }));
  int worsened = 0, bettered = 0;
  for (const auto& entry : held.counts) {
    worsened += entry.second.worsened;
    bettered += entry.second.bettered;
  }
  CHECK(worsened > 100);
  CHECK(bettered > 1000);
}

}  // namespace laws_sign_tables

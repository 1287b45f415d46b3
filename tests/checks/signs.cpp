// SPDX-License-Identifier: Apache-2.0
// Law of the sign table: a parameter moved in a rule's bad direction, by a step or to the end of its
// range, never turns what that rule finds beyond its limit into a pass, nor a fail into a
// not-checked or into nothing; in its good direction never a pass into what is beyond.
#include "moving.hpp"

namespace housepower::checks::checks_signs {
namespace {

using namespace test;

/// Every parameter, both ways, by a step and to the end.
std::vector<Move> moves() {
  std::vector<Move> all;
  for (const Parameter parameter : parameters)
    for (const bool larger : {false, true})
      for (const Reach reach : {Reach::step, Reach::end}) all.push_back({parameter, larger, reach});
  return all;
}

TEST_CASE(
    "no parameter moved in a rule's bad direction makes that rule pass, nor the other way round") {
  Held held;
  for (const std::string& file : examples::all()) {
    if (file.find("/faulty/") == std::string::npos) continue;
    const Opened one = examples::opened(file);
    const WorstOfEach before = verdicts_of(examples::checked(one));
    for (const Move& move : moves()) {
      const auto sets = moved(one, move);
      const auto other = sets.empty() ? std::nullopt : tried(file, sets);
      if (!other) continue;
      CAPTURE(file);
      held.broken.clear();
      hold(before, verdicts_of(examples::checked(*other)), move, held);
      for (const std::string& broken : held.broken) FAIL_CHECK(broken);
    }
  }
  for (const Rule* rule : rules())  // each claim of the table was put to the test
    for (const Sign& sign : rule->signs) {
      CAPTURE(rule->name);
      CAPTURE(names[std::size_t(sign.parameter)]);
      const Count& h = held.counts[{std::string(rule->name), sign.parameter}];
      if (sign.when_larger == Effect::none) CHECK(h.untouched > 0);
      else if (sign.when_larger != Effect::not_monotone) {
        CHECK(h.worsened > 0);
        CHECK(h.bettered > 0);
      }
    }
}

/// Of the sound base, where no verdict changes, the margins show the direction.
TEST_CASE("a parameter moved in a rule's bad direction leaves that rule no more room") {
  const std::string file = examples::faulty("base");
  const Opened one = examples::opened(file);
  const auto margins = [](const Checked& checked) {
    std::map<std::string, double> all;
    for (const Finding& f : checked.findings)
      if (f.measured)
        all[std::string(f.rule) + ": " + f.subject.text() + " [" + f.in_case + "]"] =
            f.margin.value();
    return all;
  };
  const auto before = margins(examples::checked(one));
  for (const Parameter parameter : parameters)
    for (const bool larger : {false, true}) {
      const auto after = margins(examples::checked(file, moved(one, {parameter, larger})));
      int changed = 0;
      for (const auto& entry_before : before) {
        const std::string& finding = entry_before.first;
        const double was = entry_before.second;
        const auto now = after.find(finding);
        const Effect effect = effect_on(finding.substr(0, finding.find(':')), parameter);
        if (now == after.end() || effect == Effect::not_monotone) continue;
        CAPTURE(finding);
        CAPTURE(names[std::size_t(parameter)]);
        CAPTURE(larger);
        CAPTURE(was);
        CAPTURE(now->second);
        const double hair = 1e-9 * (1.0 + std::abs(was));
        if (effect == Effect::none) CHECK(std::abs(now->second - was) <= hair);
        else if ((effect == Effect::worse) == larger) CHECK(now->second <= was + hair);
        else CHECK(now->second >= was - hair);
        changed += std::abs(now->second - was) > hair;
      }
      CAPTURE(names[std::size_t(parameter)]);
      // Fewer than one circuit, module or two batteries there cannot be.
      const bool at_its_end =
          !larger && (parameter == Parameter::circuits_together || parameter == Parameter::array);
      if (!at_its_end) CHECK(changed > 0);
    }
}

}  // namespace
}  // namespace housepower::checks::checks_signs

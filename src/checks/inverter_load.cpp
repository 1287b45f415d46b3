// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"
#include "housepower/wiring/starting.hpp"

namespace housepower::checks {
namespace {

std::vector<Finding> check_load(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (std::size_t i = 0; i < e.design->inverters.size(); ++i) {
    const auto& inverter = e.design->inverters[i];
    for (const auto& in : e.wiring.cases) {
      if (!in.load_case.judged) continue;
      Working working;
      const Power asked = wiring::asked_together(e.design, in.load_case, {int(i)}, e.kept(working));
      if (asked <= 0.0 * watt) continue;
      Finding f = judge(rule, subject_of(e.design, inverter).with("rating"), asked, Bound::at_most,
                        {inverter.rating, as_stated}, std::move(working));
      f.in_case = in.load_case.name;
      const auto [draws, gives] = figures(f);
      f.message = "what runs together draws " + draws + " from " + quoted(inverter.name) +
                  "; it gives " + gives + " continuously";
      if (f.verdict != Verdict::pass)
        f.cure =
            "an inverter that gives " + print_at_least(asked) + " continuously, or fewer at once";
      findings.push_back(std::move(f));
    }
  }
  return findings;
}

constexpr Sign inverter_load_signs[] = {{Parameter::load, Effect::worse}};

}  // namespace

extern const Rule inverter_load{
    .name = "inverter-load",
    .asks = "Is each inverter's continuous rating enough for everything that runs on it together "
            "in each load case?",
    .why =
        "An overloaded inverter switches off, and with it all that it feeds; "
        "currents and losses are counted with its rating at most, so nothing else here shows it.",
    .cure = "A larger inverter, or fewer of its appliances at once.",
    .source = {SourceKind::supplier, "the inverter's maker",
               "continuous rating as the design states it"},
    .signs = inverter_load_signs,
    .concern = Concern::service,
    .check = check_load};

}  // namespace housepower::checks

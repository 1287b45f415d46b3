// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"

namespace housepower::checks {
namespace {

std::vector<Finding> list_items(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  const auto& done = e.design->inspected;
  for (const auto& one : e.design->profile->inspection) {
    const bool ticked = std::find(done.begin(), done.end(), one.item) != done.end();
    Finding f = state(
        rule, Subject(Subject::Kind::rules).with("inspected"),
        ticked ? Verdict::pass : Verdict::not_checked,
        one.item + (ticked ? ": inspected, as the design says" : ": only a person can see this"),
        one.source);
    f.in_case = one.item;
    if (!ticked) f.cure = "look at it in the van, then add it to `inspected` under [rules]";
    findings.push_back(std::move(f));
  }
  return findings;
}

constexpr Sign inspection_signs[] = {{Parameter::length, Effect::none}};

}  // namespace

extern const Rule inspection{.name = "inspection",
                             .asks = "Has a person looked at what no program can see?",
                             .why = "Sealing, venting, clearances, labels and the mains-voltage "
                                    "side decide as much as any figure.",
                             .cure = "Inspect the item in the vehicle and tick it in the design.",
                             .source = {SourceKind::common_practice,
                                        "the profile's inspection list",
                                        "each item names its own source"},
                             .signs = inspection_signs,
                             .concern = Concern::service,
                             .about = About::inspection,
                             .check = list_items};

}  // namespace housepower::checks

// SPDX-License-Identifier: Apache-2.0
// Beside the battery at which the bank is tapped a link carries all batteries on that side.
#include "housepower/wiring/links.hpp"

#include <cmath>

#include "inside.hpp"

namespace housepower::wiring {

using namespace inside;

namespace {
Current magnitude(Current i) { return Current::from_value(std::abs(i.value())); }
}  // namespace

Current current_in_links(const design::Design& d, const Assessment& a, design::Pole pole,
                         Working* working) {
  const int tap = d->bank->takeoff[pole == design::Pole::outgoing ? 0 : 1];
  std::vector<Term<Current>> most;
  Current in_all{};
  for (const CaseResult& in : a.cases) {
    if (in.load_case.judged) continue;
    for (const bool above : {false, true}) {
      std::vector<Term<Current>> terms;
      for (const BatteryInCase& b : in.batteries)
        if (above ? b.number > tap : b.number < tap)
          terms.push_back({"battery " + std::to_string(b.number), magnitude(b.current)});
      const Current together = sum<Current>(nullptr, "", "", terms);
      if (together <= in_all) continue;
      in_all = together;
      most = std::move(terms);
    }
  }
  return sum(working, "I_l", "largest steady current of a link", most);
}

Current current_in_leads(const Assessment& a, Working* working) {
  std::vector<Term<Current>> busiest;
  for (const CaseResult& in : a.cases)
    for (const BatteryInCase& b : in.batteries)
      if (!in.load_case.judged)
        busiest.push_back({"battery " + std::to_string(b.number) + ", " + in.load_case.name,
                           magnitude(b.current)});
  return largest(working, "I_b", "current of the busiest battery, from the solution of the network",
                 busiest);
}

AmpacityAnswer ampacity_of_lead(const design::Design& d, const Lead& lead, Working* working) {
  const auto bank = d->bank->post;
  Run like;
  like.from = like.to = bank;
  like.length = lead.length;
  design::resolved::Section piece{lead.length, {}, design::Laid::free, 1};
  bool any = false;
  for (const Run& run : d->runs) {
    if (run.from != bank && run.to != bank) continue;
    if (!any || run.insulation < like.insulation) {
      like.insulation = run.insulation;
      like.material = run.material;
    }
    const auto& there = run.from == bank ? run.sections.front() : run.sections.back();
    piece.ambient = any ? std::max(piece.ambient, there.ambient) : there.ambient;
    any = true;
  }
  if (!any) return NoAmpacity{"no run leaves the bank after which it could be judged"};
  like.sections = {piece};
  return ampacity_of(d, like, lead.conductor, design::Pole::outgoing, working);
}

}  // namespace housepower::wiring

// SPDX-License-Identifier: Apache-2.0
// Beside the battery at which the bank is tapped a link carries all batteries on that side.
#include "housepower/wiring/links.hpp"

#include <cmath>

#include "../inside.hpp"

namespace housepower::wiring {

using namespace inside;

namespace {
/// Batteries in the middle of their charge, where their resistance is meant.
BankLoad half_full() {
  BankLoad load;
  load.temperature = celsius(25.0);
  load.from = 0.5;
  return load;
}

/// What each battery gives of one ampere: the lower its resistance, the more the links decide; the
/// higher, the more evenly they give and the more flows in the links.
std::vector<std::vector<Current>> battery_shares(const design::Design& d, int open) {
  const Bank& bank = *d->bank;
  Bank even = bank;
  if (bank.high) even.low = bank.high;
  const Current one = Current::from_value(1.0);
  return {shares_of(d, bank, one, half_full(), open), shares_of(d, even, one, half_full(), open)};
}

std::vector<Term<Ratio>> beyond(const std::vector<Current>& parts, int tap, bool above) {
  std::vector<Term<Ratio>> terms;
  for (int number = 1; number <= int(parts.size()); ++number)
    if (above ? number > tap : number < tap)
      terms.push_back(
          {"battery " + std::to_string(number), Ratio(std::abs(at(parts, number - 1).value()))});
  return terms;
}

/// The largest sum that one of `sums` makes of the batteries' parts, over the states asked for.
template <class Sums>
LinkShare largest_share(const design::Design& d, Batteries which, const Sums& sums,
                        Working* working) {
  LinkShare most;
  std::vector<Term<Ratio>> terms;
  const bool all = which == Batteries::all_in;
  for (int open = all ? 0 : 1; open <= (all ? 0 : d->bank->parallel); ++open)
    for (const std::vector<Current>& parts : battery_shares(d, open))
      for (std::vector<Term<Ratio>>& one : sums(parts)) {
        const Ratio share = sum<Ratio>(nullptr, "", "", one);
        if (share <= most.share) continue;
        most = {share, open};
        terms = std::move(one);
      }
  (void)sum(working, "s", "part of the bank's current, from the solution of the bank", terms);
  return most;
}
}  // namespace

LinkShare share_in_links(const design::Design& d, design::Pole pole, Batteries which,
                         Working* working) {
  const int tap = d->bank->takeoff[pole == design::Pole::outgoing ? 0 : 1];
  return largest_share(
      d, which,
      [&](const std::vector<Current>& parts) {
        return std::vector{beyond(parts, tap, false), beyond(parts, tap, true)};
      },
      working);
}

LinkShare share_in_leads(const design::Design& d, Batteries which, Working* working) {
  return largest_share(
      d, which,
      [](const std::vector<Current>& parts) {
        std::vector<std::vector<Term<Ratio>>> each;
        for (std::size_t i = 0; i < parts.size(); ++i)
          each.push_back({{"battery " + std::to_string(i + 1), Ratio(std::abs(parts[i].value()))}});
        return each;
      },
      working);
}

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

std::optional<LieOfLeads> lie_of_leads(const design::Design& d) {
  const auto bank = d->bank->post;
  std::optional<LieOfLeads> lie;
  for (const Run& run : d->runs) {
    if (run.from != bank && run.to != bank) continue;
    const auto& there = run.from == bank ? run.sections.front() : run.sections.back();
    if (!lie) lie = {run.insulation, there.ambient, run.material};
    if (run.insulation < lie->insulation)
      lie->insulation = run.insulation, lie->material = run.material;
    lie->ambient = std::max(lie->ambient, there.ambient);
  }
  return lie;
}

AmpacityAnswer ampacity_of_lead(const design::Design& d, const Lead& lead, Working* working) {
  const auto bank = d->bank->post;
  Run like;
  like.from = like.to = bank;
  like.length = lead.length;
  design::resolved::Section piece{lead.length, {}, design::Laid::free, 1, true};
  const auto lie = lie_of_leads(d);
  if (!lie) return NoAmpacity{"no run leaves the bank after which it could be judged"};
  like.insulation = lie->insulation;
  like.material = lie->material;
  piece.ambient = lie->ambient;
  like.sections = {piece};
  return ampacity_of(d, like, lead.conductor, design::Pole::outgoing, working);
}

}  // namespace housepower::wiring

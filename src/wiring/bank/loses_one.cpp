// SPDX-License-Identifier: Apache-2.0
// One battery of the bank opens, by its own switch or device, while the others carry on.
#include "../inside.hpp"

namespace housepower::wiring {

using namespace inside;

namespace {

const CaseResult* heaviest(const Assessment& a, bool start) {
  if (!start) return heaviest_case(a);
  const CaseResult* found = nullptr;
  for (const CaseResult& in : a.cases) {
    const CaseResult* c = in.borne();
    if (in.load_case.judged && in.load_case.starting && c && c->bank_current.value() > 1e-6 &&
        (!found || c->bank_current > found->bank_current))
      found = c;
  }
  return found;
}

/// The number of the battery without which the busiest of the others gives most.
int worst_to_lose(const design::Design& d, const CaseResult& c, const BankLoad& load) {
  int worst = 1;
  Current most{};
  for (int lost = 1; lost <= d->bank->parallel; ++lost) {
    const auto shares = shares_of(d, *d->bank, c.bank_current, load, lost);
    const Current busiest = *std::max_element(shares.begin(), shares.end());
    if (busiest <= most * (1.0 + 1e-9)) continue;
    most = busiest;
    worst = lost;
  }
  return worst;
}

std::vector<std::string> starved_by(const design::Design& d, const CaseResult& before,
                                    const CaseResult& after) {
  std::vector<std::string> names;
  for (const Consumer& k : drawing(d)) {
    if (!runs_in(d, before.load_case, k)) continue;
    const PostId post = post_of(d, k);
    const Voltage lowest = lowest_voltage(d, k);
    if (before.post[post] >= lowest && after.post[post] < lowest) names.push_back(name_of(d, k));
  }
  return names;
}

}  // namespace

std::vector<LosesOne> inside::loses_one(const design::Design& d, const Assessment& a,
                                        Solvable& network) {
  std::vector<LosesOne> all;
  if (!d->bank || d->bank->parallel < 2) return all;
  for (const bool start : {false, true}) {
    const CaseResult* before = heaviest(a, start);
    if (!before) continue;
    const BankLoad load = load_of_case(d, *before);
    LosesOne& l = all.emplace_back();
    l.in_case = before->load_case.name;
    l.at_start = start;
    l.lost = worst_to_lose(d, *before, load);
    l.before = before->post[d->bank->post];
    LoadCase without = before->load_case;
    without.battery_open = l.lost;
    const CaseResult after = solve_case(d, a, network, without, {});
    l.collapsed = after.collapsed;
    if (!after.solved()) continue;
    l.after = after.post[d->bank->post];
    l.starved = starved_by(d, *before, after);
    const auto shares = shares_of(d, *d->bank, after.bank_current, load, l.lost);
    for (int i = 1; i <= d->bank->parallel; ++i)
      if (i != l.lost)
        l.others.push_back({i, at(shares, i - 1), at(shares, i - 1) / after.bank_current});
  }
  return all;
}

Current busiest_of(const LosesOne& l, Working* working) {
  std::vector<Term<Current>> terms;
  for (const auto& b : l.others)
    terms.push_back({"battery " + std::to_string(b.number), b.current});
  return largest(working, "I_b", "current of the busiest of the others, from the solution", terms);
}

}  // namespace housepower::wiring

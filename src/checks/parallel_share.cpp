// SPDX-License-Identifier: Apache-2.0
#include "as_found.hpp"
#include "housepower/wiring/sharing.hpp"

namespace housepower::checks {
namespace {

using wiring::Sharing;

constexpr Ratio most_uneven = 1.2;
constexpr Source uneven_source{SourceKind::from_memory, "judgement",
                               "the busiest battery within a fifth of an equal share"};

/// What would cure it: the first change of the joints that is enough.
std::string sharing_cure(const Evidence& e) {
  const auto load = wiring::load_of_case(e.design, *wiring::heaviest_case(e.wiring));
  const auto better =
      wiring::better_joined(e.design, load, most_uneven, e.design->bank->discharge_limit);
  return better ? better->edit : "fewer loads at once, or batteries with a higher limit";
}

Finding check_even(const Rule& rule, const Evidence& e, const Sharing& sharing) {
  Working working;
  const Ratio uneven = wiring::unevenness_of(sharing, e.kept(working));
  Finding f = judge(rule, subject_of_bank(), uneven, Bound::at_most,
                    {most_uneven, uneven_source, Verdict::caution}, std::move(working));
  f.in_case = sharing.in_case;
  f.message = "full and new, the busiest of " + std::to_string(e.design->bank->parallel) +
              " batteries gives " + print(wiring::busiest_at(sharing, 0)) + ", " +
              print_plain(double(uneven), 3) + " times an equal share";
  if (f.verdict != Verdict::pass) f.cure = sharing_cure(e);
  return f;
}

/// The shares move while the batteries empty: above the promised reserve the maker's limit is one,
/// below it a caution.
Finding check_over_discharge(const Rule& rule, const Evidence& e, const Sharing& sharing,
                             Current limit) {
  const bool promised = wiring::busiest_at(sharing, sharing.worst_promised) > limit;
  const std::size_t point = promised ? sharing.worst_promised : sharing.worst;
  const auto& moment = sharing.points[point];
  Working working;
  const Current busiest = wiring::busiest_at(sharing, point, e.kept(working));
  Finding f =
      judge(rule, subject_of_bank().with("discharge_limit"), busiest, Bound::at_most,
            {limit, as_stated, promised ? Verdict::fail : Verdict::caution}, std::move(working));
  f.of_safety = busiest > limit;
  f.in_case = sharing.in_case;
  const auto [gives, may_give] = figures(f);
  f.message = "discharged from full until " + sharing.ended_by + ", the busiest battery gives " +
              gives + " at most, after " + print(moment.after) + " and " + print(moment.drawn) +
              " of the charge; each may give " + may_give;
  if (f.verdict != Verdict::pass) f.cure = sharing_cure(e);
  return f;
}

/// Information: of batteries that rested at one charge the first may still stand higher.
Finding tell_at_rest(const Rule& rule, const Sharing::AtRest& rest) {
  std::string shares;
  for (const auto& b : rest.first)
    shares += (shares.empty() ? "" : ", ") + std::to_string(b.number) + ": " + print(b.current);
  Finding f =
      state(rule, subject_of_bank(), Verdict::pass,
            "at " + print(rest.current) + " a battery that was charged last, " + print(rest.apart) +
                " higher, gives more until they are level (" + shares + ")",
            rule.source);
  f.in_case = rest.in_case + ", charged apart";
  return f;
}

/// What flows when batteries are joined that are as far apart as is usually allowed.
Finding check_joining_current(const Rule& rule, const Evidence& e, Current limit) {
  Working working;
  const Current flows = wiring::joining_current(e.design, wiring::joined_within, e.kept(working));
  Finding f = judge(rule, subject_of_bank().with("charge_limit"), flows, Bound::at_most,
                    {limit, as_stated, Verdict::caution}, std::move(working));
  f.in_case = "joined " + print(wiring::joined_within) + " apart";
  const auto [exchange, bears] = figures(f);
  f.message = "two batteries that are joined " + print(wiring::joined_within) +
              " apart exchange up to " + exchange + "; each may be charged with " + bears;
  if (f.verdict != Verdict::pass)
    f.cure = "charge each full by itself, let them rest, and join them closer together than that";
  return f;
}

std::vector<Finding> check_share(const Rule& rule, const Evidence& e) {
  const auto& bank = e.design->bank;
  if (!bank || bank->parallel < 2) return {};
  if (!wiring::joined_as_stated(*bank))
    return {not_checked(rule, subject_of_bank(),
                        "how the batteries are joined is not stated: neither `links` nor "
                        "`each_battery`",
                        {subject_of_bank().with("links")})};
  if (!e.wiring.sharing)
    return {not_checked(rule, subject_of_bank(), "no case of the design draws from the bank")};
  const Sharing& sharing = *e.wiring.sharing;
  std::vector<Finding> findings{check_even(rule, e, sharing)};
  findings.push_back(bank->discharge_limit
                         ? check_over_discharge(rule, e, sharing, *bank->discharge_limit)
                         : not_checked(rule, subject_of_bank().with("discharge_limit"),
                                       "the bank's `discharge_limit` is not stated"));
  if (sharing.at_rest) findings.push_back(tell_at_rest(rule, *sharing.at_rest));
  if (bank->charge_limit) findings.push_back(check_joining_current(rule, e, *bank->charge_limit));
  return findings;
}

constexpr Sign parallel_share_signs[] = {{Parameter::load, Effect::worse},
                                         {Parameter::discharge_limit, Effect::better},
                                         {Parameter::charge_limit, Effect::better}};

}  // namespace

extern const Rule parallel_share{
    .name = "parallel-share",
    .asks = "Do the batteries share what is drawn, at the start and until they are empty?",
    .why = "The battery nearest to the load gives most, ages first and opens first, and the others "
           "then carry its share.",
    .cure = "Take off diagonally, larger links, or equal leads to a common bar.",
    .source = {SourceKind::common_practice, "Kirchhoff's laws",
               "a ladder of batteries and links, solved as a whole"},
    .signs = parallel_share_signs,
    .concern = Concern::safety_where_it_fails,
    .needs = Needs::bank,
    .check = check_share};

Finding judge_shares(const std::vector<Current>& batteries) {
  Working working;
  Current all{}, busiest{};
  for (const Current& one : batteries) {
    all += one;
    busiest = std::max(busiest, one);
  }
  const bool gives = all.value() > 0.0;
  const Ratio uneven =
      gives ? step(&working, wiring::unevenness, Ratio(double(batteries.size())), busiest, all)
            : Ratio(1.0);
  Finding f = judge(parallel_share, subject_of_bank(), uneven, Bound::at_most,
                    {most_uneven, uneven_source, Verdict::caution}, std::move(working));
  f.message = "as measured, the busiest of " + std::to_string(batteries.size()) +
              " batteries gives " + print(busiest) + ", " + print_plain(double(uneven), 3) +
              " times an equal share";
  return f;
}

}  // namespace housepower::checks

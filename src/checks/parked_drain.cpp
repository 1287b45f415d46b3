// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"
#include "housepower/energy/questions.hpp"
#include "housepower/wiring/switched_off.hpp"

namespace housepower::checks {
namespace {

/// The month of the year in which it may stand the shortest, promised or not; nothing without a place.
std::optional<int> hardest_to_park(const Evidence& e, const wiring::Reached& fed) {
  std::optional<int> hardest;
  Duration shortest{};
  if (!e.energy.has_place) return hardest;
  for (int month = 0; month < 12; ++month) {
    const auto parked = energy::parked(e.design, fed, month);
    if (!parked || (hardest && parked->may_stand >= shortest)) continue;
    hardest = month, shortest = parked->may_stand;
  }
  return hardest;
}

std::vector<Finding> check_parked(const Rule& rule, const Evidence& e) {
  if (e.design->runs.empty())
    return {not_checked(rule, Subject(Subject::Kind::travel).with("parked"),
                        "no run is drawn: what an isolator disconnects is not known")};
  Working working;
  const auto fed = wiring::fed_while_parked(e.design);
  const auto parked = energy::parked(e.design, fed, hardest_to_park(e, fed), e.kept(working));
  if (!parked) return {};
  const auto& travel = e.design->travel;
  const bool assumed = is_assumed(e.design, Subject(Subject::Kind::travel).with("parked"));
  Finding f =
      judge(rule, Subject(Subject::Kind::travel).with("parked"), parked->may_stand, Bound::at_least,
            {travel.parked, assumed ? our_method : as_stated}, std::move(working));
  f.unit = "d";
  const auto largest =
      std::max_element(parked->draws.begin(), parked->draws.end(),
                       [](const auto& a, const auto& b) { return a.value < b.value; });
  const auto [may_stand, has_to] = figures(f);
  f.message = "left unattended at " + print(Number(e.design->bank->storage_charge), 2) +
              " the bank is down to its reserve after " + may_stand +
              ", without any sun; most of it goes into " + largest->name + ", " +
              print(largest->value) + " of " + print(parked->all) + "; it has to last " + has_to;
  if (f.verdict != Verdict::pass)
    f.cure = parked->isolated ? "disconnect what draws most, or top it up meanwhile"
                              : "an isolator at the bank that disconnects it all, or state "
                                "`while_parked = false` for "
                                "what is switched off";
  rest_on_climate(f, e);
  return {std::move(f)};
}

constexpr Sign parked_drain_signs[] = {{Parameter::length, Effect::none},
                                       {Parameter::bank_age, Effect::worse},
                                       {Parameter::reserve, Effect::worse}};

}  // namespace

extern const Rule parked_drain{
    .name = "parked-drain",
    .asks = "Can the van be left unattended as long as it has to be before its bank is empty?",
    .why = "A gas detector wired before the isolator takes a lithium bank to zero in a winter, and "
           "most do not come back.",
    .cure = "An isolator at the bank, fewer standing draws, or topping up.",
    .source = {SourceKind::published, "a seller's page",
               "a detector before the isolator took a stored lithium bank to zero volts"},
    .signs = parked_drain_signs,
    .concern = Concern::service,
    .check = check_parked};

}  // namespace housepower::checks

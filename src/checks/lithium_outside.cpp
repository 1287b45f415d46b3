// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"

namespace housepower::checks {
namespace {

std::vector<Finding> check_place(const Rule& rule, const Evidence& e) {
  using Says = tables::RuleProfile::LithiumPlace::Says;
  if (!e.design->bank) return {};
  const auto& bank = *e.design->bank;
  const auto& place = e.design->profile->lithium;
  const Subject subject = subject_of_bank().with("mounted");
  if (place.says == Says::silent) return {};
  if (!bank.mounted)
    return {not_checked(rule, subject, "the design does not say where the bank is `mounted`")};
  // Where a profile asks a person to look, what is sealed inside is inside until that is ticked.
  const bool inside =
      *bank.mounted == design::BankPlace::inside ||
      (!place.passes_with.empty() && *bank.mounted != design::BankPlace::outside_sealed);
  const auto& ticked = e.design->inspected;
  if (inside && !place.passes_with.empty() &&
      std::find(ticked.begin(), ticked.end(), place.passes_with) != ticked.end())
    return {state(rule, subject, Verdict::pass,
                  "the lithium bank is mounted inside, and inspected: " + place.passes_with +
                      (place.note.empty() ? "" : ". " + place.note),
                  place.source)};
  const Verdict beyond = place.says == Says::fail_inside ? Verdict::fail : Verdict::caution;
  Finding f =
      state(rule, subject, inside ? beyond : Verdict::pass,
            inside && *bank.mounted != design::BankPlace::inside
                ? "the lithium bank is mounted inside, and nobody has ticked: " + place.passes_with
            : inside ? "the lithium bank is mounted inside, open to the living space"
                     : "the lithium bank is sealed from the living space",
            place.source);
  if (!place.note.empty()) f.message += ". " + place.note;
  if (inside)
    f.cure =
        "a box outside the living space, or one inside that is sealed from it and vented outside" +
        (place.passes_with.empty() ? "" : " (inspected: " + quoted(place.passes_with) + ")");
  return {std::move(f)};
}

std::string silent_on_place(const design::Design& design) {
  const auto& place = design->profile->lithium;
  if (!design->bank || place.says != tables::RuleProfile::LithiumPlace::Says::silent) return {};
  return "where lithium batteries may be" + (place.note.empty() ? "" : ": " + place.note);
}

constexpr Sign lithium_outside_signs[] = {{Parameter::batteries, Effect::none}};

}  // namespace

extern const Rule lithium_outside{
    .name = "lithium-outside",
    .asks = "Is the lithium bank kept apart from the living space?",
    .why = "A lithium battery in trouble gives off poisonous gas that burns; people sleep in the "
           "living space.",
    .cure = "A sealed box outside, or one inside that is sealed from the living space and vented "
            "to the outside.",
    .source = {SourceKind::published,
               "statement of a caravan industry association in two news pages",
               "lithium batteries not in habitable areas, on AS/NZS 3001.2:2022; the clause itself "
               "was not read"},
    .signs = lithium_outside_signs,
    .concern = Concern::safety,
    .silent = silent_on_place,
    .check = check_place};

}  // namespace housepower::checks

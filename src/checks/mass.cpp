// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"

namespace housepower::checks {
namespace {

/// Copper of one conductor with its sheath.
constexpr Formula cable_mass{
    "m",
    "mass of a conductor",
    "1.4 · ρ_Cu · S · L",
    {{"ρ_Cu", "density of copper"}, {"S", "copper cross-section"}, {"L", "length"}},
    Source{SourceKind::from_memory, "density 8.96 g/cm³; sheath taken as 40 % of the copper", ""},
    [](Density copper, Area s, Length l) -> Mass { return 1.4 * (copper * (s * l)); }};
constexpr Density copper_density = Density::from_value(8960.0);

struct Parts {
  std::vector<Term<Mass>> known;
  std::string missing;
  void add(const std::string& name, const std::optional<Mass>& each, int count) {
    if (each) known.push_back({name, *each * double(count)});
    else missing += (missing.empty() ? "" : ", ") + name;
  }
};

Parts parts_of(const Evidence& e) {
  Parts parts;
  if (const auto& bank = e.design->bank)
    parts.add("bank", bank->mass, bank->parallel * bank->in_series);
  for (const auto& a : e.design->arrays) parts.add(a.name, a.module.mass, a.modules);
  for (const auto& c : e.design->controllers) parts.add(c.name, c.mass, 1);
  for (const auto& c : e.design->chargers) parts.add(c.name, c.mass, 1);
  for (const auto& i : e.design->inverters) parts.add(i.name, i.mass, 1);
  Mass cable{};
  for (std::size_t i = 0; i < e.design->runs.size(); ++i) {
    const Run& run = e.design->runs[i];
    const auto& facts = e.wiring.runs[i];
    const double n = run.parallel;
    cable += n * cable_mass(copper_density, facts.outgoing.conductor.copper, run.length);
    if (facts.back)
      cable += n * cable_mass(copper_density, facts.back->conductor.copper, run.back.length);
  }
  parts.known.push_back({"cable", cable});
  return parts;
}

std::vector<Finding> check_mass(const Rule& rule, const Evidence& e) {
  if (!e.design->mass_allowance) return {};
  const Parts parts = parts_of(e);
  Working working;
  const Mass total = sum(e.kept(working), "m", "mass of the electrical parts", parts.known);
  Finding f = judge(rule, "vehicle/electrical_mass_allowance", total, Bound::at_most,
                    {*e.design->mass_allowance, as_stated}, std::move(working));
  f.message = "the electrical parts weigh " + print(total) + " of the " +
              print(*e.design->mass_allowance) + " allowed";
  if (f.verdict != Verdict::pass)
    f.cure = "fewer or lighter parts, shorter heavy runs, or a larger allowance";
  if (f.verdict == Verdict::pass && !parts.missing.empty()) {
    f.verdict = Verdict::not_checked;
    f.message += "; not counted, since their `mass` is not stated: " + parts.missing;
  }
  return {std::move(f)};
}

constexpr Sign signs[] = {{Parameter::batteries, Effect::worse},
                          {Parameter::area, Effect::worse},
                          {Parameter::length, Effect::worse},
                          {Parameter::array, Effect::worse}};

}  // namespace

extern const Rule mass{
    .name = "mass",
    .asks = "Do the electrical parts stay within the mass that the vehicle allows them?",
    .why = "An overladen caravan is unsafe on the road and outside its plate.",
    .cure = "Fewer or lighter parts, shorter heavy runs, or a larger allowance.",
    .source = {SourceKind::supplier, "the design", "the vehicle's electrical_mass_allowance"},
    .signs = signs,
    .of_safety = false,
    .check = check_mass};

}  // namespace housepower::checks

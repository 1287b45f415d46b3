// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"
#include "housepower/checks/masses.hpp"

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

struct Stated {
  std::vector<Term<Mass>> known;
  std::vector<std::string> missing;
  void add(const std::string& name, const std::optional<Mass>& each, int count) {
    if (each) known.push_back({name, *each * double(count)});
    else missing.push_back(name);
  }
};

Stated stated_parts(const design::Design& design) {
  Stated parts;
  if (const auto& bank = design->bank)
    parts.add("bank", bank->mass, bank->parallel * bank->in_series);
  for (const auto& a : design->arrays) parts.add(a.name, a.module.mass, a.modules);
  for (const auto& c : design->controllers) parts.add(c.name, c.mass, 1);
  for (const auto& c : design->chargers) parts.add(c.name, c.mass, 1);
  for (const auto& i : design->inverters) parts.add(i.name, i.mass, 1);
  return parts;
}

std::vector<Subject> unstated_masses(const design::Design& design) {
  std::vector<Subject> list;
  const auto add = [&](const auto& things, std::string_view key, auto mass) {
    for (const auto& one : things)
      if (!mass(one)) list.push_back(subject_of(design, one).with(key));
  };
  const auto own = [](const auto& thing) { return thing.mass; };
  if (design->bank && !design->bank->mass) list.push_back(subject_of_bank().with("mass"));
  add(design->arrays, "module/mass", [](const auto& array) { return array.module.mass; });
  add(design->controllers, "mass", own);
  add(design->chargers, "mass", own);
  add(design->inverters, "mass", own);
  return list;
}

std::vector<Finding> check_mass(const Rule& rule, const Evidence& e) {
  if (!e.design->mass_allowance) return {};
  Working working;
  const Masses masses = masses_of(e.design, e.wiring, e.kept(working));
  Finding f =
      judge(rule, Subject(Subject::Kind::vehicle).with("electrical_mass_allowance"), masses.total,
            Bound::at_most, {*e.design->mass_allowance, as_stated}, std::move(working));
  const auto [weigh, allowed] = figures(f);
  f.message = "the electrical parts weigh " + weigh + " of the " + allowed + " allowed";
  if (f.verdict != Verdict::pass)
    f.cure = "fewer or lighter parts, shorter runs of heavy cable, or a larger allowance";
  if (f.verdict == Verdict::pass && !masses.missing.empty()) {
    f.verdict = Verdict::not_checked;
    f.wants = unstated_masses(e.design);
    f.message += "; not counted, since their `mass` is not stated: ";
    for (const auto& name : masses.missing)
      f.message += (&name == &masses.missing.front() ? "" : ", ") + name;
  }
  return {std::move(f)};
}

constexpr Sign mass_signs[] = {{Parameter::batteries, Effect::worse},
                               {Parameter::area, Effect::worse},
                               {Parameter::length, Effect::worse},
                               {Parameter::array, Effect::worse}};

}  // namespace

Masses masses_of(const design::Design& design, const wiring::Assessment& wiring, Working* working) {
  Masses masses;
  Stated parts = stated_parts(design);
  const auto add = [&](const tables::Conductor& conductor, Length length, int parallel) {
    const double n = parallel;
    masses.cable += n * cable_mass(copper_density, conductor.copper, length);
    masses.copper += n * copper_mass(conductor.copper, length);
  };
  for (std::size_t i = 0; i < design->runs.size(); ++i) {
    const Run& run = design->runs[i];
    const auto& facts = wiring.runs[i];
    add(facts.outgoing.conductor, run.length, run.parallel);
    if (facts.back) add(facts.back->conductor, run.back.length, run.parallel);
  }
  parts.known.push_back({"cable", masses.cable});
  masses.total = sum(working, "m", "mass of the electrical parts", parts.known);
  masses.missing = std::move(parts.missing);
  return masses;
}

extern const Rule mass{
    .name = "mass",
    .asks = "Do the electrical parts stay within the mass that the vehicle allows them?",
    .why = "An overloaded caravan is unsafe on the road and over its plated mass.",
    .cure = "Fewer or lighter parts, shorter runs of heavy cable, or a larger allowance.",
    .source = {SourceKind::supplier, "the design", "the vehicle's electrical_mass_allowance"},
    .signs = mass_signs,
    .concern = Concern::service,
    .check = check_mass};

}  // namespace housepower::checks

// SPDX-License-Identifier: Apache-2.0
// The search for a pack against looking at every combination: nothing that `check` passes is lighter
// than what was found, and without the bound the same is found.
#include "housepower/pack/pack.hpp"

#include "checks/examples.hpp"
#include "housepower/design/catalogue.hpp"

namespace laws_pack {
namespace {

using namespace examples;
using housepower::pack::PackAnswer;
using housepower::pack::PackQuestion;

const std::vector<std::string> promised{"promise/stay=4 d", "promise/autonomy=1 d",
                                        "sizing/most_modules=2", "sizing/most_batteries=2",
                                        "sizing/keep=[\"inverter\", \"drive charger\"]"};

std::vector<design::Part> few_parts() {
  Diagnostics problems;
  const auto node = read_document(folder + "parts.toml", from_disk, problems);
  REQUIRE(node);
  auto catalogue = design::catalogue_of(*node, problems);
  REQUIRE(catalogue);
  std::vector<design::Part> few;
  for (auto& part : catalogue->part)
    for (const char* name : {"B100", "B200", "M120", "M220", "C30", "C50"})
      if (part.name == name) few.push_back(std::move(part));
  REQUIRE(few.size() == 6);
  return few;
}

PackAnswer found(const design::Opened& van, const std::vector<design::Part>& parts, bool bounded) {
  Diagnostics problems;
  PackQuestion question;
  question.bounded = bounded;
  auto answer = pack::size_pack(van.document, parts, shipped(), question, energy::one_after_another,
                                problems);
  REQUIRE(problems.all.empty());
  REQUIRE(answer);
  return *std::move(answer);
}

bool passes(const design::Document& document) {
  Diagnostics problems;
  const auto ordinary = design::resolve(document, shipped(), Defaults::ordinary, problems);
  if (!ordinary) return false;
  const auto all = checks::check(document, *ordinary);
  return std::none_of(all.findings.begin(), all.findings.end(),
                      [](const Finding& f) { return f.verdict >= Verdict::caution; });
}

}  // namespace

TEST_CASE("no combination that check passes as it stands is lighter than the pack that is found") {
  const auto van = opened(folder + "sizing/pellibri.toml", promised);
  const auto parts = few_parts();
  const auto answer = found(van, parts, true);
  REQUIRE(answer.best);
  const double best = answer.choices[*answer.best].pack.mass.value();
  double kept = 0.0;  // of what is not chosen
  for (const auto& c : van.document.charger) kept += c.mass->value();
  for (const auto& i : van.document.inverter) kept += i.mass->value();
  int tried = 0, passed = 0;
  double lightest = 1e9;
  for (const auto& battery : parts)
    for (const auto& module : parts)
      for (const auto& controller : parts) {
        if (battery.kind() != design::PartKind::battery ||
            module.kind() != design::PartKind::module ||
            controller.kind() != design::PartKind::controller)
          continue;
        for (int b = 1; b <= 2; ++b)
          for (const auto& [modules, series] : {std::pair{1, 1}, {2, 1}, {2, 2}}) {
            design::Document d = van.document;
            design::put(battery, d, "bank");
            design::put(module, d, "roof");
            design::put(controller, d, "controller");
            d.bank->quantity = b;
            d.bank->takeoff_from = {1, b};
            d.array.at(0).modules = modules;
            d.array.at(0).in_series = series;
            ++tried;
            if (!passes(d)) continue;
            ++passed;
            const double mass = kept + b * std::get<design::Bank>(battery.is).mass->value() +
                                modules * std::get<design::Module>(module.is).mass->value() +
                                std::get<design::Controller>(controller.is).mass->value();
            lightest = std::min(lightest, mass);
          }
      }
  MESSAGE(tried << " combinations, " << passed << " pass, lightest " << lightest << " kg; found "
                << best << " kg after " << answer.effort.simulated << " simulations");
  CHECK(tried == 48);
  CHECK(passed > 0);
  CHECK(best <= lightest + 1e-9);
  if (answer.choices[*answer.best].wiring.empty()) CHECK(best == doctest::Approx(lightest));
}

TEST_CASE("without the bound the same packs are found, with more simulations") {
  const auto van = opened(folder + "sizing/pellibri.toml", promised);
  const auto parts = few_parts();
  const auto bounded = found(van, parts, true), all = found(van, parts, false);
  REQUIRE(bounded.best.has_value() == all.best.has_value());
  CHECK(bounded.best == all.best);
  REQUIRE(bounded.choices.size() == all.choices.size());
  for (std::size_t i = 0; i < all.choices.size(); ++i) {
    CHECK(bounded.choices[i].pack.mass == all.choices[i].pack.mass);
    CHECK(double(bounded.choices[i].kept.chance) == double(all.choices[i].kept.chance));
  }
  CHECK(bounded.effort.simulated <= all.effort.simulated);
}

}  // namespace laws_pack

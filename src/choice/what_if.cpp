// SPDX-License-Identifier: Apache-2.0
// Changes that owners ask for later, and what then no longer holds.
#include <algorithm>

#include "housepower/choice/headroom.hpp"
#include "housepower/choice/trial.hpp"
#include "housepower/units/unit.hpp"

namespace housepower::choice {
namespace {

constexpr double next_size = 1.5;  // of an inverter; from judgement

/// With what each finding is against the same design before; as `check` judges both.
std::optional<checks::Checked> checked_document(const Document& document,
                                                const tables::Tables& tables) {
  Diagnostics problems;
  const auto ordinary = design::resolve(document, tables, Defaults::ordinary, problems);
  if (!ordinary) return std::nullopt;
  return checks::check(document, *ordinary);
}

/// One more in parallel; a take-off at both ends of the row stays at both ends.
Document with_battery(Document document) {
  design::Bank& bank = *document.bank;
  const int before = bank.quantity.value_or(1);
  bank.quantity = before + 1;
  if (before == 1 && bank.takeoff_from.size() == 2) bank.takeoff_from = {1, 2};
  else if (before > 1)
    for (int& number : bank.takeoff_from)
      if (number == before) ++number;
  return document;
}

/// Half as large again, and a load that takes all of it now and then.
Document with_larger(Document document, std::size_t index) {
  design::Inverter& inverter = document.inverter[index];
  inverter.rating = next_size * inverter.rating;
  if (inverter.surge) inverter.surge->power = next_size * inverter.surge->power;
  design::Appliance load;
  load.name = "what the larger " + inverter.name + " bears";
  load.power = inverter.rating;  // it gives no more, whatever else runs
  load.supply = inverter.name;
  load.per_day = 0.01 * hour;
  document.appliance.push_back(std::move(load));
  return document;
}

}  // namespace

std::vector<WhatIf> what_if(const design::Document& document, const tables::Tables& tables) {
  std::vector<WhatIf> answers;
  const auto before = checked_document(document, tables);
  if (!before) return answers;
  const Standing standing(before->findings);
  const auto add = [&](const std::string& change, const Document& changed) {
    const auto after = checked_document(changed, tables);
    if (!after) return;
    WhatIf& answer = answers.emplace_back(WhatIf{change, {}});
    for (const Finding& f : after->findings)
      if (standing.is_new(f)) answer.findings.push_back(f);
  };
  if (document.bank) add("one more battery", with_battery(document));
  for (std::size_t i = 0; i < document.inverter.size(); ++i) {
    const auto& inverter = document.inverter[i];
    add("\"" + inverter.name + "\" of " + print(next_size * inverter.rating),
        with_larger(document, i));
  }
  return answers;
}

}  // namespace housepower::choice

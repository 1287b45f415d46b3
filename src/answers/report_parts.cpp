// SPDX-License-Identifier: Apache-2.0
#include "housepower/answers/report_parts.hpp"

#include "housepower/choice/cures.hpp"

namespace housepower::answers {
namespace {

std::optional<StayReport> stays_of(const Opening& o, const std::string& file,
                                   const energy::Each& each) {
  Diagnostics without_bank_or_place;
  StayAsked asked;
  asked.plots = true;
  const GivenDesign given{*o.document, *o.design, *o.tables, o.node, file, o.digest, o.told};
  return stay(given, asked, without_bank_or_place, each);
}

std::optional<TestSheetReport> test_sheet_of(const Opening& opening) {
  Diagnostics none;
  const auto load = test_load(*opening.design, {}, none);
  if (!load) return std::nullopt;
  auto answered = test_sheet(opening.checked_design(), *load, true);
  auto* sheet = std::get_if<TestSheetReport>(&answered);
  return sheet ? std::optional(std::move(*sheet)) : std::nullopt;
}

}  // namespace

ReportParts report_parts(Opening& opening, const std::string& file, const ReportAsked& asked,
                         const energy::Each& each) {
  choice::try_cures(*opening.document, *opening.design, opening.checked);
  return {build_model(opening), checks::masses_of(*opening.design, opening.checked.wiring),
          asked.stays ? stays_of(opening, file, each) : std::nullopt,
          asked.test_sheet ? test_sheet_of(opening) : std::nullopt};
}

}  // namespace housepower::answers

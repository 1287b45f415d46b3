// SPDX-License-Identifier: Apache-2.0
#include "housepower/answers/wiring.hpp"

#include <algorithm>

#include "housepower/answers/named_files.hpp"

namespace housepower::answers {
namespace {

Current load_in(const wiring::CaseResult& in) {
  Current most = in.bank_current;
  if (in.batteries.empty())
    for (const auto& run : in.runs) most = std::max(most, run.current);
  return most;
}

}  // namespace

const wiring::CaseResult* heaviest_case(const wiring::Assessment& w) {
  const wiring::CaseResult* heaviest = nullptr;
  for (const auto& in : w.cases)
    if (in.load_case.judged && in.solved() && (!heaviest || load_in(in) > load_in(*heaviest)))
      heaviest = &in;
  return heaviest;
}

const wiring::CaseResult* case_named(const wiring::Assessment& w, std::string_view name) {
  for (const auto& in : w.cases)
    if (in.load_case.name == name) return &in;
  return nullptr;
}

std::optional<WiringReport> wiring_of(const GivenDesign& given, const checks::Checked& checked,
                                      const WiringAsked& asked, const FileReader& read,
                                      Diagnostics& diagnostics) {
  design::Document with_stock = given.document;
  add_stock(with_stock, parts_for({}, given, read, diagnostics));
  if (diagnostics.any_error()) return std::nullopt;
  WiringReport r{{given.design, checked, given.inputs_digest},
                 choice::choose(with_stock, given.tables)};
  if (asked.headroom) {
    r.headroom = choice::headroom(r.chosen.document, given.tables);
    r.what_if = choice::what_if(r.chosen.document, given.tables);
  }
  r.chosen.document.part = given.document.part;
  return r;
}

}  // namespace housepower::answers

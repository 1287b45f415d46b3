// SPDX-License-Identifier: Apache-2.0
#include "housepower/answers/range.hpp"

#include <algorithm>

#include "housepower/answers/named_files.hpp"

namespace housepower::answers {
namespace {

/// The first error with its place, as one line.
std::string problem_of(const Diagnostics& diagnostics) {
  const auto& all = diagnostics.all;
  const auto is_error = [](const Diagnostic& d) { return d.severity == Severity::error; };
  const auto first = std::find_if(all.begin(), all.end(), is_error);
  if (first == all.end()) return "";
  const auto errors = std::count_if(all.begin(), all.end(), is_error);
  const Place& at = first->place;
  std::string text = at.file;
  if (at.line > 0) text += ":" + std::to_string(at.line) + ":" + std::to_string(at.column);
  text += ": " + (first->key.empty() || first->key == unreadable ? "" : first->key + ": ") +
          first->message;
  if (first->key == unreadable && !first->hint.empty()) text += ": " + first->hint;
  return errors > 1 ? text + " (and " + std::to_string(errors - 1) + " more)" : text;
}

RangeOutcome outcome_of(const RangeFile& file, const OpenInRange& open, range::Simulate simulate) {
  RangeOutcome outcome;
  outcome.file = file.name;
  bool opened = false;
  outcome.left_out = open(file, outcome.diagnostics, [&](const GivenDesign& given) {
    opened = true;
    outcome.row = range::range_row(given.document, given.design, simulate);
    outcome.row.inputs_digest = given.inputs_digest;
  });
  if (opened || !outcome.left_out.empty()) return outcome;
  outcome.diagnostics.sort_by_place();
  outcome.row.name = outcome.row.file = file.name;
  outcome.row.verdict = range::not_read;
  outcome.row.problem = problem_of(outcome.diagnostics);
  return outcome;
}

}  // namespace

std::string why_no_design(const Node& node) {
  if (node.find("vehicle")) return "";
  return node.find("part") ? "a catalogue of parts"
                           : "it has no [vehicle], so it is no whole design";
}

std::vector<RangeOutcome> range_outcomes(std::span<const RangeFile> files, const OpenInRange& open,
                                         range::Simulate simulate, const energy::Each& each) {
  std::vector<RangeOutcome> outcomes(files.size());
  each(int(files.size()), [&](int i) {
    outcomes[std::size_t(i)] = outcome_of(files[std::size_t(i)], open, simulate);
  });
  return outcomes;
}

RangeReport range_of(std::span<const RangeOutcome> outcomes, range::Simulate simulate) {
  RangeReport report;
  report.simulate = simulate;
  for (const RangeOutcome& o : outcomes) {
    if (o.left_out.empty()) report.rows.push_back(o.row);
    else report.left_out.push_back({o.file, o.left_out});
  }
  report.designs = int(report.rows.size());
  return report;
}

}  // namespace housepower::answers

// SPDX-License-Identifier: Apache-2.0
#include "finding_rows.hpp"

#include <algorithm>
#include <map>
#include <tuple>

namespace housepower::report {
std::vector<FindingRow> finding_rows(std::span<const checks::Finding> findings) {
  std::vector<FindingRow> rows;
  for (const auto& f : findings) {
    FindingRow& row = rows.emplace_back();
    row.verdict = word_of(f.verdict);
    row.concern = f.of_safety ? "safety" : "service";
    row.rule = f.rule;
    row.subject = f.subject.text();
    row.label = f.label;
    row.in_case = f.in_case;
    const Unit unit = unit_of(f);
    if (f.measured) row.measured = in_unit(*f.measured, unit);
    if (f.limit) row.limit = in_unit(*f.limit, unit);
    if (f.measured || f.limit) row.unit = unit.symbol;
    if (f.measured && f.limit) row.bound = word_of(f.bound), row.margin = f.margin;
    row.message = f.message;
    row.cure = f.cure;
    row.source = source_line(f.source);
    row.file = f.place.file;
    if (f.place.line > 0) row.line = f.place.line;
  }
  return rows;
}

const std::vector<Column>& finding_columns() {
  static const std::vector<Column> columns{column<&FindingRow::verdict>("verdict", "verdict"),
                                           column<&FindingRow::concern>("concern", "concerns"),
                                           column<&FindingRow::rule>("rule", "rule"),
                                           column<&FindingRow::subject>("subject", "subject"),
                                           column<&FindingRow::label>("label", "label"),
                                           column<&FindingRow::in_case>("case", "case"),
                                           column<&FindingRow::measured>("measured", "measured"),
                                           column<&FindingRow::bound>("bound", "may be"),
                                           column<&FindingRow::limit>("limit", "limit"),
                                           column<&FindingRow::unit>("unit", "unit"),
                                           column<&FindingRow::margin>("margin", "margin"),
                                           column<&FindingRow::message>("message", "message"),
                                           column<&FindingRow::cure>("cure", "cure"),
                                           column<&FindingRow::source>("source", "source"),
                                           column<&FindingRow::file>("file", "file"),
                                           column<&FindingRow::line>("line", "line")};
  return columns;
}

std::vector<SourceRow> source_rows(std::span<const checks::Finding> findings) {
  using Key = std::tuple<SourceKind, std::string_view, std::string_view>;
  std::map<Key, std::vector<std::string_view>> all;  // rules in the order of the findings
  const auto add = [&](const Source& source, std::string_view rule) {
    if (source.title.empty()) return;
    auto& rules = all[{source.kind, source.title, source.where}];
    if (std::find(rules.begin(), rules.end(), rule) == rules.end()) rules.push_back(rule);
  };
  for (const auto& f : findings) {
    add(f.source, f.rule);
    for (const Step& step : f.working) add(step.formula.source, f.rule);
  }
  std::vector<SourceRow> rows;
  for (const auto& [key, rules] : all) {
    SourceRow& row = rows.emplace_back();
    row.kind = word_of(std::get<0>(key));
    row.title = std::get<1>(key);
    row.where = std::get<2>(key);
    for (const auto rule : rules) row.rules += (row.rules.empty() ? "" : ", ") + std::string(rule);
  }
  return rows;
}

const std::vector<Column>& source_columns() {
  static const std::vector<Column> columns{column<&SourceRow::kind>("kind", "kind"),
                                           column<&SourceRow::title>("title", "source"),
                                           column<&SourceRow::where>("where", "where in it"),
                                           column<&SourceRow::rules>("rules", "for the rules")};
  return columns;
}

}  // namespace housepower::report

// SPDX-License-Identifier: Apache-2.0
#include "finding_rows.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <tuple>

namespace housepower::report {
namespace {

using checks::Finding;

std::string_view unit_symbol(const Finding& f) {
  return f.measured || f.limit ? unit_of(f).symbol : std::string_view();
}
template <auto Member> std::optional<double> in_its_unit(const Finding& f) {
  return f.*Member ? std::optional(in_unit(*(f.*Member), unit_of(f))) : std::nullopt;
}
bool compared(const Finding& f) { return f.measured && f.limit; }
/// Rising, as the verdicts do.
std::span<const std::string_view> verdict_words() {
  static const std::array words{word_of(Verdict::pass), word_of(Verdict::not_checked),
                                word_of(Verdict::caution), word_of(Verdict::fail)};
  return words;
}

}  // namespace

const Columns<Finding>& finding_columns() {
  static const Columns<Finding> columns{
      ColumnOf<Finding>("verdict", "verdict", [](const Finding& f) { return word_of(f.verdict); })
          .words(verdict_words()),
      {"concern", "concerns", [](const Finding& f) { return f.of_safety ? "safety" : "service"; }},
      {"rule", "rule", &Finding::rule},
      {"subject", "subject", [](const Finding& f) { return f.subject.text(); }},
      {"label", "label", &Finding::label},
      {"case", "case", &Finding::in_case},
      {"measured", "measured", in_its_unit<&Finding::measured>},
      {"bound", "may be",
       [](const Finding& f) { return compared(f) ? word_of(f.bound) : std::string_view(); }},
      {"limit", "limit", in_its_unit<&Finding::limit>},
      {"unit", "unit", unit_symbol},
      {"margin", "margin",
       [](const Finding& f) { return compared(f) ? std::optional(f.margin) : std::nullopt; }},
      {"message", "message", &Finding::message},
      {"cure", "cure", &Finding::cure},
      {"source", "source", [](const Finding& f) { return source_line(f.source); }},
      {"file", "file", [](const Finding& f) { return f.place.file; }},
      {"line", "line", [](const Finding& f) {
         return f.place.line > 0 ? std::optional(f.place.line) : std::nullopt;
       }}};
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

const Columns<SourceRow>& source_columns() {
  static const Columns<SourceRow> columns{{"kind", "kind", &SourceRow::kind},
                                          {"title", "source", &SourceRow::title},
                                          {"where", "where in it", &SourceRow::where},
                                          {"rules", "for the rules", &SourceRow::rules}};
  return columns;
}

}  // namespace housepower::report

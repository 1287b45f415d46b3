// SPDX-License-Identifier: Apache-2.0
#include "json.hpp"
#include "answer_shapes.hpp"

namespace housepower::report {

Unit unit_of(const checks::Finding& f) {
  const Number shown = f.measured.value_or(f.limit.value_or(Number{}));
  return f.unit.empty() ? plain_unit(shown.kind) : *unit_named(f.unit);
}

namespace {

Json keys_wanted(std::span<const design::Subject> subjects) {
  Json list = Json::array();
  for (const auto& one : subjects) list.push_back(one.text());
  return list;
}

}  // namespace

Json json_of(const checks::Finding& f) {
  const Unit unit = unit_of(f);
  const auto value = [&](const std::optional<Number>& n) {
    return n ? Json(in_unit(*n, unit)) : Json();
  };
  const bool judged = f.measured && f.limit;
  return {{"rule", f.rule},
          {"subject", f.subject.text()},
          {"case", f.in_case},
          {"verdict", word_of(f.verdict)},
          {"at", {{"file", f.place.file}, {"line", f.place.line}, {"column", f.place.column}}},
          {"bound", judged ? Json(word_of(f.bound)) : Json()},
          {"measured", value(f.measured)},
          {"limit", value(f.limit)},
          {"unit", f.measured ? Json(unit.symbol) : Json()},
          {"margin", judged ? Json(double(f.margin)) : Json()},
          {"safety", f.of_safety},
          {"label", f.label},
          {"message", f.message},
          {"cure", f.cure},
          {"cure_set", f.cure_set},
          {"wants", keys_wanted(f.wants)},
          {"source", json_of(f.source)},
          {"working", json_of(f.working)}};
}

void add_verdicts(Json& json, const checks::Verdicts& verdicts) {
  json["verdict"] = word_of(verdicts.worse());
  json["verdict_safety"] = word_of(verdicts.safety);
  json["verdict_service"] = word_of(verdicts.service);
}

Json verdicts_of_design(const checks::Checked& checked) {
  Json json;
  add_verdicts(json, checked.verdicts);
  return json;
}

std::optional<VerdictLine> said_of_fails(const checks::Checked& checked) {
  if (checked.verdicts.worse() != Verdict::fail) return std::nullopt;
  return VerdictLine{Verdict::fail, "the design fails its check: " + verdicts_of(checked)};
}

Json findings_json(std::span<const checks::Finding> findings) {
  Json list = Json::array();
  for (const auto& f : findings) list.push_back(json_of(f));
  return list;
}

Json diagnostics_list(const Diagnostics& diagnostics) {
  Json list = Json::array();
  for (const Diagnostic& d : diagnostics.all)
    list.push_back({{"severity", d.severity == Severity::error ? "error" : "warning"},
                    {"file", d.place.file},
                    {"line", d.place.line},
                    {"column", d.place.column},
                    {"key", d.key},
                    {"message", d.message},
                    {"hint", d.hint}});
  return list;
}

std::string diagnostics_json(const Diagnostics& diagnostics) {
  Json json = head();
  json["diagnostics"] = diagnostics_list(diagnostics);
  return dump(json);
}

Json verdict_shape() {
  return words_of({Verdict::pass, Verdict::not_checked, Verdict::caution, Verdict::fail});
}

JsonKeys verdict_keys() {
  const Json whole = words_of({Verdict::pass, Verdict::caution, Verdict::fail});
  return {{"verdict", whole}, {"verdict_safety", whole}, {"verdict_service", whole}};
}

JsonKeys design_keys() {
  return {{"name", is::text()}, {"file", is::text()}, {"inputs_digest", is::text()}};
}

Json counts_shape() {
  JsonKeys keys{};
  for (const Verdict v : {Verdict::pass, Verdict::caution, Verdict::fail, Verdict::not_checked})
    keys += {{std::string(word_of(v)), is::whole()}};
  return is::object(keys);
}

Json assumed_shape() {
  return is::list(is::object({{"path", is::text()}, {"value", is::text()}, {"why", is::text()}}));
}

Json place_shape() {
  return is::object({{"file", is::text()}, {"line", is::whole()}, {"column", is::whole()}});
}

JsonKeys finding_keys() {
  const Json figure = is::or_null(is::number());
  return {{"rule", is::text()},
          {"subject", is::text()},
          {"case", is::text()},
          {"verdict", verdict_shape()},
          {"at", place_shape()},
          {"bound", is::or_null(words_of({checks::Bound::at_most, checks::Bound::at_least}))},
          {"measured", figure},
          {"limit", figure},
          {"unit", is::or_null(is::text())},
          {"margin", figure},
          {"safety", is::flag()},
          {"label", is::text()},
          {"message", is::text()},
          {"cure", is::text()},
          {"cure_set", is::list(is::text())},
          {"wants", is::list(is::text())},
          {"source", is::a("source")},
          {"working", is::list(is::a("step"))}};
}

Json step_shape() {
  return is::object({{"symbol", is::text()},
                     {"meaning", is::text()},
                     {"formula", is::text()},
                     {"with", is::text()},
                     {"value", is::or_null(is::number())},
                     {"unit", is::text()},
                     {"source", is::a("source")}});
}

Json source_shape() {
  return is::object({{"kind", words_of({SourceKind::published, SourceKind::supplier,
                                        SourceKind::common_practice, SourceKind::from_memory})},
                     {"title", is::text()},
                     {"where", is::text()}});
}

Json diagnostic_shape() {
  constexpr std::string_view severities[] = {"error", "warning"};
  return is::object({{"severity", is::words(severities)},
                     {"file", is::text()},
                     {"line", is::whole()},
                     {"column", is::whole()},
                     {"key", is::text()},
                     {"message", is::text()},
                     {"hint", is::text()}});
}

JsonKeys diagnostics_answer() { return {{"diagnostics", is::list(is::a("diagnostic"))}}; }

}  // namespace housepower::report

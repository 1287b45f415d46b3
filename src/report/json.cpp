// SPDX-License-Identifier: Apache-2.0
#include "json.hpp"

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
          {"unit", judged ? Json(unit.symbol) : Json()},
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

}  // namespace housepower::report

// SPDX-License-Identifier: Apache-2.0
#include "json.hpp"

#include "characters.hpp"
#include "housepower/reading/shown.hpp"

namespace housepower::report {

std::string_view version() { return HOUSEPOWER_VERSION; }

Json head() {
  return {{"schema", 1},
          {"tool", {{"name", "housepower"}, {"version", version()}}},
          {"safety", safety_note()}};
}

namespace {

/// Outside of texts JSON is plain ASCII, so what stands here stands in one; as JSON escapes it.
std::string escaped_unseen(std::string_view json) {
  std::string out;
  out.reserve(json.size());
  while (!json.empty()) {
    const std::string_view c = next_character(json);
    json.remove_prefix(c.size());
    const std::string seen = c.size() > 1 || c == "\x7F" ? with_escapes(c) : std::string(c);
    if (!seen.starts_with("\\U")) {
      out += seen;
      continue;
    }
    const unsigned beyond =
        static_cast<unsigned>(std::stoul(seen.substr(2), nullptr, 16)) - 0x10000U;
    out += escape_of(0xD800U + (beyond >> 10U)) + escape_of(0xDC00U + (beyond & 0x3FFU));
  }
  return out;
}

}  // namespace

std::string dump(const Json& json) {
  return escaped_unseen(json.dump(2, ' ', false, Json::error_handler_t::replace)) + "\n";
}

Json json_of(Number number) { return in_unit(number, plain_unit(number.kind)); }

Json json_of(const Source& source) {
  return {{"kind", word_of(source.kind)}, {"title", source.title}, {"where", source.where}};
}

Json json_of(const Working& working) {
  Json list = Json::array();
  for (const Step& step : working) {
    const bool bare = !step.formula.unit.empty();  // an equation between bare numbers
    const Unit unit = plain_unit(step.value.kind);
    list.push_back({{"symbol", step.formula.symbol},
                    {"meaning", step.formula.meaning},
                    {"formula", step.formula.text},
                    {"with", with_numbers(step)},
                    {"value", bare ? step.value.si : in_unit(step.value, unit)},
                    {"unit", bare ? step.formula.unit : unit.symbol},
                    {"source", json_of(step.formula.source)}});
  }
  return list;
}

Unit unit_of(const checks::Finding& f) {
  const Number shown = f.measured.value_or(f.limit.value_or(Number{}));
  return f.unit.empty() ? plain_unit(shown.kind) : *unit_named(f.unit);
}

Json json_of(const checks::Finding& f) {
  const Unit unit = unit_of(f);
  const auto value = [&](const std::optional<Number>& n) {
    return n ? Json(in_unit(*n, unit)) : Json();
  };
  const bool judged = f.measured && f.limit;
  return {{"rule", f.rule},
          {"subject", f.subject},
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

Json row_json(std::span<const Column> columns, const void* row) {
  Json object = Json::object();
  for (const Column& column : columns) {
    const Cell cell = column.cell(row);
    Json& value = object[std::string(column.key)];
    if (const auto* text = std::get_if<std::string>(&cell)) value = *text;
    else if (const auto* number = std::get_if<Number>(&cell)) value = in_unit(*number, column.unit);
    else if (const auto* bare = std::get_if<double>(&cell)) value = *bare;
    else if (const auto* flag = std::get_if<bool>(&cell)) value = *flag;
  }
  return object;
}

Json rows_json(const RowTable& table) {
  Json list = Json::array();
  for (std::size_t i = 0; i < table.size; ++i) list.push_back(row_json(table.columns, table[i]));
  return list;
}

TableBlock table_of(std::string title, const RowTable& table,
                    std::span<const std::string_view> keys) {
  std::vector<Column> columns;
  for (const auto key : keys)
    for (const Column& column : table.columns)
      if (column.key == key) columns.push_back(column);
  return table_block(std::move(title), columns, table.size, table.row, table.rows.get());
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

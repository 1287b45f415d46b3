// SPDX-License-Identifier: Apache-2.0
// How values, sources, steps and findings stand in JSON: shared by every answer of the room.
#pragma once

#include <nlohmann/json.hpp>

#include "housepower/report/results.hpp"
#include "housepower/report/row_table.hpp"

namespace housepower::report {

using Json = nlohmann::ordered_json;

/// {"schema": 1, "tool": …, "safety": …}: the head of every answer.
[[nodiscard]] Json head();
[[nodiscard]] std::string dump(const Json&);
/// The number in the plain unit of its kind: V, A, W, Wh, Ah …
[[nodiscard]] Json json_of(Number);
[[nodiscard]] Json json_of(const Source&);
[[nodiscard]] Json json_of(const Working&);
[[nodiscard]] Json json_of(const checks::Finding&);
[[nodiscard]] Json diagnostics_list(const Diagnostics&);
/// verdict (the worse), verdict_safety, verdict_service.
void add_verdicts(Json&, const checks::Verdicts&);
[[nodiscard]] Json findings_json(std::span<const checks::Finding>);

/// The unit in which a finding's numbers are told.
[[nodiscard]] Unit unit_of(const checks::Finding&);

/// "IEC 60228:2004, table 3 (published)".
[[nodiscard]] std::string source_line(const Source&);

/// "U_drop = 2 · L · I · r = 2 · 4 m · 15 A · 7.98 mΩ/m = 0.96 V"; and what its symbol means, with
/// the source of the formula.
[[nodiscard]] std::string step_line(const Step&);
[[nodiscard]] std::string step_meaning(const Step&);
/// "van.toml:14:10".
[[nodiscard]] std::string place_text(const Place&);

/// A row of results as an object of its columns.
[[nodiscard]] Json row_json(std::span<const Column>, const void* row);
template <class Row> Json rows_json(std::span<const Column> columns, const std::vector<Row>& rows) {
  Json list = Json::array();
  for (const Row& row : rows) list.push_back(row_json(columns, &row));
  return list;
}

/// A table for people from the same columns; units stand in the heads.
[[nodiscard]] TableBlock table_block(std::string title, std::span<const Column>, std::size_t rows,
                                     const void* (*row)(const void* list, std::size_t),
                                     const void* list);
template <class Row>
TableBlock table_of(std::string title, std::span<const Column> columns,
                    const std::vector<Row>& rows) {
  return table_block(
      std::move(title), columns, rows.size(),
      [](const void* list, std::size_t i) -> const void* {
        return &(*static_cast<const std::vector<Row>*>(list))[i];
      },
      &rows);
}

[[nodiscard]] Json rows_json(const RowTable&);
/// The columns of these keys, in their order.
[[nodiscard]] TableBlock table_of(std::string title, const RowTable&,
                                  std::span<const std::string_view> keys);

[[nodiscard]] Json energy_object(const energy::Assessment&);
[[nodiscard]] Json wiring_object(const design::Design&, const wiring::Assessment&);
[[nodiscard]] Json sizing_object(const Sized&);
[[nodiscard]] Json choices_json(std::span<const sizing::Choice>);
[[nodiscard]] TableBlock choice_table(std::string title, std::span<const sizing::Choice>);
void append_sizing(Page&, const Sized&);
/// The numbers of one device in a design, or of the fuse of a cable.
[[nodiscard]] Json design_object(const CheckedDesign&);

}  // namespace housepower::report

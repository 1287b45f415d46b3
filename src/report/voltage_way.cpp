// SPDX-License-Identifier: Apache-2.0
#include "voltage_way.hpp"

#include <algorithm>

#include "housepower/report/plots.hpp"
#include "housepower/units/phrases.hpp"
#include "json.hpp"

namespace housepower::report {
namespace {

struct WayRow {
  std::string name;
  Length along{};
  Voltage voltage{}, lost{};
};

const Columns<WayRow>& way_columns() {
  static const Columns<WayRow> columns{{"name", "place", &WayRow::name},
                                       {"along_m", "one way", "m", &WayRow::along},
                                       {"voltage_V", "voltage", "V", &WayRow::voltage},
                                       {"lost_V", "lost so far", "V", &WayRow::lost}};
  return columns;
}

}  // namespace

std::optional<TableBlock> voltage_way(const design::Design& design, const wiring::Assessment& w,
                                      const wiring::CaseResult* in) {
  const wiring::ConsumerInCase* to = in ? worst_consumer(*in) : nullptr;
  if (!to) return std::nullopt;
  const Plot profile = voltage_profile_plot(design, w, *in, *to);
  std::vector<WayRow> rows;
  for (const auto& point : profile.names) {
    WayRow& row = rows.emplace_back();
    row.name = point.says;
    row.along = point.x * metre;
    row.voltage = point.y * volt;
    row.lost = rows.front().voltage - row.voltage;
  }
  if (rows.size() < 2) return std::nullopt;
  auto table =
      table_of(profile.title + ", case " + quoted_once(in->load_case.name), way_columns(), rows);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    table.rows[i][2] = print_plain(rows[i].voltage.value(), 4);  // its losses are small
    table.bars.lengths.push_back(std::max(rows[i].lost.value(), 0.0));
  }
  return table;
}

}  // namespace housepower::report

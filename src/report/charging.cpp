// SPDX-License-Identifier: Apache-2.0
#include "charging.hpp"

#include "housepower/wiring/charging_circuits.hpp"

namespace housepower::report {
namespace {

struct FeedRow {
  std::string name;
  std::optional<std::string> feed;
  std::optional<Voltage> low, normal;
  std::optional<Current> delivers_low, delivers_normal;
  Current stated{};
};
std::vector<FeedRow> feed_rows(const design::Design& design, const wiring::Assessment& w) {
  std::vector<FeedRow> rows;
  for (const auto& t : wiring::tow_feeds(design, w)) {
    const auto& charger = design->chargers[std::size_t(t.charger)];
    FeedRow row{charger.name, {}, {}, {}, {}, {}, charger.current};
    if (t.feed >= 0) row.feed = design->feeds[std::size_t(t.feed)].name;
    if (t.known) {
      row.low = t.low.car, row.normal = t.normal.car;
      row.delivers_low = t.low.delivers, row.delivers_normal = t.normal.delivers;
    }
    rows.push_back(std::move(row));
  }
  return rows;
}
const std::vector<Column>& feed_columns() {
  static const std::vector<Column> columns{
      column<&FeedRow::name>("name", "charger"),
      column<&FeedRow::feed>("feed", "feed"),
      column<&FeedRow::low>("low_V", "car low", "V"),
      column<&FeedRow::delivers_low>("delivers_low_A", "delivers", "A"),
      column<&FeedRow::normal>("normal_V", "car running", "V"),
      column<&FeedRow::delivers_normal>("delivers_normal_A", "delivers", "A"),
      column<&FeedRow::stated>("stated_A", "stated", "A")};
  return columns;
}

struct ArrayRow {
  std::string name, controller;
  std::optional<Voltage> cold_voc, hot_vmp;
  Voltage max_voltage{}, needed{};
  std::optional<Current> short_circuit, max_short_circuit;
};
std::vector<ArrayRow> array_rows(const design::Design& design, const wiring::Assessment& w) {
  std::vector<ArrayRow> rows;
  for (const auto& a : design->arrays) {
    const auto& controller = design[a.controller];
    rows.push_back({a.name, controller.name, wiring::cold_string_voltage(design, a),
                    wiring::hot_string_voltage(design, a), controller.max_voltage,
                    wiring::charging_voltage_needed(design, w, a),
                    wiring::array_short_circuit(design, a.controller),
                    controller.max_short_circuit_current});
  }
  return rows;
}
const std::vector<Column>& array_columns() {
  static const std::vector<Column> columns{
      column<&ArrayRow::name>("name", "array"),
      column<&ArrayRow::controller>("controller", "controller"),
      column<&ArrayRow::cold_voc>("cold_voc_V", "open, cold", "V"),
      column<&ArrayRow::max_voltage>("max_voltage_V", "at most", "V"),
      column<&ArrayRow::hot_vmp>("hot_vmp_V", "working, hot", "V"),
      column<&ArrayRow::needed>("needed_V", "at least", "V"),
      column<&ArrayRow::short_circuit>("short_circuit_A", "of all, short-circuited", "A"),
      column<&ArrayRow::max_short_circuit>("max_short_circuit_A", "at most", "A")};
  return columns;
}

const std::vector<Column>& sum_columns() {
  using wiring::ChargingSum;
  static const std::vector<Column> columns{
      column<&ChargingSum::name>("name", "at once"),
      column<&ChargingSum::total>("current_A", "together", "A"),
      column<&ChargingSum::busiest>("busiest_battery_A", "into the busiest battery", "A")};
  return columns;
}

struct InverterRow {
  std::string name;
  std::optional<std::string> beside;
  std::optional<Temperature> temperature;
  Power rating{};
  std::optional<Ratio> rated_down_to;
  std::optional<Power> surge_load;
  std::optional<Ratio> surge_down_to, surge_rating_down_to;
};
std::vector<InverterRow> inverter_rows(const design::Design& design, const wiring::Assessment& w) {
  std::vector<InverterRow> rows;
  for (const auto& r : w.reserves) {
    const auto& inverter = design[r.inverter];
    InverterRow row{inverter.name, {}, {}, inverter.rating, {}, {}, {}, {}};
    if (r.why_unknown.empty()) {
      row.beside = r.beside;
      row.temperature = r.temperature;
      row.rated_down_to = r.rated.down_to;
      if (r.start) row.surge_load = r.start->given, row.surge_down_to = r.start->down_to;
      if (r.surge) row.surge_rating_down_to = r.surge->down_to;
    }
    rows.push_back(std::move(row));
  }
  return rows;
}
const std::vector<Column>& inverter_columns() {
  static const std::vector<Column> columns{
      column<&InverterRow::name>("name", "inverter"),
      column<&InverterRow::beside>("beside", "beside case"),
      column<&InverterRow::temperature>("temperature_C", "cells", "°C"),
      column<&InverterRow::rating>("rating_W", "rated", "W"),
      column<&InverterRow::rated_down_to>("rated_down_to", "carried down to"),
      column<&InverterRow::surge_load>("surge_load_W", "largest start", "W"),
      column<&InverterRow::surge_down_to>("surge_down_to", "carried down to"),
      column<&InverterRow::surge_rating_down_to>("surge_rating_down_to", "surge rating down to")};
  return columns;
}

}  // namespace

Json charging_object(const design::Design& design, const wiring::Assessment& w) {
  return {{"feeds", rows_json(feed_columns(), feed_rows(design, w))},
          {"arrays", rows_json(array_columns(), array_rows(design, w))},
          {"sums", rows_json(sum_columns(), wiring::charging_sums(design, w))}};
}

Json inverters_array(const design::Design& design, const wiring::Assessment& w) {
  return rows_json(inverter_columns(), inverter_rows(design, w));
}

void add_charging(Page& page, const design::Design& design, const wiring::Assessment& w) {
  const auto add = [&](const char* title, const std::vector<Column>& columns, const auto& rows) {
    if (!rows.empty()) page.blocks.push_back(table_of(title, columns, rows));
  };
  add("Inverters and the state of charge down to which they are carried", inverter_columns(),
      inverter_rows(design, w));
  add("Feeds of dc-dc chargers", feed_columns(), feed_rows(design, w));
  add("Arrays", array_columns(), array_rows(design, w));
  add("Charging at once", sum_columns(), wiring::charging_sums(design, w));
}

}  // namespace housepower::report

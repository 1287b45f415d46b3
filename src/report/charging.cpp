// SPDX-License-Identifier: Apache-2.0
#include "charging.hpp"
#include "answer_shapes.hpp"

#include "housepower/wiring/charging_circuits.hpp"

namespace housepower::report {
namespace {

using wiring::ChargingSum;

struct FeedAt {
  const design::Design& design;
  wiring::TowFeed tow;
};
std::vector<FeedAt> feeds_at(const design::Design& design, const wiring::Assessment& w) {
  std::vector<FeedAt> all;
  for (const auto& tow : wiring::tow_feeds(design, w)) all.push_back({design, tow});
  return all;
}
const auto& charger_of(const FeedAt& f) { return f.design->chargers[std::size_t(f.tow.charger)]; }
std::optional<std::string> name_of_feed(const FeedAt& f) {
  if (f.tow.feed < 0) return std::nullopt;
  return f.design->feeds[std::size_t(f.tow.feed)].name;
}
template <auto Delivery, auto Member> auto delivered(const FeedAt& f) {
  return f.tow.known ? std::optional(f.tow.*Delivery.*Member) : std::nullopt;
}
const Columns<FeedAt>& feed_columns() {
  using wiring::Delivery, wiring::TowFeed;
  static const Columns<FeedAt> columns{
      {"name", "charger", [](const FeedAt& f) { return charger_of(f).name; }},
      {"feed", "feed", name_of_feed},
      {"low_V", "car low", "V", delivered<&TowFeed::low, &Delivery::car>},
      {"delivers_low_A", "delivers", "A", delivered<&TowFeed::low, &Delivery::delivers>},
      {"normal_V", "car running", "V", delivered<&TowFeed::normal, &Delivery::car>},
      {"delivers_normal_A", "delivers", "A", delivered<&TowFeed::normal, &Delivery::delivers>},
      {"stated_A", "stated", "A", [](const FeedAt& f) { return charger_of(f).current; }}};
  return columns;
}

struct ArrayAt {
  const design::Design& design;
  const wiring::Assessment& wiring;
  const design::resolved::Array& array;
};
std::vector<ArrayAt> arrays_at(const design::Design& design, const wiring::Assessment& w) {
  std::vector<ArrayAt> all;
  for (const auto& array : design->arrays) all.push_back({design, w, array});
  return all;
}
const auto& controller_of(const ArrayAt& a) { return a.design[a.array.controller]; }
const Columns<ArrayAt>& array_columns() {
  static const Columns<ArrayAt> columns{
      {"name", "array", [](const ArrayAt& a) { return a.array.name; }},
      {"controller", "controller", [](const ArrayAt& a) { return controller_of(a).name; }},
      {"cold_voc_V", "open, cold", "V",
       [](const ArrayAt& a) { return wiring::cold_string_voltage(a.design, a.array); }},
      {"max_voltage_V", "at most", "V",
       [](const ArrayAt& a) { return controller_of(a).max_voltage; }},
      {"hot_vmp_V", "working, hot", "V",
       [](const ArrayAt& a) { return wiring::hot_string_voltage(a.design, a.array); }},
      {"needed_V", "at least", "V",
       [](const ArrayAt& a) {
         return wiring::charging_voltage_needed(a.design, a.wiring, a.array);
       }},
      {"short_circuit_A", "of all, short-circuited", "A",
       [](const ArrayAt& a) { return wiring::array_short_circuit(a.design, a.array.controller); }},
      {"max_short_circuit_A", "at most", "A",
       [](const ArrayAt& a) { return controller_of(a).max_short_circuit_current; }}};
  return columns;
}

const Columns<ChargingSum>& sum_columns() {
  static const Columns<ChargingSum> columns{
      {"name", "at once", &ChargingSum::name},
      {"current_A", "together", "A", &ChargingSum::total},
      {"busiest_battery_A", "into the busiest battery", "A", &ChargingSum::busiest}};
  return columns;
}

struct InverterAt {
  const design::Design& design;
  const wiring::InverterReserve& reserve;
};
std::vector<InverterAt> inverters_at(const design::Design& design, const wiring::Assessment& w) {
  std::vector<InverterAt> all;
  for (const auto& reserve : w.reserves) all.push_back({design, reserve});
  return all;
}
const auto& inverter_of(const InverterAt& i) { return i.design[i.reserve.inverter]; }
/// What is known of its reserve at all.
template <auto Member> auto of_reserve(const InverterAt& i) {
  return i.reserve.why_unknown.empty() ? std::optional(i.reserve.*Member) : std::nullopt;
}
template <auto Load, auto Member> auto of_load(const InverterAt& i) {
  const auto& load = i.reserve.*Load;
  return i.reserve.why_unknown.empty() && load ? std::optional((*load).*Member) : std::nullopt;
}
const Columns<InverterAt>& inverter_columns() {
  using wiring::CarriedLoad, wiring::InverterReserve;
  static const Columns<InverterAt> columns{
      {"name", "inverter", [](const InverterAt& i) { return inverter_of(i).name; }},
      {"beside", "beside case", of_reserve<&InverterReserve::beside>},
      {"temperature_C", "cells", "°C", of_reserve<&InverterReserve::temperature>},
      {"rating_W", "rated", "W", [](const InverterAt& i) { return inverter_of(i).rating; }},
      {"rated_down_to", "carried down to",
       [](const InverterAt& i) {
         return i.reserve.why_unknown.empty() ? std::optional(i.reserve.rated.down_to)
                                              : std::nullopt;
       }},
      {"surge_load_W", "largest start", "W", of_load<&InverterReserve::start, &CarriedLoad::given>},
      {"surge_down_to", "carried down to", of_load<&InverterReserve::start, &CarriedLoad::down_to>},
      {"surge_rating_down_to", "surge rating down to",
       of_load<&InverterReserve::surge, &CarriedLoad::down_to>}};
  return columns;
}

}  // namespace

Json charging_object(const design::Design& design, const wiring::Assessment& w) {
  return {{"feeds", rows_json(feed_columns(), feeds_at(design, w))},
          {"arrays", rows_json(array_columns(), arrays_at(design, w))},
          {"sums", rows_json(sum_columns(), wiring::charging_sums(design, w))}};
}

Json inverters_array(const design::Design& design, const wiring::Assessment& w) {
  return rows_json(inverter_columns(), inverters_at(design, w));
}

void add_charging(Page& page, const design::Design& design, const wiring::Assessment& w) {
  const auto add = [&](const char* title, const auto& columns, const auto& rows) {
    if (!rows.empty()) page.blocks.push_back(table_of(title, columns, rows));
  };
  add("Inverters and the state of charge down to which they are carried", inverter_columns(),
      inverters_at(design, w));
  add("Feeds of dc-dc chargers", feed_columns(), feeds_at(design, w));
  add("Arrays", array_columns(), arrays_at(design, w));
  add("Charging at once", sum_columns(), wiring::charging_sums(design, w));
}

Json charging_shape() {
  return is::object({{"feeds", is::rows(feed_columns())},
                     {"arrays", is::rows(array_columns())},
                     {"sums", is::rows(sum_columns())}});
}

Json inverters_shape() { return is::rows(inverter_columns()); }

}  // namespace housepower::report

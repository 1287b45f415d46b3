// SPDX-License-Identifier: Apache-2.0
#include "json.hpp"

namespace housepower::report {
namespace {

using energy::ConsumerDay;
using energy::MonthDay;

std::string_view month_of(int month) {
  constexpr std::string_view names[] = {"January",   "February", "March",    "April",
                                        "May",       "June",     "July",     "August",
                                        "September", "October",  "November", "December"};
  return names[static_cast<std::size_t>(month)];
}

const std::vector<Column>& month_columns() {
  static const std::vector<Column> columns{
      {"month",
       "month",
       {},
       [](const void* row) -> Cell {
         return std::string(month_of(static_cast<const MonthDay*>(row)->month));
       }},
      column<&MonthDay::ambient>("ambient_C", "mean air", "°C"),
      column<&MonthDay::load>("load_Wh", "used a day", "Wh"),
      column<&MonthDay::load_charge>("load_Ah", "used a day", "Ah"),
      column<&MonthDay::solar>("solar_Wh", "from the sun", "Wh"),
      column<&MonthDay::balance>("balance_Wh", "balance", "Wh"),
      column<&MonthDay::clipped>("clipped_Wh", "not taken", "Wh")};
  return columns;
}

const std::vector<Column>& consumer_columns() {
  static const std::vector<Column> columns{
      column<&ConsumerDay::name>("name", "consumer"),
      column<&ConsumerDay::energy>("Wh_per_day", "a day", "Wh"),
      column<&ConsumerDay::charge>("Ah_per_day", "a day", "Ah")};
  return columns;
}

}  // namespace

Json energy_object(const energy::Assessment& e) {
  Json json{{"months", e.has_place ? rows_json(month_columns(), e.months) : Json::array()}};
  json["appliances"] = e.months.empty()
                           ? Json::array()
                           : rows_json(consumer_columns(), e.months[e.judged].consumers);
  json["usable_Wh"] = e.usable ? json_of(e.usable->energy) : Json();
  json["usable_Ah"] = e.usable ? json_of(e.usable->charge) : Json();
  json["autonomy_d"] = e.autonomy ? Json(double(*e.autonomy / day)) : Json();
  json["judged_month"] = e.has_place ? Json(month_of(e.months[e.judged].month)) : Json();
  json["load_Wh"] = e.months.empty() ? Json() : json_of(e.months[e.judged].load);
  json["load_Ah"] = e.months.empty() ? Json() : json_of(e.months[e.judged].load_charge);
  json["input_doubt"] = double(e.input_doubt);
  json["notes"] = e.notes;
  return json;
}

std::string energy_json(const CheckedDesign& c) {
  Json json = head();
  json["design"] = design_object(c);
  const Json answer = energy_object(c.checked.energy);
  json["energy"] = answer;
  json.update(answer);  // the same keys at the top, for who asks for energy alone
  return dump(json);
}

Page energy_page(const design::Design& design, const energy::Assessment& e) {
  Page page{"Energy", {}};
  if (e.months.empty()) return page;
  const MonthDay& judged = e.months[e.judged];
  std::string answer = "The mean day uses " + print(judged.load) + " (" +
                       print(judged.load_charge) + " at " +
                       print(design->bank ? design->bank->voltage() : design->nominal) + ")";
  if (e.has_place)
    answer += " in " + std::string(month_of(judged.month)) + ", the month that counts";
  if (e.usable)
    answer += ". The bank gives " + print(e.usable->energy) + " (" + print(e.usable->charge) +
              ") down to its reserve, aged " + print(design->promise.bank_age) + " and at " +
              print(e.usable->temperature);
  if (e.autonomy) answer += ": " + print(*e.autonomy) + " without any charging";
  page.blocks.push_back(Paragraph{answer + "."});
  page.blocks.push_back(table_of("Used a day, by consumer", consumer_columns(), judged.consumers));
  if (e.has_place)
    page.blocks.push_back(table_of("The mean day of each month", month_columns(), e.months));
  for (const auto& note : e.notes) page.blocks.push_back(Paragraph{note});
  return page;
}

}  // namespace housepower::report

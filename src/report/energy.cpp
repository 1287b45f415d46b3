// SPDX-License-Identifier: Apache-2.0
#include "housepower/report/energy.hpp"

#include "answer_shapes.hpp"
#include "json.hpp"
#include "pieces.hpp"

namespace housepower::report {
namespace {

using energy::ConsumerDay;
using energy::MonthDay;
using energy::MonthOverYears;

const Columns<MonthDay>& mean_day_columns() {
  static const Columns<MonthDay> columns{
      {"month", "month", [](const MonthDay& m) { return energy::month_name(m.month); }},
      {"ambient_C", "mean air", "°C", &MonthDay::ambient},
      {"load_Wh", "used a day", "Wh", &MonthDay::load},
      {"load_Ah", "used a day", "Ah", &MonthDay::load_charge},
      {"solar_Wh", "from the sun", "Wh", &MonthDay::solar},
      {"balance_Wh", "balance", "Wh", &MonthDay::balance},
      {"clipped_Wh", "not taken", "Wh", &MonthDay::clipped}};
  return columns;
}

const Columns<ConsumerDay>& demand_columns() {
  static const Columns<ConsumerDay> columns{{"name", "consumer", &ConsumerDay::name},
                                            {"Wh_per_day", "a day", "Wh", &ConsumerDay::energy},
                                            {"Ah_per_day", "a day", "Ah", &ConsumerDay::charge}};
  return columns;
}

const Columns<MonthOverYears>& year_columns() {
  static const Columns<MonthOverYears> columns{
      {"month", "month", [](const MonthOverYears& m) { return energy::month_name(m.month); }},
      {"unserved_Wh", "not served a day", "Wh", &MonthOverYears::unserved},
      {"unserved_share", "share", &MonthOverYears::unserved_share},
      {"spilled_Wh", "not needed a day", "Wh", &MonthOverYears::spilled},
      {"worst_run_Wh", "worst run", "Wh", &MonthOverYears::worst_run},
      {"worst_run_d", "its days", "d", &MonthOverYears::worst_run_lasts}};
  return columns;
}

}  // namespace

Json energy_object(const energy::Assessment& e) {
  Json json{{"months", e.has_place ? rows_json(mean_day_columns(), e.months) : Json::array()}};
  json["appliances"] =
      e.months.empty() ? Json::array() : rows_json(demand_columns(), e.months[e.judged].consumers);
  json["usable_Wh"] = e.usable ? json_of(e.usable->energy) : Json();
  json["usable_Ah"] = e.usable ? json_of(e.usable->charge) : Json();
  json["autonomy_d"] = e.autonomy ? Json(double(*e.autonomy / day)) : Json();
  json["autonomy_mean_day_d"] =
      e.autonomy_mean_day ? Json(double(*e.autonomy_mean_day / day)) : Json();
  json["autonomy_outlasts"] = e.without_charging && e.without_charging->outlasts;
  json["judged_month"] = e.has_place ? Json(energy::month_name(e.months[e.judged].month)) : Json();
  json["load_Wh"] = e.months.empty() ? Json() : json_of(e.months[e.judged].load);
  json["load_Ah"] = e.months.empty() ? Json() : json_of(e.months[e.judged].load_charge);
  json["input_doubt"] = double(e.input_doubt);
  json["notes"] = e.notes;
  return json;
}

Page energy_page(const answers::EnergyReport& r) {
  Page page = energy_page(r.checked.design, r.checked.checked.energy);
  const auto& rows = r.years;
  if (rows.empty()) return page;
  const std::string weather = std::to_string(rows[0].years) +
                              (rows[0].years == 1 ? " year" : " years") + " of " +
                              std::string(word_of(rows[0].kind)) + " weather, hour by hour";
  auto table =
      table_of("Each month from its first day to its last, in " + weather, year_columns(), rows);
  page.blocks.insert(page.blocks.begin() + 1, std::move(table));
  page.blocks.push_back(
      Paragraph{"Not served and not needed: as the design travels and charges, at the promised "
                "age. Worst run: "
                "of the sun alone, the most that was drawn below full and in how many days."});
  return page;
}

std::string energy_json(const answers::EnergyReport& r) {
  Json json = head();
  json["design"] = design_object(r.checked);
  Json answer = energy_object(r.checked.checked.energy);
  answer["months_over_years"] = rows_json(year_columns(), r.years);
  json["energy"] = answer;
  json.update(answer);  // the same keys at the top, for who asks for energy alone
  return dump(json);
}

std::string autonomy_text(const energy::Assessment& e) {
  if (!e.autonomy) return {};
  const bool outlasts = e.without_charging && e.without_charging->outlasts;
  return days_or_hours(*e.autonomy) + (outlasts ? " or more" : "");
}

std::string energy_answer(const design::Design& design, const energy::Assessment& e) {
  const MonthDay& judged = e.months[e.judged];
  std::string answer = "The mean day uses " + print(judged.load) + " (" +
                       print(judged.load_charge) + " at " +
                       print(design->bank ? design->bank->voltage() : design->nominal) + ")";
  if (e.has_place)
    answer += " in " + std::string(energy::month_name(judged.month)) + ", the month that counts";
  if (e.usable)
    answer += ". The bank gives " + print(e.usable->energy) + " (" + print(e.usable->charge) +
              ") down to its reserve, aged " + print(design->promise.bank_age) + " and at " +
              print(e.usable->temperature);
  if (!e.autonomy) return answer + ".";
  if (!e.without_charging) return answer + ": " + print(*e.autonomy) + " without any charging.";
  answer += ". Without any charging " + print(Number(design->promise.chance), 3) +
            " of the stays that begin in " +
            std::string(energy::month_name(e.without_charging->month)) + " last " +
            autonomy_text(e) + ", simulated hour by hour";
  if (e.autonomy_mean_day) answer += "; its mean day says " + print(*e.autonomy_mean_day);
  return answer + ".";
}

TableBlock consumer_table(const energy::Assessment& e) {
  const MonthDay& day = e.months[e.judged];
  const std::string when = e.has_place ? " in " + std::string(energy::month_name(day.month)) : "";
  auto table = table_of("Used a day" + when + ", by consumer", demand_columns(), day.consumers);
  for (const auto& c : day.consumers) table.bars.lengths.push_back(c.energy.value());
  return table;
}
TableBlock month_table(const energy::Assessment& e) {
  auto table = table_of("The mean day of each month", mean_day_columns(), e.months);
  table.bars.head = "sun, and used |";
  for (const MonthDay& m : e.months) {
    table.bars.lengths.push_back(m.solar.value());
    table.bars.marks.push_back(m.load.value());
  }
  return table;
}

Page energy_page(const design::Design& design, const energy::Assessment& e) {
  Page page{"Energy", {}};
  if (e.months.empty()) return page;
  page.blocks.push_back(Paragraph{energy_answer(design, e)});
  page.blocks.emplace_back(consumer_table(e));
  if (e.has_place) page.blocks.emplace_back(month_table(e));
  for (const auto& note : e.notes) page.blocks.push_back(Paragraph{note});
  return page;
}

JsonKeys energy_keys() {
  const Json figure = is::or_null(is::number());
  return {{"months", is::rows(mean_day_columns())},
          {"appliances", is::rows(demand_columns())},
          {"usable_Wh", figure},
          {"usable_Ah", figure},
          {"autonomy_d", figure},
          {"autonomy_mean_day_d", figure},
          {"autonomy_outlasts", is::flag()},
          {"judged_month", is::or_null(is::text())},
          {"load_Wh", figure},
          {"load_Ah", figure},
          {"input_doubt", is::number()},
          {"notes", is::list(is::text())}};
}

JsonKeys energy_answer_keys() {
  const JsonKeys both = energy_keys() + JsonKeys{{"months_over_years", is::rows(year_columns())}};
  return JsonKeys{{"design", is::object(design_keys())}, {"energy", is::object(both)}} + both;
}

}  // namespace housepower::report

// SPDX-License-Identifier: Apache-2.0
// How long a stay lasts, in words for who sells and in figures for who designs.
#include <cmath>

#include "housepower/design/words.hpp"
#include "housepower/parts/ageing.hpp"
#include "housepower/report/stay.hpp"
#include "json.hpp"

namespace housepower::report {
namespace {

using energy::StayAnswer;

/// "2.5 days", "30 days or more": rounded down to half days.
std::string in_days(Duration d, Duration longest) {
  const double days = double(energy::half_days(d) / day);
  return print_plain(days) + (days == 1.0 ? " day" : " days") + (d >= longest ? " or more" : "");
}

std::string percent(Ratio share) { return print_plain(100.0 * double(share), 3) + " %"; }

std::optional<std::string> place_of(const design::Design& d) {
  if (d->site.hourly) return d->site.weather;
  return d->site.town ? std::optional(d->site.town->title) : std::nullopt;
}

double days(Duration d) { return double(d / day); }

struct MonthRow {
  std::string month;
  Duration met{}, met_when_new{}, low{}, high{};
  Ratio unserved = 0.0;
  Energy gathered{}, spilled{};
  explicit MonthRow(const StayAnswer& a)
      : month(energy::month_name(a.month)), met(a.met), met_when_new(a.met_when_new),
        low(a.doubt[0]), high(a.doubt[1]), unserved(a.unserved), gathered(a.gathered),
        spilled(a.spilled) {}
};
const std::vector<Column>& month_columns() {
  static const std::vector<Column> columns{
      column<&MonthRow::month>("month", "month"),
      column<&MonthRow::met>("stay_d", "lasts", "d"),
      column<&MonthRow::met_when_new>("stay_new_d", "bank new", "d"),
      column<&MonthRow::low>("doubt_low_d", "less sun, more use", "d"),
      column<&MonthRow::high>("doubt_high_d", "more sun, less use", "d"),
      column<&MonthRow::unserved>("unserved_share", "not served"),
      column<&MonthRow::gathered>("gathered_Wh", "offered a day", "Wh"),
      column<&MonthRow::spilled>("spilled_Wh", "not needed", "Wh")};
  return columns;
}
std::vector<MonthRow> month_rows(const std::vector<StayAnswer>& months) {
  return {months.begin(), months.end()};
}

struct EmptiedRow {
  std::string name;
  Energy energy{};
  Ratio share = 0.0;
};
std::vector<EmptiedRow> emptied_by(const StayReport& r) {
  std::vector<EmptiedRow> rows;
  if (r.day.months.empty()) return rows;
  Energy all = r.answer.heated;
  for (const auto& c : r.day.months[0].consumers) {
    if (!(c.energy.value() > 0.0)) continue;
    all += c.energy;
    rows.push_back({c.name, c.energy, 0.0});
  }
  if (r.answer.heated.value() > 0.0) rows.push_back({"heater in the box", r.answer.heated, 0.0});
  for (auto& row : rows) row.share = row.energy / all;
  std::stable_sort(rows.begin(), rows.end(),
                   [](const auto& a, const auto& b) { return a.energy > b.energy; });
  return rows;
}
const std::vector<Column>& emptied_columns() {
  static const std::vector<Column> columns{column<&EmptiedRow::name>("name", "consumer"),
                                           column<&EmptiedRow::energy>("Wh_per_day", "a day", "Wh"),
                                           column<&EmptiedRow::share>("Wh_share", "share")};
  return columns;
}

using sizing::Lever;
const std::vector<Column>& lever_columns() {
  static const std::vector<Column> columns{column<&Lever::change>("change", "change"),
                                           column<&Lever::met>("stay_d", "lasts", "d")};
  return columns;
}
const std::vector<Column>& place_columns() {
  static const std::vector<Column> columns{
      column<&PlaceStay::place>("place", "place"), column<&PlaceStay::title>("title", "town"),
      column<&PlaceStay::month>("month", "month"), column<&PlaceStay::met>("stay_d", "lasts", "d")};
  return columns;
}

std::string of_weather(const StayAnswer& a) {
  if (a.kind == energy::WeatherKind::synthetic)
    return std::to_string(a.years) +
           " synthetic years: made up from the town's monthly means (Aguiar's chains of clear and "
           "dull days, the months' means varying from year to year), not measured";
  if (a.kind == energy::WeatherKind::typical_year)
    return "one typical year from the weather file: months of different years put together. It "
           "says "
           "nothing of how years differ, so no chance is claimed: the figure is of the days of "
           "arrival in that one year";
  return std::to_string(a.years) + " measured years from the weather file";
}

std::vector<std::string> assumptions(const StayReport& r) {
  const auto& p = r.design->promise;
  const auto& t = r.design->travel;
  std::vector<std::string> list;
  list.push_back("Weather: " + of_weather(r.answer) + ".");
  if (r.answer.years < 10)
    list.push_back("Fewer than ten years of weather support no \"9 of 10\".");
  list.push_back("Arrives with " + percent(p.arrive_at) + ", keeps " + percent(p.reserve) +
                 " back; bank " + print(p.bank_age) + " old; use: " + r.use + "; pitch: " +
                 std::string(words<design::Pitch>[std::size_t(r.design->site.pitch)]) + ".");
  const auto left = parts::age_range(*r.design->bank, p.bank_age);
  list.push_back("At that age the bank keeps " + percent(left.small_cells) +
                 " of its capacity by one published model and " + percent(left.large_cells) +
                 " by the other; the smaller counts.");
  std::string travel;
  const auto add = [&](std::string what) { travel += (travel.empty() ? "" : ", ") + what; };
  if (t.every.value() > 0.0 && t.driving.value() > 0.0)
    add(print(t.driving) + " of driving every " + print(t.every));
  if (t.mains_nights > 0) add(std::to_string(t.mains_nights) + " of seven nights on mains");
  if (t.generator.value() > 0.0) add(print(t.generator) + " of generator a day");
  list.push_back(travel.empty() ? "Parked throughout: the sun alone charges."
                                : "Charged besides by " + travel + ", as the design says.");
  list.push_back("Doubt of what went in: sun ±" + percent(energy::input_doubt) + ", use ±" +
                 percent(energy::load_doubt) + " (judgement).");
  if (!r.left_off.empty()) list.push_back("Left off: " + r.left_off + ".");
  if (!r.taken_along.empty()) list.push_back("Used every day: " + r.taken_along + ".");
  return list;
}

std::string headline(const StayReport& r) {
  const StayAnswer& a = r.answer;
  std::string text = r.design->name + ", " + place_of(r.design).value_or("no place") + ", " +
                     std::string(energy::month_name(a.month)) + ": ";
  return text + in_days(a.met, a.longest);
}

std::string answer_text(const StayReport& r) {
  const StayAnswer& a = r.answer;
  std::string text = stay_among(a) + " that begin in " + std::string(energy::month_name(a.month)) +
                     " last " + in_days(a.met, a.longest) + "; with the bank new, " +
                     in_days(a.met_when_new, a.longest) + ". ";
  if (a.sampling)
    text += "Sampling: between " + print_plain(days((*a.sampling)[0]), 3) + " and " +
            print_plain(days((*a.sampling)[1]), 3) + " d (95 %). ";
  text += "Doubt of what went in: " + print_plain(days(a.doubt[0]), 3) + " to " +
          print_plain(days(a.doubt[1]), 3) + " d. ";
  if (a.promise)
    text += "The promise of " + print(*r.design->promise.stay) + " is kept by " +
            percent(a.promise->value) + " of them" +
            (a.promise->interval ? " (" + percent((*a.promise->interval)[0]) + " to " +
                                       percent((*a.promise->interval)[1]) + ")"
                                 : "") +
            ". ";
  if (r.unlimited) text += "The sun and what charges besides keep up: the stay is unlimited.";
  else if (a.met >= a.longest)
    text += "No stay longer than " + print(a.longest) +
            " was simulated; over the mean day more is used than gathered.";
  return text;
}

void append_single_questions(Page& page, const StayReport& r) {
  TableBlock runs{"How long it runs without a break, from a full bank to the reserve",
                  {"appliance", "draws, W", "alone", "with the rest"},
                  {false, true, true, true},
                  {}};
  for (const auto& one : r.runtimes)
    runs.rows.push_back(
        {one.name, print_plain(one.power / watt, 3), print(one.alone), print(one.with_the_rest)});
  page.blocks.push_back(std::move(runs));
  TableBlock full{"From the reserve to as good as full (94 %), in the mean day, with all in use",
                  {"by", "takes"},
                  {false, false},
                  {}};
  for (const auto& one : r.refills)
    full.rows.push_back(
        {one.by, one.takes ? print(*one.takes) : "never; it gets to " + percent(one.settles)});
  page.blocks.push_back(std::move(full));
  if (!r.night.consumers.empty()) {
    std::string text = "A night from 18 to 8 h takes " + print(r.night.energy) + ": ";
    for (std::size_t i = 0; i < std::min<std::size_t>(4, r.night.consumers.size()); ++i)
      text +=
          (i ? ", " : "") + r.night.consumers[i].name + " " + print(r.night.consumers[i].energy);
    if (r.answer.heated.value() > 0.0)
      text += "; the heater in the box besides " + print(r.answer.heated) + " a day";
    page.blocks.push_back(Paragraph{text + "."});
  }
  if (r.parked) {
    std::string text = "Parked at " + percent(r.design->bank->storage_charge) +
                       " and unattended it may stand " + print(r.parked->may_stand) +
                       " without sun; " + print(r.parked->all) + " is drawn: ";
    for (std::size_t i = 0; i < r.parked->draws.size(); ++i)
      text += (i ? ", " : "") + r.parked->draws[i].name + " " + print(r.parked->draws[i].value);
    page.blocks.push_back(Paragraph{text + "."});
  }
}

void append_to_stay_on(Page& page, const StayReport& r) {
  if (r.unlimited || r.to_stay_on.empty()) return;
  std::string text = "To stay on without an end, one of these a day: ";
  for (std::size_t i = 0; i < r.to_stay_on.size(); ++i) {
    const auto& one = r.to_stay_on[i];
    text += (i ? "; " : "") + one.by + " " +
            (one.a_day ? print(*one.a_day) : std::string("not even 12 h"));
  }
  page.blocks.push_back(Paragraph{text + "."});
}

}  // namespace

std::string stay_in_days(Duration met, Duration longest) { return in_days(met, longest); }
std::string stay_among(const StayAnswer& a) {
  return percent(a.chance) +
         (a.years < 10 ? " of the days of arrival in that one year" : " of stays");
}
std::string stay_headline(const StayReport& r) { return headline(r); }
std::string stay_answer(const StayReport& r) { return answer_text(r); }

std::vector<Block> stay_blocks(const StayReport& r) {
  Page page;
  if (!r.places.empty())
    page.blocks.push_back(
        table_of("By place, the shortest month of each", place_columns(), r.places));
  if (r.months.size() > 1)
    page.blocks.push_back(
        table_of("Stays by month of arrival", month_columns(), month_rows(r.months)));
  page.blocks.push_back(table_of("What empties the bank", emptied_columns(), emptied_by(r)));
  if (!r.levers.all.empty())
    page.blocks.push_back(
        table_of("What would change it, each tried by simulating again (as it is: " +
                     print_plain(days(r.levers.base), 3) + " d)",
                 lever_columns(), r.levers.all));
  append_to_stay_on(page, r);
  append_single_questions(page, r);
  return std::move(page.blocks);
}

std::vector<std::string> stay_rests_on(const StayReport& r) {
  auto all = assumptions(r);
  all.insert(all.end(), r.day.notes.begin(), r.day.notes.end());
  return all;
}

Page stay_page(const StayReport& r) {
  Page page{headline(r), {}};
  page.blocks.push_back(Paragraph{answer_text(r)});
  for (auto& block : stay_blocks(r)) page.blocks.push_back(std::move(block));
  const Heading assumed{"What this rests on"};
  page.blocks.emplace_back(assumed);
  for (auto& line : stay_rests_on(r)) page.blocks.push_back(Paragraph{std::move(line)});
  return page;
}

std::string stay_json(const StayReport& r) {
  const StayAnswer& a = r.answer;
  Json json = head();
  json["design"] = {
      {"name", r.design->name}, {"file", r.design->file}, {"inputs_digest", r.inputs_digest}};
  json["place"] = r.design->site.town ? Json(r.design->site.town->name) : Json();
  json["month"] = energy::month_name(a.month);
  json["stay_d"] = days(a.met);
  json["stay_new_d"] = days(a.met_when_new);
  json["longest_d"] = days(a.longest);
  json["chance"] = double(a.chance);
  json["sampling_interval_d"] = a.sampling
                                    ? Json::array({days((*a.sampling)[0]), days((*a.sampling)[1])})
                                    : Json::array({Json(), Json()});
  json["input_doubt_d"] = Json::array({days(a.doubt[0]), days(a.doubt[1])});
  json["promise_met_chance"] = a.promise ? Json(double(a.promise->value)) : Json();
  json["promise_met_interval"] =
      a.promise && a.promise->interval
          ? Json::array({double((*a.promise->interval)[0]), double((*a.promise->interval)[1])})
          : Json::array({Json(), Json()});
  json["unlimited"] = r.unlimited;
  json["unserved_share"] = double(a.unserved);
  json["gathered_Wh"] = json_of(a.gathered);
  json["spilled_Wh"] = json_of(a.spilled);
  json["heated_Wh"] = json_of(a.heated);
  json["coldest_cells_C"] = json_of(a.coldest);
  json["hottest_cells_C"] = json_of(a.hottest);
  json["weather_kind"] = word_of(a.kind);
  json["years"] = a.years;
  json["starts"] = a.starts;
  json["use"] = r.use;
  const auto left = parts::age_range(*r.design->bank, r.design->promise.bank_age);
  json["capacity_left"] = Json::array({double(std::min(left.small_cells, left.large_cells)),
                                       double(std::max(left.small_cells, left.large_cells))});
  json["emptied_by"] = rows_json(emptied_columns(), emptied_by(r));
  json["levers"] = rows_json(lever_columns(), r.levers.all);
  json["levers_base_d"] = days(r.levers.base);
  json["to_stay_on"] = Json::array();
  for (const auto& one : r.to_stay_on)
    json["to_stay_on"].push_back(
        {{"by", one.by}, {"hours_a_day", one.a_day ? Json(double(*one.a_day / hour)) : Json()}});
  json["runtimes"] = Json::array();
  for (const auto& one : r.runtimes)
    json["runtimes"].push_back({{"name", one.name},
                                {"power_W", json_of(one.power)},
                                {"alone_h", double(one.alone / hour)},
                                {"with_the_rest_h", double(one.with_the_rest / hour)}});
  json["refills"] = Json::array();
  for (const auto& one : r.refills)
    json["refills"].push_back({{"by", one.by},
                               {"takes_h", one.takes ? Json(double(*one.takes / hour)) : Json()},
                               {"settles_at", double(one.settles)}});
  json["night_Wh"] = json_of(r.night.energy);
  json["parked"] = Json();
  if (r.parked) {
    json["parked"] = {{"may_stand_d", days(r.parked->may_stand)}, {"draws", Json::array()}};
    for (const auto& one : r.parked->draws)
      json["parked"]["draws"].push_back({{"name", one.name}, {"power_W", json_of(one.value)}});
  }
  json["months"] = rows_json(month_columns(), month_rows(r.months));
  json["places"] = rows_json(place_columns(), r.places);
  json["assumptions"] = assumptions(r);
  json["notes"] = r.day.notes;
  return dump(json);
}

}  // namespace housepower::report

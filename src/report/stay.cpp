// SPDX-License-Identifier: Apache-2.0
// How long a stay lasts, in words for who sells and in figures for who designs.
#include <algorithm>
#include <cmath>

#include "answer_shapes.hpp"
#include "housepower/design/words.hpp"
#include "housepower/parts/ageing.hpp"
#include "housepower/report/stay.hpp"
#include "json.hpp"
#include "pieces.hpp"
#include "stay_rows.hpp"

namespace housepower::report {
namespace {

using energy::StayAnswer;

/// Figures stand on the right, though they are told as text.
template <class Row>
TableBlock table_of_lengths(std::string title, const Columns<Row>& columns,
                            const std::vector<Row>& rows) {
  TableBlock table = table_of(std::move(title), columns, rows);
  const std::span<const Column> all = columns.erased();
  for (std::size_t c = 0; c < all.size(); ++c)
    if (all[c].kind != CellKind::text) table.numbers[c] = true;
  return table;
}

std::string of_weather(const StayAnswer& a) {
  if (a.kind == energy::WeatherKind::synthetic)
    return std::to_string(a.years) +
           " synthetic years: made up from the town's monthly means (Aguiar's chains of clear and "
           "dull days, the months' means varying from year to year), not measured";
  if (a.kind == energy::WeatherKind::typical_year)
    return "one typical year from the weather file: months of different years put together. It "
           "says nothing about how years differ, so no chance is claimed: the figure is of the "
           "days of arrival in that one year";
  return std::to_string(a.years) + " measured years from the weather file";
}

/// "16:30".
std::string print_clock(Duration after_midnight) {
  const int minutes = int(std::lround(double(after_midnight / hour) * 60.0));
  const auto two = [](int n) { return (n < 10 ? "0" : "") + std::to_string(n); };
  return two(minutes / 60) + ":" + two(minutes % 60);
}

std::string between(const std::array<Duration, 2>& two) {
  return print_plain(days(two[0]), 3) + " to " + print_plain(days(two[1]), 3) + " d";
}

std::vector<std::string> assumptions(const StayReport& r) {
  const auto& p = r.design->promise;
  std::vector<std::string> list;
  list.push_back("Weather: " + of_weather(r.answer) + ".");
  if (energy::snow_not_counted(r.design, r.answer.month))
    list.push_back("Snow on the array is not counted; nights there are cold enough for it: state "
                   "array.covered.");
  if (r.answer.years < 10)
    list.push_back("Fewer than ten years of weather are too few for a \"9 of 10\".");
  const auto left = parts::age_range(*r.design->bank, p.bank_age);
  list.push_back("At that age the bank keeps " + percent(left.small_cells) +
                 " of its capacity by one published model and " + percent(left.large_cells) +
                 " by the other; the smaller counts.");
  for (const auto& one : r.charging)
    if (!one.why.empty() || one.current < r.design->chargers[std::size_t(one.charger)].current)
      list.push_back("The " + one.what + " is counted with " + print(one.current) +
                     (one.why.empty() ? ": what its line delivers." : ": " + one.why + "."));
  const bool weekly =
      std::any_of(r.design->appliances.begin(), r.design->appliances.end(),
                  [](const auto& a) { return a.days_of_seven > 0 && a.days_of_seven < 7; });
  if (weekly)
    list.emplace_back(
        "What is not used every day is used on different days of the week in each stay.");
  list.emplace_back(
      "A night counts once midnight has passed; driving days count from the day of arrival.");
  if (const Duration counted = double(r.answer.arrives) * hour; counted != p.arrive_time)
    list.push_back("Arrival at " + print_clock(p.arrive_time) + " counts as " +
                   print_clock(counted) + ".");
  if (r.answer.sampling && r.answer.parked.sampling)
    list.push_back("Sampling, 95 %: parked " + between(*r.answer.parked.sampling) +
                   (r.answer.travels ? ", with travel " + between(*r.answer.sampling) : "") +
                   ". Less sun and more use, or more sun and less use: parked " +
                   between(r.answer.parked.doubt) +
                   (r.answer.travels ? ", with travel " + between(r.answer.doubt) : "") + ".");
  list.push_back("Uncertainty of the inputs: sun ±" + percent(energy::input_doubt_of(r.design)) +
                 ", use ±" + percent(energy::load_doubt) + " (judgement).");
  if (!r.left_off.empty()) list.push_back("Left off: " + r.left_off + ".");
  if (!r.taken_along.empty()) list.push_back("Used every day: " + r.taken_along + ".");
  return list;
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
  TableBlock full{"From the reserve to nearly full (94 %), in the mean day, with everything in use",
                  {"by", "takes"},
                  {false, false},
                  {}};
  for (const auto& one : r.refills)
    full.rows.push_back(
        {one.by, one.takes ? print(*one.takes) : "never; it gets to " + percent(one.settles)});
  page.blocks.push_back(std::move(full));
  if (!r.night.consumers.empty()) {
    std::string text = "A night, 18:00 to 08:00, takes " + print(r.night.energy) + ": ";
    for (std::size_t i = 0; i < std::min<std::size_t>(4, r.night.consumers.size()); ++i)
      text +=
          (i ? ", " : "") + r.night.consumers[i].name + " " + print(r.night.consumers[i].energy);
    if (r.answer.heated.value() > 0.0)
      text += "; the heater in the box besides " + print(r.answer.heated) + " a day";
    page.blocks.push_back(Paragraph{text + "."});
  }
  if (r.parked) {
    std::string text = "Parked at " + percent(r.design->bank->storage_charge) + " and unattended" +
                       (r.parked->isolated ? ", with the isolator off," : "") +
                       " it can be left for " + print(r.parked->may_stand) +
                       " without sun; it draws " + print(r.parked->all) + ": ";
    for (std::size_t i = 0; i < r.parked->draws.size(); ++i)
      text += (i ? ", " : "") + r.parked->draws[i].name + " " + print(r.parked->draws[i].value);
    page.blocks.push_back(Paragraph{text + "."});
  }
}

void append_to_stay_on(Page& page, const StayReport& r) {
  if (r.unlimited || r.to_stay_on.empty()) return;
  std::string text = "To stay " + stay_in_days(r.answer.longest, false) +
                     " in any of the simulated weather, one of these each day: ";
  for (std::size_t i = 0; i < r.to_stay_on.size(); ++i) {
    const auto& one = r.to_stay_on[i];
    text += (i ? "; " : "") + one.by + " " +
            (one.a_day ? print(*one.a_day) : std::string("not even 12 h"));
  }
  for (const auto& one : r.charging)
    if (!(one.current.value() > 0.0)) text += "; the " + one.what + " gives nothing";
  page.blocks.push_back(Paragraph{text + "."});
}

}  // namespace

std::vector<Block> stay_blocks(const StayReport& r) {
  Page page;
  if (!r.places.empty())
    page.blocks.push_back(table_of_lengths(
        "By place, the shortest month of each, roughly: fewer years and every fifth day",
        place_columns(), simulated(r.places, r.answer.longest)));
  if (r.months.size() > 1)
    page.blocks.push_back(
        table_of_lengths("Stays by month of arrival", stay_month_columns(), r.months));
  page.blocks.push_back(table_of("What empties the bank", emptied_columns(), emptied_by(r)));
  if (!r.levers.all.empty())
    page.blocks.push_back(table_of_lengths(
        "What would change it, each tried by simulating " + std::to_string(r.answer.years) +
            (r.answer.years == 1 ? " year" : " years") +
            " again (as it is: " + told_length(r.levers.base_parked, r.answer.longest) +
            " d parked, " + told_length(r.levers.base, r.answer.longest) + " d with travel)",
        lever_columns(), simulated(possible(r.levers), r.answer.longest)));
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
  Page page{stay_headline(r), {}};
  for (auto& line : stay_beyond_inverters(r.design))
    page.blocks.push_back(Paragraph{std::move(line)});
  page.blocks.push_back(Paragraph{stay_answer(r)});
  if (const auto asked = stay_asked(r); !asked.empty()) {
    page.blocks.push_back(Paragraph{"Asked most often:"});
    for (const auto& one : asked) page.blocks.push_back(Paragraph{"  " + one});
  }
  for (auto& block : stay_blocks(r)) page.blocks.push_back(std::move(block));
  const Heading assumed{"What this rests on"};
  page.blocks.emplace_back(assumed);
  for (auto& line : stay_rests_on(r)) page.blocks.push_back(Paragraph{std::move(line)});
  return page;
}

namespace {

Json pair_of(const std::array<Duration, 2>& two) {
  return Json::array({days(two[0]), days(two[1])});
}

/// What the promise says of the start, as the first sentence tells it.
Json assumed_json(const design::Design& d) {
  return {{"arrive_at", double(d->promise.arrive_at)},
          {"reserve", double(d->promise.reserve)},
          {"bank_age_y", double(d->promise.bank_age / year)},
          {"pitch", words<design::Pitch>[std::size_t(d->site.pitch)]}};
}

Json trace_json(std::string_view name, const energy::StayTrace& trace) {
  Json shares = Json::array();
  for (const auto& share : trace.charge) shares.push_back(double(share));
  return {{"name", name},
          {"lasted_d", days(trace.lasted)},
          {"ended", trace.ended},
          {"step_h", 1.0},
          {"share", std::move(shares)}};
}

}  // namespace

std::string stay_json(const StayReport& r) {
  const StayAnswer& a = r.answer;
  Json json = head();
  json["design"] = {
      {"name", r.design->name}, {"file", r.design->file}, {"inputs_digest", r.inputs_digest}};
  json["place"] = r.design->site.town ? Json(r.design->site.town->name) : Json();
  json["month"] = energy::month_name(a.month);
  const energy::ToldStay told = energy::told(a);
  json["arrive_time"] = print_clock(r.design->promise.arrive_time);
  json["people"] = r.design->promise.people;
  json["parked_d"] = days(a.parked.met);
  json["parked_headline_d"] = days(told.parked.length);
  json["parked_could_be_d"] = pair_of(told.parked.could_be);
  json["parked_nights"] = told.parked.nights;
  json["parked_first_percentile_d"] = days(a.parked.first_percentile);
  json["parked_unlimited"] = r.parked_unlimited;
  json["parked_sampling_interval_d"] =
      a.parked.sampling ? pair_of(*a.parked.sampling) : Json::array({Json(), Json()});
  json["parked_input_doubt_d"] = pair_of(a.parked.doubt);
  json["stay_d"] = days(a.met);
  json["headline_d"] = days(told.travelled.length);
  json["headline"] = stay_headline(r);
  json["could_be_d"] = pair_of(told.travelled.could_be);
  json["nights"] = told.travelled.nights;
  json["first_percentile_d"] = days(a.first_percentile);
  json["horizon_d"] = days(a.longest);
  json["stay_new_d"] = days(a.met_when_new);
  json["longest_d"] = days(a.longest);
  json["chance"] = double(a.chance);
  json["sampling_interval_d"] = a.sampling ? pair_of(*a.sampling) : Json::array({Json(), Json()});
  json["input_doubt_d"] = pair_of(a.doubt);
  json["promise_met_chance"] = a.promise ? Json(double(a.promise->value)) : Json();
  json["promise_met_parked"] = a.promise ? Json(double(a.promise_parked)) : Json();
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
  json["assumed"] = assumed_json(r.design);
  json["charge"] = Json::array();
  if (r.seen) {
    json["charge"].push_back(trace_json("typical stay", r.seen->typical));
    json["charge"].push_back(trace_json("worst stay", r.seen->worst));
  }
  const auto left = parts::age_range(*r.design->bank, r.design->promise.bank_age);
  json["capacity_left"] = Json::array({double(std::min(left.small_cells, left.large_cells)),
                                       double(std::max(left.small_cells, left.large_cells))});
  json["emptied_by"] = rows_json(emptied_columns(), emptied_by(r));
  json["charging"] = Json::array();
  for (const auto& one : r.charging)
    json["charging"].push_back({{"what", one.what},
                                {"delivered_A", json_of(one.current)},
                                {"why", one.why.empty() ? Json() : Json(one.why)}});
  json["levers"] = rows_json(lever_columns(), simulated(possible(r.levers), r.answer.longest));
  json["levers_base_d"] = days(r.levers.base);
  json["levers_base_parked_d"] = days(r.levers.base_parked);
  json["asked"] = stay_asked(r);
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
  json["months"] = rows_json(stay_month_columns(), r.months);
  json["places"] = rows_json(place_columns(), simulated(r.places, r.answer.longest));
  json["assumptions"] = assumptions(r);
  json["notes"] = r.day.notes;
  return dump(json);
}

Json days_or_null() { return is::list(is::or_null(is::number())); }

namespace {

/// How long they stay: in figures, and as it is told.
JsonKeys length_keys() {
  const Json number = is::number(), two = is::list(number);
  return {{"parked_d", number},
          {"parked_headline_d", number},
          {"parked_could_be_d", two},
          {"parked_nights", is::whole()},
          {"parked_first_percentile_d", number},
          {"parked_unlimited", is::flag()},
          {"parked_sampling_interval_d", days_or_null()},
          {"parked_input_doubt_d", two},
          {"stay_d", number},
          {"headline_d", number},
          {"headline", is::text()},
          {"could_be_d", two},
          {"nights", is::whole()},
          {"first_percentile_d", number},
          {"horizon_d", number},
          {"stay_new_d", number},
          {"longest_d", number},
          {"chance", number},
          {"sampling_interval_d", days_or_null()},
          {"input_doubt_d", two},
          {"promise_met_chance", is::or_null(number)},
          {"promise_met_parked", is::or_null(number)},
          {"promise_met_interval", days_or_null()},
          {"unlimited", is::flag()}};
}

JsonKeys weather_keys() {
  using energy::WeatherKind;
  const Json number = is::number();
  return {{"unserved_share", number},
          {"gathered_Wh", number},
          {"spilled_Wh", number},
          {"heated_Wh", number},
          {"coldest_cells_C", number},
          {"hottest_cells_C", number},
          {"weather_kind",
           words_of({WeatherKind::measured, WeatherKind::typical_year, WeatherKind::synthetic})},
          {"years", is::whole()},
          {"starts", is::whole()}};
}

JsonKeys assumed_keys() {
  const Json number = is::number();
  return {
      {"arrive_at", number}, {"reserve", number}, {"bank_age_y", number}, {"pitch", is::text()}};
}

JsonKeys trace_keys() {
  return {{"name", is::text()},
          {"lasted_d", is::number()},
          {"ended", is::flag()},
          {"step_h", is::number()},
          {"share", is::list(is::number())}};
}

/// What would change it, and single questions.
JsonKeys question_keys() {
  const Json number = is::number(), text = is::text();
  const Json charging =
      is::object({{"what", text}, {"delivered_A", number}, {"why", is::or_null(text)}});
  const Json to_stay_on = is::object({{"by", text}, {"hours_a_day", is::or_null(number)}});
  const Json runtime = is::object(
      {{"name", text}, {"power_W", number}, {"alone_h", number}, {"with_the_rest_h", number}});
  const Json refill =
      is::object({{"by", text}, {"takes_h", is::or_null(number)}, {"settles_at", number}});
  const Json draw = is::object({{"name", text}, {"power_W", number}});
  const Json parked = is::object({{"may_stand_d", number}, {"draws", is::list(draw)}});
  return {{"emptied_by", is::rows(emptied_columns())},
          {"charging", is::list(charging)},
          {"levers", is::rows(lever_columns())},
          {"levers_base_d", number},
          {"levers_base_parked_d", number},
          {"asked", is::list(text)},
          {"to_stay_on", is::list(to_stay_on)},
          {"runtimes", is::list(runtime)},
          {"refills", is::list(refill)},
          {"night_Wh", number},
          {"parked", is::or_null(parked)},
          {"months", is::rows(stay_month_columns())},
          {"places", is::rows(place_columns())},
          {"assumptions", is::list(text)},
          {"notes", is::list(text)}};
}

}  // namespace

JsonKeys stay_answer() {
  return JsonKeys{{"design", is::object(design_keys())},
                  {"place", is::or_null(is::text())},
                  {"month", is::text()},
                  {"arrive_time", is::text()},
                  {"people", is::whole()}} +
         length_keys() + weather_keys() +
         JsonKeys{{"use", is::text()},
                  {"assumed", is::object(assumed_keys())},
                  {"charge", is::list(is::object(trace_keys()))},
                  {"capacity_left", is::list(is::number())}} +
         question_keys();
}

}  // namespace housepower::report

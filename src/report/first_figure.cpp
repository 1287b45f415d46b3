// SPDX-License-Identifier: Apache-2.0
// A first figure of a stay: between which lengths the whole answer lies.
#include "answer_shapes.hpp"
#include "housepower/report/stay.hpp"
#include "json.hpp"
#include "pieces.hpp"

namespace housepower::report {
namespace {

using answers::FirstFigure;
using answers::GivenDesign;
using Ends = std::array<Duration, 2>;

/// In half days, rounded outward.
Ends rounded(const Ends& ends) {
  return {energy::half_days(ends[0]), energy::half_days_up(ends[1])};
}

/// "2 to 3.5 days"; of one length, "2.5 days".
std::string in_days(const Ends& between, Duration longest) {
  const Ends ends = rounded(between);
  const bool or_more = between[1] >= longest;
  if (ends[0] == ends[1]) return stay_in_days(ends[0], or_more);
  return print_plain(days(ends[0])) + " to " + stay_in_days(ends[1], or_more);
}

/// "2.5 days parked, 3 to 4 days with your travel".
std::string lengths_of(const FirstFigure& f, const design::Design& d) {
  const std::string parked = in_days(f.parked, f.answer.longest) + " parked";
  if (stay_travel(d).empty()) return parked;
  return parked + ", " + in_days(f.met, f.answer.longest) + " with your travel";
}

std::string headline_of(const FirstFigure& f, const design::Design& d) {
  return d->name + ", " + stay_place(d) + ", " + std::string(energy::month_name(f.answer.month)) +
         (f.coarse ? ", a first figure: " : ": ") + lengths_of(f, d);
}

std::string rests_on(const FirstFigure& f) {
  const std::string years =
      std::to_string(f.answer.years) + (f.answer.years == 1 ? " year" : " years") + " of weather";
  const std::string doubt = "Less sun or more use than thought is not in it, nor what would change "
                            "it: stay without --first has both.";
  if (!f.coarse) return "By all " + years + ", as the whole answer. " + doubt;
  return "Coarse: by " + years +
         " and every third day of arrival. The whole answer lies between, "
         "but for 1 time in 20. " +
         doubt;
}

Json ends_json(const Ends& ends) { return Json::array({days(ends[0]), days(ends[1])}); }

}  // namespace

Page first_figure_page(const FirstFigure& f, const GivenDesign& given) {
  Page page{headline_of(f, given.design), {}};
  page.blocks.push_back(Paragraph{stay_among(f.answer) + " that begin in " +
                                  std::string(energy::month_name(f.answer.month)) + " last " +
                                  lengths_of(f, given.design) + "."});
  page.blocks.push_back(Paragraph{rests_on(f)});
  for (const auto& one : given.told) page.blocks.push_back(Paragraph{one});
  return page;
}

std::string first_figure_json(const FirstFigure& f, const GivenDesign& given) {
  const design::Design& d = given.design;
  Json json = head();
  json["design"] = {{"name", d->name}, {"file", d->file}, {"inputs_digest", given.inputs_digest}};
  json["place"] = d->site.town ? Json(d->site.town->name) : Json();
  json["month"] = energy::month_name(f.answer.month);
  json["people"] = d->promise.people;
  json["coarse"] = f.coarse;
  json["headline"] = headline_of(f, d);
  json["parked_d"] = days(f.answer.parked.met);
  json["parked_between_d"] = ends_json(f.parked);
  json["stay_d"] = days(f.answer.met);
  json["stay_between_d"] = ends_json(f.met);
  json["longest_d"] = days(f.answer.longest);
  json["chance"] = double(f.answer.chance);
  json["years"] = f.answer.years;
  json["starts"] = f.answer.starts;
  json["notes"] = std::vector<std::string>{rests_on(f)};
  for (const auto& one : given.told) json["notes"].push_back(one);
  return dump(json);
}

JsonKeys first_figure_answer() {
  const Json number = is::number(), two = is::list(number);
  return {{"design", is::object(design_keys())},
          {"place", is::or_null(is::text())},
          {"month", is::text()},
          {"people", is::whole()},
          {"coarse", is::flag()},
          {"headline", is::text()},
          {"parked_d", number},
          {"parked_between_d", two},
          {"stay_d", number},
          {"stay_between_d", two},
          {"longest_d", number},
          {"chance", number},
          {"years", is::whole()},
          {"starts", is::whole()},
          {"notes", is::list(is::text())}};
}

}  // namespace housepower::report

// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>

#include "answer_shapes.hpp"
#include "housepower/report/test_sheet.hpp"
#include "housepower/units/phrases.hpp"
#include "json.hpp"
#include "metered.hpp"
#include "pieces.hpp"

namespace housepower::report {
namespace {

using answers::DiagnosedVan;
using wiring::Cause;
using wiring::CouldHide;
using wiring::ReadPoint;

constexpr std::size_t most_hidden = 8;  // of the page; the JSON has all

bool is_reading(const Cause& c) {
  return c.it.is == Cause::Is::reading || c.it.is == Cause::Is::reversed;
}
/// Read with its leads the wrong way round: beside whatever else is wrong.
bool is_backwards(const Cause& c) {
  return c.it.is == Cause::Is::reversed && c.it.element.is(design::Subject::Kind::run);
}

std::string label_and_path(const design::Design& d, const design::Subject& element) {
  const std::string label = wiring::label_of_point(d, element);
  return element == label ? label : label + " (" + element.text() + ")";
}

std::string odds_of(const Cause& c) {
  const double odds = double(c.odds);
  return odds > 1e6 ? "more than a million to one" : print_plain(odds, 2) + " to one";
}

/// "10.3 ± 0.3 mΩ", both in the unit of the value.
std::string value_of_cause(const Cause& c) {
  return print(c.it.value) + ", give or take " + print(c.sigma, 2);
}

std::string about_reading(const DiagnosedVan& v, const Cause& c) {
  const ReadPoint& r = v.diagnosis.readings[*c.read];
  return "It reads " + print(r.measured, 4) + ", the others say " + print(c.it.value, 4) + " (" +
         place_text(v.file.told[r.of_case].values[r.number]) + "). Read it again first.";
}

std::string cause_in_a_line(const DiagnosedVan& v, const Cause& c) {
  std::string line = label_and_path(v.design, c.it.element) + ": " + c.what + ". ";
  if (is_reading(c)) {
    line += about_reading(v, c);
  } else {
    line += value_of_cause(c);
    if (c.it.expected) line += ", by the design " + print(*c.it.expected);
    line += ".";
  }
  if (c.heat && c.heat_full)
    line += " It makes " + print(*c.heat, 2) + " of heat under the test, " +
            print(*c.heat_full, 2) + " at the largest current.";
  const bool against_other = v.diagnosis.together && !is_backwards(c);
  line += std::string(" Odds against ") +
          (against_other ? "the other cause alone: " : "nothing being wrong: ") + odds_of(c) + ".";
  if (c.cannot_be_told_from.empty()) return line;
  line += " These readings cannot tell it from: ";
  for (std::size_t i = 0; i < c.cannot_be_told_from.size(); ++i)
    line += (i == 0 ? "" : "; ") + label_and_path(v.design, c.cannot_be_told_from[i]);
  return line + ". The verdict is for the worst of them.";
}

std::ptrdiff_t failed_by_hand(const DiagnosedVan& v) {
  return std::count_if(v.file.checked.begin(), v.file.checked.end(),
                       [](const auto& c) { return !c.holds.value_or(true); });
}

std::string what_is_found(const DiagnosedVan& v) {
  const auto& d = v.diagnosis;
  const auto causes = std::count_if(d.causes.begin(), d.causes.end(),
                                    [](const Cause& c) { return !is_backwards(c); });
  if (causes > 0)
    return d.together    ? "two causes together explain the readings"
           : causes == 1 ? "one cause explains the readings"
                         : "one of these causes explains the readings";
  if (!d.causes.empty())
    return d.causes.size() == 1 ? "one drop reads below zero"
                                : std::to_string(d.causes.size()) + " drops read below zero";
  const auto out = std::count_if(d.readings.begin(), d.readings.end(),
                                 [](const ReadPoint& r) { return !r.in_band; });
  if (d.unexplained) return "the readings do not match this design, and no cause explains them";
  if (out > 0)
    return std::to_string(out) + (out == 1 ? " reading is" : " readings are") +
           " out of the band, but too little to name a cause";
  const bool all = v.coverage.runs.empty() && v.coverage.dead.empty() && d.unread.empty();
  return all || failed_by_hand(v) > 0 ? "nothing is found" : "what was tested passes";
}

/// "; 12 runs were not tested; 61 dead tests are not recorded".
std::string what_is_left(const wiring::Coverage& c) {
  const auto many = [](std::size_t n, const char* one, const char* more) {
    return std::to_string(n) + (n == 1 ? one : more);
  };
  std::string line;
  if (const auto open = c.open_runs(); open > 0)
    line += "; " + many(open, " run was", " runs were") + " not tested";
  if (const auto never = c.runs.size() - c.open_runs(); never > 0)
    line += "; " + many(never, " run that no load reaches was", " runs that no load reaches were") +
            " tested dead only";
  if (!c.dead.empty())
    line += "; " + many(c.dead.size(), " dead test is", " dead tests are") + " not recorded";
  return line;
}

std::string headline(const DiagnosedVan& v) {
  std::string line = what_is_found(v);
  if (const auto fails = failed_by_hand(v); fails > 0)
    line += "; " + std::to_string(fails) + (fails == 1 ? " check" : " checks") + " by hand failed";
  if (const auto n = v.diagnosis.unread.size(); n > 0)
    line +=
        "; " + std::to_string(n) +
        (n == 1 ? " conductor that carried current was" : " conductors that carried current were") +
        " not read";
  return line + what_is_left(v.coverage);
}

/// A plain yes needs no row.
bool is_plain_yes(const wiring::CheckedByHand& c) { return c.holds == true && !c.value; }

std::string rest_by_hand(const DiagnosedVan& v) {
  const auto n = std::count_if(v.file.checked.begin(), v.file.checked.end(),
                               [](const auto& c) { return is_plain_yes(c); });
  return n == 0
             ? std::string()
             : "Checked by hand with a yes: " + std::to_string(n) + (n == 1 ? " item." : " items.");
}

TableBlock checked_by_hand(const DiagnosedVan& v) {
  TableBlock table{"Checked by hand",
                   {"what", "read or seen", "limit", "holds", "by", "at"},
                   {false, false, false, false, false, false},
                   {}};
  for (const auto& c : v.file.checked)
    if (!is_plain_yes(c))
      table.rows.push_back({c.what, c.value.value_or(c.result.value_or("")), c.limit,
                            !c.holds   ? "not judged"
                            : *c.holds ? "yes"
                                       : "NO",
                            c.by.value_or(""), place_text(c.place)});
  return table;
}

std::string not_read(const DiagnosedVan& v) {
  std::vector<std::string> names;
  for (const auto& u : v.diagnosis.unread)
    names.push_back(wiring::label_of_point(v.design, u.element) + " (" + u.in_case + ")");
  return "Carried a current, but its drop was not read: " + listed(names) + ".";
}

std::string meters_of(const DiagnosedVan& v) {
  std::vector<std::string> texts;
  for (const auto& c : v.file.cases) {
    const auto share = [](Ratio r) { return print_plain(100.0 * double(r), 2) + " %"; };
    std::string text = c.load.name + ": ±" + share(c.meter.voltage) + " and " +
                       print(c.meter.volts_least) + ", of drops " + print(c.meter.drops_least) +
                       ", of a clamp ±" + share(c.meter.current) + " and " +
                       print(c.meter.current_least);
    texts.push_back(std::move(text));
  }
  return "Meter, as the file states it, otherwise as the sheet assumes: " + listed(texts, "; ") +
         ".";
}

TableBlock out_of_band(const DiagnosedVan& v) {
  TableBlock table{"Readings out of their bands",
                   {"point", "leads on", "unit", "read", "expect", "from", "to", "at"},
                   {false, false, false, true, true, true, true, false},
                   {}};
  for (const ReadPoint& r : v.diagnosis.readings) {
    if (r.in_band) continue;
    table.rows.push_back({r.point.label, r.point.leads, unit_as_metered(r),
                          as_metered(r, r.measured), as_metered(r, r.expected), low_as_metered(r),
                          as_metered(r, r.high),
                          place_text(v.file.told[r.of_case].values[r.number])});
  }
  return table;
}

TableBlock hidden(const DiagnosedVan& v) {
  std::vector<std::pair<double, design::Subject>> known;  // ohms
  for (const CouldHide& h : v.diagnosis.could_hide)
    if (h.value) known.emplace_back(h.value->value(), h.element);
  std::stable_sort(known.begin(), known.end(),
                   [](const auto& x, const auto& y) { return x.first > y.first; });
  if (known.size() > most_hidden) known.resize(most_hidden);
  TableBlock table{"A bad joint up to this size would not have shown, the largest first",
                   {"place", "added resistance, up to"},
                   {false, true},
                   {}};
  for (const auto& [ohms, element] : known)
    table.rows.push_back(
        {label_and_path(v.design, element), print(Resistance::from_value(ohms), 2)});
  return table;
}

TableBlock not_tested(const DiagnosedVan& v) {
  TableBlock table{"Not tested: no current in what was switched on",
                   {"run", "ends", "why"},
                   {false, false, false},
                   {}};
  for (const auto& one : v.coverage.runs) {
    const auto& run = v.design[one.run];
    table.rows.push_back({run.label, v.design[run.from].name + " → " + v.design[run.to].name,
                          !one.why      ? "it was not switched on"
                          : one.by_hand ? std::string(why_of(*one.why)) + "; polarity checked dead"
                                        : why_of(*one.why)});
  }
  return table;
}

/// Each kind of them in a row; of runs and devices their labels.
TableBlock dead_tests_left(const DiagnosedVan& v) {
  using Is = wiring::DeadTest::Is;
  TableBlock table{
      "Dead tests and inspections that are not recorded", {"test", "of"}, {false, false}, {}};
  for (const auto& [is, name] :
       {std::pair(Is::resistance, "resistance"), std::pair(Is::polarity, "polarity"),
        std::pair(Is::seated, "device seated"), std::pair(Is::seen, "inspection")}) {
    std::vector<std::string> of;
    for (const auto& test : v.coverage.dead)
      if (test.is == is) of.push_back(test.run.index < 0 ? test.what : v.design[test.run].label);
    if (!of.empty()) table.rows.push_back({name, listed(of, is == Is::seen ? "; " : ", ")});
  }
  return table;
}

/// Poles and devices whose reading tells nothing of a joint, though a current was there.
std::string untellable(const DiagnosedVan& v) {
  std::vector<std::string> list;
  for (const CouldHide& h : v.diagnosis.could_hide) {
    const bool idle = std::any_of(
        v.coverage.runs.begin(), v.coverage.runs.end(), [&](const wiring::NotTested& one) {
          return h.element.is(design::Subject::Kind::run) && h.element.index() == one.run.index;
        });
    if (!h.value && !idle && !h.element.is(design::Subject::Part::protection) &&
        !h.element.is(design::Subject::Part::inline_item))
      list.push_back(wiring::label_of_point(v.design, h.element));
  }
  return listed(list);
}

std::vector<std::string> texts_of(const std::vector<design::Subject>& subjects) {
  std::vector<std::string> texts;
  for (const auto& one : subjects) texts.push_back(one.text());
  return texts;
}

Json readings_list(const DiagnosedVan& v) {
  Json list = Json::array();
  for (const ReadPoint& r : v.diagnosis.readings) {
    const Place& at = v.file.told[r.of_case].values[r.number];
    list.push_back({{"case", v.file.cases[r.of_case].load.name},
                    {"path", r.point.path.text()},
                    {"label", r.point.label},
                    {"measured", r.measured.si},
                    {"expected", r.expected.si},
                    {"low", r.low.si},
                    {"high", r.high.si},
                    {"unit", std::string(plain_unit(r.point.kind).symbol)},
                    {"in_band", r.in_band},
                    {"at", {{"file", at.file}, {"line", at.line}, {"column", at.column}}}});
  }
  return list;
}

Json causes_list(const DiagnosedVan& v) {
  Json list = Json::array();
  for (const Cause& c : v.diagnosis.causes) {
    Json one{{"element", c.it.element.text()},
             {"label", wiring::label_of_point(v.design, c.it.element)},
             {"what", c.what},
             {"value", c.it.value.si},
             {"unit", std::string(plain_unit(c.it.value.kind).symbol)},
             {"sigma", c.sigma.si}};
    one["heat_W"] = c.heat ? Json(c.heat->value()) : Json();
    one["heat_full_W"] = c.heat_full ? Json(c.heat_full->value()) : Json();
    one["odds"] = double(c.odds);
    one["cannot_be_told_from"] = texts_of(c.cannot_be_told_from);
    list.push_back(std::move(one));
  }
  return list;
}

Json checked_list(const DiagnosedVan& v) {
  Json list = Json::array();
  for (const auto& c : v.file.checked) {
    Json one{{"what", c.what}, {"limit", c.limit}};
    one["value"] = c.value ? Json(*c.value) : Json();
    one["result"] = c.result ? Json(*c.result) : Json();
    one["by"] = c.by ? Json(*c.by) : Json();
    one["holds"] = c.holds ? Json(*c.holds) : Json();
    one["at"] = {{"file", c.place.file}, {"line", c.place.line}, {"column", c.place.column}};
    list.push_back(std::move(one));
  }
  return list;
}

Json limits_list() {
  Json list = Json::array();
  for (const auto& one : wiring::diagnosis_limits())
    list.push_back({{"of", one.of}, {"says", one.says}, {"source", json_of(one.source)}});
  return list;
}

void add_tolerances(Page& page, const char* title, const std::vector<wiring::Tolerance>& list) {
  page.blocks.emplace_back(Heading{title});
  for (const auto& one : list)
    page.blocks.emplace_back(Paragraph{one.of + ": " + one.says + " (" +
                                       std::string(word_of(one.source.kind)) + ": " +
                                       std::string(one.source.title) + ")."});
}

}  // namespace

Page diagnosis_page(const DiagnosedVan& v) {
  const auto& d = v.diagnosis;
  std::string title = v.design->name;
  if (v.file.serial) title += " " + *v.file.serial;
  Page page{title + ": what the readings say", {}};
  const auto say = [&](std::string what) { page.blocks.emplace_back(Paragraph{std::move(what)}); };
  const auto show = [&](TableBlock table) {
    if (!table.rows.empty()) page.blocks.emplace_back(std::move(table));
  };
  if (auto fails = said_of_fails(*v.checked)) page.blocks.emplace_back(*std::move(fails));
  page.blocks.emplace_back(VerdictLine{v.found.verdict, headline(v)});
  for (const Cause& c : d.causes) say(cause_in_a_line(v, c));
  if (d.next)
    say("To tell " + label_and_path(v.design, d.next->parts.front()) + " from " +
        label_and_path(v.design, d.next->parts.back()) + ", read " + d.next->point.label + " (" +
        d.next->point.leads + ") with " + d.next->in_case + " switched on.");
  else if (d.causes.size() == 1 && !d.causes.front().cannot_be_told_from.empty())
    say("No point of the sheet separates them: measure across each lug and contact by itself.");
  if (!d.unread.empty()) say(not_read(v));
  show(checked_by_hand(v));
  if (std::string rest = rest_by_hand(v); !rest.empty()) say(std::move(rest));
  show(out_of_band(v));
  if (!v.found.findings.empty()) {
    page.blocks.emplace_back(Heading{"By the rules, as found"});
    page.blocks.emplace_back(judgements(v.found.findings));
  }
  show(hidden(v));
  if (const std::string list = untellable(v); !list.empty())
    say("What was read cannot show a joint of any size there: " + list + ".");
  show(not_tested(v));
  show(dead_tests_left(v));
  say("A meter cannot tell a device of the wrong rating from one with bad contacts, nor two "
      "similar circuits whose wires are swapped: read what is printed on devices and sleeves.");
  say(meters_of(v));
  std::vector<wiring::Tolerance> parts = wiring::test_tolerances();
  std::erase_if(parts, [](const auto& one) { return one.of_meter; });
  add_tolerances(page, "How much sound parts may differ", parts);
  add_tolerances(page, "When a cause is named", wiring::diagnosis_limits());
  return page;
}

std::string diagnosis_json(const DiagnosedVan& v) {
  Json json = head();
  json["design"] = {
      {"name", v.design->name}, {"file", v.design->file}, {"inputs_digest", v.inputs_digest}};
  json["serial"] = v.file.serial ? Json(*v.file.serial) : Json();
  json["verdict"] = std::string(word_of(v.found.verdict));
  json["design_verdicts"] = verdicts_of_design(*v.checked);
  json["readings"] = readings_list(v);
  json["causes"] = causes_list(v);
  json["together"] = v.diagnosis.together;
  json["unexplained"] = v.diagnosis.unexplained;
  json["checked"] = checked_list(v);
  json["unread"] = Json::array();
  for (const auto& u : v.diagnosis.unread)
    json["unread"].push_back({{"element", u.element.text()},
                              {"label", wiring::label_of_point(v.design, u.element)},
                              {"case", u.in_case}});
  json["untested"] = Json::array();
  for (const auto& one : v.coverage.runs)
    json["untested"].push_back({{"run", v.design[one.run].name},
                                {"label", v.design[one.run].label},
                                {"why", one.why ? why_of(*one.why) : "it was not switched on"},
                                {"tested_dead", one.by_hand}});
  json["dead_tests_not_recorded"] = Json::array();
  for (const auto& test : v.coverage.dead) json["dead_tests_not_recorded"].push_back(test.what);
  Diagnostics warnings;
  warnings.all = v.warnings;
  json["diagnostics"] = diagnostics_list(warnings);
  json["limits"] = limits_list();
  json["could_hide"] = Json::array();
  for (const CouldHide& h : v.diagnosis.could_hide)
    json["could_hide"].push_back({{"element", h.element.text()},
                                  {"value", h.value ? Json(h.value->value()) : Json()},
                                  {"unit", std::string(plain_unit(kind_of<Resistance>).symbol)}});
  if (v.diagnosis.next)
    json["next"] = {{"path", v.diagnosis.next->point.path.text()},
                    {"label", v.diagnosis.next->point.label},
                    {"case", v.diagnosis.next->in_case},
                    {"parts", texts_of(v.diagnosis.next->parts)}};
  json["findings"] = findings_json(v.found.findings);
  return dump(json);
}

JsonKeys diagnosis_answer() {
  const Json text = is::text(), number = is::number(), texts = is::list(text);
  const Json reading = is::object({{"case", text},
                                   {"path", text},
                                   {"label", text},
                                   {"measured", number},
                                   {"expected", number},
                                   {"low", number},
                                   {"high", number},
                                   {"unit", text},
                                   {"in_band", is::flag()},
                                   {"at", place_shape()}});
  const Json cause = is::object({{"element", text},
                                 {"label", text},
                                 {"what", text},
                                 {"value", number},
                                 {"unit", text},
                                 {"sigma", number},
                                 {"heat_W", is::or_null(number)},
                                 {"heat_full_W", is::or_null(number)},
                                 {"odds", number},
                                 {"cannot_be_told_from", texts}});
  const Json checked = is::object({{"what", text},
                                   {"limit", text},
                                   {"value", is::or_null(text)},
                                   {"result", is::or_null(text)},
                                   {"by", is::or_null(text)},
                                   {"holds", is::or_null(is::flag())},
                                   {"at", place_shape()}});
  const Json unread = is::object({{"element", text}, {"label", text}, {"case", text}});
  const Json untested =
      is::object({{"run", text}, {"label", text}, {"why", text}, {"tested_dead", is::flag()}});
  const Json limit = is::object({{"of", text}, {"says", text}, {"source", is::a("source")}});
  const Json hidden =
      is::object({{"element", text}, {"value", is::or_null(number)}, {"unit", text}});
  const Json next = is::object({{"path", text}, {"label", text}, {"case", text}, {"parts", texts}});
  return JsonKeys{{"design", is::object(design_keys())},
                  {"serial", is::or_null(text)},
                  {"verdict", verdict_shape()},
                  {"design_verdicts", is::object(verdict_keys())},
                  {"readings", is::list(reading)},
                  {"causes", is::list(cause)},
                  {"together", is::flag()},
                  {"unexplained", is::flag()},
                  {"checked", is::list(checked)},
                  {"unread", is::list(unread)},
                  {"untested", is::list(untested)},
                  {"dead_tests_not_recorded", texts},
                  {"diagnostics", is::list(is::a("diagnostic"))},
                  {"limits", is::list(limit)},
                  {"could_hide", is::list(hidden)}} +
         sometimes({{"next", next}}) + JsonKeys{{"findings", is::list(is::a("finding"))}};
}

}  // namespace housepower::report

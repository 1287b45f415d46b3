// SPDX-License-Identifier: Apache-2.0
#include "housepower/report/diagnosis.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "answer_shapes.hpp"
#include "housepower/page/csv.hpp"
#include "json.hpp"
#include "pieces.hpp"

namespace housepower::report {
namespace {

using wiring::Cause;
using wiring::CouldHide;
using wiring::ReadPoint;

constexpr std::size_t most_hidden = 8;  // of the page; the JSON has all

bool is_reading(const Cause& c) {
  return c.is == Cause::Is::reading || c.is == Cause::Is::reversed;
}
bool is_volts(const ReadPoint& r) {
  return r.point.kind == kind_of<Voltage> && !r.point.path.is(design::Subject::Kind::run);
}

/// As a meter shows it: volts with two digits behind the point, millivolts and amperes with one.
std::string as_metered(const ReadPoint& like, Number n) {
  if (like.point.kind == kind_of<Current>) return fmt::format("{:.1f}", n.si);
  return is_volts(like) ? fmt::format("{:.2f}", n.si) : fmt::format("{:.1f}", 1e3 * n.si);
}
/// The lower end of a band; below nothing there is only the meter's own error.
std::string low_of(const ReadPoint& r) {
  return as_metered(r, {std::max(r.low.si, 0.0), r.low.kind});
}
std::string unit_of_point(const ReadPoint& r) {
  return r.point.kind == kind_of<Current> ? "A" : is_volts(r) ? "V" : "mV";
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
  return print(c.value) + ", give or take " + print(c.sigma, 2);
}

std::string cause_in_a_line(const DiagnosedVan& v, const Cause& c) {
  std::string line = label_and_path(v.design, c.element) + ": " + c.what + ". ";
  if (is_reading(c)) {
    const ReadPoint& r = v.diagnosis.readings[*c.read];
    line += "It reads " + print(r.measured, 4) + ", the others say " + print(c.value, 4) + " (" +
            place_text(v.file.told[r.of_case].values[r.number]) + "). Read it again first.";
  } else {
    line += value_of_cause(c);
    if (c.expected) line += ", by the design " + print(*c.expected);
    line += ".";
  }
  if (c.heat && c.heat_full)
    line += " It makes " + print(*c.heat, 2) + " of heat under the test, " +
            print(*c.heat_full, 2) + " at the largest current.";
  line += std::string(" Odds against ") +
          (v.diagnosis.together ? "the other cause alone: " : "nothing being wrong: ") +
          odds_of(c) + ".";
  if (c.cannot_be_told_from.empty()) return line;
  line += " These readings cannot tell it from: ";
  for (std::size_t i = 0; i < c.cannot_be_told_from.size(); ++i)
    line += (i == 0 ? "" : "; ") + label_and_path(v.design, c.cannot_be_told_from[i]);
  return line + ".";
}

std::string headline(const DiagnosedVan& v) {
  const auto& d = v.diagnosis;
  if (!d.causes.empty())
    return d.together             ? "two causes together explain the readings"
           : d.causes.size() == 1 ? "one cause explains the readings"
                                  : "one of these causes explains the readings";
  const auto out = std::count_if(d.readings.begin(), d.readings.end(),
                                 [](const ReadPoint& r) { return !r.in_band; });
  if (d.unexplained) return "the readings are not those of this design, and no cause explains them";
  if (out > 0)
    return std::to_string(out) + (out == 1 ? " reading is" : " readings are") +
           " out of the band, but too little to name a cause";
  return "nothing is found";
}

TableBlock out_of_band(const DiagnosedVan& v) {
  TableBlock table{"Readings out of their bands",
                   {"point", "leads on", "unit", "read", "expect", "from", "to", "at"},
                   {false, false, false, true, true, true, true, false},
                   {}};
  for (const ReadPoint& r : v.diagnosis.readings) {
    if (r.in_band) continue;
    table.rows.push_back({r.point.label, r.point.leads, unit_of_point(r), as_metered(r, r.measured),
                          as_metered(r, r.expected), low_of(r), as_metered(r, r.high),
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
  TableBlock table{"So large a joint may be there and not have shown, the largest first",
                   {"conductor", "ohms too many, up to"},
                   {false, true},
                   {}};
  for (const auto& [ohms, element] : known)
    table.rows.push_back(
        {label_and_path(v.design, element), print(Resistance::from_value(ohms), 2)});
  return table;
}

std::string untested(const DiagnosedVan& v) {
  std::string list;
  for (const CouldHide& h : v.diagnosis.could_hide)
    if (!h.value) list += (list.empty() ? "" : ", ") + wiring::label_of_point(v.design, h.element);
  return list;
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
    Json one{{"element", c.element.text()},
             {"label", wiring::label_of_point(v.design, c.element)},
             {"what", c.what},
             {"value", c.value.si},
             {"unit", std::string(plain_unit(c.value.kind).symbol)},
             {"sigma", c.sigma.si}};
    one["heat_W"] = c.heat ? Json(c.heat->value()) : Json();
    one["heat_full_W"] = c.heat_full ? Json(c.heat_full->value()) : Json();
    one["odds"] = double(c.odds);
    one["cannot_be_told_from"] = texts_of(c.cannot_be_told_from);
    list.push_back(std::move(one));
  }
  return list;
}

}  // namespace

Page diagnosis_page(const DiagnosedVan& v) {
  const auto& d = v.diagnosis;
  std::string title = v.design->name;
  if (v.file.serial) title += " " + *v.file.serial;
  Page page{title + ": what the readings say", {}};
  const auto say = [&](std::string what) { page.blocks.emplace_back(Paragraph{std::move(what)}); };
  page.blocks.emplace_back(VerdictLine{v.found.verdict, headline(v)});
  for (const Cause& c : d.causes) say(cause_in_a_line(v, c));
  if (d.next)
    say("To tell " + label_and_path(v.design, d.next->parts.front()) + " from " +
        label_and_path(v.design, d.next->parts.back()) + ", read " + d.next->point.label + " (" +
        d.next->point.leads + ") with " + d.next->in_case + " switched on.");
  else if (d.causes.size() == 1 && !d.causes.front().cannot_be_told_from.empty())
    say("No point of the sheet tells them apart: measure across each lug and contact by itself.");
  TableBlock out = out_of_band(v);
  if (!out.rows.empty()) page.blocks.emplace_back(std::move(out));
  if (!v.found.findings.empty()) {
    page.blocks.emplace_back(Heading{"By the rules, as it was found"});
    page.blocks.emplace_back(judgements(v.found.findings));
  }
  TableBlock small = hidden(v);
  if (!small.rows.empty()) page.blocks.emplace_back(std::move(small));
  if (const std::string list = untested(v); !list.empty())
    say("Without current in what was switched on, so not tested at all: " + list + ".");
  say("A meter does not tell a device of another rating from one whose contacts are bad, nor two "
      "like circuits whose wires are swapped: read what is printed on devices and sleeves.");
  page.blocks.emplace_back(Heading{"What sound parts may differ"});
  for (const auto& one : wiring::test_tolerances())
    if (one.of != "meter")
      say(one.of + ": " + one.says + " (" + std::string(word_of(one.source.kind)) + ").");
  return page;
}

std::string diagnosis_json(const DiagnosedVan& v) {
  Json json = head();
  json["design"] = {
      {"name", v.design->name}, {"file", v.design->file}, {"inputs_digest", v.inputs_digest}};
  json["serial"] = v.file.serial ? Json(*v.file.serial) : Json();
  json["verdict"] = std::string(word_of(v.found.verdict));
  json["readings"] = readings_list(v);
  json["causes"] = causes_list(v);
  json["together"] = v.diagnosis.together;
  json["unexplained"] = v.diagnosis.unexplained;
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

std::string test_sheet_csv(const std::string& of_case, Voltage resting,
                           const std::vector<ReadPoint>& points) {
  const auto line = [](std::vector<std::string> cells) { return csv_line(cells); };
  std::string text =
      line({"case", "point", "label", "leads", "expected", "low", "high", "unit", "read"});
  text += line({of_case, std::string(wiring::resting_point), "bank, nothing on", "plus, minus",
                fmt::format("{:.2f}", resting / volt), "", "", "V", ""});
  for (const ReadPoint& r : points)
    text +=
        line({of_case, r.point.path.text(), r.point.label, r.point.leads, as_metered(r, r.expected),
              low_of(r), as_metered(r, r.high), unit_of_point(r), ""});
  return text;
}

JsonKeys diagnosis_answer() {
  const Json text = is::text(), number = is::number(), texts = is::list(text);
  const Json reading = is::object(
      {{"case", text},
       {"path", text},
       {"label", text},
       {"measured", number},
       {"expected", number},
       {"low", number},
       {"high", number},
       {"unit", text},
       {"in_band", is::flag()},
       {"at", is::object({{"file", text}, {"line", is::whole()}, {"column", is::whole()}})}});
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
  const Json hidden =
      is::object({{"element", text}, {"value", is::or_null(number)}, {"unit", text}});
  const Json next = is::object({{"path", text}, {"label", text}, {"case", text}, {"parts", texts}});
  return JsonKeys{{"design", is::object(design_keys())}, {"serial", is::or_null(text)},
                  {"verdict", verdict_shape()},          {"readings", is::list(reading)},
                  {"causes", is::list(cause)},           {"together", is::flag()},
                  {"unexplained", is::flag()},           {"could_hide", is::list(hidden)}} +
         sometimes({{"next", next}}) + JsonKeys{{"findings", is::list(is::a("finding"))}};
}

}  // namespace housepower::report

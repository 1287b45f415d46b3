// SPDX-License-Identifier: Apache-2.0
// What was chosen, what is left over, and what a later change would break: behind the wiring.
#include "answer_shapes.hpp"
#include "json.hpp"
#include "pieces.hpp"

namespace housepower::report {
namespace {

using choice::Choice;
using choice::Headroom;
using choice::TooSmall;

std::string figure_with_unit(const Number& number, std::string_view unit) {
  return unit.empty() ? print(number) : print_in(number, shown_unit(*unit_named(unit)));
}

std::string why_not(const TooSmall& s) {
  std::string text = s.conductor + ": " + std::string(s.rule);
  if (s.measured && s.limit)
    text += ", " + figure_with_unit(*s.measured, s.unit) + " against " +
            figure_with_unit(*s.limit, s.unit);
  else if (!s.message.empty()) text += ", " + s.message;
  return text + ", " + s.subject.text();
}

std::string device_in_words(const choice::ChosenDevice& d) {
  return d.type + " " + print(d.rating) + " at its `" +
         (d.end == design::RunEnd::from ? "from" : "to") + "` end";
}

std::string conductor_in_words(const Choice& c) {
  if (c.conductor.empty()) return "none";
  return c.was_open ? c.conductor : c.conductor + " (stated)";
}
std::string devices_in_words(const Choice& c) {
  std::string text;
  for (const auto& d : c.devices) text += (text.empty() ? "" : "; ") + device_in_words(d);
  return text;
}
/// Its next smaller size tells why.
std::string why_this(const Choice& c) {
  if (!c.smaller.empty()) return why_not(c.smaller.front());
  return c.was_open && !c.conductor.empty() ? "it is the smallest of its series" : "";
}

const Columns<Choice>& choice_columns() {
  static const Columns<Choice> columns{{"run", "run", &Choice::run},
                                       {"conductor", "conductor", conductor_in_words},
                                       {"device", "device", devices_in_words},
                                       {"why", "the next smaller", why_this}};
  return columns;
}

const Columns<Headroom>& headroom_columns() {
  static const Columns<Headroom> columns{{"run", "run", &Headroom::of},
                                         {"spare_A", "still carries", "A", &Headroom::spare},
                                         {"rule", "limited by", &Headroom::rule},
                                         {"subject", "there", &Headroom::subject}};
  return columns;
}

Json device_json(const choice::ChosenDevice& d) {
  return {{"type", d.type},
          {"rating_A", json_of(d.rating)},
          {"end", d.end == design::RunEnd::from ? "from" : "to"},
          {"source", json_of(d.rating_source)}};
}

Json choice_json(const Choice& c) {
  const auto device = [&](std::size_t n) {
    return n < c.devices.size() ? device_json(c.devices[n]) : Json();
  };
  Json json{{"run", c.run},
            {"conductor", c.conductor.empty() ? Json() : Json(c.conductor)},
            {"chosen", c.was_open},
            {"device", device(0)},
            {"second_device", device(1)},
            {"smaller", Json::array()},
            {"why_none", c.why_none.empty() ? Json() : Json(c.why_none)}};
  for (const TooSmall& s : c.smaller) {
    const Number shown = s.measured.value_or(s.limit.value_or(Number{}));
    const Unit unit = s.unit.empty() ? plain_unit(shown.kind) : *unit_named(s.unit);
    const auto value = [&](const std::optional<Number>& n) {
      return n ? Json(in_unit(*n, unit)) : Json();
    };
    json["smaller"].push_back({{"conductor", s.conductor},
                               {"rule", s.rule},
                               {"measured", value(s.measured)},
                               {"limit", value(s.limit)},
                               {"unit", s.measured ? Json(unit.symbol) : Json()},
                               {"subject", s.subject.text()},
                               {"message", s.message}});
  }
  return json;
}

}  // namespace

Json choices_json(std::span<const Choice> choices) {
  Json list = Json::array();
  for (const Choice& c : choices) list.push_back(choice_json(c));
  return list;
}

TableBlock choice_table(std::string title, std::span<const Choice> choices) {
  return table_of(std::move(title), choice_columns(),
                  std::vector<Choice>(choices.begin(), choices.end()));
}

Json sizing_object(const answers::WiringReport& r) {
  Json json{{"choices", choices_json(r.chosen.choices)},
            {"headroom", rows_json(headroom_columns(), r.headroom)}};
  json["beyond"] = findings_json(r.chosen.beyond);
  json["what_if"] = Json::array();
  for (const auto& change : r.what_if)
    json["what_if"].push_back(
        {{"change", change.change}, {"findings", findings_json(change.findings)}});
  return json;
}

void append_choices(Page& page, const choice::Chosen& chosen) {
  if (chosen.choices.empty()) return;
  page.blocks.push_back(choice_table("Chosen for what the design leaves open", chosen.choices));
  for (const Choice& c : chosen.choices)
    if (!c.why_none.empty())
      page.blocks.push_back(Paragraph{"  none for run \"" + c.run + "\": " + c.why_none});
  if (chosen.beyond.empty()) return;
  page.blocks.push_back(Heading{"Over its limit with these"});
  page.blocks.emplace_back(judgements(chosen.beyond));
}

void append_headroom(Page& page, const answers::WiringReport& r) {
  if (r.headroom.empty() && r.what_if.empty()) return;  // it was left out
  page.blocks.push_back(table_of("Headroom", headroom_columns(), r.headroom));
  for (const auto& change : r.what_if) {
    page.blocks.push_back(Heading{"With " + change.change});
    if (change.findings.empty()) {
      const Paragraph nothing{"Nothing that was checked falls short."};
      page.blocks.emplace_back(nothing);
    } else {
      page.blocks.emplace_back(judgements(change.findings));
    }
  }
}

Json choice_shape() {
  constexpr std::string_view ends[] = {"from", "to"};
  const Json device = is::object({{"type", is::text()},
                                  {"rating_A", is::number()},
                                  {"end", is::words(ends)},
                                  {"source", is::a("source")}});
  const Json figure = is::or_null(is::number());
  const Json too_small = is::object({{"conductor", is::text()},
                                     {"rule", is::text()},
                                     {"measured", figure},
                                     {"limit", figure},
                                     {"unit", is::or_null(is::text())},
                                     {"subject", is::text()},
                                     {"message", is::text()}});
  return is::object({{"run", is::text()},
                     {"conductor", is::or_null(is::text())},
                     {"chosen", is::flag()},
                     {"device", is::or_null(device)},
                     {"second_device", is::or_null(device)},
                     {"smaller", is::list(too_small)},
                     {"why_none", is::or_null(is::text())}});
}

JsonKeys sizing_keys() {
  const Json what_if =
      is::object({{"change", is::text()}, {"findings", is::list(is::a("finding"))}});
  return {{"choices", is::list(is::a("choice"))},
          {"headroom", is::rows(headroom_columns())},
          {"beyond", is::list(is::a("finding"))},
          {"what_if", is::list(what_if)}};
}

}  // namespace housepower::report

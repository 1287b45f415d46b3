// SPDX-License-Identifier: Apache-2.0
// Rules and formulas in words: what `explain` and `formula` print.
#include "answer_shapes.hpp"
#include "json.hpp"

namespace housepower::report {
namespace {

constexpr std::array<std::string_view, 18> parameter_words{"length",
                                                           "area",
                                                           "ambient",
                                                           "circuits together",
                                                           "load",
                                                           "device rating",
                                                           "batteries",
                                                           "bank age",
                                                           "reserve",
                                                           "array",
                                                           "distance",
                                                           "joints",
                                                           "resistance of a joint",
                                                           "low resistance of a battery",
                                                           "high resistance of a battery",
                                                           "charge limit",
                                                           "discharge limit",
                                                           "record low"};
static_assert(parameter_words.size() == std::size_t(checks::Parameter::record_low) + 1);
constexpr std::string_view concern_words[] = {"", " (a rule of safety)",
                                              " (a rule of safety where it fails)"};
constexpr std::string_view effect_words[] = {"worse", "better", "no effect", "either way"};

std::string unit_of_formula(const FormulaEntry& f) {
  return f.about.unit.empty() ? std::string(plain_unit(f.kind).symbol) : std::string(f.about.unit);
}

/// Where a formula states no range of its own, it holds wherever its text can be worked out.
std::string_view range_of(const FormulaText& about) {
  return about.holds.empty() ? "any values for which it can be worked out" : about.holds;
}

std::string_view unit_of_operand(const FormulaEntry& f, std::size_t i) {
  const auto own = f.about.operands[i].unit;
  return own.empty() ? plain_unit(f.kinds[i]).symbol : own;
}

Json formula_object(const FormulaEntry& f) {
  Json symbols = Json::array();
  for (std::size_t i = 0; i < f.about.operands.size(); ++i)
    symbols.push_back({{"symbol", f.about.operands[i].symbol},
                       {"meaning", f.about.operands[i].meaning},
                       {"unit", unit_of_operand(f, i)}});
  return {{"name", f.name},
          {"symbol", f.about.symbol},
          {"meaning", f.about.meaning},
          {"formula", f.about.text},
          {"unit", unit_of_formula(f)},
          {"symbols", symbols},
          {"range", range_of(f.about)},
          {"source", json_of(f.about.source)}};
}

Json rule_object(const checks::Rule& rule) {
  Json signs = Json::array();
  for (const auto& s : rule.signs)
    signs.push_back({{"parameter", parameter_words[std::size_t(s.parameter)]},
                     {"when_larger", effect_words[std::size_t(s.when_larger)]}});
  return {{"rule", rule.name},
          {"asks", rule.asks},
          {"why", rule.why},
          {"cure", rule.cure},
          {"of_safety", rule.concern == checks::Concern::safety},
          {"signs", signs},
          {"source", json_of(rule.source)}};
}

}  // namespace

Page formula_list_page(std::span<const FormulaEntry> formulas) {
  TableBlock table{"Formulas", {"name", "gives", "by"}, {false, false, false}, {}};
  for (const auto& f : formulas)
    table.rows.push_back({std::string(f.name), std::string(f.about.meaning),
                          std::string(f.about.symbol) + " = " + std::string(f.about.text)});
  return {"The formulas of the engine. One with its symbols and source: `housepower formula NAME`.",
          {table}};
}

std::string formula_list_json(std::span<const FormulaEntry> formulas) {
  Json json = head();
  json["formulas"] = Json::array();
  for (const auto& f : formulas) json["formulas"].push_back(formula_object(f));
  return dump(json);
}

Page formula_page(const FormulaAnswer& a) {
  const FormulaEntry& f = a.entry;
  Page page{std::string(f.name) + ": " + std::string(f.about.meaning), {}};
  page.blocks.push_back(Paragraph{std::string(f.about.symbol) + " = " + std::string(f.about.text) +
                                  "   [" + unit_of_formula(f) + "]"});
  TableBlock symbols{"Symbols", {"symbol", "meaning", "unit"}, {false, false, false}, {}};
  for (std::size_t i = 0; i < f.about.operands.size(); ++i)
    symbols.rows.push_back({std::string(f.about.operands[i].symbol),
                            std::string(f.about.operands[i].meaning),
                            std::string(unit_of_operand(f, i))});
  page.blocks.push_back(symbols);
  page.blocks.push_back(Paragraph{"Holds for: " + std::string(range_of(f.about))});
  page.blocks.push_back(Paragraph{"Source: " + source_line(f.about.source)});
  if (a.value) page.blocks.push_back(WorkingBlock{a.working});
  if (!a.why_none.empty()) page.blocks.push_back(Paragraph{"No solution: " + a.why_none});
  return page;
}

std::string formula_json(const FormulaAnswer& a) {
  Json json = head();
  json.update(formula_object(a.entry));
  if (a.value) {
    json["value"] = a.entry.about.unit.empty() ? json_of(*a.value) : Json(a.value->si);
    json["working"] = json_of(a.working);
  } else if (!a.why_none.empty()) {
    json["value"] = Json();
    json["reason"] = a.why_none;
  }
  return dump(json);
}

Page rule_list_page() {
  TableBlock table{"Rules", {"rule", "asks"}, {false, false}, {}};
  for (const checks::Rule* rule : checks::rules())
    table.rows.push_back({std::string(rule->name), std::string(rule->asks)});
  return {"What `check` asks. One rule in full: `housepower explain NAME`.", {table}};
}

std::string rule_list_json() {
  Json json = head();
  json["rules"] = Json::array();
  for (const checks::Rule* rule : checks::rules()) json["rules"].push_back(rule_object(*rule));
  return dump(json);
}

Page rule_page(const checks::Rule& rule) {
  Page page{std::string(rule.name) + std::string(concern_words[std::size_t(rule.concern)]), {}};
  page.blocks.push_back(Paragraph{"What it asks: " + std::string(rule.asks)});
  page.blocks.push_back(Paragraph{"Why it matters: " + std::string(rule.why)});
  page.blocks.push_back(Paragraph{"What to do: " + std::string(rule.cure)});
  page.blocks.push_back(Paragraph{"Source: " + source_line(rule.source)});
  TableBlock signs{"What moves it", {"when this grows", "the rule gets"}, {false, false}, {}};
  for (const auto& s : rule.signs)
    signs.rows.push_back({std::string(parameter_words[std::size_t(s.parameter)]),
                          std::string(effect_words[std::size_t(s.when_larger)])});
  page.blocks.push_back(signs);
  page.blocks.push_back(
      SmallPrint{"Where it says worse or better, the rule may also stay as it was but never goes "
                 "the other way; \"either way\" means that it can go up or down."});
  return page;
}

std::string rule_json(const checks::Rule& rule) {
  Json json = head();
  json.update(rule_object(rule));
  return dump(json);
}

namespace {

JsonKeys formula_keys() {
  const Json symbol =
      is::object({{"symbol", is::text()}, {"meaning", is::text()}, {"unit", is::text()}});
  return {{"name", is::text()},    {"symbol", is::text()},     {"meaning", is::text()},
          {"formula", is::text()}, {"unit", is::text()},       {"symbols", is::list(symbol)},
          {"range", is::text()},   {"source", is::a("source")}};
}

JsonKeys rule_keys() {
  const Json sign = is::object(
      {{"parameter", is::words(parameter_words)}, {"when_larger", is::words(effect_words)}});
  return {{"rule", is::text()},       {"asks", is::text()},      {"why", is::text()},
          {"cure", is::text()},       {"of_safety", is::flag()}, {"signs", is::list(sign)},
          {"source", is::a("source")}};
}

}  // namespace

JsonKeys rule_answer() { return rule_keys(); }
JsonKeys rule_list_answer() { return {{"rules", is::list(is::object(rule_keys()))}}; }
JsonKeys formula_list_answer() { return {{"formulas", is::list(is::object(formula_keys()))}}; }
/// With values, what it gives; or why nothing.
JsonKeys formula_answer() {
  return formula_keys() + sometimes({{"value", is::or_null(is::number())},
                                     {"working", is::list(is::a("step"))},
                                     {"reason", is::text()}});
}

}  // namespace housepower::report

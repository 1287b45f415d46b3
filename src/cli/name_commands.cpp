// SPDX-License-Identifier: Apache-2.0
// explain, formula, tables: one by name, or the list.
#include <algorithm>
#include <cmath>

#include "commands.hpp"
#include "verbs.hpp"

namespace housepower::cli {
namespace {

int unknown(World& world, std::string_view what, const std::string& name,
            const std::vector<std::string_view>& known) {
  world.err << "error: there is no " << what << " \"" << name << "\"\n";
  const std::string hint = did_you_mean(name, known);
  if (!hint.empty()) world.err << "  = help: " << hint << "\n";
  return usage;
}

/// "L=4 m" for each symbol; nothing where one is missing, unknown or of the wrong kind.
std::optional<std::vector<Number>>
operands_from(const FormulaEntry& formula, const std::vector<std::string>& with, World& world) {
  std::vector<std::optional<Number>> values(formula.kinds.size());
  bool good = true;
  const auto refuse_one = [&](const std::string& what) {
    world.err << "error: " << what << "\n", good = false;
  };
  for (const auto& one : with) {
    const auto equals = one.find('=');
    const std::string symbol = one.substr(0, equals);
    std::size_t i = 0;
    while (i < values.size() && formula.about.operands[i].symbol != symbol) ++i;
    if (equals == std::string::npos || i == values.size()) {
      std::vector<std::string_view> symbols;
      for (const auto& s : formula.about.operands) symbols.push_back(s.symbol);
      refuse_one("--with " + one + ": the formula has no symbol \"" + symbol + "\"; " +
                 did_you_mean(symbol, symbols));
      continue;
    }
    const auto parsed = parse_quantity(one.substr(equals + 1), formula.kinds[i]);
    if (const auto* problem = std::get_if<ParseProblem>(&parsed))
      refuse_one("--with " + one + ": " + problem->message +
                 (problem->hint.empty() ? "" : "; " + problem->hint));
    else values[i] = std::get<Number>(parsed);
  }
  std::vector<Number> numbers;
  for (std::size_t i = 0; i < values.size() && good; ++i) {
    if (values[i]) numbers.push_back(*values[i]);
    else
      refuse_one("--with lacks \"" + std::string(formula.about.operands[i].symbol) + "\", " +
                 std::string(formula.about.operands[i].meaning));
  }
  return good ? std::optional(numbers) : std::nullopt;
}

std::string why_no_value(const FormulaEntry& formula) {
  const std::string none = "for these values the formula has no result";
  return formula.about.holds.empty() ? none
                                     : none + "; it holds for: " + std::string(formula.about.holds);
}

}  // namespace

FieldList name_options() { return fields<NameOptions>; }

int run_explain(const Node& typed, World& world) {
  const auto options = options_from<NameOptions>(typed, world);
  if (!options) return usage;
  if (!options->name)
    return answer(world, *options->format, report::rule_list_page, report::rule_list_json), ok;
  if (const auto* rule = checks::rule_named(*options->name))
    return answer(
               world, *options->format, [&] { return report::rule_page(*rule); },
               [&] { return report::rule_json(*rule); }),
           ok;
  const auto formulas = report::all_formulas();
  for (const auto& f : formulas)
    if (f.name == *options->name) return run_formula(typed, world);
  std::vector<std::string_view> known;
  for (const auto* rule : checks::rules()) known.push_back(rule->name);
  for (const auto& f : formulas) known.push_back(f.name);
  return unknown(world, "rule or formula", *options->name, known);
}

int run_formula(const Node& typed, World& world) {
  const auto options = options_from<NameOptions>(typed, world);
  if (!options) return usage;
  const auto formulas = report::all_formulas();
  if (!options->name)
    return answer(
               world, *options->format, [&] { return report::formula_list_page(formulas); },
               [&] { return report::formula_list_json(formulas); }),
           ok;
  const auto found = std::find_if(formulas.begin(), formulas.end(),
                                  [&](const FormulaEntry& f) { return f.name == *options->name; });
  if (found == formulas.end()) {
    std::vector<std::string_view> known;
    for (const auto& f : formulas) known.push_back(f.name);
    return unknown(world, "formula", *options->name, known);
  }
  report::FormulaAnswer result{*found, {}, {}, {}};
  if (!options->with.empty()) {
    const auto numbers = operands_from(*found, options->with, world);
    if (!numbers) return usage;
    const Number value = found->evaluate(*numbers, &result.working);
    if (std::isfinite(value.si)) result.value = value;
    else result.why_none = why_no_value(*found);
  }
  answer(
      world, *options->format, [&] { return report::formula_page(result); },
      [&] { return report::formula_json(result); });
  return result.why_none.empty() ? ok : check_fails;
}

int run_tables(const Node& typed, World& world) {
  const auto options = options_from<NameOptions>(typed, world);
  if (!options) return usage;
  Diagnostics diagnostics;
  const auto all = tables_for(world, options->tables, {.towns = true, .views = true}, diagnostics);
  if (!all || diagnostics.any_error()) return refuse(world, *options->format, diagnostics);
  if (!options->name)
    return answer(
               world, *options->format, [&] { return report::table_list_page(*all); },
               [&] { return report::table_list_json(*all); }),
           ok;
  std::vector<std::string_view> known;
  for (const auto& view : all->views) {
    if (view.name == *options->name)
      return answer(
                 world, *options->format, [&] { return report::table_page(view); },
                 [&] { return report::table_json(view); }),
             ok;
    known.push_back(view.name);
  }
  return unknown(world, "table", *options->name, known);
}

}  // namespace housepower::cli

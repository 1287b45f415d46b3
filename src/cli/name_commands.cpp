// SPDX-License-Identifier: Apache-2.0
// explain, formula, tables: one by name, or the list.
#include <algorithm>
#include <iterator>

#include "commands.hpp"
#include "housepower/answers/typed.hpp"
#include "housepower/units/phrases.hpp"
#include "verbs.hpp"

namespace housepower::cli {
namespace {

std::vector<std::string> parts_of(std::string_view name) {
  std::vector<std::string> parts(1);
  for (const char c : answers::in_small_letters(name))
    if (c == '-' || c == '_' || c == ' ') parts.emplace_back();
    else parts.back() += c;
  std::erase(parts, "");
  return parts;
}

/// Its parts begin, in their order, as those that were typed: "voltage-drop" for "volt-drop" or "drop".
bool begins_as(std::string_view name, const std::vector<std::string>& typed) {
  std::size_t at = 0;
  for (const auto& part : parts_of(name))
    if (at < typed.size() && part.starts_with(typed[at])) ++at;
  return at == typed.size();
}

/// The name that was meant, or those that may have been.
std::string meant_among(const std::string& name, const std::vector<std::string_view>& known) {
  constexpr std::size_t most = 8;
  const auto typed = parts_of(name);
  std::vector<std::string_view> like;
  if (!typed.empty())
    std::copy_if(known.begin(), known.end(), std::back_inserter(like),
                 [&](std::string_view one) { return begins_as(one, typed); });
  if (like.size() == 1) return "did you mean " + housepower::quoted(like.front()) + "?";
  if (std::string near = did_you_mean(name, known); like.empty() || !near.empty()) return near;
  std::string list = "did you mean one of these? ";
  for (std::size_t i = 0; i < std::min(most, like.size()); ++i)
    list += (i == 0 ? "" : ", ") + std::string(like[i]);
  return list + (like.size() > most ? " …" : "");
}

int unknown(World& world, std::string_view what, const std::string& name,
            const std::vector<std::string_view>& known) {
  world.err << "error: there is no " << what << " " << housepower::quoted(name) << "\n";
  const std::string hint = meant_among(name, known);
  if (!hint.empty()) world.err << "  = help: " << hint << "\n";
  return usage;
}

/// "L=4 m"; a symbol that the formula has not, or that has no value, is told by the answer.
answers::SymbolValue value_typed(const FormulaEntry& formula, const std::string& typed,
                                 Diagnostics& diagnostics) {
  const auto equals = typed.find('=');
  answers::SymbolValue value{typed.substr(0, equals), {}};
  const auto kind = answers::kind_of_symbol(formula, value.symbol);
  if (!kind || equals == std::string::npos) return value;
  value.value.kind = *kind;
  const auto parsed = parse_quantity(typed.substr(equals + 1), *kind);
  if (const auto* problem = std::get_if<ParseProblem>(&parsed))
    diagnostics.error({}, value.symbol, typed + ": " + problem->message, problem->hint);
  else value.value = std::get<Number>(parsed);
  return value;
}

/// The formula with the values typed; nothing, and told, where one is missing or not understood.
std::optional<answers::FormulaAnswer>
formula_typed(const FormulaEntry& formula, const std::vector<std::string>& with, World& world) {
  if (with.empty()) return answers::FormulaAnswer{formula};
  Diagnostics diagnostics;
  std::vector<answers::SymbolValue> values;
  for (const auto& typed : with) values.push_back(value_typed(formula, typed, diagnostics));
  auto answer = answers::formula(formula, values, diagnostics);
  for (const auto& d : diagnostics.all)
    world.err << "error: --with " << d.message << (d.hint.empty() ? "" : "; " + d.hint) << "\n";
  return answer;
}

std::vector<std::string_view> formula_names() {
  std::vector<std::string_view> names;
  for (const auto& f : answers::all_formulas()) names.push_back(f.name);
  return names;
}

}  // namespace

FieldList formula_options() { return fields<NameOptions>; }
FieldList name_options() {
  static const std::vector<Field> all = [] {
    std::vector<Field> list(fields<NameOptions>.begin(), fields<NameOptions>.end());
    std::erase_if(list, [](const Field& f) { return f.key == "with"; });
    return list;
  }();
  return all;
}

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
  if (answers::formula_named(*options->name)) return run_formula(typed, world);
  auto known = formula_names();
  for (const auto* rule : checks::rules()) known.push_back(rule->name);
  return unknown(world, "rule or formula", *options->name, known);
}

int run_formula(const Node& typed, World& world) {
  const auto options = options_from<NameOptions>(typed, world);
  if (!options) return usage;
  if (!options->name) {
    const auto formulas = answers::all_formulas();
    answer(
        world, *options->format, [&] { return report::formula_list_page(formulas); },
        [&] { return report::formula_list_json(formulas); });
    return ok;
  }
  const auto named = answers::formula_named(*options->name);
  if (!named) return unknown(world, "formula", *options->name, formula_names());
  const auto result = formula_typed(*named, options->with, world);
  if (!result) return usage;
  answer(
      world, *options->format, [&] { return report::formula_page(*result); },
      [&] { return report::formula_json(*result); });
  return result->why_none.empty() ? ok : check_fails;
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

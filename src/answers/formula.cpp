// SPDX-License-Identifier: Apache-2.0
#include "housepower/answers/formula.hpp"

#include <algorithm>
#include <cmath>

#include "housepower/energy/formula_list.hpp"
#include "housepower/parts/formula_list.hpp"
#include "housepower/reading/text.hpp"
#include "housepower/units/phrases.hpp"
#include "housepower/units/unit.hpp"
#include "housepower/wiring/formula_list.hpp"

namespace housepower::answers {
namespace {

std::vector<std::string_view> symbols_of(const FormulaEntry& f) {
  std::vector<std::string_view> symbols;
  for (const auto& operand : f.about.operands) symbols.push_back(operand.symbol);
  return symbols;
}

const SymbolValue* value_of(std::span<const SymbolValue> values, std::string_view symbol) {
  const auto found = std::find_if(values.begin(), values.end(),
                                  [&](const SymbolValue& v) { return v.symbol == symbol; });
  return found == values.end() ? nullptr : &*found;
}

void refuse_unknown(const FormulaEntry& f, std::span<const SymbolValue> values,
                    Diagnostics& diagnostics) {
  const auto known = symbols_of(f);
  for (const SymbolValue& v : values)
    if (std::find(known.begin(), known.end(), v.symbol) == known.end())
      diagnostics.error({}, v.symbol, "the formula has no symbol " + quoted(v.symbol),
                        did_you_mean(v.symbol, known));
}

/// In the order of the formula; those that are missing or of another kind are told.
std::vector<Number> operands_of(const FormulaEntry& f, std::span<const SymbolValue> values,
                                Diagnostics& diagnostics) {
  std::vector<Number> operands;
  for (std::size_t i = 0; i < f.kinds.size(); ++i) {
    const auto& about = f.about.operands[i];
    const std::string symbol(about.symbol);
    const SymbolValue* given = value_of(values, about.symbol);
    if (!given)
      diagnostics.error({}, symbol, "lacks " + quoted(symbol) + ", " + std::string(about.meaning));
    else if (!(given->value.kind == f.kinds[i]))
      diagnostics.error({}, symbol,
                        quoted(symbol) + " wants " + std::string(name_of(f.kinds[i])) + ", got " +
                            std::string(name_of(given->value.kind)));
    else operands.push_back(given->value);
  }
  return operands;
}

std::string why_no_value(const FormulaEntry& f) {
  const std::string none = "for these values the formula has no result";
  return f.about.holds.empty() ? none : none + "; it holds for: " + std::string(f.about.holds);
}

}  // namespace

std::vector<FormulaEntry> all_formulas() {
  std::vector<FormulaEntry> all;
  for (const auto list : {wiring::formulas(), parts::formulas(), energy::formulas()})
    all.insert(all.end(), list.begin(), list.end());
  std::sort(all.begin(), all.end(),
            [](const FormulaEntry& a, const FormulaEntry& b) { return a.name < b.name; });
  return all;
}

std::optional<FormulaEntry> formula_named(std::string_view name) {
  for (const FormulaEntry& f : all_formulas())
    if (f.name == name) return f;
  return std::nullopt;
}

std::optional<Kind> kind_of_symbol(const FormulaEntry& f, std::string_view symbol) {
  for (std::size_t i = 0; i < f.kinds.size(); ++i)
    if (f.about.operands[i].symbol == symbol) return f.kinds[i];
  return std::nullopt;
}

std::optional<FormulaAnswer> formula(const FormulaEntry& f, std::span<const SymbolValue> values,
                                     Diagnostics& diagnostics) {
  refuse_unknown(f, values, diagnostics);
  const auto operands = operands_of(f, values, diagnostics);
  if (diagnostics.any_error()) return std::nullopt;
  FormulaAnswer a{f};
  const Number value = f.evaluate(operands, &a.working);
  if (std::isfinite(value.si)) a.value = value;
  else a.why_none = why_no_value(f);
  return a;
}

}  // namespace housepower::answers

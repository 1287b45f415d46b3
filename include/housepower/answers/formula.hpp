// SPDX-License-Identifier: Apache-2.0
// The formulas of the engine by name, each with its value for given values and the steps to it.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "housepower/reading/diagnostic.hpp"
#include "housepower/working/registry.hpp"

namespace housepower::answers {

/// By name.
[[nodiscard]] std::vector<FormulaEntry> all_formulas();
/// Nothing where there is none of that name.
[[nodiscard]] std::optional<FormulaEntry> formula_named(std::string_view name);
/// Of what kind a symbol of a formula is; nothing where it has no such symbol.
[[nodiscard]] std::optional<Kind> kind_of_symbol(const FormulaEntry&, std::string_view symbol);

/// "L", 4 m.
struct SymbolValue {
  std::string symbol;
  Number value;
};

struct FormulaAnswer {
  FormulaEntry entry;
  std::optional<Number> value{};  // where values were given
  Working working{};
  std::string why_none{};  // values were given, but nothing solves it
};

/// A value for each symbol. Nothing, and told, where one is missing, unknown or of another kind, or
/// where an error was told before.
[[nodiscard]] std::optional<FormulaAnswer> formula(const FormulaEntry&,
                                                   std::span<const SymbolValue>, Diagnostics&);

}  // namespace housepower::answers

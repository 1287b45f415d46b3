// SPDX-License-Identifier: Apache-2.0
// Puts the numbers into the text of a step. Nothing is computed here.
#include "housepower/working/working.hpp"

#include <algorithm>
#include <cctype>

#include "housepower/units/unit.hpp"
#include "housepower/working/verdict.hpp"

namespace housepower {
namespace {

constexpr std::string_view signs[] = {"·", "×", "−", "²", "³", "√"};

/// Whether a symbol or a number goes on: a letter, a figure or "_" stands at the end of `before`.
bool word_ends(std::string_view before) {
  if (before.empty()) return false;
  const auto c = static_cast<unsigned char>(before.back());
  if (c < 0x80) return std::isalnum(c) != 0 || c == '_';
  return std::none_of(std::begin(signs), std::end(signs),
                      [&](std::string_view sign) { return before.ends_with(sign); });
}
bool word_begins(std::string_view rest) {
  if (rest.empty()) return false;
  const auto c = static_cast<unsigned char>(rest.front());
  if (c < 0x80) return std::isalnum(c) != 0 || c == '_';
  return std::none_of(std::begin(signs), std::end(signs),
                      [&](std::string_view sign) { return rest.starts_with(sign); });
}

/// The position of the operand whose symbol begins `rest`, the longest; -1 where none does.
int operand_at(std::string_view rest, std::span<const Symbol> operands) {
  int best = -1;
  std::size_t longest = 0;
  for (std::size_t i = 0; i < operands.size(); ++i) {
    const std::string_view symbol = operands[i].symbol;
    if (symbol.size() <= longest || !rest.starts_with(symbol)) continue;
    if (word_begins(rest.substr(symbol.size()))) continue;
    longest = symbol.size();
    best = static_cast<int>(i);
  }
  return best;
}

/// Ratios bare, for the pocket calculator; all else with its unit.
std::string number_text(const Number& n, int digits) {
  return n.kind == kind_of<Ratio> ? print_plain(n.si, digits) : written(n, digits);
}

/// In the unit in which it counts, bare: the text names it.
std::string operand_text(const Number& n, const Symbol& symbol, int digits) {
  const auto unit = symbol.unit.empty() ? std::nullopt : unit_named(symbol.unit);
  return unit ? print_plain(in_unit(n, *unit), digits) : number_text(n, digits);
}

/// In brackets where the line would read otherwise: -5 °C, (15 A)², 12 V / (7.98 mΩ/m).
std::string bracketed(const std::string& number, std::string_view before, std::string_view after) {
  const bool raised = after.starts_with("²") || after.starts_with("³") || after.starts_with("^");
  const bool has_unit = number.find_first_not_of("0123456789.e-") != std::string::npos;
  while (before.ends_with(' ')) before.remove_suffix(1);
  const bool divides = before.ends_with('/') && number.find('/') != std::string::npos;
  if (!number.starts_with('-') && !(raised && has_unit) && !divides) return number;
  return "(" + number + ")";
}

std::string formula_line(const Step& step, int digits) {
  std::string line;
  for (std::string_view rest = step.formula.text; !rest.empty();) {
    const int found = word_ends(line) ? -1 : operand_at(rest, step.formula.operands);
    if (found < 0) {
      line += rest.front();
      rest.remove_prefix(1);
      continue;
    }
    const auto index = static_cast<std::size_t>(found);
    rest.remove_prefix(step.formula.operands[index].symbol.size());
    line += bracketed(operand_text(step.operands[index], step.formula.operands[index], digits),
                      line, rest);
  }
  return line;
}

/// "fridge 12.3 Ah + lights 4.5 Ah - sun 3.2 Ah"
std::string sum_line(const Step& step, int digits) {
  std::string line;
  for (std::size_t i = 0; i < step.operands.size(); ++i) {
    Number term = step.operands[i];
    const bool taken_off = i > 0 && term.si < 0;
    if (taken_off) term.si = -term.si;
    if (i > 0) line += taken_off ? " - " : " + ";
    line += step.names[i] + " " + number_text(term, digits);
  }
  return line;
}

/// "largest of fridge 12.3 A, lights 4.5 A"
std::string choice_line(const Step& step, int digits) {
  std::string line = step.how == Step::How::largest ? "largest of " : "smallest of ";
  for (std::size_t i = 0; i < step.operands.size(); ++i)
    line += (i ? ", " : "") + step.names[i] + " " + number_text(step.operands[i], digits);
  return line;
}

}  // namespace

std::string_view word_of(Verdict verdict) {
  constexpr std::string_view words_[] = {"pass", "not-checked", "caution", "fail"};
  return words_[static_cast<std::size_t>(verdict)];
}

std::string_view word_of(SourceKind kind) {
  switch (kind) {
  case SourceKind::published: return "published";
  case SourceKind::supplier: return "supplier";
  case SourceKind::common_practice: return "common practice";
  case SourceKind::from_memory: break;
  }
  return "from memory";
}

std::string with_numbers(const Step& step, int digits) {
  if (step.how == Step::How::formula) return formula_line(step, digits);
  if (step.how == Step::How::given || step.operands.empty()) return number_text(step.value, digits);
  return step.how == Step::How::sum ? sum_line(step, digits) : choice_line(step, digits);
}

}  // namespace housepower

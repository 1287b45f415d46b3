// SPDX-License-Identifier: Apache-2.0
// Reads quantities as people write them, and says what is wrong and what to write instead.
#include <algorithm>
#include <cmath>
#include <numeric>
#include <vector>
#include <version>
#if defined(__cpp_lib_to_chars)
#include <charconv>
#else
#include <cstdlib>
#endif

#include "kinds.hpp"

namespace housepower {
namespace {

using spellings::length_of;
using spellings::trimmed;

constexpr std::string_view ten_digits = "0123456789";

std::size_t sign_size(std::string_view text) {
  for (const std::string_view sign : {"+", "-", "\u2212"})
    if (text.starts_with(sign)) return sign.size();
  return 0;
}

std::size_t count_figures(std::string_view text) {
  return std::min(text.find_first_not_of(ten_digits), text.size());
}

/// Bytes of the plain decimal number that `text` begins with; 0 where it begins with none.
std::size_t number_size(std::string_view text) {
  std::size_t size = sign_size(text);
  const std::size_t whole = count_figures(text.substr(size));
  size += whole;
  std::size_t parts = 0;
  if (text.substr(size).starts_with('.')) parts = count_figures(text.substr(size + 1));
  if (whole + parts == 0) return 0;
  if (text.substr(size).starts_with('.')) size += 1 + parts;
  const std::string_view rest = text.substr(size);
  if (rest.starts_with('e') || rest.starts_with('E')) {
    const std::size_t mark =
        1 + (rest.substr(1).starts_with('+') || rest.substr(1).starts_with('-'));
    if (const std::size_t power = count_figures(rest.substr(mark))) size += mark + power;
  }
  return size;
}

/// Of a text that number_size accepted whole; nothing where a double cannot hold it.
std::optional<double> converted(std::string_view text) {
  const std::size_t sign = sign_size(text);
  const bool negative = sign > 0 && text[0] != '+';
  text.remove_prefix(sign);
  double value = 0;
#if defined(__cpp_lib_to_chars)
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
#else
  value = std::strtod(std::string(text).c_str(), nullptr);
#endif
  const bool vanished =
      value == 0 && text.substr(0, text.find_first_of("eE")).find_first_of(ten_digits.substr(1)) !=
                        std::string_view::npos;
  if (!std::isfinite(value) || vanished) return std::nullopt;
  return negative ? -value : value;
}

/// "… in quotes", cut where it is long.
std::string cut_and_quoted(std::string_view text) {
  constexpr int longest = 30;
  if (length_of(text) <= longest) return '"' + std::string(text) + '"';
  std::string_view rest = text;
  for (int i = 0; i < longest && !rest.empty(); ++i) spellings::take_folded(rest);
  return '"' + std::string(text.substr(0, text.size() - rest.size())) + "…\"";
}

std::string did_you_mean(std::string_view number, std::string_view unit) {
  return "did you mean " + cut_and_quoted(std::string(number).append(" ").append(unit)) + "?";
}

std::string wants(Kind kind) {
  const auto* facts = kinds::facts_of(kind);
  if (!facts) return "wants a quantity in " + plain_symbol(kind);
  return "wants " + std::string(facts->name) + " such as " + std::string(facts->examples);
}

std::u32string lower(std::string_view text) {
  std::u32string all;
  while (!text.empty()) {
    const char32_t c = spellings::take_folded(text);
    all += c >= 'A' && c <= 'Z' ? c + ('a' - 'A') : c;
  }
  return all;
}

/// Insertions, deletions and replacements that turn a into b.
int edits(const std::u32string& a, const std::u32string& b) {
  std::vector<int> row(b.size() + 1);
  std::iota(row.begin(), row.end(), 0);
  for (std::size_t i = 1; i <= a.size(); ++i) {
    int diagonal = row[0]++;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const int replaced = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
      diagonal = row[j];
      row[j] = std::min({row[j] + 1, row[j - 1] + 1, replaced});
    }
  }
  return row[b.size()];
}

/// The spelling of that kind that the text most likely meant: "KW", "mm^2", "hours". May be empty.
std::string_view nearest(std::string_view text, Kind kind) {
  const std::u32string written = lower(text);
  if (written.size() > 20) return {};
  auto least = 10 * std::max(1, static_cast<int>(written.size()) / 2) + 1;
  std::string_view best;
  for (const Unit& unit : units()) {
    if (!(unit.kind == kind)) continue;
    const std::u32string known = lower(unit.symbol);
    const bool begins = written.starts_with(known);  // "min" in "minutes": as good as one edit
    const int distance = std::min(edits(written, known), begins ? 1 : 20);
    const int cost = 10 * distance - (begins ? static_cast<int>(known.size()) : 0);
    if (cost < least) {
      least = cost;
      best = unit.symbol;
    }
  }
  return best;
}

/// Where a known unit is followed by a space and something else: the size of unit and space.
std::size_t known_beginning(std::string_view text) {
  constexpr std::size_t longest = 20;  // of any unit, with a blank to spare
  for (auto at = text.rfind(' ', longest); at != std::string_view::npos && at > 0;
       at = text.rfind(' ', at - 1))
    if (unit_named(trimmed(text.substr(0, at)))) return at + 1;
  return 0;
}

ParseProblem unknown_unit(std::string_view number, std::string_view written, Kind wanted,
                          int column) {
  if (const auto size = known_beginning(written))
    return {wants(wanted) + ", and nothing after the unit; got " +
                cut_and_quoted(written.substr(size)),
            "", column + length_of(written.substr(0, size))};
  ParseProblem problem{wants(wanted) + "; no unit is written " + cut_and_quoted(written), "",
                       column};
  const std::string_view meant = nearest(written, wanted);
  if (!meant.empty()) problem.hint = did_you_mean(number, meant);
  return problem;
}

ParseProblem other_kind(std::string_view number, const Unit& got, Kind wanted, int column) {
  ParseProblem problem{wants(wanted) + ", got " + std::string(name_of(got.kind)), "", column};
  if (wanted == spellings::point && got.kind == spellings::difference)
    problem.hint = "K counts the difference of two temperatures; write a temperature in °C";
  if (wanted == spellings::difference && got.kind == spellings::point)
    problem.hint = "a difference of temperatures is written in K" +
                   (got.factor == 1.0 ? ": " + did_you_mean(number, "K") : std::string());
  return problem;
}

/// What stands where a number should begin.
ParseProblem no_number(std::string_view text, Kind wanted, int column) {
  return {wants(wanted) + ", got " + (text.empty() ? "nothing" : cut_and_quoted(text)), "", column};
}

ParseProblem comma(std::string_view number, std::string_view rest, int column) {
  const std::size_t after = count_figures(rest.substr(1));
  ParseProblem problem{
      "has a comma in its number: use '.' for decimals and nothing between thousands", "", column};
  const std::string_view unit = trimmed(rest.substr(1 + after));
  if (after != 3 && unit_named(unit))
    problem.hint =
        did_you_mean(std::string(number) + "." + std::string(rest.substr(1, after)), unit);
  return problem;
}

}  // namespace

std::optional<double> parse_double(std::string_view text) {
  if (text.empty() || number_size(text) != text.size()) return std::nullopt;
  return converted(text);
}

std::variant<Number, ParseProblem> parse_quantity(std::string_view text, Kind wanted) {
  const std::string_view all = trimmed(text);
  const auto column_of = [&](std::string_view part) {
    return 1 + length_of(text.substr(0, static_cast<std::size_t>(part.data() - text.data())));
  };
  const std::string_view number = all.substr(0, number_size(all));
  const std::string_view rest = all.substr(number.size());
  if (number.empty()) return no_number(all, wanted, all.empty() ? 1 : column_of(all));
  if (rest.starts_with(',') && count_figures(rest.substr(1)) > 0)
    return comma(number, rest, column_of(rest));
  if (number.ends_with('0') && (rest.starts_with('x') || rest.starts_with('X')))
    return no_number(all, wanted, column_of(all));

  const auto value = converted(number);
  const auto out_of_range = [&] {
    return ParseProblem{"has a number that is too large or too small to count with", "",
                        column_of(number)};
  };
  if (!value) return out_of_range();
  const std::string_view written = trimmed(rest);
  if (written.empty() && wanted == spellings::ratio) return Number(*value, wanted);
  if (written.empty()) {
    const auto* facts = kinds::facts_of(wanted);
    return ParseProblem{wants(wanted) + ", got a number without a unit",
                        facts ? did_you_mean(number, facts->likely) : "", column_of(rest)};
  }
  const auto unit = unit_named(written);
  if (!unit) return unknown_unit(number, written, wanted, column_of(written));
  if (!(unit->kind == wanted)) return other_kind(number, *unit, wanted, column_of(written));
  const Number result(*value * unit->factor + unit->offset, wanted);
  if (!std::isfinite(result.si)) return out_of_range();
  if (wanted.point && result.si < 0)
    return ParseProblem{"has a temperature below absolute zero", "", column_of(number)};
  return result;
}

}  // namespace housepower

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
  if (kind == spellings::length && text == "'") return "ft";  // as on a tape measure
  if (kind == spellings::length && text == "\"") return "in";
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

/// Of "kAh", which no list of units has: what one of it is. Empty of all else.
std::string without_prefix(std::string_view written, Kind wanted) {
  constexpr std::pair<std::string_view, std::string_view> prefixes[] = {{"k", "1000"},
                                                                        {"m", "0.001"}};
  for (const auto& [prefix, times] : prefixes) {
    if (!written.starts_with(prefix)) continue;
    const auto unit = unit_named(written.substr(prefix.size()));
    if (unit && unit->kind == wanted)
      return "1 " + std::string(written) + " is " + std::string(times) + " " +
             std::string(unit->symbol) + ": write that";
  }
  return {};
}

ParseProblem unknown_unit(std::string_view number, std::string_view written, Kind wanted,
                          int column) {
  if (const auto size = known_beginning(written))
    return {wants(wanted) + ", and nothing after the unit; got " +
                cut_and_quoted(written.substr(size)),
            "", column + length_of(written.substr(0, size))};
  ParseProblem problem{wants(wanted) + "; no unit is written " + cut_and_quoted(written), "",
                       column};
  problem.hint = without_prefix(written, wanted);
  const std::string_view meant = nearest(written, wanted);
  if (problem.hint.empty() && !meant.empty()) problem.hint = did_you_mean(number, meant);
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

/// Figures and the signs between them, at the beginning of a text: "-1.234,5e3".
struct Figures {
  std::string_view text;  // without the sign
  std::size_t points = 0, commas = 0;
  std::string_view whole;  // before the first of them
  std::string_view after;  // the figures after the last of them
  bool in_threes = true;   // between any two signs stand three figures
  std::string_view power;  // "e3"
};

/// Only signs with figures after them count: "2, 4" is a 2.
Figures figures_of(std::string_view all) {
  Figures f;
  const std::string_view text = all.substr(sign_size(all));
  std::size_t size = count_figures(text);
  f.whole = text.substr(0, size);
  for (; size < text.size() && (text[size] == '.' || text[size] == ',');) {
    const std::size_t more = count_figures(text.substr(size + 1));
    if (more == 0) break;
    (text[size] == '.' ? f.points : f.commas) += 1;
    f.in_threes = f.in_threes && (f.after.empty() || f.after.size() == 3);
    f.after = text.substr(size + 1, more);
    size += 1 + more;
  }
  f.text = text.substr(0, size);
  const std::string_view rest = text.substr(size);
  if (rest.starts_with('e') || rest.starts_with('E')) {
    const std::size_t mark = 1 + sign_size(rest.substr(1));
    if (const auto figures = count_figures(rest.substr(mark)))
      f.power = rest.substr(0, mark + figures);
  }
  return f;
}

/// "1,200": its one sign may stand between thousands as well as before decimals.
bool may_part_thousands(const Figures& f) {
  return f.points + f.commas == 1 && f.after.size() == 3 && !f.whole.empty() &&
         f.whole.size() <= 3 && f.whole.front() != '0' && f.power.empty();
}

std::string without(std::string_view text, std::string_view signs) {
  std::string out;
  for (const char c : text)
    if (signs.find(c) == std::string_view::npos) out += c;
  return out;
}

/// The number with a decimal point and nothing between thousands; nothing where it is unclear or no
/// number. Only of one that holds a comma.
std::optional<std::string> with_a_point(const Figures& f) {
  if (f.points > 0 || f.commas != 1 || f.whole.empty() || may_part_thousands(f))
    return std::nullopt;
  return std::string(f.whole) + "." + std::string(f.after) + std::string(f.power);
}

/// "-2.4 m" of its parts, in quotes.
std::string quantity_text(std::string_view sign, std::string_view number, std::string_view unit) {
  const std::string text = std::string(sign).append(number);
  return cut_and_quoted(unit.empty() ? text : text + " " + std::string(unit));
}

/// Of a number that may part thousands.
ParseProblem either(const Figures& f, std::string_view sign, std::string_view unit, int column) {
  const std::string large = std::string(f.whole) + std::string(f.after);
  std::string small = std::string(f.whole) + "." + std::string(f.after);
  while (small.ends_with('0')) small.pop_back();
  if (small.ends_with('.')) small += '0';
  return {"may be read in two ways, as " + small + " or as " + large,
          "write " + quantity_text(sign, small, unit) + " or " + quantity_text(sign, large, unit),
          column};
}

ParseProblem comma(const Figures& f, std::string_view sign, std::string_view unit, int column) {
  if (f.commas == 1 && may_part_thousands(f)) return either(f, sign, unit, column);
  ParseProblem problem{"has something between its thousands: write nothing there", "", column};
  if (!unit_named(unit) || !f.in_threes) return problem;
  const bool comma_last =
      f.text.rfind(',') != f.text.npos &&
      (f.text.rfind('.') == f.text.npos || f.text.rfind(',') > f.text.rfind('.'));
  const std::size_t last = comma_last ? f.commas : f.points;  // how often the last sign stands
  std::string plain = without(f.text, ".,");
  if (last > 1 && f.after.size() != 3) return problem;
  if (last == 1) plain.insert(plain.size() - f.after.size(), ".");
  problem.hint = "did you mean " + quantity_text(sign, plain, unit) + "?";
  return problem;
}

}  // namespace

std::optional<double> parse_double(std::string_view text) {
  if (text.empty() || number_size(text) != text.size()) return std::nullopt;
  return converted(text);
}

DecimalMark decimal_mark_of(std::string_view text) {
  const Figures f = figures_of(trimmed(text));
  if (f.commas > 0) return with_a_point(f) ? DecimalMark::comma : DecimalMark::none;
  if (f.points != 1) return DecimalMark::none;
  return may_part_thousands(f) ? DecimalMark::point_or_thousands : DecimalMark::point;
}

ParseProblem problem_of_thousands(std::string_view text) {
  const std::string_view all = trimmed(text), sign = all.substr(0, sign_size(all));
  const Figures f = figures_of(all);
  return either(f, sign, trimmed(all.substr(sign.size() + f.text.size())), 1);
}

std::variant<Number, ParseProblem> parse_quantity(std::string_view text, Kind wanted) {
  const std::string_view all = trimmed(text);
  const auto column_of = [&](std::string_view part) {
    return 1 + length_of(text.substr(0, static_cast<std::size_t>(part.data() - text.data())));
  };
  std::string_view number = all.substr(0, number_size(all));
  std::string_view rest = all.substr(number.size());
  if (number.empty()) return no_number(all, wanted, all.empty() ? 1 : column_of(all));
  std::string pointed;
  if (const Figures f = figures_of(all); f.commas > 0) {
    const std::string_view sign = all.substr(0, sign_size(all));
    rest = all.substr(sign.size() + f.text.size() + f.power.size());
    const auto plain = with_a_point(f);
    if (!plain) return comma(f, sign, trimmed(rest), column_of(f.text.substr(f.text.find(','))));
    pointed = std::string(sign) + *plain;
    number = pointed;
  }
  if (number.ends_with('0') && (rest.starts_with('x') || rest.starts_with('X')))
    return no_number(all, wanted, column_of(all));

  const auto value = converted(number);
  const auto out_of_range = [&] {
    return ParseProblem{"has a number that is too large or too small to count with", "",
                        column_of(all)};
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
    return ParseProblem{"has a temperature below absolute zero", "", column_of(all)};
  return result;
}

}  // namespace housepower

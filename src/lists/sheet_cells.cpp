// SPDX-License-Identifier: Apache-2.0
// The cells of a sheet as the keys of the format take them.
#include <algorithm>
#include <array>

#include "housepower/reading/shape.hpp"
#include "housepower/reading/text.hpp"
#include "housepower/units/unit.hpp"
#include "sheet_inside.hpp"

namespace housepower::sheets {
namespace {

using Form = Shape::Form;

/// A cell on its way to a value.
struct Reader {
  const Csv& csv;
  const Csv::Cell& cell;
  const SheetRules& rules;
  const std::string& path;
  const SheetColumn& column;
  const Decimals& decimals;
  const std::string& key;
  Diagnostics& diagnostics;

  [[nodiscard]] Place place() const { return csv.place_of(cell); }
  [[nodiscard]] Node node(std::string text) const { return {std::move(text), place()}; }
  Node refuse(std::string message, std::string hint) const {
    diagnostics.error(place(), key, std::move(message), std::move(hint));
    return {{}, place()};
  }
};

std::string example(const Leaf& leaf) { return detail::example_of(*leaf.field, *leaf.shape); }

/// The number with a decimal point; where it cannot be told what it is, that is said.
std::optional<std::string> number_of(const Reader& r, const Figure& f) {
  using Shows = Figure::Shows;
  if (r.cell.is_number) return plain_number(f, DecimalSign::point);
  const std::string number(f.number);
  if (f.shows == Shows::either && !r.decimals.sign) {
    const auto as_point = plain_number(f, DecimalSign::point),
               as_comma = plain_number(f, DecimalSign::comma);
    r.refuse(detail::quoted(number) + " can be " + as_point.value_or("?") + " or " +
                 as_comma.value_or("?") + ": nothing in the file shows its decimal sign",
             "say it: --decimal point reads " + as_point.value_or("?") + ", --decimal comma " +
                 as_comma.value_or("?"));
    return std::nullopt;
  }
  const DecimalSign sign = r.decimals.sign.value_or(DecimalSign::point);
  auto plain = plain_number(f, sign);
  if (!plain) {
    const bool other = f.shows != Shows::nonsense;
    r.refuse(other ? detail::quoted(number) + " has a decimal " +
                         (sign == DecimalSign::point ? "comma" : "point") +
                         ", but the file's decimal sign is the " + std::string(word(sign)) + " (" +
                         r.decimals.from + ")"
                   : detail::quoted(number) + " is not a number",
             "write its decimals as the others, and nothing between thousands");
    return std::nullopt;
  }
  const bool thousands =
      f.grouped || (f.shows == Shows::either &&
                    f.number.find(sign == DecimalSign::point ? ',' : '.') != f.number.npos);
  if (thousands)
    r.diagnostics.warning(r.place(), r.key,
                          detail::quoted(number) + " is read as " + *plain +
                              ": its thousands are separated",
                          "write " + *plain + " to be sure");
  return plain;
}

Node quantity(const Reader& r, const Leaf& leaf, const Shape& shape, std::string_view text) {
  const Figure f = figure_of(text);
  if (f.number.empty()) return r.node(std::string(text));  // the field says what it wants
  const auto number = number_of(r, f);
  if (!number) return {{}, r.place()};
  const std::string own = unit_of(f.rest);
  std::string unit = f.rest.empty() ? r.column.unit : own.empty() ? std::string(f.rest) : own;
  if (unit.empty() && !(shape.kind == Kind{}))
    return r.refuse(detail::quoted(text) + " has no unit, and neither has its heading",
                    "write the unit in the heading, as \"" +
                        std::string(detail::trimmed(r.column.head)) + " (" +
                        std::string(usual_unit(leaf).value_or(plain_unit(shape.kind)).symbol) +
                        ")\", or in the cell, as " + example(leaf));
  return r.node(unit.empty() ? *number : *number + " " + unit);
}

Node count(const Reader& r, std::string_view text) {
  const Figure f = figure_of(text);
  const std::string after = folded(f.rest);
  const bool pieces = after.empty() || after == "x" || after == "pcs" || after == "pc" ||
                      after == "stk" || after == "stuck" || after == "off";
  if (f.number.empty() || !pieces) return r.node(std::string(text));
  const auto number = number_of(r, f);
  if (!number) return {{}, r.place()};
  const auto value = parse_double(*number);
  if (!value) return r.node(std::string(text));
  const bool whole = *value > -1e15 && *value < 1e15 &&
                     *value == static_cast<double>(static_cast<std::int64_t>(*value));
  if (whole) return {static_cast<std::int64_t>(*value), r.place()};
  return {*value, r.place()};
}

Node flag(const Reader& r) {
  constexpr std::array yes{"true", "yes", "y", "x", "1", "ja", "wahr", "oui", "vrai"};
  constexpr std::array no{"false", "no", "n", "0", "nein", "falsch", "non", "faux"};
  const std::string text = folded(r.cell.text);
  if (std::find(yes.begin(), yes.end(), text) != yes.end()) return {true, r.place()};
  if (std::find(no.begin(), no.end(), text) != no.end()) return {false, r.place()};
  return r.node(r.cell.text);
}

/// One of the words of the key, however its letters and blanks are written.
Node choice(const Reader& r, const Shape& shape) {
  std::string text = folded(r.cell.text);
  for (const auto word : shape.words) {
    std::string spoken = folded(word), written = text;
    std::replace(spoken.begin(), spoken.end(), '-', ' ');
    std::replace(written.begin(), written.end(), '-', ' ');
    if (spoken == written) return r.node(std::string(word));
  }
  return r.node(r.cell.text);
}

/// "420", "420,50 EUR", "€ 420": a number and a currency, from the cell or the head.
Node amount(const Reader& r) {
  std::string_view text = detail::trimmed(r.cell.text);
  const std::size_t begin = std::min(text.find_first_of("0123456789"), text.size());
  const std::string_view before = detail::trimmed(text.substr(0, begin));
  const Figure f = figure_of(text.substr(begin));
  if (f.number.empty() || before == "-" || before == "\u2212") return r.node(r.cell.text);
  const auto number = number_of(r, f);
  if (!number) return {{}, r.place()};
  const std::string_view written = before.empty() ? f.rest : before;
  const std::string own = currency_of(written);
  if (!written.empty() && own.empty())
    return r.refuse(detail::quoted(text) + " has no currency that is known by its sign",
                    "write its three letters, as in 420 EUR");
  return r.node(*number + " " + (own.empty() ? r.column.unit : own));
}

/// "2.5" under "Size (mm²)", "2,5 mm²", "AWG 10", "2/0" under "AWG": as a size is written.
Node size(const Reader& r) {
  std::string text(detail::trimmed(r.cell.text));
  if (folded(text).starts_with("awg "))
    text = std::string(detail::trimmed(text.substr(4))) + " awg";
  const Figure f = figure_of(text);
  if (f.number.empty()) return r.node(r.cell.text);
  if (!f.rest.empty() && std::string_view("xX*\u00D7").find(f.rest.front()) != std::string::npos)
    return r.refuse(detail::quoted(r.cell.text) + " can be a cable of several cores or several "
                                                  "conductors that share the current",
                    "write the size of one conductor, as in 2.5 mm2; those that share the current "
                    "are counted by a column \"parallel\"");
  const bool fraction = f.rest.starts_with('/');
  const auto number = fraction ? std::optional(std::string(f.number)) : number_of(r, f);
  if (!number) return {{}, r.place()};
  const auto blank = fraction ? std::min(f.rest.find(' '), f.rest.size()) : 0;
  const std::string value = *number + std::string(f.rest.substr(0, blank));
  const std::string_view rest = detail::trimmed(f.rest.substr(blank));
  if (folded(rest) == "mm")
    return r.refuse(detail::quoted(text) + " alone may be an outside diameter or an area",
                    "write " + detail::quoted(value + " mm2") + " for mm² of conductor, " +
                        detail::quoted(value + " auto-od") + " for cable of that outside diameter");
  const std::string unit = rest.empty() ? r.column.unit : size_unit_of(rest);
  if (rest.empty() && unit.empty())
    return r.refuse(
        detail::quoted(text) + " does not say what it counts, and neither does its heading",
        "write it in the heading, as \"Size (mm²)\" or \"Size (AWG)\", or in the cell, as 2.5 mm2");
  return r.node(value + " " + (unit.empty() ? std::string(rest) : unit));
}

std::vector<std::string> parts_of(std::string_view text, std::string_view between) {
  std::vector<std::string> parts;
  std::string part;
  for (std::size_t at = 0; at < text.size(); ++at) {
    if (text.substr(at).starts_with("\u2013")) part += '-', at += 2;
    else if (between.find(text[at]) == between.npos) part += text[at];
    else parts.push_back(std::move(part)), part.clear();
  }
  parts.push_back(std::move(part));
  for (auto& one : parts) one = std::string(detail::trimmed(one));
  parts.erase(std::remove(parts.begin(), parts.end(), std::string()), parts.end());
  return parts;
}

/// "330 x 170 x 220 mm": the unit after the last holds for all.
Node quantities(const Reader& r, const Leaf& leaf) {
  std::string text = r.cell.text;
  for (auto at = text.find("\u00D7"); at != text.npos; at = text.find("\u00D7"))
    text.replace(at, 2, "x");
  const auto parts = parts_of(text, "xX*");
  Node::List list;
  const std::string last = parts.empty() ? "" : std::string(figure_of(parts.back()).rest);
  for (const auto& part : parts) {
    const bool bare = !figure_of(part).number.empty() && figure_of(part).rest.empty();
    Node one =
        quantity(r, leaf, *leaf.shape->items, bare && !last.empty() ? part + " " + last : part);
    if (std::holds_alternative<std::monostate>(one.value)) return one;
    list.push_back(std::move(one));
  }
  return {std::move(list), r.place()};
}

Node list(const Reader& r, const Leaf& leaf) {
  if (!leaf.shape->items) return r.node(r.cell.text);
  if (leaf.shape->items->form == Form::quantity) return quantities(r, leaf);
  const bool counts = leaf.shape->items->form == Form::count;
  Node::List list;
  for (auto& part : parts_of(r.cell.text, ",;\n"))
    list.push_back(counts ? count(r, part) : r.node(std::move(part)));
  return {std::move(list), r.place()};
}

}  // namespace

Node value_of(const Csv& csv, const Csv::Cell& cell, const SheetRules& rules, const Leaf& leaf,
              const std::string& path, const SheetColumn& column, const Decimals& decimals,
              const std::string& key, Diagnostics& diagnostics) {
  const Reader r{csv, cell, rules, path, column, decimals, key, diagnostics};
  for (const CellWord& word : rules.cells)
    if (word.path == path && word.written == folded(cell.text))
      return r.node(std::string(word.meant));
  if (is_amount(rules, path)) return amount(r);
  if (is_size(rules, path)) return size(r);
  switch (leaf.shape->form) {
  case Form::quantity:
  case Form::number: return quantity(r, leaf, *leaf.shape, detail::trimmed(cell.text));
  case Form::count: return count(r, cell.text);
  case Form::flag: return flag(r);
  case Form::word: return choice(r, *leaf.shape);
  case Form::list: return list(r, leaf);
  case Form::text:
  case Form::table:
  case Form::free_keys: break;
  }
  return r.node(std::string(without_guard(cell.text)));
}

}  // namespace housepower::sheets

// SPDX-License-Identifier: Apache-2.0
// Words, units and numbers as people write them in a sheet.
#include <algorithm>
#include <array>

#include "housepower/reading/shape.hpp"
#include "housepower/reading/text.hpp"
#include "housepower/units/unit.hpp"
#include "sheet_inside.hpp"

namespace housepower::sheets {
namespace {

using Form = Shape::Form;

struct UnitWord {
  std::string_view folded, symbol;
};
// What the trade writes for a unit, beside its sign. A day is all that a figure "per day" is of.
constexpr std::array unit_words = std::to_array<UnitWord>({
    {"w", "W"},          {"watt", "W"},       {"watts", "W"},
    {"kw", "kW"},        {"wp", "W"},         {"a", "A"},
    {"amp", "A"},        {"amps", "A"},       {"ampere", "A"},
    {"amperes", "A"},    {"ma", "mA"},        {"v", "V"},
    {"volt", "V"},       {"volts", "V"},      {"va", "VA"},
    {"ah", "Ah"},        {"amp hours", "Ah"}, {"hour", "h"},
    {"hours", "h"},      {"hr", "h"},         {"hrs", "h"},
    {"std", "h"},        {"stunden", "h"},    {"heures", "h"},
    {"h/day", "h"},      {"h/d", "h"},        {"h per day", "h"},
    {"hours/day", "h"},  {"hrs/day", "h"},    {"hours per day", "h"},
    {"h/tag", "h"},      {"std/tag", "h"},    {"stunden/tag", "h"},
    {"h/jour", "h"},     {"minute", "min"},   {"minutes", "min"},
    {"mins", "min"},     {"minuten", "min"},  {"min/day", "min"},
    {"min/d", "min"},    {"sec", "s"},        {"secs", "s"},
    {"second", "s"},     {"seconds", "s"},    {"sekunden", "s"},
    {"percent", "%"},    {"prozent", "%"},    {"pct", "%"},
    {"kilograms", "kg"}, {"kgs", "kg"},       {"deg c", "°C"},
    {"c", "°C"},         {"milliohm", "mΩ"},  {"milliohms", "mΩ"},
    {"inches", "in"},    {"inch", "in"},      {"pounds", "lb"},
    {"lbs", "lb"},       {"%/k", "%/K"},      {"% / k", "%/K"},
    {"%/c", "%/K"},      {"mohm", "mΩ"},      {"ohm", "Ω"},
});

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// Bytes of a sign that stands between thousands and is neither point nor comma.
std::size_t blank_size(std::string_view text) {
  for (const std::string_view blank : {" ", "'", "\u00A0", "\u202F", "\u2009", "\u2019"})
    if (text.starts_with(blank)) return blank.size();
  return 0;
}

/// "E-05" after a number.
std::size_t exponent_size(std::string_view text) {
  if (text.empty() || (text[0] != 'e' && text[0] != 'E')) return 0;
  std::size_t size = 1 + (text.substr(1).starts_with('-') || text.substr(1).starts_with('+'));
  const std::size_t digits =
      std::min(text.find_first_not_of("0123456789", size), text.size()) - size;
  return digits == 0 ? 0 : size + digits;
}

/// "1.234.567": the first group of one to three digits and no nought, the others of three.
bool is_grouped(std::string_view digits, char by) {
  if (digits.empty() || digits.front() == '0') return false;
  const auto first = std::min(digits.find(by), digits.size());
  if (first == 0 || first > 3 || (digits.size() - first) % 4 != 0) return false;
  for (std::size_t i = 0; i < digits.size(); ++i)
    if ((i >= first && (i - first) % 4 == 0) != (digits[i] == by)) return false;
  return true;
}

Figure::Shows sign_shown(std::string_view digits) {
  using Shows = Figure::Shows;
  const auto points = std::count(digits.begin(), digits.end(), '.');
  const auto commas = std::count(digits.begin(), digits.end(), ',');
  if (points + commas == 0) return Shows::nothing;
  if (points > 0 && commas > 0) {
    const char last = digits[digits.find_last_of(".,")];
    const auto at = digits.find(last);
    const bool good = is_grouped(digits.substr(0, at), last == '.' ? ',' : '.') &&
                      digits.find(last, at + 1) == digits.npos;
    return !good ? Shows::nonsense : last == '.' ? Shows::point : Shows::comma;
  }
  const char only = points > 0 ? '.' : ',';
  const bool may_group = is_grouped(digits, only);
  if (points + commas == 1)
    return may_group ? Shows::either : only == '.' ? Shows::point : Shows::comma;
  return !may_group ? Shows::nonsense : only == '.' ? Shows::comma : Shows::point;
}

}  // namespace

std::string folded(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    const auto [value, bytes] = detail::first_code_point(text);
    const auto letter = detail::plain_letter(value);
    const bool blank = value == '_' || value == '.' || value == ':' || value == '\n' ||
                       value == '\t' || value == ' ' || value == 0xA0 || value == '*' ||
                       value == '-';
    if (blank) {
      if (!out.empty() && out.back() != ' ') out += ' ';
    } else if (letter) {
      out += *letter;
    } else {
      out += text.substr(0, bytes);
    }
    text.remove_prefix(bytes);
  }
  while (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

std::string unit_of(std::string_view written) {
  written = detail::trimmed(written);
  if (written.empty()) return {};
  if (const auto unit = unit_named(written)) return std::string(written);
  const std::string word = folded(written);
  for (const UnitWord& known : unit_words)
    if (known.folded == word && (written[0] != 'M' || known.symbol[0] != 'm'))  // "MOhm" is a mega
      return std::string(known.symbol);
  return {};
}

std::string currency_of(std::string_view written) {
  written = detail::trimmed(written);
  if (written == "€") return "EUR";
  if (written == "£") return "GBP";
  const auto is_letter = [](char c) { return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z'); };
  if (written.size() != 3 || !std::all_of(written.begin(), written.end(), is_letter)) return {};
  std::string code(written);
  for (char& c : code)
    if (c >= 'a') c = static_cast<char>(c - 'a' + 'A');
  return code;
}

std::optional<Leaf> leaf_at(FieldList list, std::string_view path) {
  static constexpr Shape text{.form = Form::text};
  static constexpr Field note{.key = "note", .shape = &text, .required = false};
  if (path == "note") return Leaf{&note, &text};
  const auto first = detail::take_part(path, '/');
  const Field* field = detail::field_named(list, first);
  if (!field) return std::nullopt;
  const Shape* shape = field->shape;
  const bool tables = shape->form == Form::list && detail::holds_tables(*field);
  if (tables && !path.empty()) {
    const auto member = detail::take_part(path, '/');
    const bool number = member.size() == 1 && is_digit(member.front());
    return number && !path.empty() ? leaf_at(shape->items->inner(), path) : std::nullopt;
  }
  if (path.empty())
    return shape->form == Form::table || detail::holds_tables(*field)
               ? std::nullopt
               : std::optional(Leaf{field, shape});
  if (shape->form == Form::table) return leaf_at(shape->inner(), path);
  const bool of_list = shape->form == Form::list && shape->items && path.size() == 1 &&
                       is_digit(path.front()) && !detail::holds_tables(*field);
  if (of_list) return Leaf{field, shape->items};
  if (path == "unit" && shape->form == Form::text) return Leaf{field, &text};
  return std::nullopt;
}

std::vector<std::string> paths_of(FieldList list, int members) {
  std::vector<std::string> paths;
  const auto add = [&](const std::string& to, FieldList inner) {
    for (const auto& path : paths_of(inner, members)) paths.push_back(detail::join(to, path));
  };
  for (const Field& f : list) {
    if (f.role != Field::Role::member) continue;
    if (f.shape->form == Form::table) add(std::string(f.key), f.shape->inner());
    else if (detail::holds_tables(f))
      for (int i = 0; i < members; ++i)
        add(detail::join(f.key, std::to_string(i)), f.shape->items->inner());
    else if (detail::innermost(*f.shape).form != Form::list)  // a curve has no place in a cell
      paths.emplace_back(f.key);
  }
  return paths;
}

std::string spoken(std::string_view path) {
  std::string text;
  while (!path.empty()) {
    std::string part(detail::take_part(path, '/'));
    const bool member = part.size() == 1 && is_digit(part[0]) && !path.empty();
    if (member) ++part[0];  // people count from one
    text += (text.empty() ? "" : " ") + part;
  }
  std::replace(text.begin(), text.end(), '_', ' ');
  return text;
}

bool is_size(const SheetRules& rules, std::string_view path) {
  return std::find(rules.sizes.begin(), rules.sizes.end(), path) != rules.sizes.end();
}

std::string size_unit_of(std::string_view written) {
  const std::string word = folded(written);
  for (const std::string_view area : {"mm2", "mm²", "qmm", "sq mm", "sqmm", "mm^2"})
    if (word == area) return "mm2";
  return word == "awg" ? "awg" : "";
}

std::optional<Unit> usual_unit(const Leaf& leaf) {
  const Shape& shape = detail::innermost(*leaf.shape);
  if (shape.form != Form::quantity) return std::nullopt;
  const auto number = leaf.field->example.find_first_of("0123456789");
  const auto rest = figure_of(leaf.field->example.substr(number)).rest;
  const auto unit = unit_named(rest.substr(0, rest.find('"')));
  if (unit && unit->kind == shape.kind) return unit;
  return shape.kind == Kind{} ? std::nullopt : std::optional(plain_unit(shape.kind));
}

bool is_amount(const SheetRules& rules, std::string_view path) {
  return std::find(rules.amounts.begin(), rules.amounts.end(), path) != rules.amounts.end();
}

bool holds_numbers(const SheetRules& rules, const Leaf& leaf, std::string_view path) {
  const Form form = detail::innermost(*leaf.shape).form;
  return form == Form::quantity || form == Form::count || form == Form::number ||
         is_amount(rules, path) || is_size(rules, path);
}

Figure figure_of(std::string_view text) {
  std::size_t size = 0;
  for (const std::string_view sign : {"-", "+", "\u2212"})
    if (size == 0 && text.starts_with(sign)) size = sign.size();
  const std::size_t from = size;
  bool blanks = false, digits = false;
  while (size < text.size()) {
    const std::string_view rest = text.substr(size);
    const std::size_t blank = blank_size(rest);
    const bool next_is_digit = rest.size() > 1 && is_digit(rest[1]);
    if (is_digit(rest[0])) ++size, digits = true;
    else if ((rest[0] == '.' || rest[0] == ',') && next_is_digit) ++size;
    else if (blank > 0 && digits && rest.size() > blank && is_digit(rest[blank]))
      size += blank, blanks = true;
    else break;
  }
  if (!digits) return {{}, text, Figure::Shows::nonsense, false};
  const std::size_t exponent = exponent_size(text.substr(size));
  Figure f{
      text.substr(0, size + exponent), detail::trimmed(text.substr(size + exponent)), {}, blanks};
  std::string plain;  // without the blanks, which have to part groups of three
  bool groups = true;
  for (std::string_view rest = text.substr(from, size - from); !rest.empty();) {
    const std::size_t blank = blank_size(rest);
    const bool three = rest.size() >= blank + 3 && is_digit(rest[blank]) &&
                       is_digit(rest[blank + 1]) && is_digit(rest[blank + 2]) &&
                       (rest.size() == blank + 3 || !is_digit(rest[blank + 3]));
    if (blank > 0) groups = groups && three && plain.find_first_of(".,") == plain.npos;
    else plain += rest[0];
    rest.remove_prefix(blank > 0 ? blank : 1);
  }
  if (blanks && (!groups || plain.front() == '0')) f.shows = Figure::Shows::nonsense;
  else f.shows = sign_shown(plain);
  if (blanks && f.shows == Figure::Shows::either)  // thousands are parted by the blanks
    f.shows = plain.find('.') != plain.npos ? Figure::Shows::point : Figure::Shows::comma;
  const auto marks = plain.find_first_of(".,");
  f.grouped = blanks || (marks != plain.npos && plain.find_first_of(".,", marks + 1) != plain.npos);
  return f;
}

std::optional<std::string> plain_number(const Figure& f, DecimalSign sign) {
  using Shows = Figure::Shows;
  const char decimal = sign == DecimalSign::point ? '.' : ',';
  const bool other = f.shows == (sign == DecimalSign::point ? Shows::comma : Shows::point);
  if (f.shows == Shows::nonsense || other) return std::nullopt;
  std::string out;
  for (std::string_view rest = f.number; !rest.empty();) {
    const std::size_t blank = blank_size(rest);
    const bool minus = rest.starts_with("\u2212");
    if (minus) out += '-';
    else if (std::string_view("0123456789-eE").find(rest[0]) != rest.npos) out += rest[0];
    else if (rest[0] == decimal) out += '.';
    rest.remove_prefix(minus ? 3 : blank > 0 ? blank : 1);
  }
  return out;
}

}  // namespace housepower::sheets

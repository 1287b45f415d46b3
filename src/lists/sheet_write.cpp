// SPDX-License-Identifier: Apache-2.0
// Tables as a sheet: a column for each key that one of them has, units in the heads.
#include <algorithm>

#include "housepower/reading/shape.hpp"
#include "housepower/reading/text.hpp"
#include "housepower/units/unit.hpp"
#include "sheet_inside.hpp"

namespace housepower {
namespace {

using namespace sheets;
using Form = Shape::Form;

/// One key of one kind of row. Kinds whose head is the same share a column of the sheet.
struct Column {
  std::string path;
  Leaf leaf;
  std::optional<Unit> unit;  // of its numbers, in the head
  std::string head;
};

const Node* at(const Node& table, std::string_view path) {
  const Node* node = &table;
  while (node && !path.empty()) {
    const auto part = detail::take_part(path, '/');
    if (const auto* list = std::get_if<Node::List>(&node->value)) {
      const auto member = static_cast<std::size_t>(part[0] - '0');
      node = member < list->size() ? &(*list)[member] : nullptr;
      continue;
    }
    const auto* entry = node->find(part);
    node = entry ? &entry->value : nullptr;
  }
  return node;
}

/// The fewest digits, up to fifteen, that give the same value again. "1.234" alone could be a thousand: "1.2340".
std::string shortest(double si, const Unit& unit, SheetStyle style) {
  const double value = (si - unit.offset) / unit.factor;
  std::string text;
  for (int digits = 6; digits <= 15; ++digits) {
    text = print_plain(value, digits);
    const auto again = parse_double(text);
    if (again && *again * unit.factor + unit.offset == si) break;
  }
  const auto figure = figure_of(text);
  if (figure.rest.empty() && figure.shows == Figure::Shows::either) text += '0';
  if (style.decimal == DecimalSign::comma) std::replace(text.begin(), text.end(), '.', ',');
  return text;
}

std::string number_text(const Node& node, const Column& column, SheetStyle style) {
  const Shape& shape = detail::innermost(*column.leaf.shape);
  const Unit bare{"", shape.kind, 1.0, 0.0};
  double si = 0;
  if (const auto* text = std::get_if<std::string>(&node.value)) {
    const auto parsed = parse_quantity(*text, shape.kind);
    if (const auto* number = std::get_if<Number>(&parsed)) si = number->si;
  } else if (const auto* whole = std::get_if<std::int64_t>(&node.value)) {
    si = static_cast<double>(*whole);
  } else if (const auto* real = std::get_if<double>(&node.value)) {
    si = *real;
  }
  return shortest(si, column.unit.value_or(bare), style);
}

std::string amount_text(std::string text, SheetStyle style) {
  const auto figure = figure_of(text);
  if (figure.shows == Figure::Shows::either) text.insert(figure.number.size(), "0");
  if (style.decimal == DecimalSign::comma) std::replace(text.begin(), text.end(), '.', ',');
  return text;
}

std::string sheet_cell(const Node& node, const Column& column, const SheetRules& rules,
                       SheetStyle style) {
  if (const auto* list = std::get_if<Node::List>(&node.value)) {
    const bool numbers =
        column.leaf.shape->items && column.leaf.shape->items->form == Form::quantity;
    std::string text;
    for (const Node& one : *list)
      text += (text.empty() ? "" : numbers ? " x " : ", ") + sheet_cell(one, column, rules, style);
    return text;
  }
  if (detail::innermost(*column.leaf.shape).form == Form::quantity)
    return number_text(node, column, style);
  if (const auto* whole = std::get_if<std::int64_t>(&node.value)) return std::to_string(*whole);
  if (const auto* flag = std::get_if<bool>(&node.value)) return *flag ? "true" : "false";
  const auto* text = std::get_if<std::string>(&node.value);
  if (!text) return {};
  const bool figures = is_amount(rules, column.path) || is_size(rules, column.path);
  return figures ? amount_text(*text, style) : *text;
}

std::string head_of(std::string_view path, const std::optional<Unit>& unit) {
  return unit ? spoken(path) + " (" + std::string(unit->symbol) + ")" : spoken(path);
}

/// The keys that rows of this kind have.
std::vector<Column> columns_of(const std::vector<const Node*>& rows, FieldList fields,
                               int members) {
  std::vector<Column> columns;
  auto paths = paths_of(fields, members);
  paths.emplace_back("note");
  for (auto& path : paths) {
    const auto holds = [&](const Node* row) { return at(*row, path) != nullptr; };
    if (std::none_of(rows.begin(), rows.end(), holds)) continue;
    const Leaf leaf = *leaf_at(fields, path);
    const auto unit = usual_unit(leaf);
    columns.push_back({path, leaf, unit, head_of(path, unit)});
  }
  return columns;
}

std::size_t kind_written(const Node& row, const SheetRules& rules) {
  const auto word = row.text_at(rules.kind_key);
  for (std::size_t k = 0; word && k < rules.kinds.size(); ++k)
    if (rules.kinds[k].word == *word) return k;
  return 0;
}

const Column* with_head(const std::vector<Column>& columns, const std::string& head) {
  for (const Column& column : columns)
    if (column.head == head) return &column;
  return nullptr;
}

/// The values below a node that no column of the sheet holds, by their paths.
void say_left_out(const Node& node, const std::string& path, const std::vector<Column>& columns,
                  const std::string& row, Diagnostics& diagnostics) {
  const bool held = std::any_of(columns.begin(), columns.end(),
                                [&](const Column& column) { return column.path == path; });
  if (held) return;
  const auto inner = [&](const std::string& key, const Node& value) {
    say_left_out(value, detail::join(path, key), columns, row, diagnostics);
  };
  if (const auto* table = std::get_if<Node::Table>(&node.value)) {
    for (const auto& entry : *table) inner(entry.key, entry.value);
    return;
  }
  const auto* list = std::get_if<Node::List>(&node.value);
  const bool tables = list && std::all_of(list->begin(), list->end(), detail::is_table);
  if (!tables)
    diagnostics.warning(node.place, detail::join(row, path), "fits no column and is left out");
  else
    for (std::size_t i = 0; i < list->size(); ++i) inner(std::to_string(i), (*list)[i]);
}

}  // namespace

std::string write_sheet(const std::vector<Node>& rows, const SheetRules& rules, SheetStyle style,
                        Diagnostics& diagnostics) {
  std::vector<std::vector<const Node*>> of_kind(rules.kinds.size());
  for (const Node& row : rows) of_kind[kind_written(row, rules)].push_back(&row);
  std::vector<std::vector<Column>> columns;  // by kind
  std::vector<std::string> heads;
  for (std::size_t k = 0; k < rules.kinds.size(); ++k) {
    columns.push_back(columns_of(of_kind[k], rules.kinds[k].fields, rules.members));
    for (const Column& column : columns.back())
      if (std::find(heads.begin(), heads.end(), column.head) == heads.end())
        heads.push_back(column.head);
  }
  for (const Node& row : rows)
    say_left_out(row, "", columns[kind_written(row, rules)],
                 detail::join(rules.list, row.text_at("name").value_or("")), diagnostics);
  std::string out;
  for (const auto& head : heads)
    out += csv_text(head) + (&head == &heads.back() ? "\r\n" : std::string(1, style.delimiter));
  for (const Node& row : rows)
    for (const auto& head : heads) {
      const Column* column = with_head(columns[kind_written(row, rules)], head);
      const Node* node = column ? at(row, column->path) : nullptr;
      const std::string cell = node ? sheet_cell(*node, *column, rules, style) : "";
      const bool bare = column && column->leaf.shape->form == Form::quantity &&
                        cell.find(style.delimiter) == cell.npos;  // "-5": a number, no formula
      out += bare ? cell : csv_text(cell);
      out += &head == &heads.back() ? "\r\n" : std::string(1, style.delimiter);
    }
  return out;
}

}  // namespace housepower

// SPDX-License-Identifier: Apache-2.0
// Every file as columns and rows, each cell with its source: what `housepower tables` prints. Made
// from the same text as the values, so that the value shown is the value used.
#include "loaders.hpp"

namespace housepower::tables {
namespace {

std::string_view says_of(const File& file, std::string_view key) {
  return file.text.says ? file.text.says->text_at(key).value_or("") : std::string_view{};
}

View::Cell cell_of(const Block& block, std::size_t row, std::size_t column) {
  const auto& from = block.cell(row, column);
  View::Cell cell;
  cell.text = from.text;
  cell.value = parse_double(from.text);
  cell.source = block.source(row, column);
  if (from.mark) cell.note = from.mark->note;
  return cell;
}

void add_block(const File& file, std::string_view key, const std::string& name, Tables& tables,
               Diagnostics& diagnostics) {
  View view;
  view.name = name;
  view.title = file.text.title;
  view.note = file.text.note;
  view.conditions = file.text.conditions;
  view.source = file.source;
  const Block block(file, key, diagnostics);
  std::vector<std::size_t> shown;
  for (std::size_t i = 0; i < block.columns().size(); ++i) {
    const auto& column = block.columns()[i];
    if (column.key == "mark") continue;
    shown.push_back(i);
    view.columns.push_back({std::string(column.key), std::string(column.unit),
                            std::string(says_of(file, column.key))});
  }
  for (std::size_t row = 0; row < block.rows(); ++row) {
    auto& cells = view.rows.emplace_back();
    for (const auto column : shown) cells.push_back(cell_of(block, row, column));
  }
  tables.views.push_back(std::move(view));
}

std::string text_of(const Node& node) {
  struct Say {
    std::string operator()(std::monostate) const { return {}; }
    std::string operator()(bool flag) const { return flag ? "true" : "false"; }
    std::string operator()(std::int64_t n) const { return std::to_string(n); }
    std::string operator()(double n) const { return print_plain(n, 9); }
    std::string operator()(const std::string& text) const { return text; }
    std::string operator()(const Node::List&) const { return {}; }
    std::string operator()(const Node::Table&) const { return {}; }
  };
  return std::visit(Say{}, node.value);
}

SourceKind kind_of_word(std::string_view word) {
  for (const auto kind : {SourceKind::published, SourceKind::supplier, SourceKind::common_practice})
    if (word_of(kind) == word) return kind;
  return SourceKind::from_memory;
}

/// Of the value beside it: `source`, or the key with `_source` behind it.
Source source_beside(const Node& table, const std::string& key, const Source& otherwise) {
  const auto* entry = table.find(key + "_source");
  if (!entry) entry = table.find("source");
  if (!entry || !std::holds_alternative<Node::Table>(entry->value.value)) return otherwise;
  const Node& source = entry->value;
  return {kind_of_word(source.text_at("kind").value_or("")), source.text_at("title").value_or(""),
          source.text_at("where").value_or("")};
}

void flatten(const Node& node, const std::string& path, const Source& source, View& view) {
  if (const auto* list = std::get_if<Node::List>(&node.value)) {
    for (std::size_t i = 0; i < list->size(); ++i)
      flatten((*list)[i], path + "/" + std::to_string(i), source, view);
  } else if (const auto* table = std::get_if<Node::Table>(&node.value)) {
    for (const auto& entry : *table)
      if (!entry.key.ends_with("source"))
        flatten(entry.value, path.empty() ? entry.key : path + "/" + entry.key,
                source_beside(node, entry.key, source), view);
  } else {
    const std::string text = text_of(node);
    view.rows.push_back({{path, std::nullopt, source, {}}, {text, parse_double(text), source, {}}});
  }
}

}  // namespace

void add_views(const File& file, Tables& tables, Diagnostics& diagnostics) {
  const std::string name(file.text.name);
  if (file.blocks.empty()) add_block(file, {}, name, tables, diagnostics);
  for (const auto& block : file.blocks)
    add_block(file, block.key, block.key == "rows" ? name : name + "/" + std::string(block.key),
              tables, diagnostics);
}

void add_view(const RuleProfile& profile, const Node& root, Tables& tables) {
  View view;
  view.name = profile.name;
  view.title = profile.title;
  view.note = profile.legal_status;
  view.source = {SourceKind::from_memory, "this program's summary",
                 "a value without a source beside it"};
  if (const auto title = root.text_at("standard"))
    view.source = {SourceKind::common_practice, *title, "as summarised here"};
  view.columns = {{"key", {}, "path in the profile"}, {"value", {}, "as written"}};
  flatten(root, {}, view.source, view);
  tables.views.push_back(std::move(view));
}

}  // namespace housepower::tables

// SPDX-License-Identifier: Apache-2.0
// The embedded tables as they are, each cell with where it comes from.
#include "answer_shapes.hpp"
#include "json.hpp"

namespace housepower::report {
namespace {

Json view_head(const tables::View& view) {
  return {{"name", view.name},
          {"title", view.title},
          {"kind", word_of(view.source.kind)},
          {"source", json_of(view.source)},
          {"conditions", view.conditions},
          {"note", view.note}};
}

}  // namespace

Page table_list_page(const tables::Tables& all) {
  TableBlock table{"Tables", {"name", "what", "provenance"}, {false, false, false}, {}};
  for (const auto& view : all.views)
    table.rows.push_back({view.name, view.title, std::string(word_of(view.source.kind))});
  return {"The tables in the program. One in full: `housepower tables NAME`.", {table}};
}

std::string table_list_json(const tables::Tables& all) {
  Json json = head();
  json["tables"] = Json::array();
  for (const auto& view : all.views) json["tables"].push_back(view_head(view));
  return dump(json);
}

Page table_page(const tables::View& view) {
  Page page{view.name + ": " + view.title, {}};
  page.blocks.push_back(Paragraph{"Source: " + source_line(view.source)});
  if (!view.conditions.empty()) page.blocks.push_back(Paragraph{"Conditions: " + view.conditions});
  if (!view.note.empty()) page.blocks.push_back(Paragraph{"Note: " + view.note});
  TableBlock table{"Rows", {}, {}, {}};
  for (const auto& column : view.columns) {
    table.heads.push_back(column.key + (column.unit.empty() ? "" : ", " + column.unit));
    table.numbers.push_back(!column.unit.empty());
  }
  table.heads.push_back("not as the table's source");
  table.numbers.push_back(false);
  for (const auto& row : view.rows) {
    std::vector<std::string> cells;
    std::string other;  // cells with another provenance than the table's, named once
    for (std::size_t c = 0; c < row.size(); ++c) {
      cells.push_back(row[c].text);
      if (!row[c].text.empty() && !(row[c].source == view.source))
        other += (other.empty() ? "" : "; ") + view.columns[c].key + ": " +
                 std::string(word_of(row[c].source.kind));
    }
    cells.push_back(other);
    table.rows.push_back(std::move(cells));
  }
  page.blocks.push_back(table);
  return page;
}

std::string table_json(const tables::View& view) {
  Json json = head();
  json.update(view_head(view));
  json["columns"] = Json::array();
  for (const auto& c : view.columns)
    json["columns"].push_back({{"key", c.key}, {"unit", c.unit}, {"says", c.says}});
  json["rows"] = Json::array();
  for (const auto& row : view.rows) {
    Json object = Json::object();
    Json kinds = Json::object(), sources = Json::object(), notes = Json::object();
    for (std::size_t c = 0; c < row.size(); ++c) {
      const auto& cell = row[c];
      const std::string& key = view.columns[c].key;
      object[key] = cell.value ? Json(*cell.value) : cell.text.empty() ? Json() : Json(cell.text);
      kinds[key] = word_of(cell.source.kind);
      if (!(cell.source == view.source)) sources[key] = json_of(cell.source);
      if (!cell.note.empty()) notes[key] = cell.note;
    }
    object["kind"] = std::move(kinds);
    object["source"] = sources.empty() ? json_of(view.source)
                                       : Json{{"table", json_of(view.source)}, {"cells", sources}};
    if (!notes.empty()) object["note"] = std::move(notes);
    json["rows"].push_back(std::move(object));
  }
  return dump(json);
}

namespace {

JsonKeys view_keys() {
  return {{"name", is::text()},        {"title", is::text()},      {"kind", is::text()},
          {"source", is::a("source")}, {"conditions", is::text()}, {"note", is::text()}};
}

}  // namespace

JsonKeys table_list_answer() { return {{"tables", is::list(is::object(view_keys()))}}; }
/// A row has the keys of its table's columns, and `kind`, `source` and `note` of its cells.
JsonKeys table_answer() {
  const Json column = is::object({{"key", is::text()}, {"unit", is::text()}, {"says", is::text()}});
  Json row = is::object(
      JsonKeys{{"kind", is::by_name(is::text())},
               {"source", is::any_of({is::a("source"),
                                      is::object({{"table", is::a("source")},
                                                  {"cells", is::by_name(is::a("source"))}})})}} +
      sometimes({{"note", is::any_of({is::or_null(is::text()), is::by_name(is::text())})}}));
  row["additionalProperties"] = is::or_null(is::any_of({is::number(), is::text()}));
  return view_keys() + JsonKeys{{"columns", is::list(column)}, {"rows", is::list(row)}};
}

}  // namespace housepower::report

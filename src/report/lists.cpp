// SPDX-License-Identifier: Apache-2.0
// What was understood of a list: how its cells are parted, which column is which key, which rows
// were taken.
#include "housepower/report/lists.hpp"

#include <fmt/format.h>

#include "answer_shapes.hpp"
#include "housepower/reading/write.hpp"
#include "housepower/units/phrases.hpp"
#include "json.hpp"

namespace housepower::report {
namespace {

/// The keys of a column, each once, as several kinds of rows may have it.
std::vector<std::string> keys_of(const SheetColumn& column) {
  std::vector<std::string> keys;
  for (const auto& path : column.paths)
    if (!path.empty() && std::find(keys.begin(), keys.end(), path) == keys.end())
      keys.push_back(path);
  return keys;
}

std::string counted(std::size_t n, const std::string& what) {
  return fmt::format("{} {}{}", n, what, n == 1 ? "" : "s");
}

std::string name_of_row(const Node& row) { return std::string(row.text_at("name").value_or("")); }

}  // namespace

Page list_page(const ListReport& r) {
  const Sheet& sheet = r.list.sheet;
  Page page{r.file + ": what was understood", {}};
  std::string how = sheet.name.empty() ? "Cells are separated by the " + sheet.delimiter + "."
                                       : "Read from the sheet \"" + sheet.name + "\".";
  if (sheet.decimal)
    how +=
        fmt::format(" The decimal sign is the {} ({}).", word(*sheet.decimal), sheet.decimal_from);
  page.blocks.emplace_back(Paragraph{how});
  TableBlock table{"Columns", {"heading", "is read as", "unit"}, {false, false, false}, {}};
  for (const auto& column : sheet.columns) {
    std::string keys;
    for (const auto& key : keys_of(column)) keys += (keys.empty() ? "" : ", ") + key;
    if (column.left_out) keys = "(left out, as asked)";
    table.rows.push_back(
        {column.head, keys.empty() ? "(not understood, left out)" : keys, column.unit});
  }
  page.blocks.emplace_back(std::move(table));
  std::string rows = r.list.document ? counted(sheet.rows.size(), r.what) + " written."
                                     : "Nothing is written: something in the file is wrong.";
  if (sheet.blank_rows > 0)
    rows += " " + counted(std::size_t(sheet.blank_rows), "empty row") + " passed over.";
  page.blocks.emplace_back(Paragraph{rows});
  if (!r.list.meeting.empty())
    page.blocks.emplace_back(Paragraph{
        "Several runs meet at " + listed(r.list.meeting) +
        ". Each of these that is not the bank, an equipment or an appliance of the design wants a "
        "[[node]] there."});
  return page;
}

std::string list_json(const ListReport& r, const Diagnostics& diagnostics) {
  const Sheet& sheet = r.list.sheet;
  Json json = head();
  json["file"] = r.file;
  json["sheet"] = sheet.name.empty() ? Json() : Json(sheet.name);
  json["delimiter"] = sheet.delimiter.empty() ? Json() : Json(sheet.delimiter);
  json["decimal"] = sheet.decimal ? Json(word(*sheet.decimal)) : Json();
  json["decimal_from"] = sheet.decimal ? Json(sheet.decimal_from) : Json();
  json["head_line"] = sheet.head_line;
  json["columns"] = Json::array();
  for (const auto& column : sheet.columns)
    json["columns"].push_back({{"head", column.head},
                               {"line", column.place.line},
                               {"column", column.place.column},
                               {"keys", keys_of(column)},
                               {"unit", column.unit.empty() ? Json() : Json(column.unit)},
                               {"left_out", column.left_out}});
  json["rows"] = Json::array();
  for (const Node& row : sheet.rows)
    json["rows"].push_back({{"line", row.place.line}, {"name", name_of_row(row)}});
  json["empty_rows"] = sheet.blank_rows;
  json["meeting"] = r.list.meeting;
  json["diagnostics"] = diagnostics_list(diagnostics);
  json["toml"] = r.list.document ? Json(toml_of(*r.list.document)) : Json();
  return dump(json);
}

std::string list_json(const std::string& file, const std::string& csv,
                      const Diagnostics& diagnostics) {
  Json json = head();
  json["file"] = file;
  json["csv"] = csv;
  json["diagnostics"] = diagnostics_list(diagnostics);
  return dump(json);
}

JsonKeys list_answer() {
  const Json maybe = is::or_null(is::text());
  const Json column = is::object({{"head", is::text()},
                                  {"line", is::whole()},
                                  {"column", is::whole()},
                                  {"keys", is::list(is::text())},
                                  {"unit", maybe},
                                  {"left_out", is::flag()}});
  return {{"file", is::text()},
          {"sheet", maybe},
          {"delimiter", maybe},
          {"decimal", maybe},
          {"decimal_from", maybe},
          {"head_line", is::whole()},
          {"columns", is::list(column)},
          {"rows", is::list(is::object({{"line", is::whole()}, {"name", is::text()}}))},
          {"empty_rows", is::whole()},
          {"meeting", is::list(is::text())},
          {"diagnostics", is::list(is::a("diagnostic"))},
          {"toml", maybe}};
}

JsonKeys list_csv_answer() {
  return {
      {"file", is::text()}, {"csv", is::text()}, {"diagnostics", is::list(is::a("diagnostic"))}};
}

}  // namespace housepower::report

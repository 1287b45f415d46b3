// SPDX-License-Identifier: Apache-2.0
// The sheets of the two kinds of workbook, from their XML. Entities of a document's own are not
// known to the parser, and nothing is fetched.
#include <algorithm>
#include <chrono>
#include <cmath>
#include <fmt/format.h>
#include <map>
#include <memory>
#include <pugixml.hpp>

#include "housepower/reading/text.hpp"
#include "housepower/units/unit.hpp"
#include "workbook_inside.hpp"

namespace housepower::workbook {
namespace {

using Xml = pugi::xml_node;

constexpr int deepest = 32;  // of texts within texts

bool is_utf8(std::string_view text) {
  while (!text.empty()) {
    const auto [value, bytes] = detail::first_code_point(text);
    if (value == 0 || (value == 0xFFFD && bytes == 1)) return false;
    text.remove_prefix(bytes);
  }
  return true;
}

/// A part as XML; nothing where there is no such part.
std::shared_ptr<pugi::xml_document> parsed(const Part& part, const std::string& name) {
  const auto text = part(name);
  if (!text) return nullptr;
  auto document = std::make_shared<pugi::xml_document>();
  const auto result = document->load_buffer(
      text->data(), text->size(), pugi::parse_default | pugi::parse_ws_pcdata, pugi::encoding_utf8);
  if (!result || !is_utf8(*text))
    throw Unreadable("is damaged: " + name + " is not XML in UTF-8",
                     "open it in a spreadsheet program and save it again, or save it as CSV");
  return document;
}

/// The name without its prefix, which every writer may choose: "x:row" is "row".
std::string_view local(const Xml& node) {
  const std::string_view name = node.name();
  const auto colon = name.find(':');
  return colon == name.npos ? name : name.substr(colon + 1);
}
Xml child(const Xml& of, std::string_view name) {
  for (const Xml one : of.children())
    if (local(one) == name) return one;
  return {};
}
template <class Each> void each_child(const Xml& of, std::string_view name, Each each) {
  for (const Xml one : of.children())
    if (local(one) == name) each(one);
}
std::string_view attribute(const Xml& of, std::string_view name) {
  for (const auto one : of.attributes()) {
    const std::string_view full = one.name();
    const auto colon = full.find(':');
    if ((colon == full.npos ? full : full.substr(colon + 1)) == name) return one.value();
  }
  return {};
}
int number_of(std::string_view text, int otherwise, int most) {
  const auto value = parse_double(text);
  return value && *value >= 1.0 ? static_cast<int>(std::min(*value, double(most) + 1.0))
                                : otherwise;
}

// Office Open XML.

enum class Looks { number, percent, time, date };

/// What a format of numbers makes of one: of its letters outside of quotes and brackets.
Looks looks_of(std::string_view format) {
  std::string letters;
  bool quoted = false;
  for (std::size_t i = 0; i < format.size() && format[i] != ';'; ++i) {
    if (format[i] == '"') quoted = !quoted;
    else if (format[i] == '\\' || format[i] == '_' || format[i] == '*') ++i;
    else if (format[i] == '[' && !quoted) {
      const auto end = std::min(format.find(']', i), format.size());
      const bool elapsed = end == i + 2 || end == i + 3;  // [h], [mm]
      if (elapsed) letters += format.substr(i + 1, end - i - 1);
      i = end;
    } else if (!quoted) letters += format[i];
  }
  for (char& c : letters)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  const auto has = [&](const char* any) { return letters.find_first_of(any) != letters.npos; };
  if (letters == "general" || letters == "standard") return Looks::number;
  if (has("%")) return Looks::percent;
  if (has("yd")) return Looks::date;
  if (has("hs")) return Looks::time;
  return has("m") ? Looks::date : Looks::number;
}

/// Those that have a number but no text (ISO/IEC 29500-1, 18.8.30).
Looks looks_of_built_in(int id) {
  if (id == 9 || id == 10) return Looks::percent;
  if ((id >= 18 && id <= 21) || (id >= 45 && id <= 47)) return Looks::time;
  return (id >= 14 && id <= 17) || id == 22 ? Looks::date : Looks::number;
}

/// What all sheets of one file share.
struct Shared {
  std::vector<std::string> texts;
  std::vector<Looks> looks;  // by the style of a cell
  bool from_1904 = false;
};

/// A text and its runs; how it is pronounced (rPh) is no part of it.
std::string rich_text(const Xml& of) {
  std::string text;
  for (const Xml one : of.children())
    if (local(one) == "t") text += one.child_value();
    else if (local(one) == "r") text += child(one, "t").child_value();
  return text;
}

Shared shared_of(const Part& part, const Xml& workbook) {
  Shared shared;
  const std::string_view from = attribute(child(workbook, "workbookPr"), "date1904");
  shared.from_1904 = from == "1" || from == "true";
  if (const auto texts = parsed(part, "xl/sharedStrings.xml"))
    each_child(child(*texts, "sst"), "si",
               [&](const Xml& one) { shared.texts.push_back(rich_text(one)); });
  const auto styles = parsed(part, "xl/styles.xml");
  if (!styles) return shared;
  const Xml sheet = child(*styles, "styleSheet");
  std::map<std::string, Looks, std::less<>> own;
  each_child(child(sheet, "numFmts"), "numFmt", [&](const Xml& one) {
    own[std::string(attribute(one, "numFmtId"))] = looks_of(attribute(one, "formatCode"));
  });
  each_child(child(sheet, "cellXfs"), "xf", [&](const Xml& one) {
    const auto id = attribute(one, "numFmtId");
    const auto at = own.find(id);
    shared.looks.push_back(at != own.end() ? at->second
                                           : looks_of_built_in(number_of(id, 0, 9999)));
  });
  return shared;
}

std::string date_text(double days, bool from_1904) {
  namespace chrono = std::chrono;
  const auto first = from_1904 ? chrono::year(1904) / 1 / 1 : chrono::year(1899) / 12 / 30;
  const auto whole = std::floor(days);
  const chrono::year_month_day date{chrono::sys_days(first) +
                                    chrono::days(static_cast<int>(whole))};
  const std::string text = fmt::format("{:04}-{:02}-{:02}", int(date.year()),
                                       unsigned(date.month()), unsigned(date.day()));
  return days == whole ? text : text + " " + clock_text(days - whole);
}

Csv::Cell number_as_it_looks(std::string_view written, std::string_view style, int column,
                             const Shared& shared) {
  const auto value = parse_double(written);
  if (!value) return {std::string(written), 0, column, 1, false};
  const auto at = static_cast<std::size_t>(number_of(style, 0, 1 << 20));
  const Looks looks = at < shared.looks.size() ? shared.looks[at] : Looks::number;
  if (looks == Looks::percent) return number_cell(*value * 100.0, column, "%");
  const bool of_a_calendar = *value >= 0.0 && *value < 2'958'466.0;  // up to the year 9999
  if (looks == Looks::time && of_a_calendar) return {clock_text(*value), 0, column, 1, false};
  if (looks == Looks::date && of_a_calendar)
    return {date_text(*value, shared.from_1904), 0, column, 1, false};
  return number_cell(*value, column);
}

/// "BC12" is column 55; 0 where there is no letter.
int column_of(std::string_view reference) {
  int column = 0;
  for (const char c : reference) {
    if (c < 'A' || c > 'Z' || column > most_columns) break;
    column = 26 * column + (c - 'A' + 1);
  }
  return column;
}

Csv::Cell cell_of(const Xml& c, int row, int column, const Shared& shared) {
  const std::string_view type = attribute(c, "t");
  const std::string value = child(c, "v").child_value();
  Csv::Cell cell{value, row, column, 1, false};
  if (type == "e")
    throw Unreadable("holds " + value + ", the error of a formula", "correct the formula", cell);
  if (value.empty() && child(c, "f"))
    throw Unreadable("holds a formula without its result",
                     "open the file in a spreadsheet program and save it again", cell);
  if (type == "s") {
    const auto number = parse_double(value);
    const bool there = number && *number >= 0.0 && *number < double(shared.texts.size());
    if (!there) throw Unreadable("is damaged: a cell names a text that is not there", {}, cell);
    cell.text = shared.texts[static_cast<std::size_t>(*number)];
  } else if (type == "inlineStr") {
    cell.text = rich_text(child(c, "is"));
  } else if (type == "b") {
    cell.text = value == "1" || value == "true" ? "true" : "false";
  } else if ((type.empty() || type == "n") && !value.empty()) {
    cell = number_as_it_looks(value, attribute(c, "s"), column, shared);
  }
  return cell;
}

Rows rows_of_office_open_xml(const Part& part, const std::string& name, const Shared& shared) {
  Rows rows;
  const auto sheet = parsed(part, name);
  if (!sheet) throw Unreadable("is damaged: " + name + " is not there");
  int number = 0;
  each_child(child(child(*sheet, "worksheet"), "sheetData"), "row", [&](const Xml& row) {
    number = number_of(attribute(row, "r"), number + 1, most_rows);
    Csv::Row cells;
    int column = 0;
    each_child(row, "c", [&](const Xml& c) {
      const int told = column_of(attribute(c, "r"));
      column = told > 0 ? told : column + 1;
      if (column > most_columns) throw Unreadable("is damaged: a cell beyond every column");
      cells.push_back(cell_of(c, number, column, shared));
    });
    const std::string_view hidden = attribute(row, "hidden");
    rows.add(number, std::move(cells), hidden == "1" || hidden == "true");
  });
  return rows;
}

/// The parts by their ids: "xl/worksheets/sheet1.xml".
std::map<std::string, std::string, std::less<>> targets_of(const Part& part) {
  std::map<std::string, std::string, std::less<>> targets;
  const auto relations = parsed(part, "xl/_rels/workbook.xml.rels");
  if (!relations) return targets;
  each_child(child(*relations, "Relationships"), "Relationship", [&](const Xml& one) {
    const std::string_view target = attribute(one, "Target");
    targets[std::string(attribute(one, "Id"))] =
        target.starts_with('/') ? std::string(target.substr(1)) : "xl/" + std::string(target);
  });
  return targets;
}

// OpenDocument.

/// What a paragraph says, without the notes that hang on it.
void append_said(std::string& text, const Xml& of, int depth) {
  for (const Xml one : of.children()) {
    const std::string_view name = local(one);
    if (one.type() == pugi::node_pcdata || one.type() == pugi::node_cdata) text += one.value();
    else if (name == "s")
      text.append(static_cast<std::size_t>(number_of(attribute(one, "c"), 1, 100)), ' ');
    else if (name == "tab") text += ' ';
    else if (name == "line-break") text += '\n';
    else if (name != "annotation" && depth < deepest) append_said(text, one, depth + 1);
  }
}
std::string said_in(const Xml& cell) {
  std::string text;
  each_child(cell, "p", [&](const Xml& paragraph) {
    if (!text.empty()) text += '\n';
    append_said(text, paragraph, 0);
  });
  return text;
}

Csv::Cell cell_of_open_document(const Xml& c, int row, int column) {
  const std::string_view type = attribute(c, "value-type");
  const std::string said = said_in(c);
  Csv::Cell cell{said, row, column, 1, false};
  const bool error =
      attribute(c, "formula").size() > 0 && (said.starts_with("#") || said.starts_with("Err:"));
  if (error)
    throw Unreadable("holds " + said + ", the error of a formula", "correct the formula", cell);
  const auto value = parse_double(attribute(c, "value"));
  if (type == "boolean") cell.text = attribute(c, "boolean-value");
  else if (type == "date") cell.text = attribute(c, "date-value");
  else if (type == "percentage" && value) cell = number_cell(*value * 100.0, column, "%");
  else if (type == "currency" && value)
    cell = number_cell(*value, column, attribute(c, "currency"));
  else if (type == "float" && value) cell = number_cell(*value, column);
  return cell;
}

/// The rows of a table, those in groups and headers too.
void append_rows(Rows& rows, int& number, const Xml& of, int depth) {
  for (const Xml one : of.children()) {
    const std::string_view name = local(one);
    const bool group =
        name == "table-rows" || name == "table-header-rows" || name == "table-row-group";
    if (group && depth < deepest) append_rows(rows, number, one, depth + 1);
    if (name != "table-row") continue;
    Csv::Row cells;
    int column = 0;
    for (const Xml c : one.children()) {
      const int times = number_of(attribute(c, "number-columns-repeated"), 1, most_columns);
      const bool holds = local(c) == "table-cell";
      if (!holds && local(c) != "covered-table-cell") continue;
      const Csv::Cell cell = holds ? cell_of_open_document(c, number + 1, column + 1) : Csv::Cell{};
      for (int i = 0; i < times && !cell.text.empty(); ++i) {
        cells.push_back(cell);
        cells.back().column = column + i + 1;
      }
      column += times;
      if (column > 2 * most_columns) throw Unreadable("is damaged: a cell beyond every column");
    }
    const int times = number_of(attribute(one, "number-rows-repeated"), 1, most_rows);
    const std::string_view shown = attribute(one, "visibility");
    const bool hidden = shown == "collapse" || shown == "filter";
    for (int i = 0; i < times && !cells.empty(); ++i) rows.add(number + i + 1, cells, hidden);
    number = std::min(number + times, 2 * most_rows);
  }
}

}  // namespace

std::vector<Sheet> sheets_of_office_open_xml(const Part& part) {
  std::vector<Sheet> sheets;
  const auto file = parsed(part, "xl/workbook.xml");
  if (!file) return sheets;
  const Xml workbook = child(*file, "workbook");
  const auto targets = targets_of(part);
  const auto shared = std::make_shared<const Shared>(shared_of(part, workbook));
  each_child(child(workbook, "sheets"), "sheet", [&](const Xml& one) {
    std::string_view id;  // r:id, not sheetId
    for (const auto its : one.attributes())
      if (std::string_view(its.name()).ends_with(":id")) id = its.value();
    const auto target = targets.find(id);
    if (target == targets.end() || target->second.find("worksheets/") == std::string::npos) return;
    const std::string_view state = attribute(one, "state");
    sheets.push_back({std::string(attribute(one, "name")),
                      state == "hidden" || state == "veryHidden",
                      [part, name = target->second, shared] {
                        return rows_of_office_open_xml(part, name, *shared);
                      }});
  });
  return sheets;
}

std::vector<Sheet> sheets_of_open_document(const Part& part) {
  std::vector<Sheet> sheets;
  const auto manifest = parsed(part, "META-INF/manifest.xml");
  if (manifest)
    each_child(child(*manifest, "manifest"), "file-entry", [&](const Xml& one) {
      if (child(one, "encryption-data"))
        throw Unreadable("is protected with a password", "save it without one, or as CSV");
    });
  const auto content = parsed(part, "content.xml");
  if (!content) return sheets;
  const Xml body = child(child(child(*content, "document-content"), "body"), "spreadsheet");
  each_child(body, "table", [&](const Xml& table) {
    sheets.push_back({std::string(attribute(table, "name")), false, [content, table] {
                        Rows rows;
                        int number = 0;
                        append_rows(rows, number, table, 0);
                        return rows;
                      }});
  });
  return sheets;
}

}  // namespace housepower::workbook

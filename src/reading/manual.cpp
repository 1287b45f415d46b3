// SPDX-License-Identifier: Apache-2.0
// The reference page of the format, in Markdown: one table of keys for each kind of table.
#include "housepower/reading/fields.hpp"
#include "housepower/reading/shape.hpp"
#include "housepower/reading/text.hpp"

namespace housepower {
namespace {

// A bar would end the cell.
std::string cell(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c == '|') out += '\\';
    out += c == '\n' ? ' ' : c;
  }
  return out;
}

std::string when_left_out(const Field& field) {
  if (field.required) return "needed";
  if (field.otherwise.empty()) return "";
  return "`" + detail::as_written(*field.shape, field.otherwise) + "`";
}

std::string value_cell(const Field& field) {
  std::string out = detail::what_it_is(*field.shape);
  if (const auto limits = detail::limits_of(field); !limits.empty()) out += ", " + limits;
  return out;
}

std::string group_line(const Field& field) {
  std::string out = field.role == Field::Role::exactly_one ? "Exactly one of" : "At most one of";
  std::string keys;
  for (const auto key : detail::group_of(field))
    keys += (keys.empty() ? " `" : ", `") + std::string(key) + "`";
  return out + keys + ".\n";
}

std::string table_of_keys(FieldList list) {
  std::string out = "| key | value | when left out | meaning | example |\n|---|---|---|---|---|\n";
  std::string groups;
  for (const auto& field : list) {
    if (field.role != Field::Role::member) {
      groups += group_line(field);
      continue;
    }
    const std::string example =
        field.example.empty() ? "" : "`" + detail::as_written(*field.shape, field.example) + "`";
    out += "| `" + std::string(field.key) + "` | " + cell(value_cell(field)) + " | " +
           cell(when_left_out(field)) + " | " + cell(field.says) + " | " + cell(example) + " |\n";
  }
  return groups.empty() ? out : out + "\n" + groups;
}

void add_tables(FieldList list, const std::string& path, std::string& out) {
  for (const auto& field : list) {
    if (!detail::holds_tables(field)) continue;
    const std::string here =
        path.empty() ? std::string(field.key) : path + "." + std::string(field.key);
    const bool many = field.shape->form == Shape::Form::list;
    const FieldList inner = detail::innermost(*field.shape).inner();
    out += "\n## `" + std::string(many ? "[[" : "[") + here + (many ? "]]" : "]") + "`\n\n";
    if (!field.says.empty()) out += std::string(field.says) + "\n\n";
    out += table_of_keys(inner);
    add_tables(inner, here, out);
  }
}

}  // namespace

std::string manual(FieldList list, std::string_view heading) {
  std::string out = "# " + std::string(heading) + "\n\n";
  out += "Every table takes `note = \"…\"`; a table `[own]` is yours and is ignored.\n\n";
  out += "`extends = \"base.toml\"` on top adds to another file: tables merge, lists of tables "
         "merge by "
         "`name`, other\nvalues replace. `remove = true` drops the member of that name, `remove = "
         "[\"price\"]` these keys of a table.\n\n";
  out += table_of_keys(list);
  add_tables(list, {}, out);
  return out;
}

}  // namespace housepower

// SPDX-License-Identifier: Apache-2.0
// Load lists and parts lists: which keys and words their columns may bear, and what the design asks
// of a name, a time of the day and a price beyond the field list.
#include "housepower/lists/lists.hpp"

#include <algorithm>
#include <map>

#include "housepower/design/design.hpp"
#include "housepower/design/money.hpp"
#include "housepower/design/names.hpp"
#include "housepower/design/words.hpp"
#include "housepower/reading/text.hpp"
#include "list_words.hpp"

namespace housepower::lists {
namespace {

using namespace std::literals;
using design::all_part_fields;
using design::Document;
using design::document_fields;
using design::is_time_of_day;
using design::money_of;
using design::part_fields;
using design::PartKind;
using design::why_no_name;
using detail::quoted;

constexpr std::array amounts{"price"sv};

/// The list of the document under that key: its own field, which reads it.
const Field& list_field(std::string_view key) {
  const FieldList all = document_fields();
  return *std::find_if(all.begin(), all.end(), [&](const Field& f) { return f.key == key; });
}

SheetRules load_rules() {
  SheetRules rules;
  rules.kinds.push_back({"", list_field("appliance").shape->items->inner()});
  rules.list = "appliance";
  rules.heads = load_heads;
  rules.cells = load_cells;
  return rules;
}

/// `name`, `is` and the keys of one kind, with what is said of groups of them.
const std::vector<Field>& fields_of_kind(PartKind kind) {
  static const auto lists = [] {
    std::array<std::vector<Field>, words<PartKind>.size()> all;
    for (std::size_t k = 0; k < all.size(); ++k) {
      const FieldList head = all_part_fields().subspan(0, 2),
                      own = part_fields(static_cast<PartKind>(k));
      all[k].assign(head.begin(), head.end());
      all[k].insert(all[k].end(), own.begin(), own.end());
    }
    return all;
  }();
  return lists[static_cast<std::size_t>(kind)];
}

SheetRules part_rules(std::optional<PartKind> only) {
  SheetRules rules;
  for (std::size_t k = 0; k < words<PartKind>.size(); ++k) {
    const auto kind = static_cast<PartKind>(k);
    if (!only || *only == kind) rules.kinds.push_back({word(kind), fields_of_kind(kind)});
  }
  if (!only) rules.kind_key = "is";
  rules.list = "part";
  rules.heads = part_heads;
  rules.cells = part_cells;
  rules.amounts = amounts;
  return rules;
}

/// `name` and the keys of the only kind of a list, which does not say what its rows are.
std::vector<Field> fields_of_only(PartKind kind) {
  std::vector<Field> list = fields_of_kind(kind);
  list.erase(list.begin() + 1);
  return list;
}

std::string line_of(const Place& place) { return "line " + std::to_string(place.line); }

/// What a design would refuse when it is opened, said here, where the row is at hand.
void check_appliances(const std::vector<Node>& rows, Diagnostics& diagnostics) {
  std::map<std::string, Place, std::less<>> taken;
  for (const Node& row : rows) {
    const Node::Entry* name = row.find("name");
    const auto text = row.text_at("name");
    if (!name || !text) continue;
    const std::string path = "appliance/" + std::string(*text);
    if (const auto useless = why_no_name(std::string(*text), true))
      diagnostics.error(name->place, path + "/name", useless->first, useless->second);
    const auto [first, is_new] = taken.try_emplace(std::string(*text), name->place);
    if (!is_new)
      diagnostics.error(name->place, path + "/name",
                        "the name " + quoted(*text) + " is taken already",
                        "the first is in " + line_of(first->second) +
                            ": give each its own name, or make one row with a quantity");
    const Node* between = row.at("between");
    const auto* times = between ? std::get_if<Node::List>(&between->value) : nullptr;
    for (const Node& time : times ? *times : Node::List{})
      if (const auto* written = std::get_if<std::string>(&time.value);
          written && !is_time_of_day(*written))
        diagnostics.error(time.place, path + "/between",
                          quoted(*written) + " is no time of the day",
                          "for example 18:00-23:00, or 06:30-07:00, 18:00-23:00");
  }
}

void check_prices(const std::vector<Node>& rows, Diagnostics& diagnostics) {
  for (const Node& row : rows)
    if (const auto price = row.text_at("price"); price && !money_of(*price))
      diagnostics.error(row.find("price")->value.place,
                        "part/" + std::string(row.text_at("name").value_or("")) + "/price",
                        quoted(*price) + " is no price", "for example 420 EUR");
}

/// Rows through the field list of the document, as a file with them would go.
template <class Check>
ReadList read_rows(std::string_view text, std::string_view file, const ListOptions& options,
                   const SheetRules& rules, std::optional<PartKind> only, Check check,
                   Diagnostics& diagnostics) {
  ReadList list;
  const auto csv = parse_csv(text, file, options.delimiter, diagnostics);
  if (!csv) return list;
  list.sheet = read_sheet(*csv, rules, options.sheet, diagnostics);
  if (only)
    for (Node& row : list.sheet.rows) {
      auto& entries = std::get<Node::Table>(row.value);
      entries.insert(entries.begin(), {"is", row.place, {std::string(word(*only)), row.place}});
    }
  const Field& field = list_field(rules.list);
  Document document;
  Reading reading{diagnostics, std::string(rules.list)};
  const Node rows{list.sheet.rows, {std::string(file)}};
  field.read(rows, &document, field, reading);
  check(list.sheet.rows, document, diagnostics);
  if (diagnostics.any_error()) return list;
  list.document.emplace(Node{Node::Table{}, {std::string(file)}});
  std::get<Node::Table>(list.document->value)
      .push_back({std::string(rules.list), rows.place, rows});
  return list;
}

/// The tables under that key, once the field list has accepted them.
std::optional<std::vector<Node>> accepted_rows(const Node& document, std::string_view key,
                                               Diagnostics& diagnostics) {
  const Node::Entry* entry = document.find(key);
  if (!entry) {
    diagnostics.error(document.place, std::string(key), "is missing: there is nothing to write");
    return std::nullopt;
  }
  const Field& field = list_field(key);
  Document unused;
  Reading reading{diagnostics, std::string(key)};
  if (!field.read(entry->value, &unused, field, reading)) return std::nullopt;
  return std::get<Node::List>(entry->value.value);
}

}  // namespace

ReadList read_loads(std::string_view text, std::string_view file, const ListOptions& options,
                    Diagnostics& diagnostics) {
  return read_rows(
      text, file, options, load_rules(), {},
      [](const auto& rows, const Document&, Diagnostics& d) { check_appliances(rows, d); },
      diagnostics);
}

ReadList read_parts(std::string_view text, std::string_view file, const ListOptions& options,
                    Diagnostics& diagnostics) {
  SheetRules rules = part_rules(options.is);
  std::vector<Field> only;
  if (options.is) rules.kinds[0].fields = only = fields_of_only(*options.is);
  auto list = read_rows(
      text, file, options, rules, options.is,
      [](const auto& rows, const Document& document, Diagnostics& d) {
        design::check_names(document.part, d);
        check_prices(rows, d);
      },
      diagnostics);
  if (list.document) {
    auto& entries = std::get<Node::Table>(list.document->value);
    entries.insert(entries.begin(), {"schema", {}, {std::int64_t{1}, {}}});
  }
  return list;
}

std::optional<std::string> write_loads(const Node& design, SheetStyle style,
                                       Diagnostics& diagnostics) {
  const auto rows = accepted_rows(design, "appliance", diagnostics);
  return rows ? std::optional(write_sheet(*rows, load_rules(), style)) : std::nullopt;
}

std::optional<std::string> write_parts(const Node& catalogue, SheetStyle style,
                                       Diagnostics& diagnostics) {
  const auto rows = accepted_rows(catalogue, "part", diagnostics);
  return rows ? std::optional(write_sheet(*rows, part_rules({}), style)) : std::nullopt;
}

}  // namespace housepower::lists

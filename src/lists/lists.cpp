// SPDX-License-Identifier: Apache-2.0
// Load lists, cable schedules and parts lists: which keys and words their columns may bear, and what the
// design asks of a name, a time of the day and a price beyond the field list.
#include "housepower/lists/lists.hpp"

#include <algorithm>
#include <map>

#include "housepower/design/design.hpp"
#include "housepower/design/money.hpp"
#include "housepower/design/names.hpp"
#include "housepower/design/words.hpp"
#include "housepower/reading/text.hpp"
#include "housepower/units/unit.hpp"
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
constexpr std::array sizes{"conductor"sv, "return/conductor"sv};
constexpr std::array names{"name"sv};
constexpr int devices_of_a_run =
    4;  // that have columns of their own; so many sections and items, too
constexpr std::array both{SheetRules::Both{"protection/0/type", "protection/0/rating"},
                          SheetRules::Both{"protection/1/type", "protection/1/rating"}};

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

SheetRules run_rules() {
  SheetRules rules;
  rules.kinds.push_back({"", list_field("run").shape->items->inner()});
  rules.list = "run";
  rules.heads = run_heads;
  rules.sizes = sizes;
  rules.given = names;
  rules.members = devices_of_a_run;
  rules.both = both;
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

/// Names that a design would refuse when it is opened, said here, where the row is at hand.
void check_names_of(const std::vector<Node>& rows, const std::string& list, const char* instead,
                    Diagnostics& diagnostics) {
  std::map<std::string, Place, std::less<>> taken;
  for (const Node& row : rows) {
    const Node::Entry* name = row.find("name");
    const auto text = row.text_at("name");
    if (!name || !text) continue;
    const std::string path = list + "/" + std::string(*text) + "/name";
    if (const auto useless = why_no_name(std::string(*text), true))
      diagnostics.error(name->place, path, useless->first, useless->second);
    const auto [first, is_new] = taken.try_emplace(std::string(*text), name->place);
    if (!is_new)
      diagnostics.error(name->place, path, "the name " + quoted(*text) + " is taken already",
                        "the first is in " + line_of(first->second) + ": give each its own name" +
                            instead);
  }
}

void check_times(const Node& row, const std::string& path, Diagnostics& diagnostics) {
  const Node* between = row.at("between");
  const auto* times = between ? std::get_if<Node::List>(&between->value) : nullptr;
  for (const Node& time : times ? *times : Node::List{})
    if (const auto* written = std::get_if<std::string>(&time.value);
        written && !is_time_of_day(*written))
      diagnostics.error(time.place, path + "/between",
                        quoted(*written) + " is not a time of the day",
                        "for example 18:00-23:00, or 06:30-07:00, 18:00-23:00");
}

/// Seconds a day are rather hours under a heading that says otherwise.
void ask_for_hours(const Node& row, const std::string& path, Diagnostics& diagnostics) {
  const auto written = row.text_at("per_day");
  if (!written) return;
  const auto parsed = parse_quantity(*written, kind_of<Duration>);
  const auto* number = std::get_if<Number>(&parsed);
  const double minute = 60.0;
  if (number && number->si > 0.0 && number->si < minute)
    diagnostics.warning(row.at("per_day")->place, path + "/per_day",
                        quoted(*written) + " a day is less than a minute: are hours meant?",
                        "a heading with (h), or --column \"HEADING=per_day (h)\", says hours; else "
                        "write 1 min where it is next to nothing");
}

void check_appliances(const std::vector<Node>& rows, Diagnostics& diagnostics) {
  check_names_of(rows, "appliance", ", or make one row with a quantity", diagnostics);
  for (const Node& row : rows) {
    const std::string path = "appliance/" + std::string(row.text_at("name").value_or(""));
    check_times(row, path, diagnostics);
    ask_for_hours(row, path, diagnostics);
  }
}

/// A run without a name is called by its ends; a second one of the same ends is numbered.
void name_by_ends(std::vector<Node>& rows) {
  std::map<std::string, int, std::less<>> taken;
  for (const Node& row : rows)
    if (const auto name = row.text_at("name")) ++taken[std::string(*name)];
  for (Node& row : rows) {
    const auto from = row.text_at("from"), to = row.text_at("to");
    if (row.find("name") || !from || !to) continue;
    const std::string ends = std::string(*from) + " to " + std::string(*to);
    std::string name = ends;
    for (int n = 2; taken[name]++ > 0; ++n) name = ends + " " + std::to_string(n);
    auto& entries = std::get<Node::Table>(row.value);
    entries.insert(entries.begin(), {"name", row.place, {name, row.place}});
  }
}

/// The first rows whose devices do not say it.
struct Completed {
  const Node *end = nullptr, *distance = nullptr;
};

/// Writes into a device what its row does not say: the type that was said for all, its end and its
/// distance, the latter as not confirmed.
void complete_device(const Node& row, Node& device, const ListOptions& options, Completed& done) {
  const auto add = [&](const char* key, Node value) {
    value.place = device.place;
    std::get<Node::Table>(device.value).push_back({key, device.place, std::move(value)});
  };
  if (options.device && !device.find("type")) add("type", {*options.device, {}});
  if (!device.find("end")) {
    if (!done.end) done.end = &row;
    add("end", {std::string(word(design::RunEnd::from)), {}});
  }
  if (device.find("distance")) return;
  if (!done.distance) done.distance = &row;
  add("distance", {"0 m"s, {}});
  add("assumed", {Node::List{{"distance"s, device.place}}, {}});
}

void complete_devices(std::vector<Node>& rows, const ListOptions& options, std::string_view file,
                      Diagnostics& diagnostics) {
  Completed done;
  for (Node& row : rows) {
    auto* entry = row.find("protection");
    auto* devices = entry ? std::get_if<Node::List>(&entry->value.value) : nullptr;
    if (!devices) continue;
    for (Node& device : *devices)
      if (detail::is_table(device)) complete_device(row, device, options, done);
  }
  const auto say = [&](const Node* row, const char* what, const char* hint) {
    if (row) diagnostics.warning({std::string(file), row->place.line, 1, 1}, "run", what, hint);
  };
  say(done.end,
      "does not say at which end its device sits: here and in rows like it, it is taken to sit "
      "where "
      "the run begins",
      "a column \"device end\" says it: from or to");
  say(done.distance,
      "does not say how far its device is from that end: here and in rows like it, 0 m is written, "
      "as "
      "not confirmed",
      "a column \"device distance (m)\" says it; until then `check` holds it open");
}

/// Where several runs meet: without being the bank or a thing of its own, it wants a [[node]].
std::vector<std::string> meeting_of(const std::vector<Node>& rows) {
  std::vector<std::string> order;
  std::map<std::string, int, std::less<>> ends;
  for (const Node& row : rows)
    for (const char* key : {"from", "to"})
      if (const auto name = row.text_at(key); name && ++ends[std::string(*name)] == 2)
        order.emplace_back(*name);
  return order;
}

void check_prices(const std::vector<Node>& rows, Diagnostics& diagnostics) {
  for (const Node& row : rows)
    if (const auto price = row.text_at("price"); price && !money_of(*price))
      diagnostics.error(row.find("price")->value.place,
                        "part/" + std::string(row.text_at("name").value_or("")) + "/price",
                        quoted(*price) + " is not a price", "for example 420 EUR");
}

/// Rows through the field list of the document, as a file with them would go. `complete` adds to them
/// what is known without their cells, `check` asks what the design asks beyond the field list.
template <class Complete, class Check>
ReadList read_rows(const Csv& csv, const ListOptions& options, const SheetRules& rules,
                   Complete complete, Check check, Diagnostics& diagnostics) {
  ReadList list;
  const std::string& file = csv.file;
  list.sheet = read_sheet(csv, rules, options.sheet, diagnostics);
  complete(list.sheet.rows, diagnostics);
  const Field& field = list_field(rules.list);
  Document document;
  Reading reading{diagnostics, std::string(rules.list)};
  const Node rows{list.sheet.rows, {file}};
  field.read(rows, &document, field, reading);
  check(list.sheet.rows, document, diagnostics);
  if (diagnostics.any_error()) return list;
  list.document.emplace(Node{Node::Table{}, {file}});
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

ReadList read_loads(const Csv& csv, const ListOptions& options, Diagnostics& diagnostics) {
  return read_rows(
      csv, options, load_rules(), [](auto&, Diagnostics&) {},
      [](const auto& rows, const Document&, Diagnostics& d) { check_appliances(rows, d); },
      diagnostics);
}

ReadList read_runs(const Csv& csv, const ListOptions& options, Diagnostics& diagnostics) {
  auto list = read_rows(
      csv, options, run_rules(),
      [&](auto& rows, Diagnostics& d) {
        name_by_ends(rows);
        complete_devices(rows, options, csv.file, d);
      },
      [](const auto& rows, const Document&, Diagnostics& d) { check_names_of(rows, "run", "", d); },
      diagnostics);
  list.meeting = meeting_of(list.sheet.rows);
  return list;
}

ReadList read_parts(const Csv& csv, const ListOptions& options, Diagnostics& diagnostics) {
  SheetRules rules = part_rules(options.is);
  std::vector<Field> only;
  if (options.is) rules.kinds[0].fields = only = fields_of_only(*options.is);
  const auto say_what_it_is = [&](auto& rows, Diagnostics&) {
    if (!options.is) return;
    for (Node& row : rows) {
      auto& entries = std::get<Node::Table>(row.value);
      entries.insert(entries.begin(),
                     {"is", row.place, {std::string(word(*options.is)), row.place}});
    }
  };
  auto list = read_rows(
      csv, options, rules, say_what_it_is,
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

namespace {

using ReadCells = ReadList (*)(const Csv&, const ListOptions&, Diagnostics&);
ReadList read_text(ReadCells read, std::string_view text, std::string_view file,
                   const ListOptions& options, Diagnostics& diagnostics) {
  const auto csv = parse_csv(text, file, options.delimiter, diagnostics);
  return csv ? read(*csv, options, diagnostics) : ReadList{};
}

std::optional<std::string> written(const Node& document, const SheetRules& rules, SheetStyle style,
                                   Diagnostics& diagnostics) {
  const auto rows = accepted_rows(document, rules.list, diagnostics);
  return rows ? std::optional(write_sheet(*rows, rules, style, diagnostics)) : std::nullopt;
}

}  // namespace

ReadList read_loads(std::string_view text, std::string_view file, const ListOptions& options,
                    Diagnostics& diagnostics) {
  return read_text(read_loads, text, file, options, diagnostics);
}
ReadList read_runs(std::string_view text, std::string_view file, const ListOptions& options,
                   Diagnostics& diagnostics) {
  return read_text(read_runs, text, file, options, diagnostics);
}
ReadList read_parts(std::string_view text, std::string_view file, const ListOptions& options,
                    Diagnostics& diagnostics) {
  return read_text(read_parts, text, file, options, diagnostics);
}

std::optional<std::string> write_loads(const Node& design, SheetStyle style,
                                       Diagnostics& diagnostics) {
  return written(design, load_rules(), style, diagnostics);
}
std::optional<std::string> write_runs(const Node& design, SheetStyle style,
                                      Diagnostics& diagnostics) {
  return written(design, run_rules(), style, diagnostics);
}
std::optional<std::string> write_parts(const Node& catalogue, SheetStyle style,
                                       Diagnostics& diagnostics) {
  return written(catalogue, part_rules({}), style, diagnostics);
}

}  // namespace housepower::lists

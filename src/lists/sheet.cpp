// SPDX-License-Identifier: Apache-2.0
// From the cells of a sheet to a table for each row.
#include "housepower/lists/sheet.hpp"

#include <algorithm>
#include <array>

#include "housepower/reading/shape.hpp"
#include "housepower/reading/text.hpp"
#include "sheet_inside.hpp"

namespace housepower {
namespace {

using namespace sheets;

constexpr std::string_view blank_marks[] = {"-", "\u2013", "\u2014"};
// A row of sums at the end of a list is no thing of its own.
constexpr std::array sums{"total",       "totals",        "sum",         "subtotal",
                          "grand total", "summe",         "gesamt",      "somme",
                          "totaux",      "zwischensumme", "gesamtsumme", "gesamt summe"};

bool is_blank(std::string_view text) {
  text = detail::trimmed(text);
  return text.empty() ||
         std::find(std::begin(blank_marks), std::end(blank_marks), text) != std::end(blank_marks);
}

/// One sheet on its way.
struct Work {
  const Csv& csv;
  const SheetRules& rules;
  Diagnostics& diagnostics;
  Head head{};
  Decimals decimals{};

  [[nodiscard]] Place row_place(const Csv::Row& row) const {
    return {csv.file, row.front().line, row.front().column, 1};
  }
  [[nodiscard]] const Csv::Cell* cell_under(const Csv::Row& row, std::string_view path,
                                            std::size_t kind) const {
    for (std::size_t c = 0; c < std::min(row.size(), head.columns.size()); ++c)
      if (head.columns[c].paths[kind] == path && !is_blank(row[c].text)) return &row[c];
    return nullptr;
  }
};

/// Which kind a row is of; nothing, and an error, where it does not tell.
std::optional<std::size_t> kind_of_row(Work& w, const Csv::Row& row) {
  if (w.rules.kind_key.empty()) return 0;
  const auto* cell = w.cell_under(row, w.rules.kind_key, 0);
  std::string text = cell ? cell->text : "";
  for (const CellWord& word : w.rules.cells)
    if (word.path == w.rules.kind_key && word.written == folded(text)) text = word.meant;
  std::vector<std::string_view> known;
  std::string listed;
  for (std::size_t k = 0; k < w.rules.kinds.size(); ++k) {
    if (w.rules.kinds[k].word == folded(text)) return k;
    known.push_back(w.rules.kinds[k].word);
    listed += (k == 0 ? "" : ", ") + std::string(known.back());
  }
  std::string hint = did_you_mean(folded(text), known);
  w.diagnostics.error(cell ? w.csv.place_of(*cell) : w.row_place(row),
                      std::string(w.rules.kind_key),
                      cell ? detail::quoted(text) + " is not one of " + listed : "is missing",
                      hint.empty() ? "one of " + listed : hint);
  return std::nullopt;
}

/// The entry at the path, made where it is not there yet. Null where another value is in its way.
Node* entry_at(Node& table, std::string_view path, const Place& key_place, const Place& row) {
  const auto key = detail::take_part(path, '/');
  auto* entry = table.find(key);
  if (!entry) {
    auto& entries = std::get<Node::Table>(table.value);
    entries.push_back({std::string(key), key_place, {{}, row}});
    entry = &entries.back();
    const bool of_list = !path.empty() && path[0] >= '0' && path[0] <= '9';
    if (of_list) entry->value.value = Node::List{};
    else if (!path.empty()) entry->value.value = Node::Table{};
  } else if (path.empty()) {
    return nullptr;
  }
  if (path.empty()) return &entry->value;
  if (std::holds_alternative<Node::Table>(entry->value.value))
    return entry_at(entry->value, path, key_place, row);
  auto* list = std::get_if<Node::List>(&entry->value.value);
  if (!list) return nullptr;
  const auto at = static_cast<std::size_t>(detail::take_part(path, '/')[0] - '0');
  while (list->size() <= at) list->emplace_back();
  Node& member = (*list)[at];
  if (path.empty()) return &member;
  if (std::holds_alternative<std::monostate>(member.value)) member = {Node::Table{}, key_place};
  return detail::is_table(member) ? entry_at(member, path, key_place, row) : nullptr;
}

/// "0.33 m" of three columns, of which one is empty: the reader of fields would not see a gap.
void say_gaps(Work& w, Node& table, const std::string& path) {
  for (auto& entry : std::get<Node::Table>(table.value)) {
    auto* list = std::get_if<Node::List>(&entry.value.value);
    if (!list) continue;
    for (std::size_t i = 0; i < list->size(); ++i) {
      if (!std::holds_alternative<std::monostate>((*list)[i].value) || (*list)[i].place.line > 0)
        continue;
      w.diagnostics.error(entry.value.place, detail::join(path, entry.key),
                          "states its number " + std::to_string(list->size()) + " but not number " +
                              std::to_string(i + 1),
                          "fill in the cell, or leave all of them empty");
      entry.value.value = std::monostate{};
      break;
    }
  }
}

/// Joins an amount with its currency, from whichever column.
void add_currency(Work& w, Node& table, const std::string& path, std::string_view key,
                  const std::string& currency) {
  auto* entry = table.find(key);
  auto* text = entry ? std::get_if<std::string>(&entry->value.value) : nullptr;
  if (!text || !text->ends_with(' ')) return;
  *text += currency;
  if (!currency.empty()) return;
  w.diagnostics.error(
      entry->value.place, detail::join(path, key),
      detail::quoted(detail::trimmed(*text)) + " has no currency",
      "write it in the heading, as \"Price (EUR)\", or in the cell, as \"420 EUR\"");
  entry->value.value = std::monostate{};
}

bool is_asked_of_rows(const SheetRules& rules, const Field& f) {
  const auto& given = rules.given;
  return f.required && f.role == Field::Role::member &&
         std::find(given.begin(), given.end(), f.key) == given.end();
}

/// What a row must have and its cells do not: asked for at the empty cell.
void ask_for_missing(Work& w, Node& table, const Csv::Row& row, std::size_t kind,
                     const std::string& path) {
  for (const Field& f : w.rules.kinds[kind].fields) {
    if (!is_asked_of_rows(w.rules, f) || table.find(f.key)) continue;
    for (std::size_t c = 0; c < w.head.columns.size(); ++c) {
      if (w.head.columns[c].paths[kind] != f.key) continue;
      const Place place = c < row.size() ? w.csv.place_of(row[c]) : w.row_place(row);
      w.diagnostics.error(place, detail::join(path, f.key), "is missing",
                          "for example " + detail::example_of(f) + " (" + std::string(f.says) +
                              ")");
      std::get<Node::Table>(table.value).push_back({std::string(f.key), place, {{}, place}});
    }
  }
}

void say_beyond_head(Work& w, const Csv::Row& row, const std::string& path) {
  for (std::size_t c = w.head.columns.size(); c < row.size(); ++c) {
    if (is_blank(row[c].text)) continue;
    w.diagnostics.error(
        w.csv.place_of(row[c]), path,
        "has " + std::to_string(row.size()) + " cells, the heading row has " +
            std::to_string(w.head.columns.size()),
        !w.csv.sheet.empty() ? "write above the last what it is"
        : w.csv.delimiter == ','
            ? "a comma inside a cell, as in 0,5, splits it in two unless the cell is in quotes"
            : "put a cell that contains the delimiter in quotes");
    return;
  }
}

/// "class T 150 A", "15A blade", "30 A": a type and the rating before or after it; both may be empty.
struct TypeAndRating {
  std::string type, rating;
};
TypeAndRating parted(std::string_view text) {
  constexpr std::string_view figures = "0123456789.,";
  const auto is_blank_at = [&](std::size_t at) { return at >= text.size() || text[at] == ' '; };
  for (std::size_t at = 0; at < text.size(); ++at) {
    const bool begins = (at == 0 || text[at - 1] == ' ') && figures.find(text[at]) < 10;
    if (!begins) continue;
    const auto end = std::min(text.find_first_not_of(figures, at), text.size());
    const auto unit = std::min(text.find_first_not_of(' ', end), text.size());
    const bool amperes = unit < text.size() && (text[unit] == 'A' || text[unit] == 'a');
    if (!amperes || !is_blank_at(unit + 1)) continue;
    const auto before = detail::trimmed(text.substr(0, at)),
               after = detail::trimmed(text.substr(unit + 1));
    const bool either = before.empty() || after.empty();
    if (either)
      return {std::string(before.empty() ? after : before),
              std::string(text.substr(at, end - at)) + " A"};
  }
  return {std::string(text), {}};
}

/// A value into its place in the row.
void put(Work& w, Node& table, std::string_view where, const std::string& path, Node value) {
  const Place place = value.place;
  if (Node* entry = entry_at(table, where, place, table.place)) *entry = std::move(value);
  else
    w.diagnostics.error(place, detail::join(path, where), "is stated by two columns",
                        "leave one of them empty");
}

/// The two of "class T 150 A" into their places; false where the cell holds no rating.
bool put_both(Work& w, Node& table, const Csv::Cell& cell, std::string_view where,
              const SheetColumn& column, FieldList fields, const std::string& path) {
  for (const SheetRules::Both& both : w.rules.both) {
    if (both.first != where) continue;
    const auto [name, rating] = parted(detail::trimmed(cell.text));
    if (rating.empty()) return false;
    if (!name.empty()) put(w, table, where, path, {name, w.csv.place_of(cell)});
    Csv::Cell its = cell;
    its.text = rating;
    const std::string second(both.second);
    put(w, table, second, path,
        value_of(w.csv, its, w.rules, *leaf_at(fields, second), second, column, w.decimals,
                 detail::join(path, second), w.diagnostics));
    return true;
  }
  return false;
}

std::optional<Node> row_of(Work& w, const Csv::Row& row, std::size_t number) {
  const auto kind = kind_of_row(w, row);
  if (!kind) return std::nullopt;
  const FieldList fields = w.rules.kinds[*kind].fields;
  const auto* name = w.cell_under(row, "name", *kind);
  const std::string called = name ? name->text : std::to_string(number);
  const std::string path = detail::join(w.rules.list, called);
  if (std::find(sums.begin(), sums.end(), folded(called)) != sums.end()) {
    w.diagnostics.error(w.csv.place_of(*name), path, "looks like a row of sums",
                        "take the row out of the file, or give it another name");
    return std::nullopt;
  }
  Node table{Node::Table{}, w.row_place(row)};
  std::vector<std::pair<std::string, std::string>> currencies;
  for (std::size_t c = 0; c < std::min(row.size(), w.head.columns.size()); ++c) {
    const SheetColumn& column = w.head.columns[c];
    if (is_blank(row[c].text) || !column.understood()) continue;
    const std::string& where = column.paths[*kind];
    const Place place = w.csv.place_of(row[c]);
    if (where.empty()) {
      w.diagnostics.error(place, path,
                          detail::quoted(column.head) + " is not a key that the kind \"" +
                              std::string(w.rules.kinds[*kind].word) + "\" has",
                          "leave the cell empty");
      continue;
    }
    if (!column.by_key[*kind] && put_both(w, table, row[c], where, column, fields, path)) continue;
    Node value = value_of(w.csv, row[c], w.rules, *leaf_at(fields, where), where, column,
                          w.decimals, detail::join(path, where), w.diagnostics);
    if (where.ends_with("/unit")) {
      currencies.emplace_back(where.substr(0, where.size() - 5), currency_of(row[c].text));
      continue;
    }
    put(w, table, where, path, std::move(value));
  }
  for (const auto amount : w.rules.amounts) {
    const auto found = std::find_if(currencies.begin(), currencies.end(),
                                    [&](const auto& one) { return one.first == amount; });
    add_currency(w, table, path, amount, found == currencies.end() ? "" : found->second);
  }
  say_gaps(w, table, path);
  ask_for_missing(w, table, row, *kind, path);
  say_beyond_head(w, row, path);
  return table;
}

/// The decimal sign: said by the user, or shown by a number that can be read in one way only.
void find_decimal_sign(Work& w, const SheetOptions& options) {
  if (options.decimal) {
    w.decimals = {options.decimal, "--decimal"};
    return;
  }
  const Csv::Cell* shown[2] = {};
  for (std::size_t r = w.head.row + 1; r < w.csv.rows.size(); ++r) {
    const auto& row = w.csv.rows[r];
    for (std::size_t c = 0; c < std::min(row.size(), w.head.columns.size()); ++c) {
      const SheetColumn& column = w.head.columns[c];
      for (std::size_t k = 0; k < column.paths.size(); ++k) {
        const auto leaf = leaf_at(w.rules.kinds[k].fields, column.paths[k]);
        if (!leaf || !holds_numbers(w.rules, *leaf, column.paths[k])) continue;
        const std::size_t begin = row[c].text.find_first_of("0123456789");
        if (begin == std::string::npos) continue;
        if (row[c].is_number) continue;
        const auto shows = figure_of(std::string_view(row[c].text).substr(begin)).shows;
        if (shows == Figure::Shows::point && !shown[0]) shown[0] = &row[c];
        if (shows == Figure::Shows::comma && !shown[1]) shown[1] = &row[c];
      }
    }
  }
  if (shown[0] && shown[1]) {
    const bool later = shown[0]->line > shown[1]->line;
    w.diagnostics.error(
        w.csv.place_of(*shown[later ? 0 : 1]), {},
        detail::quoted(shown[later ? 0 : 1]->text) + " and, in line " +
            std::to_string(shown[later ? 1 : 0]->line) + ", " +
            detail::quoted(shown[later ? 1 : 0]->text) + " have different decimal signs",
        "write both the same; or say which holds: --decimal point, --decimal comma");
    return;
  }
  const auto* cell = shown[0] ? shown[0] : shown[1];
  if (!cell) return;
  w.decimals = {shown[0] ? DecimalSign::point : DecimalSign::comma,
                "line " + std::to_string(cell->line)};
}

/// A figure that every row needs and no column gives: asked for once, at the head.
bool head_is_enough(Work& w, const std::vector<bool>& present) {
  bool good = true;
  const Place at = w.row_place(w.csv.rows[w.head.row]);
  const auto has = [&](std::string_view key, std::size_t kind) {
    return std::any_of(w.head.columns.begin(), w.head.columns.end(), [&](const SheetColumn& c) {
      return c.paths[kind] == key || c.paths[kind].starts_with(std::string(key) + "/");
    });
  };
  const auto ask = [&](std::string what, std::size_t kind, const Field& f) {
    const auto word = std::string(w.rules.kinds[kind].word);
    w.diagnostics.error(
        at, std::string(w.rules.list),
        "no column gives " + what + (word.empty() ? "" : ", for the kind \"" + word + "\""),
        "a heading such as \"" + std::string(f.key) +
            "\"; or --column \"HEADING=" + std::string(f.key) + "\" says which it is");
    good = false;
  };
  for (std::size_t k = 0; k < w.rules.kinds.size(); ++k) {
    if (!present[k]) continue;
    const FieldList fields = w.rules.kinds[k].fields;
    for (const Field& f : fields) {
      if (is_asked_of_rows(w.rules, f) && !has(f.key, k)) ask("`" + std::string(f.key) + "`", k, f);
      if (f.role != Field::Role::exactly_one) continue;
      const auto keys = detail::group_of(f);
      if (std::none_of(keys.begin(), keys.end(), [&](auto key) { return has(key, k); }))
        ask("one of `" + detail::listed(keys, "`, `") + "`", k,
            *detail::field_named(fields, keys.front()));
    }
  }
  return good;
}

/// The kinds that the rows name, before anything else is said of them.
std::vector<bool> kinds_present(Work& w) {
  std::vector<bool> present(w.rules.kinds.size(), w.rules.kind_key.empty());
  if (w.rules.kind_key.empty()) return present;
  Diagnostics again;  // told where the row is read
  Work quiet{w.csv, w.rules, again, w.head, w.decimals};
  for (std::size_t r = w.head.row + 1; r < w.csv.rows.size(); ++r)
    if (const auto kind = kind_of_row(quiet, w.csv.rows[r])) present[*kind] = true;
  return present;
}

}  // namespace

Sheet read_sheet(const Csv& csv, const SheetRules& rules, const SheetOptions& options,
                 Diagnostics& diagnostics) {
  Sheet sheet;
  sheet.delimiter = csv.sheet.empty() ? name_of_delimiter(csv.delimiter) : std::string_view();
  sheet.name = csv.sheet;
  sheet.blank_rows = csv.blank_rows;
  if (csv.rows.empty()) {
    diagnostics.error({csv.file}, {}, "holds no rows",
                      "a first row of headings, then a row for each thing");
    return sheet;
  }
  Work w{csv, rules, diagnostics, {}, {}};
  w.head = read_head(csv, rules, options, diagnostics);
  sheet.columns = w.head.columns;
  sheet.head_line = csv.rows[w.head.row].front().line;
  for (std::size_t r = 0; r < w.head.row; ++r)
    diagnostics.warning(w.row_place(csv.rows[r]), {},
                        "is above the row of headings and is left out");
  if (diagnostics.any_error()) return sheet;
  const bool kinds_told =
      rules.kind_key.empty() ||
      std::any_of(w.head.columns.begin(), w.head.columns.end(),
                  [&](const SheetColumn& c) { return c.paths[0] == rules.kind_key; });
  if (!kinds_told)
    diagnostics.error(w.row_place(csv.rows[w.head.row]), std::string(rules.kind_key),
                      "no column says what each row is",
                      "a column \"" + std::string(rules.kind_key) + "\", or --" +
                          std::string(rules.kind_key) + " " + std::string(rules.kinds[0].word) +
                          " where all rows are alike");
  if (!kinds_told || !head_is_enough(w, kinds_present(w))) return sheet;
  find_decimal_sign(w, options);
  sheet.decimal = w.decimals.sign;
  sheet.decimal_from = w.decimals.from;
  if (diagnostics.any_error()) return sheet;
  if (w.head.row + 1 == csv.rows.size())
    diagnostics.error(w.row_place(csv.rows[w.head.row]), {}, "there is no row below the headings");
  for (std::size_t r = w.head.row + 1; r < csv.rows.size(); ++r)
    if (auto row = row_of(w, csv.rows[r], r - w.head.row - 1))
      sheet.rows.push_back(std::move(*row));
  return sheet;
}

}  // namespace housepower

// SPDX-License-Identifier: Apache-2.0
#include "range_glance.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "housepower/reading/shown.hpp"
#include "json.hpp"

namespace housepower::report {

std::string told_days(const std::optional<Duration>& headline, bool or_more) {
  return headline ? print_plain(*headline / day) + (or_more ? " or more" : "") : "";
}
namespace {

constexpr std::size_t glance_width = 100, least_name = 12;
constexpr unsigned figures = 1;  // stand on the right, though they are told as text

std::string told_safety(const RangeRow& row) {
  return row.verdict == range::not_read ? std::string("not read") : row.verdict_safety;
}
std::string told_month(const RangeRow& row) { return row.month.substr(0, 3); }
/// What keeps it from a pass, by the worst of them.
std::string told_fault(const RangeRow& row) {
  const bool counts = row.worst_verdict != word_of(Verdict::not_checked);
  return counts ? row.worst_rule : "";
}
std::string with_plus(std::string days, bool or_more) {
  return days.empty() ? days : days + (or_more ? "+" : "");
}
std::string glance_use(const RangeRow& row) {
  return row.daily ? print_plain(*row.daily / ampere_hour, 3) : "";
}
std::string glance_autonomy(const RangeRow& row) {
  const std::string days = row.autonomy ? print_plain(*row.autonomy / day, 3) : "";
  return with_plus(days, autonomy_or_more(row));
}
std::string glance_parked(const RangeRow& row) {
  return with_plus(told_days(row.parked_headline, false), parked_or_more(row));
}
std::string glance_stay(const RangeRow& row) {
  return with_plus(told_days(row.headline, false), stay_or_more(row));
}

/// Of a range at its own places, and of one at many.
Columns<RangeRow> glance_columns(bool elsewhere) {
  using Its = ColumnOf<RangeRow>;
  Columns<RangeRow> columns{Its("name", "model", &RangeRow::name)};
  if (elsewhere)
    columns += {Its("place", "place", &RangeRow::place), Its("month", "month", told_month)};
  columns += {Its("verdict_safety", "safety", told_safety),
              Its("verdict_service", "service", &RangeRow::verdict_service),
              Its("daily", "Ah a day", glance_use).in(figures),
              Its("autonomy", "autonomy, d", glance_autonomy).in(figures),
              Its("parked", "parked, d", glance_parked).in(figures),
              Its("stay", "with travel, d", glance_stay).in(figures)};
  if (!elsewhere) columns += {Its("fault", "worst finding", told_fault)};
  return columns;
}

/// Without the columns in which no row says anything.
TableBlock without_empty_columns(const TableBlock& table) {
  TableBlock kept{table.title, {}, {}, {}};
  kept.rows.resize(table.rows.size());
  for (std::size_t c = 0; c < table.heads.size(); ++c) {
    const bool empty = std::all_of(table.rows.begin(), table.rows.end(),
                                   [&](const auto& row) { return row[c].empty(); });
    if (empty) continue;
    kept.heads.push_back(table.heads[c]);
    kept.numbers.push_back(table.numbers[c]);
    for (std::size_t r = 0; r < table.rows.size(); ++r) kept.rows[r].push_back(table.rows[r][c]);
  }
  return kept;
}

std::size_t widest_word(std::string_view text) {
  std::size_t widest = 0;
  for (std::size_t begin = 0; begin <= text.size();) {
    const std::size_t end = std::min(text.find(' ', begin), text.size());
    widest = std::max(widest, shown_width(text.substr(begin, end - begin)));
    begin = end + 1;
  }
  return widest;
}

/// What the columns but the first leave of a line, with two blanks before each.
std::size_t left_for_names(const TableBlock& table) {
  std::size_t used = 2;
  for (std::size_t c = 1; c < table.heads.size(); ++c) {
    std::size_t width = widest_word(table.heads[c]);
    for (const auto& row : table.rows) width = std::max(width, shown_width(row[c]));
    used += 2 + width;
  }
  return used + least_name < glance_width ? glance_width - used : least_name;
}

/// With its middle left out: a model's name begins like its brothers', and the pack ends it.
std::string cut_in_the_middle(const std::string& name, std::size_t width) {
  if (shown_width(name) <= width) return name;
  std::vector<std::string> letters;  // with what is joined to them
  for (std::size_t i = 0; i < name.size();) {
    std::size_t end = i + 1;
    while (end < name.size() && (static_cast<unsigned char>(name[end]) & 0xC0U) == 0x80U) ++end;
    letters.push_back(name.substr(i, end - i));
    i = end;
  }
  std::string first, last;
  std::size_t begin = 0, end = letters.size(), used = 1;
  for (bool front = true; begin < end; front = !front) {
    const std::string& next = front ? letters[begin] : letters[end - 1];
    used += shown_width(next);
    if (used > width) break;
    if (front) first += next, ++begin;
    else last.insert(0, next), --end;
  }
  return first + "…" + last;
}

/// The name of each, and where several files bear it the file's own.
std::vector<std::string> names_apart(const std::vector<RangeRow>& rows) {
  std::map<std::string_view, std::set<std::string_view>> files;
  for (const RangeRow& row : rows) files[row.name].insert(row.file);
  std::vector<std::string> names;
  for (const RangeRow& row : rows) {
    const std::string_view file = std::string_view(row.file).substr(row.file.rfind('/') + 1);
    names.push_back(files[row.name].size() == 1 ? row.name
                                                : row.name + " (" + std::string(file) + ")");
  }
  return names;
}

}  // namespace

TableBlock glance_table(const RangeReport& report) {
  const bool elsewhere = report.places > 0 || report.months > 0;
  const auto columns = glance_columns(elsewhere);
  TableBlock table = table_of("At a glance", columns, report.rows);
  for (std::size_t c = 0; c < table.numbers.size(); ++c)
    table.numbers[c] = table.numbers[c] || columns.erased()[c].shown_in == figures;
  table = without_empty_columns(table);
  const auto names = names_apart(report.rows);
  for (std::size_t r = 0; r < names.size(); ++r) table.rows[r].front() = names[r];
  const std::size_t width = left_for_names(table);
  for (auto& row : table.rows) row.front() = cut_in_the_middle(row.front(), width);
  return table;
}

}  // namespace housepower::report

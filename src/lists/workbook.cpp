// SPDX-License-Identifier: Apache-2.0
// The archive of a workbook, which of its sheets is read, and rows as the reader of lists takes them.
#include "housepower/lists/workbook.hpp"

#include <fmt/format.h>
#include <zip.h>

#include <algorithm>
#include <cmath>
#include <memory>

#include "housepower/reading/text.hpp"
#include "housepower/units/phrases.hpp"
#include "housepower/units/unit.hpp"
#include "workbook_inside.hpp"

namespace housepower {
namespace workbook {
namespace {

constexpr std::size_t most_cells = 1'000'000;
constexpr const char* save_again = "open it in a spreadsheet program and save it as .xlsx or .ods "
                                   "without a password, or as CSV";

std::string error_of(zip_error_t& error) {
  std::string text = zip_error_strerror(&error);
  zip_error_fini(&error);
  return text;
}

/// The archive, open on bytes in memory that outlive it.
class Archive {
public:
  explicit Archive(std::string_view bytes) {
    zip_error_t error;
    zip_error_init(&error);
    zip_source_t* source = zip_source_buffer_create(bytes.data(), bytes.size(), 0, &error);
    if (source) zip_.reset(zip_open_from_source(source, ZIP_RDONLY, &error));
    if (zip_) {
      zip_error_fini(&error);
      return;
    }
    if (source) zip_source_free(source);
    throw Unreadable("is damaged: " + error_of(error), save_again);
  }

  [[nodiscard]] std::optional<std::string> part(const std::string& name) const {
    zip_stat_t found;
    zip_stat_init(&found);
    if (zip_stat(zip_.get(), name.c_str(), 0, &found) != 0) return std::nullopt;
    const bool known = (found.valid & ZIP_STAT_SIZE) != 0;
    if (!known || found.size > largest_part) too_large(name);
    if ((found.valid & ZIP_STAT_ENCRYPTION_METHOD) != 0 && found.encryption_method != ZIP_EM_NONE)
      throw Unreadable("is protected with a password", save_again);
    return unpacked(name, static_cast<std::size_t>(found.size));
  }

private:
  struct Close {
    void operator()(zip_t* zip) const { zip_discard(zip); }
    void operator()(zip_file_t* file) const { zip_fclose(file); }
  };
  [[noreturn]] static void too_large(const std::string& name) {
    throw Unreadable("holds " + name + ", which unpacks to more than 16 MB",
                     "keep in the file only the list itself");
  }
  /// One byte more is asked for than the archive's list says there is: it may lie.
  [[nodiscard]] std::string unpacked(const std::string& name, std::size_t size) const {
    const std::unique_ptr<zip_file_t, Close> file(zip_fopen(zip_.get(), name.c_str(), 0));
    std::string text(size + 1, '\0');
    const auto read = file ? zip_fread(file.get(), text.data(), text.size()) : -1;
    if (read < 0 || static_cast<std::size_t>(read) != size)
      throw Unreadable("is damaged: " + name + " cannot be unpacked", save_again);
    text.pop_back();
    return text;
  }

  std::unique_ptr<zip_t, Close> zip_;
};

std::string names_of(const std::vector<const Sheet*>& sheets) {
  std::string names;
  for (const Sheet* sheet : sheets) names += (names.empty() ? "" : ", ") + quoted(sheet->name);
  return names;
}

/// Of that name, or the only one that is not hidden and holds anything.
std::pair<const Sheet*, Rows> chosen(const std::vector<Sheet>& sheets,
                                     const std::optional<std::string>& wanted) {
  std::vector<const Sheet*> all, full;
  Rows rows;
  for (const Sheet& sheet : sheets) {
    all.push_back(&sheet);
    if (wanted && sheet.name == *wanted) return {&sheet, sheet.rows()};
    if (wanted || sheet.hidden) continue;
    Rows its = sheet.rows();
    if (its.empty()) continue;
    full.push_back(&sheet);
    rows = std::move(its);
  }
  if (wanted)
    throw Unreadable("has no sheet " + quoted(*wanted), "its sheets are " + names_of(all));
  if (full.size() > 1)
    throw Unreadable("holds several sheets: " + names_of(full),
                     "say which: --sheet " + quoted(full.front()->name));
  if (full.empty())
    throw Unreadable("holds no rows", "a first row of headings, then a row for each thing");
  return {full.front(), std::move(rows)};
}

Csv cells_of(std::string_view bytes, std::string_view file, const std::optional<std::string>& sheet,
             Diagnostics& diagnostics) {
  if (bytes.starts_with(begins_old_workbook))
    throw Unreadable("is a workbook of an old kind, or one with a password", save_again);
  const Archive archive(bytes);
  const Part part = [&](const std::string& name) { return archive.part(name); };
  auto sheets = sheets_of_office_open_xml(part);
  if (sheets.empty()) sheets = sheets_of_open_document(part);
  if (sheets.empty())
    throw Unreadable("is an archive, but not a workbook (.xlsx, .ods)", save_again);
  const auto [one, rows] = chosen(sheets, sheet);
  if (const auto [first, hidden] = rows.hidden(); hidden > 0)
    diagnostics.warning({std::string(file), first, 1, 1}, {},
                        fmt::format("{} of the sheet {} hidden and {} read as well",
                                    hidden == 1 ? "a row" : std::to_string(hidden) + " rows",
                                    hidden == 1 ? "is" : "are", hidden == 1 ? "is" : "are"),
                        "delete what is no longer meant");
  return rows.made(file, one->name);
}

}  // namespace

void Rows::add(int number, Csv::Row cells, bool hidden) {
  const auto blank = [](const Csv::Cell& cell) { return detail::trimmed(cell.text).empty(); };
  cells.erase(std::remove_if(cells.begin(), cells.end(), blank), cells.end());
  if (cells.empty()) return;
  cells_ += cells.size();
  if (cells_ > most_cells || number > most_rows)
    throw Unreadable("holds more than a million cells", "keep in the file only the list itself");
  if (!rows_.empty()) blank_ += std::max(0, number - last_ - 1);
  last_ = number;
  if (hidden && ++hidden_ == 1) first_hidden_ = number;
  for (Csv::Cell& cell : cells) cell.line = number;
  rows_.push_back(std::move(cells));
}

Csv Rows::made(std::string_view file, std::string_view sheet) const {
  std::vector<int> columns;  // that hold anything, rising
  for (const Csv::Row& row : rows_)
    for (const Csv::Cell& cell : row) columns.push_back(cell.column);
  std::sort(columns.begin(), columns.end());
  columns.erase(std::unique(columns.begin(), columns.end()), columns.end());
  Csv csv;
  csv.file = file;
  csv.sheet = sheet;
  csv.blank_rows = blank_;
  if (columns.size() * rows_.size() > 4 * most_cells)
    throw Unreadable("spreads its rows over too many columns",
                     "keep in the file only the list itself");
  for (const Csv::Row& row : rows_) {
    Csv::Row& full = csv.rows.emplace_back();
    for (const int column : columns) full.push_back({{}, row.front().line, column, 1, false});
    for (const Csv::Cell& cell : row)
      full[static_cast<std::size_t>(std::lower_bound(columns.begin(), columns.end(), cell.column) -
                                    columns.begin())] = cell;
  }
  return csv;
}

Csv::Cell number_cell(double value, int column, std::string_view unit) {
  const bool whole = value == std::floor(value) && std::abs(value) < 1e15;
  std::string text =
      whole ? std::to_string(static_cast<std::int64_t>(value)) : print_plain(value, 15);
  if (!unit.empty()) text += " " + std::string(unit);
  return {std::move(text), 0, column, 1, true};
}

std::string clock_text(double days) {
  const long minutes = std::lround(days * 24.0 * 60.0);
  return fmt::format("{}:{:02}", minutes / 60, minutes % 60);
}

}  // namespace workbook

std::optional<Csv> read_workbook(std::string_view bytes, std::string_view file,
                                 const std::optional<std::string>& sheet,
                                 Diagnostics& diagnostics) {
  try {
    return workbook::cells_of(bytes, file, sheet, diagnostics);
  } catch (const workbook::Unreadable& why) {
    diagnostics.error({std::string(file), why.cell.line, why.cell.column, 1}, {}, why.what(),
                      why.hint);
    return std::nullopt;
  }
}

}  // namespace housepower

// SPDX-License-Identifier: Apache-2.0
// The only home of libxlsxwriter. Texts go in as strings, never as formulas or links; the file's
// time is fixed, so that nothing in it comes from a clock.
#include <sys/mman.h>
#include <unistd.h>
#include <xlsxwriter.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>

#include "characters.hpp"
#include "digits.hpp"
#include "housepower/page/workbook.hpp"

namespace housepower::page {
namespace {

constexpr std::size_t most_in_cell = 32000;    // UTF-16 units; the format's limit is 32,767
constexpr std::size_t most_in_property = 200;  // bytes; as well for a title in a header
constexpr std::size_t most_in_footer = 255;    // the format's limit, marks included
constexpr double widest_column = 48.0;         // characters; a longer text is wrapped
constexpr double least_column = 16.0;          // to which a text is narrowed, if its words allow it
constexpr double on_a4 = 190.0, on_a3 = 270.0;  // characters side by side that are still legible
constexpr int paper_a4 = 9, paper_a3 = 8;       // the format's numbers
constexpr double line_height = 15.0;            // points
constexpr double inset_width = 1.5;             // characters
constexpr time_t its_time = 315532800;  // 1980-01-01, the first day that the container knows

/// Whether "_x0041_" stands here, which a reader would take for the character of that number.
bool is_escape(std::string_view text) {
  constexpr std::string_view digits = "0123456789ABCDEFabcdef";
  return text.size() >= 7 && text[1] == 'x' && text[6] == '_' &&
         text.substr(2, 4).find_first_not_of(digits) == text.npos;
}

/// As a cell takes it: cut where it is too long, and said so.
std::string cell_text(std::string_view given) {
  const std::string seen = as_xml_holds(given);
  std::string out;
  std::string_view text = seen;
  for (std::size_t units = 0; !text.empty(); ++units) {
    const std::string_view c = next_character(text);
    if (units >= most_in_cell) return out + " … (cut)";
    if (c.size() == 4) ++units;
    if (c == "_" && is_escape(text)) out += "_x005F_";
    else out += c;
    text.remove_prefix(c.size());
  }
  return out;
}

/// On one line, and no longer than that many bytes.
std::string cut_to_a_line(std::string_view given, std::size_t most) {
  const std::string seen = cell_text(given);
  std::string out;
  for (std::string_view text = seen; !text.empty();) {
    const std::string_view c = next_character(text);
    if (out.size() + c.size() > most) return out + "…";
    out += c;
    text.remove_prefix(c.size());
  }
  return out;
}

/// For a header or footer, where "&" begins a mark.
std::string unmarked(std::string_view text) {
  std::string out;
  for (const char c : text) out += c == '&' ? "&&" : std::string(1, c);
  return out;
}

/// The note in two lines of like length.
std::string footer_of(std::string_view note) {
  std::string text = cut_to_a_line(unmarked(note), most_in_footer - 16);
  const auto middle = text.find(' ', text.size() / 2);
  if (middle != text.npos) text[middle] = '\n';
  return "&L&8" + text;
}

/// How many places a number has in a schedule: fixed ones for what is compared down a column, else
/// three significant digits.
std::string places_of(double number, std::string_view unit) {
  if (unit == "V") return "0.000";
  if (unit == "m" || unit == "kg" || unit == "ft" || unit == "lb") return "0.00";
  if (unit == "mm²") return "0.0#";
  if (unit == "°C" || unit == "°F") return "0.0";
  const double size = std::abs(number);
  if (size == std::floor(size) || size >= 100.0) return "#,##0";
  const int places = size < 1e-6 ? 8 : 2 - int(std::floor(std::log10(size)));
  return "0." + std::string(std::size_t(places), '0');
}

/// Formats of cells, each made once.
class Formats {
public:
  explicit Formats(lxw_workbook* book) : book_(book) {}
  lxw_format* head() {
    return made("head", [](lxw_format* f) {
      format_set_bold(f);
      format_set_text_wrap(f);
      format_set_bg_color(f, 0xD9D9D9);
      format_set_bottom(f, LXW_BORDER_THIN);
      inset(f);
    });
  }
  lxw_format* upright_head() {
    return made("upright", [](lxw_format* f) {
      format_set_bold(f);
      format_set_bg_color(f, 0xD9D9D9);
      format_set_bottom(f, LXW_BORDER_THIN);
      format_set_rotation(f, 90);
      format_set_align(f, LXW_ALIGN_VERTICAL_BOTTOM);
    });
  }
  lxw_format* text() {
    return made("text", [](lxw_format* f) {
      format_set_text_wrap(f);
      inset(f);
    });
  }
  lxw_format* name() {
    return made("name", [](lxw_format* f) { format_set_bold(f); });
  }
  lxw_format* number(const std::string& places) {
    return made(places, [&](lxw_format* f) { format_set_num_format(f, places.c_str()); });
  }
  /// Shades that differ in grey, too: about 26, 74 and 90 % of white.
  lxw_format* verdict(const std::string& word) {
    return made("verdict " + word, [&](lxw_format* f) {
      format_set_bold(f);
      inset(f);
      if (word == "fail") format_set_font_color(f, 0xFFFFFF);
      if (word == "fail") format_set_bg_color(f, 0x9C1C1C);
      if (word == "caution") format_set_bg_color(f, 0xF4B942);
      if (word == "not-checked") format_set_bg_color(f, 0xE4E4F0);
    });
  }

private:
  /// A text keeps away from the number that ends beside it.
  static void inset(lxw_format* f) {
    format_set_align(f, LXW_ALIGN_LEFT);
    format_set_indent(f, 1);
  }
  template <class Set> lxw_format* made(const std::string& key, Set set) {
    lxw_format*& format = formats_[key];
    if (format) return format;
    format = workbook_add_format(book_);
    format_set_align(format, LXW_ALIGN_VERTICAL_TOP);
    set(format);
    return format;
  }
  lxw_workbook* book_;
  std::map<std::string, lxw_format*> formats_;
};

std::size_t longest(std::string_view text, char ends) {
  std::size_t most = 0, now = 0;
  for (const char c : text) {
    if (c == ends) now = 0;
    else if ((c & 0xC0) != 0x80) most = std::max(most, ++now);
  }
  return most;
}

std::size_t longest_word(std::string_view text) {
  std::size_t most = 0;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find_first_of(" \n"), text.size());
    most = std::max(most, longest(text.substr(0, end), '\n'));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return most;
}

std::size_t cell_width(const Cell& cell) {
  if (const auto* text = std::get_if<std::string>(&cell)) return longest(*text, '\n');
  if (const auto* amounts = std::get_if<Amounts>(&cell)) return longest(amounts->text, '\n');
  return std::holds_alternative<Number>(cell) ? 8 : 6;
}

/// Lines of a text that is wrapped at its blanks, rather one too many: programs differ in letters.
std::size_t lines_of(std::string_view text, double width) {
  const double room = std::max(1.0, width - inset_width);
  std::size_t lines = 1;
  double used = 0;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find_first_of(" \n"), text.size());
    const double word = double(longest(text.substr(0, end), '\n'));
    if (used > 0 && used + word > room) ++lines, used = 0;
    lines += std::size_t(word / (room + 1.0));
    used += word + 1.0;
    if (end < text.size() && text[end] == '\n') ++lines, used = 0;
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return lines;
}

std::string heading_of(const Column& column) {
  return std::string(column.title) +
         (column.unit.symbol.empty() ? "" : ", " + std::string(shown_unit(column.unit).symbol));
}

/// Of the columns of a table, in characters: each as its cells want it, and where that is more than
/// paper takes, those of text narrower, as far as their words allow it; where that does not do,
/// headings wider than what stands below them stand upright.
class Widths {
public:
  explicit Widths(const RowTable& table) {
    for (const Column& column : table.columns) add(table, column);
    narrow();
    if (sum() <= on_a3) return;
    for (Width& w : all_)
      if (w.cells < w.head) w.upright = true, w.now = w.wanted;
    narrow();
  }
  [[nodiscard]] double operator[](std::size_t column) const { return all_[column].now; }
  [[nodiscard]] bool is_upright(std::size_t column) const { return all_[column].upright; }
  [[nodiscard]] double sum() const {
    double all = 0;
    for (const Width& w : all_) all += w.now;
    return all;
  }

private:
  struct Width {
    double head, cells, wanted;  // its longest word; theirs; theirs on one line
    double now = std::max(head, wanted);
    bool upright = false;
  };
  void add(const RowTable& table, const Column& column) {
    std::size_t word = 4, wanted = 4;
    for (std::size_t i = 0; i < table.size; ++i) {
      const Cell cell = column.cell(table[i]);
      const auto* text = std::get_if<std::string>(&cell);
      wanted = std::max(wanted, cell_width(cell));
      word = std::max(word, text ? longest_word(*text) : cell_width(cell));
    }
    const std::size_t head = longest(heading_of(column), ' ') + 2;  // with the filter's button
    const double most = std::min(room_for(wanted), widest_column);
    all_.push_back({room_for(head), std::min(room_for(word), most), most});
  }
  void narrow() {
    for (double most = widest_column; sum() > on_a3 && most > least_column; most -= 1.0)
      for (Width& w : all_)
        w.now = std::max({std::min(w.now, most), w.cells, w.upright ? 0.0 : w.head});
  }
  static double room_for(std::size_t characters) { return 1.05 * double(characters) + inset_width; }

  std::vector<Width> all_;
};

/// One table on a sheet of its own.
class Sheet {
public:
  Sheet(lxw_worksheet* sheet, Formats& formats) : sheet_(sheet), formats_(formats) {}

  /// What is in the file and not on paper is said at the top of each sheet.
  void print_on_paper(const std::string& title, std::string_view note,
                      const std::string& off_paper = {}) {
    worksheet_set_landscape(sheet_);
    worksheet_set_paper(sheet_, paper_a4);
    worksheet_set_margins(sheet_, 0.4, 0.4, 0.7, 0.8);
    worksheet_gridlines(sheet_, LXW_SHOW_ALL_GRIDLINES);
    const std::string header = "&L" + unmarked(cut_to_a_line(title, most_in_property / 2)) +
                               "&C&A" + (off_paper.empty() ? "" : ", not printed: " + off_paper) +
                               "&R&P / &N";
    worksheet_set_header(sheet_, header.c_str());
    worksheet_set_footer(sheet_, footer_of(note).c_str());
  }

  void write(const RowTable& table) {
    const auto columns = static_cast<lxw_col_t>(table.columns.size());
    const auto rows = static_cast<lxw_row_t>(table.size);
    const Widths widths(table);
    for (lxw_col_t c = 0; c < columns; ++c) write_column(table, c, widths[c], widths.is_upright(c));
    set_heights();
    if (widths.sum() > on_a4) worksheet_set_paper(sheet_, paper_a3);
    worksheet_fit_to_pages(sheet_, 1, 0);
    const auto on_paper = lxw_row_t(table.on_paper.value_or(table.size));
    worksheet_print_area(sheet_, 0, 0, on_paper, lxw_col_t(columns - 1));
    worksheet_freeze_panes(sheet_, 1, 2);
    worksheet_repeat_rows(sheet_, 0, 0);
    worksheet_autofilter(sheet_, 0, 0, rows, lxw_col_t(columns - 1));
  }

  void write(const std::vector<std::pair<std::string, std::string>>& facts) {
    set_width(0, 12.0);
    set_width(1, 100.0);
    lxw_row_t row = 0;
    for (const auto& [name, text] : facts) {
      write_text(row, 0, name, formats_.name());
      write_text(row, 1, text, name == "verdict" ? formats_.verdict(text) : formats_.text());
      ++row;
    }
    set_heights();
    worksheet_fit_to_pages(sheet_, 1, 0);
  }

private:
  void set_width(lxw_col_t column, double characters) {
    worksheet_set_column(sheet_, column, column, characters, nullptr);
    widths_.push_back(characters);
  }

  /// A row is as high as its texts want it: not every program finds that out by itself.
  void set_heights() {
    constexpr double highest = 400.0;  // points; the format's limit is 409
    for (const auto& [row, lines] : lines_)
      if (lines > 1)
        worksheet_set_row(sheet_, row, std::min(line_height * double(lines), highest), nullptr);
  }

  void write_text(lxw_row_t row, lxw_col_t column, const std::string& text, lxw_format* format) {
    worksheet_write_string(sheet_, row, column, cell_text(text).c_str(), format);
    lines_[row] = std::max(lines_[row], lines_of(text, widths_[column]));
  }

  void write_number(lxw_row_t row, lxw_col_t column, double number, const std::string& places) {
    if (!std::isfinite(number)) write_text(row, column, number > 0 ? "inf" : "none", nullptr);
    else worksheet_write_number(sheet_, row, column, as_carried(number), formats_.number(places));
  }

  void write_cell(lxw_row_t row, lxw_col_t c, const Column& column, const Cell& cell) {
    if (const auto* text = std::get_if<std::string>(&cell)) {
      const bool verdict = !column.words.empty();
      if (!text->empty())
        write_text(row, c, *text, verdict ? formats_.verdict(*text) : formats_.text());
    } else if (const auto* number = std::get_if<Number>(&cell)) {
      const bool share = number->kind == Kind{};
      const Unit unit = shown_unit(column.unit);
      const double value = in_unit(*number, unit);
      write_number(row, c, value, share ? "0.0 %" : places_of(value, unit.symbol));
    } else if (const auto* bare = std::get_if<double>(&cell)) {
      write_number(row, c, *bare, places_of(*bare, ""));
    } else if (const auto* amounts = std::get_if<Amounts>(&cell)) {
      if (!amounts->text.empty()) write_text(row, c, amounts->text, formats_.text());
    } else if (const auto* flag = std::get_if<bool>(&cell)) {
      write_text(row, c, *flag ? "yes" : "no", formats_.text());
    }
  }

  void write_head(lxw_col_t c, const std::string& head, bool upright) {
    if (!upright) return write_text(0, c, head, formats_.head());
    worksheet_write_string(sheet_, 0, c, cell_text(head).c_str(), formats_.upright_head());
    constexpr double letter = 6.5;  // points along the line
    const double high = letter * double(longest(head, '\n')) + 2.0 * line_height;
    lines_[0] = std::max(lines_[0], std::size_t(high / line_height));
  }

  void write_column(const RowTable& table, lxw_col_t c, double width, bool upright) {
    const Column& column = table.columns[c];
    set_width(c, width);
    write_head(c, heading_of(column), upright);
    for (std::size_t i = 0; i < table.size; ++i)
      write_cell(lxw_row_t(i + 1), c, column, column.cell(table[i]));
  }

  lxw_worksheet* sheet_;
  Formats& formats_;
  std::vector<double> widths_;  // of the columns so far
  std::map<lxw_row_t, std::size_t> lines_;
};

void set_properties(lxw_workbook* book, const Workbook& content) {
  std::string title = cut_to_a_line(content.title, most_in_property), comments;
  for (const auto& [name, text] : content.facts)
    if (name != "standing") comments += name + ": " + cut_to_a_line(text, 500) + "\n";
  lxw_doc_properties properties{};
  properties.title = title.data();
  properties.comments = comments.data();
  properties.created = its_time;
  workbook_set_properties(book, &properties);
}

/// A new empty file, gone with it: in memory, and of the program alone; else, where the machine knows
/// no such file, on the disk.
class TemporaryFile {
public:
  TemporaryFile() {
#ifdef MFD_CLOEXEC
    file_ = ::memfd_create("workbook", MFD_CLOEXEC);
    path_ = "/proc/self/fd/" + std::to_string(file_);
    if (file_ >= 0 && ::access(path_.c_str(), W_OK) == 0) return;
    if (file_ >= 0) ::close(file_);
#endif
    std::error_code error;
    path_ = (std::filesystem::temp_directory_path(error) / "housepower-XXXXXX").string();
    file_ = error ? -1 : ::mkstemp(path_.data());
    on_disk_ = true;
  }
  TemporaryFile(const TemporaryFile&) = delete;
  TemporaryFile& operator=(const TemporaryFile&) = delete;
  ~TemporaryFile() {
    if (file_ < 0) return;
    ::close(file_);
    if (on_disk_) ::unlink(path_.c_str());
  }
  [[nodiscard]] bool is_there() const { return file_ >= 0; }
  [[nodiscard]] const std::string& path() const { return path_; }

private:
  std::string path_;
  int file_ = -1;
  bool on_disk_ = false;
};

}  // namespace

std::variant<std::string, NoSpreadsheet> spreadsheet(const Workbook& content) {
  const TemporaryFile file;
  if (!file.is_there()) return NoSpreadsheet{"no temporary file can be made"};
  lxw_workbook* book = workbook_new(file.path().c_str());
  if (!book) return NoSpreadsheet{"there is no memory for it"};
  set_properties(book, content);
  Formats formats(book);
  const std::string_view note = safety_note();
  Sheet first(workbook_add_worksheet(book, "Summary"), formats);
  first.print_on_paper(content.title, note);
  first.write(content.facts);
  for (const RowTable& table : content.sheets) {
    Sheet sheet(workbook_add_worksheet(book, table.title.c_str()), formats);
    sheet.print_on_paper(content.title, note, table.off_paper);
    sheet.write(table);
  }
  if (const lxw_error error = workbook_close(book)) return NoSpreadsheet{lxw_strerror(error)};
  std::ifstream made(file.path(), std::ios::binary);
  std::string bytes{std::istreambuf_iterator<char>(made), {}};
  if (!made || bytes.empty()) return NoSpreadsheet{"the temporary file cannot be read"};
  return bytes;
}

}  // namespace housepower::page

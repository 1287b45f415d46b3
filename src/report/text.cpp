// SPDX-License-Identifier: Apache-2.0
// A Page as plain text: wrapped to the screen, figures aligned, colour only beside words.
#include <algorithm>
#include <cmath>

#include "json.hpp"

namespace housepower::report {
namespace {

using checks::Finding;
using checks::Verdict;

std::size_t width_of(std::string_view text) {  // code points: our own texts hold no wide characters
  return static_cast<std::size_t>(
      std::count_if(text.begin(), text.end(), [](char c) { return (c & 0xC0) != 0x80; }));
}

/// Words wrapped to `width`, each line indented; the first line goes on where `first` ends.
std::string wrapped(const std::string& first, const std::string& words_, std::size_t indent,
                    int width) {
  std::string out = first;
  std::size_t column = width_of(first);
  std::size_t start = 0;
  bool fresh = true;
  while (start < words_.size()) {
    auto end = words_.find(' ', start);
    if (end == std::string::npos) end = words_.size();
    const std::string word = words_.substr(start, end - start);
    const std::size_t length = width_of(word);
    if (!fresh && column + 1 + length > static_cast<std::size_t>(width)) {
      out += "\n" + std::string(indent, ' ');
      column = indent;
      fresh = true;
    }
    if (!fresh) out += ' ', ++column;
    out += word;
    column += length;
    fresh = false;
    start = end + 1;
  }
  return out + "\n";
}

std::string painted(std::string text, const char* code, const Screen& screen) {
  return screen.colour ? std::string("\x1b[") + code + "m" + text + "\x1b[0m" : text;
}

std::string label(Verdict v, const Screen& screen) {
  const char* code = v == Verdict::fail      ? "1;31"
                     : v == Verdict::caution ? "1;33"
                     : v == Verdict::pass    ? "32"
                                             : "2";
  return painted(std::string(checks::word_of(v)), code, screen);
}

void append(std::string& out, const Heading& h, const Screen& screen) {
  out += "\n" + painted(h.text, "1", screen) + "\n" + std::string(width_of(h.text), '=') + "\n";
}
void append(std::string& out, const Paragraph& p, const Screen& screen) {
  out += wrapped("", p.text, 0, screen.width);
}

std::string padded(const std::string& text, std::size_t width, bool right) {
  const std::size_t own = width_of(text);
  const std::string fill(width > own ? width - own : 0, ' ');
  return right ? fill + text : text + fill;
}

void append(std::string& out, const TableBlock& t, const Screen& screen) {
  if (t.rows.empty()) return;
  std::vector<std::size_t> widths;
  for (std::size_t c = 0; c < t.heads.size(); ++c) {
    widths.push_back(width_of(t.heads[c]));
    for (const auto& row : t.rows) widths[c] = std::max(widths[c], width_of(row[c]));
  }
  out += "\n" + painted(t.title, "1", screen) + "\n";
  const auto line = [&](const std::vector<std::string>& cells) {
    std::string text = " ";
    for (std::size_t c = 0; c < cells.size(); ++c)
      text += " " + padded(cells[c], widths[c], t.numbers[c]) + (c + 1 < cells.size() ? " " : "");
    text.erase(text.find_last_not_of(' ') + 1);
    out += text + "\n";
  };
  line(t.heads);
  for (const auto& row : t.rows) line(row);
}

void append_working(std::string& out, const Working& working, const Screen& screen) {
  for (const Step& step : working) {
    out += wrapped("      ", step_line(step), 10, screen.width);
    const std::string what = step_meaning(step);
    if (!what.empty()) out += wrapped("        ", what, 8, screen.width);
  }
}

void append(std::string& out, const WorkingBlock& block, const Screen& screen) {
  out += "\n";
  append_working(out, block.working, screen);
}

void append(std::string& out, const FindingsBlock& block, const Screen& screen) {
  for (const Finding& f : block.findings) {
    out += "\n" + label(f.verdict, screen) + "  " + std::string(f.rule) + ": " + f.subject + "\n";
    out += wrapped("    ", f.message + (f.in_case.empty() ? "" : " [" + f.in_case + "]"), 4,
                   screen.width);
    if (!f.cure.empty()) out += wrapped("    cure: ", f.cure, 10, screen.width);
    if (block.with_working) append_working(out, f.working, screen);
    out += wrapped("    source: ",
                   source_line(f.source) + (f.place.file.empty() ? "" : "; " + place_text(f.place)),
                   12, screen.width);
  }
}

/// What an idle run "carries" is the last digit of the solution; it is shown as nothing.
Number without_noise(Number n) {
  if (std::abs(n.si) < 1e-9) n.si = 0.0;
  return n;
}

void append(std::string& out, const SmallPrint& p, const Screen& screen) {
  out += wrapped("", p.text, 0, screen.width);
}

void append(std::string& out, const VerdictLine& line, const Screen& screen) {
  out += "\n" + label(line.verdict, screen) + "  " + line.text + "\n";
}

void append(std::string& out, const Facts& block, const Screen& screen) {
  for (const auto& fact : block.facts)
    out +=
        wrapped("  ", fact.name + ": " + fact.value + (fact.note.empty() ? "" : ", " + fact.note),
                4, screen.width);
}

void append(std::string& out, const Figure& figure, const Screen& screen) {
  append(out, figure.numbers, screen);
}

void append(std::string& out, const Folded& folded, const Screen& screen) {
  out += "\n" + wrapped("", folded.title, 0, screen.width);
  for (const Block& block : folded.blocks)
    std::visit([&](const auto& one) { append(out, one, screen); }, block);
}

}  // namespace

std::string step_line(const Step& step) {
  std::string line = std::string(step.formula.symbol) + " = ";
  if (step.how == Step::How::formula) line += std::string(step.formula.text) + " = ";
  if (step.how != Step::How::given) line += with_numbers(step) + " = ";
  return line + (step.formula.unit.empty()
                     ? print(step.value, 4)
                     : print_plain(step.value.si, 4) + " " + std::string(step.formula.unit));
}

std::string step_meaning(const Step& step) {
  std::string what(step.formula.meaning);
  if (!step.formula.source.title.empty()) what += "; " + source_line(step.formula.source);
  return what;
}

std::string place_text(const Place& place) {
  return place.line == 0
             ? place.file
             : place.file + ":" + std::to_string(place.line) + ":" + std::to_string(place.column);
}

std::string source_line(const Source& s) {
  return std::string(s.title) + (s.where.empty() ? "" : ", " + std::string(s.where)) + " (" +
         std::string(word_of(s.kind)) + ")";
}

std::string text(const Page& page, const Screen& screen) {
  std::string out = wrapped("", page.title, 0, screen.width);
  bool table_before = false;
  for (const Block& block : page.blocks) {
    const auto* figure = std::get_if<Figure>(&block);
    if (figure && figure->numbers.rows.empty()) continue;
    if (table_before && std::holds_alternative<Paragraph>(block)) out += "\n";
    std::visit([&](const auto& one) { append(out, one, screen); }, block);
    table_before = std::holds_alternative<TableBlock>(block);
  }
  out += "\n";
  return out + wrapped("", std::string(safety_note()), 0, screen.width);
}

TableBlock table_block(std::string title, std::span<const Column> columns, std::size_t rows,
                       const void* (*row)(const void*, std::size_t), const void* list) {
  TableBlock table{std::move(title), {}, {}, {}};
  std::vector<bool> is_number(columns.size(), false);
  for (std::size_t i = 0; i < rows; ++i) {
    std::vector<std::string> cells;
    for (std::size_t c = 0; c < columns.size(); ++c) {
      const Cell cell = columns[c].cell(row(list, i));
      const auto* number = std::get_if<Number>(&cell);
      const auto* bare = std::get_if<double>(&cell);
      const auto* words_ = std::get_if<std::string>(&cell);
      is_number[c] = is_number[c] || number || bare;
      // A share reads as "2.5 %"; other figures leave their unit to the head.
      const bool share = number && number->kind == Kind{};
      cells.push_back(share    ? print(without_noise(*number), 2)
                      : number ? print_in(without_noise(*number), columns[c].unit)
                      : bare   ? print_plain(*bare, *bare == std::floor(*bare) ? 15 : 3)
                      : words_ ? *words_
                               : "");
      if (number && !share && !columns[c].unit.symbol.empty()) {
        std::string& text = cells.back();
        const std::string unit = " " + std::string(columns[c].unit.symbol);
        if (text.size() > unit.size() && text.ends_with(unit))
          text.resize(text.size() - unit.size());
      }
    }
    table.rows.push_back(std::move(cells));
  }
  for (std::size_t c = 0; c < columns.size(); ++c) {
    const bool in_head =
        is_number[c] && !columns[c].unit.symbol.empty() && columns[c].unit.symbol != "%";
    table.heads.push_back(std::string(columns[c].title) +
                          (in_head ? ", " + std::string(columns[c].unit.symbol) : ""));
    table.numbers.push_back(is_number[c]);
  }
  return table;
}

std::string_view safety_note() {
  return "This result is a calculation, not an approval. Lithium banks can drive thousands of "
         "amperes: have the final "
         "design and the work done by a licensed electrician, under the rules that hold where the "
         "vehicle is built and used. "
         "See SAFETY.md.";
}

}  // namespace housepower::report

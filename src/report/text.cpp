// SPDX-License-Identifier: Apache-2.0
// A Page as plain text: wrapped to the screen, figures aligned, colour only beside words.
#include <algorithm>
#include <cmath>

#include "housepower/reading/shown.hpp"
#include "json.hpp"
#include "text_layout.hpp"

namespace housepower::report {
namespace {

using checks::Finding;
using checks::Verdict;

std::string label(Verdict v, const Screen& screen) {
  const char* code = v == Verdict::fail      ? "1;31"
                     : v == Verdict::caution ? "1;33"
                     : v == Verdict::pass    ? "32"
                                             : "2";
  return painted(std::string(checks::word_of(v)), code, screen);
}

void append(std::string& out, const Heading& h, const Screen& screen) {
  std::string text = wrapped("", h.text, 0, line_width(screen));
  text.pop_back();
  const auto most = static_cast<std::size_t>(line_width(screen));
  out += "\n" + painted(text, "1", screen) + "\n" +
         std::string(std::min(shown_width(h.text), most), '=') + "\n";
}
void append(std::string& out, const Paragraph& p, const Screen& screen) {
  out += wrapped("", p.text, 0, line_width(screen));
}

void append(std::string& out, const TableBlock& t, const Screen& screen) {
  append_table(out, t, screen);
}

void append_working(std::string& out, const Working& working, const Screen& screen) {
  for (const Step& step : working) {
    out += wrapped("      ", step_line(step), 10, line_width(screen));
    const std::string what = step_meaning(step);
    if (!what.empty()) out += wrapped("        ", what, 8, line_width(screen));
  }
}

void append(std::string& out, const WorkingBlock& block, const Screen& screen) {
  out += "\n";
  append_working(out, block.working, screen);
}

void append(std::string& out, const FindingsBlock& block, const Screen& screen) {
  for (const Finding& f : block.findings) {
    const std::string word(checks::word_of(f.verdict));
    const std::string rule =
        wrapped(word + "  ", std::string(f.rule) + ": " + f.subject, 4, line_width(screen));
    out += "\n" + label(f.verdict, screen) + rule.substr(word.size());
    out += wrapped("    ", f.message + (f.in_case.empty() ? "" : " [" + f.in_case + "]"), 4,
                   line_width(screen));
    if (!f.cure.empty()) out += wrapped("    cure: ", f.cure, 10, line_width(screen));
    if (block.with_working) append_working(out, f.working, screen);
    out += wrapped("    source: ",
                   source_line(f.source) + (f.place.file.empty() ? "" : "; " + place_text(f.place)),
                   12, line_width(screen));
  }
}

/// What an idle run "carries" is the last digit of the solution; it is shown as nothing.
Number without_noise(Number n) {
  if (std::abs(n.si) < 1e-9) n.si = 0.0;
  return n;
}

void append(std::string& out, const SmallPrint& p, const Screen& screen) {
  out += wrapped("", p.text, 0, line_width(screen));
}

void append(std::string& out, const VerdictLine& line, const Screen& screen) {
  out += "\n" + label(line.verdict, screen) + "  " + line.text + "\n";
}

void append(std::string& out, const Facts& block, const Screen& screen) {
  for (const auto& fact : block.facts)
    out +=
        wrapped("  ", fact.name + ": " + fact.value + (fact.note.empty() ? "" : ", " + fact.note),
                4, line_width(screen));
}

void append(std::string& out, const Figure& figure, const Screen& screen) {
  append(out, figure.numbers, screen);
}

void append(std::string& out, const Folded& folded, const Screen& screen) {
  out += "\n" + wrapped("", folded.title, 0, line_width(screen));
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
  std::string out = wrapped("", page.title, 0, line_width(screen));
  bool table_before = false;
  for (const Block& block : page.blocks) {
    const auto* figure = std::get_if<Figure>(&block);
    if (figure && figure->numbers.rows.empty()) continue;
    if (table_before && std::holds_alternative<Paragraph>(block)) out += "\n";
    std::visit([&](const auto& one) { append(out, one, screen); }, block);
    table_before = std::holds_alternative<TableBlock>(block);
  }
  out += "\n";
  return out + wrapped("", std::string(safety_note()), 0, line_width(screen));
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

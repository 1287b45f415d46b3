// SPDX-License-Identifier: Apache-2.0
// A Page as plain text: wrapped to the screen, figures aligned, colour only beside words.
#include <algorithm>

#include "housepower/page/words.hpp"
#include "housepower/reading/shown.hpp"
#include "text_layout.hpp"

namespace housepower::page {
namespace {

std::string label(Verdict v, const Screen& screen) {
  const char* code = v == Verdict::fail      ? "1;31"
                     : v == Verdict::caution ? "1;33"
                     : v == Verdict::pass    ? "32"
                                             : "2";
  return painted(std::string(word_of(v)), code, screen);
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

void append(std::string& out, const JudgementsBlock& block, const Screen& screen) {
  for (const Judgement& f : block.judgements) {
    const std::string word(word_of(f.verdict));
    const std::string rule = wrapped(word + "  ", f.rule + ": " + f.subject, 4, line_width(screen));
    out += "\n" + label(f.verdict, screen) + rule.substr(word.size());
    out += wrapped("    ", f.message + (f.in_case.empty() ? "" : " [" + f.in_case + "]"), 4,
                   line_width(screen));
    if (!f.cure.empty()) out += wrapped("    fix: ", f.cure, 9, line_width(screen));
    if (!f.alike.empty()) out += wrapped("    also: ", f.alike, 10, line_width(screen));
    if (block.with_working) append_working(out, f.working, screen);
    if (!block.with_source) continue;
    out += wrapped("    source: ", f.source + (f.place.empty() ? "" : "; " + f.place), 12,
                   line_width(screen));
  }
}

void append(std::string& out, const JudgementLines& block, const Screen& screen) {
  if (!block.lines.empty()) out += "\n";
  for (const auto& line : block.lines) {
    const std::string word(word_of(line.verdict));
    const auto room = static_cast<std::size_t>(line_width(screen)) - word.size() - 2;
    out += label(line.verdict, screen) + "  " + shortened(line.text, room) + "\n";
  }
}

void append(std::string& out, const SmallPrint& p, const Screen& screen) {
  out += wrapped("", p.text, 0, line_width(screen));
}

void append(std::string& out, const VerdictLine& line, const Screen& screen) {
  const std::string word(word_of(line.verdict));
  const std::string text = wrapped(word + "  ", line.text, word.size() + 2, line_width(screen));
  out += "\n" + label(line.verdict, screen) + text.substr(word.size());
}

void append(std::string& out, const Facts& block, const Screen& screen) {
  std::size_t widest = 0;
  for (const auto& fact : block.facts) widest = std::max(widest, shown_width(fact.name));
  out += "\n";
  for (const auto& fact : block.facts) {
    const std::string space(widest - shown_width(fact.name) + 2, ' ');
    out +=
        wrapped("  " + fact.name + space, fact.value + (fact.note.empty() ? "" : ", " + fact.note),
                widest + 4, line_width(screen));
  }
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

std::string text(const Page& page, const Screen& screen) {
  std::string out = wrapped("", page.title, 0, line_width(screen));
  bool apart = false;
  for (const Block& block : page.blocks) {
    const auto* figure = std::get_if<Figure>(&block);
    if (figure && figure->numbers.rows.empty()) continue;
    if (apart && std::holds_alternative<Paragraph>(block)) out += "\n";
    std::visit([&](const auto& one) { append(out, one, screen); }, block);
    apart = std::holds_alternative<TableBlock>(block) || std::holds_alternative<Facts>(block);
  }
  out += "\n";
  return out + wrapped("", std::string(safety_note()), 0, line_width(screen));
}

std::string_view safety_note() {
  return "This result is a calculation, not an approval. Lithium banks can drive thousands of "
         "amperes: have the final "
         "design and the work done by a licensed electrician, under the rules that hold where the "
         "vehicle is built and used. "
         "See SAFETY.md.";
}

}  // namespace housepower::page

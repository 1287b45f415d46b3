// SPDX-License-Identifier: Apache-2.0
// The drawing of a laid-out diagram.
#include <algorithm>

#include "piece.hpp"
#include "symbols.hpp"

namespace housepower::diagram {
namespace {

using checks::Verdict;
using LineKind = DiagramLine::Kind;
using Role = DiagramLabel::Role;

/// A part that fails is heavy, one with a caution double as heavy as usual, one not checked as
/// usual: its flag tells.
Svg::Stroke stroke_of(const DiagramLine& line) {
  const bool fails = line.verdict == Verdict::fail, caution = line.verdict == Verdict::caution;
  const double weight = fails ? 3.0 : caution ? 1.8 : 1.0;
  const Ink ink = fails ? Ink::alarm : Ink::plain;
  switch (line.kind) {
  case LineKind::bar: return {ink, fails ? 5.0 : 3.2, {}};
  case LineKind::return_: return {ink, weight, "5 3"};
  case LineKind::frame: return {Ink::quiet, 0.6, {}};
  case LineKind::conductor:
  case LineKind::joint:
  case LineKind::link: break;
  }
  return {ink, weight, {}};
}

/// Before its word: filled for a fail, a triangle for a caution, an open box for what is not
/// checked.
void draw_flag(Svg& svg, const DiagramLabel& l) {
  const double x = l.box.x + 1.0, top = l.box.y + 1.0, low = l.box.bottom() - 1.0;
  if (l.verdict == Verdict::fail) {
    svg.box({x - 1.0, l.box.y, l.box.width, l.box.height}, Ink::alarm);
    svg.line({{x + 2.0, top + 1.5}, {x + 7.0, low - 1.5}}, {Ink::paper, 1.4, {}});
    svg.line({{x + 2.0, low - 1.5}, {x + 7.0, top + 1.5}}, {Ink::paper, 1.4, {}});
  } else if (l.verdict == Verdict::caution) {
    svg.line({{x, low}, {x + 4.0, top}, {x + 8.0, low}, {x, low}, {x + 4.0, top}},
             {Ink::plain, 1.1, {}});
  } else {
    svg.frame({x, top, 7.0, low - top}, {Ink::plain, 0.9, "1.5 1.5"});
  }
}

/// Which no average width can be relied on for.
bool is_unusual(std::string_view text) {
  for (std::string_view rest = text; !rest.empty(); rest.remove_prefix(1)) {
    const auto byte = static_cast<unsigned char>(rest[0]);
    const bool known = rest.substr(0, 3) == "…" || rest.substr(0, 3) == "→" ||
                       rest.substr(0, 3) == "←" || rest.substr(0, 3) == "–" ||
                       rest.substr(0, 3) == "−";
    if (byte >= 0xD6 && !known) return true;  // from the right-to-left scripts on
  }
  return false;
}

void draw_label(Svg& svg, const DiagramLabel& l) {
  Svg::Text style;
  style.size = size_of(l.role);
  style.bold = is_bold(l.role);
  style.whole = l.whole;
  style.about = l.subject;
  double x = l.box.x;
  if (l.role == Role::flag) {
    draw_flag(svg, l);
    x += 11.0;
    if (l.verdict == Verdict::fail) style.ink = Ink::paper;
  }
  const Point baseline{x, l.box.y + l.box.height * 0.78};
  if (is_unusual(l.text)) return svg.clipped_text(l.box, baseline, l.text, style);
  if (l.at_right && l.role != Role::flag) {
    style.anchor = Svg::Text::Anchor::end;
    return svg.text({l.box.right(), baseline.y}, l.text, style);
  }
  svg.text(baseline, l.text, style);
}

/// Some piece of an upright or level line lies in the box.
bool crosses(const DiagramLine& line, const Box& box) {
  for (std::size_t i = 1; i < line.points.size(); ++i) {
    const Point a = line.points[i - 1], b = line.points[i];
    const Box way{std::min(a.x, b.x) - 0.1, std::min(a.y, b.y) - 0.1, std::abs(a.x - b.x) + 0.2,
                  std::abs(a.y - b.y) + 0.2};
    if (overlap(way, box)) return true;
  }
  return false;
}

void draw(Svg& svg, const DiagramSheet& sheet) {
  std::vector<const DiagramLine*> links;
  for (const auto& line : sheet.lines) {
    svg.line(line.points, stroke_of(line));
    if (line.kind == LineKind::link || line.kind == LineKind::return_) links.push_back(&line);
  }
  for (const auto& label : sheet.labels)  // a link passes behind a text
    for (const auto* line : links)
      if (crosses(*line, label.box)) {
        svg.box(label.box, Ink::paper);
        break;
      }
  for (const auto& symbol : sheet.symbols) draw_symbol(svg, symbol);
  for (const auto& label : sheet.labels) draw_label(svg, label);
}

Svg::Page page_of(const Diagram& d, std::size_t sheets) {
  Svg::Page page;
  page.id = "diagram";
  page.width = d.width, page.height = d.height * double(sheets);
  const double millimetres = 25.4 / 72.0 * d.enlarged;
  page.wide = fixed(page.width * millimetres) + "mm";
  page.high = fixed(page.height * millimetres) + "mm";
  page.title = d.title, page.says = d.says;
  return page;
}

}  // namespace

std::string svg(const Diagram& d, SvgFor purpose) {
  Svg out;
  for (std::size_t i = 0; i < d.sheets.size(); ++i) {
    if (i > 0) out.moved({0.0, d.height * double(i)});
    draw(out, d.sheets[i]);
    if (i > 0) out.back();
  }
  return out.finished(page_of(d, d.sheets.size()), purpose);
}

std::string svg(const Diagram& d, std::size_t sheet, SvgFor purpose) {
  Svg out;
  draw(out, d.sheets[sheet]);
  Svg::Page page = page_of(d, 1);
  if (d.sheets.size() > 1) page.id += std::to_string(sheet + 1);
  return out.finished(page, purpose);
}

}  // namespace housepower::diagram

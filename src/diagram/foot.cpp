// SPDX-License-Identifier: Apache-2.0
#include "foot.hpp"

#include <algorithm>
#include <array>

#include "housepower/page/page.hpp"
#include "housepower/units/phrases.hpp"
#include "housepower/version.hpp"
#include "words.hpp"

namespace housepower::diagram {
namespace {

using checks::Verdict;
using Role = DiagramLabel::Role;

constexpr double legend_row = 19.5, block_row = 13.6, block_width = 180.0, column_gap = 14.0,
                 heading_line = 11.0, most_lines = 12.0;

void add_words(DiagramSheet& sheet, Role role, const std::string& text, Box room,
               Verdict verdict = Verdict::pass) {
  auto& l = sheet.labels.emplace_back();
  const double mark = role == Role::flag ? 12.0 : 0.0;
  l.role = role;
  l.text = fitted(text, room.width - mark, size_of(role), is_bold(role));
  if (l.text != text) l.whole = text;
  l.box = room;
  l.box.width = text_width(l.text, size_of(role), is_bold(role)) + mark;
  l.verdict = verdict;
}

void add_frame(DiagramSheet& sheet, std::vector<Point> points) {
  auto& line = sheet.lines.emplace_back();
  line.kind = DiagramLine::Kind::frame;
  line.points = std::move(points);
}

/// A note in as many lines as it takes; returns where the next may begin.
double add_note(DiagramSheet& sheet, const std::string& text, Point at, double width) {
  for (const auto& words : in_lines(text, width, room::text, std::size_t(most_lines))) {
    add_words(sheet, Role::note, words, {at.x, at.y, width, room::line});
    at.y += room::line;
  }
  return at.y;
}

std::string elsewhere_text(const DiagramTree& tree) {
  std::string text;
  for (const auto& rule : tree.elsewhere) text += (text.empty() ? "" : "; ") + rule;
  return "Not about any part that is drawn: " + text;
}

std::set<Symbol> symbols_used(const DiagramTree& tree) {
  std::set<Symbol> used;
  const auto take = [&](const Wire& wire) {
    for (const OnWire& item : wire.items) used.insert(item.symbol);
  };
  for (const auto& place : tree.places) {
    if (place.symbol) used.insert(*place.symbol);
    else if (place.children.empty()) used.insert(Symbol::terminal);
    if (place.fused_batteries) used.insert(Symbol::fuse);
    take(place.wire);
  }
  for (const auto& link : tree.links) take(link.wire);
  return used;
}

std::set<Verdict> verdicts_used(const DiagramTree& tree) {
  std::set<Verdict> used;
  const auto take = [&](const std::vector<Flag>& flags) {
    for (const Flag& f : flags) used.insert(f.verdict);
  };
  for (const auto& place : tree.places) take(place.flags), take(place.wire.flags);
  for (const auto& link : tree.links) take(link.wire.flags);
  return used;
}

}  // namespace

std::string case_text(const CheckedDesign& c, const wiring::CaseResult* in) {
  if (!in) return "No case has an operating point: voltages and currents are not shown.";
  std::string text = "Voltages, and currents in brackets: case " + quoted_once(in->load_case.name);
  if (!in->solved()) return text + ", which has no operating point: none are shown.";
  if (c.design->bank)
    text += ", the bank at " + print(Number(in->load_case.charge), 2) + " and " +
            print(Number(in->load_case.temperature), 3);
  return text + "; arrows show which way the current flows.";
}

Foot::Foot(const DiagramTree& tree, const CheckedDesign& c, const wiring::CaseResult* in)
    : name_(c.design->name), verdicts_text_(answers::verdicts_of(c.checked)),
      made_with_("housepower " + std::string(housepower::version()) + ", inputs " +
                 c.inputs_digest),
      symbols_(symbols_used(tree)), verdicts_(verdicts_used(tree)), block_(c.design->drawing) {
  notes_ = {
      case_text(c, in),
      "Before the brackets: design current (I_B), the largest steady current of the conductor.",
      "Lengths are one way; both poles alike unless a return is named."};
  if (!c.design->bond) notes_.emplace_back("No bond of the negative to the chassis is stated.");
  if (!tree.elsewhere.empty()) notes_.push_back(elsewhere_text(tree));
}

double Foot::draw_legend(DiagramSheet& sheet, Point at, double width) const {
  double x = at.x, y = at.y;
  for (const Symbol s : symbols_) {
    const auto [wide, high] = size_of(s);
    const std::string name(name_of(s));
    const double takes = wide + 4.0 + text_width(name, room::text) + 14.0;
    if (x > at.x && x + takes > at.x + width) x = at.x, y += legend_row;
    sheet.symbols.push_back({s, {x, y + (legend_row - high) / 2.0, wide, high}});
    add_words(sheet, Role::note, name,
              {x + wide + 4.0, y + (legend_row - room::line) / 2.0, takes, room::line});
    x += takes;
  }
  return symbols_.empty() ? y : y + legend_row;
}

double Foot::draw_left(DiagramSheet& sheet, const std::string& title, Point at,
                       double width) const {
  const std::string both = name_ + ": " + verdicts_text_;
  const bool on_one = text_width(both, size_of(Role::heading), true) <= width;
  add_words(sheet, Role::heading, on_one ? both : name_, {at.x, at.y, width, heading_line});
  at.y += heading_line;
  if (!on_one) {
    add_words(sheet, Role::name, verdicts_text_, {at.x, at.y, width, room::line});
    at.y += room::line;
  }
  at.y = add_note(sheet, title + "; " + made_with_, at, width);
  return add_note(sheet, std::string(safety_note()), at, width);
}

double Foot::draw_verdicts(DiagramSheet& sheet, Point at, double width) const {
  double x = at.x, y = at.y;
  for (const Verdict v : verdicts_) {
    const std::string text = std::string(word_of(v)) + ": rule";
    const double takes = text_width(text, room::text, true) + 26.0;
    if (x > at.x && x + takes > at.x + width) x = at.x, y += room::line + 2.0;
    add_words(sheet, Role::flag, text, {x, y + 1.0, takes, room::line}, v);
    x += takes;
  }
  return verdicts_.empty() ? y : y + room::line + 2.0;
}

double Foot::draw_middle(DiagramSheet& sheet, Point at, double width) const {
  for (const auto& note : notes_) at.y = add_note(sheet, note, at, width);
  return draw_verdicts(sheet, at, width);
}

void Foot::draw_block(DiagramSheet& sheet, Box b) const {
  const double half = b.x + b.width * 0.6;
  const auto cell = [&](const char* caption, const std::optional<std::string>& value, double x,
                        double row, double end) {
    const double y = b.y + block_row * row, top = y + (block_row - room::line) / 2.0;
    add_frame(sheet, {{x, y}, {end, y}, {end, y + block_row}, {x, y + block_row}, {x, y}});
    add_words(sheet, Role::note, caption, {x + 4.0, top, end - x - 8.0, room::line});
    const double from = x + 4.0 + text_width(caption, room::text) + 5.0;
    if (value) add_words(sheet, Role::name, *value, {from, top, end - from - 3.0, room::line});
  };
  cell("Drawing", block_.number, b.x, 0.0, half);
  cell("Rev.", block_.revision, half, 0.0, b.right());
  cell("Date", block_.date, b.x, 1.0, b.right());
  cell("Drawn by", block_.drawn_by, b.x, 2.0, b.right());
  cell("Checked by", block_.checked_by, b.x, 3.0, b.right());
}

double Foot::draw_all(DiagramSheet& sheet, const std::string& title, Point at, double width) const {
  const double column = (width - block_width - 2.0 * column_gap) / 2.0;
  const double low = draw_legend(sheet, at, width) + 4.0;
  add_frame(sheet, {{at.x, low - 2.0}, {at.x + width, low - 2.0}});
  const double left = draw_left(sheet, title, {at.x, low}, column);
  const double middle = draw_middle(sheet, {at.x + column + column_gap, low + 1.0}, column);
  draw_block(sheet, {at.x + width - block_width, low + 2.0, block_width, 4.0 * block_row});
  return std::max({left, middle, low + 2.0 + 4.0 * block_row}) - at.y;
}

double Foot::height(double width) const {
  DiagramSheet none;
  return draw_all(none, "Single-line diagram, sheet 10 of 10, A3", {}, width);
}

void Foot::draw(DiagramSheet& sheet, const std::string& title, Point at, double width) const {
  draw_all(sheet, title, at, width);
}

}  // namespace housepower::diagram

// SPDX-License-Identifier: Apache-2.0
// From the tree to sheets of paper: the smallest that holds it whole, or pieces side by side on A3,
// each panel that does not fit a piece of its own; and at the foot of each what it is and what its
// signs mean.
#include <algorithm>
#include <cmath>

#include "housepower/page/page.hpp"
#include "housepower/version.hpp"
#include "piece.hpp"

namespace housepower::diagram {
namespace {

using checks::Verdict;
using Role = DiagramLabel::Role;

struct Paper {
  std::string_view name;
  double width, height;  // landscape, points
};
constexpr Paper a4{"A4", 841.9, 595.3}, a3{"A3", 1190.6, 841.9};  // ISO 216
constexpr double sheet_margin = 28.0, foot = 68.0, between_pieces = 22.0, most_enlarged = 1.35;

double inner_width(const Paper& p) { return p.width - 2.0 * sheet_margin; }
double inner_height(const Paper& p) { return p.height - 2.0 * sheet_margin - foot; }

struct Placed {
  Piece piece;
  std::size_t sheet = 0;
  Point at{};
};

// ---- Pieces ----

void own(const DiagramTree& tree, Parts& parts, int place, int piece) {
  std::vector<int> next{place};
  while (!next.empty()) {
    const int at = next.back();
    next.pop_back();
    parts.of_place[std::size_t(at)] = piece;
    for (const int child : tree.places[std::size_t(at)].children)
      if (std::none_of(parts.pieces.begin(), parts.pieces.end(),
                       [&](const PieceOf& p) { return p.root == child; }))
        next.push_back(child);
  }
}

Parts whole(const DiagramTree& tree) {
  Parts parts;
  parts.of_place.assign(tree.places.size(), 0);
  for (const int root : tree.roots) parts.pieces.emplace_back().root = root;
  for (std::size_t i = 0; i < parts.pieces.size(); ++i)
    own(tree, parts, parts.pieces[i].root, int(i));
  return parts;
}

void head_parts(Parts& parts) {
  for (std::size_t i = 1; i < parts.pieces.size(); ++i)
    parts.pieces[i].heading = "part " + std::to_string(i + 1);
}

void cut(const DiagramTree& tree, Parts& parts, int place) {
  parts.pieces.emplace_back().root = place;
  own(tree, parts, place, int(parts.pieces.size()) - 1);
  head_parts(parts);
}

/// More circuits on one place than a sheet has rows: the piece is continued in another.
bool go_on(const DiagramTree& tree, Parts& parts, std::size_t i, double share) {
  const auto& children = tree.places[std::size_t(parts.pieces[i].root)].children;
  PieceOf rest = parts.pieces[i];
  rest.to = std::min(rest.to, children.size());
  const std::size_t all = rest.to - rest.from, fit = std::size_t(double(all) * share);
  if (fit < 1 || fit >= all) return false;
  parts.pieces[i].to = rest.from = rest.from + fit;
  parts.pieces.push_back(rest);
  for (std::size_t k = rest.from; k < rest.to; ++k)
    if (parts.of_place[std::size_t(children[k])] == int(i))
      own(tree, parts, children[k], int(parts.pieces.size()) - 1);
  head_parts(parts);
  return true;
}

/// The place whose subtree is best drawn as a piece of its own; −1 where there is none.
int best_cut(const Piece& piece, double width, double height) {
  const Piece::Inner* best = nullptr;
  if (piece.width > width) {
    std::size_t deepest = 1;  // the last rank that still leaves room for names
    while (deepest + 1 < piece.ranks.size() && piece.ranks[deepest].beyond + 190.0 < width)
      ++deepest;
    for (const auto& inner : piece.inner)
      if (inner.depth <= int(deepest) && (!best || inner.depth > best->depth)) best = &inner;
  } else {
    for (const auto& inner : piece.inner)
      if (inner.height <= height && (!best || inner.height > best->height)) best = &inner;
    for (const auto& inner : piece.inner)
      if (!best || (best->height > height && inner.height > best->height)) best = &inner;
  }
  return best ? best->place : -1;
}

std::vector<Placed> laid_out_pieces(const DiagramTree& tree, const Parts& parts) {
  std::vector<Placed> pieces;
  for (std::size_t i = 0; i < parts.pieces.size(); ++i)
    pieces.emplace_back().piece = laid_out(tree, parts, i);
  return pieces;
}

/// Numbered in the order in which the tree meets them.
void number_pieces(const DiagramTree& tree, Parts& parts) {
  std::vector<int> met(tree.places.size(), 0), next(tree.roots.rbegin(), tree.roots.rend());
  for (int number = 0; !next.empty(); ++number) {
    const int at = next.back();
    next.pop_back();
    met[std::size_t(at)] = number;
    const auto& children = tree.places[std::size_t(at)].children;
    next.insert(next.end(), children.rbegin(), children.rend());
  }
  std::vector<std::size_t> order(parts.pieces.size()), now(order);
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    const PieceOf &one = parts.pieces[a], &other = parts.pieces[b];
    const int first = met[std::size_t(one.root)], second = met[std::size_t(other.root)];
    return first != second ? first < second : one.from < other.from;
  });
  std::vector<PieceOf> sorted;
  for (std::size_t i = 0; i < order.size(); ++i)
    now[order[i]] = i, sorted.push_back(parts.pieces[order[i]]);
  parts.pieces = std::move(sorted);
  for (int& piece : parts.of_place) piece = int(now[std::size_t(piece)]);
  head_parts(parts);
}

/// Cuts until every piece fits the paper, as far as it can be.
Parts in_pieces(const DiagramTree& tree, bool low_rows, double width, double height) {
  Parts parts = whole(tree);
  parts.low_rows = low_rows;
  for (std::size_t i = 0; i < parts.pieces.size(); ++i)
    while (true) {
      const Piece piece = laid_out(tree, parts, i);
      if (piece.width <= width && piece.height <= height) break;
      const int place = best_cut(piece, width, height);
      if (place >= 0) cut(tree, parts, place);
      else if (piece.height <= height || !go_on(tree, parts, i, 0.95 * height / piece.height))
        break;
    }
  number_pieces(tree, parts);
  return parts;
}

// ---- Packing ----

bool is_free(const std::vector<Placed>& placed, std::size_t count, std::size_t sheet,
             const Box& box) {
  for (std::size_t i = 0; i < count; ++i)
    if (placed[i].sheet == sheet &&
        overlap(box, {placed[i].at.x, placed[i].at.y, placed[i].piece.width + between_pieces,
                      placed[i].piece.height + between_pieces}))
      return false;
  return true;
}

/// The place farthest left, then highest, among the corners that what is placed leaves.
bool put(std::vector<Placed>& pieces, std::size_t i, std::size_t sheet, double width,
         double height) {
  std::vector<double> xs{0.0}, ys{0.0};
  for (std::size_t k = 0; k < i; ++k)
    if (pieces[k].sheet == sheet) {
      xs.push_back(pieces[k].at.x + pieces[k].piece.width + between_pieces);
      ys.push_back(pieces[k].at.y + pieces[k].piece.height + between_pieces);
    }
  std::sort(xs.begin(), xs.end());
  std::sort(ys.begin(), ys.end());
  const Piece& piece = pieces[i].piece;
  for (const double x : xs)
    for (const double y : ys) {
      if (x > 0.0 && x + piece.width > width) continue;
      if (y > 0.0 && y + piece.height > height) continue;
      const Box box{x, y, piece.width + between_pieces, piece.height + between_pieces};
      if (!is_free(pieces, i, sheet, box)) continue;
      pieces[i].sheet = sheet, pieces[i].at = {x, y};
      return true;
    }
  return false;
}

std::size_t fill_sheets(std::vector<Placed>& pieces, double width, double height) {
  std::size_t sheets = 1;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    bool done = false;
    for (std::size_t s = 0; s < sheets && !done; ++s) done = put(pieces, i, s, width, height);
    if (!done) put(pieces, i, sheets++, width, height);
  }
  return sheets;
}

Point extent(const std::vector<Placed>& pieces) {
  Point most;
  for (const auto& p : pieces) {
    most.x = std::max(most.x, p.at.x + p.piece.width);
    most.y = std::max(most.y, p.at.y + p.piece.height);
  }
  return most;
}

void put_on_sheet(DiagramSheet& sheet, const Placed& placed, Point by) {
  by.x += placed.at.x, by.y += placed.at.y;
  for (auto line : placed.piece.drawn.lines) {
    for (auto& p : line.points) p.x += by.x, p.y += by.y;
    sheet.lines.push_back(std::move(line));
  }
  for (auto symbol : placed.piece.drawn.symbols) {
    symbol.box.x += by.x, symbol.box.y += by.y;
    sheet.symbols.push_back(symbol);
  }
  for (auto label : placed.piece.drawn.labels) {
    label.box.x += by.x, label.box.y += by.y;
    sheet.labels.push_back(std::move(label));
  }
}

// ---- The foot of a sheet ----

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

std::string case_text(const CheckedDesign& c, const wiring::CaseResult* in) {
  if (!in) return "No case has an operating point: voltages and currents are not shown.";
  std::string name = in->load_case.name;
  if (name.find('"') == std::string::npos) name = "\"" + name + "\"";
  std::string text = "Voltages and currents: case " + name;
  if (!in->solved()) return text + ", which has no operating point: none are shown.";
  if (!c.design->bank) return text + "; arrows show which way the current flows.";
  text += ", the bank at " + print(Number(in->load_case.charge), 2) + " and " +
          print(Number(in->load_case.temperature), 3);
  return text + "; arrows show which way the current flows.";
}

std::string elsewhere_text(const DiagramTree& tree) {
  if (tree.elsewhere.empty()) return {};
  std::string text = "Not of one part that is drawn: ";
  for (const auto& rule : tree.elsewhere)
    text += (&rule == &tree.elsewhere.front() ? "" : "; ") + rule;
  return text;
}

void add_foot(DiagramSheet& sheet, const DiagramTree& tree, const CheckedDesign& c,
              const wiring::CaseResult* in, const Diagram& diagram, std::size_t number) {
  const double width = diagram.width - 2.0 * sheet_margin,
               top = diagram.height - sheet_margin - foot + 8.0;
  auto& rule = sheet.lines.emplace_back();
  rule.kind = DiagramLine::Kind::frame;
  rule.points = {{sheet_margin, top - 4.0}, {sheet_margin + width, top - 4.0}};
  const double half = width * 0.5 - 5.0, right = sheet_margin + half + 10.0;
  const std::string name = c.design->name + ": " + answers::verdicts_of(c.checked);
  add_words(sheet, Role::heading, name, {sheet_margin, top, half, 11.0});
  const std::string sheets =
      diagram.sheets.size() > 1
          ? ", sheet " + std::to_string(number + 1) + " of " + std::to_string(diagram.sheets.size())
          : "";
  add_words(sheet, Role::note,
            "Single-line diagram" + sheets + ", " + diagram.paper + "; housepower " +
                std::string(housepower::version()) + "; inputs " + c.inputs_digest,
            {sheet_margin, top + 11.0, half, room::line});
  const auto safety = in_lines(safety_note(), half, room::text, 4);
  for (std::size_t i = 0; i < safety.size(); ++i)
    add_words(sheet, Role::note, safety[i],
              {sheet_margin, top + 11.0 + room::line * double(i + 1), half, room::line});
  double y = top + 1.0;
  const auto tell = [&](const std::string& text, std::size_t most) {
    for (const auto& words : in_lines(text, half, room::text, most)) {
      add_words(sheet, Role::note, words, {right, y, half, room::line});
      y += room::line;
    }
  };
  tell(case_text(c, in), 2);
  tell("Lengths are one way; both poles alike unless a return is named.", 1);
  tell(elsewhere_text(tree), 2);
  double x = right;
  for (const Verdict v : {Verdict::fail, Verdict::caution, Verdict::not_checked}) {
    const std::string text = std::string(word_of(v)) + ": rule";
    add_words(sheet, Role::flag, text, {x, y + 1.0, 120.0, room::line}, v);
    x += sheet.labels.back().box.width + 14.0;
  }
}

/// The paper, how far enlarged, and the pieces on it.
struct SheetsLayout {
  Paper paper;
  double enlarged = 1.0;
  std::size_t sheets = 1;
  std::vector<Placed> pieces;
};

std::optional<SheetsLayout> whole_on(const DiagramTree& tree, const Paper& paper, bool low_rows) {
  Parts parts = whole(tree);
  parts.low_rows = low_rows;
  SheetsLayout l{paper, 1.0, 1, laid_out_pieces(tree, parts)};
  l.sheets = fill_sheets(l.pieces, inner_width(paper), inner_height(paper));
  const Point size = extent(l.pieces);
  if (l.sheets > 1 || size.x > inner_width(paper) || size.y > inner_height(paper)) return {};
  l.enlarged = std::min({most_enlarged, paper.width / (size.x + 2.0 * sheet_margin),
                         paper.height / (size.y + foot + 2.0 * sheet_margin)});
  return l;
}

SheetsLayout on_paper(const DiagramTree& tree) {
  for (const Paper& paper : {a4, a3}) {
    auto high = whole_on(tree, paper, false), low = whole_on(tree, paper, true);
    if (high && (!low || high->enlarged >= low->enlarged)) return std::move(*high);
    if (low) return std::move(*low);
  }
  std::optional<SheetsLayout> best;
  for (const bool low_rows : {true, false}) {
    SheetsLayout l{a3, 1.0, 1, {}};
    const Parts parts = in_pieces(tree, low_rows, inner_width(a3), inner_height(a3));
    l.pieces = laid_out_pieces(tree, parts);
    l.sheets = fill_sheets(l.pieces, inner_width(a3), inner_height(a3));
    if (!best || l.sheets < best->sheets) best = std::move(l);
  }
  return std::move(*best);
}

}  // namespace

double Diagram::points_of_text() const { return room::text * enlarged; }

const wiring::CaseResult* worst_drop_case(const wiring::Assessment& w) {
  const wiring::CaseResult* worst = nullptr;
  Voltage most{};
  for (const auto& in : w.cases) {
    if (!in.load_case.judged || !in.solved()) continue;
    Voltage drop{};
    for (const auto& consumer : in.consumers)
      if (consumer.unknown.empty()) drop = std::max(drop, consumer.path_drop);
    if (!worst || drop > most) worst = &in, most = drop;
  }
  return worst;
}

Diagram diagram_of(const CheckedDesign& c, const wiring::CaseResult* in) {
  const DiagramTree tree = diagram_tree(c, in);
  const SheetsLayout l = on_paper(tree);
  Diagram d;
  d.title = c.design->name + ": single-line diagram";
  d.says = "The conductors from each source to every load, drawn as one line for both poles: " +
           std::to_string(c.design->runs.size()) + " runs. " + case_text(c, in);
  d.paper = l.paper.name;
  d.enlarged = l.enlarged;
  d.width = l.paper.width / l.enlarged;
  d.height = l.paper.height / l.enlarged;
  for (const auto& placed : l.pieces) {  // what can be cut no further makes its sheet larger
    d.width = std::max(d.width, placed.at.x + placed.piece.width + 2.0 * sheet_margin);
    d.height = std::max(d.height, placed.at.y + placed.piece.height + 2.0 * sheet_margin + foot);
  }
  d.sheets.resize(l.sheets);
  for (const auto& placed : l.pieces)
    put_on_sheet(d.sheets[placed.sheet], placed, {sheet_margin, sheet_margin});
  for (std::size_t i = 0; i < d.sheets.size(); ++i) add_foot(d.sheets[i], tree, c, in, d, i);
  return d;
}

}  // namespace housepower::diagram

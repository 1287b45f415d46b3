// SPDX-License-Identifier: Apache-2.0
// From the tree to sheets of paper: the smallest that holds it whole, or pieces side by side on A3,
// each panel that does not fit a piece of its own.
#include <algorithm>
#include <cmath>

#include "foot.hpp"

namespace housepower::diagram {
namespace {

struct Paper {
  std::string_view name;
  double width, height;  // landscape, points
};
constexpr Paper a4{"A4", 841.9, 595.3}, a3{"A3", 1190.6, 841.9};  // ISO 216
constexpr double sheet_margin = 28.0, between_pieces = 22.0, most_enlarged = 1.35;

/// What the margins and the foot leave.
struct Room {
  double width, height;
};
Room room_on(const Paper& p, const Foot& foot, double enlarged = 1.0) {
  const double width = p.width / enlarged - 2.0 * sheet_margin;
  return {width, p.height / enlarged - 2.0 * sheet_margin - foot.height(width)};
}
bool fits(Point size, const Room& r) { return size.x <= r.width && size.y <= r.height; }

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

/// The paper, how far enlarged, and the pieces on it.
struct SheetsLayout {
  Paper paper;
  double enlarged = 1.0;
  std::size_t sheets = 1;
  std::vector<Placed> pieces;
};

std::optional<SheetsLayout> whole_on(const DiagramTree& tree, const Foot& foot, const Paper& paper,
                                     bool low_rows) {
  Parts parts = whole(tree);
  parts.low_rows = low_rows;
  SheetsLayout l{paper, 1.0, 1, laid_out_pieces(tree, parts)};
  const Room room = room_on(paper, foot);
  l.sheets = fill_sheets(l.pieces, room.width, room.height);
  const Point size = extent(l.pieces);
  if (l.sheets > 1 || !fits(size, room)) return {};
  for (double by = most_enlarged; by > 1.0; by -= 0.01)
    if (fits(size, room_on(paper, foot, by))) {
      l.enlarged = by;
      break;
    }
  return l;
}

SheetsLayout on_paper(const DiagramTree& tree, const Foot& foot) {
  for (const Paper& paper : {a4, a3}) {
    auto high = whole_on(tree, foot, paper, false), low = whole_on(tree, foot, paper, true);
    if (high && (!low || high->enlarged >= low->enlarged)) return std::move(*high);
    if (low) return std::move(*low);
  }
  const Room room = room_on(a3, foot);
  std::optional<SheetsLayout> best;
  for (const bool low_rows : {true, false}) {
    SheetsLayout l{a3, 1.0, 1, {}};
    const Parts parts = in_pieces(tree, low_rows, room.width, room.height);
    l.pieces = laid_out_pieces(tree, parts);
    l.sheets = fill_sheets(l.pieces, room.width, room.height);
    if (!best || l.sheets < best->sheets) best = std::move(l);
  }
  return std::move(*best);
}

/// "Single-line diagram, sheet 1 of 2, A3".
std::string sheet_title(const Diagram& d, std::size_t number) {
  std::string text = "Single-line diagram";
  if (d.sheets.size() > 1)
    text += ", sheet " + std::to_string(number + 1) + " of " + std::to_string(d.sheets.size());
  return text + ", " + d.paper;
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
  const Foot foot(tree, c, in);
  const SheetsLayout l = on_paper(tree, foot);
  Diagram d;
  d.title = c.design->name + ": single-line diagram";
  d.says = "The conductors from each source to every load, drawn as one line for both poles: " +
           std::to_string(c.design->runs.size()) + " runs. " + case_text(c, in);
  d.paper = l.paper.name;
  d.enlarged = l.enlarged;
  d.width = l.paper.width / l.enlarged;
  d.height = l.paper.height / l.enlarged;
  const double low = 2.0 * sheet_margin + foot.height(d.width - 2.0 * sheet_margin);
  for (const auto& placed : l.pieces) {  // what can be cut no further makes its sheet larger
    d.width = std::max(d.width, placed.at.x + placed.piece.width + 2.0 * sheet_margin);
    d.height = std::max(d.height, placed.at.y + placed.piece.height + low);
  }
  d.sheets.resize(l.sheets);
  for (const auto& placed : l.pieces)
    put_on_sheet(d.sheets[placed.sheet], placed, {sheet_margin, sheet_margin});
  const double width = d.width - 2.0 * sheet_margin;
  const Point at{sheet_margin, d.height - sheet_margin - foot.height(width)};
  for (std::size_t i = 0; i < d.sheets.size(); ++i)
    foot.draw(d.sheets[i], sheet_title(d, i), at, width);
  return d;
}

}  // namespace housepower::diagram

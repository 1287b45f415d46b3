// SPDX-License-Identifier: Apache-2.0
#include "piece.hpp"

#include <algorithm>
#include <map>

#include "words.hpp"

namespace housepower::diagram {
namespace {

using checks::Verdict;
using LineKind = DiagramLine::Kind;
using Role = DiagramLabel::Role;
using PlaceShape = PlaceOnDiagram::Shape;

/// A place of the block, or a sign that its conductor goes on in another.
struct Item {
  int place;
  int depth;
  const Wire* wire;  // from the parent; null at the root
  bool onward = false;
  Verdict verdict = Verdict::pass;
  std::vector<Words> words;  // its name and what follows
  std::vector<std::size_t> children{};
  int stubs = 0;  // where links leave
  double above = 0, below = 0;
  double y = 0, top = 0, bottom = 0;
};

class PieceLayout {
public:
  PieceLayout(const DiagramTree& tree, const Parts& parts, std::size_t number)
      : tree_(tree), parts_(parts), number_(number), of_(parts.pieces[number]) {}

  Piece made() {
    add_items();
    find_links();
    measure();
    find_ranks();
    const double bottom = place(0, 0.0);
    draw();
    piece_.height = draw_links(bottom);
    for (const Rank& c : ranks()) piece_.width = std::max({piece_.width, c.beyond, c.right});
    for (const Item& item : items_)
      if (item.wire && !item.children.empty() && !item.onward)
        piece_.inner.push_back({item.place, item.depth, item.bottom - item.top});
      else if (item.children.empty()) ++piece_.leaves;
    return std::move(piece_);
  }

private:
  std::vector<Rank>& ranks() { return piece_.ranks; }
  Rank& rank(const Item& item) { return ranks()[std::size_t(item.depth)]; }
  const PlaceOnDiagram& place_of(const Item& item) const {
    return tree_.places[std::size_t(item.place)];
  }
  bool is_here(int place) const { return parts_.of_place[std::size_t(place)] == int(number_); }
  const std::string& heading(int place) const {
    return parts_.pieces[std::size_t(parts_.of_place[std::size_t(place)])].heading;
  }

  // ---- What belongs to the block ----

  std::size_t add(Item item) {
    const auto depth = std::size_t(item.depth);
    if (ranks().size() <= depth) ranks().resize(depth + 1);
    items_.push_back(std::move(item));
    return items_.size() - 1;
  }

  void add_items() {
    Item root{of_.root, 0, nullptr, false, Verdict::pass, {}};
    const auto& p = tree_.places[std::size_t(of_.root)];
    if (!of_.heading.empty()) {
      root.words.push_back({Role::heading, of_.heading, room::widest_name});
      if (p.parent >= 0)
        root.words.push_back({Role::note,
                              "from " + tree_.places[std::size_t(p.parent)].name +
                                  (p.wire.label.empty() ? "" : ", " + p.wire.label),
                              room::widest_name});
    }
    for (auto& w : words_of(p)) root.words.push_back(std::move(w));
    add(std::move(root));
    for (std::size_t at = 0; at < items_.size(); ++at) add_children(at);
  }

  void add_children(std::size_t at) {
    if (items_[at].onward) return;
    const auto& children = place_of(items_[at]).children;
    const std::size_t end = at == 0 ? std::min(of_.to, children.size()) : children.size();
    for (std::size_t i = at == 0 ? of_.from : 0; i < end; ++i) {
      const int child = children[i];
      const auto& p = tree_.places[std::size_t(child)];
      Item item{child,           items_[at].depth + 1, &p.wire,
                !is_here(child), p.wire.verdict(),     words_of(p)};
      if (item.onward)
        item.words.push_back({Role::note, "see " + heading(child), room::widest_name});
      const auto index = add(std::move(item));
      items_[at].children.push_back(index);
    }
  }

  /// Links with both ends here; of the others, this end goes onward.
  void find_links() {
    std::map<int, std::size_t> item_of;
    for (std::size_t i = of_.from > 0 ? 1 : 0; i < items_.size(); ++i)
      if (!items_[i].onward) item_of.emplace(items_[i].place, i);
    for (const auto& link : tree_.links) {
      const auto a = item_of.find(link.from), b = item_of.find(link.to);
      if (a != item_of.end() && b != item_of.end()) {
        links_.push_back({&link, a->second, b->second});
        for (const auto end : {a->second, b->second}) {
          ++items_[end].stubs;
          ++lanes_[items_[end].depth];
        }
      } else if (a != item_of.end()) {
        go_on(a->second, link, link.to, true);
      } else if (b != item_of.end()) {
        go_on(b->second, link, link.from, false);
      }
    }
  }

  void go_on(std::size_t at, const LinkOnDiagram& link, int to, bool with_wire) {
    static const Wire bare;
    Item item{to,   items_[at].depth + 1, with_wire ? &link.wire : &bare,
              true, link.wire.verdict(),  {}};
    const std::string& name = tree_.places[std::size_t(to)].name;
    item.words.push_back({Role::name, (with_wire ? "to " : "from ") + name, room::widest_name});
    std::string what = link.wire.is_return ? link.wire.figures : link.wire.label;
    if (with_wire) what = "see " + heading(to);
    item.words.push_back({Role::note, std::move(what), room::widest_name});
    const auto index = add(std::move(item));
    items_[at].children.push_back(index);
  }

  // ---- How much room ----

  /// Those with at most one device, so that no long row makes its rank wide.
  bool is_low(const Wire& wire) const { return low_ && wire.items.size() < 2; }
  double width_of(const Wire& wire) const {
    const double slots = slots_width(wire), over = over_width(wire);
    return std::max(is_low(wire) ? slots + over : std::max(slots, over), widest(under(wire))) + 9.0;
  }
  double above(const Wire&) const { return room::half_wire + room::line; }
  double below(const Wire& wire) const {
    const double names = has_names(wire) && !is_low(wire) ? 1.0 : 0.0;
    return room::half_wire + room::line * (names + double(under(wire).size()));
  }
  /// How far the name at an end reaches above its conductor.
  double name_above() const { return low_ ? room::line + 4.2 : room::line; }

  bool is_end(const Item& item) const { return item.wire && item.children.empty(); }

  void measure() {
    for (Item& item : items_) {
      const double lines = room::line * double(item.words.size());
      if (!item.wire) {
        const double all = lines + room::line * 2.2 * double(battery_rows(item)) + 4.0;
        item.above = item.below = std::max(all / 2.0, 11.0);
        if (item.children.empty()) item.below += room::stub * item.stubs;
      } else if (is_end(item)) {
        item.above = std::max({above(*item.wire), name_above(), half_symbol(item)});
        item.below = std::max({below(*item.wire), lines - name_above(), half_symbol(item)}) +
                     room::stub * item.stubs;
      } else {
        item.above = above(*item.wire) + lines + 2.0;
        item.below = std::max(below(*item.wire), half_symbol(item));
      }
    }
  }

  double half_symbol(const Item& item) const {
    const auto& p = place_of(item);
    return p.symbol && !item.onward ? size_of(*p.symbol).height / 2.0 + 1.0 : 0.0;
  }

  std::size_t battery_rows(const Item& item) const {
    const auto& p = place_of(item);
    if (item.wire || p.shape != PlaceShape::bank) return 0;
    return p.batteries.size() > 8 ? 1 : p.batteries.size();
  }

  void find_ranks() {
    std::vector<double> own(ranks().size(), 0), symbols(own), names(own);
    for (const Item& item : items_) {
      const auto d = std::size_t(item.depth);
      const auto& p = place_of(item);
      const double name = widest(item.words), symbol = p.symbol ? size_of(*p.symbol).width : 0.0;
      if (!item.wire) {
        own[d] = std::max(name + 6.0, battery_rows(item) > 0 ? 110.0 : 0.0);
        if (is_device(p) && !item.children.empty()) symbols[d] = std::max(symbols[d], symbol);
        continue;
      }
      own[d] = std::max(own[d], width_of(*item.wire));
      if (is_end(item)) {
        const double sign = item.onward ? size_of(Symbol::onward).width : symbol;
        names[d] = std::max(names[d], sign + 4.0 + name);
      } else {
        own[d] = std::max(own[d], name + 8.0);
        if (is_device(p)) symbols[d] = std::max(symbols[d], symbol);
      }
    }
    double x = 0;
    for (std::size_t d = 0; d < own.size(); ++d) {
      Rank& c = ranks()[d];
      const auto lanes = lanes_.find(int(d));
      c.start = x;
      c.bar = x + own[d];
      first_lane_.push_back(c.bar + symbols[d] + 4.0);
      c.beyond = c.bar + symbols[d] +
                 (lanes == lanes_.end() ? 0.0 : 4.0 + room::lane * double(lanes->second));
      c.right = names[d] > 0.0 ? c.beyond + names[d] : 0.0;
      x = c.beyond;
    }
  }

  void move(std::size_t at, double by) {
    Item& item = items_[at];
    item.y += by, item.top += by, item.bottom += by;
    for (const auto child : item.children) move(child, by);
  }

  /// A panel stands apart from what follows.
  double gap_after(std::size_t at) const {
    return items_[at].children.size() > 1 ? 3.0 * room::gap : room::gap;
  }

  /// Rows from `top` on; returns where the next subtree may begin.
  double place(std::size_t at, double top) {
    double cursor = top;
    for (std::size_t i = 0; i < items_[at].children.size(); ++i)
      cursor = place(items_[at].children[i], cursor) + gap_after(items_[at].children[i]);
    Item& item = items_[at];
    item.top = top;
    if (item.children.empty()) {
      item.y = top + item.above;
      return item.bottom = item.y + item.below;
    }
    cursor -= gap_after(items_[at].children.back());
    item.y = (items_[item.children.front()].y + items_[item.children.back()].y) / 2.0;
    const double lacks = top - (item.y - item.above);
    if (lacks > 0.0) {
      for (const auto child : item.children) move(child, lacks);
      item.y += lacks, cursor += lacks;
    }
    return item.bottom = std::max(cursor, item.y + item.below) + room::stub * double(item.stubs);
  }

  // ---- Drawing ----

  void line(LineKind kind, std::vector<Point> points, Verdict verdict = Verdict::pass) {
    auto& l = piece_.drawn.lines.emplace_back();
    l.kind = kind, l.points = std::move(points), l.verdict = verdict;
  }

  void symbol(Symbol s, double x, double y, Verdict verdict) {
    const auto [width, height] = size_of(s);
    piece_.drawn.symbols.push_back({s, {x, y - height / 2.0, width, height}, verdict});
  }

  /// `x`: its left end, or its right one; `top` of its row.
  void label(const Words& w, double x, double top, bool at_right = false) {
    if (w.text.empty()) return;
    auto& l = piece_.drawn.labels.emplace_back();
    const double mark = w.role == Role::flag ? 12.0 : 0.0;
    l.role = w.role;
    l.text = fitted(w.text, w.most, diagram::size_of(w.role), is_bold(w.role));
    if (l.text != w.text) l.whole = w.text;
    const double width = text_width(l.text, diagram::size_of(w.role), is_bold(w.role)) + mark;
    l.box = {at_right ? x - width : x, top, width, room::line};
    l.verdict = w.verdict;
    l.subject = w.subject;
    l.at_right = at_right;
  }

  void labels(const std::vector<Words>& all, double x, double top, bool at_right = false) {
    for (const Words& w : all) label(w, x, top, at_right), top += room::line;
  }

  /// Everything that belongs to a conductor from x to `end`, without its line.
  void draw_on_wire(const Wire& wire, double x, double end, double y, Verdict verdict) {
    x += 5.0;
    const double over = y - room::half_wire - room::line, bottom = y + room::half_wire;
    const double names = is_low(wire) ? over : bottom;
    const auto draw_item = [&](const OnWire& item, double at) {
      symbol(item.symbol, at, y, verdict);
      label({Role::device, item.text, room::widest_item}, at, names);
    };
    double at = x, far = end - 2.0;
    for (const OnWire& item : wire.items)
      if (!item.far) draw_item(item, at), at += slot_width(item);
    for (auto item = wire.items.rbegin(); item != wire.items.rend(); ++item)
      if (item->far) draw_item(*item, far -= slot_width(*item));
    double words = is_low(wire) ? at : x;
    label(label_words(wire), words, over);
    if (!wire.label.empty()) words += label_words(wire).width() + 4.0;
    label(figure_words(wire), words, over);
    labels(under(wire), x, bottom + (has_names(wire) && !is_low(wire) ? room::line : 0.0));
  }

  void draw() {
    for (std::size_t i = 0; i < items_.size(); ++i) {
      const Item& item = items_[i];
      if (item.wire) draw_wire(item);
      if (!item.wire) draw_root(item);
      else if (is_end(item)) draw_end(item);
      else draw_inner(item);
    }
  }

  void draw_wire(const Item& item) {
    const Rank& c = rank(item);
    const Rank& before = ranks()[std::size_t(item.depth) - 1];
    const LineKind kind = item.wire->is_return ? LineKind::return_ : LineKind::conductor;
    const double end = is_end(item) && c.beyond > c.bar ? c.beyond : c.bar;
    line(kind, {{start_of_[std::size_t(&item - items_.data())], item.y}, {end, item.y}},
         item.verdict);
    draw_on_wire(*item.wire, before.beyond, c.bar, item.y, item.verdict);
  }

  void draw_end(const Item& item) {
    const Rank& c = rank(item);
    const auto& p = place_of(item);
    const Symbol s = item.onward ? Symbol::onward : p.symbol.value_or(Symbol::terminal);
    const Verdict verdict =
        p.flags.empty() || item.onward ? Verdict::pass : p.flags.front().verdict;
    symbol(s, c.beyond, item.y, verdict);
    labels(item.words, c.beyond + size_of(s).width + 4.0, item.y - name_above());
    if (item.stubs > 0)
      line(LineKind::joint, {{c.bar, item.y}, {c.bar, item.bottom - room::stub / 2.0}});
  }

  void draw_inner(const Item& item) {
    const double top = item.y - above(*item.wire) - 2.0 - room::line * double(item.words.size());
    labels(item.words, rank(item).bar - 4.0, top, true);
    draw_bar(item, item.y, item.y);
  }

  /// What joins the conductors that leave a place, from its own at y on.
  void draw_bar(const Item& item, double top, double bottom) {
    const Rank& c = rank(item);
    const auto& p = place_of(item);
    double x = c.bar;
    if (is_device(p)) {
      symbol(*p.symbol, x, item.y, p.flags.empty() ? Verdict::pass : p.flags.front().verdict);
      x += size_of(*p.symbol).width;
    }
    for (const auto child : item.children) {
      top = std::min(top, items_[child].y), bottom = std::max(bottom, items_[child].y);
      start_of_[child] = x;
    }
    if (item.stubs > 0) bottom = std::max(bottom, item.bottom - room::stub / 2.0);
    const bool bar = p.shape == PlaceShape::bar;
    if (bar) top -= 4.0, bottom += 4.0;
    if (bottom - top > 0.1)
      line(bar ? LineKind::bar : LineKind::joint, {{x, top}, {x, bottom}},
           p.flags.empty() ? Verdict::pass : p.flags.front().verdict);
  }

  void draw_root(const Item& item) {
    const Rank& c = rank(item);
    const auto& p = place_of(item);
    double top = item.y - item.above;
    labels(item.words, c.start, top);
    top += room::line * double(item.words.size()) + 2.0;
    double first = item.y, last = item.y;
    if (p.shape == PlaceShape::bank) {
      const auto rows = battery_rows(item);
      for (std::size_t i = 0; i < rows; ++i) {
        const double y = top + room::line * (2.2 * double(i) + 1.55);
        if (i == 0) first = y;
        last = y;
        const bool all = rows < p.batteries.size();
        label({Role::note, all ? std::to_string(p.batteries.size()) + " batteries" : p.batteries[i],
               100.0},
              c.start + 18.0, y - room::line - 4.0);
        symbol(Symbol::battery, c.start, y, Verdict::pass);
        line(LineKind::conductor, {{c.start + 14.0, y}, {c.bar, y}});
        if (p.fused_batteries) symbol(Symbol::fuse, c.start + 60.0, y, Verdict::pass);
      }
    } else if (!is_device(p) && p.shape == PlaceShape::joint && item.children.size() < 2) {
      symbol(Symbol::terminal, c.bar - 7.0, item.y, Verdict::pass);
    }
    draw_bar(item, first, last);
  }

  // ---- Links ----

  struct Link {
    const LinkOnDiagram* link;
    std::size_t a, b;
  };

  /// Down its own lane beside the bars; returns x of the lane.
  double leave(std::size_t at, double y, const Wire& wire) {
    Item& item = items_[at];
    const double stub = item.bottom - room::stub * (double(--item.stubs) + 0.5);
    const double x =
        first_lane_[std::size_t(item.depth)] + room::lane * double(--lanes_[item.depth]);
    const Rank& c = rank(item);
    const bool beyond = is_device(place_of(item)) && !item.children.empty();
    const double from = c.bar + (beyond ? size_of(*place_of(item).symbol).width : 0.0);
    line(wire.is_return ? LineKind::return_ : LineKind::link, {{from, stub}, {x, stub}, {x, y}},
         wire.verdict());
    return x;
  }

  /// x where the lanes of a place's rank begin, and the next of them.
  double lane(std::size_t at) const { return first_lane_[std::size_t(items_[at].depth)]; }
  double after_lanes(std::size_t at) const {
    return piece_.ranks[std::size_t(items_[at].depth)].beyond;
  }

  double draw_links(double bottom) {
    for (Link l : links_) {
      const Wire& wire = l.link->wire;
      const double y = bottom + room::gap + above(wire), width = width_of(wire);
      bottom = y + below(wire);
      if (lane(l.a) > lane(l.b)) std::swap(l.a, l.b);
      if (lane(l.b) - after_lanes(l.a) >= width) draw_straight(l, wire, y);
      else draw_loop(l, wire, y, bottom += room::stub);
    }
    return bottom;
  }

  void draw_straight(const Link& l, const Wire& wire, double y) {
    const double a = leave(l.a, y, wire), b = leave(l.b, y, wire);
    line(wire.is_return ? LineKind::return_ : LineKind::link, {{a, y}, {b, y}}, wire.verdict());
    draw_on_wire(wire, after_lanes(l.a), lane(l.b), y, wire.verdict());
  }

  /// Between places too near for its text: out to the right, and back below it.
  void draw_loop(const Link& l, const Wire& wire, double y, double bottom) {
    const double back = bottom - room::stub / 2.0;
    const double right = leave(l.b, y, wire);  // of two in one rank the first is the right one
    const double left = leave(l.a, back, wire);
    const double start = after_lanes(l.b), end = start + width_of(wire) + 4.0;
    line(wire.is_return ? LineKind::return_ : LineKind::link,
         {{right, y}, {end, y}, {end, back}, {left, back}}, wire.verdict());
    draw_on_wire(wire, start, end, y, wire.verdict());
    piece_.width = std::max(piece_.width, end + 2.0);
  }

  const DiagramTree& tree_;
  const Parts& parts_;
  std::size_t number_;
  const PieceOf& of_;
  const bool low_ = parts_.low_rows;
  std::vector<Item> items_;
  std::vector<Link> links_;
  std::map<int, int> lanes_;  // by depth
  std::vector<double> first_lane_;
  std::map<std::size_t, double> start_of_;  // x at which an item's conductor begins
  Piece piece_;
};

}  // namespace

Piece laid_out(const DiagramTree& tree, const Parts& parts, std::size_t piece) {
  return PieceLayout(tree, parts, piece).made();
}

}  // namespace housepower::diagram

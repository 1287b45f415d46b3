// SPDX-License-Identifier: Apache-2.0
// The drawing of a loom: places in columns by how many wires lie between them and the root, one
// line for all wires between two places, their labels above it, size, length and devices below.
#include <algorithm>
#include <map>
#include <set>

#include "housepower/units/phrases.hpp"
#include "loom_rows.hpp"

namespace housepower::report {
namespace {

using range::Loom;
using range::Wire;

constexpr double size_of_text = 9.0, line_height = 13.0, row_height = 46.0, padding = 6.0,
                 margin = 12.0, least_branch = 90.0, widest_branch = 420.0, widest_place = 190.0;

/// All wires between two places.
struct Branch {
  std::string to;      // the place farther from the root
  bool again = false;  // which is drawn elsewhere: a ring closes here
  std::vector<const Wire*> wires{};
};

/// How many wires end at each place.
std::map<std::string, int> ends_at(const std::vector<Wire>& wires) {
  std::map<std::string, int> ends;
  for (const Wire& wire : wires) ++ends[wire.first.place], ++ends[wire.last.place];
  return ends;
}

std::string root_of(const std::map<std::string, int>& ends, const std::set<std::string>& drawn) {
  const std::pair<const std::string, int>* best = nullptr;
  for (const auto& one : ends)
    if (drawn.count(one.first) == 0 && (!best || one.second > best->second)) best = &one;
  return best ? best->first : std::string();
}

/// The trees below the places where most ends, each place as near to its root as it can be.
class Tree {
public:
  explicit Tree(const Loom& loom) : loom_(loom) {
    const auto ends = ends_at(loom.wires);
    for (std::string root = root_of(ends, drawn_); !root.empty(); root = root_of(ends, drawn_)) {
      roots.push_back(root);
      grow(root);
    }
  }
  std::vector<std::string> roots;
  std::map<std::string, std::vector<Branch>> branches_of;

private:
  const Loom& loom_;
  std::set<std::string> drawn_;
  std::set<const Wire*> used_;

  void grow(const std::string& root) {
    drawn_.insert(root);
    std::vector<std::string> waiting{root};
    for (std::size_t i = 0; i < waiting.size(); ++i) {
      std::vector<Branch> branches = leaving(waiting[i]);
      for (Branch& branch : branches) {
        branch.again = !drawn_.insert(branch.to).second;
        if (!branch.again) waiting.push_back(branch.to);
      }
      branches_of[waiting[i]] = std::move(branches);
    }
  }

  std::vector<Branch> leaving(const std::string& place) {
    std::vector<Branch> branches;
    for (const Wire& wire : loom_.wires) {
      const std::string &from = wire.first.place, &to = wire.last.place;
      if ((from != place && to != place) || !used_.insert(&wire).second) continue;
      const std::string& far = from == place ? to : from;
      auto known = std::find_if(branches.begin(), branches.end(),
                                [&](const Branch& b) { return b.to == far; });
      if (known == branches.end()) known = branches.insert(branches.end(), Branch{far});
      known->wires.push_back(&wire);
    }
    return branches;
  }
};

std::string labels_of(const Branch& branch) {
  std::vector<std::string> labels;
  for (const Wire* wire : branch.wires) labels.push_back(wire->label);
  return listed(labels, " ");
}

/// "2.5 mm2 · 1.20 m · class T 35 A": sizes, lengths and what stands in them, each once.
std::string figures_of(const Branch& branch) {
  std::vector<std::string> sizes, lengths, devices;
  const auto add = [](std::vector<std::string>& to, const std::string& text) {
    if (std::find(to.begin(), to.end(), text) == to.end()) to.push_back(text);
  };
  for (const Wire* wire : branch.wires) {
    add(sizes, size_of(wire->conductor));
    add(lengths, wire->length ? fixed(*wire->length / metre, 2) + " m" : "length not stated");
    for (const range::Piece& piece : wire->pieces)
      if (piece.last.on_the_way) add(devices, piece.last.place);
  }
  return listed(sizes) + " · " + listed(lengths) + (devices.empty() ? "" : " · ") + listed(devices);
}

double width_of(const Branch& branch) {
  const double text = std::max(text_width(labels_of(branch), size_of_text, true),
                               text_width(figures_of(branch), size_of_text));
  return std::clamp(text + 2.0 * padding + 1.0, least_branch, widest_branch);
}

double width_of_place(const std::string& name) {
  return std::min(text_width(name, size_of_text, true) + 2.0 * padding + 1.0, widest_place);
}

/// A tree drawn row by row: each end takes a row, each place stands beside its first branch.
class Drawing {
public:
  explicit Drawing(const Tree& tree) : tree_(tree) {
    for (const std::string& root : tree.roots) place(root, margin);
  }
  [[nodiscard]] std::string finished(const Loom& loom, const std::string& id,
                                     SvgFor purpose) const {
    return svg_.finished(
        {id, right_ + margin, bottom_ + margin, "", "", "Loom of " + loom.assembly, says(loom)},
        purpose);
  }

private:
  const Tree& tree_;
  Svg svg_;
  double right_ = 0, bottom_ = 0, next_row_ = margin + 0.5 * row_height;

  static std::string says(const Loom& loom) {
    std::string text = std::to_string(loom.wires.size()) + " wires";
    for (const auto& half : loom.connectors)
      text += "; connector " + half.connector + " to " + half.mate;
    return text + ". Not to scale.";
  }

  void draw_place(const std::string& name, double x, double y, bool again) {
    const double width = width_of_place(name);
    const Box box{x, y - 0.75 * line_height, width, 1.5 * line_height};
    svg_.frame(box, {again ? Ink::quiet : Ink::plain, again ? 0.7 : 1.2, again ? "3 2" : ""}, 3.0);
    const std::string text = fitted(name, width - 2.0 * padding, size_of_text, true);
    svg_.clipped_text(box, {x + padding, y + 0.35 * size_of_text}, text,
                      {size_of_text, true, Svg::Text::Anchor::start,
                       again ? Ink::quiet : Ink::plain, text == name ? "" : name});
    right_ = std::max(right_, x + width);
    bottom_ = std::max(bottom_, y + 0.75 * line_height);
  }

  void draw_branch(const Branch& branch, Point from, Point to) {
    const double room = to.x - from.x - 2.0 * padding;
    svg_.line({from, {from.x, to.y}, to}, {Ink::first, 1.0 + 0.3 * double(branch.wires.size())});
    svg_.text({from.x + padding, to.y - 4.0}, fitted(labels_of(branch), room, size_of_text, true),
              {size_of_text, true});
    svg_.text({from.x + padding, to.y + size_of_text + 3.0},
              fitted(figures_of(branch), room, size_of_text), {size_of_text});
  }

  /// Draws it and what it leads to; its height is that of its first row.
  void place(const std::string& name, double x) {
    const double y = next_row_;
    draw_place(name, x, y, false);
    const auto& branches = tree_.branches_of.at(name);
    if (branches.empty()) next_row_ += row_height;
    double wide = 0.0;
    for (const Branch& branch : branches) wide = std::max(wide, width_of(branch));
    const double from = x + width_of_place(name), to = from + wide;
    for (const Branch& branch : branches) {
      draw_branch(branch, {from, y}, {to, next_row_});
      if (!branch.again) {
        place(branch.to, to);
        continue;
      }
      draw_place(branch.to, to, next_row_, true);
      next_row_ += row_height;
    }
  }
};

}  // namespace

std::string loom_drawing(const Loom& loom, const std::string& id, SvgFor purpose) {
  const Tree tree(loom);
  return Drawing(tree).finished(loom, id, purpose);
}

}  // namespace housepower::report

// SPDX-License-Identifier: Apache-2.0
// From a checked design to the tree that its single-line diagram shows.
//
// How the diagram is laid out. This file says what hangs on what: breadth first from the bank, then from
// any source that it does not reach, so that each place hangs on the fewest conductors; a run that
// would close a loop, and a return of its own, become links. `piece.cpp` gives places: a column for
// each depth, as wide as its widest conductor with its text; rows from top to bottom, an end takes
// one, a parent stands in the middle of its children, and no subtree reaches into another's rows.
// Links go down lanes of their own beside the columns. `sheets.cpp` cuts what no sheet holds: the
// subtree that fits best becomes a piece of its own with a sign "see", until all pieces fit, and then
// sets them side by side, each in the corner farthest left.
#include <algorithm>
#include <deque>
#include <map>
#include <set>

#include "making.hpp"

namespace housepower::diagram {
namespace {

using checks::Verdict;
using design::Subject;
using design::resolved::PostId;
using design::resolved::PostKind;
using design::resolved::Run;
using wiring::CaseResult;
using PlaceShape = PlaceOnDiagram::Shape;

/// The things of the design that stand on the diagram, and the findings about each.
class Flags {
public:
  explicit Flags(std::span<const checks::Finding> findings) {
    for (const auto& f : findings)
      if (f.verdict != Verdict::pass) open_.push_back(&f);
  }
  void add(const Subject& subject, std::vector<Flag>* to) { parts_[key_of(subject)] = to; }
  /// Hands each finding to its part; what is left concerns none of them.
  std::vector<std::string> give_out() {
    std::map<std::vector<Flag>*, std::map<Verdict, std::vector<std::string_view>>> by_part;
    std::vector<std::string> left;
    for (const auto* f : open_) {
      auto* part = part_of(f->subject);
      if (!part) {
        std::string text = std::string(word_of(f->verdict)) + ": " + std::string(f->rule);
        if (std::find(left.begin(), left.end(), text) == left.end())
          left.push_back(std::move(text));
        continue;
      }
      auto& rules = by_part[part][f->verdict];
      if (std::find(rules.begin(), rules.end(), f->rule) == rules.end()) rules.push_back(f->rule);
    }
    for (auto& [part, verdicts] : by_part)
      for (auto v = verdicts.rbegin(); v != verdicts.rend(); ++v)
        add_lines(*part, v->first, v->second);
    return left;
  }

private:
  /// A line holds two or three names of rules; paper tells nothing on pointing at it.
  static void add_lines(std::vector<Flag>& part, Verdict verdict,
                        const std::vector<std::string_view>& rules) {
    constexpr std::size_t longest = 34;
    bool open = false;
    for (const auto rule : rules) {
      if (open && part.back().text.size() + rule.size() + 2 <= longest) {
        part.back().text += ", " + std::string(rule);
        continue;
      }
      part.push_back({verdict, std::string(word_of(verdict)) + ": " + std::string(rule)});
      open = true;
    }
  }
  /// Parts and keys are told where the whole stands.
  using Key = std::pair<Subject::Kind, int>;
  static Key key_of(const Subject& subject) { return {subject.kind(), subject.index()}; }
  std::vector<Flag>* part_of(const Subject& subject) const {
    const auto found = parts_.find(key_of(subject));
    return found == parts_.end() ? nullptr : found->second;
  }
  std::map<Key, std::vector<Flag>*> parts_;
  std::vector<const checks::Finding*> open_;
};
// ---- Tree ----

/// What joins two places: a run, or equipment within.
struct Edge {
  int from, to;
  int run, within;  // −1: it is the other
};

std::vector<Edge> edges_of(const Making& m) {
  std::vector<Edge> edges;
  for (std::size_t i = 0; i < m.d()->runs.size(); ++i)
    edges.push_back({m.place(m.d()->runs[i].from), m.place(m.d()->runs[i].to), int(i), -1});
  for (std::size_t i = 0; i < m.within.size(); ++i)
    edges.push_back({m.within[i].from, m.within[i].to, -1, int(i)});
  return edges;
}

Wire wire_of(const Making& m, const Edge& edge, bool along) {
  return edge.run >= 0 ? wire_of(m, std::size_t(edge.run), along)
                       : m.within[std::size_t(edge.within)].wire;
}

/// Breadth first, runs in the order of the design.
void grow(Making& m, int root, const std::vector<Edge>& edges,
          const std::vector<std::vector<std::size_t>>& edges_at, std::vector<bool>& seen,
          std::vector<bool>& used) {
  m.tree.roots.push_back(root);
  seen[std::size_t(root)] = true;
  std::deque<int> next{root};
  while (!next.empty()) {
    const int at = next.front();
    next.pop_front();
    for (const std::size_t i : edges_at[std::size_t(at)]) {
      const int other = edges[i].from == at ? edges[i].to : edges[i].from;
      if (used[i] || seen[std::size_t(other)]) continue;
      used[i] = seen[std::size_t(other)] = true;
      auto& place = m.tree.places[std::size_t(other)];
      place.parent = at;
      place.wire = wire_of(m, edges[i], edges[i].from == at);
      m.run_of_place[std::size_t(other)] = edges[i].run;
      m.tree.places[std::size_t(at)].children.push_back(other);
      next.push_back(other);
    }
  }
}

void join(Making& m) {
  const auto count = m.tree.places.size();
  const auto edges = edges_of(m);
  std::vector<std::vector<std::size_t>> edges_at(count);
  for (std::size_t i = 0; i < edges.size(); ++i) {
    edges_at[std::size_t(edges[i].from)].push_back(i);
    if (edges[i].to != edges[i].from) edges_at[std::size_t(edges[i].to)].push_back(i);
  }
  std::vector<bool> seen(count, false), used(edges.size(), false);
  m.run_of_place.assign(count, -1);
  for (std::size_t i = 0; i < count; ++i)  // the bank is first, then what feeds
    if (!seen[i]) grow(m, int(i), edges, edges_at, seen, used);
  for (std::size_t i = 0; i < edges.size(); ++i)
    if (!used[i])
      m.tree.links.push_back(
          {edges[i].from, edges[i].to, wire_of(m, edges[i], true), edges[i].run});
  for (std::size_t i = 0; i < m.d()->runs.size(); ++i) {
    const Run& run = m.d()->runs[i];
    if (!run.back.chassis && run.back.to != run.from)
      m.tree.links.push_back({m.place(run.to), m.place(run.back.to), return_wire(m, i)});
  }
}

/// The negative's, with what comes back through the chassis; as the design states it.
void add_bond(Making& m) {
  std::vector<std::string> returns;
  for (const Run& run : m.d()->runs)
    if (run.back.chassis) returns.push_back("return of " + run.label);
  const auto& bond = m.d()->bond;
  if (!bond && (returns.empty() || !m.d()->bank)) return;
  const int parent = m.place(bond ? bond->at : m.d()->bank->post);
  const int at = add_place(m, PlaceShape::device, Symbol::chassis, "chassis", {});
  m.run_of_place.push_back(-1);
  auto& place = m.tree.places.back();
  place.notes = std::move(returns);
  place.parent = parent;
  place.wire.is_return = true;
  place.wire.figures = "bond of the negative";
  if (bond && bond->conductor) place.wire.figures += ", " + size_text(bond->conductor->name);
  if (!bond) place.wire.figures += ": not stated where";
  m.tree.places[std::size_t(parent)].children.push_back(at);
}

// ---- Findings ----

void flag(Making& m) {
  Flags flags(m.c.checked.findings);
  const auto at = [&](PostId post) { return &m.tree.places[std::size_t(m.place(post))].flags; };
  if (m.d()->bank) flags.add(design::subject_of_bank(), at(m.d()->bank->post));
  for (std::size_t i = 0; i < m.d()->posts.size(); ++i)
    if (m.d()->posts[i].kind == PostKind::node)
      flags.add(subject_of(m.d(), m.d()->posts[i]), at({int(i)}));
  for (const auto& a : m.d()->appliances) flags.add(subject_of(m.d(), a), at(a.post));
  for (const auto& i : m.d()->inverters) flags.add(subject_of(m.d(), i), at(i.post));
  for (const auto& c : m.d()->chargers) flags.add(subject_of(m.d(), c), at(c.out));
  for (const auto& c : m.d()->controllers) flags.add(subject_of(m.d(), c), at(c.out));
  for (const auto& a : m.d()->arrays) flags.add(subject_of(m.d(), a), at(a.post));
  for (const auto& f : m.d()->feeds) flags.add(subject_of(m.d(), f), at(f.post));
  for (std::size_t i = 0; i < m.tree.places.size(); ++i)
    if (m.run_of_place[i] >= 0)
      flags.add(subject_of(m.d(), m.d()->runs[std::size_t(m.run_of_place[i])]),
                &m.tree.places[i].wire.flags);
  for (auto& link : m.tree.links)
    if (link.run >= 0)
      flags.add(subject_of(m.d(), m.d()->runs[std::size_t(link.run)]), &link.wire.flags);
  m.tree.elsewhere = flags.give_out();
}
}  // namespace

Verdict Wire::verdict() const { return flags.empty() ? Verdict::pass : flags.front().verdict; }

DiagramTree diagram_tree(const CheckedDesign& c, const CaseResult* in) {
  Making m{c, in};
  m.place_of_post.assign(c.design->posts.size(), -1);
  m.ends.assign(c.design->posts.size(), 0);
  for (const Run& run : c.design->runs) {
    ++m.ends[run.from], ++m.ends[run.to];
    if (!run.back.chassis && run.back.to != run.from) ++m.ends[run.back.to];
  }
  add_places(m);
  join(m);
  add_bond(m);
  flag(m);
  return std::move(m.tree);
}

}  // namespace housepower::diagram

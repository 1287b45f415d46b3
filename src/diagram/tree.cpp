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
#include "tree.hpp"

#include <algorithm>
#include <cmath>
#include <deque>
#include <map>
#include <set>

namespace housepower::diagram {
namespace {

using checks::Verdict;
using design::Design;
using design::Subject;
using design::resolved::PerPost;
using design::resolved::PostId;
using design::resolved::PostKind;
using design::resolved::Protection;
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

/// "2.5 mm²": the trade's way to write what tables call "2.5 mm2".
std::string size_text(std::string name) {
  const auto area = name.find("mm2");
  if (area != name.npos && area > 0) name.replace(area + 2, 1, "²");
  return name;
}

/// An idle conductor "carries" the last digit of the solution.
bool is_idle(Current i) { return std::abs(i.value()) < 5e-4; }

/// All in amperes, so that two beside each other compare.
std::string amperes(Current i) { return is_idle(i) ? "0" : print_plain(std::abs(i.value()), 3); }

std::string current_text(Current i) { return amperes(i) + " A"; }

std::string voltage_text(Voltage v) { return print(v, 4); }

Symbol symbol_of(const Protection& p) {
  return p.kind == design::DeviceKind::breaker ? Symbol::circuit_breaker : Symbol::fuse;
}

std::string rating_of(const Protection& p) { return p.plain_name() + " " + print(p.rating); }

OnWire on_wire(const Design& d, const design::resolved::InlineItem& item) {
  const bool in_return = !item.sits_in(design::Pole::outgoing);
  struct Kind {
    Symbol symbol;
    const char* word;
  };
  const Kind kind = item.kind == design::InlineKind::isolator ? Kind{Symbol::isolator, "isolator"}
                    : item.kind == design::InlineKind::contactor
                        ? Kind{Symbol::contactor, "contactor"}
                    : item.kind == design::InlineKind::shunt ? Kind{Symbol::shunt, "shunt"}
                                                             : Kind{Symbol::plug, "plug"};
  if (item.connector) return {kind.symbol, d->connectors[*item.connector].name};
  return {kind.symbol, std::string(kind.word) + (item.rating ? " " + print(*item.rating) : "") +
                           (in_return ? ", in return" : "")};
}

std::string conductor_text(const std::optional<wiring::UsedConductor>& used, int parallel) {
  if (!used) return "chassis";
  return (parallel > 1 ? std::to_string(parallel) + " × " : "") +
         size_text(tables::shown_name(used->conductor)) + (used->chosen ? " (open)" : "");
}

/// The return, where it is not the outgoing conductor over again.
std::string separate_return(const Run& run, const wiring::RunFacts& facts) {
  if (run.back.chassis) return "return through the chassis";
  const bool same = facts.back && facts.back->conductor.name == facts.outgoing.conductor.name &&
                    run.back.length == run.length;
  if (same || run.back.to != run.from) return {};
  return "return " + conductor_text(facts.back, run.parallel) + ", " + print(run.back.length);
}

std::string design_current_text(const wiring::RunFacts& facts, Current current) {
  return ", " + (facts.current.why_unknown.empty() ? current_text(current) : "not known");
}

struct Making {
  const CheckedDesign& c;
  const CaseResult* in;
  DiagramTree tree{};
  PerPost<int> place_of_post{};
  std::vector<int> run_of_place{};  // its way from the parent
  PerPost<int> ends{};              // of runs and separate returns
  struct Within {
    int from, to;
    Wire wire;
  };
  std::vector<Within> within{};  // equipment between its two posts, where more ends at one of them

  [[nodiscard]] const Design& d() const { return c.design; }
  int place(PostId post) const { return place_of_post[post]; }
  std::optional<Voltage> voltage(PostId post) const {
    if (!in || in->post.empty()) return {};
    return in->post[post];
  }
};

/// `along`: drawn from the run's `from` to its `to`.
Wire wire_of(const Making& m, std::size_t i, bool along) {
  const Run& run = m.d()->runs[i];
  const auto& facts = m.c.checked.wiring.runs[i];
  Wire wire;
  wire.label = run.label;
  wire.figures = conductor_text(facts.outgoing, run.parallel) + ", " + print(run.length) +
                 design_current_text(facts, facts.current.outgoing);
  if (m.in && !m.in->runs.empty()) {
    const Current current = m.in->runs[i].current;
    const char* way = is_idle(current) ? "" : (current.value() > 0.0) == along ? " →" : " ←";
    wire.figures += " (" + amperes(current) + way + ")";
  }
  const auto near = along ? design::RunEnd::from : design::RunEnd::to;
  const auto devices = [&](bool far) {
    for (const auto& p : run.protection)
      if ((p.end == near) != far) wire.items.push_back({symbol_of(p), rating_of(p), far});
  };
  devices(false);
  for (const auto& item : run.inline_items) wire.items.push_back(on_wire(m.d(), item));
  if (!along)
    std::reverse(wire.items.end() - std::ptrdiff_t(run.inline_items.size()), wire.items.end());
  devices(true);
  if (run.back.chassis) wire.items.push_back({Symbol::chassis, "", true});
  wire.separate = separate_return(run, facts);
  return wire;
}

Wire return_wire(const Making& m, std::size_t i) {
  const Run& run = m.d()->runs[i];
  Wire wire;
  wire.is_return = true;
  wire.figures =
      "return of " + run.label + ": " +
      conductor_text(m.c.checked.wiring.runs[i].back, run.parallel) + ", " +
      print(run.back.length) +
      design_current_text(m.c.checked.wiring.runs[i], m.c.checked.wiring.runs[i].current.back);
  if (m.in && !m.in->runs.empty()) wire.figures += " (" + amperes(m.in->runs[i].back) + ")";
  return wire;
}

// ---- Places ----

std::string with_rating(std::string text, const std::optional<Current>& rating) {
  if (rating) text += (text.empty() ? "" : ", ") + ("for " + print(*rating));
  return text;
}

const wiring::ConsumerInCase* running(const Making& m, const Subject& subject) {
  if (m.in && m.in->solved())
    for (const auto& consumer : m.in->consumers)
      if (consumer.subject == subject) return &consumer;
  return nullptr;
}

/// "12.31 V, 3.2 % lost", or that it does not run.
std::string consumer_figures(const Making& m, const Subject& subject, PostId post,
                             std::string text) {
  if (const auto* consumer = running(m, subject)) {
    if (!consumer->unknown.empty()) return text + ", voltage unknown";
    return text + ", " + voltage_text(consumer->voltage) + ", " +
           print(Number(consumer->path_share), 2) + " lost";
  }
  if (const auto v = m.voltage(post)) text += ", off, " + voltage_text(*v);
  return text;
}

std::string appliance_text(const design::resolved::Appliance& a) {
  return (a.quantity > 1 ? std::to_string(a.quantity) + " × " : "") + print(a.power);
}

int add_place(Making& m, PlaceShape shape, std::optional<Symbol> symbol, std::string name,
              std::initializer_list<PostId> posts) {
  auto& place = m.tree.places.emplace_back();
  place.shape = shape;
  place.symbol = symbol;
  place.name = std::move(name);
  for (const PostId post : posts) m.place_of_post[post] = int(m.tree.places.size()) - 1;
  return int(m.tree.places.size()) - 1;
}

std::string voltages(const Making& m, PostId post) {
  const auto v = m.voltage(post);
  return v ? voltage_text(*v) : "";
}

void add_bank(Making& m) {
  const auto& bank = *m.d()->bank;
  const int at = add_place(m, PlaceShape::bank, Symbol::battery, "bank", {bank.post});
  auto& place = m.tree.places[std::size_t(at)];
  const int all = bank.parallel * bank.in_series;
  place.figures = (all > 1 ? std::to_string(all) + " × " : "") + print(bank.capacity) + ", " +
                  print(bank.nominal_voltage) +
                  (bank.in_series > 1 ? ", " + std::to_string(bank.in_series) + " in series" : "");
  if (m.in && m.in->solved()) {
    place.notes.push_back("terminals " + voltage_text(m.in->source));
    place.notes.push_back((m.in->bank_current.value() < 0.0 ? "charged with " : "gives ") +
                          current_text(m.in->bank_current));
  }
  for (int i = 0; i < bank.parallel; ++i) {
    std::string text = bank.parallel > 1 ? "battery " + std::to_string(i + 1) : "battery";
    if (m.in)
      for (const auto& b : m.in->batteries)
        if (b.number == i + 1) text += ", " + current_text(b.current);
    place.batteries.push_back(std::move(text));
  }
  place.fused_batteries = bank.each_device.has_value();
  if (bank.each_device)
    place.notes.push_back("each battery: " + rating_of(bank.each_device->device));
  if (bank.lead)
    place.notes.push_back("leads " + size_text(tables::shown_name(bank.lead->conductor)) + ", " +
                          print(bank.lead->length));
  if (bank.link_positive)
    place.notes.push_back("links " + size_text(tables::shown_name(bank.link_positive->conductor)) +
                          ", " + print(bank.link_positive->length));
  if (bank.parallel > 1 && !bank.lead)
    place.notes.push_back("taken off at + of " + std::to_string(bank.takeoff[0]) + ", − of " +
                          std::to_string(bank.takeoff[1]));
}

void add_nodes(Making& m) {
  for (std::size_t i = 0; i < m.d()->posts.size(); ++i) {
    const auto& post = m.d()->posts[i];
    if (post.kind != PostKind::node) continue;
    const auto kind = post.node.value_or(design::NodeKind::point);
    const bool bar = kind == design::NodeKind::bus_bar || kind == design::NodeKind::panel;
    std::optional<Symbol> symbol;
    if (kind == design::NodeKind::plug) symbol = Symbol::plug;
    if (kind == design::NodeKind::jump_post || kind == design::NodeKind::stud)
      symbol = Symbol::terminal;
    const PostId id{int(i)};
    const int at = add_place(m,
                             bar      ? PlaceShape::bar
                             : symbol ? PlaceShape::device
                                      : PlaceShape::joint,
                             symbol, post.name, {id});
    m.tree.places[std::size_t(at)].figures = with_rating(voltages(m, id), post.rating);
  }
}

void add_consumers(Making& m) {
  for (const auto& inverter : m.d()->inverters) {
    const int at =
        add_place(m, PlaceShape::device, Symbol::inverter, inverter.name, {inverter.post});
    m.tree.places[std::size_t(at)].figures =
        consumer_figures(m, subject_of(m.d(), inverter), inverter.post, print(inverter.rating));
  }
  for (const auto& a : m.d()->appliances) {
    if (a.inverter) {
      auto& place = m.tree.places[std::size_t(m.place(a.post))];
      place.notes.push_back(a.name + " " + appliance_text(a));
    } else if (m.d()[a.post].kind == PostKind::appliance) {
      const int at = add_place(m, PlaceShape::device, Symbol::load, a.name, {a.post});
      m.tree.places[std::size_t(at)].figures =
          consumer_figures(m, subject_of(m.d(), a), a.post, appliance_text(a));
    }
  }
}

/// Equipment between two posts is one symbol on the way, unless several runs meet at one of them:
/// then it stands between two places, so that none seems to end on its other side.
void add_converter(Making& m, const std::string& name, std::string figures, PostId in, PostId out) {
  if (m.ends[in] <= 1 && m.ends[out] <= 1) {
    const int at = add_place(m, PlaceShape::device, Symbol::converter, name, {in, out});
    m.tree.places[std::size_t(at)].figures = std::move(figures);
    return;
  }
  const int left = add_place(m, PlaceShape::joint, {}, name + ", output", {out});
  const int right = add_place(m, PlaceShape::joint, {}, name + ", input", {in});
  m.tree.places[std::size_t(left)].figures = voltages(m, out);
  m.tree.places[std::size_t(right)].figures = voltages(m, in);
  m.within.push_back({left, right, {}});
  m.within.back().wire.items.push_back({Symbol::converter, name + " " + figures});
}

void add_sources(Making& m) {
  for (const auto& c : m.d()->chargers) {
    std::string figures = print(c.current);
    if (m.voltage(c.out))
      figures += (c.in ? ", in " + voltages(m, *c.in) + ", out " : ", ") + voltages(m, c.out);
    if (c.in) {
      add_converter(m, c.name, figures, *c.in, c.out);
      continue;
    }
    const int at = add_place(m, PlaceShape::device, Symbol::charger, c.name, {c.out});
    m.tree.places[std::size_t(at)].figures = std::move(figures);
  }
  for (const auto& c : m.d()->controllers)
    add_converter(m, c.name,
                  print(c.max_charge_current) +
                      (m.voltage(c.out) ? ", out " + voltages(m, c.out) : ""),
                  c.in, c.out);
  for (const auto& a : m.d()->arrays) {
    const int at = add_place(m, PlaceShape::device, Symbol::array, a.name, {a.post});
    m.tree.places[std::size_t(at)].figures =
        std::to_string(a.modules) + " × " + print(a.module.power) +
        (a.in_series > 1 ? ", " + std::to_string(a.in_series) + " in series" : "");
  }
  for (const auto& f : m.d()->feeds) {
    const int at = add_place(m, PlaceShape::device, Symbol::vehicle, f.name, {f.post});
    m.tree.places[std::size_t(at)].figures = print(f.low) + " – " + print(f.high);
  }
}

/// A post that nothing above has made a place of.
void add_rest(Making& m) {
  for (std::size_t i = 0; i < m.d()->posts.size(); ++i)
    if (m.place_of_post[i] < 0)
      add_place(m, PlaceShape::joint, {}, m.d()->posts[i].name, {PostId{int(i)}});
}

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

/// Appliances that hang on a node without a run of their own.
void hang(Making& m) {
  for (const auto& a : m.d()->appliances)
    if (!a.inverter && m.d()[a.post].kind != PostKind::appliance)
      m.tree.places[std::size_t(m.place(a.post))].notes.push_back(a.name + " " + appliance_text(a));
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
  if (c.design->bank) add_bank(m);
  add_sources(m);
  add_nodes(m);
  add_consumers(m);
  add_rest(m);
  hang(m);
  join(m);
  add_bond(m);
  flag(m);
  return std::move(m.tree);
}

}  // namespace housepower::diagram

// SPDX-License-Identifier: Apache-2.0
// What is drawn of a design on its diagram: each place and conductor with its figures.
#include <algorithm>
#include <cmath>

#include "making.hpp"

namespace housepower::diagram {
namespace {

using design::Design;
using design::Subject;
using design::resolved::PostId;
using design::resolved::PostKind;
using design::resolved::Protection;
using design::resolved::Run;
using PlaceShape = PlaceOnDiagram::Shape;

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
void add_converter(Making& m, const Subject& subject, const std::string& name, std::string figures,
                   PostId in, PostId out) {
  if (m.ends[in] <= 1 && m.ends[out] <= 1) {
    const int at = add_place(m, PlaceShape::device, Symbol::converter, name, {in, out});
    m.tree.places[std::size_t(at)].subject = subject.text();
    m.tree.places[std::size_t(at)].figures = std::move(figures);
    return;
  }
  const int left = add_place(m, PlaceShape::joint, {}, name + ", output", {out});
  const int right = add_place(m, PlaceShape::joint, {}, name + ", input", {in});
  m.tree.places[std::size_t(left)].figures = voltages(m, out);
  m.tree.places[std::size_t(right)].figures = voltages(m, in);
  for (const int at : {left, right}) m.tree.places[std::size_t(at)].subject = subject.text();
  m.within.push_back({left, right, {}});
  m.within.back().wire.items.push_back({Symbol::converter, name + " " + figures});
}

void add_sources(Making& m) {
  for (const auto& c : m.d()->chargers) {
    std::string figures = print(c.current);
    if (m.voltage(c.out))
      figures += (c.in ? ", in " + voltages(m, *c.in) + ", out " : ", ") + voltages(m, c.out);
    if (c.in) {
      add_converter(m, subject_of(m.d(), c), c.name, figures, *c.in, c.out);
      continue;
    }
    const int at = add_place(m, PlaceShape::device, Symbol::charger, c.name, {c.out});
    m.tree.places[std::size_t(at)].figures = std::move(figures);
    m.tree.places[std::size_t(at)].subject = subject_of(m.d(), c).text();
  }
  for (const auto& c : m.d()->controllers)
    add_converter(m, subject_of(m.d(), c), c.name,
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

/// Appliances that hang on a node without a run of their own.
void hang(Making& m) {
  for (const auto& a : m.d()->appliances)
    if (!a.inverter && m.d()[a.post].kind != PostKind::appliance)
      m.tree.places[std::size_t(m.place(a.post))].notes.push_back(a.name + " " + appliance_text(a));
}

}  // namespace

std::string size_text(std::string name) {
  const auto area = name.find("mm2");
  if (area != name.npos && area > 0) name.replace(area + 2, 1, "²");
  return name;
}

Wire wire_of(const Making& m, std::size_t i, bool along) {
  const Run& run = m.d()->runs[i];
  const auto& facts = m.c.checked.wiring.runs[i];
  Wire wire;
  wire.label = run.label;
  wire.subject = subject_of(m.d(), run).text();
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

int add_place(Making& m, PlaceShape shape, std::optional<Symbol> symbol, std::string name,
              std::initializer_list<PostId> posts) {
  auto& place = m.tree.places.emplace_back();
  place.shape = shape;
  place.symbol = symbol;
  place.name = std::move(name);
  if (posts.size() > 0) place.subject = subject_of(m.d(), m.d()[*posts.begin()]).text();
  for (const PostId post : posts) m.place_of_post[post] = int(m.tree.places.size()) - 1;
  return int(m.tree.places.size()) - 1;
}

void add_places(Making& m) {
  if (m.d()->bank) add_bank(m);
  add_sources(m);
  add_nodes(m);
  add_consumers(m);
  add_rest(m);
  hang(m);
}

}  // namespace housepower::diagram

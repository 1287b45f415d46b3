// SPDX-License-Identifier: Apache-2.0
#include "words.hpp"

namespace housepower::diagram {
namespace {

using Role = DiagramLabel::Role;

void add_flags(std::vector<Words>& words, const std::vector<Flag>& flags) {
  for (const Flag& f : flags) words.push_back({Role::flag, f.text, room::widest_flag, f.verdict});
}

}  // namespace

double size_of(Role role) {
  switch (role) {
  case Role::name: return 8.0;
  case Role::heading: return 9.0;
  default: return room::text;
  }
}
bool is_bold(Role role) {
  return role == Role::run_label || role == Role::name || role == Role::flag ||
         role == Role::heading;
}

SymbolSize size_of(Symbol s) {
  switch (s) {
  case Symbol::battery: return {14, 14};
  case Symbol::fuse: return {18, 7};
  case Symbol::circuit_breaker:
  case Symbol::isolator:
  case Symbol::contactor: return {18, 10};
  case Symbol::shunt: return {18, 9};
  case Symbol::plug: return {14, 9};
  case Symbol::converter:
  case Symbol::charger:
  case Symbol::inverter: return {19, 19};
  case Symbol::array: return {20, 16};
  case Symbol::load: return {14, 9};
  case Symbol::terminal: return {7, 7};
  case Symbol::vehicle: return {18, 14};
  case Symbol::chassis: return {12, 10};
  case Symbol::onward: return {9, 9};
  }
  return {10, 10};
}

std::string_view name_of(Symbol s) {
  switch (s) {
  case Symbol::battery: return "battery";
  case Symbol::fuse: return "fuse";
  case Symbol::circuit_breaker: return "circuit breaker";
  case Symbol::isolator: return "isolator";
  case Symbol::contactor: return "contactor";
  case Symbol::shunt: return "shunt";
  case Symbol::plug: return "plug";
  case Symbol::converter: return "d.c. to d.c.";
  case Symbol::charger: return "a.c. to d.c.";
  case Symbol::inverter: return "d.c. to a.c.";
  case Symbol::array: return "solar array";
  case Symbol::load: return "appliance";
  case Symbol::terminal: return "post, end";
  case Symbol::vehicle: return "other source";
  case Symbol::chassis: return "chassis";
  case Symbol::onward: return "goes on";
  }
  return {};
}

double widest(const std::vector<Words>& all) {
  double width = 0;
  for (const Words& w : all) width = std::max(width, w.width());
  return width;
}

std::vector<Words> words_of(const PlaceOnDiagram& place) {
  std::vector<Words> words{
      {Role::name, place.name, room::widest_name, checks::Verdict::pass, place.subject}};
  if (!place.figures.empty()) words.push_back({Role::figures, place.figures, room::widest_figures});
  constexpr std::size_t most_notes = 7;
  for (std::size_t i = 0; i < place.notes.size() && i < most_notes; ++i)
    words.push_back({Role::note, place.notes[i], room::widest_name});
  if (place.notes.size() > most_notes) {
    std::string rest;
    for (std::size_t i = most_notes; i < place.notes.size(); ++i)
      rest += (rest.empty() ? "" : "; ") + place.notes[i];
    words.push_back({Role::note, "and: " + rest, room::widest_name});
  }
  add_flags(words, place.flags);
  return words;
}

double slot_width(const OnWire& item) {
  const double text = std::min(room::widest_item, text_width(item.text, room::text));
  return std::max(size_of(item.symbol).width, text) + 7.0;
}

std::vector<Words> under(const Wire& wire) {
  std::vector<Words> words;
  if (!wire.separate.empty()) words.push_back({Role::figures, wire.separate, room::widest_figures});
  add_flags(words, wire.flags);
  return words;
}

Words label_words(const Wire& wire) {
  return {Role::run_label, wire.label, 60.0, checks::Verdict::pass, wire.subject};
}
Words figure_words(const Wire& wire) { return {Role::figures, wire.figures, room::widest_figures}; }

double slots_width(const Wire& wire) {
  double slots = 0;
  for (const OnWire& item : wire.items) slots += slot_width(item);
  return slots;
}

double over_width(const Wire& wire) {
  return label_words(wire).width() + 4.0 + figure_words(wire).width() + 4.0;
}

bool has_names(const Wire& wire) {
  return std::any_of(wire.items.begin(), wire.items.end(),
                     [](const OnWire& item) { return !item.text.empty(); });
}

bool is_device(const PlaceOnDiagram& p) {
  return p.symbol && p.shape == PlaceOnDiagram::Shape::device;
}

}  // namespace housepower::diagram

// SPDX-License-Identifier: Apache-2.0
// Slots and their options, from the parts that can be bought and what the design keeps.
#include "space.hpp"

#include <algorithm>
#include <cmath>

#include "housepower/design/catalogue.hpp"
#include "housepower/units/unit.hpp"

namespace housepower::pack::inside {
namespace {

using design::Bank;
using design::Document;
using design::Module;
using design::Part;
using design::PartKind;
using What = Slot::What;

// Where the design names no limit.
constexpr int usual_batteries = 8, usual_modules = 16;

struct Making {
  const Document& document;
  const std::vector<Part>& parts;
  const PackQuestion& question;
  Diagnostics& diagnostics;
  Space& space;

  [[nodiscard]] bool kept(std::string_view name) const {
    const auto& list = document.sizing ? document.sizing->keep : std::vector<std::string>{};
    return std::find(list.begin(), list.end(), name) != list.end();
  }
  void ask(const Place& at, const std::string& who, const char* key, const std::string& why) {
    diagnostics.error(at, who + "/" + key, "`" + std::string(key) + "` is not stated, and " + why,
                      "state it; nothing is guessed");
  }
};

struct Figures {
  std::optional<Mass> mass;
  std::optional<std::string> price;
};
template <class Thing> Figures figures_of(const Thing& t) { return {t.mass, t.price}; }
Figures figures_of(const design::StockedConductor& c) { return {{}, c.price}; }
Figures figures_of(const design::StockedDevice& d) { return {{}, d.price}; }
Figures figures_of(const Part& part) {
  return std::visit([](const auto& thing) { return figures_of(thing); }, part.is);
}

/// What one of it weighs and costs; what the search needs and is not stated is asked for.
void weigh(Making& m, Option& option, const Figures& f, int pieces, const Place& at,
           const std::string& who) {
  const bool by_mass = m.question.least == design::Least::mass;
  if (f.mass) option.mass_kg = pieces * f.mass->value();
  else if (by_mass || m.document.vehicle.electrical_mass_allowance)
    m.ask(at, who, "mass",
          by_mass ? "the lightest pack is looked for" : "the vehicle allows only so much");
  if (f.price) {
    const auto money = design::money_of(*f.price);
    if (!money) {
      m.diagnostics.error(at, who + "/price", "\"" + *f.price + "\" is not a price",
                          "for example price = \"420 EUR\"");
      return;
    }
    if (m.space.currency.empty()) m.space.currency = money->currency;
    if (m.space.currency != money->currency)
      m.diagnostics.error(at, who + "/price",
                          "is in " + money->currency + ", another price is in " + m.space.currency,
                          "one currency for all: nothing is converted");
    option.price = pieces * double(money->amount);
  } else if (!by_mass) {
    m.ask(at, who, "price", "the cheapest pack is looked for");
  }
  option.cost = by_mass ? option.mass_kg : option.price.value_or(0.0);
}

std::vector<const Part*> parts_of_kind(const Making& m, PartKind kind) {
  std::vector<const Part*> list;
  for (const Part& part : m.parts)
    if (part.kind() == kind) list.push_back(&part);
  return list;
}

/// Batteries that stand upright beside each other on the floor of the box.
std::optional<int> room_in(const std::vector<Length>& box, const std::vector<Length>& one) {
  if (box.size() != 3 || one.size() != 3) return std::nullopt;
  if (one[2] > box[2]) return 0;
  const auto fit = [&](Length a, Length b) {
    return int(double(box[0] / a) + 1e-9) * int(double(box[1] / b) + 1e-9);
  };
  return std::max(fit(one[0], one[1]), fit(one[1], one[0]));
}

int in_series_of(const Document& d, const Bank& battery) {
  return std::max(1, int(std::lround(double(d.vehicle.system_voltage / *battery.nominal_voltage))));
}

void add_batteries(Making& m, Slot& slot, const Part* part, int least, int most) {
  const Bank& own = *m.document.bank;
  const Bank& battery = part ? std::get<Bank>(part->is) : own;
  const std::string who = part ? "part/" + part->name : std::string("bank");
  const Place& at = part ? part->place : own.place;
  const int series = part ? in_series_of(m.document, battery) : own.in_series.value_or(1);
  const auto& box = own.box ? own.box->size : std::vector<Length>{};
  const auto room = room_in(box, battery.size);
  if (!room && box.size() == 3) {
    if (part) m.ask(at, who, "size", "the box has only so much room");
    else
      m.space.notes.push_back(
          "the `size` of the batteries is not stated: whether they fit their box was not checked");
  }
  if (room && most * series > *room)
    m.space.notes.push_back("the box has room for " + std::to_string(*room) + " × " +
                            (part ? part->name : std::string("the battery as designed")) +
                            ", upright in one layer");
  for (int n = least; n <= most && (!room || n * series <= *room); ++n) {
    Option& option = slot.options.emplace_back();
    option.part = part;
    option.count = n;
    option.in_series = series;
    weigh(m, option, figures_of(battery), n * series, at, who);
  }
}

void bank_slot(Making& m) {
  Slot& slot = m.space.slots.emplace_back();
  slot.what = What::bank;
  slot.name = "bank";
  const Bank& own = *m.document.bank;
  const int now = own.quantity.value_or(1);
  if (m.kept("bank")) return add_batteries(m, slot, nullptr, now, now);
  const auto& limits = m.document.sizing;
  int most = limits && limits->most_batteries ? *limits->most_batteries : usual_batteries;
  if (!limits || !limits->most_batteries)
    m.space.notes.push_back("no more than " + std::to_string(usual_batteries) +
                            " batteries in parallel were tried (`most_batteries`)");
  if (!own.links && !own.each_battery && most > 1) {
    most = std::max(1, now);
    m.space.notes.push_back("the bank states neither `links` nor `each_battery`: no more than " +
                            std::to_string(most) + " in parallel were tried");
  }
  const auto parts = parts_of_kind(m, PartKind::battery);
  for (const Part* part : parts) add_batteries(m, slot, part, 1, most);
  if (parts.empty()) add_batteries(m, slot, nullptr, 1, most);
}

void add_modules(Making& m, Slot& slot, const design::Array& array, const Part* part, int least,
                 int most) {
  const Module& module = part ? std::get<Module>(part->is) : array.module;
  const std::string who = part ? "part/" + part->name : "array/" + array.name + "/module";
  const Place& at = part ? part->place : array.place;
  double one = 0.0;
  if (module.size.size() == 2) one = Area(module.size[0] * module.size[1]) / square_metre;
  else if (m.document.sizing && m.document.sizing->roof_area)
    m.ask(at, who, "size", "the roof has only so much room");
  for (int n = least; n <= most; ++n)
    for (int s = n; s >= 1; --s) {
      if (n % s != 0 || (least == most && s != array.in_series.value_or(1))) continue;
      Option& option = slot.options.emplace_back();
      option.part = part;
      option.count = n;
      option.in_series = s;
      option.square_metres = n * one;
      weigh(m, option, figures_of(module), n, at, who);
    }
}

/// What stays counts all the same; where it does not say what, that is told.
void keep_at(Making& m, const std::string& name, const std::optional<Mass>& mass,
             const std::optional<std::string>& price, int pieces) {
  if (mass) m.space.kept_mass_kg += pieces * mass->value();
  else m.space.notes.push_back("the mass of \"" + name + "\" is not stated and not counted");
  const auto money = price ? design::money_of(*price) : std::nullopt;
  if (money && (m.space.currency.empty() || m.space.currency == money->currency)) {
    m.space.currency = money->currency;
    m.space.kept_price = m.space.kept_price.value_or(0.0) + pieces * double(money->amount);
  } else {
    m.space.unpriced.push_back(name);
  }
}

/// Its mass, price and room on the roof count all the same.
void keep(Making& m, const design::Array& array) {
  const Module& module = array.module;
  if (module.size.size() == 2)
    m.space.kept_square_metres += array.modules * Area(module.size[0] * module.size[1]).value();
  keep_at(m, array.name, module.mass, module.price, array.modules);
}

/// The first array that is not kept; the others stay as they are.
void array_slot(Making& m) {
  const auto& arrays = m.document.array;
  const auto sized =
      std::find_if(arrays.begin(), arrays.end(), [&](const auto& a) { return !m.kept(a.name); });
  if (sized == arrays.end())
    for (const auto& array : arrays) keep(m, array);
  if (sized == arrays.end()) return;
  for (const auto& array : arrays)
    if (&array != &*sized) keep(m, array);
  for (const auto& array : arrays)
    if (&array != &*sized && !m.kept(array.name))
      m.space.notes.push_back("array \"" + array.name +
                              "\" stays as it is: one array is sized, \"" + sized->name + "\"");
  Slot& slot = m.space.slots.emplace_back();
  slot.what = What::array;
  slot.name = sized->name;
  const auto& limits = m.document.sizing;
  const bool limited = limits && (limits->most_modules || limits->roof_area);
  const int most = limits && limits->most_modules ? *limits->most_modules : usual_modules;
  if (!limited)
    m.space.notes.push_back("no more than " + std::to_string(usual_modules) +
                            " modules were tried (`most_modules`, `roof_area`)");
  const auto parts = parts_of_kind(m, PartKind::module);
  for (const Part* part : parts) add_modules(m, slot, *sized, part, 1, most);
  if (parts.empty()) add_modules(m, slot, *sized, nullptr, 1, most);
}

template <class Equipment, class Fits>
void equipment_slots(Making& m, What what, PartKind kind, const std::vector<Equipment>& list,
                     Fits fits) {
  for (const Equipment& one : list) {
    std::vector<const Part*> parts;
    if (!m.kept(one.name))
      for (const Part* part : parts_of_kind(m, kind))
        if (fits(one, std::get<Equipment>(part->is))) parts.push_back(part);
    if (parts.empty()) {
      keep_at(m, one.name, one.mass, one.price, 1);
      continue;
    }
    Slot& slot = m.space.slots.emplace_back();
    slot.what = what;
    slot.name = one.name;
    for (const Part* part : parts) {
      Option& option = slot.options.emplace_back();
      option.part = part;
      weigh(m, option, figures_of(*part), 1, part->place, "part/" + part->name);
    }
  }
}

void check_kept(Making& m) {
  if (!m.document.sizing) return;
  std::vector<std::string_view> names{"bank"};
  for (const auto& a : m.document.array) names.push_back(a.name);
  for (const auto& c : m.document.controller) names.push_back(c.name);
  for (const auto& c : m.document.charger) names.push_back(c.name);
  for (const auto& i : m.document.inverter) names.push_back(i.name);
  for (const auto& name : m.document.sizing->keep)
    if (std::find(names.begin(), names.end(), name) == names.end())
      m.diagnostics.error(m.document.place, "sizing/keep",
                          "\"" + name + "\" is not equipment of this design",
                          did_you_mean(name, names));
}

std::string called(const Option& option) {
  return option.part ? option.part->name : std::string("as designed");
}

}  // namespace

std::size_t Space::size() const {
  constexpr std::size_t too_many = std::size_t(1) << 30;  // fits the 32 bits of a browser
  std::size_t all = 1;
  for (const Slot& slot : slots) {
    if (slot.options.empty()) return 0;
    if (all > too_many / slot.options.size()) return too_many;
    all *= slot.options.size();
  }
  return all;
}

Pick Space::pick(std::size_t number) const {
  Pick pick(slots.size());
  for (std::size_t i = 0; i < slots.size(); ++i) {
    pick[i] = std::uint16_t(number % slots[i].options.size());
    number /= slots[i].options.size();
  }
  return pick;
}

double Space::cost(const Pick& pick) const {
  double all = 0.0;
  for (std::size_t i = 0; i < slots.size(); ++i) all += slots[i].options[pick[i]].cost;
  return all;
}

std::optional<Space> space_of(const Document& document, const std::vector<Part>& parts,
                              const PackQuestion& question, Diagnostics& diagnostics) {
  Space space{document, {}, {}, 0.0, 0.0, {}, {}, {}};
  Making m{document, parts, question, diagnostics, space};
  check_kept(m);
  bank_slot(m);
  array_slot(m);
  using design::Charger, design::Controller, design::Inverter;
  equipment_slots(m, What::controller, PartKind::controller, document.controller,
                  [](const Controller&, const Controller&) { return true; });
  equipment_slots(m, What::charger, PartKind::charger, document.charger,
                  [](const Charger& a, const Charger& b) { return a.kind == b.kind; });
  equipment_slots(m, What::inverter, PartKind::inverter, document.inverter,
                  [](const Inverter&, const Inverter&) { return true; });
  if (diagnostics.any_error()) return std::nullopt;
  const auto& box = document.bank->box;
  if (box && box->size.size() == 3)
    space.notes.push_back("batteries are fitted into the outside size of the box, upright in one "
                          "layer: its walls, straps and terminals take room besides");
  if (document.sizing && document.sizing->roof_area)
    space.notes.push_back(
        "the roof is counted by its area; how the modules fit on it was not checked");
  for (const Slot& slot : space.slots)
    if (slot.what == What::inverter)
      space.notes.push_back("\"" + slot.name +
                            "\" has to carry what a case runs on it together, and "
                            "each appliance alone: state a case for what runs together");
  std::string unpriced;
  for (const auto& name : space.unpriced) unpriced += (unpriced.empty() ? "" : ", ") + name;
  if (!unpriced.empty() && !space.currency.empty())
    space.notes.push_back("what stays and states no price in " + space.currency +
                          " is in none: " + unpriced);
  return space;
}

Document written(const Space& space, const Pick& pick) {
  Document d = space.document;
  for (std::size_t i = 0; i < space.slots.size(); ++i) {
    const Slot& slot = space.slots[i];
    const Option& option = slot.options[pick[i]];
    if (option.part) design::put(*option.part, d, slot.name);
    if (slot.what == What::bank) {
      const int before = space.document.bank->quantity.value_or(1);
      const auto& from = space.document.bank->takeoff_from;
      // What left the bank at its two ends does so still.
      if (from.empty() || (from.size() == 2 && from[0] == 1 && from[1] == before))
        d.bank->takeoff_from = {1, option.count};
      else if (std::any_of(from.begin(), from.end(), [&](int n) { return n > option.count; }))
        d.bank->takeoff_from = {1, option.count};
      d.bank->quantity = option.count;
      d.bank->in_series = option.in_series;
    }
    if (slot.what == What::array)
      for (design::Array& array : d.array)
        if (array.name == slot.name) {
          array.modules = option.count;
          array.in_series = option.in_series;
        }
  }
  return d;
}

Pack pack_of(const Space& space, const Pick& pick) {
  Pack pack;
  double mass = space.kept_mass_kg;
  std::optional<double> price = space.kept_price.value_or(0.0);
  for (std::size_t i = 0; i < space.slots.size(); ++i) {
    const Slot& slot = space.slots[i];
    const Option& option = slot.options[pick[i]];
    mass += option.mass_kg;
    price = price && option.price ? std::optional(*price + *option.price) : std::nullopt;
    if (slot.what == What::bank) {
      pack.battery = called(option);
      pack.batteries = option.count * option.in_series;
    } else if (slot.what == What::array) {
      pack.array = slot.name;
      pack.module = called(option);
      pack.modules = option.count;
      pack.in_series = option.in_series;
    } else {
      pack.equipment.push_back({slot.name, called(option)});
    }
  }
  pack.mass = mass * kilogram;
  if (price && !space.currency.empty()) pack.price = design::Money{*price, space.currency};
  return pack;
}

std::string beyond_limit(const Space& space, const Pick& pick) {
  double mass = space.kept_mass_kg, roof = space.kept_square_metres;
  for (std::size_t i = 0; i < space.slots.size(); ++i) {
    mass += space.slots[i].options[pick[i]].mass_kg;
    roof += space.slots[i].options[pick[i]].square_metres;
  }
  const auto& allowed = space.document.vehicle.electrical_mass_allowance;
  if (allowed && mass > allowed->value() + 1e-9)
    return "mass: " + print(Number(Mass(mass * kilogram))) + " of the " + print(Number(*allowed)) +
           " allowed, before cable";
  const auto& area = space.document.sizing ? space.document.sizing->roof_area : std::nullopt;
  if (area && roof > *area / square_metre + 1e-9)
    return "roof: " + print(Number(Area(roof * square_metre))) + " of " + print(Number(*area));
  return {};
}

}  // namespace housepower::pack::inside

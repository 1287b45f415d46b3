// SPDX-License-Identifier: Apache-2.0
// Parts: which keys each kind has, how one is read, and how one is put into a design.
#include "housepower/design/catalogue.hpp"

#include <algorithm>
#include <set>

#include "fields_parts.hpp"
#include "module_figures.hpp"

namespace housepower {

using namespace design;

template <>
inline constexpr auto fields<Catalogue> = std::array{
    field<&Catalogue::schema>("schema", "Format of this file.", "1"),
    field<&Catalogue::part>("part", "A part that `size`, `wiring` and `mend` may choose."),
};

namespace design {
namespace {

/// Those of a list with these keys, in this order, and what is said of groups of keys.
template <class Owner, std::size_t N>
constexpr auto only(const std::array<std::string_view, N>& keys) {
  std::array<Field, N> chosen{};
  for (std::size_t i = 0; i < N; ++i) {
    bool found = false;
    for (const Field& f : fields<Owner>)
      if (f.role == Field::Role::member && f.key == keys[i]) chosen[i] = f, found = true;
    if (!found) throw "no such key";  // compile time
  }
  return chosen;
}
template <std::size_t N> constexpr auto and_at_most_one(std::array<Field, N> list, const Field& f) {
  std::array<Field, N + 1> longer{};
  std::copy(list.begin(), list.end(), longer.begin());
  longer[N] = f;
  return longer;
}

constexpr auto battery_fields = and_at_most_one(
    only<Bank>(std::array{"capacity"sv, "nominal_voltage"sv, "resistance"sv, "charge_limit"sv,
                          "discharge_limit"sv, "peak"sv, "charge_cut_off_below"sv,
                          "no_cold_cut_off"sv, "charge_cut_off_above"sv, "own_draw"sv, "terminal"sv,
                          "mass"sv, "size"sv, "price"sv}),
    at_most_one({"charge_cut_off_below", "no_cold_cut_off"}));
constexpr auto controller_fields = only<Controller>(
    std::array{"kind"sv, "max_voltage"sv, "max_short_circuit_current"sv, "max_charge_current"sv,
               "efficiency"sv, "own_draw"sv, "charge_voltage"sv, "mass"sv, "price"sv, "stud"sv});
constexpr auto charger_fields =
    only<Charger>(std::array{"kind"sv, "current"sv, "efficiency"sv, "input_cut_out"sv,
                             "charge_voltage"sv, "input_voltage"sv, "mass"sv, "price"sv, "stud"sv});
constexpr auto inverter_fields =
    only<Inverter>(std::array{"rating"sv, "surge"sv, "no_load"sv, "loss"sv, "efficiency"sv,
                              "runs"sv, "cut_out"sv, "ripple"sv, "mass"sv, "price"sv, "stud"sv});

struct Head {
  std::string name;
  PartKind is{};
};

}  // namespace
}  // namespace design

template <>
inline constexpr auto fields<StockedConductor> = std::array{
    field<&StockedConductor::size>("size", "The size of a conductor.", "6 mm2"),
    field<&StockedConductor::price>("price", "Of a metre of conductor, in any currency.",
                                    "2.40 EUR"),
    field<&StockedConductor::in_stock>("in_stock",
                                       "True where it is in stock. Where any conductor (or device) "
                                       "says so, only those that are in "
                                       "stock are chosen.",
                                       "true"),
};
template <>
inline constexpr auto fields<StockedDevice> = std::array{
    field<&StockedDevice::type>("type", "A fuse type of the tables, or the name of a [[device]].",
                                "terminal-cube"),
    rated_amperes(field<&StockedDevice::ratings>("ratings", "Ratings of that device.",
                                                 "[\"50 A\", \"100 A\"]")),
    field<&StockedDevice::price>("price", "Of a device, in any currency.", "12 EUR"),
    field<&StockedDevice::in_stock>("in_stock",
                                    "True where it is in stock. Where any conductor (or device) "
                                    "says so, only those that are in "
                                    "stock are chosen.",
                                    "true"),
};
template <>
inline constexpr auto fields<Head> = std::array{
    field<&Head::name>("name", "What answers call it; no two parts have the same name.", "B100"),
    field<&Head::is>("is", "What it is.", "battery"),
};

namespace design {
namespace {

bool is_of_head(const Node::Entry& e) { return e.key == "name" || e.key == "is"; }

/// The table in two: what every part has, and what its kind has.
std::pair<Node, Node> divided(const Node& part) {
  Node head{Node::Table{}, part.place}, rest = head;
  for (const auto& entry : std::get<Node::Table>(part.value))
    std::get<Node::Table>((is_of_head(entry) ? head : rest).value).push_back(entry);
  return {std::move(head), std::move(rest)};
}

template <class Value> void take(std::optional<Value>& to, const std::optional<Value>& from) {
  if (from) to = from;
}
template <class Value> void take(std::vector<Value>& to, const std::vector<Value>& from) {
  if (!from.empty()) to = from;
}

void put_battery(const Bank& part, Bank& bank) {
  bank.capacity = part.capacity;
  bank.nominal_voltage = part.nominal_voltage;
  // What this battery does not say is not taken from the one before.
  bank.resistance = part.resistance;
  bank.charge_limit = part.charge_limit;
  bank.discharge_limit = part.discharge_limit;
  bank.peak = part.peak;
  bank.charge_cut_off_below = part.charge_cut_off_below;
  bank.no_cold_cut_off = part.no_cold_cut_off;
  bank.charge_cut_off_above = part.charge_cut_off_above;
  bank.own_draw = part.own_draw;
  bank.mass = part.mass;
  bank.size = part.size;
  bank.price = part.price;
  take(bank.terminal, part.terminal);  // of the bank as built, where the part is silent
}

template <class Equipment>
void put_equipment(const Equipment& part, std::vector<Equipment>& list, std::string_view name) {
  for (Equipment& one : list) {
    if (one.name != name) continue;
    Equipment changed = part;
    changed.name = one.name;
    changed.place = one.place;
    changed.assembly = one.assembly;
    // What is set on the line, not bought: it stays where the part does not say.
    if constexpr (requires { part.charge_voltage; })
      if (!part.charge_voltage) changed.charge_voltage = one.charge_voltage;
    one = std::move(changed);
  }
}

}  // namespace

FieldList part_fields(PartKind kind) {
  switch (kind) {
  case PartKind::battery: return battery_fields;
  case PartKind::module: return fields<Module>;
  case PartKind::controller: return controller_fields;
  case PartKind::charger: return charger_fields;
  case PartKind::inverter: return inverter_fields;
  case PartKind::conductor: return fields<StockedConductor>;
  case PartKind::device: return fields<StockedDevice>;
  }
  return {};
}

FieldList all_part_fields() {
  static const std::vector<Field> all = [] {
    std::vector<Field> list(fields<Head>.begin(), fields<Head>.end());
    for (int kind = 0; kind < int(words<PartKind>.size()); ++kind)
      for (const Field& f : part_fields(static_cast<PartKind>(kind)))
        if (f.role == Field::Role::member &&
            std::none_of(list.begin(), list.end(), [&](const Field& g) {
              return g.key == f.key && g.shape == f.shape;  // a kind is not always the same choice
            }))
          list.push_back(f.optional());
    return list;
  }();
  return all;
}

FieldList catalogue_fields() { return fields<Catalogue>; }

bool read_part(const Node& n, Part& to, const Field&, Reading& r) {
  to.place = n.place;
  if (!std::holds_alternative<Node::Table>(n.value)) {
    r.diagnostics.error(n.place, r.path, "wants a table",
                        "[[part]] with `name`, `is` and its keys");
    return false;
  }
  const auto both = divided(n);
  const Node &head_node = both.first, &rest = both.second;
  Head head;
  const bool good = read_table(head_node, fields<Head>, &head, r);
  to.name = head.name;
  if (!good) return false;
  const auto fill = [&](auto& part) { return read_table(rest, part_fields(head.is), &part, r); };
  switch (head.is) {
  case PartKind::battery: return fill(to.is.emplace<Bank>());
  case PartKind::module: return fill(to.is.emplace<Module>());
  case PartKind::controller: return fill(to.is.emplace<Controller>());
  case PartKind::charger: return fill(to.is.emplace<Charger>());
  case PartKind::inverter: return fill(to.is.emplace<Inverter>());
  case PartKind::conductor: return fill(to.is.emplace<StockedConductor>());
  case PartKind::device: return fill(to.is.emplace<StockedDevice>());
  }
  return false;
}

Node node_of(const Part& part) {
  const Head head{part.name, part.kind()};
  Node node = housepower::node_of(fields<Head>, &head);
  const Node rest = std::visit(
      [&](const auto& is) { return housepower::node_of(part_fields(part.kind()), &is); }, part.is);
  auto& table = std::get<Node::Table>(node.value);
  for (const auto& entry : std::get<Node::Table>(rest.value)) table.push_back(entry);
  return node;
}

void check_names(const std::vector<Part>& parts, Diagnostics& diagnostics) {
  std::set<std::string_view> names;
  for (const Part& part : parts)
    if (!names.insert(part.name).second)
      diagnostics.error(part.place, "part/" + part.name,
                        "the name \"" + part.name + "\" is taken by another part",
                        "no two parts have the same name");
}

void check_figures(const std::vector<Part>& parts, Diagnostics& diagnostics) {
  for (const Part& part : parts)
    if (const auto* module = std::get_if<Module>(&part.is))
      check_module(diagnostics, *module, part.place, "part/" + part.name);
}

std::optional<Catalogue> catalogue_of(const Node& node, Diagnostics& diagnostics) {
  Reading reading{diagnostics};
  auto catalogue = read<Catalogue>(node, reading);
  if (!catalogue) return std::nullopt;
  if (catalogue->schema != 1)
    diagnostics.error(node.place, "schema", "is of another format", "schema = 1");
  check_names(catalogue->part, diagnostics);
  return diagnostics.any_error() ? std::nullopt : std::move(catalogue);
}

void put(const Part& part, Document& document, std::string_view name) {
  switch (part.kind()) {
  case PartKind::battery:
    if (document.bank) put_battery(std::get<Bank>(part.is), *document.bank);
    break;
  case PartKind::module:
    for (Array& array : document.array)
      if (array.name == name) array.module = std::get<Module>(part.is);
    break;
  case PartKind::controller:
    put_equipment(std::get<Controller>(part.is), document.controller, name);
    break;
  case PartKind::charger: put_equipment(std::get<Charger>(part.is), document.charger, name); break;
  case PartKind::inverter:
    put_equipment(std::get<Inverter>(part.is), document.inverter, name);
    break;
  case PartKind::conductor:
  case PartKind::device: break;  // chosen run by run, not put in one place
  }
}

}  // namespace design
}  // namespace housepower

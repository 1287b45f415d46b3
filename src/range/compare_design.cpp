// SPDX-License-Identifier: Apache-2.0
// Two trees of a design file side by side, along the field list of the format.
#include <algorithm>
#include <cmath>

#include "housepower/design/money.hpp"
#include "housepower/range/compare.hpp"
#include "housepower/units/unit.hpp"

namespace housepower::range {
namespace {

using Form = Shape::Form;
using Value = Change::Value;

struct Walk {
  const tables::Tables& tables;
  std::vector<Change>& changes;
};

const std::string* text_in(const Node& node) { return std::get_if<std::string>(&node.value); }

std::optional<double> bare_in(const Node& node) {
  if (const auto* whole = std::get_if<std::int64_t>(&node.value)) return double(*whole);
  const auto* real = std::get_if<double>(&node.value);
  return real ? std::optional(*real) : std::nullopt;
}

/// A ratio may stand bare; every other quantity is a text with its unit.
std::optional<Number> number_in(const Node& node, Kind kind) {
  if (const auto bare = bare_in(node))
    return kind == Kind{} ? std::optional(Number(*bare, kind)) : std::nullopt;
  const auto* text = text_in(node);
  if (!text) return std::nullopt;
  const auto parsed = parse_quantity(*text, kind);
  const auto* number = std::get_if<Number>(&parsed);
  return number ? std::optional(*number) : std::nullopt;
}

/// Members of a list that is no list of tables; the points of a curve are a number and a time each.
constexpr Shape of_a_point{.form = Form::quantity, .kind = kind_of<Duration>};
const Shape& items_of(const Shape& shape) { return shape.items ? *shape.items : of_a_point; }

Value value_of(const Node& node, const Shape& shape) {
  if (const auto* flag = std::get_if<bool>(&node.value)) return *flag;
  if (shape.form == Form::quantity)
    if (const auto n = number_in(node, shape.kind)) return *n;
  if (const auto bare = bare_in(node)) return *bare;
  if (const auto* list = std::get_if<Node::List>(&node.value)) {
    std::string all;
    for (const Node& member : *list)
      all += (all.empty() ? "" : ", ") + text_of(value_of(member, items_of(shape)));
    return all;
  }
  const auto* text = text_in(node);
  return text ? *text : std::string();
}

bool same_number(double a, double b) {
  return std::abs(a - b) <= 1e-9 * std::max(std::abs(a), std::abs(b));
}

/// "35 mm2" and "35 mm²", "420 EUR" and "420.00 EUR".
bool same_text(const std::string& a, const std::string& b, const tables::Tables& tables) {
  if (a == b) return true;
  const auto x = design::money_of(a), y = design::money_of(b);
  if (x && y)
    return x->currency == y->currency && same_number(double(x->amount), double(y->amount));
  const auto m = tables::conductor_named(tables, a), n = tables::conductor_named(tables, b);
  const auto *c = std::get_if<tables::Conductor>(&m), *d = std::get_if<tables::Conductor>(&n);
  return c && d && c->name == d->name && c->series == d->series && c->tinned == d->tinned;
}

bool means_the_same(const Node& a, const Node& b, const Shape& shape,
                    const tables::Tables& tables) {
  const auto *m = std::get_if<Node::List>(&a.value), *n = std::get_if<Node::List>(&b.value);
  if (m && n)
    return std::equal(m->begin(), m->end(), n->begin(), n->end(),
                      [&](const Node& x, const Node& y) {
                        return means_the_same(x, y, items_of(shape), tables);
                      });
  const Value x = value_of(a, shape), y = value_of(b, shape);
  if (x.index() != y.index()) return false;
  if (const auto* number = std::get_if<Number>(&x))
    return same_number(number->si, std::get<Number>(y).si);
  if (const auto* bare = std::get_if<double>(&x)) return same_number(*bare, std::get<double>(y));
  if (const auto* text = std::get_if<std::string>(&x))
    return same_text(*text, std::get<std::string>(y), tables);
  return x == y;
}

void tell(Walk& walk, std::string path, Value before, Value after) {
  Change& change = walk.changes.emplace_back();
  change.change = std::holds_alternative<std::monostate>(before)  ? "added"
                  : std::holds_alternative<std::monostate>(after) ? "removed"
                                                                  : "changed";
  change.path = std::move(path);
  change.before = std::move(before);
  change.after = std::move(after);
}

/// The first keys of what was added or removed as a whole: "power 700 W, supply inverter".
std::string summary(const Node& node, FieldList list) {
  constexpr int most = 4;
  std::string all;
  int told = 0;
  for (const Field& field : list) {
    const auto* entry = node.find(field.key);
    if (field.role != Field::Role::member || !entry || field.key == "name" || told == most ||
        field.shape->form == Form::table || field.shape->form == Form::free_keys ||
        field.shape->form == Form::list)
      continue;
    all += (all.empty() ? "" : ", ") + std::string(field.key) + " " +
           text_of(value_of(entry->value, *field.shape));
    ++told;
  }
  return all;
}

const Node& or_empty(const Node* node) {
  static const Node nothing{Node::Table{}, {}};
  return node ? *node : nothing;
}
const Node::List& members_of(const Node* node) {
  static const Node::List none;
  const auto* list = node ? std::get_if<Node::List>(&node->value) : nullptr;
  return list ? *list : none;
}

void tables_changes(Walk& walk, const std::string& path, const Node& before, const Node& after,
                    FieldList list);

/// Lists of tables: by their names, or else by their positions.
void lists_changes(Walk& walk, const std::string& path, const Node::List& before,
                   const Node::List& after, FieldList inner) {
  const bool named =
      std::any_of(inner.begin(), inner.end(), [](const Field& f) { return f.key == "name"; });
  const auto partner = [&](const Node::List& list, const Node& of, std::size_t number) {
    if (!named) return number < list.size() ? &list[number] : nullptr;
    const auto found = std::find_if(list.begin(), list.end(), [&](const Node& other) {
      return other.text_at("name") == of.text_at("name");
    });
    return found == list.end() ? nullptr : &*found;
  };
  const auto path_of = [&](const Node& node, std::size_t number) {
    return path + "/" +
           std::string(named ? node.text_at("name").value_or("") : std::to_string(number));
  };
  for (std::size_t i = 0; i < before.size(); ++i) {
    const Node* now = partner(after, before[i], i);
    if (now) tables_changes(walk, path_of(before[i], i), before[i], *now, inner);
    else tell(walk, path_of(before[i], i), summary(before[i], inner), {});
  }
  for (std::size_t i = 0; i < after.size(); ++i)
    if (!partner(before, after[i], i))
      tell(walk, path_of(after[i], i), {}, summary(after[i], inner));
}

/// Lists of names: each that came or went.
void names_changes(Walk& walk, const std::string& path, const Node& before, const Node& after) {
  const auto &was = members_of(&before), &is = members_of(&after);
  const auto holds = [](const Node::List& list, const Node& name) {
    return std::any_of(list.begin(), list.end(),
                       [&](const Node& other) { return *text_in(other) == *text_in(name); });
  };
  const std::size_t told = walk.changes.size();
  for (const Node& name : was)
    if (!holds(is, name)) tell(walk, path, value_of(name, {}), {});
  for (const Node& name : is)
    if (!holds(was, name)) tell(walk, path, {}, value_of(name, {}));
  if (told == walk.changes.size()) tell(walk, path, value_of(before, {}), value_of(after, {}));
}

const Node* value_at(const Node& node, std::string_view key) {
  const auto* entry = node.find(key);
  return entry ? &entry->value : nullptr;
}

void key_changes(Walk& walk, const std::string& path, const Node* before, const Node* after,
                 const Shape& shape);

/// A table whose keys are the writer's own: those of before, and what is new after.
void free_key_changes(Walk& walk, const std::string& path, const Node& before, const Node& after,
                      const Shape& of_each) {
  const auto keys_of = [](const Node& node) -> const Node::Table& {
    static const Node::Table none;
    const auto* table = std::get_if<Node::Table>(&node.value);
    return table ? *table : none;
  };
  for (const auto& entry : keys_of(before))
    key_changes(walk, path + "/" + entry.key, &entry.value, value_at(after, entry.key), of_each);
  for (const auto& entry : keys_of(after))
    if (!before.find(entry.key))
      key_changes(walk, path + "/" + entry.key, nullptr, &entry.value, of_each);
}

void key_changes(Walk& walk, const std::string& path, const Node* before, const Node* after,
                 const Shape& shape) {
  if (!before && !after) return;
  if (shape.form == Form::free_keys)
    return free_key_changes(walk, path, or_empty(before), or_empty(after), *shape.items);
  const bool is_list = shape.form == Form::list;
  if (shape.form == Form::table)
    return tables_changes(walk, path, or_empty(before), or_empty(after), shape.inner());
  if (is_list && shape.items && shape.items->form == Form::table)
    return lists_changes(walk, path, members_of(before), members_of(after), shape.items->inner());
  if (before && after && means_the_same(*before, *after, shape, walk.tables)) return;
  if (before && after && is_list && shape.items && shape.items->form == Form::text)
    return names_changes(walk, path, *before, *after);
  tell(walk, path, before ? value_of(*before, shape) : Value{},
       after ? value_of(*after, shape) : Value{});
}

void tables_changes(Walk& walk, const std::string& path, const Node& before, const Node& after,
                    FieldList list) {
  for (const Field& field : list)
    if (field.role == Field::Role::member)
      key_changes(walk, path + (path.empty() ? "" : "/") + std::string(field.key),
                  value_at(before, field.key), value_at(after, field.key), *field.shape);
}

}  // namespace

std::vector<Change> design_changes(const Node& before, const Node& after,
                                   const tables::Tables& tables) {
  std::vector<Change> changes;
  Walk walk{tables, changes};
  tables_changes(walk, "", before, after, design::document_fields());
  return changes;
}

}  // namespace housepower::range

// SPDX-License-Identifier: Apache-2.0
// Fills in what the input left out. A default is read by the reader of its own field, so that it
// means just what the same words in a file would mean.
#include <algorithm>
#include <stdexcept>

#include "housepower/reading/fields.hpp"
#include "housepower/reading/shape.hpp"
#include "housepower/reading/text.hpp"
#include "housepower/units/unit.hpp"

namespace housepower {
namespace {

Node node_from(const Shape& shape, std::string_view text) {
  if (shape.form == Shape::Form::flag) return {text == "true", {}};
  if (shape.form == Shape::Form::count)
    return {static_cast<std::int64_t>(std::stoll(std::string(text))), {}};
  return {std::string(text), {}};
}

void fill(const Field& field, void* object, std::string_view text) {
  Diagnostics diagnostics;
  Reading reading{diagnostics};
  if (field.read(node_from(*field.shape, text), object, field, reading)) return;
  throw std::logic_error("the default of \"" + std::string(field.key) + "\" cannot be read");
}

/// As it is written in the list, with what people are shown besides where that is in other units.
std::string shown_default(const Field& field, std::string_view text) {
  if (units_shown() != UnitsShown::us || field.shape->form != Shape::Form::quantity)
    return std::string(text);
  const auto number = parse_quantity(text, field.shape->kind);
  return std::holds_alternative<Number>(number) ? print(std::get<Number>(number))
                                                : std::string(text);
}

// Another key of its group is stated, so that this one has to stay away.
bool is_excluded(const Field& field, FieldList list, const void* object) {
  for (const auto& group : list) {
    if (group.role == Field::Role::member) continue;
    const auto keys = detail::group_of(group);
    if (std::find(keys.begin(), keys.end(), field.key) == keys.end()) continue;
    for (const auto key : keys) {
      const Field* other = detail::field_named(list, key);
      if (other && other->key != field.key && !other->absent(object)) return true;
    }
  }
  return false;
}

struct Inside {
  const Field& field;
  FieldList list;
  Defaults which;
  std::string path;
  std::vector<Assumption>& assumptions;
};

void fill_inner(void* object, std::size_t number, void* context) {
  auto& inside = *static_cast<Inside*>(context);
  std::string path = inside.path;
  if (inside.field.shape->form == Shape::Form::list) {
    const Field* name = detail::field_named(inside.list, "name");
    const auto text = name ? name->written(object) : std::string_view{};
    path = detail::join(path, text.empty() ? std::to_string(number) : std::string(text));
  }
  fill_defaults(inside.list, object, inside.which, std::move(path), inside.assumptions);
}

}  // namespace

void fill_defaults(FieldList list, void* object, Defaults which, std::string path,
                   std::vector<Assumption>& assumptions) {
  for (const auto& field : list) {
    if (field.role != Field::Role::member) continue;
    const bool kindest = which == Defaults::kindest && !field.kindest.empty();
    const std::string_view text = kindest ? field.kindest : field.otherwise;
    if (!text.empty() && field.absent(object) && !is_excluded(field, list, object)) {
      fill(field, object, text);
      assumptions.push_back(
          {detail::join(path, field.key), shown_default(field, text), std::string(field.says)});
    }
    if (!detail::holds_tables(field)) continue;
    Inside inside{field, detail::innermost(*field.shape).inner(), which,
                  detail::join(path, field.key), assumptions};
    field.each(object, fill_inner, &inside);
  }
}

}  // namespace housepower

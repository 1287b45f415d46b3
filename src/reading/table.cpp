// SPDX-License-Identifier: Apache-2.0
// The reader of a table: every key is known or an error, every required key is there, groups of
// keys are kept. All of it is said, never only the first.
#include <algorithm>

#include "housepower/reading/fields.hpp"
#include "housepower/reading/node.hpp"
#include "housepower/reading/shape.hpp"
#include "housepower/reading/text.hpp"

namespace housepower {
namespace {

using Role = Field::Role;

// `remove` that merging has left over: there was nothing of that name, or no such key.
bool say_unknown(const Node::Entry& entry, FieldList list, Reading& reading) {
  const std::string key = detail::join(reading.path, entry.key);
  if (const auto* keys = std::get_if<Node::List>(&entry.value.value);
      entry.key == "remove" && keys) {
    for (const Node& named : *keys) {
      const auto* text = std::get_if<std::string>(&named.value);
      reading.diagnostics.error(named.place, key,
                                text ? "removes nothing: below is no key " + detail::quoted(*text)
                                     : "wants keys in quotes such as [\"price\"]");
    }
    return false;
  }
  if (entry.key == "remove") {
    reading.diagnostics.error(entry.place, key, "removes nothing: no member below has this name",
                              "a whole table goes by its key: remove = [\"place\"] above it");
    return false;
  }
  const auto known = detail::keys_of(list);
  std::string hint = did_you_mean(entry.key, known);
  for (const auto& field : list) {
    if (!hint.empty() || !detail::holds_tables(field)) continue;
    if (detail::field_named(detail::innermost(*field.shape).inner(), entry.key))
      hint = detail::quoted(entry.key) + " is a key of \"" + std::string(field.key) + "\"";
  }
  if (hint.empty()) hint = "the keys here are " + detail::listed(known, ", ");
  reading.diagnostics.error(entry.place, key, "is not a key of this table", std::move(hint));
  return false;
}

bool read_note(const Node::Entry& entry, Reading& reading) {
  static constexpr Shape text{.form = Shape::Form::text};
  Field note;
  note.key = "note";
  note.example = "why it is so";
  note.shape = &text;
  note.any_length = true;
  std::string ignored;
  return read_text(entry.value, note, reading, ignored);
}

/// The value of its example in the place of one that cannot be read; of a name, its number in the list,
/// by which its path leads to it.
void mend(const Field& field, void* object, Reading& reading) {
  Diagnostics unused;
  Reading quietly{unused, reading.path, true};
  const auto slash = reading.path.rfind('/');
  const bool named = field.key == "name" && slash != reading.path.npos;
  const auto example = parse_toml(
      "x = " + (named ? '"' + reading.path.substr(slash + 1) + '"' : detail::example_of(field)), {},
      unused);
  if (const auto* entry = example ? example->find("x") : nullptr)
    field.read(entry->value, object, field, quietly);
}

/// One that stands alone for a group has to be there as one that is required.
bool is_needed(const Field& field, FieldList list, const void* object) {
  if (field.required) return true;
  for (const Field& group : list) {
    const auto keys = detail::group_of(group);
    if (group.role == Role::exactly_one && keys.front() == field.key &&
        std::all_of(keys.begin(), keys.end(), [&](std::string_view key) {
          const Field* one = detail::field_named(list, key);
          return one && one->absent(object);
        }))
      return true;
  }
  return false;
}

void mend_all(FieldList list, void* object, const std::vector<std::string>& broken,
              Reading& reading) {
  for (const Field& field : list) {
    if (field.role != Role::member) continue;
    const std::string path = detail::join(reading.path, field.key);
    const bool lost = std::find(broken.begin(), broken.end(), path) != broken.end();
    const bool missing = field.absent(object) && is_needed(field, list, object);
    if ((lost && field.required) || missing) mend(field, object, reading);
  }
}

/// Of what is no table at all.
void mend_required(FieldList list, void* object, Reading& reading) {
  for (const Field& field : list)
    if (field.role == Role::member && (field.required || is_needed(field, list, object)))
      mend(field, object, reading);
}

bool read_entry(const Node::Entry& entry, FieldList list, void* object, Reading& reading) {
  const Field* field = detail::field_named(list, entry.key);
  if (!field && entry.key == "note") return read_note(entry, reading);
  if (!field && entry.key == "own" && std::holds_alternative<Node::Table>(entry.value.value))
    return true;
  if (!field) {
    reading.broken.push_back(detail::join(reading.path, entry.key));
    return say_unknown(entry, list, reading);
  }
  const std::string path = reading.path;
  if (detail::holds_tables(*field)) reading.path = detail::join(path, field->key);
  const bool good = field->read(entry.value, object, *field, reading);
  reading.path = path;
  if (!good && !detail::holds_tables(*field))
    reading.broken.push_back(detail::join(path, field->key));
  return good;
}

bool has_required(const Node& node, FieldList list, Reading& reading) {
  bool good = true;
  for (const auto& field : list) {
    if (!field.required || field.role != Role::member || node.find(field.key)) continue;
    std::string hint = detail::holds_tables(field)
                           ? "add a table [" + std::string(field.key) + "]"
                           : "add " + std::string(field.key) + " = " + detail::example_of(field);
    if (!field.says.empty()) hint += " (" + std::string(field.says) + ")";
    reading.broken.push_back(detail::join(reading.path, field.key));
    reading.diagnostics.error(node.place, reading.broken.back(), "is missing", std::move(hint));
    good = false;
  }
  return good;
}

bool keeps_groups(const Node& node, FieldList list, Reading& reading) {
  bool good = true;
  for (const auto& field : list) {
    if (field.role == Role::member) continue;
    const auto keys = detail::group_of(field);
    std::vector<const Node::Entry*> found;
    for (const auto key : keys)
      if (const auto* entry = node.find(key)) found.push_back(entry);
    const bool one = field.role == Role::exactly_one;
    if (found.size() == 1 || (found.empty() && !one)) continue;
    good = false;
    reading.broken.push_back(detail::join(reading.path, keys.front()));
    const Field* first = detail::field_named(list, keys.front());
    const bool typed = reading.any_length && node.place.file.empty();  // a command line
    const std::string sign = typed ? "--" : "", equals = typed ? " " : " = ";
    std::string message = one ? "wants exactly one of " : "wants at most one of ";
    message += sign + detail::listed(keys, ", " + sign) + ", has " + std::to_string(found.size());
    std::string hint = found.empty() ? "for example " + sign + std::string(keys.front()) + equals +
                                           (first ? detail::example_of(*first) : "…")
                                     : "keep one of them";
    reading.diagnostics.error(found.empty() ? node.place : found.back()->place, reading.path,
                              std::move(message), std::move(hint));
  }
  return good;
}

}  // namespace

bool read_table(const Node& node, FieldList list, void* object, Reading& reading) {
  const auto* table = std::get_if<Node::Table>(&node.value);
  if (!table) {
    reading.broken.push_back(reading.path);
    if (reading.mends) mend_required(list, object, reading);
    if (std::holds_alternative<std::monostate>(node.value)) return false;  // said by the parser
    const bool many = std::holds_alternative<Node::List>(node.value);
    reading.diagnostics.error(node.place, reading.path,
                              many ? "wants one table, got a list" : "wants a table, got a value",
                              many ? "write [" + reading.path + "], in single brackets"
                                   : "its keys are " + detail::listed(detail::keys_of(list), ", "));
    return false;
  }
  bool good = true;
  for (const auto& entry : *table) good = read_entry(entry, list, object, reading) && good;
  good = has_required(node, list, reading) && good;
  good = keeps_groups(node, list, reading) && good;
  if (reading.mends) mend_all(list, object, reading.broken, reading);
  return good;
}

namespace detail {
std::string member_path(const std::string& list_path, const Node& member, std::size_t number) {
  const auto name = member.text_at("name");
  const bool good = name && !name->empty() && count_code_points(*name) <= longest_text;
  return join(list_path, good ? std::string(*name) : std::to_string(number));
}
}  // namespace detail

}  // namespace housepower

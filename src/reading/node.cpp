// SPDX-License-Identifier: Apache-2.0
// Ways through the tree: by key, by path. One spelling of a path serves everywhere.
#include "housepower/reading/node.hpp"

#include <utility>

#include "housepower/reading/text.hpp"

namespace housepower {
namespace {
// A member by its `name`, else by its position; null where neither fits.
const Node* member(const Node::List& list, std::string_view part) {
  for (const auto& node : list)
    if (node.text_at("name") == part) return &node;
  const bool digits = part.find_first_not_of("0123456789") == part.npos;
  if (part.empty() || part.size() > 9 || !digits) return nullptr;
  const auto position = static_cast<std::size_t>(std::stoul(std::string(part)));
  return position < list.size() ? &list[position] : nullptr;
}
}  // namespace

const Node::Entry* Node::find(std::string_view key) const {
  if (const auto* table = std::get_if<Table>(&value))
    for (const auto& entry : *table)
      if (entry.key == key) return &entry;
  return nullptr;
}

Node::Entry* Node::find(std::string_view key) {
  return const_cast<Entry*>(std::as_const(*this).find(key));
}

std::optional<std::string_view> Node::text_at(std::string_view key) const {
  const Entry* entry = find(key);
  const auto* text = entry ? std::get_if<std::string>(&entry->value.value) : nullptr;
  if (!text) return std::nullopt;
  return *text;
}

const Node* Node::at(std::string_view path) const {
  const Node* here = this;
  while (here && !path.empty()) {
    const auto part = detail::take_part(path, '/');
    if (const auto* list = std::get_if<List>(&here->value)) {
      here = member(*list, part);
    } else {
      const Entry* entry = here->find(part);
      here = entry ? &entry->value : nullptr;
    }
  }
  return here;
}

}  // namespace housepower

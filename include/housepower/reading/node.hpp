// SPDX-License-Identifier: Apache-2.0
// A parsed document with the place of everything in it. The only file that knows toml++ is
// src/reading/toml.cpp; merging of `extends` happens on this tree, so each key keeps its own file.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "housepower/reading/diagnostic.hpp"

namespace housepower {

struct Node {
  struct Entry;
  using List = std::vector<Node>;
  using Table = std::vector<Entry>;  // in the order of the text
  std::variant<std::monostate, bool, std::int64_t, double, std::string, List, Table> value;
  Place place;

  /// The entry of a table under that key; null where this is no table or has no such key.
  [[nodiscard]] const Entry* find(std::string_view key) const;
  [[nodiscard]] Entry* find(std::string_view key);
  /// The text of an entry, where it is text.
  [[nodiscard]] std::optional<std::string_view> text_at(std::string_view key) const;
  /// Follows a path "run/fridge/protection/0/rating": keys, names of list members (`name`), or
  /// positions from 0. Null where it leads nowhere.
  [[nodiscard]] const Node* at(std::string_view path) const;
};
struct Node::Entry {
  std::string key;
  Place place;  // of the key
  Node value;
};

/// Parses one document. Nothing comes back only where the text is not TOML at all, is over 64 MB,
/// is no UTF-8, or nests deeper than 256 levels or 64 dotted parts.
[[nodiscard]] std::optional<Node> parse_toml(std::string_view text, std::string_view file,
                                             Diagnostics&);

/// The same; where single lines are no TOML, each is said, their values are empty, and what is left
/// comes back. For looking at the rest only.
[[nodiscard]] std::optional<Node> parse_toml_as_far(std::string_view text, std::string_view file,
                                                    Diagnostics&);

/// Later over earlier: tables merge, lists of tables merge by `name`, `remove = true` drops one, a
/// list `remove = ["stud"]` these keys of a table; other values replace.
[[nodiscard]] Node merged(Node base, const Node& over);
/// What `merged` has to lay over `base` to make `after` of it, both tables.
[[nodiscard]] Node overlay(const Node& base, const Node& after);

/// Reads a document and what it `extends` (a path beside it), base first; a ring is an error.
[[nodiscard]] std::optional<Node> read_document(std::string_view file, const FileReader&,
                                                Diagnostics&);

/// Applies "run/fridge/length=5 m" to the tree. The value is TOML where it parses as TOML, else
/// text. The place of the changed node is file "--set", line 1. A path that leads nowhere is an
/// error with a did-you-mean; a last key that does not exist yet is added.
bool set(Node& document, std::string_view assignment, Diagnostics&);
/// The same of a path and a value, both of which stand at `place`.
bool set(Node& document, std::string_view path, Node value, const Place& place, Diagnostics&);

}  // namespace housepower

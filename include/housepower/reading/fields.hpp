// SPDX-License-Identifier: Apache-2.0
// One list of fields for each kind of table in an input. The reader, the JSON Schema, the manual
// page of the format, `new`, the filling-in of defaults and the did-you-mean all walk this list,
// so they cannot differ.
//
//   template <> inline constexpr auto fields<Run> = std::array{
//       field<&Run::length>("length", "One way.", "2.4 m").more_than(0.0 * metre), … };
//
// A Field is not a template: it knows its member through plain functions. Lists are ordinary
// arrays, walked by ordinary loops in src/reading/*.cpp. Every table also takes `note`; a table
// `[own]` is ignored.
#pragma once

#include <array>
#include <concepts>
#include <initializer_list>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "housepower/reading/node.hpp"
#include "housepower/units/number.hpp"

namespace housepower {

struct Field;
using FieldList = std::span<const Field>;

/// What a value looks like in the text, for the schema, the manual and "expected …".
struct Shape {
  enum class Form { text, flag, count, number, quantity, word, list, table, free_keys };
  Form form = Form::text;
  Kind kind{};                                // of a quantity
  std::span<const std::string_view> words{};  // to choose from
  const Shape* items = nullptr;               // of a list, or of each free key
  FieldList (*inner)() = nullptr;             // of a table
};

/// No text of a design is longer, in characters, but for the paths of files and notes.
inline constexpr int longest_text = 200;

/// How the numbers of what was read show their decimals: for `say_unclear_decimals`.
struct DecimalsMet {
  struct Doubtful {
    Place place;
    std::string path, text;
  };
  std::vector<std::string> comma_files;  // in which a decimal comma stands
  std::vector<Doubtful> doubtful;        // "1.200 W": thousands where decimals have commas
};

/// Where the reader stands: for messages.
struct Reading {
  Diagnostics& diagnostics;
  std::string path{};       // "run/fridge"
  bool any_length = false;  // of tables and command lines: text may be longer
  /// What cannot be read is taken from the example of its field, or left out where it may be, so that
  /// the rest can be looked at.
  bool mends = false;
  std::vector<std::string> broken{};  // the paths of what could not be read
  DecimalsMet decimals{};
};

/// A value that the program supplied because the input left it out.
struct Assumption {
  std::string path;   // "run/fridge/laid"
  std::string value;  // "in-insulation"
  std::string why;    // the field's own words on its default, or the rule that computed it
};

/// Which defaults to fill in: the safe ones, or those that do a design the least harm. A finding
/// that fails only with the ordinary ones rests on a value nobody stated.
enum class Defaults { ordinary, kindest };

struct Field {
  enum class Role { member, exactly_one, at_most_one };
  Role role = Role::member;
  std::string_view key{}, says{}, example{};
  const Shape* shape = nullptr;
  bool required = true;
  std::string_view otherwise{};  // the default as one would write it; empty: none
  std::string_view kindest{};    // the default of Defaults::kindest, where it differs
  std::optional<Number> above{}, least{}, most{};  // SI, of the member's own kind (checked)
  std::array<std::string_view, 6> group{};         // keys of exactly_one and at_most_one
  bool any_length = false;        // text that may be longer than `longest_text`: a path
  bool number_too = false;        // text that may stand there as a whole number without quotes
  std::string_view stands_for{};  // what it is, for the help of an option: "MONTH"
  bool (*read)(const Node&, void* object, const Field&, Reading&) = nullptr;
  bool (*absent)(const void* object) = nullptr;  // an optional or list member without a value
  std::string_view (*written)(const void* object) = nullptr;  // of a text member; else empty
  Node (*node)(const void* object) = nullptr;                 // the member as a file would hold it
  /// Calls `visit` with each table inside this member (one, or those of a list) and its number.
  void (*each)(void* object, void (*visit)(void* inner, std::size_t number, void* context),
               void* context) = nullptr;

  // Each returns a changed copy, so that a list reads as a sentence.
  [[nodiscard]] constexpr Field optional() const {
    Field f = *this;
    f.required = false;
    return f;
  }
  [[nodiscard]] constexpr Field needed() const {
    Field f = *this;
    f.required = true;
    return f;
  }
  [[nodiscard]] constexpr Field of_any_length() const {
    Field f = *this;
    f.any_length = true;
    return f;
  }
  [[nodiscard]] constexpr Field or_number() const {
    Field f = *this;
    f.number_too = true;
    return f;
  }
  [[nodiscard]] constexpr Field called(std::string_view what) const {
    Field f = *this;
    f.stands_for = what;
    return f;
  }
  [[nodiscard]] constexpr Field more_than(Number n) const {
    Field f = *this;
    f.above = same_kind(n);
    return f;
  }
  [[nodiscard]] constexpr Field at_least(Number n) const {
    Field f = *this;
    f.least = same_kind(n);
    return f;
  }
  [[nodiscard]] constexpr Field at_most(Number n) const {
    Field f = *this;
    f.most = same_kind(n);
    return f;
  }
  /// The default, and the one that does least harm. The member is an std::optional.
  [[nodiscard]] constexpr Field or_else(std::string_view text,
                                        std::string_view least_harm = {}) const {
    Field f = *this;
    f.required = false;
    f.otherwise = text;
    f.kindest = least_harm;
    return f;
  }

private:
  [[nodiscard]] constexpr Number same_kind(Number n) const {
    const Shape& one = shape->items ? *shape->items : *shape;
    if (!(n.kind == one.kind))
      throw "the limit is of another kind than the member";  // compile time
    return n;
  }
};

/// Of these keys just one stands in the table; or none or one.
constexpr Field exactly_one(std::initializer_list<std::string_view> keys) {
  Field f;
  f.role = Field::Role::exactly_one;
  f.required = false;
  std::size_t i = 0;
  for (auto k : keys) f.group[i++] = k;
  return f;
}
constexpr Field at_most_one(std::initializer_list<std::string_view> keys) {
  Field f = exactly_one(keys);
  f.role = Field::Role::at_most_one;
  return f;
}

template <class T> inline constexpr auto fields = nullptr;  // specialised for each table
template <class T> inline constexpr auto words = nullptr;   // specialised for each enum
template <class T>
concept HasFields = !std::same_as<decltype(fields<T>), const std::nullptr_t>;
template <class T>
concept HasWords = std::is_enum_v<T> && !std::same_as<decltype(words<T>), const std::nullptr_t>;

/// The word of an enumerator, as the design file spells it.
template <HasWords T> constexpr std::string_view word(T value) {
  return words<T>[static_cast<std::size_t>(value)];
}

// The readers of plain values: in src/reading/values.cpp, not templates.
bool read_number(const Node&, const Field&, const Shape&, Reading&, Number& out);
bool read_text(const Node&, const Field&, Reading&, std::string& out);
bool read_flag(const Node&, const Field&, Reading&, bool& out);
bool read_count(const Node&, const Field&, Reading&, int& out);
bool read_word(const Node&, const Field&, Reading&, std::span<const std::string_view>, int& out);
bool read_table(const Node&, FieldList, void* object, Reading&);
const Node::List* read_list(const Node&, const Field&, Reading&);        // null: said so
const Node::Table* read_free_keys(const Node&, const Field&, Reading&);  // null: said so

/// The number as a file holds it: in its unit, with no more digits than give the same value again.
[[nodiscard]] Node node_of(Number);
/// A table as a file holds it: every member that is not absent, in the order of the list.
[[nodiscard]] Node node_of(FieldList, const void* object);

namespace detail {
template <class T> struct Reads;
template <class T> inline constexpr Shape shape_of = Reads<T>::shape;

template <> struct Reads<std::string> {
  static constexpr Shape shape{.form = Shape::Form::text};
  static bool read(const Node& n, std::string& to, const Field& f, Reading& r) {
    return read_text(n, f, r, to);
  }
  static Node node(const std::string& from) { return {from, {}}; }
};
template <> struct Reads<bool> {
  static constexpr Shape shape{.form = Shape::Form::flag};
  static bool read(const Node& n, bool& to, const Field& f, Reading& r) {
    return read_flag(n, f, r, to);
  }
  static Node node(bool from) { return {from, {}}; }
};
template <> struct Reads<int> {
  static constexpr Shape shape{.form = Shape::Form::count};
  static bool read(const Node& n, int& to, const Field& f, Reading& r) {
    return read_count(n, f, r, to);
  }
  static Node node(int from) { return {std::int64_t(from), {}}; }
};
template <class Unit> struct Reads<bu::quantity<Unit, double>> {
  using Q = bu::quantity<Unit, double>;
  static constexpr Shape shape{.form = Shape::Form::quantity, .kind = kind_of<Q>};
  static bool read(const Node& n, Q& to, const Field& f, Reading& r) {
    Number number;
    if (!read_number(n, f, shape, r, number)) return false;
    to = Q::from_value(number.si);
    return true;
  }
  static Node node(const Q& from) { return node_of(Number(from)); }
};
template <HasWords T> struct Reads<T> {
  static constexpr Shape shape{.form = Shape::Form::word, .words = words<T>};
  static bool read(const Node& n, T& to, const Field& f, Reading& r) {
    int index = 0;
    if (!read_word(n, f, r, words<T>, index)) return false;
    to = static_cast<T>(index);
    return true;
  }
  static Node node(T from) { return {std::string(word(from)), {}}; }
};
template <HasFields T> struct Reads<T> {
  static constexpr Shape shape{.form = Shape::Form::table,
                               .inner = [] { return FieldList(fields<T>); }};
  static bool read(const Node& n, T& to, const Field&, Reading& r) {
    if constexpr (requires { to.place; }) to.place = n.place;
    return read_table(n, fields<T>, &to, r);
  }
  static Node node(const T& from) { return node_of(fields<T>, &from); }
};
template <class T> struct Reads<std::optional<T>> {
  static constexpr const Shape& shape = shape_of<T>;
  static bool read(const Node& n, std::optional<T>& to, const Field& f, Reading& r) {
    return Reads<T>::read(n, to.emplace(), f, r) || (left_out(to, f, r), false);
  }
  static void left_out(std::optional<T>& to, const Field& f, const Reading& r) {
    if (r.mends && !f.required && !HasFields<T>) to.reset();
  }
  static Node node(const std::optional<T>& from) { return Reads<T>::node(*from); }
};
/// "run/fridge" for the member named fridge, "run/2" for one without a name.
[[nodiscard]] std::string member_path(const std::string& list_path, const Node& member,
                                      std::size_t number);

template <class T> struct Reads<std::vector<T>> {
  static constexpr Shape shape{.form = Shape::Form::list, .items = &shape_of<T>};
  static bool read(const Node& n, std::vector<T>& to, const Field& f, Reading& r) {
    const auto* list = read_list(n, f, r);
    if (!list) return false;
    to.clear();
    to.reserve(list->size());
    bool good = true;
    const std::string path = r.path;
    for (std::size_t i = 0; i < list->size(); ++i) {
      if constexpr (HasFields<T>) r.path = member_path(path, (*list)[i], i);
      good = Reads<T>::read((*list)[i], to.emplace_back(), f, r) && good;
    }
    r.path = path;
    return good;
  }
  static Node node(const std::vector<T>& from) {
    Node::List list;
    for (const T& one : from) list.push_back(Reads<T>::node(one));
    return {std::move(list), {}};
  }
};
/// Keys of the writer's own, each with a value of one kind: { "M6" = "9 mm", "M8" = "11 mm" }.
template <class T> struct Reads<std::map<std::string, T>> {
  static constexpr Shape shape{.form = Shape::Form::free_keys, .items = &shape_of<T>};
  static bool read(const Node& n, std::map<std::string, T>& to, const Field& f, Reading& r) {
    const auto* keys = read_free_keys(n, f, r);
    if (!keys) return false;
    to.clear();
    bool good = true;
    for (const auto& entry : *keys) good = Reads<T>::read(entry.value, to[entry.key], f, r) && good;
    return good;
  }
  static Node node(const std::map<std::string, T>& from) {
    Node::Table table;
    for (const auto& [key, value] : from) table.push_back({key, {}, Reads<T>::node(value)});
    return {std::move(table), {}};
  }
};
template <class M> struct MemberOf;
template <class Owner_, class Value_> struct MemberOf<Value_ Owner_::*> {
  using Owner = Owner_;
  using Value = Value_;
};
template <class T> inline constexpr bool is_optional = false;
template <class T> inline constexpr bool is_optional<std::optional<T>> = true;
template <class T> inline constexpr bool is_vector = false;
template <class T> inline constexpr bool is_vector<std::vector<T>> = true;
template <class T> inline constexpr bool is_map = false;
template <class T> inline constexpr bool is_map<std::map<std::string, T>> = true;

template <class T>
void each_table(T& member, void (*visit)(void*, std::size_t, void*), void* context) {
  if constexpr (HasFields<T>) visit(&member, 0, context);
  else if constexpr (is_optional<T>) {
    if (member) each_table(*member, visit, context);
  } else if constexpr (is_vector<T>) {
    if constexpr (HasFields<typename T::value_type>)
      for (std::size_t i = 0; i < member.size(); ++i) visit(&member[i], i, context);
  }
}
}  // namespace detail

/// A field that fills `Member`. An std::optional, std::vector or std::map member may be left out.
template <auto Member>
constexpr Field field(std::string_view key, std::string_view says, std::string_view example = {}) {
  using Owner = typename detail::MemberOf<decltype(Member)>::Owner;
  using Value = typename detail::MemberOf<decltype(Member)>::Value;
  return {.key = key,
          .says = says,
          .example = example,
          .shape = &detail::shape_of<Value>,
          .required =
              !detail::is_optional<Value> && !detail::is_vector<Value> && !detail::is_map<Value>,
          .read =
              [](const Node& node, void* object, const Field& self, Reading& reading) {
                return detail::Reads<Value>::read(node, static_cast<Owner*>(object)->*Member, self,
                                                  reading);
              },
          .absent =
              [](const void* object) {
                if constexpr (detail::is_optional<Value>)
                  return !(static_cast<const Owner*>(object)->*Member).has_value();
                else if constexpr (detail::is_vector<Value> || detail::is_map<Value>)
                  return (static_cast<const Owner*>(object)->*Member).empty();
                else return false;
              },
          .written = [](const void* object) -> std::string_view {
            if constexpr (std::is_same_v<Value, std::string>)
              return static_cast<const Owner*>(object)->*Member;
            else return {};
          },
          .node = [](const void* object) -> Node {
            return detail::Reads<Value>::node(static_cast<const Owner*>(object)->*Member);
          },
          .each =
              [](void* object, void (*visit)(void*, std::size_t, void*), void* context) {
                detail::each_table(static_cast<Owner*>(object)->*Member, visit, context);
              }};
}

/// Refuses the numbers that nobody can tell to be decimals or thousands, for their file has decimal
/// commas: at the end of a reading. False where there are any. What was typed counts as one file.
bool say_unclear_decimals(Reading&);

/// Reads a whole table; every problem goes to the list, never only the first.
template <HasFields T> std::optional<T> read(const Node& node, Reading& reading) {
  T object{};
  if constexpr (requires { object.place; }) object.place = node.place;
  const bool good = read_table(node, fields<T>, &object, reading);
  if (!say_unclear_decimals(reading) || !good) return std::nullopt;
  return object;
}

/// Fills every absent member that has a default, in this table and those inside it; each goes to
/// the list of assumptions under its path.
void fill_defaults(FieldList, void* object, Defaults, std::string path, std::vector<Assumption>&);

/// JSON Schema (2020-12) of a table; `title` names it.
[[nodiscard]] std::string json_schema(FieldList, std::string_view title);
/// The reference page of the format, Markdown: one table of keys for each kind of table.
[[nodiscard]] std::string manual(FieldList, std::string_view heading);
/// Every key with an example, all as comments, nested tables as blocks of their own. It parses once
/// the "# " at the beginning of its lines is taken away.
[[nodiscard]] std::string every_key(FieldList);

}  // namespace housepower

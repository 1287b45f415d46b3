// SPDX-License-Identifier: Apache-2.0
// The readers of plain values. Each message says what the key wants, an example, and what it got.
#include <algorithm>
#include <cmath>
#include <limits>

#include "housepower/reading/fields.hpp"
#include "housepower/reading/shape.hpp"
#include "housepower/reading/text.hpp"
#include "housepower/units/unit.hpp"
#include "members.hpp"

namespace housepower {
namespace {

std::string what_stands_there(const Node& node) {
  struct Say {
    std::string operator()(std::monostate) const { return "nothing"; }
    std::string operator()(bool flag) const { return flag ? "true" : "false"; }
    std::string operator()(std::int64_t n) const { return "the number " + std::to_string(n); }
    std::string operator()(double n) const {
      return std::isfinite(n) ? "the number " + print_plain(n, 6) : "nan or inf";
    }
    std::string operator()(const std::string& text) const {
      return detail::trimmed(text).empty() ? "empty text" : "the text " + detail::quoted(text);
    }
    std::string operator()(const Node::List&) const { return "a list"; }
    std::string operator()(const Node::Table&) const { return "a table"; }
  };
  return std::visit(Say{}, node.value);
}

std::string path_of(const Field& field, const Reading& reading) {
  return detail::holds_tables(field) ? reading.path : detail::join(reading.path, field.key);
}

/// As a file holds it, or as it is typed where it was.
std::string example_line(const Node& node, const Field& field) {
  std::string option = "--" + std::string(field.key);
  std::replace(option.begin(), option.end(), '_', '-');
  const std::string before =
      node.place.file == option ? option + " " : std::string(field.key) + " = ";
  return "for example " + before + detail::example_of(field);
}

bool fail(const Node& node, const Field& field, Reading& reading, std::string message,
          std::string hint = {}) {
  if (std::holds_alternative<std::monostate>(node.value)) return false;  // said by the parser
  reading.diagnostics.error(node.place, path_of(field, reading), std::move(message),
                            hint.empty() ? example_line(node, field) : std::move(hint));
  return false;
}

bool wants(const std::string& what, const Node& node, const Field& field, Reading& reading,
           std::string hint = {}) {
  return fail(node, field, reading, "wants " + what + ", got " + what_stands_there(node),
              std::move(hint));
}

/// The file as decimals are looked at: what was typed is one.
std::string_view file_of(const Place& place) {
  return place.is_option() ? std::string_view() : place.file;
}

void note_decimals(const Node& node, const Field& field, const std::string& text,
                   Reading& reading) {
  const DecimalMark mark = decimal_mark_of(text);
  if (mark == DecimalMark::comma) reading.decimals.comma_files.emplace_back(file_of(node.place));
  if (mark == DecimalMark::point_or_thousands)
    reading.decimals.doubtful.push_back({node.place, path_of(field, reading), text});
}

/// Far from what any van, wire or day has, so that no product or quotient of such values leaves what
/// a computer can hold. In SI, of any kind.
constexpr double least_size = 1e-12, most_size = 1e15;

bool is_of_this_world(double si) {
  return si == 0.0 || (std::abs(si) >= least_size && std::abs(si) <= most_size);
}

bool keeps_limits(double value, const std::string& shown, const Node& node, const Field& field,
                  Reading& reading) {
  const bool good = (!field.above || value > field.above->si) &&
                    (!field.least || value >= field.least->si) &&
                    (!field.most || value <= field.most->si);
  if (good && is_of_this_world(value)) return true;
  if (good)
    return fail(node, field, reading,
                shown + " is too " + (std::abs(value) < 1.0 ? "small" : "large") + " to be meant");
  return fail(node, field, reading, "must be " + detail::limits_of(field) + ", is " + shown);
}

}  // namespace

bool read_number(const Node& node, const Field& field, const Shape& shape, Reading& reading,
                 Number& out) {
  const auto* text = std::get_if<std::string>(&node.value);
  if (text && !detail::trimmed(*text).empty()) {
    const auto parsed = parse_quantity(*text, shape.kind);
    if (const auto* problem = std::get_if<ParseProblem>(&parsed))
      return fail(node, field, reading, problem->message, problem->hint);
    out = std::get<Number>(parsed);
    note_decimals(node, field, *text, reading);
    return keeps_limits(out.si, std::string(detail::trimmed(*text)), node, field, reading);
  }
  const auto* real = std::get_if<double>(&node.value);
  const auto* whole = std::get_if<std::int64_t>(&node.value);
  const bool ratio = shape.kind == Kind{} && (whole || (real && std::isfinite(*real)));
  if (!ratio) {
    const std::string what = std::string(name_of(shape.kind)) + " in quotes such as ";
    return wants(what + detail::example_of(field, shape), node, field, reading);
  }
  const double value = real ? *real : static_cast<double>(*whole);
  out = {value, shape.kind};
  return keeps_limits(value, print_plain(value, 9), node, field, reading);
}

bool say_unclear_decimals(Reading& reading) {
  const auto& commas = reading.decimals.comma_files;
  bool good = true;
  for (const auto& one : reading.decimals.doubtful) {
    if (std::find(commas.begin(), commas.end(), file_of(one.place)) == commas.end()) continue;
    auto problem = problem_of_thousands(one.text);
    reading.diagnostics.error(one.place, one.path,
                              problem.message + ": decimals have a comma elsewhere here",
                              std::move(problem.hint));
    reading.broken.push_back(one.path);
    good = false;
  }
  return good;
}

bool read_text(const Node& node, const Field& field, Reading& reading, std::string& out) {
  if (const auto* whole = std::get_if<std::int64_t>(&node.value); whole && field.number_too) {
    out = std::to_string(*whole);
    return true;
  }
  if (const auto* real = std::get_if<double>(&node.value);
      real && field.number_too && std::isfinite(*real)) {
    out = print_plain(*real, 9);
    return true;
  }
  const auto* text = std::get_if<std::string>(&node.value);
  if (!text || detail::trimmed(*text).empty()) return wants("text in quotes", node, field, reading);
  if (const int length = detail::count_code_points(*text);
      length > longest_text && !field.any_length && !reading.any_length)
    return fail(node, field, reading, "is " + std::to_string(length) + " characters long",
                "at most " + std::to_string(longest_text) +
                    " fit into the answers; a longer story goes into a note");
  out = *text;
  return true;
}

bool read_flag(const Node& node, const Field& field, Reading& reading, bool& out) {
  const auto* flag = std::get_if<bool>(&node.value);
  if (!flag) return wants("true or false, without quotes", node, field, reading);
  out = *flag;
  return true;
}

bool read_count(const Node& node, const Field& field, Reading& reading, int& out) {
  const auto* whole = std::get_if<std::int64_t>(&node.value);
  const bool fits = whole && *whole >= std::numeric_limits<int>::min() &&
                    *whole <= std::numeric_limits<int>::max();
  if (!fits) return wants("a whole number, without quotes", node, field, reading);
  out = static_cast<int>(*whole);
  return keeps_limits(out, std::to_string(out), node, field, reading);
}

bool read_word(const Node& node, const Field& field, Reading& reading,
               std::span<const std::string_view> words, int& out) {
  const auto* text = std::get_if<std::string>(&node.value);
  const std::vector<std::string_view> known(words.begin(), words.end());
  for (std::size_t i = 0; text && i < known.size(); ++i) {
    if (known[i] != *text) continue;
    out = static_cast<int>(i);
    return true;
  }
  std::string choice;
  for (const auto word : known) choice += (choice.empty() ? "" : ", ") + detail::quoted(word);
  return wants("one of " + choice, node, field, reading, text ? did_you_mean(*text, known) : "");
}

const Node::Table* read_free_keys(const Node& node, const Field& field, Reading& reading) {
  const auto* table = std::get_if<Node::Table>(&node.value);
  if (!table) wants("a table in braces", node, field, reading);
  return table;
}

const Node::List* read_list(const Node& node, const Field& field, Reading& reading) {
  const auto* list = std::get_if<Node::List>(&node.value);
  if (list && list->empty() && detail::needs_a_member(field)) {
    fail(node, field, reading, "is empty", "leave it out, or " + example_line(node, field));
    return nullptr;
  }
  if (list) return list;
  if (!detail::holds_tables(field)) {
    wants("a list in brackets", node, field, reading);
    return nullptr;
  }
  reading.broken.push_back(reading.path);
  const std::string key(field.key);
  wants("a list of tables", node, field, reading,
        "write [[" + key + "]] above each, or " + key + " = [{ … }]");
  return nullptr;
}

}  // namespace housepower

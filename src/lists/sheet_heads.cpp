// SPDX-License-Identifier: Apache-2.0
// The heads of a sheet: "Power (W)", "power / W", "Watts" and "Leistung [W]" are the key `power`.
#include <algorithm>

#include "housepower/reading/shape.hpp"
#include "housepower/reading/text.hpp"
#include "housepower/units/unit.hpp"
#include "sheet_inside.hpp"

namespace housepower {

bool SheetColumn::understood() const {
  return std::any_of(paths.begin(), paths.end(), [](const auto& p) { return !p.empty(); });
}

namespace sheets {
namespace {

constexpr std::size_t rows_above = 20;  // that may stand above the head: a title, a date

struct Match {
  std::string path, unit;
  bool by_key = false;  // the head is the key itself, no word for it
};

/// A head in two: what it names, and what may be its unit.
struct Split {
  std::string_view name, unit;
};
std::vector<Split> splits_of(std::string_view head) {
  head = detail::trimmed(head);
  while (head.ends_with('*') || head.ends_with(':'))
    head = detail::trimmed(head.substr(0, head.size() - 1));
  std::vector<Split> all{{head, {}}};
  const auto add = [&](std::size_t end, std::size_t from, std::size_t to) {
    all.push_back({detail::trimmed(head.substr(0, end)), head.substr(from, to - from)});
  };
  for (const std::string_view brackets : {"()", "[]"})
    if (const auto at = head.rfind(brackets[0]); at != head.npos && head.ends_with(brackets[1]))
      add(at, at + 1, head.size() - 1);
  for (const std::string_view between : {" in ", "/", ","})
    if (const auto at = head.find(between); at != head.npos)
      add(at, at + between.size(), head.size());
  if (const auto at = head.rfind(' '); at != head.npos) add(at, at + 1, head.size());
  return all;
}

/// The unit as the key takes it, where it fits; "" where it only says "of each".
std::optional<std::string> fitting_unit(const SheetRules& rules, const Leaf& leaf,
                                        const std::string& path, std::string_view written) {
  if (is_amount(rules, path)) {
    const std::string currency = currency_of(written);
    return currency.empty() ? std::nullopt : std::optional(currency);
  }
  if (is_size(rules, path)) {
    const std::string unit = size_unit_of(written);
    return unit.empty() ? std::nullopt : std::optional(unit);
  }
  const Shape& shape = detail::innermost(*leaf.shape);
  const std::string unit = unit_of(written);
  const auto known = unit_named(unit);
  if (shape.form == Shape::Form::quantity && !unit.empty() && known && known->kind == shape.kind)
    return unit;
  const std::string word = folded(written);
  const bool of_each = word == "each" || word == "per unit" || word == "pcs" || word == "stk" ||
                       word == "je" || word == "nominal" || word == "rated";
  return of_each ? std::optional(std::string()) : std::nullopt;
}

std::optional<Match> with_unit(const SheetRules& rules, FieldList list, std::string path,
                               std::string_view word_unit, std::string_view unit) {
  const auto leaf = leaf_at(list, path);
  if (!leaf) return std::nullopt;
  if (unit.empty()) return Match{std::move(path), std::string(word_unit), false};
  auto fits = fitting_unit(rules, *leaf, path, unit);
  if (!fits) return std::nullopt;
  if (fits->empty()) *fits = word_unit;
  return Match{std::move(path), std::move(*fits), false};
}

std::optional<Match> match_of(const SheetRules& rules, FieldList list, std::string_view head) {
  const auto paths = paths_of(list, rules.members);
  for (const Split& split : splits_of(head)) {
    const std::string name = folded(split.name);
    for (const auto& path : paths) {
      if (name != spoken(path) && name != folded(path)) continue;
      auto match = with_unit(rules, list, path, {}, split.unit);
      if (match) match->by_key = true;
      if (match) return match;
    }
    for (const HeadWord& word : rules.heads) {
      if (word.head != name) continue;
      if (auto match = with_unit(rules, list, std::string(word.path), word.unit, split.unit))
        return match;
    }
  }
  return std::nullopt;
}

/// "Leistung=power": which head, and what it is.
struct ByHand {
  std::string head, meant, typed;
  bool used = false;
};
std::vector<ByHand> by_hand_of(const SheetOptions& options, Diagnostics& diagnostics) {
  std::vector<ByHand> all;
  for (const auto& typed : options.columns) {
    const auto equals = typed.rfind('=');
    if (equals == typed.npos || detail::trimmed(typed.substr(0, equals)).empty()) {
      diagnostics.error({"--column"}, {}, "wants a heading, \"=\" and a key, got " + typed,
                        "for example --column \"Leistung=power\"; \"Farbe=\" leaves one out");
      continue;
    }
    all.push_back({folded(typed.substr(0, equals)),
                   std::string(detail::trimmed(std::string_view(typed).substr(equals + 1))), typed,
                   false});
  }
  return all;
}

/// "Hours of use", "Watts": the units that words of the head name.
std::vector<std::string> units_among_words(const SheetRules& rules, const Leaf& leaf,
                                           const std::string& path, std::string_view head) {
  std::vector<std::string> units;
  const auto add = [&](std::string_view written) {
    const auto unit = fitting_unit(rules, leaf, path, written);
    if (unit && !unit->empty() && std::find(units.begin(), units.end(), *unit) == units.end())
      units.push_back(*unit);
  };
  add(head);
  for (std::string_view rest = head; !rest.empty();)
    if (const auto word = detail::take_part(rest, ' '); word.size() > 1) add(word);
  return units;
}

/// The unit that stands in a head, whatever its name is; of two that no bracket parts neither.
std::string unit_in(const SheetRules& rules, const Leaf& leaf, const std::string& path,
                    std::string_view head) {
  const auto words = units_among_words(rules, leaf, path, head);
  if (words.size() > 1 && !head.ends_with(')') && !head.ends_with(']')) return {};
  for (const Split& split : splits_of(head))
    if (!split.unit.empty())
      if (const auto unit = fitting_unit(rules, leaf, path, split.unit)) return *unit;
  return words.empty() ? std::string() : words.front();
}

SheetColumn column_of(const Csv& csv, const Csv::Cell& cell, const SheetRules& rules,
                      std::vector<ByHand>& by_hand) {
  SheetColumn column{cell.text, csv.place_of(cell), {}, {}, {}, false};
  ByHand* said = nullptr;
  for (ByHand& one : by_hand)
    for (const Split& split : splits_of(cell.text))
      if (!said && folded(split.name) == one.head) said = &one;
  if (said) said->used = true;
  column.left_out = said && said->meant.empty();
  for (const SheetKind& kind : rules.kinds) {
    std::string& path = column.paths.emplace_back();
    column.by_key.push_back(false);
    if (column.left_out) continue;
    auto match = match_of(rules, kind.fields, said ? said->meant : cell.text);
    if (!match) continue;
    path = match->path;
    if (said && match->unit.empty())
      match->unit = unit_in(rules, *leaf_at(kind.fields, path), path, cell.text);
    column.unit = match->unit;
    column.by_key.back() = match->by_key;
  }
  return column;
}

std::vector<std::string> known_words(const SheetRules& rules) {
  std::vector<std::string> words;
  for (const SheetKind& kind : rules.kinds)
    for (const auto& path : paths_of(kind.fields, rules.members)) words.push_back(spoken(path));
  for (const HeadWord& word : rules.heads) words.emplace_back(word.head);
  return words;
}

void say_unused(const std::vector<ByHand>& by_hand, const Head& head, const SheetRules& rules,
                Diagnostics& diagnostics) {
  std::vector<std::string_view> heads;
  for (const auto& column : head.columns) heads.push_back(column.head);
  const auto words = known_words(rules);
  for (const ByHand& one : by_hand) {
    if (!one.used) {
      std::string there;
      for (const auto name : heads) there += (there.empty() ? "" : ", ") + detail::quoted(name);
      diagnostics.error({"--column"}, {}, "no column has the heading " + one.typed,
                        "the headings are " + there);
      continue;
    }
    if (one.meant.empty()) continue;
    const bool known =
        std::any_of(rules.kinds.begin(), rules.kinds.end(), [&](const SheetKind& kind) {
          return match_of(rules, kind.fields, one.meant).has_value();
        });
    if (known) continue;
    const std::string hint = did_you_mean(folded(one.meant), {words.begin(), words.end()});
    diagnostics.error({"--column"}, {}, detail::quoted(one.meant) + " is not a key of this table",
                      hint.empty() ? "housepower schema --page lists the keys" : hint);
  }
}

/// A key's own column leaves the one that has only a word for it to the other kinds of rows:
/// `power` of a module is no second `rating` of an inverter.
void prefer_keys(Head& head, const SheetRules& rules) {
  for (std::size_t k = 0; k < rules.kinds.size(); ++k)
    for (SheetColumn& column : head.columns) {
      const auto is_key = [&](const SheetColumn& other) {
        return other.paths[k] == column.paths[k] && other.by_key[k];
      };
      const auto kinds = std::count_if(column.paths.begin(), column.paths.end(),
                                       [](const auto& path) { return !path.empty(); });
      if (kinds > 1 && !column.by_key[k] &&
          std::any_of(head.columns.begin(), head.columns.end(), is_key))
        column.paths[k].clear();
    }
}

void say_twice(const Head& head, const SheetRules& rules, Diagnostics& diagnostics) {
  for (std::size_t i = 0; i < head.columns.size(); ++i)
    for (std::size_t j = 0; j < i; ++j)
      for (std::size_t k = 0; k < rules.kinds.size(); ++k) {
        const auto& path = head.columns[i].paths[k];
        if (path.empty() || path != head.columns[j].paths[k]) continue;
        diagnostics.error(head.columns[i].place, path,
                          "is stated by two columns, " + detail::quoted(head.columns[j].head) +
                              " and " + detail::quoted(head.columns[i].head),
                          "leave one out: --column " + detail::quoted(head.columns[i].head + "=") +
                              ", or say what it is");
        k = rules.kinds.size() - 1;  // said once is enough
      }
}

bool holds_anything(const Csv& csv, std::size_t head_row, std::size_t column) {
  for (std::size_t r = head_row; r < csv.rows.size(); ++r)
    if (column < csv.rows[r].size() && !csv.rows[r][column].text.empty()) return true;
  return false;
}

/// "Hours": the only key that is usually counted in the unit which the head names, with that unit.
std::string key_of_its_unit(const SheetRules& rules, std::string_view head) {
  std::string found;
  for (const SheetKind& kind : rules.kinds)
    for (const auto& path : paths_of(kind.fields, rules.members)) {
      const Leaf leaf = *leaf_at(kind.fields, path);
      const auto usual = usual_unit(leaf);
      const auto units = units_among_words(rules, leaf, path, head);
      if (!usual || units.size() != 1 || units.front() != usual->symbol) continue;
      const std::string key = path + " (" + units.front() + ")";
      if (!found.empty() && found != key) return {};
      found = key;
    }
  return found;
}

/// The first unit that a head names: charge of "Ah per day", which is no time.
std::optional<Unit> first_unit_in(std::string_view head) {
  constexpr std::string_view between = " ()[]/,_";
  while (!head.empty()) {
    const auto begin = std::min(head.find_first_not_of(between), head.size());
    const auto end = std::min(head.find_first_of(between, begin), head.size());
    const std::string_view word = head.substr(begin, end - begin);
    if (const auto unit = unit_named(unit_of(word)); unit && word != "in") return unit;
    head.remove_prefix(end);
  }
  return std::nullopt;
}

/// Whether a key that may be meant takes that unit, or is no quantity.
bool takes(const SheetRules& rules, std::string_view meant, const Unit& unit) {
  for (const SheetKind& kind : rules.kinds)
    if (const auto match = match_of(rules, kind.fields, meant)) {
      const Shape& shape = detail::innermost(*leaf_at(kind.fields, match->path)->shape);
      if (shape.form != Shape::Form::quantity || shape.kind == unit.kind) return true;
    }
  return false;
}

/// Amounts a day from which no key follows by themselves.
std::string_view not_read(const Unit& unit) {
  if (unit.kind == kind_of<Energy>)
    return "energy is not read: state the power and the hours a day it is drawn";
  if (unit.kind == kind_of<Charge>)
    return "charge is not read: state the current, or the power, and the hours a day it is drawn";
  return {};
}

void say_not_understood(const Head& head, const SheetRules& rules, Diagnostics& diagnostics) {
  const auto words = known_words(rules);
  for (const auto& column : head.columns) {
    if (column.understood() || column.left_out) continue;
    const std::string by_unit = key_of_its_unit(rules, column.head);
    auto meant = by_unit.empty() ? nearest(folded(column.head), {words.begin(), words.end()})
                                 : std::string_view(by_unit);
    // Watt-hours are no hours, and ampere-hours neither, however alike the words.
    const auto unit = first_unit_in(column.head);
    if (unit && !meant.empty() && !takes(rules, meant, *unit)) meant = {};
    const auto why_not = unit && meant.empty() ? not_read(*unit) : std::string_view();
    const std::string key(meant.empty() ? "KEY" : meant);
    const std::string by_hand = "--column " + detail::quoted(column.head + "=" + key);
    std::string hint =
        column.head.empty() ? "write above it what it is"
        : !why_not.empty()  ? std::string(why_not)
        : meant.empty() ? "say what it is: " + by_hand + ", or nothing after \"=\" to leave it out"
                        : "did you mean " + detail::quoted(key) + "? Then " + by_hand;
    diagnostics.warning(column.place, {},
                        column.head.empty() ? "a column without a heading is left out"
                                            : "the column " + detail::quoted(column.head) +
                                                  " is not understood and is left out",
                        std::move(hint));
  }
}

}  // namespace

Head read_head(const Csv& csv, const SheetRules& rules, const SheetOptions& options,
               Diagnostics& diagnostics) {
  const auto typed = by_hand_of(options, diagnostics);
  const std::size_t rows = std::min(csv.rows.size(), rows_above);
  Head head;
  auto by_hand = typed;
  for (std::size_t row = 0; row <= rows && !csv.rows.empty(); ++row) {  // after the last the first
    by_hand = typed;
    head = {row < rows ? row : 0, {}};
    for (const auto& cell : csv.rows[head.row])
      head.columns.push_back(column_of(csv, cell, rules, by_hand));
    const auto understood = std::count_if(head.columns.begin(), head.columns.end(),
                                          [](const SheetColumn& c) { return c.understood(); });
    if (understood >= 2) break;
  }
  while (!head.columns.empty() && head.columns.back().head.empty() &&
         !holds_anything(csv, head.row, head.columns.size() - 1))
    head.columns.pop_back();
  prefer_keys(head, rules);
  say_unused(by_hand, head, rules, diagnostics);
  say_twice(head, rules, diagnostics);
  say_not_understood(head, rules, diagnostics);
  return head;
}

}  // namespace sheets
}  // namespace housepower

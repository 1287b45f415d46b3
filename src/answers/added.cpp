// SPDX-License-Identifier: Apache-2.0
#include "added.hpp"

#include <algorithm>
#include <deque>
#include <utility>

#include "housepower/answers/typed.hpp"
#include "housepower/energy/questions.hpp"
#include "housepower/units/unit.hpp"

namespace housepower::answers {
namespace {

/// How it is typed: for messages.
constexpr std::string_view added_form = "--add \"Air fryer: 1400 W, 0.3 h, inverter\": a name, its "
                                        "power, hours a day, and the inverter "
                                        "or dc; \"at 18:00-20:00\" says when";

/// "7:30-8", "18:00 - 20:00": as the design file writes it; what is no time stays as it is.
std::string window_of(std::string text) {
  constexpr std::string_view long_dash = "–";
  if (const auto at = text.find(long_dash); at != text.npos)
    text.replace(at, long_dash.size(), "-");
  std::string_view typed = text;
  std::string out;
  for (bool last = false;; last = true) {
    const auto dash = last ? typed.npos : typed.find('-');
    std::string time(trimmed(typed.substr(0, dash)));
    if (time.find(':') == time.npos) time += ":00";
    if (time.size() == 4) time.insert(time.begin(), '0');
    out += (last ? "-" : "") + time;
    if (dash == typed.npos) return out;
    typed.remove_prefix(dash + 1);
  }
}
/// What stands for a time of the day in "at 18:00-20:00" or "18:00-20:00".
std::optional<std::string_view> window_in(std::string_view text) {
  const bool says_at = in_small_letters(text.substr(0, 3)) == "at ";
  if (says_at) return trimmed(text.substr(3));
  const bool plain =
      text.find('-', 1) != text.npos && text.find_first_not_of("0123456789:- ") == text.npos;
  return plain ? std::optional(text) : std::nullopt;
}

template <class Q> bool is_of(std::string_view text) {
  return std::holds_alternative<Number>(parse_quantity(text, kind_of<Q>));
}

/// "3 hours", "60 watts", "all day": as a quantity is written.
std::string in_plain_units(std::string_view typed) {
  std::string text = in_small_letters(typed);
  if (text == "all day") return "24 h";
  for (const auto& [word, unit] :
       {std::pair{"hours", " h"}, std::pair{"hour", " h"}, std::pair{"hrs", " h"},
        std::pair{"minutes", " min"}, std::pair{"mins", " min"}, std::pair{"watts", " W"},
        std::pair{"watt", " W"}})
    if (text.ends_with(word)) {
      const auto number = trimmed(typed.substr(0, text.size() - std::string_view(word).size()));
      return std::string(number) + unit;
    }
  return std::string(typed);
}

/// "0.3 h a day" and "0.3 h/day" are 0.3 h.
std::string_view without_a_day(std::string_view text) {
  for (const std::string_view end : {"a day", "per day", "/day", "/d", "daily"})
    if (text.ends_with(end)) return trimmed(text.substr(0, text.size() - end.size()));
  return text;
}

/// An appliance as it was typed after --add.
struct Added {
  const Typed& typed;
  std::vector<std::string_view> inverters;
  Diagnostics& diagnostics;
  Piece name{};
  std::optional<Piece> power{}, hours{}, supply{};
  bool by_current = false;
  Node::List windows{};
  std::deque<std::string> kept{};  // pieces in other words than typed

  bool refuse(const Piece& at, std::string message, std::string hint = {}) const {
    diagnostics.error(at.place, "appliance", std::move(message),
                      hint.empty() ? "for example " + std::string(added_form) : std::move(hint));
    return false;
  }
  bool once(std::optional<Piece>& part, const Piece& piece, const char* what) {
    if (part)
      return refuse(piece, std::string("a second ") + what + ": " + quoted(part->text) + " and " +
                               quoted(piece.text));
    part = piece;
    return true;
  }
  bool take_supply(const Piece& piece) {
    std::string_view word = piece.text;
    const std::string small = in_small_letters(word);
    if (small == "dc" || small == "d.c.") return once(supply, {"dc", piece.place}, "supply");
    if (small == "inverter" && !meant(word, inverters)) {
      if (inverters.size() == 1) return once(supply, {inverters.front(), piece.place}, "supply");
      if (inverters.empty())
        return refuse(
            piece, "the design has no inverter",
            "what a 12 V outlet feeds is \"dc\"; what needs mains voltage needs an inverter");
      return refuse(piece, "the design has several inverters", listed_inverters());
    }
    if (small.starts_with("inverter ") && !meant(word, inverters)) word = trimmed(word.substr(9));
    if (const auto inverter = meant(word, inverters))
      return once(supply, {*inverter, piece.place}, "supply");
    std::string hint = perhaps(word, inverters);
    return refuse(piece,
                  quoted(piece.text) + " is not a power, a time, an inverter of the design or dc",
                  std::move(hint));
  }
  [[nodiscard]] std::string listed_inverters() const {
    std::string hint = "say which:";
    for (const auto one : inverters) hint += (one == inverters.front() ? " " : ", ") + quoted(one);
    return hint;
  }
  bool take(const Piece& piece) {
    if (piece.text.empty()) return refuse(piece, "there is nothing between two commas");
    if (const auto window = window_in(piece.text)) {
      windows.push_back({window_of(std::string(*window)), piece.place});
      return true;
    }
    const Piece plain{kept.emplace_back(in_plain_units(without_a_day(piece.text))), piece.place};
    if (is_of<Power>(plain.text)) return once(power, plain, "power");
    if (is_of<Current>(plain.text)) return by_current = true, once(power, plain, "power");
    if (is_of<Duration>(plain.text)) return once(hours, plain, "time");
    return take_supply(piece);
  }
  bool parse(std::string_view whole) {
    const auto colon = whole.find(':');
    if (colon == whole.npos)
      return refuse(typed.whole(),
                    "wants a name, a colon, and what it draws, got " + quoted(whole));
    name = typed.piece(whole.substr(0, colon));
    if (name.text.empty()) return refuse(typed.whole(), "wants a name before the colon");
    bool good = true;
    for (const Piece& piece : typed.between_commas(whole.substr(colon + 1)))
      good = take(piece) && good;
    if (!good) return false;
    if (!power) return refuse(typed.whole(), "wants the power of " + quoted(name.text));
    if (!hours && windows.empty())
      return refuse(typed.whole(), "wants how long " + quoted(name.text) + " is used in a day");
    return supply || inverters.size() < 2 ||
           refuse(typed.whole(), "wants what supplies " + quoted(name.text),
                  listed_inverters() + ", or \"dc\"");
  }
  /// Nothing said: through the inverter, which costs more.
  [[nodiscard]] Piece supplied_by() const {
    if (supply) return *supply;
    return {inverters.empty() ? std::string_view("dc") : inverters.front(), name.place};
  }
  [[nodiscard]] Node node() const {
    const Piece from = supplied_by();
    Node::Table table{entry("name", name), entry(by_current ? "current" : "power", *power),
                      entry("supply", from), entry("used_by", {"people", name.place})};
    if (hours) table.push_back(entry("per_day", *hours));
    if (!windows.empty()) table.push_back({"between", name.place, {windows, name.place}});
    if (from.text == "dc") table.push_back(entry("on", {"bank", name.place}));
    return {std::move(table), name.place};
  }
  [[nodiscard]] std::string told() const {
    const Piece from = supplied_by();
    std::string text = "Added: " + std::string(name.text) + ", " + std::string(power->text);
    if (hours) text += ", " + std::string(hours->text) + " a day";
    for (const Node& window : windows) text += ", " + std::get<std::string>(window.value);
    text += from.text == "dc" ? ", d.c. from the bank" : ", by " + quoted(from.text);
    if (!supply)
      text += inverters.empty()
                  ? " (there is no inverter)"
                  : " (not said: the inverter takes more; for a 12 V outlet say \"dc\")";
    return text + ". It has no cable or fuse in the design, so none is checked.";
  }
};

}  // namespace

bool add_appliance(Node& design, const std::string& text, std::size_t number,
                   std::vector<std::string>& told, Diagnostics& diagnostics) {
  const Typed typed(numbered("--add", number), text);
  Added added{typed, names_in(design, "inverter"), diagnostics};
  if (!added.parse(text)) return false;
  if (const auto known = meant(added.name.text, names_in(design, "appliance")))
    return added.refuse(added.name, "the design has " + quoted(*known) + " already",
                        "--with " + quoted(*known) +
                            " uses it every day; what is added wants a name of its own");
  Node::Entry* list = design.find("appliance");
  auto& table = std::get<Node::Table>(design.value);
  if (!list) {
    table.push_back({"appliance", added.name.place, {Node::List{}, added.name.place}});
    list = &table.back();
  }
  if (auto* all = std::get_if<Node::List>(&list->value.value)) all->push_back(added.node());
  told.push_back(added.told());
  return true;
}

void warn_of_inverters(Opening& opening, std::size_t added, Diagnostics& diagnostics) {
  const design::Design& d = *opening.design;
  const std::size_t first = d->appliances.size() - std::min(added, d->appliances.size());
  for (std::size_t i = first; i < d->appliances.size(); ++i) {
    const auto& a = d->appliances[i];
    if (const auto most = energy::too_much_for_the_batteries(d, a)) {
      std::string text = "the batteries let out " + print(Number(*most)) +
                         " at most and cannot run " + energy::with_its_power(a);
      opening.told.push_back("T" + text.substr(1) + ": the answer counts it anyway.");
      diagnostics.warning({"--add", 0, 0, 1}, "bank", std::move(text),
                          "the answer counts it anyway; it needs a higher `discharge_limit`");
    }
    if (!a.inverter || a.power * double(a.quantity) <= d[*a.inverter].rating) continue;
    const auto& inverter = d[*a.inverter];
    std::string text = "\"" + inverter.name + "\" is rated for " + print(Number(inverter.rating)) +
                       " and cannot run " + energy::with_its_power(a);
    opening.told.push_back(text + ": the answer counts it anyway.");
    diagnostics.warning({"--add", 0, 0, 1}, "inverter", std::move(text),
                        "the answer counts it anyway; it needs a larger inverter");
  }
}

}  // namespace housepower::answers

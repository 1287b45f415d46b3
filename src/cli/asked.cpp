// SPDX-License-Identifier: Apache-2.0
#include "asked.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "housepower/units/unit.hpp"

namespace housepower::cli {
namespace {

std::string quoted(std::string_view text) { return "\"" + std::string(text) + "\""; }

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

int code_points(std::string_view text) {
  return int(std::count_if(text.begin(), text.end(), [](char c) { return (c & 0xC0) != 0x80; }));
}

/// What was typed after an option, piece by piece, each with its place in it.
struct Piece {
  std::string_view text;
  Place place;
};
class Typed {
public:
  Typed(std::string option, std::string_view whole) : option_(std::move(option)), whole_(whole) {}
  [[nodiscard]] Piece piece(std::string_view part) const {
    part = trimmed(part);
    const auto before =
        whole_.substr(0, part.empty() ? 0 : std::size_t(part.data() - whole_.data()));
    return {part, {option_, 1, code_points(before) + 1, std::max(1, code_points(part))}};
  }
  [[nodiscard]] Piece whole() const { return piece(whole_); }
  [[nodiscard]] std::vector<Piece> between_commas(std::string_view part) const {
    std::vector<Piece> pieces;
    for (bool more = true; more;) {
      const auto comma = part.find(',');
      pieces.push_back(piece(part.substr(0, comma)));
      more = comma != part.npos;
      if (more) part.remove_prefix(comma + 1);
    }
    return pieces;
  }

private:
  std::string option_;
  std::string_view whole_;
};

/// The second and later of an option are numbered.
std::string numbered(const char* option, std::size_t number) {
  return number == 0 ? option : option + (" (" + std::to_string(number + 1)) + ")";
}

Node text_node(const Piece& piece) { return {std::string(piece.text), piece.place}; }
Node::Entry entry(const char* key, const Piece& piece) {
  return {key, piece.place, text_node(piece)};
}

// ---- Where ----

void put_place(Node& design, Node::Table stated) {
  const Place typed = stated.front().place;
  Node::Entry* place = design.find("place");
  if (!place) {
    std::get<Node::Table>(design.value).push_back({"place", typed, {Node::Table{}, typed}});
    place = design.find("place");
  }
  auto* table = std::get_if<Node::Table>(&place->value.value);
  if (!table) return;  // told where the design is read
  std::erase_if(*table, [](const Node::Entry& e) {
    return e.key == "name" || e.key == "weather" || e.key == "latitude" || e.key == "longitude" ||
           e.key == "height";
  });
  table->insert(table->end(), stated.begin(), stated.end());
}

/// "42.1 S", "-42.1", "146.6° E": degrees, and N or E where a letter says which.
struct Coordinate {
  double degrees = 0.0;
  char axis = 0;  // 'N', 'E', or 0
};
std::optional<Coordinate> coordinate(std::string_view text) {
  Coordinate c;
  double sign = 1.0;
  const auto take_letter = [&](char letter) {
    const auto at = std::string_view("NnSsEeWw").find(letter);
    if (at == std::string_view::npos || c.axis != 0) return false;
    c.axis = at < 4 ? 'N' : 'E';
    if (at % 4 > 1) sign = -1.0;
    return true;
  };
  if (!text.empty() && take_letter(text.back())) text.remove_suffix(1);
  if (!text.empty() && take_letter(text.front())) text.remove_prefix(1);
  text = trimmed(text);
  for (const std::string_view unit : {"°", "deg"})
    if (text.ends_with(unit)) text = trimmed(text.substr(0, text.size() - unit.size()));
  if (text.starts_with('+')) text.remove_prefix(1);
  const auto number = parse_double(text);
  if (!number || (c.axis != 0 && *number < 0.0)) return std::nullopt;
  c.degrees = sign * *number;
  return c;
}

bool ask_at(Node& design, const std::string& typed, Diagnostics& diagnostics) {
  const Typed at("--at", typed);
  auto pieces = at.between_commas(typed);
  const auto refuse = [&](const Piece& piece, std::string message) {
    diagnostics.error(piece.place, "place", std::move(message),
                      "for example " + std::string(place_form));
    return false;
  };
  if (pieces.size() != 3)
    return refuse(at.whole(), pieces.size() == 2
                                  ? std::string("wants the height too: it decides how cold it is")
                                  : "wants latitude, longitude and height, got " +
                                        std::to_string(pieces.size()) +
                                        (pieces.size() == 1 ? " part" : " parts"));
  std::array<std::optional<Coordinate>, 2> found{coordinate(pieces[0].text),
                                                 coordinate(pieces[1].text)};
  for (std::size_t i : {0u, 1u})
    if (!found[i])
      return refuse(pieces[i], quoted(pieces[i].text) + " is no latitude or longitude");
  if (found[0]->axis == 'E' || found[1]->axis == 'N') {
    std::swap(found[0], found[1]);
    std::swap(pieces[0], pieces[1]);
  }
  if (found[0]->axis == 'E' || found[1]->axis == 'N')
    return refuse(at.whole(), "wants one latitude and one longitude");
  Node::Table place;
  for (std::size_t i : {0u, 1u})
    place.push_back({i == 0 ? "latitude" : "longitude",
                     pieces[i].place,
                     {print_plain(found[i]->degrees, 9) + "°", pieces[i].place}});
  place.push_back(entry("height", pieces[2]));
  put_place(design, std::move(place));
  return true;
}

bool ask_place(Node& design, const DesignOptions& o, Diagnostics& diagnostics) {
  const auto whole = [](const char* option, const std::string& text) {
    return Piece{text, {option, 1, 1, std::max(1, code_points(text))}};
  };
  if (o.town) put_place(design, {entry("name", whole("--place", *o.town))});
  if (o.weather) put_place(design, {entry("weather", whole("--weather", *o.weather))});
  return !o.at || ask_at(design, *o.at, diagnostics);
}

// ---- With what ----

std::vector<std::string_view> names_in(const Node& design, std::string_view list) {
  std::vector<std::string_view> names;
  const auto* entry = design.find(list);
  const auto* all = entry ? std::get_if<Node::List>(&entry->value.value) : nullptr;
  for (std::size_t i = 0; all && i < all->size(); ++i)
    if (const auto name = (*all)[i].text_at("name")) names.push_back(*name);
  return names;
}

/// The name among these that was meant: as written, or in other letters.
std::optional<std::string_view> meant(std::string_view typed,
                                      const std::vector<std::string_view>& names) {
  if (std::find(names.begin(), names.end(), typed) != names.end()) return typed;
  const auto same = [&](std::string_view name) {
    return in_small_letters(name) == in_small_letters(typed);
  };
  const auto found = std::find_if(names.begin(), names.end(), same);
  if (found == names.end() || std::count_if(names.begin(), names.end(), same) > 1)
    return std::nullopt;
  return *found;
}

/// The nearest of these names in whatever letters, as a question; empty where none is near.
std::string perhaps(std::string_view typed, const std::vector<std::string_view>& names) {
  std::vector<std::string> small;
  for (const auto name : names) small.push_back(in_small_letters(name));
  const std::string near(nearest(in_small_letters(typed), {small.begin(), small.end()}));
  const auto found = std::find(small.begin(), small.end(), near);
  return near.empty() ? std::string()
                      : "did you mean " + quoted(names[std::size_t(found - small.begin())]) + "?";
}

/// "7:30-8", "18:00 - 20:00": as the design file writes it; what is no time stays as it is.
std::string window_of(std::string_view typed) {
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
    return refuse(
        piece, quoted(piece.text) + " is no power, no time, no inverter of the design and not dc",
        std::move(hint));
  }
  [[nodiscard]] std::string listed_inverters() const {
    std::string hint = "say which:";
    for (const auto one : inverters) hint += (one == inverters.front() ? " " : ", ") + quoted(one);
    return hint;
  }
  bool take(const Piece& piece) {
    if (piece.text.empty()) return refuse(piece, "nothing stands between two commas");
    if (const auto window = window_in(piece.text)) {
      windows.push_back({window_of(*window), piece.place});
      return true;
    }
    if (is_of<Power>(piece.text)) return once(power, piece, "power");
    if (is_of<Current>(piece.text)) return by_current = true, once(power, piece, "power");
    const Piece hours_only{without_a_day(piece.text), piece.place};
    if (is_of<Duration>(hours_only.text)) return once(hours, hours_only, "time");
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
    return text + ". No cable or fuse is drawn for it, and none is checked.";
  }
};

bool ask_added(Node& design, const std::string& text, std::size_t number,
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

bool set_days(Node& design, const std::string& typed, std::string option, std::int64_t days,
              Diagnostics& diagnostics) {
  const Place place{std::move(option), 1, 1, std::max(1, code_points(typed))};
  const auto names = names_in(design, "appliance");
  const auto name = meant(typed, names);
  if (!name) {
    std::string hint = perhaps(typed, names);
    if (days > 0)
      hint += (hint.empty() ? "" : " ") +
              std::string("what the design has not is added with --add \"") + typed +
              ": 1200 W, 0.3 h, inverter\" (its power, hours a day, inverter or dc)";
    else if (hint.empty() && !names.empty()) {
      hint = "there is";
      for (const auto one : names) hint += (one == names.front() ? " " : ", ") + quoted(one);
    }
    diagnostics.error(place, "appliance", "the design has no appliance " + quoted(typed),
                      std::move(hint));
    return false;
  }
  for (Node& one : std::get<Node::List>(design.find("appliance")->value.value)) {
    if (one.text_at("name") != name) continue;
    auto& table = std::get<Node::Table>(one.value);
    std::erase_if(table, [](const Node::Entry& e) { return e.key == "days_of_seven"; });
    table.push_back({"days_of_seven", place, {days, place}});
    break;
  }
  return true;
}

// ---- How many ----

Duration hours_in(const design::resolved::Appliance& a) {
  Duration all{};
  for (const auto& window : a.windows) all += window.to - window.from;
  return all;
}

std::string listed(const std::vector<std::string>& names) {
  std::string text;
  for (const auto& name : names) text += (text.empty() ? "" : ", ") + name;
  return text;
}

/// So many times as long as it draws now, at most the whole time from which to choose. True where that
/// changes anything.
bool use_longer(design::Appliance& stated, const design::resolved::Appliance& a, double factor) {
  const Duration all = hours_in(a), now = a.per_day.value_or(all);
  const Duration hours = std::min(all, Duration(now * factor));
  if (hours != now) stated.per_day = hours;
  if (!(hours.value() > 0.0) || factor <= 1.0) return hours != now;
  const Ratio duty = std::min(1.0, double(a.duty) * double(now / hours) * factor);
  if (duty > a.duty) stated.duty = duty;
  return hours != now || duty > a.duty;
}

/// The design as it would be written for so many people. What nobody attributed to people or van grows
/// with them and does not shrink; hours typed just now are meant for those that were typed with them.
void ask_people(Opening& opening, const DesignOptions& o, Diagnostics& diagnostics) {
  const int people = *o.people, before = (*opening.design)->promise.people;
  if (people == before) return;
  const double factor = double(people) / double(before);
  design::Document document = *opening.document;
  std::vector<std::string> changed, as_before;
  const std::size_t own = document.appliance.size() - o.add.size();
  for (std::size_t i = 0; i < own; ++i) {
    auto& stated = document.appliance[i];
    const auto& a = (*opening.design)->appliances[i];
    if (stated.used_by == design::UsedBy::van) continue;
    if (stated.used_by || factor > 1.0) {
      if (use_longer(stated, a, factor)) changed.push_back(stated.name);
    } else if (a.used_by == design::UsedBy::people) {
      as_before.push_back(stated.name);
    }
  }
  if (!document.promise) document.promise.emplace();
  document.promise->people = people;
  auto design = design::resolve(document, *opening.tables, Defaults::ordinary, diagnostics);
  if (!design) return;
  opening.document.emplace(std::move(document));
  opening.design.emplace(*std::move(design));
  std::string text = "For " + std::to_string(people) + (people == 1 ? " person" : " people") +
                     "; the design's hours are for " + std::to_string(before) + ". ";
  text += changed.empty() ? std::string("No hours change.")
                          : "In proportion, as far as the day allows: " + listed(changed) + ".";
  if (!as_before.empty())
    text += " Not shortened, since the design does not say that people use them (used_by): " +
            listed(as_before) + ".";
  opening.told.push_back(std::move(text));
}

/// An inverter runs nothing larger than it is rated for.
void warn_of_inverters(Opening& opening, const DesignOptions& o, Diagnostics& diagnostics) {
  const design::Design& d = *opening.design;
  const std::size_t first = d->appliances.size() - std::min(o.add.size(), d->appliances.size());
  for (std::size_t i = first; i < d->appliances.size(); ++i) {
    const auto& a = d->appliances[i];
    if (!a.inverter || a.power <= d[*a.inverter].rating) continue;
    const auto& inverter = d[*a.inverter];
    std::string text = "\"" + inverter.name + "\" is rated for " + print(Number(inverter.rating)) +
                       " and cannot run " + a.name + " of " + print(Number(a.power));
    opening.told.push_back(text + ": the answer counts it all the same.");
    diagnostics.warning({"--add", 0, 0, 1}, "inverter", std::move(text),
                        "the answer counts it all the same; it takes a larger inverter");
  }
}

}  // namespace

std::string in_small_letters(std::string_view text) {
  std::string small(text);
  for (char& c : small)
    if (c >= 'A' && c <= 'Z') c = char(c - 'A' + 'a');
  return small;
}

std::string month_override(const std::string& month) { return "place/month=\"" + month + "\""; }

bool names_one_place(bool town, bool weather, bool coordinates, World& world) {
  if (int(town) + int(weather) + int(coordinates) <= 1) return true;
  world.err << "error: only one of --place, --weather and --at says where\n";
  return false;
}

bool ask(Node& design, const DesignOptions& o, std::vector<std::string>& told,
         Diagnostics& diagnostics) {
  bool good = ask_place(design, o, diagnostics);
  for (std::size_t i = 0; i < o.add.size(); ++i)
    good = ask_added(design, o.add[i], i, told, diagnostics) && good;
  for (std::size_t i = 0; i < o.with.size(); ++i)
    good = set_days(design, o.with[i], numbered("--with", i), 7, diagnostics) && good;
  for (std::size_t i = 0; i < o.without.size(); ++i)
    good = set_days(design, o.without[i], numbered("--without", i), 0, diagnostics) && good;
  return good;
}

void ask_resolved(Opening& opening, const DesignOptions& o, Diagnostics& diagnostics) {
  warn_of_inverters(opening, o, diagnostics);
  if (o.people) ask_people(opening, o, diagnostics);
}

bool has_its_runs(const Opening& opening, Diagnostics& diagnostics) {
  const design::Document& document = *opening.document;
  const design::Design& d = *opening.design;
  if (!document.run.empty()) return true;
  const char* hint =
      "draw the runs from the bank to it; `stay`, `energy` and `size` answer without any";
  for (std::size_t i = 0; i < document.appliance.size(); ++i) {
    const auto& stated = document.appliance[i];
    const auto& a = d->appliances[i];
    const bool as_stated = stated.on && d[a.post].name == *stated.on;
    if (!a.inverter && !as_stated)
      diagnostics.error(stated.place, "appliance/" + stated.name + "/on",
                        stated.on ? "no run leads from a source to " + quoted(*stated.on)
                                  : "nothing feeds it: the design has no run",
                        hint);
  }
  for (const auto& inverter : document.inverter)
    diagnostics.error(inverter.place, "inverter/" + inverter.name,
                      "no run leads from a source to " + quoted(inverter.name), hint);
  return !diagnostics.any_error();
}

}  // namespace housepower::cli

// SPDX-License-Identifier: Apache-2.0
#include "asked.hpp"

#include <algorithm>
#include <array>

#include "added.hpp"
#include "housepower/answers/typed.hpp"
#include "housepower/units/phrases.hpp"
#include "housepower/units/unit.hpp"

namespace housepower::answers {
namespace {

constexpr std::string_view place_form =
    "--at \"-42.1,146.6,730 m\" or --at \"42.1 S, 146.6 E, 730 m\": latitude, longitude and height "
    "above the sea";

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
      return refuse(pieces[i], quoted(pieces[i].text) + " is not a latitude or longitude");
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

bool ask_place(Node& design, const Question& o, Diagnostics& diagnostics) {
  if (int(o.town.has_value()) + int(o.weather.has_value()) + int(o.at.has_value()) > 1) {
    diagnostics.error({"--place", 0, 0, 1}, "place",
                      "only one of --place, --weather and --at says where");
    return false;
  }
  const auto whole = [](const char* option, const std::string& text) {
    return Typed(option, text).whole();
  };
  if (o.town) put_place(design, {entry("name", whole("--place", *o.town))});
  if (o.weather) put_place(design, {entry("weather", whole("--weather", *o.weather))});
  return !o.at || ask_at(design, *o.at, diagnostics);
}

bool set_days(Node& design, const std::string& typed, std::string option, std::int64_t days,
              Diagnostics& diagnostics) {
  const Place place = Typed(std::move(option), typed).whole().place;
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

Duration hours_in(const design::resolved::Appliance& a) {
  Duration all{};
  for (const auto& window : a.windows) all += window.to - window.from;
  return all;
}

/// So many times as long as it draws now, at most the whole time from which to choose; what they would
/// use beyond it stays in the duty, for habits to cut. True where that changes what is drawn.
bool use_longer(design::Appliance& stated, const design::resolved::Appliance& a, double factor) {
  const Duration all = hours_in(a), now = a.per_day.value_or(all);
  const Duration hours = std::min(all, Duration(now * factor));
  if (hours != now) stated.per_day = hours;
  if (!(hours.value() > 0.0) || factor <= 1.0) return hours != now;
  constexpr double hair = 1e-9;  // of rounding
  const Ratio duty = double(a.duty) * double(now / hours) * factor;
  const bool more = duty > double(a.duty) * (1.0 + hair);
  if (more) stated.duty = duty;
  return hours != now || (more && a.duty < Ratio(1.0));
}

/// The design as it would be written for so many people. What nobody attributed to people or van grows
/// with them and does not shrink; hours typed just now are meant for those that were typed with them.
void ask_people(Opening& opening, const Question& o, Diagnostics& diagnostics) {
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

}  // namespace

/// An appliance that is to be used every day and to be left off.
bool both_ways(const Node& design, const Question& o, std::size_t number,
               Diagnostics& diagnostics) {
  const auto names = names_in(design, "appliance");
  const auto off = meant(o.without[number], names);
  const bool on = off && std::any_of(o.with.begin(), o.with.end(), [&](const std::string& with) {
                    return meant(with, names) == off;
                  });
  if (on)
    diagnostics.error(Typed(numbered("--without", number), o.without[number]).whole().place,
                      "appliance", "it is asked for both with and without " + quoted(*off),
                      "leave one of the two out");
  return on;
}

bool are_so_many(const std::optional<int>& people, Diagnostics& diagnostics) {
  if (!people || (*people >= 1 && *people <= most_people)) return true;
  diagnostics.error({}, "people",
                    "a question is for 1 to " + std::to_string(most_people) + " people, not for " +
                        std::to_string(*people));
  return false;
}

bool ask(Node& design, const Question& o, std::vector<std::string>& told,
         Diagnostics& diagnostics) {
  bool good = are_so_many(o.people, diagnostics) && ask_place(design, o, diagnostics);
  for (const AskedKey& key : o.keys) {
    const Piece typed = Typed(key.option, key.text).whole();
    good = set(design, key.path, {key.text, typed.place}, typed.place, diagnostics) && good;
  }
  for (std::size_t i = 0; i < o.add.size(); ++i)
    good = add_appliance(design, o.add[i], i, told, diagnostics) && good;
  for (std::size_t i = 0; i < o.with.size(); ++i)
    good = set_days(design, o.with[i], numbered("--with", i), 7, diagnostics) && good;
  for (std::size_t i = 0; i < o.without.size(); ++i)
    good = !both_ways(design, o, i, diagnostics) &&
           set_days(design, o.without[i], numbered("--without", i), 0, diagnostics) && good;
  return good;
}

void ask_resolved(Opening& opening, const Question& o, Diagnostics& diagnostics) {
  warn_of_inverters(opening, o.add.size(), diagnostics);
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

}  // namespace housepower::answers

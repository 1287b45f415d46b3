// SPDX-License-Identifier: Apache-2.0
// Names: which cannot be used, which are taken twice, and finding the place that a run or an
// appliance names. Equipment, appliances, nodes and the bank share one namespace; runs, cases and
// devices have their own.
#include <algorithm>

#include "resolving.hpp"

namespace housepower::design {
namespace {

using resolved::PostKind;

constexpr std::array reserved{"bank"sv, "dc"sv,    "chassis"sv,       "none"sv,
                              "all"sv,  "worst"sv, "everything-on"sv, "all-appliances"sv};

bool ends_with(std::string_view text, std::string_view end) {
  return text.size() >= end.size() && text.substr(text.size() - end.size()) == end;
}

/// One namespace, filled list by list in the order of the format.
struct Namespace {
  Resolving& r;
  bool has_ends = false;  // "NAME.in" stands for something here
  Named<Place> taken{};

  template <class Thing> void take(std::string_view list, const std::vector<Thing>& things) {
    for (std::size_t i = 0; i < things.size(); ++i) take(list, i, things[i].name, things[i].place);
  }
  void take(std::string_view list, std::size_t i, const std::string& name, const Place& place) {
    const auto refuse = [&](std::string message, std::string hint) {
      r.by_position.insert({list, i});
      r.error(RestsOn::itself, place, r.path(list, i, name) + "/name", std::move(message),
              std::move(hint));
    };
    if (const auto useless = why_no_name(name, has_ends)) refuse(useless->first, useless->second);
    const auto [first, is_new] = taken.try_emplace(name, place);
    if (!is_new)
      refuse("the name " + quoted(name) + " is taken already",
             "the first is at " + file_and_line(first->second));
  }
};

/// Why this charger or controller end does not exist, where that is the trouble.
bool explain_end(Resolving& r, const std::string& name, const Place& place,
                 const std::string& path) {
  for (const auto& charger : r.document.charger) {
    const bool has_input = charger.kind == ChargerKind::dc_dc;
    if (name == charger.name) {
      r.error(RestsOn::names, place, path, quoted(name) + " is a charger: say which end of it",
              "write " + quoted(name + ".out") + (has_input ? " or " + quoted(name + ".in") : ""));
      return true;
    }
    if (!has_input && name == charger.name + ".in") {
      r.error(RestsOn::names, place, path,
              quoted(charger.name) + " has no d.c. input: its kind is " +
                  quoted(word(charger.kind)),
              "only a dc-dc charger has one");
      return true;
    }
  }
  if (r.controllers.count(name) == 0) return false;
  r.error(RestsOn::names, place, path, quoted(name) + " is a controller: say which end of it",
          "write " + quoted(name + ".out") + " or " + quoted(name + ".in"));
  return true;
}

bool explain_appliance(Resolving& r, const std::string& name, const Place& place,
                       const std::string& path) {
  const auto& list = r.document.appliance;
  const auto found =
      std::find_if(list.begin(), list.end(), [&](const Appliance& a) { return a.name == name; });
  if (found == list.end()) return false;
  if (*found->supply != "dc")
    r.error(RestsOn::names, place, path,
            quoted(name) + " is supplied by " + quoted(*found->supply) +
                ": its a.c. lead is not a run of this file",
            "draw the run to " + quoted(*found->supply));
  else
    r.error(RestsOn::names, place, path,
            quoted(name) + " is connected elsewhere itself and no run ends at it",
            "name the node that it is `on`");
  return true;
}

}  // namespace

std::optional<std::pair<std::string, std::string>> why_no_name(const std::string& name,
                                                               bool has_ends) {
  if (name.find('/') != name.npos)
    return std::pair{quoted(name) + " contains a \"/\", which separates the names of a path",
                     std::string("leave it out")};
  if (has_ends && (ends_with(name, ".in") || ends_with(name, ".out")))
    return std::pair{quoted(name) + " ends like the input or output of a charger",
                     std::string("leave out the dot")};
  if (std::find(reserved.begin(), reserved.end(), name) != reserved.end())
    return std::pair{quoted(name) + " has a meaning of its own in this format",
                     std::string("choose another name")};
  return std::nullopt;
}

void resolve_names(Resolving& r) {
  const Document& d = r.document;
  Namespace shared{r, true};
  shared.take("node", d.node);
  shared.take("appliance", d.appliance);
  shared.take("inverter", d.inverter);
  shared.take("charger", d.charger);
  shared.take("controller", d.controller);
  shared.take("array", d.array);
  shared.take("feed", d.feed);
  Namespace{r}.take("run", d.run);
  Namespace{r}.take("case", d.load_case);
  Namespace{r}.take("device", d.device);
  Namespace{r}.take("assembly", d.assembly);
  Namespace{r}.take("connector", d.connector);
  for (const MakersDevice& device : d.device) {
    r.devices.try_emplace(device.name, &device);
    if (r.tables.fuse(device.name))
      r.error(device.place, "device/" + device.name + "/name",
              quoted(device.name) + " is the name of a fuse type of the tables",
              "choose another name");
  }
}

resolved::PostId add_post(Resolving& r, std::string name, PostKind kind, Sits sits) {
  const resolved::PostId id{static_cast<int>(r.out.posts.size())};
  r.posts.try_emplace(name, id);
  resolved::Post& post = r.out.posts.emplace_back();
  post.name = std::move(name);
  post.kind = kind;
  post.sits = sits;
  return id;
}

std::optional<resolved::PostId> find_post(Resolving& r, const std::string& name, const Place& place,
                                          const std::string& path) {
  if (const auto found = r.posts.find(name); found != r.posts.end()) return found->second;
  if (explain_end(r, name, place, path) || explain_appliance(r, name, place, path))
    return std::nullopt;
  auto known = names_of(r.posts);
  for (const Appliance& a : r.document.appliance)
    if (*a.supply == "dc" && r.posts.count(a.name) == 0) known.push_back(a.name);
  std::string hint = hint_for(name, known);
  if (name == "bank") hint = "describe it in a table [bank]";
  if (name == "chassis") hint = "for a return through the chassis write chassis_return = true";
  r.error(RestsOn::names, place, path,
          quoted(name) + " is not a node, equipment or appliance of this file", hint);
  return std::nullopt;
}

std::string hint_for(std::string_view word, const std::vector<std::string_view>& known) {
  std::string hint = did_you_mean(word, known);
  if (!hint.empty() || known.empty() || known.size() > 12) return hint;
  hint = "there is";
  for (const auto name : known) hint += (name == known.front() ? " " : ", ") + quoted(name);
  return hint;
}

}  // namespace housepower::design

// SPDX-License-Identifier: Apache-2.0
// Appliances: what feeds each, what it draws, when, and which voltage it bears.
#include <algorithm>

#include "resolving.hpp"

namespace housepower::design {
namespace {

constexpr Duration whole_day = 24.0 * hour;

struct ApplianceDraft {
  Resolving& r;
  const Appliance& stated;
  const std::string path;
  resolved::Appliance out{};
  void error(const std::string& key, std::string message, std::string hint = {}) const {
    error(RestsOn::table, key, std::move(message), std::move(hint));
  }
  void error(RestsOn on, const std::string& key, std::string message, std::string hint = {}) const {
    r.error(on, stated.place, path + "/" + key, std::move(message), std::move(hint));
  }
};

void resolve_supply(ApplianceDraft& draft) {
  const Appliance& a = draft.stated;
  if (*a.supply == "dc") return;
  const auto found = draft.r.inverters.find(*a.supply);
  if (found == draft.r.inverters.end()) {
    auto known = names_of(draft.r.inverters);
    known.push_back("dc");
    draft.error(RestsOn::names, "supply", quoted(*a.supply) + " is not an inverter of this file",
                hint_for(*a.supply, known));
    return;
  }
  draft.out.inverter = found->second;  // whose post is the bank's where no run is drawn
  draft.out.post = draft.r.out.inverters[found->second].post;
  if (a.on && *a.on != *a.supply)
    draft.error(RestsOn::names, "on",
                quoted(*a.supply) + " supplies it, so it is not connected to anything else",
                "leave it out");
}

/// Where a run that ends at it begins; a place it hangs on besides must be that one.
bool begins_at(const Document& document, const std::string& appliance, const std::string& on) {
  return std::any_of(document.run.begin(), document.run.end(), [&](const Run& run) {
    return (run.to == appliance && run.from == on) || (run.from == appliance && run.to == on);
  });
}

bool gives_by_itself(const resolved::Content& d, resolved::PostId id) {
  const auto kind = d.posts[id].kind;
  return kind == resolved::PostKind::bank || kind == resolved::PostKind::feed ||
         kind == resolved::PostKind::charger_out || kind == resolved::PostKind::controller_out;
}

void resolve_post(ApplianceDraft& draft) {
  const Appliance& a = draft.stated;
  const auto own = draft.r.posts.find(a.name);
  if (own != draft.r.posts.end()) {
    draft.out.post = own->second;
    if (a.on && !begins_at(draft.r.document, a.name, *a.on))
      draft.error(RestsOn::whole, "on",
                  "a run of its own feeds it, which does not come from " + quoted(*a.on),
                  "leave it out");
  } else if (a.on) {
    if (const auto id = find_post(draft.r, *a.on, a.place, draft.path + "/on"))
      draft.out.post = hangs_on_the_bank(draft.r) && !gives_by_itself(draft.r.out, *id)
                           ? draft.r.out.bank->post
                           : *id;
  } else if (hangs_on_the_bank(draft.r)) {
    draft.out.post = draft.r.out.bank->post;
    draft.r.assume(draft.path + "/on", "bank", "no run is drawn");
  } else {
    draft.error(RestsOn::whole, "on", "nothing feeds it: no run ends at it and it is `on` no node",
                "for example on = \"panel\"");
  }
}

constexpr Voltage lowest_of_mains = Voltage::from_value(60.0);  // judgement: some are of 100 V

void resolve_power(ApplianceDraft& draft) {
  const Appliance& a = draft.stated;
  const bool is_ac = *a.supply != "dc";
  const bool matters = a.current.has_value() || *a.behaves != Behaviour::constant_power;
  draft.out.power_factor = *a.power_factor;
  if (is_ac && a.current && !a.rated_at)
    draft.error("current", "an a.c. current gives no power without its voltage",
                "add rated_at = \"230 V\", or state its power");
  if (is_ac && a.rated_at && *a.rated_at < lowest_of_mains)
    draft.error(
        "rated_at",
        print(Number(*a.rated_at)) + " is no voltage of an a.c. appliance behind an inverter",
        "the voltage on its rating plate, for example rated_at = \"230 V\"; a d.c. appliance "
        "names no inverter as supply");
  if (!is_ac && *a.power_factor != Ratio(1.0))
    draft.error("power_factor", "is for a.c. appliances only",
                "leave it out, or name its inverter as supply");
  draft.out.rated_at = a.rated_at.value_or(draft.r.out.nominal);
  if (!is_ac && matters && !a.rated_at)
    draft.r.assume(draft.path + "/rated_at", print(Number(draft.out.rated_at)),
                   "the system's voltage");
  const Ratio real_share = is_ac ? *a.power_factor : Ratio(1.0);
  draft.out.power = a.power
                        ? *a.power
                        : Power(a.current.value_or(0.0 * ampere) * draft.out.rated_at * real_share);
}

void resolve_limits(ApplianceDraft& draft) {
  const Appliance& a = draft.stated;
  const bool is_dc = *a.supply == "dc";
  draft.out.limits_stated = a.lowest_voltage || a.highest_voltage;
  draft.out.lowest = a.lowest_voltage.value_or(10.5 * volt * draft.r.times_twelve());
  draft.out.highest = a.highest_voltage.value_or(15.0 * volt * draft.r.times_twelve());
  const std::string why = "usual for the system's voltage";
  if (is_dc && !a.lowest_voltage)
    draft.r.assume(draft.path + "/lowest_voltage", print(Number(draft.out.lowest)), why);
  if (is_dc && !a.highest_voltage)
    draft.r.assume(draft.path + "/highest_voltage", print(Number(draft.out.highest)), why);
  if (draft.out.lowest >= draft.out.highest)
    draft.error(a.lowest_voltage ? "lowest_voltage" : "highest_voltage",
                "that leaves no voltage between " + print(Number(draft.out.lowest)) + " and " +
                    print(Number(draft.out.highest)));
}

void resolve_drop_class(ApplianceDraft& draft) {
  if (!draft.r.out.profile) return;
  const auto& classes = draft.r.out.profile->drop_classes;
  const bool mildest = !draft.stated.drop_class && draft.r.kindest() && !classes.empty();
  const std::string name =
      mildest ? classes.back().name : draft.stated.drop_class.value_or("other");
  const auto found = std::find_if(classes.begin(), classes.end(),
                                  [&](const tables::DropClass& c) { return c.name == name; });
  if (found == classes.end()) {
    draft.error(RestsOn::names, "drop_class",
                quoted(name) + " is not a drop class of " + quoted(draft.r.out.profile->name),
                hint_for(name, names_of(classes)));
    return;
  }
  draft.out.drop_class = static_cast<std::size_t>(found - classes.begin());
  if (!draft.stated.drop_class)
    draft.r.assume(draft.path + "/drop_class", name,
                   mildest ? "the mildest" : "the class of all others");
}

/// "07:30" as minutes of the day.
std::optional<int> minutes(std::string_view text) {
  if (text.size() != 5 || text[2] != ':') return std::nullopt;
  for (const std::size_t i : {0u, 1u, 3u, 4u})
    if (text[i] < '0' || text[i] > '9') return std::nullopt;
  const int hours = (text[0] - '0') * 10 + (text[1] - '0');
  const int rest = (text[3] - '0') * 10 + (text[4] - '0');
  if (rest > 59 || hours * 60 + rest > 24 * 60) return std::nullopt;
  return hours * 60 + rest;
}

/// "22:00-06:00" goes over midnight and makes two.
bool add_windows(std::string_view text, std::vector<resolved::Window>& windows) {
  if (text.size() != 11 || text[5] != '-') return false;
  const auto from = minutes(text.substr(0, 5)), to = minutes(text.substr(6));
  if (!from || !to || *from == *to || *from == 24 * 60) return false;
  const auto at = [](int minute) { return Duration(60.0 * minute * second); };
  if (*from < *to) {
    windows.push_back({at(*from), at(*to)});
    return true;
  }
  windows.push_back({at(*from), whole_day});
  if (*to > 0) windows.push_back({0.0 * second, at(*to)});
  return true;
}

void resolve_windows(ApplianceDraft& draft) {
  auto& windows = draft.out.windows;
  const auto& between = draft.stated.between;
  for (std::size_t i = 0; i < between.size(); ++i)
    if (!add_windows(between[i], windows))
      draft.error(RestsOn::itself, "between/" + std::to_string(i),
                  quoted(between[i]) + " is not a time of the day",
                  "for example between = [\"18:00-23:00\", \"06:30-07:00\"]");
  std::sort(windows.begin(), windows.end(),
            [](const auto& a, const auto& b) { return a.from < b.from; });
  for (std::size_t i = 1; i < windows.size(); ++i)
    if (windows[i].from < windows[i - 1].to)
      draft.error("between", "its times overlap", "join them");
  if (windows.empty()) windows.push_back({0.0 * second, whole_day});
  if (between.empty())
    draft.r.assume(draft.path + "/between", "00:00-24:00", "switched on all day");
  Duration in_all{};
  for (const auto& window : windows) in_all += window.to - window.from;
  draft.out.per_day = draft.stated.per_day;
  if (draft.stated.per_day && *draft.stated.per_day > in_all)
    draft.error("per_day", print(Number(*draft.stated.per_day)) +
                               " do not fit between the times given, " + print(Number(in_all)) +
                               " in all");
}

/// Heavier use and more people scale what nobody attributed: the safe side.
void resolve_use(ApplianceDraft& draft) {
  const Appliance& a = draft.stated;
  const bool by_hand = a.per_day || !a.between.empty();
  const bool by_itself =
      *a.duty < Ratio(1.0) || a.duty_per_kelvin->value() != 0.0 || a.duty_in_cold.has_value();
  draft.out.used_by = a.used_by.value_or(by_hand && !by_itself ? UsedBy::people : UsedBy::van);
  if (!a.used_by)
    draft.r.assume(draft.path + "/used_by", std::string(word(draft.out.used_by)),
                   draft.out.used_by == UsedBy::people ? "its hours are given and no duty"
                                                       : "it works by itself");
  if (a.starts && !a.starting)
    draft.error("starts", "nothing is said of starting it",
                "for example starting = { current = \"12 A\", time = \"1 s\" }");
  if (a.starting) draft.out.starts = a.starts.value_or(int(draft.out.windows.size()));
}

resolved::Appliance resolve_appliance(Resolving& r, std::size_t number) {
  const Appliance& a = r.document.appliance[number];
  ApplianceDraft draft{r, a, r.path("appliance", number, a.name)};
  draft.out.name = a.name;
  draft.out.behaves = *a.behaves;
  draft.out.quantity = *a.quantity;
  draft.out.duty = *a.duty;
  draft.out.duty_per_kelvin = PerKelvin::from_value(a.duty_per_kelvin->value());
  draft.out.duty_at = *a.duty_at;
  draft.out.duty_in_cold = a.duty_in_cold;
  draft.out.days_of_seven = *a.days_of_seven;
  draft.out.while_parked = a.while_parked;
  draft.out.starting = a.starting;
  if (*a.supply == "dc") resolve_post(draft);
  else resolve_supply(draft);
  resolve_power(draft);
  resolve_limits(draft);
  resolve_drop_class(draft);
  resolve_windows(draft);
  resolve_use(draft);
  return std::move(draft.out);
}

}  // namespace

namespace {

/// The voltages, as a system is named, that a post can have: from a flat bank to the end of its
/// charge.
struct SupplyRange {
  Voltage low{}, high{};
  std::string of;
};
SupplyRange supply_at(const resolved::Content& d, resolved::PostId post) {
  const auto here = [&](resolved::PostId id) { return d.posts[id].part == d.posts[post].part; };
  const auto system = [](Voltage nominal) {
    return SupplyRange{10.5 / 12.0 * nominal, 15.0 / 12.0 * nominal,
                       print(Number(nominal)) + " system"};
  };
  const bool house = !d.feeds.empty() && d.nominal <= 24.0 * volt;
  if (house && !(d.bank && here(d.bank->post)))
    for (const auto& feed : d.feeds)  // a car of 12 V before a house of 24 V
      if (here(feed.post)) return system(feed.high < 18.0 * volt ? 12.0 * volt : 24.0 * volt);
  return system(d.nominal);
}

}  // namespace

void check_rated_voltages(Resolving& r) {
  for (std::size_t i = 0; i < r.out.appliances.size(); ++i) {
    const Appliance& a = r.document.appliance[i];
    const resolved::Appliance& out = r.out.appliances[i];
    if (*a.supply != "dc" || !a.rated_at || out.post.index < 0) continue;
    const SupplyRange supply = supply_at(r.out, out.post);
    if (*a.rated_at >= supply.low && *a.rated_at <= supply.high) continue;
    const bool ac = *a.rated_at > lowest_of_mains && r.out.nominal <= 24.0 * volt;
    r.error(RestsOn::whole, a.place, r.path("appliance", i, a.name) + "/rated_at",
            print(Number(*a.rated_at)) +
                (ac ? " is not a voltage of a d.c. appliance here"
                    : " is another voltage than its supply's") +
                ": of a " + supply.of + " those from " + print(Number(supply.low)) + " to " +
                print(Number(supply.high)) + " are",
            ac ? "for an a.c. appliance name its inverter as supply"
               : "an appliance made for the " + supply.of +
                     ", or what its converter draws from it as `power`, without `rated_at`");
  }
}

std::optional<Duration> time_of_day(std::string_view text) {
  const auto found = minutes(text);
  if (!found) return std::nullopt;
  return Duration(60.0 * *found * second);
}

bool is_time_of_day(std::string_view text) {
  std::vector<resolved::Window> windows;
  return add_windows(text, windows);
}

void place_appliances(Resolving& r) {
  std::set<std::string_view> ends;
  for (const Run& run : r.document.run) {
    ends.insert(run.from);
    ends.insert(run.to);
    if (run.return_ && run.return_->to) ends.insert(*run.return_->to);
  }
  const auto& list = r.document.appliance;
  for (std::size_t i = 0; i < list.size(); ++i) {
    const Appliance& a = list[i];
    const auto built_into =
        find_assembly(r, a.assembly, a.place, r.path("appliance", i, a.name) + "/assembly");
    if (*a.supply != "dc" || ends.count(a.name) == 0) continue;
    const auto post = add_post(r, a.name, resolved::PostKind::appliance, Sits::inside);
    r.out.posts[post].assembly = built_into;
  }
}

void resolve_appliances(Resolving& r) {
  const auto& list = r.document.appliance;
  for (std::size_t i = 0; i < list.size(); ++i) {
    r.appliances.try_emplace(list[i].name, resolved::ApplianceId{static_cast<int>(i)});
    r.out.appliances.push_back(resolve_appliance(r, i));
  }
}

}  // namespace housepower::design

// SPDX-License-Identifier: Apache-2.0
// Each lever is a changed document, a changed habit or other driving, and its stays.
#include "housepower/pack/levers.hpp"

#include <algorithm>
#include <cctype>

#include "housepower/energy/assessment.hpp"
#include "housepower/energy/months.hpp"
#include "housepower/units/unit.hpp"

namespace housepower::pack {
namespace {

using design::Design;
using design::Document;
using LeverKind = Lever::Kind;

using Met = energy::StayAnswer;

struct Trying {
  const tables::Tables& tables;
  const energy::Weather& weather;
  const energy::StayQuestion& question;
  const energy::Habit& habit;
  const energy::DeliveredList& delivered;
  const energy::Each& each;

  [[nodiscard]] Met met(const Design& d, const energy::Habit& h,
                        std::optional<energy::Charging> charging = {}) const {
    energy::StayQuestion q = question;
    if (charging) q.charging = charging;
    return energy::lengths(d, energy::Surroundings(d, weather, h, delivered), q, each);
  }
  /// Under a sky that lets no sun through at all: none warms the box either.
  [[nodiscard]] Met without_sun(const Design& d) const {
    energy::StayQuestion q = question;
    q.without_sun = true;
    return energy::lengths(d, energy::Surroundings(d, weather, habit, delivered), q, each);
  }
  [[nodiscard]] std::optional<Met> met(const Document& changed, const energy::Habit& used) const {
    Diagnostics problems;
    const auto d = design::resolve(changed, tables, Defaults::ordinary, problems);
    return d ? std::optional(met(*d, used)) : std::nullopt;
  }
};

struct Adding {
  Levers& levers;
  Lever* operator()(LeverKind kind, std::string change, const std::optional<Met>& met) const {
    if (!met) return nullptr;
    Lever& lever = levers.all.emplace_back();
    lever.kind = kind;
    lever.change = std::move(change);
    const auto both = energy::told(*met);
    lever.parked = met->parked.met, lever.met = met->met;
    lever.parked_told = both.parked.length;
    lever.told = std::max(both.travelled.length, both.parked.length);
    return &lever;
  }
};

/// The appliances that use most in the mean day of the month.
std::vector<int> largest_consumers(const Design& d, int month, const energy::Habit& habit) {
  const auto day_ = energy::month_day(d, d->site.town ? std::optional(month) : std::nullopt,
                                      nullptr, nullptr, habit);
  std::vector<std::pair<double, int>> used;
  for (const auto& c : day_.consumers)
    for (std::size_t i = 0; i < d->appliances.size(); ++i)
      if (c.path == "appliance/" + d->appliances[i].name &&
          std::find(habit.left_off.begin(), habit.left_off.end(), int(i)) == habit.left_off.end())
        used.push_back({-c.energy.value(), int(i)});
  std::sort(used.begin(), used.end());
  std::vector<int> largest;
  for (std::size_t i = 0; i < std::min<std::size_t>(3, used.size()); ++i)
    if (used[i].first < 0.0) largest.push_back(used[i].second);
  return largest;
}

void add_larger_packs(const Document& document, const energy::Habit& habit,
                      std::vector<Relief>& list) {
  Document more = document;
  more.bank->quantity = more.bank->quantity.value_or(1) + 1;
  list.push_back({LeverKind::battery, "one more battery", std::move(more), habit});
  for (std::size_t i = 0; i < document.array.size(); ++i) {
    Document with = document;
    const int string = with.array[i].in_series.value_or(1);
    with.array[i].modules += string;
    list.push_back(
        {LeverKind::modules,
         (string == 1 ? std::string("one more module") : std::to_string(string) + " more modules") +
             " on \"" + with.array[i].name + "\"",
         std::move(with), habit});
  }
}

void with_more_people(const Trying& trying, const Design& d, const Adding& add) {
  const int now = trying.habit.people.value_or(d->promise.people);
  energy::Habit more = trying.habit;
  more.people = std::max(4, now + 2);
  add(LeverKind::people, std::to_string(*more.people) + " people instead of " + std::to_string(now),
      trying.met(d, more));
}

void add_less_use(const Document& document, const Design& d, int month, const energy::Habit& habit,
                  std::vector<Relief>& list) {
  for (const int i : largest_consumers(d, month, habit)) {
    energy::Habit without = habit;
    without.left_off.push_back(i);
    list.push_back({LeverKind::without, "without \"" + d->appliances[std::size_t(i)].name + "\"",
                    document, std::move(without)});
  }
  for (std::size_t i = 0; i < document.inverter.size(); ++i) {
    if (d->inverters[i].runs == design::InverterRuns::while_used) continue;
    Document off = document;
    off.inverter[i].runs = design::InverterRuns::while_used;
    std::string change = "\"" + off.inverter[i].name + "\" off while nothing runs on it";
    list.push_back({LeverKind::inverter, std::move(change), std::move(off), habit});
  }
  if (habit.use == energy::Use::frugal) return;
  energy::Habit frugal = habit;
  frugal.use = energy::Use::frugal;
  list.push_back({LeverKind::frugal, "frugal use", document, std::move(frugal)});
}

void with_another_sky(const Trying& trying, const Document& document, const Design& d,
                      const Adding& add) {
  if (d->arrays.empty() || d->site.pitch == design::Pitch::under_trees) return;
  Document shaded = document;
  shaded.location = shaded.location.value_or(design::Location{});
  shaded.location->pitch = design::Pitch::under_trees;
  add(LeverKind::trees, "under trees", trying.met(shaded, trying.habit));
}

// ---- What most customers bring along (of a usual size, from memory) ----

struct Brought {
  LeverKind kind;
  const char *word, *change;
  Power power;
  Duration per_day;
  const char* between;
  Ratio duty;
};
constexpr Brought brought_along[] = {
    {LeverKind::kettle, "kettle", "a kettle, 2 kW for 12 min a day", Power::from_value(2000.0),
     Duration::from_value(0.2 * 3600.0), "07:00-21:00", 1.0},
    {LeverKind::cooler, "air condition", "an air conditioner, 1 kW for 3 h a day",
     Power::from_value(1000.0), Duration::from_value(3.0 * 3600.0), "12:00-20:00", 0.6}};

bool has_one(const Design& d, std::string_view word) {
  return std::any_of(d->appliances.begin(), d->appliances.end(), [&](const auto& a) {
    std::string name = a.name;
    for (char& c : name) c = char(std::tolower(static_cast<unsigned char>(c)));
    return name.find(word) != name.npos;
  });
}

void with_what_is_brought(const Trying& trying, const Document& document, const Design& d,
                          const Adding& add) {
  for (const Brought& b : brought_along) {
    if (has_one(d, b.word)) continue;
    const design::resolved::Inverter* largest = nullptr;
    for (const auto& i : d->inverters)
      if (!largest || i.rating > largest->rating) largest = &i;
    if (!largest || largest->rating < b.power) {
      Lever* lever = add(b.kind, b.change, Met{});
      lever->possible = false;
      lever->why = largest ? "the inverter of " + print(largest->rating) + " does not carry it"
                           : "there is no inverter for it";
      continue;
    }
    Document with = document;
    auto& one = with.appliance.emplace_back();
    one.name = b.word;
    one.power = b.power;
    one.supply = largest->name;
    one.per_day = b.per_day;
    one.between = {b.between};
    one.duty = b.duty;
    one.used_by = design::UsedBy::people;
    add(b.kind, b.change, trying.met(with, trying.habit));
  }
}

// ---- Driving ----

struct Drive {
  const char* words;
  Duration time, every;
};
constexpr Drive drives[] = {
    {"driving 2 h every third day", Duration::from_value(2.0 * 3600.0),
     Duration::from_value(3.0 * 86400.0)},
    {"driving 1 h every day", Duration::from_value(3600.0), Duration::from_value(86400.0)}};

/// Instead of what is stated.
void with_other_driving(const Trying& trying, const Design& d, const Adding& add) {
  const auto drives_by = [](const auto& c) { return c.kind == design::ChargerKind::dc_dc; };
  if (std::none_of(d->chargers.begin(), d->chargers.end(), drives_by)) return;
  const energy::Surroundings around(d, trying.weather, trying.habit, trying.delivered);
  for (const Drive& drive : drives) {
    const energy::Charging charging{drive.time, drive.every, {}, {}, 0};
    Lever* lever = add(LeverKind::driving, drive.words, trying.met(d, trying.habit, charging));
    if (lever->met > lever->parked) continue;
    const auto first = energy::first_charge(around, charging, trying.question);
    if (!first) {
      lever->why = "nothing arrives from the tow vehicle";
      for (const auto& one : trying.delivered)
        if (drives_by(d->chargers[std::size_t(one.charger)]) && !one.why.empty())
          lever->why = one.why;
    } else if (lever->parked <= *first) {
      lever->why = "the bank is empty before the first drive";
    }
  }
}

}  // namespace

std::vector<Relief> reliefs(const Document& document, const Design& d, int month,
                            const energy::Habit& habit) {
  std::vector<Relief> list;
  add_larger_packs(document, habit, list);
  add_less_use(document, d, month, habit, list);
  return list;
}

Levers levers(const Document& document, const Design& d, const tables::Tables& tables,
              const energy::Weather& weather, const energy::StayQuestion& question,
              const energy::Habit& habit, const energy::DeliveredList& delivered,
              const energy::Each& each) {
  const Trying trying{tables, weather, question, habit, delivered, each};
  Levers result;
  if (!d->bank) return result;
  const Met now = trying.met(d, habit);
  result.base_parked = now.parked.met, result.base = now.met;
  const Adding add{result};
  const bool can_last_longer = now.parked.met < double(question.longest_days) * day;
  if (can_last_longer)
    for (const Relief& one : reliefs(document, d, question.month, habit))
      add(one.kind, one.change, trying.met(one.document, one.habit));
  if (!d->arrays.empty()) add(LeverKind::no_sun, "no sun at all", trying.without_sun(d));
  with_more_people(trying, d, add);
  with_another_sky(trying, document, d, add);
  with_what_is_brought(trying, document, d, add);
  if (can_last_longer) with_other_driving(trying, d, add);
  std::stable_sort(result.all.begin(), result.all.end(), [](const Lever& a, const Lever& b) {
    return a.parked != b.parked ? a.parked > b.parked : a.met > b.met;
  });
  return result;
}

}  // namespace housepower::pack

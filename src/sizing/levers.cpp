// SPDX-License-Identifier: Apache-2.0
// Each lever is a changed document, or a changed habit, and its stays.
#include "housepower/sizing/levers.hpp"

#include <algorithm>

#include "housepower/energy/assessment.hpp"

namespace housepower::sizing {
namespace {

using design::Design;
using design::Document;

struct Trying {
  const tables::Tables& tables;
  const energy::Weather& weather;
  const energy::StayQuestion& question;
  const energy::Habit& habit;
  const energy::Each& each;

  [[nodiscard]] Duration met(const Design& d, const energy::Habit& h,
                             std::optional<energy::Charging> charging = {}) const {
    energy::StayQuestion q = question;
    q.until_empty = true;
    if (charging) q.charging = charging;
    const std::array plants{*energy::plant_of(d, d->promise.bank_age)};
    const auto stays = energy::simulate(energy::Surroundings(d, weather, h), q, plants, each);
    return energy::reached(stays, 0, d->promise.chance);
  }
  [[nodiscard]] std::optional<Duration> met(const Document& changed) const {
    Diagnostics problems;
    const auto d = design::resolve(changed, tables, Defaults::ordinary, problems);
    return d ? std::optional(met(*d, habit)) : std::nullopt;
  }
};

/// The appliances that use most in the mean day of the month.
std::vector<int> largest_consumers(const Design& d, int month, const energy::Habit& habit) {
  const auto day_ = energy::month_day(d, d->site.town ? std::optional(month) : std::nullopt);
  std::vector<std::pair<double, int>> used;
  for (const auto& c : day_.consumers)
    for (std::size_t i = 0; i < d->appliances.size(); ++i)
      if (c.path == "appliance/" + d->appliances[i].name &&
          std::find(habit.left_off.begin(), habit.left_off.end(), int(i)) == habit.left_off.end())
        used.push_back({-c.energy.value(), int(i)});
  std::sort(used.begin(), used.end());
  std::vector<int> largest;
  for (std::size_t i = 0; i < std::min<std::size_t>(4, used.size()); ++i)
    if (used[i].first < 0.0) largest.push_back(used[i].second);
  return largest;
}

}  // namespace

Levers levers(const Document& document, const Design& d, const tables::Tables& tables,
              const energy::Weather& weather, const energy::StayQuestion& question,
              const energy::Habit& habit, const energy::Each& each) {
  const Trying trying{tables, weather, question, habit, each};
  Levers result;
  if (!d->bank) return result;
  result.base = trying.met(d, habit);
  const auto add = [&](std::string change, std::optional<Duration> met) {
    if (!met) return;
    Lever& lever = result.all.emplace_back();
    lever.change = std::move(change);
    lever.met = *met;
  };

  Document more = document;
  more.bank->quantity = more.bank->quantity.value_or(1) + 1;
  add("one more battery", trying.met(more));
  for (std::size_t i = 0; i < document.array.size(); ++i) {
    Document with = document;
    const int string = with.array[i].in_series.value_or(1);
    with.array[i].modules += string;
    add((string == 1 ? std::string("one more module") : std::to_string(string) + " more modules") +
            " on \"" + with.array[i].name + "\"",
        trying.met(with));
  }
  for (const int i : largest_consumers(d, question.month, habit)) {
    energy::Habit without = habit;
    without.left_off.push_back(i);
    add("without \"" + d->appliances[std::size_t(i)].name + "\"", trying.met(d, without));
  }
  if (habit.use != energy::Use::frugal) {
    energy::Habit frugal = habit;
    frugal.use = energy::Use::frugal;
    add("frugal use", trying.met(d, frugal));
  }
  const auto& travel = d->travel;
  if ((travel.every.value() > 0.0 && travel.driving.value() > 0.0) || travel.mains_nights > 0 ||
      travel.generator.value() > 0.0)
    add("parked throughout: no driving, mains or generator",
        trying.met(d, habit, energy::Charging{}));
  std::stable_sort(result.all.begin(), result.all.end(),
                   [](const Lever& a, const Lever& b) { return a.met > b.met; });
  return result;
}

}  // namespace housepower::sizing

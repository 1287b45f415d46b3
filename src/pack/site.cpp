// SPDX-License-Identifier: Apache-2.0
// What is asked of a pack, and the places and months in which.
#include <cmath>

#include "housepower/checks/delivered.hpp"
#include "housepower/energy/months.hpp"
#include "housepower/energy/outlook.hpp"
#include "judge.hpp"

namespace housepower::pack::inside {

design::Document moved_to(design::Document document, const std::string& town) {
  if (town.empty()) return document;
  document.location = document.location.value_or(design::Location{});
  auto& place = *document.location;
  place.name = town;
  place.weather.reset();
  place.latitude.reset(), place.longitude.reset(), place.height.reset();
  return document;
}

std::optional<Asked> asked_of(const design::Design& d, Diagnostics& diagnostics) {
  const auto& promise = d->promise;
  if (promise.stay) return Asked{true, *promise.stay, promise.chance};
  if (promise.unlimited) return Asked{true, double(energy::horizon_days) * day, Ratio(1.0), true};
  if (promise.autonomy) return Asked{false, *promise.autonomy, promise.chance};
  diagnostics.error({d->file}, "promise", "nothing is promised that a pack could be sized for",
                    "state `stay`, `autonomy` or `unlimited` under [promise]");
  return std::nullopt;
}

namespace {

energy::StayQuestion asking_for(const Asked& asked, int every) {
  energy::StayQuestion q;
  q.longest_days = std::max(1, int(std::ceil(double(asked.length / day) - 1e-9)));
  q.every = every;
  q.until_empty = true;
  return q;
}

/// In which the design as it stands keeps least.
int month_of(const design::Design& d, const energy::Weather& weather, const Asked& asked,
             const energy::Each& each) {
  const auto delivered = checks::delivered(d);
  const energy::Surroundings all(d, weather, {}, delivered);
  if (asked.without_end) return energy::month_outlast_least(d, all, asking_for(asked, 1), each);
  const energy::Surroundings few(d, weather.first(20), {}, delivered);
  return energy::month_kept_least(d, few, asking_for(asked, 5), all, asking_for(asked, 1), each);
}

}  // namespace

std::optional<std::vector<Site>> sites_of(const design::Document& document,
                                          const design::Design& own, const tables::Tables& tables,
                                          const Asked& asked, const energy::Each& each,
                                          Diagnostics& diagnostics) {
  std::vector<std::string> towns;
  if (document.sizing) towns = document.sizing->places;
  if (towns.empty()) towns.push_back("");
  std::vector<Site> sites;
  for (const auto& town : towns) {
    Diagnostics found;
    const auto d =
        town.empty() ? std::optional(own)
                     : design::resolve(moved_to(document, town), tables, Defaults::ordinary, found);
    if (!d || !(*d)->site.town) {
      diagnostics.error(document.place, town.empty() ? "place" : "sizing/places",
                        town.empty() ? std::string("a pack is sized for a place")
                                     : "\"" + town + "\" is not a town of the climate table",
                        town.empty()        ? "add `[place] name = …`"
                        : found.all.empty() ? "`housepower tables towns` lists them"
                                            : found.all.front().hint);
      continue;
    }
    auto weather = energy::weather_of(*d, energy::years_for_promise, energy::usual_seed);
    int month = (*d)->site.month.value_or(0);
    if (!(*d)->site.month && asked.stay) {
      month = month_of(*d, *weather, asked, each);
    } else if (!(*d)->site.month) {
      const auto energy = energy::assess(*d);
      month = energy.months[energy.judged].month;
    }
    sites.push_back({town, (*d)->site.town->title, std::move(*weather), month});
  }
  if (sites.size() != towns.size()) return std::nullopt;
  return sites;
}

}  // namespace housepower::pack::inside

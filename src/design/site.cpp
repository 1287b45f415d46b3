// SPDX-License-Identifier: Apache-2.0
// What the design is held against: rules, place, promise, travel.
#include <algorithm>

#include "resolving.hpp"

namespace housepower::design {
namespace {

constexpr std::array months{"january"sv,   "february"sv, "march"sv,    "april"sv,
                            "may"sv,       "june"sv,     "july"sv,     "august"sv,
                            "september"sv, "october"sv,  "november"sv, "december"sv};

void resolve_inspected(Resolving& r) {
  std::vector<std::string_view> known;
  for (const auto& inspection : r.out.profile->inspection) known.push_back(inspection.item);
  for (std::size_t i = 0; i < r.out.inspected.size(); ++i) {
    const std::string& item = r.out.inspected[i];
    if (std::find(known.begin(), known.end(), item) == known.end())
      r.error(r.document.place, "rules/inspected/" + std::to_string(i),
              quoted(item) + " is no item of the inspection list of " + quoted(r.out.profile->name),
              hint_for(item, known));
  }
}

void resolve_rules(Resolving& r) {
  const Rules& rules = r.document.rules;
  r.out.profile = r.tables.profile(rules.profile);
  r.out.inspected = rules.inspected;
  if (r.out.profile) resolve_inspected(r);
  else
    r.error(r.document.place, "rules/profile", quoted(rules.profile) + " is no rule profile",
            hint_for(rules.profile, names_of(r.tables.profiles)));
  r.out.ampacity_table = rules.ampacity_table.value_or("");
  if (rules.ampacity_table && !r.tables.ampacity(*rules.ampacity_table)) {
    std::string hint = hint_for(*rules.ampacity_table, names_of(r.tables.ampacities));
    r.error(r.document.place, "rules/ampacity_table",
            quoted(*rules.ampacity_table) + " is no table of ampacities",
            hint.empty() ? "`housepower tables` lists them" : hint);
  }
  if (rules.sizes) r.out.sizes = word(*rules.sizes);
  else if (r.out.profile) r.out.sizes = r.out.profile->sizes;
}

void resolve_place(Resolving& r) {
  if (!r.document.location) return;
  const Location& location = *r.document.location;
  resolved::Site& site = r.out.site;
  site.pitch = *location.pitch;
  site.weather = location.weather.value_or("");
  if (location.weather) {
    site.town = r.tables.town(*location.weather);
    for (const auto& file : r.tables.weather)
      if (file.first == *location.weather) site.hourly = file.second.get();
  }
  for (const auto& [stated, key] : {std::pair(location.longitude.has_value(), "longitude"),
                                    std::pair(location.height.has_value(), "height")})
    if (stated != location.latitude.has_value())
      r.error(r.document.place, std::string("place/") + (stated ? key : "latitude"),
              stated ? "goes with a latitude" : std::string("a latitude goes with a ") + key,
              "latitude, longitude and height are stated together");
  if (location.name) {
    site.town = r.tables.town(*location.name);
    std::string hint = hint_for(*location.name, names_of(r.tables.towns));
    if (!site.town)
      r.error(r.document.place, "place/name",
              quoted(*location.name) + " is no town of the climate table",
              hint.empty() ? "`housepower tables` lists them" : hint);
  }
  if (*location.month != "worst") {
    const auto found = std::find(months.begin(), months.end(), *location.month);
    if (found != months.end()) site.month = static_cast<int>(found - months.begin());
    else
      r.error(r.document.place, "place/month", quoted(*location.month) + " is no month",
              hint_for(*location.month, {months.begin(), months.end()}));
  }
  if (location.record_low) site.record_low = location.record_low;
  else if (site.town &&
           site.town->record_low)  // a van meets a colder night than the record of one station
    site.record_low = Temperature::from_value(site.town->record_low->value() - 3.0);
}

void resolve_promise(Resolving& r) {
  const Promise& promise = *r.document.promise;
  r.out.promise = {promise.autonomy, promise.stay,      promise.unlimited.value_or(false),
                   *promise.chance,  *promise.bank_age, *promise.arrive_at,
                   *promise.reserve};
  r.out.promise.people = *promise.people;
  const auto arrives = time_of_day(*promise.arrive_time);
  if (arrives && *arrives < day) r.out.promise.arrive_time = *arrives;
  else
    r.error(r.document.place, "promise/arrive_time",
            quoted(*promise.arrive_time) + " is no time of the day", "for example \"16:00\"");
  if (*promise.reserve >= *promise.arrive_at)
    r.error(r.document.place, "promise/reserve",
            "keeps back all that there is on arrival, " + print(Number(*promise.arrive_at)),
            "the reserve is less than arrive_at");
}

}  // namespace

void resolve_site(Resolving& r) {
  const Document& d = r.document;
  r.out.name = d.vehicle.name;
  r.out.file = d.place.file;
  r.out.mass_allowance = d.vehicle.electrical_mass_allowance;
  if (d.chassis) r.out.chassis = d.chassis->resistance;
  resolve_rules(r);
  resolve_place(r);
  resolve_promise(r);
  r.out.travel = {*d.travel->driving, *d.travel->every, *d.travel->generator, *d.travel->parked,
                  *d.travel->mains_nights};
}

}  // namespace housepower::design

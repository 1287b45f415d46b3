// SPDX-License-Identifier: Apache-2.0
// What the design is held against: rules, place, promise, travel.
#include <algorithm>
#include <cmath>

#include "housepower/design/elsewhere.hpp"
#include "housepower/reading/text.hpp"
#include "housepower/tables/weather_file.hpp"
#include "resolving.hpp"

namespace housepower::design {
namespace {

constexpr std::array months{"january"sv,   "february"sv, "march"sv,    "april"sv,
                            "may"sv,       "june"sv,     "july"sv,     "august"sv,
                            "september"sv, "october"sv,  "november"sv, "december"sv};

/// Letters small and without accents, blanks and underlines as hyphens, none after a comma: "Alice
/// Springs, Australia" is written "alice-springs,australia".
std::string as_a_name(std::string_view as_typed) {
  const std::string letters = detail::in_plain_letters(as_typed);
  std::string_view written = letters;
  const auto blank = [](char c) { return c == ' ' || c == '_'; };
  while (!written.empty() && blank(written.front())) written.remove_prefix(1);
  while (!written.empty() && blank(written.back())) written.remove_suffix(1);
  std::string name;
  for (const char c : written)
    if (!blank(c)) name += c;
    else if (name.empty() || name.back() != ',') name += '-';
  return name;
}

/// A month by its name or the beginning of it, from three letters on, or by its number.
std::optional<int> month_named(std::string_view written) {
  std::string name = as_a_name(written);
  if (!name.empty() && name.back() == '.') name.pop_back();
  const auto number = parse_double(name);
  if (number && name.size() <= 2 && *number >= 1.0 && *number <= 12.0 &&
      name.find_first_not_of("0123456789") == name.npos)
    return int(*number) - 1;
  for (std::size_t m = 0; m < months.size() && name.size() >= 3; ++m)
    if (months[m].substr(0, name.size()) == name) return int(m);
  return std::nullopt;
}

/// The only town whose name or title begins so, from three letters on; nothing where several do.
const tables::Town* town_beginning(const tables::Tables& tables, const std::string& name) {
  const tables::Town* found = nullptr;
  for (const auto& town : tables.towns) {
    if (name.size() < 3) return nullptr;
    if (!town.name.starts_with(name) && !as_a_name(town.title).starts_with(name)) continue;
    if (found) return nullptr;
    found = &town;
  }
  return found;
}

/// A van meets a colder night than the record of one station.
std::optional<Temperature> record_low_of(const tables::Town& town) {
  if (!town.record_low) return std::nullopt;
  return Temperature::from_value(town.record_low->value() - 3.0);
}

void resolve_inspected(Resolving& r) {
  std::vector<std::string_view> known;
  for (const auto& inspection : r.out.profile->inspection) known.push_back(inspection.item);
  for (std::size_t i = 0; i < r.out.inspected.size(); ++i) {
    const std::string& item = r.out.inspected[i];
    if (std::find(known.begin(), known.end(), item) == known.end())
      r.error(RestsOn::names, r.document.place, "rules/inspected/" + std::to_string(i),
              quoted(item) + " is not an item of the inspection list of " +
                  quoted(r.out.profile->name),
              hint_for(item, known));
  }
}

void resolve_rules(Resolving& r) {
  const Rules& rules = r.document.rules;
  r.out.profile = r.tables.profile(rules.profile);
  r.out.inspected = rules.inspected;
  if (r.out.profile) resolve_inspected(r);
  else
    r.error(RestsOn::itself, r.document.place, "rules/profile",
            quoted(rules.profile) + " is not a rule profile",
            hint_for(rules.profile, names_of(r.tables.profiles)));
  r.out.ampacity_table = rules.ampacity_table.value_or("");
  if (rules.ampacity_table && !r.tables.ampacity(*rules.ampacity_table)) {
    std::string hint = hint_for(*rules.ampacity_table, names_of(r.tables.ampacities));
    r.error(RestsOn::itself, r.document.place, "rules/ampacity_table",
            quoted(*rules.ampacity_table) + " is not a table of ampacities",
            hint.empty() ? "`housepower tables` lists them" : hint);
  }
  if (rules.sizes) r.out.sizes = word(*rules.sizes);
  else if (r.out.profile) r.out.sizes = r.out.profile->sizes;
}

void resolve_town(Resolving& r, const std::string& written) {
  resolved::Site& site = r.out.site;
  site.town = town_named(r.tables, written);
  if (site.town) return;
  std::string hint = hint_for(as_a_name(written), names_of(r.tables.towns));
  if (hint.empty())
    hint = "`housepower tables towns` lists them; a place between them is stated by latitude, "
           "longitude and height, or with --at";
  r.error(RestsOn::itself, r.document.place, "place/name",
          quoted(written) + " is not a town of the climate table", hint);
}

void resolve_weather(Resolving& r, const std::string& file) {
  resolved::Site& site = r.out.site;
  site.weather = file;
  site.town = r.tables.town(file);
  for (const auto& [name, hours] : r.tables.weather)
    if (name == file) site.hourly = hours.get();
}

/// Latitude, longitude and height, all three or none.
void resolve_coordinates(Resolving& r, const Location& location) {
  const bool latitude = location.latitude.has_value();
  for (const auto& [stated, key] : {std::pair(location.longitude.has_value(), "longitude"),
                                    std::pair(location.height.has_value(), "height")})
    if (stated != latitude)
      r.error(r.document.place, std::string("place/") + (stated ? key : "latitude"),
              stated ? "goes with a latitude" : std::string("a latitude goes with a ") + key,
              "latitude, longitude and height are stated together");
  if (!latitude || !location.longitude || !location.height) return;
  const auto between =
      town_between(r.tables.towns, *location.latitude, *location.longitude, *location.height);
  if (!between) return;  // no towns were read
  resolved::Site& site = r.out.site;
  site.made = std::make_shared<const tables::Town>(between->town);
  site.town = site.made.get();
  site.made_of = between->made_of;
  site.far = between->far;
  if (site.far)
    r.diagnostics.warning(
        r.document.place, "place/latitude",
        "the nearest town of the climate table, " + between->nearest + ", is " +
            print_plain(std::round(double(between->nearest_away / (1000.0 * metre)))) +
            " km away: its climate says little about this place",
        "an hourly weather file of the place is better: weather = \"file.epw\"");
}

void resolve_month(Resolving& r, const std::string& written) {
  if (as_a_name(written) == "worst") return;
  r.out.site.month = month_named(written);
  if (!r.out.site.month)
    r.error(RestsOn::itself, r.document.place, "place/month", quoted(written) + " is not a month",
            hint_for(as_a_name(written), {months.begin(), months.end()}));
}

/// Whose cold it is where it is nobody's record of this very place.
void tell_whose_cold(Resolving& r) {
  const resolved::Site& site = r.out.site;
  const bool typical = site.hourly && site.hourly->kind == tables::WeatherFile::Kind::typical_year;
  if (!site.record_low || (!site.far && !typical)) return;
  r.assume("place/record_low", print(Number(*site.record_low)),
           site.far ? "as of " + site.made_of + ", the nearest in the climate table, less 3 K"
                    : "the coldest hour of a typical year less 3 K, which is no record: state one");
}

/// The mean night of the coldest month.
Temperature coldest_night(const tables::Town& town) {
  return *std::min_element(town.lowest.begin(), town.lowest.end());
}

/// The coldest air ever to expect is no warmer than that: a slip, a lost sign, or of another place. It
/// counts as it is written, and that is said.
void look_at_record_low(Resolving& r, Temperature stated) {
  const resolved::Site& site = r.out.site;
  if (!site.town || site.far || stated <= coldest_night(*site.town)) return;
  r.diagnostics.warning(r.document.place, "place/record_low",
                        print(Number(stated)) +
                            " is warmer than the mean night there in the coldest month, " +
                            print(Number(coldest_night(*site.town))),
                        "the coldest air ever to expect, below zero with its sign: \"-5 °C\"");
}

void resolve_place(Resolving& r) {
  if (!r.document.location) return;
  const Location& location = *r.document.location;
  resolved::Site& site = r.out.site;
  site.pitch = *location.pitch;
  if (location.weather) resolve_weather(r, *location.weather);
  resolve_coordinates(r, location);
  if (location.name) resolve_town(r, *location.name);
  resolve_month(r, *location.month);
  if (location.record_low) {
    site.record_low = location.record_low;
    look_at_record_low(r, *location.record_low);
  } else if (site.town) {
    site.record_low = record_low_of(*site.town);
    tell_whose_cold(r);
  }
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
    r.error(RestsOn::itself, r.document.place, "promise/arrive_time",
            quoted(*promise.arrive_time) + " is not a time of the day", "for example \"16:00\"");
  if (promise.stay && r.out.promise.unlimited)
    r.diagnostics.warning(r.document.place, "promise/unlimited",
                          "a `stay` of " + print(Number(*promise.stay)) +
                              " is promised, too: each is checked, and `size` goes by the stay",
                          "leave one of the two out");
  if (*promise.reserve >= *promise.arrive_at)
    r.error(r.document.place, "promise/reserve",
            "is no less than the charge on arrival, " + print(Number(*promise.arrive_at)),
            "the reserve is less than arrive_at");
}

}  // namespace

const tables::Town* town_named(const tables::Tables& tables, std::string_view written) {
  if (const auto* exact = tables.town(written)) return exact;
  const std::string name = as_a_name(written);
  for (const auto& town : tables.towns) {
    const std::string title = as_a_name(town.title), country = "," + as_a_name(town.country);
    for (const auto& known : {town.name, title, town.name + country, title + country})
      if (known == name) return &town;
  }
  return town_beginning(tables, name);
}

std::string_view name_of_month(int number) { return months[std::size_t(number)]; }

std::optional<std::string_view> name_of_month(std::string_view written) {
  if (as_a_name(written) == "worst") return "worst";
  const auto month = month_named(written);
  return month ? std::optional(name_of_month(*month)) : std::nullopt;
}

Temperature coldest_to_expect(const tables::Town& town) {
  return record_low_of(town).value_or(coldest_night(town));
}

void put_at(Document& document, const tables::Town& town) {
  if (!document.location) document.location.emplace();
  Location& place = *document.location;
  place.name = town.name;
  place.weather.reset();
  place.latitude.reset(), place.longitude.reset(), place.height.reset();
  if (place.record_low && coldest_to_expect(town) < *place.record_low) place.record_low.reset();
}

void put_in(Document& document, std::string_view month) {
  if (document.location) document.location->month = month;
}

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

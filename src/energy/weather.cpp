// SPDX-License-Identifier: Apache-2.0
// Weather of days and hours, from a file or made up.
#include "housepower/energy/weather.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "housepower/design/elsewhere.hpp"
#include "housepower/energy/draws.hpp"

namespace housepower::energy {
namespace {

using std::numbers::pi;

Almanac::Day almanac_day(int day_of_year, Angle latitude, Angle longitude, Duration zone,
                         Duration shift) {
  Almanac::Day d;
  const Ratio number = double(day_of_year) + 1.0;
  const Angle year = day_angle(double(number) + 0.5);  // at noon
  d.declination = spencer_declination(year);
  d.sunset = sunset_angle(latitude, d.declination);
  d.outside = extraterrestrial_day(latitude, d.declination, number);
  const Duration equation = equation_of_time(year);
  double global = 0.0, diffuse = 0.0;
  for (std::size_t h = 0; h < 24; ++h) {
    const Angle omega =
        hour_angle(solar_time((double(h) + 0.5) * hour + shift, equation, longitude, zone));
    d.hour_angle[h] = Angle::from_value(std::remainder(omega.value(), 2.0 * pi));
    d.sine[h] = zenith_cosine(latitude, d.declination, d.hour_angle[h]);
    global += double(d.global_share[h] = hourly_ratio(d.hour_angle[h], d.sunset));
    diffuse += double(d.diffuse_share[h] = diffuse_ratio(d.hour_angle[h], d.sunset));
  }
  for (std::size_t h = 0; h < 24; ++h) {
    d.global_share[h] = global > 0.0 ? double(d.global_share[h]) / global : 0.0;
    d.diffuse_share[h] = diffuse > 0.0 ? double(d.diffuse_share[h]) / diffuse : 0.0;
  }
  return d;
}

const tables::ClearnessChain& chain_for(std::span<const tables::ClearnessChain> chains,
                                        Ratio mean) {
  for (const auto& chain : chains)
    if (mean <= chain.up_to) return chain;
  return chains.back();
}

/// One day after another; what is left of its draw places the day inside its state.
Ratio next_day(const tables::ClearnessChain& chain, const Spells& spells, Sky& sky, Draws& draws) {
  const double width = double(chain.most - chain.least) / 10.0;
  const auto today =
      std::size_t(std::clamp(double(sky.yesterday - chain.least) / width, 0.0, 9.999));
  // One draw decides all: what is left of it after a decision is spread as evenly as it was.
  double fresh = double(draws.uniform());
  const double lasts = double(spells.lasts), rules = double(spells.rules);
  if (fresh < lasts) fresh /= lasts;
  else {
    fresh = (fresh - lasts) / (1.0 - lasts);
    sky.spell = draws.uniform();
  }
  const bool ruled = fresh < rules;
  fresh = ruled ? fresh / rules : (fresh - rules) / (1.0 - rules);
  double left = ruled ? double(sky.spell) : fresh;
  std::size_t state = 0, last = 0;
  for (; state < 10; ++state) {
    const double chance = double(chain.chances[today][state]);
    if (chance <= 0.0) continue;
    last = state;
    if (left < chance) break;
    left -= chance;
  }
  const double inside = ruled        ? fresh
                        : state < 10 ? left / double(chain.chances[today][state])
                                     : 0.5;
  return sky.yesterday = double(chain.least) + width * (double(state < 10 ? state : last) + inside);
}

double mean_of(std::span<const Ratio> days) {
  double all = 0.0;
  for (const Ratio& k : days) all += double(k);
  return all / double(days.size());
}

}  // namespace

std::string_view word_of(WeatherKind kind) {
  constexpr std::string_view words_[] = {"measured", "typical year", "synthetic"};
  return words_[std::size_t(kind)];
}

int month_of_day(int day_of_year) {
  return int(std::upper_bound(month_begins.begin(), month_begins.end(), day_of_year) -
             month_begins.begin()) -
         1;
}

Almanac almanac_of(Angle latitude, Angle longitude, Duration zone, Duration shift) {
  Almanac a{latitude, {}};
  for (int d = 0; d < days_of_year; ++d)
    a.days.push_back(almanac_day(d, latitude, longitude, zone, shift));
  return a;
}

void clearness_of_days(std::span<const tables::ClearnessChain> chains, Ratio mean, Draws& draws,
                       Sky& sky, std::span<Ratio> days, const Spells& spells) {
  const auto& chain = chain_for(chains, mean);
  std::vector<Ratio> tried(days.size());
  constexpr double met = 0.02;  // half of it would double the attempts
  double nearest = 2.0;
  Sky kept = sky;
  for (int attempt = 0; attempt < 30 && nearest > met; ++attempt) {
    Sky now = sky;
    for (Ratio& k : tried) k = next_day(chain, spells, now, draws);
    const double off = std::abs(mean_of(tried) - double(mean));
    if (off >= nearest) continue;
    nearest = off;
    kept = now;
    std::copy(tried.begin(), tried.end(), days.begin());
  }
  const double left = double(mean) - mean_of(days);
  for (Ratio& k : days) k = std::clamp(double(k) + left, 0.01, 0.87);
  sky = {days.back(), kept.spell};
}

Weather::Weather(const tables::Town& town, std::span<const tables::ClearnessChain> chains,
                 int years, std::uint64_t seed, Ratio between_years)
    : kind_(WeatherKind::synthetic), years_(years),
      almanac_(std::make_shared<Almanac>(almanac_of(town.latitude, town.longitude, town.zone))),
      months_(12) {
  for (std::size_t m = 0; m < 12; ++m) {
    Irradiation outside{};
    const int days = month_begins[m + 1] - month_begins[m];
    for (int d = month_begins[m]; d < month_begins[m + 1]; ++d)
      outside += almanac_->days[std::size_t(d)].outside / double(days);
    const Irradiation level = mean_day(town, int(m)).level;
    const double k = outside.value() > 0.0 ? std::min(0.8, double(level / outside)) : 0.0;
    // The spread may not pull a dull month's mean below nothing: three deviations fit below it.
    months_[m] = {k, std::min(double(between_years), k / 3.0)};
    for (int h = 0; h < 24; ++h) air_[m][std::size_t(h)] = air_at(town, int(m), h);
  }
  const auto made = std::make_shared<Days>();
  made->clearness.resize(std::size_t(years * days_of_year));
  made->warmer.resize(std::size_t(years * days_of_year));
  for (int y = 0; y < years; ++y) {
    Draws draws(seed, std::uint64_t(y));
    Sky sky{months_[0].clearness, draws.uniform()};
    double warmer = double(draws.normal());
    const auto first = std::size_t(y * days_of_year);
    for (std::size_t m = 0; m < 12; ++m) {
      const double spread = std::clamp(double(draws.normal()), -2.5, 2.5);
      const Ratio mean = std::clamp(
          double(months_[m].clearness) + double(months_[m].between_years) * spread, 0.02, 0.80);
      const auto begin = first + std::size_t(month_begins[m]);
      clearness_of_days(
          chains, mean, draws, sky,
          {&made->clearness[begin], std::size_t(month_begins[m + 1] - month_begins[m])});
    }
    const double kept = double(air_kept), fresh = std::sqrt(1.0 - kept * kept);
    for (std::size_t d = 0; d < std::size_t(days_of_year); ++d) {
      made->warmer[first + d] = air_between_days * warmer;
      warmer = kept * warmer + fresh * double(draws.normal());
    }
  }
  made_ = made;
}

Weather::Weather(const tables::WeatherFile& file)
    : kind_(file.kind == tables::WeatherFile::Kind::measured ? WeatherKind::measured
                                                             : WeatherKind::typical_year),
      years_(file.years), almanac_(std::make_shared<Almanac>(almanac_of(
                              file.latitude, file.longitude, file.zone, file.sun_shift))),
      months_(12), file_(&file) {
  for (std::size_t m = 0; m < 12; ++m) {
    Irradiation outside{}, level{};
    for (int d = month_begins[m]; d < month_begins[m + 1]; ++d) {
      outside += almanac_->days[std::size_t(d)].outside * double(years_);
      for (int y = 0; y < years_; ++y)
        for (int h = 0; h < 24; ++h)
          level += file.global[std::size_t((y * days_of_year + d) * 24 + h)] * hour;
    }
    months_[m].clearness = outside.value() > 0.0 ? double(level / outside) : 0.0;
  }
}

Weather Weather::first(int years) const {
  Weather fewer = *this;
  if (!file_) fewer.years_ = std::min(years_, years);
  return fewer;
}

void Weather::made_up(std::size_t day, int day_of_year, Spell& spell) const {
  const Almanac::Day& sun = almanac_->days[std::size_t(day_of_year)];
  const Ratio k = made_->clearness[day];
  const Irradiation level = sun.outside * double(k);
  const Irradiation diffuse = level * double(erbs_daily(k, sun.sunset));
  const auto& air = air_[std::size_t(month_of_day(day_of_year))];
  const std::size_t from = spell.level.size();
  spell.level.resize(from + 24), spell.diffuse.resize(from + 24), spell.air.resize(from + 24);
  for (std::size_t h = 0; h < 24; ++h) {
    spell.air[from + h] = std::max(air[h] + made_->warmer[day], no_colder_);
    if (!(double(sun.global_share[h]) > 0.0)) continue;
    const Irradiance of_hour = level * double(sun.global_share[h]) / hour;
    spell.level[from + h] = of_hour;
    spell.diffuse[from + h] =
        std::min(of_hour, Irradiance(diffuse * double(sun.diffuse_share[h]) / hour));
  }
}

void Weather::spell(int year, int first_day, int days, Spell& spell) const {
  spell.first_day = first_day;
  spell.days = days;
  spell.level.clear(), spell.diffuse.clear(), spell.air.clear(), spell.wind.clear();
  const int all = years_ * days_of_year;
  for (int d = 0; d < days; ++d) {
    const int at = (year * days_of_year + first_day + d) % all;
    if (!file_) {
      made_up(std::size_t(at), at % days_of_year, spell);
      continue;
    }
    for (std::size_t h = std::size_t(at) * 24; h < std::size_t(at) * 24 + 24; ++h) {
      spell.level.push_back(file_->global[h]);
      spell.diffuse.push_back(std::min(file_->diffuse[h], file_->global[h]));
      spell.air.push_back(file_->air[h]);
      if (!file_->wind.empty()) spell.wind.push_back(file_->wind[h]);
    }
  }
}

std::optional<Weather> weather_of(const design::Design& design, int years, std::uint64_t seed) {
  const auto& site = design->site;
  if (site.hourly) return Weather(*site.hourly);
  const auto& chains = design->tables->clearness;
  if (!site.town || chains.empty()) return std::nullopt;
  Weather made(*site.town, chains, years, seed);
  // A warmer record that the design states is no reason to leave out the cold nights of its town.
  if (site.record_low)
    made.no_colder_than(std::min(*site.record_low, design::coldest_to_expect(*site.town)));
  return made;
}

std::optional<Weather> Skies::of(const design::Design& design, int years, std::uint64_t seed) {
  const std::pair key(years, seed);
  if (const auto found = made_.find(key); found != made_.end()) return found->second;
  for (const auto& [of, weather] : made_)
    if (weather && of.first > years && of.second == seed) return weather->first(years);
  return made_.emplace(key, weather_of(design, years, seed)).first->second;
}

std::optional<Weather> weather_of(const design::Design& design, int years, std::uint64_t seed,
                                  Skies* skies) {
  return skies ? skies->of(design, years, seed) : weather_of(design, years, seed);
}

}  // namespace housepower::energy

// SPDX-License-Identifier: Apache-2.0
// What reaches the bank in each hour of a spell: sun behind the controllers, load, chargers, and the
// air about the cells. Plain numbers inside; tests hold them against the typed formulas.
#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "housepower/energy/draws.hpp"
#include "housepower/energy/plant.hpp"
#include "housepower/parts/battery_box.hpp"
#include "housepower/parts/controller.hpp"
#include "housepower/parts/module.hpp"

namespace housepower::energy {
namespace {

constexpr std::uint64_t covering_seed = 20;
constexpr double coldest_C = -60.0, hottest_C = 60.0;  // beyond them loads stay as they are there

/// Where a duty that rises with cold has risen to its end, in whole kelvins.
double coldest_rise(const design::resolved::Appliance& a) {
  const double duty = double(a.duty), rise = double(a.duty_in_cold->per_kelvin);
  const double at = in_celsius(a.duty_in_cold->at);
  if (!(duty * rise > 0.0)) return std::floor(at);
  return std::max(coldest_C, std::floor(at - (1.0 - std::min(1.0, duty)) / (duty * rise)));
}

/// Where an air lies between the rows of all tables of loads, which are alike long.
struct Between {
  std::size_t row;
  double part;
  bool is_last;
  Between(std::size_t rows, double from_C, double air_C) {
    const double at = std::clamp(air_C - from_C, 0.0, double(rows) - 1.0);
    row = std::size_t(at);
    part = at - double(row);
    is_last = row + 1 == rows;
  }
  [[nodiscard]] double watts(const double* by_kelvin) const {
    const double here = by_kelvin[row];
    return is_last ? here : here + (by_kelvin[row + 1] - here) * part;
  }
};

/// Share of the clock hour `h` that lies between two times of a day, which may run past midnight.
double overlap(double h, double from, double to) {
  const auto cut = [&](double a, double b) {
    return std::max(0.0, std::min(h + 1.0, b) - std::max(h, a));
  };
  return to <= 24.0 ? cut(from, to) : cut(from, 24.0) + cut(0.0, to - 24.0);
}

/// Covered days, by day of all years: in each year those of a month lie together in one run, its
/// first day drawn, and go on at the month's beginning past its end. What fell at once lies on all
/// arrays at once, and snow that lasts empties a bank that single days would not.
std::vector<bool> covered_days(const std::array<Ratio, 12>& shares, int years) {
  std::vector<bool> covered;
  if (std::all_of(shares.begin(), shares.end(), [](Ratio s) { return !(double(s) > 0.0); }))
    return covered;
  for (int y = 0; y < years; ++y) {
    Draws draws(covering_seed, std::uint64_t(y));
    for (std::size_t m = 0; m < 12; ++m) {
      const int days = month_begins[m + 1] - month_begins[m];
      const int first = int(double(draws.uniform()) * days);
      const int run = int(double(shares[m]) * days + double(draws.uniform()));
      for (int d = 0; d < days; ++d) covered.push_back((d - first + days) % days < run);
    }
  }
  return covered;
}

}  // namespace

kernel::Hours Buffers::hours(std::span<const double> others_W, int patterns) const {
  kernel::Hours h{sun_W, air_C, {}, patterns, others_W};
  for (std::size_t p = 0; p < 7; ++p) h.load_W[p] = load_W[p];
  return h;
}

Charging charging_of(const design::resolved::Travelling& travel) {
  return {travel.driving, travel.every, travel.generator, 14.0 * hour, travel.mains_nights};
}

Current current_from(const design::Design& design, std::size_t charger,
                     std::span<const Delivered> delivered) {
  const auto& one = design->chargers[charger];
  if (!reaches_above_reserve(design, one.charge_voltage)) return {};
  const auto arrives = std::find_if(delivered.begin(), delivered.end(),
                                    [&](const Delivered& d) { return d.charger == int(charger); });
  return arrives == delivered.end() ? one.current : arrives->current;
}

namespace {

Current current_of_all(const design::Design& design, design::ChargerKind kind,
                       std::span<const Delivered> delivered) {
  Current all{};
  for (std::size_t i = 0; i < design->chargers.size(); ++i)
    if (design->chargers[i].kind == kind) all += current_from(design, i, delivered);
  return all;
}

/// Whose chargers do it: a generator without its own feeds those of the mains.
design::ChargerKind done_by(const design::Design& design, design::ChargerKind kind,
                            std::span<const Delivered> delivered) {
  const bool borrows = kind == design::ChargerKind::generator &&
                       !(current_of_all(design, kind, delivered).value() > 0.0);
  return borrows ? design::ChargerKind::mains : kind;
}

}  // namespace

Current charging_current(const design::Design& design, design::ChargerKind kind,
                         std::span<const Delivered> delivered) {
  return current_of_all(design, done_by(design, kind, delivered), delivered);
}

int arrival_hour(const design::Design& design) {
  return std::min(23, int(std::ceil(design->promise.arrive_time / hour - 1e-9)));
}

std::vector<double> others_in(const Charging& charging, const OtherPowers& powers, int days,
                              int arrives) {
  const auto driven_by = [&](int day_) {  // whole driving days that have come up by then
    return charging.every.value() > 0.0 ? std::floor(double(day_) / (charging.every / day)) : 0.0;
  };
  const auto night_at = [&](int d) {
    const int k = charging.mains_nights;
    return d >= 0 && (d % 7 + 1) * k / 7 > d % 7 * k / 7;
  };
  std::vector<double> result(std::size_t(days) * 24, 0.0);
  for (int hour_ = 0; hour_ < days * 24; ++hour_) {
    const int d = (arrives + hour_) / 24, h = (arrives + hour_) % 24;
    const bool drives = d > 0 && driven_by(d) > driven_by(d - 1);
    const double driven = drives ? overlap(h, 9.0, 9.0 + charging.driving / hour) : 0.0;
    const double generated = overlap(h, 16.0, 16.0 + charging.generator / hour);
    const double until = 18.0 + charging.mains / hour;
    double hooked_up = 0.0;
    if (night_at(d)) hooked_up += overlap(h, 18.0, std::min(24.0, until));
    if (until > 24.0 && night_at(d - 1)) hooked_up += overlap(h, 0.0, until - 24.0);
    result[std::size_t(hour_)] = std::max(
        {powers.drive_W * driven, powers.generator_W * generated, powers.mains_W * hooked_up});
  }
  return result;
}

std::vector<double> Surroundings::others(const Charging& charging, int days, int arrives) const {
  using design::ChargerKind;
  const auto watts = [&](ChargerKind kind) { return current_of(kind).value() * charging_V_; };
  return others_in(
      charging,
      {watts(ChargerKind::dc_dc), watts(ChargerKind::mains), watts(ChargerKind::generator)}, days,
      arrives);
}

namespace {

std::vector<design::ChargerKind> kinds_asked(const Charging& charging) {
  std::vector<design::ChargerKind> kinds;
  if (charging.driving.value() > 0.0 && charging.every.value() > 0.0)
    kinds.push_back(design::ChargerKind::dc_dc);
  if (charging.mains_nights > 0) kinds.push_back(design::ChargerKind::mains);
  if (charging.generator.value() > 0.0) kinds.push_back(design::ChargerKind::generator);
  return kinds;
}

}  // namespace

kernel::Plant Surroundings::charged_here(kernel::Plant plant, const Charging& charging) const {
  const kernel::Plant any;
  plant.full_by_others = any.full_by_others, plant.rests_by_others = any.rests_by_others;
  for (const auto kind : kinds_asked(charging))
    for (std::size_t i = 0; i < design_->chargers.size(); ++i)
      if (design_->chargers[i].kind == done_by(design_, kind, delivered_) &&
          current_from(design_, i, delivered_).value() > 0.0)
        limit_by(design_, design_->chargers[i], plant);
  return plant;
}

Surroundings::Surroundings(const design::Design& design, const Weather& weather, const Habit& habit,
                           DeliveredList delivered)
    : design_(design), weather_(weather), delivered_(std::move(delivered)),
      charging_V_((counting_voltage(design) / double(storage_efficiency)).value()) {
  find_panels();
  find_loads(habit);
}

void Surroundings::find_tilt(const design::resolved::Array& array, Panel& p) const {
  const Almanac& almanac = weather_.almanac();
  for (const auto& of_day : almanac.days)
    for (const Angle& omega : of_day.hour_angle) {
      const Angle up = sun_altitude(almanac.latitude, of_day.declination, omega);
      const Angle way = sun_azimuth(almanac.latitude, of_day.declination, omega);
      const Ratio facing =
          up.value() > 0.0 ? incidence_cosine(up, way, array.tilt, array.azimuth) : Ratio(0.0);
      p.facing.push_back(std::max(0.0, double(facing)));
      p.sine.push_back(std::max(std::sin(up.value()), 0.01745));
      p.left.push_back(double(parts::angle_left(facing)));
    }
}

void Surroundings::find_panels() {
  const double aged = double(parts::modules_left(design_->promise.bank_age));
  for (const auto& array : design_->arrays) {
    Panel p;
    if (!reaches_above_reserve(design_, design_[array.controller].charge_voltage)) continue;
    p.controller = std::size_t(array.controller.index);
    p.power_W = array.modules * array.module.power.value() * double(array_losses) * aged;
    p.coefficient = array.module.power_coefficient.value_or(parts::usual_power_coefficient).value();
    p.ross = parts::ross_coefficient(array.mount).value();
    const double strings = double(array.modules) / double(array.in_series);
    p.amperes =
        array.module.imp.value_or(0.0 * ampere).value() * strings * double(array_losses) * aged;
    p.window_V = array.module.vmp.value_or(0.0 * volt).value() * array.in_series;
    p.window_coefficient = p.coefficient - parts::usual_current_coefficient.value();
    const double c = std::cos(array.tilt.value());
    p.sky_share = (1.0 + c) / 2.0;
    p.ground_share = double(albedo) * (1.0 - c) / 2.0;
    for (std::size_t h = 0; h < 24; ++h)
      p.light[h] = (1.0 - double(array.shade[h])) * double(pitch_factor(design_->site.pitch)) *
                   (1.0 - double(array.soiling));
    if (array.tilt.value() > 0.0) find_tilt(array, p);
    p.covered = covered_days(array.covered, weather_.years());
    panels_.push_back(std::move(p));
  }
}

void Surroundings::find_loads(Habit habit) {
  double from = hottest_C, to = coldest_C;  // between them loads go with the air
  bool weekly = false, behind_inverter = false;
  std::vector<int> by_air;  // appliances that follow it
  for (std::size_t i = 0; i < design_->appliances.size(); ++i) {
    const auto& a = design_->appliances[i];
    weekly = weekly || (a.days_of_seven > 0 && a.days_of_seven < 7);
    const auto& off = habit.left_off;
    if (!follows_air(a) || std::find(off.begin(), off.end(), int(i)) != off.end()) continue;
    if (a.duty_per_kelvin.value() != 0.0) {
      from = std::min(from, std::floor(in_celsius(a.duty_at)));
      to = hottest_C;
    }
    if (a.duty_in_cold) {
      from = std::min(from, coldest_rise(a));
      to = std::max(to, std::ceil(in_celsius(a.duty_in_cold->at)));
    }
    behind_inverter = behind_inverter || a.inverter.has_value();
    by_air.push_back(int(i));
  }
  to = std::max(from, to);
  load_from_C_ = from;
  patterns_ = weekly ? 7 : 1;
  // What an inverter loses hangs on all that runs on it: then the whole is asked for each kelvin.
  Habit steady = habit;
  if (!behind_inverter) steady.left_off.insert(steady.left_off.end(), by_air.begin(), by_air.end());
  // Of an appliance by itself a day of the week matters only by whether it is used then.
  std::map<std::tuple<int, bool, double>, ByHour> own;
  const auto own_of = [&](int i, double t,
                          const std::array<Temperature, 24>& air) -> const ByHour& {
    const auto& appliance = design_->appliances[std::size_t(i)];
    const bool used = !habit.day_of_seven || used_on(appliance, *habit.day_of_seven);
    const auto [at, is_new] = own.try_emplace({i, used, t});
    if (is_new) at->second = own_demand(design_, appliance, air, habit);
    return at->second;
  };
  for (int p = 0; p < patterns_; ++p) {
    if (weekly) habit.day_of_seven = steady.day_of_seven = p;
    std::array<Energy, 24> rest{};
    for (double t = from; t <= to; t += 1.0) {
      std::array<Temperature, 24> air;
      air.fill(celsius(t));
      if (behind_inverter || t == from) {
        rest.fill(Energy{});
        for (const auto& c : consumption(design_, air, nullptr, steady))
          for (std::size_t h = 0; h < 24; ++h) rest[h] += c.by_hour[h];
      }
      std::array<Energy, 24> all = rest;
      if (!behind_inverter)
        for (const int i : by_air) {
          const ByHour& demand = own_of(i, t, air);
          for (std::size_t h = 0; h < 24; ++h) all[h] += demand[h];
        }
      for (std::size_t h = 0; h < 24; ++h) by_air_[std::size_t(p)][h].push_back(all[h] / watt_hour);
    }
  }
}

double Surroundings::plane_at(const Panel& p, double level, double diffuse,
                              std::size_t hour_of_year) const {
  const double beam = level - diffuse, from_all_sides = double(parts::diffuse_left);
  if (p.facing.empty()) {
    const Ratio sine = weather_.almanac().days[hour_of_year / 24].sine[hour_of_year % 24];
    return beam * double(parts::angle_left(sine)) + from_all_sides * diffuse;
  }
  const double facing = p.facing[hour_of_year];
  double ratio = facing / p.sine[hour_of_year];
  if (beam > 0.0) ratio = std::min(ratio, facing * brightest_beam.value() / beam);
  return beam * ratio * p.left[hour_of_year] +
         from_all_sides * (diffuse * p.sky_share + level * p.ground_share);
}

double Surroundings::sun_at(const Spell& spell, std::size_t hour_, std::size_t hour_of_year,
                            std::size_t day_of_all) const {
  const double level = spell.level[hour_].value();
  if (level <= 0.0) return 0.0;
  const double diffuse = spell.diffuse[hour_].value();
  const double air_C = in_celsius(spell.air[hour_]);
  // In wind as in an open rack (Faiman), K for each W/m²; else by the mounting.
  const double by_wind =
      spell.wind.empty()
          ? 0.0
          : 1.0 / (parts::still_heat_loss + parts::wind_heat_loss * spell.wind[hour_]).value();
  double all = 0.0;
  for (std::size_t c = 0; c < design_->controllers.size(); ++c) {
    const auto& controller = design_->controllers[c];
    const bool direct = controller.kind == design::ControllerKind::direct;
    double power = 0.0;
    for (const Panel& p : panels_) {
      if (p.controller != c || (!p.covered.empty() && p.covered[day_of_all])) continue;
      const double sun = plane_at(p, level, diffuse, hour_of_year) * p.light[hour_of_year % 24];
      const double above = air_C + (by_wind > 0.0 ? by_wind : p.ross) * sun - 25.0;
      const double window = p.window_V * (1.0 + p.window_coefficient * above);
      const bool steps_up = controller.kind == design::ControllerKind::step_up;
      if (p.window_V > 0.0 && !steps_up && window < charging_V_) continue;  // too hot to push
      const double in_full_light =
          direct ? charging_V_ * p.amperes * sun / 1000.0
                 : p.power_W * sun / 1000.0 * std::max(0.0, 1.0 + p.coefficient * above);
      power += in_full_light * double(parts::low_light(Irradiance::from_value(sun)));
    }
    if (!direct) power *= double(controller.efficiency);
    all += std::min(power, charging_V_ * controller.max_charge_current.value());
  }
  return all;
}

void Surroundings::fill(int year, int first_day, int days, Buffers& b, bool without_sun,
                        std::optional<int> first_pattern) const {
  weather_.spell(year, first_day, days, b.spell);
  const std::size_t n = b.spell.level.size();
  b.sun_W.resize(n), b.air_C.resize(n);
  std::array<double*, 7> loads{};
  std::array<std::array<const double*, 7>, 24> tables{};
  for (std::size_t p = 0; p < std::size_t(patterns_); ++p) {
    b.load_W[p].resize(n);
    loads[p] = b.load_W[p].data();
    for (std::size_t h = 0; h < 24; ++h) tables[h][p] = by_air_[p][h].data();
  }
  const auto* bank = design_->bank ? &*design_->bank : nullptr;
  const auto box = bank ? parts::battery_box(*bank) : std::nullopt;
  const double warmer_by_sun =  // a kelvin for each W/m²: it is proportional
      box && !without_sun
          ? parts::warmer_about_box(*bank, *box, Irradiance::from_value(1000.0)).value() / 1000.0
          : 0.0;
  const int days_of_all = weather_.years() * days_of_year;
  const std::size_t rows = by_air_[0][0].size();
  for (int d = 0; d < days; ++d) {
    const auto of_year = std::size_t((first_day + d) % days_of_year) * 24;
    const auto of_all = std::size_t((year * days_of_year + first_day + d) % days_of_all);
    const auto from = std::size_t(first_pattern ? (*first_pattern + d) % patterns_ : 0);
    const auto to = first_pattern ? from + 1 : std::size_t(patterns_);
    for (std::size_t k = 0; k < 24; ++k) {
      const std::size_t h = std::size_t(d) * 24 + k;
      const double air_C = in_celsius(b.spell.air[h]);
      b.sun_W[h] = without_sun ? 0.0 : sun_at(b.spell, h, of_year + k, of_all);
      const Between between(rows, load_from_C_, air_C);
      for (std::size_t p = from; p < to; ++p) loads[p][h] = between.watts(tables[k][p]);
      b.air_C[h] = air_C + warmer_by_sun * b.spell.level[h].value();
    }
  }
}

}  // namespace housepower::energy

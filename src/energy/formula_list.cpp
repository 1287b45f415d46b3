// SPDX-License-Identifier: Apache-2.0
// The list of this room's formulas: one line each.
#include "housepower/energy/formula_list.hpp"

#include "housepower/energy/autonomy.hpp"
#include "housepower/energy/demand.hpp"
#include "housepower/energy/drawdown.hpp"
#include "housepower/energy/mean_day.hpp"
#include "housepower/energy/questions.hpp"

namespace housepower::energy {
namespace {

constexpr Source position_source{SourceKind::published, "Blanco-Muriel et al. 2001",
                                 "coefficients as transcribed in a public research code"};
constexpr Source erbs_source{SourceKind::from_memory, "Erbs, Klein & Duffie 1982",
                             "confirmed by recomputed examples"};
constexpr Source profile_source{SourceKind::from_memory,
                                "Collares-Pereira & Rabl 1979; Liu & Jordan 1960",
                                "confirmed by recomputed examples"};
constexpr Source klein_source{SourceKind::from_memory, "Liu & Jordan 1962; Klein 1977",
                              "confirmed by a recomputed example"};
Angle altitude_of_the_sun(Duration since, Angle latitude, Angle longitude) {
  return sun_position(since, latitude, longitude).altitude;
}
Angle azimuth_of_the_sun(Duration since, Angle latitude, Angle longitude) {
  return sun_position(since, latitude, longitude).azimuth;
}
Ratio diffuse_share_of_month(Ratio clear, Angle sunset) { return erbs_monthly(clear, sunset); }

constexpr Symbol moment[]{{"t", "time since noon UT on 1 January 2000"},
                          {"φ", "latitude"},
                          {"λ", "longitude, east positive"}};
constexpr Symbol place_and_angle[]{{"φ", "latitude"}, {"δ", "declination"}, {"ω", "hour angle"}};
constexpr Symbol place_and_day[]{{"φ", "latitude"}, {"n", "day of the year"}};
constexpr Symbol sun_of_day[]{{"φ", "latitude"}, {"δ", "declination"}, {"n", "day of the year"}};
constexpr Symbol sun_of_hours[]{{"φ", "latitude"},
                                {"δ", "declination"},
                                {"n", "day of the year"},
                                {"ω_1", "hour angle at the start"},
                                {"ω_2", "at the end"}};
constexpr Symbol clear_hour[]{{"k", "clearness of the hour"}};
constexpr Symbol clear_day[]{{"K", "clearness"}, {"ω_s", "sunset hour angle"}};
constexpr Symbol hour_symbols[]{{"ω", "hour angle at the middle of the hour"},
                                {"ω_s", "sunset hour angle"}};
constexpr Symbol tilted[]{{"H", "irradiation of level ground"},
                          {"D", "diffuse share"},
                          {"φ", "latitude"},
                          {"δ", "declination"},
                          {"β", "tilt to the equator"},
                          {"ρ", "albedo"}};

constexpr std::array all_formulas{
    procedure<&altitude_of_the_sun>(
        "sun-altitude", {"a",
                         "altitude of the sun, no refraction",
                         "procedure: ecliptic, equatorial, horizontal position, parallax",
                         moment,
                         position_source,
                         {},
                         "0.01°, 1950 to 2050"}),
    procedure<&azimuth_of_the_sun>("sun-azimuth",
                                   {"A",
                                    "azimuth of the sun, from north over east",
                                    "procedure: ecliptic, equatorial, horizontal position",
                                    moment,
                                    position_source,
                                    {},
                                    "0.01° of arc, 1950 to 2050"}),
    entry<cooper_declination>("declination-cooper"),
    entry<day_angle>("day-angle"),
    entry<spencer_declination>("declination-spencer"),
    entry<equation_of_time>("equation-of-time"),
    entry<solar_time>("solar-time"),
    entry<hour_angle>("hour-angle"),
    entry<zenith_cosine>("zenith-cosine"),
    procedure<&sun_altitude>("altitude-from-hour-angle",
                             {"a", "altitude of the sun", "asin(sin φ sin δ + cos φ cos δ cos ω)",
                              place_and_angle, duffie_beckman}),
    procedure<&sun_azimuth>("azimuth-from-hour-angle",
                            {"A", "azimuth of the sun, from north over east",
                             "atan2(-sin ω cos δ, sin δ cos φ - cos δ sin φ cos ω)",
                             place_and_angle, duffie_beckman}),
    entry<incidence_cosine>("incidence-cosine"),
    procedure<&sunset_angle>("sunset-angle",
                             {"ω_s", "hour angle of sunset", "acos(-tan φ tan δ), within 0 to 180°",
                              std::span<const Symbol>(place_and_angle, 2), duffie_beckman}),
    entry<distance_factor>("distance-factor"),
    procedure<&extraterrestrial_day>(
        "extraterrestrial-day", {"H_0", "extraterrestrial irradiation of level ground in a day",
                                 "86400 · 1367 / π · d_r · (cos φ cos δ sin ω_s + ω_s sin φ sin δ)",
                                 sun_of_day, duffie_beckman}),
    procedure<&extraterrestrial_between>(
        "extraterrestrial-hours",
        {"I_0", "extraterrestrial irradiation between two hour angles",
         "43200 · 1367 / π · d_r · (cos φ cos δ (sin ω_2 - sin ω_1) + (ω_2 - ω_1) sin φ sin δ)",
         sun_of_hours, duffie_beckman}),
    procedure<&fao_extraterrestrial>("extraterrestrial-fao",
                                     {"R_a",
                                      "extraterrestrial irradiation",
                                      "24 · 60 / π · 0.0820 MJ/m² · d_r · "
                                      "(ω_s sin φ sin δ + cos φ cos δ sin ω_s)",
                                      place_and_day,
                                      fao_outside_source,
                                      {},
                                      "limited beyond 55°"}),
    procedure<&fao_daylight>(
        "daylight-fao", {"N", "daylight", "24 h / π · ω_s", place_and_day, fao_daylight_source}),
    entry<fao_solar>("irradiation-from-sunshine"),
    entry<hargreaves_solar>("irradiation-from-temperatures"),
    entry<lowered>("irradiation-counted-on"),
    entry<clearness>("clearness"),
    procedure<&erbs_hourly>("diffuse-share-hour",
                            {"D", "diffuse share of an hour",
                             "k ≤ 0.22: 1 - 0.09 k; k ≤ 0.80: 0.9511 - 0.1604 k + 4.388 k² - "
                             "16.638 k³ + 12.336 k⁴; above: 0.165",
                             clear_hour, erbs_source}),
    procedure<&erbs_daily>(
        "diffuse-share-day",
        {"D", "diffuse share of a day",
         "ω_s ≤ 81.4°: 1 - 0.2727 K + 2.4495 K² - 11.9514 K³ + 9.3879 K⁴ below 0.715, else 0.143; "
         "above: 1 + 0.2832 K - 2.5557 K² + 0.8448 K³ below 0.722, else 0.175",
         clear_day, erbs_source}),
    procedure<&diffuse_share_of_month>("diffuse-share-month",
                                       {"D",
                                        "diffuse share of a month",
                                        "ω_s ≤ 81.4°: 1.391 - 3.560 K + 4.189 K² - 2.137 K³; "
                                        "above: 1.311 - 3.022 K + 3.427 K² - 1.821 K³; at most 1",
                                        clear_day,
                                        erbs_source,
                                        {},
                                        "K 0.3 to 0.8; below it goes on, above as 0.8"}),
    procedure<&hourly_ratio>(
        "hourly-ratio", {"r_t", "share of a day's irradiation in an hour",
                         "π / 24 (a + b cos ω)(cos ω - cos ω_s) / (sin ω_s - ω_s cos ω_s), "
                         "a = 0.409 + 0.5016 sin(ω_s - 60°), b = 0.6609 - 0.4767 sin(ω_s - 60°)",
                         hour_symbols, profile_source}),
    procedure<&diffuse_ratio>("diffuse-ratio",
                              {"r_d", "share of a day's diffuse irradiation in an hour",
                               "π / 24 (cos ω - cos ω_s) / (sin ω_s - ω_s cos ω_s)", hour_symbols,
                               profile_source}),
    entry<beam_ratio>("beam-ratio"),
    entry<isotropic_tilt>("transposition-isotropic"),
    entry<light_behind_glass>("light-behind-glass"),
    entry<hay_davies>("transposition-hay-davies"),
    entry<reindl>("transposition-reindl"),
    entry<klucher>("transposition-klucher"),
    procedure<&klein_monthly>(
        "transposition-month",
        {"H_T", "mean daily irradiation of a plane tilted to the equator",
         "H ((1 - D) R_b + D (1 + cos β) / 2 + ρ (1 - cos β) / 2), R_b over the month's mean day",
         tilted, klein_source}),
    entry<light_left>("light-left"),
    entry<array_power>("array-power"),
    entry<stored_energy>("stored-energy"),
    entry<duty_in_heat>("duty-in-heat"),
    entry<duty_in_cold>("duty-in-cold"),
    entry<habitual_time>("habitual-time"),
    entry<starting_power>("starting-power"),
    entry<starting_energy>("starting-energy"),
    entry<running_time>("running-time"),
    entry<constant_current_power>("constant-current-power"),
    entry<resistive_power>("resistive-power"),
    entry<appliance_energy>("appliance-energy"),
    entry<inverter_share>("inverter-share"),
    entry<inverter_flat>("inverter-flat"),
    entry<no_load_energy>("inverter-no-load"),
    entry<current_power>("standing-power"),
    entry<standing_energy>("standing-energy"),
    entry<usable_energy>("usable-energy"),
    entry<days_of_autonomy>("autonomy"),
    entry<daily_balance>("daily-balance"),
    entry<drawn_down>("drawdown"),
    entry<running_out>("running-out"),
    entry<self_discharge_power>("self-discharge"),
    entry<standing_time>("standing-time"),
};

}  // namespace

std::span<const FormulaEntry> formulas() { return all_formulas; }

}  // namespace housepower::energy

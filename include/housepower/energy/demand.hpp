// SPDX-License-Identifier: Apache-2.0
// What appliances and standing losses take from the bank in a day: quantity × power × switched-on
// time × duty, and what their starts take besides, through the inverter where one supplies them.
#pragma once

#include <algorithm>
#include <optional>
#include <vector>

#include "housepower/energy/habit.hpp"
#include "housepower/energy/mean_day.hpp"

namespace housepower::energy {

inline constexpr Source counting{SourceKind::common_practice, "energy is power times time", ""};

/// Duty of what works against heat.
inline constexpr Formula duty_in_heat{
    "d",
    "share of time that it draws",
    "min(1, d_0 · (1 + r · max(0, T - T_0)))",
    {{"d_0", "duty as stated"},
     {"r", "relative rise per kelvin"},
     {"T", "air, °C"},
     {"T_0", "temperature for which the duty holds, °C"}},
    Source{SourceKind::supplier, "the design's duty per kelvin", ""},
    [](Ratio duty, PerKelvin rise, Temperature air, Temperature at) -> Ratio {
      const double above = std::max(0.0, (air - at).value());
      return std::min(1.0, double(duty) * (1.0 + rise.value() * above));
    }};

/// Duty of what works against cold: a heater's.
inline constexpr Formula duty_in_cold{
    "d_c",
    "share of time that it draws, in the cold",
    "min(1, d_0 · (1 + r · max(0, T_0 - T)))",
    {{"d_0", "duty as stated, or in heat"},
     {"r", "relative rise per kelvin"},
     {"T", "air, °C"},
     {"T_0", "temperature below which it rises, °C"}},
    Source{SourceKind::supplier, "the design's duty in the cold", ""},
    [](Ratio duty, PerKelvin rise, Temperature air, Temperature at) -> Ratio {
      const double below = std::max(0.0, (at - air).value());
      return std::min(1.0, double(duty) * (1.0 + rise.value() * below));
    }};

inline constexpr Formula running_time{
    "t_run",  "time that it draws",
    "t · d",  {{"t", "switched-on time in a day"}, {"d", "duty"}},
    counting, [](Duration on, Ratio duty) -> Duration { return on * double(duty); }};

/// As people use it: no longer than it can be switched on.
inline constexpr Formula habitual_time{
    "t_run",
    "time that it draws, by habit",
    "min(t_w, f · t)",
    {{"t_w", "time from which to choose in a day"},
     {"f", "factor of habit and number of people"},
     {"t", "time that it draws as stated"}},
    use_source,
    [](Duration window, Ratio factor, Duration stated) -> Duration {
      return std::min(window, Duration(double(factor) * stated));
    }};

/// While it starts.
inline constexpr Formula starting_power{
    "P_s",
    "power while it starts",
    "U · I",
    {{"U", "12.5 V for each 12 V of the system; of its own supply behind an inverter"},
     {"I", "starting current"}},
    Source{SourceKind::from_memory, "normal voltage of a 12 V system", "12.5 V"},
    [](Voltage u, Current i) -> Power { return u * i; }};

/// What starts take beside the power that runs anyway.
inline constexpr Formula starting_energy{
    "E_s",
    "energy of its starts in the mean day",
    "n · max(0, N · P_s · t_s - P · min(N · t_s, t_run)) · w / 7",
    {{"n", "quantity"},
     {"N", "starts in a day of use"},
     {"P_s", "power while it starts"},
     {"t_s", "how long a start lasts"},
     {"P", "power of one"},
     {"t_run", "time that it draws"},
     {"w", "days of seven"}},
    counting,
    [](Ratio quantity, Ratio starts, Power starting, Duration time, Power power, Duration run,
       Ratio days) -> Energy {
      const Duration all = double(starts) * time;
      const Energy counted = power * std::min(all, run);
      return double(quantity) * std::max(Energy{}, Energy(starting * all - counted)) *
             (double(days) / 7.0);
    }};

inline constexpr Formula constant_current_power{
    "P",
    "power at the bank's voltage",
    "P_r · U / U_r",
    {{"P_r", "rated power"}, {"U", "nominal voltage of the bank"}, {"U_r", "rated voltage"}},
    counting,
    [](Power rated, Voltage u, Voltage at) -> Power { return rated * double(u / at); }};

inline constexpr Formula resistive_power{
    "P",
    "power at the bank's voltage",
    "P_r · (U / U_r)²",
    {{"P_r", "rated power"}, {"U", "nominal voltage of the bank"}, {"U_r", "rated voltage"}},
    counting,
    [](Power rated, Voltage u, Voltage at) -> Power {
      return rated * double(u / at) * double(u / at);
    }};

inline constexpr Formula appliance_energy{
    "E",
    "energy in the mean day",
    "n · P · t_run · w / 7",
    {{"n", "quantity"},
     {"P", "power of one"},
     {"t_run", "time that it draws"},
     {"w", "days of seven"}},
    counting,
    [](Ratio quantity, Power power, Duration run, Ratio days) -> Energy {
      return double(quantity) * power * run * (double(days) / 7.0);
    }};

/// Energy at the bank of an a.c. appliance. The loss that grows with the square of the load is
/// shared between those that run together: E[(Σ S)²] of appliances that switch independently.
inline constexpr Formula inverter_share{
    "E_dc",
    "energy at the bank",
    "E · (1 + k · (S + S_o) / (P_r · λ))",
    {{"E", "energy of the appliance"},
     {"k", "loss coefficient of the inverter"},
     {"S", "its power when it draws, VA"},
     {"S_o", "mean power of the others meanwhile, VA"},
     {"P_r", "rating of the inverter"},
     {"λ", "power factor"}},
    Source{SourceKind::published, "Notton, Lazarov, Stoyanov, Renewable Energy 35 (2010) 541",
           "P_dc = P_ac + P_r·(p0 + k·p²), as transcribed in a university's research code; the "
           "no-load draw counted apart"},
    [](Energy e, Ratio k, Power own, Power others, Power rating, Ratio power_factor) -> Energy {
      return e * (1.0 + double(k) * double((own + others) / rating) / double(power_factor));
    }};

inline constexpr Formula inverter_flat{
    "E_dc",
    "energy at the bank",
    "E / η",
    {{"E", "energy of the appliance"}, {"η", "efficiency of the inverter"}},
    Source{SourceKind::supplier, "the design's efficiency", ""},
    [](Energy e, Ratio efficiency) -> Energy { return e / double(efficiency); }};

/// Of its no-load draw, what an inverter takes that searches for a load.
inline constexpr Ratio searching_share = 0.33;
inline constexpr Source searching_source{
    SourceKind::published, "an electrical workshop's page",
    "search mode 0.5 A beside no-load draws of 1.5 and 2 A: a third, the higher share"};
/// Share of the no-load draw while no appliance is switched on.
[[nodiscard]] Ratio idle_share(design::InverterRuns);

inline constexpr Formula no_load_energy{
    "E_0",
    "no-load energy of the inverter",
    "P_0 · (t_used + q · (86400 - t_used))",
    {{"P_0", "no-load draw"},
     {"t_used", "time with an appliance switched on"},
     {"q", "share drawn otherwise: always 1, search 0.33, while used 0"}},
    searching_source,
    [](Power no_load, Duration used, Ratio share) -> Energy {
      return no_load * (used + double(share) * (day - used));
    }};

inline constexpr Formula standing_energy{
    "E",         "energy of a standing draw",
    "P · 86400", {{"P", "power drawn all day"}},
    counting,    [](Power power) -> Energy { return power * day; }};
inline constexpr Formula current_power{
    "P",         "power of a current",
    "n · U · I", {{"n", "how many"}, {"U", "nominal voltage"}, {"I", "current of each"}},
    counting,    [](Ratio n, Voltage u, Current i) -> Power { return double(n) * u * i; }};

/// Everything that draws, with its day and its hours; what the inverter loses is in the share of
/// its appliances. The air is that of each hour.
struct Consumption {
  std::string name, path;
  Energy energy{};
  ByHour by_hour{};
};
/// What is used on w days of seven is used on those days after which a whole one more has come up.
[[nodiscard]] bool used_on(const design::resolved::Appliance&, int day_of_seven);

[[nodiscard]] std::vector<Consumption> consumption(const design::Design&,
                                                   const std::array<Temperature, 24>& air,
                                                   Working* = nullptr, const Habit& = {});

/// At an appliance's own terminals, by the hour.
[[nodiscard]] ByHour own_demand(const design::Design&, const design::resolved::Appliance&,
                                const std::array<Temperature, 24>& air, const Habit&);

/// Whether its duty goes with the air.
[[nodiscard]] bool follows_air(const design::resolved::Appliance&);

/// How long an appliance is switched on in each hour of the day, as stated or by habit.
[[nodiscard]] std::array<Duration, 24> switched_on(const design::resolved::Appliance&);
[[nodiscard]] std::array<Duration, 24>
switched_on(const design::Design&, const design::resolved::Appliance&, const Habit&);

/// The air of the month's mean day by the hour; 25 °C without a place.
[[nodiscard]] std::array<Temperature, 24> air_of_day(const design::Design&,
                                                     std::optional<int> month);
inline constexpr Temperature without_a_place = celsius(25.0);

/// Nominal voltage at which charge is counted: the bank's, or 12.8 V for each 12 V.
[[nodiscard]] Voltage counting_voltage(const design::Design&);

}  // namespace housepower::energy

// SPDX-License-Identifier: Apache-2.0
// A solar module at its terminals: cell temperature, power in sun and heat, voltage in the cold.
#pragma once

#include <algorithm>
#include <cmath>
#include <optional>

#include "housepower/design/design.hpp"
#include "housepower/working/working.hpp"

namespace housepower::parts {

using Speed = Quotient<Length, Duration>;
using HeatTransferPerSpeed = Quotient<HeatTransfer, Speed>;
using PerSpeed = Quotient<Ratio, Speed>;
inline constexpr Irradiance watt_per_square_metre = Irradiance::from_value(1.0);
inline constexpr IrradianceHeating ross_unit = IrradianceHeating::from_value(1.0);  // K·m²/W

/// Cell temperature from one coefficient of the mounting.
inline constexpr Formula ross_temperature{
    "T_c",
    "cell temperature",
    "T_a + k · G",
    {{"T_a", "air temperature"}, {"k", "coefficient of the mounting"}, {"G", "irradiance"}},
    Source{
        SourceKind::published, "Skoplaki & Palyvos, Renewable Energy (2009)",
        "Ross coefficients, doi 10.1016/j.renene.2008.04.009, as transcribed in a public library"},
    [](Temperature air, IrradianceHeating k, Irradiance g) -> Temperature { return air + k * g; }};

inline constexpr Formula noct_temperature{
    "T_c",
    "cell temperature from the nominal operating one",
    "T_a + (T_n - 20) · G / 800",
    {{"T_a", "air temperature"},
     {"T_n", "nominal operating cell temperature"},
     {"G", "irradiance, W/m²"}},
    Source{SourceKind::published, "a public course page on modules", "NOCT model, IEC 61215"},
    [](Temperature air, Temperature nominal, Irradiance g) -> Temperature {
      return air + (nominal - celsius(20.0)) * double(g / (800.0 * watt_per_square_metre));
    }};

inline constexpr Formula faiman_temperature{
    "T_m",
    "module temperature in wind",
    "T_a + G / (U_0 + U_1 · v)",
    {{"T_a", "air temperature"},
     {"G", "irradiance"},
     {"U_0", "heat loss in still air"},
     {"U_1", "heat loss by wind"},
     {"v", "wind speed"}},
    Source{SourceKind::published, "Faiman 2008; IEC 61853-2", "as transcribed in a public library"},
    [](Temperature air, Irradiance g, HeatTransfer still, HeatTransferPerSpeed by_wind,
       Speed wind) -> Temperature { return air + g / (still + by_wind * wind); },
    "open rack: U_0 25 W/(m²·K), U_1 6.84 W·s/(m³·K)"};

inline constexpr Formula u_value_temperature{
    "T_c",
    "cell temperature from a heat balance",
    "T_a + 0.9 · G · (1 - η) / (U_c + U_v · v)",
    {{"T_a", "air temperature"},
     {"G", "irradiance"},
     {"η", "module efficiency"},
     {"U_c", "heat loss in still air"},
     {"U_v", "heat loss by wind"},
     {"v", "wind speed"}},
    Source{SourceKind::published, "U-value model", "as transcribed in a public library"},
    [](Temperature air, Irradiance g, Ratio efficiency, HeatTransfer still,
       HeatTransferPerSpeed by_wind, Speed wind) -> Temperature {
      return air + 0.9 * (1.0 - double(efficiency)) * g / (still + by_wind * wind);
    },
    "U_c 29 free, 20 semi-integrated, 15 insulated back, W/(m²·K)"};

inline constexpr Formula sandia_temperature{
    "T_c",
    "cell temperature, array model",
    "T_a + G · exp(a + b · v) + ΔT · G / 1000",
    {{"T_a", "air temperature"},
     {"G", "irradiance, W/m²"},
     {"a", "coefficient"},
     {"b", "coefficient of wind, s/m"},
     {"v", "wind speed"},
     {"ΔT", "cell over back, K"}},
    Source{SourceKind::published, "Sandia array model", "as transcribed in a public library"},
    [](Temperature air, Irradiance g, Ratio a, PerSpeed b, Speed wind,
       TemperatureDifference over_back) -> Temperature {
      const double sun = g / watt_per_square_metre;
      return air + kelvin * (sun * std::exp(double(a) + double(b * wind))) +
             over_back * (sun / 1000.0);
    },
    "open rack −3.56, −0.0750, 3 K; close mount −2.98, −0.0471, 1 K; insulated back −2.81, "
    "−0.0455, 0 K"};

inline constexpr Formula module_power{
    "P",
    "power of a module",
    "P_stc · G / 1000 · (1 + γ · (T_c - 25))",
    {{"P_stc", "rated power"},
     {"G", "irradiance, W/m²"},
     {"γ", "power coefficient, 1/K"},
     {"T_c", "cell temperature, °C"}},
    Source{SourceKind::published, "a public teaching page on modules", "power in sun and heat"},
    [](Power rated, Irradiance g, PerKelvin gamma, Temperature cell) -> Power {
      return rated * double(g / (1000.0 * watt_per_square_metre)) *
             (1.0 + double(gamma * (cell - celsius(25.0))));
    }};

/// What the glass leaves of a beam that falls in slantwise (b_0 of 0.05).
inline constexpr Formula angle_left{
    "a",
    "share of the beam left by its angle",
    "max(0, 1 - 0.05 · (1 / max(c, 0.0872) - 1)) · min(1, max(0, c - 0.0872) · 1000000)",
    {{"c", "cosine of the angle of incidence"}},
    Source{SourceKind::from_memory, "glass of modules, ASHRAE's form",
           "b_0 of 0.05; none beyond 85°, where the form ends"},
    [](Ratio incidence) -> Ratio {
      const double c = double(incidence), at_85_degrees = 0.0872;
      const double left = std::max(0.0, 1.0 - 0.05 * (1.0 / std::max(c, at_85_degrees) - 1.0));
      return left * std::min(1.0, std::max(0.0, c - at_85_degrees) * 1e6);
    },
    "up to 85°, none beyond"};

/// Diffuse light comes from all sides: its angle takes a share of its own.
inline constexpr Ratio diffuse_left = 0.95;
inline constexpr Source diffuse_left_source{SourceKind::from_memory, "glass of modules",
                                            "of diffuse light 5 % is lost by its angle"};

/// A module gives less than its share in little light.
inline constexpr Formula low_light{"f_G",
                                   "share of its efficiency that a module keeps in little light",
                                   "min(1, max(0.85, 1 + 0.025 · ln(max(0.001, G) / 1000)))",
                                   {{"G", "irradiance on the cells, W/m²"}},
                                   Source{SourceKind::from_memory,
                                          "modules of crystalline silicon in little light",
                                          "2.5 % an e-fold; at least 0.85"},
                                   [](Irradiance g) -> Ratio {
                                     const double share = std::max(0.001, g.value()) / 1000.0;
                                     return std::clamp(1.0 + 0.025 * std::log(share), 0.85, 1.0);
                                   }};

inline constexpr Formula power_kept{
    "P_m",
    "power of a module in that light",
    "P · f_G",
    {{"P", "at its full efficiency"}, {"f_G", "share kept in little light"}},
    low_light.source,
    [](Power p, Ratio kept) -> Power { return p * double(kept); }};

inline constexpr Formula modules_left{
    "f_y",
    "share of their power that modules keep at the van's age",
    "max(0, 1 - 0.005 · t / 31536000)",
    {{"t", "age, s"}},
    Source{SourceKind::from_memory, "Jordan & Kurtz", "0.5 % a year, the usual loss; linearly"},
    [](Duration age) -> Ratio { return std::max(0.0, 1.0 - 0.005 * double(age / year)); }};

inline constexpr Formula cold_voltage{
    "U_oc",
    "open-circuit voltage of a module",
    "U_stc · (1 + β · (T - 25))",
    {{"U_stc", "at 25 °C"}, {"β", "voltage coefficient, 1/K"}, {"T", "module temperature, °C"}},
    Source{SourceKind::published, "several public pages explaining NEC 690.7",
           "coefficient method; at first light modules are at air temperature"},
    [](Voltage rated, PerKelvin beta, Temperature t) -> Voltage {
      return rated * (1.0 + double(beta * (t - celsius(25.0))));
    }};

/// In heat the voltage of best power falls faster than the power, for the current rises a little.
inline constexpr Formula hot_voltage{
    "U_mp",
    "voltage of best power of a hot module",
    "U_stc · (1 + (γ - α) · (T_c - 25))",
    {{"U_stc", "at 25 °C"},
     {"γ", "power coefficient, 1/K"},
     {"α", "rise of its current, 1/K"},
     {"T_c", "cell temperature, °C"}},
    Source{SourceKind::from_memory, "modules of crystalline silicon",
           "the current rises about 0.05 %/K"},
    [](Voltage rated, PerKelvin power, PerKelvin current, Temperature t) -> Voltage {
      return rated * (1.0 + double((power - current) * (t - celsius(25.0))));
    }};
inline constexpr PerKelvin usual_current_coefficient = PerKelvin::from_value(0.0005);

inline constexpr Formula string_voltage{
    "U_string",
    "open-circuit voltage of a string",
    "n · U_oc",
    {{"n", "modules in series"}, {"U_oc", "of one module"}},
    Source{SourceKind::common_practice, "voltages in series add", ""},
    [](Ratio n, Voltage one) -> Voltage { return one * double(n); }};

/// Used where the design gives no power coefficient.
inline constexpr PerKelvin usual_power_coefficient = PerKelvin::from_value(-0.004);
inline constexpr Source usual_power_coefficient_source{SourceKind::published,
                                                       "a public lecture page on modules",
                                                       "about -0.4 %/K, crystalline silicon"};

/// Ross coefficient of the mounting: flat on a roof counts as not ventilated, the safe side.
[[nodiscard]] IrradianceHeating ross_coefficient(design::Mount);

/// Heat that a module in an open rack loses in still air and by wind (Faiman).
inline constexpr HeatTransfer still_heat_loss = HeatTransfer::from_value(25.0);
inline constexpr HeatTransferPerSpeed wind_heat_loss = HeatTransferPerSpeed::from_value(6.84);

/// The air about a module. Where its wind is known that decides how warm the module becomes, else
/// its mounting.
struct AirAbout {
  Temperature temperature{};
  std::optional<Speed> wind{};
};
/// Its voltage of best power then; nothing where `vmp` is not stated.
[[nodiscard]] std::optional<Voltage> best_voltage_in_sun(const design::Module&, design::Mount,
                                                         Irradiance, const AirAbout&);
/// Power of one module in that light on its cells.
[[nodiscard]] Power power_in_sun(const design::Module&, design::Mount, Irradiance, const AirAbout&,
                                 Working* = nullptr);

}  // namespace housepower::parts

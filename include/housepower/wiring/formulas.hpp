// SPDX-License-Identifier: Apache-2.0
// The closed formulas of wiring, each once: code, text and source together. The named check modes
// of other texts (ABYC, ISO 10133, EN 1648) stand beside the engine's own.
#pragma once

#include <algorithm>
#include <cmath>

#include "housepower/working/working.hpp"

namespace housepower::wiring {

/// Copper's resistivity at 20 °C, IACS: 1/58 Ω·mm²/m.
inline constexpr Resistivity copper_resistivity = Resistivity::from_value(0.017241e-6);
inline constexpr Source copper_source{SourceKind::published,
                                      "International Annealed Copper Standard",
                                      "0.017241 Ω·mm²/m at 20 °C; 1.72 µΩ·cm in a public message"};

/// Resistance of copper at T from that at 20 °C.
inline constexpr Formula resistance_at_temperature{
    "r",
    "resistance per length at the conductor's temperature",
    "r20 · (234.5 + T) / 254.5",
    {{"r20", "resistance per length at 20 °C"}, {"T", "conductor temperature"}},
    Source{SourceKind::published, "FAA AC 43.13-1B (1998, CHG 1 2001)", "par. 11-66d, p. 11-22"},
    [](ResistancePerLength r20, Temperature t) -> ResistancePerLength {
      return r20 * (234.5 + in_celsius(t)) / 254.5;
    },
    "copper, −50 to 250 °C"};

/// Conductor temperature under load: the rise over ambient goes with the square of the current.
inline constexpr Formula conductor_temperature{
    "T",
    "conductor temperature",
    "T_a + (T_max - T_a) · (I / I_z)²",
    {{"T_a", "ambient"},
     {"T_max", "limit of the insulation"},
     {"I", "current"},
     {"I_z", "ampacity at that ambient"}},
    Source{SourceKind::common_practice, "steady heat balance of a conductor", ""},
    [](Temperature ambient, Temperature limit, Current i, Current ampacity) -> Temperature {
      const double load = i / ampacity;
      return ambient + (limit - ambient) * (load * load);
    }};

/// The older rule of the FAA, stated there to be conservative.
inline constexpr Formula conductor_temperature_faa{
    "T_2",
    "conductor temperature by the square-root rule",
    "T_1 + (T_R - T_1) · √(I_2 / I_max)",
    {{"T_1", "ambient"},
     {"T_R", "rating of the wire"},
     {"I_2", "current"},
     {"I_max", "largest allowed current"}},
    Source{SourceKind::published, "FAA AC 43.13-1B (1998, CHG 1 2001)", "par. 11-66d, p. 11-23"},
    [](Temperature ambient, Temperature rating, Current i, Current most) -> Temperature {
      return ambient + (rating - ambient) * std::sqrt(double(i / most));
    }};

/// The resistance law of copper is only good so far; a hotter conductor has lost its insulation.
inline constexpr Temperature hottest_copper = celsius(250.0);
inline constexpr Formula no_hotter{
    "T",
    "conductor temperature, within the range of the resistance law",
    "min(T, T_end)",
    {{"T", "conductor temperature"}, {"T_end", "end of the range"}},
    Source{SourceKind::common_practice, "range of the resistance law of copper", ""},
    [](Temperature t, Temperature end) -> Temperature { return std::min(t, end); }};

/// Voltage lost between source and load, out and back.
inline constexpr Formula voltage_drop{
    "U_drop",
    "voltage lost out and back",
    "2 · L · I · r",
    {{"L", "one-way length"}, {"I", "current"}, {"r", "resistance per length"}},
    Source{SourceKind::published, "FAA AC 43.13-1B (1998, CHG 1 2001)", "table 11-7, p. 11-22"},
    [](Length one_way, Current i, ResistancePerLength r) -> Voltage {
      return 2.0 * one_way * i * r;
    },
    "direct current, steady"};

/// Resistance of one conductor.
inline constexpr Formula conductor_resistance{
    "R",
    "resistance of one conductor",
    "r · L",
    {{"r", "resistance per length"}, {"L", "length"}},
    Source{SourceKind::published, "FAA AC 43.13-1B (1998, CHG 1 2001)", "table 11-7, p. 11-22"},
    [](ResistancePerLength r, Length l) -> Resistance { return r * l; }};

/// Resistance of all of one pole of a run: conductors in parallel, joints and items in line.
inline constexpr Formula pole_resistance{
    "R",
    "resistance of one pole",
    "r · L / n + R_j",
    {{"r", "resistance per length"},
     {"L", "length of the conductor"},
     {"n", "conductors in parallel"},
     {"R_j", "joints and items"}},
    Source{SourceKind::common_practice, "resistances in series", ""},
    [](ResistancePerLength r, Length l, Ratio n, Resistance joints) -> Resistance {
      return r * l / double(n) + joints;
    }};

/// Voltage along one pole of a run.
inline constexpr Formula pole_drop{
    "U",
    "voltage lost along one pole",
    "I · R",
    {{"I", "current"}, {"R", "resistance of the pole"}},
    Source{SourceKind::published, "FAA AC 43.13-1B (1998, CHG 1 2001)", "table 11-7, p. 11-22"},
    [](Current i, Resistance r) -> Voltage { return i * r; }};

/// Current of appliances of a power at a voltage.
inline constexpr Formula current_of_power{
    "I",
    "current of constant-power loads",
    "n · P / U",
    {{"n", "how many"}, {"P", "power of one"}, {"U", "least voltage at which it works"}},
    Source{SourceKind::common_practice, "P = U·I", ""},
    [](Ratio n, Power p, Voltage u) -> Current { return double(n) * (p / u); }};

/// Current of resistive appliances at another voltage than the rated one.
inline constexpr Formula current_of_resistance{
    "I",
    "current of resistive loads",
    "n · P · U / U_r²",
    {{"n", "how many"}, {"P", "power of one"}, {"U", "highest voltage"}, {"U_r", "rated at"}},
    Source{SourceKind::common_practice, "Ohm's law", ""},
    [](Ratio n, Power p, Voltage u, Voltage rated) -> Current {
      return double(n) * double(u / rated) * (p / rated);
    }};

/// Heating current of an inverter's input.
inline constexpr Formula inverter_current{
    "I",
    "r.m.s. current of the inverter's input",
    "f_r · P_dc / U",
    {{"f_r", "r.m.s. over mean"}, {"P_dc", "power drawn"}, {"U", "voltage"}},
    Source{SourceKind::common_practice, "P = U·I; ripple of a single-phase inverter", ""},
    [](Ratio ripple, Power p, Voltage u) -> Current { return double(ripple) * (p / u); }};

/// Input current of a dc-dc charger.
inline constexpr Formula charger_input{
    "I",
    "input current of a dc-dc charger",
    "U_c · I_c / (η · U)",
    {{"U_c", "charge voltage"},
     {"I_c", "charge current"},
     {"η", "efficiency"},
     {"U", "input voltage"}},
    Source{SourceKind::common_practice, "power in = power out / η", ""},
    [](Voltage charge, Current i, Ratio efficiency, Voltage u) -> Current {
      return double(charge / u) * i / double(efficiency);
    }};

/// Largest steady current of an array.
inline constexpr Formula array_current{
    "I",
    "largest current of an array",
    "n · I_sc · 1.25",
    {{"n", "strings in parallel"}, {"I_sc", "short-circuit current of a module"}},
    Source{SourceKind::published, "an equipment manual", "p. 39: I_sc × 1.25"},
    [](Ratio strings, Current isc) -> Current { return double(strings) * isc * 1.25; }};

/// Resistance per length of a copper cross-section.
inline constexpr Formula copper_resistance{
    "r",           "resistance per length of pure copper at 20 °C",
    "ρ / S",       {{"ρ", "resistivity"}, {"S", "copper cross-section"}},
    copper_source, [](Resistivity rho, Area s) -> ResistancePerLength { return rho / s; }};

/// Correction of an ampacity for another ambient, by the heat balance.
inline constexpr Formula ambient_factor{
    "k_a",
    "ambient factor",
    "√(max(0, (T_max - T_a) / (T_max - T_base)))",
    {{"T_max", "limit of the insulation"}, {"T_a", "ambient"}, {"T_base", "ambient of the table"}},
    Source{SourceKind::from_memory, "heat balance of a conductor",
           "reproduces IEC 60364-5-52 table B.52.14 as quoted in a machine maker's manual"},
    [](Temperature limit, Temperature ambient, Temperature base) -> Ratio {
      return std::sqrt(std::max(0.0, double((limit - ambient) / (limit - base))));
    }};

/// The same where a device or terminal beside it bears less than the insulation.
inline constexpr Formula terminal_factor{
    "k_a",
    "ambient factor near a terminal",
    "√(max(0, (T_t - T_a) / (T_max - T_base)))",
    {{"T_t", "limit of the terminal"},
     {"T_a", "ambient"},
     {"T_max", "limit of the insulation"},
     {"T_base", "ambient of the table"}},
    Source{SourceKind::from_memory, "terminals of devices are rated for 75 °C",
           "heat balance of IEC 60364-5-52 table B.52.14"},
    [](Temperature terminal, Temperature ambient, Temperature limit, Temperature base) -> Ratio {
      return std::sqrt(std::max(0.0, double((terminal - ambient) / (limit - base))));
    }};

/// Hotter than the last row of a table of ambient factors: reckoned on from that row.
inline constexpr Formula ambient_beyond{
    "k_a",
    "ambient factor beyond the last row",
    "k_e · √(max(0, (T_max - T_a) / (T_max - T_e)))",
    {{"k_e", "factor of the last row"},
     {"T_max", "limit of the insulation"},
     {"T_a", "ambient"},
     {"T_e", "ambient of the last row"}},
    Source{SourceKind::from_memory, "heat balance of a conductor",
           "as IEC 60364-5-52 table B.52.14, from the last row on"},
    [](Ratio last, Temperature limit, Temperature ambient, Temperature end) -> Ratio {
      return double(last) * std::sqrt(std::max(0.0, double((limit - ambient) / (limit - end))));
    }};

/// More together than the last row of a table of grouping factors.
inline constexpr Formula grouping_beyond{
    "k_g",
    "grouping factor beyond the last row",
    "k_e · √(n_e / n)",
    {{"k_e", "factor of the last row"}, {"n_e", "its number"}, {"n", "number together"}},
    Source{SourceKind::from_memory, "heat of a bundle grows with what lies in it",
           "the last row × √(its number / number)"},
    [](Ratio last, Ratio end, Ratio together) -> Ratio {
      return double(last) * std::sqrt(double(end) / double(together));
    }};

/// A run that lies worse than its table's cables; better earns no credit.
inline constexpr Formula lie_factor{
    "k_l",
    "factor of how it lies",
    "min(1, k_r / k_o)",
    {{"k_r", "what it bears so, of clipped"},
     {"k_o", "what the table's cables carry as laid, of clipped"}},
    Source{SourceKind::common_practice, "ratio of two lies", "at most 1"},
    [](Ratio run, Ratio own) -> Ratio { return std::min(1.0, double(run) / double(own)); }};

/// Near a terminal whose temperature has a column of its own.
inline constexpr Formula terminal_of_column{
    "k_t",
    "terminal factor",
    "min(1, I_c · k_c / (I_t · k_a))",
    {{"I_c", "current of the terminal's column"},
     {"k_c", "its ambient factor at the terminal"},
     {"I_t", "current of the table"},
     {"k_a", "ambient factor"}},
    Source{SourceKind::common_practice, "the lower of two columns", ""},
    [](Current column, Ratio at_terminal, Current listed, Ratio ambient) -> Ratio {
      return std::min(1.0, double(column / listed) * double(at_terminal) / double(ambient));
    }};

/// And where it has none: by the heat balance at the terminal.
inline constexpr Formula terminal_by_heat{
    "k_t",
    "terminal factor",
    "min(1, k_b / k_a)",
    {{"k_b", "ambient factor at the terminal"}, {"k_a", "ambient factor"}},
    Source{SourceKind::common_practice, "the lower of two limits", ""},
    [](Ratio at_terminal, Ratio ambient) -> Ratio {
      return std::min(1.0, double(at_terminal) / double(ambient));
    }};

/// Ampacity of a run near a device or terminal.
inline constexpr Formula ampacity_at_terminal{
    "I_z",
    "ampacity near a terminal",
    "I · k_t",
    {{"I", "ampacity by the insulation"}, {"k_t", "terminal factor"}},
    Source{SourceKind::common_practice, "the lower of two limits", ""},
    [](Current by_insulation, Ratio terminal) -> Current {
      return by_insulation * double(terminal);
    }};

/// Ampacity of a run: the table's current, corrected.
inline constexpr Formula corrected_ampacity{
    "I_z",
    "ampacity",
    "n · I_t · k_a · k_g · k_l",
    {{"n", "conductors in parallel"},
     {"I_t", "current of the table"},
     {"k_a", "ambient factor"},
     {"k_g", "grouping factor"},
     {"k_l", "factor of how it lies"}},
    Source{SourceKind::common_practice, "factors multiply the current of a table",
           "IEC 60364-5-52 clause 523 was not read"},
    [](Ratio n, Current listed, Ratio ambient, Ratio grouping, Ratio laid) -> Current {
      return listed * double(n) * double(ambient) * double(grouping) * double(laid);
    }};

/// k of a conductor and its insulation, in the standard's own number-valued form.
inline constexpr Formula k_factor{
    "k",
    "adiabatic factor of copper",
    "226 · √(ln((234.5 + θ_f) / (234.5 + θ_i)))",
    {{"θ_i", "temperature before the fault"}, {"θ_f", "limit at its end"}},
    Source{SourceKind::published, "IEC 60949 / IEC 60364-5-54 annex A",
           "as quoted; recomputed 225.7 for 226"},
    [](Temperature initial, Temperature final_) -> Ratio {
      return 226.0 *
             std::sqrt(std::log((234.5 + in_celsius(final_)) / (234.5 + in_celsius(initial))));
    },
    "faults up to 5 s",
    "A·√s/mm²"};

/// Least copper that survives a fault current for a time.
inline constexpr Formula adiabatic_area{
    "S",
    "least conductor area",
    "√(I² · t) / k · 1 mm²",
    {{"I", "fault current"}, {"t", "clearing time"}, {"k", "adiabatic factor, A·√s/mm²"}},
    Source{SourceKind::published, "Basic Electrical Installation Work",
           "worked example, p. 251; the clause, 543.1.3 of BS 7671, was not read"},
    [](Current i, Duration t, Ratio k) -> Area {
      return std::sqrt(i.value() * i.value() * t.value()) / double(k) * square_millimetre;
    },
    "t up to 5 s"};

/// Let-through that a conductor withstands.
inline constexpr Formula withstand{
    "k²S²",
    "let-through the conductor withstands",
    "(k · S)²",
    {{"k", "adiabatic factor, A·√s/mm²"}, {"S", "conductor area in mm²", "mm²"}},
    Source{SourceKind::published, "IEC 60949 / IEC 60364-5-54 annex A",
           "S ≥ √(I²t) / k, up to 5 s, as quoted"},
    [](Ratio k, Area s) -> LetThrough {
      const double amperes_root_second = double(k) * (s / square_millimetre);
      return LetThrough::from_value(amperes_root_second * amperes_root_second);
    },
    "t up to 5 s"};

/// Current of a source into a short circuit.
inline constexpr Formula prospective_current{
    "I_k",
    "prospective fault current",
    "U / R",
    {{"U", "open-circuit voltage"}, {"R", "resistance of source and way"}},
    Source{SourceKind::published, "a circuit-breaker maker's d.c. guide", "I_k = U / R"},
    [](Voltage u, Resistance r) -> Current { return u / r; }};

/// Current of a constant-power load behind a resistance: the root that keeps the voltage up.
inline constexpr Formula constant_power_current{
    "I",
    "current of a constant-power load",
    "(U - √(U² - 4 · R · P)) / (2 · R)",
    {{"U", "open-circuit voltage"}, {"R", "resistance of source and way"}, {"P", "power"}},
    Source{SourceKind::common_practice, "quadratic of source, way and load", ""},
    [](Voltage u, Resistance r, Power p) -> Current {
      const double root = std::sqrt(u.value() * u.value() - 4.0 * r.value() * p.value());
      return Current::from_value((u.value() - root) / (2.0 * r.value()));
    },
    "4 · R · P ≤ U²; beyond it there is no operating point"};

/// ABYC: circular-mil area for a drop. K = 10.75 Ω·cmil/ft, the loop in feet.
inline constexpr Formula abyc_area{
    "CM",
    "copper area by ABYC",
    "ρ_K · I · L_loop / E",
    {{"ρ_K", "10.75 Ω·cmil/ft = 0.01787 Ω·mm²/m"},
     {"I", "current"},
     {"L_loop", "out and back"},
     {"E", "allowed drop"}},
    Source{SourceKind::published, "ABYC E-11",
           "CM = K·I·L/E as quoted in a marine retailer's copy"},
    [](Resistivity rho, Current i, Length loop, Voltage e) -> Area { return rho * i * loop / e; }};
/// 10.75 Ω·cmil/ft in SI: a circular mil is π/4 · (25.4 µm)².
inline constexpr Resistivity abyc_k =
    Resistivity::from_value(10.75 * 0.25 * 3.14159265358979323846 * 25.4e-6 * 25.4e-6 / 0.3048);

/// Drop by a named text's own resistivity and the loop length.
inline constexpr Formula loop_drop{
    "E",
    "drop by a named resistivity",
    "ρ · I · L_loop / S",
    {{"ρ", "the text's resistivity"},
     {"I", "current"},
     {"L_loop", "out and back"},
     {"S", "conductor area"}},
    Source{SourceKind::published, "ISO 10133 annex A; EN 1648-2", "as read in public copies"},
    [](Resistivity rho, Current i, Length loop, Area s) -> Voltage { return rho * i * loop / s; }};
/// Area for a drop by a named text's own resistivity.
inline constexpr Formula loop_area{
    "S",
    "area by a named resistivity",
    "ρ · I · L_loop / E",
    {{"ρ", "the text's resistivity"},
     {"I", "current"},
     {"L_loop", "out and back"},
     {"E", "allowed drop"}},
    Source{SourceKind::published, "EN 1648-2", "S = ρ·L·I/U as read in a public forum thread"},
    [](Resistivity rho, Current i, Length loop, Voltage e) -> Area { return rho * i * loop / e; }};
inline constexpr Resistivity iso_10133_resistivity =
    Resistivity::from_value(0.0164e-6);  // below pure copper
inline constexpr Resistivity en_1648_resistivity =
    Resistivity::from_value(0.01989e-6);  // copper at 50 °C

}  // namespace housepower::wiring

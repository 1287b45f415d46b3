// SPDX-License-Identifier: Apache-2.0
// The list of this room's formulas: one line each.
#include "housepower/parts/formula_list.hpp"

#include "housepower/parts/ageing.hpp"
#include "housepower/parts/battery_box.hpp"
#include "housepower/parts/cell.hpp"
#include "housepower/parts/controller.hpp"
#include "housepower/parts/inverter.hpp"
#include "housepower/parts/module.hpp"

namespace housepower::parts {
namespace {

constexpr Symbol resistance_symbols[]{{"T", "cell temperature"}, {"s", "state of charge"}};
constexpr FormulaText resistance_text{
    "f_R", "resistance of a cell against 25 °C and 50 % charge",
    "procedure: measured ratios by charge and by temperature, straight between them",
    resistance_symbols, resistance_factor_source};

constexpr std::array list{
    entry<inverter_input>("inverter-input"),
    entry<inverter_input_flat>("inverter-input-flat"),
    entry<string_of_cells>("open-circuit-voltage-of-cells"),
    procedure<&resistance_factor>("resistance-factor", resistance_text),
    entry<resistance_now>("battery-resistance"),
    entry<usable_charge>("usable-charge"),
    entry<charging_current>("charge-limit"),
    entry<naumann_calendar_loss>("ageing-small-cells-standing"),
    entry<naumann_cycle_loss>("ageing-small-cells-cycling"),
    entry<naumann_calendar_resistance>("ageing-resistance-standing"),
    entry<naumann_cycle_resistance>("ageing-resistance-cycling"),
    entry<anode_potential>("anode-potential"),
    entry<prismatic_calendar_loss>("ageing-prismatic-standing"),
    entry<prismatic_cycle_loss>("ageing-prismatic-cycling"),
    entry<full_equivalent_cycles>("full-equivalent-cycles"),
    entry<share_left>("share-left"),
    entry<resistance_aged>("resistance-aged"),
    entry<ross_temperature>("module-temperature"),
    entry<noct_temperature>("module-temperature-noct"),
    entry<faiman_temperature>("module-temperature-faiman"),
    entry<u_value_temperature>("module-temperature-u-value"),
    entry<sandia_temperature>("module-temperature-sandia"),
    entry<module_power>("module-power"),
    entry<angle_left>("light-left-by-angle"),
    entry<low_light>("module-in-little-light"),
    entry<power_kept>("module-power-in-little-light"),
    entry<modules_left>("ageing-modules"),
    entry<cold_voltage>("module-open-circuit-voltage"),
    entry<hot_voltage>("module-voltage-in-heat"),
    entry<string_voltage>("string-open-circuit-voltage"),
    entry<converted_power>("controller-output"),
    entry<direct_power>("controller-output-direct"),
    entry<within_limit>("controller-limit"),
    entry<wall_area>("box-wall-area"),
    entry<wall_conductance>("box-wall-conductance"),
    entry<wall_heat_transfer>("wall-heat-transfer"),
    entry<time_constant>("box-time-constant"),
    entry<steady_rise>("box-rise"),
    entry<holding_power>("box-holding-power"),
    entry<sun_on_wall>("sun-on-wall"),
    entry<cells_after>("box-cells-after"),
    entry<mass_from_energy>("mass-from-energy"),
};

}  // namespace

std::span<const FormulaEntry> formulas() { return list; }

}  // namespace housepower::parts

// SPDX-License-Identifier: Apache-2.0
#include "housepower/wiring/formula_list.hpp"

#include "housepower/wiring/charging_circuits.hpp"
#include "housepower/wiring/clearing.hpp"
#include "housepower/wiring/formulas.hpp"
#include "housepower/wiring/joints.hpp"
#include "housepower/wiring/links.hpp"
#include "housepower/wiring/reserve.hpp"
#include "housepower/wiring/source_ends.hpp"
#include "housepower/wiring/starting.hpp"

namespace housepower::wiring {

std::span<const FormulaEntry> formulas() {
  static constexpr FormulaEntry all[] = {
      entry<voltage_drop>("voltage-drop"),
      entry<resistance_at_temperature>("resistance-at-temperature"),
      entry<conductor_temperature>("conductor-temperature"),
      entry<conductor_temperature_faa>("conductor-temperature-faa"),
      entry<conductor_resistance>("conductor-resistance"),
      entry<pole_resistance>("pole-resistance"),
      entry<pole_drop>("pole-drop"),
      entry<copper_resistance>("copper-resistance"),
      entry<ambient_factor>("ambient-factor"),
      entry<terminal_factor>("terminal-factor"),
      entry<ambient_beyond>("ambient-factor-beyond"),
      entry<grouping_beyond>("grouping-factor-beyond"),
      entry<lie_factor>("lie-factor"),
      entry<terminal_of_column>("terminal-factor-of-column"),
      entry<terminal_by_heat>("terminal-factor-by-heat"),
      entry<ampacity_at_terminal>("ampacity-at-terminal"),
      entry<corrected_ampacity>("ampacity"),
      entry<k_factor>("k-factor"),
      entry<adiabatic_area>("adiabatic-size"),
      entry<withstand>("withstand"),
      entry<prospective_current>("prospective-current"),
      entry<divided_current>("divided-current"),
      entry<multiple_of_rating>("multiple-of-rating"),
      entry<time_between_gates>("time-between-gates"),
      entry<time_past_gates>("time-past-gates"),
      entry<let_through>("let-through"),
      entry<withstood_for>("withstood-for"),
      entry<surely_opens>("surely-opens"),
      entry<time_constant>("time-constant"),
      entry<warmed_up>("warmed-up"),
      entry<rerated_current>("rerated-current"),
      entry<constant_power_current>("constant-power-current"),
      entry<current_of_power>("current-of-power"),
      entry<current_of_resistance>("current-of-resistance"),
      entry<inverter_current>("inverter-current"),
      entry<charger_input>("charger-input"),
      entry<array_current>("array-current"),
      entry<voltage_behind>("voltage-behind-resistance"),
      entry<current_at_cut_out>("current-at-cut-out"),
      entry<charger_output>("charger-output"),
      entry<reverse_current>("reverse-current"),
      entry<abyc_area>("abyc-area"),
      entry<loop_drop>("loop-drop"),
      entry<loop_area>("loop-area"),
      entry<contact_voltage>("contact-voltage"),
      entry<contact_heat>("contact-heat"),
      entry<contact_resistance>("contact-resistance"),
      entry<contact_current>("contact-current"),
      entry<left_if_one_opens>("left-if-one-opens"),
      entry<borne_by_links>("borne-by-links"),
      entry<array_limit>("array-limit"),
      entry<fault_of_the_others>("fault-of-the-others"),
      entry<jump_current>("jump-current"),
      entry<unevenness>("unevenness"),
      entry<equalising_current>("equalising-current")};
  return all;
}

}  // namespace housepower::wiring

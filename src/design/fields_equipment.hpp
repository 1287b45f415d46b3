// SPDX-License-Identifier: Apache-2.0
// Keys of what stores, makes and converts power: [bank], [[array]], [[controller]], [[charger]],
// [[feed]], [[inverter]].
#pragma once

#include "field_kinds.hpp"

namespace housepower {

using namespace design;

template <>
inline constexpr auto fields<ResistanceRange> = std::array{
    source_ohms(field<&ResistanceRange::low>(
        "low", "The lowest it can be; a data sheet's \"at most\" is not this.", "2 mΩ")),
    source_ohms(field<&ResistanceRange::high>("high", "The highest it can be.", "5 mΩ")),
};
template <>
inline constexpr auto fields<Peak> = std::array{
    rated_amperes(
        field<&Peak::current>("current", "Current that it gives for a short time.", "200 A")),
    moment(field<&Peak::time>("time", "For how long.", "3 s")),
};
template <>
inline constexpr auto fields<Storage> = std::array{
    share(field<&Storage::charge>("charge", "State of charge between journeys.", "80 %"))
        .or_else("100 %"),
    degrees(
        field<&Storage::temperature>("temperature", "Mean temperature between journeys.", "25 °C"))
        .or_else("25 °C"),
};
template <>
inline constexpr auto fields<Terminal> = std::array{
    field<&Terminal::stud>("stud", "Thread of the stud.", "M8"),
    field<&Terminal::largest_conductor>("largest_conductor", "Largest size of which a lug fits.",
                                        "50 mm2")
        .or_number(),
};
template <>
inline constexpr auto fields<Link> = std::array{
    field<&Link::conductor>("conductor", "Its size.", "35 mm2").or_number(),
    metres(field<&Link::length>("length", "Along itself, stud to stud.", "0.2 m")),
    ohms(field<&Link::resistance>(
        "resistance", "With its two joints, as measured; left out, its copper and usual joints.",
        "0.35 mΩ")),
};
template <>
inline constexpr auto fields<Links> = std::array{
    field<&Links::positive>("positive", "Each link between neighbouring positive terminals."),
    field<&Links::negative>("negative", "Each link between neighbouring negative terminals."),
};
template <>
inline constexpr auto fields<DeviceAtBattery> = std::array{
    field<&DeviceAtBattery::type>("type", "A fuse type of the tables, or the name of a [[device]].",
                                  "terminal-cube"),
    rated_amperes(field<&DeviceAtBattery::rating>("rating", "Its rated current.", "150 A")),
    breaking(field<&DeviceAtBattery::breaking_capacity>(
        "breaking_capacity", "Largest current that it interrupts, as its maker says.", "10 kA")),
};
template <>
inline constexpr auto fields<EachBattery> = std::array{
    field<&EachBattery::lead>("lead", "From each battery to the common bar."),
    field<&EachBattery::protection>("protection", "The device at each battery."),
};
template <>
inline constexpr auto fields<Heater> = std::array{
    rated_watts(field<&Heater::power>("power", "What it draws while on.", "30 W")),
    field<&Heater::supplied_by>("supplied_by",
                                "Whether only charging current feeds it, or the bank.", "charge"),
    degrees(field<&Heater::on_below>("on_below", "It switches on below this.", "2 °C")),
    degrees(field<&Heater::off_above>("off_above", "It switches off above this.", "5 °C")),
};
template <>
inline constexpr auto fields<Box> = std::array{
    metres(field<&Box::size>("size", "Outside length, width and height.",
                             "[\"0.9 m\", \"0.35 m\", \"0.3 m\"]")),
    field<&Box::sits>("sits", "Where it is: on the drawbar in the sun, or under the floor.",
                      "underfloor")
        .or_else("drawbar"),
    field<&Box::heat_transfer>(
        "heat_transfer", "Heat through its walls, for each square metre and kelvin.", "2.5 W/m2K")
        .at_least(HeatTransfer::from_value(0.01))
        .at_most(HeatTransfer::from_value(100.0))
        .or_else("5 W/m2K"),
    share(field<&Box::absorptance>("absorptance", "Share of the sunshine on it that it takes up.",
                                   "0.3"))
        .or_else("0.6"),
    field<&Box::heater>("heater", "Keeps the batteries warm enough to charge."),
};

template <>
inline constexpr auto fields<Bank> = std::array{
    field<&Bank::chemistry>("chemistry", "Of its cells: lithium iron phosphate.", "lfp").needed(),
    count(field<&Bank::quantity>("quantity", "Batteries, or strings of them, in parallel.", "1"), 1,
          64)
        .needed(),
    count(field<&Bank::in_series>("in_series", "Batteries in each string.", "1"), 1, 16)
        .or_else("1"),
    field<&Bank::capacity>("capacity", "Rated capacity of each battery.", "100 Ah")
        .needed()
        .at_least(0.1 * ampere_hour)
        .at_most(10000.0 * ampere_hour),
    volts(field<&Bank::nominal_voltage>("nominal_voltage", "Of each battery.", "12.8 V")).needed(),
    field<&Bank::resistance>(
        "resistance",
        "Of each battery from terminal to terminal, new, 25 °C, half charged, switches closed."),
    rated_amperes(field<&Bank::charge_limit>("charge_limit",
                                             "Largest charging current of each battery.", "50 A")),
    rated_amperes(field<&Bank::discharge_limit>(
        "discharge_limit", "Largest continuous current of each battery.", "100 A")),
    field<&Bank::peak>("peak", "What each battery gives for a short time."),
    volts(field<&Bank::open_circuit_full>(
        "open_circuit_full", "Of the whole bank, full and rested; left out, 3.53 V a cell.",
        "14.1 V")),
    volts(field<&Bank::charge_voltage_highest>(
        "charge_voltage_highest",
        "The most that the whole bank may be charged with; left out, 3.65 V a cell.", "14.6 V")),
    degrees(field<&Bank::charge_cut_off_below>(
        "charge_cut_off_below", "The battery refuses charge when colder than this.", "0 °C")),
    field<&Bank::no_cold_cut_off>("no_cold_cut_off",
                                  "True where nothing stops charging in the cold.", "true"),
    at_most_one({"charge_cut_off_below", "no_cold_cut_off"}),
    degrees(field<&Bank::charge_cut_off_above>(
        "charge_cut_off_above", "The battery refuses charge when hotter than this.", "55 °C")),
    kilograms(field<&Bank::mass>("mass", "Of each battery.", "11.5 kg")),
    metres(field<&Bank::size>("size", "Length, width and height of each battery.",
                              "[\"0.33 m\", \"0.17 m\", \"0.22 m\"]")),
    field<&Bank::price>("price", "Of each battery, in any currency.", "420 EUR"),
    amperes(
        field<&Bank::own_draw>("own_draw", "What the electronics of each battery draw.", "20 mA"))
        .or_else("20 mA"),
    field<&Bank::storage>("storage", "How it is stored between journeys, for ageing."),
    count(field<&Bank::cycles_per_year>("cycles_per_year", "Discharges a year, for ageing.", "100"),
          0, 10000)
        .or_else("100"),
    share(field<&Bank::cycle_depth>("cycle_depth", "Depth of each discharge, for ageing.", "80 %"))
        .or_else("80 %"),
    field<&Bank::terminal>("terminal", "What fits on the terminals."),
    field<&Bank::mounted>("mounted", "Where it is, and how it is parted from the living space.",
                          "outside-sealed"),
    field<&Bank::takeoff_from>(
        "takeoff_from",
        "Numbers of the batteries at which + and − leave the bank; left out, both at the first.",
        "[1, 2]"),
    field<&Bank::links>("links", "From battery to battery."),
    field<&Bank::each_battery>("each_battery", "Leads from each battery to a common bar."),
    at_most_one({"links", "each_battery"}),
    field<&Bank::box>("box", "The box that holds it."),
    built_into<&Bank::assembly>(),
};

template <>
inline constexpr auto fields<Module> = std::array{
    rated_watts(field<&Module::power>("power", "Rated power (standard test conditions).", "200 W")),
    high_volts(field<&Module::voc>("voc", "Open-circuit voltage.", "24.3 V")),
    rated_amperes(field<&Module::isc>("isc", "Short-circuit current.", "10.4 A")),
    high_volts(field<&Module::vmp>("vmp", "Voltage at maximum power.", "20.4 V")),
    rated_amperes(field<&Module::imp>("imp", "Current at maximum power.", "9.8 A")),
    field<&Module::voc_coefficient>(
        "voc_coefficient", "Change of the open-circuit voltage with temperature.", "-0.28 %/K")
        .at_least(PerKelvin::from_value(-0.02))
        .at_most(PerKelvin::from_value(0.0)),
    field<&Module::power_coefficient>("power_coefficient", "Change of the power with temperature.",
                                      "-0.35 %/K")
        .at_least(PerKelvin::from_value(-0.02))
        .at_most(PerKelvin::from_value(0.0)),
    rated_amperes(field<&Module::largest_series_fuse>(
        "largest_series_fuse", "Largest series fuse it is rated for; needed from three strings up.",
        "20 A")),
    metres(field<&Module::size>("size", "Length and width.", "[\"1.3 m\", \"0.8 m\"]")),
    kilograms(field<&Module::mass>("mass", "Of one module.", "11 kg")),
    field<&Module::price>("price", "Of each module, in any currency.", "110 EUR"),
};
template <>
inline constexpr auto fields<Array> = std::array{
    field<&Array::name>("name", "What runs call it.", "roof"),
    count(field<&Array::modules>("modules", "How many of them, in one plane.", "2"), 1, 64),
    count(field<&Array::in_series>("in_series", "Modules in each string.", "1"), 1, 64)
        .or_else("1"),
    field<&Array::module>("module", "One of them, from its data sheet."),
    field<&Array::tilt>("tilt", "From the level.", "0°")
        .at_least(0.0 * degree)
        .at_most(90.0 * degree)
        .or_else("0°"),
    field<&Array::azimuth>("azimuth", "Where it faces: 0° north, 90° east.", "0°")
        .at_least(0.0 * degree)
        .at_most(360.0 * degree)
        .or_else("0°"),
    field<&Array::mount>("mount", "How it is fixed, and so how hot it gets.", "roof-flat")
        .or_else("roof-flat"),
    share(field<&Array::shade>("shade", "Share of the sunshine lost to shade, the same all day.",
                               "0 %"))
        .or_else("0 %"),
    share(field<&Array::shade_by_hour>("shade_by_hour",
                                       "The same for each of the 24 hours of the day.")),
    at_most_one({"shade", "shade_by_hour"}),
    share(field<&Array::soiling>("soiling", "Share of the sunshine lost to dirt.", "3 %"))
        .or_else("3 %"),
    share(field<&Array::covered>(
        "covered", "Share of the days on which snow or leaves cover it, January to December.")),
    field<&Array::to>("to", "The controller that it feeds.", "controller"),
    built_into<&Array::assembly>(),
};

template <>
inline constexpr auto fields<Controller> = std::array{
    field<&Controller::name>("name", "Runs end at its NAME.in and NAME.out.", "controller"),
    field<&Controller::kind>(
        "kind", "How it matches array and bank; direct has no maximum-power tracking.", "step-down")
        .or_else("step-down"),
    high_volts(
        field<&Controller::max_voltage>("max_voltage", "Largest voltage at its input.", "100 V")),
    rated_amperes(field<&Controller::max_short_circuit_current>(
        "max_short_circuit_current", "Largest short-circuit current of the array.", "35 A")),
    rated_amperes(field<&Controller::max_charge_current>(
        "max_charge_current", "Largest current at the battery.", "30 A")),
    some_share(field<&Controller::efficiency>(
                   "efficiency", "Share of the array's power that reaches the battery.", "96 %"))
        .or_else("95 %"),
    watts(field<&Controller::own_draw>("own_draw", "What it draws itself.", "0.3 W"))
        .or_else("1 W"),
    volts(field<&Controller::charge_voltage>(
        "charge_voltage", "At which it ends the charge; left out, 14.4 V, twice that at 24 V.",
        "14.4 V")),
    kilograms(field<&Controller::mass>("mass", "Of the controller.", "1.3 kg")),
    field<&Controller::price>("price", "In any currency.", "150 EUR"),
    field<&Controller::stud>("stud", "Thread of its studs, for the lugs.", "M8"),
    built_into<&Controller::assembly>(),
};

template <>
inline constexpr auto fields<InputVoltage> = std::array{
    volts(field<&InputVoltage::low>("low", "At its input terminals, at the least.", "12.2 V")),
    volts(field<&InputVoltage::normal>("normal", "At its input terminals, as a rule.", "13.5 V")),
};
template <>
inline constexpr auto fields<Charger> = std::array{
    field<&Charger::name>("name",
                          "Runs end at its NAME.out, and at NAME.in where it is a dc-dc charger.",
                          "drive charger"),
    field<&Charger::kind>("kind", "What feeds it.", "dc-dc"),
    rated_amperes(field<&Charger::current>("current", "Output at the battery.", "40 A")),
    some_share(field<&Charger::efficiency>("efficiency",
                                           "Share of its input that reaches the battery.", "90 %"))
        .or_else("85 %"),
    volts(field<&Charger::input_cut_out>(
        "input_cut_out", "A dc-dc charger stops below this at its input; left out, 11.5 V.",
        "11.5 V")),
    volts(field<&Charger::charge_voltage>(
        "charge_voltage", "At which it ends the charge; left out, 14.6 V, twice that at 24 V.",
        "14.6 V")),
    field<&Charger::input_voltage>(
        "input_voltage", "What a dc-dc charger finds at its input, where no feed is drawn."),
    kilograms(field<&Charger::mass>("mass", "Of the charger.", "1.8 kg")),
    field<&Charger::price>("price", "In any currency.", "150 EUR"),
    field<&Charger::stud>("stud", "Thread of its studs, for the lugs.", "M8"),
    built_into<&Charger::assembly>(),
};

template <>
inline constexpr auto fields<VoltageRange> = std::array{
    volts(field<&VoltageRange::low>("low", "The least, before its resistance.", "12.2 V"))
        .or_else("12.0 V"),
    volts(field<&VoltageRange::high>("high", "The most, before its resistance.", "14.7 V"))
        .or_else("15.0 V"),
};
template <>
inline constexpr auto fields<SourceFeed> = std::array{
    field<&SourceFeed::name>("name", "What runs call it.", "tow vehicle"),
    field<&SourceFeed::kind>("kind", "What it is; \"tow-vehicle\" is one in the tow vehicle.",
                             "tow-vehicle"),
    field<&SourceFeed::voltage>("voltage",
                                "Open-circuit voltage; left out, that of a 12 V vehicle."),
    field<&SourceFeed::resistance>("resistance", "Inside the source, added to that of the runs."),
    rated_amperes(field<&SourceFeed::spare_current>("spare_current",
                                                    "What it can spare for the house.", "50 A")),
    built_into<&SourceFeed::assembly>(),
};

template <>
inline constexpr auto fields<Surge> = std::array{
    rated_watts(field<&Surge::power>("power", "What it carries for a short time.", "4000 W")),
    moment(field<&Surge::time>("time", "For how long.", "3 s")),
};
template <>
inline constexpr auto fields<Loss> = std::array{
    share(field<&Loss::k>("k", "Loss at rated output over rating, above the no-load loss.", "0.11"))
        .or_else("0.11"),
};
template <>
inline constexpr auto fields<Inverter> = std::array{
    field<&Inverter::name>("name", "What runs and appliances call it.", "inverter"),
    rated_watts(field<&Inverter::rating>("rating", "Continuous output; W and VA alike.", "2000 W")),
    field<&Inverter::surge>("surge", "What it carries for a short time."),
    watts(field<&Inverter::no_load>(
        "no_load", "What it draws with nothing on it; left out, 1.5 % of the rating.", "24 W")),
    field<&Inverter::loss>("loss", "Loss = no_load + k · P² / rating."),
    some_share(
        field<&Inverter::efficiency>("efficiency", "Instead of a loss curve, one figure.", "88 %")),
    at_most_one({"loss", "efficiency"}),
    field<&Inverter::runs>("runs", "When it is switched on.", "always").or_else("always"),
    field<&Inverter::loads>(
        "loads", "Whether anything may be plugged in, or only the appliances of this file.",
        "listed")
        .or_else("any"),
    volts(field<&Inverter::cut_out>(
        "cut_out", "It stops below this at its input; left out, 10.5 V, twice that at 24 V.",
        "10.5 V")),
    field<&Inverter::ripple>("ripple", "Root mean square over mean of its input current.", "1.22")
        .at_least(Ratio(1.0))
        .at_most(Ratio(3.0))
        .or_else("1.22"),
    kilograms(field<&Inverter::mass>("mass", "Of the inverter.", "5 kg")),
    field<&Inverter::price>("price", "In any currency.", "150 EUR"),
    field<&Inverter::stud>("stud", "Thread of its studs, for the lugs.", "M8"),
    built_into<&Inverter::assembly>(),
};

}  // namespace housepower

// SPDX-License-Identifier: Apache-2.0
// What a lithium iron phosphate bank is at its terminals: resting voltage by charge, resistance,
// capacity and charging limit by temperature. Charge is never inferred from voltage here: between
// 30 and 95 % the curve is flat.
#pragma once

#include <algorithm>

#include "housepower/design/design.hpp"
#include "housepower/working/working.hpp"

namespace housepower::parts {

/// Resting voltage of cells in series.
inline constexpr Formula string_of_cells{
    "U_oc",
    "open-circuit voltage of the bank",
    "n · U_cell",
    {{"n", "cells in series"}, {"U_cell", "open-circuit voltage of one cell"}},
    Source{SourceKind::published, "M. Naumann, thesis TU Munich (2018)",
           "open-circuit voltage of a 3 Ah LFP cell, read in the cell data files of a university's "
           "research code"},
    [](Ratio n, Voltage cell) -> Voltage { return cell * double(n); },
    "rested, 25 °C, mean of the charge and discharge branches; ±35 mV a cell"};

/// Resistance now from the stated one, each factor once.
inline constexpr Formula resistance_now{
    "R",
    "resistance of one battery now",
    "R_25 · f_R · f_old",
    {{"R_25", "stated: new, 25 °C, 50 % charge"},
     {"f_R", "factor of temperature and charge"},
     {"f_old", "factor of age"}},
    Source{SourceKind::common_practice, "factors applied once to the stated resistance", ""},
    [](Resistance stated, Ratio now, Ratio old) -> Resistance {
      return stated * double(now) * double(old);
    }};

/// Charge that the bank gives.
inline constexpr Formula usable_charge{
    "Q_use",
    "usable charge",
    "Q_n · f_age · f_T · max(0, a - r)",
    {{"Q_n", "rated charge of the bank"},
     {"f_age", "share left at that age"},
     {"f_T", "share given at that temperature"},
     {"a", "state of charge on arrival"},
     {"r", "state of charge kept back"}},
    Source{SourceKind::common_practice, "depth between arrival and reserve, of the aged capacity",
           ""},
    [](Charge rated, Ratio age, Ratio cold, Ratio arrive, Ratio reserve) -> Charge {
      return rated * double(age) * double(cold) * std::max(0.0, double(arrive - reserve));
    }};

/// Charging current from a C-rate.
inline constexpr Formula charging_current{
    "I_max",
    "largest charging current",
    "c · Q_n / 3600",
    {{"c", "C-rate allowed at that temperature, per hour"}, {"Q_n", "rated charge"}},
    Source{SourceKind::published, "a 48 V LFP telecom module manual", "table 4.3, p. 12"},
    [](Ratio rate, Charge rated) -> Current { return rated * double(rate) / hour; }};

/// Cells in series of the whole bank: 3.2 V each by the trade's naming.
[[nodiscard]] Ratio cells_in_series(const design::resolved::Bank&);

/// Resting voltage of the bank at a state of charge (0 to 1).
[[nodiscard]] Voltage bank_open_circuit(const tables::CellCurves&, const design::resolved::Bank&,
                                        Ratio charge, Working* = nullptr);

/// The state of charge (0 to 1) at which the bank rests at a voltage: none below that of an empty
/// one.
[[nodiscard]] Ratio rests_at(const tables::CellCurves&, const design::resolved::Bank&, Voltage);

/// Resistance at a temperature and charge against 25 °C and 50 %. Below 10 °C the rise of an empty
/// cell is assumed for every cell, the safe side.
[[nodiscard]] Ratio resistance_factor(Temperature, Ratio charge);
inline constexpr Source resistance_factor_source{
    SourceKind::from_memory, "M. Naumann, thesis TU Munich (2018), resistance of a 3 Ah LFP cell",
    "ratios derived at 10, 25, 40 °C and by charge; below 10 °C extended by judgement"};

/// Share of the rated capacity at a temperature: straight between the rows, at most all of it.
/// Nothing is counted below the coldest row.
[[nodiscard]] Ratio capacity_factor(const tables::CellCurves&, Temperature);

/// Charging current of the bank at a cell temperature: the cells' C-rate (the smaller one where
/// two steps meet), the batteries' own limit and their cut-offs.
[[nodiscard]] Current charge_limit(const tables::CellCurves&, const design::resolved::Bank&,
                                   Temperature, Working* = nullptr);

}  // namespace housepower::parts

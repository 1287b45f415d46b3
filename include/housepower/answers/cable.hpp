// SPDX-License-Identifier: Apache-2.0
// One cable by itself: its size, its device and its drop, without a design. It becomes a design of one
// feed, one run and one load, and is resolved, solved and judged as any other, so that it cannot
// disagree with a check. What is left out is asked a second time at its worst: a pass that does not
// hold there is none.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "housepower/checks/rule.hpp"
#include "housepower/design/words.hpp"
#include "housepower/reading/diagnostic.hpp"
#include "housepower/wiring/named_methods.hpp"

namespace housepower::answers {

/// Where a bare size is looked up, and what is chosen from.
enum class ConductorTable { iec_60228_5, iec_60228_2, nec_8, astm_b258, sae, bs, auto_od };

/// What devices and terminals near the run are rated for.
struct CableTerminals {
  std::optional<Temperature> limit{};  // nothing: no such limit
};
/// The device at the source.
struct CableDevice {
  std::string type;  // of the tables: "iso-8820-3-c"
  Current rating{};
};

/// One run between a source and a load. `fields<CableAsked>` has the limits of each value and what is
/// assumed where it is left out.
struct CableAsked {
  std::optional<Current> current{};  // one of these two
  std::optional<Power> power{};
  Length length{};                         // one way
  std::optional<std::string> conductor{};  // as a design names it, "6 mm2"; else the smallest that
                                           // suffices
  std::optional<ConductorTable> conductor_table{};
  std::optional<bool> tinned{};
  std::optional<Voltage> voltage{};
  std::optional<Ratio> drop{};
  std::optional<std::string> ampacity_table{};  // else by insulation and lie
  std::optional<Temperature> insulation{}, ambient{};
  std::optional<int> circuits_together{};
  std::optional<design::Laid> laid{};
  std::optional<design::SizeSeries> sizes{};
  std::optional<Temperature> conductor_temperature{};
  std::optional<Resistance> source_resistance{};
  std::optional<int> joints{};
  std::optional<Resistance> bank_resistance{};
  std::optional<Voltage> bank_voltage{};
  std::optional<wiring::NamedMethod> method{};
  std::optional<CableTerminals> terminals{};  // else what belongs to the table
  std::optional<CableDevice> device{};        // else protection is not looked at
};

/// What decides on a size.
enum class CableGoverns { drop, ampacity, both };

/// What is absent was not found: without an operating point there is no current, without a size that
/// suffices hardly anything.
struct CableFigures {
  std::optional<std::string> conductor;  // as given or chosen
  std::optional<Area> nominal, copper;
  std::optional<ResistancePerLength> resistance;  // at `temperature`
  std::optional<Temperature> temperature;         // of the conductor under its load
  std::optional<Resistance> loop;                 // out and back, joints with it
  std::optional<Current> current;
  std::optional<Voltage> drop, at_load;
  std::optional<Ratio> drop_share;  // of the voltage
  std::optional<Power> lost;
  Voltage drop_limit{};
  Ratio drop_limit_share = 0.0;
  std::optional<Current> ampacity;
  std::optional<std::string> table, row;  // of the ampacity
  std::optional<Temperature> base;        // the table's ambient
  std::optional<Ratio> ambient, terminal, grouping, laid;
  std::optional<Current> largest_device;  // that the conductor allows
  bool device_limited = false;  // by what the profile allows so thin a conductor, not by ampacity
  std::optional<std::string> for_drop, for_ampacity, smallest;  // the smallest sizes that suffice
  CableGoverns governs{};                                       // on the size
  bool too_small = false;  // `smallest` is larger than what was given
  // Of the device.
  std::optional<Current> fault, smallest_fault, breaking;
  std::optional<Duration> clearing;
  std::optional<LetThrough> let_through, withstand;
};

/// The run in one set of conditions.
struct CableJudged {
  design::Design design;
  wiring::Assessment wiring;
  std::vector<checks::Finding> findings;
  std::optional<wiring::ByNamedMethod> by_method{};  // drop and size by a text's own formula
  CableFigures figures{};
};

struct CableReport {
  std::shared_ptr<const tables::Tables> tables;  // what both stand on
  CableJudged as_assumed;
  CableJudged at_worst;  // the same conductor, with what was not said at its worst
  wiring::NamedMethod method{};
  std::vector<Assumption> assumed;
  std::vector<std::string> unsaid;  // what has a worse value, as an option: "--laid"
  std::vector<checks::Finding>
      findings;  // as assumed, and at best a caution where the worst is one
  [[nodiscard]] checks::Verdicts verdicts() const { return checks::worst(findings); }
};

/// What a finding of the report is at worst, where only that made it a caution; else null.
[[nodiscard]] const checks::Finding* held_to_worst(const CableReport&, const checks::Finding&);

/// Nothing, and told, where a value is beyond its limits or a name is not known.
[[nodiscard]] std::optional<CableReport> cable(const CableAsked&, const tables::Tables&,
                                               Diagnostics&);

}  // namespace housepower::answers

namespace housepower {

template <>
inline constexpr auto words<answers::ConductorTable> = std::array{
    "iec-60228-5"sv, "iec-60228-2"sv, "nec-8"sv, "astm-b258"sv, "sae"sv, "b&s"sv, "auto-od"sv};
template <>
inline constexpr auto words<wiring::NamedMethod> =
    std::array{"table"sv, "abyc-e11"sv, "iso-10133"sv, "en-1648"sv};

template <>
inline constexpr auto fields<answers::CableAsked> = std::array{
    exactly_one({"current", "power"}),
    field<&answers::CableAsked::current>("current", "Drawn through the run.", "20 A")
        .more_than(0.0 * ampere)
        .at_most(10000.0 * ampere),
    field<&answers::CableAsked::power>("power", "Drawn by the load, whatever its voltage.", "240 W")
        .more_than(0.0 * watt)
        .at_most(1e6 * watt),
    field<&answers::CableAsked::length>("length", "One way, along the outgoing conductor.", "4 m")
        .more_than(0.0 * metre)
        .at_most(1000.0 * metre),
    field<&answers::CableAsked::conductor>(
        "conductor", "Its size; left out, the smallest that suffices is taken.", "6 mm2"),
    field<&answers::CableAsked::conductor_table>(
        "conductor_table", "The table that a bare size or the choice is read from.", "sae"),
    field<&answers::CableAsked::tinned>("tinned", "Tinned strands.").optional(),
    field<&answers::CableAsked::voltage>("voltage",
                                         "Nominal and open-circuit voltage of the source.", "12 V")
        .or_else("12 V")
        .more_than(0.0 * volt)
        .at_most(400.0 * volt),
    field<&answers::CableAsked::drop>(
        "drop", "Allowed drop, out and back, as a share of the voltage.", "3 %")
        .or_else("3 %")
        .more_than(Ratio(0.0))
        .at_most(Ratio(1.0)),
    field<&answers::CableAsked::ampacity_table>(
        "ampacity_table",
        "The table of ampacities; left out, by insulation and lie as in a caravan.")
        .or_else("bs-7671-4f2-90"),
    field<&answers::CableAsked::insulation>("insulation",
                                            "Temperature that the insulation is rated for.")
        .or_else("90 °C")
        .at_least(celsius(60))
        .at_most(celsius(200)),
    field<&answers::CableAsked::ambient>("ambient", "Temperature of the air around it.")
        .or_else("30 °C"),
    field<&answers::CableAsked::circuits_together>(
        "circuits_together", "Loaded circuits that lie together, this one included.")
        .or_else("1")
        .at_least(Ratio(1.0))
        .at_most(Ratio(100.0)),
    field<&answers::CableAsked::laid>("laid", "How it lies.").or_else("clipped"),
    field<&answers::CableAsked::sizes>("sizes", "The series to choose from: metric or awg.")
        .or_else("metric"),
    field<&answers::CableAsked::conductor_temperature>(
        "conductor_temperature", "Held at this temperature, instead of what the load makes of it.",
        "75 °C"),
    field<&answers::CableAsked::source_resistance>("source_resistance", "Of what feeds the run.",
                                                   "5 mohm")
        .at_least(0.0 * ohm)
        .at_most(1000.0 * ohm),
    field<&answers::CableAsked::joints>("joints", "Lugs and studs of both conductors.")
        .or_else("0")
        .at_least(Ratio(0.0))
        .at_most(Ratio(1000.0)),
    field<&answers::CableAsked::bank_resistance>(
        "bank_resistance", "The least that the source can have, for the largest fault.", "1 mohm")
        .more_than(0.0 * ohm)
        .at_most(1000.0 * ohm),
    field<&answers::CableAsked::bank_voltage>(
        "bank_voltage",
        "Open-circuit voltage for the largest fault; left out, 14.12 V for each 12 V.", "14.1 V"),
    field<&answers::CableAsked::method>(
        "method", "Drop and size by a named text's own formula instead of the tables.")
        .or_else("table")};

}  // namespace housepower

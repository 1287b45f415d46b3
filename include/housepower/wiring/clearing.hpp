// SPDX-License-Identifier: Apache-2.0
// How long a device lets a fault flow, and what a conductor withstands meanwhile.
//
// A device is an envelope of two edges over multiples of its rating: it has opened by the slow one
// and holds until the fast one. Between two gates an edge is straight on logarithmic scales; past
// the last gate I²t stays the same (not the time); below the first gate it need not open.
#pragma once

#include <cmath>
#include <optional>
#include <span>
#include <vector>

#include "housepower/design/design.hpp"
#include "housepower/working/working.hpp"

namespace housepower::wiring {

inline constexpr Source gate_source{SourceKind::common_practice,
                                    "reading of time-current curves, double logarithmic", ""};

/// Fault current against the rating.
inline constexpr Formula multiple_of_rating{
    "m",         "fault current over rated current",
    "I / I_n",   {{"I", "fault current"}, {"I_n", "rated current"}},
    gate_source, [](Current i, Current rating) -> Ratio { return i / rating; }};

/// Opening time between two gates of an edge.
inline constexpr Formula time_between_gates{
    "t",
    "opening time between two gates",
    "t_1 · (m / m_1)^(ln(t_2 / t_1) / ln(m_2 / m_1))",
    {{"m", "fault current over rated current"},
     {"m_1", "gate before"},
     {"t_1", "its time"},
     {"m_2", "gate after"},
     {"t_2", "its time"}},
    gate_source,
    [](Ratio m, Ratio m1, Duration t1, Ratio m2, Duration t2) -> Duration {
      return t1 * std::pow(double(m / m1), std::log(double(t2 / t1)) / std::log(double(m2 / m1)));
    },
    "m_1 ≤ m ≤ m_2"};

/// Opening time past the last gate.
inline constexpr Formula time_past_gates{
    "t",
    "opening time past the last gate, by its I²t",
    "t_1 · (m_1 / m)²",
    {{"m", "fault current over rated current"}, {"m_1", "last gate"}, {"t_1", "its time"}},
    gate_source,
    [](Ratio m, Ratio m1, Duration t1) -> Duration { return t1 * double((m1 / m) * (m1 / m)); },
    "m ≥ m_1"};

/// What flows until a device has opened.
inline constexpr Formula let_through{"I²t",
                                     "let-through until the device has opened",
                                     "I² · t",
                                     {{"I", "fault current"}, {"t", "opening time"}},
                                     Source{SourceKind::common_practice, "heat of a fault", ""},
                                     [](Current i, Duration t) -> LetThrough { return i * i * t; }};

/// How long a conductor withstands a fault.
inline constexpr Formula withstood_for{
    "t_max",
    "how long the conductor withstands that current",
    "W / I²",
    {{"W", "let-through the conductor withstands, k²S²"}, {"I", "fault current"}},
    Source{SourceKind::published, "IEC 60949 / IEC 60364-5-54 annex A",
           "S ≥ √(I²t) / k, up to 5 s, as quoted"},
    [](LetThrough w, Current i) -> Duration { return w / (i * i); },
    "t up to 5 s; beyond it is on the safe side"};

/// The least current for which a device opens for sure.
inline constexpr Formula surely_opens{
    "I_2",
    "least current that the device opens for, for sure",
    "m_2 · I_n",
    {{"m_2", "first gate of its curve, or what its kind has for that"}, {"I_n", "rated current"}},
    gate_source,
    [](Ratio multiple, Current rating) -> Current { return rating * double(multiple); }};

/// How fast a conductor warms up in air, from what it withstands and what it bears for good.
inline constexpr Formula time_constant{
    "τ",
    "time constant of the conductor",
    "W / I_z² · (T_max - T_a) / (T_sc - T_max)",
    {{"W", "let-through the conductor withstands, k²S²"},
     {"I_z", "ampacity at that ambient"},
     {"T_max", "conductor temperature for which the ampacity holds"},
     {"T_a", "ambient"},
     {"T_sc", "limit of the insulation in a short circuit"}},
    Source{SourceKind::common_practice, "heat balance of a conductor", ""},
    [](LetThrough w, Current ampacity, Temperature limit, Temperature ambient,
       Temperature end) -> Duration {
      return w / (ampacity * ampacity) * double((limit - ambient) / (end - limit));
    }};

/// How hot a conductor gets that gives heat off meanwhile.
inline constexpr Formula warmed_up{
    "T",
    "conductor temperature when the device has opened",
    "T_a + (T_max - T_a) · (I / I_z)² · (1 - exp(-t / τ))",
    {{"T_a", "ambient"},
     {"T_max", "conductor temperature for which the ampacity holds"},
     {"I", "fault current"},
     {"I_z", "ampacity at that ambient"},
     {"t", "opening time"},
     {"τ", "time constant of the conductor"}},
    Source{SourceKind::common_practice, "heat balance of a conductor", ""},
    [](Temperature ambient, Temperature limit, Current i, Current ampacity, Duration t,
       Duration tau) -> Temperature {
      const double load = i / ampacity;
      return ambient + (limit - ambient) * (load * load * (1.0 - std::exp(-double(t / tau))));
    },
    "from ambient; for what takes over 5 s"};

/// What a device carries in the heat of its place.
inline constexpr Formula rerated_current{
    "I_n'",
    "what the device carries where it sits",
    "I_n · I_T / I_r",
    {{"I_n", "rated current"},
     {"I_T", "what the part that was read carries at the next hotter ambient"},
     {"I_r", "rating of that part"}},
    Source{SourceKind::common_practice, "rerating of fuses by ambient", "as a share of the rating"},
    [](Current rating, Current carries, Current of) -> Current {
      return rating * double(carries / of);
    }};

/// Part of a fault's current where two ways feed it.
inline constexpr Formula divided_current{
    "I",
    "part of the fault's current that flows in the device",
    "s · I_k",
    {{"s", "share of it"}, {"I_k", "prospective current"}},
    Source{SourceKind::common_practice, "Kirchhoff's laws", ""},
    [](Ratio share, Current i) -> Current { return double(share) * i; }};

/// One edge of a device: rising multiples of its rating, falling times. Empty: not known.
struct Edge {
  std::vector<design::CurvePoint> points;
  Source source{};
};
/// By when it has opened, and until when it holds. A maker's curve without a fast edge has a tenth
/// of its times for one, which serves for holding only. A rating between or beyond those that were
/// read of its type has the gates of the next larger, or of the largest, from memory.
struct TimeCurrent {
  Edge slow, fast;
};
[[nodiscard]] TimeCurrent time_current_of(const design::resolved::Protection&);

/// Time of an edge at a current; nothing below its first gate.
[[nodiscard]] std::optional<Duration> time_at(const Edge&, Current rating, Current,
                                              Working* = nullptr);
/// The least current at which an edge is no later than a time; nothing for an edge without points.
[[nodiscard]] std::optional<Current> current_at(const Edge&, Current rating, Duration);

/// The most that a device lets through between two currents, and where. Between gates I²·t goes
/// with a power of I, so it is largest at an end or at a gate. Nothing where it need not open at the
/// smaller current, or the edge is not known.
struct LargestLetThrough {
  LetThrough value{};
  Current at{};
  Duration time{};
};
[[nodiscard]] std::optional<LargestLetThrough>
largest_let_through(const Edge&, Current rating, Current from, Current to, Working* = nullptr);

/// The row of k for an insulation and a size; nothing where none is known. A hotter row counts
/// between two.
[[nodiscard]] const tables::WithstandFactor* withstand_row_of(const tables::Tables&,
                                                              design::Insulation,
                                                              Temperature insulation,
                                                              const tables::Conductor&);
/// The same where nobody states the material: the least k of all that bear the temperature.
[[nodiscard]] const tables::WithstandFactor* least_withstand_row_of(const tables::Tables&,
                                                                    Temperature insulation);
/// k²S² of one conductor (of several in parallel the fault may sit on one).
[[nodiscard]] LetThrough withstand_of(const tables::WithstandFactor&, const tables::Conductor&,
                                      Working* = nullptr);

/// From which current on a device opens for sure: the first gate of its own curve. With no gate
/// read 1.35 times the rating for UL 248 types, 1.6 for gG and NH, 2.0 for all others (from memory).
struct OpensForSure {
  Current value{};
  bool read = false;  // by its own curve
  Ratio multiple = 2.0;
};
[[nodiscard]] OpensForSure opens_for_sure(const design::resolved::Protection&, Working* = nullptr);

/// What a device carries at the hottest where it sits: its rating, or less where its type's rerating
/// is published. Nothing beyond the hottest row.
[[nodiscard]] std::optional<Current> carries_there(const design::resolved::Protection&,
                                                   Working* = nullptr);

/// The batteries' own switches as one device of the bank: how long they hold a current. Nothing: for
/// good, or not stated. Beyond the peak they may open at once; they clear no fault and limit none.
[[nodiscard]] std::optional<Duration> switches_hold(const design::resolved::Bank&, Current);

}  // namespace housepower::wiring

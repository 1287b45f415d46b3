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
           "S ≥ √(I²t) / k, up to 5 s"},
    [](LetThrough w, Current i) -> Duration { return w / (i * i); },
    "t up to 5 s; beyond it is on the safe side"};

/// The least fault that a device is trusted to see.
inline constexpr Formula surely_seen{
    "I_2",
    "least fault that the device surely opens for",
    "1.6 · I_n",
    {{"I_n", "rated current"}},
    Source{SourceKind::from_memory, "judgement",
           "1.6 times the rating: the low end of the fusing currents of gG fuses, and beyond the "
           "135 % gate of blades"},
    [](Current rating) -> Current { return 1.6 * rating; }};

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
/// of its times for one, which serves for holding only.
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

/// k²S² of one conductor (of several in parallel the fault may sit on one); nothing where no k is
/// known for its insulation. A hotter row counts between two.
[[nodiscard]] std::optional<LetThrough> withstand_of(const tables::Tables&, design::Insulation,
                                                     Temperature insulation,
                                                     const tables::Conductor&, Working* = nullptr);
/// The same where nobody states the insulation: the least k of all.
[[nodiscard]] std::optional<LetThrough>
least_withstand_of(const tables::Tables&, const tables::Conductor&, Working* = nullptr);

/// What a device carries at the hottest where it sits: its rating, or less where its type's rerating
/// is published. Nothing beyond the hottest row.
[[nodiscard]] std::optional<Current> carries_there(const design::resolved::Protection&,
                                                   Working* = nullptr);

/// The batteries' own switches as one device of the bank: how long they hold a current. Nothing: for
/// good, or not stated. Beyond the peak they may open at once; they clear no fault and limit none.
[[nodiscard]] std::optional<Duration> switches_hold(const design::resolved::Bank&, Current);

}  // namespace housepower::wiring

// SPDX-License-Identifier: Apache-2.0
// The words of the design file, in the order of the enumerators of document.hpp.
#pragma once

#include "housepower/design/document.hpp"
#include "housepower/reading/fields.hpp"

namespace housepower {

using namespace std::string_view_literals;

template <>
inline constexpr auto words<design::Behaviour> =
    std::array{"constant-power"sv, "constant-current"sv, "resistive"sv};
template <>
inline constexpr auto words<design::Pitch> = std::array{"open"sv, "part shade"sv, "under trees"sv};
template <>
inline constexpr auto words<design::Insulation> =
    std::array{"pvc"sv, "xlpe"sv, "rubber"sv, "silicone"sv};
template <>
inline constexpr auto words<design::Laid> =
    std::array{"free"sv, "clipped"sv, "conduit"sv, "touching-insulation"sv, "in-insulation"sv};
template <>
inline constexpr auto words<design::Sits> =
    std::array{"inside"sv, "box"sv, "box-wall"sv, "underfloor"sv, "roof"sv, "tow-vehicle"sv};
template <>
inline constexpr auto words<design::NodeKind> =
    std::array{"panel"sv, "bus bar"sv, "stud"sv, "plug"sv, "jump-post"sv, "point"sv};
template <>
inline constexpr auto words<design::Purpose> =
    std::array{"wake"sv, "charge"sv, "start-a-vehicle"sv};
template <> inline constexpr auto words<design::RunEnd> = std::array{"from"sv, "to"sv};
template <> inline constexpr auto words<design::Pole> = std::array{"outgoing"sv, "return"sv};
template <>
inline constexpr auto words<design::InlineKind> =
    std::array{"isolator"sv, "shunt"sv, "contactor"sv, "plug"sv};
template <> inline constexpr auto words<design::DeviceKind> = std::array{"fuse"sv, "breaker"sv};
template <>
inline constexpr auto words<design::BankPlace> =
    std::array{"outside-sealed"sv, "inside-sealed-vented-out"sv, "inside"sv};
template <> inline constexpr auto words<design::BoxSits> = std::array{"drawbar"sv, "underfloor"sv};
template <> inline constexpr auto words<design::HeaterSupply> = std::array{"charge"sv, "bank"sv};
template <>
inline constexpr auto words<design::Mount> = std::array{"roof-flat"sv, "tilted"sv, "ground"sv};
template <>
inline constexpr auto words<design::ControllerKind> =
    std::array{"step-down"sv, "direct"sv, "step-up"sv};
template <>
inline constexpr auto words<design::ChargerKind> = std::array{"dc-dc"sv, "mains"sv, "generator"sv};
template <>
inline constexpr auto words<design::InverterRuns> =
    std::array{"always"sv, "while-used"sv, "search"sv};
template <> inline constexpr auto words<design::InverterLoads> = std::array{"any"sv, "listed"sv};
template <> inline constexpr auto words<design::UsedBy> = std::array{"people"sv, "van"sv};
template <> inline constexpr auto words<design::SizeSeries> = std::array{"metric"sv, "awg"sv};
template <> inline constexpr auto words<design::Chemistry> = std::array{"lfp"sv};
template <>
inline constexpr auto words<design::PartKind> = std::array{
    "battery"sv, "module"sv, "controller"sv, "charger"sv, "inverter"sv, "conductor"sv, "device"sv};
template <> inline constexpr auto words<design::Least> = std::array{"mass"sv, "price"sv};

}  // namespace housepower

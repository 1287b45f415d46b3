// SPDX-License-Identifier: Apache-2.0
// Keys of the wiring: [wiring], [[device]], [[node]], [[assembly]], [[connector]], [[run]] with what it
// carries, [[case]], [chassis].
#pragma once

#include "field_kinds.hpp"

namespace housepower {

using namespace design;

template <>
inline constexpr auto fields<WiringDefaults> = std::array{
    field<&WiringDefaults::insulation>(
        "insulation", "Temperature that the insulation is rated for, for runs that do not say.",
        "90 °C")
        .at_least(celsius(60))
        .at_most(celsius(200)),
    field<&WiringDefaults::insulation_material>(
        "insulation_material", "What the insulation is made of, for runs that do not say.", "xlpe"),
    field<&WiringDefaults::laid>("laid", "How the cables are laid, for runs that do not say.",
                                 "clipped"),
    degrees(field<&WiringDefaults::ambient>(
        "ambient", "Hottest air around the cables, for runs that do not say.", "45 °C")),
    count(field<&WiringDefaults::circuits_together>(
              "circuits_together", "Loaded circuits bundled together, for runs that do not say.",
              "2"),
          1, 100),
    count(
        field<&WiringDefaults::joints>(
            "joints", "Lugs and studs of both conductors of a run, for runs that do not say.", "4"),
        0, 1000),
    ohms(field<&WiringDefaults::joint_resistance>(
        "joint_resistance", "Resistance of each joint, for runs that do not say.", "0.05 mΩ")),
};

template <>
inline constexpr auto fields<MakersDevice> = std::array{
    field<&MakersDevice::name>("name", "What a run's `protection.type` calls it.",
                               "main fuse type"),
    field<&MakersDevice::kind>("kind", "What it is; left out, a fuse.", "breaker"),
    breaking(field<&MakersDevice::breaking_capacity>(
        "breaking_capacity", "Largest current that it interrupts, as its maker says.", "20 kA")),
    field<&MakersDevice::rated_voltage>("rated_voltage", "Voltage up to which it interrupts that.",
                                        "32 V")
        .at_least(1.0 * volt)
        .at_most(1500.0 * volt),
    field<&MakersDevice::curve>(
        "curve", "Slowest opening: multiples of the rating, rising, each with a time.",
        "[[1.35, \"3600 s\"], [2.0, \"240 s\"], [6.0, \"0.5 s\"]]"),
    field<&MakersDevice::curve_fast>(
        "curve_fast", "Fastest opening: multiples of the rating, rising, each with a time.",
        "[[1.35, \"60 s\"], [6.0, \"0.05 s\"]]"),
    rated_amperes(field<&MakersDevice::ratings>("ratings", "Ratings in which it is made.",
                                                "[\"100 A\", \"150 A\", \"200 A\"]")),
};

template <>
inline constexpr auto fields<MeetingNode> = std::array{
    field<&MeetingNode::name>("name", "What runs and appliances call it.", "panel"),
    field<&MeetingNode::kind>("kind", "What it is.", "panel"),
    rated_amperes(field<&MeetingNode::rating>("rating", "Current that it is made for.", "150 A")),
    count(field<&MeetingNode::slots>("slots", "Circuits that it has room for.", "12"), 1, 1000),
    field<&MeetingNode::sits>("sits", "Where in the vehicle it is, and so how hot it gets there.",
                              "inside")
        .or_else("inside"),
    field<&MeetingNode::purpose>("purpose", "What a jump post is for.", "wake"),
    field<&MeetingNode::stud>("stud", "Thread of its studs, for the lugs.", "M8"),
    rated_amperes(field<&MeetingNode::largest_device>(
        "largest_device", "Largest device before it, as its maker says.", "150 A")),
    degrees(field<&MeetingNode::terminals>(
        "terminals",
        "Temperature that its terminals are made for; left out, as the profile has it.", "90 °C")),
    degrees(field<&MeetingNode::ambient>(
        "ambient", "Hottest air around it; left out, by where it sits.", "45 °C")),
    built_into<&MeetingNode::assembly>(),
};

template <>
inline constexpr auto fields<Assembly> = std::array{
    field<&Assembly::name>("name", "What nodes, equipment, appliances and connectors call it.",
                           "kitchen"),
    field<&Assembly::station>("station", "Where on the line it is made.", "furniture 2"),
    field<&Assembly::fitted_at>("fitted_at", "Where on the line it is fitted.", "line 4"),
};

template <>
inline constexpr auto fields<Connector> = std::array{
    field<&Connector::name>("name", "What the plugs of runs call it.", "X3"),
    field<&Connector::between>("between", "The two assemblies whose looms it joins.",
                               "[\"kitchen\", \"floor\"]")
        .needed(),
    count(field<&Connector::cavities>("cavities", "Places for contacts, numbered from 1.", "8"), 1,
          1000),
    rated_amperes(
        field<&Connector::rating>("rating", "Current that one cavity is made for.", "13 A")),
    rated_amperes(field<&Connector::rating_all_loaded>(
        "rating_all_loaded", "The same with every cavity loaded, where its maker says so.", "9 A")),
    field<&Connector::largest_conductor>("largest_conductor",
                                         "Largest size that its contacts take.", "2.5 mm2"),
    ohms(field<&Connector::resistance>(
        "resistance", "Of one mated contact; left out, 5 mΩ (from judgement).", "3 mΩ")),
    field<&Connector::contact>("contact", "Name of its contact, for the looms.", "pin 2.5"),
    field<&Connector::strip>("strip", "How much of a conductor is stripped for its contact.",
                             "5 mm")
        .at_least(0.0001 * metre)
        .at_most(1.0 * metre),
};

template <>
inline constexpr auto fields<SectionOfRun> = std::array{
    metres(field<&SectionOfRun::length>("length", "Length of this piece.", "0.6 m")),
    degrees(field<&SectionOfRun::ambient>(
        "ambient", "Hottest air around this piece; left out, the run's.", "60 °C")),
    field<&SectionOfRun::laid>("laid", "How this piece is laid; left out, as the run.",
                               "in-insulation"),
    count(field<&SectionOfRun::circuits_together>(
              "circuits_together",
              "Loaded circuits bundled together here, this one included; left out, the run's.",
              "3"),
          1, 100),
};

template <>
inline constexpr auto fields<ReturnOfRun> = std::array{
    field<&ReturnOfRun::conductor>("conductor",
                                   "Its size; left out, that of the outgoing conductor.", "70 mm2")
        .or_number(),
    metres(field<&ReturnOfRun::length>(
        "length", "Along itself; left out, that of the outgoing conductor.", "2.6 m")),
    field<&ReturnOfRun::to>("to", "Where it ends; left out, where the run begins.", "bank"),
};

template <>
inline constexpr auto fields<InlineItem> = std::array{
    field<&InlineItem::kind>("kind", "What it is.", "isolator"),
    rated_amperes(field<&InlineItem::rating>("rating", "Current that it is made for.", "275 A")),
    rated_amperes(field<&InlineItem::largest_device>(
        "largest_device", "Largest device before it, as its maker says.", "250 A")),
    field<&InlineItem::breaks_load>("breaks_load", "Whether it may be opened under load.", "true"),
    ohms(field<&InlineItem::resistance>(
        "resistance",
        "Between its terminals; left out, 0.1 mΩ, and of a plug with a connector that of its "
        "contacts.",
        "0.1 mΩ")),
    field<&InlineItem::pole>(
        "pole", "In which conductor it sits; left out, outgoing. For a connector the cavities say.",
        "outgoing"),
    at_most_one({"pole", "connector"}),
    field<&InlineItem::connector>("connector", "Of a plug: the [[connector]] that it is.", "X3"),
    count(field<&InlineItem::outgoing>(
              "outgoing", "Cavities of the outgoing conductor; several in parallel share.", "[1]"),
          1, 1000),
    count(field<&InlineItem::return_>(
              "return", "Cavities of the return; left out, it does not pass the connector.", "[2]"),
          1, 1000),
    metres(field<&InlineItem::distance>(
        "distance",
        "From the run's `from` to it, along the conductor; a loom needs it for its lengths.",
        "1.2 m")),
};

template <>
inline constexpr auto fields<ProtectionOfRun> = std::array{
    field<&ProtectionOfRun::end>("end", "Which end of the run it sits at.", "from"),
    field<&ProtectionOfRun::type>("type", "A fuse type of the tables, or the name of a [[device]].",
                                  "ul-248-class-t"),
    rated_amperes(field<&ProtectionOfRun::rating>("rating", "Its rated current.", "200 A")),
    field<&ProtectionOfRun::distance>("distance", "From that end to it, along the conductor.",
                                      "0.15 m")
        .needed()
        .at_least(0.0 * metre)
        .at_most(1000.0 * metre),
    field<&ProtectionOfRun::enclosed>(
        "enclosed", "Whether the conductor before it lies in a sheath or enclosure of its own.",
        "true")
        .or_else("false"),
    field<&ProtectionOfRun::sits>("sits", "Where in the vehicle it is.", "box-wall")
        .or_else("inside"),
    field<&ProtectionOfRun::curve>(
        "curve",
        "Slowest opening as its maker says: multiples of the rating, rising, each with a time.",
        "[[1.35, \"600 s\"], [6.0, \"0.5 s\"]]"),
    field<&ProtectionOfRun::curve_fast>(
        "curve_fast",
        "Fastest opening as its maker says: multiples of the rating, rising, each with a time.",
        "[[1.35, \"60 s\"], [6.0, \"0.05 s\"]]"),
    breaking(field<&ProtectionOfRun::breaking_capacity>(
        "breaking_capacity", "Largest current that it interrupts, as its maker says.", "20 kA")),
    field<&ProtectionOfRun::rated_voltage>("rated_voltage",
                                           "Voltage up to which it interrupts that.", "32 V")
        .at_least(1.0 * volt)
        .at_most(1500.0 * volt),
    field<&ProtectionOfRun::backed_by>(
        "backed_by", "The device upstream with which its maker rates it together.",
        "main fuse type"),
    field<&ProtectionOfRun::assumed>(
        "assumed",
        "Of distance and sits those that a program wrote; take a word away once it is confirmed.",
        "[\"distance\", \"sits\"]"),
};

template <>
inline constexpr auto fields<Run> = std::array{
    field<&Run::name>("name", "What findings call it; no two runs have the same name.",
                      "bank to panel"),
    field<&Run::from>("from", "The node, equipment or appliance where it begins.", "bank"),
    field<&Run::to>("to", "The node, equipment or appliance where it ends.", "panel"),
    field<&Run::label>("label", "Printed on its two conductors; left out, W and its number.",
                       "W07"),
    metres(field<&Run::length>(
        "length", "Of the outgoing conductor along itself, stud to stud, slack included.",
        "2.4 m")),
    field<&Run::conductor>(
        "conductor",
        "Its size; a bare number counts as `sizes` says; left out, it is still to "
        "be chosen.",
        "70 mm2")
        .or_number(),
    field<&Run::insulation>("insulation", "Temperature that the insulation is rated for.", "90 °C")
        .at_least(celsius(60))
        .at_most(celsius(200))
        .or_else("60 °C", "90 °C"),
    field<&Run::insulation_material>("insulation_material", "What the insulation is made of.",
                                     "xlpe")
        .or_else("pvc", "xlpe"),
    field<&Run::laid>("laid", "How it is laid.", "clipped").or_else("in-insulation", "free"),
    degrees(field<&Run::ambient>(
        "ambient", "Hottest air around it; left out, by where its hotter end sits.", "45 °C")),
    count(field<&Run::circuits_together>(
              "circuits_together",
              "Circuits bundled together that carry current at the same time, this one included.",
              "2"),
          1, 100)
        .or_else("4", "1"),
    degrees(field<&Run::conductor_temperature>(
        "conductor_temperature",
        "Drops are worked out at this temperature of the copper; left out, at the temperature its "
        "current gives it.",
        "75 °C")),
    field<&Run::sections>("sections",
                          "Pieces of the run that are hotter or more crowded than the rest."),
    count(field<&Run::parallel>("parallel", "Conductors side by side in each pole.", "2"), 1, 16)
        .or_else("1"),
    field<&Run::return_>("return", "The other conductor; left out, of the same size and length, "
                                   "back to where the run begins."),
    field<&Run::chassis_return>("chassis_return",
                                "Whether the current comes back through the chassis.", "true"),
    at_most_one({"return", "chassis_return"}),
    count(field<&Run::joints>(
              "joints",
              "Lugs and studs of both conductors; left out, 4 and 2 for each device and item.",
              "4"),
          0, 1000),
    ohms(field<&Run::joint_resistance>(
        "joint_resistance",
        "Resistance of each joint; left out, that of 0.1 m of the conductor, 0.05 to 0.5 mΩ.",
        "0.05 mΩ")),
    field<&Run::inline_items>("inline", "Isolators, shunts, contactors and plugs in the run."),
    field<&Run::protection>("protection", "Fuses and breakers of this run."),
};

template <>
inline constexpr auto fields<Case> = std::array{
    field<&Case::name>("name", "What findings call it.", "dinner"),
    field<&Case::running>("running", "Appliances that run together.",
                          "[\"Compressor fridge\", \"Lights\"]"),
    share(field<&Case::charge>("charge", "State of charge of the bank meanwhile.", "30 %"))
        .or_else("30 %"),
    degrees(field<&Case::temperature>("temperature", "Of the bank meanwhile.", "10 °C"))
        .or_else("20 °C"),
    field<&Case::starting>("starting", "The appliance that starts while the others run.",
                           "Water pump"),
    field<&Case::charging>("charging",
                           "Chargers and controllers that charge meanwhile; left out, none.",
                           "[\"drive charger\"]"),
};

template <>
inline constexpr auto fields<Chassis> = std::array{
    source_ohms(field<&Chassis::resistance>("resistance", "Between any two points of the chassis.",
                                            "2 mΩ")),
    field<&Chassis::bonded_at>(
        "bonded_at", "Where the negative is joined to the chassis: a node, the bank, equipment.",
        "bank"),
    field<&Chassis::bond>("bond", "Conductor of that bond.", "16 mm2"),
};

}  // namespace housepower

// SPDX-License-Identifier: Apache-2.0
// The keys of the design file, every one of them: vehicle, rules, place, promise, travel and
// appliances here, wiring and equipment in the two headers. Reader, schema, manual, `new` and
// defaults walk these lists. Limits refuse what no van has; they are not advice.
#include "housepower/design/design.hpp"

#include "fields_parts.hpp"
#include "fields_wiring.hpp"

namespace housepower {

template <>
inline constexpr auto fields<Vehicle> = std::array{
    field<&Vehicle::name>("name", "Name of the model.", "Two-berth tourer"),
    field<&Vehicle::system_voltage>("system_voltage",
                                    "Nominal voltage of the house system: 12 V or 24 V.", "12 V")
        .at_least(1.0 * volt)
        .at_most(60.0 * volt),
    kilograms(field<&Vehicle::electrical_mass_allowance>(
        "electrical_mass_allowance", "What the electrical system may weigh.", "70 kg")),
};

template <>
inline constexpr auto fields<Rules> = std::array{
    field<&Rules::profile>("profile", "The set of local requirements to check against.",
                           "au-nz-caravan"),
    field<&Rules::ampacity_table>("ampacity_table",
                                  "A table of current-carrying capacity instead of the profile's.",
                                  "bs-7671-4f2-90"),
    field<&Rules::sizes>(
        "sizes", "The series from which conductors are chosen; left out, the profile's.", "metric"),
    field<&Rules::inspected>("inspected",
                             "Items of the profile's inspection list that a person has ticked.",
                             "[\"box sealed from living space\"]"),
};

template <>
inline constexpr auto fields<Location> = std::array{
    field<&Location::name>("name", "A town of the climate table, in any letters.", "hobart"),
    field<&Location::weather>("weather", "A file of hourly weather.", "file.epw").of_any_length(),
    field<&Location::latitude>(
        "latitude", "Of a place between towns, north of the equator; longitude and height with it.",
        "-42.1°")
        .at_least(-90.0 * degree)
        .at_most(90.0 * degree),
    field<&Location::longitude>("longitude", "East of Greenwich.", "146.6°")
        .at_least(-180.0 * degree)
        .at_most(180.0 * degree),
    field<&Location::height>("height", "Above the sea.", "730 m")
        .at_least(-430.0 * metre)
        .at_most(5000.0 * metre),
    exactly_one({"name", "weather", "latitude"}),
    field<&Location::month>("month",
                            "A month (its name, its first three letters or its number), or the one "
                            "where the promise is shortest.",
                            "worst")
        .or_else("worst"),
    degrees(field<&Location::record_low>(
        "record_low", "Coldest air ever to expect; left out, the table's less 3 K.", "-5 °C")),
    field<&Location::pitch>("pitch", "What is around the van.", "open").or_else("open"),
};

template <>
inline constexpr auto fields<Promise> = std::array{
    field<&Promise::autonomy>("autonomy", "How long it lasts with no charging at all.", "3 d")
        .at_least(1.0 * hour)
        .at_most(366.0 * day),
    field<&Promise::stay>("stay", "How long it lasts with the weather.", "7 d")
        .at_least(1.0 * hour)
        .at_most(366.0 * day),
    field<&Promise::unlimited>("unlimited", "True where the sun has to keep up indefinitely.",
                               "true"),
    some_share(field<&Promise::chance>("chance", "In what share of tries the promise has to hold.",
                                       "90 %"))
        .or_else("90 %"),
    field<&Promise::bank_age>("bank_age", "Age of the bank at which it still has to hold.", "10 y")
        .at_least(0.0 * year)
        .at_most(30.0 * year)
        .or_else("10 y"),
    some_share(field<&Promise::arrive_at>("arrive_at", "State of charge on arrival.", "100 %"))
        .or_else("100 %"),
    share(field<&Promise::reserve>("reserve", "State of charge that is kept in reserve.", "10 %"))
        .or_else("10 %"),
    field<&Promise::arrive_time>("arrive_time", "Time of day at which a stay begins.", "16:00")
        .or_else("16:00"),
    count(field<&Promise::people>("people",
                                  "For how many people the appliances' hours are written.", "2"),
          1, 20)
        .or_else("2"),
};

template <>
inline constexpr auto fields<Travel> = std::array{
    within_a_day(
        field<&Travel::driving>("driving", "Hours at the wheel on each driving day.", "3 h"))
        .or_else("0 h"),
    field<&Travel::every>("every", "From one driving day to the next; 0 d is parked throughout.",
                          "3 d")
        .at_least(0.0 * day)
        .at_most(366.0 * day)
        .or_else("0 d"),
    within_a_day(
        field<&Travel::generator>("generator", "Hours a day that a generator runs.", "1 h"))
        .or_else("0 h"),
    field<&Travel::parked>("parked", "How long it is left unattended between journeys.", "28 d")
        .at_least(0.0 * day)
        .at_most(3660.0 * day)
        .or_else("28 d", "0 d"),
    count(field<&Travel::mains_nights>("mains_nights", "Nights of each seven at a mains hook-up.",
                                       "0"),
          0, 7)
        .or_else("0"),
};

template <>
inline constexpr auto fields<Starting> = std::array{
    rated_amperes(
        field<&Starting::current>("current", "Drawn while it starts, at its own supply.", "12 A")),
    moment(field<&Starting::time>("time", "How long that lasts.", "1 s")),
};

template <>
inline constexpr auto fields<DutyInCold> = std::array{
    degrees(field<&DutyInCold::at>("at", "Ambient temperature below which it grows.", "18 °C")),
    share(field<&DutyInCold::per_kelvin>(
        "per_kelvin", "Growth with each kelvin below, relative to the duty.", "4 %")),
};

template <>
inline constexpr auto fields<Appliance> = std::array{
    field<&Appliance::name>("name", "What runs, cases and findings call it.", "Compressor fridge"),
    watts(field<&Appliance::power>(
        "power", "At its terminals while it draws; a.c. watts where an inverter supplies it.",
        "45 W")),
    amperes(field<&Appliance::current>(
        "current", "At its terminals while it draws, instead of its power.", "3.8 A")),
    exactly_one({"power", "current"}),
    high_volts(field<&Appliance::rated_at>("rated_at", "Voltage for which that holds.", "12 V")),
    some_share(field<&Appliance::power_factor>("power_factor", "Of an a.c. appliance.", "0.9"))
        .or_else("1.0"),
    field<&Appliance::supply>("supply", "\"dc\", or the name of the inverter that supplies it.",
                              "dc")
        .or_else("dc"),
    field<&Appliance::behaves>("behaves", "How its current follows the voltage.", "constant-power")
        .or_else("constant-power"),
    count(field<&Appliance::quantity>("quantity", "How many of them.", "1"), 1, 64).or_else("1"),
    field<&Appliance::between>("between", "When it is switched on; left out, all day.",
                               "[\"18:00-23:00\"]")
        .at_least(Ratio(1.0)),  // of its members
    within_a_day(field<&Appliance::per_day>("per_day",
                                            "That many hours of it, placed in the window.", "2 h")),
    share(field<&Appliance::duty>("duty", "Share of its switched-on time during which it draws.",
                                  "40 %"))
        .or_else("100 %"),
    share(field<&Appliance::duty_per_kelvin>(
              "duty_per_kelvin",
              "Growth of the duty with each kelvin above duty_at, relative to it.", "4 %"))
        .or_else("0"),
    degrees(field<&Appliance::duty_at>("duty_at", "Ambient temperature for which the duty holds.",
                                       "25 °C"))
        .or_else("25 °C"),
    field<&Appliance::duty_in_cold>("duty_in_cold", "How its duty grows in the cold: a heater's."),
    field<&Appliance::used_by>(
        "used_by",
        "Whether more people and other habits change its use; left out, people where per_day or "
        "between is given and no duty, else van.",
        "people"),
    count(field<&Appliance::days_of_seven>("days_of_seven", "On how many days of seven it is used.",
                                           "7"),
          0, 7)
        .or_else("7"),
    field<&Appliance::while_parked>(
        "while_parked",
        "Whether it stays on while the van is left unattended; left out, it does where it is on "
        "all day and no isolator disconnects it from the bank.",
        "false"),
    field<&Appliance::starting>("starting", "Inrush of motors and compressors."),
    count(
        field<&Appliance::starts>(
            "starts",
            "How often it starts in a day of use; left out, once for each time it is switched on.",
            "2"),
        0, 1440),
    volts(field<&Appliance::lowest_voltage>(
        "lowest_voltage", "Lowest voltage it works at; left out, 10.5 V, twice that at 24 V.",
        "10.9 V")),
    volts(field<&Appliance::highest_voltage>(
        "highest_voltage", "Highest voltage it is rated for; left out, 15.0 V, twice that at 24 V.",
        "15.5 V")),
    field<&Appliance::drop_class>(
        "drop_class", "Which voltage-drop limit of the profile holds for it; left out, \"other\".",
        "other"),
    field<&Appliance::on>(
        "on", "The node it is connected to; not needed where a run's `to` names it.", "panel"),
    built_into<&Appliance::assembly>(),
};

template <>
inline constexpr auto fields<Build> = std::array{
    field<&Build::colours>("colours", "A table of conductor colours.", "dc-red-black"),
    field<&Build::allowance>("allowance", "Added to each conductor when it is cut.", "0.1 m")
        .at_least(0.0 * metre)
        .at_most(10.0 * metre),
    field<&Build::strip>("strip", "How much of a conductor is stripped for a lug, by stud.",
                         "{ \"M6\" = \"9 mm\", \"M8\" = \"11 mm\" }")
        .at_least(0.0001 * metre)
        .at_most(1.0 * metre),
    field<&Build::torque>("torque", "How tight a nut is done up, by stud.",
                          "{ \"M8\" = \"10 N m\" }")
        .at_least(0.01 * newton_metre)
        .at_most(1000.0 * newton_metre),
    field<&Build::lug>("lug", "The works' lug, by stud, or by size and stud.",
                       "{ \"M6\" = \"ring M6\", \"35 mm2 M8\" = \"ring 35-8\" }"),
    field<&Build::die>("die", "The die that crimps it, by size.", "{ \"35 mm2\" = \"hex 35\" }"),
};

template <>
inline constexpr auto fields<Drawing> = std::array{
    field<&Drawing::number>("number", "Of the drawing.", "E-0417"),
    field<&Drawing::revision>("revision", "Of the drawing.", "B"),
    field<&Drawing::date>("date", "Of that revision.", "2026-03-14"),
    field<&Drawing::drawn_by>("drawn_by", "Who drew it.", "K. Tarn"),
    field<&Drawing::checked_by>("checked_by", "Who checked it.", "M. Oder"),
};

template <>
inline constexpr auto fields<Sizing> = std::array{
    field<&Sizing::catalogue>("catalogue", "A file of parts to choose from, beside this one.",
                              "parts.toml")
        .of_any_length(),
    field<&Sizing::least>("least", "Whether to look for the lightest or the cheapest.", "mass"),
    field<&Sizing::places>("places",
                           "Towns at which the promise has to hold, instead of the one of [place].",
                           "[\"hobart\", \"darwin\"]"),
    field<&Sizing::roof_area>("roof_area", "Room for modules.", "5.5 m2")
        .at_least(0.01 * square_metre)
        .at_most(1000.0 * square_metre),
    count(field<&Sizing::most_batteries>("most_batteries",
                                         "No more batteries in parallel than this.", "6"),
          1, 64),
    count(field<&Sizing::most_modules>("most_modules", "No more modules than this.", "12"), 1, 64),
    field<&Sizing::keep>("keep", "Equipment that stays as it is, or \"bank\".", "[\"inverter\"]"),
};

template <>
inline constexpr auto fields<Document> = std::array{
    field<&Document::schema>("schema", "Format of this file.", "1")
        .at_least(Ratio(1.0))
        .at_most(Ratio(1.0)),
    field<&Document::vehicle>("vehicle", "The model."),
    field<&Document::rules>("rules", "What it is checked against."),
    field<&Document::location>("place", "Where it has to work."),
    field<&Document::promise>("promise", "How long it has to last."),
    field<&Document::wiring>("wiring",
                             "What holds for every run of this file that does not say otherwise."),
    field<&Document::device>("device", "A maker's overcurrent device, named once."),
    field<&Document::travel>("travel", "How it travels, and so how often it is charged."),
    field<&Document::appliance>("appliance", "What draws from the bank."),
    field<&Document::bank>("bank", "The batteries, all the same."),
    field<&Document::array>("array", "Solar modules of one type, in one plane."),
    field<&Document::controller>("controller", "Between an array and the bank."),
    field<&Document::charger>("charger",
                              "From the tow vehicle, the mains or a generator to the bank."),
    field<&Document::feed>("feed", "Another source than bank and chargers."),
    field<&Document::inverter>("inverter", "From the bank to a.c. appliances."),
    field<&Document::node>("node", "Where conductors meet."),
    field<&Document::assembly>("assembly", "A piece of the van that is wired before it is fitted."),
    field<&Document::connector>("connector", "What joins the looms of two assemblies."),
    field<&Document::run>("run", "A pair of conductors from one place to another."),
    field<&Document::load_case>("case", "What runs together."),
    field<&Document::chassis>("chassis", "The chassis as a conductor."),
    field<&Document::build>("build", "How the wiring is made up, for `build-list`."),
    field<&Document::drawing>("drawing", "What a drawing's title block says."),
    field<&Document::part>(
        "part", "A part that `size`, `wiring` and `mend` may choose; or in a file of its own."),
    field<&Document::sizing>("sizing", "What `size` may choose, and what it looks for."),
};

namespace design {

FieldList document_fields() { return fields<Document>; }

}  // namespace design
}  // namespace housepower

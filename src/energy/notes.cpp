// SPDX-License-Identifier: Apache-2.0
// The notes beside the energy figures, in plain words.
#include "notes.hpp"

#include <algorithm>
#include <cmath>

#include "housepower/design/far_place.hpp"
#include "housepower/design/joined.hpp"
#include "housepower/energy/demand.hpp"
#include "housepower/energy/plant.hpp"
#include "housepower/tables/weather_file.hpp"
#include "housepower/units/unit.hpp"

namespace housepower::energy {
namespace {

using Notes = std::vector<std::string>;

void on_sunshine(Notes& notes, const tables::Town& town) {
  notes.push_back(
      "Irradiation is derived from hours of bright sunshine (FAO-56 eq. 35) and lowered by a "
      "factor of 0.75 to 0.90 (from memory, by latitude and month); its uncertainty is ±8 %.");
  if (town.measured)
    notes.push_back("A typical year of radiation is known here too; the smaller of both counts.");
  if (std::abs(town.latitude.value()) > 66.56 * degree.value())
    notes.push_back("Beyond the polar circle the irradiation from sunshine is unchecked.");
}

void on_a_place_between(Notes& notes, const design::Design& design) {
  notes.push_back(
      "The climate of this place is interpolated from that of " + design->site.made_of +
      ", weighted by nearness, the air 6.5 K colder for each kilometre of height (from memory). "
      "Interpolated in the same way from the others, the towns of the table that have another "
      "within 300 km came out 1.6 K and 0.7 h of sunshine a day off, 17 % of it in winter (root "
      "mean square): that is the uncertainty of the sun here.");
  if (std::string far = design::far_climate(design); !far.empty()) {
    far.front() = 'N';
    notes.push_back(far + ". Use an hourly weather file.");
  }
}

void on_the_place(Notes& notes, const design::Design& design, const Assessment& a) {
  const auto* town = design->site.town;
  if (!town) {
    notes.push_back(design->site.weather.empty()
                        ? "No place is given: air and cells count as 25 °C and no sun is counted."
                        : "The weather file was not read: air and cells count as 25 °C and no "
                          "sun is counted.");
    return;
  }
  notes.push_back("In the mean day the bank gives what its cells hold at the month's mean minimum "
                  "temperature. How long it lasts without charging is simulated hour by hour, with "
                  "cells as warm as their box or else as the air.");
  if (design->arrays.empty()) return;
  if (town->only_measured)
    notes.push_back(
        "Irradiation is the month's mean of the weather file, not lowered; files of two makers for "
        "one town differ by up to 17 % in a month. Its uncertainty is ±" +
        print(Number(a.input_doubt)) +
        (design->site.hourly && design->site.hourly->uncertainty ? ", as the file states it."
                                                                 : ", half of that."));
  else on_sunshine(notes, *town);
  if (design->site.pitch != design::Pitch::open)
    notes.push_back("Light left on the pitch (from memory): part shade 60 %, under trees 20 %.");
}

void on_what_is_not_joined(Notes& notes, const design::Design& design) {
  for (const auto& lead : design::undrawn_leads(design)) {
    std::string what = design::in_words(lead);
    what.front() = 'N';
    notes.push_back(what + (lead.counts ? ": its charge is counted as if one did."
                                        : ": no charge is counted by that way until one does."));
  }
}

/// Sources whose voltage lies below the bank's.
void on_too_low_a_voltage(Notes& notes, const design::Design& design) {
  const Voltage charging = counting_voltage(design) / double(storage_efficiency);
  for (const auto& array : design->arrays) {
    const auto& controller = design[array.controller];
    const auto& vmp = array.module.vmp;
    if (!vmp || controller.kind == design::ControllerKind::step_up) continue;
    const Voltage best = *vmp * double(array.in_series);
    if (best < charging)
      notes.push_back("Array \"" + array.name + "\" gives its best at " + print(Number(best)) +
                      ", and the bank charges at " + print(Number(charging)) +
                      ": it cannot push into it, and its sun is counted only when it is cold.");
  }
  const auto below_the_bank = [&](const char* what, const auto& source) {
    if (!reaches_above_reserve(design, source.charge_voltage))
      notes.push_back(what + (" \"" + source.name) + "\" ends at " +
                      print(Number(source.charge_voltage)) +
                      ", below the bank's own voltage: nothing is counted of it.");
  };
  for (const auto& controller : design->controllers) below_the_bank("Controller", controller);
  for (const auto& charger : design->chargers) below_the_bank("Charger", charger);
}

void on_snow(Notes& notes, const design::Design& design, const Assessment& a) {
  std::string months;
  for (const MonthDay& m : a.months)
    if (snow_not_counted(design, m.month))
      months += (months.empty() ? "" : ", ") + std::string(month_name(m.month));
  if (months.empty()) return;
  notes.push_back("Snow on the array is not counted, though the mean minimum is below 2 °C in " +
                  months + ": state array.covered, the share of days without any sun on it.");
}

void on_the_arrays(Notes& notes, const design::Design& design, const Assessment& a) {
  if (design->arrays.empty() || !a.has_place) return;
  notes.push_back(
      "Of the solar energy 95 % comes out of the bank again (published range 92-98 %).");
  notes.push_back("Each array loses 6.8 % to mismatch, wiring, connections, light-induced decay "
                  "and nameplate (a published default set). Ground reflects 20 % (from memory).");
  const auto unstated = [](const auto& array) { return !array.module.power_coefficient; };
  if (std::any_of(design->arrays.begin(), design->arrays.end(), unstated))
    notes.push_back("A power coefficient that is not stated counts as -0.4 %/K (a public lecture "
                    "page).");
  for (const auto& array : design->arrays)
    if (design[array.controller].kind == design::ControllerKind::direct && !array.module.imp)
      notes.push_back("Array \"" + array.name +
                      "\" has a direct controller and states no imp: "
                      "nothing is counted for it.");
  const auto clips = [](const MonthDay& m) { return m.clipped.value() > 0.0; };
  if (std::any_of(a.months.begin(), a.months.end(), clips))
    notes.push_back("A controller cannot take all of the mean day's sun; on clear days it loses "
                    "more.");
  notes.push_back("The glass loses 5 % of the diffuse light and, by its angle, more of a low sun; "
                  "in weak light modules give up to 15 % less (all from memory); they lose 0.5 % a "
                  "year (from memory).");
  on_snow(notes, design, a);
  const auto* town = design->site.town;
  const auto frosty = [&](const MonthDay& m) {
    return town->lowest[std::size_t(m.month)] < celsius(0.0);
  };
  if (a.has_bank && std::any_of(a.months.begin(), a.months.end(), frosty))
    notes.push_back("Frost may keep the bank from charging: see cold-charging; the mean day still "
                    "counts that sun.");
}

void on_the_load(Notes& notes, const design::Design& design) {
  if (design->runs.empty() && !(design->appliances.empty() && design->inverters.empty()))
    notes.push_back("The design has no run of cable: everything is counted as connected straight "
                    "to the bank. Nothing is said of cables and fuses; `check` needs the runs.");
  notes.push_back("Losses in the cables between bank and appliances are not in the load; counting "
                  "charge at the bank's nominal voltage makes up for about 3 %.");
  const auto behaves = [&](design::Behaviour how) {
    return std::any_of(design->appliances.begin(), design->appliances.end(),
                       [&](const auto& a) { return !a.inverter && a.behaves == how; });
  };
  if (behaves(design::Behaviour::resistive))
    notes.push_back("Resistive appliances are counted at the bank's nominal voltage; charging, "
                    "they draw more.");
  const auto searches = [](const auto& i) { return i.runs == design::InverterRuns::search; };
  if (std::any_of(design->inverters.begin(), design->inverters.end(), searches))
    notes.push_back("A searching inverter draws 33 % of its no-load draw: the higher of two shares "
                    "on an electrical workshop's page.");
  const auto starts = [](const auto& a) { return a.starting && a.starts > 0; };
  if (std::any_of(design->appliances.begin(), design->appliances.end(), starts))
    notes.push_back("Each start counts its current at 12.5 V for its time, less what runs anyway; "
                    "where `starts` is not stated, one for each window.");
  if (std::any_of(design->appliances.begin(), design->appliances.end(), follows_air))
    notes.push_back("Air inside counts as the air outside, by the hour (a cosine between mean "
                    "minimum and maximum, from memory); a van in the sun is hotter.");
  if (design->bank && design->bank->box && design->bank->box->heater)
    notes.push_back("The heater in the box is not in the mean day; the time without charging and "
                    "`stay` simulate it.");
  const auto& travel = design->travel;
  if (travel.driving.value() > 0.0 || travel.generator.value() > 0.0 || travel.mains_nights > 0)
    notes.push_back("The mean day is parked: driving, mains and generator are not in it; `stay` "
                    "counts them.");
}

}  // namespace

Notes notes_of(const design::Design& design, const Assessment& a) {
  Notes notes;
  on_what_is_not_joined(notes, design);
  on_too_low_a_voltage(notes, design);
  if (design->site.made) on_a_place_between(notes, design);
  on_the_place(notes, design, a);
  on_the_arrays(notes, design, a);
  on_the_load(notes, design);
  if (a.has_bank) notes.push_back("Age takes the larger loss of two published models, at 0.2C.");
  if (a.usable && a.usable->temperature_factor.value() == 0.0)
    notes.push_back("It is colder than the coldest row of the capacity table: nothing is counted "
                    "on.");
  return notes;
}

}  // namespace housepower::energy

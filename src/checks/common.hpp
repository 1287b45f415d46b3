// SPDX-License-Identifier: Apache-2.0
// Small words that the rules share: subjects, numbers in messages, sources that are not tables.
#pragma once

#include <algorithm>
#include <string>

#include "housepower/checks/rule.hpp"
#include "housepower/design/words.hpp"
#include "housepower/units/apart.hpp"
#include "housepower/units/phrases.hpp"
#include "housepower/units/unit.hpp"

namespace housepower::checks {

using design::Subject;
using design::subject_of;
using design::subject_of_bank;
using design::resolved::Protection;
using design::resolved::Run;
using design::resolved::RunId;

inline constexpr Source as_stated{SourceKind::supplier, "the design", "as stated"};
inline constexpr Source our_method{SourceKind::common_practice, "practice of the trade", ""};

/// "the isolator of run "bank to panel"".
[[nodiscard]] inline std::string item_of(const Run& run, std::size_t n) {
  const auto kind = std::size_t(run.inline_items[n].kind);
  return "the " + std::string(words<design::InlineKind>[kind]) + " of run " + quoted(run.name);
}

/// The program supplied this value: the design left the key out.
[[nodiscard]] inline bool is_assumed(const design::Design& design, const Subject& key) {
  return design->assumed.count(key.text()) > 0;
}

/// The voltage that charging can bring to the system: the highest charge voltage of its chargers
/// and controllers, 14.6 V (29.2 V) where there are none.
struct HighestVoltage {
  Voltage value;
  std::string from;
  bool stated = true;  // false: the program's own figure, which fails nobody
};
/// A source that drives any current: the bank, a feed, a jump post that is not for waking only.
[[nodiscard]] bool is_unlimited(const design::resolved::Post&);
/// What the cold open-circuit voltage of arrays wants and nobody stated.
[[nodiscard]] std::vector<Subject> unstated_of_cold(const Evidence&);
[[nodiscard]] HighestVoltage highest_charging_voltage(const design::Design&);
/// The highest voltage at a post: that of charging, or on the array's side its cold
/// open-circuit voltage, or on the side of a feed that feed's own. Nothing where it is not known.
[[nodiscard]] std::optional<HighestVoltage> highest_voltage_at(const design::Design&,
                                                               design::resolved::PostId, Working*);

/// Two figures as one message names them: with as many digits, up to 5, as tell them apart.
struct Figures {
  std::string measured, limit;
};
[[nodiscard]] Figures apart(Number measured, Number limit, int least_digits = 3);
/// Those of a finding that was judged by two.
[[nodiscard]] Figures figures(const Finding&, int least_digits = 3);

/// Where the climate that is counted with is that of towns too far away, nothing passes by it.
void rest_on_climate(Finding&, const Evidence&);

/// A pass that rests on a figure which is known to be too small, or is none, was not checked.
void hold_back(Finding&, const std::string& why_unknown, std::vector<Subject> wants = {});
/// Where something is missing that the network needs.
void hold_back(Finding&, const std::string& why_unknown, const Evidence&);
/// What the network needs and nobody stated: conductors, and what is inside of feeds and arrays. Left
/// empty where what is unknown has another reason, such as a case without an operating point.
[[nodiscard]] std::vector<Subject> unstated_of_network(const Evidence&);

/// A bound as a cure names it: rounded to that many digits away from what fails, so that the value as
/// it is printed still holds. Of another unit than the plain one, by that.
enum class Outward { up, down };
[[nodiscard]] double rounded_outward(double value, Outward, int digits);
template <class Q>
[[nodiscard]] std::string print_at_least(Q value, int digits = 3, Q unit = Q::from_value(1.0)) {
  return print(rounded_outward(double(value / unit), Outward::up, digits) * unit, digits);
}
template <class Q>
[[nodiscard]] std::string print_at_most(Q value, int digits = 3, Q unit = Q::from_value(1.0)) {
  return print(rounded_outward(double(value / unit), Outward::down, digits) * unit, digits);
}
/// A cure that sets one key: proposed, until the choice of parts has tried it.
[[nodiscard]] inline std::string setting(const Subject& key, const std::string& value) {
  return key.text() + "=" + value;
}
/// Nobody stated these: it is no fail, and the cure is to state them first.
void rest_on(Finding&, const Evidence&, const std::vector<Subject>& assumed);

using energy::month_name;

/// A consumer with the judged case that is worst for it: where it lacks most, by `bad`.
struct WorstCase {
  const wiring::CaseResult* in;
  const wiring::ConsumerInCase* at;
};
[[nodiscard]] std::vector<WorstCase> worst_cases(const wiring::Assessment&,
                                                 double (*bad)(const wiring::ConsumerInCase&));

/// "3 days in thirty bring no charge at all", of that share of the days.
[[nodiscard]] std::string days_without_charge(Ratio share);

/// Of a run whose conductor is left open nothing fails by the size that the program took for it: it
/// is a caution that asks for the conductor, unless the largest of the series would not cure it either, or
/// no size suffices for that run. Looks at the way there and back, in the case that was judged.
void rest_on_open(Finding&, const Evidence&, const wiring::Way&, const wiring::CaseResult&);

/// "run "x" has no conductor; 6 mm2 is the smallest that suffices for it alone".
[[nodiscard]] std::string no_conductor(const Run&, const wiring::RunFacts&);
/// "10 mm2 or larger", or what to do where no size of the series suffices.
[[nodiscard]] std::string larger_conductor(const wiring::RunFacts&);
/// Some judged case has no operating point: what a run would carry it does not.
[[nodiscard]] bool has_no_operating_point(const wiring::Assessment&);
/// "carries", or "would carry" where there is no operating point.
[[nodiscard]] std::string_view carries(const Evidence&);
/// A device that a conductor allows and the load needs: none where the load is more than it bears.
[[nodiscard]] std::string device_between(Current load, Current most);
/// What a run carries at most: its load, or what its own device lets through if that is less.
[[nodiscard]] Current bounded_by_devices(const Run&, Current load, Working*);

}  // namespace housepower::checks

// SPDX-License-Identifier: Apache-2.0
// Single questions of those who live with a bank: how long does this run, how long until it is
// full, what does a night cost, for how many days may the van stand, what makes a stay unlimited.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "housepower/energy/assessment.hpp"
#include "housepower/energy/stay.hpp"

namespace housepower::energy {

inline constexpr Formula running_out{
    "t_run",
    "how long it runs",
    "E_use / P",
    {{"E_use", "usable energy from full"}, {"P", "power drawn from the bank"}},
    Source{SourceKind::common_practice, "energy over power", ""},
    [](Energy e, Power p) -> Duration { return e / p; }};

/// How long an appliance runs without a break from a full bank down to the reserve, at the promised
/// age, in the judged month: by itself, and while all else is used as planned.
struct Runtime {
  std::string name;
  Power power{};  // at the bank, its duty and the inverter's losses in it
  Duration alone{}, with_the_rest{};
};
[[nodiscard]] std::vector<Runtime> runtimes(const design::Design&, const Assessment&);

/// What the night takes from 18 to 8 h, by consumer; the largest first.
struct Night {
  Energy energy{};
  std::vector<ConsumerDay> consumers;
};
[[nodiscard]] Night night_of(const design::Design&, const Assessment&);

/// From the reserve to as good as full (94 %), by each way of charging, in the mean day of the
/// judged month while all is used as planned.
struct Refill {
  std::string by;                 // "sun", "sun, all else off", "drive charger" …
  std::optional<Duration> takes;  // absent: it never gets there …
  Ratio settles = 0.0;            // … but to this charge
};
[[nodiscard]] std::vector<Refill> refills(const design::Design&, const Assessment&,
                                          const DeliveredList&);

// ---- The parked van ----

inline constexpr Formula standing_time{
    "t_stand",
    "how long the van may stand",
    "E · max(0, f_T · (1 - r) - (1 - s)) / P",
    {{"E", "energy of the aged bank"},
     {"f_T", "share given at that temperature"},
     {"r", "charge kept back"},
     {"s", "charge in storage"},
     {"P", "all that draws meanwhile"}},
    Source{SourceKind::common_practice, "energy over power", ""},
    [](Energy e, Ratio cold, Ratio kept, Ratio stored, Power p) -> Duration {
      const double share = double(cold) * (1.0 - double(kept)) - (1.0 - double(stored));
      return e * std::max(0.0, share) / p;
    }};
inline constexpr Formula self_discharge_power{
    "P_self",
    "what a bank loses by itself",
    "0.03 · E · s / 2592000",
    {{"E", "energy of the aged bank"}, {"s", "charge in storage"}},
    self_discharge_source,
    [](Energy e, Ratio stored) -> Power {
      return double(self_discharge_a_month) * e * double(stored) / (30.0 * day);
    }};

/// What draws while the van stands unattended: the bank's electronics, what no isolator parts from
/// the bank and is on all day, in the air of a month, and what the bank loses by itself. No sun is
/// counted. Without a month it is 25 °C. `fed`: the posts that the bank feeds with every isolator open,
/// as the wiring knows them (`wiring::fed_while_parked`).
struct Parked {
  std::vector<Term<Power>> draws;
  Power all{};
  Duration may_stand{};
  bool isolated = false;  // an isolator parts all appliances from the bank
};
[[nodiscard]] std::optional<Parked> parked(const design::Design&,
                                           const design::resolved::PerPost<bool>& fed,
                                           std::optional<int> month, Working* = nullptr);

/// "Heat of 700 W"; of several that stand as one appliance "3 × Heat, 2.1 kW together".
[[nodiscard]] std::string with_its_power(const design::resolved::Appliance&);

/// What the batteries let out at most: stated, and less than an appliance takes while it is on. The
/// hours of the simulation spread a short use over their time; the batteries would switch off.
[[nodiscard]] std::optional<Power> too_much_for_the_batteries(const design::Design&,
                                                              const design::resolved::Appliance&);

// ---- To stay on ----

/// What [travel] charges in the mean day: driving, mains or generator, the larger where they coincide.
[[nodiscard]] Energy charged_by_travel(const design::Design&, const DeliveredList&);
/// The mean day of the month, with what [travel] charges, gathers at least what it uses.
[[nodiscard]] bool keeps_up(const design::Design&, const Assessment&, const DeliveredList&);

/// The least daily charging by one means alone with which every stay of a month outlasts what is
/// simulated, also with less sun and more use than thought; in half hours, absent where twelve hours
/// are too few.
struct ToStayOn {
  std::string by;  // "driving", "mains", "generator"
  std::optional<Duration> a_day;
};
[[nodiscard]] std::vector<ToStayOn> to_stay_on(const design::Design&, const Surroundings&,
                                               const StayQuestion&,
                                               const Each& = one_after_another);
/// The same over all years and days of arrival of the second pair; looked for on the fewer of the
/// first.
[[nodiscard]] std::vector<ToStayOn> to_stay_on(const design::Design&, const Surroundings& few,
                                               const StayQuestion& few_question,
                                               const Surroundings&, const StayQuestion&,
                                               const Each& = one_after_another);

}  // namespace housepower::energy

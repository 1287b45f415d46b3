// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"
#include "housepower/checks/delivered.hpp"
#include "housepower/energy/questions.hpp"

namespace housepower::checks {
namespace {

/// The month's balance when the sun gives less than the climate table says, by its known error.
constexpr Formula doubted_balance{
    "E_bal",
    "balance of the mean day, the sun less its uncertainty",
    "E_sun · (1 - d) + E_travel - E_load",
    {{"E_sun", "gathered"},
     {"d", "uncertainty of the radiation"},
     {"E_travel", "charged by the travel that is stated"},
     {"E_load", "used"}},
    Source{SourceKind::from_memory, "judgement from a comparison with typical-year files", "±8 %"},
    [](Energy sun, Ratio doubt, Energy travel, Energy load) -> Energy {
      return sun * (1.0 - double(doubt)) + travel - load;
    }};

std::string deficits(const energy::Assessment& energy, Energy travel) {
  std::string list;
  for (const auto& m : energy.months)
    if (const Energy left = m.balance + travel; left < 0.0 * watt_hour)
      list += (list.empty() ? "" : ", ") + std::string(month_name(m.month)) + " " + print(left);
  return list;
}

std::vector<Finding> check_balance(const Rule& rule, const Evidence& e) {
  const Subject subject = e.design->promise.unlimited
                              ? Subject(Subject::Kind::promise).with("unlimited")
                              : Subject(Subject::Kind::place);
  if (!e.energy.has_place)
    return {not_checked(rule, subject,
                        "without a place of the climate table the sun cannot be counted",
                        {Subject(Subject::Kind::place).with("name")})};
  const auto& worst_month = *std::min_element(
      e.energy.months.begin(), e.energy.months.end(),
      [](const energy::MonthDay& a, const energy::MonthDay& b) { return a.balance < b.balance; });
  Working working;
  const auto day_ =
      energy::month_day(e.design, worst_month.month, e.kept(working), e.kept(working));
  const bool promised = e.design->promise.unlimited;
  const Energy travel =
      promised ? energy::charged_by_travel(e.design, delivered(e.design, e.wiring)) : Energy{};
  const Energy doubted =
      step(e.kept(working), doubted_balance, day_.solar, e.energy.input_doubt, travel, day_.load);
  Finding f = judge(rule, subject, promised ? doubted : day_.balance, Bound::at_least,
                    {0.0 * watt_hour, promised ? as_stated : our_method}, std::move(working));
  f.unit = "Wh";  // whether or not a limit stands beside it
  f.in_case = month_name(worst_month.month);
  const std::string list = deficits(e.energy, travel);
  f.message = "in " + f.in_case + ", the worst month, the sun gives " + print(day_.solar) +
              " a day and " + print(day_.load) + " is used";
  if (travel.value() > 0.0) f.message += "; the travel that is stated charges " + print(travel);
  if (promised && f.verdict == Verdict::fail && day_.balance + travel >= 0.0 * watt_hour) {
    f.verdict = Verdict::caution;  // only within the doubt of the radiation
    f.message += ": enough on average, but within the uncertainty of the radiation (" +
                 print(e.energy.input_doubt) + ")";
  }
  if (!promised) {  // a deficit only limits the stay
    f.verdict = Verdict::pass;
    f.limit.reset();
  }
  if (!list.empty()) f.message += "; the bank has to make up: " + list;
  if (f.verdict != Verdict::pass)
    f.cure =
        "a larger array, less use, another charging source, or a promise without \"unlimited\"";
  rest_on_climate(f, e);
  return {std::move(f)};
}

constexpr Sign daily_balance_signs[] = {{Parameter::load, Effect::worse},
                                        {Parameter::array, Effect::better}};

}  // namespace

extern const Rule daily_balance{
    .name = "daily-balance",
    .asks =
        "Does the sun of the mean day bring back what the day uses, in every month that counts?",
    .why = "Where the sun does not keep up, the stay is only as long as the bank.",
    .cure = "A larger array, less use, or another charging source.",
    .source = {SourceKind::common_practice, "daily energy balance",
               "an unlimited stay needs no month below zero"},
    .signs = daily_balance_signs,
    .concern = Concern::service,
    .about = About::promise,
    .check = check_balance};

}  // namespace housepower::checks

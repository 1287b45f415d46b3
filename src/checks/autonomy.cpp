// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"

namespace housepower::checks {
namespace {

constexpr Source hour_by_hour{SourceKind::common_practice, "hourly simulation of the bank",
                              "no source at all, each day of arrival in some years"};

std::string starts_of(const energy::WithoutCharging& w, Ratio chance) {
  return print(Number(chance), 3) + " of " + std::to_string(w.starts) + " days of arrival in " +
         std::to_string(w.years) + (w.years == 1 ? " year" : " years") +
         (w.years < 10 ? ", too few for a chance" : "");
}

std::vector<Finding> check_autonomy(const Rule& rule, const Evidence& e) {
  const auto& promise = e.design->promise;
  if (!promise.autonomy) return {};
  const Subject subject = Subject(Subject::Kind::promise).with("autonomy");
  if (!e.energy.usable || !e.energy.autonomy)
    return {not_checked(
        rule, subject, "the bank's capacity is not stated, or nothing uses any energy",
        {subject_of_bank().with("capacity"), Subject(Subject::Kind::appliance).with("power")})};
  const auto month = e.energy.has_place ? std::optional<int>(e.energy.months[e.energy.judged].month)
                                        : std::nullopt;
  const auto& hours = e.energy.without_charging;
  Working working;
  const auto usable = energy::usable_capacity(e.design, month, e.kept(working));
  const auto day_ = energy::month_day(e.design, month, e.kept(working), nullptr, e.energy.habit);
  Duration lasts = *e.energy.autonomy;
  std::string by_mean_day;
  if (day_.load.value() > 0.0) {
    const Duration mean = energy::autonomy_of(usable, day_, e.kept(working));
    if (hours) by_mean_day = "; the mean day says " + print(mean);
    else lasts = mean;
  }
  if (hours)
    lasts = given(
        e.kept(working), "t_sim",
        "time without charging hour by hour, that the promised share of days of arrival reaches",
        hours->lasts, hour_by_hour);
  Finding f = judge(rule, subject, lasts, Bound::at_least, {*promise.autonomy, as_stated},
                    std::move(working));
  f.unit = "d";
  f.in_case = e.energy.has_place ? std::string(month_name(*month)) : "";
  const auto [told, promised] = figures(f);
  f.message =
      "without any charging the bank lasts " + told + (hours && hours->outlasts ? " or more" : "") +
      (hours ? ", simulated hour by hour (" + starts_of(*hours, promise.chance) + ")" : "") +
      by_mean_day + "; " + promised + " are promised";
  if (f.verdict != Verdict::pass) {
    const Energy missing = lasts.value() > 0.0
                               ? usable.energy * (double(*promise.autonomy / lasts) - 1.0)
                               : Energy(day_.load * double(*promise.autonomy / day));
    f.cure = "at least " + print_at_least(missing, 3, watt_hour) +
             " more usable capacity, less use, or a shorter promise";
  }
  if (!e.energy.has_place)
    hold_back(f, "without a place the cells are counted as warm as 25 °C, and cold ones give less",
              {Subject(Subject::Kind::place).with("name")});
  rest_on_climate(f, e);
  return {std::move(f)};
}

constexpr Sign autonomy_signs[] = {{Parameter::load, Effect::worse},
                                   {Parameter::batteries, Effect::better},
                                   {Parameter::bank_age, Effect::worse},
                                   {Parameter::reserve, Effect::worse},
                                   {Parameter::array, Effect::none}};

}  // namespace

extern const Rule autonomy{
    .name = "autonomy",
    .asks = "Does the bank last as long as promised without any charging, aged and cold?",
    .why = "After three grey days the fridge warms and the heater stops: the family packs up.",
    .cure = "More usable capacity, less use, or a shorter promise.",
    .source = {SourceKind::published,
               "AS/NZS 4509.2:2010, as summarised in a trade training article",
               "days of autonomy: operation without other input"},
    .signs = autonomy_signs,
    .concern = Concern::service,
    .about = About::promise,
    .check = check_autonomy};

}  // namespace housepower::checks

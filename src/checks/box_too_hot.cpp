// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"
#include "housepower/parts/battery_box.hpp"

namespace housepower::checks {
namespace {

constexpr Source hottest_charge{SourceKind::published, "a 48 V LFP telecom module manual",
                                "tables 4.3 and 4.4, p. 12: no charge above 60 °C"};

/// What that costs, and whether it does in the promised month.
std::string in_its_hottest_month(const design::resolved::Site& site,
                                 const energy::CellsInMonth& hot) {
  std::string text =
      "; this is the hottest hour simulated in " + std::string(month_name(hot.month));
  if (hot.shut_out > Ratio(0.0)) text += ", in which " + days_without_charge(hot.shut_out);
  if (site.month && *site.month != hot.month)
    text += ", not in " + std::string(month_name(*site.month)) + ", which is promised";
  return text;
}

std::vector<Finding> check_heat(const Rule& rule, const Evidence& e) {
  const auto& d = *e.design;
  if (!d.bank) return {};
  const auto& bank = *d.bank;
  const Subject subject = subject_of_bank().with("box");
  Working working;
  if (!parts::battery_box(bank, e.kept(working)))
    return {not_checked(rule, subject, "the box and its size are not described")};
  const auto& hot = e.outlook.hottest_month;
  if (!hot)
    return {not_checked(rule, subject, "without a place nothing is known of the heat",
                        {Subject(Subject::Kind::place).with("name")})};
  given(e.kept(working), "T_max", "hottest cells of all hours simulated in that month",
        hot->hottest,
        Source{SourceKind::from_memory, "heat balance of the box",
               "daily swing and spread of the air, sun on the walls from memory"});
  const bool stated = bank.charge_cut_off_above.has_value();
  const Temperature limit = bank.charge_cut_off_above.value_or(celsius(60.0));
  Finding f = judge(rule, subject, Number(hot->hottest), Bound::at_most,
                    {Number(limit), stated ? as_stated : hottest_charge}, std::move(working));
  f.in_case = std::string(month_name(hot->month));
  const auto [get, bear] = figures(f);
  f.message = "the cells get as hot as " + get + "; " +
              (stated ? "they refuse charge above " : "makers allow no charge above ") + bear;
  if (f.verdict != Verdict::pass) f.message += in_its_hottest_month(d.site, *hot);
  if (f.verdict != Verdict::pass)
    f.cure = "a light, insulated or shaded box, air through it, or a place under the floor";
  rest_on_climate(f, e);
  return {std::move(f)};
}

constexpr Sign box_too_hot_signs[] = {{Parameter::length, Effect::none},
                                      {Parameter::area, Effect::none}};

}  // namespace

extern const Rule box_too_hot{
    .name = "box-too-hot",
    .asks = "Do the cells stay within their limit in the hottest month, with the sun on their box?",
    .why =
        "Above it the batteries shut themselves off on the day the fridge works hardest, and age "
        "in years instead of decades.",
    .cure = "A light, insulated or shaded box, or another place.",
    .source = {SourceKind::published, "a 48 V LFP telecom module manual", "tables 4.3, 4.4, p. 12"},
    .signs = box_too_hot_signs,
    .concern = Concern::service,
    .needs = Needs::hours,
    .check = check_heat};

}  // namespace housepower::checks

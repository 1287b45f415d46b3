// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"
#include "housepower/parts/battery_box.hpp"

namespace housepower::checks {
namespace {

constexpr Source never_below_freezing{SourceKind::published, "a 48 V LFP telecom module manual",
                                      "table 4.3, p. 12: no charge below 0 °C"};
constexpr Limit days_shut_out{Number(Ratio(1.0 / 30.0)),
                              {SourceKind::from_memory, "judgement", "one day of a month"},
                              Verdict::caution};

Working temperatures(const Evidence& e, const energy::CellsInMonth& answer) {
  Working working;
  (void)parts::battery_box(*e.design->bank, e.kept(working));
  given(e.kept(working), "T_min", "coldest cells of all hours simulated in that month",
        answer.coldest,
        Source{SourceKind::from_memory, "heat balance of the box",
               "daily swing and spread of the air from memory"});
  return working;
}

std::vector<Finding> check_cold(const Rule& rule, const Evidence& e) {
  const auto& d = *e.design;
  if (!d.bank || (d.arrays.empty() && d.chargers.empty())) return {};
  const auto& bank = *d.bank;
  const Subject subject = bank.no_cold_cut_off ? subject_of_bank().with("no_cold_cut_off")
                                               : subject_of_bank().with("charge_cut_off_below");
  if (!bank.charge_cut_off_below && !bank.no_cold_cut_off)
    return {not_checked(rule, subject_of_bank().with("charge_cut_off_below"),
                        "whether anything stops charging in the cold is not stated")};
  // A bank that refuses charge strands people, and is not harmed.
  const auto concerning = [&](Finding f) {
    f.of_safety = bank.no_cold_cut_off;
    return f;
  };
  const auto& cold = e.outlook.coldest_month;
  if (!cold) {
    Finding f = not_checked(rule, subject, "without a place nothing is known of the cold",
                            {Subject(Subject::Kind::place).with("name")});
    f.of_safety = bank.no_cold_cut_off || *bank.charge_cut_off_below < celsius(0.0);  // it plates
    return {std::move(f)};
  }
  const std::string month(month_name(cold->month));
  Working working = temperatures(e, *cold);
  const std::string coldest = "the cells get as cold as " + print(cold->coldest);
  if (bank.no_cold_cut_off) {
    Finding f = judge(rule, subject, Number(cold->coldest), Bound::at_least,
                      {Number(celsius(0.0)), never_below_freezing}, std::move(working));
    f.in_case = month;
    f.message = coldest + " and nothing stops them from being charged; below 0 °C that plates "
                          "metal on them and ruins them";
    if (f.verdict != Verdict::pass)
      f.cure = "batteries that refuse charge in the cold, and a heater to warm them so that they "
               "accept it";
    else f.message = coldest + "; nothing would stop charging below 0 °C";
    return {std::move(f)};
  }
  const Temperature freezing = celsius(0.0);
  if (*bank.charge_cut_off_below < freezing && cold->coldest < freezing) {
    // Nothing stops it where cells plate; only their maker's word would make that good.
    Finding f =
        judge(rule, subject, Number(cold->coldest), Bound::at_least,
              {Number(freezing), never_below_freezing, Verdict::caution}, std::move(working));
    f.in_case = month;
    f.message = coldest + " and are charged down to " + print(*bank.charge_cut_off_below) +
                "; below 0 °C that plates metal on them unless their maker allows it there";
    f.cure = "a cut-off at 0 °C or above, with a heater; or the maker's word for the colder one";
    return {std::move(f)};
  }
  given(e.kept(working), "s",
        "share of the days with sun or a charger on which the cells took nothing", cold->shut_out,
        Source{SourceKind::common_practice, "hourly simulation", ""});
  Finding f = judge(rule, subject, Number(cold->shut_out), Bound::at_most, days_shut_out,
                    std::move(working));
  f.in_case = month;
  f.message = coldest + ", they refuse charge below " + print(*bank.charge_cut_off_below) + ": " +
              print_plain(30.0 * double(cold->shut_out), 2) +
              " days of thirty bring no charge at all";
  if (f.verdict != Verdict::pass)
    f.cure = bank.box && bank.box->heater
                 ? "a stronger heater, one that the bank feeds, or a better insulated box"
                 : "a heater in the box, or a better insulated box";
  return {concerning(std::move(f))};
}

constexpr Sign cold_charging_signs[] = {{Parameter::length, Effect::none},
                                        {Parameter::area, Effect::none},
                                        {Parameter::charge_limit, Effect::none},
                                        {Parameter::discharge_limit, Effect::none}};

}  // namespace

extern const Rule cold_charging{
    .name = "cold-charging",
    .asks = "Can the bank be charged in the cold of the place, without harm?",
    .why =
        "Charged below freezing, lithium cells plate, lose capacity and in time short internally; "
        "if they refuse the charge instead, the family is without power after frosty nights.",
    .cure = "A heater in the box, better insulation, batteries that refuse charge in the cold.",
    .source = {SourceKind::published, "a 48 V LFP telecom module manual", "table 4.3, p. 12"},
    .signs = cold_charging_signs,
    .concern = Concern::safety,
    .needs = Needs::hours,
    .check = check_cold};

}  // namespace housepower::checks

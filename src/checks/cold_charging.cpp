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

constexpr Temperature freezing = celsius(0.0);

/// In the record cold no cell is warmer than a heater that runs all night keeps it.
constexpr Formula in_record_cold{
    "T_rec",
    "cells in the record cold of the place",
    "max(T_r, min(T_on, T_r + P / UA))",
    {{"T_r", "record low, °C"},
     {"T_on", "below which the bank's heater heats, °C"},
     {"P", "power of that heater"},
     {"UA", "heat through the walls for a kelvin"}},
    Source{SourceKind::common_practice, "heat balance of one body", "held for long"},
    [](Temperature low, Temperature on, Power heat, parts::HeatConductance ua) -> Temperature {
      return std::max(low, std::min(on, low + heat / ua));
    }};

/// The coldest cells of the year, with where that is from.
struct Coldest {
  Temperature cells{};
  std::string when;  // the month, or the record cold
  bool by_record = false;
  bool only_by_record = false;  // the simulated cells stay above freezing
};

/// What charges at night may not be there to feed a heater: the bank's own counts alone.
Temperature at_record(const design::Design& d, Temperature record, Working* working) {
  const auto& bank = *d->bank;
  given(working, "T_r", "record low of the place", record,
        Source{SourceKind::supplier, "place/record_low", "stated, or the table's less 3 K"});
  const auto box = parts::battery_box(bank);
  if (!box || !bank.box->heater || bank.box->heater->supplied_by != design::HeaterSupply::bank)
    return record;
  return step(working, in_record_cold, record, parts::heater_bounds(*bank.box->heater).on_below,
              bank.box->heater->power, box->walls);
}

Coldest coldest_of(const Evidence& e, const energy::CellsInMonth& simulated, Working* working) {
  Coldest coldest{simulated.coldest, std::string(month_name(simulated.month))};
  const auto& record = e.design->site.record_low;
  if (!record) return coldest;
  const Temperature then = at_record(e.design, *record, working);
  if (!(then < coldest.cells)) return coldest;
  return {then, "in the record cold", true, simulated.coldest >= freezing};
}

Working temperatures(const Evidence& e, const energy::CellsInMonth& answer) {
  Working working;
  (void)parts::battery_box(*e.design->bank, e.kept(working));
  given(e.kept(working), "T_min", "coldest cells of all hours simulated in that month",
        answer.coldest,
        Source{SourceKind::from_memory, "heat balance of the box",
               "daily swing and spread of the air from memory"});
  return working;
}

/// A record that nobody stated or recorded fails nobody by itself, and passes nobody unsaid; a far
/// town's passes nobody.
void say_whose_record(Finding& f, const Evidence& e, const Coldest& coldest) {
  const Subject key = Subject(Subject::Kind::place).with("record_low");
  if (!is_assumed(e.design, key)) return;
  if (coldest.only_by_record) rest_on(f, e, {key});
  if (e.design->site.far) hold_back(f, "that place is too far away: state `record_low`", {key});
  else if (f.verdict == Verdict::pass)
    f.message += "; the record low of the place (" + print(*e.design->site.record_low) +
                 ") is assumed, not stated: `record_low`";
}

std::string as_cold_as(const Coldest& worst) {
  return "the cells get as cold as " + print(worst.cells) +
         (worst.by_record ? " in the record cold of the place" : "");
}

/// Nothing stops charging in the cold.
Finding check_unstopped(const Rule& rule, const Evidence& e, const Subject& subject,
                        const Coldest& worst, Working working) {
  Finding f = judge(rule, subject, Number(worst.cells), Bound::at_least,
                    {Number(freezing), never_below_freezing}, std::move(working));
  f.in_case = worst.when;
  f.message = as_cold_as(worst);
  if (f.verdict != Verdict::pass) {
    f.message += " and nothing stops them from being charged; below 0 °C that plates metal on them "
                 "and ruins them";
    f.cure = "batteries that refuse charge in the cold, and a heater to warm them so that they "
             "accept it";
  } else {
    f.message += "; nothing would stop charging below 0 °C";
  }
  say_whose_record(f, e, worst);
  return f;
}

/// What stops charging lets cells plate; only their maker's word would make that good.
Finding check_late_stop(const Rule& rule, const Evidence& e, const Subject& subject,
                        const Coldest& worst, Working working) {
  Finding f = judge(rule, subject, Number(worst.cells), Bound::at_least,
                    {Number(freezing), never_below_freezing, Verdict::caution}, std::move(working));
  f.in_case = worst.when;
  f.message = as_cold_as(worst) + " and are charged down to " +
              print(*e.design->bank->charge_cut_off_below) +
              "; below 0 °C that plates metal on them unless their maker allows it there";
  f.cure = "a cut-off at 0 °C or above, with a heater; or the maker's word for the colder one";
  say_whose_record(f, e, worst);
  return f;
}

/// Days on which the cells refuse charge. A bank that does strands people, and is not harmed. Where the
/// cells are warm all that month it is heat that they refuse in: box-too-hot.
Finding check_days(const Rule& rule, const Evidence& e, const Subject& subject,
                   const Coldest& worst) {
  const auto& bank = *e.design->bank;
  const Temperature cut_off = *bank.charge_cut_off_below;
  const auto& refusing = *e.outlook.most_shut_out;
  const Ratio in_the_cold = refusing.coldest < cut_off ? refusing.shut_out : Ratio(0.0);
  Working working = temperatures(e, refusing);
  given(e.kept(working), "s",
        "share of the days with sun or a charger on which the cells took nothing", in_the_cold,
        Source{SourceKind::common_practice, "hourly simulation", ""});
  Finding f =
      judge(rule, subject, Number(in_the_cold), Bound::at_most, days_shut_out, std::move(working));
  f.in_case = std::string(month_name(refusing.month));
  const auto [get, refuse] = apart(refusing.coldest, cut_off);
  f.message = "the cells get as cold as " + get + ", they refuse charge below " + refuse + ": " +
              days_without_charge(in_the_cold);
  if (f.verdict != Verdict::pass)
    f.cure = bank.box && bank.box->heater
                 ? "a stronger heater, one that the bank feeds, or a better insulated box"
                 : "a heater in the box, or a better insulated box";
  if (cut_off < freezing) say_whose_record(f, e, worst);
  // Nothing would stop charging where cells plate: unknown cold is a matter of safety then.
  f.of_safety = f.verdict == Verdict::not_checked;
  return f;
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
  const bool stops_late = !bank.no_cold_cut_off && *bank.charge_cut_off_below < freezing;
  const auto& cold = e.outlook.coldest_month;
  if (!cold) {
    Finding f = not_checked(rule, subject, "without a place nothing is known of the cold",
                            {Subject(Subject::Kind::place).with("name")});
    f.of_safety = bank.no_cold_cut_off || stops_late;  // it plates
    return {std::move(f)};
  }
  Working working = temperatures(e, *cold);
  const Coldest worst = coldest_of(e, *cold, e.kept(working));
  if (bank.no_cold_cut_off) return {check_unstopped(rule, e, subject, worst, std::move(working))};
  if (stops_late && worst.cells < freezing)
    return {check_late_stop(rule, e, subject, worst, std::move(working))};
  return {check_days(rule, e, subject, worst)};
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

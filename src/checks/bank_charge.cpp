// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"
#include "housepower/parts/cell.hpp"
#include "housepower/wiring/charging_circuits.hpp"

namespace housepower::checks {
namespace {

constexpr Source end_of_charge{SourceKind::published,
                               "a drop-in battery maker's help page; a battery data sheet",
                               "14.4 V recommended, 14.6 V at most, for four cells"};
constexpr Source least_absorption{SourceKind::published, "a marine technical blog",
                                  "four cells absorbed at 13.8 V give their rated charge"};
constexpr Ratio nearly_full = 0.95;

constexpr Formula highest_charge_voltage{
    "U_max",       "highest charge voltage",
    "n · 3.65",    {{"n", "cells in series"}},
    end_of_charge, [](Ratio n) -> Voltage { return double(n) * 3.65 * volt; }};
constexpr Formula bank_limit{
    "I_max",
    "what the batteries take together",
    "n · I_b",
    {{"n", "batteries in parallel"}, {"I_b", "charge limit of each"}},
    Source{SourceKind::supplier, "the battery's maker", "charge limit as stated"},
    [](Ratio n, Current each) -> Current { return double(n) * each; }};

void check_sum(const Rule& rule, const Evidence& e, const wiring::ChargingSum& all,
               std::vector<Finding>& findings) {
  const auto& bank = *e.design->bank;
  Working working;
  const Current total =
      sum(e.kept(working), "I_ch", "outputs of all that can charge at once", all.parts);
  const Current limit =
      step(e.kept(working), bank_limit, Ratio(double(bank.parallel)), *bank.charge_limit);
  Finding f = judge(rule, subject_of_bank().with("charge_limit"), total, Bound::at_most,
                    {limit, as_stated}, std::move(working));
  f.in_case = all.in_case;
  const auto [charge, takes] = figures(f);
  f.message = all.name + (all.parts.size() == 1 ? " charges with " : " together charge with ") +
              charge + "; the bank takes " + takes;
  if (f.verdict != Verdict::pass) f.cure = "lower the chargers' limits, or more batteries";
  findings.push_back(std::move(f));
  if (bank.parallel < 2) return;
  if (!all.busiest) {
    findings.push_back(not_checked(rule, subject_of_bank(), all.why_unknown));
    findings.back().in_case = all.in_case;
    return;
  }
  const Current most = *all.busiest;
  Working busiest;
  given(&busiest, "I_b", "into the battery that takes most, from the solution of the network", most,
        our_method);
  Finding b = judge(rule, subject_of_bank(), most, Bound::at_most, {*bank.charge_limit, as_stated},
                    std::move(busiest));
  b.in_case = all.in_case;
  b.message = "the battery that takes most gets " + print(most) + " of it; each takes " +
              print(*bank.charge_limit);
  if (b.verdict != Verdict::pass)
    b.cure = "take off diagonally or by equal leads, or lower the chargers' limits";
  findings.push_back(std::move(b));
}

/// The highest end of charge that the cells and every appliance on the bank bear.
Voltage borne_by_all(const Evidence& e) {
  const auto& bank = *e.design->bank;
  Voltage most =
      bank.charge_voltage_highest.value_or(3.65 * double(parts::cells_in_series(bank)) * volt);
  for (const auto& appliance : e.design->appliances)
    if (!appliance.inverter && e.design[appliance.post].part == e.design[bank.post].part)
      most = std::min(most, appliance.highest);
  return most;
}

/// What fills the bank, as far as everything on it bears that.
void propose_voltage(Finding& f, const Evidence& e, const Subject& path, Voltage least) {
  const double cells = double(parts::cells_in_series(*e.design->bank));
  const Voltage best = std::min(Voltage(3.55 * cells * volt), borne_by_all(e));
  const std::string value = print_at_most(best, 4);
  if (best < least) {
    f.cure = "no charge voltage suits all: the bank asks for " + print_at_least(least, 4) +
             ", and what is on it bears " + value + " at most";
    return;
  }
  f.cure = "set it to " + value + ", or what the batteries' maker says";
  f.cure_set = {setting(path, value)};
}

/// No more than the cells bear. Nobody's fault where the program supplied the voltage.
Finding check_highest(const Rule& rule, const Evidence& e, const Subject& path, Voltage u) {
  const auto& bank = *e.design->bank;
  const bool own = bank.charge_voltage_highest.has_value();
  Working working;
  const Voltage most =
      own ? given(e.kept(working), "U_max", "highest charge voltage", *bank.charge_voltage_highest,
                  as_stated)
          : step(e.kept(working), highest_charge_voltage, parts::cells_in_series(bank));
  Finding f = judge(rule, path, u, Bound::at_most, {most, own ? as_stated : end_of_charge},
                    std::move(working));
  const auto [ends_at, bear] = figures(f, 4);
  f.message = "ends its charge at " + ends_at + "; " +
              (own ? "the batteries' maker allows " : "makers of such cells allow ") + bear;
  f.of_safety = f.verdict == Verdict::fail;
  if (f.verdict != Verdict::pass) {
    f.cure = "set it to at most " + print_at_most(most, 4);
    f.cure_set = {setting(path, print_at_most(most, 4))};
  }
  return f;
}

/// Enough to charge by: below the voltage of a bank at 95 % at rest nothing flows long before.
Finding check_lowest(const Rule& rule, const Evidence& e, const Subject& path, Voltage u) {
  const auto& bank = *e.design->bank;
  Working working;
  const Voltage rest =
      parts::bank_open_circuit(e.design->tables->cells, bank, nearly_full, e.kept(working));
  Finding f = judge(rule, path, u, Bound::at_least,
                    {rest, e.design->tables->cells.open_circuit.source}, std::move(working));
  f.in_case = "too low";
  const auto [ends_at, rests_at] = figures(f, 4);
  f.message = "ends its charge at " + ends_at + "; at 95 % the bank rests at " + rests_at;
  const Voltage usual = 3.45 * double(parts::cells_in_series(bank)) * volt;
  if (f.verdict == Verdict::fail) {
    f.message += ": it never gets there";
  } else if (u < usual) {
    f = judge(rule, path, u, Bound::at_least, {usual, least_absorption, Verdict::caution},
              std::move(f.working));
    f.in_case = "too low";
    f.message = "ends its charge at " + print(u, 4) + "; below " + print(usual, 4) +
                " it ends 95 to 98 % full, and the batteries hardly balance their cells";
  }
  if (f.verdict != Verdict::pass) propose_voltage(f, e, path, std::max(rest, usual));
  return f;
}

/// A source that is joined to the bank brings its own voltage to it once the bank is full.
void check_feed(const Rule& rule, const Evidence& e, const design::resolved::Feed& feed,
                std::vector<Finding>& findings) {
  if (e.design[feed.post].part != e.design[e.design->bank->post].part) return;
  const Subject path = subject_of(e.design, feed).with("voltage/high");
  Finding f = check_highest(rule, e, path, feed.high);
  f.message = "feed " + quoted(feed.name) + " is joined to the bank and " + f.message;
  if (f.verdict == Verdict::fail && is_assumed(e.design, path)) f.verdict = Verdict::caution;
  f.cure_set.clear();
  if (f.verdict != Verdict::pass) f.cure = "a dc-dc charger between them";
  findings.push_back(std::move(f));
}

void check_charge_voltage(const Rule& rule, const Evidence& e, const Subject& what,
                          const std::string& who, Voltage u, std::vector<Finding>& findings) {
  const Subject path = what.with("charge_voltage");
  for (Finding f : {check_highest(rule, e, path, u), check_lowest(rule, e, path, u)}) {
    f.message = who + " " + f.message;
    if (f.verdict == Verdict::fail && is_assumed(e.design, path)) f.verdict = Verdict::caution;
    findings.push_back(std::move(f));
  }
}

std::vector<Finding> check_bank_charge(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  const auto sums = wiring::charging_sums(e.design, e.wiring);
  if (e.design->bank)
    for (const auto& feed : e.design->feeds) check_feed(rule, e, feed, findings);
  if (sums.empty()) return findings;
  if (!e.design->bank) return {not_checked(rule, subject_of_bank(), "no bank is described")};
  if (e.design->bank->charge_limit)
    for (const auto& all : sums) check_sum(rule, e, all, findings);
  else
    findings.push_back(not_checked(rule, subject_of_bank().with("charge_limit"),
                                   "the bank's `charge_limit` is not stated"));
  for (const auto& c : e.design->controllers)
    check_charge_voltage(rule, e, subject_of(e.design, c), "controller " + quoted(c.name),
                         c.charge_voltage, findings);
  for (const auto& c : e.design->chargers)
    check_charge_voltage(rule, e, subject_of(e.design, c), "charger " + quoted(c.name),
                         c.charge_voltage, findings);
  return findings;
}

constexpr Sign bank_charge_signs[] = {{Parameter::batteries, Effect::better},
                                      {Parameter::load, Effect::none},
                                      {Parameter::array, Effect::none},
                                      {Parameter::charge_limit, Effect::better},
                                      {Parameter::discharge_limit, Effect::none}};

}  // namespace

extern const Rule bank_charge{
    .name = "bank-charge",
    .asks = "Can the bank, and each battery in it, take everything that can charge at once, at a "
            "voltage that fills it and that it is rated for?",
    .why = "Above its charge limit a battery's own protection opens under full current, and the "
           "charger then drives its voltage up into the appliances. Above the maker's voltage the "
           "cells are damaged; below that of a rested bank nothing is charged.",
    .cure = "Lower the chargers' limits, more batteries, or leads of equal resistance to each.",
    .source = {SourceKind::supplier, "the battery's maker", "charge limit as the design states it"},
    .signs = bank_charge_signs,
    .concern = Concern::service,
    .check = check_bank_charge};

}  // namespace housepower::checks

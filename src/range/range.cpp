// SPDX-License-Identifier: Apache-2.0
// The whole check of one design, and what of it stands in its row.
#include "housepower/range/range.hpp"

#include <algorithm>
#include <stdexcept>

#include "housepower/units/phrases.hpp"
#include "housepower/wiring/reserve.hpp"

namespace housepower::range {
namespace {

using checks::Checked;
using checks::Finding;
using checks::Verdict;
using design::Design;

energy::Outlook outlook_for(const Design& design, const energy::DeliveredList& delivered,
                            const RowStays& stays, energy::Skies& skies) {
  if (stays.simulate == Simulate::none) return {};
  energy::Outlook outlook = energy::outlook_of_cells(design, delivered, &skies);
  if (stays.simulate == Simulate::all || design->promise.stay)
    outlook.promised =
        energy::lengths_that_count(design, delivered, longest_stay_days, stays.years, &skies);
  if (design->promise.unlimited)
    outlook.without_end = energy::without_end(design, delivered, &skies);
  return outlook;
}

/// The first, for they are sorted: by verdict, what is of safety before the rest.
const Finding* worst_finding(const std::vector<Finding>& findings) {
  if (findings.empty() || findings.front().verdict == Verdict::pass) return nullptr;
  return &findings.front();
}

void fill_energy(const Design& design, const Checked& c, RangeRow& row) {
  if (const auto* town = design->site.town) {
    row.place = town->name;
    row.month = energy::month_name(c.energy.months[c.energy.judged].month);
  }
  const DailyUse use = daily_use(design, c.energy);
  row.summer = use.summer, row.autumn = use.autumn;
  row.winter = use.winter, row.spring = use.spring;
  row.daily = use.all;
  row.autonomy = c.energy.autonomy;
  if (row.autonomy)
    row.autonomy_outlasts = c.energy.without_charging && c.energy.without_charging->outlasts;
  row.chance = design->promise.chance;
  if (const auto& stay = c.outlook.promised) {
    const energy::ToldStay told = energy::told(*stay);
    row.parked = stay->parked.met;
    row.parked_headline = told.parked.length;
    row.stay = stay->met;
    row.headline = told.travelled.length;
    row.nights = told.travelled.nights;
    row.first_percentile = stay->first_percentile;
    row.first_percentile_outlasts = stay->first_percentile >= stay->longest;
    row.outlasts = told.travelled.or_more;
    row.parked_outlasts = told.parked.or_more;
    row.stay_month = energy::month_name(stay->month);
  }
}

void fill_findings(const Checked& c, RangeRow& row) {
  const auto count = [&](Verdict verdict) {
    return int(std::count_if(c.findings.begin(), c.findings.end(),
                             [&](const Finding& f) { return f.verdict == verdict; }));
  };
  row.verdict = word_of(c.verdicts.worse());
  row.verdict_safety = word_of(c.verdicts.safety);
  row.verdict_service = word_of(c.verdicts.service);
  row.fails = count(Verdict::fail);
  row.cautions = count(Verdict::caution);
  row.not_checked = count(Verdict::not_checked);
  row.passes = count(Verdict::pass);
  const Finding* worst = worst_finding(c.findings);
  if (!worst) return;
  row.worst_rule = worst->rule;
  row.worst_verdict = word_of(worst->verdict);
  row.worst_subject = worst->subject.text();
}

void fill_mass_and_price(const Design& design, const Checked& c, RangeRow& row) {
  const auto masses = checks::masses_of(design, c.wiring);
  row.mass = masses.total;
  row.copper = masses.copper;
  row.mass_missing = listed(masses.missing);
  Price price = price_of(design);
  for (const auto& sum : price.sums) row.price += (row.price.empty() ? "" : " + ") + print(sum);
  row.prices = std::move(price.sums);
  row.price_missing = listed(price.missing);
}

}  // namespace

DailyUse daily_use(const Design& design, const energy::Assessment& assessed) {
  DailyUse use;
  if (!assessed.has_place) {
    use.all = assessed.months.front().load_charge;
    return use;
  }
  std::array<Charge, 12> months;
  for (int m = 0; m < 12; ++m)
    months[std::size_t(m)] = assessed.months.size() == 12
                                 ? assessed.months[std::size_t(m)].load_charge
                                 : energy::month_day(design, m).load_charge;
  const auto season = [&](std::size_t middle) {
    return (months[(middle + 11) % 12] + months[middle] + months[(middle + 1) % 12]) / 3.0;
  };
  const std::size_t midsummer = design->site.town->latitude.value() < 0.0 ? 0 : 6;
  use.summer = season(midsummer);
  use.autumn = season((midsummer + 3) % 12);
  use.winter = season((midsummer + 6) % 12);
  use.spring = season((midsummer + 9) % 12);
  use.all = (*use.summer + *use.autumn + *use.winter + *use.spring) / 4.0;
  return use;
}

Price price_of(const Design& design) {
  Price price;
  for (const auto& part : design->prices) {
    if (!part.each) {
      price.missing.push_back(part.what);
      continue;
    }
    const auto at = std::lower_bound(
        price.sums.begin(), price.sums.end(), part.each->currency,
        [](const design::Money& a, const std::string& currency) { return a.currency < currency; });
    const double amount = double(part.each->amount) * part.count;
    if (at != price.sums.end() && at->currency == part.each->currency)
      at->amount = double(at->amount) + amount;
    else price.sums.insert(at, design::Money{amount, part.each->currency});
  }
  return price;
}

std::span<const std::string_view> range_verdicts() {
  static const std::array words{word_of(Verdict::pass), word_of(Verdict::caution),
                                word_of(Verdict::fail), not_read};
  return words;
}

RangeRow range_row(const design::Document& document, const Design& design, const RowStays& stays) {
  return RowsAtPlace(stays).row(document, design);
}

wiring::Assessment RowsAtPlace::wired(const Design& design, std::span<const wiring::LoadCase> cases,
                                      Defaults defaults) {
  auto& known = wired_[defaults == Defaults::ordinary ? 0 : 1];
  if (known) known->reserves = wiring::inverter_reserves(design, *known);
  else known = wiring::assess(design, cases);
  return *known;
}

RangeRow RowsAtPlace::row(const design::Document& document, const Design& design) {
  const checks::Engines engines{[&](const Design& d) { return energy::assess(d, {}, &skies_); },
                                [&](const Design& d, std::span<const wiring::LoadCase> cases,
                                    Defaults defaults) { return wired(d, cases, defaults); },
                                [&](const Design& d, const energy::DeliveredList& delivered) {
                                  return outlook_for(d, delivered, stays_, skies_);
                                }};
  const Checked c = checks::check(document, design, engines, checks::Workings::left_out);
  RangeRow row;
  row.name = design->name;
  row.file = design->file;
  fill_energy(design, c, row);
  fill_findings(c, row);
  fill_mass_and_price(design, c, row);
  return row;
}

}  // namespace housepower::range

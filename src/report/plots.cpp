// SPDX-License-Identifier: Apache-2.0
#include "housepower/report/plots.hpp"

#include <algorithm>
#include <cmath>

#include "housepower/energy/months.hpp"
#include "housepower/report/stay.hpp"
#include "housepower/units/unit.hpp"

namespace housepower::report {
namespace {

double in_watt_hours(Energy e) { return e.value() / watt_hour.value(); }

std::string share_text(double share) { return print(Number(Ratio(share)), 2); }

std::vector<double> in_percent(std::vector<double> shares) {
  for (double& s : shares) s *= 100.0;
  return shares;
}

}  // namespace

RowPlot daily_balance_plot(const energy::MonthDay& day) {
  RowPlot p;
  p.id = "daily-balance";
  const std::string month(energy::month_name(day.month));
  p.title = "Daily balance by appliance, mean day of " + month;
  p.x = {"a day", "Wh", 0.0, {}};
  p.to_name = "energy a day", p.says_name = "at the bank";
  auto all = day.consumers;
  std::stable_sort(all.begin(), all.end(),
                   [](const auto& a, const auto& b) { return a.energy > b.energy; });
  const auto add = [&](std::string name, Energy energy, std::optional<Charge> charge, bool sun) {
    auto& row = p.rows.emplace_back();
    row.name = std::move(name);
    row.to = in_watt_hours(energy);
    row.says = print(energy);
    if (charge) row.says += ", " + print(*charge, 2);
    row.hatched = sun;
  };
  std::erase_if(all, [](const auto& c) { return !(c.energy.value() > 0.0); });
  constexpr std::size_t most = 15;  // rows at reading size; the table beside it has them all
  const std::size_t shown = all.size() <= most + 1 ? all.size() : most;
  for (std::size_t i = 0; i < shown; ++i) add(all[i].name, all[i].energy, all[i].charge, false);
  Energy rest{};
  for (std::size_t i = shown; i < all.size(); ++i) rest += all[i].energy;
  if (shown < all.size()) add(std::to_string(all.size() - shown) + " others", rest, {}, false);
  add("all together", day.load, day.load_charge, false);
  if (day.solar.value() > 0.0) add("from the sun", day.solar, {}, true);
  p.says = "All together take " + print(day.load) + " a day, the sun gives " + print(day.solar) +
           (all.empty() ? "." : "; most is taken by " + all.front().name + ".");
  return p;
}

Plot monthly_plot(const energy::Assessment& a) {
  Plot p;
  p.id = "months";
  p.title = "Load and sun, month by month";
  p.x = {"month", "", {}, {}};
  p.y = {"mean day", "Wh", {}, {}};
  p.bars = {{"load", {}}, {"from the sun", {}}};
  std::size_t covered = 0;
  for (const auto& m : a.months) {
    p.categories.emplace_back(energy::month_name(m.month).substr(0, a.months.size() > 6 ? 3 : 9));
    p.bars[0].values.push_back(in_watt_hours(m.load));
    p.bars[1].values.push_back(in_watt_hours(m.solar));
    if (m.balance.value() >= 0.0) ++covered;
  }
  p.says = "The sun covers the load in " + std::to_string(covered) + " of " +
           std::to_string(a.months.size()) + " months.";
  return p;
}

Plot charge_plot(std::span<const ChargeSeries> series, Ratio reserve) {
  Plot p;
  p.id = "charge";
  p.title = "State of charge over a stay";
  p.x = {"days since arrival", "", 0.0, {}};
  p.y = {"state of charge", "%", 0.0, 100.0};
  for (const auto& s : series) {
    auto& curve = p.curves.emplace_back();
    curve.name = s.name;
    for (const double h : s.hours) curve.x.push_back(h / 24.0);
    curve.y = in_percent(s.shares);
    if (s.shares.empty()) continue;
    const auto least = std::min_element(s.shares.begin(), s.shares.end()) - s.shares.begin();
    p.says += (p.says.empty() ? "" : "; ") + s.name + ": lowest " +
              share_text(s.shares[std::size_t(least)]) + " after " +
              print_plain(s.hours[std::size_t(least)] / 24.0, 2) + " days";
  }
  if (!p.says.empty())
    p.says += ". In the cold the bank is empty above its reserve, where a curve lies flat.";
  p.marks.push_back({Mark::At::y, 100.0 * double(reserve), "reserve, warm"});
  return p;
}

Plot stay_plot(std::span<const StaySeries> series, std::optional<Duration> promised, Ratio chance) {
  Plot p;
  p.id = "stays";
  p.title = "How long stays last";
  p.x = {"days", "", 0.0, {}};
  p.y = {"stays that last at least so long", "%", 0.0, 100.0};
  for (const auto& s : series) {
    auto tenths = s.days;
    for (double& d : tenths) d = std::floor(d * 10.0 + 1e-9) / 10.0;
    p.curves.push_back(distribution(s.name, std::move(tenths)));
    p.curves.back().y = in_percent(std::move(p.curves.back().y));
    p.curves.back().named_within = true;
    auto sorted = s.days;
    std::sort(sorted.begin(), sorted.end());
    if (!sorted.empty())
      p.says += (p.says.empty() ? "" : "; ") + s.name + ": half of the stays last " +
                print_plain(sorted[(sorted.size() - 1) / 2], 2) + " days or more";
  }
  if (!p.says.empty()) p.says += ".";
  p.marks.push_back({Mark::At::y, 100.0 * double(chance), share_text(double(chance))});
  if (promised)
    p.marks.push_back({Mark::At::x, double(*promised / day), "promised " + print(*promised, 2)});
  return p;
}

Plot stay_months_plot(std::span<const energy::StayAnswer> months) {
  Plot p;
  p.id = "stay-months";
  p.title = "How long, by month of arrival";
  p.x = {"month", "", {}, {}};
  p.y = {"days", "", 0.0, {}};
  p.bars = {{"parked", {}}, {"with travel", {}}, {"with travel, bank new", {}}};
  std::string longest;
  for (const auto& m : months) {
    p.categories.emplace_back(energy::month_name(m.month).substr(0, 3));
    p.bars[0].values.push_back(double(m.parked.met / day));
    p.bars[1].values.push_back(double(m.met / day));
    p.bars[2].values.push_back(double(m.met_when_new / day));
    if (m.met >= m.longest) longest += (longest.empty() ? "" : ", ") + p.categories.back();
  }
  if (months.empty()) return p;
  const auto least = std::min_element(months.begin(), months.end(), energy::harder);
  const auto told = energy::told(*least);
  p.says = "Shortest in " + std::string(energy::month_name(least->month)) + ", " +
           stay_told(told.parked, false) + " parked, " + stay_told(told.travelled, false) +
           " with the stated travel; " + stay_among(*least) + " last that long or longer.";
  if (!longest.empty())
    p.says += " In " + longest + " as many outlast the " + print(least->longest) +
              " that were simulated.";
  return p;
}

const wiring::ConsumerInCase* worst_consumer(const wiring::CaseResult& in) {
  const wiring::ConsumerInCase* worst = nullptr;
  for (const auto& c : in.consumers)
    if (c.unknown.empty() && (!worst || c.path_drop > worst->path_drop)) worst = &c;
  return worst;
}

Plot voltage_profile_plot(const design::Design& d, const wiring::Assessment& w,
                          const wiring::CaseResult& in, const wiring::ConsumerInCase& to) {
  Plot p;
  p.id = "voltage-profile";
  p.title = "Voltage along the cables to " + to.name;
  p.x = {"metres of conductor, one way", "", 0.0, {}};
  p.y = {"voltage between plus and minus", "V", {}, {}};
  const wiring::Way& way = w.ways[to.post];
  if (!way.source || in.post.empty()) return p;
  auto& curve = p.curves.emplace_back();
  curve.dotted = true;
  double metres = 0;
  const auto add = [&](design::resolved::PostId post, const std::string& name) {
    const double volts = in.post[post].value();
    curve.x.push_back(metres), curve.y.push_back(volts);
    p.names.push_back({metres, volts, name});
  };
  add(*way.source, d[*way.source].name);
  // At the source's own terminals: what the leads of a bank lose is lost on the way, too.
  curve.y.back() = p.names.back().y = (to.voltage + to.path_drop).value();
  for (const auto& part : way.outgoing) {
    metres += d[part.run].length.value();
    const auto post = part.along ? d[part.run].to : d[part.run].from;
    add(post, post == to.post ? to.name : d[post].name);
  }
  curve.name = print(to.voltage, 4);
  p.says = "Case " + in.load_case.name + ": from " +
           print(Voltage::from_value(curve.y.front()), 4) + " at " + d[*way.source].name + " to " +
           print(to.voltage, 4) + " at " + to.name + ", " + print(Number(to.path_share), 2) +
           " lost in the cables.";
  return p;
}

RowPlot faults_plot(const design::Design& d, const wiring::Assessment& w) {
  RowPlot p;
  p.id = "faults";
  p.title = "Fault currents at each device, and when it opens";
  p.x = {"from the smallest fault to the largest", "A", {}, {}, true};
  p.from_name = "smallest fault", p.to_name = "largest fault";
  p.tick_name = "what it can break", p.says_name = "opens within";
  std::size_t unknown = 0;
  for (const auto& f : w.devices) {
    if (!f.largest) {
      ++unknown;
      continue;
    }
    const auto& device = wiring::device_of(d, f);
    auto& row = p.rows.emplace_back();
    row.name =
        (f.run ? d[*f.run].label : std::string("each battery")) + ", " + print(device.rating);
    row.to = f.largest->value();
    row.from = f.smallest ? f.smallest->value.value() : row.to;
    if (device.breaking_capacity) row.tick = device.breaking_capacity->value();
    row.says = f.clearing ? print(*f.clearing, 2) : f.smallest ? "not known" : "no fault to open";
  }
  p.says =
      std::to_string(p.rows.size()) + " devices, each from its smallest to its largest fault" +
      (unknown > 0 ? "; of " + std::to_string(unknown) + " the largest fault is not known." : ".");
  return p;
}

Plot trade_off_plot(std::span<const TradeOff> choices, Axis cost, Ratio promised) {
  Plot p;
  p.id = "trade-off";
  p.title = "Chance of the promise against " + cost.title;
  p.x = std::move(cost);
  p.y = {"chance of the promise", "%", 0.0, 100.0};
  std::vector<TradeOff> sorted(choices.begin(), choices.end());
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const TradeOff& a, const TradeOff& b) { return a.cost < b.cost; });
  auto& curve = p.curves.emplace_back();
  curve.dotted = true;
  for (const auto& c : sorted) {
    curve.x.push_back(c.cost), curve.y.push_back(100.0 * c.chance);
    if (!c.name.empty()) p.names.push_back({c.cost, 100.0 * c.chance, c.name, true});
    if (p.says.empty() && c.chance >= double(promised))
      p.says = "The best that keeps the promise: " + c.name + ", " + print_plain(c.cost, 4) + " " +
               p.x.unit + ".";
  }
  if (p.says.empty()) p.says = "None of the choices keeps the promise.";
  p.marks.push_back({Mark::At::y, 100.0 * double(promised), "promised"});
  return p;
}

}  // namespace housepower::report
